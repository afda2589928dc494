//! From lines to masses that wait for a size.
//!
//! `forms` is what comes out: masses as sums of unknowns. `meaning` knows what a line names
//! and what its amount is worth, `sums` adds the lines of one mix up, and `make_up` tells
//! what a gram of a mix holds where that does not depend on its size.

mod forms;
mod make_up;
mod meaning;
mod sums;

pub use forms::{MakeUp, MixForms, MixPlace, Scope};
pub use make_up::by_gram;
pub use meaning::Mixing;
