//! What the words of a manuscript deny of the bread they are about: claims of absence, lists
//! of allergens, and foods named beside a claim.
//!
//! They are judged as the texts of a formula are, all passages about it together, since one
//! may contradict another. For that they are put after each other in a text of their own, and
//! the places that are found there are carried back to the manuscript.

use super::names::Names;
use crate::check::speech::{self, Token};
use crate::check::{self, Context, Place, Said};
use crate::diag::Finding;
use crate::source::{SourceId, Span};
use crate::syntax::prose::{Passage, Table};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The text that all passages about a formula are put into.
const JOINED: SourceId = SourceId(u32::MAX);

/// A passage, or a row of a table, with what of it is about one formula.
struct Read {
    /// The same bytes as the passage's, blanks where it is about another formula.
    text: String,
    passage: Passage,
    /// Of the part it is in.
    block: usize,
    place: Place<'static>,
}

/// Where words of a manuscript stand.
#[derive(Clone, Copy)]
pub struct Stands<'s> {
    /// The formulas that a sentence is about which names none, and says no `both` or `these`.
    pub about: &'s [usize],
    /// Those several.
    pub all: &'s [usize],
    /// The number of the part's block.
    pub block: usize,
    /// Whether it is a heading.
    pub is_heading: bool,
}

/// What is said of each formula.
#[derive(Default)]
pub struct Denied {
    by_formula: BTreeMap<usize, Vec<Read>>,
}

impl Denied {
    /// Keeps a passage for the formulas that its sentences are about.
    pub fn keep(&mut self, passage: &Passage, names: &Names, at: &Stands) {
        let tokens = speech::tokens(&passage.text);
        let parts: Vec<(usize, Vec<usize>)> = speech::whole_sentences(&tokens)
            .map(|words| (words.first().map_or(0, |it| it.start), about(words, names, at)))
            .collect();
        let mut all: Vec<usize> = parts.iter().flat_map(|(_, about)| about).copied().collect();
        all.sort_unstable();
        all.dedup();
        for formula in all {
            let mut text = String::with_capacity(passage.text.len());
            for (index, (start, about)) in parts.iter().enumerate() {
                let end = parts.get(index + 1).map_or(passage.text.len(), |(start, _)| *start);
                let start = if index == 0 { 0 } else { *start };
                let words = passage.text.get(start..end).unwrap_or_default();
                match about.contains(&formula) {
                    true => text.push_str(words),
                    false => text.extend(std::iter::repeat_n(' ', words.len())),
                }
            }
            let place = if at.is_heading { Place::Title } else { Place::Note };
            let read = Read { text, passage: passage.clone(), block: at.block, place };
            self.by_formula.entry(formula).or_default().push(read);
        }
    }

    /// Keeps the rows of a table: `Allergens | wheat`, and below a heading `Milk` the answers.
    pub fn keep_rows(&mut self, table: &Table, names: &Names, at: &Stands) {
        let head = table.rows.first().map_or(&[][..], Vec::as_slice);
        for (number, row) in table.rows.iter().enumerate() {
            let [first, rest @ ..] = row.as_slice() else { continue };
            let named = names.named(&speech::tokens(&first.text));
            let whole = names.formula(first.text.trim());
            let own: Vec<usize> = named.into_iter().chain(whole).collect();
            let own = if own.is_empty() { at.about } else { own.as_slice() };
            let at = Stands { about: own, all: own, ..*at };
            match rest {
                [second] => self.keep(&first.joined(": ", second), names, &at),
                _ if number == 0 => {}
                _ => {
                    for (heading, cell) in head.iter().skip(1).zip(rest) {
                        self.keep(&heading.joined(": ", cell), names, &at);
                    }
                }
            }
        }
    }

    /// What is wrong in what is said of each formula, with the blocks that it stands in.
    pub fn judge<'f, 'c: 'f, 't: 'f>(
        &self,
        source: SourceId,
        context_of: &dyn Fn(usize) -> Option<&'f Context<'c, 't>>,
    ) -> Vec<(Finding, Vec<usize>)> {
        let of_one = |(formula, read): (&usize, &Vec<Read>)| {
            let findings = context_of(*formula).map(|context| judge_one(context, source, read));
            findings.unwrap_or_default()
        };
        self.by_formula.iter().flat_map(of_one).collect()
    }
}

/// The formulas that a sentence is about.
fn about(words: &[Token], names: &Names, at: &Stands) -> Vec<usize> {
    /// Words for several, in five languages.
    const SEVERAL: [&str; 23] = [
        "both", "all", "each", "every", "these", "tous", "toutes", "deux", "ces", "chacun",
        "beide", "alle", "diese", "jedes", "ambos", "ambas", "todos", "todas", "estos", "entrambi",
        "tutti", "tutte", "questi",
    ];
    // A heading may name another bread, and is still over this one.
    let named = if at.is_heading { Vec::new() } else { names.named(words) };
    let is_of_several = || words.iter().any(|it| SEVERAL.contains(&it.key.as_ref()));
    match named.is_empty() {
        false => named,
        true if is_of_several() => at.all.to_vec(),
        true => at.about.to_vec(),
    }
}

fn judge_one(context: &Context, source: SourceId, read: &[Read]) -> Vec<(Finding, Vec<usize>)> {
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let mut starts = Vec::new();
    let mut end = 0;
    let said = read.iter().map(|read| {
        let start = end;
        starts.push(start);
        end += read.text.len();
        let span = Span::new(JOINED, byte(start), byte(end));
        Said { words: Cow::Borrowed(&read.text), span, place: read.place }
    });
    let said: Vec<Said> = said.collect();
    let found = check::check_prose(context, &said, JOINED).into_iter();
    let back = |mut finding: Finding| {
        let mut blocks = Vec::new();
        for label in finding.labels.iter_mut().filter(|it| it.span.source == JOINED) {
            let at = label.span.range();
            let index = starts.partition_point(|start| *start <= at.start).saturating_sub(1);
            let Some((read, start)) = read.get(index).zip(starts.get(index)) else { continue };
            let inside = at.start - start..(at.end - start).min(read.text.len());
            let place = read.passage.place(inside);
            label.span = Span::new(source, byte(place.start), byte(place.end));
            blocks.push(read.block);
        }
        (finding, blocks)
    };
    found.map(back).collect()
}
