//! Working a formula out: every mass in it, exactly.

use super::class::Class;
use super::content::{Content, Substance};
use super::findings as say;
use super::house::{House, plain};
use super::linear::{Form, Solution};
use super::merge;
use super::mixing::{Blend, Goes, MixForms, Mixing, Place, Scope};
use super::worked::{Anchor, MadeKind, Numbers, StageNumbers, Worked, WorkedLine, WorkedPiece};
use crate::diag::{Finding, Level};
use crate::quantity::display::last_digit;
use crate::quantity::{Dimension, Exact, Unit, half, int};
use crate::syntax::tree::{
    Amount, Counting, Extent, Formula, Makes, Mix, Name, Quantity, Size, Stage,
};
use ecow::EcoString;

/// Ranged lines beyond this many are taken at their low end in every figure: each one
/// more doubles the work.
pub const MOST_RANGES: usize = 6;

/// Works out one formula of a house; findings of names and sums are added.
pub fn work<'t>(
    house: &House<'t>,
    formula: &'t Formula,
    findings: &mut Vec<Finding>,
) -> Worked<'t> {
    let first = findings.len();
    let worked = Worker { house, trail: Vec::new(), makes: None }.work(formula, findings);
    for finding in &mut findings[first..] {
        finding.formula = Some(formula.name.key.clone());
    }
    worked
}

/// Works out a formula for another yield than its own, as `--makes` asks for.
///
/// Pieces that come without a weight weigh what they weigh in the formula.
pub fn work_as<'t>(
    house: &House<'t>,
    formula: &'t Formula,
    makes: &Makes,
    findings: &mut Vec<Finding>,
) -> Worked<'t> {
    let own = work(house, formula, &mut Vec::new());
    let mut makes = makes.clone();
    let known = &own.first().pieces;
    for made in makes.pieces.iter_mut().filter(|made| made.weight.is_none() && made.tin.is_none()) {
        let same = known.iter().find(|piece| is_kind(&piece.made.key, &made.kind.key));
        let only = (known.len() == 1).then(|| &known[0]);
        if let Some(piece) = same.or(only) {
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
        findings.push(say::size_unknown::pieces(&makes));
        return own;
    }
    Worker { house, trail: Vec::new(), makes: Some(makes) }.work(formula, findings)
}

struct Worker<'a, 't> {
    house: &'a House<'t>,
    /// Formulas that wait for this one, to find cycles.
    trail: Vec<EcoString>,
    /// What to make instead of what the formula says; for the outermost formula only.
    makes: Option<Makes>,
}

impl<'t> Worker<'_, 't> {
    fn work(&mut self, formula: &'t Formula, findings: &mut Vec<Finding>) -> Worked<'t> {
        let first = findings.len();
        let mut whole = merge::whole(self.house, formula, findings);
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
            per_gram: vec![None; whole.stages.len()],
            order: Vec::new(),
            findings: Vec::new(),
        };
        self.prepare(&mut mixing);
        let mut choices = Vec::new();
        let ranges = mixing.ranged.len().min(MOST_RANGES);
        for choice in 0..1usize << ranges {
            mixing.high = (0..ranges).map(|bit| choice >> bit & 1 == 1).collect();
            let said = mixing.findings.len();
            let mut numbers = solve(&mut mixing);
            if asked.is_some() {
                scale_to(&mut mixing, &mut numbers);
            }
            choices.push(numbers);
            // The low ends say it all once.
            if choice > 0 {
                mixing.findings.truncate(said);
            }
        }
        self.trail.pop();
        let blends = std::mem::take(&mut mixing.blends);
        let counts_as_flour = std::mem::take(&mut mixing.counts_as_flour);
        let order = std::mem::take(&mut mixing.order);
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
        Worked { formula: whole, blends, counts_as_flour, flour_ids, order, choices, sound }
    }

    /// Everything that does not depend on amounts: names, blends, the order of stages.
    fn prepare(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        mixing.ranged = ranged_lines(formula);
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
        self.find_blends(mixing);
        order_stages(mixing);
        name_the_unknown(mixing);
        for &stage in &mixing.order.clone() {
            mixing.per_gram[stage] = mixing.make_up(stage);
            mixing.findings.retain(|finding| finding.level == Level::Error);
        }
        // What the make-up had to say comes again when the whole is solved.
        let said: Vec<Finding> = std::mem::take(&mut mixing.findings);
        mixing.findings = said.into_iter().filter(|finding| is_about_names(finding)).collect();
    }

    /// Side mixes and other formulas that lines and pieces name.
    fn find_blends(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        let mut wanted: Vec<&Name> =
            all_mixes(formula).flat_map(|mix| &mix.lines).map(|line| &line.target.name).collect();
        wanted.extend(step_names(formula));
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
            open.push(name.key.clone());
            for line in &mixture.mix.lines {
                self.blend(mixing, &line.target.name, open);
            }
            open.pop();
            let per_gram = self.mixture_content(mixing, mixture);
            mixing.blends.push(Blend {
                key: name.key.clone(),
                shown: mixture.name.shown.clone(),
                per_gram,
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
        // Its own findings are told where it stands; a circle has no other place.
        let mut inner = Vec::new();
        let worked = self.work(other, &mut inner);
        inner.retain(|finding| finding.rule == &say::piece_cycle::RULE);
        mixing.findings.append(&mut inner);
        let per_gram = worked.first().whole_content().per_gram().unwrap_or_default();
        mixing.blends.push(Blend {
            key: name.key.clone(),
            shown: name.shown.clone(),
            per_gram,
            is_formula: true,
        });
    }

    /// A mixture may stand in the house, which outlives the formula, or in the formula.
    fn mixture_content(
        &self,
        mixing: &mut Mixing<'_, 't>,
        mixture: &crate::syntax::tree::Mixture,
    ) -> Content {
        let mut aside = Mixing {
            house: mixing.house,
            formula: mixing.formula,
            blends: mixing.blends.clone(),
            counts_as_flour: mixing.counts_as_flour.clone(),
            old_dough: None,
            high: Vec::new(),
            ranged: Vec::new(),
            per_gram: Vec::new(),
            order: Vec::new(),
            findings: Vec::new(),
        };
        let content = aside.mixture(mixture);
        mixing.findings.append(&mut aside.findings);
        content
    }
}

fn is_about_names(finding: &Finding) -> bool {
    finding.rule.group == crate::diag::Group::Names || finding.rule.name == "stage-cycle"
}

/// Every mix of a formula, pieces and side mixes included.
pub fn all_mixes(formula: &Formula) -> impl Iterator<Item = &Mix> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let mixtures = formula.mixtures.iter().map(|mixture| &mixture.mix);
    let pieces = formula.pieces.iter().map(|piece| &piece.mix);
    blocks.chain(stages).chain(mixtures).chain(pieces)
}

