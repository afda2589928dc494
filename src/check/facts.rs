//! What a formula says in numbers, for texts to be held against.

use super::Context;
use crate::formula::{Figure, Goes, Ingredient, Numbers, Within, WorkedLine, all_mixes};
use crate::quantity::{Dimension, Exact, int};
use crate::syntax::tree::{
    Amount, ClaimValue, Extent, Phase, Size, Stage, Step, Target, Until, Verb, Wait, With,
};
use ecow::EcoString;

/// A value, or a range, of something.
#[derive(Clone, Debug)]
pub struct Fact {
    pub of: Of,
    pub low: Exact,
    pub high: Exact,
}

/// What a fact is of.
#[derive(Clone, Debug, PartialEq)]
pub enum Of {
    /// An ingredient, a stage or a side mix, by the key of its name.
    Name(EcoString),
    /// A figure (`hydration`), a verb (`bake`) or a thing (`oven`), as tables of words
    /// call it.
    Word(&'static str),
    Anything,
}

impl Fact {
    fn new(of: Of, value: Exact) -> Self {
        Self { of, low: value.clone(), high: value }
    }
}

/// Weights, shares, times, temperatures and counts of a formula.
pub struct Facts {
    pub weights: Vec<Fact>,
    pub shares: Vec<Fact>,
    pub times: Vec<Fact>,
    pub temperatures: Vec<Fact>,
    pub folds: Vec<Fact>,
    pub pieces: Vec<Fact>,
}

impl Facts {
    pub fn of(context: &Context) -> Self {
        let mut facts = Self {
            weights: Vec::new(),
            shares: Vec::new(),
            times: Vec::new(),
            temperatures: Vec::new(),
            folds: Vec::new(),
            pieces: Vec::new(),
        };
        for numbers in &context.worked.choices {
            facts.add_weights(context, numbers);
            facts.add_shares(context, numbers);
            facts.add_pieces(context, numbers);
        }
        facts.add_parts(context);
        facts.add_figures(context);
        facts.add_written(context);
        facts.add_steps(context);
        facts.add_stages(context);
        facts
    }

    fn add_weights(&mut self, context: &Context, numbers: &Numbers) {
        let batches = Exact::from(context.batches());
        let mut weigh = |of: Of, grams: &Exact| self.weights.push(Fact::new(of, grams.clone()));
        let dough = numbers.whole.mass();
        for whole in [&dough, &context.worked.flour(&numbers.whole)] {
            weigh(Of::Anything, whole);
            weigh(Of::Anything, &(whole / &batches));
        }
        for stage in &numbers.stages {
            weigh(Of::Anything, &stage.made);
            weigh(Of::Anything, &stage.goes_on.mass());
            weigh(Of::Anything, &stage.saved);
        }
        for piece in &numbers.pieces {
            let one = &piece.made.weight;
            weigh(Of::Word("piece"), one);
            weigh(Of::Anything, &(one * &piece.made.count));
            for eaten in
                piece.made.baked().into_iter().chain(context.worked.as_eaten(numbers, piece))
            {
                weigh(Of::Word("piece"), &eaten);
            }
            for line in &piece.lines {
                weigh(Of::Name(line.key.clone()), &line.mass);
                weigh(Of::Name(line.key.clone()), &(&line.mass * &piece.made.count));
            }
        }
        for (id, grams) in ingredients_in(numbers) {
            let name = &context.house.ingredient(id).name.key;
            weigh(Of::Name(name.clone()), grams);
            weigh(Of::Name(name.clone()), &(grams / &batches));
        }
        for line in lines_of(numbers) {
            let more = &line.mass + &line.more;
            let of = Of::Name(line.key.clone());
            self.weights.push(Fact { of: of.clone(), low: line.mass.clone(), high: more.clone() });
            let (low, high) = (&line.mass / &batches, more / &batches);
            self.weights.push(Fact { of, low, high });
        }
    }

    /// What steps take of a line, and what they leave for another.
    fn add_parts(&mut self, context: &Context) {
        let worked = context.worked;
        let formula = &worked.formula;
        let stages = formula.stages.iter().enumerate();
        let stages = stages.filter_map(|(index, stage)| {
            stage.method.as_ref().map(|method| (method, Within::Stage(index)))
        });
        let batches = Exact::from(context.batches());
        let own = formula.method.iter().map(|method| (method, Within::FinalDough));
        for (method, within) in stages.chain(own) {
            let added = worked.additions(method, within);
            for part in added.steps.iter().flatten().filter(|added| added.part) {
                let of = Of::Name(part.line.key.clone());
                let grams = &part.line.mass * &part.share;
                self.shares.push(Fact::new(of.clone(), part.share.clone()));
                self.weights.push(Fact::new(of.clone(), &grams / &batches));
                self.weights.push(Fact::new(of, grams));
            }
        }
    }

