//! A bakehouse through its history: what each formula means at each commit.
//!
//! From one commit to the next only the trees that differ are looked at, every blob is read
//! once, by the name of its object, and only formulas that a commit can have touched are
//! looked at again. What is kept is kept in memory only.

use super::catalogue::{
    Catalogue, DAYS, Digest, Formulas, Marked, Meaning, Own, Shared, digest_for_days, digests_of,
    shared_of,
};
use super::declared::DeclaredKind;
use super::differences::Printed;
use super::git::{Changed, Commit, EntryKind, Id, Repository, Trouble, View};
use super::stamp::Effects;
use crate::desk::{is_read, read_old};
use crate::formula::{House, HouseNames, Settings, built_in};
use crate::source::SourceId;
use crate::syntax::booklet::Booklet;
use crate::syntax::tree::{Formula, Tree};
use ecow::EcoString;
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock, Weak};

/// A file as it was read, before or after its names were understood.
struct Parsed {
    tree: Tree,
    shared: Shared,
    /// What of the names of others it changes.
    names: OnceLock<u64>,
    /// Each formula with a fingerprint of its text: where that is the same, so is what the
    /// formula says by itself.
    formulas: Vec<(EcoString, Digest)>,
    /// Each thing that it declares, with its fingerprint.
    declares: OnceLock<BTreeSet<(DeclaredKind, EcoString, Digest)>>,
    /// What each of its formulas says by itself.
    owns: Vec<OnceLock<Own>>,
}

/// A formula at the commit that is looked at.
#[derive(Clone)]
pub struct State {
    /// Its file, from the top of the repository.
    pub path: String,
    /// What it means.
    pub digest: Digest,
    /// What the five letters of its code come from.
    pub baked: Digest,
    keys: Arc<FxHashSet<EcoString>>,
}

/// A formula of a history: the folder of its bakehouse, and its key.
pub type Key = (String, EcoString);

/// The formulas of one state.
pub type States = BTreeMap<Key, State>;

/// A file of a house, as it was read and as the house understands it.
struct Member {
    id: Id,
    raw: Arc<Parsed>,
    understood: Arc<Parsed>,
}

/// The files of one house.
#[derive(Default)]
struct HouseFiles {
    files: BTreeMap<String, Member>,
    /// What the house calls things: a fingerprint, and all of it once it was asked for.
    names: u64,
    known: Option<HouseNames>,
    /// The files in which each formula, booklet or day stands.
    places: FxHashMap<EcoString, BTreeSet<String>>,
    /// The files that declare anything else.
    sharing: BTreeSet<String>,
    /// By what is looked up, the formulas, booklets and days that look it up.
    users: FxHashMap<EcoString, FxHashSet<EcoString>>,
}

/// What a commit changed of a house.
#[derive(Default)]
struct Touched {
    paths: BTreeSet<String>,
    keys: FxHashSet<EcoString>,
    /// Whether every formula of the house may change with it.
    is_all: bool,
    /// Whether the house may call things otherwise.
    is_renaming: bool,
}

/// A walk through states of a folder.
pub struct Walk<'r> {
    repository: &'r Repository,
    folder: PathBuf,
    raw: FxHashMap<Id, Option<Arc<Parsed>>>,
    /// As long as some state at hand has them.
    understood: FxHashMap<(Id, u64), Weak<Parsed>>,
    /// What is not the same in two trees, for those that were compared beforehand.
    compared: FxHashMap<(Id, Id), Vec<Changed>>,
    /// The one formula whose meaning is asked for; all of them where none is named.
    wanted: Option<Key>,
    files: BTreeMap<String, Id>,
    has_links: bool,
    groups: BTreeMap<String, HouseFiles>,
    /// The folders with a `bakehouse` block, and how many files have one.
    roots: BTreeMap<String, usize>,
    /// The states of the files that are at hand.
    pub states: States,
    tree: Option<Id>,
}

