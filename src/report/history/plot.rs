//! One limit at one test point over the days of the visits.

use jiff::civil::Date;
use maud::{Markup, html};

use super::{degrees, letter, trend_text};
use crate::record::history::{History, Reading, Series, years};
use crate::report::canvas::{number, sheet};
use crate::report::elevation::{block, lettering, line};
use crate::verdict::Verdict;
use crate::words::{Words, printed};

const WIDE: f64 = 720.0;
const HIGH: f64 = 232.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 700.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 172.0;
/// Least distance of two day labels, and of two temperatures.
const APART: (f64, f64) = (64.0, 34.0);

/// Where days and values lie on the paper.
struct Axes<'a> {
    history: &'a History,
    first: Date,
    span: f64,
    most: f64,
}

impl Axes<'_> {
    fn at(&self, day: Date) -> f64 {
        let inner = RIGHT - LEFT - 60.0;
        LEFT + 30.0 + years(self.first, day) / self.span * inner
    }

    fn x(&self, visit: usize) -> f64 {
        self.at(self.history.visits[visit].date)
    }

    fn y(&self, value: f64) -> f64 {
        BOTTOM - (value / self.most).clamp(0.0, 1.0) * (BOTTOM - TOP)
    }
}

/// Draws a series: values with their uncertainty, lower bounds as open marks with an arrow, the limit with its far side shaded,
/// trends, changes by their letters, the temperature of each visit.
#[must_use]
pub fn history_plot(words: &Words, history: &History, series: &Series) -> Markup {
    let (Some(first), Some(last)) = (history.visits.first(), history.visits.last()) else {
        return html! {};
    };
    let tops = series
        .readings
        .iter()
        .map(|it| it.value + it.expanded_uncertainty.unwrap_or(0.0));
    let axes = Axes {
        history,
        first: first.date,
        span: years(first.date, last.date).max(1.0 / 366.0),
        most: tops.fold(series.limit_value, f64::max) * 1.12,
    };
    let limit = axes.y(series.limit_value);
    let limit_text = [
        ("limit", series.limit_value.into()),
        ("unit", series.unit.into()),
    ];
    let drawn = html! {
        (block("beyond", (LEFT, TOP), (RIGHT - LEFT, limit - TOP)))
        (line("line", (LEFT, limit), (RIGHT, limit)))
        (lettering("soft halo", (LEFT + 4.0, limit - 4.0), "start", &words.with("history-limit", &limit_text)))
        (scale(&axes, series.unit))
        (changes(&axes))
        @for stretch in &series.stretches {
            @if let Ok(trend) = &stretch.trend {
                @let class = if trend.is_shown() { "trend" } else { "trend unsure" };
                (line(class, (axes.at(trend.days.0), axes.y(trend.heights.0)), (axes.at(trend.days.1), axes.y(trend.heights.1))))
            }
        }
        @for reading in &series.readings { (mark(&axes, reading)) }
        (days(words, &axes))
    };
    sheet(
        (WIDE, HIGH),
        &words.with(
            "history-plot",
            &[("measure", words.fact(&series.measure).into())],
        ),
        &statement(words, history, series),
        &drawn,
    )
}

fn scale(axes: &Axes<'_>, unit: &str) -> Markup {
    let step = step(axes.most);
    let count = (axes.most / step).floor() as u32;
    html! {
        (line("thin", (LEFT, TOP), (LEFT, BOTTOM)))
        (line("thin", (LEFT, BOTTOM), (RIGHT, BOTTOM)))
        @for tick in 0..=count {
            @let value = f64::from(tick) * step;
            (line("thin", (LEFT - 4.0, axes.y(value)), (LEFT, axes.y(value))))
            (lettering("soft", (LEFT - 7.0, axes.y(value) + 4.0), "end", &format!("{}", (value * 1e6).round() / 1e6)))
        }
        (lettering("soft", (LEFT - 7.0, TOP - 12.0), "end", unit))
    }
}

/// A round step that makes some four ticks.
fn step(most: f64) -> f64 {
    let rough = most / 4.0;
    let power = 10_f64.powf(rough.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|it| it * power)
        .find(|step| *step >= rough)
        .unwrap_or(rough)
}

