//! `ripening-doubtful`: a ripening much shorter or longer than seed and warmth let expect.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{minutes, minutes_range, trimmed};
use crate::time;

pub const RULE: Rule = Rule {
    name: "ripening-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("ripening_doubtful.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    // The models themselves differ by two from flour to flour.
    let Some(times) = context.number("habit of slips", "ripening") else { return };
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        let [wait] = stage.ripens.as_slice() else { continue };
        let Some(expected) = time::expected_ripening(context.house, context.worked, index) else {
            continue;
        };
        let Some(written) = wait.time.as_ref().map(|time| context.range(time)) else { continue };
        let (low, high) = (written.low.clone(), written.high.or(written.low));
        let too_short = high.as_ref().is_some_and(|high| high * &times < expected.minutes);
        let too_long = low.as_ref().is_some_and(|low| *low > &expected.minutes * &times);
        if !too_short && !too_long {
            continue;
        }
        let shown = match (&low, &high) {
            (Some(low), Some(high)) => minutes_range(low, high),
            (one, other) => one.as_ref().or(other.as_ref()).map(minutes).unwrap_or_default(),
        };
        let about = minutes(&crate::quantity::display::to_step(
            &expected.minutes,
            &crate::quantity::int(30),
        ));
        let word = if too_short { "short" } else { "long" };
        findings.push(
            Finding::new(
                &RULE,
                wait.span,
                format!(
                    "`{}` ripens for {shown}, which is {word}: about {about} would be usual",
                    stage.name.shown
                ),
            )
            .note(format!(
                "{} at {} °C; {}",
                expected.seed,
                trimmed(&expected.celsius, 0),
                expected.anchor
            ))
            .help("check the time, the temperature and the amount of seed or yeast"),
        );
    }
}
