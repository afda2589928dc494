//! `missing-salt`: a dough with flour and without salt.

use super::context::Context;
use super::limits;
use super::salt::unweighed;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::Unit;
use crate::quantity::display::{percent, trimmed};
use crate::syntax::tree::{Amount, Line};

/// `missing-salt`, an error about salt.
pub const RULE: Rule = Rule {
    name: "missing-salt",
    level: Level::Error,
    group: Group::Salt,
    page: include_str!("missing_salt.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    if context.flour().is_zero() || context.style_goes_without("salt") {
        return;
    }
    let Some(usual) = limits::number("habit", "usual salt") else { return };
    if context.class(Class::Salt).is_zero() && unweighed(context).is_none() {
        let mut said =
            Finding::new(&RULE, mix.span, "this dough has no salt")
                .help(format!("add a line, `salt {}%` as a rule; if it is meant so: `allow missing-salt \"the reason\"`", percent(&usual, 1)));
        let is_share = |line: &Line| {
            matches!(&line.amount, Amount::Measured { range, .. }
                if range.low.as_ref().is_some_and(|low| low.unit == Unit::Percent))
        };
        if let Some(last) = mix.lines.last() {
            let amount = match mix.lines.iter().any(is_share) {
                true => format!("{}%", percent(&usual, 1)),
                false => format!("{} g", trimmed(&(context.flour() * usual), 0)),
            };
            said = said.repair(last.span.after(), format!("; salt {amount}"), false);
        }
        findings.push(said);
    }
}
