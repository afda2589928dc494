//! What people say for words of ours: in files, formulas and houses, of ingredients and in
//! claims, in five languages.

use crate::syntax::name::identifier_of;
use crate::syntax::tree::StageKind;

/// Words that begin a line, and what to write for them.
type SaidFor = (&'static [&'static str], &'static str);

const IN_A_BAKEHOUSE: &[SaidFor] = &[
    (
        &["temperature", "ambient", "kitchen", "raumtemperatur"],
        "how warm the room is, is written `room 21C`",
    ),
    (
        &["fridge", "retarder"],
        "how cold the refrigerator is, is written `cold 4C`; a plan takes `--cold 4C`",
    ),
    (
        &["timezone", "time", "tz", "clock"],
        "the time zone is written with its region, as in `zone Europe/Paris`",
    ),
    (
        &["name", "title", "bakery", "owner"],
        "the name goes into the head: `bakehouse \"Gullhaven Bakehouse\" { … }`",
    ),
    (
        &["locale", "lang", "sprache", "langue", "lingua", "idioma"],
        "write `language` and its letters, as in `language de`",
    ),
    (&["unit", "system", "weights"], "write `units metric` or `units US`"),
    (&["cups", "spoons", "measurements"], "write `measures metric` or `measures US`"),
    (&["money"], "write `currency` and its three letters, as in `currency EUR`"),
    (&["opening", "open", "shift", "shifts"], "write when there are hands: `hours 03:30..13:00`"),
    (&["scales"], "write what the scale shows: `scale 1 g`"),
    (&["color"], "write `colour`"),
    (
        &["address", "website", "phone", "email", "contact"],
        "write what the prints say at their foot: `footer \"…\"`",
    ),
    (
        &["altitude", "elevation", "humidity"],
        "no figure is worked out from it: keep it as a comment, with `#` before it",
    ),
];

const OF_AN_INGREDIENT: &[SaidFor] = &[
    (
        &["calories", "calorie", "kcal", "kj", "energy value"],
        "write `energy` and its unit, as in `energy 364 kcal`",
    ),
    (&["carbs", "carb", "carbohydrates", "total carbohydrate"], "write `carbohydrate 70%`"),
    (&["fiber", "fibers", "dietary fiber", "dietary fibre"], "write `fibre 3%`"),
    (
        &["saturated", "saturated fat", "saturated fats", "saturates fat", "of which saturates"],
        "write `saturates 0.3%`",
    ),
    (&["of which sugars", "total sugars"], "write `sugars 1%`"),
    (&["moisture", "hydration", "humidity"], "what water is in it is written `water 12%`"),
    (&["cost", "costs", "unit price"], "write `price 14 EUR per kg`"),
    (&["allergen", "allergens"], "write `contains` and what it is, as in `contains wheat`"),
    (
        &["traces", "may have", "traces of"],
        "write `may contain` and what it is, as in `may contain milk`",
    ),
    (
        &["gluten free", "gluten-free", "dairy free", "nut free", "milk free", "egg free"],
        "say what is in it: `contains` with its allergens, or `contains nothing` where it holds \
         none of them; and `free from milk \"what shows it\"` where its name tells of milk",
    ),
    (
        &["vegan", "vegetarian", "plant-based", "plant based"],
        "say what of animals is in it: `animal milk`, or `animal nothing`",
    ),
    (&["brand", "supplier", "producer", "mill", "maker", "origin"], "write `source \"…\"`"),
    (
        &["density", "specific gravity"],
        "write what a measure of it weighs, as in `volume 1 cup weighs 125 g`",
    ),
    (
        &["weight", "mass", "weighs", "size"],
        "write what one of it weighs, `each 50 g`, or what is paid for it, `price 14 EUR per kg`",
    ),
    (&["alias", "aka", "synonym", "synonyms", "name"], "write its other names: `also \"…\"`"),
    (
        &["class", "type", "category", "kind"],
        "how it counts stands in its head: `ingredient NAME is a flour { … }`",
    ),
];

/// What a block with another word before it is meant as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Block {
    /// A block of ours, by its word.
    Ours(&'static str),
    /// A stage that is called by the words before it.
    Stage(StageKind),
    /// A side mix that is called by the words before it.
    Mixture,
}

