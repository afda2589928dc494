//! What does not hang on amounts: ranged lines, the order of stages, unknown names.

use crate::diag::{Finding, Group, nearest};
use crate::formula::findings as say;
use crate::formula::mixing::{Goes, Mixing};
use crate::source::Span;
use crate::syntax::tree::{Amount, Counting, Extent, Formula, Mix, Name, With};
use ecow::EcoString;

pub(super) fn is_about_names(finding: &Finding) -> bool {
    finding.rule.group == Group::Names || finding.rule.name == "stage-cycle"
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
pub(super) fn step_names(formula: &Formula) -> impl Iterator<Item = &Name> {
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

pub(super) fn ranged_lines(formula: &Formula) -> Vec<Span> {
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
pub(super) fn order_stages(mixing: &mut Mixing) {
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
pub(super) fn name_the_unknown(mixing: &mut Mixing) {
    let formula = mixing.formula;
    let stage_names = formula.stages.iter().map(|stage| stage.name.key.as_str());
    let stage_names: Vec<&str> = stage_names.collect();
    let mixes = all_mixes(formula).flat_map(|mix| &mix.lines);
    for line in mixes {
        if mixing.goes(&line.target) != Goes::Nothing {
            continue;
        }
        let name = &line.target.name;
        let near = nearest(&name.key, stage_names.iter().copied())
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
                let near = nearest(&from.key, stage_names.iter().copied());
                mixing.findings.push(say::unknown_stage::finding(from, near.map(EcoString::from)));
            }
        }
    }
}
