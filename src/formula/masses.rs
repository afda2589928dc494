//! Masses in grams, read off a formula worked out: what is in a place of it, and how much of
//! that is flour or of a class.

use super::class::Class;
use super::classes;
use super::composition::{Composition, CultureId, IngredientId, Substance};
use super::line_ref::LineRef;
use super::worked::{Numbers, SizedBy, Within, Worked, WorkedLine, WorkedPiece};
use crate::quantity::Exact;
use crate::syntax::tree::Size;
use std::borrow::Cow;

impl Worked<'_> {
    /// Whether an ingredient is flour in this formula.
    pub fn is_flour(&self, id: IngredientId) -> bool {
        classes::is_flour(self.house, &self.counts_as_flour, id)
    }

    /// The class that an ingredient counts as in this formula.
    pub fn class_of(&self, id: IngredientId) -> Class {
        classes::class_of(self.house, &self.counts_as_flour, id)
    }

    /// Everything that is in a mix, cultures split as they are.
    pub fn content<'n>(&self, numbers: &'n Numbers, within: Within) -> Cow<'n, Composition> {
        Cow::Owned(match within {
            Within::All | Within::FinalDough => return Cow::Borrowed(&numbers.whole),
            Within::Stage(stage) => {
                let worked = &numbers.stages[stage];
                let mut content = Composition::default();
                let goes_on = worked.goes_on.mass();
                // What is saved is made of the same.
                let ripe = (&goes_on + &worked.saved).over(&goes_on).unwrap_or(Exact::ONE);
                content.add_all(&self.split_seed(&worked.goes_on), &ripe);
                for (culture, mass) in self.seeds_kept(numbers, stage) {
                    content.add_all(&self.house.culture(culture).per_gram, &mass);
                }
                content
            }
            Within::SideMix(side_mix) => {
                let mut content = self.side_mixes[side_mix].per_gram.clone();
                content.scale(&self.side_mix_mass(numbers, side_mix));
                content
            }
            Within::Pieces => {
                let mut content = Composition::default();
                for piece in &numbers.pieces {
                    let one = self.brought_by(piece.lines.iter());
                    content.add_all(&one, &piece.made.count);
                }
                content
            }
        })
    }

    /// Grams of flour in a content.
    pub fn flour(&self, content: &Composition) -> Exact {
        sum_of(content, |id| self.is_flour(id).then_some(Exact::ONE))
    }

    /// Grams of a class in a content; `counts as flour` moves its names to flour.
    pub fn class_mass(&self, content: &Composition, class: Class) -> Exact {
        let cultures = content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
            Substance::Whole(_) if class == Class::Culture => sum + mass,
            _ => sum,
        });
        cultures + sum_of(content, |id| (self.class_of(id) == class).then_some(Exact::ONE))
    }

    /// A content with the flour and water of all cultures, those too that a table does not
    /// split.
    pub fn wholly_split<'c>(&self, content: &'c Composition) -> Cow<'c, Composition> {
        self.split(content, |substance| match substance {
            Substance::Kept(id) | Substance::Whole(id) => Some(id),
            _ => None,
        })
    }

    /// A content with the flour and water of seed that is still to be kept back.
    pub fn split_seed<'c>(&self, content: &'c Composition) -> Cow<'c, Composition> {
        self.split(content, |substance| match substance {
            Substance::Kept(id) => Some(id),
            _ => None,
        })
    }

    fn split<'c>(
        &self,
        content: &'c Composition,
        culture: impl Fn(Substance) -> Option<CultureId>,
    ) -> Cow<'c, Composition> {
        if content.iter().all(|(substance, _)| culture(substance).is_none()) {
            return Cow::Borrowed(content);
        }
        let mut split = Composition::default();
        for (substance, mass) in content.iter() {
            match culture(substance) {
                Some(id) => split.add_all(&self.house.culture(id).per_gram, mass),
                None => split.add(substance, mass.clone()),
            }
        }
        Cow::Owned(split)
    }

    /// The lines of what one piece carries besides its dough. Of a piece that is wholly made
    /// of other formulas, those are its dough.
    pub fn carried_lines<'n>(
        &'n self,
        numbers: &'n Numbers,
        piece: &'n WorkedPiece,
    ) -> impl Iterator<Item = &'n WorkedLine> {
        let is_dough = |line: &WorkedLine| match line.goes {
            LineRef::SideMix(side_mix) => {
                numbers.anchor == SizedBy::Pieces && self.side_mixes[side_mix].is_formula
            }
            _ => false,
        };
        piece.lines.iter().filter(move |line| !is_dough(line))
    }

    /// What some lines of a piece bring, split as far as it is known.
    pub fn brought_by<'n>(&self, lines: impl Iterator<Item = &'n WorkedLine>) -> Composition {
        let mut content = Composition::default();
        for line in lines {
            match line.goes {
                LineRef::Ingredient(id) => {
                    content.add(Substance::Ingredient(id), line.mass.clone())
                }
                LineRef::SideMix(side_mix) => {
                    content.add_all(&self.side_mixes[side_mix].per_gram, &line.mass)
                }
                LineRef::Culture(id) => {
                    content.add_all(&self.house.culture(id).per_gram, &line.mass)
                }
                _ => {}
            }
        }
        content
    }

    /// The new flour of a mix, the base of percentages there.
    pub fn basis(&self, numbers: &Numbers, within: Within) -> Exact {
        match within {
            Within::Stage(stage) => numbers.stages[stage].basis.clone(),
            Within::FinalDough => self.added_flour(numbers),
            _ => self.flour(&numbers.whole),
        }
    }

    /// The flour that the lines of a total list, which its per cent are of: all but what
    /// only a culture brings. In dough form, all there is.
    pub fn listed_flour(&self, numbers: &Numbers) -> Exact {
        self.flour(&numbers.whole) - self.flour(&numbers.unlisted)
    }

    /// The flour that per cent on the lines of a stage are of: its own new flour, or that
    /// which the total lists.
    pub fn percent_basis(&self, numbers: &Numbers, stage: usize) -> Exact {
        let (declared, worked) = (&self.formula.stages[stage], &numbers.stages[stage]);
        let of_total = declared.sizes.iter().any(|size| matches!(size.size, Size::OfTotal));
        match of_total {
            false => worked.basis.clone(),
            true => self.listed_flour(numbers) * &worked.grown,
        }
    }

    /// The flour on the lines of the final dough, stages and cultures left out.
    pub fn added_flour(&self, numbers: &Numbers) -> Exact {
        numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            LineRef::Ingredient(id) if self.is_flour(id) => sum + &line.mass,
            _ => sum,
        })
    }

    /// Hydration over added flour only: the water on the lines of the dough.
    pub fn added_hydration(&self, numbers: &Numbers) -> Option<Exact> {
        let flour = self.added_flour(numbers);
        let water = numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            LineRef::Ingredient(id) if self.house.ingredient(id).class == Class::Water => {
                sum + &line.mass
            }
            _ => sum,
        });
        water.over(&flour)
    }
}

/// Sums a share over the ingredients of a content.
pub fn sum_of(content: &Composition, share: impl Fn(IngredientId) -> Option<Exact>) -> Exact {
    content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
        Substance::Ingredient(id) => match share(id) {
            Some(share) if share.is_one() => sum + mass,
            Some(share) => sum + share * mass,
            None => sum,
        },
        _ => sum,
    })
}
