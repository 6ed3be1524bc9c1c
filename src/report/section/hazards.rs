//! What no force reading shows, the usual cautions, and the files that were assessed.

use maud::{Markup, html};

use crate::limits::minimum_gaps;
use crate::report::cautions::cautions;
use crate::report::page::Subject;
use crate::report::section::files::files;

/// The caution that stands under the first sentence.
pub(in crate::report) fn standing(subject: &Subject<'_>) -> Markup {
    html! {
        p.caution { (subject.words.say("caution-standing")) }
        @if !subject.assessment.profile.confirmed() {
            p.soft { (subject.words.say("report-sources-vary")) " " a href="#limits" { (subject.words.say("report-section-limits")) } "." }
        }
    }
}

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    html! {
        (unread(subject))
        h3 { (subject.words.say("report-cautions")) }
        ul { @for caution in cautions(subject.words) { li { (caution) } } }
        (files(subject))
    }
}

fn unread(subject: &Subject<'_>) -> Markup {
    let hazards = &subject.assessment.hazards;
    let (words, gaps) = (subject.words, minimum_gaps());
    html! {
        @if !hazards.is_empty() {
            h3 { (words.say("report-hazards")) }
            p { (words.say("report-hazards-means")) }
            ul { @for one in hazards { li { strong { (words.fact(one)) } ": " (words.part(one, "instead").unwrap_or_default()) span.soft { " (" (words.fact(&one.source)) ")" } } } }
        }
        @if !gaps.is_empty() {
            p { (words.say("report-gaps")) " "
                @for (index, gap) in gaps.iter().enumerate() {
                    @if index > 0 { ", " }
                    (words.fact(gap))
                    span.soft { " (" (words.fact(&gap.source)) ")" }
                } "." }
        }
    }
}
