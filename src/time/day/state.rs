//! A day in the making: the house, what is in it, and what that is worth.

use super::house::House;
use super::layout::Layout;
use super::placing::{Placer, Wish};
use super::puzzle::{Aim, Minute, TaskPlace};
use super::random::Random;
use super::score::{Score, score, stands_for};

/// So many minutes before the last one, a batch begins to be in the way.
const NEAR: Minute = 20;

/// A day in the making.
pub struct State<'l> {
    /// What it is made of.
    pub layout: &'l Layout<'l>,
    /// Where everything is.
    pub house: House<'l>,
    /// Which batches are placed.
    pub placed: Vec<bool>,
    /// The last minute of each batch that is placed.
    pub ends: Vec<Minute>,
    /// The first minute of each batch that is placed.
    pub starts: Vec<Minute>,
    placer: Placer<'l>,
    /// Placings tried.
    pub tried: u64,
    /// How many wanted batches take each build now.
    takers: Vec<u32>,
}

/// A state to go back to.
#[derive(Clone)]
pub struct Saved {
    /// Where everything was.
    pub places: Vec<Option<TaskPlace>>,
    placed: Vec<bool>,
    takers: Vec<u32>,
}

impl<'l> State<'l> {
    /// An empty day, but for what is fixed.
    pub fn new(layout: &'l Layout<'l>) -> Self {
        let batches = layout.puzzle.batches.len();
        let mut state = Self {
            layout,
            house: House::new(layout),
            placed: vec![false; batches],
            ends: vec![0; batches],
            starts: vec![0; batches],
            placer: Placer::new(layout),
            tried: 0,
            takers: vec![0; batches],
        };
        for (task, need) in layout.needs.iter().enumerate() {
            if let Some(place) = need.fixed {
                state.house.place(task, place);
            }
        }
        state
    }

    /// Places a batch and the builds that it still needs, if that can be.
    pub fn place(&mut self, batch: usize, wish: Wish, random: &mut Random) -> bool {
        self.tried += 1;
        if !self.placer.place(batch, &mut self.house, wish, random) {
            return false;
        }
        self.placed[batch] = true;
        self.measure(batch);
        for &build in &self.layout.builds[batch] {
            self.takers[build] += 1;
            self.placed[build] = true;
            self.measure(build);
        }
        true
    }

    /// Takes a batch out, with the builds that nothing else takes.
    pub fn remove(&mut self, batch: usize) {
        let layout = self.layout;
        if !std::mem::replace(&mut self.placed[batch], false) {
            return;
        }
        if self.takers[batch] > 0 {
            // It stays for what takes it.
            self.placed[batch] = true;
            return;
        }
        self.clear(batch);
        for &build in &layout.builds[batch] {
            self.takers[build] -= 1;
            if self.takers[build] == 0 && !(layout.trees[build].is_some() && self.placed[build]) {
                self.placed[build] = false;
                self.clear(build);
            } else if self.takers[build] == 0 {
                self.remove(build);
            }
        }
    }

    /// Takes the tasks of a batch out, but for what is fixed.
    fn clear(&mut self, batch: usize) {
        for &task in &self.layout.tasks[batch] {
            if self.layout.needs[task].fixed.is_none() {
                self.house.remove(task);
            }
        }
    }

    /// Writes down when a batch begins and ends.
    fn measure(&mut self, batch: usize) {
        let tasks = self.layout.tasks[batch].iter();
        let places = tasks.filter_map(|&task| self.house.places[task]);
        let span = places
            .fold((Minute::MAX, 0), |(from, to), place| (from.min(place.start), to.max(place.end)));
        (self.starts[batch], self.ends[batch]) = span;
    }

    /// The last minute that each batch could end, with what is placed now.
    pub fn lasts(&mut self) -> Vec<usize> {
        let batches = 0..self.placed.len();
        let reach = batches.map(|batch| self.placer.reach(batch, &self.house));
        reach.map(|reach| reach.map_or(0, |(_, last)| last)).collect()
    }

    /// What to go back to.
    pub fn save(&self) -> Saved {
        Saved {
            places: self.house.places.clone(),
            placed: self.placed.clone(),
            takers: self.takers.clone(),
        }
    }

    /// Goes back.
    pub fn restore(&mut self, saved: &Saved) {
        let differs = |task: &usize| self.house.places[*task] != saved.places[*task];
        let changed: Vec<usize> = (0..saved.places.len()).filter(differs).collect();
        for &task in &changed {
            self.house.remove(task);
        }
        for &task in &changed {
            if let Some(place) = saved.places[task] {
                self.house.place(task, place);
            }
        }
        self.placed.copy_from_slice(&saved.placed);
        self.takers.copy_from_slice(&saved.takers);
        let mut touched: Vec<usize> =
            changed.iter().map(|&task| self.layout.puzzle.tasks[task].batch).collect();
        touched.dedup();
        touched.into_iter().for_each(|batch| self.measure(batch));
    }

    /// What the day is worth.
    pub fn score(&self) -> Score {
        score(self.layout.puzzle, &self.places())
    }

    /// Where everything is, in minutes of the day.
    pub fn places(&self) -> Vec<Option<TaskPlace>> {
        let first = self.layout.puzzle.span.0;
        let back = |place: &Option<TaskPlace>| {
            place.map(|place| TaskPlace {
                start: place.start + first,
                end: place.end + first,
                ..place
            })
        };
        self.house.places.iter().map(back).collect()
    }

    /// How late a batch is, weighed, and how much it is in the way of a day that ends at a last
    /// minute: more and more from a little before it, so that room is made there.
    pub fn cost(&self, batch: usize, last: Minute) -> (i64, i64) {
        if !self.placed[batch] {
            return (0, 0);
        }
        let puzzle = self.layout.puzzle;
        let late = self.layout.dues[batch].iter().filter_map(|&due| {
            let due = &puzzle.dues[due];
            let end = self.house.places[due.task]?.end + puzzle.span.0;
            Some(due.weight * i64::from((end - due.by).max(0)))
        });
        let beyond = i64::from((self.ends[batch] - last + NEAR).max(0));
        (late.sum(), beyond * beyond / i64::from(NEAR))
    }

    /// How long what a batch makes stands before it is due, weighed.
    pub fn stands(&self, batch: usize) -> i64 {
        if !self.placed[batch] {
            return 0;
        }
        let puzzle = self.layout.puzzle;
        let own = self.layout.dues[batch].iter().filter_map(|&due| {
            let due = &puzzle.dues[due];
            let end = self.house.places[due.task]?.end + puzzle.span.0;
            Some(due.weight * stands_for(due.by - end))
        });
        own.sum()
    }

    /// The last minute of all, from zero.
    pub fn finish(&self) -> Minute {
        let placed = (0..self.placed.len()).filter(|batch| self.placed[*batch]);
        placed.map(|batch| self.ends[batch]).max().unwrap_or(0)
    }

    /// The house's aim.
    pub fn aim(&self) -> Aim {
        self.layout.puzzle.aim
    }
}
