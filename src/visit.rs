//! The pipeline on one page: gate file + profile + logs → assessment.
//!
//! Read every log, measure it, say what it cannot show, lay the hits on the wanted test points, hold every value against
//! every limit that applies there. Nothing is printed or decided here: the verdict follows from the findings. [`Visit`] is the way
//! in; only [`input`] and what opens a visit with it touch the disk.

mod current;
mod earlier;
mod error;
mod facts;
mod fault;
mod finding;
mod hits;
mod measurement;
mod open;
mod points;

pub mod input;
pub mod profile;
pub mod sources;
pub mod whole;

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::gate::names::{PlaceProblem, Placed, PlacedLog};
use crate::gate::{self, GateFile};
use crate::ingest::Answers;
use crate::limitation::{EarlierLog, Limitation};
use crate::limits::{LimitChange, NoLimit, Plan, Profile, TestPoint, UnreadHazard, unread_hazards};
use crate::measure::Measure;
use crate::quantity::Quantity;
use crate::readiness::Readiness;
use crate::verdict::{self, Finding, MissingPoint, OpenItem, Overall, Remark, Verdict};

pub use error::VisitError;
pub use fault::{Fault, caught};
pub use hits::Hit;
pub use measurement::{Measurement, NotMeasured, measure as measure_alone};
pub(crate) use open::entries;
pub use open::{Visit, gate_files, recipe};
pub use points::{Planned, plan, plan_for};

/// The name of the gate file in its folder.
pub const GATE_FILE: &str = "gate.toml";

/// A log and the hit it holds, as it comes in.
#[derive(Clone, Debug)]
pub struct Log {
    /// Its name, as the record will give it.
    pub file: String,
    /// Where the gauge was held.
    pub point: TestPoint,
    /// Which hit at that place, from 1.
    pub repeat: u32,
    /// Its bytes, or what the system says of why they cannot be read.
    pub bytes: Result<Vec<u8>, String>,
}

impl Log {
    /// A log that has its place, with its bytes.
    #[must_use]
    pub fn new(placed: PlacedLog, bytes: Vec<u8>) -> Self {
        Self {
            file: placed.file,
            point: placed.point,
            repeat: placed.repeat,
            bytes: Ok(bytes),
        }
    }
}

/// Everything found about a gate at a visit. The verdict is a function of it and stored nowhere.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// The gate file.
    pub gate: GateFile,
    /// The limit profile.
    pub profile: Profile,
    /// The test points that the profile wants, or why they are not known.
    pub planned: Planned,
    /// The hits, in the order of the logs.
    pub hits: Vec<Hit>,
    /// Hits that the gate file declares void: they count for nothing, and are told.
    pub voids: Vec<VoidHit>,
    /// The other files in the folder of the logs.
    pub beside: Beside,
    /// Every limit held against what was read at every tested point.
    pub findings: Vec<Finding>,
    /// Wanted test points with fewer hits than wanted.
    pub missing: Vec<MissingPoint>,
    /// Tested points at which the profile has no limit that decides, each with the reason.
    pub without_limit: Vec<(TestPoint, NoLimit)>,
    /// Hazards of this kind of gate for which there is no reading.
    pub hazards: Vec<UnreadHazard>,
    /// What was looked at before the gate was driven.
    pub readiness: Readiness,
}

/// A hit that does not count.
#[derive(Clone, Debug)]
pub struct VoidHit {
    /// The hit, as it was measured.
    pub hit: Hit,
    /// Why, in the words of the gate file.
    pub reason: String,
}

/// The files in the folder of the logs that hold no hit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Beside {
    /// Why those have no place that may be logs.
    pub problems: Vec<PlaceProblem>,
    /// Those that are none by their names: notes, pictures.
    pub ignored: Vec<String>,
}

impl Beside {
    /// Of the files of a folder.
    #[must_use]
    pub fn of(placed: &Placed) -> Self {
        Self {
            problems: placed.problems.clone(),
            ignored: placed.ignored.clone(),
        }
    }

