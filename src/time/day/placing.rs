//! Places one batch, with the builds it still needs, among what is placed.
//!
//! Each point of the batch's tree has the minutes in which it can be, given all points below it:
//! they are passed up the tree, spread by lags, narrowed by what is free. Then a walk from the
//! first point down chooses; what the batch's own tasks take from each other is seen on the way,
//! and taken back if nothing is left further down.

use super::bits;
use super::house::House;
use super::layout::{Edge, Layout, NodeLag, OuterLag, Tree};
use super::puzzle::{Point, TaskPlace};
use super::random::Random;
use super::starts::Starts;
use std::ops::Range;

/// What is preferred where several minutes will do.
#[derive(Debug, Clone, Copy)]
pub struct Wish {
    /// The last point no later than this if it can be, and then as late as it can be; else as
    /// early as it can be.
    pub by: Option<usize>,
    /// Where that last point can't be held, ever earlier ones are tried before any later one.
    pub back: bool,
    /// One of so many points is somewhere else than nearest to its parent; 0 for none.
    pub stray: u32,
    /// Where to be in wide ranges: of a stage that keeps, of dough in the refrigerator.
    pub wide: Wide,
    /// Go back to where an earlier plan had things.
    pub as_before: bool,
}

impl Wish {
    /// As late as may be before a minute, and as an earlier plan had it.
    pub fn near(by: Option<usize>) -> Self {
        Self { by, back: false, stray: 0, wide: Wide::Near, as_before: true }
    }

    /// As late as may be before a minute, and as little earlier as can be.
    pub fn late(by: Option<usize>) -> Self {
        Self { back: true, ..Self::near(by) }
    }
}

/// Where a point is in a wide range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wide {
    /// Nearest to its parent: the shortest.
    Near,
    /// Farthest from it.
    Far,
    /// Anywhere.
    Any,
}

/// From so many minutes on a range is wide.
const WIDE: i32 = 60;

/// Room for the sets of a tree.
pub struct Placer<'l> {
    layout: &'l Layout<'l>,
    sets: Vec<u64>,
    pools: Vec<u64>,
    free: Vec<u64>,
    reach: Vec<u64>,
    spare: Vec<u64>,
    held: Vec<u64>,
    moved: Vec<u64>,
    sum: Vec<u64>,
    starts: Vec<u64>,
    kept: Starts,
    at: Vec<usize>,
    done: Vec<bool>,
    tries: u32,
    /// Whether each branch is looked at anew when the walk comes to it.
    looks_anew: bool,
}

/// How many points are tried in one placing before it is given up.
const TRIES: u32 = 400;
/// How many minutes of the first point are tried.
const STARTS: u32 = 12;

impl<'l> Placer<'l> {
    /// A placer for a puzzle.
    pub fn new(layout: &'l Layout<'l>) -> Self {
        let words = layout.words;
        let nodes = layout.trees.iter().flatten().map(|tree| tree.nodes.len()).max().unwrap_or(0);
        let set = || vec![0; words];
        Self {
            layout,
            sets: vec![0; nodes * words],
            pools: set(),
            free: set(),
            reach: set(),
            spare: set(),
            held: set(),
            moved: set(),
            sum: set(),
            starts: set(),
            kept: Starts::new(layout),
            at: vec![0; nodes],
            done: vec![false; nodes],
            tries: 0,
            looks_anew: false,
        }
    }

    /// Places a batch with what it needs; nothing is changed where it can't be.
    pub fn place(
        &mut self,
        batch: usize,
        house: &mut House<'l>,
        wish: Wish,
        random: &mut Random,
    ) -> bool {
        let Some(tree) = &self.layout.trees[batch] else { return false };
        self.open(tree, house);
        for node in (1..tree.nodes.len()).rev() {
            if !self.is_placed(tree, node) {
                self.pass_up(tree, node, house);
            }
        }
        // Loads of one batch take decks and hands from each other: where the first walk fails,
        // each load sees what those before it took. That costs more, so it comes second.
        let has_loads = self.layout.dues[batch].len() > 1;
        [false, true].into_iter().take(1 + usize::from(has_loads)).any(|looks_anew| {
            self.looks_anew = looks_anew;
            self.walk(tree, house, wish, random)
        })
    }

