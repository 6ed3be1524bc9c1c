//! Names of log files → which hit each one holds. A function of names alone: nothing is opened here.

use std::cmp::Ordering;
use std::fmt;

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::limits::{Direction, Motion, TestPoint};
use crate::quantity::Millimetre;

use super::pattern::{Pattern, PatternError, ReadName};
use super::place::Place;
use super::sections::{GateSection, LogsSection};

/// A log and the hit it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedLog {
    /// Its file, from the folder of the logs.
    pub file: String,
    /// Where the gauge was held.
    pub point: TestPoint,
    /// Number of the hit at this point, from 1.
    pub repeat: u32,
}

/// The files of a folder, told apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Placed {
    /// The logs, ordered by test point and repeat.
    pub hits: Vec<PlacedLog>,
    /// Files that are not logs: notes, pictures, what the system left behind.
    pub ignored: Vec<String>,
    /// Files that could not be placed. None of them is among the hits.
    pub problems: Vec<PlaceProblem>,
}

/// Why a file was not placed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum PlaceProblem {
    /// Its name is not of the pattern.
    DoesNotFit {
        /// The file.
        file: String,
        /// The pattern.
        pattern: String,
        /// The rest of the name from where it does not fit; none where the name ends too soon.
        rest: Option<String>,
        /// What was expected there.
        expected: String,
    },
    /// Its name can be read in two ways.
    TwoReadings {
        /// The file.
        file: String,
        /// The pattern.
        pattern: String,
        /// One of them.
        first: String,
        /// Another.
        second: String,
    },
    /// Its name says `low`, `half` or the like, and the gate file does not give the measure it is a part of.
    HeightUnknown {
        /// The file.
        file: String,
        /// The word in its name.
        word: String,
        /// How the leaf moves.
        motion: Motion,
        /// Whether it is a word for a place on a leaf that moves like this.
        known_there: bool,
    },
    /// Its place lies beyond the leaf.
    BeyondLeaf {
        /// The file.
        file: String,
        /// Where the gauge was held: height, or place across the opening of a vertical leaf.
        height_mm: f64,
        /// The key of the gate file that says how far the leaf goes.
        key: String,
        /// Its value.
        size_mm: Millimetre,
    },
    /// Its gap is wider than the gate opens.
    BeyondOpening {
        /// The file.
        file: String,
        /// The gap.
        gap_mm: f64,
        /// How far the gate opens.
        opening_mm: Millimetre,
    },
    /// Two files claim the same hit.
    SameHit {
        /// One of them.
        first: String,
        /// The other.
        second: String,
        /// Where the gauge was held.
        test_point: TestPoint,
        /// Number of the hit.
        repeat: u32,
    },
    /// The gate file lists one file twice.
    ListedTwice {
        /// The file.
        file: String,
        /// How often.
        times: usize,
    },
    /// The gate file lists a file that is not there.
    NotThere {
        /// The file.
        file: String,
    },
    /// A file in the folder is not in the list.
    NotListed {
        /// The file.
        file: String,
    },
}

impl PlaceProblem {
    /// The files in the folder of the logs that it is about.
    #[must_use]
    pub fn files(&self) -> Vec<&str> {
        match self {
            Self::SameHit { first, second, .. } => vec![first, second],
            Self::NotThere { .. } => Vec::new(),
            Self::DoesNotFit { file, .. }
            | Self::TwoReadings { file, .. }
            | Self::HeightUnknown { file, .. }
            | Self::BeyondLeaf { file, .. }
            | Self::BeyondOpening { file, .. }
            | Self::ListedTwice { file, .. }
            | Self::NotListed { file } => vec![file],
        }
    }
}

impl Fact for PlaceProblem {
    const FAMILY: &'static str = "not-placed";
}

/// Whether a word names a place on a leaf that moves like this.
fn names_a_place(motion: Motion, word: &str) -> bool {
    let words = match motion {
        Motion::Vertical => &Place::ACROSS,
        Motion::Sliding | Motion::Swing | Motion::Folding | Motion::Boom => &Place::UP,
    };
    words.iter().any(|(known, _)| *known == word)
}

