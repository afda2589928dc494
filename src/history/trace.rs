//! Where a code came from: the formula, the print, and the revisions.

use super::brought::Brought;
use super::catalogue::{Catalogue, shared_of};
use super::code::{OF_MEANING, Settings, of_meaning};
use super::declared::Kind;
use super::git::{Commit, Id, Repository, Trouble, View};
use super::log::date_of;
use super::stamp::{Manner, asked_of, prints_of, units_word};
use super::walk::{Key, Walk};
use super::yields;
use crate::desk::{self, Bakehouse, booklets};
use crate::diag::machine::pretty;
use crate::formula::Settings as HouseSettings;
use crate::quantity::System;
use crate::source::visible;
use crate::syntax::booklet::PartKind;
use rustc_hash::FxHashMap;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// The version of the shape of what `assize trace --format json` writes.
const VERSION: u32 = 1;

/// What a code leads to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Traced {
    /// The version of this document's shape.
    pub version: u32,
    /// The eight letters and digits.
    pub code: String,
    /// The formulas, booklets and days with that meaning; several where two have the same five
    /// letters.
    pub formulas: Vec<Found>,
    /// How it was printed, where the house declares such a print.
    pub printed: Option<Printed>,
    /// A shallow clone has nothing older.
    pub cut_short: bool,
}

/// A formula that had the meaning of a code.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Found {
    /// Its name.
    pub name: String,
    /// Its file.
    pub file: String,
    /// Whether the files as they are have that meaning.
    pub current: bool,
    /// The commits that have it, the newest first.
    pub revisions: Vec<Revision>,
    /// What it is in the files as they are: a formula, a booklet or a day.
    #[serde(skip)]
    kind: Option<Kind>,
    /// Its key, where it is a booklet or a day.
    #[serde(skip)]
    handout: String,
}

/// A commit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Revision {
    /// The first digits of the commit.
    pub revision: String,
    /// The author's day: `2026-03-02`.
    pub date: String,
    /// The first line of its message.
    pub subject: String,
}

/// How a print was made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Printed {
    /// `card`, `sheet`, `table`, `plan`, `booklet` or `day`.
    pub print: String,
    /// Its language, as a tag.
    pub language: String,
    /// `metric`, `us`, and whether the other stands beside.
    pub units: String,
    /// Whether volumes stand beside weights.
    pub volumes: bool,
    /// What it is for: `60 loaves at 900 g`; absent where that is what the formula makes.
    pub makes: Option<String>,
    /// What else was asked for: `seat 2`, `teacher's copy, large`.
    pub asked: Option<String>,
}

