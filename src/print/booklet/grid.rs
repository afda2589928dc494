//! A formula's table as a learner sees it: cells, the equations that hold among them, and
//! what follows when some of them are hidden.
//!
//! The unknowns are the weights of the cells. A percentage that stands says that its weight
//! is so much of the flour of its column; a percentage that is hidden says nothing. Of the
//! equations between columns, only those count that hold exactly in this formula: what a
//! culture brings, for one, stands in no other column.

use super::compare::is_no_hydration;
use super::rank::{EquationRow, Equations};
use crate::print::document::{Document, LineKind, LinePart, MixPart, Weight};
use crate::quantity::Exact;
use crate::quantity::display::read_exact;

/// What a cell tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellKind {
    /// The weight of a line, or the sum of a column.
    Weight,
    /// The baker's percentage of a line.
    Percent,
    /// A figure of the whole formula.
    Figure,
}

/// A cell of the table.
#[derive(Clone, Debug)]
pub struct Cell {
    /// What it tells.
    pub kind: CellKind,
    /// The column it stands in.
    pub column: usize,
    /// The line of the column; none for its sum, or for a figure.
    pub line: Option<usize>,
    /// What prints show of it, and the unit after it.
    pub shown: (String, String),
    /// Its exact worth: grams, or a share of one.
    pub worth: Exact,
    /// Whether it is to be filled in.
    pub hidden: bool,
    /// What it is a share of, where it is one: unknowns, each counted once.
    share: Option<Share>,
    /// Of a weight, its unknown.
    unknown: Option<usize>,
}

/// A share: weights above over weights below.
#[derive(Clone, Debug)]
struct Share {
    above: Vec<usize>,
    below: Vec<usize>,
}

/// A column: the whole formula, a stage, or the dough.
#[derive(Clone, Debug)]
pub struct GridColumn {
    /// As prints call it.
    pub title: String,
    /// As a question names it: `total`, `levain`, `final dough`.
    pub name: String,
    /// Its lines.
    pub lines: Vec<LinePart>,
    /// What they come to.
    pub sum: Weight,
}

/// A formula's table.
pub struct Grid {
    /// Its columns.
    pub columns: Vec<GridColumn>,
    /// Its cells, column by column.
    pub cells: Vec<Cell>,
    /// Names of the figures that have a cell, in the order of their cells.
    pub figures: Vec<(String, String)>,
    /// Grams of each unknown.
    worths: Vec<Exact>,
    /// Sums of unknowns that come to nothing.
    relations: Vec<EquationRow>,
    /// What a reader calls each unknown.
    pub names: Vec<String>,
    /// What a culture is made of, where the total counts it: its name, and names with shares
    /// of one.
    pub culture: Option<(String, Vec<(String, Exact)>)>,
    /// What the sum of a column is called.
    pub sum: String,
}

/// Figures that are shares of weights in the table, and what stands above the flour.
const FIGURES: [(&str, &str); 2] = [("hydration", "water"), ("salt", "salt")];

impl Grid {
    /// The table of a formula.
    pub fn of(document: &Document) -> Self {
        let mut columns = vec![GridColumn {
            title: document.words.get("total-formula").cloned().unwrap_or_default(),
            name: "total".into(),
            lines: document.total.clone(),
            sum: document.total_sum.clone(),
        }];
        let mixes: Vec<GridColumn> = document.mixes.iter().map(column_of).collect();
        // A dough without stages is its own total: the same column twice would give each
        // blank of one away in the other.
        let is_total =
            |mix: &GridColumn| mixes.len() == 1 && says_the_same(&mix.lines, &document.total);
        if !mixes.iter().any(is_total) {
            columns.extend(mixes);
        }
        let mut grid = Self {
            columns,
            sum: "Σ".to_owned(),
            cells: Vec::new(),
            figures: Vec::new(),
            worths: Vec::new(),
            relations: Vec::new(),
            names: Vec::new(),
            culture: None,
        };
        for column in 0..grid.columns.len() {
            grid.cells_of(column);
        }
        grid.add_figures(document);
        grid.add_relations();
        grid
    }

    fn new_unknown(&mut self, worth: Exact, name: String) -> usize {
        self.worths.push(worth);
        self.names.push(name);
        self.worths.len() - 1
    }

