//! Rules over formulas: one file each, with its detection and its wording.
//!
//! Enters: a house and a formula worked out. Leaves: findings. Absent on purpose: files
//! and clocks, repairs of the text itself, and any arithmetic that a figure needs; that
//! stands in `formula`.

mod absence_in_text;
mod allow_silences_nothing;
mod amount_doubtful;
mod autolyse_without_liquid;
mod bake_doubtful;
mod batch_over_mixer;
mod batch_under_mixer;
mod below_scale_resolution;
mod butter_melts;
mod claim_cannot_be_checked;
mod claim_not_proved;
mod claim_refuted;
mod claims;
mod claims_disagree;
mod composition_impossible;
mod context;
mod culture_flour_not_listed;
mod dough_left;
mod facts;
mod flour_not_100;
mod folds_do_not_fit;
mod hardly_rises;
mod house_rules;
mod ice_too_much;
mod impossible_hydration;
mod improver_high;
mod ingredient_added_twice;
mod ingredient_in_text;
mod ingredient_never_added;
mod liquids_unusual;
mod loss_doubtful;
mod malt_high;
mod missing_salt;
mod more_than_there_is;
mod no_bake;
mod no_effect;
mod no_flour;
mod no_leavening;
mod no_liquid;
mod no_seed_left;
mod no_water_to_adjust;
mod nothing_to_put_on;
mod number_in_text;
mod outside_style;
mod oven_loads;
mod part_of_a_piece;
mod percent_or_grams;
mod piece_doubtful;
mod prefermented_flour_high;
mod price_doubtful;
mod ripening_doubtful;
mod salt_as_eaten_high;
mod salt_high;
mod salt_low;
mod salt_yeast_swapped;
mod seed_share_doubtful;
mod sour_flour_high;
mod speech;
mod stage_not_ready;
mod stage_overripe;
mod step_out_of_order;
mod temperature_doubtful;
mod texts;
mod time_doubtful;
mod time_missing;
mod tin_fill;
mod unknown_figure;
mod unknown_in_step;
mod unused_mixture;
mod unused_stage;
mod usual;
mod water_too_hot;
mod yeast_high;
mod yeast_killed;
mod yeast_kind_doubtful;
mod yield_disagrees;

pub use allow_silences_nothing::apply as apply_allowed;
pub use context::{Context, Place, Said, batches};
pub use house_rules::check_house;

use crate::diag::{Finding, Rule};
use crate::formula::{House, Worked, class::Class};
use crate::quantity::Range;
use crate::quantity::display::{grams, percent};
use crate::syntax::tree::Formula;

/// The rules of this room.
pub const RULES: &[&Rule] = &[
    &absence_in_text::RULE,
    &allow_silences_nothing::RULE,
    &house_rules::ALLERGEN_UNDECLARED,
    &house_rules::NEARLY_THE_SAME_NAME,
    &house_rules::UNUSED_STYLE,
    &batch_over_mixer::RULE,
    &batch_under_mixer::RULE,
    &below_scale_resolution::RULE,
    &claim_cannot_be_checked::RULE,
    &claim_not_proved::RULE,
    &claim_refuted::RULE,
    &claims_disagree::RULE,
    &composition_impossible::RULE,
    &culture_flour_not_listed::RULE,
    &dough_left::RULE,
    &flour_not_100::RULE,
    &folds_do_not_fit::RULE,
    &impossible_hydration::RULE,
    &improver_high::RULE,
    &ingredient_in_text::RULE,
    &ingredient_added_twice::RULE,
    &ingredient_never_added::RULE,
    &liquids_unusual::RULE,
    &loss_doubtful::RULE,
    &malt_high::RULE,
    &missing_salt::RULE,
    &more_than_there_is::RULE,
    &no_bake::RULE,
    &no_effect::RULE,
    &no_flour::RULE,
    &no_leavening::RULE,
    &no_liquid::RULE,
    &no_seed_left::RULE,
    &nothing_to_put_on::RULE,
    &number_in_text::RULE,
    &oven_loads::RULE,
    &outside_style::RULE,
    &part_of_a_piece::RULE,
    &percent_or_grams::RULE,
    &prefermented_flour_high::RULE,
    &price_doubtful::RULE,
    &salt_as_eaten_high::RULE,
    &salt_high::RULE,
    &salt_low::RULE,
    &salt_yeast_swapped::RULE,
    &seed_share_doubtful::RULE,
    &sour_flour_high::RULE,
    &temperature_doubtful::RULE,
    &time_missing::RULE,
    &tin_fill::RULE,
    &unknown_figure::RULE,
    &unknown_in_step::RULE,
    &unused_mixture::RULE,
    &unused_stage::RULE,
    &yeast_high::RULE,
    &yeast_killed::RULE,
    &yeast_kind_doubtful::RULE,
    &yield_disagrees::RULE,
    &amount_doubtful::RULE,
    &autolyse_without_liquid::RULE,
    &hardly_rises::RULE,
    &piece_doubtful::RULE,
    &step_out_of_order::RULE,
    &time_doubtful::RULE,
    &bake_doubtful::RULE,
    &butter_melts::RULE,
    &ice_too_much::RULE,
    &no_water_to_adjust::RULE,
    &ripening_doubtful::RULE,
    &stage_not_ready::RULE,
    &stage_overripe::RULE,
    &water_too_hot::RULE,
];

