//! Verbs and clauses of a method as they are called in other languages and in kitchens.
//!
//! What can only mean one word of ours is read as it; of what may mean several, a finding
//! tells them.

use super::phrases::Starts;
use super::read::words::{ByContext, by_context, other_verb};
use super::tree;
use crate::diag::nearest_names;
use crate::source::unaccented;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

/// Verbs that depend on the steps around them, or ours, and what they are called in German,
/// French, Italian and Spanish, as bakers write steps: verbs, what is told somebody to do, and
/// nouns. Common words of the trade, no source.
const READ: &[(&str, &[&str])] = &[
    (
        "mix",
        &[
            "kneten",
            "knete",
            "verkneten",
            "einkneten",
            "auskneten",
            "unterkneten",
            "durchkneten",
            "mischen",
            "mische",
            "vermischen",
            "untermischen",
            "verrühren",
            "rühren",
            "unterrühren",
            "vermengen",
            "zugeben",
            "hinzufügen",
            "dazugeben",
            "hinzugeben",
            "miteinander verkneten",
            "pétrir",
            "pétrissez",
            "pétris",
            "pétrissage",
            "mélanger",
            "mélangez",
            "mélange",
            "frasage",
            "fraser",
            "frasez",
            "incorporer",
            "incorporez",
            "ajouter",
            "ajoutez",
            "impastare",
            "impastate",
            "impasta",
            "impasto",
            "mescolare",
            "mescolate",
            "mescola",
            "miscelare",
            "amalgamare",
            "amalgamate",
            "unire",
            "unite",
            "incorporare",
            "aggiungere",
            "aggiungete",
            "aggiungi",
            "amasar",
            "amase",
            "amasa",
            "amasado",
            "unir",
            "mezclar",
            "mezcle",
            "mezcla",
            "incorporar",
            "incorpore",
            "añadir",
            "añada",
            "agregar",
            "agregue",
            "integrar",
        ],
    ),
    ("autolyse", &["autolysieren", "autolyseteig", "autolisi", "autólisis", "autolisis"]),
    (
        "bulk",
        &[
            "stockgare",
            "erste gare",
            "erste gehzeit",
            "pointage",
            "pointer",
            "première levée",
            "première pousse",
            "première fermentation",
            "fermentation en masse",
            "puntata",
            "prima lievitazione",
            "lievitazione in massa",
            "primera fermentación",
            "fermentación en bloque",
            "primer levado",
        ],
    ),
    (
        "rise",
        &[
            "gehen",
            "gehen lassen",
            "aufgehen",
            "aufgehen lassen",
            "gären",
            "gären lassen",
            "reifen",
            "reifen lassen",
            "teigruhe",
            "gare",
            "lever",
            "laisser lever",
            "laissez lever",
            "faire lever",
            "faites lever",
            "pousser",
            "laisser pousser",
            "laissez pousser",
            "fermenter",
            "laisser fermenter",
            "laissez fermenter",
            "fermentation",
            "levée",
            "pousse",
            "lievitare",
            "far lievitare",
            "fare lievitare",
            "fate lievitare",
            "lasciar lievitare",
            "lasciare lievitare",
            "lasciate lievitare",
            "lievitazione",
            "fermentare",
            "lasciar fermentare",
            "leudar",
            "dejar leudar",
            "deje leudar",
            "levar",
            "dejar levar",
            "deje levar",
            "fermentar",
            "dejar fermentar",
            "deje fermentar",
            "dejar crecer",
            "fermentación",
            "leudado",
            "levado",
            "doubler",
            "doubler de volume",
            "laisser doubler de volume",
            "laisser doubler",
            "laissez doubler",
            "raddoppiare",
            "far raddoppiare",
            "lasciar raddoppiare",
            "dejar doblar",
            "dejar que doble",
            "verdoppeln lassen",
        ],
    ),
    (
        "proof",
        &[
            "stückgare",
            "endgare",
            "zweite gare",
            "apprêt",
            "deuxième levée",
            "seconde levée",
            "deuxième pousse",
            "appretto",
            "seconda lievitazione",
            "segunda fermentación",
            "segundo levado",
            "fermentación final",
            "levado final",
        ],
    ),
    (
        "retard",
        &[
            "übernachtgare",
            "kalte gare",
            "kühle gare",
            "retardieren",
            "fermentación en frío",
            "lievitazione in frigo",
            "maturazione in frigo",
            "pousse au froid",
            "pousse lente",
        ],
    ),
    (
        "rest",
        &[
            "ruhen",
            "ruhen lassen",
            "ruhe",
            "ruhezeit",
            "entspannen",
            "entspannen lassen",
            "zwischengare",
            "reposer",
            "laisser reposer",
            "laissez reposer",
            "faire reposer",
            "repos",
            "détente",
            "détendre",
            "laisser détendre",
            "riposare",
            "far riposare",
            "fate riposare",
            "lasciar riposare",
            "lasciare riposare",
            "lasciate riposare",
            "riposo",
            "reposar",
            "dejar reposar",
            "deje reposar",
            "reposo",
            "dejar descansar",
        ],
    ),
    (
        "fold",
        &[
            "falten",
            "dehnen und falten",
            "dehnen",
            "zusammenschlagen",
            "entgasen",
            "rabat",
            "rabats",
            "rabattre",
            "faire un rabat",
            "donner un rabat",
            "dégazer",
            "dégazez",
            "piega",
            "pieghe",
            "piegare",
            "piegate",
            "fare le pieghe",
            "fare una piega",
            "sgonfiare",
            "plegar",
            "pliegue",
            "pliegues",
            "plegado",
            "hacer pliegues",
            "desgasificar",
        ],
    ),
    (
        "divide",
        &[
            "teilen",
            "abstechen",
            "portionieren",
            "diviser",
            "divisez",
            "division",
            "dividere",
            "dividete",
            "spezzare",
            "spezzate",
            "spezzatura",
            "porzionare",
            "dividir",
            "divida",
            "división",
            "porcionar",
        ],
    ),
    ("cut", &["schneiden", "couper", "coupez", "tagliare", "tagliate", "cortar", "corte"]),
    (
        "preshape",
        &[
            "rundwirken",
            "vorformen",
            "rundschleifen",
            "rund wirken",
            "rund schleifen",
            "bouler",
            "boulez",
            "boulage",
            "préformage",
            "préformer",
            "préfaçonner",
            "préfaçonnage",
            "preforma",
            "preformare",
            "pirlare",
            "pirlatura",
            "bolear",
            "boleado",
            "preformar",
            "preformado",
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
            "lang wirken",
            "façonner",
            "façonnez",
            "façonnage",
            "mettre en forme",
            "mise en forme",
            "abaisser",
            "étaler",
            "étalez",
            "formare",
            "formate",
            "formatura",
            "stendere",
            "stendete",
            "dare forma",
            "formar",
            "forme",
            "formado",
            "estirar",
            "dar forma",
            "dé forma",
            "faire une boule",
            "former une boule",
            "faire des boules",
            "formare una palla",
            "formate una palla",
            "formar una bola",
            "hacer una bola",
            "formar bolas",
            "eine kugel formen",
            "zu einer kugel formen",
            "zu einem laib formen",
            "einen laib formen",
        ],
    ),
    (
        "pan",
        &[
            "mettre en moule",
            "mise en moule",
            "enmoldar",
            "mettre dans un moule",
            "mettre dans le moule",
            "verser dans un moule",
            "verser dans le moule",
            "mouler",
            "in eine kastenform geben",
            "in die kastenform geben",
            "in eine form geben",
            "in die form geben",
            "mettere nello stampo",
            "mettere in uno stampo",
            "poner en un molde",
            "poner en el molde",
            "colocar en un molde",
        ],
    ),
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
            "incisez",
            "incidere",
            "incidete",
            "incisione",
            "faire une croix",
            "faire une entaille",
            "faire des entailles",
            "fare una croce",
            "fare un taglio",
            "fare dei tagli",
            "praticare dei tagli",
            "praticare un taglio",
            "praticare i tagli",
            "hacer una cruz",
            "hacer un corte",
            "hacer cortes",
            "kreuzweise einschneiden",
            "über kreuz einschneiden",
            "ein kreuz einschneiden",
            "greñar",
            "greñado",
        ],
    ),
    (
        "bake",
        &[
            "backen",
            "backe",
            "back",
            "ausbacken",
            "anbacken",
            "fertigbacken",
            "cuire",
            "cuisez",
            "cuisson",
            "enfourner",
            "enfournez",
            "enfournement",
            "faire cuire",
            "faites cuire",
            "mettre au four",
            "infornare",
            "infornate",
            "cuocere",
            "cuocete",
            "cuoci",
            "cottura",
            "far cuocere",
            "fate cuocere",
            "hornear",
            "hornee",
            "hornea",
            "horneado",
            "cocer",
            "cueza",
            "cocción",
            "meter al horno",
        ],
    ),
    ("steam", &["dämpfen", "cuire à la vapeur", "cuocere al vapore", "cocer al vapor"]),
    (
        "cool",
        &[
            "auskühlen",
            "auskühlen lassen",
            "abkühlen",
            "abkühlen lassen",
            "erkalten lassen",
            "refroidir",
            "laisser refroidir",
            "laissez refroidir",
            "refroidissement",
            "ressuer",
            "ressuage",
            "raffreddare",
            "far raffreddare",
            "fate raffreddare",
            "lasciar raffreddare",
            "lasciate raffreddare",
            "raffreddamento",
            "enfriar",
            "dejar enfriar",
            "deje enfriar",
            "enfriado",
        ],
    ),
    (
        "glaze",
        &[
            "bestreichen",
            "dorer",
            "dorez",
            "dorure",
            "badigeonner",
            "spennellare",
            "spennellate",
            "pennellare",
            "pintar",
            "pinte",
            "barnizar",
            "pincelar",
        ],
    ),
    ("top", &["bestreuen", "parsemer", "parsemez", "cospargere", "cospargete"]),
    (
        "dust",
        &[
            "bestäuben",
            "bemehlen",
            "fariner",
            "farinez",
            "spolverare",
            "spolverate",
            "infarinare",
            "espolvorear",
            "espolvoree",
            "enharinar",
        ],
    ),
    ("fill", &["füllen", "fourrer", "farcire", "farcite", "rellenar", "rellene"]),
    (
        "fry",
        &[
            "frittieren",
            "ausfrittieren",
            "frire",
            "faire frire",
            "friggere",
            "friggete",
            "freír",
            "fría",
        ],
    ),
    (
        "boil",
        &[
            "kochen",
            "brühen",
            "bouillir",
            "faire bouillir",
            "bollire",
            "far bollire",
            "hervir",
            "hierva",
        ],
    ),
    (
        "soak",
        &[
            "einweichen",
            "quellen",
            "quellen lassen",
            "tremper",
            "laisser tremper",
            "faire tremper",
            "trempage",
            "ammollare",
            "mettere in ammollo",
            "remojar",
            "poner en remojo",
        ],
    ),
    (
        "feed",
        &[
            "füttern",
            "auffrischen",
            "anfrischen",
            "rafraîchir",
            "rafraîchissez",
            "rafraîchi",
            "rinfrescare",
            "rinfrescate",
            "rinfresco",
            "refrescar",
            "refresque",
            "alimentar",
            "alimente",
        ],
    ),
    (
        "refrigerate",
        &[
            "kühlen",
            "kaltstellen",
            "kühlstellen",
            "kalt stellen",
            "kühl stellen",
            "in den kühlschrank stellen",
            "réfrigérer",
            "réfrigérez",
            "mettre au frais",
            "mettre au frigo",
            "mettre au réfrigérateur",
            "refrigerare",
            "mettere in frigo",
            "mettere in frigorifero",
            "refrigerar",
            "refrigere",
            "meter en la nevera",
            "guardar en la nevera",
            "dejar en la heladera",
            "dejar en la nevera",
            "dejar en el frigorífico",
            "meter en la heladera",
            "poner en la nevera",
            "in den kühlschrank geben",
            "in den kühlschrank",
            "ab in den kühlschrank",
            "laisser au frigo",
            "laisser au réfrigérateur",
            "laisser au frais",
            "lasciare in frigo",
        ],
    ),
    (
        "freeze",
        &[
            "einfrieren",
            "congeler",
            "congelez",
            "congélation",
            "congelare",
            "congelate",
            "congelar",
            "congele",
        ],
    ),
    ("slice", &["aufschneiden", "trancher", "tranchez", "affettare", "affettate", "rebanar"]),
    (
        "preheat",
        &[
            "vorheizen",
            "aufheizen",
            "préchauffer",
            "préchauffez",
            "préchauffage",
            "preriscaldare",
            "preriscaldate",
            "precalentar",
            "precaliente",
        ],
    ),
    ("turn", &["wenden", "umdrehen", "retourner", "retournez", "girare", "girate", "voltear"]),
];