    /// The cells of a column: weight and percentage of each line, and the sum.
    fn cells_of(&mut self, column: usize) {
        let own = self.columns[column].clone();
        let mut unknowns = Vec::new();
        for (line, part) in own.lines.iter().enumerate() {
            let Some((weight, grams)) = weighed(part) else {
                unknowns.push(None);
                continue;
            };
            let name = format!("{} ({})", super::compare::named(part), own.title);
            let unknown = self.new_unknown(grams.clone(), name);
            unknowns.push(Some(unknown));
            let shown = (format!("{}{}", weight.mark(), weight.shown), weight.unit.clone());
            self.cells.push(Cell {
                kind: CellKind::Weight,
                column,
                line: Some(line),
                shown,
                worth: grams,
                hidden: false,
                share: None,
                unknown: Some(unknown),
            });
        }
        let basis = self.basis_of(&own, &unknowns);
        for (line, part) in own.lines.iter().enumerate() {
            let share = part.percent_exact.as_deref().and_then(read_exact);
            let (Some(share), Some(Some(unknown))) = (share, unknowns.get(line)) else { continue };
            // A range is not what one weight comes to.
            let of = basis.as_ref().filter(|_| part.percent_low.is_none());
            let of = of.map(|below| Share { above: vec![*unknown], below: below.clone() });
            let percent = part.percent.clone().unwrap_or_default();
            self.cells.push(Cell {
                kind: CellKind::Percent,
                column,
                line: Some(line),
                shown: (percent, "%".into()),
                worth: share,
                hidden: false,
                share: of,
                unknown: None,
            });
        }
        self.sum_of(column, &own, &unknowns);
    }

    /// The unknowns that the percentages of a column are of: its flours or those of the
    /// total, whichever come to that; else what its percentages tell is not known from the
    /// table.
    fn basis_of(&self, column: &GridColumn, unknowns: &[Option<usize>]) -> Option<Vec<usize>> {
        let lines = column.lines.iter().zip(unknowns);
        let example = lines.clone().find_map(|(line, unknown)| {
            let share = line.percent_exact.as_deref().and_then(read_exact)?;
            self.worths.get((*unknown)?)?.over(&share)
        })?;
        let is_flour = |line: &LinePart| line.class.as_deref() == Some("flour");
        let of = |is_one: &dyn Fn(&LinePart) -> bool| -> Vec<usize> {
            let own = lines.clone().filter(|(line, _)| is_one(line));
            own.filter_map(|(_, unknown)| *unknown).collect()
        };
        let sum = |all: &[usize]| all.iter().fold(Exact::ZERO, |sum, it| sum + &self.worths[*it]);
        let all_flours = self.of_total(|line| line.class.as_deref() == Some("flour"));
        let comes_to = |flours: &Vec<usize>| !flours.is_empty() && sum(flours) == example;
        [of(&is_flour), all_flours].into_iter().find(comes_to)
    }

    /// The unknowns of some lines of the total.
    fn of_total(&self, is_one: impl Fn(&LinePart) -> bool) -> Vec<usize> {
        let lines = self.cells.iter().filter(|cell| cell.column == 0);
        let lines = lines.filter_map(|cell| {
            let line = self.columns.first()?.lines.get(cell.line?)?;
            if is_one(line) { cell.unknown } else { None }
        });
        lines.collect()
    }

    fn sum_of(&mut self, column: usize, own: &GridColumn, unknowns: &[Option<usize>]) {
        let Some(worth) = read_exact(&own.sum.grams) else { return };
        let lines: Vec<usize> = unknowns.iter().copied().flatten().collect();
        let all = lines.iter().fold(Exact::ZERO, |sum, it| sum + &self.worths[*it]);
        let name = format!("Σ ({})", own.title);
        let unknown = self.new_unknown(worth.clone(), name);
        if all == worth {
            self.relate(&lines, &[unknown]);
        }
        self.cells.push(Cell {
            kind: CellKind::Weight,
            column,
            line: None,
            shown: (format!("{}{}", own.sum.mark(), own.sum.shown), own.sum.unit.clone()),
            worth,
            hidden: false,
            share: None,
            unknown: Some(unknown),
        });
    }