impl<'r> Walk<'r> {
    /// Nothing looked at yet; only files below a folder count.
    pub fn new(repository: &'r Repository, folder: &Path) -> Self {
        Self {
            repository,
            folder: folder.to_path_buf(),
            raw: FxHashMap::default(),
            understood: FxHashMap::default(),
            compared: FxHashMap::default(),
            wanted: None,
            files: BTreeMap::new(),
            has_links: false,
            groups: BTreeMap::new(),
            roots: BTreeMap::new(),
            states: States::new(),
            tree: None,
        }
    }

    /// Reads beforehand, on all processors, what a walk through these commits will need; where
    /// no formula is named, also what each of them says by itself.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn prepare(&mut self, commits: &[Commit]) -> Result<(), Trouble> {
        let Some(inside) = self.repository.inside(&self.folder) else { return Ok(()) };
        let (repository, known, compared) = (self.repository, &self.raw, &self.compared);
        let is_of_all = self.wanted.is_none();
        let mut seen: FxHashSet<Id> = FxHashSet::default();
        let differing = commits.windows(2).filter_map(|pair| match pair {
            [from, to] if from.tree != to.tree => Some((from.tree, to.tree)),
            _ => None,
        });
        let differing = differing.filter(|both| !compared.contains_key(both));
        // Objects are read one after the other, and what was read is understood meanwhile.
        let read = differing.map(|both| {
            let mut changes = repository.changes(both.0, both.1)?;
            changes.retain(|change| leads_on(change) || is_ours(&inside, &change.0));
            let mut blobs = Vec::new();
            for (path, now) in &changes {
                if let Some((id, EntryKind::File)) = now
                    && !known.contains_key(id)
                    && seen.insert(*id)
                {
                    blobs.push((*id, path.clone(), repository.blob(*id)?));
                }
            }
            Ok((both, changes, blobs))
        });
        type Looked = ((Id, Id), Vec<Changed>, Vec<(Id, Option<Arc<Parsed>>)>);
        type Found = ((Id, Id), Vec<Changed>, Vec<(Id, String, Vec<u8>)>);
        let looked = read.par_bridge().map(|read: Result<Found, Trouble>| {
            let (both, changes, blobs) = read?;
            let parsed = blobs.into_iter();
            let parsed = parsed.map(|(id, path, bytes)| {
                let parsed = Parsed::read(&path, &bytes);
                parsed.iter().filter(|_| is_of_all).for_each(|parsed| parsed.take_marks());
                (id, parsed)
            });
            Ok((both, changes, parsed.collect()))
        });
        let looked: Vec<Looked> = looked.collect::<Result<_, Trouble>>()?;
        for (both, changes, parsed) in looked {
            self.compared.insert(both, changes);
            self.raw.extend(parsed);
        }
        Ok(())
    }

    /// From here on the meaning of one formula is asked for, and that of no other.
    pub fn want(&mut self, key: &Key) {
        if self.wanted.as_ref() == Some(key) {
            return;
        }
        self.wanted = Some(key.clone());
        let Some(mut group) = self.groups.remove(&key.0) else { return };
        let keys = std::iter::once(key.1.clone()).collect();
        let touched = Touched { keys, ..Touched::default() };
        self.look_again(&key.0, &mut group, &touched, false, &mut BTreeSet::new());
        self.groups.insert(key.0.clone(), group);
    }

    /// Goes to a commit; tells the formulas whose states are others there.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn go_to(&mut self, commit: &Commit) -> Result<BTreeSet<Key>, Trouble> {
        let before = self.tree.replace(commit.tree);
        if before == Some(commit.tree) {
            return Ok(BTreeSet::new());
        }
        let changes = match before.filter(|_| !self.has_links) {
            Some(before) => match self.compared.remove(&(before, commit.tree)) {
                Some(changes) => changes,
                None => self.repository.changes(before, commit.tree)?,
            },
            None => return self.go_to_all(commit),
        };
        let inside = self.repository.inside(&self.folder);
        let Some(inside) = inside else { return Ok(BTreeSet::new()) };
        if changes.iter().any(leads_on) {
            return self.go_to_all(commit);
        }
        let changes: Vec<Changed> =
            changes.into_iter().filter(|(path, _)| is_ours(&inside, path)).collect();
        let of_file = |now: Option<(Id, EntryKind)>| {
            now.filter(|(_, is)| *is == EntryKind::File).map(|(id, _)| id)
        };
        self.change(changes.into_iter().map(|(path, now)| (path, of_file(now))).collect())
    }

    /// Goes to a commit by all its files, as links and submodules may lead from one to another.
    fn go_to_all(&mut self, commit: &Commit) -> Result<BTreeSet<Key>, Trouble> {
        let view = View::of_tree(self.repository, commit.tree);
        let mut files = BTreeMap::new();
        let is_wanted = |name: &str| is_read(Path::new(name));
        self.has_links = view.files_below(&self.folder, &is_wanted, &mut files)?;
        let gone = self.files.keys().filter(|path| !files.contains_key(*path));
        let mut changes: Vec<(String, Option<Id>)> =
            gone.map(|path| (path.clone(), None)).collect();
        changes.extend(files.into_iter().map(|(path, id)| (path, Some(id))));
        self.change(changes)
    }

    fn parsed(&mut self, path: &str, id: Id) -> Result<Option<Arc<Parsed>>, Trouble> {
        if let Some(known) = self.raw.get(&id) {
            return Ok(known.clone());
        }
        let parsed = Parsed::read(path, &self.repository.blob(id)?);
        self.raw.insert(id, parsed.clone());
        Ok(parsed)
    }

    /// Takes files in, with what they are now.
    fn change(&mut self, changes: Vec<(String, Option<Id>)>) -> Result<BTreeSet<Key>, Trouble> {
        let mut pairs = Vec::new();
        let mut moves = false;
        for (path, now) in changes {
            let before = match now {
                Some(id) => self.files.insert(path.clone(), id),
                None => self.files.remove(&path),
            };
            if before == now {
                continue;
            }
            let mut read = |id: Option<Id>| id.map_or(Ok(None), |id| self.parsed(&path, id));
            let (old, new) = (read(before)?, read(now)?);
            moves |= self.house_moves(&path, old.as_deref(), new.as_deref());
            pairs.push((path, now, old, new));
        }
        let mut touched: BTreeMap<String, Touched> = BTreeMap::new();
        if moves {
            self.regroup(&mut touched);
        }
        for (path, now, old, new) in pairs {
            let root = self.root_of(&path);
            touched.entry(root.clone()).or_default().take(&path, old.as_deref(), new.as_deref());
            let group = self.groups.entry(root).or_default();
            match now.zip(new) {
                Some((id, raw)) => {
                    let understood = Arc::clone(&raw);
                    group.put(path, Member { id, raw, understood });
                }
                None => group.take(&path),
            }
        }
        let mut changed = BTreeSet::new();
        for (root, touched) in touched {
            self.update(&root, &touched, &mut changed);
        }
        Ok(changed)
    }

    /// Counts the files with a `bakehouse` block; says whether a house came or went.
    fn house_moves(&mut self, path: &str, old: Option<&Parsed>, new: Option<&Parsed>) -> bool {
        let has = |parsed: Option<&Parsed>| parsed.is_some_and(|it| !it.tree.bakehouses.is_empty());
        let count = self.roots.entry(above(path).to_owned()).or_default();
        let before = *count;
        *count = (before + usize::from(has(new))).saturating_sub(usize::from(has(old)));
        let after = *count;
        if after == 0 {
            self.roots.remove(above(path));
        }
        (before == 0) != (after == 0)
    }

    /// The folder of the house that a file belongs to, or the file where it stands alone.
    fn root_of(&self, path: &str) -> String {
        let mut folder = Some(above(path));
        while let Some(at) = folder.filter(|at| !self.roots.contains_key(*at)) {
            folder = (!at.is_empty()).then(|| above(at));
        }
        folder.map_or_else(|| path.to_owned(), str::to_owned)
    }

    /// Puts all files together anew, as a house came or went.
    fn regroup(&mut self, touched: &mut BTreeMap<String, Touched>) {
        let groups = std::mem::take(&mut self.groups);
        for root in groups.keys() {
            touched.entry(root.clone()).or_default();
        }
        for (path, member) in groups.into_values().flat_map(|group| group.files) {
            let root = self.root_of(&path);
            touched.entry(root.clone()).or_default();
            self.groups.entry(root).or_default().put(path, member);
        }
        for group in touched.values_mut() {
            (group.is_all, group.is_renaming) = (true, true);
        }
    }

    /// Looks at the formulas of a house again that may be others now.
    fn update(&mut self, root: &str, touched: &Touched, changed: &mut BTreeSet<Key>) {
        let mut is_all = touched.is_all;
        let mut group = self.groups.remove(root).unwrap_or_default();
        if touched.is_renaming {
            let known = group.all_names();
            let names = known.fingerprint();
            group.known = Some(known);
            is_all |= names != std::mem::replace(&mut group.names, names);
        }
        self.understand(&mut group, if is_all { None } else { Some(&touched.paths) });
        if is_all || !touched.keys.is_empty() {
            self.look_again(root, &mut group, touched, is_all, changed);
        }
        if !group.files.is_empty() {
            self.groups.insert(root.to_owned(), group);
        }
    }

    fn look_again(
        &mut self,
        root: &str,
        group: &mut HouseFiles,
        touched: &Touched,
        is_all: bool,
        changed: &mut BTreeSet<Key>,
    ) {
        let open = self.open(root, group, touched, is_all);
        let (catalogue, wanted) = (group.catalogue(), self.wanted.as_ref());
        let states = &self.states;
        let look = |key: EcoString| {
            let at = (root.to_owned(), key);
            let is_wanted = wanted.is_none_or(|wanted| *wanted == at);
            let state = group.place(&at.1).and_then(|(path, member)| {
                let path = path.clone();
                if !is_wanted {
                    let (digest, baked) = (Digest::default(), Digest::default());
                    return Some(State { path, digest, baked, keys: Arc::default() });
                }
                let (marked, keys) = match member.formula(&at.1) {
                    Some(formula) => catalogue.mark(formula),
                    None => {
                        let Meaning { digest, named, baked, keys, .. } =
                            catalogue.meaning_of_handout(&at.1)?;
                        (Marked { digest, named, baked }, keys)
                    }
                };
                let Marked { digest, baked, .. } = marked;
                let known = states.get(&at).map(|it| &it.keys).filter(|known| ***known == keys);
                let keys = known.map_or_else(|| Arc::new(keys), Arc::clone);
                Some(State { path, digest, baked, keys })
            });
            (at, state)
        };
        // For a few it is not worth the while to wake other threads.
        let found: Vec<(Key, Option<State>)> = match open.len() {
            0..8 => open.into_iter().map(look).collect(),
            _ => open.into_par_iter().map(look).collect(),
        };
        for (at, state) in found {
            let keys = state.as_ref().map(|state| Arc::clone(&state.keys)).unwrap_or_default();
            let (path, digest) = state.as_ref().map(|it| (it.path.clone(), it.digest)).unzip();
            let before = match state {
                Some(state) => self.states.insert(at.clone(), state),
                None => self.states.remove(&at),
            };
            let known = before.as_ref().map(|it| Arc::clone(&it.keys)).unwrap_or_default();
            if !Arc::ptr_eq(&known, &keys) {
                for key in known.difference(&keys) {
                    group.users.get_mut(key).map(|users| users.remove(&at.1));
                }
                for key in keys.difference(&known) {
                    group.users.entry(key.clone()).or_default().insert(at.1.clone());
                }
            }
            if before.map(|it| (it.path, it.digest)).unzip() != (path, digest) {
                changed.insert(at);
            }
        }
    }

    /// The formulas, booklets and days of a house that may be others now.
    fn open(
        &self,
        root: &str,
        group: &HouseFiles,
        touched: &Touched,
        is_all: bool,
    ) -> BTreeSet<EcoString> {
        if is_all {
            let states = self.states.range((root.to_owned(), EcoString::new())..);
            let states = states.take_while(|((at, _), _)| at == root).map(|((_, key), _)| key);
            return states.chain(group.places.keys()).cloned().collect();
        }
        let mut open = BTreeSet::new();
        for key in &touched.keys {
            open.extend(group.users.get(key).into_iter().flatten().cloned());
            let is_known = || self.states.contains_key(&(root.to_owned(), key.clone()));
            if group.places.contains_key(key) || is_known() {
                open.insert(key.clone());
            }
        }
        open
    }

    /// Gives the files of a house the names that it has for things: those at some paths, or
    /// all.
    fn understand(&mut self, group: &mut HouseFiles, paths: Option<&BTreeSet<String>>) {
        let house = group.names;
        let wanted: Vec<String> = match paths {
            Some(paths) => {
                paths.iter().filter(|it| group.files.contains_key(*it)).cloned().collect()
            }
            None => group.files.keys().cloned().collect(),
        };
        for path in wanted {
            let Some(Member { id, raw, .. }) = group.files.get(&path) else { continue };
            let known = self.understood.get(&(*id, house)).and_then(Weak::upgrade);
            let (id, raw) = (*id, Arc::clone(raw));
            let understood = known.unwrap_or_else(|| {
                if group.known.is_none() {
                    group.known = Some(group.all_names());
                }
                let mut tree = raw.tree.clone();
                group.known.iter().for_each(|names| names.give(&mut tree));
                // Most files say everything in the words of the house or of the stores.
                match tree == raw.tree {
                    true => Arc::clone(&raw),
                    false => Arc::new(Parsed::of(tree, "")),
                }
            });
            self.understood.insert((id, house), Arc::downgrade(&understood));
            if let Some(member) = group.files.get_mut(&path) {
                member.understood = understood;
            }
        }
    }

    /// What is printed under a key, at the state at hand: a formula, a booklet or a day.
    pub fn kind(&self, key: &Key) -> Option<DeclaredKind> {
        let (_, member) = self.groups.get(&key.0)?.place(&key.1)?;
        if member.formula(&key.1).is_some() {
            return Some(DeclaredKind::Formula);
        }
        let handouts = member.raw.shared.iter().map(|(declared, _)| declared);
        let mut handouts = handouts.filter(|it| it.kind.is_handout() && it.key == key.1);
        handouts.next().map(|it| it.kind)
    }

    /// The files in which the settings of the house of a folder stand, at the state at hand.
    pub fn houses(&self, root: &str) -> Vec<Id> {
        let Some(group) = self.groups.get(root) else { return Vec::new() };
        let files = group.sharing.iter().filter_map(|path| group.files.get(path));
        files.filter(|it| !it.raw.tree.bakehouses.is_empty()).map(|it| it.id).collect()
    }

    /// Whether a folder is that of a house, at the state at hand.
    pub fn is_house(&self, root: &str) -> bool {
        self.roots.contains_key(root)
    }

    /// A booklet with the path of its file from the top, at the state at hand.
    pub fn booklet(&self, key: &Key) -> Option<(&str, &Booklet)> {
        let (path, member) = self.groups.get(&key.0)?.place(&key.1)?;
        let mut booklets = member.understood.tree.booklets.iter();
        Some((path, booklets.find(|it| it.name.key == key.1)?))
    }

    /// The settings of the house of a folder, at the state at hand.
    pub fn settings(&self, root: &str) -> Option<Settings> {
        let files = self.groups.get(root)?.files.values().map(|it| &it.understood.tree);
        let trees: Vec<&Tree> = files.filter(|tree| !tree.bakehouses.is_empty()).collect();
        Some(House::build(Some(built_in()), &trees, &mut Vec::new()).settings)
    }

    /// What the house makes of the prints of a formula of the state at hand that means something.
    pub fn effects(&self, key: &Key, digest: &Digest) -> Option<Effects> {
        let group = self.groups.get(&key.0)?;
        let trees: Vec<&Tree> = group.files.values().map(|it| &it.understood.tree).collect();
        let formula = group.place(&key.1)?.1.formula(&key.1)?;
        let house = House::build(Some(built_in()), &trees, &mut Vec::new());
        Some(Effects::of((&house, &house.bare()), formula, digest))
    }

    /// Does something with a formula, a booklet or a day of the state at hand, and what it
    /// means; only formulas have figures.
    pub fn with<T>(
        &self,
        key: &Key,
        then: impl FnOnce(&Meaning, &dyn Fn() -> Option<Printed>) -> T,
    ) -> Option<T> {
        let group = self.groups.get(&key.0)?;
        let trees = || group.files.values().map(|it| &it.understood.tree).collect::<Vec<_>>();
        let (_, member) = group.place(&key.1)?;
        let formula = member.formula(&key.1);
        let catalogue = group.catalogue();
        let meaning = match formula {
            Some(formula) => catalogue.meaning(formula),
            None => catalogue.meaning_of_handout(&key.1)?,
        };
        Some(then(&meaning, &|| printed(&trees(), formula?)))
    }
}

