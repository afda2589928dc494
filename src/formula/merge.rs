//! A formula with all that it inherits: `from`, and the stages a house shares.

use super::findings as say;
use super::house::House;
use super::limits::MAX_GENERATIONS;
use crate::diag::Finding;
use crate::syntax::tree::{Formula, Line, Mix, Name, NotedText, Piece, Stage, Target};
use ecow::EcoString;
use std::borrow::Cow;

/// What formulas share, by name: a whole house, or only its trees.
pub trait Shelf<'t> {
    /// The formula that has a name.
    fn shared_formula(&self, key: &str) -> Option<&'t Formula>;
    /// The shared stage that has a name.
    fn shared_stage(&self, key: &str) -> Option<&'t Stage>;
    /// The formula that a name most likely means.
    fn near(&self, key: &str) -> Option<EcoString>;
}

impl<'t> Shelf<'t> for House<'t> {
    fn shared_formula(&self, key: &str) -> Option<&'t Formula> {
        self.formula(key)
    }

    fn shared_stage(&self, key: &str) -> Option<&'t Stage> {
        self.stage(key)
    }

    fn near(&self, key: &str) -> Option<EcoString> {
        self.near_formula(key)
    }
}

/// The formula with all that it inherits, and nothing said of what is wrong with it.
pub fn inherited<'t>(shelf: &impl Shelf<'t>, formula: &'t Formula) -> Cow<'t, Formula> {
    whole(shelf, formula, &mut Vec::new())
}

/// The formula as it is to be worked out.
pub fn whole<'t>(
    house: &impl Shelf<'t>,
    formula: &'t Formula,
    findings: &mut Vec<Finding>,
) -> Cow<'t, Formula> {
    let mut merged = inherit(house, formula, &mut Vec::new(), findings);
    if merged.method.as_ref().is_some_and(|method| method.broken) {
        merged.to_mut().method = None;
    }
    if uses_shared_stages(house, &merged) {
        let own = merged.to_mut();
        let (stages, is_broken) = share_stages(house, own);
        own.stages = stages;
        own.broken |= is_broken;
    }
    merged
}

fn inherit<'t>(
    house: &impl Shelf<'t>,
    formula: &'t Formula,
    trail: &mut Vec<&'t Name>,
    findings: &mut Vec<Finding>,
) -> Cow<'t, Formula> {
    let Some(from) = &formula.from else {
        let own = |stage: &&Stage| house.shared_stage(&stage.name.key).is_none();
        let stages = formula.stages.iter().filter(own).map(|stage| &stage.mix);
        let beside = formula.mixtures.iter().map(|mixture| &mixture.mix);
        let pieces = formula.pieces.iter().map(|piece| &piece.mix);
        let mixes = formula.total.iter().chain(&formula.dough).chain(stages).chain(beside);
        let in_mixes = mixes.chain(pieces).flat_map(|mix| &mix.without);
        for target in formula.without.iter().chain(in_mixes) {
            findings.push(say::overrides_nothing::finding(&target.name));
        }
        return Cow::Borrowed(formula);
    };
    if trail.iter().any(|name| name.key == formula.name.key) {
        let names = trail.iter().map(|name| name.shown.as_str()).collect();
        findings.push(say::from_cycle::finding(names, &formula.name, from.span));
        return Cow::Borrowed(formula);
    }
    if trail.len() >= MAX_GENERATIONS {
        findings.push(say::too_many::generations(from, MAX_GENERATIONS));
        return Cow::Borrowed(formula);
    }
    trail.push(&formula.name);
    let Some(parent) = house.shared_formula(&from.key) else {
        findings.push(say::unknown_formula::finding(from, house.near(&from.key)));
        return Cow::Borrowed(formula);
    };
    let parent = inherit(house, parent, trail, findings).into_owned();
    Cow::Owned(merge(parent, formula, findings))
}

fn merge(parent: Formula, child: &Formula, findings: &mut Vec<Finding>) -> Formula {
    let mut stages = merge_stages(parent.stages, &child.stages, findings);
    let mut mixtures = parent.mixtures;
    for mixture in &child.mixtures {
        match mixtures.iter_mut().find(|old| old.name.key == mixture.name.key) {
            Some(old) => {
                merge_mix(&mut old.mix, &mixture.mix, findings);
                old.texts = merge_texts(std::mem::take(&mut old.texts), &mixture.texts);
            }
            None => mixtures.push(mixture.clone()),
        }
    }
    for target in &child.without {
        let before = stages.len() + mixtures.len();
        stages.retain(|stage| stage.name.key != target.name.key);
        mixtures.retain(|mixture| mixture.name.key != target.name.key);
        if before == stages.len() + mixtures.len() {
            findings.push(say::overrides_nothing::finding(&target.name));
        }
    }
    Formula {
        name: child.name.clone(),
        title: child.title.clone(),
        from: None,
        style: child.style.clone().or(parent.style),
        makes: child.makes.clone().or(parent.makes),
        // What was said of another yield says nothing of this one.
        serves: child.serves.clone().or(parent.serves.filter(|_| child.makes.is_none())),
        bake_loss: child.bake_loss.clone().or(parent.bake_loss),
        make_up_loss: child.make_up_loss.clone().or(parent.make_up_loss),
        total: merge_block(parent.total, child.total.as_ref(), findings),
        dough: merge_block(parent.dough, child.dough.as_ref(), findings),
        stages,
        mixtures,
        pieces: merge_pieces(parent.pieces, &child.pieces, findings),
        method: child.method.clone().or(parent.method),
        expect: child.expect.clone(),
        allow: child.allow.clone(),
        texts: merge_texts(parent.texts, &child.texts),
        without: Vec::new(),
        span: child.span,
        broken: parent.broken || child.broken,
    }
}

