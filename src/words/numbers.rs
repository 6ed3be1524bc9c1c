//! Numbers in sentences: so many digits after the decimal mark, so many digits that count, with the decimal mark of the language.

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

/// Adds `FIXED($number, digits: 3)` or `FIXED($number, $decimals)`, `SHORT($number, digits: 3)`, `SIGNIFICANT($number, digits: 3)` and the decimal mark of every other number.
pub(super) fn add_functions(bundle: &mut FluentBundle<FluentResource>, mark: char) {
    // A function that is there already is one of these: nobody else adds any.
    let _ = bundle.add_function("FIXED", move |numbers, named| {
        print(numbers, named, mark, |number, digits| {
            format!("{number:.digits$}")
        })
    });
    let _ = bundle.add_function("SHORT", move |numbers, named| {
        print(numbers, named, mark, short)
    });
    let _ = bundle.add_function("SIGNIFICANT", move |numbers, named| {
        print(numbers, named, mark, significant)
    });
    if mark != '.' {
        bundle.set_formatter(Some(with_comma));
    }
}

/// A number as a variable of a message, with the digits that it was printed with: `400.04`, `5.0`.
#[must_use]
pub fn printed(number: &str) -> FluentValue<'static> {
    FluentValue::try_number(number).into_owned()
}

fn with_comma<M>(value: &FluentValue<'_>, _: &M) -> Option<String> {
    match value {
        FluentValue::Number(number) => Some(number.as_string().replace('.', ",")),
        _ => None,
    }
}

/// A number in the way of `written`, with the digits that are named or stand beside it; what is no number stays what it is.
fn print<'a>(
    numbers: &[FluentValue<'a>],
    named: &FluentArgs<'_>,
    mark: char,
    written: impl Fn(f64, usize) -> String,
) -> FluentValue<'a> {
    let digits = match (numbers.get(1), named.get("digits")) {
        (Some(FluentValue::Number(digits)), _) | (None, Some(FluentValue::Number(digits))) => {
            digits.value as usize
        }
        _ => 0,
    };
    match numbers.first() {
        Some(FluentValue::Number(number)) => written(number.value, digits)
            .replace('.', &mark.to_string())
            .into(),
        Some(other) => other.clone(),
        None => FluentValue::Error,
    }
}

/// At most so many digits after the decimal mark, without zeros at the end.
fn short(number: f64, digits: usize) -> String {
    let text = format!("{number:.digits$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// So many digits that count, never in the way of an exponent.
fn significant(number: f64, digits: usize) -> String {
    if number == 0.0 || !number.is_finite() {
        return format!("{number}");
    }
    let places = digits as i32 - 1 - number.abs().log10().floor() as i32;
    if places >= 0 {
        return format!("{number:.0$}", places as usize);
    }
    let unit = 10f64.powi(-places);
    format!("{:.0}", (number / unit).round() * unit)
}

#[cfg(test)]
mod tests {
    use super::significant;

    #[test]
    fn significant_digits() {
        for (number, text) in [
            (23.405, "23.4"),
            (0.012_345, "0.0123"),
            (1234.5, "1230"),
            (-5.0, "-5.00"),
            (0.0, "0"),
        ] {
            assert_eq!(significant(number, 3), text);
        }
    }
}
