//! `piece-doubtful`: a piece far lighter or heavier than what is sold by its name.

use super::claims::is_claimed;
use super::context::Context;
use super::slips;
use super::usual::usual_piece;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{MadeKind, SizedBy};
use crate::quantity::display::trimmed;
use crate::quantity::{Exact, Range};
use crate::source::Span;

/// `piece-doubtful`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "piece-doubtful",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("piece_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let Some(makes) = &formula.makes else { return };
    let numbers = context.first();
    let style_says = context.style_bounds("piece") || is_claimed(context, "piece", None);
    let is_told = slips::is_tiny(context) || slips::is_weight_in_percent(context);
    if numbers.anchor == SizedBy::Pieces || style_says || is_told {
        return;
    }
    for (index, piece) in numbers.pieces.iter().enumerate() {
        let made = &piece.made;
        if made.weight.is_zero() || made.tin.is_some() {
            continue;
        }
        let Some((usual, _)) = usual_piece(context, &made.key) else { continue };
        if slack(context, &usual, made.written).holds(&made.weight) {
            continue;
        }
        let span = makes.pieces.get(index).map_or(makes.span, |made| made.span);
        findings.push(finding(context, made, &usual, span));
    }
}

/// A weight that is written is meant: only one far off is a slip.
fn slack(context: &Context, usual: &Range, is_written: bool) -> Range {
    let times = context.number("habit of slips", "pieces").filter(|_| is_written);
    let times = times.unwrap_or(Exact::ONE);
    Range {
        low: usual.low.as_ref().and_then(|low| low.over(&times)),
        high: usual.high.as_ref().map(|high| high * &times),
    }
}

fn finding(context: &Context, made: &MadeKind, usual: &Range, span: Span) -> Finding {
    let shown = match (&usual.low, &usual.high) {
        (Some(low), Some(high)) => format!("{} to {}", grams(low), grams(high)),
        (one, other) => one.as_ref().or(other.as_ref()).map(grams).unwrap_or_default(),
    };
    let said = Finding::new(
        &RULE,
        span,
        format!(
            "{} of dough in one of the `{}` is doubtful: {shown} is usual",
            grams(&made.weight),
            made.kind
        ),
    );
    if made.written {
        return said.help("check the weight and its unit; `at` is the dough of one piece");
    }
    let dough = &made.weight * &made.count;
    let said = said.note(format!(
        "{} of dough ÷ {} = {}",
        grams(&dough),
        trimmed(&made.count, 2),
        grams(&made.weight)
    ));
    match likely_count(context, made, usual) {
        Some(count) => said.help(format!(
            "were {} `{}` meant? That is {} each",
            trimmed(&count, 0),
            made.kind,
            grams(&dough.each_of(&count))
        )),
        None => said.help("check how many it makes, and the weights of the dough"),
    }
}

/// Half as many, or twice as many, where that is usual.
fn likely_count(context: &Context, made: &MadeKind, usual: &Range) -> Option<Exact> {
    let times = context.number("habit of slips", "pieces").unwrap_or(Exact::ONE);
    let fewer = made.count.over(&times).unwrap_or_default();
    let more = &made.count * &times;
    [fewer, more].into_iter().find(|count| {
        let each = (&made.weight * &made.count).over(count);
        count.is_int() && each.is_some_and(|each| usual.holds(&each))
    })
}
