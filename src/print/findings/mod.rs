//! Findings about the look of prints, one file a rule.

use super::look::{self, Colour};
use crate::diag::{Finding, Rule};
use crate::formula::House;

pub mod colour_too_pale;
pub mod no_words_for_language;
pub mod template_slip;
pub mod unknown_colour;
pub mod unknown_logo;
pub mod unknown_paper;
pub mod words_unread;

/// The rules of this room.
pub const RULES: &[&Rule] = &[
    &colour_too_pale::RULE,
    &no_words_for_language::RULE,
    &template_slip::RULE,
    &unknown_colour::RULE,
    &unknown_logo::RULE,
    &unknown_paper::RULE,
    &words_unread::RULE,
];

/// Checks what a house says of the look of its prints.
pub fn check_look(house: &House, findings: &mut Vec<Finding>) {
    let settings = &house.settings;
    if let Some(paper) = &settings.paper
        && look::paper(&paper.value).is_none()
    {
        findings.push(unknown_paper::finding(paper));
    }
    if let Some(logo) = &settings.logo
        && look::logo(&logo.value).is_none()
    {
        findings.push(unknown_logo::finding(logo));
    }
    if let Some(colour) = &settings.colour {
        match Colour::read(&colour.value) {
            None => findings.push(unknown_colour::finding(colour)),
            Some(read) if read.contrast_on_paper() < look::LEAST_CONTRAST => {
                findings.push(colour_too_pale::finding(colour, read));
            }
            Some(_) => {}
        }
    }
}
