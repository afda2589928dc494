//! `bake-doubtful`: a time in the oven that does not fit the weight of a piece.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{grams, minutes, minutes_range};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::tree::{Phase, Step, Verb};

pub const RULE: Rule = Rule {
    name: "bake-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("bake_doubtful.md"),
};

/// Minutes for each root of a gram, squared: 1.35 min √g, which is 27 min for 400 g and
/// 43 min for 1 kg. Published: baguette of 400 g 23 to 25 min, ciabatta of 570 g about 36
/// (King Arthur), miche of 900 g 45 to 50 (Bake), rye of 1 kg about 50.
fn squared_rate() -> Exact {
    ratio(135, 100) * ratio(135, 100)
}

/// Ovens outside of this bake another way: flat breads in seconds, dark rye for a night.
const USUAL: (i64, i64) = (130, 280);

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let style = formula.style.as_ref().map_or("", |style| style.key.as_str());
    if ["pizza", "crispbread"].contains(&style) {
        return;
    }
    let pieces = context.first().pieces.iter().filter(|piece| !piece.made.weight.is_zero());
    let weights: Vec<&Exact> = pieces.map(|piece| &piece.made.weight).collect();
    let (Some(lightest), Some(heaviest)) = (weights.iter().min(), weights.iter().max()) else {
        return;
    };
    let Some(method) = &formula.method else { return };
    // Several bakes may each be for one kind of piece, or follow each other.
    let bakes: Vec<&Step> = method.steps.iter().filter(|step| step.verb == Verb::Bake).collect();
    let [bake] = bakes.as_slice() else { return };
    if !bake.phases.iter().all(|phase| is_usual(context, phase)) {
        return;
    }
    let mut longest = Exact::ZERO;
    let mut shortest = Exact::ZERO;
    for phase in &bake.phases {
        let Some(time) = &phase.duration else { return };
        let range = context.range(time);
        let low = range.low.clone().or(range.high.clone()).unwrap_or_default();
        longest += range.high.or(range.low).unwrap_or_default();
        shortest += low;
    }
    // Squares are compared, so that no root is needed: t < 0.25 × 1.35 √m.
    let too_short = &longest * &longest < squared_rate() * *lightest * ratio(1, 16);
    let too_long = &shortest * &shortest > squared_rate() * *heaviest * int(9);
    if !too_short && !too_long {
        return;
    }
    let (word, weight) = if too_short { ("short", lightest) } else { ("long", heaviest) };
    findings.push(
        Finding::new(
            &RULE,
            bake.verb_span,
            format!(
                "{} in the oven is {word} for a piece of {}",
                minutes_range(&shortest, &longest),
                grams(weight)
            ),
        )
        .note(usual(weight))
        .help("check the time (`min` or `h`?) and the weight of a piece"),
    );
}

fn is_usual(context: &Context, phase: &Phase) -> bool {
    let Some(at) = &phase.at else { return true };
    let ends = at.low.iter().chain(&at.high);
    ends.map(|end| context.base(end)).all(|it| it >= int(USUAL.0) && it <= int(USUAL.1))
}

/// `about 20 to 60 min is usual for 900 g`: half to one and a half of the fitted time.
fn usual(weight: &Exact) -> String {
    let fitted = root(&(squared_rate() * weight));
    let (low, high) = (&fitted * ratio(1, 2), &fitted * ratio(3, 2));
    format!("for {} {} to {} is usual", grams(weight), minutes(&low), minutes(&high))
}

/// The whole number whose square is nearest below.
fn root(value: &Exact) -> Exact {
    let mut root = int(0);
    while (&root + int(1)) * (&root + int(1)) <= *value && root < int(1000) {
        root += int(1);
    }
    root
}
