//! The table: the whole formula in percentages.

use super::columns::{MixColumn, side_by_side};
use super::words::{filled, word};
use crate::print::document::Document;
use maud::{Markup, html};

/// The formula's table.
pub fn table(document: &Document) -> Markup {
    let hydration = |shown: &str| filled(document, "hydration", &[("hydration", shown)]);
    let figure = |name: &str| {
        let found = document.figures.iter().find(|figure| figure.name == name);
        found.map(|figure| figure.shown.as_str())
    };
    let total = MixColumn {
        title: word(document, "total-formula"),
        under: figure("hydration").map(hydration).into_iter().collect(),
        lines: &document.total,
        sum: &document.total_sum,
        percent: document.total_sum_percent.as_deref(),
        mix: None,
    };
    let mixes = document.mixes.iter().chain(&document.mixtures).map(|mix| MixColumn {
        under: mix
            .hydration
            .as_deref()
            .map(hydration)
            .into_iter()
            .chain(mix.wait.clone())
            .collect(),
        ..MixColumn::of(mix)
    });
    let columns: Vec<MixColumn> = std::iter::once(total).chain(mixes).collect();
    html! {
        @if let Some(style) = &document.style {
            p.quiet { (filled(document, "style", &[("style", style)])) }
        }
        (side_by_side(document, &columns, false))
        table {
            caption { (word(document, "figures")) }
            thead { tr { th scope="col" { (word(document, "figure")) } th.n scope="col" { (word(document, "value")) } } }
            tbody {
                @for figure in &document.figures {
                    tr { th scope="row" { (figure.label) } td.n { (figure.shown) " " (figure.unit) } }
                }
            }
        }
        @for (title, texts) in [("notes", &document.notes), ("sources", &document.sources)] {
            @if !texts.is_empty() {
                h2 { (word(document, title)) }
                @for text in texts { p { (text) } }
            }
        }
    }
}
