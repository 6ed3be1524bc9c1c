//! The pattern of the logs' names: text with fields in braces.

use std::fmt;

use crate::fact::Fact;
use crate::limits::{Direction, Hazard, TestPoint};
use crate::quantity::Millimetre;

use super::place::Place;

/// The pattern of the logs' names.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    text: String,
    pieces: Vec<Piece>,
}

#[derive(Clone, Debug, PartialEq)]
enum Piece {
    Text(String),
    Field(Field),
}

/// What a name can say about a hit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Field {
    Direction,
    Hazard,
    Gap,
    Height,
    Repeat,
}

impl Field {
    const ALL: [(&'static str, Self); 5] = [
        ("direction", Self::Direction),
        ("hazard", Self::Hazard),
        ("gap", Self::Gap),
        ("height", Self::Height),
        ("repeat", Self::Repeat),
    ];

    /// What stands in its place in a name.
    const fn expected(self) -> &'static str {
        match self {
            Self::Direction => "closing or opening",
            Self::Hazard => "closing-edge, other-edge, flat-face or reducing-gap",
            Self::Gap => "the gap in mm",
            Self::Height => "the height in mm, or low, half or top",
            Self::Repeat => "the number of the hit, from 1",
        }
    }
}

impl fmt::Display for Field {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let known = Self::ALL.iter().find(|(_, field)| field == self);
        write!(f, "{{{}}}", known.map_or("", |(name, _)| name))
    }
}

/// Why a text is no pattern of names. `at` is where in the pattern, in bytes.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PatternError {
    /// A brace without its partner.
    #[error("`{brace}` without its partner")]
    LoneBrace {
        /// The brace.
        brace: char,
        /// Where.
        at: usize,
    },
    /// A field that is not known.
    #[error(
        "unknown field `{{{field}}}`: expected {{direction}}, {{hazard}}, {{gap}}, {{height}} or {{repeat}}"
    )]
    UnknownField {
        /// What stands between the braces.
        field: String,
        /// Where.
        at: usize,
    },
    /// A field that stands twice.
    #[error("{field} stands twice")]
    Twice {
        /// The field.
        field: Field,
        /// Where the second is.
        at: usize,
    },
    /// Two fields without text between them.
    #[error("nothing between {first} and {second}: a name could be read in more than one way")]
    Touching {
        /// The first.
        first: Field,
        /// The second.
        second: Field,
        /// Where the second is.
        at: usize,
    },
    /// A field without which a hit has no place.
    #[error("no {field}: without it the place of a hit is not known")]
    Lacks {
        /// The field.
        field: Field,
    },
    /// A folder in the pattern.
    #[error("`{separator}` in a pattern: it is held against the name of a file, not its folder")]
    Folder {
        /// `/` or `\`.
        separator: char,
        /// Where.
        at: usize,
    },
}

impl PatternError {
    /// Where in the pattern, in bytes; `None` where the whole of it is meant.
    #[must_use]
    pub const fn at(&self) -> Option<usize> {
        match self {
            Self::LoneBrace { at, .. }
            | Self::UnknownField { at, .. }
            | Self::Twice { at, .. }
            | Self::Touching { at, .. }
            | Self::Folder { at, .. } => Some(*at),
            Self::Lacks { .. } => None,
        }
    }
}

/// What a name says about the hit in its file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ReadName {
    pub(super) direction: Direction,
    pub(super) hazard: Hazard,
    pub(super) gap: Millimetre,
    pub(super) place: Place,
    pub(super) repeat: u32,
}

impl Pattern {
    /// Reads a pattern.
    ///
    /// # Errors
    /// [`PatternError`]
    pub fn parse(text: &str) -> Result<Self, PatternError> {
        let mut pieces: Vec<Piece> = Vec::new();
        let mut from = 0;
        while let Some(offset) = text[from..].find(['{', '}', '/', '\\']) {
            let at = from + offset;
            if offset > 0 {
                pieces.push(Piece::Text(text[from..at].to_owned()));
            }
            let (field, length) = Self::field(&text[at..], at)?;
            for (index, piece) in pieces.iter().enumerate() {
                if let Piece::Field(first) = *piece {
                    if first == field {
                        return Err(PatternError::Twice { field, at });
                    }
                    if index + 1 == pieces.len() {
                        let second = field;
                        return Err(PatternError::Touching { first, second, at });
                    }
                }
            }
            pieces.push(Piece::Field(field));
            from = at + length;
        }
        if from < text.len() {
            pieces.push(Piece::Text(text[from..].to_owned()));
        }
        for field in [Field::Direction, Field::Gap, Field::Height] {
            if !pieces.contains(&Piece::Field(field)) {
                return Err(PatternError::Lacks { field });
            }
        }
        let text = text.to_owned();
        Ok(Self { text, pieces })
    }

