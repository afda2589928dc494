//! Working a formula out: every mass in it, exactly.

mod excess;
mod gather;
mod numbers;
mod pieces;
mod prepare;
mod sizes;
mod stages;
mod yields;

pub use prepare::{all_mixes, step_names};

use super::class::Class;
use super::content::{Content, Substance};
use super::findings as say;
use super::held;
use super::house::{House, plain};
use super::linear::{Form, Solution};
use super::merge;
use super::mixing::{Blend, Goes, MixForms, Mixing, Place, Scope, by_gram};
use super::worked::{Anchor, Numbers, Within, Worked, is_kind};
use crate::diag::{Finding, Group, Level};
use crate::quantity::{Exact, Unit};
use crate::syntax::tree::{Amount, Counting, Formula, Makes, Mix, Name, Quantity};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// Ranged lines beyond this many are taken at their low end in every figure: each one
/// more doubles the work.
pub const MOST_RANGES: usize = 6;

/// Stages of one formula that are worked out.
pub const MOST_STAGES: usize = 60;

/// Feeds of one stage that are worked out; the make-up is that of the jar long before.
pub(in crate::formula) const MOST_FEEDS: u32 = 50;

/// Formulas that may be made of each other in a row.
const MOST_NESTED: usize = 16;

/// Works out one formula of a house; findings of names and sums are added.
pub fn work<'t>(
    house: &'t House<'t>,
    formula: &'t Formula,
    findings: &mut Vec<Finding>,
) -> Worked<'t> {
    let first = findings.len();
    let worked = Worker { house, trail: Vec::new(), known: FxHashMap::default(), makes: None }
        .work(formula, findings);
    for finding in &mut findings[first..] {
        finding.formula = Some(formula.name.key.clone());
    }
    worked
}

/// Works out a formula for another yield than its own, as `--makes` asks for.
///
/// Pieces that come without a weight weigh what they weigh in the formula.
pub fn work_as<'t>(
    house: &'t House<'t>,
    formula: &'t Formula,
    makes: &Makes,
    findings: &mut Vec<Finding>,
) -> Worked<'t> {
    let own = work(house, formula, &mut Vec::new());
    let mut makes = makes.clone();
    let known = &own.first().pieces;
    for made in makes.pieces.iter_mut().filter(|made| made.weight.is_none() && made.tin.is_none()) {
        let same = known.iter().find(|piece| is_kind(&piece.made.key, &made.kind.key));
        if same.is_none() && !known.is_empty() && makes.from.is_none() {
            let kinds: Vec<&str> = known.iter().map(|piece| piece.made.kind.as_str()).collect();
            findings.push(say::yield_not_in_formula::other_kind(made, &kinds));
            return own;
        }
        if let Some(piece) = same {
            made.baked = false;
            made.weight = Some(Quantity {
                number: piece.made.weight.clone(),
                unit: Unit::Gram,
                decimals: None,
                span: made.span,
            });
        }
    }
    if makes.pieces.iter().any(|made| made.weight.is_none() && made.tin.is_none())
        && makes.from.is_none()
    {
        findings.push(say::piece_size_missing::pieces(&makes));
        return own;
    }
    let makes_no_pieces = makes.pieces.is_empty();
    let mut worked =
        Worker { house, trail: Vec::new(), known: FxHashMap::default(), makes: Some(makes) }
            .work(formula, findings);
    if makes_no_pieces {
        worked.usual_pieces = own.first().pieces.clone();
    }
    let written = own.first().whole.mass();
    if !written.is_zero() {
        worked.scaled = worked.first().whole.mass() / written;
    }
    worked
}

/// Whether a finding says that something named is not there: unknown, or a formula that is
/// not worked out because too many lean on each other.
fn is_of_names(finding: &Finding) -> bool {
    finding.rule.group == Group::Names || finding.rule.name == say::too_many::RULE.name
}

struct Worker<'t> {
    house: &'t House<'t>,
    /// Formulas that wait for this one, to find cycles.
    trail: Vec<EcoString>,
    /// Formulas worked out on the way, by name.
    known: FxHashMap<EcoString, Blend>,
    /// What to make instead of what the formula says; for the outermost formula only.
    makes: Option<Makes>,
}

