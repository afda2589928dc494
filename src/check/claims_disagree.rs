//! `claims-disagree`: two claims that can not both be true.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{last_digit, trimmed};
use crate::quantity::{Dimension, Exact, half};
use crate::syntax::tree::{Base, Claim, ClaimValue, Quantity, Target};
use rustc_hash::FxHashMap;

/// `claims-disagree`, an error about claims.
pub const RULE: Rule = Rule {
    name: "claims-disagree",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claims_disagree.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let mut asked: FxHashMap<Question, Tightest> = FxHashMap::default();
    for claim in &context.worked.formula.expect {
        let (Some(question), Some(bounds)) = (question(claim), bounds(context, claim)) else {
            continue;
        };
        let tightest = asked.entry(question).or_default();
        if let Some(earlier) = tightest.against(&bounds) {
            let name = context.claim_name(claim);
            let (first, second) = (said(earlier), said(claim));
            let message = format!("`{name}` is claimed to be {first} and to be {second}");
            // Against one other it is plain enough.
            findings.push(
                Finding::new(&RULE, claim.span, message)
                    .here("claimed here")
                    .label(earlier.span, "and differently here")
                    .help("keep the one that is meant"),
            );
        }
        tightest.add(claim, bounds);
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

/// A claim's identity is its name, its base and its place, and what it is measured in.
#[derive(PartialEq, Eq, Hash)]
struct Question<'c> {
    what: (&'c str, Option<&'c str>),
    place: Option<&'c str>,
    base: Option<std::mem::Discriminant<Base>>,
    of: Option<(&'c str, Option<&'c str>)>,
    dimension: Option<Dimension>,
}

fn question(claim: &Claim) -> Option<Question<'_>> {
    fn name(target: &Target) -> (&str, Option<&str>) {
        (target.name.key.as_str(), target.role.as_ref().map(|role| role.key.as_str()))
    }
    let ClaimValue::Amount { range, base, .. } = &claim.value else { return None };
    Some(Question {
        what: name(&claim.what),
        place: claim.place.as_ref().map(|place| place.key.as_str()),
        base: base.as_ref().map(std::mem::discriminant),
        of: match base {
            Some(Base::Of(target)) => Some(name(target)),
            _ => None,
        },
        dimension: range.low.as_ref().or(range.high.as_ref()).map(|it| it.unit.dimension()),
    })
}

/// The numbers that satisfy a claim, where it is bounded, and whether the high end is none.
struct Bounds {
    low: Option<Exact>,
    high: Option<Exact>,
    open: bool,
}

fn bounds(context: &Context, claim: &Claim) -> Option<Bounds> {
    let ClaimValue::Amount { range, tolerance, .. } = &claim.value else { return None };
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
    Some(Bounds { low, high, open })
}

/// Of the claims so far about one thing the one that begins highest and the one that ends
/// lowest: a claim that goes with both goes with all.
#[derive(Default)]
struct Tightest<'c> {
    lowest: Option<(&'c Claim, Exact)>,
    highest: Option<(&'c Claim, Exact, bool)>,
}

impl<'c> Tightest<'c> {
    /// The claim that no number satisfies beside this one.
    fn against(&self, own: &Bounds) -> Option<&'c Claim> {
        let reaches = |low: &Exact, high: &Exact, open: bool| low < high || (low == high && !open);
        let above = self
            .lowest
            .as_ref()
            .filter(|(_, low)| own.high.as_ref().is_some_and(|high| !reaches(low, high, own.open)));
        let below = self.highest.as_ref().filter(|(_, high, open)| {
            own.low.as_ref().is_some_and(|low| !reaches(low, high, *open))
        });
        above.map(|it| it.0).or(below.map(|it| it.0))
    }

    fn add(&mut self, claim: &'c Claim, own: Bounds) {
        if let Some(low) = own.low
            && self.lowest.as_ref().is_none_or(|(_, known)| low > *known)
        {
            self.lowest = Some((claim, low));
        }
        if let Some(high) = own.high
            && self.highest.as_ref().is_none_or(|(_, known, open)| {
                high < *known || (high == *known && own.open && !open)
            })
        {
            self.highest = Some((claim, high, own.open));
        }
    }
}
