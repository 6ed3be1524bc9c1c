//! What to do next: points over, undecided and missing, each with its reason in words for the owner of the gate.

use maud::{Markup, html};

use crate::measure::Measure;
use crate::report::State;
use crate::report::page::{Subject, state_words};
use crate::report::place::{gap_and_height, printed, state, together, view};
use crate::report::sentence::capital;
use crate::verdict::Finding;
use crate::visit::Planned;

/// What must be done at once about a leaf that is over the limit.
pub(in crate::report) const UNTIL_PUT_RIGHT: &str =
    "Until this is put right, keep people away from the moving leaf or take the gate out of use.";

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let findings: Vec<&Finding> = subject
        .assessment
        .findings
        .iter()
        .filter(|finding| finding.decides())
        .collect();
    let standing = |wanted: State| {
        findings
            .iter()
            .copied()
            .filter(move |finding| state(finding) == wanted)
    };
    html! {
        (over(subject, &standing(State::Over).collect::<Vec<_>>()))
        (undecided(subject, &standing(State::Undecided).collect::<Vec<_>>()))
        (missing(subject))
        (without_limit(subject))
        @if findings.is_empty() {
            p { "Nothing was judged: no limit of " (subject.assessment.profile.name) " applies to a hit that was found." }
        } @else if findings.iter().all(|finding| state(finding) == State::Within) && subject.assessment.missing.is_empty() {
            p { "Nothing that was measured asks for a change. Keep the settings, test again when the next visit is due, and test again at once after a repair, a new part, new firmware or a changed setting: results from before a change no longer count." }
            p { "The hazards listed at the end have no reading: look at them on the gate." }
        }
    }
}

fn over(subject: &Subject<'_>, findings: &[&Finding]) -> Markup {
    let mut measures: Vec<Measure> = findings
        .iter()
        .map(|finding| finding.limit.measure)
        .collect();
    measures.sort_unstable();
    measures.dedup();
    html! {
        @if !findings.is_empty() {
            h3 { (state_words(State::Over, Some(1.0))) }
            p.caution { (UNTIL_PUT_RIGHT) }
        }
        @for measure in measures {
            h4 { (capital(what_failed(measure))) }
            p { (what_helps(measure)) }
            ul {
                @for finding in findings.iter().filter(|finding| finding.limit.measure == measure) {
                    li { (place(subject, finding)) ": " (value_and_limit(finding)) (told(&finding.reasons())) (told(&finding.remarks())) }
                }
            }
        }
        @if !findings.is_empty() {
            p { "Change one thing at a time, in this order: mechanics, speed, slow-down zone, an edge with enough travel, and the drive's sensitivity last. Then test every point again: a change makes the earlier results out of date." }
        }
    }
}

fn undecided(subject: &Subject<'_>, findings: &[&Finding]) -> Markup {
    html! {
        @if !findings.is_empty() {
            h3 { (state_words(State::Undecided, Some(0.9))) }
            p { "Neither that the limit was kept nor that it was exceeded can be shown. Undecided is not good enough: remove the reason and test these points again." }
            @for here in findings.chunk_by(|a, b| a.test_point == b.test_point) {
                p.place { (place(subject, here[0])) }
                ul {
                    @for group in together(here) {
                        li { (capital(&group.values())) ": undecided because " (group.because()) "." }
                    }
                }
            }
        }
    }
}

fn missing(subject: &Subject<'_>) -> Markup {
    let missing = &subject.assessment.missing;
    html! {
        @if !missing.is_empty() {
            h3 { (state_words(State::NotTested, None)) }
            p { "These hits are wanted and were not found. A point is never inferred from another one." }
            ul {
                @for one in missing {
                    li {
                        (view(one.point.direction, one.point.hazard)) ", " (gap_and_height(&one.point, subject.assessment.gate.gate.motion)) ": "
                        @if one.found == 0 { "no hit; " (one.wanted) " wanted." } @else { (one.found) " of " (one.wanted) " hits." }
                    }
                }
            }
        }
    }
}

