//! What a text says, however it is laid out: its tree without places, and what is found in it.

use super::super::read::read;
use crate::diag::{Finding, Level};
use crate::source::{SourceId, is_blank};

/// Findings that a layout mends: numbers that nobody wrote are written, and a letter that
/// nobody sees is left out beside a blank.
const MENDED: &[&str] = &["read-as", "unseen-letter"];

/// What a text says, to be compared.
pub struct Said {
    tree: String,
    /// By name and words: a name that reads otherwise is told otherwise.
    errors: Vec<(&'static str, String)>,
    /// The other findings, by name: they may show the author's words.
    others: Vec<&'static str>,
}

impl Said {
    /// Whether our words for a text say the same.
    pub fn is_said_by(&self, ours: &Self) -> bool {
        self.errors == ours.errors
            && self.others == ours.others
            && is_same_tree(&self.tree, &ours.tree)
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

/// What a text says.
pub fn said(source: SourceId, text: &str) -> Said {
    let (tree, findings) = read(source, text);
    let others = findings.iter().filter(|it| it.level != Level::Error).map(|it| it.rule.name);
    let mut others: Vec<&str> = others.filter(|name| !MENDED.contains(name)).collect();
    others.sort_unstable();
    Said { tree: without_places(&format!("{tree:?}")), errors: errors(&findings), others }
}

/// Whether the second of two texts says what the first one does: the tree without places, and
/// what is found.
#[cfg_attr(closed, allow(dead_code, reason = "tests hold the layout to it"))]
pub fn says_alike(source: SourceId, one: &str, two: &str) -> bool {
    said(source, one).is_said_by(&said(source, two))
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
