//! `below-scale-resolution`: a weight too small for the scale.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{exactly, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::weighing::{Weighing, total_rows, weigh};
use crate::formula::{LineRef, Numbers, SizedBy, WorkedLine};
use crate::quantity::display::{Scale, ScaleStep, last_digit, ounce, shows, to_step, trimmed};
use crate::quantity::{Dimension, Exact, System, half, int, ratio};
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
    let numbers = context.first();
    if numbers.anchor == SizedBy::Default {
        return;
    }
    let weighing = OnceCell::new();
    let is_first = std::ptr::eq(numbers, context.worked.first());
    let printed = |at: &At| {
        let weighing = is_first.then(|| weighing.get_or_init(|| weighed(context)))?;
        at.shown(weighing).cloned()
    };
    let light =
        |weight: &Weight| Some((weight.clone(), rounded(context, &weight.mass, &weight.within)?));
    let own = weights(context, numbers);
    let told: Vec<(Weight, (Exact, Exact))> = own.iter().filter_map(light).collect();
    if told.is_empty() {
        return;
    }
    let all = context.worked.choices.iter().flat_map(|numbers| weights(context, numbers));
    let all: Vec<Weight> =
        all.filter(|it| rounded(context, &it.mass, &it.within).is_some()).collect();
    let scale = finer_scale(context, &all);
    for (weight, (step, shown)) in told {
        // The first feed is the smallest; what is told of it needs no telling twice.
        if findings.iter().any(|known| known.rule == &RULE && known.span() == weight.span) {
            continue;
        }
        let shown = printed(&weight.at).unwrap_or(shown);
        let (mass, name) = (exactly(&weight.mass), &weight.name);
        let said = match shown.is_zero() {
            true => {
                let message =
                    format!("{mass} of `{name}` would be printed as {}", grams(&Exact::ZERO));
                Finding::new(&RULE, weight.span, message)
                    .level(Level::Error)
                    .note(format!("the scale shows {}", grams(&step)))
            }
            false => {
                let message = format!(
                    "{mass} of `{name}` is too little for a scale that shows {}",
                    grams(&step)
                );
                Finding::new(&RULE, weight.span, message)
                    .note(format!("rounded it is {}", grams(&shown)))
            }
        };
        findings.push(said.help(help(context, &weight, &own, scale.as_deref())));
    }
}

/// What to do about one of all the weights of a formula.
fn help(context: &Context, weight: &Weight, all: &[Weight], scale: Option<&str>) -> String {
    let mut ways = vec!["make a larger batch".to_owned()];
    if let Some((least, stage)) = least(context, weight, all) {
        ways.push(format!(
            "make enough at every feed to weigh, `at least {least} {stage}` in the stage, and discard \
             the rest"
        ));
    }
    let most = limits::most("habit of sums", "stock");
    if weight.dissolves && most.is_some_and(|most| weight.mass < most) {
        ways.push("weigh it from a stock mixed 1 : 10 with water".into());
    }
    match scale {
        Some(scale) => {
            ways.push(format!(
                "declare a finer scale in the bakehouse, if there is one: `{scale}`"
            ));
            one_of(&ways)
        }
        None => format!("no scale for a bakery shows so little: {}", one_of(&ways)),
    }
}

fn one_of(ways: &[String]) -> String {
    match ways.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, [one])) => format!("{one}, or {last}"),
        Some((last, others)) => format!("{}, or {last}", others.join(", ")),
        None => String::new(),
    }
}

/// How much of a stage that is fed several times lets every weight of a feed be weighed
/// closely, and what the stage is called.
fn least(context: &Context, weight: &Weight, all: &[Weight]) -> Option<(String, String)> {
    let MixOf::Stage(stage, _) = weight.at.mix else { return None };
    let own = context.first().stages.get(stage)?;
    if own.earlier.is_empty() {
        return None;
    }
    let sum = |lines: &[WorkedLine]| lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
    let feeds = own.earlier.iter().map(|feed| feed.lines.as_slice());
    let made: Vec<Exact> = feeds.chain([own.lines.as_slice()]).map(sum).collect();
    let (unit, spelled) = match context.house.settings.units.first {
        System::Metric => (Exact::ONE, "g"),
        System::Us => (ounce(), "oz"),
    };
    let most = limits::most("habit of sums", "fed")?;
    let number = round_numbers().find(|number| {
        let least = number * &unit;
        least > most
            || (made.iter().any(|made| least > *made)
                && closely(context, weight, all, &made, &least))
    })?;
    if &number * &unit > most {
        return None;
    }
    let name = context.worked.formula.stages.get(stage)?.name.shown.to_string();
    Some((format!("{} {spelled}", trimmed(&number, 3)), name))
}

