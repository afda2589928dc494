//! Numbers at the beginning of a text, as recipes have them: `1 1/2`, `2½`, `1,5`, `2–3`,
//! `half a`, `une`, `2 x 7`.

use crate::quantity::display::trimmed;
use crate::quantity::{Exact, int, ratio};

/// A number or a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The lower end; both are the same where there is one number.
    pub low: Exact,
    /// The upper end.
    pub high: Exact,
    /// How many bytes it has.
    pub length: usize,
}

/// Number words: of them and of `half`, with the articles that may follow.
const WORDS: &[(&str, i64, i64)] = &[
    ("half a", 1, 2),
    ("half an", 1, 2),
    ("half", 1, 2),
    ("a quarter of a", 1, 4),
    ("a", 1, 1),
    ("an", 1, 1),
    ("one", 1, 1),
    ("two", 2, 1),
    ("three", 3, 1),
    ("four", 4, 1),
    ("five", 5, 1),
    ("six", 6, 1),
    ("seven", 7, 1),
    ("eight", 8, 1),
    ("nine", 9, 1),
    ("ten", 10, 1),
    ("twelve", 12, 1),
    ("a dozen", 12, 1),
    ("une demi", 1, 2),
    ("un demi", 1, 2),
    ("un", 1, 1),
    ("une", 1, 1),
    ("deux", 2, 1),
    ("trois", 3, 1),
    ("quatre", 4, 1),
    ("cinq", 5, 1),
    ("six", 6, 1),
    ("ein halber", 1, 2),
    ("eine halbe", 1, 2),
    ("ein halbes", 1, 2),
    ("ein", 1, 1),
    ("eine", 1, 1),
    ("einen", 1, 1),
    ("zwei", 2, 1),
    ("drei", 3, 1),
    ("vier", 4, 1),
    ("fünf", 5, 1),
    ("sechs", 6, 1),
    ("media", 1, 2),
    ("medio", 1, 2),
    ("una", 1, 1),
    ("uno", 1, 1),
    ("dos", 2, 1),
    ("tres", 3, 1),
    ("cuatro", 4, 1),
    ("mezzo", 1, 2),
    ("mezza", 1, 2),
    ("due", 2, 1),
    ("tre", 3, 1),
    ("quattro", 4, 1),
    ("cinque", 5, 1),
    ("sei", 6, 1),
];

/// What stands between the ends of a range.
const BETWEEN: [&str; 9] = ["–", "—", "-", " to ", " bis ", " à ", " a ", " or ", " bis zu "];

/// The number that a text begins with, after what says that it is not exact.
pub fn number(text: &str) -> Option<Found> {
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
            return Some(Found { low: first.0, high, length });
        }
    }
    Some(Found { low: first.0.clone(), high: first.0, length: first.1 })
}

fn one(text: &str) -> Option<(Exact, usize)> {
    digits(text).or_else(|| word(text))
}

fn word(text: &str) -> Option<(Exact, usize)> {
    let fits = |(word, _, _): &&(&str, i64, i64)| {
        let head = text.get(..word.len());
        head.is_some_and(|head| head.to_lowercase() == **word)
            && text[word.len()..].starts_with(' ')
    };
    let (word, above, below) = WORDS.iter().filter(fits).max_by_key(|(word, _, _)| word.len())?;
    Some((ratio(*above, *below), word.len()))
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
            ("250g/9oz", "250"),
        ] {
            let found = number(text).expect(text);
            let shown = match found.low == found.high {
                true => shown(&found.low),
                false => format!("{}..{}", shown(&found.low), shown(&found.high)),
            };
            assert_eq!(shown, wanted, "{text}");
        }
        for none in ["salt", "", "½g".get(3..).unwrap_or(""), "apples", "one"] {
            assert_eq!(number(none), None, "{none}");
        }
    }
}
