//! A gate folder on the disk with one test point: the smallest visit that is complete.

use std::collections::BTreeSet;
use std::fs;

use relent::Visit;
use relent::fact::Fact;
use relent::verdict::OpenItem;
use relent::visit::Assessment;

use super::site::text;
use crate::simulated::chance::Chance;

const GATE: &str = r#"
schema = "relent.gate/1"

[gate]
name = "Loft hatch (invented)"
motion = "sliding"
leaf_mass_kg = 60
leaf_height_mm = 100
leaf_width_mm = 900
clear_opening_mm = 100
opening_side = "clear"

[gauge]
serial = "LH-1 (invented)"
spring_rate_n_per_mm = 500
capacity_n = 2000
accuracy_percent = 1
resolution_n = 0.1
calibrated_on = 2026-01-12
calibration_due = 2027-01-11
zeroes_itself = false

[visit]
date = 2026-05-06
kind = "first"

[assessment]
profile = "en12453-2017"
decision = "simple"

[logs]
folder = "logs"
names = "{direction}-{hazard}-{gap}-{height}-{repeat}"
"#;

/// A gate folder, written anew for every outcome.
#[derive(Clone)]
pub(super) struct Folder {
    gate: String,
    files: Vec<(String, Vec<u8>)>,
    seed: u64,
}

/// A hit: its peak, and how long it stays above three quarters of it; the force that remains.
#[derive(Clone, Copy)]
pub(super) struct Pulse {
    pub(super) peak: f64,
    pub(super) lasts: f64,
    pub(super) remains: f64,
}

pub(super) const fn peak(peak: f64) -> Pulse {
    Pulse {
        peak,
        lasts: 0.07,
        remains: 0.0,
    }
}

impl Folder {
    /// Without any log.
    pub(super) fn new() -> Self {
        Self {
            gate: GATE.to_owned(),
            files: Vec::new(),
            seed: 1,
        }
    }

    /// With hits of these peaks at the one test point.
    pub(super) fn of(peaks: &[f64]) -> Self {
        let mut folder = Self::new();
        for (at, one) in peaks.iter().enumerate() {
            folder.hit(at + 1, peak(*one));
        }
        folder
    }

    /// Adds a hit of this number at the one test point.
    pub(super) fn hit(&mut self, number: usize, pulse: Pulse) {
        self.log(&format!("closing-closing-edge-50-50-{number}.csv"), pulse);
    }

    /// Adds a log: half a second of quiet, a pulse with rounded shoulders, five seconds and a half in all.
    pub(super) fn log(&mut self, name: &str, pulse: Pulse) {
        self.seed += 1;
        let mut chance = Chance::new(self.seed);
        let start = 0.5 + 0.1 * chance.uniform();
        let rise = 0.02;
        let force = |at: f64| {
            let into = at - start;
            let end = pulse.lasts + 2.0 * rise;
            if into <= 0.0 {
                0.0
            } else if into < rise {
                pulse.peak * (std::f64::consts::FRAC_PI_2 * into / rise).sin() * 0.98
            } else if into < rise + pulse.lasts {
                let middle = (into - rise) / pulse.lasts;
                pulse.peak * (0.98 + 0.02 * (std::f64::consts::PI * middle).sin())
            } else if into < end {
                let left = (end - into) / rise;
                pulse.remains + (pulse.peak * 0.98 - pulse.remains) * left
            } else {
                pulse.remains
            }
        };
        let times: Vec<f64> = (0..3_100).map(|step| f64::from(step) / 500.0).collect();
        let noise: Vec<f64> = times.iter().map(|_| 0.3 * chance.normal()).collect();
        let forces = times.iter().zip(noise);
        let forces: Vec<f64> = forces.map(|(at, noise)| force(*at) + noise).collect();
        self.file(&format!("logs/{name}"), text(&times, &forces));
    }

    /// Adds a hit with a second pulse of another peak so many seconds after the first.
    pub(super) fn knocked(&mut self, number: usize, pulse: Pulse, knock: f64, after: f64) {
        self.hit(number, pulse);
        let (name, bytes) = self.files.pop().unwrap();
        let log = String::from_utf8(bytes).unwrap();
        let mut lines = vec!["time (s),force (N)".to_owned()];
        for line in log.lines().skip(1) {
            let (at, force) = line.split_once(',').unwrap();
            let (at, force): (f64, f64) = (at.parse().unwrap(), force.parse().unwrap());
            let into = (at - 0.7 - after) / 0.03;
            let more = if (0.0..1.0).contains(&into) {
                knock * (std::f64::consts::PI * into).sin()
            } else {
                0.0
            };
            lines.push(format!("{at:.4},{:.1}", force + more));
        }
        self.file(&name, lines.join("\n") + "\n");
    }

    /// Adds a file.
    pub(super) fn file(&mut self, name: &str, bytes: impl Into<Vec<u8>>) {
        self.files.push((name.to_owned(), bytes.into()));
    }

    /// Replaces a text of the gate file, which must be there.
    pub(super) fn declare(mut self, old: &str, new: &str) -> Self {
        assert!(self.gate.contains(old), "{old}");
        self.gate = self.gate.replace(old, new);
        self
    }

    /// Adds a section at the end of the gate file.
    pub(super) fn and(mut self, section: &str) -> Self {
        self.gate.push_str(section);
        self
    }

    fn assessed(&self) -> Result<Assessment, String> {
        let home = tempfile::tempdir().unwrap();
        fs::create_dir(home.path().join("logs")).unwrap();
        fs::write(home.path().join("gate.toml"), &self.gate).unwrap();
        for (name, bytes) in &self.files {
            fs::write(home.path().join(name), bytes).unwrap();
        }
        let visit = Visit::open(home.path()).and_then(|mut visit| visit.assess());
        visit.map_err(|error| error.to_string())
    }

    /// The verdict on the whole, then the codes of why it is not within, and of what must be told.
    pub(super) fn outcome(&self) -> String {
        let assessment = match self.assessed() {
            Ok(assessment) => assessment,
            Err(error) => return format!("refused: {}", error.rsplit("expected ").next().unwrap()),
        };
        let overall = assessment.overall();
        let mut codes: BTreeSet<String> = BTreeSet::new();
        for open in &overall.reasons {
            if !matches!(open, OpenItem::FindingsUndecided { .. }) {
                codes.insert(open.code());
            }
        }
        let findings = overall.undecided.iter().chain(&overall.over);
        for reason in findings.flat_map(|place| assessment.findings[*place].reasons()) {
            codes.insert(match reason.fields()["limitation"]["code"].as_str() {
                Some(limitation) => limitation.to_owned(),
                None => reason.code(),
            });
        }
        codes.extend(assessment.told().iter().map(Fact::code));
        let codes: Vec<String> = codes.into_iter().collect();
        let verdict = overall.verdict.code();
        match codes.is_empty() {
            true => verdict,
            false => format!("{verdict}: {}", codes.join(", ")),
        }
    }
}
