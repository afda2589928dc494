//! `eaten-raw`: flour or egg that goes on after the bake.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Absence, Ingredient, Judged, Substance};
use crate::quantity::Exact;
use crate::syntax::tree::{Extent, Step, Verb, With};

/// `eaten-raw`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "eaten-raw",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("eaten_raw.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let Some(last) = method.steps.iter().rposition(|step| cooks(context, step)) else { return };
    for step in method.steps.iter().skip(last + 1) {
        let with = step.phases.iter().flat_map(|phase| &phase.with);
        for raw in with.filter_map(|with| raw_of(context, with)) {
            findings.push(finding(step, raw));
        }
    }
}

/// Whether the heat of a step goes through what lies on the bread: a flash in the oven, or a
/// lukewarm one, leaves it raw. What does not say how long or how hot is taken to cook.
fn cooks(context: &Context, step: &Step) -> bool {
    if !matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam | Verb::Boil) {
        return false;
    }
    let of_ovens = |name| context.limit("habit of ovens", name).and_then(|bound| bound.low);
    let time = step.phases.iter().try_fold(Exact::ZERO, |sum, phase| {
        let range = context.range(phase.duration.as_deref()?);
        Some(sum + range.high.or(range.low)?)
    });
    let is_flash = time.as_ref().zip(of_ovens("cooks")).is_some_and(|(time, least)| *time < least);
    let is_hot = |at: &Extent| {
        let range = context.range(at);
        of_ovens("bakes").zip(range.high.or(range.low)).is_none_or(|(least, at)| at >= least)
    };
    let is_slow = time.zip(of_ovens("dries")).is_some_and(|(time, least)| time >= least);
    let is_cool = step.verb == Verb::Bake
        && !is_slow
        && step.phases.iter().all(|phase| phase.at.as_deref().is_some_and(|at| !is_hot(at)));
    !is_flash && !is_cool
}

/// The raw flour or egg that something brings, as it is or inside a mixture.
fn raw_of<'c>(context: &'c Context, with: &With) -> Option<(&'c str, &'c Ingredient)> {
    let name = &with.target()?.name;
    // What a formula makes is meant before what the stores know by the same name.
    let mut side_mixes = context.worked.side_mixes.iter();
    let Some(mixture) = side_mixes.find(|it| it.key == name.key) else {
        let named = context.house.ingredient_named(&name.key)?;
        return is_raw(named).then_some((named.name.shown.as_str(), named));
    };
    if mixture.is_formula || is_heated(&mixture.key) {
        return None;
    }
    let mut inside = mixture.per_gram.iter().filter_map(|(substance, _)| match substance {
        Substance::Ingredient(id) => Some(context.house.ingredient(id)),
        _ => None,
    });
    inside.find(|it| is_raw(it)).map(|it| (mixture.shown.as_str(), it))
}

fn is_raw(ingredient: &Ingredient) -> bool {
    let is_kind = matches!(ingredient.class, Class::Flour | Class::Egg) || is_raw_meat(ingredient);
    is_kind && !is_heated(&ingredient.name.key)
}

/// Meat and fish that nobody eats before they are cooked; ham and salami are cured.
fn is_raw_meat(ingredient: &Ingredient) -> bool {
    const RAW: &[&str] = &[
        "bacon",
        "lardon",
        "lardons",
        "mince",
        "minced",
        "meat",
        "beef",
        "pork",
        "veal",
        "lamb",
        "mutton",
        "chicken",
        "turkey",
        "duck",
        "goose",
        "poultry",
        "liver",
        "sausagemeat",
        "bratwurst",
        "sausage",
        "sausages",
        "prawns",
        "prawn",
        "shrimps",
        "shrimp",
        "mussels",
        "clams",
        "cod",
        "haddock",
        "hack",
        "hackfleisch",
        "hähnchen",
        "poulet",
        "viande",
        "pollo",
        "carne",
        "cerdo",
        "salsiccia",
        "maiale",
    ];
    // What is sold ready to eat, or is no meat.
    const READY: &[&str] = &[
        "fried",
        "grilled",
        "smoked",
        "cured",
        "crisp",
        "crispy",
        "dried",
        "tinned",
        "canned",
        "potted",
        "vegan",
        "vegetarian",
        "meatless",
        "coconut",
        "fruit",
        "stock",
        "broth",
        "salt",
        "powder",
        "fat",
        "dripping",
        "liverwurst",
        "pâté",
        "pate",
        "paste",
        "ham",
        "salami",
        "rillettes",
        "confit",
    ];
    let words = || ingredient.name.key.split([' ', '-']);
    let is_of_animal = ingredient.declared.judge(Absence::Vegetarian) != Judged::Without;
    // Bacon is smoked and is raw all the same.
    let is_bacon = words().any(|word| matches!(word, "bacon" | "lardons" | "lardon"));
    let is_ready = |word: &str| READY.contains(&word) && !(is_bacon && word == "smoked");
    is_of_animal && words().any(|word| RAW.contains(&word)) && !words().any(is_ready)
}

