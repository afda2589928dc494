//! An exercise as it is printed: a page with blanks, and the same with its answers.

use super::document::{TableCell, TableColumn, TablePart, TableRow};

/// One exercise: a table with some cells to fill in, and how its answers follow.
#[derive(Clone, PartialEq)]
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

    /// The page with some rows, under a title.
    pub fn table(&self, title: String, rows: &[TableRow]) -> TablePart {
        let column = |title: &String| TableColumn { title: title.clone(), under: String::new() };
        TablePart {
            title,
            lead: self.lead.clone(),
            names: self.names.clone(),
            columns: self.columns.iter().map(column).collect(),
            rows: self.with_room(rows),
            ..TablePart::default()
        }
    }

    /// Rows whose blanks have as much room as the longest answer of their column needs.
    fn with_room(&self, rows: &[TableRow]) -> Vec<TableRow> {
        let longest = |column: usize| {
            let pairs = self.asked.iter().zip(&self.told);
            let cells = pairs.filter_map(|(asked, told)| {
                asked.cells.get(column).filter(|it| it.blank).and(told.cells.get(column))
            });
            cells.map(|it| it.shown.chars().count()).max().unwrap_or(0)
        };
        let mut rows = rows.to_vec();
        for column in 0..self.columns.len() {
            let room = longest(column);
            let cells = rows.iter_mut().filter_map(|row| row.cells.get_mut(column));
            for cell in cells.filter(|it| it.blank && it.room == 0) {
                cell.room = room;
            }
        }
        rows
    }
}
