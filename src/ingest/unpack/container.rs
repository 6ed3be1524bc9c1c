//! What a log is packed in: gzip, a zip archive or a workbook; known by their first bytes, never by the name of the file.

use std::borrow::Cow;
use std::io::Read;

use rawzip::{CompressionMethod, ZipArchive, ZipFileHeaderRecord, ZipSliceArchive};

use super::{MOST_UNPACKED, Unpacked, workbook};
use crate::ingest::ReadError;
use crate::trace::Container;

const ZIP: &str = "zip archive";

/// Unpacks once; a log packed twice is refused as what the inner container is.
///
/// Of several files in an archive the one that `is_log` is taken.
pub(in crate::ingest) fn unpack(
    bytes: &[u8],
    is_log: fn(&[u8]) -> bool,
) -> Result<Unpacked<'_>, ReadError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Ok(Unpacked {
            bytes: Cow::Owned(gzip(bytes)?),
            from: Some(Container::Gzip),
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
    bounded(
        flate2::read::MultiGzDecoder::new(bytes),
        "gzip file",
        MOST_UNPACKED,
    )
}

/// Reads to the end, but not more than the bytes that are left of the bound.
fn bounded(reader: impl Read, container: &'static str, left: u64) -> Result<Vec<u8>, ReadError> {
    let mut unpacked = Vec::new();
    reader
        .take(left + 1)
        .read_to_end(&mut unpacked)
        .map_err(|error| ReadError::Container {
            container,
            reason: error.to_string(),
        })?;
    if unpacked.len() as u64 > left {
        return Err(ReadError::TooLarge {
            container,
            most: MOST_UNPACKED,
        });
    }
    Ok(unpacked)
}

fn zip(bytes: &[u8], is_log: fn(&[u8]) -> bool) -> Result<Unpacked<'_>, ReadError> {
    let archive = ZipArchive::from_slice(bytes).map_err(refused)?;
    let mut files = files(&archive)?;
    if files.iter().any(|(name, _)| name == "xl/workbook.xml") {
        within_bounds(&archive, &files)?;
        return workbook::text(bytes);
    }
    files.retain(|(name, _)| !is_litter(name));
    let (name, bytes) = match files.as_slice() {
        [(name, entry)] => (
            name,
            bounded(content(&archive, entry)?, ZIP, MOST_UNPACKED)?,
        ),
        files => the_log(&archive, files, is_log)?,
    };
    let others = files.iter().map(|(other, _)| other);
    Ok(Unpacked {
        from: Some(Container::Zip { file: name.clone() }),
        left_out: others.filter(|other| *other != name).cloned().collect(),
        bytes: Cow::Owned(bytes),
    })
}

/// The one file among several that is a log.
fn the_log<'f>(
    archive: &ZipSliceArchive<&[u8]>,
    files: &'f [(String, ZipFileHeaderRecord<'_>)],
    is_log: fn(&[u8]) -> bool,
) -> Result<(&'f String, Vec<u8>), ReadError> {
    const MOST: usize = 20;
    let (mut left, mut logs) = (MOST_UNPACKED, Vec::new());
    if files.len() <= MOST {
        for (name, entry) in files {
            let unpacked = bounded(content(archive, entry)?, ZIP, left)?;
            left -= unpacked.len() as u64;
            if is_log(&unpacked) {
                logs.push((name, unpacked));
            }
        }
    }
    match logs.pop() {
        Some(log) if logs.is_empty() => Ok(log),
        _ => Err(ReadError::NotOneLog {
            count: files.len(),
            names: files
                .iter()
                .take(MOST)
                .map(|(name, _)| name.clone())
                .collect(),
        }),
    }
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
            container: ZIP,
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

/// Folders, and what operating systems leave behind in archives.
fn is_litter(name: &str) -> bool {
    let last = name.rsplit('/').next().unwrap_or(name);
    let left = ["Thumbs.db", "desktop.ini"].contains(&last);
    last.is_empty() || last.starts_with('.') || left || name.starts_with("__MACOSX/")
}
