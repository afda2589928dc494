//! An exercise as numbers that follow from each other, and the page made of them.
//!
//! A number is given, or follows from others by one step of arithmetic. The level decides
//! how many steps an answer takes: what lies between stands on the page until no answer
//! needs more steps than the level has.

use super::super::document::{TableCell, TablePart, TableRow};
use super::super::maker::Maker;
use super::super::task::Task;
use crate::formula::weighing::ShownWeight;
use crate::print::document::Weight;
use crate::print::wording::language_of;
use crate::print::words::minutes;
use crate::quantity::display::{fixed, last_digit, ounce, read_exact, shows, to_step, trimmed};
use crate::quantity::{Exact, System, int, ratio};
use crate::syntax::booklet::Level;

/// Minutes of a day.
const DAY: i64 = 1440;

/// The most digits after the mark that a percentage has before it is made finer.
const MAX_DIGITS: u8 = 2;

/// The most digits after the mark that ounces are written with.
const OUNCE_DIGITS: u8 = 3;

/// How often a number is made ten times finer at most, so that answers follow from the page.
const MAX_FINER: u8 = 4;

/// What a number counts that is far from what it comes to; one beside it counts one.
const FAR: usize = 100;

/// How often what lies between gets a digit more at most, so that nothing is rounded on the way.
const MAX_SETTLED: usize = 12;

/// What a number counts, and so how a page shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedIn {
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
struct SumNumber {
    row: usize,
    column: usize,
    /// As the page shows it, and its unit.
    shown: (String, String),
    worth: Exact,
    /// What the page shows, in the same unit as `worth`, and the step of its last digit.
    seen: Exact,
    step: Exact,
    /// What it counts; none where it stands as a derivation has it.
    kind: Option<CountedIn>,
    rule: Rule,
    is_asked: bool,
    /// It stands on the page.
    stands: bool,
}

impl SumNumber {
    /// Whether it is what the page or a rule of its own shows, and not worked out anew.
    fn is_fixed(&self) -> bool {
        self.stands || self.kind.is_none() || self.rule == Rule::Given
    }
}

/// The numbers of an exercise, each after those that it follows from.
#[derive(Clone, Debug, Default)]
pub struct Sums {
    rows: Vec<String>,
    numbers: Vec<SumNumber>,
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

    fn add(&mut self, number: SumNumber) -> usize {
        self.numbers.push(number);
        self.numbers.len() - 1
    }

    /// What a number comes to.
    pub fn worth(&self, number: usize) -> Exact {
        self.numbers.get(number).map(|it| it.worth.clone()).unwrap_or_default()
    }

    /// What the page shows of a number, in the unit of its worth.
    pub fn seen(&self, number: usize) -> Exact {
        self.numbers.get(number).map(|it| it.seen.clone()).unwrap_or_default()
    }

    /// What the page shows of a number, with its unit.
    pub fn said(&self, number: usize) -> String {
        let Some(number) = self.numbers.get(number) else { return String::new() };
        let (shown, unit) = &number.shown;
        if unit.is_empty() { shown.clone() } else { format!("{shown} {unit}") }
    }

    /// A number that every page has.
    pub fn given(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        kind: CountedIn,
        worth: Exact,
    ) -> usize {
        let (shown, seen, step) = maker.figure(kind, &worth, true);
        let (row, column) = at;
        let (rule, is_asked, stands) = (Rule::Given, false, true);
        let kind = Some(kind);
        self.add(SumNumber { row, column, shown, worth, seen, step, kind, rule, is_asked, stands })
    }

    /// A weight that every page has, as other prints have it; where that would lead the learner
    /// to another answer, it gets more digits. None where it has no number.
    pub fn given_weight(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        weight: &Weight,
    ) -> Option<usize> {
        let each = match weight.unit.as_str() {
            "g" => int(1),
            "kg" => int(1000),
            _ => return self.given_alone(maker, at, weight),
        };
        let digits = weight.decimal.split_once('.').map_or(0, |(_, behind)| behind.len());
        let seen = read_exact(&weight.decimal)? * &each;
        let step = last_digit(u8::try_from(digits).unwrap_or(0)) * each;
        let number = self.given(maker, at, CountedIn::Weight, read_exact(&weight.grams)?);
        let own = self.numbers.get_mut(number)?;
        own.shown = (weight.shown.clone(), weight.unit.clone());
        (own.seen, own.step) = (seen, step);
        Some(number)
    }

