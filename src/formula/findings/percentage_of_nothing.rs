//! A percentage of something that is not in the mix.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Line, Mix, Quantity, Stage};

/// `percentage-of-nothing`, an error about sums.
pub const RULE: Rule = Rule {
    name: "percentage-of-nothing",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("percentage_of_nothing.md"),
};

/// Percentages in a mix that has no flour, grain or seed.
pub fn percent_of_nothing(mix: &Mix, main: bool) -> Finding {
    let said =
        Finding::new(&RULE, mix.span, "these percentages have no flour to be a percentage of");
    match main {
        true => said.help("add the flour, or write weights"),
        false => said.help("write parts instead: `water 2 parts`; or say `percentages of total`"),
    }
}

/// `12% of NAME` where the mix has no line of that name.
pub fn base_missing(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.amount_span,
        format!(
            "`{}` is a percentage of something that is not in this mix",
            line.target.name.shown
        ),
    )
    .help("name another line of this mix, or say `of flour`, `of dough` or `of base dough`")
}

/// `takes 10% of flour` in a stage without flour.
pub fn no_flour(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.sizes.first().map_or(stage.name.span, |size| size.span),
        format!("`{name}` has no flour, so it can't take a share of the flour"),
    )
    .help(format!(
        "size it by a line where it is used: `{name} 20%`; or write `percentages of total` and its \
         lines in per cent of all the flour"
    ))
}

/// `loses 10%` in a mix without plain water.
pub fn nothing_to_lose(stage: &Stage, loses: &Quantity) -> Finding {
    Finding::new(
        &RULE,
        loses.span,
        format!("`{}` has no plain water that could boil away", stage.name.shown),
    )
    .help("remove `loses`, or write the water of the mix as a line of its own")
}
