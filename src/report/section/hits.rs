//! The hits: all points small on equal axes, then each point with its curves and what was measured on them.

use maud::{Markup, html};

use crate::measure::Measure;
use crate::quantity::{Dimension, Newton, Second};
use crate::report::DrawingError;
use crate::report::hit;
use crate::report::multiples::multiples;
use crate::report::page::{Subject, scrolling, state_words};
use crate::report::place::{Place, gap_and_height, view, views};
use crate::report::pulse;
use crate::report::scene;
use crate::report::sentence::capital;
use crate::verdict::printed_plain;
use crate::visit::{Hit, Measurement, NotMeasured};
use crate::words::Words;

/// What the table under a drawing shows of each hit, with a heading short enough for paper.
const MEASURES: [(Measure, &str); 11] = [
    (Measure::PeakForce, "report-short-peak"),
    (Measure::PeakAt, "report-short-peak-at"),
    (Measure::TimeAboveStatic, "report-short-above-static"),
    (Measure::DynamicPeriod, "report-short-dynamic-period"),
    (Measure::StaticForce, "report-short-static"),
    (Measure::ResidualForce, "report-short-residual"),
    (Measure::StopTime, "report-short-stop"),
    (Measure::ReversalTime, "report-short-reversal"),
    (Measure::Impulse, "report-short-impulse"),
    (Measure::Energy, "report-short-energy"),
    (Measure::ApproachSpeed, "report-short-approach"),
];

pub(in crate::report) fn section(subject: &Subject<'_>) -> Result<Markup, DrawingError> {
    let (words, motion) = (subject.words, subject.assessment.gate.gate.motion);
    let mut parts = Vec::new();
    for (key, points) in views(&subject.places) {
        let drawn: Vec<(&Place<'_>, Option<hit::Hits>)> = points
            .iter()
            .map(|place| (*place, pulse::of(words, subject.assessment, place)))
            .collect();
        if drawn.iter().all(|(_, hits)| hits.is_none()) {
            continue;
        }
        let grid = scene::grid(words, motion, key, &drawn);
        parts.push(html! {
            h3 { (view(words, key.0, key.1)) }
            figure {
                (scrolling(&grid.title, &html! { div.wide { (multiples(words, &grid)?) } }))
                figcaption { (words.say("report-grid-caption")) }
            }
        });
        for (place, hits) in &drawn {
            if let Some(hits) = hits {
                parts.push(point(subject, place, hits)?);
            }
        }
    }
    Ok(html! {
        @if parts.is_empty() { p { (words.say("report-no-hits")) } }
        @for part in parts { (part) }
        (unread(subject))
    })
}

fn point(
    subject: &Subject<'_>,
    place: &Place<'_>,
    hits: &hit::Hits,
) -> Result<Markup, DrawingError> {
    let words = subject.words;
    let drawn = hit::hits(words, hits)?;
    let title = gap_and_height(words, &place.point, subject.assessment.gate.gate.motion);
    Ok(html! {
        section.point aria-label=(title) {
            h4 { (capital(&title)) ": " (place.number(words)) " " (state_words(words, place.state(), place.share())) }
            figure {
                (scrolling(&title, &html! { div.wide { (drawn) } }))
                figcaption { (capital(&hits.statement)) @if !hits.statement.is_empty() { "." } }
            }
            (scrolling(&words.with("report-measured-at", &[("point", title.as_str().into())]), &table(words, place)))
        }
    })
}

fn table(words: &Words, place: &Place<'_>) -> Markup {
    let measured = place.measured();
    let seen = |measure: Measure| {
        measured
            .iter()
            .any(|(_, _, one)| one.response.value(measure).is_ok())
    };
    let shown: Vec<(Measure, &str)> = MEASURES
        .into_iter()
        .filter(|(measure, _)| seen(*measure))
        .collect();
    let headed = |measure: Measure, name: &str| {
        words.with(
            "report-column-measure",
            &[
                ("measure", words.say(name).into()),
                ("unit", measure.unit().into()),
            ],
        )
    };
    html! {
        table.measured {
            thead {
                tr {
                    th scope="col" { (words.say("report-column-hit")) }
                    @for (measure, heading) in &shown { th.number scope="col" { (headed(*measure, heading)) } }
                    th scope="col" { (words.say("report-column-leaf")) }
                }
            }
            tbody {
                @for (_, hit, measurement) in &measured {
                    tr {
                        th.nowrap scope="row" { (hit.repeat) }
                        @for (measure, _) in &shown { td.number { (value(place, measurement, *measure)) } }
                        td.nowrap { (words.fact(&measurement.response.answer)) }
                    }
                }
            }
        }
    }
}

/// A measured value: as its finding prints it, or to the step of the log.
fn value(place: &Place<'_>, log: &Measurement, measure: Measure) -> String {
    let Ok(value) = log.response.value(measure) else {
        return "–".to_owned();
    };
    let (dimension, value) = (value.dimension(), value.get());
    if let Some(finding) = place.finding(measure) {
        return finding.printed_number(value);
    }
    let step = match dimension {
        Dimension::Force => log.trace.resolution().map_or(0.1, Newton::get),
        Dimension::Time => log.trace.median_step().map_or(0.001, Second::get),
        _ => (value.abs() / 100.0).max(1e-6),
    };
    printed_plain(value, step)
}

/// Logs that gave no measurement, each with the reason.
fn unread(subject: &Subject<'_>) -> Markup {
    let unread: Vec<_> = subject
        .assessment
        .hits
        .iter()
        .filter_map(|hit| Some((hit, hit.measurement.as_ref().err()?)))
        .collect();
    let words = subject.words;
    let told = |hit: &Hit, why: &NotMeasured| {
        words.with(
            "report-unread-log",
            &[
                ("file", hit.file.as_str().into()),
                ("point", words.fact(&hit.point).into()),
                ("repeat", hit.repeat.into()),
                ("why", words.fact(why).into()),
            ],
        )
    };
    html! {
        @if !unread.is_empty() {
            h3 { (words.say("report-unread")) }
            p { (words.say("report-unread-means")) }
            ul { @for (hit, why) in unread { li { (told(hit, why)) } } }
        }
    }
}
