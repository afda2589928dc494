//! Ruin and recreate: takes a few batches out, lays them anew, and keeps what is better or not
//! much worse.
//!
//! Work is counted in placings, never in time; the same puzzle gives the same day.

use super::bound::{Bound, after_root};
use super::layout::Layout;
use super::placing::{Wide, Wish};
use super::puzzle::{Aim, Minute};
use super::random::Random;
use super::score::Score;
use super::state::{Saved, State};

/// The best day found.
pub struct BestDay {
    /// Where everything is.
    pub saved: Saved,
    /// Placings tried.
    pub tried: u64,
}

/// A search from one first number.
struct Search<'l> {
    state: State<'l>,
    random: Random,
    best: Saved,
    best_score: Score,
    /// What the day in the making costs, for comparing only.
    cost: i64,
    /// No batch should end later than this, from zero.
    last: Minute,
    unit: i64,
    weights: Weights,
    /// How much more it costs to leave each batch out, for having been out long.
    pains: Vec<i64>,
    /// The last minute that each batch could end alone.
    lasts: Vec<usize>,
    /// Minutes that each batch goes on at the least after what it is due for.
    tails: Vec<Minute>,
    /// The weight of what is out and the minutes late of the day in the making.
    trouble: (i64, i64),
}

/// What a minute costs beside what is left out.
#[derive(Clone, Copy)]
struct Weights {
    /// To leave a batch out, in minutes late.
    out: i64,
    late: i64,
    over: i64,
    /// That things stand for a while before they are due, each so many squared minutes.
    stands: Option<i64>,
}

/// By how much what is out gets dearer, and every how many steps.
const PAIN: i64 = 20;
const PAIN_EVERY: u64 = 20;
/// What a minute late costs.
const LATE: i64 = 100;
/// While something is left out, minutes hardly count.
const TO_PLACE: Weights = Weights { out: 500, late: 1, over: 0, stands: None };

/// How many short starts are made.
const STARTS: u64 = 4;

/// The best day that so many placings find.
pub fn search(layout: &Layout, placings: u64, floor: Bound) -> BestDay {
    let short = placings / 5 / STARTS;
    let mut best = Search::new(layout, 1);
    best.run(short, floor);
    let mut spent = best.state.tried;
    for start in 1..STARTS {
        let mut one = Search::new(layout, start + 1);
        one.run(short, floor);
        spent += one.state.tried;
        if one.best_score < best.best_score {
            best = one;
        }
    }
    let already = best.state.tried;
    let left = placings.saturating_sub(spent);
    let fresh = left / 8;
    best.run(left - fresh, floor);
    best.freshen(fresh);
    best.settle();
    BestDay { tried: spent + best.state.tried - already, saved: best.best }
}

/// Minutes that each batch goes on at the least after what it is due for.
fn tails(layout: &Layout) -> Vec<Minute> {
    let tails = layout.trees.iter().map(|tree| tree.as_ref().map(|it| after_root(layout, it)));
    tails.map(Option::unwrap_or_default).collect()
}

impl<'l> Search<'l> {
    fn new(layout: &'l Layout<'l>, first: u64) -> Self {
        let mut state = State::new(layout);
        let mut random = Random::new(first);
        let mut order = layout.wanted.clone();
        let is_new = |batch: &usize| {
            layout.tasks[*batch].iter().all(|&task| layout.needs[task].before.is_none())
        };
        // What an earlier plan had keeps its place before what is new takes it.
        order.sort_by_key(|batch| (is_new(batch), layout.first_due(*batch), *batch));
        let lasts = state.lasts();
        if first.is_multiple_of(2) {
            // What can't be late is placed before what can.
            order.sort_by_key(|batch| (is_new(batch), lasts[*batch]));
        }
        for batch in order {
            state.place(batch, Wish::near(None), &mut random);
        }
        let best = state.save();
        let best_score = state.score();
        let weights: i64 = layout.puzzle.dues.iter().map(|due| due.weight.max(1)).sum();
        let unit = (weights / layout.puzzle.dues.len().max(1) as i64).max(1);
        let last = state.finish() - 1;
        let mut search = Self {
            state,
            random,
            best,
            best_score,
            cost: 0,
            last,
            unit,
            weights: TO_PLACE,
            pains: vec![0; layout.puzzle.batches.len()],
            lasts,
            tails: tails(layout),
            trouble: (0, 0),
        };
        search.cost = search.count();
        search
    }

