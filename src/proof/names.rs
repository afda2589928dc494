//! The names by which a manuscript speaks of formulas.

use super::manuscript::Manuscript;
use crate::check::speech::{self, Token};
use crate::formula::{key, title};
use rustc_hash::FxHashMap;

/// The titles and names of formulas, by their first word.
pub struct FormulaNames {
    by_first: FxHashMap<String, Vec<(Vec<String>, usize)>>,
    by_key: FxHashMap<String, usize>,
}

impl FormulaNames {
    /// Those of all formulas that a manuscript may be about.
    pub fn of(manuscript: &Manuscript) -> Self {
        let mut names = Self { by_first: FxHashMap::default(), by_key: FxHashMap::default() };
        for (at, formula) in manuscript.formulas.iter().enumerate() {
            names.by_key.insert(formula.name.key.to_string(), at);
            let title = key(&title(formula)).to_string();
            let words: Vec<String> =
                speech::tokens(&title).iter().map(|token| token.key.to_string()).collect();
            // A title of one word, such as `Barm`, is a word of the language too.
            if words.len() > 1
                && let Some(first) = words.first()
            {
                names.by_first.entry(first.clone()).or_default().push((words, at));
            }
            names.by_key.entry(title).or_insert(at);
        }
        names
    }

    /// The formulas that words name.
    pub fn named(&self, tokens: &[Token]) -> Vec<usize> {
        let mut all = Vec::new();
        for (at, token) in tokens.iter().enumerate() {
            for (words, formula) in self.by_first.get(token.key.as_ref()).into_iter().flatten() {
                let here = tokens.get(at..at + words.len()).unwrap_or_default();
                let is_it = here.len() == words.len()
                    && here.iter().zip(words).all(|(token, word)| token.key.as_ref() == word);
                if is_it && !all.contains(formula) {
                    all.push(*formula);
                }
            }
        }
        all
    }

    /// The formula of a name or a title.
    pub fn formula(&self, name: &str) -> Option<usize> {
        self.by_key.get(key(name).as_str()).copied()
    }
}