impl<'t> Worker<'t> {
    fn work(&mut self, formula: &'t Formula, findings: &mut Vec<Finding>) -> Worked<'t> {
        let first = findings.len();
        let mut whole = merge::whole(self.house, formula, findings);
        if whole.stages.len() > MOST_STAGES {
            findings.push(say::too_many::stages(&whole, MOST_STAGES));
            whole.to_mut().stages.truncate(MOST_STAGES);
        }
        let asked = self.makes.take();
        if let Some(makes) = &asked {
            whole.to_mut().makes = Some(makes.clone());
        }
        self.trail.push(formula.name.key.clone());
        let mut mixing = Mixing {
            house: self.house,
            formula: &whole,
            blends: Vec::new(),
            counts_as_flour: Vec::new(),
            old_dough: None,
            high: Vec::new(),
            ranged: Vec::new(),
            make_ups: vec![None; whole.stages.len()],
            order: Vec::new(),
            findings: Vec::new(),
        };
        self.prepare(&mut mixing);
        let mut choices = Vec::new();
        let ranges = mixing.ranged.len().min(MOST_RANGES);
        for choice in 0..1usize << ranges {
            mixing.high = (0..ranges).map(|bit| choice >> bit & 1 == 1).collect();
            let said = mixing.findings.len();
            choices.push(solve(&mut mixing, asked.is_some()));
            // The low ends say it all once.
            if choice > 0 {
                mixing.findings.truncate(said);
            }
        }
        self.trail.pop();
        let blends = std::mem::take(&mut mixing.blends);
        let counts_as_flour = std::mem::take(&mut mixing.counts_as_flour);
        let order = std::mem::take(&mut mixing.order);
        let known = mixing
            .findings
            .iter()
            .chain(&findings[first..])
            .all(|finding| !is_of_names(finding) || finding.level != Level::Error);
        if whole.broken || !known {
            // Where something could not be read or is unknown, sums that do not come out
            // would only say it again.
            mixing.findings.retain(is_of_names);
        }
        findings.append(&mut mixing.findings);
        let sound =
            !whole.broken && findings[first..].iter().all(|finding| finding.level != Level::Error);
        drop(mixing);
        let flour_ids = all_mixes(&whole)
            .flat_map(|mix| &mix.lines)
            .filter_map(|line| self.house.ingredient_id(&line.target.name.key))
            .filter(|id| {
                self.house.ingredient(*id).class == Class::Flour || counts_as_flour.contains(id)
            })
            .collect();
        let readable = known && !whole.broken;
        Worked {
            house: self.house,
            formula: whole,
            blends,
            counts_as_flour,
            flour_ids,
            order,
            choices,
            scaled: Exact::ONE,
            usual_pieces: Vec::new(),
            readable,
            sound,
        }
    }

    /// Everything that does not depend on amounts: names, blends, the order of stages.
    fn prepare(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        mixing.ranged = prepare::ranged_lines(formula);
        let blocks = formula.total.iter().chain(&formula.dough);
        let names = blocks.flat_map(|mix| &mix.counts_as_flour);
        for name in names {
            match mixing.house.ingredient_id(&name.key) {
                Some(id) => mixing.counts_as_flour.push(id),
                None => {
                    let near = mixing.house.near(&name.key);
                    mixing.findings.push(say::unknown_ingredient::finding(name, near));
                }
            }
        }
        if let (Some(total), Some(dough)) = (&formula.total, &formula.dough) {
            mixing.findings.push(say::size_given_twice::total_and_dough(total, dough));
        }
        self.find_blends(mixing);
        prepare::order_stages(mixing);
        prepare::name_the_unknown(mixing);
    }

    /// Side mixes and other formulas that lines and pieces name.
    fn find_blends(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        let mut wanted: Vec<&Name> =
            all_mixes(formula).flat_map(|mix| &mix.lines).map(|line| &line.target.name).collect();
        wanted.extend(prepare::step_names(formula).chain(held::grease(self.house, formula)));
        let mut index = 0;
        let mut open: Vec<EcoString> = Vec::new();
        while index < wanted.len() {
            let name = wanted[index];
            index += 1;
            self.blend(mixing, name, &mut open);
        }
    }

    fn blend(&mut self, mixing: &mut Mixing<'_, 't>, name: &Name, open: &mut Vec<EcoString>) {
        let formula = mixing.formula;
        let known = mixing.blends.iter().any(|blend| blend.key == name.key)
            || formula.stages.iter().any(|stage| stage.name.key == name.key);
        if known {
            return;
        }
        let own = formula.mixtures.iter().find(|mixture| mixture.name.key == name.key);
        if let Some(mixture) = own.or_else(|| self.house.mixture(&name.key)) {
            if open.contains(&name.key) {
                mixing
                    .findings
                    .push(say::stage_cycle::finding(open.iter().chain([&name.key]), name));
                return;
            }
            if open.len() >= MOST_NESTED {
                mixing.findings.push(say::too_many::mixtures(name, MOST_NESTED));
                return;
            }
            open.push(name.key.clone());
            for line in &mixture.mix.lines {
                self.blend(mixing, &line.target.name, open);
            }
            open.pop();
            let (per_gram, shares, own_mass) = self.mixture_content(mixing, mixture);
            let lines = &mixture.mix.lines;
            let holds = held::of_lines(self.house, lines, &mixing.blends, formula);
            mixing.blends.push(Blend {
                key: name.key.clone(),
                shown: mixture.name.shown.clone(),
                per_gram,
                shares,
                own_mass,
                fermented: Exact::ZERO,
                holds,
                is_formula: false,
            });
            return;
        }
        let is_ingredient = self.house.ingredient_id(&name.key).is_some();
        if is_ingredient || self.house.culture_named(&name.key).is_some() {
            return;
        }
        let Some(other) = self.house.formula(&name.key) else { return };
        if self.trail.contains(&name.key) {
            let names = self.trail.iter().map(EcoString::as_str).collect();
            mixing.findings.push(say::piece_cycle::finding(names, name));
            return;
        }
        if self.trail.len() > MOST_NESTED {
            mixing.findings.push(say::too_many::nested(name, MOST_NESTED));
            return;
        }
        if let Some(known) = self.known.get(&name.key) {
            mixing.blends.push(Blend { shown: name.shown.clone(), ..known.clone() });
            return;
        }
        // Its own findings are told where it stands; a circle has no other place.
        let mut inner = Vec::new();
        let worked = self.work(other, &mut inner);
        let tells = [&say::piece_cycle::RULE, &say::too_many::RULE];
        inner.retain(|finding| tells.contains(&finding.rule));
        let inner_is_empty = inner.is_empty();
        mixing.findings.append(&mut inner);
        let blend = Blend {
            key: name.key.clone(),
            shown: name.shown.clone(),
            per_gram: worked.first().whole_content().per_gram().unwrap_or_default(),
            shares: Vec::new(),
            own_mass: Exact::ZERO,
            fermented: fermented_by_gram(&worked),
            holds: held::of_formula(&worked),
            is_formula: true,
        };
        if inner_is_empty {
            self.known.insert(name.key.clone(), blend.clone());
        }
        mixing.blends.push(blend);
    }

    /// A mixture may stand in the house, which outlives the formula, or in the formula.
    fn mixture_content(
        &self,
        mixing: &mut Mixing<'_, 't>,
        mixture: &crate::syntax::tree::Mixture,
    ) -> (Content, Vec<Exact>, Exact) {
        let mut aside = Mixing {
            house: mixing.house,
            formula: mixing.formula,
            blends: mixing.blends.clone(),
            counts_as_flour: mixing.counts_as_flour.clone(),
            old_dough: None,
            high: Vec::new(),
            ranged: Vec::new(),
            make_ups: Vec::new(),
            order: Vec::new(),
            findings: Vec::new(),
        };
        let content = aside.mixture(mixture);
        mixing.findings.append(&mut aside.findings);
        content
    }
}

/// Flour in a gram of a formula's dough that was fermented before it.
fn fermented_by_gram(worked: &Worked) -> Exact {
    let numbers = worked.first();
    let whole = numbers.whole.mass();
    match whole.is_zero() {
        true => whole,
        false => worked.fermented_flour(numbers, Within::All) / whole,
    }
}

struct Solving {
    stages: Vec<MixForms>,
    main: MixForms,
    /// Whether what a stage saves is taken from its own weights, rather than made besides.
    saves_inside: Vec<bool>,
    /// Whether a line of the final dough takes all of a stage.
    taken_whole: Vec<bool>,
    /// What stages, cultures and old dough bring into the final dough, in total form.
    takes: Content<Form>,
    /// Flour that only a culture brings, in total form.
    unlisted: Content<Form>,
    /// Everything that is in the dough.
    whole: Content<Form>,
    /// The mass of each stage that goes into the final dough.
    into_dough: Vec<Form>,
    /// Of the finished dough, what is kept back as the next old dough.
    kept_back: Form,
    /// Grams of the finished dough that are saved besides, whatever is made.
    saved: Exact,
}

impl Solving {
    /// What of the finished dough goes into the pieces.
    fn form_of_pieces(&self, whole: &Form) -> Form {
        whole.clone().minus(&self.kept_back).minus(&Form::constant(self.saved.clone()))
    }
}

/// What every unknown is, and how much larger than written the whole is made.
struct At<'s> {
    values: &'s [Exact],
    ratio: Exact,
}

