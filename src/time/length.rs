//! How long a formula takes: from its first step to its last along the longest path, and
//! how much of that is work for hands.

use super::graph::{Doing, Graph, Hands, Stretch};
use crate::formula::House;
use crate::quantity::Exact;
use crate::syntax::tree::{Extent, Wait};

/// Waits as numbers: minutes at least and at most, degrees Celsius at least and at most, and
/// whether they stand in the room.
pub fn waits_of(house: &House, waits: &[Wait]) -> Vec<WaitNumbers> {
    let ends = |extent: &Extent| {
        let end = |end: &Option<_>| end.as_ref().map(|end| house.base(end));
        (end(&extent.low), end(&extent.high))
    };
    let wait =
        |wait: &Wait| (wait.time.as_ref().map(ends), wait.at.as_ref().map(ends), wait.in_room);
    waits.iter().map(wait).collect()
}

type Ends = (Option<Exact>, Option<Exact>);
type WaitNumbers = (Option<Ends>, Option<Ends>, bool);

/// A length of time, in exact minutes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Length {
    /// The least that it takes, in minutes.
    pub low: Exact,
    /// None where some part of it is open-ended.
    pub high: Option<Exact>,
}

/// From the first step to the last: the longest path, once with all lengths at their
/// low ends, once at their high ones. What keeps counts for the longest.
pub fn elapsed(graph: &Graph) -> Length {
    let low = |stretch: &Stretch| Some(stretch.low.clone());
    let high = |stretch: &Stretch| match stretch.loose {
        true => Some(stretch.low.clone()),
        false => stretch.high.clone(),
    };
    Length { low: longest(graph, low).unwrap_or_default(), high: longest(graph, high) }
}

/// All that hands are at work.
pub fn hands_on(graph: &Graph) -> Length {
    let on = graph.stretches.iter().filter(|stretch| stretch.hands == Hands::On);
    let mut sum = Length { low: Exact::ZERO, high: Some(Exact::ZERO) };
    for stretch in on {
        sum.low += &stretch.low;
        sum.high = sum.high.zip(stretch.high.clone()).map(|(sum, more)| sum + more);
    }
    sum
}

/// The longest way to the end; none where a stretch on some way has no length.
fn longest(graph: &Graph, length: impl Fn(&Stretch) -> Option<Exact>) -> Option<Exact> {
    let ways = ways(graph, &length);
    let reached = graph.sources.iter().map(|&source| match &ways[source] {
        LongestWay::To(_, sum) => Some(sum.clone()),
        LongestWay::Open => None,
        LongestWay::Nowhere => Some(Exact::ZERO),
    });
    reached.collect::<Option<Vec<_>>>()?.into_iter().max()
}

/// The longest way from a point to the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LongestWay {
    /// By this stretch, if any, and how long in all.
    To(Option<usize>, Exact),
    /// Some stretch on it is open-ended.
    Open,
    Nowhere,
}

/// The longest way to the end from every point.
pub fn ways(graph: &Graph, length: &impl Fn(&Stretch) -> Option<Exact>) -> Vec<LongestWay> {
    let mut ways = vec![LongestWay::Nowhere; graph.points];
    ways[graph.end] = LongestWay::To(None, Exact::ZERO);
    // Every round settles the points one stretch further from the end.
    for _ in 0..graph.points {
        let mut changed = false;
        for (index, stretch) in graph.stretches.iter().enumerate().rev() {
            let found = match (&ways[stretch.to], length(stretch)) {
                (LongestWay::Nowhere, _) => continue,
                (LongestWay::Open, _) | (_, None) => LongestWay::Open,
                (LongestWay::To(_, rest), Some(length)) => {
                    LongestWay::To(Some(index), rest + length)
                }
            };
            if is_longer(&found, &ways[stretch.from]) {
                ways[stretch.from] = found;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    ways
}

fn is_longer(one: &LongestWay, two: &LongestWay) -> bool {
    match (one, two) {
        (LongestWay::Nowhere, _) | (_, LongestWay::Open) => false,
        (_, LongestWay::Nowhere) | (LongestWay::Open, _) => true,
        (LongestWay::To(_, one), LongestWay::To(_, two)) => one > two,
    }
}

/// The stretches of the longest way at the low or the high ends, in their order.
pub fn critical(graph: &Graph, at_high: bool) -> Vec<usize> {
    let length = |stretch: &Stretch| match (at_high, stretch.loose) {
        (true, false) => stretch.high.clone(),
        _ => Some(stretch.low.clone()),
    };
    let ways = ways(graph, &length);
    let whole = |source: &&usize| match &ways[**source] {
        LongestWay::To(_, sum) => sum.clone(),
        _ => Exact::ZERO,
    };
    // The earliest of equal ones, so that the answer is always the same.
    let mut at = graph.sources.iter().rev().max_by_key(whole).copied();
    let mut path = Vec::new();
    while let Some(point) = at {
        at = match &ways[point] {
            LongestWay::To(Some(stretch), _) => {
                path.push(*stretch);
                Some(graph.stretches[*stretch].to)
            }
            _ => None,
        };
    }
    path.retain(|&stretch| graph.stretches[stretch].doing != Doing::Order);
    path
}
