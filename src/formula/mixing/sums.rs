//! The lines of one mix as sums.

use super::forms::{MixForms, MixPlace, Scope};
use super::meaning::Mixing;
use crate::formula::class::Class;
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::LinearExpr;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, Base, Counting, Line, Mix, Size, Target};

impl<'a> Mixing<'a, '_> {
    /// The masses of a mix's lines as forms.
    pub fn mix(&mut self, scope: &mut Scope, mix: &'a Mix, place: MixPlace) -> MixForms {
        let of_total = matches!(place, MixPlace::Stage(stage) if self.stage(stage).sizes.iter().any(|size| matches!(size.size, Size::OfTotal)));
        let basis_lines = self.basis_lines(mix, place);
        // Where a line is a percentage of others, those that take a stage whole stand for
        // themselves until the stage has its size.
        let is_base = |line: &Line| match &line.amount {
            Amount::Measured { base, .. } => {
                matches!(base.as_deref(), Some(Base::BaseDough | Base::Of(_)))
            }
            _ => false,
        };
        let has_base = mix.lines.iter().any(is_base);
        let mut basis: Option<LinearExpr> = None;
        let mut part: Option<LinearExpr> = None;
        let mut masses = Vec::with_capacity(mix.lines.len());
        let mut waiting = Vec::new();
        let mut settled = true;
        for (index, line) in mix.lines.iter().enumerate() {
            let mut own_share = false;
            let mass = match &line.amount {
                Amount::ToTaste | Amount::AsNeeded | Amount::Pinch => LinearExpr::default(),
                Amount::All if has_base && matches!(self.goes(&line.target), LineRef::Stage(_)) => {
                    LinearExpr::unknown(scope.system.new_unknown())
                }
                Amount::All => LinearExpr::default(),
                Amount::Rest => {
                    basis.get_or_insert_with(|| own_basis(scope, place));
                    LinearExpr::unknown(scope.system.new_unknown())
                }
                Amount::Measured { range, base } => match self.chosen(range) {
                    None => LinearExpr::default(),
                    Some(quantity) => match (quantity.unit.dimension(), base.as_deref()) {
                        // As the lines of the total are: of the flour that it lists.
                        (Dimension::Share, None) if of_total => {
                            let listed = match self.formula.total.is_some() {
                                true => scope.main(),
                                false => scope.flour(),
                            };
                            listed.times(&self.worth(quantity))
                        }
                        (Dimension::Share, None) => {
                            own_share = true;
                            let basis = basis.get_or_insert_with(|| own_basis(scope, place));
                            basis.times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::Flour)) => {
                            scope.flour().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::AddedFlour)) => {
                            scope.main().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::Dough)) => {
                            scope.whole().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(base)) => {
                            let own = LinearExpr::unknown(scope.system.new_unknown());
                            waiting.push((index, self.worth(quantity), base, own.clone()));
                            own
                        }
                        (Dimension::Part, _) => {
                            let part = part.get_or_insert_with(|| {
                                LinearExpr::unknown(scope.system.new_unknown())
                            });
                            part.times(&quantity.number)
                        }
                        _ => LinearExpr::constant(self.weigh(quantity, line)),
                    },
                },
            };
            settled &= own_share || !basis_lines.contains(&index);
            masses.push(mass);
        }
        if place == MixPlace::Main
            && let Some(asked) = scope.main_if_asked()
        {
            basis.get_or_insert(asked);
        }
        let basis_sum =
            basis_lines.iter().fold(LinearExpr::default(), |sum, &index| sum.plus(&masses[index]));
        if let Some(basis) = &basis {
            if basis_lines.is_empty() {
                self.findings.push(say::percentage_of_nothing::percent_of_nothing(
                    mix,
                    place == MixPlace::Main,
                ));
            } else if !settled {
                scope.system.demand(basis_sum.clone().minus(basis));
            }
        }
        for (index, share, base, own) in waiting {
            let others = self.base_lines(mix, base, index, place);
            let sum =
                others.iter().fold(LinearExpr::default(), |sum, &other| sum.plus(&masses[other]));
            if others.is_empty() {
                self.findings.push(say::percentage_of_nothing::base_missing(&mix.lines[index]));
            }
            scope.system.demand(sum.times(&share).minus(&own));
        }
        let mut forms =
            MixForms { masses, basis: basis.unwrap_or(basis_sum), ..MixForms::default() };
        self.put_together(&mut forms, mix, place);
        forms
    }

    /// The lines that per cent are of: flour, else grain and seed.
    fn basis_lines(&self, mix: &Mix, place: MixPlace) -> Vec<usize> {
        let of = |wanted: &[Class]| -> Vec<usize> {
            let is_wanted =
                |line: &Line| self.class_of(line).is_some_and(|class| wanted.contains(&class));
            (0..mix.lines.len()).filter(|&index| is_wanted(&mix.lines[index])).collect()
        };
        let flour = of(&[Class::Flour]);
        if flour.is_empty() && place != MixPlace::Main {
            of(&[Class::Grain, Class::Seed])
        } else {
            flour
        }
    }

    /// The lines that a percentage `of NAME` or `of base dough` is of.
    pub fn base_lines(&self, mix: &Mix, base: &Base, own: usize, place: MixPlace) -> Vec<usize> {
        let others = (0..mix.lines.len()).filter(|&index| index != own);
        match base {
            Base::Of(target) => {
                let wanted = self.goes(target);
                let role = |target: &Target| target.role.as_ref().map(|role| role.key.clone());
                let named: Vec<usize> = others
                    .filter(|&index| {
                        let other = &mix.lines[index].target;
                        // Two names of one ingredient are the same line.
                        other.name.key == target.name.key
                            || (wanted != LineRef::Nothing && self.goes(other) == wanted)
                    })
                    .collect();
                let same_role = named.iter().copied();
                let exact: Vec<usize> = same_role
                    .filter(|&index| role(&mix.lines[index].target) == role(target))
                    .collect();
                if exact.is_empty() { named } else { exact }
            }
            _ => {
                // In a total a line for a stage says how large it is; what is in it stands
                // on the other lines.
                let in_total = place == MixPlace::Main && self.formula.total.is_some();
                let is_stage =
                    |index: usize| matches!(self.goes(&mix.lines[index].target), LineRef::Stage(_));
                others.filter(|&index| !(in_total && is_stage(index))).collect()
            }
        }
    }

    /// Adds up what is made and what goes on.
    pub(super) fn put_together(&mut self, forms: &mut MixForms, mix: &Mix, place: MixPlace) {
        let one = Exact::ONE;
        let mut made = LinearExpr::default();
        let mut goes_on: Composition<LinearExpr> = Composition::default();
        let mut from_cultures: Composition<LinearExpr> = Composition::default();
        let add = |content: &mut Composition<LinearExpr>, substance, mass: LinearExpr| {
            content.add_with(substance, mass, |old, mass| old.add(&mass, &one));
        };
        for (line, mass) in mix.lines.iter().zip(&forms.masses) {
            made.add(mass, &one);
            match self.goes(&line.target) {
                LineRef::Nothing => {}
                LineRef::Ingredient(id) => {
                    add(&mut goes_on, Substance::Ingredient(id), mass.clone())
                }
                LineRef::OldDough => match &self.old_dough {
                    None => add(&mut goes_on, Substance::OldDough, mass.clone()),
                    Some(per_gram) => {
                        for (substance, share) in per_gram.iter() {
                            add(&mut goes_on, substance, mass.times(share));
                        }
                    }
                },
                LineRef::Culture(id) => match &line.counting {
                    Counting::KeptBack { from } => {
                        if self.kept_from_later(from.as_ref(), place) {
                            add(&mut goes_on, Substance::Kept(id), mass.clone());
                        }
                    }
                    Counting::NotSplit => add(&mut goes_on, Substance::Whole(id), mass.clone()),
                    Counting::Counted => {
                        for (substance, share) in self.house.culture(id).per_gram.iter() {
                            add(&mut goes_on, substance, mass.times(share));
                            add(&mut from_cultures, substance, mass.times(share));
                        }
                    }
                },
                LineRef::SideMix(side_mix) => {
                    for (substance, share) in self.side_mixes[side_mix].per_gram.iter() {
                        add(&mut goes_on, substance, mass.times(share));
                    }
                }
                // What goes in whole is put in once it has its size.
                LineRef::Stage(_) if matches!(line.amount, Amount::All) => {}
                LineRef::Stage(stage) => {
                    let Some(make_up) = self.make_ups.get(stage).and_then(Option::as_ref) else {
                        continue;
                    };
                    for (substance, share) in make_up.content.iter() {
                        add(&mut goes_on, substance, mass.times(share));
                    }
                    for (substance, share) in make_up.from_cultures.iter() {
                        add(&mut from_cultures, substance, mass.times(share));
                    }
                }
            }
        }
        forms.made = made;
        forms.goes_on = goes_on;
        forms.from_cultures = from_cultures;
    }

    /// Takes out what is kept back from this stage and the water that boils away.
    pub fn take_out(&self, forms: &mut MixForms, stage: usize) {
        let own = &self.stage(stage).name.key;
        let kept_here = self.formula.stages.iter().flat_map(|stage| &stage.mix.lines);
        let kept_here: Vec<LineRef> = kept_here
            .filter(|line| matches!(&line.counting, Counting::KeptBack { from: Some(from) } if from.key == *own))
            .map(|line| self.goes(&line.target))
            .collect();
        forms.goes_on.retain(|substance| match substance {
            Substance::Kept(id) => !kept_here.contains(&LineRef::Culture(id)),
            _ => true,
        });
        if let Some(loses) = &self.stage(stage).loses {
            let lost = forms.made.times(&-self.worth(loses));
            if let Some(water) = self.water_of(&forms.goes_on) {
                forms.goes_on.add_with(water, lost, |old, lost| old.add(&lost, &Exact::ONE));
            }
        }
    }
}

fn own_basis(scope: &mut Scope, place: MixPlace) -> LinearExpr {
    match place {
        MixPlace::Main => scope.main(),
        _ => LinearExpr::unknown(scope.system.new_unknown()),
    }
}