/// Names that the steps of a formula use in `with` and `in`.
fn step_names(formula: &Formula) -> impl Iterator<Item = &Name> {
    use crate::syntax::tree::With;
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let methods = formula.method.iter().chain(stages);
    let phases = methods.flat_map(|method| &method.steps).flat_map(|step| &step.phases);
    phases.flat_map(|phase| {
        let with = phase.with.iter().filter_map(|with| match with {
            With::Name(target) => Some(&target.name),
            _ => None,
        });
        with.chain(&phase.place)
    })
}

fn ranged_lines(formula: &Formula) -> Vec<crate::source::Span> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let ranged = |extent: &Extent| extent.ranged && extent.low.is_some() && extent.high.is_some();
    blocks
        .chain(stages)
        .flat_map(|mix| &mix.lines)
        .filter_map(|line| match &line.amount {
            Amount::Measured { range, .. } if ranged(range) => Some(range.span),
            _ => None,
        })
        .collect()
}

/// Finds an order in which every stage comes after those it uses.
fn order_stages(mixing: &mut Mixing) {
    fn visit(mixing: &mut Mixing, stage: usize, open: &mut Vec<usize>) {
        if mixing.order.contains(&stage) {
            return;
        }
        open.push(stage);
        for line in &mixing.stage(stage).mix.lines {
            let Goes::Stage(inner) = mixing.goes(&line.target) else { continue };
            match open.iter().position(|&waiting| waiting == inner) {
                Some(from) => {
                    let names: Vec<EcoString> = open[from..]
                        .iter()
                        .chain([&inner])
                        .map(|&stage| mixing.stage(stage).name.shown.clone())
                        .collect();
                    mixing
                        .findings
                        .push(say::stage_cycle::finding(names.iter(), &line.target.name));
                }
                None => visit(mixing, inner, open),
            }
        }
        open.pop();
        mixing.order.push(stage);
    }
    for stage in 0..mixing.formula.stages.len() {
        visit(mixing, stage, &mut Vec::new());
    }
}

/// Says which names nobody knows.
fn name_the_unknown(mixing: &mut Mixing) {
    let formula = mixing.formula;
    let stage_names = formula.stages.iter().map(|stage| stage.name.key.as_str());
    let stage_names: Vec<&str> = stage_names.collect();
    let mixes = all_mixes(formula).flat_map(|mix| &mix.lines);
    for line in mixes {
        if mixing.goes(&line.target) != Goes::Nothing {
            continue;
        }
        let name = &line.target.name;
        let near = crate::diag::nearest(&name.key, stage_names.iter().copied())
            .map(EcoString::from)
            .or_else(|| mixing.house.near(&name.key));
        let finding = match &line.amount {
            Amount::All => say::unknown_stage::finding(name, near),
            _ => say::unknown_ingredient::finding(name, near),
        };
        mixing.findings.push(finding);
    }
    for stage in &formula.stages {
        for line in &stage.mix.lines {
            if let Counting::KeptBack { from: Some(from) } = &line.counting
                && !stage_names.contains(&from.key.as_str())
            {
                let near = crate::diag::nearest(&from.key, stage_names.iter().copied());
                mixing.findings.push(say::unknown_stage::finding(from, near.map(EcoString::from)));
            }
        }
    }
}

