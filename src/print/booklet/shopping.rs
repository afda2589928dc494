//! Everything to buy: gathered through stages, feeds, mixtures, washes and baths, for all
//! the people of a booklet.

use super::document::{BookletPart, TableCell, TableColumn, TablePart, TableRow};
use super::maker::{Made, Maker};
use crate::formula::class::Class;
use crate::formula::weighing::ShownWeight;
use crate::formula::work_as;
use crate::print::document::{Document, LineKind, LinePart, Weight};
use crate::print::findings as say;
use crate::quantity::display::{last_digit, ounce, read_exact, trimmed};
use crate::quantity::{Exact, System, Unit, int, ratio};
use crate::source::Span;
use crate::syntax::booklet::FormulaYield;
use crate::syntax::tree::{Factor, Makes, Quantity};
use std::collections::BTreeMap;
use std::rc::Rc;

/// How deep formulas may lie in each other.
const MAX_DEEP: usize = 8;

/// What is to be bought, by what it is.
#[derive(Default)]
struct List {
    /// Key, name, grams, and amounts in words.
    goods: BTreeMap<String, Goods>,
    /// For how many people, and what they make.
    makes: Vec<String>,
    contains: Vec<String>,
    may_contain: Vec<String>,
    unknown: Vec<String>,
    equipment: Vec<String>,
}

#[derive(Default)]
struct Goods {
    name: String,
    /// What the pages show of it together.
    shown: ShownWeight,
    words: Vec<String>,
    is_culture: bool,
}

impl<'a> Maker<'a> {
    /// Allergens, everything to buy, equipment.
    pub fn shopping(&self, of: &[FormulaYield]) -> Vec<BookletPart> {
        let mut list = List::default();
        let people = self.booklet.people.map_or(1, |(people, _)| people);
        for worked in self.to_shop_for(of, people) {
            let document = worked.document(self);
            // `First Sour: 24 loaves at 617 g`
            let args = [("kind", document.title.as_str()), ("words", &document.makes.text)];
            list.makes.push(self.words.fill("words-for", &args));
            list.add(self, document, 0);
        }
        if list.goods.is_empty() {
            return Vec::new();
        }
        if people > 1 {
            let people = people.to_string();
            list.makes.insert(0, self.words.fill("booklet-people", &[("people", &people)]));
        }
        list.parts(self)
    }

    /// What is bought for: what is named, else every formula that a card, a sheet, a table or
    /// a plan prints, once for each yield, for all people. A yield that `shopping` itself
    /// says is for all of them.
    fn to_shop_for(&self, named: &[FormulaYield], people: u32) -> Vec<Rc<Made<'a>>> {
        let printed = self.booklet.parts.iter().flat_map(|part| part.what.printed());
        let wanted: Vec<&FormulaYield> = match named.is_empty() {
            true => printed.collect(),
            false => named.iter().collect(),
        };
        let mut known: Vec<(&str, Exact)> = Vec::new();
        let mut all = Vec::new();
        for of in wanted {
            // For everyone is what each of them makes.
            let makes = of.makes.as_ref().filter(|_| !of.everyone);
            let Some(own) = self.worked_as(&of.formula, makes) else { continue };
            let bake = (of.formula.key.as_str(), own.first().whole.mass());
            if named.is_empty() && known.contains(&bake) {
                continue;
            }
            known.push(bake);
            let is_of_all = !named.is_empty() && makes.is_some();
            all.extend(self.times(of, own, if is_of_all { 1 } else { people }));
        }
        all
    }

    /// As much as so many people make, each of them that.
    fn times(&self, of: &FormulaYield, own: Rc<Made<'a>>, people: u32) -> Option<Rc<Made<'a>>> {
        if people == 1 {
            return Some(own);
        }
        let declared = self.worked_as(&of.formula, None)?;
        let mass = |worked: &Made| worked.first().whole.mass();
        let factor = (mass(&own) * Exact::from(people)).over(&mass(&declared))?;
        let makes = Makes::times(Factor::Times(factor), of.span);
        let all = self.worked_as(&of.formula, Some(&makes));
        if all.is_none() {
            self.say(say::yield_unclear::everyone(of.span));
        }
        all
    }
}

