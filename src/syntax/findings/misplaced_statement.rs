//! A statement that belongs elsewhere.

use super::{quoted, quoted_head, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `misplaced-statement`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "misplaced-statement",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_statement.md"),
};

/// A statement that belongs in the block around this one.
pub fn misplaced(span: Span, word: &str, around: &str) -> Finding {
    let message = format!("{} does not belong inside {}", quoted(word), quoted_head(around));
    Finding::new(&RULE, span, message).help("move it after the `}` of the block it is in")
}

/// A line of ingredients right in a formula.
pub fn line_in_formula(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is written directly in the formula", quoted(written)))
        .help("lines go in `total { … }` or `dough { … }`, claims in `expect { … }`")
}

/// A block of a formula right in a file.
pub fn outside_a_formula(span: Span, head: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} stands outside of a formula", quoted_head(head)))
        .help("write a formula around it: `formula my-loaf \"My Loaf\" { … }`")
}

/// A note on its own among lines.
pub fn no_note_here(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not belong among these lines", quoted(word))).help(
        "a note on a line is a text after its amount; one on the formula goes outside the block",
    )
}

/// `counts as flour …` in a stage, a piece or a mixture.
pub fn counts_elsewhere(span: Span) -> Finding {
    Finding::new(&RULE, span, "what counts as flour is said once, for the whole formula")
        .help("move this line into the formula's block `total` or `dough`")
}

/// A step that begins with a clause.
pub fn clause_without_verb(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is written here without a step", quoted(word)))
        .help("put it on the line of its step, or in the braces of the step")
}

/// `shape per 20 loaves 15min`.
pub fn per_without_time(span: Span) -> Finding {
    Finding::new(&RULE, span, "`per` stands here without a time before it")
        .help("write it after the time that so many pieces take: `shape 25min per 30 pieces`")
}

/// Two steps on one line.
pub fn step_on_own_line(span: Span, word: &str) -> Finding {
    let place = Span { end: span.start, ..span };
    Finding::new(&RULE, span, format!("{} begins another step", quoted(word)))
        .help("put it on a line of its own")
        .repair(place, "\n", false)
}

/// `divide into 12 balls`: how many pieces there are.
///
/// `made` is what the formula says that it makes, where it says pieces.
pub fn pieces_in_a_step(span: Span, written: &str, made: Option<&str>) -> Finding {
    if let Some(made) = made {
        let message = format!("{} is not what the formula makes", quoted(written));
        return Finding::new(&RULE, span, message).help(format!(
            "it makes {}: change the one or the other; a step needs no number, since it follows \
             from `makes`",
            quoted(made)
        ));
    }
    Finding::new(&RULE, span, format!("{} is not part of a step", quoted(written)))
        .help("how many pieces there are is said by `makes` in the formula, such as `makes 12 pieces at 80 g`; a step says how long it takes: `divide 10min`")
}

/// `proof the yeast 10min with water`.
pub fn wakes_yeast(verb: Span) -> Finding {
    Finding::new(&RULE, verb, "yeast is stirred into water, and dough is proofed").help(
        "to wake yeast, write two steps with its own name, such as \
             `mix 2min with active dry yeast, water` and `rest 10min`",
    )
}

/// `85% RH`
pub fn humidity(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not part of a step", quoted(written)))
        .help(format!("nothing is worked out from it: keep it as a note, `note \"{written}\"`"))
        .repair(span, format!("note \"{written}\""), false)
}

/// `mix 10min` among the lines of a dough.
pub fn step_among_lines(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a step, not a line of ingredients", quoted(written)))
        .help("steps go in `method { … }`, after the `}` of this block")
}

/// A step right in a formula.
pub fn step_in_formula(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} is a step, not a statement of a formula", quoted(written)),
    )
    .help("steps go in the method: `method { … }`")
}

/// `makes 2 loaves` among claims.
pub fn makes_among_claims(span: Span, written: &str, pieces: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a claim", quoted(written))).help(format!(
        "move it into the formula itself; to have it checked, claim `pieces {pieces}`"
    ))
}

/// `bake { 35min at 230C }` in a formula.
pub fn step_with_braces(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a step, not a block of a formula", quoted(written)))
        .help(format!("steps go in the method: `method {{ {written} … }}`"))
}

/// `hydration 65%` among the lines of a dough.
pub fn figure_among_lines(span: Span, written: &str, name: &str) -> Finding {
    let help = match name {
        "total" => {
            "it is worked out: write how much is made before the block, as in `makes 840 g dough`, \
             or claim it in `expect { dough 840 g }`"
                .to_owned()
        }
        "hydration" => {
            let share = written.rsplit(' ').next().unwrap_or_default();
            format!(
                "it is worked out from the water: write `water {share}`; what it should be is \
                 claimed in `expect {{ hydration {share} }}`"
            )
        }
        _ => format!(
            "it is worked out from the lines; what it should be is claimed in `expect {{ {written} }}`"
        ),
    };
    Finding::new(&RULE, span, format!("{} is a figure, not an ingredient", quoted(written)))
        .help(help)
}

/// `ripens` where something stands, `stands` where something ripens.
pub fn other_wait(span: Span, word: &str, right: &str, kind: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} {right}; it never {word}", with_article(kind)))
        .help(format!("write `{right}`"))
        .repair(span, right, true)
}
