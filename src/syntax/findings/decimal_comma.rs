//! `12,5%`: the language writes decimals with a point.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `decimal-comma`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "decimal-comma",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("decimal_comma.md"),
};

/// A number whose comma can only mean one thing.
pub fn finding(span: Span, written: &str, meant: String) -> Finding {
    Finding::new(&RULE, span, format!("{} has a comma in it", quoted(written)))
        .help(format!(
            "write `{meant}`: decimals take a point, and thousands are written \
            without a mark"
        ))
        .repair(span, meant, true)
}

/// A number that may be a decimal or have its thousands parted.
pub fn doubtful(span: Span, written: &str) -> Finding {
    let joined = written.replace(',', "");
    let point = written.replace(',', ".");
    // With its noughts it might be thousands again.
    let point = match point.matches('.').count() {
        1 => point.trim_end_matches('0').trim_end_matches('.'),
        _ => &point,
    };
    Finding::new(&RULE, span, format!("{} has a comma in it", quoted(written)))
        .help(format!("write `{joined}` for thousands, or `{point}` for a decimal"))
}

/// `1.500 g`, which may have its thousands parted by a point.
pub fn thousands(span: Span, written: &str) -> Finding {
    let joined = written.replacen('.', "", 1);
    let (number, unit) = written.split_at(written.find(|it: char| it.is_alphabetic()).unwrap_or(0));
    let short = number.trim_end().trim_end_matches('0').trim_end_matches('.');
    Finding::new(&RULE, span, format!("{} may be thousands or decimals", quoted(written)))
        .help(format!("write `{joined}` for thousands, or `{short} {unit}` for decimals"))
}

/// What a number with commas must mean; none where it may mean two things.
///
/// One comma before three digits is doubtful (`1,250`), unless a nought stands before it;
/// several commas, or a comma before a point, part thousands.
pub fn meant(written: &str) -> Option<String> {
    let digits = written.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b',' | b'.'));
    let (whole, behind) = written.split_once(',')?;
    let groups_of_three = behind
        .split('.')
        .next()
        .is_some_and(|groups| groups.split(',').all(|group| group.len() == 3));
    let points = written.matches('.').count();
    match (behind.contains(','), points) {
        _ if !digits => None,
        (true, 0 | 1) | (false, 1) if groups_of_three && !whole.contains('.') => {
            Some(written.replace(',', ""))
        }
        // `1.000,5`: points part the thousands.
        (false, _) if points > 0 && !behind.contains('.') && is_parted(whole) => {
            Some(format!("{}.{behind}", whole.replace('.', "")))
        }
        (false, 0) if behind.len() != 3 || whole.starts_with('0') => {
            Some(written.replace(',', "."))
        }
        _ => None,
    }
}

/// Whether points part a number into threes: `1.000`.
fn is_parted(whole: &str) -> bool {
    let mut groups = whole.split('.');
    let first = groups.next().is_some_and(|first| (1..=3).contains(&first.len()));
    first && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::meant;

    #[test]
    fn a_comma_is_read_where_it_can_mean_one_thing() {
        assert_eq!(meant("12,5").as_deref(), Some("12.5"));
        assert_eq!(meant("0,125").as_deref(), Some("0.125"));
        assert_eq!(meant("1,250,000").as_deref(), Some("1250000"));
        assert_eq!(meant("1,250.5").as_deref(), Some("1250.5"));
        assert_eq!(meant("1.000,5").as_deref(), Some("1000.5"));
        assert_eq!(meant("1.234.567,25").as_deref(), Some("1234567.25"));
        assert_eq!(meant("1.25,5"), None);
        assert_eq!(meant("1,250"), None);
        assert_eq!(meant("1,2,3"), None);
        assert_eq!(meant("1,5/2"), None);
    }
}
