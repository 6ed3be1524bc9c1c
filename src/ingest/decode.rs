//! Bytes → UTF-8 text with lines that end in a line feed.

mod digits;
mod json;
mod labels;

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::ingest::Noticed;
use crate::ingest::tokens::cells;

/// The text of a log.
pub(super) struct Decoded<'a> {
    /// UTF-8, or nearly: bytes that are no UTF-8 were replaced.
    pub(super) text: Cow<'a, [u8]>,
    /// Number of its first line: 0 where heads were put above the lines of the log.
    pub(super) first_line: u64,
    /// Whether it was written as JSON.
    pub(super) json: bool,
    /// Name of the encoding in the WHATWG encoding standard.
    pub(super) name: &'static str,
    /// What had to be done that a person should know.
    pub(super) remarks: Vec<Noticed>,
}

/// How much of a log is looked at to see its encoding.
const LOOK: usize = 4096;

/// Finds the encoding and decodes. A mark at the start decides; else zero bytes at every other place show UTF-16; else
/// text that is valid UTF-8 is UTF-8, and what is left is Windows-1252, in which every byte is a letter.
pub(super) fn decode(bytes: &[u8]) -> Decoded<'_> {
    let mut remarks = Vec::new();
    let ascii = bytes.is_ascii();
    let (encoding, body) = encoding(bytes, ascii);
    let text = if encoding == UTF_8 && ascii {
        Cow::Borrowed(body)
    } else if encoding == UTF_8 {
        match String::from_utf8_lossy(body) {
            Cow::Borrowed(text) => Cow::Borrowed(text.as_bytes()),
            Cow::Owned(text) => {
                remarks.push(replaced(encoding));
                Cow::Owned(text.into_bytes())
            }
        }
    } else {
        let (lettered, plain) = body.split_at(encoded(encoding, body));
        let (text, torn) = encoding.decode_without_bom_handling(lettered);
        if torn {
            remarks.push(replaced(encoding));
        }
        let mut text = text.into_owned().into_bytes();
        text.extend_from_slice(plain);
        Cow::Owned(text)
    };
    let text = digits::ascii(line_feeds(end(text, &mut remarks)), &mut remarks);
    let json = json::table(&text);
    let is_json = json.is_some();
    let (text, headed) = match json {
        Some(table) => (Cow::Owned(table), true),
        None => labels::heads(unquoted(text, &mut remarks), &mut remarks),
    };
    Decoded {
        text,
        first_line: u64::from(!headed),
        json: is_json,
        name: encoding.name(),
        remarks,
    }
}

fn replaced(encoding: &'static Encoding) -> Noticed {
    Noticed::BytesReplaced {
        encoding: encoding.name().to_owned(),
    }
}

/// How many bytes are not UTF-8 already: in Windows-1252, where a log has its letters in the head, those to the last letter.
fn encoded(encoding: &Encoding, body: &[u8]) -> usize {
    if encoding != WINDOWS_1252 {
        return body.len();
    }
    let last = body.iter().rposition(|byte| !byte.is_ascii());
    last.map_or(0, |last| last + 1)
}

/// The encoding and the bytes after its mark.
fn encoding(bytes: &[u8], ascii: bool) -> (&'static Encoding, &[u8]) {
    if let Some((encoding, mark)) = Encoding::for_bom(bytes) {
        return (encoding, &bytes[mark..]);
    }
    if let Some(encoding) = zero_pattern(&bytes[..bytes.len().min(LOOK)]) {
        return (encoding, bytes);
    }
    if ascii || std::str::from_utf8(bytes).is_ok() || mostly_utf8(bytes) {
        return (UTF_8, bytes);
    }
    (WINDOWS_1252, bytes)
}

/// UTF-16 without a mark: ASCII text has a zero byte in every pair, always on the same side.
fn zero_pattern(head: &[u8]) -> Option<&'static Encoding> {
    let pairs = head.len() / 2;
    if pairs < 2 || memchr::memchr(0, head).is_none() {
        return None;
    }
    let (units, _) = head.as_chunks::<2>();
    let zeros = |side: usize| units.iter().filter(|unit| unit[side] == 0).count();
    let (first, second) = (zeros(0), zeros(1));
    if second * 10 >= pairs * 7 && first * 10 <= pairs {
        Some(UTF_16LE)
    } else if first * 10 >= pairs * 7 && second * 10 <= pairs {
        Some(UTF_16BE)
    } else {
        None
    }
}

