//! Things that have another name and say the same.

use super::declared::{Declared, DeclaredKind};
use super::facts::{BESIDE, Block, Fact};
use super::said::Said;
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Stages and mixtures with another name: by the old key the new one, and the new name.
pub type Renamed = FxHashMap<EcoString, (EcoString, EcoString)>;

/// A thing that is declared, and which of several with its name.
type DeclaredPlace = (DeclaredKind, String, usize);

/// The most pairs among which renamed things are looked for.
const MAX_PAIRS: usize = 160_000;

/// Places of those that say most of the same, the most alike first; each once.
pub fn alike<T: Ord>(old: &[BTreeSet<T>], new: &[BTreeSet<T>]) -> Vec<(usize, usize)> {
    let mut alike: Vec<(usize, usize, usize)> = Vec::new();
    if old.len() * new.len() > MAX_PAIRS {
        return Vec::new();
    }
    for (at, one) in old.iter().enumerate() {
        for (to, two) in new.iter().enumerate() {
            let (same, all) = (one.intersection(two).count(), one.union(two).count());
            // More than half of all that either says.
            if same * 2 > all {
                alike.push((same * 1000 / all.max(1), at, to));
            }
        }
    }
    alike.sort_by(|one, two| two.0.cmp(&one.0).then((one.1, one.2).cmp(&(two.1, two.2))));
    let (mut taken_old, mut taken_new) = (BTreeSet::new(), BTreeSet::new());
    let mut is_free = |(_, at, to): &(usize, usize, usize)| {
        let free = !taken_old.contains(at) && !taken_new.contains(to);
        if free {
            taken_old.insert(*at);
            taken_new.insert(*to);
        }
        free
    };
    alike.into_iter().filter(|it| is_free(it)).map(|(_, at, to)| (at, to)).collect()
}

/// Of what is declared, the places of what came for what went.
pub fn of_shared(
    old: &BTreeMap<DeclaredPlace, &Declared>,
    new: &BTreeMap<DeclaredPlace, &Declared>,
) -> Vec<(DeclaredPlace, DeclaredPlace)> {
    let mut gone: Vec<&DeclaredPlace> = old.keys().filter(|it| !new.contains_key(*it)).collect();
    let mut come: Vec<&DeclaredPlace> = new.keys().filter(|it| !old.contains_key(*it)).collect();
    let mut found: Vec<(DeclaredPlace, DeclaredPlace)> = Vec::new();
    let mut renamed = Renamed::default();
    // What has another name may hold other things with another name, and a few numbers of it may
    // be others as well.
    let rules: [Rule; 4] = [alike, alike, alike_in_kind, alike_in_kind];
    for rule in rules {
        let said = |all: &BTreeMap<DeclaredPlace, &Declared>,
                    place: &DeclaredPlace,
                    renamed: &Renamed|
         -> Sayings {
            let facts = all.get(place).map(|it| it.facts.all.as_slice()).unwrap_or_default();
            let facts = applied(facts, renamed);
            // What it costs, and what is told of it, make it no other thing.
            let facts = facts.iter().filter(|it| it.block.kind != BESIDE);
            facts
                .map(|it| (place.0, it.block.clone(), it.name.clone(), it.value.canon.clone()))
                .collect()
        };
        let none = Renamed::default();
        let before: Vec<Sayings> = gone.iter().map(|place| said(old, place, &renamed)).collect();
        let after: Vec<Sayings> = come.iter().map(|place| said(new, place, &none)).collect();
        let pairs: Vec<(DeclaredPlace, DeclaredPlace)> = rule(&before, &after)
            .into_iter()
            .filter_map(|(at, to)| Some(((*gone.get(at)?).clone(), (*come.get(to)?).clone())))
            .collect();
        for (was, is) in pairs {
            gone.retain(|it| **it != was);
            come.retain(|it| **it != is);
            if let Some(now) = new.get(&is) {
                renamed.insert(was.1.as_str().into(), (now.key.clone(), now.shown.clone()));
            }
            found.push((was, is));
        }
    }
    found
}

/// All that one thing says: its kind, and the part, the name and the value of each fact.
type Sayings = BTreeSet<(DeclaredKind, Block, EcoString, String)>;

/// How things that came are told from those that went, by their places.
type Rule = fn(&[Sayings], &[Sayings]) -> Vec<(usize, usize)>;

/// Places of those that speak of nearly the same things, and say the same of some of them.
fn alike_in_kind(old: &[Sayings], new: &[Sayings]) -> Vec<(usize, usize)> {
    type Subjects<'s> = BTreeSet<(DeclaredKind, &'s Block, &'s EcoString)>;
    fn subjects(said: &Sayings) -> Subjects<'_> {
        said.iter().map(|(kind, block, name, _)| (*kind, block, name)).collect()
    }
    let (before, after): (Vec<Subjects>, Vec<Subjects>) =
        (old.iter().map(subjects).collect(), new.iter().map(subjects).collect());
    let says_some = |(at, to): &(usize, usize)| {
        let pair = old.get(*at).zip(new.get(*to));
        pair.is_some_and(|(one, two)| one.intersection(two).next().is_some())
    };
    alike(&before, &after).into_iter().filter(says_some).collect()
}

