//! `composition-impossible`: what an ingredient is said to be made of can't be.

use super::limits::{bound, most};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::{Class, Nutrient as N};
use crate::formula::{House, Ingredient, plain, words_of};
use crate::quantity::display::{percent, trimmed};
use crate::quantity::{Exact, int};
use crate::syntax::tree::{self, Property, Tree, WordsKind};

/// `composition-impossible`, an error about names.
pub const RULE: Rule = Rule {
    name: "composition-impossible",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("composition_impossible.md"),
};

/// What a thing consists of, so that together they are all of it at most.
const PARTS: [N; 6] = [N::Water, N::Protein, N::Fat, N::Carbohydrate, N::Ash, N::Alcohol];

/// Parts of a part: together no more than it.
const WITHIN: [(N, &[N]); 2] = [
    (N::Fat, &[N::Saturates, N::Monounsaturates, N::Polyunsaturates]),
    (N::Carbohydrate, &[N::Sugars, N::Starch]),
];

/// Adds what it finds in the files of a house to `findings`.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    for ingredient in trees.iter().flat_map(|tree| &tree.ingredients) {
        check_one(house, ingredient, findings);
    }
}

fn check_one(house: &House, declared: &tree::Ingredient, findings: &mut Vec<Finding>) {
    let Some(ingredient) = house.ingredient_named(&declared.name.key) else { return };
    let first = findings.len();
    judge(ingredient, declared, findings);
    if let Some(source) = words_of(&declared.texts, WordsKind::Source).next() {
        let source = plain(source);
        for finding in &mut findings[first..] {
            finding.notes.push(format!("the source of these figures: {source}"));
        }
    }
}

fn judge(ingredient: &Ingredient, declared: &tree::Ingredient, findings: &mut Vec<Finding>) {
    // Each is judged alone first: a sum would only say the same again.
    let first = findings.len();
    for property in &declared.properties {
        findings.extend(more_than_all(ingredient, property));
    }
    if findings.len() > first {
        return;
    }
    findings.extend(parts_over(ingredient, declared, None, &PARTS));
    for (whole, parts) in WITHIN {
        findings.extend(parts_over(ingredient, declared, Some(whole), parts));
    }
    findings.extend(salt_and_sodium(ingredient, declared));
    findings.extend(declared.properties.iter().filter_map(|it| unusual(ingredient, it)));
}

/// More of one thing than there can be in 100 g.
fn more_than_all(ingredient: &Ingredient, property: &Property) -> Option<Finding> {
    let nutrient = N::read(&property.name.key)?;
    let value = ingredient.composition.get(nutrient)?;
    let (word, span) = (&property.name.shown, property.value.span);
    if nutrient == N::Energy {
        let most = bound("composition", "energy")?.high?;
        // Kilocalories of a gram, and of 100 g.
        let of_100 = value * int(100);
        return (of_100 > most).then(|| {
            let shown = |energy: &Exact| crate::quantity::display::trimmed(energy, 0);
            Finding::new(
                &RULE,
                span,
                format!("{} kcal is more than 100 g of anything have", shown(&of_100)),
            )
            .note(format!("pure fat has {} kcal", shown(&most)))
            .help("composition is per 100 g; is this figure for the whole packet, or in kJ?")
        });
    }
    if let Some(most) = bound("composition of salts", nutrient.word()).and_then(|it| it.high) {
        let of_100 = value * int(100);
        return (of_100 > most).then(|| {
            let message =
                format!("{} {word} is more than 100 g of any salt hold", milligrams(&of_100));
            Finding::new(&RULE, span, message)
                .note(format!("the most that is possible is {}", milligrams(&most)))
                .help("composition is per 100 g; check the number and its unit, mg or µg")
        });
    }
    (*value > Exact::ONE).then(|| {
        Finding::new(&RULE, span, format!("{} % {word} is more than all of it", percent(value, 2)))
            .help("composition is per 100 g, in per cent of the weight")
    })
}

