//! Canonical JSON: one content has one sequence of bytes.
//!
//! # Source
//! RFC 8785, JSON Canonicalization Scheme: no blanks; members sorted by the UTF-16 units of their names; numbers as
//! ECMAScript writes a double, the fewest digits that read back as the same number; in strings only `"`, `\` and control
//! characters are escaped; UTF-8; nothing after the last brace.

use serde::Serialize;
use serde_json::{Number, Value};

/// Why a value has no canonical form.
#[derive(Debug, thiserror::Error)]
pub enum CanonicalError {
    /// It is no JSON value.
    #[error("the value cannot be written as JSON")]
    Json(#[from] serde_json::Error),
    /// A number beyond what a double holds.
    #[error("the number {0} is not held by a double")]
    Number(Number),
}

/// The canonical form of a value.
///
/// # Errors
/// [`CanonicalError`] if the value cannot be written as JSON, or holds a number beyond what a double holds.
///
/// # Example
/// ```
/// use relent::record::canonical::to_bytes;
/// let value = serde_json::json!({ "b": [1.0, 1e21, 0.002], "a": "é\n" });
/// assert_eq!(to_bytes(&value)?, "{\"a\":\"é\\n\",\"b\":[1,1e+21,0.002]}".as_bytes());
/// # Ok::<(), relent::record::canonical::CanonicalError>(())
/// ```
pub fn to_bytes(value: &impl Serialize) -> Result<Vec<u8>, CanonicalError> {
    of_value(&serde_json::to_value(value)?)
}

/// The canonical form of a JSON value.
///
/// # Errors
/// As [`to_bytes`].
pub fn of_value(value: &Value) -> Result<Vec<u8>, CanonicalError> {
    let mut out = String::new();
    write(value, &mut out)?;
    Ok(out.into_bytes())
}

fn write(value: &Value, out: &mut String) -> Result<(), CanonicalError> {
    match value {
        Value::Null => out.push_str("null"),
        Value::Bool(true) => out.push_str("true"),
        Value::Bool(false) => out.push_str("false"),
        Value::Number(number) => write_number(number, out)?,
        Value::String(text) => quote(text, out),
        Value::Array(items) => {
            out.push('[');
            for (place, item) in items.iter().enumerate() {
                if place > 0 {
                    out.push(',');
                }
                write(item, out)?;
            }
            out.push(']');
        }
        Value::Object(members) => {
            let mut members: Vec<(&String, &Value)> = members.iter().collect();
            members.sort_by(|(one, _), (other, _)| one.encode_utf16().cmp(other.encode_utf16()));
            out.push('{');
            for (place, (name, member)) in members.into_iter().enumerate() {
                if place > 0 {
                    out.push(',');
                }
                quote(name, out);
                out.push(':');
                write(member, out)?;
            }
            out.push('}');
        }
    }
    Ok(())
}

fn quote(text: &str, out: &mut String) {
    out.push('"');
    let mut from = 0;
    for (at, byte) in text.bytes().enumerate() {
        if byte >= 0x20 && byte != b'"' && byte != b'\\' {
            continue;
        }
        out.push_str(&text[from..at]);
        from = at + 1;
        match byte {
            b'"' => out.push_str("\\\""),
            b'\\' => out.push_str("\\\\"),
            0x08 => out.push_str("\\b"),
            b'\t' => out.push_str("\\t"),
            b'\n' => out.push_str("\\n"),
            0x0c => out.push_str("\\f"),
            b'\r' => out.push_str("\\r"),
            control => out.push_str(&format!("\\u{control:04x}")),
        }
    }
    out.push_str(&text[from..]);
    out.push('"');
}

fn write_number(number: &Number, out: &mut String) -> Result<(), CanonicalError> {
    let double = number
        .as_f64()
        .filter(|double| double.is_finite())
        .ok_or_else(|| CanonicalError::Number(number.clone()))?;
    out.push_str(&number_text(double));
    Ok(())
}

/// A finite double as ECMAScript writes it: the fewest digits that read back as the same number, with an exponent below
/// 10⁻⁶ and from 10²¹ on. A double that is not finite has no form in JSON and comes out as Rust writes it.
///
/// # Source
/// ECMA-262, Number::toString; RFC 8785, 3.2.2.3.
///
/// # Example
/// ```
/// use relent::record::canonical::number_text;
/// assert_eq!(number_text(333_333_333.333_333_3), "333333333.3333333");
/// assert_eq!(number_text(1e-27), "1e-27");
/// ```
#[must_use]
pub fn number_text(double: f64) -> String {
    if double == 0.0 {
        return "0".to_owned();
    }
    let Some(number) = Number::from_f64(double.abs()) else {
        return double.to_string();
    };
    let (digits, point) = digits(&number.to_string());
    let sign = if double < 0.0 { "-" } else { "" };
    let count = digits.len() as i32;
    let text = match point {
        _ if point > 21 || point <= -6 => with_exponent(&digits, point - 1),
        _ if point <= 0 => format!("0.{}{digits}", "0".repeat(-point as usize)),
        _ if point >= count => format!("{digits}{}", "0".repeat((point - count) as usize)),
        _ => format!(
            "{}.{}",
            &digits[..point as usize],
            &digits[point as usize..]
        ),
    };
    format!("{sign}{text}")
}

/// The digits of a decimal number that is not 0 and their point: the number is 0.digits × 10^point.
///
/// The digits are taken from serde_json and not from the standard library, which writes the greater of two that are equally
/// near and equally short, where ECMAScript writes the even one: 1424953923781206.25 is …206.2.
fn digits(text: &str) -> (String, i32) {
    let (mantissa, exponent) = text.split_once('e').unwrap_or((text, "0"));
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let all = format!("{whole}{part}");
    let significant = all.trim_start_matches('0');
    let leading = (all.len() - significant.len()) as i32;
    let point = whole.len() as i32 - leading + exponent.parse::<i32>().unwrap_or(0);
    (significant.trim_end_matches('0').to_owned(), point)
}

fn with_exponent(digits: &str, exponent: i32) -> String {
    let (first, rest) = digits.split_at(1);
    let point = if rest.is_empty() { "" } else { "." };
    format!("{first}{point}{rest}e{exponent:+}")
}
