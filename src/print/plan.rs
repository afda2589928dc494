//! A plan as one documented sheet, and its lines for a terminal.

use super::document::{BarKind, HousePart, LanePart, PhasePart};
use super::lanes::{lanes, method_of, place, told_time};
use super::paper::Paper;
use super::wording::Wording;
use super::words::{self, capital};
use crate::formula::{House, Worked, title};
use crate::quantity::display::minutes_range;
use crate::quantity::{Exact, Unit, int};
use crate::syntax::tree::{Extent, Open, Quantity, Step, Verb, Weekdays, WordsKind};
use crate::time::clock::{Dating, Instant, MINUTE, Zone};
use crate::time::{
    Anchor, Because, Changed, Doing, Estimate, Graph, Hands, Hours, Plan, Retiming, Stretch, Used,
    Wanted, wanted_twice,
};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 2;

/// The plan of one formula or of several, ready for paper.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanDocument {
    /// The version of this document's shape.
    pub version: u32,
    pub house: HousePart,
    /// The formulas' identifiers, joined by `+`.
    pub name: String,
    /// The formulas' titles.
    pub title: String,
    /// Language of the printed words, as a BCP 47 tag.
    pub language: String,
    pub decimal_mark: String,
    /// The words that templates add of their own, by name.
    pub words: BTreeMap<String, String>,
    /// The time zone of all clock times, by its name in the world's zone database; absent
    /// where the plan is for any week or any day.
    pub zone: Option<String>,
    /// What is known of the days.
    pub dating: DatingPart,
    pub begins: MomentPart,
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
}

/// The plan of one formula.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlannedPart {
    pub name: String,
    pub title: String,
    pub makes: String,
    pub begins: MomentPart,
    pub ready: MomentPart,
    pub lanes: Vec<LanePart>,
    /// Everything that is begun, in the order of the clock.
    pub tasks: Vec<TaskPart>,
    /// Times that were worked out by a model rather than written.
    pub estimates: Vec<String>,
    /// What else is to be known of the plan.
    pub notes: Vec<String>,
}

/// What is known of the days of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DatingPart {
    Dates,
    /// Weekdays of any week.
    AnyWeek,
    /// Any day, and those before and after it.
    AnyDay,
}

/// A time as clocks show it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
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
    pub time: String,
    /// The date, where a day begins.
    pub date: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NightPart {
    pub from: i64,
    pub to: i64,
}

/// Something that is begun at a certain time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TaskPart {
    pub begins: MomentPart,
    pub ends: MomentPart,
    /// What it is in its formula, whatever the clock: `dough/bake`, `levain/feed-2`.
    pub id: String,
    /// The formula's title.
    pub formula: String,
    /// `Proof`.
    pub title: String,
    /// The stage it belongs to; absent for the dough.
    pub stage: Option<String>,
    pub kind: BarKind,
    /// How long it takes: `3 h 15 min`, `≈ 2 h 40 min` where a model says so, and that
    /// nobody wrote it of what waits; absent where it takes no time.
    pub time: Option<String>,
    /// Whether a model gave the time rather than the author.
    pub estimated: bool,
    /// `4 °C`: surroundings, those that it is timed for.
    pub at: Option<String>,
    /// What to do, in a sentence or two.
    pub text: String,
    /// The author's notes for it, and what can hurt somebody in it.
    pub notes: Vec<String>,
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
    pub worked: &'a Worked<'t>,
    pub graph: &'a Graph,
    pub plan: &'a Plan,
    /// What was timed anew for another room, cold or seed.
    pub retiming: &'a Retiming,
}