/// Verbs of English kitchens that are near one of ours and not the same.
const OFFERED: &[(&str, &[&str])] = &[
    ("mix", &["dissolve", "activate", "pour", "cream", "whip", "mash", "toss"]),
    ("divide", &["weigh", "abwiegen", "peser", "pesage", "pesar"]),
    (
        "shape",
        &["flatten", "twist", "plait", "braid", "flechten", "tresser", "intrecciare", "trenzar"],
    ),
    ("score", &["dock"]),
    ("bake", &["cook", "air", "broil", "toast"]),
    ("top", &["spread", "drizzle", "pipe", "condire", "cubrir"]),
    ("fill", &["stuff", "garnir", "garnissez"]),
    ("fry", &["griddle", "sauté"]),
    ("boil", &["simmer", "blanch"]),
    ("soak", &["hydrate"]),
    ("feed", &["refresh"]),
    ("preheat", &["heat"]),
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
        &["place", "put", "tip", "scrape", "bring", "gather", "transfer", "arrange", "load"],
        "into tins or onto trays is `pan`; anything else is `step \"…\"`",
    ),
    (
        &[
            "spray",
            "mist",
            "besprühen",
            "besprühe",
            "einsprühen",
            "vaporiser",
            "vaporisez",
            "spruzzare",
            "nebulizzare",
            "rociar",
            "pulverizar",
        ],
        "steam belongs to the baking: `bake 20min at 230C steamed`; anything else is `step \"…\"`",
    ),
];