const BLOCKS: &[(Block, &[&str])] = &[
    (
        Block::Ours("dough"),
        &[
            "ingredients",
            "ingredient",
            "ingredient list",
            "the ingredients",
            "ingredients list",
            "bread",
            "loaf",
            "recipe",
            "final dough",
            "main dough",
            "dough ingredients",
            "bread dough",
            "zutaten",
            "teig",
            "hauptteig",
            "brotteig",
            "grundteig",
            "rezept",
            "ingrédients",
            "pâte",
            "pâte finale",
            "pâte à pain",
            "ingredienti",
            "impasto",
            "impasto finale",
            "pasta",
            "pasta finale",
            "ingredientes",
            "masa",
            "masa final",
            "masa de pan",
        ],
    ),
    (
        Block::Ours("method"),
        &[
            "instructions",
            "instruction",
            "directions",
            "steps",
            "process",
            "procedure",
            "preparation",
            "how to",
            "how to make it",
            "how to make",
            "methods",
            "zubereitung",
            "anleitung",
            "arbeitsschritte",
            "schritte",
            "verfahren",
            "herstellung",
            "ablauf",
            "arbeitsablauf",
            "préparation",
            "étapes",
            "méthode",
            "procédé",
            "déroulement",
            "réalisation",
            "procedimento",
            "preparazione",
            "esecuzione",
            "svolgimento",
            "istruzioni",
            "passaggi",
            "preparación",
            "preparacion",
            "procedimiento",
            "elaboración",
            "elaboracion",
            "pasos",
            "instrucciones",
            "método",
            "metodo",
            "modo de preparación",
        ],
    ),
    (
        Block::Ours("expect"),
        &[
            "check",
            "checks",
            "claim",
            "expected",
            "expects",
            "targets",
            "target",
            "figures",
            "erwartet",
            "erwarte",
            "erwartung",
            "soll",
            "sollwerte",
            "zielwerte",
            "attendu",
            "attendus",
            "vérifications",
            "atteso",
            "attesi",
            "verifiche",
            "esperado",
            "esperados",
            "comprobaciones",
        ],
    ),
    (
        Block::Ours("total"),
        &[
            "overall formula",
            "total formula",
            "formula",
            "baker's percentages",
            "gesamt",
            "gesamtteig",
            "gesamtrezept",
            "gesamtrezeptur",
            "rezeptur",
            "grundrezept",
            "formule",
            "formule totale",
            "totaux",
            "totale",
            "totali",
            "formula totale",
            "fórmula",
            "fórmula total",
            "totales",
        ],
    ),
    (
        Block::Ours("piece"),
        &[
            "topping",
            "toppings",
            "garnish",
            "decoration",
            "finish",
            "finishing",
            "pieces",
            "belag",
            "garniture",
            "guarnizione",
            "decoración",
            "decoracion",
        ],
    ),
    (
        Block::Stage(StageKind::Preferment),
        &[
            "starter",
            "ferment",
            "leaven",
            "levain build",
            "sourdough",
            "vorteig",
            "sauerteig",
            "hefeansatz",
            "dampfl",
            "ansatz",
            "levain-levure",
            "levain tout point",
            "pâte fermentée",
            "prefermento",
            "pre-fermento",
            "masa madre",
            "esponja",
            "fermento",
            "lievitino",
            "pasta madre",
            "pasta di riporto",
            "pre-dough",
            "old dough",
        ],
    ),
    (
        Block::Stage(StageKind::Soaker),
        &["quellstück", "trempage", "remojo", "ammollo", "seed soaker", "grain soaker", "soak"],
    ),
    (
        Block::Stage(StageKind::Scald),
        &[
            "brühstück",
            "kochstück",
            "mehlkochstück",
            "tangzhong",
            "yudane",
            "water roux",
            "roux",
            "échaudage",
            "escaldado",
            "scalded flour",
            "scalding",
        ],
    ),
    (
        Block::Mixture,
        &[
            "filling",
            "egg wash",
            "glaze",
            "icing",
            "frosting",
            "syrup",
            "wash",
            "paste",
            "flour paste",
            "streusel",
            "crumble",
            "custard",
            "brine",
            "bath",
            "malt bath",
            "lye bath",
            "füllung",
            "guss",
            "zuckerguss",
            "eistreiche",
            "dorure",
            "glaçage",
            "sirop",
            "ripieno",
            "glassa",
            "relleno",
            "glaseado",
            "almíbar",
            "cobertura",
        ],
    ),
];

