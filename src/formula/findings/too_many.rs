//! `too-many`: more of something than a formula can sensibly have.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::{Formula, Name};

/// `too-many`, an error about sums.
pub const RULE: Rule = Rule {
    name: "too-many",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("too_many.md"),
};

/// A long row of formulas or ingredients, each based on the next.
pub fn generations(name: &Name, most: usize) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("more than {most} are based on each other here, one on the next"),
    )
    .help("base it on one nearer to the start of the chain")
}

/// A long row of formulas, each made of the next.
pub fn nested(name: &Name, most: usize) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("more than {most} formulas are made of each other here, one of the next"),
    )
    .help("name the inner formula directly")
}

/// More feeds of a stage than are worked out.
pub fn feeds(name: &Name, span: Span, most: u32) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("`{}` is fed more often than {most} times, which is not worked out", name.shown),
    )
    .help("after a handful of feeds its make-up no longer changes: write fewer")
}

/// More stages than are worked out.
pub fn stages(formula: &Formula, most: usize) -> Finding {
    Finding::new(
        &RULE,
        formula.name.span,
        format!(
            "`{}` has {} stages; at most {most} are worked out",
            formula.name.shown,
            formula.stages.len()
        ),
    )
    .help("split it into formulas that use each other")
}

/// More exercises of a worksheet, or of all seats of a booklet, than are worked out.
pub fn exercises(span: Span, count: usize, most: usize) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("there are {count} exercises here; at most {most} are worked out"),
    )
    .help("make several worksheets or booklets of them, or fewer `variants`")
}

/// More lines than are worked out.
pub fn lines(formula: &Formula, count: usize, most: usize) -> Finding {
    Finding::new(
        &RULE,
        formula.name.span,
        format!("`{}` has {count} lines; at most {most} are worked out", formula.name.shown),
    )
    .help("split it into formulas that use each other")
}

/// More kinds of piece than are worked out.
pub fn kinds(formula: &Formula, most: usize) -> Finding {
    let made = formula.makes.as_ref().map_or(0, |makes| makes.pieces.len());
    Finding::new(
        &RULE,
        formula.name.span,
        format!(
            "`{}` has {} kinds of piece; at most {most} are worked out",
            formula.name.shown,
            made.max(formula.pieces.len()),
        ),
    )
    .help("make fewer of them from one dough, in formulas that use it")
}

/// More mixtures and formulas in one than are worked out.
pub fn side_mixes(name: &Name, most: usize) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("this is more than the {most} mixtures and formulas that one formula can take"),
    )
    .help("put some of them into a mixture or a formula of their own")
}

/// Mixtures made of mixtures, more in a row than are worked out.
pub fn mixtures(name: &Name, most: usize) -> Finding {
    Finding::new(&RULE, name.span, format!("more than {most} mixtures are made of each other"))
        .help("write what the inner ones are made of on the line itself")
}
