//! Recipes in tables: which column is what, and a line of ingredients for each row.

use super::item::item;
use super::names::{Matched, is_known, matched};
use super::numbers::number;
use super::people::is_for_people;
use super::recipe::{Brought, Recipe, RecipeLine};
use super::units::{Measure, measure};
use crate::formula::{built_in, key};
use crate::quantity::int;

/// A table with its name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grid {
    /// Of the sheet or the file.
    pub name: String,
    /// Rows of cells.
    pub rows: Vec<Vec<String>>,
}

/// What a column holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// Names of ingredients.
    Name,
    /// Weights, in the unit that the head says.
    Weight(Option<&'static str>),
    /// Units of the weights.
    Unit,
    /// Baker's percentages.
    Percent,
    /// Whatever else is said of a line.
    Note,
    /// Which recipe a line is of.
    Recipe,
    /// Which part of the recipe a line is of: a stage, the dough.
    Part,
}

const NAMES: [&str; 20] = [
    "names",
    "material",
    "product name",
    "nom",
    "bezeichnung",
    "nombre",
    "nome",
    "ingredient name",
    "ingredient",
    "ingredients",
    "item",
    "name",
    "ingrédient",
    "ingrédients",
    "zutat",
    "zutaten",
    "ingrediente",
    "ingredientes",
    "ingredienti",
    "what",
];
const WEIGHTS: [&str; 17] = [
    "weight",
    "amount",
    "quantity",
    "qty",
    "mass",
    "poids",
    "quantité",
    "gewicht",
    "menge",
    "peso",
    "cantidad",
    "quantità",
    "metric",
    "us",
    "volume",
    "total weight",
    "how much",
];
const UNITS: [&str; 6] = ["unit", "units", "unité", "einheit", "unidad", "unità"];
const PERCENTS: [&str; 10] = [
    "%",
    "percent",
    "percentage",
    "baker's %",
    "baker's percentage",
    "bakers %",
    "pourcentage",
    "prozent",
    "porcentaje",
    "percentuale",
];
const NOTES: [&str; 9] =
    ["note", "notes", "comment", "remarque", "notiz", "bemerkung", "nota", "notas", "preparation"];
const RECIPES: [&str; 9] =
    ["recipe", "formula", "product", "recette", "rezept", "receta", "ricetta", "produit", "bread"];
const PARTS: [&str; 18] = [
    "stage",
    "part",
    "group",
    "phase",
    "section",
    "component",
    "mix",
    "étape",
    "partie",
    "stufe",
    "teil",
    "abschnitt",
    "fase",
    "parte",
    "etapa",
    "grupo",
    "gruppo",
    "sezione",
];
/// Heads of columns that hold a whole list or method in each cell, and of what else is said of a
/// recipe in a row of its own.
const METHODS: [&str; 19] = [
    "method",
    "instructions",
    "directions",
    "steps",
    "procedure",
    "préparation",
    "méthode",
    "étapes",
    "instructions de préparation",
    "zubereitung",
    "anleitung",
    "schritte",
    "preparación",
    "elaboración",
    "instrucciones",
    "pasos",
    "preparazione",
    "procedimento",
    "istruzioni",
];
const YIELDS: [&str; 17] = [
    "yield",
    "yields",
    "makes",
    "serves",
    "servings",
    "portions",
    "rendement",
    "ergibt",
    "portionen",
    "ausbeute",
    "rinde",
    "raciones",
    "rendimiento",
    "resa",
    "dosi",
    "porzioni",
    "quantité produite",
];
const TITLES: [&str; 6] = ["title", "titre", "titel", "título", "titolo", "recipe name"];
const ORIGINS: [&str; 7] = ["source", "from", "author", "auteur", "quelle", "fuente", "fonte"];

/// What rows of sums are called.
pub const TOTALS: [&str; 12] = [
    "total",
    "totals",
    "sum",
    "summe",
    "gesamt",
    "somme",
    "totale",
    "suma",
    "total weight",
    "total dough",
    "dough",
    "grand total",
];

/// The recipes of some tables.
///
/// # Errors
/// That no table has columns of names and weights.
pub fn recipes(grids: &[Grid], stem: &str) -> Result<Brought, String> {
    let mut brought = Brought::default();
    for grid in grids {
        let mut grid = grid.clone();
        grid.rows.iter_mut().flatten().for_each(keep_sign);
        read(&grid, stem, &mut brought);
    }
    if brought.recipes.is_empty() {
        return Err("no table in it has a column of ingredients and one of amounts".to_owned());
    }
    Ok(brought)
}

