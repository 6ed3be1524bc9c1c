//! What a log is packed in: gzip, a zip archive or a workbook; known by their first bytes, never by the name of the file.

use std::borrow::Cow;
use std::io::Read;

use rawzip::{CompressionMethod, ZipArchive, ZipFileHeaderRecord, ZipSliceArchive};

use super::{ReadError, workbook};

const ZIP: &str = "zip archive";

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

fn zip(bytes: &[u8]) -> Result<Unpacked<'_>, ReadError> {
    let archive = ZipArchive::from_slice(bytes).map_err(refused)?;
    let files = files(&archive)?;
    if files.iter().any(|(name, _)| name == "xl/workbook.xml") {
        within_bounds(&archive, &files)?;
        return workbook::text(bytes);
    }
    let logs: Vec<&(String, ZipFileHeaderRecord<'_>)> = files
        .iter()
        .filter(|(name, _)| !name.starts_with("__MACOSX/"))
        .collect();
    let [(name, entry)] = logs.as_slice() else {
        const SHOWN: usize = 20;
        let names = logs.iter().take(SHOWN).map(|(name, _)| name.clone());
        return Err(ReadError::NotOneLog {
            count: logs.len(),
            names: names.collect(),
        });
    };
    Ok(Unpacked {
        bytes: Cow::Owned(bounded(content(&archive, entry)?, ZIP)?),
        from: Some(format!("`{name}` unpacked from a zip archive")),
    })
}

/// The files of an archive, folders left out.
fn files<'a>(
    archive: &'a ZipSliceArchive<&[u8]>,
) -> Result<Vec<(String, ZipFileHeaderRecord<'a>)>, ReadError> {
    let mut files = Vec::new();
    let mut entries = archive.entries();
    while let Some(entry) = entries.next_entry().map_err(refused)? {
        if !entry.is_dir() {
            let name = String::from_utf8_lossy(entry.file_path().as_bytes()).into_owned();
            files.push((name, entry));
        }
    }
    Ok(files)
}

/// What a file of an archive unpacks to; its declared size and its checksum are held against what comes.
fn content<'a>(
    archive: &'a ZipSliceArchive<&[u8]>,
    entry: &ZipFileHeaderRecord<'_>,
) -> Result<Box<dyn Read + 'a>, ReadError> {
    if entry.flags().is_encrypted() {
        return Err(refused("it is encrypted"));
    }
    let packed = archive.get_entry(entry.wayfinder()).map_err(refused)?;
    match entry.compression_method() {
        CompressionMethod::STORE => Ok(Box::new(packed.verifying_reader(packed.data()))),
        CompressionMethod::DEFLATE => {
            let unpacker = flate2::bufread::DeflateDecoder::new(packed.data());
            Ok(Box::new(packed.verifying_reader(unpacker)))
        }
        other => Err(refused(format!(
            "packed by {}: expected stored or deflated",
            other.name().unwrap_or("a method that has no name")
        ))),
    }
}

/// Unpacks everything to nowhere: whatever sizes an archive declares, a reader of it will not meet more than the bound.
fn within_bounds(
    archive: &ZipSliceArchive<&[u8]>,
    files: &[(String, ZipFileHeaderRecord<'_>)],
) -> Result<(), ReadError> {
    let mut left = MOST_UNPACKED;
    for (_, entry) in files {
        let content = content(archive, entry)?;
        let read =
            std::io::copy(&mut content.take(left + 1), &mut std::io::sink()).map_err(refused)?;
        left = left.checked_sub(read).ok_or(ReadError::TooLarge {
            container: "workbook",
            most: MOST_UNPACKED,
        })?;
    }
    Ok(())
}

fn refused(reason: impl ToString) -> ReadError {
    ReadError::Container {
        container: ZIP,
        reason: reason.to_string(),
    }
}
