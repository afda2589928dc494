//! What a gram of a mix holds, where that does not depend on how much of it is made.

use super::forms::{MakeUp, MixForms, MixPlace, Scope};
use super::meaning::Mixing;
use crate::formula::composition::{Composition, Substance};
use crate::formula::findings as say;
use crate::formula::limits::MAX_FEEDS;
use crate::formula::line_ref::LineRef;
use crate::formula::linear::{LinearExpr, Solution};
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Counting, Line, Mixture};

impl<'a> Mixing<'a, '_> {
    /// The make-up of a stage, when it does not depend on how much is made.
    pub fn make_up(&mut self, stage: usize) -> Option<MakeUp> {
        let mix = &self.stage(stage).mix;
        // What another stage brings depends on its size where all of it goes in, or where
        // its own make-up does.
        let hangs = |line: &Line| match self.goes(&line.target) {
            LineRef::Stage(inner) => {
                matches!(line.amount, Amount::All) || self.make_ups[inner].is_none()
            }
            _ => false,
        };
        if mix.lines.iter().any(hangs) {
            return None;
        }
        let feeds = self.stage(stage).feeds.map_or(1, |(feeds, _)| feeds);
        let seed = self.make_up_after(stage, feeds.saturating_sub(1));
        let mut scope = Scope::default();
        let mut forms = self.mix(&mut scope, mix, MixPlace::Stage(stage));
        self.take_out(&mut forms, stage);
        if let Some(seed) = &seed {
            self.reseed(&mut forms, stage, seed);
        }
        by_gram(&scope, &forms)
    }

    /// The make-up of a stage after so many feeds before its last: what it takes of other
    /// stages is in none of them.
    pub fn make_up_after(&mut self, stage: usize, feeds: u32) -> Option<MakeUp> {
        let mix = &self.stage(stage).mix;
        let place = MixPlace::Stage(stage);
        let mut seed: Option<MakeUp> = None;
        for _ in 0..feeds.min(MAX_FEEDS) {
            let mut scope = Scope::default();
            let mut forms = self.mix(&mut scope, mix, place);
            for (line, mass) in mix.lines.iter().zip(&mut forms.masses) {
                if matches!(self.goes(&line.target), LineRef::Stage(_)) {
                    *mass = LinearExpr::default();
                }
            }
            self.put_together(&mut forms, mix, place);
            self.take_out(&mut forms, stage);
            if let Some(seed) = &seed {
                self.reseed(&mut forms, stage, seed);
            }
            seed = Some(by_gram(&scope, &forms)?);
        }
        seed
    }

    /// Puts the feed before in the place of the culture. A culture that is kept back from
    /// this very stage is a part of it already, whatever the number of feeds.
    pub fn reseed(&self, forms: &mut MixForms, stage: usize, seed: &MakeUp) {
        let one = Exact::ONE;
        let add = |content: &mut Composition<LinearExpr>, substance, mass: LinearExpr| {
            content.add_with(substance, mass, |old, mass| old.add(&mass, &one));
        };
        let lines = &self.stage(stage).mix.lines;
        for (line, mass) in lines.iter().zip(&forms.masses) {
            let LineRef::Culture(id) = self.goes(&line.target) else { continue };
            match &line.counting {
                Counting::KeptBack { from }
                    if !self.kept_from_later(from.as_ref(), MixPlace::Stage(stage)) =>
                {
                    continue;
                }
                Counting::KeptBack { .. } => {
                    add(&mut forms.goes_on, Substance::Kept(id), mass.times(&-one.clone()));
                }
                Counting::NotSplit => {
                    add(&mut forms.goes_on, Substance::Whole(id), mass.times(&-one.clone()));
                }
                Counting::Counted => {
                    for (substance, share) in self.house.culture(id).per_gram.iter() {
                        add(&mut forms.goes_on, substance, mass.times(&-share));
                        add(&mut forms.from_cultures, substance, mass.times(&-share));
                    }
                }
            }
            let own: Vec<LineRef> = lines.iter().map(|line| self.goes(&line.target)).collect();
            for (substance, share) in seed.content.iter() {
                add(&mut forms.goes_on, substance, mass.times(share));
                // What no line of the feed brings came with the culture.
                let from_line = match substance {
                    Substance::Ingredient(id) => own.contains(&LineRef::Ingredient(id)),
                    _ => true,
                };
                if !from_line {
                    add(&mut forms.from_cultures, substance, mass.times(share));
                }
            }
        }
    }

    /// The make-up of a side mix by gram, the share of each line, and its grams where its
    /// lines are weights.
    pub fn mixture(&mut self, mixture: &'a Mixture) -> (Composition, Vec<Exact>, Exact) {
        let said = self.findings.len();
        let mut scope = Scope::default();
        let forms = self.mix(&mut scope, &mixture.mix, MixPlace::Aside);
        let all_weights = forms.made.is_constant();
        let own_mass = if all_weights { forms.made.constant.clone() } else { Exact::ZERO };
        if mixture.mix.lines.is_empty() {
            self.findings.push(say::empty_mix::empty(&mixture.name));
        }
        for line in &mixture.mix.lines {
            if matches!(self.goes(&line.target), LineRef::Stage(_)) {
                let why = "a mixture is made beside the dough and takes nothing from a stage";
                self.findings.push(say::amount_unclear::meaningless(line, why));
            }
        }
        let by_gram = by_gram(&scope, &forms).map(|make_up| make_up.content);
        if by_gram.is_none() && self.findings.len() == said && !forms.goes_on_mass().is_zero() {
            self.findings.push(say::composition_depends_on_size::hangs_on_size(&mixture.name));
        }
        let shares = line_shares(&scope, &forms).unwrap_or_default();
        (by_gram.unwrap_or_default(), shares, own_mass)
    }
}