/// Words before the name of a stage: `stage poolish { … }`.
const STAGES: &[&str] = &["stage", "pre-ferment", "preferments", "pre-ferments", "preparation"];

/// What a block is meant as whose head in a formula is none of ours.
pub fn block(head: &str) -> Option<Block> {
    let head = head.trim().trim_end_matches(':').trim_end().to_lowercase();
    // `day 1 { … }`
    let day = head.strip_prefix("day ").map(str::trim);
    if day.is_some_and(|day| !day.is_empty() && day.bytes().all(|it| it.is_ascii_digit())) {
        return Some(Block::Ours("method"));
    }
    let known = BLOCKS.iter().find(|(_, all)| all.contains(&head.as_str()));
    known.map(|(block, _)| *block)
}

/// Whether a word is said before the name of a stage.
pub fn names_a_stage(word: &str) -> bool {
    STAGES.contains(&word)
}

/// What a declaration with another word before it is meant as.
pub fn declaration(word: &str) -> Option<&'static str> {
    Some(match word.to_lowercase().as_str() {
        "recipe" | "recipes" | "bread" | "loaf" | "rezept" | "brotrezept" | "recette" | "pain"
        | "ricetta" | "pane" | "receta" | "formel" | "formule" | "fórmula" | "brot" => "formula",
        "bakery" | "kitchen" | "house" | "settings" | "config" | "bäckerei" | "backstube"
        | "boulangerie" | "fournil" | "panificio" | "panadería" | "panaderia" | "obrador" => {
            "bakehouse"
        }
        _ => return None,
    })
}

