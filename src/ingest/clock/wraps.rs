//! Counters that begin again at nothing when they are full.

use std::ops::Range;

use super::steps::Steps;
use crate::ingest::rows::table::Table;
use crate::ingest::{Kind, Noticed};

/// Moduli of counters that wrap, in their own unit.
pub(in crate::ingest) const MODULI: [f64; 6] = [
    32_768.0,
    65_536.0,
    16_777_216.0,
    2_147_483_648.0,
    4_294_967_296.0,
    4_294_967.296,
];

/// Undoes the wraps of a counter: a step back that is, modulo the counter's end, as many usual steps forward as `reach` allows,
/// give or take the rounding of its decimals.
pub(in crate::ingest) fn undo_wraps(
    raw: &mut [f64],
    moduli: &[f64],
    reach: Range<f64>,
    table: &mut Table,
    steps: &mut Steps,
) {
    if steps.back == 0 {
        return;
    }
    let Some(usual) = steps.usual(raw) else {
        return;
    };
    let start = raw[0];
    let mut offset = 0.0;
    let mut before = raw[0];
    for (at, time) in raw.iter_mut().enumerate().skip(1) {
        let now = *time;
        if now < before {
            let goes_on = |modulus: &&f64| {
                let step = now + **modulus - before;
                (reach.start * usual - 1e-9..=reach.end * usual + 1e-9).contains(&step)
            };
            let wraps = moduli.iter().find(goes_on).filter(|_| now != start);
            offset = wraps.map_or(0.0, |modulus| offset + modulus);
            if let Some(modulus) = wraps {
                let line = table.line(at);
                let fact = || Noticed::ClockWrapped {
                    before,
                    after: now,
                    added: *modulus,
                };
                table.notices.add(Kind::Wrap, Some(line), fact);
            }
        }
        before = now;
        *time = now + offset;
    }
    *steps = Steps::of(raw);
}
