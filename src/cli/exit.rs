//! How a run ended.

use crate::desk::bug_of_ours;
use crate::diag::{Finding, Level};

/// How a run ended; README.md lists the codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    Clean = 0,
    Findings = 1,
    Usage = 2,
    Bug = 3,
    /// A merge that could not be tried, as git wants to be told.
    NotMerged = 129,
}

/// The exit code that findings ask for.
pub fn exit_of(findings: &[Finding]) -> Exit {
    let exit = |finding: &Finding| match (finding.rule.name, finding.level) {
        (name, _) if name == bug_of_ours::RULE.name => Exit::Bug,
        (_, Level::Error) if finding.allowed.is_none() => Exit::Findings,
        _ => Exit::Clean,
    };
    findings.iter().map(exit).max().unwrap_or(Exit::Clean)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::{Crash, unwritable};
    use crate::source::Span;

    #[test]
    fn a_bug_of_ours_outweighs_all_other_findings() {
        let crash = Crash { place: String::new(), what: String::new(), backtrace: None };
        let bug = bug_of_ours::finding(Span::NOWHERE, "pier-loaf", &crash);
        let slip = unwritable::finding("a.pdf", "the disk is full");
        assert_eq!(exit_of(&[]), Exit::Clean);
        assert_eq!(exit_of(&[slip.clone().level(Level::Warning)]), Exit::Clean);
        assert_eq!(exit_of(std::slice::from_ref(&slip)), Exit::Findings);
        assert_eq!(exit_of(&[slip.clone(), bug, slip]), Exit::Bug);
    }
}
