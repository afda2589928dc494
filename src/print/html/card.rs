//! The card: ingredients, what goes beside, steps.

use super::columns::{AFTER, MixColumn, beside, ingredients};
use super::day::day;
use super::words::{title_of, word};
use crate::print::document::{Document, PhasePart, StepPart};
use maud::{Markup, html};

/// A recipe card for a reader.
pub fn card(document: &Document) -> Markup {
    let key: Vec<_> = document.figures.iter().filter(|figure| figure.key).collect();
    html! {
        @for note in &document.headnotes { p.headnote { (note) } }
        @if !key.is_empty() {
            dl.figures {
                @for figure in key {
                    div { dt { (figure.label) } dd { (figure.shown) " " (figure.unit) } }
                }
            }
        }
        @if let Some(picture) = day(document) { (picture) }
        h2 { (word(document, "ingredients")) }
        div.columns {
            @for group in &document.groups {
                (ingredients(document, &group.title, group.percent_of.as_deref(), &group.lines))
            }
            @if !document.summary.is_empty() {
                (ingredients(document, word(document, "summary"), None, &document.summary))
            }
            (beside(document))
            @for mix in &document.mixtures {
                (ingredients(document, &mix.title, None, &mix.lines))
            }
        }
        (what_leaves(document))
        @if document.volumes() {
            p.quiet { (word(document, "approximate")) }
        }
        @if !document.method.is_empty() {
            h2 { (word(document, "method")) }
            ol.steps { @for step in &document.method { li { (one_step(step)) } } }
        }
        @for (title, texts) in [
            ("notes", &document.notes), ("equipment", &document.equipment),
            ("storage", &document.storage), ("sources", &document.sources),
        ] {
            @if !texts.is_empty() {
                h2 { (word(document, title)) }
                @for text in texts { p { (text) } }
            }
        }
    }
}

/// What of each stage is not for the dough: kept back, saved, left over.
pub fn what_leaves(document: &Document) -> Markup {
    html! {
        @for mix in &document.mixes {
            @let column = MixColumn::of(mix);
            @let parts: Vec<String> = AFTER
                .iter()
                .filter_map(|what| Some(format!("{} {}", word(document, what), column.after(what)?.said())))
                .collect();
            @if !parts.is_empty() { p.quiet { (mix.title) (word(document, "colon")) " " (parts.join(", ")) } }
        }
    }
}

/// A step with its phases and what is said about it.
pub fn one_step(step: &StepPart) -> Markup {
    let none = [PhasePart::default()];
    let phases = if step.phases.is_empty() { &none[..] } else { &step.phases };
    html! {
        @for (index, phase) in phases.iter().enumerate() {
            @let (at, text) = (phase.at.as_deref(), &phase.text);
            div.phase {
                div.when {
                    @if let Some(time) = &phase.time { (time) }
                    @if let Some(at) = at { span { (at) } }
                    @if let Some(to) = &phase.to { span { "→ " (to) } }
                }
                div {
                    @let title = title_of(step);
                    @if index == 0 && !title.is_empty() { h3 { (title) "." } " " }
                    (text)
                    @if index + 1 == phases.len() {
                        @for note in &step.notes { " " span.note { (note) } }
                        @for caution in &step.cautions { p.caution { (caution) } }
                    }
                }
            }
        }
    }
}
