//! What the rows of an archive amount to: gates by state, visits overdue, gauges whose calibration ran out, points that were
//! over on more than one visit.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use serde::Serialize;

use super::{AssessedGate, GateRow, GateState};
use crate::limits::TestPoint;
use crate::words::Words;

/// An archive, gathered folder by folder.
#[derive(Clone, Debug)]
pub struct Summary {
    /// The day that overdue and expired count from.
    pub today: Date,
    /// Every gate folder, in the order in which they came.
    pub gates: Vec<GateRow>,
    over: BTreeMap<Point, Offence>,
}

/// What tells one limit at one test point of one gate from another: gate, place, limit, test point.
type Point = (String, Option<String>, String, String);

/// A test point that was over the same limit on more than one visit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Offence {
    /// Name of the gate.
    pub gate: String,
    /// Where it stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Name of the limit.
    pub limit: String,
    /// The test point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub test_point: Option<TestPoint>,
    /// The visits, by their day, else by their folder.
    pub visits: BTreeSet<String>,
}

impl Offence {
    /// The visits, one after the other.
    #[must_use]
    pub fn listed(&self) -> String {
        self.visits
            .iter()
            .map(String::as_str)
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// A gauge whose last known calibration ran out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Gauge {
    /// Its serial number.
    pub serial: String,
    /// Last day on which any calibration in the archive holds.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub calibration_due: Date,
    /// Folders of the visits it was used on.
    pub folders: Vec<String>,
}

/// How many stand how.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[expect(missing_docs, reason = "the names say it")]
pub struct Totals {
    pub within: usize,
    pub undecided: usize,
    pub over: usize,
    pub not_assessed: usize,
}

/// A file that an archive wrote.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Output {
    /// Its name.
    pub file: String,
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
}

impl Totals {
    /// Counts states.
    #[must_use]
    pub fn of(states: impl Iterator<Item = GateState>) -> Self {
        let mut totals = Self::default();
        for state in states {
            *match state {
                GateState::Within => &mut totals.within,
                GateState::Undecided => &mut totals.undecided,
                GateState::Over => &mut totals.over,
                GateState::NotAssessed => &mut totals.not_assessed,
            } += 1;
        }
        totals
    }

    /// The states that occur with their counts, the worst first.
    #[must_use]
    pub fn text(&self, words: &Words) -> String {
        let there = GateState::ALL.into_iter();
        let there = there.filter(|state| self.count(*state) > 0);
        let counts = there.map(|state| {
            let fields = [
                ("count", self.count(state).into()),
                ("state", words.fact(&state).into()),
            ];
            words.with("archive-count", &fields)
        });
        words.list(&counts.collect::<Vec<_>>())
    }

    /// Those of one state.
    #[must_use]
    pub const fn count(&self, state: GateState) -> usize {
        match state {
            GateState::Within => self.within,
            GateState::Undecided => self.undecided,
            GateState::Over => self.over,
            GateState::NotAssessed => self.not_assessed,
        }
    }
}

impl Summary {
    /// An archive without a gate.
    #[must_use]
    pub const fn new(today: Date) -> Self {
        Self {
            today,
            gates: Vec::new(),
            over: BTreeMap::new(),
        }
    }

    /// Takes in a folder.
    pub fn add(&mut self, assessed: &AssessedGate) {
        let gate = &assessed.gate;
        let visit = gate
            .visit
            .visit_date
            .map_or_else(|| gate.folder.clone(), |day| day.to_string());
        if let Some((name, place)) = gate.identity() {
            for finding in assessed.findings.iter().filter(|one| one.is_over()) {
                let limit = finding.limit.clone().unwrap_or_default();
                let place = place.map(str::to_owned);
                let point = format!("{:?}", finding.test_point);
                let key = (name.to_owned(), place.clone(), limit.clone(), point);
                let offence = self.over.entry(key).or_insert_with(|| Offence {
                    gate: name.to_owned(),
                    place,
                    limit,
                    test_point: finding.test_point,
                    visits: BTreeSet::new(),
                });
                offence.visits.insert(visit.clone());
            }
        }
        self.gates.push(gate.clone());
    }

    /// Of every gate its last visit, and every folder whose gate is not known, in the order of the folders.
    #[must_use]
    pub fn latest(&self) -> Vec<&GateRow> {
        let mut last: BTreeMap<(&str, Option<&str>), &GateRow> = BTreeMap::new();
        for row in &self.gates {
            let Some(gate) = row.identity() else { continue };
            let kept = last.entry(gate).or_insert(row);
            if (row.visit.visit_date, &row.folder) > (kept.visit.visit_date, &kept.folder) {
                *kept = row;
            }
        }
        let is_last = |row: &&GateRow| {
            row.identity()
                .is_none_or(|gate| last.get(&gate).is_some_and(|it| it.folder == row.folder))
        };
        self.gates.iter().filter(is_last).collect()
    }

