//! Texts read word by word: what sentences that authors write speak of.
//!
//! There is no grammar here. A sentence is a run of words between full stops; tables of a
//! language (`*.words`) say what single words and short phrases are (a number, a unit, a
//! verb of the trade, a way to compare), and rules ask which of them stand near each
//! other. Each word is looked up a few times, so reading takes as long as the text is.
//!
//! A line of a table is `kind word: phrase, phrase`. Kinds: `n` a number, `minutes` a
//! span of time in words, `grams` a weight in words, `unit` a unit of measure, `verb` a step of the method, `thing`
//! what a temperature is of, `figure` what a percentage is of, `word` all else, by what
//! rules do with it, `ending` what words with such an end are. A phrase stands for all that
//! its longest entry says.

mod amounts;
mod cardinals;
mod foods;
mod named;
mod numerals;
mod phrases;
#[cfg(test)]
mod written;

pub use amounts::{Amount, Measure, Reading, amounts, has_amount, part_of};
pub use cardinals::{Spelled, spelled};
pub use foods::{Food, MAX_WORDS, What, food_at, foods, foods_told, spoken_at};
pub use named::{read_named, spoken};
#[cfg(test)]
pub use written::written;

/// What texts deny by, a row for each kind of word in all five languages.
const DENIALS: &str = include_str!("denials.words");

use crate::formula::key;
use crate::source::is_unseen;
use phrases::{Phrases, Tags, hash_of};
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::sync::LazyLock;

/// The languages whose words are known, English first.
pub const LANGUAGES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// The first words of all phrases by which some rows of denials begin, each told by its
/// hash, and in which of the [`LANGUAGES`], a bit for each.
pub fn first_words(rows: &[&str]) -> FxHashMap<u32, u8> {
    let mut all: FxHashMap<u32, u8> = FxHashMap::default();
    for (_, columns) in DENIAL_ROWS.iter().filter(|(head, _)| rows.contains(head)) {
        for (index, column) in columns.iter().enumerate() {
            for first in phrases_in(column).filter_map(first_word) {
                *all.entry(first).or_default() |= 1 << index;
            }
        }
    }
    all
}

/// All phrases of a row of denials, in any language.
pub fn phrases_of(row: &str) -> FxHashSet<String> {
    let rows = DENIAL_ROWS.iter().filter(|(head, _)| *head == row);
    let phrases = rows.flat_map(|(_, columns)| columns).flat_map(|column| phrases_in(column));
    phrases.map(|phrase| joined(&tokens(phrase))).collect()
}

fn first_word(phrase: &str) -> Option<u32> {
    let first = phrase.split(' ').next().unwrap_or_default();
    match first.bytes().all(|byte| byte.is_ascii_lowercase()) {
        true => Some(hash_of(first)),
        false => Some(tokens(phrase).first()?.hash),
    }
}

/// The rows of denials: what each is for, and its phrases in each language.
static DENIAL_ROWS: LazyLock<Vec<(&str, [&str; 5])>> = LazyLock::new(|| {
    let lines = DENIALS.lines().filter(|line| !line.starts_with('#'));
    let rows = lines.filter_map(|line| {
        let mut columns = line.split('|').map(str::trim);
        let head = columns.next().filter(|head| !head.is_empty())?;
        Some((head, std::array::from_fn(|_| columns.next().unwrap_or_default())))
    });
    rows.collect()
});

fn phrases_in(column: &str) -> impl Iterator<Item = &str> {
    column.split(',').map(str::trim).filter(|phrase| !phrase.is_empty())
}

/// Signs that cross something out, all read as the first.
const CROSSES: [char; 8] = ['✗', '✘', '❌', '❎', '🚫', '⛔', '✖', '✕'];
const CROSS: &str = "✗";

/// Stands for a live figure, which is a word that says nothing.
pub const GAP: &str = "\u{fffc}";

const TABLES: [&str; 5] = [
    include_str!("en.words"),
    include_str!("fr.words"),
    include_str!("de.words"),
    include_str!("es.words"),
    include_str!("it.words"),
];

