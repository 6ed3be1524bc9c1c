//! The gate that is attacked: the second visit to the demo gate, complete and within every limit, with its logs as traces.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::sync::OnceLock;

use relent::fact::Fact;
use relent::gate::{self, names};
use relent::impact::demo;
use relent::ingest::{self, Answers, Outcome};
use relent::limitation::{EarlierLog, Original, Print};
use relent::limits::profile;
use relent::readiness::{built_in, readiness};
use relent::trace::Trace;
use relent::visit::{self, Assessment, Hit, Log};

/// A gate folder in memory: gate file, logs by name, answers of a recipe and logs of earlier visits.
#[derive(Clone)]
pub(crate) struct Site {
    pub(crate) gate: String,
    pub(crate) logs: Vec<(String, Vec<u8>)>,
    pub(crate) answers: Answers,
    pub(crate) earlier: Vec<EarlierLog>,
}

struct Honest {
    site: Site,
    hits: Vec<Hit>,
    first_visit: Vec<EarlierLog>,
}

fn made() -> &'static Honest {
    static MADE: OnceLock<Honest> = OnceLock::new();
    MADE.get_or_init(|| {
        let files = demo::demo().unwrap().files;
        let below = |folder: &str| -> Vec<(String, Vec<u8>)> {
            let inner = |path: &str| path.strip_prefix(folder).map(str::to_owned);
            let files = files.iter();
            files
                .filter_map(|file| Some((inner(&file.path)?, file.bytes.clone())))
                .collect()
        };
        let [gate] = below("visit-2/gate.toml").try_into().unwrap();
        let site = Site {
            gate: String::from_utf8(gate.1).unwrap(),
            logs: below("visit-2/logs/"),
            answers: Answers::default(),
            earlier: Vec::new(),
        };
        let old = |(log, bytes): (String, Vec<u8>)| EarlierLog {
            print: Print::of(&read(&bytes, &site.answers)),
            log: Original {
                log,
                visited_on: None,
                folder: Some("../visit-1".to_owned()),
                alike: None,
            },
        };
        Honest {
            hits: site.measured(&[]),
            first_visit: below("visit-1/logs/").into_iter().map(old).collect(),
            site,
        }
    })
}

/// The logs of the first visit.
pub(crate) fn first_visit() -> Vec<EarlierLog> {
    made().first_visit.clone()
}

fn read(bytes: &[u8], answers: &Answers) -> Trace {
    match ingest::read(bytes, answers).unwrap().outcome {
        Outcome::Read(trace) => *trace,
        Outcome::Asks(questions) => panic!("{questions:?}"),
    }
}

impl Site {
    /// As the visit was.
    pub(crate) fn honest() -> Self {
        made().site.clone()
    }

    /// The bytes of a log.
    pub(crate) fn log(&mut self, name: &str) -> &mut Vec<u8> {
        let mut logs = self.logs.iter_mut();
        &mut logs.find(|log| log.0 == name).unwrap().1
    }

    /// The record of a log.
    pub(crate) fn trace(&self, name: &str) -> Trace {
        let log = self.logs.iter().find(|log| log.0 == name).unwrap();
        read(&log.1, &self.answers)
    }

    /// Writes a record in the place of a log.
    pub(crate) fn put(&mut self, name: &str, times: &[f64], forces: &[f64]) {
        *self.log(name) = text(times, forces);
    }

    /// Alters the forces of a log by their instants.
    pub(crate) fn alter(&mut self, name: &str, alter: impl Fn(f64, f64) -> f64) {
        let trace = self.trace(name);
        let times = trace.times().to_vec();
        let pairs = times.iter().zip(trace.forces());
        let forces: Vec<f64> = pairs.map(|(at, force)| alter(*at, *force)).collect();
        self.put(name, &times, &forces);
    }

    /// Replaces a text of the gate file, which must be there.
    pub(crate) fn declare(&mut self, old: &str, new: &str) {
        assert!(self.gate.contains(old), "{old}");
        self.gate = self.gate.replace(old, new);
    }

    fn measured(&self, known: &[Hit]) -> Vec<Hit> {
        let gate = gate::read(self.gate.as_bytes()).unwrap().file;
        let profile = profile(&gate.assessment.profile).unwrap();
        let names: Vec<&str> = self.logs.iter().map(|log| log.0.as_str()).collect();
        let placed = names::place(&names, gate.logs.as_ref().unwrap(), &gate.gate).unwrap();
        let mut hits = Vec::new();
        for hit in placed.hits {
            let log = self.logs.iter().find(|log| log.0 == hit.file).unwrap();
            let sha256 = ingest::sha256(&log.1);
            let same = |it: &&Hit| it.file == hit.file && it.sha256 == sha256;
            hits.push(known.iter().find(same).cloned().unwrap_or_else(|| {
                let log = Log::new(hit, log.1.clone());
                visit::measure(log, &gate, &profile, &self.answers)
            }));
        }
        hits
    }

    /// The assessment.
    pub(crate) fn assessed(&self) -> Assessment {
        let honest = made();
        let as_it_was = self.gate == honest.site.gate && self.answers == honest.site.answers;
        let known = if as_it_was {
            honest.hits.as_slice()
        } else {
            &[]
        };
        let gate = gate::read(self.gate.as_bytes()).unwrap().file;
        let profile = profile(&gate.assessment.profile).unwrap();
        let ready = readiness(&gate, built_in());
        visit::of_hits(gate, profile, self.measured(known), &self.earlier, ready)
    }

    /// The verdict on the whole, and the codes of what limits its hits.
    pub(crate) fn outcome(&self) -> String {
        self.outcome_of(|_| true)
    }

    /// The same with no other code than one.
    pub(crate) fn outcome_by(&self, code: &str) -> String {
        self.outcome_of(|other| other == code)
    }

    fn outcome_of(&self, told: impl Fn(&str) -> bool) -> String {
        let assessment = self.assessed();
        let mut outcome = assessment.overall().verdict.code();
        let limitations = assessment.limitations();
        let codes: BTreeSet<String> = limitations.map(|(_, one)| one.code()).collect();
        for (nth, code) in codes.iter().filter(|code| told(code)).enumerate() {
            let _ = write!(outcome, "{}{code}", if nth == 0 { ": " } else { ", " });
        }
        outcome
    }
}

/// A record as a plain log, with as many decimals as its forces need, four at most.
pub(crate) fn text(times: &[f64], forces: &[f64]) -> Vec<u8> {
    let mut text = "time (s),force (N)\n".to_owned();
    for (at, force) in times.iter().zip(forces) {
        let force = (force * 1e4).round() / 1e4 + 0.0;
        writeln!(text, "{at:.5},{force}").unwrap();
    }
    text.into_bytes()
}
