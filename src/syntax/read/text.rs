//! Texts in quotes, and the figures in square brackets inside them.

use super::cursor::Cursor;
use super::{Reader, Reading};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{misplaced_punctuation, missing_name, missing_value, not_a_figure};
use crate::syntax::key_of;
use crate::syntax::outline::outline;
use crate::syntax::tree::{
    Base, Date, Elsewhere, FigureAsk, Measure, Name, Question, Target, Text, TextPart, Weekdays,
};
use ecow::EcoString;

impl Reader<'_> {
    /// The text that must follow the word `word`; where none does, `instead` may be what
    /// lacks its quotes.
    pub fn text_after(&mut self, cursor: &mut Cursor, word: &str, instead: Span) -> Reading<Text> {
        if cursor.is_text() {
            return Ok(self.text(cursor));
        }
        Err(missing_value::missing_text(instead, word, cursor.under(instead)).into())
    }

    /// The text at the cursor, which the caller has seen.
    pub fn text(&mut self, cursor: &mut Cursor) -> Text {
        let (span, inside) = self.inside_quotes(cursor);
        let parts = match inside.contains(['\\', '[', '\r']) {
            true => self.parts(inside, span),
            false if inside.is_empty() => Vec::new(),
            false => vec![TextPart::Plain(inside.into())],
        };
        let text = Text { parts, span };
        if !text.says_something() {
            self.report(missing_value::empty_text(span));
        }
        text
    }

    /// The text at the cursor, brackets and all, its escapes read.
    pub fn plain_text(&mut self, cursor: &mut Cursor) -> EcoString {
        let (_, inside) = self.inside_quotes(cursor);
        let mut plain = String::new();
        let mut rest = inside;
        while let Some(special) = rest.find(['\\', '\r']) {
            let (before, from) = rest.split_at(special);
            plain.push_str(before);
            rest = push_special(from, &mut plain);
        }
        if plain.is_empty() {
            return rest.into();
        }
        plain.push_str(rest);
        plain.into()
    }

    fn inside_quotes<'c>(&mut self, cursor: &mut Cursor<'c>) -> (Span, &'c str) {
        let span = cursor.here();
        let written = cursor.under(span);
        cursor.advance();
        if let Some(inside) = written.strip_prefix(['“', '„', '”']) {
            let inside = inside.strip_suffix(['“', '”']).unwrap_or(inside);
            self.report(misplaced_punctuation::curly_quotes(span, inside));
            return (span, inside);
        }
        let inside = written.strip_prefix('"').unwrap_or(written);
        // An unclosed text that ends in `\"` has no closing quote either, but that is a
        // finding in any case.
        (span, inside.strip_suffix('"').unwrap_or(inside))
    }

    /// Splits a text into its plain pieces and its figures.
    fn parts(&mut self, inside: &str, span: Span) -> Vec<TextPart> {
        let mut parts = Vec::new();
        let mut plain = String::new();
        let mut rest = inside;
        while let Some(special) = rest.find(['\\', '[', '\r']) {
            let (before, from) = rest.split_at(special);
            plain.push_str(before);
            // Straight quotes are a byte each, others three.
            let quote = (span.end - span.start - length(inside)) / 2;
            let place = span.start + quote.max(1) + length(inside) - length(from);
            if !from.starts_with('[') || from.starts_with("[[") {
                rest = push_special(from, &mut plain);
                continue;
            }
            let Some((words, behind)) = from.get(1..).and_then(|behind| behind.split_once(']'))
            else {
                // No other bracket behind it is closed either, so one finding is enough.
                self.fail(not_a_figure::open_bracket(Span {
                    start: place,
                    end: place + 1,
                    ..span
                }));
                rest = from;
                break;
            };
            push_plain(&mut plain, &mut parts);
            let figure = Span { start: place, end: place + length(words) + 2, ..span };
            let ask = self.ask(words, figure).map(Box::new);
            parts.push(TextPart::Figure { words: words.into(), ask, span: figure });
            rest = behind;
        }
        plain.push_str(rest);
        push_plain(&mut plain, &mut parts);
        parts
    }

    /// What the words between square brackets ask for.
    pub fn ask(&mut self, words: &str, span: Span) -> Option<FigureAsk> {
        if let Some(moment) = moment(words) {
            return Some(moment);
        }
        let shape = outline(span.source, words);
        let ask = match shape.items.as_slice() {
            [item] if item.block.is_none() && shape.strays.is_empty() => {
                self.ask_in(Cursor::within(span.source, words, item, span.start + 1))
            }
            _ => Ok(None),
        };
        match ask {
            Ok(Some(ask)) => return Some(ask),
            Ok(None) => self.fail(not_a_figure::no_figure(span, words)),
            Err(finding) => self.fail(*finding),
        }
        None
    }

    fn ask_in(&mut self, mut cursor: Cursor) -> Reading<Option<FigureAsk>> {
        if cursor.is_number() {
            let amount = self.quantity(&mut cursor, ExpectedAmount::PartOfMix)?;
            cursor.take("of");
            let elsewhere = self.elsewhere(cursor)?;
            let what = self.target(&mut cursor, |_| false)?;
            return Ok(match (cursor.at_end(), elsewhere) {
                (true, elsewhere) => Some(FigureAsk::Scaled { amount, what, elsewhere }),
                (false, Some(elsewhere)) => {
                    let what = Some(elsewhere.asked.what.clone());
                    Some(FigureAsk::Scaled { amount, what, elsewhere: Some(elsewhere) })
                }
                (false, None) => None,
            });
        }
        let elsewhere = self.elsewhere(cursor)?;
        let asked = self.question(&mut cursor, None)?.filter(|_| cursor.at_end());
        let asked = asked.or_else(|| elsewhere.as_ref().map(|elsewhere| elsewhere.asked.clone()));
        Ok(asked.map(|asked| FigureAsk::Figure { asked, elsewhere }))
    }

    /// `water in levain`, `water %`, `levain of flour`, up to a place.
    pub fn question(&mut self, cursor: &mut Cursor, end: Option<u32>) -> Reading<Option<Question>> {
        let ends = |here: &Cursor| end.is_some_and(|end| here.here().start >= end);
        let Some(mut what) = self.target(cursor, |here| here.is("in") || ends(here))? else {
            return Ok(None);
        };
        let mut measure = Measure::Itself;
        if cursor.under(cursor.here()) == "%" {
            cursor.advance();
            measure = Measure::Percent;
        } else if let Some((name, base)) = parted_from_base(&what) {
            (what.name, measure) = (name, Measure::Of(base));
        }
        let place = match cursor.take("in") {
            false => None,
            true => match self.name(cursor, |here| ends(here)) {
                Some(name) => Some(name),
                None => return Err(missing_name::missing_name(cursor.here(), "place").into()),
            },
        };
        Ok(Some(Question { what, place, measure }))
    }

    /// The reading in which the word after the last `of` is a formula, with the yield after
    /// it.
    fn elsewhere(&mut self, mut cursor: Cursor) -> Reading<Option<Box<Elsewhere>>> {
        let Some(end) = formula_after(cursor) else { return Ok(None) };
        let said = self.findings.len();
        let Some(asked) = self.question(&mut cursor, Some(end))? else { return Ok(None) };
        if !cursor.take("of") {
            return Ok(None);
        }
        let Some(formula) = self.name(&mut cursor, |here| here.is("for") || here.is("from")) else {
            return Ok(None);
        };
        let (makes, everyone) = match cursor.at_end() {
            true => {
                // What was said while trying is said again by the other reading.
                self.findings.truncate(said);
                (None, false)
            }
            false => {
                let span = cursor.rest();
                cursor.take("for");
                match cursor.is("everyone") && cursor.further().at_end() {
                    true => (None, true),
                    false => (Some(self.makes(&mut cursor, span)?), false),
                }
            }
        };
        Ok(Some(Box::new(Elsewhere { formula, asked, makes, everyone })))
    }

    /// `in levain`, where it stands.
    pub fn place(&mut self, cursor: &mut Cursor) -> Reading<Option<Name>> {
        if !cursor.take("in") {
            return Ok(None);
        }
        match self.name(cursor, |_| false) {
            Some(name) => Ok(Some(name)),
            None => Err(missing_name::missing_name(cursor.here(), "place").into()),
        }
    }
}

