//! `salt-high`: more salt than is usual.

use super::context::Context;
use super::limits::show_range;
use super::salt;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Substance, sum_of};
use crate::quantity::Exact;
use crate::quantity::display::percent;
use crate::source::Span;

/// `salt-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(limit) = context.physics("salt") else { return };
    let impossible = limit.high.as_ref().is_some_and(|most| salt > *most);
    // What a style may say otherwise is habit, not physics.
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.high.as_ref()).is_some_and(|high| salt > *high);
    if unusual || impossible {
        let usual = habit.or_else(|| context.limit("habit", "salt")).unwrap_or(limit);
        let level = if impossible { Level::Error } else { Level::Warning };
        findings.push(salt::unusual(context, &RULE, &salt, &usual, mix.span).level(level));
        return;
    }
    if !context.style_bounds("salt") {
        findings.extend(with_others(context, &salt, mix.span));
    }
}

/// Salt together with that of soy sauce, cheese, olives and the like.
fn with_others(context: &Context, salt: &Exact, otherwise: Span) -> Option<Finding> {
    let base = context.class(Class::Salt).over(salt)?;
    let salty = |id| {
        let own = context.house.ingredient(id);
        (own.class != Class::Salt).then(|| own.salt.clone())
    };
    let whole = &context.first().whole;
    let others = sum_of(whole, salty);
    let all = salt + others.over(&base)?;
    let usual = context.limit("habit", "all salt").filter(|usual| !usual.holds(&all))?;
    let possible = context.limit("physics", "all salt");
    let is_far = possible.is_some_and(|possible| !possible.holds(&all));
    let saltiest = whole.iter().filter_map(|(substance, mass)| match substance {
        Substance::Ingredient(id) => Some((salty(id)? * mass, id)),
        _ => None,
    });
    let (most, id) = saltiest.max_by(|one, two| one.0.cmp(&two.0))?;
    let name = &context.house.ingredient(id).name.shown;
    let span = context.ingredient_line(id).map_or(otherwise, |line| line.span);
    let message = format!(
        "salt is {} % with that of `{name}` and other ingredients; {} is usual",
        percent(&all, 2),
        show_range(&usual)
    );
    let message = match most == others {
        true => message.replace(" and other ingredients", ""),
        false => message,
    };
    Some(
        Finding::new(&RULE, span, message)
            .level(if is_far { Level::Error } else { Level::Warning })
            .note(format!(
                "({} salt + {} in other ingredients) ÷ {} = {} %",
                grams(&context.class(Class::Salt)),
                grams(&others),
                grams(&base),
                percent(&all, 2)
            ))
            .help("take less salt where salty things go in, or less of them"),
    )
}
