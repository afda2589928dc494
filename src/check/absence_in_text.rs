//! `absence-in-text`: a text says that something is not in the bread, and that is wrong or
//! nobody knows it.
//!
//! `free from nuts`, `without egg`, `has no milk`, `gluten-free`, `vegan`, in five
//! languages whatever the house speaks, are claims like those of `expect`: silent only
//! where they are proved. Not a claim is what is denied itself (`not gluten-free`), what is
//! said of another version or another person, and what a step leaves out for a while
//! (`without the butter`, `no milk yet`).

use super::speech::{Found, Language, Sentence, food_at, sentences, tokens};
use super::{Context, Place, Said};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Absence, Allergen, LANGUAGES, Mention, mentions};
use crate::formula::{Proof, absence};
use std::ops::Range;

pub const RULE: Rule = Rule {
    name: "absence-in-text",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("absence_in_text.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for said in context.said().into_iter().chain(context.said_of_all()) {
        let tokens = tokens(&said.words);
        let mut told: Vec<String> = Vec::new();
        for sentence in sentences(&said.words, &tokens, Language::all()) {
            for claim in claims(&sentence, &said) {
                let finding = judge(context, &sentence, &said, &claim);
                let new = finding.filter(|finding| !told.contains(&finding.message));
                told.extend(new.iter().map(|finding| finding.message.clone()));
                findings.extend(new);
            }
        }
    }
}

/// A claim that something is not there, and which words make it.
struct Claim {
    words: Range<usize>,
    denied: Denied,
}

enum Denied {
    Absence(Absence),
    AllAllergens,
    /// An ingredient that is no allergen, by the word where its name begins.
    Food(usize),
}

fn claims(sentence: &Sentence, said: &Said) -> Vec<Claim> {
    let wanted = ["without", "free", "vegan", "vegetarian", "coeliac", "all-allergens", "allergy"];
    let is_claim = |it: &Found| it.tag.kind == "word" && wanted.contains(&it.tag.word);
    let compounds = compounds(sentence);
    if !sentence.found.iter().any(is_claim) && compounds.is_empty() {
        return Vec::new();
    }
    let reading = Reading { sentence, said, mentions: mentions(sentence.text, &LANGUAGES) };
    let mut all = compounds;
    for it in sentence.found.iter().filter(|it| is_claim(it)) {
        match it.tag.word {
            "without" => all.extend(reading.without(it)),
            "free" => all.extend(reading.free(it)),
            "all-allergens" => all.extend(reading.whole(it, Denied::AllAllergens)),
            "vegan" => all.extend(reading.diet(it, Absence::Vegan)),
            "vegetarian" => all.extend(reading.diet(it, Absence::Vegetarian)),
            "coeliac" => all.extend(reading.coeliac(it)),
            _ => all.extend(reading.allergy(it)),
        }
    }
    all
}

/// `glutenfrei`, `nussfreies`: one word that claims.
fn compounds(sentence: &Sentence) -> Vec<Claim> {
    const ENDINGS: [&str; 6] = ["frei", "freie", "freies", "freier", "freien", "freiem"];
    let claim = |at: usize| {
        let word = &sentence.tokens.get(at)?.key;
        let stem = ENDINGS.iter().find_map(|ending| word.strip_suffix(ending))?;
        let read = |end: &&str| Absence::read(&format!("{stem}{end}"));
        let absence = ["", "e", "n", "en", "er"].iter().find_map(read)?;
        (!is_denied(sentence, at))
            .then_some(Claim { words: at..at + 1, denied: Denied::Absence(absence) })
    };
    (0..sentence.tokens.len()).filter_map(claim).collect()
}

/// Whether a claim that begins at a word is denied: `not`, `is not suitable for`.
fn is_denied(sentence: &Sentence, from: usize) -> bool {
    let mut at = from;
    for _ in 0..4 {
        if sentence.word_before("negate", at).is_some() {
            return true;
        }
        match sentence.word_before("negate-filler", at) {
            Some(before) => at = before,
            None => return false,
        }
    }
    false
}

struct Reading<'a> {
    sentence: &'a Sentence<'a>,
    said: &'a Said<'a>,
    mentions: Vec<Mention>,
}

