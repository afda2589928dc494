//! The sheet: mixes side by side, water, steps to tick off.

use super::columns::{MixColumn, beside, ingredients, side_by_side};
use super::words::{filled, row_title, word};
use crate::print::document::{Document, PhasePart, StepPart};
use maud::{Markup, html};

/// A sheet for the bench.
pub fn sheet(document: &Document) -> Markup {
    let batches = document.makes.batches;
    let beside_the_dough = document.mixtures.iter().map(MixColumn::of);
    let columns: Vec<MixColumn> = document
        .mixes
        .iter()
        .map(|mix| {
            let per_batch = !mix.batch_lines.is_empty();
            let mut under = Vec::new();
            if per_batch {
                under.push(word(document, "per-batch").to_owned());
            } else if mix.kind != "dough" {
                under.push(word(document, "once").to_owned());
            }
            if let Some(feeds) = mix.feeds {
                under.push(filled(document, "fed", &[("feeds", &feeds.to_string())]));
            }
            under.extend(mix.wait.clone());
            MixColumn {
                title: &mix.title,
                under,
                lines: if per_batch { &mix.batch_lines } else { &mix.lines },
                sum: mix.batch_sum.as_ref().unwrap_or(&mix.sum),
                percent: None,
                mix: Some(mix),
            }
        })
        .chain(beside_the_dough)
        .collect();
    html! {
        p { (document.makes.text)
            @if batches > 1 {
                ", " (filled(document, "each-batch", &[("batches", &batches.to_string())]))
                (word(document, "colon")) " " (document.makes.batch.said())
            }
        }
        (water(document))
        (side_by_side(document, &columns, true))
        (earlier_feeds(document))
        (beside(document))
        @if !document.method.is_empty() { (steps(document)) }
    }
}

/// How warm the water has to be, and room for what was measured.
pub fn water(document: &Document) -> Markup {
    html! {
        @if let Some(water) = &document.water {
            p {
                (water.label) (word(document, "colon")) " " strong { (water.temperature) }
                @if let Some(ice) = &water.ice {
                    ", " (word(document, "ice")) " " (ice.said())
                    ", " (word(document, "water")) " " (water.water.said())
                }
                "; " (word(document, "dough")) " " (word(document, "aimed-at")) " " strong { (water.target) } ", "
                label { (word(document, "measured")) " " input type="text" size="6"; }
            }
            @if let Some(lever) = &water.lever { p { (lever) } }
            p.quiet { (water.method) ". " (water.correction) }
        }
    }
}

/// The feeds before a stage's last one.
pub fn earlier_feeds(document: &Document) -> Markup {
    html! {
        @for mix in &document.mixes {
            @for (index, lines) in mix.earlier_feeds.iter().enumerate() {
                @let feeds = (mix.earlier_feeds.len() + 1).to_string();
                @let feed = filled(document, "feed", &[("feed", &(index + 1).to_string()), ("feeds", &feeds)]);
                (ingredients(document, &format!("{}, {feed}", mix.title), None, lines))
                @if let Some(Some(discarded)) = mix.discarded.get(index) {
                    p.quiet { (word(document, "discarded")) (word(document, "colon")) " " (discarded.shown) " " (discarded.unit) }
                }
            }
        }
    }
}

/// All steps in order, each with what to do in it and a place to tick it off.
pub fn steps(document: &Document) -> Markup {
    let steps = match document.batch_method.is_empty() {
        true => &document.method,
        false => &document.batch_method,
    };
    html! {
        table.work {
            caption { (word(document, "steps")) }
            thead {
                tr {
                    th scope="colgroup" colspan="2" { (word(document, "step")) }
                    th scope="col" { (word(document, "time")) }
                    th scope="col" { (word(document, "temperature")) }
                    th scope="col" { (word(document, "measured")) }
                    th scope="col" { (word(document, "done")) }
                }
            }
            @for step in steps { (rows_of(document, step)) }
        }
    }
}

/// A step: a row for each of its phases.
fn rows_of(document: &Document, step: &StepPart) -> Markup {
    let none = [PhasePart::default()];
    let phases = if step.phases.is_empty() { &none[..] } else { &step.phases };
    let title = row_title(step);
    // Where the author's words are the heading, they need not stand beside it again.
    let is_worded = step.title.is_empty() && !step.phases.is_empty();
    let over = (phases.len() > 1).then_some(phases.len());
    let across = (is_worded && over.is_none()).then_some(2);
    let said = html! {
        @for note in &step.notes { " " span.note { (note) } }
        @for caution in &step.cautions { p.caution { (caution) } }
    };
    let written = |name: &str| {
        let label = format!("{title}{} {}", word(document, "colon"), word(document, name));
        html! { td rowspan=[over] { input type="text" aria-label=(label); } }
    };
    html! {
        tbody {
            @for (index, phase) in phases.iter().enumerate() {
                tr {
                    @if index == 0 {
                        th.words[is_worded] scope=(if over.is_some() { "rowgroup" } else { "row" }) rowspan=[over] colspan=[across] {
                            (title) @if across.is_some() { (said) }
                        }
                    }
                    @if across.is_none() {
                        td.words {
                            @if index > 0 || !is_worded { (phase.text) }
                            @if index + 1 == phases.len() { (said) }
                        }
                    }
                    td { (phase.time.as_deref().unwrap_or_default()) }
                    td {
                        (phase.at.as_deref().unwrap_or_default())
                        @if let Some(to) = &phase.to { " → " (to) }
                    }
                    @if index == 0 { (written("measured")) (written("done")) }
                }
            }
        }
    }
}
