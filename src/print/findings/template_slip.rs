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

/// `page` is the print that was wanted, `why` what the typesetter said, and `own` whether the
/// bakehouse has templates of its own.
pub fn finding(page: &str, why: &str, own: bool) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{page} can't be set: {why}")).help(match own {
        true => {
            "correct the template in the bakehouse's folder `templates`, or remove it, and ours is \
             used"
        }
        false => {
            "something in its words or pictures is more than can be set: leave out parts of it to \
             find which, and please send us what is left"
        }
    })
}
