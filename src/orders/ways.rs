//! Ways out of a day that is late: each is planned as it would be where somebody wrote it down, and
//! only what that day keeps is told.

use super::resolve::ResolvedDay;
use super::work::{Planned, causes};
use crate::quantity::Exact;
use crate::syntax::tree::Ordered;
use crate::time::day::{Cause, Change, Minute};

/// How late a day is as its customers see it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shortfall {
    /// Pieces, or grams of dough, that find no place.
    pub missing: u32,
    /// Minutes that the latest line of an order is late.
    pub worst: Minute,
    /// How many lines of orders are late.
    pub late: usize,
}

/// Why something is late or left out, and what would help.
#[derive(Clone, Debug)]
pub struct TriedCause {
    /// The cause, with changes that may help.
    pub cause: Cause,
    /// Those that were planned and do.
    pub ways: Vec<TriedWay>,
    /// Whether more were to be planned when the work ended.
    pub is_cut: bool,
}

/// A change of the day, and how late it is with it.
#[derive(Clone, Debug)]
pub struct TriedWay {
    /// What is changed.
    pub change: Change,
    /// What is missing and late then.
    pub then: Shortfall,
}

/// Rounds in which a later time is asked for later still.
const ROUNDS: usize = 3;

/// Why something is late or left out, with the ways out that hold: `again` plans a day with other
/// orders, or with a change of hands or machines; nothing, where no work is left for it.
pub fn tried<'t>(
    planned: &Planned<'t>,
    mut again: impl FnMut(&ResolvedDay<'t>, Option<&Change>) -> Option<Planned<'t>>,
) -> Vec<TriedCause> {
    let now = shortfall(planned);
    let mut known: Vec<(Change, Option<TriedWay>)> = Vec::new();
    let causes = causes(planned).into_iter().map(|cause| {
        let (mut ways, mut is_cut) = (Vec::new(), cause.is_cut);
        for way in &cause.ways {
            if let Some((_, tried)) = known.iter().find(|(change, _)| *change == way.change) {
                ways.extend(tried.clone());
                continue;
            }
            let tried = match &way.change {
                Change::By(dues) => later(planned, dues, &mut again),
                change => other_day(planned, change).map(|(day, own)| {
                    let change =
                        Some(change).filter(|change| !matches!(change, Change::Without(_)));
                    again(&day, change).map(|then| (way.change.clone(), shortfall(&then), own))
                }),
            };
            // What can't be written down is no way out.
            let Some(tried) = tried else { continue };
            let Some((change, then, own)) = tried else {
                is_cut = true;
                continue;
            };
            let before = Shortfall { missing: now.missing.saturating_sub(own), ..now };
            let told = is_better(then, before).then_some(TriedWay { change, then });
            known.push((way.change.clone(), told.clone()));
            ways.extend(told);
        }
        ways.sort_by_key(|way| way.then);
        TriedCause { cause, ways, is_cut }
    });
    causes.collect()
}

/// Whether a day is better for its customers than another: less is missing, or nothing is later
/// and something less late.
fn is_better(then: Shortfall, now: Shortfall) -> bool {
    match then.missing.cmp(&now.missing) {
        std::cmp::Ordering::Less => true,
        std::cmp::Ordering::Equal => {
            then.worst < now.worst || (then.worst == now.worst && then.late < now.late)
        }
        std::cmp::Ordering::Greater => false,
    }
}

/// A change that was planned, what is missing and late with it, and how many pieces it gives up
/// that found no place before.
type Outcome = (Change, Shortfall, u32);

/// The first times from these on with which the day is better; the outer nothing, where no order
/// can say them.
fn later<'t>(
    planned: &Planned<'t>,
    dues: &[(usize, Minute)],
    again: &mut impl FnMut(&ResolvedDay<'t>, Option<&Change>) -> Option<Planned<'t>>,
) -> Option<Option<Outcome>> {
    /// Later times are rounded to so many minutes.
    const STEP: Minute = 5;
    let laid = &planned.laid;
    // By the wishes, as the order counts as done.
    let mut times: Vec<(usize, Minute)> = Vec::new();
    for (due, by) in dues {
        let due = laid.puzzle.dues.get(*due)?;
        let by = by + laid.making.wishes.get(due.order)?.by - due.by;
        match times.iter_mut().find(|(wish, _)| *wish == due.order) {
            Some((_, known)) => *known = by.max(*known),
            None => times.push((due.order, by)),
        }
    }
    let mut best: Option<Outcome> = None;
    for _ in 0..ROUNDS {
        let mut day = laid.day.clone();
        for (wish, by) in &times {
            let wish = laid.making.wishes.get(*wish)?;
            let line = day.orders.get_mut(wish.order)?.wishes.get_mut(wish.line)?;
            line.by = laid.clock.day_time(*by, line.by.span)?;
        }
        let Some(then) = again(&day, None) else { return best.map(Some).or(Some(None)) };
        let worst = shortfall(&then);
        let change = Change::By(by_dues(planned, &times));
        if best.as_ref().is_none_or(|(_, known, _)| worst < *known) {
            best = Some((change, worst, 0));
        }
        let late = wishes_late(&then);
        let is_kept = times.iter().all(|(wish, _)| {
            let wish = &laid.making.wishes[*wish];
            late_of(&then, &late, (wish.order, wish.line)) == 0
        });
        if is_kept {
            break;
        }
        for (wish, by) in &mut times {
            let of = &laid.making.wishes[*wish];
            let late = late_of(&then, &late, (of.order, of.line));
            *by = (*by + late + STEP - 1).div_euclid(STEP) * STEP;
        }
    }
    Some(best)
}

