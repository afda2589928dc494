//! What is said of recipes that were brought in.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::READ_AS;

/// `needs-a-decision`, an error about a recipe.
pub const NEEDS_A_DECISION: Rule = Rule {
    name: "needs-a-decision",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("needs_a_decision.md"),
};

/// `not-understood`, a warning about a recipe.
pub const NOT_UNDERSTOOD: Rule = Rule {
    name: "not-understood",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("not_understood.md"),
};

/// The rules whose findings this room raises.
pub const RULES: &[&Rule] = &[&NEEDS_A_DECISION, &NOT_UNDERSTOOD];

/// What only a person can say; the file has it too.
pub fn needs_a_decision(file: &str, what: &str) -> Finding {
    Finding::new(&NEEDS_A_DECISION, Span::NOWHERE, format!("{file}: {what}"))
        .help("the formula says where, in a line that begins with `# decide:`")
}

/// A file in which no recipe was found.
pub fn no_recipe(file: &str, why: &str) -> Finding {
    Finding::new(&NOT_UNDERSTOOD, Span::NOWHERE, format!("{file} gives no formula: {why}"))
        .level(Level::Error)
        .help("a line of ingredients begins with its amount, `500 g bread flour`, or ends with it")
}

/// Lines of a recipe that are kept as comments.
pub fn not_understood(file: &str, lines: &[String]) -> Finding {
    let plural = if lines.len() == 1 { "line was" } else { "lines were" };
    let message = format!("{file}: {} {plural} not understood", lines.len());
    let finding = Finding::new(&NOT_UNDERSTOOD, Span::NOWHERE, message);
    let first =
        lines.iter().take(5).fold(finding, |finding, line| finding.note(format!("`{line}`")));
    first.help("they stand in the formula as comments, `# not read: …`")
}

/// A name that was taken for another that differs in a letter or two.
pub fn read_near(file: &str, written: &str, near: &str) -> Finding {
    Finding::new(&READ_AS, Span::NOWHERE, format!("{file}: `{written}` is read as `{near}`"))
        .help("change it in the formula if something else is meant")
}
