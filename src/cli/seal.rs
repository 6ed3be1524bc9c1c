//! Writing a sealed record and its signature.

use std::fs;
use std::path::{Component, Path, PathBuf};

use crate::cli::complaint::Complaint;
use crate::cli::output::{Kind, Set, WriteError};
use crate::cli::stop::Stop;
use crate::record::recheck::signature_file;
use crate::record::signature::{ENDING, NAMESPACE};
use crate::visit::input;

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
        let bytes = input::bytes(path, input::MOST_OF_A_TEXT)
            .map_err(|error| Stop::unreadable(path, &error))?;
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

/// A record ready to be written with the report that carries its digest.
pub struct Sealed {
    record: Vec<u8>,
    signature: Option<String>,
    standing: Standing,
}

impl Sealed {
    /// Signs a record where a signer is given.
    ///
    /// # Errors
    /// [`Stop`] if the signer cannot sign.
    pub fn new(record: Vec<u8>, signer: Option<&Signer>, standing: Standing) -> Result<Self, Stop> {
        let signature = signer.map(|signer| signer.sign(&record)).transpose()?;
        Ok(Self {
            record,
            signature,
            standing,
        })
    }

    /// The bytes of the record.
    #[must_use]
    pub fn record(&self) -> &[u8] {
        &self.record
    }

    /// Adds the record and its signature to the files of the report in this folder. Those that lie there already stay.
    ///
    /// # Errors
    /// [`Stop`] if another sealed record or signature lies there, or one of the two cannot be written.
    pub fn add(&self, place: &Path, files: &mut Set) -> Result<(), Stop> {
        let path = place.join(RECORD);
        let old = input::start(&path, input::MOST_OF_A_RECORD).ok();
        let same = old.as_ref() == Some(&self.record);
        if same {
            files.holds(RECORD, &self.record);
        } else if old.is_some() && self.standing == Standing::Kept {
            return Err(Stop::because(
                format!(
                    "{} is the sealed record of another state, and is not written over",
                    path.display()
                ),
                ELSEWHERE,
            ));
        } else {
            let kind = match self.standing {
                Standing::Kept => Kind::Once,
                Standing::Replaced => Kind::InventedRecord,
            };
            files.add(RECORD, kind, &self.record)?;
        }
        self.add_signature(same, &signature_file(&path), files)
    }

    fn add_signature(&self, same: bool, path: &Path, files: &mut Set) -> Result<(), Stop> {
        let name = format!("{RECORD}{ENDING}");
        let old = input::start(path, input::MOST_OF_A_TEXT).ok();
        match (&self.signature, old) {
            (None, Some(old)) if same => files.holds(&name, &old),
            (Some(new), Some(old)) if new.as_bytes() == old => files.holds(&name, &old),
            (Some(new), _) => files.add(&name, Kind::Once, new.as_bytes())?,
            // A signature of nothing that is here: somebody's own.
            (None, _) => Kind::Once
                .may_be(path)
                .map_err(|source| WriteError::new(path, source))?,
        }
        Ok(())
    }
}

/// What helps where a sealed report lies.
const ELSEWHERE: &str =
    "give this one a folder of its own with --report, or move the old report away with its record";

/// Refuses the folder of a sealed report to one that is not sealed: its pages carry the digest of the record.
///
/// # Errors
/// [`Stop`] if a sealed record lies there.
pub fn leave_alone(place: &Path) -> Result<(), Stop> {
    let path = place.join(RECORD);
    if fs::symlink_metadata(&path).is_err() {
        return Ok(());
    }
    let what = format!(
        "{} was sealed by an earlier run, and a report without a seal is not written over a sealed one",
        path.display()
    );
    let complaint = Complaint::error(what)
        .help("give --seal to seal this state, or --no-report to see the verdict alone")
        .help(ELSEWHERE);
    Err(complaint.into())
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
