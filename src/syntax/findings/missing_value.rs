//! A word without the value, the text or the block that belongs to it.

use super::in_quotes;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `missing-value`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "missing-value",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("missing_value.md"),
};

/// A word of a statement without what belongs after it.
pub fn missing_value(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("expected a value after `{word}`"))
        .help("write its value here")
}

/// A word that wants a text in quotes.
pub fn missing_text(span: Span, word: &str, written: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("expected a text after `{word}`"));
    let words = written.trim();
    if !words.starts_with(char::is_alphabetic) || words.contains(['"', '\n', '\\']) {
        return finding.help(format!("write it in quotes, as in `{word} \"…\"`"));
    }
    // Where a number stands among the words, it may be a clause of its own.
    let is_safe = !words.contains(|c: char| c.is_ascii_digit());
    finding.help(format!("put it in quotes: `{word} {}`", in_quotes(words))).repair(
        span,
        in_quotes(words),
        is_safe,
    )
}

/// `allow salt-low` alone.
pub fn missing_reason(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("no reason is given for allowing `{name}`"))
        .help(format!("write the reason after it: `allow {name} \"a reason\"`"))
}

/// `free from milk` of an ingredient, alone.
pub fn missing_proof(span: Span, names: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing is named that shows that it is free from {names}"))
        .help(format!(
            "name the paper or who says so after it: `free from {names} \"the supplier's sheet of 3 \
             March\"`"
        ))
}

/// `""`, or blanks in quotes.
pub fn empty_text(span: Span) -> Finding {
    Finding::new(&RULE, span, "there are no words in these quotes")
        .help("write the words, or remove the statement")
        .level(Level::Warning)
}

/// `expect { }`; `needed` where nothing can be worked out without it.
pub fn empty_braces(span: Span, word: &str, needed: bool) -> Finding {
    let help = match word {
        "total" | "dough" => "write what goes in, each line with its amount",
        "method" => "write its steps, or leave it out: a formula needs no method",
        "expect" | "claims" => "write what is claimed, such as `hydration 75%`",
        "piece" => "write what one piece takes beside its dough, such as `whole egg 3 g`",
        "formula" => "write what differs from the formula after `from`",
        _ => "write what there is to say, or remove the braces",
    };
    let finding = Finding::new(&RULE, span, format!("there is nothing in the braces of `{word}`"));
    let level = if needed { Level::Error } else { Level::Warning };
    finding.help(help).level(level)
}

/// A machine without its braces, with what its head says.
pub fn machine(span: Span, word: &str, name: &str, holds: &str) -> Finding {
    let (usual, holding) = match word {
        "mixer" => ("spiral", "3 kg..28 kg"),
        "oven" => ("deck", "24 loaves"),
        "proofer" => ("warm", "24 boards"),
        "refrigerator" => ("cold", "30 boards"),
        "board" => ("long", "6 loaves"),
        _ => ("small", "1.2 l"),
    };
    let pick = |own: &str, usual: &str| if own.is_empty() { usual } else { own }.to_owned();
    Finding::new(&RULE, span, format!("expected braces after `{word}`")).help(format!(
        "write its name and, in braces, what it holds: `{word} {} {{ holds {} }}`",
        pick(name, usual),
        pick(holds, holding)
    ))
}

/// A head without its braces.
pub fn missing_block(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("expected braces after `{word}`"))
        .help(format!("write `{word} {{ … }}`"))
}
