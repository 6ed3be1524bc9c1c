//! The seal: a record as bytes of which none can change unnoticed.
//!
//! `{"body":…,"body_sha256":"…"}`, all of it canonical JSON ([`super::canonical`]), without an end of line. The digest inside
//! is that of the bytes of the body, so that a changed byte is noticed without anything beside the file: in the body, because
//! the digest differs; in the digest, because it differs from the body's; anywhere else, because those bytes are fixed. The
//! digest that is printed on the report is that of the whole file, as `sha256sum` prints it.

use serde_json::Value;
use thiserror::Error;

use super::body::{Body, SCHEMA};
use super::canonical::{self, CanonicalError};
use crate::ingest::sha256;

const BEFORE: &[u8] = b"{\"body\":";
const BETWEEN: &[u8] = b",\"body_sha256\":\"";
const AFTER: &[u8] = b"\"}";
const DIGITS: usize = 64;

/// A sealed record that was opened and whose bytes agree with its digest.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// What it holds.
    pub body: Body,
    /// SHA-256 of the whole file, in lower-case hexadecimal: the one that the report prints.
    pub sha256: String,
}

/// Why a file cannot be taken as a sealed record.
#[derive(Debug, Error)]
pub enum RecordError {
    /// Something else.
    #[error(
        "not a sealed record: expected JSON that begins with {{\"body\": and ends with its digest"
    )]
    NotARecord,
    /// It begins as one, and its end is not that of one.
    #[error(
        "altered: it begins as a sealed record and does not end as one, with its digest; it was cut off, or its end was changed"
    )]
    CutOff,
    /// Laid out anew.
    #[error("altered: it is not laid out as it was sealed, byte for byte{}", same_content(*.content))]
    NotCanonical {
        /// Whether what it says still agrees with its digest.
        content: Content,
    },
    /// A changed byte.
    #[error("altered: its content has the SHA-256 {found}, and it was sealed with {sealed}")]
    Digest {
        /// As it was sealed.
        sealed: String,
        /// As it is.
        found: String,
    },
    /// A text in it does not agree with its own digest.
    #[error("altered: the text of {name} in it does not have the SHA-256 that stands beside it")]
    Text {
        /// Name of the text.
        name: String,
    },
    /// Of a form that this version does not read: a later one, or one that was never released.
    #[error("of the form {found}; this version reads {SCHEMA}")]
    OtherForm {
        /// The schema found.
        found: String,
    },
    /// Canonical and unchanged, but not of the form.
    #[error("not of the form {SCHEMA}: {source}")]
    Form {
        /// What the reader says.
        source: serde_json::Error,
    },
}

/// Whether the content of a record that was laid out anew agrees with its digest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Content {
    /// It does: only blanks, the order of members or the writing of numbers changed.
    AsSealed,
    /// It does not.
    Changed,
}

fn same_content(content: Content) -> &'static str {
    match content {
        Content::AsSealed => ", though what it says still agrees with its digest",
        Content::Changed => ", and what it says no longer agrees with its digest",
    }
}

impl RecordError {
    /// Whether the bytes are not those that were sealed.
    #[must_use]
    pub const fn is_alteration(&self) -> bool {
        matches!(
            self,
            Self::CutOff | Self::NotCanonical { .. } | Self::Digest { .. } | Self::Text { .. }
        )
    }
}

/// The bytes of a sealed record.
///
/// # Errors
/// [`CanonicalError`] if a number in the body has no form in JSON; none is known for a body made from an assessment.
pub fn seal(body: &Body) -> Result<Vec<u8>, CanonicalError> {
    let body = canonical::to_bytes(body)?;
    let digest = sha256(&body);
    Ok([BEFORE, &body, BETWEEN, digest.as_bytes(), AFTER].concat())
}

/// Opens a sealed record; a single changed byte is an error.
///
/// # Errors
/// [`RecordError`]
pub fn open(bytes: &[u8]) -> Result<Opened, RecordError> {
    let Some((body, sealed)) = envelope(bytes) else {
        return Err(unlike(bytes));
    };
    let found = sha256(body);
    if sealed != found.as_bytes() {
        let sealed = String::from_utf8_lossy(sealed).into_owned();
        return Err(RecordError::Digest { sealed, found });
    }
    let value: Value =
        serde_json::from_slice(body).map_err(|source| RecordError::Form { source })?;
    if canonical::of_value(&value).ok().as_deref() != Some(body) {
        return Err(RecordError::NotCanonical {
            content: Content::AsSealed,
        });
    }
    schema(&value)?;
    let body: Body =
        serde_json::from_value(value).map_err(|source| RecordError::Form { source })?;
    let wrong = body.sources.texts().find(|text| !text.holds());
    if let Some(text) = wrong {
        let name = text.name.clone();
        return Err(RecordError::Text { name });
    }
    Ok(Opened {
        body,
        sha256: sha256(bytes),
    })
}

/// The bytes of the body and the digits of its digest, where the bytes around them are those of a record.
fn envelope(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let inner = bytes.strip_prefix(BEFORE)?.strip_suffix(AFTER)?;
    let (inner, digest) = inner.split_at_checked(inner.len().checked_sub(DIGITS)?)?;
    Some((inner.strip_suffix(BETWEEN)?, digest))
}

/// What is wrong with bytes that are not wrapped as a record.
fn unlike(bytes: &[u8]) -> RecordError {
    let value: Option<Value> = serde_json::from_slice(bytes).ok();
    let parts = value
        .as_ref()
        .and_then(|value| Some((value.get("body")?, value.get("body_sha256")?.as_str()?)));
    let Some((body, sealed)) = parts else {
        return if bytes.starts_with(BEFORE) {
            RecordError::CutOff
        } else {
            RecordError::NotARecord
        };
    };
    let found = canonical::of_value(body).map(|body| sha256(&body));
    RecordError::NotCanonical {
        content: if found.is_ok_and(|found| found == sealed) {
            Content::AsSealed
        } else {
            Content::Changed
        },
    }
}

fn schema(body: &Value) -> Result<(), RecordError> {
    match body.get("schema").and_then(Value::as_str) {
        Some(SCHEMA) => Ok(()),
        Some(found) if found.starts_with("relent.record/") => Err(RecordError::OtherForm {
            found: found.to_owned(),
        }),
        _ => Err(RecordError::NotARecord),
    }
}
