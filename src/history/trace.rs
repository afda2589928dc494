//! Where a code came from: the formula, the print, and the revisions.

use super::brought::Brought;
use super::catalogue::{Catalogue, Digest, shared_of};
use super::code::{OF_MEANING, Settings, may_have_own_times, of_meaning};
use super::declared::DeclaredKind;
use super::git::{Commit, Id, Repository, Trouble, View};
use super::log::date_of;
use super::stamp::{
    DAYS, Effects, Manner, asked_of, effect, own_yield, prints_of, units_word, usual_plans,
};
use super::walk::{Key, Walk};
use super::yields;
use crate::desk::{self, Bakehouse, booklets};
use crate::diag::machine::pretty;
use crate::formula::{self, Settings as HouseSettings};
use crate::quantity::System;
use crate::source::{Span, visible};
use crate::syntax::booklet::PartKind;
use crate::syntax::tree::Formula;
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
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
    pub formulas: Vec<TracedFormula>,
    /// How it was printed, where the house declares such a print.
    pub printed: Option<Printed>,
    /// Whether that follows from no more than the last three letters, which other prints have
    /// as well: it was made in a way that the house does not by itself.
    pub perhaps: bool,
    /// Other prints with the same three letters.
    pub may_be: Vec<Printed>,
    /// Whether it may be a plan with dates or times of its own: such a plan is known by one of
    /// its letters, and can't be made again from them.
    pub own_times: bool,
    /// Whether what is made is as it was, and the house prints it otherwise now: with another code.
    pub printed_otherwise_now: bool,
    /// The newest commit at which a day or a booklet asked for that print, where none does now.
    pub then: Option<Revision>,
    /// A shallow clone has nothing older.
    pub cut_short: bool,
}

/// A formula that had the meaning of a code.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TracedFormula {
    /// Its name.
    pub name: String,
    /// Its file.
    pub file: String,
    /// Whether the files as they are have that meaning.
    pub current: bool,
    /// The commits at which it was printed with the whole code, the newest first; where nothing is
    /// known to have had that, those that have its first five letters.
    pub revisions: Vec<Revision>,
    /// What it is in the files as they are: a formula, a booklet or a day.
    #[serde(skip)]
    kind: Option<DeclaredKind>,
    /// Its key, where it is a booklet or a day.
    #[serde(skip)]
    handout: String,
    /// Whether the last commit does not come from these revisions: they are on other branches.
    #[serde(default)]
    pub elsewhere: bool,
    /// Whether the house made a print with the whole code by itself at these revisions.
    #[serde(skip)]
    pub is_sure: bool,
}

impl TracedFormula {
    /// Whether it is a booklet or a day.
    pub fn is_handout(&self) -> bool {
        self.kind.is_some_and(DeclaredKind::is_handout)
    }
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
    /// What it is for in numbers; empty where that is what the formula makes.
    #[serde(skip)]
    number: String,
}

