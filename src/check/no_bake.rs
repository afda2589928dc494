//! `no-bake`: a method that never bakes.

use super::context::{Context, PlainText, SaidAt};
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Step, Verb};

/// `no-bake`, an error about the method.
pub const RULE: Rule = Rule {
    name: "no-bake",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("no_bake.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let cooks = |verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam);
    let stores = |verb| matches!(verb, Verb::Chill | Verb::Freeze | Verb::Pack);
    let baked = method.steps.iter().any(|step| cooks(step.verb));
    let stored = method.steps.last().is_some_and(|step| stores(step.verb));
    // What a griddle or an iron does is told in words.
    let told = method.steps.iter().any(|step| step.verb == Verb::Step && is_cooking(step));
    if !baked && !stored && !told && !method.steps.is_empty() {
        findings.push(
            Finding::new(&RULE, method.span, "this method never bakes")
                .help("add the step: `bake 40min at 230C`; a dough for later ends in `chill`, `freeze` or `pack`"),
        );
    }
}

/// Whether the words of a step say that something is cooked, in five languages: the dough, not
/// what is named beside it.
fn is_cooking(step: &Step) -> bool {
    let Some(text) = &step.text else { return false };
    let said = PlainText::new((text, SaidAt::Step(step))).words.to_lowercase();
    let words: Vec<&str> =
        said.split(|letter: char| !letter.is_alphanumeric()).filter(|it| !it.is_empty()).collect();
    let is_denied = words.iter().any(|word| DENIES.contains(word));
    let heats = |word: &&&str| HEATS.iter().any(|stem| word.starts_with(stem));
    let cooks = words.iter().filter(heats).any(|word| !NO_HEAT.contains(word));
    cooks && !is_denied && step.phases.iter().all(|phase| phase.with.is_empty())
}

/// How words begin that say that heat goes into a dough.
const HEATS: &[&str] = &[
    "bake",
    "baking",
    "fry",
    "fries",
    "fried",
    "griddle",
    "grill",
    "iron",
    "toast",
    "brown",
    "cook",
    "boil",
    "simmer",
    "roast",
    "sear",
    "hot plate",
    "hotplate",
    "ember",
    "steam",
    "poach",
    "tandoor",
    "waffle",
    "skillet",
    "back",
    "gebacken",
    "ausback",
    "brat",
    "röst",
    "koch",
    "frittier",
    "dämpf",
    "cuire",
    "cuisez",
    "cuisson",
    "frire",
    "frit",
    "griller",
    "bouill",
    "pocher",
    "horne",
    "hornear",
    "fre",
    "fríe",
    "asar",
    "asa",
    "cuoc",
    "cuoci",
    "inforn",
    "frigg",
    "grigli",
];

/// Words that begin so and heat nothing.
const NO_HEAT: &[&str] = &[
    "baker",
    "bakers",
    "bakery",
    "bakehouse",
    "backwards",
    "back",
    "background",
    "backside",
    "baked",
    "browned",
    "toasted",
    "roasted",
    "cooked",
    "cookie",
    "cookies",
    "cookbook",
    "boiled",
    "backpulver",
    "backpapier",
    "fresh",
    "fresca",
    "fresco",
];

/// Words that say that it does not happen.
const DENIES: &[&str] = &[
    "no", "not", "never", "without", "raw", "unbaked", "uncooked", "nicht", "nie", "ohne", "roh",
    "pas", "sans", "cru", "crue", "sin", "crudo", "cruda", "non", "senza", "before", "instead",
];
