//! `order-late`: an order that no day found has in time.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Order, Wish};

/// `order-late`, an error about the day.
pub const RULE: Rule = Rule {
    name: "order-late",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("order_late.md"),
};

/// So many minutes late, done at a time.
pub fn finding(order: &Order, wish: &Wish, minutes: i64, done: &str, wanted: &str) -> Finding {
    let whom = order.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
    let message = format!(
        "`{}`{whom} is {} late: done at {done}, wanted by {wanted}",
        order.product.shown,
        crate::quantity::display::minutes(&minutes.into()),
    );
    Finding::new(&RULE, wish.span, message)
}
