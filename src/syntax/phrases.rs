//! Tables of words and phrases, with a quick way to tell that none of them begins with a
//! word: nearly none does, and a step is held against a hundred tables.

/// The first two letters of a word, whatever their case, as a number below 1,024. Letters
/// that are not ASCII count by their first byte, which both cases of western ones share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Start(u16);

impl Start {
    /// Of what is no word; no phrase begins so.
    pub const NONE: Self = Self(0x3FF);

    /// As a number below 1,024.
    pub fn number(self) -> u32 {
        u32::from(self.0)
    }

    /// Of a word or of a phrase that begins with it.
    #[inline]
    pub const fn of(word: &[u8]) -> Self {
        let (first, second) = match word {
            [] => return Self::NONE,
            [first, ..] if *first >= 0x80 => (*first, 0),
            [first] => (*first, 0),
            // A typographic apostrophe counts as the plain one.
            [first, 0xE2, ..] => (*first, b'\''),
            [first, second, ..] => (*first, *second),
        };
        Self((first & 31) as u16 | ((second & 31) as u16) << 5)
    }
}

/// The start of a phrase as it is typed without its accents: `étirer`, `pétrir`, `überkreuz`.
const fn plain_start(phrase: &[u8]) -> Start {
    let (first, rest) = plain_letter(phrase);
    let second = match phrase {
        // A vowel with two dots is written as two letters.
        [0xC3, 0x84 | 0xA4 | 0x96 | 0xB6 | 0x9C | 0xBC, ..] => b'e',
        _ => plain_letter(rest).0,
    };
    Start((first & 31) as u16 | ((second & 31) as u16) << 5)
}

/// The first letter without its accent, and what follows it.
const fn plain_letter(text: &[u8]) -> (u8, &[u8]) {
    match text {
        [] => (0, text),
        [0xC3, second, rest @ ..] => {
            let plain = match *second | 0x20 {
                0xA0..=0xA6 => b'a',
                0xA7 => b'c',
                0xA8..=0xAB => b'e',
                0xAC..=0xAF => b'i',
                0xB1 => b'n',
                0xB2..=0xB6 | 0xB8 => b'o',
                0xB9..=0xBC => b'u',
                other => other,
            };
            (plain, rest)
        }
        [first, rest @ ..] => (*first, rest),
    }
}

/// The starts of all phrases of a table.
pub struct Starts([u64; 16]);

impl Starts {
    /// Of words or phrases.
    pub const fn of(all: &[&str]) -> Self {
        let mut starts = Self([0; 16]);
        let mut at = 0;
        while at < all.len() {
            starts = starts.with(all[at]);
            at += 1;
        }
        starts
    }

    /// Of words or phrases that mean something each.
    pub const fn of_pairs<T>(all: &[(&str, T)]) -> Self {
        let mut starts = Self([0; 16]);
        let mut at = 0;
        while at < all.len() {
            starts = starts.with(all[at].0);
            at += 1;
        }
        starts
    }

    /// Of several that mean the same.
    pub const fn of_groups<T>(all: &[(T, &[&str])]) -> Self {
        let mut starts = Self([0; 16]);
        let mut at = 0;
        while at < all.len() {
            let group = all[at].1;
            let mut of_group = 0;
            while of_group < group.len() {
                starts = starts.with(group[of_group]);
                of_group += 1;
            }
            at += 1;
        }
        starts
    }

    const fn with(mut self, phrase: &str) -> Self {
        let Start(number) = Start::of(phrase.as_bytes());
        assert!(number != Start::NONE.0, "no phrase begins as what is no word does");
        self.0[number as usize / 64] |= 1 << (number % 64);
        let Start(plain) = plain_start(phrase.as_bytes());
        self.0[plain as usize / 64] |= 1 << (plain % 64);
        self
    }

    /// Whether a phrase may begin with a word of this start.
    #[inline]
    pub const fn may_begin(&self, Start(number): Start) -> bool {
        self.0[(number / 64) as usize % 16] >> (number % 64) & 1 == 1
    }
}

/// A table of words or phrases.
pub struct Phrases {
    /// As they are written, in lower case.
    pub all: &'static [&'static str],
    starts: Starts,
}

impl Phrases {
    /// Of the rows of a table.
    pub const fn of(all: &'static [&'static str]) -> Self {
        Self { all, starts: Starts::of(all) }
    }

    /// Whether one of them may begin with a word of this start.
    #[inline]
    pub const fn may_begin(&self, start: Start) -> bool {
        self.starts.may_begin(start)
    }
}

/// A table that is made while compiling.
macro_rules! phrases {
    ($all:expr) => {{
        const ALL: &$crate::syntax::phrases::Phrases = &$crate::syntax::phrases::Phrases::of(&$all);
        ALL
    }};
}
pub(super) use phrases;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_cases_of_a_word_begin_alike() {
        let words = ["a", "I", "über", "Über", "œuf", "Œuf", "d'abord", "d’abord", "été", "wÄ"];
        for word in words {
            let other = [word.to_lowercase(), word.to_uppercase(), word.replace('’', "'")];
            for other in other {
                assert_eq!(Start::of(word.as_bytes()), Start::of(other.as_bytes()), "{word}");
            }
            let phrase = format!("{word} and more");
            assert_eq!(Start::of(word.as_bytes()), Start::of(phrase.as_bytes()), "{word}");
        }
    }

    #[test]
    fn a_table_is_passed_over_where_no_phrase_begins() {
        let table = phrases!(["the lid", "with", "àu"]);
        let may_begin = |word: &str| table.may_begin(Start::of(word.as_bytes()));
        assert!(["The", "WITH", "wi", "through", "à"].into_iter().all(may_begin));
        assert!(!["lid", "a", "t", "w", ""].into_iter().any(may_begin));
        assert!(!table.may_begin(Start::NONE));
    }
}
