//! What a log is packed in: gzip, a zip archive or a workbook; known by their first bytes, never by the name of the file.

use std::borrow::Cow;
use std::io::Read;

use super::{ReadError, workbook};

/// The most bytes that a packed log may unpack to: at 1 kHz and 12 bytes a row, six hours.
pub(super) const MOST_UNPACKED: u64 = 256 << 20;

/// The bytes of the log itself, and what it was packed in.
pub(super) struct Unpacked<'a> {
    pub(super) bytes: Cow<'a, [u8]>,
    pub(super) from: Option<String>,
    /// Names of what else it was packed with, and is no log.
    pub(super) left_out: Vec<String>,
}

/// Unpacks once; a log packed twice is refused as what the inner container is.
///
/// Of several files in an archive the one that `is_log` is taken.
pub(super) fn unpack(bytes: &[u8], is_log: fn(&[u8]) -> bool) -> Result<Unpacked<'_>, ReadError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Ok(Unpacked {
            bytes: Cow::Owned(gzip(bytes)?),
            from: Some("unpacked from gzip".to_owned()),
            left_out: Vec::new(),
        });
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return zip(bytes, is_log);
    }
    Ok(Unpacked {
        bytes: Cow::Borrowed(bytes),
        from: None,
        left_out: Vec::new(),
    })
}

fn gzip(bytes: &[u8]) -> Result<Vec<u8>, ReadError> {
    bounded(flate2::read::MultiGzDecoder::new(bytes), "gzip file")
}

/// Reads to the end, but not beyond the bound.
fn bounded(reader: impl Read, container: &'static str) -> Result<Vec<u8>, ReadError> {
    let mut unpacked = Vec::new();
    reader
        .take(MOST_UNPACKED + 1)
        .read_to_end(&mut unpacked)
        .map_err(|error| ReadError::Container {
            container,
            reason: error.to_string(),
        })?;
    if unpacked.len() as u64 > MOST_UNPACKED {
        return Err(ReadError::TooLarge {
            container,
            most: MOST_UNPACKED,
        });
    }
    Ok(unpacked)
}

/// Unpacks everything to nowhere: whatever sizes an archive declares, a reader of it will not meet more than the bound.
fn within_bounds(archive: &mut zip::ZipArchive<std::io::Cursor<&[u8]>>) -> Result<(), ReadError> {
    let mut left = MOST_UNPACKED;
    for at in 0..archive.len() {
        let refused = |reason: String| ReadError::Container {
            container: "workbook",
            reason,
        };
        let file = archive
            .by_index(at)
            .map_err(|error| refused(error.to_string()))?;
        let read = std::io::copy(&mut file.take(left + 1), &mut std::io::sink())
            .map_err(|error| refused(error.to_string()))?;
        left = left.checked_sub(read).ok_or(ReadError::TooLarge {
            container: "workbook",
            most: MOST_UNPACKED,
        })?;
    }
    Ok(())
}

fn zip(bytes: &[u8], is_log: fn(&[u8]) -> bool) -> Result<Unpacked<'_>, ReadError> {
    let refused = |reason: String| ReadError::Container {
        container: "zip archive",
        reason,
    };
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes))
        .map_err(|error| refused(error.to_string()))?;
    if archive.index_for_name("xl/workbook.xml").is_some() {
        within_bounds(&mut archive)?;
        return workbook::text(bytes);
    }
    let mut names = Vec::new();
    for name in archive.file_names() {
        let name = name.map_err(|error| refused(error.to_string()))?;
        if !is_litter(&name) {
            names.push(name.into_owned());
        }
    }
    if let [name] = names.as_slice() {
        return Ok(Unpacked {
            bytes: Cow::Owned(file(&mut archive, name)?),
            from: Some(format!("`{name}` unpacked from a zip archive")),
            left_out: Vec::new(),
        });
    }
    const MOST: usize = 20;
    let (mut left, mut logs) = (MOST_UNPACKED, Vec::new());
    for name in names.iter().take(MOST) {
        let unpacked = file(&mut archive, name)?;
        left = left.saturating_sub(unpacked.len() as u64);
        if left > 0 && is_log(&unpacked) {
            logs.push((name, unpacked));
        }
    }
    match logs.pop() {
        Some((name, bytes)) if logs.is_empty() && left > 0 && names.len() <= MOST => Ok(Unpacked {
            bytes: Cow::Owned(bytes),
            from: Some(format!("`{name}` unpacked from a zip archive")),
            left_out: names
                .iter()
                .filter(|other| *other != name)
                .cloned()
                .collect(),
        }),
        _ => Err(ReadError::NotOneLog {
            names: names.into_iter().take(MOST).collect(),
        }),
    }
}

type Archive<'a> = zip::ZipArchive<std::io::Cursor<&'a [u8]>>;

fn file(archive: &mut Archive<'_>, name: &str) -> Result<Vec<u8>, ReadError> {
    let file = archive
        .by_name(name)
        .map_err(|error| ReadError::Container {
            container: "zip archive",
            reason: error.to_string(),
        })?;
    bounded(file, "zip archive")
}

/// Folders, and what operating systems leave behind in archives.
fn is_litter(name: &str) -> bool {
    let last = name.rsplit('/').next().unwrap_or(name);
    let left = ["Thumbs.db", "desktop.ini"].contains(&last);
    last.is_empty() || last.starts_with('.') || left || name.starts_with("__MACOSX/")
}
