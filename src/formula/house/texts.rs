//! Texts of the tree as plain words.

use crate::syntax::key_of;
use crate::syntax::tree::{self, NotedText};
use ecow::EcoString;

/// The words of a text that holds no figures.
pub fn plain(text: &tree::Text) -> String {
    let mut plain = String::new();
    for part in &text.parts {
        match part {
            tree::TextPart::Plain(words) => plain.push_str(words),
            tree::TextPart::Figure { words, .. } => {
                plain.push('[');
                plain.push_str(words);
                plain.push(']');
            }
        }
    }
    plain
}

/// The key of a name given on the command line.
pub fn key(name: &str) -> EcoString {
    key_of(name)
}

/// The words of one kind, in order.
pub fn words_of(words: &[NotedText], kind: tree::WordsKind) -> impl Iterator<Item = &tree::Text> {
    words.iter().filter(move |words| words.kind == kind).map(|words| &words.text)
}

/// All words but cautions, in order; the stores' own are about figures.
pub fn remarks_of(words: &[NotedText], built_in: bool) -> impl Iterator<Item = &NotedText> {
    words.iter().filter(move |words| !built_in && words.kind != tree::WordsKind::Caution)
}
