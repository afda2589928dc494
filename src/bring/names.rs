//! What an ingredient of a recipe is among those of the stores.

use crate::diag::slips_up_to;
use crate::formula::{Meant, NamePlace, all_mixes, built_in, key, understand};
use crate::source::SourceId;
use crate::syntax::{read, tree::TextPart};
use rustc_hash::FxHashMap;
use std::cell::RefCell;

/// What a name was found to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Matched {
    /// An ingredient of the stores, by its own name, and the words beside it that say nothing
    /// for the sum: `warm`.
    Store(String, String),
    /// The same by a name that differs in a letter or two.
    Near(String),
    /// A culture of the stores.
    Culture(String),
    /// One of several ingredients, or a starter without a make-up: their names.
    Several(Vec<String>),
    /// A starter of which nobody says what it is made of.
    Starter,
    /// No ingredient that is known, though surely a flour.
    Flour,
    /// Nothing that is known.
    Unknown,
}

/// Words of starters that are kept.
const STARTERS: [&str; 26] = [
    "starter",
    "sourdough starter",
    "sourdough",
    "leaven",
    "levain",
    "mother",
    "levain chef",
    "levain liquide",
    "levain dur",
    "levain mûr",
    "sauerteig",
    "anstellgut",
    "roggensauer",
    "weizensauer",
    "sauerteigansatz",
    "masa madre",
    "masa madre activa",
    "levadura madre",
    "pasta madre",
    "lievito naturale",
    "licoli",
    "active starter",
    "ripe starter",
    "sourdough culture",
    "mature starter",
    "ripe levain",
];

/// Ends and beginnings of words that are flours.
const FLOURS: [&str; 5] = ["flour", "mehl", "farine", "harina", "farina"];

thread_local! {
    /// What was asked before: tables of a book name the same few things.
    static ASKED: RefCell<FxHashMap<(String, String), Matched>> = RefCell::default();
}

/// The languages in which a name is looked for where nobody says which one it is in.
const TAGS: [Option<&str>; 5] = [None, Some("fr"), Some("de"), Some("es"), Some("it")];

/// Whether a name means something in any language.
pub fn is_known(name: &str) -> bool {
    TAGS.iter().any(|tag| matched(name, *tag) != Matched::Unknown)
}

/// What a name means in a language, given as a tag.
pub fn matched(name: &str, language: Option<&str>) -> Matched {
    /// So many names are kept.
    const KEPT: usize = 2000;
    let asked = (name.to_owned(), language.unwrap_or_default().to_owned());
    if let Some(known) = ASKED.with_borrow(|known| known.get(&asked).cloned()) {
        return known;
    }
    let found = matched_anew(name, language);
    ASKED.with_borrow_mut(|known| {
        if known.len() < KEPT {
            known.insert(asked, found.clone());
        }
    });
    found
}

fn matched_anew(name: &str, language: Option<&str>) -> Matched {
    let lower = key(name).to_string();
    let bare = without_ripe(&lower);
    if STARTERS.contains(&lower.as_str()) || STARTERS.contains(&bare) {
        return Matched::Starter;
    }
    if let Some(found) = understood(name, language) {
        return found;
    }
    let several = built_in().meanings(name);
    if !several.is_empty() {
        return Matched::Several(several);
    }
    // A bare word such as `yeast` is asked about, and never chosen for.
    if let Meant::Kin(names, _) = built_in().meant(&lower, &NamePlace::default()) {
        return Matched::Several(names.iter().map(|name| format!("`{name}`")).collect());
    }
    if let Some(near) = near(&lower) {
        return Matched::Near(near);
    }
    let words: Vec<&str> = lower.split(' ').collect();
    let is_flour = FLOURS.iter().any(|flour| {
        words.first() == Some(flour) || words.last().is_some_and(|last| last.ends_with(flour))
    });
    if is_flour { Matched::Flour } else { Matched::Unknown }
}

fn without_ripe(name: &str) -> &str {
    const RIPE: [&str; 12] = [
        "ripe ", "active ", "mature ", "bubbly ", "fed ", "my ", "your ", "reifer ", "reifes ",
        "aktiver ", "aktives ", "lively ",
    ];
    RIPE.iter().find_map(|word| name.strip_prefix(word)).unwrap_or(name)
}

/// What the reader of formulas understands a name as.
fn understood(name: &str, language: Option<&str>) -> Option<Matched> {
    let house = language.map(|tag| format!("bakehouse \"x\" {{ language {tag} }}\n"));
    let text = format!("{}formula x {{ dough {{\n{name} 1 g\n}} }}\n", house.unwrap_or_default());
    let (mut tree, _) = read(SourceId::ASKED, &text);
    understand(&mut [&mut tree]);
    let formula = tree.formulas.first()?;
    let line = all_mixes(formula).next()?.lines.first()?;
    let key = line.target.name.key.as_str();
    if let Some(known) = built_in().ingredient_named(key) {
        let note = line.note.as_ref().and_then(|note| note.parts.first());
        let aside = match note {
            Some(TextPart::Plain(words)) => words.trim_end_matches([',', ' ']).to_owned(),
            _ => String::new(),
        };
        return Some(Matched::Store(known.name.shown.to_string(), aside));
    }
    let culture = built_in().culture_named(key)?.1;
    Some(Matched::Culture(culture.name.shown.to_string()))
}

/// The one name of the stores that differs in a letter, or in two of a long name.
fn near(name: &str) -> Option<String> {
    let most = match name.chars().count() {
        0..=4 => return None,
        5..=9 => 1,
        _ => 2,
    };
    let mut found: Vec<(usize, &str)> = built_in()
        .names_in_stores()
        .filter(|known| known.split(' ').count() == name.split(' ').count())
        .filter_map(|known| Some((slips_up_to(name, known, most)?, known.as_str())))
        .collect();
    found.sort_unstable();
    let (slips, first) = *found.first()?;
    let meant = built_in().ingredient_named(first)?;
    let is_one = found.iter().filter(|(other, _)| *other == slips).all(|(_, other)| {
        built_in().ingredient_named(other).is_some_and(|other| other.name.key == meant.name.key)
    });
    is_one.then(|| meant.name.shown.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_five_languages_are_matched_and_others_are_not() {
        for (name, language, wanted) in [
            ("strong white flour", None, "bread flour"),
            ("warm water", None, "water"),
            ("farine de seigle", Some("fr"), "rye"),
            ("Wasser", Some("de"), "water"),
            ("sal", Some("es"), "salt"),
            ("acqua", Some("it"), "water"),
            ("sesame seads", None, "sesame seeds"),
        ] {
            let found = matched(name, language);
            let shown = match &found {
                Matched::Store(shown, _) | Matched::Near(shown) => shown.as_str(),
                _ => "",
            };
            assert!(shown.contains(wanted), "{name}: {found:?}");
        }
        assert_eq!(matched("sourdough starter", None), Matched::Starter);
        assert_eq!(matched("Anstellgut", Some("de")), Matched::Starter);
        assert_eq!(matched("white culture", None), Matched::Culture("white culture".into()));
        assert_eq!(matched("gannet flour", None), Matched::Flour);
        assert_eq!(matched("gannet dust", None), Matched::Unknown);
    }
}