/// The document of some plans of one house.
pub fn plan_document(
    house: &House,
    planned: &[Planned],
    words: &Wording,
    asked: &Wanted,
) -> PlanDocument {
    let (zone, hours) = (asked.zone, asked.hours);
    let begin = planned.iter().map(|one| one.plan.begin).min().unwrap_or_default();
    let end = planned.iter().map(|one| one.plan.end).max().unwrap_or_default();
    let from_begin = matches!(asked.anchor, Anchor::Start(_));
    let of_all = Day { words, zone, begin, end, from_begin, hours: hours.is_some() };
    let titles: Vec<String> = planned.iter().map(|one| title(&one.worked.formula)).collect();
    let names = planned.iter().map(|one| one.worked.formula.name.shown.to_string());
    let mut cautions: Vec<String> = Vec::new();
    let formulas = planned.iter().map(|one| {
        let paper = Paper::new(house, one.worked, words, 1, false);
        for caution in words::cautions(&paper) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        of_all.formula(&paper, one)
    });
    let (mut parts, mut tasks): (Vec<PlannedPart>, Vec<(Instant, TaskPart)>) = Default::default();
    for (part, own) in formulas {
        parts.push(part);
        tasks.extend(own);
    }
    tasks.sort_by_key(|(begins, _)| *begins);
    PlanDocument {
        version: VERSION,
        house: HousePart::of(&house.settings),
        name: names.collect::<Vec<_>>().join("+"),
        title: titles.join(" · "),
        language: words.tag.clone(),
        decimal_mark: words.decimal_mark(),
        words: words.of_templates(),
        zone: (zone.dating == Dating::Dates).then(|| zone.name()),
        dating: match zone.dating {
            Dating::Dates => DatingPart::Dates,
            Dating::AnyWeek => DatingPart::AnyWeek,
            Dating::AnyDay => DatingPart::AnyDay,
        },
        begins: of_all.moment(begin),
        ends: of_all.moment(end),
        minutes: of_all.since(end),
        hours: of_all.clock(end),
        nights: of_all.nights(end, hours),
        hours_given: hours.is_some(),
        formulas: parts,
        tasks: tasks.into_iter().map(|(_, task)| task).collect(),
        notes: of_all.notes(house, planned),
        cautions,
        picture_only: false,
    }
}

/// What every part of a plan is written from.
struct Day<'a> {
    words: &'a Wording,
    zone: &'a Zone,
    begin: Instant,
    end: Instant,
    /// Whether days without dates are counted from the first.
    from_begin: bool,
    /// Whether anybody said when somebody is there.
    hours: bool,
}

/// When it is night where nobody says who is awake: common practice, no source.
const DAYLIGHT: [Open; 1] = [Open { days: Weekdays::ALL, from: 6 * 60, to: 22 * 60 }];

