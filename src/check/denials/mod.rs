//! What texts say is not in the bread.
//!
//! First all is found that could be denied: allergens, diets, classes and foods by any
//! name. Then the words of denial, and which of them are about it: `without` is about the
//! list after it, `-free` about what stands before it, `not` turns round a word of use
//! wherever both stand, and `omitted` is about either side. A denial counts, unless it is
//! of a kind that is known to claim nothing: denied itself, said of another bread or
//! another version, of so much of a thing or of its place, or told to do for a while.

mod all_there_is;
mod another;
mod aside;
mod diets;
mod everybody;
mod hardly_any;
mod joined;
mod parts;
mod reading;
mod subjects;
mod ways;

use super::context::{Context, PlainText};
use super::speech::{
    Groups, MAX_SENTENCE, Sentence, Spotted, Spotter, Token, TokenKind, spoken_at, whole_sentences,
};
use crate::formula::{LANGUAGES, Mention, mentions_by_language};
use crate::source::is_fresh;
use reading::Claim;
pub use reading::Denied;

use ecow::EcoString;
use joined::{allergy_stem, sign, stem};
use reading::{CLOSERS, DenialForm, DenialReading, Subject, is_answer, is_zero};
use std::cell::OnceCell;
use std::ops::Range;
use std::sync::LazyLock;
use ways::MARKS;

/// The rows of words without which nothing is claimed.
const TRIGGERS: [&str; 45] = [
    "absent",
    "absent-bare",
    "free-suffix",
    "left-out",
    "leave",
    "instead-of",
    "replaced",
    "swap",
    "contrast",
    "not",
    "vegan",
    "plant",
    "vegetarian",
    "pareve",
    "halal",
    "kosher",
    "coeliac",
    "hypoallergenic",
    "allergens",
    "allergy",
    "nothing-but",
    "only",
    "nothing-else",
    "contains",
    "no-cow",
    "ingredients",
    "answer",
    "fits",
    "everyone",
    "little",
    "ppm",
    "all-but",
    "except-first",
    "no-worry",
    "lacto",
    "no-hen",
    "none-of-it",
    "seems",
    "declare",
    "jain",
    "no-cereal",
    "class-less sugar",
    "class-less yeast",
    "ever",
    "none-of-all",
];

/// Rows by what it takes to claim something with one of their phrases: nothing more; the
/// second and third in one sentence, or the fourth and fifth; the last after a mark.
const GROUPS: Groups =
    [&TRIGGERS, &["suits", "yes"], &["abstain"], &["everybody"], &["eats"], &["reply"]];

static PACKED: &[u8] = include_bytes!("spotter.packed");

const STAMP: u64 = Spotter::stamp_of(&GROUPS);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

static SPOTTER: LazyLock<Spotter> = LazyLock::new(|| match IS_FRESH {
    true => Spotter::unpacked(PACKED),
    false => Spotter::of(&GROUPS),
});

/// What the packed file of the spotter has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed() -> Vec<u8> {
    Spotter::of(&GROUPS).packed(STAMP)
}

/// Whether a text has a word that a claim of absence begins with, in any language.
pub fn may_claim(text: &str, tokens: &[Token]) -> bool {
    together(tokens) != 0 || (0..tokens.len()).any(|at| languages_of(text, tokens, at) != 0)
}

/// Whether words do nothing but answer what stands before them, whatever mark ends them.
pub fn is_answer_alone(tokens: &[Token]) -> bool {
    let ends = |token: &Token| matches!(token.key.as_ref(), "." | "!");
    let words = match tokens.split_last() {
        Some((last, words)) if ends(last) => words,
        _ => tokens,
    };
    let is_dash = || matches!(words, [one] if matches!(one.key.as_ref(), "–" | "-" | "—"));
    is_answer(words) || is_dash()
}

/// A claim as a text makes it.
#[derive(Clone, Debug)]
pub struct HeardClaim {
    /// The words that make it, in bytes of the text.
    pub words: Range<usize>,
    /// What is denied.
    pub denied: Denied,
    /// It counts only against what is known to be there: `with oil, not butter`.
    pub is_weak: bool,
}

