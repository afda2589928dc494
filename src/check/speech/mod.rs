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
mod spotter;
mod tokens;
#[cfg(test)]
mod written;

pub use amounts::{Amount, AmountReading, Measure, amounts, fraction_at, has_amount, part_of};
pub use cardinals::{Spelled, spelled};
pub use foods::{Food, FoodMention, MAX_WORDS, food_at, foods, foods_told, spoken_at};
pub use named::{read_named, spoken};
pub use phrases::Tag;
pub use spotter::{Groups, Spotted, Spotter};
pub use tokens::{GAP, Token, TokenKind, tokens};
#[cfg(test)]
pub use written::written;

/// What texts deny by, a row for each kind of word in all five languages.
const DENIALS: &str = include_str!("denials.words");

/// How foods are called, and how sentences name them.
const FOODS: &str = include_str!("foods.words");
const NAMED: &str = include_str!("named.words");

use crate::formula::key;
use crate::source::{Packer, Unpacker, cells, is_fresh, stamp_of};
use phrases::{Phrases, Tags, is_plain, pack_tags, unpack_tags};
use rustc_hash::FxHashSet;
use std::sync::LazyLock;
use tokens::joined;

/// The languages whose words are known, English first.
pub const LANGUAGES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// All phrases of a row of denials, in any language.
pub fn phrases_of(row: &str) -> FxHashSet<String> {
    let rows = DENIAL_ROWS.iter().filter(|(head, _)| *head == row);
    let phrases = rows.flat_map(|(_, columns)| columns).flat_map(|column| phrases_in(column));
    phrases.map(|phrase| joined(&tokens(phrase))).collect()
}

/// The rows of denials: what each is for, and its phrases in each language.
static DENIAL_ROWS: LazyLock<Vec<(&str, [&str; 5])>> = LazyLock::new(|| {
    let lines = DENIALS.lines().filter(|line| !line.starts_with('#'));
    let rows = lines.filter_map(|line| {
        let mut columns = cells(line, b'|');
        let head = columns.next().filter(|head| !head.is_empty())?;
        Some((head, std::array::from_fn(|_| columns.next().unwrap_or_default())))
    });
    rows.collect()
});

fn phrases_in(column: &str) -> impl Iterator<Item = &str> {
    cells(column, b',').filter(|phrase| !phrase.is_empty())
}

/// What the last word of a phrase becomes together with the article after it, in each of the
/// [`LANGUAGES`]: `da paso al aceite`, `lascia il posto all'olio`.
const CONTRACTED: [&[(&str, &[&str])]; 5] = [
    &[],
    &[("à", &["au", "aux"]), ("de", &["d", "du", "des"])],
    &[("von", &["vom"]), ("zu", &["zum", "zur"]), ("in", &["im", "ins"]), ("an", &["am", "ans"])],
    &[("a", &["al"]), ("de", &["del"])],
    &[
        ("a", &["al", "allo", "all", "alla", "ai", "agli", "alle"]),
        ("di", &["d", "del", "dello", "dell", "della", "dei", "degli", "delle"]),
        ("da", &["dal", "dallo", "dall", "dalla", "dai", "dagli", "dalle"]),
        ("con", &["col", "coi"]),
        ("in", &["nel", "nello", "nell", "nella", "nei", "negli", "nelle"]),
    ],
];

/// The words of a phrase before its last one, with each form that one has before an article.
fn contractions(phrase: &str, index: usize) -> impl Iterator<Item = (&str, &'static str)> {
    let parted = phrase.rsplit_once(' ').filter(|_| index > 0);
    let forms = CONTRACTED.get(index).into_iter().flat_map(|forms| forms.iter());
    let parted = parted.into_iter().flat_map(move |(head, last)| {
        let forms = forms.clone().filter(move |(word, _)| last == *word);
        forms.map(move |(_, forms)| (head, forms))
    });
    parted.flat_map(|(head, forms)| forms.iter().map(move |form| (head, *form)))
}