impl Day<'_> {
    /// Whole minutes from the beginning.
    fn since(&self, instant: Instant) -> i64 {
        (instant - self.begin + MINUTE / 2).div_euclid(MINUTE)
    }

    /// As clocks show it, to the nearest minute.
    fn moment(&self, instant: Instant) -> MomentPart {
        let instant = (instant + MINUTE / 2).div_euclid(MINUTE) * MINUTE;
        let moment = self.zone.at(instant);
        let is_dated = self.zone.dating == Dating::Dates;
        MomentPart {
            iso: is_dated.then(|| moment.rfc3339()),
            utc: is_dated.then(|| moment.utc()),
            date: self.date(instant),
            time: moment.time(),
        }
    }

    /// `Saturday 5 December`; `Saturday`; `the day before`.
    fn date(&self, instant: Instant) -> String {
        let moment = self.zone.at(instant);
        let weekday = self.words.say(&format!("weekday-{}", moment.weekday() + 1));
        match self.zone.dating {
            Dating::Dates => {}
            Dating::AnyWeek => return weekday,
            Dating::AnyDay => return self.day_by_number(instant),
        }
        let month = self.words.say(&format!("month-{}", moment.month()));
        let day = moment.day().to_string();
        let args = [("weekday", weekday.as_str()), ("day", &day), ("month", &month)];
        let date = self.words.fill("date", &args);
        // The year is told where it is not that of the end.
        match moment.year() == self.zone.at(self.end).year() {
            true => date,
            false => format!("{date} {}", moment.year()),
        }
    }

    /// `day 2` of a plan from its beginning; `the day before` the bread is ready.
    fn day_by_number(&self, instant: Instant) -> String {
        let number =
            |id: &str, name: &str, days: i64| self.words.fill(id, &[(name, &days.to_string())]);
        if self.from_begin {
            return number("day-number", "number", self.zone.days_between(self.begin, instant) + 1);
        }
        match self.zone.days_between(instant, self.end) {
            0 => self.words.say("day-itself"),
            1 => self.words.say("day-before"),
            days => number("days-before", "days", days),
        }
    }

    /// What concerns all formulas: clocks that change, machines that two doughs want at once.
    fn notes(&self, house: &House, planned: &[Planned]) -> Vec<String> {
        let changes = self.zone.changes(self.begin, self.end).into_iter().map(|change| {
            let id = if change.back { "plan-clocks-back" } else { "plan-clocks-forward" };
            let date = self.date(change.at);
            let (from, to) = (change.from.as_str(), change.to.as_str());
            self.words.fill(id, &[("date", &date), ("from", from), ("to", to)])
        });
        let all: Vec<Used> = planned
            .iter()
            .map(|one| Used { worked: one.worked, graph: one.graph, plan: one.plan })
            .collect();
        let wanted_twice = wanted_twice(house, &all).into_iter().map(|twice| {
            let name = |number: usize| title(&planned[number].worked.formula);
            let (one, two) = (name(twice.formulas.0), name(twice.formulas.1));
            let (from, to) = (self.moment(twice.from), self.moment(twice.to));
            let machine = twice.machine.clone().unwrap_or_default();
            let id = match (twice.is_oven, twice.machine.is_some()) {
                (true, true) => "plan-oven-twice-named",
                (true, false) => "plan-oven-twice",
                (false, _) => "plan-mixer-twice",
            };
            let args = [
                ("one", one.as_str()),
                ("two", &two),
                ("machine", &machine),
                ("date", &from.date),
                ("from", &from.time),
                ("to", &to.time),
            ];
            self.words.fill(id, &args)
        });
        changes.chain(wanted_twice).collect()
    }

    fn formula(&self, paper: &Paper, one: &Planned) -> (PlannedPart, Vec<(Instant, TaskPart)>) {
        let since = |point: usize| self.since(one.plan.times[point]);
        let tasks = self.tasks(paper, one);
        let part = PlannedPart {
            name: paper.worked.formula.name.shown.to_string(),
            title: title(&paper.worked.formula),
            makes: super::build::yield_text(paper),
            begins: self.moment(one.plan.begin),
            ready: self.moment(one.plan.end),
            lanes: lanes(paper, one.graph, &since),
            tasks: tasks.iter().map(|(_, task)| task.clone()).collect(),
            estimates: estimates(paper, one),
            notes: notes(paper, one, self.hours),
        };
        (part, tasks)
    }

    fn tasks(&self, paper: &Paper, one: &Planned) -> Vec<(Instant, TaskPart)> {
        let mut tasks: Vec<(Instant, Instant, TaskPart)> = Vec::new();
        for stretch in &one.graph.stretches {
            let (from, to) = (one.plan.times[stretch.from], one.plan.times[stretch.to]);
            // What only keeps is no task where it does not have to.
            if from == to && stretch.hands == Hands::Off && !stretch.untimed {
                continue;
            }
            if let Some(mut task) = self.task(paper, one, stretch) {
                // A stage that is used in two places ripens for each of them.
                let same = tasks.iter().filter(|(.., other)| other.id == task.id).count();
                if same > 0 {
                    task.id.push_str(&format!("-for-{}", same + 1));
                }
                tasks.push((from, to, task));
            }
        }
        tasks.sort_by_key(|(from, to, _)| (*from, *to));
        let mut tasks: Vec<_> = tasks.into_iter().map(|(from, _, task)| (from, task)).collect();
        if let Some((_, first)) = tasks.iter_mut().find(|(_, task)| task.needed) {
            first.cautions.extend(words::cautions_of_all(paper));
        }
        tasks
    }

    fn task(&self, paper: &Paper, one: &Planned, stretch: &Stretch) -> Option<TaskPart> {
        let place = place(paper, stretch)?;
        let (from, to) = (one.plan.times[stretch.from], one.plan.times[stretch.to]);
        let minutes = self.since(to) - self.since(from);
        let folds = one.graph.stretches.iter().filter(|fold| match (&fold.doing, &stretch.doing) {
            (
                Doing::Fold { stage, step, phase },
                Doing::Step { stage: of, step: in_step, phase: in_phase },
            ) => (stage, step, phase) == (of, in_step, in_phase),
            _ => false,
        });
        let folds: Vec<MomentPart> =
            folds.map(|fold| self.moment(one.plan.times[fold.to])).collect();
        // Whoever ends what was before begins this.
        let begun_by_others = one
            .graph
            .stretches
            .iter()
            .any(|before| before.to == stretch.from && before.hands != Hands::Off);
        let is_moment = one.graph.moments.contains(&stretch.from);
        Some(TaskPart {
            needed: stretch.hands != Hands::Off || (is_moment && !begun_by_others),
            begins: self.moment(from),
            ends: self.moment(to),
            title: place.title,
            stage: place.stage.map(|stage| capital(&paper.worked.formula.stages[stage].name.shown)),
            kind: place.kind,
            time: match stretch.untimed {
                true => Some(paper.words.say("no-time-given")),
                false => (minutes > 0).then(|| told_time(paper, stretch, minutes)),
            },
            estimated: stretch.retimed.is_some(),
            at: place.at,
            text: text_of(paper, one.graph, stretch),
            id: id_of(paper, &stretch.doing),
            formula: title(&paper.worked.formula),
            notes: notes_of(paper, &stretch.doing),
            cautions: cautions_of(paper, &stretch.doing),
            comes_out: comes_out(paper, &stretch.doing),
            folds: folds.iter().map(|fold| fold.time.clone()).collect(),
            fold_moments: folds,
        })
    }

    /// Full hours, so many that they can be read, and every midnight.
    fn clock(&self, end: Instant) -> Vec<HourPart> {
        let hours = (end - self.begin) / (60 * MINUTE);
        let every =
            [1, 2, 3, 6, 12, 24].into_iter().find(|every| hours / every <= 16).unwrap_or(24);
        let midnights = self.zone.midnights(self.begin, end);
        let mut marks = Vec::new();
        let hour = 60 * MINUTE;
        let mut at = self.begin.div_euclid(hour) * hour;
        while at <= end {
            let moment = self.zone.at(at);
            let is_midnight = midnights.contains(&at);
            if at >= self.begin
                && (i64::from(moment.hour()) % every == 0 && moment.minute() == 0 || is_midnight)
            {
                marks.push(HourPart {
                    at: self.since(at),
                    time: moment.time(),
                    date: is_midnight.then(|| self.date(at)),
                });
            }
            // Some zones stand a half or a quarter of an hour apart from the others.
            at += hour / 4;
        }
        marks
    }

    fn nights(&self, end: Instant, hours: Hours) -> Vec<NightPart> {
        let openings = self.zone.openings(hours.unwrap_or(&DAYLIGHT), self.begin, end);
        let mut nights = Vec::new();
        let mut from = self.begin;
        for (opens, closes) in openings {
            if opens > from && from < end {
                nights.push(NightPart { from: self.since(from), to: self.since(opens.min(end)) });
            }
            from = from.max(closes);
        }
        if from < end {
            nights.push(NightPart { from: self.since(from), to: self.since(end) });
        }
        nights.retain(|night| night.to > night.from);
        nights
    }
}

