//! What a formula says in numbers, for texts to be held against.

use super::context::Context;
use crate::formula::{Figure, Ingredient, LineRef, Numbers, Within, WorkedLine, all_mixes};
use crate::quantity::{Dimension, Exact, int};
use crate::syntax::tree::{
    Amount, ClaimValue, Extent, Phase, Size, Stage, Step, Target, Until, Verb, Wait, With,
};
use ecow::EcoString;
use std::cell::OnceCell;

/// A value, or a range, of something.
#[derive(Clone, Debug)]
pub struct Fact {
    /// What it is of.
    pub of: Of,
    /// The least that it is, in the base unit of its dimension.
    pub low: Exact,
    /// The most that it is.
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
    /// Whatever the sentence is about.
    Anything,
}

impl Fact {
    fn new(of: Of, value: Exact) -> Self {
        Self { of, low: value.clone(), high: value }
    }
}

/// Weights, shares, times, temperatures and counts of a formula, each worked out when a
/// text first has a number of that kind.
pub struct Facts<'a, 'c, 't> {
    /// The formula that they are of.
    pub context: &'a Context<'c, 't>,
    weights: OnceCell<Vec<Fact>>,
    shares: OnceCell<Vec<Fact>>,
    steps: OnceCell<Times>,
    pieces: OnceCell<Vec<Fact>>,
    elapsed: OnceCell<Option<Fact>>,
}

/// What the method and the stages say in times, warmth and folds.
#[derive(Default)]
struct Times {
    times: Vec<Fact>,
    temperatures: Vec<Fact>,
    folds: Vec<Fact>,
}

impl<'a, 'c, 't> Facts<'a, 'c, 't> {
    /// No fact is worked out before it is asked for.
    pub fn of(context: &'a Context<'c, 't>) -> Self {
        Self {
            context,
            weights: OnceCell::new(),
            shares: OnceCell::new(),
            steps: OnceCell::new(),
            pieces: OnceCell::new(),
            elapsed: OnceCell::new(),
        }
    }

    /// Weights, in grams.
    pub fn weights(&self) -> &[Fact] {
        self.weights.get_or_init(|| {
            let context = self.context;
            let mut facts = Vec::new();
            context.worked.choices.iter().for_each(|it| add_weights(&mut facts, context, it));
            add_parts(context, |_, of, _, grams| facts.push(Fact::new(of, grams)));
            facts.extend(written(context, Dimension::Mass));
            facts
        })
    }

    /// Percentages and figures, as shares.
    pub fn shares(&self) -> &[Fact] {
        self.shares.get_or_init(|| {
            let context = self.context;
            let mut facts = Vec::new();
            context.worked.choices.iter().for_each(|it| add_shares(&mut facts, context, it));
            add_parts(context, |_, of, share, _| facts.push(Fact::new(of, share)));
            add_figures(&mut facts, context);
            facts.extend(written(context, Dimension::Share));
            add_written_shares(&mut facts, context);
            facts
        })
    }

    /// What steps take of a line and leave for another, as shares of all of it.
    pub fn parts(&self) -> Vec<Fact> {
        let mut facts = Vec::new();
        add_parts(self.context, |_, of, share, _| facts.push(Fact::new(of, share)));
        facts
    }

    /// The same of the method of one mix: what of, which share, and how many grams.
    pub fn parts_in(&self, place: Within) -> Vec<(Of, Exact, Exact)> {
        let mut all = Vec::new();
        add_parts(self.context, |within, of, share, grams| {
            if within == place {
                all.push((of, share, grams));
            }
        });
        all
    }

    /// Numbers of pieces, and what one weighs in grams.
    pub fn pieces(&self) -> &[Fact] {
        self.pieces.get_or_init(|| {
            let mut facts = Vec::new();
            let choices = self.context.worked.choices.iter();
            choices.for_each(|it| add_pieces(&mut facts, self.context, it));
            facts
        })
    }

