//! `order-unread`: a row of an order file that can't be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use ecow::EcoString;

/// `order-unread`, an error about reading.
pub const RULE: Rule = Rule {
    name: "order-unread",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("order_unread.md"),
};

/// It is no table.
pub fn no_table(span: Span) -> Finding {
    Finding::new(&RULE, span, "this is not a table of orders")
        .help("write a CSV file with the columns product, amount and by; and perhaps kind, after, customer and day")
}

/// A column is missing.
pub fn no_column(span: Span, column: &str) -> Finding {
    Finding::new(&RULE, span, format!("no column says `{column}`"))
        .help("the first line names the columns: product, amount and by; and perhaps kind, after, customer and day")
}

/// A row leaves a field empty that it needs.
pub fn no_value(span: Span, column: &str) -> Finding {
    Finding::new(&RULE, span, format!("this row has nothing under `{column}`"))
}

/// Nobody makes that.
pub fn product(span: Span, written: &str, near: Option<EcoString>) -> Finding {
    let message = format!("no formula is called `{written}`");
    let finding = Finding::new(&RULE, span, message);
    match near {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None => finding.help("write the name that stands after `formula`"),
    }
}

/// A field that stands under no heading: perhaps a comma inside a number parted it.
pub fn no_heading(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is in a column without a heading"))
        .help("give its column a heading, or put quotes around a field that has a comma in it")
}

/// An amount that is none, or of a kind that the formula does not make.
pub fn amount(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is not an amount of what the formula makes"))
        .help("write `60 loaves`, `20 kg dough`, or a number with the kind beside it")
}

/// A number that may be a thousand or a one.
pub fn grouped(span: Span, written: &str) -> Finding {
    let message = format!("`{written}` may be thousands, or a number with three decimals");
    let bare: String = written.chars().filter(|it| !matches!(it, ',' | '.' | '\'' | '’')).collect();
    Finding::new(&RULE, span, message)
        .help(format!("if thousands are meant, leave out the separator: `{}`", bare.trim()))
}

/// Fresh after it is wanted.
pub fn reversed(span: Span) -> Finding {
    Finding::new(&RULE, span, "this row wants it fresh after a time that is later than `by`")
        .help("`after` is the earlier of the two times")
}

/// A time that is none.
pub fn time(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is not a time of day"))
        .help("write it as `06:30`, or `22:00 the day before`")
}

/// A day that is none.
pub fn day(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{written}` is not a day")).help(
        "write a date as `2026-12-05`, a weekday as `saturday`, or the name of a day of the house",
    )
}
