//! Amounts that wait for each other.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Line, Stage};

/// `circular-size`, an error about sums.
pub const RULE: Rule = Rule {
    name: "circular-size",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("circular_size.md"),
};

/// Percentages of each other, which nothing settles.
pub fn hangs_on_itself(line: &Line) -> Finding {
    let name = &line.target.name.shown;
    Finding::new(&RULE, line.span, format!("the amount of `{name}` depends on itself"))
        .help("write one of the lines as a weight, or as a percentage of the flour")
}

/// Old dough beside a stage that is sized by all the flour.
pub fn old_dough(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.span,
        "the amount of old dough and the sizes of the stages depend on each other",
    )
    .help(
        "give the stage a size of its own: a line with its weight or percentage, or `weighs 2 kg`",
    )
}

/// Some is saved of a stage that has a weight, but also a line that waits for the dough.
pub fn saved_of_an_unknown(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.save.first().map_or(stage.name.span, |save| save.amount.span),
        format!("how much of `{name}` goes on after this is saved can't be worked out"),
    )
    .help(
        "leave out what is saved, or write the lines of the stage as percentages of its own \
         flour and give it no weight: it is then made so much larger",
    )
}
