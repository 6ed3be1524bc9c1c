//! Ed25519 signatures in OpenSSH's format.
//!
//! # Source
//! PROTOCOL.sshsig of OpenSSH; `ssh-keygen -Y sign` and `-Y verify` read and write the same.

use ssh_key::{Algorithm, HashAlg, LineEnding, PrivateKey, PublicKey, SshSig};
use thiserror::Error;

use super::signers::Signers;
use super::{NAMESPACE, Signature};

/// Why a key cannot sign.
#[derive(Debug, Error)]
pub enum SignError {
    /// It is the public half.
    #[error("it is a public key: expected the private one")]
    Public,
    /// It is locked with a passphrase.
    #[error("it is locked with a passphrase")]
    Locked,
    /// It is of another kind.
    #[error("it is a key of the kind {found}: expected ssh-ed25519")]
    Kind {
        /// The kind found.
        found: String,
    },
    /// It is no key.
    #[error("it is no private key in OpenSSH's format")]
    NoKey(#[source] ssh_key::Error),
    /// It did not sign.
    #[error("it did not sign")]
    Sign(#[source] ssh_key::Error),
}

/// The signature of a record's bytes, as the text of a signature file. `key` is the text of a private Ed25519 key in
/// OpenSSH's format.
///
/// # Errors
/// [`SignError`] for a key that is public, locked, of another kind, or none.
pub fn sign(key: &str, record: &[u8]) -> Result<String, SignError> {
    if PublicKey::from_openssh(key).is_ok() {
        return Err(SignError::Public);
    }
    let key = PrivateKey::from_openssh(key).map_err(SignError::NoKey)?;
    if key.is_encrypted() {
        return Err(SignError::Locked);
    }
    if key.algorithm() != Algorithm::Ed25519 {
        let found = key.algorithm().to_string();
        return Err(SignError::Kind { found });
    }
    let signature = key
        .sign(NAMESPACE, HashAlg::Sha512, record)
        .map_err(SignError::Sign)?;
    signature.to_pem(LineEnding::LF).map_err(SignError::Sign)
}

/// How a signature file stands to the bytes of a record. Who made it is looked up where a list of signers is given.
#[must_use]
pub fn check(record: &[u8], signature: &[u8], signers: Option<&Signers>) -> Signature {
    let Ok(signature) = SshSig::from_pem(signature) else {
        return unreadable(
            "its file holds no signature in OpenSSH's format: take the file from a copy that was kept, or sign the record again"
                .to_owned(),
        );
    };
    if signature.namespace() != NAMESPACE {
        let found = signature.namespace();
        return unreadable(format!("it was made for `{found}`, not for `{NAMESPACE}`"));
    }
    if signature.algorithm() != Algorithm::Ed25519 {
        let found = signature.algorithm();
        return unreadable(format!("it is of the kind {found}, expected ssh-ed25519"));
    }
    let public = PublicKey::from(signature.public_key().clone());
    if public.verify(NAMESPACE, record, &signature).is_err() {
        return Signature::Bad;
    }
    let key = public.fingerprint(HashAlg::Sha256).to_string();
    let Some(signers) = signers else {
        return Signature::Made { key };
    };
    let names = signers.of(public.key_data());
    if names.is_empty() {
        Signature::Stranger { key }
    } else {
        let signers = names.into_iter().map(str::to_owned).collect();
        Signature::By { key, signers }
    }
}

fn unreadable(why: String) -> Signature {
    Signature::Unreadable { why }
}
