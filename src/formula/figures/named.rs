//! The weight of what the formula names itself: ingredients, stages, cultures, side mixes.

use super::Figures;
use crate::formula::composition::{IngredientId, Substance};
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::line_ref::LineRef;
use crate::formula::mixes::main_mix;
use crate::formula::reason::Reason;
use crate::formula::subject::Subject;
use crate::formula::term::Term;
use crate::formula::worked::{Within, WorkedLine};
use crate::syntax::tree::Mix;

/// A name that is asked for, and its role.
#[derive(Clone, Copy)]
struct NameQuery<'q> {
    key: &'q str,
    role: Option<&'q str>,
    /// The ingredient of that name.
    id: Option<IngredientId>,
}

impl NameQuery<'_> {
    /// Two names of one ingredient are the same.
    fn is(&self, line: &WorkedLine) -> bool {
        let same = line.key == self.key
            || matches!((line.goes, self.id), (LineRef::Ingredient(own), Some(id)) if own == id);
        let same_role =
            |role: &str| line.role.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(role));
        same && self.role.is_none_or(same_role)
    }
}

impl Figures<'_, '_> {
    /// The weight of the lines that bear a name, in a mix or in all of the dough; `what` is
    /// what its reason calls it. None where nothing of that name is there.
    pub(in crate::formula) fn named<T: Term>(
        &self,
        key: &str,
        role: Option<&str>,
        what: &Subject,
    ) -> Option<T> {
        let wanted = NameQuery { key, role, id: self.origin.house.ingredient_id(key) };
        let numbers = self.numbers();
        match self.within {
            Within::Stage(_) => {
                let (lines, mix) = self.own_lines()?;
                self.on_lines(wanted, lines, mix, what)
            }
            Within::FinalDough => {
                let (lines, mix) = self.own_lines()?;
                self.on_lines(wanted, lines, mix, what).or_else(|| {
                    // What the stages took whole is a line of zero, not an unknown name.
                    let is_there = numbers.total_lines.iter().any(|line| wanted.is(line));
                    is_there.then(|| T::sum(|| what.clone(), ValueKind::Mass, None))
                })
            }
            Within::Pieces => self.on_pieces(wanted, what),
            Within::SideMix(_) => {
                let mass = self.content().get(Substance::Ingredient(wanted.id?))?.clone();
                Some(T::known(mass, |mass| {
                    Reason::given(what, mass, ValueKind::Mass, Ground::PartOfTheMixture)
                }))
            }
            Within::All if role.is_some() => self.on_main_lines(wanted, what, false),
            Within::All => self.anywhere(wanted, what),
        }
    }

    fn on_lines<T: Term>(
        &self,
        wanted: NameQuery,
        lines: &[WorkedLine],
        mix: Option<&Mix>,
        what: &Subject,
    ) -> Option<T> {
        let mut found = lines.iter().filter(|line| wanted.is(line)).peekable();
        found.peek()?;
        Some(T::sum(|| what.clone(), ValueKind::Mass, found.map(|line| self.line(line, mix))))
    }

    /// On the lines of the total, else of the dough; in dough form `with_stages` adds those
    /// of the stages, in a total only what stands on none of its lines.
    fn on_main_lines<T: Term>(
        &self,
        wanted: NameQuery,
        what: &Subject,
        with_stages: bool,
    ) -> Option<T> {
        let (numbers, formula) = (self.numbers(), &self.worked().formula);
        let is_it = |line: &&WorkedLine| wanted.is(line);
        let is_total = !numbers.total_lines.is_empty();
        let main =
            match is_total && (with_stages || numbers.total_lines.iter().any(|it| is_it(&it))) {
                true => &numbers.total_lines,
                false => &numbers.dough_lines,
            };
        let on_main = main.iter().any(|line| is_it(&line));
        let mix = main_mix(formula);
        let own = main.iter().filter(is_it).map(|line| self.line(line, mix));
        let stages = formula.stages.iter().zip(&numbers.stages);
        let stages = stages.filter(|_| with_stages && !(is_total && on_main));
        let in_stages = stages.flat_map(|(declared, stage)| {
            let lines = stage.lines.iter().filter(is_it);
            lines.map(move |line| self.line(line, Some(&declared.mix)))
        });
        let mut all = own.chain(in_stages).peekable();
        all.peek()?;
        Some(T::sum(|| what.clone(), ValueKind::Mass, all))
    }

    /// In all of the dough: a stage, an ingredient, or the lines of any other name.
    fn anywhere<T: Term>(&self, wanted: NameQuery, what: &Subject) -> Option<T> {
        let (numbers, formula) = (self.numbers(), &self.worked().formula);
        if let Some(stage) = formula.stages.iter().position(|it| it.name.key == wanted.key) {
            let (into_dough, used) = (&numbers.stages[stage].into_dough, numbers.used(stage));
            let mass = match (into_dough.is_zero(), used.is_zero()) {
                (false, _) => into_dough.clone(),
                (true, false) => used,
                (true, true) => numbers.stages[stage].goes_on.mass(),
            };
            let reason = || Reason { what: what.clone(), ..self.origin.stage(stage) };
            return Some(T::known(mass, |_| reason()));
        }
        if let Some(id) = wanted.id
            && let Some(mass) = numbers.whole.get(Substance::Ingredient(id))
        {
            let all =
                || self.origin.all_of(id, Subject::named(wanted.key), what.clone(), self.within);
            return Some(T::known(mass.clone(), |_| all()));
        }
        self.on_main_lines(wanted, what, true)
    }

    /// On all pieces together.
    fn on_pieces<T: Term>(&self, wanted: NameQuery, what: &Subject) -> Option<T> {
        // An ingredient also where mixtures and formulas bring it, as a class is.
        if let (None, Some(id)) = (wanted.role, wanted.id)
            && let Some(mass) = self.content().get(Substance::Ingredient(id))
        {
            let all =
                || self.origin.all_of(id, Subject::named(wanted.key), what.clone(), self.within);
            return Some(T::known(mass.clone(), |_| all()));
        }
        let mut found = self.numbers().pieces.iter().flat_map(|piece| {
            piece.lines.iter().filter(|line| wanted.is(line)).map(move |line| {
                let parts = [self.line(line, None), self.count(piece)];
                T::product(
                    || Subject::from(&line.name).on(&piece.made.kind),
                    ValueKind::Mass,
                    parts,
                )
            })
        });
        let first = found.next()?;
        Some(T::sum(|| what.clone(), ValueKind::Mass, std::iter::once(first).chain(found)))
    }
}