/// What an entry of a table says of a phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tag {
    /// `n`, `unit`, `verb`, … of a table, or `food`.
    pub kind: &'static str,
    /// What follows the kind in the table.
    pub word: &'static str,
}

/// The tables of a language, or of all of them.
#[derive(Default)]
pub struct Language {
    /// Its code; empty for all together.
    pub code: &'static str,
    phrases: Phrases,
    /// What the end of a word says: `serait` is no fact.
    endings: Vec<(String, Tag)>,
    /// How foods are named.
    named: Phrases,
    named_endings: Vec<(String, Tag)>,
}

/// Each is read when a house first needs it.
static EACH: [LazyLock<Language>; 5] = [
    LazyLock::new(|| Language::read(0)),
    LazyLock::new(|| Language::read(1)),
    LazyLock::new(|| Language::read(2)),
    LazyLock::new(|| Language::read(3)),
    LazyLock::new(|| Language::read(4)),
];

static ALL: LazyLock<Language> = LazyLock::new(|| {
    let mut all = Language::default();
    for (index, table) in TABLES.iter().enumerate() {
        all.learn(table);
        all.learn_foods(index);
        all.learn_named(index);
    }
    all
});

/// The words of denial of each, which are apart so that a phrase of one hides no word of the
/// other.
static DENYING: [LazyLock<Language>; 5] = [
    LazyLock::new(|| Language::denying(0)),
    LazyLock::new(|| Language::denying(1)),
    LazyLock::new(|| Language::denying(2)),
    LazyLock::new(|| Language::denying(3)),
    LazyLock::new(|| Language::denying(4)),
];

impl Language {
    /// The languages that a house's texts are read in: its own, where we know it, and
    /// English.
    pub fn of_house(tag: Option<&str>) -> impl Iterator<Item = &'static Self> {
        let own = tag.and_then(|tag| tag.split(['-', '_']).next()).unwrap_or("en").to_lowercase();
        let wanted = move |code: &&str| *code == "en" || **code == own;
        let known = LANGUAGES.iter().zip(&EACH).filter(move |(code, _)| wanted(code));
        known.map(|(_, language)| &**language)
    }

    /// All languages at once, for what matters in whichever it is said.
    pub fn all() -> &'static Self {
        &ALL
    }

    fn denying(index: usize) -> Self {
        let mut language = Self { code: LANGUAGES[index], ..Self::default() };
        language.learn_denials(index);
        language
    }

    /// Learns the words of denial of the language of a number.
    fn learn_denials(&mut self, index: usize) {
        // What is compared whole hides no shorter phrase.
        for (head, columns) in DENIAL_ROWS.iter().filter(|(head, _)| *head != "reply") {
            let (kind, word) = head.split_once(' ').unwrap_or(("word", head));
            let phrases = columns.get(index).into_iter().flat_map(|column| phrases_in(column));
            phrases.for_each(|phrase| self.phrases.learn(phrase, Tag { kind, word }));
        }
    }

    fn read(index: usize) -> Self {
        let mut language = Self { code: LANGUAGES[index], ..Self::default() };
        language.phrases.reserve(TABLES[index]);
        language.learn(TABLES[index]);
        language.learn_foods(index);
        language.learn_named(index);
        language
    }

    fn learn(&mut self, table: &'static str) {
        for line in table.lines().filter(|line| !line.starts_with('#')) {
            let Some((head, phrases)) = line.split_once(':') else { continue };
            let (kind, word) = head.split_once(' ').unwrap_or((head, ""));
            for phrase in phrases.split(',') {
                match kind {
                    "ending" => {
                        let ending = key(phrase.trim()).to_string();
                        self.endings.push((ending, Tag { kind: "word", word }));
                    }
                    _ => self.phrases.learn(phrase, Tag { kind, word }),
                }
            }
        }
    }

    /// What a word says by its end, or that is a verb with pronouns behind it: `píntalos`,
    /// `spennellali`.
    fn by_ending(&self, word: &str) -> Option<Tags<'_>> {
        const PRONOUNS: [&str; 12] =
            ["los", "las", "les", "lo", "la", "le", "li", "gli", "ne", "melo", "selo", "telo"];
        if word.len() < 6 || word.chars().count() < 6 {
            return None;
        }
        let ending = self.endings.iter().find(|(ending, _)| word.ends_with(ending.as_str()));
        if let Some((_, tag)) = ending {
            return Some(Tags::one(*tag));
        }
        if !matches!(self.code, "es" | "it") {
            return None;
        }
        PRONOUNS.iter().find_map(|pronoun| {
            let stem = word.strip_suffix(pronoun)?;
            let verb = |stem: &str| {
                let tags = self.phrases.of(stem)?;
                tags.clone().any(|tag| tag.word == "act").then_some(tags)
            };
            verb(stem).or_else(|| verb(&without_accents(stem)))
        })
    }

    fn at(&self, tokens: &[Token], from: usize) -> Option<(usize, Tags<'_>)> {
        self.phrases.at(tokens, from)
    }
}

