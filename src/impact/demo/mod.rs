//! The demo gate: two visits to a gate of our own invention, computed from the model of a hit, with the truth kept beside them.
//!
//! Quillmere Orchard, its packing yard, its gate, drive, gauge and people do not exist; every file says so. The first visit has one
//! place over the limit (the edge goes solid), one clipped log, one that ends too early and one place that was
//! never tested. On the second, with a longer edge and a lower closing speed, everything is there and within the limits.

mod dialect;
mod firmware;
mod yard;

use std::io::Write as _;

use flate2::Compression;
use flate2::write::GzEncoder;
use thiserror::Error;

pub use dialect::Dialect;
pub use firmware::{FOLDER as FIRMWARE_FOLDER, Firmware, HITS, SeriesHit, firmware_files};
pub use yard::{Planned, Visit, reaction};

use super::ImpactError;
use super::gauge::{Averaging, Gauge, log};
use super::simulate::Motion;
use crate::quantity::{Hertz, MillimetrePerSecond, Newton, Second};
use crate::trace::Trace;

/// A file of the demo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DemoFile {
    /// Path from the demo's folder, with `/` between the parts.
    pub path: String,
    /// Its content.
    pub bytes: Vec<u8>,
}

/// What the model knows of a hit that the log only shows through a gauge.
#[derive(Clone, Debug, PartialEq)]
pub struct DemoTruth {
    /// Path of its log.
    pub path: String,
    /// Which hit it is.
    pub hit: Planned,
    /// How the log is written.
    pub dialect: Dialect,
    /// What is wrong with the log.
    pub flaw: Flaw,
    /// Where the leaf first touches, from the log's first sample; every instant below counts from there.
    pub contact: Second,
    /// Where the force first reaches 25 N, the level at which a measured contact is placed.
    pub reaches_25_n: Second,
    /// Approach speed.
    pub approach_speed: MillimetrePerSecond,
    /// Greatest force.
    pub peak_force: Newton,
    /// Its instant.
    pub peak_at: Second,
    /// Total time for which the force was above 150 N.
    pub time_above_150_n: Second,
    /// Last fall of the force to 25 N.
    pub release: Second,
}

/// What is wrong with a log of the demo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Flaw {
    /// Nothing.
    None,
    /// The gauge was set to a range that the hit exceeded.
    Clipped {
        /// The range.
        at: Newton,
    },
    /// The record ends before contact + 5 s.
    EndsEarly {
        /// Its end, after contact.
        after: Second,
    },
}

/// The demo: its files, and the truth of every hit in them.
#[derive(Clone, Debug, PartialEq)]
pub struct Demo {
    /// Two gate files, the logs and a page of explanation.
    pub files: Vec<DemoFile>,
    /// One for each log, in the order of the files.
    pub truths: Vec<DemoTruth>,
}

