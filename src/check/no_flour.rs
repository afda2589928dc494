//! `no-flour`: a dough without flour.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::Exact;

/// `no-flour`, an error about sums.
pub const RULE: Rule = Rule {
    name: "no-flour",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_flour.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let Some(mix) = context.main_mix() else {
        if !context.first().whole.mass().is_zero() {
            return;
        }
        findings.push(
            Finding::new(
                &RULE,
                formula.name.span,
                format!("`{}` does not say what is in it", formula.name.shown),
            )
            .help("add a block `total { … }`, or `dough { … }`, or pieces made of other formulas"),
        );
        return;
    };
    if context.flour().is_zero() && !is_of_grain(context) {
        let help = "every percentage is of the flour; starches can stand in for it: \
                    `counts as flour potato starch`";
        findings.push(Finding::new(&RULE, mix.span, "this dough has no flour").help(help));
    }
}

/// Whether it is made of grain by weight and nothing ferments it, as oatcakes are: nothing in it
/// is a share of flour.
fn is_of_grain(context: &Context) -> bool {
    let grain = context.class(Class::Grain);
    let others = [Class::Water, Class::Dairy, Class::Liquid, Class::Fat, Class::Sugar, Class::Egg];
    let ferments = [Class::Yeast, Class::Culture].map(|class| context.class(class));
    !grain.is_zero()
        && ferments.iter().all(Exact::is_zero)
        && others.into_iter().all(|class| context.class(class) <= grain)
}
