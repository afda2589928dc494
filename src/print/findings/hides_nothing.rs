//! `hides-nothing`: `hide` of something that the worksheet does not show.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `hides-nothing`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "hides-nothing",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("hides_nothing.md"),
};

/// Something that stands on no cell of the sheet.
pub fn finding(span: Span, words: &str) -> Finding {
    Finding::new(&RULE, span, format!("there is no `{words}` on this worksheet to hide")).help(
        "hide what the table shows: `hydration`, `salt`, a weight, `water %`, `weights in levain`",
    )
}
