//! The shape of a file: items, their tokens and what is nested in them.
//!
//! The only file that calls pest. The shape never fails to parse; what went wrong is
//! marked in it.

mod run;
mod token;

use super::phrases::Start;
use crate::source::{SourceId, Span, is_blank};
use pest::{Parser as _, Token as Mark};
use std::borrow::Cow;
use std::ops::Range;

mod grammar {
    /// The parser that pest makes of the grammar.
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/assize.pest"]
    pub struct Shape;
}
use grammar::{Rule, Shape};
use token::at;
pub use token::{Token, TokenKind};

/// A statement, with its block where it has one.
#[derive(Clone, Debug, Default)]
pub struct Item {
    /// Of its head, comments left out.
    pub tokens: Vec<Token>,
    /// What stands between its braces; none where it has none.
    pub block: Option<Vec<Item>>,
    /// Where `{` should have been answered by `}` and was not.
    pub unclosed: Option<u32>,
    /// Whether one of the tokens is a text without its closing quote.
    pub unclosed_text: bool,
    /// Byte of its first token.
    pub start: u32,
    /// Behind the last token of the head.
    pub head_end: u32,
    /// Byte after its last token, or after its `}`.
    pub end: u32,
}

/// A file's shape.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    /// In the order of the file.
    pub items: Vec<Item>,
    /// `}` that close nothing.
    pub strays: Vec<Span>,
    /// From `#` to the end of the line, in the order of the file.
    pub comments: Vec<Span>,
    /// Texts without a closing quote, each with the text before it in its item.
    pub unclosed_texts: Vec<(Span, Option<Span>)>,
    /// The first `{` that lies deeper than the language nests.
    pub too_deep: Option<Span>,
}

/// Finds the shape of a text; never fails.
pub fn outline(source: SourceId, text: &str) -> Outline {
    outline_part(source, text, 0..text.len())
}

/// Finds the shape of a part of a text, with its places in the whole; never fails.
pub(super) fn outline_part(source: SourceId, text: &str, part: Range<usize>) -> Outline {
    let before = at(part.start);
    let plain = plain_blanks(text.get(part).unwrap_or_default());
    // The grammar accepts every text, so there is no error to report; if it did not,
    // an empty shape would be the honest answer.
    let Ok(pairs) = Shape::parse(Rule::file, &plain) else { return Outline::default() };
    let mut drawing = Drawing { source, before, text: &plain, ..Drawing::default() };
    for mark in pairs.tokens() {
        match mark {
            Mark::Start { rule, pos } => drawing.begin(rule, before + at(pos.pos())),
            Mark::End { rule, pos } => drawing.end(rule, before + at(pos.pos())),
        }
    }
    drawing.shape
}

/// The bytes of `“` and its like.
const CURLY: u32 = 3;

/// How deep the language nests: formula, preferment, method, the braces of a step.
const DEEPEST: usize = 4;

/// A shape that is being drawn, from the beginnings and ends of rules in their order.
#[derive(Default)]
struct Drawing<'a> {
    source: SourceId,
    /// How many bytes of the source stand before the text.
    before: u32,
    text: &'a str,
    shape: Outline,
    /// The statements that are open, each in the block of the one before it.
    open: Vec<Item>,
    /// Where the run, the comment or the text began that is open.
    from: u32,
    /// Whether that is a text.
    in_text: bool,
    /// Whether that text has its closing quote.
    closed: bool,
}

