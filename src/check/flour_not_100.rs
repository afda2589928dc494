//! `flour-not-100`: the flours of a mix do not add up to 100 %.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{last_digit, trimmed};
use crate::quantity::{Exact, Unit, half, int};
use crate::syntax::tree::{Amount, Line, Mix, Quantity, Size};

/// `flour-not-100`, an error about sums.
pub const RULE: Rule = Rule {
    name: "flour-not-100",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("flour_not_100.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    for mix in formula.total.iter().chain(&formula.dough) {
        check_mix(context, mix, findings);
    }
    for stage in &formula.stages {
        if !stage.sizes.iter().any(|size| matches!(size.size, Size::OfTotal)) {
            check_mix(context, &stage.mix, findings);
        }
    }
}

fn check_mix(context: &Context, mix: &Mix, findings: &mut Vec<Finding>) {
    let flours: Vec<&Line> = mix.lines.iter().filter(|line| context.is_flour(line)).collect();
    if let Some(rest) = flours.iter().find(|line| matches!(line.amount, Amount::Rest)) {
        check_rest(rest, &flours, findings);
        return;
    }
    let Some(shares) = flours.iter().map(|line| own_percent(line)).collect::<Option<Vec<_>>>()
    else {
        return;
    };
    let sum = shares.iter().fold(Exact::ZERO, |sum, quantity| sum + &quantity.number);
    let inside = inside(context, mix);
    let sum = inside.iter().fold(sum, |sum, (_, share)| sum + share);
    if shares.is_empty() || sum == int(100) {
        return;
    }
    let half_digits = shares.iter().fold(Exact::ZERO, |sum, quantity| {
        sum + quantity.decimals.map_or(Exact::ZERO, last_digit) * half()
    });
    let off = &sum - int(100);
    let size = off.clone().max(-off.clone());
    let slack = limits::most("habit of sums", "flours").unwrap_or_default() * int(100);
    let level = if size > half_digits.max(slack) { Level::Error } else { Level::Warning };
    // What a formula on a line holds of flour is no round number.
    if level == Level::Warning && !inside.is_empty() {
        return;
    }
    let how = if off > Exact::ZERO { "% too much" } else { "% missing" };
    let mut terms: Vec<String> =
        shares.iter().map(|quantity| trimmed(&quantity.number, 4)).collect();
    terms.extend(inside.iter().map(|(name, share)| format!("{} in {name}", trimmed(share, 2))));
    let mut said = Finding::new(
        &RULE,
        shares[0].span,
        format!("the flours add up to {} %, {} {how}", trimmed(&sum, 4), trimmed(&size, 4)),
    )
    .level(level);
    for other in shares.iter().skip(1).take(2) {
        said = said.label(other.span, "");
    }
    said = said.note(match terms.len() {
        1 if off > Exact::ZERO => format!("{} − 100 = {}", terms[0], trimmed(&size, 4)),
        1 => format!("100 − {} = {}", terms[0], trimmed(&size, 4)),
        _ => format!("{} = {}", terms.join(" + "), trimmed(&sum, 4)),
    });
    // One flour that could take up the difference can be offered.
    let largest = shares.iter().max_by(|one, two| one.number.cmp(&two.number));
    if let Some(largest) = largest.filter(|largest| largest.number > off) {
        let corrected = format!("{}%", trimmed(&(&largest.number - &off), 4));
        let name = flours.iter().find(|line| {
            line.amount_span.start <= largest.span.start && line.amount_span.end >= largest.span.end
        });
        let name = name.map_or("one of them", |line| line.target.name.shown.as_str());
        said = said
            .help(format!("flour is 100 %: `{name} {corrected}` would make it so, or `the rest`"))
            .repair(largest.span, corrected, false);
    }
    findings.push(said);
}

/// The flour that mixtures and other formulas on the lines of a total hold, in per cent.
fn inside(context: &Context, mix: &Mix) -> Vec<(String, Exact)> {
    let is_total =
        context.worked.formula.total.as_ref().is_some_and(|total| total.span == mix.span);
    if !is_total {
        return Vec::new();
    }
    let held = mix.lines.iter().filter_map(|line| {
        let key = &line.target.name.key;
        let side_mix = context.worked.side_mixes.iter().find(|side_mix| side_mix.key == *key)?;
        let share = context.worked.flour(&side_mix.per_gram);
        let percent = &own_percent(line)?.number * share;
        (!percent.is_zero()).then(|| (format!("`{}`", line.target.name.shown), percent))
    });
    held.collect()
}

/// With a rest, the other flours must leave some.
fn check_rest(rest: &Line, flours: &[&Line], findings: &mut Vec<Finding>) {
    let others: Vec<&Quantity> = flours.iter().filter_map(|line| own_percent(line)).collect();
    let sum = others.iter().fold(Exact::ZERO, |sum, quantity| sum + &quantity.number);
    if sum > int(100) {
        let name = &rest.target.name.shown;
        findings.push(
            Finding::new(&RULE, rest.span, format!("nothing is left for `{name}`"))
                .note(format!("the other flours add up to {} %", trimmed(&sum, 4)))
                .help("lower the other flours"),
        );
    }
}

/// The percentage of a flour line that is of its own mix.
fn own_percent(line: &Line) -> Option<&Quantity> {
    match &line.amount {
        Amount::Measured { range, base: None } if !range.ranged => {
            range.low.as_ref().filter(|quantity| quantity.unit == Unit::Percent)
        }
        _ => None,
    }
}
