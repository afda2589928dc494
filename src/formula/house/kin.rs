//! What a name that nothing bears may mean.
//!
//! A bare, old or foreign name often means one of several things: `yeast`, `rye`, `starter`.
//! They are listed with what tells them apart, and nobody chooses among them but the author.
//! A slip of the finger leads to the name it is a slip of, where no other is as near; a word
//! that means a food is no slip of another, and what hurts is hardly ever offered.

use super::drawers::{limit, names_in_stores};
use super::registry::House;
use super::texts::key;
use crate::diag::{Finding, nearest_names, slips_between, slips_up_to};
use crate::formula::allergens::LANGUAGES;
use crate::formula::class::Class;
use crate::formula::findings::unknown_ingredient;
use crate::formula::meant::{Meant, NamePlace};
use crate::formula::naming::{is_said_of, names_a_plant, told_by_name};
use crate::formula::spoken::{Meaning, begins_a_spoken_name, meaning, near_abroad};
use crate::source::cells;
use crate::syntax::tree::Name;
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::LazyLock;

const TEXT: &str = include_str!("../stores/kin.txt");

/// Names that are offered at most.
const MAX_OFFERED: usize = 6;

/// What stands in a list for the cultures of the formula and the house, and the usual ones.
const CULTURES: &str = "cultures";
const USUAL_CULTURES: [&str; 3] = ["white culture", "rye culture", "whole wheat culture"];

struct KinEntry {
    names: Vec<&'static str>,
    apart: &'static str,
}

#[derive(Default)]
struct Kin {
    by_name: FxHashMap<EcoString, usize>,
    entries: Vec<KinEntry>,
    /// Every word that means a food.
    words: FxHashSet<EcoString>,
    /// Names for which nothing is offered.
    nothing: FxHashSet<EcoString>,
    /// Words that say how a starter is, and not which.
    ripe: FxHashSet<EcoString>,
}

static KIN: LazyLock<Kin> = LazyLock::new(Kin::read);

impl Kin {
    fn read() -> Self {
        let mut all = Self::default();
        all.words.extend(names_in_stores().flat_map(|name| name.split(' ')).map(EcoString::from));
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let mut columns = cells(line, b'|');
            let names = columns.next().unwrap_or_default();
            let meant: Vec<&'static str> =
                cells(columns.next().unwrap_or_default(), b',').collect();
            if names == "foods" {
                all.words.extend(meant.into_iter().map(key));
                continue;
            }
            if names == "nothing" {
                all.nothing.extend(meant.into_iter().map(key));
                continue;
            }
            if names == "ripe" {
                all.ripe.extend(meant.into_iter().map(key));
                continue;
            }
            for name in cells(names, b',').map(key) {
                all.words.extend(name.split(' ').map(EcoString::from));
                all.by_name.entry(name).or_insert(all.entries.len());
            }
            all.entries.push(KinEntry { names: meant, apart: columns.next().unwrap_or_default() });
        }
        all
    }

    fn entry(&self, key: &str) -> Option<&KinEntry> {
        let one = || key.strip_suffix('s').and_then(|one| self.by_name.get(one));
        let found = self.by_name.get(key).or_else(one);
        found.and_then(|at| self.entries.get(*at)).or_else(|| self.entry_of_a_starter(key))
    }

    /// Whether a name is kin of all cultures.
    fn is_any_culture(&self, name: &str) -> bool {
        let entry = self.by_name.get(name).and_then(|at| self.entries.get(*at));
        entry.is_some_and(|entry| entry.names.contains(&CULTURES))
    }

    /// `active bubbly starter`, `100% hydration starter`: a starter, however it is.
    fn entry_of_a_starter(&self, key: &str) -> Option<&KinEntry> {
        let is_share =
            |word: &str| word.trim_end_matches('%').bytes().all(|it| it.is_ascii_digit());
        let says_how = |word: &&str| !self.ripe.contains(*word) && !is_share(word);
        let words = key.split([' ', ',']).filter(|word| !word.is_empty());
        let left: Vec<&str> = words.filter(says_how).collect();
        // How wet it is tells white ones apart.
        let is_wet = |word: &str| ["stiff", "liquid", "dur", "liquide"].contains(&word);
        let left = match left.join(" ") {
            plain if self.is_any_culture(&plain) && key.split(' ').any(is_wet) => {
                "white starter".to_owned()
            }
            left => left,
        };
        let at = self.by_name.get(left.as_str()).filter(|_| left != key)?;
        let is_culture = |name: &&&str| **name == CULTURES || name.ends_with("culture");
        self.entries.get(*at).filter(|entry| entry.names.iter().any(|name| is_culture(&name)))
    }
}

