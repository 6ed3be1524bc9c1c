//! Butterworth low-pass.

use crate::check::{Check, Tolerance, hold};
use crate::records::{SCIPY, scipy};
use relent::measure::low_pass::{butterworth, forward, two_pass};
use relent::quantity::Hertz;

/// Coefficients of order 2 at 100 Hz of 1 kHz; orders 1 to 4, forward and forward-back, as the greatest difference of all samples.
pub fn checks() -> Vec<Check> {
    let frozen = scipy().low_pass;
    let of = |order| butterworth::sections(order, Hertz(100.0), Hertz(1000.0)).unwrap();
    let section = of(2)[0];
    let coefficients = section.b.into_iter().chain([1.0]).chain(section.a);
    let mut all: Vec<Check> = frozen
        .butter_2
        .iter()
        .zip(coefficients)
        .zip(["b0", "b1", "b2", "a0", "a1", "a2"])
        .map(|((expected, computed), name)| Check {
            what: format!("order 2, 100 Hz at 1 kHz: {name}"),
            source: SCIPY,
            expected: *expected,
            computed,
            unit: "",
            tolerance: Tolerance::Absolute(1e-13),
        })
        .collect();
    for (order, once, twice) in [
        (1, &frozen.forward_1, &frozen.two_pass_1),
        (2, &frozen.forward_2, &frozen.two_pass_2),
        (3, &frozen.forward_3, &frozen.two_pass_3),
        (4, &frozen.forward_4, &frozen.two_pass_4),
    ] {
        let sections = of(order);
        let runs = [
            ("forward", once, forward(&sections, &frozen.signal_n)),
            (
                "forward and back",
                twice,
                two_pass(&sections, &frozen.signal_n).unwrap(),
            ),
        ];
        for (way, expected, computed) in runs {
            assert_eq!(expected.len(), computed.len());
            let greatest = expected
                .iter()
                .zip(&computed)
                .map(|(e, c)| (e - c).abs())
                .fold(0.0, f64::max);
            all.push(Check {
                what: format!("order {order}, {way}: greatest difference over 120 samples"),
                source: SCIPY,
                expected: 0.0,
                computed: greatest,
                unit: "N",
                tolerance: Tolerance::Absolute(1e-9),
            });
        }
    }
    all
}

#[test]
fn the_butterworth_low_pass_is_scipy_s() {
    hold(&checks(), 14);
}
