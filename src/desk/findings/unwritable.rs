//! `unwritable`: an output that can not be written.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// An output that can't be written.
pub const RULE: Rule = Rule {
    name: "unwritable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unwritable.md"),
};

/// What parts the name of a file from why it can't be written.
const IS_NOT: &str = " can't be written: ";

/// The names of other files that are told beside the first.
const MAX_NAMES: usize = 5;

/// A file or folder `name`, and why it can't be written.
pub fn finding(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name}{IS_NOT}{why}")).help(
        "what was there before is untouched; check the folder's permissions and the space on \
        the disk",
    )
}

/// A file whose name another print of the same run has.
pub fn taken(name: &str) -> Finding {
    let message = format!("{name}{IS_NOT}another print of this run has this name");
    Finding::new(&RULE, Span::NOWHERE, message)
        .help("give one of the two another name, or print them into two folders")
}

/// A stream such as standard output, which takes no more.
pub fn stream(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name}{IS_NOT}{why}"))
        .help("what is there is not the whole; run it again where there is space")
}

/// Findings in which files that can't be written for the same reason are one: a full disk
/// is one thing, however many files it refuses.
pub fn joined(findings: &[Finding]) -> Vec<Finding> {
    let mut joined: Vec<Finding> = Vec::new();
    let mut refused: Vec<(usize, &str, Vec<&str>)> = Vec::new();
    for finding in findings {
        let parts = finding.message.rsplit_once(IS_NOT).filter(|_| finding.rule == &RULE);
        let Some((name, why)) = parts else {
            joined.push(finding.clone());
            continue;
        };
        match refused.iter_mut().find(|(_, other, _)| *other == why) {
            Some((.., names)) => names.push(name),
            None => {
                refused.push((joined.len(), why, vec![name]));
                joined.push(finding.clone());
            }
        }
    }
    for (at, why, names) in refused {
        if let (Some(finding), [first, others @ ..]) = (joined.get_mut(at), names.as_slice()) {
            tell_others(finding, first, others, why);
        }
    }
    joined
}

fn tell_others(finding: &mut Finding, first: &str, others: &[&str], why: &str) {
    let named: Vec<&str> = others.iter().take(MAX_NAMES).copied().collect();
    let more = if others.len() > named.len() { ", and so on" } else { "" };
    let counted = match others.len() {
        0 => return,
        1 => "1 other file".to_owned(),
        count => format!("{count} other files"),
    };
    finding.message = format!("{first} and {counted}{IS_NOT}{why}");
    finding.notes.push(format!("not written: {first}, {}{more}", named.join(", ")));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_one_disk_refuses_is_one_finding() {
        let full = |name: &str| finding(name, "the disk is full");
        let other = finding("d.pdf", "its permissions do not allow it");
        let all: Vec<Finding> = (0..35).map(|number| full(&format!("{number}.pdf"))).collect();
        let joined_all = joined(&[&all[..], &[other]].concat());
        let told: Vec<&str> = joined_all.iter().map(|it| it.message.as_str()).collect();
        assert_eq!(
            told,
            [
                "0.pdf and 34 other files can't be written: the disk is full",
                "d.pdf can't be written: its permissions do not allow it",
            ]
        );
        assert_eq!(
            joined_all[0].notes,
            ["not written: 0.pdf, 1.pdf, 2.pdf, 3.pdf, 4.pdf, 5.pdf, and so on"]
        );
        let two = joined(&[full("a.pdf"), full("b.pdf")]);
        assert_eq!(two[0].message, "a.pdf and 1 other file can't be written: the disk is full");
        assert_eq!(joined(&[full("a.pdf")])[0].message, "a.pdf can't be written: the disk is full");
    }
}