impl House<'_> {
    /// The finding for a name that nothing bears.
    pub fn unknown(&self, name: &Name, place: &NamePlace) -> Finding {
        if let Some((one, two, is_choice)) = self.two_in_one(&name.key) {
            return unknown_ingredient::two_names(name, &one, &two, is_choice);
        }
        unknown_ingredient::finding(name, self.meant(&name.key, place))
    }

    /// What is asked about a line that bears the name of a formula which is also a food's by
    /// another name: `rava`, `potato`. A formula's own name on its line can only be the food.
    pub fn named_like_a_food(&self, name: &Name, is_own: bool) -> Option<Finding> {
        let one = match meaning(&name.key, self.language_of_names()) {
            Some(Meaning::One(id)) => vec![format!("`{}`", self.ingredient(id).name.shown)],
            Some(Meaning::Several(_)) => self.meanings(&name.key),
            None => Vec::new(),
        };
        let kin = || {
            let (names, _) = self.kin(&name.key, &NamePlace::default())?;
            Some(names.iter().map(|name| format!("`{name}`")).collect())
        };
        let foods = if one.is_empty() { kin()? } else { one };
        Some(match is_own {
            true => unknown_ingredient::several(name, &foods, &[]),
            false => unknown_ingredient::food_or_formula(name, &foods),
        })
    }

    /// The two names that are joined in one, and whether only one of them goes in: `milk and
    /// honey`, `bread or plain flour`.
    fn two_in_one(&self, name: &str) -> Option<(String, String, bool)> {
        const JOINTS: [(&str, bool); 10] = [
            (" and ", false),
            (" und ", false),
            (" et ", false),
            (" y ", false),
            (" e ", false),
            (" or ", true),
            (" oder ", true),
            (" ou ", true),
            (" o ", true),
            (" & ", false),
        ];
        let name = name.strip_prefix("each ").unwrap_or(name);
        let is_known = |one: &str| {
            self.ingredient_id(one).is_some()
                || KIN.entry(one).is_some()
                || meaning(one, None).is_some()
        };
        JOINTS.into_iter().find_map(|(joint, is_choice)| {
            let (one, two) = name.split_once(joint)?;
            let last = two.rsplit(' ').next().unwrap_or_default();
            // `bread or plain flour`
            let with_last = format!("{one} {last}");
            let one = match (self.ingredient_id(&with_last), is_known(one)) {
                (Some(_), _) => with_last,
                (None, true) => one.to_owned(),
                (None, false) => return None,
            };
            is_known(two).then(|| (one, two.to_owned(), is_choice))
        })
    }

    /// What a name that nothing bears may mean, where it stands.
    pub fn meant(&self, name: &str, place: &NamePlace) -> Meant {
        if KIN.nothing.contains(name) {
            return Meant::Nothing;
        }
        if let Some((names, apart)) = self.kin(name, place) {
            return Meant::Kin(names, apart);
        }
        // `bread flower`
        let mended = name.replace("flower", "flour").replace("bred ", "bread ");
        if mended != name {
            if self.ingredient_id(&mended).is_some() {
                return Meant::Slip(mended.into());
            }
            if let Some((names, apart)) = self.kin(&mended, place) {
                return Meant::Kin(names, apart);
            }
        }
        let mut near = self.near(name, place);
        near.retain(|near| !is_another_short_word(name, near));
        let slips = near.iter().map(|near| slips_between(name, near)).min();
        if slips.is_some_and(|slips| is_crowded(name, slips, &near)) {
            near.clear();
        }
        // Whoever keeps house in a language means its words first.
        let language = self.language_of_names().filter(|tag| !tag.starts_with("en"));
        let least = if near.is_empty() { None } else { slips };
        if language.is_some()
            && let Some(meant) = self.meant_abroad(name, language, place, least)
        {
            return meant;
        }
        match near.as_slice() {
            [] => {}
            [one] => return Meant::Slip(one.clone()),
            _ => return Meant::Either(near),
        }
        let of_kin = nearest_names(name, KIN.by_name.keys().map(EcoString::as_str), is_food_word);
        if let [bare] = of_kin.as_slice()
            && let Some((names, apart)) = self.kin(bare, place)
            && !KIN.nothing.iter().any(|it| is_as_near(name, it, bare))
            && !names.iter().any(|name| self.hurts(&key(name)))
            && !is_crowded(name, slips_between(name, bare), &[EcoString::from(*bare)])
        {
            return Meant::Kin(names, apart);
        }
        match self.holding(name, place) {
            names if names.is_empty() => {
                self.meant_abroad(name, None, place, None).unwrap_or(Meant::Nothing)
            }
            // `active yeast`, `yeast instant`: one of a name of several words is left out, or
            // they stand in another order.
            mut names if names.len() == 1 && name.contains(' ') => {
                names.pop().map_or(Meant::Nothing, Meant::Slip)
            }
            names => Meant::Holding(names),
        }
    }

    /// What a name may be a slip of in a language, or in any but English, where no more letters
    /// are wrong than `most`.
    fn meant_abroad(
        &self,
        name: &str,
        language: Option<&str>,
        place: &NamePlace,
        most: Option<usize>,
    ) -> Option<Meant> {
        if is_word_abroad(name) {
            return None;
        }
        let (slips, mut near) = near_abroad(name, language, is_word_abroad);
        if most.is_some_and(|most| slips > most) {
            return None;
        }
        let own = |id| &self.ingredient(id).name;
        near.retain(|near| {
            let id = near.id;
            self.may_be(name, &own(id).key, place) && !is_another_short_word(name, &key(near.shown))
        });
        if near.iter().any(|near| !self.hurts(&own(near.id).key)) {
            near.retain(|near| !self.hurts(&own(near.id).key));
        }
        let shown: Vec<EcoString> = near.iter().map(|near| key(near.shown)).collect();
        // What another language has beside it is not meant in a house of this one.
        let is_own = language.is_some() && name.chars().count() >= SHORT;
        if shown.is_empty()
            || !is_own && is_crowded(name, slips.max(1), &shown)
            || KIN.nothing.iter().any(|it| shown.iter().any(|near| is_as_near(name, it, near)))
        {
            return None;
        }
        let mut ids: Vec<_> = near.iter().map(|near| near.id).collect();
        ids.sort_unstable_by_key(|id| id.0);
        ids.dedup();
        match ids.as_slice() {
            [_] => near.first().map(|near| Meant::Slip(near.shown.into())),
            several => {
                let names = several.iter().map(|id| own(*id).shown.clone());
                Some(Meant::Kin(names.take(MAX_OFFERED).collect(), String::new()))
            }
        }
    }

    /// The stages that a name may mean where all of one is asked for.
    pub fn meant_stage(&self, name: &Name, place: &NamePlace) -> Vec<EcoString> {
        let own = self.meant_among(&name.key, &place.stages);
        match (own.is_empty(), self.meant(&name.key, place)) {
            (true, Meant::Slip(near)) => vec![near],
            _ => own.into_iter().map(EcoString::from).collect(),
        }
    }

    /// Those of `known` that a name may mean: the same thing by another name, its kin, what
    /// it is a slip of, or what holds all its words.
    pub fn meant_among<'n>(&self, name: &str, known: &[&'n str]) -> Vec<&'n str> {
        let of_kin = self.same_or_kin(name, known);
        if !of_kin.is_empty() {
            return of_kin;
        }
        let near = nearest_names(name, known.iter().copied(), self.is_word());
        if !near.is_empty() {
            return near;
        }
        known.iter().copied().filter(|known| holds_words(known, name)).collect()
    }

    /// Those of `known` that are the same thing by another name, else those of its kin.
    pub fn same_or_kin<'n>(&self, name: &str, known: &[&'n str]) -> Vec<&'n str> {
        let pick = |is_meant: &dyn Fn(&str) -> bool| -> Vec<&'n str> {
            known.iter().copied().filter(|known| is_meant(known)).collect()
        };
        let id = self.ingredient_id(name);
        let same = pick(&|known| id.is_some() && self.ingredient_id(known) == id);
        if !same.is_empty() {
            return same;
        }
        let kin = self.kin(name, &NamePlace::default()).map(|(names, _)| names).unwrap_or_default();
        let ids: Vec<_> = kin.iter().filter_map(|kin| self.ingredient_id(&key(kin))).collect();
        pick(&|known| {
            kin.iter().any(|kin| kin == known)
                || self.ingredient_id(known).is_some_and(|id| ids.contains(&id))
        })
    }

    /// What the store of kin says of a name, or some of a class for its bare word.
    pub fn kin(&self, name: &str, place: &NamePlace) -> Option<(Vec<EcoString>, String)> {
        let Some(entry) = KIN.entry(name) else {
            return self.of_class(name).map(|names| (names, String::new()));
        };
        let mut names: Vec<EcoString> = Vec::new();
        for meant in entry.names.iter().copied() {
            if meant != CULTURES {
                names.push(meant.into());
                continue;
            }
            let most = MAX_OFFERED - USUAL_CULTURES.len();
            let stages = place.stages.iter().copied().map(EcoString::from);
            let own = self.own_cultures().map(|culture| culture.name.shown.clone());
            names.extend(stages.chain(own).take(most));
            names.extend(USUAL_CULTURES.map(EcoString::from));
        }
        let mut told = FxHashSet::default();
        names.retain(|known| known != name && told.insert(known.clone()));
        if place.is_flour {
            names.retain(|name| self.class_of(&key(name)) == Some(Class::Flour));
        }
        names.truncate(MAX_OFFERED);
        (!names.is_empty()).then(|| (names, entry.apart.replace('$', &declarable(name))))
    }

    fn of_class(&self, name: &str) -> Option<Vec<EcoString>> {
        let class = Class::read(name)?;
        let of_it = self.ingredients().filter(|known| known.class == class);
        let of_it = of_it.filter(|known| known.cautions.is_empty());
        let names: Vec<EcoString> =
            of_it.map(|known| known.name.shown.clone()).take(MAX_OFFERED).collect();
        (!names.is_empty()).then_some(names)
    }

    fn class_of(&self, name: &str) -> Option<Class> {
        self.ingredient_named(name).map(|known| known.class)
    }

    /// The names that a name is most likely a slip of: all that are as near as the nearest.
    fn near(&self, name: &str, place: &NamePlace) -> Vec<EcoString> {
        let known = self.names_at(place);
        let near = nearest_names(name, known, self.is_word());
        let mut offered: Vec<(Option<_>, EcoString)> = Vec::new();
        for near in near.into_iter().filter(|near| self.may_be(name, near, place)) {
            // Two names of one thing are one meaning.
            let id = self.ingredient_id(near);
            let is_new = |(known, told): &(Option<_>, EcoString)| {
                if id.is_some() { *known != id } else { told != near }
            };
            if offered.iter().all(is_new) {
                offered.push((id, near.into()));
            }
        }
        if offered.iter().any(|(_, name)| !self.hurts(name)) {
            offered.retain(|(_, name)| !self.hurts(name));
        }
        offered.into_iter().map(|(_, name)| name).take(MAX_OFFERED).collect()
    }

    /// Names that hold all words of a name: `white spelt flour` for `white spelt`.
    fn holding(&self, name: &str, place: &NamePlace) -> Vec<EcoString> {
        if !name.split(' ').any(|word| word.chars().count() > 2) {
            return Vec::new();
        }
        let holds = |known: &&str| {
            holds_words(known, name) && self.may_be(name, known, place) && !self.hurts(known)
        };
        let mut found: Vec<&str> = self.names_at(place).filter(holds).collect();
        found.sort_by_key(|known| (known.split(' ').count(), *known));
        let mut told = FxHashSet::default();
        // Of several names of one thing its own, where that holds the words as well.
        let named = found.into_iter().filter_map(|known| {
            let own = self.ingredient_named(known).map(|it| &it.name);
            let is_new = told.insert(own.map_or(known, |own| own.key.as_str()));
            let own = own.filter(|own| holds_words(&own.key, name));
            is_new.then(|| own.map_or_else(|| known.into(), |own| own.shown.clone()))
        });
        named.take(MAX_OFFERED).collect()
    }

    fn names_at<'n>(&'n self, place: &'n NamePlace) -> impl Iterator<Item = &'n str> {
        place.stages.iter().chain(&place.mixtures).copied().chain(self.line_names())
    }

    /// Whether a word means a food, so that it is no slip of another word.
    fn is_word(&self) -> impl Fn(&str) -> bool {
        // It is asked of the few words of one name: gone through, not gathered.
        move |word| {
            let holds = |name: &str| name.split(' ').any(|own| own == word);
            is_food_word(word) || self.own_line_names().any(holds)
        }
    }

    /// Whether a thing may stand there: what hurts is offered for nothing but a slip of its
    /// own long name, and what is used by the pinch not for half a dough.
    fn may_be(&self, wanted: &str, known: &str, place: &NamePlace) -> bool {
        let Some(class) = self.class_of(known) else { return !place.is_flour };
        if place.is_flour && class != Class::Flour {
            return false;
        }
        let begins_alike = wanted.chars().next() == known.chars().next();
        if self.hurts(known) && (known.chars().count() < 5 || !begins_alike) {
            return false;
        }
        let most = limit("plausible names", class.word()).and_then(|most| most.high.as_ref());
        match (&place.share, most) {
            (Some(share), Some(most)) => share <= most,
            _ => true,
        }
    }

    /// Whether the store warns of it.
    fn hurts(&self, name: &str) -> bool {
        self.ingredient_named(name).is_some_and(|known| !known.cautions.is_empty())
    }
}

