//! The same number in another convention: home bakers count a starter as an ingredient, the
//! trade counts its flour and water.

use super::claims::judge;
use super::context::Context;
use super::verdict::Verdict;
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::Unit;
use crate::quantity::display::trimmed;
use crate::syntax::tree::{Base, Claim, ClaimValue, Name};
use ecow::EcoString;

/// What a share may be claimed of, with the words.
const BASES: [(Option<Base>, &str); 4] = [
    (None, ""),
    (Some(Base::AddedFlour), "of added flour"),
    (Some(Base::Dough), "of dough"),
    (Some(Base::Flour), "of flour"),
];

/// A refuted number that is true of something else.
pub struct Convention {
    /// The figure and what it is of: `hydration of added flour`.
    pub figure: String,
    /// The claim as it would hold: `hydration 55% of added flour`.
    pub claim: String,
}

/// Where the number of a claim is true, if it is not nought.
pub fn true_elsewhere(context: &Context, claim: &Claim) -> Option<Convention> {
    let ClaimValue::Amount { range, base, tolerance: None } = &claim.value else { return None };
    let one = range.low.as_ref().filter(|_| !range.ranged)?;
    if one.unit != Unit::Percent || one.number.is_zero() || claim.what.role.is_some() {
        return None;
    }
    let number = format!("{}%", trimmed(&one.number, one.decimals.unwrap_or(4)));
    let own = words_of(base.as_ref());
    for name in names(context, claim) {
        for (base, words) in BASES {
            if name == claim.what.name.key && words == own {
                continue;
            }
            let mut other = claim.clone();
            other.what.name = Name { key: name.clone(), shown: name.clone(), ..Name::default() };
            if let ClaimValue::Amount { base: place, .. } = &mut other.value {
                *place = base;
            }
            if matches!(judge(context, &other), Verdict::Holds) {
                let place = claim.place.as_ref();
                let place = place.map(|place| format!(" in {}", place.shown)).unwrap_or_default();
                let joined = |parts: &[&str]| parts.join(" ").trim_end().to_owned();
                return Some(Convention {
                    figure: joined(&[&format!("{name}{place}"), words]),
                    claim: joined(&[&format!("{name}{place}"), &number, words]),
                });
            }
        }
    }
    None
}

fn words_of(base: Option<&Base>) -> &'static str {
    match base {
        None => "",
        Some(Base::AddedFlour) => "of added flour",
        Some(Base::Dough) => "of dough",
        Some(Base::Flour) => "of flour",
        Some(Base::BaseDough) => "of base dough",
        Some(Base::Of(_)) => "of",
    }
}

/// The figures that the same word is said of, the claimed one first.
fn names(context: &Context, claim: &Claim) -> Vec<EcoString> {
    let own = claim.what.name.key.clone();
    let mut names = vec![own.clone()];
    let more: &[&str] = match Figure::read(&own) {
        Some(Figure::Hydration) => &["effective hydration", "true hydration", "liquids"],
        Some(Figure::Liquids | Figure::EffectiveHydration | Figure::TrueHydration) => {
            &["hydration"]
        }
        Some(Figure::Class(Class::Salt)) => &["salt as eaten"],
        _ => &[],
    };
    names.extend(more.iter().copied().map(EcoString::from));
    // The share of a starter and the flour that it ferments are said for each other.
    let formula = &context.worked.formula;
    let stages = || formula.stages.iter().filter(|stage| stage.kind.ferments());
    if Figure::read(&own) == Some(Figure::PrefermentedFlour) {
        names.extend(stages().map(|stage| stage.name.key.clone()));
        names.extend(cultures(context));
    } else if stages().any(|stage| stage.name.key == own)
        || cultures(context).any(|culture| culture == own)
    {
        names.push("prefermented flour".into());
    }
    names
}

/// Cultures that go right into the dough.
fn cultures<'c>(context: &'c Context) -> impl Iterator<Item = EcoString> + 'c {
    let lines = context.main_mix().into_iter().flat_map(|mix| &mix.lines);
    let keys = lines.map(|line| &line.target.name.key);
    keys.filter(|key| context.house.culture_named(key).is_some()).cloned()
}
