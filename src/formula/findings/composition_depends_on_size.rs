//! What something is made of depends on how much of it is made.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Line, Name, Stage};

/// `composition-depends-on-size`, an error about sums.
pub const RULE: Rule = Rule {
    name: "composition-depends-on-size",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("composition_depends_on_size.md"),
};

/// A part of a mix in which weights and percentages stand side by side.
pub fn hangs_on_size(name: &Name) -> Finding {
    let shown = &name.shown;
    Finding::new(
        &RULE,
        name.span,
        format!("what `{shown}` is made of depends on the batch size, which is not given"),
    )
    .help("write its lines all as weights, or all in per cent or parts")
}

/// A part is taken of a stage in which weights and percentages stand side by side.
pub fn part_of(stage: &Stage, line: Option<&Line>) -> Finding {
    let name = &stage.name.shown;
    let said = Finding::new(
        &RULE,
        line.map_or(stage.name.span, |line| line.span),
        format!("what a part of `{name}` is made of depends on the batch size"),
    );
    let said = if line.is_some() { said.label(stage.name.span, "made here") } else { said };
    said.help(format!(
        "use all of it, `{name} all`; or write its own lines all as weights, or all in per cent"
    ))
}
