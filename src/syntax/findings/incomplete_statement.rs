//! A statement of which a part is not there.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `incomplete-statement`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "incomplete-statement",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("incomplete_statement.md"),
};

/// A scale that does not have exactly one step without a bound.
pub fn scale_steps(span: Span, steps: usize) -> Finding {
    let message = match steps {
        0 => "no step of the scale is without `above` or `below`".to_owned(),
        steps => format!("{steps} steps of the scale are without `above` or `below`"),
    };
    Finding::new(&RULE, span, message)
        .help("exactly one is: what the scale shows when no other step says so")
}

/// A tin that does not say how much it holds.
pub fn tin_holds(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("the tin {} does not say what it holds", quoted(name)))
        .help("write the volume of water that fills it: `holds 2.4 l`")
}

/// `autolyse 30min` where the steps say what goes in.
pub fn autolyse_with(span: Span) -> Finding {
    Finding::new(&RULE, span, "`autolyse` does not say what goes in")
        .help("write `autolyse 40min with flours, water`, or how much of the water: `90% of water`")
}

/// `most of the water`
pub fn how_much(span: Span, written: &str) -> Finding {
    let name = written.rsplit(' ').next().unwrap_or_default();
    Finding::new(&RULE, span, format!("{} does not say how much", quoted(written)))
        .help(format!("write a share, such as `90% of {name}`, or a weight"))
}

/// A tin whose `per g` is missing.
pub fn ml_per_g(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say per what", quoted(written)))
        .help("the room that dough needs in a tin is written `3.2 ml per g`")
}

/// A volume without the weight of it.
pub fn volume_weighs(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say what it weighs", quoted(written)))
        .help("write `volume 1 cup weighs 115 g`")
}

/// `greased` without `with`.
pub fn greased_with(span: Span) -> Finding {
    Finding::new(&RULE, span, "expected a fat after `greased with`")
        .help("write `greased with butter`")
}

/// A price without the amount that it is for.
pub fn price_per(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say for how much", quoted(written)))
        .help("write `price 14 EUR per kg`")
}

/// A mixer's work without the dough that it is for.
pub fn work_per(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say for how much dough", quoted(written)))
        .help("what a mixer puts into dough is written `work 10 kJ per kg`")
}

/// The change of an oven's heat without the difference that it is for.
pub fn changes_per(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say for how many degrees", quoted(written)))
        .help("how long an oven takes to change its heat is written `changes 15min per 20C`")
}

/// An order without the time that it has to be done by.
pub fn order_by(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say by when", quoted(written)))
        .help("an order is written `order harbour-rolls 400 rolls by 06:30`")
}

/// An order without an amount.
pub fn order_amount(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say how much", quoted(written)))
        .help("pieces or dough are ordered, as in `60 loaves by 07:00` or `20 kg dough by 07:00`")
}

/// `on hand` without what is there, or how much of it.
pub fn on_hand(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} does not say what is on hand, and how much", quoted(written)),
    )
    .help("write the name first: `on hand gullhaven-sour 12 loaves`")
}

/// A course of cooling that lacks one of its five amounts.
pub fn cooling(span: Span) -> Finding {
    Finding::new(&RULE, span, "the measurement of cooling is incomplete")
        .help("write what was measured: `cooling 900 g from 25C to 8C in 3h at 4C`")
}

/// `percentages` without `of total`.
pub fn of_total(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} does not say what the percentages are of", quoted(written)),
    )
    .help("write `percentages of total`: all percentages of the stage are then of all the flour")
    .repair(span, "percentages of total", false)
}