    /// From the first point down, from ever later minutes of it.
    fn walk(
        &mut self,
        tree: &Tree,
        house: &mut House<'l>,
        wish: Wish,
        random: &mut Random,
    ) -> bool {
        if wish.back && self.walk_back(tree, house, wish, random) {
            return true;
        }
        self.tries = 0;
        let mut after = 0;
        let mut jump = 1;
        for _ in 0..STARTS {
            let Some(start) = self.root(tree, wish, after) else { return false };
            self.at[0] = start;
            if self.descend(tree, 1, house, wish, random) {
                return true;
            }
            after = start + jump;
            jump *= 2;
        }
        false
    }

    /// From the first point down, from ever earlier minutes of it before that which is wished for.
    fn walk_back(
        &mut self,
        tree: &Tree,
        house: &mut House<'l>,
        wish: Wish,
        random: &mut Random,
    ) -> bool {
        let mut end = wish.by.map_or(0, |by| by + 1);
        let mut jump = 0;
        for _ in 0..STARTS {
            self.tries = 0;
            let Some(start) = bits::last(&self.sets[..self.layout.words], 0, end) else {
                return false;
            };
            self.at[0] = start;
            if self.descend(tree, 1, house, wish, random) {
                return true;
            }
            end = start.saturating_sub(jump);
            jump = 2 * jump + 1;
        }
        false
    }

    /// The first minute that the root of a batch can have, if any; and how late it can be.
    pub fn reach(&mut self, batch: usize, house: &House<'l>) -> Option<(usize, usize)> {
        let tree = self.layout.trees[batch].as_ref()?;
        self.open(tree, house);
        for node in (1..tree.nodes.len()).rev() {
            if !self.is_placed(tree, node) {
                self.pass_up(tree, node, house);
            }
        }
        let set = &self.sets[..self.layout.words];
        Some((
            bits::first(set, 0, self.layout.minutes + 1)?,
            bits::last(set, 0, self.layout.minutes + 1)?,
        ))
    }

    /// A node of a build that stands already: not placed again, but a window for what takes it.
    fn is_placed(&self, tree: &Tree, node: usize) -> bool {
        self.done[node] && self.layout.needs[tree.nodes[node].point.task()].fixed.is_none()
    }

    /// Writes what each point may be by itself and by what stands already.
    fn open(&mut self, tree: &Tree, house: &House<'l>) {
        for (at, node) in tree.nodes.iter().enumerate() {
            let task = node.point.task();
            let placed = house.places[task];
            self.done[at] = placed.is_some();
            self.at[at] = match placed {
                Some(place) => usize::try_from(node.point.of(place)).unwrap_or(0),
                None => node.window.0,
            };
            self.fill(tree, at);
        }
        self.narrow_by_placed(tree, house, 0..tree.nodes.len());
    }

    /// A node may be where it is, or at all minutes that it allows by itself.
    fn fill(&mut self, tree: &Tree, node: usize) {
        let words = self.layout.words;
        let all = node * words..(node + 1) * words;
        let set = &mut self.sets[all.clone()];
        if self.done[node] {
            set.fill(0);
            bits::add(set, self.at[node], self.at[node] + 1);
        } else {
            set.copy_from_slice(&tree.sets[all]);
        }
    }

