//! The shape of a file: items, their tokens and what is nested in them.
//!
//! The only file that calls pest. The shape never fails to parse; what went wrong is
//! marked in it.

use crate::source::{SourceId, Span};
use pest::Parser as _;
use pest::iterators::Pair;
use std::borrow::Cow;

mod grammar {
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/assize.pest"]
    pub struct Shape;
}
use grammar::{Rule, Shape};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// One word of a name or a statement.
    Word,
    /// Digits, without the unit.
    Number,
    /// Letters or `%` that touch the number before them.
    Unit,
    Date,
    /// A text in quotes; the span holds the quotes, the end may be missing.
    Text {
        closed: bool,
    },
    Comma,
    /// `..`
    Range,
    /// Any other single character.
    Sign,
    TooDeep,
}

#[derive(Clone, Copy, Debug)]
pub struct Token {
    pub kind: TokenKind,
    pub start: u32,
    pub end: u32,
}

/// A statement, with its block where it has one.
#[derive(Clone, Debug, Default)]
pub struct Item {
    pub tokens: Vec<Token>,
    pub block: Option<Vec<Item>>,
    /// Where `{` should have been answered by `}` and was not.
    pub unclosed: Option<u32>,
    /// Whether one of the tokens is a text without its closing quote.
    pub unclosed_text: bool,
    pub start: u32,
    /// Behind the last token of the head.
    pub head_end: u32,
    pub end: u32,
}

/// A file's shape.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    pub items: Vec<Item>,
    /// `}` that close nothing.
    pub strays: Vec<Span>,
    pub comments: Vec<Span>,
    /// Texts without a closing quote, each with the text before it in its item.
    pub unclosed_texts: Vec<(Span, Option<Span>)>,
    /// The first `{` that lies deeper than the language nests.
    pub too_deep: Option<Span>,
}

/// Finds the shape of a text; never fails.
pub fn outline(source: SourceId, text: &str) -> Outline {
    let plain = plain_blanks(text);
    let mut shape = Outline::default();
    // The grammar accepts every text, so there is no error to report; if it did not,
    // an empty shape would be the honest answer.
    let Ok(mut pairs) = Shape::parse(Rule::file, &plain) else { return shape };
    let Some(file) = pairs.next() else { return shape };
    for pair in file.into_inner() {
        match pair.as_rule() {
            Rule::stray => shape.strays.push(span_of(source, &pair)),
            Rule::comment => shape.comments.push(span_of(source, &pair)),
            Rule::EOI => {}
            _ => {
                let item = item_of(source, pair, 1, &mut shape);
                shape.items.push(item);
            }
        }
    }
    shape
}

/// How deep the language nests: formula, preferment, method, the braces of a step.
const DEEPEST: u8 = 4;

/// Calls itself once for each level of braces, of which the grammar has six.
fn item_of(source: SourceId, pair: Pair<Rule>, depth: u8, shape: &mut Outline) -> Item {
    let (whole, text) = (span_of(source, &pair), pair.as_str());
    let mut item = Item {
        // Enough for a line; growing step by step would cost more than a few spare bytes.
        tokens: Vec::with_capacity(8),
        start: whole.start,
        end: whole.end,
        head_end: whole.start,
        ..Item::default()
    };
    for inner in pair.into_inner() {
        let span = span_of(source, &inner);
        match inner.as_rule() {
            Rule::close => {
                item.block.get_or_insert_default();
            }
            Rule::unclosed => {
                item.block.get_or_insert_default();
                item.unclosed = Some(span.start);
            }
            Rule::comment => shape.comments.push(span),
            Rule::item2 | Rule::item3 | Rule::item4 | Rule::item5 | Rule::item6 => {
                let nested = item_of(source, inner, depth + 1, shape);
                item.block.get_or_insert_default().push(nested);
            }
            _ => add_part(source, inner, span, &mut item, shape),
        }
    }
    if depth > DEEPEST && item.block.is_some() && shape.too_deep.is_none() {
        let before = item.head_end - whole.start;
        let brace = text.get(before as usize..).and_then(|rest| rest.find('{')).map_or(0, at);
        let start = item.head_end + brace;
        shape.too_deep = Some(Span::new(source, start, start + 1));
    }
    item
}

