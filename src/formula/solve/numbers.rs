//! The masses once every size is known, and what they say is impossible.

use super::excess::{self, substance_name};
use super::lines::own_lines;
use super::sizes::is_fixed;
use super::solving::{At, Solving};
use super::stages::{earlier_feeds, stages};
use crate::diag::{Finding, Group, Level};
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::mixes::main_mix;
use crate::formula::mixing::{MixPlace, Mixing};
use crate::formula::worked::{Numbers, SizedBy, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Base, Counting, Line, Mix};

/// The masses once everything is settled, at the size that `at` gives them.
pub(super) fn numbers(
    mixing: &mut Mixing,
    solving: &Solving,
    at: &At,
    contradiction: bool,
    anchor: SizedBy,
) -> Numbers {
    let formula = mixing.formula;
    if contradiction && let Some(mix) = main_mix(formula) {
        mixing.findings.push(say::size_given_twice::contradiction(formula, mix));
    }
    let stages = stages(mixing, solving, at);
    let whole = at.content(&solving.whole);
    let mut numbers = Numbers {
        stages,
        whole,
        unlisted: at.content(&solving.unlisted),
        total_lines: Vec::new(),
        dough_lines: Vec::new(),
        basis: at.value(&solving.main.basis),
        pieces: Vec::new(),
        anchor,
        left_over: Vec::new(),
        kept_back: at.value(&solving.kept_back),
        saved: solving.saved.clone(),
    };
    if let Some(mix) = &formula.total {
        numbers.total_lines = own_lines(mixing, mix, &solving.main, at);
        let takes = at.content(&solving.takes);
        final_dough(mixing, mix, takes, &mut numbers);
    } else if let Some(mix) = &formula.dough {
        numbers.dough_lines = own_lines(mixing, mix, &solving.main, at);
    }
    earlier_feeds(mixing, &mut numbers);
    note_left_overs(mixing, &mut numbers);
    say_what_is_negative(mixing, &numbers);
    say_what_hangs_on_itself(mixing, &numbers);
    numbers.pieces = super::pieces::pieces(mixing, &numbers);
    numbers
}

/// Total form: the mixer gets what the stages leave.
pub(super) fn final_dough(
    mixing: &mut Mixing,
    mix: &Mix,
    mut takes: Composition,
    numbers: &mut Numbers,
) {
    let used_side_mixes = excess::side_mixes_used(mixing, &mut takes, numbers);
    excess::settle(mixing, mix, &mut takes, numbers);
    let mut order: Vec<usize> = (0..mix.lines.len()).collect();
    // A stage takes from the line without a role first.
    order.sort_by_key(|&index| mix.lines[index].target.role.is_some());
    let mut left = vec![None; mix.lines.len()];
    for index in order {
        let line = &mix.lines[index];
        let mass = numbers.total_lines[index].mass.clone();
        let substance = match (mixing.goes(&line.target), &line.counting) {
            (LineRef::Ingredient(id), _) => Substance::Ingredient(id),
            (LineRef::Culture(id), Counting::NotSplit) => Substance::Whole(id),
            (LineRef::Stage(_), _) | (LineRef::Nothing, _) => continue,
            (LineRef::SideMix(_), _) => {
                left[index] = Some(mass - &used_side_mixes[index]);
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
                goes: LineRef::Stage(stage),
                name: declared.name.shown.clone(),
                key: declared.name.key.clone(),
                role: None,
                mass,
                more: Exact::ZERO,
                line: None,
            });
        }
    }
}

/// Whether an error has said already that sums do not come out: what else they give would
/// be quoted as if they did.
fn sums_are_off(mixing: &Mixing) -> bool {
    let told =
        |finding: &Finding| finding.level == Level::Error && finding.rule.group == Group::Sums;
    mixing.findings.iter().any(told)
}

/// Says what is made of a stage and used by nobody, or used without being made.
fn note_left_overs(mixing: &mut Mixing, numbers: &mut Numbers) {
    if sums_are_off(mixing) {
        return;
    }
    for stage in 0..numbers.stages.len() {
        let declared = mixing.stage(stage);
        let worked = &numbers.stages[stage];
        if worked.made.is_zero() && !worked.saved.is_zero() {
            mixing.findings.push(say::size_given_twice::saved_of_nothing(declared, &worked.saved));
            continue;
        }
        let sized =
            is_fixed(mixing, stage) || !declared.at_least.is_empty() || !declared.sizes.is_empty();
        let used = numbers.used(stage);
        let ripe = numbers.stages[stage].goes_on.mass();
        // What weighs less than nothing is told by itself.
        if !sized || used < Exact::ZERO || ripe < Exact::ZERO {
            continue;
        }
        if used > ripe {
            mixing.findings.push(say::size_given_twice::more_than_made(declared, &used, &ripe));
        } else if used < ripe && !used.is_zero() {
            let left = &ripe - &used;
            mixing.findings.push(say::left_over::finding(declared, &left, &ripe));
            numbers.left_over.push((stage, left));
        }
    }
    note_discarded(mixing, numbers);
}

/// Says what of an early feed is too much, because less could not be handled.
fn note_discarded(mixing: &mut Mixing, numbers: &Numbers) {
    for (stage, worked) in numbers.stages.iter().enumerate() {
        for (feed, own) in worked.earlier.iter().enumerate() {
            if own.discarded > Exact::ZERO {
                let (declared, made) = (mixing.stage(stage), own.made());
                let said = say::left_over::discarded(declared, feed + 1, &own.discarded, &made);
                mixing.findings.push(said);
            }
        }
    }
}

/// Says what weighs less than nothing, unless an error of the sums has said why already.
fn say_what_is_negative(mixing: &mut Mixing, numbers: &Numbers) {
    if sums_are_off(mixing) {
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
            let is_flour = matches!(worked.goes, LineRef::Ingredient(id) if mixing.is_flour(id));
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

/// Says which lines are percentages of each other and so come to nothing.
fn say_what_hangs_on_itself(mixing: &mut Mixing, numbers: &Numbers) {
    let formula = mixing.formula;
    if numbers.whole.mass().is_zero() {
        return;
    }
    let main =
        if numbers.total_lines.is_empty() { &numbers.dough_lines } else { &numbers.total_lines };
    let mut mixes = vec![(main_mix(formula), main, MixPlace::Main)];
    for (index, (stage, worked)) in formula.stages.iter().zip(&numbers.stages).enumerate() {
        mixes.push((Some(&stage.mix), &worked.lines, MixPlace::Stage(index)));
    }
    let is_written = |line: &Line| match &line.amount {
        Amount::Measured { range, .. } => {
            range.low.as_ref().is_some_and(|quantity| !quantity.number.is_zero())
        }
        _ => false,
    };
    let mut said = Vec::new();
    for (mix, lines, place) in mixes {
        let Some(mix) = mix else { continue };
        for (index, (line, worked)) in mix.lines.iter().zip(lines).enumerate() {
            let Amount::Measured { base: Some(base), .. } = &line.amount else { continue };
            if !matches!(**base, Base::Of(_)) || !worked.mass.is_zero() || !is_written(line) {
                continue;
            }
            let of = mixing.base_lines(mix, base, index, place);
            if of.iter().any(|&other| is_written(&mix.lines[other])) {
                said.push(say::circular_size::hangs_on_itself(line));
            }
        }
    }
    mixing.findings.append(&mut said);
}
