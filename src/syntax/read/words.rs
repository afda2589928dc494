//! The words of the language.

use crate::diag::{nearest, nearest_names};
use crate::syntax::tree::StageKind;
use std::ops::Deref;

/// A word in lower case: the language's own words ignore case.
#[derive(Clone, Copy, Default)]
pub struct Lower {
    bytes: [u8; Self::LONGEST],
    length: usize,
}

impl Lower {
    /// No word of the language is longer.
    const LONGEST: usize = 16;

    /// Empty for a word that is none of the language's for its length or letters.
    pub fn of(word: &str) -> Self {
        let mut lower = Self::default();
        if word.len() > Self::LONGEST || !word.is_ascii() {
            return lower;
        }
        for (low, byte) in lower.bytes.iter_mut().zip(word.bytes()) {
            *low = byte.to_ascii_lowercase();
        }
        lower.length = word.len();
        lower
    }
}

impl Deref for Lower {
    type Target = str;

    fn deref(&self) -> &str {
        let bytes = self.bytes.get(..self.length).unwrap_or(&[]);
        std::str::from_utf8(bytes).unwrap_or("")
    }
}

/// Whether a word begins a clause wherever it stands, and so is never part of a name
/// without quotes.
pub fn is_reserved(word: &str) -> bool {
    let any = |known: &[&str]| known.iter().any(|known| known.eq_ignore_ascii_case(word));
    match word.len() {
        2 => any(&["at", "to", "in", "by", "is", "as"]),
        3 => any(&["the", "all", "fan"]),
        4 => any(&["with", "then", "like", "fold", "note", "also"]),
        5 => any(&["until", "speed"]),
        6 => any(&["vented"]),
        7 => any(&["caution", "covered", "steamed", "waiting"]),
        8 => any(&["hands-on"]),
        9 => any(&["uncovered"]),
        _ => false,
    }
}

