//! A table of ingredients that nobody claims anything of, beside the formula of its section:
//! where most rows are those of one of its mixes, the few others are slips.

use super::table_disagrees::{Cell, CellNumber, IngredientTable, RULE, is_sum, shown};
use super::table_refuted::{fits, is_of};
use crate::check::Context;
use crate::diag::Finding;
use crate::formula::WorkedLine;
use crate::quantity::{Dimension, Exact};

/// A mix of a formula: its lines, and what percentages in it are of.
struct MixLines<'n> {
    lines: &'n [WorkedLine],
    basis: Exact,
}

/// What cells of a table say otherwise than the formula of their section.
pub fn check(context: &Context, rows: &[Vec<Cell>], language: &str) -> Vec<Finding> {
    let Some(table) = IngredientTable::read(rows, language) else { return Vec::new() };
    let worked = context.worked;
    let [numbers] = worked.choices.as_slice() else { return Vec::new() };
    let mut mixes = vec![
        MixLines { lines: &numbers.total_lines, basis: worked.flour(&numbers.whole) },
        MixLines { lines: &numbers.dough_lines, basis: worked.added_flour(numbers) },
    ];
    mixes.extend(
        numbers
            .stages
            .iter()
            .map(|stage| MixLines { lines: &stage.lines, basis: stage.basis.clone() }),
    );
    let of_mix = |mix: &MixLines| of_mix(context, &table, rows, mix, language);
    // The mix that most rows are of says what the others should be.
    let told = mixes.iter().filter_map(of_mix).max_by_key(|(fits, _)| *fits);
    told.map(|(_, findings)| findings).unwrap_or_default()
}

/// How many cells are those of a mix, and what the others say otherwise; none where the table is
/// of something else.
fn of_mix(
    context: &Context,
    table: &IngredientTable,
    rows: &[Vec<Cell>],
    mix: &MixLines,
    language: &str,
) -> Option<(usize, Vec<Finding>)> {
    let names = table.names.iter().enumerate().filter(|(_, name)| !is_sum(name));
    let lines: Vec<(usize, &str, &WorkedLine)> = names
        .map(|(row, name)| {
            let mut own = mix.lines.iter().filter(|line| is_of(context, line, name, language));
            let line = own.next()?;
            // Two lines of one name, or a line of a range, have no one weight.
            (own.next().is_none() && line.more.is_zero()).then_some((row, *name, line))
        })
        .collect::<Option<_>>()?;
    let formula = &context.worked.formula.name.shown;
    let (mut all, mut found) = (0, Vec::new());
    for column in &table.columns {
        let right = |line: &WorkedLine| match column.unit.dimension() {
            Dimension::Mass => Some(line.mass.clone()),
            Dimension::Share => line.mass.over(&mix.basis),
            _ => None,
        };
        let cells: Vec<(usize, &str, &CellNumber, Exact)> = lines
            .iter()
            .filter_map(|(row, name, line)| {
                let number = column.numbers.get(*row)?.as_ref()?;
                let is_same = number.unit.dimension() == column.unit.dimension();
                Some((*row, *name, number, right(line)?)).filter(|_| is_same)
            })
            .collect();
        if cells.len() < 3 {
            continue;
        }
        let times = match column.unit.dimension() {
            Dimension::Mass => size(&cells)?,
            _ => Exact::ONE,
        };
        let is_right = |number: &CellNumber, right: &Exact| {
            let right = right * &times;
            let slack = &right * crate::quantity::ratio(1, 100);
            fits(number, &right) || (&number.value - &right).abs() <= slack
        };
        let wrong: Vec<_> =
            cells.iter().filter(|(_, _, number, right)| !is_right(number, right)).collect();
        // Two rows that are right may be so by chance.
        if wrong.len() * 2 > cells.len() || cells.len() - wrong.len() < 3 && !wrong.is_empty() {
            return None;
        }
        all += cells.len() - wrong.len();
        for (row, name, number, right) in wrong {
            let Some(cell) = rows.get(row + 1).and_then(|cells| cells.get(column.at)) else {
                continue;
            };
            let (written, right) = (cell.text.trim(), shown(&(right * &times), number));
            let beside = if times.is_one() { "" } else { " beside the other rows" };
            let message = format!("`{written}` of {name} is {right} in `{formula}`{beside}");
            found.push(
                Finding::new(&RULE, cell.span, message)
                    .help(
                        "correct the cell or the formula; if the table is of something else, put \
                         `<!-- assize: allow table-disagrees \"why\" -->` before it",
                    )
                    .repair(cell.span, right, false),
            );
        }
    }
    (all > 0).then_some((all, found))
}

/// How many times the formula a column of weights is: what most rows say, or once.
fn size(cells: &[(usize, &str, &CellNumber, Exact)]) -> Option<Exact> {
    let ratios = cells.iter().filter_map(|(_, _, number, right)| number.value.over(right));
    let mut ratios: Vec<Exact> = ratios.collect();
    ratios.sort();
    let middle = ratios.get(ratios.len() / 2)?.clone();
    let is_once = (&middle - Exact::ONE).abs() < crate::quantity::ratio(1, 100);
    Some(if is_once { Exact::ONE } else { middle })
}
