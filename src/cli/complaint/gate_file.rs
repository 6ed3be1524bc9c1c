//! What helps against each problem of a gate file and of the names of its logs.

use crate::gate::names::PlaceProblem;
use crate::gate::{Found, GateError, Kind, MOST_PROBLEMS, PatternError, Spot, Wanted, Warning};
use crate::words::{Language, Words};

use super::{Advice, Complaint, Excerpt};

/// One complaint a problem, in the order of the gate file. `path` is how the user named the file.
#[must_use]
pub fn gate_file(path: &str, error: &GateError) -> Vec<Complaint> {
    let one = |problem: &crate::gate::Problem| {
        let (spot, line) = (&problem.spot, problem.line.as_str());
        let mut advice = problem.kind.advice();
        if matches!(problem.kind, Kind::Syntax(_)) {
            advice.extend(decimal_comma(line));
        }
        let excerpt = match &problem.kind {
            Kind::MissingSection { .. } => Excerpt::of_file(path),
            Kind::MissingKey { section, .. } if section.is_empty() => Excerpt::of_file(path),
            _ => Excerpt::of_spot(path, spot, line),
        };
        Complaint::error(&problem.kind)
            .at(excerpt)
            .helped_by(advice)
    };
    let mut complaints: Vec<Complaint> = error.problems.iter().map(one).collect();
    if let Some(last) = complaints.pop_if(|_| error.problems.len() == MOST_PROBLEMS) {
        complaints.push(last.help(format!(
            "these are the first {MOST_PROBLEMS}: more may follow, or this is no gate file"
        )));
    }
    complaints
}

/// One complaint a warning. `text` is the gate file's.
#[must_use]
pub fn gate_warnings(path: &str, text: &str, warnings: &[(Warning, Spot)]) -> Vec<Complaint> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let words = Words::of(Language::English);
    let one = |(warning, spot): &(Warning, Spot)| {
        let help = words.part(warning, "help");
        Complaint::warning(words.fact(warning))
            .at(Excerpt::of_spot(path, spot, spot.line_of(text)))
            .helped_by(help.filter(|help| !help.is_empty()))
    };
    warnings.iter().map(one).collect()
}

/// A log that could not be placed.
#[must_use]
pub fn place_problem(problem: &PlaceProblem) -> Complaint {
    let words = Words::of(Language::English);
    Complaint::error(words.fact(problem)).helped_by(words.part(problem, "help"))
}

/// A number with a decimal comma is the commonest slip in a file written by hand.
fn decimal_comma(line: &str) -> Option<String> {
    let (_, value) = line.split_once('=')?;
    let (whole, rest) = value.split_once(',')?;
    let part: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let whole = whole.trim();
    let is_number = !whole.is_empty() && whole.chars().all(|c| c.is_ascii_digit() || c == '-');
    (is_number && !part.is_empty())
        .then(|| format!("a number is written with a decimal point: {whole}.{part}"))
}

impl Advice for Kind {
    fn advice(&self) -> Vec<String> {
        let one = |text: &str| vec![text.to_owned()];
        match self {
            Self::NotUtf8 { byte, after } => not_utf8(*byte, *after),
            Self::Syntax(_) => Vec::new(),
            Self::Pattern(error) => error.advice(),
            Self::UnknownKey {
                section,
                nearest,
                home,
                known,
                ..
            } => unknown_key(section, nearest.as_deref(), home.as_deref(), known),
            Self::UnknownSection { nearest, known, .. } => {
                unknown_section(nearest.as_deref(), known)
            }
            Self::MissingSection { section, what } => {
                vec![format!("add [{section}]: {}", lower(what))]
            }
            Self::MissingKey {
                key, what, words, ..
            } => missing_key(key, &lower(what), words),
            Self::WrongKind {
                key, found, wanted, ..
            } => wrong_kind(key, found, *wanted),
            Self::UnknownWord { words, .. } if words.len() == 1 => {
                vec![format!("this version of relent reads \"{}\"", words[0])]
            }
            Self::UnknownWord { nearest, .. } => {
                let nearest = nearest.iter();
                nearest
                    .map(|word| format!("did you mean \"{word}\"?"))
                    .collect()
            }
            Self::OutOfRange { slip, .. } => {
                let words = Words::of(Language::English);
                slip.iter().map(|slip| words.fact(slip)).collect()
            }
            Self::Blank { .. } => {
                one("write a text, or delete the line if the key may be left out")
            }
            Self::ControlCharacter { .. } => one(
                "in double quotes a backslash starts an escape: use single quotes, or / between folders",
            ),
            Self::NotFinite { .. } => one("delete the line if the number is not known"),
            Self::NotADay { .. } => {
                one("the year comes first, the day last, and the day must exist")
            }
            Self::DueBeforeCalibrated { .. } => one("one of the two days is wrong"),
            Self::ObstacleWithoutSpace => {
                one("measure it with the leaf fully open and add `obstacle_space_mm = …`")
            }
            Self::SpaceWithoutObstacle { .. } => {
                one("add opening_side = \"obstacle-within-500-mm\", or delete the line")
            }
            Self::EmptyCertificate => {
                one("take it from the certificate; without one, delete [gauge.certificate]")
            }
            Self::CertificateWithoutFactor => one(
                "take k from the certificate, most often 2: without it the uncertainty says nothing",
            ),
            Self::BandWithoutGuard => one(
                "write decision = \"guarded\", or delete guard_band: choose before the measurement",
            ),
            Self::NamesAndList => one("delete `names` or the [[logs.list]] entries"),
            Self::NeitherNamesNorList => {
                one("for example: names = \"{direction}-{gap}-{height}-{repeat}\"")
            }
        }
    }
}

