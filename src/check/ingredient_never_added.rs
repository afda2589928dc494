//! `ingredient-never-added`: something in the mix that no step adds.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Trouble;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "ingredient-never-added",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("ingredient_never_added.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (method, trouble) in context.method_troubles() {
        let Trouble::Never { name, missing, line_span, beside } = trouble else { continue };
        let how = match missing.is_one() {
            true => format!("no step adds `{name}`"),
            false => format!("{} % of `{name}` is added by no step", percent(missing, 1)),
        };
        let help = match (missing.is_one(), beside) {
            (_, true) => format!("say where it goes on: `top with {name}`"),
            (true, false) => {
                format!("say where it goes in: `mix 6min with {name}`, or `everything else`")
            }
            (false, false) => format!("say where the rest goes in: `with remaining {name}`"),
        };
        let said = Finding::new(&RULE, *line_span, how).label(method.span, "none of these steps");
        findings.push(said.help(help));
    }
}