    /// Some weights come to as much as some others.
    fn relate(&mut self, plus: &[usize], minus: &[usize]) {
        let mut row = Vec::new();
        let mut add = |unknown: usize, by: i64| {
            if row.len() <= unknown {
                row.resize(unknown + 1, Exact::ZERO);
            }
            row[unknown] = &row[unknown] + Exact::from(by);
        };
        plus.iter().for_each(|it| add(*it, 1));
        minus.iter().for_each(|it| add(*it, -1));
        self.relations.push(row);
    }

    /// Hydration and salt, where they are what the total's lines come to.
    fn add_figures(&mut self, document: &Document) {
        let of_class = |class: &str| self.of_total(|line| line.class.as_deref() == Some(class));
        let flours = of_class("flour");
        let mut found = Vec::new();
        for (name, class) in FIGURES {
            let figure = document.figures.iter().find(|figure| figure.name == name);
            let figure = figure.filter(|it| it.exact_high.is_none() && !is_no_hydration(it));
            let Some(figure) = figure else { continue };
            let Some(worth) = read_exact(&figure.exact) else { continue };
            let above = of_class(class);
            let sum =
                |all: &[usize]| all.iter().fold(Exact::ZERO, |sum, it| sum + &self.worths[*it]);
            if sum(&above).over(&sum(&flours)).as_ref() == Some(&worth) {
                let share = Some(Share { above, below: flours.clone() });
                found.push((figure, worth, share));
            }
        }
        for (figure, worth, share) in found {
            self.figures.push((figure.name.clone(), figure.label.clone()));
            self.cells.push(Cell {
                kind: CellKind::Figure,
                column: 0,
                line: None,
                shown: (figure.shown.clone(), figure.unit.clone()),
                worth,
                hidden: false,
                share,
                unknown: None,
            });
        }
    }

    /// What holds between columns: an ingredient of the total stands in the mixes, a stage
    /// in the dough is what was made of it, and the dough is what the total comes to.
    fn add_relations(&mut self) {
        let weights: Vec<(usize, Option<usize>, usize)> = self
            .cells
            .iter()
            .filter_map(|cell| Some((cell.column, cell.line, cell.unknown?)))
            .collect();
        let line_of = |column: usize, line: Option<usize>| {
            self.columns.get(column).and_then(|it| it.lines.get(line?))
        };
        let mut relations: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
        let is_counted = |kind| matches!(kind, LineKind::Ingredient | LineKind::Culture);
        // What stages and dough take of each line of the total.
        let mut taken: Vec<(&LinePart, Vec<usize>, usize)> = Vec::new();
        for (_, line, unknown) in
            weights.iter().filter(|(column, line, _)| *column == 0 && line.is_some())
        {
            let Some(own) = line_of(0, *line) else { continue };
            let parts = weights.iter().filter(|(column, line, _)| {
                *column > 0
                    && line_of(*column, *line)
                        .is_some_and(|it| it.key == own.key && is_counted(it.kind))
            });
            taken.push((own, parts.map(|(.., it)| *it).collect(), *unknown));
        }
        let brought = self.brought(&weights, &taken);
        relations.extend(taken.iter().map(|(_, parts, total)| (parts.clone(), vec![*total])));
        for (column, line, unknown) in &weights {
            let Some(own) = line_of(*column, *line).filter(|it| it.kind == LineKind::Stage) else {
                continue;
            };
            let stage = self.columns.iter().position(|it| it.name.to_lowercase() == own.key);
            let sum = weights.iter().find(|(at, line, _)| Some(*at) == stage && line.is_none());
            relations.extend(sum.map(|(.., sum)| (vec![*unknown], vec![*sum])));
        }
        let last = self.columns.len().saturating_sub(1);
        let sum_of = |wanted: usize| {
            weights.iter().find(|(column, line, _)| *column == wanted && line.is_none())
        };
        if let (Some(total), Some(dough)) = (sum_of(0), sum_of(last)) {
            relations.push((vec![total.2], vec![dough.2]));
        }
        let worth = |all: &[usize]| all.iter().fold(Exact::ZERO, |sum, it| sum + &self.worths[*it]);
        relations.retain(|(plus, minus)| !plus.is_empty() && worth(plus) == worth(minus));
        for (plus, minus) in relations {
            self.relate(&plus, &minus);
        }
        if let Some((culture, shares, rows)) = brought {
            self.relations.extend(rows);
            self.culture = Some((culture, shares));
        }
    }

