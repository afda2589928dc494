//! `when to begin`: a plan run backwards by hand.

use super::super::maker::Maker;
use super::draw::Draw;
use super::sums::{Kind, Rule, Sums, Task};
use crate::print::document::Document;
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
        let hours: [i64; 9] = [360, 390, 420, 450, 480, 540, 600, 660, 720];
        let ready = ready.map_or_else(|| *draw.one_of(&hours).unwrap_or(&420), i64::from);
        let mut bars: Vec<_> = lane.bars.iter().collect();
        bars.sort_by_key(|bar| bar.from);
        let mut sums = Sums::default();
        let row = sums.row(&self.words.say("exercise-ready"));
        let mut ends = sums.given(self, (row, 1), Kind::Clock, int(ready));
        let mut next = bars.iter().map(|bar| bar.to).max().unwrap_or(day.minutes);
        for bar in bars.into_iter().rev() {
            // Up to the next step, so that one begins where the one before it ends.
            let takes = next - bar.from;
            if takes <= 0 {
                continue;
            }
            next = bar.from;
            // Steps of one name are told apart by what follows them.
            let row = sums.new_row(&bar.title);
            let takes = sums.given(self, (row, 0), Kind::Minutes, int(takes));
            let rule = Rule::Less(vec![ends, takes]);
            ends = sums.asked(self, (row, 1), Kind::Clock, rule).ok_or("it has no times")?;
        }
        let clock = self.clock(&Exact::from(ready));
        Ok(Task::of(
            self,
            Sums::of_level(vec![sums], level).ok_or("it has no times")?,
            self.task_title("exercise-when-to-begin", document),
            vec![self.words.fill("exercise-when-lead", &[("time", &clock)])],
            String::new(),
            &[self.words.say("exercise-takes"), self.words.say("exercise-begins")],
        ))
    }
}
