//! Amounts as a kitchen without a scale measures them: spoons, cups, millilitres, eggs.
//!
//! Each comes from the exact weight, to the nearest that a kitchen has a measure for; what
//! is off by more than a twentieth is called scant or generous.

use super::context::PrintContext;
use crate::formula::Ingredient;
use crate::formula::class::Class;
use crate::quantity::display::{fraction, to_step};
use crate::quantity::{Exact, Measures, Unit, int, ratio};

/// An amount as a kitchen measures it.
struct Measured {
    /// What the words come to, in the unit that was asked for.
    worth: Exact,
    words: String,
}

impl PrintContext<'_, '_> {
    /// What a weight of an ingredient is in a kitchen, about: `≈ 1¾ cups`, `≈ scant ½ tsp`,
    /// `≈ 250 ml`; of eggs how many, `≈ × 2`.
    pub fn about(&self, ingredient: &Ingredient, grams: &Exact) -> Option<String> {
        let count = || ingredient.each.as_ref().and_then(|each| grams.over(each));
        let volume = || ingredient.grams_per_ml.as_ref().and_then(|dense| grams.over(dense));
        let of_count = || count().and_then(|number| self.about_so_many(&number));
        let of_volume = || volume().map(|millilitres| self.about_as_large(&millilitres));
        let amount = match ingredient.class {
            _ if grams.is_zero() => None,
            Class::Egg => of_count().or_else(of_volume),
            _ => of_volume().or_else(of_count),
        }?;
        Some(self.words.fill("approximately", &[("amount", &amount)]))
    }

    /// A count to the nearest quarter, from three on half, from ten on whole one; none where
    /// that is nothing.
    fn about_so_many(&self, number: &Exact) -> Option<String> {
        let step = match () {
            () if *number >= int(10) => int(1),
            () if *number >= int(3) => ratio(1, 2),
            () => ratio(1, 4),
        };
        let shown = to_step(number, &step);
        (!shown.is_zero()).then(|| self.measure(Unit::Count, &shown, &shown))
    }

    fn about_as_large(&self, millilitres: &Exact) -> String {
        let measures = self.house.settings.measures;
        let of = |unit: Unit| unit.count_in(millilitres, measures);
        match measures {
            Measures::Us if of(Unit::Cup) >= ratio(1, 4) => self.cups(&of(Unit::Cup)),
            Measures::Metric if *millilitres >= int(1000) => {
                format!(
                    "{} l",
                    self.trimmed(&to_step(&millilitres.one_in::<1000>(), &ratio(1, 10)), 1)
                )
            }
            Measures::Metric if *millilitres >= int(30) => {
                let step = if *millilitres >= int(200) { int(10) } else { int(5) };
                format!("{} ml", self.trimmed(&to_step(millilitres, &step), 0))
            }
            _ => self.spoons(&of(Unit::Teaspoon)),
        }
    }

    /// Teaspoons to a quarter of one, as tablespoons where they fill some; less than an
    /// eighth is a pinch.
    fn spoons(&self, teaspoons: &Exact) -> String {
        if *teaspoons < ratio(1, 8) {
            return self.words.say("pinch");
        }
        let worth = to_step(teaspoons, &ratio(1, 4)).max(ratio(1, 4));
        // A tablespoon is three teaspoons, by both measures.
        let tablespoons = worth.one_in::<3>();
        let words = if worth < int(3) {
            self.so_many(Unit::Teaspoon, &worth)
        } else if (&tablespoons * int(2)).is_int() {
            self.so_many(Unit::Tablespoon, &tablespoons)
        } else {
            let whole = tablespoons.floor();
            let rest = &worth - &whole * int(3);
            self.added(Unit::Tablespoon, &whole, Unit::Teaspoon, &rest)
        };
        self.scant_or_generous(teaspoons, Measured { worth, words })
    }

    /// Cups to a quarter or a third of one; where neither is near enough, quarters and
    /// tablespoons, of which a US cup has sixteen.
    fn cups(&self, cups: &Exact) -> String {
        let plain = |step: Exact| {
            let worth = to_step(cups, &step);
            let words = self.so_many(Unit::Cup, &worth);
            Measured { worth, words }
        };
        let mut choices = vec![plain(ratio(1, 4)), plain(ratio(1, 3))];
        let near = |choice: &Measured| is_near(cups, &choice.worth);
        if self.house.settings.measures == Measures::Us && !choices.iter().any(near) {
            let worth = to_step(cups, &ratio(1, 16));
            let quarters = worth.down_to(&ratio(1, 4));
            let rest = (&worth - &quarters) * int(16);
            if !rest.is_zero() && !quarters.is_zero() {
                let words = self.added(Unit::Cup, &quarters, Unit::Tablespoon, &rest);
                choices.push(Measured { worth, words });
            }
        }
        choices.retain(|choice| !choice.worth.is_zero());
        // The first of those that are equally near.
        let nearest = choices.into_iter().min_by_key(|choice| off(cups, &choice.worth));
        match nearest {
            Some(nearest) => self.scant_or_generous(cups, nearest),
            None => self.so_many(Unit::Cup, cups),
        }
    }

