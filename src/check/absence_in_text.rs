//! `absence-in-text`: a text says that something is not in the bread, and that is wrong or
//! nobody knows it.
//!
//! `free from nuts`, `without egg`, `has no milk`, `gluten-free`, `vegan`, in five
//! languages whatever the house speaks, are claims like those of `expect`: silent only
//! where they are proved. Not a claim is what is denied itself (`not gluten-free`), what is
//! said of another version or another person, and what a step leaves out for a while
//! (`without the butter`, `no milk yet`).

use super::claims::way_of;
use super::context::{Context, Place, Said};
use super::speech::{Found, Language, Sentence, Token, first_words, food_at, sentences};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Absence, Allergen, Ingredient, LANGUAGES, Mention, Proof, absence, mentions};
use crate::source::Span;
use rustc_hash::FxHashSet;
use std::ops::Range;
use std::sync::LazyLock;

pub const RULE: Rule = Rule {
    name: "absence-in-text",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("absence_in_text.md"),
};

/// The words of tables with which a claim begins.
const CLAIMS: [&str; 9] = [
    "without",
    "free",
    "vegan",
    "vegetarian",
    "coeliac",
    "all-allergens",
    "allergy",
    "nothing-but",
    "only",
];

/// The first words of all phrases that claim something, to pass over other texts quickly.
static FIRST_WORDS: LazyLock<FxHashSet<String>> = LazyLock::new(|| first_words(&CLAIMS));

/// What a text says is not in the bread.
pub struct Denial {
    /// None where it is neither an allergen nor a diet.
    pub absence: Option<Absence>,
    pub span: Span,
    /// The words that say it, in bytes of the text.
    pub words: Range<usize>,
    /// For a message: "this text says `free from nuts`".
    pub said: String,
}

/// Reports what a text denies falsely, and hands on all that it denies.
pub fn check(
    context: &Context,
    said: &Said,
    tokens: &[Token],
    findings: &mut Vec<Finding>,
) -> Vec<Denial> {
    let mut told: Vec<String> = Vec::new();
    let mut denials = Vec::new();
    each_claim(said, tokens, |sentence, claim| {
        let finding = judge(context, sentence, said, &claim);
        let new = finding.filter(|finding| !told.contains(&finding.message));
        told.extend(new.iter().map(|finding| finding.message.clone()));
        findings.extend(new);
        denials.extend(denials_of(context, sentence, said, &claim));
    });
    denials
}

fn denials_of(context: &Context, sentence: &Sentence, said: &Said, claim: &Claim) -> Vec<Denial> {
    let written = sentence.written(claim.words.start, claim.words.end);
    let start = sentence.tokens.get(claim.words.start).map_or(0, |token| token.start);
    let denial = |absence: Option<Absence>| Denial {
        absence,
        span: said.span,
        words: start..start + written.len(),
        said: format!("{} `{written}`", who_says(context, said)),
    };
    match claim.denied {
        Denied::Absence(one) => vec![denial(Some(one))],
        Denied::AllAllergens => {
            Allergen::all().map(|one| denial(Some(Absence::Allergen(one)))).collect()
        }
        Denied::Food(_) | Denied::AllElse => vec![denial(None)],
    }
}

