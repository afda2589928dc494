//! `liquids-unusual`: an unusual amount of liquid.

use super::context::Context;
use super::limits::show_range;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Figure, Within};
use crate::quantity::display::percent;

/// `liquids-unusual`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "liquids-unusual",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("liquids_unusual.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    whole(context, findings);
    stages(context, findings);
}

/// The water of each stage that ferments, on its flour.
fn stages(context: &Context, findings: &mut Vec<Finding>) {
    let Some(range) = context.limit("habit of stages", "water") else { return };
    let stages = context.worked.formula.stages.iter().enumerate();
    for (index, stage) in stages.filter(|(_, stage)| stage.kind.ferments()) {
        let figure = Figure::EffectiveHydration;
        let within = Within::Stage(index);
        let wet = context.worked.figure_of(context.first(), &figure, within);
        let Some(wet) = wet.map(|wet| wet.amount).filter(|wet| !range.holds(wet)) else {
            continue;
        };
        findings.push(
            Finding::new(
                &RULE,
                stage.name.span,
                format!(
                    "water is {} % of the flour of `{}`; {} is usual",
                    percent(&wet, 2),
                    stage.name.shown,
                    show_range(&range)
                ),
            )
            .help("check the water and the flour of this stage"),
        );
    }
}

fn whole(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    let bounded = ["liquids", "hydration", "effective hydration"];
    if bounded.iter().any(|figure| context.style_bounds(figure)) || context.flour().is_zero() {
        return;
    }
    let Some(range) = context.limit("habit", "liquids") else { return };
    let Some(all) = context.share(&Figure::Liquids) else { return };
    let share = &all - context.of_flour(&context.soaked_water());
    let wet = context.share(&Figure::EffectiveHydration).unwrap_or_default();
    // Grain that is cooked or soaked in the dough itself drinks as much as flour does.
    let drinks = context.flour() + context.class(Class::Grain) + context.class(Class::Seed);
    let by_all = (&all * context.flour()).over(&drinks).unwrap_or_default();
    let too_wet = range.high.as_ref().is_some_and(|high| share > *high)
        && range.high.as_ref().is_some_and(|high| by_all > *high);
    // Pumpkin and potato wet a dough too.
    let too_dry = range.low.as_ref().is_some_and(|low| all < *low && wet < *low);
    let possible = context.limit("physics", "effective hydration");
    let is_dough = possible.is_none_or(|possible| possible.holds(&wet));
    if is_dough && (too_wet || too_dry) {
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!(
                    "liquids are {} % of the flour; {} is usual",
                    percent(if too_wet { &share } else { &all }, 2),
                    show_range(&range)
                ),
            )
            .help("check the water and the flour; name a `style` if this bread is meant to be so"),
        );
    }
}
