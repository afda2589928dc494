//! `seed-share-doubtful`: an unusual share of culture in a stage.

use super::context::Context;
use super::limits::show_range;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{percent, trimmed};
use crate::quantity::{Dimension, Unit};
use crate::syntax::tree::{Amount, Line, Quantity, Stage};

/// `seed-share-doubtful`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "seed-share-doubtful",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("seed_share_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(range) = context.limit("habit of stages", "inoculation") else { return };
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        let worked = &context.first().stages[index];
        let seed = context.worked.culture_mass(worked);
        let Some(share) = seed.over(&worked.basis).filter(|share| !share.is_zero()) else {
            continue;
        };
        let odd = odd_line(context, stage).filter(|_| {
            let least = context.limit("habit of stages", "odd inoculation");
            least.is_some_and(|least| !least.holds(&share))
        });
        if !range.holds(&share) || odd.is_some() {
            let mut said = Finding::new(
                &RULE,
                stage.name.span,
                format!(
                    "`{}` is started with {} % of culture on its flour",
                    stage.name.shown,
                    percent(&share, 2)
                ),
            )
            .note(format!("{} is usual", show_range(&range)))
            .help(
                "check the culture's amount; it is a percentage of the new flour in the \
                    stage",
            );
            if let Some((quantity, meant)) = odd {
                said = said
                    .help(format!("the other lines are percentages: was `{meant}` meant?"))
                    .repair(quantity.span, meant, false);
            }
            findings.push(said);
        }
    }
}

/// A weight of culture among percentages that would be usual as one of them.
fn odd_line<'t>(context: &Context, stage: &'t Stage) -> Option<(&'t Quantity, String)> {
    let written = |line: &'t Line| match &line.amount {
        Amount::Measured { range, .. } => range.low.as_ref(),
        _ => None,
    };
    let lines = || stage.mix.lines.iter().filter_map(|line| Some((line, written(line)?)));
    let mut weights = lines().filter(|(_, quantity)| quantity.unit.dimension() == Dimension::Mass);
    let (Some((line, quantity)), None) = (weights.next(), weights.next()) else { return None };
    let shares = lines().filter(|(_, quantity)| quantity.unit == Unit::Percent).count();
    let is_seed = context.house.culture_named(&line.target.name.key).is_some();
    let usual = context.limit("habit of stages", "usual inoculation")?;
    let as_share = quantity.number.one_in::<100>();
    let fits = is_seed && shares > 1 && usual.holds(&as_share);
    fits.then(|| (quantity, format!("{}%", trimmed(&quantity.number, 2))))
}
