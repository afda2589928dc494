//! Names, with their roles, and where they end.

use super::cursor::Cursor;
use super::words::is_taken;
use super::{Reader, Reading};
use crate::quantity::Unit;
use crate::source::Span;
use crate::syntax::findings::{malformed_name, missing_name, reserved_word};
use crate::syntax::name::{collapse, identifier_of, is_of_identifier, key_of};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{Name, Target};
use ecow::EcoString;

impl Reader<'_> {
    /// A name in quotes, or the words up to the one where `ends` says so.
    pub fn name(&mut self, cursor: &mut Cursor, ends: impl Fn(&Cursor) -> bool) -> Option<Name> {
        if cursor.is_text() {
            let name = self.quoted_name(cursor);
            // Nothing is called by no word.
            return (!name.key.is_empty()).then_some(name);
        }
        let first = cursor.here();
        let start = *cursor;
        while cursor.word().is_some() && !ends(cursor) {
            cursor.advance();
        }
        let span = cursor.since(first);
        let written = start.under(span);
        (span.end > span.start).then(|| self.of_some_length(name_of(written, span), written))
    }

    /// Says where a name goes on for longer than names do.
    fn of_some_length(&mut self, name: Name, written: &str) -> Name {
        if written.len() > MAX_LETTERS {
            let letters = written.chars().count();
            if letters > MAX_LETTERS {
                self.fail(malformed_name::too_long(name.span, letters, MAX_LETTERS));
            }
        }
        name
    }

    /// A name that ends where the statement does; a reserved word in it is a finding
    /// that shows it in quotes.
    pub fn whole_name(
        &mut self,
        cursor: &mut Cursor,
        ends: impl Fn(&Cursor) -> bool,
    ) -> Option<Name> {
        let first = cursor.here();
        let start = *cursor;
        let name = self.name(cursor, |here| here.is_reserved() || ends(here));
        if start.is_text() || cursor.word().is_none() || ends(cursor) {
            return name;
        }
        let word = start.under(cursor.here());
        let reserved = cursor.here();
        while cursor.word().is_some() && !ends(cursor) {
            cursor.advance();
        }
        let span = cursor.since(first);
        self.report(reserved_word::finding(reserved, word, span, start.under(span)));
        Some(name_of(start.under(span), span))
    }

    /// The name that a declaration gives: it ends with the head of the block.
    pub fn declared_name(&mut self, cursor: &mut Cursor, what: &str) -> Reading<Name> {
        let here = cursor.here();
        let Some(name) = self.whole_name(cursor, |_| false) else {
            return Err(missing_name::missing_name(here, what).into());
        };
        self.refuse_taken(&name);
        Ok(name)
    }

    /// A name that the language itself gives a meaning to can't be given away.
    pub fn refuse_taken(&mut self, name: &Name) {
        let taken = is_taken(&name.key)
            || name.key.starts_with("remaining ")
            || Unit::read(&name.key).is_some();
        if taken {
            self.fail(reserved_word::taken(name.span, &name.shown));
        }
    }

    /// A name and the role in brackets that may follow it.
    pub fn target(
        &mut self,
        cursor: &mut Cursor,
        ends: impl Fn(&Cursor) -> bool,
    ) -> Reading<Option<Target>> {
        let Some(name) = self.name(cursor, ends) else { return Ok(None) };
        let role = self.role(cursor)?.map(Box::new);
        Ok(Some(Target { name, role }))
    }

    /// The same where no amount can follow, so that a number behind the name is part of it.
    pub fn target_of_part(
        &mut self,
        cursor: &mut Cursor,
        ends: impl Fn(&Cursor) -> bool,
    ) -> Reading<Option<Target>> {
        let (first, start) = (cursor.here(), *cursor);
        let mut target = self.target(cursor, ends)?;
        if let Some(target) = target.as_mut().filter(|_| !start.is_text())
            && target.role.is_none()
            && ends_with_number(cursor)
        {
            cursor.advance();
            let span = cursor.since(first);
            target.name = name_of(start.under(span), span);
        }
        Ok(target)
    }

    /// `(second)`, where one stands.
    pub fn role(&mut self, cursor: &mut Cursor) -> Reading<Option<Name>> {
        if !cursor.is_sign("(") {
            return Ok(None);
        }
        let open = cursor.here();
        cursor.advance();
        let (first, start) = (cursor.here(), *cursor);
        let goes_on = |cursor: &Cursor| {
            // `(105-115 degrees)`, `(ca. 30 Grad)`, `(Gr. L)`
            let signs = [".", ",", "~", "°", "/", "&", "+"];
            match cursor.peek_kind() {
                Some(TokenKind::Word | TokenKind::Number | TokenKind::Unit | TokenKind::Range) => {
                    true
                }
                Some(_) => cursor.is_dash() || signs.iter().any(|sign| cursor.is_sign(sign)),
                None => false,
            }
        };
        while goes_on(cursor) && !cursor.on_new_line() {
            cursor.advance();
        }
        let span = cursor.since(first);
        if !cursor.is_sign(")") || span.end == span.start {
            return Err(malformed_name::open_role(cursor.since(open)).into());
        }
        cursor.advance();
        Ok(Some(name_of(start.under(span), span)))
    }

    /// A text where a name stands: all of it is the name.
    pub fn quoted_name(&mut self, cursor: &mut Cursor) -> Name {
        let span = cursor.here();
        let shown = self.plain_text(cursor);
        let begun = begun(&shown);
        let name = Name { key: key_of(begun), shown: collapsed(begun), span };
        self.of_some_length(name, &shown)
    }

    /// An identifier: one word joined by `-`. More words than one are read as if they
    /// were joined.
    pub fn identifier(&mut self, cursor: &mut Cursor, what: &str) -> Option<Name> {
        let (first, start) = (cursor.here(), *cursor);
        let ends = |here: &Cursor| {
            here.is_text() || here.at_end() || (here.is("from") && here.after().end > first.start)
        };
        let mut tokens = 0;
        while !ends(cursor) {
            cursor.advance();
            tokens += 1;
        }
        let span = cursor.since(first);
        let written = start.under(span);
        match (tokens, start.word()) {
            (0, _) => None,
            (1, Some(word)) if is_identifier(word) => {
                Some(self.of_some_length(name_of(word, span), word))
            }
            _ => {
                let joined = identifier_of(written);
                self.report(malformed_name::identifier(span, what, written, &joined));
                (!joined.is_empty()).then(|| name_of(&joined, span))
            }
        }
    }
}

