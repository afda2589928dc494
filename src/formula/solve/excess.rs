//! Stages that need more of something than the total has.

use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::mixing::Mixing;
use crate::formula::worked::{Numbers, WorkedLine};
use crate::quantity::display::last_digit;
use crate::quantity::{Exact, half};
use crate::syntax::tree::{Amount, Counting, Line, Mix};
use ecow::EcoString;

/// A stage's line that brings a substance.
struct BringingLine {
    stage: usize,
    line: usize,
    /// Grams of the substance that reach the dough through this line.
    reaches: Exact,
}

/// Says which stages need more than there is. What is within the last written digit of
/// the total's line is taken out of them, and out of `takes`, which the stages bring.
pub(super) fn settle(
    mixing: &mut Mixing,
    mix: &Mix,
    takes: &mut Composition,
    numbers: &mut Numbers,
) {
    let wanted: Vec<Substance> = takes.iter().map(|(substance, _)| substance).collect();
    for substance in wanted {
        let listed = mix.lines.iter().zip(&numbers.total_lines);
        let listed: Vec<(&Line, Exact, Exact)> = listed
            .filter_map(|(line, worked)| {
                let lists = lists(mixing, line)? == substance;
                lists.then(|| (line, worked.mass.clone(), line_tolerance(line, worked)))
            })
            .collect();
        // Flour that only a culture brings is told by a rule of its own.
        let unlisted = numbers.unlisted.get(substance).cloned().unwrap_or_default();
        let has = listed.iter().fold(unlisted, |sum, (_, mass, _)| sum + mass);
        let needs = takes.get(substance).cloned().unwrap_or_default();
        let excess = &needs - &has;
        // Less than nothing is told by itself, or by the rule that adds up the flours.
        if excess <= Exact::ZERO || needs <= Exact::ZERO || has < Exact::ZERO {
            continue;
        }
        let bringers = bringers(mixing, numbers, substance);
        let tolerance = listed.iter().fold(Exact::ZERO, |sum, (_, _, slack)| sum + slack);
        match (listed.first(), bringers.first()) {
            (Some((total, ..)), Some(first)) if excess <= tolerance => {
                let stage = mixing.stage(first.stage);
                mixing.findings.push(say::stage_takes_more_than_total::within_rounding(
                    stage, first.line, total, &excess,
                ));
                take_less(mixing, takes, numbers, &bringers, &excess);
            }
            (total, _) => {
                let stages: Vec<_> =
                    bringers.iter().map(|own| (mixing.stage(own.stage), own.line)).collect();
                let whole = match substance {
                    Substance::Whole(id) => mix.lines.iter().find(|line| {
                        mixing.goes(&line.target) == LineRef::Culture(id)
                            && !matches!(line.counting, Counting::NotSplit)
                    }),
                    _ => None,
                };
                if let (Some(line), Some((stage, _))) = (whole, stages.first()) {
                    let said = say::stage_takes_more_than_total::split_in_the_total(stage, line);
                    mixing.findings.push(said);
                    continue;
                }
                mixing.findings.push(say::stage_takes_more_than_total::finding(
                    &substance_name(mixing, substance),
                    &stages,
                    total.map(|(line, ..)| *line),
                    mix,
                    [&needs, &has],
                    &mixing.flour_of(&numbers.whole),
                ));
            }
        }
    }
}

/// What a line of a total lists; cultures that are split, and stages, only take of it.
fn lists(mixing: &Mixing, line: &Line) -> Option<Substance> {
    match (mixing.goes(&line.target), &line.counting) {
        (LineRef::Ingredient(id), _) => Some(Substance::Ingredient(id)),
        (LineRef::Culture(id), Counting::NotSplit) => Some(Substance::Whole(id)),
        _ => None,
    }
}

/// How much of each line of the total that names a side mix goes into stages; what that
/// brings is no longer to be found on other lines.
pub(super) fn side_mixes_used(
    mixing: &Mixing,
    takes: &mut Composition,
    numbers: &Numbers,
) -> Vec<Exact> {
    let mut used = vec![Exact::ZERO; numbers.total_lines.len()];
    if !numbers.total_lines.iter().any(|line| matches!(line.goes, LineRef::SideMix(_))) {
        return used;
    }
    let reaching = shares_into_dough(mixing, numbers);
    let mut wanted = vec![Exact::ZERO; mixing.side_mixes.len()];
    for (worked, share) in numbers.stages.iter().zip(&reaching) {
        for line in &worked.lines {
            if let LineRef::SideMix(side_mix) = line.goes {
                wanted[side_mix] += &line.mass * share;
            }
        }
    }
    for (line, used) in numbers.total_lines.iter().zip(&mut used) {
        let LineRef::SideMix(side_mix) = line.goes else { continue };
        *used = wanted[side_mix].clone().min(line.mass.clone());
        wanted[side_mix] -= &*used;
        takes.add_all(&mixing.side_mixes[side_mix].per_gram, &-used.clone());
    }
    used
}

