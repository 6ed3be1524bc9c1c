//! The journal of an archive: one line an assessed gate folder, each with its own digest.
//!
//! A line is `<SHA-256 of the rest, in hexadecimal> <JSON>` and an end of line. A torn or damaged line is no line: its gate is
//! assessed again.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::AssessedGate;
use super::inputs::Inputs;

/// What makes an entry: who assessed, what was read, what was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// The program that assessed and what it was asked: a result of another program or another question is none.
    pub under: String,
    /// The files that were read.
    pub inputs: Inputs,
    /// What was found.
    pub assessed: AssessedGate,
}

const DIGEST: usize = 64;

/// The line of an entry, with its end of line.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for an entry.
pub fn line(entry: &Entry) -> Result<Vec<u8>, serde_json::Error> {
    let json = serde_json::to_vec(entry)?;
    let mut line = crate::ingest::sha256(&json).into_bytes();
    line.push(b' ');
    line.extend_from_slice(&json);
    line.push(b'\n');
    Ok(line)
}

/// The entry of a line, without or with its end of line; `None` for a line that is torn or damaged.
#[must_use]
pub fn entry(line: &[u8]) -> Option<Entry> {
    let line = line.strip_suffix(b"\n").unwrap_or(line);
    let (digest, rest) = line.split_at_checked(DIGEST)?;
    let json = rest.strip_prefix(b" ")?;
    if crate::ingest::sha256(json).as_bytes() != digest {
        return None;
    }
    // Through a value, as a sealed record is read: each way out of JSON is machine code for every type in it.
    let value: Value = serde_json::from_slice(json).ok()?;
    serde_json::from_value(value).ok()
}
