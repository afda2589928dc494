//! The rules whose findings the reader raises, one file for each.

pub mod decimal_comma;
pub mod declared_twice;
pub mod division_by_zero;
pub mod missing_unit;
pub mod not_worked_out_yet;
pub mod number_too_large;
pub mod range_reversed;
pub mod reserved_word;
pub mod said_twice;
pub mod too_deep;
pub mod unclosed_block;
pub mod unclosed_text;
pub mod unexpected_text;
pub mod unknown_unit;
pub mod unread_fence;

use crate::diag::Rule;

/// All of them, by name.
pub const ALL: &[&Rule] = &[
    &decimal_comma::RULE,
    &declared_twice::RULE,
    &division_by_zero::RULE,
    &missing_unit::RULE,
    &not_worked_out_yet::RULE,
    &number_too_large::RULE,
    &range_reversed::RULE,
    &reserved_word::RULE,
    &said_twice::RULE,
    &too_deep::RULE,
    &unclosed_block::RULE,
    &unclosed_text::RULE,
    &unexpected_text::RULE,
    &unknown_unit::RULE,
    &unread_fence::RULE,
];

/// The author's words in backticks, on one line and no longer than a line.
fn quoted(written: &str) -> String {
    const LONGEST: usize = 40;
    let line = written.trim().lines().next().unwrap_or("").trim_end();
    let short: String = line.chars().take(LONGEST).collect();
    let is_cut = short.len() < written.trim().len();
    format!("`{}{}`", short.trim_end(), if is_cut { "…" } else { "" })
}

/// The head of a block in backticks, without its title.
fn quoted_head(head: &str) -> String {
    match head.split_once('"') {
        Some((name, _)) if !name.trim().is_empty() => quoted(name),
        _ => quoted(head),
    }
}

/// `a` or `an` before a word.
fn with_article(word: &str) -> String {
    let vowel = word.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {word}", if vowel { "an" } else { "a" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_stand_in_order_and_once() {
        let names: Vec<_> = ALL.iter().map(|rule| rule.name).collect();
        assert!(names.is_sorted_by(|one, two| one < two));
    }

    #[test]
    fn what_an_author_wrote_is_shown_on_one_line() {
        assert_eq!(quoted("  two words \n"), "`two words`");
        assert_eq!(quoted("one\ntwo"), "`one…`");
        assert_eq!(quoted(&"é".repeat(50)), format!("`{}…`", "é".repeat(40)));
        assert_eq!(quoted_head("formula quay-loaf \"Quay Loaf\""), "`formula quay-loaf`");
        assert_eq!(with_article("ingredient"), "an ingredient");
    }
}
