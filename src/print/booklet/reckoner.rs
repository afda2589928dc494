//! Ready reckoners: every ingredient's weight for every size of a formula. Each column is
//! what the formula's own print shows for that yield, so each adds up by the scale.

use super::compare::named;
use super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::maker::Maker;
use crate::formula::Worked;
use crate::formula::weighing::ShownWeight;
use crate::print::document::{Document, LinePart, MixPart, Weight};
use crate::print::findings as say;
use crate::quantity::display::Scale;
use crate::quantity::{Exact, Unit, int};
use crate::source::Span;
use crate::syntax::booklet::{Reckoner, Sizes, Steps};
use crate::syntax::tree::{Factor, Makes, Name, Quantity};

/// The most columns of sizes that stand side by side.
pub const MAX: usize = 8;
/// The same where they are set large.
pub const MAX_LARGE: usize = 3;

/// The most columns that one range may ask for.
const MAX_STEPS: usize = 120;

/// A size, and what stands above its column.
struct Size {
    title: String,
    makes: Option<Makes>,
}

/// The columns of each table, where no more than so many have room: as many each, or one more.
pub fn evenly<T>(columns: &[T], most: usize) -> Vec<&[T]> {
    let tables = columns.len().div_ceil(most.max(1)).max(1);
    let (each, more) = (columns.len() / tables, columns.len() % tables);
    let mut rest = columns;
    let part = |at: usize| {
        let (own, others) = rest.split_at(each + usize::from(at < more));
        rest = others;
        own
    };
    (0..tables).map(part).collect()
}

impl<'a> Maker<'a> {
    /// The tables of a reckoner, with so many columns at most in each.
    pub fn reckoner(&self, table: &Reckoner, most: usize) -> Vec<TablePart> {
        match table {
            Reckoner::General(general, steps) => self.general(general, steps.as_ref(), most),
            Reckoner::Formula { formula, sizes } => {
                let Some(own) = self.worked_as(formula, None) else { return Vec::new() };
                let Some(all) = self.sizes(&own, sizes, formula) else { return Vec::new() };
                let worked: Option<Vec<_>> =
                    all.iter().map(|size| self.worked_as(formula, size.makes.as_ref())).collect();
                let documents = self.side_by_side(&worked.unwrap_or_default());
                let titles = all.into_iter().map(|size| size.title);
                let made: Vec<(String, Document)> = titles.zip(documents).collect();
                // By flour, by what is in the jar: two reckoners of one formula have two titles.
                let by = match sizes {
                    Sizes::From { of, .. } if *of.name.key == *"flour" => {
                        Some(self.words.say("figure-flour"))
                    }
                    Sizes::From { of, .. } => Some(of.name.shown.to_string()),
                    _ => None,
                };
                self.tables(&made, by.as_deref(), most)
            }
        }
    }

    /// The grams of dough of each column of a reckoner of some formula; none of others.
    pub fn reckoned(&self, table: &Reckoner, key: &str) -> Vec<Exact> {
        let Reckoner::Formula { formula, sizes } = table else { return Vec::new() };
        let own = self.worked_as(formula, None).filter(|_| formula.key == key);
        let sizes = own.and_then(|own| self.sizes(&own, sizes, formula));
        let made = sizes.into_iter().flatten().filter_map(|size| {
            Some(self.worked_as(formula, size.makes.as_ref())?.first().whole.mass())
        });
        made.collect()
    }

    fn sizes(&self, own: &Worked, sizes: &Sizes, formula: &Name) -> Option<Vec<Size>> {
        match sizes {
            Sizes::Usual => Some(self.usual(own, formula.span)),
            Sizes::Pieces { counts, kind, span } => {
                let size = |count: &Quantity| Size {
                    title: self.counted(&count.number, &kind.shown),
                    makes: Some(Makes::of_pieces(count.clone(), kind.clone(), *span)),
                };
                Some(counts.iter().map(size).collect())
            }
            Sizes::From { steps, of } => {
                let size = |amount: Quantity| Size {
                    title: self.amount_of(&self.amount_words(&amount), &of.name),
                    makes: Some(Makes::of_amount(amount, of.clone(), steps.span)),
                };
                Some(self.amounts(steps)?.into_iter().map(size).collect())
            }
        }
    }

