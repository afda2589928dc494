//! A stage of which nothing says how much is made.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Stage;

/// `stage-size-missing`, an error about sums.
pub const RULE: Rule = Rule {
    name: "stage-size-missing",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("stage_size_missing.md"),
};

/// A stage that nothing sizes.
pub fn stage(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    let size = if stage.kind.ferments() { "ferments 20% of flour" } else { "percentages of total" };
    Finding::new(&RULE, stage.name.span, format!("nothing says how much of `{name}` is made")).help(
        format!("say it in the stage: `{size}`; or with a line where it is used: `{name} 20%`"),
    )
}
