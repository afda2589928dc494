//! What a house's own words for its prints say is not in the bread: they are printed with
//! whatever it makes.

use super::bakehouses::Bakehouse;
use crate::check::{check_printed, may_deny};
use crate::diag::{Finding, Level};
use crate::formula::{Allergen, work};
use crate::print::wording::{OwnMessage, Wording, own_messages};
use crate::source::{Span, is_unseen};

/// What each message denies falsely, of the first formula that refutes it, and the names of
/// those messages; `file` is shown to the user.
pub fn denied(bakehouse: &Bakehouse, own: &str, file: &str) -> (Vec<String>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut ids = Vec::new();
    // Terms and letters written by their number are put in, as on paper.
    let (paper, _) = Wording::new("en", Some(own));
    for message in own_messages(own) {
        let together = paper.put_together(message.id).unwrap_or_default();
        let all = [in_full(&message, &together), in_full(&message, &message.words)];
        let denying = all.iter().filter(|words| may_deny(words));
        let told = denying.map(|words| first_denied(bakehouse, words));
        let mut told = told.into_iter().find(|told| !told.is_empty()).unwrap_or_default();
        // Of what leads to every list, one entry is enough.
        let most = if leads_to_allergens(&message) { 1 } else { told.len() };
        told.truncate(most);
        if !told.is_empty() {
            ids.push(message.id.to_owned());
        }
        for finding in &mut told {
            let place = format!(" ({file}, line {})", message.line);
            finding.message = format!("{}{place}", finding.message);
        }
        findings.append(&mut told);
    }
    (ids, findings)
}

/// The words of a message as they are printed: with allergens after what leads to them.
fn in_full(message: &OwnMessage, words: &str) -> String {
    if !leads_to_allergens(message) {
        return words.to_owned();
    }
    let names: Vec<&str> = Allergen::all().map(Allergen::key).collect();
    format!("{words} {}", names.join(", "))
}

fn leads_to_allergens(message: &OwnMessage) -> bool {
    message.id.ends_with("contains") || message.id.ends_with("contain")
}

/// Warns of what a template of the house's own may deny, a line at a time: nobody knows when a
/// template prints its words, and no print is held to them. `file` is shown to the user.
pub fn in_template(bakehouse: &Bakehouse, template: &str, file: &str) -> Vec<Finding> {
    let mut all: Vec<Finding> = Vec::new();
    for (at, line) in template.lines().enumerate() {
        let code = line.split("//").next().unwrap_or_default();
        let words: String = code
            .chars()
            .map(|letter| if "#*_[]{}()\"\\$".contains(letter) { ' ' } else { letter })
            .collect();
        if !may_deny(&words) {
            continue;
        }
        let Some(mut finding) = first_denied(bakehouse, &words).into_iter().next() else {
            continue;
        };
        finding.level = Level::Warning;
        let line = at + 1;
        finding.message = format!("{} ({file}, line {line})", finding.message);
        finding.notes.push("no print is held to the words of the house's own templates".into());
        finding.help = Some(
            "take the words out of the template: a text of a formula, or `words.ftl`, is judged \
             with each bread"
                .into(),
        );
        all.push(finding);
    }
    all
}

/// What the letters of a drawing deny falsely: they are printed with it. Those of a photograph
/// nobody can read.
pub fn in_drawing(
    bakehouse: &Bakehouse,
    drawing: &[u8],
    only: Option<&[&str]>,
    span: Span,
) -> Vec<Finding> {
    let Some(words) = std::str::from_utf8(drawing).ok().map(letters_of) else { return Vec::new() };
    if !may_deny(&words) {
        return Vec::new();
    }
    let mut told = first_denied_of(bakehouse, &words, only);
    for finding in &mut told {
        finding.message = format!("in this picture: {}", finding.message);
        finding.labels.iter_mut().for_each(|label| label.span = span);
    }
    told
}