    /// Where one culture alone brings what the total has more of than stages and dough take:
    /// its name, what it is made of, and for each line of the total that its parts, the rest
    /// of it with the culture's share, come to it.
    #[allow(clippy::type_complexity, reason = "taken apart where it is made")]
    fn brought(
        &self,
        weights: &[(usize, Option<usize>, usize)],
        taken: &[(&LinePart, Vec<usize>, usize)],
    ) -> Option<(String, Vec<(String, Exact)>, Vec<EquationRow>)> {
        let line_of =
            |column: usize, line: Option<usize>| self.columns.get(column)?.lines.get(line?);
        let is_culture = |column: usize, line: Option<usize>| {
            line_of(column, line).filter(|it| it.kind == LineKind::Culture)
        };
        let cultures: Vec<(&LinePart, usize)> = weights
            .iter()
            .filter_map(|(column, line, unknown)| Some((is_culture(*column, *line)?, *unknown)))
            .collect();
        let (first, _) = cultures.first()?;
        if cultures.iter().any(|(line, _)| line.key != first.key) {
            return None;
        }
        let sum = |all: &[usize]| all.iter().fold(Exact::ZERO, |sum, it| sum + &self.worths[*it]);
        let unknowns: Vec<usize> = cultures.iter().map(|(_, it)| *it).collect();
        let whole = sum(&unknowns);
        let (mut shares, mut rows, mut found) = (Vec::new(), Vec::new(), Exact::ZERO);
        for (line, parts, total) in taken {
            let more = &self.worths[*total] - sum(parts);
            if more.is_zero() {
                continue;
            }
            let share = more.over(&whole).filter(|it| *it > Exact::ZERO)?;
            let mut row = self.padded(Vec::new());
            row[*total] = -Exact::ONE;
            parts.iter().for_each(|it| row[*it] = Exact::ONE);
            unknowns.iter().for_each(|it| row[*it] = share.clone());
            rows.push(row);
            shares.push((super::compare::named(line), share));
            found += more;
        }
        (found == whole && !rows.is_empty()).then(|| (first.name.clone(), shares, rows))
    }

    // ---- What follows ----------------------------------------------------------------

    /// The equations that a learner has: what holds in the table, and every cell that stands.
    pub fn equations(&self) -> Equations {
        let mut equations = Equations::default();
        for row in &self.relations {
            equations.demand(self.padded(row.clone()));
        }
        for cell in self.cells.iter().filter(|cell| !cell.hidden) {
            equations.demand(self.row_of(cell));
        }
        equations
    }

    /// What a cell says as a sum of unknowns: its weight, or a share as `above − share ×
    /// below`, which comes to nothing.
    pub fn row_of(&self, cell: &Cell) -> EquationRow {
        let mut row = self.padded(Vec::new());
        if let Some(unknown) = cell.unknown {
            row[unknown] = Exact::ONE;
        }
        if let Some(share) = &cell.share {
            for unknown in &share.above {
                row[*unknown] = &row[*unknown] + Exact::ONE;
            }
            for unknown in &share.below {
                row[*unknown] = &row[*unknown] - &cell.worth;
            }
        }
        row
    }

    fn padded(&self, mut row: EquationRow) -> EquationRow {
        row.resize(self.worths.len(), Exact::ZERO);
        row
    }

    /// Hidden cells that don't follow from what is left.
    pub fn open_cells(&self) -> Vec<usize> {
        let equations = self.equations();
        let hidden = self.cells.iter().enumerate().filter(|(_, cell)| cell.hidden);
        let open = hidden.filter(|(_, cell)| match cell.kind {
            CellKind::Weight => !equations.settles(&self.row_of(cell)),
            // A share that no weights of the table make up follows from nothing.
            _ => cell.share.is_none() || !equations.settles(&self.row_of(cell)),
        });
        open.map(|(at, _)| at).collect()
    }

