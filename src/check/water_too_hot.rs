//! `water-too-hot`: the water that a dough would need harms what raises it.

use super::context::Context;
use super::limits;
use crate::diag::amounts::celsius as shown;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Steers;

/// `water-too-hot`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "water-too-hot",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("water_too_hot.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Ok(warmth) = context.warmth() else { return };
    let celsius = &warmth.water.amount;
    let Some(most) = limits::most("usual water", "water temperature") else { return };
    // With all that is poured together it can be done: the sheet says how.
    if *celsius <= most || warmth.steers == Steers::Together {
        return;
    }
    let mut said = Finding::new(
        &RULE,
        warmth.span,
        format!(
            "for a dough of {} the water would have to be {}",
            shown(&warmth.target, 1),
            shown(celsius, 1)
        ),
    );
    if let Some(short) = warmth.water.clone().told_in(context.house.settings.units.first).short() {
        said = said.note(short);
    }
    let harm = match context.living_steps().next() {
        Some(_) => {
            format!("above {} yeast and cultures die, and hot water scalds", shown(&most, 0))
        }
        None => "hot water scalds".into(),
    };
    findings.push(
        said.note(harm)
            .help("warm the flour or the room, or aim for a cooler dough and let it rise longer"),
    );
}
