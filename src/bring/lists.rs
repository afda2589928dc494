//! Recipes in plain text and in Markdown: a title, lines of ingredients, steps.

use super::grids::{self, Grid, Role, role};
use super::item::{is_beside, item, plain};
use super::people::{MAKES, is_for_people};
use super::recipe::{Brought, Recipe, RecipeLine};
use super::stages;
use super::together::list_on_a_line;

const INGREDIENTS: [&str; 9] = [
    "ingredients",
    "ingredient",
    "you need",
    "ingrédients",
    "zutaten",
    "ingredientes",
    "ingredienti",
    "formula",
    "rezept",
];
const METHOD: [&str; 24] = [
    "method",
    "instructions",
    "directions",
    "preparation",
    "steps",
    "procedure",
    "process",
    "préparation",
    "méthode",
    "étapes",
    "instructions",
    "réalisation",
    "zubereitung",
    "anleitung",
    "herstellung",
    "schritte",
    "preparación",
    "elaboración",
    "instrucciones",
    "pasos",
    "procedimento",
    "preparazione",
    "esecuzione",
    "procedimiento",
];
const NOTES: [&str; 12] = [
    "notes",
    "note",
    "tips",
    "tip",
    "remarques",
    "conseils",
    "hinweise",
    "tipps",
    "notas",
    "consejos",
    "consigli",
    "storage",
];
const SOURCES: [&str; 6] = ["source", "from", "quelle", "fuente", "fonte", "origine"];

/// Words by which a part of a recipe is named.
const PARTS: [&str; 28] = [
    "for the",
    "pour la",
    "pour le",
    "pour les",
    "für den",
    "für das",
    "für die",
    "para la",
    "para el",
    "per la",
    "per il",
    "per l'",
    "levain",
    "poolish",
    "biga",
    "preferment",
    "sponge",
    "soaker",
    "starter",
    "dough",
    "filling",
    "topping",
    "glaze",
    "vorteig",
    "sauerteig",
    "brühstück",
    "quellstück",
    "final dough",
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum ListPlace {
    Head,
    Items,
    Steps,
    Notes,
}

/// The recipes of a text.
///
/// # Errors
/// That there is none in it.
pub fn recipes(text: &str, stem: &str) -> Result<Brought, String> {
    let (front, text) = front_matter(text);
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    let mut reader = ListReader { recipes: Vec::new(), open: front, place: ListPlace::Head };
    let mut blank = true;
    let mut fenced = false;
    let mut columns = Vec::new();
    let mut past = 0;
    for (at, line) in lines.iter().enumerate() {
        if at < past {
            continue;
        }
        let trimmed = line.trim();
        if let Some((table, count)) = table(lines.get(at..).unwrap_or_default(), stem) {
            reader.table(table, &mut columns);
            past = at + count;
            blank = true;
            continue;
        }
        if trimmed.starts_with("```") || trimmed.starts_with("~~~") {
            fenced = !fenced;
            continue;
        }
        if trimmed.is_empty() || is_rule(trimmed) || fenced && trimmed.is_empty() {
            blank = true;
            continue;
        }
        reader.line(trimmed, blank, lines.get(at + 1..).unwrap_or_default());
        blank = false;
    }
    let last = std::mem::take(&mut reader.open);
    reader.end(last);
    let mut recipes = reader.recipes;
    if recipes.is_empty() {
        return Err("no line in it says how much of something goes in".to_owned());
    }
    recipes.iter_mut().for_each(title_as_part);
    for recipe in recipes.iter_mut().filter(|recipe| recipe.title.is_empty()) {
        recipe.title = stem.to_owned();
    }
    Ok(Brought { recipes, columns })
}

/// What stands between lines of three strokes at the head of a file, `title: Ship's Loaf`, as the
/// beginning of a recipe; and the text below it.
fn front_matter(text: &str) -> (Recipe, &str) {
    let mut recipe = Recipe::default();
    let Some(rest) = text.strip_prefix("---\n").or_else(|| text.strip_prefix("---\r\n")) else {
        return (recipe, text);
    };
    let Some(end) = rest.find("\n---") else { return (recipe, text) };
    let (head, below) = (&rest[..end], &rest[end + 4..]);
    let is_field = |line: &str| line.contains(':') || line.starts_with([' ', '-', '#']);
    if !head.lines().map(str::trim_end).all(|line| line.is_empty() || is_field(line)) {
        return (recipe, text);
    }
    for line in head.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (name, value) = line.split_once(':').unwrap_or(("", line));
        let value = value.trim().trim_matches(['"', '\'']).to_owned();
        match name.trim().to_lowercase().as_str() {
            "title" | "titre" | "titel" | "título" | "titolo" if recipe.title.is_empty() => {
                recipe.title = value;
            }
            "source" | "author" if recipe.source.is_none() => recipe.source = Some(value),
            "yield" | "makes" if recipe.makes.is_none() => recipe.makes = Some(value),
            "serves" | "servings" if recipe.serves.is_none() => recipe.serves = Some(value),
            _ => recipe.left.push(line.to_owned()),
        }
    }
    (recipe, below)
}

