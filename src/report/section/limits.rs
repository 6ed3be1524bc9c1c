//! The limits, how each is known, and where sources disagree.

use maud::{Markup, html};

use crate::limits::{Bound, KnownFrom};
use crate::report::page::{Subject, scrolling};

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let profile = &subject.assessment.profile;
    html! {
        p { (profile.title) " (profile " code { (profile.name) } "). " (profile.about) }
        @if !profile.confirmed() {
            p { "Not every value that decides was read in the document or confirmed by an owner of it. Whoever owns the document can confirm or correct the values." }
        }
        (scrolling("Limits", &limits(subject)))
        (scrolling("Levels and periods", &values(subject)))
        (marks())
        (disagreements(subject))
        (not_judged(subject))
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
    html! {
        @if !limits.is_empty() {
            table {
                caption { "The limits that apply here" }
                thead { tr {
                    th scope="col" { "limit" } th scope="col" { "measure" } th.number scope="col" { "value" }
                    th scope="col" { "known" } th scope="col" { "clause, notes" }
                } }
                tbody {
                    @for limit in limits {
                        tr {
                            td { code { (limit.name) } @if !limit.decides { span.soft { " shown only" } } }
                            td { (limit.measure) }
                            td.number { (bound(limit.bound)) " " (limit.value) " " (limit.unit()) }
                            td.nowrap { (limit.known_from) }
                            td.reason {
                                @if let Some(clause) = &limit.clause { (clause) ". " }
                                @if let Some(note) = &limit.note { (note) ". " }
                                @if let Some(confirmed) = &limit.confirmation {
                                    "Confirmed on " (confirmed.on) " from " (confirmed.from)
                                    @if let Some(before) = confirmed.corrected_from { ", corrected from " (before) " " (limit.unit()) } "."
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

const fn bound(bound: Bound) -> &'static str {
    match bound {
        Bound::AtMost => "at most",
        Bound::Below => "below",
    }
}

fn values(subject: &Subject<'_>) -> Markup {
    html! {
        table {
            caption { "Levels, periods and demands of the profile" }
            thead { tr { th scope="col" { "name" } th.number scope="col" { "value" } th scope="col" { "known" } th scope="col" { "clause, notes" } } }
            tbody {
                @for value in &subject.assessment.profile.values {
                    tr {
                        td.nowrap { (value.name) }
                        td.number { (value.value) " " (value.unit) }
                        td.nowrap { (value.known_from) }
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

/// What the words under "known" mean.
fn marks() -> Markup {
    html! {
        dl {
            dt { (KnownFrom::Confirmed) } dd { "confirmed by somebody who owns the document" }
            dt { (KnownFrom::Read) } dd { "read in a stored text of the document or of public law" }
            dt { (KnownFrom::SecondHand) } dd { "from a page, guide or paper that describes the document" }
            dt { (KnownFrom::Memory) } dd { "recalled, not looked up" }
            dt { "chosen" } dd { "no published value is known: chosen by this project" }
        }
    }
}

fn disagreements(subject: &Subject<'_>) -> Markup {
    let all = &subject.assessment.profile.disagreements;
    html! {
        @if !all.is_empty() {
            h3 { "Where sources disagree" }
            @for one in all {
                p { strong { (one.about) } }
                ul { @for reading in &one.readings { li { (reading) } } }
                p { "Here: " (one.here) }
            }
        }
    }
}

fn not_judged(subject: &Subject<'_>) -> Markup {
    let all = &subject.assessment.profile.not_judged;
    html! {
        @if !all.is_empty() {
            h3 { "Asked by the rule, not shown by a force log" }
            ul { @for one in all { li { (one.asks) span.soft { " (" (one.known_from) @if let Some(clause) = &one.clause { ", " (clause) } ")" } } } }
        }
    }
}