/// A house with what it brings to its prints.
pub type House<'b, 'l> = (&'b Bakehouse<'l>, &'b Brought);

/// How a code was printed, by how likely it is: three letters are few, so that what a house
/// prints by itself goes before whatever else may be asked of it.
#[derive(Clone, Debug, Default)]
pub struct Prints {
    /// What the house prints, or has printed, where nobody asks for anything else.
    pub own: Option<Printed>,
    /// The commit at which it did for a yield or a day that a file asked for, where no file does
    /// now.
    then: Option<Revision>,
    /// What it prints in another language, other units, another size or for another yield, and
    /// in how many ways that is not how the house prints.
    other: Vec<(u8, Printed)>,
}

impl Prints {
    /// Those of the files as they are, of what was found in them; none where nothing was.
    pub fn of(houses: &[House], found: &[TracedFormula], code: &str) -> Self {
        let first = found.first();
        let Some((kind, of)) = first.and_then(|it| Some((it.kind?, it.handout.as_str()))) else {
            return Self::default();
        };
        let seats = seats_of(houses);
        let baked = code.get(..OF_MEANING).unwrap_or_default();
        let made: Vec<(HouseSettings, &Brought, Effects)> = houses
            .iter()
            .filter_map(|(bakehouse, brought)| {
                let effects = match kind {
                    DeclaredKind::Formula => effects_in(bakehouse, baked)?,
                    _ => Effects::default(),
                };
                let all = settings_in(bakehouse).into_iter();
                Some(all.map(move |settings| (settings, *brought, effects.clone())))
            })
            .flatten()
            .collect();
        let manners = made.iter();
        let manners: Vec<Manner> = manners
            .map(|(settings, brought, effects)| Manner { settings, brought, effects })
            .collect();
        let prints = Self::in_manners(&manners, (kind, of, seats), code);
        match kind {
            DeclaredKind::Formula if prints.own.is_none() => prints.with(houses, code),
            _ => prints,
        }
    }

    /// With those for yields that a booklet or a day asks for.
    fn with(mut self, houses: &[House], code: &str) -> Self {
        for (ways, printed) in printed_for_other_yields(houses, code) {
            match ways {
                0 => self.own = self.own.or(Some(printed)),
                ways => self.other.push((ways, printed)),
            }
        }
        self
    }

    /// Adds those that are made for a yield or a time that nothing in the house asks for, where it
    /// is printed in no likelier way.
    pub fn with_usual_yields_and_times(&mut self, houses: &[House], code: &str) {
        if self.own.is_none() && self.other.iter().all(|(ways, _)| *ways > 1) {
            self.other.extend(printed_for_usual_yields(houses, code));
            self.other.extend(planned_for_usual_times(houses, code));
        }
    }

    /// Those made in some ways: of a kind of thing, of a booklet or day by its key, with so many
    /// seats.
    fn in_manners(manners: &[Manner], of: (DeclaredKind, &str, u32), code: &str) -> Self {
        let (kind, key, seats) = of;
        let wanted = code.get(OF_MEANING..).unwrap_or_default();
        let mut own = manners.iter().flat_map(|manner| manner.own(prints_of(kind), key, seats));
        let own = own.find(|settings| settings.letters() == wanted);
        let own = own.map(|settings| Printed::with(settings, None));
        Self { other: among(manners, of, code, None), own, then: None }
    }

    /// The likeliest; none where there is none.
    fn best(&self) -> Option<&Printed> {
        let other = || self.other.iter().min_by_key(|(ways, _)| *ways).map(|(_, it)| it);
        self.own.as_ref().or_else(other)
    }

    /// All of them, the likeliest first, and whether that is no more than likely.
    fn ranked(self) -> (Vec<Printed>, bool) {
        if let Some(own) = self.own {
            return (vec![own], false);
        }
        let mut other = self.other;
        other.sort_by_key(|(ways, _)| *ways);
        // Three letters are few, and what nobody asks for by itself has been tried a lot.
        let perhaps = !other.is_empty();
        let mut all: Vec<Printed> = Vec::new();
        for (_, printed) in other {
            if !all.contains(&printed) {
                all.push(printed);
            }
        }
        (all, perhaps)
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

/// A yield that is none of the formula's own: in numbers, in words, and what the house makes of
/// prints for it, without and with volumes.
type OtherYield<'y> = (&'y str, &'y str, &'y [String; 2]);

/// The prints with the three letters of a code that are made in one of these ways, in whatever
/// language and units, for what is made or for another yield; each with how many of these are not
/// the house's own.
fn among(
    manners: &[Manner],
    of: (DeclaredKind, &str, u32),
    code: &str,
    other: Option<OtherYield>,
) -> Vec<(u8, Printed)> {
    let (kind, key, seats) = of;
    let wanted = code.get(OF_MEANING..).unwrap_or_default();
    let mut found = Vec::new();
    let own = manners.iter().filter_map(|it| it.settings.language.as_ref());
    let mut languages: Vec<String> = own.map(|language| language.value.to_string()).collect();
    languages.extend(our_languages());
    let in_two = manners.iter().filter_map(|Manner { settings, .. }| {
        let (first, second) = (settings.language.as_ref()?, settings.second_language.as_ref()?);
        Some(format!("{} and {}", first.value, second.value))
    });
    languages.extend(in_two);
    // A sheet is printed in any two of them.
    let pairs = our_languages().flat_map(|one| our_languages().map(move |two| (one.clone(), two)));
    let pairs = pairs.filter(|(one, two)| one != two && kind == DeclaredKind::Formula);
    let pairs: Vec<String> = pairs.map(|(one, two)| format!("{one} and {two}")).collect();
    languages.extend(pairs);
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
        let is_pair = language.contains(' ');
        for (print, asked) in asked.iter().filter(|(print, _)| !is_pair || *print == "sheet") {
            let of = |it: &Manner| {
                let effects = match other.filter(|_| *print != "plan") {
                    Some((.., effects)) => effects.clone(),
                    None => [false, true].map(|volumes| it.effects.on(print, volumes)),
                };
                (it.house(print, key, language), effects)
            };
            let mut houses: Vec<(String, [String; 2])> = manners.iter().map(of).collect();
            houses.dedup();
            for (units, (house, [plain, with_volumes])) in
                units.iter().flat_map(|it| houses.iter().map(move |of| (it, of)))
            {
                let asked = asked.iter();
                for (volumes, effect, asked) in
                    asked.flat_map(|it| [(false, plain, it), (true, with_volumes, it)])
                {
                    let settings = Settings {
                        print: (*print).to_owned(),
                        language: language.clone(),
                        units: units.clone(),
                        volumes,
                        makes: other.map(|(number, ..)| number.to_owned()).unwrap_or_default(),
                        house: house.clone(),
                        asked: asked.clone(),
                        effect: effect.clone(),
                        own_times: false,
                    };
                    if settings.letters() == wanted {
                        let ways = ways_from(manners, &settings);
                        let makes = other.map(|(_, words, _)| words.to_owned());
                        let makes = makes.filter(|makes| !makes.is_empty());
                        found.push((ways, Printed::with(settings, makes)));
                    }
                }
            }
        }
    }
    found
}

/// In how many ways a print is none that a house makes by itself.
fn ways_from(manners: &[Manner], settings: &Settings) -> u8 {
    let of = |manner: &Manner| {
        let language = manner.settings.language.as_ref();
        let language = language.map_or("en", |language| &*language.value);
        let house = manner.settings.units;
        [
            language != settings.language,
            units_word(house.first, house.both) != settings.units,
            settings.volumes != manner.settings.volumes && settings.volumes,
            settings.asked.contains("large"),
            // Plans are seldom made in another language.
            settings.print == "plan" && language != settings.language,
            // Such parts of booklets are seldom printed by themselves.
            matches!(settings.print.as_str(), "worksheet" | "answers" | "reckoner" | "shopping"),
        ]
    };
    let ways = manners.iter().map(|it| of(it).into_iter().filter(|differs| *differs).count());
    ways.min().and_then(|ways| u8::try_from(ways).ok()).unwrap_or_default()
}

/// The languages in which prints are tried, beside that of the house.
fn our_languages() -> impl Iterator<Item = String> {
    crate::print::wording::CATALOGUES.iter().map(|(language, ..)| (*language).to_owned())
}

/// The prints with this code that a house makes of a formula as it is, for a round number of
/// pieces or a round weight of dough, in its own language and units.
fn printed_for_usual_yields(houses: &[House], code: &str) -> Vec<(u8, Printed)> {
    let Some((baked, wanted)) = code.split_at_checked(OF_MEANING) else { return Vec::new() };
    let mut all = Vec::new();
    for (bakehouse, brought) in houses {
        let (house, bare) = (&bakehouse.house, bakehouse.house.bare());
        let (settings, effects) = (&house.settings, &Effects::default());
        let manner = Manner { settings, brought, effects };
        let own = manner.own(&["sheet", "card", "table"], "", 1);
        for (formula, _) in with_meaning(bakehouse, baked) {
            let usual = yields::usual(bakehouse, formula);
            let found = usual.par_iter().flat_map_iter(|(number, makes)| {
                let effect = effect((house, &bare), formula, number, settings.volumes);
                let made = own.iter().map(move |it| Settings {
                    makes: number.clone(),
                    effect: effect.clone(),
                    ..it.clone()
                });
                let made = made.filter(|settings| settings.letters() == wanted);
                made.map(|it| (1, Printed::with(it, Some(makes.clone()))))
            });
            all.extend(found.collect::<Vec<_>>());
        }
    }
    all
}

/// The plans with this code that a house makes of a formula for a time of the clock.
fn planned_for_usual_times(houses: &[House], code: &str) -> Vec<(u8, Printed)> {
    let Some((baked, wanted)) = code.split_at_checked(OF_MEANING) else { return Vec::new() };
    let mut all = Vec::new();
    for (bakehouse, brought) in houses {
        let settings = &bakehouse.house.settings;
        let Some(effects) = effects_in(bakehouse, baked) else { continue };
        let manner = Manner { settings, brought, effects: &effects };
        for own in manner.own(&["plan"], "", 1) {
            for (asked, words) in usual_plans(&settings.hours) {
                let made = Settings { asked, ..own.clone() };
                if made.letters() == wanted {
                    let is_weekly = DAYS.iter().any(|day| words.contains(day));
                    let printed = Printed { asked: Some(words), ..Printed::with(made, None) };
                    all.push((1 + u8::from(is_weekly), printed));
                }
            }
        }
    }
    all
}

/// The formulas of a house that have a meaning, by its five letters, each with the fingerprint
/// of all that it rests on.
fn with_meaning<'l>(bakehouse: &Bakehouse<'l>, baked: &str) -> Vec<(&'l Formula, Digest)> {
    let trees = || bakehouse.files.iter().map(|file| &file.tree);
    let shared: Vec<_> = trees().map(shared_of).collect();
    let catalogue = Catalogue::of(trees().zip(&shared));
    let formulas = trees().flat_map(|tree| &tree.formulas);
    let marked = formulas.map(|it| (it.name.span, catalogue.mark(it).0));
    let found: FxHashMap<Span, Digest> = marked
        .filter(|(_, marked)| of_meaning(&marked.baked) == baked)
        .map(|(place, marked)| (place, marked.digest))
        .collect();
    let all = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    all.filter_map(|formula| Some((formula, *found.get(&formula.name.span)?))).collect()
}