/// What is written in an SVG, without its marks and styles: text by text, and all of it in one,
/// as it may be drawn side by side.
pub(super) fn letters_of(drawing: &str) -> String {
    let (mut words, mut together) = (String::new(), String::new());
    let mut rest = drawing;
    while let Some(open) = rest.find('<') {
        let (before, mark) = rest.split_at(open);
        words.push_str(&letters(before));
        together.push_str(&letters(before));
        let end = |of: &str| mark.find(of).map_or(mark.len(), |at| at + of.len());
        if mark.starts_with("<!--") {
            rest = mark.get(end("-->")..).unwrap_or_default();
            continue;
        }
        if let Some(typed) = mark.strip_prefix("<![CDATA[") {
            let (typed, after) = typed.split_once("]]>").unwrap_or((typed, ""));
            words.push_str(typed);
            together.push_str(typed);
            rest = after;
            continue;
        }
        let name = mark.get(1..).unwrap_or_default();
        let name = name.split([' ', '\n', '\t', '\r', '/', '>']).next().unwrap_or_default();
        if matches!(name, "style" | "script") {
            rest = mark.get(end(&format!("</{name}"))..).unwrap_or_default();
            continue;
        }
        // Each text stands by itself; what is inside of one belongs together.
        if ["</text", "</title", "</desc"].iter().any(|it| mark.starts_with(it)) {
            words.push_str(". ");
            together.push(' ');
        }
        rest = mark.get(end(">")..).unwrap_or_default();
    }
    // What stands before the first mark is no part of it.
    let dense = spaced_out(&together);
    let all = [words.as_str(), together.as_str(), dense.as_str()];
    let mut told: Vec<&str> = Vec::new();
    all.into_iter().for_each(|one| {
        if !told.contains(&one) {
            told.push(one);
        }
    });
    told.join(". ")
}

/// Text of an SVG with its entities read; ends of lines are blanks.
fn letters(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, entity)) = rest.split_once('&') {
        written.push_str(before);
        let (name, after) = entity.split_once(';').unwrap_or((entity, ""));
        let number = name.strip_prefix('#').and_then(|it| match it.strip_prefix(['x', 'X']) {
            Some(hexadecimal) => u32::from_str_radix(hexadecimal, 16).ok(),
            None => it.parse().ok(),
        });
        let named = match name {
            "amp" => Some('&'),
            "quot" => Some('"'),
            "apos" => Some('\''),
            "nbsp" => Some(' '),
            "shy" => Some('\u{ad}'),
            _ => number.and_then(char::from_u32),
        };
        written.extend(named);
        rest = after;
    }
    written.push_str(rest);
    let plain = |letter: char| match letter {
        '\n' | '\r' | '\t' | '\u{a0}' => Some(' '),
        // A hyphen that parts no line is one.
        '\u{2010}' | '\u{2011}' => Some('-'),
        letter => (!is_unseen(letter)).then_some(letter),
    };
    written.chars().filter_map(plain).collect()
}

/// Letters that stand apart, together: `n u t  f r e e`.
fn spaced_out(text: &str) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut is_letter = false;
    for word in text.split(' ') {
        let is_one = word.chars().count() == 1;
        match words.last_mut().filter(|_| is_one && is_letter) {
            Some(last) => last.push_str(word),
            None => words.push(word.to_owned()),
        }
        is_letter = is_one;
    }
    words.join(" ")
}

fn first_denied_of(bakehouse: &Bakehouse, words: &str, only: Option<&[&str]>) -> Vec<Finding> {
    let formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    let formulas = formulas.filter(|formula| !formula.broken);
    let is_meant = |name: &str| only.is_none_or(|only| only.contains(&name));
    for formula in formulas.filter(|formula| is_meant(&formula.name.key)) {
        let worked = work(&bakehouse.house, formula, &mut Vec::new());
        if !worked.sound {
            continue;
        }
        let mut findings = Vec::new();
        check_printed(&bakehouse.house, &worked, (words, Span::NOWHERE), &mut findings);
        if !findings.is_empty() {
            return findings;
        }
    }
    Vec::new()
}

fn first_denied(bakehouse: &Bakehouse, words: &str) -> Vec<Finding> {
    first_denied_of(bakehouse, words, None)
}