    /// The files, each once.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        let problems = self.problems.iter().flat_map(PlaceProblem::files);
        let all = problems
            .map(str::to_owned)
            .chain(self.ignored.iter().cloned());
        all.collect::<BTreeSet<String>>().into_iter().collect()
    }
}

/// The whole pipeline. `earlier`: the logs of earlier visits, among which copies are looked for; `readiness`: the checks before the
/// gate was driven, with the answers of this gate file.
#[must_use]
pub fn assess(
    gate: GateFile,
    profile: Profile,
    logs: Vec<Log>,
    answers: &Answers,
    earlier: &[EarlierLog],
    readiness: Readiness,
) -> Assessment {
    let hits: Vec<Hit> = logs
        .into_par_iter()
        .map(|log| measure(log, &gate, &profile, answers))
        .collect();
    of_hits(gate, profile, hits, earlier, readiness)
}

/// The first half, one log at a time: a log is read and measured, and what it cannot show is said.
#[must_use]
pub fn measure(log: Log, gate: &GateFile, profile: &Profile, answers: &Answers) -> Hit {
    hits::measure(log, gate, profile, answers)
}

/// The second half: hits as [`measure`] gave them, with this gate file and this profile, are laid on the wanted test points
/// and held against every limit.
#[must_use]
pub fn of_hits(
    gate: GateFile,
    profile: Profile,
    hits: Vec<Hit>,
    earlier: &[EarlierLog],
    readiness: Readiness,
) -> Assessment {
    of_hits_knowing(gate, profile, hits, earlier, readiness, &|_| true)
}

/// Which limitations there are for a build: an assessment is worked out again as the build saw it that made it.
pub type Known<'a> = &'a (dyn Fn(&Limitation) -> bool + Sync);

/// As [`of_hits`], with no other limitations than those that are known.
#[must_use]
pub fn of_hits_knowing(
    gate: GateFile,
    profile: Profile,
    mut hits: Vec<Hit>,
    earlier: &[EarlierLog],
    readiness: Readiness,
    known: Known<'_>,
) -> Assessment {
    hits::name_copies(&mut hits, earlier);
    hits.par_iter_mut().for_each(|hit| {
        if let Ok(measurement) = &mut hit.measurement {
            measurement.limitations.retain(known);
            measurement.widen(hit.point, &gate);
        }
    });
    let planned = plan(&gate, &profile);
    points::lay(&mut hits, &planned, &gate, &profile);
    let (hits, voids) = without_voids(hits, &gate);
    let tested = points::tested(&hits);
    let findings = finding::findings(&tested, &planned, &hits, &gate, &profile, known);
    let without_limit = tested
        .iter()
        .filter_map(|point| Some((*point, profile.no_limit_reason(gate.gate.motion, point)?)))
        .collect();
    let missing = planned.missing(&hits);
    let hazards = unread_hazards(gate.gate.motion);
    Assessment {
        gate,
        profile,
        planned,
        hits,
        voids,
        beside: Beside::default(),
        findings,
        missing,
        without_limit,
        hazards,
        readiness,
    }
}

/// The hits that count, and those that the gate file declares void.
fn without_voids(hits: Vec<Hit>, gate: &GateFile) -> (Vec<Hit>, Vec<VoidHit>) {
    let declared = gate.logs.iter().flat_map(|logs| &logs.voids);
    let reasons: BTreeMap<String, &String> = declared
        .map(|void| (void.file.replace('\\', "/"), &void.reason))
        .collect();
    let (mut count, mut voids) = (Vec::new(), Vec::new());
    for hit in hits {
        match reasons.get(&hit.file) {
            Some(reason) => voids.push(VoidHit {
                hit,
                reason: (*reason).clone(),
            }),
            None => count.push(hit),
        }
    }
    (count, voids)
}

