//! `temperature-doubtful`: a temperature that nobody would set.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{celsius as shown, celsius_range};
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;
use crate::quantity::{Exact, Range, Unit, int};
use crate::syntax::tree::{Extent, Method, Quantity, Step, Verb};

/// `temperature-doubtful`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "temperature-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("temperature_doubtful.md"),
};

const HABIT: &str = "habit of temperatures";
const PHYSICS: &str = "physics of temperatures";

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for stage in context.worked.formula.stages.iter().filter(|stage| stage.kind.ferments()) {
        let waits = stage.ripens.iter().map(|wait| ("ripens", wait));
        let waits = waits.chain(stage.keeps.iter().map(|wait| ("keeps", wait)));
        for (word, at) in waits.filter_map(|(word, wait)| Some((word, wait.at.as_ref()?))) {
            stands(context, word, at, findings);
        }
    }
    for step in context.living_steps() {
        for to in step.phases.iter().filter_map(|phase| phase.to.as_ref()) {
            dough(context, to, findings);
        }
    }
    for step in raw_steps(context) {
        for at in step.phases.iter().filter_map(|phase| phase.at.as_ref()) {
            if let Some(word) = bound_of(step.verb) {
                stands(context, word, at, findings);
            }
        }
    }
    for step in baked_steps(context) {
        for at in step.phases.iter().filter_map(|phase| phase.at.as_ref()) {
            match step.verb {
                Verb::Freeze => stands(context, "freeze", at, findings),
                Verb::Retard | Verb::Chill => stands(context, "chill", at, findings),
                Verb::Rest | Verb::Proof | Verb::Mature | Verb::Pack | Verb::Slice => {
                    hot(context, step, ("kept", "a place to keep bread in"), findings);
                    break;
                }
                _ => {}
            }
        }
    }
    for step in context.steps() {
        match step.verb {
            Verb::Bake | Verb::Preheat => oven(context, step, findings),
            Verb::Fry => hot(context, step, ("fry", "fat"), findings),
            Verb::Boil => hot(context, step, ("boil", "a bath"), findings),
            Verb::Cool => {
                hot(context, step, ("cool", "a place to cool in"), findings);
                cooled(context, step, findings);
            }
            _ => {}
        }
        core(context, step, findings);
    }
}

/// The steps of living mixes up to the oven: what is baked may rest and stand anywhere.
fn raw_steps<'c>(context: &'c Context) -> impl Iterator<Item = &'c Step> {
    let formula = &context.worked.formula;
    let stages = formula.stages.iter().enumerate();
    let stages = stages.filter(|(index, _)| context.is_alive(Some(*index)));
    let stages = stages.filter_map(|(_, stage)| stage.method.as_ref());
    let own = formula.method.iter().filter(|_| context.is_alive(None));
    let is_raw = |step: &&Step| !matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam);
    let steps = move |method: &'c Method| {
        // Of what is baked twice, the later bake is the last.
        let last =
            method.steps.iter().rposition(|step| !is_raw(&step)).unwrap_or(method.steps.len());
        method.steps[..last].iter().filter(is_raw)
    };
    stages.chain(own).flat_map(steps)
}

/// The steps after the last heat.
fn baked_steps<'c>(context: &'c Context) -> impl Iterator<Item = &'c Step> {
    let is_heat = |step: &Step| matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam);
    let steps = context.worked.formula.method.as_ref().map_or(&[][..], |method| &method.steps);
    let last = steps.iter().rposition(is_heat).unwrap_or(steps.len());
    steps.iter().skip(last + 1)
}

/// The name of a verb's bound in the store.
fn bound_of(verb: Verb) -> Option<&'static str> {
    Some(match verb {
        Verb::Bulk => "bulk",
        Verb::Proof => "proof",
        Verb::Rest => "rest",
        Verb::Retard => "retard",
        Verb::Chill => "chill",
        Verb::Freeze => "freeze",
        Verb::Mix | Verb::Fold | Verb::Divide | Verb::Preshape | Verb::Shape | Verb::Pan => "work",
        _ => return None,
    })
}

/// Both ends of what is written, once where they are one.
fn ends(at: &Extent) -> impl Iterator<Item = &Quantity> {
    at.low.iter().chain(&at.high).take(if at.ranged { 2 } else { 1 })
}

fn dough(context: &Context, to: &Extent, findings: &mut Vec<Finding>) {
    let (Some(usual), Some(possible)) =
        (context.limit(HABIT, "worked"), context.limit(PHYSICS, "worked"))
    else {
        return;
    };
    for quantity in ends(to) {
        let celsius = context.base(quantity);
        // Hotter than that yeast dies: that is another finding.
        let is_hot = possible.high.as_ref().is_some_and(|high| celsius > *high);
        if is_hot || usual.holds(&celsius) {
            continue;
        }
        let said = Finding::new(
            &RULE,
            quantity.span,
            format!("a dough of {} is unusual", shown(&celsius, 1)),
        )
        .level(if possible.holds(&celsius) { Level::Warning } else { Level::Error })
        .note(format!("{} is usual", show(&usual)))
        .help("is it the room or the oven that is meant? That is `at`, not `to`");
        findings.push(other_scale(said, quantity, &usual));
    }
}

