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

/// `1 cc`: a cubic centimetre, and in some countries a coffee spoon.
pub fn spoon_or_milliliter(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} may be a spoon or a millilitre", quoted(written)))
        .help("write `tsp` for a teaspoon of 5 ml, or `ml` for a cubic centimetre")
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
        "livre" => "a French pound is 500 g: write the weight",
        "libra" => {
            "a pound is 454 g in some countries, 460 or 500 g in others: write the weight in `g`"
        }
        "gill" => "an imperial gill is 142 ml, a US gill 118 ml: write the one meant in `ml`",
        "katori" | "teacup" | "teacupful" | "cupful" | "mug" | "bowl" | "bol" | "ciotola" => {
            "cups and bowls differ: write `cup` for one of 250 ml, or better the weight"
        }
        "tasse" | "tassen" | "taza" | "tazza" | "tazze" | "becher" | "verre" | "bicchiere"
        | "gla" | "vaso" => {
            "cups differ from country to country, mostly 200 to 250 ml: write `cup`, or better \
             the weight"
        }
        "stick" => "a stick of butter is 4 oz, or 113 g, and other sticks differ: write the weight",
        "dessertspoon" | "dsp" | "dstspn" => "a dessertspoon is 2 teaspoons: for one write `2 tsp`",
        "würfel" | "cubetto" | "cubetti" | "cubito" | "cubo" | "dado" | "dadi" | "cube" => {
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
        | "glug" | "smidgen" | "blob" | "dollop" | "bouchon" | "schuss" | "spritzer"
        | "handvoll" | "klecks" | "filet" | "filo" | "chorrito" | "chorro" | "manciata"
        | "manciate" | "puñado" | "poignée" | "msp" | "messerspitze" | "messerspitzen" => {
            "nobody can weigh it: write a weight, `to taste` or `as needed`"
        }
        "tin" | "can" | "jar" | "bottle" | "carton" | "block" | "tub" | "bag" | "pot" | "box"
        | "boxe" | "pouch" | "pouche" | "beutel" | "dose" | "flasche" | "tüte" | "glä"
        | "boîte" | "brique" | "bouteille" | "paquet" | "lata" | "bote" | "paquete" | "botella"
        | "bolsa" | "cartón" | "vasetto" | "vasetti" | "barattolo" | "lattina" | "confezione"
        | "bottiglia" | "pacchetto" | "brick" | "yogurtera" => {
            "packages differ: write the weight on yours"
        }
        _ => return None,
    })
}
