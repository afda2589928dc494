//! A plan as one documented sheet: what it is written from, and its parts.

use super::document::{BarKind, HousePart, LanePart, TracePart};
use crate::diag::machine::pretty;
use crate::formula::Worked;
use crate::time::{Graph, Plan, Retiming};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 2;

/// The plan of one formula or of several, ready for paper.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanDocument {
    /// The version of this document's shape.
    pub version: u32,
    /// What stands on every print of the house.
    pub house: HousePart,
    /// The formulas' identifiers, joined by `+`.
    pub name: String,
    /// The formulas' titles.
    pub title: String,
    /// Language of the printed words, as a BCP 47 tag.
    pub language: String,
    /// `.` or `,`, as the language writes it.
    pub decimal_mark: String,
    /// The words that templates add of their own, by name.
    pub words: BTreeMap<String, String>,
    /// The time zone of all clock times, by its name in the world's zone database; absent
    /// where the plan is for any week or any day.
    pub zone: Option<String>,
    /// What is known of the days.
    pub dating: DatingPart,
    /// When the first thing is begun.
    pub begins: MomentPart,
    /// When the last bread is ready.
    pub ends: MomentPart,
    /// From the beginning to the end, in minutes.
    pub minutes: i64,
    /// What the clock shows along the way: full hours, a fitting number of them.
    pub hours: Vec<HourPart>,
    /// Stretches in which nobody is there, or, where no hours are given, from 22:00 to
    /// 06:00; minutes from the beginning.
    pub nights: Vec<NightPart>,
    /// Whether the nights follow from hours that somebody gave.
    pub hours_given: bool,
    /// In the order of the command line.
    pub formulas: Vec<PlannedPart>,
    /// What is begun in all formulas, in the order of the clock.
    pub tasks: Vec<TaskPart>,
    /// What is to be known of all formulas together: clocks that change, and machines that
    /// two doughs want at once.
    pub notes: Vec<String>,
    /// Everything that can hurt somebody.
    pub cautions: Vec<String>,
    /// Whether the timeline is wanted by itself, as one picture.
    pub picture_only: bool,
    /// Where the plan of one formula came from, for its foot; of several each has its own.
    pub trace: Option<TracePart>,
}

/// The plan of one formula.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlannedPart {
    /// The formula's identifier.
    pub name: String,
    /// Its name to print.
    pub title: String,
    /// Its yield in one line.
    pub makes: String,
    /// Where it came from; absent where nobody asked.
    pub trace: Option<TracePart>,
    /// When its first thing is begun.
    pub begins: MomentPart,
    /// When its bread is ready.
    pub ready: MomentPart,
    /// Its stages and its dough, in the order in which they begin.
    pub lanes: Vec<LanePart>,
    /// Everything that is begun, in the order of the clock.
    pub tasks: Vec<TaskPart>,
    /// Of these what a calendar shows: what several formulas build together stands in that of
    /// one of them.
    #[serde(skip)]
    pub events: Vec<TaskPart>,
    /// Times that were worked out by a model rather than written.
    pub estimates: Vec<String>,
    /// What else is to be known of the plan.
    pub notes: Vec<String>,
}

/// What is known of the days of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DatingPart {
    /// Days of a calendar.
    Dates,
    /// Weekdays of any week.
    AnyWeek,
    /// Any day, and those before and after it.
    AnyDay,
}

/// A time as clocks show it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct MomentPart {
    /// `2026-12-05T07:00:00+01:00`; absent where no date is known.
    pub iso: Option<String>,
    /// The same in UTC, as calendars write it: `20261205T060000Z`.
    pub utc: Option<String>,
    /// `Saturday 5 December`; `Saturday` of any week; `the day before` any day.
    pub date: String,
    /// `07:00`; in an hour that the night has twice `02:40 A`, then `02:40 B`.
    pub time: String,
}

/// A mark on the clock's axis.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HourPart {
    /// Minutes from the beginning.
    pub at: i64,
    /// As a clock shows it: `18:00`.
    pub time: String,
    /// The date, where a day begins.
    pub date: Option<String>,
}

/// A stretch of the axis that is drawn dark.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NightPart {
    /// Minutes from the beginning.
    pub from: i64,
    /// Minutes from the beginning.
    pub to: i64,
}

/// Something that is begun at a certain time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TaskPart {
    /// When it is begun.
    pub begins: MomentPart,
    /// When it is over; the same time where it takes none.
    pub ends: MomentPart,
    /// What it is in its formula, whatever the clock: `dough/bake`, `levain/feed-2`.
    pub id: String,
    /// The formula's title.
    pub formula: String,
    /// `Proof`.
    pub title: String,
    /// The stage it belongs to; absent for the dough.
    pub stage: Option<String>,
    /// What it is: work, waiting, heat or cold.
    pub kind: BarKind,
    /// How long it takes: `3 h 15 min`, `≈ 2 h 40 min` where a model says so, and that
    /// nobody wrote it of what waits; absent where it takes no time.
    pub time: Option<String>,
    /// Whether a model gave the time rather than the author.
    pub estimated: bool,
    /// `4 °C`: surroundings, those that it is timed for; of a refrigerator that nobody has
    /// measured, the usual ones.
    pub at: Option<String>,
    /// `in the fridge`: where it is done, where it says so.
    pub place: Option<String>,
    /// What to do, in a sentence or two.
    pub text: String,
    /// The author's notes for it, and what can hurt somebody in it.
    pub notes: Vec<String>,
    /// What can hurt somebody in it.
    pub cautions: Vec<String>,
    /// Whether something has to come out of the oven, or off the steam, at its end.
    pub comes_out: bool,
    /// Somebody has to come for it: hands are at work, it is near the oven, or it is begun
    /// when nobody is at work yet.
    pub needed: bool,
    /// When to fold, where it is folded.
    pub folds: Vec<String>,
    /// The same, with the date.
    pub fold_moments: Vec<MomentPart>,
}

/// A formula with its graph and its plan.
pub struct Planned<'a, 't> {
    /// The formula, worked out.
    pub worked: &'a Worked<'t>,
    /// Its steps in time.
    pub graph: &'a Graph,
    /// A time for every point of the graph.
    pub plan: &'a Plan,
    /// What was timed anew for another room, cold or seed.
    pub retiming: &'a Retiming,
}

/// The plan as JSON, as `assize plan --format json` prints it and its template reads it.
pub fn plan_json(document: &PlanDocument) -> String {
    pretty(document)
}

/// The published JSON Schema of a plan.
pub fn plan_schema() -> String {
    pretty(&schemars::schema_for!(PlanDocument))
}
