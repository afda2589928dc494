//! `no-flour`: a dough without flour.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};

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
    if context.flour().is_zero() {
        let help = "every percentage is of the flour; starches can stand in for it: \
                    `counts as flour potato starch`";
        findings.push(Finding::new(&RULE, mix.span, "this dough has no flour").help(help));
    }
}
