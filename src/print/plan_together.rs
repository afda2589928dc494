//! What several formulas of a plan have with each other: builds that one of them makes for all,
//! and hands and machines that are wanted twice.

use super::context::{PrintContext, Rounded};
use super::plan_day::{PlanDay, PlanTask};
use super::plan_document::{Planned, TaskPart};
use super::plan_words::called;
use crate::formula::{House, title};
use crate::quantity::Exact;
use crate::time::clock::Instant;
use crate::time::{Doing, HandsTwice, Shared, Used, built_at, hands_twice, shared, wanted_twice};

/// What the formulas of a plan have with each other.
pub struct Together<'a, 't> {
    house: &'a House<'t>,
    day: &'a PlanDay<'a>,
    planned: &'a [Planned<'a, 't>],
    used: &'a [Used<'a, 't>],
    /// Builds that are made once for several formulas, and those that each makes for itself.
    once: Vec<Shared>,
    each: Vec<Shared>,
}

impl<'a, 't> Together<'a, 't> {
    /// From the formulas as they are planned.
    pub fn new(
        house: &'a House<'t>,
        day: &'a PlanDay<'a>,
        planned: &'a [Planned<'a, 't>],
        used: &'a [Used<'a, 't>],
    ) -> Self {
        let (once, each) = shared(house, used);
        Self { house, day, planned, used, once, each }
    }

    /// The tasks of each formula; what is built for several is there for one of them, with the
    /// names of all. What ripens longer for one than for another is there for each.
    pub fn shared_tasks(&self, each: Vec<Vec<PlanTask>>) -> Vec<Vec<Option<PlanTask>>> {
        let each = each.into_iter().enumerate();
        each.map(|(formula, own)| own.into_iter().map(|task| self.once(formula, task)).collect())
            .collect()
    }

    fn once(&self, formula: usize, mut task: PlanTask) -> Option<PlanTask> {
        let Some(shared) = self.once.iter().find(|it| it.is_of(formula, &task.doing)) else {
            return Some(task);
        };
        let users = self.alike(shared, formula, &task);
        if users.users.first().is_none_or(|(first, _)| *first != formula) {
            return None;
        }
        task.part.formula = self.names(&users);
        if task.part.needed {
            let text = [task.part.text.as_str(), &self.amounts(&users)];
            task.part.text = text.join(" ").trim().to_owned();
        }
        Some(task)
    }

    /// Those of a shared build for which something is done at the same time: all of them, but
    /// what ripens does so until each takes it.
    fn alike(&self, shared: &Shared, formula: usize, task: &PlanTask) -> Shared {
        let Doing::Ripen { feed, leg, .. } = task.doing else { return shared.clone() };
        let spans = |&(formula, stage): &(usize, usize)| -> Vec<(Instant, Instant)> {
            let Used { graph, plan, .. } = self.used[formula];
            let doing = Doing::Ripen { stage, feed, leg };
            let own = graph.stretches.iter().filter(|it| it.doing == doing);
            own.map(|it| (plan.times[it.from], plan.times[it.to])).collect()
        };
        let Some(own) = shared.users.iter().find(|(user, _)| *user == formula) else {
            return shared.clone();
        };
        let own = spans(own);
        let alike = shared.users.iter().filter(|user| spans(user) == own);
        Shared { users: alike.copied().collect() }
    }

    /// The tasks of all formulas by the clock.
    pub fn tasks(&self, each: Vec<Vec<Option<PlanTask>>>) -> Vec<TaskPart> {
        let mut tasks: Vec<PlanTask> = each.into_iter().flatten().flatten().collect();
        tasks.sort_by_key(|task| task.begins);
        tasks.into_iter().map(|task| task.part).collect()
    }

    /// Notes that concern several formulas, or two works of one.
    pub fn notes(&self) -> Vec<String> {
        let once = self.once.iter().map(|shared| self.built_once(shared));
        let each = self.each.iter().map(|shared| self.built_by_each(shared));
        let hands = hands_twice(self.used, &self.once);
        let hands = hands.iter().map(|twice| self.hands(twice));
        once.chain(each).chain(self.machines()).chain(hands).collect()
    }

    fn title(&self, formula: usize) -> String {
        title(&self.planned[formula].worked.formula)
    }

