//! Verbs and clauses of a method as they are called in other languages and in kitchens: the
//! word of ours, for a finding to tell. Nothing is read by them.

/// Our verbs, and what they are called in German, French, Italian and Spanish, as bakers
/// write steps: verbs and nouns. Common words of the trade, no source.
const VERBS: &[(&str, &[&str])] = &[
    (
        "mix",
        &[
            "kneten",
            "mischen",
            "verkneten",
            "vermischen",
            "verrühren",
            "rühren",
            "einkneten",
            "auskneten",
            "vermengen",
            "pétrir",
            "pétrissage",
            "mélanger",
            "mélange",
            "frasage",
            "fraser",
            "incorporer",
            "impastare",
            "impasto",
            "mescolare",
            "amalgamare",
            "unire",
            "amasar",
            "amasado",
            "mezclar",
            "mezcla",
            "incorporar",
            "dissolve",
            "activate",
            "pour",
            "cream",
            "whip",
            "mash",
            "toss",
        ],
    ),
    (
        "bulk",
        &[
            "stockgare",
            "teigruhe",
            "gehen",
            "aufgehen",
            "gären",
            "pointage",
            "pointer",
            "lever",
            "laisser",
            "fermentation",
            "puntata",
            "lievitare",
            "lievitazione",
            "fermentare",
            "leudar",
            "levar",
            "fermentar",
            "fermentación",
        ],
    ),
    (
        "rest",
        &[
            "ruhen",
            "ruhe",
            "entspannen",
            "reposer",
            "repos",
            "détente",
            "détendre",
            "riposare",
            "riposo",
            "reposar",
            "reposo",
        ],
    ),
    (
        "fold",
        &[
            "falten", "dehnen", "rabat", "rabats", "rabattre", "pieghe", "piega", "piegare",
            "plegar", "pliegue", "pliegues", "plegado",
        ],
    ),
    (
        "divide",
        &[
            "teilen",
            "abstechen",
            "abwiegen",
            "diviser",
            "division",
            "peser",
            "pesage",
            "dividere",
            "spezzare",
            "spezzatura",
            "porzionare",
            "dividir",
            "división",
            "porcionar",
            "pesar",
            "weigh",
        ],
    ),
    (
        "preshape",
        &[
            "rundwirken",
            "vorformen",
            "rundschleifen",
            "bouler",
            "boulage",
            "préformage",
            "préfaçonner",
            "préfaçonnage",
            "preforma",
            "preformare",
            "bolear",
            "boleado",
            "preformar",
        ],
    ),
    (
        "shape",
        &[
            "formen",
            "langwirken",
            "wirken",
            "aufarbeiten",
            "ausrollen",
            "façonner",
            "façonnage",
            "abaisser",
            "étaler",
            "formare",
            "formatura",
            "stendere",
            "formar",
            "formado",
            "estirar",
            "flatten",
            "twist",
            "plait",
            "braid",
        ],
    ),
    ("proof", &["stückgare", "endgare", "gare", "apprêt", "levée", "appretto"]),
    (
        "score",
        &[
            "einschneiden",
            "grigner",
            "lamer",
            "lamage",
            "scarifier",
            "scarification",
            "inciser",
            "incidere",
            "incisione",
            "greñar",
            "greñado",
            "dock",
        ],
    ),
    (
        "bake",
        &[
            "backen",
            "ausbacken",
            "anbacken",
            "fertigbacken",
            "cuire",
            "cuisson",
            "enfourner",
            "enfournement",
            "infornare",
            "cuocere",
            "cottura",
            "hornear",
            "horneado",
            "cocer",
            "cocción",
            "cook",
            "air",
            "broil",
            "toast",
        ],
    ),
    (
        "cool",
        &[
            "auskühlen",
            "abkühlen",
            "refroidir",
            "refroidissement",
            "ressuer",
            "ressuage",
            "raffreddare",
            "raffreddamento",
            "enfriar",
            "enfriado",
        ],
    ),
    (
        "wash",
        &["bestreichen", "dorer", "dorure", "spennellare", "pennellare", "pintar", "barnizar"],
    ),
    (
        "top",
        &["bestreuen", "parsemer", "cospargere", "condire", "cubrir", "spread", "drizzle", "pipe"],
    ),
    ("dust", &["bestäuben", "saupoudrer", "fariner", "spolverare", "espolvorear", "enharinar"]),
    ("fill", &["füllen", "garnir", "farcir", "farcire", "rellenar", "stuff"]),
    ("fry", &["frittieren", "frire", "friggere", "freír", "griddle", "sauté"]),
    ("boil", &["kochen", "bouillir", "bollire", "hervir", "simmer", "blanch"]),
    ("soak", &["einweichen", "quellen", "tremper", "trempage", "ammollare", "remojar", "hydrate"]),
    (
        "feed",
        &[
            "füttern",
            "auffrischen",
            "anfrischen",
            "rafraîchir",
            "rafraîchi",
            "rinfrescare",
            "refrescar",
            "alimentar",
            "refresh",
        ],
    ),
    (
        "chill",
        &["kühlen", "kaltstellen", "réfrigérer", "refrigerare", "refrigerar", "enfriamiento"],
    ),
    ("freeze", &["einfrieren", "congeler", "congélation", "congelare", "congelar"]),
    ("slice", &["aufschneiden", "trancher", "affettare", "rebanar"]),
    (
        "preheat",
        &[
            "vorheizen",
            "aufheizen",
            "préchauffer",
            "préchauffage",
            "preriscaldare",
            "precalentar",
            "heat",
        ],
    ),
];

