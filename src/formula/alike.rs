//! Words that look like others: letters of other alphabets, digits for letters, accents
//! left out, one letter wrong.

use crate::source::unaccented;
use ecow::EcoString;
use unicode_normalization::UnicodeNormalization;

/// How a word may be read by somebody who only looks at it, in plain Latin letters, its
/// digits as letters or, in a number, as digits; empty where it has no other letters anyway.
pub fn readings(word: &str) -> Vec<EcoString> {
    // The longest words for foods have half as many letters.
    const MAX_BYTES: usize = 120;
    let is_plain = word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b' ');
    if is_plain || word.len() > MAX_BYTES {
        return Vec::new();
    }
    let no_digits = |letter: char| match letter.is_ascii_digit() {
        true => &[],
        false => looks_like(letter),
    };
    let mut all = letters_looked_at(word, looks_like);
    if word.nfkd().any(|letter| letter.is_ascii_digit()) {
        all.extend(letters_looked_at(word, no_digits));
    }
    all
}

/// Whether a word is the number of a shelf, a tin or a paper: `a66`, `t415`, `412b`. Its digits
/// stand together at one end, and there is one letter.
pub fn is_code(word: &str) -> bool {
    let digits = word.bytes().filter(u8::is_ascii_digit).count();
    let rest = word.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let rest = rest.trim_end_matches(|letter: char| letter.is_ascii_digit());
    let letters = rest.chars().count();
    digits >= 2
        && letters == 1
        && rest.chars().all(char::is_alphabetic)
        && (word.starts_with(rest) || word.ends_with(rest))
}

/// Every way to read a word whose letters look like others, up to a bound.
fn letters_looked_at(
    word: &str,
    looks: impl Fn(char) -> &'static [&'static str],
) -> Vec<EcoString> {
    const MAX: usize = 64;
    let letters = word.nfkd().filter(|letter| !is_accent(*letter));
    letters.fold(vec![EcoString::new()], |read, letter| {
        let looks = looks(letter);
        let own = letter.to_lowercase().collect::<EcoString>();
        let next: Vec<EcoString> = match looks {
            [] => read.iter().map(|begun| begun.clone() + own.as_str()).collect(),
            _ => read
                .iter()
                .flat_map(|begun| looks.iter().map(|look| begun.clone() + *look))
                .collect(),
        };
        next.into_iter().take(MAX).collect()
    })
}

fn is_accent(letter: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&letter)
}

/// The Latin letters that a letter or digit is mistaken for, of those in Unicode's table of
/// confusables that keyboards have (UTS 39, from memory), and what stands for a letter of
/// another language (`ss`, `oe`).
fn looks_like(letter: char) -> &'static [&'static str] {
    match letter {
        '0' | 'ο' | 'о' | 'ø' | 'σ' => &["o"],
        '1' | 'ӏ' | '|' => &["l", "i"],
        '3' | 'е' | 'ε' | 'є' => &["e"],
        '4' | '@' | 'а' | 'α' | 'ɑ' => &["a"],
        '5' | '$' | 'ѕ' => &["s"],
        '6' => &["b", "g"],
        '7' | 'т' | 'τ' => &["t"],
        '8' | 'ь' | 'β' | 'в' => &["b"],
        '9' | 'ɡ' => &["g"],
        '!' | 'і' | 'ι' | 'ı' => &["i"],
        'ł' => &["l"],
        'р' | 'ρ' => &["p"],
        'с' | 'ϲ' => &["c"],
        'х' | 'χ' => &["x"],
        'у' | 'γ' => &["y"],
        'ј' => &["j"],
        'к' | 'κ' => &["k"],
        'м' | 'μ' => &["m"],
        'н' => &["h"],
        'η' => &["n", "h"],
        'ν' => &["v", "n"],
        'п' => &["n"],
        'һ' => &["h"],
        'ԁ' => &["d"],
        'ԛ' => &["q"],
        'ѡ' | 'ω' | 'ԝ' => &["w"],
        'υ' => &["u", "y"],
        'ζ' => &["z"],
        'ß' => &["ss"],
        'æ' => &["ae"],
        'œ' => &["oe"],
        _ => &[],
    }
}

/// How a name may be written on a keyboard that lacks its letters: `haselnusse`,
/// `haselnuesse`.
pub fn without_accents(name: &str) -> [EcoString; 2] {
    let plain = |name: &str| -> EcoString {
        let bare = || name.nfd().filter(|letter| !is_accent(*letter)).collect();
        let bare: String = unaccented(name).unwrap_or_else(bare);
        match bare.contains(['œ', 'ß']) {
            true => bare.replace('œ', "oe").replace('ß', "ss").into(),
            false => bare.into(),
        }
    };
    let spelt = name.replace('ä', "ae").replace('ö', "oe").replace('ü', "ue");
    [plain(name), plain(&spelt)]
}