/// What a house makes of the prints of the formula that has a meaning; none where none has.
fn effects_in(bakehouse: &Bakehouse, baked: &str) -> Option<Effects> {
    let (formula, digest) = with_meaning(bakehouse, baked).into_iter().next()?;
    let bare = bakehouse.house.bare();
    Some(Effects::of((&bakehouse.house, &bare), formula, &digest))
}

impl Printed {
    fn with(settings: Settings, makes: Option<String>) -> Self {
        let Settings { print, language, units, volumes, asked, makes: number, .. } = settings;
        let asked = Some(asked).filter(|asked| !asked.is_empty());
        Self { print, language, units, volumes, makes, asked, number }
    }
}

/// The prints with this code that a house makes of a formula as it is, for a yield that a booklet or
/// a day asks for: the one that it makes by itself, else those in other languages or units; each
/// with how many of these are not the house's own.
fn printed_for_other_yields(houses: &[House], code: &str) -> Vec<(u8, Printed)> {
    let Some((baked, wanted)) = code.split_at_checked(OF_MEANING) else { return Vec::new() };
    let mut other = Vec::new();
    for (bakehouse, brought) in houses {
        let (house, bare) = (&bakehouse.house, bakehouse.house.bare());
        for (formula, digest) in with_meaning(bakehouse, baked) {
            let all = settings_in(bakehouse);
            let effects = &Effects::of((house, &bare), formula, &digest);
            let manners = all.iter().map(|settings| Manner { settings, brought, effects });
            let manners: Vec<Manner> = manners.collect();
            let own = (String::new(), String::new());
            let yields = yields::of(bakehouse, formula);
            // On some days the house is warmer than it usually is.
            let days = bakehouse.files.iter().flat_map(|file| &file.tree.days);
            let days = days.filter(|day| !day.temperatures.is_empty());
            let warm: Vec<formula::House> = days.map(|day| house.on_day(day)).collect();
            let on_days = warm
                .iter()
                .flat_map(|house| yields.iter().chain([&own]).map(move |it| (house, it)));
            let mut tried = Vec::new();
            for (house, (number, makes)) in yields.iter().map(|it| (house, it)).chain(on_days) {
                let of = [false, true].map(|it| effect((house, &bare), formula, number, it));
                for settings in
                    manners.iter().flat_map(|it| it.own(prints_of(DeclaredKind::Formula), "", 1))
                {
                    let effect = match (settings.print.as_str(), settings.volumes) {
                        ("plan", _) => settings.effect.clone(),
                        (_, volumes) => of[usize::from(volumes)].clone(),
                    };
                    let settings = Settings { makes: number.clone(), effect, ..settings };
                    if settings.letters() == wanted {
                        let makes = Some(makes.clone()).filter(|makes| !makes.is_empty());
                        return vec![(0, Printed::with(settings, makes))];
                    }
                }
                tried.push((number, makes, of));
            }
            for (number, makes, effects) in &tried {
                let of = (DeclaredKind::Formula, "", 1);
                let found = among(&manners, of, code, Some((number, makes, effects)));
                other.extend(found.into_iter().map(|(ways, printed)| (ways.max(1), printed)));
            }
        }
    }
    other
}

