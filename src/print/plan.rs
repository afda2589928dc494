//! From plans to their document.

use super::cautions;
use super::context::PrintContext;
use super::document::HousePart;
use super::plan_document::{
    DatingPart, HourPart, MomentPart, NightPart, PlanDocument, Planned, PlannedPart, TaskPart,
    VERSION,
};
use super::plan_words::{cautions_of, comes_out, estimates, notes, notes_of, text_of};
use super::timeline::{lanes, method_of, place, told_time};
use super::wording::Wording;
use super::words::capital;
use crate::formula::{House, title};
use crate::syntax::tree::{Open, Weekdays};
use crate::time::clock::{Dating, Instant, MINUTE, Zone};
use crate::time::{Anchor, Doing, Hands, Hours, Stretch, Used, Wanted, wanted_twice};

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
        let paper = PrintContext::new(house, one.worked, words, 1, false);
        for caution in cautions::cautions(&paper) {
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
            if change.skips_day {
                let (before, after) = (self.date(change.at - 1), self.date(change.at));
                let days = [("before", before.as_str()), ("after", after.as_str())];
                return self.words.fill("plan-day-skipped", &days);
            }
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

    fn formula(
        &self,
        paper: &PrintContext,
        one: &Planned,
    ) -> (PlannedPart, Vec<(Instant, TaskPart)>) {
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

    fn tasks(&self, paper: &PrintContext, one: &Planned) -> Vec<(Instant, TaskPart)> {
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
            first.cautions.extend(cautions::cautions_of_all(paper));
        }
        tasks
    }

    fn task(&self, paper: &PrintContext, one: &Planned, stretch: &Stretch) -> Option<TaskPart> {
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

/// A name for what is done that stays while the clock and other steps change: the verb, and
/// of several with one verb, which of them.
fn id_of(paper: &PrintContext, doing: &Doing) -> String {
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
