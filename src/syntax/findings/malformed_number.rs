//! Something that looks like a number and can't be read as one.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::quantity::display::decimal;
use crate::source::Span;

/// `malformed-number`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "malformed-number",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("malformed_number.md"),
};

/// Digits with signs among them that no number has.
pub fn not_a_number(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a number", quoted(written)))
        .help("numbers are written `12`, `0.25`, `1/3` or `1 1/2`")
}

/// `%6`.
pub fn sign_first(span: Span, written: &str) -> Finding {
    let number = written.trim_start_matches(['%', ' ']);
    Finding::new(&RULE, span, format!("{} has its unit before the number", quoted(written)))
        .help(format!("write `{number}%`"))
        .repair(span, format!("{number}%"), false)
}

/// `1.1/2`: one and a half on a typewriter, or a decimal number over another.
pub fn point_and_stroke(span: Span, written: &str, [whole, above, below]: [&str; 3]) -> Finding {
    let mixed = format!("{whole} {above}/{below}");
    Finding::new(&RULE, span, format!("{} has a point and a stroke", quoted(written)))
        .help(format!("if it is {whole} and {above}/{below}, write `{mixed}`"))
        .repair(span, mixed, false)
}

/// `1e3`.
pub fn power_of_ten(span: Span, written: &str, value: &Exact) -> Finding {
    let plain = decimal(value, 18);
    Finding::new(&RULE, span, format!("{} is written in powers of ten", quoted(written)))
        .help(format!("write `{plain}`"))
        .repair(span, plain, true)
}

/// `300/350 g`
pub fn range_with_stroke(span: Span, written: &str, low: &str, high: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} reads as a fraction", quoted(written)))
        .help(format!("for anything between the two write `{low}..{high}`"))
        .repair(span, format!("{low}..{high}"), false)
}
