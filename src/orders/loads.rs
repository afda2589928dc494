//! Loads of the oven: a batch of which a deck holds a part at a time waits in the step before.

use super::net::Net;
use super::segs::{Seg, step_of};
use crate::formula::{Worked, is_kind};
use crate::syntax::tree::Verb;
use crate::time::{Doing, Hands};
use ecow::EcoString;

/// How a batch goes through the oven.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Loads {
    /// Pieces of each load.
    pub pieces: Vec<u32>,
    /// Of each load the kind of its pieces, by its place among those of the product, and its name;
    /// no name for dough.
    pub kinds: Vec<(usize, Option<EcoString>)>,
}

impl Loads {
    /// Of each load the place of its kind, and its pieces.
    pub fn all(&self) -> Vec<(usize, u32)> {
        self.kinds.iter().map(|(kind, _)| *kind).zip(self.pieces.iter().copied()).collect()
    }

    /// The name of the kind of a load's pieces.
    pub fn kind(&self, load: usize) -> Option<&str> {
        self.kinds.get(load)?.1.as_deref()
    }
}

/// So many pieces in as few loads as hold so many, none larger than another by more than one.
pub fn in_loads(pieces: u32, held: Option<u32>) -> Vec<u32> {
    let loads = held.filter(|held| *held > 0).map_or(1, |held| pieces.div_ceil(held)).max(1);
    shared(pieces, loads)
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
    // Pieces that a step is for: all, or those of its kind.
    let meant = |seg: &Seg, load: usize| {
        let kind = kind_of(worked, seg);
        kind.is_none_or(|kind| loads.kind(load).is_none_or(|own| is_kind(kind, own)))
    };
    let count = |seg: &Seg| -> u32 {
        let own = loads.pieces.iter().enumerate().filter(|(load, _)| meant(seg, *load));
        own.map(|(_, pieces)| *pieces).sum()
    };
    let (tied, mut kept): (Vec<Seg>, Vec<Seg>) = head.into_iter().partition(|seg| {
        let inner = |point: usize| point != begin && tail.iter().any(|it| it.to == point);
        inner(seg.from) || inner(seg.to)
    });
    let end = ends.first().map_or(begin, |(end, _)| *end);
    ends.clear();
    for (load, &pieces) in loads.pieces.iter().enumerate() {
        let mut copies: Vec<(usize, usize)> = vec![(begin, begin)];
        let mut of = |copies: &mut Vec<(usize, usize)>, point: usize| {
            if let Some((_, copy)) = copies.iter().find(|(known, _)| *known == point) {
                return *copy;
            }
            let copy = if load == 0 { point } else { net.point() };
            copies.push((point, copy));
            copy
        };
        // A step for another kind of pieces is nothing to this load: it ends where it begins.
        for seg in tail.iter().chain(&tied).filter(|seg| !meant(seg, load)) {
            let from = of(&mut copies, seg.from);
            copies.push((seg.to, from));
        }
        for seg in tail.iter().chain(&tied).filter(|seg| meant(seg, load)) {
            let mut copy = seg.clone();
            (copy.from, copy.to) = (of(&mut copies, seg.from), of(&mut copies, seg.to));
            copy.load = Some(load);
            let all = count(seg);
            if seg.hands == Hands::On && all > 0 {
                let share = |minutes: i64| {
                    let (minutes, pieces, all) = (minutes, i64::from(pieces), i64::from(all));
                    if minutes == 0 { 0 } else { ((2 * minutes * pieces + all) / (2 * all)).max(1) }
                };
                (copy.least, copy.most) = (share(seg.least), seg.most.map(share));
            }
            kept.push(copy);
        }
        ends.push((of(&mut copies, end), pieces));
    }
    *segs = kept;
}

/// The kind of pieces that something is for; none where it is for all.
fn kind_of<'w>(worked: &'w Worked, seg: &Seg) -> Option<&'w str> {
    let phase = match seg.doing {
        Doing::Step { phase, .. } | Doing::Fold { phase, .. } => Some(phase),
        _ => None,
    };
    let step = step_of(worked, &seg.doing)?;
    let own = phase.and_then(|phase| step.phases.get(phase)).and_then(|it| it.kind.as_ref());
    let kind = own.or_else(|| step.phases.iter().find_map(|phase| phase.kind.as_ref()))?;
    Some(kind.key.as_str())
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
