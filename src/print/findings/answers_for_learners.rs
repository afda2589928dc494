//! `answers-for-learners`: answers in a copy that learners get, beside one for the teacher.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `answers-for-learners`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "answers-for-learners",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("answers_for_learners.md"),
};

/// `answers` outside `teacher`, where there is a teacher's copy.
pub fn finding(span: Span) -> Finding {
    Finding::new(&RULE, span, "these answers are in the learner's copy too")
        .help("put `answers` into `teacher { … }`")
}
