//! Numbers in digits, as people write them: `1 250,5`, `1 1/2`, `2½`.

use crate::quantity::display::last_digit;
use crate::quantity::{Exact, int, ratio};

/// Written numbers: the value, and the worth of the last digit.
pub type Numbers = Vec<(Exact, Exact)>;

/// How long the number is that a text begins with: `1 250,5`, `1 1/2`, `2½`.
pub fn number_length(text: &str) -> usize {
    let mut end = 0;
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    while digit(end) {
        end += 1;
    }
    let whole = end;
    loop {
        // A group of three behind a blank, or digits behind a mark.
        let blank =
            [" ", "\u{a0}", "\u{202f}", "'"].iter().find(|it| text[end..].starts_with(**it));
        if let Some(blank) = blank {
            let at = end + blank.len();
            let three = (at..at + 3).all(digit) && !digit(at + 3);
            if whole == 0 || whole > 3 || !three {
                break;
            }
            end = at + 3;
        } else if text[end..].starts_with(['.', ',']) && digit(end + 1) && end > 0 {
            end += 1;
            while digit(end) {
                end += 1;
            }
        } else {
            break;
        }
    }
    end + fraction_length(&text[end..], end > 0)
}

/// `½`, ` ½`, ` 1/2`, and `/2` behind digits.
fn fraction_length(rest: &str, after_digits: bool) -> usize {
    let inner = rest.trim_start_matches(' ');
    let blanks = rest.len() - inner.len();
    if blanks > 1 {
        return 0;
    }
    if let Some(sign) = inner.chars().next().filter(|sign| vulgar(*sign).is_some()) {
        return blanks + sign.len_utf8();
    }
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    if blanks == 0 && after_digits && inner.starts_with('/') {
        let below = digits(&inner[1..]);
        return if below > 0 { 1 + below } else { 0 };
    }
    let above = digits(inner);
    if blanks == 1 && above == 1 && inner[above..].starts_with('/') {
        let below = digits(&inner[above + 1..]);
        return if below > 0 { blanks + above + 1 + below } else { 0 };
    }
    0
}

fn vulgar(sign: char) -> Option<Exact> {
    Some(match sign {
        '½' => ratio(1, 2),
        '¼' => ratio(1, 4),
        '¾' => ratio(3, 4),
        '⅓' => ratio(1, 3),
        '⅔' => ratio(2, 3),
        '⅛' => ratio(1, 8),
        _ => return None,
    })
}

/// What digits may mean. A comma or a point with three digits behind it may part
/// thousands or decimals.
pub fn numbers_of(written: &str) -> Numbers {
    let tight: String = written.chars().filter(|sign| !"\u{a0}\u{202f}'".contains(*sign)).collect();
    if let Some(number) = fraction_of(&tight) {
        // Nobody weighs by fractions who means it exactly.
        return vec![(number, ratio(1, 4))];
    }
    let tight = tight.replace(' ', "");
    let marks: Vec<usize> = tight.match_indices(['.', ',']).map(|(at, _)| at).collect();
    let plain = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    let whole = |digits: &str| {
        let number = digits.parse::<i64>().ok()?;
        Some((int(number), Exact::ONE))
    };
    let decimal = |at: usize| {
        let behind = tight.get(at + 1..).unwrap_or("");
        let places = u8::try_from(behind.len()).ok().filter(|places| *places < 12)?;
        let digits = whole(&plain(&tight))?.0;
        Some((digits * last_digit(places), last_digit(places)))
    };
    let thousands = |at: usize| tight.len() - at == 4 && at > 0 && at <= 3;
    let mut all = Numbers::new();
    match marks.as_slice() {
        [] => all.extend(whole(&tight)),
        [one] => {
            all.extend(decimal(*one));
            if thousands(*one) {
                all.extend(whole(&plain(&tight)));
            }
        }
        [first, .., last] => match tight.get(*first..=*first) == tight.get(*last..=*last) {
            // `1.250.000`: decimals have one mark only.
            true => all.extend(whole(&plain(&tight))),
            false => all.extend(decimal(*last)),
        },
    }
    all
}

/// `1/2`, `1 1/2`, `1½`.
fn fraction_of(written: &str) -> Option<Exact> {
    let whole = |digits: &str| match digits.trim() {
        "" => Some(Exact::ZERO),
        digits => digits.parse::<i64>().ok().map(int),
    };
    if let Some(sign) = written.chars().next_back().filter(|sign| vulgar(*sign).is_some()) {
        return Some(whole(written.trim_end_matches(sign))? + vulgar(sign)?);
    }
    let (above, below) = written.split_once('/')?;
    let (ones, above) = above.rsplit_once(' ').unwrap_or(("", above));
    let below = below.parse::<i64>().ok().filter(|below| *below > 0)?;
    Some(whole(ones)? + ratio(above.parse().ok()?, below))
}
