//! Gate force and safety-compliance calculations for impact testing: force-gauge logs in, a verdict that can be defended out.
//!
//! A gauge in the path of a powered gate logs each hit as force over time. relent reads such logs, measures them, and compares the
//! measures with the limits of a profile. What it finds is data: a [`fact`] is a code with its numbers, and [`words`] makes its sentence.
//!
//! # One log
//!
//! [`measure`](measure()) reads and measures one log. A log that leaves a question open is not guessed at: the error lists the
//! questions, and [`ingest::Answers`] answers them.
//!
//! ```
//! use relent::ingest::Answers;
//! use relent::limits::profile;
//! use relent::measure::{GaugeFacts, Measure};
//!
//! let log = std::fs::read("fixtures/golden/record-2/logs/closing-50-900-1.csv")?;
//! let (profile, gauge) = (profile("en12453-2017")?, GaugeFacts::default());
//! let hit = relent::measure(&log, &profile, &gauge, &Answers::default())?;
//! for measure in Measure::ALL {
//!     println!("{}: {:?}", measure.key(), hit.response.value(measure));
//! }
//! # assert_eq!(hit.response.value(Measure::PeakForce).map(|force| force.get().round()), Ok(380.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # A visit
//!
//! [`Visit::open`] reads a gate folder: the gate file `gate.toml` and what it names. [`Visit::assess`] reads its logs, places each on a
//! test point and compares every measure with every limit that applies there. The verdict is a function of what it returns.
//!
//! ```
//! use relent::Visit;
//! use relent::words::{Language, Words};
//!
//! let words = Words::of(Language::English);
//! let assessment = Visit::open("fixtures/golden/record-2")?.assess()?;
//! for finding in &assessment.findings {
//!     println!("{}: {}", finding.limit.name, words.fact(&finding.verdict()));
//!     for reason in finding.reasons() {
//!         println!("    {}", words.fact(&reason));
//!     }
//! }
//! let overall = assessment.overall();
//! println!("{}", words.fact(&overall.verdict));
//! # assert_eq!(overall.verdict, relent::verdict::Verdict::Undecided);
//! # Ok::<(), relent::VisitError>(())
//! ```
//!
//! # The modules
//!
//! They stand in the order in which the data flows. Each uses only those above it; `tests/structure` checks that. None above [`words`]
//! makes a sentence. The feature `cli`, on by default, adds the command line with its terminal and server; without it the library reads
//! files where it is told to, and prints nothing.

pub mod quantity;

pub mod fact;

pub mod trace;

pub mod toml_tree;

pub mod ingest;

pub mod measure;

pub mod limitation;

pub mod limits;

pub mod uncertainty;

pub mod verdict;

pub mod gate;

pub mod readiness;

pub mod visit;

pub use visit::{Visit, VisitError, measure_alone as measure};

pub mod compare;

pub mod impact;

pub mod record;

pub mod words;

pub mod view;

pub mod archive;

pub mod report;

#[cfg(feature = "cli")]
pub mod cli;
