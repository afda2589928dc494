//! What `check` says of a formula, as a learner reads it: what it is about in the booklet's
//! language, what was found, and what is usual or allowed.

use super::maker::Maker;
use crate::diag::Finding;
use crate::quantity::Exact;
use crate::quantity::display::read_exact;

/// Units that may follow a number in a finding.
const UNITS: [&str; 10] = ["%", "g", "kg", "oz", "lb", "ml", "°C", "°F", "h", "min"];

/// What the words after a range say of it, and the message that tells it.
const RANGES: [(&str, &str); 4] = [
    (" is usual", "finding-and-usual"),
    (" is possible", "finding-and-allowed"),
    (" allows ", "finding-and-allowed"),
    (" are usual", "finding-and-usual"),
];

impl Maker<'_> {
    /// A finding in the booklet's language with its numbers: `too little salt: 0.2 %, 1.5–3 % is
    /// usual`. None where it is about how a file is written, which is for its author.
    pub fn finding_said(&self, finding: &Finding) -> Option<String> {
        self.finding_beside(finding, None)
    }

    /// The same beside a percentage that a learner found: what was found on another flour, with
    /// seeds for one, is left out where it is nearly that and not it.
    pub fn finding_beside(&self, finding: &Finding, percent: Option<&Exact>) -> Option<String> {
        let about = self.words.find(&format!("finding-{}", finding.rule.name), &[])?;
        let about = match self.figure_of(finding) {
            Some(figure) => self.labelled(&figure, &about),
            None => about,
        };
        let (said, of_range) = parted(&finding.message);
        let range = of_range.or_else(|| {
            // A note that reckons is no bound.
            let plain = finding.notes.iter().filter(|note| !note.contains(['×', '÷', '=']));
            plain.filter_map(|note| parted(note).1).next()
        });
        let mut all = amounts(said);
        if let (Some(percent), [(number, unit)]) = (percent, all.as_slice())
            && unit == "%"
            && let Some(found) = read_exact(number)
            && is_nearly(&found, percent)
        {
            all.clear();
            // What is usual says it.
            if let Some((id, range)) = range
                && let Some(range) = self.range_said(range)
            {
                return Some(self.words.fill(id, &[("finding", &about), ("range", &range)]));
            }
        }
        let found = self.amounts_said(&all);
        if found.is_empty() {
            return Some(about);
        }
        let found = self.words.fill("finding-found", &[("finding", &about), ("found", &found)]);
        let range = range.and_then(|(id, range)| Some((id, self.range_said(range)?)));
        Some(match range {
            Some((id, range)) => self.words.fill(id, &[("finding", &found), ("range", &range)]),
            None => found,
        })
    }

    /// The figure that a style bounds: `hydration is 85 %`.
    fn figure_of(&self, finding: &Finding) -> Option<String> {
        let (figure, _) = finding.message.split_once(" is ")?;
        let is_bound = finding.rule.name == "outside-style";
        let key = figure.replace(' ', "-");
        is_bound.then(|| self.words.find(&format!("figure-{key}"), &[])).flatten()
    }

    /// `1.5–3 %`, `up to 5 %`, `70 % to 95 %`.
    fn range_said(&self, range: &str) -> Option<String> {
        let all = amounts(range);
        match all.as_slice() {
            [one] if range.contains("up to ") => {
                Some(self.words.fill("finding-up-to", &[("amount", &self.amount_said(one))]))
            }
            [one] if range.contains(" or more") => {
                Some(self.words.fill("finding-or-more", &[("amount", &self.amount_said(one))]))
            }
            [one] => Some(self.amount_said(one)),
            [low, high] => {
                let unit = high.1.clone();
                let low = self.amount_said(&(low.0.clone(), String::new()));
                Some(format!("{low}–{}", self.amount_said(&(high.0.clone(), unit))))
            }
            _ => None,
        }
    }

    /// `0.3 %, 2 h 35 min`
    fn amounts_said(&self, all: &[(String, String)]) -> String {
        let mut said = String::new();
        let mut before = "";
        for amount in all {
            said.push_str(match (before, amount.1.as_str()) {
                ("", _) if said.is_empty() => "",
                ("h", "min") => " ",
                _ => ", ",
            });
            said.push_str(&self.amount_said(amount));
            before = &amount.1;
        }
        said
    }

    /// A number or two with a dash between, in the booklet's marks.
    fn amount_said(&self, (number, unit): &(String, String)) -> String {
        let ends: Vec<String> = number.split('–').map(|it| self.words.number(it)).collect();
        let number = ends.join("–");
        if unit.is_empty() { number } else { format!("{number} {unit}") }
    }
}

