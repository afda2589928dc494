//! An exercise as numbers that follow from each other, and the page made of them.
//!
//! A number is given, or follows from others by one step of arithmetic. The level decides
//! how many steps an answer takes: what lies between stands on the page until no answer
//! needs more steps than the level has.

use super::super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::super::maker::Maker;
use crate::formula::weighing::Shown;
use crate::print::document::Weight;
use crate::print::words::minutes;
use crate::quantity::display::{fixed, last_digit, read_exact, shows, to_step, trimmed};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::booklet::Level;

/// Minutes of a day.
const DAY: i64 = 1440;

/// The most digits after the mark that a number which is given has.
const MAX_DIGITS: u8 = 4;

/// What a number counts, and so how a page shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Grams, by the house's scale.
    Weight,
    /// A share of one, in per cent.
    Percent,
    /// A bare number.
    Number,
    /// Minutes from midnight of the day on which the bread is ready.
    Clock,
    /// A stretch of minutes.
    Minutes,
}

/// How a number comes about.
#[derive(Clone, Debug, PartialEq)]
pub enum Rule {
    /// It stands on every page.
    Given,
    /// Numbers added up.
    Sum(Vec<usize>),
    /// The first one, less the others.
    Less(Vec<usize>),
    /// Numbers multiplied.
    Times(Vec<usize>),
    /// The first one over the second.
    Over(usize, usize),
}

impl Rule {
    fn parts(&self) -> Vec<usize> {
        match self {
            Self::Given => Vec::new(),
            Self::Sum(all) | Self::Less(all) | Self::Times(all) => all.clone(),
            Self::Over(above, below) => vec![*above, *below],
        }
    }

    fn sign(&self) -> &'static str {
        match self {
            Self::Given | Self::Sum(_) => " + ",
            Self::Less(_) => " − ",
            Self::Times(_) => " × ",
            Self::Over(..) => " ÷ ",
        }
    }

    /// What it comes to; nothing where it would be divided by nothing.
    fn of(&self, worth: impl Fn(usize) -> Exact) -> Option<Exact> {
        let mut parts = self.parts().into_iter().map(worth);
        let first = parts.next()?;
        match self {
            Self::Given => None,
            Self::Sum(_) => Some(parts.fold(first, |sum, it| sum + it)),
            Self::Less(_) => Some(parts.fold(first, |left, it| left - it)),
            Self::Times(_) => Some(parts.fold(first, |product, it| product * it)),
            Self::Over(..) => first.over(&parts.next()?),
        }
    }
}

/// One number of an exercise.
#[derive(Clone, Debug)]
struct Number {
    row: usize,
    column: usize,
    /// As the page shows it, and its unit.
    shown: (String, String),
    worth: Exact,
    /// What the page shows, in the same unit as `worth`, and the step of its last digit.
    seen: Exact,
    step: Exact,
    rule: Rule,
    is_asked: bool,
    /// It stands on the page.
    stands: bool,
}

/// The numbers of an exercise, each after those that it follows from.
#[derive(Clone, Debug, Default)]
pub struct Sums {
    rows: Vec<String>,
    numbers: Vec<Number>,
}

impl Sums {
    /// A row of the page; rows that are said twice are one.
    pub fn row(&mut self, name: &str) -> usize {
        let known = self.rows.iter().position(|it| it == name);
        known.unwrap_or_else(|| {
            self.rows.push(name.to_owned());
            self.rows.len() - 1
        })
    }

    /// A row of its own, whatever others are called.
    pub fn new_row(&mut self, name: &str) -> usize {
        self.rows.push(name.to_owned());
        self.rows.len() - 1
    }

    /// Asks for a number.
    pub fn ask(&mut self, number: usize) {
        if let Some(number) = self.numbers.get_mut(number) {
            number.is_asked = true;
        }
    }

    fn add(&mut self, number: Number) -> usize {
        self.numbers.push(number);
        self.numbers.len() - 1
    }

    /// What a number comes to.
    pub fn worth(&self, number: usize) -> Exact {
        self.numbers.get(number).map(|it| it.worth.clone()).unwrap_or_default()
    }

