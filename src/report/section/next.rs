//! What to do next: points over, undecided and missing, each with its reason in words for the owner of the gate.

use maud::{Markup, html};
use serde::Serialize;

use crate::fact::Fact;
use crate::limits::{PlanError, TestPoint};
use crate::measure::Measure;
use crate::report::State;
use crate::report::page::{Subject, state_words};
use crate::report::place::{
    Together, gap_and_height, joined, printed_or_none, state, together, view,
};
use crate::report::sentence::capital;
use crate::verdict::{Finding, MissingPoint};
use crate::visit::Planned;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    let findings: Vec<&Finding> = subject
        .assessment
        .findings
        .iter()
        .filter(|finding| finding.counts())
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
            p { (words.with("report-nothing-assessed-by", &[("profile", subject.assessment.profile.name.as_str().into())])) }
        } @else if findings.iter().all(|finding| state(finding) == State::Within) && subject.assessment.missing.is_empty() {
            p { (words.say("report-all-within")) }
            p { (words.say("report-inspect-hazards")) }
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
    let words = subject.words;
    html! {
        @if !findings.is_empty() {
            h3 { (state_words(words, State::Over, Some(1.0))) }
            p.caution { (words.say("report-until-corrected")) }
        }
        @for measure in measures {
            @let failed = Failed::of(measure);
            h4 { (capital(&words.fact(&failed))) }
            p { (words.part(&failed, "help").unwrap_or_default()) }
            ul {
                @for finding in findings.iter().filter(|finding| finding.limit.measure == measure) {
                    li { (over_by(subject, finding)) }
                }
            }
        }
        @if !findings.is_empty() {
            p { (words.say("report-order-of-changes")) }
        }
    }
}

fn undecided(subject: &Subject<'_>, findings: &[&Finding]) -> Markup {
    let words = subject.words;
    let because = |group: &Together<'_>| {
        let told = words.with(
            "report-undecided-because",
            &[
                ("values", capital(&group.values(words)).into()),
                ("reasons", group.because(words).into()),
            ],
        );
        let told: Vec<String> = std::iter::once(told).chain(group.helps(words)).collect();
        told.join(" ")
    };
    html! {
        @if !findings.is_empty() {
            h3 { (state_words(words, State::Undecided, Some(0.9))) }
            p { (words.say("report-undecided-means")) }
            @for here in findings.chunk_by(|a, b| a.test_point == b.test_point) {
                p.place { (place(subject, here[0])) }
                ul {
                    @for group in together(here) { li { (because(&group)) } }
                }
            }
        }
    }
}

fn missing(subject: &Subject<'_>) -> Markup {
    let missing = &subject.assessment.missing;
    let words = subject.words;
    let hits = |one: &MissingPoint| {
        words.with(
            "report-missing-hits",
            &[
                ("point", at(subject, &one.point).into()),
                ("found", one.found.into()),
                ("wanted", one.wanted.into()),
            ],
        )
    };
    html! {
        @if !missing.is_empty() {
            h3 { (state_words(words, State::NotTested, None)) }
            p { (words.say("report-missing")) }
            ul { @for one in missing { li { (hits(one)) } } }
        }
    }
}

/// Points that were tested and that no limit is known for, and why the wanted points are not known.
fn without_limit(subject: &Subject<'_>) -> Markup {
    let points = &subject.assessment.without_limit;
    let words = subject.words;
    let why = |why: &PlanError| [("why", words.fact(why).into())];
    html! {
        @if !points.is_empty() {
            h3 { (words.say("report-no-limit")) }
            ul { @for (point, why) in points { li { (at(subject, point)) ": " (words.fact(why)) "." } } }
        }
        @for note in subject.assessment.plan().into_iter().flat_map(|plan| &plan.notes) { p.soft { (capital(&words.fact(note))) "." } }
        @match &subject.assessment.planned {
            Planned::Known(_) => {},
            Planned::InPart(_, because) => p { (words.with("report-more-points-unknown", &why(because))) },
            Planned::NotPrescribed(because) => p { (words.with("report-points-not-prescribed", &why(because))) },
            Planned::Unknown(because) => p { (words.with("report-points-unknown", &why(because))) },
        }
    }
}

fn place(subject: &Subject<'_>, finding: &Finding) -> String {
    finding.test_point.as_ref().map_or_else(
        || subject.words.say("report-no-test-point").into_owned(),
        |point| at(subject, point),
    )
}

/// A test point with its direction and part.
fn at(subject: &Subject<'_>, point: &TestPoint) -> String {
    let (words, motion) = (subject.words, subject.assessment.gate.gate.motion);
    words.with(
        "report-at-point",
        &[
            ("view", view(words, point.direction, point.hazard).into()),
            ("point", gap_and_height(words, point, motion).into()),
        ],
    )
}

/// The value with its limit, and what else should be known of it.
fn over_by(subject: &Subject<'_>, finding: &Finding) -> String {
    let (words, limit) = (subject.words, &finding.limit);
    let value = words.with(
        "report-over-by",
        &[
            ("point", place(subject, finding).into()),
            ("value", printed_or_none(words, finding).into()),
            ("limit", limit.value.into()),
            ("unit", limit.unit().into()),
        ],
    );
    let mut told = vec![value];
    told.extend(words.facts(&finding.reasons()));
    told.extend(words.facts(&finding.remarks()));
    joined(&told) + "."
}

/// What went wrong where a limit was exceeded; its help is what to look at first.
#[derive(Serialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
enum Failed {
    Peak,
    Mean,
    Energy,
    Period,
    Reversal,
    Travel,
    Static,
    Residual,
    Other { measure: Measure },
}

impl Fact for Failed {
    const FAMILY: &'static str = "failed";
}

impl Failed {
    const fn of(measure: Measure) -> Self {
        match measure {
            Measure::PeakForce => Self::Peak,
            Measure::EffectiveForce | Measure::MeanDynamicForce => Self::Mean,
            Measure::Energy => Self::Energy,
            Measure::TimeAboveStatic | Measure::DynamicPeriod => Self::Period,
            Measure::ReversalTime => Self::Reversal,
            Measure::OverTravel => Self::Travel,
            Measure::StaticForce => Self::Static,
            Measure::ResidualForce | Measure::TimeAboveResidual => Self::Residual,
            measure => Self::Other { measure },
        }
    }
}
