//! `ingredient-in-text`: a text names something with an allergen that the formula has
//! nowhere.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Allergen, Allergens, Ingredient, key};
use crate::syntax::tree::TextPart;

pub const RULE: Rule = Rule {
    name: "ingredient-in-text",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("ingredient_in_text.md"),
};

/// Names of ingredients have at most so many words.
const MOST_WORDS: usize = 3;

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let held = context.worked.ingredients(context.house);
    let declared =
        held.iter().fold(Allergens::NONE, |all, ingredient| all.with(ingredient.declared.named));
    for text in context.texts() {
        let mut told: Vec<String> = Vec::new();
        for part in &text.parts {
            let TextPart::Plain(words) = part else { continue };
            for (named, ingredient) in undeclared(context, words, declared) {
                let word = named.to_lowercase();
                if told.contains(&word) {
                    continue;
                }
                told.push(word);
                let contains = ingredient.declared.named.iter().map(Allergen::key);
                let contains = contains.collect::<Vec<_>>().join(" and ");
                findings.push(
                    Finding::new(
                        &RULE,
                        text.span,
                        format!("this text speaks of `{named}`, which contains {contains} and is not in the formula"),
                    )
                    .help("add it where it is used (a `piece` carries what goes on it), or take it out of the text"),
                );
            }
        }
    }
}

/// Whether the words before a name say that it is not there: "without butter".
fn is_denied(before: &[&str]) -> bool {
    const DENY: [&str; 7] = ["without", "no", "not", "sans", "ohne", "sin", "senza"];
    before.last().is_some_and(|word| DENY.contains(&word.to_lowercase().as_str()))
}

/// The ingredients that words name and that hold an allergen the formula does not.
fn undeclared<'a>(
    context: &Context<'a, '_>,
    words: &str,
    declared: Allergens,
) -> Vec<(String, &'a Ingredient)> {
    let words: Vec<&str> = words
        .split(|letter: char| !(letter.is_alphanumeric() || letter == '-' || letter == '\''))
        .filter(|word| !word.is_empty())
        .collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        if !context.house.begins_a_name(&key(words[at])) {
            at += 1;
            continue;
        }
        let longest = (1..=MOST_WORDS.min(words.len() - at)).rev().find_map(|count| {
            let name = words[at..at + count].join(" ");
            let ingredient = context.house.ingredient_named(&key(&name))?;
            Some((count, name, ingredient))
        });
        let Some((count, name, ingredient)) = longest else {
            at += 1;
            continue;
        };
        let is_new = ingredient.declared.named.iter().any(|one| !declared.holds(one));
        if is_new && !is_denied(&words[..at]) {
            found.push((name, ingredient));
        }
        at += count;
    }
    found
}
