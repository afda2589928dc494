//! A comma, a colon or a quotation mark that does not belong where it stands.

use super::{in_quotes, quoted, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `misplaced-punctuation`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "misplaced-punctuation",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_punctuation.md"),
};

/// A sign between a word and what it says, as in `language: de`.
pub fn needless_colon(span: Span, gap: Span, sign: &str, touches: bool) -> Finding {
    Finding::new(&RULE, span, format!("{} comes between a word and its value", quoted(sign)))
        .help("remove it: a space is enough")
        .repair(gap, if touches { " " } else { "" }, true)
}

/// `ingredient weir flour: flour`; `meant` is what follows the sign.
pub fn head_of_an_ingredient(span: Span, is_like: bool, meant: Option<&str>) -> Finding {
    let said = Finding::new(&RULE, span, "a sign comes between an ingredient and what it is");
    let Some(meant) = meant else {
        return said.help("write `is a` and its class, or `like` and another ingredient");
    };
    let meant = match is_like {
        true => format!("like {meant}"),
        false => format!("is {}", with_article(meant)),
    };
    said.help(format!("write `{meant}`")).repair(span, format!(" {meant}"), false)
}

/// `bread flour 80%, water 70%`.
///
/// `all` reaches from the first comma to the last, and is `meant` with `;` for each.
/// It is safe where each of them is `sure` to be a name and its amount.
pub fn commas_between_lines(first: Span, all: Span, meant: String, sure: bool) -> Finding {
    let several = first != all;
    let (message, help) = match several {
        true => {
            ("these lines are separated by commas", "start new lines, or write `;` between them")
        }
        false if meant.is_empty() => ("this line ends with a comma", "remove it"),
        false => (
            "these two lines are separated by a comma",
            "start a new line, or write `;` between them",
        ),
    };
    Finding::new(&RULE, first, message).help(help).repair(all, meant, sure)
}

/// `400 g bread flour and 100 g rye flour`; `between` is what parts the two.
pub fn lines_in_one(span: Span, between: &str, all: Span, meant: String) -> Finding {
    let message = match between.trim() {
        "" => "two lines stand on one".to_owned(),
        word => format!("{} joins two lines", quoted(word)),
    };
    Finding::new(&RULE, span, message)
        .help("each ingredient has a line of its own: start a new one, or write `;` between them")
        .repair(all, meant, false)
}

/// `milk 250 ml, scalded`: what is said of a line goes in quotes.
pub fn words_behind(span: Span, words: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} says no amount", quoted(words)))
        .help(format!(
            "what is only said of this line goes after it in quotes: `\"{words}\"`; what is put \
             on or in later has a line of its own, with its amount"
        ))
        .repair(span, format!(" \"{words}\""), false)
}

/// A comma before a clause; `touches` says whether no blank follows it.
pub fn comma_between_clauses(span: Span, touches: bool) -> Finding {
    Finding::new(&RULE, span, "the clauses of a step take no comma between them")
        .help(
            "remove it: commas separate what goes in after `with`, and a line that ends in \
            one continues on the next",
        )
        .repair(span, blank(touches), true)
}

/// A comma, with `then` or without, between two steps.
pub fn comma_before_step(span: Span) -> Finding {
    Finding::new(&RULE, span, "a comma does not separate two steps")
        .help("start a new line, or write `;` between them")
        .repair(span, "; ", false)
}

/// A comma between two parts of a step, each with its time.
pub fn comma_for_then(span: Span) -> Finding {
    Finding::new(&RULE, span, "the parts of a step are not separated by a comma")
        .help("write `then` between them, as in `bake 20min covered then 20min uncovered`")
        .repair(span, " then", false)
}

/// The same between two speeds: `mix slow 5 min, fast 5 min`.
pub fn comma_between_speeds(span: Span) -> Finding {
    Finding::new(&RULE, span, "the parts of a step are not separated by a comma")
        .help("speeds have numbers, 1 the slowest: write `mix 5min speed 1 then 5min speed 2`")
}

/// A comma before something that is no clause.
pub fn list_elsewhere(span: Span) -> Finding {
    Finding::new(&RULE, span, "what comes after this comma belongs to no list")
        .help("write all that goes in after one `with`, separated by commas")
}

/// A comma at the end of what goes in; `touches` says whether no blank follows it.
pub fn list_goes_on(span: Span, touches: bool) -> Finding {
    Finding::new(&RULE, span, "nothing comes after this comma")
        .help("remove it: a line that ends in a comma continues on the next")
        .repair(span, blank(touches), true)
}

/// What stands for a comma that is taken away.
fn blank(touches: bool) -> &'static str {
    if touches { " " } else { "" }
}

/// A text between quotes of print.
pub fn curly_quotes(span: Span, inside: &str) -> Finding {
    let finding = Finding::new(&RULE, span, "text goes between straight quotes, not curly ones");
    match inside.contains(['"', '\\']) {
        true => finding.help("write `\"` before and after it"),
        false => finding.help("write `\"` before and after it, and `\\\"` for one inside").repair(
            span,
            in_quotes(inside),
            true,
        ),
    }
}

/// `with flours; water; salt`: `;` between what goes in.
pub fn list_by_semicolons(span: Span) -> Finding {
    Finding::new(&RULE, span, "`;` ends a step, and what follows it is not a step")
        .help("separate what goes in with commas: `with flours, water, salt`")
}

/// `Flours:` on a line of its own.
pub fn heading(span: Span, written: &str) -> Finding {
    let words = written.trim().trim_end_matches([':', ' ']);
    Finding::new(
        &RULE,
        span,
        format!("{} is a heading, and lines have none", quoted(written.trim())),
    )
    .help(format!("keep it as a comment, `# {words}`, or write its amount: `{words} 500 g`"))
    .repair(span, format!("# {words}"), false)
}

/// `sugar,30,g`: one line with commas between its parts.
pub fn commas_in_a_line(span: Span, written: &str) -> Finding {
    let parts: Vec<&str> = written.split(',').map(str::trim).collect();
    Finding::new(&RULE, span, format!("{} has commas between its parts", quoted(written)))
        .help(format!("a space is enough: `{}`", parts.join(" ")))
}