    /// What the page shows of a number, with its unit.
    pub fn said(&self, number: usize) -> String {
        let Some(number) = self.numbers.get(number) else { return String::new() };
        let (shown, unit) = &number.shown;
        if unit.is_empty() { shown.clone() } else { format!("{shown} {unit}") }
    }

    /// A number that every page has.
    pub fn given(&mut self, maker: &Maker, at: (usize, usize), kind: Kind, worth: Exact) -> usize {
        let (shown, seen, step) = maker.figure(kind, &worth, true);
        let (row, column) = at;
        let (rule, is_asked, stands) = (Rule::Given, false, true);
        self.add(Number { row, column, shown, worth, seen, step, rule, is_asked, stands })
    }

    /// A weight that every page has, by itself on the scale: what a print rounds so that its
    /// columns add up would lead the learner to another answer. None where it has no number.
    pub fn given_weight(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        weight: &Weight,
    ) -> Option<usize> {
        let grams = read_exact(&weight.grams)?;
        let shown = Shown::alone(&maker.house.settings.scale, &grams);
        let number = self.given(maker, at, Kind::Weight, grams);
        self.show_grams(maker, number, shown);
        Some(number)
    }

    /// A number that follows from others and lies between what is given and what is asked.
    pub fn then(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        kind: Kind,
        rule: Rule,
    ) -> Option<usize> {
        let worth = rule.of(|part| self.worth(part))?;
        let (shown, seen, step) = maker.figure(kind, &worth, false);
        let (row, column) = at;
        let (is_asked, stands) = (false, false);
        Some(self.add(Number { row, column, shown, worth, seen, step, rule, is_asked, stands }))
    }

    /// A number that the learner is asked for.
    pub fn asked(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        kind: Kind,
        rule: Rule,
    ) -> Option<usize> {
        let number = self.then(maker, at, kind, rule)?;
        self.numbers[number].is_asked = true;
        Some(number)
    }

    /// Lets a number show so many grams of a scale.
    pub fn show_grams(&mut self, maker: &Maker, number: usize, shown: Shown) {
        if let Some(own) = self.numbers.get_mut(number) {
            own.shown = maker.weight_shown(&shown);
            own.seen = shown.grams;
            own.step = shown.step;
        }
    }

    /// Lets a number stand as a derivation has it.
    pub fn show_words(&mut self, number: usize, shown: (String, String), seen: Exact, step: Exact) {
        if let Some(own) = self.numbers.get_mut(number) {
            own.shown = shown;
            own.seen = seen;
            own.step = step;
        }
    }

    /// The number at a place, where one stands there.
    pub fn at(&self, row: usize, column: usize) -> Option<usize> {
        self.numbers.iter().position(|it| it.row == row && it.column == column)
    }

    /// Whether there is a row of that name.
    pub fn has_row(&self, name: &str) -> bool {
        self.rows.iter().any(|row| row == name)
    }

    // ---- Levels ------------------------------------------------------------------------

    /// What has to be worked out for a number, it itself last.
    fn needs(&self, number: usize) -> Vec<usize> {
        let mut needs = Vec::new();
        self.gather(number, &mut needs);
        needs
    }

    fn gather(&self, number: usize, needs: &mut Vec<usize>) {
        let Some(own) = self.numbers.get(number) else { return };
        if own.stands || needs.contains(&number) {
            return;
        }
        own.rule.parts().into_iter().for_each(|part| self.gather(part, needs));
        needs.push(number);
    }

    /// Steps that the longest answer takes.
    pub fn steps(&self) -> usize {
        let asked = (0..self.numbers.len()).filter(|it| self.numbers[*it].is_asked);
        asked.map(|it| self.needs(it).len()).max().unwrap_or(0)
    }

    /// Puts what lies between onto the page until no answer takes more than `most` steps:
    /// what is worked out first goes first; of a chain of answers, every last one.
    fn tell_until(&mut self, most: usize) {
        for number in 0..self.numbers.len() {
            while self.numbers[number].is_asked {
                let mut needs = self.needs(number);
                if needs.len() <= most {
                    break;
                }
                needs.pop();
                let between = needs.iter().copied().find(|it| !self.numbers[*it].is_asked);
                let Some(told) = between.or_else(|| needs.last().copied()) else { break };
                self.numbers[told].stands = true;
                self.numbers[told].is_asked = false;
            }
        }
    }