    /// Writes anew what each point of a branch may be, now that all nodes before it are chosen.
    fn look_anew(&mut self, tree: &Tree, node: usize, house: &House<'l>) {
        let after = tree.nodes.iter().skip(node + 1).position(|other| other.parent < node);
        let end = after.map_or(tree.nodes.len(), |after| node + 1 + after);
        for at in node..end {
            self.fill(tree, at);
        }
        self.narrow_by_placed(tree, house, node..end);
        for &NodeLag { from, to, least, most } in &tree.circles {
            let at = |one: usize| i32::try_from(self.at[one]).unwrap_or(0);
            if from < node && (node..end).contains(&to) && !self.done[to] {
                self.narrow(to, at(from) + least, at(from) + most);
            } else if to < node && (node..end).contains(&from) && !self.done[from] {
                self.narrow(from, at(to) - most, at(to) - least);
            }
        }
        for at in (node + 1..end).rev() {
            if !self.is_placed(tree, at) {
                self.pass_up(tree, at, house);
            }
        }
    }

    /// Narrows some nodes by what stands already and is tied to them.
    fn narrow_by_placed(&mut self, tree: &Tree, house: &House<'l>, nodes: Range<usize>) {
        let of = |point: Point| house.places[point.task()].map(|place| point.of(place));
        // Points that stand narrow those they are tied to; in the tree they are passed up.
        for &OuterLag { node, other, least, most } in &tree.outside {
            let is_open = nodes.contains(&node) && !self.done[node];
            if let Some(other) = of(other).filter(|_| is_open) {
                self.narrow(node, other + least, other + most);
            }
        }
        for &NodeLag { from, to, least, most } in &tree.circles {
            if self.done[from] && !self.done[to] && nodes.contains(&to) {
                let from = i32::try_from(self.at[from]).unwrap_or(0);
                self.narrow(to, from + least, from + most);
            } else if self.done[to] && !self.done[from] && nodes.contains(&from) {
                let to = i32::try_from(self.at[to]).unwrap_or(0);
                self.narrow(from, to - most, to - least);
            }
        }
        for (at, node) in tree.nodes.iter().enumerate().skip(1) {
            let Edge::Lag(least, most) = node.edge else { continue };
            let parent = node.parent;
            if self.done[at] && !self.done[parent] && nodes.contains(&parent) {
                let own = i32::try_from(self.at[at]).unwrap_or(0);
                self.narrow(parent, own - most, own - least);
            } else if self.done[parent] && !self.done[at] && nodes.contains(&at) {
                let parent = i32::try_from(self.at[parent]).unwrap_or(0);
                self.narrow(at, parent + least, parent + most);
            }
        }
    }

    /// Keeps a node's minutes in `from..=to`.
    fn narrow(&mut self, node: usize, from: i32, to: i32) {
        let words = self.layout.words;
        let set = &mut self.sets[node * words..(node + 1) * words];
        let from = usize::try_from(from).unwrap_or(0);
        let to = usize::try_from(to + 1).unwrap_or(0);
        bits::keep(set, from, to.max(from));
    }

    /// Narrows a node's parent to the minutes that leave the node some.
    fn pass_up(&mut self, tree: &Tree, node: usize, house: &House<'l>) {
        let words = self.layout.words;
        let parent = tree.nodes[node].parent;
        if self.done[parent] && self.done[node] {
            return;
        }
        let own = &self.sets[node * words..(node + 1) * words];
        match tree.nodes[node].edge {
            Edge::Root => return,
            Edge::Lag(least, most) => {
                self.sum.copy_from_slice(own);
                earlier_by(&mut self.sum, &mut self.moved, least, most);
            }
            Edge::Length => {
                let point = tree.nodes[node].point;
                self.lengths(point, node, house);
            }
        }
        let set = &mut self.sets[parent * words..(parent + 1) * words];
        bits::both(set, &self.sum);
    }

