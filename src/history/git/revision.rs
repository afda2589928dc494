//! Names of revisions: `HEAD~3`, `v2`, `main^2`, the first digits of a commit.

use super::Trouble;
use super::names::{Id, Kind};
use super::objects::Commit;
use super::refs::Repository;
use crate::diag::nearest;
use rustc_hash::FxHashSet;
use std::collections::BinaryHeap;

/// The fewest digits by which git lets a commit be named.
const FEWEST_DIGITS: usize = 4;

/// Digits of a short name, where no more are needed to tell it from others.
const SHORT: usize = 7;

impl Repository {
    /// The commit that a name means.
    ///
    /// # Errors
    /// Where it means none, or several.
    pub fn commit_of(&self, asked: &str) -> Result<Commit, Trouble> {
        let at = asked.find(['~', '^']).unwrap_or(asked.len());
        let (name, mut steps) = asked.split_at(at);
        let name = if name.is_empty() || name == "@" { "HEAD" } else { name };
        let unknown = |near| Trouble::UnknownRevision { asked: asked.to_owned(), near };
        let id = self.id_of(name)?.ok_or_else(|| unknown(self.near(name)))?;
        let (id, kind) = self.objects.peeled(id)?;
        if kind != Kind::Commit {
            return Err(unknown(None));
        }
        let mut commit = self.objects.commit(id)?;
        while let Some(sign) = steps.chars().next() {
            steps = steps.get(1..).unwrap_or_default();
            if let Some(rest) = steps.strip_prefix("{commit}").or_else(|| steps.strip_prefix("{}"))
            {
                steps = rest;
                continue;
            }
            let digits = steps.bytes().take_while(u8::is_ascii_digit).count();
            let count = steps.get(..digits).unwrap_or_default();
            steps = steps.get(digits..).unwrap_or_default();
            let count: usize =
                if count.is_empty() { 1 } else { count.parse().map_err(|_| unknown(None))? };
            match sign {
                '^' if count == 0 => {}
                '^' => commit = self.parent(&commit, count - 1)?.ok_or_else(|| unknown(None))?,
                '~' => {
                    for _ in 0..count {
                        commit = self.parent(&commit, 0)?.ok_or_else(|| unknown(None))?;
                    }
                }
                _ => return Err(unknown(None)),
            }
        }
        Ok(commit)
    }

    fn parent(&self, commit: &Commit, at: usize) -> Result<Option<Commit>, Trouble> {
        if self.is_cut_at(commit.id) {
            return Ok(None);
        }
        commit.parents.get(at).map(|parent| self.objects.commit(*parent)).transpose()
    }

    /// The object of a name of a branch, a tag or a commit.
    fn id_of(&self, name: &str) -> Result<Option<Id>, Trouble> {
        let ambiguous = |candidates| Err(Trouble::Ambiguous { asked: name.to_owned(), candidates });
        let names = self.names_for(name);
        let mut pointed: Vec<Id> = names.iter().filter_map(|name| self.points_at(name)).collect();
        pointed.dedup();
        match pointed.as_slice() {
            [] => {}
            [one] => return Ok(Some(*one)),
            _ => return ambiguous(names),
        }
        if let Some(id) = Id::read(name) {
            return Ok(self.objects.find(id)?.map(|_| id));
        }
        let is_hex = name.bytes().all(|byte| byte.is_ascii_hexdigit());
        if !is_hex || name.len() < FEWEST_DIGITS {
            return Ok(None);
        }
        let mut found = self.objects.beginning_with(name);
        if found.len() > 1 {
            // A revision is a commit or a tag of one.
            let is_commit = |id: &Id| matches!(self.objects.peeled(*id), Ok((_, Kind::Commit)));
            found.retain(is_commit);
        }
        match found.as_slice() {
            [] => Ok(None),
            [one] => Ok(Some(*one)),
            several => ambiguous(several.iter().map(|id| self.short(*id)).collect()),
        }
    }

    /// The name of a branch or tag that one most likely means.
    fn near(&self, name: &str) -> Option<String> {
        let names = self.names();
        nearest(name, names.iter().map(String::as_str)).map(str::to_owned)
    }

    /// The first digits of a commit, so many that no other begins with them.
    pub fn short(&self, id: Id) -> String {
        let hex = id.hex();
        let enough = (SHORT..hex.len()).find(|count| {
            let digits = hex.get(..*count).unwrap_or(&hex);
            self.objects.beginning_with(digits).len() < 2
        });
        hex.get(..enough.unwrap_or(hex.len())).unwrap_or(&hex).to_owned()
    }

    /// Everything that a commit comes from, itself first, by the committers' clocks; nothing
    /// comes before what it was made into. Tells whether a shallow clone cut it short.
    ///
    /// # Errors
    /// Where a commit can't be read.
    pub fn history(&self, from: &Commit) -> Result<(Vec<Commit>, bool), Trouble> {
        let mut seen: FxHashSet<Id> = FxHashSet::default();
        let mut children: rustc_hash::FxHashMap<Id, usize> = rustc_hash::FxHashMap::default();
        let mut commits: rustc_hash::FxHashMap<Id, Commit> = rustc_hash::FxHashMap::default();
        let mut cut = false;
        let mut open = vec![from.id];
        seen.insert(from.id);
        while let Some(id) = open.pop() {
            let mut commit = self.objects.commit(id)?;
            if self.is_cut_at(id) {
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
        ready.push((from.committed, from.id));
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
