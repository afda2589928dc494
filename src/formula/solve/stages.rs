//! What each stage weighs: for those who use it, for what is saved, and enough to handle.

use super::numbers::own_lines;
use super::sizes::{is_fixed, saved};
use super::{At, Solving};
use crate::formula::mixing::{Goes, Mixing};
use crate::formula::worked::{StageNumbers, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Size;

/// The stages with their masses, those first that others use.
pub(super) fn stages(mixing: &Mixing, solving: &Solving, at: &At) -> Vec<StageNumbers> {
    let mut done: Vec<Option<StageNumbers>> = solving.stages.iter().map(|_| None).collect();
    for &stage in mixing.order.iter().rev() {
        done[stage] = Some(stage_numbers(mixing, solving, at, stage, &done));
    }
    // Every stage stands in the order once.
    done.into_iter().flatten().collect()
}

fn stage_numbers(
    mixing: &Mixing,
    solving: &Solving,
    at: &At,
    stage: usize,
    done: &[Option<StageNumbers>],
) -> StageNumbers {
    let declared = mixing.stage(stage);
    let forms = &solving.stages[stage];
    let mut lines = own_lines(mixing, &declared.mix, forms, at);
    let mut goes_on = at.content(&forms.goes_on);
    let mut from_cultures = at.content(&forms.from_cultures);
    let saved = saved(mixing, declared);
    let (plain, into_dough) = (goes_on.mass(), at.value(&solving.into_dough[stage]));
    // A stage that is made larger needs more of what it takes.
    let more = match has_its_size(mixing, stage) && at.ratio.is_one() {
        true => Exact::ZERO,
        false => more_for_users(solving, at, stage, done),
    };
    let inside = match solving.saves_inside[stage] {
        true => &saved * &at.ratio,
        false => Exact::ZERO,
    };
    let ripe = &plain + inside;
    let wanted = &plain + &more + &saved;
    let mut grown = if ripe.is_zero() { Exact::ONE } else { &wanted / &ripe };
    let sum = |lines: &[WorkedLine]| lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
    let planned = sum(&lines);
    for least in &declared.at_least {
        let wanted = mixing.worth(&least.amount);
        let now = match least.name.key == declared.name.key {
            true => planned.clone(),
            false => lines
                .iter()
                .filter(|line| line.key == least.name.key)
                .fold(Exact::ZERO, |sum, line| sum + &line.mass),
        } * &grown;
        if now < wanted && !now.is_zero() {
            grown *= wanted / now;
        }
    }
    for line in &mut lines {
        line.mass *= &grown;
        line.more *= &grown;
    }
    if !plain.is_zero() {
        let on = (&ripe * &grown - &saved) / &plain;
        goes_on.scale(&on);
        from_cultures.scale(&on);
    }
    StageNumbers {
        made: sum(&lines),
        basis: at.value(&forms.basis) * &grown,
        lines,
        goes_on,
        from_cultures,
        grown,
        saved,
        into_dough,
        feeds: declared.feeds.map_or(1, |(feeds, _)| feeds.max(1)),
    }
}

/// Whether a stage is as large as is written, whoever uses it.
fn has_its_size(mixing: &Mixing, stage: usize) -> bool {
    let weighs = |size: &Size| matches!(size, Size::Weighs(_));
    is_fixed(mixing, stage) || mixing.stage(stage).sizes.iter().any(|size| weighs(&size.size))
}

/// What other stages ask for beyond what they would ask at their plain size.
fn more_for_users(
    solving: &Solving,
    at: &At,
    stage: usize,
    done: &[Option<StageNumbers>],
) -> Exact {
    let mut more = Exact::ZERO;
    for (user, forms) in done.iter().zip(&solving.stages) {
        let Some(user) = user else { continue };
        for (line, form) in user.lines.iter().zip(&forms.masses) {
            if line.goes == Goes::Stage(stage) {
                more += &line.mass - at.value(form);
            }
        }
    }
    more
}

/// The grams that stages and the final dough take of a stage.
pub(super) fn used(stages: &[StageNumbers], stage: usize) -> Exact {
    let lines = stages.iter().flat_map(|user| &user.lines);
    let lines = lines.filter(|line| line.goes == Goes::Stage(stage));
    lines.fold(stages[stage].into_dough.clone(), |sum, line| sum + &line.mass)
}
