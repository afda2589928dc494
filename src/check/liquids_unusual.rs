//! `liquids-unusual`: an unusual amount of liquid.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::percent;
use crate::quantity::ratio;

pub const RULE: Rule = Rule {
    name: "liquids-unusual",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("liquids_unusual.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    let bounded = ["liquids", "hydration", "effective hydration"];
    if bounded.iter().any(|figure| context.style_bounds(figure)) || context.flour().is_zero() {
        return;
    }
    let Some(range) = context.limit("habit", "liquids") else { return };
    let Some(all) = context.share(&Figure::Liquids) else { return };
    let share = all - context.soaked_water() / context.flour();
    let wet = context.share(&Figure::EffectiveHydration).unwrap_or_default();
    if wet >= ratio(35, 100) && wet <= ratio(180, 100) && !range.holds(&share) {
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!(
                    "liquids are {} % of the flour, and usual is {}",
                    percent(&share, 2),
                    super::show_range(&range)
                ),
            )
            .help("check the water and the flour; name a `style` if this bread is meant to be so"),
        );
    }
}
