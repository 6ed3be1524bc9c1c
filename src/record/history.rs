//! A gate over its visits: the same test points on one axis of time, what was changed between the visits, and what drifts.

mod change;
mod series;
mod trend;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::compare::Difference;
use crate::fact::Fact;
use crate::gate::GateFile;
use crate::limitation::Print;
use crate::limits::VisitKind;
use crate::verdict::{Finding, Verdict};
use crate::visit::Assessment;

pub use change::{Cause, Change};
pub use series::{Reading, Series, Stretch};
pub use trend::{NoTrend, Outlook, Reached, Trend, trend, years};

/// What a history keeps of an assessment.
#[derive(Clone, Debug)]
pub struct Seen {
    folder: String,
    gate: GateFile,
    date: Date,
    verdict: Verdict,
    findings: Vec<Finding>,
    /// What each log that was read is compared by, with its name.
    prints: Vec<(String, Print)>,
}

impl Seen {
    /// The visit of an assessment; `None` without the day of the visit, which has no place on an axis of time.
    #[must_use]
    pub fn of(folder: &str, assessment: &Assessment) -> Option<Self> {
        Some(Self {
            folder: folder.to_owned(),
            date: assessment.gate.visit.as_ref()?.date,
            gate: assessment.gate.clone(),
            verdict: assessment.overall().verdict,
            findings: assessment.findings.clone(),
            prints: assessment
                .hits
                .iter()
                .filter_map(|hit| Some((hit.file.clone(), hit.print.clone()?)))
                .collect(),
        })
    }
}

/// A visit, in the order of the days.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Visit {
    /// Its folder.
    pub folder: String,
    /// Its day.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub date: Date,
    /// Why the gate was tested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<VisitKind>,
    /// Temperature at the gate in °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Serial number of the gauge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gauge: Option<String>,
    /// Firmware of the drive.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub firmware: Option<String>,
    /// The verdict on the whole visit.
    pub verdict: Verdict,
}

/// A gate over its visits.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// Name of the gate, as the last visit writes it.
    pub gate: String,
    /// Where it stands.
    pub place: Option<String>,
    /// The visits in the order of their days.
    pub visits: Vec<Visit>,
    /// What was changed, in the order of the days; no trend is drawn across one.
    pub changes: Vec<Change>,
    /// One limit at one test point each, those nearest to their limit at the last reading first.
    pub series: Vec<Series>,
    /// What a reader must know of the whole.
    pub remarks: Vec<Remark>,
}

/// What a reader must know of a history.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Remark {
    /// Only one of two visits tells a thing; it is taken as unchanged.
    NotKnownWhetherChanged {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        from: Date,
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        to: Date,
        difference: Difference,
    },
    /// The visits were made with different gauges.
    SeveralGauges { gauges: Vec<String> },
    /// Visits that do not name the serial number of the gauge.
    GaugeNotNamed { without: usize, visits: usize },
    /// A copy of a log of an earlier visit.
    CopiedLog {
        log: String,
        folder: String,
        of_log: String,
        of_folder: String,
    },
    /// A gate file that does not give the day of the visit.
    WithoutDay { folder: String },
    /// A gate file that could not be opened.
    NotOpened { folder: String, complaint: String },
}

impl Fact for Remark {
    const FAMILY: &'static str = "history-remark";
}

/// The history of a gate from its visits; `None` without any.
#[must_use]
pub fn history(mut seen: Vec<Seen>) -> Option<History> {
    seen.sort_by(|one, other| (one.date, &one.folder).cmp(&(other.date, &other.folder)));
    let gates: Vec<(Date, &GateFile)> = seen.iter().map(|one| (one.date, &one.gate)).collect();
    let (changes, mut remarks) = change::between(&gates);
    remarks.extend(gauges(&seen));
    let copies = copies(&seen);
    remarks.extend(copies.iter().map(|copy| copy.remark(&seen)));
    let last = &seen.last()?.gate.gate;
    Some(History {
        gate: last.name.clone(),
        place: last.place.clone(),
        visits: seen.iter().map(visit).collect(),
        series: series::of(&seen, &changes, &copies),
        changes,
        remarks,
    })
}

/// A copy of a log of an earlier visit: no new measurement.
struct CopiedLog {
    visit: usize,
    log: String,
    of: (usize, String),
}

impl CopiedLog {
    fn remark(&self, seen: &[Seen]) -> Remark {
        Remark::CopiedLog {
            log: self.log.clone(),
            folder: seen[self.visit].folder.clone(),
            of_log: self.of.1.clone(),
            of_folder: seen[self.of.0].folder.clone(),
        }
    }
}

fn copies(seen: &[Seen]) -> Vec<CopiedLog> {
    let mut copies = Vec::new();
    for (visit, one) in seen.iter().enumerate() {
        for (log, print) in &one.prints {
            let mut earlier = seen[..visit].iter().enumerate();
            let of = earlier.find_map(|(visit, old)| {
                let mut logs = old.prints.iter();
                let (log, _) = logs.find(|(_, other)| print.alike(other).is_some())?;
                Some((visit, log.clone()))
            });
            copies.extend(of.map(|of| CopiedLog {
                visit,
                log: log.clone(),
                of,
            }));
        }
    }
    copies
}

fn visit(seen: &Seen) -> Visit {
    let section = seen.gate.visit.as_ref();
    Visit {
        folder: seen.folder.clone(),
        date: seen.date,
        kind: section.map(|visit| visit.kind),
        temperature_c: section.and_then(|visit| visit.temperature_c),
        gauge: gauge(seen).map(str::to_owned),
        firmware: seen
            .gate
            .drive
            .as_ref()
            .and_then(|drive| drive.firmware.clone()),
        verdict: seen.verdict,
    }
}

fn gauge(seen: &Seen) -> Option<&str> {
    seen.gate.gauge.as_ref()?.serial.as_deref()
}

/// No silent comparison across gauges.
fn gauges(seen: &[Seen]) -> Option<Remark> {
    let mut gauges: Vec<String> = seen.iter().filter_map(gauge).map(str::to_owned).collect();
    let without = seen.len() - gauges.len();
    gauges.sort_unstable();
    gauges.dedup();
    if gauges.len() > 1 {
        return Some(Remark::SeveralGauges { gauges });
    }
    (without > 0).then_some(Remark::GaugeNotNamed {
        without,
        visits: seen.len(),
    })
}
