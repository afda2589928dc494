//! `size-given-twice`: two statements of a size that can not both hold.

use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::syntax::tree::{Formula, Line, Mix, Stage};

/// `size-given-twice`, an error about sums.
pub const RULE: Rule = Rule {
    name: "size-given-twice",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("size_given_twice.md"),
};

/// Two sizes in one stage.
pub fn sizes(stage: &Stage) -> Finding {
    let mut said = Finding::new(
        &RULE,
        stage.sizes.last().map_or(stage.name.span, |size| size.span),
        format!("the size of `{}` is given twice", stage.name.shown),
    )
    .here("given again here");
    if let Some(first) = stage.sizes.first() {
        said = said.label(first.span, "given first here");
    }
    said.help("keep one of them")
}

/// A size in the stage and another by the line that uses it.
pub fn used_elsewhere(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.sizes.first().map_or(stage.name.span, |size| size.span),
        format!("the size of `{name}` is given here and by a line that uses it"),
    )
    .help(format!("remove this size, or write `{name} all` where it is used"))
}

/// A line wants more of a stage than there is.
pub fn more_than_made(stage: &Stage, used: &Exact, ripe: &Exact) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.name.span,
        format!("{} of `{name}` are used, but {} are made", grams(used), grams(ripe)),
    )
    .note(format!("{} − {} = {} too much", grams(used), grams(ripe), grams(&(used - ripe))))
    .help("use less of it, make more of it, or write its lines in per cent so that it fits itself")
}

/// All of a stage goes into one mix, and another line uses it too.
pub fn all_and_more(stage: &Stage, whole: &Line) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        whole.span,
        format!("this takes all of `{name}`, but another line uses it too"),
    )
    .label(stage.name.span, "made here")
    .help(format!(
        "write amounts in both lines; `{name}` is then made as large as the two together"
    ))
}

/// More is to be saved of a stage than there is.
pub fn more_saved(stage: &Stage, saved: &Exact, ripe: &Exact) -> Finding {
    let name = &stage.name.shown;
    let made = match *ripe > Exact::ZERO {
        true => format!("only {} are made", grams(ripe)),
        // What its lines leave would be less than nothing.
        false => "its own lines leave nothing to save".to_owned(),
    };
    Finding::new(
        &RULE,
        stage.save.first().map_or(stage.name.span, |save| save.span),
        format!("{} of `{name}` are saved, but {made}", grams(saved)),
    )
    .help("save less, or make more of it: its lines are weights, which settle how much it is")
}

/// Some is to be saved of a stage of which nothing is made.
pub fn saved_of_nothing(stage: &Stage, saved: &Exact) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.save.first().map_or(stage.name.span, |save| save.span),
        format!("{} of `{name}` are saved, but none of it is made", grams(saved)),
    )
    .help("let something use it, give it a size, or leave out what is saved")
}

/// Weights, percentages and yield that contradict each other.
pub fn contradiction(formula: &Formula, mix: &Mix) -> Finding {
    let said = Finding::new(
        &RULE,
        mix.span,
        format!("weights, percentages and sizes in `{}` contradict each other", formula.name.shown),
    );
    match &formula.makes {
        Some(makes) => said.label(makes.span, "what it is to make"),
        None => said,
    }
    .help(
        "let one of them follow from the others: write `the rest`, or per cent instead of a weight",
    )
}

/// A formula with a `total` and a `dough`.
pub fn total_and_dough(total: &Mix, dough: &Mix) -> Finding {
    Finding::new(
        &RULE,
        dough.span,
        "a formula is written as its total or as its dough, not as both",
    )
    .label(total.span, "the total is here")
    .help("keep one: `total` is all there is, `dough` is what goes into the mixer")
}
