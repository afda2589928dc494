//! Several things on one line, and amounts in the words beside one of them.

use super::item::{Amount, is_beside, item, labelled, plain};
use super::names::is_known;
use super::numbers::number;
use super::units::{Measure, measure};
use crate::quantity::Exact;
use crate::quantity::display::read_exact;

/// What may stand between two things on one line.
const JOINTS: [&str; 14] = [
    ", ", "; ", " + ", " & ", " / ", " and ", " plus ", " et ", " und ", " sowie ", " y ", " e ",
    " più ", " más ",
];

/// Words that may follow such a mark: `, and 100 g milk`.
const LEADS: [&str; 10] =
    ["and ", "plus ", "et ", "und ", "sowie ", "y ", "e ", "più ", "más ", "+ "];

/// The marks and words of a line that may part it, outside of brackets: where each begins, and
/// where what follows it begins.
fn joints(text: &str) -> Vec<(usize, usize)> {
    let mut depth = 0_usize;
    let mut all: Vec<(usize, usize)> = Vec::new();
    for (at, letter) in text.char_indices() {
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > 0 || all.last().is_some_and(|(_, end)| at < *end) {
            continue;
        }
        let rest = &text[at..];
        let Some(joint) = JOINTS.iter().find(|joint| rest.starts_with(**joint)) else { continue };
        let mut end = at + joint.len();
        while let Some(lead) = LEADS.iter().find(|lead| text[end..].starts_with(**lead)) {
            end += lead.len();
        }
        all.push((at, end));
    }
    all
}

/// The lines that one line holds, `300 g water, 100 g milk`; itself where it is one.
pub fn several(line: &str) -> Vec<String> {
    parted(line, false)
}

/// The same, where the first may be words without an amount: `all the biga, 200 g flour`.
fn parted(line: &str, is_loose: bool) -> Vec<String> {
    let text = plain(line);
    let joints = joints(&text);
    let (mut parts, mut from) = (Vec::new(), 0);
    for (at, (start, end)) in joints.iter().enumerate() {
        let next = joints.get(at + 1).map_or(text.len(), |(next, _)| *next);
        let Some(right) = text.get(*end..next) else { continue };
        let left = text.get(from..*start).unwrap_or_default();
        let is_first = is_loose && parts.is_empty() && left.split(' ').count() <= 5;
        if (is_first || item(left).is_some()) && is_weighed_food(right) {
            parts.push(left.trim().to_owned());
            from = *end;
        }
    }
    parts.push(text.get(from..).unwrap_or_default().trim().to_owned());
    match parts.len() == 1 || adds_up(&parts) {
        true => vec![line.to_owned()],
        false => parts,
    }
}

/// Whether words are an amount of something that is known.
fn is_weighed_food(words: &str) -> bool {
    item(words).is_some_and(|it| {
        let is_food = is_known(&it.name) || is_beside(words).is_some() && begins_known(&it.name);
        is_food && !matches!(it.amount, Amount::Share(_))
    })
}

/// Whether the first words of a text are a name: `Eigelb zum Bestreichen`.
fn begins_known(words: &str) -> bool {
    let all: Vec<&str> = words.split(' ').collect();
    (1..=all.len().min(4)).any(|count| is_known(&all[..count].join(" ")))
}

/// Whether the lines after the first are what the first is made of: `500 g flour, 400 g bread
/// flour and 100 g rye`.
fn adds_up(parts: &[String]) -> bool {
    let grams = |part: &String| match item(part)?.amount {
        Amount::Measured(amount) => read_exact(amount.strip_suffix(" g")?),
        _ => None,
    };
    let all: Option<Vec<Exact>> = parts.iter().map(grams).collect();
    let Some(all) = all else { return false };
    let Some((first, rest)) = all.split_first() else { return false };
    rest.len() > 1 && *first == rest.iter().fold(Exact::ZERO, |sum, it| sum + it.clone())
}

/// A list on one line.
pub struct Listed {
    /// What stands before it: `Poolish`.
    pub label: Option<String>,
    /// Its lines.
    pub lines: Vec<String>,
    /// What is said after it.
    pub after: Option<String>,
}

/// `Poolish: 150 g flour, 150 g water. 12 hours at 20 °C.`; none where a line has fewer than two
/// things on it.
pub fn list_on_a_line(line: &str) -> Option<Listed> {
    let text = plain(line);
    let label = labelled(&text);
    let (label, rest) = label.map_or((None, text.as_str()), |(label, rest)| (Some(label), rest));
    let mut depth = 0_usize;
    let end = rest.char_indices().find(|(at, letter)| {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        let after = &rest[at + letter.len_utf8()..];
        let begins = |it: char| it.is_uppercase() || it.is_ascii_digit();
        let before = rest[..*at].rsplit(' ').next().unwrap_or_default();
        // `gr. 160` and `1 c. à s.` end nothing.
        let is_short = before.chars().count() < 4 && measure(before).is_some();
        depth == 0
            && *letter == '.'
            && !is_short
            && after.starts_with(' ')
            && after.trim_start().starts_with(begins)
    });
    let (list, after) = match end {
        Some((at, _)) => (&rest[..at], Some(rest[at + 1..].trim().to_owned())),
        None => (rest, None),
    };
    let lines = parted(list.trim_end_matches('.'), label.is_some());
    (lines.len() > 1).then(|| Listed {
        label: label.map(str::to_owned),
        lines,
        after: after.filter(|it| !it.is_empty()),
    })
}

