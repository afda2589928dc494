//! `stage-cycle`: stages or mixtures that use each other in a circle.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

/// `stage-cycle`, an error about sums.
pub const RULE: Rule = Rule {
    name: "stage-cycle",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("stage_cycle.md"),
};

/// The finding for stages that use each other: their names, and that of the last line.
pub fn finding<'n>(names: impl Iterator<Item = &'n EcoString>, last: &Name) -> Finding {
    let names: Vec<&str> = names.map(EcoString::as_str).collect();
    let said =
        Finding::new(&RULE, last.span, format!("`{}` can't be made: it needs itself", last.shown));
    if names.len() <= 2 {
        return said.help(
            "name what it is begun with instead: a culture from the jar, such as `white culture`",
        );
    }
    said.note(names.join(" needs ")).help("one of these has to be made first, without the others")
}
