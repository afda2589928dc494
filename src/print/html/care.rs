//! Cautions and allergens, at the end of every page.

use super::words::word;
use crate::print::document::Document;
use maud::{Markup, html};

/// What can hurt somebody, and the allergens.
pub fn care(document: &Document) -> Markup {
    let unknown = &document.contains_unknown;
    let may_contain = &document.may_contain;
    let said = [&document.cautions, &document.contains, may_contain, unknown];
    if said.iter().all(|part| part.is_empty()) {
        return html! {};
    }
    html! {
        div.care {
            @if !document.cautions.is_empty() {
                p { strong { (word(document, "take-care")) } " " (document.cautions.join(" ")) }
            }
            @if !document.contains.is_empty() {
                p {
                    (word(document, "contains")) " "
                    @for (index, name) in document.contains.iter().enumerate() {
                        @if index > 0 { ", " }
                        strong { (name) }
                    }
                    "."
                }
            }
            @if !may_contain.is_empty() {
                p { (word(document, "may-contain")) " " (may_contain.join(", ")) "." }
            }
            @if !unknown.is_empty() {
                p { (word(document, "allergens-unknown")) " " (unknown.join(", ")) "." }
            }
        }
    }
}
