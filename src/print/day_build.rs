//! From a day that is planned to its document.

use super::build::{document, soft};
use super::cautions;
use super::context::{PrintContext, Rounded};
use super::day_document::{
    DayBatch, DayBuild, DayDocument, DayEarlier, DayHour, DayKey, DayLevel, DayLine, DayLoad,
    DayMixture, DayOrder, DayRow, DayShare, DayStore, DayStretch, DayTake, DayTask, RowKind,
    VERSION,
};
use super::document::{Document, HousePart, LineKind, Weight};
use super::live;
use super::method;
use super::plan_day::PlanDay as Clockwork;
use super::plan_document::{DatingPart, MomentPart};
use super::wording::Wording;
use super::words::capital;
use crate::formula::weighing::ShownWeight;
use crate::formula::{House, LineRef, Worked, WorkedLine, title};
use crate::orders::{
    Build, End, GroupOf, Planned, PoolOf, Sized, Take, Taker, Takes, step_of, stores, works,
};
use crate::quantity::Exact;
use crate::syntax::tree::{Name, Order, Ordered, Verb, WordsKind};
use crate::time::Doing;
use crate::time::clock::{Dating, MINUTE};
use crate::time::day::{self, Minute, TaskPlace};

/// Lines that are looked through for mixtures in mixtures at most.
const MAX_LINES: usize = 1_000_000;

/// The prints of a day, in the order in which they are set.
const DAY_PRINTS: [&str; 8] =
    ["plan", "mixing", "levains", "bench", "oven", "requisition", "batches", "packing"];

/// The document of a day, in these words.
pub fn day_document(house: &House, planned: &Planned, words: &Wording) -> DayDocument {
    let sheets: Vec<Vec<Document>> = planned
        .laid
        .making
        .products
        .iter()
        .map(|product| {
            let sizes = product.sizes.iter();
            sizes.map(|size| document(house, &size.worked, words, false)).collect()
        })
        .collect();
    let clock = &planned.laid.clock;
    let moments = Clockwork {
        words,
        zone: &clock.zone,
        begin: clock.midnight,
        // Where no dates are known, days are counted from the day itself.
        end: clock.midnight,
        from_begin: false,
        hours: true,
        ready_by: None,
    };
    let latest = day::latest(&planned.laid.puzzle, &planned.plan.places);
    let keys = Vec::new();
    let mut writer = DayWriter { house, planned, words, sheets, moments, latest, keys };
    writer.keys = writer.keys();
    writer.document()
}

/// Lets a document say of what is begun what an earlier one said, where a formula would make
/// something else of it today.
pub fn day_as_begun(document: &mut DayDocument, planned: &Planned, earlier: &DayEarlier) {
    let laid = &planned.laid;
    for (taker, ..) in &laid.named {
        let Some(work) = laid.changed(*taker) else { continue };
        match &work.stage {
            None => {
                let is_it = |batch: &&DayBatch| {
                    batch.product == work.formula && batch.number == work.number
                };
                let known = earlier.batches.iter().find(is_it);
                let own = document.batches.iter_mut().find(|it| is_it(&&**it));
                let Some((known, own)) = known.zip(own) else { continue };
                let known = known.clone();
                (own.title, own.makes, own.dough) = (known.title, known.makes, known.dough);
                (own.lines, own.water) = (known.lines, known.water);
                (own.contains, own.may_contain) = (known.contains, known.may_contain);
                own.contains_unknown = known.contains_unknown;
            }
            Some(_) => {
                let Taker::Build(place) = *taker else { continue };
                let (product, size, stage) = laid.builds[place].like;
                let stages = &laid.making.products[product].sizes[size].worked.formula.stages;
                let name = stages.get(stage).map_or("", |stage| stage.name.shown.as_str());
                let is_it = |build: &&DayBuild| {
                    !build.on_hand && build.name == name && build.number == work.number
                };
                let known = earlier.builds.iter().find(is_it);
                let own = document.builds.iter_mut().find(|it| is_it(&&**it));
                let Some((known, own)) = known.zip(own) else { continue };
                let known = known.clone();
                (own.made, own.lines, own.wait) = (known.made, known.lines, known.wait);
                (own.kept_back, own.saved) = (known.kept_back, known.saved);
            }
        }
        for task in &work.tasks {
            let known = earlier.tasks.iter().find(|known| known.id == task.id);
            let own = document.tasks.iter_mut().find(|own| own.id == task.id);
            if let Some((known, own)) = known.zip(own) {
                own.title.clone_from(&known.title);
            }
        }
    }
}

/// The batches of a day by when the first of each is done, those that find no place last.
fn by_clock(planned: &Planned) -> Vec<usize> {
    let laid = &planned.laid;
    let begins = |batch: usize| {
        let own = laid.tasks.iter().enumerate();
        let own = own.filter(|(_, of)| of.taker == Taker::Batch(batch));
        let first = own.filter_map(|(task, _)| Some(planned.place(task)?.start)).min();
        (first.unwrap_or(Minute::MAX), batch)
    };
    let mut order: Vec<usize> = (0..laid.making.batches.len()).collect();
    order.sort_by_cached_key(|batch| begins(*batch));
    order
}

/// The sheets of all batches that have a place, by when they are mixed; each says which batch it
/// is.
pub fn day_sheets(house: &House, planned: &Planned, words: &Wording) -> Vec<Document> {
    let day = day_document(house, planned, words);
    // What was begun by another formula than there is now has the sheet that it had.
    let is_as_now = |place: usize| planned.laid.changed(Taker::Batch(place)).is_none();
    let order = by_clock(planned).into_iter().zip(&day.batches);
    let order = order.filter(|(place, batch)| batch.mixed.is_some() && is_as_now(*place));
    let making = &planned.laid.making;
    let sheets = order.map(|(place, made)| {
        let batch = &making.batches[place];
        let size = &making.products[batch.product].sizes[batch.size];
        let mut sheet = document(house, &size.worked, words, false);
        if batch.of > 1 {
            sheet.title = format!("{} {}/{}", sheet.title, batch.number, batch.of);
        }
        // What several batches take of one build is not built for each of them.
        let takes = |build: &DayBuild| build.takes.iter().any(|it| it.who.starts_with(&made.title));
        if day.builds.iter().any(|build| build.takes.len() > 1 && takes(build))
            && let Some(part) = sheet.words.get("once-of-day").cloned()
        {
            sheet.words.insert("once".to_owned(), part);
        }
        sheet
    });
    sheets.collect()
}

struct DayWriter<'a, 't> {
    house: &'a House<'t>,
    planned: &'a Planned<'t>,
    words: &'a Wording,
    /// By product and size.
    sheets: Vec<Vec<Document>>,
    moments: Clockwork<'a>,
    /// By the tasks of the puzzle: how late each may begin.
    latest: Vec<Option<Minute>>,
    /// What the chart calls products and stages by: short, and the name.
    keys: Vec<(String, String)>,
}

