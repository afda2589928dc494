//! Where the ingredients of a mix come from.

use super::Origin;
use crate::formula::class::Class;
use crate::formula::composition::{Composition, CultureId, IngredientId, Substance};
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::line_ref::LineRef;
use crate::formula::masses::sum_of;
use crate::formula::mixes::main_mix;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::term::Term;
use crate::formula::worked::{Within, WorkedLine, WorkedPiece};
use crate::quantity::Exact;
use crate::syntax::tree::{Counting, Mix};

/// Some ingredients, and the word for them.
pub(in crate::formula) struct IngredientQuery<'q> {
    /// What they are called together: `water`.
    pub word: Subject,
    /// Whether an ingredient is one of them.
    pub is_it: &'q dyn Fn(IngredientId) -> bool,
}

impl IngredientQuery<'_> {
    /// Grams of them in a content.
    pub(in crate::formula) fn mass_in(&self, content: &Composition) -> Exact {
        sum_of(content, |id| (self.is_it)(id).then_some(Exact::ONE))
    }
}

impl Origin<'_, '_> {
    /// All of a class that is in a mix.
    pub(in crate::formula) fn class(&self, class: Class, within: Within) -> Reason {
        let is_it = |id: IngredientId| self.class_of(id) == class;
        let mut parts = self
            .parts(&IngredientQuery { word: Subject::named(class.word()), is_it: &is_it }, within);
        if class == Class::Culture {
            parts.extend(self.cultures_left_whole(within));
        }
        Reason::sum_of(self.word_in(Subject::named(class.word()), within), parts)
    }

    /// The class that an ingredient counts as in this formula.
    pub(in crate::formula) fn class_of(&self, id: IngredientId) -> Class {
        self.worked.class_of(id)
    }

    /// So many grams of an ingredient in a mix.
    pub(in crate::formula) fn ingredient(
        &self,
        id: IngredientId,
        mass: Exact,
        within: Within,
    ) -> Reason {
        let name = self.house.ingredient(id).name.shown.as_str();
        let name = Subject::named(name);
        let own = self.all_of(id, name.clone(), name.clone(), within);
        let why = match within {
            Within::Pieces => Ground::OnOnePiece,
            _ => Ground::WithWhatCulturesHold,
        };
        match own.amount == mass {
            true => own,
            false => Reason::given(name, mass, ValueKind::Mass, why),
        }
    }

    /// All of an ingredient that is in a mix; `word` is what the parts call it.
    pub(in crate::formula) fn all_of(
        &self,
        id: IngredientId,
        word: Subject,
        what: Subject,
        within: Within,
    ) -> Reason {
        let is_it = |own: IngredientId| own == id;
        Reason::sum_of(what, self.parts(&IngredientQuery { word, is_it: &is_it }, within))
    }

    /// `water`, `water in levain`.
    pub(in crate::formula) fn word_in(&self, word: Subject, within: Within) -> Subject {
        match within {
            Within::Stage(stage) => word.inside(&self.worked.formula.stages[stage].name.shown),
            Within::Pieces => Subject::BesideDough(Box::new(word)),
            Within::SideMix(side_mix) => word.inside(&self.worked.side_mixes[side_mix].shown),
            Within::All | Within::FinalDough => word,
        }
    }

    /// Cultures that are listed as they are and not split.
    fn cultures_left_whole(&self, within: Within) -> Vec<Reason> {
        let content = self.worked.content(self.numbers, within);
        let whole = content.iter().filter_map(|(substance, mass)| match substance {
            Substance::Whole(id) => {
                let name = &self.house.culture(id).name.shown;
                Some(Reason::given(name, mass.clone(), ValueKind::Mass, Ground::NotSplit))
            }
            _ => None,
        });
        whole.collect()
    }