/// What is less than nothing stays so: a hyphen before a number would be taken for the mark of a
/// list, or for half of a range.
fn keep_sign(cell: &mut String) {
    let written = cell.trim_start();
    let is_less = written.strip_prefix(['-', '–']).is_some_and(|rest| {
        let rest = rest.trim_start_matches([' ', '\u{a0}']);
        is_bare(rest) && rest.starts_with(|it: char| it.is_ascii_digit() || ".,".contains(it))
            || rest.starts_with(|it: char| it.is_ascii_digit()) && item(rest).is_none()
    });
    if is_less {
        let at = cell.len() - written.len();
        let sign = written.chars().next().map_or(0, char::len_utf8);
        cell.replace_range(at..at + sign, "−");
    }
}

fn read(grid: &Grid, stem: &str, brought: &mut Brought) {
    if let Some((told, recipes)) = in_rows(grid) {
        brought.columns.push(told);
        brought.recipes.extend(recipes);
        return;
    }
    if let Some((told, recipes)) = by_rows(grid) {
        brought.columns.push(told);
        brought.recipes.extend(recipes);
        return;
    }
    if let Some(recipes) = wide(grid) {
        brought.columns.push(told_wide(grid, &recipes));
        brought.recipes.extend(recipes.into_iter().map(|(_, recipe)| recipe));
        return;
    }
    let Some((head, roles)) = roles(grid) else { return };
    let column =
        |wanted: fn(&Role) -> bool| roles.iter().position(|role| role.as_ref().is_some_and(wanted));
    let Some(names) = column(|role| *role == Role::Name) else { return };
    brought.columns.push(told(grid, head, &roles));
    let by_recipe = column(|role| *role == Role::Recipe);
    let by_part = column(|role| *role == Role::Part);
    let above = head.map_or(0, |head| head);
    let mut said: Vec<String> = Vec::new();
    for row in grid.rows.iter().take(above) {
        said.push(joined(row));
    }
    // `Formula: | Rye 40 | Date | 12/3`
    let labelled = said.iter().enumerate().find_map(|(at, row)| {
        let (label, rest) = row.split_once(" | ")?;
        let label = label.trim_end_matches(':').to_lowercase();
        let is_title = [RECIPES.as_slice(), &TITLES, &["name", "nom", "nombre", "nome"]]
            .iter()
            .any(|known| known.contains(&label.as_str()));
        let (title, rest) = rest.split_once(" | ").unwrap_or((rest, ""));
        is_title.then(|| (at, title.to_owned(), rest.to_owned()))
    });
    if let Some((at, title, rest)) = &labelled {
        said[*at] = rest.clone();
        said.insert(0, title.clone());
    }
    let title = said.iter().position(|row| !row.is_empty() && row.split(' ').count() <= 9);
    let title = title.map_or_else(|| named(&grid.name, stem), |at| said.remove(at));
    let first = brought.recipes.len();
    let mut open = Recipe { title, left: said, ..Recipe::default() };
    let mut part = String::new();
    open.left.retain(|row| !row.is_empty());
    for row in grid.rows.iter().skip(head.map_or(0, |head| head + 1)) {
        let cell = |at: usize| row.get(at).map_or("", |cell| cell.trim());
        let name = cell(names);
        if joined(row).is_empty() {
            continue;
        }
        if let Some(title) = by_recipe.map(cell).filter(|title| !title.is_empty())
            && title != open.title
        {
            let next = Recipe { title: title.to_owned(), ..Recipe::default() };
            let mut done = std::mem::replace(&mut open, next);
            if !done.has_items() {
                open.left.append(&mut done.left);
            }
            keep(done, brought);
            part.clear();
        }
        let is_total = TOTALS.contains(&name.to_lowercase().as_str());
        if !is_total && row.iter().any(|cell| is_formula(cell)) && !name.is_empty() {
            open.lines.push(RecipeLine::Item(joined(row)));
            continue;
        }
        // Two names in one cell have one amount: whose it is, nobody can tell.
        if name.lines().filter(|line| !line.trim().is_empty()).count() > 1 {
            open.left.push(joined(row).split_whitespace().collect::<Vec<_>>().join(" "));
            continue;
        }
        match line(row, &roles, name).filter(|_| !is_total) {
            Some(line) => {
                if is_without_unit(row, &roles) {
                    open.in_grams.push(line.clone());
                }
                let own = by_part.map_or("", cell);
                if !own.is_empty() && own != part {
                    own.clone_into(&mut part);
                    let known = RecipeLine::Part(part.clone());
                    // Rows of one part may stand in several places.
                    if let Some(at) = open.lines.iter().position(|it| *it == known) {
                        let rest = &open.lines[at + 1..];
                        let end = rest.iter().position(|it| matches!(it, RecipeLine::Part(_)));
                        let end = end.map_or(open.lines.len(), |end| at + 1 + end);
                        open.lines.insert(end, RecipeLine::Item(line));
                        part.clear();
                        continue;
                    }
                    open.lines.push(known);
                }
                open.lines.push(RecipeLine::Item(line));
            }
            None if !is_total
                && row.iter().filter(|cell| !cell.trim().is_empty()).count() == 1
                && !joined(row).chars().any(|letter| letter.is_ascii_digit()) =>
            {
                open.lines.push(RecipeLine::Part(joined(row)));
            }
            None => open.left.push(joined(row)),
        }
    }
    keep(open, brought);
    // Recipes of a column may stand in any order of rows.
    let own = brought.recipes.split_off(first);
    for recipe in own {
        let same = brought.recipes[first..].iter_mut().find(|known| known.title == recipe.title);
        match same {
            Some(known) => {
                known.lines.extend(recipe.lines);
                known.left.extend(recipe.left);
                known.in_grams.extend(recipe.in_grams);
            }
            None => brought.recipes.push(recipe),
        }
    }
}