/// Words that begin a clause in other languages, and ours. Those of `READ_CLAUSES` are read.
const CLAUSES: &[(&str, &[&str])] = &[
    ("at", &["@"]),
    ("until", &["till"]),
    ("covered", &["lidded"]),
    ("fan", &["convection"]),
    ("by hand", &["handgeknetet", "manuellement"]),
];

/// What a clause in another language is, by the words that it begins with, where what follows
/// them fits (`Clause`). `at room` and `in fridge` are whole.
const READ_CLAUSES: &[(Clause, &[&str])] = &[
    (Clause::At, &["bei", "auf", "bei ca", "à", "a", "a unos", "alla temperatura di"]),
    (
        Clause::InRoom,
        &[
            "bei raumtemperatur",
            "bei zimmertemperatur",
            "à température ambiante",
            "à température de la pièce",
            "a temperatura ambiente",
            "a temperatura ambiental",
        ],
    ),
    (
        Clause::InFridge,
        &[
            "im kühlschrank",
            "au réfrigérateur",
            "au frigo",
            "au frais",
            "in frigo",
            "in frigorifero",
            "en la nevera",
            "en nevera",
            "en el frigorífico",
            "en el refrigerador",
            "en la heladera",
        ],
    ),
    (Clause::With, &["mit", "avec", "con"]),
    (
        Clause::Until,
        &["bis", "jusqu'à", "jusqu'à ce que", "fino a", "fino al", "finché", "hasta", "hasta que"],
    ),
    (
        Clause::Speed,
        &[
            "stufe",
            "auf stufe",
            "vitesse",
            "en vitesse",
            "à vitesse",
            "à la vitesse",
            "velocità",
            "a velocità",
            "velocidad",
            "a velocidad",
            "en velocidad",
        ],
    ),
    (
        Clause::For,
        &[
            "für", "während", "pendant", "durante", "per", "por", "durant", "pour", "de", "di",
            "von",
        ],
    ),
    (
        Clause::Then,
        &["dann", "danach", "anschließend", "puis", "ensuite", "poi", "quindi", "luego", "después"],
    ),
    (
        Clause::Covered,
        &[
            "abgedeckt",
            "zugedeckt",
            "couvert",
            "couverte",
            "coperto",
            "coperta",
            "tapado",
            "tapada",
        ],
    ),
    (Clause::Uncovered, &["offen", "découvert", "scoperto", "destapado", "sin tapar"]),
    (
        Clause::Steamed,
        &[
            "mit schwaden",
            "mit dampf",
            "avec buée",
            "avec vapeur",
            "avec de la vapeur",
            "con vapore",
            "con vapor",
        ],
    ),
    (Clause::Vented, &["ohne dampf", "sans buée", "sans vapeur", "senza vapore", "sin vapor"]),
    (Clause::Fan, &["umluft", "heißluft", "chaleur tournante", "ventilato", "con ventilador"]),
    (Clause::ByHand, &["von hand", "mit der hand", "per hand", "à la main", "a mano"]),
];

