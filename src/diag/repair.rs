//! Applying repairs to a text.

use super::{Finding, Repair};
use crate::source::SourceId;

/// A text with the safe repairs of its findings made, and how many were made.
///
/// Of repairs that touch each other only the first is made; a second run finds what is
/// left.
pub fn repaired(source: SourceId, text: &str, findings: &[Finding]) -> (String, usize) {
    let mut repairs: Vec<&Repair> = findings
        .iter()
        .filter(|finding| finding.allowed.is_none())
        .filter_map(|finding| finding.repair.as_ref())
        .filter(|repair| repair.safe && repair.span.source == source)
        .collect();
    repairs.sort_by_key(|repair| (repair.span.start, repair.span.end));
    let (mut repaired, mut from, mut made) = (String::with_capacity(text.len()), 0, 0);
    for repair in repairs {
        let range = repair.span.range();
        let Some(between) = text.get(from..range.start).filter(|_| range.start >= from) else {
            continue;
        };
        repaired.push_str(between);
        repaired.push_str(&repair.text);
        from = range.end;
        made += 1;
    }
    repaired.push_str(text.get(from..).unwrap_or_default());
    (repaired, made)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::{Group, Level, Rule};
    use crate::source::Span;

    const RULE: Rule = Rule { name: "x", level: Level::Error, group: Group::Parse, page: "" };

    fn finding(start: u32, end: u32, text: &str, safe: bool) -> Finding {
        let span = Span::new(SourceId(9), start, end);
        Finding::new(&RULE, span, "m").repair(span, text, safe)
    }

    #[test]
    fn safe_repairs_are_made_and_the_others_left() {
        let findings =
            [finding(4, 5, "y", true), finding(0, 1, "A", true), finding(2, 3, "?", false)];
        assert_eq!(repaired(SourceId(9), "a b c", &findings), ("A b y".to_owned(), 2));
    }

    #[test]
    fn repairs_that_overlap_are_made_one_at_a_time() {
        let findings = [finding(0, 3, "long", true), finding(2, 4, "no", true)];
        assert_eq!(repaired(SourceId(9), "abcd", &findings), ("longd".to_owned(), 1));
    }
}
