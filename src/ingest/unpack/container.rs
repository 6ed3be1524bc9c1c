//! What a log is packed in: gzip, a zip archive or a workbook; known by their first bytes, never by the name of the file.

use std::borrow::Cow;
use std::io::Read;

use rawzip::{CompressionMethod, ZipArchive, ZipFileHeaderRecord, ZipSliceArchive};

use super::{MOST_UNPACKED, Opened, Unpacked, workbook};
use crate::ingest::ReadError;
use crate::trace::Container;

const ZIP: &str = "zip archive";

/// Unpacks once; a log packed twice is refused as what the inner container is.
///
/// Of several files in an archive the one that `is_log` is taken, or the one of this name; of several logs none.
pub(in crate::ingest) fn unpack<'a>(
    bytes: &'a [u8],
    is_log: fn(&[u8]) -> bool,
    name: Option<&str>,
) -> Result<Opened<'a>, ReadError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Ok(Opened::Log(Unpacked {
            bytes: Cow::Owned(gzip(bytes)?),
            from: Some(Container::Gzip),
            left_out: Vec::new(),
        }));
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return zip(bytes, is_log, name);
    }
    Ok(Opened::Log(Unpacked {
        bytes: Cow::Borrowed(bytes),
        from: None,
        left_out: Vec::new(),
    }))
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

fn zip<'a>(
    bytes: &'a [u8],
    is_log: fn(&[u8]) -> bool,
    wanted: Option<&str>,
) -> Result<Opened<'a>, ReadError> {
    let archive = ZipArchive::from_slice(bytes).map_err(refused)?;
    let mut files = files(&archive)?;
    if files.iter().any(|(name, _)| name == "xl/workbook.xml") {
        within_bounds(&archive, &files)?;
        return workbook::text(bytes).map(Opened::Log);
    }
    files.retain(|(name, _)| !is_litter(name));
    let others = |name: &String| {
        let names = files.iter().map(|(other, _)| other);
        names.filter(|other| *other != name).cloned().collect()
    };
    let log = |name: &String, bytes, left_out| {
        Opened::Log(Unpacked {
            bytes: Cow::Owned(bytes),
            from: Some(Container::Zip { file: name.clone() }),
            left_out,
        })
    };
    if let Some(wanted) = wanted {
        let file = files.iter().find(|(name, _)| name == wanted);
        let (name, entry) = file.ok_or_else(|| no_log(&files, Some(wanted)))?;
        let bytes = bounded(content(&archive, entry)?, ZIP, MOST_UNPACKED)?;
        return Ok(log(name, bytes, Vec::new()));
    }
    if let [(name, entry)] = files.as_slice() {
        let bytes = bounded(content(&archive, entry)?, ZIP, MOST_UNPACKED)?;
        return Ok(log(name, bytes, Vec::new()));
    }
    let mut logs = logs(&archive, &files, is_log)?;
    match (logs.pop(), logs.is_empty()) {
        (None, _) => Err(no_log(&files, None)),
        (Some((name, bytes)), true) => Ok(log(name, bytes, others(name))),
        (Some(last), false) => Ok(Opened::Several(
            logs.into_iter()
                .chain([last])
                .map(|(name, _)| name.clone())
                .collect(),
        )),
    }
}

fn no_log(files: &[(String, ZipFileHeaderRecord<'_>)], asked: Option<&str>) -> ReadError {
    const SHOWN: usize = 20;
    let names = files.iter().take(SHOWN).map(|(name, _)| name.clone());
    ReadError::NoLog {
        asked: asked.map(|name| format!("`{name}`")),
        count: files.len(),
        names: names.collect(),
    }
}

/// A file of an archive and what it unpacks to.
type File<'f> = (&'f String, Vec<u8>);

/// The files that are logs; of several the last alone has its bytes still.
fn logs<'f>(
    archive: &ZipSliceArchive<&[u8]>,
    files: &'f [(String, ZipFileHeaderRecord<'_>)],
    is_log: fn(&[u8]) -> bool,
) -> Result<Vec<File<'f>>, ReadError> {
    const MOST: usize = 1000;
    let (mut left, mut logs): (_, Vec<File<'f>>) = (MOST_UNPACKED, Vec::new());
    if files.len() > MOST {
        return Err(no_log(files, None));
    }
    for (name, entry) in files {
        let unpacked = bounded(content(archive, entry)?, ZIP, left)?;
        left -= unpacked.len() as u64;
        if is_log(&unpacked) {
            if let Some((_, before)) = logs.last_mut() {
                before.clear();
            }
            logs.push((name, unpacked));
        }
    }
    Ok(logs)
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
