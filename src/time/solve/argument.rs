//! A short argument that the parts of a field cannot hold together.
//!
//! Enters: a field without a plan. Leaves: the parts of an argument with the fewest steps, or
//! nothing where no short one begins with what is fixed or with the hours. A step concludes from
//! the latest time of one point, by one part, the latest time of another; so an argument is a
//! path, and all paths of so many steps are followed at once. Deliberately absent: that a part
//! that is used twice is one part. So the fewest steps need not be the fewest parts.

use super::bounds::Field;

/// What a conclusion rests on: a bound of the layer before, and a part.
#[derive(Clone, Copy, Debug)]
struct Step {
    before: usize,
    part: usize,
}

/// The latest times that so many steps conclude, and the last step where that is news.
#[derive(Clone, Debug)]
struct Layer {
    times: Vec<Option<i64>>,
    steps: Vec<Option<Step>>,
}

/// The parts that the shortest argument uses, in rising order.
pub fn shortest_argument(field: &Field, most_steps: usize) -> Option<Vec<usize>> {
    let mut layers = vec![what_is_fixed(field)];
    for _ in 0..=most_steps {
        let top = layers.last()?;
        if let Some((point, part)) = contradiction(field, &top.times) {
            return Some(parts_of(&layers, point, part));
        }
        layers.push(concluded(field, &top.times));
    }
    None
}

fn what_is_fixed(field: &Field) -> Layer {
    let mut times = vec![None; field.points + 1];
    times[field.points] = Some(0);
    for limit in field.limits.iter().filter(|limit| limit.from == field.points) {
        times[limit.to] = Some(limit.most);
    }
    Layer { steps: vec![None; times.len()], times }
}

/// A point that is too early, for what is fixed or for any opening, and the part that says so.
fn contradiction(field: &Field, times: &[Option<i64>]) -> Option<(usize, Option<usize>)> {
    let fixed = field.limits.iter().filter(|limit| limit.to == field.points);
    let early = |point: usize, limit: i64| times[point].is_some_and(|time| time < limit);
    let fixed = fixed.map(|limit| (limit.from, None, -limit.most));
    let first = field.openings.first().map_or(i64::MAX, |&(begin, _)| begin);
    let stays = field.stays.iter().flat_map(|stay| [(stay.from, stay.part), (stay.to, stay.part)]);
    let stays = stays.map(|(point, part)| (point, Some(part), first));
    let mut all = fixed.chain(stays);
    all.find(|&(point, _, limit)| early(point, limit)).map(|(point, part, _)| (point, part))
}

fn concluded(field: &Field, times: &[Option<i64>]) -> Layer {
    let mut layer = Layer { times: times.to_vec(), steps: vec![None; times.len()] };
    let mut conclude = |point: usize, time: i64, step: Step| {
        if layer.times[point].is_none_or(|known| time < known) {
            layer.times[point] = Some(time);
            layer.steps[point] = Some(step);
        }
    };
    for limit in &field.limits {
        if let (Some(time), Some(part)) = (times[limit.from], limit.part) {
            conclude(limit.to, time + limit.most, Step { before: limit.from, part });
        }
    }
    for stay in &field.stays {
        for before in [stay.from, stay.to] {
            if let Some(end) = field.end_of_begun(times[before]) {
                conclude(stay.from, end, Step { before, part: stay.part });
                conclude(stay.to, end, Step { before, part: stay.part });
            }
        }
    }
    layer
}

/// Follows an argument back to where it begins.
fn parts_of(layers: &[Layer], mut point: usize, last: Option<usize>) -> Vec<usize> {
    let mut parts: Vec<usize> = last.into_iter().collect();
    for layer in layers.iter().rev() {
        if let Some(step) = layer.steps[point] {
            parts.push(step.part);
            point = step.before;
        }
    }
    parts.sort_unstable();
    parts.dedup();
    parts
}

impl Field {
    /// When the last opening ends that has begun by a time, or by any.
    fn end_of_begun(&self, time: Option<i64>) -> Option<i64> {
        let has_begun = |&(begin, _): &(i64, i64)| time.is_none_or(|time| begin <= time);
        let begun = self.openings.partition_point(has_begun);
        self.openings.get(begun.checked_sub(1)?).map(|&(_, end)| end)
    }
}