fn without_accents(word: &str) -> String {
    let plain = |letter| match letter {
        'á' => 'a',
        'é' => 'e',
        'í' => 'i',
        'ó' => 'o',
        'ú' => 'u',
        other => other,
    };
    word.chars().map(plain).collect()
}

fn joined(tokens: &[Token]) -> String {
    let mut joined = String::with_capacity(tokens.iter().map(|token| token.key.len() + 1).sum());
    for token in tokens {
        if !joined.is_empty() {
            joined.push(' ');
        }
        joined.push_str(&token.key);
    }
    joined
}

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// Letters.
    Word,
    /// Digits with what belongs to them.
    Number,
    /// A comma.
    Comma,
    /// What ends a sentence, or parts it.
    Stop,
}

/// A word, a number or a mark of a text.
#[derive(Clone, Debug)]
pub struct Token<'t> {
    /// What it is.
    pub kind: TokenKind,
    /// In the form that names are compared in.
    pub key: Cow<'t, str>,
    /// By what its key is told from others.
    pub(super) hash: u32,
    /// Byte of its first letter.
    pub start: usize,
    /// Byte after its last letter.
    pub end: usize,
}

/// The words, numbers and marks of a text. Hyphens and apostrophes part words and leave
/// nothing behind, so that `nut-free` reads like `nut free`, and `l'eau` has two words.
pub fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut tokens: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(letter) = text.get(at..).and_then(|rest| rest.chars().next()) {
        let (kind, length) = token_at(text, at, letter, &tokens);
        let end = at + length.max(letter.len_utf8());
        if let Some(kind) = kind {
            let key = key_of(&text[at..end]);
            tokens.push(Token { kind, hash: hash_of(&key), key, start: at, end });
        }
        at = end;
    }
    tokens
}

fn key_of(written: &str) -> Cow<'_, str> {
    match written.bytes().all(|byte| byte.is_ascii_lowercase()) {
        true => Cow::Borrowed(written),
        false => Cow::Owned(match written {
            _ if looks_latin(written) => latin(written),
            "-" | "–" | "—" | ".." => "–".into(),
            _ if written.starts_with(CROSSES) => CROSS.into(),
            _ => key(written).to_string(),
        }),
    }
}

