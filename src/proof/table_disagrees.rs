//! Tables of a manuscript: sums, percentages, one column beside another.
//!
//! A column counts only where its cells or its head say its unit, and a rule between columns
//! only where most rows keep it; where they do not, the table is about something else and is
//! left alone.

use crate::bring::{Matched, Measure, Role, TOTALS, matched, measure, number, role};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{built_in, key};
use crate::quantity::display::{decimals_for, last_digit, to_step, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit, int, pair, ratio};
use crate::source::Span;
use std::ops::Range;

/// `table-disagrees`, a warning about a manuscript.
pub const RULE: Rule = Rule {
    name: "table-disagrees",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("table_disagrees.md"),
};

/// A cell with its place in the file.
#[derive(Clone, Debug)]
pub struct Cell {
    /// As it is read.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A number of a cell, in the base unit of its dimension.
#[derive(Clone, Debug)]
pub struct CellNumber {
    /// What it is.
    pub value: Exact,
    /// The worth of its last digit.
    pub step: Exact,
    /// What it is written in.
    pub unit: Unit,
}

/// A column of numbers of one dimension.
pub struct NumberColumn {
    /// Its number in the table.
    pub at: usize,
    /// What its cells are in where they say nothing else.
    pub unit: Unit,
    /// How many times the recipe it is for, where its head says so.
    pub times: Option<Exact>,
    /// Of each row below the heads.
    pub numbers: Vec<Option<CellNumber>>,
}

/// A table of ingredients.
pub struct IngredientTable<'t> {
    rows: &'t [Vec<Cell>],
    /// What each row below the heads is about.
    pub names: Vec<&'t str>,
    /// In their order.
    pub columns: Vec<NumberColumn>,
    /// The language of the names, where it is not English.
    tag: Option<&'t str>,
}

/// A slip: its row, its column, and what would be right.
struct CellSlip {
    row: usize,
    column: usize,
    working: String,
    /// What the cell would be.
    right: Exact,
}

impl<'t> IngredientTable<'t> {
    /// A table with its columns; none where it is not one of ingredients. The first row has
    /// the heads.
    pub fn read(rows: &'t [Vec<Cell>], language: &'t str) -> Option<Self> {
        let heads = rows.first()?;
        let below = rows.get(1..)?;
        let names_at = (0..heads.len()).find(|at| {
            let words = below.iter().filter_map(|row| row.get(*at));
            let words = words.filter(|cell| {
                cell.text.chars().any(char::is_alphabetic) && number(cell.text.trim()).is_none()
            });
            words.count() * 2 > below.len()
        })?;
        let name = |row: &'t Vec<Cell>| row.get(names_at).map_or("", |cell| cell.text.trim());
        let names: Vec<&str> = below.iter().map(name).collect();
        let columns = (0..heads.len()).filter(|at| *at != names_at);
        let columns: Vec<NumberColumn> = columns.filter_map(|at| column(rows, at)).collect();
        let tag = Some(language).filter(|code| !code.is_empty() && *code != "en");
        let is_food =
            |name: &&&str| !is_total(name) && !matches!(matched(name, tag), Matched::Unknown);
        let foods = names.iter().filter(is_food).take(2).count();
        (foods > 1 && !columns.is_empty()).then_some(Self { rows, names, columns, tag })
    }

    /// What is wrong in it.
    pub fn check(&self) -> Vec<Finding> {
        let mut slips = self.percentages();
        slips.extend(self.beside());
        // One wrong cell does not make the sum below it wrong.
        let sums = self.sums(&slips);
        slips.extend(sums);
        slips.extend(self.subtotals());
        slips.extend(self.cups());
        slips.sort_by_key(|slip| (slip.row, slip.column));
        slips.dedup_by_key(|slip| (slip.row, slip.column));
        slips.iter().filter_map(|slip| self.finding(slip)).collect()
    }

    fn finding(&self, slip: &CellSlip) -> Option<Finding> {
        let cell = self.rows.get(slip.row + 1)?.get(slip.column)?;
        let name = self.names.get(slip.row)?;
        let written = cell.text.trim();
        let message = format!("`{written}` of {name} does not fit this table: {}", slip.working);
        Some(
            Finding::new(&RULE, cell.span, message)
                .help("correct this cell, or those that it is worked out from"),
        )
    }