/// Verbs of kitchens that mean one of several of ours, and what to write.
const SEVERAL: &[(&[&str], &str)] = &[
    (
        &["leave", "wait", "let", "keep", "stand"],
        "what the dough waits for has its verb: `rest 20min`, `bulk 2h` before shaping, `proof 1h` \
         after it",
    ),
    (&["cover"], "it is said of the step that waits: `bulk 2h covered`, `proof 1h covered`"),
    (&["grill"], "write `bake 3min at 250C` for the heat of an oven, `fry 3min` for a hot plate"),
    (
        &["place", "put", "transfer", "arrange", "load"],
        "into tins or onto trays is `pan`; anything else is `step \"…\"`",
    ),
    (
        &["spray", "mist"],
        "steam belongs to the baking: `bake 20min at 230C steamed`; anything else is `step \"…\"`",
    ),
];

/// Words that begin a clause in other languages, and ours.
const CLAUSES: &[(&str, &[&str])] = &[
    ("at", &["bei", "à", "a", "alla", "aux", "@"]),
    ("with", &["mit", "avec", "con", "using"]),
    ("until", &["bis", "jusqu'à", "fino", "finché", "hasta", "till"]),
    ("for", &["für", "während", "pendant", "durante"]),
    ("then", &["dann", "danach", "puis", "ensuite", "poi", "quindi", "luego", "después"]),
    ("covered", &["abgedeckt", "zugedeckt", "couvert", "coperto", "tapado", "cubierto", "lidded"]),
    ("uncovered", &["offen", "découvert", "scoperto", "destapado"]),
    ("steamed", &["schwaden", "dampf", "buée", "vapeur", "vapore", "vapor"]),
    ("fan", &["umluft", "ventilée", "ventilato", "ventilador", "convection"]),
    ("by hand", &["handgeknetet", "manuellement"]),
];

/// What is meant by a verb that is none of ours.
pub enum Verb {
    /// One of ours.
    Ours(&'static str),
    /// One of several: what to write.
    Several(&'static str),
}

/// The verb that another language's word means.
pub fn verb(word: &str) -> Option<Verb> {
    let word = word.to_lowercase();
    let ours = VERBS.iter().find(|(_, all)| all.contains(&word.as_str()));
    let several = || SEVERAL.iter().find(|(all, _)| all.contains(&word.as_str()));
    let ours = ours.map(|(ours, _)| Verb::Ours(ours));
    ours.or_else(|| several().map(|(_, help)| Verb::Several(help)))
}

/// The clause of ours that a word begins elsewhere.
pub fn clause(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    CLAUSES.iter().find(|(_, all)| all.contains(&word.as_str())).map(|(ours, _)| *ours)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::tree;

    #[test]
    fn no_word_stands_twice_or_is_ours() {
        let several = SEVERAL.iter().flat_map(|(all, _)| *all);
        let all: Vec<&str> =
            VERBS.iter().flat_map(|(_, all)| *all).chain(several).copied().collect();
        for word in &all {
            assert_eq!(all.iter().filter(|other| *other == word).count(), 1, "{word}");
            assert!(!tree::Verb::ALL.iter().any(|(ours, _)| ours == word), "{word}");
            assert_eq!(word.to_lowercase(), **word, "{word}");
        }
    }

    #[test]
    fn what_is_offered_is_a_verb_of_ours() {
        let ours: Vec<&str> = tree::Verb::ALL.iter().map(|(ours, _)| *ours).collect();
        for (verb, _) in VERBS.iter().filter(|(verb, _)| *verb != "preheat") {
            assert!(ours.contains(verb), "{verb}");
        }
    }
}
