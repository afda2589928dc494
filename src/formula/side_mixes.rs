//! Side mixes of a formula worked out: how much of each is made, and its lines.

use super::line_ref::{LineNames, LineRef};
use super::worked::{Numbers, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Mixture;

impl Worked<'_> {
    fn side_mix_used(&self, numbers: &Numbers, side_mix: usize) -> Exact {
        let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
        let in_mixes = stages.chain(&numbers.dough_lines);
        let in_mixes = in_mixes.filter(|line| line.goes == LineRef::SideMix(side_mix));
        let mass = in_mixes.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        numbers.pieces.iter().fold(mass, |sum, piece| {
            let own = piece.lines.iter().filter(|line| line.goes == LineRef::SideMix(side_mix));
            own.fold(sum, |sum, line| sum + &line.mass * &piece.made.count)
        })
    }

    /// Grams of a side mix that lines and pieces use, or its own weights.
    pub fn side_mix_mass(&self, numbers: &Numbers, side_mix: usize) -> Exact {
        let mass = self.side_mix_used(numbers, side_mix);
        // A bath is used by no line and has weights of its own.
        if mass.is_zero() { self.side_mixes[side_mix].own_mass.clone() } else { mass }
    }

    /// Grams of each side mix that has to be made, for other side mixes too.
    pub fn side_mixes_needed(&self, numbers: &Numbers) -> Vec<Exact> {
        let mut needed: Vec<Exact> = (0..self.side_mixes.len())
            .map(|side_mix| self.side_mix_used(numbers, side_mix))
            .collect();
        // What a mixture is made of stands before it.
        for outer in (0..self.side_mixes.len()).rev() {
            if needed[outer].is_zero() {
                needed[outer] = self.side_mixes[outer].own_mass.clone();
            }
            let Some(mixture) = self.mixture(outer) else { continue };
            for (line, share) in mixture.mix.lines.iter().zip(&self.side_mixes[outer].shares) {
                if let LineRef::SideMix(inner) = self.goes_in_mixture(&line.target.name.key) {
                    let more = &needed[outer] * share;
                    needed[inner] += more;
                }
            }
        }
        needed
    }

    /// Mixtures with weights of their own that no line takes, such as a bath: each as a line of all
    /// that is made of it.
    pub fn baths(&self, numbers: &Numbers) -> Vec<WorkedLine> {
        let is_inner = |place: usize| {
            (0..self.side_mixes.len()).filter_map(|outer| self.mixture(outer)).any(|mixture| {
                let mut keys = mixture.mix.lines.iter().map(|line| &line.target.name.key);
                keys.any(|key| self.goes_in_mixture(key) == LineRef::SideMix(place))
            })
        };
        let bath = |place: usize| {
            let mixture = self.mixture(place)?;
            let mass = self.side_mixes[place].own_mass.clone();
            let is_bath =
                !mass.is_zero() && self.side_mix_used(numbers, place).is_zero() && !is_inner(place);
            is_bath.then(|| WorkedLine {
                goes: LineRef::SideMix(place),
                name: mixture.name.shown.clone(),
                key: mixture.name.key.clone(),
                role: None,
                mass,
                more: Exact::ZERO,
                line: None,
            })
        };
        (0..self.side_mixes.len()).filter_map(bath).collect()
    }

    /// Where a side mix stands; none for a formula.
    pub fn mixture(&self, side_mix: usize) -> Option<&Mixture> {
        let side_mix = &self.side_mixes[side_mix];
        let own = self.formula.mixtures.iter().find(|mixture| mixture.name.key == side_mix.key);
        own.or_else(|| self.house.mixture(&side_mix.key)).filter(|_| !side_mix.is_formula)
    }

    /// The lines of so much of a side mix.
    pub fn mixture_lines(&self, side_mix: usize, mass: &Exact) -> Vec<WorkedLine> {
        let Some(mixture) = self.mixture(side_mix) else { return Vec::new() };
        let zero = Exact::ZERO;
        let shares = self.side_mixes[side_mix].shares.iter().chain(std::iter::repeat(&zero));
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

    fn goes_in_mixture(&self, key: &str) -> LineRef {
        let (house, stages) = (self.house, self.formula.stages.as_slice());
        LineNames { house, stages, side_mixes: &self.side_mixes }.find_beside(key)
    }
}
