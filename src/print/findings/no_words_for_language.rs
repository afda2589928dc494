//! `no-words-for-language`: a language whose words for prints are not there.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;
use crate::print::assets::WORDS;
use crate::print::wording::CATALOGUES;

/// A language that no catalogue is written in.
pub const RULE: Rule = Rule {
    name: "no-words-for-language",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("no_words_for_language.md"),
};

/// The finding for the language of a house.
pub fn finding(language: &Setting) -> Finding {
    let known: Vec<&str> = CATALOGUES.iter().map(|(known, ..)| *known).collect();
    let message = format!("the prints have no words in `{}`, and speak English", language.value);
    Finding::new(&RULE, language.span, message)
        .note(format!("there are words in {}", known.join(", ")))
        .help(format!(
            "write your own into `templates/{WORDS}` of the bakehouse; \
             `assize print --export-templates DIR` gives you ours to start from"
        ))
}
