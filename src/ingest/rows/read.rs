//! The rows of a log → columns of numbers.

use super::fast::Fast;
use super::slow::Slow;
use super::table::Table;
use crate::ingest::ReadError;
use crate::ingest::layout::columns::Plan;
use crate::ingest::layout::dialect::Dialect;
use crate::ingest::notices::Notices;
use crate::ingest::tokens::cells::{LONGEST_LINE, Line, Lines};

/// Reads every row: plain ones on the fast path, all others one by one.
pub(in crate::ingest) fn read(
    text: &[u8],
    dialect: &Dialect,
    plan: &Plan,
    notices: Notices,
) -> Result<Table, ReadError> {
    let rest = text.len() - dialect.first_byte;
    let expected = rest / (4 * dialect.width).max(6) + 1;
    let mut table = Table::with_room(expected.min(1 << 20), plan.extras.len(), notices);
    let mut fast = Fast::new(dialect, plan);
    let mut slow = Slow::new(text, dialect, plan);
    let (mut at, mut number) = (dialect.first_byte, dialect.first_line);
    while at < text.len() {
        if let Some(fast) = &mut fast {
            let samples = table.times.len();
            (at, number) = fast.rows(text, at, number, &mut table);
            if table.times.len() > samples {
                slow.data_goes_on(&mut table);
            }
        }
        let mut lines = Lines::new(text, at, number);
        let Some(line) = lines.next() else { break };
        check_length(&line)?;
        let more = slow.line(line, &mut table);
        if let Some(fast) = &mut fast {
            fast.set_factors(slow.factors());
        }
        if table.other_heads.is_some() {
            break;
        }
        for _ in 0..more {
            lines.next();
        }
        at = lines.offset().min(text.len());
        number += 1 + more as u64;
    }
    slow.end(&mut table);
    Ok(table)
}

fn check_length(line: &Line<'_>) -> Result<(), ReadError> {
    if line.text.len() > LONGEST_LINE {
        return Err(ReadError::LineTooLong {
            line: line.number,
            bytes: line.text.len(),
            most: LONGEST_LINE,
        });
    }
    Ok(())
}
