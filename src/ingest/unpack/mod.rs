//! What a log is packed in, taken off.

pub(super) mod container;
pub(super) mod workbook;

use std::borrow::Cow;

use crate::trace::Container;

/// The most bytes that a log may have, and a packed one may unpack to: at 1 kHz and 12 bytes a row, six hours.
pub const MOST_UNPACKED: u64 = 256 << 20;

/// What was found in a file.
pub(in crate::ingest) enum Opened<'a> {
    /// One log.
    Log(Unpacked<'a>),
    /// Several logs in an archive, by their names.
    Several(Vec<String>),
}

/// The bytes of the log itself, and what it was packed in.
pub(in crate::ingest) struct Unpacked<'a> {
    pub(in crate::ingest) bytes: Cow<'a, [u8]>,
    pub(in crate::ingest) from: Option<Container>,
    /// Names of what else it was packed with, and is no log.
    pub(in crate::ingest) left_out: Vec<String>,
}