fn keep(recipe: Recipe, brought: &mut Brought) {
    if recipe.has_items() {
        brought.recipes.push(recipe);
    } else if let Some(last) = brought.recipes.last_mut() {
        last.left.extend(recipe.left);
    }
}

/// Recipes of a table in which each has a row of its own, with its whole list in a cell; and how
/// the columns were understood. None where no cell holds a list.
fn in_rows(grid: &Grid) -> Option<(String, Vec<Recipe>)> {
    let is_filled =
        |row: &&Vec<String>| row.iter().filter(|cell| !cell.trim().is_empty()).count() > 1;
    let (head, heads) = grid.rows.iter().enumerate().find(|(_, row)| is_filled(row))?;
    let is = |cell: &str, known: &[&str]| known.contains(&cell.trim().to_lowercase().as_str());
    let below = grid.rows.get(head + 1..)?;
    let list = (0..heads.len()).find(|at| {
        let cells = below.iter().filter_map(|row| row.get(*at)).filter(|it| !it.trim().is_empty());
        let cells: Vec<&String> = cells.collect();
        !cells.is_empty() && cells.iter().all(|cell| items(cell).len() > 1)
    })?;
    let column = |known: &[&str]| (0..heads.len()).find(|at| *at != list && is(&heads[*at], known));
    let method = column(&METHODS);
    let makes = column(&YIELDS);
    let source = column(&ORIGINS);
    let title = column(&TITLES).or_else(|| column(&RECIPES)).or_else(|| {
        let mut others = (0..heads.len())
            .filter(|at| *at != list && ![method, makes, source].contains(&Some(*at)));
        let is_name = |at: &usize| is(&heads[*at], &["name", "nom", "nombre", "nome"]);
        let named = others.clone().find(is_name);
        named.or_else(|| others.next())
    })?;
    let mut recipes = Vec::new();
    for row in below {
        let cell = |at: usize| row.get(at).map_or("", |cell| cell.trim());
        if joined(row).is_empty() {
            continue;
        }
        let mut recipe = Recipe { title: cell(title).to_owned(), ..Recipe::default() };
        recipe.lines = items(cell(list)).into_iter().map(RecipeLine::Item).collect();
        let steps = method.map_or("", cell).lines().map(str::trim);
        recipe.steps = steps.filter(|it| !it.is_empty()).map(str::to_owned).collect();
        recipe.source = source.map(cell).filter(|it| !it.is_empty()).map(str::to_owned);
        if let Some(at) = makes
            && !cell(at).is_empty()
        {
            let is_bare = cell(at).chars().all(|it| it.is_ascii_digit());
            let head = heads[at].trim().to_lowercase();
            let said = match is_bare {
                true => format!("{head} {}", cell(at)),
                false => cell(at).to_owned(),
            };
            match is_for_people(&said) || is_for_people(&head) {
                true => recipe.serves = Some(said),
                false => recipe.makes = Some(said),
            }
        }
        let read = [Some(list), Some(title), method, makes, source];
        for (at, cell) in row.iter().enumerate().filter(|(at, _)| !read.contains(&Some(*at))) {
            if !cell.trim().is_empty() {
                let head = heads.get(at).map_or("", |head| head.trim());
                recipe.left.push(format!("{head}: {}", cell.trim()));
            }
        }
        recipes.push(recipe);
    }
    let above = grid.rows.iter().take(head).map(|row| joined(row)).filter(|row| !row.is_empty());
    recipes.first_mut()?.left.splice(0..0, above).for_each(drop);
    let shown = [
        (Some(title), "recipe"),
        (Some(list), "ingredients"),
        (method, "method"),
        (makes, "yield"),
        (source, "source"),
    ];
    let shown = shown.iter().filter_map(|(at, what)| Some(format!("{} {what}", letter((*at)?))));
    let name = if grid.name.is_empty() { String::new() } else { format!("{}: ", grid.name) };
    let shown: Vec<String> = shown.collect();
    Some((format!("{name}{}, a recipe in each row", shown.join(", ")), recipes))
}