/// What a clause in another language says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clause {
    /// A temperature follows.
    At,
    /// `at room`, all of it.
    InRoom,
    /// `in fridge`, all of it.
    InFridge,
    /// What goes in follows.
    With,
    /// What to see follows.
    Until,
    /// A number follows.
    Speed,
    /// A time follows.
    For,
    /// The next phase follows.
    Then,
    /// `covered`
    Covered,
    /// `uncovered`
    Uncovered,
    /// `steamed`
    Steamed,
    /// `vented`
    Vented,
    /// `fan`
    Fan,
    /// `by hand`
    ByHand,
}

/// What stands before a verb in another language and says no more than the verb.
pub const BEFORE_A_VERB: &[&str] = &[
    "dann",
    "danach",
    "anschließend",
    "abschließend",
    "schließlich",
    "zuletzt",
    "zuerst",
    "zunächst",
    "puis",
    "ensuite",
    "enfin",
    "finalement",
    "poi",
    "quindi",
    "infine",
    "luego",
    "después",
    "finalmente",
    "primero",
];

/// What stands between the names of what goes in.
pub const AND: &[&str] = &["und", "et", "e", "y"];

/// Articles before a name.
pub const ARTICLES: &[&str] = &[
    "der", "die", "das", "den", "dem", "le", "la", "les", "il", "lo", "gli", "i", "el", "los",
    "las",
];

