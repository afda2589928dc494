//! What texts say is not in the bread.
//!
//! First all is found that could be denied: allergens, diets, classes and foods by any
//! name. Then the words of denial, and which of them are about it: `without` is about the
//! list after it, `-free` about what stands before it, `not` turns round a word of use
//! wherever both stand, and `omitted` is about either side. A denial counts, unless it is
//! of a kind that is known to claim nothing: denied itself, said of another bread or
//! another version, of so much of a thing or of its place, or told to do for a while.

use super::context::{Place, Said};
use super::speech::{
    Food, Found, Sentence, Token, TokenKind, What, first_words, food_at, whole_sentences,
};
use crate::formula::class::Class;
use crate::formula::{Absence, House, LANGUAGES, Mention, key, mentions};
use rustc_hash::FxHashMap;
use std::ops::Range;
use std::sync::LazyLock;

/// A claim that something is not there, which words make it, and which are what is denied.
#[derive(Clone, Debug)]
pub struct Claim {
    pub words: Range<usize>,
    about: Range<usize>,
    pub denied: Denied,
}

impl Claim {
    fn of(words: Range<usize>, denied: Denied) -> Self {
        Self { about: words.clone(), words, denied }
    }
}

/// What is claimed to be absent.
#[derive(Clone, Debug)]
pub enum Denied {
    Absence(Absence),
    AllAllergens,
    /// All allergens that these do not hold.
    OtherAllergens(Vec<Denied>),
    Food(Food),
    Class(Class),
    Alcohol,
    /// All that is none of these.
    AllElse(Vec<Food>),
}

/// The rows of words without which nothing is claimed.
const TRIGGERS: [&str; 22] = [
    "absent",
    "absent-bare",
    "free-suffix",
    "left-out",
    "leave",
    "instead-of",
    "replaced",
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
    "ingredients",
];

/// What menus write beside a name.
const SIGNS: [(&str, &str); 9] = [
    ("GF", "gluten"),
    ("DF", "milk"),
    ("LF", "lactose"),
    ("NF", "nuts"),
    ("EF", "eggs"),
    ("WF", "wheat"),
    ("VG", "vegan"),
    ("VE", "vegan"),
    ("V", "vegetarian"),
];

/// What German and English put after a word that they deny.
const SUFFIXES: [(&str, &str); 13] = [
    ("de", "frei"),
    ("de", "freie"),
    ("de", "freies"),
    ("de", "freier"),
    ("de", "freien"),
    ("de", "freiem"),
    ("de", "los"),
    ("de", "lose"),
    ("de", "loses"),
    ("de", "loser"),
    ("de", "losen"),
    ("en", "free"),
    ("en", "less"),
];

/// The first words of the rows that claim something, with the languages that have them.
static FIRST_WORDS: LazyLock<FxHashMap<String, u8>> = LazyLock::new(|| first_words(&TRIGGERS));

/// Every claim of absence in a text, whichever of the languages it is in. Where two
/// languages know a word, the one that knows more of the sentence has the say.
pub fn each_claim(
    house: &House,
    said: &Said,
    tokens: &[Token],
    mut each: impl FnMut(&Sentence, Claim),
) {
    let text = said.words.as_ref();
    let may_claim = tokens.iter().fold(0, |all, token| all | languages_of(text, token));
    if may_claim == 0 {
        return;
    }
    let languages = (0..LANGUAGES.len()).filter(|index| may_claim >> index & 1 == 1);
    let languages: Vec<_> = languages.map(|at| (at, mentions(text, &[LANGUAGES[at]]))).collect();
    for words in whole_sentences(tokens) {
        let read = |(index, mentions): &(usize, Vec<Mention>)| {
            let sentence = Sentence::denying(text, words, *index)?;
            let (claims, aside) = Reading::new(house, &sentence, said, mentions).claims();
            Some((sentence, claims, aside))
        };
        let read: Vec<_> = languages.iter().filter_map(read).collect();
        let known: Vec<usize> = read.iter().map(|(sentence, ..)| words_known(sentence)).collect();
        let is_overruled = |index: usize, claim: &Claim| {
            let better = (0..read.len()).filter(|&other| known[other] > known[index]);
            let mut aside = better.flat_map(|other| &read[other].2);
            aside.any(|at| claim.about.start < at.end && at.start < claim.about.end)
        };
        for (index, (sentence, claims, _)) in read.iter().enumerate() {
            claims
                .iter()
                .filter(|claim| !is_overruled(index, claim))
                .for_each(|claim| each(sentence, claim.clone()));
        }
    }
}

/// How many of its words a language knows.
fn words_known(sentence: &Sentence) -> usize {
    let is_known = |at: &usize| sentence.found.iter().any(|it| it.from <= *at && *at < it.to);
    (0..sentence.tokens.len()).filter(is_known).count()
}

/// The languages in which a word may claim something, a bit for each.
fn languages_of(text: &str, token: &Token) -> u8 {
    const ENGLISH: u8 = 1;
    const GERMAN: u8 = 1 << 2;
    let known = FIRST_WORDS.get(token.key.as_ref()).copied().unwrap_or(0);
    let is_joined = |code| stem(&token.key, code).is_some();
    let joined = match token.kind {
        TokenKind::Number if is_zero(token) => u8::MAX,
        TokenKind::Word if is_joined("en") => ENGLISH,
        TokenKind::Word if is_joined("de") => GERMAN,
        TokenKind::Word if allergy_stem(&token.key).is_some() => GERMAN,
        TokenKind::Word if sign(text, token).is_some() => ENGLISH,
        _ => 0,
    };
    known | joined
}

fn is_zero(token: &Token) -> bool {
    token.key.chars().all(|digit| matches!(digit, '0' | '.' | ','))
}

