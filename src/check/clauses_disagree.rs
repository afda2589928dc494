//! `clauses-disagree`: one phase of a step says two things that can't both be.

use super::context::Context;
use super::sense::{self, Clause};
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::Phase;

/// `clauses-disagree`, an error about the method.
pub const RULE: Rule = Rule {
    name: "clauses-disagree",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("clauses_disagree.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps() {
        for (index, phase) in step.phases.iter().enumerate() {
            let said = sense::said(context, step, index);
            for (later, (two, span)) in said.iter().enumerate() {
                let denied = said[..later].iter().find_map(|(one, first)| {
                    one.denies(*two).map(|why| pair((*one, *first), (*two, *span), why))
                });
                findings.extend(denied);
            }
            findings.extend(said.iter().find_map(|said| warm_in_the_cold(context, phase, *said)));
        }
    }
}

fn pair(one: (Clause, Span), two: (Clause, Span), why: &str) -> Finding {
    let (first, second) = (name(one.0), name(two.0));
    let message = format!("{first} and {second} can't both be: {why}");
    let said = Finding::new(&RULE, two.1, message).help(
        "remove one of them, or write what changes later as a phase of its own, after `then`",
    );
    match one.1.start < two.1.start && one.1.end > two.1.start {
        true => said,
        false => said.label(one.1, "this is said as well"),
    }
}

fn name(clause: Clause) -> String {
    match clause {
        Clause::In(place) => format!("`in` {}", place.word()),
        _ => format!("`{}`", clause.word()),
    }
}

/// `at 26C in fridge`.
fn warm_in_the_cold(context: &Context, phase: &Phase, said: (Clause, Span)) -> Option<Finding> {
    let (Clause::In(place), span) = said else { return None };
    let at = phase.at.as_ref()?;
    let warm = celsius(&sense::too_warm(context, phase, place)?, 0);
    let message = format!("{} is not as warm as {warm}", place.word());
    let said = Finding::new(&RULE, at.span, message).label(span, "it is in here");
    Some(said.help("correct the temperature, or leave out where it stands"))
}