/// Words of the longest phrase here.
pub const LONGEST: usize = 5;

/// Each phrase that is read as a verb, with our verb and how it depends on where it stands.
static VERBS: LazyLock<FxHashMap<&str, (tree::Verb, Option<ByContext>)>> = LazyLock::new(|| {
    let ours = |word: &str| {
        let how = by_context(word);
        Some((tree::Verb::read(other_verb(word).unwrap_or(word))?, how))
    };
    let each = READ.iter().filter_map(|(word, said)| Some((ours(word)?, said)));
    each.flat_map(|(verb, said)| said.iter().map(move |said| (*said, verb))).collect()
});

/// The same as they are typed on a keyboard that lacks their letters.
static PLAIN_VERBS: LazyLock<FxHashMap<String, &str>> = LazyLock::new(|| {
    let said = READ.iter().flat_map(|(_, said)| *said);
    let plain = said.filter(|said| !said.is_ascii()).map(|said| (without_accents(said), *said));
    let is_free = |plain: &str| {
        !VERBS.contains_key(plain)
            && other_verb(plain).is_none()
            && tree::Verb::read(plain).is_none()
    };
    plain.filter(|(plain, _)| is_free(plain)).collect()
});

static CLAUSES_READ: LazyLock<FxHashMap<&str, Clause>> = LazyLock::new(|| {
    let each = READ_CLAUSES.iter();
    each.flat_map(|(clause, said)| said.iter().map(|said| (*said, *clause))).collect()
});

