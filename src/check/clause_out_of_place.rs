//! `clause-out-of-place`: a clause that says nothing of its verb, or a place in which it
//! does not happen.

use super::context::Context;
use super::sense::{self, Clause, NamedPlace};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::Verb;

/// `clause-out-of-place`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "clause-out-of-place",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("clause_out_of_place.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps() {
        for index in 0..step.phases.len() {
            let said = sense::said(context, step, index);
            let vain = said.into_iter().filter(|(clause, _)| !clause.suits(step.verb));
            findings.extend(vain.map(|(clause, span)| finding(step.verb, clause, span)));
        }
    }
}

fn finding(verb: Verb, clause: Clause, span: Span) -> Finding {
    let word = verb.word();
    let help = format!("write it in the step that it is about, such as `{}`", clause.example());
    match clause {
        Clause::In(place) => {
            let message = format!("`{word}` does not happen in {}", place.word());
            let said = Finding::new(&RULE, span, message).help(format!(
                "name where it happens, or nothing; {} is for steps such as `{}`",
                place.word(),
                clause.example()
            ));
            said.level(if is_absurd(verb, place) { Level::Error } else { Level::Warning })
        }
        Clause::Per => {
            let message = format!("`{word}` takes as long for many pieces as for one");
            let said = Finding::new(&RULE, span, message).level(Level::Error);
            said.help(match verb {
                Verb::Bake | Verb::Steam => {
                    "leave `per …` out; what an oven holds at a time is said by the house: \
                     `oven deck { holds 8 loaves }`"
                }
                _ => {
                    "leave `per …` out; it is for work that hands do piece by piece, such as \
                     `shape 25min per 30 pieces`"
                }
            })
        }
        Clause::At if matches!(verb, Verb::Mix | Verb::Feed | Verb::Build) => {
            let message = format!("`at` makes no sense in a `{word}` step");
            Finding::new(&RULE, span, message)
                .help("how warm the dough is to be when it is mixed is written `to 25C`")
        }
        Clause::To if Clause::UntilCore.suits(verb) => {
            let message = format!("`to` makes no sense in a `{word}` step");
            Finding::new(&RULE, span, message)
                .help("how warm the middle is to be is written `until core 96C`")
        }
        _ => {
            let message = format!("`{}` makes no sense in a `{word}` step", clause.word());
            Finding::new(&RULE, span, message).help(help)
        }
    }
}

/// Dough may be left in the bowl of a mixer, and raised in an oven that is off. Nothing is
/// mixed in an oven, nor baked in a mixer.
fn is_absurd(verb: Verb, place: NamedPlace) -> bool {
    let waits = matches!(
        verb,
        Verb::Bulk | Verb::Proof | Verb::Retard | Verb::Chill | Verb::Autolyse | Verb::Soak
    );
    matches!(place, NamedPlace::Mixer | NamedPlace::Oven) && !waits
}
