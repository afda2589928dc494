//! Flour fermented before it comes into a mix: in preferments and builds, in cultures and old
//! dough that go straight in.

use crate::formula::class::Class;
use crate::formula::composition::IngredientId;
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::line_ref::LineRef;
use crate::formula::mixes::main_mix;
use crate::formula::origin::Origin;
use crate::formula::origin::mixes::IngredientQuery;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::term::Term;
use crate::formula::worked::{Within, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Mix;

/// Grams of flour fermented before the dough; of a stage, before that stage. None for what
/// stands beside the dough.
pub(in crate::formula) fn fermented<T: Term>(origin: &Origin, within: Within) -> Option<T> {
    let what = || Subject::from(Topic::FermentedFlourBeforeDough);
    let (numbers, formula) = (origin.numbers, &origin.worked.formula);
    let by_stage = by_stage(origin, within);
    let by = |line: &WorkedLine, mix: Option<&Mix>| brought::<T>(origin, line, mix, &by_stage);
    match within {
        Within::Stage(stage) => {
            let mix = &formula.stages[stage].mix;
            let parts = numbers.stages[stage].lines.iter().filter_map(|line| by(line, Some(mix)));
            Some(T::sum(what, ValueKind::Mass, parts))
        }
        Within::All | Within::FinalDough => {
            let mix = main_mix(formula);
            let of_line = |line: &WorkedLine| match line.goes {
                LineRef::OldDough => by_old_dough(origin, line, mix),
                _ => by(line, mix),
            };
            let lines = numbers.dough_lines.iter().filter_map(of_line);
            // A bread that is made of other formulas only has their flour.
            let only_pieces = formula.total.is_none() && formula.dough.is_none();
            let pieces = numbers.pieces.iter().filter(|_| only_pieces).flat_map(|piece| {
                piece.lines.iter().filter_map(move |line| {
                    let count = T::known(piece.made.count.clone(), |_| origin.count(piece));
                    let what = || Subject::By(line.name.clone()).on(&piece.made.kind);
                    Some(T::product(what, ValueKind::Mass, [by(line, None)?, count]))
                })
            });
            Some(T::sum(what, ValueKind::Mass, lines.chain(pieces)))
        }
        Within::Pieces | Within::SideMix(_) => None,
    }
}

/// For each stage, the fermented flour that goes on from it; those that come after `within`
/// in the order of building are left at nothing.
fn by_stage(origin: &Origin, within: Within) -> Vec<Exact> {
    let (worked, numbers) = (origin.worked, origin.numbers);
    let mut fermented = vec![Exact::ZERO; numbers.stages.len()];
    for &stage in worked.order.iter().take_while(|stage| within != Within::Stage(**stage)) {
        fermented[stage] = match worked.formula.stages[stage].kind.ferments() {
            true => worked.flour(&worked.split_seed(&numbers.stages[stage].goes_on)),
            false => {
                let lines = numbers.stages[stage].lines.iter();
                let parts = lines.filter_map(|line| brought(origin, line, None, &fermented));
                Exact::sum(Subject::default, ValueKind::Mass, parts)
            }
        };
    }
    fermented
}

/// The fermented flour that a line brings; none where it brings none.
fn brought<T: Term>(
    origin: &Origin,
    line: &WorkedLine,
    mix: Option<&Mix>,
    by_stage: &[Exact],
) -> Option<T> {
    let own = |within| T::known(line.mass.clone(), |_| origin.line(line, mix, within));
    let part = match line.goes {
        LineRef::Stage(stage) => {
            if by_stage[stage].is_zero() {
                return None;
            }
            let all =
                T::known(by_stage[stage].clone(), |_| in_stage(origin, line, stage, by_stage));
            return origin.part_of_stage(line, stage, all, own(Within::FinalDough));
        }
        LineRef::Culture(id) => {
            let culture = origin.house.culture(id);
            T::known(origin.worked.flour(&culture.per_gram), |share| {
                let what = Subject::from(Topic::Flour).inside(&line.name);
                Reason::new(what, share, ValueKind::Share, How::Written).at(culture.name.span)
            })
        }
        LineRef::SideMix(side_mix) => {
            let side_mix = &origin.worked.side_mixes[side_mix];
            if side_mix.fermented.is_zero() {
                return None;
            }
            T::known(side_mix.fermented.clone(), |share| {
                let what = Subject::from(Topic::FermentedFlour).inside(&side_mix.shown);
                Reason::given(what, share, ValueKind::Share, Ground::OwnFerments)
            })
        }
        _ => return None,
    };
    Some(T::product(|| Subject::By(line.name.clone()), ValueKind::Mass, [own(Within::All), part]))
}

/// Why so much fermented flour goes on from a stage.
fn in_stage(origin: &Origin, line: &WorkedLine, stage: usize, by_stage: &[Exact]) -> Reason {
    let declared = &origin.worked.formula.stages[stage];
    if declared.kind.ferments() {
        let is_it = |id: IngredientId| origin.class_of(id) == Class::Flour;
        return origin.going_on(
            &IngredientQuery { word: Subject::named(Class::Flour.word()), is_it: &is_it },
            stage,
        );
    }
    // What a soaker or a scald holds of a ferment.
    let lines = origin.numbers.stages[stage].lines.iter();
    let parts = lines.filter_map(|line| brought(origin, line, Some(&declared.mix), by_stage));
    Reason::sum_of(Subject::from(Topic::FermentedFlour).inside(&line.name), parts.collect())
}

/// The flour of old dough that goes into the dough; none where there is no dough.
fn by_old_dough<T: Term>(origin: &Origin, line: &WorkedLine, mix: Option<&Mix>) -> Option<T> {
    let whole = &origin.numbers.whole;
    let share = T::known(origin.worked.flour(whole).over(&whole.mass())?, |share| {
        let what = Subject::InFinishedDough(Box::new(Topic::Flour.into()));
        Reason::given(what, share, ValueKind::Share, Ground::FromTheFinishedDough)
    });
    let own = T::known(line.mass.clone(), |_| origin.line(line, mix, Within::All));
    Some(T::product(|| Subject::By(line.name.clone()), ValueKind::Mass, [own, share]))
}
