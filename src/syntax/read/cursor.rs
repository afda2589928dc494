//! A place in a statement, and what stands there.

use super::words::{Lower, is_reserved};
use crate::source::{SourceId, Span};
use crate::syntax::outline::{Item, Token, TokenKind};
use crate::syntax::phrases::{Phrases, Start};

/// The next token of a statement and all behind it. Copying it is the way to look
/// ahead.
#[derive(Clone, Copy)]
pub struct Cursor<'a> {
    tokens: &'a [Token],
    text: &'a str,
    source: SourceId,
    /// Where `text` begins in its source: not at 0 for a figure inside a text.
    base: u32,
    /// Where the last token that was passed ends, in `text`.
    passed: u32,
}

impl<'a> Cursor<'a> {
    /// At the first token of an item.
    pub fn at(source: SourceId, text: &'a str, item: &'a Item) -> Self {
        Self { tokens: &item.tokens, text, source, base: 0, passed: item.start }
    }

    /// At the first token of an item of an excerpt that begins at `base`.
    pub fn within(source: SourceId, excerpt: &'a str, item: &'a Item, base: u32) -> Self {
        Self { base, ..Self::at(source, excerpt, item) }
    }

    /// The next token.
    pub fn peek(&self) -> Option<Token> {
        self.tokens.first().copied()
    }

    /// What the next token is.
    pub fn peek_kind(&self) -> Option<TokenKind> {
        self.tokens.first().map(|token| token.kind)
    }

    /// Whether no token is left.
    pub fn at_end(&self) -> bool {
        self.tokens.is_empty()
    }

    /// Passes over the next token.
    pub fn advance(&mut self) {
        if let Some((token, rest)) = self.tokens.split_first() {
            self.passed = token.end;
            self.tokens = rest;
        }
    }

    /// The next token with nothing behind it.
    pub fn first_alone(self) -> Self {
        Self { tokens: self.tokens.get(..1).unwrap_or(&[]), ..self }
    }

    /// The next words in lower case, so many at most.
    pub fn words_ahead(&self, most: usize) -> Vec<String> {
        let tokens = self.tokens.iter().take(most);
        let words = tokens.take_while(|token| token.kind == TokenKind::Word);
        words.map(|token| self.slice(*token).to_lowercase().replace('’', "'")).collect()
    }

    /// The words that the statement ends with in lower case, so many at most.
    pub fn last_words(&self, most: usize) -> Vec<String> {
        let is_word = |token: &&Token| token.kind == TokenKind::Word;
        let count = self.tokens.iter().rev().take(most).take_while(is_word).count();
        let last = self.tokens.get(self.tokens.len() - count..).unwrap_or(&[]);
        last.iter().map(|token| self.slice(*token).to_lowercase()).collect()
    }

    /// The same without its last tokens.
    pub fn without_last(self, count: usize) -> Self {
        let left = self.tokens.len().saturating_sub(count);
        Self { tokens: self.tokens.get(..left).unwrap_or(&[]), ..self }
    }

    /// The place behind the next token.
    pub fn further(mut self) -> Self {
        self.advance();
        self
    }