/// What begins at a place, and how many bytes it has; nothing for blanks and the like.
fn token_at(text: &str, at: usize, letter: char, before: &[Token]) -> (Option<TokenKind>, usize) {
    let rest = &text[at..];
    let length_while =
        |wanted: fn(char) -> bool| rest.find(|letter: char| !wanted(letter)).unwrap_or(rest.len());
    let after_number = before
        .last()
        .is_some_and(|last| last.kind == TokenKind::Number || text[..at].ends_with(' '));
    match letter {
        '0'..='9' | '½' | '¼' | '¾' | '⅓' | '⅔' | '⅛' => {
            (Some(TokenKind::Number), numerals::number_length(rest))
        }
        '%' => (Some(TokenKind::Word), 1),
        '°' | 'º' => {
            let unit = rest[letter.len_utf8()..].trim_start_matches([' ', '\u{a0}', '\u{202f}']);
            let blanks = rest.len() - letter.len_utf8() - unit.len();
            let ends = !unit.chars().nth(1).is_some_and(char::is_alphabetic);
            match unit.starts_with(['C', 'F', 'c', 'f']) && ends {
                true if blanks == 0 => (Some(TokenKind::Word), letter.len_utf8() + 1),
                _ => (Some(TokenKind::Word), letter.len_utf8()),
            }
        }
        _ if shortened(rest) > 0 => (Some(TokenKind::Word), shortened(rest)),
        _ if letter.is_alphabetic() => (Some(TokenKind::Word), length_while(belongs_to_word)),
        '-' | '–' | '—' => {
            let next = rest[letter.len_utf8()..].trim_start();
            let ranges = after_number
                && before.last().is_some_and(|last| ends_amount(last))
                && next.starts_with(|letter: char| letter.is_ascii_digit());
            match (ranges, letter) {
                (true, _) => (Some(TokenKind::Word), letter.len_utf8()),
                // `Salt – 25 g`
                _ if begins_with_digit(next) && before.len() < 6 && is_first_stop(before) => {
                    (None, letter.len_utf8())
                }
                (false, '-') if !text[..at].ends_with(' ') => (None, 1),
                _ => (Some(TokenKind::Stop), letter.len_utf8()),
            }
        }
        '.' if rest.starts_with("..") && !rest.starts_with("...") => (Some(TokenKind::Word), 2),
        // `Hydration: 75 %` and `water (720 g)` say what the number is of.
        ':' | '(' if begins_with_digit(rest.get(1..).unwrap_or("")) => (None, 1),
        '.' | '!' | '?' | ';' | ':' | '(' | ')' | '…' | '[' | ']' | '"' | '“' | '”' | '«' | '»'
        | '/' => (Some(TokenKind::Stop), letter.len_utf8()),
        ',' => (Some(TokenKind::Comma), 1),
        // `milk ✗`: menus cross out what is not there.
        _ if CROSSES.contains(&letter) => (Some(TokenKind::Word), letter.len_utf8()),
        _ if rest.starts_with(GAP) => (Some(TokenKind::Word), GAP.len()),
        _ => (None, letter.len_utf8()),
    }
}

/// How long a word is that is written short with a stroke: `w/o`, Spanish `s/ leche`.
fn shortened(rest: &str) -> usize {
    let is_end = |at: usize| !rest[at..].starts_with(char::is_alphabetic);
    let is_before_word = |at: usize| {
        let next = rest[at..].trim_start();
        next.is_empty() || next.starts_with(char::is_alphabetic)
    };
    let begins =
        |short: &str| rest.get(..short.len()).is_some_and(|head| head.eq_ignore_ascii_case(short));
    let whole =
        ["w/out", "w/o", "n/a"].into_iter().find(|short| begins(short) && is_end(short.len()));
    let open =
        || ["s/", "o/"].into_iter().find(|short| begins(short) && is_before_word(short.len()));
    whole.or_else(open).map_or(0, str::len)
}

/// Whether no sentence was ended yet, as in a line of a list.
fn is_first_stop(before: &[Token]) -> bool {
    !before.is_empty() && before.iter().all(|token| token.kind == TokenKind::Word)
}

fn begins_with_digit(text: &str) -> bool {
    text.trim_start().starts_with(|letter: char| letter.is_ascii_digit())
}

/// Whether a range may go on behind this: `3–4 h`, `3 h – 4 h`.
fn ends_amount(token: &Token) -> bool {
    token.kind == TokenKind::Number || matches!(token.key.as_ref(), "%" | "g" | "kg" | "h" | "°c")
}

/// What nobody sees between letters parts no word: `ve\u{ad}gan`.
fn belongs_to_word(letter: char) -> bool {
    letter.is_alphabetic() || is_mark_above(letter) || is_unseen_inside(letter)
}

fn is_unseen_inside(letter: char) -> bool {
    is_unseen(letter) && !letter.is_control() && !matches!(letter, '\u{2028}' | '\u{2029}')
}

/// Whether a word has letters that are not Latin and may look so, or that nobody sees.
fn looks_latin(word: &str) -> bool {
    word.chars().any(|letter| match letter {
        '\u{370}'..='\u{52f}' | '\u{ff21}'..='\u{ff5a}' | '\u{1d400}'..='\u{1d6a3}' => true,
        _ => is_unseen_inside(letter),
    })
}