impl Drawing<'_> {
    fn begin(&mut self, rule: Rule, place: u32) {
        match rule {
            Rule::item1 | Rule::item2 | Rule::item3 | Rule::item4 | Rule::item5 | Rule::item6 => {
                self.open.push(Item {
                    // Enough for a line; growing step by step would cost more than a few
                    // spare bytes.
                    tokens: Vec::with_capacity(8),
                    start: place,
                    head_end: place,
                    ..Item::default()
                })
            }
            Rule::text => (self.from, self.in_text, self.closed) = (place - 1, true, true),
            Rule::unclosed if self.in_text => self.closed = false,
            Rule::unclosed | Rule::close => {
                let Some(item) = self.open.last_mut() else { return };
                item.block.get_or_insert_default();
                item.unclosed = (rule == Rule::unclosed).then_some(place);
            }
            Rule::comma => self.add(TokenKind::Comma, place - 1, place),
            Rule::curly | Rule::sign => self.from = place - CURLY,
            Rule::run | Rule::comment | Rule::too_deep | Rule::stray => {
                self.from = place;
            }
            _ => {}
        }
    }

    fn end(&mut self, rule: Rule, end: u32) {
        let span = Span::new(self.source, self.from, end);
        match rule {
            Rule::item1 | Rule::item2 | Rule::item3 | Rule::item4 | Rule::item5 | Rule::item6 => {
                self.end_item(end)
            }
            Rule::run => self.end_run(end),
            Rule::text => self.end_text(span),
            Rule::comment => self.shape.comments.push(span),
            Rule::curly => self.add(TokenKind::Text { closed: true }, self.from, end),
            Rule::sign => self.add(TokenKind::Sign, self.from, end),
            Rule::too_deep => self.add(TokenKind::TooDeep, self.from, end),
            Rule::stray => self.shape.strays.push(span),
            _ => {}
        }
    }

    fn add(&mut self, kind: TokenKind, start: u32, end: u32) {
        if let Some(item) = self.open.last_mut() {
            item.add(kind, start, end, Start::NONE);
        }
    }

    fn end_run(&mut self, end: u32) {
        let (from, before) = (self.from, self.before);
        let Some(item) = self.open.last_mut() else { return };
        let range = (from - before) as usize..(end - before) as usize;
        let run = self.text.get(range).unwrap_or_default();
        run::split(run, |kind, start, end| {
            let begins = match kind {
                TokenKind::Word => {
                    Start::of(run.as_bytes().get(start as usize..end as usize).unwrap_or_default())
                }
                _ => Start::NONE,
            };
            item.add(kind, from + start, from + end, begins);
        });
    }

    fn end_text(&mut self, span: Span) {
        let closed = self.closed;
        self.in_text = false;
        let Some(item) = self.open.last_mut() else { return };
        if !closed {
            item.unclosed_text = true;
            let is_text = |token: &&Token| matches!(token.kind, TokenKind::Text { .. });
            let before = item.tokens.iter().rev().find(is_text);
            let before = before.map(|token| Span::new(span.source, token.start, token.end));
            self.shape.unclosed_texts.push((span, before));
        }
        item.add(TokenKind::Text { closed }, span.start, span.end, Start::NONE);
    }

    fn end_item(&mut self, end: u32) {
        let Some(mut item) = self.open.pop() else { return };
        item.end = end;
        if self.open.len() >= DEEPEST && item.block.is_some() && self.shape.too_deep.is_none() {
            let behind = self.text.get((item.head_end - self.before) as usize..);
            let brace = behind.and_then(|rest| rest.find('{')).map_or(0, at);
            let start = item.head_end + brace;
            self.shape.too_deep = Some(Span::new(self.source, start, start + 1));
        }
        match self.open.last_mut() {
            Some(outer) => outer.block.get_or_insert_default().push(item),
            None => self.shape.items.push(item),
        }
    }
}

impl Item {
    fn add(&mut self, kind: TokenKind, start: u32, end: u32, begins: Start) {
        self.tokens.push(Token { kind, begins, start, end });
        self.head_end = end;
    }
}

