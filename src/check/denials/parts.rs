//! Parts of a formula, and what is in each: `the glaze has no egg` is about the glaze.

use super::reading::{DenialReading, Denied, DeniedOf, Subject};
use crate::check::context::Context;
use crate::formula::{Absence, Judged, LineRef, WorkedLine};
use crate::syntax::tree::StageKind;

/// All parts of a formula.
pub(super) fn of<'a>(context: &'a Context) -> Vec<DeniedOf<'a>> {
    let numbers = context.first();
    let named = context.worked.formula.stages.iter().zip(&numbers.stages);
    let stages = named.map(|(stage, worked)| {
        let name = Some(stage.name.key.clone());
        DeniedOf { name, kind: kind_of(stage.kind), ..holding(context, worked.lines.iter()) }
    });
    let pieces = numbers.pieces.iter().flat_map(|piece| &piece.lines);
    let on_top = DeniedOf { kind: "component", ..holding(context, pieces) };
    stages.chain((!on_top.holds.is_empty()).then_some(on_top)).collect()
}

fn kind_of(kind: StageKind) -> &'static str {
    match kind {
        StageKind::Preferment | StageKind::Build => "leaven",
        StageKind::Soaker => "soaker",
        StageKind::Scald => "scald",
    }
}

fn holding<'a, 'l>(
    context: &'a Context,
    lines: impl Iterator<Item = &'l WorkedLine>,
) -> DeniedOf<'a> {
    let mut part = DeniedOf { name: None, kind: "", holds: Vec::new(), is_known: true };
    for line in lines {
        match line.goes {
            LineRef::Ingredient(id) => part.holds.push(context.house.ingredient(id)),
            // Cultures are of flour and water, which only claims about cereals ask for.
            LineRef::Culture(_) => {}
            _ => part.is_known = false,
        }
    }
    part
}

impl DenialReading<'_> {
    /// Whether a sentence begins with a part of the formula that is without what is denied,
    /// or with an ingredient that is: `the topping has no egg`, `only the glaze is vegan`.
    pub(super) fn is_of_clean_part(&self, subject: &Subject, from: usize) -> bool {
        let Denied::Absence(absence) = subject.what else { return false };
        self.is_of_clean_part_without(absence, from)
    }

    /// The same of an allergen or a diet.
    pub(super) fn is_of_clean_part_without(&self, absence: Absence, from: usize) -> bool {
        const MAX: usize = 7;
        let mut at = self.part(from).start;
        while let Some(after) = self.is("only", at).or_else(|| self.is("the", at)) {
            at = after;
        }
        if at >= from || from - at > MAX {
            return false;
        }
        let is_cereal = matches!(absence, Absence::Allergen(one) if one.wider().iter().any(|it| it.key() == "gluten"));
        let is_clean = |part: &&DeniedOf| {
            let mut holds = part.holds.iter();
            part.is_known && holds.all(|it| it.declared.judge(absence) == Judged::Without)
        };
        if let Some(ingredient) = self.ingredient_at(at).filter(|(to, _)| *to < from) {
            return self.house.ingredient(ingredient.1).declared.judge(absence) == Judged::Without;
        }
        let mut named = self.parts.iter().filter(|part| self.names_part(part, at));
        match named.next() {
            Some(part) => !is_cereal && is_clean(&part),
            // Of what is not made here nothing is claimed; `the sourdough` may be the bread.
            None => self.names_a_mix(at) && !self.is_mark(at, &["sourdough", "sauerteig"]),
        }
    }

    fn names_a_mix(&self, at: usize) -> bool {
        self.sentence.found.iter().any(|it| it.from == at && it.tag.kind == "mix")
    }

    fn ingredient_at(&self, at: usize) -> Option<(usize, crate::formula::IngredientId)> {
        let food = self.food_at(at)?;
        match food.what {
            super::super::speech::FoodMention::Ingredient(id) => Some((food.to, id)),
            _ => None,
        }
    }

    /// Whether a part is named at a word: by its own name, or by what it is.
    fn names_part(&self, part: &DeniedOf, at: usize) -> bool {
        let found = || self.sentence.found.iter().filter(|it| it.from == at);
        let by_kind = match part.kind {
            "component" => self.is("component", at).is_some(),
            "leaven" => found()
                .any(|it| it.tag.kind == "mix" && ["leaven", "preferment"].contains(&it.tag.word)),
            kind => found().any(|it| it.tag.kind == "mix" && it.tag.word == kind),
        };
        let by_name = || {
            let name = part.name.as_ref()?;
            let to = at + name.split([' ', '-']).count();
            (crate::formula::key(self.sentence.written(at, to)) == *name).then_some(())
        };
        by_kind || by_name().is_some()
    }
}