    /// A weight that every page has, by itself on the scale: no sum stands below.
    pub fn given_alone(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        weight: &Weight,
    ) -> Option<usize> {
        let grams = read_exact(&weight.grams)?;
        let figure = maker.figure(CountedIn::Weight, &grams, false);
        self.given_as(maker, at, grams, figure)
    }

    /// A weight that every page has, by itself and with four digits at least.
    pub fn given_fine(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        weight: &Weight,
    ) -> Option<usize> {
        let grams = read_exact(&weight.grams)?;
        let figure = maker.fine_weight(&grams);
        self.given_as(maker, at, grams, figure)
    }

    /// A weight with what a page shows of it.
    fn given_as(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        grams: Exact,
        (shown, seen, step): ((String, String), Exact, Exact),
    ) -> Option<usize> {
        let number = self.given(maker, at, CountedIn::Weight, grams);
        let own = self.numbers.get_mut(number)?;
        (own.shown, own.seen, own.step) = (shown, seen, step);
        Some(number)
    }

    /// A number of another exercise as it stands there, for this one to go on from.
    pub fn taken_from(&mut self, other: &Self, number: usize, at: (usize, usize)) -> usize {
        let (row, column) = at;
        let (rule, is_asked, stands) = (Rule::Given, false, true);
        let known = other.numbers[number].clone();
        let worth = known.worth.clone();
        self.add(SumNumber { row, column, worth, rule, is_asked, stands, ..known })
    }

    /// A number that follows from others and lies between what is given and what is asked.
    pub fn then(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        kind: CountedIn,
        rule: Rule,
    ) -> Option<usize> {
        let worth = rule.of(|part| self.worth(part))?;
        let (shown, seen, step) = maker.figure(kind, &worth, false);
        let (row, column) = at;
        let (is_asked, stands) = (false, false);
        let kind = Some(kind);
        let number =
            SumNumber { row, column, shown, worth, seen, step, kind, rule, is_asked, stands };
        Some(self.add(number))
    }

    /// A number that the learner is asked for.
    pub fn asked(
        &mut self,
        maker: &Maker,
        at: (usize, usize),
        kind: CountedIn,
        rule: Rule,
    ) -> Option<usize> {
        let number = self.then(maker, at, kind, rule)?;
        self.numbers[number].is_asked = true;
        Some(number)
    }

    /// Lets a number show so many grams of a scale.
    pub fn show_grams(&mut self, maker: &Maker, number: usize, shown: ShownWeight) {
        if let Some(own) = self.numbers.get_mut(number) {
            own.shown = maker.weight_shown(&shown);
            own.seen = shown.grams;
            own.step = shown.step;
            // Answers that add up stay as they are.
            own.kind = own.kind.filter(|_| !own.is_asked);
        }
    }

    /// Lets a number stand as a derivation has it.
    pub fn show_words(&mut self, number: usize, shown: (String, String), seen: Exact, step: Exact) {
        if let Some(own) = self.numbers.get_mut(number) {
            own.shown = shown;
            own.seen = seen;
            own.step = step;
            own.kind = None;
        }
    }

    /// The number at a place, where one stands there.
    pub fn at(&self, row: usize, column: usize) -> Option<usize> {
        self.numbers.iter().position(|it| it.row == row && it.column == column)
    }

    /// Whether a number stands on the page in the row of that name.
    pub fn has_standing(&self, name: &str) -> bool {
        let row = self.row_named(name);
        self.numbers.iter().any(|it| Some(it.row) == row && it.stands)
    }