/// What must be told whatever the verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[strum(serialize_all = "kebab-case")]
pub enum Told {
    /// The limits are not those of the profile on the shelf: whose they are, and what was changed.
    OwnLimits {
        /// The profile on the shelf that they are based on.
        based_on: Option<String>,
        /// The values that differ from it.
        changes: Vec<LimitChange>,
    },
    /// The tester chose test points.
    ChosenPoints {
        /// How many.
        points: usize,
    },
    /// A single hit over a limit that the mean of the hits keeps, or that is not decided.
    HitOver {
        /// Where.
        test_point: TestPoint,
        /// By what.
        measure: Measure,
        /// The hit.
        remark: Remark,
    },
    /// A hit that the gate file declares void.
    VoidHit {
        /// Where.
        test_point: TestPoint,
        /// Its number there.
        hit: u32,
        /// Its log.
        log: String,
        /// Its peak force; none where nothing was measured.
        peak_n: Option<f64>,
        /// Why it does not count.
        reason: String,
    },
    /// A log of which nothing was measured.
    NotMeasured {
        /// The log.
        log: String,
        /// Why.
        not_measured: NotMeasured,
    },
    /// A file that may be a log and has no place.
    NotPlaced {
        /// Why.
        not_placed: PlaceProblem,
    },
    /// Files in the folder of the logs that are no logs by their names.
    Ignored {
        /// The files.
        files: Vec<String>,
    },
    /// A hit that is the odd one out.
    OddOne {
        /// Where.
        test_point: TestPoint,
        /// By what.
        measure: Measure,
        /// The hit.
        remark: Remark,
    },
    /// A tested point at which no limit decides.
    NotAssessed {
        /// Where.
        test_point: TestPoint,
        /// Why.
        no_limit: NoLimit,
    },
}

impl Fact for Told {
    const FAMILY: &'static str = "told";
}

impl Assessment {
    /// The verdict on everything: the worst finding wins, and what is missing or could not be planned never passes.
    ///
    /// A tested point at which no limit decides ([`Assessment::without_limit`]) is always told. If the profile wants that point,
    /// it has not been assessed, and the whole cannot be within. If nobody wants it, the verdict is on what was assessed: to leave
    /// the whole undecided would reward those who take the extra log out of the folder.
    #[must_use]
    pub fn overall(&self) -> Overall {
        let mut overall = verdict::overall(&self.findings, &self.missing);
        let plan = self.planned.open().map(|why| OpenItem::PlanOpen {
            no_plan: why.clone(),
        });
        let wanted = |(point, _): &&(TestPoint, NoLimit)| self.planned.repeats_at(point).is_some();
        let without = self.without_limit.iter().filter(wanted);
        let open =
            plan.into_iter()
                .chain(without.map(|(point, no_limit)| OpenItem::PointNotAssessed {
                    test_point: *point,
                    no_limit: no_limit.clone(),
                }));
        let known = overall.reasons.len();
        overall.reasons.extend(open);
        overall.reasons.extend(self.unaccounted());
        if overall.reasons.len() > known && overall.verdict == Verdict::Within {
            overall.verdict = Verdict::Undecided;
        }
        overall
    }

    /// What is not accounted for: hazards without a test, numbers of hits without a log, files without a place.
    fn unaccounted(&self) -> Vec<OpenItem> {
        let hazards = points::untested_hazards(&self.gate, &self.planned);
        let hazards = hazards
            .into_iter()
            .map(|hazard| OpenItem::HazardNotTested { hazard });
        let all: Vec<&Hit> = self.all_hits().collect();
        let points = points::tested(all.iter().copied()).into_iter();
        let gone = points.filter_map(|test_point| {
            let hits = points::unaccounted(&all, test_point);
            (!hits.is_empty()).then_some(OpenItem::HitsUnaccounted { test_point, hits })
        });
        let files = self.beside.problems.len();
        let problems = (files > 0).then_some(OpenItem::FilesNotPlaced { files });
        hazards.chain(gone).chain(problems).collect()
    }

