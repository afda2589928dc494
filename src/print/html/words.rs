//! Words of a page, and what steps are called.

use crate::print::document::{Document, StepPart};

/// A printed word of the document; its own name where a document has none.
pub fn word<'d>(document: &'d Document, name: &'d str) -> &'d str {
    document.words.get(name).map_or(name, String::as_str)
}

/// A word with what stands in its braces.
pub fn filled(document: &Document, name: &str, args: &[(&str, &str)]) -> String {
    let mut text = word(document, name).to_owned();
    for (arg, value) in args {
        text = text.replace(&format!("{{{arg}}}"), value);
    }
    text
}

/// A step's title with its stage, where that is another word.
pub fn title_of(step: &StepPart) -> String {
    match &step.stage {
        Some(stage) if step.title.is_empty() => stage.clone(),
        Some(stage) if stage.to_lowercase() != step.title.to_lowercase() => {
            format!("{stage} · {}", step.title)
        }
        _ => step.title.clone(),
    }
}

/// What tells a row of the steps: the title, else the author's words.
pub fn row_title(step: &StepPart) -> String {
    match (step.title.is_empty(), step.phases.first()) {
        (true, Some(phase)) => phase.text.clone(),
        _ => title_of(step),
    }
}
