//! `ingredient-in-text`: a text puts something into the bread that the formula has
//! nowhere.
//!
//! Most foods in notes are only spoken of: `smooth as butter`, `the colour of cream`,
//! `goes with walnuts`. One is told where a verb of putting in comes before it (`brush with
//! milk`), where it does something itself (`the butter goes in last`), where tins are
//! greased with it, and in a title (`walnut loaf`).

use super::absence_in_text::{self, Denial};
use super::claim_not_proved;
use super::claims::{absence_asked, absences_of_style};
use super::context::{Context, Place, Said};
use super::facts;
use super::speech::{Food, Sentence, What, foods};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Absence, Allergen, Allergens, Ingredient};
use crate::source::Span;
use std::cell::OnceCell;

pub const RULE: Rule = Rule {
    name: "ingredient-in-text",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("ingredient_in_text.md"),
};

/// What sentences put into a formula, and what is there.
pub struct Foods<'a, 'c, 't> {
    context: &'a Context<'c, 't>,
    held: OnceCell<Vec<&'a Ingredient>>,
    denials: &'a [Denial],
    denied: OnceCell<Vec<Without>>,
}

/// What a formula is claimed to be without, where that is said, and as it is said.
struct Without {
    absence: Absence,
    span: Span,
    said: String,
    rule: &'static Rule,
}

impl<'a, 'c, 't> Foods<'a, 'c, 't> {
    /// `denials` are what texts say is not there.
    pub fn of(context: &'a Context<'c, 't>, denials: &'a [Denial]) -> Self {
        Self { context, held: OnceCell::new(), denials, denied: OnceCell::new() }
    }

    fn held(&self) -> &[&'a Ingredient] {
        self.held.get_or_init(|| self.context.worked.ingredients())
    }

    /// `told` has what the same text has named before.
    pub fn check(
        &self,
        said: &Said,
        sentence: &Sentence,
        told: &mut Vec<String>,
        findings: &mut Vec<Finding>,
    ) {
        let context = self.context;
        for food in foods_put_in(context, said, sentence) {
            let written = sentence.written(food.from, food.to);
            if told.iter().any(|known| *known == written.to_lowercase()) {
                continue;
            }
            told.push(written.to_lowercase());
            if self.is_in_denial(said, sentence, &food)
                || is_there(context, self.held(), &food, written)
            {
                continue;
            }
            let beside = self.beside_claims(said, &food, written);
            if !beside.is_empty() {
                findings.extend(beside);
                continue;
            }
            let new = new_allergens(context, self.held(), &food);
            // What may go in instead matters where it brings an allergen.
            let whole = sentence.whole();
            let other = ["instead", "unreal"].iter().any(|word| sentence.has(word, &whole));
            let may_be_meant = other || is_part_of_a_name(context, written);
            let goes_without =
                (may_be_meant && new.is_empty()) || names_what_raises(context, said, written);
            if !goes_without {
                findings.push(finding(said, written, &new));
            }
        }
    }

    /// Whether it stands in the words that say it is not there.
    fn is_in_denial(&self, said: &Said, sentence: &Sentence, food: &Food) -> bool {
        let start = sentence.tokens.get(food.from).map_or(0, |token| token.start);
        let mut denials = self.denials.iter();
        denials.any(|denial| denial.span == said.span && denial.words.contains(&start))
    }

    /// Claims that what a text puts in would make false: they are judged over what is
    /// weighed, and this is not.
    fn beside_claims(&self, said: &Said, food: &Food, written: &str) -> Vec<Finding> {
        let denied = self.denied.get_or_init(|| all_denied(self.context, self.denials));
        let mut told: Vec<&str> = Vec::new();
        let mut findings = Vec::new();
        for without in denied.iter().filter(|without| without.span != said.span) {
            let Some(brings) = food.brings(self.context.house, written, without.absence) else {
                continue;
            };
            if told.contains(&without.said.as_str()) {
                continue;
            }
            told.push(&without.said);
            let message = format!(
                "{}, but a text uses `{written}`, which {brings} and is on no line",
                without.said
            );
            findings.push(
                Finding::new(without.rule, without.span, message)
                    .here("claimed here")
                    .label(said.span, "and used here")
                    .help(
                        "take it out of the text, or remove the claim; what is used belongs on a \
                         line (a `piece` carries what goes on it)",
                    ),
            );
        }
        findings
    }
}

fn all_denied(context: &Context, denials: &[Denial]) -> Vec<Without> {
    let claims = context.worked.formula.expect.iter().filter_map(|claim| {
        let (absence, said, _) = absence_asked(claim)?;
        Some(Without { absence, span: claim.span, said, rule: PROOF })
    });
    let mut all: Vec<Without> = claims.collect();
    all.extend(absences_of_style(context).filter_map(|(style, without, _)| {
        let said = format!("the style `{}` is without {}", style.shown, without.shown);
        Some(Without { absence: Absence::read(&without.key)?, span: style.span, said, rule: PROOF })
    }));
    all.extend(denials.iter().filter_map(|denial| {
        let (span, said) = (denial.span, denial.said.clone());
        Some(Without { absence: denial.absence?, span, said, rule: &absence_in_text::RULE })
    }));
    all
}

const PROOF: &Rule = &claim_not_proved::RULE;

/// Whether the formula holds what is named.
fn is_there(context: &Context, held: &[&Ingredient], food: &Food, written: &str) -> bool {
    let name = crate::formula::key(written);
    let line = facts::is_mixed(context, &name) || context.line_names().any(|known| *known == *name);
    line || held.iter().any(|ingredient| food.is(context.house, ingredient))
}

