//! `text-mark-unread`: a mark of Markdown that prints as it stands.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `text-mark-unread`, a note about booklets.
pub const RULE: Rule = Rule {
    name: "text-mark-unread",
    level: Level::Note,
    group: Group::Text,
    page: include_str!("text_mark_unread.md"),
};

/// The first such mark of a text.
pub fn finding(span: Span, mark: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{mark}` prints as it stands: it is not a mark that we know"))
        .help("marks are `# ` and `## ` before headings, `- ` and `1. ` before items, `*so*` and `**so**`")
}