    /// Visits that were over a limit, to gates of which no later visit is over or within: nobody knows whether it was put right.
    #[must_use]
    pub fn unresolved(&self) -> Vec<&GateRow> {
        let settles = |row: &GateRow| matches!(row.state, GateState::Over | GateState::Within);
        let after = |row: &GateRow, over: &GateRow| {
            row.identity() == over.identity()
                && (row.visit.visit_date, &row.folder) > (over.visit.visit_date, &over.folder)
        };
        let mut of_gate: BTreeMap<_, Vec<&GateRow>> = BTreeMap::new();
        for row in &self.gates {
            if let Some(gate) = row.identity() {
                of_gate.entry(gate).or_default().push(row);
            }
        }
        let open = |over: &&GateRow| {
            let visits = over.identity().and_then(|gate| of_gate.get(&gate));
            let later: Vec<&&GateRow> = visits
                .into_iter()
                .flatten()
                .filter(|row| after(row, over))
                .collect();
            over.state == GateState::Over
                && !later.is_empty()
                && !later.iter().any(|row| settles(row))
        };
        self.gates.iter().filter(open).collect()
    }

    /// Gates whose last visit named a day for the next one that has passed, the longest overdue first.
    #[must_use]
    pub fn overdue(&self) -> Vec<(&GateRow, Date)> {
        let mut rows: Vec<(&GateRow, Date)> = self
            .latest()
            .into_iter()
            .filter_map(|row| Some((row, row.visit.next_due?)))
            .filter(|(_, due)| *due < self.today)
            .collect();
        rows.sort_by(|one, other| (one.1, &one.0.folder).cmp(&(other.1, &other.0.folder)));
        rows
    }

    /// Gauges of which no calibration in the archive holds today, the longest expired first.
    #[must_use]
    pub fn expired(&self) -> Vec<Gauge> {
        let mut gauges: BTreeMap<&str, (Option<Date>, Vec<String>)> = BTreeMap::new();
        for row in &self.gates {
            let Some(serial) = &row.visit.gauge_serial else {
                continue;
            };
            let gauge = gauges.entry(serial).or_default();
            gauge.0 = gauge.0.max(row.visit.calibration_due);
            gauge.1.push(row.folder.clone());
        }
        let mut expired: Vec<Gauge> = gauges
            .into_iter()
            .filter_map(|(serial, (due, folders))| {
                Some(Gauge {
                    serial: serial.to_owned(),
                    calibration_due: due.filter(|due| *due < self.today)?,
                    folders,
                })
            })
            .collect();
        expired.sort_by(|one, other| {
            (one.calibration_due, &one.serial).cmp(&(other.calibration_due, &other.serial))
        });
        expired
    }

    /// Test points that were over the same limit on more than one visit, those with most visits first.
    #[must_use]
    pub fn offences(&self) -> Vec<&Offence> {
        let mut found: Vec<&Offence> = self
            .over
            .values()
            .filter(|one| one.visits.len() > 1)
            .collect();
        found.sort_by_key(|one| std::cmp::Reverse(one.visits.len()));
        found
    }

    /// How many folders stand how.
    #[must_use]
    pub fn totals(&self) -> Totals {
        Totals::of(self.gates.iter().map(|row| row.state))
    }
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// `archive.json`.
pub struct Record<'a> {
    schema: &'static str,
    tool: &'static str,
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    as_of: Date,
    #[serde(skip_serializing_if = "Option::is_none")]
    profile: Option<&'a str>,
    folders: Totals,
    gates_as_of_their_last_visit: Totals,
    over_and_not_assessed_in_full_since: Vec<&'a str>,
    overdue: Vec<&'a str>,
    expired_gauges: Vec<Gauge>,
    over_on_several_visits: Vec<&'a Offence>,
    gates: &'a [GateRow],
    outputs: &'a [Output],
    cautions: &'a [String],
}

/// `archive.json`, `relent.archive/1`, with an end of line after it. `profile`: the one that replaced those of the gate files.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for an archive.
pub fn archive_json(
    summary: &Summary,
    profile: Option<&str>,
    outputs: &[Output],
    cautions: &[String],
) -> Result<Vec<u8>, serde_json::Error> {
    let overdue = summary.overdue();
    let record = Record {
        schema: "relent.archive/1",
        tool: concat!("relent ", env!("CARGO_PKG_VERSION")),
        as_of: summary.today,
        profile,
        folders: summary.totals(),
        gates_as_of_their_last_visit: Totals::of(summary.latest().into_iter().map(|row| row.state)),
        over_and_not_assessed_in_full_since: summary
            .unresolved()
            .iter()
            .map(|row| row.folder.as_str())
            .collect(),
        overdue: overdue.iter().map(|(row, _)| row.folder.as_str()).collect(),
        expired_gauges: summary.expired(),
        over_on_several_visits: summary.offences(),
        gates: &summary.gates,
        outputs,
        cautions,
    };
    let mut bytes = serde_json::to_vec_pretty(&record)?;
    bytes.push(b'\n');
    Ok(bytes)
}