    /// Writes to the sum the minutes of a task's one end that leave the other some.
    fn lengths(&mut self, point: Point, node: usize, house: &House<'l>) {
        let (layout, words) = (self.layout, self.layout.words);
        let need = &layout.needs[point.task()];
        let (least, most) = need.length;
        let by = i32::try_from(least).unwrap_or(i32::MAX);
        self.kept.of_pools(need, house, layout, &mut self.starts);
        if least < most {
            return self.ranges(point, node, house);
        }
        if let Some(choice) = need.choice {
            bits::both(&mut self.starts, self.kept.of_any(choice, house, layout));
        }
        self.sum.copy_from_slice(&self.sets[node * words..(node + 1) * words]);
        if let Point::End(_) = point {
            bits::shift(&mut self.sum, -by);
            bits::both(&mut self.sum, &self.starts);
        } else {
            bits::both(&mut self.sum, &self.starts);
            bits::shift(&mut self.sum, by);
        }
    }

    /// The same for a task that may take more or less long. A machine that adds nothing, whatever
    /// else is on it, is passed over.
    fn ranges(&mut self, point: Point, node: usize, house: &House<'l>) {
        let (layout, words, task) = (self.layout, self.layout.words, point.task());
        let need = &layout.needs[task];
        let (least, most) = need.length;
        let by = i32::try_from(least).unwrap_or(i32::MAX);
        let own = node * words..(node + 1) * words;
        house.pools_free(task, &mut self.pools);
        self.sum.fill(0);
        if let Point::End(_) = point {
            self.reach.copy_from_slice(&self.sets[own.clone()]);
            bits::spread_earlier(&mut self.reach, most - least);
            bits::shift(&mut self.reach, -by);
            bits::both(&mut self.reach, &self.starts);
        } else {
            self.reach.copy_from_slice(&self.sets[own.clone()]);
            bits::both(&mut self.reach, &self.starts);
        }
        for choice in 0..need.machines.len().max(1) {
            // The starts that this machine could add.
            self.moved.copy_from_slice(&self.reach);
            self.free.copy_from_slice(&self.pools);
            if let (Some(&machine), Some(&run)) =
                (need.machines.get(choice), need.machine_runs.get(choice))
            {
                bits::both(&mut self.moved, self.kept.of_machine(run, house, layout));
                bits::both(&mut self.free, house.machine_free(task, machine));
            }
            if let Point::End(_) = point {
                if bits::holds(&self.sum, &self.moved) {
                    continue;
                }
                self.held.copy_from_slice(&self.moved);
                self.moved.copy_from_slice(&self.sets[own.clone()]);
                bits::flow_earlier(&mut self.moved, &self.free, most - least, &mut self.spare);
                bits::shift(&mut self.moved, -by);
                bits::both(&mut self.moved, &self.held);
            } else {
                bits::shift(&mut self.moved, by);
                self.held.copy_from_slice(&self.moved);
                bits::spread_later(&mut self.held, most - least);
                if bits::holds(&self.sum, &self.held) {
                    continue;
                }
                bits::flow_later(&mut self.moved, &self.free, most - least, &mut self.spare);
            }
            bits::join(&mut self.sum, &self.moved);
        }
    }

    /// The best minute of the root from `after` on in the order of trying.
    fn root(&self, tree: &Tree, wish: Wish, after: usize) -> Option<usize> {
        let set = &self.sets[..self.layout.words];
        let end = self.layout.minutes + 1;
        if after == 0 {
            let before = self.layout.needs[tree.nodes[0].point.task()].before;
            let before = before.filter(|_| wish.as_before);
            let before =
                before.and_then(|place| usize::try_from(tree.nodes[0].point.of(place)).ok());
            if let Some(before) = before.filter(|before| bits::has(set, *before)) {
                return Some(before);
            }
            if let Some(last) = wish.by.and_then(|by| bits::last(set, 0, by + 1)) {
                return Some(last);
            }
        }
        bits::first(set, after, end)
    }

