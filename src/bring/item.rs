//! One line of ingredients: how much of what.

use super::names::is_known;
use super::numbers::{FoundNumber, number, shown};
use super::units::{Measure, measure};
use crate::quantity::{Exact, int};

/// What goes in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeItem {
    /// As it is called.
    pub name: String,
    /// How much of it.
    pub amount: Amount,
    /// What else is said of it.
    pub note: String,
    /// The percentage that stands beside a weight, as a formula has it.
    pub percent: Option<String>,
}

/// How much of it, as a formula has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// `500 g`, `250 g/9 oz`, `2..3 tbsp`, `2`.
    Measured(String),
    /// `70%`, with nothing else beside it.
    Share(String),
    /// `a pinch`, `to taste`.
    Soft(&'static str),
    /// `1 sachet`: its author knows.
    Open(String),
}

/// Words before an amount that say that it is not exact.
const ABOUT: [&str; 14] = [
    "about ",
    "approx. ",
    "approximately ",
    "around ",
    "roughly ",
    "ca. ",
    "ca ",
    "circa ",
    "etwa ",
    "environ ",
    "unos ",
    "unas ",
    "~",
    "scant ",
];

/// Words between an amount and its name.
const OF: [&str; 18] = [
    "of the ", "of ", "de la ", "de l'", "de l’", "des ", "du ", "de ", "d'", "d’", "di ", "del ",
    "della ", "dell'", "dell’", "dello ", "von ", "vom ",
];

/// Words between two amounts of the same thing.
const PLUS: [&str; 9] = ["plus ", "and ", "+ ", "& ", "et ", "und ", "y ", "e ", "più "];

const TO_TASTE: [&str; 12] = [
    "to taste",
    "nach geschmack",
    "nach belieben",
    "au goût",
    "selon le goût",
    "al gusto",
    "q.b.",
    "q. b.",
    "qb",
    "quanto basta",
    "q.s.",
    "a gusto",
];

/// How much, somebody sees when it is done.
const AS_NEEDED: [&str; 18] = [
    "as needed",
    "as required",
    "if needed",
    "as desired",
    "as you like",
    "n. b.",
    "n.b.",
    "nach bedarf",
    "bei bedarf",
    "si besoin",
    "si nécessaire",
    "à volonté",
    "cantidad necesaria",
    "c/n",
    "si es necesario",
    "se necessario",
    "a piacere",
    "se serve",
];

/// After a number these are no ingredient.
const NOT_FOOD: [&str; 24] = [
    "min", "minute", "minutes", "minuten", "minutos", "minuti", "hour", "hours", "h", "stunde",
    "stunden", "heure", "heures", "hora", "horas", "ora", "ore", "day", "days", "tage", "jours",
    "°", "degrees", "grad",
];

/// What a line says goes in; nothing where it says no amount.
pub fn item(line: &str) -> Option<RecipeItem> {
    let line = plain(line);
    let line = line.trim();
    if line.is_empty() || line.chars().count() > 200 {
        return None;
    }
    unsaid(line)
        .or_else(|| leading(line))
        .or_else(|| trailing(line))
        .or_else(|| unit_first(line))
        .or_else(|| to_taste(line))
        .or_else(|| as_needed(line))
        .or_else(|| after_label(line))
}

/// `Burro gr. 160`, `Tuorli n. 6`: the unit before its number.
fn unit_first(line: &str) -> Option<RecipeItem> {
    let starts = line.match_indices(' ').map(|(at, _)| at);
    let mut turned = starts.filter_map(|at| {
        let (name, rest) = (line[..at].trim_end_matches([':', ' ', ',']), &line[at + 1..]);
        let length = match measure(rest) {
            Some((Measure::Unit(unit), length)) if unit != "%" => length,
            _ => piece(rest).filter(|_| rest.to_lowercase().starts_with('n'))?,
        };
        let unit = &rest[..length];
        let after = rest[length..].trim_start();
        if !after.starts_with(|it: char| it.is_ascii_digit()) || name.is_empty() {
            return None;
        }
        let found = number(after)?;
        let note = after[found.length..].trim();
        let is_plain = name.chars().all(|it| !it.is_ascii_digit()) && !name.contains('.');
        let is_end = note.is_empty() || note.starts_with(['(', ',', ';']);
        let amount = &after[..found.length];
        (is_plain && is_end).then(|| format!("{amount} {unit} {name} {note}"))
    });
    leading(turned.next()?.trim())
}

