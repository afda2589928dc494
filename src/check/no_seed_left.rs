//! `no-seed-left`: a stage that leaves no seed although some is to be kept.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::LineRef;
use crate::quantity::Exact;
use crate::syntax::tree::{Counting, Line, Name};

/// `no-seed-left`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "no-seed-left",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("no_seed_left.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        for (place, line) in stage.mix.lines.iter().enumerate() {
            let Counting::KeptBack { from: Some(from) } = &line.counting else { continue };
            let later =
                context.worked.formula.stages.iter().position(|other| other.name.key == from.key);
            let Some(later) = later else { continue };
            let flows = context.flows_into(index, later);
            if !flows {
                findings.push(
                    Finding::new(
                        &RULE,
                        line.span,
                        format!(
                            "there is no `{}` in `{}`, so no seed can be kept back from it",
                            stage.name.shown, from.shown
                        ),
                    )
                    .help("keep it back from a stage that this one feeds"),
                );
            } else if later != index
                && let Some(finding) = too_little(context, (index, place), line, later, from)
            {
                findings.push(finding);
            }
        }
    }
}

/// Seed of which a part went elsewhere, so that less comes back than was begun with.
fn too_little(
    context: &Context,
    (index, place): (usize, usize),
    line: &Line,
    later: usize,
    from: &Name,
) -> Option<Finding> {
    let numbers = context.first();
    // Of a stage that is fed several times it goes in at the first feed.
    let stage = &numbers.stages[index];
    let lines = stage.earlier.first().map_or(&stage.lines, |first| &first.lines);
    let seed = &lines[place];
    let LineRef::Culture(id) = seed.goes else { return None };
    let mut kept = context.worked.seeds_kept(numbers, later);
    kept.retain(|(culture, _)| *culture == id);
    let back = kept.iter().fold(Exact::ZERO, |sum, (_, mass)| sum + mass);
    (back < seed.mass).then(|| {
        let less = &seed.mass - &back;
        Finding::new(
            &RULE,
            line.span,
            format!(
                "of {} `{}` only {} can be kept back from `{}`",
                grams(&seed.mass),
                seed.name,
                grams(&back),
                from.shown
            ),
        )
        .note(format!("{} go elsewhere, and count as part of the dough", grams(&less)))
        .help("keep it back from a stage that all of this one goes into, or leave out `kept back`")
    })
}
