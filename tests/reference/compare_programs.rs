//! The comparison statistics against SciPy and statsmodels on seeded data, ties included.
//!
//! The values, the script that made them and the versions of the programs stand in fixtures/reference/compare-values.*.

use relent::compare::{
    Alpha, Alternative, Block, Confidence, Counting, Estimate, Layout, Margin, NullDistribution,
    Pilot, Plan, Question, Worse, Zeros, additive_effect, equivalence, hodges_lehmann_centre,
    hodges_lehmann_shift, holm, least_squares, median, midranks, one_way_anova, paired_difference,
    permutation_test, power, quantile, rank_sum, signed_rank, welch_difference,
};
use serde_json::Value;

use crate::check::{Check, Tolerance, hold};

const PROGRAMS: &str = "SciPy 1.17.1, statsmodels 0.15.0 (fixtures/reference/compare-values.py)";
const COUNTED: &str =
    "every arrangement counted in whole numbers (fixtures/reference/compare-values.py)";
const QUAD: &str =
    "SciPy 1.17.1: noncentral t, adaptive quadrature (fixtures/reference/compare-values.py)";

/// Collects checks under a heading.
struct Sheet {
    heading: String,
    source: &'static str,
    checks: Vec<Check>,
}

impl Sheet {
    fn new(heading: impl Into<String>, source: &'static str) -> Self {
        Self {
            heading: heading.into(),
            source,
            checks: Vec::new(),
        }
    }

    fn add(&mut self, what: &str, expected: &Value, computed: f64, tolerance: Tolerance) {
        self.checks.push(Check {
            what: format!("{}: {what}", self.heading),
            source: self.source,
            expected: expected.as_f64().unwrap(),
            computed,
            unit: "",
            tolerance,
        });
    }
}

/// A row of the report for each function and program: the greatest difference over all its values, each as a share of what is
/// permitted for it. The values themselves are held one by one in `other_programs_agree`.
pub fn checks() -> Vec<Check> {
    let functions: [(&str, &str); 14] = [
        ("two samples", "Welch's difference and two one-sided tests"),
        (
            "ranks of two samples",
            "rank sum test and shift of Hodges and Lehmann",
        ),
        ("paired", "paired difference"),
        (
            "paired ranks",
            "signed rank test and centre of Hodges and Lehmann",
        ),
        ("blocks", "effect over blocks"),
        ("permutations", "stratified permutation test"),
        ("Holm", "Holm's adjustment"),
        ("Student", "Student's distribution"),
        ("designs", "power and number of hits"),
        ("Welch designs", "power with unequal spreads"),
        ("pilots", "spread bound of a pilot"),
        ("quantiles", "quantiles and midranks"),
        ("lines", "least squares"),
        ("ANOVA", "analysis of variance"),
    ];
    let mut rows = Vec::new();
    for ((_, name), values) in functions.into_iter().zip(by_function()) {
        let mut sources: Vec<&'static str> = values.iter().map(|check| check.source).collect();
        sources.sort_unstable();
        sources.dedup();
        for source in sources {
            let of: Vec<&Check> = values
                .iter()
                .filter(|check| check.source == source)
                .collect();
            rows.push(summary(name, source, &of));
        }
    }
    rows
}

/// The greatest difference of some values as a share of what is permitted for each: at most 1.
fn summary(name: &str, source: &'static str, values: &[&Check]) -> Check {
    let share = |check: &Check| {
        let (below, above) = check.band();
        let difference = check.computed - check.expected;
        match if difference < 0.0 { below } else { above } {
            _ if difference == 0.0 => 0.0,
            permitted => difference.abs() / permitted,
        }
    };
    let greatest = values.iter().map(|check| share(check)).fold(0.0, f64::max);
    let differing = values.iter().filter(|check| !check.holds()).count();
    Check {
        what: format!(
            "{name}: values outside their tolerance, of {} (greatest difference {} of it)",
            values.len(),
            rough(greatest)
        ),
        source,
        expected: 0.0,
        computed: differing as f64,
        unit: "",
        tolerance: Tolerance::Absolute(0.0),
    }
}

/// A share to its power of ten, so that the last bits of a machine do not show.
fn rough(share: f64) -> &'static str {
    match share {
        share if share <= 0.001 => "under a thousandth",
        share if share <= 0.01 => "under a hundredth",
        share if share <= 0.1 => "under a tenth",
        share if share <= 0.5 => "under a half",
        share if share <= 1.0 => "under the whole",
        _ => "more than the whole",
    }
}

