//! Working a formula out: every mass in it, exactly.

mod choice;
mod excess;
mod gather;
mod lines;
mod numbers;
mod pieces;
mod prepare;
mod scale;
mod sizes;
mod solving;
mod stages;
mod yields;

use super::classes::is_flour;
use super::composition::Composition;
use super::figures::fermented;
use super::findings as say;
use super::holdings;
use super::house::House;
use super::limits::{MAX_KINDS, MAX_LINES, MAX_NESTED, MAX_RANGES, MAX_SIDE_MIXES, MAX_STAGES};
use super::meant::NamePlace;
use super::merge;
use super::mixes::{all_mixes, mixes_of, step_names};
use super::mixing::Mixing;
use super::origin::Origin;
use super::piece_kinds::is_kind;
use super::side_mix::SideMix;
use super::worked::{Within, Worked, WorkedPiece, before_loss};
use crate::diag::{Finding, Group, Level};
use crate::quantity::{Exact, Unit, int};
use crate::syntax::tree::{Factor, Formula, MadePiece, Makes, Mixture, Name, Phase, Quantity};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::borrow::Cow;

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
    let mut makes = match &makes.factor {
        None => makes.clone(),
        Some(factor) => match times_of(&own, factor, makes) {
            Ok(makes) => makes,
            Err(finding) => {
                findings.push(*finding);
                return own;
            }
        },
    };
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
    let asked_for = |makes: &Makes, findings: &mut Vec<Finding>| {
        let makes = Some(makes.clone());
        Worker { house, trail: Vec::new(), known: FxHashMap::default(), makes }
            .work(formula, findings)
    };
    let said = findings.len();
    let mut worked = asked_for(&makes, findings);
    if makes.pieces.is_empty() {
        if let Some(made) = divided_as_usual(&own, &worked.first().into_pieces()) {
            makes.pieces.push(made);
            findings.truncate(said);
            worked = asked_for(&makes, findings);
        }
        worked.usual_pieces = own.first().pieces.clone();
    }
    leave_out_kinds(&mut worked, &own.first().pieces);
    let written = own.first().whole.mass();
    if let Some(times) = worked.first().whole.mass().over(&written) {
        worked.scaled = times;
    }
    worked
}

/// Of several kinds that a formula makes only some may be asked for: what steps and pieces say
/// of the others is left out.
fn leave_out_kinds(worked: &mut Worked, written: &[WorkedPiece]) {
    let made = &worked.first().pieces;
    let is_made = |key: &str| made.iter().any(|piece| is_kind(&piece.made.key, key));
    let gone: Vec<EcoString> = match made.is_empty() {
        true => Vec::new(),
        false => written.iter().map(|it| it.made.key.clone()).filter(|it| !is_made(it)).collect(),
    };
    if gone.is_empty() {
        return;
    }
    let is_gone = |kind: &Option<Name>| {
        kind.as_ref().is_some_and(|kind| gone.iter().any(|gone| is_kind(gone, &kind.key)))
    };
    let counts_gone = |phase: &Phase| {
        phase.per.as_ref().is_some_and(|per| gone.iter().any(|it| is_kind(it, &per.kind.key)))
    };
    let formula = worked.formula.to_mut();
    formula.pieces.retain(|piece| !is_gone(&piece.kind));
    for step in formula.method.iter_mut().flat_map(|method| &mut method.steps) {
        // What follows in a step is for the kind that it was for so far.
        let mut kind: Option<Name> = None;
        step.phases.retain(|phase| {
            kind = phase.kind.clone().or(kind.take());
            !is_gone(&kind) && !counts_gone(phase)
        });
    }
    if let Some(method) = &mut formula.method {
        method.steps.retain(|step| !step.phases.is_empty());
    }
}