/// Whether a name says that it was heated before, and says so without a reserve: `not cooked`,
/// `half-cooked`, `cooked when served` are none.
fn is_heated(name: &str) -> bool {
    const HEATED: &[&str] = &[
        "toasted",
        "roasted",
        "treated",
        "pasteurised",
        "pasteurized",
        "cooked",
        "boiled",
        "precooked",
    ];
    // With one of these beside it, all may be well cooked.
    const SURE: &[&str] = &[
        "fully",
        "well",
        "thoroughly",
        "twice",
        "heat",
        "oven",
        "pan",
        "dry",
        "hard",
        "slow",
        "long",
        "gently",
        "lightly",
        "home",
        "pre",
        "freshly",
    ];
    let words: Vec<&str> = name.split([' ', '-']).collect();
    let Some(at) = words.iter().rposition(|word| HEATED.contains(word)) else { return false };
    let before = at.checked_sub(1).and_then(|before| words.get(before)).copied();
    if words[at] == "treated" {
        return before == Some("heat") && !words[..at].iter().any(is_reserve);
    }
    // `lightly toasted` is heat, and `lightly cooked` is none.
    let is_weak = before == Some("lightly") && !matches!(words[at], "toasted" | "roasted");
    let is_adverb = |word: &&str| word.ends_with("ly") && !SURE.contains(word);
    !is_weak && !words.iter().any(is_reserve) && !words[..at].iter().any(is_adverb)
}

/// Words that leave it open, or deny it, wherever they stand in a name.
fn is_reserve(word: &&str) -> bool {
    const RESERVES: &[&str] = &[
        "not",
        "never",
        "no",
        "non",
        "un",
        "half",
        "part",
        "semi",
        "quarter",
        "under",
        "less",
        "little",
        "almost",
        "somewhat",
        "quasi",
        "half-way",
        "raw",
        "uncooked",
        "undercooked",
        "unbaked",
        "untoasted",
        "unroasted",
        "unboiled",
        "unpasteurised",
        "unpasteurized",
        "when",
        "if",
        "once",
        "until",
        "till",
        "before",
        "later",
        "to",
        "be",
        "without",
        "cannot",
        "wasn't",
        "isn't",
        "won't",
        "yet",
        "soft",
        "rare",
        "medium",
        "instead",
    ];
    RESERVES.contains(word)
}

/// What goes on, and the raw thing that it is or holds.
fn finding(step: &Step, (name, raw): (&str, &Ingredient)) -> Finding {
    let verb = step.verb.word();
    let (why, help) = match raw.class {
        _ if is_raw_meat(raw) => (
            "raw meat, poultry and fish may carry salmonella, listeria and parasites, and only \
             heat all through makes them safe",
            "put it on before the bake, or cook it first and call it so: `fried bacon`, `cooked …`",
        ),
        Class::Egg => (
            "raw egg may carry salmonella, and only heat all through makes it safe",
            "put it on before the bake, or use pasteurised egg and call it so; a mixture that is \
             cooked before it goes on is called `cooked …`",
        ),
        _ => (
            "flour is a raw food and may carry bacteria: US FDA, Flour Is a Raw Food, from memory",
            "put it on before the bake, or use flour that was toasted and call it so; a mixture \
             that is cooked before it goes on is called `cooked …`",
        ),
    };
    let message = match raw.name.shown == name {
        true => format!("`{name}` goes on after the bake, with `{verb}`, and is eaten raw"),
        false => format!(
            "`{}` in `{name}` goes on after the bake, with `{verb}`, and is eaten raw",
            raw.name.shown
        ),
    };
    Finding::new(&RULE, step.verb_span, message).note(why).help(help)
}
