//! The one table of the rules of this room: name, function, when it may run.

use super::context::Context;
use crate::diag::{Finding, Rule};
use crate::formula::House;
use crate::syntax::tree::Tree;

use super::{
    absence_in_text, allergen_undeclared, allow_silences_nothing, amount_doubtful,
    autolyse_with_salt, autolyse_without_liquid, bake_doubtful, batch_over_mixer,
    batch_under_mixer, below_scale_resolution, butter_melts, claim_cannot_be_checked,
    claim_not_proved, claim_refuted, claims_disagree, clause_out_of_place, clauses_disagree,
    composition_impossible, culture_doubtful, culture_flour_not_listed, dough_left, eaten_raw,
    fact_doubtful, flour_not_100, folds_do_not_fit, hardly_rises, ice_too_much,
    impossible_hydration, improver_high, ingredient_added_twice, ingredient_in_text,
    ingredient_never_added, liquids_unusual, loss_doubtful, lye_out_of_place, malt_high,
    missing_salt, more_than_there_is, nearly_the_same_name, no_bake, no_effect, no_flour,
    no_leavening, no_liquid, no_seed_left, no_water_to_adjust, nothing_to_put_on, number_in_text,
    outside_style, oven_loads, part_of_a_piece, percent_or_grams, piece_doubtful,
    prefermented_flour_high, price_doubtful, read_as, ripening_doubtful, salt_as_eaten_high,
    salt_high, salt_low, salt_not_weighed, salt_yeast_swapped, scald_not_cooled,
    seed_share_doubtful, sour_flour_high, stage_not_ready, stage_overripe, stands_too_warm,
    step_out_of_order, temperature_doubtful, temperature_missing, texts, time_doubtful,
    time_missing, tin_fill, unknown_figure, unknown_in_step, unknown_mixer, unused_mixture,
    unused_stage, unused_style, water_too_hot, yeast_high, yeast_killed, yeast_kind_doubtful,
    yield_disagrees,
};

/// Looks at one formula.
type Check = fn(&Context, &mut Vec<Finding>);

/// Looks at what a house declares.
type HouseCheck = fn(&House, &[&Tree], &mut Vec<Finding>);

/// A function of a rule, by when it may run.
#[derive(Clone, Copy, Debug)]
pub enum Runs {
    /// Reads what was written, and needs no sound arithmetic.
    AsWritten(Check),
    /// Needs lines that could all be read.
    Readable(Check),
    /// Would only repeat what is wrong already, were something unknown or impossible; looks
    /// at all choices of range ends by itself.
    Sound(Check),
    /// As `Sound`, and is asked again at every choice of range ends.
    AtEveryEnd(Check),
    /// Once for a house.
    OfHouse(HouseCheck),
}

use Runs::{AsWritten, AtEveryEnd, OfHouse, Readable, Sound};

/// A rule with its functions. `allow-silences-nothing` has none: it looks at what all others
/// found. Nor have `absence-in-text` and `number-in-text`, which are asked by `texts`.
#[derive(Clone, Copy, Debug)]
pub struct RuleRow {
    /// What its findings are.
    pub rule: &'static Rule,
    /// When it may run, and with what.
    pub runs: &'static [Runs],
    /// Judges the bread rather than the sums. What it calls an error is bread that nobody
    /// can eat; who means it all the same may allow it, with the reason.
    pub judges: bool,
}

const fn row(rule: &'static Rule, runs: &'static [Runs]) -> RuleRow {
    RuleRow { rule, runs, judges: false }
}

const fn judgement(rule: &'static Rule, runs: &'static [Runs]) -> RuleRow {
    RuleRow { rule, runs, judges: true }
}

