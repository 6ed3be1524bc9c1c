//! The usual cautions, the same in every output.

use crate::words::Words;

/// Cautions for whoever tests or acts on the results; common practice, no source.
#[must_use]
pub fn cautions(words: &Words) -> Vec<String> {
    [
        words.say("caution-precedence"),
        words.say("caution-testing"),
        words.say("caution-isolate"),
        words.say("caution-sensitivity"),
        words.say("caution-changes"),
    ]
    .map(std::borrow::Cow::into_owned)
    .into()
}