fn each_claim(said: &Said, tokens: &[Token], mut each: impl FnMut(&Sentence, Claim)) {
    let may_claim = |token: &Token| {
        FIRST_WORDS.contains(token.key.as_ref())
            || free_stem(&token.key).is_some()
            || allergy_stem(&token.key).is_some()
    };
    if !tokens.iter().any(may_claim) {
        return;
    }
    for sentence in sentences(&said.words, tokens, Language::all()) {
        claims(&sentence, said).into_iter().for_each(|claim| each(&sentence, claim));
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
    /// All that is not named after these words.
    AllElse,
}

fn claims(sentence: &Sentence, said: &Said) -> Vec<Claim> {
    let is_claim = |it: &Found| it.tag.kind == "word" && CLAIMS.contains(&it.tag.word);
    let compounds = compounds(sentence);
    let is_allergy = |token: &Token| allergy_stem(&token.key).is_some();
    let may_claim = sentence.found.iter().any(is_claim) || sentence.tokens.iter().any(is_allergy);
    if !may_claim && compounds.is_empty() {
        return Vec::new();
    }
    let reading = Reading { sentence, said, mentions: mentions(sentence.text, &LANGUAGES) };
    let mut all = compounds;
    all.extend(reading.allergy_compound());
    for it in sentence.found.iter().filter(|it| is_claim(it)) {
        match it.tag.word {
            "without" => all.extend(reading.without(it)),
            "free" => all.extend(reading.free(it)),
            "all-allergens" => all.extend(reading.whole(it, Denied::AllAllergens)),
            "vegan" => all.extend(reading.diet(it, Absence::Vegan)),
            "vegetarian" => all.extend(reading.diet(it, Absence::Vegetarian)),
            "coeliac" => all.extend(reading.coeliac(it)),
            "nothing-but" => all.extend(reading.nothing_but(it, 2)),
            "only" => all.extend(reading.nothing_but(it, 3)),
            _ => all.extend(reading.allergy(it)),
        }
    }
    all
}

/// `nuss` of `nussfreies`.
fn free_stem(word: &str) -> Option<&str> {
    const ENDINGS: [&str; 6] = ["frei", "freie", "freies", "freier", "freien", "freiem"];
    let stem = ENDINGS.iter().find_map(|ending| word.strip_suffix(ending))?;
    (!stem.is_empty()).then_some(stem)
}

/// `gluten` of `Glutenunverträglichkeit`.
fn allergy_stem(word: &str) -> Option<Absence> {
    const ENDINGS: [&str; 6] =
        ["unverträglichkeit", "intoleranz", "allergie", "allergien", "allergiker", "allergikern"];
    let stem = ENDINGS.iter().find_map(|ending| word.strip_suffix(ending))?;
    Absence::read(stem).or_else(|| Absence::read(stem.strip_suffix('s')?))
}

/// `glutenfrei`, `nussfreies`: one word that claims.
fn compounds(sentence: &Sentence) -> Vec<Claim> {
    let claim = |at: usize| {
        let stem = free_stem(&sentence.tokens.get(at)?.key)?;
        let read = |end: &&str| Absence::read(&format!("{stem}{end}"));
        let absence = ["", "e", "n", "en", "er"].iter().find_map(read)?;
        (!is_denied(sentence, at) && !is_denied_after(sentence, at + 1))
            .then_some(Claim { words: at..at + 1, denied: Denied::Absence(absence) })
    };
    (0..sentence.tokens.len()).filter_map(claim).collect()
}

/// Whether a claim that ends at a word is denied after it: `glutenfrei ist es nicht`.
fn is_denied_after(sentence: &Sentence, to: usize) -> bool {
    let part = sentence.part(to.saturating_sub(1));
    let mut verbs = sentence.all("word", "is-verb");
    verbs.any(|it| it.from == to) && sentence.has("negate-last", &(to..part.end))
}

/// Whether a claim that begins at a word is denied: `not`, `is not suitable for`.
fn is_denied(sentence: &Sentence, from: usize) -> bool {
    let mut at = from;
    for _ in 0..6 {
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
        // What people do not eat may be in the bread.
        let of_people = sentence.has("eats", &sentence.part(it.from));
        if of_people || is_denied(sentence, it.from) || (self.is_work() && self.is_the(it.to)) {
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

    /// `made of nothing but flour, water and salt`, which says that all else is not there.
    /// Where the words are weak (`only`), so many foods have to follow; what a step says is
    /// about the step.
    fn nothing_but(&self, it: &Found, least: usize) -> Option<Claim> {
        let whole = self.sentence.whole();
        let other = ["serve", "act", "story", "unreal", "trace"];
        if self.is_work()
            || is_denied(self.sentence, it.from)
            || other.iter().any(|word| self.sentence.has(word, &whole))
        {
            return None;
        }
        let foods = self.listed(it.to);
        let to = foods.last()?.to;
        (foods.len() >= least).then_some(Claim { words: it.from..to, denied: Denied::AllElse })
    }

    /// The foods of a list that begins at a word: `flour, water and a little salt`.
    fn listed(&self, from: usize) -> Vec<&Found> {
        let mut foods = self.sentence.found.iter().filter(|it| it.tag.kind == "food");
        let mut found: Vec<&Found> = Vec::new();
        let mut end = from;
        loop {
            let next = foods.find(|food| food.from >= end);
            match next.filter(|food| food.from <= end + 4) {
                Some(food) => {
                    end = food.to;
                    found.push(food);
                }
                None => return found,
            }
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

    /// `für Menschen mit Glutenunverträglichkeit`.
    fn allergy_compound(&self) -> Option<Claim> {
        let sentence = self.sentence;
        let stem = |at: &usize| allergy_stem(&sentence.tokens[*at].key).map(|it| (*at, it));
        let (at, absence) = (0..sentence.tokens.len()).find_map(|at| stem(&at))?;
        let part = sentence.part(at);
        let mut suits = sentence.all("word", "suits");
        let suits = suits.find(|suits| part.contains(&suits.from))?;
        let words = suits.from.min(at)..suits.to.max(at + 1);
        let is_denied = sentence.has("negate", &part);
        (!is_denied).then_some(Claim { words, denied: Denied::Absence(absence) })
    }

    /// `safe for people with a nut allergy`.
    fn allergy(&self, it: &Found) -> Option<Claim> {
        let part = self.sentence.part(it.from);
        let mut suits = self.sentence.all("word", "suits");
        let suits = suits.find(|suits| suits.from >= part.start && suits.to <= it.from)?;
        let near = (suits.to..it.from).chain(it.to..it.to + 3);
        let (_, absence) = near.into_iter().find_map(|from| self.mention(from))?;
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
        Denied::AllElse => not_named(context, sentence, said, claim),
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

/// What is in a formula though a text names all that there is.
fn not_named(
    context: &Context,
    sentence: &Sentence,
    said: &Said,
    claim: &Claim,
) -> Option<Finding> {
    let named = claim.words.clone().filter_map(|at| food_at(context.house, sentence, at));
    let named: Vec<_> = named.collect();
    // Leavens are flour and water.
    let is_named = |held: &&Ingredient| {
        held.class == Class::Water || named.iter().any(|food| food.is(context.house, held))
    };
    let held = context.worked.ingredients();
    let other = held.into_iter().find(|held| !is_named(held))?;
    let words = sentence.written(claim.words.start, claim.words.end);
    let message =
        format!("{} `{words}`, and `{}` is in it", who_says(context, said), other.name.shown);
    Some(finding(said, message).help("name it too, or take the words out of the text"))
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
            let message = format!("{says} `{words}`, and `{}` {brings}", first.ingredient);
            let way = way_of(context, first);
            let told = finding(said, message);
            Some(match way {
                Some(way) => told.note(way),
                None => told,
            })
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
                "say what the ingredient contains, as its packet has it: `contains nothing`, or \
                `contains` \
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
        Place::House | Place::Name | Place::Part => {
            format!("`{}` is printed with", context.worked.formula.name.shown)
        }
        Place::Title => "this title says".into(),
        _ => "this text says".into(),
    }
}
