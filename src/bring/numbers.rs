//! Numbers at the beginning of a text, as recipes have them: `1 1/2`, `2½`, `1,5`, `2–3`,
//! `half a`, `une`, `2 x 7`.

use super::units::measure;
use crate::check::speech::{Spelled, Token, TokenKind, spelled, tokens};
use crate::quantity::display::trimmed;
use crate::quantity::{Exact, int, ratio};

/// A number or a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundNumber {
    /// The lower end; both are the same where there is one number.
    pub low: Exact,
    /// The upper end.
    pub high: Exact,
    /// How many bytes it has.
    pub length: usize,
}

/// What stands between the ends of a range.
const BETWEEN: [&str; 9] = ["–", "—", "-", " to ", " bis ", " à ", " a ", " or ", " bis zu "];

/// The number that a text begins with, after what says that it is not exact.
pub fn number(text: &str) -> Option<FoundNumber> {
    let first = one(text)?;
    let rest = &text[first.1..];
    for between in BETWEEN {
        let trimmed = if between.starts_with(' ') { rest } else { rest.trim_start() };
        let blanks = rest.len() - trimmed.len();
        let Some(behind) = trimmed.strip_prefix(between) else { continue };
        let lead = behind.len() - behind.trim_start().len();
        let Some((high, length)) = digits(behind.trim_start()) else { continue };
        if high >= first.0 {
            let length = first.1 + blanks + between.len() + lead + length;
            return Some(FoundNumber { low: first.0, high, length });
        }
    }
    Some(FoundNumber { low: first.0.clone(), high: first.0, length: first.1 })
}

fn one(text: &str) -> Option<(Exact, usize)> {
    digits(text).or_else(|| word(text))
}

/// A number in the words of any of the five languages, with the article of what a part is of:
/// `half a`, `un quart de`.
fn word(text: &str) -> Option<(Exact, usize)> {
    /// These begin a sentence of English, and are numbers elsewhere.
    const SAID: [&str; 2] = ["once", "elf"];
    let tokens = head(text);
    let keys: Vec<&str> = tokens.iter().map(|token| token.key.as_ref()).collect();
    let first = *keys.first()?;
    let spelled = spelled(&keys, "").filter(|it| it.words > 1 || !SAID.contains(&first));
    let Some(Spelled { words, value }) = spelled else {
        let is_one = matches!(first, "a" | "an") && text[first.len()..].starts_with(' ');
        return is_one.then_some((Exact::ONE, first.len()));
    };
    let end = |words: usize| words.checked_sub(1).and_then(|at| tokens.get(at)).map(|it| it.end);
    let mut length = end(words)?;
    if !value.is_int() {
        let of = keys.get(words..).unwrap_or_default();
        let of = of.iter().take(3).take_while(|key| OF_A.contains(key)).count();
        let is_unit = |to: usize| measure(text[to..].trim_start()).is_some();
        let longer = (1..=of).rev().filter_map(|more| Some((more, end(words + more)?)));
        let mut longer = longer.filter(|(more, to)| {
            matches!(keys.get(words + more - 1), Some(&("a" | "an"))) || is_unit(*to)
        });
        let joined = text[length..].strip_prefix('-').filter(|rest| measure(rest).is_some());
        length = match (longer.next(), joined) {
            (Some((_, to)), _) => to,
            (None, Some(_)) => length + 1,
            // `quarter the apples` is something to do.
            (None, None) if words == 1 && first != "half" && !is_unit(length) => return None,
            (None, None) => length,
        };
    }
    let is_apart = text[length..].starts_with([' ', '-']) || text[..length].ends_with('-');
    is_apart.then_some((value, length))
}

/// What may stand between a part and what it is of.
const OF_A: [&str; 8] = ["of", "a", "an", "de", "d", "di", "un", "une"];