    /// The author's own bytes.
    pub fn slice(&self, token: Token) -> &'a str {
        self.text.get(token.start as usize..token.end as usize).unwrap_or("")
    }

    /// All that is left of the statement, one blank between its words.
    pub fn said(&self) -> String {
        let words = self.tokens.iter().flat_map(|token| self.slice(*token).split_whitespace());
        words.collect::<Vec<_>>().join(" ")
    }

    /// The author's own bytes behind the last token of the statement.
    pub fn behind_all(&self) -> &'a str {
        let end = self.tokens.last().map_or(self.passed, |token| token.end);
        self.text.get(end as usize..).unwrap_or("")
    }

    /// The author's own bytes under a span of this statement.
    pub fn under(&self, span: Span) -> &'a str {
        let start = span.start.saturating_sub(self.base) as usize;
        let end = span.end.saturating_sub(self.base) as usize;
        self.text.get(start..end).unwrap_or("")
    }

    /// Where a token stands in the file.
    pub fn span_of(&self, token: Token) -> Span {
        Span::new(self.source, self.base + token.start, self.base + token.end)
    }

    /// What stands before the next comma that a word follows, and all from that comma on:
    /// `first-sour for 5 loaves, gullhaven-sour`.
    pub fn parted_at_comma(self) -> (Self, Self) {
        let is_next = |pair: &[Token]| {
            matches!(pair, [comma, word]
                if comma.kind == TokenKind::Comma && word.kind == TokenKind::Word)
        };
        self.parted(self.tokens.windows(2).position(is_next))
    }

    /// What stands before the next text in quotes, and all from it on.
    pub fn parted_at_text(self) -> (Self, Self) {
        let is_text = |token: &Token| matches!(token.kind, TokenKind::Text { .. });
        self.parted(self.tokens.iter().position(is_text))
    }

    /// What stands before the next of some words, and all from it on.
    pub fn parted_at_word(self, words: &[&str]) -> (Self, Self) {
        let is_one = |token: &Token| {
            let written = self.slice(*token);
            token.kind == TokenKind::Word && words.iter().any(|it| it.eq_ignore_ascii_case(written))
        };
        self.parted(self.tokens.iter().position(is_one))
    }

    fn parted(self, at: Option<usize>) -> (Self, Self) {
        let at = at.unwrap_or(self.tokens.len()).min(self.tokens.len());
        let (before, behind) = self.tokens.split_at(at);
        let passed = before.last().map_or(self.passed, |token| token.end);
        (Self { tokens: before, ..self }, Self { tokens: behind, passed, ..self })
    }

    /// The next token's place; behind the last one at the end.
    pub fn here(&self) -> Span {
        match self.peek() {
            Some(token) => self.span_of(token),
            None => self.after(),
        }
    }

    /// The empty place behind the token that was passed last.
    pub fn after(&self) -> Span {
        Span::new(self.source, self.base + self.passed, self.base + self.passed)
    }

    /// From the start of `first` to the token that was passed last.
    pub fn since(&self, first: Span) -> Span {
        Span::new(first.source, first.start, self.base + self.passed)
    }

    /// From the next token to the last one.
    pub fn rest(&self) -> Span {
        let end = self.tokens.last().map_or(self.passed, |token| token.end);
        Span { end: self.base + end, ..self.here() }
    }

    /// Whether no blank stands before the next token.
    pub fn touches(&self) -> bool {
        self.tokens.first().is_some_and(|token| token.start == self.passed)
    }

    /// Whether the next token stands on another line than the one before it.
    pub fn on_new_line(&self) -> bool {
        let next = self.tokens.first().map_or(self.passed, |token| token.start);
        self.text.get(self.passed as usize..next as usize).is_some_and(|gap| gap.contains('\n'))
    }

    /// Whether the next token is a number.
    pub fn is_number(&self) -> bool {
        self.peek_kind() == Some(TokenKind::Number)
    }

    /// Whether the next token is a text in quotes.
    pub fn is_text(&self) -> bool {
        matches!(self.peek_kind(), Some(TokenKind::Text { .. }))
    }

    /// Whether the next token is a comma.
    pub fn is_comma(&self) -> bool {
        self.peek_kind() == Some(TokenKind::Comma)
    }

    /// Passes over a comma; whether there was one.
    pub fn take_comma(&mut self) -> bool {
        let found = self.is_comma();
        if found {
            self.advance();
        }
        found
    }

    /// The next token where it is a word.
    pub fn word(&self) -> Option<&'a str> {
        self.peek().filter(|token| token.kind == TokenKind::Word).map(|token| self.slice(token))
    }

    /// The next word in lower case; empty where no word of ours can stand.
    pub fn lower(&self) -> Lower {
        self.word().map_or(Lower::default(), Lower::of)
    }

    /// How the next token begins, where it is a word.
    #[inline]
    pub fn begins(&self) -> Start {
        self.tokens.first().map_or(Start::NONE, |token| token.begins)
    }

    /// Whether the next token is this word of ours.
    #[inline]
    pub fn is(&self, word: &str) -> bool {
        // Nearly all fail at their first letters.
        self.tokens.first().is_some_and(|token| {
            token.begins == Start::of(word.as_bytes()) && self.says(*token, word)
        })
    }

    fn says(&self, token: Token, word: &str) -> bool {
        (token.end - token.start) as usize == word.len()
            && token.kind == TokenKind::Word
            && self.slice(token).eq_ignore_ascii_case(word)
    }

    /// Whether the next token is one of the words of a table.
    #[inline]
    pub fn is_any(&self, words: &Phrases) -> bool {
        words.may_begin(self.begins()) && words.all.iter().any(|word| self.is(word))
    }

    /// Passes over a word of a table; whether one was there.
    #[inline]
    pub fn take_any(&mut self, words: &Phrases) -> bool {
        let found = self.is_any(words);
        if found {
            self.advance();
        }
        found
    }

    /// Whether the next two tokens are these words of ours.
    pub fn are(&self, first: &str, second: &str) -> bool {
        self.is(first) && self.further().is(second)
    }

    /// Passes over a word; whether it was there.
    #[inline]
    pub fn take(&mut self, word: &str) -> bool {
        let found = self.is(word);
        if found {
            self.advance();
        }
        found
    }

    /// The words of ours that stand here, of those in a table.
    pub fn one_of(&self, known: &[&'static str]) -> Option<&'static str> {
        let (begins, word) = (self.begins(), self.word()?.as_bytes());
        known.iter().copied().find(|words| {
            // Nearly all fail at their first letters.
            if begins != Start::of(words.as_bytes()) {
                return false;
            }
            let Some((first, rest)) = words.as_bytes().split_at_checked(word.len()) else {
                return false;
            };
            first.eq_ignore_ascii_case(word)
                && (rest.is_empty()
                    || rest.first() == Some(&b' ') && {
                        let mut ahead = self.further();
                        words.split(' ').skip(1).all(|word| ahead.take(word))
                    })
        })
    }

    /// Takes the longest of the phrases of a table that stands here.
    #[inline]
    pub fn take_longest(&mut self, known: &Phrases) -> Option<&'static str> {
        if known.may_begin(self.begins()) { self.longest_of(known.all) } else { None }
    }

    /// The same of a table that is not held against how the word begins.
    pub fn longest_of(&mut self, known: &[&'static str]) -> Option<&'static str> {
        let begins = self.begins();
        let fits = |phrase: &&&str| {
            begins == Start::of(phrase.as_bytes())
                && phrase
                    .split(' ')
                    .try_fold(*self, |mut at, word| at.take(word).then_some(at))
                    .is_some()
        };
        let found = known.iter().filter(fits).max_by_key(|phrase| phrase.len())?;
        found.split(' ').for_each(|_| self.advance());
        Some(found)
    }

    /// Takes the words of ours that stand here, of those in a table.
    pub fn take_one_of(&mut self, known: &[&'static str]) -> Option<&'static str> {
        let found = self.one_of(known)?;
        found.split(' ').for_each(|_| self.advance());
        Some(found)
    }

    /// Takes these words of a table. A word that the table lacks is never taken, so that
    /// whatever walks through the table meets all there is.
    pub fn take_from(&mut self, known: &[&'static str], words: &str) -> bool {
        self.begins() == Start::of(words.as_bytes()) && known.contains(&words) && {
            let mut ahead = *self;
            let found = words.split(' ').all(|word| ahead.take(word));
            if found {
                *self = ahead;
            }
            found
        }
    }

    /// Takes two words of ours, or neither.
    pub fn take_both(&mut self, first: &str, second: &str) -> bool {
        let found = self.are(first, second);
        if found {
            self.advance();
            self.advance();
        }
        found
    }

    /// The next token where it is a sign.
    pub fn sign(&self) -> Option<&'a str> {
        self.peek().filter(|token| token.kind == TokenKind::Sign).map(|token| self.slice(token))
    }

    /// Whether the next token is that sign.
    pub fn is_sign(&self, sign: &str) -> bool {
        self.sign() == Some(sign)
    }

    /// Whether the next token is a dash of any length.
    pub fn is_dash(&self) -> bool {
        matches!(self.sign(), Some("-" | "–" | "—" | "−"))
    }

    /// Whether the next word begins a clause and so can't be part of a name.
    pub fn is_reserved(&self) -> bool {
        // The flour for all purposes is no clause.
        self.word().is_some_and(is_reserved) && !self.are("all", "purpose")
    }
}
