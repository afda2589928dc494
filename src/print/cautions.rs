//! What can hurt somebody: what the author says of it, and what is usual for the method.

use super::context::PrintContext;
use super::live::{text, texts_of_all};
use super::words::{capital, minutes};
use crate::check::{Context, too_warm};
use crate::formula::class::Class;
use crate::formula::{Ingredient, all_mixes, words_of};
use crate::syntax::tree::{Name, StageKind, Step, Text, Verb, WordsKind};
use std::collections::BTreeMap;

/// The author's cautions, then the usual ones for what the method does, where the
/// author has not spoken of it.
pub fn cautions(paper: &PrintContext) -> Vec<String> {
    let formula = &paper.worked.formula;
    let mut own = texts_of_all(paper, WordsKind::Caution);
    own.extend(cautions_of_what_goes_in(paper));
    let hurts = what_hurts(paper);
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps: Vec<&Step> =
        stages.chain(&formula.method).flat_map(|method| &method.steps).collect();
    let step_cautions = steps.iter().flat_map(|step| &step.cautions);
    let stage_cautions =
        formula.stages.iter().flat_map(|stage| words_of(&stage.texts, WordsKind::Caution));
    let said: Vec<String> = own
        .iter()
        .cloned()
        .chain(step_cautions.chain(stage_cautions).map(|caution| text(paper, caution)))
        .map(|caution| caution.to_lowercase())
        .collect();
    let spoken_of = |id: &str| {
        let words = paper.words.say(&format!("caution-{id}-words"));
        words.split(',').map(str::trim).any(|word| said.iter().any(|said| speaks_of(said, word)))
    };
    let scalds = formula.stages.iter().any(|stage| stage.kind == StageKind::Scald);
    let does = |verbs: &[Verb]| steps.iter().any(|step| verbs.contains(&step.verb));
    let in_mixer = steps.iter().flat_map(|step| &step.phases).any(|phase| {
        phase.place.as_ref().is_some_and(|place| paper.house.mixer_named(&place.key).is_some())
            || phase.speed.is_some()
    });
    let usual = [
        ("oven", does(&[Verb::Bake, Verb::Steam])),
        ("boiling", scalds || does(&[Verb::Boil, Verb::Scald])),
        ("fat", does(&[Verb::Fry])),
        ("blade", does(&[Verb::Score])),
        ("mixer", in_mixer),
        ("raw", formula.method.is_some() && !paper.worked.first().whole.mass().is_zero()),
    ];
    let usual = usual.into_iter().filter(|(id, applies)| *applies && !spoken_of(id));
    own.iter()
        .cloned()
        .chain(hurts)
        .chain(what_stands_too_warm(paper))
        .chain(usual.map(|(id, _)| paper.words.say(&format!("caution-{id}"))))
        .collect()
}

/// What can hurt somebody in one step: what the author says of it, and what is usual for its
/// verb, where the formula's cautions say it.
pub fn cautions_of_step(paper: &PrintContext, step: &Step) -> Vec<String> {
    let own = step.cautions.iter().map(|caution| text(paper, caution));
    // Those of the formula are gathered from all of it: only for a step that has a usual one.
    let usual = usual_of_step(step).map(|id| paper.words.say(&format!("caution-{id}")));
    own.chain(usual.filter(|caution| cautions(paper).contains(caution))).collect()
}

/// What can hurt somebody in a formula, and belongs to no step of it.
pub fn cautions_of_all(paper: &PrintContext) -> Vec<String> {
    let formula = &paper.worked.formula;
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps = stages.chain(&formula.method).flat_map(|method| &method.steps);
    let of_steps: Vec<String> = steps
        .filter_map(usual_of_step)
        .map(|id| paper.words.say(&format!("caution-{id}")))
        .collect();
    let mut all = cautions(paper);
    all.retain(|caution| !of_steps.contains(caution));
    all
}

