//! `claims-disagree`: two claims that can not both be true.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::same;
use crate::quantity::display::{last_digit, trimmed};
use crate::quantity::{Exact, half};
use crate::syntax::tree::{Base, Claim, ClaimValue, Extent, Quantity};

pub const RULE: Rule = Rule {
    name: "claims-disagree",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claims_disagree.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let claims = &context.worked.formula.expect;
    for (index, claim) in claims.iter().enumerate() {
        for earlier in &claims[..index] {
            if same_question(claim, earlier) && !overlap(context, claim, earlier) {
                let name = context.claim_name(claim);
                findings.push(
                    Finding::new(
                        &RULE,
                        claim.span,
                        format!(
                            "`{name}` is claimed to be {} and to be {}",
                            said(earlier),
                            said(claim)
                        ),
                    )
                    .here("claimed here")
                    .label(earlier.span, "and differently here")
                    .help("keep the one that is meant"),
                );
                // Against one other it is plain enough.
                break;
            }
        }
    }
}

/// What a claim says, as a sentence can repeat it.
fn said(claim: &Claim) -> String {
    let ClaimValue::Amount { range, tolerance, .. } = &claim.value else { return String::new() };
    let end = |quantity: &Quantity| {
        let number = trimmed(&quantity.number, quantity.decimals.unwrap_or(3));
        format!("{number} {}", quantity.unit.spelling()).trim().to_owned()
    };
    match (&range.low, &range.high) {
        (Some(low), Some(high)) if range.ranged => format!("{} to {}", end(low), end(high)),
        (Some(low), _) if range.ranged => format!("at least {}", end(low)),
        (None, Some(high)) if range.ranged => format!("at most {}", end(high)),
        (Some(one), _) | (None, Some(one)) => match tolerance {
            Some(tolerance) => format!("{} ± {}", end(one), end(tolerance)),
            None => end(one),
        },
        (None, None) => String::new(),
    }
}

/// A claim's identity is its name, its base and its place.
fn same_question(one: &Claim, two: &Claim) -> bool {
    let place = |claim: &Claim| claim.place.as_ref().map(|place| place.key.clone());
    let (
        ClaimValue::Amount { range: first, base: one_base, .. },
        ClaimValue::Amount { range: second, base: two_base, .. },
    ) = (&one.value, &two.value)
    else {
        return false;
    };
    let unit = |range: &Extent| {
        range.low.as_ref().or(range.high.as_ref()).map(|quantity| quantity.unit.dimension())
    };
    let same_base = match (one_base, two_base) {
        (Some(Base::Of(one)), Some(Base::Of(two))) => same(one, two),
        (one, two) => match (one, two) {
            (None, None) => true,
            (Some(one), Some(two)) => std::mem::discriminant(one) == std::mem::discriminant(two),
            _ => false,
        },
    };
    same(&one.what, &two.what)
        && place(one) == place(two)
        && unit(first) == unit(second)
        && same_base
}

/// Whether some number would satisfy both.
fn overlap(context: &Context, one: &Claim, two: &Claim) -> bool {
    let bounds = |claim: &Claim| match &claim.value {
        ClaimValue::Amount { range, tolerance, .. } => {
            let low = range.low.as_ref().or(range.high.as_ref())?;
            let high = range.high.as_ref().unwrap_or(low);
            let slack = match (tolerance, range.ranged) {
                (Some(tolerance), _) => context.base(tolerance),
                (None, true) => Exact::ZERO,
                // The rounding of the written digits.
                (None, false) => {
                    let digit = low.decimals.map_or(Exact::ZERO, last_digit);
                    low.unit.to_base(&(digit * half()), context.house.settings.measures)
                }
            };
            // Half a digit above is the next number already.
            let open = tolerance.is_none() && !range.ranged && !slack.is_zero();
            // `65%..` has no high end, and `..65%` no low one.
            let no_low = range.ranged && range.low.is_none();
            let no_high = range.ranged && range.high.is_none();
            let low = (!no_low).then(|| context.base(low) - &slack);
            let high = (!no_high).then(|| context.base(high) + slack);
            Some((low, high, open))
        }
        ClaimValue::FreeFrom(_) => None,
    };
    match (bounds(one), bounds(two)) {
        (Some(one), Some(two)) => {
            let reaches = |low: &Option<Exact>, high: &Option<Exact>, open: bool| match (low, high)
            {
                (Some(low), Some(high)) => low < high || (low == high && !open),
                _ => true,
            };
            reaches(&one.0, &two.1, two.2) && reaches(&two.0, &one.1, one.2)
        }
        _ => true,
    }
}
