//! Foods and ingredients that a sentence names.

use super::{LANGUAGES, Language, Sentence, Tag};
use crate::formula::class::Class;
use crate::formula::{Allergen, Allergens, House, Ingredient, IngredientId, key};

const FOODS: &str = include_str!("foods.words");

/// Names of ingredients have at most so many words.
const MOST_WORDS: usize = 5;

/// Words of names that say what form a thing has, not what it is.
const FORMS: [&str; 40] = [
    "flour", "seed", "seeds", "oil", "powder", "whole", "white", "dark", "light", "ground",
    "dried", "fresh", "raw", "candied", "peel", "extract", "grain", "flakes", "meal", "syrup",
    "paste", "water", "starch", "unsalted", "salted", "black", "green", "golden", "brown", "fine",
    "drink", "juice", "zest", "puree", "berries", "malted", "toasted", "roasted", "hulled",
    "strong",
];

/// Something to eat that a sentence names.
#[derive(Clone, Debug)]
pub struct Food {
    /// The first word, and the first behind the last.
    pub from: usize,
    pub to: usize,
    pub what: What,
}

#[derive(Clone, Debug)]
pub enum What {
    /// Words, of which one stands in the names of such ingredients.
    Kind(&'static str),
    Ingredient(IngredientId),
}

impl Language {
    /// Learns the foods of the language of a number.
    pub(super) fn learn_foods(&mut self, index: usize) {
        for line in FOODS.lines().filter(|line| !line.starts_with('#')) {
            let mut columns = line.split('|').map(str::trim);
            let Some(word) = columns.next() else { continue };
            let phrases = columns.nth(index).unwrap_or("").split(',');
            phrases.for_each(|phrase| self.learn_phrase(phrase, Tag { kind: "food", word }));
        }
    }
}

/// What a sentence names, each the longest name that begins where it does.
pub fn foods(house: &House, sentence: &Sentence) -> Vec<Food> {
    let mut all: Vec<Food> = Vec::new();
    let mut at = 0;
    while at < sentence.tokens.len() {
        match food_at(house, sentence, at) {
            Some(food) => {
                at = food.to;
                all.push(food);
            }
            None => at += 1,
        }
    }
    all
}

/// The food whose name begins at a word.
pub fn food_at(house: &House, sentence: &Sentence, from: usize) -> Option<Food> {
    let kind = sentence.found.iter().find(|it| it.from == from && it.tag.kind == "food");
    let kind = kind.map(|it| Food { from, to: it.to, what: What::Kind(it.tag.word) });
    let named = ingredient_at(house, sentence, from).map(|(to, id)| Food {
        from,
        to,
        what: What::Ingredient(id),
    });
    match (kind, named) {
        (Some(kind), Some(named)) if named.to > kind.to => Some(named),
        (Some(kind), _) => Some(kind),
        (None, named) => named,
    }
}

fn ingredient_at(house: &House, sentence: &Sentence, from: usize) -> Option<(usize, IngredientId)> {
    let codes = match sentence.language.code {
        "" => &LANGUAGES[1..],
        "en" => &[],
        _ => std::slice::from_ref(&sentence.language.code),
    };
    let first = sentence.tokens.get(from)?;
    let begins = house.begins_a_name(&first.key) || sentence.written(from, from + 1).len() > 2;
    let most = (from + MOST_WORDS).min(sentence.tokens.len());
    (from + 1..=most).rev().filter(|_| begins).find_map(|to| {
        let name = sentence.written(from, to);
        if name.contains([',', '\n']) {
            return None;
        }
        let name = key(name);
        let own = house.ingredient_id(&name);
        let called = || codes.iter().find_map(|code| house.ingredient_called(code, &name));
        own.or_else(called).map(|id| (to, id))
    })
}

impl Food {
    /// Whether an ingredient is what is named here.
    pub fn is(&self, house: &House, ingredient: &Ingredient) -> bool {
        match &self.what {
            What::Kind(words) => words.split('/').any(|word| is_kind(ingredient, word)),
            What::Ingredient(id) => {
                let named = house.ingredient(*id);
                named.name.key == ingredient.name.key || shares_its_word(named, ingredient)
            }
        }
    }

    /// Whether it is called so.
    pub fn says(&self, word: &str) -> bool {
        matches!(self.what, What::Kind(kind) if kind == word)
    }

    /// The allergens that it holds, or the first ingredient of the stores that is it.
    pub fn allergens(&self, house: &House) -> Allergens {
        match &self.what {
            What::Ingredient(id) => house.ingredient(*id).declared.named,
            What::Kind(_) => {
                let mut all = house.ingredients().filter(|known| known.built_in);
                let first = all.find(|known| self.is(house, known));
                first.map_or(Allergens::NONE, |first| first.declared.named)
            }
        }
    }
}

/// One of many: `walnuts` is `walnut`, `cherries` is `cherry`.
fn is_same(word: &str, wanted: &str) -> bool {
    word == wanted
        || word.strip_suffix('s') == Some(wanted)
        || word.strip_suffix("es") == Some(wanted)
        || word.strip_suffix("ies").is_some_and(|stem| wanted.strip_suffix('y') == Some(stem))
}

fn is_kind(ingredient: &Ingredient, wanted: &str) -> bool {
    let mut contains = ingredient.declared.named.iter().map(Allergen::key);
    Class::read(wanted) == Some(ingredient.class)
        || words_of(&ingredient.name.key).any(|word| is_same(word, wanted))
        || contains.any(|word| is_same(word, wanted))
        || ingredient.name.key.contains(' ') && ingredient.name.key.as_str() == wanted
}

fn words_of(name: &str) -> impl Iterator<Item = &str> {
    name.split([' ', '-'])
}

/// `dark rye flour` and `rye flakes` are both rye; `rice flour` and `bread flour` have
/// only their form in common.
fn shares_its_word(one: &Ingredient, other: &Ingredient) -> bool {
    let telling = |word: &&str| !FORMS.contains(word);
    words_of(&one.name.key).filter(telling).any(|word| {
        words_of(&other.name.key).any(|same| is_same(same, word) || is_same(word, same))
    })
}
