//! One word that claims: `eggless`, `glutenfrei`, `Nussallergie`, and the signs of menus.

use super::super::speech::{Food, PhraseFound, Token};
use super::reading::{Claim, DenialReading, Denied};
use crate::formula::Absence;
use crate::formula::class::Class;

/// What menus write beside a name.
pub(super) const SIGNS: [(&str, &str); 11] = [
    ("GF", "gluten"),
    ("DF", "milk"),
    ("LF", "lactose"),
    ("NF", "nuts"),
    ("EF", "eggs"),
    ("WF", "wheat"),
    ("VG", "vegan"),
    ("VE", "vegan"),
    ("VGN", "vegan"),
    ("PB", "vegan"),
    ("V", "vegetarian"),
];

/// What German and English put after a word that they deny.
pub(super) const SUFFIXES: [(&str, &str); 18] = [
    ("de", "frei"),
    ("de", "freie"),
    ("de", "freies"),
    ("de", "freier"),
    ("de", "freien"),
    ("de", "freiem"),
    // As it is misspelt.
    ("de", "fei"),
    ("de", "frie"),
    ("de", "feri"),
    ("de", "freii"),
    ("de", "los"),
    ("de", "lose"),
    ("de", "loses"),
    ("de", "loser"),
    ("de", "losen"),
    ("en", "free"),
    ("en", "less"),
    ("en", "lessly"),
];

/// What is written in one with what is not there.
const WITHOUT: [(&str, &str); 4] = [("fr", "sans"), ("es", "sin"), ("it", "senza"), ("de", "ohne")];

/// `nuss` of `nussfreies`, `egg` of `eggless`, `dairy` of `nondairy` and `nodairy`.
pub(super) fn stem<'w>(word: &'w str, language: &str) -> Option<&'w str> {
    let mut own = SUFFIXES.iter().filter(|(known, _)| *known == language);
    let before = own.find_map(|(_, ending)| word.strip_suffix(ending));
    let after = || {
        let bare = word.strip_prefix("no").filter(|stem| Absence::read(stem).is_some());
        bare.or_else(|| word.strip_prefix("non")).filter(|_| language == "en")
    };
    // `singluten`, `sanslait`
    let without = || {
        let (_, without) = WITHOUT.iter().find(|(known, _)| *known == language)?;
        word.strip_prefix(without).filter(|stem| Absence::read(stem).is_some())
    };
    let unbuttered = || (word == "unbuttered" && language == "en").then_some("butter");
    let stem = before.or_else(after).or_else(without).or_else(unbuttered);
    stem.filter(|stem| !stem.is_empty())
}

/// `gluten` of `Glutenunverträglichkeit`.
pub(super) fn allergy_stem(word: &str) -> Option<Absence> {
    const ENDINGS: [&str; 15] = [
        "intolerant",
        "intoleranter",
        "allergisch",
        "allergische",
        "allergischen",
        "allergikerin",
        "allergikerinnen",
        "unverträglichkeit",
        "intoleranz",
        "intolerante",
        "intoleranten",
        "allergie",
        "allergien",
        "allergiker",
        "allergikern",
    ];
    let stem = ENDINGS.iter().find_map(|ending| word.strip_suffix(ending))?;
    Absence::read(stem).or_else(|| Absence::read(stem.strip_suffix('s')?))
}

/// What a sign such as `GF` says, as it is written.
pub(super) fn sign(text: &str, token: &Token) -> Option<Absence> {
    // `N F` is spelled letter by letter.
    let written = &*text.get(token.start..token.end)?.replace([' ', '\u{a0}'], "");
    // `Gf, df.`: small letters count where they stand alone.
    let is_alone = || {
        let ends = |sign: Option<char>| sign.is_none_or(|sign| ",./()+&;:|".contains(sign));
        let before = text[..token.start].trim_end().chars().last();
        ends(before) && ends(text[token.end..].trim_start().chars().next())
    };
    let small = || {
        let known =
            |(sign, _): &&(&str, &str)| sign.ends_with('F') && sign.eq_ignore_ascii_case(written);
        SIGNS.iter().find(known).filter(|_| is_alone())
    };
    // A letter alone is a sign in brackets only, and so is what means something else.
    let is_bracketed = || text[..token.start].ends_with('(') && text[token.end..].starts_with(')');
    let bracketed = || {
        let known =
            |(sign, _): &&(&str, &str)| sign.len() > 1 && sign.eq_ignore_ascii_case(written);
        SIGNS.iter().find(known).filter(|_| is_bracketed())
    };
    // `(v)`, as menus have it.
    let letter = || {
        let is_it = |(sign, _): &&(&str, &str)| *sign == "V" && written == "v";
        SIGNS.iter().find(is_it).filter(|_| is_bracketed())
    };
    let found = SIGNS.iter().find(|(sign, _)| *sign == written);
    let found = found.or_else(small).or_else(bracketed).or_else(letter);
    let (_, absent) = found?;
    let is_sign = written.len() == 2 && !matches!(written, "VE" | "PB");
    (is_sign || is_bracketed()).then(|| Absence::read(absent))?
}

