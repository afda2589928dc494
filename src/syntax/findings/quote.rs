//! How a finding shows what an author wrote, and what was meant.

use crate::diag::Finding;
use crate::source::{Span, is_unseen};

/// The author's words in backticks, on one line and no longer than a line. A letter that
/// nobody sees is named: `U+00AD`; nothing at all is shown as an empty text.
pub(in crate::syntax) fn quoted(written: &str) -> String {
    const LONGEST: usize = 40;
    if written.trim().is_empty() {
        return "`\"\"`".to_owned();
    }
    let line = written.trim().lines().next().unwrap_or("").trim_end();
    let short: String = line.chars().take(LONGEST).collect();
    let is_cut = short.len() < written.trim().len();
    let mut seen = String::new();
    for letter in short.trim_end().chars() {
        match is_unseen(letter) {
            true => seen.push_str(&format!("U+{:04X}", u32::from(letter))),
            false => seen.push(letter),
        }
    }
    format!("`{seen}{}`", if is_cut { "…" } else { "" })
}

/// The head of a block in backticks, without its title; a brace alone has none.
pub(in crate::syntax) fn quoted_head(head: &str) -> String {
    match head.split_once('"') {
        _ if head.trim().is_empty() => "this block".to_owned(),
        Some((name, _)) if !name.trim().is_empty() => quoted(name),
        _ => quoted(head),
    }
}

/// `a` or `an` before a word.
pub(in crate::syntax) fn with_article(word: &str) -> String {
    let vowel = word.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {word}", if vowel { "an" } else { "a" })
}

/// Words as a text in quotes.
pub(in crate::syntax) fn in_quotes(words: &str) -> String {
    format!("\"{words}\"")
}

/// Adds the word that was most likely meant.
pub(in crate::syntax) fn meant(finding: Finding, span: Span, near: &str) -> Finding {
    finding.help(format!("did you mean `{near}`?")).repair(span, near, false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_an_author_wrote_is_shown_on_one_line() {
        assert_eq!(quoted("  two words \n"), "`two words`");
        assert_eq!(quoted("one\ntwo"), "`one…`");
        assert_eq!(quoted(" \u{85} "), "`\"\"`");
        assert_eq!(quoted("a\u{ad}b \u{1b}"), "`aU+00ADb U+001B`");
        assert_eq!(quoted(&"é".repeat(50)), format!("`{}…`", "é".repeat(40)));
        assert_eq!(quoted_head("formula quay-loaf \"Quay Loaf\""), "`formula quay-loaf`");
        assert_eq!(quoted_head(""), "this block");
        assert_eq!(with_article("ingredient"), "an ingredient");
    }
}
