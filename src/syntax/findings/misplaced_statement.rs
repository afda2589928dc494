//! A statement that belongs elsewhere.

use super::{quoted, quoted_head, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `misplaced-statement`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "misplaced-statement",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_statement.md"),
};

/// A statement that belongs in the block around this one.
pub fn misplaced(span: Span, word: &str, around: &str) -> Finding {
    let message = format!("{} does not belong inside {}", quoted(word), quoted_head(around));
    Finding::new(&RULE, span, message).help("move it after the `}` of the block it is in")
}

/// A line of ingredients right in a formula.
pub fn line_in_formula(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is written directly in the formula", quoted(written)))
        .help("lines go in `total { … }` or `dough { … }`, claims in `expect { … }`")
}

/// A block of a formula right in a file.
pub fn outside_a_formula(span: Span, head: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} stands outside of a formula", quoted_head(head)))
        .help("write a formula around it: `formula my-loaf \"My Loaf\" { … }`")
}

/// A note on its own among lines.
pub fn no_note_here(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not belong among these lines", quoted(word))).help(
        "a note on a line is a text after its amount; one on the formula goes outside the block",
    )
}

/// `counts as flour …` in a stage, a piece or a mixture.
pub fn counts_elsewhere(span: Span) -> Finding {
    Finding::new(&RULE, span, "what counts as flour is said once, for the whole formula")
        .help("move this line into the formula's block `total` or `dough`")
}

/// A step that begins with a clause.
pub fn clause_without_verb(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is written here without a step", quoted(word)))
        .help("put it on the line of its step, or in the braces of the step")
}

/// Two steps on one line.
pub fn step_on_own_line(span: Span, word: &str) -> Finding {
    let place = Span { end: span.start, ..span };
    Finding::new(&RULE, span, format!("{} begins another step", quoted(word)))
        .help("put it on a line of its own")
        .repair(place, "\n", false)
}

/// `ripens` where something stands, `stands` where something ripens.
pub fn other_wait(span: Span, word: &str, right: &str, kind: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} {right}; it never {word}", with_article(kind)))
        .help(format!("write `{right}`"))
        .repair(span, right, true)
}
