//! The recipe for machines, as schema.org's `Recipe` in JSON-LD.

use crate::print::document::{Document, LineKind, StepPart, Weight};
use serde_json::{Value, json};

/// The recipe in schema.org's words, as JSON-LD that can stand in a page.
pub fn recipe(document: &Document) -> String {
    let mut ingredients: Vec<String> = Vec::new();
    let beside = document.beside.iter().flat_map(|kind| &kind.all);
    let mixtures = document.mixtures.iter().flat_map(|mix| &mix.lines);
    for line in document.groups.iter().flat_map(|group| &group.lines).chain(beside).chain(mixtures)
    {
        // What is mixed beforehand is told by what it is made of.
        if !matches!(line.kind, LineKind::Stage | LineKind::Mixture) {
            let amount = line.weight.as_ref().map(Weight::said).or_else(|| line.soft.clone());
            ingredients.push(match amount {
                Some(amount) => format!("{amount} {}", line.name),
                None => line.name.clone(),
            });
        }
    }
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": document.title,
        "inLanguage": document.language,
        "recipeYield": document.makes.text,
        "recipeIngredient": ingredients,
    });
    let mut say = |name: &str, value: Value| recipe[name] = value;
    let steps = instructions(document);
    if !steps.is_empty() {
        let steps = json!({ "@type": "ItemList", "itemListElement": steps });
        say("recipeInstructions", steps);
    }
    if !document.headnotes.is_empty() {
        say("description", document.headnotes.join(" ").into());
    }
    if let Some(house) = &document.house.title {
        say("author", json!({ "@type": "Organization", "name": house }));
    }
    if !document.equipment.is_empty() {
        let tools = document.equipment.iter();
        let tools = tools.map(|tool| json!({ "@type": "HowToTool", "name": tool }));
        say("tool", Value::Array(tools.collect()));
    }
    // `<` might end the element that this stands in.
    recipe.to_string().replace('<', "\\u003c")
}

/// Steps; those of one stage as a section.
pub fn instructions(document: &Document) -> Vec<Value> {
    let mut all: Vec<Value> = Vec::new();
    let mut section: Option<(&str, Vec<Value>)> = None;
    let close = |section: &mut Option<(&str, Vec<Value>)>, all: &mut Vec<Value>| {
        if let Some((name, steps)) = section.take() {
            all.push(json!({ "@type": "HowToSection", "name": name, "itemListElement": steps }));
        }
    };
    for step in &document.method {
        let mut said = json!({ "@type": "HowToStep", "text": step_text(step) });
        if !step.title.is_empty() {
            said["name"] = step.title.as_str().into();
        }
        match (&step.stage, &mut section) {
            (Some(stage), Some((name, steps))) if stage == name => steps.push(said),
            (Some(stage), _) => {
                close(&mut section, &mut all);
                section = Some((stage, vec![said]));
            }
            (None, _) => {
                close(&mut section, &mut all);
                all.push(said);
            }
        }
    }
    close(&mut section, &mut all);
    all
}

/// Everything that is said at a step, in one text.
pub fn step_text(step: &StepPart) -> String {
    let mut parts = Vec::new();
    for phase in &step.phases {
        let (at, text) = (phase.at.as_deref(), &phase.text);
        let when = [phase.time.as_deref(), at, phase.to.as_deref()].into_iter().flatten();
        let when: Vec<&str> = when.collect();
        if !when.is_empty() {
            parts.push(format!("{}.", when.join(", ")));
        }
        if !text.is_empty() {
            parts.push(text.to_owned());
        }
    }
    parts.extend(step.notes.iter().chain(&step.cautions).cloned());
    if parts.is_empty() { step.title.clone() } else { parts.join(" ") }
}
