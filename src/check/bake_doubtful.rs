//! `bake-doubtful`: a time in the oven that does not fit the weight of a piece.

use super::context::Context;
use super::limits;
use super::usual::usual_piece;
use crate::diag::amounts::{celsius, celsius_range, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{WorkedPiece, is_kind};
use crate::quantity::display::{minutes, minutes_range};
use crate::quantity::{Exact, int};
use crate::syntax::tree::{Phase, Step, Verb};

/// `bake-doubtful`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "bake-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("bake_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let Some(method) = &formula.method else { return };
    for piece in &context.first().pieces {
        if piece.made.weight.is_zero() {
            continue;
        }
        // What is baked may be boiled or fried before; else that is all the heat there is.
        let of = |verb| -> Vec<&Step> {
            let steps = method.steps.iter().filter(|step| step.verb == verb);
            steps.filter(|step| is_for(step, piece)).collect()
        };
        let mut ways = [Verb::Bake, Verb::Steam, Verb::Fry].into_iter();
        let Some((way, steps)) =
            ways.find_map(|way| Some((way, of(way))).filter(|(_, steps)| !steps.is_empty()))
        else {
            continue;
        };
        let turns = if way == Verb::Fry { of(Verb::Turn) } else { Vec::new() };
        if let Some(said) = judge(context, piece, way, &[steps, turns].concat()) {
            let is_told =
                findings.iter().any(|known| known.rule == &RULE && known.span() == said.span());
            if !is_told {
                findings.push(said);
            }
        }
    }
}

/// Whether a bake is for a kind of piece; one that names none is for all.
fn is_for(step: &Step, piece: &WorkedPiece) -> bool {
    let kind = step.phases.iter().find_map(|phase| phase.kind.as_ref());
    kind.is_none_or(|kind| is_kind(&kind.key, &piece.made.key))
}

/// How long something is in the heat.
struct Heated {
    /// Minutes, as written.
    written: (Exact, Exact),
    /// In an oven of the rate, as much heat goes in within so many minutes.
    worth: (Exact, Exact),
    /// Whether all ovens are as hot as most breads want.
    is_usual: bool,
    /// Whether none is cooler than that.
    is_hot: bool,
    /// Whether all are cooler, which is told of the temperature where it is too short.
    is_cool: bool,
}

impl Heated {
    /// Of all steps, one after the other; `None` where one has no time.
    fn of(context: &Context, steps: &[&Step]) -> Option<Self> {
        let none = || (Exact::ZERO, Exact::ZERO);
        let mut all =
            Self { written: none(), worth: none(), is_usual: true, is_hot: true, is_cool: true };
        let ovens = context.limit("habit of bakes", "ovens");
        for phase in steps.iter().flat_map(|step| &step.phases) {
            let range = context.range(phase.duration.as_ref()?);
            let low = range.low.clone().or(range.high.clone()).unwrap_or_default();
            let high = range.high.or(range.low).unwrap_or_default();
            let (slow, fast) = paces(context, phase);
            all.worth.0 += &low * slow;
            all.worth.1 += &high * fast;
            all.written.0 += low;
            all.written.1 += high;
            let ends = phase.at.iter().flat_map(|at| at.low.iter().chain(&at.high));
            all.is_cool &= phase.at.is_some();
            for celsius in ends.map(|end| context.base(end)) {
                all.is_usual &= ovens.as_ref().is_none_or(|ovens| ovens.holds(&celsius));
                let low = ovens.as_ref().and_then(|ovens| ovens.low.as_ref());
                let is_hot = low.is_none_or(|low| celsius >= *low);
                all.is_hot &= is_hot;
                all.is_cool &= !is_hot;
            }
        }
        Some(all)
    }
}

/// How fast heat goes in beside an oven of the rate, at both ends of a temperature: as the
/// oven is hotter than the crumb.
fn paces(context: &Context, phase: &Phase) -> (Exact, Exact) {
    let degrees = |name| context.number("habit of bakes", name);
    let pace = |celsius: &Exact| {
        let (oven, crumb) = (degrees("oven of the rate")?, degrees("crumb")?);
        let above = if *celsius > crumb { celsius - &crumb } else { Exact::ZERO };
        above.over(&(oven - crumb))
    };
    let ends = phase.at.as_ref().map(|at| context.range(at));
    let (low, high) = ends.map_or((None, None), |ends| {
        (ends.low.clone().or(ends.high.clone()), ends.high.or(ends.low))
    });
    let of = |end: Option<Exact>| end.and_then(|end| pace(&end)).unwrap_or(Exact::ONE);
    (of(low), of(high))
}