/// The lines of ingredients in a cell: one a line, or parted by `;`, `|` or commas; empty where
/// one of them says no amount.
fn items(cell: &str) -> Vec<String> {
    for mark in ['\n', ';', '|', ','] {
        let parts = cell.split(mark).map(|it| it.trim().trim_start_matches(['-', '•', '*']).trim());
        let parts: Vec<&str> = parts.filter(|it| !it.is_empty()).collect();
        let read = parts.iter().filter(|it| item(it).is_some()).count();
        // A line without an amount, `salt`, may stand among them.
        if parts.len() > 1 && read > 1 && read * 3 >= parts.len() * 2 {
            return parts.into_iter().map(str::to_owned).collect();
        }
    }
    Vec::new()
}

/// Recipes of a table in which each has a column of its own under its title: none where heads
/// say anything else.
fn wide(grid: &Grid) -> Option<Vec<(usize, Recipe)>> {
    let is_filled =
        |row: &&Vec<String>| row.iter().filter(|cell| !cell.trim().is_empty()).count() > 1;
    let (at, heads) = grid.rows.iter().enumerate().find(|(_, row)| is_filled(row))?;
    let first = heads.first().map_or("", |head| head.trim());
    let is_names = first.is_empty() || role(first) == Some(Role::Name);
    let unit_row = grid.rows.get(at + 1).filter(|row| {
        row.iter().skip(1).all(|cell| cell.trim().is_empty() || unit_alone(cell).is_some())
            && row.iter().skip(1).any(|cell| !cell.trim().is_empty())
    });
    let below = at + 1 + usize::from(unit_row.is_some());
    let rows = grid.rows.get(below..)?;
    let is_title = |head: &str| {
        let words = head.split_once('(').map_or(head, |(title, _)| title).trim();
        !words.is_empty() && role(head).is_none() && words.chars().any(char::is_alphabetic)
    };
    let is_amount = |cell: &str| cell.trim().starts_with(|letter: char| letter.is_ascii_digit());
    let columns: Vec<usize> = (1..heads.len()).filter(|at| !heads[*at].trim().is_empty()).collect();
    let is_of_amounts = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.trim());
        let cells: Vec<&str> =
            cells.filter(|cell| !cell.is_empty() && *cell != "-" && *cell != "–").collect();
        !cells.is_empty() && cells.iter().all(|cell| is_amount(cell))
    };
    let is_wide = is_names
        && columns.len() > 1
        && columns.iter().all(|at| is_title(heads[*at].trim()) && is_of_amounts(*at));
    if !is_wide {
        return None;
    }
    let of = |column: usize| {
        let head = heads[column].trim();
        let (title, unit) = match head.split_once('(') {
            Some((title, unit)) => (title.trim(), unit_alone(unit.trim_end_matches(')'))),
            None => (head, None),
        };
        let below = unit_row.and_then(|row| unit_alone(row.get(column)?));
        let told = unit.or(below);
        let mut recipe = Recipe { title: title.to_owned(), ..Recipe::default() };
        for row in rows {
            let cell = row.get(column).map_or("", |cell| cell.trim());
            let name = row.first().map_or("", |cell| cell.trim());
            // `T65 (g)`: the unit may stand beside the name.
            let of_row = name.strip_suffix(')').and_then(|name| name.rsplit_once('('));
            let of_row = of_row.and_then(|(name, unit)| Some((name.trim(), unit_alone(unit)?)));
            let (name, told) = match of_row {
                Some((name, unit)) if told.is_none() => (name, Some(unit)),
                _ => (name, told),
            };
            let unit = told.unwrap_or("g");
            let is_total = TOTALS.contains(&name.to_lowercase().as_str());
            match () {
                () if cell.is_empty() || matches!(cell, "-" | "–" | "0") => {}
                () if is_total || name.is_empty() => recipe.left.push(format!("{name} {cell}")),
                () if told.is_none() && is_bare(cell) && is_count(cell, name) => {
                    recipe.lines.push(RecipeLine::Item(format!("{cell} {name}")));
                }
                () if cell.ends_with(|letter: char| letter.is_ascii_digit()) => {
                    let line = format!("{cell} {unit} {name}");
                    if told.is_none() {
                        recipe.in_grams.push(line.clone());
                    }
                    recipe.lines.push(RecipeLine::Item(line));
                }
                () => recipe.lines.push(RecipeLine::Item(format!("{cell} {name}"))),
            }
        }
        (column, recipe)
    };
    let mut recipes: Vec<(usize, Recipe)> = columns.into_iter().map(of).collect();
    recipes.retain(|(_, recipe)| recipe.has_items());
    let above = grid.rows.iter().take(at).map(|row| joined(row)).filter(|row| !row.is_empty());
    if let Some((_, first)) = recipes.first_mut() {
        first.left.splice(0..0, above).for_each(drop);
    }
    (!recipes.is_empty()).then_some(recipes)
}

