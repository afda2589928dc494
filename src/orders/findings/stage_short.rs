//! `stage-short`: a day takes more of a stage, a culture or old dough than is on hand, or has on
//! hand what nobody knows.

use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::syntax::tree::{Name, OnHand};

/// `stage-short`, an error about sums.
pub const RULE: Rule = Rule {
    name: "stage-short",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("stage_short.md"),
};

/// On hand is something of a name that neither the house nor the formula has.
pub fn unknown(name: &Name, of: Option<&Name>) -> Finding {
    let message = match of {
        Some(of) => format!("`{}` has no stage called `{}`", of.shown, name.shown),
        None => format!("no stage or culture of the house is called `{}`", name.shown),
    };
    Finding::new(&RULE, name.span, message).help(match of {
        Some(_) => "write the name of one of its stages, or `old dough`",
        None => {
            "a stage inside a formula is written with it: `on hand levain 2 kg of gullhaven-sour`"
        }
    })
}

/// Less is on hand than is taken of what can't be built that day.
pub fn finding(there: &OnHand, taken: &Exact, is_there: &Exact) -> Finding {
    let name = &there.name.shown;
    let message =
        format!("the day takes {} of `{name}`, and {} is on hand", grams(taken), grams(is_there));
    Finding::new(&RULE, there.name.span, message)
        .note(format!(
            "{} − {} = {} short",
            grams(taken),
            grams(is_there),
            grams(&(taken - is_there))
        ))
        .help("feed it up before, take less of it, or leave the line out if there is enough")
}
