//! The sums of one stage, with what it takes of others.

use super::uses::{is_fixed, is_made_for_one_line};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::LinearExpr;
use crate::formula::mixing::{MakeUp, MixForms, MixPlace, Mixing, Scope};
use crate::formula::solve::solving::Solving;
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Mix, Size, Stage};

/// Sets up the sums of a stage.
pub fn build_stage(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving, stage: usize) {
    let mix = &mixing.stage(stage).mix;
    let mut forms = mixing.mix(scope, mix, MixPlace::Stage(stage));
    take_parts(mixing, solving, mix, &mut forms);
    take_whole_stages(mixing, scope, solving, mix, &mut forms);
    mixing.take_out(&mut forms, stage);
    if let Some(loses) = &mixing.stage(stage).loses
        && mixing.water_of(&forms.goes_on).is_none()
    {
        mixing
            .findings
            .push(say::percentage_of_nothing::nothing_to_lose(mixing.stage(stage), loses));
    }
    if mixing.stage(stage).feeds.is_some_and(|(feeds, _)| feeds > 1)
        && let Some(seed) = feed_before(mixing, stage)
    {
        mixing.reseed(&mut forms, stage, &seed);
    }
    let weighs = weighs(mixing, stage);
    if let Some(weighs) = &weighs {
        scope.system.demand(forms.made.clone().minus(&LinearExpr::constant(weighs.clone())));
    }
    let declared = mixing.stage(stage);
    let saved = saved(mixing, declared);
    if !saved.is_zero() && (weighs.is_some() || is_fixed(mixing, stage)) {
        solving.saves_inside[stage] = keep_some(mixing, scope, stage, &mut forms, &saved);
        if !scope.system.solve().settles(&forms.goes_on_mass()) {
            mixing.findings.push(say::circular_size::saved_of_an_unknown(declared));
        }
    }
    solving.stages[stage] = forms;
}

/// The grams that a stage is said to weigh, where that is its size.
fn weighs(mixing: &Mixing, stage: usize) -> Option<Exact> {
    match mixing.stage(stage).sizes.first().map(|size| &size.size) {
        Some(Size::Weighs(extent)) => {
            extent.low.as_ref().or(extent.high.as_ref()).map(|quantity| mixing.worth(quantity))
        }
        _ => None,
    }
}

/// Of a stage whose size is settled by weights, what is saved does not go on; whether that
/// could be done.
fn keep_some(
    mixing: &mut Mixing,
    scope: &Scope,
    stage: usize,
    forms: &mut MixForms,
    saved: &Exact,
) -> bool {
    let whole = forms.goes_on_mass();
    let solution = scope.system.solve();
    if !solution.settles(&whole) {
        return false;
    }
    let whole = whole.value(&solution.values);
    if whole <= *saved {
        let said = say::size_given_twice::more_saved(mixing.stage(stage), saved, &whole);
        mixing.findings.push(said);
        return false;
    }
    let Some(share) = (&whole - saved).over(&whole) else { return false };
    for content in [&mut forms.goes_on, &mut forms.from_cultures] {
        for mass in content.masses_mut() {
            *mass = mass.times(&share);
        }
    }
    true
}

/// The make-up of the last feed but one.
pub(super) fn feed_before(mixing: &mut Mixing, stage: usize) -> Option<MakeUp> {
    let said = mixing.findings.len();
    let (feeds, _) = mixing.stage(stage).feeds?;
    let seed = mixing.make_up_after(stage, feeds - 1);
    mixing.findings.truncate(said);
    seed
}

/// A stage that goes in whole brings its own forms, whatever its size.
pub fn take_whole_stages(
    mixing: &Mixing,
    scope: &mut Scope,
    solving: &Solving,
    mix: &Mix,
    forms: &mut MixForms,
) {
    for (index, line) in mix.lines.iter().enumerate() {
        let (LineRef::Stage(inner), Amount::All) = (mixing.goes(&line.target), &line.amount) else {
            continue;
        };
        let inner = &solving.stages[inner];
        let mass = inner.goes_on_mass();
        forms.made.add(&mass, &Exact::ONE);
        let stood_for = std::mem::replace(&mut forms.masses[index], mass.clone());
        if !stood_for.is_zero() {
            forms.made = std::mem::take(&mut forms.made).minus(&stood_for);
            scope.system.demand(stood_for.minus(&mass));
        }
        add_stage(forms, inner);
    }
}

/// A line that takes a part of a stage brings that part's make-up. Where the make-up hangs
/// on how much is made, only a line that takes all there is can bring it.
pub fn take_parts(mixing: &mut Mixing, solving: &Solving, mix: &Mix, forms: &mut MixForms) {
    for line in &mix.lines {
        let LineRef::Stage(inner) = mixing.goes(&line.target) else { continue };
        let known = mixing.make_ups[inner].is_some() || matches!(line.amount, Amount::All);
        if known || solving.stages[inner].goes_on_mass().is_zero() {
            continue;
        }
        match is_made_for_one_line(mixing, inner) {
            true => add_stage(forms, &solving.stages[inner]),
            false => {
                let said =
                    say::composition_depends_on_size::part_of(mixing.stage(inner), Some(line));
                mixing.findings.push(said);
            }
        }
    }
}

fn add_stage(forms: &mut MixForms, stage: &MixForms) {
    let add = |old: &mut LinearExpr, mass: LinearExpr| old.add(&mass, &Exact::ONE);
    for (substance, mass) in stage.goes_on.iter() {
        forms.goes_on.add_with(substance, mass.clone(), add);
    }
    for (substance, mass) in stage.from_cultures.iter() {
        forms.from_cultures.add_with(substance, mass.clone(), add);
    }
}

/// Grams of a stage that are saved for the next time.
pub fn saved(mixing: &Mixing, stage: &Stage) -> Exact {
    stage.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount))
}