struct Solving {
    stages: Vec<MixForms>,
    main: MixForms,
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
}

/// Solves the formula for one choice of range ends.
fn solve(mixing: &mut Mixing) -> Numbers {
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
    let numbers = numbers(mixing, &solving, &solution, anchor);
    if let (true, Some(assumed)) = (has_old_dough, &mixing.old_dough) {
        check_fixed_point(mixing, &numbers, &assumed.clone());
    }
    numbers
}

/// A dough that weights settle is scaled as a whole to what is asked for.
fn scale_to(mixing: &mut Mixing, numbers: &mut Numbers) {
    let Some(makes) = mixing.formula.makes.clone() else { return };
    if numbers.anchor != Anchor::Weights {
        return;
    }
    let ratio = match (made_mass(mixing, &makes), &makes.from) {
        (Some(wanted), _) => (wanted, numbers.whole.mass()),
        (None, Some((quantity, target))) => {
            let now = numbers.named(mixing, &target.name.key);
            (mixing.worth(quantity), now)
        }
        (None, None) => return,
    };
    if ratio.1.is_zero() {
        return;
    }
    numbers.scale(&(ratio.0 / ratio.1));
    numbers.pieces = pieces(mixing, numbers);
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
            mixing.findings.push(say::size_unknown::old_dough(line));
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
        taken_whole: vec![false; formula.stages.len()],
        takes: Content::default(),
        unlisted: Content::default(),
        whole: Content::default(),
        into_dough: vec![Form::default(); formula.stages.len()],
    };
    for stage in mixing.order.clone() {
        build_stage(mixing, &mut scope, &mut solving, stage);
    }
    if let Some(mix) = main_mix(formula) {
        solving.main = mixing.mix(&mut scope, mix, Place::Main);
        for line in mix.lines.iter().filter(|line| matches!(line.amount, Amount::All)) {
            if let Goes::Stage(stage) = mixing.goes(&line.target) {
                solving.taken_whole[stage] = true;
            }
        }
        size_stages(mixing, &mut scope, &mut solving);
        match formula.total.is_some() {
            true => gather_total(mixing, &mut solving, mix),
            false => gather_dough(mixing, &mut solving, mix),
        }
    } else {
        gather_pieces(mixing, &mut solving);
    }
    let flour = mixing.flour_in(&solving.whole);
    let mass = solving.whole.iter().fold(Form::default(), |sum, (_, mass)| sum.plus(mass));
    if let Some(asked) = scope.flour_if_asked() {
        scope.system.demand(flour.clone().minus(&asked));
    }
    if let Some(asked) = scope.whole_if_asked() {
        scope.system.demand(mass.clone().minus(&asked));
    }
    let mut solution = scope.system.solve();
    let anchor = anchor(mixing, &mut solution, &solving, &flour, &mass);
    (solving, solution, anchor)
}

fn build_stage(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving, stage: usize) {
    let mix = &mixing.stage(stage).mix;
    let mut forms = mixing.mix(scope, mix, Place::Stage(stage));
    // An inner stage that goes in whole brings its own forms, whatever its size.
    take_whole_stages(mixing, solving, mix, &mut forms, Place::Stage(stage));
    if mixing.stage(stage).feeds.is_some_and(|(feeds, _)| feeds > 1)
        && let Some(seed) = feed_before(mixing, stage)
    {
        mixing.reseed(&mut forms, stage, &seed);
    }
    solving.stages[stage] = forms;
}

/// The make-up of the last feed but one.
fn feed_before(mixing: &mut Mixing, stage: usize) -> Option<Content> {
    let said = mixing.findings.len();
    let (feeds, _) = mixing.stage(stage).feeds?;
    let seed = mixing.make_up_after(stage, feeds - 1);
    mixing.findings.truncate(said);
    seed
}

/// Replaces the share of stages used with `all` by what they are.
fn take_whole_stages(
    mixing: &Mixing,
    solving: &Solving,
    mix: &Mix,
    forms: &mut MixForms,
    place: Place,
) {
    for (index, line) in mix.lines.iter().enumerate() {
        let (Goes::Stage(inner), Amount::All) = (mixing.goes(&line.target), &line.amount) else {
            continue;
        };
        let inner = &solving.stages[inner];
        forms.masses[index] = inner.goes_on_mass();
        forms.made.add(&forms.masses[index].clone(), &Exact::ONE);
        for (substance, mass) in inner.goes_on.iter() {
            forms
                .goes_on
                .add_with(substance, mass.clone(), |old, mass| old.add(&mass, &Exact::ONE));
        }
        for (substance, mass) in inner.from_cultures.iter() {
            let add = |old: &mut Form, mass: Form| old.add(&mass, &Exact::ONE);
            forms.from_cultures.add_with(substance, mass.clone(), add);
        }
    }
    if let Place::Stage(stage) = place {
        let loses = mixing.stage(stage).loses.is_some();
        // The boiled water was taken out before; only seed that came in is left to do.
        if !loses {
            mixing.take_out(forms, stage);
        }
    }
}