/// The text with every blank that is neither a space nor a line end replaced by as many
/// spaces as it has bytes, so that places stay what they were.
fn plain_blanks(text: &str) -> Cow<'_, str> {
    let is_odd = |letter: char| !matches!(letter, ' ' | '\n') && is_blank(letter);
    // Looked for one by one, each is found many bytes at a time.
    let has_odd = ['\t', '\r', '\u{b}', '\u{c}'].into_iter().any(|odd| text.contains(odd));
    if !has_odd && (text.is_ascii() || !text.chars().any(is_odd)) {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match is_odd(letter) {
            true => plain.extend(std::iter::repeat_n(' ', letter.len_utf8())),
            false => plain.push(letter),
        }
    }
    Cow::Owned(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(text: &str) -> Outline {
        outline(SourceId(3), text)
    }

    /// The tokens of the first item, as they stand in the text.
    fn tokens(text: &str) -> Vec<(TokenKind, String)> {
        let slice = |token: &Token| text[token.start as usize..token.end as usize].to_owned();
        let items = shape(text).items;
        items[0].tokens.iter().map(|token| (token.kind, slice(token))).collect()
    }

    #[test]
    fn words_numbers_units_and_signs_are_told_apart() {
        use TokenKind::{Number, Range, Sign, Unit, Word};
        let kinds = |text| tokens(text).into_iter().map(|(kind, _)| kind).collect::<Vec<_>>();
        assert_eq!(kinds("crème fraîche 12.5%"), [Word, Word, Number, Unit]);
        assert_eq!(kinds("3h..4h"), [Number, Unit, Range, Number, Unit]);
        assert_eq!(kinds("1h30"), [Number, Unit, Number]);
        assert_eq!(kinds("25 °C"), [Number, Sign, Word]);
        assert_eq!(kinds("25°C"), [Number, Unit]);
        assert_eq!(kinds("2026-12-05"), [TokenKind::Date]);
        assert_eq!(kinds("10-12-15"), [Number, Sign, Number, Sign, Number]);
        assert_eq!(tokens("8 fl-oz")[1].1, "fl-oz");
        assert_eq!(tokens("T65 flour")[0].1, "T65");
    }

    #[test]
    fn any_text_has_a_shape_and_every_token_a_place_in_it() {
        let odd = [
            "",
            "{",
            "}",
            "\"",
            "\\",
            "\0",
            "\u{feff}",
            "\u{feff}a 1%",
            "\r",
            "\r\n",
            "a\r\nb",
            "#",
            "a #",
            ",",
            "a,",
            "a,\n",
            "a, # b\n c",
            "..",
            "...",
            "1..",
            "-",
            "é",
            "🍞",
            "\t",
            "\u{a0}",
            "\u{202f}",
            "\u{301}",
            "{ } }",
            "\"\n}",
            "a { b { c { d { e { f { g } } } } } }",
        ];
        for text in odd {
            let shape = shape(text);
            check(&shape.items, text);
        }
    }

    fn check(items: &[Item], text: &str) {
        for item in items {
            for token in &item.tokens {
                assert!(text.get(token.start as usize..token.end as usize).is_some(), "{text:?}");
            }
            assert!(item.start <= item.head_end && item.head_end <= item.end, "{text:?}");
            check(item.block.as_deref().unwrap_or(&[]), text);
        }
    }

    #[test]
    fn ten_thousand_braces_are_read_flat() {
        let braces = shape(&"{".repeat(10_000));
        assert_eq!(braces.items.len(), 1);
        assert_eq!(braces.too_deep.map(|place| place.start), Some(4));
        let closed = shape(&("a {".repeat(10_000) + &"}".repeat(10_000)));
        assert_eq!(closed.strays.len(), 10_000 - 5);
    }

    #[test]
    fn a_declaration_in_column_0_closes_what_is_open() {
        let shape = shape("formula a {\n total {\n  water 5%\nformula b {\n}\n");
        assert_eq!(shape.items.len(), 2);
        let first = &shape.items[0];
        assert!(first.unclosed.is_some());
        assert!(first.block.as_ref().expect("a block")[0].unclosed.is_some());
        assert!(shape.items[1].unclosed.is_none());
    }

    #[test]
    fn only_a_style_with_a_brace_on_its_line_closes_blocks() {
        assert_eq!(shape("formula a {\nstyle baguette\n}\n").items.len(), 1);
        assert_eq!(shape("formula a {\nstyle baguette {\n}\n").items.len(), 2);
        assert_eq!(shape("formula a {\ncultured butter 5%\n}\n").items.len(), 1);
    }

    #[test]
    fn a_line_that_ends_in_a_comma_goes_on() {
        let shape = shape("mix with levain, # the ripe one\n  salt\nrest\n");
        assert_eq!(shape.items.len(), 2);
        assert_eq!(shape.comments.len(), 1);
        assert_eq!(shape.items[0].tokens.len(), 5);
    }

    #[test]
    fn an_unclosed_text_ends_before_a_brace_or_a_declaration() {
        let shape =
            shape("formula a {\n note \"one\n two\n}\nformula b { note \"three\nculture c\n");
        assert_eq!(shape.unclosed_texts.len(), 2);
        assert_eq!(shape.items.len(), 3);
        assert!(shape.items[0].unclosed.is_none());
    }

    #[test]
    fn a_quote_forgotten_in_a_head_ends_before_the_brace() {
        let shape = shape("formula a \"A {\n  makes 1 kg dough\n}\n");
        assert_eq!((shape.unclosed_texts.len(), shape.items.len()), (1, 1));
        assert_eq!(shape.items[0].block.as_ref().map(Vec::len), Some(1));
    }

    #[test]
    fn blanks_of_every_kind_keep_their_bytes() {
        let text = "\u{feff}water\u{a0}5\u{202f}%\t\r\n";
        let tokens = tokens(text);
        assert_eq!(tokens[0].1, "water");
        assert_eq!(tokens[1].1, "5");
        assert_eq!(tokens[2].1, "%");
    }
}