    /// `Pier Loaf + Dune Loaf`.
    fn names(&self, shared: &Shared) -> String {
        let names = shared.users.iter().map(|(formula, _)| self.title(*formula));
        names.collect::<Vec<_>>().join(" + ")
    }

    /// `Pier Loaf 5.934 kg + Dune Loaf 2.967 kg = 8.901 kg`: what each needs to be made, as its
    /// sheet says it.
    fn amounts(&self, shared: &Shared) -> String {
        let (mut said, mut parts, mut grams) = (Vec::new(), Vec::new(), Exact::ZERO);
        let mut sum = String::new();
        for &(formula, stage) in &shared.users {
            let worked = self.planned[formula].worked;
            let batches = worked.batches();
            let paper = PrintContext::new(self.house, worked, self.day.words, batches, false);
            let Some(numbers) = worked.first().stages.get(stage) else { continue };
            let shown = paper.shown(|weighing| Some(&weighing.stages.get(stage)?.sum));
            let weight = paper.weight_as(&numbers.made, &shown);
            said.push(format!("{} {} {}", self.title(formula), weight.shown, weight.unit));
            grams += &numbers.made;
            parts.push(shown);
            let all = paper.weight_as(&grams, &Rounded::sum(parts.iter()));
            sum = format!("{} {}", all.shown, all.unit);
        }
        format!("{} = {sum}", said.join(" + "))
    }

    fn stage_name(&self, shared: &Shared) -> String {
        let stage = shared
            .users
            .first()
            .and_then(|&(formula, stage)| self.planned[formula].worked.formula.stages.get(stage));
        stage.map(|stage| super::words::capital(&stage.name.shown)).unwrap_or_default()
    }

    fn built_once(&self, shared: &Shared) -> String {
        let (stage, amounts) = (self.stage_name(shared), self.amounts(shared));
        let args = [("stage", stage.as_str()), ("amounts", &amounts)];
        self.day.words.fill("plan-built-once", &args)
    }

    fn built_by_each(&self, shared: &Shared) -> String {
        let each = shared.users.iter().filter_map(|&(formula, stage)| {
            let one = &self.planned[formula];
            let at = self.day.moment(built_at(one.graph, one.plan, stage)?);
            Some(format!("{} {}, {}", self.title(formula), at.date, at.time))
        });
        let each = each.collect::<Vec<_>>().join("; ");
        let stage = self.stage_name(shared);
        self.day.words.fill("plan-built-each", &[("stage", stage.as_str()), ("times", &each)])
    }

    fn machines(&self) -> Vec<String> {
        let twice = wanted_twice(self.house, self.used).into_iter().map(|twice| {
            let (one, two) = (self.title(twice.formulas.0), self.title(twice.formulas.1));
            let (from, to) = (self.day.moment(twice.from), self.day.moment(twice.to));
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
            self.day.words.fill(id, &args)
        });
        twice.collect()
    }

    /// `Pier Loaf: Divide, Shape; Dune Loaf: Levain, Mix`.
    fn hands(&self, twice: &HandsTwice) -> String {
        let mut each: Vec<(usize, Vec<String>)> = Vec::new();
        for &(formula, stretch) in &twice.works {
            let one = &self.planned[formula];
            let paper = PrintContext::new(self.house, one.worked, self.day.words, 1, false);
            let stretch = one.graph.stretches.get(stretch);
            let Some(name) = stretch.and_then(|it| called(&paper, it)) else { continue };
            match each.iter_mut().find(|(of, _)| *of == formula) {
                Some((_, names)) if names.contains(&name) => {}
                Some((_, names)) => names.push(name),
                None => each.push((formula, vec![name])),
            }
        }
        let several = self.planned.len() > 1;
        let places = each.iter().map(|(formula, names)| match several {
            true => format!("{}: {}", self.title(*formula), names.join(" / ")),
            false => names.join(" / "),
        });
        let places = places.collect::<Vec<_>>().join("; ");
        let (from, to) = (self.day.moment(twice.from), self.day.moment(twice.to));
        let args = [
            ("date", from.date.as_str()),
            ("from", &from.time),
            ("to", &to.time),
            ("places", &places),
        ];
        self.day.words.fill("plan-hands-twice", &args)
    }
}
