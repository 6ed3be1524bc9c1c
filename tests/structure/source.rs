//! A source file read as text: its code without comments, attributes and tests, and the literals in it.

/// The code of a file.
pub struct Source {
    /// Without comments, attributes and the module of tests.
    pub code: String,
}

impl Source {
    /// Reads a file.
    pub fn new(text: &str) -> Self {
        let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
        let mut code = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(first) = rest.chars().next() {
            let skipped = if rest.starts_with("//") {
                rest.find('\n').unwrap_or(rest.len())
            } else if rest.starts_with("#[") || rest.starts_with("#![") {
                bracketed(rest)
            } else {
                0
            };
            rest = &rest[skipped..];
            if skipped == 0 {
                let kept = literal(rest).unwrap_or(first.len_utf8());
                code.push_str(&rest[..kept]);
                rest = &rest[kept..];
            }
        }
        Self { code }
    }

    /// The texts of its string literals.
    pub fn literals(&self) -> impl Iterator<Item = &str> {
        literals_in(&self.code)
    }

    /// The literals in the first argument of every call, as `.say(`.
    pub fn first_arguments(&self, call: &str) -> Vec<String> {
        let calls = self.code.split(call).skip(1);
        calls
            .flat_map(|rest| literals_in(&rest[..argument(rest)]))
            .map(str::to_owned)
            .collect()
    }

    /// The families of the facts that are defined here.
    pub fn families(&self) -> impl Iterator<Item = String> {
        let all = self.code.split("const FAMILY: &'static str = ").skip(1);
        all.filter_map(|rest| literals_in(rest).next().map(str::to_owned))
    }
}

/// Whether a text can be the id of a message.
pub fn is_name(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_lowercase())
        && text
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}

/// The names in a text: letters, digits and hyphens.
pub fn names_in(text: &str) -> impl Iterator<Item = &str> {
    text.split(|letter: char| !letter.is_ascii_alphanumeric() && letter != '-')
}

fn literals_in(code: &str) -> impl Iterator<Item = &str> {
    let mut rest = code;
    std::iter::from_fn(move || {
        while let Some(first) = rest.chars().next() {
            let length = literal(rest).unwrap_or(first.len_utf8());
            let found = &rest[..length];
            rest = &rest[length..];
            if found.len() > 1 && !found.starts_with('\'') {
                return Some(
                    found
                        .trim_start_matches('r')
                        .trim_matches('#')
                        .trim_matches('"'),
                );
            }
        }
        None
    })
}

/// The length of the literal that a text begins with: a string, plain or raw, or a character.
fn literal(text: &str) -> Option<usize> {
    let closed = |open: usize, close: &str| {
        let end = text[open..].find(close).map(|at| open + at + close.len());
        Some(end.unwrap_or(text.len()))
    };
    if text.starts_with("r\"") {
        return closed(2, "\"");
    }
    if text.starts_with("r#\"") {
        return closed(3, "\"#");
    }
    let mut letters = text.char_indices();
    match letters.next()?.1 {
        '"' => {
            let mut escaped = false;
            let end = letters.find(|(_, letter)| {
                let ends = *letter == '"' && !escaped;
                escaped = *letter == '\\' && !escaped;
                ends
            });
            Some(end.map_or(text.len(), |(at, _)| at + 1))
        }
        '\'' => match (letters.next()?.1, letters.next()?) {
            ('\\', (at, _)) => closed(at + 1, "'"),
            (_, (at, '\'')) => Some(at + 1),
            _ => None,
        },
        _ => None,
    }
}

/// The length of an attribute.
fn bracketed(text: &str) -> usize {
    until(text, |depth, letter| depth == 0 && letter == ']').map_or(text.len(), |at| at + 1)
}

/// The length of the first argument of a call.
fn argument(text: &str) -> usize {
    until(text, |depth, letter| {
        depth < 0 || depth == 0 && letter == ','
    })
    .unwrap_or(text.len())
}

/// Where a letter outside literals ends something, with the depth of the brackets after it.
fn until(text: &str, ends: impl Fn(i32, char) -> bool) -> Option<usize> {
    let (mut at, mut depth) = (0, 0);
    while let Some(letter) = text[at..].chars().next() {
        if let Some(length) = literal(&text[at..]) {
            at += length;
            continue;
        }
        depth += i32::from("([{".contains(letter)) - i32::from(")]}".contains(letter));
        if ends(depth, letter) {
            return Some(at);
        }
        at += letter.len_utf8();
    }
    None
}
