//! A plan as one documented sheet, and its lines for a terminal.

use super::document::{BarKind, HousePart, LanePart};
use super::lanes::{lanes, method_of, place};
use super::paper::Paper;
use super::wording::Wording;
use super::words::{self, capital};
use crate::formula::{House, Worked, title};
use crate::quantity::display::minutes_range;
use crate::quantity::{Exact, int};
use crate::time::clock::{Instant, MINUTE, Zone};
use crate::time::{Changed, Doing, Estimate, Graph, Hands, Plan, Stretch};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 1;

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
    /// The time zone of all clock times, by its name in the world's zone database.
    pub zone: String,
    pub begins: MomentPart,
    pub ends: MomentPart,
    /// From the beginning to the end, in minutes.
    pub minutes: i64,
    /// What the clock shows along the way: full hours, a fitting number of them.
    pub hours: Vec<HourPart>,
    /// Stretches in which nobody is there, or, where no hours are given, from 22:00 to
    /// 06:00; minutes from the beginning.
    pub nights: Vec<NightPart>,
    pub formulas: Vec<PlannedPart>,
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

/// A time as clocks show it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MomentPart {
    /// `2026-12-05T07:00:00+01:00`.
    pub iso: String,
    /// The same in UTC, as calendars write it: `20261205T060000Z`.
    pub utc: String,
    /// `Saturday 5 December`.
    pub date: String,
    /// `07:00`.
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
    /// `Proof`.
    pub title: String,
    /// The stage it belongs to; absent for the dough.
    pub stage: Option<String>,
    pub kind: BarKind,
    /// How long it takes: `3 h 15 min`; absent where it takes no time.
    pub time: Option<String>,
    /// `4 °C`: surroundings.
    pub at: Option<String>,
    /// What to do, in a sentence or two.
    pub text: String,
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
    /// What was timed anew for the room or the cold.
    pub estimates: &'a [Estimate],
    /// Whether another room or cold was asked for.
    pub asked: bool,
}