/// Whether a house as it is gives a print of the formula with a code that code, for the yield that
/// the print is for, in some room of its days.
fn gives(houses: &[House], code: &str, printed: &Printed) -> bool {
    let Some((baked, wanted)) = code.split_at_checked(OF_MEANING) else { return false };
    houses.iter().any(|(bakehouse, brought)| {
        let (house, bare) = (&bakehouse.house, bakehouse.house.bare());
        let days = bakehouse.files.iter().flat_map(|file| &file.tree.days);
        let days = days.filter(|day| !day.temperatures.is_empty());
        let warm: Vec<formula::House> = days.map(|day| house.on_day(day)).collect();
        with_meaning(bakehouse, baked).into_iter().any(|(formula, digest)| {
            let all = settings_in(bakehouse);
            let mut houses = std::iter::once(house).chain(&warm);
            houses.any(|house| {
                let of = Effects::of((house, &bare), formula, &digest);
                let effect = match printed.print.as_str() {
                    "plan" => of.on("plan", false),
                    _ => effect((house, &bare), formula, &printed.number, printed.volumes),
                };
                all.iter().any(|settings| {
                    let manner = Manner { settings, brought, effects: &of };
                    let made = Settings {
                        print: printed.print.clone(),
                        language: printed.language.clone(),
                        units: printed.units.clone(),
                        volumes: printed.volumes,
                        makes: printed.number.clone(),
                        house: manner.house(&printed.print, "", &printed.language),
                        asked: printed.asked.clone().unwrap_or_default(),
                        effect: effect.clone(),
                        own_times: false,
                    };
                    made.letters() == wanted
                })
            })
        })
    })
}

