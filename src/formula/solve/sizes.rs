//! How large each stage is: by a size of its own, by its weights, by who uses it.

use super::solving::Solving;
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::LinearExpr;
use crate::formula::mixes::main_mix;
use crate::formula::mixing::{MakeUp, MixForms, MixPlace, Mixing, Scope};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, Line, Mix, Size, Stage};

/// Sets up the sums of a stage.
pub(super) fn build_stage(
    mixing: &mut Mixing,
    scope: &mut Scope,
    solving: &mut Solving,
    stage: usize,
) {
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
pub(super) fn take_whole_stages(
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
pub(super) fn take_parts(mixing: &mut Mixing, solving: &Solving, mix: &Mix, forms: &mut MixForms) {
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

/// Whether a stage is exactly as large as the one line that uses it asks for.
pub(super) fn is_made_for_one_line(mixing: &Mixing, stage: usize) -> bool {
    let stages = mixing.formula.stages.iter().map(|stage| &stage.mix);
    let lines = main_mix(mixing.formula).into_iter().chain(stages).flat_map(|mix| &mix.lines);
    let uses = lines.filter(|line| mixing.goes(&line.target) == LineRef::Stage(stage)).count();
    uses == 1 && mixing.stage(stage).sizes.is_empty() && !is_fixed(mixing, stage)
}

/// The masses that other stages' lines ask of a stage.
pub(super) fn inner_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<LinearExpr> {
    let mut uses = Vec::new();
    for (user, forms) in solving.stages.iter().enumerate() {
        for (line, mass) in mixing.stage(user).mix.lines.iter().zip(&forms.masses) {
            let measured = !matches!(line.amount, Amount::All);
            if measured && mixing.goes(&line.target) == LineRef::Stage(stage) {
                uses.push(mass.clone());
            }
        }
    }
    uses
}

/// Demands the size that each stage has, or that those who use it ask for.
pub(super) fn size_stages(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving) {
    let in_total = mixing.formula.total.is_some();
    for stage in mixing.order.clone() {
        let declared = mixing.stage(stage);
        let from_stages = inner_uses(mixing, solving, stage);
        let used_by_stage = !from_stages.is_empty() || used_whole_by_stage(mixing, stage);
        let from_main: Vec<LinearExpr> = main_uses(mixing, solving, stage);
        let mut uses = from_stages;
        uses.extend(from_main.iter().cloned());
        let takes_all =
            solving.taken_whole[stage] || (in_total && !used_by_stage && from_main.is_empty());
        let goes_on = solving.stages[stage].goes_on_mass();
        let all_uses = uses.iter().fold(LinearExpr::default(), |sum, mass| sum.plus(mass));
        let fixed = is_fixed(mixing, stage);
        if declared.sizes.len() > 1 {
            mixing.findings.push(say::size_given_twice::sizes(declared));
        }
        // In a total the dough gets what other stages leave; elsewhere all is all.
        let whole_uses = whole_uses(mixing, stage);
        let leaves_the_rest = uses.is_empty() || (in_total && solving.taken_whole[stage]);
        if whole_uses.len() > 1 || (!whole_uses.is_empty() && !leaves_the_rest) {
            mixing.findings.push(say::size_given_twice::all_and_more(declared, whole_uses[0]));
        }
        match declared.sizes.first().map(|size| &size.size) {
            Some(Size::OfFlour(extent)) => {
                let flour = mixing.flour_in(&solving.stages[stage].goes_on);
                if flour.is_zero() && !declared.mix.lines.is_empty() {
                    mixing.findings.push(say::percentage_of_nothing::no_flour(declared));
                } else if let Some(share) = mixing.share_of(extent) {
                    let wanted = scope.flour().times(&share);
                    scope.system.demand(flour.minus(&wanted));
                }
                if !uses.is_empty() && !takes_all {
                    mixing.findings.push(say::size_given_twice::used_elsewhere(declared));
                }
            }
            Some(Size::Weighs(_) | Size::OfTotal) => {}
            None if fixed => {}
            None if !uses.is_empty() && !takes_all => {
                scope.system.demand(goes_on.clone().minus(&all_uses));
            }
            None => {
                mixing.findings.push(say::stage_size_missing::stage(declared));
                // Nothing of what waits for a size, so that the rest still has figures.
                let made = &solving.stages[stage].made;
                let weighed = LinearExpr::constant(made.constant.clone());
                scope.system.demand(made.clone().minus(&weighed));
            }
        }
        solving.into_dough[stage] =
            match (takes_all && !used_whole_by_stage(mixing, stage), from_main.is_empty()) {
                (true, _) => {
                    let elsewhere = inner_uses(mixing, solving, stage);
                    elsewhere.iter().fold(goes_on, |rest, mass| rest.minus(mass))
                }
                (false, false) => {
                    from_main.iter().fold(LinearExpr::default(), |sum, mass| sum.plus(mass))
                }
                (false, true) => LinearExpr::default(),
            };
    }
}

/// What each line of the final dough takes of a stage, `all` left out.
pub(super) fn main_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<LinearExpr> {
    let Some(mix) = main_mix(mixing.formula) else { return Vec::new() };
    let lines = mix.lines.iter().zip(&solving.main.masses);
    lines
        .filter(|(line, _)| {
            !matches!(line.amount, Amount::All)
                && mixing.goes(&line.target) == LineRef::Stage(stage)
        })
        .map(|(_, mass)| mass.clone())
        .collect()
}

/// The lines that use all of a stage.
fn whole_uses<'a>(mixing: &Mixing<'a, '_>, stage: usize) -> Vec<&'a Line> {
    let stages = mixing.formula.stages.iter().map(|stage| &stage.mix);
    let lines = main_mix(mixing.formula).into_iter().chain(stages).flat_map(|mix| &mix.lines);
    let whole = lines.filter(|line| {
        matches!(line.amount, Amount::All) && mixing.goes(&line.target) == LineRef::Stage(stage)
    });
    whole.collect()
}

/// Whether another stage takes all of it.
pub(super) fn used_whole_by_stage(mixing: &Mixing, stage: usize) -> bool {
    mixing.formula.stages.iter().flat_map(|stage| &stage.mix.lines).any(|line| {
        matches!(line.amount, Amount::All) && mixing.goes(&line.target) == LineRef::Stage(stage)
    })
}

/// Whether all lines of a stage are weights, so that it has its size.
pub(super) fn is_fixed(mixing: &Mixing, stage: usize) -> bool {
    let lines = &mixing.stage(stage).mix.lines;
    let place = |stage: usize| mixing.order.iter().position(|&built| built == stage);
    // A stage that goes in whole has its size where it says one or is fixed itself; in a
    // circle nothing is.
    let takes_fixed = |line: &Line| match mixing.goes(&line.target) {
        LineRef::Stage(inner) => {
            let sized = !mixing.stage(inner).sizes.is_empty();
            place(inner) < place(stage) && (sized || is_fixed(mixing, inner))
        }
        _ => true,
    };
    let whole = |line: &&Line| matches!(line.amount, Amount::All);
    if !lines.iter().filter(whole).all(takes_fixed) {
        return false;
    }
    let is_weight = |amount: &Amount| match amount {
        Amount::Measured { range, .. } => {
            range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
                let dimension = quantity.unit.dimension();
                matches!(dimension, Dimension::Mass | Dimension::Volume | Dimension::Count)
            })
        }
        Amount::Rest => false,
        _ => true,
    };
    // Lines in per cent of a flour that is weighed follow from it.
    let flour_weighed = || {
        let flours = lines.iter().filter(|line| match mixing.goes(&line.target) {
            LineRef::Ingredient(id) => mixing.is_flour(id),
            _ => false,
        });
        let mut any = false;
        let all = flours.inspect(|_| any = true).all(|line| is_weight(&line.amount));
        all && any
    };
    !lines.is_empty() && (lines.iter().all(|line| is_weight(&line.amount)) || flour_weighed())
}

/// Grams of a stage that are saved for the next time.
pub(super) fn saved(mixing: &Mixing, stage: &Stage) -> Exact {
    stage.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount))
}