impl List {
    fn add(&mut self, maker: &Maker, document: &Document, depth: usize) {
        let beside = document.beside.iter().flat_map(|it| &it.all);
        let mixes = document.mixes.iter().chain(&document.mixtures);
        let feeds = document.mixes.iter().flat_map(|mix| &mix.earlier_feeds).flatten();
        for line in mixes.flat_map(|mix| &mix.lines).chain(beside).chain(feeds) {
            self.line(maker, line, depth);
        }
        self.gather(document);
    }

    fn line(&mut self, maker: &Maker, line: &LinePart, depth: usize) {
        let grams = line.weight.as_ref().and_then(|weight| read_exact(&weight.grams));
        match line.kind {
            LineKind::Ingredient | LineKind::Culture => {
                if line.class.as_deref() == Some("water") {
                    return;
                }
                let goods = self.goods.entry(line.key.clone()).or_default();
                goods.name.clone_from(&line.name);
                goods.is_culture = line.kind == LineKind::Culture;
                match line.weight.as_ref().and_then(|weight| maker.seen(weight)) {
                    Some(shown) => goods.shown = ShownWeight::sum([&goods.shown, &shown]),
                    None => goods.words.extend(line.soft.clone()),
                }
            }
            LineKind::Formula if depth < MAX_DEEP => {
                let Some(grams) = grams.filter(|grams| !grams.is_zero()) else { return };
                let Some(formula) = maker.house.formula(&line.key) else { return };
                let span = Span::NOWHERE;
                let dough = Quantity { number: grams, unit: Unit::Gram, decimals: None, span };
                let (pieces, from, factor) = (Vec::new(), None, None);
                let makes = Makes { pieces, dough: Some(dough), from, factor, span };
                let inner = work_as(maker.house, formula, &makes, &mut Vec::new());
                if inner.sound {
                    self.add(maker, &maker.document_of(&inner), depth + 1);
                }
            }
            // Their lines stand beside them.
            _ => {}
        }
    }

    fn gather(&mut self, document: &Document) {
        let add = |all: &mut Vec<String>, more: &[String]| {
            for one in more {
                if !all.contains(one) {
                    all.push(one.clone());
                }
            }
        };
        add(&mut self.contains, &document.contains);
        add(&mut self.may_contain, &document.may_contain);
        add(&mut self.unknown, &document.contains_unknown);
        // As on every other print.
        for all in [&mut self.contains, &mut self.may_contain, &mut self.unknown] {
            all.sort_by_key(|it| it.to_lowercase());
        }
        add(&mut self.equipment, &document.equipment);
    }

    fn parts(self, maker: &Maker) -> Vec<BookletPart> {
        let words = maker.words;
        let mut lead = Vec::new();
        let mut said = |id: &str, all: &[String]| {
            if !all.is_empty() {
                lead.push(format!("{} {}.", words.say(id), all.join(", ")));
            }
        };
        said("print-contains", &self.contains);
        said("print-may-contain", &self.may_contain);
        said("print-allergens-unknown", &self.unknown);
        lead.extend(self.makes.iter().cloned());
        let (kept, bought): (Vec<&Goods>, Vec<&Goods>) =
            self.goods.values().partition(|goods| goods.is_culture);
        let by_name = |goods: &&Goods| goods.name.to_lowercase();
        let (mut kept, mut bought) = (kept, bought);
        kept.sort_by_key(by_name);
        bought.sort_by_key(by_name);
        let packs: Vec<Option<(String, String)>> =
            self.goods.iter().map(|(key, goods)| maker.packs(key, goods)).collect();
        let has_packs = packs.iter().any(Option::is_some);
        let mut columns =
            vec![TableColumn { title: words.say("booklet-needed"), under: String::new() }];
        if has_packs {
            for id in ["booklet-packs", "booklet-left"] {
                columns.push(TableColumn { title: words.say(id), under: String::new() });
            }
        }
        let by_goods: Vec<&Goods> = self.goods.values().collect();
        let rows = bought.into_iter().chain(kept).map(|goods| {
            let at = by_goods.iter().position(|it| std::ptr::eq(*it, goods));
            let pack = at.and_then(|at| packs.get(at)).cloned().flatten();
            let mut cells = vec![maker.needed(goods)];
            if has_packs {
                let (packs, left) = pack.unwrap_or_default();
                cells.push(TableCell::of(packs, ""));
                cells.push(TableCell::of(left, ""));
            }
            let name = match goods.is_culture {
                true => words.fill("booklet-kept", &[("culture", &goods.name)]),
                false => goods.name.clone(),
            };
            TableRow { kind: "line".into(), name, cells }
        });
        let table = TablePart {
            title: words.say("booklet-shopping"),
            lead,
            names: words.say("print-ingredient"),
            columns,
            rows: rows.collect(),
            ..TablePart::default()
        };
        let mut parts = vec![BookletPart::Table(table)];
        if !self.equipment.is_empty() {
            let title = words.say("print-equipment");
            parts.push(BookletPart::Lines { title, lines: self.equipment });
        }
        parts
    }
}

