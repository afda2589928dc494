//! How much of one thing there is to another, in words: `twice as much water as salt`,
//! `equal parts of flour and water`, `the ratio of flour to water is 4 to 3`.

use crate::check::speech::{self, Measure, Sentence, TokenKind};
use crate::quantity::{Exact, int, ratio};
use std::ops::Range;

/// A ratio that is told.
pub struct RatioTold {
    /// The words that tell it.
    pub words: Range<usize>,
    /// The word at which the name of what there is so much of begins.
    pub above: usize,
    /// The same of what it is compared with.
    pub below: usize,
    /// How many times as much.
    pub times: Exact,
}

/// What may stand before a name: `of the`.
const FILLERS: &[&str] = &[
    "of", "the", "de", "d", "du", "la", "le", "l", "des", "von", "vom", "der", "das", "die", "del",
    "el", "di", "il", "dell", "della", "al", "all", "alla", "dem", "den",
];

/// How many times, by words that need no number.
const TIMES: &[(&str, (i64, i64))] = &[
    ("twice", (2, 1)),
    ("thrice", (3, 1)),
    ("double", (2, 1)),
    ("half", (1, 2)),
    ("third", (1, 3)),
    ("quarter", (1, 4)),
    ("doppelt", (2, 1)),
    ("dreifach", (3, 1)),
    ("halb", (1, 2)),
    ("moitié", (1, 2)),
    ("doble", (2, 1)),
    ("triple", (3, 1)),
    ("mitad", (1, 2)),
    ("doppio", (2, 1)),
    ("triplo", (3, 1)),
    ("metà", (1, 2)),
];

/// Equal amounts, by the words that say so.
const EQUAL: &[&[&str]] = &[
    &["equal", "parts"],
    &["equal", "weights"],
    &["equal", "amounts"],
    &["equal", "quantities"],
    &["parts", "égales"],
    &["quantités", "égales"],
    &["gleiche", "teile"],
    &["gleichen", "teilen"],
    &["gleich", "viel"],
    &["gleiche", "mengen"],
    &["partes", "iguales"],
    &["cantidades", "iguales"],
    &["parti", "uguali"],
    &["quantità", "uguali"],
];

const AND: &[&str] = &["and", "to", "et", "und", "y", "e", "a", "zu", "à"];

/// The ratios of a sentence; `name_at` tells where a name ends that begins at a word.
pub fn ratios(sentence: &Sentence, name_at: &dyn Fn(usize) -> Option<usize>) -> Vec<RatioTold> {
    let reading = RatioReading { sentence, name_at };
    (0..sentence.tokens.len())
        .filter_map(|at| {
            reading.multiple(at).or_else(|| reading.equal(at)).or_else(|| reading.named(at))
        })
        .collect()
}

struct RatioReading<'r, 's> {
    sentence: &'r Sentence<'s>,
    name_at: &'r dyn Fn(usize) -> Option<usize>,
}

impl RatioReading<'_, '_> {
    fn key(&self, at: usize) -> &str {
        self.sentence.tokens.get(at).map_or("", |token| token.key.as_ref())
    }

    /// Where a name begins at a word or after fillers, and where it ends.
    fn name(&self, from: usize) -> Option<(usize, usize)> {
        (from..from + 4).find_map(|at| {
            let fills = (from..at).all(|at| FILLERS.contains(&self.key(at)));
            fills.then(|| (self.name_at)(at).map(|to| (at, to)))?
        })
    }

    /// Two names with one of some words between them.
    fn two_names(&self, from: usize, between: &[&str]) -> Option<(usize, usize, usize)> {
        let (above, to) = self.name(from)?;
        let to = if self.key(to) == "rispetto" { to + 1 } else { to };
        if !between.contains(&self.key(to)) {
            return None;
        }
        let (below, end) = self.name(to + 1)?;
        Some((above, below, end))
    }

    /// A whole number before a word, and where it begins.
    fn number_before(&self, to: usize) -> Option<(usize, Exact)> {
        let amounts = speech::amounts(self.sentence);
        let amount = amounts.into_iter().find(|it| it.to == to && it.measure == Measure::Bare)?;
        Some((amount.from, amount.readings.first()?.low.clone()))
    }

