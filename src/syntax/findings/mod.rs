//! The rules whose findings the reader raises, one file for each.

pub mod decimal_comma;
pub mod declared_twice;
pub mod division_by_zero;
pub mod missing_unit;
pub mod not_worked_out_yet;
pub mod number_too_large;
mod quote;
pub mod range_reversed;
pub mod reserved_word;
pub mod said_twice;
pub mod too_deep;
pub mod unclosed_block;
pub mod unclosed_text;
pub mod unexpected_text;
pub mod unknown_unit;
pub mod unread_fence;

use crate::diag::Rule;
pub(in crate::syntax) use quote::{quoted, quoted_head, with_article};

/// All of them, by name.
pub const ALL: &[&Rule] = &[
    &decimal_comma::RULE,
    &declared_twice::RULE,
    &division_by_zero::RULE,
    &missing_unit::RULE,
    &not_worked_out_yet::RULE,
    &number_too_large::RULE,
    &range_reversed::RULE,
    &reserved_word::RULE,
    &said_twice::RULE,
    &too_deep::RULE,
    &unclosed_block::RULE,
    &unclosed_text::RULE,
    &unexpected_text::RULE,
    &unknown_unit::RULE,
    &unread_fence::RULE,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_stand_in_order_and_once() {
        let names: Vec<_> = ALL.iter().map(|rule| rule.name).collect();
        assert!(names.is_sorted_by(|one, two| one < two));
    }
}
