//! The masses once every size is known, and what they say is impossible.

use super::excess::{self, substance_name};
use super::sizes::{inner_uses, is_fixed, saved, used_whole_by_stage};
use super::{Solving, main_mix};
use crate::diag::{Finding, Group, Level};
use crate::formula::content::{Content, Substance};
use crate::formula::findings as say;
use crate::formula::linear::Solution;
use crate::formula::mixing::{Goes, MixForms, Mixing};
use crate::formula::worked::{Anchor, Numbers, StageNumbers, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Counting, Mix, Size};

/// The masses once everything is settled.
pub(super) fn numbers(
    mixing: &mut Mixing,
    solving: &Solving,
    solution: &Solution,
    anchor: Anchor,
) -> Numbers {
    let values = &solution.values;
    let formula = mixing.formula;
    if solution.contradiction
        && let Some(mix) = main_mix(formula)
    {
        mixing.findings.push(say::size_given_twice::contradiction(formula, mix));
    }
    let stages = (0..formula.stages.len())
        .map(|stage| stage_numbers(mixing, solving, values, stage))
        .collect();
    let whole = Content::from_forms(&solving.whole, values);
    let mut numbers = Numbers {
        stages,
        whole,
        unlisted: Content::from_forms(&solving.unlisted, values),
        total_lines: Vec::new(),
        dough_lines: Vec::new(),
        basis: solving.main.basis.value(values),
        pieces: Vec::new(),
        anchor,
        left_over: Vec::new(),
    };
    if let Some(mix) = &formula.total {
        numbers.total_lines = own_lines(mixing, mix, &solving.main, values);
        let takes = Content::from_forms(&solving.takes, values);
        final_dough(mixing, mix, takes, &mut numbers);
    } else if let Some(mix) = &formula.dough {
        numbers.dough_lines = own_lines(mixing, mix, &solving.main, values);
    }
    note_left_overs(mixing, solving, &mut numbers, values);
    say_what_is_negative(mixing, &numbers);
    numbers.pieces = super::pieces::pieces(mixing, &numbers);
    numbers
}

pub(super) fn own_lines(
    mixing: &Mixing,
    mix: &Mix,
    forms: &MixForms,
    values: &[Exact],
) -> Vec<WorkedLine> {
    let lines = mix.lines.iter().enumerate().zip(&forms.masses);
    lines
        .map(|((index, line), mass)| WorkedLine {
            goes: mixing.goes(&line.target),
            name: line.target.name.shown.clone(),
            key: line.target.name.key.clone(),
            role: line.target.role.as_ref().map(|role| role.shown.clone()),
            mass: mass.value(values),
            line: Some(index),
        })
        .collect()
}

pub(super) fn stage_numbers(
    mixing: &Mixing,
    solving: &Solving,
    values: &[Exact],
    stage: usize,
) -> StageNumbers {
    let declared = mixing.stage(stage);
    let forms = &solving.stages[stage];
    let lines = own_lines(mixing, &declared.mix, forms, values);
    let content = Content::from_forms(&forms.goes_on, values);
    let (goes_on, planned) = (content.mass(), forms.made.value(values));
    let saved = saved(mixing, declared);
    // What is saved is made besides; what is too little to handle is made larger.
    // A stage of weights has its size: what is saved is taken from it.
    let besides = !saved.is_zero() && !solving.saves_inside[stage];
    let mut factor = match besides && !goes_on.is_zero() {
        true => (&goes_on + &saved) / &goes_on,
        false => Exact::ONE,
    };
    for least in &declared.at_least {
        let wanted = mixing.worth(&least.amount);
        let now = match least.name.key == declared.name.key {
            true => planned.clone(),
            false => lines
                .iter()
                .filter(|line| line.key == least.name.key)
                .fold(Exact::ZERO, |sum, line| sum + &line.mass),
        } * &factor;
        if now < wanted && !now.is_zero() {
            factor *= wanted / now;
        }
    }
    let basis = forms.basis.value(values);
    StageNumbers {
        lines,
        from_cultures: Content::from_forms(&forms.from_cultures, values),
        goes_on: content,
        made: &planned * &factor,
        factor,
        basis,
        saved,
        into_dough: solving.into_dough[stage].value(values),
        feeds: declared.feeds.map_or(1, |(feeds, _)| feeds.max(1)),
    }
}

