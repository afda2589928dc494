//! What all mixes hold together, by class.

use crate::formula::class::Class;
use crate::formula::{LineRef, Numbers, Within, WorkedLine};
use crate::print::context::{PrintContext, Rounded};
use crate::print::document::{LineKind, LinePart};
use crate::quantity::{Exact, display};

impl PrintContext<'_, '_> {
    /// Flour, liquids, salt, what raises, the rest, all.
    pub(super) fn summary(&self) -> Vec<LinePart> {
        let numbers = self.numbers();
        let flour = self.worked.flour(&numbers.whole);
        let classes: Vec<(Class, Exact)> = Class::ALL
            .iter()
            .map(|(_, class)| (*class, self.worked.class_mass(&numbers.whole, *class)))
            .filter(|(_, mass)| !mass.is_zero())
            .collect();
        let whole = numbers.whole.mass();
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let shown = self.class_sums(&classes, &sum);
        let part = |key: &str, of: &dyn Fn(&Numbers) -> Exact, shown: &Rounded| {
            let grams = of(numbers);
            let ends = self.worked.grams_ends(Within::All, of);
            let shares = self.worked.shares_ends(Within::All, of);
            let share = grams.over(&flour);
            let at = self.weights_at(&grams, shown, ends.as_ref());
            LinePart {
                key: key.to_owned(),
                name: self.class_word(key),
                role: None,
                kind: LineKind::Sum,
                class: None,
                weight: Some(self.weight_as(&grams, shown)),
                volume: None,
                soft: None,
                by_step: Vec::new(),
                written: None,
                more: self.more(&grams, shown, ends.as_ref()),
                weight_low: at.low,
                weight_high: at.high,
                grams_high: ends.as_ref().map(|(_, high)| display::exact(high)),
                percent: share
                    .as_ref()
                    .map(|share| self.percent_or_range(share, shares.as_ref(), 1)),
                percent_exact: share.as_ref().map(display::exact),
                percent_low: shares.as_ref().map(|(low, _)| display::exact(low)),
                percent_high: shares.as_ref().map(|(_, high)| display::exact(high)),
                part: None,
                note: None,
            }
        };
        let mut parts: Vec<LinePart> = classes
            .iter()
            .zip(&shown)
            .map(|((class, _), shown)| {
                let of = |numbers: &Numbers| self.worked.class_mass(&numbers.whole, *class);
                part(class.word(), &of, shown)
            })
            .collect();
        let mut dough = part("dough", &|numbers| numbers.whole.mass(), &sum);
        dough.weight = Some(self.dough_sum(&whole, &sum));
        parts.push(dough);
        parts
    }

    /// What the lines of the total show, by class.
    pub(super) fn class_sums(&self, classes: &[(Class, Exact)], sum: &Rounded) -> Vec<Rounded> {
        let class_of = |line: &WorkedLine| match line.goes {
            LineRef::Ingredient(id) if self.worked.is_flour(id) => Some(Class::Flour),
            LineRef::Ingredient(id) => Some(self.house.ingredient(id).class),
            LineRef::Culture(_) => Some(Class::Culture),
            _ => None,
        };
        let rows: Vec<(Option<Class>, Rounded)> = self
            .rows()
            .iter()
            .map(|row| class_of(&row.line))
            .zip(self.lines(|weighing| Some(&weighing.total)))
            .collect();
        // A side mix on a line of the total is of several classes.
        if classes.len() > 1 && rows.iter().any(|(class, _)| class.is_none()) {
            let masses: Vec<Exact> = classes.iter().map(|(_, mass)| mass.clone()).collect();
            return self.column(&masses, sum);
        }
        let of = |class: Class| {
            Rounded::sum(rows.iter().filter(|(own, _)| *own == Some(class)).map(|(_, row)| row))
        };
        classes.iter().map(|(class, _)| of(*class)).collect()
    }

    fn class_word(&self, word: &str) -> String {
        self.words.name("class", word).unwrap_or_else(|| word.to_owned())
    }
}
