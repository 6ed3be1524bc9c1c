//! The page of a comparison: one file that needs neither network nor script, and prints in black and white.

use maud::{DOCTYPE, Markup, html};

use super::distribution::distribution;
use super::forest::{Row, Strength, forest};
use super::overlay::overlay;
use super::words::{claim_words, margin_words, numbers, probability, scale, sentence, summary};
use super::{Against, Comparison, outcome_words};
use crate::compare::{
    Arrangement, Bearing, Change, Claim, Effect, MeasureStudy, Outcome, Series, Study, Terms,
};
use crate::report::cautions::cautions;
use crate::report::page::scrolling;
use crate::report::sentence::capital;
use crate::report::sheet::{self, RecordDigest};
use crate::report::style::{DRAWINGS, PAGE};
use crate::words::{Language, Words};

const OWN: &str = include_str!("comparison.css");

/// The comparison as a page of HTML; `digest` is the SHA-256 of `compare.json`, in hexadecimal.
#[must_use]
pub fn compare_page(comparison: &Comparison, digest: &str) -> Vec<u8> {
    let record = RecordDigest::comparison(digest);
    let gate = comparison
        .series
        .first()
        .map_or("", |it| &it.assessment.gate.gate.name);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            (sheet::head(&format!("{gate} · comparison"), &[PAGE, DRAWINGS, OWN, &record.foot()]))
            body {
                header {
                    h1 { "Comparison on " (gate) }
                    @for against in &comparison.against { p.sentence { (outcome_words(&against.study)) "." } }
                    p.caution { "These hits say how hard and for how long the leaf met a gauge at the points listed. They are not proof that a gate is free of danger; local codes and licensed practice come first." }
                }
                main {
                    @if comparison.against.len() > 1 { (in_order(comparison)) }
                    @for against in &comparison.against { (one(comparison, against)) }
                    (method(comparison))
                    (files(comparison))
                }
                (record.closing(Words::of(Language::English)))
            }
        }
    };
    page.into_string().into_bytes()
}

fn section(title: &str, content: &Markup) -> Markup {
    html! { section aria-label=(title) { h2 { (title) } (content) } }
}

/// All versions in their order, each against the first.
fn in_order(comparison: &Comparison) -> Markup {
    let studies: Vec<&Study> = comparison.against.iter().map(|it| &it.study).collect();
    let Some(first) = studies.first() else {
        return html! {};
    };
    let pooled = |study: &'_ MeasureStudy| match &study.pooled {
        Ok(pooled) => format!(
            "{} {}",
            numbers(&pooled.effect, study.measure),
            scale(study.measure).1
        ),
        Err(_) => "not compared".to_owned(),
    };
    let plots = first.measures.iter().enumerate().map(|(place, measure)| {
        let rows: Vec<Row<'_>> = studies
            .iter()
            .filter_map(|study| Some((study, study.measures.get(place)?)))
            .map(|(study, it)| Row {
                name: study.after.clone(),
                effect: it
                    .pooled
                    .as_ref()
                    .map(|it| &it.effect)
                    .map_err(String::as_str),
                strong: Strength::Plain,
            })
            .collect();
        forest(
            &format!("{} against {}", measure.measure, first.before),
            measure.measure,
            measure.margin,
            &rows,
        )
    });
    section(
        "The versions in order",
        &html! {
            p { "Each version against " strong { (first.before) } ", over all common test points. A mean over the points can hide a worse one: the sections below show each." }
            (scrolling("The versions in order", &html! {
                table {
                    thead { tr { th scope="col" { "measure" } @for study in &studies { th.number scope="col" { (study.after) } } } }
                    tbody {
                        @for (place, measure) in first.measures.iter().enumerate() {
                            tr {
                                th scope="row" { (measure.measure) }
                                @for study in &studies { td.number { @if let Some(it) = study.measures.get(place) { (pooled(it)) } } }
                            }
                        }
                    }
                }
            }))
            @for (measure, plot) in first.measures.iter().zip(plots) {
                h3 { (capital(&Words::of(Language::English).fact(&measure.measure))) }
                figure { (scrolling(&Words::of(Language::English).fact(&measure.measure), &html! { div.wide { (plot) } })) }
            }
        },
    )
}

