//! `outside-style`: a figure outside the style that the formula names.

use super::claims::{CANNOT_BE_CHECKED, is_claimed};
use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Figure, Value, ValueKind, Within, plain, words_of};
use crate::quantity::{Dimension, Exact, Range};
use crate::syntax::tree::{Bound, Name, Style, WordsKind};

/// `outside-style`, a warning about what is usual.
pub const RULE: Rule = Rule {
    name: "outside-style",
    level: Level::Warning,
    group: Group::Style,
    page: include_str!("outside_style.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(style), Some(named)) = (context.style, &context.worked.formula.style) else { return };
    // A ceiling of salt has a finding of its own.
    for bound in style.bounds.iter().filter(|bound| bound.what.name.key != "salt as eaten") {
        let Some((value, within)) = bounded(context, bound) else {
            findings.extend(not_known(style, bound, named));
            continue;
        };
        let range = context.range(&bound.range);
        let place = bound.place.as_ref().map(|place| place.key.as_str());
        if range.holds(&value.amount) || is_claimed(context, &bound.what.name.key, place) {
            continue;
        }
        let place = bound.place.as_ref().map(|place| format!(" in {}", place.shown));
        let label = format!("{}{}", bound.what.name.shown, place.unwrap_or_default());
        let figure = Figure::read(&bound.what.name.key).filter(|_| within == Within::All);
        let span = figure.and_then(|figure| context.figure_span(&figure)).unwrap_or(named.span);
        let mut said = Finding::new(
            &RULE,
            span,
            format!(
                "{label} is {}; the style `{}` allows {}",
                context.show(&value.amount, value.kind),
                style.name.shown,
                show_range(context, &range, value.kind)
            ),
        );
        if span != named.span {
            said = said.label(named.span, "the style it names");
        }
        if let Some(source) = words_of(&style.texts, WordsKind::Source).next() {
            said = said.note(format!("the style's source: {}", plain(source)));
        }
        let help = "bring it within the bounds, name another style, or say why: `allow \
            outside-style \"…\"`";
        findings.push(said.help(help));
    }
}

/// A bound of the house's own style on a figure that this formula does not have.
fn not_known(style: &Style, bound: &Bound, named: &Name) -> Option<Finding> {
    if style.span.source.is_built_in() || Figure::read(&bound.what.name.key).is_none() {
        return None;
    }
    let figure = &bound.what.name.shown;
    let message =
        format!("this formula has no `{figure}`, which the style `{}` bounds", style.name.shown);
    let said = Finding::new(&CANNOT_BE_CHECKED, named.span, message);
    Some(match bound.place {
        Some(_) => said.label(bound.span, "bounded here"),
        None => said.label(bound.span, "bounded here").help(format!(
            "a figure of one mix is bounded with the mix's name: `{figure} in \
                STAGE …`"
        )),
    })
}

/// The value of a bounded figure, as what the bound counts in.
fn bounded(context: &Context, bound: &Bound) -> Option<(Value, Within)> {
    let figure = Figure::read(&bound.what.name.key)?;
    if matches!(figure, Figure::Elapsed | Figure::HandsOn) {
        return Some((longest(context, &figure, &context.range(&bound.range))?, Within::All));
    }
    let within = match &bound.place {
        Some(place) => context.worked.within(&place.key)?,
        None => Within::All,
    };
    let value = match within {
        // Of a piece, the kind that is outside.
        Within::All if figure.is_of_a_piece() => {
            let range = context.range(&bound.range);
            let kinds = context.figures(&figure);
            let outside = kinds.iter().find(|value| !range.holds(&value.amount));
            outside.or(kinds.first())?.clone()
        }
        Within::All => context.figure(&figure)?,
        _ => context.worked.figure_of(context.first(), &figure, within)?,
    };
    let written = bound.range.low.as_ref().or(bound.range.high.as_ref())?;
    let as_share = written.unit.dimension() == Dimension::Share;
    let value = match (value.kind, as_share) {
        (ValueKind::Mass, true) => {
            let flour = match within {
                Within::All => context.flour().clone(),
                _ => context.worked.basis(context.first(), within),
            };
            let amount = value.amount.over(&flour)?;
            Value { kind: ValueKind::Share, amount }
        }
        _ => value,
    };
    Some((value, within))
}

/// The end of a formula's time that leaves a bound; its shortest where none does.
fn longest(context: &Context, figure: &Figure, range: &Range) -> Option<Value> {
    let length = context.length(figure)?;
    let time = |amount: Exact| Value { kind: ValueKind::Time, amount };
    match length.high {
        Some(high) if !range.holds(&high) => Some(time(high)),
        _ => Some(time(length.low)),
    }
}

fn show_range(context: &Context, range: &Range, kind: ValueKind) -> String {
    let show = |value: &Exact| context.show(value, kind);
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => format!("{} to {}", show(low), show(high)),
        (Some(low), None) => format!("{} or more", show(low)),
        (None, Some(high)) => format!("up to {}", show(high)),
        (None, None) => "no bound".into(),
    }
}
