//! Proposes how a log is written from a bounded part of its head, and shows what it saw. Two dialects that fit are a question.

use super::choice;
use super::dialect::{Dialect, ShortRows, Source};
use super::fit::Fit;
use super::heads::Head;
use super::marks;
use super::preamble::Preamble;
use super::sample;
use super::shape::Shapes;
use super::start;
use crate::ingest::decode;
use crate::ingest::tokens::cells::{LONGEST_LINE, Line, Lines, WIDEST, shown};
use crate::ingest::tokens::delimiter::Delimiter;
use crate::ingest::tokens::number;
use crate::ingest::{Answers, Ask, Kind, Notice, Noticed, Question, ReadError};

/// What was proposed.
pub(in crate::ingest) struct Proposal {
    pub(in crate::ingest) dialect: Dialect,
    pub(in crate::ingest) preamble: Preamble,
    pub(in crate::ingest) questions: Vec<Question>,
    pub(in crate::ingest) notices: Vec<Notice>,
}

/// How many lines are looked at: more only while no rows of numbers were found.
const LOOKS: [usize; 4] = [24, 600, 8_000, 200_000];

const DELIMITERS: [Delimiter; 6] = [
    Delimiter::Byte(b';'),
    Delimiter::Byte(b'\t'),
    Delimiter::Byte(b','),
    Delimiter::Byte(b'|'),
    Delimiter::Blanks,
    Delimiter::None,
];

/// Proposes a dialect for a decoded text, whose first line has a number.
pub(in crate::ingest) fn propose(
    text: &[u8],
    first_line: u64,
    answers: &Answers,
) -> Result<Proposal, ReadError> {
    if let Some(what) = decode::other_format(text) {
        return Err(ReadError::OtherFormat { what });
    }
    for (look, most) in LOOKS.iter().enumerate() {
        let mut lines: Vec<Line<'_>> = Lines::new(text, 0, first_line).take(*most).collect();
        check_lengths(&lines)?;
        let whole = lines.len() < *most;
        if whole && lines.len() > 2 && !text.ends_with(b"\n") {
            lines.pop();
        }
        let early = Preamble::read(&lines[..lines.len().min(64)]);
        let wanted = wanted(answers, &early);
        let fits = fits(text, &lines, wanted)?;
        let sure = look > 0 || fits.iter().any(|fit| fit.sure);
        let enough = sure && fits.iter().any(|fit| fit.block.rows >= 16);
        if fits.is_empty() || !(enough || whole) {
            if whole || look + 1 == LOOKS.len() {
                return match (fits.is_empty(), answers.delimiter) {
                    (true, Some(delimiter)) => Err(no_fit(text, &lines, delimiter, answers)),
                    (true, None) => Err(no_numbers(&lines)),
                    (false, _) => Ok(dialect(text, &lines, fits, answers)),
                };
            }
            continue;
        }
        return Ok(dialect(text, &lines, fits, answers));
    }
    Err(no_numbers(&[]))
}

