//! `glyph-missing`: a character that no bundled font can print.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "glyph-missing",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("glyph_missing.md"),
};

pub fn finding(title: &str, missing: &str) -> Finding {
    Finding::new(
        &RULE,
        Span::NOWHERE,
        format!("the prints of {title} have characters that no bundled font has: {missing}"),
    )
    .help("they print as empty boxes, and the PDF can not be read aloud; write them in another script")
}
