//! Student's t and the normal distribution against SciPy over a grid, tails included, and against printed tables.

use relent::uncertainty::{t_cdf, t_quantile};

use crate::check::{Check, Tolerance, hold};

const GRID: &str = include_str!("../../fixtures/reference/distributions.csv");
const SCIPY: &str =
    "SciPy 1.17.1, scipy.stats.t and scipy.stats.norm; script fixtures/reference/distributions.py";
const TABLE: &str = "tables of Student's t as printed in handbooks, five decimals (from memory)";

/// Agreement to 10⁻⁹ of the value; for probabilities below 10⁻⁶ to 10⁻⁶ of it, and at five million degrees of freedom,
/// where the incomplete beta function of statrs loses digits, to 10⁻⁷.
fn tolerance(function: &str, expected: f64, dof: f64) -> Tolerance {
    if (1e6..f64::INFINITY).contains(&dof) && expected.abs() > 1e-6 {
        Tolerance::Relative(1e-7)
    } else if function == "t_cdf" && expected < 1e-6 {
        Tolerance::Relative(1e-6)
    } else if expected.abs() < 1e-3 {
        Tolerance::Absolute(1e-12)
    } else {
        Tolerance::Relative(1e-9)
    }
}

fn grid() -> Vec<Check> {
    GRID.lines()
        .filter(|line| !line.starts_with(['#', 'f']))
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let [function, argument, dof, value] = cells[..] else {
                panic!("four cells expected: {line}")
            };
            let number = |text: &str| -> f64 { text.parse().unwrap() };
            let (at, nu, expected) = (number(argument), number(dof), number(value));
            let computed = match function {
                "t_quantile" => t_quantile(at, nu),
                "t_cdf" => t_cdf(at, nu),
                _ => panic!("unknown function {function}"),
            };
            Check {
                what: format!("{function}({argument}), ν {dof}"),
                source: SCIPY,
                expected,
                computed,
                unit: "",
                tolerance: tolerance(function, expected, nu),
            }
        })
        .collect()
}

/// The grid, and three printed quantiles.
pub fn checks() -> Vec<Check> {
    let printed = [(0.95, 2.91999), (0.975, 4.30265), (0.995, 9.92484)];
    let mut checks = grid();
    checks.extend(printed.map(|(p, expected)| Check {
        what: format!("t quantile {p}, ν 2"),
        source: TABLE,
        expected,
        computed: t_quantile(p, 2.0),
        unit: "",
        tolerance: Tolerance::Absolute(5e-6),
    }));
    checks
}

#[test]
fn the_distributions_agree_with_scipy_and_with_printed_tables() {
    hold(&checks(), 15 * 23 + 25 + 3);
}

#[test]
fn what_is_no_probability_has_no_quantile() {
    for p in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
        assert!(t_quantile(p, 2.0).is_nan(), "{p}");
    }
    assert!(t_quantile(0.975, 0.0).is_nan());
    assert!(t_quantile(0.975, f64::NAN).is_nan());
    assert!(t_cdf(f64::NAN, 2.0).is_nan());
    assert_eq!(t_cdf(f64::INFINITY, 2.0), 1.0);
    assert_eq!(t_cdf(f64::NEG_INFINITY, 2.0), 0.0);
}