fn check_lengths(lines: &[Line<'_>]) -> Result<(), ReadError> {
    match lines.iter().find(|line| line.text.len() > LONGEST_LINE) {
        Some(line) => Err(ReadError::LineTooLong {
            line: line.number,
            bytes: line.text.len(),
            most: LONGEST_LINE,
        }),
        None => Ok(()),
    }
}

/// The delimiter that a person or the log itself names.
fn wanted(answers: &Answers, preamble: &Preamble) -> Option<Delimiter> {
    match answers.delimiter {
        Some(' ') => Some(Delimiter::Blanks),
        Some(c) => u8::try_from(c).ok().map(Delimiter::Byte),
        None => preamble.delimiter,
    }
}

/// The delimiters that make rows of numbers of some lines of a text.
fn fits(text: &[u8], lines: &[Line<'_>], wanted: Option<Delimiter>) -> Result<Vec<Fit>, ReadError> {
    let looked_at = match lines {
        [first, .., last] => &text[first.start..last.start + last.text.len()],
        [line] => line.text,
        [] => &[],
    };
    let mut fits = Vec::new();
    let tried: Vec<Delimiter> = match wanted {
        // A delimiter that is named and stands nowhere: the log is one column.
        Some(named) if !occurs(looked_at, named) => vec![Delimiter::None],
        Some(named) => vec![named],
        None => DELIMITERS.to_vec(),
    };
    for delimiter in tried.into_iter().filter(|it| occurs(looked_at, *it)) {
        if delimiter == Delimiter::None && fits.iter().any(Fit::leaves_no_doubt) {
            continue;
        }
        let shapes = Shapes::of(lines, delimiter);
        if let Some(line) = shapes.too_wide(WIDEST) {
            if wanted.is_some() || delimiter != Delimiter::Blanks {
                return Err(ReadError::TooManyCells { line, most: WIDEST });
            }
            continue;
        }
        if let Some(block) = shapes.block() {
            let fit = Fit::new(lines, delimiter, block);
            fits.push(start::later(lines, &fit).unwrap_or(fit));
        }
    }
    Ok(fits)
}

/// Whether a delimiter occurs at all.
fn occurs(text: &[u8], delimiter: Delimiter) -> bool {
    match delimiter {
        Delimiter::Byte(wanted) => memchr::memchr(wanted, text).is_some(),
        Delimiter::Blanks => memchr::memchr2(b' ', b'\t', text).is_some(),
        Delimiter::None => true,
    }
}

fn no_numbers(lines: &[Line<'_>]) -> ReadError {
    let first = lines
        .iter()
        .find(|line| !number::trim(line.text).is_empty());
    let control = lines
        .iter()
        .flat_map(|line| line.text.iter())
        .any(|byte| *byte < 32 && !matches!(byte, b'\t' | b'\r' | 12));
    match first {
        None => ReadError::Empty,
        Some(line) if control => ReadError::Binary { line: line.number },
        Some(line) => ReadError::NoNumbers {
            line: line.number,
            found: shown(line.text),
        },
    }
}

fn no_fit(text: &[u8], lines: &[Line<'_>], delimiter: char, answers: &Answers) -> ReadError {
    let open = Answers {
        delimiter: None,
        ..answers.clone()
    };
    match fits(text, lines, wanted(&open, &Preamble::default())) {
        Ok(fits) if !fits.is_empty() => ReadError::DelimiterDoesNotFit {
            line: lines[fits[0].block.first].number,
            delimiter,
            found: shown(lines[fits[0].block.first].text),
        },
        _ => no_numbers(lines),
    }
}

/// Declares the dialect of the chosen delimiter.
fn dialect(text: &[u8], lines: &[Line<'_>], fits: Vec<Fit>, answers: &Answers) -> Proposal {
    let (fit, mut questions) = choice::choose(lines, fits);
    let (block, delimiter, mut heads) = (&fit.block, fit.delimiter, fit.heads);
    let above = &lines[..block.first];
    let mut preamble = Preamble::read(above);
    let placed = delimiter.char() == preamble.units_by
        && heads
            .iter()
            .zip(&preamble.units)
            .all(|(head, unit)| head.may_have(unit));
    if heads.len() >= block.width && preamble.units.len() > 1 && placed {
        for (head, unit) in heads.iter_mut().zip(&preamble.units) {
            head.take_unit(unit);
        }
    }
    let rows = &lines[block.first..];
    let seen = marks::seen(text, rows, delimiter, block.width);
    if delimiter == Delimiter::Byte(b',') && answers.decimal_mark.is_none() {
        let commas = marks::unquoted_commas(&seen, block, &heads, &lines[block.first]);
        questions.extend(commas);
    }
    let mark = marks::decide(&seen, preamble.mark, answers, &mut questions);
    let mark_from = if answers.decimal_mark.is_some() {
        Source::Person
    } else {
        Source::Log
    };
    let joined = mark_from == Source::Person && delimiter == Delimiter::Byte(b',');
    let width = if heads.len() >= 2 && (block.ragged() || joined) && heads.len() <= block.widest {
        heads.len()
    } else {
        block.width
    };
    preamble.units.clear();
    let columns = sample::columns(rows, delimiter, mark, width);
    units_in_cells(&mut heads, &columns);
    let notices = remarks(above, stack_lines(&heads));
    Proposal {
        dialect: Dialect {
            delimiter,
            mark,
            mark_from,
            mark_open: questions.iter().any(|it| it.ask == Ask::DecimalMark),
            ragged: block.ragged(),
            short_rows: if block.ragged() && answers.force.is_some() {
                ShortRows::EndEarly
            } else {
                ShortRows::Lost
            },
            width,
            first_line: lines[block.first].number,
            first_byte: lines[block.first].start,
            columns,
            heads,
        },
        preamble,
        questions,
        notices,
    }
}

/// Gives a head without a unit the unit that stands in the cells below it, or in those beside them.
fn units_in_cells(heads: &mut Vec<Head>, columns: &[sample::Column]) {
    let beside = |at: usize| {
        let next = columns.get(at + 1);
        next.filter(|_| Head::holds_units(heads.get(at + 1)))
            .and_then(sample::Column::unit_of_the_one_before)
    };
    let units: Vec<Option<String>> = columns
        .iter()
        .enumerate()
        .map(|(at, column)| {
            let unit = column.unit.as_deref().or_else(|| beside(at));
            unit.filter(|_| column.numbers > 0).map(str::to_owned)
        })
        .collect();
    if units.iter().all(Option::is_none) {
        return;
    }
    if heads.is_empty() {
        heads.resize(columns.len(), Head::default());
    }
    for (head, unit) in heads.iter_mut().zip(units) {
        if let Some(unit) = unit {
            head.take_unit(&unit);
        }
    }
}

/// Number of lines nearest to the rows that hold heads and are no remarks.
fn stack_lines(heads: &[Head]) -> usize {
    usize::from(!heads.is_empty())
}

/// The lines above the heads, for a person to see.
fn remarks(above: &[Line<'_>], heads: usize) -> Vec<Notice> {
    let filled: Vec<&Line<'_>> = above
        .iter()
        .filter(|line| line.text.iter().any(u8::is_ascii_alphanumeric))
        .collect();
    let kept = filled.len().saturating_sub(heads);
    filled[..kept]
        .iter()
        .map(|line| Notice {
            kind: Kind::Remark,
            line: Some(line.number),
            fact: Noticed::Remark {
                found: shown(number::trim(line.text)),
            },
        })
        .collect()
}