/// As much of what a formula makes as is asked for: whole pieces where that comes out, else
/// so much dough.
fn times_of(own: &Worked, factor: &Factor, asked: &Makes) -> Result<Makes, Box<Finding>> {
    let serves = own.formula.serves.as_ref().and_then(|serves| serves.high.as_ref());
    let times = match (factor, serves) {
        (Factor::Times(times), _) => Some(times.clone()),
        (Factor::People(people), Some(serves)) => people.over(&serves.number),
        (Factor::People(_), None) => None,
    };
    let Some(times) = times else {
        return Err(say::yield_not_in_formula::no_portions(asked.span).into());
    };
    let span = asked.span;
    let mut makes = Makes { pieces: Vec::new(), dough: None, from: None, factor: None, span };
    let written = own.formula.makes.iter().flat_map(|makes| &makes.pieces);
    let pieces: Vec<MadePiece> = written
        .map(|made| {
            let number = &made.count.number * &times;
            let weight = made.weight.clone();
            MadePiece { count: Quantity { number, ..made.count.clone() }, weight, ..made.clone() }
        })
        .collect();
    let is_whole = |made: &MadePiece| made.counted && made.count.number.is_int();
    let is_sized = own.first().pieces.iter().all(|piece| !piece.made.weight.is_zero());
    if !pieces.is_empty() && pieces.iter().all(is_whole) && is_sized {
        makes.pieces = pieces;
    } else {
        let number = own.first().whole.mass() * times;
        makes.dough = Some(Quantity { number, unit: Unit::Gram, decimals: None, span });
    }
    Ok(makes)
}

/// The pieces into which so much dough is divided, where the formula makes one kind, of a
/// weight that it says, and the dough gives at least two.
fn divided_as_usual(own: &Worked, dough: &Exact) -> Option<MadePiece> {
    let ([piece], [made]) =
        (own.first().pieces.as_slice(), own.formula.makes.as_ref()?.pieces.as_slice())
    else {
        return None;
    };
    let one = before_loss(&piece.made.weight, &piece.made.make_up_loss);
    if !piece.made.written || one.is_zero() || *dough < one * int(2) {
        return None;
    }
    let weight = Quantity {
        number: piece.made.weight.clone(),
        unit: Unit::Gram,
        decimals: None,
        span: made.span,
    };
    let count = Quantity { number: Exact::ZERO, ..made.count.clone() };
    let made =
        MadePiece { count, counted: false, weight: Some(weight), baked: false, ..made.clone() };
    Some(made)
}

/// Leaves out what is more than a formula can sensibly have, and says so.
fn bound(whole: &mut Cow<Formula>, findings: &mut Vec<Finding>) {
    if whole.stages.len() > MAX_STAGES {
        findings.push(say::too_many::stages(whole, MAX_STAGES));
        whole.to_mut().stages.truncate(MAX_STAGES);
    }
    let made = whole.makes.as_ref().map_or(0, |makes| makes.pieces.len());
    if made.max(whole.pieces.len()) > MAX_KINDS {
        findings.push(say::too_many::kinds(whole, MAX_KINDS));
        let whole = whole.to_mut();
        whole.pieces.truncate(MAX_KINDS);
        whole.makes.iter_mut().for_each(|makes| makes.pieces.truncate(MAX_KINDS));
    }
    let lines = all_mixes(whole).map(|mix| mix.lines.len()).sum();
    if lines > MAX_LINES {
        findings.push(say::too_many::lines(whole, lines, MAX_LINES));
        let mut left = MAX_LINES;
        for mix in mixes_of(whole.to_mut()) {
            mix.lines.truncate(left);
            left -= mix.lines.len();
        }
    }
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
    known: FxHashMap<EcoString, SideMix>,
    /// What to make instead of what the formula says; for the outermost formula only.
    makes: Option<Makes>,
}

