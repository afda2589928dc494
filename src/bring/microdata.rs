//! Recipes that a page marks in its own words, with `itemprop` or `property`: the same objects
//! as in JSON-LD.

use serde_json::{Map, Value};

/// Elements that have no end.
const VOID: [&str; 9] = ["meta", "link", "img", "br", "hr", "input", "source", "wbr", "area"];

/// How many elements may be open.
const DEEP: usize = 400;

/// Bytes of words that are kept of a page. Of a sound one each word is kept a few times at
/// most, for the elements that lie in each other; of one that is made to fill the memory, for
/// each of hundreds.
const MAX_KEPT: usize = 64_000_000;

/// An element that is open.
struct Open {
    name: String,
    /// What it is of the object around it.
    property: Option<String>,
    /// Its own object.
    object: Option<Map<String, Value>>,
    /// Its value where its words are not.
    value: Option<String>,
    /// Where its words begin.
    inside: usize,
}

/// The recipes of a page, as objects.
///
/// # Errors
/// That the page marks its words too often.
pub fn recipes(page: &str) -> Result<Vec<Value>, String> {
    let mut reader = MicrodataReader { page, open: Vec::new(), found: Vec::new(), kept: 0 };
    let mut at = 0;
    while let Some(start) = page.get(at..).and_then(|rest| rest.find('<')) {
        let start = at + start;
        let rest = &page[start..];
        if rest.starts_with("<!--") {
            at = rest.find("-->").map_or(page.len(), |end| start + end + 3);
            continue;
        }
        let Some(length) = tag_length(rest) else { break };
        let inside = &rest[1..length - 1];
        at = start + length;
        match inside.strip_prefix('/') {
            Some(name) => reader.close(name.trim(), start),
            None if inside.starts_with(|letter: char| letter.is_ascii_alphabetic()) => {
                let name = reader.open(inside, at);
                // What stands in a script is nobody's words.
                if matches!(name.as_str(), "script" | "style") {
                    let end = page[at..].to_ascii_lowercase().find(&format!("</{name}"));
                    at = end.map_or(page.len(), |end| at + end);
                }
            }
            None => {}
        }
    }
    while let Some(last) = reader.open.last() {
        let name = last.name.clone();
        reader.close(&name, page.len());
    }
    match reader.kept > MAX_KEPT {
        true => Err("it marks up the same words hundreds of times".to_owned()),
        false => Ok(reader.found),
    }
}

/// From `<` to the `>` that ends it; one inside quotes does not.
fn tag_length(tag: &str) -> Option<usize> {
    let mut quote = None;
    for (at, letter) in tag.char_indices() {
        match (quote, letter) {
            (None, '>') => return Some(at + 1),
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), letter) if open == letter => quote = None,
            _ => {}
        }
    }
    None
}

struct MicrodataReader<'p> {
    page: &'p str,
    open: Vec<Open>,
    found: Vec<Value>,
    /// Bytes of words kept so far.
    kept: usize,
}

impl MicrodataReader<'_> {
    /// Opens an element, and gives its name.
    fn open(&mut self, inside: &str, after: usize) -> String {
        let end = inside.find(|letter: char| letter.is_whitespace() || letter == '/');
        let name = inside[..end.unwrap_or(inside.len())].to_ascii_lowercase();
        let all = attributes(inside.get(name.len()..).unwrap_or_default());
        let of = |wanted: &[&str]| {
            let mut own = all.iter().filter(|(name, _)| wanted.contains(&name.as_str()));
            own.next().map(|(_, value)| value.clone())
        };
        let kind = of(&["itemtype", "typeof"]);
        let is_object = kind.is_some() || of(&["itemscope"]).is_some();
        let object = is_object.then(|| {
            let kind = kind.unwrap_or_default();
            Map::from_iter([("@type".to_owned(), Value::String(kind.trim().to_owned()))])
        });
        let property = of(&["itemprop", "property"]);
        let property = property.map(|it| it.rsplit([':', '/']).next().unwrap_or("").to_owned());
        let value = match name.as_str() {
            "meta" => of(&["content"]),
            "a" | "link" if property.as_deref() == Some("url") => of(&["href"]),
            "img" => of(&["src"]),
            _ => of(&["content"]).or_else(|| of(&["datetime"])),
        };
        let has_end = !VOID.contains(&name.as_str()) && !inside.ends_with('/');
        // An item that has no end of its own ends where the next one begins.
        if matches!(name.as_str(), "li" | "p" | "dt" | "dd" | "tr" | "td")
            && self.open.last().is_some_and(|last| last.name == name)
        {
            let start = after - inside.len() - 2;
            self.close(&name, start);
        }
        if self.open.len() < DEEP {
            self.open.push(Open { name: name.clone(), property, object, value, inside: after });
            if !has_end {
                self.close(&name, after);
            }
        }
        name
    }

    /// Closes the last element of a name with all that is open inside of it.
    fn close(&mut self, name: &str, end: usize) {
        let lower = name.to_ascii_lowercase();
        let Some(from) = self.open.iter().rposition(|it| it.name == lower) else { return };
        while self.open.len() > from {
            let Some(done) = self.open.pop() else { return };
            self.keep(done, end);
        }
    }

    fn keep(&mut self, done: Open, end: usize) {
        let is_recipe = done.object.as_ref().is_some_and(|it| kind_of(it) == "Recipe");
        let is_kept = done.property.is_some()
            && self.open.iter().any(|around| around.object.is_some())
            && self.kept <= MAX_KEPT;
        let value = match done.object {
            Some(object) if object.len() > 1 => Value::Object(object),
            _ if !is_kept => return,
            // An object that says nothing of itself is its words.
            _ => {
                let words = || self.page.get(done.inside..end).unwrap_or_default().to_owned();
                let words = done.value.unwrap_or_else(words);
                self.kept += words.len();
                Value::String(words)
            }
        };
        let around = self.open.iter_mut().rev().find_map(|it| it.object.as_mut());
        match (done.property, around) {
            (Some(property), Some(object)) => match object.get_mut(&property) {
                Some(Value::Array(all)) => all.push(value),
                _ => {
                    object.insert(property, Value::Array(vec![value]));
                }
            },
            _ if is_recipe => self.found.push(value),
            _ => {}
        }
    }
}

