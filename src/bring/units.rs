//! Units as recipes of five languages write them.

/// A spelling in small letters and the unit as a formula has it.
const UNITS: &[(&str, &[&str])] = &[
    ("mg", &["mg", "milligram", "milligrams", "milligramm"]),
    (
        "g",
        &[
            "g", "gr", "gm", "gms", "gram", "grams", "gramme", "grammes", "gramm", "gramos",
            "gramo", "grammi", "grammo",
        ],
    ),
    (
        "kg",
        &[
            "kg",
            "kgs",
            "kilo",
            "kilos",
            "kilogram",
            "kilograms",
            "kilogramm",
            "kilogrammes",
            "chilo",
            "chili",
        ],
    ),
    (
        "ml",
        &[
            "ml",
            "millilitre",
            "millilitres",
            "milliliter",
            "milliliters",
            "mililitros",
            "millilitri",
        ],
    ),
    ("ml", &["cm3", "cm³", "ccm"]),
    ("cl", &["cl", "centilitre", "centilitres", "centiliter"]),
    ("dl", &["dl", "decilitre", "decilitres", "deciliter"]),
    ("l", &["l", "lt", "litre", "litres", "liter", "liters", "litro", "litros", "litri"]),
    ("fl-oz", &["fl oz", "fl. oz", "fluid ounce", "fluid ounces"]),
    ("oz", &["oz", "ozs", "ounce", "ounces"]),
    ("lb", &["lb", "lbs", "pound", "pounds"]),
    (
        "tsp",
        &[
            "tsp",
            "tsps",
            "teaspoon",
            "teaspoons",
            "teaspoonful",
            "c. à c",
            "c à c",
            "c. à café",
            "càc",
            "cac",
            "cuillère à café",
            "cuillères à café",
            "cuillerée à café",
            "cuillerées à café",
            "tl",
            "teelöffel",
            "cucharadita",
            "cucharaditas",
            "cdta",
            "cdtas",
            "cucchiaino",
            "cucchiaini",
        ],
    ),
    (
        "tbsp",
        &[
            "tbsp",
            "tbsps",
            "tablespoon",
            "tablespoons",
            "tbs",
            "c. à s",
            "c à s",
            "c. à soupe",
            "càs",
            "cas",
            "cuillère à soupe",
            "cuillères à soupe",
            "cuillerée à soupe",
            "cuillerées à soupe",
            "el",
            "esslöffel",
            "eßlöffel",
            "cucharada",
            "cucharadas",
            "cda",
            "cdas",
            "cucchiaio",
            "cucchiai",
        ],
    ),
    ("cup", &["cup", "cups", "tasse", "tasses", "tassen", "taza", "tazas", "tazza", "tazze"]),
    ("%", &["%", "percent", "per cent", "prozent"]),
];

/// What is not weighed: a pinch.
const PINCHES: [&str; 11] = [
    "pinch", "pinches", "pincée", "pincées", "prise", "prisen", "pizca", "pizcas", "pizzico",
    "pizzichi", "dash",
];

/// Things that hold an amount that nobody says, or that differ from one to the next.
const HOLDERS: &[&str] = &[
    "sachet",
    "sachets",
    "packet",
    "packets",
    "pack",
    "packs",
    "package",
    "packages",
    "envelope",
    "envelopes",
    "päckchen",
    "packung",
    "pck",
    "würfel",
    "cube",
    "cubes",
    "sobre",
    "sobres",
    "bustina",
    "bustine",
    "cubetto",
    "cubetti",
    "paquet",
    "paquets",
    "paquete",
    "paquetes",
    "handful",
    "handfuls",
    "poignée",
    "poignées",
    "handvoll",
    "puñado",
    "puñados",
    "manciata",
    "manciate",
    "can",
    "cans",
    "tin",
    "tins",
    "jar",
    "jars",
    "dose",
    "dosen",
    "boîte",
    "boîtes",
    "lata",
    "latas",
    "bunch",
    "bunches",
    "bund",
    "bouquet",
    "mazzo",
    "manojo",
    "knob",
    "stick",
    "sticks",
    "slice",
    "slices",
    "scheibe",
    "scheiben",
    "tranche",
    "tranches",
    "rebanada",
    "fetta",
    "fette",
    "clove",
    "cloves",
    "zehe",
    "zehen",
    "gousse",
    "gousses",
    "diente",
    "dientes",
    "spicchio",
    "spicchi",
    "drizzle",
    "splash",
    "glug",
    "filet",
    "schuss",
    "chorro",
    "sprig",
    "sprigs",
    "zweig",
    "zweige",
    "noix de",
    "nuss",
    "bag",
    "bags",
    "pk",
    "pkt",
    "pkts",
    "pkg",
    "pkgs",
    "pckg",
    "pak",
    "cc",
    "sack",
    "sacks",
    "glass",
    "glasses",
    "glas",
    "verre",
    "verres",
    "vaso",
    "vasos",
    "bicchiere",
    "bicchieri",
];