/// `water as needed`, `Hagelzucker n. B.`
fn as_needed(line: &str) -> Option<RecipeItem> {
    let lower = line.to_lowercase();
    let phrase = AS_NEEDED.iter().find(|phrase| lower.ends_with(**phrase))?;
    let name = line.get(..lower.len() - phrase.len()).filter(|_| lower.len() == line.len())?;
    let name = name.trim().trim_end_matches([',', ':', '–', '-', ' ', '(']);
    let is_name = name.chars().any(char::is_alphabetic) && name.split(' ').count() <= 5;
    is_name.then(|| RecipeItem {
        name: name.to_owned(),
        amount: Amount::Open(line.to_owned()),
        note: String::new(),
        percent: None,
    })
}

/// `Levain : 150 g de levain liquide`: what stands before the colon is said of it.
fn after_label(line: &str) -> Option<RecipeItem> {
    let (label, rest) = labelled(line)?;
    let item = leading(rest)?;
    let is_amount = matches!(item.amount, Amount::Measured(_)) && is_known(&item.name);
    let note = match item.note.is_empty() {
        true => label.to_owned(),
        false => format!("{label}, {}", item.note),
    };
    is_amount.then_some(RecipeItem { note, ..item })
}

/// What stands before a colon without a number of its own, and what follows it.
pub fn labelled(text: &str) -> Option<(&str, &str)> {
    let (label, rest) = text.split_once(':')?;
    let (label, rest) = (label.trim(), rest.trim());
    let is_label = !label.is_empty()
        && label.split(' ').count() <= 5
        && label.chars().any(char::is_alphabetic)
        && !label.starts_with(|it: char| it.is_ascii_digit());
    (is_label && !rest.is_empty()).then_some((label, rest))
}

/// Words that count pieces and are no part of a name.
const PIECES: [&str; 24] = [
    "pcs", "pc", "pce", "pieces", "piece", "ea", "each", "stk", "st", "stück", "pièces", "pièce",
    "unités", "unité", "piezas", "pieza", "pza", "pzas", "unidades", "unidad", "uds", "ud", "pz",
    "n",
];

/// The length of a word that a text begins with and that counts pieces.
fn piece(text: &str) -> Option<usize> {
    let word = text.split([' ', '.']).next().unwrap_or_default();
    let is_one = PIECES.contains(&word.to_lowercase().as_str());
    let point = usize::from(text[word.len()..].starts_with('.'));
    is_one.then_some(word.len() + point)
}

/// Words for an amount that nobody says.
const SOME: [&str; 22] = [
    "a little ",
    "a bit of ",
    "some ",
    "plenty of ",
    "etwas ",
    "ein wenig ",
    "ein bisschen ",
    "ein bißchen ",
    "un peu de ",
    "un peu d'",
    "un peu d’",
    "quelques ",
    "un poco de ",
    "algo de ",
    "unos pocos ",
    "un po' di ",
    "un po’ di ",
    "un po' d'",
    "un po’ d’",
    "qualche ",
    "a few ",
    "einige ",
];

/// `some butter`, `un peu de lait`
fn unsaid(line: &str) -> Option<RecipeItem> {
    let some = SOME.iter().find(|some| begins(line, some))?;
    let words = line[some.len()..].trim();
    let (name, note) = parted(words);
    let is_name = name.chars().any(char::is_alphabetic) && name.split(' ').count() <= 6;
    is_name.then(|| RecipeItem {
        name,
        amount: Amount::Open(words.to_owned()),
        note: note.join(", "),
        percent: None,
    })
}

/// Words for what goes onto the bread, onto the bench or into the tin, and not into the dough.
const BESIDE: &[&str] = &[
    "for dusting",
    "for brushing",
    "for glazing",
    "for the glaze",
    "for greasing",
    "for sprinkling",
    "for rolling",
    "for the top",
    "for the tin",
    "for the pan",
    "for the bench",
    "for the work surface",
    "for oiling",
    "for coating",
    "for frying",
    "for serving",
    "to glaze",
    "to brush",
    "to dust",
    "to finish",
    "to serve",
    "to sprinkle",
    "to grease",
    "to decorate",
    "to fry",
    "zum bestreichen",
    "zum bestäuben",
    "zum bestreuen",
    "zum bemehlen",
    "zum einfetten",
    "zum ausrollen",
    "zum frittieren",
    "zum servieren",
    "zum wälzen",
    "zum dekorieren",
    "für die form",
    "für die arbeitsfläche",
    "für das blech",
    "pour dorer",
    "pour la dorure",
    "pour fleurer",
    "pour saupoudrer",
    "pour parsemer",
    "pour le moule",
    "pour le plan de travail",
    "pour servir",
    "pour badigeonner",
    "para pincelar",
    "para pintar",
    "para espolvorear",
    "para decorar",
    "para el molde",
    "para servir",
    "para engrasar",
    "per spennellare",
    "per spolverare",
    "per lucidare",
    "per cospargere",
    "per la teglia",
    "per lo stampo",
    "per servire",
    "egg wash",
    "eggwash",
    "for wash",
    "for the wash",
    "wash",
    "glaze",
    "for the bowl",
    "for bowl",
    "for the hands",
    "for topping",
    "for the topping",
    "for garnish",
    "to garnish",
    "for decoration",
    "eistreiche",
    "abstreiche",
    "zum abglänzen",
    "zum garnieren",
    "zum verzieren",
    "zum belegen",
    "für die schüssel",
    "für die hände",
    "für den belag",
    "für die glasur",
    "dorure",
    "pour le saladier",
    "pour le bol",
    "pour les mains",
    "pour garnir",
    "pour décorer",
    "pour graisser",
    "pour huiler",
    "pour le dessus",
    "pour la finition",
    "para barnizar",
    "para dorar",
    "para el bol",
    "para el cuenco",
    "para las manos",
    "para untar",
    "para cubrir",
    "para adornar",
    "para la superficie",
    "para glasear",
    "per dorare",
    "per la doratura",
    "per la lucidatura",
    "doratura",
    "per la ciotola",
    "per le mani",
    "per ungere",
    "per guarnire",
    "per decorare",
    "per la superficie",
    "per la copertura",
];

