//! Findings that come up while names are resolved and sums are worked out, one file a
//! rule.

use crate::diag::Rule;

pub mod allergen_in_name;
pub mod amount_unclear;
pub mod beyond_water;
pub mod circular_size;
pub mod composition_depends_on_size;
pub mod contains_doubtful;
pub mod declared_twice;
pub mod empty_mix;
pub mod from_cycle;
pub mod left_over;
pub mod misplaced_line;
pub mod mixed_alphabets;
pub mod negative_weight;
pub mod no_density;
pub mod no_each_weight;
pub mod no_warmth;
pub mod not_an_amount;
pub mod overrides_nothing;
pub mod percentage_of_nothing;
pub mod piece_cycle;
pub mod piece_size_missing;
pub mod replaces_built_in;
pub mod size_given_twice;
pub mod stage_cycle;
pub mod stage_size_missing;
pub mod stage_takes_more_than_total;
pub mod subject;
pub mod too_many;
pub mod unknown_allergen;
pub mod unknown_class;
pub mod unknown_formula;
pub mod unknown_ingredient;
pub mod unknown_property;
pub mod unknown_stage;
pub mod unknown_style;
pub mod unknown_tin;
pub mod yield_not_in_formula;

/// The rules of this room.
pub const ALL: &[&Rule] = &[
    &allergen_in_name::RULE,
    &amount_unclear::RULE,
    &circular_size::RULE,
    &composition_depends_on_size::RULE,
    &contains_doubtful::RULE,
    &empty_mix::RULE,
    &from_cycle::RULE,
    &left_over::RULE,
    &misplaced_line::RULE,
    &mixed_alphabets::RULE,
    &negative_weight::RULE,
    &no_density::RULE,
    &no_each_weight::RULE,
    &not_an_amount::RULE,
    &overrides_nothing::RULE,
    &percentage_of_nothing::RULE,
    &piece_cycle::RULE,
    &piece_size_missing::RULE,
    &replaces_built_in::RULE,
    &size_given_twice::RULE,
    &stage_cycle::RULE,
    &stage_size_missing::RULE,
    &stage_takes_more_than_total::RULE,
    &too_many::RULE,
    &unknown_allergen::RULE,
    &unknown_class::RULE,
    &unknown_formula::RULE,
    &unknown_ingredient::RULE,
    &unknown_property::RULE,
    &unknown_stage::RULE,
    &unknown_style::RULE,
    &unknown_tin::RULE,
    &yield_not_in_formula::RULE,
];
