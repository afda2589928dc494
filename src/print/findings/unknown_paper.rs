//! `unknown-paper`: a paper that we don't print on.

use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::formula::Setting;
use crate::print::look::PAPERS;

/// A size of paper that we do not know.
pub const RULE: Rule = Rule {
    name: "unknown-paper",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("unknown_paper.md"),
};

/// The finding for the paper of a house.
pub fn finding(paper: &Setting) -> Finding {
    let said = Finding::new(
        &RULE,
        paper.span,
        format!("`{}` is not a paper size of the prints", paper.value),
    );
    let key = paper.value.as_str().to_lowercase().replace(' ', "-");
    match nearest(&key, PAPERS.iter().map(|(name, _)| *name)) {
        Some(near) => {
            let near = if near.starts_with('a') { near.to_uppercase() } else { near.to_owned() };
            said.help(format!("did you mean `{near}`?")).repair(paper.span, near, false)
        }
        None => said.help(
            "write `paper A4`, `paper A5`, `paper letter` or `paper half-letter`; \
             without it, cards are A5, sheets and tables A4",
        ),
    }
}
