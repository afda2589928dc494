//! What is in the whole dough, as sums that wait for a size.

use super::sizes::{is_made_for_one_line, take_parts, take_whole_stages};
use super::solving::Solving;
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::LinearExpr;
use crate::formula::mixes::main_mix;
use crate::formula::mixing::{Mixing, Scope};
use crate::formula::piece_kinds::is_kind;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, Counting, Mix};

/// Total form: what is listed is all there is; stages take their part out of it.
pub(super) fn gather_total(mixing: &mut Mixing, solving: &mut Solving, mix: &Mix) {
    let one = Exact::ONE;
    let add = |old: &mut LinearExpr, mass: LinearExpr| old.add(&mass, &one);
    let mut listed: Composition<LinearExpr> = Composition::default();
    let mut takes: Composition<LinearExpr> = Composition::default();
    let mut from_cultures: Composition<LinearExpr> = Composition::default();
    for (line, mass) in mix.lines.iter().zip(&solving.main.masses) {
        match (mixing.goes(&line.target), &line.counting) {
            (LineRef::Ingredient(id), _) => {
                listed.add_with(Substance::Ingredient(id), mass.clone(), add);
            }
            (LineRef::Culture(id), Counting::NotSplit) => {
                listed.add_with(Substance::Whole(id), mass.clone(), add);
            }
            (LineRef::Culture(id), _) => {
                for (substance, share) in mixing.house.culture(id).per_gram.iter() {
                    takes.add_with(substance, mass.times(share), add);
                    from_cultures.add_with(substance, mass.times(share), add);
                }
            }
            (LineRef::SideMix(side_mix), _) => {
                for (substance, share) in mixing.side_mixes[side_mix].per_gram.iter() {
                    listed.add_with(substance, mass.times(share), add);
                }
            }
            (LineRef::OldDough, _) => {
                for (substance, share) in mixing.old_dough.iter().flat_map(Composition::iter) {
                    takes.add_with(substance, mass.times(share), add);
                }
            }
            (LineRef::Stage(_) | LineRef::Nothing, _) => {}
        }
    }
    for stage in 0..solving.stages.len() {
        let (content, cultures) = part_into_dough(mixing, solving, stage);
        for (substance, mass) in content.iter() {
            takes.add_with(substance, mass.clone(), add);
        }
        for (substance, mass) in cultures.iter() {
            from_cultures.add_with(substance, mass.clone(), add);
        }
    }
    return_no_seed(mixing, &mut takes, Some(&mut from_cultures));
    let mut whole = listed;
    for (substance, mass) in from_cultures.iter() {
        let is_flour = matches!(substance, Substance::Ingredient(id) if mixing.is_flour(id));
        if is_flour && whole.get(substance).is_none() && !mass.is_zero() {
            solving.unlisted.add_with(substance, mass.clone(), add);
        }
    }
    for (substance, mass) in solving.unlisted.iter() {
        whole.add_with(substance, mass.clone(), add);
    }
    solving.takes = takes;
    solving.whole = whole;
}

/// Seed that reaches the dough before any stage has given it back is in the bread like any
/// other culture.
fn return_no_seed(
    mixing: &Mixing,
    content: &mut Composition<LinearExpr>,
    mut from_cultures: Option<&mut Composition<LinearExpr>>,
) {
    let add = |old: &mut LinearExpr, mass: LinearExpr| old.add(&mass, &Exact::ONE);
    let seeds: Vec<_> = content
        .iter()
        .filter_map(|(substance, mass)| match substance {
            Substance::Kept(id) => Some((id, mass.clone())),
            _ => None,
        })
        .collect();
    content.retain(|substance| !matches!(substance, Substance::Kept(_)));
    for (id, mass) in seeds {
        for (substance, share) in mixing.house.culture(id).per_gram.iter() {
            content.add_with(substance, mass.times(share), add);
            if let Some(cultures) = &mut from_cultures {
                cultures.add_with(substance, mass.times(share), add);
            }
        }
    }
}

/// What of a stage's content goes into the final dough: all of its forms where all of
/// it does, else its make-up times the mass that does.
pub(super) fn part_into_dough(
    mixing: &mut Mixing,
    solving: &Solving,
    stage: usize,
) -> (Composition<LinearExpr>, Composition<LinearExpr>) {
    let forms = &solving.stages[stage];
    let into = &solving.into_dough[stage];
    if into.is_zero() {
        return Default::default();
    }
    let hangs = mixing.make_ups[stage].is_none();
    if *into == forms.goes_on_mass() || (hangs && is_made_for_one_line(mixing, stage)) {
        return (forms.goes_on.clone(), forms.from_cultures.clone());
    }
    let Some(make_up) = &mixing.make_ups[stage] else {
        let mut lines = main_mix(mixing.formula).into_iter().flat_map(|mix| &mix.lines);
        let line = lines.find(|line| mixing.goes(&line.target) == LineRef::Stage(stage));
        mixing.findings.push(say::composition_depends_on_size::part_of(mixing.stage(stage), line));
        return Default::default();
    };
    let part = |per_gram: &Composition| {
        let mut content = Composition::default();
        for (substance, share) in per_gram.iter() {
            content.add_with(substance, into.times(share), |_: &mut LinearExpr, _| {});
        }
        content
    };
    (part(&make_up.content), part(&make_up.from_cultures))
}

/// Dough form: the dough is what stands on its lines.
pub(super) fn gather_dough(
    mixing: &mut Mixing,
    scope: &mut Scope,
    solving: &mut Solving,
    mix: &Mix,
) {
    let mut main = std::mem::take(&mut solving.main);
    take_parts(mixing, solving, mix, &mut main);
    take_whole_stages(mixing, scope, solving, mix, &mut main);
    solving.whole = main.goes_on.clone();
    return_no_seed(mixing, &mut solving.whole, None);
    solving.main = main;
}

/// A formula whose pieces are wholly made of other formulas.
pub(super) fn gather_pieces(mixing: &mut Mixing, solving: &mut Solving) {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return };
    let mut whole: Composition<LinearExpr> = Composition::default();
    for made in &makes.pieces {
        let lines = formula
            .pieces
            .iter()
            .filter(|piece| {
                piece.kind.as_ref().is_none_or(|kind| is_kind(&kind.key, &made.kind.key))
            })
            .flat_map(|piece| &piece.mix.lines);
        for line in lines {
            let LineRef::SideMix(side_mix) = mixing.goes(&line.target) else { continue };
            if !mixing.side_mixes[side_mix].is_formula {
                continue;
            }
            let Amount::Measured { range, .. } = &line.amount else { continue };
            let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else { continue };
            if quantity.unit.dimension() == Dimension::Share {
                let why = "there is no dough beside it that it could be a percentage of";
                mixing.findings.push(say::amount_unclear::meaningless(line, why));
                continue;
            }
            let mass = mixing.weigh(quantity, line) * &made.count.number;
            for (substance, share) in mixing.side_mixes[side_mix].per_gram.iter() {
                let mass = LinearExpr::constant(&mass * share);
                whole.add_with(substance, mass, |old, mass| old.add(&mass, &Exact::ONE));
            }
        }
    }
    solving.whole = whole;
}