    /// `500 g of flour`, `50 g of levain`.
    fn amount_of(&self, weight: &str, of: &Name) -> String {
        if *of.key == *"flour" {
            return self.words.fill("exercise-of-flour", &[("weight", weight)]);
        }
        let stage: &str = &of.shown;
        let of_stage = self.words.of(stage);
        let args = [("stage", stage), ("of-stage", of_stage.as_str()), ("weight", weight)];
        self.words.fill("exercise-of-stage", &args)
    }

    /// What a formula makes, half of it and several times as much.
    fn usual(&self, own: &Worked, span: Span) -> Vec<Size> {
        let pieces = &own.first().pieces;
        let times = [(1, 2), (1, 1), (2, 1), (3, 1), (4, 1), (6, 1)];
        let size = |(above, below): (i64, i64)| {
            let factor = crate::quantity::ratio(above, below);
            let counts: Vec<Exact> = pieces.iter().map(|it| &it.made.count * &factor).collect();
            if !counts.iter().all(Exact::is_int) {
                return None;
            }
            let title = match pieces.first() {
                Some(first) if pieces.len() == 1 => self.counted(&counts[0], &first.made.kind),
                _ => format!(
                    "{} ×",
                    self.words.number(&crate::quantity::display::trimmed(&factor, 2))
                ),
            };
            let makes = Makes::times(Factor::Times(factor), span);
            Some(Size { title, makes: (above != below).then_some(makes) })
        };
        times.into_iter().filter_map(size).collect()
    }

    /// `5 loaves`
    pub fn counted(&self, count: &Exact, kind: &str) -> String {
        let kind = self.words.name("piece", kind).unwrap_or_else(|| kind.to_owned());
        let language = crate::print::wording::language_of(&self.words.tag);
        let kind = crate::formula::in_number(&kind, count, language);
        format!("{} {kind}", self.words.number(&crate::quantity::display::trimmed(count, 2)))
    }

    /// Every amount of a range.
    pub fn amounts(&self, steps: &Steps) -> Option<Vec<Quantity>> {
        let base = |it: &Quantity| self.house.base(it);
        let difference = |it: &Quantity| match it.unit {
            // So many degrees between two of them.
            Unit::Fahrenheit => &it.number * crate::quantity::ratio(5, 9),
            Unit::Celsius => it.number.clone(),
            _ => base(it),
        };
        let (low, high, every) = (base(&steps.low), base(&steps.high), difference(&steps.every));
        if every.is_zero() || every < Exact::ZERO || high < low {
            self.say(say::table_not_possible::no_steps(steps.span));
            return None;
        }
        let mut all = Vec::new();
        let mut amount = low;
        while amount <= high {
            if all.len() == MAX_STEPS {
                self.say(say::table_not_possible::too_many(steps.span, MAX_STEPS));
                return None;
            }
            // In the unit of the step, so that it reads as it was written.
            let unit = match steps.low.unit.dimension() {
                crate::quantity::Dimension::Mass => Unit::Gram,
                crate::quantity::Dimension::Temperature => Unit::Celsius,
                _ => steps.low.unit,
            };
            let number = unit.count_in(&amount, self.house.settings.measures);
            all.push(Quantity { number, unit, decimals: None, span: steps.span });
            amount += &every;
        }
        Some(all)
    }

    /// `250 g`, `1.5 kg`, without closing zeros.
    pub fn amount_words(&self, amount: &Quantity) -> String {
        if amount.unit.dimension() != crate::quantity::Dimension::Mass {
            let number = crate::quantity::display::trimmed(&amount.number, 2);
            return format!("{} {}", self.words.number(&number), amount.unit.spelling());
        }
        let (number, unit) = self.alone(&self.house.base(amount), true);
        format!("{number} {unit}")
    }

    fn tables(&self, made: &[(String, Document)], by: Option<&str>, most: usize) -> Vec<TablePart> {
        let Some((_, first)) = made.first() else { return Vec::new() };
        let title = self.words.fill("booklet-reckoner", &[("formula", &first.title)]);
        let title = by.map_or_else(|| title.clone(), |by| format!("{title} ({by})"));
        let parts = evenly(made, most).into_iter().enumerate().map(|(at, made)| TablePart {
            title: title.clone(),
            names: self.words.say("print-ingredient"),
            columns: made
                .iter()
                .map(|(title, _)| TableColumn { title: title.clone(), under: String::new() })
                .collect(),
            rows: self.rows(made),
            goes_on: at > 0,
            ..TablePart::default()
        });
        parts.collect()
    }