/// Every value of this file.
fn values() -> Vec<Check> {
    by_function().concat()
}

fn by_function() -> [Vec<Check>; 14] {
    let all: Value =
        serde_json::from_str(include_str!("../../fixtures/reference/compare-values.json")).unwrap();
    let each = |key: &str, rows: fn(usize, &Value) -> Vec<Check>| {
        let rows: Vec<Check> = all[key]
            .as_array()
            .unwrap()
            .iter()
            .enumerate()
            .flat_map(|(i, row)| rows(i, row))
            .collect();
        rows
    };
    [
        each("two_sample", two_sample),
        each("two_sample", two_sample_ranks),
        each("paired", paired),
        each("paired", paired_ranks),
        each("blocked", blocked),
        each("permuted", permuted),
        each("holm", adjusted),
        each("student", student),
        each("designs", designs),
        each("welch_designs", welch_designs),
        each("pilots", pilots),
        each("quantiles", quantiles),
        each("lines", lines),
        each("anova", anova),
    ]
}

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_f64().unwrap())
        .collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn ninety_five() -> Confidence {
    Confidence::new(0.95).unwrap()
}

/// Ten digits, or 1e-12 where the value is next to nothing.
fn close(expected: &Value) -> Tolerance {
    Tolerance::Absolute((1e-10 * number(expected).abs()).max(1e-12))
}

fn two_sample(i: usize, row: &Value) -> Vec<Check> {
    let (x, y) = (numbers(&row["before"]), numbers(&row["after"]));
    let mut sheet = Sheet::new(
        format!("two samples {i} ({} and {})", x.len(), y.len()),
        PROGRAMS,
    );
    let welch = welch_difference(&x, &y).unwrap();
    let interval = welch.interval(ninety_five());
    let margin = Margin::new(number(&row["margin"])).unwrap();
    let test = equivalence(welch, margin, Worse::Greater, Alpha::new(0.05).unwrap());
    for (key, computed) in [
        ("difference", welch.value()),
        ("standard_error", welch.standard_error()),
        ("nu", welch.degrees_of_freedom()),
        ("t", welch.t_against(0.0)),
        ("p", welch.p_value(0.0, Alternative::TwoSided)),
        ("lower", interval.lower),
        ("upper", interval.upper),
        ("p_equivalent", test.p_equivalent()),
        ("p_not_above", test.p_not_above),
        ("p_not_below", test.p_not_below),
    ] {
        sheet.add(key, &row[key], computed, close(&row[key]));
    }
    sheet.checks
}

fn two_sample_ranks(i: usize, row: &Value) -> Vec<Check> {
    let (x, y) = (numbers(&row["before"]), numbers(&row["after"]));
    let mut sheet = Sheet::new(
        format!("rank sum {i} ({} and {})", x.len(), y.len()),
        COUNTED,
    );
    let exact = rank_sum(&x, &y, NullDistribution::Exact).unwrap();
    let normal = rank_sum(&x, &y, NullDistribution::Normal).unwrap();
    sheet.add("u", &row["u"], exact.u, Tolerance::Absolute(0.0));
    sheet.add(
        "exact less",
        &row["exact_less"],
        exact.p_less,
        Tolerance::Relative(1e-12),
    );
    sheet.add(
        "exact greater",
        &row["exact_greater"],
        exact.p_greater,
        Tolerance::Relative(1e-12),
    );
    sheet.add(
        "normal less",
        &row["normal_less"],
        normal.p_less,
        close(&row["normal_less"]),
    );
    sheet.add(
        "normal greater",
        &row["normal_greater"],
        normal.p_greater,
        close(&row["normal_greater"]),
    );
    let ninety = Confidence::new(0.9).unwrap();
    let shift = hodges_lehmann_shift(&x, &y, ninety);
    if row["hl"].is_null() {
        assert!(shift.is_err(), "two samples {i}");
        return sheet.checks;
    }
    let shift = shift.unwrap();
    sheet.add(
        "shift",
        &row["hl"],
        shift.estimate,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "shift lower",
        &row["hl_lower"],
        shift.interval.lower,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "shift upper",
        &row["hl_upper"],
        shift.interval.upper,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "shift confidence",
        &row["hl_confidence"],
        shift.interval.confidence,
        Tolerance::Absolute(1e-12),
    );
    sheet.checks
}

