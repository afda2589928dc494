//! Texts in quotes, and the figures in square brackets inside them.

use super::cursor::Cursor;
use super::{Reader, Reading};
use crate::source::Span;
use crate::syntax::findings::{misplaced_punctuation, missing_name, missing_value, not_a_figure};
use crate::syntax::outline::outline;
use crate::syntax::tree::{FigureAsk, Name, Text, TextPart};
use crate::syntax::wanted::Wanted;
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
        let ask = if cursor.is_number() {
            let amount = self.quantity(&mut cursor, Wanted::PartOfMix)?;
            cursor.take("of");
            let what = self.target(&mut cursor, |_| false)?;
            FigureAsk::Scaled { amount, what }
        } else {
            let Some(what) = self.target(&mut cursor, |here| here.is("in"))? else {
                return Ok(None);
            };
            FigureAsk::Figure { what, place: self.place(&mut cursor)? }
        };
        Ok(cursor.at_end().then_some(ask))
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
