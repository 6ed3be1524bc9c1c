//! `history.json`, `relent.history/1`.

use serde::Serialize;

use crate::record::history::{Change, History, NoTrend, Remark, Series, Stretch, Trend, Visit};
use crate::report::cautions::cautions;
use crate::words::{Said, Words};

/// A gate over its visits.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Document<'a> {
    schema: &'static str,
    tool: &'static str,
    /// Name of the gate, as the last visit writes it.
    gate: &'a str,
    /// Where it stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<&'a str>,
    /// The visits in the order of their days.
    visits: &'a [Visit],
    /// What was changed, in the order of the days; no trend is drawn across one.
    changes: Vec<Said<&'a Change>>,
    /// One limit at one test point each, those nearest to their limit at the last reading first.
    series: Vec<SeriesLine<'a>>,
    remarks: Vec<Said<&'a Remark>>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct SeriesLine<'a> {
    #[serde(flatten)]
    series: &'a Series,
    /// Between the changes.
    stretches: Vec<StretchLine<'a>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct StretchLine<'a> {
    /// First and last visit, from 0.
    visits: (usize, usize),
    /// What moves, or why that is not said.
    trend: TrendLine<'a>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
enum TrendLine<'a> {
    Drawn(&'a Trend),
    Not {
        not_drawn_because: Said<&'a NoTrend>,
    },
}

/// The history as JSON, with an end of line after it.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for a history.
pub fn history_json(words: &Words, history: &History) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(&Document {
        schema: "relent.history/1",
        tool: concat!("relent ", env!("CARGO_PKG_VERSION")),
        gate: &history.gate,
        place: history.place.as_deref(),
        visits: &history.visits,
        changes: words.all_said(&history.changes),
        series: history.series.iter().map(|it| line(words, it)).collect(),
        remarks: words.all_said(&history.remarks),
        cautions: cautions(words),
    })?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn line<'a>(words: &Words, series: &'a Series) -> SeriesLine<'a> {
    let stretch = |it: &'a Stretch| StretchLine {
        visits: it.visits,
        trend: match &it.trend {
            Ok(trend) => TrendLine::Drawn(trend),
            Err(why) => TrendLine::Not {
                not_drawn_because: words.said(why),
            },
        },
    };
    SeriesLine {
        series,
        stretches: series.stretches.iter().map(stretch).collect(),
    }
}
