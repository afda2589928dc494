//! `salt-low`: less salt than is usual.

use super::usual::{likely, offer};
use super::{Context, show_range};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::sum_of;
use crate::quantity::display::percent;
use crate::quantity::{Exact, Range};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "salt-low",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_low.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if super::salt_yeast_swapped::looks_swapped(context) || context.style_goes_without("salt") {
        return;
    }
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(physics) = context.physics("salt") else { return };
    if salt.is_zero() {
        return;
    }
    // Salted butter and cheese salt a dough too.
    let tasteless = physics.low.as_ref().is_some_and(|low| all_salt(context) < *low);
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.low.as_ref()).is_some_and(|low| salt < *low);
    if tasteless || unusual {
        let usual = habit.or_else(|| context.limit("habit", "salt")).unwrap_or(physics);
        let level = if tasteless { Level::Error } else { Level::Warning };
        findings.push(said(context, &RULE, &salt, &usual, mix.span).level(level));
    }
}

/// All salt on the flour, that of salted ingredients too.
fn all_salt(context: &Context) -> Exact {
    let salt = sum_of(&context.first().whole, |id| Some(context.house.ingredient(id).salt.clone()));
    if context.flour().is_zero() { Exact::ZERO } else { salt / context.flour() }
}

/// The words of both findings about salt.
pub fn said(
    context: &Context,
    rule: &'static Rule,
    salt: &Exact,
    usual: &Range,
    otherwise: Span,
) -> Finding {
    let said = Finding::new(
        rule,
        context.class_span(Class::Salt).unwrap_or(otherwise),
        format!("salt is {} %, and usual is {}", percent(salt, 2), show_range(usual)),
    )
    .note(context.salt_working())
    .help("2 % is usual; check the number and its unit");
    let meant = context.class_line(Class::Salt).and_then(|line| {
        let ingredient = context.house.ingredient_named(&line.target.name.key)?;
        Some((line, likely(context, line, ingredient, salt, usual)?))
    });
    if let Some((line, meant)) = meant {
        return offer(said, &line.target.name.shown, Some(meant));
    }
    match context.salt_in_the_middle(usual) {
        Some((span, middle)) => said
            .help(format!("2 % is usual; `{middle}` would make it so"))
            .repair(span, middle, false),
        None => said,
    }
}
