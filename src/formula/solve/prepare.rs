//! What does not depend on amounts: ranged lines, the order of stages, unknown names.

use crate::formula::findings as say;
use crate::formula::house::{House, key};
use crate::formula::limits::MAX_FEEDS;
use crate::formula::line_ref::LineRef;
use crate::formula::meant::{Meant, NamePlace};
use crate::formula::mixes::all_mixes;
use crate::formula::mixing::Mixing;
use crate::formula::spoken::deciding;
use crate::quantity::{Dimension, Exact};
use crate::source::Span;
use crate::syntax::tree::{Amount, Counting, Extent, Formula, Line, Mix, Size, Target};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// Where amounts are written as ranges with two ends.
pub(super) fn ranged_lines(formula: &Formula) -> Vec<Span> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let ranged = |extent: &Extent| extent.ranged && extent.low.is_some() && extent.high.is_some();
    let lines =
        blocks.chain(stages).flat_map(|mix| &mix.lines).filter_map(|line| match &line.amount {
            Amount::Measured { range, .. } => Some(range),
            _ => None,
        });
    let sizes = formula.stages.iter().flat_map(|stage| &stage.sizes);
    let sizes = sizes.filter_map(|size| match &size.size {
        Size::OfFlour(extent) => Some(extent),
        _ => None,
    });
    lines.chain(sizes).filter(|extent| ranged(extent)).map(|extent| extent.span).collect()
}

