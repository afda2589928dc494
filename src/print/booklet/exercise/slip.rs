//! `mistake`: a formula with one number spoilt, so that `check` finds exactly one thing more.

use super::super::compare::named;
use super::super::document::{TableCell, TableRow};
use super::super::maker::Maker;
use super::super::slips::{Slip, others_stand, shows_slip, spoilt_ways};
use super::draw::Draw;
use super::sums::{Kind, Rule, Sums, Task};
use crate::check;
use crate::diag::{Finding, Level as Severity};
use crate::formula::{inherited, work};
use crate::print::document::{Document, LinePart};
use crate::quantity::display::read_exact;
use crate::syntax::booklet::Level;
use crate::syntax::tree::{Formula, Name};
use std::rc::Rc;

impl Maker<'_> {
    /// Which number of the formula was spoilt, and what it should be.
    pub fn mistake(
        &self,
        rule: Option<&Name>,
        name: &Name,
        document: &Document,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let all = self.slips_that_show(name, document)?;
        let is_asked = |slip: &&Slip| rule.is_none_or(|rule| *slip.rule == *rule.key);
        let mut slips: Vec<(&Slip, Option<Sums>)> =
            all.iter().filter(is_asked).map(|slip| (slip, None)).collect();
        // At the first level the percentages stand on the page; then they have to be worked
        // out from the weights.
        if level != Level::First {
            for (slip, sums) in &mut slips {
                *sums = self.weights_alone(slip);
            }
            if slips.iter().any(|(_, sums)| sums.is_some()) {
                slips.retain(|(_, sums)| sums.is_some());
            }
        }
        let none = "no slip in one number of it is found by `check` alone";
        let (slip, sums) = draw.one_of(&slips).ok_or(none)?;
        let right = document.total.iter().find(|line| line.key == slip.key).ok_or(none)?;
        let percent = right.percent.clone().unwrap_or_default();
        let answer = format!("{}: {percent} %", named(right));
        let columns = match &sums {
            Some(_) => vec![self.words.say("print-weight")],
            None => vec!["%".to_owned(), self.words.say("print-weight")],
        };
        let page = |is_key: bool| {
            let lines = slip.lines.iter().map(|line| TableRow {
                kind: "line".into(),
                name: named(line),
                cells: self.cells_of(line, columns.len()),
            });
            let mut rows: Vec<TableRow> = lines.collect();
            let mut cells = vec![TableCell::default(); columns.len()];
            if let Some(last) = cells.last_mut() {
                *last = match is_key {
                    true => TableCell { strong: true, ..TableCell::of(&answer, "") },
                    false => TableCell { blank: true, ..TableCell::default() },
                };
            }
            let name = self.words.say("exercise-slip");
            rows.push(TableRow { kind: "line".into(), name, cells });
            rows
        };
        let mut workings = sums.as_ref().map(Sums::workings).unwrap_or_default();
        let steps = workings.len() + 1;
        workings.push(format!("{answer} ({})", slip.rule));
        Ok(Task {
            title: self.task_title("exercise-mistake", document),
            lead: vec![self.words.say("exercise-mistake-lead")],
            names: self.words.say("print-ingredient"),
            asked: page(false),
            told: page(true),
            columns,
            workings,
            steps,
        })
    }

    /// All flour of a spoilt formula, and what part of it the spoilt line is.
    fn weights_alone(&self, slip: &Slip) -> Option<Sums> {
        let mut sums = Sums::default();
        let mut flours = Vec::new();
        let mut own = None;
        for line in slip.lines.iter().filter(|line| line.weight.is_some()) {
            let row = sums.row(&named(line));
            let number = sums.given_weight(self, (row, 1), line.weight.as_ref()?)?;
            if line.class.as_deref() == Some("flour") {
                flours.push(number);
            }
            if line.key == slip.key {
                own = Some(number);
            }
        }
        let flour = match flours.as_slice() {
            [one] => *one,
            _ => {
                let row = sums.row(&self.words.say("figure-flour"));
                sums.then(self, (row, 1), Kind::Weight, Rule::Sum(flours))?
            }
        };
        let line = slip.lines.iter().find(|line| line.key == slip.key)?;
        let row = sums.row(&format!("{} %", named(line)));
        sums.asked(self, (row, 0), Kind::Percent, Rule::Over(own?, flour))?;
        let share = read_exact(line.percent_exact.as_deref()?)?;
        let shown = sums.at(row, 0)?;
        (sums.worth(shown) == share).then_some(sums)
    }

    /// The slips of a formula that a learner can see on a page; each proved once.
    fn slips_that_show(&self, name: &Name, document: &Document) -> Result<Rc<Vec<Slip>>, String> {
        if let Some((_, slips)) = self.slips.borrow().iter().find(|(it, _)| it.key == name.key) {
            return Ok(Rc::clone(slips));
        }
        let formula = self.house.formula(&name.key).ok_or("there is no such formula")?;
        let sound = inherited(self.house, formula).into_owned();
        let before = self.judged(&sound).ok_or("it can't be worked out")?;
        let slips = spoilt_ways(&sound).into_iter().filter_map(|(key, spoilt)| {
            let mut new: Vec<&'static str> =
                self.judged(&spoilt)?.into_iter().filter(|it| !before.contains(it)).collect();
            new.dedup();
            let [rule] = new.as_slice() else { return None };
            let worked = work(self.house, &spoilt, &mut Vec::new());
            let lines = self.document_of(&worked).total;
            let is_seen =
                shows_slip(&lines, document, &key) && others_stand(&lines, document, &key);
            is_seen.then_some(Slip { key, rule, lines })
        });
        let slips = Rc::new(slips.collect::<Vec<_>>());
        self.slips.borrow_mut().push((name.clone(), Rc::clone(&slips)));
        Ok(slips)
    }

    /// The names of what `check` finds in a formula, errors and warnings; none where it can't
    /// be worked out.
    fn judged(&self, formula: &Formula) -> Option<Vec<&'static str>> {
        let mut findings: Vec<Finding> = Vec::new();
        let worked = work(self.house, formula, &mut findings);
        if !worked.sound || !worked.readable {
            return None;
        }
        check::check(self.house, formula, &worked, &mut findings);
        let found = findings.iter().filter(|it| it.level != Severity::Note);
        let mut names: Vec<&'static str> = found.map(|it| it.rule.name).collect();
        names.sort_unstable();
        Some(names)
    }

    /// A line's percentage, where there is a column for it, and its weight by itself: no sum
    /// stands below, and each weight goes with its percentage.
    fn cells_of(&self, line: &LinePart, columns: usize) -> Vec<TableCell> {
        let grams = line.weight.as_ref().and_then(|weight| read_exact(&weight.grams));
        let weight = match grams {
            Some(grams) => {
                let (shown, unit) = self.alone(&grams, false);
                TableCell::of(shown, unit)
            }
            None => TableCell::of(line.soft.clone().unwrap_or_default(), ""),
        };
        let percent = match &line.percent {
            Some(percent) => TableCell::of(percent, "%"),
            None => TableCell::default(),
        };
        if columns == 1 { vec![weight] } else { vec![percent, weight] }
    }
}
