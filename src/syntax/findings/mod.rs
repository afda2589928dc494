//! The rules whose findings the reader raises, one file for each.

pub mod amount_impossible;
pub mod decimal_comma;
pub mod declared_twice;
pub mod division_by_zero;
pub mod incomplete_statement;
pub mod malformed_hours;
pub mod malformed_name;
pub mod malformed_number;
pub mod measure_unclear;
pub mod misplaced_brace;
pub mod misplaced_punctuation;
pub mod misplaced_statement;
pub mod missing_amount;
pub mod missing_name;
pub mod missing_unit;
pub mod missing_value;
pub mod not_a_figure;
pub mod not_a_yield;
pub mod not_worked_out_yet;
pub mod number_too_large;
pub mod pair_disagrees;
mod quote;
pub mod range_reversed;
pub mod read_as;
pub mod reserved_word;
pub mod said_twice;
pub mod too_deep;
pub mod unclosed_block;
pub mod unclosed_text;
pub mod unexpected_text;
pub mod unknown_unit;
pub mod unknown_value;
pub mod unknown_word;
pub mod unread_fence;
pub mod unresolved_merge;
pub mod unseen_letter;
pub mod wrong_kind_of_amount;

use crate::diag::Rule;
pub(in crate::syntax) use quote::{in_quotes, meant, quoted, quoted_head, with_article};

/// All of them, by name.
pub const ALL: &[&Rule] = &[
    &amount_impossible::RULE,
    &decimal_comma::RULE,
    &declared_twice::RULE,
    &division_by_zero::RULE,
    &incomplete_statement::RULE,
    &malformed_hours::RULE,
    &malformed_name::RULE,
    &malformed_number::RULE,
    &measure_unclear::RULE,
    &misplaced_brace::RULE,
    &misplaced_punctuation::RULE,
    &misplaced_statement::RULE,
    &missing_amount::RULE,
    &missing_name::RULE,
    &missing_unit::RULE,
    &missing_value::RULE,
    &not_a_figure::RULE,
    &not_a_yield::RULE,
    &not_worked_out_yet::RULE,
    &number_too_large::RULE,
    &pair_disagrees::RULE,
    &range_reversed::RULE,
    &read_as::RULE,
    &reserved_word::RULE,
    &said_twice::RULE,
    &too_deep::RULE,
    &unclosed_block::RULE,
    &unclosed_text::RULE,
    &unexpected_text::RULE,
    &unknown_unit::RULE,
    &unknown_value::RULE,
    &unknown_word::RULE,
    &unread_fence::RULE,
    &unresolved_merge::RULE,
    &unseen_letter::RULE,
    &wrong_kind_of_amount::RULE,
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