/// A name as it may be declared: one with a number in it is none.
fn declarable(name: &str) -> String {
    let is_plain = !name.contains(|sign: char| sign.is_ascii_digit() || sign == '%');
    if is_plain { name.to_owned() } else { "my starter".to_owned() }
}

/// Whether a name holds all words of another, one or many of each.
fn holds_words(known: &str, name: &str) -> bool {
    // Asked of every name there is, so letters are not put together from their bytes.
    fn words(name: &str) -> impl Iterator<Item = &[u8]> {
        name.as_bytes().split(|byte| *byte == b' ')
    }
    fn one(word: &[u8]) -> &[u8] {
        word.strip_suffix(b"s").unwrap_or(word)
    }
    words(name).all(|word| words(known).any(|own| one(own) == one(word)))
}

/// Whether a name is a slip of what nothing is offered for, or as near to it as to another.
fn is_as_near(name: &str, nothing: &str, other: &str) -> bool {
    let is_long = nothing.chars().count() > SHORT + 2;
    nearest_names(name, [nothing], |_| false).len() == 1
        || is_long && slips_up_to(name, nothing, slips_between(name, other)).is_some()
}

/// Letters of a word of which one that is wrong leaves too little to know it by.
const SHORT: usize = 5;

/// Whether a word of three letters would have to change one of them into another: `hay` is no
/// slip of `ham`.
fn is_another_short_word(name: &str, near: &str) -> bool {
    let letters = |text: &str| {
        let mut letters: Vec<char> = text.chars().collect();
        letters.sort_unstable();
        letters
    };
    let (name, near) = (letters(name), letters(near));
    name.len() == 3 && near.len() == 3 && name != near
}