impl<'a, 't> DayWriter<'a, 't> {
    fn document(&self) -> DayDocument {
        let (laid, plan) = (&self.planned.laid, &self.planned.plan);
        let clock = &laid.clock;
        let places = || plan.places.iter().flatten();
        let begins = places().map(|place| i64::from(place.start)).min().unwrap_or(0);
        let done = self.ready().into_iter().flatten().flatten().map(|(from, _)| i64::from(from));
        let ends = places().map(|place| i64::from(place.end)).chain(done).max().unwrap_or(0);
        let tasks = self.tasks();
        let levels = laid.hands.iter();
        let (notes, cautions) = self.texts();
        let (batches, builds, mixtures) = (self.batches(), self.builds(), self.mixtures());
        DayDocument {
            version: VERSION,
            house: HousePart::of(&self.house.settings),
            trace: None,
            name: laid.day.name.to_string(),
            title: laid.day.title.map_or_else(
                || laid.day.name.to_string(),
                |title| crate::formula::plain(title).to_string(),
            ),
            language: self.words.tag.clone(),
            decimal_mark: self.words.decimal_mark(),
            words: self.words.of_templates(),
            zone: (clock.zone.dating == Dating::Dates).then(|| clock.zone.name()),
            dating: match clock.zone.dating {
                Dating::Dates => DatingPart::Dates,
                Dating::AnyWeek => DatingPart::AnyWeek,
                Dating::AnyDay => DatingPart::AnyDay,
            },
            date: self.moments.moment_of_year(clock.midnight).date,
            begins,
            ends,
            // A day without stages has no list of them.
            parts: (DAY_PRINTS.iter().filter(|print| **print != "levains" || !builds.is_empty()))
                .map(|print| (*print).to_owned())
                .collect(),
            stretches: self.stretches(&tasks),
            keys: self
                .keys
                .iter()
                .map(|(short, name)| DayKey { short: short.clone(), name: name.clone() })
                .collect(),
            label: None,
            hours: self.hours(begins, ends),
            hands: levels
                .map(|(at, hands)| DayLevel { at: i64::from(*at), hands: *hands })
                .collect(),
            orders: self.orders(),
            requisition: self.requisition(&batches, &builds, &mixtures),
            batches,
            builds,
            mixtures,
            rows: self.rows(&tasks),
            tasks: tasks.into_iter().map(|(_, task)| task).collect(),
            left_over: self.left_over(),
            proven: plan.is_proven,
            late: plan.lateness,
            late_at_least: plan.bound.lateness,
            notes,
            cautions,
            works: works(self.house, self.planned),
        }
    }

    fn moment(&self, minute: Minute) -> MomentPart {
        self.moments.moment(self.planned.laid.clock.instant(minute))
    }

    /// The same of what is wanted: the midnight that the day ends with is its `24:00`.
    fn wanted(&self, minute: Minute) -> MomentPart {
        let at = self.moment(minute);
        match self.planned.laid.clock.is_end(minute) {
            true => {
                MomentPart { date: self.moment(minute - 1).date, time: "24:00".to_owned(), ..at }
            }
            false => at,
        }
    }

    fn hours(&self, begins: i64, ends: i64) -> Vec<DayHour> {
        let clock = &self.planned.laid.clock;
        let hours = begins.div_euclid(60)..=ends.div_euclid(60) + 1;
        let at = hours.map(|hour| hour * 60);
        at.map(|at| {
            let time = clock.zone.at(clock.midnight + at * MINUTE).time();
            let date = i32::try_from(at).map(|at| self.moment(at).date).unwrap_or_default();
            DayHour { at, time, date }
        })
        .collect()
    }

