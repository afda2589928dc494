//! The cheapest times under limits on differences, as the dual of a cheapest flow.
//!
//! Enters: limits, one after the other, each firm or one that may be exceeded at a price for each
//! millisecond. Leaves: the cheapest times, and of these the latest for
//! every point at once. Deliberately absent: openings, floats.
//!
//! A limit `time[to] <= time[from] + most` is an arc that costs `most`; a firm one has endless
//! room, one that may be exceeded has its price as room. Flow on an arc is what the limit presses with.
//! After each change two things hold: the flow goes round in rings, and along every arc with room
//! left `time[to] <= time[from] + most`. Together they say that times and flow are both the best
//! there are, so a change never needs more than the rings it breaks.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

/// The room of a limit that must be met.
pub const FIRM: u64 = u64::MAX;

/// Where an arc leads. Arcs stand in pairs, each followed by the way back.
#[derive(Clone, Copy, Debug)]
struct Arc {
    to: usize,
    /// The next arc out of the same point.
    next: Option<usize>,
}

/// Branches of a search are copies of one network, so what never changes is shared.
#[derive(Clone, Debug)]
pub struct Network {
    arcs: Rc<Vec<Arc>>,
    first: Rc<Vec<Option<usize>>>,
    /// For each arc what it costs; the way back costs the opposite.
    most: Vec<i64>,
    /// For each arc how much more it takes; for the way back that is the flow.
    room: Vec<u64>,
    /// The last point is the epoch, which may have moved: times are meant relative to it.
    times: Vec<i64>,
}

/// By how much a point may sink before others have to; nothing where they never have to.
struct Slack {
    before: Vec<Option<i64>>,
    /// The arc by which the push arrives.
    by: Vec<Option<usize>>,
}

impl Network {
    /// The points and the epoch, still untied, at times from which little has to move.
    pub fn new(times: Vec<i64>) -> Self {
        let first = Rc::new(vec![None; times.len()]);
        Self { arcs: Rc::default(), first, most: Vec::new(), room: Vec::new(), times }
    }

    /// Adds a limit and brings times and flow in order; nothing where no times meet it.
    pub fn tie(&mut self, from: usize, to: usize, most: i64, room: u64) -> Option<usize> {
        let arc = self.link(from, to);
        self.link(to, from);
        self.most.extend([most, -most]);
        self.room.extend([room, 0]);
        self.settle(arc).map(|()| arc)
    }

    fn link(&mut self, from: usize, to: usize) -> usize {
        let arc = self.arcs.len();
        let next = Rc::make_mut(&mut self.first)[from].replace(arc);
        Rc::make_mut(&mut self.arcs).push(Arc { to, next });
        arc
    }

    /// Makes a limit narrower; nothing where no times meet it. A wider one is left alone.
    pub fn tighten(&mut self, arc: usize, most: i64) -> Option<()> {
        if most >= self.most[arc] {
            return Some(());
        }
        self.most[arc] = most;
        self.most[arc ^ 1] = -most;
        self.settle(arc)
    }

    /// Sinks the end of the arc, and what has to follow, until its limit is met. Where that
    /// reaches the arc's beginning, the ring is full and flow goes round it; a ring of endless
    /// room contradicts itself.
    fn settle(&mut self, arc: usize) -> Option<()> {
        let (from, to) = (self.arcs[arc ^ 1].to, self.arcs[arc].to);
        loop {
            let excess = self.times[to] - self.times[from] - self.most[arc];
            if excess <= 0 || self.room[arc] == 0 {
                return Some(());
            }
            let slack = self.slack(to, excess, Some(from));
            let ring = slack.before[from].filter(|&before| before < excess);
            self.lower(&slack, ring.unwrap_or(excess));
            let Some(_) = ring else { return Some(()) };
            self.push_round(arc, &slack)?;
        }
    }

    /// Lowers the point that the slack is of by so much, and what has to follow.
    fn lower(&mut self, slack: &Slack, sink: i64) {
        for (time, before) in self.times.iter_mut().zip(&slack.before) {
            *time -= before.map_or(0, |before| (sink - before).max(0));
        }
    }

    /// Sends as much flow round as the narrowest arc takes.
    fn push_round(&mut self, arc: usize, slack: &Slack) -> Option<()> {
        let mut ring = vec![arc];
        let mut point = self.arcs[arc ^ 1].to;
        while point != self.arcs[arc].to {
            let by = slack.by[point]?;
            ring.push(by);
            point = self.arcs[by ^ 1].to;
        }
        let flow = ring.iter().map(|&arc| self.room[arc]).min().filter(|&room| room < FIRM)?;
        for arc in ring {
            if self.room[arc] < FIRM {
                self.room[arc] -= flow;
            }
            if self.room[arc ^ 1] < FIRM {
                self.room[arc ^ 1] += flow;
            }
        }
        Some(())
    }