/// Whether a line is of what goes anywhere but into the dough, `1 egg, to glaze`, and whether all
/// of it does: not of `1 egg, plus 1 to glaze`. None where it says nothing of the kind.
pub fn is_beside(line: &str) -> Option<bool> {
    const PLUS: [&str; 9] = ["plus", "extra", "more", "and", "mehr", "und", "en plus", "más", "e"];
    let lower = line.to_lowercase();
    let is_whole = |at: usize, words: &str| {
        let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphabetic);
        !is_letter(lower[..at].chars().next_back())
            && !is_letter(lower[at + words.len()..].chars().next())
    };
    let found = |words: &str| lower.match_indices(words).find(|(at, _)| is_whole(*at, words));
    let at = BESIDE.iter().filter_map(|words| found(words)).map(|(at, _)| at).min()?;
    // What stands before `plus` or a comma goes in.
    let is_parted = PLUS.iter().any(|plus| found(plus).is_some_and(|(from, _)| from < at));
    Some(!is_parted)
}

/// A line without the marks of lists and of emphasis.
pub fn plain(line: &str) -> String {
    let line = line
        .trim()
        .trim_start_matches(['-', '*', '•', '+', '·', '‣', '◦', '–', '☐', '>', '|', ' ']);
    let line = line.trim_start();
    let line = line.strip_prefix("[ ]").or_else(|| line.strip_prefix("[x]")).unwrap_or(line);
    line.replace("**", "").replace("__", "").replace('`', "").trim().to_owned()
}

struct Weighed {
    found: FoundNumber,
    measure: Option<Measure>,
    length: usize,
    /// How a spoon is filled: `heaped`.
    filled: Option<String>,
}

/// How a spoon or a cup is filled, before its name and after it.
const FILLED: [&str; 30] = [
    "heaped ",
    "heaping ",
    "rounded ",
    "level ",
    "scant ",
    "generous ",
    "good ",
    "gehäufter ",
    "gehäufte ",
    "gehäuften ",
    "gestrichener ",
    "gestrichene ",
    "gestrichenen ",
    "knapper ",
    "bombée",
    "bombées",
    "rase",
    "rases",
    "bien pleine",
    "colmo",
    "colmi",
    "raso",
    "rasi",
    "colmada",
    "colmadas",
    "rasa",
    "rasas",
    "bien colmada",
    "abbondante",
    "abbondanti",
];

/// The word by which a spoon is filled that a text begins with, and its length.
fn filled(text: &str) -> Option<(String, usize)> {
    let found = FILLED.iter().filter(|word| begins(text, word.trim_end()));
    let word = found.max_by_key(|word| word.len())?.trim_end();
    let is_whole = !text[word.len()..].starts_with(char::is_alphabetic);
    is_whole.then(|| (word.to_owned(), word.len()))
}

