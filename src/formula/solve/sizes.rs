//! How large each stage is: by a size of its own, by its weights, by who uses it.

use super::{Solving, main_mix};
use crate::formula::content::Content;
use crate::formula::findings as say;
use crate::formula::linear::Form;
use crate::formula::mixing::{Goes, MixForms, Mixing, Place, Scope};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, Mix, Size, Stage};

pub(super) fn build_stage(
    mixing: &mut Mixing,
    scope: &mut Scope,
    solving: &mut Solving,
    stage: usize,
) {
    let mix = &mixing.stage(stage).mix;
    let mut forms = mixing.mix(scope, mix, Place::Stage(stage));
    // An inner stage that goes in whole brings its own forms, whatever its size.
    take_whole_stages(mixing, solving, mix, &mut forms, Place::Stage(stage));
    if mixing.stage(stage).feeds.is_some_and(|(feeds, _)| feeds > 1)
        && let Some(seed) = feed_before(mixing, stage)
    {
        mixing.reseed(&mut forms, stage, &seed);
    }
    let saved = saved(mixing, mixing.stage(stage));
    if !saved.is_zero() && is_fixed(mixing, stage) {
        keep_some(&mut forms, &saved);
    }
    solving.stages[stage] = forms;
}

/// What has to be made so that one gram more goes on. The two grow together, so any size
/// tells their ratio.
fn made_for_a_gram(made: &Form, goes_on: &Form) -> Exact {
    let ones = vec![Exact::ONE; 64];
    let goes_on = goes_on.value(&ones);
    if goes_on.is_zero() { Exact::ONE } else { made.value(&ones) / goes_on }
}

/// Of a stage whose size is settled by weights, what is saved does not go on.
fn keep_some(forms: &mut MixForms, saved: &Exact) {
    let whole = forms.goes_on_mass();
    if !whole.is_constant() || whole.constant <= *saved {
        return;
    }
    let share = (&whole.constant - saved) / &whole.constant;
    for content in [&mut forms.goes_on, &mut forms.from_cultures] {
        for mass in content.masses_mut() {
            *mass = mass.times(&share);
        }
    }
}

/// The make-up of the last feed but one.
pub(super) fn feed_before(mixing: &mut Mixing, stage: usize) -> Option<Content> {
    let said = mixing.findings.len();
    let (feeds, _) = mixing.stage(stage).feeds?;
    let seed = mixing.make_up_after(stage, feeds - 1);
    mixing.findings.truncate(said);
    seed
}

/// Replaces the share of stages used with `all` by what they are.
pub(super) fn take_whole_stages(
    mixing: &Mixing,
    solving: &Solving,
    mix: &Mix,
    forms: &mut MixForms,
    place: Place,
) {
    for (index, line) in mix.lines.iter().enumerate() {
        let (Goes::Stage(inner), Amount::All) = (mixing.goes(&line.target), &line.amount) else {
            continue;
        };
        let inner = &solving.stages[inner];
        forms.masses[index] = inner.goes_on_mass();
        forms.made.add(&forms.masses[index].clone(), &Exact::ONE);
        for (substance, mass) in inner.goes_on.iter() {
            forms
                .goes_on
                .add_with(substance, mass.clone(), |old, mass| old.add(&mass, &Exact::ONE));
        }
        for (substance, mass) in inner.from_cultures.iter() {
            let add = |old: &mut Form, mass: Form| old.add(&mass, &Exact::ONE);
            forms.from_cultures.add_with(substance, mass.clone(), add);
        }
    }
    if let Place::Stage(stage) = place {
        let loses = mixing.stage(stage).loses.is_some();
        // The boiled water was taken out before; only seed that came in is left to do.
        if !loses {
            mixing.take_out(forms, stage);
        }
    }
}

/// The masses that other stages' lines ask of a stage.
pub(super) fn inner_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<Form> {
    let mut uses = Vec::new();
    for (user, forms) in solving.stages.iter().enumerate() {
        for (line, mass) in mixing.stage(user).mix.lines.iter().zip(&forms.masses) {
            let measured = !matches!(line.amount, Amount::All);
            if measured && mixing.goes(&line.target) == Goes::Stage(stage) {
                uses.push(mass.clone());
            }
        }
    }
    uses
}

