//! `table-refuted`: a table that is claimed to be all of a formula, or of a mix of it, and is
//! not.

use super::table_disagrees::{Cell, CellNumber, IngredientTable, NumberColumn, is_total, shown};
use crate::bring::{Matched, matched, number};
use crate::check::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{LineRef, WorkedLine, key};
use crate::quantity::{Dimension, Exact, Unit, pair};
use crate::source::Span;

/// `table-refuted`, an error about a manuscript.
pub const RULE: Rule = Rule {
    name: "table-refuted",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("table_refuted.md"),
};

/// What a table is claimed to be all of.
pub struct Claim<'c, 'a, 't> {
    /// The formula.
    pub context: &'c Context<'a, 't>,
    /// The mix of it that is named; none for all of the formula.
    pub mix: Option<String>,
    /// The words of the claim.
    pub words: String,
    /// The table.
    pub span: Span,
}

/// The lines that a claim is about, with the flour that percentages are of.
fn lines<'a>(claim: &Claim<'_, 'a, '_>) -> Option<(&'a [WorkedLine], Exact)> {
    let worked = claim.context.worked;
    let numbers = claim.context.first();
    let mix = claim.mix.as_deref();
    let all = || match numbers.total_lines.is_empty() {
        true => (numbers.dough_lines.as_slice(), worked.added_flour(numbers)),
        false => (numbers.total_lines.as_slice(), worked.flour(&numbers.whole)),
    };
    match mix {
        None | Some("total") => Some(all()),
        Some("final dough" | "dough") => {
            Some((numbers.dough_lines.as_slice(), worked.added_flour(numbers)))
        }
        Some(name) => {
            let stages = &worked.formula.stages;
            let at = stages.iter().position(|stage| stage.name.key.as_str() == name)?;
            let stage = numbers.stages.get(at)?;
            Some((stage.lines.as_slice(), stage.basis.clone()))
        }
    }
}

/// What a claimed table says otherwise than the formula.
pub fn check(claim: &Claim, rows: &[Vec<Cell>], language: &str) -> Vec<Finding> {
    let of = &claim.words;
    let Some((lines, flour)) = lines(claim) else {
        let message = format!("`{of}` is nothing that can be in a table");
        return vec![
            Finding::new(&RULE, claim.span, message)
                .help("name a stage of the formula, `final dough` or `total`"),
        ];
    };
    let Some(table) = IngredientTable::read(rows, language) else {
        let message = format!("this table does not show `{of}`: it has no column of amounts");
        return vec![
            Finding::new(&RULE, claim.span, message)
                .help("a column says its unit in its head or in its cells"),
        ];
    };
    let mut findings = Vec::new();
    let mut seen: Vec<usize> = Vec::new();
    for (row, name) in table.names.iter().enumerate() {
        let cell_at = |column: usize| rows.get(row + 1).and_then(|cells| cells.get(column));
        if is_total(name) {
            let dough = lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
            cells(&table, row, &dough, &flour, |column, written, right| {
                let place = cell_at(column).map_or(claim.span, |cell| cell.span);
                findings.push(wrong(place, written, &format!("all of {of}"), right));
            });
            continue;
        }
        let mut own = lines.iter().enumerate();
        let is_it = |line: &WorkedLine| is_of(claim.context, line, name, language);
        let first = own.clone().find(|(_, line)| is_it(line)).map(|(at, _)| at);
        let new = own.find(|(at, line)| !seen.contains(at) && is_it(line)).map(|(at, _)| at);
        if new.is_none() && first.is_some() {
            let place = rows.get(row + 1).and_then(|cells| cells.first());
            let place = place.map_or(claim.span, |cell| cell.span);
            let message =
                format!("`{name}` stands here once more, and `{of}` has no other line of it");
            findings.push(Finding::new(&RULE, place, message).help("remove the row"));
            continue;
        }
        let Some(at) = new else {
            let place = rows.get(row + 1).and_then(|cells| cells.first());
            let place = place.map_or(claim.span, |cell| cell.span);
            let message = format!("`{name}` is not in `{of}`");
            findings.push(Finding::new(&RULE, place, message).help(format!(
                "its lines are {}",
                lines.iter().map(|line| line.name.as_str()).collect::<Vec<_>>().join(", ")
            )));
            continue;
        };
        seen.push(at);
        let Some(line) = lines.get(at) else { continue };
        if !line.mass.is_zero() {
            let unread = unread(&table, row, rows.get(row + 1));
            findings.extend(unread.into_iter().map(|cell| {
                let written = cell.text.trim();
                let message = format!("`{written}` of {name} can't be compared with `{of}`");
                Finding::new(&RULE, cell.span, message)
                    .help("write one number in the unit of its column, or drop the claim")
            }));
        }
        cells(&table, row, &line.mass, &flour, |column, written, right| {
            let place = cell_at(column).map_or(claim.span, |cell| cell.span);
            findings.push(wrong(place, written, &format!("{name} in {of}"), right));
        });
    }
    for (at, line) in lines.iter().enumerate() {
        if !seen.contains(&at) && !line.mass.is_zero() {
            let grams = crate::diag::amounts::grams(&line.mass);
            let message = format!("this table lacks `{}` of `{of}`: {grams}", line.name);
            findings.push(Finding::new(&RULE, claim.span, message).help("add a row for it"));
        }
    }
    findings
}

