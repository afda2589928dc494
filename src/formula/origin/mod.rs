//! Where amounts come from: what brings the ingredients of a mix, and why its lines, stages
//! and pieces are as heavy as they are.
//!
//! Enters: a formula worked out, at one choice of range ends. Leaves: trees of [`Reason`],
//! which break amounts down that are known already; no figure is worked out here.

mod line;
pub(super) mod mixes;
mod pieces;
mod sizes;

use super::house::House;
use super::worked::{Numbers, Worked};
use crate::formula::subject::Subject;
use crate::quantity::Exact;
use crate::syntax::tree::Quantity;
use std::cell::RefCell;

/// What one tree of reasons is told from.
pub(super) struct Origin<'a, 't> {
    /// The formula.
    pub worked: &'a Worked<'t>,
    /// Its house.
    pub house: &'a House<'t>,
    /// For the choice of range ends that is looked at.
    pub numbers: &'a Numbers,
    /// Stages and what was asked of them that the tree holds already.
    told: RefCell<Vec<(usize, Subject)>>,
}

impl<'a, 't> Origin<'a, 't> {
    /// Where the amounts of one choice of range ends come from.
    pub fn new(worked: &'a Worked<'t>, numbers: &'a Numbers) -> Self {
        Self { worked, house: worked.house, numbers, told: RefCell::default() }
    }

    fn base(&self, quantity: &Quantity) -> Exact {
        self.house.base(quantity)
    }

    /// Whether something was told before; from now on it was.
    fn is_told(&self, stage: usize, what: &Subject) -> bool {
        let key = (stage, what.clone());
        let mut told = self.told.borrow_mut();
        let known = told.contains(&key);
        if !known {
            told.push(key);
        }
        known
    }
}
