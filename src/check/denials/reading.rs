//! A sentence in which something may be denied, with what could be and how.

use super::super::context::{PlainText, SaidAt};
use super::super::speech::{Food, PhraseFound, Sentence, Token, TokenKind, phrases_of};
use crate::formula::class::Class;
use crate::formula::{Absence, House, Ingredient, Mention};
use ecow::EcoString;
use rustc_hash::FxHashSet;
use std::ops::Range;
use std::sync::LazyLock;

/// A claim that something is not there, which words make it, and which are what is denied.
#[derive(Clone, Debug)]
pub struct Claim {
    /// The words that make it.
    pub words: Range<usize>,
    /// The words of what is denied.
    pub(super) about: Range<usize>,
    /// What is denied.
    pub denied: Denied,
    /// It counts only against what is known to be there: `with oil, not butter`.
    pub is_weak: bool,
}

impl Claim {
    /// A claim about the words that make it.
    pub(super) fn of(words: Range<usize>, denied: Denied) -> Self {
        Self { about: words.clone(), words, denied, is_weak: false }
    }
}

/// What is claimed to be absent.
#[derive(Clone, Debug)]
pub enum Denied {
    /// An allergen, or what a diet leaves out.
    Absence(Absence),
    /// Every allergen.
    AllAllergens,
    /// All allergens that these do not hold.
    OtherAllergens(Vec<Denied>),
    /// A food by its name.
    Food(Food),
    /// All of a class of ingredients: `nuts`, `fat`.
    Class(Class),
    /// Whatever holds alcohol.
    Alcohol,
    /// What is made before the dough, by the row that tells of it: `leaven`, `soaker`.
    Mix(&'static str),
    /// The same by a name of the formula's own.
    Named(EcoString),
    /// All that is none of these.
    AllElse(Vec<Food>),
}

/// What answers a word that stands alone, in any language: `Milk. None.`
pub(super) static ANSWERS: LazyLock<FxHashSet<String>> = LazyLock::new(|| {
    let mut all = phrases_of("answer");
    all.extend(phrases_of("reply"));
    all
});

/// What ends a list, where it is a sentence by itself: `Flour, water, salt. Full stop.`
pub(super) static CLOSERS: LazyLock<FxHashSet<String>> =
    LazyLock::new(|| phrases_of("nothing-else").into_iter().collect());

/// Whether words are nothing but an answer.
pub(super) fn is_answer(words: &[Token]) -> bool {
    let words: Vec<&str> = words.iter().map(|word| word.key.as_ref()).collect();
    ANSWERS.contains(&words.join(" "))
}

/// Whether a number is nothing.
pub(super) fn is_zero(token: &Token) -> bool {
    token.key.chars().all(|digit| matches!(digit, '0' | '.' | ','))
}

/// Something that could be denied.
pub(super) struct Subject {
    /// The first word.
    pub(super) from: usize,
    /// The first word after it.
    pub(super) to: usize,
    /// What it is.
    pub(super) what: Denied,
}

impl Subject {
    /// What somebody's health may depend on.
    pub(super) fn is_strict(&self) -> bool {
        !matches!(self.what, Denied::Food(_) | Denied::Class(_) | Denied::Mix(_) | Denied::Named(_))
    }

    /// What a bread is hardly made without, so that nobody claims it in passing.
    pub(super) fn is_staple(&self) -> bool {
        const STAPLES: [Class; 5] =
            [Class::Salt, Class::Water, Class::Yeast, Class::Leavener, Class::Flour];
        let names = ["salt", "water", "yeast", "flour"];
        match &self.what {
            Denied::Class(class) => STAPLES.contains(class),
            Denied::Mix(_) | Denied::Named(_) => true,
            Denied::Food(food) => names.iter().any(|name| food.says(name)),
            _ => false,
        }
    }
}

/// How something is denied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum DenialForm {
    /// `without milk`.
    Absent,
    /// `milk-free`.
    Free,
    /// `omitted`.
    LeftOut,
    /// `instead of milk`.
    Instead,
    /// `milk is not used`.
    NotUsed,
    /// `milk: none`, `0 % milk`.
    Told,
    /// `with oil, not butter`.
    Contrast,
    /// `everything but milk`.
    AllBut,
}