    /// `twice as much A as B`, `dreimal so viel A wie B`, `deux fois plus de A que de B`.
    fn multiple(&self, at: usize) -> Option<RatioTold> {
        let before = |back: usize| at.checked_sub(back).map_or("", |at| self.key(at));
        let (times_at, end, between): (usize, usize, &[&str]) =
            match (self.sentence.language.code, self.key(at)) {
                ("en", "as") if matches!(self.key(at + 1), "much" | "many") => {
                    (at, at + 2, &["as"])
                }
                ("de", "so") if matches!(self.key(at + 1), "viel" | "viele") => {
                    (at, at + 2, &["wie"])
                }
                ("fr", "plus" | "moins") if matches!(before(1), "fois" | "moitié") => {
                    (at, at + 1, &["que"])
                }
                ("es", "más") if before(1) == "veces" => (at, at + 1, &["que"]),
                ("it", "più") if before(1) == "volte" => (at, at + 1, &["che", "di"]),
                ("es", "doble" | "triple" | "mitad") => (at + 1, at + 1, &["que"]),
                ("it", "doppio" | "triplo" | "metà") => {
                    (at + 1, at + 1, &["che", "a", "al", "all", "alla"])
                }
                _ => return None,
            };
        // `half as much again`
        let (above, below, _) = self.two_names(end, between)?;
        let last = times_at.checked_sub(1)?;
        let by_word = TIMES.iter().find(|(word, _)| *word == self.key(last));
        let is_less = self.key(at) == "moins";
        let (from, times) = match by_word {
            Some((_, (above, below))) => {
                // `a third as much`
                let first = last.checked_sub(1).filter(|at| matches!(self.key(*at), "a" | "one"));
                (first.unwrap_or(last), ratio(*above, *below))
            }
            None if matches!(self.key(last), "times" | "fois" | "mal" | "veces" | "volte") => {
                self.number_before(last)?
            }
            // `dreimal so viel` is one word.
            None => self.number_before(times_at)?,
        };
        let is_inverse = is_less && self.key(last) == "fois";
        let times = if is_inverse { Exact::ONE.over(&times)? } else { times };
        Some(RatioTold { words: from..end, above, below, times })
    }

    /// `equal parts of flour and water`
    fn equal(&self, at: usize) -> Option<RatioTold> {
        let words = EQUAL.iter().find(|words| {
            words.iter().enumerate().all(|(more, word)| self.key(at + more) == *word)
        })?;
        let end = at + words.len();
        let (above, below, _) = self.two_names(end, AND)?;
        Some(RatioTold { words: at..end, above, below, times: Exact::ONE })
    }

    /// `The ratio of flour to water is 4 to 3`, `Mehl und Wasser im Verhältnis 4:3`.
    fn named(&self, at: usize) -> Option<RatioTold> {
        const RATIO: [&str; 7] =
            ["ratio", "rapport", "proportion", "verhältnis", "proporción", "relación", "rapporto"];
        const BETWEEN: [&str; 4] = ["between", "entre", "tra", "fra"];
        if !RATIO.contains(&self.key(at)) {
            return None;
        }
        let from = if BETWEEN.contains(&self.key(at + 1)) { at + 2 } else { at + 1 };
        let (above, below, end) = self.two_names(from, AND)?;
        let amounts = speech::amounts(self.sentence);
        let mut bare = amounts.iter().filter(|it| it.from >= end && it.measure == Measure::Bare);
        let (one, other) = (bare.next()?, bare.next()?);
        let is_near = one.from <= end + 3 && other.from <= one.to + 1;
        let is_joined = AND.contains(&self.key(one.to)) || {
            let (from, to) = (
                self.sentence.tokens.get(one.to - 1)?.end,
                self.sentence.tokens.get(other.from)?.start,
            );
            self.sentence.text.get(from..to)?.trim() == ":"
        };
        // `4:3:1` is of three.
        let is_over =
            self.sentence.tokens.get(other.to).is_none_or(|it| it.kind != TokenKind::Number);
        let times = one.readings.first()?.low.over(&other.readings.first()?.low)?;
        (is_near && is_joined && is_over && times > int(0)).then_some(RatioTold {
            words: one.from..other.to,
            above,
            below,
            times,
        })
    }
}
