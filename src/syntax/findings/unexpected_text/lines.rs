//! Lines of a mix, the statements of a stage, yields.

use super::{RULE, meant};
use crate::diag::Finding;
use crate::source::Span;
use crate::syntax::findings::{quoted, with_article};

/// `3 egg`; `repair` is the place of both.
pub fn amount_first(span: Span, written: &str, name: &str, repair: Span) -> Finding {
    let turned = format!("{name} {written}");
    Finding::new(&RULE, span, format!("the amount {} stands before its name", quoted(written)))
        .help(format!("write `{turned}`"))
        .repair(repair, turned, true)
}

pub fn amount_without_name(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say of what", quoted(written)))
        .help("write the name before the amount")
}

/// A first word that looks like a statement of the block, misspelt.
pub fn statement_meant(span: Span, word: &str, near: &str) -> Finding {
    let message = format!("this line, which begins with {}, can't be read", quoted(word));
    meant(Finding::new(&RULE, span, message), span, near)
}

/// `water5%`.
pub fn no_blank(span: Span, word: &str, letters: &str, digits: &str) -> Finding {
    Finding::new(&RULE, span, format!("no blank parts name and number in {}", quoted(word)))
        .help(format!("write `{letters} {digits}`"))
        .repair(span, format!("{letters} {digits}"), false)
}

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

/// `of` behind something that is no percentage.
pub fn of_behind_weight(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} stands behind an amount that is no percentage", quoted(written)),
    )
    .help("only a percentage is of something: take it away, or write the amount with `%`")
}

/// A note on its own among lines.
pub fn no_note_here(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("no {} stands among these lines", quoted(word))).help(
        "a note on a line is a text behind its amount; one on the formula stands outside the block",
    )
}

/// A `(` that opens no role.
pub fn open_role(span: Span) -> Finding {
    Finding::new(&RULE, span, "these brackets hold no role")
        .help("a role is words in brackets behind a name, as in `water (second)`")
}

/// `counts as flour …` in a stage, a piece or a mixture.
pub fn counts_elsewhere(span: Span) -> Finding {
    Finding::new(&RULE, span, "what counts as flour is said once, for the whole formula")
        .help("move this line into the formula's block `total` or `dough`")
}

pub fn counts_as(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "`counts as` does not say as what".to_owned(),
        written => format!("nothing counts as {}", quoted(written)),
    };
    Finding::new(&RULE, span, message)
        .help("write `counts as flour` and the ingredients, with commas between")
}

/// `makes 0.2 loaves`.
pub fn no_such_count(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} of a piece can't be made", quoted(written)))
        .help("pieces are whole, and one at least; what each weighs can be as small as you like")
}

/// `makes 0 kg dough`.
pub fn makes_nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is nothing to make", quoted(written)))
        .help("write a weight above nothing")
}

/// `ripens` where something stands, `stands` where something ripens.
pub fn other_wait(span: Span, word: &str, right: &str, kind: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} {right}; it never {word}", with_article(kind)))
        .help(format!("write `{right}`"))
        .repair(span, right, true)
}

pub fn of_total(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} does not say what the percentages are of", quoted(written)),
    )
    .help("write `percentages of total`: all percentages of the stage are then of all the flour")
    .repair(span, "percentages of total", false)
}

/// A second weight or a second `from` in one yield.
pub fn one_anchor(span: Span) -> Finding {
    Finding::new(&RULE, span, "the yield is sized twice")
        .help("keep one: a weight of dough, or what it is made from")
}

/// `12.5 kg flour` in a yield.
pub fn made_of(span: Span, written: &str, amount: Span) -> Finding {
    let place = Span { end: amount.start, ..amount };
    Finding::new(&RULE, span, format!("{} is no dough", quoted(written)))
        .help(format!("to size it by what goes in, write `from {}`", written.trim()))
        .repair(place, "from ", false)
}

/// `20 kg` alone in a yield.
pub fn mass_of_what(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say of what", quoted(written)))
        .help(format!("write `{written} dough`, or `from {written} flour`"))
        .repair(span, format!("{written} dough"), false)
}

/// `30%` in a yield.
pub fn wrong_kind_of_yield(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} is neither a weight nor a number of pieces", quoted(written)),
    )
    .help("write `24 loaves at 900 g`, `20 kg dough` or `from 12.5 kg flour`")
}

/// A command line's yield that is none.
pub fn no_yield(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "the yield is empty".to_owned(),
        written => format!("{} is not a yield", quoted(written)),
    };
    Finding::new(&RULE, span, message)
        .help("write `24 loaves at 900 g`, `20 kg dough` or `from 12.5 kg flour`")
}