    fn scant_or_generous(&self, exact: &Exact, measured: Measured) -> String {
        if is_near(exact, &measured.worth) {
            return measured.words;
        }
        let id = if *exact < measured.worth { "scant" } else { "generous" };
        self.words.fill(id, &[("amount", &measured.words)])
    }

    fn added(&self, large: Unit, first: &Exact, small: Unit, rest: &Exact) -> String {
        format!("{} + {}", self.so_many(large, first), self.so_many(small, rest))
    }

    /// A measure as its author wrote it: `1½ cups`, `× 3`, `1–2 tbsp`. What was grown to an
    /// amount that no spoon or cup holds is the nearest that one does.
    pub fn measure(&self, unit: Unit, low: &Exact, high: &Exact) -> String {
        if low != high {
            return self.said(unit, &self.both_ends(unit, low, high), high);
        }
        let is_plain = is_kitchen_fraction(low);
        match unit {
            // There is no cup for less than a quarter of one.
            Unit::Cup if !is_plain && *low < ratio(1, 4) => self.spoons(&(low * self.in_a_cup())),
            Unit::Cup if !is_plain => self.cups(low),
            Unit::Tablespoon if !is_plain => self.spoons(&(low * int(3))),
            Unit::Teaspoon if !is_plain => self.spoons(low),
            unit => self.so_many(unit, low),
        }
    }

    /// Teaspoons.
    fn in_a_cup(&self) -> Exact {
        let measures = self.house.settings.measures;
        Unit::Teaspoon.count_in(&Unit::Cup.to_base(&Exact::ONE, measures), measures)
    }

    /// Both ends of a range, told apart.
    fn both_ends(&self, unit: Unit, low: &Exact, high: &Exact) -> String {
        let to_measure = |end: &Exact| match unit {
            Unit::Cup | Unit::Tablespoon | Unit::Teaspoon if !is_kitchen_fraction(end) => {
                to_step(end, &ratio(1, 4))
            }
            _ => end.clone(),
        };
        let (first, last) = (to_measure(low), to_measure(high));
        let (first, last) = (self.number_of(unit, &first), self.number_of(unit, &last));
        match first == last {
            true => format!("{}–{}", self.trimmed(low, 3), self.trimmed(high, 3)),
            false => format!("{first}–{last}"),
        }
    }

    fn so_many(&self, unit: Unit, number: &Exact) -> String {
        self.said(unit, &self.number_of(unit, number), number)
    }

    fn number_of(&self, unit: Unit, number: &Exact) -> String {
        match unit {
            Unit::Part => self.trimmed(number, 2),
            Unit::Count | Unit::Cup | Unit::Tablespoon | Unit::Teaspoon
                if is_kitchen_fraction(number) =>
            {
                fraction(number)
            }
            Unit::Cup | Unit::Tablespoon | Unit::Teaspoon => self.trimmed(number, 2),
            _ => self.trimmed(number, 1),
        }
    }

    /// A number of a unit in the language; `highest` is how many there may be.
    fn said(&self, unit: Unit, shown: &str, highest: &Exact) -> String {
        let many = if *highest > Exact::ONE { 2.0 } else { 1.0 };
        let said = |id: &str| self.words.count(id, "number", many, &[("shown", shown)]);
        match unit {
            Unit::Count => format!("× {shown}"),
            Unit::Part => said("parts"),
            Unit::Cup => said("cups"),
            Unit::Tablespoon => said("tablespoons"),
            Unit::Teaspoon => said("teaspoons"),
            Unit::FluidOunce => said("fluid-ounces"),
            unit => format!("{shown} {}", unit.spelling()),
        }
    }
}

/// Halves, thirds, quarters and eighths, for which there are spoons, cups and signs.
fn is_kitchen_fraction(number: &Exact) -> bool {
    (number * int(8)).is_int() || (number * int(3)).is_int()
}

fn off(exact: &Exact, shown: &Exact) -> Exact {
    let off = exact - shown;
    off.clone().max(-off)
}

/// Whether a twentieth of the amount covers what it is off.
fn is_near(exact: &Exact, shown: &Exact) -> bool {
    off(exact, shown) * int(20) <= *exact
}
