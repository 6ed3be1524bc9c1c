//! The comparison statistics against certified values and data sets printed in the literature.

// 3.14 below is a measured value, not a rough π.
#![allow(clippy::approx_constant)]

use relent::compare::{
    Alpha, Alternative, Conclusion, Confidence, Layout, Margin, NullDistribution, Plan, Question,
    Worse, Zeros, equivalence, hodges_lehmann_centre, hodges_lehmann_shift, least_squares,
    one_way_anova, paired_difference, power, rank_sum, signed_rank, smallest_design,
    welch_difference,
};

use crate::check::{Check, Tolerance, hold};

const NIST: &str = "NIST StRD, certified values in the data file (fixtures/reference/compare-nist)";
const STORED: &str =
    "rational arithmetic on the stored doubles (fixtures/reference/compare-values.py)";
const SLEEP: &str = "Student, Biometrika 6 (1908); figures as printed by R's t.test";
const TOST: &str =
    "statsmodels 0.15.0, stats/tests/test_tost.py, values there from R's equivalence package";
const HOLLANDER: &str =
    "Hollander & Wolfe, Nonparametric Statistical Methods (1973), pp. 69-71; R's wilcox.test";
const DEPRESSION: &str = "Hollander & Wolfe (1973), pp. 29-33; R's wilcox.test";
const CROSSOVER: &str = "documentation of R's PowerTOST (from memory): CV 0.3, ratio 0.95, 2x2 crossover of 40 gives 0.815845";

/// Every value of this file.
pub fn checks() -> Vec<Check> {
    [
        nist_anova(),
        nist_line(),
        sleep(),
        clinic(),
        permeability(),
        depression(),
        crossover(),
    ]
    .concat()
}

fn pure(
    what: &str,
    source: &'static str,
    expected: f64,
    computed: f64,
    tolerance: Tolerance,
) -> Check {
    Check {
        what: what.to_owned(),
        source,
        expected,
        computed,
        unit: "",
        tolerance,
    }
}

/// The pairs of numbers from line 61 on of a NIST file.
fn rows(text: &str) -> Vec<(f64, f64)> {
    text.lines()
        .skip(60)
        .filter_map(|line| {
            let mut numbers = line.split_whitespace().map(|word| word.parse().unwrap());
            Some((numbers.next()?, numbers.next()?))
        })
        .collect()
}

fn groups(text: &str) -> Vec<Vec<f64>> {
    rows(text)
        .chunk_by(|a, b| a.0 == b.0)
        .map(|group| group.iter().map(|row| row.1).collect())
        .collect()
}

/// F certified, F of the doubles as stored, and how far storing moves F from the certified value.
///
/// The responses of SmLs07 are 10¹² + 0.1 … 0.9, where neighbouring doubles lie 1.2e-4 apart: the stored data have F = 21.0008.
fn nist_anova() -> Vec<Check> {
    let cases: [(&str, &str, f64, f64, f64); 4] = [
        (
            "SiRstv",
            include_str!("../../fixtures/reference/compare-nist/SiRstv.dat"),
            1.18046237440255,
            1.1804623744024467,
            1e-12,
        ),
        (
            "AtmWtAg",
            include_str!("../../fixtures/reference/compare-nist/AtmWtAg.dat"),
            15.9467335677930,
            15.946733566676926,
            1e-9,
        ),
        (
            "SmLs01",
            include_str!("../../fixtures/reference/compare-nist/SmLs01.dat"),
            21.0,
            21.0,
            1e-13,
        ),
        (
            "SmLs07",
            include_str!("../../fixtures/reference/compare-nist/SmLs07.dat"),
            21.0,
            21.00081188781877,
            1e-4,
        ),
    ];
    let mut checks = Vec::new();
    for (name, text, certified, stored, storing) in cases {
        let groups = groups(text);
        let views: Vec<&[f64]> = groups.iter().map(Vec::as_slice).collect();
        let f = one_way_anova(&views).unwrap().f;
        checks.push(pure(
            &format!("{name}: F"),
            NIST,
            certified,
            f,
            Tolerance::Relative(storing),
        ));
        checks.push(pure(
            &format!("{name}: F of the stored values"),
            STORED,
            stored,
            f,
            Tolerance::Relative(1e-13),
        ));
    }
    let groups = groups(cases[0].1);
    let views: Vec<&[f64]> = groups.iter().map(Vec::as_slice).collect();
    let table = one_way_anova(&views).unwrap();
    checks.push(pure(
        "SiRstv: between",
        NIST,
        5.11462616e-2,
        table.between_squares,
        Tolerance::Relative(1e-12),
    ));
    checks.push(pure(
        "SiRstv: within",
        NIST,
        2.16636560e-1,
        table.within_squares,
        Tolerance::Relative(1e-12),
    ));
    checks
}