/// What a way to make prints rests on: the kind of print, the booklet or day, the files with the
/// settings, whatever the house and the booklet bring, and all that a formula rests on.
type Made = (DeclaredKind, String, Vec<Id>, Vec<Option<Id>>, Option<Digest>);

/// How the house made its prints at the commits of a walk, each way looked at once.
struct Then<'r, 'c> {
    repository: &'r Repository,
    code: &'c str,
    seats: u32,
    /// The settings of a house, by the files in which they stand.
    settings: FxHashMap<Vec<Id>, Option<HouseSettings>>,
    known: FxHashMap<Made, (usize, Prints)>,
}

impl<'r, 'c> Then<'r, 'c> {
    fn new(repository: &'r Repository, code: &'c str, seats: u32) -> Self {
        let (settings, known) = (FxHashMap::default(), FxHashMap::default());
        Self { repository, code, seats, settings, known }
    }

    /// How the house made a print with the code at a commit to which a walk has gone, and a number
    /// for all that this rests on: where the number is the same, so is what is printed for any
    /// yield.
    fn at(&mut self, walk: &Walk, commit: &Commit, of: &Key) -> (usize, Prints) {
        let none = (usize::MAX, Prints::default());
        let root = of.0.as_str();
        let Some(kind) = walk.kind(of) else { return none };
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
        let Some(settings) = settings else { return none };
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
        let meaning =
            walk.states.get(of).filter(|_| kind == DeclaredKind::Formula).map(|it| it.digest);
        let key = (kind, handout.to_owned(), houses, brings, meaning);
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
        let effects = meaning.and_then(|digest| walk.effects(of, &digest)).unwrap_or_default();
        let manner = Manner { settings: &settings, brought: &brought, effects: &effects };
        let made = Prints::in_manners(&[manner], (kind, handout, self.seats), self.code);
        let made = (self.known.len(), made);
        self.known.insert(key, made.clone());
        made
    }
}

