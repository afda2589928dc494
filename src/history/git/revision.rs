//! Names of revisions: `HEAD~3`, `v2`, `main^2`, the first digits of a commit; and what a
//! commit comes from.

use super::Trouble;
use super::repository::{Id, Repository, text};
use crate::diag::nearest;
use gix::bstr::BStr;
use gix::prelude::ObjectIdExt;
use gix::revision::spec::parse::{self, ObjectKindHint};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BinaryHeap;

/// A commit.
#[derive(Clone, Debug)]
pub struct Commit {
    /// Its object.
    pub id: Id,
    /// Its files.
    pub tree: Id,
    /// What it was made from.
    pub parents: Vec<Id>,
    /// The author's clock, in seconds since 1970.
    pub time: i64,
    /// Minutes that the author's clock stood from UTC.
    pub offset: i32,
    /// The committer's, by which commits are sorted.
    pub committed: i64,
    /// The first line of its message.
    pub subject: String,
}

impl Repository {
    /// The commit that a name means.
    ///
    /// # Errors
    /// Where it means none, or several.
    pub fn commit_of(&self, asked: &str) -> Result<Commit, Trouble> {
        let name = asked.split(['~', '^', ':']).next().unwrap_or_default();
        let name = name.split("@{").next().unwrap_or_default();
        let candidates = self.names_for(name);
        if candidates.len() > 1 {
            return Err(Trouble::Ambiguous { asked: name.to_owned(), candidates });
        }
        let found = {
            let reader = self.reader();
            let hint = Some(ObjectKindHint::Committish);
            let options = parse::Options { object_kind_hint: hint, ..parse::Options::default() };
            let spec = BStr::new(asked.as_bytes());
            let spec = gix::revision::Spec::from_bstr(spec, &reader, options);
            spec.map(|spec| spec.single().map(gix::Id::detach))
        };
        match found {
            // `REV^!` and `REV^@` are several commits.
            Ok(Some(_)) if asked.ends_with("^!") || asked.ends_with("^@") => {
                Err(Trouble::UnknownRevision { asked: asked.to_owned(), near: None })
            }
            Ok(Some(id)) => self.peeled(id, asked),
            Ok(None) => Err(Trouble::UnknownRevision { asked: asked.to_owned(), near: None }),
            Err(error) => Err(self.not_found(asked, name, candidates.is_empty(), &error)),
        }
    }

    /// The commit that an object is, or that a tag of tags leads to.
    fn peeled(&self, id: Id, asked: &str) -> Result<Commit, Trouble> {
        let reader = self.reader();
        let object = reader.find_object(id).and_then(gix::Object::peel_tags_to_end);
        let object = object.map_err(|error| Trouble::of(&error))?;
        match object.try_into_commit() {
            Ok(commit) => read(&commit),
            Err(_) => Err(Trouble::UnknownRevision { asked: asked.to_owned(), near: None }),
        }
    }

    /// Why a name means no commit.
    fn not_found(&self, asked: &str, name: &str, is_new: bool, error: &gix::Error) -> Trouble {
        let asked = asked.to_owned();
        match error.downcast_any_ref::<parse::Error>() {
            Some(parse::Error::AmbiguousPrefix { candidates, .. }) => {
                let candidates = candidates.iter().map(|(id, _)| id.to_string()).collect();
                Trouble::Ambiguous { asked, candidates }
            }
            _ if error.is_corrupted() => Trouble::of(error),
            _ if self.leads_nowhere(name) => Trouble::unreadable(format!(
                "`{name}` names a commit that is missing here or damaged; `git fsck` tells more"
            )),
            _ if is_new => {
                let names = self.names();
                let near = nearest(name, names.iter().map(String::as_str)).map(str::to_owned);
                Trouble::UnknownRevision { asked, near }
            }
            _ => Trouble::UnknownRevision { asked, near: None },
        }
    }

    /// Whether a branch or tag names something that is not there, or can't be read.
    fn leads_nowhere(&self, name: &str) -> bool {
        let reader = self.reader();
        let named = || match name {
            "" | "HEAD" | "@" => reader.head().ok()?.id().map(gix::Id::detach),
            _ => reader.find_reference(name).ok()?.try_id().map(gix::Id::detach),
        };
        named().is_some_and(|id| reader.find_object(id).is_err())
    }

    /// The full names that a short one may mean, in the order in which git tries them; several
    /// that lead to one commit are one.
    fn names_for(&self, short: &str) -> Vec<String> {
        let tried = [
            short.to_owned(),
            format!("refs/{short}"),
            format!("refs/tags/{short}"),
            format!("refs/heads/{short}"),
            format!("refs/remotes/{short}"),
            format!("refs/remotes/{short}/HEAD"),
        ];
        let reader = self.reader();
        let mut known: Vec<Id> = Vec::new();
        let mut is_one = |name: &String| {
            let plain = name.starts_with("refs/")
                || name.bytes().all(|it| it.is_ascii_uppercase() || it == b'_');
            let found = reader.try_find_reference(name.as_str()).ok().flatten();
            // A short name may be found at another place, which is tried by itself.
            let found = found.filter(|it| plain && it.name().as_bstr() == name.as_bytes());
            let id = found.and_then(|mut it| it.peel_to_id().ok().map(gix::Id::detach));
            let is_new = id.is_some_and(|id| !known.contains(&id));
            known.extend(id);
            is_new
        };
        tried.into_iter().filter(|name| is_one(name)).collect()
    }

