//! `history.json`, `relent.history/1`.

use serde_json::{Value, json};

use crate::record::history::{History, Stretch};
use crate::report::cautions::cautions;
use crate::words::Words;

/// The history as JSON, with an end of line after it.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for a history.
pub fn history_json(words: &Words, history: &History) -> Result<Vec<u8>, serde_json::Error> {
    let mut record = serde_json::to_value(history)?;
    record["changes"] = told(history.changes.iter().map(|it| json!(words.said(it))));
    record["remarks"] = told(history.remarks.iter().map(|it| json!(words.said(it))));
    record["cautions"] = json!(cautions(words));
    for (place, series) in history.series.iter().enumerate() {
        let stretches = series.stretches.iter().map(|it| stretch(words, it));
        record["series"][place]["stretches"] = told(stretches);
    }
    let mut bytes = serde_json::to_vec_pretty(&record)?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn told(values: impl Iterator<Item = Value>) -> Value {
    Value::Array(values.collect())
}

fn stretch(words: &Words, stretch: &Stretch) -> Value {
    let trend = match &stretch.trend {
        Ok(trend) => json!(trend),
        Err(why) => json!({ "not_drawn_because": words.said(why) }),
    };
    json!({ "visits": stretch.visits, "trend": trend })
}
