//! From plans to their document.

use super::cautions;
use super::context::PrintContext;
use super::document::{BarKind, HousePart};
use super::plan_day::{PlanDay, PlanTask};
use super::plan_document::{
    DatingPart, HourPart, MomentPart, NightPart, PlanDocument, Planned, PlannedPart, TaskPart,
    VERSION,
};
use super::plan_together::Together;
use super::plan_words::{cautions_of, comes_out, estimates, notes, notes_of, text_of};
use super::timeline::{lanes, method_of, place, told_time};
use super::wording::Wording;
use super::words::capital;
use crate::formula::{House, known, title};
use crate::quantity::int;
use crate::syntax::tree::{Open, Weekdays};
use crate::time::clock::{Dating, Instant, MINUTE};
use crate::time::{Anchor, Batch, Doing, Hands, Hours, PlanRequest, Stretch, Used};

/// The document of some plans of one house.
pub fn plan_document(
    house: &House,
    planned: &[Planned],
    words: &Wording,
    asked: &PlanRequest,
) -> PlanDocument {
    let (zone, hours) = (asked.zone, asked.hours);
    let begin = planned.iter().map(|one| one.plan.begin).min().unwrap_or_default();
    let end = planned.iter().map(|one| one.plan.end).max().unwrap_or_default();
    let from_begin = matches!(asked.anchor, Anchor::Start(_));
    let ready_by = match asked.anchor {
        Anchor::ReadyBy(wanted) => Some(wanted),
        _ => None,
    };
    let of_all = PlanDay { words, zone, begin, end, from_begin, hours: hours.is_some(), ready_by };
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
    let (mut parts, each): (Vec<PlannedPart>, Vec<Vec<PlanTask>>) = formulas.unzip();
    let used: Vec<Used> = planned.iter().map(used).collect();
    let together = Together::new(house, &of_all, planned, &used);
    let each = together.shared_tasks(each);
    for (part, own) in parts.iter_mut().zip(&each) {
        part.events = own.iter().flatten().map(|task| task.part.clone()).collect();
    }
    let tasks = together.tasks(each);
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
        ends: of_all.moment_of_year(end),
        minutes: of_all.since(end),
        hours: of_all.clock(end),
        nights: of_all.nights(end, hours),
        hours_given: hours.is_some(),
        formulas: parts,
        tasks,
        notes: of_all.clock_changes().chain(together.notes()).collect(),
        cautions,
        picture_only: false,
        trace: None,
    }
}

fn used<'a, 't>(one: &Planned<'a, 't>) -> Used<'a, 't> {
    Used { worked: one.worked, graph: one.graph, plan: one.plan }
}

/// When it is night where nobody says who is awake: common practice, no source.
const DAYLIGHT: [Open; 1] = [Open { days: Weekdays::ALL, from: 6 * 60, to: 22 * 60, hands: 1 }];