/// A phrase of several words with its last one as it is before an article.
fn contracted(phrase: &str, index: usize) -> impl Iterator<Item = String> {
    contractions(phrase, index).map(|(head, form)| {
        let phrase = format!("{head} {form}");
        if is_plain(&phrase) { phrase } else { joined(&tokens(&phrase)) }
    })
}

/// A phrase as it is typed where a keyboard lacks its letters, in each way to do that; none
/// for words so short that they become others.
fn unaccented(phrase: &str) -> Vec<String> {
    const LEAST: usize = 6;
    if phrase.is_ascii() || phrase.chars().count() < LEAST {
        return Vec::new();
    }
    let words = joined(&tokens(phrase));
    let [bare, spelt] = crate::formula::without_accents(&words).map(String::from);
    // `würden` without its dots is another word.
    let mut all = if bare == spelt { vec![bare] } else { vec![spelt] };
    all.retain(|plain| plain.is_ascii() && *plain != words);
    all
}

const TABLES: [&str; 5] = [
    include_str!("en.words"),
    include_str!("fr.words"),
    include_str!("de.words"),
    include_str!("es.words"),
    include_str!("it.words"),
];

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

/// Each is unpacked when a house first needs it.
static EACH: [LazyLock<Language>; 5] = [
    LazyLock::new(|| WordTable::Language(0).language()),
    LazyLock::new(|| WordTable::Language(1).language()),
    LazyLock::new(|| WordTable::Language(2).language()),
    LazyLock::new(|| WordTable::Language(3).language()),
    LazyLock::new(|| WordTable::Language(4).language()),
];

static ALL: LazyLock<Language> = LazyLock::new(|| WordTable::All.language());

