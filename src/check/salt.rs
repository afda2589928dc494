//! What the findings about salt share.

use super::context::Context;
use super::limits::{self, show_range};
use super::usual::{likely, offer};
use crate::diag::{Finding, Rule};
use crate::formula::class::Class;
use crate::formula::sum_of;
use crate::quantity::display::percent;
use crate::quantity::{Exact, Range};
use crate::source::Span;
use crate::syntax::tree::{Amount, Line};

/// The words of both findings about salt.
pub fn unusual(
    context: &Context,
    rule: &'static Rule,
    salt: &Exact,
    usual: &Range,
    otherwise: Span,
) -> Finding {
    let two = percent(&limits::number("habit", "usual salt").unwrap_or_default(), 1);
    let has = |class| !context.class(class).is_zero();
    let of_all = match (has(Class::Grain), has(Class::Seed)) {
        (false, false) => "",
        (true, false) => " of flour and grain together",
        (false, true) => " of flour and seed together",
        (true, true) => " of flour, grain and seed together",
    };
    let said = Finding::new(
        rule,
        context.class_span(Class::Salt).unwrap_or(otherwise),
        format!("salt is {} %{of_all}; {} is usual", percent(salt, 2), show_range(usual)),
    )
    .note(context.salt_working())
    .help(format!("{two} % is usual; check the number and its unit"));
    let meant = context.class_line(Class::Salt).and_then(|line| {
        let ingredient = context.house.ingredient_named(&line.target.name.key)?;
        // Salt is judged by flour, grain and seed together, a line by the flour alone.
        let of_flour = context.of_flour(&context.class(Class::Salt));
        let more = of_flour.over(salt).unwrap_or(Exact::ONE);
        let scaled = |end: &Option<Exact>| end.as_ref().map(|end| end * &more);
        let usual = Range { low: scaled(&usual.low), high: scaled(&usual.high) };
        Some((line, likely(context, line, ingredient, &of_flour, &usual)?))
    });
    if let Some((line, meant)) = meant {
        return offer(said, &line.target.name.shown, Some(meant));
    }
    match context.salt_in_the_middle(usual) {
        Some((span, middle)) => said
            .help(format!("{two} % is usual; `{middle}` would make it so"))
            .repair(span, middle, false),
        None => said,
    }
}

/// Whether there is salt on the flour, and less than anybody tastes; salted butter and cheese
/// salt a dough too.
pub fn is_tasteless(context: &Context) -> bool {
    let all = sum_of(&context.first().whole, |id| Some(context.house.ingredient(id).salt.clone()));
    let low = context.physics("salt").and_then(|physics| physics.low);
    let has_some = context.salt_share().is_some_and(|salt| !salt.is_zero());
    has_some && low.is_some_and(|low| context.of_flour(&all) < low)
}

/// The line of salt that has no weight.
pub fn unweighed<'a>(context: &Context<'a, '_>) -> Option<&'a Line> {
    let line = context.class_line(Class::Salt)?;
    matches!(line.amount, Amount::ToTaste | Amount::AsNeeded | Amount::Pinch).then_some(line)
}
