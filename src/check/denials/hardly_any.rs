//! What is said to hold next to nothing of something: `low gluten`, `under 20 ppm`. Nothing
//! here measures traces, so only what holds none at all may say so.

use super::super::speech::{PhraseFound, TokenKind};
use super::reading::{Claim, DenialReading, Denied, Subject};
use crate::formula::Absence;

/// What is sold as poor in it, rather than free from it.
const MEASURED: [&str; 8] =
    ["gluten", "glutine", "lactose", "laktose", "lactosa", "lattosio", "gluténs", "glutens"];

/// Counts of so few parts in a million, in words; larger ones end with them.
const SPELLED: [&str; 28] = [
    "five",
    "ten",
    "fifteen",
    "twenty",
    "thirty",
    "fifty",
    "hundred",
    "cinq",
    "dix",
    "quinze",
    "vingt",
    "cinquante",
    "cent",
    "fünf",
    "zehn",
    "fünfzehn",
    "zwanzig",
    "fünfzig",
    "cinco",
    "diez",
    "quince",
    "veinte",
    "cincuenta",
    "cinque",
    "dieci",
    "quindici",
    "venti",
    "cinquanta",
];

/// `gluten` of `glutenarm`, `laktosereduziert`.
pub(super) fn stem(word: &str) -> Option<&'static str> {
    const ENDINGS: [&str; 10] = [
        "arm",
        "arme",
        "armes",
        "armer",
        "armen",
        "reduziert",
        "reduzierte",
        "reduziertes",
        "reduzierter",
        "reduzierten",
    ];
    MEASURED
        .into_iter()
        .find(|stem| word.strip_prefix(stem).is_some_and(|it| ENDINGS.contains(&it)))
}

impl DenialReading<'_> {
    /// The claims that a sentence makes so.
    pub(super) fn hardly_any(&self) -> Vec<Claim> {
        let little = self.sentence.all("word", "little");
        let mut all: Vec<Claim> = little.filter_map(|it| self.little_of(&it)).collect();
        all.extend(self.poor_in());
        all.extend(self.per_million());
        all
    }

    /// `low in gluten`, `reduced-gluten`, `gluten light`.
    fn little_of(&self, it: &PhraseFound) -> Option<Claim> {
        let after = self.subject_from(self.past_fillers(it.to));
        let index = after.or_else(|| self.subject_to(it.from))?;
        let subject = &self.subjects[index];
        let (from, to) = (it.from.min(subject.from), it.to.max(subject.to));
        let is_aside = !self.is_measured(subject) || self.is_denied(from) || self.is_of_other(to);
        (!is_aside).then(|| Claim::of(from..to, subject.what.clone()))
    }

    fn is_measured(&self, subject: &Subject) -> bool {
        let words = subject.from..subject.to;
        words.into_iter().any(|at| self.is_mark(at, &MEASURED))
    }

    /// `glutenarm`.
    fn poor_in(&self) -> Vec<Claim> {
        let words = self.sentence.tokens.iter().enumerate();
        let poor = words.filter_map(|(at, word)| Some((at, Absence::read(stem(&word.key)?)?)));
        let claims = poor.filter(|(at, _)| !self.is_denied(*at) && !self.is_of_other(at + 1));
        claims.map(|(at, one)| Claim::of(at..at + 1, Denied::Absence(one))).collect()
    }

    /// `under 20 ppm`, `less than 20 mg/kg of gluten`.
    fn per_million(&self) -> Option<Claim> {
        const MAX: u32 = 100;
        let whole = self.sentence.whole();
        let unit = self.sentence.all("word", "ppm").next().map(|it| it.from..it.to);
        let per_kilo = || {
            whole.clone().find(|&at| {
                self.is_mark(at, &["mg"])
                    && self.is_mark(at + 1, &["/"])
                    && self.is_mark(at + 2, &["kg"])
            })
        };
        let unit = unit.or_else(|| per_kilo().map(|at| at..at + 3))?;
        let number = unit.start.checked_sub(1)?;
        let token = self.token(number)?;
        let is_small = match token.kind {
            TokenKind::Number => token.key.parse::<u32>().is_ok_and(|count| count <= MAX),
            _ => SPELLED.contains(&token.key.as_ref()),
        };
        if !is_small || self.has("ppm-of", &whole) || self.is_denied(number) {
            return None;
        }
        let strict = self.subjects.iter().find(|subject| subject.is_strict());
        let what = match strict {
            Some(subject) => subject.what.clone(),
            None => Denied::Absence(Absence::read("gluten")?),
        };
        Some(Claim::of(number..unit.end, what))
    }
}