/// Recipes of a table in which each has a row of its own and each ingredient a column; none where
/// fewer than three heads are things that go into a dough.
fn by_rows(grid: &Grid) -> Option<(String, Vec<Recipe>)> {
    let is_filled =
        |row: &&Vec<String>| row.iter().filter(|cell| !cell.trim().is_empty()).count() > 1;
    let (at, heads) = grid.rows.iter().enumerate().find(|(_, row)| is_filled(row))?;
    let foods = heads.get(1..)?.iter().map(|head| head.trim()).filter(|head| !head.is_empty());
    let foods: Vec<&str> = foods.collect();
    let bare = |head: &str| head.split(['(', '[']).next().unwrap_or_default().trim().to_owned();
    let known = foods.iter().filter(|head| is_known(&bare(head))).count();
    let first = role(heads.first()?);
    let is_of_titles = heads[0].trim().is_empty()
        || matches!(first, Some(Role::Recipe | Role::Name))
        || TITLES.contains(&heads[0].trim().to_lowercase().as_str());
    if known < 3 || known * 3 < foods.len() * 2 || !is_of_titles {
        return None;
    }
    let below = grid.rows.get(at + 1..)?;
    let mut recipes = Vec::new();
    for row in below.iter().filter(|row| !joined(row).is_empty()) {
        let cell = |at: usize| row.get(at).map_or("", |cell| cell.trim());
        let mut recipe = Recipe { title: cell(0).to_owned(), ..Recipe::default() };
        for (at, head) in heads.iter().enumerate().skip(1) {
            let (name, unit) = match head.split_once(['(', '[']) {
                Some((name, unit)) => (name.trim(), unit_alone(unit.trim_end_matches([')', ']']))),
                None => (head.trim(), None),
            };
            let amount = cell(at);
            let is_total = TOTALS.contains(&name.to_lowercase().as_str());
            match (is_bare(amount), unit) {
                _ if amount.is_empty() || matches!(amount, "-" | "–" | "0") => {}
                _ if name.is_empty() || is_total || role(head).is_some() => {
                    recipe.left.push(format!("{name}: {amount}"));
                }
                (true, Some(unit)) => {
                    recipe.lines.push(RecipeLine::Item(format!("{amount} {unit} {name}")));
                }
                (true, None) if is_count(amount, name) => {
                    recipe.lines.push(RecipeLine::Item(format!("{amount} {name}")));
                }
                (true, None) => {
                    let line = format!("{amount} g {name}");
                    recipe.in_grams.push(line.clone());
                    recipe.lines.push(RecipeLine::Item(line));
                }
                (false, _) => recipe.lines.push(RecipeLine::Item(format!("{amount} {name}"))),
            }
        }
        recipes.push(recipe);
    }
    recipes.retain(Recipe::has_items);
    let above = grid.rows.iter().take(at).map(|row| joined(row)).filter(|row| !row.is_empty());
    recipes.first_mut()?.left.splice(0..0, above).for_each(drop);
    let shown = heads.iter().enumerate().filter(|(_, head)| !head.trim().is_empty());
    let shown = shown.map(|(at, head)| match at {
        0 => "A recipe".to_owned(),
        at => format!("{} {}", letter(at), head.trim()),
    });
    let shown: Vec<String> = shown.collect();
    let name = if grid.name.is_empty() { String::new() } else { format!("{}: ", grid.name) };
    Some((format!("{name}{}, a recipe in each row", shown.join(", ")), recipes))
}