/// What a stretch is called in a sentence: `Levain, Ripen`.
fn called(paper: &Paper, stretch: &Stretch) -> Option<String> {
    let place = place(paper, stretch)?;
    let step = match place.stage {
        Some(stage) => {
            format!("{}, {}", paper.worked.formula.stages[stage].name.shown, place.title)
        }
        None => place.title,
    };
    Some(capital(&step))
}

/// `Bulk: 3–4 h at 25 °C are taken as 2 h 30 min – 3 h 40 min at 28 °C, by the growth of
/// sourdough yeast`.
fn estimates(paper: &Paper, one: &Planned) -> Vec<String> {
    let Retiming { asked, estimates, kept } = one.retiming;
    if *asked && estimates.is_empty() && kept.is_empty() {
        return vec![paper.words.say("estimate-none")];
    }
    estimates.iter().filter_map(|it| estimate(paper, one.graph, it)).collect()
}

fn estimate(paper: &Paper, graph: &Graph, estimate: &Estimate) -> Option<String> {
    let words = paper.words;
    let length = |(low, high): &(Exact, Option<Exact>)| match high {
        Some(high) => minutes_range(low, high),
        None => words.fill("at-least", &[("amount", &words::minutes(low))]),
    };
    let known = estimate.model.range();
    let exact = |celsius: f64| Exact::try_from(celsius).unwrap_or_default();
    let percent = |share: &Exact| paper.percent(share, 1);
    let (id, from, to) = match &estimate.changed {
        Changed::Warmth { from, to } => ("estimate", paper.degrees(from), paper.degrees(to)),
        Changed::Seed { from, to } => ("estimate-seed", percent(from), percent(to)),
    };
    let told = words.fill(
        id,
        &[
            ("step", called(paper, graph.stretches.get(estimate.stretch)?)?.as_str()),
            ("written", &length(&estimate.before)),
            ("at", &from),
            ("now", &length(&estimate.now)),
            ("room", &to),
            ("model", &words.say(&format!("model-{}", estimate.model.key()))),
            ("range", &paper.degrees_range(&exact(known.lowest), &exact(known.highest))),
        ],
    );
    Some(match &estimate.course {
        Some((start, minutes)) => {
            let (start, time) = (paper.degrees(start), words::minutes(minutes));
            let args = [("estimate", told.as_str()), ("start", &start), ("time", &time)];
            words.fill("estimate-course", &args)
        }
        None => told,
    })
}