/// Whether a word may follow an amount, so that it is no unit that is misspelt.
pub fn follows_an_amount(word: &str) -> bool {
    const FOLLOWERS: [&str; 14] = [
        "of", "kept", "not", "pinch", "pinches", "times", "above", "below", "per", "weighs",
        "baked", "every", "from", "for",
    ];
    is_reserved(word) || FOLLOWERS.iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// The word of `known` that was most likely meant, whatever its case.
///
/// Words of very different length are left out first: comparing letters is what takes
/// time, and a file may be full of mistakes.
pub fn near(word: &str, known: &[&'static str]) -> Option<&'static str> {
    const LONGEST: usize = 32;
    if word.len() > LONGEST {
        return None;
    }
    let most = (word.len() / 3).clamp(1, 3);
    let alike = known.iter().copied().filter(|known| known.len().abs_diff(word.len()) <= most);
    nearest(&word.to_lowercase(), alike)
}

/// What a file holds.
pub const OF_A_FILE: &[&str] = &[
    "bakehouse",
    "formula",
    "culture",
    "starter",
    "ingredient",
    "style",
    "day",
    "booklet",
    "preferment",
    "build",
    "soaker",
    "scald",
    "mixture",
    "tin",
    "mixer",
    "oven",
    "proofer",
    "refrigerator",
    "board",
];

/// What a formula says.
pub const OF_A_FORMULA: &[&str] = &[
    "total",
    "dough",
    "preferment",
    "build",
    "soaker",
    "scald",
    "mixture",
    "piece",
    "expect",
    "claims",
    "method",
    "style",
    "makes",
    "serves",
    "bake loss",
    "make-up loss",
    "allow",
    "without",
    "note",
    "caution",
    "headnote",
    "equipment",
    "storage",
    "source",
];

/// Stages that are called by what they are: `biga { … }` is a preferment `biga`.
pub const STAGES_BY_NAME: &[(&str, StageKind)] = &[
    ("poolish", StageKind::Preferment),
    ("biga", StageKind::Preferment),
    ("pâte fermentée", StageKind::Preferment),
    ("pate fermentee", StageKind::Preferment),
    ("levain", StageKind::Preferment),
    ("leaven", StageKind::Preferment),
    ("sponge", StageKind::Preferment),
    ("preferment", StageKind::Preferment),
    ("soaker", StageKind::Soaker),
    ("scald", StageKind::Scald),
    ("tangzhong", StageKind::Scald),
    ("yudane", StageKind::Scald),
    ("water roux", StageKind::Scald),
];

/// The names of those stages.
pub const STAGE_NAMES: &[&str] = &[
    "poolish",
    "biga",
    "pâte fermentée",
    "pate fermentee",
    "levain",
    "leaven",
    "sponge",
    "preferment",
    "soaker",
    "scald",
    "tangzhong",
    "yudane",
    "water roux",
];

/// Those of them that open a block; of these, all but the last hold names with amounts.
pub const BLOCKS: &[&str] = OF_A_FORMULA.split_at(11).0;

/// What a stage says beside its lines.
pub const OF_A_STAGE: &[&str] = &[
    "ferments",
    "takes",
    "weighs",
    "percentages",
    "at least",
    "ripens",
    "stands",
    "keeps",
    "feeds",
    "save",
    "loses",
    "without",
    "method",
    "allow",
    "note",
    "caution",
    "headnote",
    "equipment",
    "storage",
    "source",
];

/// What `total` and `dough` say beside their lines.
pub const OF_LINES: &[&str] = &["without", "counts"];

/// What a mixture says beside its lines.
pub const OF_A_MIXTURE: &[&str] = &["without", "note", "caution", "storage", "source"];

/// What a culture says beside its lines.
pub const OF_A_CULTURE: &[&str] = &["note", "caution", "storage", "source"];

/// What a piece says beside its lines.
pub const OF_A_PIECE: &[&str] = &["without", "bake loss", "make-up loss"];

/// What a style says beside its bounds.
pub const OF_A_STYLE: &[&str] = &["without", "note", "source"];

/// What an ingredient says beside its composition.
pub const OF_AN_INGREDIENT: &[&str] = &[
    "contains",
    "may contain",
    "free from",
    "animal",
    "price",
    "pack",
    "volume",
    "each",
    "kept",
    "also",
    "called",
    "source",
    "note",
    "caution",
    "storage",
    "water",
    "protein",
    "fat",
    "saturates",
    "carbohydrate",
    "sugars",
    "starch",
    "monounsaturates",
    "polyunsaturates",
    "fibre",
    "ash",
    "alcohol",
    "salt",
    "sodium",
    "calcium",
    "iron",
    "potassium",
    "cholesterol",
    "energy",
    "fresh equivalent",
];

/// What an animal gave; meat is all for which one died, such as fish and gelatine.
pub const OF_ANIMALS: &[&str] = &["milk", "egg", "honey", "meat"];

/// What a bakehouse says.
pub const OF_A_BAKEHOUSE: &[&str] = &[
    "language",
    "units",
    "measures",
    "currency",
    "zone",
    "room",
    "flour",
    "tap",
    "scale",
    "hours",
    "mixer",
    "oven",
    "tin",
    "logo",
    "colour",
    "paper",
    "footer",
    "volumes",
    "water",
    "cooling",
    "cold",
    "codes",
    "proofer",
    "refrigerator",
    "board",
    "aim",
];

/// What a booklet says.
pub const OF_A_BOOKLET: &[&str] = &[
    "language",
    "units",
    "paper",
    "for",
    "variants",
    "large",
    "text",
    "caution",
    "card",
    "sheet",
    "table",
    "plan",
    "picture",
    "page",
    "worksheet",
    "compare",
    "reckoner",
    "shopping",
    "glossary",
    "answers",
    "teacher",
    "learner",
];

/// What a booklet says for one reader.
pub const OF_A_READER: &[&str] = &[
    "text",
    "caution",
    "card",
    "sheet",
    "table",
    "plan",
    "picture",
    "page",
    "worksheet",
    "compare",
    "reckoner",
    "shopping",
    "glossary",
    "answers",
];

/// What the plan of a booklet is asked for.
pub const OF_A_PLAN: &[&str] = &["ready", "start", "awake", "room", "cold", "seed"];

/// What a worksheet says.
pub const OF_A_WORKSHEET: &[&str] = &[
    "hide",
    "level",
    "scale",
    "true hydration",
    "substitute",
    "starter",
    "water temperature",
    "when to begin",
    "mistake",
];

/// What a mixer says.
pub const OF_A_MIXER: &[&str] = &["holds", "friction", "work", "speeds", "machines"];

/// What an oven says.
pub const OF_AN_OVEN: &[&str] = &["holds", "decks", "at", "changes"];

/// What a proofer and a refrigerator say.
pub const OF_A_PLACE: &[&str] = &["holds", "at"];

/// What a board says.
pub const OF_A_BOARD: &[&str] = &["holds"];

/// What a day says.
pub const OF_A_DAY: &[&str] =
    &["order", "without", "on hand", "hours", "room", "flour", "tap", "aim", "note", "caution"];

/// What a tin says.
pub const OF_A_TIN: &[&str] = &["holds", "ml per g", "greased with"];

/// What stands in a step behind its verb.
pub const OF_A_STEP: &[&str] = &[
    "per",
    "at",
    "to",
    "with",
    "in",
    "for",
    "fold",
    "until",
    "covered",
    "uncovered",
    "steamed",
    "vented",
    "fan",
    "then",
    "by",
    "speed",
    "note",
    "caution",
    "hands-on",
    "waiting",
    "allow",
];

/// What makes up a `fold`.
pub const OF_A_FOLD: &[&str] = &["once", "twice", "times", "every", "single", "double"];

/// What stands after `until`, a text beside.
pub const OF_UNTIL: &[&str] = &["volume", "core", "pH"];

/// What stands in `with` for several lines, or for what is left of one.
pub const OF_WITH: &[&str] = &["flours", "everything else", "remaining"];

/// What stands in `ripens`, `stands` and `keeps`.
pub const OF_A_WAIT: &[&str] = &["at", "then"];

/// What stands in `makes`.
pub const OF_A_YIELD: &[&str] = &["at", "baked", "in", "dough", "from"];

/// Amounts without a number.
pub const SOFT_AMOUNTS: &[&str] = &["to taste", "as needed", "the rest", "all", "pinch"];

/// Amounts without a number in other words and languages, below the words of ours.
pub const OTHER_SOFT_AMOUNTS: &[(&str, &[&str])] = &[
    (
        "as needed",
        &[
            "as required",
            "as per requirement",
            "as per need",
            "as necessary",
            "if needed",
            "nach Bedarf",
            "selon besoin",
            "quanto basta",
            "qb",
            "qs",
            "c/n",
            "cantidad necesaria",
            "lo necesario",
        ],
    ),
    (
        "to taste",
        &[
            "as per taste",
            "per taste",
            "according to taste",
            "or to taste",
            "nach Geschmack",
            "au goût",
            "selon le goût",
            "selon votre goût",
            "al gusto",
            "a gusto",
            "a piacere",
        ],
    ),
];

/// A pinch, in five languages.
pub const PINCHES: &[&str] = &[
    "pinch", "pinches", "Prise", "Prisen", "pincée", "pincées", "pizzico", "pizzichi", "pizca",
    "pizcas",
];

/// What stands between an amount and what it is of.
pub const OF: &[&str] = &["of", "de", "di"];

/// What stands after a number for a bought portion, whose weight stands beside it.
pub const PACKETS: &[&str] = &[
    "sachet",
    "sachets",
    "packet",
    "packets",
    "packages",
    "package",
    "pkg",
    "pkt",
    "envelope",
    "envelopes",
    "Päckchen",
    "Pck",
    "Pk",
    "bustina",
    "bustine",
    "sobre",
    "sobres",
];

/// What a percentage may be of, a name beside.
pub const BASES: &[&str] = &["flour", "added flour", "dough", "base dough"];

/// What may follow an amount.
pub const BEHIND_AN_AMOUNT: &[&str] = &["kept back", "from", "not split"];

/// What is said of pieces that are counted.
pub const SIZES: &[&str] = &[
    "small",
    "medium",
    "large",
    "extra-large",
    "jumbo",
    "gros",
    "grosses",
    "moyens",
    "petits",
    "große",
    "mittlere",
    "mittelgroße",
    "kleine",
    "grandi",
    "medie",
    "piccole",
    "grandes",
    "medianos",
    "pequeños",
];

/// What is said after a number of things that are counted anyway.
pub const PIECES: &[&str] =
    &["Stück", "Stk", "pcs", "pieces", "pièces", "pezzi", "piezas", "unidades"];

/// Words that say how an ingredient was prepared, or what it is like.
const PREPARED: &[&str] = &[
    "sifted",
    "sieved",
    "beaten",
    "whisked",
    "melted",
    "softened",
    "soft",
    "chopped",
    "diced",
    "sliced",
    "grated",
    "shredded",
    "toasted",
    "roasted",
    "crushed",
    "ground",
    "cracked",
    "cooled",
    "cold",
    "chilled",
    "warm",
    "lukewarm",
    "tepid",
    "hot",
    "crumbled",
    "mashed",
    "drained",
    "rinsed",
    "peeled",
    "cored",
    "pitted",
    "stoned",
    "cubed",
    "halved",
    "quartered",
    "torn",
    "minced",
    "zested",
    "squeezed",
    "separated",
    "divided",
    "optional",
    "packed",
    "pressed",
    "browned",
    "caramelised",
    "caramelized",
    "plumped",
    "warmed",
    "thawed",
    "defrosted",
    "ripe",
    "bubbly",
];

/// Words between those that prepare, and how they are done.
const PREPARING: &[&str] = &[
    "and",
    "or",
    "then",
    "finely",
    "roughly",
    "coarsely",
    "lightly",
    "freshly",
    "well",
    "very",
    "thinly",
    "thickly",
    "until",
    "to",
    "if",
    "at",
    "room",
    "temperature",
    "in",
    "into",
    "pieces",
    "cubes",
    "slices",
    "small",
    "large",
    "overnight",
    "firmly",
    "loosely",
];

/// Whether a word behind a comma may say how an ingredient was prepared.
pub fn is_preparation(word: &str) -> bool {
    let among = |known: &[&str]| known.iter().any(|known| known.eq_ignore_ascii_case(word));
    among(PREPARED) || among(PREPARING)
}

/// Names with a fixed meaning, which nothing else can have; those of figures have one too.
const TAKEN_NAMES: &[&str] =
    &["final dough", "base dough", "added flour", "total", "flours", "everything else"];

/// Figures that an ingredient is called like as well: all of it is the figure.
pub const BOTH: &[&str] = &["water", "salt", "sugar", "fat"];

/// Whether a name has a meaning of its own. Those that are figures and ingredients are
/// not for the names of stages and the like.
pub fn is_taken(key: &str) -> bool {
    TAKEN_NAMES.contains(&key)
        || FIGURES.iter().any(|(name, _)| *name == key && !BOTH.contains(name))
}

/// The figures that a claim or a style asks for, and what their value is written in.
pub const FIGURES: &[(&str, WrittenIn)] = &[
    ("hydration", WrittenIn::Share),
    ("effective hydration", WrittenIn::Share),
    ("true hydration", WrittenIn::Share),
    ("liquids", WrittenIn::Share),
    ("salt", WrittenIn::Share),
    ("sugar", WrittenIn::Share),
    ("fat", WrittenIn::Share),
    ("water", WrittenIn::Share),
    ("leavening", WrittenIn::Share),
    ("prefermented flour", WrittenIn::Share),
    ("inoculation", WrittenIn::Share),
    ("loss", WrittenIn::Share),
    ("bake loss", WrittenIn::Share),
    ("make-up loss", WrittenIn::Share),
    ("total percentage", WrittenIn::Share),
    ("yield", WrittenIn::Share),
    ("salt as eaten", WrittenIn::Share),
    ("salt as declared", WrittenIn::Share),
    ("salt in other ingredients", WrittenIn::Share),
    ("yeast as fresh", WrittenIn::Share),
    ("elapsed", WrittenIn::Time),
    ("hands-on", WrittenIn::Time),
    ("ice", WrittenIn::Mass),
    ("dough", WrittenIn::Mass),
    ("piece", WrittenIn::Mass),
    ("piece baked", WrittenIn::Mass),
    ("piece as eaten", WrittenIn::Mass),
    ("flour", WrittenIn::Mass),
    ("water temperature", WrittenIn::Temperature),
    ("dough yield", WrittenIn::Number),
    ("pieces", WrittenIn::Number),
];

/// What the value of a figure, an ingredient, a stage or a class is written in.
pub fn figure(key: &str) -> WrittenIn {
    FIGURES.iter().find(|(name, _)| *name == key).map_or(WrittenIn::Other, |(_, figure)| *figure)
}

/// In what a figure is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrittenIn {
    /// In per cent.
    Share,
    /// In a unit of time.
    Time,
    /// In a unit of weight.
    Mass,
    /// In a unit of temperature.
    Temperature,
    /// Written without a unit.
    Number,
    /// An ingredient, a stage or a class: any amount can be claimed of it.
    Other,
}

/// Verbs that are said for one of ours, with ours; of those that depend on where the step
/// stands (`by_context`), the usual one. Of several that fit, the longest is meant.
pub const OTHER_VERBS: &[(&str, &str)] = &[
    ("knead", "mix"),
    ("combine", "mix"),
    ("stir", "mix"),
    ("whisk", "mix"),
    ("beat", "mix"),
    ("blend", "mix"),
    ("add", "mix"),
    ("incorporate", "mix"),
    ("fold in", "mix"),
    ("fold through", "mix"),
    ("stir in", "mix"),
    ("stir through", "mix"),
    ("work in", "mix"),
    ("rub in", "mix"),
    ("cut in", "mix"),
    ("add in", "mix"),
    ("ferment", "bulk"),
    ("rise", "bulk"),
    ("first rise", "bulk"),
    ("bulk ferment", "bulk"),
    ("bulk fermentation", "bulk"),
    ("bulk rise", "bulk"),
    ("first prove", "bulk"),
    ("first proof", "bulk"),
    ("prove", "proof"),
    ("second rise", "proof"),
    ("second prove", "proof"),
    ("second proof", "proof"),
    ("final rise", "proof"),
    ("final prove", "proof"),
    ("final proof", "proof"),
    ("portion", "divide"),
    ("scale", "divide"),
    ("cold retard", "retard"),
    ("cold proof", "retard"),
    ("cold prove", "retard"),
    ("cold ferment", "retard"),
    ("cold rise", "retard"),
    ("cut", "divide"),
    ("round", "preshape"),
    ("pre-shape", "preshape"),
    ("mould", "shape"),
    ("mold", "shape"),
    ("form", "shape"),
    ("roll", "shape"),
    ("roll out", "shape"),
    ("roll up", "shape"),
    ("pat", "shape"),
    ("pat out", "shape"),
    ("press out", "shape"),
    ("final shape", "shape"),
    ("final shaping", "shape"),
    ("shaping", "shape"),
    ("slap and fold", "mix"),
    ("slash", "score"),
    ("autolyze", "autolyse"),
    ("stretch and fold", "fold"),
    ("stretch-and-fold", "fold"),
    ("stretch and folds", "fold"),
    ("stretch-and-folds", "fold"),
    ("coil folds", "fold"),
    ("coil fold", "fold"),
    ("knock back", "fold"),
    ("punch down", "fold"),
    ("deflate", "fold"),
    ("degas", "fold"),
    ("stand", "rest"),
    ("leave", "rest"),
    ("leave alone", "rest"),
    ("keep", "rest"),
    ("relax", "rest"),
    ("bench rest", "rest"),
    ("set aside", "rest"),
    ("refrigerate", "chill"),
    ("into the fridge", "chill"),
    ("put in the fridge", "chill"),
    ("put into the fridge", "chill"),
    ("place in the fridge", "chill"),
    ("move to the fridge", "chill"),
    ("transfer to the fridge", "chill"),
    ("in the fridge", "chill"),
    ("brush", "glaze"),
    ("sprinkle", "top"),
    ("scatter", "top"),
    ("flip", "turn"),
    ("flip over", "turn"),
    ("turn over", "turn"),
    ("deep-fry", "fry"),
    ("deep fry", "fry"),
    ("poach", "boil"),
    ("roast", "bake"),
    ("cook", "bake"),
    ("plait", "shape"),
    ("braid", "shape"),
    ("twist", "shape"),
    ("flatten", "shape"),
    ("stretch", "shape"),
    ("drizzle", "top"),
    ("transfer to", "pan"),
];

/// Verbs whose meaning depends on where the step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ByContext {
    /// Before the dough is shaped it is its bulk, between dividing and shaping a rest, and
    /// after shaping its proof.
    Rise,
    /// After baking bread cools; a dough that is left alone rests before it is mixed again,
    /// and rises else.
    Leave,
    /// In the cold for long, dough is retarded.
    Refrigerate,
    /// Where shaping follows, only before it.
    Round,
    /// Dough is divided, bread is sliced.
    Cut,
}

/// How a verb that is said for one of ours depends on where it stands.
pub fn by_context(said: &str) -> Option<ByContext> {
    Some(match said {
        "rise" | "ferment" | "prove" => ByContext::Rise,
        "leave" | "leave alone" | "keep" => ByContext::Leave,
        "refrigerate"
        | "into the fridge"
        | "put in the fridge"
        | "put into the fridge"
        | "place in the fridge"
        | "move to the fridge"
        | "transfer to the fridge"
        | "in the fridge" => ByContext::Refrigerate,
        "round" => ByContext::Round,
        "cut" => ByContext::Cut,
        _ => return None,
    })
}

/// What is said before a step and says only when it comes.
pub const WHEN: &[&str] = &[
    "finally",
    "lastly",
    "next",
    "then",
    "first",
    "first of all",
    "afterwards",
    "after that",
    "now",
    "to finish",
    "at the end",
];

/// What is said before a verb and says no more than the verb.
pub const BEFORE_A_VERB: &[&str] = &[
    "turn out and",
    "turn out and let",
    "turn out and leave to",
    "turn out of the tin and",
    "turn out onto a rack and",
    "turn out onto a wire rack and",
    "remove from the tin and",
    "remove from the oven and",
    "take out of the tin and",
    "take out of the oven and",
    "leave to",
    "leave it to",
    "leave the dough to",
    "let it",
    "let the dough",
    "let them",
    "let the loaves",
    "let",
    "let dough",
    "let it all",
    "leave dough to",
    "leave them to",
    "leave everything to",
    "allow dough to",
    "allow them to",
    "allow to",
    "allow it to",
    "allow the dough to",
    "now",
    "again",
];

/// What a verb is done to, which is understood.
pub const UNDERSTOOD: &[&str] = &[
    "the dough",
    "the top",
    "the tops",
    "dough",
    "the oven",
    "your oven",
    "oven",
    "the loaves",
    "loaves",
    "the loaf",
    "loaf",
    "the bread",
    "the rolls",
    "the balls",
    "the pieces",
    "pieces",
    "it",
    "them",
    "again",
    "teig",
    "den teig",
    "die teiglinge",
    "teiglinge",
    "das brot",
    "brot",
    "die brote",
    "brote",
    "die laibe",
    "laibe",
    "die brötchen",
    "brötchen",
    "den ofen",
    "backofen",
    "ofen",
    "den backofen",
    "im ofen",
    "la pâte",
    "les pâtons",
    "le pain",
    "les pains",
    "les baguettes",
    "les boules",
    "le four",
    "au four",
    "l'impasto",
    "il pane",
    "i pani",
    "i panini",
    "i filoni",
    "le pagnotte",
    "i panetti",
    "il forno",
    "in forno",
    "la masa",
    "el pan",
    "los panes",
    "las bolas",
    "las piezas",
    "los bollos",
    "las barras",
    "el horno",
    "al horno",
    "completely",
    "gently",
    "well",
    "lightly",
    "thoroughly",
    "together",
];

/// Verbs that are said for one of ours and stay as they are said, in files and on paper:
/// who is told to mix does not knead, and who is told to fold knocks nothing back.
pub const KEPT_VERBS: &[&str] = &[
    "knead",
    "stir",
    "whisk",
    "beat",
    "knock back",
    "punch down",
    "roll out",
    "plait",
    "braid",
    "brush",
    "sprinkle",
];

/// The verb that stays as it is said.
pub fn kept_verb(said: &str) -> Option<&'static str> {
    KEPT_VERBS.iter().find(|kept| kept.eq_ignore_ascii_case(said)).copied()
}

