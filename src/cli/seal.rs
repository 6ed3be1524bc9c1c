//! Writing a sealed record and its signature.

use std::fs;
use std::path::{Component, Path, PathBuf};

use crate::cli::complaint::Complaint;
use crate::cli::output;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::record::recheck::signature_file;
use crate::record::signature::NAMESPACE;

/// The name of the sealed record in the folder of the report.
pub const RECORD: &str = "record.json";

/// What becomes of a sealed record of another state that lies where this one is to be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It stays, and nothing is written.
    Kept,
    /// It is written over: it is an invented one.
    Replaced,
}

/// A key that signs.
pub struct Signer {
    #[cfg(feature = "sign")]
    key: String,
}

impl Signer {
    /// Reads a key, and sees whether it can sign.
    ///
    /// # Errors
    /// [`Stop`] for a key that cannot be read or cannot sign here.
    #[cfg(feature = "sign")]
    pub fn open(path: &Path) -> Result<Self, Stop> {
        let shown = path.display();
        let bytes = fs::read(path).map_err(|error| Stop::unreadable(path, &error))?;
        let key = String::from_utf8_lossy(&bytes).into_owned();
        match crate::record::signature::sign(&key, b"") {
            Ok(_) => Ok(Self { key }),
            Err(error) => Err(
                Complaint::error(format_args!("cannot sign with {shown}: {error}"))
                    .helped_by(advice(&error, path))
                    .into(),
            ),
        }
    }

    /// This build does not sign.
    ///
    /// # Errors
    /// Always, with the command that does.
    #[cfg(not(feature = "sign"))]
    pub fn open(path: &Path) -> Result<Self, Stop> {
        Err(Stop::because(
            "this build of relent does not sign: it was built without the feature `sign`",
            format!(
                "seal without --sign, then sign the record: {}",
                command(path)
            ),
        ))
    }

    #[cfg(feature = "sign")]
    fn sign(&self, record: &[u8]) -> Result<String, Stop> {
        crate::record::signature::sign(&self.key, record).map_err(Stop::fault)
    }

    #[cfg(not(feature = "sign"))]
    fn sign(&self, _record: &[u8]) -> Result<String, Stop> {
        Ok(String::new())
    }
}

#[cfg(feature = "sign")]
fn advice(error: &crate::record::signature::SignError, path: &Path) -> Vec<String> {
    use crate::record::signature::SignError;
    match error {
        SignError::Public => vec!["the private key has the same name without .pub".to_owned()],
        SignError::Locked => vec![format!(
            "seal without --sign, then let ssh-keygen ask for the passphrase: {}",
            command(path)
        )],
        SignError::Kind { .. } => vec![
            "ssh-keygen -t ed25519 makes a key of this kind".to_owned(),
            format!(
                "or seal without --sign, then sign with ssh-keygen: {}; `relent recheck` does not check that signature, ssh-keygen does",
                command(path)
            ),
        ],
        SignError::NoKey(_) => vec!["ssh-keygen -t ed25519 makes a key".to_owned()],
        SignError::Sign(_) => Vec::new(),
    }
}

fn command(key: &Path) -> String {
    format!(
        "ssh-keygen -Y sign -n {NAMESPACE} -f {} {RECORD}",
        key.display()
    )
}

/// Writes a sealed record, whole or not at all, and its signature.
///
/// # Errors
/// [`Stop`] if another sealed record lies there and is to stay, or one of the two cannot be written.
pub fn write(
    place: &Path,
    record: &[u8],
    signer: Option<&Signer>,
    standing: Standing,
) -> Result<(), Stop> {
    let path = place.join(RECORD);
    let old = fs::read(&path).ok();
    let same = old.as_deref() == Some(record);
    if old.is_some() && !same && standing == Standing::Kept {
        let what = format!(
            "{} is the sealed record of another state, and is not written over",
            path.display()
        );
        return Err(Stop::because(
            what,
            "give this one a folder of its own with --report, or move the old report away with its record",
        ));
    }
    let signature = signer.map(|signer| signer.sign(record)).transpose()?;
    let signed = signature_file(&path);
    if !same {
        output::remove(&signed)?;
        output::write_whole(&path, record)?;
    }
    match signature {
        Some(signature) => Ok(output::write_whole(&signed, signature.as_bytes())?),
        None => Ok(()),
    }
}

/// Says that a sealed record lies in the folder of a report that is written now without one.
pub fn warn_of_another(place: &Path) {
    let path = place.join(RECORD);
    if path.is_file() {
        let what = format!(
            "{} was sealed by an earlier run: the report written now does not carry its digest",
            path.display()
        );
        let help = "give --seal to seal this state, or another folder with --report to keep the sealed report as it was";
        screen::complain(&[Complaint::warning(what).help(help)]);
    }
}

/// The way from one folder to another, parted by `/`; the whole path of the other where no way leads there.
#[must_use]
pub fn way(from: &Path, to: &Path) -> String {
    let real = |path: &Path| {
        fs::canonicalize(path)
            .or_else(|_| std::path::absolute(path))
            .unwrap_or_else(|_| path.to_owned())
    };
    let (from, to) = (real(from), real(to));
    let (from, to): (Vec<Component<'_>>, Vec<Component<'_>>) =
        (from.components().collect(), to.components().collect());
    let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    let words = |parts: &[Component<'_>]| -> Vec<String> {
        let word = |part: &Component<'_>| part.as_os_str().to_string_lossy().into_owned();
        parts.iter().map(word).collect()
    };
    if shared == 0 {
        return to.iter().collect::<PathBuf>().display().to_string();
    }
    let up = std::iter::repeat_n("..".to_owned(), from.len() - shared);
    let way: Vec<String> = up.chain(words(&to[shared..])).collect();
    if way.is_empty() {
        ".".to_owned()
    } else {
        way.join("/")
    }
}
