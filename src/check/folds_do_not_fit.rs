//! `folds-do-not-fit`: more folds than the time of their step has room for.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::quantity::display::{minutes, minutes_range, trimmed};
use crate::syntax::tree::{Phase, Step, Verb};
use crate::time::usual_minutes;

/// `folds-do-not-fit`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "folds-do-not-fit",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("folds_do_not_fit.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps() {
        step.phases.iter().for_each(|phase| folds(context, step, phase, findings));
        hands(context, step, findings);
    }
}

/// More folds than a dough bears, or one right after the other.
fn too_often(context: &Context, step: &Step, phase: &Phase) -> Option<Finding> {
    let fold = phase.fold.as_ref().filter(|fold| fold.style.is_none())?;
    let limit = |name| context.number("habit of folds", name);
    let (most, shortest) = (limit("times")?, limit("every")?);
    let times = Exact::from(fold.times.unwrap_or(1));
    // Where nothing says how often, they part the time evenly.
    let every = match &fold.every {
        Some(every) => context.range(every).high?,
        None => longest(context, phase)?.each_of(&(&times + Exact::ONE)),
    };
    let often = times > most;
    if !often && (every >= shortest || times.is_one()) {
        return None;
    }
    let message = match often {
        true => format!("{times} folds in one {} are more than a dough can take", step.verb.word()),
        false => format!("a fold every {} leaves a dough no time to relax", minutes(&every)),
    };
    let slip = context.number("habit of slips", "times").unwrap_or(Exact::ONE);
    let level = if times > &most * slip { Level::Error } else { Level::Warning };
    Some(
        Finding::new(&RULE, fold.span, message)
            .level(level)
            .note(format!(
                "this is said of more than {most} folds, or of less than {} between two",
                minutes(&shortest)
            ))
            .help(match step.verb {
                Verb::Laminate => {
                    "chill the dough between the folds: `chill 30min` after each".to_owned()
                }
                _ => usual_folds(),
            }),
    )
}

fn usual_folds() -> String {
    let ends = |name| limits::bound("habit of folds", name).and_then(|it| it.low.zip(it.high));
    match (ends("usual times"), ends("usual every")) {
        (Some((few, many)), Some((short, long))) => format!(
            "{} to {} folds are usual, {} apart",
            trimmed(&few, 0),
            trimmed(&many, 0),
            minutes_range(&short, &long)
        ),
        _ => "fold less often".into(),
    }
}

fn folds(context: &Context, step: &Step, phase: &Phase, findings: &mut Vec<Finding>) {
    if let Some(said) = too_often(context, step, phase) {
        findings.push(said);
        return;
    }
    let (Some(fold), Some(time)) = (&phase.fold, &phase.duration) else { return };
    let Some(most) = longest(context, phase).filter(|_| fold.style.is_none()) else { return };
    let every = fold.every.as_ref().map(|every| context.range(every));
    let (each, by_hand) = match every.map(|every| every.low.or(every.high)) {
        Some(Some(every)) => (every, ""),
        Some(None) => return,
        // Without a time they stand as far apart as there is room for hands.
        None => (
            usual_minutes(Verb::Fold).unwrap_or_default(),
            ": so long hands fold, common practice, no source",
        ),
    };
    let times = fold.times.unwrap_or(1);
    let all = &each * Exact::from(times);
    if all <= most && !each.is_zero() {
        return;
    }
    let word = step.verb.word();
    findings.push(
        Finding::new(
            &RULE,
            fold.span,
            format!(
                "these folds take {}, but the {word} {} at most",
                minutes(&all),
                minutes(&most)
            ),
        )
        .label(time.span, "the time of the step")
        .note(format!("{times} × {} = {}{by_hand}", minutes(&each), minutes(&all)))
        .help("fold less often or more quickly, or let it stand longer"),
    );
}

/// `rest 15min hands-on 20min`.
fn hands(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    let Some(hands) = step.hands_on.as_deref() else { return };
    let all: Option<Vec<Exact>> = step.phases.iter().map(|phase| longest(context, phase)).collect();
    let Some(most) = all.map(|all| all.into_iter().fold(Exact::ZERO, |sum, one| sum + one)) else {
        return;
    };
    let range = context.range(hands);
    let Some(least) = range.low.or(range.high) else { return };
    if least > most && !most.is_zero() {
        findings.push(
            Finding::new(
                &RULE,
                hands.span,
                format!(
                    "hands are at work for {}, but the {} takes {} at most",
                    minutes(&least),
                    step.verb.word(),
                    minutes(&most)
                ),
            )
            .help("correct one of the two times"),
        );
    }
}

/// The longest a phase takes; none where that is not said.
fn longest(context: &Context, phase: &Phase) -> Option<Exact> {
    let time = phase.duration.as_ref()?;
    let range = context.range(time);
    match (range.low, range.high) {
        (Some(one), None) if !time.ranged => Some(one),
        (_, high) => high,
    }
}
