//! What joins several prints in one file: a title, and a line of contents for each.

use super::document::Document;
use super::pages::Print;
use crate::diag::machine::pretty;
use serde::Serialize;

/// The data of a book, as its template reads it.
#[derive(Serialize)]
struct Book<'a> {
    title: &'a str,
    house: Option<&'a str>,
    language: &'a str,
    paper: &'a str,
    colour: Option<&'a str>,
    logo: Option<&'a str>,
    /// What the logo shows, for those who do not see it.
    logo_words: String,
    contents: &'a str,
    parts: Vec<BookLine<'a>>,
}

/// A line of the contents, and where its template and document stand.
#[derive(Serialize)]
struct BookLine<'a> {
    title: &'a str,
    /// Which print it is, where the book has several of a formula.
    print: Option<&'a str>,
    folder: String,
    template: String,
}

/// The data of a book of these documents, each in these prints, as JSON.
pub fn json(documents: &[Document], prints: &[Print]) -> String {
    let Some(first) = documents.first() else { return "{}".to_owned() };
    let word = |name: &'static str| first.words.get(name).map_or(name, String::as_str);
    let house = first.house.title.as_deref();
    let usual = if prints.iter().all(|print| *print == Print::Card) { "a5" } else { "a4" };
    let parts =
        documents.iter().flat_map(|document| prints.iter().map(move |print| (document, print)));
    let book = Book {
        title: house.unwrap_or(word("contents")),
        house,
        language: super::wording::language_of(&first.language),
        paper: first.house.paper.as_deref().unwrap_or(usual),
        colour: first.house.colour.as_deref(),
        logo: first.house.logo.as_deref(),
        logo_words: word("logo").replace("{house}", house.unwrap_or_default()),
        contents: word("contents"),
        parts: parts
            .enumerate()
            .map(|(index, (document, print))| BookLine {
                title: &document.title,
                print: (prints.len() > 1).then(|| word(print.word())),
                folder: index.to_string(),
                template: format!("{}.typ", print.word()),
            })
            .collect(),
    };
    // Texts and lists; there is nothing in it that JSON can't say.
    pretty(&book)
}
