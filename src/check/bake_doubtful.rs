//! `bake-doubtful`: a time in the oven that does not fit the weight of a piece.

use super::context::Context;
use super::limits;
use super::usual::usual_piece;
use crate::diag::amounts::grams;
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
    let bakes: Vec<&Step> = method.steps.iter().filter(|step| step.verb == Verb::Bake).collect();
    for piece in &context.first().pieces {
        if piece.made.weight.is_zero() {
            continue;
        }
        let own = bakes.iter().filter(|step| is_for(step, piece));
        if let Some(said) = judge(context, piece, own.copied().collect()) {
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

/// All bakes of one kind of piece, one after the other.
fn judge(context: &Context, piece: &WorkedPiece, bakes: Vec<&Step>) -> Option<Finding> {
    let first = bakes.first()?;
    let (mut shortest, mut longest) = (Exact::ZERO, Exact::ZERO);
    for phase in bakes.iter().flat_map(|step| &step.phases) {
        if !is_usual(context, phase) {
            return None;
        }
        let range = context.range(phase.duration.as_ref()?);
        shortest += range.low.clone().or(range.high.clone()).unwrap_or_default();
        longest += range.high.or(range.low).unwrap_or_default();
    }
    let weight = &piece.made.weight;
    let number = |group, name| context.number(group, name);
    let rate = number("habit of bakes", "rate")?;
    // Squares are compared, so that no root is needed: t < share × rate × √m.
    let fitted = &rate * &rate * weight;
    let is_below = |share: Option<Exact>| {
        share.is_some_and(|share| &longest * &longest < &fitted * &share * &share)
    };
    let is_above = |share: Exact| &shortest * &shortest > &fitted * &share * &share;
    let of_style = thin_style(context);
    let flat =
        of_style.is_some() || usual_piece(context, &piece.made.key).is_some_and(|(_, flat)| flat);
    let least = if flat { "shortest of thin breads" } else { "shortest" };
    let too_short = is_below(of_style.or_else(|| number("habit of bakes", least)));
    let too_long = !flat && number("habit of bakes", "longest").is_some_and(is_above);
    if !too_short && !too_long {
        return None;
    }
    let is_raw = too_short && is_below(number("physics of bakes", least));
    let word = if too_short { "short" } else { "long" };
    let message = format!(
        "{} in the oven is {word} for a piece of {}",
        minutes_range(&shortest, &longest),
        grams(weight)
    );
    let said = Finding::new(&RULE, first.verb_span, message)
        .level(if is_raw { Level::Error } else { Level::Warning })
        .help("check the time (`min` or `h`?) and the weight of a piece");
    Some(match usual(&fitted, weight) {
        Some(usual) => said.note(usual),
        None => said,
    })
}

/// The least share of the fitted time of a style whose breads are thin.
fn thin_style(context: &Context) -> Option<Exact> {
    let style = context.worked.formula.style.as_ref()?;
    context.number("habit of thin styles", &style.key)
}

/// Ovens outside of this bake another way: flat breads in seconds, dark rye for a night.
fn is_usual(context: &Context, phase: &Phase) -> bool {
    let (Some(at), Some(ovens)) = (&phase.at, context.limit("habit of bakes", "ovens")) else {
        return true;
    };
    at.low.iter().chain(&at.high).all(|end| ovens.holds(&context.base(end)))
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
