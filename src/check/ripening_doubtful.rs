//! `ripening-doubtful`: a ripening much shorter or longer than seed and warmth let expect.

use super::context::Context;
use super::limits;
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::LineRef;
use crate::formula::class::Class;
use crate::quantity::Exact;
use crate::quantity::display::{minutes, minutes_range, percent, trimmed};
use crate::time;

/// `ripening-doubtful`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "ripening-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("ripening_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    // The models themselves differ by two from flour to flour.
    let Some(times) = context.number("habit of slips", "ripening") else { return };
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        let [wait] = stage.ripens.as_slice() else { continue };
        let Some(expected) = time::expected_ripening(context.house, context.worked, index) else {
            findings.extend(too_much_yeast(context, index));
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
                "{} at {}; {}",
                expected.seed,
                celsius(&expected.celsius, 0),
                expected.anchor
            ))
            .help("check the time, the temperature and the amount of seed or yeast"),
        );
    }
}

/// Of a preferment that no model knows: more yeast than its hours in a room bear.
fn too_much_yeast(context: &Context, index: usize) -> Option<Finding> {
    let (stage, numbers) = (&context.worked.formula.stages[index], &context.first().stages[index]);
    let [wait] = stage.ripens.as_slice() else { return None };
    let degrees = context.range(wait.at.as_ref()?).low?;
    let is_warm = limits::bound("habit of preferments", "room")?.holds(&degrees);
    if !is_warm || !stage.kind.ferments() || numbers.basis.is_zero() {
        return None;
    }
    let yeast = numbers.lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
        LineRef::Ingredient(id) if context.house.ingredient(id).class == Class::Yeast => {
            sum + &line.mass * context.house.ingredient(id).as_fresh_yeast()
        }
        _ => sum,
    });
    let (share, time) = (yeast.over(&numbers.basis)?, context.range(wait.time.as_ref()?));
    let shortest = time.low.or(time.high)?;
    let dose = (&share * &shortest).one_in::<60>();
    let most = limits::most("habit of preferments", "yeast dose")?;
    (dose > most).then(|| {
        let message = format!(
            "`{}` is overripe long before {}: it has {} % yeast, as fresh",
            stage.name.shown,
            minutes(&shortest),
            percent(&share, 2)
        );
        Finding::new(&RULE, wait.span, message)
            .note(format!(
                "{} % × {} h = {}; up to {} is usual at {} (a biga with 1 % in 18 h is 18)",
                percent(&share, 2),
                trimmed(&shortest.one_in::<60>(), 1),
                percent(&dose, 1),
                percent(&most, 1),
                celsius(&degrees, 0)
            ))
            .help("use less yeast, a colder place or less time")
    })
}