/// A number with its measure.
fn weighed(text: &str) -> Option<Weighed> {
    let mut at = 0;
    let mut times = None;
    let mut found = number(text)?;
    // `2 x 7 g`
    let rest = text[found.length..].trim_start();
    if let Some(inner) =
        ["x ", "× ", "x", "×", "* "].iter().find_map(|sign| rest.strip_prefix(sign))
        && let Some(each) = number(inner.trim_start())
    {
        times = Some(found.low.clone());
        at = text.len() - inner.trim_start().len();
        found = each;
    }
    let behind = at + found.length;
    let mut rest = text[behind..].trim_start();
    // `1 heaped tsp`
    let mut how = filled(rest).filter(|(_, length)| {
        matches!(measure(rest[*length..].trim_start()), Some((Measure::Unit(_), _)))
    });
    if let Some((_, length)) = &how {
        rest = rest[*length..].trim_start();
    }
    // `2 pcs egg`
    if let Some(length) = piece(rest)
        && let after = rest[length..].trim_start()
        && !after.is_empty()
    {
        let length = text.len() - after.len();
        return Some(Weighed { found, measure: None, length, filled: None });
    }
    let blanks = text[behind..].len() - rest.len();
    // `300 cc leche` is told in millilitres, and `1 cc de sel` in spoons.
    let measured = match measure(rest) {
        Some((Measure::Holder, length))
            if rest[..length].trim_end_matches('.').eq_ignore_ascii_case("cc")
                && found.low >= int(15) =>
        {
            Some((Measure::Unit("ml"), length))
        }
        other => other,
    };
    // `1.250 kg` is told in grams, and not in thousands.
    if matches!(measured, Some((Measure::Unit("kg" | "l"), _)))
        && found.low >= int(1000)
        && text.get(at..behind).is_some_and(|written| written.contains(['.', ',']))
    {
        found.low = found.low.one_in::<1000>();
        found.high = found.high.one_in::<1000>();
    }
    let mut length = behind + measured.map_or(0, |(_, length)| blanks + length);
    // `1 cuillère à café bombée`
    if let Some((Measure::Unit("tsp" | "tbsp" | "cup"), _)) = measured
        && how.is_none()
        && let after = text[length..].trim_start()
        && let Some((word, more)) = filled(after)
        && !after[more..].is_empty()
    {
        length = text.len() - after.len() + more;
        how = Some((word, more));
    }
    let mut measure_of = measured.map(|(measure, _)| measure);
    // `1 lb 2 oz` is eighteen ounces.
    if let Some(Measure::Unit("lb")) = measure_of
        && let after = text[length..].trim_start()
        && let Some(more) = number(after)
        && let unit = after[more.length..].trim_start()
        && let Some((Measure::Unit("oz"), own)) = measure(unit)
    {
        let ounces = |pounds: &Exact, ounces: &Exact| pounds * int(16) + ounces;
        found.low = ounces(&found.low, &more.low);
        found.high = ounces(&found.high, &more.high);
        measure_of = Some(Measure::Unit("oz"));
        length = text.len() - unit.len() + own;
    }
    // `1 kg 200 g`
    if let Some(Measure::Unit("kg")) = measure_of
        && let after = text[length..].trim_start()
        && let Some(more) = number(after)
        && let unit = after[more.length..].trim_start()
        && let Some((Measure::Unit("g"), own)) = measure(unit)
    {
        let grams = |kilos: &Exact, grams: &Exact| kilos * int(1000) + grams;
        found.low = grams(&found.low, &more.low);
        found.high = grams(&found.high, &more.high);
        measure_of = Some(Measure::Unit("g"));
        length = text.len() - unit.len() + own;
    }
    if let Some(times) = times {
        found.low = &found.low * &times;
        found.high = &found.high * &times;
    }
    let filled = how.map(|(word, _)| word);
    Some(Weighed { found, measure: measure_of, length, filled })
}

fn written(found: &FoundNumber, unit: &str, times: &Exact) -> String {
    let (low, high) = (&found.low * times, &found.high * times);
    let gap = if unit == "%" { "" } else { " " };
    let number = match low == high {
        true => shown(&low),
        false => format!("{}..{}", shown(&low), shown(&high)),
    };
    format!("{number}{gap}{unit}").trim_end().to_owned()
}

