//! Proposes how a log is written from a bounded part of its head, and shows what it saw. Two dialects that fit are a question.

use super::cells::{self, Line, Lines, shown};
use super::dialect::{Delimiter, Dialect, ShortRows, Source};
use super::heads::Head;
use super::preamble::Preamble;
use super::shape::{Block, Shapes};
use super::stack::Stack;
use super::{Answers, Ask, Notice, Question, ReadError, encoding, marks, number, sample, start};

/// What was proposed.
pub(super) struct Proposal {
    pub(super) dialect: Dialect,
    pub(super) preamble: Preamble,
    pub(super) questions: Vec<Question>,
    pub(super) notices: Vec<Notice>,
}

/// How many lines are looked at: more only while no rows of numbers were found.
const LOOKS: [usize; 4] = [24, 600, 8_000, 200_000];

/// The most cells a row may have.
pub(super) const WIDEST: usize = 4096;

/// The longest line, in bytes.
pub(super) const LONGEST_LINE: usize = 1 << 20;

const DELIMITERS: [Delimiter; 6] = [
    Delimiter::Byte(b';'),
    Delimiter::Byte(b'\t'),
    Delimiter::Byte(b','),
    Delimiter::Byte(b'|'),
    Delimiter::Blanks,
    Delimiter::None,
];

/// A delimiter that fits, with the rows it makes.
struct Fit {
    delimiter: Delimiter,
    block: Block,
    heads: usize,
    /// Whether its heads name a clock and a force.
    sure: bool,
}

