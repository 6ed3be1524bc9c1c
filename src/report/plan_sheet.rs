//! The visit before it is made: the test points that are wanted, why, what is there already, and under which names to save.

use std::borrow::Cow;
use std::fmt::Write;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde::Serialize;

use super::State;
use super::cautions::cautions;
use super::elevation::{Elevation, Point, detail, overview};
use super::place::{gap_and_height, upright, view};
use super::sheet;
use super::style::{DRAWINGS, PAGE};
use crate::gate::names::PlacedLog;
use crate::gate::{GateFile, Pattern};
use crate::limits::{
    Direction, Hazard, LeftOut, Plan, PlanError, SourceKind, TestPoint, UnreadHazard,
    WantedBecause, unread_hazards,
};
use crate::words::{Said, Words};

/// A plan laid beside the logs that are there.
#[derive(Clone, Debug)]
pub struct PlanSheet<'a> {
    gate: &'a GateFile,
    profile_title: &'a str,
    plan: &'a Plan,
    open: Option<&'a PlanError>,
    points: Vec<Row>,
    hazards: Vec<UnreadHazard>,
}

/// A wanted test point.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Row {
    number: usize,
    test_point: TestPoint,
    why: WantedBecause,
    source: SourceKind,
    repeats_wanted: usize,
    /// Logs whose names say that they were taken here; none was opened.
    found: Vec<String>,
    /// Names to save the missing hits under; fewer than are missing where the pattern of names cannot say all of the hit.
    save_as: Vec<String>,
}

impl Row {
    fn missing(&self) -> usize {
        self.repeats_wanted.saturating_sub(self.found.len())
    }
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// A plan as one object.
pub struct Document<'a> {
    schema: &'static str,
    gate: &'a str,
    profile: &'a str,
    scheme: &'a str,
    reference: &'a str,
    hits_wanted: usize,
    hits_found: usize,
    points: Vec<PointLine<'a>>,
    notes: Vec<Said<&'a LeftOut>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    open: Option<Said<&'a PlanError>>,
    without_reading: Vec<HazardLine<'a>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct PointLine<'a> {
    #[serde(flatten)]
    row: &'a Row,
    text: String,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct HazardLine<'a> {
    code: &'a str,
    hazard: String,
    instead: Option<String>,
    source: SourceKind,
}

impl<'a> PlanSheet<'a> {
    /// The plan of a gate beside the logs that are there, which are known by their names alone. `open`: why more points may be
    /// wanted.
    #[must_use]
    pub fn new(
        gate: &'a GateFile,
        profile_title: &'a str,
        plan: &'a Plan,
        open: Option<&'a PlanError>,
        logs: &[PlacedLog],
    ) -> Self {
        let pattern = gate
            .logs
            .as_ref()
            .and_then(|logs| Pattern::parse(logs.names.as_deref()?).ok());
        let rows = plan.points.iter().enumerate().map(|(index, wanted)| {
            let here: Vec<&PlacedLog> = logs
                .iter()
                .filter(|log| log.point == wanted.point)
                .collect();
            let taken = |repeat: &u32| here.iter().any(|log| log.repeat == *repeat);
            let missing = wanted.repeats.saturating_sub(here.len());
            let free = (1..).filter(|repeat| !taken(repeat)).take(missing);
            Row {
                number: index + 1,
                test_point: wanted.point,
                why: wanted.why,
                source: wanted.source,
                repeats_wanted: wanted.repeats,
                save_as: free
                    .filter_map(|repeat| pattern.as_ref()?.name_of(&wanted.point, repeat))
                    .collect(),
                found: here.iter().map(|log| log.file.clone()).collect(),
            }
        });
        Self {
            gate,
            profile_title,
            plan,
            open,
            points: rows.collect(),
            hazards: unread_hazards(gate.gate.motion),
        }
    }

    /// Hits that are wanted.
    #[must_use]
    pub fn wanted(&self) -> usize {
        self.points.iter().map(|row| row.repeats_wanted).sum()
    }

    /// Hits that are still to be made.
    #[must_use]
    pub fn missing(&self) -> usize {
        self.points.iter().map(Row::missing).sum()
    }

    /// The names under which the missing hits are to be saved, one a line.
    #[must_use]
    pub fn names(&self) -> String {
        let names = self.points.iter().flat_map(|row| &row.save_as);
        names.map(|name| format!("{name}\n")).collect()
    }

