//! Waits that are named in free words: `fridge overnight`, `leave it for 2 hours`.

/// What is said of a wait that lasts a night, in five languages.
pub const NIGHTS: &[&str] = &[
    "overnight",
    "over night",
    "all night",
    "through the night",
    "über nacht",
    "Über nacht",
    "toute la nuit",
    "une nuit",
    "la nuit",
    "una notte",
    "tutta la notte",
    "la notte",
    "toda la noche",
    "una noche",
    "durante la noche",
];

/// Units of time in five languages, with the one that we write.
const UNITS: &[(&str, &[&str])] = &[
    (
        "h",
        &[
            "h", "hr", "hrs", "hour", "hours", "std", "stunde", "stunden", "heure", "heures",
            "hora", "horas", "ora", "ore",
        ],
    ),
    ("min", &["min", "mins", "minute", "minutes", "minuten", "minuto", "minutos", "minuti"]),
    (
        "d",
        &[
            "day", "days", "tag", "tage", "tagen", "jour", "jours", "día", "días", "giorno",
            "giorni",
        ],
    ),
];

/// Numbers in words, in five languages, up to a dozen.
const NUMBERS: &[(&str, &[&str])] = &[
    ("0.5", &["half", "halbe", "demi", "media", "mezz", "mezza"]),
    ("1", &["a", "an", "one", "ein", "eine", "einen", "un", "une", "uno", "una"]),
    ("2", &["two", "zwei", "deux", "dos", "due"]),
    ("3", &["three", "drei", "trois", "tres", "tre"]),
    ("4", &["four", "vier", "quatre", "cuatro", "quattro"]),
    ("5", &["five", "fünf", "cinq", "cinco", "cinque"]),
    ("6", &["six", "sechs", "seis", "sei"]),
    ("7", &["seven", "sieben", "sept", "siete", "sette"]),
    ("8", &["eight", "acht", "huit", "ocho", "otto"]),
    ("9", &["nine", "neun", "neuf", "nueve", "nove"]),
    ("10", &["ten", "zehn", "dix", "diez", "dieci"]),
    ("12", &["twelve", "zwölf", "douze", "doce", "dodici"]),
    ("20", &["twenty", "zwanzig", "vingt", "veinte", "venti"]),
];

/// What stands before a time that is no wait: how often something is done, and for whom.
const OFTEN: &[&str] = &[
    "every", "each", "alle", "jede", "toutes", "tous", "chaque", "cada", "ogni", "after", "nach",
    "après", "last", "first",
];

/// Places that are cold, as they are said in five languages.
const COLD: &[&str] = &[
    "fridge",
    "refrigerator",
    "refrigerated",
    "refrigerate",
    "cold room",
    "kühlschrank",
    "frigo",
    "réfrigérateur",
    "nevera",
    "frigorífico",
    "frigorifero",
    "kühlraum",
];

/// The wait that some words name, as a step has it after its verb: `overnight in fridge`, `2h`;
/// none where they name none, or how often something is done.
pub fn named_wait(said: &str) -> Option<String> {
    let said = said.to_lowercase();
    let words: Vec<&str> = said
        .split(|letter: char| {
            !letter.is_alphanumeric() && !matches!(letter, '.' | ',' | '½' | '-' | '–')
        })
        .map(|word| word.trim_matches(['.', ',', '-', '–']))
        .filter(|word| !word.is_empty())
        .collect();
    let joined = format!(" {} ", words.join(" "));
    let night = NIGHTS.iter().any(|night| joined.contains(&format!(" {night} ")));
    let time = if night { "overnight".to_owned() } else { time_in(&words)? };
    let is_cold = COLD.iter().any(|place| joined.contains(&format!(" {place} ")));
    Some(if is_cold { format!("{time} in fridge") } else { time })
}

/// The first time among some words.
fn time_in(words: &[&str]) -> Option<String> {
    for (at, word) in words.iter().enumerate() {
        let digits = word.find(|letter: char| letter.is_alphabetic()).unwrap_or(word.len());
        let (number, glued) = word.split_at(digits);
        let before = at.checked_sub(1).and_then(|before| words.get(before));
        let is_often = before.is_some_and(|before| OFTEN.contains(before));
        if !number.is_empty() && number.contains(|letter: char| letter.is_ascii_digit()) {
            let written = if glued.is_empty() { words.get(at + 1).copied()? } else { glued };
            if let Some(unit) = unit(written).filter(|_| !is_often) {
                return Some(format!(
                    "{}{unit}",
                    number.replace(['-', '–'], "..").replace(',', ".")
                ));
            }
            continue;
        }
        let Some(number) = number_of(word).filter(|_| !is_often) else { continue };
        let mut next = words.get(at + 1).copied()?;
        // `half an hour`.
        if number == "0.5" && number_of(next) == Some("1") {
            next = words.get(at + 2).copied().unwrap_or_default();
        }
        // `a minute a side` is how something is fried.
        let is_rate = words
            .get(at + 2)
            .is_some_and(|word| matches!(*word, "a" | "per" | "pro" | "par" | "por"));
        if let Some(unit) = unit(next).filter(|_| !is_rate) {
            return Some(match (number, unit) {
                ("0.5", "h") => "30min".to_owned(),
                _ => format!("{number}{unit}"),
            });
        }
    }
    None
}

fn unit(word: &str) -> Option<&'static str> {
    let known = UNITS.iter().find(|(_, names)| names.contains(&word));
    known.map(|(unit, _)| *unit)
}

fn number_of(word: &str) -> Option<&'static str> {
    let known = NUMBERS.iter().find(|(_, names)| names.contains(&word));
    known.map(|(number, _)| *number)
}

#[cfg(test)]
mod tests {
    use super::named_wait;

    #[test]
    fn a_wait_is_found_in_free_words() {
        for (said, wait) in [
            ("fridge overnight", Some("overnight in fridge")),
            ("Rise overnight in the fridge.", Some("overnight in fridge")),
            ("Leave it for 12 hours.", Some("12h")),
            ("Wait 3 hours.", Some("3h")),
            ("stand 2h", Some("2h")),
            ("Warm stellen, 2–3 Stunden", Some("2..3h")),
            ("Den Vorteig über Nacht stehen lassen.", Some("overnight")),
            ("Laisser une nuit au frigo", Some("overnight in fridge")),
            ("half an hour on the table", Some("30min")),
            ("eine halbe Stunde", Some("30min")),
            ("ten minutes under the bowl", Some("10min")),
            ("Lasciare due ore", Some("2h")),
            ("Dejar una hora", Some("1h")),
            ("Turn every 5 minutes", None),
            ("four minutes a side", None),
            ("Roll out to 9 mm", None),
            ("Shape two loaves.", None),
            ("in 3 parts", None),
            ("", None),
        ] {
            assert_eq!(named_wait(said).as_deref(), wait, "{said}");
        }
    }
}
