//! Things that have another name and say the same.

use super::declared::{Declared, Kind};
use super::facts::{Block, Fact};
use super::said::Said;
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Stages and mixtures with another name: by the old key the new one, and the new name.
pub type Renamed = FxHashMap<EcoString, (EcoString, EcoString)>;

/// A thing that is declared, and which of several with its name.
type Place = (Kind, String, usize);

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
    old: &BTreeMap<Place, &Declared>,
    new: &BTreeMap<Place, &Declared>,
) -> Vec<(Place, Place)> {
    let gone: Vec<&Place> = old.keys().filter(|it| !new.contains_key(*it)).collect();
    let come: Vec<&Place> = new.keys().filter(|it| !old.contains_key(*it)).collect();
    let said = |all: &BTreeMap<Place, &Declared>, place: &Place| {
        let facts = all.get(place).into_iter().flat_map(|it| &it.facts.all);
        facts
            .map(|it| (place.0, it.block.clone(), it.name.clone(), it.value.canon.clone()))
            .collect()
    };
    let before: Vec<BTreeSet<_>> = gone.iter().map(|place| said(old, place)).collect();
    let after: Vec<BTreeSet<_>> = come.iter().map(|place| said(new, place)).collect();
    let pairs = alike(&before, &after).into_iter();
    pairs
        .filter_map(|(at, to)| Some(((*gone.get(at)?).clone(), (*come.get(to)?).clone())))
        .collect()
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
    let named =
        |name: &EcoString| renamed.get(name).map_or_else(|| name.clone(), |it| it.0.clone());
    let fact = |fact: &Fact| Fact {
        block: Block { kind: fact.block.kind, name: named(&fact.block.name) },
        name: named(&fact.name),
        value: value(&fact.value, renamed),
    };
    Cow::Owned(facts.iter().map(fact).collect())
}

/// A value in which whole names are others.
fn value(said: &Said, renamed: &Renamed) -> Said {
    let is_part = |letter: char| ('\u{1c}'..='\u{1f}').contains(&letter);
    let is_named = said.canon.split(is_part).any(|part| renamed.contains_key(part));
    if !is_named {
        return said.clone();
    }
    let parts = said.canon.split_inclusive(is_part).map(|part| {
        let bare = part.trim_end_matches(is_part);
        match renamed.get(bare) {
            Some((key, _)) => format!("{key}{}", part.get(bare.len()..).unwrap_or_default()),
            None => part.to_owned(),
        }
    });
    Said { canon: parts.collect(), shown: said.shown.clone() }
}
