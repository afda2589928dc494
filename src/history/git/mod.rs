//! Git's own files, read as they lie: no checkout, no other process, no network.
//!
//! Enters: a folder and the name of a revision. Leaves: commits, and the files of a revision
//! as a [`FileSystem`]. Nothing is ever written. The formats are those of git's own
//! documentation: `gitformat-pack`, `gitformat-index`, `gitrepository-layout`, `gitrevisions`.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "git's files are read here and nowhere else; bytes of formats are no weights"
)]

mod index;
mod names;
mod objects;
mod pack;
mod refs;
mod revision;
mod view;

pub use names::Id;
pub use objects::Commit;
pub use refs::Repository;
pub use view::View;

/// Why git's files do not tell what was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// No folder above is one of a repository.
    NoRepository,
    /// Something in it can't be read: what, and why.
    Unreadable(String),
    /// No revision has that name; one that was meant perhaps.
    UnknownRevision {
        /// As it was asked for.
        asked: String,
        /// The nearest name that there is.
        near: Option<String>,
    },
    /// The name stands for several: which.
    Ambiguous {
        /// As it was asked for.
        asked: String,
        /// Each in full.
        candidates: Vec<String>,
    },
}

impl Trouble {
    fn unreadable(what: impl Into<String>) -> Self {
        Self::Unreadable(what.into())
    }
}
