//! The findings: a table for each measure, a row for each requirement.

use maud::{Markup, html};

use crate::measure::Measure;
use crate::report::State;
use crate::report::bar::bar;
use crate::report::page::{Subject, scrolling, state_words};
use crate::report::place::{joined, state, upright, view, with_bound};
use crate::report::sentence::capital;
use crate::verdict::{Finding, TwoReadings, printed_plain};
use crate::words::Words;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let findings = &subject.assessment.findings;
    let mut measures: Vec<Measure> = findings
        .iter()
        .map(|finding| finding.limit.measure)
        .collect();
    measures.sort_unstable();
    measures.dedup();
    let rule = findings.first().map(|finding| finding.rule);
    let words = subject.words;
    html! {
        @if let Some(rule) = rule {
            p {
                (words.with("report-decision-rule", &[("rule", words.fact(&rule).into())]))
                " " (words.say("report-reading-findings"))
            }
        } @else {
            p { (words.say("report-nothing-assessed")) }
        }
        @for measure in measures {
            @let of: Vec<&Finding> = findings.iter().filter(|finding| finding.limit.measure == measure).collect();
            (scrolling(&words.with("report-findings-of", &[("measure", words.fact(&measure).into())]), &table(subject, measure, &of)))
        }
        (two_readings(subject))
    }
}

fn table(subject: &Subject<'_>, measure: Measure, findings: &[&Finding]) -> Markup {
    let words = subject.words;
    let across = if upright(subject.assessment.gate.gate.motion) {
        words.say("report-column-across")
    } else {
        words.say("report-column-height")
    };
    let unit = [("unit", measure.unit().into())];
    let named = [
        ("measure", words.fact(&measure).into()),
        ("unit", measure.unit().into()),
    ];
    html! {
        h3 { (capital(&words.fact(&measure))) ", " (measure.unit()) }
        table.findings aria-label=(words.with("report-findings-in", &named)) {
            thead {
                tr {
                    th.number scope="col" { (words.say("report-column-gap")) }
                    th.number scope="col" { (across) }
                    th scope="col" { (words.say("report-column-state")) }
                    th.number scope="col" { (words.with("report-column-value", &unit)) }
                    th.number scope="col" { (words.with("report-column-limit", &unit)) }
                    th scope="colgroup" colspan="2" { (words.say("report-column-share")) }
                    th.number scope="col" { "± U, " (measure.unit()) }
                    th.number scope="col" { (words.say("report-column-within")) }
                    th scope="col" { (words.with("report-column-hits", &unit)) }
                }
            }
            @for (index, finding) in findings.iter().enumerate() {
                @let before = index.checked_sub(1).map(|before| findings[before]);
                (rows(words, finding, before))
            }
        }
    }
}

/// One requirement; a heading row where direction, part or limit changes.
fn rows(words: &Words, finding: &Finding, before: Option<&Finding>) -> Markup {
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
    let mut notes = words.facts(&finding.reasons());
    if !plain {
        notes.extend(words.facts(&finding.remarks()));
    }
    html! {
        tbody.group {
            @if before.map(key) != Some(key(finding)) {
                tr { th scope="rowgroup" colspan="10" { (group(words, finding)) } }
            }
            (row(words, finding))
            @if !notes.is_empty() {
                tr.notes { td {} td.reason colspan="9" { (joined(&notes)) "." } }
            }
        }
    }
}

fn group(words: &Words, finding: &Finding) -> Markup {
    let limit = &finding.limit;
    let variables = [
        ("limit", limit.short_name().into()),
        ("assessed", words.fact(&limit.assessed).into()),
        ("source", words.fact(&limit.source).into()),
    ];
    let told = if finding.decides() {
        words.with("report-finding-group", &variables)
    } else {
        words.with("report-finding-group-shown", &variables)
    };
    html! {
        @if let Some(point) = &finding.test_point { (view(words, point.direction, point.hazard)) } @else { (words.say("report-no-test-point")) }
        span.soft { " · " (told) }
    }
}

fn row(words: &Words, finding: &Finding) -> Markup {
    let expanded = finding.budget.as_ref().map(|budget| budget.expanded);
    let share = finding.share_of_limit();
    let state = state(finding);
    html! {
        tr {
            @if let Some(point) = &finding.test_point {
                td.number { (point.gap_mm) }
                td.number { (point.height_mm) }
            } @else { td {} td {} }
            td { (state_words(words, state, share)) }
            td.number { @if let Some(value) = finding.printed_value() { (with_bound(finding, &value)) } @else { "–" } }
            td.number { (finding.limit.value) }
            td.bar {
                @if let Some(share) = share {
                    (bar(words, state, share, expanded.map(|it| it / finding.limit.value), &words.with("report-share-of-limit", &[("percent", percent(share).into()), ("state", words.fact(&state).into())])))
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
                    @let number = finding.printed_number(value.get());
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
    let words = subject.words;
    html! {
        @if !pairs.is_empty() {
            h3 { (words.say("report-two-readings")) }
            p { (words.say("report-two-readings-why")) }
            ul { @for pair in &pairs { li { (two_readings_of(words, pair)) } } }
        }
    }
}

fn two_readings_of(words: &Words, pair: &TwoReadings) -> String {
    let quantity = match &pair.test_point {
        None => pair.quantity.clone(),
        Some(point) => words.with(
            "report-quantity-at",
            &[
                ("quantity", pair.quantity.as_str().into()),
                ("point", words.fact(point).into()),
            ],
        ),
    };
    words.with(
        "report-two-readings-of",
        &[
            ("quantity", quantity.into()),
            ("decides", pair.decides.0.to_string().into()),
            ("decided", words.fact(&State::from(pair.decides.1)).into()),
            ("shown", pair.shown.0.to_string().into()),
            ("outcome", words.fact(&State::from(pair.shown.1)).into()),
        ],
    )
}
