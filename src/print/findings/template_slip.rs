//! `template-slip`: a template that can't be set.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// A template of the house's own that can't be set.
pub const RULE: Rule = Rule {
    name: "template-slip",
    level: Level::Error,
    group: Group::Prints,
    page: include_str!("template_slip.md"),
};

/// `page` is the print that was wanted, `why` what the typesetter said.
pub fn finding(page: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{page} can't be set: {why}")).help(
        "correct the template in the bakehouse's folder `templates`, or remove it, and ours is \
        used",
    )
}
