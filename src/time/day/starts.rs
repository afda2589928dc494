//! The minutes at which something of a length can start: kept until what they rest on changes.
//!
//! What is free for long enough in each of two sets is free for long enough in both. So each
//! pool's and each machine's minutes are worked out by themselves, for each length once, and
//! again only after something was placed there or taken out.

use super::bits;
use super::house::House;
use super::layout::{Layout, Need};

/// Sets of minutes, each with the count of changes that it was worked out after.
struct Kept {
    words: usize,
    sets: Vec<u64>,
    after: Vec<Option<u64>>,
}

impl Kept {
    fn new(count: usize, words: usize) -> Self {
        Self { words, sets: vec![0; count * words], after: vec![None; count] }
    }

    fn get(&self, at: usize) -> &bits::Bits {
        &self.sets[at * self.words..(at + 1) * self.words]
    }

    /// A set to be worked out anew, where something changed since.
    fn stale(&mut self, at: usize, changes: u64) -> Option<&mut bits::Bits> {
        if self.after[at].replace(changes) == Some(changes) {
            return None;
        }
        Some(&mut self.sets[at * self.words..(at + 1) * self.words])
    }
}

/// The minutes at which tasks can start.
pub struct Starts {
    pools: Kept,
    machines: Kept,
    /// On any of the machines that do.
    any: Kept,
}

impl Starts {
    /// None is worked out yet.
    pub fn new(layout: &Layout) -> Self {
        let kept = |count: usize| Kept::new(count, layout.words);
        Self {
            pools: kept(layout.pool_runs.len()),
            machines: kept(layout.machine_runs.len()),
            any: kept(layout.choices.len()),
        }
    }

    /// Writes the minutes from which all pools have enough for as long as a task takes at the
    /// least.
    pub fn of_pools(&mut self, need: &Need, house: &House, layout: &Layout, to: &mut bits::Bits) {
        for (at, &run) in need.pool_runs.iter().enumerate() {
            let (pool_use, length) = layout.pool_runs[run];
            if let Some(set) = self.pools.stale(run, house.changes_of_pool(pool_use)) {
                match pool_use {
                    Some(pool_use) => set.copy_from_slice(house.pool_free(pool_use)),
                    None => bits::add(set, 0, layout.minutes),
                }
                bits::erode(set, length);
            }
            match at {
                0 => to.copy_from_slice(self.pools.get(run)),
                _ => bits::both(to, self.pools.get(run)),
            }
        }
    }

    /// The minutes from which a machine is free for as long as a task takes at the least.
    pub fn of_machine(&mut self, run: usize, house: &House, layout: &Layout) -> &bits::Bits {
        let (machine, machine_use, length) = layout.machine_runs[run];
        if let Some(set) = self.machines.stale(run, house.changes_of_machine(machine)) {
            set.copy_from_slice(house.free_on(machine, machine_use));
            bits::erode(set, length);
        }
        self.machines.get(run)
    }

    /// The minutes from which any of the machines that do is free for so long.
    pub fn of_any(&mut self, choice: usize, house: &House, layout: &Layout) -> &bits::Bits {
        let runs = &layout.choices[choice];
        let changes = |run: &usize| house.changes_of_machine(layout.machine_runs[*run].0);
        // Each count only grows: the sum is the same where all are.
        let changes = runs.iter().map(changes).sum();
        if self.any.after[choice] != Some(changes) {
            for &run in runs {
                self.of_machine(run, house, layout);
            }
            if let Some(set) = self.any.stale(choice, changes) {
                set.fill(0);
                runs.iter().for_each(|&run| bits::join(set, self.machines.get(run)));
            }
        }
        self.any.get(choice)
    }
}
