//! Whether the claims of a formula stand, for whoever compares two states of it.

use super::claims::{absence_in_words, absences_of_style, verdicts, written_claim};
use super::context::Context;
use super::verdict::Verdict;
use crate::formula::{Bringer, House, Proof, Worked};
use crate::syntax::tree::{Base, ClaimValue};
use ecow::EcoString;

/// How a claim stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// It is true.
    Holds,
    /// Nobody can tell.
    NotKnown,
    /// It is not true.
    Fails,
}

/// A claim of a formula, or what the style that it names is without.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Claimed {
    /// As it is said: `prefermented flour 14.3 %`, `free from milk`.
    pub claim: String,
    /// How it stands.
    pub standing: Standing,
    /// Why it does not hold: `it is 14.1 %`; empty where it does.
    pub why: String,
}

/// Every claim of a formula, in the order in which they are written, those of its style last.
pub fn claimed(house: &House, worked: &Worked) -> Vec<Claimed> {
    let context = Context::new(house, worked, &mut Vec::new());
    let mut all: Vec<Claimed> = verdicts(&context)
        .map(|(claim, verdict)| {
            let name = context.claim_name(claim);
            let said = match &claim.value {
                ClaimValue::FreeFrom(from) => absence_in_words(claim, from),
                ClaimValue::Amount { range, base, tolerance } => {
                    let written = written_claim(range, tolerance.as_ref());
                    let of = base.as_ref().map(of_base).unwrap_or_default();
                    format!("{name} {written}{of}")
                }
            };
            let (standing, why) = judged(verdict);
            Claimed { claim: said, standing, why }
        })
        .collect();
    all.extend(absences_of_style(&context).map(|(style, without, proof)| {
        let (standing, why) = proved(&proof);
        let claim = format!("style {} without {}", style.shown, without.shown);
        Claimed { claim, standing, why }
    }));
    all
}

fn of_base(base: &Base) -> String {
    match base {
        Base::Flour => " of flour".to_owned(),
        Base::AddedFlour => " of added flour".to_owned(),
        Base::Dough => " of dough".to_owned(),
        Base::BaseDough => " of base dough".to_owned(),
        Base::Of(target) => format!(" of {}", target.name.shown),
    }
}

fn judged(verdict: &Verdict) -> (Standing, String) {
    match verdict {
        Verdict::Holds => (Standing::Holds, String::new()),
        Verdict::Refuted { is, .. } => (Standing::Fails, format!("it is {is}")),
        Verdict::Contained(bringers) => (Standing::Fails, brought(bringers)),
        Verdict::NotProved(names) => (Standing::Fails, not_proved(names)),
        Verdict::Open(why) => (Standing::NotKnown, why.clone()),
        Verdict::OtherBase(_) => {
            (Standing::NotKnown, "the figure is a percentage of something else".to_owned())
        }
        Verdict::Unknown => (Standing::NotKnown, "nothing is called that".to_owned()),
        Verdict::UnknownPlace => (Standing::NotKnown, "no mix is called that".to_owned()),
    }
}

fn proved(proof: &Proof) -> (Standing, String) {
    match proof {
        Proof::Proved => (Standing::Holds, String::new()),
        Proof::Refuted(bringers) => (Standing::Fails, brought(bringers)),
        Proof::NotKnown(names) => (Standing::Fails, not_proved(names)),
    }
}

/// What brings in what should not be there.
fn brought(bringers: &[Bringer]) -> String {
    let all = bringers.iter().map(|it| format!("`{}` brings {}", it.ingredient, it.holds));
    all.collect::<Vec<_>>().join(", ")
}

/// A claim of absence that nobody can prove is an error, as one that is false.
fn not_proved(names: &[EcoString]) -> String {
    format!("what is in `{}` is not known", names.join("`, `"))
}
