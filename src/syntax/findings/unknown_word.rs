//! A line, a step or a clause that begins with a word which means nothing there.

use super::{meant, quoted, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unknown-word",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unknown_word.md"),
};

/// A first word that means nothing in a `holder`.
pub fn unknown_word(span: Span, word: &str, holder: &str, near: Option<&str>) -> Finding {
    let holder = with_article(holder);
    let finding = Finding::new(&RULE, span, format!("{holder} has no {}", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help("remove it, or put `#` before it to keep it as a comment"),
    }
}

/// A first word that people say for one of ours; `help` says which.
pub fn said_for(span: Span, word: &str, holder: &str, help: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} has no {}", with_article(holder), quoted(word)))
        .help(help)
}

/// A first word that looks like a statement of the block, misspelt.
pub fn statement_meant(span: Span, word: &str, near: &str) -> Finding {
    let message = format!("this line, which begins with {}, can't be read", quoted(word));
    meant(Finding::new(&RULE, span, message), span, near)
}

pub fn unknown_verb(span: Span, word: &str, near: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} is not a verb of a method", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding
            .help(format!("for anything without a verb of its own, write `step \"{word} …\"`")),
    }
}

pub fn unknown_clause(span: Span, word: &str, near: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("a step has no {}", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help("what can't be said otherwise goes into `note \"…\"`"),
    }
}