/// Every claim of absence in a text, whichever of the languages it is in: the same in all
/// formulas of a [kind](kind_of). Where two languages know a word, the one that knows more of
/// the sentence has the say.
pub fn claims_in(context: &Context, said: &PlainText, tokens: &[Token]) -> Vec<HeardClaim> {
    let mut all = Vec::new();
    let text = said.words.as_ref();
    let of = |at| languages_of(text, tokens, at);
    let may_claim = (0..tokens.len()).map(of).fold(together(tokens), |all, one| all | one);
    if may_claim == 0 {
        return all;
    }
    let made = OnceCell::new();
    let mentioned = OnceCell::new();
    for words in answered_sentences(tokens) {
        let languages = may_claim & languages_that_claim(text, words);
        if languages == 0 {
            continue;
        }
        let (mixes, parts) = made.get_or_init(|| (mixes_of(context), parts::of(context)));
        let mentions: &[Vec<Mention>] = mentioned.get_or_init(|| {
            let mut all = mentions_by_language(text, may_claim);
            // Looked up by their places.
            all.iter_mut().for_each(|own| own.sort_by_key(|mention| mention.range.start));
            all
        });
        let read = |index: usize| {
            let sentence = Sentence::denying(text, words, index)?;
            let (claims, aside) = DenialReading::new(
                context.house,
                &sentence,
                said,
                mentions.get(index)?,
                (mixes, parts),
            )
            .claims();
            Some((sentence, claims, aside))
        };
        let read = (0..LANGUAGES.len()).filter(|index| languages >> index & 1 == 1).map(read);
        let read: Vec<_> = read.flatten().collect();
        let known: Vec<usize> = read.iter().map(|(sentence, ..)| words_known(sentence)).collect();
        let is_overruled = |index: usize, claim: &Claim| {
            let better = (0..read.len()).filter(|&other| known[other] > known[index]);
            let mut aside = better.flat_map(|other| &read[other].2);
            aside.any(|at| claim.about.start < at.end && at.start < claim.about.end)
        };
        for (index, (sentence, claims, _)) in read.iter().enumerate() {
            let claims = claims.iter().filter(|claim| !is_overruled(index, claim));
            all.extend(claims.map(|claim| heard(sentence, claim)));
        }
    }
    all
}

fn heard(sentence: &Sentence, claim: &Claim) -> HeardClaim {
    let written = sentence.written(claim.words.start, claim.words.end);
    let start = sentence.tokens.get(claim.words.start).map_or(0, |token| token.start);
    let words = start..start + written.len();
    HeardClaim { words, denied: claim.denied.clone(), is_weak: claim.is_weak }
}

/// All that a formula has to do with what its texts claim, so that what one formula's text
/// does not claim, another's of the same kind doesn't either.
pub fn kind_of(context: &Context) -> String {
    let mut kind = mixes_of(context).join("\0");
    for part in parts::of(context) {
        let name = part.name.as_deref().unwrap_or_default();
        kind.extend(["\0\0", name, "\0", part.kind, if part.is_known { "" } else { "?" }]);
        part.holds.iter().for_each(|it| kind.extend(["\0", it.name.key.as_str()]));
    }
    kind
}

/// What a formula makes before its dough or beside it, by the names that it has for it.
fn mixes_of(context: &Context) -> Vec<EcoString> {
    let stages = context.worked.formula.stages.iter().map(|stage| stage.name.key.clone());
    let side_mixes = context.worked.side_mixes.iter().map(|side_mix| side_mix.key.clone());
    let cultures = context.lines_of_cultures().map(|line| line.key.clone());
    stages.chain(side_mixes).chain(cultures).collect()
}

