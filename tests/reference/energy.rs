//! Energy taken by the gauge.

use crate::check::{Check, Tolerance, hold};
use relent::measure::energy;
use relent::quantity::{Newton, NewtonPerMillimetre};

/// 150, 400, 700 and 1400 N on 500 N/mm; and 2000 N, the energy of 200 kg at 0.2 m/s.
pub fn checks() -> Vec<Check> {
    [
        (150.0, 0.0225),
        (400.0, 0.16),
        (700.0, 0.49),
        (1400.0, 1.96),
        (2000.0, 4.0),
    ]
    .map(|(newtons, joules)| Check {
        what: format!("energy at {newtons} N on 500 N/mm"),
        source: "closed form: F^2 / 2k",
        expected: joules,
        computed: energy(Newton(newtons), NewtonPerMillimetre(500.0))
            .unwrap()
            .get(),
        unit: "J",
        tolerance: Tolerance::Relative(1e-12),
    })
    .into()
}

#[test]
fn the_energy_is_that_of_a_linear_spring() {
    hold(&checks(), 5);
}