    /// The plan as one JSON object, `relent.plan/1`.
    ///
    /// # Errors
    /// Those of the JSON writer; none is known.
    pub fn json(&self, words: &Words) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(&Document {
            schema: "relent.plan/1",
            gate: &self.gate.gate.name,
            profile: self.profile_title,
            scheme: &self.plan.scheme,
            reference: &self.plan.reference,
            hits_wanted: self.wanted(),
            hits_found: self.wanted() - self.missing(),
            points: self
                .points
                .iter()
                .map(|row| PointLine {
                    row,
                    text: words.fact(&row.why),
                })
                .collect(),
            notes: self.plan.notes.iter().map(|it| words.said(it)).collect(),
            open: self.open.map(|it| words.said(it)),
            without_reading: self
                .hazards
                .iter()
                .map(|one| HazardLine {
                    code: &one.name,
                    hazard: words.fact(one),
                    instead: words.part(one, "instead"),
                    source: one.source,
                })
                .collect(),
        })
    }

    fn sentence(&self, words: &Words) -> String {
        let fields = [
            ("gate", self.gate.gate.name.as_str().into()),
            ("hits", self.wanted().into()),
            ("points", self.points.len().into()),
            ("scheme", self.plan.scheme.as_str().into()),
            ("profile", self.profile_title.into()),
            ("missing", self.missing().into()),
        ];
        words.with("plan-sheet-sentence", &fields)
    }

    fn source(&self, words: &Words) -> String {
        let source = self.plan.reference.as_str().into();
        words.with("plan-sheet-source", &[("source", source)])
    }