    /// Chooses for the nodes from one on; what is chosen stays only if all are.
    fn descend(
        &mut self,
        tree: &Tree,
        node: usize,
        house: &mut House<'l>,
        wish: Wish,
        random: &mut Random,
    ) -> bool {
        let Some(of) = tree.nodes.get(node) else { return true };
        if self.done[node] {
            return self.descend(tree, node + 1, house, wish, random);
        }
        self.tries += 1;
        if self.tries > TRIES {
            return false;
        }
        if self.looks_anew && of.parent + 1 < node {
            self.look_anew(tree, node, house);
        }
        let parent = i32::try_from(self.at[of.parent]).unwrap_or(0);
        match of.edge {
            Edge::Root => false,
            Edge::Lag(least, most) => {
                let (from, to) = (parent + least, parent + most);
                let is_near_first = least >= 0 || most > 0 && -least < most;
                let mut choices = Choices::new(from, to, is_near_first);
                choices.start = self.preferred(tree, node, wish, random, from, to);
                let set = |placer: &Self| node * placer.layout.words;
                while let Some(at) =
                    choices.take(&self.sets[set(self)..set(self) + self.layout.words])
                {
                    self.at[node] = at;
                    if self.circles_hold(tree, node)
                        && self.descend(tree, node + 1, house, wish, random)
                    {
                        return true;
                    }
                    if self.tries > TRIES {
                        return false;
                    }
                }
                false
            }
            Edge::Length => {
                let options = self.options(tree, node, house, wish, random);
                for (at, place) in options {
                    self.at[node] = at;
                    if !self.circles_hold(tree, node) {
                        continue;
                    }
                    house.place(of.point.task(), place);
                    if self.descend(tree, node + 1, house, wish, random) {
                        return true;
                    }
                    house.remove(of.point.task());
                    if self.tries > TRIES {
                        return false;
                    }
                }
                false
            }
        }
    }

    /// Where a node would rather be than nearest to its parent.
    fn preferred(
        &self,
        tree: &Tree,
        node: usize,
        wish: Wish,
        random: &mut Random,
        from: i32,
        to: i32,
    ) -> Option<usize> {
        let of = &tree.nodes[node];
        if let Some(before) = self.layout.needs[of.point.task()].before.filter(|_| wish.as_before) {
            return usize::try_from(of.point.of(before)).ok();
        }
        let is_wide = to - from >= WIDE && wish.wide != Wide::Near;
        if is_wide && wish.wide == Wide::Far {
            let parent = self.at[of.parent] as i32;
            let far = if (to - parent).abs() > (from - parent).abs() { to } else { from };
            return usize::try_from(far).ok();
        }
        let strays = wish.stray > 0 && random.below(wish.stray) == 0;
        if from >= to || !(is_wide || strays) {
            return None;
        }
        let width = u32::try_from(to - from + 1).unwrap_or(1);
        let by = i32::try_from(random.below(width)).unwrap_or(0);
        usize::try_from(from + by).ok()
    }