impl At<'_> {
    fn value(&self, form: &Form) -> Exact {
        form.value(self.values) * &self.ratio
    }

    fn content(&self, forms: &Content<Form>) -> Content {
        let mut content = Content::from_forms(forms, self.values);
        content.scale(&self.ratio);
        content
    }
}

/// Solves the formula for one choice of range ends, `asked` where it is to be made as large
/// as `makes` says even if its own weights settle it.
fn solve(mixing: &mut Mixing, asked: bool) -> Numbers {
    mixing.old_dough = None;
    let has_old_dough = main_mix(mixing.formula).is_some_and(|mix| {
        mix.lines.iter().any(|line| mixing.goes(&line.target) == Goes::OldDough)
    });
    if has_old_dough {
        // First without it: what is left has the make-up of the finished dough.
        let said = mixing.findings.len();
        let (solving, solution, _) = build(mixing);
        mixing.findings.truncate(said);
        let mut content = Content::from_forms(&solving.whole, &solution.values);
        content.retain(|substance| substance != Substance::OldDough);
        mixing.old_dough = content.per_gram();
    }
    let (solving, solution, anchor) = build(mixing);
    let mut at = At { values: &solution.values, ratio: Exact::ONE };
    let said = mixing.findings.len();
    let mut numbers = numbers::numbers(mixing, &solving, &at, solution.contradiction, anchor);
    if asked
        && anchor == Anchor::Weights
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
            let now = numbers.named(mixing, &target.name.key);
            if now.is_zero() {
                mixing.findings.push(say::yield_not_in_formula::no_such_line(quantity, target));
            }
            (mixing.weigh_named(quantity, target), now)
        }
        (None, None) => return None,
    };
    (!now.is_zero()).then(|| wanted / now)
}