    fn add_shares(&mut self, context: &Context, numbers: &Numbers) {
        let flour = context.worked.flour(&numbers.whole);
        let dough = numbers.whole.mass();
        let mixes = numbers.stages.iter().map(|stage| (&stage.lines, &stage.basis, &stage.made));
        let added = context.worked.added_flour(numbers);
        let own = [(&numbers.dough_lines, &added, &dough), (&numbers.total_lines, &flour, &dough)];
        for (lines, basis, made) in mixes.chain(own) {
            for line in lines {
                for base in [basis, made, &flour, &dough] {
                    if !base.is_zero() {
                        let of = Of::Name(line.key.clone());
                        self.shares.push(Fact::new(of, &line.mass / base));
                    }
                }
            }
        }
        for (id, grams) in ingredients_in(numbers) {
            let name = &context.house.ingredient(id).name.key;
            for base in [&flour, &dough].into_iter().filter(|base| !base.is_zero()) {
                self.shares.push(Fact::new(Of::Name(name.clone()), grams / base));
            }
        }
        self.shares.push(Fact::new(Of::Anything, Exact::ONE));
    }

    /// Figures that are shares, of the whole and of stages.
    fn add_figures(&mut self, context: &Context) {
        let worked = context.worked;
        let wanted = [
            (Figure::Hydration, "hydration"),
            (Figure::Liquids, "hydration"),
            (Figure::EffectiveHydration, "hydration"),
            (Figure::TrueHydration, "hydration"),
            (Figure::PrefermentedFlour, "prefermented"),
            (Figure::BakeLoss, "loss"),
            (Figure::MakeUpLoss, "loss"),
            (Figure::SaltAsEaten, "salt"),
            (Figure::TotalPercentage, "total"),
            (Figure::YeastAsFresh, "yeast"),
        ];
        let stages = (0..worked.formula.stages.len()).map(Within::Stage);
        for within in std::iter::once(Within::All).chain(stages) {
            for (figure, word) in &wanted {
                let values = worked.figure(figure, within).unwrap_or_default();
                let facts = values.into_iter().map(|it| Fact::new(Of::Word(word), it.amount));
                self.shares.extend(facts);
            }
        }
        for numbers in &worked.choices {
            let added = worked.added_hydration(numbers);
            self.shares.extend(added.map(|share| Fact::new(Of::Word("hydration"), share)));
        }
    }

    /// Percentages and weights as they are written: lines, sizes, claims, shares in steps.
    fn add_written(&mut self, context: &Context) {
        let formula = &context.worked.formula;
        for line in all_mixes(formula).flat_map(|mix| &mix.lines) {
            if let Amount::Measured { range, .. } = &line.amount {
                self.add_extent(context, Of::Name(line.target.name.key.clone()), range);
            }
        }
        for size in formula.stages.iter().flat_map(|stage| &stage.sizes) {
            if let Size::OfFlour(range) | Size::Weighs(range) = &size.size {
                self.add_extent(context, Of::Word("prefermented"), range);
            }
        }
        for claim in &formula.expect {
            if let ClaimValue::Amount { range, .. } = &claim.value {
                self.add_extent(context, Of::Name(claim.what.name.key.clone()), range);
            }
        }
        let phases = context.steps().flat_map(|step| &step.phases);
        for with in phases.flat_map(|phase| &phase.with) {
            if let With::Share(share, target) = with {
                let (share, of) = (context.base(share), name_of(target));
                self.shares.push(Fact::new(of.clone(), Exact::ONE - &share));
                self.shares.push(Fact::new(of, share));
            }
        }
        for loss in [&formula.bake_loss, &formula.make_up_loss].into_iter().flatten() {
            self.shares.push(Fact::new(Of::Word("loss"), context.base(loss)));
        }
    }

    fn add_extent(&mut self, context: &Context, of: Of, extent: &Extent) {
        let unit = extent.low.as_ref().or(extent.high.as_ref()).map(|end| end.unit.dimension());
        let Some(fact) = fact_of(context, of, extent) else { return };
        match unit {
            Some(Dimension::Share) => self.shares.push(fact),
            Some(Dimension::Mass) => self.weights.push(fact),
            _ => {}
        }
    }

    fn add_pieces(&mut self, context: &Context, numbers: &Numbers) {
        let batches = Exact::from(context.batches());
        let mut all = Exact::ZERO;
        for piece in numbers.pieces.iter().chain(&context.worked.usual_pieces) {
            let made = &piece.made;
            self.pieces.push(Fact::new(Of::Name(made.key.clone()), made.count.clone()));
            self.pieces.push(Fact::new(Of::Name(made.key.clone()), &made.count / &batches));
            all += made.count.clone();
        }
        if !numbers.pieces.is_empty() {
            self.pieces.push(Fact::new(Of::Anything, &all / &batches));
            self.pieces.push(Fact::new(Of::Anything, all));
        }
    }