/// A commit, as it is told.
pub fn revision(repository: &Repository, commit: &Commit) -> Revision {
    Revision {
        revision: repository.short(commit.id),
        date: date_of(commit.time, commit.offset),
        subject: commit.subject.clone(),
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
    let mut then = Then::new(repository, code, seats);
    let mut matching: BTreeSet<Key> = BTreeSet::new();
    for commit in commits {
        for key in walk.go_to(&commit)? {
            let state = walk.states.get(&key);
            match state.is_some_and(|state| of_meaning(&state.baked) == wanted) {
                true => matching.insert(key),
                false => matching.remove(&key),
            };
        }
        let Some(first) = matching.first() else { continue };
        if then.at(&walk, &commit, first).1.own.is_some() {
            return Ok(Some(revision(repository, &commit)));
        }
    }
    Ok(None)
}

/// The formulas of the files as they are that have the meaning of a code.
pub fn current(bakehouses: &[Bakehouse], base: &Path, code: &str) -> Vec<TracedFormula> {
    let wanted = code.get(..OF_MEANING).unwrap_or_default();
    let mut found = Vec::new();
    for bakehouse in bakehouses {
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let shared: Vec<_> = trees().map(shared_of).collect();
        let catalogue = Catalogue::of(trees().zip(&shared));
        for file in &bakehouse.files {
            for formula in &file.tree.formulas {
                if of_meaning(&catalogue.mark(formula).0.baked) == wanted {
                    found.push(current_as(
                        DeclaredKind::Formula,
                        &formula.name.key,
                        &file.path,
                        base,
                    ));
                }
            }
        }
        for handout in catalogue.handouts() {
            let meaning = catalogue.meaning_of_handout(&handout.key);
            if meaning.is_some_and(|it| of_meaning(&it.baked) == wanted) {
                let source = handout.span.source;
                let file = bakehouse.files.iter().find(|file| file.source == source);
                let found_as = |path| current_as(handout.kind, &handout.key, path, base);
                found.extend(file.map(|file| found_as(&file.path)));
            }
        }
    }
    found
}

fn current_as(kind: DeclaredKind, name: &str, path: &Path, base: &Path) -> TracedFormula {
    let path = path.strip_prefix(base).unwrap_or(path);
    let (name, file) = (name.to_owned(), path.display().to_string());
    let handout = if kind.is_handout() { name.clone() } else { String::new() };
    let (revisions, kind) = (Vec::new(), Some(kind));
    let (current, elsewhere, is_sure) = (true, false, false);
    TracedFormula { name, file, current, revisions, kind, handout, elsewhere, is_sure }
}

/// The days that order a formula with the meaning of a code: those that have a batch of the size that
/// a print of it is for, and those that have none.
pub fn days_of_size(houses: &[House], code: &str, printed: &Printed) -> (Vec<String>, Vec<String>) {
    let baked = code.get(..OF_MEANING).unwrap_or_default();
    let mut days = (Vec::new(), Vec::new());
    for (bakehouse, _) in houses {
        for (formula, _) in with_meaning(bakehouse, baked) {
            let own = own_yield(&bakehouse.house, formula);
            let number = if printed.number.is_empty() { &own } else { &printed.number };
            let (with, without) = yields::days_of_size(bakehouse, formula, number);
            days.0.extend(with);
            days.1.extend(without);
        }
    }
    days
}

/// Adds the formulas and commits of a history that have the meaning of a code: what the last
/// commit comes from, and where nothing there has it, all other branches and tags. Says whether
/// a shallow clone cut it short. Where the house as it is makes no such print, it is looked for
/// among those that it made then.
///
/// # Errors
/// Where the repository can't be read.
pub fn in_history(
    repository: &Repository,
    folder: &Path,
    from: Option<&Commit>,
    wanted: (&str, u32),
    found: &mut Vec<TracedFormula>,
    prints: &mut Prints,
) -> Result<bool, Trouble> {
    let history = from.map(|from| repository.history(from)).transpose()?;
    let (commits, cut_short) = history.unwrap_or_default();
    let top = repository.top.as_path();
    // A folder that was not there from the beginning may have stood elsewhere.
    let is_old = commits.last().is_none_or(|oldest| {
        folder == top || View::of_tree(repository, oldest.tree).id_of(folder).is_some()
    });
    let within = if is_old { folder } else { top };
    among_commits((repository, within), &commits, wanted, found, prints)?;
    if found.is_empty() && within != top {
        among_commits((repository, top), &commits, wanted, found, prints)?;
    }
    if !found.is_empty() {
        return Ok(cut_short);
    }
    let known: FxHashSet<Id> = commits.into_iter().map(|it| it.id).collect();
    let tips = repository.tips(&known);
    if tips.is_empty() {
        return Ok(cut_short);
    }
    let (mut commits, is_cut) = repository.histories(&tips)?;
    commits.retain(|commit| !known.contains(&commit.id));
    among_commits((repository, top), &commits, wanted, found, prints)?;
    found.iter_mut().for_each(|it| it.elsewhere = true);
    Ok(cut_short || is_cut)
}

fn among_commits(
    (repository, folder): (&Repository, &Path),
    commits: &[Commit],
    (code, seats): (&str, u32),
    found: &mut Vec<TracedFormula>,
    prints: &mut Prints,
) -> Result<(), Trouble> {
    let wanted = code.get(..OF_MEANING).unwrap_or_default();
    let mut walk = Walk::new(repository, folder);
    walk.prepare(commits)?;
    // The formulas of the state at hand that have the code, with their files.
    let mut matching: BTreeMap<Key, String> = BTreeMap::new();
    let mut matched: Vec<Matched> = Vec::new();
    // By name: the file where it stood last, and the commits, by their places among the matched.
    let mut revisions: BTreeMap<String, (String, Vec<usize>)> = BTreeMap::new();
    let mut then = Then::new(repository, code, seats);
    for commit in commits {
        for key in walk.go_to(commit)? {
            let state = walk.states.get(&key);
            match state.filter(|state| of_meaning(&state.baked) == wanted) {
                Some(state) => drop(matching.insert(key, state.path.clone())),
                None => drop(matching.remove(&key)),
            }
        }
        if matching.is_empty() {
            continue;
        }
        let (mut is_own, mut ways, mut other) = (false, Vec::new(), Vec::new());
        for (key, path) in &matching {
            let (way, made) = then.at(&walk, commit, key);
            is_own |= made.own.is_some();
            prints.own = prints.own.take().or(made.own);
            ways.push(way);
            other.extend(made.other);
            let (_, all) = revisions
                .entry(key.1.to_string())
                .or_insert_with(|| (path.clone(), Vec::<usize>::new()));
            // Two houses may have one formula.
            if all.last() != Some(&matched.len()) {
                all.push(matched.len());
            }
        }
        if prints.other.is_empty() {
            prints.other.clone_from(&other);
        }
        matched.push(Matched { commit, ways, is_own, other });
    }
    let printing = printing((repository, folder), &matched, code, prints);
    let is_sure = prints.own.is_some() && printing.iter().any(|has| *has);
    // Where no commit is known to have printed it, all that have its meaning are told.
    let is_any = printing.iter().any(|has| *has) || prints.own.is_some();
    for (name, (file, places)) in revisions {
        let places = places.into_iter().filter(|place| printing[*place] || !is_any);
        let revisions = places.map(|place| revision(repository, matched[place].commit));
        let revisions: Vec<Revision> = revisions.collect();
        match found.iter_mut().find(|it| it.name == name) {
            Some(known) => {
                known.revisions.extend(revisions);
                known.is_sure |= is_sure;
            }
            None => {
                let (current, kind, handout) = (false, None, String::new());
                let elsewhere = false;
                found.push(TracedFormula {
                    name,
                    file,
                    current,
                    revisions,
                    kind,
                    handout,
                    elsewhere,
                    is_sure,
                });
            }
        }
    }
    Ok(())
}

/// A commit with something that has the meaning of a code.
struct Matched<'c> {
    commit: &'c Commit,
    /// For each of those, a number for all that its prints rest on.
    ways: Vec<usize>,
    /// Whether the house printed the code for what is made.
    is_own: bool,
    /// Prints of the same that somebody may have asked for, with this code.
    other: Vec<(u8, Printed)>,
}