    /// The field at the start of `rest`, and its length.
    fn field(rest: &str, at: usize) -> Result<(Field, usize), PatternError> {
        match rest.chars().next() {
            Some('{') => {}
            Some(separator @ ('/' | '\\')) => return Err(PatternError::Folder { separator, at }),
            _ => return Err(PatternError::LoneBrace { brace: '}', at }),
        }
        let Some((name, _)) = rest[1..].split_once('}') else {
            return Err(PatternError::LoneBrace { brace: '{', at });
        };
        match Field::ALL.iter().find(|(known, _)| *known == name) {
            Some((_, field)) => Ok((*field, name.len() + 2)),
            None => Err(PatternError::UnknownField {
                field: name.to_owned(),
                at,
            }),
        }
    }

    /// Whether the pattern ends in an extension, so that the whole name is held against it.
    pub(super) fn names_extension(&self) -> bool {
        matches!(self.pieces.last(), Some(Piece::Text(text)) if text.contains('.'))
    }

    /// Every way in which the whole of `name` fits; more than one only where the pattern's own text could be part of a
    /// number.
    pub(super) fn read(&self, name: &str) -> Vec<ReadName> {
        let mut found = Vec::new();
        self.walk(name, 0, Found::default(), &mut |found_here, rest| {
            if rest.is_empty()
                && let Some(reading) = found_here.complete()
                && !found.contains(&reading)
            {
                found.push(reading);
            }
        });
        found
    }

    /// The name under which the log of a hit is saved, with `.csv` at its end where the pattern names no extension; `None`
    /// where the name would not say all of the hit: the part of the leaf or the number of the hit has no field.
    ///
    /// # Example
    /// ```
    /// use relent::gate::Pattern;
    /// use relent::limits::{Direction, Hazard, TestPoint};
    /// let pattern = Pattern::parse("{direction}-{gap}-{height}-{repeat}")?;
    /// let point = TestPoint { direction: Direction::Closing, hazard: Hazard::ClosingEdge, gap_mm: 50.0, height_mm: 900.0 };
    /// assert_eq!(pattern.name_of(&point, 2).as_deref(), Some("closing-50-900-2.csv"));
    /// let other = TestPoint { hazard: Hazard::OtherEdge, ..point };
    /// assert_eq!(pattern.name_of(&other, 2), None);
    /// # Ok::<(), relent::gate::PatternError>(())
    /// ```
    #[must_use]
    pub fn name_of(&self, point: &TestPoint, repeat: u32) -> Option<String> {
        let write = |piece: &Piece| match piece {
            Piece::Text(text) => text.clone(),
            Piece::Field(Field::Direction) => point.direction.code(),
            Piece::Field(Field::Hazard) => point.hazard.code(),
            Piece::Field(Field::Gap) => point.gap_mm.to_string(),
            Piece::Field(Field::Height) => point.height_mm.to_string(),
            Piece::Field(Field::Repeat) => repeat.to_string(),
        };
        let name: String = self.pieces.iter().map(write).collect();
        let [read] = self.read(&name)[..] else {
            return None;
        };
        let meant = ReadName {
            direction: point.direction,
            hazard: point.hazard,
            gap: Millimetre(point.gap_mm),
            place: Place::At(Millimetre(point.height_mm)),
            repeat,
        };
        let ending = if self.names_extension() { "" } else { ".csv" };
        (read == meant).then(|| name + ending)
    }