fn merge_block(
    parent: Option<Mix>,
    child: Option<&Mix>,
    findings: &mut Vec<Finding>,
) -> Option<Mix> {
    match (parent, child) {
        (Some(mut parent), Some(child)) => {
            merge_mix(&mut parent, child, findings);
            Some(parent)
        }
        (parent, child) => child.cloned().or(parent),
    }
}

/// Lines of the same name and role replace, new ones are added, `without` removes.
fn merge_mix(parent: &mut Mix, child: &Mix, findings: &mut Vec<Finding>) {
    for target in &child.without {
        let before = parent.lines.len();
        parent.lines.retain(|line| !same(&line.target, target));
        if before == parent.lines.len() {
            findings.push(say::overrides_nothing::finding(&target.name));
        }
    }
    for line in &child.lines {
        match parent.lines.iter_mut().find(|old| same(&old.target, &line.target)) {
            Some(old) => *old = Line::clone(line),
            None => parent.lines.push(line.clone()),
        }
    }
    parent.counts_as_flour.extend(child.counts_as_flour.iter().cloned());
    if !child.save.is_empty() {
        parent.save.clone_from(&child.save);
    }
    parent.span = child.span;
}

/// Whether two lines have the same name and role.
pub fn same(one: &Target, two: &Target) -> bool {
    one.name.key == two.name.key && role(one) == role(two)
}

fn role(target: &Target) -> Option<&str> {
    target.role.as_ref().map(|role| role.key.as_str())
}

fn merge_stages(
    mut stages: Vec<Stage>,
    children: &[Stage],
    findings: &mut Vec<Finding>,
) -> Vec<Stage> {
    for child in children {
        match stages.iter_mut().find(|old| old.name.key == child.name.key) {
            Some(old) => merge_stage(old, child, findings),
            None => stages.push(child.clone()),
        }
    }
    stages
}

fn merge_stage(stage: &mut Stage, child: &Stage, findings: &mut Vec<Finding>) {
    merge_mix(&mut stage.mix, &child.mix, findings);
    stage.kind = child.kind;
    stage.name = child.name.clone();
    stage.span = child.span;
    if !child.sizes.is_empty() {
        stage.sizes.clone_from(&child.sizes);
    }
    let replace = |old: &mut Vec<_>, new: &Vec<_>| {
        if !new.is_empty() {
            old.clone_from(new);
        }
    };
    replace(&mut stage.ripens, &child.ripens);
    replace(&mut stage.keeps, &child.keeps);
    replace(&mut stage.stands, &child.stands);
    if !child.at_least.is_empty() {
        stage.at_least.clone_from(&child.at_least);
    }
    if !child.save.is_empty() {
        stage.save.clone_from(&child.save);
    }
    stage.feeds = child.feeds.or(stage.feeds);
    stage.loses = child.loses.clone().or(stage.loses.take());
    stage.method = child.method.clone().or(stage.method.take());
    stage.texts = merge_texts(std::mem::take(&mut stage.texts), &child.texts);
}

fn merge_pieces(
    mut pieces: Vec<Piece>,
    children: &[Piece],
    findings: &mut Vec<Finding>,
) -> Vec<Piece> {
    let kind = |piece: &Piece| piece.kind.as_ref().map(|kind| kind.key.clone());
    for child in children {
        match pieces.iter_mut().find(|old| kind(old) == kind(child)) {
            Some(old) => {
                merge_mix(&mut old.mix, &child.mix, findings);
                old.bake_loss = child.bake_loss.clone().or(old.bake_loss.take());
                old.make_up_loss = child.make_up_loss.clone().or(old.make_up_loss.take());
            }
            None => pieces.push(child.clone()),
        }
    }
    pieces
}

/// A text of a kind replaces all of that kind.
fn merge_texts(mut texts: Vec<NotedText>, children: &[NotedText]) -> Vec<NotedText> {
    texts.retain(|old| children.iter().all(|new| new.kind != old.kind));
    texts.extend(children.iter().cloned());
    texts
}

fn uses_shared_stages<'t>(house: &impl Shelf<'t>, formula: &Formula) -> bool {
    formula.stages.iter().any(|stage| house.shared_stage(&stage.name.key).is_some())
        || lines(formula).any(|line| house.shared_stage(&line.target.name.key).is_some())
}

fn lines(formula: &Formula) -> impl Iterator<Item = &Line> {
    lines_with(formula, &formula.stages)
}

fn lines_with<'f>(formula: &'f Formula, stages: &'f [Stage]) -> impl Iterator<Item = &'f Line> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = stages.iter().map(|stage| &stage.mix);
    blocks.chain(stages).flat_map(|mix| &mix.lines)
}

/// A formula's own mentions of shared stages filled with what the house says of them, and the
/// shared stages that lines name; and whether one of these can't be read.
fn share_stages<'t>(house: &impl Shelf<'t>, formula: &Formula) -> (Vec<Stage>, bool) {
    let mut is_broken = false;
    let mut stages: Vec<Stage> = Vec::with_capacity(formula.stages.len() + 1);
    for stage in &formula.stages {
        stages.push(match house.shared_stage(&stage.name.key) {
            Some(shared) => {
                let mut filled = shared.clone();
                merge_stage(&mut filled, stage, &mut Vec::new());
                is_broken |= shared.mix.broken;
                filled
            }
            None => stage.clone(),
        });
    }
    loop {
        let missing = lines_with(formula, &stages).find_map(|line| {
            let key = &line.target.name.key;
            let has = stages.iter().any(|stage| stage.name.key == *key);
            if has { None } else { house.shared_stage(key) }
        });
        match missing {
            Some(stage) => {
                is_broken |= stage.mix.broken;
                stages.push(stage.clone());
            }
            None => return (stages, is_broken),
        }
    }
}
