//! Side mixes of a formula worked out: how much of each is made, and its lines.

use super::line_ref::{Goes, Names};
use super::worked::{Numbers, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Mixture;

impl Worked<'_> {
    fn blend_used(&self, numbers: &Numbers, blend: usize) -> Exact {
        let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
        let in_mixes = stages.chain(&numbers.dough_lines);
        let in_mixes = in_mixes.filter(|line| line.goes == Goes::Blend(blend));
        let mass = in_mixes.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        numbers.pieces.iter().fold(mass, |sum, piece| {
            let own = piece.lines.iter().filter(|line| line.goes == Goes::Blend(blend));
            own.fold(sum, |sum, line| sum + &line.mass * &piece.made.count)
        })
    }

    /// Grams of a side mix that lines and pieces use, or its own weights.
    pub fn blend_mass(&self, numbers: &Numbers, blend: usize) -> Exact {
        let mass = self.blend_used(numbers, blend);
        // A bath is used by no line and has weights of its own.
        if mass.is_zero() { self.blends[blend].own_mass.clone() } else { mass }
    }

    /// Grams of each side mix that has to be made, for other side mixes too.
    pub fn blends_needed(&self, numbers: &Numbers) -> Vec<Exact> {
        let mut needed: Vec<Exact> =
            (0..self.blends.len()).map(|blend| self.blend_used(numbers, blend)).collect();
        // What a mixture is made of stands before it.
        for outer in (0..self.blends.len()).rev() {
            if needed[outer].is_zero() {
                needed[outer] = self.blends[outer].own_mass.clone();
            }
            let Some(mixture) = self.mixture(outer) else { continue };
            for (line, share) in mixture.mix.lines.iter().zip(&self.blends[outer].shares) {
                if let Goes::Blend(inner) = self.goes_in_mixture(&line.target.name.key) {
                    let more = &needed[outer] * share;
                    needed[inner] += more;
                }
            }
        }
        needed
    }

    /// Where a side mix stands; none for a formula.
    pub fn mixture(&self, blend: usize) -> Option<&Mixture> {
        let blend = &self.blends[blend];
        let own = self.formula.mixtures.iter().find(|mixture| mixture.name.key == blend.key);
        own.or_else(|| self.house.mixture(&blend.key)).filter(|_| !blend.is_formula)
    }

    /// The lines of so much of a side mix.
    pub fn mixture_lines(&self, blend: usize, mass: &Exact) -> Vec<WorkedLine> {
        let Some(mixture) = self.mixture(blend) else { return Vec::new() };
        let zero = Exact::ZERO;
        let shares = self.blends[blend].shares.iter().chain(std::iter::repeat(&zero));
        let lines = mixture.mix.lines.iter().zip(shares).enumerate();
        lines
            .map(|(index, (line, share))| WorkedLine {
                goes: self.goes_in_mixture(&line.target.name.key),
                name: line.target.name.shown.clone(),
                key: line.target.name.key.clone(),
                role: line.target.role.as_ref().map(|role| role.shown.clone()),
                mass: mass * share,
                more: Exact::ZERO,
                line: Some(index),
            })
            .collect()
    }

    fn goes_in_mixture(&self, key: &str) -> Goes {
        let (house, stages) = (self.house, self.formula.stages.as_slice());
        Names { house, stages, blends: &self.blends }.find_beside(key)
    }
}
