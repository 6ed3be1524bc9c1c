//! The list of those who may sign, as OpenSSH writes it: a line each, names, options, key.
//!
//! # Source
//! ssh-keygen(1), ALLOWED SIGNERS.

use ssh_key::PublicKey;
use ssh_key::public::KeyData;
use thiserror::Error;

use super::NAMESPACE;

/// Who may sign records.
#[derive(Clone, Debug, Default)]
pub struct Signers(Vec<(String, KeyData)>);

/// A line of the list that cannot be taken.
#[derive(Debug, Error)]
pub enum SignersError {
    /// No key where one is expected.
    #[error(
        "line {line}: found `{found}`, expected names, options if any, and a public key such as `anna ssh-ed25519 AAAA…`"
    )]
    NoKey {
        /// Line, from 1.
        line: usize,
        /// The line.
        found: String,
    },
    /// An option that would have to be obeyed.
    #[error("line {line}: the option {option} is not read here: expected namespaces=\"…\" or none")]
    Option {
        /// Line, from 1.
        line: usize,
        /// The option.
        option: String,
    },
}

impl Signers {
    /// Reads a list.
    ///
    /// # Errors
    /// [`SignersError`] for a line without a key, or with an option that this reader would have to obey and does not know.
    pub fn read(text: &str) -> Result<Self, SignersError> {
        let mut signers = Vec::new();
        for (place, line) in text.lines().enumerate() {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            signers.extend(signer(line, place + 1)?);
        }
        Ok(Self(signers))
    }

    /// The names under which a key stands in the list.
    #[must_use]
    pub fn of(&self, key: &KeyData) -> Vec<&str> {
        let known = self.0.iter().filter(|(_, known)| known == key);
        known.map(|(names, _)| names.as_str()).collect()
    }
}

/// The names and the key of a line; `None` if it is for something else than records.
fn signer(line: &str, number: usize) -> Result<Option<(String, KeyData)>, SignersError> {
    let no_key = || SignersError::NoKey {
        line: number,
        found: line.to_owned(),
    };
    let (names, rest) = word(line).ok_or_else(no_key)?;
    let names = names.trim_matches('"').to_owned();
    if let Ok(key) = PublicKey::from_openssh(rest) {
        return Ok(Some((names, key.key_data().clone())));
    }
    let (options, key) = word(rest).ok_or_else(no_key)?;
    let key = PublicKey::from_openssh(key).map_err(|_| no_key())?;
    let mut serves = true;
    for option in parts(options) {
        let (name, value) = option.split_once('=').unwrap_or((option, ""));
        if !name.eq_ignore_ascii_case("namespaces") {
            return Err(SignersError::Option {
                line: number,
                option: name.to_owned(),
            });
        }
        serves = value.trim_matches('"').split(',').any(|it| it == NAMESPACE);
    }
    Ok(serves.then(|| (names, key.key_data().clone())))
}

/// The first word, which may hold blanks between quotes, and the rest.
fn word(text: &str) -> Option<(&str, &str)> {
    let mut quoted = false;
    let end = text.find(|letter: char| {
        quoted ^= letter == '"';
        letter.is_whitespace() && !quoted
    })?;
    Some((&text[..end], text[end..].trim_start()))
}

/// The parts between commas that do not stand between quotes.
fn parts(options: &str) -> Vec<&str> {
    let mut quoted = false;
    options
        .split(|letter: char| {
            quoted ^= letter == '"';
            letter == ',' && !quoted
        })
        .collect()
}
