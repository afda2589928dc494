//! A formula worked out, as plain data: the mass of every line, stage and piece in grams.
//!
//! Enters: nothing; `solve` fills it in. What reads it stands in files named after what
//! they answer: `masses`, `seeds`, `side_mixes`, `stage_walk`, `figures`, `ask`.

use super::composition::{Composition, IngredientId};
use super::house::House;
use super::line_ref::LineRef;
use super::side_mix::SideMix;
use crate::quantity::Exact;
use crate::syntax::tree::Formula;
use ecow::EcoString;
use std::borrow::Cow;

/// What gives a formula its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizedBy {
    /// `makes`.
    Makes,
    /// Its own weights.
    Weights,
    /// Nothing: it is worked out for a kilogram of flour.
    Default,
    /// Its pieces, which are made of other formulas.
    Pieces,
}

/// A line with its mass in grams.
#[derive(Clone, Debug)]
pub struct WorkedLine {
    /// What the line puts in.
    pub goes: LineRef,
    /// Its name as it was written.
    pub name: EcoString,
    /// Its name as it is looked up.
    pub key: EcoString,
    /// What it is for: `water (bassinage)`.
    pub role: Option<EcoString>,
    /// Grams.
    pub mass: Exact,
    /// Grams that may go in beyond this, where the amount is a range.
    pub more: Exact,
    /// Its place among the lines of its mix, where it stands on one.
    pub line: Option<usize>,
}

/// A stage with its masses, in grams.
#[derive(Clone, Debug)]
pub struct StageNumbers {
    /// As they are weighed; of a stage that is fed several times, for the last feed.
    pub lines: Vec<WorkedLine>,
    /// What goes on into the next mixes, and what is left over of it.
    pub goes_on: Composition,
    /// The part of it that cultures bring.
    pub from_cultures: Composition,
    /// Everything that is put together, with what is saved or kept back.
    pub made: Exact,
    /// How much larger it is made than its own lines say, because some is saved, too little
    /// to handle, or wanted by a stage that is made larger itself.
    pub grown: Exact,
    /// The new flour (or grain and seed) that per cent in it are of.
    pub basis: Exact,
    /// What is saved for the next time.
    pub saved: Exact,
    /// The mass that goes into the final dough.
    pub into_dough: Exact,
    /// How many times it is fed; one where nothing says so.
    pub feeds: u32,
    /// The feeds before the last one, the first one first; none where nothing seeds them.
    pub earlier: Vec<Feed>,
}

/// A feed of a stage that another one follows.
#[derive(Clone, Debug)]
pub struct Feed {
    /// As they are weighed; from the second on, the feed before stands in place of the
    /// cultures.
    pub lines: Vec<WorkedLine>,
    /// Grams that the next feed does not take.
    pub discarded: Exact,
}

impl Feed {
    /// All that is put together.
    pub fn made(&self) -> Exact {
        self.lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }
}

/// A kind of piece that is made.
#[derive(Clone, Debug)]
pub struct MadeKind {
    /// `roll`, `loaf`, as it was written.
    pub kind: EcoString,
    /// Its name as it is looked up.
    pub key: EcoString,
    /// How many.
    pub count: Exact,
    /// Dough of one, in grams.
    pub weight: Exact,
    /// Whether the weight was written or shared out.
    pub written: bool,
    /// What it is baked in.
    pub tin: Option<EcoString>,
    /// Share of the dough lost in making up.
    pub make_up_loss: Exact,
    /// Share lost in the oven.
    pub loss: Option<Exact>,
}

impl MadeKind {
    /// The dough of one out of the oven, in grams.
    pub fn baked(&self) -> Option<Exact> {
        Some(&self.weight * (Exact::ONE - self.loss.as_ref()?))
    }
}

/// A kind of piece with what it carries.
#[derive(Clone, Debug)]
pub struct WorkedPiece {
    /// Its dough.
    pub made: MadeKind,
    /// What one piece carries besides its dough.
    pub lines: Vec<WorkedLine>,
}

