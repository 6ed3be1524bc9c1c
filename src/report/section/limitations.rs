//! What the records cannot show, and how sure the values are.

use maud::{Markup, html};

use crate::limitation::{Limitation, Standing};
use crate::measure::Measure;
use crate::report::page::{Budgets, Subject, scrolling};
use crate::report::place::gap_and_height;
use crate::report::sentence::capital;
use crate::uncertainty::{Budget, Source};
use crate::verdict::{Finding, printed_plain};
use crate::visit::{Hit, Measurement};
use crate::words::Words;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    html! {
        p { (subject.words.say("report-low-readings")) }
        (records(subject))
        (budgets(subject))
    }
}

fn records(subject: &Subject<'_>) -> Markup {
    let hits = &subject.assessment.hits;
    let measured: Vec<(&Hit, &Measurement)> = hits
        .iter()
        .filter_map(|hit| Some((hit, hit.measurement.as_deref().ok()?)))
        .collect();
    let (doubtful, clear): (Vec<_>, Vec<_>) = measured
        .into_iter()
        .partition(|(_, measurement)| !measurement.limitations.is_empty());
    let words = subject.words;
    let noticed = notices(words, hits);
    html! {
        h3 { (words.say("report-records")) }
        @if !clear.is_empty() {
            p { (words.with("report-clear-records", &[("clear", clear.len().into()), ("records", hits.len().into())])) }
        }
        @if !doubtful.is_empty() {
            dl {
                @for (hit, measurement) in doubtful {
                    dt { (hit.file) }
                    dd { ul.plain { @for one in &measurement.limitations { li { (words.said(one).whole()) (held(words, one, Standing::LowerBound, "report-lower-bounds")) (held(words, one, Standing::EitherWay, "report-either-way")) } } } }
                }
            }
        }
        @if !noticed.is_empty() {
            h3 { (words.say("report-notices")) }
            ul { @for (text, files) in &noticed { li { (text) span.soft { " (" (files) ")" } } } }
        }
    }
}

/// Each thing that was noticed, once, with the logs it was noticed in.
fn notices(words: &Words, hits: &[Hit]) -> Vec<(String, String)> {
    let mut all: Vec<(String, Vec<&str>)> = Vec::new();
    for hit in hits {
        for notice in &hit.notices {
            let told = words.fact(notice);
            match all.iter_mut().find(|(text, _)| *text == told) {
                Some((_, files)) => files.push(&hit.file),
                None => all.push((told, vec![&hit.file])),
            }
        }
    }
    let told = |files: &[&str]| match files {
        [only] => (*only).to_owned(),
        [first, rest @ ..] => words.with(
            "report-and-more",
            &[("first", (*first).into()), ("more", rest.len().into())],
        ),
        [] => String::new(),
    };
    all.into_iter()
        .map(|(text, files)| (text, told(&files)))
        .collect()
}

/// Of which measures a limitation leaves so much.
fn held(words: &Words, one: &Limitation, standing: Standing, what: &str) -> String {
    let measures: Vec<Measure> = one.leaves(standing).collect();
    if measures.is_empty() {
        return String::new();
    }
    let names = words.facts(&measures);
    let names = [("measures", words.list(&names).into())];
    format!(" ({})", words.with(what, &names))
}

fn budgets(subject: &Subject<'_>) -> Markup {
    let findings: Vec<(&Finding, &Budget)> = subject
        .assessment
        .findings
        .iter()
        .filter(|finding| finding.decides())
        .filter_map(|finding| Some((finding, finding.budget.as_ref()?)))
        .collect();
    let mut measures: Vec<Measure> = findings
        .iter()
        .map(|(finding, _)| finding.limit.measure)
        .collect();
    measures.sort_unstable();
    measures.dedup();
    let shown = |measure: Measure| {
        let of = findings
            .iter()
            .copied()
            .filter(move |(finding, _)| finding.limit.measure == measure);
        match subject.budgets {
            Budgets::Every => of.collect::<Vec<_>>(),
            Budgets::Nearest => of
                .max_by(|a, b| share(a.0).total_cmp(&share(b.0)))
                .into_iter()
                .collect(),
        }
    };
    let words = subject.words;
    html! {
        h3 { (words.say("report-uncertainty")) }
        @if findings.is_empty() {
            p { (words.say("report-no-uncertainty")) }
        } @else {
            p { (words.say("report-uncertainty-means")) }
            @if subject.budgets == Budgets::Nearest { p { (words.say("report-nearest-only")) } }
        }
        @for measure in measures {
            (scrolling(&words.with("report-uncertainty-of", &[("measure", capital(&words.fact(&measure)).into())]), &budget_table(subject, measure, &shown(measure))))
        }
    }
}

fn share(finding: &Finding) -> f64 {
    finding.share_of_limit().unwrap_or(0.0)
}

fn budget_table(
    subject: &Subject<'_>,
    measure: Measure,
    findings: &[(&Finding, &Budget)],
) -> Markup {
    let mut sources: Vec<Source> = Vec::new();
    for line in findings.iter().flat_map(|(_, budget)| &budget.components) {
        if !sources.contains(&line.source) {
            sources.push(line.source);
        }
    }
    let (words, motion) = (subject.words, subject.assessment.gate.gate.motion);
    let named = [
        ("measure", capital(&words.fact(&measure)).into()),
        ("unit", measure.unit().into()),
    ];
    html! {
        table {
            caption { (words.with("report-uncertainty-in", &named)) }
            thead {
                tr {
                    th scope="col" { (words.say("report-column-point")) }
                    @for source in &sources { th.number scope="col" { (words.fact(source)) } }
                    th.number scope="col" { (words.say("report-column-combined")) }
                    th.number scope="col" { "ν" }
                    th.number scope="col" { "k" }
                    th.number scope="col" { "U" }
                }
            }
            tbody {
                @for (finding, budget) in findings {
                    tr {
                        th scope="row" {
                            @if let Some(point) = &finding.test_point { (words.fact(&point.direction)) ", " (gap_and_height(words, point, motion)) } @else { "–" }
                            @if !budget.left_out.is_empty() { span.soft { " · " (words.with("report-left-out", &[("components", words.list(&words.facts(&budget.left_out)).into())])) } }
                        }
                        @for source in &sources { td.number { (component(budget, *source)) } }
                        td.number { (two_digits(budget.combined)) }
                        td.number { (freedom(budget.dof)) }
                        td.number { (printed_plain(budget.k, 0.01)) }
                        td.number { (two_digits(budget.expanded)) }
                    }
                }
            }
        }
    }
}

/// A component; one that is far too small to be seen in the combined uncertainty is said to be about 0.
fn component(budget: &Budget, source: Source) -> String {
    let Some(line) = budget.components.iter().find(|line| line.source == source) else {
        return "–".to_owned();
    };
    if line.u > 0.0 && line.u < budget.combined / 10_000.0 {
        return "≈ 0".to_owned();
    }
    two_digits(line.u)
}

fn two_digits(value: f64) -> String {
    if value == 0.0 {
        "0".to_owned()
    } else {
        printed_plain(value, value / 10.0)
    }
}

/// Degrees of freedom; those of a known distribution are infinite.
fn freedom(dof: f64) -> String {
    if dof.is_finite() {
        printed_plain(dof, 0.1)
    } else {
        "∞".to_owned()
    }
}