impl DenialReading<'_> {
    /// `glutenfrei`, `nussfreies`, `eggless`, `nondairy`: one word that claims.
    pub(super) fn compounds(&self) -> Vec<Claim> {
        let claim = |at: usize| {
            let stem = stem(&self.token(at)?.key, self.sentence.language.code)?;
            let what = self.read_stem(stem)?;
            let is_other = self.is_denied_around(at, at + 1)
                || self.is_of_other(at + 1)
                || self.is_could_be(at)
                || self.is_elsewhere(&(at..at + 1))
                || self.is_wanted(&(at..at + 1));
            let own = Claim::of(at..at + 1, what);
            (!is_other).then(|| self.open_before(at).into_iter().chain([own]))
        };
        (0..self.sentence.tokens.len()).filter_map(claim).flatten().collect()
    }

    /// The words before a joined one that share its end: `nuss-, ei- und milchfrei`.
    fn open_before(&self, joined: usize) -> Vec<Claim> {
        let mut all = Vec::new();
        let mut at = joined;
        loop {
            let mut to = at;
            while let Some(before) = self.sentence.word_before("joint", to) {
                to = before;
            }
            while to > 0 && self.is_mark(to - 1, &[",", "/"]) {
                to -= 1;
            }
            let Some(word) = to.checked_sub(1).filter(|_| to < at) else { return all };
            let Some(token) = self.token(word) else { return all };
            let rest = self.sentence.text.get(token.end..).unwrap_or_default();
            if !rest.starts_with(['-', '‐', '\u{2011}', '–']) {
                return all;
            }
            let Some(what) = self.read_stem(&token.key) else { return all };
            all.push(Claim::of(word..joined + 1, what));
            at = word;
        }
    }

    /// `Unsweetened.`, `these buns are unsweetened`; not `unsweetened cocoa`.
    pub(super) fn unsweetened(&self) -> Vec<Claim> {
        let found = self.sentence.found.iter().filter(|it| it.tag.kind == "class-less");
        let claim = |it: &PhraseFound| {
            let what = Denied::Class(Class::read(it.tag.word)?);
            let part = self.part(it.from);
            let before = it.from.checked_sub(1);
            let is_said = it.from == part.start
                || before.is_some_and(|at| {
                    ["is-verb", "joint"]
                        .iter()
                        .any(|row| self.sentence.word_before(row, at + 1).is_some())
                });
            let is_aside = !self.is_break(it.to) || self.is_denied_around(it.from, it.to);
            (is_said && !is_aside).then(|| Claim::of(it.from..it.to, what))
        };
        found.filter_map(claim).collect()
    }

    /// What the first half of a word means: `eier`, `nuss`, `laktose`, `butter`.
    pub(super) fn read_stem(&self, stem: &str) -> Option<Denied> {
        let read = |end: &&str| Absence::read(&format!("{stem}{end}"));
        let allergen = ["", "e", "n", "en", "er", "s"].iter().find_map(read);
        let of_cow = || Absence::read(stem.strip_prefix("kuh")?);
        let allergen = allergen.or_else(|| Absence::read(stem.strip_suffix('s')?));
        if let Some(allergen) = allergen.or_else(of_cow) {
            return Some(Denied::Absence(allergen));
        }
        let tags = self.sentence.says(stem);
        let mut read = tags.filter_map(|tag| match (tag.kind, tag.word) {
            ("food", word) => Some(Denied::Food(Food::kind(word))),
            ("class", word) => Class::read(word).map(Denied::Class),
            ("word", "animal") => Some(Denied::Absence(Absence::Vegan)),
            ("word", "meat") => Some(Denied::Absence(Absence::Vegetarian)),
            ("word", "allergens") => Some(Denied::AllAllergens),
            ("word", "alcohol") => Some(Denied::Alcohol),
            _ => None,
        });
        read.next()
    }
}
