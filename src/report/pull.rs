//! A pull by hand: what it shows, for the terminal, as JSON and as a page with its plot.

use std::fmt::Write;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde::Serialize;

use super::canvas::{number, sheet};
use super::elevation::{block, line, words};
use super::readiness::capital;
use super::style::{DRAWINGS, PAGE};
use crate::limits::Bound;
use crate::quantity::{ForceUnit, Newton};
use crate::readiness::{Along, Pull, Stretch};
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

    fn outcome(&self) -> String {
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

    fn bind_heading(&self) -> String {
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
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
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

    /// The force along the travel, with rating, steady force, break-away and the places where it binds.
    #[must_use]
    pub fn plot(&self) -> Markup {
        let frame = Frame::of(self);
        let pull = self.pull;
        let statement = format!("{}. {}.", self.outcome(), self.bind_heading());
        let across = |force: f64, class: &str| {
            line(
                class,
                (frame.x(frame.from), frame.y(force)),
                (frame.x(frame.to), frame.y(force)),
            )
        };
        let axis = match pull.along {
            Along::Position => "travel, mm",
            Along::Time => "time, s",
        };
        let at = (frame.x(pull.break_away_at), frame.y(pull.break_away.get()));
        let drawn = html! {
            @for one in &pull.binds {
                @let (left, right) = (frame.x(one.along.start) - 1.0, frame.x(one.along.end) + 1.0);
                (block("track", (left, TOP), (right - left, HIGH - BOTTOM - TOP)))
            }
            @for force in frame.ticks_up() {
                (across(force, "hair"))
                (words("soft", (LEFT - 6.0, frame.y(force) + 4.0), "end", &short(force)))
            }
            @for along in frame.ticks_across() {
                (words("soft", (frame.x(along), HIGH - BOTTOM + 16.0), "middle", &short(along)))
            }
            (across(0.0, "line"))
            (across(pull.steady.get(), "ghost"))
            (words("halo", (WIDE - RIGHT - 4.0, frame.y(pull.steady.get()) + 24.0), "end", &format!("steady {} N", short(pull.steady.get()))))
            @if let Some(rated) = &self.rating {
                (across(rated.force.get(), "thick"))
                (words("halo", (WIDE - RIGHT - 4.0, frame.y(rated.force.get()) - 4.0), "end", &format!("rating {} N", short(rated.force.get()))))
            }
            path.line d=(frame.path(&pull.curve)) {}
            circle.dot cx=(number(at.0)) cy=(number(at.1)) r="3.5" {}
            (words("halo", (at.0 + 7.0, at.1 + 4.0), "start", &format!("break-away {} N", short(pull.break_away.get()))))
            (words("soft", (LEFT, 14.0), "start", "force, N"))
            (words("soft", (WIDE - RIGHT, HIGH - 6.0), "end", axis))
        };
        sheet((WIDE, HIGH), "Force along the travel", &statement, &drawn)
    }
}

const NOTE: &str = "Forces as logged, not zeroed: check that the gauge reads 0 unloaded. The drive is released and its power isolated while the leaf is pulled; keep out of the way of the leaf.";
const WIDE: f64 = 760.0;
const HIGH: f64 = 300.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 40.0;

/// From travel and force to the drawing.
struct Frame {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
}

impl Frame {
    fn of(sheet: &PullSheet<'_>) -> Self {
        let curve = &sheet.pull.curve;
        let fold = |pick: fn(&(f64, f64)) -> f64| {
            curve.iter().map(pick).fold(
                (f64::INFINITY, f64::NEG_INFINITY),
                |(least, most), value| (least.min(value), most.max(value)),
            )
        };
        let ((from, to), (low, high)) = (fold(|it| it.0), fold(|it| it.1));
        let rated = sheet.rating.as_ref().map_or(0.0, |rated| rated.force.get());
        Self {
            from,
            to: to.max(from + f64::MIN_POSITIVE),
            low: low.min(0.0),
            high: high.max(rated) * 1.08,
        }
    }

    fn x(&self, along: f64) -> f64 {
        LEFT + (along - self.from) / (self.to - self.from) * (WIDE - LEFT - RIGHT)
    }

    fn y(&self, force: f64) -> f64 {
        let share = (force - self.low) / (self.high - self.low);
        HIGH - BOTTOM - share * (HIGH - BOTTOM - TOP)
    }

    fn ticks_up(&self) -> Vec<f64> {
        ticks(self.low, self.high)
    }

    fn ticks_across(&self) -> Vec<f64> {
        ticks(self.from, self.to)
    }

    /// The curve with at most the lowest and the highest point of every column of half a unit.
    fn path(&self, curve: &[(f64, f64)]) -> String {
        let column = |point: &(f64, f64)| (self.x(point.0) * 2.0).floor();
        let mut path = String::new();
        for run in curve.chunk_by(|a, b| column(a).total_cmp(&column(b)).is_eq()) {
            let by_force = |a: &&(f64, f64), b: &&(f64, f64)| a.1.total_cmp(&b.1);
            let (low, high) = (run.iter().min_by(by_force), run.iter().max_by(by_force));
            let mut points: Vec<&(f64, f64)> = [run.first(), low, high, run.last()]
                .into_iter()
                .flatten()
                .collect();
            points.dedup();
            for point in points {
                let start = if path.is_empty() { 'M' } else { 'L' };
                let (x, y) = (number(self.x(point.0)), number(self.y(point.1)));
                let _ = write!(path, "{start}{x} {y}");
            }
        }
        path
    }
}

/// Round values between two ends, some five of them.
fn ticks(from: f64, to: f64) -> Vec<f64> {
    let rough = (to - from) / 5.0;
    let unit = 10.0_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * unit)
        .find(|step| *step >= rough)
        .unwrap_or(rough);
    let first = (from / step).ceil();
    (0..12)
        .map(|k| (first + f64::from(k)) * step)
        .take_while(|value| *value <= to)
        .collect()
}

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

/// A number with two decimals at most.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}
