//! What a kept starter is made of, from the lines of its statement.

use super::registry::House;
use crate::diag::Finding;
use crate::formula::class::Class;
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::ingredient_set::IngredientSet;
use crate::formula::meant::NamePlace;
use crate::quantity::{Dimension, Exact, Measures, Unit};
use crate::syntax::tree::{self, Amount, Base, Mix, Name};

impl House<'_> {
    /// All that the lines of a culture name, whatever their amounts.
    pub(super) fn culture_holds(&self, mix: &Mix) -> IngredientSet {
        let mut holds = IngredientSet::default();
        for line in &mix.lines {
            match self.ingredient_id(&line.target.name.key) {
                Some(id) => holds.add(id),
                None => holds.add_nameless(&line.target.name.shown),
            }
        }
        holds
    }

    /// Whether a line of a culture names what nobody knows.
    pub(super) fn names_the_unknown(&self, mix: &Mix) -> bool {
        mix.lines.iter().any(|line| self.ingredient_id(&line.target.name.key).is_none())
    }

    /// A culture is written in per cent of its flour, in parts or in weights; the
    /// proportions are the same.
    pub(super) fn culture_content(
        &self,
        name: &Name,
        mix: &Mix,
        findings: &mut Vec<Finding>,
    ) -> Composition {
        let mut content = Composition::default();
        let mut counted_in: Option<Dimension> = None;
        let is_flour = |line: &&tree::Line| {
            let ingredient = self.ingredient_named(&line.target.name.key);
            ingredient.is_some_and(|ingredient| ingredient.class == Class::Flour)
        };
        let flours: Vec<&tree::Line> = mix.lines.iter().filter(is_flour).collect();
        for line in &mix.lines {
            let Some(id) = self.ingredient_id(&line.target.name.key) else {
                let name = &line.target.name;
                findings.push(self.unknown(name, &NamePlace::default()));
                continue;
            };
            let rest = matches!(line.amount, Amount::Rest).then(|| rest_of_flour(&flours));
            let written = match &line.amount {
                Amount::Measured { range, base } if !range.ranged => {
                    range.low.as_ref().map(|quantity| (quantity, base.as_deref()))
                }
                _ => None,
            };
            let Some((quantity, base)) = written else {
                match rest.flatten() {
                    Some(share) => content.add(Substance::Ingredient(id), share),
                    None => findings.push(say::not_an_amount::in_a_culture(line)),
                }
                continue;
            };
            let number = quantity.unit.to_base(&quantity.number, self.settings.measures);
            let density = self.ingredient(id).grams_per_ml.as_ref();
            // Weights stand beside spoons, but not beside per cent or parts.
            let counts_in = match quantity.unit.dimension() {
                Dimension::Volume => Dimension::Mass,
                other => other,
            };
            if *counted_in.get_or_insert(counts_in) != counts_in {
                findings.push(say::composition_depends_on_size::hangs_on_size(name));
                return Composition::default();
            }
            let mass = match (quantity.unit.dimension(), base) {
                (Dimension::Mass | Dimension::Part, None) => number,
                (Dimension::Share, None | Some(Base::Flour)) => number,
                (Dimension::Volume, None) => match density {
                    Some(density) => number * density,
                    None => {
                        findings.push(say::no_density::finding(&line.target, quantity));
                        continue;
                    }
                },
                (Dimension::Count, _) => {
                    findings.push(say::no_each_weight::uncounted(&line.target, quantity));
                    continue;
                }
                _ => {
                    findings.push(say::not_an_amount::finding(&line.target, quantity));
                    continue;
                }
            };
            content.add(Substance::Ingredient(id), mass);
        }
        if mix.lines.is_empty() {
            findings.push(say::empty_mix::empty(name));
        }
        content.per_gram().unwrap_or_default()
    }
}

/// What the flours of a culture lack to 100 %, where exactly one of them is `the rest` and
/// the others are shares.
fn rest_of_flour(flours: &[&tree::Line]) -> Option<Exact> {
    let mut rest = Exact::ONE;
    let mut open = 0;
    for line in flours {
        match &line.amount {
            Amount::Rest => open += 1,
            Amount::Measured { range, base: None } => {
                let share = range.low.as_ref().filter(|it| it.unit == Unit::Percent)?;
                rest -= share.unit.to_base(&share.number, Measures::default());
            }
            _ => return None,
        }
    }
    (open == 1 && rest > Exact::ZERO).then_some(rest)
}
