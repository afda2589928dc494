//! Numbers in words, as people of five languages write them: `two hundred and fifteen`,
//! `zweihundertfünfzig`, `trois quarts`, `one and a half`, `half a dozen`.
//!
//! A word is parted into what it is put together of; then a small grammar that all five
//! languages share reads the parts. Common usage, from memory.

use crate::quantity::{Exact, int, ratio};
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

/// A number in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spelled {
    /// How many words it has.
    pub words: usize,
    /// What it is.
    pub value: Exact,
}

/// What a number word, or a part of one, stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Atom {
    Zero,
    /// 1 to 9.
    Unit(i64),
    /// 10 to 19, and the Spanish words up to 29.
    Teen(i64),
    /// 20 to 90.
    Tens(i64),
    /// `quinientos`
    Hundreds(i64),
    Hundred,
    Thousand,
    Dozen,
    And,
    Article,
    Half,
    /// A part of so many.
    Part(i64),
    /// The one part that needs no number before it: `quarter of a litre`.
    Quarter,
    /// `anderthalb`
    OneAndHalf,
}

use Atom::{
    And, Article, Dozen, Half, Hundred, Hundreds, OneAndHalf, Part, Quarter, Teen, Tens, Thousand,
    Unit, Zero,
};

/// The number words of a language, with its code.
type NumberWords = (&'static str, &'static [(&'static str, Atom)]);

const ENGLISH: NumberWords = (
    "en",
    &[
        ("zero", Zero),
        ("nought", Zero),
        ("one", Unit(1)),
        ("two", Unit(2)),
        ("three", Unit(3)),
        ("four", Unit(4)),
        ("five", Unit(5)),
        ("six", Unit(6)),
        ("seven", Unit(7)),
        ("eight", Unit(8)),
        ("nine", Unit(9)),
        ("ten", Teen(10)),
        ("eleven", Teen(11)),
        ("twelve", Teen(12)),
        ("thirteen", Teen(13)),
        ("fourteen", Teen(14)),
        ("fifteen", Teen(15)),
        ("sixteen", Teen(16)),
        ("seventeen", Teen(17)),
        ("eighteen", Teen(18)),
        ("nineteen", Teen(19)),
        ("twenty", Tens(20)),
        ("thirty", Tens(30)),
        ("forty", Tens(40)),
        ("fifty", Tens(50)),
        ("sixty", Tens(60)),
        ("seventy", Tens(70)),
        ("eighty", Tens(80)),
        ("ninety", Tens(90)),
        ("hundred", Hundred),
        ("thousand", Thousand),
        ("dozen", Dozen),
        ("and", And),
        ("a", Article),
        ("an", Article),
        ("half", Half),
        ("third", Part(3)),
        ("thirds", Part(3)),
        ("quarter", Quarter),
        ("quarters", Quarter),
        ("fourth", Part(4)),
        ("fourths", Part(4)),
        ("fifth", Part(5)),
        ("fifths", Part(5)),
        ("sixth", Part(6)),
        ("sixths", Part(6)),
        ("eighth", Part(8)),
        ("eighths", Part(8)),
        ("tenth", Part(10)),
        ("tenths", Part(10)),
    ],
);

const FRENCH: NumberWords = (
    "fr",
    &[
        ("zéro", Zero),
        ("un", Unit(1)),
        ("une", Unit(1)),
        ("deux", Unit(2)),
        ("trois", Unit(3)),
        ("quatre", Unit(4)),
        ("cinq", Unit(5)),
        ("six", Unit(6)),
        ("sept", Unit(7)),
        ("huit", Unit(8)),
        ("neuf", Unit(9)),
        ("dix", Teen(10)),
        ("onze", Teen(11)),
        ("douze", Teen(12)),
        ("treize", Teen(13)),
        ("quatorze", Teen(14)),
        ("quinze", Teen(15)),
        ("seize", Teen(16)),
        ("vingt", Tens(20)),
        ("vingts", Tens(20)),
        ("trente", Tens(30)),
        ("quarante", Tens(40)),
        ("cinquante", Tens(50)),
        ("soixante", Tens(60)),
        ("septante", Tens(70)),
        ("huitante", Tens(80)),
        ("octante", Tens(80)),
        ("nonante", Tens(90)),
        ("cent", Hundred),
        ("cents", Hundred),
        ("mille", Thousand),
        ("mil", Thousand),
        ("douzaine", Dozen),
        ("douzaines", Dozen),
        ("et", And),
        ("demi", Half),
        ("demie", Half),
        ("demis", Half),
        ("tiers", Part(3)),
        ("quart", Quarter),
        ("quarts", Quarter),
        ("cinquième", Part(5)),
        ("cinquièmes", Part(5)),
        ("sixième", Part(6)),
        ("sixièmes", Part(6)),
        ("huitième", Part(8)),
        ("huitièmes", Part(8)),
        ("dixième", Part(10)),
        ("dixièmes", Part(10)),
    ],
);

const GERMAN: NumberWords = (
    "de",
    &[
        ("null", Zero),
        ("ein", Unit(1)),
        ("eins", Unit(1)),
        ("eine", Unit(1)),
        ("einen", Unit(1)),
        ("einem", Unit(1)),
        ("einer", Unit(1)),
        ("zwei", Unit(2)),
        ("drei", Unit(3)),
        ("vier", Unit(4)),
        ("fünf", Unit(5)),
        ("sechs", Unit(6)),
        ("sieben", Unit(7)),
        ("acht", Unit(8)),
        ("neun", Unit(9)),
        ("zehn", Teen(10)),
        ("elf", Teen(11)),
        ("zwölf", Teen(12)),
        ("dreizehn", Teen(13)),
        ("vierzehn", Teen(14)),
        ("fünfzehn", Teen(15)),
        ("sechzehn", Teen(16)),
        ("siebzehn", Teen(17)),
        ("achtzehn", Teen(18)),
        ("neunzehn", Teen(19)),
        ("zwanzig", Tens(20)),
        ("dreißig", Tens(30)),
        ("dreissig", Tens(30)),
        ("vierzig", Tens(40)),
        ("fünfzig", Tens(50)),
        ("sechzig", Tens(60)),
        ("siebzig", Tens(70)),
        ("achtzig", Tens(80)),
        ("neunzig", Tens(90)),
        ("hundert", Hundred),
        ("tausend", Thousand),
        ("dutzend", Dozen),
        ("und", And),
        ("halb", Half),
        ("halbe", Half),
        ("halber", Half),
        ("halbes", Half),
        ("halben", Half),
        ("anderthalb", OneAndHalf),
        ("drittel", Part(3)),
        ("viertel", Quarter),
        ("fünftel", Part(5)),
        ("sechstel", Part(6)),
        ("achtel", Part(8)),
        ("zehntel", Part(10)),
    ],
);

const SPANISH: NumberWords = (
    "es",
    &[
        ("cero", Zero),
        ("un", Unit(1)),
        ("una", Unit(1)),
        ("uno", Unit(1)),
        ("dos", Unit(2)),
        ("tres", Unit(3)),
        ("cuatro", Unit(4)),
        ("cinco", Unit(5)),
        ("seis", Unit(6)),
        ("siete", Unit(7)),
        ("ocho", Unit(8)),
        ("nueve", Unit(9)),
        ("diez", Teen(10)),
        ("once", Teen(11)),
        ("doce", Teen(12)),
        ("trece", Teen(13)),
        ("catorce", Teen(14)),
        ("quince", Teen(15)),
        ("dieciséis", Teen(16)),
        ("dieciseis", Teen(16)),
        ("diecisiete", Teen(17)),
        ("dieciocho", Teen(18)),
        ("diecinueve", Teen(19)),
        ("veinte", Teen(20)),
        ("veintiuno", Teen(21)),
        ("veintiún", Teen(21)),
        ("veintiun", Teen(21)),
        ("veintiuna", Teen(21)),
        ("veintidós", Teen(22)),
        ("veintidos", Teen(22)),
        ("veintitrés", Teen(23)),
        ("veintitres", Teen(23)),
        ("veinticuatro", Teen(24)),
        ("veinticinco", Teen(25)),
        ("veintiséis", Teen(26)),
        ("veintiseis", Teen(26)),
        ("veintisiete", Teen(27)),
        ("veintiocho", Teen(28)),
        ("veintinueve", Teen(29)),
        ("treinta", Tens(30)),
        ("cuarenta", Tens(40)),
        ("cincuenta", Tens(50)),
        ("sesenta", Tens(60)),
        ("setenta", Tens(70)),
        ("ochenta", Tens(80)),
        ("noventa", Tens(90)),
        ("cien", Hundred),
        ("ciento", Hundred),
        ("doscientos", Hundreds(200)),
        ("doscientas", Hundreds(200)),
        ("trescientos", Hundreds(300)),
        ("trescientas", Hundreds(300)),
        ("cuatrocientos", Hundreds(400)),
        ("cuatrocientas", Hundreds(400)),
        ("quinientos", Hundreds(500)),
        ("quinientas", Hundreds(500)),
        ("seiscientos", Hundreds(600)),
        ("seiscientas", Hundreds(600)),
        ("setecientos", Hundreds(700)),
        ("setecientas", Hundreds(700)),
        ("ochocientos", Hundreds(800)),
        ("ochocientas", Hundreds(800)),
        ("novecientos", Hundreds(900)),
        ("novecientas", Hundreds(900)),
        ("mil", Thousand),
        ("docena", Dozen),
        ("docenas", Dozen),
        ("y", And),
        ("medio", Half),
        ("media", Half),
        ("tercio", Part(3)),
        ("tercios", Part(3)),
        ("cuarto", Quarter),
        ("cuartos", Quarter),
        ("quinto", Part(5)),
        ("quintos", Part(5)),
        ("sexto", Part(6)),
        ("sextos", Part(6)),
        ("octavo", Part(8)),
        ("octavos", Part(8)),
        ("décimo", Part(10)),
        ("décimos", Part(10)),
    ],
);

const ITALIAN: NumberWords = (
    "it",
    &[
        ("zero", Zero),
        ("un", Unit(1)),
        ("una", Unit(1)),
        ("uno", Unit(1)),
        ("due", Unit(2)),
        ("tre", Unit(3)),
        ("tré", Unit(3)),
        ("quattro", Unit(4)),
        ("cinque", Unit(5)),
        ("sei", Unit(6)),
        ("sette", Unit(7)),
        ("otto", Unit(8)),
        ("nove", Unit(9)),
        ("dieci", Teen(10)),
        ("undici", Teen(11)),
        ("dodici", Teen(12)),
        ("tredici", Teen(13)),
        ("quattordici", Teen(14)),
        ("quindici", Teen(15)),
        ("sedici", Teen(16)),
        ("diciassette", Teen(17)),
        ("diciotto", Teen(18)),
        ("diciannove", Teen(19)),
        ("venti", Tens(20)),
        ("trenta", Tens(30)),
        ("quaranta", Tens(40)),
        ("cinquanta", Tens(50)),
        ("sessanta", Tens(60)),
        ("settanta", Tens(70)),
        ("ottanta", Tens(80)),
        ("novanta", Tens(90)),
        ("cento", Hundred),
        ("mille", Thousand),
        ("mila", Thousand),
        ("dozzina", Dozen),
        ("dozzine", Dozen),
        ("e", And),
        ("mezzo", Half),
        ("mezza", Half),
        ("mezzi", Half),
        ("terzo", Part(3)),
        ("terzi", Part(3)),
        ("quarto", Quarter),
        ("quarti", Quarter),
        ("quinto", Part(5)),
        ("quinti", Part(5)),
        ("sesto", Part(6)),
        ("sesti", Part(6)),
        ("ottavo", Part(8)),
        ("ottavi", Part(8)),
        ("decimo", Part(10)),
        ("decimi", Part(10)),
    ],
);

/// Before a vowel Italian drops the last letter: `ventuno`, `centottanta`.
const ELIDED: [(&str, Atom); 9] = [
    ("vent", Tens(20)),
    ("trent", Tens(30)),
    ("quarant", Tens(40)),
    ("cinquant", Tens(50)),
    ("sessant", Tens(60)),
    ("settant", Tens(70)),
    ("ottant", Tens(80)),
    ("novant", Tens(90)),
    ("cent", Hundred),
];

/// Whole words by language, for one look at a word to tell whether it may begin a number.
static WHOLE: LazyLock<Vec<(NumberWords, FxHashMap<&'static str, Atom>)>> = LazyLock::new(|| {
    let all = [ENGLISH, FRENCH, GERMAN, SPANISH, ITALIAN];
    all.into_iter().map(|words| (words, words.1.iter().copied().collect())).collect()
});

/// The number that some words in small letters begin with, as a language writes it; where
/// none is given, as the one does that reads most of it.
pub fn spelled(words: &[&str], code: &str) -> Option<Spelled> {
    let all = WHOLE.iter().filter(|((own, _), _)| code.is_empty() || *own == code);
    let read = all.filter_map(|((code, parts), whole)| {
        let mut reader = HeadReader { code, atoms: Vec::new() };
        for word in words {
            match whole.get(word) {
                Some(atom) => reader.atoms.push((*atom, true)),
                None if matches!(*code, "de" | "it") && reader.take_apart(parts, word) => {}
                None => break,
            }
        }
        reader.read()
    });
    read.max_by_key(|it| it.words)
}

/// What half a kilo more is where words go on so: `a kilo and a half`, `kilo y medio`.
pub fn and_part(words: &[&str], code: &str) -> Option<Spelled> {
    let ((code, _), whole) = WHOLE.iter().find(|((own, _), _)| *own == code)?;
    let known = words.iter().map_while(|word| whole.get(word));
    let reader = HeadReader { code, atoms: known.map(|atom| (*atom, true)).collect() };
    let (value, to) = reader.more(0)?;
    Some(Spelled { words: to, value })
}

/// The number at the head of some words.
struct HeadReader {
    code: &'static str,
    /// Each with whether its word ends with it.
    atoms: Vec<(Atom, bool)>,
}

impl HeadReader {
    /// Parts a word that is put together: `zweihundertfünfzig`, `ventotto`.
    fn take_apart(&mut self, parts: &[(&'static str, Atom)], word: &str) -> bool {
        fn split(all: &[&[(&'static str, Atom)]], rest: &str, found: &mut Vec<Atom>) -> bool {
            if rest.is_empty() {
                return true;
            }
            let heads = all.iter().copied().flatten().filter(|(head, _)| rest.starts_with(head));
            let mut heads: Vec<&(&str, Atom)> = heads.collect();
            heads.sort_by_key(|(head, _)| std::cmp::Reverse(head.len()));
            heads.into_iter().any(|(head, atom)| {
                found.push(*atom);
                let is_whole = found.len() < 12 && split(all, &rest[head.len()..], found);
                if !is_whole {
                    found.pop();
                }
                is_whole
            })
        }
        let elided: &[(&str, Atom)] = if self.code == "it" { &ELIDED } else { &[] };
        let mut found = Vec::new();
        let is_whole = word.len() > 5 && split(&[parts, elided], word, &mut found);
        if is_whole {
            let last = found.len();
            self.atoms.extend((1..).zip(found).map(|(at, atom)| (atom, at == last)));
        }
        is_whole
    }

    fn at(&self, at: usize) -> Option<Atom> {
        self.atoms.get(at).map(|(atom, _)| *atom)
    }

    /// Whether a word ends before a place.
    fn is_end(&self, at: usize) -> bool {
        at == 0 || self.atoms.get(at - 1).is_some_and(|(_, ends)| *ends)
    }

    fn read(&self) -> Option<Spelled> {
        let (mut value, mut to) = self.number()?;
        let article = usize::from(self.at(to) == Some(Article));
        if self.at(to + article) == Some(Dozen) && self.is_end(to) {
            value *= int(12);
            to += article + 1;
        }
        let words = self.atoms.iter().take(to).filter(|(_, ends)| *ends).count();
        self.is_end(to).then_some(Spelled { words, value })
    }

    fn number(&self) -> Option<(Exact, usize)> {
        if self.at(0) == Some(OneAndHalf) {
            return Some((ratio(3, 2), 1));
        }
        if let Some(part) = self.part(0) {
            return Some(part);
        }
        if let (Some(Article), Some(Dozen)) = (self.at(0), self.at(1)) {
            return Some((Exact::ONE, 1));
        }
        let (whole, to) = self.whole(0)?;
        match self.more(to) {
            Some((part, end)) => Some((int(whole) + part, end)),
            None => Some((int(whole), to)),
        }
    }

    /// `half`, `a third`, `three quarters`, `drei Viertel`.
    fn part(&self, at: usize) -> Option<(Exact, usize)> {
        let (count, to) = match self.at(at)? {
            Half => return Some((ratio(1, 2), at + 1)),
            Quarter => return Some((ratio(1, 4), at + 1)),
            Article => (1, at + 1),
            Unit(count) | Teen(count) => (count, at + 1),
            _ => return None,
        };
        match self.at(to)? {
            Half if count == 1 => Some((ratio(1, 2), to + 1)),
            Quarter if count < 4 => Some((ratio(count, 4), to + 1)),
            Part(of) if count < of => Some((ratio(count, of), to + 1)),
            _ => None,
        }
    }

    /// `and a half`, `et demi`, `einhalb` after a whole number.
    fn more(&self, at: usize) -> Option<(Exact, usize)> {
        let is_german = self.code == "de";
        let from = match self.at(at)? {
            And => at + 1,
            Unit(_) if is_german => at,
            _ => return None,
        };
        let (part, to) = self.part(from)?;
        self.is_end(to).then_some((part, to))
    }

    /// Up to a million, not included.
    fn whole(&self, at: usize) -> Option<(i64, usize)> {
        let is_thousand = |at: usize| self.at(at) == Some(Thousand);
        let (count, to) = match self.at(at)? {
            Zero => return Some((0, at + 1)),
            Article if is_thousand(at + 1) => (1, at + 1),
            Thousand if self.code != "en" => (1, at),
            _ => self.below_thousand(at)?,
        };
        if !is_thousand(to) {
            return Some((count, to));
        }
        let (rest, end) = self.rest(to + 1, Self::below_thousand).unwrap_or((0, to + 1));
        Some((count * 1000 + rest, end))
    }

    fn below_thousand(&self, at: usize) -> Option<(i64, usize)> {
        let is_hundred = |at: usize| self.at(at) == Some(Hundred);
        let (hundreds, to) = match self.at(at)? {
            Hundreds(hundreds) => (hundreds, at + 1),
            Hundred if self.code != "en" => (100, at + 1),
            Article if is_hundred(at + 1) => (100, at + 2),
            _ => {
                let (count, to) = self.below_hundred(at)?;
                let most = if matches!(self.code, "en" | "de") { 19 } else { 9 };
                if !is_hundred(to) || count > most {
                    return Some((count, to));
                }
                (count * 100, to + 1)
            }
        };
        let (rest, end) = self.rest(to, Self::below_hundred).unwrap_or((0, to));
        Some((hundreds + rest, end))
    }

    /// What comes after hundreds or thousands, unless it is a number of its own: `between a
    /// hundred and two hundred`.
    fn rest(
        &self,
        at: usize,
        read: impl Fn(&Self, usize) -> Option<(i64, usize)>,
    ) -> Option<(i64, usize)> {
        let joins = match self.code {
            "en" | "it" => true,
            "de" => !self.is_end(at),
            _ => false,
        };
        let from = if joins && self.at(at) == Some(And) { at + 1 } else { at };
        let (rest, to) = read(self, from)?;
        let goes_on = matches!(self.at(to), Some(Hundred | Thousand | Half | Quarter | Part(_)));
        (rest > 0 && !goes_on).then_some((rest, to))
    }

    fn below_hundred(&self, at: usize) -> Option<(i64, usize)> {
        let (code, next) = (self.code, self.at(at + 1));
        match self.at(at)? {
            Unit(unit) => match next {
                // `quatre-vingt-dix-sept`
                Some(Tens(20)) if code == "fr" && unit == 4 => Some(self.and_teens(80, at + 2)),
                // `fünfundzwanzig`, and not `fünf und zwanzig`
                Some(And) if code == "de" && !self.is_end(at + 1) => match self.at(at + 2) {
                    Some(Tens(tens)) => Some((tens + unit, at + 3)),
                    _ => Some((unit, at + 1)),
                },
                _ => Some((unit, at + 1)),
            },
            Teen(10) if code == "fr" => Some(self.and_teens(0, at)),
            Teen(teen) => Some((teen, at + 1)),
            Tens(tens) if code == "fr" => Some(self.and_teens(tens, at + 1)),
            Tens(tens) => {
                let unit = match (code, next) {
                    ("es", Some(And)) => at + 2,
                    ("en" | "it", _) => at + 1,
                    _ => return Some((tens, at + 1)),
                };
                match self.at(unit) {
                    Some(Unit(count)) if !self.is_of_more(unit + 1) => {
                        Some((tens + count, unit + 1))
                    }
                    _ => Some((tens, at + 1)),
                }
            }
            _ => None,
        }
    }

    /// Whether a unit belongs to what follows it: `treinta y un cuarto`.
    fn is_of_more(&self, at: usize) -> bool {
        matches!(self.at(at), Some(Half | Quarter | Part(_)))
    }

    /// French tens with what follows: `soixante et onze`, `vingt-et-un`, `trente-deux`.
    fn and_teens(&self, tens: i64, at: usize) -> (i64, usize) {
        let takes_teens = matches!(tens, 0 | 60 | 80);
        let (from, joined) = match self.at(at) {
            Some(And) => (at + 1, true),
            _ => (at, false),
        };
        let found = match (self.at(from), self.at(from + 1)) {
            (Some(Teen(10)), Some(Unit(unit @ 7..=9))) if takes_teens => {
                Some((10 + unit, from + 2))
            }
            (Some(Teen(teen)), _) if takes_teens => Some((teen, from + 1)),
            (Some(Unit(unit)), _) if tens > 0 => Some((unit, from + 1)),
            _ => None,
        };
        match found {
            Some((rest, to)) if (!joined || matches!(rest, 1 | 11)) && !self.is_of_more(to) => {
                (tens + rest, to)
            }
            _ => (tens, at),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::written::{PARTS, written};
    use super::super::{LANGUAGES, tokens};
    use super::*;

    fn whole(text: &str, code: &str) -> Option<Exact> {
        let tokens = tokens(text);
        let keys: Vec<&str> = tokens.iter().map(|token| token.key.as_ref()).collect();
        let read = spelled(&keys, code)?;
        (read.words == keys.len()).then_some(read.value)
    }

    #[test]
    fn every_number_written_out_reads_back_as_itself() {
        for code in LANGUAGES {
            for number in 0..10_000_usize {
                let text = written(number, code);
                let wanted = i64::try_from(number).ok().map(int);
                assert_eq!(whole(&text, code), wanted, "{code}: {text}");
            }
        }
        for (code, text, above, below) in PARTS {
            assert_eq!(whole(text, code), Some(ratio(above, below)), "{code}: {text}");
        }
    }

    #[test]
    fn ways_of_saying_a_number_are_read_too() {
        for (code, text, wanted) in [
            ("en", "a hundred and twenty", 120),
            ("en", "a hundred twenty", 120),
            ("en", "twelve hundred", 1200),
            ("en", "a thousand and one", 1001),
            ("en", "two dozen", 24),
            ("en", "half a dozen", 6),
            ("fr", "deux cent cinquante", 250),
            ("fr", "deux-cent-cinquante", 250),
            ("fr", "soixante-et-onze", 71),
            ("fr", "nonante-cinq", 95),
            ("fr", "une douzaine", 12),
            ("fr", "une demi-douzaine", 6),
            ("de", "hundertfünfzig", 150),
            ("de", "hundertundfünf", 105),
            ("de", "zwölfhundert", 1200),
            ("de", "ein halbes Dutzend", 6),
            ("es", "doscientas cincuenta", 250),
            ("es", "media docena", 6),
            ("it", "due cento cinquanta", 250),
            ("it", "centotto", 108),
            ("it", "mezza dozzina", 6),
        ] {
            assert_eq!(whole(text, code), Some(int(wanted)), "{code}: {text}");
        }
    }

    /// Of two numbers the first ends where the second begins.
    #[test]
    fn two_numbers_are_not_one() {
        for (code, text, wanted, words) in [
            ("en", "a hundred and two hundred", 100, 2),
            ("en", "one hundred and one hundred and twenty", 100, 2),
            ("en", "two or three", 2, 1),
            ("fr", "cent et deux cents", 100, 1),
            ("de", "hundert und zweihundert", 100, 1),
            ("de", "fünf und zwanzig", 5, 1),
            ("es", "cien y doscientos", 100, 1),
            ("it", "cento e duecento", 100, 1),
        ] {
            let keys: Vec<&str> = text.split(' ').collect();
            let read = spelled(&keys, code).expect(text);
            assert_eq!((read.value, read.words), (int(wanted), words), "{text}");
        }
        for none in ["", "a", "hundred", "and", "third", "salt", "zweig", "centro", "elfen"] {
            for code in
                ["en", "de", "it"].into_iter().filter(|code| *code == "en" || none != "hundred")
            {
                assert_eq!(
                    spelled(&none.split(' ').collect::<Vec<_>>(), code),
                    None,
                    "{code}: {none}"
                );
            }
        }
    }
}