/// The verb of ours that another one is said for.
pub fn other_verb(word: &str) -> Option<&'static str> {
    OTHER_VERBS.iter().find(|(other, _)| *other == word).map(|(_, ours)| *ours)
}

/// The verb that is said for one of ours and of which a word in lower case is a slip: `kneed`.
pub fn near_other_verb(word: &str) -> Option<&'static str> {
    // Of shorter words one letter makes too many others.
    const LEAST: usize = 5;
    let known = OTHER_VERBS.iter().map(|(other, _)| *other);
    let known = known.filter(|other| other.len() >= LEAST && !other.contains(' '));
    match nearest_names(word, known, |_| false).as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

/// Words for degrees, which do not say of which scale.
pub const DEGREES: &[&str] =
    &["degrees", "degree", "degs", "deg", "grad", "degrés", "degré", "gradi", "grados"];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reserved_words_are_these_and_no_others() {
        let reserved = "at to with until then in by like fold speed note caution covered \
                        uncovered steamed vented hands-on waiting is the as all fan also";
        assert!(reserved.split(' ').all(is_reserved));
        assert!(is_reserved("With"));
        for free in ["of", "for", "from", "per", "every", "times", "rest", "all-purpose", "kept"] {
            assert!(!is_reserved(free), "{free}");
        }
    }

    #[test]
    fn words_of_the_language_ignore_case() {
        assert_eq!(&*Lower::of("Preferment"), "preferment");
        assert_eq!(&*Lower::of("crème"), "");
        assert_eq!(&*Lower::of("extraordinarily-long"), "");
    }

    #[test]
    fn a_slip_is_near_and_another_word_is_not() {
        assert_eq!(near("Totl", OF_A_FORMULA), Some("total"));
        assert_eq!(near("ripnes", OF_A_STAGE), Some("ripens"));
        assert_eq!(near("banana", OF_A_FORMULA), None);
        assert_eq!(near(&"total".repeat(100), OF_A_FORMULA), None);
    }
}