/// Whole sentences, each with the answers that stand alone after it: `Milk. None.`
fn answered_sentences<'s>(tokens: &'s [Token<'s>]) -> Vec<&'s [Token<'s>]> {
    let mut all: Vec<Range<usize>> = Vec::new();
    let mut from = 0;
    for words in whole_sentences(tokens) {
        let start = tokens[from..].iter().position(|it| it.start == words[0].start);
        let start = from + start.unwrap_or(0);
        from = start + words.len();
        match all
            .last_mut()
            .filter(|it| it.len() < MAX_SENTENCE && (is_answer(words) || goes_on(words)))
        {
            Some(before) => before.end = from,
            None => all.push(start..from),
        }
    }
    all.into_iter().filter_map(|words| tokens.get(words)).collect()
}

/// Whether a sentence is about what the one before it names: `No other allergens.`, and after
/// a list `Full stop.`
fn goes_on(words: &[Token]) -> bool {
    const OTHER: [&str; 18] = [
        "other",
        "others",
        "else",
        "further",
        "autre",
        "autres",
        "weitere",
        "weiteren",
        "andere",
        "anderen",
        "sonst",
        "sonstigen",
        "otro",
        "otros",
        "altro",
        "altri",
        "ulteriori",
        "others",
    ];
    let has_other = words.iter().any(|word| OTHER.contains(&word.key.as_ref()));
    let is_allergen = |word: &Token| {
        let starts = ["allerg", "alérg", "alerg"].iter().any(|stem| word.key.starts_with(stem));
        starts || matches!(word.key.as_ref(), "14" | "fourteen" | "quatorze" | "vierzehn")
    };
    let closes = || {
        let words: Vec<&str> = words.iter().map(|word| word.key.as_ref()).collect();
        CLOSERS.contains(&words.join(" "))
    };
    has_other && words.iter().any(is_allergen) || closes()
}

/// How many of its words a language knows.
fn words_known(sentence: &Sentence) -> usize {
    let is_known = |at: &usize| sentence.found.iter().any(|it| it.from <= *at && *at < it.to);
    (0..sentence.tokens.len()).filter(is_known).count()
}

/// The languages in which a sentence may claim something by itself, a bit for each: all
/// others find no claim in it.
fn languages_that_claim(text: &str, words: &[Token]) -> u8 {
    let of = |(at, word): (usize, &Token)| match languages_of(text, words, at) {
        0 if word.key == "–" => u8::MAX,
        0 => 0,
        // One word that claims does so in whatever language the sentence is read.
        _ if SPOTTER.at(words, at)[0] == 0 => u8::MAX,
        known => known,
    };
    words.iter().enumerate().map(of).fold(together(words), |all, one| all | one)
}

/// The languages in which what stands at a word may claim something, a bit for each.
fn languages_of(text: &str, words: &[Token], at: usize) -> u8 {
    const ENGLISH: u8 = 1;
    const GERMAN: u8 = 1 << 2;
    let Some(token) = words.get(at) else { return 0 };
    let is_joined = |code| stem(&token.key, code).is_some();
    let is_mark = |at: usize, marks: &[&str]| {
        words.get(at).is_some_and(|word| marks.contains(&word.key.as_ref()))
    };
    let joined = match token.kind {
        TokenKind::Number if is_zero(token) => u8::MAX,
        TokenKind::Word if is_joined("en") => ENGLISH,
        TokenKind::Word if is_joined("fr") => 1 << 1,
        TokenKind::Word if is_joined("es") => 1 << 3,
        TokenKind::Word if is_joined("it") => 1 << 4,
        TokenKind::Word if is_joined("de") || hardly_any::stem(&token.key).is_some() => GERMAN,
        // What stands alone after a question may answer it.
        TokenKind::Stop if token.key == "?" => u8::MAX,
        TokenKind::Stop if token.key == "–" && is_at_end(text, token) => u8::MAX,
        TokenKind::Word if allergy_stem(&token.key).is_some() => GERMAN,
        TokenKind::Word if sign(text, token).is_some() => ENGLISH,
        // `20 mg/kg` in whatever language.
        TokenKind::Word if token.key == "mg" && is_mark(at + 1, &["/"]) => u8::MAX,
        _ => 0,
    };
    let [claims, .., reply] = SPOTTER.at(words, at);
    let answers = at.checked_sub(1).is_some_and(|before| is_mark(before, &MARKS));
    claims | joined | if answers { reply } else { 0 }
}

/// The languages in which words of two rows claim something together.
fn together(words: &[Token]) -> u8 {
    let mut all = Spotted::default();
    for at in 0..words.len() {
        let here = SPOTTER.at(words, at);
        all.iter_mut().zip(here).for_each(|(all, here)| *all |= here);
    }
    let [_, suits, abstain, everybody, eats, _] = all;
    suits & abstain | everybody & eats
}

/// Whether a sentence ends after it: `milk: –`.
fn is_at_end(text: &str, token: &Token) -> bool {
    let rest = text.get(token.end..).unwrap_or_default().trim_start_matches([' ', '\t']);
    rest.is_empty() || rest.starts_with(['.', ',', ';', '\n'])
}

impl<'a> DenialReading<'a> {
    /// What is claimed, and the places of what is denied without being claimed.
    fn claims(&self) -> (Vec<Claim>, Vec<Range<usize>>) {
        let mut candidates = Vec::new();
        for it in self.words() {
            match it.tag.word {
                "absent" => candidates.extend(self.absent(it, 1)),
                "absent-bare" => candidates.extend(self.absent(it, 0)),
                "instead-of" => candidates.extend(self.listed(DenialForm::Instead, it, 1)),
                "left-out" => candidates.extend(self.left_out(it)),
                "free-suffix" => candidates.extend(self.free(it)),
                "replaced" => {
                    candidates.extend(self.before(DenialForm::Instead, it.from..it.to, 4))
                }
                "swap" => candidates.extend(self.swapped(it)),
                "leave" => candidates.extend(self.leave_out(it)),
                "contrast" => candidates.extend(self.contrast(it)),
                "uses" => candidates.extend(self.not_used(it)),
                "all-but" => candidates.extend(self.all_but(it)),
                "except-first" => candidates.extend(self.except_first(it)),
                "no-worry" => candidates.extend(self.no_worry(it)),
                "zero" => candidates.extend(self.zero_after(it)),
                "none-of-it" => candidates.extend(self.none_of_it(it)),
                "ever" => candidates.extend(self.ever(it)),
                _ => {}
            }
        }
        candidates.extend(self.zeros());
        candidates.extend(self.answers());
        candidates.extend(self.none_holds());
        let mut told: Vec<usize> = Vec::new();
        let mut aside: Vec<Range<usize>> = Vec::new();
        let mut claims = self.compounds();
        for it in candidates {
            let subject = &self.subjects[it.subject];
            if told.contains(&it.subject) {
                continue;
            }
            let words = it.from.min(subject.from)..it.to.max(subject.to);
            if self.is_set_aside(&it) || self.is_name(&words) {
                aside.push(subject.from..subject.to);
            } else {
                told.push(it.subject);
                let is_weak = it.form == DenialForm::Contrast;
                claims.push(Claim { is_weak, ..self.claim(words, subject) });
            }
        }
        claims.extend(self.unsweetened());
        claims.extend(self.none_of_all());
        claims.extend(self.seeming());
        self.diets(&mut claims, &mut aside);
        claims.extend(self.suited());
        claims.extend(self.for_everybody());
        claims.extend(self.hardly_any());
        claims.extend(self.all_that_there_is());
        (claims, aside)
    }

    /// Whether the words of a denial are what a food is called: `non-fat milk`, `harina de
    /// trigo 00`.
    fn is_name(&self, words: &Range<usize>) -> bool {
        let languages = [self.sentence.language.code];
        let earliest = words.start.saturating_sub(4);
        (earliest..=words.start).any(|from| {
            let food = spoken_at(self.house, self.sentence, from, &languages);
            food.is_some_and(|food| food.to >= words.end)
        })
    }

    /// `no allergens but wheat` leaves some out.
    fn claim(&self, words: Range<usize>, subject: &Subject) -> Claim {
        let except = self.sentence.all("word", "except").find(|it| it.from >= subject.to);
        match (&subject.what, except) {
            (Denied::AllAllergens, Some(except)) => {
                let named = self.named_in(except.to..self.sentence.tokens.len());
                let to = named.last().map_or(words.end, |it| it.to);
                let named: Vec<_> = named.into_iter().map(|it| it.what.clone()).collect();
                Claim::of(words.start..to, Denied::OtherAllergens(named))
            }
            (what, _) => {
                Claim { about: subject.from..subject.to, ..Claim::of(words, what.clone()) }
            }
        }
    }
}
