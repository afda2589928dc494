//! The language's own words: what is said of them by hand, and what the tables know.

use super::entry::{NameKind, ReferenceEntry};
use super::prose::{self, Section};
use crate::formula::{Allergen, limit};
use crate::quantity::display::{minutes, shows, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit, int};
use crate::syntax::tree::Verb;
use crate::syntax::words;
use crate::time::{Hands, places, usual_hands, usual_minutes};

/// The kinds that are written by hand, each with its file.
const FILES: [(NameKind, &str); 8] = [
    (NameKind::Block, include_str!("blocks.md")),
    (NameKind::Statement, include_str!("statements.md")),
    (NameKind::Verb, include_str!("verbs.md")),
    (NameKind::Clause, include_str!("clauses.md")),
    (NameKind::Amount, include_str!("amounts.md")),
    (NameKind::Unit, include_str!("units.md")),
    (NameKind::Figure, include_str!("figures.md")),
    (NameKind::Class, include_str!("classes.md")),
];

/// Cautions of single ingredients, and what they are called elsewhere.
const INGREDIENTS: &str = include_str!("ingredients.md");

/// Labels in the files, and what they are called on a page.
const LABELS: [(&str, &str); 9] = [
    ("Write", "Written"),
    ("In", "Goes in"),
    ("Default", "By default"),
    ("Counts", "Counts"),
    ("Beware", "Beware"),
    ("Parts", "Its words"),
    ("Also read", "Also read"),
    ("Elsewhere", "Called elsewhere"),
    ("See", "See also"),
];

/// What stands above a list of a kind.
pub fn intro(kind: NameKind) -> String {
    let file = FILES.iter().find(|(known, _)| *known == kind);
    file.map_or_else(|| own_intro(kind).to_owned(), |(_, text)| prose::intro(text).to_owned())
}

fn own_intro(kind: NameKind) -> &'static str {
    match kind {
        NameKind::Ingredient => {
            "What the store knows, per 100 g.\nWhat is not listed there is not known, which is \
            not zero.\nAllergens differ by maker: the packet in the hand decides."
        }
        NameKind::Culture => "What a kept starter is made of when it is ripe.",
        NameKind::Style => {
            "Limits for figures; a figure outside them gets a warning, never an error."
        }
        _ => "What this bakehouse has.",
    }
}

/// Every word of the language.
pub fn language() -> Vec<ReferenceEntry> {
    let each = FILES.iter().flat_map(|(kind, text)| {
        prose::parts(text).map(|said| entry(*kind, said)).collect::<Vec<_>>()
    });
    each.collect()
}

/// What is said of a class, and of what is in it: `Counts` and `Beware`, by its word.
pub fn of_classes() -> Vec<(&'static str, &'static str, Option<&'static str>)> {
    let text = FILES.iter().find(|(kind, _)| *kind == NameKind::Class).map_or("", |(_, text)| text);
    let counts = |said: &Section| said.fact("Counts").unwrap_or_default();
    prose::parts(text).map(|said| (said.name, counts(&said), said.fact("Beware"))).collect()
}

/// The caution of one ingredient, and what it is called elsewhere.
pub fn of_ingredient(name: &str) -> (Option<&'static str>, Vec<String>) {
    let Some(said) = prose::parts(INGREDIENTS).find(|said| said.name == name) else {
        return (None, Vec::new());
    };
    (said.fact("Beware"), said.fact("Elsewhere").map(prose::list).unwrap_or_default())
}

fn entry(kind: NameKind, said: Section) -> ReferenceEntry {
    let mut entry = ReferenceEntry::new(kind, said.name);
    entry.page.line = said.line.to_owned();
    let words = |label| said.fact(label).map(prose::list).unwrap_or_default();
    entry.places = words("In");
    entry.reads = words("Parts");
    entry.reads.extend(words("Also read"));
    entry.elsewhere = words("Elsewhere");
    for (label, shown) in LABELS {
        if label == "Default" {
            of_tables(&mut entry);
        }
        if let Some(words) = said.fact(label) {
            entry.fact(shown, words);
        }
    }
    entry.page.prose = said.prose;
    if let Some((frame, text)) = said.example {
        entry.frame = frame.to_owned();
        entry.page.example = Some(text);
    }
    entry
}

