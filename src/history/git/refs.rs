//! A repository: where its files lie, and what its branches and tags point at.

use super::Trouble;
use super::names::{Id, Kind};
use super::objects::Objects;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A repository.
#[derive(Debug)]
pub struct Repository {
    /// Of this worktree: `HEAD`, `index`.
    own: PathBuf,
    /// Of all worktrees: objects, branches, tags.
    common: PathBuf,
    /// The folder that is worked in; that of the repository itself where it is bare.
    pub top: PathBuf,
    /// Whether nothing is worked in.
    pub is_bare: bool,
    /// All its objects.
    pub objects: Objects,
    /// Commits whose parents were left out of a shallow clone.
    shallow: BTreeSet<Id>,
    packed: BTreeMap<String, Id>,
}

impl Repository {
    /// The repository that a folder is in.
    ///
    /// # Errors
    /// Where there is none, or it can't be read.
    pub fn above(folder: &Path) -> Result<Self, Trouble> {
        for folder in folder.ancestors() {
            let inside = folder.join(".git");
            if inside.is_dir() && is_repository(&inside) {
                return Self::open(inside, folder.to_path_buf(), false);
            }
            if inside.is_file() {
                let text = fs::read_to_string(&inside).unwrap_or_default();
                let elsewhere = text.strip_prefix("gitdir:").map(str::trim);
                let elsewhere = elsewhere.ok_or_else(|| {
                    Trouble::unreadable(format!("{} names no folder", inside.display()))
                })?;
                let own = folder.join(elsewhere);
                if !own.join("HEAD").is_file() {
                    let what =
                        format!("{} leads to {}, which is none", inside.display(), own.display());
                    return Err(Trouble::unreadable(what));
                }
                return Self::open(own, folder.to_path_buf(), false);
            }
            if is_repository(folder) {
                return Self::open(folder.to_path_buf(), folder.to_path_buf(), true);
            }
        }
        Err(Trouble::NoRepository)
    }

    fn open(own: PathBuf, top: PathBuf, is_bare: bool) -> Result<Self, Trouble> {
        let common = fs::read_to_string(own.join("commondir"));
        let common = common.map_or_else(|_| own.clone(), |common| own.join(common.trim_end()));
        let config = fs::read_to_string(common.join("config")).unwrap_or_default();
        let length = match setting(&config, "extensions", "objectformat").as_deref() {
            None | Some("sha1") => 20,
            Some("sha256") => 32,
            Some(other) => {
                return Err(Trouble::unreadable(format!("its objects are named by `{other}`")));
            }
        };
        let storage = setting(&config, "extensions", "refstorage");
        if storage.as_deref().is_some_and(|it| it != "files") || common.join("reftable").is_dir() {
            let how = "it keeps its branches in the `reftable` format, which is not read yet; \
                       `git refs migrate --ref-format=files` changes that";
            return Err(Trouble::unreadable(how));
        }
        let objects = Objects::open(&common.join("objects"), length);
        let ids = |text: String| text.lines().filter_map(Id::read).collect();
        let shallow = fs::read_to_string(common.join("shallow")).map(ids).unwrap_or_default();
        let packed =
            packed_refs(&fs::read_to_string(common.join("packed-refs")).unwrap_or_default());
        Ok(Self { own, common, top, is_bare, objects, shallow, packed })
    }

    /// Whether a commit is one before which a shallow clone has nothing.
    pub fn is_cut_at(&self, commit: Id) -> bool {
        self.shallow.contains(&commit)
    }

    /// The bytes of a file of some revision.
    ///
    /// # Errors
    /// Where they can't be read.
    pub fn blob(&self, id: Id) -> Result<Arc<[u8]>, Trouble> {
        Ok(self.objects.get(id, Kind::Blob)?.bytes)
    }

    /// The file of its settings.
    pub fn config_file(&self) -> PathBuf {
        self.common.join("config")
    }

    /// The file in which staged files are listed.
    pub fn index_file(&self) -> PathBuf {
        self.own.join("index")
    }

    /// What a name below `refs`, or `HEAD`, points at.
    pub fn points_at(&self, name: &str) -> Option<Id> {
        self.follow(name, 0)
    }

    fn follow(&self, name: &str, depth: usize) -> Option<Id> {
        const DEEPEST: usize = 6;
        let is_safe = !name.split('/').any(|part| part.is_empty() || part.starts_with('.'));
        if depth > DEEPEST || !is_safe || name.contains(['\\', '\0']) {
            return None;
        }
        let read = |folder: &Path| fs::read_to_string(folder.join(name)).ok();
        let shared = || name.starts_with("refs/").then(|| read(&self.common)).flatten();
        match read(&self.own).or_else(shared) {
            Some(text) => match text.strip_prefix("ref:") {
                Some(other) => self.follow(other.trim(), depth + 1),
                None => Id::read(text.trim()),
            },
            None => self.packed.get(name).copied(),
        }
    }

    /// The full names that a short one may mean, in the order in which git tries them.
    pub fn names_for(&self, short: &str) -> Vec<String> {
        let tried = [
            short.to_owned(),
            format!("refs/{short}"),
            format!("refs/tags/{short}"),
            format!("refs/heads/{short}"),
            format!("refs/remotes/{short}"),
            format!("refs/remotes/{short}/HEAD"),
        ];
        let is_one = |name: &String| {
            let plain = name.starts_with("refs/")
                || name.bytes().all(|it| it.is_ascii_uppercase() || it == b'_');
            plain && self.points_at(name).is_some()
        };
        tried.into_iter().filter(is_one).collect()
    }

    /// All branches and tags by their short names.
    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.packed.keys().cloned().collect();
        for kind in ["refs/heads", "refs/tags", "refs/remotes"] {
            listed(&self.common.join(kind), kind, &mut names);
        }
        let short = |name: String| {
            let rest = ["refs/heads/", "refs/tags/", "refs/remotes/"];
            let rest = rest.iter().find_map(|kind| name.strip_prefix(kind));
            rest.map_or_else(|| name.clone(), str::to_owned)
        };
        let mut names: Vec<String> = names.into_iter().map(short).collect();
        names.sort();
        names.dedup();
        names
    }
}

fn is_repository(folder: &Path) -> bool {
    folder.join("HEAD").exists() && folder.join("objects").is_dir() && folder.join("refs").is_dir()
}

fn listed(folder: &Path, name: &str, names: &mut Vec<String>) {
    for entry in folder.read_dir().into_iter().flatten().flatten() {
        let inner = format!("{name}/{}", entry.file_name().to_string_lossy());
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => listed(&entry.path(), &inner, names),
            _ => names.push(inner),
        }
    }
}

fn packed_refs(text: &str) -> BTreeMap<String, Id> {
    let lines = text.lines().filter(|line| !line.starts_with(['#', '^']));
    let pairs = lines.filter_map(|line| line.split_once(' '));
    pairs.filter_map(|(hex, name)| Some((name.to_owned(), Id::read(hex)?))).collect()
}

/// A setting of git's configuration, in small letters; the last one counts.
fn setting(config: &str, section: &str, key: &str) -> Option<String> {
    let (mut within, mut found) = (false, None);
    for line in config.lines().map(str::trim) {
        if let Some(head) = line.strip_prefix('[') {
            let head = head.split(']').next().unwrap_or_default();
            within = head.trim().eq_ignore_ascii_case(section);
        } else if within
            && let Some((name, value)) = line.split_once('=')
            && name.trim().eq_ignore_ascii_case(key)
        {
            found = Some(value.trim().trim_matches('"').to_ascii_lowercase());
        }
    }
    found
}