impl PlanDay<'_> {
    /// When clocks change.
    fn clock_changes(&self) -> impl Iterator<Item = String> {
        let changes = self.zone.changes(self.begin, self.end).into_iter();
        changes.map(|change| {
            if change.skips_day {
                let (before, after) = (self.date(change.at - 1), self.date(change.at));
                let days = [("before", before.as_str()), ("after", after.as_str())];
                return self.words.fill("plan-day-skipped", &days);
            }
            let id = if change.back { "plan-clocks-back" } else { "plan-clocks-forward" };
            let date = self.date(change.at);
            let (from, to) = (change.from.as_str(), change.to.as_str());
            self.words.fill(id, &[("date", &date), ("from", from), ("to", to)])
        })
    }

    fn formula(&self, paper: &PrintContext, one: &Planned) -> (PlannedPart, Vec<PlanTask>) {
        let since = |point: usize| self.since(one.plan.times[point]);
        let tasks = self.tasks(paper, one);
        let part = PlannedPart {
            name: paper.worked.formula.name.shown.to_string(),
            title: title(&paper.worked.formula),
            makes: super::build::yield_text(paper),
            trace: None,
            begins: self.moment(one.plan.begin),
            ready: self.moment_of_year(one.plan.end),
            lanes: lanes(paper, one.graph, &since),
            tasks: tasks.iter().map(|task| task.part.clone()).collect(),
            events: Vec::new(),
            estimates: estimates(paper, one),
            notes: notes(paper, one, self.hours).into_iter().chain(self.early(one)).collect(),
        };
        (part, tasks)
    }

    /// That the bread is ready long before it has to be: how late it could be instead, or that
    /// nothing later fits.
    fn early(&self, one: &Planned) -> Option<String> {
        /// Minutes that say nothing.
        const LITTLE: i64 = 60;
        let wanted = self.ready_by?;
        let minutes = (wanted - one.plan.end) / MINUTE;
        let told = |at: Instant| {
            let at = self.moment(at);
            format!("{}, {}", at.date, at.time)
        };
        let later = one.plan.latest.filter(|latest| *latest >= one.plan.end + MINUTE);
        let id = if later.is_some() { "plan-ready-nearest" } else { "plan-ready-early" };
        let latest = later.map(told).unwrap_or_default();
        let args = [("early", minutes_of(minutes)), ("time", told(wanted)), ("latest", latest)];
        let args = args.each_ref().map(|(name, value)| (*name, value.as_str()));
        (minutes >= LITTLE).then(|| self.words.fill(id, &args))
    }

    fn tasks(&self, paper: &PrintContext, one: &Planned) -> Vec<PlanTask> {
        let mut tasks: Vec<(Instant, PlanTask)> = Vec::new();
        for stretch in &one.graph.stretches {
            let (from, to) = (one.plan.times[stretch.from], one.plan.times[stretch.to]);
            // What only keeps is no task where it does not have to.
            let is_skipped = from == to && stretch.hands == Hands::Off && !stretch.untimed;
            let says_nothing = || {
                notes_of(paper, &stretch.doing).is_empty()
                    && cautions_of(paper, &stretch.doing).is_empty()
            };
            if is_skipped && says_nothing() {
                continue;
            }
            let hands_of = |other: &&Stretch| is_work_of(one, other, stretch);
            // One fold is told once, with the minutes that hands take for it.
            if one.graph.stretches.iter().any(|other| is_work_of(one, stretch, other)) {
                continue;
            }
            let work = one.graph.stretches.iter().find(hands_of);
            if let Some(mut part) = self.task(paper, one, stretch) {
                let to = work.map_or(to, |work| one.plan.times[work.to]);
                if let Some(work) = work {
                    part.ends = self.moment(to);
                    part.time = Some(told_time(paper, work, self.since(to) - self.since(from)));
                }
                // A stage that is used in two places ripens for each of them.
                let same = tasks.iter().filter(|(_, other)| other.part.id == part.id).count();
                if same > 0 {
                    part.id.push_str(&format!("-for-{}", same + 1));
                }
                tasks.push((to, PlanTask { begins: from, doing: stretch.doing.clone(), part }));
            }
        }
        tasks.sort_by_key(|(to, task)| (task.begins, *to));
        let mut tasks: Vec<PlanTask> = tasks.into_iter().map(|(_, task)| task).collect();
        if let Some(first) = tasks.iter_mut().find(|task| task.part.needed) {
            first.part.cautions.extend(cautions::cautions_of_all(paper));
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
            title: of_batch(paper, stretch, place.title),
            stage: place.stage.map(|stage| capital(&paper.worked.formula.stages[stage].name.shown)),
            kind: place.kind,
            time: match stretch.untimed {
                true => Some(paper.words.say("no-time-given")),
                false => (minutes > 0).then(|| told_time(paper, stretch, minutes)),
            },
            estimated: stretch.retimed.is_some(),
            at: place.at.or_else(|| {
                let usual = || known("usual places", "refrigerator");
                (place.kind == BarKind::Cold).then(|| paper.degrees(&usual()))
            }),
            place: place.named,
            text: text_of(paper, one.graph, stretch),
            id: format!("{}{}", id_of(paper, &stretch.doing), batch_id(stretch)),
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

fn minutes_of(minutes: i64) -> String {
    super::words::minutes(&int(minutes))
}

/// Whether a stretch is the hands of a step that takes no time itself: a fold before a rest.
fn is_work_of(one: &Planned, work: &Stretch, step: &Stretch) -> bool {
    let (Doing::Moment { stage, step: of }, Doing::Step { stage: own, step: number, phase: 0 }) =
        (&work.doing, &step.doing)
    else {
        return false;
    };
    let takes_none = one.plan.times[step.from] == one.plan.times[step.to];
    (stage, of, work.from) == (own, number, step.from) && takes_none && step.hands == Hands::On
}

/// `Mix, batch 2 of 3`, `Bake, load 2 of 3`.
fn of_batch(paper: &PrintContext, stretch: &Stretch, title: String) -> String {
    let Some(Batch { in_oven, first, last, of }) = stretch.batch else { return title };
    let (first, last, of) = (first.to_string(), last.to_string(), of.to_string());
    let args = [("step", title.as_str()), ("first", &first), ("last", &last), ("count", &of)];
    let id = match (in_oven, first == last) {
        (false, true) => "plan-batch",
        (false, false) => "plan-batch-all",
        (true, true) => "plan-load",
        (true, false) => "plan-load-all",
    };
    paper.words.fill(id, &args)
}

/// The first batch has the name of the whole.
fn batch_id(stretch: &Stretch) -> String {
    let number = stretch.batch.map(|batch| batch.first).filter(|&number| number > 1);
    number.map(|number| format!("-batch-{number}")).unwrap_or_default()
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
