//! Plain decimals, straight from the bytes.

/// Powers of ten that are exact in a double.
pub(in crate::ingest) const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// A plain decimal as it was found.
pub(in crate::ingest) struct Decimal {
    pub(in crate::ingest) value: f64,
    /// Digits after the mark.
    pub(in crate::ingest) decimals: usize,
    pub(in crate::ingest) end: usize,
}

/// A plain decimal from `at` on and where it ends: `-12.5`. Exact: a whole number below 2⁵³ divided by a power of ten up to
/// 10²² is rounded once, like the correctly rounded parse (Clinger 1990).
#[inline]
pub(in crate::ingest) fn decimal(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    quick(text, at, mark).or_else(|| long(text, at, mark))
}

/// A plain decimal that ends within eight bytes.
#[inline(always)]
fn quick(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    let rest = text.get(at..)?;
    let word = u64::from_le_bytes(rest.first_chunk().copied().unwrap_or_else(|| padded(rest)));
    let negative = word as u8 == b'-';
    let sign = usize::from(negative);
    let (whole, decimals, length) = short(word >> (8 * sign), mark)?;
    Some(signed(whole, decimals, negative, at + sign + length))
}

/// Fewer than eight bytes, with zeros after them.
#[inline(never)]
fn padded(few: &[u8]) -> [u8; 8] {
    let mut bytes = [0; 8];
    for (byte, other) in bytes.iter_mut().zip(few) {
        *byte = *other;
    }
    bytes
}

/// The digits of a decimal that ends within eight bytes, as one whole number, with the number of decimals (at most 6) and of
/// bytes. A zero byte, as a shift leaves it at the end, is no digit.
#[inline(always)]
fn short(word: u64, mark: u8) -> Option<(u64, usize, usize)> {
    let digits = word ^ ZEROS;
    let others = no_digits(digits);
    let first = others.trailing_zeros() as usize / 8;
    if first == 0 || first == 8 {
        return None;
    }
    if (word >> (8 * first)) as u8 != mark {
        return Some((whole(digits, first), 0, first));
    }
    let after = others & (others - 1);
    let end = after.trailing_zeros() as usize / 8;
    if after == 0 || end == first + 1 {
        return None;
    }
    let found = whole(without_mark(digits, first), end - 1);
    Some((found, end - 1 - first, end))
}

/// Any plain decimal, byte by byte.
#[cold]
#[inline(never)]
fn long(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    let negative = text.get(at) == Some(&b'-');
    let start = at + usize::from(negative);
    let mut at = start;
    let mut whole: u64 = 0;
    while let Some(digit) = digit(text, at) {
        whole = whole.wrapping_mul(10).wrapping_add(digit);
        at += 1;
    }
    let mut digits = at - start;
    let mut decimals = 0;
    if digits == 0 {
        return None;
    }
    if text.get(at) == Some(&mark) {
        at += 1;
        let first = at;
        while let Some(digit) = digit(text, at) {
            whole = whole.wrapping_mul(10).wrapping_add(digit);
            at += 1;
        }
        decimals = at - first;
        digits += decimals;
        if decimals == 0 {
            return None;
        }
    }
    if digits > 19 || whole > 1 << 53 {
        return None;
    }
    let value = whole as f64 / TENS[decimals];
    Some(Decimal {
        value: if negative { -value } else { value },
        decimals,
        end: at,
    })
}

#[inline]
fn digit(text: &[u8], at: usize) -> Option<u64> {
    let digit = text.get(at)?.wrapping_sub(b'0');
    (digit < 10).then_some(u64::from(digit))
}

/// `0` in each byte.
pub(in crate::ingest) const ZEROS: u64 = u64::from_le_bytes([b'0'; 8]);
/// The highest bit of each byte.
pub(in crate::ingest) const HIGH: u64 = u64::from_le_bytes([0x80; 8]);

/// The highest bit of each byte that is no digit, of bytes from which `0` was taken off.
#[inline(always)]
pub(in crate::ingest) fn no_digits(digits: u64) -> u64 {
    const LOW: u64 = !HIGH;
    /// What takes ten, and no digit, up to the highest bit.
    const SIX: u64 = u64::from_le_bytes([0x76; 8]);
    (((digits & LOW) + SIX) | digits) & HIGH
}

/// The bytes without the one after the first `before`.
#[inline(always)]
fn without_mark(digits: u64, before: usize) -> u64 {
    let below = (1_u64 << (8 * before)) - 1;
    (digits & below) | ((digits >> 8) & !below)
}

/// The whole number of the first `count` digits (1 to 8).
#[inline(always)]
fn whole(digits: u64, count: usize) -> u64 {
    whole_of_eight(digits << (64 - 8 * count))
}

/// The whole number of eight digits, in three multiplications: each makes one number of every two neighbours.
#[inline(always)]
pub(in crate::ingest) fn whole_of_eight(digits: u64) -> u64 {
    const PAIR: u64 = (10 << 8) + 1;
    const FOUR: u64 = (100 << 16) + 1;
    let pairs = (digits.wrapping_mul(PAIR) >> 8) & 0x00ff_00ff_00ff_00ff;
    let fours = (pairs.wrapping_mul(FOUR) >> 16) & 0x0000_ffff_0000_ffff;
    (fours.wrapping_mul(10_000) + (fours >> 32)) & 0xffff_ffff
}

/// ±whole/10^decimals, decimals at most 7.
#[inline(always)]
fn signed(whole: u64, decimals: usize, negative: bool, end: usize) -> Decimal {
    /// The smallest number whose last place is one: a whole number put in its last places is added to it exactly.
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    let whole = f64::from_bits(TWO_52.to_bits() | whole) - TWO_52;
    let value = (whole / TENS[decimals & 7]).to_bits();
    Decimal {
        value: f64::from_bits(value | (u64::from(negative) << 63)),
        decimals,
        end,
    }
}
