//! `yield-disagrees`: a block in weights that does not make what it says.

use super::context::Context;
use super::limits;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::SizedBy;
use crate::quantity::Exact;
use crate::quantity::display::trimmed;

/// `yield-disagrees`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "yield-disagrees",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("yield_disagrees.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (numbers, Some(makes)) = (context.first(), &context.worked.formula.makes) else { return };
    // Of pieces that nobody counted there are as many as the dough gives.
    let is_open = makes.pieces.iter().any(|made| !made.counted);
    if numbers.anchor != SizedBy::Weights || is_open {
        return;
    }
    // What is written, and the dough that it needs with what is lost in making up.
    let written = match &makes.dough {
        Some(dough) => Some((context.base(dough), context.base(dough))),
        None => numbers.pieces.iter().try_fold((Exact::ZERO, Exact::ZERO), |sum, piece| {
            let made = &piece.made;
            let mass = &made.weight * &made.count;
            let needs = mass.each_of(&(Exact::ONE - &made.make_up_loss));
            made.written.then(|| (sum.0 + mass, sum.1 + needs))
        }),
    };
    let Some(within) = limits::most("habit of sums", "yield") else { return };
    let Some((written, needs)) = written.filter(|(written, _)| !written.is_zero()) else { return };
    let whole = match makes.dough.is_some() {
        true => numbers.whole.mass(),
        false => numbers.into_pieces(),
    };
    let Some(has) = (&whole * &written).over(&needs) else { return };
    let off = &has - &written;
    if off.clone().max(-off.clone()) <= &written * within {
        return;
    }
    let working = match off < Exact::ZERO {
        true => format!("{} − {} = {} short", grams(&written), grams(&has), grams(&-off)),
        false => format!("{} − {} = {} too much", grams(&has), grams(&written), grams(&off)),
    };
    let mut said = Finding::new(
        &RULE,
        makes.span,
        format!("this makes {} of dough, not {}", grams(&has), grams(&written)),
    );
    if has != whole {
        let lost = &whole - &has;
        said = said.note(format!(
            "{} − {} lost in making up = {}",
            grams(&whole),
            grams(&lost),
            grams(&has)
        ));
    }
    said = said
        .note(working)
        .help("correct the weights or what it makes; `--makes` scales the whole on demand");
    // Of one kind of piece it is plain what each weighs.
    if let ([made], [piece]) = (makes.pieces.as_slice(), numbers.pieces.as_slice())
        && let Some(weight) = made.weight.as_ref().filter(|_| !made.baked)
        && let Some(each) = has.over(&piece.made.count)
    {
        let each = format!("{} g", trimmed(&each, 0));
        said = said.repair(weight.span, each, false);
    }
    findings.push(said);
}
