//! `unknown-logo`: a logo of a kind that can't be printed.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;

pub const RULE: Rule = Rule {
    name: "unknown-logo",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("unknown_logo.md"),
};

pub fn finding(logo: &Setting) -> Finding {
    let message = format!("`{}` is neither an SVG nor a PNG file", logo.value);
    Finding::new(&RULE, logo.span, message)
        .help("save the picture as SVG (drawn) or PNG (dots), and name that file here")
}

/// A file with the right ending that holds something else.
pub fn not_a_picture(logo: &Setting) -> Finding {
    let message = format!("`{}` does not hold the picture that its name promises", logo.value);
    Finding::new(&RULE, logo.span, message)
        .help("the prints leave it out; save it again as SVG or PNG")
}
