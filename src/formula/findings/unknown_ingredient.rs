//! `unknown-ingredient`: a name on a line that nobody knows.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::meant::Meant;
use crate::source::Span;
use crate::syntax::tree::{Least, Name, Stage};
use crate::syntax::words;
use ecow::EcoString;

/// `unknown-ingredient`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-ingredient",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_ingredient.md"),
};

/// The finding for a name, with what it may mean.
pub fn finding(name: &Name, meant: Meant) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("nothing here is called `{}`", name.shown))
        .about(&name.key);
    match meant {
        Meant::Slip(near) => offer(said, name.span, &[near]),
        Meant::Either(names) => offer(said, name.span, &names),
        Meant::Holding(names) => said.help(format!(
            "`{}` is in the name of {}; what is none of these is declared: \
             `ingredient NAME is a CLASS {{ … }}`",
            name.shown,
            listed(&names, "and")
        )),
        Meant::Kin(names, apart) => {
            let several = names.len() > 1;
            let said = offer(said, name.span, &names);
            let said = if apart.is_empty() { said } else { said.note(apart) };
            // What has several meanings is told to be no name of one of them.
            let just = format!("nothing here is called just `{}`", name.shown);
            if several { Finding { message: just, ..said } } else { said }
        }
        Meant::Nothing => match statement(&name.key) {
            Some(word) => said.help(format!("did you mean the statement `{word}`?")),
            None if words::STAGE_NAMES.contains(&name.key.as_str()) => said.help(format!(
                "it is made before the dough: write what goes into it, \
                 `preferment {0} {{ … }}`, beside the dough",
                name.shown
            )),
            None => said.help(
                "correct the name, or declare it: `ingredient NAME is a CLASS { … }`; what is \
                 mixed beforehand is a stage: `preferment NAME { … }`",
            ),
        },
    }
}

/// Offers one name as a repair, and several to choose from.
pub fn offer(said: Finding, span: Span, names: &[EcoString]) -> Finding {
    match names {
        [] => said,
        [one] => said.help(format!("did you mean `{one}`?")).repair(span, one.to_string(), false),
        _ => said.help(format!("which one is it: {}?", listed(names, "or"))),
    }
}

/// `a`, `b` or `c`.
fn listed(names: &[EcoString], or: &str) -> String {
    let mut quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    let last = quoted.pop().unwrap_or_default();
    if quoted.is_empty() { last } else { format!("{} {or} {last}", quoted.join(", ")) }
}

/// A name that is used for several things, which `meanings` lists in words.
///
/// `deciding` are the languages in which it means one of them.
pub fn several(name: &Name, meanings: &[String], deciding: &[&str]) -> Finding {
    let said = format!("`{}` is used for several things", name.shown);
    let said = Finding::new(&RULE, name.span, said)
        .about(&name.key)
        .help(format!("write which is meant: {}", meanings.join(" or ")));
    let houses: Vec<String> = deciding.iter().map(|tag| format!("`language \"{tag}\"`")).collect();
    match houses.as_slice() {
        [] => said,
        [first, second, third, _, _, ..] => said.note(format!(
            "the language of a house decides: {first}, {second}, {third} and others"
        )),
        houses => said.note(format!("the language of a house decides: {}", houses.join(", "))),
    }
}

/// The name of a formula that is also another name of one of some foods.
pub fn food_or_formula(name: &Name, foods: &[String]) -> Finding {
    let said = format!("`{}` is a formula here, and a food is called so too", name.shown);
    Finding::new(&RULE, name.span, said).about(&name.key).help(format!(
        "where the food is meant, write {}; where the formula is, give it another name, such as \
         `{}-bread`",
        foods.join(" or "),
        name.shown.replace(" ", "-")
    ))
}

/// Two names in one: `milk and honey`, `bread or plain flour`.
pub fn two_names(name: &Name, one: &str, two: &str, is_choice: bool) -> Finding {
    Finding::new(&RULE, name.span, format!("nothing here is called `{}`", name.shown))
        .about(&name.key)
        .help(match is_choice {
            true => format!("write the one that goes in: `{one}` or `{two}`"),
            false => format!(
                "give each ingredient a line of its own, with its amount: `{one}` on one, `{two}` \
                 on the next"
            ),
        })
}

/// The word that a stage or a piece says beside its lines and that may be meant: `sawe 50 g`.
fn statement(key: &str) -> Option<&'static str> {
    words::near(key, words::OF_A_STAGE).or_else(|| words::near(key, words::OF_A_PIECE))
}

/// `at least 20 g jar` in a stage without a jar.
pub fn not_in_stage(least: &Least, stage: &Stage, near: &[EcoString]) -> Finding {
    let (name, span) = (&least.name.shown, least.name.span);
    let stage = &stage.name.shown;
    let said = Finding::new(
        &RULE,
        span,
        format!("`{name}` is not in `{stage}`, so there is no least amount of it"),
    );
    match near {
        [] => said.help(format!("name something that goes into it, or `{stage}` itself")),
        near => offer(said, span, near),
    }
}
