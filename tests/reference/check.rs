//! The one comparator of the outside checks: a computed value against one from outside this crate.

/// How far a computed value may lie from the expected one.
#[derive(Clone, Copy, Debug)]
pub enum Tolerance {
    /// In the unit of the value, both ways.
    Absolute(f64),
    /// As a share of the expected value, both ways.
    Relative(f64),
    /// In the unit of the value, below and above: where a standard or a bound is one-sided.
    Between { below: f64, above: f64 },
}

/// One check against something outside this crate.
#[derive(Clone, Debug)]
pub struct Check {
    /// What is checked, in words.
    pub what: String,
    /// Where the expected value comes from: document, edition, clause; program, version; or the formula.
    pub source: &'static str,
    /// The expected value.
    pub expected: f64,
    /// What this crate computes.
    pub computed: f64,
    /// Symbol of the unit, empty for a pure number.
    pub unit: &'static str,
    /// How far they may differ.
    pub tolerance: Tolerance,
}

impl Check {
    /// The greatest permitted differences below and above, in the unit of the value.
    pub fn band(&self) -> (f64, f64) {
        match self.tolerance {
            Tolerance::Absolute(most) => (most, most),
            Tolerance::Relative(share) => {
                (share * self.expected.abs(), share * self.expected.abs())
            }
            Tolerance::Between { below, above } => (below, above),
        }
    }

    /// Whether the computed value is finite and within the band.
    pub fn holds(&self) -> bool {
        let (below, above) = self.band();
        let difference = self.computed - self.expected;
        self.expected.is_finite()
            && self.computed.is_finite()
            && difference >= -below
            && difference <= above
    }
}

/// Fails with every number of every check that does not hold, and if the number of checks is not the expected one.
pub fn hold(checks: &[Check], count: usize) {
    assert_eq!(checks.len(), count, "the number of checks changed");
    let failed: Vec<String> = checks
        .iter()
        .filter(|check| !check.holds())
        .map(|check| {
            let (below, above) = check.band();
            format!(
                "{}: expected {} {unit}, computed {} {unit}, difference {:e}, permitted -{below:e} to +{above:e} ({})",
                check.what,
                check.expected,
                check.computed,
                check.computed - check.expected,
                check.source,
                unit = check.unit,
            )
        })
        .collect();
    assert!(
        failed.is_empty(),
        "{} of {} checks fail:\n{}",
        failed.len(),
        checks.len(),
        failed.join("\n")
    );
}
