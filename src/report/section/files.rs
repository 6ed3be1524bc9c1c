//! The log files: which bytes they are and how each was read.

use maud::{Markup, html};
use serde::Serialize;

use crate::fact::Fact;
use crate::measure::LowPass;
use crate::quantity::{ForceUnit, Hertz, TimeUnit};
use crate::record::sealed_log::ZeroLine;
use crate::report::page::{Subject, scrolling};
use crate::trace::{Answers, ChosenRun, Provenance, Sign};
use crate::verdict::printed_plain;
use crate::visit::{Hit, Measurement};
use crate::words::Words;

pub(super) fn files(subject: &Subject<'_>) -> Markup {
    let (words, hits) = (subject.words, &subject.assessment.hits);
    html! {
        h3 { (words.say("report-files")) }
        @if hits.is_empty() { p { (words.say("report-no-logs")) } }
        @else { (scrolling(&words.say("report-files"), &digests(words, hits))) }
        (read(words, hits))
    }
}

fn digests(words: &Words, hits: &[Hit]) -> Markup {
    let at = |hit: &Hit| {
        let point = words.fact(&hit.point).into();
        words.with(
            "report-hit-at",
            &[("point", point), ("repeat", hit.repeat.into())],
        )
    };
    html! {
        table {
            thead { tr {
                th scope="col" { (words.say("report-column-file")) }
                th scope="col" { (words.say("report-column-point")) }
                th scope="col" { "SHA-256" }
            } }
            tbody { @for hit in hits { tr {
                td { (hit.file) }
                td { (at(hit)) }
                td.digest { (hit.sha256) }
            } } }
        }
    }
}

/// How the logs were read; those without a measurement are listed with their reason elsewhere.
fn read(words: &Words, hits: &[Hit]) -> Markup {
    let read = |hit| -> Option<(&Hit, &Measurement, &Provenance)> {
        let hit: &Hit = hit;
        let measurement = hit.measurement.as_deref().ok()?;
        Some((hit, measurement, measurement.trace.provenance.as_ref()?))
    };
    let read: Vec<_> = hits.iter().filter_map(read).collect();
    let columns = [
        "report-column-file",
        "report-column-force",
        "report-column-time",
        "report-column-rate",
        "report-column-decimal-mark",
        "report-column-answers",
        "report-column-zero",
        "report-column-filter",
    ];
    let table = html! {
        table {
            thead { tr { @for column in columns { th scope="col" { (words.say(column)) } } } }
            tbody { @for (hit, measurement, provenance) in &read { (row(words, hit, measurement, provenance)) } }
        }
    };
    html! {
        @if !read.is_empty() {
            h3 { (words.say("report-reading")) }
            (scrolling(&words.say("report-reading"), &table))
        }
    }
}

fn row(words: &Words, hit: &Hit, measurement: &Measurement, provenance: &Provenance) -> Markup {
    let mut forces = words.facts(&provenance.forces);
    if provenance.push == Sign::PushIsNegative {
        forces.push(words.say("report-push-negative").into_owned());
    }
    let rate = |rate: Hertz| printed_plain(rate.get(), rate.get() / 1000.0);
    html! {
        tr {
            td { (hit.file) @if let Some(container) = &provenance.container { span.soft { " (" (words.fact(container)) ")" } } }
            td { (words.list(&forces)) }
            td { (words.fact(&provenance.clock)) }
            td { (provenance.rate_hz.map_or_else(|| "–".to_owned(), rate)) }
            td { (provenance.decimal_mark) }
            td { (answers(words, &provenance.answers)) }
            td { (words.fact(&ZeroLine::new(&measurement.response.zero))) }
            td { (filter(words, measurement.response.method.low_pass)) }
        }
    }
}

/// What a person said about a log.
#[derive(Serialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
enum Answered<'a> {
    File { file: &'a str },
    Force { column: &'a str },
    ForceUnit { unit: ForceUnit },
    Scale { scale: f64 },
    Time { column: &'a str },
    TimeUnit { unit: TimeUnit },
    Rate { rate_hz: Hertz },
    Run { run: usize },
    AllRuns,
    Push { sign: Sign },
    DecimalMark { mark: char },
    TimeDecimalMark { mark: char },
    Delimiter { mark: char },
}

impl Fact for Answered<'_> {
    const FAMILY: &'static str = "answered";
}

fn answers(words: &Words, answers: &Answers) -> String {
    let given = [
        answers.file.as_deref().map(|file| Answered::File { file }),
        answers
            .force
            .as_deref()
            .map(|column| Answered::Force { column }),
        answers.force_unit.map(|unit| Answered::ForceUnit { unit }),
        answers.scale.map(|scale| Answered::Scale { scale }),
        answers
            .time
            .as_deref()
            .map(|column| Answered::Time { column }),
        answers.time_unit.map(|unit| Answered::TimeUnit { unit }),
        answers.rate.map(|rate_hz| Answered::Rate { rate_hz }),
        answers.run.map(|run| match run {
            ChosenRun::Number(run) => Answered::Run { run },
            ChosenRun::Every(_) => Answered::AllRuns,
        }),
        answers.sign.map(|sign| Answered::Push { sign }),
        answers
            .decimal_mark
            .map(|mark| Answered::DecimalMark { mark }),
        answers
            .time_decimal_mark
            .map(|mark| Answered::TimeDecimalMark { mark }),
        answers.delimiter.map(|mark| Answered::Delimiter { mark }),
    ];
    let given = words.list(&words.facts(given.iter().flatten()));
    match &answers.recipe {
        _ if given.is_empty() => words.say("report-no-answers").into_owned(),
        None => given,
        Some(recipe) => words.with(
            "report-answers-of-recipe",
            &[
                ("answers", given.into()),
                ("recipe", recipe.as_str().into()),
            ],
        ),
    }
}

fn filter(words: &Words, low_pass: Option<LowPass>) -> String {
    match low_pass {
        None => words.say("report-no-filter").into_owned(),
        Some(LowPass::ChannelFrequencyClass { class }) => {
            words.with("report-filter-class", &[("class", class.into())])
        }
        Some(LowPass::Butterworth { corner_hz, order }) => words.with(
            "report-filter-butterworth",
            &[("corner_hz", corner_hz.into()), ("order", order.into())],
        ),
    }
}