/// `nuss` of `nussfreies`, `egg` of `eggless`, `dairy` of `nondairy`.
fn stem<'w>(word: &'w str, language: &str) -> Option<&'w str> {
    let mut own = SUFFIXES.iter().filter(|(known, _)| *known == language);
    let before = own.find_map(|(_, ending)| word.strip_suffix(ending));
    let after = || word.strip_prefix("non").filter(|_| language == "en");
    before.or_else(after).filter(|stem| !stem.is_empty())
}

/// `gluten` of `Glutenunverträglichkeit`.
fn allergy_stem(word: &str) -> Option<Absence> {
    const ENDINGS: [&str; 8] = [
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
fn sign(text: &str, token: &Token) -> Option<Absence> {
    let written = text.get(token.start..token.end)?;
    let (_, absent) = SIGNS.iter().find(|(sign, _)| *sign == written)?;
    // A letter alone is a sign in brackets only.
    let is_bracketed = || text[..token.start].ends_with('(') && text[token.end..].starts_with(')');
    (written.len() == 2 && written != "VE" || is_bracketed()).then(|| Absence::read(absent))?
}

/// Something that could be denied.
struct Subject {
    from: usize,
    to: usize,
    what: Denied,
}

impl Subject {
    /// What somebody's health may depend on.
    fn is_strict(&self) -> bool {
        !matches!(self.what, Denied::Food(_) | Denied::Class(_))
    }

    /// What a bread is hardly made without, so that nobody claims it in passing.
    fn is_staple(&self) -> bool {
        const STAPLES: [Class; 5] =
            [Class::Salt, Class::Water, Class::Yeast, Class::Leavener, Class::Flour];
        let names = ["salt", "water", "yeast", "flour"];
        match &self.what {
            Denied::Class(class) => STAPLES.contains(class),
            Denied::Food(food) => names.iter().any(|name| food.says(name)),
            _ => false,
        }
    }
}

/// How something is denied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// `without milk`.
    Absent,
    /// `milk-free`.
    Free,
    /// `omitted`.
    LeftOut,
    /// `instead of milk`.
    Instead,
    /// `milk is not used`.
    NotUsed,
    /// `milk: none`, `0 % milk`.
    Told,
}

/// A denial of something, before it is asked whether it claims anything.
struct Candidate {
    form: Form,
    from: usize,
    to: usize,
    /// Its place in the list of them.
    subject: usize,
}

struct Reading<'a> {
    house: &'a House<'a>,
    sentence: &'a Sentence<'a>,
    said: &'a Said<'a>,
    mentions: &'a [Mention],
    subjects: Vec<Subject>,
    /// Phrases that only look like denials.
    idioms: Vec<Range<usize>>,
}

impl<'a> Reading<'a> {
    fn new(
        house: &'a House,
        sentence: &'a Sentence<'a>,
        said: &'a Said<'a>,
        mentions: &'a [Mention],
    ) -> Self {
        let idioms = sentence.all("word", "denial-idiom").map(|it| it.from..it.to).collect();
        let mut reading = Self { house, sentence, said, mentions, subjects: Vec::new(), idioms };
        reading.subjects = reading.all_subjects();
        reading
    }

