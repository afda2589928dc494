//! The commit that prints are compared with, where their files lie in a repository.

use super::asked::home;
use crate::desk::{Bakehouse, Loaded};
use crate::history::catalogue::{Shared, shared_of};
use crate::history::git::{Commit, Repository};
use crate::history::stamp::Head;

/// What the feet of prints need.
pub struct Stamps {
    last: Option<(Repository, Commit)>,
    /// The declarations of each file of each bakehouse.
    shared: Vec<Vec<Shared>>,
}

impl Stamps {
    /// For the files that were asked for; without a repository everything is a draft.
    pub fn new(loaded: &Loaded, bakehouses: &[Bakehouse]) -> Self {
        let first = loaded.asked_for().next().and_then(|file| file.path.parent());
        let folder = first.map_or_else(home, std::path::Path::to_path_buf);
        let repository = Repository::above(&folder).ok();
        let last = repository.and_then(|repository| {
            let commit = repository.commit_of("HEAD").ok()?;
            Some((repository, commit))
        });
        let of = |bakehouse: &Bakehouse| {
            bakehouse.files.iter().map(|file| shared_of(&file.tree)).collect()
        };
        Self { last, shared: bakehouses.iter().map(of).collect() }
    }

    /// The last commit.
    pub fn head(&self) -> Option<Head<'_>> {
        self.last.as_ref().map(|(repository, commit)| Head::of(repository, commit))
    }

    /// The declarations of a bakehouse, by its place among all.
    pub fn shared(&self, bakehouse: usize) -> &[Shared] {
        self.shared.get(bakehouse).map(Vec::as_slice).unwrap_or_default()
    }
}
