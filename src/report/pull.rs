//! A pull by hand: what it shows, for the terminal, as JSON and as a page with its plot.

use std::fmt::Write;

use maud::{DOCTYPE, PreEscaped, html};
use serde::Serialize;

use super::pull_plot::short;
use super::sentence::capital;
use super::sheet;
use super::style::{DRAWINGS, PAGE};
use crate::limits::Bound;
use crate::quantity::{ForceUnit, Newton};
use crate::readiness::{Pull, Stretch};
use crate::verdict::{Verdict, held_against, printed_plain};

/// A pull with what it is held against.
#[derive(Clone, Debug)]
pub struct PullSheet<'a> {
    /// The log.
    pub file: &'a str,
    /// SHA-256 of its bytes.
    pub sha256: &'a str,
    /// What it shows.
    pub pull: &'a Pull,
    /// The drive's rating: below it is in order. `None` where none is known.
    pub rating: Option<Rated>,
    /// The force by rolling and slope, for comparison.
    pub model: Option<Model>,
}

/// What a pull is held against.
#[derive(Clone, Debug)]
pub struct Rated {
    /// The force.
    pub force: Newton,
    /// Where it comes from.
    pub source: String,
}

/// The force that the model of rolling and slope gives.
#[derive(Clone, Copy, Debug)]
pub struct Model {
    /// Mass of the leaf, kg.
    pub mass_kg: f64,
    /// Friction of the rollers.
    pub friction: f64,
    /// Slope as rise over run.
    pub slope: f64,
    /// The force.
    pub force: Newton,
    /// The friction at which the model gives the steady force that was read.
    pub friction_seen: f64,
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    file: &'a str,
    sha256: &'a str,
    along: &'static str,
    start: f64,
    binds_above: f64,
    pulled_from: f64,
    pulled_to: f64,
    break_away_n: f64,
    break_away_at: f64,
    steady_n: f64,
    greatest_n: f64,
    greatest_at: f64,
    binds: Vec<BindLine>,
    lower_bound_because: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    rating_n: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rating_source: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    margin_n: Option<f64>,
    verdict: Verdict,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_n: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    friction_seen: Option<f64>,
}

#[derive(Serialize)]
struct BindLine {
    from: f64,
    to: f64,
    greatest_n: f64,
}