/// The first words of a text, up to the first mark or digit.
fn head(text: &str) -> Vec<Token<'_>> {
    const LONGEST: usize = 120;
    let end = text.char_indices().map(|(at, _)| at).take_while(|at| *at < LONGEST).last();
    let mut words = tokens(text.get(..end.map_or(0, |at| at)).unwrap_or_default());
    if text.len() <= LONGEST {
        words = tokens(text);
    }
    let marked = words.iter().position(|token| token.kind != TokenKind::Word);
    words.truncate(marked.unwrap_or(words.len()).min(14));
    words
}

fn vulgar(sign: char) -> Option<Exact> {
    Some(match sign {
        '½' => ratio(1, 2),
        '¼' => ratio(1, 4),
        '¾' => ratio(3, 4),
        '⅓' => ratio(1, 3),
        '⅔' => ratio(2, 3),
        '⅛' => ratio(1, 8),
        '⅜' => ratio(3, 8),
        '⅝' => ratio(5, 8),
        '⅞' => ratio(7, 8),
        _ => return None,
    })
}

/// A number in digits, and how many bytes it has.
fn digits(text: &str) -> Option<(Exact, usize)> {
    let (whole, mut end) = match decimal(text) {
        Some((value, end)) => (Some(value), end),
        None => (None, 0),
    };
    // `1/2`, `1⁄2`
    if let Some(value) = &whole
        && let Some((below, length)) = below(&text[end..])
    {
        return Some((value.over(&below)?, end + length));
    }
    let rest = &text[end..];
    // `1/0`, `3/200`: neither a fraction of a recipe nor anything else.
    let after_stroke = rest.strip_prefix(['/', '⁄']);
    if whole.is_some()
        && after_stroke.is_some_and(|rest| rest.starts_with(|it: char| it.is_ascii_digit()))
    {
        return None;
    }
    let inner = rest.trim_start_matches([' ', '\u{a0}', '\u{202f}']);
    let blanks = rest.len() - inner.len();
    if let Some(sign) = inner.chars().next()
        && let Some(part) = vulgar(sign)
    {
        end += blanks + sign.len_utf8();
        return Some((whole.unwrap_or_default() + part, end));
    }
    // `1 1/2`
    if let Some(value) = &whole
        && blanks > 0
        && value.is_int()
        && let Some((above, length)) = decimal(inner)
        && let Some((below, more)) = below(&inner[length..])
        && above < below
    {
        return Some((value + above.over(&below)?, end + blanks + length + more));
    }
    Some((whole?, end))
}

fn below(text: &str) -> Option<(Exact, usize)> {
    let stroke = text.chars().next().filter(|sign| matches!(sign, '/' | '⁄'))?;
    let rest = &text[stroke.len_utf8()..];
    let count = rest.bytes().take_while(u8::is_ascii_digit).count();
    let value: i64 = rest.get(..count)?.parse().ok()?;
    // `250g/9oz` and `9/oz` are no fractions, and nothing is parted in sixties.
    (2..=16).contains(&value).then(|| (int(value), stroke.len_utf8() + count))
}

/// Digits with a mark of decimals or of thousands: `1,5`, `1.250`, `1 250,5`.
fn decimal(text: &str) -> Option<(Exact, usize)> {
    let count = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut end = count(text);
    if end == 0 || end > 9 {
        return None;
    }
    let mut plain = text[..end].to_owned();
    let mut decimals = 0;
    loop {
        let rest = &text[end..];
        let Some(mark) = rest.chars().next() else { break };
        let behind = &rest[mark.len_utf8()..];
        let more = count(behind);
        let thousands = more == 3 && plain.len() <= 3 && !plain.starts_with('0');
        match mark {
            ' ' | '\u{a0}' | '\u{202f}' | '\'' | '’' if thousands && decimals == 0 => {}
            '.' | ',' if (1..=6).contains(&more) && decimals == 0 => {
                // `1,250 g` is told in thousands, and `1.250 g` too; `0,250 kg` is not.
                if !thousands || mark == '.' && text.get(..1) == Some("0") {
                    decimals = more;
                }
            }
            _ => break,
        }
        plain.push_str(&behind[..more]);
        end += mark.len_utf8() + more;
        if plain.len() > 12 {
            return None;
        }
    }
    let value: i64 = plain.parse().ok()?;
    let mut below = Exact::ONE;
    for _ in 0..decimals {
        below *= int(10);
    }
    Some((int(value).over(&below)?, end))
}

