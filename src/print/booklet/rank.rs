//! What a system of exact linear equations settles.

use crate::quantity::Exact;

/// A sum of unknowns with factors: one factor for each unknown.
pub type EquationRow = Vec<Exact>;

/// Equations, all of the form that some sum is known.
#[derive(Clone, Debug, Default)]
pub struct Equations {
    /// In echelon form: each with the place of its first unknown, whose factor is one.
    rows: Vec<(usize, EquationRow)>,
}

impl Equations {
    /// Adds an equation.
    pub fn demand(&mut self, row: EquationRow) {
        let mut row = self.reduced(row);
        let Some(first) = row.iter().position(|factor| !factor.is_zero()) else { return };
        let head = row[first].clone();
        row.iter_mut().for_each(|factor| *factor = factor.each_of(&head));
        for (_, known) in &mut self.rows {
            let factor = known[first].clone();
            subtract(known, &row, &factor);
        }
        self.rows.push((first, row));
    }

    /// Whether the equations settle what a sum comes to.
    pub fn settles(&self, row: &EquationRow) -> bool {
        self.reduced(row.clone()).iter().all(Exact::is_zero)
    }

    /// What is left of a sum when all that is settled is taken away.
    pub fn reduced(&self, mut row: EquationRow) -> EquationRow {
        for (first, known) in &self.rows {
            let factor = row.get(*first).cloned().unwrap_or_default();
            subtract(&mut row, known, &factor);
        }
        row
    }
}

fn subtract(row: &mut EquationRow, other: &EquationRow, factor: &Exact) {
    if factor.is_zero() {
        return;
    }
    for (own, other) in row.iter_mut().zip(other) {
        if !other.is_zero() {
            *own = &*own - other * factor;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::int;

    fn row(factors: &[i64]) -> EquationRow {
        factors.iter().map(|it| int(*it)).collect()
    }

    #[test]
    fn a_sum_is_settled_when_it_follows_from_the_equations() {
        let mut equations = Equations::default();
        equations.demand(row(&[1, 1, 1]));
        equations.demand(row(&[1, -1, 0]));
        assert!(equations.settles(&row(&[2, 0, 1])) && !equations.settles(&row(&[1, 0, 0])));
        equations.demand(row(&[0, 0, 2]));
        assert!(equations.settles(&row(&[1, 0, 0])) && equations.settles(&row(&[0, 5, 7])));
    }
}
