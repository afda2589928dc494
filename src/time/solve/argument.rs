//! A short argument that the parts of a field cannot hold together.
//!
//! Enters: a field without a plan. Leaves: an argument with the fewest steps, or nothing where
//! no short one begins with what is fixed or with the hours. A step concludes from
//! the latest time of one point, by one part, the latest time of another; so an argument is a
//! path, and all paths of so many steps are followed at once. Deliberately absent: that a part
//! that is used twice is one part. So the fewest steps need not be the fewest parts.

use super::bounds::Field;

/// A conclusion about the latest time of one point from that of another; about the earliest
/// time, where time runs backwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Move {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
    /// What was concluded before of `from`; nothing where nothing was known of it.
    pub known: Option<i64>,
    /// What follows of `to`.
    pub time: i64,
    /// By a length; else because somebody has to be there.
    pub by_length: bool,
    /// The place among the parts.
    part: usize,
}

/// Why parts cannot hold together: conclusions one after the other, the first from what is
/// fixed, the last of a point that thereby is too early.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Argument {
    /// Whether it goes forward in time and speaks of the earliest times, so that the last one
    /// is too late.
    pub forward: bool,
    /// One after the other.
    pub moves: Vec<Move>,
    /// Whether it ends at a point whose time is fixed, and at which; else before all hours.
    pub ends_at: Option<i64>,
    last: Option<usize>,
}

impl Argument {
    /// The parts that it uses, in rising order.
    pub fn parts(&self) -> Vec<usize> {
        let mut parts: Vec<usize> =
            self.moves.iter().map(|step| step.part).chain(self.last).collect();
        parts.sort_unstable();
        parts.dedup();
        parts
    }

    /// The same of a field with time running backwards.
    pub fn mirrored(mut self) -> Self {
        self.forward = !self.forward;
        self.ends_at = self.ends_at.map(|time| -time);
        for step in &mut self.moves {
            step.time = -step.time;
            step.known = step.known.map(|time| -time);
        }
        self
    }
}

/// The latest times that so many steps conclude, and the last step where that is news.
#[derive(Clone, Debug)]
struct Layer {
    times: Vec<Option<i64>>,
    steps: Vec<Option<Move>>,
}

/// The shortest argument.
pub fn shortest_argument(field: &Field, most_steps: usize) -> Option<Argument> {
    let mut layers = vec![what_is_fixed(field)];
    for _ in 0..=most_steps {
        let top = layers.last()?;
        if let Some((point, last, ends_at)) = contradiction(field, &top.times) {
            return Some(Argument { forward: false, moves: path(&layers, point), ends_at, last });
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

/// A point that is too early: the part that says so, where hours do, and the time where a fixed
/// one does.
fn contradiction(
    field: &Field,
    times: &[Option<i64>],
) -> Option<(usize, Option<usize>, Option<i64>)> {
    let early = |point: usize, limit: i64| times[point].is_some_and(|time| time < limit);
    let fixed = field.limits.iter().filter(|limit| limit.to == field.points);
    let mut fixed = fixed.filter(|limit| early(limit.from, -limit.most));
    if let Some(limit) = fixed.next() {
        return Some((limit.from, limit.part, Some(-limit.most)));
    }
    let first = field.openings.first().map_or(i64::MAX, |&(begin, _)| begin);
    let stays = field.stays.iter().flat_map(|stay| [(stay.from, stay.part), (stay.to, stay.part)]);
    let mut stays = stays.filter(|&(point, _)| early(point, first));
    stays.next().map(|(point, part)| (point, Some(part), None))
}

fn concluded(field: &Field, times: &[Option<i64>]) -> Layer {
    let mut layer = Layer { times: times.to_vec(), steps: vec![None; times.len()] };
    let mut conclude = |step: Move| {
        if layer.times[step.to].is_none_or(|known| step.time < known) {
            layer.times[step.to] = Some(step.time);
            layer.steps[step.to] = Some(step);
        }
    };
    for limit in &field.limits {
        if let (Some(known), Some(part)) = (times[limit.from], limit.part) {
            let time = known + limit.most;
            let (from, to, known) = (limit.from, limit.to, Some(known));
            conclude(Move { from, to, known, time, by_length: true, part });
        }
    }
    for stay in &field.stays {
        for from in [stay.from, stay.to] {
            if let Some(time) = field.end_of_begun(times[from]) {
                let part = stay.part;
                for to in [stay.from, stay.to] {
                    conclude(Move { from, to, known: times[from], time, by_length: false, part });
                }
            }
        }
    }
    layer
}

/// Follows an argument back to where it begins.
fn path(layers: &[Layer], mut point: usize) -> Vec<Move> {
    let mut moves = Vec::new();
    for layer in layers.iter().rev() {
        if let Some(step) = layer.steps[point] {
            moves.push(step);
            point = step.from;
        }
    }
    moves.reverse();
    moves
}

impl Field {
    /// When the last opening ends that has begun by a time, or by any.
    fn end_of_begun(&self, time: Option<i64>) -> Option<i64> {
        let has_begun = |&(begin, _): &(i64, i64)| time.is_none_or(|time| begin <= time);
        let begun = self.openings.partition_point(has_begun);
        self.openings.get(begun.checked_sub(1)?).map(|&(_, end)| end)
    }
}
