//! The commit that prints are compared with, where their files lie in a repository.

use super::asked::home;
use super::tell::tell_on_error;
use crate::desk::{Bakehouse, Disk, FileSystem, Loaded, repository_unreadable};
use crate::history::brought::Brought;
use crate::history::catalogue::{Shared, shared_of};
use crate::history::git::{Commit, Repository, Trouble};
use crate::history::stamp::{Head, Stamper};

/// What the feet of prints need.
pub struct Stamps {
    last: Option<(Repository, Commit)>,
    /// The declarations of each file of each bakehouse.
    shared: Vec<Vec<Shared>>,
    /// What each bakehouse brings to its prints.
    brought: Vec<Brought>,
}

/// What each bakehouse brings to its prints.
pub fn brought(files: &dyn FileSystem, bakehouses: &[Bakehouse]) -> Vec<Brought> {
    bakehouses.iter().map(|bakehouse| Brought::of(files, bakehouse)).collect()
}

impl Stamps {
    /// For the files that were asked for; without a repository everything is a draft.
    pub fn new(loaded: &Loaded, bakehouses: &[Bakehouse]) -> Self {
        let first = loaded.asked_for().next().and_then(|file| file.path.parent());
        let folder = first.map_or_else(home, std::path::Path::to_path_buf);
        let last = Repository::above(&folder).and_then(|repository| {
            let commit = repository.commit_of("HEAD")?;
            Ok((repository, commit))
        });
        if let Err(Trouble::Unreadable(why)) = &last {
            tell_on_error(&[repository_unreadable::of_prints(why)], &loaded.sources);
        }
        let last = last.ok();
        let of = |bakehouse: &Bakehouse| {
            bakehouse.files.iter().map(|file| shared_of(&file.tree)).collect()
        };
        let shared = bakehouses.iter().map(of).collect();
        Self { last, shared, brought: brought(&Disk, bakehouses) }
    }

    /// The last commit.
    pub fn head(&self) -> Option<Head<'_>> {
        self.last.as_ref().map(|(repository, commit)| Head::of(repository, commit))
    }

    /// What prints of a bakehouse are stamped by, by its place among all.
    pub fn stamper<'b, 'l: 'b>(
        &'b self,
        place: usize,
        bakehouse: &'b Bakehouse<'l>,
        head: Option<&'b Head<'b>>,
    ) -> Stamper<'b, 'l> {
        static NOTHING: Brought = Brought::NOTHING;
        let shared = self.shared.get(place).map(Vec::as_slice).unwrap_or_default();
        let brought = self.brought.get(place).unwrap_or(&NOTHING);
        Stamper::new(bakehouse, (shared, brought), head)
    }
}
