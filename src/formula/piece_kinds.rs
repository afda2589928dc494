//! Kinds of piece by their words: `roll` and `rolls` are one.
//!
//! What does not take an `s` stands in `stores/pieces.txt`, in five languages.

use crate::quantity::Exact;
use crate::syntax::key_of;
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

/// A word for one and the word for several, in a language.
struct Pair {
    language: &'static str,
    one: &'static str,
    many: &'static str,
}

/// All pairs, and by either word the places of those that hold it.
struct PairWords {
    pairs: Vec<Pair>,
    places: FxHashMap<EcoString, Vec<usize>>,
}

static WORDS: LazyLock<PairWords> = LazyLock::new(|| {
    let mut words = PairWords { pairs: Vec::new(), places: FxHashMap::default() };
    let mut language = "en";
    for line in include_str!("stores/pieces.txt").lines().filter(|line| !line.starts_with('#')) {
        let Some((one, many)) = line.split_once(" / ") else {
            language = if line.is_empty() { language } else { line };
            continue;
        };
        for word in [one, many] {
            let known = words.places.entry(key_of(word)).or_default();
            if known.last() != Some(&words.pairs.len()) {
                known.push(words.pairs.len());
            }
        }
        words.pairs.push(Pair { language, one, many });
    }
    words
});

impl PairWords {
    fn of(&self, word: &str) -> &[usize] {
        self.places.get(&key_of(word)).map_or(&[], Vec::as_slice)
    }

    /// Pairs that hold a word.
    fn pairs_of(&self, word: &str) -> impl Iterator<Item = &Pair> {
        self.of(word).iter().filter_map(|place| self.pairs.get(*place))
    }
}

/// Whether two words name one kind of piece, in the singular or the plural: `roll` and
/// `rolls`, `loaf` and `loaves`, `box` and `boxes`, `ciabatta` and `ciabatte`.
pub fn is_kind(one: &str, two: &str) -> bool {
    one == two || is_plural_of(one, two) || is_plural_of(two, one) || {
        let other = WORDS.of(two);
        !other.is_empty() && WORDS.of(one).iter().any(|place| other.contains(place))
    }
}

/// Every word that names the same kind of piece as a word does.
pub fn words_of_kind(word: &str) -> impl Iterator<Item = EcoString> {
    let with =
        |stem: Option<&str>, ending: &str| stem.map(|stem| (stem.to_owned() + ending).into());
    let regular = ENDINGS.iter().flat_map(move |(plural, singular)| {
        [with(word.strip_suffix(plural), singular), with(word.strip_suffix(singular), plural)]
    });
    let pairs = WORDS.pairs_of(word).flat_map(|pair| [pair.one, pair.many]).map(key_of);
    std::iter::once(word.into()).chain(regular.flatten()).chain(pairs)
}

/// How a word of many differs from the word of one.
const ENDINGS: [(&str, &str); 5] =
    [("s", ""), ("es", ""), ("ves", "f"), ("ves", "fe"), ("ies", "y")];

fn is_plural_of(many: &str, one: &str) -> bool {
    let fits = |(plural, singular): &(&str, &str)| {
        let stem = many.strip_suffix(plural);
        stem.is_some_and(|stem| one.strip_suffix(singular) == Some(stem))
    };
    ENDINGS.iter().any(fits)
}

/// The word for so many pieces of a kind, `1 loaf` and `2 loaves`, whichever was written, in a
/// house of a language. A word that is in no list and takes no `s` there stays as it is.
pub fn in_number(word: &str, count: &Exact, language: &str) -> EcoString {
    let language = language.split('-').next().unwrap_or(language);
    let is_one = count.is_one();
    if let Some(pair) = WORDS.pairs_of(word).find(|pair| pair.language == language) {
        return like(word, if is_one { pair.one } else { pair.many });
    }
    // A word that was taken over: `ciabatte` in a house that speaks English.
    let key = key_of(word);
    let is_many = |pair: &&Pair| pair.one != pair.many && key_of(pair.many) == key;
    if let Some(pair) = WORDS.pairs_of(word).find(is_many) {
        return if is_one { like(word, pair.one) } else { word.into() };
    }
    let takes_s = ["en", "fr", "es"].contains(&language);
    match (word.strip_suffix('s'), is_one) {
        (Some(one), true) if !one.ends_with('s') && !one.is_empty() => one.into(),
        (None, false) if takes_s => format!("{word}s").into(),
        _ => word.into(),
    }
}