    fn add_steps(&mut self, context: &Context) {
        for step in context.steps() {
            let word = word_of(step.verb);
            let times: Vec<Fact> = step
                .phases
                .iter()
                .filter_map(|phase| fact_of(context, Of::Word(word), phase.duration.as_deref()?))
                .collect();
            self.times.extend(sum_of(word, &times));
            self.times.extend(times);
            for phase in &step.phases {
                self.add_phase(context, step, phase);
            }
        }
        self.folds.extend(sum_of("fold", &self.folds));
        // Two mixes are one in a sentence.
        for (_, verb) in Verb::ALL {
            let word = word_of(verb);
            let steps = context.steps().filter(|step| step.verb == verb);
            let each = steps
                .flat_map(|step| &step.phases)
                .filter_map(|phase| fact_of(context, Of::Word(word), phase.duration.as_deref()?));
            self.times.extend(sum_of(word, &each.collect::<Vec<_>>()));
        }
    }

    fn add_phase(&mut self, context: &Context, step: &Step, phase: &Phase) {
        let verb = word_of(step.verb);
        let mut warm = |word: &'static str, extent: Option<&Extent>| {
            let fact = extent.and_then(|extent| fact_of(context, Of::Word(word), extent));
            self.temperatures.extend(fact);
        };
        let (at, to) = (phase.at.as_deref(), phase.to.as_deref());
        warm(verb, at);
        warm(verb, to);
        warm("dough", to);
        match step.verb {
            Verb::Bake | Verb::Steam | Verb::Fry => warm("oven", at),
            Verb::Bulk | Verb::Rest | Verb::Mix | Verb::Autolyse => warm("dough", at),
            _ => {}
        }
        for until in &phase.until {
            if let Until::Core(core) = until {
                self.temperatures.push(Fact::new(Of::Word("core"), context.base(core)));
            }
        }
        if let Some(fold) = &phase.fold {
            let times = Exact::from(fold.times.unwrap_or(1));
            self.folds.push(Fact::new(Of::Anything, times));
            let every = fold.every.as_ref();
            self.times.extend(every.and_then(|every| fact_of(context, Of::Word("fold"), every)));
        }
    }

    fn add_stages(&mut self, context: &Context) {
        for stage in &context.worked.formula.stages {
            self.add_waits(context, stage);
        }
    }

    fn add_waits(&mut self, context: &Context, stage: &Stage) {
        let legs = |waits: &[Wait]| -> Vec<Fact> {
            let times = waits.iter().filter_map(|wait| wait.time.as_ref());
            times.filter_map(|time| fact_of(context, Of::Word("ripen"), time)).collect()
        };
        for waits in [&stage.ripens, &stage.keeps, &stage.stands] {
            let times = legs(waits);
            self.times.extend(sum_of("ripen", &times));
            for mut soaks in times {
                self.times.push(soaks.clone());
                soaks.of = Of::Word("soak");
                self.times.push(soaks);
            }
            for at in waits.iter().filter_map(|wait| wait.at.as_ref()) {
                for word in ["levain", "ripen", "soak"] {
                    self.temperatures.extend(fact_of(context, Of::Word(word), at));
                }
            }
        }
    }
}

/// How tables of words call what a step does.
pub fn word_of(verb: Verb) -> &'static str {
    match verb {
        Verb::Retard => "proof",
        verb => verb.word(),
    }
}

fn name_of(target: &Target) -> Of {
    Of::Name(target.name.key.clone())
}

/// The range that is written; one end stands for both where the other is open.
fn fact_of(context: &Context, of: Of, extent: &Extent) -> Option<Fact> {
    let range = context.range(extent);
    let low = range.low.clone().or_else(|| range.high.clone())?;
    let high = match (range.high, extent.ranged) {
        (Some(high), _) => high,
        (None, true) => &low * int(100),
        (None, false) => low.clone(),
    };
    Some(Fact { of, low, high })
}

fn sum_of(word: &'static str, facts: &[Fact]) -> Option<Fact> {
    if facts.len() < 2 {
        return None;
    }
    let sum = |end: fn(&Fact) -> &Exact| facts.iter().fold(Exact::ZERO, |sum, it| sum + end(it));
    Some(Fact { of: Of::Word(word), low: sum(|it| &it.low), high: sum(|it| &it.high) })
}

fn lines_of(numbers: &Numbers) -> impl Iterator<Item = &WorkedLine> {
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    stages.chain(&numbers.dough_lines).chain(&numbers.total_lines)
}

fn ingredients_in(
    numbers: &Numbers,
) -> impl Iterator<Item = (crate::formula::IngredientId, &Exact)> {
    numbers.whole.iter().filter_map(|(substance, grams)| match substance {
        crate::formula::Substance::Ingredient(id) => Some((id, grams)),
        _ => None,
    })
}

/// The ingredient that a line's name means.
pub fn ingredient_of<'h>(context: &Context<'h, '_>, name: &str) -> Option<&'h Ingredient> {
    context.house.ingredient_named(name)
}

/// Whether some line of the formula is a stage, a culture or a side mix of this name.
pub fn is_mixed(context: &Context, name: &str) -> bool {
    let lines = lines_of(context.first());
    let pieces = context.first().pieces.iter().flat_map(|piece| &piece.lines);
    lines.chain(pieces).any(|line| line.key == name && !matches!(line.goes, Goes::Ingredient(_)))
}