const IN_A_FORMULA: &[SaidFor] = &[
    (
        &[
            "prep time",
            "preparation time",
            "cook time",
            "cooking time",
            "baking time",
            "bake time",
            "total time",
            "rising time",
            "ready in",
            "fertig in",
            "prêt en",
            "pronto in",
            "listo en",
            "time",
            "duration",
        ],
        "how long it takes follows from the method; claim it, `expect { elapsed 3h }`, or keep it \
         as `note \"…\"`",
    ),
    (
        &[
            "difficulty",
            "level",
            "category",
            "cuisine",
            "course",
            "tags",
            "tag",
            "keywords",
            "rating",
            "date",
            "version",
            "tip",
            "tips",
            "hint",
            "remark",
            "remarks",
            "comment",
            "variations",
            "photo",
            "image",
            "video",
            "season",
        ],
        "keep it as `note \"…\"`",
    ),
    (
        &["author", "by", "url", "link", "website", "adapted from", "inspired by", "credit"],
        "keep it as `source \"…\"`",
    ),
    (
        &["vegan", "vegetarian", "végétalien", "végan", "vegano", "vegana", "vegetarisch"],
        "it is claimed, so that it is checked: `expect { vegan }` or `expect { vegetarian }`",
    ),
    (
        &[
            "nut free",
            "nut-free",
            "gluten free",
            "gluten-free",
            "dairy free",
            "dairy-free",
            "egg free",
            "egg-free",
            "milk free",
            "free from",
            "glutenfrei",
            "laktosefrei",
            "nussfrei",
            "sans gluten",
            "sans lait",
            "sans œufs",
            "senza glutine",
            "senza latte",
            "sin gluten",
            "sin leche",
            "sin huevo",
            "contains no",
            "no nuts",
        ],
        "it is claimed, so that it is checked: `expect { free from nuts }`, with the allergen \
         that is meant",
    ),
    (
        &[
            "contains",
            "may contain",
            "allergens",
            "allergen",
            "enthält",
            "contient",
            "contiene",
            "allergene",
            "allergènes",
            "alérgenos",
            "allergeni",
        ],
        "allergens are told from what the ingredients contain, and printed on every card; nothing \
         has to be written",
    ),
    (
        &[
            "keeps",
            "keep",
            "store",
            "store in",
            "freezes",
            "hält",
            "se conserve",
            "si conserva",
            "se conserva",
        ],
        "write `storage \"…\"`, as in `storage \"Keeps for 3 days in a tin.\"`",
    ),
    (
        &["description", "intro", "introduction", "about", "summary", "story"],
        "write `headnote \"…\"`",
    ),
    (&["title", "name"], "the title goes into the head: `formula my-loaf \"My Loaf\" { … }`"),
    (
        &[
            "warning",
            "warnings",
            "danger",
            "attention",
            "achtung",
            "vorsicht",
            "warnung",
            "avertissement",
            "prudence",
            "avvertenza",
            "avvertenze",
            "attenzione",
            "advertencia",
            "advertencias",
            "atención",
            "cuidado",
        ],
        "write `caution \"…\"`",
    ),
    (
        &[
            "notiz",
            "notizen",
            "hinweis",
            "hinweise",
            "tipp",
            "tipps",
            "anmerkung",
            "remarque",
            "remarques",
            "astuce",
            "conseil",
            "nota",
            "notas",
            "consejo",
            "truco",
            "consiglio",
            "consigli",
            "suggerimento",
        ],
        "write `note \"…\"`",
    ),
    (
        &["quelle", "fuente", "fonte", "autor", "auteur", "autore", "d'après"],
        "write `source \"…\"`",
    ),
    (
        &[
            "tools",
            "tool",
            "utensils",
            "special equipment",
            "ausrüstung",
            "geräte",
            "zubehör",
            "matériel",
            "ustensiles",
            "équipement",
            "attrezzatura",
            "attrezzi",
            "utensili",
            "utensilios",
            "material",
            "equipo",
        ],
        "write `equipment \"…\"`",
    ),
    (
        &[
            "storing",
            "keeping",
            "shelf life",
            "best before",
            "lagerung",
            "aufbewahrung",
            "haltbarkeit",
            "conservation",
            "conserver",
            "conservazione",
            "conservación",
            "conservacion",
            "almacenamiento",
        ],
        "write `storage \"…\"`",
    ),
    (
        &[
            "einleitung",
            "beschreibung",
            "introduzione",
            "descrizione",
            "introducción",
            "descripción",
        ],
        "write `headnote \"…\"`",
    ),
    (
        &["stil", "stile", "estilo", "typ", "tipo"],
        "write `style` and its name, as in `style baguette`",
    ),
    (
        &[
            "backverlust",
            "ausbackverlust",
            "perte à la cuisson",
            "perte de cuisson",
            "calo peso",
            "calo in cottura",
            "calo di cottura",
            "merma",
            "pérdida de cocción",
            "baking loss",
            "oven loss",
            "weight loss",
        ],
        "write `bake loss 12%`",
    ),
    (
        &["oven", "oven temperature", "temperature", "baking temperature", "bake at"],
        "it belongs to a step of the method, as in `bake 40min at 230C`",
    ),
];

const IN_A_FILE: &[SaidFor] = &[
    (
        &["include", "import", "use", "require", "load"],
        "nothing needs to be fetched: all files of a bakehouse see what the others declare",
    ),
    (
        &["order", "orders", "production", "schedule"],
        "orders stand in a day: `day 2026-12-05 \"Saturday\" { order quay-loaf 20 loaves by 07:00 }`",
    ),
];

/// Words before a block of a file that declares what ours do.
const DECLARED: &[SaidFor] = &[
    (
        &["zutat", "ingrédient", "ingrediente"],
        "an ingredient of your own is declared `ingredient rye rests is other { … }`; what goes into \
         a dough stands in a formula: `dough { … }`",
    ),
    (
        &[
            "kultur",
            "sauerteig",
            "anstellgut",
            "levain",
            "levain chef",
            "lievito madre",
            "lievito",
            "pasta madre",
            "masa madre",
            "cultura",
            "sourdough",
            "leaven",
            "mother",
        ],
        "a starter of your own is declared `culture my starter { bread flour 100%; water 100% }`",
    ),
    (
        &["mischung", "mélange", "miscela", "mezcla"],
        "a side mix is declared `mixture egg wash { … }`",
    ),
    (
        &["tag", "jour", "giorno", "día", "dia"],
        "a day is written `day 2026-12-05 \"Saturday\" { … }`",
    ),
    (&["stil", "stile", "estilo"], "a style is written `style my-style { hydration 65%..75% }`"),
    (
        &["heft", "livret", "cahier", "libretto", "cuaderno", "folleto", "handout"],
        "a booklet is written `booklet spring-course \"Spring course\" { … }`",
    ),
    (
        &["stufe", "vorstufe", "étape", "fase", "etapa"],
        "a stage is written `preferment poolish { … }`",
    ),
];

