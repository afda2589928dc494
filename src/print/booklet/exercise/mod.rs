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

pub use sums::Task;

use super::maker::{Made, Maker};
use crate::print::document::Document;
use crate::print::findings as say;
use crate::quantity::Exact;
use crate::syntax::booklet::{Exercise, ExerciseKind, FormulaYield, Level, PartKind, Worksheet};
use draw::{Draw, MAX_DEEPER, MAX_DRAWS, meaning};

impl<'a> Maker<'a> {
    /// The exercises of a worksheet for a seat; what can't be made of its formula is told.
    pub fn tasks(&self, sheet: &Worksheet, seat: u32) -> Vec<Task> {
        if sheet.exercises.is_empty() {
            return Vec::new();
        }
        let Some(made) = self.worked(&sheet.of) else { return Vec::new() };
        let meaning = meaning(made.document(self));
        let level = sheet.level.unwrap_or(Level::First);
        let mut tasks = Vec::new();
        let mut places: Vec<&str> = Vec::new();
        for exercise in &sheet.exercises {
            for _ in 0..exercise.times {
                let word = exercise.what.word();
                let place = places.iter().filter(|known| **known == word).count();
                places.push(word);
                let turns = usize::try_from(self.seats()).unwrap_or(1);
                let own = place * turns + usize::try_from(seat).unwrap_or(1).saturating_sub(1);
                let what = self.in_turn(&exercise.what, &made, own);
                let exercise = &Exercise { what, ..exercise.clone() };
                // A slip is not asked for a second time at another level.
                let before = match exercise.what {
                    ExerciseKind::Mistake(_) => self.mistakes_before(sheet),
                    _ => 0,
                };
                let turn = (usize::try_from(seat).unwrap_or(0), place + before);
                let mut seeds =
                    vec![meaning.clone(), word.to_owned(), place.to_string(), format!("{level:?}")];
                let draw = |seeds: &[String], again: usize| {
                    let mut draw = Draw::of(seeds).at_turn(turn.0, turn.1 + again);
                    self.task(exercise, &sheet.of, &made, level, &mut draw)
                };
                let Some(mut task) = draw(&seeds, 0) else { continue };
                // What the level has no use for is drawn again.
                for again in 0..MAX_DEEPER {
                    if level.wants(task.steps) || sheet.level.is_none() {
                        break;
                    }
                    seeds.push(format!("deeper {again}"));
                    task = draw(&seeds, 0).filter(|it| level.wants(it.steps)).unwrap_or(task);
                }
                // The same numbers a second time would be no exercise.
                for again in 0..MAX_DRAWS {
                    if !tasks.iter().any(|known: &Task| known.asks_as(&task)) {
                        break;
                    }
                    seeds.push(again.to_string());
                    let other = draw(&seeds, again + 1);
                    let is_fit = |it: &Task| level.holds(it.steps) || !level.holds(task.steps);
                    task = other.filter(is_fit).unwrap_or(task);
                }
                if tasks.iter().any(|known| known.asks_as(&task)) {
                    let why = "there is no other one to draw: ask for fewer";
                    self.say(say::exercise_not_possible::finding(exercise.span, word, why));
                    break;
                }
                if !level.holds(task.steps) && sheet.level.is_some() {
                    let steps = task.steps;
                    let whose = self.is_varied().then_some(seat);
                    let say = say::level_not_reached::finding;
                    self.say(say(exercise.span, level.word(), steps, whose));
                }
                tasks.push(task);
            }
        }
        tasks
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
