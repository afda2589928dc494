//! Numbers as they are written.
//!
//! Exactness never ends inside a formula's arithmetic: no sum, product or quotient of
//! [`Exact`] can overflow or be rounded. It ends in [`super::display`], once, on paper.

use super::Exact;

/// The longest run of digits that is read as a number.
pub const MAX_DIGITS: usize = 18;

/// A whole number.
pub fn int(value: i64) -> Exact {
    Exact::from(value)
}

/// The ratio of two whole numbers; a zero below gives zero, which only a slip in a
/// constant could ask for.
pub fn ratio(above: i64, below: i64) -> Exact {
    Exact::ratio(above, below).unwrap_or_default()
}

/// One half.
pub fn half() -> Exact {
    ratio(1, 2)
}

/// One of the last of so many decimals: `0.001` for three.
pub fn tenths(decimals: u8) -> Exact {
    match 10i64.checked_pow(u32::from(decimals)) {
        Some(below) => ratio(1, below),
        None => tenths(decimals - MAX_DIGITS as u8) * tenths(MAX_DIGITS as u8),
    }
}

/// How many of the last of so many decimals make one: `1000` for three.
pub fn tens(decimals: u8) -> Exact {
    match 10i64.checked_pow(u32::from(decimals)) {
        Some(tens) => int(tens),
        None => tens(decimals - MAX_DIGITS as u8) * tens(MAX_DIGITS as u8),
    }
}

/// A number together with how finely it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenExactly {
    /// The number itself.
    pub value: Exact,
    /// Digits written after the decimal point; none for fractions such as `1/3`.
    pub decimals: Option<u8>,
}

/// Why digits are not a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberTrouble {
    /// A comma where the point belongs: `1,5`.
    DecimalComma,
    /// More than 18 digits.
    TooManyDigits,
    /// A fraction over nothing: `1/0`.
    DivisionByZero,
    /// No digits, or signs among them that no number has.
    NotANumber,
}

/// Reads `12`, `0.25`, `1/3`, `½`, `1½` or `1 1/2`.
///
/// # Errors
/// Says which of the [`NumberTrouble`]s the text has.
pub fn read_number(text: &str) -> Result<WrittenExactly, NumberTrouble> {
    if text.contains(',') {
        return Err(NumberTrouble::DecimalComma);
    }
    if let Some((whole, fraction)) = text.split_once(char::is_whitespace) {
        let whole = read_number(whole.trim())?;
        let fraction = read_number(fraction.trim())?;
        return Ok(WrittenExactly { value: whole.value + fraction.value, decimals: None });
    }
    if let Some((digits, vulgar)) = split_vulgar(text) {
        let whole = if digits.is_empty() { Exact::ZERO } else { read_number(digits)?.value };
        return Ok(WrittenExactly { value: whole + vulgar, decimals: None });
    }
    if let Some((above, below)) = text.split_once(['/', '\u{2044}']) {
        let (above, below) = (read_decimal(above)?, read_decimal(below)?);
        let value = above.value.over(&below.value).ok_or(NumberTrouble::DivisionByZero)?;
        return Ok(WrittenExactly { value, decimals: None });
    }
    read_decimal(text)
}

fn read_decimal(text: &str) -> Result<WrittenExactly, NumberTrouble> {
    let (mut digits, mut decimals, mut point, mut seen) = (0u64, 0u8, false, 0usize);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => {
                seen += 1;
                if seen > MAX_DIGITS {
                    return Err(NumberTrouble::TooManyDigits);
                }
                // Eighteen digits fit in 64 bits.
                digits = digits.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
                decimals += u8::from(point);
            }
            b'.' if !point => point = true,
            _ => return Err(NumberTrouble::NotANumber),
        }
    }
    if seen == 0 {
        return Err(NumberTrouble::NotANumber);
    }
    let value = Exact::from(digits) * tenths(decimals);
    Ok(WrittenExactly { value, decimals: Some(decimals) })
}

fn split_vulgar(text: &str) -> Option<(&str, Exact)> {
    let last = text.chars().next_back()?;
    let (above, below) = match last {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((&text[..text.len() - last.len_utf8()], ratio(above, below)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Exact {
        read_number(text).expect("a number").value
    }

    #[test]
    fn fractions_decimals_and_mixed_numbers_are_exact() {
        assert_eq!(value("0.1") + value("0.2"), value("0.3"));
        assert_eq!(value("1 1/2"), ratio(3, 2));
        assert_eq!(value("1½"), ratio(3, 2));
        assert_eq!(value("⅔") * int(3), int(2));
        assert_eq!(read_number("80.0").expect("a number").decimals, Some(1));
    }

    #[test]
    fn what_is_no_number_says_why() {
        assert_eq!(read_number("12,5"), Err(NumberTrouble::DecimalComma));
        assert_eq!(read_number("1/0"), Err(NumberTrouble::DivisionByZero));
        assert_eq!(read_number(&"9".repeat(19)), Err(NumberTrouble::TooManyDigits));
        assert_eq!(read_number("1.2.3"), Err(NumberTrouble::NotANumber));
    }
}
