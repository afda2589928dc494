//! The name somebody most likely meant.

use std::cell::LazyCell;

/// The closest of `known` to `wanted`, when it is close enough to be worth saying:
/// never for words under three letters.
pub fn nearest<'a>(wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if wanted.chars().count() < 3 {
        return None;
    }
    let most = (wanted.chars().count() / 3).clamp(1, 3);
    known
        .into_iter()
        .filter(|name| *name != wanted)
        .filter_map(|name| Some((slips_up_to(wanted, name, most)?, name)))
        .filter(|(distance, name)| name.chars().count() > *distance)
        .min_by(|one, two| one.0.cmp(&two.0).then_with(|| one.1.cmp(two.1)))
        .map(|(_, name)| name)
}

/// How many letters are left out, added, changed or swapped between two words.
pub fn slips_between(one: &str, two: &str) -> usize {
    strsim::damerau_levenshtein(one, two)
}

/// The same where there are no more than `most`. What can be told from the lengths and the
/// letters alone is not counted out.
pub fn slips_up_to(one: &str, two: &str, most: usize) -> Option<usize> {
    let length = |word: &str| word.chars().count();
    // A letter that the other does not have is a slip; several may share a bit.
    let letters = |word: &str| {
        word.chars().fold(0_u64, |letters, letter| letters | 1 << (u32::from(letter) % 64))
    };
    let (own, other) = (letters(one), letters(two));
    let least = (own & !other).count_ones().max((other & !own).count_ones()) as usize;
    let least = least.max(length(one).abs_diff(length(two)));
    if least > most {
        return None;
    }
    Some(slips_between(one, two)).filter(|slips| *slips <= most)
}

/// Those of `known` that `wanted` is most likely misspelt from, compared word by word: all
/// that are as near as the nearest, in order.
///
/// A word that means something is no slip, and short words have no letters to spare: `rye`
/// is not `lye`, `dry yeast` not `wet yeast`, `goat milk` not `oat milk`.
pub fn nearest_names<'a>(
    wanted: &str,
    known: impl IntoIterator<Item = &'a str>,
    is_word: impl Fn(&str) -> bool,
) -> Vec<&'a str> {
    // Many names are gone through, and what the wanted one's words are is asked once.
    let own: Vec<Own> = wanted.split(' ').map(|word| Own::new(word, &is_word)).collect();
    let slips = known.into_iter().filter_map(|name| Some((slips(&own, wanted, name)?, name)));
    let mut near: Vec<(usize, &str)> = slips.collect();
    let least = near.iter().map(|(slips, _)| *slips).min();
    near.retain(|(slips, _)| Some(*slips) == least);
    near.sort_unstable();
    near.dedup();
    near.into_iter().map(|(_, name)| name).collect()
}

/// A word of the wanted name.
struct Own<'w> {
    word: &'w str,
    letters: usize,
    means_something: LazyCell<bool, Box<dyn FnOnce() -> bool + 'w>>,
}

impl<'w> Own<'w> {
    fn new(word: &'w str, is_word: &'w dyn Fn(&str) -> bool) -> Self {
        let means_something: Box<dyn FnOnce() -> bool + 'w> = Box::new(move || is_word(word));
        Self {
            word,
            letters: word.chars().count(),
            means_something: LazyCell::new(means_something),
        }
    }
}

/// How many letters are wrong where a name is misspelt; none where it is another name.
fn slips(own: &[Own], wanted: &str, name: &str) -> Option<usize> {
    let blanks = name.bytes().filter(|byte| *byte == b' ').count();
    if own.len() != blanks + 1 {
        fn letters(text: &str) -> impl Iterator<Item = char> {
            text.chars().filter(|sign| *sign != ' ')
        }
        return letters(wanted).eq(letters(name)).then_some(1);
    }
    let mut sum = 0;
    for (own, other) in own.iter().zip(name.split(' ')).filter(|(own, other)| own.word != *other) {
        let slips = slips_of_a_word(own, other)?;
        if *own.means_something {
            return None;
        }
        sum += slips;
    }
    (sum > 0).then_some(sum)
}

fn slips_of_a_word(own: &Own, other: &str) -> Option<usize> {
    let letters = other.chars().count();
    let length = own.letters.min(letters);
    let most = match length {
        0..=2 => return None,
        3..=7 => 1,
        8..=11 => 2,
        _ => 3,
    };
    if own.letters.abs_diff(letters) > most {
        return None;
    }
    let (mut one, mut two) = (own.word.chars(), other.chars());
    let (first, second) = ((one.next(), one.next()), (two.next(), two.next()));
    let begins_alike = first.0 == second.0 || (first.0 == second.1 && first.1 == second.0);
    (length > 4 || begins_alike).then(|| slips_up_to(own.word, other, most))?
}

#[cfg(test)]
mod tests {
    use super::{nearest, nearest_names, slips_between, slips_up_to};

    #[test]
    fn what_is_told_from_the_letters_alone_is_what_counting_tells() {
        let words = [
            "rye",
            "yer",
            "lye",
            "roggen",
            "bread flour",
            "bred fluor",
            "café",
            "cafe",
            "weißmehl",
            "weissmehl",
            "levain",
            "levian",
            "ĀāA",
            "aaa",
            "",
            "a",
        ];
        for (one, two) in words.iter().flat_map(|one| words.iter().map(move |two| (one, two))) {
            for most in 0..5 {
                let counted = Some(slips_between(one, two)).filter(|slips| *slips <= most);
                assert_eq!(slips_up_to(one, two, most), counted, "{one} {two} {most}");
            }
        }
    }

    #[test]
    fn a_name_is_never_turned_into_another_thing() {
        let known = [
            "lye",
            "dark rye flour",
            "wet yeast",
            "fresh yeast",
            "whole egg",
            "dried figs",
            "salted butter",
            "oat milk",
            "whole milk",
            "hazelnuts",
            "bread flour",
            "salt",
        ];
        for (wanted, meant) in [
            ("rye", None),
            ("dry yeast", None),
            ("wholemeal", None),
            ("dried milk", None),
            ("melted butter", None),
            ("goat milk", None),
            ("salt milk", None),
            ("hazlenuts", Some("hazelnuts")),
            ("breadflour", Some("bread flour")),
            ("bread fluor", Some("bread flour")),
            ("fresch yeast", Some("fresh yeast")),
            ("slat", Some("salt")),
            ("whloe egg", Some("whole egg")),
        ] {
            let words: Vec<&str> = known.iter().flat_map(|name| name.split(' ')).collect();
            let near = nearest_names(wanted, known, |word| words.contains(&word));
            assert_eq!(near, Vec::from_iter(meant), "{wanted}");
        }
    }

    #[test]
    fn a_slip_of_the_finger_is_recognised() {
        let known = ["bread flour", "dark rye flour", "salt"];
        assert_eq!(nearest("bred flour", known), Some("bread flour"));
        assert_eq!(nearest("slat", known), Some("salt"));
        assert_eq!(nearest("oz", ["o", "ozz"]), None);
        assert_eq!(nearest("cinnamon", known), None);
    }
}