/// Finds an order in which every stage comes after those it uses.
pub(super) fn order_stages(mixing: &mut Mixing) {
    fn visit(mixing: &mut Mixing, stage: usize, open: &mut Vec<usize>) {
        if mixing.order.contains(&stage) {
            return;
        }
        open.push(stage);
        for line in &mixing.stage(stage).mix.lines {
            let LineRef::Stage(inner) = mixing.goes(&line.target) else { continue };
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
pub(super) fn name_the_unknown(mixing: &mut Mixing) {
    let formula = mixing.formula;
    let stages = formula.stages.iter().map(|stage| stage.name.key.as_str());
    let mixtures = formula.mixtures.iter().map(|mixture| mixture.name.key.as_str());
    let (own_stages, own_mixtures): (Vec<&str>, Vec<&str>) =
        (stages.clone().collect(), mixtures.collect());
    for (mix, line) in all_mixes(formula).flat_map(|mix| mix.lines.iter().map(move |it| (mix, it)))
    {
        let name = &line.target.name;
        let goes = mixing.goes(&line.target);
        match (goes, &line.amount) {
            // A circle and a row that is too long have been told where they were met.
            (LineRef::Nothing, _)
                if mixing.house.formula(&name.key).is_some()
                    || mixing.house.mixture(&name.key).is_some()
                    || mixing.formula.mixtures.iter().any(|own| own.name.key == name.key) => {}
            (LineRef::Nothing, amount) => {
                // A stage does not go into itself.
                let around = formula.stages.iter().find(|stage| std::ptr::eq(&stage.mix, mix));
                let others = own_stages.iter().copied();
                let others = others.filter(|own| around.is_none_or(|it| it.name.key != *own));
                let place = NamePlace {
                    stages: others.collect(),
                    mixtures: own_mixtures.clone(),
                    share: share_of_mix(mixing.house, mix, line),
                    is_flour: false,
                };
                let meanings = mixing.house.meanings(&name.key);
                mixing.findings.push(match amount {
                    _ if !meanings.is_empty() => {
                        let deciding = deciding(&name.key);
                        say::unknown_ingredient::several(name, &meanings, &deciding)
                    }
                    Amount::All => {
                        say::unknown_stage::finding(name, &mixing.house.meant_stage(name, &place))
                    }
                    _ => mixing.house.unknown(name, &place),
                });
            }
            (LineRef::Ingredient(_) | LineRef::Culture(_), Amount::All) => {
                let why = "`all` is for a stage, of which all that was made goes on";
                mixing.findings.push(say::amount_unclear::meaningless(line, why));
            }
            // What goes back of the finished dough is the next old dough.
            (LineRef::OldDough, _)
                if matches!(line.counting, Counting::KeptBack { from: None }) => {}
            (goes, _) => {
                let is_culture = matches!(goes, LineRef::Culture(_));
                if !is_culture && !matches!(line.counting, Counting::Counted) {
                    let why = "only a culture can be kept back or left whole";
                    mixing.findings.push(say::amount_unclear::meaningless(line, why));
                }
            }
        }
    }
    for line in formula.pieces.iter().flat_map(|piece| &piece.mix.lines) {
        let why = match (mixing.goes(&line.target), &line.amount) {
            (LineRef::Stage(_), _) => "a stage goes into the dough, not onto a piece",
            (LineRef::SideMix(_), Amount::All) => "of what goes onto a piece there is no `all`",
            _ => continue,
        };
        mixing.findings.push(say::amount_unclear::meaningless(line, why));
    }
    let beside = formula.mixtures.iter().map(|mixture| &mixture.mix);
    let main = formula.total.iter().chain(&formula.dough);
    for line in main.chain(beside).flat_map(|mix| &mix.lines) {
        if let (LineRef::Culture(_), Counting::KeptBack { .. }) =
            (mixing.goes(&line.target), &line.counting)
        {
            mixing.findings.push(say::misplaced_line::seed_outside_a_stage(line));
        }
    }
    for mix in all_mixes(formula) {
        let rests = mix.lines.iter().filter(|line| matches!(line.amount, Amount::Rest));
        for line in rests.skip(1) {
            let why = "only one line of a mix can be the rest";
            mixing.findings.push(say::amount_unclear::meaningless(line, why));
        }
    }
    for mix in all_mixes(formula) {
        twice_by_other_names(mixing, mix);
    }
    for stage in &formula.stages {
        if let Some((feeds, span)) = stage.feeds
            && feeds > MAX_FEEDS
        {
            mixing.findings.push(say::too_many::feeds(&stage.name, span, MAX_FEEDS));
        }
        if stage.mix.lines.is_empty() {
            let shared = mixing.house.meant(&stage.name.key, &NamePlace::default());
            mixing.findings.push(match shared {
                Meant::Slip(near) => say::unknown_stage::finding(&stage.name, &[near]),
                _ => match mixing.house.own_stages().as_slice() {
                    [] => say::empty_mix::empty(&stage.name),
                    shared => say::empty_mix::stage(&stage.name, shared),
                },
            });
        }
        for least in &stage.at_least {
            let own = least.name.key == stage.name.key;
            if own || stage.mix.lines.iter().any(|line| mixing.is_least_of(least, line)) {
                let target = Target { name: least.name.clone(), role: None };
                // What has no weight in spoons or pieces is told.
                mixing.weigh_named(&least.amount, &target);
            } else {
                let lines = stage.mix.lines.iter().map(|line| line.target.name.key.as_str());
                let near = mixing.house.meant_among(&least.name.key, &lines.collect::<Vec<_>>());
                let near: Vec<EcoString> = near.into_iter().map(EcoString::from).collect();
                mixing.findings.push(say::unknown_ingredient::not_in_stage(least, stage, &near));
            }
        }
        for line in &stage.mix.lines {
            if mixing.goes(&line.target) == LineRef::OldDough {
                mixing.findings.push(say::misplaced_line::old_dough_in_stage(line));
            }
            if let Counting::KeptBack { from: Some(from) } = &line.counting
                && !stages.clone().any(|stage| stage == from.key)
            {
                let near = mixing.house.meant_among(&from.key, &stages.clone().collect::<Vec<_>>());
                let near: Vec<EcoString> = near.into_iter().map(EcoString::from).collect();
                mixing.findings.push(say::unknown_stage::finding(from, &near));
            }
        }
    }
}

/// What a line is of the heaviest one of its mix, or of the flour where it says so.
fn share_of_mix(house: &House, mix: &Mix, line: &Line) -> Option<Exact> {
    let most = |line: &Line| match &line.amount {
        Amount::Measured { range, .. } => range.high.as_ref().or(range.low.as_ref()).cloned(),
        _ => None,
    };
    let own = most(line)?;
    if own.unit.dimension() == Dimension::Share {
        return Some(house.base(&own));
    }
    let weights = mix.lines.iter().filter_map(most);
    let weights = weights.filter(|it| it.unit.dimension() == Dimension::Mass);
    let heaviest = weights.map(|weight| house.base(&weight)).max()?;
    let is_weight = own.unit.dimension() == Dimension::Mass;
    house.base(&own).over(&heaviest).filter(|_| is_weight)
}

/// One ingredient twice in a mix, under two of its names.
fn twice_by_other_names(mixing: &mut Mixing, mix: &Mix) {
    let role = |line: &Line| line.target.role.as_ref().map(|role| role.shown.to_lowercase());
    // Of each ingredient and role the first line, and the first by another name.
    let mut seen: FxHashMap<_, (&Line, Option<&Line>)> = FxHashMap::default();
    for line in &mix.lines {
        let LineRef::Ingredient(id) = mixing.goes(&line.target) else { continue };
        let own = key(&line.target.name.shown);
        let is_other = |other: &&Line| key(&other.target.name.shown) != own;
        let (first, second) = seen.entry((id, role(line))).or_insert((line, None));
        let other = Some(*first).filter(is_other).or(second.filter(is_other));
        if is_other(first) {
            second.get_or_insert(line);
        }
        if let Some(first) = other {
            let (name, first) = (&line.target.name, &first.target.name);
            let said = say::declared_twice::by_another_name(name, first);
            mixing.findings.push(said);
        }
    }
}
