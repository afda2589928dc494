//! `glyph-missing`: a character that none of the fonts can print.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// A character that none of the fonts has.
pub const RULE: Rule = Rule {
    name: "glyph-missing",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("glyph_missing.md"),
};

/// The finding for a print, by its title, and the characters that it lacks.
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
