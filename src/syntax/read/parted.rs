//! How many pieces a step says that there are.

use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::Quantity;

/// What a step says of the pieces that dough is divided into.
pub struct Parted {
    /// How many there are.
    pub count: Exact,
    /// What one weighs, where that is said.
    pub weight: Option<Quantity>,
    /// Of the words.
    pub span: Span,
}
