//! Cups and spoons in a house that never said which, and amounts written beside weights.

use super::context::Context;
use crate::diag::Finding;
use crate::formula::class::Class;
use crate::formula::{all_mixes, known};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, System, Unit};
use crate::syntax::tree::{Amount, Extent, Line, Quantity};
use crate::syntax::{
    amounts_disagree, eggs_read_as, fluid_ounces_read_as, full_volumes_within, measures_read_as,
    volumes_within,
};

/// Says once how cups were read where the house did not say which measures are its own, and
/// how spoons were where the formula speaks of ounces or °F: spoons are nearly the same
/// everywhere, cups are not.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let house = &context.house.settings;
    fluid_ounces(context, findings);
    large_eggs(context, findings);
    if house.measures_said || house.measures == Measures::Us {
        return;
    }
    let cup = amounts(context).find(|amount| amount.unit == Unit::Cup);
    let spoon = || amounts(context).find(|amount| is_measure(amount.unit));
    let speaks_us = || {
        let is_us = |amount: &Quantity| matches!(amount.unit, Unit::Ounce | Unit::Pound);
        let is_fahrenheit = |amount: &Quantity| amount.unit == Unit::Fahrenheit;
        amounts(context).any(is_us) || degrees(context).any(is_fahrenheit)
    };
    let Some(spoon) = cup.or_else(|| spoon().filter(|_| speaks_us())) else { return };
    let held = spoon.unit.to_base(&Exact::ONE, Measures::Metric);
    let unit = spoon.unit.spelling();
    let said = format!("a {unit} of {} ml", trimmed(&held, 1));
    let is_fluid_ounce = |amount: &Quantity| amount.unit == Unit::FluidOunce;
    let us = spoon.unit.to_base(&Exact::ONE, Measures::Us);
    let beside_ounces = all_amounts(context)
        .any(is_fluid_ounce)
        .then(|| format!("a US {unit}, {} ml", trimmed(&us, 1)));
    findings.push(measures_read_as(spoon.span, unit, &said, beside_ounces.as_deref()));
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
    let Some(ounce) = all_amounts(context).find(|amount| amount.unit == Unit::FluidOunce) else {
        return;
    };
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
        let class = context.house.ingredient_named(&line.target.name.key).map(|it| it.class);
        let is_full = matches!(class, Some(Class::Fat | Class::Water | Class::Liquid));
        let within = if is_full { full_volumes_within() } else { volumes_within() };
        if (&grams - &weighed).abs() > larger * within {
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

/// The amounts of lines, and those that stand beside them.
fn all_amounts<'a>(context: &'a Context) -> impl Iterator<Item = &'a Quantity> {
    let beside = lines(context).filter_map(|line| end(line.beside.as_ref()?));
    amounts(context).chain(beside)
}

fn degrees<'a>(context: &'a Context) -> impl Iterator<Item = &'a Quantity> {
    let phases = context.steps().flat_map(|step| &step.phases);
    phases.filter_map(|phase| phase.at.as_deref().and_then(end))
}