    /// The lines of every mix for every size; a single dough needs no head.
    fn rows(&self, made: &[(String, Document)]) -> Vec<TableRow> {
        let Some((_, first)) = made.first() else { return Vec::new() };
        let mut rows = Vec::new();
        for (at, mix) in first.mixes.iter().enumerate() {
            let own: Vec<&MixPart> =
                made.iter().filter_map(|(_, document)| document.mixes.get(at)).collect();
            if first.mixes.len() > 1 {
                let (kind, name) = ("head".into(), mix.title.clone());
                rows.push(TableRow { kind, name, cells: Vec::new() });
            }
            for (line, part) in mix.lines.iter().enumerate() {
                let cells =
                    own.iter().map(|mix| mix.lines.get(line).map_or_else(TableCell::default, cell));
                let (kind, name) = ("line".into(), named(part));
                rows.push(TableRow { kind, name, cells: cells.collect() });
            }
            let cells = own.iter().map(|mix| of_weight(&mix.sum));
            let name = self.words.say("print-total");
            rows.push(TableRow { kind: "sum".into(), name, cells: cells.collect() });
        }
        rows
    }
}

fn cell(line: &LinePart) -> TableCell {
    match &line.weight {
        Some(weight) => of_weight(weight),
        None => TableCell::of(line.soft.clone().unwrap_or_default(), ""),
    }
}

fn of_weight(weight: &Weight) -> TableCell {
    TableCell::of(format!("{}{}", weight.mark(), weight.shown), &weight.unit)
}

/// A whole number as an exact one.
pub fn whole(number: u32) -> Exact {
    int(i64::from(number))
}

/// Parts of a weight on a scale, so that they come to it: all by the step of the largest one,
/// or by the finest of them where that would change a small one much. What is lacking goes
/// to those that lost most.
pub fn adding_up(scale: &Scale, parts: &[Exact], whole: &Exact) -> Vec<ShownWeight> {
    let steps: Vec<Exact> = parts.iter().map(|part| scale.resolution(part)).collect();
    let step = |step: Option<&Exact>| step.filter(|it| !it.is_zero()).cloned();
    let (coarsest, finest) = (step(steps.iter().max()), step(steps.iter().min()));
    let of_step = |step: Exact| {
        let lower = |part: &Exact| part.over(&step).map_or(Exact::ZERO, |it| it.floor()) * &step;
        let mut shown: Vec<Exact> = parts.iter().map(lower).collect();
        let sum = shown.iter().fold(Exact::ZERO, |sum, it| sum + it);
        let mut lacking = (whole - sum).over(&step)?.nearest();
        let mut by_loss: Vec<usize> = (0..parts.len()).collect();
        by_loss.sort_by(|one, other| {
            let lost = |at: usize| &parts[at] - &shown[at];
            lost(*other).cmp(&lost(*one))
        });
        for at in by_loss {
            if lacking > Exact::ZERO {
                shown[at] = &shown[at] + &step;
                lacking -= Exact::ONE;
            }
        }
        let shown = shown.into_iter().map(|grams| ShownWeight { grams, step: step.clone() });
        Some(shown.collect::<Vec<_>>())
    };
    let is_near = |shown: &Vec<ShownWeight>| {
        parts.iter().zip(shown).all(|(part, shown)| {
            let off = part - &shown.grams;
            off.clone().max(-off) <= part * crate::quantity::ratio(MAX_OFF, 100)
        })
    };
    let alone = || parts.iter().map(|part| ShownWeight::alone(scale, part)).collect::<Vec<_>>();
    let coarse = coarsest.and_then(of_step).filter(is_near);
    let is_exact = |shown: &Vec<ShownWeight>| {
        parts.iter().zip(shown).all(|(part, shown)| *part == shown.grams)
    };
    // Each by its own step, where that comes to it already.
    let own = alone();
    let comes_to_it = own.iter().fold(Exact::ZERO, |sum, it| sum + &it.grams) == *whole;
    if comes_to_it && !coarse.as_ref().is_some_and(is_exact) {
        return own;
    }
    let fine = || finest.and_then(of_step);
    coarse.or_else(fine).unwrap_or_else(alone)
}

/// How much of a part rounding may change, in per cent: what a sheet bears, too.
const MAX_OFF: i64 = 2;