fn nist_line() -> Vec<Check> {
    let rows = rows(include_str!(
        "../../fixtures/reference/compare-nist/Norris.dat"
    ));
    let (y, x): (Vec<f64>, Vec<f64>) = rows.into_iter().unzip();
    let line = least_squares(&x, &y).unwrap();
    [
        ("slope", 1.00211681802045, line.slope.value(), 1e-13),
        (
            "intercept",
            -0.262323073774029,
            line.intercept.value(),
            1e-11,
        ),
        (
            "deviation of the slope",
            0.429796848199937e-3,
            line.slope.standard_error(),
            1e-12,
        ),
        (
            "deviation of the intercept",
            0.232818234301152,
            line.intercept.standard_error(),
            1e-12,
        ),
        (
            "residual deviation",
            0.884796396144373,
            line.residual_deviation,
            1e-12,
        ),
        ("R squared", 0.999993745883712, line.r_squared, 1e-13),
    ]
    .map(|(what, expected, computed, share)| {
        pure(
            &format!("Norris: {what}"),
            NIST,
            expected,
            computed,
            Tolerance::Relative(share),
        )
    })
    .to_vec()
}

fn sleep() -> Vec<Check> {
    let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    let welch = welch_difference(&second, &first).unwrap();
    let interval = welch.interval(Confidence::new(0.95).unwrap());
    let paired = paired_difference(&second, &first).unwrap();
    [
        ("Welch t", -1.8608135, welch.t_against(0.0), 5e-8),
        (
            "Welch degrees of freedom",
            17.7764735,
            welch.degrees_of_freedom(),
            5e-8,
        ),
        (
            "Welch p",
            0.0793941,
            welch.p_value(0.0, Alternative::TwoSided),
            5e-8,
        ),
        ("Welch lower", -3.365483, interval.lower, 5e-7),
        ("Welch upper", 0.205483, interval.upper, 5e-7),
        ("paired t", -4.062128, paired.t_against(0.0), 5e-7),
        (
            "paired p",
            0.00283289,
            paired.p_value(0.0, Alternative::TwoSided),
            5e-9,
        ),
    ]
    .map(|(what, expected, computed, most)| {
        pure(
            &format!("sleep: {what}"),
            SLEEP,
            expected,
            computed,
            Tolerance::Absolute(most),
        )
    })
    .to_vec()
}

const CLINIC: [[f64; 15]; 4] = [
    [
        2.84, 2.51, 2.41, 2.95, 3.14, 3.79, 4.14, 3.85, 3.02, 3.45, 5.37, 3.81, 4.19, 3.16, 3.84,
    ],
    [
        2.60, 2.82, 2.18, 3.46, 4.01, 3.04, 3.47, 4.06, 2.91, 3.59, 4.51, 3.16, 3.86, 3.31, 3.02,
    ],
    [
        4.00, 3.26, 4.14, 3.42, 3.25, 4.34, 4.97, 4.31, 3.11, 3.41, 5.02, 4.21, 4.59, 5.30, 4.32,
    ],
    [
        3.76, 3.66, 3.65, 3.60, 3.48, 2.87, 3.24, 3.92, 3.99, 4.21, 4.21, 3.31, 3.61, 2.97, 2.73,
    ],
];