fn not_utf8(byte: u8, after: usize) -> Vec<String> {
    let known = match (byte, after) {
        (0xff | 0xfe, 0) => "it looks like UTF-16, which some editors call \"Unicode\"",
        _ => "it looks like an older one-byte encoding, which some editors call \"ANSI\"",
    };
    vec![known.to_owned(), "save it as UTF-8".to_owned()]
}

fn unknown_key(
    section: &str,
    nearest: Option<&str>,
    home: Option<&str>,
    known: &[String],
) -> Vec<String> {
    let mut advice = match (nearest, home) {
        (_, Some(home)) => vec![format!("it belongs below [{home}]")],
        (Some(key), None) => vec![format!("did you mean `{key}`?")],
        (None, None) if known.is_empty() => Vec::new(),
        (None, None) if section.is_empty() => {
            vec![format!("the keys there are: {}", known.join(", "))]
        }
        (None, None) => vec![format!("the keys of [{section}] are: {}", known.join(", "))],
    };
    if section == "drive" && nearest.is_none() {
        advice.push("settings under the drive's own names go under [drive.settings]".to_owned());
    }
    advice
}

fn missing_key(key: &str, what: &str, words: &[String]) -> Vec<String> {
    match words {
        [] => vec![format!("add `{key} = …`: {what}")],
        [only] => vec![format!("add `{key} = \"{only}\"`: {what}")],
        [first, rest @ ..] => vec![format!(
            "add `{key} = \"{first}\"`, or another of {}: {what}",
            rest.join(", ")
        )],
    }
}

fn unknown_section(nearest: Option<&str>, known: &[String]) -> Vec<String> {
    match nearest {
        Some(section) => vec![format!("did you mean [{section}]?")],
        None if known.is_empty() => Vec::new(),
        None => vec![format!("the sections there are: {}", known.join(", "))],
    }
}

fn wrong_kind(key: &str, found: &Found, wanted: Wanted) -> Vec<String> {
    let key = key.rsplit_once(['.', ' ']).map_or(key, |(_, key)| key);
    let line = match (found, wanted) {
        (Found::Text(text), Wanted::Number | Wanted::WholeNumber) => {
            let plain = text.trim().replace(',', ".");
            let digits = plain.chars();
            let digits = digits.take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
            let number: String = digits.collect();
            let number = number.parse::<f64>().ok().map(|_| number);
            number.map(|number| format!("write the number alone: {key} = {number}"))
        }
        (Found::Number(number), Wanted::Text) => {
            Some(format!("put it in quotes: {key} = \"{number}\""))
        }
        (Found::Text(text), Wanted::Switch) => match text.to_ascii_lowercase().as_str() {
            "true" | "yes" | "on" => Some(format!("write {key} = true")),
            "false" | "no" | "off" => Some(format!("write {key} = false")),
            _ => None,
        },
        _ => None,
    };
    line.into_iter().collect()
}

impl Advice for PatternError {
    fn advice(&self) -> Vec<String> {
        let text = match self {
            Self::LoneBrace { .. } => "a field stands between braces: {gap}".to_owned(),
            Self::UnknownField { .. } | Self::Lacks { .. } => {
                "for example: names = \"{direction}-{gap}-{height}-{repeat}\"".to_owned()
            }
            Self::Twice { field, .. } => format!("leave one {field}"),
            Self::Touching { first, second, .. } => {
                format!(
                    "put a mark between them, in the pattern and in the names: {first}-{second}"
                )
            }
            Self::Folder { .. } => "write the folder as logs.folder".to_owned(),
        };
        vec![text]
    }
}

fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_lowercase().collect::<String>() + chars.as_str()
    })
}
