//! Ingredients and the settings of a bakehouse.

use super::{RULE, meant};
use crate::diag::Finding;
use crate::source::Span;
use crate::syntax::findings::quoted;

pub fn missing_value(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing stands behind `{word}`"))
        .help("write its value here")
}

pub fn metric_or_us(span: Span, word: &str, written: &str, near: Option<&str>) -> Finding {
    let message = match written.trim() {
        "" => format!("nothing stands behind `{word}`"),
        written => format!("{} is no choice of `{word}`", quoted(written)),
    };
    let finding = Finding::new(&RULE, span, message);
    match near {
        Some(near) => meant(finding, span, near),
        None if word == "units" => {
            finding.help("write `units metric`, `units US`, or `units metric and US` for both")
        }
        None => finding.help(format!("write `{word} metric` or `{word} US`")),
    }
}

pub fn beside_weights(span: Span, word: &str, written: &str) -> Finding {
    let message = match written.trim() {
        "" => format!("nothing stands behind `{word}`"),
        written => format!("{} is no choice of `{word}`", quoted(written)),
    };
    Finding::new(&RULE, span, message).help("write `volumes beside weights`, or leave it out")
}

/// A scale that does not have exactly one step without a bound.
pub fn scale_steps(span: Span, steps: usize) -> Finding {
    let message = match steps {
        0 => "no step of the scale is without `above` or `below`".to_owned(),
        steps => format!("{steps} steps of the scale are without `above` or `below`"),
    };
    Finding::new(&RULE, span, message)
        .help("exactly one is: what the scale shows when no other step says so")
}

pub fn no_time_of_day(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "a time of day is missing".to_owned(),
        written => format!("{} is no time of day", quoted(written)),
    };
    Finding::new(&RULE, span, message).help("a time of day is written `03:30`, at most `24:00`")
}

pub fn no_weekday(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is no weekday", quoted(written)))
        .help("weekdays are `monday` to `sunday`, or `mon` to `sun`")
}

pub fn some_weekdays(span: Span) -> Finding {
    Finding::new(&RULE, span, "the hours before this weekday don't say on which days they hold")
        .help("write `mon..fri 06:00..22:00, sat, sun 08:00..23:00`")
}

pub fn hours(span: Span) -> Finding {
    Finding::new(&RULE, span, "the end of these hours is missing")
        .help("hours are written `03:30..13:00`; they may pass midnight")
}

/// `22:00..22:00`.
pub fn no_hours(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} ends when it begins", quoted(written)))
        .help("the whole day is `00:00..24:00`; for nobody, leave the hours out")
}

/// A second value where there is only one, or a range.
pub fn holds_one(span: Span, written: &str, machine: &str) -> Finding {
    let example = if machine == "tin" { "holds 2.4 l" } else { "holds 3 kg..28 kg" };
    Finding::new(&RULE, span, format!("{} is more than a {machine} says", quoted(written)))
        .help(format!("write one value: `{example}`"))
}

/// A tin that does not say how much it holds.
pub fn tin_holds(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("the tin {} does not say what it holds", quoted(name)))
        .help("write the volume of water that fills it: `holds 2.4 l`")
}

/// `currency EURO`.
pub fn currency(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is no currency", quoted(written)))
        .help("write its three letters, such as `EUR`, `GBP` or `USD`")
}

pub fn ml_per_g(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say per what", quoted(written)))
        .help("the room that dough needs in a tin is written `3.2 ml per g`")
}

pub fn volume_weighs(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say what it weighs", quoted(written)))
        .help("write `volume 1 cup weighs 115 g`")
}

/// `greased` without `with`.
pub fn greased_with(span: Span) -> Finding {
    Finding::new(&RULE, span, "what the tin is greased with is not said")
        .help("write `greased with butter`")
}

/// `animal fish`.
pub fn animal(span: Span, written: &str, near: Option<&str>) -> Finding {
    let finding =
        Finding::new(&RULE, span, format!("{} is not something of an animal", quoted(written)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help(
            "write `animal milk`, `egg`, `honey`, `meat` (fish, gelatine and rennet too) or \
             `animal nothing`",
        ),
    }
}

pub fn price_per(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say for how much", quoted(written)))
        .help("write `price 14 EUR per kg`")
}

pub fn called(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "nothing stands behind `called`".to_owned(),
        written => format!("{} is no name in another language", quoted(written)),
    };
    Finding::new(&RULE, span, message)
        .help("write the language and the name in quotes, as in `called fr \"noisettes\"`")
}

pub fn work_per(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say for how much dough", quoted(written)))
        .help("what a mixer puts into dough is written `work 10 kJ per kg`")
}

pub fn water_by(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "nothing stands behind `water`".to_owned(),
        written => format!("{} is no way to work out a water temperature", quoted(written)),
    };
    Finding::new(&RULE, span, message).help("write `water by factor` or `water by heat balance`")
}

pub fn cooling(span: Span) -> Finding {
    Finding::new(&RULE, span, "how fast dough cools is not all there")
        .help("write what was measured: `cooling 900 g from 25C to 8C in 3h at 4C`")
}
