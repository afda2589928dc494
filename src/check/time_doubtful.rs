//! `time-doubtful`: a step or a wait much shorter or longer than such steps are.

use super::context::Context;
use super::usual::{is_far, likely_time};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::{minutes, minutes_range};
use crate::quantity::{Exact, Range};
use crate::syntax::tree::{Extent, Phase, Stage, Step, Verb, Wait};

/// `time-doubtful`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "time-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("time_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps() {
        check_step(context, step, findings);
    }
    for stage in &context.worked.formula.stages {
        check_stage(context, stage, findings);
    }
}

fn check_step(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    let word = step.verb.word();
    let several = step.phases.len() > 1;
    for phase in &step.phases {
        let Some(time) = phase.duration.as_deref() else { continue };
        let is_cold = is_cold(context, step, phase);
        let hot = is_hot(context, phase).then(|| context.limit("habit of hot steps", word));
        let hot = hot.flatten();
        let usual = hot.clone().or_else(|| usual(context, word, is_cold));
        let Some(mut usual) = usual else { continue };
        if step.verb == Verb::Proof && !is_cold && hot.is_none() && rises_slowly(context) {
            usual.high = context.limit("habit of steps", "bulk").and_then(|bulk| bulk.high);
        }
        if several {
            // Each phase is a part of the step; only all of them can be too short.
            usual.low = None;
        }
        // Of pieces whose weight is known, `bake-doubtful` says more.
        let no_pieces = context.worked.formula.makes.is_none();
        if step.verb == Verb::Bake && no_pieces && is_as_hot_as_an_oven(context, phase) {
            usual.high = context.limit("habit of hot bakes", "bake").and_then(|bake| bake.high);
        }
        if let Some(said) = judge(context, time, &usual, &format!("`{word}`"), is_cold) {
            let ferments = matches!(step.verb, Verb::Bulk | Verb::Proof);
            let absurd = is_absurd(context, time, &usual);
            let is_error = ferments || absurd;
            findings.push(if is_error { said } else { said.level(Level::Warning) });
        }
    }
    if several {
        all_phases(context, step, findings);
    }
}

/// Whether so little yeast raises the dough that it may proof as long as others stand in bulk, as
/// balls of it do that are shaped at once, and bulk and proof together are no longer than that.
fn rises_slowly(context: &Context) -> bool {
    let yeast = context.share(&Figure::YeastAsFresh).unwrap_or_default();
    let slow = context.limit("habit of rising", "slow yeast");
    let most = context.limit("habit of steps", "bulk").and_then(|bulk| bulk.high);
    let rises = |step: &&Step| matches!(step.verb, Verb::Bulk | Verb::Proof);
    let warm = context.steps().filter(rises).flat_map(|step| {
        let warm = step.phases.iter().filter(|phase| !is_cold(context, step, phase));
        warm.filter_map(|phase| {
            let range = context.range(phase.duration.as_deref()?);
            range.low.or(range.high)
        })
    });
    let warm = warm.fold(Exact::ZERO, |sum, time| sum + time);
    !yeast.is_zero()
        && slow.is_some_and(|slow| slow.holds(&yeast))
        && most.is_some_and(|most| warm <= most)
}

/// Whether no step of any bakery takes so long.
fn is_absurd(context: &Context, time: &Extent, usual: &Range) -> bool {
    let range = context.range(time);
    let longest = range.high.as_ref().or(range.low.as_ref());
    let above = Range { low: None, high: usual.high.clone() };
    longest.is_some_and(|longest| is_far(context, longest, &above, "absurd"))
}

/// All phases of a step together, which have to be long enough.
fn all_phases(context: &Context, step: &Step, findings: &mut Vec<Finding>) {
    let word = step.verb.word();
    let mut longest = Exact::ZERO;
    for phase in &step.phases {
        let Some(high) = phase.duration.as_ref().and_then(|time| time.high.as_ref()) else {
            return;
        };
        longest += context.base(high);
    }
    let is_cold = step.phases.iter().any(|phase| is_cold(context, step, phase));
    let Some(Range { low: Some(low), .. }) = usual(context, word, is_cold) else { return };
    if longest < low {
        findings.push(
            Finding::new(
                &RULE,
                step.verb_span,
                format!(
                    "{} of `{word}` is short: {} or more is usual",
                    minutes(&longest),
                    minutes(&low)
                ),
            )
            .help("check the times and their units"),
        );
    }
}

fn usual(context: &Context, word: &str, is_cold: bool) -> Option<Range> {
    let cold = || context.limit("habit of cold steps", word);
    let warm = || context.limit("habit of steps", word);
    if is_cold { cold().or_else(warm) } else { warm().or_else(cold) }
}

fn is_cold(context: &Context, step: &Step, phase: &Phase) -> bool {
    context.is_kept_cold(step, phase) || context.is_colder(phase.at.as_deref(), "cold")
}