/// A denial of something, before it is asked whether it claims anything.
pub(super) struct Candidate {
    /// How it is denied.
    pub(super) form: DenialForm,
    /// The first word.
    pub(super) from: usize,
    /// The first word after it.
    pub(super) to: usize,
    /// Its place in the list of them.
    pub(super) subject: usize,
}

/// A stage of a formula, or all that goes on its pieces.
pub(super) struct DeniedOf<'a> {
    /// Its name; none of what goes on pieces.
    pub(super) name: Option<EcoString>,
    /// The row of mixes that tells of it: `leaven`.
    pub(super) kind: &'static str,
    /// What is in it.
    pub(super) holds: Vec<&'a Ingredient>,
    /// Whether all that is in it is among them.
    pub(super) is_known: bool,
}

/// A sentence, the text it stands in, and what it could deny.
pub(super) struct DenialReading<'a> {
    /// The house of the text.
    pub(super) house: &'a House<'a>,
    /// Its words.
    pub(super) sentence: &'a Sentence<'a>,
    /// The text it stands in.
    pub(super) said: &'a PlainText<'a>,
    /// The allergens that it names, in the order of their places.
    pub(super) mentions: &'a [Mention],
    /// What the formula makes before its dough.
    pub(super) mixes: &'a [EcoString],
    /// What is in its parts.
    pub(super) parts: &'a [DeniedOf<'a>],
    /// What could be denied.
    pub(super) subjects: Vec<Subject>,
    /// Phrases that only look like denials.
    pub(super) idioms: Vec<Range<usize>>,
}

impl<'a> DenialReading<'a> {
    /// Reads what a sentence could deny.
    pub(super) fn new(
        house: &'a House,
        sentence: &'a Sentence<'a>,
        said: &'a PlainText<'a>,
        mentions: &'a [Mention],
        (mixes, parts): (&'a [EcoString], &'a [DeniedOf<'a>]),
    ) -> Self {
        let idioms = sentence.all("word", "denial-idiom").map(|it| it.from..it.to).collect();
        let mut reading =
            Self { house, sentence, said, mentions, mixes, parts, subjects: Vec::new(), idioms };
        reading.subjects = reading.all_subjects();
        reading
    }

    /// The word at a place.
    pub(super) fn token(&self, at: usize) -> Option<&Token<'a>> {
        self.sentence.tokens.get(at)
    }

    /// Whether a phrase of a row begins at a word; where it ends.
    pub(super) fn is(&self, row: &str, at: usize) -> Option<usize> {
        self.sentence.word_at(row, at)
    }

    /// Whether a run of words has a phrase of a row.
    pub(super) fn has(&self, row: &str, within: &Range<usize>) -> bool {
        self.sentence.has(row, within)
    }

    /// What rows say, where it is no part of an idiom.
    pub(super) fn words(&self) -> impl Iterator<Item = &PhraseFound> {
        let all = self.sentence.found.iter().filter(|it| it.tag.kind == "word");
        all.filter(|it| !self.idioms.iter().any(|idiom| idiom.contains(&it.from)))
    }

    /// Whether a word ends a part: a comma, a stop, the end.
    pub(super) fn is_break(&self, at: usize) -> bool {
        self.token(at).is_none_or(|token| matches!(token.kind, TokenKind::Comma | TokenKind::Stop))
    }

    /// Whether a word is one of these.
    pub(super) fn is_mark(&self, at: usize, marks: &[&str]) -> bool {
        self.token(at).is_some_and(|token| marks.contains(&token.key.as_ref()))
    }

    /// The words around one, up to the next commas and other marks.
    pub(super) fn part(&self, at: usize) -> Range<usize> {
        let start = (0..at).rev().find(|&before| self.is_break(before)).map_or(0, |it| it + 1);
        let end = (at..).find(|&after| self.is_break(after)).unwrap_or(at);
        start..end
    }

    /// Whether the text belongs to what is done.
    pub(super) fn is_work(&self) -> bool {
        matches!(self.said.place, SaidAt::Step(_) | SaidAt::Stage | SaidAt::Line)
    }

    /// What begins at a word and could be denied.
    pub(super) fn subject_from(&self, at: usize) -> Option<usize> {
        self.subjects.iter().position(|subject| subject.from == at)
    }

    /// What ends before a word and could be denied.
    pub(super) fn subject_to(&self, at: usize) -> Option<usize> {
        self.subjects.iter().position(|subject| subject.to == at)
    }
}