fn above(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

/// Whether a change is of a link or a submodule, so that files of other paths may change with it.
fn leads_on((_, now): &Changed) -> bool {
    now.is_some_and(|(_, is)| matches!(is, EntryKind::Link | EntryKind::Submodule))
}

/// Whether a path is one of a file that is read below a folder, nothing of it hidden.
fn is_ours(folder: &str, path: &str) -> bool {
    let below = match folder {
        "" => Some(path),
        folder => path.strip_prefix(folder).and_then(|rest| rest.strip_prefix('/')),
    };
    below.is_some_and(|below| {
        !below.split('/').any(|part| part.starts_with('.')) && is_read(Path::new(below))
    })
}

fn printed(trees: &[&Tree], formula: &Formula) -> Option<Printed> {
    let house = House::build(Some(built_in()), trees, &mut Vec::new());
    Printed::of(&house, formula, None)
}

impl Member {
    /// The first formula with a key.
    fn formula(&self, key: &str) -> Option<&Formula> {
        self.understood.tree.formulas.iter().find(|it| it.name.key == key)
    }

    /// What stands in it that is printed: formulas, booklets, days.
    fn printed(&self) -> impl Iterator<Item = &EcoString> {
        let handouts = self.raw.shared.iter().filter(|(it, _)| it.kind.is_handout());
        let formulas = self.raw.tree.formulas.iter().map(|it| &it.name.key);
        formulas.chain(handouts.map(|(it, _)| &it.key))
    }
}

impl Formulas for HouseFiles {
    fn formula(&self, key: &str) -> Option<&Formula> {
        self.place(key)?.1.formula(key)
    }

    fn own(&self, key: &str) -> Option<&OnceLock<Own>> {
        let understood = &self.place(key)?.1.understood;
        let at = understood.tree.formulas.iter().position(|it| it.name.key == key)?;
        understood.owns.get(at)
    }
}

impl HouseFiles {
    /// Takes a file in, in place of what it was.
    fn put(&mut self, path: String, member: Member) {
        self.take(&path);
        for key in member.printed() {
            self.places.entry(key.clone()).or_default().insert(path.clone());
        }
        if !member.raw.shared.is_empty() {
            self.sharing.insert(path.clone());
        }
        self.files.insert(path, member);
    }

    fn take(&mut self, path: &str) {
        let Some(member) = self.files.remove(path) else { return };
        for key in member.printed() {
            let Some(places) = self.places.get_mut(key) else { continue };
            places.remove(path);
            if places.is_empty() {
                self.places.remove(key);
            }
        }
        self.sharing.remove(path);
    }

    /// The file in which something is printed; of two with one name the first one counts.
    fn place(&self, key: &str) -> Option<(&String, &Member)> {
        self.files.get_key_value(self.places.get(key)?.first()?)
    }

    /// What the files declare, as the house understands them.
    fn catalogue(&self) -> Catalogue<'_> {
        let sharing = self.sharing.iter().filter_map(|path| self.files.get(path));
        let trees = sharing.map(|it| (&it.understood.tree, &it.understood.shared));
        Catalogue::of(trees).with_formulas(self)
    }

    fn all_names(&self) -> HouseNames {
        HouseNames::of(self.files.values().map(|member| &member.raw.tree))
    }
}

