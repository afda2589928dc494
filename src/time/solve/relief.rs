//! Single changes that give a puzzle without a plan one.
//!
//! Enters: a puzzle and the parts of its conflict. Leaves: for each part the smallest change of
//! it alone after which the whole puzzle has a plan, if there is one. Each change is asked for as
//! a puzzle of its own, in which the only wish is that the change be small. Deliberately absent:
//! changes of two parts.

use super::bounds::Field;
use super::{Cluster, FURTHEST, Gap, Part, Presence, Puzzle, Relief, plan};

/// The reliefs, the smallest change first, then in the order of the parts.
pub fn reliefs(puzzle: &Puzzle, parts: &[Part]) -> Vec<Relief> {
    let bare = without_wishes(puzzle);
    let mut reliefs: Vec<(i64, Relief)> = Vec::new();
    for &part in parts {
        match part {
            Part::Gap(gap) => {
                reliefs.extend(longer(&bare, gap));
                reliefs.extend(shorter(&bare, gap));
            }
            Part::Presence(presence) => reliefs.extend(hours(&bare, presence)),
        }
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
    Gap { from, to, least, most: None, wish: None }
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

/// The opening that has to be extended least. Openings are asked in the order of what they
/// would need at least, so that most of them are never asked.
fn hours(bare: &Puzzle, index: usize) -> Option<(i64, Relief)> {
    let mut free = bare.clone();
    let presence = free.presences.remove(index);
    let mut best: Option<(i64, (i64, i64))> = None;
    for (needed, opening) in needs(&free, presence)? {
        if best.is_none_or(|(change, _)| needed < change)
            && let Some(found) = extended(&free, presence, opening)
            && best.is_none_or(|(change, _)| found.0 < change)
        {
            best = Some(found);
        }
    }
    best.map(|(change, opening)| (change, Relief::Hours { presence: index, opening }))
}

/// Each opening with the least by which it misses a presence in any plan without it, the nearest
/// first; nothing where there is no such plan.
fn needs(free: &Puzzle, presence: Presence) -> Option<Vec<(i64, (i64, i64))>> {
    let whole = Cluster {
        points: Vec::new(),
        gaps: (0..free.gaps.len()).collect(),
        presences: (0..free.presences.len()).collect(),
    };
    let field = Field::new(free, &whole);
    let latest = field.latest(&field.all_choices())?;
    let mirrored = field.mirrored();
    let earliest = mirrored.latest(&mirrored.all_choices())?;
    let need = |&(begin, end): &(i64, i64)| {
        let before = begin - latest[presence.from].min(latest[presence.to]);
        let after = -earliest[presence.from].min(earliest[presence.to]) - end;
        (before.max(0) + after.max(0), (begin, end))
    };
    let mut needs: Vec<_> = free.openings.iter().map(need).collect();
    needs.sort_unstable();
    Some(needs)
}

/// An opening extended as little as the presence needs, with the change. Its new begin and end
/// are points that hold the presence between them.
fn extended(free: &Puzzle, presence: Presence, opening: (i64, i64)) -> Option<(i64, (i64, i64))> {
    let mut asked = free.clone();
    let [begin, end, new_begin, new_end] = std::array::from_fn(|_| asked.new_point());
    asked.fixed.extend([(begin, opening.0), (end, opening.1)]);
    asked.gaps.extend([small(new_begin, begin), small(end, new_end)]);
    for point in [presence.from, presence.to] {
        asked.gaps.extend([at_least(new_begin, point, 0), at_least(point, new_end, 0)]);
    }
    let found = plan(&asked)?;
    Some((found.cost, (found.times[new_begin], found.times[new_end])))
}

impl Puzzle {
    fn new_point(&mut self) -> usize {
        self.points += 1;
        self.points - 1
    }
}
