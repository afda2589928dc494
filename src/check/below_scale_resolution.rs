//! `below-scale-resolution`: a weight too small for the scale.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{exactly, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::weighing::{Weighing, total_rows, weigh};
use crate::formula::{LineRef, SizedBy, WorkedLine};
use crate::quantity::display::{Scale, ounce, to_step};
use crate::quantity::{Dimension, Exact, System, half};
use crate::source::Span;
use crate::syntax::tree::{Amount, Line, Mix};
use std::cell::OnceCell;

/// `below-scale-resolution`, a warning about prints.
pub const RULE: Rule = Rule {
    name: "below-scale-resolution",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("below_scale_resolution.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let numbers = context.first();
    if numbers.anchor == SizedBy::Default {
        return;
    }
    let weighing = OnceCell::new();
    let printed = || weighing.get_or_init(|| weighed(context));
    for (index, stage) in formula.stages.iter().enumerate() {
        let worked = &numbers.stages[index];
        // The first feed is the smallest; what is told of it needs no telling twice.
        let first = findings.len();
        let feeds = worked.earlier.iter().map(|feed| &feed.lines).chain([&worked.lines]);
        for (feed, lines) in feeds.enumerate() {
            let mut more = Vec::new();
            let (one, name) = (&Exact::ONE, stage.name.span);
            let shown = |line: usize| {
                let earlier = printed().earlier_feeds.get(index)?.get(feed);
                let column = earlier.or_else(|| printed().stages.get(index));
                column?.lines.get(line).map(|shown| &shown.grams)
            };
            check_lines(context, lines, one, Some(&stage.mix), name, &shown, &mut more);
            more.retain(|said| findings[first..].iter().all(|known| known.span() != said.span()));
            findings.append(&mut more);
        }
    }
    let batch = Exact::ONE.each_of(&Exact::from(context.batches()));
    let span = formula.makes.as_ref().map_or(formula.span, |makes| makes.span);
    let shown = |line: usize| printed().batch.lines.get(line).map(|shown| &shown.grams);
    check_lines(context, &numbers.dough_lines, &batch, context.main_mix(), span, &shown, findings);
}

/// What every print shows of the formula's weights.
fn weighed(context: &Context) -> Weighing {
    let rows = total_rows(context.worked);
    let scale = &context.house.settings.scale;
    weigh(context.worked, context.batches(), scale, &rows)
}

fn check_lines<'p>(
    context: &Context,
    lines: &[WorkedLine],
    part: &Exact,
    mix: Option<&Mix>,
    otherwise: Span,
    printed: &dyn Fn(usize) -> Option<&'p Exact>,
    findings: &mut Vec<Finding>,
) {
    let most = |what| limits::most("habit of sums", what);
    let Some((within, of_yeast)) = most("weighed").zip(most("weighed yeast")) else { return };
    for (index, line) in lines.iter().enumerate() {
        // What goes in whole is not weighed.
        if !is_weighed_out(context, line) {
            continue;
        }
        // What is measured by spoons and pieces is not weighed.
        let declared = line.line.and_then(|line| mix?.lines.get(line));
        if declared.is_some_and(|line| !is_weighed(line)) {
            continue;
        }
        let mass = &line.mass * part;
        if mass.is_zero() {
            continue;
        }
        let step = finest(context, &mass);
        let slack = &mass * if is_yeast(context, line) { &of_yeast } else { &within };
        // What half a step is within needs no rounding.
        if &step * half() <= slack {
            continue;
        }
        let shown = to_step(&mass, &step);
        let change = &shown - &mass;
        if change.clone().max(-change) <= slack {
            continue;
        }
        let span =
            line.line.and_then(|line| mix?.lines.get(line)).map_or(otherwise, |line| line.span);
        let shown = printed(index).cloned().unwrap_or(shown);
        findings.push(
            Finding::new(
                &RULE,
                span,
                format!(
                    "{} of `{}` is too little for a scale that shows {}",
                    exactly(&mass),
                    line.name,
                    grams(&step)
                ),
            )
            .note(format!("rounded it is {}", grams(&shown)))
            .help(format!(
                "make a larger batch, or weigh it from a stock mixed 1 : 10 with water; a finer \
                 scale is declared in the bakehouse: `{}`",
                match context.house.settings.units.first {
                    System::Metric => "scale 1 g, 0.01 g below 10 g",
                    System::Us => "scale 0.125 oz, 0.001 oz below 1 oz",
                }
            )),
        );
    }
}

/// What is shown of a weight. Less than an ounce is printed in grams too, which small scales
/// show.
fn finest(context: &Context, mass: &Exact) -> Exact {
    let step = context.house.settings.scale.resolution(mass);
    let in_grams = context.house.settings.units.first == System::Us && *mass < ounce();
    match in_grams {
        true => step.min(Scale::default().resolution(mass)),
        false => step,
    }
}

/// Whether it is yeast, of which some hundredths more or less change little.
fn is_yeast(context: &Context, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Ingredient(id) => context.house.ingredient(id).class == Class::Yeast,
        _ => false,
    }
}

/// Whether a line is put on the scale: an ingredient that is no spice, a culture, a part of
/// a stage.
fn is_weighed_out(context: &Context, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Ingredient(id) => context.house.ingredient(id).class != Class::Spice,
        LineRef::Stage(stage) => context.first().stages[stage].made != line.mass,
        LineRef::Culture(_) | LineRef::OldDough | LineRef::SideMix(_) => true,
        LineRef::Nothing => false,
    }
}

fn is_weighed(line: &Line) -> bool {
    let Amount::Measured { range, .. } = &line.amount else { return false };
    range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
        !matches!(quantity.unit.dimension(), Dimension::Volume | Dimension::Count)
    })
}