/// The cells of a row that say something and no number that can be compared: words, two numbers,
/// another unit than that of their column.
fn unread<'c>(table: &IngredientTable, row: usize, cells: Option<&'c Vec<Cell>>) -> Vec<&'c Cell> {
    let is_unread = |column: &&NumberColumn, cell: &&Cell| {
        let written = cell.text.trim();
        let is_empty = written.chars().all(|it| matches!(it, '-' | '–' | '—' | '.' | ' '));
        let number = column.numbers.get(row).and_then(Option::as_ref);
        let of_column = column.unit.dimension();
        let is_other = number.is_none_or(|it| it.unit.dimension() != of_column);
        !is_empty && (is_other || has_two_numbers(written))
    };
    let of = |column: &NumberColumn| cells.and_then(|cells| cells.get(column.at));
    let all = table.columns.iter().filter_map(|it| Some((it, of(it)?)));
    all.filter(|(column, cell)| is_unread(column, cell)).map(|(_, cell)| cell).collect()
}

/// `19 g 30 g`: two numbers of which nothing says that they are one.
fn has_two_numbers(written: &str) -> bool {
    let Some(found) = number(written) else { return false };
    let rest = written.get(found.length..).unwrap_or_default();
    let is_pair = rest.contains(['(', '/', '=', '≈', '[']);
    !is_pair && rest.contains(|letter: char| letter.is_ascii_digit())
}

fn wrong(place: Span, written: &str, of: &str, right: String) -> Finding {
    Finding::new(&RULE, place, format!("`{written}` is not right for {of}: {right}"))
        .help("correct the cell, or the formula")
        .repair(place, right, false)
}

/// Tells the cells of a row that are not what a mass and the flour make them.
fn cells(
    table: &IngredientTable,
    row: usize,
    mass: &Exact,
    flour: &Exact,
    mut tell: impl FnMut(usize, &str, String),
) {
    for column in &table.columns {
        let Some(Some(number)) = column.numbers.get(row) else { continue };
        let times = column.times.clone().unwrap_or(Exact::ONE);
        let right = match number.unit.dimension() {
            Dimension::Mass => mass * &times,
            Dimension::Share => match mass.over(flour) {
                Some(share) => share,
                None => continue,
            },
            _ => continue,
        };
        if !fits(number, &right) {
            tell(column.at, &shown(&number.value, number), shown(&right, number));
        }
    }
}

/// Whether a cell is what it should be, as nearly as it is written.
pub fn fits(number: &CellNumber, right: &Exact) -> bool {
    let slack = number.step.one_in::<2>();
    let is_near = (&number.value - right).abs() <= slack;
    let is_metric = !matches!(number.unit, Unit::Ounce | Unit::Pound);
    is_near
        || !is_metric && {
            let told = |value: &Exact| pair::PairAmount {
                value: value.clone(),
                step: number.step.clone(),
                unit: number.unit,
            };
            pair::agree(&told(&number.value), &told(right))
        }
}

/// Whether a line is what a row is called.
pub fn is_of(context: &Context, line: &WorkedLine, name: &str, language: &str) -> bool {
    if key(name) == line.key {
        return true;
    }
    let LineRef::Ingredient(id) = line.goes else { return false };
    if context.house.ingredient_id(&key(name)) == Some(id) {
        return true;
    }
    let tag = Some(language).filter(|code| !code.is_empty() && *code != "en");
    match matched(name, tag) {
        Matched::Store(known, _) => context.house.ingredient_id(&key(&known)) == Some(id),
        _ => false,
    }
}
