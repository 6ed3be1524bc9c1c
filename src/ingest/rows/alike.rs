//! Plain decimals that look like the ones before them, eight bytes at a time.
//!
//! Rows of a log look alike for thousands of lines: an instant has as many digits as the one before it, a force as many decimals.
//! Where that look is known, one comparison of all bytes at once takes the place of the questions about each of them. A decimal
//! that looks otherwise is left to [`decimal`](crate::ingest::tokens::decimal::decimal); what is read here is the same to the last bit.

use crate::ingest::tokens::decimal::{Decimal, HIGH, TENS, ZEROS, no_digits, whole_of_eight};

/// How up to eight bytes look: each a digit, or one certain byte.
#[derive(Clone, Copy, Debug)]
struct Look {
    /// `0` in the place of each digit, and the certain bytes.
    what: u64,
    /// All bits of the bytes that are looked at.
    bytes: u64,
    /// What takes each byte that looks otherwise, less what it should be, up to its highest bit: ten a digit, one any other.
    room: u64,
}

impl Look {
    /// Like nothing.
    const NOTHING: Self = Self {
        what: 0,
        bytes: 0,
        room: HIGH,
    };

    /// Like `bytes`, of which there are at most eight, with any digit where they have one.
    fn like(bytes: &[u8]) -> Self {
        let (mut what, mut all, mut room) = ([0; 8], [0; 8], [0; 8]);
        for (at, byte) in bytes.iter().enumerate() {
            let digit = byte.is_ascii_digit();
            what[at] = if digit { b'0' } else { *byte };
            room[at] = if digit { 0x80 - 10 } else { 0x80 - 1 };
            all[at] = 0xff;
        }
        Self {
            what: u64::from_le_bytes(what),
            bytes: u64::from_le_bytes(all),
            room: u64::from_le_bytes(room),
        }
    }

    /// The digits of a word that looks so, each in its byte, and zero in every other byte.
    #[inline(always)]
    fn digits(&self, word: u64) -> Option<u64> {
        let digits = (word ^ self.what) & self.bytes;
        // A byte that carries into the next one has its own highest bit set, and so is seen.
        let otherwise = (digits.wrapping_add(self.room) | digits) & HIGH;
        (otherwise == 0).then_some(digits)
    }
}

/// All decimals without a sign that have their mark and their end where another one has them.
#[derive(Clone, Copy, Debug)]
pub(in crate::ingest) struct Alike {
    look: Look,
    /// The bytes before the mark.
    before: u64,
    /// Bits from the digits of the decimal to those of a number of eight digits.
    up: u32,
    /// Ten to the number of decimals.
    tens: f64,
    /// Bytes of the decimal and the one that ends it.
    length: usize,
}

impl Alike {
    /// None yet.
    pub(in crate::ingest) const NONE: Self = Self {
        look: Look::NOTHING,
        before: 0,
        up: 0,
        tens: 1.0,
        length: 0,
    };

    /// Those that look like a decimal that stands at `at`, with the byte that ends it; none where both do not fit into eight bytes.
    pub(in crate::ingest) fn new(text: &[u8], at: usize, found: &Decimal) -> Self {
        let length = found.end + 1 - at;
        let bytes = text.get(at..=found.end).filter(|bytes| bytes.len() <= 8);
        let Some(bytes) = bytes.filter(|bytes| bytes[0] != b'-') else {
            return Self::NONE;
        };
        let marks = usize::from(found.decimals > 0);
        let digits = length - 1 - marks;
        Self {
            look: Look::like(bytes),
            before: (1 << (8 * (digits - found.decimals))) - 1,
            up: 64 - 8 * digits as u32,
            tens: TENS[found.decimals],
            length,
        }
    }

    /// The value of a decimal that looks so and begins these bytes, and its length with the byte that ends it.
    #[inline(always)]
    pub(in crate::ingest) fn read(&self, bytes: [u8; 8]) -> Option<(f64, usize)> {
        let digits = self.look.digits(u64::from_le_bytes(bytes))?;
        let before = digits & self.before;
        // The mark is zero: the digits after it close up.
        let closed = before | ((digits ^ before) >> 8);
        let value = exactly(whole_of_eight(closed << self.up)) / self.tens;
        Some((value, self.length))
    }
}

/// All decimals that have as many digits after the mark, and after them the same end of the line, as another one.
#[derive(Clone, Copy, Debug)]
pub(in crate::ingest) struct AlikeAtTheEnd {
    /// From the mark on; from the end of the line on where there is no mark.
    look: Look,
    /// Bits from the mark to the first byte after the decimals, less one byte.
    decimals: u32,
    /// Bits from the decimals to the lowest digits of a number of eight digits.
    up: u32,
    /// Ten to the number of decimals.
    tens: f64,
    /// Bytes from the mark on.
    length: usize,
}

impl AlikeAtTheEnd {
    /// None yet.
    pub(in crate::ingest) const NONE: Self = Self {
        look: Look::NOTHING,
        decimals: 0,
        up: 0,
        tens: 1.0,
        length: 0,
    };