    /// What brings some ingredients into a mix; the parts add up to what is in it.
    pub(in crate::formula) fn parts(
        &self,
        wanted: &IngredientQuery,
        within: Within,
    ) -> Vec<Reason> {
        let (numbers, formula) = (self.numbers, &self.worked.formula);
        match within {
            Within::Stage(stage) => self.in_stage(wanted, stage),
            Within::Pieces => numbers
                .pieces
                .iter()
                .flat_map(|piece| self.on_pieces(wanted, piece, false))
                .collect(),
            Within::SideMix(_) => {
                let content = self.worked.content(numbers, within);
                let mass = wanted.mass_in(&content);
                vec![Reason::given(&wanted.word, mass, ValueKind::Mass, Ground::PartOfTheMixture)]
            }
            Within::All | Within::FinalDough if formula.total.is_some() => {
                // In total form stages and cultures only take from what is listed.
                let lines = numbers.total_lines.iter().filter(|line| {
                    matches!(line.goes, LineRef::Ingredient(_) | LineRef::SideMix(_))
                });
                let total = formula.total.as_ref();
                let mut parts: Vec<Reason> = lines
                    .filter_map(|line| self.brought(wanted, line, total, Within::All))
                    .collect();
                parts.extend(self.unlisted(wanted));
                parts
            }
            Within::All | Within::FinalDough if formula.dough.is_some() => {
                let lines = numbers.dough_lines.iter();
                let mix = main_mix(formula);
                lines.filter_map(|line| self.brought(wanted, line, mix, Within::All)).collect()
            }
            Within::All | Within::FinalDough => numbers
                .pieces
                .iter()
                .flat_map(|piece| self.on_pieces(wanted, piece, true))
                .collect(),
        }
    }

    /// Flour that a culture brings and that is on no line of the total.
    pub(in crate::formula) fn unlisted(&self, wanted: &IngredientQuery) -> Vec<Reason> {
        let unlisted = self.numbers.unlisted.iter();
        let parts = unlisted.filter_map(|(substance, mass)| {
            let Substance::Ingredient(id) = substance else { return None };
            let what = Subject::OnlyByCulture(self.house.ingredient(id).name.shown.clone());
            let why = Ground::OnNoLineOfTheTotal;
            (wanted.is_it)(id).then(|| Reason::given(what, mass.clone(), ValueKind::Mass, why))
        });
        parts.collect()
    }

    /// What a kind of piece carries, all of that kind together; of a bread that is made of
    /// other formulas only, those formulas.
    fn on_pieces(
        &self,
        wanted: &IngredientQuery,
        piece: &WorkedPiece,
        formulas: bool,
    ) -> Vec<Reason> {
        let mut parts = Vec::new();
        for line in &piece.lines {
            let is_formula = match line.goes {
                LineRef::SideMix(side_mix) => self.worked.side_mixes[side_mix].is_formula,
                _ => false,
            };
            if formulas && !is_formula {
                continue;
            }
            let Some(one) = self.brought(wanted, line, None, Within::Pieces) else { continue };
            let count = self.count(piece);
            let what = Subject::from(&line.name).on(&piece.made.kind);
            parts.push(Reason::product_of(what, ValueKind::Mass, vec![one, count]));
        }
        parts
    }

    /// What a line brings of some ingredients; none where it brings nothing of them.
    fn brought(
        &self,
        wanted: &IngredientQuery,
        line: &WorkedLine,
        mix: Option<&Mix>,
        within: Within,
    ) -> Option<Reason> {
        let declared = line.line.and_then(|index| mix?.lines.get(index));
        let share = |inside: &dyn Fn(Subject) -> Subject, content: &Composition, words: How| {
            let share = wanted.mass_in(content);
            let what = inside(wanted.word.clone());
            (!share.is_zero()).then(|| Reason::new(what, share, ValueKind::Share, words))
        };
        let part = match line.goes {
            LineRef::Ingredient(id) => {
                return (wanted.is_it)(id).then(|| self.line(line, mix, within));
            }
            LineRef::Stage(stage) => return self.by_stage(wanted, line, mix, within, stage),
            LineRef::Culture(id) => {
                if declared.is_some_and(|line| matches!(line.counting, Counting::NotSplit)) {
                    return None;
                }
                let culture = self.house.culture(id);
                let share = share(
                    &|word| word.inside(&culture.name.shown),
                    &culture.per_gram,
                    How::Written,
                )?;
                share.at(culture.name.span)
            }
            LineRef::OldDough => {
                let per_gram = self.numbers.whole.per_gram()?;
                share(
                    &|word| Subject::InFinishedDough(Box::new(word)),
                    &per_gram,
                    How::Because(Ground::FromTheFinishedDough),
                )?
            }
            LineRef::SideMix(side_mix) => {
                let side_mix = &self.worked.side_mixes[side_mix];
                let how = How::Because(Ground::PartOfTheMixture);
                share(&|word| word.inside(&side_mix.shown), &side_mix.per_gram, how)?
            }
            LineRef::Nothing => return None,
        };
        let own = self.line(line, mix, within);
        Some(Reason::product_of(Subject::By(line.name.clone()), ValueKind::Mass, vec![own, part]))
    }

