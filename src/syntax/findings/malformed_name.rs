//! A name that is not written as names are.

use super::{in_quotes, quoted, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `malformed-name`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "malformed-name",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("malformed_name.md"),
};

/// A name of several words where one word joined by `-` stands.
pub fn identifier(span: Span, what: &str, written: &str, joined: &str) -> Finding {
    let message = format!("{} is not a name for {}", quoted(written), with_article(what));
    let help = "one word in letters, digits and `-`, which begins with a letter";
    let finding = Finding::new(&RULE, span, message);
    match joined {
        "" => finding.help(help),
        joined => finding.help(format!("write `{joined}`: {help}")).repair(span, joined, false),
    }
}

/// A head of a formula whose title has no quotes, or others than ours.
pub fn head(span: Span, written: &str, name: &str, title: &str) -> Finding {
    let meant = format!("{name} {}", in_quotes(title));
    let message = format!("{} is not a name for a formula", quoted(written));
    Finding::new(&RULE, span, message)
        .help(format!("write `{meant}`: a name in one word, then the title in straight quotes"))
        .repair(span, meant, false)
}

/// `water5%`.
pub fn no_blank(span: Span, word: &str, letters: &str, digits: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("a space is missing between name and number in {}", quoted(word)),
    )
    .help(format!("write `{letters} {digits}`"))
    .repair(span, format!("{letters} {digits}"), false)
}

/// A name that nobody would call out across a bakery.
pub fn too_long(span: Span, letters: usize, most: usize) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("this name has {letters} letters, and names have {most} at most"),
    )
    .help("write a short name, and what else there is to say in a `note` or after `#`")
}

/// A `(` that opens no role.
pub fn open_role(span: Span) -> Finding {
    Finding::new(&RULE, span, "these brackets have no role in them")
        .help("a role is words in brackets after a name, as in `water (second)`")
}