fn paired(i: usize, row: &Value) -> Vec<Check> {
    let (x, y) = (numbers(&row["before"]), numbers(&row["after"]));
    let mut sheet = Sheet::new(format!("pairs {i} ({})", x.len()), PROGRAMS);
    let paired = paired_difference(&x, &y).unwrap();
    let interval = paired.interval(ninety_five());
    let margin = Margin::new(number(&row["margin"])).unwrap();
    let test = equivalence(paired, margin, Worse::Greater, Alpha::new(0.05).unwrap());
    for (key, computed) in [
        ("t", paired.t_against(0.0)),
        ("p", paired.p_value(0.0, Alternative::TwoSided)),
        ("lower", interval.lower),
        ("upper", interval.upper),
        ("p_equivalent", test.p_equivalent()),
    ] {
        sheet.add(key, &row[key], computed, close(&row[key]));
    }
    sheet.checks
}

fn paired_ranks(i: usize, row: &Value) -> Vec<Check> {
    let gaps = numbers(&row["differences"]);
    let mut sheet = Sheet::new(format!("signed rank {i} ({})", gaps.len()), COUNTED);
    for (key, zeros) in [
        ("left_out", Zeros::LeftOut),
        ("ranked_first", Zeros::RankedFirst),
    ] {
        let case = &row[key];
        let exact = signed_rank(&gaps, zeros, NullDistribution::Exact).unwrap();
        let normal = signed_rank(&gaps, zeros, NullDistribution::Normal).unwrap();
        sheet.add("v", &case["v"], exact.v, Tolerance::Absolute(0.0));
        sheet.add(
            "v of SciPy",
            &case["scipy_v"],
            exact.v,
            Tolerance::Absolute(0.0),
        );
        sheet.add(
            "exact less",
            &case["less"],
            exact.p_less,
            Tolerance::Relative(1e-12),
        );
        sheet.add(
            "exact greater",
            &case["greater"],
            exact.p_greater,
            Tolerance::Relative(1e-12),
        );
        sheet.add(
            "normal less",
            &case["normal_less"],
            normal.p_less,
            close(&case["normal_less"]),
        );
        sheet.add(
            "normal greater",
            &case["normal_greater"],
            normal.p_greater,
            close(&case["normal_greater"]),
        );
    }
    let centre = hodges_lehmann_centre(&gaps, Confidence::new(0.9).unwrap());
    if row["hl"].is_null() {
        assert!(centre.is_err(), "pairs {i}");
        return sheet.checks;
    }
    let centre = centre.unwrap();
    sheet.add(
        "centre",
        &row["hl"],
        centre.estimate,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "centre lower",
        &row["hl_lower"],
        centre.interval.lower,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "centre upper",
        &row["hl_upper"],
        centre.interval.upper,
        Tolerance::Absolute(1e-12),
    );
    sheet.add(
        "centre confidence",
        &row["hl_confidence"],
        centre.interval.confidence,
        Tolerance::Absolute(1e-12),
    );
    sheet.checks
}

