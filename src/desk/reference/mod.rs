//! The reference of the language and of a house: what each name means, how it is written,
//! and where it counts.
//!
//! Words about the language stand in the Markdown files beside this one, a file a kind;
//! what tables of the program know (the hands of a verb, the worth of a unit) is added from
//! those tables. Pages of ingredients, cultures, styles and machines are made from what
//! declares them.

mod declared;
mod entry;
mod facts;
mod lookup;
mod prose;

pub use entry::{KINDS, NameKind, ReferenceEntry};
pub use lookup::{LookupAnswer, Near};

use crate::diag::Rule;
use crate::formula::{House, STORES, built_in, key, stored};
use crate::print::html_manual;
use crate::print::manual::{self, Chapter};
use crate::source::Sources;
use crate::syntax::tree::Tree;
use declared::Declarer;
use ecow::EcoString;

/// What stands above the whole reference.
const INTRO: &str = "\
Every word of the language, every figure, and all that the built-in stores know.
`assize explain NAME` shows the same pages, with what your own bakehouse declares.

Examples are cut out of whole formulas, which the tests check.";

/// Everything that can be explained.
pub struct Reference {
    entries: Vec<ReferenceEntry>,
    /// Every name in the form that is compared and as it is shown, with its entry.
    names: Vec<(EcoString, String, usize)>,
    /// What a house declares and other commands show: formulas, shared stages, mixtures.
    shown: Vec<(EcoString, String, &'static str)>,
}

impl Reference {
    /// What the language has and what a house knows; `trees` are the house's own.
    pub fn of(
        house: &House,
        trees: &[&Tree],
        sources: &Sources,
        rules: impl Iterator<Item = &'static Rule>,
    ) -> Self {
        let mut entries = facts::language();
        let declarer = Declarer { house, sources, classes: facts::of_classes() };
        for class in entries.iter_mut().filter(|entry| entry.kind == NameKind::Class) {
            declarer.members(class);
        }
        entries.extend(declarer.entries(trees, stored()));
        entries.extend(rules.map(finding));
        entry::tell_anchors_apart(&mut entries);
        entries.sort_by_key(|entry| entry.kind);
        let mut names = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            let all = std::iter::once(&entry.page.name).chain(&entry.reads);
            names.extend(all.chain(&entry.elsewhere).map(|name| (key(name), name.clone(), index)));
        }
        Self { entries, names, shown: shown(trees) }
    }

    /// The language and the stores alone.
    pub fn built_in(rules: impl Iterator<Item = &'static Rule>) -> Self {
        let mut sources = Sources::default();
        for store in &STORES {
            sources.add(store.name, store.text.into());
        }
        Self::of(built_in(), &[], &sources, rules)
    }

    /// All names in the order of the reference.
    pub fn entries(&self) -> &[ReferenceEntry] {
        &self.entries
    }

    /// The entries of a kind, in the order of their table or by name.
    pub fn of_kind(&self, kind: NameKind) -> impl Iterator<Item = &ReferenceEntry> {
        self.entries.iter().filter(move |entry| entry.kind == kind)
    }

    /// All of it but the findings, which have a document of their own.
    fn chapters(&self) -> Vec<Chapter<'_>> {
        let kinds = KINDS.iter().filter(|kind| **kind != NameKind::Finding);
        let chapters = kinds.map(|&kind| {
            let title = kind.words().1;
            let mut letters = title.chars();
            let first = letters.next().map(|letter| letter.to_uppercase().to_string());
            Chapter {
                title: first.unwrap_or_default() + letters.as_str(),
                intro: facts::intro(kind),
                pages: self.of_kind(kind).map(|entry| &entry.page).collect(),
            }
        });
        chapters.filter(|chapter| !chapter.pages.is_empty()).collect()
    }

    /// The whole reference as one Markdown document.
    pub fn markdown(&self) -> String {
        manual::markdown("Reference", INTRO, &self.chapters())
    }

    /// The whole reference as one page for a browser.
    pub fn html(&self) -> String {
        html_manual::page("Reference", INTRO, &self.chapters())
    }
}

/// A finding's page is a document of its own.
fn finding(rule: &'static Rule) -> ReferenceEntry {
    let line = rule.page.split("## What it means").nth(1).unwrap_or_default();
    let line = line.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let mut entry = ReferenceEntry::new(NameKind::Finding, rule.name);
    entry.page.line = format!("{}: {line}", rule.level.word());
    entry.whole = Some(rule.page);
    entry
}

fn shown(trees: &[&Tree]) -> Vec<(EcoString, String, &'static str)> {
    let of =
        |name: &crate::syntax::tree::Name, what| (key(&name.key), name.shown.to_string(), what);
    let each = trees.iter().flat_map(|tree| {
        let formulas = tree.formulas.iter().map(|it| of(&it.name, "formula"));
        let stages = tree.stages.iter().map(|it| of(&it.name, "stage"));
        formulas.chain(stages).chain(tree.mixtures.iter().map(|it| of(&it.name, "mixture")))
    });
    each.collect()
}
