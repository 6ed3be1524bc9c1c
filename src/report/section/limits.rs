//! The limits, how each is known, and where sources disagree.

use maud::{Markup, html};

use crate::limits::{Bound, Confirmation, Limit, SourceKind};
use crate::report::page::{Subject, scrolling};
use crate::words::Words;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let (words, profile) = (subject.words, &subject.assessment.profile);
    html! {
        p { (profile.title) " (" code { (profile.name) } "). " (profile.about) }
        @if !profile.confirmed() { p { (words.say("report-unconfirmed")) } }
        (scrolling(&words.say("report-limits"), &limits(subject)))
        (scrolling(&words.say("report-levels"), &values(subject)))
        (marks(words))
        (disagreements(subject))
        (not_assessed(subject))
    }
}

/// The limits that were held against a finding.
fn limits(subject: &Subject<'_>) -> Markup {
    let used = |name: &str| {
        subject
            .assessment
            .findings
            .iter()
            .any(|finding| finding.limit.name == name)
    };
    let limits: Vec<_> = subject
        .assessment
        .profile
        .limits
        .iter()
        .filter(|limit| used(&limit.name))
        .collect();
    let words = subject.words;
    html! {
        @if !limits.is_empty() {
            table {
                caption { (words.say("report-limits-caption")) }
                thead { tr {
                    th scope="col" { (words.say("report-column-limit-name")) }
                    th scope="col" { (words.say("report-column-measured")) }
                    th.number scope="col" { (words.say("report-column-number")) }
                    th scope="col" { (words.say("report-column-source")) }
                    th scope="col" { (words.say("report-column-clause")) }
                } }
                tbody {
                    @for limit in limits {
                        tr {
                            td { code { (limit.name) } @if !limit.decides { span.soft { " " (words.say("report-for-information")) } } }
                            td { (words.fact(&limit.measure)) }
                            td.number { (bound(words, limit)) }
                            td.nowrap { (words.fact(&limit.source)) }
                            td.reason {
                                @if let Some(clause) = &limit.clause { (clause) ". " }
                                @if let Some(note) = &limit.note { (note) ". " }
                                @if let Some(confirmed) = &limit.confirmation { (confirmation(words, confirmed, limit.unit())) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn bound(words: &Words, limit: &Limit) -> String {
    let value = [("value", limit.value.into()), ("unit", limit.unit().into())];
    match limit.bound {
        Bound::AtMost => words.with("report-limit-at-most", &value),
        Bound::Below => words.with("report-limit-below", &value),
    }
}

fn confirmation(words: &Words, confirmed: &Confirmation, unit: &str) -> String {
    let mut variables = vec![
        ("date", confirmed.on.to_string().into()),
        ("document", confirmed.from.as_str().into()),
        ("unit", unit.into()),
    ];
    match confirmed.corrected_from {
        None => words.with("report-confirmed", &variables),
        Some(before) => {
            variables.push(("before", before.into()));
            words.with("report-corrected", &variables)
        }
    }
}

fn values(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    html! {
        table {
            caption { (words.say("report-levels-caption")) }
            thead { tr {
                th scope="col" { (words.say("report-column-name")) }
                th.number scope="col" { (words.say("report-column-number")) }
                th scope="col" { (words.say("report-column-source")) }
                th scope="col" { (words.say("report-column-clause")) }
            } }
            tbody {
                @for value in &subject.assessment.profile.values {
                    tr {
                        td.nowrap { (value.name) }
                        td.number { (value.value) " " (value.unit) }
                        td.nowrap { (words.fact(&value.source)) }
                        td.reason {
                            @if let Some(clause) = &value.clause { (clause) ". " }
                            @if let Some(note) = &value.note { (note) "." }
                        }
                    }
                }
            }
        }
    }
}

/// What the words under "source" mean.
fn marks(words: &Words) -> Markup {
    let marks = [
        (SourceKind::Confirmed, "report-means-confirmed"),
        (SourceKind::Read, "report-means-read"),
        (SourceKind::SecondHand, "report-means-second-hand"),
        (SourceKind::Memory, "report-means-memory"),
        (SourceKind::Chosen, "report-means-chosen"),
    ];
    html! { dl { @for (mark, meaning) in marks { dt { (words.fact(&mark)) } dd { (words.say(meaning)) } } } }
}

fn disagreements(subject: &Subject<'_>) -> Markup {
    let all = &subject.assessment.profile.disagreements;
    html! {
        @if !all.is_empty() {
            h3 { (subject.words.say("report-disagreements")) }
            @for one in all {
                p { strong { (one.about) } }
                ul { @for reading in &one.readings { li { (reading) } } }
                p { (subject.words.with("report-here", &[("here", one.here.as_str().into())])) }
            }
        }
    }
}

fn not_assessed(subject: &Subject<'_>) -> Markup {
    let all = &subject.assessment.profile.not_assessed;
    html! {
        @if !all.is_empty() {
            h3 { (subject.words.say("report-not-shown")) }
            ul { @for one in all { li { (one.asks) span.soft { " (" (subject.words.fact(&one.source)) @if let Some(clause) = &one.clause { ", " (clause) } ")" } } } }
        }
    }
}
