//! `no-single-answer`: a blank of a worksheet that what is left does not settle.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `no-single-answer`, an error about booklets.
pub const RULE: Rule = Rule {
    name: "no-single-answer",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_single_answer.md"),
};

/// Blanks that have no single answer, and a cell that would settle them all.
pub fn blanks(span: Span, names: &[String], missing: Option<&str>) -> Finding {
    const MAX: usize = 6;
    let first = names.first().map_or("", String::as_str);
    let said = match names.len() {
        1 => format!("what is left does not settle `{first}`"),
        count => format!("what is left does not settle `{first}` and {} more blanks", count - 1),
    };
    let finding = Finding::new(&RULE, span, said);
    let finding = match names.len() {
        1 => finding,
        count => {
            let shown = names.iter().take(MAX).cloned().collect::<Vec<_>>().join(", ");
            let more = if count > MAX { ", …" } else { "" };
            finding.note(format!("not settled: {shown}{more}"))
        }
    };
    match missing {
        Some(missing) => {
            finding.help(format!("leave `{missing}` showing: then every blank has one answer"))
        }
        None => finding.help("hide less: a weight and the percentages are enough for a column"),
    }
}

/// A blank that rounding on the way makes another number of: what a learner may come to.
pub fn by_rounding(span: Span, name: &str, [low, high]: [String; 2]) -> Finding {
    let said = format!("what is left settles `{name}` only roughly: it may be {low} or {high}");
    let why = "what it follows from is rounded, and it is small beside that";
    let help = format!("leave `{name}` to stand, or its percentage, or hide less beside it");
    Finding::new(&RULE, span, said).note(why).help(help)
}