/// The make-up of a mix by the equations so far; none where it depends on how much is made,
/// as where weights and percentages stand side by side.
pub fn by_gram(scope: &Scope, forms: &MixForms) -> Option<MakeUp> {
    let (solution, mass) = settled(scope, forms)?;
    let share = Exact::ONE.over(&mass)?;
    let one_gram = |forms: &Composition<LinearExpr>| {
        let mut content = Composition::from_forms(forms, &solution.values);
        content.scale(&share);
        content
    };
    Some(MakeUp {
        content: one_gram(&forms.goes_on),
        from_cultures: one_gram(&forms.from_cultures),
    })
}

/// What each line of a mix is of a gram of it, where its make-up can be told.
fn line_shares(scope: &Scope, forms: &MixForms) -> Option<Vec<Exact>> {
    let (solution, mass) = settled(scope, forms)?;
    let settles = forms.masses.iter().all(|line| solution.settles(line));
    let share = Exact::ONE.over(&mass).filter(|_| settles)?;
    Some(forms.masses.iter().map(|line| line.value(&solution.values) * &share).collect())
}

/// A solution in which the make-up of a mix holds, and the mass that it gives the mix.
fn settled(scope: &Scope, forms: &MixForms) -> Option<(Solution, Exact)> {
    let whole = forms.goes_on_mass();
    let all = || forms.goes_on.iter().chain(forms.from_cultures.iter());
    let mut solution = scope.system.solve();
    if !solution.settles(&whole) {
        if all().any(|(_, mass)| !mass.value(&solution.values).is_zero()) {
            return None;
        }
        // Its masses grow together from nothing, so any size tells its make-up.
        solution.demand(&whole.clone().minus(&LinearExpr::constant(Exact::ONE)));
    }
    let mass = whole.value(&solution.values);
    if mass.is_zero() || !all().all(|(_, mass)| solution.settles(mass)) {
        return None;
    }
    Some((solution, mass))
}