/// One version against the reference.
fn one(comparison: &Comparison, against: &Against) -> Markup {
    let study = &against.study;
    let title = format!("{} against {}", study.after, study.before);
    let named = |name: &str| comparison.series.iter().find(|it| it.name == name);
    section(
        &title,
        &html! {
            ul { @for measure in &study.measures { li { (in_words(measure)) } } }
            (standing(study))
            h3 { "What else differs" }
            (conditions(comparison, against))
            h3 { "Effects, point by point" }
            p.key { "Dot: one test point. Diamond: all points at once. Line: interval of the terms, for this one question. Grey: worse by the margin or more." }
            @for measure in &study.measures { (effects(measure)) }
            @if let (Some(before), Some(after)) = (named(&study.before), named(&study.after)) { (curves(before, after)) }
            h3 { "Distribution of each measure" }
            div.views { @for measure in &study.measures { @if let Some(drawn) = distribution(measure, &study.before, &study.after) { figure { (drawn) } } } }
            p.key { "The share of hits at or under each value, over all common test points. Points with different levels make the steps." }
            (left_out(study))
        },
    )
}

fn in_words(study: &MeasureStudy) -> Markup {
    let worse = study.points.iter().filter(|point| {
        let shown = |effect: &Effect| {
            effect.change() == Change::Higher || effect.claim() == Some(Claim::WorseBeyond)
        };
        point.effect.as_ref().is_ok_and(shown)
    });
    html! {
        @match &study.pooled {
            Ok(pooled) => {
                (capital(&summary(study, &pooled.effect))) "."
                @if let Some(it) = &pooled.additive.interaction { @if pooled.points_differ() { " " strong { "The test points differ in this" } " (p " (probability(it.p)) "): read them one by one." } }
            }
            Err(why) => { (capital(&Words::of(Language::English).fact(&study.measure))) ": not compared: " (why) "." }
        }
        @for point in worse {
            @if let Ok(effect) = &point.effect { " At " strong { (point.point) } ": " (sentence(effect, study.measure)) "." }
        }
    }
}

fn standing(study: &Study) -> Markup {
    html! {
        @if let Outcome::Undecided(reasons) = study.outcome() {
            h3 { "Undecided because" }
            ul { @for reason in &reasons { li { (reason) } } }
        }
        @if let Outcome::WorseBeyond(places) = study.outcome() {
            h3 { "Worse by more than the margin" }
            ul { @for place in &places { li { strong { (place) } } } }
        }
        @if !study.unmatched.is_empty() {
            h3 { "Test points without a counterpart" }
            ul { @for it in &study.unmatched { li { (it.point) ": no hit in " (it.missing_in) } } }
        }
    }
}

fn conditions(comparison: &Comparison, against: &Against) -> Markup {
    html! {
        @if against.differences.is_empty() { p { "Nothing that the gate files tell: gate, drive, settings, edge, gauge and temperature are given alike for both." } }
        @else {
            table {
                thead { tr { th scope="col" { "what" } th scope="col" { (against.study.before) } th scope="col" { (against.study.after) } th scope="col" { "what follows" } } }
                tbody {
                    @for it in &against.differences {
                        tr {
                            th scope="row" { (it.what) }
                            td { (it.before.as_deref().unwrap_or("not known")) }
                            td { (it.after.as_deref().unwrap_or("not known")) }
                            td { @match it.bearing {
                                Bearing::Named => "named",
                                Bearing::MustBeAccepted => @if comparison.accepted.contains(&it.aspect) { strong { "accepted: the effect may come from it" } } @else { "not accepted" },
                                Bearing::Forbids => "nothing can be compared",
                            } }
                        }
                    }
                }
            }
        }
    }
}

fn effects(study: &MeasureStudy) -> Markup {
    let mut rows: Vec<Row<'_>> = study
        .points
        .iter()
        .map(|it| Row {
            name: it.point.to_string(),
            effect: it.effect.as_ref().map_err(String::as_str),
            strong: Strength::Plain,
        })
        .collect();
    rows.push(Row {
        name: "all test points".to_owned(),
        effect: study
            .pooled
            .as_ref()
            .map(|it| &it.effect)
            .map_err(String::as_str),
        strong: Strength::Strong,
    });
    let title = capital(&Words::of(Language::English).fact(&study.measure));
    html! {
        section.point aria-label=(title) {
            h4 { (title) @if let Some(margin) = study.margin { ", margin " (margin_words(margin, study.measure)) } }
            figure { (scrolling(&title, &html! { div.wide { (forest(&title, study.measure, study.margin, &rows)) } })) }
            (scrolling(&format!("{title}: numbers"), &table(study)))
        }
    }
}

