//! What a formula makes, and what that asks of its size.

use super::solving::Solving;
use crate::formula::composition::Substance;
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::{LinearExpr, Solution};
use crate::formula::mixes::main_mix;
use crate::formula::mixing::Mixing;
use crate::formula::piece_kinds::is_kind;
use crate::formula::worked::{SizedBy, before_loss};
use crate::quantity::display::Scale;
use crate::quantity::{Exact, int};
use crate::syntax::tree::{MadePiece, Makes, Piece, Quantity, Target};

/// Demands what the formula makes, where that is not settled by weights.
pub(super) fn anchor(
    mixing: &mut Mixing,
    solution: &mut Solution,
    solving: &Solving,
    flour: &LinearExpr,
    mass: &LinearExpr,
) -> SizedBy {
    let formula = mixing.formula;
    if formula.total.is_none() && formula.dough.is_none() {
        return SizedBy::Pieces;
    }
    if solution.settles(mass) {
        return SizedBy::Weights;
    }
    let Some(makes) = &formula.makes else {
        // Nothing was said: a kilogram of flour, as a table in a book has it.
        let basis = if flour.is_zero() { mass } else { flour };
        solution.demand(&basis.clone().minus(&LinearExpr::constant(int(1000))));
        return SizedBy::Default;
    };
    match made_mass(mixing, makes) {
        Some(wanted) => {
            let made = match makes.dough.is_some() {
                true => mass.clone(),
                false => solving.form_of_pieces(mass),
            };
            solution.demand(&made.minus(&LinearExpr::constant(wanted)));
            SizedBy::Makes
        }
        None => match &makes.from {
            Some((quantity, target)) => {
                let named = named_mass(mixing, solving, target, flour, mass);
                match named {
                    Some(named) => {
                        let wanted = LinearExpr::constant(mixing.weigh_named(quantity, target));
                        solution.demand(&named.minus(&wanted));
                    }
                    None => {
                        mixing
                            .findings
                            .push(say::yield_not_in_formula::no_such_line(quantity, target));
                    }
                }
                SizedBy::Makes
            }
            None => {
                mixing.findings.push(say::piece_size_missing::pieces(makes));
                solution.demand(&flour.clone().minus(&LinearExpr::constant(int(1000))));
                SizedBy::Default
            }
        },
    }
}

/// The mass that pieces of given weight, or `20 kg dough`, ask for.
pub fn made_mass(mixing: &mut Mixing, makes: &Makes) -> Option<Exact> {
    if let Some(dough) = &makes.dough {
        return Some(mixing.worth(dough));
    }
    let mut sum = Exact::ZERO;
    for made in &makes.pieces {
        let weight = piece_weight(mixing, made)?;
        if weight.is_zero() || made.count.number.is_zero() {
            return None;
        }
        let loss = make_up_loss(mixing, &made.kind.key);
        sum += before_loss(&(weight * &made.count.number), &loss);
    }
    (!makes.pieces.is_empty()).then_some(sum)
}

/// What is written of a loss for a kind of piece: its own, else that of all pieces.
pub(super) fn loss_of<'f>(
    mixing: &Mixing<'f, '_>,
    kind: &str,
    loss: impl Fn(&'f Piece) -> Option<&'f Quantity>,
) -> Option<&'f Quantity> {
    let own = mixing
        .formula
        .pieces
        .iter()
        .filter(|piece| piece.kind.as_ref().is_some_and(|own| is_kind(&own.key, kind)));
    own.filter_map(&loss).next().or_else(|| {
        let all = mixing.formula.pieces.iter().filter(|piece| piece.kind.is_none());
        all.filter_map(&loss).next()
    })
}

/// The share that a kind of piece loses in making up; one or more is no share and is told
/// elsewhere.
pub(super) fn make_up_loss(mixing: &Mixing, kind: &str) -> Exact {
    loss_of(mixing, kind, |piece| piece.make_up_loss.as_ref())
        .or(mixing.formula.make_up_loss.as_ref())
        .map(|loss| mixing.worth(loss))
        .filter(|loss| *loss < Exact::ONE)
        .unwrap_or_default()
}

/// The share that a kind of piece loses in the oven.
pub fn bake_loss(mixing: &Mixing, kind: &str) -> Option<Exact> {
    loss_of(mixing, kind, |piece| piece.bake_loss.as_ref())
        .or(mixing.formula.bake_loss.as_ref())
        .map(|loss| mixing.worth(loss))
}

/// The dough of one piece in grams, as written.
pub(super) fn piece_weight(mixing: &mut Mixing, made: &MadePiece) -> Option<Exact> {
    if let Some(tin) = &made.tin {
        let Some(known) = mixing.house.tin(&tin.key) else {
            let near = mixing.house.near_tin(&tin.key);
            mixing.findings.push(say::unknown_tin::finding(tin, near));
            return None;
        };
        // A weight that is written as well is what goes into the tin.
        if made.weight.is_none() {
            return Some(known.fits());
        }
    }
    let weight = mixing.worth(made.weight.as_ref()?);
    if !made.baked {
        return Some(weight);
    }
    let Some(loss) = bake_loss(mixing, &made.kind.key) else {
        mixing.findings.push(say::piece_size_missing::baked_without_a_loss(made));
        return Some(weight);
    };
    let scale = &mixing.house.settings.scale;
    (loss < Exact::ONE).then(|| weighable(scale, &before_loss(&weight, &loss)))
}

/// The least weight that a scale shows and that is not below `grams`: a piece divided so
/// is not lighter out of the oven than is wanted.
fn weighable(scale: &Scale, grams: &Exact) -> Exact {
    let up = |step: Exact| grams.up_to(&step);
    let shown = up(scale.resolution(grams));
    // Where it reaches a coarser step, that one has to show it.
    up(scale.resolution(&shown))
}

/// The form of a named line, stage or of all the flour.
pub(super) fn named_mass(
    mixing: &Mixing,
    solving: &Solving,
    target: &Target,
    flour: &LinearExpr,
    mass: &LinearExpr,
) -> Option<LinearExpr> {
    match target.name.key.as_str() {
        "flour" => return Some(flour.clone()),
        "dough" => return Some(mass.clone()),
        _ => {}
    }
    match mixing.goes(target) {
        LineRef::Stage(stage) => Some(solving.stages[stage].goes_on_mass()),
        LineRef::Ingredient(id) => solving.whole.get(Substance::Ingredient(id)).cloned(),
        LineRef::Culture(_) | LineRef::OldDough | LineRef::SideMix(_) => {
            let mixes = mixing.formula.stages.iter().map(|stage| &stage.mix);
            let forms = solving.stages.iter().chain([&solving.main]);
            let mut sum: Option<LinearExpr> = None;
            for (mix, forms) in mixes.chain(main_mix(mixing.formula)).zip(forms) {
                for (line, mass) in mix.lines.iter().zip(&forms.masses) {
                    if line.target.name.key == target.name.key {
                        sum = Some(sum.unwrap_or_default().plus(mass));
                    }
                }
            }
            sum
        }
        LineRef::Nothing => None,
    }
}
