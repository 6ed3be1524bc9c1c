//! `findings.csv`: one row a finding, with unrounded numbers, for spreadsheets and scripts.

use crate::fact::Fact;
use crate::record::cell;
use crate::verdict::Finding;
use crate::visit::Assessment;

use super::place::state;

const HEADINGS: [&str; 22] = [
    "limit",
    "known_from",
    "decides",
    "direction",
    "hazard",
    "gap_mm",
    "height_mm",
    "measure",
    "unit",
    "hits_wanted",
    "hits_found",
    "hit_values",
    "value",
    "lower_bound_only",
    "limit_value",
    "bound",
    "share_of_limit",
    "expanded_uncertainty",
    "probability_of_conformity",
    "state",
    "reasons",
    "logs",
];

/// The findings as CSV: RFC 4180, UTF-8, decimal points, unrounded. An empty cell is a value that does not exist.
///
/// Text that a spreadsheet would take for a formula gets an apostrophe before it ([`cell::text`]); numbers are written as
/// numbers.
///
/// # Errors
/// [`csv::Error`] of the writer; none is known for a writer into memory.
pub fn findings_csv(assessment: &Assessment) -> Result<Vec<u8>, csv::Error> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(HEADINGS)?;
    for finding in &assessment.findings {
        writer.write_record(row(finding))?;
    }
    writer
        .into_inner()
        .map_err(|error| error.into_error().into())
}

fn row(finding: &Finding) -> [String; 22] {
    let limit = &finding.limit;
    let point = finding.test_point.as_ref();
    let number = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
    let text = |text: String| cell::text(&text).into_owned();
    let yes = |it: bool| if it { "yes" } else { "no" }.to_owned();
    let values: Vec<String> = finding
        .repeats
        .iter()
        .map(|repeat| {
            repeat
                .value
                .as_ref()
                .map_or_else(|_| "-".to_owned(), f64::to_string)
        })
        .collect();
    let logs: Vec<&str> = finding
        .repeats
        .iter()
        .map(|repeat| repeat.log.as_str())
        .collect();
    [
        text(limit.name.clone()),
        limit.known_from.to_string(),
        yes(finding.decides()),
        point
            .map(|point| point.direction.to_string())
            .unwrap_or_default(),
        point
            .map(|point| point.hazard.to_string())
            .unwrap_or_default(),
        number(point.map(|point| point.gap_mm)),
        number(point.map(|point| point.height_mm)),
        limit.measure.to_string(),
        limit.unit().to_owned(),
        finding.wanted.to_string(),
        finding.repeats.len().to_string(),
        text(values.join(" ")),
        number(finding.value().ok()),
        yes(finding.value().is_ok() && !finding.complete()),
        number(Some(limit.value)),
        limit.bound.word().to_owned(),
        number(finding.share_of_limit()),
        number(finding.budget.as_ref().map(|budget| budget.expanded)),
        number(finding.probability()),
        state(finding).code(),
        text(
            finding
                .reasons()
                .into_iter()
                .chain(finding.remarks())
                .collect::<Vec<_>>()
                .join("; "),
        ),
        text(logs.join(" ")),
    ]
}
