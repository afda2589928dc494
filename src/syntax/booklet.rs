//! What a booklet says: the part of the tree that a teacher's handout is read into.

pub use super::tree::{
    Booklet, Compare, FormulaYield, General, Hidden, HiddenKind, Part, PartKind, PrintKind, Reader,
    Reckoner, Sizes, Steps, Worksheet,
};
