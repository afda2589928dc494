//! How large each stage is: by a size of its own, by its weights, by who uses it.

mod demands;
mod stage;
mod uses;

pub(super) use demands::size_stages;
pub(super) use stage::{build_stage, saved, take_parts, take_whole_stages};
pub(super) use uses::{is_fixed, is_made_for_one_line};
