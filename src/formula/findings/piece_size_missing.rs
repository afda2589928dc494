//! Pieces of which nothing says how many, or how heavy, they are.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{MadePiece, Makes};

/// `piece-size-missing`, an error about sums.
pub const RULE: Rule = Rule {
    name: "piece-size-missing",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("piece_size_missing.md"),
};

/// Pieces without a weight.
pub fn pieces(makes: &Makes) -> Finding {
    if makes.pieces.iter().any(|made| !made.counted) {
        return Finding::new(&RULE, makes.span, "the number of pieces is not given").help(
            "write a count, `24 loaves at 900 g`, or the dough: `loaves at 900 g from 20 kg dough`",
        );
    }
    Finding::new(&RULE, makes.span, "the weight of a piece is not given")
        .help("write the dough weight of one: `makes 24 loaves at 900 g`; or `makes 20 kg dough`")
}

/// A weight out of the oven, with nothing said of what is lost in it.
pub fn baked_without_a_loss(made: &MadePiece) -> Finding {
    let span = made.weight.as_ref().map_or(made.span, |weight| weight.span);
    Finding::new(
        &RULE,
        span,
        format!("how much dough gives baked `{}` of this weight is not given", made.kind.shown),
    )
    .help("write what the oven takes, such as `bake loss 13%`; or leave out `baked`")
}
