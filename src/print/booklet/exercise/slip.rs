//! `mistake`: a formula with one number spoilt, so that `check` finds exactly one thing more.

use super::super::compare::named;
use super::super::document::{TableCell, TableRow};
use super::super::maker::Maker;
use super::super::slips::{
    OF_THE_YIELD, PlantedSlip, SpoiltBy, others_stand, shows_slip, shows_swap, shows_tenfold,
    spoilt_ways,
};
use super::super::task::Task;
use super::draw::Draw;
use super::sums::{CountedIn, Rule, Sums};
use crate::check;
use crate::diag::{Finding, Level as Severity};
use crate::formula::{inherited, work};
use crate::print::document::{Document, LinePart};
use crate::quantity::display::{read_exact, trimmed};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::booklet::Level;
use crate::syntax::tree::{Formula, Name};
use std::rc::Rc;

/// How a slip follows from weights alone.
struct Proof {
    /// What part of the flour the spoilt line is.
    share: Sums,
    /// What it should weigh, and how far off it is.
    rest: Option<Sums>,
}

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
        // Slips are proved for what the formula makes; the page may be for more of it.
        let asked = document;
        let own = self.worked_as(name, None).ok_or("it can't be worked out")?;
        let document = own.document(self);
        let all = self.slips_that_show(name, document)?;
        let is_asked =
            |slip: &&PlantedSlip| rule.is_none_or(|rule| *slip.finding.rule.name == *rule.key);
        let mut slips: Vec<(&PlantedSlip, Option<Proof>)> =
            all.iter().filter(is_asked).map(|slip| (slip, None)).collect();
        // At the first level the percentages stand on the page; then they have to be worked
        // out from the weights.
        if level != Level::First {
            for (slip, sums) in &mut slips {
                *sums = self.weights_alone(slip, document, level, &Exact::ONE);
            }
            if slips.iter().any(|(_, sums)| sums.is_some()) {
                slips.retain(|(_, sums)| sums.is_some());
            }
        }
        // A line that is missing is another question than a number that is wrong.
        let is_left_out = |slip: &PlantedSlip| slip.way == SpoiltBy::LeftOut;
        if rule.is_none() && slips.iter().any(|(slip, _)| !is_left_out(slip)) {
            slips.retain(|(slip, _)| !is_left_out(slip));
        }
        let none = match rule {
            Some(rule) => {
                let mut known: Vec<&str> = all.iter().map(|it| it.finding.rule.name).collect();
                known.sort_unstable();
                known.dedup();
                format!(
                    "no slip in it gives the finding `{}`; its slips give: {}",
                    rule.shown,
                    known.join(", ")
                )
            }
            None => "`check` would find no slip in a single number of it".to_owned(),
        };
        let (slip, sums) = draw.in_turn(&slips).ok_or_else(|| none.clone())?;
        // Each seat has another amount of dough.
        let times = self.times_as_much(document, asked, draw);
        let slip = &slip.times(&times);
        let sums = match sums {
            Some(_) => self.weights_alone(slip, document, level, &times),
            None => None,
        };
        let right = document.total.iter().find(|line| line.key == slip.key).ok_or(none)?;
        let missing = if is_left_out(slip) { self.missing_line(slip, right) } else { None };
        let percent = right.percent.clone().unwrap_or_default();
        let answer = self.labelled(&named(right), &format!("{percent} %"));
        let has_rest = sums.as_ref().is_some_and(|it| it.rest.is_some());
        // With the weight that goes with the flour of the page.
        let told = match self.right_weight(slip, right).filter(|_| !has_rest) {
            Some(weight) => format!("{answer}, {weight}"),
            None => answer.clone(),
        };
        let columns = match &sums {
            Some(_) => vec![self.words.say("print-weight")],
            None => vec!["%".to_owned(), self.words.say("print-weight")],
        };
        // Room for any name, so that the rule tells none.
        let names = slip.lines.iter().map(|line| named(line).chars().count());
        let room = names.max().unwrap_or(0) + ": 12.5 %, 12.345 kg".len();
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
                    true => TableCell { strong: true, ..TableCell::of(&told, "") },
                    false => TableCell { blank: true, room, ..TableCell::default() },
                };
            }
            let dough = self.words.say("figure-dough");
            let whole = missing.iter().flat_map(|it| it.rows(columns.len(), false));
            rows.extend(whole.filter(|row| row.name == dough));
            let name = self.words.say("exercise-slip");
            rows.push(TableRow { kind: "line".into(), name, cells });
            let pieces = document.makes.pieces.first().filter(|_| has_rest);
            let count = pieces.and_then(|it| Some((it, read_exact(&it.count)? * &times)));
            if let Some((piece, count)) = count.filter(|(_, count)| *count > Exact::ONE) {
                let mut cells = vec![TableCell::default(); columns.len()];
                if let Some(last) = cells.last_mut() {
                    *last = TableCell::of(self.words.number(&trimmed(&count, 2)), "");
                }
                rows.push(TableRow { kind: "line".into(), name: piece.kind.clone(), cells });
            }
            for rest in sums.iter().filter_map(|it| it.rest.as_ref()) {
                let asked = rest.rows(columns.len(), is_key);
                let is_asked = |row: &TableRow| row.cells.iter().any(|it| it.blank || it.strong);
                rows.extend(asked.into_iter().filter(is_asked));
            }
            rows
        };
        let share = sums.as_ref().map(|it| it.share.workings(self)).unwrap_or_default();
        let rest = sums.as_ref().and_then(|it| it.rest.as_ref());
        let rest = rest.map(|it| it.workings(self)).unwrap_or_default();
        let found = missing.as_ref().map(|it| it.workings(self)).unwrap_or_default();
        let steps = share.len() + found.len() + 1 + rest.len();
        // What the weights of the page come to, which is as precise as they are.
        let by_weight = sums.as_ref().and_then(|it| {
            let row = it.share.row_named(&format!("{} %", named(right)))?;
            Some(it.share.said(it.share.at(row, 0)?))
        });
        let mut workings = share;
        workings.extend(found);
        let spoilt = slip.lines.iter().find(|line| line.key == slip.key);
        let spoilt = spoilt.and_then(|it| read_exact(it.percent_exact.as_deref()?));
        let spoilt = spoilt.map(|it| it * int(100));
        let told = self.finding_beside(&slip.finding, spoilt.as_ref()).unwrap_or_default();
        let from = self.spoilt_percent(slip).map(|wrong| match slip.way {
            SpoiltBy::Swapped => format!("{wrong} % → "),
            _ => {
                let right = right.percent_exact.as_deref().and_then(read_exact).unwrap_or_default();
                let spoilt = slip.lines.iter().find(|line| line.key == slip.key);
                let spoilt = spoilt.and_then(|it| it.percent_exact.as_deref()).and_then(read_exact);
                let sign = if spoilt.is_some_and(|it| it > right) { "÷" } else { "×" };
                let own = format!("{wrong} %");
                match &by_weight {
                    Some(said) if !is_same(said, &own) => {
                        let shifted = self.tenfold(said, sign == "×");
                        format!("{said} {sign} 10 = {shifted} → ")
                    }
                    _ => format!("{own} {sign} 10 = "),
                }
            }
        });
        let line = format!("{}{percent} % ({told})", from.unwrap_or_default());
        workings.push(self.labelled(&named(right), &line));
        workings.extend(rest);
        Ok(Task {
            title: self.task_title("exercise-mistake", document),
            lead: match is_left_out(slip) {
                true => {
                    let dough = missing.as_ref().map(|_| self.words.say("exercise-mistake-dough"));
                    [Some(self.words.say("exercise-mistake-missing")), dough]
                        .into_iter()
                        .flatten()
                        .collect()
                }
                false => vec![
                    self.words.say("exercise-mistake-lead"),
                    self.words.say(match slip.way {
                        SpoiltBy::Swapped => "exercise-mistake-swapped",
                        _ => "exercise-mistake-tenfold",
                    }),
                ],
            },
            names: self.words.say("print-ingredient"),
            asked: page(false),
            told: page(true),
            columns,
            workings,
            steps,
        })
    }

    /// `760.1 %` as `76.01 %`: ten times a number that is shown, or a tenth of it.
    fn tenfold(&self, said: &str, up: bool) -> String {
        let mark = self.words.decimal_mark();
        let number = read_exact(&said.trim_end_matches(" %").replace(&mark, "."));
        let number = number.unwrap_or_default();
        let shifted = if up { number * int(10) } else { number.one_in::<10>() };
        format!("{} %", self.words.number(&trimmed(&shifted, 4)))
    }

    /// The percentage of a spoilt line, as precise as ten times of it need it; none where the
    /// line is missing.
    fn spoilt_percent(&self, slip: &PlantedSlip) -> Option<String> {
        let line = slip.lines.iter().find(|line| line.key == slip.key)?;
        let share = read_exact(line.percent_exact.as_deref()?)?;
        Some(self.words.number(&trimmed(&(share * int(100)), 2)))
    }

    /// How many times as much dough as the formula makes stands on the page: whole pieces.
    fn times_as_much(&self, document: &Document, asked: &Document, draw: &Draw) -> Exact {
        if !self.is_varied() {
            let grams = |it: &Document| read_exact(&it.makes.dough.grams);
            let times = grams(asked).zip(grams(document)).and_then(|(it, own)| it.over(&own));
            return times.unwrap_or(Exact::ONE);
        }
        let count = document.makes.pieces.first().and_then(|it| read_exact(&it.count));
        match count.filter(|it| document.makes.pieces.len() == 1 && *it >= Exact::ONE) {
            Some(count) => {
                let wanted = [4, 5, 6, 8, 9, 10, 12, 14, 15, 16, 18, 20, 24, 25, 30, 36, 40];
                let wanted = int(*draw.in_turn(&wanted).unwrap_or(&12));
                wanted.over(&count).unwrap_or(Exact::ONE)
            }
            None => ratio(*draw.in_turn(&[2, 3, 4, 5, 6, 7, 9, 10]).unwrap_or(&4), 4),
        }
    }

    /// All flour of a spoilt formula, and what part of it the spoilt line is; at the third level
    /// also what it should weigh with that flour, and how far off it is, in each piece too.
    fn weights_alone(
        &self,
        slip: &PlantedSlip,
        document: &Document,
        level: Level,
        times: &Exact,
    ) -> Option<Proof> {
        let mut sums = Sums::default();
        let mut flours = Vec::new();
        let mut own = None;
        for line in slip.lines.iter().filter(|line| line.weight.is_some()) {
            let row = sums.row(&named(line));
            let number = sums.given_fine(self, (row, 1), line.weight.as_ref()?)?;
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
                sums.then(self, (row, 1), CountedIn::Weight, Rule::Sum(flours.clone()))?
            }
        };
        let own = own?;
        let line = slip.lines.iter().find(|line| line.key == slip.key)?;
        let row = sums.row(&format!("{} %", named(line)));
        sums.asked(self, (row, 0), CountedIn::Percent, Rule::Over(own, flour))?;
        let share = read_exact(line.percent_exact.as_deref()?)?;
        let shown = sums.at(row, 0)?;
        if sums.worth(shown) != share {
            return None;
        }
        sums.settle(self);
        let is_asked = level == Level::Third && !flours.contains(&own);
        let rest =
            if is_asked { self.off_by(&sums, (own, flour), slip, (document, times)) } else { None };
        Some(Proof { share: sums, rest })
    }

    /// What a line that is missing weighs: the dough less all others; and what part of the flour
    /// that is.
    fn missing_line(&self, slip: &PlantedSlip, right: &LinePart) -> Option<Sums> {
        if right.class.as_deref() == Some("flour") {
            return None;
        }
        let mut sums = Sums::default();
        let (mut all, mut flours) = (Vec::new(), Vec::new());
        for line in slip.lines.iter().filter(|line| line.weight.is_some()) {
            let row = sums.row(&named(line));
            let number = sums.given_fine(self, (row, 1), line.weight.as_ref()?)?;
            all.push(number);
            if line.class.as_deref() == Some("flour") {
                flours.push(number);
            }
        }
        let add = |all: &[usize], sums: &Sums, of: fn(&Sums, usize) -> Exact| {
            all.iter().fold(Exact::ZERO, |sum, it| sum + of(sums, *it))
        };
        let share = read_exact(right.percent_exact.as_deref()?)?;
        let own = share * add(&flours, &sums, Sums::worth);
        let (_, own, _) = self.figure(CountedIn::Weight, &own, false);
        // The dough is what the page shows, so that it comes out.
        let whole = own + add(&all, &sums, Sums::seen);
        let row = sums.row(&self.words.say("figure-dough"));
        let mut parts = vec![sums.given(self, (row, 1), CountedIn::Weight, whole)];
        parts.extend(all);
        let row = sums.row(&named(right));
        let left = sums.asked(self, (row, 1), CountedIn::Weight, Rule::Less(parts))?;
        let flour = match flours.as_slice() {
            [one] => *one,
            _ => {
                let row = sums.row(&self.words.say("figure-flour"));
                sums.then(self, (row, 1), CountedIn::Weight, Rule::Sum(flours.clone()))?
            }
        };
        let row = sums.row(&format!("{} %", named(right)));
        sums.asked(self, (row, 0), CountedIn::Percent, Rule::Over(left, flour))?;
        sums.settle(self);
        Some(sums)
    }

    /// What a spoilt line should weigh with the flour of the page.
    fn right_weight(&self, slip: &PlantedSlip, right: &LinePart) -> Option<String> {
        if let Some(grams) = tenfold_of(slip, right) {
            let (_, seen, _) = self.fine_weight(&grams.0);
            let weight = if grams.1 { seen * int(10) } else { seen.one_in::<10>() };
            let ((shown, unit), ..) = self.figure(CountedIn::Weight, &weight, false);
            return Some(format!("{shown} {unit}"));
        }
        let share = read_exact(right.percent_exact.as_deref()?)?;
        let flours = slip.lines.iter().filter(|line| line.class.as_deref() == Some("flour"));
        let flour: Option<Vec<Exact>> =
            flours.map(|line| read_exact(&line.weight.as_ref()?.grams)).collect();
        let flour = flour?.into_iter().fold(Exact::ZERO, |sum, it| sum + it);
        let ((shown, unit), ..) = self.figure(CountedIn::Weight, &(share * flour), false);
        Some(format!("{shown} {unit}"))
    }

    /// What a spoilt line should weigh with the flour of the page, and how far off it is.
    fn off_by(
        &self,
        proof: &Sums,
        (own, flour): (usize, usize),
        slip: &PlantedSlip,
        (document, times): (&Document, &Exact),
    ) -> Option<Sums> {
        let right = document.total.iter().find(|line| line.key == slip.key)?;
        let mut sums = Sums::default();
        let given = sums.row(&named(right));
        let wrong = sums.taken_from(proof, own, (given, 1));
        let flour = sums.taken_from(proof, flour, (given, 2));
        let row = sums.row(&self.words.say("exercise-right-weight"));
        // Ten times what stands there, or a tenth of it; else its part of the flour.
        let rule = match tenfold_of(slip, right) {
            Some((_, up)) => {
                let ten = sums.given(self, (given, 3), CountedIn::Number, int(10));
                if up { Rule::Times(vec![wrong, ten]) } else { Rule::Over(wrong, ten) }
            }
            None => {
                let share = read_exact(right.percent_exact.as_deref()?)?;
                let share = sums.given(self, (given, 3), CountedIn::Percent, share);
                Rule::Times(vec![share, flour])
            }
        };
        let weight = sums.asked(self, (row, 0), CountedIn::Weight, rule)?;
        let apart = match sums.worth(wrong) > sums.worth(weight) {
            true => vec![wrong, weight],
            false => vec![weight, wrong],
        };
        let row = sums.row(&self.words.say("exercise-off-by"));
        let off = sums.asked(self, (row, 0), CountedIn::Weight, Rule::Less(apart))?;
        // What is divided among pieces needs what it comes of in tenths.
        if sums.worth(off) < int(1000) {
            [weight, off].into_iter().for_each(|number| sums.show_tenths(self, number));
        }
        if let [piece] = document.makes.pieces.as_slice() {
            let count = read_exact(&piece.count).map(|it| it * times).filter(|it| *it > Exact::ONE);
            if let Some(count) = count {
                let count = sums.given(self, (given, 4), CountedIn::Number, count);
                let row = sums.row(&self.words.say("exercise-off-by-piece"));
                sums.asked(self, (row, 0), CountedIn::Weight, Rule::Over(off, count))?;
            }
        }
        sums.settle(self);
        Some(sums)
    }

    /// The slips of a formula that a learner can see on a page; each proved once.
    fn slips_that_show(
        &self,
        name: &Name,
        document: &Document,
    ) -> Result<Rc<Vec<PlantedSlip>>, String> {
        if let Some((_, slips)) = self.slips.borrow().iter().find(|(it, _)| it.key == name.key) {
            return Ok(Rc::clone(slips));
        }
        let formula = self.house.formula(&name.key).ok_or("there is no such formula")?;
        let sound = inherited(self.house, formula).into_owned();
        let before = self.judged(&sound).ok_or("it can't be worked out")?;
        let slips = spoilt_ways(&sound, document).into_iter().filter_map(|(key, way, spoilt)| {
            let is_new = |it: &Finding| !before.iter().any(|known| known.rule.name == it.rule.name);
            let mut new = self.judged(&spoilt)?;
            new.retain(is_new);
            new.dedup_by_key(|it| it.rule.name);
            let [finding] = new.as_slice() else { return None };
            // What has no words for a learner proves nothing to one.
            if OF_THE_YIELD.contains(&finding.rule.name) || self.finding_said(finding).is_none() {
                return None;
            }
            let finding = finding.clone();
            let worked = work(self.house, &spoilt, &mut Vec::new());
            let lines = self.document_of(&worked).total;
            let is_seen = shows_slip(&lines, document, &key)
                && others_stand(&lines, document, &key)
                && match way {
                    SpoiltBy::Tenfold => shows_tenfold(&lines, document, &key),
                    SpoiltBy::Swapped => shows_swap(&lines, document, &key),
                    SpoiltBy::LeftOut => true,
                };
            is_seen.then_some(PlantedSlip { way, key, finding, lines })
        });
        let slips = Rc::new(slips.collect::<Vec<_>>());
        self.slips.borrow_mut().push((name.clone(), Rc::clone(&slips)));
        Ok(slips)
    }

    /// What `check` finds in a formula, errors and warnings; none where it can't be worked out.
    fn judged(&self, formula: &Formula) -> Option<Vec<Finding>> {
        let mut findings: Vec<Finding> = Vec::new();
        let worked = work(self.house, formula, &mut findings);
        if !worked.sound || !worked.readable {
            return None;
        }
        check::check(self.house, formula, &worked, &mut findings);
        findings.retain(|it| it.level != Severity::Note);
        findings.sort_by(|one, other| {
            (one.rule.name, &one.message).cmp(&(other.rule.name, &other.message))
        });
        Some(findings)
    }

    /// A small percentage with a digit more, so that ten times as much says what it should be.
    fn fine_percent(&self, line: &LinePart, percent: &str) -> String {
        let exact = line.percent_exact.as_deref().and_then(read_exact);
        let exact = exact.map(|it| it * int(100)).filter(|it| *it < Exact::ONE);
        exact.map_or_else(|| percent.to_owned(), |it| self.words.number(&trimmed(&it, 2)))
    }

    /// A line's percentage, where there is a column for it, and its weight by itself: no sum
    /// stands below, and each weight goes with its percentage.
    fn cells_of(&self, line: &LinePart, columns: usize) -> Vec<TableCell> {
        let grams = line.weight.as_ref().and_then(|weight| read_exact(&weight.grams));
        let weight = match grams {
            Some(grams) => {
                let ((shown, unit), ..) = self.fine_weight(&grams);
                TableCell::of(shown, unit)
            }
            None => TableCell::of(line.soft.clone().unwrap_or_default(), ""),
        };
        let percent = match &line.percent {
            Some(percent) => TableCell::of(self.fine_percent(line, percent), "%"),
            None => TableCell::default(),
        };
        if columns == 1 { vec![weight] } else { vec![percent, weight] }
    }
}

/// What a line weighs that is ten times too large or too small, and whether it should be more;
/// none of another slip.
fn tenfold_of(slip: &PlantedSlip, right: &LinePart) -> Option<(Exact, bool)> {
    if matches!(slip.way, SpoiltBy::Swapped | SpoiltBy::LeftOut) {
        return None;
    }
    let line = slip.lines.iter().find(|line| line.key == slip.key)?;
    let spoilt = read_exact(line.percent_exact.as_deref()?)?;
    let right = read_exact(right.percent_exact.as_deref()?)?;
    let times = if spoilt > right { spoilt.over(&right)? } else { right.over(&spoilt)? };
    let grams = read_exact(&line.weight.as_ref()?.grams)?;
    (times == int(10)).then_some((grams, spoilt < right))
}

/// Whether two percentages are the same number: `20.0 %` and `20 %`.
fn is_same(one: &str, other: &str) -> bool {
    let plain = |words: &str| {
        let number = words.trim_end_matches(" %").replace(',', ".");
        let has_mark = number.contains('.');
        let ends = if has_mark { number.trim_end_matches('0') } else { number.as_str() };
        ends.trim_end_matches('.').to_owned()
    };
    plain(one) == plain(other)
}