/// `Zutaten (2 Brote zu je 750 g)`: the words, and what the brackets at their end say is made.
fn made_in_brackets(words: &str) -> Option<(&str, &str)> {
    let (before, inside) =
        words.trim_end_matches(':').trim_end().strip_suffix(')')?.split_once('(')?;
    let lower = inside.to_lowercase();
    let first = lower.split([' ', ':']).next().unwrap_or_default();
    let is_list = INGREDIENTS.contains(&before.trim().to_lowercase().as_str());
    let is_number = |it: char| it.is_ascii_digit();
    let is_made = is_list && lower.contains(is_number)
        || MAKES.contains(&first) && !matches!(first, "for" | "pour" | "für" | "per" | "para");
    let is_head = !before.trim().is_empty() && item(before).is_none();
    (is_made && is_head).then_some((before.trim(), inside.trim()))
}

/// A table of Markdown that lines begin with, as it is read by its heads, and how many lines it
/// has; none where its heads are not those of ingredients and amounts, or it has several recipes.
fn table(lines: &[&str], stem: &str) -> Option<(Brought, usize)> {
    let is_under_heads =
        |line: &&&str| line.contains('-') && line.contains('|') && is_rule(line.trim());
    lines.get(1).filter(is_under_heads)?;
    let count = lines.iter().take_while(|line| line.contains('|')).count();
    let cells = |line: &&str| {
        let line = line.trim().trim_start_matches('|').trim_end_matches('|');
        line.split('|').map(|cell| plain(cell.trim())).collect::<Vec<String>>()
    };
    let (head, rows) = lines.get(..count)?.split_first()?;
    let rows = std::iter::once(head).chain(rows.get(1..)?);
    let grid = Grid { name: String::new(), rows: rows.map(cells).collect() };
    let has_heads = grid.rows.first()?.iter().any(|cell| role(cell) == Some(Role::Name));
    let brought = grids::recipes(&[grid], stem).ok().filter(|_| has_heads)?;
    (brought.recipes.len() == 1).then_some((brought, count))
}

/// `Starter` over the first lines of a text without a title, which has a dough below them.
fn title_as_part(recipe: &mut Recipe) {
    let is_dough = |line: &RecipeLine| match line {
        RecipeLine::Part(part) => stages::is_dough(&stages::bare(part)),
        RecipeLine::Item(_) => false,
    };
    let is_first_of_parts = stages::kind_of(&stages::bare(&recipe.title)).is_some()
        && matches!(recipe.lines.first(), Some(RecipeLine::Item(_)))
        && recipe.lines.iter().any(is_dough);
    if is_first_of_parts {
        recipe.lines.insert(0, RecipeLine::Part(std::mem::take(&mut recipe.title)));
    }
}