    /// What the day costs: what is left out above all, then minutes late, then what the house
    /// prefers.
    fn count(&mut self) -> i64 {
        /// A minute beyond the last one, where that is not to be.
        const BEYOND: i64 = 20;
        let layout = self.state.layout;
        let (mut out, mut late, mut over) = (0, 0, 0);
        let (mut missing, mut stands) = (0, 0);
        for &batch in &layout.wanted {
            if !self.state.placed[batch] {
                missing += layout.puzzle.batches[batch].weight.max(1);
                out += self.weights.out
                    + self.pains[batch]
                    + layout.puzzle.batches[batch].weight.clamp(1, 500);
            }
            let (minutes, beyond) = self.state.cost(batch, self.last);
            late += minutes;
            over += beyond;
            if self.weights.stands.is_some() && self.state.placed[batch] {
                stands += self.state.stands(batch);
                // Anything up to the last minute will do, and nothing beyond it.
                over += i64::from((self.state.ends[batch] - self.last).max(0)) * BEYOND - beyond;
            }
        }
        self.trouble = (missing, late);
        let beside = self.beside();
        let over = if self.state.aim() == Aim::FinishEarly { over } else { 0 };
        let stands = self.weights.stands.map_or(0, |each| stands / each.max(1));
        out * LATE * self.unit
            + late * self.weights.late
            + (over + beside) * self.weights.over
            + stands
    }

    /// What moved and what the house does not like, in minutes.
    fn beside(&self) -> i64 {
        /// What a task that moved costs, a pair's hour, a change of an oven.
        const MOVED: i64 = 10;
        const HOUR: i64 = 5;
        const CHANGE: i64 = 10;
        let moves = self.state.layout.needs.iter().any(|need| need.before.is_some());
        if self.weights.over == 0 || (!moves && self.state.aim() == Aim::FinishEarly) {
            return 0;
        }
        let score = self.state.score();
        let aim = match self.state.aim() {
            Aim::FinishEarly => 0,
            Aim::LeastHands => score.aim.1 * HOUR,
            Aim::FewestOvenChanges => score.aim.0 * CHANGE,
        };
        score.moved.0 * MOVED + aim
    }

    /// Ruins and recreates until so many placings more are tried: first for what is left out,
    /// then for what is late, then for the day's end.
    fn run(&mut self, placings: u64, floor: Bound) {
        /// Minutes late that a step may cost at first, and minutes of the end.
        const LATER: i64 = 30;
        const LONGER: i64 = 10;
        let end = self.state.tried + placings;
        let unit = self.unit.min(20);
        // Something may be out for a while where that makes others less late.
        let loose = Weights { out: 150, late: LATE, over: unit, stands: None };
        let firm = Weights { out: 500, ..loose };
        let all_in = |search: &Self| search.best_score.left_out <= floor.left_out;
        let in_time = move |search: &Self| {
            search.best_score.left_out <= floor.left_out && search.best_score.late <= floor.lateness
        };
        if !all_in(self) {
            self.cool(TO_PLACE, placings * 7 / 10, self.unit * LATE, all_in);
        }
        if !in_time(self) {
            let left = end.saturating_sub(self.state.tried);
            self.cool(loose, left * 3 / 10, self.unit * LATE * LATER, in_time);
            self.cool(firm, left * 4 / 10, self.unit * LATE * LATER, in_time);
        }
        let left = end.saturating_sub(self.state.tried);
        self.cool(firm, left, unit * LONGER, |search| {
            let floor = search.state.layout.puzzle.end_counted(floor.finish);
            let is_early = search.best_score.aim.0 <= i64::from(floor);
            search.state.aim() == Aim::FinishEarly && is_early && in_time(search)
        });
    }

    /// Ruins and recreates for bread that stands less long before it is wanted, as long as the day
    /// is no worse: what is wanted first is done first.
    fn freshen(&mut self, placings: u64) {
        /// What stands for as many minutes, squared, costs as much as a minute late.
        const ALIKE: i64 = 60;
        /// Squared minutes that a step may cost at first, by the same measure.
        const HOT: i64 = 5;
        let each = (ALIKE * ALIKE / LATE).max(1);
        let weights =
            Weights { out: 5_000, late: LATE * LATE, over: LATE * self.unit, stands: Some(each) };
        self.weights = weights;
        self.last = self.target();
        self.in_order_of_dues(false);
        self.in_order_of_dues(true);
        self.cool(weights, placings, LATE * HOT * self.unit, |_| false);
    }