/// Adds the tokens of one part of a head.
fn add_part(source: SourceId, part: Pair<Rule>, span: Span, item: &mut Item, shape: &mut Outline) {
    let (start, end) = (span.start, span.end);
    let kind = match part.as_rule() {
        Rule::word => TokenKind::Word,
        Rule::number => return split_number(part.as_str(), start, item),
        Rule::comma => {
            shape.comments.extend(part.into_inner().map(|comment| span_of(source, &comment)));
            return item.add(TokenKind::Comma, start, start + 1);
        }
        Rule::text => {
            let closed = part.into_inner().all(|inside| inside.as_rule() != Rule::unclosed);
            if !closed {
                item.unclosed_text = true;
                let is_text = |token: &&Token| matches!(token.kind, TokenKind::Text { .. });
                let before = item.tokens.iter().rev().find(is_text);
                let before = before.map(|token| Span::new(source, token.start, token.end));
                shape.unclosed_texts.push((span, before));
            }
            TokenKind::Text { closed }
        }
        Rule::too_deep => TokenKind::TooDeep,
        _ if part.as_str() == ".." => TokenKind::Range,
        _ => TokenKind::Sign,
    };
    item.add(kind, start, end);
}

impl Item {
    fn add(&mut self, kind: TokenKind, start: u32, end: u32) {
        self.tokens.push(Token { kind, start, end });
        self.head_end = end;
    }
}

fn span_of(source: SourceId, pair: &Pair<Rule>) -> Span {
    let span = pair.as_span();
    Span::new(source, at(span.start()), at(span.end()))
}

/// Files above four gigabytes are refused before they get here.
fn at(byte: usize) -> u32 {
    u32::try_from(byte).unwrap_or(u32::MAX)
}

fn split_number(text: &str, start: u32, item: &mut Item) {
    let digits = text.find(|c| !is_in_number(c)).unwrap_or(text.len());
    let (middle, end) = (start + at(digits), start + at(text.len()));
    match text.get(digits..) {
        Some(behind) if behind.starts_with('-') => split_date(text, digits, start, item),
        Some("") | None => item.add(TokenKind::Number, start, end),
        Some(_) => {
            item.add(TokenKind::Number, start, middle);
            item.add(TokenKind::Unit, middle, end);
        }
    }
}

/// `2026-12-05`; what does not begin with a year is numbers with dashes between.
fn split_date(text: &str, digits: usize, start: u32, item: &mut Item) {
    if digits == 4 && text.bytes().take(4).all(|byte| byte.is_ascii_digit()) {
        return item.add(TokenKind::Date, start, start + at(text.len()));
    }
    let mut from = start;
    for (index, piece) in text.split('-').enumerate() {
        if index > 0 {
            item.add(TokenKind::Sign, from - 1, from);
        }
        let end = from + at(piece.len());
        item.add(TokenKind::Number, from, end);
        from = end + 1;
    }
}

fn is_in_number(c: char) -> bool {
    matches!(c, '0'..='9' | '.' | '/' | ':' | ',' | '⁄' | '¼'..='¾' | '⅓'..='⅞')
}

/// The text with every blank that is not a space (tab, carriage return, U+00A0,
/// U+202F, a byte order mark) replaced by as many spaces as it has bytes, so that
/// places stay what they were.
fn plain_blanks(text: &str) -> Cow<'_, str> {
    let has_other = |byte: u8| matches!(byte, b'\t' | b'\r' | 0xc2 | 0xe2 | 0xef);
    if !text.bytes().any(has_other) {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for (index, c) in text.char_indices() {
        match c {
            '\t' | '\r' => plain.push(' '),
            '\u{a0}' => plain.push_str("  "),
            '\u{202f}' => plain.push_str("   "),
            '\u{feff}' if index == 0 => plain.push_str("   "),
            other => plain.push(other),
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