/// A line of strokes, or the one under the heads of a table.
fn is_rule(line: &str) -> bool {
    line.len() > 2 && line.chars().all(|letter| "-=_*|: ".contains(letter))
}

struct ListReader {
    recipes: Vec<Recipe>,
    open: Recipe,
    place: ListPlace,
}

impl ListReader {
    /// Keeps a recipe that has something in it; what a text says beside all recipes is left
    /// with the next or the last one.
    fn end(&mut self, recipe: Recipe) {
        if recipe.has_items() {
            self.recipes.push(recipe);
            return;
        }
        let title = Some(recipe.title).filter(|title| !title.is_empty());
        let left = title.into_iter().chain(recipe.makes).chain(recipe.serves).chain(recipe.source);
        let parts = recipe.lines.into_iter().map(|line| match line {
            RecipeLine::Part(name) | RecipeLine::Item(name) => name,
        });
        let left = left.chain(parts).chain(recipe.steps).chain(recipe.left);
        match self.recipes.last_mut() {
            Some(last) => last.left.extend(left),
            None => self.open.left.splice(0..0, left).for_each(drop),
        }
    }

    fn begin(&mut self, title: String) {
        let done = std::mem::take(&mut self.open);
        self.place = ListPlace::Head;
        self.end(done);
        self.open.title = title;
    }

    fn line(&mut self, line: &str, blank: bool, following: &[&str]) {
        let next = following.iter().map(|line| line.trim()).find(|line| !line.is_empty());
        let begins_items = next.is_some_and(|line| {
            let line = plain(line);
            numbered(&line).0.is_none() && item(&line).is_some()
        });
        let is_heading = line.starts_with('#');
        let words = plain(line.trim_start_matches('#'));
        let words = words.trim().trim_matches('|').trim();
        let is_bulleted =
            line.starts_with(['-', '*', '•', '+', '·', '☐']) && !line.starts_with("**");
        let (ordinal, rest) = numbered(words);
        let words = match made_in_brackets(words) {
            Some((before, made)) if self.open.makes.is_none() && self.place != ListPlace::Steps => {
                match is_for_people(made) {
                    true => self.open.serves = Some(made.to_owned()),
                    false => self.open.makes = Some(made.to_owned()),
                }
                before
            }
            _ => words,
        };
        if is_heading || words.ends_with(':') && words.split(' ').count() <= 7 {
            return self.heading(words.trim_end_matches(':').trim(), is_heading, begins_items);
        }
        // `Starter` on a line of its own before what goes into it.
        let has_title = !self.open.title.is_empty();
        let is_bare_part = has_title && begins_items && !is_bulleted && is_part_alone(words);
        if ordinal.is_none() && (is_section(words) || is_bare_part) {
            return self.heading(words, false, begins_items);
        }
        if self.is_said_of_all(words) || ordinal.is_none() && self.listed(words) {
            return;
        }
        // `Half Loaf` is a title, though it begins with a number.
        let has_digit = words.chars().any(|it| it.is_numeric());
        let is_first = self.place == ListPlace::Head && self.open.title.is_empty();
        let is_titled = is_first && !has_digit && !is_bulleted && is_title(words);
        let found = !is_titled && item(words).is_some();
        match self.place {
            ListPlace::Head | ListPlace::Items if found && ordinal.is_none() => {
                self.place = ListPlace::Items;
                self.open.lines.push(RecipeLine::Item(words.to_owned()));
            }
            ListPlace::Head if self.open.title.is_empty() && !is_bulleted && is_title(words) => {
                self.open.title = words.to_owned();
            }
            ListPlace::Head => self.open.left.push(words.to_owned()),
            ListPlace::Steps | ListPlace::Items
                if blank
                    && !is_bulleted
                    && ordinal.is_none()
                    && begins_recipe(words, following) =>
            {
                self.begin(words.to_owned());
            }
            ListPlace::Items if self.takes_part(words) => {
                self.open.lines.push(RecipeLine::Item(words.to_owned()));
            }
            // `Zest of 1 lemon`, `Walnuts`: a line of the list that says no amount.
            ListPlace::Items
                if ordinal.is_none()
                    && !words.ends_with(['.', '!', '?'])
                    && (words.split(' ').count() < 4
                        || words.split(' ').count() < 8 && is_beside(words).is_some()
                        || !blank && (is_bulleted || goes_on_with_items(following))) =>
            {
                self.open.lines.push(RecipeLine::Item(words.to_owned()));
            }
            ListPlace::Notes => self.open.left.push(words.to_owned()),
            ListPlace::Items | ListPlace::Steps => {
                self.place = ListPlace::Steps;
                match ordinal {
                    Some(ordinal) => self.open.steps.push(format!("{ordinal}\u{1f}{rest}")),
                    None => self.add_to_steps(words, blank),
                }
            }
        }
    }