/// What to write for a declaration that begins with a word of another language.
pub fn declared(head: &str) -> Option<&'static str> {
    said(DECLARED, head)
}

/// What to write for a word of a file that declares nothing.
pub fn in_a_file(line: &str) -> Option<&'static str> {
    said(IN_A_FILE, line)
}

/// Words for what a formula makes, and for how many it serves.
const YIELDS: &[&str] = &[
    "yield",
    "yields",
    "quantity",
    "batch",
    "produces",
    "gives",
    "ergibt",
    "menge",
    "ergiebigkeit",
    "donne",
    "rendement",
    "dosi per",
    "dosi",
    "resa",
    "rinde",
    "rendimiento",
    "pour",
    "para",
    "per",
    "für",
    "for",
];
const SERVES: &[&str] = &[
    "serves",
    "servings",
    "portions",
    "portionen",
    "feeds",
    "porzioni",
    "porciones",
    "raciones",
    "serve",
];
const PERSONS: &[&str] =
    &["people", "persons", "personen", "personnes", "persone", "personas", "servings", "portions"];

/// What to write for a statement of a formula that is called otherwise.
pub fn in_a_formula(line: &str) -> Option<String> {
    let line = line.trim();
    let lower = line.to_lowercase();
    let begun = |words: &[&str]| {
        let begins = |word: &&&str| {
            lower
                .strip_prefix(**word)
                .is_some_and(|rest| !rest.starts_with(|next: char| next.is_alphanumeric()))
        };
        words.iter().filter(begins).map(|word| word.len()).max()
    };
    let amount = |at: usize| {
        let rest = line.get(at..).unwrap_or_default().trim_start_matches([':', '=', ' ']);
        rest.starts_with(|first: char| first.is_ascii_digit()).then(|| rest.trim().to_owned())
    };
    let number = |rest: &str| {
        let end = rest.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(rest.len());
        rest.get(..end).unwrap_or_default().to_owned()
    };
    if let Some(part) = lower.strip_prefix("for the ")
        && let Some(ours) = match part.trim_end_matches(':').trim() {
            "dough" => Some("dough"),
            part => match block(part) {
                Some(Block::Ours(ours)) => Some(ours),
                _ => None,
            },
        }
    {
        // `For the dough:`
        return Some(format!("write `{ours} {{ … }}`"));
    }
    let of_persons = PERSONS.iter().any(|word| lower.ends_with(word));
    if let Some(at) = begun(SERVES).or_else(|| begun(YIELDS).filter(|_| of_persons)) {
        let served = amount(at).map_or("4".to_owned(), |rest| number(&rest));
        return Some(format!("write for how many it is, `serves {served}`"));
    }
    if let Some(at) = begun(YIELDS) {
        let made = amount(at).unwrap_or_else(|| "2 loaves".to_owned());
        return Some(format!("write what it makes, `makes {made}`"));
    }
    said(IN_A_FORMULA, line).map(str::to_owned)
}