/// Measures that differ from country to country.
const PINTS: [&str; 8] = ["pint", "pints", "pt", "quart", "quarts", "qt", "gill", "gills"];

/// What an amount is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A unit, as a formula has it.
    Unit(&'static str),
    /// A pinch, which is not weighed.
    Pinch,
    /// A packet, a handful: how much it is, only its author knows.
    Holder,
    /// A pint or a quart, which differ from country to country.
    Pint,
}

/// The measure that a text begins with, and how many bytes it has.
pub fn measure(text: &str) -> Option<(Measure, usize)> {
    let mut best: Option<(Measure, usize)> = None;
    let mut consider = |spelling: &str, measure: Measure| {
        if let Some(length) = begins(text, spelling)
            && best.is_none_or(|(_, known)| length > known)
        {
            best = Some((measure, length));
        }
    };
    for (unit, spellings) in UNITS {
        spellings.iter().for_each(|spelling| consider(spelling, Measure::Unit(unit)));
    }
    PINCHES.iter().for_each(|spelling| consider(spelling, Measure::Pinch));
    HOLDERS.iter().for_each(|spelling| consider(spelling, Measure::Holder));
    PINTS.iter().for_each(|spelling| consider(spelling, Measure::Pint));
    // One letter that is a spoon, by its case.
    if let Some((length, unit)) = [("T", "tbsp"), ("t", "tsp")].iter().find_map(|(letter, unit)| {
        let rest = text.strip_prefix(letter)?;
        ends(rest).then_some((1 + usize::from(rest.starts_with('.')), *unit))
    }) {
        return Some((Measure::Unit(unit), length));
    }
    // `2 c flour` is told in cups; `2 c. de sucre` in spoons of one kind or the other.
    if best.is_none()
        && let Some(rest) = text.strip_prefix('c')
        && ends(rest)
    {
        let length = 1 + usize::from(rest.starts_with('.'));
        let after = text[length..].trim_start();
        let is_spoon =
            ["de ", "d'", "d’", "di ", "à ", "a "].iter().any(|of| after.starts_with(of));
        let measure = if is_spoon { Measure::Holder } else { Measure::Unit("cup") };
        return (text.len() > length).then_some((measure, length));
    }
    best
}

/// How many bytes a spelling has at the beginning of a text, with the point behind it.
fn begins(text: &str, spelling: &str) -> Option<usize> {
    let mut letters = text.char_indices();
    for wanted in spelling.chars() {
        let (_, letter) = letters.next()?;
        if letter.to_lowercase().next() != Some(wanted) {
            return None;
        }
    }
    let length = letters.next().map_or(text.len(), |(at, _)| at);
    let rest = &text[length..];
    (spelling == "%" || ends(rest)).then(|| length + usize::from(rest.starts_with('.')))
}

/// Whether a word ends before a text.
fn ends(rest: &str) -> bool {
    !rest.starts_with(|letter: char| letter.is_alphabetic())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_in_five_languages() {
        for (text, unit, length) in [
            ("g flour", "g", 1),
            ("gr. de sel", "g", 3),
            ("EL Honig", "tbsp", 2),
            ("TL Salz", "tsp", 2),
            ("T sugar", "tbsp", 1),
            ("t sugar", "tsp", 1),
            ("c. à s. de miel", "tbsp", 8),
            ("cuillères à café rases", "tsp", 19),
            ("cucchiai di olio", "tbsp", 8),
            ("Tassen Mehl", "cup", 6),
            ("fl oz milk", "fl-oz", 5),
            ("% water", "%", 1),
        ] {
            assert_eq!(measure(text), Some((Measure::Unit(unit), length)), "{text}");
        }
        assert_eq!(measure("Prise Salz"), Some((Measure::Pinch, 5)));
        assert_eq!(measure("sachet of yeast"), Some((Measure::Holder, 6)));
        for none in
            ["ground almonds", "large eggs", "lemons", "elderflowers", "canola oil", "glaze"]
        {
            assert_eq!(measure(none), None, "{none}");
        }
    }
}