impl Touched {
    /// What a file says otherwise than before.
    fn take(&mut self, path: &str, old: Option<&Parsed>, new: Option<&Parsed>) {
        self.paths.insert(path.to_owned());
        let names = |parsed: Option<&Parsed>| parsed.map(Parsed::names);
        self.is_renaming |= names(old) != names(new);
        let nothing = BTreeSet::new();
        let declares = |parsed: Option<&'_ Parsed>| match parsed {
            Some(parsed) => parsed.declares().clone(),
            None => nothing.clone(),
        };
        for (kind, key, _) in declares(old).symmetric_difference(&declares(new)) {
            self.keys.insert(key.clone());
            if *kind == DeclaredKind::Day || kind.is_machine() {
                self.keys.insert(DAYS.into());
            }
            self.is_all |=
                matches!(kind, DeclaredKind::House | DeclaredKind::Mixer | DeclaredKind::Oven);
        }
    }
}

/// The formulas of a file with fingerprints of their texts: what stands from each to the next,
/// and what stands before all of them.
fn texts_of(tree: &Tree, text: &str) -> Vec<(EcoString, Digest)> {
    let mut starts: Vec<usize> = tree.formulas.iter().map(|it| it.span.start as usize).collect();
    starts.sort_unstable();
    let head = text.get(..starts.first().copied().unwrap_or_default()).unwrap_or_default();
    let of = |formula: &Formula| {
        let start = formula.span.start as usize;
        let next = starts.partition_point(|other| *other <= start);
        let end = starts.get(next).copied().unwrap_or(text.len());
        let mut hasher = blake3::Hasher::new();
        hasher.update(&(head.len() as u64).to_le_bytes());
        hasher.update(head.as_bytes());
        hasher.update(text.get(start..end).unwrap_or_default().as_bytes());
        (formula.name.key.clone(), *hasher.finalize().as_bytes())
    };
    tree.formulas.iter().map(of).collect()
}

