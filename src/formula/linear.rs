//! Masses that are not known yet, and the equations that settle them.
//!
//! Every mass of a formula is a sum of a constant and multiples of a few unknowns
//! (the flour of each mix, mostly). The equations say how large the stages are and
//! what the formula makes; they are solved exactly.

use crate::quantity::Exact;

/// The number of an unknown.
pub type Unknown = usize;

/// A constant and multiples of unknowns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LinearExpr {
    /// The part that waits for nothing, in grams.
    pub constant: Exact,
    terms: Vec<(Unknown, Exact)>,
}

impl LinearExpr {
    /// A mass that is known.
    pub fn constant(value: Exact) -> Self {
        Self { constant: value, terms: Vec::new() }
    }

    /// One unknown by itself.
    pub fn unknown(unknown: Unknown) -> Self {
        Self { constant: Exact::ZERO, terms: vec![(unknown, Exact::ONE)] }
    }

    /// Whether it is nothing, whatever the unknowns are.
    pub fn is_zero(&self) -> bool {
        self.constant.is_zero() && self.terms.iter().all(|(_, factor)| factor.is_zero())
    }

    /// Whether no unknown is in it.
    pub fn is_constant(&self) -> bool {
        self.terms.iter().all(|(_, factor)| factor.is_zero())
    }

    /// Adds `other` times `factor`.
    pub fn add(&mut self, other: &Self, factor: &Exact) {
        if factor.is_zero() {
            return;
        }
        self.constant += &other.constant * factor;
        for (unknown, multiple) in &other.terms {
            let multiple = multiple * factor;
            match self.terms.iter_mut().find(|(known, _)| known == unknown) {
                Some((_, old)) => *old += multiple,
                None => self.terms.push((*unknown, multiple)),
            }
        }
    }

    /// The sum of both.
    pub fn plus(mut self, other: &Self) -> Self {
        self.add(other, &Exact::ONE);
        self
    }

    /// What is left once the other is taken away.
    pub fn minus(mut self, other: &Self) -> Self {
        self.add(other, &-Exact::ONE);
        self
    }

    /// So many times this.
    pub fn times(&self, factor: &Exact) -> Self {
        let mut product = Self::default();
        product.add(self, factor);
        product
    }

    /// How the form changes when the unknowns change so.
    fn slope(&self, change: &[Exact]) -> Exact {
        self.value(change) - &self.constant
    }

    /// The mass once the unknowns are known.
    pub fn value(&self, unknowns: &[Exact]) -> Exact {
        let mut sum = self.constant.clone();
        for (unknown, factor) in &self.terms {
            if let Some(value) = unknowns.get(*unknown) {
                sum += factor * value;
            }
        }
        sum
    }
}

/// Equations of the kind `form = 0`.
#[derive(Clone, Debug, Default)]
pub struct EquationSystem {
    unknowns: usize,
    equations: Vec<LinearExpr>,
}

/// What the equations say.
#[derive(Debug)]
pub struct Solution {
    /// A value for each unknown; those that nothing settles are zero.
    pub values: Vec<Exact>,
    /// For each unknown that nothing settles, how all values change with it.
    open: Vec<Vec<Exact>>,
    /// Whether two equations contradict each other.
    pub contradiction: bool,
}

impl Solution {
    /// Whether a form has a value already, whatever is still open.
    pub fn settles(&self, form: &LinearExpr) -> bool {
        self.open.iter().all(|change| form.slope(change).is_zero())
    }

    /// Demands one more thing, which settles one unknown that is open.
    pub fn demand(&mut self, form: &LinearExpr) {
        let wanted = -form.value(&self.values);
        let slopes: Vec<Exact> = self.open.iter().map(|change| form.slope(change)).collect();
        let inverse = slopes.iter().map(|slope| Exact::ONE.over(slope));
        let Some((settled, inverse)) =
            inverse.enumerate().find_map(|(at, inverse)| Some((at, inverse?)))
        else {
            self.contradiction |= !wanted.is_zero();
            return;
        };
        let change = self.open.remove(settled);
        let step = wanted * &inverse;
        for (value, change) in self.values.iter_mut().zip(&change) {
            *value += change * &step;
        }
        // What is still open keeps the demand true.
        let mut others = slopes.clone();
        others.remove(settled);
        for (other, slope) in self.open.iter_mut().zip(&others) {
            for (other, change) in other.iter_mut().zip(&change) {
                *other -= change * (slope * &inverse);
            }
        }
    }
}

