//! `unread-file`: a file of a bakehouse that lies where prints look and is not read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unread-file`, a warning about files and outputs.
pub const RULE: Rule = Rule {
    name: "unread-file",
    level: Level::Warning,
    group: Group::Files,
    page: include_str!("unread_file.md"),
};

/// A template or words under another name than prints ask for.
pub fn template(name: &str, near: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("no print reads {name}"))
        .help(format!("call it `{near}` if that is what it is meant to be, or remove it"))
}

/// A file with the ending of a font that holds something else, or is damaged.
pub fn not_a_font(name: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} is not a font, or is damaged"))
        .help("copy it again from where it came from; the prints use the built-in fonts")
}

/// A font in a form for browsers.
pub fn font(name: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} is a font in a form that no print reads"))
        .help("put the same font there as `.ttf` or `.otf`")
}
