//! Letters behind a number that are no unit.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Unit;
use crate::source::Span;

/// `unknown-unit`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unknown-unit",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unknown_unit.md"),
};

/// `units` says which ones stand here.
pub fn finding(span: Span, written: &str, units: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} is not a unit", quoted(written)));
    match measure(written) {
        Some(help) => finding.help(help),
        None => finding.help(units),
    }
}

/// `2 T`: the letter of a spoon, which a slip of the case makes another spoon.
pub fn with_likely(span: Span, written: &str, likely: Unit) -> Finding {
    let unit = likely.spelling();
    Finding::new(&RULE, span, format!("{} is not a unit", quoted(written)))
        .help(format!("a tablespoon is `tbsp`, a teaspoon `tsp`: most likely `{unit}` is meant"))
        .repair(span, unit, false)
}

/// Whether a word before a name is a measure that has no size, such as `pint`, `clove`.
pub fn is_measure(written: &str) -> bool {
    measure(written).is_some()
}

/// What to write for a measure that has no size that all agree on. Sizes are common
/// practice, no source.
fn measure(written: &str) -> Option<&'static str> {
    let lower = written.to_lowercase();
    Some(match lower.trim_end_matches('s') {
        "pint" | "pt" => {
            "an imperial pint is 568 ml, a US pint 473 ml: write the one meant in `ml`"
        }
        "quart" | "qt" => {
            "a US quart is 946 ml, an imperial quart 1137 ml: write the one meant in `ml`"
        }
        "gallon" | "gal" => {
            "a US gallon is 3.785 l, an imperial gallon 4.546 l: write the one meant in `l`"
        }
        "pfund" => "a German pound is 500 g: write the weight",
        "tasse" | "tassen" | "taza" | "tazza" | "tazze" | "becher" | "verre" | "bicchiere"
        | "gla" | "vaso" => {
            "cups differ from country to country, mostly 200 to 250 ml: write `cup`, or better \
             the weight"
        }
        "stick" => "a stick of butter is 4 oz, or 113 g, and other sticks differ: write the weight",
        "dessertspoon" | "dsp" | "dstspn" => "a dessertspoon is 2 teaspoons: for one write `2 tsp`",
        "würfel" | "cubetto" | "cubetti" | "cubito" => {
            "a cube of yeast is 42 g in some countries and 25 g in others: weigh it"
        }
        "sachet" | "packet" | "package" | "envelope" | "pkg" | "pkt" | "päckchen" | "pck"
        | "pk" | "tütchen" | "bustina" | "bustine" | "sobre" | "sobrecito" => {
            "packets differ: write the weight on yours; one of dry yeast is mostly 7 g, one of \
             baking powder 11 to 16 g"
        }
        "clove" | "sprig" | "stalk" | "slice" | "leaf" | "leave" | "bunch" | "bunche" | "head"
        | "zehe" | "zehen" | "bund" | "scheibe" | "scheiben" | "zweig" | "zweige" | "gousse"
        | "tranche" | "brin" | "spicchio" | "spicchi" | "fetta" | "fette" | "mazzo" | "diente"
        | "rebanada" | "rodaja" | "rama" => {
            "pieces differ: weigh them and write the weight, such as `6 g`"
        }
        "handful" | "knob" | "dash" | "dashe" | "drop" | "splash" | "splashe" | "drizzle"
        | "glug" | "smidgen" | "blob" | "msp" | "messerspitze" | "messerspitzen" => {
            "nobody can weigh it: write a weight, `to taste` or `as needed`"
        }
        "tin" | "can" | "jar" | "bottle" | "carton" | "block" | "cube" | "tub" => {
            "packages differ: write the weight on yours"
        }
        _ => return None,
    })
}