    fn sized(&self, product: usize, size: usize) -> &Sized<'t> {
        &self.planned.laid.making.products[product].sizes[size]
    }

    /// Stretches in which somebody or something works, each from a full hour to a full hour:
    /// pauses of two hours and more part them.
    fn stretches(&self, tasks: &[(usize, DayTask)]) -> Vec<DayStretch> {
        const PAUSE: i64 = 2;
        let works = tasks.iter().map(|(_, task)| task).filter(|task| task.place.is_none());
        let mut spans: Vec<(i64, i64)> = Vec::new();
        for task in works {
            let (from, to) = (task.from.div_euclid(60), (task.to + 59).div_euclid(60));
            match spans.last_mut() {
                Some((_, end)) if from < *end + PAUSE => *end = to.max(*end),
                _ => spans.push((from, to.max(from + 1))),
            }
        }
        let stretch = |(from, to): (i64, i64)| {
            let minute = i32::try_from(from * 60).unwrap_or(0);
            DayStretch { from: from * 60, to: to * 60, date: self.moment(minute).date }
        };
        spans.into_iter().map(stretch).collect()
    }

    /// What the chart calls each product and stage by: its first letters, and of two that would be
    /// called alike, more of them.
    fn keys(&self) -> Vec<(String, String)> {
        let laid = &self.planned.laid;
        let products = laid.making.products.iter().map(|product| title(product.formula));
        let builds = (0..laid.builds.len()).map(|build| capital(&self.stage_name(build)));
        let mut keys: Vec<(String, String)> = Vec::new();
        for name in products.chain(builds) {
            if keys.iter().any(|(_, known)| *known == name) {
                continue;
            }
            let candidates = (1..=name.chars().count()).map(|letters| letters_of(&name, letters));
            let is_free = |short: &String| keys.iter().all(|(known, _)| known != short);
            let short = candidates.into_iter().find(is_free).unwrap_or_else(|| name.clone());
            keys.push((short, name));
        }
        keys
    }

    /// `HR2`, `HL`.
    fn short(&self, taker: Taker) -> String {
        let laid = &self.planned.laid;
        let (name, number, of) = match taker {
            Taker::Batch(place) => {
                let batch = &laid.making.batches[place];
                (title(laid.making.products[batch.product].formula), batch.number, batch.of)
            }
            Taker::Build(place) => {
                let build = &laid.builds[place];
                (capital(&self.stage_name(place)), build.number, build.of)
            }
        };
        let known = self.keys.iter().find(|(_, known)| *known == name);
        let short = known.map_or(name.as_str(), |(short, _)| short);
        if of > 1 { format!("{short}{number}") } else { short.to_owned() }
    }

    /// How late a task may begin, where that is later than it does.
    fn latest(&self, task: usize) -> Option<MomentPart> {
        let planned = self.planned.place(task)?.start;
        let latest = self.latest.get(task).copied().flatten()?;
        (latest > planned).then(|| self.moment(latest))
    }

    /// `Harbour Rolls 2 of 5`, `House levain`.
    fn whose(&self, taker: Taker) -> String {
        let laid = &self.planned.laid;
        let numbered = |name: String, number: u32, of: u32| {
            if of < 2 {
                return name;
            }
            let (number, of) = (number.to_string(), of.to_string());
            let args = [("name", name.as_str()), ("number", &number), ("of", &of)];
            self.words.fill("day-batch", &args)
        };
        match taker {
            Taker::Batch(place) => {
                let batch = &laid.making.batches[place];
                let size = self.sized(batch.product, batch.size);
                numbered(title(&size.worked.formula), batch.number, batch.of)
            }
            Taker::Build(place) => {
                let build = &laid.builds[place];
                numbered(capital(&self.stage_name(place)), build.number, build.of)
            }
        }
    }

    fn stage_name(&self, build: usize) -> String {
        let (product, size, stage) = self.planned.laid.builds[build].like;
        let stages = &self.sized(product, size).worked.formula.stages;
        stages.get(stage).map(|stage| stage.name.shown.to_string()).unwrap_or_default()
    }

    fn worked(&self, taker: Taker) -> &Worked<'t> {
        let laid = &self.planned.laid;
        let (product, size) = match taker {
            Taker::Batch(place) => {
                (laid.making.batches[place].product, laid.making.batches[place].size)
            }
            Taker::Build(place) => (laid.builds[place].like.0, laid.builds[place].like.1),
        };
        &self.sized(product, size).worked
    }

    /// Of each batch, of each load: from when until when it is done.
    fn ready(&self) -> Vec<Vec<Option<(Minute, Minute)>>> {
        let laid = &self.planned.laid;
        let batches = laid.making.batches.iter().enumerate();
        batches
            .map(|(place, batch)| {
                let shape = &self.sized(batch.product, batch.size).shape;
                let first = laid.tasks.iter().position(|of| of.taker == Taker::Batch(place));
                let end = |end: &End| {
                    let at = self.planned.place(first? + end.task)?;
                    let most = end.wait.1.unwrap_or(end.wait.0);
                    Some((at.end + end.wait.0, at.end + most))
                };
                shape.ends.iter().map(end).collect()
            })
            .collect()
    }

    fn orders(&self) -> Vec<DayOrder> {
        let laid = &self.planned.laid;
        let ready = self.ready();
        let by_clock = by_clock(self.planned);
        let mut orders: Vec<(Minute, DayOrder)> = Vec::new();
        for (place, wish) in laid.making.wishes.iter().enumerate() {
            let order = &laid.day.orders[wish.order];
            let mut from: Vec<DayShare> = Vec::new();
            let (mut done, mut missing) = (None::<Minute>, 0);
            for (number, batch) in laid.making.batches.iter().enumerate() {
                for (load, of) in batch.loads.iter().enumerate() {
                    let own = of.serves.iter().filter(|(wish, _)| *wish == place);
                    let pieces: u32 = own.map(|(_, pieces)| pieces).sum();
                    if pieces == 0 {
                        continue;
                    }
                    match ready.get(number).and_then(|it| it.get(load)).copied().flatten() {
                        Some((at, last)) => {
                            // What has to be fresh cools until then, where it may.
                            let at = wish.after.map_or(at, |after| at.max(after.min(last)));
                            done = done.max(Some(at));
                            let shown = by_clock.iter().position(|it| *it == number);
                            let batch = shown.unwrap_or(number);
                            match from.iter_mut().find(|share| share.batch == batch) {
                                Some(share) => share.pieces += pieces,
                                None => from.push(DayShare { batch, pieces }),
                            }
                        }
                        None => missing += pieces,
                    }
                }
            }
            let formula = self.house.formula(&order.product.key);
            let kind = match &order.wishes[wish.line].amount {
                Ordered::Pieces(_, kind) => Some(self.kind(&kind.shown)),
                Ordered::Weight(_) => None,
            };
            from.sort_by_key(|share| share.batch);
            orders.push((
                wish.by,
                DayOrder {
                    product: order.product.key.to_string(),
                    title: formula.map(title).unwrap_or_default(),
                    customer: order.customer.as_ref().map(ToString::to_string),
                    count: wish.count,
                    amount: match &kind {
                        Some(kind) => format!("{} {kind}", wish.count),
                        None => self.dough(wish.count),
                    },
                    kind,
                    by: self.wanted(wish.by),
                    after: wish.after.map(|after| self.moment(after)),
                    done: done.filter(|_| missing == 0).map(|done| self.moment(done)),
                    late: done.map_or(0, |done| i64::from((done - wish.by).max(0))),
                    missing,
                    on_hand: wish.on_hand,
                    thaw: self.thaw(order, wish.by).filter(|_| wish.on_hand > 0),
                    from,
                },
            ));
        }
        orders.sort_by(|one, two| {
            (one.0, &one.1.product, &one.1.customer).cmp(&(two.0, &two.1.product, &two.1.customer))
        });
        orders.into_iter().map(|(_, order)| order).collect()
    }

    /// When pieces of a product that are frozen have to come out to be sent at a time.
    fn thaw(&self, order: &Order, by: Minute) -> Option<MomentPart> {
        let day = &self.planned.laid.day;
        let own = day.on_hand.iter().chain(day.carried.iter().map(|it| &it.there));
        let own = own.filter(|there| there.name.key == order.product.key);
        let frozen = own.filter_map(|there| self.house.base(there.frozen.as_ref()?).to_whole());
        let longest = frozen.filter_map(|minutes| Minute::try_from(minutes).ok()).max()?;
        Some(self.moment(by - longest))
    }

    fn dough(&self, grams: u32) -> String {
        let weight = self.weight(&Exact::from(grams));
        format!("{} {}", weight.shown, weight.unit)
    }

    /// A weight by itself.
    fn weight(&self, grams: &Exact) -> Weight {
        let any = self.planned.laid.making.products.iter().flat_map(|it| &it.sizes).next();
        match any {
            Some(size) => {
                PrintContext::new(self.house, &size.worked, self.words, 1, false).weight(grams)
            }
            None => Weight {
                grams: crate::quantity::display::exact(grams),
                shown: crate::quantity::display::trimmed(grams, 1),
                unit: "g".into(),
                decimal: crate::quantity::display::trimmed(grams, 1),
                beside: None,
                about: false,
            },
        }
    }

    /// A sum of weights that are shown, to its last digit.
    fn weight_of_sum(&self, grams: &Exact, shown: &Exact) -> Weight {
        let any = self.planned.laid.making.products.iter().flat_map(|it| &it.sizes).next();
        let paper =
            any.map(|size| PrintContext::new(self.house, &size.worked, self.words, 1, false));
        let rounded = paper.as_ref().map(|paper| paper.rounded(shown));
        let steps = [Exact::ONE, Exact::ONE.one_in::<10>(), Exact::ONE.one_in::<100>()];
        let step = steps.into_iter().find(|step| shown.is_multiple_of(step));
        match (paper, rounded, step) {
            (Some(paper), Some(rounded), Some(step))
                if rounded.other.is_none() && rounded.first.grams != *shown =>
            {
                let first = ShownWeight { grams: shown.clone(), step };
                paper.weight_as(grams, &Rounded { first, other: None })
            }
            _ => Weight { grams: crate::quantity::display::exact(grams), ..self.weight(shown) },
        }
    }

    /// The task of a batch or build that is of some kind, the first by the clock.
    fn first_task(
        &self,
        taker: Taker,
        is_it: impl Fn(&Takes) -> bool,
    ) -> Option<(usize, TaskPlace)> {
        let laid = &self.planned.laid;
        let own = laid.tasks.iter().enumerate().filter(|(_, of)| of.taker == taker);
        let fitting = own.filter(|(_, of)| {
            let proto = self.shape(taker).and_then(|shape| shape.tasks.get(of.task));
            proto.is_some_and(|proto| is_it(&proto.takes))
        });
        let placed = fitting.filter_map(|(task, _)| Some((task, self.planned.place(task)?)));
        placed.min_by_key(|(_, place)| place.start)
    }

    fn shape(&self, taker: Taker) -> Option<&crate::orders::Shape> {
        let laid = &self.planned.laid;
        crate::orders::shape_of(&laid.making, &laid.builds, taker)
    }

    fn machine(&self, task: usize, place: TaskPlace) -> Option<String> {
        let puzzle = &self.planned.laid.puzzle;
        let on = puzzle.tasks.get(task)?.on.as_ref()?;
        Some(puzzle.groups.get(on.group)?.machines.get(place.machine)?.name.clone())
    }

    fn batches(&self) -> Vec<DayBatch> {
        let laid = &self.planned.laid;
        let ready = self.ready();
        by_clock(self.planned)
            .into_iter()
            .filter_map(|place| Some((place, laid.making.batches.get(place)?)))
            .map(|(place, batch)| {
                let taker = Taker::Batch(place);
                let size = self.sized(batch.product, batch.size);
                let sheet = &self.sheets[batch.product][batch.size];
                let mix = self
                    .first_task(taker, |takes| matches!(takes, Takes::Mixer(_)))
                    .or_else(|| self.first_task(taker, |takes| matches!(takes, Takes::Hands)));
                let last = sheet.mixes.last().filter(|mix| mix.kind == "dough");
                DayBatch {
                    product: size.worked.formula.name.key.to_string(),
                    title: title(&size.worked.formula),
                    number: batch.number,
                    of: batch.of,
                    pieces: batch.loads.iter().map(|load| load.pieces).sum(),
                    makes: sheet.makes.text.clone(),
                    dough: sheet.makes.dough.clone(),
                    lines: last.map(|mix| mix.lines.clone()).unwrap_or_default(),
                    // Other liquids are told as such by the sheet alone.
                    water: sheet.water.clone().filter(|_| {
                        last.is_some_and(|mix| mix.lines.iter().any(|line| line.key == "water"))
                    }),
                    mixer: mix.and_then(|(task, place)| self.machine(task, place)),
                    mixed: mix.map(|(_, place)| self.moment(place.start)),
                    mixed_at: mix.map(|(_, place)| i64::from(place.start)),
                    mixed_at_latest: mix.and_then(|(task, _)| self.latest(task)),
                    loads: self.loads(place, &ready[place]),
                    ready: ready[place]
                        .iter()
                        .map(|done| done.map(|(from, _)| from))
                        .try_fold(Minute::MIN, |last, from| Some(last.max(from?)))
                        .filter(|from| *from > Minute::MIN)
                        .map(|from| self.moment(from)),
                    ready_until: ready[place]
                        .iter()
                        .map(|done| done.map(|(_, to)| to))
                        .try_fold(Minute::MIN, |last, to| Some(last.max(to?)))
                        .filter(|to| *to > Minute::MIN)
                        .map(|to| self.moment(to)),
                    contains: sheet.contains.clone(),
                    may_contain: sheet.may_contain.clone(),
                    contains_unknown: sheet.contains_unknown.clone(),
                }
            })
            .collect()
    }

    fn loads(&self, place: usize, ready: &[Option<(Minute, Minute)>]) -> Vec<DayLoad> {
        let laid = &self.planned.laid;
        let batch = &laid.making.batches[place];
        let several = batch.loads.len() > 1;
        let shape = &self.sized(batch.product, batch.size).shape;
        let first = laid.tasks.iter().position(|of| of.taker == Taker::Batch(place));
        let loads = batch.loads.iter().enumerate();
        loads
            .map(|(load, of)| {
                let bake = shape.tasks.iter().position(|task| {
                    matches!(task.takes, Takes::Oven(..)) && (!several || task.load == Some(load))
                });
                let task = first.zip(bake).map(|(first, bake)| first + bake);
                let at = task.and_then(|task| Some((task, self.planned.place(task)?)));
                let done = ready.get(load).copied().flatten();
                let product = &laid.making.products[batch.product];
                let kind = product.kind(of.kind).map(|kind| self.kind(&kind.shown));
                DayLoad {
                    pieces: of.pieces,
                    kind,
                    deck: at.and_then(|(task, place)| self.machine(task, place)),
                    baked: at.map(|(_, place)| self.moment(place.start)),
                    out: at.map(|(_, place)| self.moment(place.end)),
                    done: done.map(|(from, _)| self.moment(from)),
                    done_at_latest: done.map(|(_, to)| self.moment(to)),
                }
            })
            .collect()
    }

    fn builds(&self) -> Vec<DayBuild> {
        let laid = &self.planned.laid;
        let mut builds: Vec<(Option<Minute>, DayBuild)> = Vec::new();
        for (place, build) in laid.builds.iter().enumerate() {
            let taker = Taker::Build(place);
            // What finds no place is not built.
            if build.given.is_none() && !self.is_made(taker) {
                continue;
            }
            let worked = self.worked(taker);
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            let begin = match build.given {
                Some(_) => None,
                None => self.first_task(taker, |_| true).map(|(_, place)| place.start),
            };
            let ripe = build.given.as_ref().and_then(|given| given.ripe);
            let some = |grams: &Exact| (!grams.is_zero()).then(|| paper.weight(grams));
            let grams: Vec<Exact> = build.lines.iter().map(|line| line.mass.clone()).collect();
            let name = self.stage_name(place);
            let sheet = self.sheets[build.like.0][build.like.1].mixes.iter();
            let mut sheet = sheet.filter(|mix| mix.name == name);
            let parts = self.parts_of(build, &paper);
            let shown_parts: Option<Vec<Exact>> = parts.iter().map(shown_grams).collect();
            // So much is made as those who take it weigh.
            let all = shown_parts.map(|all| all.iter().fold(Exact::ZERO, |sum, it| sum + it));
            let all = all.filter(|all| build.given.is_none() && !all.is_zero());
            let made = paper.rounded(all.as_ref().unwrap_or(&build.made));
            let shown = paper.column(&grams, &made);
            // What is made is what its lines show, whatever steps the scale has.
            let made = if shown.is_empty() { made } else { Rounded::sum(&shown) };
            let lines = build.lines.iter().zip(&shown).map(|(line, shown)| DayLine {
                name: paper.called(&line.key, &line.name),
                weight: paper.weight_as(&line.mass, shown),
            });
            let mut takes: Vec<(Option<Minute>, DayTake)> = (self.takes_of(build))
                .map(|take| {
                    let at = self.taken(take.taker, take.port);
                    let who = self.whose(take.taker);
                    let weight = self.taken_as_weighed(build, take, &paper);
                    (at, DayTake { who, weight, at: at.map(|at| self.moment(at)) })
                })
                .collect();
            takes.sort_by(|one, two| (one.0, &one.1.who).cmp(&(two.0, &two.1.who)));
            let rest = [build.kept_back.clone(), build.saved.clone(), self.left_of(build)];
            let rounded: Vec<Rounded> = (self.takes_of(build).map(|take| &take.grams).chain(&rest))
                .map(|grams| paper.rounded(grams))
                .collect();
            let adds_up = |made: &Rounded| match &all {
                Some(all) => *all == made.first.grams,
                None => Rounded::sum(&rounded).first.grams == made.first.grams,
            };
            builds.push((
                begin,
                DayBuild {
                    number: build.number,
                    of: build.of,
                    begins: begin.map(|begin| self.moment(begin)),
                    on_hand: build.given.is_some(),
                    ripe: ripe.map(|ripe| self.moment(ripe)),
                    left: some(&self.left_of(build)),
                    made: Weight { about: !adds_up(&made), ..paper.weight_as(&build.made, &made) },
                    lines: lines.collect(),
                    kept_back: some(&build.kept_back),
                    saved: some(&build.saved),
                    wait: sheet.next().and_then(|mix| mix.wait.clone()),
                    takes: takes.into_iter().map(|(_, take)| take).collect(),
                    name,
                },
            ));
        }
        builds.sort_by(|one, two| {
            (one.0, &one.1.name, one.1.number).cmp(&(two.0, &two.1.name, two.1.number))
        });
        builds.into_iter().map(|(_, build)| build).collect()
    }

    /// What takes some of a build: what finds no place takes nothing.
    fn takes_of<'b>(&'b self, build: &'b Build) -> impl Iterator<Item = &'b Take> {
        build.takes.iter().filter(|take| !take.grams.is_zero() && self.is_made(take.taker))
    }

    /// Grams of a build that nothing takes: with what was for a batch that finds no place.
    fn left_of(&self, build: &Build) -> Exact {
        let lost = build.takes.iter().filter(|take| !self.is_made(take.taker));
        lost.fold(build.left(), |sum, take| sum + &take.grams)
    }

    /// What of a build goes where, as it is weighed: into what takes it, kept back, saved, left.
    fn parts_of(&self, build: &Build, paper: &PrintContext) -> Vec<Weight> {
        let takes = self.takes_of(build);
        let takes = takes.map(|take| self.taken_as_weighed(build, take, paper));
        let rest = [build.kept_back.clone(), build.saved.clone(), self.left_of(build)];
        let rest: Vec<Weight> = (rest.iter().filter(|grams| !grams.is_zero()))
            .map(|grams| paper.weight(grams))
            .collect();
        takes.chain(rest).collect()
    }

    /// What is taken of a build, as the sheet of the batch that takes it says.
    fn taken_as_weighed(&self, build: &Build, take: &Take, paper: &PrintContext) -> Weight {
        let of_sheet = match take.taker {
            Taker::Build(_) => None,
            Taker::Batch(place) => {
                let batch = &self.planned.laid.making.batches[place];
                let (product, size, stage) = build.like;
                let stages = &self.sized(product, size).worked.formula.stages;
                let key = stages.get(stage).map_or("", |stage| stage.name.key.as_str());
                let dough = self.sheets[batch.product][batch.size].mixes.last();
                let lines = dough.filter(|mix| mix.kind == "dough").map(|mix| mix.lines.as_slice());
                let mut own = lines
                    .unwrap_or_default()
                    .iter()
                    .filter(|line| line.kind == LineKind::Stage && line.key == key);
                own.next().filter(|_| own.next().is_none()).and_then(|line| line.weight.clone())
            }
        };
        let exact = crate::quantity::display::exact(&take.grams);
        of_sheet.filter(|weight| weight.grams == exact).unwrap_or_else(|| paper.weight(&take.grams))
    }

    /// Mixtures of all that has a place, those of one make-up together.
    fn mixtures(&self) -> Vec<DayMixture> {
        /// One mixture: whose words it is worked out in, its line with all that is taken of it, its
        /// parts for each gram, and what takes it.
        struct Known {
            taker: Taker,
            line: WorkedLine,
            of: usize,
            parts: Vec<(String, Exact)>,
            takes: Vec<(String, Exact, Option<Minute>)>,
        }
        let laid = &self.planned.laid;
        let mut open: Vec<(Taker, WorkedLine, String, Option<Minute>)> = Vec::new();
        for (taker, ..) in &laid.named {
            let (taker, who) = (*taker, self.whose(*taker));
            if !self.is_made(taker) || laid.changed(taker).is_some() {
                continue;
            }
            let at = self.first_task(taker, |_| true).map(|(_, place)| place.start);
            let mut take = |line: &WorkedLine, times: &Exact| {
                let line = WorkedLine { mass: &line.mass * times, ..line.clone() };
                open.push((taker, line, who.clone(), at));
            };
            match taker {
                Taker::Build(place) => {
                    laid.builds[place].lines.iter().for_each(|line| take(line, &Exact::ONE));
                }
                Taker::Batch(_) => {
                    let numbers = self.worked(taker).first();
                    numbers.dough_lines.iter().for_each(|line| take(line, &Exact::ONE));
                    for piece in &numbers.pieces {
                        piece.lines.iter().for_each(|line| take(line, &piece.made.count));
                    }
                    let baths = self.worked(taker).baths(numbers);
                    baths.iter().for_each(|line| take(line, &Exact::ONE));
                }
            }
        }
        let mut all: Vec<Known> = Vec::new();
        let mut place = 0;
        while let Some((taker, line, who, at)) = open.get(place).cloned() {
            place += 1;
            let LineRef::SideMix(of) = line.goes else { continue };
            let worked = self.worked(taker);
            let lines = worked.mixture_lines(of, &line.mass);
            if lines.is_empty() || line.mass.is_zero() || open.len() > MAX_LINES {
                continue;
            }
            let share = |part: &WorkedLine| part.mass.over(&line.mass).unwrap_or_default();
            let parts: Vec<(String, Exact)> =
                lines.iter().map(|part| (part.key.to_string(), share(part))).collect();
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            let name = paper.called(&line.key, &line.name);
            open.extend(lines.into_iter().map(|part| (taker, part, name.clone(), at)));
            let is_it = |known: &&mut Known| known.line.key == line.key && known.parts == parts;
            let take = (who, line.mass.clone(), at);
            match all.iter_mut().find(is_it) {
                Some(known) => {
                    known.line.mass += &line.mass;
                    match known.takes.iter_mut().find(|it| it.0 == take.0) {
                        Some(same) => {
                            same.1 += &take.1;
                            same.2 = same.2.min(take.2);
                        }
                        None => known.takes.push(take),
                    }
                }
                None => all.push(Known { taker, line, of, parts, takes: vec![take] }),
            }
        }
        let mixture = |known: Known| {
            let worked = self.worked(known.taker);
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            let lines = worked.mixture_lines(known.of, &known.line.mass);
            let grams: Vec<Exact> = lines.iter().map(|line| line.mass.clone()).collect();
            let made = paper.rounded(&known.line.mass);
            let shown = paper.column(&grams, &made);
            let made = if shown.is_empty() { made } else { Rounded::sum(&shown) };
            let mut takes = known.takes;
            takes.sort_by(|one, two| (one.2, &one.0).cmp(&(two.2, &two.0)));
            let taken: Vec<Rounded> = takes.iter().map(|take| paper.rounded(&take.1)).collect();
            let adds_up = Rounded::sum(&taken).first.grams == made.first.grams;
            DayMixture {
                name: paper.called(&known.line.key, &known.line.name),
                lines: lines
                    .iter()
                    .zip(&shown)
                    .map(|(line, shown)| DayLine {
                        name: paper.called(&line.key, &line.name),
                        weight: paper.weight_as(&line.mass, shown),
                    })
                    .collect(),
                made: Weight { about: !adds_up, ..paper.weight_as(&known.line.mass, &made) },
                takes: takes
                    .into_iter()
                    .map(|(who, grams, at)| DayTake {
                        who,
                        weight: paper.weight(&grams),
                        at: at.map(|at| self.moment(at)),
                    })
                    .collect(),
            }
        };
        let mut all: Vec<DayMixture> = all.into_iter().map(mixture).collect();
        all.sort_by(|one, two| one.name.cmp(&two.name));
        all
    }

    /// When a batch or build takes what goes in at a port.
    fn taken(&self, taker: Taker, port: usize) -> Option<Minute> {
        let at = self.shape(taker)?.ports.get(port)?.at;
        let first = self.planned.laid.tasks.iter().position(|of| of.taker == taker)?;
        Some(at.of(self.planned.place(first + at.task())?))
    }

    /// All tasks that have a place, by the clock, each with its number in the puzzle.
    fn tasks(&self) -> Vec<(usize, DayTask)> {
        let (laid, plan) = (&self.planned.laid, &self.planned.plan);
        let mut tasks: Vec<(usize, DayTask)> = Vec::new();
        for (task, of) in laid.tasks.iter().enumerate() {
            let Some(place) = self.planned.place(task) else { continue };
            let Some(proto) = self.shape(of.taker).and_then(|it| it.tasks.get(of.task)) else {
                continue;
            };
            if proto.takes == Takes::Nothing {
                continue;
            }
            let (rack, boards) = match &proto.takes {
                Takes::Boards(rack, boards) => {
                    let name = self.house.racks().get(*rack).map(|it| it.name.shown.to_string());
                    (name, Some(*boards))
                }
                _ => (None, None),
            };
            let heats = match &proto.takes {
                Takes::Oven(_, heats) => Some(heats),
                _ => None,
            };
            let degrees = |heat: &Exact| {
                let paper =
                    PrintContext::new(self.house, self.worked(of.taker), self.words, 1, false);
                (!heat.is_zero()).then(|| paper.degrees(heat))
            };
            tasks.push((
                task,
                DayTask {
                    id: laid.puzzle.tasks[task].name.clone(),
                    whose: self.whose(of.taker),
                    short: self.short(of.taker),
                    title: self.title(of.taker, &proto.doing),
                    from: i64::from(place.start),
                    to: i64::from(place.end),
                    begins: self.moment(place.start),
                    ends: self.moment(place.end),
                    latest: self.latest(task).filter(|_| !proto.is_moment),
                    machine: self.machine(task, place),
                    place: rack,
                    boards,
                    hands: plan.hands.get(task).copied().flatten().map(|hands| hands + 1),
                    heat: heats.and_then(|(enters, _)| degrees(enters)),
                    heat_at_end: heats.and_then(|(_, leaves)| degrees(leaves)),
                    moment: proto.is_moment,
                    at_oven: proto.is_moment
                        && step_of(self.worked(of.taker), &proto.doing)
                            .is_some_and(|step| step.verb == Verb::Bake),
                    load: proto.load.map(|load| load + 1),
                },
            ));
        }
        tasks.sort_by(|(_, one), (_, two)| {
            (one.from, one.to, &one.id).cmp(&(two.from, two.to, &two.id))
        });
        tasks
    }

    /// `Shape`, in the language.
    fn title(&self, taker: Taker, doing: &Doing) -> String {
        let worked = self.worked(taker);
        let word = match doing {
            Doing::Build { feed: 0, .. } => "build",
            Doing::Build { .. } => "feed",
            Doing::Fold { .. } | Doing::Folding { .. } => "fold",
            Doing::Ripen { .. } | Doing::Keep { .. } => "retard",
            _ => match step_of(worked, doing) {
                Some(step) => match &step.text {
                    Some(text) => {
                        return live::text(
                            &PrintContext::new(self.house, worked, self.words, 1, false),
                            text,
                        );
                    }
                    None => return capital(&method::verb_title(self.words, worked, step)),
                },
                None => "rest",
            },
        };
        capital(&self.words.say(&format!("step-{word}")))
    }

    fn rows(&self, tasks: &[(usize, DayTask)]) -> Vec<DayRow> {
        let laid = &self.planned.laid;
        let mut rows: Vec<DayRow> = Vec::new();
        let of = |is_it: &dyn Fn(usize, &DayTask) -> bool| -> Vec<usize> {
            let own = tasks.iter().enumerate().filter(|(_, (task, it))| is_it(*task, it));
            own.map(|(place, _)| place).collect()
        };
        for (group, kind) in laid.groups.iter().enumerate() {
            let kind = match kind {
                GroupOf::Mixers(_) => RowKind::Mixer,
                GroupOf::Oven(_) => RowKind::Deck,
            };
            for machine in &laid.puzzle.groups[group].machines {
                let own = of(&|task, it| {
                    let on = laid.puzzle.tasks[task].on.as_ref();
                    on.is_some_and(|on| on.group == group)
                        && it.machine.as_ref() == Some(&machine.name)
                });
                rows.push(DayRow { name: machine.name.clone(), kind, tasks: own });
            }
        }
        let most = tasks.iter().filter_map(|(_, task)| task.hands).max().unwrap_or(0);
        for pair in 1..=most {
            let own = of(&|_, it| it.hands == Some(pair));
            let name = self.words.fill("day-hands", &[("number", &pair.to_string())]);
            rows.push(DayRow { name, kind: RowKind::Hands, tasks: own });
        }
        for pool in &laid.pools {
            let PoolOf::Rack(rack) = pool else { continue };
            let name = self.house.racks()[*rack].name.shown.to_string();
            let own = of(&|_, it| it.place.as_ref() == Some(&name));
            rows.push(DayRow { name, kind: RowKind::Place, tasks: own });
        }
        rows.sort_by_key(|row| match row.kind {
            RowKind::Mixer => 0,
            RowKind::Hands => 1,
            RowKind::Place => 2,
            RowKind::Deck => 3,
        });
        rows
    }

    /// Everything that batches and builds take from stores.
    fn requisition(
        &self,
        batches: &[DayBatch],
        builds: &[DayBuild],
        mixtures: &[DayMixture],
    ) -> Vec<DayStore> {
        let laid = &self.planned.laid;
        let mut all: Vec<(String, String, Exact)> = Vec::new();
        let mut add = |key: &str, name: String, grams: Exact| match all
            .iter_mut()
            .find(|(known, ..)| known == key)
        {
            Some((.., sum)) => *sum += &grams,
            None => all.push((key.to_owned(), name, grams)),
        };
        for (place, batch) in laid.making.batches.iter().enumerate() {
            if !self.is_made(Taker::Batch(place)) {
                continue;
            }
            let worked = &self.sized(batch.product, batch.size).worked;
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            if let Some(work) = laid.changed(Taker::Batch(place)) {
                for (key, name, grams) in work.takes_from_stores() {
                    add(key, paper.called(key, name), grams);
                }
                continue;
            }
            let numbers = worked.first();
            let one = Exact::ONE;
            let whole = numbers.dough_lines.iter().map(|line| (line, &one));
            let on_pieces = numbers.pieces.iter();
            let on_pieces = on_pieces
                .flat_map(|piece| piece.lines.iter().map(|line| (line, &piece.made.count)));
            let baths = worked.baths(numbers);
            let baths = baths.iter().map(|line| (line, &one));
            for (line, times) in whole.chain(on_pieces).chain(baths) {
                for (key, name, grams) in stores(worked, line, times) {
                    add(&key, paper.called(&key, &name), grams);
                }
            }
        }
        for (place, build) in laid.builds.iter().enumerate() {
            if !self.is_made(Taker::Build(place)) {
                continue;
            }
            let worked = self.worked(Taker::Build(place));
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            if let Some(work) = laid.changed(Taker::Build(place)) {
                for (key, name, grams) in work.takes_from_stores() {
                    add(key, paper.called(key, name), grams);
                }
                continue;
            }
            for line in &build.lines {
                for (key, name, grams) in stores(worked, line, &Exact::ONE) {
                    add(&key, paper.called(&key, &name), grams);
                }
            }
        }
        all.retain(|(.., grams)| !grams.is_zero());
        all.sort_by(|one, two| two.2.cmp(&one.2).then_with(|| one.0.cmp(&two.0)));
        let weighed = all.into_iter().map(|(key, name, grams)| {
            let packs = self.packs(&key, &grams);
            let short = self.short_of(&key, &grams).map(|short| self.weight(&short));
            let weight = self.as_weighed(&name, &grams, batches, builds, mixtures);
            DayStore { key, name, weight, packs, short }
        });
        weighed.chain(self.without_weight()).collect()
    }

    /// What comes out of stores without a weight: what is as needed, and what tins are greased with.
    fn without_weight(&self) -> Vec<DayStore> {
        let laid = &self.planned.laid;
        let mut all: Vec<DayStore> = Vec::new();
        for (taker, ..) in &laid.named {
            if !matches!(taker, Taker::Batch(_)) || !self.is_made(*taker) {
                continue;
            }
            let worked = self.worked(*taker);
            let paper = PrintContext::new(self.house, worked, self.words, 1, false);
            for (name, word) in soft_stores(self.house, worked) {
                let key = name.key.to_string();
                if all.iter().any(|known| known.key == key) {
                    continue;
                }
                let name = paper.called(&key, &name.shown);
                let weight = Weight {
                    grams: "0".into(),
                    shown: self.words.say(word),
                    decimal: "0".into(),
                    ..Weight::default()
                };
                all.push(DayStore { key, name, weight, packs: None, short: None });
            }
        }
        all.sort_by(|one, two| one.name.cmp(&two.name));
        all
    }

    /// So much of a store as the lists and sheets of the day weigh of it, added up, where they show all
    /// of it: what is handed out is enough for all that is weighed.
    fn as_weighed(
        &self,
        name: &str,
        grams: &Exact,
        batches: &[DayBatch],
        builds: &[DayBuild],
        mixtures: &[DayMixture],
    ) -> Weight {
        let of_batches = batches.iter().filter(|batch| batch.mixed.is_some());
        let of_batches = of_batches.flat_map(|batch| &batch.lines).filter_map(|line| {
            let weight = line.weight.as_ref()?;
            (line.name == name).then_some(weight)
        });
        let of_builds = builds.iter().filter(|build| !build.on_hand).flat_map(|it| &it.lines);
        let others = of_builds.chain(mixtures.iter().flat_map(|mixture| &mixture.lines));
        let others = others.filter(|line| line.name == name).map(|line| &line.weight);
        let lines: Vec<&Weight> = of_batches.chain(others).collect();
        let exact = |weight: &&Weight| crate::quantity::display::read_exact(&weight.grams);
        let sum = |all: Option<Vec<Exact>>| {
            all.map(|all| all.iter().fold(Exact::ZERO, |sum, it| sum + it))
        };
        let known = sum(lines.iter().map(exact).collect());
        let shown = sum(lines.iter().map(|weight| shown_grams(weight)).collect());
        match shown.filter(|_| known.as_ref() == Some(grams)) {
            Some(shown) => self.weight_of_sum(grams, &shown),
            None => self.weight(grams),
        }
    }

    /// How many packs have to be opened for so many grams.
    fn packs(&self, key: &str, grams: &Exact) -> Option<String> {
        let pack = self.house.ingredient_named(key)?.pack.clone()?;
        let count = grams.over(&pack)?.ceil();
        let size = self.weight(&pack);
        // A whole pack needs no decimals.
        let shown = match size.shown.contains(&self.words.decimal_mark()) {
            true => size.shown.trim_end_matches('0').trim_end_matches(&*self.words.decimal_mark()),
            false => size.shown.as_str(),
        };
        Some(format!("{count} × {shown} {}", size.unit))
    }

    /// What is short of something of which the day says how much is on hand.
    fn short_of(&self, key: &str, grams: &Exact) -> Option<Exact> {
        let mut there = self.planned.laid.day.on_hand.iter().filter_map(|there| {
            let is_it = there.name.key == key && there.of.is_none();
            match &there.amount {
                Ordered::Weight(weight) if is_it => Some(self.house.base(weight)),
                _ => None,
            }
        });
        let short = grams - &there.next()?;
        (short > Exact::ZERO).then_some(short)
    }

    /// Whether a batch or build has a place in the day.
    fn is_made(&self, taker: Taker) -> bool {
        let laid = &self.planned.laid;
        let own = laid.tasks.iter().position(|of| of.taker == taker);
        own.is_none_or(|task| self.planned.place(task).is_some())
    }

    /// A kind of piece, such as `loaves`, in the language.
    fn kind(&self, shown: &str) -> String {
        self.words.name("piece", shown).unwrap_or_else(|| shown.to_owned())
    }

    fn left_over(&self) -> Vec<String> {
        let laid = &self.planned.laid;
        let of_name = |name: String, words: String| {
            let args = [("kind", name), ("words", words)];
            self.words.fill("words-for", &args.each_ref().map(|(name, it)| (*name, &**it)))
        };
        let begun = laid.named.iter().filter_map(|(taker, ..)| {
            let over = laid.over(*taker)?;
            let number = over.floor().to_whole().and_then(|it| u32::try_from(it).ok()).unwrap_or(0);
            let words = match *taker {
                Taker::Batch(place) => {
                    let each =
                        laid.over_by_kind(place).into_iter().map(|(kind, left)| match kind {
                            Some(kind) => format!("{left} {}", self.kind(&kind.shown)),
                            None => self.dough(left),
                        });
                    each.collect::<Vec<_>>().join(", ")
                }
                Taker::Build(_) => self.dough(number),
            };
            Some(of_name(self.whose(*taker), words))
        });
        let on_hand = laid.builds.iter().enumerate().filter_map(|(place, build)| {
            // What is begun tells itself what is left of it.
            if build.kept.is_some() || !self.is_made(Taker::Build(place)) {
                return None;
            }
            let left = self.left_of(build);
            let grams = left.floor().to_whole().and_then(|it| u32::try_from(it).ok())?;
            (grams > 0).then(|| of_name(capital(&self.stage_name(place)), self.dough(grams)))
        });
        let products = laid.making.products.iter().flat_map(|product| {
            let all = product.left_over.iter().enumerate().filter(|(_, left)| **left > 0);
            all.map(move |(kind, left)| (product, product.kind(kind), *left))
        });
        products
            .map(|(product, kind, left)| {
                let kind = kind.map(|kind| self.kind(&kind.shown));
                let words = format!("{left} {}", kind.unwrap_or_default());
                of_name(title(product.formula), words)
            })
            .chain(begun)
            .chain(on_hand)
            .collect()
    }

    fn texts(&self) -> (Vec<String>, Vec<String>) {
        let laid = &self.planned.laid;
        let sizes = laid.making.products.iter().filter_map(|product| product.sizes.first());
        let mut cautions: Vec<String> = Vec::new();
        let mut notes: Vec<String> = Vec::new();
        for (place, size) in sizes.enumerate() {
            let paper = PrintContext::new(self.house, &size.worked, self.words, 1, false);
            if place == 0 {
                notes = live::texts(&paper, laid.day.texts, WordsKind::Note);
                cautions = live::texts(&paper, laid.day.texts, WordsKind::Caution);
            }
            for caution in cautions::cautions(&paper) {
                if !cautions.contains(&caution) {
                    cautions.push(caution);
                }
            }
        }
        (notes, cautions)
    }
}

