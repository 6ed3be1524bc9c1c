//! What no force reading shows, the usual cautions, and the files that were judged.

use maud::{Markup, html};

use crate::limits::minimum_gaps;
use crate::report::cautions::{CAUTIONS, STANDING};
use crate::report::page::{Subject, scrolling};

/// The caution that stands under the first sentence.
pub(in crate::report) fn standing(subject: &Subject<'_>) -> Markup {
    html! {
        p.caution { (STANDING) }
        @if !subject.assessment.profile.confirmed() {
            p.soft { "The limits carry how each is known; not all were read in the document itself (see " a href="#limits" { "limits" } ")." }
        }
    }
}

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    html! {
        (unread(subject))
        h3 { "Cautions" }
        ul { @for caution in CAUTIONS { li { (caution) } } }
        (files(subject))
    }
}

fn unread(subject: &Subject<'_>) -> Markup {
    let hazards = &subject.assessment.hazards;
    let gaps = minimum_gaps();
    html! {
        @if !hazards.is_empty() {
            h3 { "Hazards without a reading" }
            p { "No force was read for these. Look at each on the gate." }
            ul { @for one in hazards { li { strong { (one.hazard) } ": " (one.instead) span.soft { " (" (one.known_from) ")" } } } }
        }
        @if !gaps.is_empty() {
            p { "Gaps at which a part of the body is not crushed: "
                @for (index, gap) in gaps.iter().enumerate() { @if index > 0 { ", " } (gap.part) " " (gap.gap_mm) " mm" span.soft { " (" (gap.known_from) ")" } } "." }
        }
    }
}

fn files(subject: &Subject<'_>) -> Markup {
    let hits = &subject.assessment.hits;
    let table = html! {
        table {
            thead { tr { th scope="col" { "file" } th scope="col" { "test point" } th scope="col" { "SHA-256" } } }
            tbody {
                @for hit in hits {
                    tr {
                        td { (hit.file) }
                        td { (hit.point) ", hit " (hit.repeat) }
                        td.digest { (hit.sha256) }
                    }
                }
            }
        }
    };
    html! {
        h3 { "Files" }
        @if hits.is_empty() { p { "No log was read." } } @else { (scrolling("Files", &table)) }
    }
}
