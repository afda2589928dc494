//! `left-over`: a stage of a fixed size that is not all used.

use crate::diag::amounts::{exactly, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::syntax::tree::{OnHand, Ordered, Stage};

/// `left-over`, a note about sums.
pub const RULE: Rule = Rule {
    name: "left-over",
    level: Level::Note,
    group: Group::Sums,
    page: include_str!("left_over.md"),
};

/// The finding for a stage of which so many grams are left, of so many that ripen.
pub fn finding(stage: &Stage, left: &Exact, ripe: &Exact) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.name.span,
        format!("{} of the {} of `{name}` are left over", grams(left), grams(ripe)),
    )
    .help(format!(
        "use `{name} all`, make less of it, or say what becomes of it: `save {}`",
        exactly(left)
    ))
}

/// More is made at a feed than the next one takes, so that it can be handled; `feed` is
/// counted from one.
pub fn discarded(stage: &Stage, feed: usize, discarded: &Exact, made: &Exact) -> Finding {
    let name = &stage.name.shown;
    let least = stage.at_least.first().map_or(stage.name.span, |least| least.span);
    Finding::new(
        &RULE,
        least,
        format!(
            "all but {} of the {} of feed {feed} of `{name}` are discarded",
            exactly(&(made - discarded)),
            grams(made)
        ),
    )
    .note(format!(
        "{} − {} that the next feed takes = {}",
        grams(made),
        exactly(&(made - discarded)),
        grams(discarded)
    ))
    .help("use it in something else, or feed it fewer times")
}

/// Of what a day has on hand, so many pieces are ordered by nobody.
pub fn on_hand(there: &OnHand, left: u32) -> Finding {
    let name = &there.name.shown;
    let of = match &there.amount {
        Ordered::Pieces(count, kind) => format!("{} {}", exactly_counted(count), kind.shown),
        Ordered::Weight(_) => "amount".to_owned(),
    };
    let message = format!("{left} of the {of} of `{name}` on hand are left over");
    let rest = match there.frozen {
        Some(_) => {
            "the rest stays frozen, and is there for a day that is planned together with this"
        }
        None => "sell the rest, or freeze it",
    };
    Finding::new(&RULE, there.span, message)
        .help(format!("all orders for it are met from what is on hand: {rest}"))
}

/// Something is on hand that the day has no order for.
pub fn unordered(there: &OnHand) -> Finding {
    let name = &there.name.shown;
    let message = format!("`{name}` is on hand, and this day has no order for it");
    Finding::new(&RULE, there.span, message).help("order it, or leave the line out")
}

/// A stage is on hand that nothing of the day can take.
pub fn unused(there: &OnHand) -> Finding {
    let name = &there.name.shown;
    let message = format!("`{name}` is on hand, and nothing takes it while it is ripe");
    Finding::new(&RULE, there.span, message)
        .help("say when it is ripe, bake earlier or later, or leave the line out")
}

fn exactly_counted(count: &crate::syntax::tree::Quantity) -> String {
    crate::quantity::display::trimmed(&count.number, 0)
}
