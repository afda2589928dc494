//! Exercises made from formulas, each with its key and how the answer follows.
//!
//! `draw` draws numbers; `sums` is an exercise as numbers that follow from each other, of
//! which the level tells as many as it wants; each other file makes one kind of exercise.
//! Numbers are drawn from what a formula means, the exercise, its place among its kind, the
//! level and the seat, and from nothing else: a new text or a new date changes none.

mod begin;
mod draw;
mod flours;
mod scale;
mod seats;
mod slip;
mod starter;
mod sums;
mod water;
mod wetness;

use super::maker::{Drawn, Made, Maker};
use super::task::Task;
use crate::print::document::Document;
use crate::print::findings as say;
use crate::quantity::Exact;
use crate::syntax::booklet::{
    BookletItem, Exercise, ExerciseKind, FormulaYield, Level, PartKind, Worksheet,
};
use draw::{Draw, MAX_DEEPER, MAX_DRAWS, meaning};
use std::rc::Rc;

/// What an exercise must not be: what other seats have, and what the seat has on worksheets
/// before.
struct Others {
    seats: Vec<Drawn>,
    before: Vec<Task>,
}

/// Whether an author wrote a number that is not drawn.
fn is_written(what: &ExerciseKind) -> bool {
    matches!(
        what,
        ExerciseKind::Scale(Some(_))
            | ExerciseKind::Substitute(Some(_))
            | ExerciseKind::Starter(_, Some(_))
            | ExerciseKind::WhenToBegin(Some(_))
    )
}

impl<'a> Maker<'a> {
    /// The exercises of a worksheet for a seat; what can't be made of its formula is told, and
    /// where seats have to share numbers.
    pub fn tasks(&self, sheet: &Worksheet, seat: u32) -> Vec<Task> {
        // Seats and worksheets before it first: each has numbers that none of those has.
        let sheets = self.booklet.parts.iter().filter_map(|part| match &part.what {
            PartKind::Worksheet(sheet) => Some(sheet),
            _ => None,
        });
        let before = sheets.take_while(|it| !std::ptr::eq(*it, sheet));
        for sheet in before.chain([sheet]) {
            for seat in 1..=seat {
                self.drawn_for(sheet, seat);
            }
        }
        let drawn = self.drawn_for(sheet, seat);
        drawn.iter().map(|(_, task)| task.clone()).collect()
    }

    fn drawn_for(&self, sheet: &Worksheet, seat: u32) -> Drawn {
        let is_it = |part: &BookletItem| matches!(&part.what, PartKind::Worksheet(it) if std::ptr::eq(it, sheet));
        let place = self.booklet.parts.iter().position(is_it).unwrap_or(usize::MAX);
        if let Some(known) = self.drawn.borrow().get(&(place, seat)) {
            return Rc::clone(known);
        }
        // What later worksheets have in their author's own numbers is no other's draw.
        let ahead = self.written_after(sheet, place, seat);
        let others = {
            let drawn = self.drawn.borrow();
            let before = drawn.iter().filter(|((at, of), _)| *at < place && *of == seat);
            let before = before.flat_map(|(_, own)| own.iter().map(|(_, it)| it.clone()));
            Others {
                seats: (1..seat).filter_map(|it| drawn.get(&(place, it)).map(Rc::clone)).collect(),
                before: before.chain(ahead).collect(),
            }
        };
        let drawn = Rc::new(self.draw_for(sheet, seat, &others));
        if seat > 1 && seat == self.seats() {
            self.tell_shared(sheet, others.seats.iter().chain([&drawn]));
        }
        self.drawn.borrow_mut().insert((place, seat), Rc::clone(&drawn));
        drawn
    }

    /// The exercises of a seat on worksheets after the one at a place whose numbers their author
    /// wrote, where this one draws some of its own of the same formula.
    fn written_after(&self, sheet: &Worksheet, place: usize, seat: u32) -> Vec<Task> {
        if sheet.exercises.iter().all(|it| is_written(&it.what)) {
            return Vec::new();
        }
        let after = self.booklet.parts.iter().skip(place.saturating_add(1));
        let sheets = after.filter_map(|part| match &part.what {
            PartKind::Worksheet(other) if other.of.formula.key == sheet.of.formula.key => {
                Some(other)
            }
            _ => None,
        });
        let turn = usize::try_from(seat).unwrap_or(1).saturating_sub(1);
        let mut tasks = Vec::new();
        for other in sheets {
            let Some(made) = self.worked(&other.of) else { continue };
            let level = other.level.unwrap_or(Level::First);
            let written = other.exercises.iter().filter(|it| is_written(&it.what));
            for exercise in written {
                let what = self.in_turn(&exercise.what, &made, turn);
                let exercise = Exercise { what, ..exercise.clone() };
                let seeds = [meaning(made.document(self)), exercise.what.word().to_owned()];
                let mut draw = Draw::of(&seeds).at_turn(turn + 1, 0);
                tasks.extend(self.task(&exercise, &other.of, &made, level, &mut draw));
            }
        }
        tasks
    }

