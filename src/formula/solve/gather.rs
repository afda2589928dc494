//! What is in the whole dough, as sums that wait for a size.

use super::Solving;
use crate::formula::content::{Content, Substance};
use crate::formula::findings as say;
use crate::formula::linear::Form;
use crate::formula::mixing::{Goes, Mixing};
use crate::formula::worked::is_kind;
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Counting, Mix};

/// Total form: what is listed is all there is; stages take their part out of it.
pub(super) fn gather_total(mixing: &mut Mixing, solving: &mut Solving, mix: &Mix) {
    let one = Exact::ONE;
    let add = |old: &mut Form, mass: Form| old.add(&mass, &one);
    let mut listed: Content<Form> = Content::default();
    let mut takes: Content<Form> = Content::default();
    let mut from_cultures: Content<Form> = Content::default();
    for (line, mass) in mix.lines.iter().zip(&solving.main.masses) {
        match (mixing.goes(&line.target), &line.counting) {
            (Goes::Ingredient(id), _) => {
                listed.add_with(Substance::Ingredient(id), mass.clone(), add);
            }
            (Goes::Culture(id), Counting::NotSplit) => {
                listed.add_with(Substance::Whole(id), mass.clone(), add);
            }
            (Goes::Culture(id), _) => {
                for (substance, share) in mixing.house.culture(id).per_gram.iter() {
                    takes.add_with(substance, mass.times(share), add);
                    from_cultures.add_with(substance, mass.times(share), add);
                }
            }
            (Goes::Blend(blend), _) => {
                for (substance, share) in mixing.blends[blend].per_gram.iter() {
                    listed.add_with(substance, mass.times(share), add);
                }
            }
            (Goes::OldDough, _) => {
                for (substance, share) in mixing.old_dough.iter().flat_map(Content::iter) {
                    takes.add_with(substance, mass.times(share), add);
                }
            }
            (Goes::Stage(_) | Goes::Nothing, _) => {}
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

/// What of a stage's content goes into the final dough: all of its forms where all of
/// it does, else its make-up times the mass that does.
pub(super) fn part_into_dough(
    mixing: &Mixing,
    solving: &Solving,
    stage: usize,
) -> (Content<Form>, Content<Form>) {
    let forms = &solving.stages[stage];
    let into = &solving.into_dough[stage];
    if into.is_zero() {
        return Default::default();
    }
    if *into == forms.goes_on_mass() {
        return (forms.goes_on.clone(), forms.from_cultures.clone());
    }
    let mut content = Content::default();
    if let Some(per_gram) = &mixing.per_gram[stage] {
        for (substance, share) in per_gram.iter() {
            content.add_with(substance, into.times(share), |old: &mut Form, mass| {
                old.add(&mass, &Exact::ONE);
            });
        }
    }
    // Which part of it cultures brought is told by the make-up of flours that stand on
    // no line; a part of a stage has them in the same proportion.
    let mut cultures = Content::default();
    for (substance, _) in forms.from_cultures.iter() {
        if let Some(mass) = content.get(substance) {
            cultures.add_with(substance, mass.clone(), |_: &mut Form, _| {});
        }
    }
    (content, cultures)
}

/// Dough form: the dough is what stands on its lines.
pub(super) fn gather_dough(mixing: &mut Mixing, solving: &mut Solving, mix: &Mix) {
    let mut whole = solving.main.goes_on.clone();
    for line in &mix.lines {
        if let (Goes::Stage(stage), Amount::All) = (mixing.goes(&line.target), &line.amount) {
            for (substance, mass) in solving.stages[stage].goes_on.iter() {
                whole.add_with(substance, mass.clone(), |old, mass| old.add(&mass, &Exact::ONE));
            }
        }
    }
    for (index, line) in mix.lines.iter().enumerate() {
        if let (Goes::Stage(stage), Amount::All) = (mixing.goes(&line.target), &line.amount) {
            solving.main.masses[index] = solving.stages[stage].goes_on_mass();
        }
        // A stage whose make-up hangs on its size can only go in whole.
        if let Goes::Stage(stage) = mixing.goes(&line.target)
            && !matches!(line.amount, Amount::All)
            && mixing.per_gram[stage].is_none()
        {
            mixing.findings.push(say::size_unknown::stage(mixing.stage(stage)));
        }
    }
    solving.whole = whole;
}

/// A formula whose pieces are wholly made of other formulas.
pub(super) fn gather_pieces(mixing: &mut Mixing, solving: &mut Solving) {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return };
    let mut whole: Content<Form> = Content::default();
    for made in &makes.pieces {
        let lines = formula
            .pieces
            .iter()
            .filter(|piece| {
                piece.kind.as_ref().is_none_or(|kind| is_kind(&kind.key, &made.kind.key))
            })
            .flat_map(|piece| &piece.mix.lines);
        for line in lines {
            let Goes::Blend(blend) = mixing.goes(&line.target) else { continue };
            if !mixing.blends[blend].is_formula {
                continue;
            }
            let Amount::Measured { range, .. } = &line.amount else { continue };
            let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else { continue };
            let mass = mixing.worth(quantity) * &made.count.number;
            for (substance, share) in mixing.blends[blend].per_gram.iter() {
                let mass = Form::constant(&mass * share);
                whole.add_with(substance, mass, |old, mass| old.add(&mass, &Exact::ONE));
            }
        }
    }
    solving.whole = whole;
}
