//! Flour that a text puts on the bench, the tins or the loaf: `flour the board`.
//!
//! Flour that is not named is wheat to whoever reads it, unless the formula says what is
//! dusted with, or the sentence does.

use super::context::Context;
use super::speech::{Food, FoodMention, Language, Sentence};
use crate::formula::IngredientId;
use crate::formula::class::Class;
use crate::syntax::tree::Verb;

/// What such a flour is called among foods.
const FLOUR: &str = "flour";

/// Adds the flour that verbs say: `flour the board`, `bemehlen`, `fariner`.
pub fn add_what_verbs_say(sentence: &Sentence, foods: &mut Vec<Food>) {
    let named = super::speech::read_named(sentence, Language::all());
    for it in named.all("word", "flouring") {
        if !foods.iter().any(|food| food.from < it.to && it.from < food.to) {
            foods.push(Food { from: it.from, to: it.to, what: FoodMention::Kind(FLOUR) });
        }
    }
}

/// Whether a text speaks of flour that is put on something, and not of what is mixed.
pub fn is_bench_flour(sentence: &Sentence, food: &Food) -> bool {
    if !food.says(FLOUR) {
        return false;
    }
    let named = super::speech::read_named(sentence, Language::all());
    let mut verbs = named.all("word", "flouring");
    verbs.any(|it| it.from <= food.from && food.to <= it.to.max(food.from + 1))
        // `flour dust` is what hangs in the air.
        || named.all("word", "dusting").any(|it| it.from != food.to || !is_dust(&named, it.from))
}

/// Whether it is said what it is: by another food of the sentence that is a flour or a meal,
/// or by what the formula dusts with.
pub fn is_stated(context: &Context, foods: &[Food]) -> bool {
    let is_of_grain = |id: &IngredientId| {
        let ingredient = context.house.ingredient(*id);
        matches!(ingredient.class, Class::Flour | Class::Grain)
            || ingredient.name.key.ends_with("starch")
    };
    let is_flour = |food: &Food| match &food.what {
        FoodMention::Ingredient(id) => is_of_grain(id),
        FoodMention::Either(ids) => ids.iter().any(is_of_grain),
        _ => false,
    };
    foods.iter().any(is_flour) || is_dusted(context)
}

/// Whether a step says what it dusts with.
fn is_dusted(context: &Context) -> bool {
    let mut dusts = context.steps().filter(|step| step.verb == Verb::Dust);
    dusts.any(|step| step.phases.iter().any(|phase| !phase.with.is_empty()))
}

fn is_dust(sentence: &Sentence, at: usize) -> bool {
    sentence.tokens.get(at).is_some_and(|token| token.key == "dust")
}