/// Whether a word can be asked for on a command line and be part of the name of a file: letters,
/// with the marks that some of them bear, digits, `-` and apostrophes.
fn is_identifier(word: &str) -> bool {
    word.starts_with(char::is_alphanumeric) && word.chars().all(is_of_identifier)
}

/// Whether a whole number stands here and another amount right behind it, so that the first
/// belongs to the name before it: the 550 of `Mehl Type 550 500 g`. `1 1/2` and `1 000` are
/// one number each.
pub fn is_number_of_name(cursor: &Cursor) -> bool {
    let Some(own) = whole_number(cursor) else { return false };
    let behind = past_brackets(cursor.further());
    let next = behind.under(behind.here());
    let is_fraction = next.contains(['/', '\u{2044}']) || !next.is_ascii();
    let is_thousands = own.len() <= 3 && next == "000";
    behind.is_number() && !behind.touches() && !is_fraction && !is_thousands
}

/// What follows words in brackets: a name may have a role after its number.
fn past_brackets<'a>(cursor: Cursor<'a>) -> Cursor<'a> {
    let mut ahead = cursor.further();
    if !cursor.is_sign("(") || ahead.word().is_none() {
        return cursor;
    }
    while !ahead.at_end() && !ahead.is_sign(")") {
        ahead.advance();
    }
    ahead.further()
}

/// Whether a whole number without a unit ends what is said, behind a name that it belongs
/// to: `with Mehl Type 550, water`.
pub fn ends_with_number(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    whole_number(cursor).is_some()
        && (behind.at_end()
            || behind.is_comma()
            || behind.is_text()
            || behind.is_reserved()
            || behind.is_number() && !behind.touches())
}

/// The digits of a whole number that no unit touches.
fn whole_number<'a>(cursor: &Cursor<'a>) -> Option<&'a str> {
    let digits = cursor.is_number().then(|| cursor.under(cursor.here()))?;
    let is_whole = digits.bytes().all(|byte| byte.is_ascii_digit());
    let has_unit = matches!(cursor.further().peek_kind(), Some(TokenKind::Unit));
    (is_whole && !has_unit).then_some(digits)
}

/// A name spelt as in `written`.
pub fn name_of(written: &str, span: Span) -> Name {
    let shown = collapsed(begun(written));
    let key = key_of(&shown);
    // The two are the same more often than not, and then share their letters.
    let shown = if key == shown { key.clone() } else { shown };
    Name { key, shown, span }
}

/// Letters of a name; what goes on for longer is a text, or a slip, and is an error.
const MAX_LETTERS: usize = 200;

/// As much of a name as is looked at.
fn begun(written: &str) -> &str {
    if written.len() <= MAX_LETTERS {
        return written;
    }
    let end = written.char_indices().nth(MAX_LETTERS).map_or(written.len(), |(at, _)| at);
    written.get(..end).unwrap_or(written)
}

fn collapsed(written: &str) -> EcoString {
    let plain = written.bytes().all(|byte| (b'!'..=b'~').contains(&byte) || byte == b' ');
    if plain && !written.contains("  ") { written.into() } else { collapse(written).into() }
}