/// Signs within a word that stand for letters of it, as those: `m!lk`. No byte is added.
pub fn signs_as_letters(name: &str) -> String {
    let letters: Vec<char> = name.chars().collect();
    let is_letter = |at: Option<usize>| {
        at.and_then(|at| letters.get(at)).is_some_and(|letter| letter.is_alphabetic())
    };
    let read = |(at, letter): (usize, &char)| match letter {
        '!' | '|' if is_letter(Some(at + 1)) => 'i',
        '@' if is_letter(Some(at + 1)) => 'a',
        '$' if is_letter(at.checked_sub(1)) => 's',
        _ => *letter,
    };
    letters.iter().enumerate().map(read).collect()
}

/// Whether a word is another with one letter wrong, missing, too many, or two of them
/// swapped. Short words differ from too many others in their first letter.
pub fn is_slip_of(word: &str, known: &str) -> bool {
    const SHORT: usize = 5;
    let (own, other) = (word.chars().count(), known.chars().count());
    if own.abs_diff(other) > 1 || other < 4 || word == known {
        return false;
    }
    let begins_alike = || {
        let (mut one, mut two) = (word.chars(), known.chars());
        let (first, second) = ((one.next(), one.next()), (two.next(), two.next()));
        let is_swapped = first.0 == second.1 && first.1 == second.0;
        first.0 == second.0
            || is_swapped
            || own < other && first.0 == second.1
            || own > other && first.1 == second.0
    };
    (other > SHORT || begins_alike()) && strsim::osa_distance(word, known) == 1
}

/// A word that mixes the letters of two alphabets, where nobody sees that they differ.
pub fn mixed_word(name: &str) -> Option<&str> {
    let mut words = name.split(|letter: char| !letter.is_alphanumeric() && !is_accent(letter));
    words.find(|word| {
        let latin = word.chars().any(|letter| alphabet(letter) == Some(Alphabet::Latin));
        let other = word
            .chars()
            .any(|letter| matches!(alphabet(letter), Some(Alphabet::Greek | Alphabet::Cyrillic)));
        latin && other
    })
}

/// Those letters of a word that are Greek or Cyrillic.
pub fn mixed_letters(word: &str) -> Vec<char> {
    let is_other =
        |letter: &char| matches!(alphabet(*letter), Some(Alphabet::Greek | Alphabet::Cyrillic));
    let mut letters: Vec<char> = word.chars().filter(is_other).collect();
    letters.dedup();
    letters
}

#[derive(PartialEq, Eq)]
enum Alphabet {
    Latin,
    Greek,
    Cyrillic,
}

fn alphabet(letter: char) -> Option<Alphabet> {
    match letter {
        'a'..='z' | 'A'..='Z' | '\u{c0}'..='\u{24f}' | '\u{1e00}'..='\u{1eff}' => {
            Some(Alphabet::Latin)
        }
        '\u{370}'..='\u{3ff}' | '\u{1f00}'..='\u{1fff}' => Some(Alphabet::Greek),
        '\u{400}'..='\u{52f}' => Some(Alphabet::Cyrillic),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn look_alikes_are_read_as_what_they_look_like() {
        for (written, read) in [
            ("m1lk", "milk"),
            ("m\u{456}lk", "milk"),
            ("w\u{430}lnuts", "walnuts"),
            ("3ggs", "eggs"),
            ("８utter", "butter"),
            ("ｗｈｅａｔ", "wheat"),
            ("𝐦𝐢𝐥𝐤", "milk"),
            ("bütter", "butter"),
            ("weiße", "weisse"),
        ] {
            assert!(readings(written).iter().any(|one| one == read), "{written}");
        }
        assert!(readings("milk").is_empty());
        assert_eq!(signs_as_letters("m!lk and @lmonds, egg$!"), "milk and almonds, eggs!");
    }

    #[test]
    fn letters_lose_their_accents_as_unicode_says() {
        let mut known = 0;
        for letter in '\0'..='\u{24f}' {
            if let Some(plain) = unaccented(&letter.to_string()) {
                let letters = [letter].into_iter().nfd().filter(|letter| !is_accent(*letter));
                assert_eq!(plain, letters.collect::<String>(), "{letter:?}");
                known += 1;
            }
        }
        assert_eq!(known, 128 + 31);
        assert_eq!(without_accents("Brühwürfel"), ["Bruhwurfel", "Bruehwuerfel"]);
        assert_eq!(without_accents("œufs mollets à la šunka")[0], "oeufs mollets a la sunka");
    }

    #[test]
    fn a_slip_is_one_letter() {
        for (written, known) in [
            ("wallnuts", "walnuts"),
            ("hazlenut", "hazelnut"),
            ("mlik", "milk"),
            ("mlk", "milk"),
            ("ilk", "milk"),
            ("azelnuts", "hazelnuts"),
            ("qalnuts", "walnuts"),
        ] {
            assert!(is_slip_of(written, known), "{written}");
        }
        for (written, known) in
            [("salt", "malt"), ("silk", "milk"), ("milk", "milk"), ("rye", "lye")]
        {
            assert!(!is_slip_of(written, known), "{written}");
        }
    }

    #[test]
    fn mixed_alphabets_are_seen() {
        assert_eq!(mixed_word("raw m\u{456}lk"), Some("m\u{456}lk"));
        for name in ["молоко", "γάλα", "crème", "T65 flour", "β-carotene", "naïve Ærø"]
        {
            assert_eq!(mixed_word(name), None, "{name}");
        }
    }
}
