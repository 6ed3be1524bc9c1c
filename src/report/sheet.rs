//! What every page starts with, and what stands at the foot of a printed record.

use maud::{Markup, PreEscaped, html};

use crate::words::Words;

/// The machine-readable record that belongs to a page: which file it is, and the SHA-256 of its bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordDigest {
    file: &'static str,
    sha256: String,
}

impl RecordDigest {
    /// The sealed record, record.json.
    #[must_use]
    pub fn sealed(sha256: impl Into<String>) -> Self {
        Self::new("record.json", sha256)
    }

    /// The assessment that nobody sealed, assessment.json.
    #[must_use]
    pub fn assessment(sha256: impl Into<String>) -> Self {
        Self::new("assessment.json", sha256)
    }

    /// The comparison of series, compare.json.
    #[must_use]
    pub fn comparison(sha256: impl Into<String>) -> Self {
        Self::new("compare.json", sha256)
    }

    /// The history of a gate, history.json.
    #[must_use]
    pub fn history(sha256: impl Into<String>) -> Self {
        Self::new("history.json", sha256)
    }

    /// Of a digest the hexadecimal digits: nothing else may come into a style sheet.
    fn new(file: &'static str, sha256: impl Into<String>) -> Self {
        let mut sha256 = sha256.into();
        sha256.retain(|digit| digit.is_ascii_hexdigit());
        Self { file, sha256 }
    }

    /// The end of a page.
    pub(in crate::report) fn closing(&self, words: &Words) -> Markup {
        html! {
            footer {
                p { (made_by(words)) " " (words.with("report-digest-of", &[("file", self.file.into())])) " " span.digest { (self.sha256) } }
            }
        }
    }

    /// The style of printed sheets: file, digest and page number at their foot.
    pub(in crate::report) fn foot(&self) -> String {
        format!(
            "@page {{ margin: 16mm 15mm 20mm; {} @bottom-right {{ content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; color: #5c5c5c; }} }}",
            self.mark()
        )
    }

    /// The style of a sheet that stands alone: file and digest at its foot.
    pub(super) fn foot_of_one(&self) -> String {
        format!("@page {{ {} }}", self.mark())
    }

    fn mark(&self) -> String {
        let Self { file, sha256 } = self;
        format!(
            "@bottom-left {{ content: \"{file} {sha256}\"; font: 7pt ui-monospace, monospace; color: #5c5c5c; }}"
        )
    }
}

/// What made a page.
pub(super) fn made_by(words: &Words) -> String {
    words.with(
        "report-made-by",
        &[("version", env!("CARGO_PKG_VERSION").into())],
    )
}

/// The head of a page; `styles`: its sheets, one after the other.
pub(super) fn head(title: &str, styles: &[&str]) -> Markup {
    html! {
        head {
            (closed_to_the_net())
            title { (title) }
            style { @for sheet in styles { (PreEscaped(sheet)) } }
        }
    }
}

/// The opening of a page's head: encoding, width, the rule that it loads nothing and runs nothing, and what made it.
pub(super) fn closed_to_the_net() -> Markup {
    html! {
        meta charset="utf-8";
        meta name="viewport" content="width=device-width, initial-scale=1";
        meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
        meta name="generator" content={ "relent " (env!("CARGO_PKG_VERSION")) };
    }
}

/// The style of printed sheets that carry no record: the page number at their foot.
pub(super) const fn numbered() -> &'static str {
    "@page { margin: 16mm 15mm 20mm; @bottom-right { content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; color: #5c5c5c; } }"
}