    /// A row of sums against what stands above it.
    fn sums(&self, slips: &[CellSlip]) -> Vec<CellSlip> {
        let Some(row) = self.names.iter().rposition(|name| is_total(name)) else {
            return Vec::new();
        };
        let slip = |column: &NumberColumn| {
            let total = column.numbers.get(row)?.as_ref()?;
            let above: Vec<&CellNumber> = self.single(column, 0..row).collect();
            let sum = above.iter().fold(Exact::ZERO, |sum, it| sum + &it.value);
            let step = above.iter().map(|it| &it.step).max()?;
            // Each may have been rounded by itself.
            let rounded = step * Exact::from(above.len() + 1) * ratio(1, 2);
            let slack = rounded.min((&sum * ratio(3, 1000)).max(step.clone()));
            let own = slips.iter().filter(|slip| slip.column == column.at && slip.row < row);
            let mended = own.fold(sum.clone(), |sum, slip| {
                let written = column.numbers.get(slip.row).and_then(Option::as_ref);
                written.map_or(sum.clone(), |written| &(&sum - &written.value) + &slip.right)
            });
            let fits = |sum: &Exact| (&total.value - sum).abs() <= slack;
            let is_off = above.len() > 1 && !fits(&sum) && !fits(&mended);
            is_off.then(|| CellSlip {
                row,
                column: column.at,
                working: format!("the rows above come to {}", shown(&mended, total)),
                right: mended.clone(),
            })
        };
        self.columns.iter().filter_map(slip).collect()
    }

    /// The numbers of rows that are no sums.
    fn single<'c>(
        &'c self,
        column: &'c NumberColumn,
        rows: Range<usize>,
    ) -> impl Iterator<Item = &'c CellNumber> {
        rows.filter(|row| self.names.get(*row).is_some_and(|name| !is_subtotal(name)))
            .filter_map(|row| column.numbers.get(row)?.as_ref())
    }

    /// `Total flour` is the sum of the rows since the last one of sums, of all rows above it, or of
    /// those of flour.
    fn subtotals(&self) -> Vec<CellSlip> {
        let mut all = Vec::new();
        let mut from = 0;
        for row in (0..self.names.len()).filter(|row| is_subtotal(self.names[*row])) {
            for column in &self.columns {
                let Some(Some(total)) = column.numbers.get(row) else { continue };
                let is_flour = |row: &usize| {
                    let store = match matched(self.names[*row], self.tag) {
                        Matched::Store(known, _) => built_in().ingredient_named(&key(&known)),
                        _ => None,
                    };
                    store.is_some_and(|it| it.class == crate::formula::class::Class::Flour)
                };
                let flours = (0..row).filter(is_flour);
                let flours = flours.filter_map(|row| column.numbers.get(row)?.as_ref());
                let sums: [Vec<&CellNumber>; 3] = [
                    flours.collect(),
                    self.single(column, from..row).collect(),
                    self.single(column, 0..row).collect(),
                ];
                let sums: Vec<Exact> = sums
                    .iter()
                    .filter(|numbers| numbers.len() > 1)
                    .map(|numbers| numbers.iter().fold(Exact::ZERO, |sum, it| sum + &it.value))
                    .collect();
                let fits = |sum: &Exact| {
                    let slack = (&total.step * int(2)).max(sum * ratio(3, 1000));
                    (&total.value - sum).abs() <= slack
                };
                if let Some(right) = sums.first().filter(|_| !sums.iter().any(fits)) {
                    all.push(CellSlip {
                        row,
                        column: column.at,
                        working: format!("the rows above come to {}", shown(right, total)),
                        right: right.clone(),
                    });
                }
            }
            from = row + 1;
        }
        all
    }

    fn rows_of<'c>(
        &'c self,
        one: &'c NumberColumn,
        two: &'c NumberColumn,
    ) -> impl Iterator<Item = (usize, &'c CellNumber, &'c CellNumber)> {
        let both = one.numbers.iter().zip(&two.numbers).enumerate();
        both.filter_map(|(row, (one, two))| Some((row, one.as_ref()?, two.as_ref()?)))
    }

    /// Percentages against weights: each row has the same 100 %.
    fn percentages(&self) -> Vec<CellSlip> {
        let weights = self.columns.iter().find(|it| it.unit.dimension() == Dimension::Mass);
        let shares = self.columns.iter().find(|it| it.unit == Unit::Percent);
        let (Some(weights), Some(shares)) = (weights, shares) else { return Vec::new() };
        let is_own = |row: usize| self.names.get(row).is_some_and(|name| !is_total(name));
        let rows: Vec<_> = self.rows_of(weights, shares).filter(|(row, ..)| is_own(*row)).collect();
        let bases = rows.iter().filter_map(|(_, weight, share)| weight.value.over(&share.value));
        let Some(base) = most_common(bases.collect()) else { return Vec::new() };
        let wrong = rows.iter().filter_map(|(row, weight, share)| {
            let right = weight.value.over(&base)?;
            let slack = share.step.one_in::<2>() + weight.step.over(&base)?.one_in::<2>();
            let is_off = (&right - &share.value).abs() > slack;
            let working = || {
                let base = shown(&base, weight);
                format!("{} ÷ {base} = {}", shown(&weight.value, weight), shown(&right, share))
            };
            is_off.then(|| CellSlip {
                row: *row,
                column: shares.at,
                working: working(),
                right: right.clone(),
            })
        });
        few(wrong.collect(), rows.len())
    }

    /// Weights in two units, or for two sizes of the recipe.
    fn beside(&self) -> Vec<CellSlip> {
        let mut all = Vec::new();
        let masses = self.columns.iter().filter(|it| it.unit.dimension() == Dimension::Mass);
        let masses: Vec<&NumberColumn> = masses.collect();
        let Some((first, rest)) = masses.split_first() else { return all };
        for other in rest {
            let rows: Vec<_> = self.rows_of(first, other).collect();
            let ratios = rows.iter().filter_map(|(_, one, two)| two.value.over(&one.value));
            let Some(common) = most_common(ratios.collect()) else { continue };
            let one = first.times.clone().unwrap_or(Exact::ONE);
            let written = other.times.as_ref().and_then(|two| two.over(&one));
            let times = written.unwrap_or_else(|| match (&common - int(1)).abs() < ratio(1, 10) {
                true => Exact::ONE,
                false => to_step(&common, &ratio(1, 4)),
            });
            let wrong = rows.iter().filter_map(|(row, one, two)| {
                let right = &one.value * &times;
                let is_same = if is_metric(one.unit) && is_metric(two.unit) {
                    let slack = &one.step * &times * ratio(1, 2) + two.step.one_in::<2>();
                    (&right - &two.value).abs() <= slack
                } else {
                    let told =
                        |number: &CellNumber, value: &Exact, times: &Exact| pair::PairAmount {
                            value: value.clone(),
                            step: &number.step * times,
                            unit: number.unit,
                        };
                    pair::agree(&told(one, &right, &times), &told(two, &two.value, &Exact::ONE))
                };
                let working = || {
                    let times = match times.is_one() {
                        true => String::new(),
                        false => format!("{} × ", trimmed(&times, 2)),
                    };
                    format!("{times}{} = {}", shown(&one.value, one), shown(&right, two))
                };
                (!is_same).then(|| CellSlip {
                    row: *row,
                    column: other.at,
                    working: working(),
                    right: right.clone(),
                })
            });
            all.extend(few(wrong.collect(), rows.len()));
        }
        all
    }
}