/// Times of wishes as times of the dues they are of.
fn by_dues(planned: &Planned, times: &[(usize, Minute)]) -> Vec<(usize, Minute)> {
    let laid = &planned.laid;
    let dues = laid.puzzle.dues.iter().enumerate().filter_map(|(place, due)| {
        let (wish, by) = times.iter().find(|(wish, _)| *wish == due.order)?;
        Some((place, by - (laid.making.wishes.get(*wish)?.by - due.by)))
    });
    dues.collect()
}

/// How late a line of an order is, by its places.
fn late_of(planned: &Planned, late: &[Minute], (order, line): (usize, usize)) -> Minute {
    let wishes = planned.laid.making.wishes.iter();
    let of_it = wishes.zip(late).filter(|(wish, _)| (wish.order, wish.line) == (order, line));
    of_it.map(|(_, late)| *late).max().unwrap_or(0)
}

/// The day with which a change is planned, and how many pieces it gives up that find no place now.
fn other_day<'t>(planned: &Planned<'t>, change: &Change) -> Option<(ResolvedDay<'t>, u32)> {
    let laid = &planned.laid;
    let mut day = laid.day.clone();
    let Change::Without(batch) = change else { return Some((day, 0)) };
    let fewer = fewer(planned, *batch);
    if fewer.is_empty() {
        return None;
    }
    for (wish, pieces) in &fewer {
        let wish = laid.making.wishes.get(*wish)?;
        let line = day.orders.get_mut(wish.order)?.wishes.get_mut(wish.line)?;
        let (Ordered::Pieces(count, _) | Ordered::Weight(count)) = &mut line.amount;
        count.number = &count.number - &Exact::from(*pieces);
    }
    for order in &mut day.orders {
        order.wishes.retain(|wish| {
            let (Ordered::Pieces(count, _) | Ordered::Weight(count)) = &wish.amount;
            count.number > Exact::ZERO
        });
    }
    day.orders.retain(|order| !order.wishes.is_empty());
    let is_out = planned.plan.left_out.contains(batch);
    let own = fewer.iter().map(|(_, pieces)| pieces).sum();
    (!day.orders.is_empty()).then_some((day, if is_out { own } else { 0 }))
}

/// What the wishes would want less without a batch: pieces of few lines of orders, none of dough by
/// weight; else nothing.
pub fn fewer(planned: &Planned, batch: usize) -> Vec<(usize, u32)> {
    /// Lines that one change may tell.
    const FEW: usize = 2;
    let laid = &planned.laid;
    let mut fewer: Vec<(usize, u32)> = Vec::new();
    let own = laid.making.batches.get(batch).filter(|batch| batch.kept.is_none());
    for (wish, pieces) in own.into_iter().flat_map(|it| &it.loads).flat_map(|load| &load.serves) {
        match fewer.iter_mut().find(|(known, _)| known == wish) {
            Some((_, known)) => *known += pieces,
            None => fewer.push((*wish, *pieces)),
        }
    }
    let is_pieces = |wish: &usize| {
        laid.making.wishes.get(*wish).is_some_and(|wish| {
            let line = laid.day.orders.get(wish.order).and_then(|it| it.wishes.get(wish.line));
            line.is_some_and(|line| matches!(line.amount, Ordered::Pieces(..)))
        })
    };
    match fewer.len() <= FEW && fewer.iter().all(|(wish, _)| is_pieces(wish)) {
        true => fewer,
        false => Vec::new(),
    }
}

/// Minutes that each wish is late.
fn wishes_late(planned: &Planned) -> Vec<Minute> {
    let all = planned.laid.making.wishes.iter().zip(planned.done_of_wishes());
    all.map(|(wish, (done, _))| done.map_or(0, |done| (done - wish.by).max(0))).collect()
}

/// What is missing of a day, and how late it is, as its customers see it.
pub fn shortfall(planned: &Planned) -> Shortfall {
    let late = wishes_late(planned);
    let missing = planned.done_of_wishes().into_iter().map(|(_, missing)| missing);
    Shortfall {
        missing: missing.sum(),
        worst: late.iter().copied().max().unwrap_or(0),
        late: late.iter().filter(|late| **late > 0).count(),
    }
}