/// A cell that is a unit and nothing else.
fn unit_alone(cell: &str) -> Option<&'static str> {
    match measure(cell.trim()) {
        Some((Measure::Unit(unit), length)) if length == cell.trim().len() => Some(unit),
        _ => None,
    }
}

/// Which recipe each column was taken for.
fn told_wide(grid: &Grid, recipes: &[(usize, Recipe)]) -> String {
    let shown = recipes.iter().map(|(at, recipe)| format!("{} {}", letter(*at), recipe.title));
    let shown: Vec<String> = std::iter::once("A ingredient".to_owned()).chain(shown).collect();
    let name = if grid.name.is_empty() { String::new() } else { format!("{}: ", grid.name) };
    format!("{name}{}, a recipe in each column", shown.join(", "))
}

/// The letter by which a spreadsheet calls a column.
fn letter(at: usize) -> String {
    let small = u8::try_from(at).ok().filter(|at| *at < 26);
    small.map_or_else(|| format!("{}", at + 1), |at| char::from(b'A' + at).to_string())
}

/// A sheet's own name, unless it is one that nobody gave it.
fn named(name: &str, stem: &str) -> String {
    let usual = ["sheet", "feuil", "tabelle", "hoja", "foglio"];
    let lower = name.to_lowercase();
    let is_usual = usual.iter().any(|usual| lower.starts_with(usual));
    if name.is_empty() || is_usual { stem.to_owned() } else { name.to_owned() }
}

fn joined(row: &[String]) -> String {
    let cells = row.iter().map(|cell| cell.trim()).filter(|cell| !cell.is_empty());
    cells.collect::<Vec<_>>().join(" | ")
}

/// The row of heads and what each column is; without heads, what the cells look like.
fn roles(grid: &Grid) -> Option<(Option<usize>, Vec<Option<Role>>)> {
    for (at, row) in grid.rows.iter().enumerate().take(12) {
        let roles: Vec<Option<Role>> = row.iter().map(|cell| role(cell)).collect();
        let mut roles = roles;
        // Beside `ingredient`, a column of names has those of the recipes.
        if roles.iter().flatten().filter(|role| **role == Role::Name).count() > 1
            && !roles.contains(&Some(Role::Recipe))
        {
            let is_name = |cell: &String| {
                matches!(cell.trim().to_lowercase().as_str(), "name" | "nom" | "nombre" | "nome")
            };
            if let Some(at) = row.iter().position(is_name) {
                roles[at] = Some(Role::Recipe);
            }
        }
        let has = |wanted: fn(&Role) -> bool| roles.iter().flatten().any(wanted);
        let weighs = has(|role| matches!(role, Role::Weight(_) | Role::Percent));
        if has(|role| *role == Role::Name) && weighs {
            return Some((Some(at), roles));
        }
    }
    let width = grid.rows.iter().map(Vec::len).max()?;
    let cells = |column: usize| {
        grid.rows
            .iter()
            .filter_map(move |row| row.get(column))
            .map(|cell| cell.trim())
            .filter(|cell| !cell.is_empty())
    };
    let is_number = |cell: &str| cell.starts_with(|letter: char| letter.is_ascii_digit());
    let count = |column: usize| cells(column).filter(|cell| is_number(cell)).count();
    let weight = (0..width).max_by_key(|column| (count(*column), width - column))?;
    let words = |column: usize| cells(column).filter(|cell| !is_number(cell)).count();
    let name = (0..width)
        .filter(|column| *column != weight)
        .max_by_key(|column| (words(*column), width - column))?;
    if count(weight) < 2 || words(name) < 2 {
        return None;
    }
    let mut roles = vec![None; width];
    roles[weight] = Some(Role::Weight(None));
    roles[name] = Some(Role::Name);
    Some((None, roles))
}