    /// Cells that stand and say no more and no less than a hidden one: the same share, or a
    /// weight that is another one.
    pub fn twins_that_stand(&self) -> Vec<usize> {
        let of_two = |row: &&EquationRow| row.iter().filter(|it| !it.is_zero()).count() == 2;
        let pairs: Vec<&EquationRow> = self.relations.iter().filter(of_two).collect();
        let is_twin = |one: &Cell, other: &Cell| match (one.unknown, other.unknown) {
            (Some(one), Some(other)) => pairs.iter().any(|row| {
                let factor = |at: usize| row.get(at).cloned().unwrap_or_default();
                one != other && !factor(one).is_zero() && factor(one) == -factor(other)
            }),
            (None, None) => {
                let shares = one.share.as_ref().zip(other.share.as_ref());
                let same = |(one, other): (&Share, &Share)| {
                    one.above == other.above && one.below == other.below
                };
                shares.is_some_and(same)
            }
            _ => false,
        };
        let standing = self.cells.iter().enumerate().filter(|(_, cell)| !cell.hidden);
        let twins = standing.filter(|(_, cell)| {
            self.cells.iter().any(|hidden| hidden.hidden && is_twin(cell, hidden))
        });
        twins.map(|(at, _)| at).collect()
    }

    /// Whether a percentage is a hundred by what it is of: that of a column's only flour.
    pub fn is_whole(&self, cell: usize) -> bool {
        self.share_of(cell).is_some_and(|(above, below)| above == below)
    }

    /// The unknowns a relation adds up and the one sum they come to, for each that holds.
    pub fn relations(&self) -> &[EquationRow] {
        &self.relations
    }

    /// The unknown of a weight.
    pub fn unknown_of(&self, cell: usize) -> Option<usize> {
        self.cells.get(cell)?.unknown
    }

    /// What a share is of: the unknowns above and below.
    pub fn share_of(&self, cell: usize) -> Option<(&[usize], &[usize])> {
        let share = self.cells.get(cell)?.share.as_ref()?;
        Some((&share.above, &share.below))
    }

    /// The cell that tells a weight.
    pub fn cell_of(&self, unknown: usize) -> Option<usize> {
        self.cells.iter().position(|cell| cell.unknown == Some(unknown))
    }

    /// What a reader calls a cell.
    pub fn name_of(&self, cell: usize) -> String {
        let Some(cell) = self.cells.get(cell) else { return String::new() };
        let column = &self.columns[cell.column];
        match (cell.kind, cell.line.and_then(|line| column.lines.get(line))) {
            (CellKind::Percent, Some(line)) => {
                format!("{} % ({})", super::compare::named(line), column.title)
            }
            (CellKind::Weight, Some(line)) => {
                format!("{} ({})", super::compare::named(line), column.title)
            }
            (CellKind::Figure, _) => {
                let before = self.cells.iter().filter(|it| it.kind == CellKind::Figure);
                let at = before.take_while(|it| !std::ptr::eq(*it, cell)).count();
                self.figures.get(at).map(|(_, label)| label.clone()).unwrap_or_default()
            }
            _ => format!("{} ({})", self.sum, column.title),
        }
    }
}

/// Whether two mixes have the same lines, of the same weights and percentages.
fn says_the_same(lines: &[LinePart], others: &[LinePart]) -> bool {
    let grams = |line: &LinePart| line.weight.as_ref().map(|it| it.grams.clone());
    let same = |one: &LinePart, other: &LinePart| {
        (&one.key, &one.role, &one.percent_exact) == (&other.key, &other.role, &other.percent_exact)
            && grams(one) == grams(other)
    };
    lines.len() == others.len()
        && lines.iter().all(|line| others.iter().any(|other| same(line, other)))
}

fn weighed(line: &LinePart) -> Option<(&Weight, Exact)> {
    let weight = line.weight.as_ref()?;
    Some((weight, read_exact(&weight.grams)?))
}

fn column_of(mix: &MixPart) -> GridColumn {
    GridColumn {
        title: mix.title.clone(),
        name: mix.name.clone(),
        lines: mix.lines.clone(),
        sum: mix.sum.clone(),
    }
}