/// The masses that other stages' lines ask of a stage.
fn inner_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<Form> {
    let mut uses = Vec::new();
    for (user, forms) in solving.stages.iter().enumerate() {
        for (line, mass) in mixing.stage(user).mix.lines.iter().zip(&forms.masses) {
            let measured = !matches!(line.amount, Amount::All);
            if measured && mixing.goes(&line.target) == Goes::Stage(stage) {
                uses.push(mass.clone());
            }
        }
    }
    uses
}

fn size_stages(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving) {
    let in_total = mixing.formula.total.is_some();
    for stage in mixing.order.clone() {
        let declared = mixing.stage(stage);
        let from_stages = inner_uses(mixing, solving, stage);
        let used_by_stage = !from_stages.is_empty() || used_whole_by_stage(mixing, stage);
        let from_main: Vec<Form> = main_uses(mixing, solving, stage);
        let mut uses = from_stages;
        uses.extend(from_main.iter().cloned());
        let takes_all =
            solving.taken_whole[stage] || (in_total && !used_by_stage && from_main.is_empty());
        let goes_on = solving.stages[stage].goes_on_mass();
        let all_uses = uses.iter().fold(Form::default(), |sum, mass| sum.plus(mass));
        let fixed = is_fixed(mixing, stage);
        if declared.sizes.len() > 1 {
            mixing.findings.push(say::size_given_twice::sizes(declared));
        }
        match declared.sizes.first().map(|size| &size.size) {
            Some(Size::OfFlour(extent)) => {
                if let Some(share) = super::house::share_of(extent) {
                    let flour = mixing.flour_in(&solving.stages[stage].goes_on);
                    let wanted = scope.flour().times(&share);
                    scope.system.demand(flour.minus(&wanted));
                }
                if !uses.is_empty() && !takes_all {
                    mixing.findings.push(say::size_given_twice::used_elsewhere(declared));
                }
            }
            Some(Size::Weighs(extent)) => {
                if let Some(quantity) = extent.low.as_ref().or(extent.high.as_ref()) {
                    let saved = saved(mixing, declared);
                    let wanted = mixing.worth(quantity) - saved;
                    let made = solving.stages[stage].made.clone();
                    scope.system.demand(made.minus(&Form::constant(wanted)));
                }
            }
            Some(Size::OfTotal) => {}
            None if fixed => {}
            None if !uses.is_empty() && !takes_all => {
                scope.system.demand(goes_on.clone().minus(&all_uses));
            }
            None => {
                mixing.findings.push(say::size_unknown::stage(declared));
                // Nothing of it, so that the rest still has figures.
                scope.system.demand(solving.stages[stage].made.clone());
            }
        }
        solving.into_dough[stage] =
            match (takes_all && !used_whole_by_stage(mixing, stage), from_main.is_empty()) {
                (true, _) => {
                    let elsewhere = inner_uses(mixing, solving, stage);
                    elsewhere.iter().fold(goes_on, |rest, mass| rest.minus(mass))
                }
                (false, false) => {
                    from_main.iter().fold(Form::default(), |sum, mass| sum.plus(mass))
                }
                (false, true) => Form::default(),
            };
    }
}

fn main_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<Form> {
    let Some(mix) = main_mix(mixing.formula) else { return Vec::new() };
    let lines = mix.lines.iter().zip(&solving.main.masses);
    lines
        .filter(|(line, _)| {
            !matches!(line.amount, Amount::All) && mixing.goes(&line.target) == Goes::Stage(stage)
        })
        .map(|(_, mass)| mass.clone())
        .collect()
}

fn used_whole_by_stage(mixing: &Mixing, stage: usize) -> bool {
    mixing.formula.stages.iter().flat_map(|stage| &stage.mix.lines).any(|line| {
        matches!(line.amount, Amount::All) && mixing.goes(&line.target) == Goes::Stage(stage)
    })
}