/// Whether all weights of a stage's feeds are close to what the scale shows where each feed
/// makes at least so much; as much larger is the feed before it.
fn closely(
    context: &Context,
    weight: &Weight,
    all: &[Weight],
    made: &[Exact],
    least: &Exact,
) -> bool {
    let MixOf::Stage(stage, _) = weight.at.mix else { return false };
    let mut larger = Exact::ONE;
    (0..made.len()).rev().all(|feed| {
        let now = &made[feed] * &larger;
        if now < *least {
            larger *= least.over(&now).unwrap_or(Exact::ONE);
        }
        let own = all.iter().filter(|other| other.at.mix == MixOf::Stage(stage, feed));
        own.into_iter().all(|other| {
            let mass = &other.mass * &larger;
            rounded(context, &mass, &other.within).is_none()
        })
    })
}

/// The first of 1, 2, 5, 10, 20 … units, or of their tenths, that is no less than a weight.
fn round_number_from(mass: &Exact, unit: &Exact) -> String {
    let found = round_numbers().find(|number| number * unit >= *mass);
    trimmed(&found.unwrap_or_else(|| mass.clone()), 3)
}

/// 0.001, 0.002, 0.005, 0.01 … 1, 2, 5, 10, 20 …
fn round_numbers() -> impl Iterator<Item = Exact> {
    let decades = (0..=3).rev().map(last_digit).chain((1..12).map(|digits| int(10i64.pow(digits))));
    decades.flat_map(|decade| [1, 2, 5].map(|times| &decade * int(times)))
}

/// The scale of the house, finer where it has to be, so that it shows all these weights
/// closely; none where no scale does.
fn finer_scale(context: &Context, weights: &[Weight]) -> Option<String> {
    let possible = limits::least("habit of sums", "scale")?;
    let most = weights.iter().map(|it| &it.mass).max()?;
    let system = context.house.settings.units.first;
    let scale = &context.house.settings.scale;
    let (unit, spelled, usually) = match system {
        System::Metric => (Exact::ONE, "g", int(10)),
        System::Us => (ounce(), "oz", ounce()),
    };
    // As fine as any that there is, and so fine that every weight is close.
    let closely = |step: &Exact| {
        weights.iter().all(|Weight { mass, within, .. }| {
            let shown = to_step(mass, step);
            let change = &shown - mass;
            *step < finest(context, mass) && change.clone().max(-change) <= mass * within
        })
    };
    let steps = (0..=3).map(|digits| (digits, last_digit(digits) * &unit));
    let (digits, step) =
        steps.into_iter().find(|(_, step)| *step <= scale.finest() && closely(step))?;
    if step < possible {
        return None;
    }
    // A weight is below it with something to spare.
    let below = round_number_from(&(most * ratio(11, 10)).max(usually), &unit);
    let limit = crate::quantity::read_number(&below).ok()?.value * &unit;
    let number = |grams: &Exact| {
        let number = grams.over(&unit)?;
        shows(&number, 4).then(|| trimmed(&number, 4))
    };
    let written = |own: &ScaleStep| {
        let mut text = format!("{} {spelled}", number(&own.step)?);
        for (word, bound) in [("above", &own.above), ("below", &own.below)] {
            if let Some(bound) = bound {
                text.push_str(&format!(" {word} {} {spelled}", number(bound)?));
            }
        }
        Some(text)
    };
    let stays = |own: &&ScaleStep| own.below.as_ref().is_none_or(|below| *below > limit);
    let own = scale.steps().iter().filter(stays).map(written).collect::<Option<Vec<_>>>();
    // What can't be written in the house's units gives way to what is usual.
    let usual = || {
        let steps = Scale::usual(system);
        let open = steps.steps().iter().filter(|own| own.below.is_none());
        open.filter_map(written).collect()
    };
    let mut steps = own.unwrap_or_else(usual);
    steps.push(format!("{} {spelled} below {below} {spelled}", trimmed(&last_digit(digits), 3)));
    Some(format!("scale {}", steps.join(", ")))
}

/// What every print shows of the formula's weights.
fn weighed(context: &Context) -> Weighing {
    let rows = total_rows(context.worked);
    let scale = &context.house.settings.scale;
    weigh(context.worked, context.batches(), scale, &rows)
}

/// Where a weight stands on prints.
#[derive(Clone, Debug)]
struct At {
    mix: MixOf,
    line: usize,
}

/// What is weighed together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum MixOf {
    /// A stage, and the feed of it.
    Stage(usize, usize),
    /// A batch of the dough.
    Batch,
    /// What all pieces of a kind carry.
    Pieces,
}

impl At {
    fn shown<'w>(&self, weighing: &'w Weighing) -> Option<&'w Exact> {
        let column = match self.mix {
            MixOf::Stage(stage, feed) => {
                let earlier = weighing.earlier_feeds.get(stage)?.get(feed);
                earlier.or_else(|| weighing.stages.get(stage))?
            }
            MixOf::Batch => &weighing.batch,
            MixOf::Pieces => return None,
        };
        column.lines.get(self.line).map(|shown| &shown.grams)
    }
}

