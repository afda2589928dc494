//! What has been said already in a block or a phase, where once is enough.

use super::Reader;
use super::statements::Statement;
use crate::source::Span;
use crate::syntax::findings::{declared_twice, said_twice};
use crate::syntax::tree::Name;
use ecow::EcoString;
use std::collections::HashMap;
use std::collections::hash_map::Entry;

/// The words that were said, each with its first place. They come from a fixed set, so
/// the list stays short however long a file is.
#[derive(Default)]
pub struct SeenClauses {
    words: Vec<(&'static str, Span)>,
    /// What has a name of its own, by kind and name.
    named: HashMap<(&'static str, EcoString), Span>,
}

impl SeenClauses {
    /// Where the word was said before; remembers it where it was not.
    pub fn before(&mut self, word: &'static str, span: Span) -> Option<Span> {
        let first = self.words.iter().find(|(known, _)| *known == word).map(|(_, span)| *span);
        if first.is_none() {
            self.words.push((word, span));
        }
        first
    }

    /// Where the same kind of thing of the same name stands already; remembers it where
    /// there is none.
    fn named_before(&mut self, kind: &'static str, name: &Name) -> Option<Span> {
        match self.named.entry((kind, name.key.clone())) {
            Entry::Occupied(first) => Some(*first.get()),
            Entry::Vacant(place) => {
                place.insert(name.span);
                None
            }
        }
    }

    /// Forgets all that was said.
    pub fn clear(&mut self) {
        self.words.clear();
    }
}

impl<'a> Reader<'a> {
    /// Whether a statement or clause is said for the first time; if not, a finding.
    pub fn first_time(&mut self, said: &mut SeenClauses, word: &'static str, span: Span) -> bool {
        let first = said.before(word, span);
        if let Some(first) = first {
            self.fail(said_twice::finding(span, word, first));
        }
        first.is_none()
    }

    /// Whether a block is declared for the first time; if not, a finding.
    pub fn first_block(
        &mut self,
        said: &mut SeenClauses,
        word: &'static str,
        statement: &Statement<'a>,
    ) -> bool {
        let first = said.before(word, statement.span);
        if let Some(first) = first {
            self.fail(declared_twice::block(statement.span, word, first));
        }
        first.is_none()
    }

    /// Whether nothing of this kind and name stands beside it yet; if it does, a finding.
    pub fn first_of_name(
        &mut self,
        said: &mut SeenClauses,
        kind: &'static str,
        name: &Name,
    ) -> bool {
        let first = said.named_before(kind, name);
        if let Some(first) = first {
            self.fail(declared_twice::name(name.span, &name.shown, first));
        }
        first.is_none()
    }

    /// Whether the value of this name is said for the first time; if not, a finding.
    pub fn first_value(&mut self, said: &mut SeenClauses, name: &Name) -> bool {
        let first = said.named_before("", name);
        if let Some(first) = first {
            self.fail(said_twice::finding(name.span, &name.shown, first));
        }
        first.is_none()
    }
}
