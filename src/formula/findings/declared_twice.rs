//! `declared-twice`: one name for two things.

use crate::diag::Finding;
use crate::source::Span;
pub use crate::syntax::DECLARED_TWICE as RULE;
use crate::syntax::tree::Name;

/// The finding for a name at its second place.
pub fn finding(name: &str, span: Span, first: Span) -> Finding {
    Finding::new(&RULE, span, format!("`{name}` is declared twice"))
        .here("declared again here")
        .label(first, "declared first here")
        .help("give one of them another name, or remove it")
}

/// One ingredient twice in a mix, under two of its names.
pub fn by_another_name(name: &Name, first: &Name) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("`{}` is `{}` by another name, which is here already", name.shown, first.shown),
    )
    .here("the same again")
    .label(first.span, "it is here already")
    .help("add the two up on one line, or give them roles: `water (second) 12%`")
}