    /// How many bytes of `name` fit, and what was expected after them.
    pub(super) fn stuck(&self, name: &str) -> (usize, String) {
        let (mut reached, mut expected) = (0, String::new());
        for index in (0..self.pieces.len()).rev() {
            let part = Self {
                text: String::new(),
                pieces: self.pieces[..index].to_vec(),
            };
            let mut best = None;
            part.walk(name, 0, Found::default(), &mut |_, rest| {
                best = best.max(Some(name.len() - rest.len()));
            });
            if let Some(length) = best {
                reached = length;
                expected = match &self.pieces[index] {
                    Piece::Text(text) => format!("`{text}`"),
                    Piece::Field(field) => field.expected().to_owned(),
                };
                break;
            }
        }
        let mut whole = 0;
        self.walk(name, 0, Found::default(), &mut |_, rest| {
            whole = whole.max(name.len() - rest.len());
        });
        if whole > 0 {
            return (whole, "the end of the name".to_owned());
        }
        (reached, expected)
    }

    fn walk(&self, rest: &str, index: usize, found: Found, ready: &mut dyn FnMut(Found, &str)) {
        match self.pieces.get(index) {
            None => ready(found, rest),
            Some(Piece::Text(text)) => {
                if let Some(start) = rest.get(..text.len())
                    && start.eq_ignore_ascii_case(text)
                {
                    self.walk(&rest[text.len()..], index + 1, found, ready);
                }
            }
            Some(Piece::Field(field)) => {
                for length in (1..=rest.len())
                    .rev()
                    .filter(|at| rest.is_char_boundary(*at))
                {
                    let mut with = found;
                    if with.take(*field, &rest[..length]) {
                        self.walk(&rest[length..], index + 1, with, ready);
                    }
                }
            }
        }
    }
}

impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// What was found so far in a name.
#[derive(Clone, Copy, Debug, Default)]
struct Found {
    direction: Option<Direction>,
    hazard: Option<Hazard>,
    gap: Option<Millimetre>,
    place: Option<Place>,
    repeat: Option<u32>,
}

impl Found {
    /// Takes `text` as the value of `field`; false where it cannot be one.
    fn take(&mut self, field: Field, text: &str) -> bool {
        let word = text.to_ascii_lowercase();
        match field {
            Field::Direction => {
                self.direction = match word.as_str() {
                    "closing" => Some(Direction::Closing),
                    "opening" => Some(Direction::Opening),
                    _ => None,
                };
                self.direction.is_some()
            }
            Field::Hazard => {
                self.hazard = match word.as_str() {
                    "closing-edge" => Some(Hazard::ClosingEdge),
                    "other-edge" => Some(Hazard::OtherEdge),
                    "flat-face" => Some(Hazard::FlatFace),
                    "reducing-gap" => Some(Hazard::ReducingGap),
                    _ => None,
                };
                self.hazard.is_some()
            }
            Field::Gap => {
                self.gap = millimetres(text);
                self.gap.is_some()
            }
            Field::Height => {
                let mut words = Place::UP.iter().chain(&Place::ACROSS);
                self.place = words
                    .find(|(known, _)| *known == word)
                    .map(|(_, place)| *place)
                    .or_else(|| millimetres(text).map(Place::At));
                self.place.is_some()
            }
            Field::Repeat => {
                let digits = text.bytes().all(|byte| byte.is_ascii_digit());
                self.repeat = text.parse().ok().filter(|number| digits && *number > 0);
                self.repeat.is_some()
            }
        }
    }

    /// A hazard that no name gives is the main closing edge; a pattern without `{repeat}` has one hit at each place.
    fn complete(self) -> Option<ReadName> {
        Some(ReadName {
            direction: self.direction?,
            hazard: self.hazard.unwrap_or(Hazard::ClosingEdge),
            gap: self.gap?,
            place: self.place?,
            repeat: self.repeat.unwrap_or(1),
        })
    }
}

/// Digits, with a decimal point or comma inside, as mm; `None` for anything else.
fn millimetres(text: &str) -> Option<Millimetre> {
    let mark = |c| matches!(c, '.' | ',');
    let plain = text.chars().all(|c| c.is_ascii_digit() || mark(c));
    if !plain || text.starts_with(mark) || text.ends_with(mark) {
        return None;
    }
    let number: f64 = text.replace(',', ".").parse().ok()?;
    number.is_finite().then_some(Millimetre(number))
}
