//! Findings about the look of prints, one file a rule.

use super::look::{self, Colour};
use crate::diag::{Finding, Rule};
use crate::formula::House;

pub mod answers_for_learners;
pub mod colour_too_pale;
pub mod columns_alike;
pub mod exercise_not_possible;
pub mod hidden_but_printed;
pub mod hides_nothing;
pub mod level_not_reached;
pub mod no_single_answer;
pub mod no_words_for_language;
pub mod nothing_to_answer;
pub mod people_unused;
pub mod picture_without_caption;
pub mod seats_alike;
pub mod table_not_possible;
pub mod template_slip;
pub mod text_mark_unread;
pub mod unknown_colour;
pub mod unknown_logo;
pub mod unknown_paper;
pub mod unknown_picture;
pub mod words_refused;
pub mod words_unread;
pub mod yield_unclear;

/// The rules of this room.
pub const RULES: &[&Rule] = &[
    &answers_for_learners::RULE,
    &colour_too_pale::RULE,
    &columns_alike::RULE,
    &exercise_not_possible::RULE,
    &hidden_but_printed::RULE,
    &hides_nothing::RULE,
    &level_not_reached::RULE,
    &no_single_answer::RULE,
    &no_words_for_language::RULE,
    &nothing_to_answer::RULE,
    &people_unused::RULE,
    &picture_without_caption::RULE,
    &seats_alike::RULE,
    &table_not_possible::RULE,
    &template_slip::RULE,
    &text_mark_unread::RULE,
    &unknown_colour::RULE,
    &unknown_logo::RULE,
    &unknown_paper::RULE,
    &unknown_picture::RULE,
    &words_refused::RULE,
    &words_unread::RULE,
    &yield_unclear::RULE,
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
