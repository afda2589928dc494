//! `ice-too-much`: so much of the water would be ice that it mixes badly.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{celsius, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Steers, Warmth};
use crate::quantity::Exact;
use crate::quantity::display::percent;

/// `ice-too-much`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "ice-too-much",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("ice_too_much.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Ok(warmth) = context.warmth() else { return };
    // With all that is poured together it can be done: the sheet says how.
    if warmth.steers == Steers::Together {
        return;
    }
    let Some(ice) = &warmth.ice else {
        return without_ice(context, warmth, findings);
    };
    let Some(share) = ice.amount.over(&warmth.mass) else { return };
    let Some(most) = limits::most("usual water", "ice") else { return };
    if share <= most {
        return;
    }
    let mut said = Finding::new(
        &RULE,
        warmth.span,
        format!("{} % of the water would have to be ice", percent(&share, 0)),
    )
    .note(format!("{} of {}", grams(&ice.amount), grams(&warmth.mass)));
    if let Some(short) = warmth.water.clone().told_in(context.house.settings.units.first).short() {
        said = said.note(short);
    }
    findings.push(
        said.note(format!(
            "above about {} % ice mixes badly; common practice, no source",
            percent(&most, 0)
        ))
        .help("cool the flour, mix shorter or slower, or aim for a warmer dough"),
    );
}

/// Colder than freezing, and no ice can be told: nobody says how warm the tap is, or it is
/// no water.
fn without_ice(context: &Context, warmth: &Warmth, findings: &mut Vec<Finding>) {
    if warmth.water.amount >= Exact::ZERO {
        return;
    }
    let wanted = celsius(&warmth.water.amount, 1);
    let said = Finding::new(
        &RULE,
        warmth.span,
        format!("the liquid in this dough would have to be at {wanted}"),
    );
    findings.push(match context.house.settings.tap {
        None => said.help("say how warm the tap is (`tap 12C`), so that the ice can be worked out"),
        Some(_) => said.help("cool the flour, mix shorter or slower, or aim for a warmer dough"),
    });
}
