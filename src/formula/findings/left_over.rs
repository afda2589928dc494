//! `left-over`: a stage of a fixed size that is not all used.

use crate::diag::amounts::{exactly, grams};
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::syntax::tree::Stage;

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
            "{} of the {} of feed {feed} of `{name}` are discarded",
            grams(discarded),
            grams(made)
        ),
    )
    .note(format!(
        "{} − {} that the next feed takes = {}",
        grams(made),
        grams(&(made - discarded)),
        grams(discarded)
    ))
    .help("use it in something else, or feed it fewer times")
}
