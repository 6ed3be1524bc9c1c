//! Are the sentences in their place? Every message is said, every message that is said is there, and no module that stands above
//! `words` makes a sentence of its own.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use fluent_bundle::FluentResource;
use serde_json::Value;

use super::{ROOT, files_below, pipeline};
use crate::source::{Source, is_name, names_in};

/// Files and folders that hold texts and may: why.
const MAY_SPEAK: &[(&str, &str)] = &[
    ("compare/", "parts of the text of an error"),
    (
        "gate/names.rs",
        "what a complaint says of the name of a log",
    ),
    ("gate/pattern.rs", "what a complaint expected"),
    ("gate/problem.rs", "what a complaint found and expected"),
    (
        "ingest/decode.rs",
        "what a file is that a complaint refuses",
    ),
    ("ingest/layout/preamble.rs", "words of logs"),
    ("ingest/layout/rate.rs", "words of logs"),
    ("ingest/layout/says.rs", "words of logs"),
    ("ingest/recipe.rs", "what a complaint expected"),
    (
        "ingest/unpack/container.rs",
        "why a complaint refuses an archive",
    ),
    ("impact/", "a prediction and its advice, in one language"),
    ("limits/overlay.rs", "what a complaint expected"),
    ("limits/schema.rs", "what a complaint expected"),
    ("limits/shelf.rs", "what a complaint expected"),
    ("record/seal.rs", "parts of the text of an error"),
    ("record/signature/", "what an error says of a signature"),
    ("report/detail.rs", "classes of a style sheet"),
    ("report/sheet.rs", "a style sheet"),
    ("toml_tree/", "what a complaint found and expected"),
    ("visit/input.rs", "what an error says of a file"),
];

/// A language: its messages by id, each with its whole text.
type Messages = BTreeMap<String, String>;

fn languages() -> BTreeMap<String, Messages> {
    let folder = Path::new(ROOT).join("src/words");
    let mut all: BTreeMap<String, Messages> = BTreeMap::new();
    for file in files_below(&folder, "ftl") {
        let language = file.parent().unwrap().file_name().unwrap();
        let messages = all.entry(language.to_string_lossy().into()).or_default();
        for (id, text) in messages_of(&fs::read_to_string(&file).unwrap()) {
            let before = messages.insert(id.clone(), text);
            assert!(before.is_none(), "{id} is there twice: {}", file.display());
        }
    }
    assert!(all.contains_key("en"));
    all
}

/// The messages of a file: a line that begins with a name opens one, and the indented lines below belong to it.
fn messages_of(text: &str) -> Vec<(String, String)> {
    let mut messages: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        let opens = line.split_once(" =").filter(|(id, _)| is_name(id));
        match (opens, messages.last_mut()) {
            (Some((id, rest)), _) => messages.push((id.to_owned(), rest.to_owned())),
            (None, Some((_, text))) if !line.starts_with('#') => {
                text.push('\n');
                text.push_str(line);
            }
            _ => {}
        }
    }
    messages
}

/// The attributes of a message and its variables: what every language must have alike.
fn interface(text: &str) -> BTreeSet<String> {
    let attributes = text.lines().filter_map(|line| {
        let (name, _) = line.trim_start().strip_prefix('.')?.split_once(" =")?;
        is_name(name).then(|| format!(".{name}"))
    });
    let variables = variables(text);
    attributes
        .chain(variables.into_iter().map(|name| format!("${name}")))
        .collect()
}

fn variables(text: &str) -> BTreeSet<String> {
    text.split('$')
        .skip(1)
        .map(|rest| {
            let end = rest.find(|letter: char| !letter.is_ascii_alphanumeric() && letter != '_');
            rest[..end.unwrap_or(rest.len())].to_owned()
        })
        .collect()
}

fn sources() -> Vec<(String, Source)> {
    let folder = Path::new(ROOT).join("src");
    files_below(&folder, "rs")
        .into_iter()
        .map(|file| {
            let name = file.strip_prefix(&folder).unwrap().display().to_string();
            (name, Source::new(&fs::read_to_string(&file).unwrap()))
        })
        .collect()
}

