//! What a house's own words may not take back: allergens and what can hurt.
//!
//! A message that warns is printed only if it can be read as that warning; whatever is not
//! understood counts as no warning (`guarded.txt`).

use crate::formula::{Absence, Allergen, LANGUAGES, mentions_by_language};
use std::sync::LazyLock;

/// How a message of a house that warns is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Judged {
    /// As the house has it.
    AsWritten,
    /// With ours beside it, as its language is not one that we read.
    Beside,
    /// Not at all: ours stands there. Says why, as the end of a sentence that begins with
    /// the message.
    Refused(String),
    /// Not at all: it can't be put together, or looks different from what it says.
    Unread,
}

/// What stands around something filled in, where a message is judged.
pub const FILLED: [char; 2] = ['\u{e000}', '\u{e001}'];

/// The facts of one message.
struct Guard {
    id: &'static str,
    needs: Vec<Vec<&'static str>>,
    only: Vec<&'static str>,
    never: Vec<&'static str>,
    fills: Vec<&'static str>,
}

static GUARDS: LazyLock<Vec<Guard>> = LazyLock::new(|| read(include_str!("guarded.txt")));

fn read(text: &'static str) -> Vec<Guard> {
    let mut guards: Vec<Guard> = Vec::new();
    for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let Some(fact) = line.strip_prefix("  ") else {
            let (needs, only, never, fills) = Default::default();
            guards.push(Guard { id: line.trim(), needs, only, never, fills });
            continue;
        };
        let (word, rest) = fact.split_once(' ').unwrap_or((fact, ""));
        let list = rest.split(',').map(str::trim).filter(|word| !word.is_empty());
        let Some(guard) = guards.last_mut() else { continue };
        match word {
            "needs" => guard.needs.push(list.collect()),
            "only" => guard.only.extend(list),
            "never" => guard.never.extend(list),
            _ => guard.fills.extend(list),
        }
    }
    guards
}

fn guard(id: &str) -> Option<&'static Guard> {
    GUARDS.iter().find(|guard| guard.id == id)
}

fn list(id: &str) -> &'static [&'static str] {
    guard(id).and_then(|guard| guard.needs.first()).map_or(&[], Vec::as_slice)
}

/// Whether a message says what somebody may be hurt by, or is a part of that.
pub fn is_guarded(id: &str) -> bool {
    id.starts_with("allergen-")
        || id.starts_with("caution-")
        || id.starts_with("hurts-")
        || guard(id).is_some_and(|guard| !matches!(guard.id, "reassures" | "hurt" | "denial"))
}

/// The messages with a list of what they have to say.
#[cfg_attr(closed, allow(dead_code, reason = "tests try each of them"))]
pub fn guarded() -> impl Iterator<Item = &'static str> {
    GUARDS.iter().map(|guard| guard.id).filter(|id| is_guarded(id))
}

/// Judges a message of a house: `said` is all that it prints, with what is filled in between
/// the marks of [`FILLED`], `ours` what our catalogues have there, `is_foreign` where the house's language is none of ours.
pub fn judge(id: &str, said: &str, ours: &[&str], is_foreign: bool) -> Judged {
    let words = words_of(said);
    if !said.contains(char::is_alphanumeric) {
        return Judged::Refused("says nothing".to_owned());
    }
    let fills = guard(id).map_or(&[][..], |guard| guard.fills.as_slice());
    let filled = |name: &str| said.contains(&format!("{}{name}{}", FILLED[0], FILLED[1]));
    if let Some(left) = fills.iter().find(|name| !filled(name)) {
        return Judged::Refused(format!("leaves out `{{ ${left} }}`"));
    }
    if let Some(key) = id.strip_prefix("allergen-") {
        return judge_allergen(key, said, is_foreign);
    }
    if let Some(of) = id.strip_prefix("caution-").and_then(|id| id.strip_suffix("-words")) {
        return judge_own_words(of, said, ours, is_foreign);
    }
    let is_lead = guard(id).is_some_and(|guard| !guard.only.is_empty());
    if is_foreign {
        let is_lead = is_lead || id.ends_with("-unknown");
        return if is_lead { Judged::Beside } else { Judged::AsWritten };
    }
    let Some(guard) = guard(id) else { return Judged::AsWritten };
    let not = |what: &str| Judged::Refused(what.to_owned());
    let is_caution = id.starts_with("caution-") || id.starts_with("hurts-");
    if is_caution && takes_back(said) {
        return not("takes back what it warns of");
    }
    if guard.needs.iter().any(|list| !has_one(&words, list)) || has_one(&words, &guard.never) {
        return not("does not say what ours says");
    }
    match words.iter().find(|word| !guard.only.is_empty() && !is_one(word, &guard.only)) {
        Some(word) => not(&format!("says `{word}`, which may change what ours says")),
        None => Judged::AsWritten,
    }
}

