//! `unknown-instruction`: a comment for us that says nothing we know.

use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::source::Span;

/// `unknown-instruction`, an error about a manuscript.
pub const RULE: Rule = Rule {
    name: "unknown-instruction",
    level: Level::Error,
    group: Group::Text,
    page: include_str!("unknown_instruction.md"),
};

/// A word that begins no instruction.
pub fn word(span: Span, written: &str, known: &[&str]) -> Finding {
    let finding =
        Finding::new(&RULE, span, format!("`{written}` is not an instruction for a manuscript"));
    match nearest(written, known.iter().copied()) {
        Some(near) => finding.help(format!("write `{near}`")).repair(span, near, false),
        None => finding.help(format!("one of these begins it: {}", known.join(", "))),
    }
}

/// A comment that lacks the colon.
pub fn without_colon(span: Span) -> Finding {
    Finding::new(&RULE, span, "this comment is not read, since `assize` has no colon after it")
        .help("write `<!-- assize: … -->`")
}

/// An instruction that says too little or too much.
pub fn unclear(span: Span, written: &str, wanted: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is not complete"))
        .help(format!("write {wanted}"))
}

/// A name that no formula has.
pub fn no_formula<'n>(span: Span, written: &str, names: impl Iterator<Item = &'n str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("no formula here is called `{written}`"));
    match nearest(written, names) {
        Some(near) => finding.help(format!("write `{near}`")).repair(span, near, false),
        None => finding.help("name a formula of this bakehouse as it is named after `formula`"),
    }
}

/// A finding that is none.
pub fn no_finding<'n>(span: Span, written: &str, names: impl Iterator<Item = &'n str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("no finding is called `{written}`"));
    match nearest(written, names) {
        Some(near) => finding.help(format!("write `{near}`")).repair(span, near, false),
        None => finding.help("`assize explain findings` lists them"),
    }
}
