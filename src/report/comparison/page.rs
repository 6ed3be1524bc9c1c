//! The page of a comparison: one file that needs neither network nor script, and prints in black and white.

use maud::{DOCTYPE, Markup, html};

use super::distribution::distribution;
use super::forest::{Row, Strength, forest};
use super::overlay::overlay;
use super::words::{
    claim_text, margin_text, not_compared, numbers, probability, scale, sentence, summary,
};
use super::{Against, Comparison, outcome_text};
use crate::compare::{
    Arrangement, Bearing, Change, Claim, Difference, Effect, LeftOut, MeasureStudy, Outcome,
    PointStudy, Pooled, Series, Spot, Study,
};
use crate::report::cautions::cautions;
use crate::report::page::scrolling;
use crate::report::sentence::capital;
use crate::report::sheet::{self, RecordDigest};
use crate::report::style::{DRAWINGS, PAGE};
use crate::words::Words;

const OWN: &str = include_str!("comparison.css");

/// The comparison as a page of HTML; `digest` is the SHA-256 of `compare.json`, in hexadecimal.
#[must_use]
pub fn compare_page(words: &Words, comparison: &Comparison, digest: &str) -> Vec<u8> {
    let record = RecordDigest::comparison(digest);
    let gate = comparison
        .series
        .first()
        .map_or("", |it| &it.assessment.gate.gate.name);
    let gate = [("gate", gate.into())];
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            (sheet::head(&words.with("comparison-tab", &gate), &[PAGE, DRAWINGS, OWN, &record.foot()]))
            body {
                header {
                    h1 { (words.with("comparison-title", &gate)) }
                    @for against in &comparison.against { p.sentence { (outcome_text(words, &against.study)) } }
                    p.caution { (words.say("comparison-standing")) }
                }
                main {
                    @if comparison.against.len() > 1 { (in_order(words, comparison)) }
                    @for against in &comparison.against { (one(words, comparison, against)) }
                    (method(words, comparison))
                    (files(words, comparison))
                }
                (record.closing(words))
            }
        }
    };
    page.into_string().into_bytes()
}

fn section(title: &str, content: &Markup) -> Markup {
    html! { section aria-label=(title) { h2 { (title) } (content) } }
}

/// All versions in their order, each against the first.
fn in_order(words: &Words, comparison: &Comparison) -> Markup {
    let studies: Vec<&Study> = comparison.against.iter().map(|it| &it.study).collect();
    let Some(first) = studies.first() else {
        return html! {};
    };
    let pooled = |study: &'_ MeasureStudy| match &study.pooled {
        Ok(pooled) => format!(
            "{} {}",
            numbers(words, &pooled.effect, study.measure),
            scale(study.measure).1
        ),
        Err(_) => words.say("comparison-not-compared").into_owned(),
    };
    let plots = first.measures.iter().enumerate().map(|(place, measure)| {
        let rows: Vec<Row<'_>> = studies
            .iter()
            .filter_map(|study| Some((study, study.measures.get(place)?)))
            .map(|(study, it)| Row {
                name: study.after.clone(),
                effect: it.pooled.as_ref().map(|it| &it.effect),
                strong: Strength::Plain,
            })
            .collect();
        forest(
            words,
            &against(words, &words.fact(&measure.measure), &first.before),
            measure.measure,
            measure.margin,
            &rows,
        )
    });
    let title = words.say("comparison-in-order");
    let reference = [("reference", first.before.as_str().into())];
    section(
        &title,
        &html! {
            p { (words.with("comparison-in-order-note", &reference)) }
            (scrolling(&title, &html! {
                table {
                    thead { tr { th scope="col" { (words.say("comparison-column-measure")) } @for study in &studies { th.number scope="col" { (study.after) } } } }
                    tbody {
                        @for (place, measure) in first.measures.iter().enumerate() {
                            tr {
                                th scope="row" { (words.fact(&measure.measure)) }
                                @for study in &studies { td.number { @if let Some(it) = study.measures.get(place) { (pooled(it)) } } }
                            }
                        }
                    }
                }
            }))
            @for (measure, plot) in first.measures.iter().zip(plots) {
                @let name = words.fact(&measure.measure);
                h3 { (capital(&name)) }
                figure { (scrolling(&name, &html! { div.wide { (plot) } })) }
            }
        },
    )
}

/// "… against …".
fn against(words: &Words, what: &str, reference: &str) -> String {
    let fields = [("what", what.into()), ("reference", reference.into())];
    words.with("comparison-against", &fields)
}