fn kind_of(object: &Map<String, Value>) -> &str {
    let kind = object.get("@type").and_then(Value::as_str).unwrap_or_default();
    kind.rsplit(['/', ':']).next().unwrap_or_default()
}

/// The attributes of a tag, their names in small letters.
fn attributes(tag: &str) -> Vec<(String, String)> {
    let mut all = Vec::new();
    let mut rest = tag.trim_start();
    while !rest.is_empty() {
        let end = rest.find(|it: char| it.is_whitespace() || matches!(it, '=' | '/' | '>'));
        let name = rest[..end.unwrap_or(rest.len())].to_ascii_lowercase();
        rest = rest[name.len()..].trim_start();
        let mut value = String::new();
        if let Some(after) = rest.strip_prefix('=') {
            let after = after.trim_start();
            let quote = after.chars().next().filter(|it| matches!(it, '"' | '\''));
            let (told, left) = match quote {
                Some(quote) => {
                    let inner = &after[1..];
                    inner.split_once(quote).unwrap_or((inner, ""))
                }
                None => {
                    let end = after.find(char::is_whitespace).unwrap_or(after.len());
                    after.split_at(end)
                }
            };
            value = told.to_owned();
            rest = left.trim_start();
        } else if name.is_empty() {
            let mut letters = rest.chars();
            letters.next();
            rest = letters.as_str().trim_start();
        }
        if !name.is_empty() {
            all.push((name, value));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marked_pages_give_the_objects_that_they_mark() {
        let page = r#"<!doctype html><body itemscope itemtype="https://schema.org/WebPage">
<script>if (1 < 2) "<p itemprop='name'>"</script>
<div itemscope itemtype='https://schema.org/Recipe'><h1 itemprop="name">Harbour Loaf</h1>
<!-- <p itemprop="name">No</p> --><meta itemprop=recipeYield content="2 loaves"><br/>
<ul><li itemprop="recipeIngredient">500 g <b>flour</b><li itemprop="recipeIngredient">10 g salt</ul>
<p itemprop="author" itemscope itemtype="https://schema.org/Person"><span itemprop="name">Ines</span></p>
<time itemprop="totalTime" datetime="PT3H">3 hours</time></div></body>"#;
        let found = recipes(page).expect("kept");
        let [Value::Object(recipe)] = found.as_slice() else { unreachable!("{found:?}") };
        let of = |name: &str| recipe.get(name).map(ToString::to_string).unwrap_or_default();
        assert_eq!(of("name"), r#"["Harbour Loaf"]"#);
        assert_eq!(of("recipeYield"), r#"["2 loaves"]"#);
        assert_eq!(of("recipeIngredient"), r#"["500 g <b>flour</b>","10 g salt"]"#);
        assert!(of("author").contains(r#""name":["Ines"]"#));
        assert_eq!(of("totalTime"), r#"["PT3H"]"#);
        for odd in ["", "<", "<a", "</x>", "<p itemprop='", "<li<li", "<div itemscope itemprop=a>"]
        {
            assert!(recipes(odd).expect("kept").is_empty(), "{odd}");
        }
        let rdfa = r#"<div vocab="https://schema.org/" typeof="Recipe"><p property="schema:recipeIngredient">5 g salt</p></div>"#;
        assert_eq!(recipes(rdfa).expect("kept").len(), 1);
    }
}