fn changes(axes: &Axes<'_>) -> Markup {
    let visits = axes.history.visits.len();
    let placed = axes
        .history
        .changes
        .iter()
        .enumerate()
        .map(|(place, change)| {
            let inside = (1..visits).contains(&change.before_visit);
            let middle = |visit: usize| f64::midpoint(axes.x(visit - 1), axes.x(visit));
            let x = match change.date {
                Some(day) => axes.at(day),
                None if inside => middle(change.before_visit),
                None => RIGHT,
            };
            (letter(place), x.clamp(LEFT + 8.0, RIGHT - 8.0))
        });
    // Changes of one day share a line; their letters stand beside one another.
    let mut marks: Vec<(String, f64)> = Vec::new();
    for (letter, x) in placed {
        match marks
            .iter_mut()
            .find(|(_, other)| (*other - x).abs() < 10.0)
        {
            Some((letters, _)) => {
                letters.push(' ');
                letters.push_str(&letter);
            }
            None => marks.push((letter, x)),
        }
    }
    html! {
        @for (letters, x) in marks {
            (line("chain", (x, TOP - 6.0), (x, BOTTOM)))
            (lettering("strong halo", (x, TOP - 10.0), "middle", &letters))
        }
    }
}

fn mark(axes: &Axes<'_>, reading: &Reading) -> Markup {
    let (x, y) = (axes.x(reading.visit), axes.y(reading.value));
    let over = if reading.verdict == Verdict::Over {
        " over"
    } else {
        ""
    };
    html! {
        @if let Some(u) = reading.expanded_uncertainty.filter(|_| !reading.lower_bound_only && !reading.copied) {
            @let (low, high) = (axes.y(reading.value - u), axes.y(reading.value + u));
            (line("whisker", (x, low), (x, high)))
            (line("whisker", (x - 3.0, low), (x + 3.0, low)))
            (line("whisker", (x - 3.0, high), (x + 3.0, high)))
        }
        @if reading.copied {
            circle class={ "reading bound" } cx=(number(x)) cy=(number(y)) r="3.8" {}
        } @else if reading.lower_bound_only {
            path.rising d=(format!("M{x} {}V{}M{} {}L{x} {}L{} {}", number(y - 4.0), number(y - 18.0), number(x - 4.0), number(y - 13.0), number(y - 18.0), number(x + 4.0), number(y - 13.0), x = number(x))) {}
            circle class={ "reading bound" } cx=(number(x)) cy=(number(y)) r="3.8" {}
        } @else {
            circle class={ "reading" (over) } cx=(number(x)) cy=(number(y)) r="3.8" {}
        }
    }
}

/// Days and temperatures of the visits; where they would touch, the later one is left out.
fn days(words: &Words, axes: &Axes<'_>) -> Markup {
    let mut free = (f64::MIN, f64::MIN);
    let mut labels = Vec::new();
    for (place, visit) in axes.history.visits.iter().enumerate() {
        let x = axes.x(place);
        let day = (x >= free.0).then(|| visit.date.to_string());
        if day.is_some() {
            free.0 = x + APART.0;
        }
        let warm = visit.temperature_c.filter(|_| x >= free.1);
        if warm.is_some() {
            free.1 = x + APART.1;
        }
        labels.push((x, day, warm.map(|it| degrees(words, it))));
    }
    html! {
        @for (x, day, warm) in labels {
            (line("thin", (x, BOTTOM), (x, BOTTOM + 4.0)))
            @if let Some(day) = day { (lettering("soft", (x, BOTTOM + 17.0), "middle", &day)) }
            @if let Some(warm) = warm { (lettering("soft", (x, BOTTOM + 32.0), "middle", &warm)) }
        }
        (lettering("soft", (LEFT - 7.0, BOTTOM + 17.0), "end", &words.say("history-axis-day")))
        (lettering("soft", (LEFT - 7.0, BOTTOM + 32.0), "end", &words.say("history-axis-temperature")))
    }
}

/// The text alternative.
fn statement(words: &Words, history: &History, series: &Series) -> String {
    let readings: Vec<String> = series
        .readings
        .iter()
        .map(|it| {
            let id = match (it.copied, it.lower_bound_only) {
                (true, _) => "history-reading-copied",
                (false, true) => "history-reading-at-least",
                (false, false) => "history-reading",
            };
            let day = history.visits[it.visit].date.to_string();
            let fields = [
                ("day", day.into()),
                ("value", printed(&it.printed)),
                ("unit", series.unit.into()),
            ];
            words.with(id, &fields)
        })
        .collect();
    let trends: Vec<String> = series
        .stretches
        .iter()
        .filter_map(|stretch| Some(trend_text(words, stretch.trend.as_ref().ok()?, series)))
        .collect();
    format!("{}. {}", readings.join("; "), trends.join(" "))
}
