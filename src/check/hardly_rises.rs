//! `hardly-rises`: so little yeast or culture that the written hours raise nothing.

use super::context::Context;
use super::limits;
use super::slips;
use super::usual::{is_in_shares, likely, offer};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Figure, LineRef};
use crate::quantity::display::{minutes, percent, trimmed};
use crate::quantity::{Dimension, Exact, Range, int};
use crate::syntax::tree::{Amount, Extent, Line, Phase, Step, Verb};

/// `hardly-rises`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "hardly-rises",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("hardly_rises.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if context.flour().is_zero() || context.main_mix().is_none() || rises_otherwise(context) {
        return;
    }
    if slips::looks_instant(context) {
        return;
    }
    let yeast = context.share(&Figure::YeastAsFresh).unwrap_or_default();
    let numbers = context.first();
    let sour = context.of_flour(&context.worked.culture_fermented_flour(numbers));
    match (yeast.is_zero(), sour.is_zero()) {
        (false, true) if !ferments_beforehand(context) => with_yeast(context, &yeast, findings),
        (true, false) => with_culture(context, &sour, findings),
        _ => {}
    }
}

/// Whether powder, old dough or another formula raises it too.
fn rises_otherwise(context: &Context) -> bool {
    let numbers = context.first();
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    stages.chain(&numbers.dough_lines).any(|line| match line.goes {
        LineRef::OldDough | LineRef::SideMix(_) => true,
        LineRef::Ingredient(id) => context.house.ingredient(id).class == Class::Leavener,
        _ => false,
    })
}

/// In a preferment yeast multiplies.
fn ferments_beforehand(context: &Context) -> bool {
    context.worked.formula.stages.iter().any(|stage| stage.kind.ferments())
}

fn with_yeast(context: &Context, yeast: &Exact, findings: &mut Vec<Finding>) {
    let Some(line) = context.class_line(Class::Yeast) else { return };
    let Some(ingredient) = context.house.ingredient_named(&line.target.name.key) else { return };
    let name = &line.target.name.shown;
    let Some(fresh) = context.limit("habit of rising", "usual yeast") else { return };
    let usual = Range {
        low: fresh.low.and_then(|low| low.over(&ingredient.as_fresh_yeast())),
        high: fresh.high.and_then(|high| high.over(&ingredient.as_fresh_yeast())),
    };
    let own = context.of_flour(&context.class(Class::Yeast));
    let meant = || likely(context, line, ingredient, &own, &usual);
    let Some(hours) = rising(context) else {
        let odd = is_in_shares(context) && is_mass(line);
        let name_of_bound = if odd { "odd yeast" } else { "yeast untimed" };
        let least = context.limit("habit of rising", name_of_bound);
        if least.is_some_and(|least| !least.holds(yeast)) {
            let said = format!(
                "`{name}` is {} % of the flour, which is hardly enough to raise the dough",
                percent(&own, 3)
            );
            let said = Finding::new(&RULE, line.span, said)
                .help("about 1 % of dry yeast is usual, or 2 % of fresh");
            findings.push(offer(said, name, meant()));
        }
        return;
    };
    let dose = yeast * &hours;
    let Some(level) = level(context, "yeast", &dose) else { return };
    let said = Finding::new(
        &RULE,
        line.span,
        format!(
            "{} % of yeast (as fresh) in {} raises hardly anything",
            percent(yeast, 3),
            told(&hours)
        ),
    )
    .level(level)
    .note(format!(
        "{} % × {} h = {}; {} or more is usual (French practice: 1 % for 3 h, 0.2 % for 15 h)",
        percent(yeast, 3),
        trimmed(&hours, 1),
        percent(&dose, 2),
        usual_dose("usual yeast dose")
    ))
    .help("give it more yeast or more time");
    findings.push(offer(said, name, meant()));
}

fn with_culture(context: &Context, sour: &Exact, findings: &mut Vec<Finding>) {
    let (Some(hours), Some(mix)) = (rising(context), context.main_mix()) else { return };
    let dose = sour * &hours;
    let Some(level) = level(context, "culture", &dose) else { return };
    let formula = &context.worked.formula;
    let is_seed = |line: &&Line| {
        context.house.culture_named(&line.target.name.key).is_some()
            || formula.stages.iter().any(|stage| stage.name.key == line.target.name.key)
    };
    let span = mix.lines.iter().find(is_seed).map_or(mix.span, |line| line.span);
    findings.push(
        Finding::new(
            &RULE,
            span,
            format!(
                "{} % of the flour is fermented by a culture, which is hardly enough to raise \
                it in {}",
                percent(sour, 2),
                told(&hours)
            ),
        )
        .level(level)
        .note(format!(
            "{} % × {} h = {}; {} or more is usual (Hamelman, Vermont sourdough: 15 % in 5 h is \
            75)",
            percent(sour, 2),
            trimmed(&hours, 1),
            percent(&dose, 1),
            usual_dose("usual culture dose")
        ))
        .help("give it more levain or more time"),
    );
}

fn is_mass(line: &Line) -> bool {
    matches!(&line.amount, Amount::Measured { range, .. }
        if range.low.as_ref().is_some_and(|low| low.unit.dimension() == Dimension::Mass))
}

fn told(hours: &Exact) -> String {
    format!(
        "{} of warmth",
        minutes(&crate::quantity::display::to_step(&(hours * int(60)), &int(5)))
    )
}

/// Per cent of the flour times hours.
fn usual_dose(name: &str) -> String {
    percent(&limits::least("habit of rising", name).unwrap_or_default(), 1)
}

fn level(context: &Context, what: &str, dose: &Exact) -> Option<Level> {
    let is_below = |group: &str| context.limit(group, what).is_some_and(|least| !least.holds(dose));
    match (is_below("physics of rising"), is_below("habit of rising")) {
        (true, _) => Some(Level::Error),
        (_, true) => Some(Level::Warning),
        _ => None,
    }
}

/// The hours for which the dough stands, those in the cold for a part; none where the
/// method does not say.
fn rising(context: &Context) -> Option<Exact> {
    let method = context.worked.formula.method.as_ref()?;
    let mixed = method.steps.iter().skip_while(|step| step.verb != Verb::Mix);
    let raw = mixed.take_while(|step| !matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam));
    let mut minutes = Exact::ZERO;
    let mut is_said = false;
    for step in raw {
        for phase in &step.phases {
            let Some(time) = phase.duration.as_deref() else {
                // Open ends may be as long as they like.
                if waits(step) {
                    return None;
                }
                continue;
            };
            is_said |= waits(step);
            minutes += longest(context, time)? * warmth(context, step, phase);
        }
    }
    is_said.then(|| minutes.one_in::<60>())
}

fn waits(step: &Step) -> bool {
    matches!(step.verb, Verb::Bulk | Verb::Proof | Verb::Retard)
}

fn longest(context: &Context, time: &Extent) -> Option<Exact> {
    time.high.as_ref().map(|high| context.base(high))
}

/// What an hour counts: in the cold, a part.
fn warmth(context: &Context, step: &Step, phase: &Phase) -> Exact {
    let at = phase.at.as_deref();
    let part = |name| context.number("habit of rising", name).unwrap_or(Exact::ONE);
    if context.is_kept_cold(step, phase) || context.is_colder(at, "very cold") {
        return part("very cold hours");
    }
    if context.is_colder(at, "cold") { part("cold hours") } else { Exact::ONE }
}
