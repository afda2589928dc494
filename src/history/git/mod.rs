//! Git's own files, read through gix: no checkout, no other process, no network.
//!
//! Enters: a folder and the name of a revision. Leaves: commits, and the files of a revision
//! as a [`FileSystem`](crate::desk::FileSystem). Nothing is ever written, and of settings only
//! those of the repository itself are read.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "git's files are read here and nowhere else; bytes of formats are no weights"
)]

mod ordinary;
mod repository;
mod revision;
mod view;

pub use repository::{Changed, EntryKind, Id, Repository};
pub use revision::Commit;
pub use view::View;

/// Why git's files do not tell what was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// No folder above is one of a repository.
    NoRepository,
    /// Something in it can't be read: what, and why.
    Unreadable(String),
    /// A merge left this file unsettled, so that nothing of it is staged.
    NotMerged(String),
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

    /// What gix says of a file that it can't read, in one line.
    fn of(error: &gix::Error) -> Self {
        let cause = error.probable_cause().to_string();
        Self::Unreadable(cause.lines().next().unwrap_or_default().to_owned())
    }
}
