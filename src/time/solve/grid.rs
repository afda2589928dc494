//! Puzzles whose times have to lie on a grid.
//!
//! Enters: a puzzle, the step of a grid, and for each point by how much its times lie beside
//! full steps. Leaves: the puzzle with every limit narrowed to lengths that lead from one such
//! time to another. All that is concluded from such limits then lies on the grid by itself, so
//! neither the bounds nor the flow have to know of it; only where an opening bounds a time it is
//! brought onto the grid. Deliberately absent: how points get their places.

use super::puzzle::{Gap, Grid, Puzzle};

impl Puzzle {
    /// The puzzle on a grid. What a length costs between two of its values does not matter; at
    /// each of them it costs what it did, but for what is lost in halving a price.
    pub fn on_grid(&self, grid: Grid) -> Self {
        let mut gaps: Vec<Gap> = Vec::with_capacity(self.gaps.len());
        let mut second = Vec::new();
        for gap in &self.gaps {
            let (narrow, beside) = on_grid(gap, &grid);
            gaps.push(narrow);
            second.extend(beside);
        }
        gaps.extend(second);
        Self { gaps, grid: Some(grid), ..self.clone() }
    }
}

/// A gap with its limits on the grid. A wish that lies between two lengths on it becomes two
/// wishes, each the dearer the nearer it is: their sum is a straight line in between.
fn on_grid(gap: &Gap, grid: &Grid) -> (Gap, Option<Gap>) {
    let length = grid.length(gap);
    let up = |it: i64| it + (length - it).rem_euclid(grid.step);
    let down = |it: i64| it - (it - length).rem_euclid(grid.step);
    let narrow = Gap { least: up(gap.least), most: gap.most.map(down), ..*gap };
    let Some(wish) = gap.wish.filter(|&wish| down(wish) != wish) else { return (narrow, None) };
    let (below, above) = (down(wish), up(wish));
    let share = i128::from(gap.price) * i128::from(above - wish) / i128::from(grid.step);
    let price = u64::try_from(share).unwrap_or(gap.price);
    let beside = Gap {
        least: narrow.least,
        most: narrow.most,
        wish: Some(above),
        price: gap.price - price,
        ..*gap
    };
    (Gap { wish: Some(below), price, ..narrow }, Some(beside))
}
