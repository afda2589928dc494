//! What comments of a manuscript tell the proof-reader.

use super::unknown_instruction as say;
use crate::diag::Finding;
use crate::source::{SourceId, Span};
use crate::syntax::{PLACED, read_placed};
use std::ops::Range;

/// The first words of all instructions, those of a booklet left aside.
const WORDS: [&str; 9] =
    ["about", "off", "on", "allow", "all", "title", "contents", "index", "claims"];

/// An instruction that steers reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Instruction {
    /// What follows is about these, each with its place.
    About(Vec<(String, Span)>),
    /// Nothing is read from here.
    Off,
    /// From here everything is read again.
    On,
    /// A finding, its place, and the reason.
    Allow(String, Span, String),
    /// A claim: the table that follows is all of a formula, or of a mix of it.
    AllOf(String, Span),
    /// What `weave` puts in its place.
    Place(Placeholder),
}

/// Something that a woven book has in place of a comment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Placeholder {
    /// The title of the book and who wrote it.
    Title(String, Option<String>),
    /// The formulas in their order.
    Contents,
    /// The formulas by what is in them.
    ByIngredient,
    /// The formulas by their styles.
    ByStyle,
    /// The formulas by how long they take.
    ByTime,
    /// What the formulas claim, with the proofs.
    Claims,
    /// What a booklet prints too, `reckoner temperatures`: its statement in the file.
    Part(Range<usize>),
}

/// The instructions of a comment, of which `range` is the inside.
pub fn read(
    source: SourceId,
    text: &str,
    range: Range<usize>,
    findings: &mut Vec<Finding>,
) -> Vec<Instruction> {
    let inside = text.get(range.clone()).unwrap_or_default();
    let mut all = Vec::new();
    for part in statements(inside) {
        let written = &inside[part.clone()];
        let words = written.trim();
        if words.is_empty() {
            continue;
        }
        let start = range.start + part.start + (written.len() - written.trim_start().len());
        let span = |from: usize, length: usize| {
            let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
            Span::new(source, byte(start + from), byte(start + from + length))
        };
        let first = words.split_whitespace().next().unwrap_or_default().to_lowercase();
        if PLACED.contains(&first.as_str()) {
            let (_, wrong) = read_placed(source, text, start..start + words.len());
            match wrong.is_empty() {
                true => {
                    let part = Placeholder::Part(start..start + words.len());
                    all.push(Instruction::Place(part));
                }
                false => findings.extend(wrong),
            }
            continue;
        }
        match read_one(words, &span) {
            Ok(instruction) => all.push(instruction),
            Err(finding) => findings.push(*finding),
        }
    }
    all
}

/// The stretches between semicolons and line breaks; those inside quotes and braces part
/// nothing.
fn statements(inside: &str) -> Vec<Range<usize>> {
    let (mut all, mut from, mut quoted, mut depth) = (Vec::new(), 0, false, 0_usize);
    for (at, letter) in inside.char_indices() {
        match letter {
            '"' => quoted = !quoted,
            '{' if !quoted => depth += 1,
            '}' if !quoted => depth = depth.saturating_sub(1),
            ';' | '\n' if !quoted && depth == 0 => {
                all.push(from..at);
                from = at + 1;
            }
            _ => {}
        }
    }
    all.push(from..inside.len());
    all
}

type Spanned<'s> = &'s dyn Fn(usize, usize) -> Span;

