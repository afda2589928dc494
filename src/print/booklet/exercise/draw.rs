//! Numbers that are drawn, the same on every machine for ever.

use crate::print::document::{Document, LinePart};
use crate::quantity::{Exact, int};

/// How often something is drawn again that does not do.
pub const MAX_DRAWS: usize = 40;

/// How often something is drawn again that takes too few steps for its level.
pub const MAX_DEEPER: usize = 12;

/// A source of numbers, and whose turn it is: the seat, from 1, and the place of an exercise
/// among its kind. Seats draw from one source, each some places further on.
pub struct Draw(u64, (usize, usize), usize);

impl Draw {
    /// Begins from some words (FNV-1a, 64 bit).
    pub fn of(words: &[String]) -> Self {
        let mut hash = 0xcbf2_9ce4_8422_2325_u64;
        for byte in words.iter().flat_map(|it| it.bytes().chain([0])) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        Self(hash, (1, 0), 0)
    }

    /// The same for a seat and the place of an exercise among its kind.
    pub fn at_turn(mut self, seat: usize, place: usize) -> Self {
        self.1 = (seat, place);
        self.2 = seat.saturating_sub(1);
        self
    }

    /// One of some things, so that seats beside each other have different ones, and the two of
    /// one seat are far apart; none where there are none.
    pub fn in_turn<'i, T>(&self, all: &'i [T]) -> Option<&'i T> {
        let (seat, place) = self.1;
        let apart = (all.len() / 2).max(1);
        // An even number of halves would come back to the first one.
        let at = seat.saturating_sub(1) + place * apart + place / 2;
        all.get(at % all.len().max(1))
    }

    /// One of some numbers from 0.
    pub fn below(&mut self, count: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % (count.max(1) as u64)).unwrap_or(0)
    }

    /// One of some things, another one for each seat as long as there are; once all were drawn,
    /// what is drawn next is another one. None where there are none.
    pub fn one_of<'i, T>(&mut self, all: &'i [T]) -> Option<&'i T> {
        let count = all.len().max(1);
        let first = self.below(count);
        let (own, rounds) = (self.2 % count, self.2 / count);
        self.2 = own + rounds;
        all.get((first + own) % count)
    }
}

/// Round numbers from one to another, two dozen of them or a few more: the multiples of 1, 2 or 5
/// times a power of ten.
pub fn round_numbers(least: &Exact, most: &Exact) -> Vec<i64> {
    const WANTED: i64 = 24;
    let room = most - least;
    let steps = [1000, 100, 10, 1].into_iter().flat_map(|ten| [5, 2, 1].map(|it| it * ten));
    let step = steps.into_iter().find(|step| int(step * WANTED) <= room).unwrap_or(1);
    multiples(step, least, most)
}

/// The multiples of a number from one to another.
pub fn multiples(step: i64, least: &Exact, most: &Exact) -> Vec<i64> {
    (1..=10_000)
        .map(|it| it * step)
        .skip_while(|it| int(*it) < *least)
        .take_while(|it| int(*it) <= *most)
        .collect()
}

/// What a formula means, for drawing numbers: its lines with their exact shares.
pub fn meaning(document: &Document) -> String {
    let total = document.total.iter();
    let mixes = document.mixes.iter().flat_map(|mix| &mix.lines);
    let line = |it: &LinePart| {
        let share = it.percent_exact.as_deref().unwrap_or_default();
        format!("{}{}{share};", it.key, it.role.as_deref().unwrap_or_default())
    };
    total.chain(mixes).map(line).collect()
}