/// As hot as a proofer.
fn is_hot(context: &Context, phase: &Phase) -> bool {
    let coolest = phase.at.as_ref().and_then(|at| at.low.as_ref().or(at.high.as_ref()));
    let hot = context.number("habit of temperatures", "hot");
    coolest.is_some_and(|coolest| hot.is_some_and(|hot| context.base(coolest) >= hot))
}

/// As hot as bread is baked at, and not dried for hours.
fn is_as_hot_as_an_oven(context: &Context, phase: &Phase) -> bool {
    let coolest = phase.at.as_ref().and_then(|at| at.low.as_ref().or(at.high.as_ref()));
    let hot = context.number("habit of hot bakes", "hot");
    coolest.is_some_and(|coolest| hot.is_some_and(|hot| context.base(coolest) >= hot))
}

/// An open end may be as long as it likes.
fn judge(
    context: &Context,
    time: &Extent,
    usual: &Range,
    what: &str,
    is_cold: bool,
) -> Option<Finding> {
    let range = context.range(time);
    let too_long = range.low.as_ref().or(range.high.as_ref()).filter(|low| above(low, &usual.high));
    let too_long = range.high.as_ref().filter(|high| above(high, &usual.high)).or(too_long);
    let too_short = range.high.as_ref().filter(|high| below(high, &usual.low));
    // A range that begins far too early is a slip too: `2min..3h`.
    let (value, word) = match (too_long, too_short) {
        (Some(long), _) => (long, "long"),
        (None, Some(short)) => (short, "short"),
        (None, None) => return None,
    };
    let level = if is_far(context, value, usual, "times") { Level::Error } else { Level::Warning };
    let place = if is_cold { " in the cold" } else { "" };
    let shown = match (&range.low, &range.high) {
        (Some(low), Some(high)) => minutes_range(low, high),
        _ => minutes(value),
    };
    let said = Finding::new(
        &RULE,
        time.span,
        format!("{shown} of {what}{place} is {word}: {} is usual", show(usual)),
    )
    .level(level);
    Some(match likely_time(context, time, usual) {
        Some(meant) => said.help(format!("was `{meant}` meant?")).repair(time.span, meant, false),
        None => said.help("check the time, its unit and the temperature"),
    })
}

fn above(value: &Exact, bound: &Option<Exact>) -> bool {
    bound.as_ref().is_some_and(|bound| value > bound)
}

fn below(value: &Exact, bound: &Option<Exact>) -> bool {
    bound.as_ref().is_some_and(|bound| value < bound)
}

fn show(usual: &Range) -> String {
    match (&usual.low, &usual.high) {
        (Some(low), Some(high)) => format!("{} to {}", minutes(low), minutes(high)),
        (Some(low), None) => format!("{} or more", minutes(low)),
        (None, Some(high)) => format!("up to {}", minutes(high)),
        (None, None) => "anything".into(),
    }
}

fn check_stage(context: &Context, stage: &Stage, findings: &mut Vec<Finding>) {
    ripening(context, stage, findings);
    let name = &stage.name.shown;
    for wait in &stage.stands {
        let (Some(time), Some(usual)) = (&wait.time, of_wait(context, "stands", wait)) else {
            continue;
        };
        let is_cold = context.is_colder(wait.at.as_ref(), "cold");
        findings.extend(judge(context, time, &usual, &format!("standing for `{name}`"), is_cold));
    }
    for wait in &stage.keeps {
        // Where nothing is said, it keeps where it ripened.
        let at = wait.at.as_ref().or(stage.ripens.last().and_then(|last| last.at.as_ref()));
        let is_cold = context.is_colder(at, "cold");
        let group = if is_cold { "habit of cold waits" } else { "habit of waits" };
        let (Some(time), Some(usual)) = (&wait.time, context.limit(group, "keeps")) else {
            continue;
        };
        findings.extend(judge(context, time, &usual, &format!("keeping for `{name}`"), is_cold));
    }
}

fn of_wait(context: &Context, what: &str, wait: &Wait) -> Option<Range> {
    let is_cold = context.is_colder(wait.at.as_ref(), "cold");
    let group = if is_cold { "habit of cold waits" } else { "habit of waits" };
    context.limit(group, what)
}

/// The one leg of a ripening by its kind; of several, none may be too long.
fn ripening(context: &Context, stage: &Stage, findings: &mut Vec<Finding>) {
    let name = &stage.name.shown;
    for wait in &stage.ripens {
        let is_cold = context.is_colder(wait.at.as_ref(), "cold");
        let by_name = context.limit_of_a_word("habit of waits", &stage.name.key);
        let by_name = by_name.filter(|_| !is_cold && stage.kind.ferments());
        let Some(mut usual) = by_name.or_else(|| of_wait(context, "ripens", wait)) else {
            continue;
        };
        if stage.ripens.len() > 1 {
            usual.low = None;
        }
        let Some(time) = &wait.time else { continue };
        findings.extend(judge(context, time, &usual, &format!("ripening for `{name}`"), is_cold));
    }
}
