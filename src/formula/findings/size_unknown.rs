//! `size-unknown`: nothing says how much is made.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Line, MadePiece, Makes, Mix, Name, Quantity, Stage, Target};

pub const RULE: Rule = Rule {
    name: "size-unknown",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("size_unknown.md"),
};

/// A stage that nothing sizes.
pub fn stage(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    let size = if stage.kind.ferments() { "ferments 20% of flour" } else { "percentages of total" };
    Finding::new(&RULE, stage.name.span, format!("nothing says how much of `{name}` is made")).help(
        format!("say it in the stage: `{size}`; or with a line where it is used: `{name} 20%`"),
    )
}

/// A part of a mix in which weights and percentages stand side by side.
pub fn hangs_on_size(name: &Name) -> Finding {
    let shown = &name.shown;
    Finding::new(
        &RULE,
        name.span,
        format!("what `{shown}` is made of hangs on how much of it is made, which nothing says"),
    )
    .help("write its lines all as weights, or all in per cent or parts")
}

/// A part is taken of a stage in which weights and percentages stand side by side.
pub fn part_of(stage: &Stage, line: Option<&Line>) -> Finding {
    let name = &stage.name.shown;
    let said = Finding::new(
        &RULE,
        line.map_or(stage.name.span, |line| line.span),
        format!("what a part of `{name}` is made of hangs on how much of it is made"),
    );
    let said = if line.is_some() { said.label(stage.name.span, "made here") } else { said };
    said.help(format!(
        "use all of it, `{name} all`; or write its own lines all as weights, or all in per cent"
    ))
}

/// Some is saved of a stage that has a weight, but also a line that waits for the dough.
pub fn saved_of_an_unknown(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.save.first().map_or(stage.name.span, |save| save.amount.span),
        format!("how much of `{name}` goes on after this is saved can't be worked out"),
    )
    .help(
        "leave out what is saved, or write the lines of the stage as percentages of its own \
         flour and give it no weight: it is then made so much larger",
    )
}

/// `loses 10%` in a mix without plain water.
pub fn nothing_to_lose(stage: &Stage, loses: &Quantity) -> Finding {
    Finding::new(
        &RULE,
        loses.span,
        format!("`{}` has no plain water that could boil away", stage.name.shown),
    )
    .help("remove `loses`, or write the water of the mix as a line of its own")
}

/// `takes 10% of flour` in a stage without flour.
pub fn no_flour(stage: &Stage) -> Finding {
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.sizes.first().map_or(stage.name.span, |size| size.span),
        format!("`{name}` has no flour, so it can't take a share of the flour"),
    )
    .help(format!(
        "size it by a line where it is used: `{name} 20%`; or write `percentages of total` and its \
         lines in per cent of all the flour"
    ))
}

/// A mix with nothing in it.
pub fn empty(name: &Name) -> Finding {
    Finding::new(&RULE, name.span, format!("there is nothing in `{}`", name.shown))
        .help("write what it is made of, a line each")
}

/// A yield from something that the formula does not have.
pub fn no_such_line(quantity: &Quantity, target: &Target) -> Finding {
    Finding::new(
        &RULE,
        quantity.span.to(target.name.span),
        format!("the formula has no `{}` to begin from", target.name.shown),
    )
    .help("name one of its ingredients or stages, or `flour`, or `dough`")
}

/// Old dough in a stage.
pub fn old_dough_in_stage(line: &Line) -> Finding {
    Finding::new(&RULE, line.span, "old dough goes straight into the dough, not into a stage")
        .help("move the line to `total` or `dough`; it counts as fermented flour there too")
}

/// `all` or `the rest` where it means nothing.
pub fn meaningless(line: &Line, why: &str) -> Finding {
    Finding::new(
        &RULE,
        line.amount_span,
        format!("how much `{}` is meant is not said: {why}", line.target.name.shown),
    )
    .help("write a weight or a percentage")
}

/// Percentages of each other, which nothing settles.
pub fn hangs_on_itself(line: &Line) -> Finding {
    let name = &line.target.name.shown;
    Finding::new(&RULE, line.span, format!("how much `{name}` goes in hangs on itself"))
        .help("write one of the lines as a weight, or as a percentage of the flour")
}

/// A weight out of the oven, with nothing said of what is lost in it.
pub fn baked_without_a_loss(made: &MadePiece) -> Finding {
    let span = made.weight.as_ref().map_or(made.span, |weight| weight.span);
    Finding::new(
        &RULE,
        span,
        format!("how much dough gives baked `{}` of this weight is not said", made.kind.shown),
    )
    .help("write what the oven takes, such as `bake loss 13%`; or leave out `baked`")
}

/// A culture that is to be kept back where no stage ripens.
pub fn seed_outside_a_stage(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.span,
        format!("`{}` can be kept back only from a stage", line.target.name.shown),
    )
    .help("begin a stage with it; of the dough itself, a part can be kept as `old dough`")
}

/// Percentages in a mix that has no flour, grain or seed.
pub fn percent_of_nothing(mix: &Mix, main: bool) -> Finding {
    let said =
        Finding::new(&RULE, mix.span, "these percentages have no flour to be a percentage of");
    match main {
        true => said.help("add the flour, or write weights"),
        false => said.help("write parts instead: `water 2 parts`; or say `percentages of total`"),
    }
}

/// `12% of NAME` where the mix has no line of that name.
pub fn base_missing(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.amount_span,
        format!(
            "`{}` is a percentage of something that is not in this mix",
            line.target.name.shown
        ),
    )
    .help("name another line of this mix, or say `of flour`, `of dough` or `of base dough`")
}

/// Old dough beside a stage that is sized by all the flour.
pub fn old_dough(line: &Line) -> Finding {
    Finding::new(
        &RULE,
        line.span,
        "how much old dough goes in and how large the stages are hang on each other",
    )
    .help(
        "give the stage a size of its own: a line with its weight or percentage, or `weighs 2 kg`",
    )
}

/// Pieces without a weight.
pub fn pieces(makes: &Makes) -> Finding {
    if makes.pieces.iter().any(|made| !made.counted) {
        return Finding::new(&RULE, makes.span, "how many pieces are made is not said").help(
            "write a count, `24 loaves at 900 g`, or the dough: `loaves at 900 g from 20 kg dough`",
        );
    }
    Finding::new(&RULE, makes.span, "how heavy the pieces are is not said")
        .help("write the dough weight of one: `makes 24 loaves at 900 g`; or `makes 20 kg dough`")
}

/// `--makes "60 rolls"` of a formula that makes loaves.
pub fn other_kind(made: &MadePiece, known: &[&str]) -> Finding {
    let (kind, count) = (&made.kind.shown, made.count.number.to_string());
    let names: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    Finding::new(
        &RULE,
        made.kind.span,
        format!("this formula makes {}, not `{kind}`", names.join(" and ")),
    )
    .help(format!("say what one weighs, `{count} {kind} at 80 g`, or name what it makes"))
}