impl Reading<'_> {
    /// `free from nuts`, `without milk, egg or nuts`.
    fn without(&self, it: &Found) -> Vec<Claim> {
        let sentence = self.sentence;
        let mut all = Vec::new();
        if is_denied(sentence, it.from) || (self.is_work() && self.is_the(it.to)) {
            return all;
        }
        let mut at = it.to;
        loop {
            let from = self.past_fillers(at);
            let Some((to, denied)) = self.term(from, it) else { return all };
            let next = self.next_of_list(to);
            let goes_on = next.is_some_and(|next| self.term(self.past_fillers(next), it).is_some());
            if !goes_on && self.is_for_a_while(to) {
                return all;
            }
            all.push(Claim { words: it.from..to, denied });
            match next {
                Some(next) => at = next,
                None => return all,
            }
        }
    }

    /// `nut-free`.
    fn free(&self, it: &Found) -> Option<Claim> {
        let from = (it.from.saturating_sub(4)..it.from)
            .find(|&from| self.mention(from).is_some_and(|(to, _)| to == it.from));
        match from {
            Some(from) if !is_denied(self.sentence, from) && !self.is_of_other(from, it.to) => {
                let (_, absence) = self.mention(from)?;
                Some(Claim { words: from..it.to, denied: Denied::Absence(absence) })
            }
            _ => None,
        }
    }

    /// `gluten-free flour` is about the flour, `for a nut-free version` about another bread.
    fn is_of_other(&self, from: usize, to: usize) -> bool {
        let sentence = self.sentence;
        let food = sentence.found.iter().find(|it| it.from == to && it.tag.kind == "food");
        let bread =
            |at: usize| ["piece", "bread"].iter().any(|word| sentence.word_at(word, at).is_some());
        let other = sentence.word_at("version", to).is_some()
            && sentence.word_before("other-version", from).is_some();
        other || food.is_some_and(|food| !bread(food.to))
    }

    fn whole(&self, it: &Found, denied: Denied) -> Option<Claim> {
        (!is_denied(self.sentence, it.from)).then_some(Claim { words: it.from..it.to, denied })
    }

    /// `vegan`, but not `a vegan neighbour` nor `for a vegan version`.
    fn diet(&self, it: &Found, absence: Absence) -> Option<Claim> {
        let sentence = self.sentence;
        let other = sentence.word_at("version", it.to).is_some()
            && sentence.word_before("other-version", it.from).is_some();
        let people = sentence.word_at("people", it.to).is_some();
        let is_denied_after = sentence.word_at("negate", it.to).is_some();
        match other || people || is_denied_after {
            true => None,
            false => self.whole(it, Denied::Absence(absence)),
        }
    }

    /// `suitable for coeliacs`.
    fn coeliac(&self, it: &Found) -> Option<Claim> {
        let part = self.sentence.part(it.from);
        let suits = self.sentence.all("word", "suits").find(|suits| part.contains(&suits.from))?;
        let gluten = Absence::read("gluten")?;
        if self.sentence.has("negate", &part) || is_denied(self.sentence, suits.from) {
            return None;
        }
        let words = suits.from.min(it.from)..suits.to.max(it.to);
        Some(Claim { words, denied: Denied::Absence(gluten) })
    }

    /// `safe for people with a nut allergy`.
    fn allergy(&self, it: &Found) -> Option<Claim> {
        let part = self.sentence.part(it.from);
        let mut suits = self.sentence.all("word", "suits");
        let suits = suits.find(|suits| suits.from >= part.start && suits.to <= it.from)?;
        let (_, absence) = (suits.to..it.from).find_map(|from| self.mention(from))?;
        if self.sentence.has("negate", &part) {
            return None;
        }
        Some(Claim { words: suits.from..it.to, denied: Denied::Absence(absence) })
    }

    /// What stands at a word: an allergen, or else an ingredient, which is only claimed
    /// where the words are strong (`contains no`).
    fn term(&self, from: usize, without: &Found) -> Option<(usize, Denied)> {
        if let Some((to, absence)) = self.mention(from) {
            return Some((to, Denied::Absence(absence)));
        }
        let sentence = self.sentence;
        let mut strong = sentence.all("word", "contains-none");
        strong.find(|it| it.from <= without.from && it.to >= without.to)?;
        let food = sentence.found.iter().find(|it| it.from == from && it.tag.kind == "food")?;
        Some((food.to, Denied::Food(from)))
    }

    fn mention(&self, from: usize) -> Option<(usize, Absence)> {
        let tokens = self.sentence.tokens;
        let start = tokens.get(from)?.start;
        let mention = self.mentions.iter().find(|mention| mention.range.start == start)?;
        let behind = tokens[from..].iter().position(|token| token.start >= mention.range.end);
        Some((behind.map_or(tokens.len(), |behind| from + behind), mention.absence))
    }

    fn past_fillers(&self, mut at: usize) -> usize {
        for _ in 0..4 {
            match self.sentence.word_at("any", at).filter(|_| self.mention(at).is_none()) {
                Some(behind) => at = behind,
                None => break,
            }
        }
        at
    }

    /// Behind `, ` or `or`, or both.
    fn next_of_list(&self, to: usize) -> Option<usize> {
        let is_comma = self.sentence.tokens.get(to).is_some_and(|token| token.key == ",");
        let at = if is_comma { to + 1 } else { to };
        match self.sentence.word_at("or", at) {
            Some(behind) => Some(behind),
            None => is_comma.then_some(at),
        }
    }

    /// What a step or a stage says is about the work.
    fn is_work(&self) -> bool {
        matches!(self.said.place, Place::Step(_) | Place::Stage | Place::Line)
    }

    fn is_the(&self, at: usize) -> bool {
        self.sentence.word_at("the", at).is_some()
    }

    /// `no milk yet`.
    fn is_for_a_while(&self, to: usize) -> bool {
        let work = self.is_work() || matches!(self.said.place, Place::Note);
        work && (to..to + 2).any(|at| self.sentence.word_at("process", at).is_some())
    }
}