/// Where raw dough stands.
fn stands(context: &Context, word: &str, at: &Extent, findings: &mut Vec<Finding>) {
    let (Some(usual), Some(possible)) =
        (context.limit(HABIT, word), context.limit(PHYSICS, "stands"))
    else {
        return;
    };
    for quantity in ends(at) {
        let celsius = context.base(quantity);
        if usual.holds(&celsius) {
            continue;
        }
        let is_killed = possible.high.as_ref().is_some_and(|high| celsius > *high);
        let is_frozen = possible.low.as_ref().is_some_and(|low| celsius < *low);
        let is_error = is_killed || (is_frozen && word != "freeze");
        let mut said = Finding::new(&RULE, quantity.span, message(word, &celsius))
            .level(if is_error { Level::Error } else { Level::Warning })
            .note(format!("{} is usual", show(&usual)))
            .help(help(word, &celsius, &usual));
        if let Some(most) = possible.high.as_ref().filter(|_| is_killed) {
            said = said.note(format!("yeast and cultures die above {}", shown(most, 0)));
        }
        findings.push(other_scale(said, quantity, &warm(context, word, &usual)));
    }
}

/// What may be meant of a step in a room: nobody writes the cold for it.
fn warm(context: &Context, word: &str, usual: &Range) -> Range {
    let cold = context.limit(HABIT, "cold").and_then(|cold| cold.high);
    let in_the_cold = matches!(word, "retard" | "chill" | "freeze");
    Range { low: if in_the_cold { usual.low.clone() } else { cold }, high: usual.high.clone() }
}

fn message(word: &str, celsius: &Exact) -> String {
    let shown = shown(celsius, 0);
    match word {
        "ripens" | "keeps" => format!("a stage that {word} at {shown} is doubtful"),
        "retard" | "chill" if *celsius > int(0) => {
            format!("at {shown} nothing is retarded or chilled")
        }
        "freeze" => format!("at {shown} nothing is frozen"),
        _ => format!("a dough that stands at {shown} is doubtful"),
    }
}

fn help(word: &str, celsius: &Exact, usual: &Range) -> &'static str {
    let is_cold = usual.low.as_ref().is_some_and(|low| celsius < low);
    match word {
        "freeze" if is_cold => "check the number",
        "freeze" => "is it a `chill`, or is a minus missing?",
        _ if is_cold => "is it a `freeze`, or is a digit missing?",
        "retard" | "chill" => "is it a `bulk` or a `proof`?",
        _ => "is there a digit too many, or is the oven meant?",
    }
}

/// Offers the other scale where the same number is usual in it.
fn other_scale(said: Finding, quantity: &Quantity, usual: &Range) -> Finding {
    let unit = match quantity.unit {
        Unit::Celsius => Unit::Fahrenheit,
        _ => Unit::Celsius,
    };
    let celsius = unit.to_base(&quantity.number, Default::default());
    if !usual.holds(&celsius) {
        return said;
    }
    let meant = format!("{}{}", trimmed(&quantity.number, 1), unit.spelling());
    let scale = if unit == Unit::Fahrenheit { "°F" } else { "°C" };
    said.help(format!("is {scale} meant: `{meant}`?")).repair(quantity.span, meant, false)
}

fn show(usual: &Range) -> String {
    match (&usual.low, &usual.high) {
        (Some(low), Some(high)) => celsius_range(low, high, 0),
        (Some(low), None) => format!("{} or more", shown(low, 0)),
        (None, Some(high)) => format!("up to {}", shown(high, 0)),
        (None, None) => "any".into(),
    }
}

/// An oven that burns, and one that never bakes.
fn oven(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    let limit = |name| context.limit("habit of ovens", name);
    let (Some(usual), Some(bakes)) = (limit("oven"), limit("bakes")) else { return };
    let Some(possible) = context.limit("physics of ovens", "oven") else { return };
    let is_raw = stays_raw(context, step, &bakes);
    let style = context.worked.formula.style.as_ref();
    let of_style = style.and_then(|style| context.limit("habit of style ovens", &style.key));
    let shortest = limit("short").and_then(|short| short.high).unwrap_or_default();
    for phase in &step.phases {
        let Some(at) = &phase.at else { continue };
        let time =
            phase.duration.as_ref().and_then(|time| time.high.as_ref().or(time.low.as_ref()));
        let is_short = time.is_some_and(|time| context.base(time) < shortest);
        for quantity in ends(at) {
            let celsius = context.base(quantity);
            let is_hot = usual.high.as_ref().is_some_and(|high| celsius > *high);
            let is_allowed = is_hot
                && (is_short && possible.holds(&celsius)
                    || of_style.as_ref().is_some_and(|own| own.holds(&celsius)));
            if (usual.holds(&celsius) && !is_raw) || is_allowed {
                continue;
            }
            let is_error = is_raw || !possible.holds(&celsius);
            let message = match is_raw {
                true => format!("an oven at {} leaves bread raw", shown(&celsius, 0)),
                false => format!("an oven at {} is doubtful", shown(&celsius, 0)),
            };
            let said = Finding::new(&RULE, quantity.span, message)
                .level(if is_error { Level::Error } else { Level::Warning })
                .note(format!("{} is usual", show(if is_raw { &bakes } else { &usual })))
                .help("correct the temperature");
            let usual = Range { low: bakes.low.clone(), high: usual.high.clone() };
            findings.push(other_scale(said, quantity, &usual));
        }
    }
}