/// What a head says of its column.
pub fn role(cell: &str) -> Option<Role> {
    let lower = cell.trim().to_lowercase();
    let (word, unit) = match lower.split_once(['(', '[', ',']) {
        Some((word, unit)) => {
            (word.trim().to_owned(), unit.trim_end_matches([')', ']']).trim().to_owned())
        }
        None => (lower.clone(), String::new()),
    };
    let unit_of = |text: &str| match measure(text) {
        Some((Measure::Unit(unit), length)) if length == text.len() => Some(unit),
        _ => None,
    };
    let is = |known: &[&str]| known.contains(&word.as_str()) || known.contains(&lower.as_str());
    if is(&NAMES) {
        return Some(Role::Name);
    }
    if is(&PERCENTS) || unit_of(&unit) == Some("%") {
        return Some(Role::Percent);
    }
    if is(&WEIGHTS) {
        return Some(Role::Weight(unit_of(&unit)));
    }
    if let Some(unit) = unit_of(&lower) {
        return Some(if unit == "%" { Role::Percent } else { Role::Weight(Some(unit)) });
    }
    if is(&UNITS) {
        return Some(Role::Unit);
    }
    if is(&NOTES) {
        return Some(Role::Note);
    }
    if is(&PARTS) {
        return Some(Role::Part);
    }
    is(&RECIPES).then_some(Role::Recipe)
}

/// A row as a line of ingredients; nothing where it has no name or no amount.
fn line(row: &[String], roles: &[Option<Role>], name: &str) -> Option<String> {
    if name.is_empty() {
        return None;
    }
    let cells =
        || row.iter().map(|cell| cell.trim()).zip(roles).filter(|(cell, _)| !cell.is_empty());
    let unit = cells().find(|(_, role)| **role == Some(Role::Unit)).map(|(cell, _)| cell);
    let mut weights: Vec<String> = Vec::new();
    let mut beside: Vec<String> = Vec::new();
    let mut notes: Vec<&str> = Vec::new();
    for (cell, role) in cells() {
        let is_bare = is_bare(cell);
        match role {
            // The head says one unit and the row another one.
            Some(Role::Weight(Some(of))) if is_bare && says_another(unit, of) => {
                weights.push(cell.to_owned());
                notes.extend(unit);
                notes.push(of);
            }
            Some(Role::Weight(of)) => weights.push(match (is_bare, of.or(unit)) {
                (true, Some(unit)) => format!("{cell} {unit}"),
                (true, None) if is_count(cell, name) => cell.to_owned(),
                // Where others have a unit nothing is taken for granted; nobody counts 110 eggs.
                (true, None) if roles.contains(&Some(Role::Unit)) && !is_counted(name) => {
                    cell.to_owned()
                }
                (true, None) => format!("{cell} g"),
                (false, _) => cell.to_owned(),
            }),
            Some(Role::Percent) if is_bare => beside.push(format!("{cell} %")),
            Some(Role::Percent) => beside.push(cell.to_owned()),
            Some(Role::Note) => notes.push(cell),
            // What no head explains is kept beside the line.
            None => notes.push(cell),
            Some(Role::Name | Role::Unit | Role::Recipe | Role::Part) => {}
        }
    }
    let mut weights = weights.into_iter();
    let first = weights.next().or_else(|| beside.pop())?;
    let mut line = format!("{first} {name}");
    weights.chain(beside).for_each(|other| line.push_str(&format!(" ({other})")));
    notes.iter().for_each(|note| line.push_str(&format!(" ({note})")));
    Some(line)
}