/// Whether a percentage is within a sixth of another one, and shows another number.
fn is_nearly(found: &Exact, percent: &Exact) -> bool {
    let apart = (found - percent).abs();
    let is_same = apart <= percent.one_in::<100>();
    !is_same && apart <= percent.one_in::<6>()
}

/// What a sentence says was found, and the range it holds that against, with the message for it.
fn parted(sentence: &str) -> (&str, Option<(&'static str, &str)>) {
    let ranges = RANGES.iter().filter_map(|(words, id)| Some((sentence.find(words)?, *words, *id)));
    let Some((at, words, id)) = ranges.min_by_key(|it| it.0) else {
        return (sentence, None);
    };
    let (before, after) = sentence.split_at(at);
    // `…; the style allows 70 % to 95 %`, and else what stands before: `…; 1.5–3 % is usual`.
    let (said, own) = before.rsplit_once("; ").unwrap_or(("", before));
    let range = if words.trim() == "allows" { after } else { own };
    let ends = range.find([';', '(']).unwrap_or(range.len());
    (said, Some((id, range.get(..ends).unwrap_or(range))))
}

/// The numbers of a sentence, each with its unit; names stand between backticks.
fn amounts(sentence: &str) -> Vec<(String, String)> {
    let plain: String = sentence.split('`').step_by(2).collect::<Vec<_>>().join(" ");
    let words: Vec<&str> = plain
        .split_whitespace()
        .map(|word| word.trim_matches(['(', ')', ',', ';', ':', '.']))
        .collect();
    let is_number = |word: &str| {
        let of_number = |it: char| it.is_ascii_digit() || ['.', '–', '−'].contains(&it);
        word.contains(|it: char| it.is_ascii_digit()) && word.chars().all(of_number)
    };
    let mut all = Vec::new();
    for (at, word) in words.iter().enumerate().filter(|(_, word)| is_number(word)) {
        let unit = words.get(at + 1).filter(|it| UNITS.contains(it));
        all.push(((*word).to_owned(), unit.map(|it| (*it).to_owned()).unwrap_or_default()));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_found_and_what_it_is_held_against() {
        let told = |sentence: &str| {
            let (said, range) = parted(sentence);
            let numbers = |words: &str| {
                let all = amounts(words);
                let one = |(number, unit): &(String, String)| format!("{number} {unit}");
                all.iter().map(one).collect::<Vec<_>>().join(", ")
            };
            (numbers(said), range.map(|(_, range)| numbers(range)).unwrap_or_default())
        };
        for (sentence, found, range) in [
            ("salt is 0.2 %; 1.5–3 % is usual", "0.2 %", "1.5–3 %"),
            ("hydration is 55 %; the style `c 2` allows 70 % to 95 %", "55 %", "70 %, 95 %"),
            ("the yeast is worth 8 % of fresh yeast; up to 5 % is usual", "8 %", "5 %"),
            ("25.69 % water on the flour is dry crumbs, not a dough", "25.69 %", ""),
            ("45–100 % is possible", "", "45–100 %"),
            ("there is more yeast (0.7 %) than salt (0.2 %)", "0.7 %, 0.2 %", ""),
            ("`type 65` is 740 % of the flour", "740 %", ""),
            ("there is no salt", "", ""),
        ] {
            assert_eq!(told(sentence), (found.to_owned(), range.to_owned()), "{sentence}");
        }
    }
}