fn clinic() -> Vec<Check> {
    let [one_first, one_second, two_first, two_second] = CLINIC;
    let margin = Margin::new(0.6).unwrap();
    let alpha = Alpha::new(0.05).unwrap();
    let test = |estimate| equivalence(estimate, margin, Worse::Greater, alpha);
    let one = test(welch_difference(&one_second, &one_first).unwrap());
    let two = test(welch_difference(&two_second, &two_first).unwrap());
    let paired = test(paired_difference(&one_second, &one_first).unwrap());
    let paired_two = test(paired_difference(&two_second, &two_first).unwrap());
    assert_eq!(one.conclusion(), Conclusion::Equivalent);
    assert_eq!(two.conclusion(), Conclusion::Worse);
    [
        ("difference", 0.1646666666666667, one.estimate.value()),
        (
            "standard error",
            0.2531625991083627,
            one.estimate.standard_error(),
        ),
        (
            "degrees of freedom",
            26.7484787582315,
            one.estimate.degrees_of_freedom(),
        ),
        ("lower", -0.2666862980722534, one.interval.lower),
        ("upper", 0.596019631405587, one.interval.upper),
        ("p", 0.04853083976236974, one.p_equivalent()),
        ("second variable, p", 0.4317936812594803, two.p_equivalent()),
        (
            "second variable, lower",
            0.194916250699966,
            two.interval.lower,
        ),
        (
            "second variable, upper",
            0.930417082633366,
            two.interval.upper,
        ),
        ("paired p", 0.003166881489265175, paired.p_equivalent()),
        ("paired lower", -0.0744336620516462, paired.interval.lower),
        ("paired upper", 0.4037669953849797, paired.interval.upper),
        (
            "second variable, paired p",
            0.4412034046017588,
            paired_two.p_equivalent(),
        ),
    ]
    .map(|(what, expected, computed)| {
        pure(
            &format!("clinic: {what}"),
            TOST,
            expected,
            computed,
            Tolerance::Relative(1e-11),
        )
    })
    .to_vec()
}

fn permeability() -> Vec<Check> {
    let term = [0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
    let weeks = [1.15, 0.88, 0.90, 0.74, 1.21];
    let test = rank_sum(&weeks, &term, NullDistribution::Exact).unwrap();
    let shift = hodges_lehmann_shift(&weeks, &term, Confidence::new(0.95).unwrap()).unwrap();
    [
        ("U", 35.0, test.u, 0.0),
        ("one-sided p", 0.1272061, test.p_greater, 5e-8),
        ("Hodges-Lehmann", 0.305, shift.estimate, 1e-12),
        ("lower", -0.15, shift.interval.lower, 1e-12),
        ("upper", 0.76, shift.interval.upper, 1e-12),
    ]
    .map(|(what, expected, computed, most)| {
        pure(
            &format!("permeability: {what}"),
            HOLLANDER,
            expected,
            computed,
            Tolerance::Absolute(most),
        )
    })
    .to_vec()
}

fn depression() -> Vec<Check> {
    let first = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30];
    let second = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];
    let gaps: Vec<f64> = first.iter().zip(second).map(|(a, b)| a - b).collect();
    let test = signed_rank(&gaps, Zeros::LeftOut, NullDistribution::Exact).unwrap();
    let centre = hodges_lehmann_centre(&gaps, Confidence::new(0.95).unwrap()).unwrap();
    [
        ("V", 40.0, test.v, 0.0),
        ("one-sided p", 0.01953125, test.p_greater, 1e-15),
        ("Hodges-Lehmann", 0.46, centre.estimate, 1e-12),
    ]
    .map(|(what, expected, computed, most)| {
        pure(
            &format!("depression: {what}"),
            DEPRESSION,
            expected,
            computed,
            Tolerance::Absolute(most),
        )
    })
    .to_vec()
}

/// A crossover of n subjects has SE = σ_w √(2/n) on n − 2 degrees of freedom: two groups of n/2 with σ = σ_w/√2.
fn crossover() -> Vec<Check> {
    let plan = Plan {
        layout: Layout::Blocks {
            blocks: 1,
            deviation: (1.0_f64 + 0.09).ln().sqrt() / 2.0_f64.sqrt(),
        },
        question: Question::Equivalent,
        margin: Margin::new(1.25_f64.ln()).unwrap(),
        difference: 0.95_f64.ln(),
        alpha: Alpha::new(0.05).unwrap(),
    };
    let (repeats, _) = smallest_design(&plan, 0.8, 1000).unwrap();
    vec![
        pure(
            "crossover: power at 40",
            CROSSOVER,
            0.815845,
            power(&plan, 20).unwrap(),
            Tolerance::Absolute(5e-7),
        ),
        pure(
            "crossover: subjects for 80 %",
            CROSSOVER,
            40.0,
            2.0 * f64::from(repeats),
            Tolerance::Absolute(0.0),
        ),
    ]
}

#[test]
fn published_values_are_reproduced() {
    hold(&checks(), 46);
}

#[test]
fn small_samples_do_not_reach_a_confidence_they_cannot_have() {
    // 3 against 3: the least tail is 1/20 a side.
    let ninety_five = Confidence::new(0.95).unwrap();
    let error = hodges_lehmann_shift(&[1., 2., 3.], &[4., 5., 6.], ninety_five).unwrap_err();
    assert_eq!(
        error.to_string(),
        "a confidence of 0.95 was asked for, 0.9 is the most these values can give"
    );
}
