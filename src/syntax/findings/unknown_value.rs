//! A word that takes one of a few values, with another one.

use super::{meant, missing_value, quoted};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unknown-value`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unknown-value",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unknown_value.md"),
};

/// What is said of a value that is none of those that `word` takes, or is not there at all.
fn refused(span: Span, word: &str, written: &str, why: &str) -> Finding {
    match written.trim() {
        "" => missing_value::missing_value(span, word),
        written => Finding::new(&RULE, span, format!("{} {why}", quoted(written))),
    }
}

/// Neither `metric` nor `US`.
pub fn metric_or_us(span: Span, word: &str, written: &str, near: Option<&str>) -> Finding {
    let finding = refused(span, word, written, &format!("is not a choice for `{word}`"));
    match near {
        Some(near) => meant(finding, span, near),
        None if word == "units" => {
            finding.help("write `units metric`, `units US`, or `units metric and US` for both")
        }
        None => finding.help(format!("write `{word} metric` or `{word} US`")),
    }
}

/// Neither volumes nor counts beside weights.
pub fn beside_weights(span: Span, word: &str, written: &str) -> Finding {
    refused(span, word, written, &format!("is not a choice for `{word}`"))
        .help("write `volumes beside weights`, or leave it out")
}

/// `in a warm place`; `likely` is what is usual there.
pub fn how_warm(span: Span, written: &str, likely: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say how warm it is", quoted(written)))
        .help(format!("write the temperature instead, such as `at {likely}`"))
}

/// `currency EURO`.
pub fn currency(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a currency", quoted(written)))
        .help("write its three letters, such as `EUR`, `GBP` or `USD`")
}

/// The letters of a currency that a sign may stand for.
fn letters(sign: &str) -> Option<&'static str> {
    Some(match sign {
        "€" => "`EUR`",
        "£" => "`GBP`",
        "₹" => "`INR`",
        "$" => "`USD`, `AUD` or whichever dollar or peso it is",
        "¥" => "`JPY` or `CNY`",
        _ => return None,
    })
}

/// Whether a sign stands for a currency.
pub fn is_currency_sign(sign: &str) -> bool {
    letters(sign).is_some()
}

/// `currency €`, `price $2 per kg`.
pub fn currency_sign(span: Span, sign: &str) -> Finding {
    let letters = letters(sign).unwrap_or("`EUR`, `GBP` or `USD`");
    Finding::new(&RULE, span, format!("{} is not a currency", quoted(sign))).help(format!(
        "write its three letters, {letters}; a price has them after the number, as in \
         `14 EUR per kg`"
    ))
}

/// `language German`.
pub fn language(span: Span, written: &str, tag: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not the letters of a language", quoted(written)))
        .help(format!("write `language {tag}`"))
        .repair(span, tag, true)
}

/// A claim in other words: `gluten-free`.
pub fn claim(span: Span, written: &str, meant: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a claim as they are written", quoted(written)))
        .help(format!("write `{meant}`"))
        .repair(span, meant, false)
}

/// `contains wheat`, `halal` among claims.
pub fn no_claim(span: Span, written: &str, help: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} can't be claimed", quoted(written))).help(help)
}

/// `animal fish`.
pub fn animal(span: Span, written: &str, near: Option<&str>) -> Finding {
    let finding =
        Finding::new(&RULE, span, format!("{} is not an animal product", quoted(written)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help(
            "write `animal milk`, `egg`, `honey`, `meat` (fish, gelatine and rennet too) or \
             `animal nothing`",
        ),
    }
}

/// A name in another language without the language.
pub fn called(span: Span, written: &str) -> Finding {
    refused(span, "called", written, "is not a name in another language")
        .help("write the language and the name in quotes, as in `called fr \"noisettes\"`")
}

/// Neither of the two ways to work out how warm water has to be.
pub fn water_by(span: Span, written: &str) -> Finding {
    refused(span, "water", written, "is not a way to work out a water temperature")
        .help("write `water by factor` or `water by heat balance`")
}

/// A code that is not drawn.
pub fn codes(span: Span, written: &str) -> Finding {
    refused(span, "codes", written, "is not a kind of code that is drawn on sheets")
        .help("write `codes qr`, or leave it out: each sheet bears its code in letters as well")
}

/// What no phase can go on until.
pub fn until(span: Span, written: &str) -> Finding {
    let finding = refused(span, "until", written, "is not something that can be measured");
    let words = written.trim();
    let help =
        "write `until volume 1.5x`, `until core 96C`, `until pH 3.9`, or what to see in quotes";
    if words.is_empty() || words.contains(['"', '\n', '\\']) {
        return finding.help(help);
    }
    finding.help(help).repair(span, format!("\"{words}\""), false)
}

/// `gas mark 12`.
pub fn gas_mark(span: Span, written: &str) -> Finding {
    refused(span, "gas mark", written, "is not a mark of a gas oven")
        .help("marks are `1/4`, `1/2` and 1 to 10: write the temperature, such as `220C`")
}

/// `gas mark 6/200C`.
pub fn mark_and_degrees(span: Span, written: &str, mark: &str, degrees: &str) -> Finding {
    refused(span, "gas mark", written, "is a mark and a temperature in one").help(format!(
        "write one of them, `gas mark {mark}` or `{degrees}`; both are written \
         `{degrees} (gas mark {mark})`"
    ))
}

/// `230/200 °C`: which is with a fan, only the author knows.
pub fn two_heats(span: Span, written: &str, one: &str, two: &str) -> Finding {
    refused(span, "at", written, "is two temperatures").help(format!(
        "write the one that the oven is set to: `at {one}`, or `at {two} fan` if that is \
         with a fan; both are written `at {one} ({two} fan)`"
    ))
}

/// `auf Stufe 4`: a mark on the knob of an oven.
pub fn oven_setting(span: Span, written: &str) -> Finding {
    refused(span, "at", written, "does not say how hot the oven is")
        .help("what a knob shows differs from oven to oven: write the temperature, such as `200C`")
}

/// Something else than `counts as flour`.
pub fn counts_as(span: Span, written: &str) -> Finding {
    refused(span, "counts as", written, "is not something that an ingredient counts as")
        .help("write `counts as flour` and the ingredients, separated by commas")
}

/// An aim that a day can't have.
pub fn aim(span: Span, written: &str) -> Finding {
    refused(span, "aim", written, "is not something that a day can aim at")
        .help("write `aim finish early`, `aim least hands` or `aim fewest oven changes`")
}
