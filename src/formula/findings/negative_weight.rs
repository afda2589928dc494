//! `negative-weight`: something would have to weigh less than nothing.

use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{Line, Stage};

/// `negative-weight`, an error about sums.
pub const RULE: Rule = Rule {
    name: "negative-weight",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("negative_weight.md"),
};

/// A line that the others leave less than nothing for; `mass` is below zero.
pub fn line(line: &Line, mass: &Exact) -> Finding {
    let name = &line.target.name.shown;
    Finding::new(
        &RULE,
        line.span,
        format!(
            "the other lines take {} too much, which leaves nothing for `{name}`",
            grams(&-mass.clone())
        ),
    )
    .help("make the others less, or the whole more; or write an amount here instead")
}

/// A stage from which more is taken out than there is.
pub fn in_stage(stage: &Stage, place: Span, name: &str, mass: &Exact) -> Finding {
    let shown = &stage.name.shown;
    Finding::new(
        &RULE,
        place,
        format!("`{name}` in `{shown}` would be below zero: {}", minus(mass)),
    )
    .help("let less of it boil away, keep less back, or write more of it in the mix")
}

/// A stage of which the dough gets less than nothing.
pub fn into_dough(stage: &Stage, mass: &Exact) -> Finding {
    let shown = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.name.span,
        format!(
            "other stages use more of `{shown}` than there is: {} are left for the dough",
            minus(mass)
        ),
    )
    .help("make more of it, or use less of it in the other stages")
}

fn minus(mass: &Exact) -> String {
    format!("−{}", grams(&-mass.clone()))
}
