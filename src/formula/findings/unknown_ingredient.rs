//! `unknown-ingredient`: a name on a line that nobody knows.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Least, Name, Stage};
use crate::syntax::words;
use ecow::EcoString;

pub const RULE: Rule = Rule {
    name: "unknown-ingredient",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_ingredient.md"),
};

pub fn finding(name: &Name, near: Option<EcoString>) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("nothing here is called `{}`", name.shown));
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None if statement(&name.key).is_some() => said.help(format!(
            "did you mean the statement `{}`?",
            statement(&name.key).unwrap_or_default()
        )),
        None => said.help(
            "correct the name, or declare it: `ingredient NAME is a CLASS { … }`; what is mixed \
             beforehand is a stage: `preferment NAME { … }`",
        ),
    }
}

/// The word that a stage or a piece says beside its lines and that may be meant: `sawe 50 g`.
fn statement(key: &str) -> Option<&'static str> {
    words::near(key, words::OF_A_STAGE).or_else(|| words::near(key, words::OF_A_PIECE))
}

/// `at least 20 g jar` in a stage without a jar.
pub fn not_in_stage(least: &Least, stage: &Stage, near: Option<EcoString>) -> Finding {
    let (name, span) = (&least.name.shown, least.name.span);
    let stage = &stage.name.shown;
    let said = Finding::new(
        &RULE,
        span,
        format!("`{name}` is not in `{stage}`, so there is no least amount of it"),
    );
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(span, near, false),
        None => said.help(format!("name something that goes into it, or `{stage}` itself")),
    }
}
