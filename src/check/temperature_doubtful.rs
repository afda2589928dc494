//! `temperature-doubtful`: a temperature that nobody would set.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;
use crate::quantity::{Unit, int};
use crate::syntax::tree::{Extent, Phase, Verb};

pub const RULE: Rule = Rule {
    name: "temperature-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("temperature_doubtful.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.living_steps() {
        for to in step.phases.iter().filter_map(|phase| phase.to.as_ref()) {
            dough(context, to, findings);
        }
    }
    for step in context.steps() {
        for phase in &step.phases {
            if let (Verb::Bake, Some(at)) = (step.verb, &phase.at) {
                oven(context, phase, at, findings);
            }
        }
    }
}

fn dough(context: &Context, to: &Extent, findings: &mut Vec<Finding>) {
    for quantity in to.low.iter().chain(&to.high).take(if to.ranged { 2 } else { 1 }) {
        let celsius = context.base(quantity);
        // Above 45 °C yeast dies: that is another finding.
        if celsius > int(35) && celsius <= int(45) || celsius < int(15) {
            findings.push(
                Finding::new(
                    &RULE,
                    quantity.span,
                    format!("a dough of {} °C is unusual", trimmed(&celsius, 1)),
                )
                .note("usual is 15–35 °C")
                .help("is it the room or the oven that is meant? That is `at`, not `to`"),
            );
        }
    }
}

fn oven(context: &Context, phase: &Phase, at: &Extent, findings: &mut Vec<Finding>) {
    let short = phase.duration.as_ref().and_then(|time| time.high.as_ref().or(time.low.as_ref()));
    let short = short.is_some_and(|time| context.base(time) < int(5));
    let pizza = context.worked.formula.style.as_ref().is_some_and(|style| style.key == "pizza");
    for quantity in at.low.iter().chain(&at.high).take(if at.ranged { 2 } else { 1 }) {
        let celsius = context.base(quantity);
        let hot = celsius > int(300) && !pizza && !short;
        if celsius > int(500) || celsius < int(80) || hot {
            let level = if celsius > int(500) { Level::Error } else { Level::Warning };
            let mut said = Finding::new(
                &RULE,
                quantity.span,
                format!("an oven at {} °C is doubtful", trimmed(&celsius, 0)),
            )
            .level(level)
            .note("usual is 80–300 °C");
            said = match quantity.unit {
                Unit::Celsius if celsius > int(300) => {
                    said.help(format!("is °F meant: `{}F`?", trimmed(&quantity.number, 0)))
                }
                _ => said.help("correct the temperature"),
            };
            findings.push(said);
        }
    }
}