/// Whether the unit that stands in a row is not that of the column.
fn says_another(unit: Option<&str>, of: &str) -> bool {
    unit.is_some_and(|unit| unit_alone(unit) != Some(of))
}

/// Whether a name is of something that is counted where no unit stands by it: eggs.
fn is_counted(name: &str) -> bool {
    let tags = [None, Some("fr"), Some("de"), Some("es"), Some("it")];
    let known = tags.iter().find_map(|tag| match matched(name, *tag) {
        Matched::Store(known, _) | Matched::Near(known) => Some(known),
        _ => None,
    });
    let known = known.and_then(|known| built_in().ingredient_named(&key(&known)));
    known.is_some_and(|known| known.each.is_some())
}

/// Whether a cell holds a formula of which no value was kept.
fn is_formula(cell: &str) -> bool {
    cell.trim().strip_prefix('=').is_some_and(|rest| rest.starts_with(|it: char| it != '='))
}

/// Whether a number without a unit counts what comes by the piece: `2` eggs are no 2 g.
fn is_count(cell: &str, name: &str) -> bool {
    // Nobody counts more into one dough, or weighs as few grams.
    const COUNTED: [&str; 38] = [
        "egg", "eggs", "yolk", "yolks", "white", "whites", "œuf", "œufs", "oeuf", "oeufs", "jaune",
        "jaunes", "ei", "eier", "eigelb", "eiweiß", "huevo", "huevos", "yema", "yemas", "clara",
        "claras", "uovo", "uova", "tuorlo", "tuorli", "albume", "albumi", "lemon", "lemons",
        "orange", "oranges", "banana", "bananas", "potato", "potatoes", "apple", "apples",
    ];
    let key = key(name);
    let mut words = key.split([' ', ',', '-', '(']);
    let is_counted = is_counted(name) || words.any(|word| COUNTED.contains(&word));
    let powder = ["powder", "dried", "pulver", "poudre", "polvo", "polvere", "flour", "oil"];
    let is_other = powder.iter().any(|word| key.contains(word));
    let last = cell.rsplit(['-', '–', ' ']).find(|it| !it.is_empty()).unwrap_or(cell);
    let is_few = number(last).is_none_or(|count| count.low <= int(24));
    is_counted && !is_other && is_few
}

/// A number without a unit.
fn is_bare(cell: &str) -> bool {
    let is_of_number =
        |letter: char| letter.is_ascii_digit() || ".,/ ½¼¾⅓⅔'\u{a0}\u{202f}-–".contains(letter);
    cell.chars().all(is_of_number)
}

/// Whether the amount of a row has a unit neither in its cell, nor beside it, nor in its head.
fn is_without_unit(row: &[String], roles: &[Option<Role>]) -> bool {
    let cells =
        || row.iter().map(|cell| cell.trim()).zip(roles).filter(|(cell, _)| !cell.is_empty());
    let mut weights = cells().filter(|(_, role)| matches!(role, Some(Role::Weight(_))));
    let has_unit = roles.contains(&Some(Role::Unit));
    let first = weights.next();
    let name = cells().find(|(_, role)| **role == Some(Role::Name)).map_or("", |(cell, _)| cell);
    !has_unit
        && first.is_some_and(|(cell, _)| !is_count(cell, name))
        && first.is_some_and(|(cell, role)| *role == Some(Role::Weight(None)) && is_bare(cell))
}

/// What each column was taken for.
fn told(grid: &Grid, head: Option<usize>, roles: &[Option<Role>]) -> String {
    let shown = roles.iter().enumerate().filter_map(|(at, role)| {
        let what = match role.as_ref()? {
            Role::Name => "ingredient".to_owned(),
            Role::Weight(Some(unit)) => format!("amount in {unit}"),
            Role::Weight(None) => "amount".to_owned(),
            Role::Unit => "unit".to_owned(),
            Role::Percent => "percentage".to_owned(),
            Role::Note => "note".to_owned(),
            Role::Recipe => "recipe".to_owned(),
            Role::Part => "part".to_owned(),
        };
        Some(format!("{} {what}", letter(at)))
    });
    let shown: Vec<String> = shown.collect();
    let heads = head.map_or("no heads".to_owned(), |head| format!("heads in row {}", head + 1));
    let name = if grid.name.is_empty() { String::new() } else { format!("{}: ", grid.name) };
    format!("{name}{}, {heads}", shown.join(", "))
}