/// What is wrong with a claim.
fn judge(context: &Context, sentence: &Sentence, said: &Said, claim: &Claim) -> Option<Finding> {
    let words = sentence.written(claim.words.start, claim.words.end);
    match claim.denied {
        Denied::Absence(one) => not_proved(context, said, words, one),
        Denied::AllAllergens => {
            let all = Allergen::all().filter(|one| !one.is_group()).map(Absence::Allergen);
            all.filter_map(|one| not_proved(context, said, words, one)).next()
        }
        Denied::Food(from) => {
            let food = food_at(context.house, sentence, from)?;
            let held = context.worked.ingredients();
            let brings = held.into_iter().find(|held| food.is(context.house, held))?;
            let name = &brings.name.shown;
            Some(finding(
                said,
                format!("{} `{words}`, and `{name}` is in it", who_says(context, said)),
            ))
        }
    }
}

fn not_proved(context: &Context, said: &Said, words: &str, one: Absence) -> Option<Finding> {
    let says = who_says(context, said);
    match absence(context.worked, one) {
        Proof::Proved => None,
        Proof::Refuted(bringers) => {
            let first = bringers.first()?;
            let brings = match one {
                Absence::Allergen(_) => format!("contains {}", first.holds),
                Absence::Vegan | Absence::Vegetarian => {
                    format!("is from an animal ({})", first.holds)
                }
            };
            Some(finding(said, format!("{says} `{words}`, and `{}` {brings}", first.ingredient)))
        }
        Proof::NotKnown(names) => {
            let asks = match one {
                Absence::Allergen(one) => format!("contain {}", one.key()),
                Absence::Vegan | Absence::Vegetarian => "come from an animal".to_owned(),
            };
            let names = format!("`{}`", names.join("`, `"));
            let message =
                format!("{says} `{words}`, but nothing says that {names} does not {asks}");
            Some(Finding::new(&RULE, said.span, message).help(
                "say what the ingredient contains, after its packet: `contains nothing`, or `contains` \
                 and what; or take the words out of the text",
            ))
        }
    }
}

fn finding(said: &Said, message: String) -> Finding {
    Finding::new(&RULE, said.span, message)
        .help("take the words out of the text, or make it without")
}

/// What is printed everywhere is wrong in one formula and right in another.
fn who_says(context: &Context, said: &Said) -> String {
    match said.place {
        Place::House => {
            format!("`{}` is printed with", context.worked.formula.name.shown)
        }
        Place::Title => "this title says".into(),
        _ => "this text says".into(),
    }
}
