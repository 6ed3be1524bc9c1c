//! Text from outside on a terminal: names of files, heads of logs, messages of the system. A character that a terminal would obey,
//! or that turns the order in which others are read, is shown as its number instead.

use std::borrow::Cow;
use std::fmt::{self, Write as _};
use std::path::Path;

/// A text of any number of lines. Numbers are written as in JSON, which means the same there: `\u001b`.
///
/// ```
/// use relent::cli::visible::visible;
/// assert_eq!(visible("peak\u{1b}[2J\n"), "peak\\u001b[2J\n");
/// ```
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    replaced(text, |letter| {
        letter != '\n' && letter != '\t' && acts(letter)
    })
}

/// A text that must not begin a line of its own: a name, or one complaint.
///
/// ```
/// use relent::cli::visible::on_one_line;
/// assert_eq!(on_one_line("a.csv\nwithin the limits"), "a.csv\\u000awithin the limits");
/// ```
#[must_use]
pub fn on_one_line(text: &str) -> Cow<'_, str> {
    replaced(text, acts)
}

/// The name of a file.
#[must_use]
pub fn name(path: &Path) -> String {
    on_one_line(&path.display().to_string()).into_owned()
}

/// A text of which each `writeln!` makes one line, whatever stands in what is written.
#[derive(Debug, Default)]
pub struct Lines(String);

impl Lines {
    /// What `writeln!` calls.
    pub fn write_fmt(&mut self, written: fmt::Arguments<'_>) {
        let written = written.to_string();
        let (line, end) = match written.strip_suffix('\n') {
            Some(line) => (line, "\n"),
            None => (written.as_str(), ""),
        };
        self.0 += &on_one_line(line);
        self.0 += end;
    }

    /// The text.
    #[must_use]
    pub fn text(self) -> String {
        self.0
    }
}

/// Control characters; marks, embeddings, overrides and isolates of direction; separators of lines; invisible tags.
fn acts(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{e0000}'..='\u{e007f}')
}

fn replaced(text: &str, acts: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.contains(&acts) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        if acts(letter) {
            for unit in letter.encode_utf16(&mut [0; 2]) {
                let _ = write!(shown, "\\u{unit:04x}");
            }
        } else {
            shown.push(letter);
        }
    }
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_character_that_acts_on_a_terminal_is_left() {
        let all: String = (0..=0x10_ffff).filter_map(char::from_u32).collect();
        let shown = on_one_line(&all);
        assert!(!shown.contains(acts));
        assert_eq!(
            visible("a\tb\r\n\u{202e}c\u{9b}"),
            "a\tb\\u000d\n\\u202ec\\u009b"
        );
        // Read as JSON, the numbers are the characters again.
        let text = "\u{1b}]0;title\u{7}\u{2066}\u{e0041}é→";
        let json = format!("\"{}\"", on_one_line(text));
        assert_eq!(
            serde_json::from_str::<String>(&json).ok().as_deref(),
            Some(text)
        );
    }
}
