//! A bakehouse through its history: what each formula means at each commit.
//!
//! Every blob is read once, by the name of its object, and only formulas that a commit can
//! have touched are looked at again. What is kept is kept in memory only.

use super::catalogue::{Catalogue, Digest, Meaning, Shared, shared_of};
use super::declared::Kind;
use super::git::{Commit, Id, Repository, Trouble, View};
use crate::desk::{is_read, read_old};
use crate::formula::{House, Names, built_in, work};
use crate::print::{Document, Wording, document};
use crate::source::SourceId;
use crate::syntax::tree::{Formula, Tree};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A file as it was read, before or after its names were understood.
struct Parsed {
    tree: Tree,
    shared: Shared,
    /// The keys of all that it declares.
    keys: Vec<EcoString>,
    /// Whether every formula of the house may change with it.
    is_for_all: bool,
}

/// A formula at the commit that is looked at.
#[derive(Clone)]
pub struct State {
    /// Its file, from the top of the repository.
    pub path: String,
    /// What it means.
    pub digest: Digest,
    keys: FxHashSet<EcoString>,
}

/// The formulas of one state, by the folder of their bakehouse and their key.
pub type States = BTreeMap<(String, EcoString), State>;

/// A walk through states of a folder.
pub struct Walk<'r> {
    repository: &'r Repository,
    folder: PathBuf,
    raw: FxHashMap<Id, Option<Arc<Parsed>>>,
    understood: FxHashMap<(Id, u64), Arc<Parsed>>,
    files: BTreeMap<String, Id>,
    /// The states of the files that are at hand.
    pub states: States,
    tree: Option<Id>,
}

/// The files of one house.
type Group = Vec<(String, Id, Arc<Parsed>)>;

impl<'r> Walk<'r> {
    /// Nothing looked at yet; only files below a folder count.
    pub fn new(repository: &'r Repository, folder: &Path) -> Self {
        Self {
            repository,
            folder: folder.to_path_buf(),
            raw: FxHashMap::default(),
            understood: FxHashMap::default(),
            files: BTreeMap::new(),
            states: States::new(),
            tree: None,
        }
    }