/// Rules that judge the bread rather than the sums. What they call an error is bread that
/// nobody can eat; who means it all the same may allow it, with the reason.
const JUDGEMENTS: &[&Rule] = &[
    &amount_doubtful::RULE,
    &bake_doubtful::RULE,
    &hardly_rises::RULE,
    &impossible_hydration::RULE,
    &loss_doubtful::RULE,
    &missing_salt::RULE,
    &no_bake::RULE,
    &no_liquid::RULE,
    &percent_or_grams::RULE,
    &salt_high::RULE,
    &salt_low::RULE,
    &step_out_of_order::RULE,
    &temperature_doubtful::RULE,
    &time_doubtful::RULE,
    &yeast_high::RULE,
    &yeast_killed::RULE,
];

/// One rule's check.
type Check = fn(&Context, &mut Vec<Finding>);

/// Rules that read what was written and need no sound arithmetic.
const ALWAYS: &[Check] = &[
    no_bake::check,
    temperature_doubtful::check,
    yeast_killed::check,
    loss_doubtful::check,
    unused_mixture::check,
    unused_stage::check,
    butter_melts::check,
    folds_do_not_fit::check,
    time_missing::check,
    step_out_of_order::check,
    time_doubtful::check,
    no_effect::check,
    nothing_to_put_on::check,
];

/// Rules that would only repeat what is wrong already, were something unknown or
/// impossible.
const SOUND: &[Check] = &[
    batch_over_mixer::check,
    batch_under_mixer::check,
    below_scale_resolution::check,
    claim_cannot_be_checked::check,
    claim_not_proved::check,
    claim_refuted::check,
    claims_disagree::check,
    culture_flour_not_listed::check,
    dough_left::check,
    impossible_hydration::check,
    improver_high::check,
    ingredient_added_twice::check,
    ingredient_never_added::check,
    liquids_unusual::check,
    malt_high::check,
    missing_salt::check,
    no_flour::check,
    no_leavening::check,
    no_liquid::check,
    no_seed_left::check,
    oven_loads::check,
    outside_style::check,
    part_of_a_piece::check,
    percent_or_grams::check,
    prefermented_flour_high::check,
    salt_as_eaten_high::check,
    salt_high::check,
    salt_low::check,
    salt_yeast_swapped::check,
    seed_share_doubtful::check,
    sour_flour_high::check,
    tin_fill::check,
    unknown_figure::check,
    unknown_in_step::check,
    yeast_high::check,
    yeast_kind_doubtful::check,
    yield_disagrees::check,
    amount_doubtful::check,
    autolyse_without_liquid::check,
    hardly_rises::check,
    piece_doubtful::check,
    bake_doubtful::check,
    ice_too_much::check,
    no_water_to_adjust::check,
    ripening_doubtful::check,
    stage_not_ready::check,
    stage_overripe::check,
    water_too_hot::check,
];

/// Rules that look at all choices of range ends by themselves.
const ONCE: &[Check] = &[more_than_there_is::check, texts::check];

/// Checks one formula.
pub fn check(house: &House, formula: &Formula, worked: &Worked, findings: &mut Vec<Finding>) {
    let first = findings.len();
    let context = Context::new(house, worked, findings);
    if worked.readable {
        flour_not_100::check(&context, findings);
    }
    for rule in ALWAYS {
        rule(&context, findings);
    }
    if worked.sound {
        for rule in ONCE {
            rule(&context, findings);
        }
        run_sound(context, findings);
    }
    for finding in &mut findings[first..] {
        finding.formula = Some(formula.name.key.clone());
    }
}

/// Runs the rules that need sound numbers, at the low ends of all ranges and then at every
/// other choice of their ends: a figure is at its least or most at one of them.
fn run_sound(mut context: Context, findings: &mut Vec<Finding>) {
    let first = findings.len();
    for rule in SOUND {
        rule(&context, findings);
    }
    // The high ends together are what an author looks at next.
    for numbers in context.worked.choices.iter().skip(1).rev() {
        context.look_at(numbers);
        let mut more = Vec::new();
        for rule in SOUND {
            rule(&context, &mut more);
        }
        for finding in more {
            let told = findings[first..]
                .iter()
                .any(|known| known.rule == finding.rule && known.span() == finding.span());
            if !told {
                findings.push(finding);
            }
        }
    }
}

/// A range of shares for a sentence: `1.5–2.5 %`.
fn show_range(range: &Range) -> String {
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => format!("{}–{} %", percent(low, 2), percent(high, 2)),
        (Some(low), None) => format!("{} % or more", percent(low, 2)),
        (None, Some(high)) => format!("up to {} %", percent(high, 2)),
        (None, None) => "anything".into(),
    }
}

/// Says when a class of ingredient is above what is usual.
fn class_above(context: &Context, rule: &'static Rule, class: Class, findings: &mut Vec<Finding>) {
    let word = class.word();
    let (Some(range), false) = (context.habit(word), context.flour().is_zero()) else { return };
    let share = context.class(class) / context.flour();
    let Some(span) = context.class_span(class) else { return };
    if range.high.as_ref().is_some_and(|high| share > *high) {
        findings.push(
            Finding::new(
                rule,
                span,
                format!(
                    "{word} is {} % of the flour, and usual is {}",
                    percent(&share, 2),
                    show_range(&range)
                ),
            )
            .note(format!(
                "{} {word} ÷ {} flour = {} %",
                grams(&context.class(class)),
                grams(context.flour()),
                percent(&share, 2)
            ))
            .help("check the amount; the maker's sheet says how much is meant"),
        );
    }
}
