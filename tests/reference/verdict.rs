//! Decision rules against ILAC-G8:09/2019 and JCGM 106:2012.

use relent::limits::{Limit, profile};
use relent::quantity::Newton;
use relent::uncertainty::{Budget, Component, Distribution, Source, combine};
use relent::verdict::{DecisionRule, Finding, Interval, RepeatReading, Verdict};

use crate::check::{Check, Tolerance, hold};

const ILAC: &str = "ILAC-G8:09/2019, guard bands (from memory): acceptance limit = tolerance limit − w; U 20, u 10";
const JCGM: &str =
    "JCGM 106:2012, 8.3.3: w = 1.64 u (rounded from 1.645) keeps false acceptance below 5 %";

fn limit() -> Limit {
    profile("en12453-2017").unwrap().limits[0].clone()
}

/// One hit with u = 10 and U = 20, as the examples state it (k = 2).
fn finding(value: f64, rule: DecisionRule) -> Finding {
    let line = Component {
        source: Source::Calibration,
        value: 20.0,
        distribution: Distribution::Normal,
        divisor: 2.0,
        u: 10.0,
        dof: f64::INFINITY,
    };
    let budget = Budget {
        k: 2.0,
        expanded: 20.0,
        ..combine(vec![line], 0.0, Vec::new())
    };
    Finding {
        limit: limit(),
        test_point: None,
        wanted: 1,
        repeats: vec![RepeatReading {
            log: "hit.csv".to_owned(),
            index: 0,
            value: Ok(Newton(value).into()),
            interval: Interval::exactly(value),
            limitations: Vec::new(),
        }],
        rule,
        budget: Some(budget),
        not_current: Vec::new(),
        odd_one: None,
    }
}

/// The greatest value that is still within, found by halving: through the verdict itself and not through its parts.
fn acceptance_limit(rule: DecisionRule) -> f64 {
    let (mut within, mut beyond) = (0.0, 1000.0);
    for _ in 0..60 {
        let middle = (within + beyond) / 2.0;
        match finding(middle, rule).verdict() {
            Verdict::Within => within = middle,
            Verdict::Over | Verdict::Undecided => beyond = middle,
        }
    }
    within
}

/// The least value that is over, found by halving.
fn rejection_limit(rule: DecisionRule) -> f64 {
    let (mut below, mut over) = (0.0, 1000.0);
    for _ in 0..60 {
        let middle = (below + over) / 2.0;
        match finding(middle, rule).verdict() {
            Verdict::Over => over = middle,
            Verdict::Within | Verdict::Undecided => below = middle,
        }
    }
    over
}

/// Acceptance and rejection limits of every rule.
pub fn checks() -> Vec<Check> {
    let rows = [
        ("simple", 400.0, ILAC),
        ("guarded-0.83U", 383.4, ILAC),
        ("guarded", 380.0, ILAC),
        ("guarded-1.5U", 370.0, ILAC),
        ("guarded-1.64u", 383.6, JCGM),
    ];
    let mut checks = Vec::new();
    for (name, accepted, source) in rows {
        let rule: DecisionRule = name.parse().unwrap();
        let sides = [
            ("greatest value within", accepted, acceptance_limit(rule)),
            ("least value over", 800.0 - accepted, rejection_limit(rule)),
        ];
        for (side, expected, computed) in sides {
            checks.push(Check {
                what: format!("{name}: {side}, limit 400 N"),
                source,
                expected,
                computed,
                unit: "N",
                // Values within a billionth of the limit count as the limit.
                tolerance: Tolerance::Absolute(4.1e-7),
            });
        }
    }
    let near = finding(410.0, DecisionRule::Simple);
    checks.push(Check {
        what: "simple, y 410, u 10: probability of conformity".to_owned(),
        source: "Φ(−1) by tables",
        expected: 0.158_655,
        computed: near.probability().unwrap(),
        unit: "",
        tolerance: Tolerance::Absolute(5e-7),
    });
    checks
}

#[test]
fn every_decision_rule_has_the_acceptance_limit_of_its_guard_band() {
    hold(&checks(), 11);
}

#[test]
fn every_rule_has_a_name_that_reads_back() {
    for (name, rule) in DecisionRule::ALL {
        assert_eq!(name.parse(), Ok(rule));
        assert_eq!(rule.to_string(), name);
    }
    assert_eq!(
        "strict".parse::<DecisionRule>().unwrap_err().to_string(),
        "decision rule \"strict\", expected one of simple, guarded, guarded-1.64u, guarded-0.83U, guarded-1.5U"
    );
}
