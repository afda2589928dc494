//! `level-not-reached`: an exercise that takes more or fewer steps than its level.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `level-not-reached`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "level-not-reached",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("level_not_reached.md"),
};

/// How many steps there are, and what was wanted; of a seat, where they differ.
pub fn finding(span: Span, level: &str, steps: usize, seat: Option<u32>) -> Finding {
    let plural = if steps == 1 { "" } else { "s" };
    let whose = seat.map(|seat| format!(" of seat {seat}")).unwrap_or_default();
    let said =
        format!("the answer{whose} takes {steps} step{plural}, which is not of level `{level}`");
    Finding::new(&RULE, span, said)
        .note("`first` is at most two steps, `second` at most four, `third` five or more")
        .help("take another level, or another exercise")
}
