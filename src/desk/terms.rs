//! What a glossary knows of the trade.

use super::reference::{NameKind, Reference};
use super::rules::rules;
use crate::print::booklet::Terms;
use crate::print::wording::{Wording, language_of};

/// What `glossary` knows of the trade: in English the first sentence of each page, in other
/// languages what their catalogues say.
pub fn terms(words: &Wording) -> Terms {
    let is_english = language_of(&words.tag) == "en";
    let reference = Reference::built_in(rules());
    let kinds = [NameKind::Figure, NameKind::Verb];
    let of_kinds = kinds.into_iter().flat_map(|kind| reference.of_kind(kind));
    let stages = ["preferment", "build", "soaker", "scald"];
    let blocks = reference.of_kind(NameKind::Block).filter(|it| stages.contains(&it.key.as_str()));
    let all = of_kinds.chain(blocks);
    // What preferments are called in a house.
    let called = CALLED.iter().filter_map(|key| {
        let said = words.name("gloss", key)?;
        let (word, text) = said.split_once('|')?;
        Some(((*key).to_owned(), word.to_owned(), text.to_owned()))
    });
    let known = all.filter_map(|entry| {
        let key = entry.page.name.clone();
        // Another word for a figure tells nothing.
        if is_english && entry.page.line.starts_with("The same as") {
            return None;
        }
        if is_english {
            return Some((key.clone(), key, entry.page.line.replace('`', "")));
        }
        let said = words.name("gloss", &key)?;
        let (word, text) = said.split_once('|')?;
        Some((key, word.to_owned(), text.to_owned()))
    });
    known.chain(called).collect()
}

/// Names of preferments that a glossary knows.
const CALLED: [&str; 4] = ["levain", "poolish", "biga", "sponge"];
