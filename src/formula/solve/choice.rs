//! One choice of range ends, solved: the equations, what settles them, the masses.

use super::solving::{At, Solving};
use super::{gather, numbers, sizes, yields};
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::{LinearExpr, Solution};
use crate::formula::mixes::main_mix;
use crate::formula::mixing::{MixForms, MixPlace, Mixing, Scope, by_gram};
use crate::formula::worked::{Numbers, SizedBy};
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Counting};

/// Solves the formula for one choice of range ends, `asked` where it is to be made as large
/// as `makes` says even if its own weights settle it.
pub(super) fn solve(mixing: &mut Mixing, asked: bool) -> Numbers {
    mixing.old_dough = None;
    let has_old_dough = main_mix(mixing.formula).is_some_and(|mix| {
        mix.lines.iter().any(|line| mixing.goes(&line.target) == LineRef::OldDough)
    });
    if has_old_dough {
        // First without it: what is left has the make-up of the finished dough.
        let said = mixing.findings.len();
        let (solving, solution, _) = build(mixing);
        mixing.findings.truncate(said);
        let mut content = Composition::from_forms(&solving.whole, &solution.values);
        content.retain(|substance| substance != Substance::OldDough);
        mixing.old_dough = content.per_gram();
    }
    let (solving, solution, anchor) = build(mixing);
    let mut at = At { values: &solution.values, ratio: Exact::ONE };
    let said = mixing.findings.len();
    let mut numbers = numbers::numbers(mixing, &solving, &at, solution.contradiction, anchor);
    if asked
        && anchor == SizedBy::Weights
        && let Some(ratio) = ratio_asked(mixing, &numbers)
    {
        mixing.findings.truncate(said);
        at.ratio = ratio;
        numbers = numbers::numbers(mixing, &solving, &at, solution.contradiction, anchor);
    }
    if let (true, Some(assumed)) = (has_old_dough, &mixing.old_dough) {
        check_fixed_point(mixing, &numbers, &assumed.clone());
    }
    numbers
}

/// How much larger a dough that weights settle is to be than they make it.
fn ratio_asked(mixing: &mut Mixing, numbers: &Numbers) -> Option<Exact> {
    let makes = mixing.formula.makes.clone()?;
    let said = mixing.findings.len();
    let made = yields::made_mass(mixing, &makes);
    // What there is to say of the pieces is said where they are worked out.
    mixing.findings.truncate(said);
    let (wanted, now) = match (made, &makes.from) {
        (Some(wanted), _) if makes.dough.is_some() => (wanted, numbers.whole.mass()),
        // What is saved stays what it is, however much is made.
        (Some(wanted), _) => (wanted + &numbers.saved, numbers.whole.mass() - &numbers.kept_back),
        (None, Some((quantity, target))) => {
            let now = named(numbers, mixing, &target.name.key);
            if now.is_zero() {
                mixing.findings.push(say::yield_not_in_formula::no_such_line(quantity, target));
            }
            (mixing.weigh_named(quantity, target), now)
        }
        (None, None) => return None,
    };
    wanted.over(&now)
}

/// Old dough must have the composition of the dough it comes from.
fn check_fixed_point(mixing: &mut Mixing, numbers: &Numbers, assumed: &Composition) {
    let Some(found) = numbers.whole_content().per_gram() else { return };
    let differs = found
        .iter()
        .any(|(substance, share)| assumed.get(substance).cloned().unwrap_or_default() != *share);
    if differs && let Some(mix) = main_mix(mixing.formula) {
        let line = mix.lines.iter().find(|line| mixing.goes(&line.target) == LineRef::OldDough);
        if let Some(line) = line {
            mixing.findings.push(say::circular_size::old_dough(line));
        }
    }
}

/// Sets up all forms and equations of the formula.
fn build(mixing: &mut Mixing) -> (Solving, Solution, SizedBy) {
    let formula = mixing.formula;
    let mut scope = Scope::default();
    let empty = MixForms::default;
    let mut solving = Solving {
        stages: (0..formula.stages.len()).map(|_| empty()).collect(),
        main: empty(),
        saves_inside: vec![false; formula.stages.len()],
        taken_whole: vec![false; formula.stages.len()],
        takes: Composition::default(),
        unlisted: Composition::default(),
        whole: Composition::default(),
        into_dough: vec![LinearExpr::default(); formula.stages.len()],
        kept_back: LinearExpr::default(),
        saved: Exact::ZERO,
    };
    for stage in mixing.order.clone() {
        let said = mixing.findings.len();
        mixing.make_ups[stage] = mixing.make_up(stage);
        // What the make-up has to say comes again when the stage is built.
        mixing.findings.truncate(said);
        sizes::build_stage(mixing, &mut scope, &mut solving, stage);
        if mixing.make_ups[stage].is_none() {
            mixing.make_ups[stage] = by_gram(&scope, &solving.stages[stage]);
        }
    }
    if let Some(mix) = main_mix(formula) {
        solving.main = mixing.mix(&mut scope, mix, MixPlace::Main);
        for line in mix.lines.iter().filter(|line| matches!(line.amount, Amount::All)) {
            if let LineRef::Stage(stage) = mixing.goes(&line.target) {
                solving.taken_whole[stage] = true;
            }
        }
        sizes::size_stages(mixing, &mut scope, &mut solving);
        match formula.total.is_some() {
            true => gather::gather_total(mixing, &mut solving, mix),
            false => gather::gather_dough(mixing, &mut scope, &mut solving, mix),
        }
    } else {
        gather::gather_pieces(mixing, &mut solving);
    }
    keep_some_dough(mixing, &mut solving);
    let flour = mixing.flour_in(&solving.whole);
    let mass = solving.whole.iter().fold(LinearExpr::default(), |sum, (_, mass)| sum.plus(mass));
    if let Some(asked) = scope.flour_if_asked() {
        scope.system.demand(flour.clone().minus(&asked));
    }
    if let Some(asked) = scope.whole_if_asked() {
        scope.system.demand(mass.clone().minus(&asked));
    }
    let mut solution = scope.system.solve();
    let anchor = yields::anchor(mixing, &mut solution, &solving, &flour, &mass);
    (solving, solution, anchor)
}

/// What of the finished dough does not go into pieces: as much as there is old dough in it
/// where that is kept back, and what is saved.
fn keep_some_dough(mixing: &Mixing, solving: &mut Solving) {
    let Some(mix) = main_mix(mixing.formula) else { return };
    for (line, mass) in mix.lines.iter().zip(&solving.main.masses) {
        if mixing.goes(&line.target) == LineRef::OldDough
            && matches!(line.counting, Counting::KeptBack { .. })
        {
            solving.kept_back.add(mass, &Exact::ONE);
        }
    }
    solving.saved = mix.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount));
}

/// The mass of what a name means, as an anchor of a yield.
fn named(numbers: &Numbers, mixing: &Mixing, key: &str) -> Exact {
    match key {
        "flour" => return mixing.flour_of(&numbers.whole),
        "dough" => return numbers.whole.mass(),
        _ => {}
    }
    let stage = mixing.formula.stages.iter().position(|stage| stage.name.key == key);
    if let Some(stage) = stage {
        return numbers.stages[stage].goes_on.mass();
    }
    if let Some(id) = mixing.house.ingredient_id(key)
        && let Some(mass) = numbers.whole.get(Substance::Ingredient(id))
    {
        return mass.clone();
    }
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    let named = stages.chain(&numbers.dough_lines).filter(|line| line.key == key);
    named.fold(Exact::ZERO, |sum, line| sum + &line.mass)
}
