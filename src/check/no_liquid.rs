//! `no-liquid`: a dough, a soaker or a scald without anything wet.

use super::context::Context;
use super::limits;
use super::usual::{offer, water_meant};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::display::percent;
use crate::syntax::tree::{Line, Stage, StageKind};

/// `no-liquid`, an error about sums.
pub const RULE: Rule = Rule {
    name: "no-liquid",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_liquid.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for stage in &context.worked.formula.stages {
        findings.extend(dry(context, stage));
    }
    let Some(mix) = context.main_mix() else { return };
    let usual = limits::number("habit", "usual water").unwrap_or_default();
    let water = context.share(&Figure::EffectiveHydration);
    let any = limits::bound("physics", "any water");
    if !context.flour().is_zero() && water.zip(any).is_some_and(|(water, any)| !any.holds(&water)) {
        let meant = water_meant(context);
        let span = meant.as_ref().map_or(mix.span, |(span, ..)| *span);
        let message = match &meant {
            Some(_) => "this dough has next to no water",
            None => "this dough has no water, milk or other liquid",
        };
        let said = Finding::new(&RULE, span, message).help(format!(
            "add the liquid; about {} % of the flour is usual in a plain dough",
            percent(&usual, 0)
        ));
        findings.push(match meant {
            Some((_, name, meant)) => offer(said, &name, Some(meant)),
            None => said,
        });
    }
}

/// A soaker or a scald of flour, grain or seed in nothing.
fn dry(context: &Context, stage: &Stage) -> Option<Finding> {
    let does = match stage.kind {
        StageKind::Soaker => "soaks",
        StageKind::Scald => "is scalded",
        StageKind::Preferment | StageKind::Build => return None,
    };
    let wet = limits::bound("habit of soakers", "wet")?;
    let named = |line: &Line| context.house.ingredient_named(&line.target.name.key);
    let drinks = |line: &&Line| {
        named(line)
            .is_some_and(|own| matches!(own.class, Class::Flour | Class::Grain | Class::Seed))
    };
    // What is no ingredient is a stage, a culture or a mixture, and mostly wet.
    let wets = |line: &Line| {
        named(line).is_none_or(|own| own.water_share().is_some_and(|share| wet.holds(&share)))
    };
    let line = stage.mix.lines.iter().find(drinks)?;
    if stage.mix.lines.iter().any(wets) {
        return None;
    }
    let (name, what) = (&stage.name.shown, &line.target.name.shown);
    let message = format!("`{what}` {does} in nothing: `{name}` has no water or other liquid");
    let help = format!("add the liquid to `{name}`: `water 100%`");
    Some(Finding::new(&RULE, stage.name.span, message).help(help))
}