fn blocked(i: usize, row: &Value) -> Vec<Check> {
    let samples: Vec<(Vec<f64>, Vec<f64>)> = row["blocks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|block| (numbers(&block["before"]), numbers(&block["after"])))
        .collect();
    let blocks: Vec<Block<'_>> = samples
        .iter()
        .map(|(before, after)| Block { before, after })
        .collect();
    let mut sheet = Sheet::new(format!("blocks {i}"), PROGRAMS);
    let effect = additive_effect(&blocks).unwrap();
    let interval = effect.estimate.interval(ninety_five());
    for (key, computed) in [
        ("effect", effect.estimate.value()),
        ("standard_error", effect.estimate.standard_error()),
        ("nu", effect.estimate.degrees_of_freedom()),
        ("lower", interval.lower),
        ("upper", interval.upper),
        ("residual_deviation", effect.residual_deviation),
    ] {
        sheet.add(key, &row[key], computed, close(&row[key]));
    }
    match effect.interaction {
        Some(interaction) => {
            let tolerance = Tolerance::Relative(1e-8);
            sheet.add(
                "interaction F",
                &row["interaction_f"],
                interaction.f,
                tolerance,
            );
            sheet.add(
                "interaction p",
                &row["interaction_p"],
                interaction.p,
                tolerance,
            );
        }
        None => assert!(row["interaction_f"].is_null(), "blocks {i}"),
    }
    if !row["arrangements"].is_null() {
        sheet.source = COUNTED;
        let counting = Counting {
            most_exact: 200_000,
            draws: 1,
            seed: 1,
        };
        let test = permutation_test(&blocks, counting).unwrap();
        sheet.add(
            "arrangements",
            &row["arrangements"],
            test.looked_at as f64,
            Tolerance::Absolute(0.0),
        );
        sheet.add(
            "permutation less",
            &row["permutation_less"],
            test.p_less,
            Tolerance::Absolute(1e-15),
        );
        sheet.add(
            "permutation greater",
            &row["permutation_greater"],
            test.p_greater,
            Tolerance::Absolute(1e-15),
        );
    }
    sheet.checks
}

fn permuted(i: usize, row: &Value) -> Vec<Check> {
    let (before, after) = (numbers(&row["before"]), numbers(&row["after"]));
    let block = Block {
        before: &before,
        after: &after,
    };
    let mut sheet = Sheet::new(format!("permutation {i}"), PROGRAMS);
    let exact = Counting {
        most_exact: 1000,
        draws: 1,
        seed: 1,
    };
    let test = permutation_test(&[block], exact).unwrap();
    sheet.add(
        "less",
        &row["less"],
        test.p_less,
        Tolerance::Absolute(1e-14),
    );
    sheet.add(
        "greater",
        &row["greater"],
        test.p_greater,
        Tolerance::Absolute(1e-14),
    );
    sheet.add(
        "two-sided",
        &row["two_sided"],
        test.p_two_sided,
        Tolerance::Absolute(1e-14),
    );
    // Drawn instead of listed: within four standard errors of the listed share.
    let drawn = Counting {
        most_exact: 1,
        draws: 40_000,
        seed: 7,
    };
    let p = number(&row["less"]);
    let reach = 4.0 * (p * (1.0 - p) / 40_000.0).sqrt() + 1.0 / 40_000.0;
    let test = permutation_test(&[block], drawn).unwrap();
    assert!(!test.exact);
    sheet.add(
        "less, drawn",
        &row["less"],
        test.p_less,
        Tolerance::Absolute(reach),
    );
    sheet.checks
}

fn adjusted(i: usize, row: &Value) -> Vec<Check> {
    let mut sheet = Sheet::new(format!("Holm {i}"), PROGRAMS);
    let adjusted = holm(&numbers(&row["p"])).unwrap();
    for (expected, computed) in row["adjusted"].as_array().unwrap().iter().zip(adjusted) {
        sheet.add("adjusted p", expected, computed, Tolerance::Absolute(1e-15));
    }
    sheet.checks
}

fn student(_: usize, row: &Value) -> Vec<Check> {
    let nu = number(&row["nu"]);
    let mut sheet = Sheet::new(format!("Student, {nu} degrees of freedom"), PROGRAMS);
    let unit = Estimate::new(0.0, 1.0, nu).unwrap();
    let t = unit.upper_bound(Confidence::new(number(&row["p"])).unwrap());
    sheet.add(
        &format!("quantile {}", row["p"]),
        &row["quantile"],
        t,
        Tolerance::Relative(1e-9),
    );
    let above = Estimate::new(number(&row["t"]), 1.0, nu)
        .unwrap()
        .p_value(0.0, Alternative::Greater);
    sheet.add(
        &format!("tail over {}", row["t"]),
        &row["above"],
        above,
        Tolerance::Relative(1e-9),
    );
    sheet.checks
}

fn plan(row: &Value, layout: Layout, question: Question) -> Plan {
    Plan {
        layout,
        question,
        margin: Margin::new(number(&row["margin"])).unwrap(),
        difference: number(&row["difference"]),
        alpha: Alpha::new(number(&row["alpha"])).unwrap(),
    }
}

fn powers(heading: &str, row: &Value, layout: Layout) -> Vec<Check> {
    let repeats = row["repeats"].as_u64().unwrap() as u32;
    let mut sheet = Sheet::new(format!("power, {heading}, {repeats} repeats"), QUAD);
    for (key, question) in [
        ("not_worse", Question::NotWorse),
        ("equivalent", Question::Equivalent),
    ] {
        let computed = power(&plan(row, layout, question), repeats).unwrap();
        sheet.add(key, &row[key], computed, Tolerance::Absolute(1e-8));
    }
    sheet.checks
}

fn designs(_: usize, row: &Value) -> Vec<Check> {
    let deviation = 11.0;
    match row["layout"].as_str().unwrap() {
        "pairs" => powers("pairs", row, Layout::Pairs { deviation }),
        _ => powers(
            "blocks",
            row,
            Layout::Blocks {
                blocks: 4,
                deviation,
            },
        ),
    }
}

fn welch_designs(_: usize, row: &Value) -> Vec<Check> {
    let (before, after) = (number(&row["before"]), number(&row["after"]));
    let mut checks = powers("groups", row, Layout::Groups { before, after });
    // The reference integrates over the beta quantile with 60 nodes: six digits.
    for check in &mut checks {
        check.tolerance = Tolerance::Absolute(2e-6);
    }
    checks
}

fn pilots(_: usize, row: &Value) -> Vec<Check> {
    let mut sheet = Sheet::new("pilot", PROGRAMS);
    let pilot = Pilot {
        deviation: number(&row["deviation"]),
        degrees_of_freedom: number(&row["nu"]),
    };
    let confidence = Confidence::new(number(&row["confidence"])).unwrap();
    let bound = pilot.deviation_at_most(confidence).unwrap();
    sheet.add(
        "bound of the deviation",
        &row["bound"],
        bound,
        Tolerance::Relative(1e-7),
    );
    sheet.checks
}

fn quantiles(i: usize, row: &Value) -> Vec<Check> {
    let mut sheet = Sheet::new(format!("order statistics {i}"), PROGRAMS);
    let values = numbers(&row["values"]);
    sheet.add(
        "median",
        &row["median"],
        median(&values).unwrap(),
        Tolerance::Absolute(0.0),
    );
    for (share, expected) in numbers(&row["shares"])
        .into_iter()
        .zip(row["quantiles"].as_array().unwrap())
    {
        sheet.add(
            "quantile",
            expected,
            quantile(&values, share).unwrap(),
            Tolerance::Absolute(1e-10),
        );
    }
    for (expected, rank) in row["ranks"]
        .as_array()
        .unwrap()
        .iter()
        .zip(midranks(&values).unwrap())
    {
        sheet.add("rank", expected, rank, Tolerance::Absolute(0.0));
    }
    sheet.checks
}

fn lines(i: usize, row: &Value) -> Vec<Check> {
    let mut sheet = Sheet::new(format!("line {i}"), PROGRAMS);
    let line = least_squares(&numbers(&row["x"]), &numbers(&row["y"])).unwrap();
    let (slope, intercept) = (
        line.slope.interval(ninety_five()),
        line.intercept.interval(ninety_five()),
    );
    let height = line.height_at(70.0).unwrap().interval(ninety_five());
    let next = line.next_value_at(70.0, ninety_five()).unwrap();
    for (key, computed) in [
        ("slope", line.slope.value()),
        ("intercept", line.intercept.value()),
        ("slope_lower", slope.lower),
        ("slope_upper", slope.upper),
        ("intercept_lower", intercept.lower),
        ("intercept_upper", intercept.upper),
        ("slope_p", line.slope.p_value(0.0, Alternative::TwoSided)),
        ("height_lower", height.lower),
        ("height_upper", height.upper),
        ("next_lower", next.lower),
        ("next_upper", next.upper),
    ] {
        sheet.add(key, &row[key], computed, Tolerance::Relative(1e-8));
    }
    sheet.checks
}

fn anova(i: usize, row: &Value) -> Vec<Check> {
    let groups: Vec<Vec<f64>> = row["groups"]
        .as_array()
        .unwrap()
        .iter()
        .map(numbers)
        .collect();
    let views: Vec<&[f64]> = groups.iter().map(Vec::as_slice).collect();
    let table = one_way_anova(&views).unwrap();
    let mut sheet = Sheet::new(format!("analysis of variance {i}"), PROGRAMS);
    sheet.add("F", &row["f"], table.f, Tolerance::Relative(1e-9));
    sheet.add("p", &row["p"], table.p, Tolerance::Relative(1e-9));
    sheet.checks
}

#[test]
fn other_programs_agree() {
    let checks = values();
    hold(&checks, 1171);
}