/// `500 g strong white flour, sifted`
fn leading(line: &str) -> Option<RecipeItem> {
    let about = ABOUT.iter().find(|about| begins(line, about));
    let text = about.map_or(line, |about| line[about.len()..].trim_start());
    // `heaped teaspoon of sugar`: one of them.
    let one = filled(text)
        .filter(|(_, length)| {
            let measure = measure(text[*length..].trim_start());
            matches!(measure, Some((Measure::Unit("tsp" | "tbsp" | "cup"), _)))
        })
        .map(|_| format!("1 {text}"));
    // `pinch of salt`: one of them.
    let one = one.or_else(|| match measure(text) {
        Some((Measure::Pinch, length)) if text[length..].starts_with(' ') => {
            Some(format!("1 {text}"))
        }
        _ => None,
    });
    let text = one.as_deref().unwrap_or(text);
    let first = weighed(text)?;
    let mut rest = text[first.length..].trim_start();
    // `1. Mix`, `2) Knead` are steps.
    if first.measure.is_none() && rest.starts_with(['.', ')', ':', '%', '°', '-', '–']) {
        return None;
    }
    let mut second: Vec<Weighed> = Vec::new();
    while let Some((other, after)) = beside(rest) {
        second.push(other);
        rest = after;
    }
    if let Some(after) = past_pints(rest).filter(|_| first.measure.is_some()) {
        rest = after;
    }
    // `1 (7 g) sachet of yeast`
    let mut first = first;
    if first.measure.is_none()
        && let [each] = second.as_slice()
        && let Some((Measure::Holder, length)) = measure(rest)
    {
        let count = first.found.clone();
        first.measure = each.measure;
        first.found.low = &count.low * &each.found.low;
        first.found.high = &count.high * &each.found.high;
        second.clear();
        rest = rest[length..].trim_start();
    }
    // `1 cup plus 2 tablespoons milk`: how large the cup is tells how much that is.
    if let Some(more) = PLUS.iter().find(|plus| begins(rest, plus))
        && matches!(first.measure, Some(Measure::Unit(_)))
        && let Some(second) = weighed(rest[more.len()..].trim_start())
        && matches!(second.measure, Some(Measure::Unit(_)))
    {
        let rest = rest[more.len()..].trim_start()[second.length..].trim_start();
        let name = OF.iter().find(|of| begins(rest, of)).map_or(rest, |of| &rest[of.len()..]);
        let (name, note) = parted(name);
        let is_name = name.chars().any(char::is_alphabetic);
        return is_name.then(|| RecipeItem {
            name,
            amount: Amount::Open(line.to_owned()),
            note: note.join(", "),
            percent: None,
        });
    }
    let word = rest.split([' ', '.', ',']).next().unwrap_or_default().to_lowercase();
    if first.measure.is_none() && NOT_FOOD.contains(&word.as_str()) {
        return None;
    }
    let name = OF.iter().find(|of| begins(rest, of)).map_or(rest, |of| &rest[of.len()..]);
    finished(first, second, name)
}

fn begins(text: &str, head: &str) -> bool {
    text.get(..head.len()).is_some_and(|start| start.to_lowercase() == head)
}

/// A second amount of the same: `/9 oz`, `(9 oz)`; and what follows it.
fn beside(rest: &str) -> Option<(Weighed, &str)> {
    let is_bracket = rest.starts_with('(');
    let inner = rest.strip_prefix(['/', '(', '|', '='])?.trim_start();
    let inner = ABOUT.iter().find_map(|about| inner.strip_prefix(about)).unwrap_or(inner);
    let other = weighed(inner)?;
    if !matches!(other.measure, Some(Measure::Unit(_))) {
        return None;
    }
    let after = inner[other.length..].trim_start();
    let after = if is_bracket { after.strip_prefix(')')? } else { after };
    Some((other, after.trim_start()))
}

/// What follows `/½ pint`, `(1 pint)`: pints differ from country to country, and the amount
/// before them says the same.
fn past_pints(rest: &str) -> Option<&str> {
    let is_bracket = rest.starts_with('(');
    let inner = rest.strip_prefix(['/', '('])?.trim_start();
    let after = inner[number(inner)?.length..].trim_start();
    let (_, length) = measure(after).filter(|(measure, _)| *measure == Measure::Pint)?;
    let after = after[length..].trim_start();
    let after = if is_bracket { after.strip_prefix(')')? } else { after };
    Some(after.trim_start())
}

/// Where a name ends that a temperature follows: `eau à 24 °C`.
fn before_temperature(name: &str) -> Option<usize> {
    let joints = [" à ", " at ", " bei ", " a ", " mit ", " de ", " di "];
    let places = joints
        .iter()
        .flat_map(|joint| name.match_indices(joint).map(|(at, joint)| (at, at + joint.len())));
    let is_degrees = |(_, after): &(usize, usize)| {
        let rest = &name[*after..];
        number(rest).is_some_and(|found| {
            let unit = rest[found.length..].trim_start();
            unit.starts_with(['°', 'º'])
                || unit
                    .strip_prefix(['C', 'F'])
                    .is_some_and(|it| !it.starts_with(char::is_alphabetic))
        })
    };
    places.filter(is_degrees).map(|(at, _)| at).min()
}

