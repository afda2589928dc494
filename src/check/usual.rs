//! What is usual, from the store of limits, and what an amount most likely was.

use super::context::Context;
use super::limits::{self, show_range};
use crate::diag::amounts::grams;
use crate::diag::{Finding, Rule};
use crate::formula::class::Class;
use crate::formula::{Ingredient, words_of_kind};
use crate::quantity::display::{percent, trimmed};
use crate::quantity::{Dimension, Exact, Range, Unit, int, ratio};
use crate::source::Span;
use crate::syntax::tree::{Amount, Extent, Line, Phase, Quantity, Step, Verb};
use crate::time::is_refrigerator;

impl Context<'_, '_> {
    /// One number of the store of limits.
    pub fn number(&self, group: &str, name: &str) -> Option<Exact> {
        limits::number(group, name)
    }

    /// The longest of the bounded names of a group that a name is, or ends in: `seeded
    /// rolls` are rolls.
    pub fn limit_of_words(&self, group: &str, name: &str) -> Option<Range> {
        let ends = name.match_indices([' ', '-']).filter_map(|(at, _)| name.get(at + 1..));
        let words = words_of_kind(name).chain(ends.map(Into::into));
        let known = words.filter_map(|word| Some((word.len(), self.limit(group, &word)?)));
        known.max_by_key(|(length, _)| *length).map(|(_, range)| range)
    }

    /// The first bounded word of a group that stands in a name: `rye levain` is a levain.
    pub fn limit_of_a_word(&self, group: &str, name: &str) -> Option<Range> {
        name.split([' ', '-']).find_map(|word| self.limit(group, word))
    }

    /// Whether a phase stands in the cold though no temperature says so: what is retarded,
    /// chilled or frozen, and what is in a refrigerator.
    pub fn is_kept_cold(&self, step: &Step, phase: &Phase) -> bool {
        let by_its_verb = matches!(step.verb, Verb::Retard | Verb::Chill | Verb::Freeze);
        let by_its_place = phase.place.as_ref().is_some_and(|place| is_refrigerator(&place.key));
        phase.at.is_none() && (by_its_verb || by_its_place)
    }

    /// Whether it is colder than a bound of the store's temperatures calls warm.
    pub fn is_colder(&self, at: Option<&Extent>, than: &str) -> bool {
        let warmest = at.and_then(|at| at.high.as_ref().or(at.low.as_ref()));
        let bound = self.limit("habit of temperatures", than).and_then(|range| range.high);
        match (warmest, bound) {
            (Some(warmest), Some(bound)) => self.base(warmest) < bound,
            _ => false,
        }
    }
}

/// Whether a value is several times above a range, or as much below it; how many times, the
/// store says of `what`.
pub fn is_far(context: &Context, value: &Exact, range: &Range, what: &str) -> bool {
    let Some(times) = context.number("habit of slips", what) else { return false };
    range.high.as_ref().is_some_and(|high| *value > high * &times)
        || range.low.as_ref().is_some_and(|low| value * &times < *low)
}

/// What a line's amount most likely was, where it comes to `share` and `usual` is another:
/// the same number in another unit, or another place of its decimal point.
pub fn likely(
    context: &Context,
    line: &Line,
    ingredient: &Ingredient,
    share: &Exact,
    usual: &Range,
) -> Option<(Span, String, LikelySlip)> {
    let Amount::Measured { range, base: None } = &line.amount else { return None };
    let quantity = range.low.as_ref().filter(|_| !range.ranged)?;
    // What the other lines and mixes hold of it stays.
    let own = share_of(context, ingredient, &quantity.number, quantity.unit)?;
    let others = share - &own;
    // Where the others are enough, this line is one too many, whatever its unit.
    if !others.is_zero() && usual.holds(&others) {
        return None;
    }
    // A little above what is usual is too much, and no slip.
    let near = limits::number("habit of slips", "near").unwrap_or(Exact::ONE);
    if usual.high.as_ref().is_some_and(|high| share > high && *share <= high * &near) {
        return None;
    }
    // What would be next to nothing was not meant either.
    let least = limits::number("habit of slips", "least").unwrap_or(Exact::ZERO);
    let least = usual.high.as_ref().map(|high| high * least);
    let fits = |number: &Exact, unit: Unit| {
        let new = share_of(context, ingredient, number, unit);
        let is_some = |new: &Exact| least.as_ref().is_none_or(|least| new >= least);
        new.is_some_and(|new| is_some(&new) && usual.holds(&(new + &others)))
    };
    let units = other_units(context, quantity.unit);
    if let Some(unit) = units.into_iter().find(|unit| fits(&quantity.number, *unit)) {
        return Some((range.span, written(&quantity.number, unit), LikelySlip::Unit));
    }
    let moved = [ratio(1, 10), int(10), ratio(1, 100), int(100)];
    let mut moved = moved.into_iter().map(|factor| &quantity.number * factor);
    let number = moved.find(|number| fits(number, quantity.unit))?;
    Some((range.span, written(&number, quantity.unit), LikelySlip::Point))
}

/// Where the dough's one line of water stands, and what was most likely meant by it, where
/// that would make a usual dough.
pub fn water_meant(context: &Context) -> Option<(Span, String, (Span, String, LikelySlip))> {
    let usual = context.limit("habit", "liquids")?;
    let of_water = |line: &&Line| {
        let named = context.house.ingredient_named(&line.target.name.key);
        named.is_some_and(|ingredient| ingredient.class == Class::Water)
    };
    let mut lines = context.main_mix()?.lines.iter().filter(of_water);
    let line = lines.next().filter(|_| lines.next().is_none())?;
    let ingredient = context.house.ingredient_named(&line.target.name.key)?;
    let share = context.of_flour(&context.class(Class::Water));
    let meant = likely(context, line, ingredient, &share, &usual)?;
    Some((line.span, line.target.name.shown.to_string(), meant))
}

