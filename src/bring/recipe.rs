//! A recipe as it was found.

/// A recipe of a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recipe {
    /// What it is called.
    pub title: String,
    /// Where it is from, as the file says it.
    pub source: Option<String>,
    /// What it makes, as it is written.
    pub makes: Option<String>,
    /// For how many people it is, as it is written.
    pub serves: Option<String>,
    /// The ingredients, as they are written, with the parts they stand in.
    pub lines: Vec<RecipeLine>,
    /// What is done, a text each.
    pub steps: Vec<String>,
    /// What was not read as any of these.
    pub left: Vec<String>,
    /// Cells of a table that have no unit and were read in grams, with what they are of.
    pub in_grams: Vec<String>,
}

/// A line of ingredients.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RecipeLine {
    /// `For the levain:`
    Part(String),
    /// Something that goes in, as it is written.
    Item(String),
}

/// What was found in a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    /// In their order.
    pub recipes: Vec<Recipe>,
    /// The columns of a table, as they were understood.
    pub columns: Vec<String>,
}

impl Recipe {
    /// Whether it has anything to weigh.
    pub fn has_items(&self) -> bool {
        self.lines.iter().any(|line| matches!(line, RecipeLine::Item(_)))
    }
}