fn finished(first: Weighed, mut second: Vec<Weighed>, words: &str) -> Option<RecipeItem> {
    // `7 g sachet of yeast`: what it comes in is no part of its name.
    let words = match (first.measure, measure(words)) {
        (Some(Measure::Unit(_)), Some((Measure::Holder, length))) => {
            let rest = words[length..].trim_start();
            OF.iter().find(|of| begins(rest, of)).map_or(rest, |of| &rest[of.len()..])
        }
        _ => words,
    };
    let (name, mut note) = parted(words);
    let mut percent = None;
    let mut own_note = first.filled.clone().unwrap_or_default();
    // What stands in brackets may be an amount too.
    for bracket in note.drain(..) {
        let is_bracket = bracket.starts_with('(');
        let inner = bracket.trim_start_matches('(').trim_end_matches(')').trim();
        let amount = weighed(inner).filter(|amount| amount.length == inner.len());
        match amount {
            Some(Weighed { measure: Some(Measure::Unit("%")), found, .. }) => {
                percent = Some(written(&found, "%", &Exact::ONE));
            }
            Some(amount @ Weighed { measure: Some(Measure::Unit(_)), .. }) if is_bracket => {
                second.push(amount);
            }
            _ => {
                if !own_note.is_empty() {
                    own_note.push_str(", ");
                }
                own_note.push_str(inner);
            }
        }
    }
    let is_name = name.chars().any(char::is_alphabetic);
    if !is_name {
        return None;
    }
    let unit_of = |amount: &Weighed| match amount.measure {
        Some(Measure::Unit(unit)) => Some(unit),
        _ => None,
    };
    let count = first.found.low.clone();
    let amount = match first.measure {
        Some(Measure::Unit("%")) if second.is_empty() => {
            Amount::Share(written(&first.found, "%", &Exact::ONE))
        }
        Some(Measure::Unit(unit)) => {
            let mut text = written(&first.found, unit, &Exact::ONE);
            for other in &second {
                let unit = unit_of(other).unwrap_or_default();
                text.push_str(&format!("/{}", written(&other.found, unit, &Exact::ONE)));
            }
            Amount::Measured(text)
        }
        Some(Measure::Pinch) => Amount::Soft("a pinch"),
        Some(Measure::Pint) => match second.first() {
            Some(all) => {
                let unit = unit_of(all).unwrap_or("ml");
                Amount::Measured(written(&all.found, unit, &Exact::ONE))
            }
            None => Amount::Open(words.trim().to_owned()),
        },
        // `2 sachets (14 g)`, `½ cube (21 g)`: of each, or of all?
        Some(Measure::Holder) => match second.first() {
            Some(all) if count == Exact::ONE && first.found.high == count => {
                Amount::Measured(written(&all.found, unit_of(all).unwrap_or("g"), &Exact::ONE))
            }
            _ => Amount::Open(words.trim().to_owned()),
        },
        None => match second.first() {
            // `2 eggs (100 g)`
            Some(all) => {
                let unit = unit_of(all).unwrap_or("g");
                Amount::Measured(written(&all.found, unit, &Exact::ONE))
            }
            None => Amount::Measured(written(&first.found, "", &Exact::ONE)),
        },
    };
    Some(RecipeItem { name, amount, note: own_note, percent })
}

/// A name, and what stands after a comma or in brackets.
fn parted(words: &str) -> (String, Vec<String>) {
    let mut name = String::new();
    let mut notes = Vec::new();
    let mut rest = words.trim();
    while let Some(open) = rest.find('(') {
        let Some(close) = rest[open..].find(')') else { break };
        name.push_str(rest[..open].trim_end());
        name.push(' ');
        notes.push(rest[open..=open + close].to_owned());
        rest = rest[open + close + 1..].trim_start();
    }
    name.push_str(rest);
    let mut name = name.trim().to_owned();
    if let Some(at) = before_temperature(&name) {
        notes.push(name[at..].trim().to_owned());
        name.truncate(at);
    }
    let cut = name.find([',', ';']).or_else(|| name.find(" – ")).or_else(|| name.find(" - "));
    match cut {
        Some(at) => {
            let after = name[at..].trim_start_matches([',', ';', ' ', '–', '-']).trim().to_owned();
            if !after.is_empty() {
                notes.insert(0, after);
            }
            (name[..at].trim().trim_end_matches('.').to_owned(), notes)
        }
        None => (name.trim_end_matches('.').trim().to_owned(), notes),
    }
}

