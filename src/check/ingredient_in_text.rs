//! `ingredient-in-text`: a text puts something into the bread that the formula has
//! nowhere.
//!
//! Most foods in notes are only spoken of: `smooth as butter`, `the colour of cream`,
//! `goes with walnuts`. One is told where a verb of putting in comes before it (`brush with
//! milk`), where it does something itself (`the butter goes in last`), where tins are
//! greased with it, and in a title (`walnut loaf`).

use super::beside_claims::{Foods, new_allergens};
use super::context::{Context, PlainText, SaidAt};
use super::facts;
use super::harmless::ReadSentence;
use super::speech::{Food, FoodMention, Sentence, TokenKind, foods, read_named};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Allergen, House, Ingredient, is_code};

/// `ingredient-in-text`, a warning about texts, and an error where it brings an allergen.
pub const RULE: Rule = Rule {
    name: "ingredient-in-text",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("ingredient_in_text.md"),
};

impl Foods<'_, '_, '_> {
    /// Reports what a sentence [puts into the bread](foods_put_in) though it is not there;
    /// `told` has what the same text has named before.
    pub fn check(
        &self,
        said: &PlainText,
        put_in: (&Sentence, &[Food]),
        told: &mut Vec<String>,
        findings: &mut Vec<Finding>,
    ) {
        // What a note offers as a variation is no bread of this formula; in a step it is done.
        const VARIES: &[&str] =
            &["variation", "variant", "variante", "variación", "abwandlung", "option"];
        let sentence = put_in.0;
        let small = said.words.trim_start().to_lowercase();
        let is_offered = matches!(said.place, SaidAt::Note)
            && (VARIES.iter().any(|word| small.starts_with(word))
                || ["instead", "unreal"].iter().any(|it| sentence.has(it, &sentence.whole())));
        for (written, new) in self.missing(said, put_in) {
            let key = written.to_lowercase();
            if !told.contains(&key) {
                told.push(key);
                let found = finding(said, written, &new);
                findings.push(if is_offered { found.level(Level::Warning) } else { found });
            }
        }
    }

    /// What a sentence puts in though it is not there, as it is written, with the allergens that
    /// nothing in the formula holds.
    pub fn missing<'m>(
        &self,
        said: &PlainText,
        (sentence, foods): (&'m Sentence, &[Food]),
    ) -> Vec<(&'m str, Vec<&'static str>)> {
        let context = self.context;
        let whole = sentence.whole();
        let missing = |food: &Food| {
            let written = sentence.written(food.from, food.to);
            if is_code(written) {
                return None;
            }
            if self.is_in_denial(said, sentence, food)
                || is_there(context, self.held(), food, written)
            {
                return None;
            }
            let new = new_allergens(context, self.held(), food);
            if is_at_work(sentence, food) && !is_first_gluten(context, self.held(), food) {
                return None;
            }
            // What may go in instead matters where it brings an allergen.
            let other = ["instead", "unreal"].iter().any(|word| sentence.has(word, &whole));
            let may_be_meant = other || is_part_of_a_name(context, written);
            let goes_without =
                (may_be_meant && new.is_empty()) || names_what_raises(context, said, written);
            (!goes_without).then_some((written, new))
        };
        foods.iter().filter_map(missing).collect()
    }
}

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
fn names_what_raises(context: &Context, said: &PlainText, written: &str) -> bool {
    let known = context.house.ingredient_named(&crate::formula::key(written));
    matches!(said.place, SaidAt::Title)
        && known.is_some_and(|it| matches!(it.class, Class::Yeast | Class::Leavener))
}

/// What a text names that is not in the formula; an error where the allergens that are printed
/// would leave one out.
pub fn finding(said: &PlainText, written: &str, new: &[&str]) -> Finding {
    let which = match new.is_empty() {
        true => String::new(),
        false => format!("contains {} and ", new.join(" and ")),
    };
    let message = format!("this text mentions `{written}`, which {which}is not in the formula");
    let found = Finding::new(&RULE, said.place_of(written), message).help(
        "add it where it is used (a `piece` carries what goes on it), or take it out of the text",
    );
    let is_work =
        matches!(said.place, SaidAt::Step(_) | SaidAt::Stage | SaidAt::Line | SaidAt::Note);
    match is_work && !new.is_empty() {
        true => found
            .level(Level::Error)
            .of_health()
            .note("the allergens on the prints are those of the lines: this one would be missing"),
        false => found,
    }
}