fn read_one(words: &str, span: Spanned) -> Result<Instruction, Box<Finding>> {
    let first = words.split_whitespace().next().unwrap_or_default();
    let rest = words[first.len()..].trim();
    let whole = span(0, words.len());
    let unclear = |wanted: &str| Err(Box::new(say::unclear(whole, words, wanted)));
    match first.to_lowercase().as_str() {
        "off" if rest.is_empty() => Ok(Instruction::Off),
        "on" if rest.is_empty() => Ok(Instruction::On),
        "off" | "on" => unclear("`off` or `on` alone"),
        "about" if rest.is_empty() => unclear("`about` and the name of a formula"),
        "about" => Ok(Instruction::About(names(words, first.len(), span))),
        "allow" => match allowed(words, first.len(), span) {
            Some(allow) => Ok(allow),
            None => unclear("the finding and the reason: `allow number-in-prose \"an old slip\"`"),
        },
        "all" => match rest.strip_prefix("of ").map(str::trim).filter(|name| !name.is_empty()) {
            Some(name) => {
                let at = words.len() - name.len();
                Ok(Instruction::AllOf(name.to_owned(), span(at, name.len())))
            }
            None => unclear("`all of` and the name of a formula, or `all of MIX of FORMULA`"),
        },
        "contents" if rest.is_empty() => Ok(Instruction::Place(Placeholder::Contents)),
        "claims" if rest.is_empty() => Ok(Instruction::Place(Placeholder::Claims)),
        "contents" | "claims" => unclear("`contents` or `claims` alone"),
        "index" => match rest {
            "by ingredient" => Ok(Instruction::Place(Placeholder::ByIngredient)),
            "by style" => Ok(Instruction::Place(Placeholder::ByStyle)),
            "by time" => Ok(Instruction::Place(Placeholder::ByTime)),
            _ => unclear("`index by ingredient`, `index by style` or `index by time`"),
        },
        "title" => match titled(rest) {
            Some(title) => Ok(Instruction::Place(title)),
            None => unclear("`title \"Bread for a Small Harbour\" by \"Ines Calder\"`"),
        },
        _ => {
            let known: Vec<&str> = WORDS.iter().chain(PLACED).copied().collect();
            Err(Box::new(say::word(span(0, first.len()), first, &known)))
        }
    }
}

/// `"A Book" by "Ines Calder"`
fn titled(words: &str) -> Option<Placeholder> {
    let mut parts = words.split('"');
    let (Some(""), Some(title), Some(rest)) = (parts.next(), parts.next(), parts.next()) else {
        return None;
    };
    let by = match (rest.trim(), parts.next(), parts.next()) {
        ("", None, None) => None,
        ("by", Some(by), Some("")) => Some(by.to_owned()),
        _ => return None,
    };
    Some(Placeholder::Title(title.to_owned(), by))
}

/// The names after a word, parted by commas.
fn names(words: &str, from: usize, span: Spanned) -> Vec<(String, Span)> {
    let mut all = Vec::new();
    let mut at = from;
    for part in words[from..].split(',') {
        let name = part.trim();
        if !name.is_empty() {
            let lead = part.len() - part.trim_start().len();
            all.push((name.to_owned(), span(at + lead, name.len())));
        }
        at += part.len() + 1;
    }
    all
}

fn allowed(words: &str, from: usize, span: Spanned) -> Option<Instruction> {
    let rest = words[from..].trim_start();
    let at = words.len() - rest.len();
    let name = rest.split(|letter: char| letter.is_whitespace() || letter == '"').next()?;
    let reason = rest[name.len()..].trim().strip_prefix('"')?.strip_suffix('"')?.trim();
    let is_whole = !name.is_empty() && !reason.is_empty();
    is_whole.then(|| Instruction::Allow(name.to_owned(), span(at, name.len()), reason.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(inside: &str) -> (Vec<Instruction>, Vec<String>) {
        let mut findings = Vec::new();
        let all = read(SourceId(9), inside, 0..inside.len(), &mut findings);
        (all, findings.into_iter().map(|finding| finding.message).collect())
    }

    #[test]
    fn instructions_are_read_and_others_are_told() {
        let at = |start, end| Span::new(SourceId(9), start, end);
        let (all, wrong) =
            told(" about mole-loaf, pier-loaf; off\n on ; allow pair-disagrees \"as; told\"");
        assert_eq!(
            all,
            [
                Instruction::About(vec![
                    ("mole-loaf".into(), at(7, 16)),
                    ("pier-loaf".into(), at(18, 27)),
                ]),
                Instruction::Off,
                Instruction::On,
                Instruction::Allow("pair-disagrees".into(), at(45, 59), "as; told".into()),
            ]
        );
        assert!(wrong.is_empty(), "{wrong:?}");
        for (inside, said) in [
            ("abuot mole-loaf", "`abuot` is not an instruction for a manuscript"),
            ("about", "`about` is not complete"),
            ("off now", "`off now` is not complete"),
            ("allow number-in-prose", "`allow number-in-prose` is not complete"),
            ("allow number-in-prose \"\"", "`allow number-in-prose \"\"` is not complete"),
        ] {
            assert_eq!(told(inside), (Vec::new(), vec![said.to_owned()]));
        }
    }
}
