//! Three firmware versions on the invented gate: the reference, one that stops sooner, and one that is worse at one place.

use super::yard::reaction;
use super::{DemoError, DemoFile, Dialect, gzip};
use crate::impact::gauge::{Averaging, Gauge, log};
use crate::impact::simulate::{Drive, Model, Motion, STEP, simulate};
use crate::impact::{Edge, ImpactError, Nose, SpringHit};
use crate::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};

/// The folder of the firmware series.
pub const FOLDER: &str = "firmware";

/// Hits of each version at each place.
pub const HITS: u32 = 6;

/// An invented firmware version.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Firmware {
    /// The version in use.
    Reference,
    /// Notices the hit sooner and lets the leaf come on a little faster for it: stops sooner, with about the same peak.
    Sooner,
    /// As the reference, but late to notice a hit at [`Firmware::WORSE_AT`].
    Lapse,
}

/// A hit of the series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct SeriesHit {
    /// With which firmware.
    pub firmware: Firmware,
    /// Opening left between the edges at contact, in mm.
    pub gap_mm: u32,
    /// Height above the ground in mm.
    pub height_mm: u32,
    /// From 1 to [`HITS`].
    pub repeat: u32,
}

impl Firmware {
    /// In the order in which they were made.
    pub const ALL: [Self; 3] = [Self::Reference, Self::Sooner, Self::Lapse];

    /// The only place at which the last version differs from the first: gap and height in mm.
    pub const WORSE_AT: (u32, u32) = (500, 50);

    /// The places of the series: gap and height in mm.
    pub const PLACES: [(u32, u32); 4] = [(300, 50), (300, 900), (500, 50), (500, 900)];

    /// The name of its series: the folder of its logs.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Reference => "2.3.1",
            Self::Sooner => "2.4.0",
            Self::Lapse => "2.5.0",
        }
    }

    const fn number(self) -> u64 {
        match self {
            Self::Reference => 1,
            Self::Sooner => 2,
            Self::Lapse => 3,
        }
    }
}

impl SeriesHit {
    /// Every hit of a version, place by place.
    pub fn of(firmware: Firmware) -> impl Iterator<Item = Self> {
        Firmware::PLACES
            .into_iter()
            .flat_map(move |(gap_mm, height_mm)| {
                (1..=HITS).map(move |repeat| Self {
                    firmware,
                    gap_mm,
                    height_mm,
                    repeat,
                })
            })
    }

    /// Path of its log from the demo's folder.
    #[must_use]
    pub fn path(self) -> String {
        let Self {
            gap_mm,
            height_mm,
            repeat,
            ..
        } = self;
        let name = self.firmware.name();
        format!("{FOLDER}/{name}/closing-{gap_mm}-{height_mm}-{repeat}.csv.gz")
    }

    const fn seed(self) -> u64 {
        let place = self.gap_mm as u64 * 10_000 + self.height_mm as u64;
        (self.firmware.number() * 100_000_000 + place) * 100 + self.repeat as u64
    }

    /// A number from −1 to 1 that is the same for a hit and a purpose at every call.
    fn stray(self, purpose: u64) -> f64 {
        // The mixing step of SplitMix64 (Steele, Lea & Flood 2014).
        let mut bits = (self.seed() ^ purpose).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        (bits >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    const fn is_at(self, place: (u32, u32)) -> bool {
        self.gap_mm == place.0 && self.height_mm == place.1
    }

    fn speed(self) -> MillimetrePerSecond {
        let nominal = if self.gap_mm == 500 { 118.0 } else { 104.0 };
        let change = match self.firmware {
            Firmware::Sooner => 1.22,
            Firmware::Reference | Firmware::Lapse => 1.0,
        };
        MillimetrePerSecond(nominal * change * (1.0 + 0.012 * self.stray(1)))
    }

    /// From the motor's load to the beginning of the braking.
    fn delay(self) -> Second {
        let nominal = match self.firmware {
            Firmware::Sooner => 0.012,
            Firmware::Lapse if self.is_at(Firmware::WORSE_AT) => 0.110,
            Firmware::Reference | Firmware::Lapse => 0.048,
        };
        Second(nominal + 0.004 * self.stray(2))
    }

    fn model(self) -> Result<Model, ImpactError> {
        let mass = if self.height_mm == 50 { 420.0 } else { 370.0 };
        Ok(Model {
            hit: SpringHit::new(
                Kilogram(mass),
                self.speed(),
                Newton(120.0),
                NewtonPerMillimetre(500.0),
            )?,
            nose: Nose::Elastic(Edge::new(NewtonPerMillimetre(14.0), Millimetre(45.0))?),
            damping_ratio: 0.1,
            drive: Drive::Reacts(reaction(self.delay())),
        })
    }

    /// How the hit went.
    ///
    /// # Errors
    /// [`ImpactError`], which its fixed numbers do not raise.
    pub fn motion(self) -> Result<Motion, ImpactError> {
        simulate(&self.model()?, Second(3.0), STEP)
    }

    fn gauge(self) -> Gauge {
        Gauge {
            rate: Hertz(1000.0),
            phase: 0.5 + 0.49 * self.stray(3),
            lead: Second(0.3 + 0.1 * self.stray(4)),
            record: Second(5.3),
            averaging: Averaging::None,
            noise: Newton(0.4),
            seed: self.seed(),
            zero: Newton(0.6 * self.stray(5)),
            drift_n_per_s: 0.02 * self.stray(6),
            capacity: Newton(2000.0),
            resolution: Dialect::Comma.resolution(),
        }
    }

    fn logged(self) -> Result<DemoFile, DemoError> {
        let trace = log(&self.motion()?, &self.gauge())?;
        let head = format!(
            "# Invented demo data: no such gate, orchard or gauge exists.\n\
             # Quillmere Orchard, packing yard, firmware {}; gap {} mm, height {} mm\n\
             time (s),force (N),leaf position (mm)\n",
            self.firmware.name(),
            self.gap_mm,
            self.height_mm
        );
        let bytes = Dialect::Comma.under(&head, &trace, 1000);
        Ok(DemoFile {
            path: self.path(),
            bytes: gzip(&bytes)?,
        })
    }
}

/// The files of the firmware series: one gate file, and the logs of each version in a folder of its name.
///
/// # Errors
/// [`DemoError`], which its fixed numbers do not raise.
pub fn firmware_files() -> Result<Vec<DemoFile>, DemoError> {
    let mut files = vec![super::file(
        &format!("{FOLDER}/gate.toml"),
        include_str!("firmware.toml"),
    )];
    for firmware in Firmware::ALL {
        for hit in SeriesHit::of(firmware) {
            files.push(hit.logged()?);
        }
    }
    Ok(files)
}