/// The words of denial of each, which are apart so that a phrase of one hides no word of the
/// other.
static DENYING: [LazyLock<Language>; 5] = [
    LazyLock::new(|| WordTable::Denying(0).language()),
    LazyLock::new(|| WordTable::Denying(1).language()),
    LazyLock::new(|| WordTable::Denying(2).language()),
    LazyLock::new(|| WordTable::Denying(3).language()),
    LazyLock::new(|| WordTable::Denying(4).language()),
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
            for phrase in phrases {
                self.phrases.learn(phrase, Tag { kind, word });
                for plain in unaccented(phrase) {
                    self.phrases.learn_words(&plain, Tag { kind, word });
                }
                for phrase in contracted(phrase, index) {
                    self.phrases.learn_words(&phrase, Tag { kind, word });
                }
            }
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

    fn read_all() -> Self {
        let mut all = Self::default();
        for (index, table) in TABLES.iter().enumerate() {
            all.learn(table);
            all.learn_foods(index);
            all.learn_named(index);
        }
        all
    }

    fn learn(&mut self, table: &'static str) {
        for line in table.lines().filter(|line| !line.starts_with('#')) {
            let Some((head, phrases)) = line.split_once(':') else { continue };
            let (kind, word) = head.split_once(' ').unwrap_or((head, ""));
            for phrase in cells(phrases, b',') {
                match kind {
                    "ending" => {
                        let ending = key(phrase).to_string();
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

/// What a phrase of a sentence is.
#[derive(Clone, Copy, Debug)]
pub struct PhraseFound {
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
    pub found: Vec<PhraseFound>,
}

/// The sentences of a text, as a language reads them.
pub fn sentences<'s>(
    text: &'s str,
    tokens: &'s [Token<'s>],
    language: &'static Language,
) -> impl Iterator<Item = Sentence<'s>> {
    let parts = tokens.split(|token| token.kind == TokenKind::Stop).flat_map(in_reach);
    parts.map(move |part| Sentence::read(text, part, language))
}

/// So many words of a sentence are read together at most. What words say of each other is
/// told by looking at all of a sentence, so one without an end would take for ever.
pub const MAX_SENTENCE: usize = 400;

/// A sentence as it is, or in parts, the longest that end with a comma where there is one.
pub fn in_reach<'s>(words: &'s [Token<'s>]) -> impl Iterator<Item = &'s [Token<'s>]> {
    let mut rest = words;
    std::iter::from_fn(move || {
        let most = rest.get(..MAX_SENTENCE);
        let comma = |most: &[Token]| most.iter().rposition(|it| it.kind == TokenKind::Comma);
        let end = most.map_or(rest.len(), |most| comma(most).map_or(MAX_SENTENCE, |at| at + 1));
        let (part, behind) = rest.split_at_checked(end)?;
        rest = behind;
        (!part.is_empty()).then_some(part)
    })
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
    tokens.split(is_end).flat_map(in_reach)
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
                    found.extend(tags.map(|tag| PhraseFound { tag, from, to }));
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
    pub fn all<'a>(
        &'a self,
        kind: &'a str,
        word: &'a str,
    ) -> impl Iterator<Item = PhraseFound> + 'a {
        let is_it = move |found: &&PhraseFound| found.tag.kind == kind && found.tag.word == word;
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

/// The tables as they are packed (see [`Packer`]): each language, its words of denial, and all
/// languages at once.
static PACKED: &[u8] = include_bytes!("words.packed");

const STAMP: u64 =
    stamp_of(&[DENIALS, FOODS, NAMED, TABLES[0], TABLES[1], TABLES[2], TABLES[3], TABLES[4]]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// A table of words in the packed file.
#[derive(Clone, Copy)]
enum WordTable {
    /// Of the language of a number.
    Language(usize),
    /// Of the words of denial of the language of a number.
    Denying(usize),
    /// Of all languages at once.
    All,
}

/// Every table, in the order of the file.
fn tables() -> impl Iterator<Item = WordTable> {
    let languages = (0..LANGUAGES.len()).map(WordTable::Language);
    languages.chain((0..LANGUAGES.len()).map(WordTable::Denying)).chain([WordTable::All])
}

impl WordTable {
    /// What it holds.
    fn language(self) -> Language {
        match IS_FRESH {
            true => self.unpacked(),
            false => self.read(),
        }
    }

    /// As people's tables have it.
    fn read(self) -> Language {
        match self {
            Self::Language(index) => Language::read(index),
            Self::Denying(index) => Language::denying(index),
            Self::All => Language::read_all(),
        }
    }

    fn unpacked(self) -> Language {
        let (place, code) = match self {
            Self::Language(index) => (index, LANGUAGES[index]),
            Self::Denying(index) => (LANGUAGES.len() + index, LANGUAGES[index]),
            Self::All => (2 * LANGUAGES.len(), ""),
        };
        let mut part = Unpacker::new(PACKED).part(place);
        Language {
            code,
            phrases: Phrases::unpack(&mut part),
            endings: unpack_endings(&mut part),
            named: Phrases::unpack(&mut part),
            named_endings: unpack_endings(&mut part),
        }
    }
}

fn pack(language: &Language, packer: &mut Packer) {
    language.phrases.pack(packer);
    pack_endings(&language.endings, packer);
    language.named.pack(packer);
    pack_endings(&language.named_endings, packer);
}

fn pack_endings(endings: &[(String, Tag)], packer: &mut Packer) {
    let words: Vec<&str> = endings.iter().map(|(ending, _)| ending.as_str()).collect();
    packer.text(&words.join("\n"));
    pack_tags(endings.iter().map(|(_, tag)| tag), packer);
}

fn unpack_endings(unpacker: &mut Unpacker) -> Vec<(String, Tag)> {
    let words = unpacker.text().lines().map(str::to_owned);
    words.zip(unpack_tags(unpacker)).collect()
}

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed() -> Vec<u8> {
    packed_by(WordTable::read)
}

fn packed_by(language: impl Fn(WordTable) -> Language) -> Vec<u8> {
    let mut packer = Packer::new(STAMP);
    for table in tables() {
        packer.part(|part| pack(&language(table), part));
    }
    packer.packed()
}

#[cfg(test)]
mod tests {
    use super::tokens::hash_of;
    use super::*;

    /// Nothing of the file is lost when it is unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(packed_by(WordTable::unpacked) == PACKED, "other tables");
        assert!(IS_FRESH && packed() == PACKED, "stale; see tests/all/packed.rs");
    }

    fn keys(text: &str) -> Vec<String> {
        tokens(text).iter().map(|token| token.key.to_string()).collect()
    }

    /// Diets stand in two tables, of which only one is asked whether a text claims anything.
    #[test]
    fn whatever_a_language_calls_a_diet_is_spotted() {
        let spotter = Spotter::of(&[&["vegan", "vegetarian"], &[], &[], &[], &[], &[]]);
        let mut seen = 0;
        for (index, table) in TABLES.iter().enumerate() {
            let words = ["word vegan:", "word vegetarian:"];
            let of_line = |line| words.iter().find_map(|word| str::strip_prefix(line, word));
            for phrase in table.lines().filter_map(of_line).flat_map(|line| line.split(',')) {
                let words = tokens(phrase);
                let mut spotted = (0..words.len()).map(|at| spotter.at(&words, at)[0]);
                assert!(spotted.any(|it| it >> index & 1 == 1), "{phrase}");
                seen += 1;
            }
        }
        assert!(seen > 40, "{seen}");
    }

    /// What a sentence is read to say by a row is spotted before it is read, whatever the form.
    #[test]
    fn whatever_a_sentence_is_read_to_deny_is_spotted() {
        let mut seen = 0;
        for (head, columns) in DENIAL_ROWS.iter().filter(|(head, _)| *head != "reply") {
            let spotter = Spotter::of(&[&[head], &[], &[], &[], &[], &[]]);
            for (index, column) in columns.iter().enumerate() {
                let own = phrases_in(column).map(str::to_owned);
                for phrase in own.chain(phrases_in(column).flat_map(|it| contracted(it, index))) {
                    let text = format!("x {phrase}");
                    let words = tokens(&text);
                    let read = Sentence::denying(&text, &words, index).expect("a language");
                    let word = head.split_once(' ').map_or(*head, |(_, word)| word);
                    let whole = |it: &&PhraseFound| it.from == 1 && it.to == words.len();
                    for found in read.found.iter().filter(|it| it.tag.word == word).filter(whole) {
                        let spotted = spotter.at(&words, found.from)[0];
                        assert_eq!(spotted >> index & 1, 1, "{head}: {phrase}");
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen > 3000, "{seen}");
    }

    #[test]
    fn a_phrase_is_spotted_whole_or_not_at_all() {
        let spotter = Spotter::of(&[&["absent"], &["left-out"], &[], &[], &[], &["absent-bare"]]);
        let spotted = |text: &str, at: usize| spotter.at(&tokens(text), at);
        assert_eq!(spotted("free from milk", 0)[0] & 1, 1);
        assert_eq!(spotted("free time", 0), Spotted::default());
        assert_eq!(spotted("we leave it out", 1), Spotted::default());
        assert_eq!(spotted("milk left out", 1)[1] & 1, 1);
        assert_eq!(spotted("non è", 0)[5] >> 1 & 1, 1);
        assert_eq!(spotted("free", 7), Spotted::default());
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

    /// Most words are read quickly: as what they are compared by, and as long as they are.
    #[test]
    fn plain_words_are_read_as_all_words_are() {
        for (text, words) in [
            ("Mix the FLOUR, well", "mix the flour , well"),
            ("naïve Cafés", "naïve cafés"),
            ("or/and it's", "or / and it s"),
            ("so. No.", "so . no ."),
            ("flour2 T65", "flour 2 t 65"),
        ] {
            assert_eq!(joined(&tokens(text)), words, "{text}");
            for token in tokens(text) {
                assert_eq!(token.hash, hash_of(&token.key), "{text}");
                let written = &text[token.start..token.end];
                assert_eq!(token.key.as_ref(), key(written).as_str(), "{text}");
            }
        }
        assert_eq!(tokens("ve\u{ad}gan").len(), 1);
        assert_eq!(tokens("w/o milk").len(), 2);
        assert_eq!(tokens("o. Ei").len(), 2);
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
