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
}

/// Unpacks once; a log packed twice is refused as what the inner container is.
pub(super) fn unpack(bytes: &[u8]) -> Result<Unpacked<'_>, ReadError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Ok(Unpacked {
            bytes: Cow::Owned(gzip(bytes)?),
            from: Some("unpacked from gzip".to_owned()),
        });
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return zip(bytes);
    }
    Ok(Unpacked {
        bytes: Cow::Borrowed(bytes),
        from: None,
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

fn zip(bytes: &[u8]) -> Result<Unpacked<'_>, ReadError> {
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
        if !name.ends_with('/') && !name.starts_with("__MACOSX/") {
            names.push(name.into_owned());
        }
    }
    let [name] = names.as_slice() else {
        const SHOWN: usize = 20;
        return Err(ReadError::NotOneLog {
            names: names.into_iter().take(SHOWN).collect(),
        });
    };
    let file = archive
        .by_name(name)
        .map_err(|error| refused(error.to_string()))?;
    Ok(Unpacked {
        bytes: Cow::Owned(bounded(file, "zip archive")?),
        from: Some(format!("`{name}` unpacked from a zip archive")),
    })
}