/// The foods that a sentence says are in the bread. What is rinsed or wiped gets nothing in.
pub fn foods_put_in(house: &House, said: &PlainText, sentence: &Sentence) -> Vec<Food> {
    let whole = sentence.whole();
    let named = read_named(sentence, sentence.language);
    let may_put_in = matches!(said.place, SaidAt::Title)
        || ["act", "subject-verb", "greased"].iter().any(|word| sentence.has(word, &whole))
        || ["holds", "is-there", "in-bread", "flouring"].iter().any(|word| named.has(word, &whole))
        || names_amount(sentence);
    if !may_put_in
        || matches!(said.place, SaidAt::House)
        || ["trace", "story", "clean"].iter().any(|word| sentence.has(word, &whole))
    {
        return Vec::new();
    }
    let all = foods(house, sentence);
    let reading = ReadSentence { words: sentence, named: &named, foods: &all };
    let is_in = |food: &&Food| match said.place {
        SaidAt::Title => is_in_title(sentence, food),
        _ => is_put_in(&reading, food),
    };
    let mut found: Vec<Food> = all.iter().filter(is_in).cloned().collect();
    found.extend(greased(said, sentence));
    found
}

/// Whether a sentence names a number or a unit, which may be how much of something.
fn names_amount(sentence: &Sentence) -> bool {
    sentence.tokens.iter().any(|it| it.kind == TokenKind::Number)
        || sentence.found.iter().any(|it| ["n", "unit"].contains(&it.tag.kind))
}

/// `Loaf with walnuts`, `Walnut Loaf`.
fn is_in_title(sentence: &Sentence, food: &Food) -> bool {
    let with = sentence.word_before("title-with", food.from).is_some_and(|from| from > 0);
    let bread = sentence.word_at("piece", food.to).or(sentence.word_at("bread", food.to));
    with || bread.is_some()
}

fn is_put_in(reading: &ReadSentence, food: &Food) -> bool {
    let sentence = reading.words;
    // Water is in every kitchen: for hands, for steam, for the crust.
    if food.says("water")
        || reading.is_denied(food)
        || reading.is_harmless(food)
        || is_only_mentioned(sentence, food)
    {
        return false;
    }
    let language = sentence.language.code;
    let act = sentence.all("word", "act").any(|it| {
        // In German the verb may come last.
        it.to <= food.from || (language == "de" && it.from >= food.to)
    });
    // `Flour the baskets with wheat flour.`
    let floured = || reading.named.all("word", "flouring").any(|it| it.to <= food.from);
    act || does_something(sentence, food) || reading.is_held(food) || floured()
}

/// Whether a food stands for a look, a size or a smell, is served beside the bread, or is
/// a part of another word: `butter knife`.
fn is_only_mentioned(sentence: &Sentence, food: &Food) -> bool {
    let part = sentence.part(food.from);
    let compared = sentence
        .all("word", "compare")
        .any(|it| it.from >= part.start && it.to <= food.from && food.from - it.to <= 5);
    let served = sentence.all("word", "serve").any(|it| it.to <= food.from);
    let sliced = sentence.all("word", "on-slice").any(|it| part.contains(&it.from));
    compared || served || sliced || sentence.word_at("not-food", food.to).is_some()
}

/// `Dust the baskets with rye`; but not `in sesame before they go into the baskets`.
fn is_at_work(sentence: &Sentence, food: &Food) -> bool {
    let part = sentence.part(food.from);
    sentence
        .all("word", "place-of-work")
        .any(|it| part.contains(&it.from) && (it.to <= food.from || it.from <= food.to + 3))
}

/// Whether a food has gluten in it and nothing in the formula has: dust of wheat on a board is
/// nothing to bread of wheat, and everything to bread of rice.
fn is_first_gluten(context: &Context, held: &[&Ingredient], food: &Food) -> bool {
    let Some(gluten) = Allergen::claimed("gluten") else { return true };
    food.allergens(context.house).iter().any(|one| one == gluten || one.wider().holds(gluten))
        && !held.iter().any(|it| it.declared.named.widened().holds(gluten))
}

/// `the butter goes in last`, `milk makes the crumb soft`; not `butter goes with it`.
fn does_something(sentence: &Sentence, food: &Food) -> bool {
    let verb = sentence.word_at("subject-verb", food.to);
    verb.is_some_and(|behind| sentence.word_at("serve", food.to).is_none_or(|to| to <= behind))
        && !sentence.all("word", "serve").any(|it| it.from == food.to)
}

/// `buttered tins`: the butter is in no line.
fn greased(said: &PlainText, sentence: &Sentence) -> Option<Food> {
    if matches!(said.place, SaidAt::Headnote | SaidAt::Storage | SaidAt::Title) {
        return None;
    }
    let greased = sentence.all("word", "greased").next()?;
    sentence.has("vessel", &(greased.from..greased.to + 3)).then_some(())?;
    Some(Food { from: greased.from, to: greased.to, what: FoodMention::Kind("butter") })
}
