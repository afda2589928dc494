//! `oven-loads`: more pieces than the oven holds at once.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Oven, WorkedPiece};
use crate::quantity::display::trimmed;
use crate::syntax::tree::Verb;

/// `oven-loads`, a note about prints.
pub const RULE: Rule = Rule {
    name: "oven-loads",
    level: Level::Note,
    group: Group::Prints,
    page: include_str!("oven_loads.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let phases = method.steps.iter().filter(|step| step.verb == Verb::Bake);
    let places = phases.flat_map(|step| &step.phases).filter_map(|phase| phase.place.as_ref());
    let named = |oven: &&Oven| places.clone().any(|place| place.key == oven.name.key);
    let pieces = &context.first().pieces;
    let ovens = context.house.ovens();
    let named = ovens.iter().find(named);
    // Where none is named, the dough goes where it takes the fewest loads.
    let chosen = match named {
        Some(oven) => Some((oven, oven.loads(pieces))),
        None => {
            let known = ovens.iter().filter_map(|oven| Some((oven, Some(oven.loads(pieces)?))));
            known.min_by(|one, two| one.1.cmp(&two.1))
        }
    };
    let Some((oven, loads)) = chosen else { return };
    let span = context.worked.formula.makes.as_ref().map_or(method.span, |makes| makes.span);
    let Some(loads) = loads else {
        findings.extend(unsaid(oven, pieces).map(|kind| {
            let message =
                format!("the oven `{}` does not say how many {kind} it holds", oven.name.shown);
            Finding::new(&RULE, span, message)
                .label(oven.name.span, "declared here")
                .help(format!("add it there: `holds …, 24 {kind}`"))
        }));
        return;
    };
    let whole = loads.ceil();
    if whole <= 1.into() {
        return;
    }
    let shown: Vec<String> = pieces.iter().filter_map(|piece| working(oven, piece)).collect();
    findings.push(
        Finding::new(
            &RULE,
            span,
            format!("this takes {whole} loads of the oven `{}`", oven.name.shown),
        )
        .note(format!("{} = {}", shown.join(" + "), trimmed(&loads, 2)))
        .help("what is shaped first waits longest: divide so that each load is proofed when its turn comes"),
    );
}

/// A kind of piece that the oven says nothing of, though it does of others.
fn unsaid<'p>(oven: &Oven, pieces: &'p [WorkedPiece]) -> Option<&'p str> {
    let unknown = pieces.iter().find(|piece| oven.held(piece).is_none())?;
    (!oven.holds.is_empty()).then_some(unknown.made.kind.as_str())
}

fn working(oven: &Oven, piece: &WorkedPiece) -> Option<String> {
    let most = oven.held(piece)?;
    let (count, kind) = (&piece.made.count, &piece.made.kind);
    Some(format!("{} {kind} ÷ {}", trimmed(count, 2), trimmed(&most, 2)))
}
