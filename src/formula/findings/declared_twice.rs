//! `declared-twice`: one name for two things.

use crate::diag::Finding;
use crate::source::Span;
pub use crate::syntax::DECLARED_TWICE as RULE;

pub fn finding(name: &str, span: Span, first: Span) -> Finding {
    Finding::new(&RULE, span, format!("`{name}` is declared twice"))
        .here("declared again here")
        .label(first, "declared first here")
        .help("give one of them another name, or remove it")
}