/// A word with a capital or a small letter where another has one.
fn like(written: &str, word: &str) -> EcoString {
    let is_capital = written.chars().next().is_some_and(char::is_uppercase);
    let mut letters = word.chars();
    match letters.next() {
        Some(first) if is_capital => first.to_uppercase().chain(letters).collect(),
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => EcoString::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::int;

    #[test]
    fn a_kind_is_one_whatever_its_number() {
        for (one, two) in [
            ("roll", "rolls"),
            ("loaves", "loaf"),
            ("ciabatta", "ciabatte"),
            ("Brot", "Brote"),
            ("pane", "pani"),
            ("panes", "pan"),
            ("gâteaux", "gâteau"),
            ("torches", "torch"),
        ] {
            assert!(is_kind(&key_of(one), &key_of(two)), "{one} {two}");
        }
        for (one, two) in [("rolls", "loaves"), ("Brot", "Brötchen"), ("pan", "pani")] {
            assert!(!is_kind(&key_of(one), &key_of(two)), "{one} {two}");
        }
    }

    /// The words of a kind are those that are told to be of it.
    #[test]
    fn all_words_of_a_kind_are_found() {
        let regular = ["roll", "rolls", "torch", "torches", "knife", "knives", "scarf", "pastry"];
        let pairs = WORDS.pairs.iter().flat_map(|pair| [pair.one, pair.many]);
        let words: Vec<EcoString> = regular.into_iter().chain(pairs).map(key_of).collect();
        let mut same = 0;
        for word in &words {
            let of_kind: Vec<EcoString> = words_of_kind(word).collect();
            for other in &words {
                let is_same = is_kind(other, word);
                assert_eq!(of_kind.contains(other), is_same, "{other} {word}");
                same += usize::from(is_same);
            }
        }
        assert!(same > 2 * WORDS.pairs.len(), "{same}");
    }

    #[test]
    fn a_word_follows_its_count() {
        for (word, language, one, many) in [
            ("loaves", "en", "loaf", "loaves"),
            ("loaf", "en-GB", "loaf", "loaves"),
            ("Loaves", "en", "Loaf", "Loaves"),
            ("buns", "en", "bun", "buns"),
            ("bun", "en", "bun", "buns"),
            ("torches", "en", "torch", "torches"),
            ("brioches", "en", "brioche", "brioches"),
            ("pizza", "en", "pizza", "pizzas"),
            ("ciabatte", "en", "ciabatta", "ciabatte"),
            ("loaves", "de", "loaf", "loaves"),
            ("Brote", "de", "Brot", "Brote"),
            ("Brötchen", "de", "Brötchen", "Brötchen"),
            ("Semmel", "de", "Semmel", "Semmeln"),
            ("Kipfe", "de", "Kipfe", "Kipfe"),
            ("gâteau", "fr", "gâteau", "gâteaux"),
            ("couronne", "fr", "couronne", "couronnes"),
            ("panes", "es", "pan", "panes"),
            ("hogaza", "es", "hogaza", "hogazas"),
            ("pane", "it", "pane", "pani"),
            ("pizza", "it", "pizza", "pizze"),
            ("baguette", "it", "baguette", "baguette"),
        ] {
            assert_eq!(in_number(word, &int(1), language), one, "{word}");
            assert_eq!(in_number(word, &int(12), language), many, "{word}");
        }
    }
}