/// True if more letters outside ASCII are valid UTF-8 than not: a torn log, not another encoding.
fn mostly_utf8(bytes: &[u8]) -> bool {
    let (mut valid, mut torn) = (0_usize, 0_usize);
    for chunk in bytes.utf8_chunks() {
        valid += chunk
            .valid()
            .chars()
            .filter(|letter| !letter.is_ascii())
            .count();
        torn += usize::from(!chunk.invalid().is_empty());
    }
    valid > torn
}

/// Takes off zero bytes and the end-of-file sign of old systems after the last line.
fn end<'a>(text: Cow<'a, [u8]>, remarks: &mut Vec<Noticed>) -> Cow<'a, [u8]> {
    let kept = text
        .iter()
        .rposition(|byte| !matches!(byte, 0 | 0x1a))
        .map_or(0, |last| last + 1);
    if kept == text.len() || kept == 0 {
        return text;
    }
    remarks.push(Noticed::BytesAfterTheEnd {
        bytes: text.len() - kept,
    });
    match text {
        Cow::Borrowed(text) => Cow::Borrowed(&text[..kept]),
        Cow::Owned(mut text) => {
            text.truncate(kept);
            Cow::Owned(text)
        }
    }
}

/// Turns carriage returns that end a line on their own into line feeds: all of them where there is no line feed.
fn line_feeds(text: Cow<'_, [u8]>) -> Cow<'_, [u8]> {
    let none = memchr::memchr(b'\n', &text).is_none();
    let alone = |at: usize| none || !matches!(text.get(at + 1), None | Some(b'\n' | b'\r'));
    if !memchr::memchr_iter(b'\r', &text).any(alone) {
        return text;
    }
    let mut fed = text.to_vec();
    for at in memchr::memchr_iter(b'\r', &text) {
        if alone(at) {
            fed[at] = b'\n';
        }
    }
    Cow::Owned(fed)
}

/// Takes off quotes around whole lines, as a program leaves them that took each line for one cell: `"0.001,""412.5"""`.
fn unquoted<'a>(text: Cow<'a, [u8]>, remarks: &mut Vec<Noticed>) -> Cow<'a, [u8]> {
    const LOOK: usize = 16;
    let lines = || text.split(|byte| *byte == b'\n').map(<[u8]>::trim_ascii);
    let mut head = lines()
        .filter(|line| !line.is_empty())
        .take(LOOK)
        .peekable();
    let several = |line: &[u8]| {
        let cell = cells::whole(line);
        cell.is_some_and(|cell| memchr::memchr3(b',', b';', b'\t', &cell).is_some())
    };
    if head.peek().is_none() || !head.all(several) {
        return text;
    }
    remarks.push(Noticed::LinesQuoted);
    let plain: Vec<Cow<'_, [u8]>> = lines()
        .map(|line| cells::whole(line).unwrap_or(Cow::Borrowed(line)))
        .collect();
    Cow::Owned(plain.join(&b'\n'))
}

/// What a text is that holds no table, though it may hold lines of numbers; known by how it begins and ends.
pub(super) fn other_format(text: &[u8]) -> Option<&'static str> {
    let text = text.trim_ascii();
    let (first, last) = (text.first()?, text.last()?);
    let inner = text[1..].trim_ascii_start().first();
    Some(match (first, last) {
        (b'%', _) if text.starts_with(b"%PDF-") => "a PDF document",
        (b'%', _) if text.starts_with(b"%!PS") => "a PostScript document",
        (b'{', b'}') if text.starts_with(b"{\\rtf") => "an RTF document",
        (b'{', b'}') => "a JSON document",
        (b'[', b']')
            if matches!(inner, Some(b'[' | b'{' | b'"')) || text[1..].starts_with(b"\n") =>
        {
            "a JSON document"
        }
        (b'<', b'>') => "a page or a drawing in HTML or XML",
        _ => return None,
    })
}
