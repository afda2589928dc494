//! Findings about files, one file a rule.

use crate::diag::Rule;

pub mod file_too_large;
pub mod glyph_missing;
pub mod not_utf_8;
pub mod unreadable;
pub mod unwritable;

/// The rules of this room.
pub const ALL: &[&Rule] = &[
    &file_too_large::RULE,
    &glyph_missing::RULE,
    &not_utf_8::RULE,
    &unreadable::RULE,
    &unwritable::RULE,
];