#[test]
fn every_file_of_messages_is_well_formed() {
    for file in files_below(&Path::new(ROOT).join("src/words"), "ftl") {
        let text = fs::read_to_string(&file).unwrap();
        if let Err((_, errors)) = FluentResource::try_new(text) {
            panic!("{}: {errors:?}", file.display());
        }
    }
}

#[test]
fn every_language_has_the_same_messages_with_the_same_variables() {
    let all = languages();
    let forms = |messages: &Messages| -> BTreeMap<String, BTreeSet<String>> {
        let form = messages.iter().map(|(id, text)| (id, interface(text)));
        form.map(|(id, form)| (id.clone(), form)).collect()
    };
    let english = forms(&all["en"]);
    for (language, messages) in &all {
        assert_eq!(forms(messages), english, "{language}");
    }
}

#[test]
fn every_message_that_the_code_says_is_there() {
    let all = languages();
    let mut lost = Vec::new();
    for (file, source) in sources() {
        for call in [".say(", ".with("] {
            for id in source.first_arguments(call) {
                let known = all.values().all(|messages| messages.contains_key(&id));
                if is_name(&id) && !known {
                    lost.push(format!("{file}: {id}"));
                }
            }
        }
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}

#[test]
fn every_message_is_said() {
    let messages = languages().remove("en").unwrap();
    let sources = sources();
    let data = files_below(&Path::new(ROOT).join("src"), "toml");
    let data: Vec<String> = data
        .iter()
        .map(|file| fs::read_to_string(file).unwrap())
        .collect();
    let written = data.iter().flat_map(|text| text.split('"'));
    let literals: BTreeSet<&str> = sources
        .iter()
        .flat_map(|(_, it)| it.literals())
        .chain(written)
        .collect();
    let named: BTreeSet<&str> = sources
        .iter()
        .flat_map(|(_, it)| names_in(&it.code))
        .collect();
    // A message of a family, or of a field of a fact, ends in a code: the name of a variant, or a text.
    let mut families: BTreeSet<String> = sources.iter().flat_map(|(_, it)| it.families()).collect();
    for text in messages.values() {
        for variable in variables(text) {
            let field = variable.strip_suffix("_code").unwrap_or(&variable);
            let field = field.replace('_', "-");
            // The items of a list are read like a field without its last letter.
            families.extend(field.strip_suffix('s').map(str::to_owned));
            families.insert(field);
        }
    }
    let is_code = |id: &str| {
        families.iter().any(|family| {
            let code = id.strip_prefix(family.as_str());
            let code = code.and_then(|rest| rest.strip_prefix('-'));
            id == family
                || code
                    .is_some_and(|code| literals.contains(code) || named.contains(&*variant(code)))
        })
    };
    // `{ list-comma }` and `{ failed-peak.help }` refer to other messages.
    let placed = messages.values().flat_map(|text| text.split('{').skip(1));
    let referred: BTreeSet<&str> = placed
        .filter_map(|place| names_in(place.trim_start()).next())
        .collect();
    let silent: Vec<&str> = messages
        .keys()
        .map(String::as_str)
        .filter(|id| !literals.contains(id) && !referred.contains(id) && !is_code(id))
        .collect();
    assert!(silent.is_empty(), "nothing says {}", silent.join(", "));
}

/// The variant of a code: `EndsEarly` of `ends-early`.
fn variant(code: &str) -> String {
    code.split('-')
        .map(|word| word[..1].to_uppercase() + &word[1..])
        .collect()
}

#[test]
fn no_sentence_is_made_below_the_words() {
    let order = pipeline();
    let words = order.iter().position(|module| module == "words").unwrap();
    let held = |file: &str| {
        let module = file.split(['/', '.']).next().unwrap();
        module == "report" || order[..words].iter().any(|below| below == module)
    };
    let mut speak: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (file, source) in sources() {
        let sentences: Vec<String> = source
            .literals()
            .filter(|it| is_prose(it))
            .map(str::to_owned)
            .collect();
        if held(&file) && !sentences.is_empty() {
            speak.insert(file, sentences);
        }
    }
    for (place, _) in MAY_SPEAK {
        let known = speak.len();
        speak.retain(|file, _| !file.starts_with(place));
        assert!(
            speak.len() < known,
            "{place} holds no text: it leaves the list"
        );
    }
    let told = speak
        .iter()
        .map(|(file, sentences)| format!("{file}: {sentences:?}"));
    let told: Vec<String> = told.collect();
    assert!(
        told.is_empty(),
        "a sentence belongs into src/words:\n{}",
        told.join("\n")
    );
}

/// A text with at least three words.
fn is_prose(literal: &str) -> bool {
    let outside = literal
        .split('{')
        .map(|part| part.split_once('}').map_or(part, |(_, rest)| rest));
    let words = outside.flat_map(str::split_whitespace).filter(|word| {
        let word = word.trim_matches(|letter: char| letter.is_ascii_punctuation());
        word.len() > 1
            && word
                .chars()
                .all(|letter| letter.is_alphabetic() || letter == '\'')
    });
    words.count() >= 3
}

/// The families of facts by the name of their type.
fn families_of_types() -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (_, source) in sources() {
        for implementation in source.code.split(" Fact for ").skip(1) {
            let name = implementation.split(|letter: char| !letter.is_alphanumeric());
            let name = name.into_iter().next().unwrap_or_default().to_owned();
            let family = implementation
                .split("const FAMILY: &'static str = \"")
                .nth(1);
            let family = family.and_then(|rest| rest.split('"').next());
            all.entry(name)
                .or_default()
                .extend(family.map(str::to_owned));
        }
    }
    all
}

