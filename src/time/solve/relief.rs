//! Single changes that give a puzzle without a plan one.
//!
//! Enters: a puzzle and the parts of its conflict. Leaves: for each gap the smallest change of
//! it alone after which the whole puzzle has a plan, if there is one, and for each opening by how
//! little it has to begin earlier or end later, for all that need somebody at once. Deliberately
//! absent: changes of two parts.

use super::bounds::Field;
use super::puzzle::{Cluster, FURTHEST, Gap, Puzzle, PuzzlePart};
use super::search::plan;

/// A single change after which the whole puzzle has a plan. A millisecond less does not do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relief {
    Longer {
        gap: usize,
        most: i64,
    },
    Shorter {
        gap: usize,
        least: i64,
    },
    /// For all that somebody has to be there for: an opening, by its number, that begins
    /// earlier or ends later, by as little as possible.
    Hours {
        opening: usize,
        hours: (i64, i64),
    },
}

/// The reliefs, the smallest change first, then in the order of the parts.
pub fn reliefs(puzzle: &Puzzle, parts: &[PuzzlePart]) -> Vec<Relief> {
    let bare = without_wishes(puzzle);
    let mut reliefs: Vec<(i64, Relief)> = Vec::new();
    for &part in parts {
        match part {
            PuzzlePart::Gap(gap) => {
                reliefs.extend(longer(&bare, gap));
                reliefs.extend(shorter(&bare, gap));
            }
            PuzzlePart::Presence(_) => {}
        }
    }
    if parts.iter().any(|part| matches!(part, PuzzlePart::Presence(_))) {
        reliefs.extend(hours(&bare));
    }
    reliefs.sort_by_key(|&(change, _)| change);
    reliefs.into_iter().map(|(_, relief)| relief).collect()
}

fn without_wishes(puzzle: &Puzzle) -> Puzzle {
    let gaps = puzzle.gaps.iter().map(|gap| Gap { wish: None, ..*gap }).collect();
    Puzzle { gaps, start: None, ..puzzle.clone() }
}

/// A gap whose length is only bounded from below.
fn at_least(from: usize, to: usize, least: i64) -> Gap {
    Gap { from, to, least, most: None, wish: None, price: 1 }
}

/// A gap that would best have no length.
fn small(from: usize, to: usize) -> Gap {
    Gap { wish: Some(0), ..at_least(from, to, 0) }
}

/// The gap ends as early as it has to; what comes after that is the change.
fn longer(bare: &Puzzle, index: usize) -> Option<(i64, Relief)> {
    let gap = bare.gaps[index];
    let most = gap.most?;
    let mut asked = bare.clone();
    let end = asked.new_point();
    asked.gaps[index].most = None;
    asked.gaps.push(Gap { most: Some(most), ..at_least(gap.from, end, -FURTHEST) });
    asked.gaps.push(small(end, gap.to));
    let change = plan(&asked)?.cost;
    Some((change, Relief::Longer { gap: index, most: most + change }))
}

/// The gap ends as late as it should; what is missing up to that is the change.
fn shorter(bare: &Puzzle, index: usize) -> Option<(i64, Relief)> {
    let gap = bare.gaps[index];
    let mut asked = bare.clone();
    let end = asked.new_point();
    asked.gaps[index].least = Some(0).filter(|_| gap.least > 0)?;
    asked.gaps.push(at_least(gap.from, end, gap.least));
    asked.gaps.push(small(gap.to, end));
    let change = plan(&asked)?.cost;
    Some((change, Relief::Shorter { gap: index, least: gap.least - change }))
}

/// Each opening that helps when it begins earlier, and each that helps when it ends later.
fn hours(bare: &Puzzle) -> Vec<(i64, Relief)> {
    let mut field = Field::new(bare, &Cluster::whole(bare));
    let openings = bare.openings.clone();
    let mut helps = |opening: usize, earlier: bool, change: i64| {
        field.openings = extended(&openings, opening, earlier, change);
        field.latest(&field.all_choices()).is_some()
    };
    let mut reliefs = Vec::new();
    for (opening, &(begin, end)) in openings.iter().enumerate() {
        for earlier in [true, false] {
            let most = room_beside(&openings, opening, earlier);
            if !helps(opening, earlier, most) {
                continue;
            }
            let change = least(most, |change| helps(opening, earlier, change));
            let hours = if earlier { (begin - change, end) } else { (begin, end + change) };
            reliefs.push((change, Relief::Hours { opening, hours }));
        }
    }
    reliefs
}

/// How far an opening can grow until it meets the one before or after it.
fn room_beside(openings: &[(i64, i64)], opening: usize, earlier: bool) -> i64 {
    let (begin, end) = openings[opening];
    let before = opening.checked_sub(1).and_then(|before| openings.get(before));
    match earlier {
        true => begin - before.map_or(-FURTHEST, |&(_, end)| end),
        false => openings.get(opening + 1).map_or(FURTHEST, |&(begin, _)| begin) - end,
    }
}

/// The openings with one of them longer; where it then meets the next one, both are one.
fn extended(
    openings: &[(i64, i64)],
    opening: usize,
    earlier: bool,
    change: i64,
) -> Vec<(i64, i64)> {
    let mut openings = openings.to_vec();
    match earlier {
        true => openings[opening].0 -= change,
        false => openings[opening].1 += change,
    }
    let other = if earlier { opening.checked_sub(1) } else { Some(opening) };
    if let Some(first) = other
        && let (Some(&(begin, end)), Some(&(next, last))) =
            (openings.get(first), openings.get(first + 1))
        && end >= next
    {
        openings[first] = (begin, last);
        openings.remove(first + 1);
    }
    openings
}

/// The smallest change that helps, of which the largest does: a longer opening never harms.
fn least(most: i64, mut helps: impl FnMut(i64) -> bool) -> i64 {
    let (mut low, mut high) = (0, most);
    while low < high {
        let middle = low + (high - low) / 2;
        match helps(middle) {
            true => high = middle,
            false => low = middle + 1,
        }
    }
    high
}

impl Puzzle {
    fn new_point(&mut self) -> usize {
        self.points += 1;
        self.points - 1
    }
}
