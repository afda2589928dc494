//! What a text says, however it is laid out: its tree without places, and what is found in it.

use super::super::read::{ReadText, read_text};
use crate::diag::{Finding, Level};
use crate::source::{SourceId, is_blank};
use std::cell::OnceCell;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Findings that a layout mends: numbers that nobody wrote are written, and a letter that
/// nobody sees is left out beside a blank.
const MENDED: &[&str] = &["read-as", "unseen-letter"];

/// What a text says, to be compared.
pub struct Said {
    /// The text as it was read.
    pub read: ReadText,
    /// By name and words: a name that reads otherwise is told otherwise.
    errors: Vec<(&'static str, String)>,
    /// The other findings, by name: they may show the author's words.
    others: Vec<&'static str>,
    /// One number for the tree without its places.
    meaning: OnceCell<u64>,
    /// The tree in words, where the numbers of two trees differ.
    in_words: OnceCell<String>,
}

impl Said {
    /// What a text says in which no merge is unsettled.
    pub fn of(source: SourceId, text: &str) -> Self {
        let read = read_text(source, text);
        let findings = &read.findings;
        let others = findings.iter().filter(|it| it.level != Level::Error).map(|it| it.rule.name);
        let mut others: Vec<&str> = others.filter(|name| !MENDED.contains(name)).collect();
        others.sort_unstable();
        let errors = errors(findings);
        Self { read, errors, others, meaning: OnceCell::new(), in_words: OnceCell::new() }
    }

    /// Whether our words for a text say the same.
    pub fn is_said_by(&self, ours: &Self) -> bool {
        self.errors == ours.errors
            && self.others == ours.others
            && (self.meaning() == ours.meaning() || is_same_tree(self.in_words(), ours.in_words()))
    }

    fn meaning(&self) -> u64 {
        *self.meaning.get_or_init(|| {
            let mut hasher = WithoutPlaces(DefaultHasher::new());
            self.read.tree.hash(&mut hasher);
            hasher.finish()
        })
    }

    fn in_words(&self) -> &str {
        self.in_words.get_or_init(|| without_places(&format!("{:?}", self.read.tree)))
    }
}

/// Takes in all of a tree but its places, which are written as one number of 128 bits
/// (`source::Span`) and are the only ones.
struct WithoutPlaces(DefaultHasher);

impl Hasher for WithoutPlaces {
    fn write(&mut self, bytes: &[u8]) {
        self.0.write(bytes);
    }

    fn write_u128(&mut self, _: u128) {}

    fn finish(&self) -> u64 {
        self.0.finish()
    }
}

/// Whether two trees are the same, but for the digits of a number that its author wrote as a
/// word or a fraction: `one`, `½`.
fn is_same_tree(author: &str, ours: &str) -> bool {
    const DIGITS: &str = "decimals: ";
    let (mut author, mut ours) = (author.split(DIGITS), ours.split(DIGITS));
    let past_digits = |part: &'_ str| part.find([',', ' ']).unwrap_or(part.len());
    loop {
        match (author.next(), ours.next()) {
            (None, None) => return true,
            (Some(one), Some(two)) if one == two => {}
            (Some(one), Some(two)) if one.starts_with("None") && two.starts_with("Some(") => {
                if one.get(past_digits(one)..) != two.get(past_digits(two)..) {
                    return false;
                }
            }
            _ => return false,
        }
    }
}

/// Whether the second of two texts says what the first one does: the tree without places, and
/// what is found.
#[cfg_attr(closed, allow(dead_code, reason = "tests hold the layout to it"))]
pub fn says_alike(source: SourceId, one: &str, two: &str) -> bool {
    Said::of(source, one).is_said_by(&Said::of(source, two))
}

/// The errors of a reading, by name and words.
pub fn errors(findings: &[Finding]) -> Vec<(&'static str, String)> {
    let errors = findings.iter().filter(|finding| finding.level == Level::Error);
    let mut told: Vec<(&str, String)> =
        errors.map(|it| (it.rule.name, it.message.split(is_blank).collect::<String>())).collect();
    told.sort_unstable();
    told
}

/// A tree as it is written for us, without its places.
fn without_places(tree: &str) -> String {
    let mut parts = tree.split("Span { ");
    let mut written = String::with_capacity(tree.len() / 2);
    written.push_str(parts.next().unwrap_or_default());
    for part in parts {
        written.push_str(part.split_once('}').map_or(part, |(_, behind)| behind));
    }
    // The ends of lines in a text are put into one form.
    written.replace("\\r\\n", "\\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_number_for_a_tree_is_that_of_its_words() {
        let text = "formula a \"A\" {\n  makes 2 loaves at 800 g\n  total {\n    bread flour 100%\n    \
            water 70.5%\n    salt 2%\n  }\n}\n";
        let source = SourceId(9);
        let one = Said::of(source, text);
        // Places alone change nothing; each letter of what is said does.
        let moved = Said::of(source, &text.replace("    ", " ").replace("{\n", "{\n\n"));
        assert_eq!(one.meaning(), moved.meaning());
        assert_eq!(one.in_words(), moved.in_words());
        for (at, letter) in text.char_indices().filter(|(_, it)| it.is_ascii_alphanumeric()) {
            let other = if letter.is_ascii_digit() { '3' } else { 'x' };
            let mut changed = text.to_owned();
            changed.replace_range(at..=at, &other.to_string());
            let changed = Said::of(source, &changed);
            assert_eq!(
                one.meaning() == changed.meaning(),
                one.in_words() == changed.in_words(),
                "{at}: {letter}"
            );
        }
    }
}
