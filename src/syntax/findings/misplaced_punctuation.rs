//! A comma, a colon or a quotation mark that does not belong where it stands.

use super::{in_quotes, quoted};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "misplaced-punctuation",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_punctuation.md"),
};

/// A sign between a name and its amount; `gap` is all from the name to the sign, and
/// `touches` says whether the number follows without a blank.
pub fn needless_sign(span: Span, gap: Span, sign: &str, touches: bool) -> Finding {
    Finding::new(&RULE, span, format!("{} stands between a name and its amount", quoted(sign)))
        .help("take it away: a blank is enough")
        .repair(gap, if touches { " " } else { "" }, true)
}

/// `bread flour 80%, water 70%`.
pub fn comma_between_lines(span: Span) -> Finding {
    Finding::new(&RULE, span, "a comma stands between two lines")
        .help("each line stands on its own, or `;` stands between")
        .repair(span, ";", true)
}

/// A comma before a clause; `touches` says whether no blank follows it.
pub fn comma_between_clauses(span: Span, touches: bool) -> Finding {
    Finding::new(&RULE, span, "no comma stands between the clauses of a step")
        .help("take it away: commas part what goes in at `with`, and a line that ends in one goes on in the next")
        .repair(span, blank(touches), true)
}

/// A comma before something that is no clause.
pub fn list_elsewhere(span: Span) -> Finding {
    Finding::new(&RULE, span, "what stands behind this comma belongs to no list")
        .help("what goes in stands together behind one `with`, commas between")
}

/// A comma at the end of what goes in; `touches` says whether no blank follows it.
pub fn list_goes_on(span: Span, touches: bool) -> Finding {
    Finding::new(&RULE, span, "nothing more goes in behind this comma")
        .help("take it away: a line that ends in a comma goes on in the next")
        .repair(span, blank(touches), true)
}

/// What stands for a comma that is taken away.
fn blank(touches: bool) -> &'static str {
    if touches { " " } else { "" }
}

/// A text between quotes of print.
pub fn curly_quotes(span: Span, inside: &str) -> Finding {
    let finding =
        Finding::new(&RULE, span, "a text stands between straight quotes, not curly ones");
    match inside.contains(['"', '\\']) {
        true => finding.help("write `\"` before and behind it"),
        false => finding.help("write `\"` before and behind it, and `\\\"` for one inside").repair(
            span,
            in_quotes(inside),
            true,
        ),
    }
}
