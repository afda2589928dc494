//! The size that each stage has, or that those who use it ask for.

use super::uses::{inner_uses, is_fixed, main_uses, used_whole_by_stage, whole_uses};
use crate::formula::findings as say;
use crate::formula::linear::LinearExpr;
use crate::formula::mixing::{Mixing, Scope};
use crate::formula::solve::solving::Solving;
use crate::syntax::tree::Size;

/// Demands the size that each stage has, or that those who use it ask for.
pub fn size_stages(mixing: &mut Mixing, scope: &mut Scope, solving: &mut Solving) {
    let in_total = mixing.formula.total.is_some();
    for stage in mixing.order.clone() {
        let declared = mixing.stage(stage);
        let from_stages = inner_uses(mixing, solving, stage);
        let used_by_stage = !from_stages.is_empty() || used_whole_by_stage(mixing, stage);
        let from_main: Vec<LinearExpr> = main_uses(mixing, solving, stage);
        let mut uses = from_stages;
        uses.extend(from_main.iter().cloned());
        let takes_all =
            solving.taken_whole[stage] || (in_total && !used_by_stage && from_main.is_empty());
        let goes_on = solving.stages[stage].goes_on_mass();
        let all_uses = uses.iter().fold(LinearExpr::default(), |sum, mass| sum.plus(mass));
        let fixed = is_fixed(mixing, stage);
        if declared.sizes.len() > 1 {
            mixing.findings.push(say::size_given_twice::sizes(declared));
        }
        // In a total the dough gets what other stages leave; elsewhere all is all.
        let whole_uses = whole_uses(mixing, stage);
        let leaves_the_rest = uses.is_empty() || (in_total && solving.taken_whole[stage]);
        if whole_uses.len() > 1 || (!whole_uses.is_empty() && !leaves_the_rest) {
            mixing.findings.push(say::size_given_twice::all_and_more(declared, whole_uses[0]));
        }
        match declared.sizes.first().map(|size| &size.size) {
            Some(Size::OfFlour(extent)) => {
                let flour = mixing.flour_in(&solving.stages[stage].goes_on);
                if flour.is_zero() && !declared.mix.lines.is_empty() {
                    mixing.findings.push(say::percentage_of_nothing::no_flour(declared));
                } else if let Some(share) = mixing.share_of(extent) {
                    let wanted = scope.flour().times(&share);
                    scope.system.demand(flour.minus(&wanted));
                }
                if !uses.is_empty() && !takes_all {
                    mixing.findings.push(say::size_given_twice::used_elsewhere(declared));
                }
            }
            Some(Size::Weighs(_) | Size::OfTotal) => {}
            None if fixed => {}
            None if !uses.is_empty() && !takes_all => {
                scope.system.demand(goes_on.clone().minus(&all_uses));
            }
            None => {
                mixing.findings.push(say::stage_size_missing::stage(declared));
                // Nothing of what waits for a size, so that the rest still has figures.
                let made = &solving.stages[stage].made;
                let weighed = LinearExpr::constant(made.constant.clone());
                scope.system.demand(made.clone().minus(&weighed));
            }
        }
        solving.into_dough[stage] =
            match (takes_all && !used_whole_by_stage(mixing, stage), from_main.is_empty()) {
                (true, _) => {
                    let elsewhere = inner_uses(mixing, solving, stage);
                    elsewhere.iter().fold(goes_on, |rest, mass| rest.minus(mass))
                }
                (false, false) => {
                    from_main.iter().fold(LinearExpr::default(), |sum, mass| sum.plus(mass))
                }
                (false, true) => LinearExpr::default(),
            };
    }
}