/// What keeps its written time, though it stands in what was changed.
fn kept(paper: &Paper, one: &Planned) -> Vec<String> {
    let told = one.retiming.kept.iter().filter_map(|kept| {
        let id = match kept.because {
            Because::Culture => "kept-culture",
            Because::NoTemperature => "kept-no-temperature",
            Because::Frozen => "kept-frozen",
        };
        let step = called(paper, one.graph.stretches.get(kept.stretch)?)?;
        let cold = paper.degrees(&int(10));
        Some(paper.words.fill(id, &[("step", step.as_str()), ("temperature", &cold)]))
    });
    told.collect()
}

/// What the plan leaves to others, and whether it was searched to the end.
fn notes(paper: &Paper, one: &Planned, hours: bool) -> Vec<String> {
    let carried = paper.worked.blends.iter().filter(|blend| blend.is_formula);
    let carried = carried.map(|blend| paper.words.fill("plan-beside", &[("name", &blend.shown)]));
    let proven = (!one.plan.proven).then(|| paper.words.say("plan-not-proven"));
    let awake = (!hours).then(|| paper.words.say("plan-no-hours"));
    let untimed = one.graph.stretches.iter().filter(|stretch| stretch.untimed);
    let untimed = untimed.filter_map(|stretch| {
        Some(paper.words.fill("plan-untimed", &[("step", &called(paper, stretch)?)]))
    });
    let kept = kept(paper, one).into_iter();
    carried.chain(kept).chain(untimed).chain(proven).chain(awake).collect()
}

/// What to do, as the method says it; of what a model timed, that it did.
fn text_of(paper: &Paper, graph: &Graph, stretch: &Stretch) -> String {
    let text = match &stretch.doing {
        Doing::Step { stage, step, phase } => {
            let step = method_of(paper.worked, *stage).and_then(|method| method.steps.get(*step));
            let step = step.map(|step| as_timed(step, *phase, graph, stretch));
            let phases = step.map(|step| words::phases(paper, &step)).unwrap_or_default();
            phases.get(*phase).map(|part| phase_text(paper, part)).unwrap_or_default()
        }
        Doing::Build { stage, .. } => {
            let part = words::built_in_one(paper, &paper.worked.formula.stages[*stage]);
            part.phases.into_iter().next().map(|phase| phase.text).unwrap_or_default()
        }
        _ => String::new(),
    };
    match stretch.retimed {
        Some(_) => format!("{text} {}", paper.words.say("time-is-estimate")).trim().to_owned(),
        None => text,
    }
}

fn phase_text(paper: &Paper, part: &PhasePart) -> String {
    let to = |to: &String| paper.words.fill("print-to", &[("temperature", to)]);
    let when = [part.at.clone(), part.to.as_ref().map(to)];
    let when: Vec<String> = when.into_iter().flatten().collect();
    // A later phase without words of its own says its temperature already.
    let then = part.at.as_ref().map(|at| paper.words.fill("then-at", &[("temperature", at)]));
    if then.is_some_and(|then| then == part.text) {
        return part.text.clone();
    }
    match (when.is_empty(), part.text.is_empty()) {
        (true, _) => part.text.clone(),
        (false, true) => capital(&format!("{}.", when.join(", "))),
        (false, false) => capital(&format!("{}. {}", when.join(", "), part.text)),
    }
}