/// Whether no phase of a bake is hot enough, and it does not stay in for hours.
fn stays_raw(context: &Context, step: &Step, bakes: &Range) -> bool {
    let hot = |at: &Extent| ends(at).any(|end| bakes.holds(&context.base(end)));
    let is_cool = step.phases.iter().all(|phase| phase.at.as_ref().is_some_and(|at| !hot(at)));
    let other = |other: &&Step| other.verb == Verb::Bake && !std::ptr::eq(*other, step);
    let baked_elsewhere = context
        .steps()
        .filter(other)
        .any(|other| other.phases.iter().any(|phase| phase.at.as_ref().is_none_or(|at| hot(at))));
    let longest = step.phases.iter().try_fold(Exact::ZERO, |sum, phase| {
        let time = phase.duration.as_ref()?;
        Some(sum + context.base(time.high.as_ref()?))
    });
    let dries = context.number("habit of ovens", "dries").unwrap_or_default();
    is_cool && !baked_elsewhere && longest.is_some_and(|longest| longest < dries)
}

/// What pieces are cooked in, by the name of its bounds and as it is called.
fn hot(
    context: &Context,
    step: &Step,
    (bounds, called): (&str, &str),
    findings: &mut Vec<Finding>,
) {
    let Some(usual) = context.limit(HABIT, bounds) else { return };
    let possible = context.limit(PHYSICS, bounds);
    for quantity in step.phases.iter().filter_map(|phase| phase.at.as_ref()).flat_map(|at| ends(at))
    {
        let celsius = context.base(quantity);
        if usual.holds(&celsius) {
            continue;
        }
        let is_error = possible.as_ref().is_some_and(|possible| !possible.holds(&celsius));
        let said = Finding::new(
            &RULE,
            quantity.span,
            format!("{called} at {} is doubtful", shown(&celsius, 0)),
        )
        .level(if is_error { Level::Error } else { Level::Warning })
        .note(format!("{} is usual", show(&usual)))
        .help(match is_error {
            true if usual.high.as_ref().is_some_and(|high| celsius > *high) => {
                "fat this hot smokes and burns: correct the number"
            }
            true => "fat this cool fries nothing, and the inside stays raw: correct the number",
            false => "correct the temperature",
        });
        findings.push(other_scale(said, quantity, &usual));
    }
}

/// Bread that is said to have cooled, and is as hot as from the oven.
fn cooled(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    let Some(usual) = context.limit(HABIT, "cooled") else { return };
    let until = step.phases.iter().flat_map(|phase| &phase.until);
    for quantity in until.filter_map(crate::syntax::tree::Until::core) {
        let celsius = context.base(quantity);
        if usual.holds(&celsius) {
            continue;
        }
        let message = format!("bread of {} has not cooled", shown(&celsius, 0));
        let said = Finding::new(&RULE, quantity.span, message);
        let said = said.note(format!("{} is usual", show(&usual)));
        findings.push(said.help("is it the core at the end of the bake? It belongs to that step"));
    }
}

fn core_of(doughs: &str) -> String {
    limits::bound("habit", doughs).as_ref().map(limits::show_celsius).unwrap_or_default()
}

/// The heat inside that a bake ends with.
fn core(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    if !matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam) {
        return;
    }
    let (Some(usual), Some(possible)) =
        (context.limit("habit", "core"), context.limit("physics", "core"))
    else {
        return;
    };
    for quantity in step
        .phases
        .iter()
        .flat_map(|phase| &phase.until)
        .filter_map(crate::syntax::tree::Until::core)
    {
        let celsius = context.base(quantity);
        if usual.holds(&celsius) {
            continue;
        }
        let is_raw = usual.low.as_ref().is_some_and(|low| celsius < *low);
        let message = match is_raw {
            true => format!("bread with {} inside is raw", shown(&celsius, 0)),
            false => {
                format!("the inside of bread never reaches {}: its water boils", shown(&celsius, 0))
            }
        };
        let said = Finding::new(&RULE, quantity.span, message)
            .level(if possible.holds(&celsius) { Level::Warning } else { Level::Error })
            .note(format!(
                "{} is usual, in rich doughs {}",
                core_of("core of lean doughs"),
                core_of("core of rich doughs")
            ))
            .help("correct the temperature");
        findings.push(other_scale(said, quantity, &usual));
    }
}