fn is_metric(unit: Unit) -> bool {
    matches!(unit, Unit::Milligram | Unit::Gram | Unit::Kilogram)
}

/// How far a cup may be from the weight beside it: it is filled in many ways.
const FILLED: (i64, i64) = (25, 100);

impl IngredientTable<'_> {
    /// Volumes against the weights beside them, by the density of the stores.
    fn cups(&self) -> Vec<CellSlip> {
        let weights = self.columns.iter().find(|it| it.unit.dimension() == Dimension::Mass);
        let volumes = self.columns.iter().find(|it| it.unit.dimension() == Dimension::Volume);
        let (Some(weights), Some(volumes)) = (weights, volumes) else { return Vec::new() };
        let rows: Vec<_> = self.rows_of(weights, volumes).collect();
        let wrong = rows.iter().filter_map(|(row, weight, volume)| {
            let Matched::Store(known, _) = matched(self.names.get(*row)?, self.tag) else {
                return None;
            };
            let density = built_in().ingredient_named(&key(&known))?.grams_per_ml.as_ref()?;
            let weighed = &volume.value * density;
            let larger = weighed.clone().max(weight.value.clone());
            let slack = (larger * ratio(FILLED.0, FILLED.1)).max(&volume.step * density);
            let is_off = (&weighed - &weight.value).abs() > slack;
            let working = || {
                let cup = shown(&volume.value, volume);
                format!("{cup} of it weigh about {}", shown(&weighed, weight))
            };
            is_off.then(|| CellSlip {
                row: *row,
                column: volumes.at,
                working: working(),
                right: volume.value.clone(),
            })
        });
        few(wrong.collect(), rows.len())
    }
}

/// Slips that are few enough to be slips, and not another kind of table.
fn few(slips: Vec<CellSlip>, rows: usize) -> Vec<CellSlip> {
    if rows > 2 && slips.len() * 3 <= rows { slips } else { Vec::new() }
}

/// The value in the middle; none of fewer than three.
fn most_common(mut values: Vec<Exact>) -> Option<Exact> {
    values.retain(|value| *value > Exact::ZERO);
    values.sort();
    (values.len() > 2).then(|| values.swap_remove(values.len() / 2))
}

