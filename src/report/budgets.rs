//! The uncertainty of each finding, line by line, as text.

use std::fmt::Write as _;

use crate::uncertainty::Budget;
use crate::verdict::Finding;
use crate::visit::Assessment;

/// Every finding with a budget: its components, the combined and the expanded uncertainty.
#[must_use]
pub fn budgets(assessment: &Assessment) -> String {
    let mut text = String::new();
    for finding in &assessment.findings {
        if let Some(budget) = &finding.budget {
            text.push_str(&heading(finding));
            text.push_str(&lines(budget, finding.limit.unit()));
        }
    }
    text
}

fn heading(finding: &Finding) -> String {
    let place = finding
        .test_point
        .map(|point| format!(" at {point}"))
        .unwrap_or_default();
    let value = finding
        .printed_value()
        .unwrap_or_else(|| "no value".to_owned());
    format!(
        "\n{}{place}: {value} {}\n",
        finding.limit.name,
        finding.limit.unit()
    )
}

fn lines(budget: &Budget, unit: &str) -> String {
    let mut text = String::new();
    for part in &budget.components {
        let freedom = if part.dof.is_finite() {
            format!("{:.1}", part.dof)
        } else {
            "∞".to_owned()
        };
        let _ = writeln!(
            text,
            "  {:<34} {:>12.6} {unit} / {:<7.4} = u {:>10.6} {unit}, ν {freedom}",
            part.name, part.value, part.divisor, part.u
        );
    }
    for what in &budget.left_out {
        let _ = writeln!(
            text,
            "  left out: {what}; the uncertainty is greater than stated"
        );
    }
    let _ = writeln!(
        text,
        "  combined u {:.6} {unit}, ν {:.1}, k {:.4} for 95 %, U {:.6} {unit}; best estimate is the value {:+.6} {unit}",
        budget.combined, budget.dof, budget.k, budget.expanded, budget.correction
    );
    text
}