    /// Tells of exercises that some seats share, as there are too few sets of numbers.
    fn tell_shared<'d>(&self, sheet: &Worksheet, seats: impl Iterator<Item = &'d Drawn> + Clone) {
        let counts = sheet.exercises.iter().map(|it| usize::try_from(it.times).unwrap_or(1));
        let whose = sheet.exercises.iter().zip(counts).flat_map(|(it, times)| vec![it; times]);
        for (at, exercise) in whose.enumerate() {
            let own = seats.clone().flat_map(|drawn| drawn.iter());
            let own = own.filter(|(place, _)| *place == at).map(|(_, task)| task);
            let mut sets: Vec<&Task> = Vec::new();
            let mut count = 0;
            for task in own {
                count += 1;
                if !sets.iter().any(|known| known.asks_as(task)) {
                    sets.push(task);
                }
            }
            if sets.len() < count {
                let word = exercise.what.word();
                self.say(say::seats_alike::finding(exercise.span, word, sets.len(), count));
            }
        }
    }

    fn draw_for(&self, sheet: &Worksheet, seat: u32, others: &Others) -> Vec<(usize, Task)> {
        if sheet.exercises.is_empty() {
            return Vec::new();
        }
        let Some(made) = self.worked(&sheet.of) else { return Vec::new() };
        let meaning = meaning(made.document(self));
        let mut tasks: Vec<(usize, Task)> = Vec::new();
        // The place among its kind, and among those that are written once and drawn several times.
        let mut all: Vec<(usize, &Exercise, usize, usize)> = Vec::new();
        for exercise in &sheet.exercises {
            for time in 0..usize::try_from(exercise.times).unwrap_or(1) {
                let word = exercise.what.word();
                let place = all.iter().filter(|(_, it, ..)| it.what.word() == word).count();
                all.push((all.len(), exercise, place, time));
            }
        }
        // What an author wrote is as it is; what is drawn keeps out of its way.
        all.sort_by_key(|(_, exercise, ..)| !is_written(&exercise.what));
        for (at, exercise, place, time) in all {
            let task = self.one_for(
                sheet,
                &made,
                &meaning,
                (exercise, at),
                (place, time),
                seat,
                &tasks,
                others,
            );
            tasks.extend(task.map(|task| (at, task)));
        }
        tasks.sort_by_key(|(at, _)| *at);
        tasks
    }

    /// One exercise of a seat, beside those that the seat and others have already; what can't be
    /// made is told.
    #[allow(clippy::too_many_arguments, reason = "one call, from the loop above")]
    fn one_for(
        &self,
        sheet: &Worksheet,
        made: &Made<'a>,
        meaning: &str,
        (exercise, at): (&Exercise, usize),
        (place, time): (usize, usize),
        seat: u32,
        tasks: &[(usize, Task)],
        others: &Others,
    ) -> Option<Task> {
        let level = sheet.level.unwrap_or(Level::First);
        let word = exercise.what.word();
        let turns = usize::try_from(self.seats()).unwrap_or(1);
        let own = time * turns + usize::try_from(seat).unwrap_or(1).saturating_sub(1);
        // A slip is not asked for a second time at another level.
        let before = match exercise.what {
            ExerciseKind::Mistake(_) => self.mistakes_before(sheet),
            _ => 0,
        };
        let turn = (usize::try_from(seat).unwrap_or(0), place + before);
        let mut seeds =
            vec![meaning.to_owned(), word.to_owned(), place.to_string(), format!("{level:?}")];
        let draw = |seeds: &[String], again: usize| {
            // Another seat's number is passed over; the first seat's is what was written.
            let what = self.in_turn(&exercise.what, made, own + again * turns);
            let exercise = &Exercise { what, ..exercise.clone() };
            let mut draw = Draw::of(seeds).at_turn(turn.0, turn.1 + again);
            self.task(exercise, &sheet.of, made, level, &mut draw)
        };
        let mut task = draw(&seeds, 0)?;
        // What the level has no use for is drawn again.
        for again in 0..MAX_DEEPER {
            if level.wants(task.steps) || sheet.level.is_none() {
                break;
            }
            seeds.push(format!("deeper {again}"));
            task = draw(&seeds, 0).filter(|it| level.wants(it.steps)).unwrap_or(task);
        }
        let is_here = |task: &Task| tasks.iter().any(|(_, known)| known.asks_as(task));
        let is_before = |task: &Task| others.before.iter().any(|known| known.asks_as(task));
        let is_anothers = |task: &Task| {
            let mut known = others.seats.iter().flat_map(|seat| seat.iter());
            known.any(|(_, known)| known.asks_as(task))
        };
        // The same numbers a second time would be no exercise; those of another seat could be
        // copied. Where seats before this one had to share, no others are looked for.
        let is_short = others.seats.iter().enumerate().any(|(seat, drawn)| {
            let own = drawn.iter().find(|(place, _)| *place == at);
            let mut before = others.seats[..seat].iter().flat_map(|it| it.iter());
            own.is_some_and(|(_, own)| before.any(|(_, known)| known.asks_as(own)))
        });
        let badness = |task: &Task| {
            let is_shared = !is_short && is_anothers(task);
            4 * usize::from(is_here(task))
                + 2 * usize::from(is_before(task))
                + usize::from(is_shared)
        };
        let is_kept = seat == 1 && time == 0 && is_written(&exercise.what);
        for again in 0..MAX_DRAWS {
            if badness(&task) == 0 || is_kept {
                break;
            }
            seeds.push(again.to_string());
            let is_fit = |it: &Task| level.holds(it.steps) || !level.holds(task.steps);
            let other = draw(&seeds, again + 1);
            let is_better = |it: &Task| is_fit(it) && badness(it) < badness(&task);
            task = other.filter(is_better).unwrap_or(task);
        }
        if is_here(&task) {
            let why = match is_kept {
                true => "the worksheet already asks the same",
                false => "there is no other one to draw: ask for fewer",
            };
            self.say(say::exercise_not_possible::finding(exercise.span, word, why));
            return None;
        }
        if !level.holds(task.steps) && sheet.level.is_some() {
            let steps = task.steps;
            let whose = self.is_varied().then_some(seat);
            let say = say::level_not_reached::finding;
            self.say(say(exercise.span, level.word(), steps, whose));
        }
        Some(task)
    }

    /// How many mistakes of the same formula earlier worksheets of the booklet have.
    fn mistakes_before(&self, sheet: &Worksheet) -> usize {
        let sheets = self.booklet.parts.iter().filter_map(|part| match &part.what {
            PartKind::Worksheet(sheet) => Some(sheet),
            _ => None,
        });
        let earlier = sheets.take_while(|it| !std::ptr::eq(*it, sheet));
        let same = earlier.filter(|it| it.of.formula.key == sheet.of.formula.key);
        let mistakes = same.flat_map(|it| &it.exercises);
        let mistakes = mistakes.filter(|it| matches!(it.what, ExerciseKind::Mistake(_)));
        mistakes.map(|it| usize::try_from(it.times).unwrap_or(1)).sum()
    }

    fn task(
        &self,
        exercise: &Exercise,
        of: &FormulaYield,
        made: &Made<'a>,
        level: Level,
        draw: &mut Draw,
    ) -> Option<Task> {
        let span = exercise.span;
        let document = made.document(self);
        let task = match &exercise.what {
            ExerciseKind::Scale(makes) => self.scale(makes.as_ref(), of, made, (level, span), draw),
            ExerciseKind::TrueHydration => self.true_hydration(document, level, draw),
            ExerciseKind::Substitute(parts) => {
                self.substitute(parts.as_ref(), document, level, draw)
            }
            ExerciseKind::Starter(stage, wanted) => {
                self.starter(stage.as_ref(), wanted.as_ref(), document, level, draw)
            }
            ExerciseKind::WaterTemperature => self.water_temperature(of, made, level, draw),
            ExerciseKind::WhenToBegin(ready) => self.when_to_begin(*ready, document, level, draw),
            ExerciseKind::Mistake(rule) => {
                self.mistake(rule.as_ref(), &of.formula, document, level, draw)
            }
        };
        match task {
            Ok(task) => Some(task),
            Err(why) => {
                self.say(say::exercise_not_possible::finding(span, exercise.what.word(), &why));
                None
            }
        }
    }

    /// `First Sour: another yield`
    fn task_title(&self, id: &str, document: &Document) -> String {
        self.labelled(&document.title, &self.words.say(id))
    }

    /// `salt: 2 %`, as the booklet's language writes it.
    pub fn labelled(&self, what: &str, words: &str) -> String {
        self.words.fill("words-for", &[("kind", what), ("words", words)])
    }

    /// Whether each seat has numbers of its own, where an exercise leaves none to its author.
    fn is_varied(&self) -> bool {
        self.seats() > 1
    }

    /// `300 g`, as it is.
    pub fn grams_said(&self, grams: &Exact) -> String {
        let (shown, unit) = self.alone(grams, true);
        without_no_ounces(&format!("{shown} {unit}"))
    }
}

/// `9 lb`, where a column has `9 lb 0 oz`.
fn without_no_ounces(words: &str) -> String {
    words.replace(" lb 0 oz", " lb")
}