/// All bakes of one kind of piece, one after the other; or what it is steamed or fried.
fn judge(context: &Context, piece: &WorkedPiece, way: Verb, steps: &[&Step]) -> Option<Finding> {
    let first = steps.first()?;
    let heated = Heated::of(context, steps)?;
    let is_baked = way == Verb::Bake;
    let weight = &piece.made.weight;
    let number = |group, name| context.number(group, name);
    let rate = number("habit of bakes", "rate")?;
    // Squares are compared, so that no root is needed: t < share × rate × √m.
    let fitted = &rate * &rate * weight;
    let is_below = |time: &Exact, share: Option<Exact>| {
        share.is_some_and(|share| time * time < &fitted * &share * &share)
    };
    let is_above = |time: &Exact, share: Option<Exact>| {
        share.is_some_and(|share| time * time > &fitted * &share * &share)
    };
    let of_style = thin_style(context);
    let flat =
        of_style.is_some() || usual_piece(context, &piece.made.key).is_some_and(|(_, flat)| flat);
    // Ovens outside of the usual bake thin breads another way: in seconds, or until they are dry.
    if flat && !(is_baked && heated.is_usual) || is_baked && heated.is_cool {
        return None;
    }
    let least = match way {
        Verb::Fry => "shortest fried",
        _ if flat => "shortest of thin breads",
        _ => "shortest",
    };
    let by_written = !is_baked || heated.is_usual;
    let longest = if by_written { &heated.written.1 } else { &heated.worth.1 };
    // In a usual oven too a piece takes longer where it is cooler, though not quite so.
    let by_heat = number("habit of bakes", "of the rate").filter(|_| is_baked && heated.is_usual);
    let is_short = |share: Option<Exact>| {
        let of_heat = share.as_ref().zip(by_heat.as_ref()).map(|(share, part)| share * part);
        is_below(longest, share) || is_below(&heated.worth.1, of_heat)
    };
    let too_short = is_short(of_style.or_else(|| number("habit of bakes", least)));
    // Dark rye stays in for a night where the oven is cool.
    let habit = number("habit of bakes", "longest");
    let too_long = is_baked
        && !flat
        && heated.is_hot
        && is_above(&heated.written.0, habit)
        && !is_dried(context, weight, steps, &heated.written.0);
    if !too_short && !too_long {
        return None;
    }
    let is_raw = too_short && is_short(number("physics of bakes", least));
    let is_cold = too_short && !is_below(longest, number("habit of bakes", least));
    let is_burnt = too_long && is_above(&heated.worth.0, number("physics of bakes", "longest"));
    let word = if too_short { "short" } else { "long" };
    let place = match way {
        Verb::Steam => "over steam",
        Verb::Fry => "in fat",
        _ => "in the oven",
    };
    let at = heat_told(context, steps).filter(|_| is_cold).unwrap_or_default();
    let message = format!(
        "{}{at} {place} is {word} for a piece of {}",
        minutes_range(&heated.written.0, &heated.written.1),
        grams(weight)
    );
    let said = Finding::new(&RULE, first.verb_span, message)
        .level(if is_raw || is_burnt { Level::Error } else { Level::Warning })
        .help(match is_cold {
            true => "check the temperature and the time, and the weight of a piece",
            false => "check the time (`min` or `h`?) and the weight of a piece",
        });
    let said = match heated.is_usual && !is_cold {
        true => said,
        false => said.note(
            "in a hotter oven less time is enough, in a cooler one it takes more: heat goes in as \
             the oven is hotter than 100 °C",
        ),
    };
    Some(match usual(&fitted, weight).filter(|_| way != Verb::Fry) {
        Some(usual) => said.note(usual),
        None => said,
    })
}

/// ` at 130 °C`: how hot the ovens of some steps are, from the coolest to the hottest.
fn heat_told(context: &Context, steps: &[&Step]) -> Option<String> {
    let phases = steps.iter().flat_map(|step| &step.phases);
    let ends =
        phases.flat_map(|phase| phase.at.iter().flat_map(|at| at.low.iter().chain(&at.high)));
    let ends: Vec<Exact> = ends.map(|end| context.base(end)).collect();
    let (low, high) = (ends.iter().min()?, ends.iter().max()?);
    Some(match low == high {
        true => format!(" at {}", celsius(low, 0)),
        false => format!(" at {}", celsius_range(low, high, 0)),
    })
}

/// Whether it is small and in a cool oven, not for too long even so: what is dried there.
fn is_dried(context: &Context, weight: &Exact, steps: &[&Step], time: &Exact) -> bool {
    let within = |name: &str, value: &Exact| {
        context.limit("habit of dry bakes", name).is_some_and(|range| range.holds(value))
    };
    let mut phases = steps.iter().flat_map(|step| &step.phases);
    let is_cool = phases.all(|phase| {
        let at = phase.at.as_ref().and_then(|at| at.high.as_ref().or(at.low.as_ref()));
        at.is_some_and(|at| within("ovens", &context.base(at)))
    });
    is_cool && within("piece", weight) && within("time", time)
}

/// The least share of the fitted time of a style whose breads are thin.
fn thin_style(context: &Context) -> Option<Exact> {
    let style = context.worked.formula.style.as_ref()?;
    context.number("habit of thin styles", &style.key)
}

/// `for 900 g 20 to 60 min is usual`: shares of the fitted time.
fn usual(fitted: &Exact, weight: &Exact) -> Option<String> {
    let fitted = root(fitted);
    let usual = limits::bound("habit of bakes", "usual")?;
    let (low, high) = (&fitted * usual.low?, &fitted * usual.high?);
    Some(format!("for {} {} to {} is usual", grams(weight), minutes(&low), minutes(&high)))
}

/// The whole number whose square is nearest below.
fn root(value: &Exact) -> Exact {
    let mut root = int(0);
    while (&root + int(1)) * (&root + int(1)) <= *value && root < int(1000) {
        root += int(1);
    }
    root
}