    /// Takes off the page what no answer needs.
    pub fn without_needless(mut self) -> Self {
        let mut needed = vec![false; self.numbers.len()];
        for number in (0..self.numbers.len()).filter(|it| self.numbers[*it].is_asked) {
            for need in self.needs(number) {
                self.numbers[need].rule.parts().into_iter().for_each(|part| needed[part] = true);
            }
        }
        for (number, is_needed) in self.numbers.iter_mut().zip(needed) {
            number.stands &= is_needed;
        }
        self
    }

    /// The exercise at a level: of the ways to ask, the first one whose answer takes as many
    /// steps as the level wants, else the one that comes nearest.
    pub fn of_level(ways: Vec<Self>, level: Level) -> Option<Self> {
        let ways: Vec<Self> = ways
            .into_iter()
            .map(|mut way| {
                way.tell_until(level.most());
                way
            })
            .filter(|way| way.steps() > 0)
            .collect();
        let wanted = ways.iter().position(|way| level.wants(way.steps()));
        let nearest = || {
            let far = |way: &Self| level.least().abs_diff(way.steps());
            (0..ways.len()).min_by_key(|at| far(&ways[*at]))
        };
        let at = wanted.or_else(nearest)?;
        ways.into_iter().nth(at)
    }

    // ---- On paper ----------------------------------------------------------------------

    /// How the answers follow, a line each, the first to be done first.
    pub fn workings(&self) -> Vec<String> {
        let mut done: Vec<usize> = Vec::new();
        for number in (0..self.numbers.len()).filter(|it| self.numbers[*it].is_asked) {
            for need in self.needs(number) {
                if !done.contains(&need) {
                    done.push(need);
                }
            }
        }
        done.iter().map(|number| self.working(*number)).collect()
    }

    /// `flour: 1730 g ÷ 173 % = 1000 g`; `≈` where what is shown comes to another last digit.
    fn working(&self, number: usize) -> String {
        let own = &self.numbers[number];
        let parts: Vec<String> = own.rule.parts().iter().map(|it| self.said(*it)).collect();
        let comes_to = own.rule.of(|part| self.numbers[part].seen.clone());
        let is_so = comes_to.is_some_and(|it| to_step(&it, &own.step) == own.seen);
        let sign = if is_so { "=" } else { "≈" };
        let sum = parts.join(own.rule.sign());
        format!("{}: {sum} {sign} {}", self.rows[own.row], self.said(number))
    }

    /// The rows of the page or of its key, with so many columns.
    pub fn rows(&self, columns: usize, is_key: bool) -> Vec<TableRow> {
        let rows = self.rows.iter().enumerate().filter_map(|(row, name)| {
            let mut cells = vec![TableCell::default(); columns];
            let mut is_there = false;
            for own in self.numbers.iter().filter(|it| it.row == row) {
                let (shown, unit) = &own.shown;
                let cell = match (own.is_asked, own.stands) {
                    (true, _) if is_key => TableCell { strong: true, ..TableCell::of(shown, unit) },
                    (true, _) => {
                        TableCell { blank: true, unit: unit.clone(), ..TableCell::default() }
                    }
                    (_, true) => TableCell::of(shown, unit),
                    _ => continue,
                };
                if let Some(place) = cells.get_mut(own.column) {
                    *place = cell;
                    is_there = true;
                }
            }
            is_there.then(|| TableRow { kind: "line".into(), name: name.clone(), cells })
        });
        rows.collect()
    }
}