/// Total form: the mixer gets what the stages leave.
pub(super) fn final_dough(
    mixing: &mut Mixing,
    mix: &Mix,
    mut takes: Content,
    numbers: &mut Numbers,
) {
    let used_blends = excess::blends_used(mixing, &mut takes, numbers);
    excess::settle(mixing, mix, &mut takes, numbers);
    let mut order: Vec<usize> = (0..mix.lines.len()).collect();
    // A stage takes from the line without a role first.
    order.sort_by_key(|&index| mix.lines[index].target.role.is_some());
    let mut left = vec![None; mix.lines.len()];
    for index in order {
        let line = &mix.lines[index];
        let mass = numbers.total_lines[index].mass.clone();
        let substance = match (mixing.goes(&line.target), &line.counting) {
            (Goes::Ingredient(id), _) => Substance::Ingredient(id),
            (Goes::Culture(id), Counting::NotSplit) => Substance::Whole(id),
            (Goes::Stage(_), _) | (Goes::Nothing, _) => continue,
            (Goes::Blend(_), _) => {
                left[index] = Some(mass - &used_blends[index]);
                continue;
            }
            _ => {
                left[index] = Some(mass);
                continue;
            }
        };
        let wanted = takes.get(substance).cloned().unwrap_or_default();
        // A negative rest is told by the rule that adds up the flours.
        let taken = wanted.min(mass.clone()).max(Exact::ZERO);
        takes.add(substance, -taken.clone());
        left[index] = Some(mass - taken);
    }
    for (index, left) in left.into_iter().enumerate() {
        let Some(mass) = left else { continue };
        let is_soft = !matches!(mix.lines[index].amount, Amount::Measured { .. } | Amount::Rest);
        if mass.is_zero() && !is_soft {
            continue;
        }
        numbers.dough_lines.push(WorkedLine { mass, ..numbers.total_lines[index].clone() });
    }
    for (stage, declared) in mixing.formula.stages.iter().enumerate() {
        let mass = numbers.stages[stage].into_dough.clone();
        if !mass.is_zero() {
            numbers.dough_lines.push(WorkedLine {
                goes: Goes::Stage(stage),
                name: declared.name.shown.clone(),
                key: declared.name.key.clone(),
                role: None,
                mass,
                line: None,
            });
        }
    }
}

pub(super) fn note_left_overs(
    mixing: &mut Mixing,
    solving: &Solving,
    numbers: &mut Numbers,
    values: &[Exact],
) {
    for stage in 0..solving.stages.len() {
        let declared = mixing.stage(stage);
        let worked = &numbers.stages[stage];
        // What `at least` makes beyond what is needed and saved.
        let surplus = (&worked.factor - Exact::ONE) * worked.goes_on.mass() - &worked.saved;
        if surplus > Exact::ZERO {
            let ripe = worked.goes_on.mass() * &worked.factor;
            mixing.findings.push(say::left_over::finding(declared, &surplus, &ripe));
            numbers.left_over.push((stage, surplus));
            continue;
        }
        let sized = is_fixed(mixing, stage)
            || declared.sizes.iter().any(|size| !matches!(size.size, Size::OfTotal));
        let inner = inner_uses(mixing, solving, stage);
        let into = &numbers.stages[stage].into_dough;
        let used = inner.iter().fold(into.clone(), |sum, mass| sum + mass.value(values));
        let whole_elsewhere = used_whole_by_stage(mixing, stage);
        if !sized || whole_elsewhere {
            continue;
        }
        let ripe = numbers.stages[stage].goes_on.mass();
        if used > ripe {
            mixing.findings.push(say::size_given_twice::more_than_made(declared, &used, &ripe));
        } else if used < ripe && !used.is_zero() {
            let left = &ripe - &used;
            mixing.findings.push(say::left_over::finding(declared, &left, &ripe));
            numbers.left_over.push((stage, left));
        }
    }
}

/// Says what weighs less than nothing, unless an error of the sums has said why already.
fn say_what_is_negative(mixing: &mut Mixing, numbers: &Numbers) {
    let told =
        |finding: &Finding| finding.level == Level::Error && finding.rule.group == Group::Sums;
    if mixing.findings.iter().any(told) {
        return;
    }
    let formula = mixing.formula;
    let mut said = Vec::new();
    let main =
        if numbers.total_lines.is_empty() { &numbers.dough_lines } else { &numbers.total_lines };
    if let Some(mix) = main_mix(formula) {
        for (line, worked) in mix.lines.iter().zip(main) {
            // Flours that leave less than nothing for the last are told where they are
            // added up.
            let is_flour = matches!(worked.goes, Goes::Ingredient(id) if mixing.is_flour(id));
            if worked.mass < Exact::ZERO && !is_flour {
                said.push(say::negative_weight::line(line, &worked.mass));
            }
        }
    }
    for (stage, worked) in formula.stages.iter().zip(&numbers.stages) {
        let lines = stage.mix.lines.iter().zip(&worked.lines);
        let before = said.len();
        for (line, worked) in lines.filter(|(_, worked)| worked.mass < Exact::ZERO) {
            said.push(say::negative_weight::line(line, &worked.mass));
        }
        if said.len() > before {
            continue;
        }
        if let Some((substance, mass)) =
            worked.goes_on.iter().find(|(_, mass)| **mass < Exact::ZERO)
        {
            let place = stage.loses.as_ref().map_or(stage.name.span, |loses| loses.span);
            let name = substance_name(mixing, substance);
            said.push(say::negative_weight::in_stage(stage, place, &name, mass));
        } else if worked.into_dough < Exact::ZERO {
            said.push(say::negative_weight::into_dough(stage, &worked.into_dough));
        }
    }
    mixing.findings.append(&mut said);
}