pub(super) fn size_stages(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving) {
    let in_total = mixing.formula.total.is_some();
    for stage in mixing.order.clone() {
        let declared = mixing.stage(stage);
        let from_stages = inner_uses(mixing, solving, stage);
        let used_by_stage = !from_stages.is_empty() || used_whole_by_stage(mixing, stage);
        let from_main: Vec<Form> = main_uses(mixing, solving, stage);
        let mut uses = from_stages;
        uses.extend(from_main.iter().cloned());
        let takes_all =
            solving.taken_whole[stage] || (in_total && !used_by_stage && from_main.is_empty());
        let goes_on = solving.stages[stage].goes_on_mass();
        let all_uses = uses.iter().fold(Form::default(), |sum, mass| sum.plus(mass));
        let fixed = is_fixed(mixing, stage);
        if declared.sizes.len() > 1 {
            mixing.findings.push(say::size_given_twice::sizes(declared));
        }
        match declared.sizes.first().map(|size| &size.size) {
            Some(Size::OfFlour(extent)) => {
                let flour = mixing.flour_in(&solving.stages[stage].goes_on);
                if flour.is_zero() && !declared.mix.lines.is_empty() {
                    mixing.findings.push(say::size_unknown::no_flour(declared));
                } else if let Some(share) = mixing.share_of(extent) {
                    let wanted = scope.flour().times(&share);
                    scope.system.demand(flour.minus(&wanted));
                }
                if !uses.is_empty() && !takes_all {
                    mixing.findings.push(say::size_given_twice::used_elsewhere(declared));
                }
            }
            Some(Size::Weighs(extent)) => {
                if let Some(quantity) = extent.low.as_ref().or(extent.high.as_ref()) {
                    let made = solving.stages[stage].made.clone();
                    let besides = saved(mixing, declared) * made_for_a_gram(&made, &goes_on);
                    let wanted = mixing.worth(quantity) - besides;
                    scope.system.demand(made.minus(&Form::constant(wanted)));
                }
            }
            Some(Size::OfTotal) => {}
            None if fixed => {}
            None if !uses.is_empty() && !takes_all => {
                scope.system.demand(goes_on.clone().minus(&all_uses));
            }
            None => {
                mixing.findings.push(say::size_unknown::stage(declared));
                // Nothing of it, so that the rest still has figures.
                scope.system.demand(solving.stages[stage].made.clone());
            }
        }
        solving.into_dough[stage] =
            match (takes_all && !used_whole_by_stage(mixing, stage), from_main.is_empty()) {
                (true, _) => {
                    let elsewhere = inner_uses(mixing, solving, stage);
                    elsewhere.iter().fold(goes_on, |rest, mass| rest.minus(mass))
                }
                (false, false) => {
                    from_main.iter().fold(Form::default(), |sum, mass| sum.plus(mass))
                }
                (false, true) => Form::default(),
            };
    }
}

pub(super) fn main_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<Form> {
    let Some(mix) = main_mix(mixing.formula) else { return Vec::new() };
    let lines = mix.lines.iter().zip(&solving.main.masses);
    lines
        .filter(|(line, _)| {
            !matches!(line.amount, Amount::All) && mixing.goes(&line.target) == Goes::Stage(stage)
        })
        .map(|(_, mass)| mass.clone())
        .collect()
}

pub(super) fn used_whole_by_stage(mixing: &Mixing, stage: usize) -> bool {
    mixing.formula.stages.iter().flat_map(|stage| &stage.mix.lines).any(|line| {
        matches!(line.amount, Amount::All) && mixing.goes(&line.target) == Goes::Stage(stage)
    })
}

/// Whether all lines of a stage are weights, so that it has its size.
pub(super) fn is_fixed(mixing: &Mixing, stage: usize) -> bool {
    let lines = &mixing.stage(stage).mix.lines;
    let is_weight = |amount: &Amount| match amount {
        Amount::Measured { range, .. } => {
            range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
                let dimension = quantity.unit.dimension();
                matches!(dimension, Dimension::Mass | Dimension::Volume | Dimension::Count)
            })
        }
        Amount::All | Amount::Rest => false,
        _ => true,
    };
    // Lines in per cent of a flour that is weighed follow from it.
    let flour_weighed = || {
        let flours = lines.iter().filter(|line| match mixing.goes(&line.target) {
            Goes::Ingredient(id) => mixing.is_flour(id),
            _ => false,
        });
        let mut any = false;
        let all = flours.inspect(|_| any = true).all(|line| is_weight(&line.amount));
        all && any
    };
    !lines.is_empty() && (lines.iter().all(|line| is_weight(&line.amount)) || flour_weighed())
}

pub(super) fn saved(mixing: &Mixing, stage: &Stage) -> Exact {
    stage.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount))
}