/// Whether words are a number of packets and nothing else, `½ cube`: what stands before them says
/// how much that is.
pub fn is_packet(words: &str) -> bool {
    let Some(found) = number(words) else { return false };
    let rest = words.get(found.length..).unwrap_or_default().trim_start();
    matches!(measure(rest), Some((Measure::Holder, length)) if length == rest.trim_end().len())
}

/// Whether words hold an amount that is weighed, measured or counted: `50 g held back`, `plus 2
/// tbsp`, `and 1 egg`.
pub fn holds_amount(words: &str) -> bool {
    let mut before = ' ';
    for (at, letter) in words.char_indices() {
        let begins = !before.is_alphanumeric() && !matches!(before, '.' | ',' | '/' | '°');
        before = letter;
        if !begins || !(letter.is_alphanumeric() || "½¼¾⅓⅔⅛".contains(letter)) {
            continue;
        }
        let rest = &words[at..];
        let Some(found) = number(rest) else { continue };
        let after = rest[found.length..].trim_start();
        let is_measured = match measure(after) {
            Some((Measure::Unit(unit), _)) => unit != "%",
            Some((Measure::Holder | Measure::Pinch | Measure::Pint, _)) => true,
            None => false,
        };
        let is_counted = || {
            let is_end = |it: char| matches!(it, ',' | ';' | ')' | '.' | '(');
            let name = after.split(is_end).next().unwrap_or_default().trim();
            !name.is_empty() && begins_known(name)
        };
        // `a little`, `one by one` count nothing.
        if is_measured || letter.is_numeric() && is_counted() {
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_several_things_is_parted_and_no_other() {
        for (line, wanted) in [
            ("300 g water, 100 g milk", "300 g water|100 g milk"),
            ("5 g instant yeast, 40 g hazelnuts", "5 g instant yeast|40 g hazelnuts"),
            ("30 g milk powder; 20 g egg powder", "30 g milk powder|20 g egg powder"),
            ("350 g Wasser, 100 g Milch", "350 g Wasser|100 g Milch"),
            ("300 g d’eau, 20 g de beurre", "300 g d’eau|20 g de beurre"),
            ("300 g de agua y 2 huevos", "300 g de agua|2 huevos"),
            ("300 g di acqua e 50 g di burro", "300 g di acqua|50 g di burro"),
            ("100 g Butter und 2 Eier", "100 g Butter|2 Eier"),
            ("water 300 g, milk 100 g", "water 300 g|milk 100 g"),
            ("500g bread flour, 250ml milk and 1 egg", "500g bread flour|250ml milk|1 egg"),
            ("1 Ei + 1 Eigelb zum Bestreichen", "1 Ei|1 Eigelb zum Bestreichen"),
            ("500 g bread flour, sifted", ""),
            ("2 eggs, beaten", ""),
            ("250 g butter, 100 g melted", ""),
            ("1 cup plus 2 tablespoons milk", ""),
            ("250 g / 9 oz butter", ""),
            ("1,250 g flour", ""),
            ("1 egg, plus 1 to glaze", ""),
            ("500 g flour, 400 g bread flour and 100 g rye flour", ""),
        ] {
            let parts = several(line);
            let wanted = if wanted.is_empty() { line } else { wanted };
            assert_eq!(parts.join("|"), wanted, "{line}");
        }
    }

    #[test]
    fn a_list_on_one_line_has_its_label_and_what_follows() {
        assert!(is_packet("½ Würfel") && is_packet("1 sachet") && !is_packet("1 sachet of sugar"));
        let told = |line: &str| {
            list_on_a_line(line).map(|it| {
                let (label, after) = (it.label.unwrap_or_default(), it.after.unwrap_or_default());
                format!("{label}|{}|{after}", it.lines.len())
            })
        };
        for (line, wanted) in [
            ("Poolish: 150 g Weizenmehl 550, 150 g Wasser, 0,3 g Hefe", "Poolish|3|"),
            (
                "Biga (day before): 300g strong flour, 180g water, 1g fresh yeast. 16h at 18C.",
                "Biga (day before)|3|16h at 18C.",
            ),
            ("harina 500 g; leche 180 ml; agua 120 ml", "|3|"),
            ("Dough: all the biga, 200g strong flour, 210g water", "Dough|3|"),
        ] {
            assert_eq!(told(line).as_deref(), Some(wanted), "{line}");
        }
        for line in ["Flour: 500 g", "Mix: 10 minutes", "500 g flour", "Method"] {
            assert_eq!(told(line), None, "{line}");
        }
    }

    #[test]
    fn amounts_in_words_are_seen() {
        for words in [
            "50 g held back",
            "plus 2 tbsp",
            "and 1 egg",
            "½ cup for later",
            "20 g in the soaker",
            "+ 2 EL Milch",
        ] {
            assert!(holds_amount(words), "{words}");
        }
        for words in ["at 35 °C", "sifted", "30 minutes before", "T65", "a little warm", "type 550"]
        {
            assert!(!holds_amount(words), "{words}");
        }
    }
}
