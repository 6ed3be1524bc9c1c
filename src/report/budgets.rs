//! The uncertainty of each finding, line by line, as text.

use std::fmt::Write as _;

use super::place::printed_or_none;
use crate::uncertainty::Budget;
use crate::verdict::Finding;
use crate::visit::Assessment;
use crate::words::Words;

/// Every finding with a budget: its components, the combined and the expanded uncertainty.
#[must_use]
pub fn budgets(words: &Words, assessment: &Assessment) -> String {
    let mut text = String::new();
    for finding in &assessment.findings {
        if let Some(budget) = &finding.budget {
            text.push_str(&heading(words, finding));
            text.push_str(&lines(words, budget, finding.limit.unit()));
        }
    }
    text
}

fn heading(words: &Words, finding: &Finding) -> String {
    let mut variables = vec![
        ("limit", finding.limit.name.as_str().into()),
        ("value", printed_or_none(words, finding).into()),
    ];
    let heading = match &finding.test_point {
        None => words.with("report-budget-of", &variables),
        Some(point) => {
            variables.push(("point", words.fact(point).into()));
            words.with("report-budget-at", &variables)
        }
    };
    format!("\n{heading}\n")
}

fn lines(words: &Words, budget: &Budget, unit: &str) -> String {
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
            words.fact(&part.source),
            part.value,
            part.divisor,
            part.u
        );
    }
    for what in &budget.left_out {
        let told = words.with(
            "report-budget-left-out",
            &[("component", words.fact(what).into())],
        );
        let _ = writeln!(text, "  {told}");
    }
    let told = words.with(
        "report-budget-combined",
        &[
            ("combined", format!("{:.6}", budget.combined).into()),
            ("dof", format!("{:.1}", budget.dof).into()),
            ("k", format!("{:.4}", budget.k).into()),
            ("expanded", format!("{:.6}", budget.expanded).into()),
            ("correction", format!("{:+.6}", budget.correction).into()),
            ("unit", unit.into()),
        ],
    );
    let _ = writeln!(text, "  {told}");
    text
}