/// Whether a short word is as near to other foods as to those that it may be a slip of: `whet`
/// to wheat and to whey.
fn is_crowded(name: &str, slips: usize, own: &[EcoString]) -> bool {
    // A long word is known by its letters, unless another food is nearer still.
    let is_short = name.chars().count() <= SHORT;
    let nearer = slips.checked_sub(1).filter(|nearer| *nearer > 0);
    let Some(most) = (if is_short { Some(slips) } else { nearer }) else { return false };
    if name.contains(' ') {
        return false;
    }
    let is_other = |word: &EcoString| {
        !own.iter().any(|own| own.split(' ').any(|own| holds_words(own, word)))
            && slips_up_to(name, word, most).is_some()
    };
    KIN.words.iter().any(is_other)
}

/// Whether a word means a food anywhere.
///
/// Words of other stores count too: what tells an allergen, what names a plant, and what
/// ingredients are called in other languages.
fn is_food_word(word: &str) -> bool {
    KIN.words.contains(word)
        || begins_a_spoken_name(word)
        || names_a_plant(word)
        || !told_by_name(word, &LANGUAGES).is_empty()
}

/// The same for a word beside those of other languages: a part of a German word makes no food
/// of it, as one letter of it may be wrong.
fn is_word_abroad(word: &str) -> bool {
    const NO_COMPOUNDS: [&str; 4] = ["en", "fr", "es", "it"];
    KIN.words.contains(word)
        || begins_a_spoken_name(word)
        || is_said_of(word)
        || !told_by_name(word, &NO_COMPOUNDS).is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::allergens::Allergen;
    use crate::formula::built_in;
    use crate::quantity::display::trimmed;
    use crate::quantity::{Exact, ratio};

    fn here() -> NamePlace<'static> {
        NamePlace::default()
    }

    #[test]
    fn every_line_of_the_store_is_read_and_offers_what_there_is() {
        let house = built_in();
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            let is_foods = ["foods", "nothing", "ripe"].contains(&columns[0]);
            assert_eq!(columns.len(), if is_foods { 2 } else { 3 }, "{line}");
            assert!(columns.iter().all(|column| !column.is_empty()), "{line}");
            for name in columns[1].split(',').map(str::trim).filter(|_| !is_foods) {
                let is_known = house.ingredient_id(&key(name)).is_some()
                    || house.culture_named(&key(name)).is_some();
                assert!(name == CULTURES || is_known, "{name} in {line}");
            }
        }
        let is_kin = |line: &&str| !line.starts_with('#') && line.matches('|').count() == 2;
        let names = TEXT.lines().filter(is_kin);
        let names = names.map(|line| line.split('|').next().unwrap_or_default());
        let names: Vec<EcoString> = names.flat_map(|it| it.split(',').map(key)).collect();
        let mut once = FxHashSet::default();
        for name in &names {
            assert!(once.insert(name), "{name} has two lines");
        }
        assert!(names.len() > 600, "{}", names.len());
    }

    #[test]
    fn what_the_yeasts_are_worth_is_what_the_store_says() {
        let of = |name: &str| {
            built_in().ingredient_named(name).and_then(|it| it.fresh_equivalent.clone())
        };
        let shown = |name: &str| {
            of(name).and_then(|worth| Some(trimmed(&Exact::from(10u8).over(&worth)?, 1)))
        };
        assert_eq!(shown("active dry yeast").as_deref(), Some("4"));
        assert_eq!(shown("instant yeast").as_deref(), Some("3.3"));
        let line = TEXT.lines().find(|line| line.starts_with("yeast,")).unwrap_or_default();
        assert!(line.contains("10 g of fresh yeast raise as much as 4 g of active dry or 3.3 g"));
    }

    #[test]
    fn a_bare_name_leads_to_its_kin() {
        let kin = |name: &str| match built_in().meant(name, &here()) {
            Meant::Kin(names, _) => names.join(", "),
            other => format!("{other:?}"),
        };
        assert_eq!(kin("yeast"), "fresh yeast, active dry yeast, instant yeast");
        assert_eq!(kin("dry yeast"), "active dry yeast, instant yeast");
        assert_eq!(
            kin("rye"),
            "light rye flour, medium rye flour, dark rye flour, rye grain, rye culture"
        );
        assert_eq!(kin("starter"), "white culture, rye culture, whole wheat culture");
        assert!(kin("oil").starts_with("olive oil, sunflower oil"));
        for (name, place) in [("starter", "levain"), ("discard", "levain")] {
            let place = NamePlace { stages: vec![place], ..here() };
            let Meant::Kin(names, apart) = built_in().meant(name, &place) else {
                unreachable!("{name} has kin")
            };
            assert_eq!(names[0], "levain");
            assert!(apart.contains(&format!("culture {name} {{")), "{apart}");
        }
    }

    /// All names that a name leads to.
    fn offered(name: &str, place: &NamePlace) -> Vec<EcoString> {
        match built_in().meant(&key(name), place) {
            Meant::Slip(one) => vec![one],
            Meant::Either(names) | Meant::Kin(names, _) | Meant::Holding(names) => names,
            Meant::Nothing => Vec::new(),
        }
    }

    fn forbidden() -> impl Iterator<Item = (&'static str, Vec<&'static str>)> {
        let lines = include_str!("../../../tests/words/forbidden.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        lines.filter_map(|line| {
            let (written, never) = line.split_once('|')?;
            Some((written.trim(), never.split(',').map(str::trim).collect()))
        })
    }

    /// The same thing by any of its names.
    fn thing(name: &str) -> String {
        let known = built_in().ingredient_named(&key(name));
        known.map_or_else(|| name.to_owned(), |known| known.name.shown.to_string())
    }

    #[test]
    fn nothing_forbidden_is_offered() {
        let (mut pairs, mut wrong) = (0, Vec::new());
        for (written, never) in forbidden() {
            for share in [None, Some(ratio(1, 100)), Some(Exact::ONE)] {
                let offered = offered(written, &NamePlace { share, ..here() });
                for never in &never {
                    let is_offered = |it: &EcoString| *never == "*" || thing(it) == thing(never);
                    let is_known = built_in().ingredient_id(&key(written)).is_some();
                    if !is_known && offered.iter().any(is_offered) {
                        wrong.push(format!("{written}: {offered:?}"));
                    }
                    pairs += 1;
                }
            }
        }
        assert!(wrong.is_empty() && pairs > 400, "{pairs} {wrong:#?}");
    }

    /// A name that means a food, in whatever language, is a slip of no other food.
    #[test]
    fn no_food_is_taken_for_another() {
        let house = built_in();
        let mut foods: Vec<EcoString> = names_in_stores().cloned().collect();
        foods.extend(KIN.by_name.keys().cloned());
        foods.extend(KIN.words.iter().cloned());
        foods.extend(Allergen::all().flat_map(Allergen::names).map(|(_, name)| key(name)));
        let mut wrong = Vec::new();
        for food in &foods {
            let near = match house.meant(food, &here()) {
                Meant::Slip(one) => vec![one],
                Meant::Either(several) => several,
                _ => continue,
            };
            // Parted or joined it is the same name.
            let joined = |name: &str| name.replace([' ', '-'], "");
            let allergen = Allergen::claimed(food);
            let is_it = |near: &EcoString| {
                let told = told_by_name(near, &LANGUAGES);
                let holds = |one| told.iter().any(|told| told.allergens.holds(one));
                thing(near) == thing(food)
                    || joined(near) == joined(food)
                    || allergen.is_some_and(holds)
            };
            if !near.iter().all(is_it) {
                wrong.push(format!("{food}: {near:?}"));
            }
        }
        assert!(wrong.is_empty() && foods.len() > 1500, "{} {wrong:#?}", foods.len());
    }

    /// Every name with one letter left out, doubled, changed or swapped with the next: what
    /// is offered is the name, or nothing; what hurts only for what is called so.
    #[test]
    fn a_slip_leads_back_or_nowhere() {
        let house = built_in();
        let (mut slips, mut back, mut astray, mut hurts) = (0, 0, Vec::new(), Vec::new());
        for name in names_in_stores().filter(|name| name.len() > 3).step_by(8) {
            for slip in slips_of(name).into_iter().filter(|slip| {
                house.ingredient_id(slip).is_none() && house.culture_named(slip).is_none()
            }) {
                slips += 1;
                let near = match house.meant(&slip, &here()) {
                    Meant::Slip(one) => vec![one],
                    Meant::Either(several) => several,
                    _ => continue,
                };
                back += usize::from(near.iter().any(|near| thing(near) == thing(name)));
                if !near.iter().any(|near| thing(near) == thing(name)) {
                    astray.push(format!("{slip} of {name}: {near:?}"));
                }
                if near.iter().any(|near| house.hurts(near) && thing(near) != thing(name)) {
                    hurts.push(format!("{slip} of {name}: {near:?}"));
                }
            }
        }
        assert!(hurts.is_empty(), "{hurts:#?}");
        assert!(slips > 1_500 && back * 10 > slips * 7, "{back} of {slips}");
        assert!(astray.len() * 500 < slips, "{} of {slips}: {astray:#?}", astray.len());
    }

    /// The same for names of other languages: what is offered means the same, in one word of
    /// that language or as what it may mean.
    #[test]
    fn a_slip_in_another_language_leads_back_or_nowhere() {
        use crate::formula::spoken::{Meaning, meaning, names_abroad};
        let house = built_in();
        let meant = |name: &str| match meaning(name, None) {
            Some(Meaning::One(id)) => vec![id],
            Some(Meaning::Several(ids)) => ids,
            None => Vec::from_iter(house.ingredient_id(&key(name))),
        };
        let (mut slips, mut back, mut astray, mut hurts) = (0, 0, Vec::new(), Vec::new());
        for (name, id) in names_abroad().filter(|(name, _)| name.chars().count() > 4).step_by(40) {
            for slip in
                slips_of(&key(name)).into_iter().step_by(3).filter(|slip| meant(slip).is_empty())
            {
                slips += 1;
                let near = match house.meant(&slip, &here()) {
                    Meant::Slip(one) => vec![one],
                    Meant::Either(names) | Meant::Kin(names, _) => names,
                    Meant::Holding(_) | Meant::Nothing => continue,
                };
                let is_back = near.iter().any(|near| {
                    meant(near).contains(&id) || thing(near) == house.ingredient(id).name.shown
                });
                back += usize::from(is_back);
                let hurtful = |near: &EcoString| {
                    meant(near).iter().any(|it| *it != id && self::is_hurtful(house, *it))
                };
                if near.iter().any(hurtful) {
                    hurts.push(format!("{slip} of {name}: {near:?}"));
                }
                if !is_back {
                    astray.push(format!("{slip} of {name}: {near:?}"));
                }
            }
        }
        assert!(hurts.is_empty(), "{hurts:#?}");
        assert!(slips > 800 && back * 10 > slips * 6, "{back} of {slips}");
        assert!(astray.len() * 40 < slips, "{} of {slips}: {astray:#?}", astray.len());
    }

    fn is_hurtful(house: &House, id: crate::formula::composition::IngredientId) -> bool {
        !house.ingredient(id).cautions.is_empty()
    }

    /// Two slips in one name, for each name of the table: another thing is offered only where
    /// it is nearer to what was written than the name itself.
    #[test]
    fn two_slips_lead_to_nothing_forbidden() {
        /// So many of each name, of thousands.
        const TRIED: usize = 60;
        let house = built_in();
        let (mut tried, mut wrong) = (0, Vec::new());
        for (written, never) in forbidden().filter(|(written, _)| written.chars().count() > 2) {
            let once = slips_of(&key(written));
            let mut twice: Vec<EcoString> = once.iter().flat_map(|it| slips_of(it)).collect();
            twice.sort_unstable();
            twice.dedup();
            let step = twice.len() / TRIED + 1;
            let slips = twice.iter().step_by(step);
            for slip in slips.filter(|slip| house.ingredient_id(slip).is_none()) {
                tried += 1;
                let offers = offered(slip, &here());
                // Who is asked between the two chooses.
                let is_asked = offers.iter().any(|near| thing(near) == thing(written));
                for near in offers.iter().filter(|_| !is_asked) {
                    let is_forbidden =
                        never.iter().any(|it| *it != "*" && thing(it) == thing(near));
                    let leading = KIN.by_name.iter().filter(|(_, at)| {
                        let entry = KIN.entries.get(**at);
                        entry.is_some_and(|entry| entry.names.contains(&near.as_str()))
                    });
                    let names = leading.map(|(name, _)| name.as_str()).chain([near.as_str()]);
                    let slips = names.map(|name| slips_between(slip, name)).min();
                    let own = slips_between(slip, &key(written));
                    let is_thing = house.ingredient_id(&key(written)).is_some()
                        || KIN.entry(&key(written)).is_some()
                        || KIN.nothing.contains(written);
                    let is_nearer =
                        slips.is_some_and(|slips| slips < own || slips == own && !is_thing);
                    if is_forbidden && !is_nearer {
                        wrong.push(format!("{slip} of {written}: {near}"));
                    }
                }
            }
        }
        assert!(wrong.is_empty() && tried > 4_000, "{tried} {wrong:#?}");
    }

    fn slips_of(name: &str) -> Vec<EcoString> {
        let letters: Vec<char> = name.chars().collect();
        let mut all: Vec<Vec<char>> = Vec::new();
        for at in 0..letters.len() {
            let mut without = letters.clone();
            let letter = without.remove(at);
            let mut doubled = letters.clone();
            doubled.insert(at, letter);
            let mut changed = letters.clone();
            changed[at] = if letter == 'x' { 'q' } else { 'x' };
            let mut swapped = letters.clone();
            if at + 1 < letters.len() {
                swapped.swap(at, at + 1);
            }
            all.extend([without, doubled, changed, swapped]);
        }
        let all = all.into_iter().map(|slip| slip.into_iter().collect::<String>());
        all.filter(|slip| slip != name).map(|slip| key(&slip)).collect()
    }

    #[test]
    fn what_is_used_by_the_pinch_is_not_offered_for_half_a_dough() {
        let at = |share: Exact| {
            built_in().meant("baking sda", &NamePlace { share: Some(share), ..here() })
        };
        assert_eq!(at(ratio(1, 50)), Meant::Slip("baking soda".into()));
        assert!(!matches!(at(ratio(1, 2)), Meant::Slip(_)));
        let flour = NamePlace { is_flour: true, ..here() };
        assert_eq!(built_in().meant("slat", &flour), Meant::Nothing);
    }
}