/// The words by which a caution is known to be spoken of: they leave it out of a print.
fn judge_own_words(of: &str, said: &str, all: &[&str], is_foreign: bool) -> Judged {
    let Some(guard) = guard(&format!("caution-{of}")) else { return Judged::AsWritten };
    let ours: Vec<&str> = guard.needs.iter().take(2).flatten().copied().collect();
    let own = said.split(',').map(str::trim).filter(|word| !word.is_empty());
    // Two letters with any ending stand for half of a language.
    let is_short = |word: &str| word.trim_end_matches('*').chars().count() < 3;
    let of_ours = |word: &str| is_one(word.trim_end_matches('*'), &ours) || word.starts_with('°');
    let listed = |word: &str| all.iter().flat_map(|all| all.split(',')).any(|it| it.trim() == word);
    let is_known = |word: &&str| match is_foreign {
        _ if listed(word) => true,
        true => !is_short(word) || of_ours(word),
        false => words_of(word).iter().all(|word| of_ours(word)),
    };
    match own.into_iter().find(|word| !is_known(word)) {
        Some(word) => Judged::Refused(format!("holds `{word}`, which is not in that caution")),
        None => Judged::AsWritten,
    }
}

/// The name of an allergen: one of its names, with nothing that takes it back.
fn judge_allergen(key: &str, said: &str, is_foreign: bool) -> Judged {
    let Some(wanted) = Allergen::all().find(|it| it.key().replace(' ', "-") == key) else {
        return Judged::AsWritten;
    };
    let is_it = |name: &str| {
        Allergen::read(name) == Some(wanted) || Allergen::claimed(name) == Some(wanted)
    };
    if is_it(said.trim()) {
        return Judged::AsWritten;
    }
    let every = (1 << LANGUAGES.len()) - 1;
    let mentions: Vec<_> = mentions_by_language(said, every).into_iter().flatten().collect();
    let other = mentions.iter().find(|mention| {
        let Absence::Allergen(named) = mention.absence else { return true };
        let name = &said[mention.range.clone()];
        !is_it(name) && !named.wider().holds(wanted) && !named.narrower().holds(wanted)
    });
    if let Some(other) = other {
        let name = &said[other.range.clone()];
        return Judged::Refused(format!("names `{name}` for `{}`", wanted.key()));
    }
    let names_it = mentions.iter().any(|mention| is_it(&said[mention.range.clone()]));
    let mut rest = said.to_owned();
    let mut ranges: Vec<_> = mentions.iter().map(|mention| mention.range.clone()).collect();
    ranges.sort_by_key(|range| (range.start, range.end));
    for range in ranges.into_iter().rev() {
        if rest.is_char_boundary(range.start) && range.end <= rest.len() {
            rest.replace_range(range.clone(), &" ".repeat(range.len()));
        }
    }
    const BESIDE: [&str; 12] =
        ["and", "or", "und", "oder", "et", "ou", "y", "e", "o", "contains", "including", "of"];
    let is_plain = words_of(&rest).iter().all(|word| BESIDE.contains(&&**word));
    match (names_it && is_plain, is_foreign) {
        (true, _) => Judged::AsWritten,
        (false, true) => Judged::Beside,
        (false, false) => {
            Judged::Refused(format!("is not a name of `{}` that we know", wanted.key()))
        }
    }
}

/// Whether a caution reassures, or denies that anything hurts.
fn takes_back(said: &str) -> bool {
    let reassures = guard("reassures").map_or(&[][..], |guard| guard.never.as_slice());
    if has_one(&words_of(said), reassures) {
        return true;
    }
    let (hurts, denials) = (list("hurt"), list("denial"));
    said.split(['.', ',', ';', ':', '!', '?', '(', ')', '–', '—']).any(|part| {
        let words = words_of(part);
        words.iter().enumerate().filter(|(_, word)| is_one(word, hurts)).any(|(at, _)| {
            let before = &words[at.saturating_sub(2)..at];
            let after = words.get(at + 1..(at + 3).min(words.len())).unwrap_or_default();
            has_one(before, denials)
                || has_one(&after[..after.len().min(1)], denials)
                || after.len() == 2 && has_one(after, &["no one", "not"])
        })
    })
}

/// The words of a text in small letters; what is filled in is none.
fn words_of(said: &str) -> Vec<String> {
    let mut kept = String::new();
    let mut is_filled = false;
    for letter in said.chars() {
        is_filled = if letter == FILLED[0] { true } else { is_filled && letter != FILLED[1] };
        kept.push(if is_filled || FILLED.contains(&letter) { ' ' } else { letter });
    }
    let is_part = |letter: char| letter.is_alphanumeric() || matches!(letter, '°' | '*');
    let words = kept.split(|letter| !is_part(letter)).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

/// Whether a word, or several in a row, are one of a list.
fn has_one(words: &[String], list: &[&str]) -> bool {
    list.iter().any(|wanted| {
        let parts: Vec<&str> = wanted.split(' ').collect();
        words
            .windows(parts.len())
            .any(|found| found.iter().zip(&parts).all(|(it, part)| fits(it, part)))
    })
}

fn is_one(word: &str, list: &[&str]) -> bool {
    list.iter().any(|wanted| fits(word, wanted))
}

fn fits(word: &str, wanted: &str) -> bool {
    match wanted.strip_suffix('*') {
        Some(stem) => word.starts_with(stem),
        None => word == wanted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_list_is_read() {
        let text = include_str!("guarded.txt");
        for line in text.lines().filter_map(|line| line.strip_prefix("  ")) {
            let word = line.split(' ').next().unwrap_or_default();
            assert!(["needs", "only", "never", "fills"].contains(&word), "{line}");
        }
        for id in ["reassures", "hurt", "denial"] {
            assert!(guard(id).is_some() && !is_guarded(id), "{id}");
        }
    }
}
