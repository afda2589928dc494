//! A name that is not there.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `missing-name`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "missing-name",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("missing_name.md"),
};

/// A name that is missing; `what` is what it would name, or the word before it.
pub fn missing_name(span: Span, what: &str) -> Finding {
    let message = match what.starts_with('`') {
        true => format!("expected a name after {what}"),
        false => format!("the name of the {what} is missing"),
    };
    Finding::new(&RULE, span, message).help("write the name here")
}

/// `with` before nothing.
pub fn nothing_with(span: Span) -> Finding {
    Finding::new(&RULE, span, "the name of what goes in is missing")
        .help("write the names after `with`, separated by commas, or `everything else`")
}

/// An amount that nothing follows.
pub fn amount_without_name(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say of what", quoted(written)))
        .help("write the name before the amount")
}

/// A formula that begins with its title.
pub fn formula_without_name(span: Span, title: &str) -> Finding {
    let name = crate::syntax::name::identifier_of(title);
    let finding = Finding::new(&RULE, span, "this formula has a title but no name");
    if name.is_empty() {
        return finding.help("write its name before the title: one word joined by `-`");
    }
    let place = Span { end: span.start, ..span };
    let help = format!("write its name before the title, such as `{name} \"{}\"`", title.trim());
    finding.help(help).repair(place, format!("{name} "), false)
}