/// One version against the reference.
fn one(words: &Words, comparison: &Comparison, beside: &Against) -> Markup {
    let study = &beside.study;
    let names = (study.before.as_str(), study.after.as_str());
    let title = against(words, names.1, names.0);
    let named = |name: &str| comparison.series.iter().find(|it| it.name == name);
    section(
        &title,
        &html! {
            ul { @for measure in &study.measures { li { (in_words(words, measure)) } } }
            (standing(words, study))
            h3 { (words.say("comparison-differences")) }
            (conditions(words, comparison, beside))
            h3 { (words.say("comparison-effects")) }
            p.key { (words.say("comparison-effects-key")) }
            @for measure in &study.measures { (effects(words, measure)) }
            @if let (Some(before), Some(after)) = (named(&study.before), named(&study.after)) { (curves(words, before, after)) }
            h3 { (words.say("comparison-distributions")) }
            div.views { @for measure in &study.measures { @if let Some(drawn) = distribution(words, measure, names) { figure { (drawn) } } } }
            p.key { (words.say("comparison-distributions-key")) }
            (left_out(words, study))
        },
    )
}

fn in_words(words: &Words, study: &MeasureStudy) -> Markup {
    let worse = study.points.iter().filter(|point| {
        let shown = |effect: &Effect| {
            effect.change() == Change::Higher || effect.claim() == Some(Claim::WorseBeyond)
        };
        point.effect.as_ref().is_ok_and(shown)
    });
    html! {
        @match &study.pooled {
            Ok(pooled) => {
                (capital(&summary(words, study, &pooled.effect))) "."
                @if let Some(it) = &pooled.additive.interaction { @if pooled.points_differ() {
                    " " strong { (words.with("comparison-points-differ", &[("p", probability(words, it.p).into())])) }
                } }
            }
            Err(why) => { (capital(&not_compared(words, study.measure, why))) "." }
        }
        @for point in worse {
            @if let Ok(effect) = &point.effect { " " strong { (capital(&words.fact(&point.point))) } ": " (sentence(words, effect, study.measure)) "." }
        }
    }
}

fn standing(words: &Words, study: &Study) -> Markup {
    html! {
        @if let Outcome::Undecided { reasons } = study.outcome() {
            h3 { (words.say("comparison-undecided-because")) }
            ul { @for reason in words.facts(&reasons) { li { (reason) } } }
        }
        @if let Outcome::WorseBeyondMargin { places } = study.outcome() {
            h3 { (words.say("comparison-worse-where")) }
            ul { @for place in words.facts(&places) { li { strong { (place) } } } }
        }
        @if !study.unmatched.is_empty() {
            h3 { (words.say("comparison-unmatched")) }
            ul { @for it in words.facts(&study.unmatched) { li { (it) } } }
        }
    }
}

fn conditions(words: &Words, comparison: &Comparison, against: &Against) -> Markup {
    let part = |it: &Difference, part| words.part(it, part).unwrap_or_default();
    let bearing = |it: &Difference| match it.bearing {
        Bearing::Named => "comparison-named",
        Bearing::MustBeAccepted if comparison.accepted.contains(&it.aspect) => {
            "comparison-accepted"
        }
        Bearing::MustBeAccepted => "comparison-not-accepted",
        Bearing::Forbids => "comparison-forbids",
    };
    html! {
        @if against.differences.is_empty() { p { (words.say("comparison-no-differences")) } }
        @else {
            table {
                thead { tr {
                    th scope="col" { (words.say("comparison-column-thing")) }
                    th scope="col" { (against.study.before) } th scope="col" { (against.study.after) }
                    th scope="col" { (words.say("comparison-column-bearing")) }
                } }
                tbody {
                    @for it in &against.differences {
                        tr {
                            th scope="row" { (words.fact(&it.thing)) }
                            td { (part(it, "before")) }
                            td { (part(it, "after")) }
                            td { (words.say(bearing(it))) }
                        }
                    }
                }
            }
        }
    }
}

fn effects(words: &Words, study: &MeasureStudy) -> Markup {
    let mut rows: Vec<Row<'_>> = study
        .points
        .iter()
        .map(|it| Row {
            name: words.fact(&it.point),
            effect: it.effect.as_ref(),
            strong: Strength::Plain,
        })
        .collect();
    rows.push(Row {
        name: words.fact(&Spot::AllPoints),
        effect: study.pooled.as_ref().map(|it| &it.effect),
        strong: Strength::Strong,
    });
    let title = capital(&words.fact(&study.measure));
    let heading = study.margin.map(|margin| {
        let margin = margin_text(words, margin, study.measure);
        let fields = [
            ("measure", title.as_str().into()),
            ("margin", margin.into()),
        ];
        words.with("comparison-measure-with-margin", &fields)
    });
    let forest = forest(words, &title, study.measure, study.margin, &rows);
    html! {
        section.point aria-label=(title) {
            h4 { (heading.as_ref().unwrap_or(&title)) }
            figure { (scrolling(&title, &html! { div.wide { (forest) } })) }
            (scrolling(&words.with("comparison-numbers-of", &[("measure", title.as_str().into())]), &table(words, study)))
        }
    }
}