/// By name.
pub const TABLE: &[RuleRow] = &[
    row(&absence_in_text::RULE, &[]),
    row(&allergen_undeclared::RULE, &[OfHouse(allergen_undeclared::check)]),
    row(&allow_silences_nothing::RULE, &[]),
    judgement(&amount_doubtful::RULE, &[AtEveryEnd(amount_doubtful::check)]),
    row(&autolyse_with_salt::RULE, &[AtEveryEnd(autolyse_with_salt::check)]),
    row(&autolyse_without_liquid::RULE, &[AtEveryEnd(autolyse_without_liquid::check)]),
    judgement(&bake_doubtful::RULE, &[AtEveryEnd(bake_doubtful::check)]),
    row(&batch_over_mixer::RULE, &[AtEveryEnd(batch_over_mixer::check)]),
    row(&batch_under_mixer::RULE, &[AtEveryEnd(batch_under_mixer::check)]),
    row(&below_scale_resolution::RULE, &[AtEveryEnd(below_scale_resolution::check)]),
    row(&butter_melts::RULE, &[AsWritten(butter_melts::check)]),
    row(&claim_cannot_be_checked::RULE, &[AtEveryEnd(claim_cannot_be_checked::check)]),
    row(&claim_not_proved::RULE, &[AtEveryEnd(claim_not_proved::check)]),
    row(&claim_refuted::RULE, &[AtEveryEnd(claim_refuted::check)]),
    row(&claims_disagree::RULE, &[AtEveryEnd(claims_disagree::check)]),
    row(&clause_out_of_place::RULE, &[AsWritten(clause_out_of_place::check)]),
    row(&clauses_disagree::RULE, &[AsWritten(clauses_disagree::check)]),
    row(&composition_impossible::RULE, &[OfHouse(composition_impossible::check)]),
    row(&culture_doubtful::RULE, &[OfHouse(culture_doubtful::check)]),
    row(&culture_flour_not_listed::RULE, &[AtEveryEnd(culture_flour_not_listed::check)]),
    row(&dough_left::RULE, &[AtEveryEnd(dough_left::check)]),
    row(&eaten_raw::RULE, &[AsWritten(eaten_raw::check)]),
    row(
        &fact_doubtful::RULE,
        &[
            AsWritten(fact_doubtful::check),
            AtEveryEnd(fact_doubtful::check_sums),
            OfHouse(fact_doubtful::check_house),
        ],
    ),
    row(&flour_not_100::RULE, &[Readable(flour_not_100::check)]),
    row(&folds_do_not_fit::RULE, &[AsWritten(folds_do_not_fit::check)]),
    judgement(&hardly_rises::RULE, &[AtEveryEnd(hardly_rises::check)]),
    row(&ice_too_much::RULE, &[AtEveryEnd(ice_too_much::check)]),
    judgement(&impossible_hydration::RULE, &[AtEveryEnd(impossible_hydration::check)]),
    row(&improver_high::RULE, &[AtEveryEnd(improver_high::check)]),
    row(&ingredient_added_twice::RULE, &[AtEveryEnd(ingredient_added_twice::check)]),
    judgement(&ingredient_in_text::RULE, &[Sound(texts::check)]),
    row(&ingredient_never_added::RULE, &[AtEveryEnd(ingredient_never_added::check)]),
    row(&liquids_unusual::RULE, &[AtEveryEnd(liquids_unusual::check)]),
    judgement(&loss_doubtful::RULE, &[AsWritten(loss_doubtful::check)]),
    row(&lye_out_of_place::RULE, &[AtEveryEnd(lye_out_of_place::check)]),
    row(&malt_high::RULE, &[AtEveryEnd(malt_high::check)]),
    judgement(&missing_salt::RULE, &[AtEveryEnd(missing_salt::check)]),
    row(&more_than_there_is::RULE, &[Sound(more_than_there_is::check)]),
    row(&nearly_the_same_name::RULE, &[OfHouse(nearly_the_same_name::check)]),
    judgement(&no_bake::RULE, &[AsWritten(no_bake::check)]),
    row(&no_effect::RULE, &[AsWritten(no_effect::check), OfHouse(no_effect::check_house)]),
    row(&no_flour::RULE, &[AtEveryEnd(no_flour::check)]),
    row(&no_leavening::RULE, &[AtEveryEnd(no_leavening::check)]),
    judgement(&no_liquid::RULE, &[AtEveryEnd(no_liquid::check)]),
    row(&no_seed_left::RULE, &[AtEveryEnd(no_seed_left::check)]),
    row(&no_water_to_adjust::RULE, &[AtEveryEnd(no_water_to_adjust::check)]),
    row(&nothing_to_put_on::RULE, &[AsWritten(nothing_to_put_on::check)]),
    row(&number_in_text::RULE, &[]),
    row(&outside_style::RULE, &[AtEveryEnd(outside_style::check)]),
    row(&oven_loads::RULE, &[AtEveryEnd(oven_loads::check)]),
    row(&crate::syntax::PAIR_DISAGREES, &[AsWritten(read_as::check_pairs)]),
    row(&part_of_a_piece::RULE, &[AtEveryEnd(part_of_a_piece::check)]),
    judgement(&percent_or_grams::RULE, &[AtEveryEnd(percent_or_grams::check)]),
    row(&piece_doubtful::RULE, &[AtEveryEnd(piece_doubtful::check)]),
    row(&prefermented_flour_high::RULE, &[AtEveryEnd(prefermented_flour_high::check)]),
    row(&price_doubtful::RULE, &[OfHouse(price_doubtful::check)]),
    row(&crate::syntax::READ_AS, &[AsWritten(read_as::check)]),
    row(&ripening_doubtful::RULE, &[AtEveryEnd(ripening_doubtful::check)]),
    row(&salt_as_eaten_high::RULE, &[AtEveryEnd(salt_as_eaten_high::check)]),
    judgement(&salt_high::RULE, &[AtEveryEnd(salt_high::check)]),
    judgement(&salt_low::RULE, &[AtEveryEnd(salt_low::check)]),
    row(&salt_not_weighed::RULE, &[AtEveryEnd(salt_not_weighed::check)]),
    row(&salt_yeast_swapped::RULE, &[AtEveryEnd(salt_yeast_swapped::check)]),
    row(&scald_not_cooled::RULE, &[AsWritten(scald_not_cooled::check)]),
    row(&seed_share_doubtful::RULE, &[AtEveryEnd(seed_share_doubtful::check)]),
    row(&sour_flour_high::RULE, &[AtEveryEnd(sour_flour_high::check)]),
    row(&stage_not_ready::RULE, &[AtEveryEnd(stage_not_ready::check)]),
    row(&stage_overripe::RULE, &[AtEveryEnd(stage_overripe::check)]),
    judgement(&stands_too_warm::RULE, &[AsWritten(stands_too_warm::check)]),
    judgement(&step_out_of_order::RULE, &[AsWritten(step_out_of_order::check)]),
    judgement(&temperature_doubtful::RULE, &[AsWritten(temperature_doubtful::check)]),
    row(&temperature_missing::RULE, &[AsWritten(temperature_missing::check)]),
    judgement(&time_doubtful::RULE, &[AsWritten(time_doubtful::check)]),
    row(&time_missing::RULE, &[AsWritten(time_missing::check)]),
    row(&tin_fill::RULE, &[AtEveryEnd(tin_fill::check)]),
    row(&unknown_figure::RULE, &[AtEveryEnd(unknown_figure::check)]),
    row(&unknown_in_step::RULE, &[AtEveryEnd(unknown_in_step::check)]),
    row(&unknown_mixer::RULE, &[AsWritten(unknown_mixer::check)]),
    row(
        &unused_mixture::RULE,
        &[AsWritten(unused_mixture::check), OfHouse(unused_mixture::check_house)],
    ),
    row(&unused_stage::RULE, &[AsWritten(unused_stage::check)]),
    row(&unused_style::RULE, &[OfHouse(unused_style::check)]),
    row(&water_too_hot::RULE, &[AtEveryEnd(water_too_hot::check)]),
    judgement(&yeast_high::RULE, &[AtEveryEnd(yeast_high::check)]),
    judgement(&yeast_killed::RULE, &[AsWritten(yeast_killed::check)]),
    row(&yeast_kind_doubtful::RULE, &[AtEveryEnd(yeast_kind_doubtful::check)]),
    row(&yield_disagrees::RULE, &[AtEveryEnd(yield_disagrees::check)]),
];

/// All functions of all rules.
pub fn runs() -> impl Iterator<Item = Runs> {
    TABLE.iter().flat_map(|row| row.runs).copied()
}

/// Whether what a rule calls an error may be allowed.
pub fn judges(rule: &Rule) -> bool {
    TABLE.iter().any(|row| row.judges && row.rule.name == rule.name)
}