    /// What is claimed, and the places of what is denied without being claimed.
    fn claims(&self) -> (Vec<Claim>, Vec<Range<usize>>) {
        let mut candidates = Vec::new();
        for it in self.words() {
            match it.tag.word {
                "absent" => candidates.extend(self.absent(it, 1)),
                "absent-bare" => candidates.extend(self.absent(it, 0)),
                "instead-of" => candidates.extend(self.listed(Form::Instead, it, 1)),
                "left-out" => candidates.extend(self.left_out(it)),
                "free-suffix" => candidates.extend(self.free(it)),
                "replaced" => candidates.extend(self.before(Form::Instead, it.from..it.to, 1)),
                "leave" => candidates.extend(self.leave_out(it)),
                "uses" => candidates.extend(self.not_used(it)),
                _ => {}
            }
        }
        candidates.extend(self.zeros());
        candidates.extend(self.answers());
        let mut told: Vec<usize> = Vec::new();
        let mut aside: Vec<Range<usize>> = Vec::new();
        let mut claims = self.compounds();
        for it in candidates {
            let subject = &self.subjects[it.subject];
            if told.contains(&it.subject) {
                continue;
            }
            if self.is_set_aside(&it) {
                aside.push(subject.from..subject.to);
            } else {
                told.push(it.subject);
                claims.push(self.claim(it.from.min(subject.from)..it.to.max(subject.to), subject));
            }
        }
        self.diets(&mut claims, &mut aside);
        claims.extend(self.suited());
        claims.extend(self.all_that_there_is());
        (claims, aside)
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
            (what, _) => Claim { words, about: subject.from..subject.to, denied: what.clone() },
        }
    }

    // ---- What could be denied ----------------------------------------------------------

    fn all_subjects(&self) -> Vec<Subject> {
        let mut all: Vec<Subject> = Vec::new();
        let mut at = 0;
        while at < self.sentence.tokens.len() {
            match self.subject_at(at) {
                Some(subject) => {
                    at = subject.to;
                    all.push(subject);
                }
                None => at += 1,
            }
        }
        all
    }

    /// The longest name that begins at a word; of equally long ones the allergen's.
    fn subject_at(&self, at: usize) -> Option<Subject> {
        self.token(at).filter(|token| token.kind == TokenKind::Word)?;
        let allergen = self.mention(at).map(|(to, one)| (to, Denied::Absence(one)));
        let group = self.group_at(at);
        let food = self.food_at(at).map(|food| (food.to, Denied::Food(food)));
        let all = [allergen, food, group].into_iter().flatten();
        // The first of equally long ones.
        let longest = all.rev().max_by_key(|(to, _)| *to)?;
        Some(Subject { from: at, to: longest.0, what: longest.1 })
    }

    fn mention(&self, at: usize) -> Option<(usize, Absence)> {
        let start = self.token(at)?.start;
        let mention = self.mentions.iter().find(|mention| mention.range.start == start)?;
        if !matches!(mention.absence, Absence::Allergen(_)) {
            return None;
        }
        let tokens = &self.sentence.tokens[at..];
        let after = tokens.iter().position(|token| token.start >= mention.range.end);
        Some((at + after.unwrap_or(tokens.len()), mention.absence))
    }

    /// `animal products`, `fat`, `additives`.
    fn group_at(&self, at: usize) -> Option<(usize, Denied)> {
        let starting = self.sentence.found.iter().filter(|it| it.from == at);
        let read = |it: &Found| {
            let what = match (it.tag.kind, it.tag.word) {
                ("class", word) => Denied::Class(Class::read(word)?),
                ("word", "animal") => Denied::Absence(Absence::Vegan),
                ("word", "meat") => Denied::Absence(Absence::Vegetarian),
                ("word", "allergens") => Denied::AllAllergens,
                ("word", "alcohol") => Denied::Alcohol,
                _ => return None,
            };
            Some((it.to, what))
        };
        starting.filter_map(read).max_by_key(|(to, _)| *to)
    }

    fn food_at(&self, at: usize) -> Option<Food> {
        let food = food_at(self.house, self.sentence, at)?;
        // `coconut milk` was left out on purpose, and so was `butter knife`.
        let word = self.sentence.written(at, food.to);
        let is_other = food.to == at + 1 && Absence::read(word).is_some();
        let is_thing = self.is("baked", at).is_some()
            || (self.is("not-food", food.to).is_some() && self.is("bread", food.to).is_none());
        let code = self.sentence.language.code;
        let is_joined = stem(&self.token(at)?.key, code).is_some();
        (!is_other && !is_thing && !is_joined && self.is_of_language(&food)).then_some(food)
    }

    /// The stores' own names are English.
    fn is_of_language(&self, food: &Food) -> bool {
        let What::Ingredient(id) = food.what else { return true };
        let code = self.sentence.language.code;
        let called = key(self.sentence.written(food.from, food.to));
        code == "en"
            || !self.house.ingredient(id).built_in
            || self.house.ingredient_called(code, &called).is_some()
    }

    fn named_in(&self, words: Range<usize>) -> Vec<&Subject> {
        let inside = |it: &&Subject| it.from >= words.start && it.to <= words.end;
        let named = self.subjects.iter().filter(inside);
        named.filter(|it| !matches!(it.what, Denied::AllAllergens)).collect()
    }

    // ---- Words and places --------------------------------------------------------------

    fn token(&self, at: usize) -> Option<&Token<'a>> {
        self.sentence.tokens.get(at)
    }

    fn is(&self, row: &str, at: usize) -> Option<usize> {
        self.sentence.word_at(row, at)
    }

    fn has(&self, row: &str, within: &Range<usize>) -> bool {
        self.sentence.has(row, within)
    }

    /// What rows say, where it is no part of an idiom.
    fn words(&self) -> impl Iterator<Item = &Found> {
        let all = self.sentence.found.iter().filter(|it| it.tag.kind == "word");
        all.filter(|it| !self.idioms.iter().any(|idiom| idiom.contains(&it.from)))
    }

    fn is_break(&self, at: usize) -> bool {
        self.token(at).is_none_or(|token| matches!(token.kind, TokenKind::Comma | TokenKind::Stop))
    }

    fn is_mark(&self, at: usize, marks: &[&str]) -> bool {
        self.token(at).is_some_and(|token| marks.contains(&token.key.as_ref()))
    }

    /// The words around one, up to the next commas and other marks.
    fn part(&self, at: usize) -> Range<usize> {
        let start = (0..at).rev().find(|&before| self.is_break(before)).map_or(0, |it| it + 1);
        let end = (at..).find(|&after| self.is_break(after)).unwrap_or(at);
        start..end
    }

    fn is_work(&self) -> bool {
        matches!(self.said.place, Place::Step(_) | Place::Stage | Place::Line)
    }

    fn subject_from(&self, at: usize) -> Option<usize> {
        self.subjects.iter().position(|subject| subject.from == at)
    }

    fn subject_to(&self, at: usize) -> Option<usize> {
        self.subjects.iter().position(|subject| subject.to == at)
    }

    // ---- Denials -----------------------------------------------------------------------

    /// `free from nuts`, `without milk, egg or nuts`.
    fn absent(&self, it: &Found, unknown: usize) -> Vec<Candidate> {
        self.listed(Form::Absent, it, unknown)
    }

    fn listed(&self, form: Form, it: &Found, unknown: usize) -> Vec<Candidate> {
        let listed = self.listed_after(it.to, unknown).into_iter();
        listed.map(|subject| Candidate { form, from: it.from, to: it.to, subject }).collect()
    }

    /// The list that begins at a word, past so many words that are not known.
    fn listed_after(&self, from: usize, most: usize) -> Vec<usize> {
        let mut found = Vec::new();
        let mut unknown = 0;
        let mut at = from + usize::from(self.is_mark(from, &[":", "(", "\"", "«", "“"]));
        while at < self.sentence.tokens.len() {
            if let Some(index) = self.subject_from(at) {
                found.push(index);
                unknown = 0;
                let to = self.subjects[index].to;
                match self.next_of_list(to) {
                    Some(next) => at = next,
                    None => break,
                }
            } else if let Some(to) = self.is("filler", at) {
                at = to;
            } else if self.ends_list(at) || unknown == most {
                break;
            } else {
                unknown += 1;
                at += 1;
                if let Some(next) = self.next_of_list(at) {
                    (at, unknown) = (next, 0);
                }
            }
        }
        found
    }

    fn ends_list(&self, at: usize) -> bool {
        let ends = ["but", "uses", "doing", "except", "remains", "piece", "bread", "absent"];
        self.is_break(at) || ends.iter().any(|row| self.is(row, at).is_some())
    }

    /// Where a list goes on after one of its items: after `and`, a stroke, or a comma with
    /// something that ends as an item does.
    fn next_of_list(&self, to: usize) -> Option<usize> {
        if self.subject_from(to).is_some() {
            return Some(to);
        }
        let (mut at, mut joined) = (to, false);
        loop {
            if self.is_mark(at, &[",", "/", "(", ")", "–"]) {
                at += 1;
            } else if let Some(after) = self.is("joint", at) {
                (at, joined) = (after, true);
            } else {
                break;
            }
        }
        if at == to || at >= self.sentence.tokens.len() {
            return None;
        }
        let item = self.past_fillers(at);
        let ends = |index: usize| {
            let to = self.subjects[index].to;
            self.is_break(to) || self.is("joint", to).is_some()
        };
        (joined || self.subject_from(item).is_some_and(ends)).then_some(at)
    }

    fn past_fillers(&self, mut at: usize) -> usize {
        while self.subject_from(at).is_none() {
            match self.is("filler", at) {
                Some(after) => at = after,
                None => break,
            }
        }
        at
    }

    /// The things that are joined with one that ends at a word: `milk, egg and nut-free`.
    fn joined_before(&self, to: usize) -> Vec<usize> {
        let Some(mut index) = self.subject_to(to) else { return Vec::new() };
        let mut all = vec![index];
        loop {
            let mut at = self.subjects[index].from;
            while let Some(before) = self.sentence.word_before("filler", at) {
                at = before;
            }
            let from = at;
            while let Some(before) = at.checked_sub(1) {
                match self.sentence.word_before("joint", at) {
                    Some(before) => at = before,
                    None if self.is_mark(before, &[",", "/"]) => at = before,
                    None => break,
                }
            }
            match self.subject_to(at).filter(|_| at < from) {
                Some(before) => {
                    index = before;
                    all.push(index);
                }
                None => break,
            }
        }
        // `with milk, egg-free` has milk in it.
        let first = self.subjects[index].from;
        let is_there = ["but", "contains", "uses", "order"];
        if is_there.iter().any(|row| self.sentence.word_before(row, first).is_some()) {
            all.truncate(1);
        }
        all
    }

    /// What stands before some words, at most so many words away.
    fn before(&self, form: Form, words: Range<usize>, most: usize) -> Vec<Candidate> {
        let mut at = words.start;
        let mut passed = 0;
        while self.subject_to(at).is_none() {
            let Some(before) = at.checked_sub(1) else { return Vec::new() };
            if self.is_mark(before, &[":", "?", "–", "(", ")"]) {
                at = before;
                continue;
            }
            passed += 1;
            if self.is_break(before) || passed > most {
                return Vec::new();
            }
            at = before;
        }
        let all = self.joined_before(at).into_iter();
        let (from, to) = (words.start, words.end);
        all.map(|subject| Candidate { form, from, to, subject }).collect()
    }

    /// `nut-free`, `milk, egg and nut free`; not `egg, safe to eat`.
    fn free(&self, it: &Found) -> Vec<Candidate> {
        let Some(before) = it.from.checked_sub(1) else { return Vec::new() };
        let (end, start) = (self.sentence.tokens[before].end, self.sentence.tokens[it.from].start);
        let between = self.sentence.text.get(end..start).unwrap_or(" ");
        let is_joined = matches!(between, "-" | "\u{2011}" | "‐");
        let is_free = matches!(self.sentence.tokens[it.from].key.as_ref(), "safe" | "less");
        match is_free && !is_joined {
            true => Vec::new(),
            false => self.before(Form::Free, it.from..it.to, 0),
        }
    }

    fn left_out(&self, it: &Found) -> Vec<Candidate> {
        let after = self.listed(Form::LeftOut, it, 1);
        match after.is_empty() {
            true => self.before(Form::LeftOut, it.from..it.to, 6),
            false => after,
        }
    }

    /// `we leave milk out`.
    fn leave_out(&self, it: &Found) -> Vec<Candidate> {
        let part = self.part(it.from);
        let mut outs = self.sentence.all("word", "out");
        let Some(out) = outs.find(|out| out.from >= it.to && out.to <= part.end) else {
            return Vec::new();
        };
        // Butter that is left out overnight, or taken out of the cold, is still butter.
        let is_told = out.to < part.end || self.is("order", part.start) == Some(it.to);
        let between = self.named_in(it.to..out.from);
        let all = self.subjects.iter().enumerate();
        let named = all.filter(|(_, subject)| between.iter().any(|it| it.from == subject.from));
        let found = named.map(|(subject, _)| Candidate {
            form: Form::LeftOut,
            from: it.from,
            to: out.to,
            subject,
        });
        if is_told { Vec::new() } else { found.collect() }
    }

    /// `milk is not used`, `we do not use milk`, `enthält Milch nicht`.
    fn not_used(&self, it: &Found) -> Vec<Candidate> {
        let part = self.part(it.from);
        let near = |not: &Found| {
            let (from, to) = (not.from.min(it.from), not.to.max(it.to));
            not.from >= part.start && not.to <= part.end && to - from <= 7
        };
        let is_other = |not: &Found| not.from >= it.to || not.to <= it.from;
        let mut nots = self.words().filter(|not| not.tag.word == "not" && is_other(not));
        let Some(not) = nots.find(|not| near(not)) else { return Vec::new() };
        let words = not.from.min(it.from)..not.to.max(it.to);
        if self.is_but_only(&words) || self.is_prohibition(&words, it) {
            return Vec::new();
        }
        let form = Form::NotUsed;
        let of = |subject| Candidate { form, from: words.start, to: words.end, subject };
        let between = |subject: &Subject| subject.from >= words.start && subject.to <= words.end;
        let inside = (0..self.subjects.len()).filter(|&index| between(&self.subjects[index]));
        let inside: Vec<_> = inside.map(of).collect();
        let after: Vec<_> = self.listed_after(words.end, 1).into_iter().map(of).collect();
        match (inside.is_empty(), after.is_empty()) {
            (false, _) => inside,
            (true, false) => after,
            (true, true) => self.before(form, words, 5),
        }
    }

    /// French `ne contient que du beurre`.
    fn is_but_only(&self, words: &Range<usize>) -> bool {
        self.sentence.language.code == "fr"
            && (words.start..words.end + 2).any(|at| self.is_mark(at, &["que", "qu"]))
    }

    /// `do not use`, said to whoever bakes.
    fn is_prohibition(&self, words: &Range<usize>, uses: &Found) -> bool {
        let part = self.part(words.start);
        let told_by = self.has("we", &(part.start..uses.from));
        self.is("order", uses.from).is_some() && !told_by && words.start == part.start
    }

    /// `0 % milk`, `milk 0 g`.
    fn zeros(&self) -> Vec<Candidate> {
        let tokens = self.sentence.tokens.iter().enumerate();
        let zeros = tokens.filter(|(_, token)| token.kind == TokenKind::Number && is_zero(token));
        let denied = zeros.flat_map(|(at, _)| {
            let units = self.sentence.found.iter().filter(|it| it.from == at + 1);
            let unit = units.filter(|it| it.tag.kind == "unit").map(|it| it.to).max();
            let words = at..unit.unwrap_or(at + 1);
            let after = self.listed_after(words.end, 0).into_iter();
            let of = |subject| Candidate { form: Form::Told, from: at, to: words.end, subject };
            let after: Vec<_> = after.map(of).collect();
            match after.is_empty() {
                true => self.before(Form::Told, words, 0),
                false => after,
            }
        });
        denied.collect()
    }

    /// `milk: none`, `milk? no`.
    fn answers(&self) -> Vec<Candidate> {
        let of = |it: Found| {
            let before = it.from.checked_sub(1)?;
            let is_answer = self.is_mark(before, &[":", "?", "–", "("]) && self.is_break(it.to);
            is_answer.then(|| self.before(Form::Told, it.from..it.to, 0))
        };
        self.sentence.all("word", "answer").filter_map(of).flatten().collect()
    }

    /// `glutenfrei`, `nussfreies`, `eggless`, `nondairy`: one word that claims.
    fn compounds(&self) -> Vec<Claim> {
        let claim = |at: usize| {
            let stem = stem(&self.token(at)?.key, self.sentence.language.code)?;
            let what = self.read_stem(stem)?;
            let is_other = self.is_denied_around(at, at + 1)
                || self.is_of_other(at + 1)
                || self.is_could_be(at);
            (!is_other).then(|| Claim::of(at..at + 1, what))
        };
        (0..self.sentence.tokens.len()).filter_map(claim).collect()
    }

    /// What the first half of a word means: `eier`, `nuss`, `laktose`, `butter`.
    fn read_stem(&self, stem: &str) -> Option<Denied> {
        let read = |end: &&str| Absence::read(&format!("{stem}{end}"));
        let allergen = ["", "e", "n", "en", "er", "s"].iter().find_map(read);
        if let Some(allergen) = allergen.or_else(|| Absence::read(stem.strip_suffix('s')?)) {
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

    // ---- What is claimed by naming it --------------------------------------------------

    /// `vegan`, `halal`, `hypoallergenic`, `GF`; not `a vegan neighbour` nor `not vegan`.
    fn diets(&self, claims: &mut Vec<Claim>, aside: &mut Vec<Range<usize>>) {
        let milk = || Absence::read("milk").map(Denied::Absence);
        let animal = Denied::Absence(Absence::Vegan);
        let meat = Denied::Absence(Absence::Vegetarian);
        for it in self.words() {
            let what = match it.tag.word {
                "vegan" => vec![animal.clone()],
                "plant" if self.is_whole_before(it.from) => vec![animal.clone()],
                "vegetarian" | "kosher" => vec![meat.clone()],
                "halal" => vec![meat.clone(), Denied::Alcohol],
                "hypoallergenic" => vec![Denied::AllAllergens],
                "pareve" => milk().into_iter().chain([meat.clone()]).collect(),
                _ => continue,
            };
            match self.is_no_diet(it) {
                true => aside.push(it.from..it.to),
                false => claims.extend(what.into_iter().map(|one| Claim::of(it.from..it.to, one))),
            }
        }
        let signs = self.sentence.tokens.iter().enumerate();
        let signs = signs.filter_map(|(at, token)| Some((at, sign(self.sentence.text, token)?)));
        claims.extend(signs.map(|(at, absent)| Claim::of(at..at + 1, Denied::Absence(absent))));
    }

    fn is_no_diet(&self, it: &Found) -> bool {
        let is_english = self.sentence.language.code == "en";
        // `Nobody here is a vegan`.
        let is_person = self.is("people", it.to).is_some()
            || (self.sentence.word_before("filler", it.from).is_some()
                && is_english
                && self.is_break(it.to));
        self.is_denied_around(it.from, it.to)
            || is_person
            || self.is_of_other(it.to)
            || self.is_of_food_before(it.from)
            || self.has("other-bread", &self.sentence.whole())
            || self.is_could_be(it.from)
            || self.is_refused(it)
    }

    /// `vegans should ask`, `for vegans, use oil instead`: it speaks of people, and for none.
    fn is_refused(&self, it: &Found) -> bool {
        let whole = self.sentence.whole();
        let key = &self.sentence.tokens[it.from].key;
        let is_people = matches!(
            key.as_ref(),
            "vegans" | "vegetarians" | "végétaliens" | "végans" | "vegetarier" | "veganer"
        );
        is_people
            && (self.has("ask", &whole) || self.has("order", &whole))
            && !self.has("suits", &whole)
    }

    /// `100 %`, `entirely`.
    fn is_whole_before(&self, at: usize) -> bool {
        let Some(percent) = at.checked_sub(1) else { return false };
        let Some(number) = percent.checked_sub(1) else { return false };
        self.is_mark(percent, &["%"]) && self.is_mark(number, &["100"])
    }

    /// `mantequilla vegana` is about the butter.
    fn is_of_food_before(&self, from: usize) -> bool {
        let is_latin = matches!(self.sentence.language.code, "fr" | "es" | "it");
        is_latin && self.subject_to(from).is_some()
    }

    /// `gluten-free flour` is about the flour, `for a nut-free version` about another bread.
    fn is_of_other(&self, to: usize) -> bool {
        let food = self.subject_from(to).map(|index| &self.subjects[index]);
        let bread = |at: usize| ["piece", "bread"].iter().any(|row| self.is(row, at).is_some());
        let is_of_food = food.is_some_and(|food| !bread(food.to) && !bread(to));
        let thing = |at: usize| self.is("thing", at).is_some();
        let is_thing = !self.is_break(to) && (thing(to) || thing(to + 1));
        is_of_food || is_thing || self.is_other_version(to..to + 3)
    }

    /// `for a vegan version`, `vegan version: use oil`; not `our vegan version`.
    fn is_other_version(&self, mut words: Range<usize>) -> bool {
        words.any(|at| {
            self.is("version", at).is_some() && {
                let part = self.part(at);
                self.has("for", &(part.start..at)) || self.has("order", &self.sentence.whole())
            }
        })
    }

    /// `suitable for coeliacs`, `safe for people with a nut allergy`, `those who avoid milk
    /// can eat it`, `für Menschen mit Glutenunverträglichkeit`.
    fn suited(&self) -> Vec<Claim> {
        let whole = self.sentence.whole();
        let Some(suits) = self.sentence.all("word", "suits").next() else { return Vec::new() };
        if self.has("ask", &whole) || self.is_turned_round() {
            return Vec::new();
        }
        let mut all = Vec::new();
        let of = |at: Range<usize>, denied: Denied| {
            Claim::of(suits.from.min(at.start)..suits.to.max(at.end), denied)
        };
        let gluten = Absence::read("gluten").map(Denied::Absence);
        let coeliac = self.sentence.all("word", "coeliac").next();
        all.extend(coeliac.zip(gluten).map(|(it, gluten)| of(it.from..it.to, gluten)));
        let stems = self.sentence.tokens.iter().enumerate();
        let stems = stems.filter_map(|(at, token)| Some((at, allergy_stem(&token.key)?)));
        all.extend(stems.map(|(at, one)| of(at..at + 1, Denied::Absence(one))));
        let mut who = ["allergy", "abstain"].iter().flat_map(|row| self.sentence.all("word", row));
        if let Some(who) = who.next() {
            let near = |it: &&Subject| it.from <= who.to + 6 && it.to + 4 >= who.from;
            let named = self.subjects.iter().filter(near).filter(|it| it.is_strict());
            all.extend(named.map(|it| of(it.from..it.to, it.what.clone())));
        }
        all
    }

    /// Whether a sentence about people is denied: a `not` that says more than what they do
    /// not eat.
    fn is_turned_round(&self) -> bool {
        let abstain: Vec<_> = self.sentence.all("word", "abstain").collect();
        let suits: Vec<_> = self.sentence.all("word", "suits").collect();
        // `People with an allergy must not eat it` speaks of the bread.
        let of_bread = self.has("allergy", &self.sentence.whole());
        let (before, after) = match self.sentence.language.code {
            "en" => (0, 0),
            "de" => (4, 4),
            _ => (1, 1),
        };
        let is_own = |not: &Found| {
            let near = |it: &Found| not.from + before >= it.from && not.to <= it.to + after;
            let inside = |it: &Found| it.from <= not.from && not.to <= it.to;
            (!of_bread && abstain.iter().any(near)) || suits.iter().any(inside)
        };
        self.words().any(|it| it.tag.word == "not" && !is_own(it))
    }

    // ---- All that there is -------------------------------------------------------------

    fn all_that_there_is(&self) -> Vec<Claim> {
        let mut all = Vec::new();
        for it in self.words() {
            match it.tag.word {
                "nothing-but" => all.extend(self.nothing_but(it, 2)),
                "only" => all.extend(self.nothing_but(it, 3)),
                "nothing-else" => all.extend(self.nothing_else(it)),
                "ingredients" => all.extend(self.ingredient_list(it)),
                "allergens" => all.extend(self.allergen_list(it)),
                "contains" => all.extend(self.contains_list(it)),
                _ => {}
            }
        }
        all
    }

    /// `made of nothing but flour, water and salt`. Where the words are weak (`only`), so
    /// many foods have to follow; what a step says is about the step.
    fn nothing_but(&self, it: &Found, least: usize) -> Option<Claim> {
        if self.is_work() || self.is_denied(it.from) || self.is_said_of_other() {
            return None;
        }
        let foods = self.foods_from(it.to);
        let to = foods.last()?.to;
        (foods.len() >= least).then(|| Claim::of(it.from..to, Denied::AllElse(foods)))
    }

    /// `flour, water, salt and nothing else`.
    fn nothing_else(&self, it: &Found) -> Option<Claim> {
        let named = self.named_in(0..it.from);
        let foods: Vec<Food> = named.iter().filter_map(|named| self.food_of(named)).collect();
        let from = named.first()?.from;
        let is_near = named.last().is_some_and(|last| it.from - last.to <= 3);
        let is_list = foods.len() >= 2 && is_near && !self.is_work() && !self.is_said_of_other();
        is_list.then(|| Claim::of(from..it.to, Denied::AllElse(foods)))
    }

    fn is_said_of_other(&self) -> bool {
        let whole = self.sentence.whole();
        let other = ["serve", "act", "story", "unreal", "trace"];
        other.iter().any(|row| self.has(row, &whole))
    }

    fn food_of(&self, subject: &Subject) -> Option<Food> {
        match &subject.what {
            Denied::Food(food) => Some(food.clone()),
            _ => food_at(self.house, self.sentence, subject.from),
        }
    }

    /// The foods of a list that begins at a word: `flour, water and a little salt`.
    fn foods_from(&self, from: usize) -> Vec<Food> {
        let mut found = Vec::new();
        let mut end = from;
        for subject in self.subjects.iter().filter(|subject| subject.from >= from) {
            let between = end..subject.from;
            let is_denied = ["not", "absent"].iter().any(|row| self.has(row, &between));
            if subject.from > end + 4 || is_denied {
                break;
            }
            end = subject.to;
            found.extend(self.food_of(subject));
        }
        found
    }

    /// `Ingredients: flour, water, salt` leaves no allergen out.
    fn ingredient_list(&self, it: &Found) -> Option<Claim> {
        let listed = self.named_in(it.to..self.sentence.tokens.len());
        let is_list = self.is_mark(it.to, &[":"]) && listed.len() >= 2;
        self.list(is_list, it, &listed)
    }

    /// `Allergens: wheat`, `wheat is the only allergen`.
    fn allergen_list(&self, it: &Found) -> Option<Claim> {
        let whole = self.sentence.whole();
        let only = self.has("only", &whole);
        let after = self.named_in(it.to..whole.end);
        let listed = match after.is_empty() && only {
            true => self.named_in(0..it.from),
            false => after,
        };
        // `no allergens` is a denial of its own.
        let is_denied = self.sentence.has("absent", &(0..it.from));
        let is_list = (self.is_mark(it.to, &[":", "–", "("]) || only || self.is_told_by(it))
            && !listed.is_empty()
            && !is_denied;
        self.list(is_list, it, &listed)
    }

    /// `the allergens are wheat and milk`.
    fn is_told_by(&self, it: &Found) -> bool {
        self.is("is-verb", it.to).is_some()
            || self.sentence.word_before("contains", it.from).is_some()
    }

    /// `Contains: wheat`, `contains only wheat`.
    fn contains_list(&self, it: &Found) -> Option<Claim> {
        let listed = self.named_in(it.to..self.sentence.tokens.len());
        let last = listed.last().map_or(it.to, |last| last.to);
        let only = self.is("only", it.to).or(self.is("only", last)).is_some()
            || self.sentence.word_before("only", it.from).is_some();
        let is_list = (self.is_mark(it.to, &[":"]) || only)
            && !listed.is_empty()
            && listed.iter().all(|it| matches!(it.what, Denied::Absence(_)))
            && (only || !self.is_denied(it.from));
        self.list(is_list, it, &listed)
    }

    fn list(&self, is_list: bool, it: &Found, listed: &[&Subject]) -> Option<Claim> {
        if !is_list || self.has("among", &self.sentence.whole()) {
            return None;
        }
        let from = listed.first()?.from.min(it.from);
        let to = listed.last()?.to.max(it.to);
        let named = listed.iter().map(|subject| subject.what.clone()).collect();
        Some(Claim::of(from..to, Denied::OtherAllergens(named)))
    }

    // ---- What claims nothing -----------------------------------------------------------

    /// Whether what begins at a word is denied: `not`, `is not suitable for`.
    fn is_denied(&self, from: usize) -> bool {
        let mut at = from;
        for _ in 0..7 {
            let mut rows = ["not", "absent", "absent-bare"].into_iter();
            if rows.any(|row| self.sentence.word_before(row, at).is_some()) {
                return true;
            }
            match self.sentence.word_before("not-filler", at) {
                Some(before) => at = before,
                None => return false,
            }
        }
        false
    }

    /// The same, and `vegan it is not`, `vegan? no`.
    fn is_denied_around(&self, from: usize, to: usize) -> bool {
        let part = self.part(from);
        let turned = self.is("is-verb", to).is_some_and(|after| {
            let but = ["but", "mais", "aber", "sondern", "pero", "sino", "ma"];
            let goes_on = (after..part.end).any(|at| self.is_mark(at, &but));
            self.has("not", &(after..part.end)) && !goes_on
        });
        let is_marked = self.is_mark(to, &["?", ":", "–"]);
        let at = to + usize::from(is_marked);
        let answer = |at: usize| self.is("not", at).or(self.is("answer", at).filter(|_| is_marked));
        let is_question = self.is_mark(to, &["?"]);
        let is_unfit = self
            .sentence
            .all("word", "suits")
            .any(|suits| suits.from > to && suits.to <= part.end && self.is_denied(suits.from));
        self.is_denied(from)
            || turned
            || is_unfit
            || answer(at).is_some_and(|to| is_marked || self.is_break(to))
            || (is_question && answer(at + 1).is_some())
            || self.is_denied_list(from)
    }

    /// `neither vegan nor gluten-free`.
    fn is_denied_list(&self, from: usize) -> bool {
        let before = self.sentence.word_before("joint", from);
        before.is_some_and(|at| {
            let part = self.part(at);
            (part.start..at).any(|at| self.is_mark(at, &["neither", "weder", "ni", "né"]))
        })
    }

    fn is_plain(&self, at: usize) -> bool {
        self.is_mark(at, &["without", "sans", "ohne", "sin", "senza"])
    }

    /// `no brioche without butter`, `never without salt`.
    fn is_double(&self, from: usize) -> bool {
        let is_open = |at: usize| !self.is_break(at) && self.subject_from(at).is_none();
        let mut nots = ["not", "absent"].iter().flat_map(|row| self.sentence.all("word", row));
        self.is_plain(from)
            && nots.any(|not| not.to <= from && from - not.to <= 3 && (not.to..from).all(is_open))
    }

    fn is_set_aside(&self, it: &Candidate) -> bool {
        let subject = &self.subjects[it.subject];
        let span = it.from.min(subject.from)..it.to.max(subject.to);
        let own = self.part(subject.from);
        let part = self.part(it.from);
        let around = part.start.min(own.start)..part.end.max(own.end);
        let is_turned = match it.form {
            Form::Absent => self.is_denied(it.from) || self.is_double(it.from),
            Form::LeftOut => self.is_denied(it.from),
            Form::Free => self.is_denied_around(subject.from, it.to),
            Form::Instead | Form::NotUsed | Form::Told => false,
        };
        // `do not use gluten-free flour` denies what is free of it.
        let is_free = it.form != Form::Free && self.is("free-suffix", subject.to).is_some();
        is_turned
            || is_free
            || self.is_so_much(it, subject, &own)
            || self.is_of_a_place(subject, &own)
            || self.is_of_people(it, &around)
            || self.is_other_bread(it, subject, &span)
            || self.is_told_to_do(it, subject, &around)
            || self.is_consequence(it, subject)
    }

    /// `no more salt`, `no dry flour is left`.
    fn is_so_much(&self, it: &Candidate, subject: &Subject, own: &Range<usize>) -> bool {
        let between = it.to.min(subject.from)..subject.from;
        let amount = self.has("amount", &between)
            || self.is("amount", subject.to).is_some_and(|to| to <= own.end)
            || (it.form == Form::NotUsed && self.has("amount", own));
        let remains = it.form == Form::Absent && self.has("remains", &(subject.to..own.end));
        amount || remains
    }

    /// `no flour on the bench`.
    fn is_of_a_place(&self, subject: &Subject, own: &Range<usize>) -> bool {
        let near = subject.to..own.end.min(subject.to + 5);
        let at_work = self.sentence.all("word", "spot").any(|it| near.contains(&it.from));
        at_work && !subject.is_strict()
    }

    /// What people do not eat may be in the bread.
    fn is_of_people(&self, it: &Candidate, around: &Range<usize>) -> bool {
        let inside = |who: &Found| who.from >= around.start && who.to <= around.end;
        let mut who = self.sentence.all("word", "abstain").filter(inside);
        let people = self.has("people", &(around.start..it.to));
        // `avoids` says it of the bread as well.
        who.any(|who| it.form != Form::LeftOut || people || who.from != it.from) && people
    }

    /// Another version, or another bread.
    fn is_other_bread(&self, it: &Candidate, subject: &Subject, span: &Range<usize>) -> bool {
        let whole = self.sentence.whole();
        let ends = subject.to.max(it.to);
        (it.form == Form::Free && self.is_of_other(ends))
            || self.is_other_version(span.start.saturating_sub(2)..span.end + 2)
            || self.is_could_be(span.start)
            || self.is("ask", 0).is_some()
            || self.has("other-bread", &whole)
    }

    /// `could be made without`, `if you leave it out`.
    fn is_could_be(&self, from: usize) -> bool {
        let part = self.part(from);
        let before = self.has("could", &(part.start..from + 1)) || self.has("could", &part);
        let is_if = |it: Found| {
            let part = self.part(it.from);
            !self.has("if-people", &part)
        };
        before || self.sentence.all("word", "if").any(is_if)
    }

    /// What somebody is told to do, or to leave for a while.
    fn is_told_to_do(&self, it: &Candidate, subject: &Subject, around: &Range<usize>) -> bool {
        let work = self.is_work();
        let may_tell = work || matches!(self.said.place, Place::Note);
        let doing = self.is("doing", it.to).or(self.is("doing", it.to + 1));
        let is_doing = it.form == Form::Absent && (doing.is_some() || self.has("doing", around));
        let mut near = subject.to..subject.to + 3;
        let waits = near.any(|at| self.is("for-a-while", at).is_some());
        let whole = self.sentence.whole();
        let later = self.has("for-a-while", &whole) || self.has_time();
        let told = self.is_told(around, it);
        let prohibited = !subject.is_strict() && self.has("must", around);
        let served = !subject.is_strict() && self.has("serve", &whole);
        let is_food = !subject.is_strict();
        let at_work = work && (told || later || self.is("the", it.to).is_some());
        let in_note = may_tell && (waits || (told && later) || (is_food && (told || later)));
        let is_undone = is_doing && (is_food || told);
        is_undone
            || at_work
            || in_note
            || (it.form == Form::Instead && told)
            || prohibited
            || served
    }

    /// Whether the words around a denial, or the sentence, tell somebody to do something. In
    /// German the verb may come last.
    fn is_told(&self, around: &Range<usize>, it: &Candidate) -> bool {
        let begins = |start: usize| {
            let at = self.is("not", start).unwrap_or(start);
            let is_order = |at: usize| self.is("order", at).is_some();
            let is_said = self.has("we", &(start..at + 1));
            is_order(start) || !is_said && (is_order(at) || is_order(at + 1))
        };
        let mut orders = self.sentence.all("word", "order");
        let ends = self.sentence.language.code == "de"
            && !self.has("we", around)
            && orders.any(|order| order.from >= it.to && around.contains(&order.from));
        begins(around.start) || begins(0) || ends
    }

    /// `for 5 minutes`.
    fn has_time(&self) -> bool {
        let is_time = |it: &&Found| {
            it.tag.kind == "unit" && matches!(it.tag.word, "min" | "h" | "s")
                || it.tag.kind == "minutes"
        };
        self.sentence.found.iter().any(|it| is_time(&it))
    }

    /// `Without salt the dough tears` is true of every dough.
    fn is_consequence(&self, it: &Candidate, subject: &Subject) -> bool {
        let count = self.sentence.tokens.len();
        let after = subject.to + usize::from(self.is_mark(subject.to, &[","]));
        let goes_on = after + 2 <= count && !self.is_break(after);
        let is_list = self.is("joint", after).is_some() || self.is("absent", after).is_some();
        let begins = self.is_plain(it.from) && it.from == 0 && subject.is_staple();
        begins && goes_on && !is_list
    }
}