/// A number as a formula has it: `1.5`, `1 1/3`.
pub fn shown(value: &Exact) -> String {
    let whole = value.floor();
    let part = value - &whole;
    let known = [(1, 3), (2, 3), (1, 8), (3, 8), (5, 8), (7, 8), (1, 6)];
    match known.iter().find(|(above, below)| part == ratio(*above, *below)) {
        Some((above, below)) if whole.is_zero() => format!("{above}/{below}"),
        Some((above, below)) => format!("{} {above}/{below}", trimmed(&whole, 0)),
        None => trimmed(value, 4),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_recipes_write_them() {
        for (text, wanted) in [
            ("500 g", "500"),
            ("1.5 kg", "1.5"),
            ("1,5 kg", "1.5"),
            ("1,250 g", "1250"),
            ("1.250 g", "1250"),
            ("0,250 kg", "0.25"),
            ("1 250 g", "1250"),
            ("1 1/2 tsp", "1.5"),
            ("1½ tsp", "1.5"),
            ("1 ½ tsp", "1.5"),
            ("½ tsp", "0.5"),
            ("1/3 cup", "1/3"),
            ("2-3 eggs", "2..3"),
            ("2 – 3 eggs", "2..3"),
            ("2 to 3 eggs", "2..3"),
            ("2 bis 3 Eier", "2..3"),
            ("half a lemon", "0.5"),
            ("a lemon", "1"),
            ("une pincée", "1"),
            ("two hundred and fifty grams", "250"),
            ("half a pound", "0.5"),
            ("half of a pound", "0.5"),
            ("a quarter of a pound", "0.25"),
            ("three quarters of a cup", "0.75"),
            ("one and a half cups", "1.5"),
            ("half a dozen eggs", "6"),
            ("two dozen figs", "24"),
            ("un demi-kilo de farine", "0.5"),
            ("deux cent cinquante grammes", "250"),
            ("un quart de litre d'eau", "0.25"),
            ("une demi-douzaine d'œufs", "6"),
            ("ein halbes Pfund", "0.5"),
            ("zweihundertfünfzig Gramm", "250"),
            ("eineinhalb Liter", "1.5"),
            ("medio kilo", "0.5"),
            ("tres cuartos de litro", "0.75"),
            ("mezzo chilo", "0.5"),
            ("duecentocinquanta grammi", "250"),
            ("250g/9oz", "250"),
        ] {
            let found = number(text).expect(text);
            let shown = match found.low == found.high {
                true => shown(&found.low),
                false => format!("{}..{}", shown(&found.low), shown(&found.high)),
            };
            assert_eq!(shown, wanted, "{text}");
        }
        for none in [
            "salt",
            "",
            "½g".get(3..).unwrap_or(""),
            "apples",
            "one",
            "Once risen, bake",
            "Quarter the apples",
        ] {
            assert_eq!(number(none), None, "{none}");
        }
    }

    #[test]
    fn every_number_written_out_reads_back_as_itself() {
        for code in crate::check::speech::LANGUAGES {
            for value in 2..10_000_i64 {
                let text = crate::check::speech::written(value.unsigned_abs() as usize, code);
                // `once` is a word of English too, `elf` a sprite.
                if matches!(text.as_str(), "once" | "elf") {
                    continue;
                }
                let found = number(&format!("{text} g")).map(|it| (it.low, it.length));
                assert_eq!(found, Some((int(value), text.len())), "{code}: {text}");
            }
        }
    }
}