/// How the phrases begin that are read as verbs.
pub static VERB_STARTS: Starts = Starts::of_groups(READ);

/// How the phrases begin that are read as clauses.
pub static CLAUSE_STARTS: Starts = Starts::of_groups(READ_CLAUSES);

/// The verb that such words mean, in lower case.
pub fn read_verb(words: &str) -> Option<(tree::Verb, Option<ByContext>)> {
    let plain = || VERBS.get(PLAIN_VERBS.get(words)?);
    VERBS.get(words).or_else(plain).copied()
}

/// A phrase as it is typed without accents: `petrir`, `abkuehlen`.
fn without_accents(phrase: &str) -> String {
    const SPELT: [(char, &str); 5] =
        [('ä', "ae"), ('ö', "oe"), ('ü', "ue"), ('ß', "ss"), ('œ', "oe")];
    let spelt = SPELT.iter().fold(phrase.to_owned(), |said, (letter, plain)| {
        if said.contains(*letter) { said.replace(*letter, plain) } else { said }
    });
    unaccented(&spelt).unwrap_or(spelt)
}

/// The phrase for a verb that the first of some words, in lower case, are most likely a slip
/// of, with our verb.
pub fn near_verb(words: &[String]) -> Option<(&'static str, &'static str)> {
    // Of shorter words one letter makes too many others.
    const LEAST: usize = 6;
    /// Machines of a bakery, which English calls so.
    const MACHINES: [&str; 2] = ["divider", "former"];
    if words.first().is_some_and(|first| MACHINES.contains(&first.as_str())) {
        return None;
    }
    static PLAIN: LazyLock<Vec<(String, &str, &str)>> = LazyLock::new(|| {
        let plain =
            |(said, verb): (&'static str, &'static str)| (without_accents(said), said, verb);
        let mut all: Vec<_> = verbs_read().map(plain).collect();
        all.sort_unstable();
        all
    });
    (1..=words.len().min(LONGEST)).rev().find_map(|count| {
        let wanted = without_accents(&words.get(..count)?.join(" "));
        if wanted.chars().count() < LEAST {
            return None;
        }
        let known = PLAIN.iter().map(|(plain, ..)| plain.as_str());
        let near = nearest_names(&wanted, known, |_| false);
        let mut meant = PLAIN.iter().filter(|(plain, ..)| near.contains(&plain.as_str()));
        let (_, said, verb) = meant.next()?;
        meant.all(|(_, _, other)| other == verb).then_some((*said, *verb))
    })
}

/// Every phrase that is read as a verb of ours, with its usual one.
pub fn verbs_read() -> impl Iterator<Item = (&'static str, &'static str)> {
    VERBS.iter().map(|(said, (verb, _))| (*said, verb.word()))
}