    /// Goes to a commit; says whether any file of ours is another one.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn go_to(&mut self, commit: &Commit) -> Result<bool, Trouble> {
        if self.tree == Some(commit.tree) {
            return Ok(false);
        }
        self.tree = Some(commit.tree);
        let view = View::of_tree(self.repository, commit.tree);
        let mut files = BTreeMap::new();
        view.files_below(&self.folder, &|name| is_read(Path::new(name)), &mut files)?;
        if files == self.files {
            return Ok(false);
        }
        self.change_to(files)?;
        Ok(true)
    }

    fn parsed(&mut self, path: &str, id: Id) -> Result<Option<Arc<Parsed>>, Trouble> {
        if let Some(known) = self.raw.get(&id) {
            return Ok(known.clone());
        }
        let bytes = self.repository.blob(id)?;
        let tree = read_old(Path::new(path), SourceId::ASKED, &bytes);
        let parsed = tree.map(|tree| Arc::new(Parsed::of(tree)));
        self.raw.insert(id, parsed.clone());
        Ok(parsed)
    }

    fn change_to(&mut self, files: BTreeMap<String, Id>) -> Result<(), Trouble> {
        let mut touched: FxHashSet<EcoString> = FxHashSet::default();
        let mut for_all = false;
        let before = std::mem::take(&mut self.files);
        let paths: Vec<String> = before.keys().chain(files.keys()).cloned().collect();
        for path in paths {
            let (old, new) = (before.get(&path), files.get(&path));
            if old == new {
                continue;
            }
            for id in old.into_iter().chain(new) {
                if let Some(parsed) = self.parsed(&path, *id)? {
                    touched.extend(parsed.keys.iter().cloned());
                    for_all |= parsed.is_for_all;
                }
            }
        }
        self.files = files;
        let groups = self.groups()?;
        let known = std::mem::take(&mut self.states);
        let mut states = States::new();
        for (root, group) in groups {
            let group = self.understood(group);
            let catalogue = Catalogue::of(group.iter().map(|(_, _, it)| (&it.tree, &it.shared)));
            for (path, _, parsed) in &group {
                for formula in &parsed.tree.formulas {
                    let key = (root.clone(), formula.name.key.clone());
                    if states.contains_key(&key) {
                        continue;
                    }
                    let same = known.get(&key).filter(|state| {
                        let is_free = |key: &EcoString| !touched.contains(key);
                        !for_all && state.path == *path && state.keys.iter().all(is_free)
                    });
                    let state = same.cloned().unwrap_or_else(|| {
                        let Meaning { keys, digest, .. } = catalogue.meaning(formula);
                        State { path: path.clone(), digest, keys }
                    });
                    states.insert(key, state);
                }
            }
        }
        self.states = states;
        Ok(())
    }

    /// The files that share names: those below a folder with a `bakehouse` block; each of the
    /// others alone.
    fn groups(&mut self) -> Result<Vec<(String, Group)>, Trouble> {
        let mut all: Group = Vec::new();
        let files: Vec<(String, Id)> =
            self.files.iter().map(|(path, id)| (path.clone(), *id)).collect();
        for (path, id) in files {
            if let Some(parsed) = self.parsed(&path, id)? {
                all.push((path, id, parsed));
            }
        }
        fn above(path: &str) -> &str {
            path.rsplit_once('/').map_or("", |(folder, _)| folder)
        }
        let roots: FxHashSet<String> = all
            .iter()
            .filter(|(_, _, it)| !it.tree.bakehouses.is_empty())
            .map(|(path, ..)| above(path).to_owned())
            .collect();
        let mut groups: BTreeMap<String, Group> = BTreeMap::new();
        for (path, id, parsed) in all {
            let mut folder = Some(above(&path));
            while let Some(at) = folder.filter(|at| !roots.contains(*at)) {
                folder = (!at.is_empty()).then(|| above(at));
            }
            let root = folder.map_or_else(|| path.clone(), str::to_owned);
            groups.entry(root).or_default().push((path, id, parsed));
        }
        Ok(groups.into_iter().collect())
    }

    /// The same files with the names that their house gives them.
    fn understood(&mut self, group: Group) -> Group {
        let mut hasher = rustc_hash::FxHasher::default();
        for (_, id, parsed) in &group {
            if !parsed.shared.is_empty() {
                id.as_bytes().hash(&mut hasher);
            }
        }
        let house = hasher.finish();
        let mut names = None;
        let mut all = Vec::with_capacity(group.len());
        for (path, id, parsed) in &group {
            let known = self.understood.get(&(*id, house)).cloned();
            let parsed = known.unwrap_or_else(|| {
                let trees = group.iter().map(|(_, _, it)| &it.tree);
                let names = names.get_or_insert_with(|| Names::of(trees));
                let mut tree = parsed.tree.clone();
                names.give(&mut tree);
                let parsed = Arc::new(Parsed::of(tree));
                self.understood.insert((*id, house), Arc::clone(&parsed));
                parsed
            });
            all.push((path.clone(), *id, parsed));
        }
        all
    }

    /// Does something with a formula of the state at hand, and what it means.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn with<T>(
        &mut self,
        key: &(String, EcoString),
        then: impl FnOnce(&Meaning, Option<Document>) -> T,
    ) -> Result<Option<T>, Trouble> {
        let groups = self.groups()?;
        let Some((_, group)) = groups.into_iter().find(|(root, _)| *root == key.0) else {
            return Ok(None);
        };
        let group = self.understood(group);
        let trees: Vec<&Tree> = group.iter().map(|(_, _, it)| &it.tree).collect();
        let found = trees.iter().flat_map(|tree| &tree.formulas).find(|it| it.name.key == key.1);
        let Some(formula) = found else { return Ok(None) };
        let catalogue = Catalogue::of(group.iter().map(|(_, _, it)| (&it.tree, &it.shared)));
        let meaning = catalogue.meaning(formula);
        Ok(Some(then(&meaning, worked_out(&trees, formula))))
    }
}

fn worked_out(trees: &[&Tree], formula: &Formula) -> Option<Document> {
    let house = House::build(Some(built_in()), trees, &mut Vec::new());
    let worked = work(&house, formula, &mut Vec::new());
    let is_sound = worked.sound && !formula.broken;
    is_sound.then(|| document(&house, &worked, &Wording::plain(), false))
}

impl Parsed {
    fn of(tree: Tree) -> Self {
        let shared = shared_of(&tree);
        let names = shared.iter().flat_map(|(declared, _)| {
            std::iter::once(&declared.key).chain(&declared.also).cloned()
        });
        let formulas = tree.formulas.iter().map(|formula| formula.name.key.clone());
        let keys = names.chain(formulas).collect();
        let is_for_all = shared
            .iter()
            .any(|(declared, _)| matches!(declared.kind, Kind::House | Kind::Mixer | Kind::Oven));
        Self { tree, shared, keys, is_for_all }
    }
}