/// A step with the temperature of a phase, and how often it is folded, as it is timed.
fn as_timed(step: &Step, phase: usize, graph: &Graph, stretch: &Stretch) -> Step {
    let mut step = step.clone();
    let Some((retimed, phase)) = stretch.retimed.as_ref().zip(step.phases.get_mut(phase)) else {
        return step;
    };
    let extent = |low: &Exact, high: &Exact, unit| {
        let end = |number: &Exact| Quantity {
            number: number.clone(),
            unit,
            decimals: None,
            span: stretch.span,
        };
        let ranged = low != high;
        Extent { low: Some(end(low)), high: ranged.then(|| end(high)), ranged, span: stretch.span }
    };
    if let Some(at) = &retimed.at {
        phase.at = Some(Box::new(extent(at, at, Unit::Celsius)));
    }
    let folds = graph.folds.iter().find(|it| graph.stretches[it.phase].doing == stretch.doing);
    let first = folds.and_then(|folds| graph.stretches.get(*folds.ways.first()?));
    if let (Some(first), Some(fold)) = (first, phase.fold.as_mut())
        && fold.every.is_some()
    {
        let high = first.high.as_ref().unwrap_or(&first.low);
        fold.every = Some(extent(&first.low, high, Unit::Minute));
    }
    step
}

/// The step that a stretch is a phase of, and which phase.
fn step_of<'w>(paper: &Paper<'w, '_>, doing: &Doing) -> Option<(&'w Step, usize)> {
    match doing {
        Doing::Step { stage, step, phase } => {
            method_of(paper.worked, *stage)?.steps.get(*step).map(|step| (step, *phase))
        }
        Doing::Moment { stage, step } => {
            method_of(paper.worked, *stage)?.steps.get(*step).map(|step| (step, 0))
        }
        _ => None,
    }
}

/// A name for what is done that stays while the clock and other steps change: the verb, and
/// of several with one verb, which of them.
fn id_of(paper: &Paper, doing: &Doing) -> String {
    let whose = |stage: &Option<usize>| match stage {
        Some(stage) => paper.worked.formula.stages[*stage].name.key.replace(" ", "-").to_string(),
        None => "dough".to_owned(),
    };
    let which = |stage: &Option<usize>, step: usize| {
        let steps = method_of(paper.worked, *stage).map_or(&[][..], |method| &method.steps);
        let verb = steps.get(step).map(|step| step.verb);
        let same = steps.iter().take(step).filter(|other| Some(other.verb) == verb).count();
        let word = verb.map_or("step", |verb| verb.word());
        if same > 0 { format!("{word}-{}", same + 1) } else { word.to_owned() }
    };
    let then = |name: &str, count: usize| match count {
        0 => String::new(),
        count => format!("-{name}-{}", count + 1),
    };
    match doing {
        Doing::Step { stage, step, phase } => {
            format!("{}/{}{}", whose(stage), which(stage, *step), then("phase", *phase))
        }
        Doing::Moment { stage, step } => format!("{}/{}-hands", whose(stage), which(stage, *step)),
        Doing::Build { stage, feed } => {
            format!("{}/build{}", whose(&Some(*stage)), then("feed", *feed as usize))
        }
        Doing::Ripen { stage, feed, leg } => {
            let (feed, leg) = (then("feed", *feed as usize), then("leg", *leg));
            format!("{}/ripen{feed}{leg}", whose(&Some(*stage)))
        }
        Doing::Keep { stage, leg } => format!("{}/keep{}", whose(&Some(*stage)), then("leg", *leg)),
        Doing::Fold { stage, step, .. } | Doing::Folding { stage, step, .. } => {
            format!("{}/{}-fold", whose(stage), which(stage, *step))
        }
        Doing::Order => whose(&None),
    }
}

/// The author's notes for a step, where it begins, or for a stage where it is built.
fn notes_of(paper: &Paper, doing: &Doing) -> Vec<String> {
    match (doing, step_of(paper, doing)) {
        (_, Some((step, 0))) => step.notes.iter().map(|note| words::text(paper, note)).collect(),
        (Doing::Build { stage, feed: 0 }, _) => {
            let texts = &paper.worked.formula.stages[*stage].texts;
            words::texts(paper, texts, WordsKind::Note)
        }
        _ => Vec::new(),
    }
}

/// What can hurt somebody in a step, or where a stage is built.
fn cautions_of(paper: &Paper, doing: &Doing) -> Vec<String> {
    match (doing, step_of(paper, doing)) {
        (_, Some((step, _))) => words::cautions_of_step(paper, step),
        (Doing::Build { stage, feed: 0 }, _) => {
            let texts = &paper.worked.formula.stages[*stage].texts;
            words::texts(paper, texts, WordsKind::Caution)
        }
        _ => Vec::new(),
    }
}

