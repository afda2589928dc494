//! What people say in a house, of an ingredient and in claims for words of ours.

/// Words that begin a line, and what to write for them.
type Said = (&'static [&'static str], &'static str);

const IN_A_BAKEHOUSE: &[Said] = &[
    (
        &["temperature", "ambient", "kitchen", "raumtemperatur"],
        "how warm the room is, is written `room 21C`",
    ),
    (
        &["fridge", "cold", "refrigerator", "retarder"],
        "how cold it is belongs to the step, as in `proof 12h at 4C`; a plan takes `--cold 4C`",
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

const OF_AN_INGREDIENT: &[Said] = &[
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
        &[
            "gluten free",
            "gluten-free",
            "dairy free",
            "nut free",
            "milk free",
            "egg free",
            "free from",
        ],
        "say what is in it: `contains` with its allergens, or `contains nothing` where it holds \
         none of them",
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

/// Whether a table has the longest beginning of a line, and what it says of it.
fn said(table: &[Said], line: &str) -> Option<&'static str> {
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
        let ours: [(&[Said], &[&str]); 2] =
            [(IN_A_BAKEHOUSE, words::OF_A_BAKEHOUSE), (OF_AN_INGREDIENT, words::OF_AN_INGREDIENT)];
        for (table, known) in ours {
            for said in table.iter().flat_map(|(said, _)| *said) {
                assert!(!known.contains(said), "{said}");
            }
        }
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
