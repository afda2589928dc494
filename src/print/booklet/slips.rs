//! Slips in a formula: one amount changed, and whether a page shows it.

use crate::print::document::{Document, LinePart};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::tree::{Amount, Formula, Mix};

/// A formula with one amount changed, as a learner sees it.
pub struct Slip {
    /// The line that was spoilt, as it is looked up.
    pub key: String,
    /// What `check` finds in it.
    pub rule: &'static str,
    /// The first line of that finding.
    pub message: String,
    /// The lines of the whole formula, spoilt.
    pub lines: Vec<LinePart>,
}

/// Whether the spoilt line is off on the page, or missing from it.
pub fn shows_slip(lines: &[LinePart], document: &Document, key: &str) -> bool {
    let percent = |lines: &[LinePart]| {
        let line = lines.iter().find(|line| line.key == key)?;
        line.percent.clone()
    };
    percent(&document.total).is_some_and(|right| percent(lines).is_none_or(|it| it != right))
}

/// Whether every other number is as in the sound formula, so that only one is wrong: a flour
/// that is left out may change what all percentages are of.
pub fn others_stand(lines: &[LinePart], document: &Document, key: &str) -> bool {
    document.total.iter().filter(|own| own.key != key).all(|own| {
        let same = |line: &&LinePart| line.key == own.key && line.role == own.role;
        lines.iter().find(same).is_some_and(|line| line.percent == own.percent)
    })
}

/// Every line of the formula's main mix, ten times and a tenth of what it is, and left out.
pub fn spoilt_ways(sound: &Formula) -> Vec<(String, Formula)> {
    let mut all = Vec::new();
    let count = sound.total.as_ref().or(sound.dough.as_ref()).map_or(0, |mix| mix.lines.len());
    for at in 0..count {
        for factor in [int(10), ratio(1, 10), Exact::ZERO] {
            let mut formula = sound.clone();
            formula.expect.clear();
            let Some(mix) = formula.total.as_mut().or(formula.dough.as_mut()) else { continue };
            let Some(key) = spoil(mix, at, &factor) else { continue };
            all.push((key, formula));
        }
    }
    all
}

/// Changes an amount; the name of its line. Nothing where it has no number.
fn spoil(mix: &mut Mix, at: usize, factor: &Exact) -> Option<String> {
    let key = mix.lines.get(at)?.target.name.key.to_string();
    if factor.is_zero() {
        mix.lines.remove(at);
        return Some(key);
    }
    let line = mix.lines.get_mut(at)?;
    let Amount::Measured { range, .. } = &mut line.amount else { return None };
    if range.ranged {
        return None;
    }
    for end in [&mut range.low, &mut range.high].into_iter().flatten() {
        end.number = &end.number * factor;
    }
    Some(key)
}