    /// The same with the other files in the folder of the logs.
    pub(crate) fn beside(self, beside: Beside) -> Self {
        Self { beside, ..self }
    }

    /// What must be told whatever the verdict: whose limits, chosen points, single hits over a limit, void hits, files that are no
    /// logs, hits that are the odd one out, tested points without a limit.
    #[must_use]
    pub fn told(&self) -> Vec<Told> {
        let own = self
            .profile
            .own_limits()
            .map(|(based_on, changes)| Told::OwnLimits { based_on, changes });
        let chosen = self.plan().map_or(0, |plan| {
            plan.points.iter().filter(|wanted| wanted.by_tester).count()
        });
        let chosen = (chosen > 0).then_some(Told::ChosenPoints { points: chosen });
        let over = self.findings.iter().flat_map(|finding| {
            let measure = finding.limit.measure;
            let over = finding.remarks().into_iter();
            let over = over.filter(|one| {
                matches!(one, Remark::HitOver { .. }) && finding.verdict() != Verdict::Over
            });
            over.filter_map(move |remark| {
                Some(Told::HitOver {
                    test_point: finding.test_point?,
                    measure,
                    remark,
                })
            })
        });
        let voids = self.voids.iter().map(|void| {
            let measured = void.hit.measurement.as_ref().ok();
            let peak = measured.and_then(|one| one.response.value(Measure::PeakForce).ok());
            Told::VoidHit {
                test_point: void.hit.point,
                hit: void.hit.repeat,
                log: void.hit.file.clone(),
                peak_n: peak.map(Quantity::get),
                reason: void.reason.clone(),
            }
        });
        let ignored = &self.beside.ignored;
        let ignored = (!ignored.is_empty()).then(|| Told::Ignored {
            files: ignored.clone(),
        });
        let odd = self.findings.iter().filter_map(|finding| {
            Some(Told::OddOne {
                test_point: finding.test_point?,
                measure: finding.limit.measure,
                remark: finding.odd_one_remark()?,
            })
        });
        let without = self.without_limit.iter();
        let unassessed = without.map(|(point, no_limit)| Told::NotAssessed {
            test_point: *point,
            no_limit: no_limit.clone(),
        });
        let first = own.into_iter().chain(chosen);
        let problems = self.beside.problems.iter().cloned();
        let problems = problems.map(|not_placed| Told::NotPlaced { not_placed });
        let unread = self.all_hits().filter_map(|hit| {
            let not_measured = hit.measurement.as_ref().err()?.clone();
            let log = hit.file.clone();
            Some(Told::NotMeasured { log, not_measured })
        });
        first
            .chain(over)
            .chain(voids)
            .chain(unread)
            .chain(problems)
            .chain(odd)
            .chain(unassessed)
            .chain(ignored)
            .collect()
    }

    /// Every hit with a log, in the order of test point and number; those that count for nothing come last.
    pub fn all_hits(&self) -> impl Iterator<Item = &Hit> {
        let voids = self.voids.iter().map(|void| &void.hit);
        self.hits.iter().chain(voids)
    }

    /// The plan of test points, as far as one is known.
    #[must_use]
    pub const fn plan(&self) -> Option<&Plan> {
        self.planned.plan()
    }

    /// What the gate file leaves open, with what follows from it.
    #[must_use]
    pub fn gaps(&self) -> Vec<gate::Gap> {
        self.gate.gaps()
    }

    /// Everything that limits a hit, in the order of the hits.
    pub fn limitations(&self) -> impl Iterator<Item = (&Hit, &Limitation)> {
        self.hits.iter().flat_map(|hit| {
            let all = hit
                .measurement
                .iter()
                .flat_map(|measurement| measurement.limitations.iter());
            all.map(move |limitation| (hit, limitation))
        })
    }
}
