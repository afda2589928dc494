//! Cups and spoons in a house that never said which, and amounts written beside weights.

use super::context::Context;
use crate::diag::Finding;
use crate::formula::{all_mixes, known};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, System, Unit};
use crate::syntax::tree::{Amount, Extent, Line, Quantity};
use crate::syntax::{
    amounts_disagree, eggs_read_as, fluid_ounces_read_as, measures_read_as, volumes_within,
};

/// Says once how cups and spoons were read, where the formula speaks of ounces or °F and the
/// house did not say which measures are its own.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let house = &context.house.settings;
    fluid_ounces(context, findings);
    large_eggs(context, findings);
    if house.measures_said || house.measures == Measures::Us {
        return;
    }
    let Some(spoon) = amounts(context).find(|amount| is_measure(amount.unit)) else { return };
    let speaks_us = amounts(context).any(|amount| matches!(amount.unit, Unit::Ounce | Unit::Pound));
    if !speaks_us && !degrees(context).any(|amount| amount.unit == Unit::Fahrenheit) {
        return;
    }
    let held = spoon.unit.to_base(&Exact::ONE, Measures::Metric);
    let unit = spoon.unit.spelling();
    let said = format!("a {unit} of {} ml", trimmed(&held, 1));
    findings.push(measures_read_as(spoon.span, unit, &said));
}

/// How heavy a large egg is differs from country to country.
fn large_eggs(context: &Context, findings: &mut Vec<Finding>) {
    let house = &context.house.settings;
    let language = house.language.as_ref().map_or("", |language| language.value.as_str());
    let is_of_a_country = language.contains(['-', '_']) || house.measures == Measures::Us;
    if is_of_a_country || house.units.first == System::Us {
        return;
    }
    let is_large = |line: &&Line| {
        let counts = matches!(&line.amount, Amount::Measured { range, .. }
            if end(range).is_some_and(|end| end.unit == Unit::Count));
        let shown = line.target.name.shown.to_lowercase();
        counts && ["large egg", "large eggs"].contains(&shown.as_str())
    };
    let Some(line) = lines(context).find(is_large) else { return };
    let known = context.house.ingredient_named(&line.target.name.key);
    let Some(each) = known.and_then(|known| known.each.as_ref()) else { return };
    let name = &line.target.name;
    findings.push(eggs_read_as(name.span, &name.shown, &trimmed(each, 1)));
}

/// A fluid ounce is that of the United States; in a house of other measures another may be
/// meant.
fn fluid_ounces(context: &Context, findings: &mut Vec<Finding>) {
    let house = &context.house.settings;
    if house.measures == Measures::Us || house.units.first == System::Us {
        return;
    }
    let beside = lines(context).filter_map(|line| end(line.beside.as_ref()?));
    let mut all = amounts(context).chain(beside);
    let Some(ounce) = all.find(|amount| amount.unit == Unit::FluidOunce) else { return };
    let ml = |of_one: &Exact| format!("{} ml", trimmed(&(of_one * &ounce.number), 1));
    let us = ml(&Unit::FluidOunce.to_base(&Exact::ONE, Measures::Us));
    let imperial = ml(&known("usual measures", "imperial fluid ounce"));
    findings.push(fluid_ounces_read_as(ounce.span, &trimmed(&ounce.number, 2), &us, &imperial));
}

/// Compares volumes with the weights that they stand beside.
pub fn check_pairs(context: &Context, findings: &mut Vec<Finding>) {
    for line in lines(context) {
        let (Some(beside), Amount::Measured { range, .. }) = (&line.beside, &line.amount) else {
            continue;
        };
        let (Some(weight), Some(volume)) = (end(range), end(beside)) else { continue };
        let kinds = (weight.unit.dimension(), volume.unit.dimension());
        if kinds == (Dimension::Mass, Dimension::Count) {
            pieces_and_weight(context, line, weight, volume, findings);
        }
        if kinds != (Dimension::Mass, Dimension::Volume) {
            continue;
        }
        let Some(density) = density(context, line) else { continue };
        let (grams, weighed) = (context.base(weight), context.base(volume) * density);
        let larger = grams.clone().max(weighed.clone());
        if (&grams - &weighed).abs() > larger * volumes_within() {
            let name = &line.target.name.shown;
            let number = trimmed(&volume.number, 2);
            findings.push(amounts_disagree(
                line.amount_span,
                &format!("{name} {} {}", trimmed(&weight.number, 2), weight.unit.spelling()),
                &format!("{number} {}", volume.unit.spelling()),
                &format!("{} g", trimmed(&weighed, 0)),
            ));
        }
    }
}

/// `3 eggs (16 g)`: pieces that weigh less than half, or more than twice, what they are known
/// to weigh.
fn pieces_and_weight(
    context: &Context,
    line: &Line,
    weight: &Quantity,
    count: &Quantity,
    findings: &mut Vec<Finding>,
) {
    let known = context.house.ingredient_named(&line.target.name.key);
    let Some(each) = known.and_then(|known| known.each.as_ref()) else { return };
    let (grams, usual) = (context.base(weight), each * &count.number);
    let two = Exact::from(2usize);
    if &grams * &two < usual || grams > &usual * &two {
        let name = &line.target.name.shown;
        findings.push(amounts_disagree(
            line.amount_span,
            &format!("{name} {} {}", trimmed(&weight.number, 2), weight.unit.spelling()),
            &format!("{} of them", trimmed(&count.number, 2)),
            &format!("{} g", trimmed(&usual, 0)),
        ));
    }
}

fn density(context: &Context, line: &Line) -> Option<Exact> {
    context.house.ingredient_named(&line.target.name.key)?.grams_per_ml.clone()
}

fn lines<'a>(context: &'a Context) -> impl Iterator<Item = &'a Line> {
    all_mixes(&context.worked.formula).flat_map(|mix| &mix.lines)
}

fn end(extent: &Extent) -> Option<&Quantity> {
    extent.low.as_ref().or(extent.high.as_ref())
}

fn is_measure(unit: Unit) -> bool {
    matches!(unit, Unit::Cup | Unit::Tablespoon | Unit::Teaspoon)
}

fn amounts<'a>(context: &'a Context) -> impl Iterator<Item = &'a Quantity> {
    lines(context).filter_map(|line| match &line.amount {
        Amount::Measured { range, .. } => end(range),
        _ => None,
    })
}

fn degrees<'a>(context: &'a Context) -> impl Iterator<Item = &'a Quantity> {
    let phases = context.steps().flat_map(|step| &step.phases);
    phases.filter_map(|phase| phase.at.as_deref().and_then(end))
}
