//! Digits of other scripts → those of ASCII.

use std::borrow::Cow;

use crate::ingest::Noticed;

/// The zero of each script, in the order of Unicode.
const ZEROS: [char; 17] = [
    '٠', '۰', '߀', '०', '০', '੦', '૦', '୦', '௦', '౦', '೦', '൦', '๐', '໐', '༠', '၀', '０',
];

/// A text with every digit, decimal mark, sign and colon of another script as ASCII has it; the text itself where it has no such digit.
pub(super) fn ascii<'a>(text: Cow<'a, [u8]>, remarks: &mut Vec<Noticed>) -> Cow<'a, [u8]> {
    if text.is_ascii() {
        return text;
    }
    let Ok(letters) = std::str::from_utf8(&text) else {
        return text;
    };
    let Some(zero) = letters
        .chars()
        .find_map(|letter| digit(letter).map(|it| it.0))
    else {
        return text;
    };
    let plain: String = letters.chars().map(plain).collect();
    remarks.push(Noticed::OtherDigits {
        zero: zero.to_string(),
    });
    Cow::Owned(plain.into_bytes())
}

/// The zero of the script of a digit, and the digit.
fn digit(letter: char) -> Option<(char, char)> {
    if letter.is_ascii() {
        return None;
    }
    ZEROS.into_iter().find_map(|zero| {
        let value = (letter as u32).checked_sub(zero as u32)?;
        char::from_digit(value, 10).map(|digit| (zero, digit))
    })
}

fn plain(letter: char) -> char {
    match letter {
        '٫' | '．' => '.',
        '٬' => '\'',
        '，' => ',',
        '－' => '-',
        '＋' => '+',
        '：' => ':',
        '；' => ';',
        letter => digit(letter).map_or(letter, |(_, digit)| digit),
    }
}