    /// Those that end like a decimal before the line feed at `feed`; none where that does not fit into eight bytes with a digit.
    pub(in crate::ingest) fn new(text: &[u8], feed: usize, found: &Decimal) -> Self {
        let marks = usize::from(found.decimals > 0);
        let mark = found.end - found.decimals - marks;
        let Some(bytes) = text.get(mark..=feed).filter(|bytes| bytes.len() < 8) else {
            return Self::NONE;
        };
        let decimals = 8 * found.decimals as u32;
        Self {
            look: Look::like(bytes),
            decimals,
            up: 56 - decimals,
            tens: TENS[found.decimals],
            length: bytes.len(),
        }
    }

    /// The value of a decimal that ends so and begins these bytes, and its length with the end of the line.
    #[inline(always)]
    pub(in crate::ingest) fn read(&self, bytes: [u8; 8]) -> Option<(f64, usize)> {
        let word = u64::from_le_bytes(bytes);
        let sign = if bytes[0] == b'-' { 8 } else { 0 };
        let word = word >> sign;
        let digits = word ^ ZEROS;
        let mark = no_digits(digits).trailing_zeros() & 0x38;
        if mark == 0 {
            // No digit at all, or nothing but digits.
            return None;
        }
        let after = self.look.digits(word >> mark)?;
        let closed = (digits << (64 - mark)) >> self.decimals | after << self.up;
        let value = exactly(whole_of_eight(closed)) / self.tens;
        let signed = f64::from_bits(value.to_bits() | u64::from(sign) << 60);
        Some((signed, (sign + mark) as usize / 8 + self.length))
    }
}

/// A whole number of at most eight digits.
#[inline(always)]
fn exactly(whole: u64) -> f64 {
    f64::from(whole as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ingest::tokens::decimal::decimal;

    /// What stands in each changed byte: digits, their neighbours in ASCII, other marks, digits with the highest bit.
    const BYTES: [u8; 15] = [
        b'0', b'7', b'9', b'/', b':', b'.', b',', b';', b'-', b' ', b'\n', b'\r', 0, 0xb0, 0xff,
    ];

    /// Every text that differs from `text` in at most two bytes, which are among [`BYTES`].
    fn changed(text: &[u8]) -> impl Iterator<Item = Vec<u8>> + '_ {
        let places = (0..8).flat_map(|one| (one..8).map(move |other| (one, other)));
        places.flat_map(move |(one, other)| {
            BYTES.iter().flat_map(move |first| {
                BYTES.iter().map(move |second| {
                    let mut text = text.to_vec();
                    (text[one], text[other]) = (*first, *second);
                    text
                })
            })
        })
    }

    fn first_eight(text: &[u8]) -> [u8; 8] {
        std::array::from_fn(|at| text[at])
    }

    /// The bits of a decimal and the place after the byte that ends it.
    fn instant(text: &[u8]) -> Option<(u64, usize)> {
        let found = decimal(text, 0, b'.').filter(|_| text[0] != b'-')?;
        (text.get(found.end) == Some(&b',')).then_some((found.value.to_bits(), found.end + 1))
    }

    /// The bits of a decimal and the place after its line.
    fn force(text: &[u8]) -> Option<(u64, usize)> {
        let found = decimal(text, 0, b'.')?;
        let returns = usize::from(text.get(found.end) == Some(&b'\r'));
        let feed = found.end + returns;
        (text.get(feed) == Some(&b'\n')).then_some((found.value.to_bits(), feed + 1))
    }

    #[test]
    fn what_looks_alike_is_read_as_it_is_read_alone_and_nothing_else_is() {
        for first in ["0.0000,", "12.345,", "9,", "1234567,", "5.,", "123.4567,"] {
            let text = format!("{first}-12.5\n1.25\n").into_bytes();
            let Some(found) = decimal(&text, 0, b'.') else {
                continue;
            };
            let alike = Alike::new(&text, 0, &found);
            for changed in changed(&text) {
                if let Some((value, end)) = alike.read(first_eight(&changed)) {
                    assert_eq!(
                        Some((value.to_bits(), end)),
                        instant(&changed),
                        "{changed:?}"
                    );
                }
            }
            let fits = found.end < 8;
            assert_eq!(alike.read(first_eight(&text)).is_some(), fits, "{first}");
        }
    }

    #[test]
    fn what_ends_alike_is_read_as_it_is_read_alone_and_nothing_else_is() {
        for (first, feed) in [
            ("0.0\n", 3),
            ("-412.5\n", 6),
            ("-0.25\r\n", 6),
            ("123456.7\n", 8),
            ("1.12345\n", 7),
            ("1.123456\n", 8),
            ("7\n", 1),
            ("-1234567\n", 8),
        ] {
            let text = format!("{first}0.1,12.5\n1.25\n").into_bytes();
            let found = decimal(&text, 0, b'.').filter(|found| found.end <= feed);
            let alike = found.map_or(AlikeAtTheEnd::NONE, |found| {
                AlikeAtTheEnd::new(&text, feed, &found)
            });
            for changed in changed(&text) {
                if let Some((value, end)) = alike.read(first_eight(&changed)) {
                    assert_eq!(Some((value.to_bits(), end)), force(&changed), "{changed:?}");
                }
            }
            assert_eq!(
                alike.read(first_eight(&text)).is_some(),
                feed < 8,
                "{first}"
            );
        }
    }

    #[test]
    fn nothing_looks_like_what_was_not_seen_yet() {
        for byte in 0..=u8::MAX {
            assert!(Alike::NONE.read([byte; 8]).is_none());
            assert!(AlikeAtTheEnd::NONE.read([byte; 8]).is_none());
        }
    }
}