/// `by` without `hand`.
pub fn by_hand(span: Span) -> Finding {
    Finding::new(&RULE, span, "`by` is not followed by `hand`")
        .help("write `by hand`; a machine is named with `in`, as in `in spiral`")
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

/// `levain 1:2`, or a ratio of four numbers.
pub fn ratio(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say what its numbers are of", quoted(written)))
        .help("a feed is starter : flour : water, such as `1:2:2 with bread flour`")
}

/// `levain 1:2:2`.
pub fn ratio_of(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say which flour", quoted(written)))
        .help(format!("write `{written} with bread flour`, or another flour"))
}

/// `for twelve` of a booklet.
pub fn people(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say how many people", quoted(written)))
        .help("write `for 12 people`; a booklet is for 1 to 1000")
}

/// `card` without a formula.
pub fn of_a_formula(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{word}` does not say of which formula"))
        .help(format!("write `{word} first-sour`, with the name of a formula of this bakehouse"))
}

/// `compare first-sour` with nothing beside it.
pub fn compared(span: Span) -> Finding {
    Finding::new(&RULE, span, "`compare` does not say with what")
        .help("write `compare first-sour with water 65%, 70%` or `compare first-sour, next-one`")
}

/// A reckoner whose sizes can't be read.
pub fn reckoner(span: Span) -> Finding {
    Finding::new(&RULE, span, "this does not say for which sizes the table is").help(
        "write `for 1..12 loaves`, `for 10, 20, 40 loaves` or `from 500 g..2 kg flour every \
             250 g`",
    )
}

/// A range whose steps are missing.
pub fn every(span: Span) -> Finding {
    Finding::new(&RULE, span, "this does not say in which steps the table goes on")
        .help("write the least, the most and the step: `from 500 g..2 kg flour every 250 g`")
}

/// A range with more columns than anybody can read.
pub fn too_many_columns(span: Span, most: usize) -> Finding {
    Finding::new(&RULE, span, format!("this asks for more than {most} sizes"))
        .help("name the sizes that are wanted, or take larger steps")
}

/// `1:1` of a feed.
pub fn feed_ratio(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a ratio of three parts", quoted(written)))
        .help("write culture, flour and water: `1:2:2`")
}

/// `hide` without anything.
pub fn hidden(span: Span) -> Finding {
    Finding::new(&RULE, span, "`hide` does not say what")
        .help("write figures or names: `hide hydration, weights in levain`")
}

/// `variants many`, or `0 times`.
pub fn seats(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a number of them", quoted(written)))
        .help("write a whole number: `variants 4` of a booklet, `2 times` after an exercise")
}

/// `level hard`
pub fn level(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a level", quoted(written)))
        .help("write `level first`, `level second` or `level third`")
}

/// `substitute bread flour 20%`
pub fn substitute(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say what goes in instead", quoted(written)))
        .help("write `substitute bread flour with dark rye flour 20%`, or leave all of it to be drawn")
}

/// `when to begin ready noon`
pub fn ready(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a time of day", quoted(written)))
        .help("write `when to begin ready 10:00`")
}

/// `plan first-sour` of a booklet without a time.
pub fn planned(span: Span) -> Finding {
    Finding::new(&RULE, span, "this plan does not say when")
        .help("write when the bread is wanted: `plan first-sour ready saturday 10:00`")
}

/// `compare first-sour since` without a revision in quotes.
pub fn since(span: Span) -> Finding {
    Finding::new(&RULE, span, "`since` does not say when")
        .help("name a revision of the repository in quotes: `compare first-sour since \"v2\"`")
}

/// `awake` of a plan without hours.
pub fn clause_of_a_plan(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{word}` of this plan says nothing")).help(
        "write `ready saturday 10:00`, `awake 07:00..22:30`, `room 26C`, `cold 6C` or `seed 10%`",
    )
}

/// `reduce to 220C` without how long.
pub fn cooler(span: Span, written: &str, degrees: &str) -> Finding {
    let message = format!("{} does not say from when on, nor how long", quoted(written));
    Finding::new(&RULE, span, message).help(format!(
        "write each part with its time: `bake 20min at 250C then 20min at {degrees}`"
    ))
}

/// `everything except salt`, where no step adds the salt.
pub fn left_out(span: Span, name: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} is left out here, and no other step adds it", quoted(name)),
    )
    .help(format!("say where it goes in, such as `mix 5min with {name}`"))
}