    /// Lays out the whole day anew in the order in which things are wanted: from the first on, as
    /// early as can be, or from the last on, as late as can be. What is no better is not kept.
    fn in_order_of_dues(&mut self, from_the_last: bool) {
        let layout = self.state.layout;
        self.state.restore(&self.best.clone());
        let due = |batch: &usize| layout.first_due(*batch).unwrap_or(layout.puzzle.span.1);
        let mut order = layout.wanted.clone();
        order.sort_by_key(|batch| (due(batch), *batch));
        if from_the_last {
            order.reverse();
        }
        order.iter().for_each(|&batch| self.state.remove(batch));
        for batch in order {
            let by = layout.counted(due(&batch)) as Minute;
            let by = by.min(self.last - self.tails[batch]);
            let by = usize::try_from(by).ok().filter(|_| from_the_last);
            self.state.place(batch, Wish::late(by), &mut self.random);
        }
        self.keeps_better();
    }

    /// Keeps the day as it is where it is the best so far.
    fn keeps_better(&mut self) -> bool {
        let score = self.state.score();
        let is_better = score < self.best_score;
        if is_better {
            self.best_score = score;
            self.best = self.state.save();
        }
        is_better
    }

    /// Moves one batch at a time to where it is fresher, as long as nothing else gets worse.
    fn settle(&mut self) {
        const ROUNDS: usize = 2;
        let layout = self.state.layout;
        self.state.restore(&self.best.clone());
        let mut order = layout.wanted.clone();
        order.sort_by_key(|&batch| (std::cmp::Reverse(self.state.ends[batch]), batch));
        for &batch in order.iter().cycle().take(ROUNDS * order.len()) {
            let due = layout.first_due(batch);
            let last = self.last_fresh() - self.tails[batch];
            let by = due.map_or(last, |due| layout.counted(due) as Minute);
            let by = usize::try_from(by.min(last)).ok();
            self.state.remove(batch);
            self.state.place(batch, Wish::late(by), &mut self.random);
            if !self.keeps_better() {
                self.state.restore(&self.best.clone());
            }
        }
    }

    /// From the best day on, so many placings; dearer steps are taken ever less.
    fn cool(
        &mut self,
        weights: Weights,
        placings: u64,
        heat: i64,
        is_done: impl Fn(&Self) -> bool,
    ) {
        self.state.restore(&self.best.clone());
        self.weights = weights;
        self.last = self.target();
        self.cost = self.count();
        let first = self.state.tried;
        self.pains.fill(0);
        // Where nothing is placed or taken out, nothing is tried: such steps end too.
        let mut steps = 0;
        while self.state.tried - first < placings && steps < 4 * placings && !is_done(self) {
            steps += 1;
            if steps % PAIN_EVERY == 0 {
                self.feel();
            }
            let left = placings - (self.state.tried - first);
            // Squared, so that it is cool for longer than hot.
            let warm = i128::from(heat) * i128::from(left) * i128::from(left)
                / (i128::from(placings) * i128::from(placings));
            self.step(i64::try_from(warm).unwrap_or(heat));
        }
    }

    /// What is out gets dearer, so that it is not always the same that is out.
    fn feel(&mut self) {
        for &batch in &self.state.layout.wanted {
            if !self.state.placed[batch] {
                self.pains[batch] += PAIN;
                self.cost += PAIN * LATE * self.unit;
            }
        }
    }

    /// One minute before the best day's last; that one, where it need not be earlier.
    fn target(&self) -> Minute {
        match self.weights.stands {
            None => self.best_end() - 1,
            Some(_) => self.last_fresh(),
        }
    }

    /// The last minute of the best day.
    fn best_end(&self) -> Minute {
        let places = self.best.places.iter().flatten();
        places.map(|place| place.end).max().unwrap_or(0)
    }

    /// The last minute to which anything may be moved for bread that stands less long: the end of
    /// the best day or one that is early enough; any, where the house does not ask for an early end.
    fn last_fresh(&self) -> Minute {
        let layout = self.state.layout;
        let early = layout.puzzle.early.map_or(0, |early| layout.counted(early) as Minute);
        match self.state.aim() {
            Aim::FinishEarly | Aim::FewestOvenChanges => self.best_end().max(early),
            Aim::LeastHands if layout.puzzle.early.is_none() => self.best_end(),
            Aim::LeastHands => layout.minutes as Minute,
        }
    }

    /// One ruin, one recreation.
    fn step(&mut self, heat: i64) {
        let before = self.state.save();
        let out = self.choose();
        for &batch in &out {
            self.state.remove(batch);
        }
        self.recreate(out);
        let cost = self.count();
        let width = u32::try_from(heat.max(0)).unwrap_or(u32::MAX);
        let allowed = self.cost + i64::from(self.random.below(width.max(1)));
        if cost > allowed {
            self.state.restore(&before);
            return;
        }
        self.cost = cost;
        // What is out or late more than at best is not worth a closer look.
        if self.trouble > (self.best_score.left_out, self.best_score.late) {
            return;
        }
        let score = self.state.score();
        if score < self.best_score {
            self.best_score = score;
            self.best = self.state.save();
            let last = self.target();
            if last != self.last {
                self.last = last;
                self.cost = self.count();
            }
        }
    }