    /// Where the other end of a task can be, and on which machine: the best first.
    fn options(
        &mut self,
        tree: &Tree,
        node: usize,
        house: &House<'l>,
        wish: Wish,
        random: &mut Random,
    ) -> Vec<(usize, TaskPlace)> {
        /// Lengths of a task on one machine that are tried.
        const LENGTHS: usize = 3;
        let of = &tree.nodes[node];
        let task = of.point.task();
        let need = &self.layout.needs[task];
        let parent = self.at[of.parent];
        let (least, most) = need.length;
        let words = self.layout.words;
        let mut options: Vec<(i32, i32, usize, TaskPlace)> = Vec::new();
        house.pools_free(task, &mut self.pools);
        for choice in 0..need.machines.len().max(1) {
            let machine = need.machines.get(choice).copied();
            let free = machine.map_or(&self.pools[..], |it| house.machine_free(task, it));
            let set = &self.sets[node * words..(node + 1) * words];
            let number = machine.map_or(0, |machine| self.number(task, machine));
            let is_end = matches!(of.point, Point::End(_));
            let run = if is_end {
                bits::run_after(&self.pools, free, parent, most)
            } else {
                bits::run_before(&self.pools, free, parent, most)
            };
            if run < least {
                continue;
            }
            let (from, to) = if is_end {
                (parent + least, parent + run)
            } else {
                (parent - run, parent.saturating_sub(least))
            };
            let (low, high) = (i32::try_from(from).unwrap_or(0), i32::try_from(to).unwrap_or(0));
            let mut choices = Choices::new(low, high, is_end);
            choices.start = self.preferred(tree, node, wish, random, low, high);
            let first = options.len();
            while let Some(at) = choices.take(set) {
                let (start, end) = if is_end { (parent, at) } else { (at, parent) };
                let (start, end) =
                    (i32::try_from(start).unwrap_or(0), i32::try_from(end).unwrap_or(0));
                let place = TaskPlace { start, end, machine: number };
                let off = i32::try_from(options.len() - first).unwrap_or(0);
                let misfit = machine.map_or(0, |machine| house.misfit(machine, start, end));
                let was = need.before.filter(|_| wish.as_before);
                let misfit = if was.is_some_and(|was| was.machine == number) { -1 } else { misfit };
                options.push((off, misfit, at, place));
                if options.len() - first == LENGTHS {
                    break;
                }
            }
        }
        options.sort_unstable_by_key(|&(off, misfit, at, place)| (off, misfit, at, place.machine));
        options.into_iter().map(|(_, _, at, place)| (at, place)).collect()
    }

    /// A machine's place in its group.
    fn number(&self, task: usize, machine: usize) -> usize {
        let on = self.layout.puzzle.tasks[task].on.as_ref();
        on.map_or(0, |on| machine - self.layout.first_machines[on.group])
    }

    /// Whether the lags that close circles hold for a node among those above it.
    fn circles_hold(&self, tree: &Tree, node: usize) -> bool {
        tree.circles.iter().all(|&NodeLag { from, to, least, most }| {
            if from.max(to) != node || self.done[from] || self.done[to] {
                return true;
            }
            let apart = self.at[to] as i64 - self.at[from] as i64;
            i64::from(least) <= apart && apart <= i64::from(most)
        })
    }
}

/// The minutes that are `least..=most` before something in a set.
fn earlier_by(set: &mut bits::Bits, moved: &mut bits::Bits, least: i32, most: i32) {
    let length = |minutes: i32| usize::try_from(minutes).unwrap_or(0);
    if most < least {
        set.fill(0);
    } else if least >= 0 {
        bits::shift(set, -least);
        bits::spread_earlier(set, length(most - least));
    } else if most <= 0 {
        bits::shift(set, -most);
        bits::spread_later(set, length(most - least));
    } else {
        moved.copy_from_slice(set);
        bits::spread_later(moved, length(-least));
        bits::spread_earlier(set, length(most));
        bits::join(set, moved);
    }
}

/// The minutes of a range in the order of trying, each further step twice as far.
struct Choices {
    from: usize,
    to: usize,
    is_near_first: bool,
    start: Option<usize>,
    jump: usize,
}

impl Choices {
    fn new(from: i32, to: i32, is_near_first: bool) -> Self {
        let low = usize::try_from(from).unwrap_or(0);
        // Empty where all of it is before the first minute.
        let high = usize::try_from(to + 1).unwrap_or(0);
        Self { from: low, to: high, is_near_first, start: None, jump: 0 }
    }

    fn take(&mut self, set: &bits::Bits) -> Option<usize> {
        if let Some(start) = self.start.take() {
            let after = bits::first(set, start.max(self.from), self.to);
            if let Some(at) = after.or_else(|| bits::last(set, self.from, start.min(self.to))) {
                return Some(at);
            }
        }
        let at = if self.is_near_first {
            let at = bits::first(set, self.from, self.to)?;
            self.from = at + 1 + self.jump;
            at
        } else {
            let at = bits::last(set, self.from, self.to)?;
            self.to = at.saturating_sub(self.jump);
            at
        };
        self.jump = 2 * self.jump + 1;
        Some(at)
    }
}