    /// A whole list on one line, with its part before it and what is done with it after it.
    fn listed(&mut self, words: &str) -> bool {
        if self.place == ListPlace::Steps || self.place == ListPlace::Notes {
            return false;
        }
        let Some(list) = list_on_a_line(words) else { return false };
        match list.label {
            Some(label) if self.open.title.is_empty() && self.open.lines.is_empty() => {
                self.open.title = label;
            }
            Some(label) if !INGREDIENTS.contains(&label.to_lowercase().as_str()) => {
                self.open.lines.push(RecipeLine::Part(label));
            }
            _ => {}
        }
        self.place = ListPlace::Items;
        self.open.lines.extend(list.lines.into_iter().map(RecipeLine::Item));
        self.open.steps.extend(list.after);
        true
    }

    /// A paragraph goes on over lines.
    fn add_to_steps(&mut self, words: &str, blank: bool) {
        match self.open.steps.last_mut() {
            Some(last) if !blank && !last.ends_with(['.', '!', ':']) => {
                last.push(' ');
                last.push_str(words);
            }
            _ => self.open.steps.push(words.to_owned()),
        }
    }

    fn heading(&mut self, words: &str, is_marked: bool, begins_items: bool) {
        let key = words.to_lowercase();
        let is = |known: &[&str]| known.contains(&key.as_str());
        if is(&METHOD) {
            self.place = ListPlace::Steps;
        } else if is(&INGREDIENTS) {
            self.place = ListPlace::Items;
        } else if is(&NOTES) {
            self.place = ListPlace::Notes;
        } else if (self.place != ListPlace::Steps || begins_items && is_part_alone(words))
            && self.is_part(&key)
        {
            self.place = ListPlace::Items;
            self.open.lines.push(RecipeLine::Part(words.to_owned()));
        } else if is_marked {
            self.begin(words.to_owned());
        } else if self.place == ListPlace::Head && self.open.title.is_empty() {
            self.open.title = words.to_owned();
        } else {
            self.open.left.push(words.to_owned());
        }
    }

    /// `all of the starter`: a part above goes in.
    fn takes_part(&self, words: &str) -> bool {
        self.open.lines.iter().any(|line| match line {
            RecipeLine::Part(part) => {
                let bare = stages::bare(part);
                stages::kind_of(&bare).is_some() && stages::takes_all(words, &bare)
            }
            RecipeLine::Item(_) => false,
        })
    }

    fn is_part(&self, key: &str) -> bool {
        let has_title = !self.open.title.is_empty();
        let holds = |part: &&str| key.starts_with(*part) || key.ends_with(*part);
        has_title && (is_part_alone(key) || PARTS.iter().any(holds))
    }