/// At which of some commits, the newest first, the code was printed: a commit may have what is
/// made, and print it otherwise. Where nothing is known that the house prints with it, it is looked
/// for among what its days and booklets asked for then.
fn printing(
    place: (&Repository, &Path),
    matched: &[Matched],
    code: &str,
    prints: &mut Prints,
) -> Vec<bool> {
    let mut all: Vec<bool> = matched.iter().map(|it| it.is_own).collect();
    if code.len() == OF_MEANING || all.iter().any(|is_own| *is_own) {
        return all;
    }
    let mut read = 0;
    if prints.own.is_none() {
        for_another_yield_then(place, matched, code, prints, &mut read);
    }
    let Some(best) = prints.best() else { return all };
    if prints.own.is_none() && best.number.is_empty() {
        let has_best = |it: &Matched| it.other.iter().any(|(_, other)| other == best);
        return matched.iter().map(has_best).collect();
    }
    // For another yield: each way to print is asked once, as long as there is work for it.
    let mut known: FxHashMap<usize, bool> = FxHashMap::default();
    for (has, it) in all.iter_mut().zip(matched) {
        for way in &it.ways {
            let given = match known.get(way) {
                Some(given) => *given,
                None if read > MAX_READ => false,
                None => {
                    let given = with_houses(place, it.commit, &mut read, |houses| {
                        gives(houses, code, best)
                    });
                    known.insert(*way, given);
                    given
                }
            };
            *has |= given;
        }
    }
    all
}

/// Does something with the houses of a commit, and counts what was read for it.
fn with_houses<T>(
    (repository, folder): (&Repository, &Path),
    commit: &Commit,
    read: &mut usize,
    then: impl FnOnce(&[House]) -> T,
) -> T {
    let view = View::of_tree(repository, commit.tree);
    let loaded = desk::load(&view, folder, &[folder.to_path_buf()]);
    *read += loaded.files().iter().map(|file| 1 + file.tree.formulas.len()).sum::<usize>();
    let bakehouses = desk::bakehouses(&loaded);
    let brought: Vec<Brought> = bakehouses.iter().map(|it| Brought::of(&view, it)).collect();
    let houses: Vec<House> = bakehouses.iter().zip(&brought).collect();
    then(&houses)
}

/// The most formulas, over all states of a house together, that are read for what its days and
/// booklets asked for then.
const MAX_READ: usize = 4_000;

