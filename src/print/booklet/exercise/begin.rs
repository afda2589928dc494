//! `when to begin`: a plan run backwards by hand.

use super::super::maker::Maker;
use super::super::task::Task;
use super::draw::Draw;
use super::sums::{CountedIn, Rule, Sums};
use crate::print::document::Document;
use crate::print::words::minutes;
use crate::quantity::{Exact, int};
use crate::syntax::booklet::Level;

impl Maker<'_> {
    /// Each step's beginning, back from when the bread is to be ready.
    pub fn when_to_begin(
        &self,
        ready: Option<u32>,
        document: &Document,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let day = document.timeline.as_ref().ok_or("it has no times")?;
        let lane =
            day.lanes.last().filter(|lane| !lane.bars.is_empty()).ok_or("it has no times")?;
        // From five in the morning to two: bread is ready on a quarter of an hour.
        let hours: Vec<i64> = (20..=56).map(|quarter| quarter * 15).collect();
        let ready = ready.map_or_else(|| *draw.one_of(&hours).unwrap_or(&420), i64::from);
        let said: Vec<&String> = document
            .method
            .iter()
            .flat_map(|step| &step.phases)
            .filter_map(|phase| phase.time.as_ref())
            .collect();
        // What is said to the minute stays; the middle of a range is a time that one could say.
        let takes_about = |takes: i64| {
            let is_said = said.iter().any(|it| **it == minutes(&int(takes)));
            if is_said || takes < 20 { takes } else { (takes + 2) / 5 * 5 }
        };
        let mut bars: Vec<_> = lane.bars.iter().collect();
        bars.sort_by_key(|bar| bar.from);
        // Steps of one name are numbered, the first one first.
        let same = |title: &str, until: usize| {
            bars.iter().take(until).filter(|it| it.title == title).count()
        };
        let names: Vec<String> = bars
            .iter()
            .enumerate()
            .map(|(at, bar)| match same(&bar.title, bars.len()) {
                1 => bar.title.clone(),
                _ => format!("{} ({})", bar.title, same(&bar.title, at) + 1),
            })
            .collect();
        let mut sums = Sums::default();
        let row = sums.row(&self.words.say("exercise-ready"));
        let mut ends = sums.given(self, (row, 1), CountedIn::Clock, int(ready));
        let mut next = bars.iter().map(|bar| bar.to).max().unwrap_or(day.minutes);
        // When each step begins, in minutes of the day's picture, its name and its number.
        let mut begun: Vec<(i64, String, usize)> = Vec::new();
        for (bar, name) in bars.into_iter().zip(names).rev() {
            // Up to the next step, so that one begins where the one before it ends.
            let takes = next - bar.from;
            if takes <= 0 {
                continue;
            }
            next = bar.from;
            let row = sums.new_row(&name);
            let takes = sums.given(self, (row, 0), CountedIn::Minutes, int(takes_about(takes)));
            let rule = Rule::Less(vec![ends, takes]);
            ends = sums.asked(self, (row, 1), CountedIn::Clock, rule).ok_or("it has no times")?;
            begun.push((bar.from, name, ends));
        }
        // Each stage has to be done when the step begins that uses it, the last built first.
        let (_, stages) = day.lanes.split_last().ok_or("it has no times")?;
        for lane in stages.iter().rev() {
            let mut bars: Vec<_> = lane.bars.iter().collect();
            bars.sort_by_key(|bar| bar.from);
            let Some(done) = bars.iter().map(|bar| bar.to).max() else { continue };
            let user = begun.iter().filter(|(from, ..)| *from >= done);
            let Some((from, user, number)) = user.min_by_key(|(from, ..)| *from).cloned() else {
                continue;
            };
            let (mut next, mut ends) = (from, number);
            let mut is_last = true;
            for bar in bars.into_iter().rev() {
                let takes = next - bar.from;
                if takes <= 0 {
                    continue;
                }
                next = bar.from;
                let name = self.labelled(&lane.title, &bar.title);
                let row = match std::mem::take(&mut is_last) {
                    true => sums.new_row(&format!("{name} → {user}")),
                    false => sums.new_row(&name),
                };
                let takes = sums.given(self, (row, 0), CountedIn::Minutes, int(takes_about(takes)));
                let rule = Rule::Less(vec![ends, takes]);
                ends =
                    sums.asked(self, (row, 1), CountedIn::Clock, rule).ok_or("it has no times")?;
                begun.push((bar.from, name, ends));
            }
        }
        let clock = self.clock(&Exact::from(ready));
        let mut lead = vec![self.words.fill("exercise-when-lead", &[("time", &clock)])];
        if !stages.is_empty() {
            lead.push(self.words.say("exercise-when-stages"));
        }
        Ok(Task::of(
            self,
            Sums::of_level(vec![sums], level).ok_or("it has no times")?,
            self.task_title("exercise-when-to-begin", document),
            lead,
            String::new(),
            &[self.words.say("exercise-takes"), self.words.say("exercise-begins")],
        ))
    }
}