/// `Flour: 500 g`, `Flour … 500 g 100 %`
fn trailing(line: &str) -> Option<RecipeItem> {
    let starts = line.char_indices().filter(|(at, letter)| {
        let before = line[..*at].chars().next_back();
        (letter.is_ascii_digit() || "½¼¾⅓⅔".contains(*letter))
            && before.is_some_and(|before| !before.is_alphanumeric() && !".,/(".contains(before))
    });
    for (at, _) in starts {
        let name = line[..at].trim_end();
        let name = name.trim_end_matches([':', '-', '–', '—', '.', '=', '|', '…', '\t', ' ', ',']);
        let words = name.split_whitespace().count();
        // `Farine T65 : 600 g` and `Roggenmehl 1150: 300 g` end with a digit, and `at 20 10 g`
        // is of two numbers.
        let is_marked = line[name.len()..at].contains([':', '|', '=', '…', '–', '—']);
        let last = name.rsplit(' ').next().unwrap_or_default();
        let is_number = last.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
        if words == 0 || words > 7 || is_number && !is_marked {
            continue;
        }
        let Some(first) = weighed(&line[at..]) else { continue };
        let mut rest = line[at + first.length..].trim_start_matches([' ', '|', '\t']).trim_end();
        let Some(Measure::Unit(unit)) = first.measure else { continue };
        let mut second = Vec::new();
        let (mut first, mut percent) = (first, None);
        while let Some((other, after)) = beside(rest) {
            second.push(other);
            rest = after;
        }
        if let Some(other) = weighed(rest)
            && let Some(Measure::Unit(other_unit)) = other.measure
        {
            rest = rest[other.length..].trim_matches([' ', '|', '\t']);
            match (unit, other_unit) {
                ("%", _) => {
                    percent = Some(written(&first.found, "%", &Exact::ONE));
                    first = other;
                }
                (_, "%") => percent = Some(written(&other.found, "%", &Exact::ONE)),
                _ => second.push(other),
            }
        }
        let is_note = rest.is_empty() || rest.starts_with(['(', ',', ';']);
        if !is_note {
            continue;
        }
        let mut item = finished(first, second, &format!("{name} {rest}"))?;
        item.percent = item.percent.or(percent);
        return Some(item);
    }
    None
}

