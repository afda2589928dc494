//! Ingredients that go in together, for a recipe card.

use super::lines::{Of, ShownLine};
use crate::formula::class::Class;
use crate::formula::{LineRef, Within, WorkedLine, main_mix};
use crate::print::context::PrintContext;
use crate::print::document::{GroupPart, LinePart};
use crate::print::method;
use crate::quantity::Exact;
use crate::syntax::tree::Size;
use std::collections::VecDeque;

impl PrintContext<'_, '_> {
    /// Ingredients by when they go in.
    pub(super) fn groups(&self) -> Vec<GroupPart> {
        let formula = &self.worked.formula;
        let numbers = self.numbers();
        let mut groups = Vec::new();
        let mut step = 0;
        for &index in &self.worked.order {
            let part = self.stage(index);
            let count = method::stage_steps(&formula.stages[index]);
            groups.push(GroupPart {
                title: part.title,
                percent_of: self.percent_of(index),
                lines: part.lines,
                steps: (step..step + count).collect(),
            });
            step += count;
        }
        let Some(mix) = main_mix(formula) else { return groups };
        let within = Within::FinalDough;
        let of = Of::mix(self.worked.shown_basis(numbers, within), within);
        let shown = self.dough_lines(Some(mix));
        let Some(method) = &formula.method else {
            groups.push(GroupPart {
                title: self.words.say("dough"),
                percent_of: Some(self.words.say("percent-of-all-flour")),
                lines: shown.iter().map(|line| self.line(line, &of)).collect(),
                steps: Vec::new(),
            });
            return groups;
        };
        let additions = self.worked.additions(method, Within::FinalDough);
        let batches = Exact::from(self.batches);
        let mut parts: Vec<VecDeque<_>> =
            (0..shown.len()).map(|place| self.taken_by_steps(place).into()).collect();
        for (index, added) in additions.steps.iter().enumerate() {
            let mut lines = Vec::new();
            for added in added.iter().filter(|added| !added.beside) {
                let Some(place) = shown.iter().position(|shown| {
                    shown.line.key == added.line.key && shown.line.role == added.line.role
                }) else {
                    continue;
                };
                let whole = &shown[place];
                let grams = &whole.grams * &added.share;
                // They stand in the order in which they go in; a step may take several.
                let part_shown = match parts[place].pop_front() {
                    Some((_, part)) => part.times(&batches),
                    None if added.share.is_one() => whole.shown.clone(),
                    None => self.rounded(&grams),
                };
                let mut line = self.line(
                    &ShownLine {
                        line: whole.line,
                        declared: whole.declared,
                        grams,
                        shown: part_shown,
                    },
                    &Of::mix(Exact::ZERO, within),
                );
                if added.remaining {
                    line.part = Some(self.words.say("the-rest"));
                }
                lines.push(line);
            }
            if !lines.is_empty() {
                groups.push(GroupPart {
                    title: method::group_title(self, &method.steps[index]),
                    percent_of: None,
                    lines,
                    steps: vec![step + index],
                });
            }
        }
        let apart = |shown: &&ShownLine| {
            let same =
                |line: &WorkedLine| (&line.key, &line.role) == (&shown.line.key, &shown.line.role);
            additions.apart.iter().any(same)
        };
        let of = Of::mix(Exact::ZERO, within);
        let lines: Vec<LinePart> =
            shown.iter().filter(apart).map(|shown| self.line(shown, &of)).collect();
        if !lines.is_empty() {
            groups.push(GroupPart {
                title: self.words.say("also-needed"),
                percent_of: None,
                lines,
                steps: Vec::new(),
            });
        }
        groups
    }

    /// What the percentages of a stage are of, for the head of their column.
    fn percent_of(&self, stage: usize) -> Option<String> {
        let declared = &self.worked.formula.stages[stage];
        if declared.sizes.iter().any(|size| matches!(size.size, Size::OfTotal)) {
            return Some(self.words.say("percent-of-all-flour"));
        }
        let lines = &self.numbers().stages[stage].lines;
        let has = |wanted: Class| {
            lines.iter().any(|line| match line.goes {
                LineRef::Ingredient(id) if self.worked.is_flour(id) => wanted == Class::Flour,
                LineRef::Ingredient(id) => self.house.ingredient(id).class == wanted,
                _ => false,
            })
        };
        let id = match (has(Class::Flour), has(Class::Grain), has(Class::Seed)) {
            (true, ..) => "percent-of-its-flour",
            (_, true, true) => "percent-of-its-grain-and-seed",
            (_, true, _) => "percent-of-its-grain",
            (_, _, true) => "percent-of-its-seed",
            _ => return None,
        };
        Some(self.words.say(id))
    }
}