/// Tells the files of a folder apart: which hit each log holds, what is no log, and what could not be placed.
///
/// `files` are names from the folder of the logs, with `/` or `\` between folders. A file that claims a hit which another
/// claims too is not placed, nor is the other: which of them is the hit is for a person to say.
///
/// # Errors
/// [`PatternError`] if the gate file's pattern is not one. (The reader of the gate file has checked it before.)
///
/// # Example
/// ```
/// use relent::gate::{GateSection, LogsSection, names::place};
/// let gate: GateSection = toml::from_str("name = 'yard'\nmotion = 'sliding'\nleaf_height_mm = 1800").unwrap();
/// let logs: LogsSection = toml::from_str("names = '{direction}-{gap}-{height}-{repeat}'").unwrap();
/// let placed = place(&["closing-50-half-2.csv", "README.md"], &logs, &gate)?;
/// assert_eq!(placed.hits[0].point.height_mm, 900.0);
/// assert_eq!(placed.ignored, ["README.md"]);
/// # Ok::<(), relent::gate::PatternError>(())
/// ```
pub fn place<S: AsRef<str>>(
    files: &[S],
    logs: &LogsSection,
    gate: &GateSection,
) -> Result<Placed, PatternError> {
    let mut placed = Placed::default();
    let files = files.iter().map(|file| file.as_ref().replace('\\', "/"));
    match &logs.names {
        Some(names) => {
            let pattern = Pattern::parse(names)?;
            for file in files {
                if is_no_log(&file) {
                    placed.ignored.push(file);
                } else {
                    match by_name(&file, &pattern, gate) {
                        Ok(hit) => placed.hits.push(hit),
                        Err(problem) => placed.problems.push(problem),
                    }
                }
            }
        }
        None => by_list(files.collect(), logs, &mut placed),
    }
    placed.hits.sort_by(order);
    set_rivals_aside(&mut placed);
    placed.hits.retain(|hit| match beyond(hit, gate) {
        Some(problem) => {
            placed.problems.push(problem);
            false
        }
        None => true,
    });
    placed.ignored.sort();
    Ok(placed)
}

fn by_name(file: &str, pattern: &Pattern, gate: &GateSection) -> Result<PlacedLog, PlaceProblem> {
    let name = if pattern.names_extension() {
        last_part(file)
    } else {
        stem(last_part(file))
    };
    let readings = pattern.read(name);
    let reading = match readings.as_slice() {
        [one] => one,
        [first, second, ..] => {
            return Err(PlaceProblem::TwoReadings {
                file: file.to_owned(),
                pattern: pattern.to_string(),
                first: first.to_string(),
                second: second.to_string(),
            });
        }
        [] => {
            let (reached, expected) = pattern.stuck(name);
            let rest = last_part(file).get(reached..);
            return Err(PlaceProblem::DoesNotFit {
                file: file.to_owned(),
                pattern: pattern.to_string(),
                rest: rest.filter(|rest| !rest.is_empty()).map(str::to_owned),
                expected,
            });
        }
    };
    Ok(PlacedLog {
        file: file.to_owned(),
        point: point(file, reading, gate)?,
        repeat: reading.repeat,
    })
}

fn point(file: &str, reading: &ReadName, gate: &GateSection) -> Result<TestPoint, PlaceProblem> {
    let height = reading
        .place
        .resolve(gate)
        .ok_or_else(|| PlaceProblem::HeightUnknown {
            file: file.to_owned(),
            known_there: names_a_place(gate.motion, &reading.place.to_string()),
            word: reading.place.to_string(),
            motion: gate.motion,
        })?;
    Ok(TestPoint {
        direction: reading.direction,
        hazard: reading.hazard,
        gap_mm: reading.gap.get(),
        height_mm: height.get(),
    })
}

fn by_list(files: Vec<String>, logs: &LogsSection, placed: &mut Placed) {
    let mut seen: Vec<(String, usize)> = Vec::new();
    for listed in &logs.list {
        let file = listed.file.replace('\\', "/");
        if let Some((_, times)) = seen.iter_mut().find(|(known, _)| *known == file) {
            *times += 1;
            continue;
        }
        if !files.contains(&file) {
            placed
                .problems
                .push(PlaceProblem::NotThere { file: file.clone() });
        } else {
            placed.hits.push(PlacedLog {
                file: file.clone(),
                point: listed.point(),
                repeat: listed.repeat,
            });
        }
        seen.push((file, 1));
    }
    for (file, times) in seen.iter().filter(|(_, times)| *times > 1) {
        placed.hits.retain(|hit| hit.file != *file);
        placed.problems.push(PlaceProblem::ListedTwice {
            file: file.clone(),
            times: *times,
        });
    }
    for file in files {
        if seen.iter().any(|(known, _)| *known == file) {
            continue;
        }
        if is_no_log(&file) {
            placed.ignored.push(file);
        } else {
            placed.problems.push(PlaceProblem::NotListed { file });
        }
    }
}