/// Whether all lines of a stage are weights, so that it has its size.
fn is_fixed(mixing: &Mixing, stage: usize) -> bool {
    let lines = &mixing.stage(stage).mix.lines;
    let is_weight = |amount: &Amount| match amount {
        Amount::Measured { range, .. } => {
            range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
                let dimension = quantity.unit.dimension();
                matches!(dimension, Dimension::Mass | Dimension::Volume | Dimension::Count)
            })
        }
        Amount::All | Amount::Rest => false,
        _ => true,
    };
    // Lines in per cent of a flour that is weighed follow from it.
    let flour_weighed = || {
        let flours = lines.iter().filter(|line| match mixing.goes(&line.target) {
            Goes::Ingredient(id) => mixing.is_flour(id),
            _ => false,
        });
        let mut any = false;
        let all = flours.inspect(|_| any = true).all(|line| is_weight(&line.amount));
        all && any
    };
    !lines.is_empty() && (lines.iter().all(|line| is_weight(&line.amount)) || flour_weighed())
}

fn saved(mixing: &Mixing, stage: &Stage) -> Exact {
    stage.save.iter().fold(Exact::ZERO, |sum, save| sum + mixing.worth(&save.amount))
}

/// Total form: what is listed is all there is; stages take their part out of it.
fn gather_total(mixing: &mut Mixing, solving: &mut Solving, mix: &Mix) {
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
            (Goes::OldDough, _) => match &mixing.old_dough {
                Some(per_gram) => {
                    for (substance, share) in per_gram.iter() {
                        takes.add_with(substance, mass.times(share), add);
                    }
                }
                None => {}
            },
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
fn part_into_dough(
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
fn gather_dough(mixing: &mut Mixing, solving: &mut Solving, mix: &Mix) {
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
fn gather_pieces(mixing: &mut Mixing, solving: &mut Solving) {
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

/// Whether two words name one kind of piece: `loaf` and `loaves` differ, `roll` and
/// `rolls` do not.
pub fn is_kind(one: &str, two: &str) -> bool {
    one == two || one.strip_suffix('s') == Some(two) || two.strip_suffix('s') == Some(one)
}

/// Demands what the formula makes, where that is not settled by weights.
fn anchor(
    mixing: &mut Mixing,
    solution: &mut Solution,
    solving: &Solving,
    flour: &Form,
    mass: &Form,
) -> Anchor {
    let formula = mixing.formula;
    if formula.total.is_none() && formula.dough.is_none() {
        return Anchor::Pieces;
    }
    if solution.settles(mass) {
        return Anchor::Weights;
    }
    let Some(makes) = &formula.makes else {
        // Nothing was said: a kilogram of flour, as a table in a book has it.
        let basis = if flour.is_zero() { mass } else { flour };
        solution.demand(&basis.clone().minus(&Form::constant(int(1000))));
        return Anchor::Default;
    };
    match made_mass(mixing, makes) {
        Some(wanted) => {
            solution.demand(&mass.clone().minus(&Form::constant(wanted)));
            Anchor::Makes
        }
        None => match &makes.from {
            Some((quantity, target)) => {
                let named = named_mass(mixing, solving, target, flour, mass);
                match named {
                    Some(named) => {
                        let wanted = Form::constant(mixing.worth(quantity));
                        solution.demand(&named.minus(&wanted));
                    }
                    None => {
                        let near = mixing.house.near(&target.name.key);
                        mixing.findings.push(say::unknown_ingredient::finding(&target.name, near));
                    }
                }
                Anchor::Makes
            }
            None => {
                mixing.findings.push(say::size_unknown::pieces(makes));
                solution.demand(&flour.clone().minus(&Form::constant(int(1000))));
                Anchor::Default
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
        let loss = loss_of(mixing, &made.kind.key, |piece| piece.make_up_loss.as_ref())
            .or_else(|| mixing.formula.make_up_loss.as_ref())
            .map(|loss| mixing.worth(loss))
            .filter(|loss| *loss < Exact::ONE)
            .unwrap_or_default();
        sum += weight * &made.count.number / (Exact::ONE - loss);
    }
    (!makes.pieces.is_empty()).then_some(sum)
}

fn loss_of<'f>(
    mixing: &Mixing<'f, '_>,
    kind: &str,
    loss: impl Fn(&'f crate::syntax::tree::Piece) -> Option<&'f Quantity>,
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

/// The share that a kind of piece loses in the oven.
pub fn bake_loss(mixing: &Mixing, kind: &str) -> Option<Exact> {
    loss_of(mixing, kind, |piece| piece.bake_loss.as_ref())
        .or(mixing.formula.bake_loss.as_ref())
        .map(|loss| mixing.worth(loss))
}

/// The dough of one piece in grams, as written.
fn piece_weight(mixing: &mut Mixing, made: &crate::syntax::tree::MadePiece) -> Option<Exact> {
    if let Some(tin) = &made.tin {
        let Some(known) = mixing.house.tin(&tin.key) else {
            let near = mixing.house.near_tin(&tin.key);
            mixing.findings.push(say::unknown_tin::finding(tin, near));
            return None;
        };
        // 3.2 ml for a gram of dough: common practice, no source; a tin may say its own.
        let ml = known.ml_per_gram.clone().unwrap_or_else(|| Exact::from(16) / Exact::from(5));
        return Some(&known.millilitres / ml);
    }
    let weight = mixing.worth(made.weight.as_ref()?);
    if !made.baked {
        return Some(weight);
    }
    let loss = bake_loss(mixing, &made.kind.key).unwrap_or_default();
    (loss < Exact::ONE).then(|| weight / (Exact::ONE - loss))
}

/// The form of a named line, stage or of all the flour.
fn named_mass(
    mixing: &Mixing,
    solving: &Solving,
    target: &crate::syntax::tree::Target,
    flour: &Form,
    mass: &Form,
) -> Option<Form> {
    match target.name.key.as_str() {
        "flour" => return Some(flour.clone()),
        "dough" => return Some(mass.clone()),
        _ => {}
    }
    match mixing.goes(target) {
        Goes::Stage(stage) => Some(solving.stages[stage].goes_on_mass()),
        Goes::Ingredient(id) => solving.whole.get(Substance::Ingredient(id)).cloned(),
        Goes::Culture(_) | Goes::OldDough | Goes::Blend(_) => {
            let mixes = mixing.formula.stages.iter().map(|stage| &stage.mix);
            let forms = solving.stages.iter().chain([&solving.main]);
            let mut sum: Option<Form> = None;
            for (mix, forms) in mixes.chain(main_mix(mixing.formula)).zip(forms) {
                for (line, mass) in mix.lines.iter().zip(&forms.masses) {
                    if line.target.name.key == target.name.key {
                        sum = Some(sum.unwrap_or_default().plus(mass));
                    }
                }
            }
            sum
        }
        Goes::Nothing => None,
    }
}

/// The masses once everything is settled.
fn numbers(mixing: &mut Mixing, solving: &Solving, solution: &Solution, anchor: Anchor) -> Numbers {
    let values = &solution.values;
    let formula = mixing.formula;
    if solution.contradiction
        && let Some(mix) = main_mix(formula)
    {
        mixing.findings.push(say::size_given_twice::contradiction(formula, mix));
    }
    let stages = (0..formula.stages.len())
        .map(|stage| stage_numbers(mixing, solving, values, stage))
        .collect();
    let whole = Content::from_forms(&solving.whole, values);
    let mut numbers = Numbers {
        stages,
        whole,
        unlisted: Content::from_forms(&solving.unlisted, values),
        total_lines: Vec::new(),
        dough_lines: Vec::new(),
        basis: solving.main.basis.value(values),
        pieces: Vec::new(),
        anchor,
        left_over: Vec::new(),
    };
    if let Some(mix) = &formula.total {
        numbers.total_lines = own_lines(mixing, mix, &solving.main, values);
        let takes = Content::from_forms(&solving.takes, values);
        final_dough(mixing, mix, takes, &mut numbers);
    } else if let Some(mix) = &formula.dough {
        numbers.dough_lines = own_lines(mixing, mix, &solving.main, values);
    }
    note_left_overs(mixing, solving, &mut numbers, values);
    numbers.pieces = pieces(mixing, &numbers);
    numbers
}

fn own_lines(mixing: &Mixing, mix: &Mix, forms: &MixForms, values: &[Exact]) -> Vec<WorkedLine> {
    let lines = mix.lines.iter().enumerate().zip(&forms.masses);
    lines
        .map(|((index, line), mass)| WorkedLine {
            goes: mixing.goes(&line.target),
            name: line.target.name.shown.clone(),
            key: line.target.name.key.clone(),
            role: line.target.role.as_ref().map(|role| role.shown.clone()),
            mass: mass.value(values),
            line: Some(index),
        })
        .collect()
}

fn stage_numbers(
    mixing: &Mixing,
    solving: &Solving,
    values: &[Exact],
    stage: usize,
) -> StageNumbers {
    let declared = mixing.stage(stage);
    let forms = &solving.stages[stage];
    let lines = own_lines(mixing, &declared.mix, forms, values);
    let content = Content::from_forms(&forms.goes_on, values);
    let (goes_on, planned) = (content.mass(), forms.made.value(values));
    let saved = saved(mixing, declared);
    // What is saved is made besides; what is too little to handle is made larger.
    let mut factor = if goes_on.is_zero() { Exact::ONE } else { (&goes_on + &saved) / &goes_on };
    for least in &declared.at_least {
        let wanted = mixing.worth(&least.amount);
        let now = match least.name.key == declared.name.key {
            true => planned.clone(),
            false => lines
                .iter()
                .filter(|line| line.key == least.name.key)
                .fold(Exact::ZERO, |sum, line| sum + &line.mass),
        } * &factor;
        if now < wanted && !now.is_zero() {
            factor *= wanted / now;
        }
    }
    let basis = forms.basis.value(values);
    StageNumbers {
        lines,
        from_cultures: Content::from_forms(&forms.from_cultures, values),
        goes_on: content,
        made: &planned * &factor,
        factor,
        basis,
        saved,
        into_dough: solving.into_dough[stage].value(values),
        feeds: declared.feeds.map_or(1, |(feeds, _)| feeds.max(1)),
    }
}

/// Total form: the mixer gets what the stages leave.
fn final_dough(mixing: &mut Mixing, mix: &Mix, mut takes: Content, numbers: &mut Numbers) {
    let mut order: Vec<usize> = (0..mix.lines.len()).collect();
    // A stage takes from the line without a role first.
    order.sort_by_key(|&index| mix.lines[index].target.role.is_some());
    let mut left = vec![None; mix.lines.len()];
    for index in order {
        let line = &mix.lines[index];
        let mass = numbers.total_lines[index].mass.clone();
        let substance = match (mixing.goes(&line.target), &line.counting) {
            (Goes::Ingredient(id), _) => Substance::Ingredient(id),
            (Goes::Culture(id), Counting::NotSplit) => Substance::Whole(id),
            (Goes::Stage(_), _) | (Goes::Nothing, _) => continue,
            _ => {
                left[index] = Some(mass);
                continue;
            }
        };
        let wanted = takes.get(substance).cloned().unwrap_or_default();
        let taken = wanted.min(mass.clone());
        takes.add(substance, -taken.clone());
        left[index] = Some(mass - taken);
    }
    let unlisted: Vec<Substance> = numbers.unlisted.iter().map(|(flour, _)| flour).collect();
    let too_much: Vec<(Substance, Exact)> = takes
        .iter()
        .filter(|(substance, mass)| **mass > Exact::ZERO && !unlisted.contains(substance))
        .map(|(substance, mass)| (substance, mass.clone()))
        .collect();
    for (substance, excess) in too_much {
        stage_excess(mixing, mix, numbers, substance, &excess);
    }
    for (index, left) in left.into_iter().enumerate() {
        let Some(mass) = left else { continue };
        let is_soft = !matches!(mix.lines[index].amount, Amount::Measured { .. } | Amount::Rest);
        if mass.is_zero() && !is_soft {
            continue;
        }
        numbers.dough_lines.push(WorkedLine { mass, ..numbers.total_lines[index].clone() });
    }
    for (stage, declared) in mixing.formula.stages.iter().enumerate() {
        let mass = numbers.stages[stage].into_dough.clone();
        if !mass.is_zero() {
            numbers.dough_lines.push(WorkedLine {
                goes: Goes::Stage(stage),
                name: declared.name.shown.clone(),
                key: declared.name.key.clone(),
                role: None,
                mass,
                line: None,
            });
        }
    }
}

/// A stage needs more of something than the total has: an impossible dough, unless it
/// is within the last written digit of the total.
fn stage_excess(
    mixing: &mut Mixing,
    mix: &Mix,
    numbers: &mut Numbers,
    substance: Substance,
    excess: &Exact,
) {
    let total_line = mix.lines.iter().zip(&numbers.total_lines).find(|(line, _)| {
        match (mixing.goes(&line.target), substance) {
            (Goes::Ingredient(id), Substance::Ingredient(wanted)) => id == wanted,
            (Goes::Culture(id), Substance::Whole(wanted)) => id == wanted,
            _ => false,
        }
    });
    let source = numbers.stages.iter().enumerate().find_map(|(stage, worked)| {
        let line = worked.lines.iter().find(|line| match (line.goes, substance) {
            (Goes::Ingredient(id), Substance::Ingredient(wanted)) => id == wanted,
            (Goes::Culture(id), Substance::Whole(wanted)) => id == wanted,
            _ => false,
        });
        line.and_then(|line| line.line).map(|line| (stage, line))
    });
    let tolerance = total_line.map(|(line, worked)| line_tolerance(mixing, line, worked, numbers));
    if let Some(tolerance) = tolerance
        && *excess <= tolerance
    {
        if let Some((stage, line)) = source {
            let worked = &mut numbers.stages[stage];
            worked.lines[line].mass -= excess;
            worked.goes_on.add(substance, -excess.clone());
            worked.into_dough -= excess;
            worked.made -= excess;
        }
        return;
    }
    let needed = total_line.map_or(Exact::ZERO, |(_, line)| line.mass.clone()) + excess;
    let name = match substance {
        Substance::Ingredient(id) => mixing.house.ingredient(id).name.shown.clone(),
        Substance::Kept(id) | Substance::Whole(id) => mixing.house.culture(id).name.shown.clone(),
        Substance::OldDough => "old dough".into(),
    };
    let stage = source.map(|(stage, line)| (mixing.stage(stage), line)).or_else(|| {
        let culture_stage =
            mixing.formula.stages.iter().zip(&numbers.stages).find(|(_, worked)| {
                worked.goes_on.get(substance).is_some_and(|mass| !mass.is_zero())
            });
        culture_stage.map(|(stage, _)| (stage, usize::MAX))
    });
    mixing.findings.push(say::stage_takes_more_than_total::finding(
        &name,
        stage,
        total_line.map(|(line, _)| line),
        mix,
        &needed,
        &(&needed - excess),
        &mixing.flour_of(&numbers.whole),
    ));
}

/// Half of the last digit that a total's line is written to, in grams.
fn line_tolerance(
    _mixing: &Mixing,
    line: &crate::syntax::tree::Line,
    worked: &WorkedLine,
    _numbers: &Numbers,
) -> Exact {
    let Amount::Measured { range, .. } = &line.amount else { return Exact::ZERO };
    let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else { return Exact::ZERO };
    if quantity.number.is_zero() {
        return Exact::ZERO;
    }
    let last = quantity.decimals.map_or(Exact::ZERO, last_digit);
    &worked.mass * (last * half() / &quantity.number)
}

fn note_left_overs(
    mixing: &mut Mixing,
    solving: &Solving,
    numbers: &mut Numbers,
    values: &[Exact],
) {
    for stage in 0..solving.stages.len() {
        let declared = mixing.stage(stage);
        let sized = is_fixed(mixing, stage)
            || declared.sizes.iter().any(|size| !matches!(size.size, Size::OfTotal));
        let inner = inner_uses(mixing, solving, stage);
        let into = &numbers.stages[stage].into_dough;
        let used = inner.iter().fold(into.clone(), |sum, mass| sum + mass.value(values));
        let whole_elsewhere = used_whole_by_stage(mixing, stage);
        if !sized || whole_elsewhere {
            continue;
        }
        let ripe = numbers.stages[stage].goes_on.mass();
        if used > ripe {
            mixing.findings.push(say::size_given_twice::more_than_made(declared, &used, &ripe));
        } else if used < ripe && !used.is_zero() {
            let left = &ripe - &used;
            mixing.findings.push(say::left_over::finding(declared, &left, &ripe));
            numbers.left_over.push((stage, left));
        }
    }
}

fn pieces(mixing: &mut Mixing, numbers: &Numbers) -> Vec<WorkedPiece> {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return Vec::new() };
    let whole = numbers.whole.mass();
    let count: Exact = makes.pieces.iter().fold(Exact::ZERO, |sum, made| sum + &made.count.number);
    makes
        .pieces
        .iter()
        .map(|made| {
            let said = mixing.findings.len();
            let written = piece_weight(mixing, made);
            if numbers.anchor != Anchor::Weights {
                mixing.findings.truncate(said);
            }
            // Where weights settle the dough, what is written of a piece is a check;
            // a count without a weight shares the dough out.
            let make_up = formula.make_up_loss.as_ref().map(|loss| mixing.worth(loss));
            let shared = if count.is_zero() {
                Exact::ZERO
            } else {
                &whole * (Exact::ONE - make_up.unwrap_or_default()) / &count
            };
            let loss = bake_loss(mixing, &made.kind.key);
            let weight = written.clone().unwrap_or(shared);
            let made = MadeKind {
                kind: made.kind.shown.clone(),
                key: made.kind.key.clone(),
                count: made.count.number.clone(),
                weight,
                written: written.is_some(),
                tin: made.tin.as_ref().map(|tin| tin.shown.clone()),
                loss,
            };
            let lines = piece_lines(mixing, &made.key, &made.weight);
            WorkedPiece { made, lines }
        })
        .collect()
}

/// What one piece of a kind carries besides its dough, in grams.
fn piece_lines(mixing: &mut Mixing, kind: &str, dough: &Exact) -> Vec<WorkedLine> {
    let formula = mixing.formula;
    let blocks = formula
        .pieces
        .iter()
        .filter(|piece| piece.kind.as_ref().is_none_or(|own| is_kind(&own.key, kind)));
    let mut lines = Vec::new();
    for (index, line) in blocks.flat_map(|piece| &piece.mix.lines).enumerate() {
        let mass = match &line.amount {
            Amount::Measured { range, .. } => match range.low.as_ref().or(range.high.as_ref()) {
                Some(quantity) if quantity.unit.dimension() == Dimension::Share => {
                    mixing.worth(quantity) * dough
                }
                Some(quantity) => mixing.weigh(quantity, line),
                None => Exact::ZERO,
            },
            _ => Exact::ZERO,
        };
        lines.push(WorkedLine {
            goes: mixing.goes(&line.target),
            name: line.target.name.shown.clone(),
            key: line.target.name.key.clone(),
            role: line.target.role.as_ref().map(|role| role.shown.clone()),
            mass,
            line: Some(index),
        });
    }
    lines
}

/// A formula's title, or its name where it has none.
pub fn title(formula: &Formula) -> String {
    formula.title.as_ref().map_or_else(|| formula.name.shown.to_string(), plain)
}