impl<'t> Worker<'t> {
    fn work(&mut self, formula: &'t Formula, findings: &mut Vec<Finding>) -> Worked<'t> {
        let first = findings.len();
        let mut whole = merge::whole(self.house, formula, findings);
        bound(&mut whole, findings);
        let asked = self.makes.take();
        if let Some(makes) = &asked {
            whole.to_mut().makes = Some(makes.clone());
        }
        self.trail.push(formula.name.key.clone());
        let mut mixing = Mixing {
            house: self.house,
            formula: &whole,
            side_mixes: Vec::new(),
            side_mix_of: FxHashMap::default(),
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
        let ranges = mixing.ranged.len().min(MAX_RANGES);
        for choice in 0..1usize << ranges {
            mixing.high = (0..ranges).map(|bit| choice >> bit & 1 == 1).collect();
            let said = mixing.findings.len();
            choices.push(choice::solve(&mut mixing, asked.is_some()));
            // The low ends say it all once.
            if choice > 0 {
                mixing.findings.truncate(said);
            }
        }
        self.trail.pop();
        let side_mixes = std::mem::take(&mut mixing.side_mixes);
        let counts_as_flour = std::mem::take(&mut mixing.counts_as_flour);
        let order = std::mem::take(&mut mixing.order);
        let known = mixing
            .findings
            .iter()
            .chain(&findings[first..])
            .all(|finding| !is_of_names(finding) || finding.level != Level::Error);
        // What it rests on has had its finding where it stands.
        let rests_on_slip = all_mixes(&whole).flat_map(|mix| &mix.lines).any(|line| {
            let key = &line.target.name.key;
            let culture = self.house.culture_named(key);
            culture.is_some_and(|(_, culture)| culture.broken)
                || self.house.mixture(key).is_some_and(|mixture| mixture.mix.broken)
        });
        let known = known && !rests_on_slip;
        if whole.broken || !known {
            // Where something could not be read or is unknown, sums that do not come out
            // would only say it again.
            mixing.findings.retain(is_of_names);
        }
        findings.append(&mut mixing.findings);
        let sound = !rests_on_slip
            && !whole.broken
            && findings[first..].iter().all(|finding| finding.level != Level::Error);
        drop(mixing);
        let flour_ids = all_mixes(&whole)
            .flat_map(|mix| &mix.lines)
            .filter_map(|line| self.house.ingredient_id(&line.target.name.key))
            .filter(|id| is_flour(self.house, &counts_as_flour, *id))
            .collect();
        let readable = known && !whole.broken;
        Worked {
            house: self.house,
            formula: whole,
            side_mixes,
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

    /// Everything that does not depend on amounts: names, side mixes, the order of stages.
    fn prepare(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        mixing.ranged = prepare::ranged_lines(formula);
        let blocks = formula.total.iter().chain(&formula.dough);
        let names = blocks.flat_map(|mix| &mix.counts_as_flour);
        for name in names {
            match mixing.house.ingredient_id(&name.key) {
                Some(id) => mixing.counts_as_flour.push(id),
                None => {
                    let place = NamePlace { is_flour: true, ..NamePlace::default() };
                    mixing.findings.push(mixing.house.unknown(name, &place));
                }
            }
        }
        if let (Some(total), Some(dough)) = (&formula.total, &formula.dough) {
            mixing.findings.push(say::size_given_twice::total_and_dough(total, dough));
        }
        self.find_side_mixes(mixing);
        prepare::order_stages(mixing);
        prepare::name_the_unknown(mixing);
    }

    /// Side mixes and other formulas that lines and pieces name.
    fn find_side_mixes(&mut self, mixing: &mut Mixing<'_, 't>) {
        let formula = mixing.formula;
        let mut wanted: Vec<&Name> =
            all_mixes(formula).flat_map(|mix| &mix.lines).map(|line| &line.target.name).collect();
        wanted.extend(step_names(formula).chain(holdings::grease(self.house, formula)));
        let mut own: FxHashMap<&EcoString, &Mixture> = FxHashMap::default();
        for mixture in &formula.mixtures {
            own.entry(&mixture.name.key).or_insert(mixture);
        }
        for name in wanted {
            self.side_mix(mixing, name, &own, &mut Vec::new());
            if mixing.side_mixes.len() > MAX_SIDE_MIXES {
                mixing.findings.push(say::too_many::side_mixes(name, MAX_SIDE_MIXES));
                return;
            }
        }
    }

    /// `own` are the formula's mixtures by name, `open` those that are being worked out.
    fn side_mix(
        &mut self,
        mixing: &mut Mixing<'_, 't>,
        name: &Name,
        own: &FxHashMap<&EcoString, &Mixture>,
        open: &mut Vec<EcoString>,
    ) {
        let formula = mixing.formula;
        let known = mixing.side_mix_of.contains_key(&name.key)
            || formula.stages.iter().any(|stage| stage.name.key == name.key);
        if known {
            return;
        }
        let declared = own.get(&name.key).copied();
        if let Some(mixture) = declared.or_else(|| self.house.mixture(&name.key)) {
            if open.contains(&name.key) {
                mixing
                    .findings
                    .push(say::stage_cycle::finding(open.iter().chain([&name.key]), name));
                return;
            }
            if open.len() >= MAX_NESTED {
                mixing.findings.push(say::too_many::mixtures(name, MAX_NESTED));
                return;
            }
            open.push(name.key.clone());
            for line in &mixture.mix.lines {
                self.side_mix(mixing, &line.target.name, own, open);
            }
            open.pop();
            let (per_gram, shares, own_mass) = self.mixture_content(mixing, mixture);
            let lines = &mixture.mix.lines;
            let holds = holdings::of_lines(self.house, lines, &mixing.side_mixes, formula);
            mixing.add_side_mix(SideMix {
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
        let is_own = self.trail.last() == Some(&name.key);
        if let Some(asked) = self.house.named_like_a_food(name, is_own) {
            if mixing.findings.iter().all(|told| told.about != asked.about) {
                mixing.findings.push(asked);
            }
            return;
        }
        if self.trail.contains(&name.key) {
            let names = self.trail.iter().map(EcoString::as_str).collect();
            mixing.findings.push(say::piece_cycle::finding(names, name));
            return;
        }
        if self.trail.len() > MAX_NESTED {
            mixing.findings.push(say::too_many::nested(name, MAX_NESTED));
            return;
        }
        if let Some(known) = self.known.get(&name.key) {
            mixing.add_side_mix(SideMix { shown: name.shown.clone(), ..known.clone() });
            return;
        }
        // Its own findings are told where it stands; a circle has no other place.
        let mut inner = Vec::new();
        let worked = self.work(other, &mut inner);
        let tells = [&say::piece_cycle::RULE, &say::too_many::RULE];
        inner.retain(|finding| tells.contains(&finding.rule));
        let inner_is_empty = inner.is_empty();
        mixing.findings.append(&mut inner);
        let side_mix = SideMix {
            key: name.key.clone(),
            shown: name.shown.clone(),
            per_gram: worked.first().whole_content().per_gram().unwrap_or_default(),
            shares: Vec::new(),
            own_mass: Exact::ZERO,
            fermented: fermented_by_gram(&worked),
            holds: holdings::of_formula(&worked),
            is_formula: true,
        };
        if inner_is_empty {
            self.known.insert(name.key.clone(), side_mix.clone());
        }
        mixing.add_side_mix(side_mix);
    }

    /// A mixture may stand in the house, which outlives the formula, or in the formula.
    fn mixture_content(
        &self,
        mixing: &mut Mixing<'_, 't>,
        mixture: &Mixture,
    ) -> (Composition, Vec<Exact>, Exact) {
        let mut aside = Mixing {
            house: mixing.house,
            formula: mixing.formula,
            side_mixes: std::mem::take(&mut mixing.side_mixes),
            side_mix_of: std::mem::take(&mut mixing.side_mix_of),
            counts_as_flour: std::mem::take(&mut mixing.counts_as_flour),
            old_dough: None,
            high: Vec::new(),
            ranged: Vec::new(),
            make_ups: Vec::new(),
            order: Vec::new(),
            findings: Vec::new(),
        };
        let content = aside.mixture(mixture);
        // Only lent: a copy for each of many mixtures would be what takes the time.
        mixing.side_mixes = std::mem::take(&mut aside.side_mixes);
        mixing.side_mix_of = std::mem::take(&mut aside.side_mix_of);
        mixing.counts_as_flour = std::mem::take(&mut aside.counts_as_flour);
        mixing.findings.append(&mut aside.findings);
        content
    }
}

/// Flour in a gram of a formula's dough that was fermented before it.
fn fermented_by_gram(worked: &Worked) -> Exact {
    let numbers = worked.first();
    let fermented = fermented::<Exact>(&Origin::new(worked, numbers), Within::All);
    fermented.and_then(|mass| mass.over(&numbers.whole.mass())).unwrap_or_default()
}
