//! `glyph-missing`: a character that none of the fonts can print.

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
        format!("the prints of {title} have characters that no font at hand has: {missing}"),
    )
    .note("they print as empty boxes, and the PDF can't be read aloud")
    .help(
        "put a font that has them into the bakehouse's folder `fonts`, or print with \
         `--system-fonts` if this machine has one",
    )
}
