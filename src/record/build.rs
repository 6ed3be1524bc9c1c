//! Which build of relent made a record.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A build: its version, and the commit it was made from where the build knows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Build {
    /// The version, as "0.1.0".
    pub version: String,
    /// The first digits of the commit, with "-changed" behind them if the sources were changed since; absent in a build that is no
    /// release, or that was made without git.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub commit: Option<String>,
}

impl Build {
    /// The build that is running.
    #[must_use]
    pub fn this() -> Self {
        Self {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            commit: option_env!("RELENT_COMMIT").map(str::to_owned),
        }
    }
}

impl fmt::Display for Build {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "relent {}", self.version)?;
        match &self.commit {
            Some(commit) => write!(f, " ({commit})"),
            None => Ok(()),
        }
    }
}
