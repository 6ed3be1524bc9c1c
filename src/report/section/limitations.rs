//! What the records cannot show, and how sure the values are.

use maud::{Markup, html};

use crate::measure::Measure;
use crate::report::page::{Budgets, Subject, scrolling};
use crate::report::place::gap_and_height;
use crate::uncertainty::Budget;
use crate::verdict::{Finding, printed_plain};
use crate::visit::{Hit, Measurement};

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    html! {
        p { "A record that under-reads can show that a limit was exceeded. It can never show that it was kept." }
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
        .partition(|(_, measurement)| !measurement.evidence.is_empty());
    let noticed = notices(hits);
    html! {
        h3 { "The records" }
        @if !clear.is_empty() {
            p { (clear.len()) " of " (hits.len()) " records show nothing that limits what they prove." }
        }
        @if !doubtful.is_empty() {
            dl {
                @for (hit, measurement) in doubtful {
                    dt { (hit.file) }
                    dd { ul.plain { @for one in &measurement.evidence { li { (one.text) (held(&one.bounds, "lower bound only")) (held(&one.voids, "proves nothing")) } } } }
                }
            }
        }
        @if !noticed.is_empty() {
            h3 { "What the reader noticed in the logs" }
            ul { @for (text, files) in &noticed { li { (text) span.soft { " (" (files) ")" } } } }
        }
    }
}

/// Each thing that was noticed, once, with the logs it was noticed in.
fn notices(hits: &[Hit]) -> Vec<(&str, String)> {
    let mut all: Vec<(&str, Vec<&str>)> = Vec::new();
    for hit in hits {
        for notice in &hit.notices {
            match all.iter_mut().find(|(text, _)| *text == notice.text) {
                Some((_, files)) => files.push(&hit.file),
                None => all.push((&notice.text, vec![&hit.file])),
            }
        }
    }
    let told = |files: &[&str]| match files {
        [only] => (*only).to_owned(),
        [first, rest @ ..] => format!("{first} and {} more", rest.len()),
        [] => String::new(),
    };
    all.iter()
        .map(|(text, files)| (*text, told(files)))
        .collect()
}

/// Which measures a piece of evidence bears upon.
fn held(measures: &[Measure], what: &str) -> String {
    if measures.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = measures.iter().map(|measure| measure.words()).collect();
    format!(" ({what}: {})", names.join(", "))
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
    html! {
        h3 { "Uncertainty" }
        @if findings.is_empty() {
            p { "No uncertainty can be stated for any value." }
        } @else {
            p { "Standard uncertainty u of each component, combined by root sum of squares (JCGM 100, the GUM); U = k · u covers 95 %." }
            @if subject.budgets == Budgets::Nearest {
                p { "Of each measure the value nearest to its limit; all the others stand in the machine-readable record." }
            }
        }
        @for measure in measures {
            (scrolling(&format!("Uncertainty of the {measure}"), &budget_table(subject, measure, &shown(measure))))
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
    let mut names: Vec<&str> = Vec::new();
    for name in findings
        .iter()
        .flat_map(|(_, budget)| budget.components.iter().map(|line| line.name.as_ref()))
    {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let motion = subject.assessment.gate.gate.motion;
    html! {
        table {
            caption { "Standard uncertainty u of the " (measure) " in " (measure.unit()) }
            thead {
                tr {
                    th scope="col" { "test point" }
                    @for name in &names { th.number scope="col" { (name) } }
                    th.number scope="col" { "combined u" }
                    th.number scope="col" { "ν" }
                    th.number scope="col" { "k" }
                    th.number scope="col" { "U" }
                }
            }
            tbody {
                @for (finding, budget) in findings {
                    tr {
                        th scope="row" {
                            @if let Some(point) = &finding.test_point { (point.direction) ", " (gap_and_height(point, motion)) } @else { "–" }
                            @if !budget.left_out.is_empty() { span.soft { " · left out: " (budget.left_out.join(", ")) } }
                        }
                        @for name in &names { td.number { (component(budget, name)) } }
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
fn component(budget: &Budget, name: &str) -> String {
    let Some(line) = budget.components.iter().find(|line| line.name == name) else {
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