impl PullSheet<'_> {
    /// The greatest force of the whole pull.
    #[must_use]
    pub fn worst(&self) -> Newton {
        Newton(self.pull.break_away.get().max(self.pull.greatest.get()))
    }

    /// The greatest force against the rating; a record that may under-read can show that it was exceeded, never that it was kept.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let Some(rated) = &self.rating else {
            return Verdict::Undecided;
        };
        let most = Some((rated.force.get(), Bound::Below));
        match held_against(self.worst().get(), None, most) {
            Verdict::Within if !self.pull.lower_bound.is_empty() => Verdict::Undecided,
            verdict => verdict,
        }
    }

    fn reasons(&self) -> String {
        if self.rating.is_none() {
            return "the drive's rating is not known".to_owned();
        }
        self.pull.lower_bound.join("; ")
    }

    pub(super) fn outcome(&self) -> String {
        let worst = both(self.worst());
        let Some(rated) = &self.rating else {
            return format!(
                "greatest force {worst}: undecided because {}",
                self.reasons()
            );
        };
        let margin = rated.force.get() - self.worst().get();
        let decimals = telling_apart(self.worst(), rated.force);
        let worst = with_decimals(self.worst(), decimals);
        let verdict = self.verdict();
        let because = match verdict {
            Verdict::Undecided => format!(" because {}", self.reasons()),
            Verdict::Within | Verdict::Over => String::new(),
        };
        format!(
            "greatest force {worst} against a rating of {}, margin {}: {}{because}",
            with_decimals(rated.force, decimals),
            with_decimals(Newton(margin), decimals),
            verdict.words()
        )
    }

    fn facts(&self) -> Vec<(&'static str, String)> {
        let (pull, unit) = (self.pull, self.pull.along.unit());
        let mut facts = vec![
            (
                "break-away",
                format!(
                    "{}, at {} {unit}",
                    both(pull.break_away),
                    short(pull.break_away_at)
                ),
            ),
            (
                "steady",
                format!("{} (median along the travel)", both(pull.steady)),
            ),
            (
                "greatest after the start",
                format!(
                    "{}, at {} {unit}",
                    both(pull.greatest),
                    short(pull.greatest_at)
                ),
            ),
            (
                "pulled",
                format!(
                    "from {} to {} {unit}; the first {} {unit} count as the start",
                    short(pull.pulled.start),
                    short(pull.pulled.end),
                    pull.settings.start
                ),
            ),
        ];
        if let Some(rated) = &self.rating {
            facts.push((
                "rating",
                format!("below {}: {}", both(rated.force), rated.source),
            ));
        }
        if let Some(model) = &self.model {
            facts.push((
                "rolling and slope",
                format!(
                    "{} for {} kg, μ {}, slope {} %; the steady force read would be μ {}",
                    both(model.force),
                    model.mass_kg,
                    model.friction,
                    short(100.0 * model.slope),
                    printed_plain(model.friction_seen, 0.001)
                ),
            ));
        }
        facts
    }

    fn bind_words(&self, one: &Stretch) -> String {
        let unit = self.pull.along.unit();
        format!(
            "{} to {} {unit}: up to {}",
            short(one.along.start),
            short(one.along.end),
            both(one.greatest)
        )
    }

    pub(super) fn bind_heading(&self) -> String {
        let above = self.pull.settings.binds_above;
        match self.pull.binds.len() {
            0 => format!("nowhere above {above} times the steady force"),
            1 => format!("binds at one place (above {above} times the steady force)"),
            count => format!("binds at {count} places (above {above} times the steady force)"),
        }
    }

    /// The pull as lines for a terminal.
    #[must_use]
    pub fn terminal(&self) -> String {
        let mut text = format!("{}\n{}.\n\n", self.file, capital(&self.outcome()));
        for (what, value) in self.facts() {
            let _ = writeln!(text, "  {what:<25} {value}");
        }
        let _ = writeln!(text, "\n{}", capital(&self.bind_heading()));
        for one in &self.pull.binds {
            let _ = writeln!(text, "  {}", self.bind_words(one));
        }
        for doubt in &self.pull.lower_bound {
            let _ = writeln!(text, "The true forces may be greater: {doubt}.");
        }
        text.push_str(NOTE);
        text.push('\n');
        text
    }

    /// The pull as one JSON object, `relent.pull/1`.
    ///
    /// # Errors
    /// Those of the JSON writer; none is known.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        let pull = self.pull;
        let bind = |one: &Stretch| BindLine {
            from: one.along.start,
            to: one.along.end,
            greatest_n: one.greatest.get(),
        };
        let rating = self.rating.as_ref();
        serde_json::to_string_pretty(&Document {
            schema: "relent.pull/1",
            file: self.file,
            sha256: self.sha256,
            along: pull.along.unit(),
            start: pull.settings.start,
            binds_above: pull.settings.binds_above,
            pulled_from: pull.pulled.start,
            pulled_to: pull.pulled.end,
            break_away_n: pull.break_away.get(),
            break_away_at: pull.break_away_at,
            steady_n: pull.steady.get(),
            greatest_n: pull.greatest.get(),
            greatest_at: pull.greatest_at,
            binds: pull.binds.iter().map(bind).collect(),
            lower_bound_because: &pull.lower_bound,
            rating_n: rating.map(|rated| rated.force.get()),
            rating_source: rating.map(|rated| rated.source.as_str()),
            margin_n: rating.map(|rated| rated.force.get() - self.worst().get()),
            verdict: self.verdict(),
            model_n: self.model.map(|model| model.force.get()),
            friction_seen: self.model.map(|model| model.friction_seen),
        })
    }

    /// The pull as a page with its plot.
    #[must_use]
    pub fn html(&self) -> Vec<u8> {
        let pull_binds = !self.pull.binds.is_empty();
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    (sheet::closed_to_the_net())
                    title { (self.file) " · pull by hand" }
                    style { (PreEscaped(PAGE)) (PreEscaped(DRAWINGS)) }
                }
                body {
                    header {
                        h1 { "Force to move the leaf by hand" }
                        p.sentence { (capital(&self.outcome())) "." }
                    }
                    main {
                        figure.wide { (self.plot()) figcaption { (capital(&self.bind_heading())) @if pull_binds { "; shaded" } "." } }
                        dl { @for (what, value) in self.facts() { dt { (what) } dd { (value) } } }
                        h2 { (capital(&self.bind_heading())) }
                        ul { @for one in &self.pull.binds { li { (self.bind_words(one)) } } }
                        @for doubt in &self.pull.lower_bound { p { "The true forces may be greater: " (doubt) "." } }
                        p { (NOTE) }
                    }
                    footer { p { (self.file) " · SHA-256 " span.digest { (self.sha256) } } }
                }
            }
        };
        page.into_string().into_bytes()
    }
}

const NOTE: &str = "Forces as logged, not zeroed: check that the gauge reads 0 unloaded. The drive is released and its power isolated while the leaf is pulled; keep out of the way of the leaf.";

/// A force in N and in kgf.
fn both(force: Newton) -> String {
    with_decimals(force, 1)
}

fn with_decimals(force: Newton, decimals: usize) -> String {
    let newtons = force.get();
    format!(
        "{newtons:.decimals$} N ({:.*} kgf)",
        decimals + 1,
        newtons / ForceUnit::KilogramForce.newtons()
    )
}

/// As many decimals as two forces need to be told apart where they differ.
fn telling_apart(a: Newton, b: Newton) -> usize {
    let same = |decimals: &usize| {
        let text = |force: Newton| format!("{:.*}", *decimals, force.get());
        text(a) == text(b)
    };
    if a == b {
        return 1;
    }
    (1..15).find(|decimals| !same(decimals)).unwrap_or(15)
}
