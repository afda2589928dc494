//! A brace too many, or on another line than its word.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `misplaced-brace`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "misplaced-brace",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_brace.md"),
};

/// A `}` that closes nothing.
pub fn stray_brace(span: Span) -> Finding {
    Finding::new(&RULE, span, "this `}` closes nothing")
        .help("remove it, or look for a `{` that is missing before it")
}

/// A head whose block has no `{`; `place` is the end of the head.
pub fn missing_brace(place: Span, head: &str) -> Finding {
    // Another bracket may stand for the brace.
    let bare = head.trim().trim_end_matches(['(', '[', '<']).trim_end();
    let said =
        Finding::new(&RULE, place, "a `{` is missing here").help(format!("write `{bare} {{`"));
    match bare == head.trim() {
        true => said.repair(place, " {", false),
        false => said,
    }
}

/// `{` on the line behind its head; `gap` is what lies between.
pub fn brace_on_own_line(gap: Span, head: &str) -> Finding {
    let brace = Span { start: gap.end, end: gap.end + 1, ..gap };
    let head = head.trim();
    let help = match head.is_empty() || head.contains(['`', '\n']) {
        true => "put it on the line of the word it belongs to".to_owned(),
        false => format!("put it on the line of the word it belongs to: `{head} {{`"),
    };
    Finding::new(&RULE, brace, "this `{` is on a line by itself").help(help).repair(gap, " ", true)
}

/// Braces at the top of a file, with no word before them.
pub fn no_declaration(span: Span) -> Finding {
    Finding::new(&RULE, span, "these braces have no word before them").help(
        "a formula begins with its word, its name and its title: `formula my-loaf \"My Loaf\" {`",
    )
}

/// Lines in braces of their own among the lines of a block.
/// The word of a block that was perhaps meant is `near`.
pub fn group(span: Span, head: &str, near: Option<&str>) -> Finding {
    let told = format!("{} groups lines, and a block has no groups", quoted(head));
    let without = format!("write its lines without the braces; a heading is a comment: `# {head}`");
    Finding::new(&RULE, span, told).help(match near {
        Some(near) => format!("did you mean `{near}`? Else {without}"),
        None => without,
    })
}

/// Braces on a statement that takes none.
pub fn block_here(span: Span) -> Finding {
    Finding::new(&RULE, span, "nothing in braces belongs here")
        .help("remove the braces, or write before them what they are for")
}