/// Where the last `of` stands that has one word after it and then nothing or a yield.
fn formula_after(mut ahead: Cursor) -> Option<u32> {
    let mut found = None;
    let mut is_first = true;
    while !ahead.at_end() {
        if ahead.is("of") && !is_first {
            let formula = ahead.further();
            let behind = formula.further();
            let is_yield = behind.is("for") || behind.is("from");
            if formula.word().is_some() && (behind.at_end() || is_yield) {
                found = Some(ahead.here().start);
            }
        }
        is_first = false;
        ahead.advance();
    }
    found
}

/// `levain of flour` in its parts; the words of bases are no part of a name.
fn parted_from_base(what: &Target) -> Option<(Name, Base)> {
    const BASES: [(&str, Base); 4] = [
        (" of added flour", Base::AddedFlour),
        (" of base dough", Base::BaseDough),
        (" of flour", Base::Flour),
        (" of dough", Base::Dough),
    ];
    let Name { key, shown, span } = &what.name;
    BASES.into_iter().find_map(|(words, base)| {
        let key = key.strip_suffix(words).filter(|_| what.role.is_none())?;
        let shown = shown.get(..shown.len().checked_sub(words.len())?)?;
        let end = span.end - length(words);
        let name = Name { key: key_of(key), shown: shown.into(), span: Span { end, ..*span } };
        Some((name, base))
    })
}

