//! `claim-cannot-be-checked`: a claim about something that is not known.

use super::claims::verdicts;
use super::context::Context;
use super::verdict::Verdict;
use crate::diag::{Finding, Level};
use crate::formula::Figure;
use crate::syntax::tree::{Base, Claim, ClaimValue};

pub use super::claims::CANNOT_BE_CHECKED as RULE;

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        match verdict {
            Verdict::Open(why) => {
                let said = format!("`{}` can't be checked: {why}", context.claim_name(claim));
                let said = Finding::new(&RULE, claim.span, said);
                // What a label declares is not left open.
                let is_on_a_label =
                    Figure::read(&claim.what.name.key) == Some(Figure::SaltAsDeclared);
                findings.push(if is_on_a_label { said.level(Level::Error) } else { said });
            }
            // A claim that asks for another figure than it seems to is not left open either.
            Verdict::OtherBase(figure) => findings.push(other_base(context, claim, figure)),
            _ => {}
        }
    }
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