impl Parsed {
    /// A file as git keeps it; none where it is no text of ours.
    fn read(path: &str, bytes: &[u8]) -> Option<Arc<Self>> {
        let tree = read_old(Path::new(path), SourceId::ASKED, bytes)?;
        let text = std::str::from_utf8(bytes).unwrap_or_default();
        let parsed = Self::of(tree, text);
        // Both are asked for whenever a file has changed.
        parsed.names();
        parsed.declares();
        Some(Arc::new(parsed))
    }

    fn of(tree: Tree, text: &str) -> Self {
        let shared = shared_of(&tree);
        let formulas = if text.is_empty() { Vec::new() } else { texts_of(&tree, text) };
        let owns = tree.formulas.iter().map(|_| OnceLock::new()).collect();
        Self { tree, shared, names: OnceLock::new(), formulas, declares: OnceLock::new(), owns }
    }

    /// Works out what each formula says by itself; where the house has other names for what it
    /// speaks of, that is done again.
    fn take_marks(&self) {
        let all = self.tree.formulas.iter().zip(&self.owns);
        for (formula, own) in all.filter(|(formula, _)| formula.from.is_none()) {
            own.get_or_init(|| Own::of(formula));
        }
    }

    fn names(&self) -> u64 {
        *self.names.get_or_init(|| HouseNames::of(std::iter::once(&self.tree)).fingerprint())
    }

    fn declares(&self) -> &BTreeSet<(DeclaredKind, EcoString, Digest)> {
        self.declares.get_or_init(|| {
            let shared = self.shared.iter().flat_map(|(declared, digest)| {
                let digest = match declared.kind {
                    DeclaredKind::House => digest_for_days(declared),
                    _ => digest.get_or_init(|| digests_of(declared)).all,
                };
                let names = std::iter::once(&declared.key).chain(&declared.also);
                names.map(move |key| (declared.kind, key.clone(), digest))
            });
            let formulas = self.formulas.iter();
            let formulas = formulas.map(|(key, text)| (DeclaredKind::Formula, key.clone(), *text));
            shared.chain(formulas).collect()
        })
    }
}