    /// From the first step to the last; whoever says when bread is ready may leave out that
    /// it cools.
    pub fn elapsed(&self) -> Option<&Fact> {
        let worked_out = || {
            let length = self.context.length(&Figure::Elapsed)?;
            let cooling = self.times().iter().filter(|fact| fact.of == Of::Word("cool"));
            let cooling = cooling.map(|fact| &fact.high).max().cloned().unwrap_or_default();
            let low = (&length.low - cooling).max(Exact::ZERO);
            Some(Fact { of: Of::Anything, low, high: length.high? })
        };
        self.elapsed.get_or_init(worked_out).as_ref()
    }

    /// Lengths of steps and waits, in minutes.
    pub fn times(&self) -> &[Fact] {
        &self.steps().times
    }

    /// Temperatures of steps and stages, in °C.
    pub fn temperatures(&self) -> &[Fact] {
        &self.steps().temperatures
    }

    /// How often the dough is folded.
    pub fn folds(&self) -> &[Fact] {
        &self.steps().folds
    }

    fn steps(&self) -> &Times {
        self.steps.get_or_init(|| {
            let mut facts = Times::default();
            facts.add_steps(self.context);
            facts.add_stages(self.context);
            facts
        })
    }
}

fn add_weights(facts: &mut Vec<Fact>, context: &Context, numbers: &Numbers) {
    let batches = Exact::from(context.batches());
    let mut weigh = |of: Of, grams: &Exact| facts.push(Fact::new(of, grams.clone()));
    let dough = numbers.whole.mass();
    for whole in [&dough, &context.worked.flour(&numbers.whole)] {
        weigh(Of::Anything, whole);
        weigh(Of::Anything, &whole.each_of(&batches));
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
        for eaten in piece.made.baked().into_iter().chain(context.worked.as_eaten(numbers, piece)) {
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
        weigh(Of::Name(name.clone()), &grams.each_of(&batches));
    }
    for line in lines_of(numbers) {
        let more = &line.mass + &line.more;
        let of = Of::Name(line.key.clone());
        facts.push(Fact { of: of.clone(), low: line.mass.clone(), high: more.clone() });
        let (low, high) = (line.mass.each_of(&batches), more.each_of(&batches));
        facts.push(Fact { of, low, high });
    }
}

/// What steps take of a line, and what they leave for another.
fn add_parts(context: &Context, mut add: impl FnMut(Within, Of, Exact, Exact)) {
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
            add(within, of.clone(), part.share.clone(), grams.each_of(&batches));
            add(within, of, part.share.clone(), grams);
        }
    }
}

fn add_shares(facts: &mut Vec<Fact>, context: &Context, numbers: &Numbers) {
    let flour = context.worked.flour(&numbers.whole);
    let dough = numbers.whole.mass();
    let mixes = numbers.stages.iter().map(|stage| (&stage.lines, &stage.basis, &stage.made));
    let added = context.worked.added_flour(numbers);
    let own = [(&numbers.dough_lines, &added, &dough), (&numbers.total_lines, &flour, &dough)];
    for (lines, basis, made) in mixes.chain(own) {
        for line in lines {
            for base in [basis, made, &flour, &dough] {
                if let Some(share) = line.mass.over(base) {
                    facts.push(Fact::new(Of::Name(line.key.clone()), share));
                }
            }
        }
    }
    for (id, grams) in ingredients_in(numbers) {
        let name = &context.house.ingredient(id).name.key;
        for share in [&flour, &dough].into_iter().filter_map(|base| grams.over(base)) {
            facts.push(Fact::new(Of::Name(name.clone()), share));
        }
    }
    facts.push(Fact::new(Of::Anything, Exact::ONE));
}

/// Figures that are shares, of the whole and of stages.
fn add_figures(all: &mut Vec<Fact>, context: &Context) {
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
            all.extend(facts);
        }
    }
    for numbers in &worked.choices {
        let added = worked.added_hydration(numbers);
        all.extend(added.map(|share| Fact::new(Of::Word("hydration"), share)));
    }
}