impl EquationSystem {
    /// One unknown more.
    pub fn new_unknown(&mut self) -> Unknown {
        self.unknowns += 1;
        self.unknowns - 1
    }

    /// Demands that `form` is zero.
    pub fn demand(&mut self, form: LinearExpr) {
        if !form.is_zero() {
            self.equations.push(form);
        }
    }

    /// Solves by elimination, in the order of the unknowns.
    pub fn solve(&self) -> Solution {
        let mut rows: Vec<Vec<Exact>> = self.equations.iter().map(|form| self.row(form)).collect();
        let mut pivots = vec![None; self.unknowns];
        let mut next = 0;
        for unknown in 0..self.unknowns {
            let Some(found) = (next..rows.len()).find(|&row| !rows[row][unknown].is_zero()) else {
                continue;
            };
            rows.swap(next, found);
            eliminate(&mut rows, next, unknown);
            pivots[unknown] = Some(next);
            next += 1;
        }
        let rest = rows.get(next..).unwrap_or_default();
        let contradiction = rest.iter().any(|row| !row[self.unknowns].is_zero());
        let column = |column: usize| -> Vec<Exact> {
            let cell = |pivot: &Option<usize>| match pivot {
                Some(row) => -rows[*row][column].clone(),
                None => Exact::ZERO,
            };
            pivots.iter().map(cell).collect()
        };
        let open = (0..self.unknowns).filter(|&unknown| pivots[unknown].is_none());
        let open = open
            .map(|unknown| {
                let mut change = column(unknown);
                change[unknown] = Exact::ONE;
                change
            })
            .collect();
        Solution { values: column(self.unknowns), open, contradiction }
    }

    fn row(&self, form: &LinearExpr) -> Vec<Exact> {
        let mut row = vec![Exact::ZERO; self.unknowns + 1];
        for (unknown, factor) in &form.terms {
            row[*unknown] += factor;
        }
        row[self.unknowns] = form.constant.clone();
        row
    }
}

/// Makes `rows[pivot]` have 1 at `unknown` and every other row 0 there.
fn eliminate(rows: &mut [Vec<Exact>], pivot: usize, unknown: usize) {
    let head = &rows[pivot][unknown];
    // A row without the unknown can't be a pivot.
    let Some(inverse) = Exact::ONE.over(head) else { return };
    if !head.is_one() {
        for cell in rows[pivot].iter_mut().skip(unknown).filter(|cell| !cell.is_zero()) {
            *cell *= &inverse;
        }
    }
    let pivot_row = rows[pivot].clone();
    for (index, row) in rows.iter_mut().enumerate() {
        if index == pivot || row[unknown].is_zero() {
            continue;
        }
        let factor = row[unknown].clone();
        for (cell, above) in row.iter_mut().zip(&pivot_row).skip(unknown) {
            if !above.is_zero() {
                *cell -= above * &factor;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{int, ratio};

    #[test]
    fn two_equations_settle_two_unknowns() {
        let mut system = EquationSystem::default();
        let (x, y) = (system.new_unknown(), system.new_unknown());
        // x + y = 10 and x = 3 y
        system.demand(
            LinearExpr::unknown(x)
                .plus(&LinearExpr::unknown(y))
                .minus(&LinearExpr::constant(int(10))),
        );
        system.demand(LinearExpr::unknown(x).minus(&LinearExpr::unknown(y).times(&int(3))));
        let solution = system.solve();
        assert_eq!(solution.values, [ratio(15, 2), ratio(5, 2)]);
        assert!(solution.open.is_empty() && !solution.contradiction);
    }

    #[test]
    fn what_is_open_and_what_contradicts_is_said() {
        let mut system = EquationSystem::default();
        let (x, y) = (system.new_unknown(), system.new_unknown());
        system.demand(LinearExpr::unknown(x).minus(&LinearExpr::constant(int(1))));
        let solution = system.solve();
        assert!(!solution.open.is_empty());
        assert!(solution.settles(&LinearExpr::unknown(x)));
        system.demand(LinearExpr::unknown(x).minus(&LinearExpr::constant(int(2))));
        assert!(system.solve().contradiction);
        let mut solution = solution;
        solution.demand(&LinearExpr::unknown(y).minus(&LinearExpr::constant(int(7))));
        assert_eq!(solution.values, [int(1), int(7)]);
        assert!(solution.open.is_empty() && !solution.contradiction);
    }
}
