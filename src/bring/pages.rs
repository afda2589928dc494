//! Recipes in schema.org's words: JSON-LD in a file of its own, or inside a saved page, or
//! marked in the page's own words.

use super::microdata;
use super::people::is_for_people;
use super::recipe::{Brought, Recipe, RecipeLine};
use serde_json::{Map, Value};

/// How deep objects are looked into.
const DEEP: usize = 16;

/// Fields that are read.
const READ: [&str; 9] = [
    "name",
    "recipeIngredient",
    "ingredients",
    "recipeInstructions",
    "recipeYield",
    "author",
    "publisher",
    "url",
    "headline",
];

/// Fields that say nothing about the recipe: pictures, what a page is made of.
const OF_THE_PAGE: [&str; 6] =
    ["image", "video", "@id", "mainEntityOfPage", "thumbnailUrl", "isPartOf"];

/// The recipes of a JSON file.
///
/// # Errors
/// What is wrong with it.
pub fn json(text: &str) -> Result<Brought, String> {
    let value: Value =
        serde_json::from_str(text).map_err(|error| format!("it is no JSON ({error})"))?;
    let mut recipes = Vec::new();
    find(&value, 0, &mut recipes);
    brought(recipes)
}

/// The recipes of a saved page.
///
/// # Errors
/// That it holds none.
pub fn html(text: &str) -> Result<Brought, String> {
    let mut recipes = Vec::new();
    let lower = text.to_ascii_lowercase();
    let mut from = 0;
    while let Some(open) = lower.get(from..).and_then(|rest| rest.find("<script")) {
        let start = from + open;
        let Some(end) = lower[start..].find('>').map(|end| start + end + 1) else { break };
        let close = lower[end..].find("</script").map_or(lower.len(), |close| end + close);
        from = close;
        if lower[start..end].contains("application/ld+json")
            && let Ok(value) = serde_json::from_str::<Value>(text[end..close].trim())
        {
            find(&value, 0, &mut recipes);
        }
    }
    // What a page marks in its own words is mostly the same again.
    for value in microdata::recipes(text)? {
        let mut marked = Vec::new();
        find(&value, 0, &mut marked);
        let is_new = |it: &Recipe| recipes.iter().all(|known| known.title != it.title);
        let new: Vec<Recipe> = marked.into_iter().filter(|it| is_new(it)).collect();
        recipes.extend(new);
    }
    brought(recipes)
}

fn brought(recipes: Vec<Recipe>) -> Result<Brought, String> {
    let recipes: Vec<Recipe> = recipes.into_iter().filter(Recipe::has_items).collect();
    match recipes.is_empty() {
        true => Err("no schema.org recipe with ingredients is in it".to_owned()),
        false => Ok(Brought { recipes, columns: Vec::new() }),
    }
}

/// Collects every object that is a recipe.
fn find(value: &Value, depth: usize, recipes: &mut Vec<Recipe>) {
    if depth > DEEP {
        return;
    }
    match value {
        Value::Array(all) => all.iter().for_each(|value| find(value, depth + 1, recipes)),
        Value::Object(object) if is_recipe(object) => recipes.push(recipe(object)),
        Value::Object(object) => {
            object.values().for_each(|value| find(value, depth + 1, recipes));
        }
        _ => {}
    }
}

fn is_recipe(object: &Map<String, Value>) -> bool {
    let is = |value: &Value| {
        value.as_str().is_some_and(|kind| kind.rsplit(['/', ':']).next() == Some("Recipe"))
    };
    match object.get("@type") {
        Some(Value::Array(kinds)) => kinds.iter().any(is),
        Some(kind) => is(kind),
        None => false,
    }
}

