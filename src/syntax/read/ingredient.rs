//! What is known of an ingredient.

use super::bakehouse::is_currency;
use super::cursor::Cursor;
use super::said_for;
use super::seen_clauses::SeenClauses;
use super::statements::{Statement, Statements, opens_in_file};
use super::words::{BOTH, OF_AN_INGREDIENT, OF_ANIMALS, near};
use super::{Reader, Reading};
use crate::quantity::{Unit, int};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    incomplete_statement, misplaced_punctuation, missing_amount, missing_name, missing_unit,
    missing_value, said_twice, unexpected_text, unknown_value, unknown_word,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{FreeFrom, Ingredient, IngredientKind, Name, Price, Property, Quantity};
use ecow::EcoString;

/// Statements whose value is no amount of what is in 100 g.
const SAID_IN_WORDS: &[&str] =
    &["contains", "animal", "price", "pack", "volume", "each", "kept", "also", "called"];

impl<'a> Reader<'a> {
    /// An ingredient; none where it has no name.
    pub fn ingredient(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Ingredient> {
        let (name, kind) = self.ingredient_head(statement);
        let mut inner = self.open_filled(statement, "ingredient");
        let mut ingredient =
            empty_ingredient(name.clone().unwrap_or_default(), kind, statement.span);
        let mut said = SeenClauses::default();
        while let Some((statement, word)) = self.next_inside(&mut inner, outer, opens_in_file) {
            let known = statement.cursor.one_of(OF_AN_INGREDIENT);
            if known.is_some() && self.words(&statement, &word, &mut ingredient.texts) {
                continue;
            }
            let read = self.fact(&statement, known, &mut ingredient, &mut said);
            self.done(read);
            self.no_block(&statement);
        }
        self.close(&inner);
        name.map(|_| ingredient)
    }

    /// `mill lane wholemeal like whole wheat flour`, `toasted hazelnuts is a nut`.
    fn ingredient_head(
        &mut self,
        statement: &Statement<'a>,
    ) -> (Option<Name>, Option<IngredientKind>) {
        let mut cursor = statement.after_word();
        let here = cursor.here();
        let ends = |here: &Cursor| {
            here.is("like") || here.is("is") || here.are("same", "as") || here.are("equal", "to")
        };
        let name = self.whole_name(&mut cursor, ends);
        match &name {
            Some(name) => self.refuse_figure(name),
            None => self.fail(missing_name::missing_name(here, "ingredient")),
        }
        if let Some(kind) = self.kind_by_sign(&mut cursor) {
            return (name, kind);
        }
        let read = self.kind(&mut cursor).and_then(|kind| {
            self.end(&cursor, "a head is a name, and perhaps `is a` class or `like` another")?;
            Ok(kind)
        });
        (name, self.done(read).flatten())
    }

    /// Water, salt and sugar are figures and ingredients; no other name is both.
    fn refuse_figure(&mut self, name: &Name) {
        if !BOTH.contains(&name.key.as_str()) {
            self.refuse_taken(name);
        }
    }

    /// `weir flour: flour`, `weir flour = bread flour`, `weir flour same as bread flour`: a
    /// class or another ingredient after a sign or words that are not ours. Nothing where
    /// neither follows.
    fn kind_by_sign(&mut self, cursor: &mut Cursor) -> Option<Option<IngredientKind>> {
        let here = cursor.here();
        let is_like = cursor.is_sign("=") || cursor.are("same", "as") || cursor.are("equal", "to");
        if !is_like && !cursor.is_sign(":") && !cursor.is_sign("(") {
            return None;
        }
        while cursor.is("same") || cursor.is("as") || cursor.is("equal") || cursor.is("to") {
            cursor.advance();
        }
        if cursor.sign().is_some() {
            cursor.advance();
        }
        let kind = self.whole_name(cursor, |_| false);
        let span = cursor.since(here);
        let meant = kind.as_ref().map(|name| name.shown.as_str());
        self.fail(misplaced_punctuation::head_of_an_ingredient(span, is_like, meant));
        Some(kind.map(|name| {
            if is_like { IngredientKind::Like(name) } else { IngredientKind::Class(name) }
        }))
    }

    fn kind(&mut self, cursor: &mut Cursor) -> Reading<Option<IngredientKind>> {
        let word = cursor.lower();
        let here = cursor.here();
        if cursor.take("is") {
            let _ = cursor.take("a") || cursor.take("an");
        } else if !cursor.take("like") {
            return Ok(None);
        }
        let Some(name) = self.whole_name(cursor, |here| here.is("like") || here.is("is")) else {
            return Err(missing_name::missing_name(cursor.here(), "class").into());
        };
        if cursor.word().is_some() {
            return Err(said_twice::two_kinds(cursor.since(here).to(cursor.rest())).into());
        }
        Ok(Some(if &*word == "is" {
            IngredientKind::Class(name)
        } else {
            IngredientKind::Like(name)
        }))
    }

    /// A statement of an ingredient.
    fn fact(
        &mut self,
        statement: &Statement<'a>,
        word: Option<&str>,
        ingredient: &mut Ingredient,
        said: &mut SeenClauses,
    ) -> Reading<()> {
        let mut cursor = statement.after_word();
        let is_composition = word.is_none_or(|word| !SAID_IN_WORDS.contains(&word));
        if !is_composition {
            self.needless_colon(&mut cursor);
        }
        let span = statement.span;
        match word.unwrap_or_default() {
            "contains" => {
                let only = cursor.are("nothing", "but");
                if only {
                    cursor.advance();
                    cursor.advance();
                }
                let contains = self.contains(&mut cursor)?;
                if self.first_time(said, "contains", span) {
                    ingredient.contains_only = only;
                    ingredient.contains = Some(contains);
                }
            }
            "may contain" => {
                cursor.advance();
                let may_contain = self.contains(&mut cursor)?;
                if self.first_time(said, "may contain", span) {
                    ingredient.may_contain = Some(may_contain);
                }
            }
            "free from" => ingredient.free_from.push(self.shown_absent(&mut cursor)?),
            "animal" => {
                let animal = self.animal(&mut cursor)?;
                if self.first_time(said, "animal", span) {
                    ingredient.animal = Some(animal);
                }
            }
            "price" => {
                let price = self.price(&mut cursor, span)?;
                if self.first_time(said, "price", span) {
                    ingredient.price = Some(price);
                }
            }
            "pack" => {
                let pack = self.quantity(&mut cursor, ExpectedAmount::Mass)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "pack", span) {
                    ingredient.pack = Some(pack);
                }
            }
            "volume" => {
                let volume = self.quantity(&mut cursor, ExpectedAmount::Volume)?;
                if !cursor.take("weighs") {
                    return Err(
                        incomplete_statement::volume_weighs(span, cursor.under(span)).into()
                    );
                }
                let mass = self.quantity(&mut cursor, ExpectedAmount::Mass)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "volume", span) {
                    ingredient.volume = Some((volume, mass));
                }
            }
            "each" => {
                let each = self.quantity(&mut cursor, ExpectedAmount::Mass)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "each", span) {
                    ingredient.each = Some(each);
                }
            }
            "kept" => {
                cursor.take("at");
                let kept = self.quantity(&mut cursor, ExpectedAmount::Temperature)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "kept", span) {
                    ingredient.kept = Some(kept);
                }
            }
            "also" => self.also(&mut cursor, &mut ingredient.also)?,
            "called" => self.called(&mut cursor, &mut ingredient.called)?,
            _ => return self.property(statement, ingredient, said),
        }
        Ok(())
    }

    /// `protein 12.8%`.
    fn property(
        &mut self,
        statement: &Statement<'a>,
        ingredient: &mut Ingredient,
        twice: &mut SeenClauses,
    ) -> Reading<()> {
        let mut cursor = statement.cursor;
        if cursor.at_end() {
            return Ok(());
        }
        let here = cursor.here();
        let name = self.name(&mut cursor, |here| here.is_reserved());
        let Some(name) = name.filter(|name| !name.shown.trim().is_empty()) else {
            let rest = here.to(cursor.rest());
            return Err(unexpected_text::left_over(rest, cursor.under(rest), "").into());
        };
        let wanted = match name.key.as_str() {
            "energy" => ExpectedAmount::Energy,
            "fresh equivalent" => ExpectedAmount::Factor,
            "sodium" | "calcium" | "iron" | "potassium" | "cholesterol" => ExpectedAmount::Mineral,
            _ => ExpectedAmount::Composition,
        };
        // `may contaim soya`: the words of a statement may be the first of what stands here.
        let near = || {
            let ends = name.key.match_indices(' ').map(|(at, _)| at);
            let mut begins = ends.rev().filter_map(|end| name.key.get(..end));
            near(&name.key, OF_AN_INGREDIENT)
                .or_else(|| begins.find_map(|words| near(words, OF_AN_INGREDIENT)))
        };
        let is_known = OF_AN_INGREDIENT.contains(&name.key.as_str());
        let said = said_for::of_an_ingredient(self.under(statement.span)).filter(|_| !is_known);
        if let Some(help) = said {
            // What it contains is said, if in other words: nothing else is to complain of it.
            if name.key.starts_with("allergen") {
                let mut cursor = statement.after_word();
                self.needless_colon(&mut cursor);
                let contains = self.contains(&mut cursor).ok();
                ingredient.contains = ingredient.contains.take().or(contains);
            }
            return Err(unknown_word::said_for(here, &name.shown, "ingredient", help).into());
        }
        self.needless_sign(&mut cursor);
        if !cursor.is_number() && !is_known {
            return Err(unknown_word::unknown_word(here, &name.shown, "ingredient", near()).into());
        }
        if cursor.at_end() {
            return Err(missing_amount::no_amount(name.span, &name.shown).into());
        }
        let value = match self.quantity(&mut cursor, wanted) {
            Ok(value) => value,
            // `prise 14 EUR` is no property with a strange unit.
            Err(_) if !is_known && near().is_some() => {
                return Err(
                    unknown_word::unknown_word(here, &name.shown, "ingredient", near()).into()
                );
            }
            Err(finding) => return Err(finding),
        };
        self.end(&cursor, "composition is per 100 g, one figure on a line")?;
        if self.first_value(twice, &name) {
            ingredient.properties.push(Property { name, value });
        }
        Ok(())
    }

    /// `hazelnuts, milk`, `nothing`.
    fn contains(&mut self, cursor: &mut Cursor) -> Reading<Vec<Name>> {
        let mut names = Vec::new();
        if cursor.is("nothing") && cursor.further().at_end() {
            return Ok(names);
        }
        self.list(cursor, |reader, cursor| {
            let here = cursor.here();
            match reader.whole_name(cursor, |_| false) {
                Some(name) => names.push(name),
                None => return Err(missing_name::missing_name(here, "allergen").into()),
            }
            Ok(())
        })?;
        Ok(names)
    }

    /// `free from milk, eggs "the supplier's sheet"`: what proves it has to be said.
    fn shown_absent(&mut self, cursor: &mut Cursor) -> Reading<FreeFrom> {
        cursor.take("from");
        let first = cursor.here();
        let mut names = Vec::new();
        loop {
            let here = cursor.here();
            match self.whole_name(cursor, |_| false) {
                Some(name) => names.push(name),
                None => return Err(missing_name::missing_name(here, "allergen").into()),
            }
            if !cursor.take_comma() {
                break;
            }
        }
        let listed = cursor.since(first);
        let reason = match cursor.is_text() {
            true => self.plain_text(cursor),
            false => EcoString::default(),
        };
        if says_nothing(&reason) {
            return Err(missing_value::missing_proof(listed, cursor.under(listed)).into());
        }
        self.end(cursor, "")?;
        Ok(FreeFrom { names, proof: reason })
    }

    /// `animal milk, egg`, `animal nothing`.
    fn animal(&mut self, cursor: &mut Cursor) -> Reading<Vec<Name>> {
        let mut names = Vec::new();
        if cursor.is("nothing") && cursor.further().at_end() {
            return Ok(names);
        }
        self.list(cursor, |reader, cursor| {
            let here = cursor.here();
            let Some(name) = reader.whole_name(cursor, |_| false) else {
                return Err(missing_name::missing_name(here, "`animal`").into());
            };
            if !OF_ANIMALS.contains(&name.key.as_str()) {
                let near = near(&name.key, OF_ANIMALS);
                return Err(unknown_value::animal(name.span, &name.shown, near).into());
            }
            names.push(name);
            Ok(())
        })?;
        Ok(names)
    }

    /// `"strong flour", "T65 flour"`.
    fn also(&mut self, cursor: &mut Cursor, also: &mut Vec<Name>) -> Reading<()> {
        self.list(cursor, |reader, cursor| {
            let here = cursor.here();
            match reader.whole_name(cursor, |_| false) {
                Some(name) => also.push(name),
                None => return Err(missing_name::missing_name(here, "`also`").into()),
            }
            Ok(())
        })
    }

    /// `fr "noisettes grillées"`.
    fn called(
        &mut self,
        cursor: &mut Cursor,
        called: &mut Vec<(EcoString, EcoString)>,
    ) -> Reading<()> {
        self.list(cursor, |reader, cursor| {
            let Some(language) = cursor.word().filter(|_| cursor.further().is_text()) else {
                let rest = cursor.rest();
                return Err(unknown_value::called(rest, cursor.under(rest)).into());
            };
            cursor.advance();
            let name = reader.plain_text(cursor);
            called.push((language.to_lowercase().into(), name));
            Ok(())
        })
    }

    /// `23.50 EUR per 25 kg`.
    fn price(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Price> {
        let first = cursor.here();
        if let Some(sign) = currency_sign(cursor) {
            return Err(unknown_value::currency_sign(first, sign).into());
        }
        let number = self.number(cursor)?.number;
        if let Some(sign) = currency_sign(cursor) {
            return Err(unknown_value::currency_sign(cursor.here(), sign).into());
        }
        let currency = match cursor.peek_kind() {
            Some(TokenKind::Word | TokenKind::Unit) if !cursor.is("per") => {
                let here = cursor.here();
                if !is_currency(cursor.under(here)) {
                    return Err(unknown_value::currency(here, cursor.under(here)).into());
                }
                EcoString::from(cursor.under(here).to_uppercase())
            }
            _ => {
                let written = cursor.since(first);
                return Err(missing_unit::currency(written, cursor.under(written)).into());
            }
        };
        cursor.advance();
        if !cursor.take("per") {
            return Err(incomplete_statement::price_per(span, cursor.under(span)).into());
        }
        let per = self.price_per(cursor)?;
        self.end(cursor, "a price is written `14 EUR per kg`")?;
        Ok(Price { number, currency, per, span })
    }

    /// `25 kg`, or `kg` for one of it.
    fn price_per(&mut self, cursor: &mut Cursor) -> Reading<Quantity> {
        let span = cursor.here();
        let Some(unit) = cursor.word().and_then(Unit::read) else {
            return self.quantity(cursor, ExpectedAmount::Stock);
        };
        cursor.advance();
        Ok(Quantity { number: int(1), unit, decimals: Some(0), span })
    }
}

fn currency_sign<'a>(cursor: &Cursor<'a>) -> Option<&'a str> {
    cursor.sign().filter(|sign| unknown_value::is_currency_sign(sign))
}

fn empty_ingredient(name: Name, kind: Option<IngredientKind>, span: Span) -> Ingredient {
    Ingredient {
        name,
        kind,
        properties: Vec::new(),
        contains: None,
        contains_only: false,
        may_contain: None,
        free_from: Vec::new(),
        animal: None,
        price: None,
        volume: None,
        each: None,
        pack: None,
        kept: None,
        also: Vec::new(),
        called: Vec::new(),
        texts: Vec::new(),
        span,
    }
}

/// Whether words show nothing: `x`, `ok`, `yes`, `...`. Somebody's life may depend on them.
fn says_nothing(proof: &str) -> bool {
    /// So many letters are the least that can name a paper or who wrote it.
    const LEAST: usize = 5;
    proof.chars().filter(|letter| letter.is_alphanumeric()).count() < LEAST
}