/// The clause that such words begin, in lower case.
pub fn read_clause(words: &str) -> Option<Clause> {
    CLAUSES_READ.get(words).copied()
}

/// Whether a word may begin a clause that is read: nearly none does.
pub fn may_begin_clause(word: &str) -> bool {
    // `fan`, `per` and the like stand in names of ours too; what follows decides.
    matches!(
        word,
        "bei"
            | "bis"
            | "jusqu'à"
            | "fino"
            | "finché"
            | "hasta"
            | "stufe"
            | "vitesse"
            | "velocità"
            | "velocidad"
            | "auf"
            | "à"
            | "a"
            | "alla"
            | "im"
            | "au"
            | "in"
            | "en"
            | "mit"
            | "avec"
            | "con"
            | "für"
            | "pour"
            | "de"
            | "di"
            | "während"
            | "pendant"
            | "durante"
            | "durant"
            | "per"
            | "por"
            | "dann"
            | "danach"
            | "anschließend"
            | "puis"
            | "ensuite"
            | "poi"
            | "quindi"
            | "luego"
            | "después"
            | "abgedeckt"
            | "zugedeckt"
            | "couvert"
            | "couverte"
            | "coperto"
            | "coperta"
            | "tapado"
            | "tapada"
            | "offen"
            | "découvert"
            | "scoperto"
            | "destapado"
            | "sin"
            | "sans"
            | "senza"
            | "ohne"
            | "umluft"
            | "heißluft"
            | "chaleur"
            | "ventilato"
            | "von"
    )
}