/// Grams that a weight shows; none where it is not shown in grams or kilograms.
fn shown_grams(weight: &Weight) -> Option<Exact> {
    let number = crate::quantity::display::read_exact(&weight.decimal)?;
    match weight.unit.as_str() {
        "g" => Some(number),
        "kg" => Some(number * Exact::from(1000)),
        _ => None,
    }
}

/// Lines of a formula without a weight that come out of stores, by their names, with the word for how
/// much it is; and what its tins are greased with.
fn soft_stores<'w>(house: &'w House, worked: &'w Worked) -> Vec<(&'w Name, &'static str)> {
    let formula = &worked.formula;
    let blocks = [&formula.total, &formula.dough].into_iter().flatten();
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let pieces = formula.pieces.iter().map(|piece| &piece.mix);
    let lines = blocks.chain(stages).chain(pieces).flat_map(|mix| &mix.lines);
    let soft = lines.filter_map(|line| Some((&line.target.name, soft(&line.amount)?)));
    let tins = worked.first().pieces.iter().filter_map(|piece| piece.made.tin.as_ref());
    let grease = tins.filter_map(|tin| house.tin(tin)).flat_map(|tin| &tin.greased);
    let named = soft.chain(grease.map(|name| (name, "as-needed")));
    let parts = named.flat_map(|(name, word)| {
        let key = name.key.as_str();
        let own = formula.mixtures.iter().find(|mixture| mixture.name.key == key);
        match own.or_else(|| house.mixture(key)) {
            Some(mixture) => {
                let lines = mixture.mix.lines.iter();
                lines.map(|line| (&line.target.name, word)).collect::<Vec<_>>()
            }
            None => vec![(name, word)],
        }
    });
    parts.filter(|(name, _)| name.key != "water").collect()
}

/// The first letters of the words of a name, of the first word so many.
fn letters_of(name: &str, letters: usize) -> String {
    let mut words = name.split([' ', '-']).filter(|word| !word.is_empty());
    let first: String = words.next().into_iter().flat_map(str::chars).take(letters).collect();
    let others = words.filter_map(|word| word.chars().next());
    let others: String = others.filter(|letter| letter.is_alphanumeric()).take(2).collect();
    first + &others.to_uppercase()
}
