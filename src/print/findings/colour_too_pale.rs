//! `colour-too-pale`: words in the house's colour would be hard to read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;
use crate::print::look::{Colour, LEAST_CONTRAST};

/// A colour that can't be read on white paper.
pub const RULE: Rule = Rule {
    name: "colour-too-pale",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("colour_too_pale.md"),
};

/// The finding for the colour of a house, as it was read.
pub fn finding(colour: &Setting, read: Colour) -> Finding {
    let contrast = read.contrast_on_paper();
    let dark = read.readable().written();
    let message = format!(
        "`{}` has a contrast of {contrast:.1} : 1 on paper, and words need {LEAST_CONTRAST} : 1",
        colour.value
    );
    Finding::new(&RULE, colour.span, message)
        .note(format!(
            "measured as the W3C's guidelines for accessible pages do, on white and on the \
             tint of the cautions; `{dark}` is the same colour, darkened until it can be read"
        ))
        .help(format!("write `colour \"{dark}\"`, which is what the prints use meanwhile"))
        .repair(colour.span, format!("\"{dark}\""), false)
}