/// The codes of a fact in the schema of the outputs, each with its fields.
fn codes(schema: &Value) -> Vec<(String, BTreeSet<String>)> {
    let variants = schema["oneOf"].as_array();
    let variants = variants.map_or(std::slice::from_ref(schema), Vec::as_slice);
    let mut all = Vec::new();
    for variant in variants {
        // A variant that is laid into a struct has the fields of both.
        let of_both = [&variant["properties"], &schema["properties"]];
        let fields = of_both.map(Value::as_object);
        let code = &variant["properties"]["code"]["const"];
        let plain = variant["enum"].as_array().into_iter().flatten();
        for code in plain.chain([code, &variant["const"]]) {
            let fields = fields
                .into_iter()
                .flatten()
                .flatten()
                .map(|(name, _)| name.clone());
            all.extend(
                code.as_str()
                    .map(|code| (code.to_owned(), fields.collect())),
            );
        }
    }
    all
}

#[test]
fn every_code_of_the_outputs_has_a_message_that_asks_for_no_other_fields() {
    let schema = fs::read(Path::new(ROOT).join("src/cli/schema/outputs.json")).unwrap();
    let schema: Value = serde_json::from_slice(&schema).unwrap();
    let messages = languages().remove("en").unwrap();
    let families = families_of_types();
    let (mut faults, mut held) = (Vec::new(), 0);
    for (name, schema) in schema["$defs"].as_object().unwrap() {
        let Some(families) = families.get(name) else {
            continue;
        };
        let opens = |family: &String| {
            let family = format!("{family}-");
            messages.keys().any(|id| id.starts_with(&family))
        };
        // Of some facts the code alone is in use, to select by in the message of another.
        if !families.iter().any(opens) {
            continue;
        }
        for (code, fields) in codes(schema) {
            let ids = families.iter().map(|family| format!("{family}-{code}"));
            let Some(text) = ids.into_iter().find_map(|id| messages.get(&id)) else {
                faults.push(format!("{name}: no message for {code}"));
                continue;
            };
            held += 1;
            let given = |variable: &String| {
                let plain = ["_code", "_count"];
                let plain = plain.iter().find_map(|end| variable.strip_suffix(end));
                fields.contains(variable) || plain.is_some_and(|field| fields.contains(field))
            };
            let others = variables(text).into_iter().filter(|it| !given(it));
            faults.extend(others.map(|it| format!("{name}: {code} has no field {it}")));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(held > 200, "{held} codes were held against their messages");
}
