//! Everything that has a name: the built-in stores and what a bakehouse declares.
//!
//! Enters: the trees of the files under one root. Leaves: a [`House`], the registry that
//! every later phase looks names up in, and findings of what is declared. A house looks a
//! name up in itself first and in the stores after it, so a bakehouse's own declaration
//! replaces the built-in one.

mod declare;
mod declare_cultures;
mod declare_ingredients;
mod drawers;
mod first_words;
mod ingredient;
mod kin;
mod machines;
mod registry;
mod settings;
mod silent;
mod stores;
mod texts;
mod vouch;

pub(in crate::formula) use drawers::TEXTS;
pub use drawers::{STORES, known, limit, packed_stores};
pub use ingredient::Ingredient;
pub use machines::{Board, Mixer, Oven, Tin};
pub use registry::House;
pub use settings::{Cooled, Setting, Settings};
pub use stores::{built_in, entry_at, stored};
pub use texts::{key, plain, words_of};
