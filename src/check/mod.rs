//! Rules over formulas: one file each, with its detection and its wording.
//!
//! Enters: a house and a formula worked out. Leaves: findings. Absent on purpose: files
//! and clocks, repairs of the text itself, any arithmetic that a figure needs (that stands
//! in `formula`), and any bound (those stand in the store of limits).
//!
//! `table` lists the rules. A rule uses `context` (the formula), `limits` and `usual` (its
//! bounds), `slips` (what numbers look mistaken for), `sense` (which clauses suit which verbs),
//! `claims`, `facts` and `speech`, and no other rule.

mod absence_in_names;
mod absence_in_text;
mod allergen_undeclared;
mod allow_silences_nothing;
mod amount_doubtful;
mod autolyse_with_salt;
mod autolyse_without_liquid;
mod bake_doubtful;
mod batch_over_mixer;
mod batch_under_mixer;
mod below_scale_resolution;
mod beside_claims;
mod blame;
mod butter_melts;
mod claim_cannot_be_checked;
mod claim_not_proved;
mod claim_refuted;
mod claims;
mod claims_disagree;
mod clash;
mod clause_out_of_place;
mod clauses_disagree;
mod composition_impossible;
mod context;
mod conventions;
mod culture_doubtful;
mod culture_flour_not_listed;
pub mod denials;
mod dough_left;
mod eaten_raw;
mod fact_doubtful;
pub mod facts;
mod flour_not_100;
mod flouring;
mod folds_do_not_fit;
mod hardly_rises;
mod harmless;
mod hurtful_words;
mod ice_too_much;
mod impossible_hydration;
mod improver_high;
mod ingredient_added_twice;
mod ingredient_in_text;
mod ingredient_never_added;
mod limits;
mod liquids_unusual;
mod loss_doubtful;
mod lye_out_of_place;
mod malt_high;
mod missing_salt;
mod more_than_there_is;
mod nearly_the_same_name;
mod no_bake;
mod no_effect;
mod no_flour;
mod no_leavening;
mod no_liquid;
mod no_seed_left;
mod no_water_to_adjust;
mod nothing_to_put_on;
pub mod number_in_text;
mod outside_style;
mod oven_loads;
mod part_of_a_piece;
mod percent_or_grams;
mod piece_doubtful;
mod prefermented_flour_high;
mod price_doubtful;
pub mod prose;
mod read_as;
mod ripening_doubtful;
mod salt;
mod salt_as_eaten_high;
mod salt_high;
mod salt_low;
mod salt_not_weighed;
mod salt_yeast_swapped;
mod scald_not_cooled;
mod seed_share_doubtful;
pub mod sense;
mod slips;
mod sour_flour_high;
pub mod speech;
mod stage_not_ready;
mod stage_overripe;
mod standing;
mod stands_too_warm;
mod step_out_of_order;
mod table;
mod temperature_doubtful;
mod temperature_missing;
mod texts;
mod time_doubtful;
mod time_missing;
mod tin_fill;
mod unknown_figure;
mod unknown_in_step;
mod unknown_mixer;
mod unused_mixture;
mod unused_stage;
mod unused_style;
mod usual;
mod verdict;
mod water_too_hot;
mod yeast_high;
mod yeast_killed;
mod yeast_kind_doubtful;
mod yield_disagrees;

pub use absence_in_text::RULE as ABSENCE_IN_TEXT;
pub use allow_silences_nothing::{idle as allow_idle, is_of_texts};
pub use batch_under_mixer::batch_too_small;
pub use claims::why_not as why_no_figure;
pub use context::{Context, PlainText, SaidAt};
pub use standing::{Claimed, Standing, claimed};
pub use stands_too_warm::too_warm;
pub use unknown_figure::{RULE as UNKNOWN_FIGURE, asked_in_a_manuscript};

use crate::diag::{Finding, Rule};
use crate::formula::{House, Worked, tell};
use crate::source::Span;
use crate::syntax::tree::{Formula, Text, Tree};
use table::Runs;

/// The rules of this room.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    table::TABLE.iter().map(|row| row.rule)
}

/// Checks what a house declares.
pub fn check_house(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    for runs in table::runs() {
        if let Runs::OfHouse(check) = runs {
            check(house, trees, findings);
        }
    }
}

