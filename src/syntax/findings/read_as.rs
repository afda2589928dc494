//! What is read as something that nobody wrote: told, so that nothing is guessed in silence.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `read-as`, a note about what a file says.
pub const RULE: Rule = Rule {
    name: "read-as",
    level: Level::Note,
    group: Group::Parse,
    page: include_str!("read_as.md"),
};

/// `2 sachets (14 g)`.
pub fn all_of_them(span: Span, written: &str, whole: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is read as {whole} in all", quoted(written)))
        .help("if that is what each of them weighs, write `each` after the weight")
}

/// `overnight`.
pub fn overnight(span: Span, written: &str, low: i64, high: i64) -> Finding {
    Finding::new(&RULE, span, format!("{} is counted as {low} to {high} h", quoted(written)))
        .help(format!("write the hours that you mean, such as `{low}h..{high}h`"))
}

/// `levain 1:2:2 with bread flour`, which does not say which starter.
pub fn starter(span: Span, written: &str, starter: &str) -> Finding {
    Finding::new(&RULE, span, format!("the starter of {} is `{starter}`", quoted(written)))
        .help("if another one is meant, name it after the flour: `from rye culture`")
}

/// Cups and spoons in a house that did not say which; `us` is what it would be where fluid
/// ounces of the US stand beside it.
pub fn measures(span: Span, written: &str, millilitres: &str, us: Option<&str>) -> Finding {
    let finding =
        Finding::new(&RULE, span, format!("{} is read as {millilitres}", quoted(written))).help(
            "these are the metric measures; where the US ones are meant, write `measures US` in \
             the `bakehouse` block, or else `measures metric`",
        );
    match us {
        Some(us) => finding
            .note(format!("the fluid ounces next to it are US ones, by which it would be {us}")),
        None => finding,
    }
}

/// `8 fl-oz` in a house that does not measure as the United States do.
pub fn fluid_ounces(span: Span, count: &str, us: &str, imperial: &str) -> Finding {
    let message = format!("`{count} fl-oz` is counted as US fluid ounces, which are {us}");
    Finding::new(&RULE, span, message)
        .note(format!("in imperial ones, as the United Kingdom has them, it would be {imperial}"))
        .help("write millilitres or a weight, or `measures US` in the bakehouse")
}

/// `2 large eggs` where nobody said of which country; `grams` is what one is counted as.
pub fn eggs(span: Span, written: &str, grams: &str) -> Finding {
    Finding::new(&RULE, span, format!("one of {} is counted as {grams} g", quoted(written)))
        .note("a large egg of the US is 50 g without its shell, one of the EU or the UK about 59 g")
        .help(
            "the language of the house decides, such as `language en-GB`; or write `EU large egg`, \
             `US large egg`, or the weight",
        )
}

/// `230 Grad`, in a language whose kitchens have one kind of degrees.
pub fn degrees(span: Span, written: &str, number: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is read as `{number}C`", quoted(written)))
        .help(format!("kitchens that use this word go by Celsius; write Fahrenheit as `{number}F`"))
}

/// `1.30 hours`, which is one and three tenths; `long` is that in hours and minutes.
pub fn decimal_hours(span: Span, written: &str, long: &str, clock: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is read as {long}", quoted(written)))
        .help(format!("after a point come parts of an hour; if minutes are meant, write `{clock}`"))
}

/// A word of another language in a step.
pub fn abroad(span: Span, written: &str, ours: &str) -> Finding {
    let message = format!("{} is read as `{ours}`", quoted(written));
    Finding::new(&RULE, span, message)
        .help("nothing has to be done: steps are read in five languages, and `assize fmt` writes our words")
}