    /// A commit by its name.
    fn commit(&self, id: Id) -> Result<Commit, Trouble> {
        let reader = self.reader();
        read(&reader.find_commit(id).map_err(|error| Trouble::of(&error))?)
    }

    /// The first digits of a commit, so many that no other begins with them.
    pub fn short(&self, id: Id) -> String {
        id.attach(&self.reader()).shorten_or_id().to_string()
    }

    /// Commits before which a shallow clone has nothing.
    fn cut_at(&self) -> Result<FxHashSet<Id>, Trouble> {
        let cut = self.reader().shallow_commits().map_err(|error| Trouble::of(&error))?;
        Ok(cut.into_iter().flat_map(|all| all.iter().copied().collect::<Vec<_>>()).collect())
    }

    /// Whether commits are missing here that others have.
    pub fn is_shallow(&self) -> bool {
        self.reader().is_shallow().unwrap_or(false)
    }

    /// The newest commit that two come from.
    ///
    /// # Errors
    /// Where it can't be read.
    pub fn base_of(&self, one: &Commit, two: &Commit) -> Result<Option<Commit>, Trouble> {
        let base = self.reader().merge_base(one.id, two.id).map(|it| it.map(gix::Id::detach));
        let base = base.map_err(|error| Trouble::of(&error))?;
        base.map(|id| self.commit(id)).transpose()
    }

    /// What branches and tags point at, each commit once, beside some that are known.
    pub fn tips(&self, known: &FxHashSet<Id>) -> Vec<Commit> {
        let reader = self.reader();
        let Ok(platform) = reader.references() else { return Vec::new() };
        let all = platform.all().into_iter().flatten().flatten();
        let mut ids: Vec<Id> =
            all.filter_map(|mut it| Some(it.peel_to_id().ok()?.detach())).collect();
        ids.sort_unstable();
        ids.dedup();
        ids.retain(|id| !known.contains(id));
        let commits = ids.into_iter().filter_map(|id| read(&reader.find_commit(id).ok()?).ok());
        commits.collect()
    }

    /// Everything that a commit comes from, itself first, by the committers' clocks; nothing
    /// comes before what it was made into. Tells whether a shallow clone cut it short.
    ///
    /// # Errors
    /// Where a commit can't be read.
    pub fn history(&self, from: &Commit) -> Result<(Vec<Commit>, bool), Trouble> {
        self.histories(std::slice::from_ref(from))
    }

    /// The same of several commits.
    ///
    /// # Errors
    /// Where a commit can't be read.
    pub fn histories(&self, from: &[Commit]) -> Result<(Vec<Commit>, bool), Trouble> {
        let cut_at = self.cut_at()?;
        let mut seen: FxHashSet<Id> = FxHashSet::default();
        let mut children: FxHashMap<Id, usize> = FxHashMap::default();
        let mut commits: FxHashMap<Id, Commit> = FxHashMap::default();
        let mut cut = false;
        let mut open: Vec<Id> = from.iter().map(|it| it.id).filter(|id| seen.insert(*id)).collect();
        while let Some(id) = open.pop() {
            let mut commit = self.commit(id)?;
            if cut_at.contains(&id) {
                cut |= !commit.parents.is_empty();
                commit.parents.clear();
            }
            for parent in &commit.parents {
                *children.entry(*parent).or_default() += 1;
                if seen.insert(*parent) {
                    open.push(*parent);
                }
            }
            commits.insert(id, commit);
        }
        let mut ready: BinaryHeap<(i64, Id)> = BinaryHeap::new();
        let last = from.iter().filter(|it| !children.contains_key(&it.id));
        ready.extend(last.map(|it| (it.committed, it.id)));
        let mut sorted = Vec::with_capacity(commits.len());
        while let Some((_, id)) = ready.pop() {
            let Some(commit) = commits.remove(&id) else { continue };
            for parent in &commit.parents {
                let left = children.entry(*parent).or_default();
                *left = left.saturating_sub(1);
                if *left == 0
                    && let Some(parent) = commits.get(parent)
                {
                    ready.push((parent.committed, parent.id));
                }
            }
            sorted.push(commit);
        }
        Ok((sorted, cut))
    }
}

fn read(commit: &gix::Commit) -> Result<Commit, Trouble> {
    let id = commit.id;
    let broken = |_| Trouble::unreadable(format!("commit {id} is broken"));
    let decoded = commit.decode().map_err(broken)?;
    let author = decoded.author().ok().and_then(|it| it.time().ok()).unwrap_or_default();
    let committer = decoded.committer().ok().and_then(|it| it.time().ok()).unwrap_or_default();
    let message = text(decoded.message);
    Ok(Commit {
        id,
        tree: decoded.tree(),
        parents: decoded.parents().collect(),
        time: author.seconds,
        offset: author.offset / 60,
        committed: committer.seconds,
        subject: message.trim_start().lines().next().unwrap_or_default().trim().to_owned(),
    })
}
