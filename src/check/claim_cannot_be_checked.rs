//! `claim-cannot-be-checked`: a claim about something that is not known.

use super::claims::verdicts;
use super::context::Context;
use super::verdict::Verdict;
use crate::diag::{Finding, Level};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Base, Claim, ClaimValue};

pub use super::claims::CANNOT_BE_CHECKED as RULE;

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        findings.extend(says_nothing(context, claim));
        match verdict {
            Verdict::Open(why) => {
                let said = format!("`{}` can't be checked: {why}", context.claim_name(claim));
                let said = Finding::new(&RULE, claim.span, said);
                // What a label declares is not left open.
                let key = &claim.what.name.key;
                let is_on_a_label = Figure::read(key) == Some(Figure::SaltAsDeclared);
                // Nor is what may be a stage or something else: the author knows which.
                let is_a_place = claim.place.is_none() && context.worked.within(key).is_some();
                let is_graver = is_on_a_label || is_a_place;
                findings.push(if is_graver { said.level(Level::Error) } else { said });
            }
            // A claim that asks for another figure than it seems to is not left open either.
            Verdict::OtherBase(figure) => findings.push(other_base(context, claim, figure)),
            _ => {}
        }
    }
}

/// A claim that every number satisfies, or nearly every one.
fn says_nothing(context: &Context, claim: &Claim) -> Option<Finding> {
    let ClaimValue::Amount { range, tolerance, base } = &claim.value else { return None };
    let low = range.low.as_ref().map(|low| context.base(low));
    let high = range.high.as_ref().map(|high| context.base(high));
    let unit = range.low.as_ref().or(range.high.as_ref())?.unit;
    if unit.dimension() == Dimension::Temperature {
        return None;
    }
    let all_there_is = |high: &Exact| {
        unit.dimension() == Dimension::Share
            && *high >= Exact::ONE
            && (low.is_some() || is_a_part(&claim.what.name.key) || is_of_dough(base.as_ref()))
    };
    let is_empty = match (range.ranged, tolerance) {
        (true, _) => {
            low.as_ref().is_none_or(Exact::is_zero) && high.as_ref().is_none_or(all_there_is)
        }
        (false, Some(tolerance)) => {
            low.as_ref().is_some_and(|one| !one.is_zero() && context.base(tolerance) >= *one)
        }
        (false, None) => false,
    };
    let name = context.claim_name(claim);
    let message = format!("the claim of `{name}` says nothing: any value would satisfy it");
    is_empty.then(|| {
        Finding::new(&RULE, claim.span, message).level(Level::Error).help(format!(
            "claim what it is to be, `{name} …`, or a range that it could fall outside"
        ))
    })
}

/// Whether a figure is never more than the whole of what it is a share of, or so little that
/// nobody claims as much.
fn is_a_part(key: &str) -> bool {
    use Figure::{
        BakeLoss, MakeUpLoss, PrefermentedFlour, SaltAsDeclared, SaltAsEaten, YeastAsFresh,
    };
    match Figure::read(key) {
        Some(Figure::Class(class)) => matches!(
            class,
            Class::Salt | Class::Yeast | Class::Spice | Class::Leavener | Class::Improver
        ),
        Some(figure) => {
            [BakeLoss, MakeUpLoss, PrefermentedFlour, SaltAsDeclared, SaltAsEaten, YeastAsFresh]
                .contains(&figure)
        }
        None => false,
    }
}

fn is_of_dough(base: Option<&Base>) -> bool {
    matches!(base, Some(Base::Dough))
}

fn other_base(context: &Context, claim: &Claim, figure: &Figure) -> Finding {
    let name = context.claim_name(claim);
    let asked = match &claim.value {
        ClaimValue::Amount { base: Some(base), .. } => words_of(base),
        _ => String::new(),
    };
    let message = format!("`{name}` is never a share {asked}: it is one of {}", base_of(figure));
    let said = Finding::new(&RULE, claim.span, message).level(Level::Error);
    said.help(match figure {
        Figure::Hydration => format!(
            "write `{name}` and the number alone, which is of all the flour, or `of added flour`"
        ),
        _ => format!("leave `{asked}` out"),
    })
}

fn words_of(base: &Base) -> String {
    match base {
        Base::Flour => "of flour".into(),
        Base::AddedFlour => "of added flour".into(),
        Base::Dough => "of dough".into(),
        Base::BaseDough => "of base dough".into(),
        Base::Of(target) => format!("of {}", target.name.shown),
    }
}

/// What a figure that is a share is one of.
fn base_of(figure: &Figure) -> &'static str {
    match figure {
        Figure::Hydration => "all the flour, or of the added flour",
        Figure::BakeLoss => "the dough that goes into the oven",
        Figure::MakeUpLoss => "the dough that is divided",
        Figure::SaltAsEaten | Figure::SaltAsDeclared => "what is eaten",
        Figure::Inoculation => "the stage's own flour",
        _ => "all the flour",
    }
}