/// What no food of that class has so much, or so little, of.
fn unusual(ingredient: &Ingredient, property: &Property) -> Option<Finding> {
    let nutrient = N::read(&property.name.key)?;
    let of_100 = ingredient.composition.get(nutrient)? * int(100);
    let class = ingredient.class;
    let is_food = !matches!(class, Class::Salt | Class::Leavener | Class::Improver | Class::Other);
    let name = &ingredient.name.shown;
    let (message, note) = if nutrient == N::Energy {
        let least = bound("energy of classes", &format!("energy of {}", class.word()))?.low?;
        if of_100 >= least {
            return None;
        }
        let kcal = |energy: &Exact| format!("{} kcal", trimmed(energy, 0));
        let message = format!("{} is too little energy for 100 g of `{name}`", kcal(&of_100));
        (message, format!("what is {} has {} or more", class.word(), kcal(&least)))
    } else {
        let most = bound("composition of foods", nutrient.word())?.high.filter(|_| is_food)?;
        if of_100 <= most {
            return None;
        }
        let word = nutrient.word();
        let message = format!("{} {word} is more than 100 g of any food have", milligrams(&of_100));
        (message, format!("the most in a table of foods is about {}", milligrams(&most)))
    };
    Some(
        Finding::new(&RULE, property.value.span, message)
            .level(Level::Warning)
            .note(note)
            .help("composition is per 100 g; look at the maker's sheet, and at the unit"),
    )
}

/// Grams as a label tells minerals.
fn milligrams(grams: &Exact) -> String {
    format!("{} mg", trimmed(&(grams * int(1000)), 1))
}

/// The parts of an ingredient, or of one of its parts, that are more than it.
fn parts_over(
    ingredient: &Ingredient,
    declared: &tree::Ingredient,
    whole: Option<N>,
    parts: &[N],
) -> Option<Finding> {
    let own = |nutrient: &N| declared.properties.iter().rfind(|it| it.name.key == nutrient.word());
    // What is taken over as a whole was right where it came from.
    let last = parts.iter().chain(&whole).filter_map(own).next_back()?;
    let is_inherited =
        parts.iter().any(|part| own(part).is_none() && ingredient.composition.get(*part).is_some());
    let known = parts.iter().filter_map(|part| Some((part, ingredient.composition.get(*part)?)));
    let known: Vec<(&N, &Exact)> = known.collect();
    let sum = known.iter().fold(Exact::ZERO, |sum, (_, share)| sum + *share);
    let of = match whole {
        Some(whole) => ingredient.composition.get(whole)?.clone(),
        None => Exact::ONE,
    };
    let bound = bound("composition", if is_inherited { "inherited sum" } else { "sum" })?.high?;
    if sum <= &of + (bound - Exact::ONE) {
        return None;
    }
    let added: Vec<String> = known
        .iter()
        .map(|(part, share)| format!("{} {}", percent(share, 2), part.word()))
        .collect();
    let message = format!(
        "the parts of `{}` add up to {} %, more than {}",
        declared.name.shown,
        percent(&sum, 2),
        match whole {
            Some(whole) => format!("the {} % {}", percent(&of, 2), whole.word()),
            None => "all of it".to_owned(),
        }
    );
    let said = Finding::new(&RULE, last.value.span, message).note(format!(
        "{} = {} %",
        added.join(" + "),
        percent(&sum, 2)
    ));
    Some(match is_inherited {
        true => said.help("give the others too: what is not given here is taken from `like`"),
        false => said.help("composition is per 100 g; take all figures from one data sheet"),
    })
}

/// Salt and sodium both said, and not in accord: only the salt would count.
fn salt_and_sodium(ingredient: &Ingredient, declared: &tree::Ingredient) -> Option<Finding> {
    let own = |nutrient: N| declared.properties.iter().find(|it| it.name.key == nutrient.word());
    let (salt, sodium) = (own(N::Salt)?, own(N::Sodium)?);
    let share = |nutrient| ingredient.composition.get(nutrient);
    let (said, counted) = (share(N::Salt)?.clone(), ingredient.sodium_as_salt()?);
    let off = (&said - &counted).max(&counted - &said);
    let slack = |name| most("composition", name);
    let slack = said.clone().max(counted.clone()) * slack("salt beside sodium")?
        + slack("little salt beside sodium")?;
    (off > slack).then(|| {
        Finding::new(
            &RULE,
            salt.value.span,
            format!(
                "{} % salt does not agree with the sodium, which makes {} %",
                percent(&said, 2),
                percent(&counted, 2)
            ),
        )
        .label(sodium.value.span, "times 2.5")
        .note("salt is sodium times 2.5 (EU Regulation 1169/2011, Annex I)")
        .help("keep the one that the maker's data sheet states, and remove the other")
    })
}
