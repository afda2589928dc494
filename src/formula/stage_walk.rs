//! The walk over the stages of a formula worked out: what goes into what.

use super::line_ref::LineRef;
use super::worked::{Numbers, Worked, WorkedLine};

impl Worked<'_> {
    /// By stage, whether what is in it comes into the dough, through other stages too.
    pub fn reach_the_dough(&self) -> Vec<bool> {
        let numbers = self.first();
        reached(numbers, &numbers.dough_lines)
    }

    /// The lines of each feed of a stage before its last, the first feed first: each makes
    /// what the next one takes in place of the culture.
    pub fn earlier_feeds(&self, stage: usize) -> Vec<Vec<WorkedLine>> {
        let feeds = self.first().stages[stage].earlier.iter();
        feeds.map(|feed| feed.lines.clone()).collect()
    }
}

/// By stage, whether lines take it, by themselves or through other stages.
pub fn reached(numbers: &Numbers, lines: &[WorkedLine]) -> Vec<bool> {
    let mut reached = vec![false; numbers.stages.len()];
    let mut open: Vec<&WorkedLine> = lines.iter().collect();
    while let Some(line) = open.pop() {
        if let LineRef::Stage(stage) = line.goes
            && !std::mem::replace(&mut reached[stage], true)
        {
            open.extend(&numbers.stages[stage].lines);
        }
    }
    reached
}

/// Whether a stage has a culture in it, by itself or through other stages.
pub fn holds_a_culture(numbers: &Numbers, stage: usize) -> bool {
    let own = &numbers.stages[stage].lines;
    let inner = reached(numbers, own);
    let inner = numbers.stages.iter().zip(&inner).filter(|(_, reached)| **reached);
    let mut all = own.iter().chain(inner.flat_map(|(stage, _)| &stage.lines));
    all.any(|line| matches!(line.goes, LineRef::Culture(_)))
}
