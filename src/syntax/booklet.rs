//! What a booklet says: the part of the tree that a teacher's handout is read into.

pub use super::tree::{
    Audience, Booklet, BookletItem, Compare, Exercise, ExerciseKind, FormulaYield, General, Hidden,
    HiddenKind, Level, PartKind, PlanAsked, PrintKind, Reckoner, Sizes, Steps, Worksheet,
};
