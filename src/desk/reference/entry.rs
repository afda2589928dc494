//! One thing that can be explained.

use crate::formula::key;
use crate::print::manual::{Fact, Page};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// What a name is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NameKind {
    /// What has statements in braces: `dough { … }`.
    Block,
    /// A word that begins a line of a block.
    Statement,
    /// A step of a method.
    Verb,
    /// What follows the verb of a step.
    Clause,
    /// An amount that is a word: `to taste`.
    Amount,
    /// What follows a number.
    Unit,
    /// What a formula can be asked for, and can claim.
    Figure,
    /// What an ingredient is.
    Class,
    /// What is weighed.
    Ingredient,
    /// A starter that is kept.
    Culture,
    /// What a bread of a name has to be.
    Style,
    /// What dough is baked in.
    Tin,
    /// What dough is mixed in.
    Mixer,
    /// What bread is baked in.
    Oven,
    /// What `check` may tell.
    Finding,
}

/// Every kind, in reading order.
pub const KINDS: [NameKind; 15] = [
    NameKind::Block,
    NameKind::Statement,
    NameKind::Verb,
    NameKind::Clause,
    NameKind::Amount,
    NameKind::Unit,
    NameKind::Figure,
    NameKind::Class,
    NameKind::Ingredient,
    NameKind::Culture,
    NameKind::Style,
    NameKind::Tin,
    NameKind::Mixer,
    NameKind::Oven,
    NameKind::Finding,
];

impl NameKind {
    /// The word for one and for several, and what they are.
    pub fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Block => ("block", "blocks", "what goes in a file or a formula, in braces"),
            Self::Statement => ("statement", "statements", "what a block says beside its lines"),
            Self::Verb => ("verb", "verbs", "what a step of a method does"),
            Self::Clause => ("clause", "clauses", "what follows the verb of a step"),
            Self::Amount => ("amount", "amounts", "amounts without a number, bases of per cent"),
            Self::Unit => ("unit", "units", "what numbers are written in"),
            Self::Figure => ("figure", "figures", "what is worked out of a formula"),
            Self::Class => ("class", "classes", "how an ingredient counts"),
            Self::Ingredient => ("ingredient", "ingredients", "what is weighed"),
            Self::Culture => ("culture", "cultures", "kept starters"),
            Self::Style => ("style", "styles", "bounds of breads"),
            Self::Tin => ("tin", "tins", "tins of this bakehouse"),
            Self::Mixer => ("mixer", "mixers", "mixers of this bakehouse"),
            Self::Oven => ("oven", "ovens", "ovens of this bakehouse"),
            Self::Finding => ("finding", "findings", "what `check` reports"),
        }
    }

    /// The kind that a word names, one or several.
    pub fn read(word: &str) -> Option<Self> {
        KINDS.into_iter().find(|kind| kind.words().0 == word || kind.words().1 == word)
    }
}

/// A name of one kind, with its page.
#[derive(Clone, Debug)]
pub struct ReferenceEntry {
    /// What it is a name of.
    pub kind: NameKind,
    /// The form in which the name is compared.
    pub key: EcoString,
    /// What is told about it.
    pub page: Page,
    /// Where it may stand: `stage`; for statements, blocks and clauses.
    pub places: Vec<String>,
    /// Words of the language and names that mean it too.
    pub reads: Vec<String>,
    /// What it is called elsewhere.
    pub elsewhere: Vec<String>,
    /// What the example is cut out of, for tests.
    pub frame: String,
    /// Whether it has a caution of its own, so that it is never offered for a short word.
    pub is_guarded: bool,
    /// The page of a finding, as it stands.
    pub whole: Option<&'static str>,
}

impl ReferenceEntry {
    /// A name with an empty page.
    pub fn new(kind: NameKind, name: &str) -> Self {
        let word = kind.words().0;
        let page = Page { kind: word, name: name.to_owned(), ..Page::default() };
        Self {
            kind,
            key: key(name),
            page: Page { anchor: format!("{word}-{}", slug(name)), ..page },
            places: Vec::new(),
            reads: Vec::new(),
            elsewhere: Vec::new(),
            frame: String::new(),
            is_guarded: false,
            whole: None,
        }
    }

    /// Adds a line to its page, words in Markdown.
    pub fn fact(&mut self, label: &'static str, words: impl Into<String>) {
        self.page.facts.push(Fact { label, words: words.into() });
    }

    /// Its page for programs; of a finding, the whole page in Markdown.
    pub fn json(&self) -> serde_json::Value {
        let mut page = serde_json::to_value(&self.page).unwrap_or_default();
        if let (Some(whole), Some(fields)) = (self.whole, page.as_object_mut()) {
            fields.insert("page".into(), whole.into());
        }
        page
    }

    /// Its page in Markdown, with its heading.
    pub fn markdown(&self) -> String {
        self.whole.map_or_else(|| self.page.markdown(), str::to_owned)
    }
}

fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars() {
        match letter {
            '%' => slug.push_str("percent"),
            _ if letter.is_alphanumeric() => slug.extend(letter.to_lowercase()),
            _ => slug.push('-'),
        }
    }
    slug
}

/// Of several entries with one name, all but the first say where they stand.
pub fn tell_anchors_apart(entries: &mut [ReferenceEntry]) {
    let mut seen: FxHashMap<String, usize> = FxHashMap::default();
    for entry in entries {
        let count = seen.entry(entry.page.anchor.clone()).or_default();
        *count += 1;
        if *count > 1 {
            let place = entry.places.first().cloned().unwrap_or_else(|| count.to_string());
            entry.page.anchor = format!("{}-{place}", entry.page.anchor);
        }
    }
}