/// Old dough must have the composition of the dough it comes from.
fn check_fixed_point(mixing: &mut Mixing, numbers: &Numbers, assumed: &Content) {
    let Some(found) = numbers.whole_content().per_gram() else { return };
    let differs = found
        .iter()
        .any(|(substance, share)| assumed.get(substance).cloned().unwrap_or_default() != *share);
    if differs && let Some(mix) = main_mix(mixing.formula) {
        let line = mix.lines.iter().find(|line| mixing.goes(&line.target) == Goes::OldDough);
        if let Some(line) = line {
            mixing.findings.push(say::circular_size::old_dough(line));
        }
    }
}

pub fn main_mix(formula: &Formula) -> Option<&Mix> {
    formula.total.as_ref().or(formula.dough.as_ref())
}

/// Sets up all forms and equations of the formula.
fn build(mixing: &mut Mixing) -> (Solving, Solution, Anchor) {
    let formula = mixing.formula;
    let mut scope = Scope::default();
    let empty = MixForms::default;
    let mut solving = Solving {
        stages: (0..formula.stages.len()).map(|_| empty()).collect(),
        main: empty(),
        saves_inside: vec![false; formula.stages.len()],
        taken_whole: vec![false; formula.stages.len()],
        takes: Content::default(),
        unlisted: Content::default(),
        whole: Content::default(),
        into_dough: vec![Form::default(); formula.stages.len()],
        kept_back: Form::default(),
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
        solving.main = mixing.mix(&mut scope, mix, Place::Main);
        for line in mix.lines.iter().filter(|line| matches!(line.amount, Amount::All)) {
            if let Goes::Stage(stage) = mixing.goes(&line.target) {
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
    let mass = solving.whole.iter().fold(Form::default(), |sum, (_, mass)| sum.plus(mass));
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
        if mixing.goes(&line.target) == Goes::OldDough
            && matches!(line.counting, Counting::KeptBack { .. })
        {
            solving.kept_back.add(mass, &Exact::ONE);
        }
    }
    solving.saved = mix.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount));
}

/// A formula's title, or its name where it has none.
pub fn title(formula: &Formula) -> String {
    formula.title.as_ref().map_or_else(|| formula.name.shown.to_string(), plain)
}