    /// What a line that takes a stage brings.
    fn by_stage(
        &self,
        wanted: &IngredientQuery,
        line: &WorkedLine,
        mix: Option<&Mix>,
        within: Within,
        stage: usize,
    ) -> Option<Reason> {
        let goes_on = self.numbers.stages[stage].goes_on.mass();
        let all = self.going_on(wanted, stage);
        if goes_on.is_zero() || all.amount.is_zero() || line.mass.is_zero() {
            return None;
        }
        let own = self.line(line, mix, within);
        self.part_of_stage(line, stage, all, own)
    }

    /// What a line brings of `all` that goes on in a stage; `own` is the line itself. None
    /// where nothing goes on.
    pub(in crate::formula) fn part_of_stage<T: Term>(
        &self,
        line: &WorkedLine,
        stage: usize,
        all: T,
        own: T,
    ) -> Option<T> {
        let goes_on = self.numbers.stages[stage].goes_on.mass();
        if goes_on.is_zero() {
            return None;
        }
        let what = || Subject::By(line.name.clone());
        if line.mass == goes_on {
            return Some(all.called(what));
        }
        let whole = T::known(goes_on, |goes_on| {
            let name = Subject::AllOfRipe(line.name.clone());
            let why = Ground::LinesLessWhatIsTakenOut;
            Reason::given(name, goes_on, ValueKind::Mass, why)
        });
        let part = T::ratio(|| Topic::ItsPart.into(), own, whole)?;
        Some(T::product(what, ValueKind::Mass, [all, part]))
    }

    /// What of some ingredients goes on from a stage: what is in it, less what is kept back
    /// or saved.
    pub(in crate::formula) fn going_on(&self, wanted: &IngredientQuery, stage: usize) -> Reason {
        let numbers = self.numbers;
        let name = &self.worked.formula.stages[stage].name.shown;
        let what = Subject::InRipe(Box::new(wanted.word.clone()), name.clone());
        let within = Within::Stage(stage);
        let mass = wanted.mass_in(&self.worked.content(numbers, within));
        let seeds = self.worked.seeds_kept(numbers, stage);
        let in_seed = |(culture, mass): &(CultureId, Exact)| {
            wanted.mass_in(&self.house.culture(*culture).per_gram) * mass
        };
        let kept = seeds.iter().map(in_seed).fold(Exact::ZERO, |sum, mass| sum + mass);
        let worked = &numbers.stages[stage];
        let ripe = worked.goes_on.mass() + &worked.saved;
        let left = &mass - &kept;
        let saved = (&left * &worked.saved).over(&ripe).unwrap_or_default();
        if self.is_told(stage, &wanted.word) {
            return Reason::told(what, left - saved);
        }
        let mut parts = self.in_stage(wanted, stage);
        if !kept.is_zero() {
            parts.push(Reason::given(
                Topic::KeptBack,
                -kept,
                ValueKind::Mass,
                Ground::AsMuchAsTheSeed,
            ));
        }
        if !saved.is_zero() {
            parts.push(Reason::given(
                Topic::Saved,
                -saved,
                ValueKind::Mass,
                Ground::ForTheNextTime,
            ));
        }
        Reason::sum_of(what, parts)
    }

    /// What brings some ingredients into a stage.
    fn in_stage(&self, wanted: &IngredientQuery, stage: usize) -> Vec<Reason> {
        let numbers = self.numbers;
        let (declared, worked) = (&self.worked.formula.stages[stage], &numbers.stages[stage]);
        let within = Within::Stage(stage);
        // In the last feed the one before stands in the place of the culture.
        let fed = worked.feeds > 1;
        let lines = worked.lines.iter().filter(|line| {
            let written = line.line.and_then(|index| declared.mix.lines.get(index));
            let own = |counting: &Counting| match counting {
                Counting::KeptBack { from: None } => true,
                Counting::KeptBack { from: Some(from) } => from.key == declared.name.key,
                _ => false,
            };
            let stays = written.is_some_and(|line| own(&line.counting));
            !fed || stays || !matches!(line.goes, LineRef::Culture(_))
        });
        let mut parts: Vec<Reason> = lines
            .filter_map(|line| self.brought(wanted, line, Some(&declared.mix), within))
            .collect();
        let known = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let left = wanted.mass_in(&self.worked.content(numbers, within)) - known;
        if !left.is_zero() {
            let (what, why) = match (fed, left < Exact::ZERO) {
                (true, _) => (Topic::ByEarlierFeeds, Ground::LeftByEarlierFeeds),
                (false, true) => (Topic::BoilsAway, Ground::WaterLost),
                (false, false) => (Topic::WhatElse, Ground::OnNoLine),
            };
            parts.push(Reason::given(what, left, ValueKind::Mass, why));
        }
        parts
    }
}
