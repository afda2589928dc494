//! All that is said to people, read once for every rule about it: `absence-in-text`,
//! `ingredient-in-text`, `number-in-text`.

use super::context::Context;
use super::facts::Facts;
use super::speech::{language_of, sentences, tokens};
use super::{absence_in_text, ingredient_in_text, number_in_text};
use crate::diag::Finding;

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let house = context.house.settings.language.as_ref().map(|language| language.value.as_str());
    let facts = Facts::of(context);
    let foods = ingredient_in_text::Foods::of(context);
    for said in context.said() {
        let tokens = tokens(&said.words);
        absence_in_text::check(context, &said, &tokens, findings);
        let language = language_of(&tokens, house);
        let mut told = Vec::new();
        for sentence in sentences(&said.words, &tokens, language) {
            foods.check(&said, &sentence, &mut told, findings);
            number_in_text::check(&facts, &said, &sentence, findings);
        }
    }
    for said in context.said_of_all() {
        absence_in_text::check(context, &said, &tokens(&said.words), findings);
    }
}
