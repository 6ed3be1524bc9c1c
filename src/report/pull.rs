//! A pull by hand: what it shows, for the terminal, as JSON and as a page with its plot.

use std::borrow::Cow;
use std::fmt::Write;

use fluent_bundle::FluentValue;
use maud::{DOCTYPE, PreEscaped, html};
use serde::Serialize;

use super::pull_plot::short;
use super::sheet;
use super::style::{DRAWINGS, PAGE};
use crate::limits::Bound;
use crate::quantity::{ForceUnit, Newton};
use crate::readiness::{Pull, PullDoubt, RatedBy, Stretch};
use crate::verdict::{Verdict, held_against, printed_plain};
use crate::words::{Said, Words, printed};

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
    pub source: RatedBy,
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// A pull as one object.
pub struct Document<'a> {
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
    lower_bound_because: Vec<Said<&'a PullDoubt>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rating_n: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rating_source: Option<RatedBy>,
    #[serde(skip_serializing_if = "Option::is_none")]
    margin_n: Option<f64>,
    verdict: Verdict,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_n: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    friction_seen: Option<f64>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

    pub(super) fn outcome(&self, words: &Words) -> String {
        let worst = self.worst();
        let Some(rated) = &self.rating else {
            let worst = both(words, worst);
            return words.with("pull-sheet-outcome-unrated", &[("worst", worst.into())]);
        };
        let decimals = telling_apart(worst, rated.force);
        let told = |force: Newton| with_decimals(words, force, decimals).into();
        let margin = Newton(rated.force.get() - worst.get());
        let verdict = match self.verdict() {
            Verdict::Within => "within",
            Verdict::Over => "over",
            Verdict::Undecided => "undecided",
        };
        let fields = [
            ("worst", told(worst)),
            ("rating", told(rated.force)),
            ("margin", told(margin)),
            ("verdict", verdict.into()),
            (
                "reasons",
                words.facts(&self.pull.lower_bound).join("; ").into(),
            ),
        ];
        words.with("pull-sheet-outcome", &fields)
    }

    /// What was read, each with its name.
    fn lines<'w>(&self, words: &'w Words) -> Vec<(Cow<'w, str>, String)> {
        let pull = self.pull;
        let number = |value: f64| printed(&short(value));
        let line = |name, id, fields: &[(&str, FluentValue<'_>)]| {
            let unit = ("unit", pull.along.unit().into());
            let fields: Vec<_> = fields.iter().cloned().chain([unit]).collect();
            (words.say(name), words.with(id, &fields))
        };
        let force = |force| ("force", both(words, force).into());
        let at = |value| ("at", number(value));
        let mut lines = vec![
            line(
                "pull-sheet-break-away",
                "pull-sheet-at",
                &[force(pull.break_away), at(pull.break_away_at)],
            ),
            line(
                "pull-sheet-steady",
                "pull-sheet-median",
                &[force(pull.steady)],
            ),
            line(
                "pull-sheet-greatest",
                "pull-sheet-at",
                &[force(pull.greatest), at(pull.greatest_at)],
            ),
            line(
                "pull-sheet-pulled",
                "pull-sheet-travel",
                &[
                    ("from", number(pull.pulled.start)),
                    ("to", number(pull.pulled.end)),
                    ("start", pull.settings.start.into()),
                ],
            ),
        ];
        lines.extend(self.rating.as_ref().map(|rated| {
            let source = ("source", words.fact(&rated.source).into());
            line(
                "pull-sheet-rating",
                "pull-sheet-below",
                &[force(rated.force), source],
            )
        }));
        lines.extend(self.model.map(|model| {
            let seen = printed_plain(model.friction_seen, 0.001);
            let fields = [
                force(model.force),
                ("mass_kg", model.mass_kg.into()),
                ("friction", model.friction.into()),
                ("slope_percent", number(100.0 * model.slope)),
                ("seen", printed(&seen)),
            ];
            line("pull-sheet-rolling", "pull-sheet-model", &fields)
        }));
        lines
    }

    fn bind_words(&self, words: &Words, one: &Stretch) -> String {
        let fields = [
            ("from", printed(&short(one.along.start))),
            ("to", printed(&short(one.along.end))),
            ("unit", self.pull.along.unit().into()),
            ("force", both(words, one.greatest).into()),
        ];
        words.with("pull-sheet-bind", &fields)
    }

    pub(super) fn bind_heading(&self, words: &Words) -> String {
        let fields = [
            ("places", self.pull.binds.len().into()),
            ("above", self.pull.settings.binds_above.into()),
        ];
        words.with("pull-sheet-binds", &fields)
    }

    fn doubt(words: &Words, doubt: &PullDoubt) -> String {
        words.with("pull-sheet-doubt", &[("doubt", words.fact(doubt).into())])
    }

    /// The pull as lines for a terminal.
    #[must_use]
    pub fn terminal(&self, words: &Words) -> String {
        let mut text = format!("{}\n{}\n\n", self.file, self.outcome(words));
        for (what, value) in self.lines(words) {
            let _ = writeln!(text, "  {what:<25} {value}");
        }
        let _ = writeln!(text, "\n{}", self.bind_heading(words));
        for one in &self.pull.binds {
            let _ = writeln!(text, "  {}", self.bind_words(words, one));
        }
        for doubt in &self.pull.lower_bound {
            let _ = writeln!(text, "{}", Self::doubt(words, doubt));
        }
        let _ = writeln!(text, "{}", words.say("pull-sheet-note"));
        text
    }

    /// The pull as one JSON object, `relent.pull/1`.
    ///
    /// # Errors
    /// Those of the JSON writer; none is known.
    pub fn json(&self, words: &Words) -> Result<String, serde_json::Error> {
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
            lower_bound_because: pull.lower_bound.iter().map(|it| words.said(it)).collect(),
            rating_n: rating.map(|rated| rated.force.get()),
            rating_source: rating.map(|rated| rated.source),
            margin_n: rating.map(|rated| rated.force.get() - self.worst().get()),
            verdict: self.verdict(),
            model_n: self.model.map(|model| model.force.get()),
            friction_seen: self.model.map(|model| model.friction_seen),
        })
    }

    /// The pull as a page with its plot.
    #[must_use]
    pub fn html(&self, words: &Words) -> Vec<u8> {
        let file = [("file", self.file.into())];
        let binds = [("places", self.pull.binds.len().into())];
        let page = html! {
            (DOCTYPE)
            html lang=(words.language().tag()) {
                head {
                    (sheet::closed_to_the_net())
                    title { (words.with("pull-sheet-tab", &file)) }
                    style { (PreEscaped(PAGE)) (PreEscaped(DRAWINGS)) }
                }
                body {
                    header {
                        h1 { (words.say("pull-sheet-title")) }
                        p.sentence { (self.outcome(words)) }
                    }
                    main {
                        figure.wide { (self.plot(words)) figcaption { (words.with("pull-sheet-caption", &binds)) } }
                        dl { @for (what, value) in self.lines(words) { dt { (what) } dd { (value) } } }
                        h2 { (self.bind_heading(words)) }
                        ul { @for one in &self.pull.binds { li { (self.bind_words(words, one)) } } }
                        @for doubt in &self.pull.lower_bound { p { (Self::doubt(words, doubt)) } }
                        p { (words.say("pull-sheet-note")) }
                    }
                    footer { p { (self.file) " · SHA-256 " span.digest { (self.sha256) } } }
                }
            }
        };
        page.into_string().into_bytes()
    }
}

/// A force in N and in kgf.
fn both(words: &Words, force: Newton) -> String {
    with_decimals(words, force, 1)
}

fn with_decimals(words: &Words, force: Newton, decimals: usize) -> String {
    let newtons = force.get();
    let kilograms = newtons / ForceUnit::KilogramForce.newtons();
    let newtons = format!("{newtons:.decimals$}");
    let kilograms = format!("{kilograms:.*}", decimals + 1);
    let fields = [
        ("newtons", printed(&newtons)),
        ("kilograms", printed(&kilograms)),
    ];
    words.with("pull-sheet-force", &fields)
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