/// A word as it looks in Latin letters; as it is where it does not.
fn latin(word: &str) -> String {
    let seen: String = word.chars().filter(|letter| !is_unseen_inside(*letter)).collect();
    let key = key(&seen);
    let mut looks = crate::formula::readings(&key).into_iter();
    looks.find(|look| look.is_ascii()).map_or_else(|| key.to_string(), |look| look.to_string())
}

/// Marks that Unicode keeps apart from their letter.
fn is_mark_above(letter: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&letter)
}

/// What a phrase of a sentence is.
#[derive(Clone, Copy, Debug)]
pub struct Found {
    /// What the tables say of it.
    pub tag: Tag,
    /// The first word, and the first behind the last.
    pub from: usize,
    /// The first word after the last.
    pub to: usize,
}

/// A sentence with what is known of its words.
pub struct Sentence<'s> {
    /// The whole text.
    pub text: &'s str,
    /// The sentence's own.
    pub tokens: &'s [Token<'s>],
    /// The one that reads it.
    pub language: &'static Language,
    /// In the order of the words.
    pub found: Vec<Found>,
}

/// The sentences of a text, as a language reads them.
pub fn sentences<'s>(
    text: &'s str,
    tokens: &'s [Token<'s>],
    language: &'static Language,
) -> impl Iterator<Item = Sentence<'s>> {
    let parts = tokens.split(|token| token.kind == TokenKind::Stop);
    parts.filter(|part| !part.is_empty()).map(move |part| Sentence::read(text, part, language))
}

/// A whole text as if it were one sentence.
pub fn unparted<'s>(
    text: &'s str,
    tokens: &'s [Token<'s>],
    language: &'static Language,
) -> Sentence<'s> {
    Sentence::read(text, tokens, language)
}

/// The words between full stops: more than a sentence where colons and brackets stand
/// between, as in `milk: none` and `without (milk, eggs)`.
pub fn whole_sentences<'s>(tokens: &'s [Token<'s>]) -> impl Iterator<Item = &'s [Token<'s>]> {
    let is_end = |token: &Token| matches!(token.key.as_ref(), "." | "!" | ";" | "…");
    tokens.split(is_end).filter(|part| !part.is_empty())
}

/// The language that a text seems to be written in: the one that knows most of its words,
/// the house's own where two know as many.
pub fn language_of(tokens: &[Token], house: Option<&str>) -> &'static Language {
    let mut known = Language::of_house(house);
    if let (Some(only), None) = (known.next(), known.next()) {
        return only;
    }
    let knows = |language: &&'static Language| {
        let known = (0..tokens.len()).filter(|&from| language.at(tokens, from).is_some());
        (known.count(), language.code != "en")
    };
    Language::of_house(house).max_by_key(knows).unwrap_or(&ALL)
}

impl<'s> Sentence<'s> {
    /// Words as the language of a number reads them, in which something may be denied.
    pub fn denying(text: &'s str, tokens: &'s [Token<'s>], index: usize) -> Option<Self> {
        let mut sentence = Self::read(text, tokens, EACH.get(index)?);
        sentence.found.extend(Self::read(text, tokens, DENYING.get(index)?).found);
        Some(sentence)
    }

    /// What a word by itself is, where something may be denied.
    pub fn says<'w>(&self, word: &'w str) -> impl Iterator<Item = Tag> + use<'w, 's> {
        let code = self.language.code;
        let both = EACH.iter().chain(&DENYING).filter(move |language| language.code == code);
        both.filter_map(|language| language.phrases.of(word)).flatten()
    }
}

