//! A yield that names what the formula does not have.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::{MadePiece, Quantity, Target};

/// `yield-not-in-formula`, an error about sums.
pub const RULE: Rule = Rule {
    name: "yield-not-in-formula",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("yield_not_in_formula.md"),
};

/// A yield from something that the formula does not have.
pub fn no_such_line(quantity: &Quantity, target: &Target) -> Finding {
    Finding::new(
        &RULE,
        quantity.span.to(target.name.span),
        format!("the formula has no `{}` to start from", target.name.shown),
    )
    .help("name one of its ingredients or stages, or `flour`, or `dough`")
}

/// `--makes "60 rolls"` of a formula that makes loaves.
pub fn other_kind(made: &MadePiece, known: &[&str]) -> Finding {
    let (kind, count) = (&made.kind.shown, made.count.number.to_string());
    let names: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    Finding::new(
        &RULE,
        made.kind.span,
        format!("this formula makes {}, not `{kind}`", names.join(" and ")),
    )
    .help(format!("say what one weighs, `{count} {kind} at 80 g`, or name what it makes"))
}

/// `--makes "for 3 people"` of a formula that does not say how many it serves.
pub fn no_portions(span: Span) -> Finding {
    Finding::new(&RULE, span, "this formula does not say how many people it serves")
        .help("add a line to it, such as `serves 4`, or ask for pieces or a weight of dough")
}