fn recipe(object: &Map<String, Value>) -> Recipe {
    let text = |name: &str| object.get(name).map(|value| texts(value, 0).join(", "));
    let said = |name: &str| text(name).filter(|text| !text.is_empty());
    let ingredients = object.get("recipeIngredient").or_else(|| object.get("ingredients"));
    let lines = ingredients.map(|value| texts(value, 0)).unwrap_or_default();
    // Each is a line by itself: a hyphen before its number is no mark of a list.
    let is_less = |line: &str| {
        let rest = line.strip_prefix(['-', '–']);
        rest.is_some_and(|rest| rest.starts_with(|it: char| it.is_ascii_digit()))
    };
    let signed = |line: String| match is_less(&line) {
        true => line.replacen(['-', '–'], "−", 1),
        false => line,
    };
    let lines: Vec<String> = lines.into_iter().map(signed).collect();
    let mut from: Vec<String> = Vec::new();
    for field in ["author", "publisher", "url"] {
        from.extend(said(field).filter(|text| !from.contains(text)));
    }
    let makes = object.get("recipeYield").map(|value| texts(value, 0));
    // A number and the same in words: the words say more.
    let makes = makes.and_then(|all| all.into_iter().max_by_key(String::len));
    let mut left = Vec::new();
    if let Some(all) = object.get("recipeYield").map(|value| texts(value, 0)) {
        left.extend(all.into_iter().filter(|one| Some(one) != makes.as_ref()));
    }
    for (name, value) in object {
        let is_read = READ.contains(&name.as_str()) || name.starts_with('@');
        if !is_read && !OF_THE_PAGE.contains(&name.as_str()) {
            left.extend(texts(value, 0).into_iter().map(|text| format!("{name}: {text}")));
        }
    }
    Recipe {
        title: said("name").or_else(|| said("headline")).unwrap_or_default(),
        source: (!from.is_empty()).then(|| from.join(", ")),
        serves: makes.clone().filter(|said| is_for_people(said)),
        makes: makes.filter(|said| !is_for_people(said)),
        lines: lines.into_iter().map(RecipeLine::Item).collect(),
        steps: object.get("recipeInstructions").map(|value| steps(value, 0)).unwrap_or_default(),
        left,
        in_grams: Vec::new(),
    }
}

/// The texts of a value: a string, a number, those of an array, the name of an object.
fn texts(value: &Value, depth: usize) -> Vec<String> {
    match value {
        _ if depth > DEEP => Vec::new(),
        Value::String(text) => {
            Some(words(text)).filter(|text| !text.is_empty()).into_iter().collect()
        }
        Value::Number(number) => vec![number.to_string()],
        Value::Array(all) => all.iter().flat_map(|value| texts(value, depth + 1)).collect(),
        Value::Object(object) => match object.get("name").or_else(|| object.get("text")) {
            Some(name) => texts(name, depth + 1),
            None => object
                .iter()
                .filter(|(name, _)| !name.starts_with('@'))
                .flat_map(|(name, value)| {
                    texts(value, depth + 1).into_iter().map(move |text| format!("{name} {text}"))
                })
                .collect(),
        },
        Value::Bool(_) | Value::Null => Vec::new(),
    }
}

/// Steps: strings, `HowToStep`s, and such in sections.
fn steps(value: &Value, depth: usize) -> Vec<String> {
    match value {
        _ if depth > DEEP => Vec::new(),
        Value::String(text) => {
            let lines = words_in_lines(text);
            lines.into_iter().filter(|line| !line.is_empty()).collect()
        }
        Value::Array(all) => all.iter().flat_map(|value| steps(value, depth + 1)).collect(),
        Value::Object(object) => {
            if let Some(inner) = object.get("itemListElement") {
                let name =
                    object.get("name").map(|name| texts(name, depth + 1)).unwrap_or_default();
                let mut own = steps(inner, depth + 1);
                // What a section is called belongs to its first step, and is none.
                let title = name.join(", ");
                match own.first_mut() {
                    Some(first) if !title.is_empty() => *first = format!("{title}: {first}"),
                    Some(_) => {}
                    None => own.extend(name),
                }
                return own;
            }
            let text = object.get("text").or_else(|| object.get("name"));
            text.map(|text| texts(text, depth + 1)).unwrap_or_default()
        }
        _ => Vec::new(),
    }
}

