//! `unresolved-merge`: the marks of a merge that nobody has finished.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unresolved-merge`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "unresolved-merge",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unresolved_merge.md"),
};

/// From the line `<<<<<<<` to the line `>>>>>>>`.
pub fn finding(span: Span) -> Finding {
    let said = "an unresolved merge: two versions of these lines stand here, one above `=======` \
                and one below it";
    Finding::new(&RULE, span, said).help(
        "keep the lines that are to hold, remove the others, and remove the three lines of marks",
    )
}
