//! Slips in a formula: one amount changed, and whether a page shows it.

use crate::diag::Finding;
use crate::print::document::{Document, LinePart};
use crate::quantity::display::{exact, read_exact, shows, trimmed};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::tree::{Amount, Formula, Mix};

/// Findings about how much is made, or what a scale or a machine can do: they prove nothing of
/// a line.
pub const OF_THE_YIELD: [&str; 8] = [
    "below-scale-resolution",
    "batch-over-mixer",
    "batch-under-mixer",
    "oven-loads",
    "part-of-a-piece",
    "piece-doubtful",
    "tin-fill",
    "yield-disagrees",
];

/// How an amount was spoilt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpoiltBy {
    /// It is ten times too much, or a tenth.
    Tenfold,
    /// Two digits of its percentage have changed places.
    Swapped,
    /// Its line is missing.
    LeftOut,
}

/// A formula with one amount changed, as a learner sees it.
#[derive(Clone)]
pub struct PlantedSlip {
    /// How it was spoilt.
    pub way: SpoiltBy,
    /// The line that was spoilt, as it is looked up.
    pub key: String,
    /// What `check` finds in it.
    pub finding: Finding,
    /// The lines of the whole formula, spoilt.
    pub lines: Vec<LinePart>,
}

impl PlantedSlip {
    /// The same of so many times as much dough.
    pub fn times(&self, times: &Exact) -> Self {
        let mut slip = self.clone();
        for weight in slip.lines.iter_mut().filter_map(|line| line.weight.as_mut()) {
            if let Some(grams) = read_exact(&weight.grams) {
                weight.grams = exact(&(grams * times));
            }
        }
        slip
    }
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

/// Every line of the formula's main mix, ten times and a tenth of what it is, with digits of
/// its percentage in each other's places, and left out.
pub fn spoilt_ways(sound: &Formula, document: &Document) -> Vec<(String, SpoiltBy, Formula)> {
    let mut all = Vec::new();
    let count = sound.total.as_ref().or(sound.dough.as_ref()).map_or(0, |mix| mix.lines.len());
    for at in 0..count {
        let own = sound.total.as_ref().or(sound.dough.as_ref()).and_then(|mix| mix.lines.get(at));
        let own = own.map(|line| line.target.name.key.to_string());
        let swapped = own.and_then(|key| swap_of(document, &key));
        let ways = [
            (SpoiltBy::Tenfold, Some(int(10))),
            (SpoiltBy::Tenfold, Some(ratio(1, 10))),
            (SpoiltBy::Swapped, swapped),
            (SpoiltBy::LeftOut, Some(Exact::ZERO)),
        ];
        for (way, factor) in ways.into_iter().filter_map(|(way, it)| Some((way, it?))) {
            let mut formula = sound.clone();
            formula.expect.clear();
            let Some(mix) = formula.total.as_mut().or(formula.dough.as_mut()) else { continue };
            let Some(key) = spoil(mix, at, &factor) else { continue };
            all.push((key, way, formula));
        }
    }
    all
}

/// By what a line's percentage grows when its first two digits change places: 74 % to 47 %,
/// 1.8 % to 8.1 %. None where it has no two that differ.
fn swap_of(document: &Document, key: &str) -> Option<Exact> {
    let line = document.total.iter().find(|line| line.key == key)?;
    let percent = read_exact(line.percent_exact.as_deref()?)? * int(100);
    if !shows(&percent, 1) {
        return None;
    }
    read_exact(&swapped(&trimmed(&percent, 1))?)?.over(&percent)
}

/// A number with its first two digits in each other's places; none where that is the same
/// number, or begins with nothing.
fn swapped(number: &str) -> Option<String> {
    let mut letters: Vec<char> = number.chars().collect();
    let digits: Vec<usize> =
        (0..letters.len()).filter(|at| letters[*at].is_ascii_digit()).take(2).collect();
    let [first, second] = digits.try_into().ok()?;
    let is_plain = |at: usize| letters[at] != '0';
    if !is_plain(first) || !is_plain(second) || letters[first] == letters[second] {
        return None;
    }
    letters.swap(first, second);
    Some(letters.into_iter().collect())
}

/// Whether the page shows ten times the right percentage, or a tenth of it: where a line stands
/// in several mixes, its total is not.
pub fn shows_tenfold(lines: &[LinePart], document: &Document, key: &str) -> bool {
    let percent = |lines: &[LinePart]| {
        let line = lines.iter().find(|line| line.key == key)?;
        read_exact(line.percent_exact.as_deref()?)
    };
    let (Some(right), Some(wrong)) = (percent(&document.total), percent(lines)) else {
        return false;
    };
    wrong == &right * int(10) || right == &wrong * int(10)
}

/// Whether the page shows a percentage with its first two digits in each other's places.
pub fn shows_swap(lines: &[LinePart], document: &Document, key: &str) -> bool {
    let percent = |lines: &[LinePart]| {
        let line = lines.iter().find(|line| line.key == key)?;
        Some(read_exact(line.percent_exact.as_deref()?)? * int(100))
    };
    let (Some(right), Some(wrong)) = (percent(&document.total), percent(lines)) else {
        return false;
    };
    swapped(&trimmed(&right, 1)).and_then(|it| read_exact(&it)) == Some(wrong)
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