    /// The lines of a table.
    fn table(&mut self, table: Brought, columns: &mut Vec<String>) {
        columns.extend(table.columns);
        self.place = ListPlace::Items;
        for recipe in table.recipes {
            self.open.lines.extend(recipe.lines);
            self.open.left.extend(recipe.left);
            self.open.in_grams.extend(recipe.in_grams);
        }
    }

    /// What a recipe makes, and where it is from.
    fn is_said_of_all(&mut self, words: &str) -> bool {
        let lower = words.to_lowercase();
        let has_digit = lower.chars().any(|letter| letter.is_ascii_digit());
        let says = |known: &[&str]| {
            known.iter().any(|word| {
                lower.strip_prefix(word).is_some_and(|rest| rest.starts_with([' ', ':']))
            })
        };
        let is_short = words.split(' ').count() <= 8;
        if self.open.source.is_none() && says(&SOURCES) && lower.contains(':') {
            let said = words.split_once(':').map_or(words, |(_, said)| said.trim());
            self.open.source = Some(said.to_owned());
            return true;
        }
        if self.open.serves.is_none() && is_short && has_digit && is_for_people(words) {
            self.open.serves = Some(words.trim_end_matches('.').to_owned());
            return true;
        }
        if self.open.makes.is_none()
            && self.place == ListPlace::Head
            && is_short
            && says(&MAKES)
            && has_digit
        {
            self.open.makes = Some(words.trim_end_matches('.').to_owned());
            return true;
        }
        false
    }
}

/// Whether a heading is the name of a part and nothing else: `Starter`, `Final dough`, `Für den
/// Vorteig`.
fn is_part_alone(words: &str) -> bool {
    let key = words.trim_end_matches(':').trim().to_lowercase();
    let leads = [
        "for the ",
        "the ",
        "pour le ",
        "pour la ",
        "für den ",
        "für das ",
        "para la ",
        "para el ",
        "per il ",
        "per la ",
        "per l'",
    ];
    let bare = leads.iter().find_map(|lead| key.strip_prefix(lead)).unwrap_or(&key);
    stages::kind_of(bare).is_some() || stages::is_dough(bare)
}

fn is_section(words: &str) -> bool {
    let key = words.to_lowercase();
    [METHOD.as_slice(), &INGREDIENTS, &NOTES].iter().any(|known| known.contains(&key.as_str()))
}

fn is_title(words: &str) -> bool {
    words.split_whitespace().count() <= 9 && !words.ends_with(['.', ',', ';'])
}

/// Whether words are the title of another recipe: a short line before ingredients.
fn begins_recipe(words: &str, following: &[&str]) -> bool {
    let mut next = following.iter().map(|line| line.trim()).filter(|line| !line.is_empty());
    let is_begun = next.next().is_some_and(|line| {
        let line = plain(line);
        numbered(&line).0.is_none() && item(&line).is_some()
            || INGREDIENTS.contains(&line.trim_end_matches(':').to_lowercase().as_str())
    });
    is_title(words) && item(words).is_none() && is_begun
}

/// Whether more of a list follows before a blank line.
fn goes_on_with_items(following: &[&str]) -> bool {
    let own = following.iter().map(|line| line.trim()).take_while(|line| !line.is_empty());
    own.map(plain).any(|line| numbered(&line).0.is_none() && item(&line).is_some())
}

/// `1. Mix`: the number, and what follows it.
fn numbered(words: &str) -> (Option<&str>, &str) {
    let step = ["Step ", "Schritt ", "Étape ", "Paso ", "Passo "];
    let rest = step.iter().find_map(|step| words.strip_prefix(step)).unwrap_or(words);
    let count = rest.bytes().take_while(u8::is_ascii_digit).count();
    let after = &rest[count..];
    let is_ordinal = (1..=2).contains(&count)
        && after.starts_with(['.', ')', ':'])
        && after[1..].starts_with(' ');
    match is_ordinal {
        true => (rest.get(..count), after[1..].trim_start()),
        false => (None, words),
    }
}