/// Percentages or weights as they are written: lines, sizes, claims.
fn written(context: &Context, dimension: Dimension) -> Vec<Fact> {
    let formula = &context.worked.formula;
    let lines = all_mixes(formula).flat_map(|mix| &mix.lines);
    let lines = lines.filter_map(|line| match &line.amount {
        Amount::Measured { range, .. } => Some((Of::Name(line.target.name.key.clone()), range)),
        _ => None,
    });
    let sizes = formula.stages.iter().flat_map(|stage| &stage.sizes);
    let sizes = sizes.filter_map(|size| match &size.size {
        Size::OfFlour(range) | Size::Weighs(range) => Some((Of::Word("prefermented"), range)),
        _ => None,
    });
    let claims = formula.expect.iter().filter_map(|claim| match &claim.value {
        ClaimValue::Amount { range, .. } => Some((Of::Name(claim.what.name.key.clone()), range)),
        ClaimValue::FreeFrom(_) => None,
    });
    let all = lines.chain(sizes).chain(claims).filter(|(_, extent)| {
        let end = extent.low.as_ref().or(extent.high.as_ref());
        end.is_some_and(|end| end.unit.dimension() == dimension)
    });
    all.filter_map(|(of, extent)| fact_of(context, of, extent)).collect()
}

/// What steps take a share of, and losses.
fn add_written_shares(facts: &mut Vec<Fact>, context: &Context) {
    let formula = &context.worked.formula;
    let phases = context.steps().flat_map(|step| &step.phases);
    for with in phases.flat_map(|phase| &phase.with) {
        if let With::Share(share, target) = with {
            let (share, of) = (context.base(share), name_of(target));
            facts.push(Fact::new(of.clone(), Exact::ONE - &share));
            facts.push(Fact::new(of, share));
        }
    }
    for loss in [&formula.bake_loss, &formula.make_up_loss].into_iter().flatten() {
        facts.push(Fact::new(Of::Word("loss"), context.base(loss)));
    }
}

fn add_pieces(facts: &mut Vec<Fact>, context: &Context, numbers: &Numbers) {
    let batches = Exact::from(context.batches());
    let mut all = Exact::ZERO;
    for piece in numbers.pieces.iter().chain(&context.worked.usual_pieces) {
        let made = &piece.made;
        facts.push(Fact::new(Of::Name(made.key.clone()), made.count.clone()));
        facts.push(Fact::new(Of::Name(made.key.clone()), made.count.each_of(&batches)));
        all += made.count.clone();
    }
    if !numbers.pieces.is_empty() {
        facts.push(Fact::new(Of::Anything, all.each_of(&batches)));
        facts.push(Fact::new(Of::Anything, all));
    }
}

impl Times {
    fn add_steps(&mut self, context: &Context) {
        for step in context.steps() {
            let word = word_of(step.verb);
            let times: Vec<Fact> =
                step.phases.iter().filter_map(|phase| time_of(context, word, phase)).collect();
            self.times.extend(sum_of(word, &times));
            self.times.extend(times);
            // What so many pieces take, beside what all of them do.
            let by_count = step.phases.iter().filter(|phase| phase.per.is_some());
            self.times.extend(
                by_count.filter_map(|phase| {
                    fact_of(context, Of::Word(word), phase.duration.as_deref()?)
                }),
            );
            for phase in &step.phases {
                self.add_phase(context, step, phase);
            }
        }
        self.folds.extend(sum_of("fold", &self.folds));
        // Two mixes are one in a sentence.
        for (_, verb) in Verb::ALL {
            if context.steps().all(|step| step.verb != verb) {
                continue;
            }
            let word = word_of(verb);
            let steps = context.steps().filter(|step| step.verb == verb);
            let each = steps
                .flat_map(|step| &step.phases)
                .filter_map(|phase| time_of(context, word, phase));
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
/// How long a phase takes, for all the pieces where it takes them by the piece.
fn time_of(context: &Context, word: &'static str, phase: &Phase) -> Option<Fact> {
    let often = context.worked.times_as_long(phase);
    let Fact { of, low, high } = fact_of(context, Of::Word(word), phase.duration.as_deref()?)?;
    Some(Fact { of, low: low * &often, high: high * often })
}

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
    lines.chain(pieces).any(|line| line.key == name && !matches!(line.goes, LineRef::Ingredient(_)))
}