/// A house with what it brings to its prints.
pub type House<'b, 'l> = (&'b Bakehouse<'l>, &'b Brought);

/// How a code was printed, by how likely it is: three letters are few, so that what a house
/// prints by itself goes before whatever else may be asked of it.
#[derive(Clone, Debug, Default)]
pub struct Prints {
    /// What the house prints, or has printed, where nobody asks for anything else.
    pub own: Option<Printed>,
    /// What it prints in another language, other units or another size.
    other: Option<Printed>,
}

impl Prints {
    /// Those of the files as they are, of what was found in them; none where nothing was.
    pub fn of(houses: &[House], found: &[Found], code: &str) -> Self {
        let first = found.first();
        let Some((kind, of)) = first.and_then(|it| Some((it.kind?, it.handout.as_str()))) else {
            return Self::default();
        };
        let seats = seats_of(houses);
        let settings: Vec<(HouseSettings, &Brought)> = houses
            .iter()
            .flat_map(|(bakehouse, brought)| {
                settings_in(bakehouse).into_iter().map(move |settings| (settings, *brought))
            })
            .collect();
        let manners: Vec<Manner> =
            settings.iter().map(|(settings, brought)| Manner { settings, brought }).collect();
        let prints = Self::in_manners(&manners, (kind, of, seats), code);
        match kind {
            Kind::Formula => prints.or(|| printed_for_another_yield(houses, code)),
            _ => prints,
        }
    }

    /// Those made in some ways: of a kind of thing, of a booklet or day by its key, with so many
    /// seats.
    fn in_manners(manners: &[Manner], of: (Kind, &str, u32), code: &str) -> Self {
        let (kind, key, seats) = of;
        let wanted = code.get(OF_MEANING..).unwrap_or_default();
        let mut own = manners.iter().flat_map(|manner| manner.own(prints_of(kind), key, seats));
        let own = own.find(|settings| settings.letters() == wanted);
        let own = own.map(|settings| Printed::with(settings, None));
        Self { other: among(manners, of, code), own }
    }

    fn or(self, own: impl FnOnce() -> Option<Printed>) -> Self {
        Self { own: self.own.or_else(own), ..self }
    }

    /// The likeliest of them.
    pub fn likeliest(self) -> Option<Printed> {
        self.own.or(self.other)
    }
}

/// The most copies that a booklet of a house has for learners.
pub fn seats_of(houses: &[House]) -> u32 {
    let files = houses.iter().flat_map(|(bakehouse, _)| &bakehouse.files);
    let booklets = files.flat_map(|file| &file.tree.booklets);
    booklets.filter_map(|it| it.variants).map(|(seats, _)| seats).max().unwrap_or(1)
}

/// The settings of a house, and those that its booklets put in their place.
fn settings_in(bakehouse: &Bakehouse) -> Vec<HouseSettings> {
    let booklets = bakehouse.files.iter().flat_map(|file| &file.tree.booklets);
    let others = booklets.filter(|it| it.language.is_some() || it.units.is_some());
    let others = others.map(|it| booklets::house_and_words(bakehouse, it, None).0.settings);
    std::iter::once(bakehouse.house.settings.clone()).chain(others).collect()
}

/// The print with the three letters of a code that is made in one of these ways, in whatever
/// language and units.
fn among(manners: &[Manner], of: (Kind, &str, u32), code: &str) -> Option<Printed> {
    let (kind, key, seats) = of;
    let wanted = code.get(OF_MEANING..)?;
    let own = manners.iter().filter_map(|it| it.settings.language.as_ref());
    let mut languages: Vec<String> = own.map(|language| language.value.to_string()).collect();
    let ours = crate::print::wording::CATALOGUES.map(|(language, ..)| language.to_owned());
    languages.extend(ours);
    let in_two = manners.iter().filter_map(|Manner { settings, .. }| {
        let (first, second) = (settings.language.as_ref()?, settings.second_language.as_ref()?);
        Some(format!("{} and {}", first.value, second.value))
    });
    languages.extend(in_two);
    let mut seen = BTreeSet::new();
    languages.retain(|language| seen.insert(language.clone()));
    let mut units: Vec<String> = manners
        .iter()
        .map(|it| units_word(it.settings.units.first, it.settings.units.both))
        .collect();
    for system in [System::Metric, System::Us] {
        units.extend([units_word(system, false), units_word(system, true)]);
    }
    let mut seen = BTreeSet::new();
    units.retain(|word| seen.insert(word.clone()));
    let asked = prints_of(kind).iter().map(|print| (*print, asked_of(print, seats, true)));
    let asked: Vec<(&str, Vec<String>)> = asked.collect();
    // What the house itself prints comes first.
    for language in &languages {
        for (print, asked) in &asked {
            let mut houses: Vec<String> =
                manners.iter().map(|it| it.house(print, key, language)).collect();
            houses.dedup();
            for (units, house) in units.iter().flat_map(|it| houses.iter().map(move |of| (it, of)))
            {
                for (volumes, asked) in asked.iter().flat_map(|it| [(false, it), (true, it)]) {
                    let settings = Settings {
                        print: (*print).to_owned(),
                        language: language.clone(),
                        units: units.clone(),
                        volumes,
                        makes: String::new(),
                        house: house.clone(),
                        asked: asked.clone(),
                    };
                    if settings.letters() == wanted {
                        return Some(Printed::with(settings, None));
                    }
                }
            }
        }
    }
    None
}

impl Printed {
    fn with(settings: Settings, makes: Option<String>) -> Self {
        let Settings { print, language, units, volumes, asked, .. } = settings;
        let asked = Some(asked).filter(|asked| !asked.is_empty());
        Self { print, language, units, volumes, makes, asked }
    }
}

/// The print with this code that a house makes of a formula as it is, for a yield that a
/// booklet or a day asks for.
fn printed_for_another_yield(houses: &[House], code: &str) -> Option<Printed> {
    let (baked, wanted) = code.split_at_checked(OF_MEANING)?;
    for (bakehouse, brought) in houses {
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let shared: Vec<_> = trees().map(shared_of).collect();
        let catalogue = Catalogue::of(trees().zip(&shared));
        let formulas = trees().flat_map(|tree| &tree.formulas);
        for formula in formulas.filter(|it| of_meaning(&catalogue.meaning(it).digest) == baked) {
            let all = settings_in(bakehouse);
            for (number, makes) in yields::of(bakehouse, formula) {
                let manners = all.iter().map(|settings| Manner { settings, brought });
                for settings in
                    manners.flat_map(|manner| manner.own(prints_of(Kind::Formula), "", 1))
                {
                    let settings = Settings { makes: number.clone(), ..settings };
                    if settings.letters() == wanted {
                        return Some(Printed::with(settings, Some(makes)));
                    }
                }
            }
        }
    }
    None
}

/// What a way to make prints rests on: the kind of print, the booklet or day, the files with the
/// settings, and whatever the house and the booklet bring.
type Made = (Kind, String, Vec<Id>, Vec<Option<Id>>);

/// How the house made its prints at the commits of a walk, each way looked at once.
struct Then<'r, 'c> {
    repository: &'r Repository,
    code: &'c str,
    seats: u32,
    /// The settings of a house, by the files in which they stand.
    settings: FxHashMap<Vec<Id>, Option<HouseSettings>>,
    known: FxHashMap<Made, Prints>,
}

impl Then<'_, '_> {
    /// How the house made a print with the code at a commit to which a walk has gone.
    fn at(&mut self, walk: &Walk, commit: &Commit, of: &Key) -> Prints {
        let root = of.0.as_str();
        let Some(kind) = walk.kind(of) else { return Prints::default() };
        let view = View::of_tree(self.repository, commit.tree);
        let folder = self.repository.top.join(root);
        let handout = if kind.is_handout() { of.1.as_str() } else { "" };
        let houses = walk.houses(root);
        // Most commits leave the files of the settings alone.
        let settings = match self.settings.get(&houses) {
            Some(known) => known.clone(),
            None => {
                let read = walk.settings(root);
                self.settings.insert(houses.clone(), read.clone());
                read
            }
        };
        let Some(settings) = settings else { return Prints::default() };
        let booklet =
            walk.booklet(of).map(|(path, booklet)| (self.repository.top.join(path), booklet));
        let mut brings = vec![
            view.id_of(&folder.join(desk::TEMPLATES)),
            view.id_of(&folder.join(desk::FONTS)),
            settings.logo.as_ref().and_then(|logo| view.id_of(&folder.join(&*logo.value))),
        ];
        if let Some((path, booklet)) = &booklet {
            let beside = path.parent().unwrap_or(path);
            let pictures = booklet.parts.iter().filter_map(|part| match &part.what {
                PartKind::Picture { file, .. } => Some(view.id_of(&beside.join(file.as_str()))),
                _ => None,
            });
            brings.extend(pictures);
        }
        let key = (kind, handout.to_owned(), houses, brings);
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let is_house = walk.is_house(root);
        let mut brought = match is_house {
            true => Brought::of_house(&view, &folder, &settings),
            false => Brought::default(),
        };
        if let Some((path, booklet)) = &booklet {
            let root = is_house.then_some(folder.as_path());
            brought.with_booklet(&view, (root, path), booklet);
            let beside = path.parent().unwrap_or(path);
            brought.with_past(self.repository, root.unwrap_or(beside), booklet);
        }
        let manner = Manner { settings: &settings, brought: &brought };
        let made = Prints::in_manners(&[manner], (kind, handout, self.seats), self.code);
        self.known.insert(key, made.clone());
        made
    }
}

/// The newest commit at which the house made a print with this code by itself.
///
/// # Errors
/// Where the repository can't be read.
pub fn made_then(
    repository: &Repository,
    folder: &Path,
    from: &Commit,
    (code, seats): (&str, u32),
) -> Result<Option<Revision>, Trouble> {
    let wanted = code.get(..OF_MEANING).unwrap_or_default();
    let mut walk = Walk::new(repository, folder);
    let commits = repository.history(from)?.0;
    walk.prepare(&commits)?;
    let mut then = Then {
        repository,
        code,
        seats,
        settings: FxHashMap::default(),
        known: FxHashMap::default(),
    };
    let mut matching: BTreeSet<Key> = BTreeSet::new();
    for commit in commits {
        for key in walk.go_to(&commit)? {
            let state = walk.states.get(&key);
            match state.is_some_and(|state| of_meaning(&state.digest) == wanted) {
                true => matching.insert(key),
                false => matching.remove(&key),
            };
        }
        let Some(first) = matching.first() else { continue };
        if then.at(&walk, &commit, first).own.is_some() {
            return Ok(Some(Revision {
                revision: repository.short(commit.id),
                date: date_of(commit.time, commit.offset),
                subject: commit.subject,
            }));
        }
    }
    Ok(None)
}

/// The formulas of the files as they are that have the meaning of a code.
pub fn current(bakehouses: &[Bakehouse], base: &Path, code: &str) -> Vec<Found> {
    let wanted = code.get(..OF_MEANING).unwrap_or_default();
    let mut found = Vec::new();
    for bakehouse in bakehouses {
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let shared: Vec<_> = trees().map(shared_of).collect();
        let catalogue = Catalogue::of(trees().zip(&shared));
        for file in &bakehouse.files {
            for formula in &file.tree.formulas {
                if of_meaning(&catalogue.meaning(formula).digest) == wanted {
                    found.push(current_as(Kind::Formula, &formula.name.key, &file.path, base));
                }
            }
        }
        for handout in catalogue.handouts() {
            let meaning = catalogue.meaning_of_handout(&handout.key);
            if meaning.is_some_and(|it| of_meaning(&it.digest) == wanted) {
                let source = handout.span.source;
                let file = bakehouse.files.iter().find(|file| file.source == source);
                let found_as = |path| current_as(handout.kind, &handout.key, path, base);
                found.extend(file.map(|file| found_as(&file.path)));
            }
        }
    }
    found
}

fn current_as(kind: Kind, name: &str, path: &Path, base: &Path) -> Found {
    let path = path.strip_prefix(base).unwrap_or(path);
    let (name, file) = (name.to_owned(), path.display().to_string());
    let handout = if kind.is_handout() { name.clone() } else { String::new() };
    Found { name, file, current: true, revisions: Vec::new(), kind: Some(kind), handout }
}

/// Adds the formulas and commits of a history that have the meaning of a code; says whether
/// a shallow clone cut it short. Where the house as it is makes no such print, it is looked for
/// among those that it made then.
///
/// # Errors
/// Where the repository can't be read.
pub fn in_history(
    repository: &Repository,
    folder: &Path,
    from: &Commit,
    (code, seats): (&str, u32),
    found: &mut Vec<Found>,
    prints: &mut Prints,
) -> Result<bool, Trouble> {
    let wanted = code.get(..OF_MEANING).unwrap_or_default();
    let (commits, cut_short) = repository.history(from)?;
    let mut walk = Walk::new(repository, folder);
    walk.prepare(&commits)?;
    // The formulas of the state at hand that have the code, with their files.
    let mut matching: BTreeMap<Key, String> = BTreeMap::new();
    let mut revisions: BTreeMap<(String, String), Vec<Revision>> = BTreeMap::new();
    let mut then = Then {
        repository,
        code,
        seats,
        settings: FxHashMap::default(),
        known: FxHashMap::default(),
    };
    for commit in &commits {
        for key in walk.go_to(commit)? {
            let state = walk.states.get(&key);
            match state.filter(|state| of_meaning(&state.digest) == wanted) {
                Some(state) => drop(matching.insert(key, state.path.clone())),
                None => drop(matching.remove(&key)),
            }
        }
        if prints.own.is_none()
            && let Some((first, _)) = matching.first_key_value()
        {
            let made = then.at(&walk, commit, first);
            prints.own = made.own;
            prints.other = prints.other.take().or(made.other);
        }
        for ((_, name), path) in &matching {
            let key = (name.to_string(), path.clone());
            revisions.entry(key).or_default().push(Revision {
                revision: repository.short(commit.id),
                date: date_of(commit.time, commit.offset),
                subject: commit.subject.clone(),
            });
        }
    }
    for ((name, file), revisions) in revisions {
        match found.iter_mut().find(|it| it.name == name) {
            Some(known) => known.revisions.extend(revisions),
            None => {
                let (current, kind, handout) = (false, None, String::new());
                found.push(Found { name, file, current, revisions, kind, handout });
            }
        }
    }
    Ok(cut_short)
}

/// All of it for a code.
pub fn traced(
    code: &str,
    formulas: Vec<Found>,
    printed: Option<Printed>,
    cut_short: bool,
) -> Traced {
    Traced { version: VERSION, code: code.to_owned(), formulas, printed, cut_short }
}

/// A paragraph for each formula.
pub fn text(traced: &Traced) -> String {
    let mut written = String::new();
    for found in &traced.formulas {
        let how = match &traced.printed {
            Some(printed) => {
                let volumes = if printed.volumes { ", with volumes" } else { "" };
                let makes = printed.makes.as_ref().map(|makes| format!(", for {makes}"));
                let makes = makes.unwrap_or_default();
                let asked = printed.asked.as_ref().map(|asked| format!(", {asked}"));
                let asked = asked.unwrap_or_default();
                let Printed { print, language, units, .. } = printed;
                format!("{print} in {language}, {units}{volumes}{makes}{asked}")
            }
            None => "printed with other settings".to_owned(),
        };
        written.push_str(&format!("{}: {how}  [{}]\n", found.name, found.file));
        if found.current {
            written.push_str("  the files as they are have it\n");
        }
        if let (Some(newest), Some(oldest)) = (found.revisions.first(), found.revisions.last()) {
            let say = |it: &Revision| format!("{}  {}  {}", it.date, it.revision, it.subject);
            written.push_str(&format!("  since {}\n", say(oldest)));
            if !found.current && found.revisions.len() > 1 {
                written.push_str(&format!("  until {}\n", say(newest)));
            }
        }
    }
    visible(&written).into_owned()
}

/// The same for programs.
pub fn json(traced: &Traced) -> String {
    pretty(traced)
}

/// The published JSON Schema of [`Traced`].
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    pretty(&schemars::schema_for!(Traced))
}
