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
    for stage in context.worked.formula.stages.iter().filter(|stage| stage.kind.ferments()) {
        for at in stage.ripens.iter().chain(&stage.keeps).filter_map(|wait| wait.at.as_ref()) {
            room(context, at, findings);
        }
    }
    for step in context.living_steps() {
        for to in step.phases.iter().filter_map(|phase| phase.to.as_ref()) {
            dough(context, to, findings);
        }
        for at in step.phases.iter().filter_map(|phase| phase.at.as_ref()) {
            if keeps_dough(step.verb) {
                room(context, at, findings);
            }
            if matches!(step.verb, Verb::Retard | Verb::Chill) {
                cold(context, at, findings);
            }
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

/// Steps in which a raw dough stands or is worked in the air of a room.
fn keeps_dough(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Mix
            | Verb::Rest
            | Verb::Fold
            | Verb::Bulk
            | Verb::Divide
            | Verb::Preshape
            | Verb::Shape
            | Verb::Pan
            | Verb::Proof
            | Verb::Retard
            | Verb::Chill
    )
}

/// Where a dough stands: yeast dies above 45 °C, the bound that a dough's own heat has too
/// (common practice, no source).
fn room(context: &Context, at: &Extent, findings: &mut Vec<Finding>) {
    for quantity in at.low.iter().chain(&at.high).take(if at.ranged { 2 } else { 1 }) {
        let celsius = context.base(quantity);
        if celsius <= int(45) {
            continue;
        }
        let said = Finding::new(
            &RULE,
            quantity.span,
            format!("a dough that stands at {} °C is doubtful", trimmed(&celsius, 0)),
        )
        .note("yeast and cultures die above 45 °C");
        let fahrenheit = (&celsius - int(32)) * int(5) / int(9);
        findings.push(match quantity.unit {
            Unit::Celsius if fahrenheit <= int(45) => {
                let meant = format!("{}F", trimmed(&quantity.number, 0));
                said.help(format!("is °F meant: `{meant}`?")).repair(quantity.span, meant, false)
            }
            _ => said.help("is a digit too many in it, or the oven meant?"),
        });
    }
}

/// What is retarded or chilled stands in the cold: above a cool cellar's 18 °C it does not
/// (common practice, no source).
fn cold(context: &Context, at: &Extent, findings: &mut Vec<Finding>) {
    let Some(warmest) = at.high.as_ref().or(at.low.as_ref()) else { return };
    let celsius = context.base(warmest);
    if celsius <= int(18) || celsius > int(45) {
        return;
    }
    let said = Finding::new(
        &RULE,
        warmest.span,
        format!("at {} °C nothing is retarded or chilled", trimmed(&celsius, 0)),
    )
    .note("a refrigerator has 2–8 °C, a cool cellar up to 18 °C");
    findings.push(match warmest.unit {
        Unit::Celsius if celsius >= int(35) => {
            let meant = format!("{}F", trimmed(&warmest.number, 0));
            said.help(format!("is °F meant: `{meant}`?")).repair(warmest.span, meant, false)
        }
        _ => said.help("is it a `bulk` or a `proof`?"),
    });
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
                    let meant = format!("{}F", trimmed(&quantity.number, 0));
                    said.help(format!("is °F meant: `{meant}`?")).repair(
                        quantity.span,
                        meant,
                        false,
                    )
                }
                _ => said.help("correct the temperature"),
            };
            findings.push(said);
        }
    }
}
