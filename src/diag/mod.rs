//! The one type of finding, its registry entry and the ways to show it.
//!
//! Enters: facts from any room below. Leaves: [`Finding`]s as plain data, sorted and
//! rendered. Only this room knows miette. Absent on purpose: the reasons for a
//! finding, which stand in the file of its rule.

pub mod amounts;
mod human;
pub mod machine;
mod repair;
mod suggest;

pub use human::{narrate, render};
pub use repair::repaired;
pub use suggest::{nearest, nearest_names, slips_between, slips_up_to};

use crate::source::{Span, is_blank, is_unseen};
use ecow::EcoString;

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// Something is wrong or not proved: nothing is printed, exit code 1.
    Error,
    /// Something is doubtful, and perhaps meant.
    Warning,
    /// Something that is good to know.
    Note,
}

impl Level {
    /// The level as it is written in every form.
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Group {
    /// What a file says could not be read.
    Parse,
    /// Files, folders and outputs.
    Files,
    /// Names that mean nothing, or several things.
    Names,
    /// What does not add up or can't be worked out.
    Sums,
    /// How much salt there is.
    Salt,
    /// What a style asks for, and what is usual.
    Style,
    /// What texts say.
    Text,
    /// The steps, their times and temperatures.
    Method,
    /// What a formula claims of itself.
    Claims,
    /// How a house's prints look.
    Prints,
}

/// A kind of finding: its readable name, its usual level and its page.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    /// Its readable name, in kebab case, as `allow` and `explain` take it.
    pub name: &'static str,
    /// How serious its findings are, unless one says otherwise.
    pub level: Level,
    /// What its findings are about.
    pub group: Group,
    /// Its page, in Markdown.
    pub page: &'static str,
}

/// A place with a few words to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// The words under it; may be empty.
    pub text: String,
}

/// A change of the text that repairs a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// What is taken out.
    pub span: Span,
    /// What is put in its place.
    pub text: String,
    /// Safe repairs never change what the author meant.
    pub safe: bool,
}

/// One thing the compiler has to say.
#[derive(Clone, Debug)]
pub struct Finding {
    /// What kind of finding it is.
    pub rule: &'static Rule,
    /// How serious this one is.
    pub level: Level,
    /// Stands alone in one line: lower case, no final period.
    pub message: String,
    /// The first is the primary one; at most two others.
    pub labels: Vec<Label>,
    /// The arithmetic.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Option<String>,
    /// A change of the text that repairs it, where one is known.
    pub repair: Option<Repair>,
    /// The formula it was found in, for `allow`.
    pub formula: Option<EcoString>,
    /// The reason an author gave for allowing it.
    pub allowed: Option<String>,
    /// The name that it is about, where nothing bears it or nothing uses it.
    pub about: Option<EcoString>,
    /// Somebody's health may depend on it: it is told beside any other slip.
    pub is_of_health: bool,
}

impl Finding {
    /// A finding of a rule at a place, with its first line alone.
    pub fn new(rule: &'static Rule, span: Span, message: impl Into<String>) -> Self {
        Self {
            rule,
            level: rule.level,
            message: seen(message.into()),
            labels: vec![Label { span, text: String::new() }],
            notes: Vec::new(),
            help: None,
            repair: None,
            formula: None,
            allowed: None,
            about: None,
            is_of_health: false,
        }
    }

    /// It is told beside any other slip.
    pub fn of_health(mut self) -> Self {
        self.is_of_health = true;
        self
    }

    /// The key of the name that it is about.
    pub fn about(mut self, key: &EcoString) -> Self {
        self.about = Some(key.clone());
        self
    }

    /// Words under the primary place.
    pub fn here(mut self, text: impl Into<String>) -> Self {
        if let Some(label) = self.labels.first_mut() {
            label.text = seen(text.into());
        }
        self
    }

    /// Another place; a third one and more are left out.
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        if self.labels.len() < 3 {
            self.labels.push(Label { span, text: seen(text.into()) });
        }
        self
    }

    /// A line of arithmetic.
    pub fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(seen(text.into()));
        self
    }

    /// What to do.
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(seen(text.into()));
        self
    }

    /// Another level than the usual one of its rule.
    pub fn level(mut self, level: Level) -> Self {
        self.level = level;
        self
    }

    /// Puts `text` in place of `span`; `safe` where that never changes what the author meant.
    pub fn repair(mut self, span: Span, text: impl Into<String>, safe: bool) -> Self {
        self.repair = Some(Repair { span, text: text.into(), safe });
        self
    }

    /// The formula it was found in, in words: ` in quay-loaf`; nothing where it belongs to
    /// none, or says its name itself.
    fn where_in_words(&self) -> String {
        let said = |name: &EcoString| self.message.contains(&format!("`{name}`"));
        let formula = self.formula.as_ref().filter(|name| !said(name));
        formula.map(|name| format!(" in {name}")).unwrap_or_default()
    }

    /// The place to show first.
    pub fn span(&self) -> Span {
        self.labels.first().map_or_else(Span::default, |label| label.span)
    }
}

/// A sentence in which a word in backticks that leaves nothing to see stands by the numbers of
/// its letters: `\u{ad}`.
fn seen(text: String) -> String {
    if !text.chars().any(is_unseen) {
        return text;
    }
    let shows = |letter: char| !is_blank(letter) && !is_unseen(letter);
    let last = text.matches('`').count();
    let parts = text.split('`').enumerate().map(|(at, part)| {
        let is_word = at % 2 == 1 && at < last;
        match is_word && !part.is_empty() && !part.chars().any(shows) {
            true => part.escape_unicode().to_string(),
            false => part.to_owned(),
        }
    });
    parts.collect::<Vec<_>>().join("`")
}

/// Sorts findings, and keeps one of those that say the same of the same place.
pub fn once(findings: &mut Vec<Finding>) {
    sort(findings);
    findings.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
}

/// By file and place, graver ones first where the place is the same.
pub fn sort(findings: &mut [Finding]) {
    findings.sort_by(|one, two| {
        (one.span(), one.level, one.rule.name).cmp(&(two.span(), two.level, two.rule.name))
    });
}
