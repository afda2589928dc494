//! `order-left-out`: pieces that no day found has a place for.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Order, Wish};

/// `order-left-out`, an error about the day.
pub const RULE: Rule = Rule {
    name: "order-left-out",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("order_left_out.md"),
};

/// So many pieces of what is ordered are not made.
pub fn finding(order: &Order, wish: &Wish, missing: u32, of: u32) -> Finding {
    let whom = order.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
    let message =
        format!("{missing} of {of} of `{}`{whom} are left out of the day", order.product.shown);
    Finding::new(&RULE, wish.span, message).help(
        "open longer, begin the evening before, bake fewer pieces, or let the steps wait longer",
    )
}