/// Whether something on a line is called so in short: `the syrup` of `rum syrup`.
fn is_part_of_a_name(context: &Context, written: &str) -> bool {
    let name = crate::formula::key(written);
    context.line_names().any(|known| known.split(' ').any(|word| *word == *name))
}

/// Whether a title names what raises the bread: `Barm Loaf` with yeast in it.
fn names_what_raises(context: &Context, said: &Said, written: &str) -> bool {
    let known = context.house.ingredient_named(&crate::formula::key(written));
    matches!(said.place, Place::Title)
        && known.is_some_and(|it| matches!(it.class, Class::Yeast | Class::Leavener))
}

fn finding(said: &Said, written: &str, new: &[&str]) -> Finding {
    let which = match new.is_empty() {
        true => String::new(),
        false => format!("contains {} and ", new.join(" and ")),
    };
    let message = format!("this text mentions `{written}`, which {which}is not in the formula");
    Finding::new(&RULE, said.span, message).help(
        "add it where it is used (a `piece` carries what goes on it), or take it out of the text",
    )
}

/// The allergens of a food that nothing in the formula holds.
fn new_allergens(context: &Context, held: &[&Ingredient], food: &Food) -> Vec<&'static str> {
    // Where wheat is told, spelt is.
    let known = |one: &Allergen| {
        let mut told = Allergens::of(*one).to_print();
        told.any(|told| held.iter().any(|it| it.declared.contains(told)))
    };
    let all = food.allergens(context.house);
    all.iter().filter(|one| !known(one)).map(Allergen::key).collect()
}

/// The foods that a sentence says are in the bread. What is rinsed or wiped gets nothing in.
fn foods_put_in(context: &Context, said: &Said, sentence: &Sentence) -> Vec<Food> {
    let whole = sentence.whole();
    let may_put_in = matches!(said.place, Place::Title)
        || ["act", "subject-verb", "greased"].iter().any(|word| sentence.has(word, &whole));
    if !may_put_in
        || matches!(said.place, Place::House)
        || ["trace", "story", "clean"].iter().any(|word| sentence.has(word, &whole))
    {
        return Vec::new();
    }
    let all = foods(context.house, sentence);
    let is_in = |food: &Food| match said.place {
        Place::Title => is_in_title(sentence, food),
        _ => is_put_in(sentence, food),
    };
    let mut found: Vec<Food> = all.into_iter().filter(is_in).collect();
    found.extend(greased(said, sentence));
    found
}

/// `Loaf with walnuts`, `Walnut Loaf`.
fn is_in_title(sentence: &Sentence, food: &Food) -> bool {
    let with = sentence.word_before("title-with", food.from).is_some_and(|from| from > 0);
    let bread = sentence.word_at("piece", food.to).or(sentence.word_at("bread", food.to));
    with || bread.is_some()
}

fn is_put_in(sentence: &Sentence, food: &Food) -> bool {
    if is_denied(sentence, food) || is_only_mentioned(sentence, food) {
        return false;
    }
    let language = sentence.language.code;
    let act = sentence.all("word", "act").any(|it| {
        // In German the verb may come last.
        it.to <= food.from || (language == "de" && it.from >= food.to)
    });
    act || does_something(sentence, food)
}

/// `without butter` speaks of butter that is not there.
fn is_denied(sentence: &Sentence, food: &Food) -> bool {
    let mut from = food.from;
    for _ in 0..4 {
        if sentence.word_before("without", from).is_some()
            || sentence.word_before("negate", from).is_some()
        {
            return true;
        }
        let passed = ["any", "or", "the"].iter().find_map(|word| sentence.word_before(word, from));
        match passed.or_else(|| (from > 0 && is_comma(sentence, from - 1)).then(|| from - 1)) {
            Some(before) => from = before,
            None => break,
        }
    }
    sentence.word_at("free", food.to).is_some()
}

fn is_comma(sentence: &Sentence, at: usize) -> bool {
    sentence.tokens.get(at).is_some_and(|token| token.key == ",")
}

/// Whether a food stands for a look, a size or a smell, is served beside the bread, or is
/// a part of another word: `butter knife`.
fn is_only_mentioned(sentence: &Sentence, food: &Food) -> bool {
    let part = sentence.part(food.from);
    let compared = sentence
        .all("word", "compare")
        .any(|it| it.from >= part.start && it.to <= food.from && food.from - it.to <= 5);
    let served = sentence.all("word", "serve").any(|it| it.to <= food.from);
    // `Dust the baskets with rye`; but not `in sesame before they go into the baskets`.
    let place = sentence
        .all("word", "place-of-work")
        .any(|it| part.contains(&it.from) && (it.to <= food.from || it.from <= food.to + 3));
    let sliced = sentence.all("word", "on-slice").any(|it| part.contains(&it.from));
    compared || served || sliced || place || sentence.word_at("not-food", food.to).is_some()
}

/// `the butter goes in last`, `milk makes the crumb soft`; not `butter goes with it`.
fn does_something(sentence: &Sentence, food: &Food) -> bool {
    let verb = sentence.word_at("subject-verb", food.to);
    verb.is_some_and(|behind| sentence.word_at("serve", food.to).is_none_or(|to| to <= behind))
        && !sentence.all("word", "serve").any(|it| it.from == food.to)
}

/// `buttered tins`: the butter is in no line.
fn greased(said: &Said, sentence: &Sentence) -> Option<Food> {
    if matches!(said.place, Place::Headnote | Place::Storage | Place::Title) {
        return None;
    }
    let greased = sentence.all("word", "greased").next()?;
    sentence.has("vessel", &(greased.from..greased.to + 3)).then_some(())?;
    Some(Food { from: greased.from, to: greased.to, what: What::Kind("butter") })
}