/// Whether a phase is the last one in the oven or over steam.
fn comes_out(paper: &Paper, doing: &Doing) -> bool {
    step_of(paper, doing).is_some_and(|(step, phase)| {
        matches!(doing, Doing::Step { .. })
            && matches!(step.verb, Verb::Bake | Verb::Steam)
            && phase + 1 == step.phases.len()
    })
}

/// The plan for a terminal: day by day, a line for everything that is begun; of several
/// formulas in one list by the clock.
pub fn plan_text(document: &PlanDocument) -> String {
    let several = document.formulas.len() > 1;
    let days = match (&document.zone, document.dating) {
        (Some(zone), _) => zone.clone(),
        (None, DatingPart::AnyDay) => "any day".to_owned(),
        (None, _) => "any week".to_owned(),
    };
    let mut written = String::new();
    for formula in &document.formulas {
        let ready = &formula.ready;
        written.push_str(&format!("{}\n{}\n", formula.title, formula.makes));
        written.push_str(&format!("ready {}, {} ({days})\n", ready.date, ready.time));
        written.push_str(if several { "\n" } else { "" });
    }
    let written_before = written.trim_end().len();
    written.truncate(written_before);
    written.push('\n');
    written.push_str(&task_lines(&document.tasks, several));
    for formula in &document.formulas {
        let whose = if several { format!("{}: ", formula.title) } else { String::new() };
        for estimate in &formula.estimates {
            written.push_str(&format!("\nestimate: {whose}{estimate}\n"));
        }
        for note in &formula.notes {
            written.push_str(&format!("\nnote: {whose}{note}\n"));
        }
    }
    for note in &document.notes {
        written.push_str(&format!("\nnote: {note}\n"));
    }
    written.push_str("\n● hands at work  ◐ oven, somebody near  ○ waits by itself");
    if document.tasks.iter().any(|task| task.estimated) {
        written.push_str("  ≈ estimate");
    }
    written.push('\n');
    written
}

fn task_lines(tasks: &[TaskPart], several: bool) -> String {
    let mut written = String::new();
    let names: Vec<String> = tasks.iter().map(|task| line_title(task, several)).collect();
    let width = |texts: &mut dyn Iterator<Item = &String>| {
        texts.map(|text| text.chars().count()).max().unwrap_or(0)
    };
    let wide = width(&mut names.iter());
    let clock = width(&mut tasks.iter().map(|task| &task.begins.time));
    let mut date = "";
    for (task, name) in tasks.iter().zip(&names) {
        if task.begins.date != date {
            date = &task.begins.date;
            written.push_str(&format!("\n{}\n", capital(date)));
        }
        let mark = match task.kind {
            BarKind::Hands => "●",
            BarKind::Oven => "◐",
            BarKind::Waiting | BarKind::Cold => "○",
        };
        let gap = |text: &str, wide: usize| " ".repeat(wide.saturating_sub(text.chars().count()));
        let begins = &task.begins.time;
        let time = task.time.as_deref().unwrap_or_default();
        let folds = match task.folds.is_empty() {
            true => String::new(),
            false => format!(", fold at {}", task.folds.join(", ")),
        };
        let at = task.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
        let (after_clock, after_name) = (gap(begins, clock), gap(name, wide));
        let line = format!("  {begins}{after_clock} {mark} {name}{after_name}  {time}{at}{folds}");
        written.push_str(line.trim_end());
        written.push('\n');
    }
    written
}

fn line_title(task: &TaskPart, several: bool) -> String {
    let title = match &task.stage {
        Some(stage) => format!("{stage}: {}", task.title.to_lowercase()),
        None => task.title.clone(),
    };
    if several { format!("{} · {title}", task.formula) } else { title }
}

/// The plan as JSON, as `assize plan --format json` prints it and its template reads it.
pub fn plan_json(document: &PlanDocument) -> String {
    // Texts, numbers and lists; there is nothing in it that JSON can't say.
    serde_json::to_string_pretty(document).unwrap_or_default()
}

/// The published JSON Schema of a plan.
pub fn plan_schema() -> String {
    serde_json::to_string_pretty(&schemars::schema_for!(PlanDocument)).unwrap_or_default()
}
