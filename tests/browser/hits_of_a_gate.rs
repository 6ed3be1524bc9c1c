//! Hits of an invented gate, from the physics of a mass against a spring: pulse, bounce, hold, release.

use relent::limits::{Direction, Motion};
use relent::report::State;
use relent::report::elevation::{Elevation, Point};
use relent::report::hit::{Event, Hits, Repeat, Step};
use relent::report::multiples::{Cell, Grid};
use relent::trace::Trace;

/// A hit of a peak force: half sine of 60 ms, a hold of 90 N, release after `hold_s`; 1 kHz, 0.4 s before contact.
pub(crate) fn trace(peak: f64, hold_s: f64, length_s: f64, seed: u32) -> Trace {
    let mut noise = seed;
    let mut next = || {
        noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(noise >> 16) / 65_536.0 - 0.5
    };
    let count = (length_s * 1000.0) as usize;
    let times: Vec<f64> = (0..count).map(|k| k as f64 / 1000.0).collect();
    let force = |t: f64| {
        let t = t - 0.4;
        let pulse = if (0.0..0.06).contains(&t) {
            peak * (t / 0.06 * std::f64::consts::PI).sin()
        } else {
            0.0
        };
        let bounce = if (0.07..0.16).contains(&t) {
            0.35 * peak * ((t - 0.07) / 0.09 * std::f64::consts::PI).sin()
        } else {
            0.0
        };
        let hold = if (0.04..hold_s).contains(&t) {
            90.0 * (1.0 - (-(t - 0.04) / 0.05).exp())
        } else {
            0.0
        };
        pulse.max(bounce).max(hold)
    };
    let forces: Vec<f64> = times.iter().map(|t| force(*t) + 2.0 * next()).collect();
    Trace::new(times, forces).expect("times increase")
}

pub(crate) fn hits(title: &str, peaks: [f64; 3], hold_s: f64, state: State) -> Hits {
    let repeats = peaks
        .iter()
        .enumerate()
        .map(|(index, peak)| {
            let trace = trace(*peak, hold_s, 6.2, index as u32 + 7);
            let mut repeat = Repeat::of(
                format!("hit {}: {peak} N", index + 1),
                state,
                &trace,
                0.4,
                0.0,
            );
            let mut event = |at_s: f64, force_n: f64, words: &str, state| {
                repeat.events.push(Event {
                    at_s,
                    force_n,
                    words: words.to_owned(),
                    state,
                });
            };
            event(0.0, 5.0, "contact", None);
            event(
                0.03,
                *peak,
                &format!("peak {peak} N after 30 ms, stop"),
                Some(state),
            );
            event(0.053, 150.0, "falls through 150 N after 53 ms", None);
            event(hold_s, 88.0, "reversal", None);
            event(hold_s + 0.002, 10.0, "release", None);
            event(5.799, 0.0, "record ends here", None);
            repeat
        })
        .collect();
    Hits {
        title: title.to_owned(),
        statement: format!("Peak force {} N against 400 N.", peaks[0]),
        repeats,
        deciding: 0,
        mean: Some((
            peaks.iter().sum::<f64>() / 3.0,
            format!("mean of 3: {:.1} N", peaks.iter().sum::<f64>() / 3.0),
        )),
        steps: vec![
            Step {
                from_s: 0.0,
                force_n: 400.0,
                words: "peak limit 400 N".into(),
            },
            Step {
                from_s: 0.75,
                force_n: 150.0,
                words: "static limit 150 N".into(),
            },
            Step {
                from_s: 5.0,
                force_n: 25.0,
                words: "25 N".into(),
            },
        ],
        level: (150.0, "static level 150 N".into()),
        enlarged_s: 0.4,
    }
}

/// Gap, height, peak, state.
pub(crate) const POINTS: [(f64, f64, f64, State); 9] = [
    (50.0, 50.0, 372.0, State::Within),
    (300.0, 50.0, 341.0, State::Within),
    (500.0, 50.0, 289.0, State::Within),
    (50.0, 1000.0, 431.2, State::Over),
    (300.0, 1000.0, 392.4, State::Undecided),
    (500.0, 1000.0, 310.0, State::Within),
    (50.0, 1700.0, 355.0, State::Within),
    (300.0, 1700.0, 298.0, State::Within),
    (500.0, 1700.0, 0.0, State::NotTested),
];

pub(crate) fn elevation(motion: Motion, direction: Direction) -> Elevation {
    let upright = matches!(motion, Motion::Vertical | Motion::Boom);
    let place = |height: f64| match height as i64 {
        50 if upright => 200.0,
        1000 if upright => 2000.0,
        1700 if upright => 3800.0,
        _ => height,
    };
    Elevation {
        title: format!("{motion:?} gate, {direction:?}"),
        statement: "1 of 9 points over the limit, 1 undecided, 1 not tested".into(),
        motion,
        direction,
        opening_mm: 4000.0,
        height_mm: if motion == Motion::Boom {
            900.0
        } else {
            2000.0
        },
        clearance_mm: 60.0,
        points: POINTS
            .iter()
            .map(|(gap, height, peak, state)| Point {
                gap_mm: if upright && *gap > 400.0 {
                    1700.0_f64.min(if motion == Motion::Boom {
                        800.0
                    } else {
                        1700.0
                    })
                } else {
                    *gap
                },
                height_mm: place(*height),
                state: *state,
                share: (*state != State::NotTested).then_some(peak / 400.0),
                number: if *state == State::NotTested {
                    String::new()
                } else {
                    format!("{peak} N")
                },
            })
            .collect(),
    }
}

pub(crate) fn grid() -> Grid {
    Grid {
        title: "Closing: all points".into(),
        statement: "1 of 9 points over the limit".into(),
        columns: ["gap 500 mm", "gap 300 mm", "gap 50 mm"]
            .map(String::from)
            .to_vec(),
        rows: ["1700 mm", "1000 mm", "50 mm"].map(String::from).to_vec(),
        cells: POINTS
            .iter()
            .enumerate()
            .map(|(index, (_, _, peak, state))| Cell {
                column: 2 - index % 3,
                row: 2 - index / 3,
                state: *state,
                share: Some(peak / 400.0),
                number: if *state == State::NotTested {
                    String::new()
                } else {
                    format!("{peak} N")
                },
                hits: (*state != State::NotTested)
                    .then(|| hits("", [*peak, peak - 9.0, peak - 20.0], 0.3, *state)),
            })
            .collect(),
    }
}