    /// Where the places of a view are counted from.
    fn place_heading<'w>(&self, words: &'w Words) -> Cow<'w, str> {
        words.say(if upright(self.gate.gate.motion) {
            "plan-sheet-column-from-left"
        } else {
            "plan-sheet-column-height"
        })
    }

    /// The plan as lines for a terminal.
    #[must_use]
    pub fn terminal(&self, words: &Words) -> String {
        let mut text = format!("{}\n{}\n", self.sentence(words), self.source(words));
        for ((direction, hazard), rows) in self.views() {
            let _ = writeln!(text, "\n{}", view(words, direction, hazard));
            let _ = writeln!(
                text,
                "  {:>2}   {:>7}   {:>13}   {:>4}   {}",
                words.say("plan-sheet-column-number"),
                words.say("plan-sheet-column-gap"),
                self.place_heading(words),
                words.say("plan-sheet-column-hits"),
                words.say("plan-sheet-column-why"),
            );
            for row in rows {
                let _ = writeln!(
                    text,
                    "  {:>2}   {:>7}   {:>13}   {:>4}   {} ({})",
                    row.number,
                    row.test_point.gap_mm,
                    row.test_point.height_mm,
                    format!("{}/{}", row.found.len(), row.repeats_wanted),
                    words.fact(&row.why),
                    words.fact(&row.source),
                );
            }
        }
        let _ = writeln!(text, "\n{}", self.saving(words));
        for note in self.notes(words) {
            let note = [("note", note.into())];
            let _ = writeln!(text, "{}", words.with("plan-sheet-note", &note));
        }
        let _ = writeln!(text, "\n{}:", words.say("plan-sheet-hazards"));
        for one in &self.hazards {
            let _ = writeln!(
                text,
                "  - {}: {} ({})",
                words.fact(one),
                words.part(one, "instead").unwrap_or_default(),
                words.fact(&one.source)
            );
        }
        text
    }

    /// What was left out, and why more points may be wanted.
    fn notes(&self, words: &Words) -> Vec<String> {
        let mut notes = words.facts(&self.plan.notes);
        notes.extend(self.open.map(|why| words.fact(why)));
        notes
    }

    fn saving(&self, words: &Words) -> String {
        let names: usize = self.points.iter().map(|row| row.save_as.len()).sum();
        let first = self.points.iter().flat_map(|row| &row.save_as).next();
        match first {
            _ if self.missing() == 0 => words.say("plan-sheet-all-there").into_owned(),
            Some(first) if names == self.missing() => words.with(
                "plan-sheet-save-as",
                &[("first", first.as_str().into()), ("names", names.into())],
            ),
            Some(_) | None => words.say("plan-sheet-no-pattern").into_owned(),
        }
    }

    /// The rows by direction and part.
    fn views(&self) -> Vec<((Direction, Hazard), Vec<&Row>)> {
        let mut views: Vec<((Direction, Hazard), Vec<&Row>)> = Vec::new();
        for row in &self.points {
            let key = (row.test_point.direction, row.test_point.hazard);
            match views.iter_mut().find(|(known, _)| *known == key) {
                Some((_, rows)) => rows.push(row),
                None => views.push((key, vec![row])),
            }
        }
        views
    }

    /// The drawing of a view: empty marks with the numbers of the table.
    fn elevation(
        &self,
        words: &Words,
        (direction, hazard): (Direction, Hazard),
        rows: &[&Row],
    ) -> Elevation {
        let gate = &self.gate.gate;
        let size = |size: Option<crate::quantity::Millimetre>| {
            size.map_or(0.0, crate::quantity::Millimetre::get)
        };
        Elevation {
            title: view(words, direction, hazard),
            statement: words.with("plan-sheet-drawing", &[("points", rows.len().into())]),
            motion: gate.motion,
            direction,
            opening_mm: size(gate.clear_opening.or(gate.leaf_width)),
            height_mm: size(gate.leaf_height),
            clearance_mm: size(gate.ground_clearance),
            points: rows
                .iter()
                .map(|row| Point {
                    gap_mm: row.test_point.gap_mm,
                    height_mm: row.test_point.height_mm,
                    state: State::NotTested,
                    share: None,
                    number: row.number.to_string(),
                })
                .collect(),
        }
    }

    /// The plan as a page to print and take along.
    #[must_use]
    pub fn html(&self, words: &Words) -> Vec<u8> {
        let gate = [("gate", self.gate.gate.name.as_str().into())];
        let page = html! {
            (DOCTYPE)
            html lang=(words.language().tag()) {
                head {
                    (sheet::closed_to_the_net())
                    title { (words.with("plan-sheet-tab", &gate)) }
                    style { (PreEscaped(PAGE)) (PreEscaped(DRAWINGS)) (PreEscaped(SHEET)) }
                }
                body {
                    header {
                        h1 { (words.with("plan-sheet-title", &gate)) }
                        p.sentence { (self.sentence(words)) }
                        p.soft { (self.source(words)) }
                    }
                    main {
                        @for (key, rows) in self.views() { (self.drawn(words, key, &rows)) }
                        (self.remarks(words))
                    }
                }
            }
        };
        page.into_string().into_bytes()
    }

    fn drawn(&self, words: &Words, key: (Direction, Hazard), rows: &[&Row]) -> Markup {
        let elevation = self.elevation(words, key, rows);
        let motion = self.gate.gate.motion;
        let most = rows.iter().map(|row| row.repeats_wanted).max().unwrap_or(0);
        html! {
            section {
                h2 { (elevation.title) }
                figure.elevation {
                    div.views { (overview(words, &elevation)) (detail(words, &elevation)) }
                    figcaption { (words.say("plan-sheet-caption")) }
                }
                table.sheet {
                    thead { tr {
                        th.number scope="col" { (words.say("plan-sheet-column-number")) }
                        th scope="col" { (words.say("plan-sheet-column-where")) }
                        @for hit in 1..=most { th scope="col" { (words.with("plan-sheet-column-hit", &[("hit", hit.into())])) } }
                        th scope="col" { (words.say("plan-sheet-column-save-as")) }
                    } }
                    tbody { @for row in rows { tr {
                        td.number { (row.number) }
                        td { (gap_and_height(words, &row.test_point, motion)) br; span.soft { (words.fact(&row.why)) " (" (words.fact(&row.source)) ")" } }
                        @for hit in 0..most {
                            td.blank { @if hit < row.found.len() { (words.say("plan-sheet-there")) } @else if hit >= row.repeats_wanted { "–" } }
                        }
                        td.names { @for name in &row.save_as { (name) br; } }
                    } } }
                }
            }
        }
    }

    fn remarks(&self, words: &Words) -> Markup {
        let hazard_columns = [
            "plan-sheet-column-hazard",
            "plan-sheet-column-instead",
            "plan-sheet-column-found",
        ];
        html! {
            @let notes = self.notes(words);
            @if !notes.is_empty() {
                section { h2 { (words.say("plan-sheet-notes")) } ul { @for note in notes { li { (note) "." } } } }
            }
            section {
                h2 { (words.say("plan-sheet-hazards")) }
                table.sheet {
                    thead { tr { @for column in hazard_columns { th scope="col" { (words.say(column)) } } } }
                    tbody { @for one in &self.hazards { tr { td { (words.fact(one)) } td { (words.part(one, "instead").unwrap_or_default()) span.soft { " (" (words.fact(&one.source)) ")" } } td.wide-blank {} } } }
                }
            }
            section.together {
                h2 { (words.say("plan-sheet-site")) }
                table.sheet { tbody { @for what in SITE { tr { th scope="row" { (words.say(what)) } td.wide-blank {} } } } }
                ul { @for caution in cautions(words) { li { (caution) } } }
                p { (words.say("plan-sheet-own-notes")) }
                div.notes {}
            }
        }
    }
}

/// What belongs in the record of a visit besides the hits.
const SITE: [&str; 8] = [
    "plan-sheet-site-time",
    "plan-sheet-site-tester",
    "plan-sheet-site-gauge",
    "plan-sheet-site-support",
    "plan-sheet-site-weather",
    "plan-sheet-site-supply",
    "plan-sheet-site-drive",
    "plan-sheet-site-changes",
];

/// What the sheet adds to the style of the report.
pub(super) const SHEET: &str = include_str!("plan_sheet.css");