/// Points that were tested and that no limit is known for, and why the wanted points are not known.
fn without_limit(subject: &Subject<'_>) -> Markup {
    let points = &subject.assessment.without_limit;
    let motion = subject.assessment.gate.gate.motion;
    html! {
        @if !points.is_empty() {
            h3 { "Tested, but without a limit" }
            ul { @for (point, why) in points { li { (view(point.direction, point.hazard)) ", " (gap_and_height(point, motion)) ": " (why) "." } } }
        }
        @match &subject.assessment.planned {
            Planned::Known(plan) => { @for note in &plan.notes { p.soft { (capital(note)) "." } } },
            Planned::InPart(plan, why) => {
                @for note in &plan.notes { p.soft { (capital(note)) "." } }
                p { "It is not known whether more test points are wanted: " (why) ". Nothing can be called complete until the gate file says more." }
            },
            Planned::NotPrescribed(why) => p { "No test points are prescribed: " (why) ". The points of the logs are all there is." },
            Planned::Unknown(why) => p { "Which test points are wanted is not known: " (why) ". Nothing can be called complete until the gate file says more." },
        }
    }
}

fn place(subject: &Subject<'_>, finding: &Finding) -> String {
    finding.test_point.as_ref().map_or_else(
        || "A log without a test point".to_owned(),
        |point| {
            format!(
                "{}, {}",
                view(point.direction, point.hazard),
                gap_and_height(point, subject.assessment.gate.gate.motion)
            )
        },
    )
}

fn value_and_limit(finding: &Finding) -> String {
    let limit = &finding.limit;
    let value = printed(finding).unwrap_or_else(|| "no value".to_owned());
    format!("{value} against {} {}.", limit.value, limit.unit())
}

fn told(lines: &[String]) -> String {
    lines
        .iter()
        .map(|line| format!(" {}.", capital(line.trim_end_matches('.'))))
        .collect()
}

/// Which part of the hit failed, in words.
fn what_failed(measure: Measure) -> &'static str {
    match measure {
        Measure::PeakForce => "the leaf hits too hard",
        Measure::TimeAboveStatic | Measure::DynamicPeriod => "the leaf pushes hard for too long",
        Measure::StaticForce => "the leaf keeps pressing after the hit",
        Measure::ResidualForce | Measure::TimeAboveResidual => "force is left at the end",
        Measure::EffectiveForce | Measure::MeanDynamicForce => "the hit is too strong on average",
        Measure::Energy => "the hit carries too much energy",
        Measure::ReversalTime => "the leaf turns back too late",
        Measure::OverTravel => "the leaf travels too far after the hit",
        other => other.words(),
    }
}

/// What to look at first; common practice, no source.
fn what_helps(measure: Measure) -> &'static str {
    match measure {
        Measure::PeakForce
        | Measure::EffectiveForce
        | Measure::MeanDynamicForce
        | Measure::Energy => {
            "The first hit depends on how heavy and how fast the leaf is and on what gives way between it and the person. Look whether it runs hard, jams or runs downhill; then lower the speed before this place or start the slow-down earlier; then fit an edge that gives way far enough."
        }
        Measure::TimeAboveStatic
        | Measure::DynamicPeriod
        | Measure::ReversalTime
        | Measure::OverTravel => {
            "The drive notices the hit too late, or takes too long to stop and turn back. Look at the mechanics and the brake, then at an edge that signals earlier, then at the drive's settings for stopping and reversing."
        }
        Measure::StaticForce => {
            "After the first hit the drive goes on pushing. Look whether it stops and turns back at all, then at its force setting near this place and at a leaf that runs hard, which forces that setting up."
        }
        Measure::ResidualForce | Measure::TimeAboveResidual => {
            "A person would stay caught. Look whether the leaf moves clear after it turned back. Look first whether the gauge's zero moved: a drifting zero looks the same."
        }
        _ => "See the curve of this point below.",
    }
}
