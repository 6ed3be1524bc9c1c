//! Which of the delimiters that fit a log is its own, or the question where nothing decides.

use super::fit::Fit;
use crate::ingest::tokens::cells::{self, Line, shown};
use crate::ingest::tokens::delimiter::Delimiter;
use crate::ingest::{Ask, Doubt, Question};

/// Leaves out a delimiter that makes no more columns of numbers than another, and more of text: it tears cells.
fn leave_torn(fits: &mut Vec<Fit>) {
    let made: Vec<(usize, usize)> = fits
        .iter()
        .map(|fit| (fit.block.numeric, fit.block.texts))
        .collect();
    fits.retain(|fit| {
        let worse = |(numeric, texts): &(usize, usize)| {
            *numeric >= fit.block.numeric && *texts < fit.block.texts
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
pub(in crate::ingest) fn choose(lines: &[Line<'_>], mut fits: Vec<Fit>) -> (Fit, Vec<Question>) {
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
    let wide: Vec<usize> = (0..fits.len())
        .filter(|at| fits[*at].delimiter != Delimiter::None)
        .collect();
    let headed_wide: Vec<usize> = wide
        .iter()
        .copied()
        .filter(|at| fits[*at].is_headed())
        .collect();
    let bare = fits.iter().position(|fit| fit.delimiter == Delimiter::None);
    let chosen = match (headed_wide.as_slice(), wide.as_slice(), bare) {
        ([one], _, Some(bare)) if fits[*one].unit_alone() => {
            let line = &lines[fits[bare].block.first];
            questions.push(two_fit(line, fits[*one].delimiter));
            *one
        }
        ([one], _, _) => *one,
        ([], [one], None) => *one,
        ([], [], Some(bare)) => bare,
        ([], [one], Some(bare)) => {
            if fits[bare].cells == 1 && !fits[*one].is_headed() {
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
    (fits.swap_remove(chosen), questions)
}

fn two_fit(line: &Line<'_>, delimiter: Delimiter) -> Question {
    Question {
        ask: Ask::Delimiter,
        doubt: Doubt::NumberOrCells {
            line: line.number,
            found: shown(line.text),
            delimiter: delimiter.code(),
        },
    }
}

fn delimiters(line: &Line<'_>, fits: &[Fit], among: &[usize]) -> Question {
    Question {
        ask: Ask::Delimiter,
        doubt: Doubt::SeveralDelimiters {
            line: line.number,
            found: shown(line.text),
            delimiters: among.iter().map(|at| fits[*at].delimiter.code()).collect(),
        },
    }
}
