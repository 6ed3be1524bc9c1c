//! The findings: a table for each measure, a row for each requirement.

use maud::{Markup, html};

use crate::limits::Judged;
use crate::measure::Measure;
use crate::report::State;
use crate::report::bar::bar;
use crate::report::page::{Subject, scrolling, state_words};
use crate::report::place::{state, upright, view, with_bound};
use crate::report::sentence::capital;
use crate::verdict::{Finding, printed_plain};

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let findings = &subject.assessment.findings;
    let mut measures: Vec<Measure> = findings
        .iter()
        .map(|finding| finding.limit.measure)
        .collect();
    measures.sort_unstable();
    measures.dedup();
    let rule = findings.first().map(|finding| finding.rule);
    html! {
        @if let Some(rule) = rule {
            p { "Rule of decision, chosen before the measurement: " (rule) ", that is, " (rule.words()) ". The upright line in a bar is the limit; the whisker is the value ± its expanded uncertainty U; under “within” stands the probability that the true value is within the limit. Every single hit is listed, in bold where it is over the limit by itself." }
        } @else {
            p { "Nothing was judged." }
        }
        @for measure in measures {
            @let of: Vec<&Finding> = findings.iter().filter(|finding| finding.limit.measure == measure).collect();
            (scrolling(&format!("Findings: {measure}"), &table(subject, measure, &of)))
        }
        (two_readings(subject))
    }
}

fn table(subject: &Subject<'_>, measure: Measure, findings: &[&Finding]) -> Markup {
    let unit = measure.unit();
    let across = if upright(subject.assessment.gate.gate.motion) {
        "from left, mm"
    } else {
        "height, mm"
    };
    html! {
        h3 { (capital(measure.words())) ", " (unit) }
        table.findings aria-label={ "Findings: " (measure) " in " (unit) } {
            thead {
                tr {
                    th.number scope="col" { "gap, mm" }
                    th.number scope="col" { (across) }
                    th scope="col" { "state" }
                    th.number scope="col" { "judged, " (unit) }
                    th.number scope="col" { "limit, " (unit) }
                    th scope="colgroup" colspan="2" { "share of the limit, %" }
                    th.number scope="col" { "± U, " (unit) }
                    th.number scope="col" { "within, %" }
                    th scope="col" { "hits, " (unit) }
                }
            }
            @for (index, finding) in findings.iter().enumerate() {
                @let before = index.checked_sub(1).map(|before| findings[before]);
                (rows(finding, before))
            }
        }
    }
}

/// One requirement; a heading row where direction, part or limit changes.
fn rows(finding: &Finding, before: Option<&Finding>) -> Markup {
    let key = |finding: &Finding| {
        let point = finding
            .test_point
            .as_ref()
            .map(|point| (point.direction, point.hazard));
        (point, finding.limit.name.clone())
    };
    // Beside a plain row the remarks repeat what its hits show.
    let plain = state(finding) == State::Within
        && finding.hits_over().is_empty()
        && finding.odd_one.is_none();
    let remarks = if plain { Vec::new() } else { finding.remarks() };
    let notes = finding.reasons().into_iter().chain(remarks);
    let notes: Vec<String> = notes
        .map(|note| note.trim_end_matches('.').to_owned())
        .collect();
    html! {
        tbody.group {
            @if before.map(key) != Some(key(finding)) {
                tr { th scope="rowgroup" colspan="10" { (group(finding)) } }
            }
            (row(finding))
            @if !notes.is_empty() {
                tr.notes { td {} td.reason colspan="9" { (notes.join("; ")) "." } }
            }
        }
    }
}

fn group(finding: &Finding) -> Markup {
    let judged = match finding.limit.judged {
        Judged::Mean => "mean of the hits",
        Judged::Worst => "greatest of the hits",
    };
    html! {
        @if let Some(point) = &finding.test_point { (view(point.direction, point.hazard)) } @else { "Logs without a test point" }
        span.soft {
            " · " (finding.limit.short_name()) " · " (judged) " · limit known: " (finding.limit.known_from)
            @if !finding.decides() { " · shown only, does not decide" }
        }
    }
}

fn row(finding: &Finding) -> Markup {
    let expanded = finding.budget.as_ref().map(|budget| budget.expanded);
    let share = finding.share_of_limit();
    let state = state(finding);
    html! {
        tr {
            @if let Some(point) = &finding.test_point {
                td.number { (point.gap_mm) }
                td.number { (point.height_mm) }
            } @else { td {} td {} }
            td { (state_words(state, share)) }
            td.number { @if let Some(value) = finding.printed_value() { (with_bound(finding, &value)) } @else { "–" } }
            td.number { (finding.limit.value) }
            td.bar {
                @if let Some(share) = share {
                    (bar(state, share, expanded.map(|it| it / finding.limit.value), &format!("{} percent of the limit, {}", percent(share), state.words())))
                }
            }
            td.number { @if let Some(share) = share { (percent(share)) } @else { "–" } }
            td.number { @if let Some(expanded) = expanded { (printed_plain(expanded, expanded / 10.0)) } @else { "–" } }
            td.number { @if let Some(chance) = finding.probability() { (chance_words(chance)) } @else { "–" } }
            td.hits { (hits(finding)) }
        }
    }
}

/// Every hit, so that one hard hit is never buried in a mean.
fn hits(finding: &Finding) -> Markup {
    html! {
        @for (index, repeat) in finding.repeats.iter().enumerate() {
            @if index > 0 { " · " }
            @match &repeat.value {
                Ok(value) => {
                    @let number = finding.printed_number(*value);
                    @if finding.hits_over().contains(&index) { strong { (number) } } @else { (number) }
                },
                Err(_) => "–",
            }
        }
    }
}

/// A share in percent to three digits: shown beside the verdict, never the ground of it.
fn percent(share: f64) -> String {
    printed_plain(share * 100.0, if share < 10.0 { 0.1 } else { 1.0 })
}

/// A probability in percent that never says 0 or 100 of a chance that is neither.
fn chance_words(chance: f64) -> String {
    let percent = printed_plain(chance * 100.0, 0.1);
    match percent.as_str() {
        "100.0" => "> 99.9".to_owned(),
        "0.0" => "< 0.1".to_owned(),
        _ => percent,
    }
}

fn two_readings(subject: &Subject<'_>) -> Markup {
    let pairs = subject.assessment.overall().two_readings;
    html! {
        @if !pairs.is_empty() {
            h3 { "Two readings, two outcomes" }
            p { "Sources read these quantities in two ways, and here the two lead to different outcomes. The one that decides is the profile's." }
            ul {
                @for pair in &pairs {
                    li {
                        (pair.quantity) @if let Some(point) = &pair.test_point { " at " (point) } ": "
                        (pair.decides.0) " decides: " (pair.decides.1.words()) "; "
                        (pair.shown.0) " is shown: " (pair.shown.1.words()) "."
                    }
                }
            }
        }
    }
}