impl Maker<'_> {
    /// What a page shows of a number, what that comes to, and the step of its last digit. What
    /// is given has as many digits as it needs.
    fn figure(
        &self,
        kind: Kind,
        worth: &Exact,
        is_given: bool,
    ) -> ((String, String), Exact, Exact) {
        let digits = |worth: &Exact, least: u8| {
            let enough = (least..=MAX_DIGITS).find(|it| shows(worth, *it));
            if is_given { enough.unwrap_or(MAX_DIGITS) } else { least }
        };
        match kind {
            Kind::Weight => {
                let scale = &self.house.settings.scale;
                let shown = Shown::alone(scale, worth);
                // What somebody asks for is no weight of the scale: it stands as it is.
                if is_given && shown.grams != *worth && shows(worth, 1) {
                    return (self.alone(worth, true), worth.clone(), ratio(1, 10));
                }
                (self.alone(worth, false), shown.grams, shown.step)
            }
            Kind::Percent => {
                let percent = worth * int(100);
                let digits = digits(&percent, if is_given { 0 } else { 1 });
                let step = last_digit(digits);
                let seen = to_step(&percent, &step).one_in::<100>();
                let shown = self.words.number(&fixed(&percent, digits));
                ((shown, "%".to_owned()), seen, step.one_in::<100>())
            }
            Kind::Number => {
                let digits = digits(worth, MAX_DIGITS);
                let step = last_digit(digits);
                let shown = self.words.number(&trimmed(worth, digits));
                ((shown, String::new()), to_step(worth, &step), step)
            }
            Kind::Clock => ((self.clock(worth), String::new()), worth.clone(), Exact::ONE),
            Kind::Minutes => ((minutes(worth), String::new()), worth.clone(), Exact::ONE),
        }
    }

    /// `06:30`, with how many days before where it is not on that day.
    pub fn clock(&self, minutes: &Exact) -> String {
        let whole: i64 = minutes.nearest().to_string().parse().unwrap_or(0);
        let (days, whole) = (-whole.div_euclid(DAY), whole.rem_euclid(DAY));
        let clock = format!("{:02}:{:02}", whole / 60, whole % 60);
        match days {
            0 => clock,
            1 => format!("{clock} ({})", self.words.say("day-before")),
            _ => {
                let days = self.words.fill("days-before", &[("days", &days.to_string())]);
                format!("{clock} ({days})")
            }
        }
    }
}

/// One exercise: a table with some cells to fill in, and how its answers follow.
pub struct Task {
    /// What stands above.
    pub title: String,
    /// Sentences between title and table.
    pub lead: Vec<String>,
    /// What the first column is called.
    pub names: String,
    /// The other columns.
    pub columns: Vec<String>,
    /// The learner's page.
    pub asked: Vec<TableRow>,
    /// The same with the answers.
    pub told: Vec<TableRow>,
    /// How the answer follows, a line each.
    pub workings: Vec<String>,
    /// Steps of arithmetic that the longest answer takes.
    pub steps: usize,
}

impl Task {
    /// An exercise of numbers.
    pub fn of(
        sums: &Sums,
        title: String,
        lead: Vec<String>,
        names: String,
        columns: &[String],
    ) -> Self {
        let rows = |is_key| sums.rows(columns.len(), is_key);
        let (asked, told) = (rows(false), rows(true));
        let columns = columns.to_vec();
        let (workings, steps) = (sums.workings(), sums.steps());
        Self { title, lead, names, columns, asked, told, workings, steps }
    }

    /// The same without columns in which nothing stands.
    pub fn without_empty_columns(mut self) -> Self {
        for column in (0..self.columns.len()).rev() {
            let is_empty = |row: &TableRow| row.cells.get(column) == Some(&TableCell::default());
            if self.told.iter().all(is_empty) {
                self.columns.remove(column);
                for row in self.asked.iter_mut().chain(&mut self.told) {
                    row.cells.remove(column);
                }
            }
        }
        self
    }

    /// Whether another one is the same question.
    pub fn asks_as(&self, other: &Self) -> bool {
        (&self.title, &self.lead, &self.asked) == (&other.title, &other.lead, &other.asked)
    }

    /// The learner's page.
    pub fn with_blanks(&self) -> TablePart {
        self.table(self.title.clone(), &self.asked)
    }

    /// The same with the answers.
    pub fn key(&self, maker: &Maker) -> TablePart {
        let title = maker.words.fill("booklet-key", &[("worksheet", &self.title)]);
        self.table(title, &self.told)
    }

    fn table(&self, title: String, rows: &[TableRow]) -> TablePart {
        let column = |title: &String| TableColumn { title: title.clone(), under: String::new() };
        TablePart {
            title,
            lead: self.lead.clone(),
            names: self.names.clone(),
            columns: self.columns.iter().map(column).collect(),
            rows: rows.to_vec(),
            ..TablePart::default()
        }
    }
}
