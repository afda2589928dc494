//! For how many people a recipe is, in the words of five languages.

/// Words before what a recipe makes.
pub const MAKES: [&str; 22] = [
    "makes",
    "yields",
    "yield",
    "serves",
    "servings",
    "for",
    "donne",
    "pour",
    "rendement",
    "portions",
    "ergibt",
    "für",
    "menge",
    "portionen",
    "rinde",
    "para",
    "raciones",
    "salen",
    "per",
    "dosi per",
    "dà",
    "porzioni",
];
/// Words of what is for so many people; the last ones come after the number.
const SERVES: [&str; 9] = [
    "serves",
    "servings",
    "serving",
    "portions",
    "portionen",
    "raciones",
    "porciones",
    "porzioni",
    "personen",
];
const PEOPLE: [&str; 12] = [
    "people",
    "servings",
    "persons",
    "personnes",
    "parts",
    "portions",
    "personen",
    "portionen",
    "personas",
    "raciones",
    "persone",
    "porzioni",
];
/// Whether words say for how many people a recipe is: `Serves: 8`, `pour 6 personnes`.
pub fn is_for_people(said: &str) -> bool {
    let lower = said.to_lowercase();
    let words = lower.split(|it: char| !it.is_alphanumeric()).filter(|word| !word.is_empty());
    let words: Vec<&str> = words.collect();
    let is = |word: Option<&&str>, known: &[&str]| word.is_some_and(|word| known.contains(word));
    let first = words.first();
    is(first, &SERVES) || is(words.last(), &PEOPLE) && (is(first, &MAKES) || words.len() < 4)
}