    /// The row of that name.
    pub fn row_named(&self, name: &str) -> Option<usize> {
        self.rows.iter().position(|row| row == name)
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
                // What an answer leads to would tell it.
                let is_asked = |it: &usize| self.numbers[*it].is_asked;
                let is_between = |it: &usize| {
                    let leads = self.needs(*it);
                    !leads.iter().any(is_asked)
                };
                let between = needs.iter().copied().find(is_between);
                let answer = || needs.iter().rev().copied().find(|it| is_asked(it));
                let Some(told) = between.or_else(answer) else { break };
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

    // ---- Digits ------------------------------------------------------------------------

    /// Gives what stands and what lies between as many digits as the answers need, and no
    /// more: each answer is what the numbers that the page shows come to.
    pub fn sharpen(&mut self, maker: &Maker) {
        let lines = self.to_work_out();
        let is_used = |number: usize| {
            lines.iter().any(|line| self.numbers[*line].rule.parts().contains(&number))
        };
        let rough: Vec<usize> = (0..self.numbers.len())
            .filter(|it| {
                let own = &self.numbers[*it];
                let can = matches!(
                    own.kind,
                    Some(CountedIn::Weight | CountedIn::Percent | CountedIn::Number)
                );
                can && !own.is_asked && own.seen != own.worth && is_used(*it)
            })
            .collect();
        let off = |sums: &Self| {
            let own = lines.iter().map(|it| sums.how_far_off(*it)).sum::<usize>();
            // An answer that is another one weighs more than any line on the way to it.
            own + lines.len() * FAR * sums.off_in_the_end()
        };
        let mut best = (off(self), self.numbers.clone(), 0);
        for finer in 1..=MAX_FINER {
            if best.0 == 0 {
                break;
            }
            rough.iter().for_each(|it| self.make_finer(maker, *it, finer));
            let off = off(self);
            if off < best.0 {
                best = (off, self.numbers.clone(), finer);
            }
        }
        let (least, numbers, finest) = best;
        self.numbers = numbers;
        // Each by itself is left as coarse as it may be.
        for number in rough.iter().filter(|_| finest > 0) {
            let fine = self.numbers[*number].clone();
            for finer in 0..finest {
                self.make_finer(maker, *number, finer);
                if off(self) <= least {
                    break;
                }
                self.numbers[*number] = fine.clone();
            }
        }
    }

    /// How many answers show another last digit than what the page comes to for somebody who
    /// rounds nothing on the way.
    fn off_in_the_end(&self) -> usize {
        let mut worths: Vec<Exact> = Vec::with_capacity(self.numbers.len());
        let mut count = 0;
        for own in &self.numbers {
            let comes_to = own.rule.of(|part| worths.get(part).cloned().unwrap_or_default());
            if own.is_asked && own.kind.is_some() {
                let got = comes_to.as_ref().map(|it| to_step(it, &own.step));
                count += usize::from(got.is_some_and(|it| it != to_step(&own.worth, &own.step)));
            }
            let is_fixed = own.is_fixed();
            worths.push(comes_to.filter(|_| !is_fixed).unwrap_or_else(|| own.seen.clone()));
        }
        count
    }

    /// Lets each number that follows show what the page comes to, rounded once: nothing is
    /// rounded on the way. What lies between gets as many digits as that takes.
    pub fn settle(&mut self, maker: &Maker) {
        for number in 0..self.numbers.len() {
            let own = &self.numbers[number];
            if own.is_fixed() {
                self.numbers[number].worth = own.seen.clone();
                continue;
            }
            let worth = own.rule.of(|part| self.numbers[part].worth.clone());
            let Some(worth) = worth else { continue };
            let mut step = own.step.clone();
            // What lies between is as fine as what it is the sum of.
            if let (Rule::Sum(parts) | Rule::Less(parts), false) = (&own.rule, own.is_asked) {
                let steps = parts.iter().map(|it| self.numbers[*it].step.clone());
                step = steps.chain([step.clone()]).min().unwrap_or(step);
            }
            self.numbers[number].worth = worth;
            self.show_to(maker, number, step);
        }
        for _ in 0..MAX_SETTLED {
            let rough: Vec<usize> = self
                .to_work_out()
                .into_iter()
                .filter(|it| self.numbers[*it].kind.is_some() && !self.comes_out(*it))
                .collect();
            let can_be_finer = |it: &usize| {
                let own = &self.numbers[*it];
                !own.is_fixed() && own.seen != own.worth && own.step > maker.finest(own.kind)
            };
            let parts = rough.iter().flat_map(|it| self.numbers[*it].rule.parts());
            let mut finer: Vec<usize> = parts.filter(can_be_finer).collect();
            if finer.is_empty() {
                finer = rough.iter().copied().filter(can_be_finer).collect();
            }
            finer.sort_unstable();
            finer.dedup();
            if finer.is_empty() {
                return;
            }
            for number in finer {
                let step = self.numbers[number].step.one_in::<10>();
                self.show_to(maker, number, step);
            }
        }
    }

    /// Lets a number show its worth, rounded to a step.
    pub fn show_to(&mut self, maker: &Maker, number: usize, step: Exact) {
        let own = &self.numbers[number];
        let Some(kind) = own.kind else { return };
        let seen = to_step(&own.worth, &step);
        let (shown, seen, step) = match maker.shown_as(kind, &seen, &step) {
            Some(shown) => (shown, seen, step),
            None => maker.figure(kind, &own.worth, false),
        };
        let own = &mut self.numbers[number];
        (own.shown, own.seen, own.step) = (shown, seen, step);
    }

    /// Shows a weight in tenths, for what is worked out from it.
    pub fn show_tenths(&mut self, maker: &Maker, number: usize) {
        self.make_finer(maker, number, 1);
    }

    /// Lets a number stand with so many digits more than it has by itself.
    fn make_finer(&mut self, maker: &Maker, number: usize, finer: u8) {
        let Some(own) = self.numbers.get_mut(number) else { return };
        let Some(kind) = own.kind else { return };
        let is_given = own.rule == Rule::Given;
        (own.shown, own.seen, own.step) = maker.finer_figure(kind, &own.worth, is_given, finer);
    }

    /// What has to be worked out for the answers, the first to be done first.
    fn to_work_out(&self) -> Vec<usize> {
        let mut done: Vec<usize> = Vec::new();
        for number in (0..self.numbers.len()).filter(|it| self.numbers[*it].is_asked) {
            for need in self.needs(number) {
                if !done.contains(&need) {
                    done.push(need);
                }
            }
        }
        done
    }

    /// Whether some answer shows another last digit than what stands comes to.
    pub fn is_rough(&self) -> bool {
        self.to_work_out().iter().any(|it| !self.comes_out(*it))
    }

    /// The least of what is asked.
    pub fn least_asked(&self) -> Exact {
        let asked = self.numbers.iter().filter(|it| it.is_asked);
        asked.map(|it| it.worth.clone()).min().unwrap_or_default()
    }

    /// Whether a number shows what the numbers that it follows from show together.
    fn comes_out(&self, number: usize) -> bool {
        self.numbers[number].rule != Rule::Given && self.how_far_off(number) == 0
    }

    /// Nothing where a number comes out, one where its last digit is another one, much where it
    /// is far from that.
    fn how_far_off(&self, number: usize) -> usize {
        let own = &self.numbers[number];
        let Some(comes_to) = own.rule.of(|part| self.numbers[part].seen.clone()) else { return 0 };
        let seen = to_step(&comes_to, &own.step);
        let apart = if seen > own.seen { &seen - &own.seen } else { &own.seen - &seen };
        match apart {
            apart if apart.is_zero() => 0,
            apart if apart <= &own.step * int(2) => 1,
            _ => FAR,
        }
    }

    // ---- On paper ----------------------------------------------------------------------

    /// How the answers follow, a line each, the first to be done first.
    pub fn workings(&self, maker: &Maker) -> Vec<String> {
        self.workings_under(maker, &[])
    }

    /// The same; a row of which several numbers are worked out says in which column each stands.
    pub fn workings_under(&self, maker: &Maker, columns: &[String]) -> Vec<String> {
        let all = self.to_work_out();
        let lines = all.iter().map(|number| {
            let own = &self.numbers[*number];
            let same = all.iter().filter(|it| self.numbers[**it].row == own.row).count();
            let column = columns.get(own.column).filter(|it| same > 1 && !it.is_empty());
            let name = &self.rows[own.row];
            let name = column.map_or_else(|| name.clone(), |it| format!("{name}, {it}"));
            self.working(maker, *number, &name)
        });
        lines.collect()
    }

    /// `flour: 1730 g ÷ 173 % = 1000 g`; `≈` where what is shown comes to another last digit.
    fn working(&self, maker: &Maker, number: usize, name: &str) -> String {
        let own = &self.numbers[number];
        let parts: Vec<String> = own.rule.parts().iter().map(|it| self.said(*it)).collect();
        let sum = parts.join(own.rule.sign());
        let said = self.said(number);
        let comes_to = own.rule.of(|part| self.numbers[part].seen.clone());
        let comes_to = comes_to.filter(|_| !self.comes_out(number));
        // Where parts were rounded so that they add up: first what a learner gets.
        let finer = own.step.one_in::<10>();
        let got = comes_to
            .and_then(|it| maker.shown_as(CountedIn::Weight, &to_step(&it, &finer), &finer));
        let is_weight = ["g", "kg", "oz"].contains(&own.shown.1.as_str());
        let end = match got.filter(|_| is_weight) {
            Some((got, unit)) => {
                let got = format!("{got} {unit}");
                let args = [("got", got.as_str()), ("said", &said)];
                format!("= {}", maker.words.fill("exercise-adds-up", &args))
            }
            None if self.comes_out(number) => format!("= {said}"),
            None => format!("≈ {said}"),
        };
        maker.labelled(name, &format!("{sum} {end}"))
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
    pub fn figure(
        &self,
        kind: CountedIn,
        worth: &Exact,
        is_given: bool,
    ) -> ((String, String), Exact, Exact) {
        self.finer_figure(kind, worth, is_given, 0)
    }

    /// The same with so many digits more.
    pub fn finer_figure(
        &self,
        kind: CountedIn,
        worth: &Exact,
        is_given: bool,
        finer: u8,
    ) -> ((String, String), Exact, Exact) {
        match kind {
            CountedIn::Weight if self.house.settings.units.first == System::Us => {
                // Eighths of an ounce are as they are; else tenths, below 4 oz hundredths.
                let eighth = ounce().one_in::<8>();
                let is_eighths = worth.over(&eighth).is_some_and(|it| it.is_int());
                if is_given && finer == 0 && is_eighths {
                    let shown = ShownWeight { grams: worth.clone(), step: eighth };
                    return (self.weight_shown(&shown), worth.clone(), ounce().one_in::<100>());
                }
                let digits = if *worth < ounce() * int(4) { 2 } else { 1 };
                let step = ounce() * last_digit((digits + finer).min(OUNCE_DIGITS));
                let shown = ShownWeight { grams: to_step(worth, &step), step };
                (self.weight_shown(&shown), shown.grams, shown.step)
            }
            CountedIn::Weight => {
                // What somebody asks for is no weight of the scale: it stands as it is.
                let is_round = worth.one_in::<100>().is_int();
                if is_given && finer == 0 && is_round {
                    return (self.alone(worth, true), worth.clone(), ratio(1, 10));
                }
                // Nobody who reckons with a pencil rounds to what a scale shows.
                let shown = ShownWeight::alone(&self.house_scale(), worth);
                let is_tenth = is_given && shows(worth, 1) && !worth.is_int();
                let least = if is_tenth { 1 } else { finer };
                let least = last_digit(least);
                let step = if shown.step < least { shown.step } else { least };
                let shown = ShownWeight { grams: to_step(worth, &step), step };
                (self.weight_shown(&shown), shown.grams, shown.step)
            }
            CountedIn::Percent => {
                let percent = worth * int(100);
                let exact = (0..=MAX_DIGITS).find(|it| is_given && shows(&percent, *it));
                // Ten times a part of a per cent still has its first digits.
                let usual = if percent < Exact::ONE { 3 } else { 1 };
                let digits = exact.unwrap_or(usual + finer);
                let step = last_digit(digits);
                let seen = to_step(&percent, &step).one_in::<100>();
                let shown = self.words.number(&fixed(&percent, digits));
                ((shown, "%".to_owned()), seen, step.one_in::<100>())
            }
            CountedIn::Number => {
                let digits = 2 + finer;
                let step = last_digit(digits);
                let shown = self.words.number(&trimmed(worth, digits));
                ((shown, String::new()), to_step(worth, &step), step)
            }
            CountedIn::Clock => ((self.clock(worth), String::new()), worth.clone(), Exact::ONE),
            CountedIn::Minutes => ((minutes(worth), String::new()), worth.clone(), Exact::ONE),
        }
    }

    /// A weight of which a part or a multiple can still be told: with four digits or more.
    pub fn fine_weight(&self, grams: &Exact) -> ((String, String), Exact, Exact) {
        let mut told = self.figure(CountedIn::Weight, grams, false);
        for finer in 1..=MAX_FINER {
            if *grams >= &told.2 * int(1000) {
                break;
            }
            told = self.finer_figure(CountedIn::Weight, grams, false, finer);
        }
        told
    }

    /// The finest step of a number of a kind.
    fn finest(&self, kind: Option<CountedIn>) -> Exact {
        match kind {
            Some(CountedIn::Weight) if self.house.settings.units.first == System::Us => {
                ounce() * last_digit(OUNCE_DIGITS)
            }
            Some(CountedIn::Weight) => last_digit(4),
            _ => last_digit(8),
        }
    }

    /// A number that was rounded to a step, as a page shows it; none of times.
    fn shown_as(&self, kind: CountedIn, seen: &Exact, step: &Exact) -> Option<(String, String)> {
        let digits = |step: &Exact| (0..=8).find(|it| last_digit(*it) <= *step).unwrap_or(8);
        match kind {
            CountedIn::Weight => {
                Some(self.weight_shown(&ShownWeight { grams: seen.clone(), step: step.clone() }))
            }
            CountedIn::Percent => {
                let shown = fixed(&(seen * int(100)), digits(&(step * int(100))));
                Some((self.words.number(&shown), "%".to_owned()))
            }
            CountedIn::Number => {
                Some((self.words.number(&trimmed(seen, digits(step))), String::new()))
            }
            CountedIn::Clock | CountedIn::Minutes => None,
        }
    }

    /// `06:30`; in American English `6:30 am`.
    pub fn clock_of_day(&self, minutes: i64) -> String {
        let (hours, minutes) = (minutes / 60, minutes % 60);
        let is_us = self.house.settings.units.first == System::Us;
        if !is_us || language_of(&self.words.tag) != "en" {
            return format!("{hours:02}:{minutes:02}");
        }
        let half = if hours < 12 { "am" } else { "pm" };
        let hours = if hours % 12 == 0 { 12 } else { hours % 12 };
        format!("{hours}:{minutes:02} {half}")
    }

    /// `06:30`, with how many days before where it is not on that day.
    pub fn clock(&self, minutes: &Exact) -> String {
        let whole: i64 = minutes.nearest().to_string().parse().unwrap_or(0);
        let (days, whole) = (-whole.div_euclid(DAY), whole.rem_euclid(DAY));
        let clock = self.clock_of_day(whole);
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

impl Task {
    /// An exercise of numbers.
    pub fn of(
        maker: &Maker,
        mut sums: Sums,
        title: String,
        lead: Vec<String>,
        names: String,
        columns: &[String],
    ) -> Self {
        sums.sharpen(maker);
        sums.settle(maker);
        let rows = |is_key| sums.rows(columns.len(), is_key);
        let (asked, told) = (rows(false), rows(true));
        let columns = columns.to_vec();
        let (workings, steps) = (sums.workings_under(maker, &columns), sums.steps());
        Self { title, lead, names, columns, asked, told, workings, steps }
    }

    /// The same with the answers.
    pub fn key(&self, maker: &Maker) -> TablePart {
        let title = maker.words.fill("booklet-key", &[("worksheet", &self.title)]);
        TablePart { key: true, ..self.table(title, &self.told) }
    }
}
