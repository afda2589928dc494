//! Loads of the oven: a batch of which a deck holds a part at a time waits in the step before.

use super::net::Net;
use super::segs::{Seg, step_of};
use crate::formula::Worked;
use crate::syntax::tree::Verb;
use crate::time::{Doing, Hands};

/// How a batch goes through the oven.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Loads {
    /// Pieces of each load.
    pub pieces: Vec<u32>,
}

impl Loads {
    /// So many pieces in as few loads as hold so many, none larger than another by more than one.
    pub fn of(pieces: u32, held: Option<u32>) -> Self {
        let loads = held.filter(|held| *held > 0).map_or(1, |held| pieces.div_ceil(held)).max(1);
        Self { pieces: shared(pieces, loads) }
    }
}

/// So many pieces in so many parts, none larger than another by more than one.
pub fn shared(pieces: u32, parts: u32) -> Vec<u32> {
    let parts = parts.max(1);
    let (each, more) = (pieces / parts, pieces % parts);
    (0..parts).map(|part| each + u32::from(part < more)).collect()
}

/// Parts what follows the last wait that can be chosen before the oven, a copy for each load.
pub(super) fn part(
    segs: &mut Vec<Seg>,
    net: &mut Net,
    ends: &mut Vec<(usize, u32)>,
    worked: &Worked,
    loads: &Loads,
    ports: &[(usize, usize)],
) {
    let Some(first) = parts_at(segs, worked, ports) else { return };
    let is_tail = |seg: &Seg| number(&seg.doing).is_some_and(|step| step >= first);
    let (tail, head): (Vec<Seg>, Vec<Seg>) = segs.drain(..).partition(is_tail);
    let Some(begin) = tail.first().map(|seg| seg.from) else {
        *segs = head;
        return;
    };
    let all: u32 = loads.pieces.iter().sum();
    let (tied, mut kept): (Vec<Seg>, Vec<Seg>) = head.into_iter().partition(|seg| {
        let inner = |point: usize| point != begin && tail.iter().any(|it| it.to == point);
        inner(seg.from) || inner(seg.to)
    });
    let end = ends.first().map_or(begin, |(end, _)| *end);
    ends.clear();
    for (load, &pieces) in loads.pieces.iter().enumerate() {
        let mut copies: Vec<(usize, usize)> = vec![(begin, begin)];
        let mut of = |point: usize, net: &mut Net| {
            if let Some((_, copy)) = copies.iter().find(|(known, _)| *known == point) {
                return *copy;
            }
            let copy = if load == 0 { point } else { net.point() };
            copies.push((point, copy));
            copy
        };
        for seg in tail.iter().chain(&tied) {
            let mut copy = seg.clone();
            (copy.from, copy.to) = (of(seg.from, net), of(seg.to, net));
            copy.load = Some(load);
            if seg.hands == Hands::On && all > 0 {
                let share = |minutes: i64| {
                    let (minutes, pieces, all) = (minutes, i64::from(pieces), i64::from(all));
                    if minutes == 0 { 0 } else { ((2 * minutes * pieces + all) / (2 * all)).max(1) }
                };
                (copy.least, copy.most) = (share(seg.least), seg.most.map(share));
            }
            kept.push(copy);
        }
        ends.push((of(end, net), pieces));
    }
    *segs = kept;
}

/// The step of the dough's own method that something is of.
fn number(doing: &Doing) -> Option<usize> {
    match *doing {
        Doing::Step { stage: None, step, .. }
        | Doing::Moment { stage: None, step }
        | Doing::Fold { stage: None, step, .. }
        | Doing::Folding { stage: None, step, .. } => Some(step),
        _ => None,
    }
}

/// The step from which each load goes its own way: the last wait before the oven that can be
/// longer or shorter and in which no stage goes in, else the oven itself.
fn parts_at(segs: &[Seg], worked: &Worked, ports: &[(usize, usize)]) -> Option<usize> {
    let steps = || segs.iter().filter(|seg| matches!(seg.doing, Doing::Step { stage: None, .. }));
    let is_bake = |seg: &&Seg| step_of(worked, &seg.doing).is_some_and(|it| it.verb == Verb::Bake);
    let bake = number(&steps().find(is_bake)?.doing)?;
    let can_wait =
        |seg: &&Seg| seg.hands == Hands::Off && seg.most.is_none_or(|most| most > seg.least);
    let before = steps().filter(|seg| number(&seg.doing).is_some_and(|step| step < bake));
    let wait = before.filter(can_wait).filter_map(|seg| number(&seg.doing)).max();
    let later = |step: usize| {
        segs.iter().filter(move |seg| number(&seg.doing).is_some_and(|it| it >= step))
    };
    let has_port = |step: usize| {
        let begin = later(step).next().map(|seg| seg.from);
        later(step).any(|seg| {
            ports
                .iter()
                .any(|(port, _)| *port == seg.to || *port == seg.from && begin != Some(*port))
        })
    };
    Some(wait.filter(|step| !has_port(*step)).unwrap_or(bake))
}
