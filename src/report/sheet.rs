//! What every page starts with, and what stands at the foot of a printed record.

use maud::{Markup, html};

/// The opening of a page's head: encoding, width, and the rule that it loads nothing and runs nothing.
pub(super) fn closed_to_the_net() -> Markup {
    html! {
        meta charset="utf-8";
        meta name="viewport" content="width=device-width, initial-scale=1";
        meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
    }
}

/// The style of printed sheets: the record's digest and the page number at their foot.
pub(super) fn foot(digest: &str) -> String {
    let digest = hexadecimal(digest);
    format!(
        "@page {{ margin: 16mm 15mm 20mm; @bottom-left {{ content: \"record {digest}\"; font: 7pt ui-monospace, monospace; color: #5c5c5c; }} \
         @bottom-right {{ content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; color: #5c5c5c; }} }}"
    )
}

/// The hexadecimal digits of a digest: nothing else may come into a style sheet.
pub(super) fn hexadecimal(digest: &str) -> String {
    digest.chars().filter(char::is_ascii_hexdigit).collect()
}

/// The style of printed sheets that carry no record: the page number at their foot.
pub(super) const fn numbered() -> &'static str {
    "@page { margin: 16mm 15mm 20mm; @bottom-right { content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; color: #5c5c5c; } }"
}
