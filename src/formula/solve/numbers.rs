//! The masses once every size is known, and what they say is impossible.

use super::sizes::{inner_uses, is_fixed, saved, used_whole_by_stage};
use super::{Solving, main_mix};
use crate::formula::content::{Content, Substance};
use crate::formula::findings as say;
use crate::formula::linear::Solution;
use crate::formula::mixing::{Goes, MixForms, Mixing};
use crate::formula::worked::{Anchor, Numbers, StageNumbers, WorkedLine};
use crate::quantity::display::last_digit;
use crate::quantity::{Exact, half};
use crate::syntax::tree::{Amount, Counting, Line, Mix, Size};

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
    let besides = !saved.is_zero() && !is_fixed(mixing, stage);
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
    // Seed that no stage gives back is told by the rule about seed.
    takes.retain(|substance| !matches!(substance, Substance::Kept(_)));
    let unlisted: Vec<Substance> = numbers.unlisted.iter().map(|(flour, _)| flour).collect();
    let too_much: Vec<(Substance, Exact)> = takes
        .iter()
        .filter(|(substance, mass)| **mass > Exact::ZERO && !unlisted.contains(substance))
        .map(|(substance, mass)| (substance, mass.clone()))
        .collect();
    for (substance, excess) in too_much {
        stage_excess(mixing, mix, numbers, substance, &excess);
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

/// A stage needs more of something than the total has: an impossible dough, unless it
/// is within the last written digit of the total.
pub(super) fn stage_excess(
    mixing: &mut Mixing,
    mix: &Mix,
    numbers: &mut Numbers,
    substance: Substance,
    excess: &Exact,
) {
    let total_line = mix.lines.iter().zip(&numbers.total_lines).find(|(line, _)| {
        match (mixing.goes(&line.target), substance) {
            (Goes::Ingredient(id), Substance::Ingredient(wanted)) => id == wanted,
            (Goes::Culture(id), Substance::Whole(wanted)) => id == wanted,
            _ => false,
        }
    });
    let source = numbers.stages.iter().enumerate().find_map(|(stage, worked)| {
        let line = worked.lines.iter().find(|line| match (line.goes, substance) {
            (Goes::Ingredient(id), Substance::Ingredient(wanted)) => id == wanted,
            (Goes::Culture(id), Substance::Whole(wanted)) => id == wanted,
            _ => false,
        });
        line.and_then(|line| line.line).map(|line| (stage, line))
    });
    let tolerance = total_line.map(|(line, worked)| line_tolerance(mixing, line, worked, numbers));
    if let Some(tolerance) = tolerance
        && *excess <= tolerance
    {
        if let (Some((stage, line)), Some((total, _))) = (source, total_line) {
            let declared = mixing.stage(stage);
            let said =
                say::stage_takes_more_than_total::within_rounding(declared, line, total, excess);
            mixing.findings.push(said);
            let worked = &mut numbers.stages[stage];
            worked.lines[line].mass -= excess;
            worked.goes_on.add(substance, -excess.clone());
            worked.into_dough -= excess;
            worked.made -= excess;
        }
        return;
    }
    let needed = total_line.map_or(Exact::ZERO, |(_, line)| line.mass.clone()) + excess;
    let name = match substance {
        Substance::Ingredient(id) => mixing.house.ingredient(id).name.shown.clone(),
        Substance::Kept(id) | Substance::Whole(id) => mixing.house.culture(id).name.shown.clone(),
        Substance::OldDough => "old dough".into(),
    };
    let stage = source.map(|(stage, line)| (mixing.stage(stage), line)).or_else(|| {
        let culture_stage =
            mixing.formula.stages.iter().zip(&numbers.stages).find(|(_, worked)| {
                worked.goes_on.get(substance).is_some_and(|mass| !mass.is_zero())
            });
        culture_stage.map(|(stage, _)| (stage, usize::MAX))
    });
    mixing.findings.push(say::stage_takes_more_than_total::finding(
        &name,
        stage,
        total_line.map(|(line, _)| line),
        mix,
        &needed,
        &(&needed - excess),
        &mixing.flour_of(&numbers.whole),
    ));
}

/// Half of the last digit that a total's line is written to, in grams.
pub(super) fn line_tolerance(
    _mixing: &Mixing,
    line: &Line,
    worked: &WorkedLine,
    _numbers: &Numbers,
) -> Exact {
    let Amount::Measured { range, .. } = &line.amount else { return Exact::ZERO };
    let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else { return Exact::ZERO };
    if quantity.number.is_zero() {
        return Exact::ZERO;
    }
    let last = quantity.decimals.map_or(Exact::ZERO, last_digit);
    &worked.mass * (last * half() / &quantity.number)
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