/// `salt to taste`, `sale q.b.`
fn to_taste(line: &str) -> Option<RecipeItem> {
    let lower = line.to_lowercase();
    let phrase = TO_TASTE.iter().find(|phrase| lower.ends_with(**phrase))?;
    let name = line.get(..lower.len() - phrase.len()).filter(|_| lower.len() == line.len())?;
    let name = name.trim().trim_end_matches([',', ':', '–', '-', ' ']);
    let is_name = name.chars().any(char::is_alphabetic) && name.split(' ').count() <= 5;
    is_name.then(|| RecipeItem {
        name: name.to_owned(),
        amount: Amount::Soft("to taste"),
        note: String::new(),
        percent: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(line: &str) -> String {
        let Some(item) = item(line) else { return "none".into() };
        let amount = match item.amount {
            Amount::Measured(text) | Amount::Share(text) => text,
            Amount::Soft(text) => text.into(),
            Amount::Open(text) => format!("open: {text}"),
        };
        let percent = item.percent.map(|percent| format!(" [{percent}]")).unwrap_or_default();
        let note = if item.note.is_empty() { String::new() } else { format!(" ({})", item.note) };
        format!("{} = {amount}{percent}{note}", item.name)
    }

    #[test]
    fn lines_are_read_as_people_write_them() {
        for (line, wanted) in [
            ("500 g strong white flour", "strong white flour = 500 g"),
            ("- 500g strong white flour, sifted", "strong white flour = 500 g (sifted)"),
            ("1 1/2 tsp salt", "salt = 1.5 tsp"),
            ("2 eggs, beaten", "eggs = 2 (beaten)"),
            ("a pinch of sugar", "sugar = a pinch"),
            ("2-3 tbsp olive oil", "olive oil = 2..3 tbsp"),
            ("250g/9oz wholemeal flour", "wholemeal flour = 250 g/9 oz"),
            ("250 g (9 oz) butter, softened", "butter = 250 g/9 oz (softened)"),
            ("1 cup flour (120 g)", "flour = 1 cup/120 g"),
            ("1 x 7g sachet fast-action yeast", "fast-action yeast = 7 g"),
            ("2 sachets (7 g) dried yeast", "dried yeast = open: dried yeast"),
            ("2 sachets dried yeast (14 g)", "dried yeast = open: dried yeast (14 g)"),
            ("½ sachet dried yeast (7 g)", "dried yeast = open: dried yeast (7 g)"),
            ("1/2 Würfel Frischhefe (21 g)", "Frischhefe = open: Frischhefe (21 g)"),
            ("2 bustine di zucchero (10 g)", "zucchero = open: zucchero (10 g)"),
            ("half a tin of pumpkin (200 g)", "pumpkin = open: pumpkin (200 g)"),
            ("2 (7 g) sachets dried yeast", "dried yeast = 14 g"),
            ("½ block (125 g) butter", "block butter = 125 g"),
            ("6 œufs (300 g)", "œufs = 300 g"),
            ("Farine T65 : 600 g", "Farine T65 = 600 g"),
            ("Farine de seigle T130 : 150 g", "Farine de seigle T130 = 150 g"),
            ("Roggenmehl 1150: 300 g", "Roggenmehl 1150 = 300 g"),
            ("1 kg 200 g Roggenmehl 1150", "Roggenmehl 1150 = 1200 g"),
            ("Burro gr. 160", "Burro = 160 g"),
            ("Tuorli n. 6", "Tuorli = 6"),
            ("Latte dl 2", "Latte = 2 dl"),
            ("Levain : 150 g de levain liquide", "levain liquide = 150 g (Levain)"),
            ("2 c flour", "flour = 2 cup"),
            ("1 c. water", "water = 1 cup"),
            ("2 c. de sucre", "sucre = open: sucre"),
            ("300 cc leche", "leche = 300 ml"),
            ("1 cc de sel", "sel = open: sel"),
            ("2 pcs egg", "egg = 2"),
            ("2 Stk. Eier", "Eier = 2"),
            ("1 Pk. Backpulver", "Backpulver = open: Backpulver"),
            ("water as needed", "water = open: water as needed"),
            ("Hagelzucker n. B.", "Hagelzucker = open: Hagelzucker n. B."),
            ("1 heaped tsp honey", "honey = 1 tsp (heaped)"),
            ("a heaped teaspoon of sugar", "sugar = 1 tsp (heaped)"),
            ("heaped tablespoon flour", "flour = 1 tbsp (heaped)"),
            ("2 level tbsp cocoa, sifted", "cocoa = 2 tbsp (level, sifted)"),
            ("2 gehäufte EL Mehl", "Mehl = 2 tbsp (gehäufte)"),
            ("1 cuillère à café bombée de sucre", "sucre = 1 tsp (bombée)"),
            ("2 cucchiai colmi di farina", "farina = 2 tbsp (colmi)"),
            ("1 cucharadita colmada de sal", "sal = 1 tsp (colmada)"),
            ("half a pound of butter", "butter = 0.5 lb"),
            ("two hundred and fifty grams of flour", "flour = 250 g"),
            ("un demi-kilo de farine", "farine = 0.5 kg"),
            ("ein halbes Kilo Mehl", "Mehl = 0.5 kg"),
            ("un quart de litre de lait", "lait = 0.25 l"),
            ("1 sachet dried yeast (7 g)", "dried yeast = 7 g"),
            ("1 sachet dried yeast", "dried yeast = open: dried yeast"),
            ("Salt to taste", "Salt = to taste"),
            ("Flour: 500 g", "Flour = 500 g"),
            ("Flour ..... 500 g 100 %", "Flour = 500 g [100%]"),
            ("| bread flour | 500 g | 100% |", "bread flour = 500 g [100%]"),
            ("bread flour | 500 g | 100%", "bread flour = 500 g [100%]"),
            ("water | 70% | 350 g", "water = 350 g [70%]"),
            ("70% water", "water = 70%"),
            ("500 g de farine T65", "farine T65 = 500 g"),
            ("1 c. à s. de miel", "miel = 1 tbsp"),
            ("une pincée de sel", "sel = a pinch"),
            ("pinch of mustard powder", "mustard powder = a pinch"),
            ("Prise Salz", "Salz = a pinch"),
            ("500 g Mehl Type 550", "Mehl Type 550 = 500 g"),
            ("2 EL Honig", "Honig = 2 tbsp"),
            ("1 Prise Salz", "Salz = a pinch"),
            ("1,5 kg harina de fuerza", "harina de fuerza = 1.5 kg"),
            ("2 cucchiai d'olio", "olio = 2 tbsp"),
            ("sale q.b.", "sale = to taste"),
            ("etwas Butter", "Butter = open: Butter"),
            ("un peu de lait", "lait = open: lait"),
            ("a little oil, for the tin", "oil = open: oil, for the tin (for the tin)"),
            ("3/4 pint warm milk", "warm milk = open: warm milk"),
            ("1 pint (570 ml) milk", "milk = 570 ml"),
            ("2 pints/1.1 litres milk", "milk = 1.1 l"),
            ("1 cup plus 2 tablespoons milk", "milk = open: 1 cup plus 2 tablespoons milk"),
            ("1.250 kg flour", "flour = 1.25 kg"),
            ("1.250 g Mehl", "Mehl = 1250 g"),
            ("about 300 ml warm water", "warm water = 300 ml"),
            ("1. Mix the flour and the water.", "none"),
            ("Bake for 40 minutes at 230 °C.", "none"),
            ("40 minutes", "none"),
            ("Method", "none"),
        ] {
            assert_eq!(told(line), wanted, "{line}");
        }
    }
}