/// Takes every log out of the hits that claims a hit another log claims.
fn set_rivals_aside(placed: &mut Placed) {
    let hits = std::mem::take(&mut placed.hits);
    for group in hits.chunk_by(same_hit) {
        if let [only] = group {
            placed.hits.push(only.clone());
        }
        for pair in group.windows(2) {
            placed.problems.push(PlaceProblem::SameHit {
                first: pair[0].file.clone(),
                second: pair[1].file.clone(),
                test_point: pair[0].point,
                repeat: pair[0].repeat,
            });
        }
    }
}

/// Why a hit is at a place that this gate does not have.
fn beyond(hit: &PlacedLog, gate: &GateSection) -> Option<PlaceProblem> {
    let TestPoint {
        gap_mm, height_mm, ..
    } = hit.point;
    let upright = gate.motion == Motion::Vertical;
    let (key, size) = match upright {
        true => ("clear_opening_mm", gate.clear_opening),
        false => ("leaf_height_mm", gate.leaf_height),
    };
    let file = hit.file.clone();
    if let Some(size) = size.filter(|size| height_mm > size.get()) {
        return Some(PlaceProblem::BeyondLeaf {
            file,
            height_mm,
            key: key.to_owned(),
            size_mm: size,
        });
    }
    let opening = gate.clear_opening.filter(|_| !upright);
    let opening = opening.filter(|opening| gap_mm > opening.get())?;
    Some(PlaceProblem::BeyondOpening {
        file,
        gap_mm,
        opening_mm: opening,
    })
}

fn same_hit(a: &PlacedLog, b: &PlacedLog) -> bool {
    a.point == b.point && a.repeat == b.repeat
}

fn order(a: &PlacedLog, b: &PlacedLog) -> Ordering {
    let key = |log: &PlacedLog| (log.point.direction, log.point.hazard);
    key(a)
        .cmp(&key(b))
        .then(a.point.gap_mm.total_cmp(&b.point.gap_mm))
        .then(a.point.height_mm.total_cmp(&b.point.height_mm))
        .then(a.repeat.cmp(&b.repeat))
        .then(a.file.cmp(&b.file))
}

/// True for files that lie beside logs and are none: notes, pictures, documents, what the system left behind.
///
/// Anything else must fit the pattern or be asked about; a log is never passed over in silence.
fn is_no_log(file: &str) -> bool {
    const ENDINGS: [&str; 25] = [
        "bmp", "db", "doc", "docx", "gif", "heic", "htm", "html", "ini", "jpeg", "jpg", "json",
        "lnk", "md", "mov", "mp4", "odt", "pdf", "png", "rtf", "svg", "tif", "tiff", "toml",
        "webp",
    ];
    if file.split('/').any(|part| part.starts_with('.')) {
        return true;
    }
    let name = last_part(file).to_ascii_lowercase();
    let plain = stem(&name);
    name.starts_with("~$")
        || matches!(plain, "readme" | "licence" | "license" | "notes")
        || name
            .rsplit_once('.')
            .is_some_and(|(_, ending)| ENDINGS.contains(&ending))
}

fn last_part(file: &str) -> &str {
    file.rsplit_once('/').map_or(file, |(_, name)| name)
}

fn stem(name: &str) -> &str {
    let name = match name
        .len()
        .checked_sub(3)
        .map(|at| name.split_at_checked(at))
    {
        Some(Some((inner, ending))) if ending.eq_ignore_ascii_case(".gz") => inner,
        _ => name,
    };
    name.rsplit_once('.').map_or(name, |(stem, ending)| {
        let is_ending = !stem.is_empty() && ending.chars().any(|c| c.is_ascii_alphabetic());
        if is_ending { stem } else { name }
    })
}

impl fmt::Display for ReadName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let direction = match self.direction {
            Direction::Closing => "closing",
            Direction::Opening => "opening",
        };
        write!(
            f,
            "{direction}, gap {}, height {}, repeat {}",
            self.gap, self.place, self.repeat
        )
    }
}