    /// The batches to take out.
    fn choose(&mut self) -> Vec<usize> {
        let layout = self.state.layout;
        let placed: Vec<usize> =
            layout.wanted.iter().copied().filter(|batch| self.state.placed[*batch]).collect();
        if placed.is_empty() {
            return Vec::new();
        }
        let bad: Vec<usize> = (placed.iter().copied())
            .filter(|&batch| self.state.cost(batch, self.last) != (0, 0))
            .collect();
        let from = if bad.is_empty() || self.random.below(2) == 0 { &placed } else { &bad };
        let mut seed = from[self.random.place(from.len())];
        let absent: Vec<usize> =
            layout.wanted.iter().copied().filter(|batch| !self.state.placed[*batch]).collect();
        if !absent.is_empty() && self.random.below(2) == 0 {
            let one = absent[self.random.place(absent.len())];
            let shares = |batch: &usize| {
                layout.builds[*batch].iter().any(|b| layout.builds[one].contains(b))
            };
            let sharing: Vec<usize> = placed.iter().copied().filter(shares).collect();
            if !sharing.is_empty() {
                seed = sharing[self.random.place(sharing.len())];
            }
        }
        let mut many = 1 + self.random.place(8);
        let by = self.random.below(4);
        let way = self.random.below(3);
        if way == 0 && self.random.below(4) == 0 {
            many = 16;
        }
        let way = if many == 16 { 1 } else { way };
        let state = &self.state;
        let apart = |batch: usize| {
            let start = (state.starts[batch] - state.starts[seed]).abs();
            let end = (state.ends[batch] - state.ends[seed]).abs();
            match by {
                0 => start,
                1 => end,
                _ => start.min(end),
            }
        };
        let shares = |batch: usize| {
            let mut own = layout.builds[batch].iter();
            own.any(|build| layout.builds[seed].contains(build))
        };
        let mut near: Vec<(i32, usize)> = Vec::new();
        for &batch in &placed {
            let noise = self.random.minutes(60);
            let apart = apart(batch);
            let key = match way {
                0 => apart + noise,
                1 => {
                    if shares(batch) {
                        noise
                    } else {
                        1000 + apart + noise
                    }
                }
                _ => apart + noise * 6,
            };
            near.push((if batch == seed { -1 } else { key }, batch));
        }
        near.sort_unstable();
        near.into_iter().take(many).map(|(_, batch)| batch).collect()
    }

    /// Lays out anew what is not placed.
    fn recreate(&mut self, out: Vec<usize>) {
        let layout = self.state.layout;
        let mut order: Vec<usize> =
            layout.wanted.iter().copied().filter(|batch| !self.state.placed[*batch]).collect();
        self.random.shuffle(&mut order);
        let due = |batch: &usize| layout.first_due(*batch);
        match self.random.below(6) {
            0 => order.sort_by_key(due),
            1 => order.sort_by_key(|batch| std::cmp::Reverse(due(batch))),
            5 => order.sort_by_key(|batch| self.lasts[*batch]),
            2..=4 => order.sort_by_key(|batch| out.contains(batch)),
            _ => {}
        }
        let as_before = self.random.below(2) == 0;
        let is_late = self.random.below(2) == 0;
        let stray = [0, 6, 12, 30][self.random.place(4)];
        // Hands are saved where things are done together: by the first time at which any is due.
        let back = self.weights.stands.is_some();
        let is_shared = back && self.state.aim() == Aim::LeastHands;
        let together = order.iter().filter_map(due).min().map(|by| layout.counted(by) as Minute);
        let together = together.filter(|_| is_shared && self.random.below(2) == 0);
        for batch in order {
            let due = due(&batch).map(|by| layout.counted(by) as Minute);
            let tail = if back { self.tails[batch] } else { 0 };
            let last = due.unwrap_or(Minute::MAX).min(self.last - tail);
            let last = together.map_or(last, |together| last.min(together));
            let noise = if self.random.below(4) == 0 { self.random.minutes(60) } else { 0 };
            let last = usize::try_from(last - noise).ok().filter(|_| is_late);
            let wide = [Wide::Near, Wide::Far, Wide::Any][self.random.place(3)];
            let wish = Wish { by: last, back, stray, wide, as_before };
            self.state.place(batch, wish, &mut self.random);
        }
    }
}
