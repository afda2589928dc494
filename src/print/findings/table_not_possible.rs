//! `table-not-possible`: a comparison or a reckoner that can't be made.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::Name;

/// `table-not-possible`, an error about booklets.
pub const RULE: Rule = Rule {
    name: "table-not-possible",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("table_not_possible.md"),
};

/// A line that the formula does not have.
pub fn no_such_line(span: Span, line: &str) -> Finding {
    Finding::new(&RULE, span, format!("the formula has no line `{line}` to compare"))
        .help("name a line of its `total` or `dough`, or `bake loss`")
}

/// A loss in the oven that is no percentage.
pub fn no_such_loss(span: Span) -> Finding {
    Finding::new(&RULE, span, "a bake loss is written in per cent")
        .help("write `compare first-sour with bake loss 10%, 12%`")
}

/// An amount with which the formula can't be worked out.
pub fn impossible(span: Span, why: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, "with this amount the formula can't be worked out");
    let finding = match why {
        Some(why) => finding.note(why),
        None => finding,
    };
    finding.help("compare amounts that the formula can have")
}

/// A range that ends before it begins.
pub fn no_steps(span: Span) -> Finding {
    Finding::new(&RULE, span, "this range has no steps: its end is before its beginning")
        .help("write the least first: `from 500 g..2 kg flour every 250 g`")
}

/// A range with more columns than anybody can read.
pub fn too_many(span: Span, most: usize) -> Finding {
    Finding::new(&RULE, span, format!("this range has more than {most} steps"))
        .help("take larger steps")
}

/// A formula that can't be had as it was.
pub fn no_past(span: Span, formula: &str, revision: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{formula}` can't be had as it was at `{revision}`"))
        .note(why)
        .help("name a revision in which the formula stands and is sound: `since \"v2\"`")
}

/// A time that no plan can be made for.
pub fn no_such_time(span: Span, written: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is not a time that can be planned for"))
        .note(why)
        .help("write a weekday or a date and a time: `ready saturday 10:00`, `ready 2026-12-05 07:00`")
}

/// A formula that can't be planned, for a reason.
pub fn no_timeline(span: Span, formula: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{formula}` can't be planned: {why}"))
        .help("give its method steps with times, or leave the plan out")
}

/// An ingredient of which no volume is known.
pub fn no_density(name: &Name) -> Finding {
    let said = format!("nothing says how much a cup of `{}` weighs", name.shown);
    Finding::new(&RULE, name.span, said)
        .help("declare it: `ingredient … { volume 1 cup weighs 115 g }`, or leave it out")
}