/// The caution that is usual for a verb.
fn usual_of_step(step: &Step) -> Option<&'static str> {
    match step.verb {
        Verb::Bake | Verb::Steam => Some("oven"),
        Verb::Boil | Verb::Scald => Some("boiling"),
        Verb::Fry => Some("fat"),
        Verb::Score => Some("blade"),
        _ => None,
    }
}

/// What the stores say of an ingredient that can hurt, in the words of the print.
fn what_hurts(paper: &PrintContext) -> Vec<String> {
    let said = paper.worked.ingredients().into_iter().filter_map(|ingredient| {
        let as_known = ingredient.warned_as.as_ref()?.replace(" ", "-");
        let called = capital(&paper.called(&ingredient.name.key, &ingredient.name.shown));
        let hurts = paper.words.say(&format!("hurts-{as_known}"));
        Some(paper.words.fill("words-for", &[("kind", &called), ("words", &hurts)]))
    });
    said.collect()
}

/// Egg and milk that stand warm for longer than is usual, whatever their author allows.
fn what_stands_too_warm(paper: &PrintContext) -> Vec<String> {
    let spoils = |it: &&Ingredient| matches!(it.class, Class::Egg | Class::Dairy);
    if !paper.worked.ingredients().iter().any(spoils) {
        return Vec::new();
    }
    let context = Context::new(paper.house, paper.worked, &mut Vec::new());
    let said = too_warm(&context).into_iter().map(|long| {
        let name = &long.spoils.name;
        let called = capital(&paper.called(&name.key, &name.shown));
        let time = minutes(&long.minutes);
        let words = paper.words.fill("caution-warm", &[("time", &time)]);
        paper.words.fill("words-for", &[("kind", &called), ("words", &words)])
    });
    said.collect()
}

/// What ingredients and cultures say of themselves, each with its name.
fn cautions_of_what_goes_in(paper: &PrintContext) -> Vec<String> {
    let mut all = Vec::new();
    let mut add = |name: &Name, cautions: &[Text]| {
        let called = capital(&paper.called(&name.key, &name.shown));
        all.extend(cautions.iter().map(|caution| {
            let words = text(paper, caution);
            paper.words.fill("words-for", &[("kind", &called), ("words", &words)])
        }));
    };
    for ingredient in paper.worked.ingredients() {
        let own = ingredient.cautions.iter().filter(|caution| !caution.span.source.is_built_in());
        add(&ingredient.name, &own.cloned().collect::<Vec<_>>());
    }
    let lines = all_mixes(&paper.worked.formula).flat_map(|mix| &mix.lines);
    let cultures: BTreeMap<_, _> = lines
        .filter_map(|line| paper.house.culture_named(&line.target.name.key))
        .map(|(_, culture)| (culture.name.key.clone(), culture))
        .collect();
    cultures.values().for_each(|culture| add(&culture.name, &culture.cautions));
    all
}

/// Whether a text has a word, or one that begins with it where a `*` follows: `oil` is
/// not in "boiling". Both are in small letters.
fn speaks_of(text: &str, word: &str) -> bool {
    let (word, any_ending) = match word.strip_suffix('*') {
        Some(word) => (word, true),
        None => (word, false),
    };
    !word.is_empty()
        && text.match_indices(word).any(|(at, _)| {
            let before = text[..at].chars().next_back();
            let behind = text[at + word.len()..].chars().next();
            before.is_none_or(|letter| !letter.is_alphabetic())
                && (any_ending || behind.is_none_or(|letter| !letter.is_alphabetic()))
        })
}

#[cfg(test)]
mod tests {
    use super::speaks_of;

    #[test]
    fn a_word_is_found_with_its_endings_and_not_inside_another() {
        assert!(speaks_of("boiling water scalds", "boil*"));
        assert!(speaks_of("dry gloves, always", "gloves"));
        assert!(speaks_of("the tin comes out at 190 °c", "°c"));
        assert!(speaks_of("hot water runs over", "hot water"));
        assert!(!speaks_of("boiling water and hot foil", "oil"));
        assert!(!speaks_of("draw the peel out", "raw"));
        assert!(!speaks_of("a fatal dose of steam", "fat"));
        assert!(!speaks_of("anything", ""));
    }
}
