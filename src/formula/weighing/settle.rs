//! What is settled before the rest is rounded: what was asked for, and what several batches
//! take.

use super::bench::Bench;
use crate::quantity::Exact;
use crate::quantity::display::to_step;
use crate::quantity::rounding::{Near, Sum, Weighed, controlled};

impl Bench<'_, '_> {
    /// What the whole dough comes to.
    pub(super) fn whole(&self) -> Sum {
        let mut whole = Sum::default();
        self.all.iter().for_each(|line| whole.add(line, 1));
        whole
    }

    /// A stage that the scale can show exactly, such as what is in the jar, is shown so
    /// where the whole dough can't be; where it is what was asked for, it is as near as can be.
    pub(super) fn settle_what_was_asked(&mut self, whole: &Sum) {
        let exact: Vec<Exact> = self.weighed.iter().map(|own| own.exact.clone()).collect();
        let step = whole.finest(&self.weighed);
        let is_whole = step.is_zero() || whole.of(&exact).is_multiple_of(&step);
        let formula = &self.worked.formula;
        let from = formula.makes.as_ref().and_then(|makes| makes.from.as_ref());
        let asked_for: Vec<bool> = formula
            .stages
            .iter()
            .map(|stage| from.is_some_and(|(_, target)| target.name.key == stage.name.key))
            .collect();
        for stage in 0..self.goes_on.len() {
            let is_asked_for = asked_for.get(stage) == Some(&true);
            if is_whole && !is_asked_for {
                continue;
            }
            let asked = self.goes_on[stage].clone();
            let grams = asked.of(&exact);
            let is_shown = grams.is_multiple_of(&self.scale.resolution(&grams));
            if grams.is_zero() || !is_shown && !is_asked_for {
                continue;
            }
            let values = controlled(&self.weighed, &asked, &grams, Near::default());
            if asked.of(&values) == grams || is_asked_for {
                self.settle(stage, &asked, &values);
            }
        }
    }

    /// A stage that goes into several batches is made so that each batch takes the same,
    /// where the scale allows it. What is settled here is not moved any more.
    pub(super) fn settle_batches(&mut self) {
        for (line, stage) in self.shared.clone() {
            let exact: Vec<Exact> = self.weighed.iter().map(|own| own.exact.clone()).collect();
            let each = self.all[line].of(&exact).each_of(&Exact::from(self.batches));
            let step = self.scale.resolution(&each);
            let found = self.evenly(line, &each, &step);
            let (values, each) = found.unwrap_or_else(|| {
                let target = self.all[line].of(&exact);
                let values = controlled(&self.weighed, &self.all[line], &target, Near::default());
                // The last batch takes what is left.
                let each = self.all[line].of(&values).each_of(&Exact::from(self.batches));
                (values, to_step(&each, &step))
            });
            let all = self.all[line].clone();
            self.settle(stage, &all, &values);
            if let Some((own, _)) = self.batch[line].terms.first() {
                self.weighed[*own] = Weighed { exact: each, step };
            }
        }
    }

    /// Leaves what goes into a stage, and whatever is equal to it, as it is now.
    pub(super) fn settle(&mut self, stage: usize, all: &Sum, values: &[Exact]) {
        let terms = self.made[stage].terms.iter().chain(&all.terms);
        let touched: Vec<Weighed> =
            terms.filter_map(|(own, _)| self.weighed.get(*own).cloned()).collect();
        let is_touched = |own: &Weighed| {
            touched.iter().any(|one| one.exact == own.exact && one.step == own.step)
        };
        for (own, value) in self.weighed.iter_mut().zip(values) {
            if is_touched(own) {
                own.exact.clone_from(value);
            }
        }
    }

    /// Values at which a stage's part is so many equal parts of whole steps, each within a step
    /// of what it is exactly: of two ways the one with all of it nearest to what it is.
    pub(super) fn evenly(
        &self,
        line: usize,
        each: &Exact,
        step: &Exact,
    ) -> Option<(Vec<Exact>, Exact)> {
        if step.is_zero() {
            return None;
        }
        let count = Exact::from(self.batches);
        let all = &self.all[line];
        let ways = [each.down_to(step), each.up_to(step)].into_iter().filter_map(|near| {
            let target = &near * &count;
            let values = controlled(&self.weighed, all, &target, Near::default());
            (all.of(&values) == target).then_some((values, near))
        });
        let off = |(values, near): &(Vec<Exact>, Exact)| {
            let terms = all.terms.iter().filter_map(|&(own, _)| {
                let weighed = self.weighed.get(own).filter(|own| !own.step.is_zero())?;
                let off = values.get(own)? - &weighed.exact;
                off.clone().max(-off).over(&weighed.step)
            });
            let away = (near - each).max(each - near).over(step).unwrap_or_default();
            terms.fold(away, |sum, off| sum + off)
        };
        ways.min_by_key(off)
    }
}