    /// Shortest paths over what each limit leaves, up to a length and to a point. That point is
    /// not gone on from, so the one arc that is not yet in order, which leaves it, is never used.
    fn slack(&self, source: usize, within: i64, until: Option<usize>) -> Slack {
        let nothing = vec![None; self.first.len()];
        let mut slack = Slack { before: nothing, by: vec![None; self.first.len()] };
        let mut waiting = BinaryHeap::from([Reverse((0, source))]);
        slack.before[source] = Some(0);
        while let Some(Reverse((before, point))) = waiting.pop() {
            if Some(point) == until || before >= within {
                break;
            }
            if slack.before[point] == Some(before) {
                self.spread(point, before, &mut slack, &mut waiting);
            }
        }
        slack
    }

    fn spread(
        &self,
        point: usize,
        before: i64,
        slack: &mut Slack,
        waiting: &mut BinaryHeap<Reverse<(i64, usize)>>,
    ) {
        let mut next = self.first[point];
        while let Some(index) = next {
            let arc = self.arcs[index];
            next = arc.next;
            let reach = before + self.times[point] + self.most[index] - self.times[arc.to];
            if self.room[index] > 0 && slack.before[arc.to].is_none_or(|known| reach < known) {
                slack.before[arc.to] = Some(reach);
                slack.by[arc.to] = Some(index);
                waiting.push(Reverse((reach, arc.to)));
            }
        }
    }

    /// The cheapest times are met exactly where limits with room left are; so the latest of them
    /// are as far from the epoch as those limits allow. Nothing for points that float upwards.
    pub fn latest(&self) -> Vec<Option<i64>> {
        let epoch = self.first.len() - 1;
        let slack = self.slack(epoch, i64::MAX, None);
        let late = |(time, before): (&i64, &Option<i64>)| {
            before.map(|before| time + before - self.times[epoch])
        };
        self.times.iter().zip(&slack.before).map(late).collect()
    }

    /// Some of the cheapest times, relative to each other only.
    pub fn some_times(&self) -> &[i64] {
        &self.times
    }

    /// The latest of the cheapest times. What floats upwards stands as early as these allow, what
    /// then is held as late as those allow, and so on; what is tied to none of them stands at
    /// the given moment.
    pub fn places(&self, moment: i64) -> Vec<i64> {
        let mut places = self.latest();
        while places.contains(&None) {
            let known = places.iter().filter(|place| place.is_some()).count();
            self.rise(&mut places);
            self.sink(&mut places);
            let stuck = places.iter().filter(|place| place.is_some()).count() == known;
            if let Some(place) = places.iter_mut().find(|place| place.is_none() && stuck) {
                *place = Some(moment);
            }
        }
        places.into_iter().flatten().collect()
    }

    /// Gives points without a place the latest one that places given before allow.
    fn sink(&self, places: &mut [Option<i64>]) {
        let given = places.to_vec();
        let mut moved = true;
        while std::mem::take(&mut moved) {
            for (from, to, most) in self.limits_with_room() {
                let ceiling = places[from].map(|place| place + most);
                let lower = places[to].is_none_or(|place| ceiling.is_some_and(|at| at < place));
                if given[to].is_none() && ceiling.is_some() && lower {
                    places[to] = ceiling;
                    moved = true;
                }
            }
        }
    }

    /// Gives points without a place the earliest one that places given before allow.
    fn rise(&self, places: &mut [Option<i64>]) {
        let given = places.to_vec();
        let mut moved = true;
        while std::mem::take(&mut moved) {
            for (from, to, most) in self.limits_with_room() {
                let floor = places[to].map(|place| place - most);
                let higher = places[from].is_none_or(|place| floor.is_some_and(|at| at > place));
                if given[from].is_none() && floor.is_some() && higher {
                    places[from] = floor;
                    moved = true;
                }
            }
        }
    }

    fn limits_with_room(&self) -> impl Iterator<Item = (usize, usize, i64)> {
        let open = (0..self.arcs.len()).filter(|&arc| self.room[arc] > 0);
        open.map(|arc| (self.arcs[arc ^ 1].to, self.arcs[arc].to, self.most[arc]))
    }
}