fn table(study: &MeasureStudy) -> Markup {
    let (factor, unit) = scale(study.measure);
    html! {
        table {
            thead { tr {
                th scope="col" { "where" } th.number scope="col" { "hits" }
                th.number scope="col" { "difference, " (unit) } th.number scope="col" { "median shift, " (unit) }
                th.number scope="col" { "p, all counted" } th.number scope="col" { "exact p" } th scope="col" { "margin" }
            } }
            tbody {
                @for point in &study.points {
                    tr {
                        th scope="row" { (point.point) }
                        td.number { (point.before.kept.len()) " / " (point.after.kept.len()) }
                        @match &point.effect {
                            Ok(effect) => {
                                td.number { (numbers(effect, study.measure)) }
                                td.number { @match &effect.hodges_lehmann { Some(it) => (format!("{:.1}", it.estimate * factor).replace('-', "−")), None => "–" } }
                                (p_cells(effect, effect.p_ranks, study))
                            }
                            Err(why) => { td colspan="5" { "not compared: " (why) } }
                        }
                    }
                }
                @if let Ok(pooled) = &study.pooled {
                    tr.strong {
                        th scope="row" { "all test points" } td.number { (pooled.points) " points" }
                        td.number { (numbers(&pooled.effect, study.measure)) } td.number { "–" }
                        (p_cells(&pooled.effect, pooled.permutation.as_ref().ok().map(|it| it.p_two_sided), study))
                    }
                }
            }
        }
    }
}

fn p_cells(effect: &Effect, exact: Option<f64>, study: &MeasureStudy) -> Markup {
    html! {
        td.number { (probability(effect.p_adjusted)) }
        td.number { @match exact { Some(p) => (probability(p)), None => "–" } }
        td { (claim_words(effect, study.measure).unwrap_or_else(|| "no margin".to_owned())) }
    }
}

fn curves(before: &Series, after: &Series) -> Markup {
    let common = before.points();
    let points = common.iter().filter(|point| after.points().contains(point));
    html! {
        h3 { "Force over time" }
        @for point in points {
            @if let Some(drawn) = overlay(before, after, point) {
                section.point aria-label=(point) {
                    h4 { (capital(&point.to_string())) }
                    figure { (scrolling(&point.to_string(), &html! { div.wide { (drawn) } })) }
                }
            }
        }
    }
}

fn left_out(study: &Study) -> Markup {
    let rows: Vec<_> = study
        .measures
        .iter()
        .flat_map(|measure| {
            measure.points.iter().flat_map(move |point| {
                let before = point
                    .before
                    .left_out
                    .iter()
                    .map(move |it| (measure, point, &study.before, it));
                let after = point
                    .after
                    .left_out
                    .iter()
                    .map(move |it| (measure, point, &study.after, it));
                before.chain(after)
            })
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            h3 { "Readings left out" }
            p { "A lower bound is not a value, and a reading that proves nothing is none. They did not enter, and \"not worse\" is not said where one is missing." }
            ul { @for (measure, point, series, it) in rows { li { (series) ", " (it.log) " (" (point.point) "), " (measure.measure) ": " (Words::of(Language::English).fact(&it.why)) } } }
        }
    }
}

fn method(comparison: &Comparison) -> Markup {
    let Some(terms) = comparison.against.first().map(|it| &it.study.terms) else {
        return html! {};
    };
    section(
        "How it was compared",
        &html! {
            p { "Differences are after − before; a greater value is worse. " (arrangement(terms)) }
            p { "Over all points: the effect common to them in the additive model with the point as block; exact p from exchanging the versions within each point (seed " (terms.counting.seed) ")." }
            p { "Intervals hold the true difference in " (terms.confidence.level() * 100.0) " of 100 such questions, each for itself. \"Shown\" and what is said about a margin count all questions of their kind together (Holm, over measures and points). \"Not worse at any test point\" needs every single one, so it needs no such correction. A margin must be fixed before the hits are made." }
            p { strong { "A difference that is not shown is not shown to be nothing." } " Only a margin and an interval inside it can say that a change is small." }
            ul { @for caution in cautions(Words::of(Language::English)) { li { (caution) } } }
        },
    )
}

const fn arrangement(terms: &Terms) -> &'static str {
    match terms.arrangement {
        Arrangement::Separate => {
            "At a point: Welch's interval; beside it the shift of Hodges and Lehmann and the exact rank sum test."
        }
        Arrangement::Paired => {
            "Hits were paired by their number: the paired t interval; beside it the centre of Hodges and Lehmann and the exact signed rank test."
        }
    }
}

fn files(comparison: &Comparison) -> Markup {
    section(
        "Files",
        &html! {
            @for series in &comparison.series {
                h3 { (series.name) }
                ul.plain { @for hit in &series.assessment.hits { li { (hit.file) " " span.digest { (hit.sha256) } } } }
            }
        },
    )
}