/// The lines of stages that bring a substance, those that bring most of it first.
fn bringers(mixing: &Mixing, numbers: &Numbers, substance: Substance) -> Vec<BringingLine> {
    let reaching = shares_into_dough(mixing, numbers);
    let mut found = Vec::new();
    for (stage, worked) in numbers.stages.iter().enumerate() {
        for (index, line) in worked.lines.iter().enumerate() {
            if matches!(line.goes, LineRef::Stage(_)) {
                continue;
            }
            let content = mixing.content_of(&mixing.stage(stage).mix.lines[index]);
            let Some(share) = content.and_then(|content| content.get(substance).cloned()) else {
                continue;
            };
            let reaches = &line.mass * &share * &reaching[stage];
            if reaches > Exact::ZERO {
                found.push(BringingLine { stage, line: index, reaches });
            }
        }
    }
    found.sort_by(|one, other| other.reaches.cmp(&one.reaches));
    found
}

/// How much of a gram in each stage reaches the dough, by itself or through other stages.
fn shares_into_dough(mixing: &Mixing, numbers: &Numbers) -> Vec<Exact> {
    let mut shares = vec![Exact::ZERO; numbers.stages.len()];
    for &stage in mixing.order.iter().rev() {
        let Some(one) = Exact::ONE.over(&numbers.stages[stage].goes_on.mass()) else { continue };
        let mut reaches = numbers.stages[stage].into_dough.clone();
        for (user, worked) in numbers.stages.iter().enumerate() {
            for line in worked.lines.iter().filter(|line| line.goes == LineRef::Stage(stage)) {
                reaches += &line.mass * &shares[user];
            }
        }
        shares[stage] = reaches * one;
    }
    shares
}

/// Takes so much less of a substance into the stages that the excess does not reach the
/// dough.
fn take_less(
    mixing: &Mixing,
    takes: &mut Composition,
    numbers: &mut Numbers,
    bringers: &[BringingLine],
    excess: &Exact,
) {
    let mut left = excess.clone();
    for own in bringers {
        let part = left.clone().min(own.reaches.clone());
        let worked = &mut numbers.stages[own.stage];
        let Some(share) = part.over(&own.reaches) else { continue };
        let less = &worked.lines[own.line].mass * share;
        worked.lines[own.line].mass -= &less;
        let line = &mixing.stage(own.stage).mix.lines[own.line];
        let Some(per_gram) = mixing.content_of(line) else { continue };
        let from_culture = matches!(worked.lines[own.line].goes, LineRef::Culture(_));
        let mut gone = Composition::default();
        gone.add_all(&per_gram, &-less);
        if from_culture {
            worked.from_cultures.add_all(&gone, &Exact::ONE);
        }
        lessen(numbers, takes, own.stage, &gone);
        left -= part;
        if left.is_zero() {
            return;
        }
    }
}

/// Lets a stage have less by `gone`, a content of less than nothing, and so whatever uses
/// the stage.
fn lessen(numbers: &mut Numbers, takes: &mut Composition, stage: usize, gone: &Composition) {
    let mass = gone.mass();
    let worked = &mut numbers.stages[stage];
    let whole = worked.goes_on.mass();
    worked.made += &mass;
    worked.goes_on.add_all(gone, &Exact::ONE);
    let Some(one) = Exact::ONE.over(&whole) else { return };
    let into_dough = &worked.into_dough * &one;
    worked.into_dough += &mass * &into_dough;
    takes.add_all(gone, &into_dough);
    for user in 0..numbers.stages.len() {
        let mut used = Exact::ZERO;
        for line in &mut numbers.stages[user].lines {
            if line.goes == LineRef::Stage(stage) {
                let part = &line.mass * &one;
                line.mass += &mass * &part;
                used += part;
            }
        }
        if !used.is_zero() {
            let mut part = Composition::default();
            part.add_all(gone, &used);
            lessen(numbers, takes, user, &part);
        }
    }
}

/// Half of the last digit that a total's line is written to, in grams.
fn line_tolerance(line: &Line, worked: &WorkedLine) -> Exact {
    let Amount::Measured { range, .. } = &line.amount else { return Exact::ZERO };
    let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else { return Exact::ZERO };
    let last = quantity.decimals.map_or(Exact::ZERO, last_digit);
    (&worked.mass * last * half()).over(&quantity.number).unwrap_or_default()
}

/// The name of a substance as it is shown.
pub(super) fn substance_name(mixing: &Mixing, substance: Substance) -> EcoString {
    match substance {
        Substance::Ingredient(id) => mixing.house.ingredient(id).name.shown.clone(),
        Substance::Kept(id) | Substance::Whole(id) => mixing.house.culture(id).name.shown.clone(),
        Substance::OldDough => "old dough".into(),
    }
}
