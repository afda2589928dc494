//! What ferments a formula: cultures, what is kept back of them, and the flour they reach.

use super::composition::{CultureId, Substance};
use super::line_ref::LineRef;
use super::stage_walk::holds_a_culture;
use super::worked::{Numbers, StageNumbers, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Counting;

impl Worked<'_> {
    /// Grams of ripe stage that are kept back to be the next culture.
    pub fn kept_back(&self, numbers: &Numbers, stage: usize) -> Exact {
        let seeds = self.seeds_kept(numbers, stage);
        seeds.iter().fold(Exact::ZERO, |sum, (_, mass)| sum + mass)
    }

    /// The cultures that this stage was begun with, or that came here through other stages,
    /// and that are kept back from it.
    pub fn seeds_kept(&self, numbers: &Numbers, stage: usize) -> Vec<(CultureId, Exact)> {
        let here = &self.formula.stages[stage].name.key;
        let mut kept: Vec<(CultureId, Exact)> = Vec::new();
        let mut came: Vec<CultureId> = Vec::new();
        let stages = self.formula.stages.iter().zip(&numbers.stages).enumerate();
        for (index, (declared, worked)) in stages {
            for (line, seed) in declared.mix.lines.iter().zip(&worked.lines) {
                let (LineRef::Culture(id), Counting::KeptBack { from }) =
                    (seed.goes, &line.counting)
                else {
                    continue;
                };
                let is_here = from.as_ref().is_none_or(|from| from.key == *here);
                if index == stage && is_here {
                    kept.push((id, seed.mass.clone()));
                } else if index != stage && from.is_some() && is_here && !came.contains(&id) {
                    came.push(id);
                }
            }
        }
        for id in came {
            let mut mass = Exact::ZERO;
            for line in &numbers.stages[stage].lines {
                let LineRef::Stage(inner) = line.goes else { continue };
                let inner = &numbers.stages[inner].goes_on;
                let seed = inner.get(Substance::Kept(id));
                if let Some(taken) = seed.and_then(|seed| (seed * &line.mass).over(&inner.mass())) {
                    mass += taken;
                }
            }
            kept.push((id, mass));
        }
        kept
    }

    /// The mass of cultures that a stage is begun with.
    pub fn culture_mass(&self, worked: &StageNumbers) -> Exact {
        let cultures = worked.lines.iter().filter(|line| matches!(line.goes, LineRef::Culture(_)));
        cultures.fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }

    /// Whether a line begins the fermentation of its stage.
    pub fn is_seed(&self, line: &WorkedLine) -> bool {
        match line.goes {
            LineRef::Culture(_) => true,
            LineRef::Stage(inner) => self.formula.stages[inner].kind.ferments(),
            _ => false,
        }
    }

    /// Flour that is fermented by a culture, for the bound on sour doughs.
    pub fn culture_fermented_flour(&self, numbers: &Numbers) -> Exact {
        numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            LineRef::Stage(stage) if holds_a_culture(numbers, stage) => {
                let worked = &numbers.stages[stage];
                let flour = self.flour(&worked.goes_on) * &line.mass;
                match flour.over(&worked.goes_on.mass()) {
                    Some(taken) if self.formula.stages[stage].kind.ferments() => sum + taken,
                    _ => sum,
                }
            }
            LineRef::Culture(id) => sum + self.flour(&self.house.culture(id).per_gram) * &line.mass,
            _ => sum,
        })
    }
}
