//! The first words of names, to pass over other words quickly.

use ecow::EcoString;
use rustc_hash::FxHashMap;

/// The first words of names, each with how many words a name has at most that begins with it.
pub(super) fn first_words<'n>(
    names: impl Iterator<Item = &'n EcoString>,
) -> FxHashMap<EcoString, u8> {
    let mut all: FxHashMap<EcoString, u8> = FxHashMap::default();
    for name in names {
        let first = name.split([' ', '-']).next().unwrap_or_default();
        let most = words_at_most(name);
        match all.get_mut(first) {
            Some(known) => *known = most.max(*known),
            None => drop(all.insert(first.into(), most)),
        }
    }
    all
}

/// How many words a text may have in which a name is written, at most: its marks part words,
/// and so may a digit beside a letter.
fn words_at_most(name: &str) -> u8 {
    let mut before = ' ';
    let is_word = |letter: char| {
        let last = std::mem::replace(&mut before, letter);
        match letter.is_alphanumeric() {
            true => !last.is_alphanumeric() || letter.is_alphabetic() != last.is_alphabetic(),
            false => !matches!(letter, ' ' | '-' | '\''),
        }
    };
    u8::try_from(name.chars().map(is_word).filter(|it| *it).count()).unwrap_or(u8::MAX)
}