impl Maker<'_> {
    /// `1.2 kg`, or the words that stand for an amount.
    fn needed(&self, goods: &Goods) -> TableCell {
        if goods.shown.grams.is_zero() {
            return TableCell::of(goods.words.first().cloned().unwrap_or_default(), "");
        }
        let (shown, unit) = self.weight_shown(&goods.shown);
        TableCell::of(shown, unit)
    }

    /// A weight as the pages show it, so that what is bought is what they add up to.
    fn seen(&self, weight: &Weight) -> Option<ShownWeight> {
        let each = match weight.unit.as_str() {
            "g" => int(1),
            "kg" => int(1000),
            _ => {
                let mark = self.words.decimal_mark();
                let behind = weight.shown.split_once(&mark).map(|(_, behind)| behind.len());
                let digits = behind.and_then(|it| u8::try_from(it).ok());
                let step = digits.map_or_else(|| ratio(1, 8), last_digit);
                let grams = read_exact(&weight.decimal)? * ounce();
                return Some(ShownWeight { grams, step: step * ounce() });
            }
        };
        let digits = weight.decimal.split_once('.').map_or(0, |(_, behind)| behind.len());
        let step = last_digit(u8::try_from(digits).unwrap_or(0)) * &each;
        Some(ShownWeight { grams: read_exact(&weight.decimal)? * each, step })
    }

    /// How many packs of it are bought, or how many eggs, and what is left over; none where the
    /// house does not say how much a pack holds.
    fn packs(&self, key: &str, goods: &Goods) -> Option<(String, String)> {
        let own = self.house.ingredient_named(key)?;
        // Nobody sells an egg in parts: each is a pack of its own.
        let egg = own.each.clone().filter(|_| own.class == Class::Egg);
        let pack = own.pack.clone().or(egg)?;
        let count = goods.shown.grams.over(&pack)?.ceil();
        if count.is_zero() {
            return None;
        }
        let left = &pack * &count - &goods.shown.grams;
        if self.house.settings.units.first == System::Metric
            || (&pack * int(8)).over(&ounce())?.is_int()
        {
            let (size, unit) = self.alone(&pack, true);
            let left = ShownWeight { grams: left, ..goods.shown.clone() };
            let (left, left_unit) = self.weight_shown(&left);
            return Some((format!("{count} × {size} {unit}"), format!("{left} {left_unit}")));
        }
        // A pack of a kilogram is one in ounces, too; what is left of it is weighed.
        let (size, unit) = match pack >= int(1000) {
            true => (pack.one_in::<1000>(), "kg"),
            false => (pack, "g"),
        };
        let size = self.words.number(&trimmed(&size, 3));
        let (left, left_unit) = self.alone(&left, false);
        Some((format!("{count} × {size} {unit}"), format!("{left} {left_unit}")))
    }
}
