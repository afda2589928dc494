//! `mixed-alphabets`: a word with letters of two alphabets that look the same.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `mixed-alphabets`, a warning about names.
pub const RULE: Rule = Rule {
    name: "mixed-alphabets",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("mixed_alphabets.md"),
};

/// `word` stands in the name; `letters` are those that are not Latin.
pub fn finding(name: &Name, word: &str, letters: &[char]) -> Finding {
    let listed = letters.iter().map(|letter| format!("`{letter}` (U+{:04X})", *letter as u32));
    let listed = listed.collect::<Vec<_>>().join(", ");
    let message = format!("`{word}` mixes letters of two alphabets");
    Finding::new(&RULE, name.span, message)
        .note(format!("these are not Latin: {listed}"))
        .help("type the word again on one keyboard: nobody sees the difference, but names that differ in it are two names")
}
