//! Which decimal mark a log uses: what its cells prove, what they leave open, and the question where that is not enough.

use super::heads::Head;
use super::shape;
use super::shape::Block;
use crate::ingest::tokens::cells::{self, Cells, LONGEST_LINE, Line, Lines, shown};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Grouping, Value};
use crate::ingest::{Answers, Ask, Doubt, Question};

/// The first cell that shows something.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Shown {
    line: u64,
    text: String,
}

/// What the cells of a column show.
#[derive(Clone, Debug, Default)]
pub(in crate::ingest) struct Seen {
    /// A cell that is a number only with a decimal point.
    point: Option<Shown>,
    /// A cell that is a number only with a decimal comma.
    comma: Option<Shown>,
    /// A cell that is a number with either, and another number with each.
    either: Option<Shown>,
}

impl Seen {
    fn look(&mut self, line: u64, cell: &[u8]) {
        let cell = number::trim(cell);
        let shows_nothing_new =
            |mark, seen: &Option<Shown>| seen.is_some() && number::needs_mark(cell, mark);
        if memchr::memchr2(b'.', b',', cell).is_none()
            || shows_nothing_new(Mark::Point, &self.point)
            || shows_nothing_new(Mark::Comma, &self.comma)
        {
            return;
        }
        let read = |mark| match number::value(cell, mark) {
            Value::Number(number) => Some(number),
            _ => number::with_unit(cell, mark).map(|(number, _)| number),
        };
        let slot = match (read(Mark::Point), read(Mark::Comma)) {
            (Some(point), Some(comma)) => {
                let lone = point.grouping == Grouping::Lone || comma.grouping == Grouping::Lone;
                if !lone {
                    return;
                }
                &mut self.either
            }
            (Some(_), None) => &mut self.point,
            (None, Some(_)) => &mut self.comma,
            (None, None) => return,
        };
        if slot.is_none() {
            *slot = Some(Shown {
                line,
                text: shown(cell),
            });
        }
    }

    fn settled(&self) -> bool {
        self.point.is_some() || self.comma.is_some()
    }
}

/// How many lines with a mark are looked at beyond the head of the log.
const FURTHER: usize = 400;

/// Looks at the rows of the head, and where they do not settle the mark, at lines further down that have one.
pub(in crate::ingest) fn seen<'a>(
    text: &'a [u8],
    rows: &[Line<'a>],
    delimiter: Delimiter,
    width: usize,
) -> Vec<Seen> {
    let mut seen = vec![Seen::default(); width];
    let mut found: Cells<'a> = Vec::new();
    for line in rows {
        look(&mut seen, line, delimiter, width, &mut found);
    }
    if seen.iter().any(Seen::settled) {
        return seen;
    }
    let Some(last) = rows.last() else { return seen };
    let mut left = FURTHER;
    for line in Lines::new(text, last.start, last.number).skip(1) {
        if memchr::memchr2(b'.', b',', line.text).is_none() {
            continue;
        }
        look(&mut seen, &line, delimiter, width, &mut found);
        left -= 1;
        if seen.iter().any(Seen::settled) || left == 0 {
            break;
        }
    }
    seen
}

fn look<'a>(
    seen: &mut [Seen],
    line: &Line<'a>,
    delimiter: Delimiter,
    width: usize,
    found: &mut Cells<'a>,
) {
    if line.text.len() > LONGEST_LINE || shape::is_remark(line.text, delimiter) {
        return;
    }
    cells::split(line.text, delimiter, found);
    let like_a_row = found.len() <= width
        && found
            .iter()
            .any(|cell| shape::kind(cell) == shape::Kind::Number);
    if like_a_row {
        for (seen, cell) in seen.iter_mut().zip(found.iter()) {
            seen.look(line.number, cell);
        }
    }
}

/// Decides the mark of most columns, or asks. A column that proves the other mark keeps it.
pub(in crate::ingest) fn decide(
    seen: &[Seen],
    declared: Option<Mark>,
    answers: &Answers,
    questions: &mut Vec<Question>,
) -> Mark {
    match answers.decimal_mark {
        Some(',') => return Mark::Comma,
        Some(_) => return Mark::Point,
        None => {}
    }
    let both = seen
        .iter()
        .find_map(|seen| seen.point.as_ref().zip(seen.comma.as_ref()));
    if let Some((point, comma)) = both {
        questions.push(ask(Doubt::TwoMarks {
            point_line: point.line,
            point: point.text.clone(),
            comma_line: comma.line,
            comma: comma.text.clone(),
        }));
        return Mark::Point;
    }
    let points = || seen.iter().filter_map(|seen| seen.point.as_ref());
    let commas = || seen.iter().filter_map(|seen| seen.comma.as_ref());
    let either = seen.iter().find_map(|seen| seen.either.as_ref());
    match (points().next(), commas().next()) {
        (Some(_), Some(_)) if points().count() > commas().count() => Mark::Point,
        (Some(_), Some(_)) => Mark::Comma,
        (Some(point), None) => {
            against(declared, Mark::Point, point, questions);
            Mark::Point
        }
        (None, Some(comma)) => {
            against(declared, Mark::Comma, comma, questions);
            Mark::Comma
        }
        (None, None) => match (either, declared) {
            (_, Some(mark)) => mark,
            (None, None) => Mark::Point,
            (Some(either), None) => {
                questions.push(ask(Doubt::MarkOpen {
                    line: either.line,
                    found: either.text.clone(),
                }));
                Mark::Point
            }
        },
    }
}

fn ask(doubt: Doubt) -> Question {
    Question {
        ask: Ask::DecimalMark,
        doubt,
    }
}

/// Rows with more cells than heads, and no decimal point in them: commas may be decimal marks and delimiters at once.
pub(in crate::ingest) fn unquoted_commas(
    seen: &[Seen],
    block: &Block,
    heads: &[Head],
    line: &Line<'_>,
) -> Option<Question> {
    let filled = heads.iter().filter(|head| !head.text.is_empty()).count();
    if seen.iter().any(|seen| seen.point.is_some()) || filled == 0 || block.widest <= filled {
        return None;
    }
    Some(ask(Doubt::CommasMayBeMarks {
        line: line.number,
        found: shown(line.text),
        cells: block.widest,
        heads: filled,
    }))
}

/// A mark that the log declares and does not use is a question.
fn against(declared: Option<Mark>, used: Mark, cell: &Shown, questions: &mut Vec<Question>) {
    if declared.is_some_and(|declared| declared != used) {
        questions.push(ask(Doubt::MarkContradicted {
            declared: used.other().char(),
            used: used.char(),
            line: cell.line,
            found: cell.text.clone(),
        }));
    }
}
