//! The texts that a visit was read from: with them a sealed record can be worked out again from its logs alone.

use serde::{Deserialize, Serialize};

use super::error::VisitError;
use crate::ingest::{hexadecimal, sha256};
use crate::limitation::fingerprint::Fingerprint;
use crate::limitation::{EarlierLog, Original, Print};

/// A text as it was, with its digest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HeldText {
    /// What it is called: a file as the user names it, or a profile of the shelf.
    pub name: String,
    /// SHA-256 of its bytes, in lower-case hexadecimal.
    pub sha256: String,
    /// The text, to the byte.
    pub text: String,
}

/// The limit profile that was assessed against, in full.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HeldProfile {
    /// As the gate file or the command line names it.
    pub asked: String,
    /// Who named it.
    pub asked_by: AskedBy,
    /// Its text: a profile of the shelf, one of the user's own, or an overlay.
    pub text: HeldText,
    /// The profile that an overlay extends, as it stood on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extends: Option<HeldText>,
}

/// Who named the limit profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum AskedBy {
    GateFile,
    CommandLine,
}

/// A log of an earlier visit, among which copies were looked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HeldEarlier {
    /// The log with its visit.
    #[serde(flatten)]
    pub log: Original,
    /// Digest of its samples ([`crate::limitation::copy::digest`]), in lower-case hexadecimal.
    pub samples_sha256: String,
    /// Its noise and steps ([`Fingerprint::to_bytes`]), in lower-case hexadecimal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fingerprint: Option<String>,
}

/// Everything that was read besides the logs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Sources {
    /// The gate file.
    pub gate_file: HeldText,
    /// The limit profile.
    pub profile: HeldProfile,
    /// The recipe for the logs, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<HeldText>,
    /// The user's own checks before the gate is driven, where there are any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub checks: Option<HeldText>,
    /// The files in the folder of the logs that hold no hit, by their names from it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<String>,
    /// The logs of earlier visits.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub earlier: Vec<HeldEarlier>,
}

impl HeldText {
    /// A text with its digest.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        Self {
            name: name.into(),
            sha256: sha256(text.as_bytes()),
            text,
        }
    }

    /// Whether the digest is that of the text.
    #[must_use]
    pub fn holds(&self) -> bool {
        sha256(self.text.as_bytes()) == self.sha256
    }
}

impl HeldEarlier {
    /// A log of an earlier visit as the record holds it.
    #[must_use]
    pub fn new(log: &EarlierLog) -> Self {
        let fingerprint = log.print.fingerprint.as_ref();
        Self {
            log: log.log.clone(),
            samples_sha256: hexadecimal(&log.print.samples),
            fingerprint: fingerprint.map(|print| hexadecimal(&print.to_bytes())),
        }
    }

    /// The log as it was.
    pub(super) fn read(&self) -> Result<EarlierLog, VisitError> {
        let print = || {
            let samples = from_hexadecimal(&self.samples_sha256)?.try_into().ok()?;
            let fingerprint = match &self.fingerprint {
                Some(text) => Some(Fingerprint::from_bytes(&from_hexadecimal(text)?)?),
                None => None,
            };
            Some(Print {
                samples,
                fingerprint,
            })
        };
        Ok(EarlierLog {
            log: self.log.clone(),
            print: print().ok_or_else(|| VisitError::EarlierDigest(self.log.log.clone()))?,
        })
    }
}

impl Sources {
    /// Every text.
    pub fn texts(&self) -> impl Iterator<Item = &HeldText> {
        [&self.gate_file, &self.profile.text]
            .into_iter()
            .chain(&self.profile.extends)
            .chain(&self.recipe)
            .chain(&self.checks)
    }
}

/// The bytes that are written in hexadecimal; `None` for a text that is none.
fn from_hexadecimal(text: &str) -> Option<Vec<u8>> {
    if !text.len().is_multiple_of(2) || !text.is_ascii() {
        return None;
    }
    let bytes = (0..text.len()).step_by(2);
    bytes
        .map(|at| u8::from_str_radix(&text[at..at + 2], 16).ok())
        .collect()
}