/// The document of some plans of one house; `hours` are minutes since midnight.
pub fn plan_document(
    house: &House,
    planned: &[Planned],
    words: &Wording,
    zone: &Zone,
    hours: Option<&[(u32, u32)]>,
) -> PlanDocument {
    let begin = planned.iter().map(|one| one.plan.begin).min().unwrap_or_default();
    let end = planned.iter().map(|one| one.plan.end).max().unwrap_or_default();
    let of_all = Day { words, zone, begin, end, hours: hours.is_some() };
    let titles: Vec<String> = planned.iter().map(|one| title(&one.worked.formula)).collect();
    let names = planned.iter().map(|one| one.worked.formula.name.shown.to_string());
    let mut cautions: Vec<String> = Vec::new();
    let formulas = planned.iter().map(|one| {
        let paper = Paper { house, worked: one.worked, words, batches: 1, volumes: false };
        for caution in words::cautions(&paper) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        of_all.formula(&paper, one)
    });
    let formulas = formulas.collect();
    PlanDocument {
        version: VERSION,
        house: HousePart::of(&house.settings),
        name: names.collect::<Vec<_>>().join("+"),
        title: titles.join(" · "),
        language: words.tag.clone(),
        decimal_mark: words.decimal_mark(),
        words: words.of_templates(),
        zone: zone.name(),
        begins: of_all.moment(begin),
        ends: of_all.moment(end),
        minutes: of_all.since(end),
        hours: of_all.clock(end),
        nights: of_all.nights(end, hours),
        formulas,
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
    /// Whether anybody said when somebody is there.
    hours: bool,
}

impl Day<'_> {
    /// Whole minutes from the beginning.
    fn since(&self, instant: Instant) -> i64 {
        (instant - self.begin + MINUTE / 2).div_euclid(MINUTE)
    }

    /// As clocks show it, to the nearest minute.
    fn moment(&self, instant: Instant) -> MomentPart {
        let instant = (instant + MINUTE / 2).div_euclid(MINUTE) * MINUTE;
        let moment = self.zone.at(instant);
        MomentPart {
            iso: moment.rfc3339(),
            utc: moment.utc(),
            date: self.date(instant),
            time: moment.time(),
        }
    }

    /// `Saturday 5 December`.
    fn date(&self, instant: Instant) -> String {
        let moment = self.zone.at(instant);
        let weekday = self.words.say(&format!("weekday-{}", moment.weekday() + 1));
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

    fn formula(&self, paper: &Paper, one: &Planned) -> PlannedPart {
        let since = |point: usize| self.since(one.plan.times[point]);
        PlannedPart {
            name: paper.worked.formula.name.shown.to_string(),
            title: title(&paper.worked.formula),
            makes: super::build::yield_text(paper),
            begins: self.moment(one.plan.begin),
            ready: self.moment(one.plan.end),
            lanes: lanes(paper, one.graph, &since),
            tasks: self.tasks(paper, one),
            estimates: estimates(paper, one),
            notes: notes(paper, one, self.hours),
        }
    }

    fn tasks(&self, paper: &Paper, one: &Planned) -> Vec<TaskPart> {
        let mut tasks: Vec<(Instant, Instant, TaskPart)> = Vec::new();
        for stretch in &one.graph.stretches {
            let (from, to) = (one.plan.times[stretch.from], one.plan.times[stretch.to]);
            // What only keeps is no task where it does not have to.
            if from == to && stretch.hands == Hands::Off {
                continue;
            }
            if let Some(task) = self.task(paper, one, stretch) {
                tasks.push((from, to, task));
            }
        }
        tasks.sort_by_key(|(from, to, _)| (*from, *to));
        tasks.into_iter().map(|(_, _, task)| task).collect()
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
            time: (minutes > 0).then(|| words::minutes(&int(minutes))),
            at: place.at.map(|at| words::temperatures(paper, at)),
            text: text_of(paper, &stretch.doing),
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

    fn nights(&self, end: Instant, hours: Option<&[(u32, u32)]>) -> Vec<NightPart> {
        /// When it is night where nobody says who is awake: common practice, no source.
        const DAY: [(u32, u32); 1] = [(6 * 60, 22 * 60)];
        let openings = self.zone.openings(hours.unwrap_or(&DAY), self.begin, end);
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

/// `Bulk: 3–4 h at 25 °C are taken as 2 h 30 min – 3 h 40 min at 28 °C, by the growth of
/// sourdough yeast`.
fn estimates(paper: &Paper, one: &Planned) -> Vec<String> {
    let words = paper.words;
    let length = |low: &Exact, high: Option<&Exact>| match high {
        Some(high) => minutes_range(low, high),
        None => words.fill("at-least", &[("amount", &words::minutes(low))]),
    };
    if one.estimates.is_empty() && one.asked {
        return vec![words.say("estimate-none")];
    }
    let told = one.estimates.iter().filter_map(|estimate| {
        let stretch = one.graph.stretches.get(estimate.stretch)?;
        let place = place(paper, stretch)?;
        let model = words.say(&format!("model-{}", estimate.model.key()));
        let step = match place.stage {
            Some(stage) => {
                format!("{}, {}", paper.worked.formula.stages[stage].name.shown, place.title)
            }
            None => place.title,
        };
        let known = estimate.model.range();
        let exact = |celsius: f64| Exact::try_from(celsius).unwrap_or_default();
        let known = paper.degrees_range(&exact(known.lowest), &exact(known.highest));
        let percent = |share: &Exact| paper.percent(share, 1);
        let (id, from, to) = match &estimate.changed {
            Changed::Warmth { from, to } => ("estimate", paper.degrees(from), paper.degrees(to)),
            Changed::Seed { from, to } => ("estimate-seed", percent(from), percent(to)),
        };
        let told = words.fill(
            id,
            &[
                ("step", capital(&step).as_str()),
                ("written", &length(&estimate.written.0, estimate.written.1.as_ref())),
                ("at", &from),
                ("now", &length(&stretch.low, stretch.high.as_ref())),
                ("room", &to),
                ("model", &model),
                ("range", &known),
            ],
        );
        Some(match &estimate.halves_in {
            Some(minutes) => {
                let time = words::minutes(minutes);
                words.fill("estimate-cooling", &[("estimate", &told), ("time", &time)])
            }
            None => told,
        })
    });
    told.collect()
}

/// What the plan leaves to others, and whether it was searched to the end.
fn notes(paper: &Paper, one: &Planned, hours: bool) -> Vec<String> {
    let carried = paper.worked.blends.iter().filter(|blend| blend.is_formula);
    let carried = carried.map(|blend| paper.words.fill("plan-beside", &[("name", &blend.shown)]));
    let proven = (!one.plan.proven).then(|| paper.words.say("plan-not-proven"));
    let awake = (!hours).then(|| paper.words.say("plan-no-hours"));
    carried.chain(proven).chain(awake).collect()
}

/// What to do, as the method says it.
fn text_of(paper: &Paper, doing: &Doing) -> String {
    match doing {
        Doing::Step { stage, step, phase } => {
            let step = method_of(paper.worked, *stage).and_then(|method| method.steps.get(*step));
            let phases = step.map(|step| words::phases(paper, step)).unwrap_or_default();
            let text = phases.get(*phase).map(|part| {
                let to = |to: &String| paper.words.fill("print-to", &[("temperature", to)]);
                let when = [part.at.clone(), part.to.as_ref().map(to)];
                let when: Vec<String> = when.into_iter().flatten().collect();
                // A later phase without words of its own says its temperature already.
                let then =
                    part.at.as_ref().map(|at| paper.words.fill("then-at", &[("temperature", at)]));
                if then.is_some_and(|then| then == part.text) {
                    return part.text.clone();
                }
                match (when.is_empty(), part.text.is_empty()) {
                    (true, _) => part.text.clone(),
                    (false, true) => capital(&format!("{}.", when.join(", "))),
                    (false, false) => capital(&format!("{}. {}", when.join(", "), part.text)),
                }
            });
            text.unwrap_or_default()
        }
        Doing::Build { stage, .. } => {
            let part = words::built_in_one(paper, &paper.worked.formula.stages[*stage]);
            part.phases.into_iter().next().map(|phase| phase.text).unwrap_or_default()
        }
        _ => String::new(),
    }
}

/// The plan for a terminal: day by day, a line for everything that is begun.
pub fn plan_text(document: &PlanDocument) -> String {
    let mut written = String::new();
    for formula in &document.formulas {
        if !written.is_empty() {
            written.push('\n');
        }
        written.push_str(&format!("{}\n{}\n", formula.title, formula.makes));
        written.push_str(&format!(
            "ready {}, {} ({})\n",
            formula.ready.date, formula.ready.time, document.zone
        ));
        let names: Vec<String> = formula.tasks.iter().map(line_title).collect();
        let width = names.iter().map(|name| name.chars().count()).max().unwrap_or(0);
        let mut date = "";
        for (task, name) in formula.tasks.iter().zip(&names) {
            if task.begins.date != date {
                date = &task.begins.date;
                written.push_str(&format!("\n{date}\n"));
            }
            let mark = match task.kind {
                BarKind::Hands => "●",
                BarKind::Oven => "◐",
                BarKind::Waiting | BarKind::Cold => "○",
            };
            let gap = " ".repeat(width - name.chars().count());
            let time = task.time.as_deref().unwrap_or_default();
            let folds = match task.folds.is_empty() {
                true => String::new(),
                false => format!(", fold at {}", task.folds.join(", ")),
            };
            let at = task.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
            let line = format!("  {} {mark} {name}{gap}  {time}{at}{folds}", task.begins.time);
            written.push_str(line.trim_end());
            written.push('\n');
        }
        for estimate in &formula.estimates {
            written.push_str(&format!("\nestimate: {estimate}\n"));
        }
        for note in &formula.notes {
            written.push_str(&format!("\nnote: {note}\n"));
        }
    }
    written.push_str("\n● hands at work  ◐ oven, somebody near  ○ waits by itself\n");
    written
}

fn line_title(task: &TaskPart) -> String {
    match &task.stage {
        Some(stage) => format!("{stage}: {}", task.title.to_lowercase()),
        None => task.title.clone(),
    }
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