/// The name and the title that the head of a formula most likely means, without its quotes
/// and whatever stands before them.
pub fn head(written: &str) -> Option<(String, String)> {
    let written = written.trim().trim_start_matches(':').trim();
    let quotes = ['"', '\'', '‘', '’', '“', '”', '„', '«', '»'];
    // The `'` of `Grandma's Bread` is no quote.
    let is_quote = |(at, sign): &(usize, char)| {
        let inside = written[..*at].chars().last().is_some_and(char::is_alphanumeric)
            && written[*at..].chars().nth(1).is_some_and(char::is_alphanumeric);
        quotes.contains(sign) && !(inside && matches!(sign, '\'' | '’' | '‘'))
    };
    let opens = written.char_indices().find(is_quote).map(|(at, _)| at);
    let (before, title) = match opens {
        Some(at) => {
            let (before, title) = written.split_at(at);
            (before.trim(), title.trim_matches(|sign| quotes.contains(&sign) || sign == ' '))
        }
        None => match written.split_once(' ') {
            Some((first, rest)) if first.contains('-') && first == identifier_of(first) => {
                (first, rest.trim())
            }
            _ => ("", written),
        },
    };
    let name = identifier_of(if before.is_empty() { title } else { before });
    let is_plain = !title.is_empty() && !title.contains(['"', '\\', '{', '\n']);
    (is_plain && !name.is_empty()).then(|| (name, title.to_owned()))
}

/// Whether a table has the longest beginning of a line, and what it says of it.
fn said(table: &[SaidFor], line: &str) -> Option<&'static str> {
    let line = line.to_lowercase();
    let begins = |said: &str| {
        line.strip_prefix(said)
            .is_some_and(|rest| !rest.starts_with(|next: char| next.is_alphanumeric()))
    };
    let known = table.iter().flat_map(|(all, help)| all.iter().map(move |said| (said, help)));
    known.filter(|(said, _)| begins(said)).max_by_key(|(said, _)| said.len()).map(|(_, help)| *help)
}

/// What to write for a setting of a house that is called otherwise.
pub fn in_a_bakehouse(line: &str) -> Option<&'static str> {
    said(IN_A_BAKEHOUSE, line)
}

/// What to write for a fact of an ingredient that is called otherwise.
pub fn of_an_ingredient(line: &str) -> Option<&'static str> {
    said(OF_AN_INGREDIENT, line)
}

/// The allergen of a claim of absence that is no `free from`: `gluten-free`, `no milk`.
pub fn absent(line: &str) -> Option<String> {
    let line = line.trim().to_lowercase();
    let after = ["contains no ", "contain no ", "free of ", "without ", "no "];
    let named = after.iter().find_map(|said| line.strip_prefix(said));
    let named =
        named.or_else(|| line.strip_suffix("free").map(|it| it.trim_end_matches(['-', ' '])));
    let named = named.map(str::trim).filter(|named| {
        !named.is_empty() && named.chars().all(|sign| sign.is_alphabetic() || sign == ' ')
    })?;
    Some(if named == "dairy" { "milk".to_owned() } else { named.to_owned() })
}

/// What is no claim, and why.
pub fn in_claims(line: &str) -> Option<&'static str> {
    const NO_CLAIMS: &[SaidFor] = &[
        (
            &["contains", "may contain", "allergens", "enthält", "contient", "contiene"],
            "allergens are worked out from the ingredients and printed on every card; what can be \
             claimed is that one is absent: `free from nuts`",
        ),
        (
            &["halal", "kosher", "koscher", "organic", "bio", "wholegrain", "whole grain", "raw"],
            "a formula can't prove it: write it as `note \"…\"` in the formula",
        ),
    ];
    if line.contains(|sign: char| sign.is_ascii_digit()) {
        return None;
    }
    said(NO_CLAIMS, line)
}

/// A diet that is claimed in other words.
pub fn diet(line: &str) -> Option<&'static str> {
    let line = line.trim().to_lowercase();
    ["vegan", "vegetarian"]
        .into_iter()
        .find(|diet| {
            let rest = line.strip_prefix(diet);
            rest.is_some_and(|rest| [" yes", " true", ": yes", ": true", "!"].contains(&rest))
        })
        .or_else(|| ["plant-based", "plant based"].contains(&line.as_str()).then_some("vegan"))
}

/// `my starter is 100% hydration`: the name of the culture and the water in it.
pub fn culture(head: &str) -> Option<(&str, u32)> {
    let (name, said) = head.trim().split_once(" is ")?;
    let said = said.trim().trim_start_matches("at ").to_lowercase();
    let (water, rest) = said.split_once('%')?;
    let water: u32 = water.trim().parse().ok().filter(|water| (40..=200).contains(water))?;
    let is_culture = ["starter", "culture", "levain", "leaven", "sourdough", "mother"]
        .iter()
        .any(|word| name.to_lowercase().contains(word));
    let is_plain = name.chars().all(|sign| sign.is_alphabetic() || " '-".contains(sign));
    (is_culture && is_plain && rest.trim() == "hydration").then_some((name.trim(), water))
}

