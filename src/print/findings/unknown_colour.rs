//! `unknown-colour`: a colour that is not written in digits.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;

/// A colour that is not written in digits.
pub const RULE: Rule = Rule {
    name: "unknown-colour",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("unknown_colour.md"),
};

/// The finding for the colour of a house.
pub fn finding(colour: &Setting) -> Finding {
    let message = format!("`{}` is not a colour that can be read", colour.value);
    Finding::new(&RULE, colour.span, message)
        .help("write it as `#` and six digits: `colour \"#2f4858\"` is a dark blue")
}