/// What was most likely mistaken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LikelySlip {
    Unit,
    Point,
}

/// Adds what was most likely meant to a finding, as its help and its repair.
pub fn offer(said: Finding, name: &str, likely: Option<(Span, String, LikelySlip)>) -> Finding {
    let Some((span, meant, slip)) = likely else { return said };
    let why = match slip {
        LikelySlip::Unit => "another unit",
        LikelySlip::Point => "a slip of the decimal point",
    };
    said.help(format!("was `{name} {meant}` meant? It looks like {why}")).repair(span, meant, false)
}

fn written(number: &Exact, unit: Unit) -> String {
    let blank = if unit == Unit::Percent { "" } else { " " };
    format!("{}{blank}{}", trimmed(number, 4), unit.spelling())
}

/// The units that are mistaken for one, the likeliest first.
fn other_units(context: &Context, unit: Unit) -> Vec<Unit> {
    let near: &[Unit] = match unit.dimension() {
        Dimension::Volume => {
            &[Unit::Tablespoon, Unit::Teaspoon, Unit::Cup, Unit::Milliliter, Unit::Liter]
        }
        Dimension::Mass if unit == Unit::Pound => &[Unit::Ounce, Unit::Gram],
        Dimension::Mass if unit == Unit::Ounce => &[Unit::Gram, Unit::Pound],
        Dimension::Mass => &[Unit::Percent, Unit::Gram, Unit::Kilogram, Unit::Milligram],
        Dimension::Share => &[Unit::Gram],
        _ => &[],
    };
    let in_shares = is_in_shares(context);
    let is_likely = |other: &&Unit| match **other {
        Unit::Percent => in_shares,
        Unit::Gram if unit == Unit::Percent => !in_shares,
        other => other != unit,
    };
    near.iter().filter(is_likely).copied().collect()
}

/// Whether most lines of the main mix are percentages.
pub fn is_in_shares(context: &Context) -> bool {
    let Some(mix) = context.main_mix() else { return false };
    let is_share = |line: &&Line| {
        matches!(&line.amount, Amount::Measured { range, .. }
            if range.low.as_ref().is_some_and(|low| low.unit == Unit::Percent))
    };
    mix.lines.iter().filter(is_share).count() * 2 > mix.lines.len()
}

/// What an amount comes to on the flour.
fn share_of(
    context: &Context,
    ingredient: &Ingredient,
    number: &Exact,
    unit: Unit,
) -> Option<Exact> {
    let base = unit.to_base(number, context.house.settings.measures);
    let mass = match unit.dimension() {
        Dimension::Share => return Some(base),
        Dimension::Mass => base,
        Dimension::Volume => base * ingredient.grams_per_ml.as_ref()?,
        _ => return None,
    };
    mass.over(context.flour())
}

/// What a time most likely was: the same number in another unit that lies in a range, or
/// with a digit more or less.
pub fn likely_time(context: &Context, time: &Extent, usual: &Range) -> Option<String> {
    let ends: Vec<&Quantity> = time.low.iter().chain(&time.high).collect();
    let own = ends.first()?.unit;
    let fits = |&(unit, factor): &(Unit, &Exact)| {
        ends.iter().all(|end| {
            let number = &end.number * factor;
            usual.holds(&unit.to_base(&number, context.house.settings.measures))
        })
    };
    let factors = [Exact::ONE, ratio(1, 10), int(10)];
    let units = [Unit::Minute, Unit::Hour, Unit::Day];
    let others = units.into_iter().filter(|unit| *unit != own).map(|unit| (unit, &factors[0]));
    let digits = factors.iter().skip(1).map(|factor| (own, factor));
    let (unit, factor) = others.chain(digits).find(fits)?;
    let number = |end: &Quantity| trimmed(&(&end.number * factor), 2);
    Some(match (time.low.as_ref(), time.high.as_ref()) {
        (Some(low), Some(high)) if time.ranged => {
            format!("{}..{}{}", number(low), number(high), unit.spelling())
        }
        (Some(one), _) | (None, Some(one)) => format!("{}{}", number(one), unit.spelling()),
        (None, None) => return None,
    })
}

/// What is usual of a kind of piece, and whether it is thin.
pub fn usual_piece(context: &Context, kind: &str) -> Option<(Range, bool)> {
    let thick = context.limit_of_words("habit of pieces", kind).map(|range| (range, false));
    thick
        .or_else(|| context.limit_of_words("habit of flat pieces", kind).map(|range| (range, true)))
}

/// Says when a class of ingredient is above what is usual.
pub fn class_above(
    context: &Context,
    rule: &'static Rule,
    class: Class,
    findings: &mut Vec<Finding>,
) {
    // Nearly no dough has any.
    let amount = context.class(class);
    if amount.is_zero() {
        return;
    }
    let word = class.word();
    let (Some(range), false) = (context.habit(word), context.flour().is_zero()) else { return };
    let share = context.of_flour(&amount);
    let Some(span) = context.class_span(class) else { return };
    if range.high.as_ref().is_some_and(|high| share > *high) {
        findings.push(
            Finding::new(
                rule,
                span,
                format!(
                    "{word} is {} % of the flour; {} is usual",
                    percent(&share, 2),
                    show_range(&range)
                ),
            )
            .note(format!(
                "{} {word} ÷ {} flour = {} %",
                grams(&context.class(class)),
                grams(context.flour()),
                percent(&share, 2)
            ))
            .help("check the amount; the maker's data sheet says how much to use"),
        );
    }
}
