//! What a sentence could deny: allergens, diets, classes and foods by any name.

use super::super::speech::{Food, FoodMention, PhraseFound, TokenKind, food_at};
use super::joined::stem;
use super::reading::{DenialReading, Denied, Subject};
use crate::formula::class::Class;
use crate::formula::{Absence, Allergen, is_slip_of, key};
use std::ops::Range;

impl DenialReading<'_> {
    /// All that could be denied, in order.
    pub(super) fn all_subjects(&self) -> Vec<Subject> {
        let mut all: Vec<Subject> = Vec::new();
        let mut at = 0;
        while at < self.sentence.tokens.len() {
            match self.subject_at(at) {
                Some(subject) => {
                    at = subject.to;
                    all.push(subject);
                }
                None => at += 1,
            }
        }
        all
    }

    /// The longest name that begins at a word; of equally long ones the allergen's.
    pub(super) fn subject_at(&self, at: usize) -> Option<Subject> {
        self.token(at).filter(|token| token.kind == TokenKind::Word)?;
        let allergen = self.mention(at).map(|(to, one)| (to, Denied::Absence(one)));
        let group = self.group_at(at);
        let food = self.food_at(at).map(|food| (food.to, Denied::Food(food)));
        let mix = self.mix_at(at);
        let flour = self.flour_of_at(at);
        let all = [allergen, food, group, mix, flour].into_iter().flatten();
        // The first of equally long ones.
        let longest = all.rev().max_by_key(|(to, _)| *to).or_else(|| self.misspelt_at(at))?;
        Some(Subject { from: at, to: longest.0, what: longest.1 })
    }

    /// The cereal of `farine de blé`, `harina de trigo`: the flour of none is without it.
    fn flour_of_at(&self, at: usize) -> Option<(usize, Denied)> {
        if !["farine", "harina", "farina"].contains(&self.token(at)?.key.as_ref()) {
            return None;
        }
        let cereal = self.is("filler", at + 1)?;
        let (to, one) = self.mention(cereal)?;
        Some((to, Denied::Absence(one)))
    }

    /// An allergen that is misspelt before `free`: `diary free`.
    fn misspelt_at(&self, at: usize) -> Option<(usize, Denied)> {
        let (word, code) = (&self.token(at)?.key, self.sentence.language.code);
        // Some are read as what was meant already: `senza glutin`.
        let written = self.sentence.written(at, at + 1);
        if written.is_ascii()
            && !written.eq_ignore_ascii_case(word)
            && let Some(meant) = Absence::read(word)
        {
            return Some((at + 1, Denied::Absence(meant)));
        }
        self.is("free-suffix", at + 1)?;
        if self.sentence.says(word).next().is_some() {
            return None;
        }
        let names = Allergen::all().flat_map(Allergen::names);
        let mut meant = names.filter(|(tag, name)| *tag == code && is_slip_of(word, name));
        let (_, name) = meant.next()?;
        Some((at + 1, Denied::Absence(Absence::read(name)?)))
    }

    /// An allergen that begins at a word.
    pub(super) fn mention(&self, at: usize) -> Option<(usize, Absence)> {
        let start = self.token(at)?.start;
        let first = self.mentions.partition_point(|mention| mention.range.start < start);
        let mention = self.mentions.get(first).filter(|mention| mention.range.start == start)?;
        if !matches!(mention.absence, Absence::Allergen(_)) {
            return None;
        }
        let tokens = &self.sentence.tokens[at..];
        let after = tokens.iter().position(|token| token.start >= mention.range.end);
        Some((at + after.unwrap_or(tokens.len()), mention.absence))
    }

    /// `animal products`, `fat`, `additives`.
    pub(super) fn group_at(&self, at: usize) -> Option<(usize, Denied)> {
        let starting = self.sentence.found.iter().filter(|it| it.from == at);
        let read = |it: &PhraseFound| {
            let what = match (it.tag.kind, it.tag.word) {
                ("class", word) => Denied::Class(Class::read(word)?),
                ("sign", word) => Denied::Absence(Absence::read(word)?),
                ("word", "animal") => Denied::Absence(Absence::Vegan),
                ("word", "meat") => Denied::Absence(Absence::Vegetarian),
                ("word", "allergens") => Denied::AllAllergens,
                ("word", "alcohol") => Denied::Alcohol,
                _ => return None,
            };
            Some((it.to, what))
        };
        starting.filter_map(read).max_by_key(|(to, _)| *to)
    }

    /// The levain, a soaker, or a name that the formula gives one; not `levain bread`.
    fn mix_at(&self, at: usize) -> Option<(usize, Denied)> {
        let told = self.sentence.found.iter().filter(|it| it.from == at && it.tag.kind == "mix");
        let told = told.map(|it| (it.to, Denied::Mix(it.tag.word))).max_by_key(|(to, _)| *to);
        let named = self.mixes.iter().filter(|name| self.may_begin_with(at, name));
        let named = named.filter_map(|name| {
            let to = at + name.split([' ', '-']).count();
            let is_it = key(self.sentence.written(at, to)) == *name;
            is_it.then(|| (to, Denied::Named(name.clone())))
        });
        let (to, what) = named.chain(told).max_by_key(|(to, _)| *to)?;
        let is_other = ["not-food", "bread", "piece"].iter().any(|row| self.is(row, to).is_some());
        (!is_other).then_some((to, what))
    }

    /// Whether a name may begin at a word, by their first letters alone.
    fn may_begin_with(&self, at: usize, name: &str) -> bool {
        let text = self.sentence.text.as_bytes();
        let first = self.token(at).and_then(|token| text.get(token.start));
        let (Some(first), Some(wanted)) = (first, name.as_bytes().first()) else { return false };
        first.eq_ignore_ascii_case(wanted) || !first.is_ascii() || !wanted.is_ascii()
    }

    /// A food that begins at a word.
    pub(super) fn food_at(&self, at: usize) -> Option<Food> {
        let food = food_at(self.house, self.sentence, at)?;
        // `coconut milk` was left out on purpose, and so was `butter knife`.
        let word = self.sentence.written(at, food.to);
        let is_other = food.to == at + 1 && Absence::read(word).is_some();
        let is_thing = self.is("baked", at).is_some()
            || (self.is("not-food", food.to).is_some() && self.is("bread", food.to).is_none());
        let code = self.sentence.language.code;
        let is_joined = stem(&self.token(at)?.key, code).is_some();
        (!is_other && !is_thing && !is_joined && self.is_of_language(&food)).then_some(food)
    }

    /// The stores' own names are English.
    pub(super) fn is_of_language(&self, food: &Food) -> bool {
        let FoodMention::Ingredient(id) = food.what else { return true };
        let code = self.sentence.language.code;
        let called = key(self.sentence.written(food.from, food.to));
        code == "en"
            || !self.house.ingredient(id).built_in
            || self.house.ingredient_called(code, &called).is_some()
    }

    /// What some words name, allergens as a whole left aside.
    pub(super) fn named_in(&self, words: Range<usize>) -> Vec<&Subject> {
        let inside = |it: &&Subject| it.from >= words.start && it.to <= words.end;
        let named = self.subjects.iter().filter(inside);
        named.filter(|it| !matches!(it.what, Denied::AllAllergens)).collect()
    }
}
