//! Every sentence a reader sees, made from a fact or a message id and a language.
//!
//! The texts are Fluent messages in `words/<language>/*.ftl`. A fact of the family `limitation` with the code `ends-early` is the message
//! `limitation-ends-early`; its fields are the variables of that message:
//!
//! - a number is a number (`{ FIXED($ends_s, digits: 1) }`, `{ SIGNIFICANT($width_n, digits: 3) }`, or the fewest digits: `{ $needs_s }`);
//! - a code in the field `motion` is the message `motion-<code>` where there is one, and `$motion_code` is the code itself, to select by;
//!   any other string is data and stands as it is;
//! - an object in the field `test_point` is the message `test-point` with the object's fields, or `<field>-<code>` if it has a code;
//! - a list in the field `logs` is its items, each read like a field `log`, with commas between; `$logs_count` is their number;
//! - a field without a value is the string `none`.

mod arguments;
mod numbers;
mod said;

use std::borrow::Cow;
use std::sync::LazyLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

use crate::fact::Fact;

pub use numbers::printed;
pub use said::Said;

/// A language of the report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Language {
    /// English.
    #[default]
    English,
}

impl Language {
    /// Every language.
    pub const ALL: [Self; 1] = [Self::English];

    /// Its tag as BCP 47 has it: what the `lang` of a page says.
    #[must_use]
    pub const fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
        }
    }

    fn identifier(self) -> LanguageIdentifier {
        self.tag().parse().unwrap_or_default()
    }

    /// The texts, by the name of their file.
    const fn texts(self) -> &'static [(&'static str, &'static str)] {
        macro_rules! texts {
            ($language:literal: $($name:literal),+) => {
                &[$(($name, include_str!(concat!("words/", $language, "/", $name, ".ftl")))),+]
            };
        }
        match self {
            Self::English => texts!(
                "en": "archive", "compare", "gate", "history", "ingest", "limitation", "limits", "live", "measure", "readiness",
                "record", "report", "sheets", "terms", "uncertainty", "verdict", "visit"
            ),
        }
    }

    /// The mark between the whole and the parts of a number.
    const fn decimal_mark(self) -> char {
        match self {
            Self::English => '.',
        }
    }
}

/// The messages of one language.
pub struct Words {
    language: Language,
    bundle: FluentBundle<FluentResource>,
}

static ENGLISH: LazyLock<Words> = LazyLock::new(|| Words::new(Language::English));

impl Words {
    /// The words of a language.
    #[must_use]
    pub fn of(language: Language) -> &'static Self {
        match language {
            Language::English => &ENGLISH,
        }
    }

    fn new(language: Language) -> Self {
        let mut bundle = FluentBundle::new_concurrent(vec![language.identifier()]);
        // What surrounds a value has one direction, and marks of direction would stand in JSON and CSV.
        bundle.set_use_isolating(false);
        numbers::add_functions(&mut bundle, language.decimal_mark());
        for (_, text) in language.texts() {
            // A faulty message is left out; the structure test holds that there is none.
            let resource = match FluentResource::try_new((*text).to_owned()) {
                Ok(resource) | Err((resource, _)) => resource,
            };
            bundle.add_resource_overriding(resource);
        }
        Self { language, bundle }
    }

    /// The language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }

    /// The message of an id that has no variables.
    #[must_use]
    pub fn say(&self, id: &str) -> Cow<'_, str> {
        self.message(id, None, &FluentArgs::new())
            .unwrap_or_else(|| Cow::Owned(id.to_owned()))
    }

    /// The message of an id with its variables.
    ///
    /// # Example
    /// ```
    /// use relent::words::{Language, Words};
    /// let words = Words::of(Language::English);
    /// assert_eq!(words.with("hits", &[("count", 3.into())]), "3 hits");
    /// ```
    #[must_use]
    pub fn with(&self, id: &str, variables: &[(&str, FluentValue<'_>)]) -> String {
        let mut args = FluentArgs::new();
        for (name, value) in variables {
            args.set((*name).to_owned(), value.clone());
        }
        self.message(id, None, &args)
            .map_or_else(|| id.to_owned(), Cow::into_owned)
    }

    /// The sentence of a fact.
    #[must_use]
    pub fn fact<F: Fact>(&self, fact: &F) -> String {
        let (id, args) = self.arguments_of(fact);
        self.message(&id, None, &args)
            .map_or_else(|| id.clone(), Cow::into_owned)
    }

    /// A part of what is said of a fact, an attribute of its message as `.help`; `None` where the message has no such part.
    #[must_use]
    pub fn part<F: Fact>(&self, fact: &F, part: &str) -> Option<String> {
        let (id, args) = self.arguments_of(fact);
        self.message(&id, Some(part), &args).map(Cow::into_owned)
    }

    /// The sentences of several facts, one after the other.
    #[must_use]
    pub fn facts<'a, F: Fact + 'a>(&self, facts: impl IntoIterator<Item = &'a F>) -> Vec<String> {
        facts.into_iter().map(|fact| self.fact(fact)).collect()
    }

    /// Texts one after the other, with what the language puts between the parts of a list.
    #[must_use]
    pub fn list(&self, texts: &[String]) -> String {
        texts.join(&self.say("list-comma"))
    }

    /// Whether there is a message of this id.
    #[must_use]
    pub fn knows(&self, id: &str) -> bool {
        self.bundle.has_message(id)
    }

    fn message(&self, id: &str, part: Option<&str>, args: &FluentArgs<'_>) -> Option<Cow<'_, str>> {
        let message = self.bundle.get_message(id)?;
        let pattern = match part {
            None => message.value()?,
            Some(part) => message.get_attribute(part)?.value(),
        };
        let mut errors = Vec::new();
        let text = self
            .bundle
            .format_pattern(pattern, Some(args), &mut errors)
            .into_owned();
        debug_assert!(errors.is_empty(), "{id}: {errors:?}");
        Some(Cow::Owned(text))
    }
}
