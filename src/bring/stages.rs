//! Parts of a recipe: which are made beforehand, and which is the dough that takes them.

/// Words of parts that ferment before the dough is mixed.
const PREFERMENTS: [&str; 26] = [
    "levain",
    "poolish",
    "biga",
    "preferment",
    "pre-ferment",
    "sponge",
    "starter",
    "sourdough",
    "sourdough starter",
    "leaven",
    "sour",
    "sour dough",
    "vorteig",
    "sauerteig",
    "levain naturel",
    "préferment",
    "pré-ferment",
    "masa madre",
    "prefermento",
    "esponja",
    "lievito madre",
    "lievitino",
    "prefermenti",
    "old dough",
    "pâte fermentée",
    "hebel",
];

/// Words of parts that only soak.
const SOAKERS: [&str; 8] =
    ["soaker", "quellstück", "brühstück", "trempage", "remojo", "ammollo", "scald", "kochstück"];

/// Parts of a recipe that are the dough itself.
const OF_DOUGH: [&str; 14] = [
    "dough",
    "final dough",
    "main dough",
    "bread dough",
    "bread",
    "pâte",
    "pâte finale",
    "teig",
    "hauptteig",
    "masa",
    "masa final",
    "impasto",
    "impasto finale",
    "ingredients",
];

/// What kind of stage a part is, where its words say that it is one.
pub fn kind_of(part: &str) -> Option<&'static str> {
    let is = |known: &[&str]| known.contains(&part);
    match () {
        () if is(&SOAKERS) => Some("soaker"),
        () if part != "old dough" && is(&PREFERMENTS) => Some("preferment"),
        () => None,
    }
}

/// Whether a part is the dough.
pub fn is_dough(part: &str) -> bool {
    OF_DOUGH.contains(&part)
}

/// A part without the words that lead to it: `for the levain`, `the poolish`.
pub fn bare(part: &str) -> String {
    const LEADS: [&str; 22] = [
        "for the ",
        "for a ",
        "the ",
        "pour le ",
        "pour la ",
        "pour les ",
        "le ",
        "la ",
        "für den ",
        "für das ",
        "für die ",
        "der ",
        "das ",
        "para la ",
        "para el ",
        "el ",
        "per il ",
        "per la ",
        "per lo ",
        "per l'",
        "il ",
        "lo ",
    ];
    const TIMES: [&str; 8] =
        [" (", ",", " –", " - ", " build", " the night before", " the day before", " overnight"];
    let key = part.trim().trim_end_matches(':').to_lowercase();
    let key = LEADS.iter().find_map(|lead| key.strip_prefix(lead)).unwrap_or(&key);
    let end = TIMES.iter().filter_map(|mark| key.find(mark)).min().unwrap_or(key.len());
    key[..end].trim().to_owned()
}

/// Whether a line of the dough takes all of a stage: `all of the levain`, `the poolish`.
pub fn takes_all(line: &str, stage: &str) -> bool {
    const WORDS: [&str; 26] = [
        "all", "of", "the", "above", "from", "ripe", "whole", "your", "tout", "le", "la", "l",
        "toute", "der", "den", "das", "ganze", "ganzen", "gesamte", "gesamter", "toda", "todo",
        "tutto", "tutta", "il", "active",
    ];
    let lower = line.to_lowercase();
    let Some(at) = lower.find(stage) else { return false };
    let rest = format!("{} {}", &lower[..at], &lower[at + stage.len()..]);
    let mut words =
        rest.split(|letter: char| !letter.is_alphanumeric()).filter(|it| !it.is_empty());
    words.all(|word| WORDS.contains(&word))
}