/// Adds what the program's tables know of a word.
fn of_tables(entry: &mut ReferenceEntry) {
    match entry.kind {
        NameKind::Verb => entry.fact("By default", hands(&entry.key)),
        NameKind::Unit => unit(entry),
        NameKind::Figure => {
            entry.fact("A value is", value(&entry.key));
            entry.fact("By default", usual(&entry.key));
        }
        NameKind::Class => {
            let claim = if words::FIGURES.iter().any(|(name, _)| *name == entry.key) {
                format!("the figure `{}`", entry.page.name)
            } else {
                format!("`{} 5%`, over flour, or a weight", entry.page.name)
            };
            entry.fact("As a figure", claim);
            entry.fact("By default", "for the whole formula; `in` and a place limit it to one mix");
        }
        NameKind::Statement if entry.key == "contains" => {
            let names: Vec<&str> = Allergen::all().map(Allergen::key).collect();
            entry.fact("Allergens", names.join(", "));
        }
        NameKind::Clause if entry.key == "in" => {
            entry.fact("Places", places().collect::<Vec<_>>().join(", "));
        }
        _ => {}
    }
}

fn hands(word: &str) -> String {
    let Some(verb) = Verb::read(word) else { return String::new() };
    let hands = match usual_hands(verb) {
        Hands::On => "hands are at work all the time",
        Hands::Watched => "no one works, but someone is near",
        Hands::Off => "it waits by itself",
    };
    match usual_minutes(verb) {
        Some(usual) => format!(
            "{hands}; {} where nothing is written (common practice, no source)",
            minutes(&usual)
        ),
        None => hands.to_owned(),
    }
}

fn value(figure: &str) -> &'static str {
    match words::figure(figure) {
        words::WrittenIn::Share => "a percentage",
        words::WrittenIn::Time => "a time, as a rule a range",
        words::WrittenIn::Mass => "a weight",
        words::WrittenIn::Temperature => "a temperature",
        words::WrittenIn::Number => "a bare number",
        words::WrittenIn::Other => "a percentage or a weight",
    }
}

/// What holds of a figure of which nothing is said.
fn usual(figure: &str) -> String {
    const WORKED_OUT: &str = "worked out whether it is claimed or not";
    let Some(bound) = limit("habit", figure) else { return WORKED_OUT.to_owned() };
    let end = |end: &Option<Exact>| end.as_ref().map(|end| trimmed(&(end * int(100)), 1));
    let bound = match (end(&bound.low), end(&bound.high)) {
        (Some(low), Some(high)) => format!("from {low} to {high} %"),
        (None, Some(high)) => format!("up to {high} %"),
        (Some(low), None) => format!("from {low} % on"),
        (None, None) => return WORKED_OUT.to_owned(),
    };
    format!("{WORKED_OUT}; {bound} is usual where no style says otherwise")
}

/// What holds where a unit is not written.
fn without_unit(unit: Unit) -> &'static str {
    match unit.dimension() {
        Dimension::Mass => "a number alone is a count, so a weight needs its unit",
        Dimension::Volume => "a number alone is a count, so a volume needs its unit",
        Dimension::Share => "a share of the flour in its mix, unless something else is said",
        Dimension::Part => "a number alone is a count, so parts are written `1 part`",
        Dimension::Time => "a number alone is a count, so a time needs its unit",
        Dimension::Temperature => {
            "a temperature needs its scale; the house's `units` choose what is printed"
        }
        Dimension::Energy => "a number alone is a count, so energy needs its unit",
        Dimension::Count | Dimension::Factor => {
            "a number alone is a count, so a growth needs its unit"
        }
    }
}

fn unit(entry: &mut ReferenceEntry) {
    let Some(unit) = Unit::read(&entry.page.name) else { return };
    entry.fact("Measures", unit.dimension().word());
    entry.fact("By default", without_unit(unit));
    if let Some(worth) = worth(unit) {
        entry.fact("Is", worth);
    }
    let own = entry.page.name.clone();
    let others = Unit::spellings().filter(|(spelling, known)| *known == unit && *spelling != own);
    let others: Vec<String> = others.map(|(spelling, _)| spelling.to_owned()).collect();
    if !others.is_empty() {
        entry.fact("Also read", format!("`{}`", others.join("`, `")));
        entry.reads.extend(others);
    }
}

/// What one of a unit is in the unit that its kind is counted in.
fn worth(unit: Unit) -> Option<String> {
    let base = match unit.dimension() {
        Dimension::Mass => "g",
        Dimension::Volume => "ml",
        Dimension::Time => "min",
        Dimension::Energy => "kcal",
        _ => return None,
    };
    let one = |measures| unit.to_base(&int(1), measures);
    let shown = |worth: &Exact| {
        let about = if shows(worth, 4) { "" } else { "about " };
        format!("{about}{} {base}", trimmed(worth, 4))
    };
    let (metric, us) = (one(Measures::Metric), one(Measures::Us));
    match metric == us {
        _ if unit.spelling() == base => None,
        true => Some(shown(&metric)),
        false => {
            Some(format!("{}; where the house says `measures US`, {}", shown(&metric), shown(&us)))
        }
    }
}
