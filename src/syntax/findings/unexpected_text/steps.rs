//! Steps of a method and their clauses.

use super::{RULE, meant};
use crate::diag::Finding;
use crate::source::Span;
use crate::syntax::findings::quoted;

pub fn unknown_verb(span: Span, word: &str, near: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} is no verb of a method", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding
            .help(format!("for anything without a verb of its own, write `step \"{word} …\"`")),
    }
}

/// A step that begins with a clause.
pub fn clause_without_verb(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} stands here without a step", quoted(word)))
        .help("put it on the line of its step, or in the braces of the step")
}

pub fn unknown_clause(span: Span, word: &str, near: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("a step has no {}", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help("what can't be said otherwise goes into `note \"…\"`"),
    }
}

/// Two steps on one line.
pub fn step_on_own_line(span: Span, word: &str) -> Finding {
    let place = Span { end: span.start, ..span };
    Finding::new(&RULE, span, format!("{} begins another step", quoted(word)))
        .help("put it on a line of its own")
        .repair(place, "\n", false)
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

/// `90% water`.
pub fn missing_of(amount: Span, name: Span, written: &str, what: &str) -> Finding {
    let gap = Span { start: amount.end, end: name.start, ..amount };
    Finding::new(
        &RULE,
        amount.to(name),
        format!("{} lacks an `of`", quoted(&format!("{written} {what}"))),
    )
    .help(format!("write `{written} of {what}`, a share of what the mix holds"))
    .repair(gap, " of ", true)
}

pub fn needless_the(span: Span) -> Finding {
    Finding::new(&RULE, span, "`the` stands before a name")
        .help("take it away")
        .repair(span, "", true)
}

pub fn nothing_with(span: Span) -> Finding {
    Finding::new(&RULE, span, "the name of what goes in is missing")
        .help("write the names behind `with`, commas between them, or `everything else`")
}

pub fn by_hand(span: Span) -> Finding {
    Finding::new(&RULE, span, "`by` is not followed by `hand`")
        .help("write `by hand`; a machine is said with `in`, as in `in spiral`")
}

pub fn until(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "`until` does not say what to wait for".to_owned(),
        written => format!("{} is nothing that can be measured", quoted(written)),
    };
    let finding = Finding::new(&RULE, span, message);
    let words = written.trim();
    let help =
        "write `until volume 1.5x`, `until core 96C`, `until pH 3.9`, or what to see in quotes";
    if words.is_empty() || words.contains(['"', '\n', '\\']) {
        return finding.help(help);
    }
    finding.help(help).repair(span, format!("\"{words}\""), false)
}
