//! Foods and ingredients that a sentence names.

use super::{FOODS, LANGUAGES, Language, Sentence, Tag, TokenKind};
use crate::formula::class::Class;
use crate::formula::{
    Absence, Allergen, Allergens, Declared, House, Ingredient, IngredientId, Judged, Told,
    begins_a_called_name, begins_a_spoken_name, built_in, key, spoken_somewhere, told_by_name,
    told_in_text,
};
use crate::source::cells;
use std::ops::Range;

/// Names of ingredients have at most so many words.
pub const MAX_WORDS: usize = 5;

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
    /// The first word after the last.
    pub to: usize,
    /// What it is.
    pub what: FoodMention,
}

/// What a food that is named is.
#[derive(Clone, Debug)]
pub enum FoodMention {
    /// Words, of which one stands in the names of such ingredients.
    Kind(&'static str),
    /// An ingredient by its name.
    Ingredient(IngredientId),
    /// One of several ingredients that are called so here or there: `manteca`.
    Either(Vec<IngredientId>),
    /// A German word that is put together of such things: `Haselnussmehl`.
    Compound(Declared),
    /// A baked thing, which may be the bread itself: `brioche`.
    Baked(Declared),
}

impl Language {
    /// Learns the foods of the language of a number.
    pub(super) fn learn_foods(&mut self, index: usize) {
        for line in FOODS.lines().filter(|line| !line.starts_with('#')) {
            let mut columns = cells(line, b'|');
            let Some(word) = columns.next() else { continue };
            let phrases = cells(columns.nth(index).unwrap_or_default(), b',');
            phrases.for_each(|phrase| self.phrases.learn(phrase, Tag { kind: "food", word }));
        }
    }
}

/// All foods that a sentence read in every language names: by the words of tables, by the
/// house's own names, and by words that tell what is in whatever is called so.
pub fn foods_told(house: &House, sentence: &Sentence, spoken: &'static Language) -> Vec<Food> {
    // A few words of which the language knows none may be German: `Haselnusskrokant darauf`.
    let is_german = spoken.code == "de" || sentence.read_in(spoken).found.is_empty();
    let told = told_in(sentence, is_german);
    let mut all = foods_beside(house, sentence, &told);
    // `sirop d'orgeat` is more than a syrup.
    let is_more = |words: &Range<usize>, food: &Food| {
        words.start <= food.from && food.to <= words.end && words.len() > food.to - food.from
    };
    all.retain(|food| !told.iter().any(|(words, _)| is_more(words, food)));
    for (words, told) in &told {
        if !all.iter().any(|food| overlaps(food, words)) {
            let holds = Declared::of_told(told);
            let what = if told.is_baked() {
                FoodMention::Baked(holds)
            } else {
                FoodMention::Compound(holds)
            };
            all.push(Food { from: words.start, to: words.end, what });
        }
    }
    let house_speaks = house.settings.language.as_ref().map_or("en", |it| it.value.as_str());
    add_spoken(house, sentence, &[spoken.code, house_speaks], (&told, is_german), &mut all);
    all
}

/// Short words that some language calls an ingredient, and that are everyday words of another.
const EVERYDAY: &[&str] = &["son", "til", "impulsor"];

/// Letters of the longest of them, with room for what their key has not.
const MAX_EVERYDAY: usize = 12;

/// Adds what some country calls an ingredient: `Mehl Type 550`, `harina de fuerza`. A longer
/// name takes the place of the words in it.
fn add_spoken(
    house: &House,
    sentence: &Sentence,
    languages: &[&str],
    (told, compounds): (&[ToldAt], bool),
    all: &mut Vec<Food>,
) {
    // `butter beans` are no butter, and `a speck of flour` is no bacon.
    let is_itself = |food: &Food| {
        told.iter().any(|(words, _)| overlaps(food, words))
            || told_in_text(sentence.written(food.from, food.to), compounds).is_empty()
    };
    let mut at = 0;
    while at < sentence.tokens.len() {
        let Some(food) = spoken_at(house, sentence, at, languages) else {
            at += 1;
            continue;
        };
        at = food.to;
        if !is_itself(&food) {
            continue;
        }
        let words = food.from..food.to;
        let is_inside = |it: &Food| food.from <= it.from && it.to <= food.to;
        let is_longer = |it: &Food| is_inside(it) && it.to - it.from < food.to - food.from;
        if all.iter().filter(|it| overlaps(it, &words)).all(is_longer) {
            all.retain(|it| !overlaps(it, &words));
            all.push(food);
        }
    }
}

/// The longest name of any country that begins at a word; everyday words are names only in
/// some languages.
pub fn spoken_at(
    house: &House,
    sentence: &Sentence,
    from: usize,
    languages: &[&str],
) -> Option<Food> {
    let first = sentence.tokens.get(from).filter(|it| it.kind != TokenKind::Comma)?;
    // `W700` is one word, and two tokens.
    let text = sentence.text.get(first.start..).unwrap_or_default();
    let word = text.split(|letter: char| !letter.is_alphanumeric()).next().unwrap_or_default();
    if !begins_a_spoken_name(word) {
        return None;
    }
    let most = (from + MAX_WORDS + 1).min(sentence.tokens.len());
    (from + 1..=most).rev().find_map(|to| {
        let name = sentence.written(from, to);
        // `milk ✗` is more than a name.
        let is_name =
            name.starts_with(char::is_alphanumeric) && name.ends_with(char::is_alphanumeric);
        if !is_name || name.contains([',', '\n']) {
            return None;
        }
        let is_short = name.len() <= MAX_EVERYDAY;
        let is_everyday = is_short && EVERYDAY.contains(&key(name).as_str());
        let meant = spoken_somewhere(name).filter(|(language, _)| {
            !is_everyday || languages.iter().any(|it| it.starts_with(language))
        });
        // A house may have declared it anew.
        let known = |id: IngredientId| {
            house.ingredient_id(&built_in().ingredient(id).name.key).unwrap_or(id)
        };
        let mut ids: Vec<IngredientId> = meant.map(|(_, id)| known(id)).collect();
        ids.dedup();
        let what = match *ids {
            [] => return None,
            [id] => FoodMention::Ingredient(id),
            _ => FoodMention::Either(ids),
        };
        Some(Food { from, to, what })
    })
}

/// What a sentence names; what is another food in its phrase is none: `cocoa butter`.
pub fn foods(house: &House, sentence: &Sentence) -> Vec<Food> {
    foods_beside(house, sentence, &told_in(sentence, sentence.language.code == "de"))
}

type ToldAt = (Range<usize>, Told);

fn overlaps(food: &Food, words: &Range<usize>) -> bool {
    food.from < words.end && words.start < food.to
}

/// Each the longest name that begins where it does.
fn foods_beside(house: &House, sentence: &Sentence, told: &[ToldAt]) -> Vec<Food> {
    let is_itself = |food: &Food| {
        let written = sentence.written(food.from, food.to);
        told.iter().any(|(words, _)| overlaps(food, words))
            || told_in_text(written, sentence.language.code == "de").is_empty()
    };
    let mut all: Vec<Food> = Vec::new();
    let mut at = 0;
    while at < sentence.tokens.len() {
        match food_at(house, sentence, at) {
            Some(food) => {
                at = food.to;
                all.extend(Some(food).filter(&is_itself));
            }
            None => at += 1,
        }
    }
    all
}

/// What the words between commas tell, by the numbers of the words.
fn told_in(sentence: &Sentence, compounds: bool) -> Vec<ToldAt> {
    let tokens = sentence.tokens;
    let mut all = Vec::new();
    for part in tokens.split(|token| token.kind == TokenKind::Comma) {
        let (Some(first), Some(last)) = (part.first(), part.last()) else { continue };
        let text = sentence.text.get(first.start..last.end).unwrap_or_default();
        for told in told_in_text(text, compounds) {
            let (start, end) = (first.start + told.range.start, first.start + told.range.end);
            let from = tokens.partition_point(|token| token.end <= start);
            let to = tokens.partition_point(|token| token.start < end);
            all.push((from..to, told));
        }
    }
    all
}

/// The food whose name begins at a word.
pub fn food_at(house: &House, sentence: &Sentence, from: usize) -> Option<Food> {
    let kind = sentence.found.iter().find(|it| it.from == from && it.tag.kind == "food");
    let kind = kind.map(|it| Food { from, to: it.to, what: FoodMention::Kind(it.tag.word) });
    let named = ingredient_at(house, sentence, from).map(|(to, id)| Food {
        from,
        to,
        what: FoodMention::Ingredient(id),
    });
    match (kind, named) {
        (Some(kind), Some(named)) if named.to > kind.to => Some(named),
        (Some(kind), _) => Some(kind),
        (None, None) => compound_at(sentence, from),
        // `Weizenmehl`, `farine de blé courante` are any wheat flour.
        (None, Some(named)) if is_plain_flour(house, sentence, &named) => {
            Some(Food { what: FoodMention::Kind("wheat"), ..named })
        }
        (None, named) => named,
    }
}

fn is_plain_flour(house: &House, sentence: &Sentence, food: &Food) -> bool {
    let FoodMention::Ingredient(id) = food.what else { return false };
    sentence.language.code != "en" && house.ingredient(id).name.key == "all-purpose flour"
}

fn compound_at(sentence: &Sentence, from: usize) -> Option<Food> {
    let token = sentence.tokens.get(from).filter(|token| token.kind == TokenKind::Word)?;
    let is_other = sentence.word_at("not-food", from).is_some();
    if sentence.language.code != "de" || token.key.len() < 7 || is_other {
        return None;
    }
    let told = told_by_name(&token.key, &["de"]);
    let what = FoodMention::Compound(Declared::of_name(&told));
    (!told.is_empty()).then_some(Food { from, to: from + 1, what })
}

fn ingredient_at(house: &House, sentence: &Sentence, from: usize) -> Option<(usize, IngredientId)> {
    let codes = match sentence.language.code {
        "" => &LANGUAGES[1..],
        "en" => &[],
        _ => std::slice::from_ref(&sentence.language.code),
    };
    let first = sentence.tokens.get(from)?;
    let longest = match house.longest_name(&first.key) {
        _ if !codes.is_empty() && begins_a_called_name(&first.key) => MAX_WORDS,
        0 => return None,
        longest => longest.min(MAX_WORDS),
    };
    let most = (from + longest).min(sentence.tokens.len());
    (from + 1..=most).rev().find_map(|to| {
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
    /// A kind of food that a row of foods tells, said nowhere.
    pub fn kind(kind: &'static str) -> Self {
        Self { from: 0, to: 0, what: FoodMention::Kind(kind) }
    }

    /// Whether an ingredient is what is named here.
    pub fn is(&self, house: &House, ingredient: &Ingredient) -> bool {
        match &self.what {
            FoodMention::Kind(words) => words.split('/').any(|word| is_kind(ingredient, word)),
            FoodMention::Ingredient(id) => {
                let named = house.ingredient(*id);
                named.name.key == ingredient.name.key || shares_its_word(named, ingredient)
            }
            FoodMention::Either(ids) => ids.iter().any(|id| {
                let named = house.ingredient(*id);
                named.name.key == ingredient.name.key || shares_its_word(named, ingredient)
            }),
            // Of what is only usually in it, nothing tells that it is there.
            FoodMention::Compound(holds) | FoodMention::Baked(holds) if holds.is_open() => {
                holds.may_be(&ingredient.declared)
            }
            FoodMention::Compound(holds) | FoodMention::Baked(holds) => {
                holds.named.iter().all(|one| ingredient.declared.contains(one))
                    && (!holds.says_nothing() || holds.is_like(&ingredient.declared))
            }
        }
    }

    /// Whether it is called so.
    pub fn says(&self, word: &str) -> bool {
        matches!(self.what, FoodMention::Kind(kind) if kind == word)
    }

    /// What is known of it and something that a claim denies: by what is said of the
    /// ingredient, what its name tells, or what all ingredients that are called so hold.
    /// A house is believed of its own; of what is built in, whatever is told of the name
    /// counts, the worst of it first.
    pub fn judge(&self, house: &House, written: &str, absence: Absence) -> Judged {
        let called: Vec<&Ingredient> = self.called(house, written);
        let told = match &self.what {
            FoodMention::Ingredient(_) | FoodMention::Either(_) => Judged::Without,
            FoodMention::Compound(holds) | FoodMention::Baked(holds) => holds.judge(absence),
            FoodMention::Kind(kind) => self.kind_brings(house, kind, written, absence),
        };
        let judged = called.iter().map(|it| it.declared.judge(absence));
        if called.iter().any(|it| !it.built_in) {
            return judged.fold(Judged::Without, worse);
        }
        judged.fold(told, worse)
    }

    /// The ingredients whose whole name is what is written, in whatever language; a house's
    /// own name means that alone.
    pub fn called<'h>(&self, house: &'h House, written: &str) -> Vec<&'h Ingredient> {
        let ids = match &self.what {
            FoodMention::Ingredient(id) => vec![*id],
            FoodMention::Either(ids) => ids.clone(),
            _ => {
                let name = key(written);
                let abroad =
                    || LANGUAGES[1..].iter().find_map(|it| house.ingredient_called(it, &name));
                let own = house.ingredient_id(&name).or_else(abroad);
                let spoken = || spoken_somewhere(&name).map(|(_, id)| id).collect();
                own.map_or_else(spoken, |id| vec![id])
            }
        };
        ids.into_iter().map(|id| house.ingredient(id)).collect()
    }

    fn kind_brings(&self, house: &House, kind: &str, written: &str, absence: Absence) -> Judged {
        // Flour that is not named is wheat, unless there is another.
        let told = match kind {
            "flour" => told_by_name("wheat", &["en"]),
            _ => kind.split('/').flat_map(|word| told_by_name(word, &["en"])).collect(),
        };
        let own = told_by_name(written, &LANGUAGES);
        let (usual, sure): (Vec<_>, Vec<_>) =
            told.into_iter().chain(own).partition(|told| told.is_usual());
        if !sure.is_empty() {
            return Declared::of_name(&sure).judge(absence);
        }
        if let Some(told) = usual.first() {
            return Declared::of_told(told).judge(absence);
        }
        let known = house.ingredients().filter(|known| known.built_in && self.is(house, known));
        let mut judged: Vec<Judged> = known.map(|known| known.declared.judge(absence)).collect();
        if judged.is_empty() || judged.contains(&Judged::Without) {
            return Judged::Without;
        }
        judged.swap_remove(0)
    }

    /// The allergens that it holds; where a word is said of many, what its name tells, or
    /// all of them share: of oils some hold milk, and `oil` does not.
    pub fn allergens(&self, house: &House) -> Allergens {
        match &self.what {
            FoodMention::Ingredient(id) => house.ingredient(*id).declared.named,
            FoodMention::Either(ids) => {
                let named = ids.iter().map(|id| house.ingredient(*id).declared.named);
                named.reduce(|all, one| all.without(all.without(one))).unwrap_or_default()
            }
            FoodMention::Compound(holds) | FoodMention::Baked(holds) => holds.named,
            FoodMention::Kind(kind) => {
                let word = kind.split('/').next().unwrap_or(kind);
                let told = Declared::of_name(&told_by_name(word, &["en"])).named;
                let known = house.ingredients().filter(|known| known.built_in);
                let named = known.filter(|known| self.is(house, known)).map(|it| it.declared.named);
                let shared = named.reduce(|all, one| all.without(all.without(one)));
                told.with(shared.unwrap_or(Allergens::NONE))
            }
        }
    }
}

/// The one of two judgements that speaks more against a claim.
fn worse(one: Judged, other: Judged) -> Judged {
    match (one, other) {
        (Judged::Holds(_), _) | (Judged::NotKnown, Judged::Without) => one,
        _ => other,
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
    if wanted == "butter" && is_paste(ingredient) {
        return false;
    }
    let mut contains = ingredient.declared.named.iter().map(Allergen::key);
    Class::read(wanted) == Some(ingredient.class)
        || words_of(&ingredient.name.key).any(|word| is_same(word, wanted))
        || contains.any(|word| is_same(word, wanted))
        || ingredient.name.key.contains(' ') && ingredient.name.key.as_str() == wanted
}

/// `peanut butter` and `cocoa butter` are not what a text calls butter, as `vegan butter` is.
fn is_paste(ingredient: &Ingredient) -> bool {
    const LIKE_BUTTER: [&str; 4] = ["vegan", "plant", "vegetable", "dairy"];
    let name = ingredient.name.key.as_str();
    let is_of_milk = || ingredient.declared.named.iter().any(|one| one.key() == "milk");
    name.ends_with(" butter")
        && !LIKE_BUTTER.iter().any(|word| name.contains(word))
        && !is_of_milk()
}

fn words_of(name: &str) -> impl Iterator<Item = &str> {
    name.split([' ', '-'])
}

/// `dark rye flour` and `rye flakes` are both rye; `rice flour` and `bread flour` have
/// only their form in common.
fn shares_its_word(one: &Ingredient, other: &Ingredient) -> bool {
    words_of(&one.name.key).any(|word| {
        words_of(&other.name.key).any(|same| is_same(same, word) || is_same(word, same))
            && !FORMS.contains(&word)
    })
}
