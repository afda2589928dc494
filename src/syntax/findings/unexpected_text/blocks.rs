//! Braces, blocks and heads.

use super::RULE;
use crate::diag::Finding;
use crate::source::Span;
use crate::syntax::findings::{quoted, quoted_head, with_article};

pub fn stray_brace(span: Span) -> Finding {
    Finding::new(&RULE, span, "this `}` closes nothing")
        .help("take it away, or look for a `{` that is missing before it")
}

/// `{` on the line behind its head; `gap` is what lies between.
pub fn brace_on_own_line(gap: Span) -> Finding {
    let brace = Span { start: gap.end, end: gap.end + 1, ..gap };
    Finding::new(&RULE, brace, "this `{` stands on a line of its own")
        .help("put it on the line of the word it belongs to")
        .repair(gap, " ", true)
}

pub fn missing_block(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing in braces stands behind `{word}`"))
        .help(format!("write `{word} {{ … }}`"))
}

/// Braces on a statement that takes none.
pub fn block_here(span: Span) -> Finding {
    Finding::new(&RULE, span, "nothing in braces belongs here")
        .help("take the braces away, or name before them what they hold")
}

/// A statement that belongs in the block around this one.
pub fn misplaced(span: Span, word: &str, around: &str) -> Finding {
    let message = format!("{} can't stand inside {}", quoted(word), quoted_head(around));
    Finding::new(&RULE, span, message).help("move it behind the `}` of the block it stands in")
}

/// A name of several words where one word joined by `-` stands.
pub fn identifier(span: Span, what: &str, written: &str, joined: &str) -> Finding {
    let message = format!("{} is not a name for {}", quoted(written), with_article(what));
    let help = "one word in letters, digits and `-`, which begins with a letter";
    let finding = Finding::new(&RULE, span, message);
    match joined {
        "" => finding.help(help),
        joined => finding.help(format!("write `{joined}`: {help}")).repair(span, joined, false),
    }
}

/// A formula that begins with its title.
pub fn formula_without_name(span: Span, title: &str) -> Finding {
    let name = crate::syntax::name::identifier_of(title);
    let finding = Finding::new(&RULE, span, "this formula has a title and no name");
    if name.is_empty() {
        return finding.help("write its name before the title: one word joined by `-`");
    }
    let place = Span { end: span.start, ..span };
    finding.help(format!("write its name before the title, such as `{name}`")).repair(
        place,
        format!("{name} "),
        false,
    )
}

/// A line of ingredients right in a formula.
pub fn line_in_formula(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} stands right in the formula", quoted(written)))
        .help("its lines stand in `total { … }` or `dough { … }`, its claims in `expect { … }`")
}

/// Both `is a` and `like` in the head of an ingredient.
pub fn two_kinds(span: Span) -> Finding {
    Finding::new(&RULE, span, "an ingredient either is of a class or is like another")
        .help("keep one of the two: what it is like gives it its class too")
}

/// A `[` in a text without its `]`.
pub fn open_bracket(span: Span) -> Finding {
    Finding::new(&RULE, span, "this `[` has no `]`")
        .help("write `[[` for a bracket that is no figure")
        .repair(span, "[[", false)
}

/// Square brackets around something that is no figure.
pub fn no_figure(span: Span, words: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a figure", quoted(&format!("[{words}]")))).help(
        "in a text, `[water in levain]` or `[50 g of water]` is a figure; \
             write `[[` for a bracket that is none",
    )
}