fn table(words: &Words, study: &MeasureStudy) -> Markup {
    let (factor, unit) = scale(study.measure);
    let unit = [("unit", unit.into())];
    let whole = |pooled: &Pooled| {
        let points = [("points", pooled.points.into())];
        words.with("comparison-points", &points)
    };
    html! {
        table {
            thead { tr {
                th scope="col" { (words.say("comparison-column-where")) }
                th.number scope="col" { (words.say("comparison-column-hits")) }
                th.number scope="col" { (words.with("comparison-column-difference", &unit)) }
                th.number scope="col" { (words.with("comparison-column-shift", &unit)) }
                th.number scope="col" { (words.say("comparison-column-p")) }
                th.number scope="col" { (words.say("comparison-column-exact-p")) }
                th scope="col" { (words.say("comparison-column-margin")) }
            } }
            tbody {
                @for point in &study.points {
                    tr {
                        th scope="row" { (words.fact(&point.point)) }
                        td.number { (point.before.kept.len()) " / " (point.after.kept.len()) }
                        @match &point.effect {
                            Ok(effect) => {
                                td.number { (numbers(words, effect, study.measure)) }
                                td.number { @match &effect.hodges_lehmann { Some(it) => (format!("{:.1}", it.estimate * factor).replace('-', "−")), None => "–" } }
                                (p_cells(words, effect, effect.p_ranks, study))
                            }
                            Err(why) => { td colspan="5" { (words.with("comparison-not-compared-because", &[("why", words.fact(why).into())])) } }
                        }
                    }
                }
                @if let Ok(pooled) = &study.pooled {
                    tr.strong {
                        th scope="row" { (words.fact(&Spot::AllPoints)) } td.number { (whole(pooled)) }
                        td.number { (numbers(words, &pooled.effect, study.measure)) } td.number { "–" }
                        (p_cells(words, &pooled.effect, pooled.permutation.as_ref().ok().map(|it| it.p_two_sided), study))
                    }
                }
            }
        }
    }
}

fn p_cells(words: &Words, effect: &Effect, exact: Option<f64>, study: &MeasureStudy) -> Markup {
    let claim = claim_text(words, effect, study.measure);
    html! {
        td.number { (probability(words, effect.p_adjusted)) }
        td.number { @match exact { Some(p) => (probability(words, p)), None => "–" } }
        td { @match claim { Some(claim) => (claim), None => (words.say("comparison-without-margin")) } }
    }
}

fn curves(words: &Words, before: &Series, after: &Series) -> Markup {
    let common = before.points();
    let points = common.iter().filter(|point| after.points().contains(point));
    html! {
        h3 { (words.say("comparison-curves")) }
        @for point in points {
            @if let Some(drawn) = overlay(words, before, after, point) {
                @let name = words.fact(point);
                section.point aria-label=(name) {
                    h4 { (capital(&name)) }
                    figure { (scrolling(&name, &html! { div.wide { (drawn) } })) }
                }
            }
        }
    }
}

fn left_out(words: &Words, study: &Study) -> Markup {
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
            h3 { (words.say("comparison-left-out")) }
            p { (words.say("comparison-left-out-note")) }
            ul { @for row in rows { li { (left_out_row(words, row)) } } }
        }
    }
}

fn left_out_row(
    words: &Words,
    (measure, point, series, it): (&MeasureStudy, &PointStudy, &String, &LeftOut),
) -> String {
    let fields = [
        ("series", series.as_str().into()),
        ("log", it.log.as_str().into()),
        ("test_point", words.fact(&point.point).into()),
        ("measure", words.fact(&measure.measure).into()),
        ("why", words.fact(&it.why).into()),
    ];
    words.with("comparison-left-out-row", &fields)
}

fn method(words: &Words, comparison: &Comparison) -> Markup {
    let Some(terms) = comparison.against.first().map(|it| &it.study.terms) else {
        return html! {};
    };
    let arrangement = match terms.arrangement {
        Arrangement::Separate => "comparison-method-separate",
        Arrangement::Paired => "comparison-method-paired",
    };
    let fields = [
        // A seed is a name, not a number.
        ("seed", terms.counting.seed.to_string().into()),
        ("percent", (terms.confidence.level() * 100.0).into()),
    ];
    section(
        &words.say("comparison-method"),
        &html! {
            p { (words.say("comparison-method-sign")) " " (words.say(arrangement)) }
            p { (words.with("comparison-method-pooled", &fields)) }
            p { (words.with("comparison-method-intervals", &fields)) }
            p { strong { (words.say("comparison-not-shown")) } }
            ul { @for caution in cautions(words) { li { (caution) } } }
        },
    )
}

fn files(words: &Words, comparison: &Comparison) -> Markup {
    section(
        &words.say("comparison-files"),
        &html! {
            @for series in &comparison.series {
                h3 { (series.name) }
                ul.plain { @for hit in &series.assessment.hits { li { (hit.file) " " span.digest { (hit.sha256) } } } }
            }
        },
    )
}
