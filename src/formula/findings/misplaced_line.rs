//! A line that belongs into another mix.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Line;

/// `misplaced-line`, an error about sums.
pub const RULE: Rule = Rule {
    name: "misplaced-line",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("misplaced_line.md"),
};

/// Old dough in a stage.
pub fn old_dough_in_stage(line: &Line) -> Finding {
    Finding::new(&RULE, line.span, "old dough goes straight into the dough, not into a stage")
        .help("move the line to `total` or `dough`; it counts as fermented flour there too")
}

/// A culture that is to be kept back where no stage ripens.
pub fn seed_outside_a_stage(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.span,
        format!("`{}` can be kept back only from a stage", line.target.name.shown),
    )
    .help("begin a stage with it; of the dough itself, a part can be kept as `old dough`")
}
