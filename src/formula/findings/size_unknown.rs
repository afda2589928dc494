//! `size-unknown`: nothing says how much is made.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Line, Makes, Mix, Stage};

pub const RULE: Rule = Rule { name: "size-unknown", level: Level::Error, group: Group::Sums };

/// A stage that nothing sizes.
pub fn stage(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    let size = if stage.kind.ferments() { "ferments 20% of flour" } else { "takes 10% of flour" };
    Finding::new(&RULE, stage.name.span, format!("nothing says how much of `{name}` is made")).help(
        format!("say it in the stage: `{size}`; or with a line where it is used: `{name} 20%`, `{name} all`"),
    )
}

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

/// Old dough beside a stage that is sized by all the flour.
pub fn old_dough(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.span,
        "how much old dough goes in and how large the stages are hang on each other",
    )
    .help(
        "give the stage a size of its own: a line with its weight or percentage, or `weighs 2 kg`",
    )
}

/// Pieces without a weight.
pub fn pieces(makes: &Makes) -> Finding {
    Finding::new(&RULE, makes.span, "how heavy the pieces are is not said")
        .help("write the dough weight of one: `makes 24 loaves at 900 g`; or `makes 20 kg dough`")
}
