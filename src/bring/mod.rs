//! Bringing in: recipes that exist in other forms become the text of formulas.
//!
//! Enters: the bytes of a list, a table, a spreadsheet or a page, with its name. Leaves: the
//! recipes in it, and each as the text of a formula, with what nobody but its author can say.
//! Absent on purpose: files, and any judgement of the bread, which `check` makes afterwards.
//!
//! Nothing is guessed silently: a line that became another is beside it as a comment, what
//! was not understood stands in comments, and what is left to a person begins with `decide:`.

mod findings;
mod grids;
mod item;
mod lists;
mod microdata;
mod names;
mod numbers;
mod pages;
mod people;
mod recipe;
mod sheets;
mod stages;
mod steps;
mod together;
mod units;
mod write;

pub use findings::{RULES, needs_a_decision, no_recipe, not_understood, read_near};
pub use grids::{Role, TOTALS, role};
pub use names::{Matched, matched};
pub use numbers::number;
pub use recipe::{Brought, Recipe};
pub use sheets::placed;
pub use units::{Measure, measure};
pub use write::{Options, WrittenFormula, write};

use std::path::Path;

/// The endings of files that are read.
const ENDINGS: [&str; 14] = [
    "txt", "text", "md", "markdown", "csv", "tsv", "xlsx", "xlsm", "ods", "json", "jsonld", "html",
    "htm", "xhtml",
];

/// The most lines of ingredients that a recipe has. From memory: the longest of a trade book
/// has some sixty.
const MAX_LINES: usize = 1_000;

/// The most recipes that are read of one file: more than a book has.
const MAX_RECIPES: usize = 2_000;

/// The most bytes that a line of a recipe has: a chapter may stand in one.
const MAX_LINE: usize = 50_000;

/// Whether a file of a folder is read.
pub fn is_read(path: &Path) -> bool {
    ending(path).is_some_and(|ending| ENDINGS.contains(&ending.as_str()))
}

fn ending(path: &Path) -> Option<String> {
    Some(path.extension()?.to_string_lossy().to_lowercase())
}

/// The recipes in a file.
///
/// # Errors
/// Why there is none that could be read.
pub fn recipes(path: &Path, bytes: &[u8]) -> Result<Brought, String> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let text = || {
        let text = std::str::from_utf8(bytes).map_err(|_| "it is not text in UTF-8".to_owned())?;
        Ok::<&str, String>(text.trim_start_matches('\u{feff}'))
    };
    let brought = match ending(path).unwrap_or_default().as_str() {
        "xlsx" | "xlsm" => grids::recipes(&sheets::xlsx(bytes)?, &stem),
        "ods" => grids::recipes(&sheets::ods(bytes)?, &stem),
        "csv" => grids::recipes(&[sheets::bounded(sheets::csv(text()?, &stem))?], &stem),
        "tsv" => grids::recipes(&[sheets::bounded(sheets::tsv(text()?, &stem))?], &stem),
        "json" | "jsonld" => pages::json(text()?),
        "html" | "htm" | "xhtml" => pages::html(text()?),
        _ => {
            let text = text()?;
            let longest = text.lines().map(str::len).max().unwrap_or(0);
            if longest > MAX_LINE {
                return Err(format!(
                    "one of its lines has {longest} bytes, and no line of a recipe has more than \
                     {MAX_LINE}"
                ));
            }
            lists::recipes(text, &stem)
        }
    }?;
    if brought.recipes.len() > MAX_RECIPES {
        return Err(format!(
            "it holds {} recipes; files with more than {MAX_RECIPES} are not read: split it",
            brought.recipes.len()
        ));
    }
    match brought.recipes.iter().find(|recipe| recipe.lines.len() > MAX_LINES) {
        Some(recipe) => Err(format!(
            "`{}` has {} lines of ingredients, and no recipe has more than {MAX_LINES}; if they \
             are several recipes, separate them by titles or with a column of names",
            recipe.title,
            recipe.lines.len()
        )),
        None => Ok(brought),
    }
}
