//! `stage-takes-more-than-total`: an impossible dough: a stage needs more of something than the formula has.

use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::quantity::display::percent;
use crate::syntax::tree::{Line, Mix, Stage};

/// `stage-takes-more-than-total`, an error about sums.
pub const RULE: Rule = Rule {
    name: "stage-takes-more-than-total",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("stage_takes_more_than_total.md"),
};

/// `stages` and their lines that bring it, those that bring most first; needed and there
/// are grams; `flour` is all the flour, for the percentages.
pub fn finding(
    name: &str,
    stages: &[(&Stage, usize)],
    total: Option<&Line>,
    mix: &Mix,
    [needed, has]: [&Exact; 2],
    flour: &Exact,
) -> Finding {
    let mut names: Vec<String> = Vec::new();
    for (stage, _) in stages {
        let name = format!("`{}`", stage.name.shown);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let who = match names.as_slice() {
        [one] => format!("{one} needs"),
        [one, other] => format!("{one} and {other} together need"),
        _ => "the stages together need".to_owned(),
    };
    let own = stages.first().and_then(|(stage, line)| stage.mix.lines.get(*line));
    let name = own.map_or(name, |line| line.target.name.shown.as_str());
    let name = total.map_or(name, |line| line.target.name.shown.as_str());
    let mut said = Finding::new(
        &RULE,
        own.map_or(mix.span, |line| line.span),
        format!("{who} {} of `{name}`, but the formula has {}", grams(needed), grams(has)),
    );
    if let [_, (stage, line), ..] = stages
        && let Some(line) = stage.mix.lines.get(*line)
    {
        said = said.label(line.span, "and here");
    }
    match total {
        Some(line) => said = said.label(line.span, "all there is"),
        None => said = said.label(mix.span, format!("`{name}` is not listed here")),
    }
    if *flour > Exact::ZERO {
        let of_flour = |mass: &Exact| {
            let share = mass.over(flour).map(|share| percent(&share, 2));
            format!("{} %", share.unwrap_or_default())
        };
        said = said.note(format!(
            "{} − {} = {} too much ({} of the flour against {})",
            grams(needed),
            grams(has),
            grams(&(needed - has)),
            of_flour(needed),
            of_flour(has),
        ));
    }
    said.help(match total {
        Some(_) => format!("take less of it into a stage, or raise `{name}` in the total"),
        None => format!("list `{name}` in the total, which holds all that is in the dough"),
    })
}

/// A culture that a stage takes unsplit, but that the total splits.
pub fn split_in_the_total(stage: &Stage, line: &Line) -> Finding {
    let name = &line.target.name.shown;
    Finding::new(
        &RULE,
        line.span,
        format!("`{}` takes `{name}` unsplit, but here it is split", stage.name.shown),
    )
    .help("write `not split` in both places or in neither")
}

/// Within the last written digit of the total the stage gets all there is.
pub fn within_rounding(stage: &Stage, line: usize, total: &Line, excess: &Exact) -> Finding {
    let name = &total.target.name.shown;
    let span = stage.mix.lines.get(line).map_or(stage.name.span, |line| line.span);
    Finding::new(
        &RULE,
        span,
        format!(
            "`{}` takes all of the `{name}`; by its own amount it would take {} more",
            stage.name.shown,
            grams(excess)
        ),
    )
    .level(Level::Note)
    .label(total.span, "the total, as it is rounded")
}