/// The letters of a language that is called by its name.
pub fn language(name: &str) -> Option<&'static str> {
    Some(match name.to_lowercase().as_str() {
        "english" | "englisch" | "anglais" | "inglese" | "inglés" => "en",
        "german" | "deutsch" | "allemand" | "tedesco" | "alemán" => "de",
        "french" | "français" | "francais" | "französisch" | "francese" | "francés" => "fr",
        "italian" | "italiano" | "italienisch" | "italien" => "it",
        "spanish" | "español" | "espanol" | "castellano" | "spanisch" | "espagnol" | "spagnolo" => {
            "es"
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::read::words;

    #[test]
    fn what_is_said_for_ours_is_none_of_ours() {
        let ours: [(&[SaidFor], &[&str]); 2] =
            [(IN_A_BAKEHOUSE, words::OF_A_BAKEHOUSE), (OF_AN_INGREDIENT, words::OF_AN_INGREDIENT)];
        for (table, known) in ours {
            for said in table.iter().flat_map(|(said, _)| *said) {
                assert!(!known.contains(said), "{said}");
            }
        }
    }

    #[test]
    fn no_word_for_a_block_is_one_of_ours_nor_said_for_two() {
        let all: Vec<&str> = BLOCKS.iter().flat_map(|(_, all)| *all).copied().collect();
        for said in &all {
            assert!(!words::OF_A_FORMULA.contains(said), "{said}");
            assert_eq!(all.iter().filter(|other| *other == said).count(), 1, "{said}");
            assert!(block(said).is_some());
        }
    }

    #[test]
    fn heads_become_a_name_and_a_title() {
        for (written, name, title) in [
            ("my-loaf My Loaf", "my-loaf", "My Loaf"),
            ("My Loaf", "my-loaf", "My Loaf"),
            ("my-loaf 'My Loaf'", "my-loaf", "My Loaf"),
            ("quay-loaf «Quay Loaf»", "quay-loaf", "Quay Loaf"),
            (": My Loaf", "my-loaf", "My Loaf"),
            ("my-loaf \"My Loaf\"", "my-loaf", "My Loaf"),
        ] {
            assert_eq!(head(written), Some((name.to_owned(), title.to_owned())), "{written}");
        }
        assert_eq!(head("12"), None);
    }

    #[test]
    fn yields_are_said_in_many_ways() {
        for (line, meant) in [
            ("yield 2 loaves", "`makes 2 loaves`"),
            ("Yields: 12 rolls", "`makes 12 rolls`"),
            ("pour 4 personnes", "`serves 4`"),
            ("dosi per 2 pagnotte", "`makes 2 pagnotte`"),
            ("Portionen 4", "`serves 4`"),
            ("prep time 20min", "elapsed"),
        ] {
            let said = in_a_formula(line).unwrap_or_default();
            assert!(said.contains(meant), "{line}: {said}");
        }
        assert_eq!(in_a_formula("bread flour 500 g"), None);
    }

    #[test]
    fn the_longest_beginning_counts() {
        assert!(of_an_ingredient("saturated fat 0.3%").is_some());
        assert!(of_an_ingredient("Carbs 70%").is_some());
        assert_eq!(of_an_ingredient("carbsy 70%"), None);
        assert_eq!(in_a_bakehouse("timezone Europe/Paris"), in_a_bakehouse("time zone"));
    }

    #[test]
    fn absence_is_said_in_many_ways() {
        for (line, named) in [
            ("gluten-free", "gluten"),
            ("dairy free", "milk"),
            ("milk free", "milk"),
            ("no nuts", "nuts"),
            ("contains no milk", "milk"),
            ("free of tree nuts", "tree nuts"),
            ("nutfree", "nut"),
        ] {
            assert_eq!(absent(line).as_deref(), Some(named), "{line}");
        }
        for line in ["free", "hydration 70%", "no 5", "free from milk", "salt"] {
            assert_eq!(absent(line), None, "{line}");
        }
    }
}
