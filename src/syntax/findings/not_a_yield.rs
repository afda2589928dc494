//! What `makes` says is no yield.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `not-a-yield`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "not-a-yield",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("not_a_yield.md"),
};

/// A command line's yield that is none.
pub fn no_yield(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "the yield is empty".to_owned(),
        written => format!("{} is not a yield", quoted(written)),
    };
    Finding::new(&RULE, span, message)
        .help("write `24 loaves at 900 g`, `20 kg dough` or `from 12.5 kg flour`")
}

/// `30%` in a yield.
pub fn wrong_kind_of_yield(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} is neither a weight nor a number of pieces", quoted(written)),
    )
    .help("write `24 loaves at 900 g`, `20 kg dough` or `from 12.5 kg flour`")
}

/// `12.5 kg flour` in a yield.
pub fn made_of(span: Span, written: &str, amount: Span) -> Finding {
    let place = Span { end: amount.start, ..amount };
    Finding::new(&RULE, span, format!("{} is not a dough", quoted(written)))
        .help(format!("to size it by what goes in, write `from {}`", written.trim()))
        .repair(place, "from ", false)
}

/// `20 kg` alone in a yield.
pub fn mass_of_what(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say of what", quoted(written)))
        .help(format!("write `{written} dough`, or `from {written} flour`"))
        .repair(span, format!("{written} dough"), false)
}
