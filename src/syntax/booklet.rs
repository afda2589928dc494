//! What a booklet says: the part of the tree that a teacher's handout is read into.

pub use super::tree::{
    Booklet, Compare, Exercise, ExerciseKind, FormulaYield, General, Hidden, HiddenKind, Level,
    Part, PartKind, PlanAsked, PrintKind, Reader, Reckoner, Sizes, Steps, Worksheet,
};