/// Proposes a dialect for a decoded text.
pub(super) fn propose(text: &[u8], answers: &Answers) -> Result<Proposal, ReadError> {
    if let Some(what) = encoding::other_format(text) {
        return Err(ReadError::OtherFormat { what });
    }
    for (look, most) in LOOKS.iter().enumerate() {
        let mut lines: Vec<Line<'_>> = Lines::new(text, 0, 1).take(*most).collect();
        check_lengths(&lines)?;
        let whole = lines.len() < *most;
        if whole && lines.len() > 2 && !text.ends_with(b"\n") {
            lines.pop();
        }
        let early = Preamble::read(&lines[..lines.len().min(64)]);
        let wanted = wanted(answers, &early);
        let fits = fits(&lines, wanted)?;
        let sure = look > 0 || fits.iter().any(|fit| fit.sure);
        let enough = sure && fits.iter().any(|fit| fit.block.rows >= 16);
        if fits.is_empty() || !(enough || whole) {
            if whole || look + 1 == LOOKS.len() {
                return match (fits.is_empty(), answers.delimiter) {
                    (true, Some(delimiter)) => Err(no_fit(&lines, delimiter, answers)),
                    (true, None) => Err(no_numbers(&lines)),
                    (false, _) => Ok(choose(text, &lines, fits, answers)),
                };
            }
            continue;
        }
        return Ok(choose(text, &lines, fits, answers));
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

fn fits(lines: &[Line<'_>], wanted: Option<Delimiter>) -> Result<Vec<Fit>, ReadError> {
    let mut fits = Vec::new();
    let tried = wanted.as_slice();
    let tried = if tried.is_empty() { &DELIMITERS } else { tried };
    for delimiter in tried.iter().copied() {
        if !occurs(lines, delimiter) {
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
            let block = start::later(lines, delimiter, &block).unwrap_or(block);
            let stack = Stack::gather(&lines[..block.first], delimiter, block.width);
            fits.push(Fit {
                delimiter,
                heads: stack.cells(),
                sure: start::names_clock_and_force(&stack.heads()),
                block,
            });
        }
    }
    Ok(fits)
}

/// Whether a delimiter occurs at all.
fn occurs(lines: &[Line<'_>], delimiter: Delimiter) -> bool {
    let byte = |byte: u8| {
        lines
            .iter()
            .any(|line| memchr::memchr(byte, line.text).is_some())
    };
    match delimiter {
        Delimiter::Byte(wanted) => byte(wanted),
        Delimiter::Blanks => byte(b' ') || byte(b'\t'),
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

fn no_fit(lines: &[Line<'_>], delimiter: char, answers: &Answers) -> ReadError {
    let open = Answers {
        delimiter: None,
        ..answers.clone()
    };
    match fits(lines, wanted(&open, &Preamble::default())) {
        Ok(fits) if !fits.is_empty() => ReadError::DelimiterDoesNotFit {
            line: lines[fits[0].block.first].number,
            delimiter,
            found: shown(lines[fits[0].block.first].text),
        },
        _ => no_numbers(lines),
    }
}

/// Leaves out a delimiter that makes fewer columns of numbers than another, and more of text: it tears cells.
fn leave_torn(fits: &mut Vec<Fit>) {
    let made: Vec<(usize, usize)> = fits
        .iter()
        .map(|fit| (fit.block.numeric, fit.block.texts))
        .collect();
    fits.retain(|fit| {
        let worse = |(numeric, texts): &(usize, usize)| {
            *numeric > fit.block.numeric && *texts < fit.block.texts
        };
        fit.delimiter == Delimiter::None || !made.iter().any(worse)
    });
}

/// Whether blanks leave another delimiter as a cell of its own in most rows: `0.001 ; 412.5`.
fn leaves_delimiters(fit: &Fit, lines: &[Line<'_>]) -> bool {
    const SIGNS: [&[u8]; 3] = [b";", b",", b"|"];
    if fit.delimiter != Delimiter::Blanks {
        return false;
    }
    let (rows, mut cells, mut left) = (&lines[fit.block.first..], Vec::new(), 0);
    for line in rows {
        cells::split(line.text, fit.delimiter, &mut cells);
        left += usize::from(cells.iter().any(|cell| SIGNS.contains(&cell.as_ref())));
    }
    left * 2 > rows.len()
}

/// Chooses the delimiter that the log leaves no doubt about, or the likeliest one with a question.
fn choose(text: &[u8], lines: &[Line<'_>], mut fits: Vec<Fit>, answers: &Answers) -> Proposal {
    let mut questions = Vec::new();
    let lines_at_most = fits.iter().map(|fit| fit.block.lines).max().unwrap_or(1);
    let share = |fit: &Fit| fit.block.rows as f64 / lines_at_most as f64;
    let best = fits.iter().map(share).fold(0.0, f64::max);
    fits.retain(|fit| share(fit) >= best - 0.2);
    leave_torn(&mut fits);
    if fits.len() > 1 {
        fits.retain(|fit| !leaves_delimiters(fit, lines));
    }
    if fits
        .iter()
        .any(|fit| fit.delimiter == Delimiter::Byte(b'\t'))
    {
        fits.retain(|fit| fit.delimiter != Delimiter::Blanks);
    }
    let headed = |fit: &Fit| fit.heads == fit.block.width;
    let wide: Vec<usize> = (0..fits.len())
        .filter(|at| fits[*at].delimiter != Delimiter::None)
        .collect();
    let headed_wide: Vec<usize> = wide
        .iter()
        .copied()
        .filter(|at| headed(&fits[*at]))
        .collect();
    let bare = fits.iter().position(|fit| fit.delimiter == Delimiter::None);
    let chosen = match (headed_wide.as_slice(), wide.as_slice(), bare) {
        ([one], _, _) => *one,
        ([], [one], None) => *one,
        ([], [], Some(bare)) => bare,
        ([], [one], Some(bare)) => {
            if fits[bare].heads == 1 && fits[*one].heads != fits[*one].block.width {
                bare
            } else {
                let line = &lines[fits[bare].block.first];
                questions.push(two_fit(line, fits[*one].delimiter));
                *one
            }
        }
        (several, all, _) => {
            let among = if several.is_empty() { all } else { several };
            let most = among
                .iter()
                .copied()
                .max_by_key(|at| (fits[*at].block.rows, fits[*at].block.width))
                .unwrap_or(0);
            questions.push(delimiters(&lines[fits[most].block.first], &fits, among));
            most
        }
    };
    let fit = fits.swap_remove(chosen);
    dialect(text, lines, &fit, answers, questions)
}

fn two_fit(line: &Line<'_>, delimiter: Delimiter) -> Question {
    Question {
        ask: Ask::Delimiter,
        text: format!(
            "line {}: `{}` is one number with a decimal comma, or several cells parted by {}; nothing in the log decides",
            line.number,
            shown(line.text),
            delimiter.words()
        ),
        answer_with: "--delimiter , (cells) or --delimiter ';' --decimal-mark , (one number)"
            .to_owned(),
    }
}

fn delimiters(line: &Line<'_>, fits: &[Fit], among: &[usize]) -> Question {
    let words: Vec<String> = among.iter().map(|at| fits[*at].delimiter.words()).collect();
    Question {
        ask: Ask::Delimiter,
        text: format!(
            "line {}: `{}` makes cells of numbers with {}; nothing in the log decides",
            line.number,
            shown(line.text),
            words.join(" and with ")
        ),
        answer_with: "--delimiter CHARACTER".to_owned(),
    }
}

/// Declares the dialect of the chosen delimiter.
fn dialect(
    text: &[u8],
    lines: &[Line<'_>],
    fit: &Fit,
    answers: &Answers,
    mut questions: Vec<Question>,
) -> Proposal {
    let (block, delimiter) = (&fit.block, fit.delimiter);
    let above = &lines[..block.first];
    let stack = Stack::gather(above, delimiter, block.width);
    let mut preamble = Preamble::read(above);
    let mut heads = stack.heads();
    if heads.len() >= block.width && preamble.units.len() > 1 {
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
    let evidence = format!(
        "delimiter {}, decimal mark `{}`: {} of the {} lines looked at from line {} on are rows of {} cells",
        delimiter.words(),
        mark.char(),
        block.rows,
        block.lines,
        lines[block.first].number,
        width
    );
    Proposal {
        dialect: Dialect {
            delimiter,
            mark,
            mark_from,
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
            evidence,
        },
        preamble,
        questions,
        notices,
    }
}

/// Gives a head without a unit the unit that stands in the cells below it.
fn units_in_cells(heads: &mut Vec<Head>, columns: &[sample::Column]) {
    let unit = |at: usize| {
        let beside = columns.get(at + 1);
        let beside = || beside.and_then(sample::Column::unit_of_the_one_before);
        columns[at].unit.as_deref().or_else(beside)
    };
    if (0..columns.len()).all(|at| unit(at).is_none()) {
        return;
    }
    if heads.is_empty() {
        heads.resize(columns.len(), Head::default());
    }
    for (at, head) in heads.iter_mut().enumerate().take(columns.len()) {
        if let Some(unit) = unit(at).filter(|_| columns[at].numbers > 0) {
            head.take_unit(unit);
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
            kind: "remark",
            line: Some(line.number),
            text: format!("`{}`", shown(number::trim(line.text))),
        })
        .collect()
}
