//! `order-kind-unknown`: pieces are ordered of a kind that the formula does not make.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Formula, Name, Order, Quantity};

/// `order-kind-unknown`, an error about names.
pub const RULE: Rule = Rule {
    name: "order-kind-unknown",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("order_kind_unknown.md"),
};

/// The finding for so many pieces, with the kinds that the formula makes.
pub fn finding(formula: &Formula, count: &Quantity, kind: &Name, kinds: &[String]) -> Finding {
    let name = &formula.name.shown;
    let made = kinds.iter().map(|kind| format!("`{kind}`")).collect::<Vec<_>>().join(" and ");
    let message = match kinds {
        [] => format!("`{name}` does not say what it makes, so no `{}` can be ordered", kind.shown),
        _ => format!("`{name}` makes {made}, not `{}`", kind.shown),
    };
    let said = Finding::new(&RULE, kind.span, message);
    match kinds {
        [] => said.help(format!("add a line to it, such as `makes 24 {} at 900 g`", kind.shown)),
        [one] => said.help(format!("write `{} {one}`", count.number)).repair(
            kind.span,
            one.as_str(),
            false,
        ),
        _ => said.help(format!("order {made}, or add the other kind to what it makes")),
    }
}

/// One product and customer in two statements.
pub fn twice(order: &Order, first: &Order) -> Finding {
    let whom = order.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
    Finding::new(
        &crate::syntax::DECLARED_TWICE,
        order.product.span,
        format!("`{}`{whom} is ordered twice", order.product.shown),
    )
    .here("ordered again here")
    .label(first.product.span, "ordered first here")
    .help("write further amounts and times after a comma, in one order")
}