/// What is meant by a verb that is none of ours and is not read.
pub enum Verb {
    /// One near it of ours.
    Ours(&'static str),
    /// One of several: what to write.
    Several(&'static str),
}

/// What to offer for a word that is no verb of ours.
pub fn verb(word: &str) -> Option<Verb> {
    let word = word.to_lowercase();
    let ours = OFFERED.iter().find(|(_, all)| all.contains(&word.as_str()));
    let several = || SEVERAL.iter().find(|(all, _)| all.contains(&word.as_str()));
    let ours = ours.map(|(ours, _)| Verb::Ours(ours));
    ours.or_else(|| several().map(|(_, help)| Verb::Several(help)))
}

/// The clause of ours that a word begins elsewhere.
pub fn clause(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let read = || {
        Some(match read_clause(&word)? {
            Clause::At | Clause::InRoom => "at",
            Clause::With => "with",
            Clause::Until => "until",
            Clause::Speed => "speed",
            Clause::For => "for",
            _ => return None,
        })
    };
    let known = CLAUSES.iter().find(|(_, all)| all.contains(&word.as_str()));
    known.map(|(ours, _)| *ours).or_else(read)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_stands_twice_or_is_ours() {
        let several = SEVERAL.iter().flat_map(|(all, _)| *all);
        let read = READ.iter().flat_map(|(_, all)| *all);
        let all: Vec<&str> =
            OFFERED.iter().flat_map(|(_, all)| *all).chain(several).chain(read).copied().collect();
        for word in &all {
            assert_eq!(all.iter().filter(|other| *other == word).count(), 1, "{word}");
            assert!(!tree::Verb::ALL.iter().any(|(ours, _)| ours == word), "{word}");
            assert!(read_verb(word).is_none() || other_verb(word).is_none(), "{word}");
            assert_eq!(word.to_lowercase(), **word, "{word}");
            assert!(word.split(' ').count() <= LONGEST, "{word}");
        }
    }

    /// Every verb with one letter left out, doubled or changed is offered again, or one that
    /// means the same; nothing else is offered for it.
    #[test]
    fn a_slip_in_a_verb_leads_back_to_it() {
        let (mut slips, mut back, mut astray) = (0, 0, Vec::new());
        for (said, ours) in verbs_read().filter(|(said, _)| said.chars().count() > 6) {
            let letters: Vec<char> = said.chars().collect();
            for at in 1..letters.len() - 1 {
                let (mut without, mut doubled) = (letters.clone(), letters.clone());
                without.remove(at);
                doubled.insert(at, letters[at]);
                for slip in [without, doubled].map(String::from_iter) {
                    let words: Vec<String> = slip.split(' ').map(str::to_owned).collect();
                    if words.len() != said.split(' ').count() || read_verb(&slip).is_some() {
                        continue;
                    }
                    slips += 1;
                    match near_verb(&words) {
                        Some((_, verb)) if verb == ours => back += 1,
                        Some((near, _)) => astray.push(format!("{slip} of {said}: {near}")),
                        None => {}
                    }
                }
            }
        }
        assert!(slips > 4_000 && back * 10 > slips * 8, "{back} of {slips}");
        assert!(astray.len() * 100 < slips, "{} of {slips}: {astray:#?}", astray.len());
    }

    /// What is done in an English kitchen is no slip of a verb of another language.
    #[test]
    fn english_steps_are_no_slips_of_other_languages() {
        let words = [
            "remove",
            "measure",
            "prepare",
            "reserve",
            "spread",
            "press",
            "pierce",
            "prick",
            "drain",
            "strain",
            "sieve",
            "crush",
            "toast",
            "warm",
            "melt",
            "chop",
            "grate",
            "season",
            "gather",
            "tuck",
            "pinch",
            "pull",
            "place",
            "arrange",
            "position",
            "tray",
            "check",
            "test",
            "wait",
            "repeat",
            "continue",
            "discard",
            "reduce",
            "increase",
            "lower",
            "loosen",
            "release",
            "invert",
            "unmould",
            "serve",
            "enjoy",
            "store",
            "wrap",
            "label",
            "wash",
            "dry",
            "clean",
            "clear",
            "lightly",
            "gently",
            "carefully",
            "meanwhile",
            "finish",
            "garnish",
            "decorate",
            "divider",
            "former",
            "dimple",
        ];
        let offered: Vec<_> = words
            .iter()
            .filter_map(|word| Some((word, near_verb(&[(*word).to_owned()])?)))
            .collect();
        assert!(offered.is_empty(), "{offered:?}");
    }

    /// A verb is read as it is typed on a keyboard that lacks its letters.
    #[test]
    fn accents_mean_nothing() {
        let mut all = 0;
        for (said, ours) in verbs_read().filter(|(said, _)| !said.is_ascii()) {
            let plain = without_accents(said);
            assert!(plain.is_ascii(), "{plain}");
            let read = read_verb(&plain).map(|(verb, _)| verb.word());
            // What is ours, or another phrase without any accent, is that.
            assert!(read == Some(ours) || other_verb(&plain).is_some(), "{said}: {read:?}");
            assert!(
                VERB_STARTS.may_begin(super::super::phrases::Start::of(plain.as_bytes())),
                "{plain}"
            );
            all += 1;
        }
        assert!(all > 60, "{all}");
    }

    #[test]
    fn what_is_read_and_offered_is_a_verb_of_ours() {
        assert_eq!(VERBS.len(), READ.iter().map(|(_, all)| all.len()).sum::<usize>());
        assert!(VERBS.len() > 250, "{}", VERBS.len());
        for (verb, _) in OFFERED {
            assert!(tree::Verb::read(verb).is_some(), "{verb}");
        }
    }

    #[test]
    fn every_clause_that_is_read_is_met() {
        for (_, all) in READ_CLAUSES {
            for said in *all {
                let first = said.split(' ').next().unwrap_or_default();
                assert!(may_begin_clause(first), "{said}");
                assert!(said.split(' ').count() <= LONGEST, "{said}");
            }
        }
        let all: usize = READ_CLAUSES.iter().map(|(_, all)| all.len()).sum();
        assert_eq!(CLAUSES_READ.len(), all);
    }
}