/// Checks one formula.
pub fn check(house: &House, formula: &Formula, worked: &Worked, findings: &mut Vec<Finding>) {
    let first = findings.len();
    let mut context = Context::new(house, worked, findings);
    run(&mut context, findings);
    if worked.sound {
        let mut own = findings.split_off(first);
        let anew = |context: &Context| {
            let mut again = Vec::new();
            let mut context = Context::new(context.house, context.worked, &mut again);
            run(&mut context, &mut again);
            again
        };
        blame::blame_once(&context, &mut own, &anew);
        blame::hold_back(&context, &mut own, &anew);
        findings.append(&mut own);
    }
    for finding in &mut findings[first..] {
        finding.formula = Some(formula.name.key.clone());
    }
    tell(house, worked, worked.batches(), findings);
}

/// Runs all rules of a formula, as far as it could be read.
fn run(context: &mut Context, findings: &mut Vec<Finding>) {
    let (readable, sound) = (context.worked.readable, context.worked.sound);
    for runs in table::runs() {
        match runs {
            Runs::AsWritten(check) => check(context, findings),
            Runs::Readable(check) if readable => check(context, findings),
            Runs::Sound(check) if sound => check(context, findings),
            _ => {}
        }
    }
    if sound {
        run_at_every_end(context, findings);
    }
}

/// Runs the rules that need sound numbers, at the low ends of all ranges and then at every
/// other choice of their ends: a figure is at its least or most at one of them.
fn run_at_every_end(context: &mut Context, findings: &mut Vec<Finding>) {
    let first = findings.len();
    run_at_ends(context, findings);
    // The high ends together are what an author looks at next.
    for numbers in context.worked.choices.iter().skip(1).rev() {
        context.look_at(numbers);
        let mut more = Vec::new();
        run_at_ends(context, &mut more);
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

fn run_at_ends(context: &Context, findings: &mut Vec<Finding>) {
    for runs in table::runs() {
        if let Runs::AtEveryEnd(check) = runs {
            check(context, findings);
        }
    }
}

/// Marks what a formula allows, and says which of its `allow`s nothing needs.
pub fn apply_allowed(formula: &Formula, findings: &mut Vec<Finding>, rules: &[&Rule]) {
    allow_silences_nothing::apply(formula, findings, rules, table::judges);
}

/// Whether words may say that something is not in a bread, before any is looked at.
pub fn may_deny(words: &str) -> bool {
    denials::may_claim(words, &speech::tokens(words))
}

/// The same as [`may_deny`] of words that are parted already.
pub fn may_deny_in(words: &str, tokens: &[speech::Token]) -> bool {
    denials::may_claim(words, tokens)
}

/// Whether a rule is one of what texts tell people to do that hurts.
pub fn is_of_harm(rule: &Rule) -> bool {
    [&eaten_raw::RULE, &lye_out_of_place::RULE].iter().any(|it| it.name == rule.name)
}

/// Whether a text could tell people to do what hurts.
pub fn may_hurt(words: &str) -> bool {
    hurtful_words::may_hurt(&speech::tokens(words))
}

/// The same as [`may_hurt`] of words that are parted already.
pub fn may_hurt_in(tokens: &[speech::Token]) -> bool {
    hurtful_words::may_hurt(tokens)
}

/// What texts of a formula put into the bread that no line has, each with the allergens that it
/// would bring, as they are named in English; what brings none is left out.
pub fn not_on_a_line(house: &House, worked: &Worked) -> Vec<(String, String)> {
    texts::not_on_a_line(&Context::new(house, worked, &mut Vec::new()))
}

/// Whether words do nothing but answer a question, or a label before them: `none`, `not a drop`.
pub fn is_answer(words: &str) -> bool {
    denials::is_answer_alone(&speech::tokens(words))
}

/// Adds what words that are printed beside a formula, and stand at `span`, deny falsely of it:
/// those of a house's own for its prints, and whom an order is for.
pub fn check_printed(
    house: &House,
    worked: &Worked,
    (words, span): (&str, Span),
    findings: &mut Vec<Finding>,
) {
    let context = Context::new(house, worked, &mut Vec::new());
    let said = PlainText::plain((words, span), SaidAt::House);
    absence_in_text::check(&context, &said, &speech::tokens(words), findings);
}

/// Adds what a text that stands outside of a formula and speaks of its bread denies falsely:
/// the words of a booklet or a day.
pub fn check_words(house: &House, worked: &Worked, text: &Text, findings: &mut Vec<Finding>) {
    let context = Context::new(house, worked, &mut Vec::new());
    let said = context::PlainText::new((text, context::SaidAt::Note));
    let tokens = speech::tokens(&said.words);
    absence_in_text::check(&context, &said, &tokens, findings);
}