/// All masses for one choice of range ends.
#[derive(Clone, Debug)]
pub struct Numbers {
    /// In the order of the formula.
    pub stages: Vec<StageNumbers>,
    /// Everything in the dough.
    pub whole: Composition,
    /// Flour that only a culture brings, in total form.
    pub unlisted: Composition,
    /// The lines of `total`.
    pub total_lines: Vec<WorkedLine>,
    /// What the mixer gets.
    pub dough_lines: Vec<WorkedLine>,
    /// The flour that per cent in `total` or `dough` are of.
    pub basis: Exact,
    /// In the order in which the formula makes them.
    pub pieces: Vec<WorkedPiece>,
    /// What gives the formula its size.
    pub anchor: SizedBy,
    /// Stage and mass that nothing uses.
    pub left_over: Vec<(usize, Exact)>,
    /// Grams of the finished dough that are kept back as the next old dough.
    pub kept_back: Exact,
    /// Grams of the finished dough that are saved.
    pub saved: Exact,
}

/// What there has to be for a loss of such a share to leave so much; the same where the loss
/// is of all, which is refused elsewhere.
pub(super) fn before_loss(left: &Exact, loss: &Exact) -> Exact {
    left.each_of(&(Exact::ONE - loss))
}

impl Numbers {
    /// Dough that the pieces leave, less what is lost in making up.
    pub fn dough_left(&self) -> Option<Exact> {
        let taken = self.pieces.iter().fold(Exact::ZERO, |sum, piece| {
            let made = &piece.made;
            sum + before_loss(&(&made.weight * &made.count), &made.make_up_loss)
        });
        (!self.pieces.is_empty()).then(|| self.into_pieces() - taken)
    }

    /// Everything in the dough.
    pub fn whole_content(&self) -> &Composition {
        &self.whole
    }

    /// Grams of the finished dough that go into the pieces, with what is lost in making up.
    #[allow(clippy::wrong_self_convention, reason = "dough goes into pieces; nothing is converted")]
    pub fn into_pieces(&self) -> Exact {
        self.whole.mass() - &self.kept_back - &self.saved
    }

    /// Grams of a stage that go into the dough and into other stages.
    pub fn used(&self, stage: usize) -> Exact {
        let lines = self.stages.iter().flat_map(|user| &user.lines);
        let lines = lines.filter(|line| line.goes == LineRef::Stage(stage));
        lines.fold(self.stages[stage].into_dough.clone(), |sum, line| sum + &line.mass)
    }
}

/// A formula with all its numbers.
pub struct Worked<'t> {
    /// The house whose names it uses.
    pub house: &'t House<'t>,
    /// With all that it inherits.
    pub formula: Cow<'t, Formula>,
    /// What it takes that is mixed elsewhere.
    pub side_mixes: Vec<SideMix>,
    /// Ingredients of other classes that count as flour in it.
    pub counts_as_flour: Vec<IngredientId>,
    /// Every ingredient of the formula that is flour.
    pub flour_ids: Vec<IngredientId>,
    /// Stages in an order in which they can be built.
    pub order: Vec<usize>,
    /// For each choice of range ends; the low ends first.
    pub choices: Vec<Numbers>,
    /// How much larger it is made than it is written; weights in its steps grow with it.
    pub scaled: Exact,
    /// The pieces it makes as it is written, where another yield names none.
    pub usual_pieces: Vec<WorkedPiece>,
    /// Whether everything in it could be read and every name is known.
    pub readable: bool,
    /// Whether nothing of it was unreadable, unknown or impossible.
    pub sound: bool,
}

/// Where a figure is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Within {
    /// The whole formula.
    All,
    /// The `dough` block, without what its stages brought.
    FinalDough,
    /// A stage, by its place in the formula.
    Stage(usize),
    /// All pieces as they are eaten, with what they carry.
    Pieces,
    /// A side mix, as much of it as is used.
    SideMix(usize),
}

impl Worked<'_> {
    /// The numbers at the low ends of all ranges.
    pub fn first(&self) -> &Numbers {
        // There is one choice at least: every range has a low end.
        &self.choices[0]
    }

    /// The kinds of piece that are made, or that are usual where another yield names none.
    pub fn kinds<'n>(&'n self, numbers: &'n Numbers) -> &'n [WorkedPiece] {
        if numbers.pieces.is_empty() { &self.usual_pieces } else { &numbers.pieces }
    }
}