impl<'s> Sentence<'s> {
    fn read(text: &'s str, tokens: &'s [Token<'s>], language: &'static Language) -> Self {
        let mut found = Vec::new();
        let mut idle = 0;
        for from in 0..tokens.len() {
            let ending = || language.by_ending(&tokens[from].key).map(|tags| (1, tags));
            if let Some((count, tags)) = language.at(tokens, from).or_else(ending) {
                let to = from + count;
                // `now and then` is not what its words are.
                if tags.clone().any(|tag| tag.word == "idiom") {
                    idle = to;
                }
                if from >= idle {
                    found.extend(tags.map(|tag| Found { tag, from, to }));
                }
            }
        }
        Self { text, tokens, language, found }
    }

    /// The same words as another language reads them.
    pub fn read_in(&self, language: &'static Language) -> Self {
        Self::read(self.text, self.tokens, language)
    }
}

impl Sentence<'_> {
    /// All phrases that a table calls so.
    pub fn all<'a>(&'a self, kind: &'a str, word: &'a str) -> impl Iterator<Item = Found> + 'a {
        let is_it = move |found: &&Found| found.tag.kind == kind && found.tag.word == word;
        self.found.iter().filter(is_it).copied()
    }

    /// Whether it has such a phrase that lies wholly in a run of its words.
    pub fn has(&self, word: &str, within: &std::ops::Range<usize>) -> bool {
        self.all("word", word).any(|it| it.from >= within.start && it.to <= within.end)
    }

    /// Whether such a phrase begins at a word; where it ends.
    pub fn word_at(&self, word: &str, from: usize) -> Option<usize> {
        self.all("word", word).find(|it| it.from == from).map(|it| it.to)
    }

    /// Whether such a phrase ends before a word; where it begins.
    pub fn word_before(&self, word: &str, to: usize) -> Option<usize> {
        self.all("word", word).find(|it| it.to == to).map(|it| it.from)
    }

    /// All its words.
    pub fn whole(&self) -> std::ops::Range<usize> {
        0..self.tokens.len()
    }

    /// The words around one, up to the next commas.
    pub fn part(&self, at: usize) -> std::ops::Range<usize> {
        let is_comma = |token: &Token| token.kind == TokenKind::Comma;
        let start = self.tokens[..at].iter().rposition(is_comma).map_or(0, |comma| comma + 1);
        let end = self.tokens[at..].iter().position(is_comma);
        start..end.map_or(self.tokens.len(), |comma| at + comma)
    }

    /// As it is written.
    pub fn written(&self, from: usize, to: usize) -> &str {
        let words = self.tokens.get(from..to.min(self.tokens.len())).unwrap_or_default();
        match (words.first(), words.last()) {
            (Some(first), Some(last)) => self.text.get(first.start..last.end).unwrap_or_default(),
            _ => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(text: &str) -> Vec<String> {
        tokens(text).iter().map(|token| token.key.to_string()).collect()
    }

    #[test]
    fn words_numbers_and_marks_are_told_apart() {
        assert_eq!(
            keys("Nut-free, l’eau: à 25 °C"),
            ["nut", "free", ",", "l", "eau", ":", "à", "25", "°c"]
        );
        assert_eq!(keys("3–4 h, 1 250,5 g"), ["3", "–", "4", "h", ",", "1 250,5", "g"]);
        assert_eq!(keys("Crème BRÛLÉE – ¼"), ["crème", "brûlée", "–", "¼"]);
    }

    /// Every table is read to its end, and no phrase is too long to be found.
    #[test]
    fn every_line_of_a_table_says_something() {
        let kinds = ["n", "minutes", "grams", "unit", "verb", "thing", "figure", "word", "ending"];
        for table in TABLES {
            for line in table.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
                let (head, phrases) = line.split_once(": ").expect(line);
                let (kind, _) = head.split_once(' ').expect(line);
                assert!(kinds.contains(&kind), "{line}");
                assert!(phrases.split(',').all(|phrase| !tokens(phrase).is_empty()), "{line}");
            }
        }
    }

    /// Each language has each kind of word that the English table has.
    #[test]
    fn all_tables_have_the_same_words() {
        let heads = |table: &'static str| {
            // Some languages need no word of their own for these.
            let some = |line: &&str| line.contains(" free:") || line.contains(" fold-times:");
            let lines = table.lines().filter(|line| line.starts_with("word ") && !some(line));
            let mut heads: Vec<&str> = lines.filter_map(|line| line.split(':').next()).collect();
            heads.sort_unstable();
            heads
        };
        for table in &TABLES[1..] {
            assert_eq!(heads(TABLES[0]), heads(table));
        }
    }
}
