//! Page numbers that an author typed beside the name of a formula, `see Mole Loaf, page 30`:
//! only a book that is set knows whether they are right.

use crate::formula::title;
use crate::proof::Manuscript;
use crate::source::Span;
use crate::syntax::prose::{Passage, PassageKind, parts};
use crate::syntax::tree::Formula;

/// A page that an author typed beside a formula's name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedPage {
    /// Of the number.
    pub span: Span,
    /// The page that the author means.
    pub number: usize,
    /// The formula's place in the book.
    pub of: usize,
    /// What the formula is called.
    pub name: String,
}

/// What stands before the number of a page, in the five languages.
const PAGES: [&str; 11] =
    ["page", "pages", "p.", "pg.", "seite", "s.", "página", "pág.", "pagina", "pag.", "auf s."];

/// How many letters may lie between a name and its page: `Mole Loaf (see there), on page 30`.
const MAX_BETWEEN: usize = 16;

/// The typed pages of a manuscript; `formulas` are those of the book, in its order.
pub fn typed_pages<'f>(
    manuscript: &Manuscript,
    formulas: impl Iterator<Item = &'f Formula> + Clone,
) -> Vec<TypedPage> {
    let mut all = Vec::new();
    for part in parts(manuscript.text) {
        match part.kind {
            PassageKind::Heading(_, words) | PassageKind::Words(words) => {
                of_passage(manuscript, &words, formulas.clone(), &mut all);
            }
            PassageKind::Table(table) => {
                for cell in table.rows.iter().flatten() {
                    of_passage(manuscript, cell, formulas.clone(), &mut all);
                }
            }
            _ => {}
        }
    }
    all
}

fn of_passage<'f>(
    manuscript: &Manuscript,
    passage: &Passage,
    formulas: impl Iterator<Item = &'f Formula>,
    all: &mut Vec<TypedPage>,
) {
    let text = passage.text.to_lowercase();
    let is_page = |word: &&str| {
        text.match_indices(*word).any(|(at, _)| {
            let after = text[at + word.len()..].trim_start_matches([' ', '\u{a0}']);
            after.starts_with(|letter: char| letter.is_ascii_digit())
        })
    };
    // Where small letters take another room, no place can be told.
    if text.len() != passage.text.len() || !PAGES.iter().any(is_page) {
        return;
    }
    for (at, formula) in formulas.enumerate() {
        let names = [title(formula).to_lowercase(), formula.name.key.to_string()];
        for (place, name) in names.iter().flat_map(|name| text.match_indices(name.as_str())) {
            let is_word = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
            let end = place + name.len();
            let rest = &text[end..];
            if is_word(text[..place].chars().next_back()) || is_word(rest.chars().next()) {
                continue;
            }
            let Some((number, from, to)) = page_after(rest) else { continue };
            let span = manuscript.span(passage.place(end + from..end + to));
            let is_known = |it: &TypedPage| it.span == span;
            if !all.iter().any(is_known) {
                all.push(TypedPage { span, number, of: at, name: formula.name.shown.to_string() });
            }
        }
    }
}

/// The number of a page that stands soon after a name, in the same sentence, and its bytes.
fn page_after(rest: &str) -> Option<(usize, usize, usize)> {
    let near = rest.char_indices().nth(MAX_BETWEEN).map_or(rest, |(end, _)| &rest[..end]);
    let (at, word) = PAGES
        .iter()
        .filter_map(|word| {
            let at = near.find(word)?;
            let before = rest[..at].chars().next_back()?;
            (!before.is_alphanumeric()).then_some((at, *word))
        })
        .min_by_key(|(at, word)| (*at, usize::MAX - word.len()))?;
    if rest[..at].contains(['.', ';', ':', '!', '?']) {
        return None;
    }
    let after = rest[at + word.len()..].trim_start_matches([' ', '\u{a0}']);
    let from = rest.len() - after.len();
    let digits = after.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(after.len());
    let number = after[..digits].parse().ok()?;
    Some((number, from, from + digits))
}

#[cfg(test)]
mod tests {
    use super::page_after;

    #[test]
    fn a_page_stands_soon_after_a_name() {
        let number = |rest| page_after(rest).map(|(number, ..)| number);
        for (rest, wanted) in [
            (", page 30.", Some(30)),
            (" (p. 7)", Some(7)),
            (" on page\u{a0}112", Some(112)),
            (" auf Seite 9", None),
            (" auf seite 9", Some(9)),
            (", página 4", Some(4)),
            (". On page 30 we begin", None),
            (" has 30 pages", None),
            (" and the landing page", None),
            (" is what the rest of this chapter is about, page 30", None),
        ] {
            assert_eq!(number(rest), wanted, "{rest}");
        }
    }
}