fn words_in_lines(text: &str) -> Vec<String> {
    let broken = text.replace("</li>", "\n").replace("</p>", "\n").replace("<br", "\n<br");
    broken.lines().map(words).collect()
}

/// A text without tags and with its entities as letters.
fn words(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(['<', '&']) {
        plain.push_str(&rest[..at]);
        rest = &rest[at..];
        let is_tag = rest.starts_with('<')
            && rest[1..].starts_with(|letter: char| letter.is_ascii_alphabetic() || letter == '/');
        if let Some(end) = rest.find('>').filter(|_| is_tag) {
            plain.push(' ');
            rest = &rest[end + 1..];
            continue;
        }
        match entity(rest) {
            Some((letter, length)) => {
                plain.push(letter);
                rest = &rest[length..];
            }
            None => {
                plain.push_str(&rest[..1]);
                rest = &rest[1..];
            }
        }
    }
    plain.push_str(rest);
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The letter that an entity stands for, and its length.
fn entity(text: &str) -> Option<(char, usize)> {
    const NAMED: [(&str, char); 22] = [
        ("amp", '&'),
        ("lt", '<'),
        ("gt", '>'),
        ("quot", '"'),
        ("apos", '\''),
        ("nbsp", ' '),
        ("frac12", '½'),
        ("frac14", '¼'),
        ("frac34", '¾'),
        ("deg", '°'),
        ("ndash", '–'),
        ("mdash", '—'),
        ("rsquo", '’'),
        ("lsquo", '‘'),
        ("rdquo", '”'),
        ("ldquo", '“'),
        ("eacute", 'é'),
        ("egrave", 'è'),
        ("uuml", 'ü'),
        ("ouml", 'ö'),
        ("auml", 'ä'),
        ("szlig", 'ß'),
    ];
    let inner = text.strip_prefix('&')?;
    let end = inner.find(';').filter(|end| *end <= 10)?;
    let name = &inner[..end];
    let length = end + 2;
    if let Some(number) = name.strip_prefix('#') {
        let code = match number.strip_prefix(['x', 'X']) {
            Some(hex) => u32::from_str_radix(hex, 16).ok()?,
            None => number.parse().ok()?,
        };
        return Some((char::from_u32(code)?, length));
    }
    NAMED.iter().find(|(known, _)| *known == name).map(|(_, letter)| (*letter, length))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_gives_its_recipe_and_keeps_what_it_does_not_read() {
        let page = r#"<html><script type="application/ld+json">
{"@context":"https://schema.org","@graph":[{"@type":"WebPage","name":"x"},
{"@type":["Recipe","Thing"],"name":"Harbour &amp; Loaf","recipeYield":["2","2 loaves"],
"author":{"@type":"Person","name":"Ines Calder"},"totalTime":"PT3H",
"recipeIngredient":["500 g flour","&frac12; tsp <b>salt</b>"],
"recipeInstructions":[{"@type":"HowToSection","name":"Dough","itemListElement":[
{"@type":"HowToStep","text":"Mix."}]},"Bake 40 minutes."]}]}</script></html>"#;
        let brought = html(page).expect("one");
        let [recipe] = brought.recipes.as_slice() else { unreachable!("{brought:?}") };
        assert_eq!(recipe.title, "Harbour & Loaf");
        assert_eq!(recipe.makes.as_deref(), Some("2 loaves"));
        assert_eq!(recipe.source.as_deref(), Some("Ines Calder"));
        assert_eq!(
            recipe.lines,
            [RecipeLine::Item("500 g flour".into()), RecipeLine::Item("½ tsp salt".into())]
        );
        assert_eq!(recipe.steps, ["Dough: Mix.", "Bake 40 minutes."]);
        assert_eq!(recipe.left, ["2", "totalTime: PT3H"]);
        for text in ["", "<script type=\"application/ld+json\">{", "<html></html>"] {
            assert!(html(text).is_err());
        }
        assert!(json("{").is_err() && json("[1]").is_err());
    }
}