/// `2026-12-05`, or `saturday 10:00`.
fn moment(words: &str) -> Option<FigureAsk> {
    let words = words.trim();
    if let Some(date) = Date::read(words) {
        return Some(FigureAsk::Date(date));
    }
    let (day, time) = match words.split_once(char::is_whitespace) {
        Some((day, time)) => (day, Some(time.trim())),
        None => (words, None),
    };
    let day = Weekdays::number(day)?;
    let minutes = match time {
        Some(time) => Some(minutes_of(time)?),
        None => None,
    };
    Some(FigureAsk::Weekday { day, minutes })
}

/// The minutes since midnight of `07:30`.
pub fn minutes_of(time: &str) -> Option<u32> {
    let (hours, minutes) = time.split_once(':')?;
    let number = |digits: &str, most: u32| {
        let is_written = digits.len() == 2 && digits.bytes().all(|byte| byte.is_ascii_digit());
        digits.parse::<u32>().ok().filter(|number| is_written && *number < most)
    };
    Some(number(hours, 24)? * 60 + number(minutes, 60)?)
}

/// Adds what the special sign at the start of `from` stands for; gives what is behind it.
/// A carriage return goes, as the line break that follows it says the same.
fn push_special<'t>(from: &'t str, plain: &mut String) -> &'t str {
    let (letter, used) = match from.as_bytes() {
        [b'\\', b'n', ..] => ("\n", 2),
        [b'\\', b'"', ..] => ("\"", 2),
        [b'\\', b'\\', ..] => ("\\", 2),
        [b'[', b'[', ..] => ("[", 2),
        [b'\r', ..] => ("", 1),
        [b'\\', ..] => ("\\", 1),
        _ => ("[", 1),
    };
    plain.push_str(letter);
    from.get(used..).unwrap_or("")
}

fn push_plain(plain: &mut String, parts: &mut Vec<TextPart>) {
    if !plain.is_empty() {
        parts.push(TextPart::Plain(std::mem::take(plain).into()));
    }
}

fn length(text: &str) -> u32 {
    u32::try_from(text.len()).unwrap_or(u32::MAX)
}