/// Looks for a print with a code among those that the days and booklets of earlier commits, the
/// newest first, asked for: another yield, or the room of a day; in another language only where
/// nothing likelier has the code.
fn for_another_yield_then(
    (repository, folder): (&Repository, &Path),
    matched: &[Matched],
    code: &str,
    prints: &mut Prints,
    read: &mut usize,
) {
    let mut seen: FxHashSet<Id> = FxHashSet::default();
    let mut other: Option<(u8, Printed, &Commit)> = None;
    for Matched { commit, .. } in matched {
        let view = View::of_tree(repository, commit.tree);
        if !seen.insert(view.id_of(folder).unwrap_or(commit.tree)) {
            continue;
        }
        if *read > MAX_READ {
            break;
        }
        let found = with_houses((repository, folder), commit, read, |houses| {
            printed_for_other_yields(houses, code)
        });
        for (ways, printed) in found {
            if ways == 0 {
                prints.own = Some(printed);
                prints.then = Some(revision(repository, commit));
                return;
            }
            if other.as_ref().is_none_or(|(least, ..)| ways < *least) {
                other = Some((ways, printed, commit));
            }
        }
    }
    let least = prints.other.iter().map(|(ways, _)| *ways).min();
    if let Some((ways, printed, commit)) =
        other.filter(|(ways, ..)| least.is_none_or(|it| *ways < it))
    {
        prints.then = Some(revision(repository, commit));
        prints.other.insert(0, (ways, printed));
    }
}

/// All of it for a code.
pub fn traced(code: &str, formulas: Vec<TracedFormula>, prints: Prints, cut_short: bool) -> Traced {
    let (is_own, then) = (prints.own.is_some(), prints.then.clone());
    let of_formulas = formulas.iter().any(|it| !it.is_handout());
    let own_times = !is_own && of_formulas && may_have_own_times(code);
    let (mut all, perhaps) = prints.ranked();
    let perhaps = perhaps || own_times && !all.is_empty();
    let printed = if all.is_empty() { None } else { Some(all.remove(0)) };
    let code = code.to_owned();
    let may_be = all;
    Traced {
        version: VERSION,
        code,
        formulas,
        printed,
        perhaps,
        may_be,
        own_times,
        printed_otherwise_now: false,
        then,
        cut_short,
    }
}

/// How a print was made, in a line.
pub fn how(printed: &Printed) -> String {
    let volumes = if printed.volumes { ", with volumes" } else { "" };
    let makes = printed.makes.as_ref().map(|makes| format!(", for {makes}")).unwrap_or_default();
    let asked = printed.asked.as_ref().map(|asked| format!(", {asked}")).unwrap_or_default();
    let Printed { print, language, units, .. } = printed;
    let units = match units.as_str() {
        "us" => "US",
        "us and other" => "US and metric",
        "metric and other" => "metric and US",
        units => units,
    };
    format!("{print} in {language}, {units}{volumes}{makes}{asked}")
}

/// What is told of a plan that can't be made again from its code.
pub const OWN_TIMES: &str = "a plan with dates or times of its own";

/// How the prints were made that have the three letters of a code.
fn told_of_prints(traced: &Traced) -> String {
    const MOST: usize = 3;
    let ending = traced.code.get(OF_MEANING..).unwrap_or_default();
    let Some(printed) = &traced.printed else {
        return match ending {
            _ if traced.own_times => format!("perhaps {OWN_TIMES}"),
            "" => "the five letters of what is made, and none of how it was printed".to_owned(),
            ending => format!(
                "no print known here ends in {ending}: it was made with other settings, for \
                 another yield or for times, or a letter was misread"
            ),
        };
    };
    if !traced.perhaps {
        return how(printed);
    }
    let all = std::iter::once(printed).chain(&traced.may_be).map(how);
    let own_times = traced.own_times.then(|| OWN_TIMES.to_owned());
    let all: Vec<String> = own_times.into_iter().chain(all).collect();
    let more = match all.len().saturating_sub(MOST) {
        0 => String::new(),
        more => format!(", or {more} more"),
    };
    let all: Vec<String> = all.into_iter().take(MOST).collect();
    format!("perhaps {}{more}", all.join(", or "))
}

/// A paragraph for each formula.
pub fn text(traced: &Traced) -> String {
    let mut written = String::new();
    for found in &traced.formulas {
        let how = told_of_prints(traced);
        written.push_str(&format!("{}: {how}  [{}]\n", found.name, found.file));
        if let Some(then) = &traced.then {
            let Revision { revision, date, .. } = then;
            written.push_str(&format!(
                "  last asked for by a day or a booklet at {revision} of {date}\n"
            ));
        }
        if found.elsewhere {
            written.push_str("  only on other branches than the one that is checked out\n");
        }
        if found.current {
            written.push_str(match traced.printed_otherwise_now {
                true => "  the files as they are make the same, but print it with another code\n",
                false => "  the files as they are have it\n",
            });
        }
        if let (Some(newest), Some(oldest)) = (found.revisions.first(), found.revisions.last()) {
            let say = |it: &Revision| format!("{}  {}  {}", it.date, it.revision, it.subject);
            written.push_str(&format!("  since {}\n", say(oldest)));
            if !found.current || traced.printed_otherwise_now {
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
