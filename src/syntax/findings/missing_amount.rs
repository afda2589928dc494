//! A place for an amount, with something else in it or nothing.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `missing-amount`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "missing-amount",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("missing_amount.md"),
};

/// No number where an amount stands.
pub fn no_number(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "an amount is missing".to_owned(),
        written => format!("expected an amount, found {}", quoted(written)),
    };
    Finding::new(&RULE, span, message).help("write a number with its unit")
}

/// `a handful of walnuts`
pub fn vague(span: Span, written: &str, name: &str) -> Finding {
    let name = bare(name);
    let meant = format!("{name} as needed");
    let finding = Finding::new(
        &RULE,
        span,
        format!("{} is not an amount of {}", quoted(written), quoted(name)),
    );
    let lower = name.to_lowercase();
    let matters = lower.split([' ', '-']).any(|word| MATTERS.iter().any(|it| word.ends_with(it)));
    match matters {
        true => finding.help(format!("weigh it once and write the weight after `{name}`")),
        false => finding
            .help(format!(
                "weigh it once and write the weight after `{name}`; where it does not matter how \
                 much, write `{meant}`"
            ))
            .repair(span, meant, false),
    }
}

/// A name without the `d'` or `l'` before it.
fn bare(name: &str) -> &str {
    let elided = ["d'", "d’", "D'", "l'", "l’"];
    elided.iter().find_map(|of| name.strip_prefix(of)).unwrap_or(name)
}

/// How the words end for what a dough is not the same without, in five languages.
const MATTERS: [&str; 26] = [
    "water", "yeast", "flour", "salt", "starter", "levain", "milk", "wasser", "hefe", "mehl",
    "salz", "milch", "eau", "levure", "farine", "sel", "lait", "acqua", "lievito", "farina",
    "sale", "latte", "agua", "levadura", "harina", "leche",
];

/// `zest of 1 lemon`
pub fn of_fruit(span: Span, written: &str, part: &str, fruit: &str) -> Finding {
    let fruit = fruit.to_lowercase();
    let fruit = fruit.strip_suffix('s').unwrap_or(&fruit);
    let grams = if part == "zest" { "3 g" } else { "40 g" };
    Finding::new(&RULE, span, format!("{} has no weight", quoted(written)))
        .help(format!("fruit differ: weigh what it gives and write, say, `{fruit} {part} {grams}`"))
}

/// `salt` alone on its line.
pub fn no_amount(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} has no amount", quoted(name)))
        .help("write how much after the name: a number with its unit")
}
