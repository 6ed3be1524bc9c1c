//! Signatures of sealed records: OpenSSH's signature format over the bytes of the record, in a file beside it.
//!
//! The key is the user's own. Signing and checking need the feature `sign`; without it a signature is told and not checked.

use serde::Serialize;

#[cfg(feature = "sign")]
mod openssh;

#[cfg(feature = "sign")]
mod signers;

#[cfg(feature = "sign")]
pub use openssh::{SignError, check, sign};

#[cfg(feature = "sign")]
pub use signers::{Signers, SignersError};

/// What a signature is made for, so that one made for something else does not serve.
pub const NAMESPACE: &str = "relent-record";

/// What is added to the name of a record to name its signature.
pub const ENDING: &str = ".sig";

/// How the signature of a record stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", tag = "state")]
pub enum Signature {
    /// There is none.
    None,
    /// There is one, and this build does not check it.
    NotChecked,
    /// There is one that is none of OpenSSH's Ed25519 signatures for a record.
    Unreadable {
        /// Why.
        why: String,
    },
    /// It is not a signature of this record.
    Bad,
    /// It is one, by a key whose owner was not checked.
    Made {
        /// Fingerprint of the key.
        key: String,
    },
    /// It is one, by a signer of the list.
    By {
        /// Fingerprint of the key.
        key: String,
        /// Who that is, as the list names them.
        signers: Vec<String>,
    },
    /// It is one, by a key that is not in the list.
    Stranger {
        /// Fingerprint of the key.
        key: String,
    },
}