/// Whether a row is one of sums.
pub fn is_total(name: &str) -> bool {
    TOTALS.contains(&name.trim().to_lowercase().as_str())
}

/// Whether a row is a sum of some of the rows above it: `total flour`.
fn is_subtotal(name: &str) -> bool {
    const SUMS: [&str; 12] = [
        "total",
        "totals",
        "sum",
        "subtotal",
        "summe",
        "gesamt",
        "somme",
        "totale",
        "suma",
        "zwischensumme",
        "insgesamt",
        "all",
    ];
    let name = name.trim().to_lowercase();
    let joined = ["gesamt", "teil"].iter().any(|start| {
        name.strip_prefix(start).is_some_and(|rest| matches!(rest, "mehl" | "summe" | "menge"))
    });
    let mut words = name.split([' ', '-']);
    !is_total(&name) && (joined || words.any(|word| SUMS.contains(&word)))
}

/// Whether a row is one of sums, of all or of some.
pub fn is_sum(name: &str) -> bool {
    is_total(name) || is_subtotal(name)
}

fn column(rows: &[Vec<Cell>], at: usize) -> Option<NumberColumn> {
    let (heads, below) = rows.split_first()?;
    let head = heads.get(at)?.text.trim().to_lowercase();
    let (times, head_unit) = told_by_head(&head);
    let cell = |row: &Vec<Cell>| row.get(at).map(|cell| cell.text.trim().to_owned());
    let cells: Vec<String> = below.iter().map(|row| cell(row).unwrap_or_default()).collect();
    let said = cells.iter().find_map(|cell| {
        let found = number(cell)?;
        unit_at(cell[found.length..].trim_start())
    });
    let unit = said.or(head_unit)?;
    let numbers: Vec<Option<CellNumber>> = cells.iter().map(|cell| read(cell, unit)).collect();
    let filled = cells.iter().filter(|cell| !cell.is_empty()).count();
    let is_column = numbers.iter().flatten().count() * 3 >= filled * 2 && filled > 1;
    is_column.then_some(NumberColumn { at, unit, times, numbers })
}

/// What a head says of the column below it: `×10`, `weight (g)`, `%`.
fn told_by_head(head: &str) -> (Option<Exact>, Option<Unit>) {
    let times = head.strip_prefix(['×', 'x']).or_else(|| head.strip_suffix(['×', 'x']));
    let times = times.and_then(|rest| {
        let rest = rest.trim();
        let found = number(rest)?;
        (found.length == rest.len() && found.low == found.high).then_some(found.low)
    });
    let unit = match role(head) {
        Some(Role::Weight(Some(unit))) => Unit::read(unit),
        Some(Role::Weight(None)) => Some(Unit::Gram),
        Some(Role::Percent) => Some(Unit::Percent),
        _ => times.as_ref().map(|_| Unit::Gram),
    };
    (times, unit)
}

fn unit_at(text: &str) -> Option<Unit> {
    match measure(text)? {
        (Measure::Unit(unit), _) => Unit::read(unit),
        _ => None,
    }
}

/// The number of a cell; none for a range, or for words.
pub fn read(cell: &str, usual: Unit) -> Option<CellNumber> {
    let found = number(cell)?;
    if found.low != found.high {
        return None;
    }
    let unit = unit_at(cell[found.length..].trim_start()).unwrap_or(usual);
    let written = cell.get(..found.length)?;
    let decimals = match written.rfind(['.', ',']) {
        Some(mark) if !found.low.is_int() => u8::try_from(written.len() - mark - 1).ok()?,
        _ => 0,
    };
    let is_fraction = written.contains(['/', '½', '¼', '¾', '⅓', '⅔', '⅛']);
    let digit = if is_fraction { ratio(1, 4) } else { last_digit(decimals) };
    let base = |value: &Exact| unit.to_base(value, Measures::default());
    Some(CellNumber { value: base(&found.low), step: base(&digit), unit })
}

/// A value as a number of a cell is written.
pub fn shown(value: &Exact, like: &CellNumber) -> String {
    let number = like.unit.count_in(value, Measures::default());
    let step = like.unit.count_in(&like.step, Measures::default());
    format!("{} {}", trimmed(&number, decimals_for(&step)), like.unit.spelling())
}

/// The cells of a table as they stand in a file.
pub fn cells(
    table: &crate::syntax::prose::ProseTable,
    span: &dyn Fn(Range<usize>) -> Span,
) -> Vec<Vec<Cell>> {
    let cell = |passage: &crate::syntax::prose::Passage| Cell {
        text: passage.text.clone(),
        span: span(passage.place(0..passage.text.len())),
    };
    table.rows.iter().map(|row| row.iter().map(cell).collect()).collect()
}