/// What a formula rests on and has another name, of two of its states.
pub fn of_all(old: &[Declared], new: &[Declared]) -> Renamed {
    fn by_place(all: &[Declared]) -> BTreeMap<DeclaredPlace, &Declared> {
        all.iter().map(|it| ((it.kind, it.key.to_string(), 0), it)).collect()
    }
    let (old, new) = (by_place(old), by_place(new));
    let pair = |(was, is): (DeclaredPlace, DeclaredPlace)| {
        let now = new.get(&is)?;
        Some((EcoString::from(was.1), (now.key.clone(), now.shown.clone())))
    };
    of_shared(&old, &new).into_iter().filter_map(pair).collect()
}

/// Of the stages or mixtures of a formula, the keys of those that came for those that went.
pub fn of_blocks(kind: &str, old: &[Fact], new: &[Fact]) -> Vec<(EcoString, EcoString)> {
    fn names<'f>(kind: &str, facts: &'f [Fact]) -> BTreeSet<&'f EcoString> {
        let blocks = facts.iter().map(|fact| &fact.block).filter(|block| block.kind == kind);
        blocks.map(|block| &block.name).collect()
    }
    let (before, after) = (names(kind, old), names(kind, new));
    let said = |facts: &[Fact], name: &EcoString| {
        let facts = facts.iter().filter(|it| it.block.kind == kind && it.block.name == *name);
        facts.map(|it| (it.name.clone(), it.value.canon.clone())).collect::<BTreeSet<_>>()
    };
    let gone: Vec<&EcoString> = before.difference(&after).copied().collect();
    let come: Vec<&EcoString> = after.difference(&before).copied().collect();
    let was: Vec<_> = gone.iter().map(|name| said(old, name)).collect();
    let is: Vec<_> = come.iter().map(|name| said(new, name)).collect();
    let pairs = alike(&was, &is).into_iter();
    pairs
        .filter_map(|(at, to)| Some(((*gone.get(at)?).clone(), (*come.get(to)?).clone())))
        .collect()
}

/// Facts as they would be if everything had been called before what it is called now.
pub fn applied<'f>(facts: &'f [Fact], renamed: &Renamed) -> Cow<'f, [Fact]> {
    if renamed.is_empty() {
        return Cow::Borrowed(facts);
    }
    let fact = |fact: &Fact| Fact {
        block: Block { kind: fact.block.kind, name: named(&fact.block.name, renamed).into() },
        name: named(&fact.name, renamed).into(),
        value: Said {
            canon: value(&fact.value.canon, &MARKS, renamed),
            shown: fact.value.shown.clone(),
        },
    };
    Cow::Owned(facts.iter().map(fact).collect())
}

/// What sets the parts of a value apart, the outermost first.
const MARKS: [char; 5] = ['\u{1a}', '\u{1c}', '\u{1d}', SET, '\u{1f}'];

/// What sets the members of a set apart, which stand in the order of their names.
const SET: char = '\u{1e}';

/// A value in which whole names are others.
fn value(canon: &str, marks: &[char], renamed: &Renamed) -> String {
    let Some((mark, inner)) = marks.split_first() else { return named(canon, renamed) };
    let before: Vec<&str> = canon.split(*mark).collect();
    let mut after: Vec<String> = before.iter().map(|it| value(it, inner, renamed)).collect();
    if *mark == SET && before.is_sorted() {
        after.sort();
    }
    after.join(&mark.to_string())
}

/// The new name of something, alone, with a role, within something, or before its note.
fn named(name: &str, renamed: &Renamed) -> String {
    let now = |name: &str| renamed.get(name).map(|(now, _)| now.to_string());
    if let Some(now) = now(name) {
        return now;
    }
    // What is ordered of something, by somebody.
    for word in ["order ", "on hand "] {
        if let Some(rest) = name.strip_prefix(word) {
            let (what, whom) = rest.find(" for ").map_or((rest, ""), |at| rest.split_at(at));
            let what = now(what).unwrap_or_else(|| what.to_owned());
            return format!("{word}{what}{whom}");
        }
    }
    let (note, name) = match name.strip_prefix("note to ") {
        Some(rest) => ("note to ", rest),
        None => ("", name),
    };
    let (what, place) = name.split_once(" in ").map_or((name, None), |(one, two)| (one, Some(two)));
    let (bare, role) = what.find(" (").map_or((what, ""), |at| what.split_at(at));
    let bare = now(bare).unwrap_or_else(|| bare.to_owned());
    let place = place.map(|place| now(place).unwrap_or_else(|| place.to_owned()));
    let place = place.map(|place| format!(" in {place}")).unwrap_or_default();
    format!("{note}{bare}{role}{place}")
}