/// Something that is put on the scale.
#[derive(Clone, Debug)]
struct Weight {
    name: String,
    mass: Exact,
    /// How much of it rounding may change.
    within: Exact,
    span: Span,
    at: At,
    /// It can be weighed from a stock in water.
    dissolves: bool,
}

/// All that is put on the scale in one batch: of stages, of each of their feeds, of the dough.
fn weights(context: &Context, numbers: &Numbers) -> Vec<Weight> {
    let formula = &context.worked.formula;
    let mut all = Vec::new();
    for (index, stage) in formula.stages.iter().enumerate() {
        let worked = &numbers.stages[index];
        let feeds = worked.earlier.iter().map(|feed| &feed.lines).chain([&worked.lines]);
        for (feed, lines) in feeds.enumerate() {
            let at = MixOf::Stage(index, feed);
            let found = Lines { mix: Some(&stage.mix), otherwise: stage.name.span, at };
            all.extend(found.weights(context, numbers, lines, &Exact::ONE));
        }
    }
    let batch = Exact::ONE.each_of(&Exact::from(context.batches()));
    let span = formula.makes.as_ref().map_or(formula.span, |makes| makes.span);
    let found = Lines { mix: context.main_mix(), otherwise: span, at: MixOf::Batch };
    all.extend(found.weights(context, numbers, &numbers.dough_lines, &batch));
    // What all pieces of a kind carry is weighed at once.
    for piece in &numbers.pieces {
        for block in &formula.pieces {
            let of_block = |line: &&WorkedLine| {
                block.mix.lines.iter().any(|own| own.target.name.key == line.key)
            };
            let lines: Vec<WorkedLine> = piece.lines.iter().filter(of_block).cloned().collect();
            let found = Lines { mix: Some(&block.mix), otherwise: block.span, at: MixOf::Pieces };
            all.extend(found.weights(context, numbers, &lines, &piece.made.count));
        }
    }
    all
}

/// Lines of a mix, and where they stand.
struct Lines<'m> {
    mix: Option<&'m Mix>,
    /// Of a line that is not written.
    otherwise: Span,
    at: MixOf,
}

impl Lines<'_> {
    fn weights(
        &self,
        context: &Context,
        numbers: &Numbers,
        lines: &[WorkedLine],
        part: &Exact,
    ) -> Vec<Weight> {
        let weight = |(index, line): (usize, &WorkedLine)| {
            let declared = line.line.and_then(|line| self.mix?.lines.get(line));
            // What goes in whole is not weighed, nor what is measured by spoons and pieces.
            let mass = &line.mass * part;
            let is_weighed = is_weighed_out(context, numbers, line)
                && declared.is_none_or(is_weighed)
                && !mass.is_zero();
            let slack = if is_yeast(context, line) { "weighed yeast" } else { "weighed" };
            let within = limits::most("habit of sums", slack)?;
            is_weighed.then(|| Weight {
                name: line.name.to_string(),
                mass,
                within,
                span: declared.map_or(self.otherwise, |line| line.span),
                at: At { mix: self.at, line: index },
                dissolves: dissolves(context, line),
            })
        };
        lines.iter().enumerate().filter_map(weight).collect()
    }
}

/// The step of the scale for a weight, and the weight to that step, where that is not close.
fn rounded(context: &Context, mass: &Exact, within: &Exact) -> Option<(Exact, Exact)> {
    let slack = mass * within;
    let step = finest(context, mass);
    // What half a step is within needs no rounding.
    if &step * half() <= slack {
        return None;
    }
    let shown = to_step(mass, &step);
    let change = &shown - mass;
    (change.clone().max(-change) > slack).then_some((step, shown))
}

/// What is shown of a weight. Less than an ounce is printed in grams too, which small scales
/// show.
fn finest(context: &Context, mass: &Exact) -> Exact {
    let own = &context.house.settings.scale;
    let step = match own.is_too_coarse_for(mass) {
        true => Scale::decimal_ounces().resolution(mass),
        false => own.resolution(mass),
    };
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
fn is_weighed_out(context: &Context, numbers: &Numbers, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Ingredient(id) => context.house.ingredient(id).class != Class::Spice,
        LineRef::Stage(stage) => numbers.stages[stage].made != line.mass,
        LineRef::Culture(_) | LineRef::OldDough | LineRef::SideMix(_) => true,
        LineRef::Nothing => false,
    }
}

/// Whether a line can be weighed from a stock in water: it dissolves, or is stirred in.
fn dissolves(context: &Context, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Ingredient(id) => {
            matches!(
                context.house.ingredient(id).class,
                Class::Yeast | Class::Salt | Class::Improver
            )
        }
        LineRef::Culture(_) => true,
        _ => false,
    }
}

fn is_weighed(line: &Line) -> bool {
    let Amount::Measured { range, .. } = &line.amount else { return false };
    range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
        !matches!(quantity.unit.dimension(), Dimension::Volume | Dimension::Count)
    })
}
