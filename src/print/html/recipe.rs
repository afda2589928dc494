//! The recipe for machines, as schema.org's `Recipe` in JSON-LD.

use crate::print::document::{Document, LineKind, LinePart, StepPart, Weight};
use crate::quantity::display::read_exact;
use serde_json::{Value, json};

/// The recipe in schema.org's words, as JSON-LD that can stand in a page; `picture` is the
/// address of the one that the page shows.
pub fn recipe(document: &Document, picture: Option<&str>) -> String {
    let mut ingredients: Vec<String> = Vec::new();
    let beside = document.beside.iter().flat_map(|kind| &kind.all);
    let mixtures = document.mixtures.iter().flat_map(|mix| &mix.lines);
    for line in document.groups.iter().flat_map(|group| &group.lines).chain(beside).chain(mixtures)
    {
        // What is mixed beforehand is told by what it is made of.
        if !matches!(line.kind, LineKind::Stage | LineKind::Mixture) {
            ingredients.push(ingredient(line));
        }
    }
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": document.title,
        "inLanguage": document.language,
        "recipeYield": bought(document),
        "recipeIngredient": ingredients,
    });
    let mut say = |name: &str, value: Value| recipe[name] = value;
    for (key, figure) in [("totalTime", "elapsed"), ("prepTime", "hands-on")] {
        if let Some(time) = longest(document, figure) {
            say(key, time.into());
        }
    }
    let heat = document.timeline.as_ref().and_then(|timeline| timeline.heat_minutes);
    if let Some(minutes) = heat {
        say("cookTime", duration(minutes).into());
    }
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
        let tools = document.equipment.iter().flat_map(|text| tools(text));
        let tools = tools.map(|tool| json!({ "@type": "HowToTool", "name": tool }));
        say("tool", Value::Array(tools.collect()));
    }
    if let Some(picture) = picture {
        say("image", picture.into());
    }
    // `<` might end the element that this stands in.
    recipe.to_string().replace('<', "\\u003c")
}

/// The tools that a text lists: what stands between its commas, semicolons and full stops,
/// but for those in brackets or between digits.
fn tools(text: &str) -> Vec<&str> {
    /// `and` before the last of a list, in the languages of prints.
    const AND: [&str; 6] = ["and ", "et ", "und ", "y ", "e ", "ed "];
    /// What may be taken instead belongs to what stands before it.
    const OR: [&str; 6] = ["or ", "ou ", "oder ", "o ", "oppure ", "u "];
    let mut depth = 0_usize;
    let mut before = ' ';
    let mut letters = text.chars().peekable();
    let mut at = 0;
    let mut from = 0;
    let mut all = Vec::new();
    while let Some(letter) = letters.next() {
        let end = at;
        at += letter.len_utf8();
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        let in_number = before.is_ascii_digit() && letters.peek().is_some_and(char::is_ascii_digit);
        let ends = match letter {
            ',' | ';' | '\n' => !in_number,
            '.' => letters.peek().is_none_or(|next| next.is_whitespace()),
            _ => false,
        };
        let instead = || OR.iter().any(|or| text[at..].trim_start().starts_with(or));
        if ends && depth == 0 && !instead() {
            all.push(&text[from..end]);
            from = at;
        }
        before = letter;
    }
    all.push(&text[from..]);
    let named = all.into_iter().map(str::trim).filter(|tool| !tool.is_empty());
    named.map(|tool| AND.iter().find_map(|and| tool.strip_prefix(and)).unwrap_or(tool)).collect()
}

/// A line as the card prints it: weight, the author's own measure, name; or the name and
/// how much of it in words.
fn ingredient(line: &LinePart) -> String {
    let weight = line.weight.as_ref().map(Weight::said);
    let measured = weight.map(|weight| match &line.written {
        Some(written) => format!("{weight} ({written})"),
        None => weight,
    });
    match (measured, &line.soft) {
        (Some(amount), _) => format!("{amount} {}", line.name),
        (None, Some(soft)) => format!("{}, {soft}", line.name),
        (None, None) => line.name.clone(),
    }
}

/// What is made as a reader buys it: `30 baguettes`; of a dough without pieces, its weight.
fn bought(document: &Document) -> String {
    let pieces = document.makes.pieces.iter();
    let pieces: Vec<String> =
        pieces.map(|piece| format!("{} {}", piece.count, piece.kind)).collect();
    if pieces.is_empty() { document.makes.text.clone() } else { pieces.join(", ") }
}

/// The upper end of a figure in minutes, as a duration (ISO 8601).
fn longest(document: &Document, name: &str) -> Option<String> {
    let figure = document.figures.iter().find(|figure| figure.name == name)?;
    let upper = read_exact(figure.exact_high.as_deref().unwrap_or(&figure.exact))?;
    let minutes = i64::try_from(upper.nearest()).ok()?;
    Some(duration(minutes))
}

/// Minutes as a duration (ISO 8601).
fn duration(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("PT{rest}M"),
        (hours, 0) => format!("PT{hours}H"),
        (hours, rest) => format!("PT{hours}H{rest}M"),
    }
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

#[cfg(test)]
mod tests {
    use super::tools;

    #[test]
    fn a_list_of_tools_is_told_one_by_one() {
        let of = |text| tools(text).join("|");
        assert_eq!(
            of("A tray of 30 by 40 cm, a blade; a deck oven with steam, or a lidded iron pot."),
            "A tray of 30 by 40 cm|a blade|a deck oven with steam, or a lidded iron pot"
        );
        assert_eq!(of("Linen, a blade, and steam"), "Linen|a blade|steam");
        assert_eq!(
            of("Une lame, et un four (vapeur, pierre)."),
            "Une lame|un four (vapeur, pierre)"
        );
        assert_eq!(of("Eine Form von 2,5 l, und ein Messer"), "Eine Form von 2,5 l|ein Messer");
        assert_eq!(of(" . "), "");
    }
}
