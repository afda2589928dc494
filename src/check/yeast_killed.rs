//! `yeast-killed`: a dough so hot that what raises it dies.

use super::context::Context;
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{LineRef, Within, WorkedLine, main_mix, plain};
use crate::quantity::{Exact, int};
use crate::syntax::asides::warmth;
use crate::syntax::tree::{Line, Method, Mix};

/// `yeast-killed`, an error about the method.
pub const RULE: Rule = Rule {
    name: "yeast-killed",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("yeast_killed.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(most) =
        context.limit("physics of temperatures", "worked").and_then(|worked| worked.high)
    else {
        return;
    };
    poured_hot(context, &most, findings);
    for step in context.living_steps() {
        // `step "preheat the oven" to 230C` heats no dough.
        if step.text.as_ref().is_some_and(|text| is_of_the_oven(&plain(text))) {
            continue;
        }
        for to in step.phases.iter().filter_map(|phase| phase.to.as_ref()) {
            let Some(quantity) = to.high.as_ref().or(to.low.as_ref()) else { continue };
            if context.base(quantity) > most {
                findings.push(
                    Finding::new(
                        &RULE,
                        quantity.span,
                        format!(
                            "at {} the yeast or the culture dies",
                            celsius(&context.base(quantity), 0)
                        ),
                    )
                    .note(format!(
                        "above {} no yeast lives long; common practice, no source",
                        celsius(&most, 0)
                    ))
                    .help("is °F meant, or the oven?"),
                );
            }
        }
    }
}

/// Whether a step without a verb of its own is about the oven: its words begin with one for
/// heating it up, in five languages.
fn is_of_the_oven(text: &str) -> bool {
    let text = text.to_lowercase();
    let heats = ["preheat", "pre-heat", "heat the oven", "heat your oven", "turn the oven on"];
    let abroad = [
        "ofen vorheizen",
        "backofen vorheizen",
        "den ofen",
        "den backofen",
        "préchauffe",
        "preriscalda",
        "precalienta",
        "precalentar",
    ];
    heats.iter().chain(&abroad).any(|begins| text.starts_with(begins))
}

/// Liquids that are said to be so hot that what is alive in the mix dies of them: `boiling
/// water` in a dough with yeast.
fn poured_hot(context: &Context, most: &Exact, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    if let Some(mix) = main_mix(formula) {
        let mixed = (mix, formula.method.as_ref(), Within::FinalDough);
        poured_into(context, mixed, &context.first().dough_lines, most, findings);
    }
    for (index, stage) in formula.stages.iter().enumerate() {
        let Some(worked) = context.first().stages.get(index) else { continue };
        let mixed = (&stage.mix, stage.method.as_ref(), Within::Stage(index));
        poured_into(context, mixed, &worked.lines, most, findings);
    }
}

type Mixed<'m> = (&'m Mix, Option<&'m Method>, Within);

fn poured_into(
    context: &Context,
    (mix, method, within): Mixed,
    lines: &[WorkedLine],
    most: &Exact,
    findings: &mut Vec<Finding>,
) {
    let hot = |line: &WorkedLine| {
        let declared = line.line.and_then(|index| mix.lines.get(index))?;
        let warmth = int(i64::from(said_warmth(context, line, declared)?));
        (warmth > *most).then_some((declared, warmth))
    };
    // Nearly always nothing is hot, and then nothing is worked out.
    if lines.iter().all(|line| hot(line).is_none()) {
        return;
    }
    let steps: Vec<Vec<WorkedLine>> = match method {
        Some(method) => {
            let added = context.worked.additions(method, within).steps;
            added.into_iter().map(|step| step.into_iter().map(|it| it.line).collect()).collect()
        }
        None => vec![lines.to_vec()],
    };
    let mut alive = false;
    for step in &steps {
        alive |= step.iter().any(|line| is_living(context, line));
        for (line, warmth) in step.iter().filter_map(hot).filter(|_| alive) {
            findings.push(killed_by(line, &warmth, most));
        }
    }
}

/// Degrees Celsius that a liquid is said to have, by its note or its role.
fn said_warmth(context: &Context, line: &WorkedLine, declared: &Line) -> Option<u32> {
    let LineRef::Ingredient(id) = line.goes else { return None };
    let class = context.house.ingredient(id).class;
    let pours = matches!(class, Class::Water | Class::Dairy | Class::Liquid);
    let role = || declared.target.role.as_ref().and_then(|role| warmth(&role.shown));
    let note = declared.note.as_ref().and_then(|note| warmth(&plain(note)));
    note.or_else(role).filter(|_| pours)
}

fn is_living(context: &Context, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Culture(_) | LineRef::OldDough => true,
        LineRef::Stage(stage) => context.is_alive(Some(stage)),
        LineRef::Ingredient(id) => context.house.ingredient(id).class == Class::Yeast,
        _ => false,
    }
}

fn killed_by(line: &Line, warmth: &Exact, most: &Exact) -> Finding {
    let name = &line.target.name.shown;
    let said = if *warmth >= int(100) { "boiling" } else { "hot" };
    Finding::new(
        &RULE,
        line.span,
        format!("`{name}` goes in {said}, where there is yeast or a culture"),
    )
    .note(format!("above {} no yeast lives long; common practice, no source", celsius(most, 0)))
    .help(
        "let it cool to lukewarm first, or pour it over flour or seeds in a `scald` or a \
             `soaker`, which cools before it goes in",
    )
}