/// Why the demo could not be made.
#[derive(Debug, Error)]
pub enum DemoError {
    /// The model refused its numbers.
    #[error("the demo's model")]
    Model(#[from] ImpactError),
    /// A log could not be packed.
    #[error("a log of the demo could not be packed")]
    Pack(#[from] std::io::Error),
}

const EXPLANATION: &str = include_str!("about.md");
const GATE_FILES: [(&str, &str); 2] = [
    ("visit-1/gate.toml", include_str!("visit-1.toml")),
    ("visit-2/gate.toml", include_str!("visit-2.toml")),
];

/// The place that nobody tested on the first visit: gap and height in mm.
pub const NOT_TESTED: (u32, u32) = (500, 1500);

/// The one log that is packed with gzip: gap, height and repeat.
const PACKED: (u32, u32, u32) = (500, 900, 2);

/// Makes the demo: the same bytes at every call.
///
/// # Errors
/// [`DemoError`], which its fixed numbers do not raise.
pub fn demo() -> Result<Demo, DemoError> {
    let mut made = Demo {
        files: vec![file("about.md", EXPLANATION)],
        truths: Vec::new(),
    };
    for (path, text) in GATE_FILES {
        made.files.push(file(path, text));
    }
    for visit in Visit::ALL {
        for hit in Planned::of(visit) {
            if visit == Visit::First && hit.is_at(NOT_TESTED.0, NOT_TESTED.1) {
                continue;
            }
            let (log, truth) = logged(hit)?;
            made.files.push(log);
            made.truths.push(truth);
        }
    }
    Ok(made)
}

/// The files of the demo alone: the two visits and the firmware series.
///
/// # Errors
/// As [`demo`].
pub fn files() -> Result<Vec<DemoFile>, DemoError> {
    let mut files = demo()?.files;
    files.extend(firmware_files()?);
    Ok(files)
}

fn file(path: &str, text: &str) -> DemoFile {
    DemoFile {
        path: path.to_owned(),
        bytes: text.as_bytes().to_vec(),
    }
}

fn logged(hit: Planned) -> Result<(DemoFile, DemoTruth), DemoError> {
    let motion = hit.motion()?;
    let dialect = Dialect::of(hit);
    let gauge = gauge(hit);
    let trace = log(&motion, &gauge)?;
    let bytes = dialect.write(hit, &trace, gauge.rate.get() as u32, gauge.capacity);
    let packed = (hit.gap_mm, hit.height_mm, hit.repeat) == PACKED;
    let path = format!(
        "{}/logs/closing-{}-{}-{}.{}",
        hit.visit.folder(),
        hit.gap_mm,
        hit.height_mm,
        hit.repeat,
        if packed { "gz" } else { dialect.ending() }
    );
    let bytes = if packed { gzip(&bytes)? } else { bytes };
    let truth = truth(path.clone(), hit, &motion, &gauge, &trace);
    Ok((DemoFile { path, bytes }, truth))
}

fn gzip(bytes: &[u8]) -> Result<Vec<u8>, std::io::Error> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::default());
    packer.write_all(bytes)?;
    packer.finish()
}

fn flaw(hit: Planned) -> Flaw {
    match (hit.visit, hit.gap_mm, hit.height_mm, hit.repeat) {
        (Visit::First, 300, 900, 2) => Flaw::Clipped { at: Newton(300.0) },
        (Visit::First, 50, 1500, 3) => Flaw::EndsEarly { after: Second(3.8) },
        _ => Flaw::None,
    }
}

/// The invented gauge as it was set for a hit.
fn gauge(hit: Planned) -> Gauge {
    let seed = hit.seed();
    let flaw = flaw(hit);
    // Thirds, fifths and sevenths of the seed stray without a second generator.
    let share = |of: u64| (seed % of) as f64 / of as f64;
    Gauge {
        rate: Hertz(if hit.is_at(500, 50) { 2000.0 } else { 1000.0 }),
        phase: share(97),
        lead: Second(0.35 + 0.3 * share(89)),
        record: match flaw {
            Flaw::EndsEarly { after } => after,
            Flaw::None | Flaw::Clipped { .. } => Second(6.2 + 0.4 * share(83)),
        },
        averaging: Averaging::None,
        noise: Newton(0.35 + 0.3 * share(79)),
        seed,
        zero: Newton(-0.8 + 2.4 * share(73)),
        drift_n_per_s: 0.06 * share(71) - 0.03,
        capacity: match flaw {
            Flaw::Clipped { at } => at,
            Flaw::None | Flaw::EndsEarly { .. } => Newton(2000.0),
        },
        resolution: Dialect::of(hit).resolution(),
    }
}

fn truth(path: String, hit: Planned, motion: &Motion, gauge: &Gauge, trace: &Trace) -> DemoTruth {
    let rate = gauge.rate.get();
    let first = (gauge.phase - (gauge.lead.get() * rate).ceil()) / rate;
    let end = trace.duration().get() + first;
    DemoTruth {
        path,
        hit,
        dialect: Dialect::of(hit),
        flaw: match flaw(hit) {
            Flaw::EndsEarly { .. } => Flaw::EndsEarly { after: Second(end) },
            other => other,
        },
        contact: Second(-first),
        reaches_25_n: motion
            .time_to_level(Newton(25.0))
            .unwrap_or_else(|| motion.end()),
        approach_speed: motion.at(Second(0.0)).speed,
        peak_force: motion.peak_force(),
        peak_at: motion.time_to_peak(),
        time_above_150_n: motion.time_above(Newton(150.0)),
        release: motion
            .last_fall_to(Newton(25.0))
            .unwrap_or_else(|| motion.end()),
    }
}
