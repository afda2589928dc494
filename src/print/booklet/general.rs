//! Reckoners without a formula: percentages, feeds, yeasts, temperatures, weights, volumes.

use super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::maker::{Maker, Occurring};
use super::reckoner::{adding_up, evenly, whole};
use crate::formula::Ingredient;
use crate::formula::weighing::ShownWeight;
use crate::print::findings as say;
use crate::print::wording::language_of;
use crate::quantity::display::{self, Scale, trimmed};
use crate::quantity::{Exact, System, Unit, int, ratio};
use crate::syntax::booklet::{General, Steps};
use crate::syntax::tree::{Name, Quantity};
use std::borrow::Cow;

/// Baker's percentages that bread is made of, for a table to read off. Common practice, no
/// source.
const PERCENTAGES: [(i64, i64); 20] = [
    (1, 5),
    (1, 2),
    (1, 1),
    (3, 2),
    (9, 5),
    (2, 1),
    (11, 5),
    (5, 1),
    (10, 1),
    (15, 1),
    (20, 1),
    (25, 1),
    (30, 1),
    (50, 1),
    (60, 1),
    (65, 1),
    (70, 1),
    (75, 1),
    (80, 1),
    (100, 1),
];

/// Feeds that are usual: culture, flour and water. Common practice, no source.
const FEEDS: [[u32; 3]; 5] = [[1, 1, 1], [1, 2, 2], [1, 3, 3], [1, 5, 5], [1, 10, 10]];

/// Ingredients that are bought by weight and measured in cups and spoons.
const MEASURED: [&str; 8] = [
    "bread flour",
    "whole wheat flour",
    "dark rye flour",
    "water",
    "whole milk",
    "salt",
    "sugar",
    "honey",
];

impl Maker<'_> {
    /// The tables of a reckoner that needs no formula.
    pub fn general(&self, general: &General, steps: Option<&Steps>, most: usize) -> Vec<TablePart> {
        let amounts = |low: (i64, Unit), high: i64, every: i64| match steps {
            Some(steps) => self.amounts(steps).unwrap_or_default(),
            None => usual(low.0, high, every, low.1),
        };
        // In a manuscript, what occurs in it.
        let or_own = |own: fn(&Occurring) -> &Vec<Quantity>, low: (i64, Unit), high, every| {
            let own = self.occurring.map(own).filter(|own| steps.is_none() && !own.is_empty());
            own.cloned().unwrap_or_else(|| amounts(low, high, every))
        };
        let is_us = self.house.settings.units.first == System::Us;
        match general {
            General::Percentages if is_us => {
                self.percentages(&amounts((1, Unit::Pound), 10, 1), most)
            }
            General::Feeds(ratios, is_from) if is_us => {
                let ratios = if ratios.is_empty() { FEEDS.to_vec() } else { ratios.clone() };
                self.feeds(&ratios, &amounts((4, Unit::Ounce), 20, 4), *is_from)
            }
            General::Percentages => self.percentages(&amounts((500, Unit::Gram), 5000, 500), most),
            General::Feeds(ratios, is_from) => {
                let ratios = if ratios.is_empty() { FEEDS.to_vec() } else { ratios.clone() };
                self.feeds(&ratios, &amounts((100, Unit::Gram), 500, 100), *is_from)
            }
            General::Yeast if is_us => self.yeast(&amounts((1, Unit::Ounce), 8, 1)),
            General::Yeast => self.yeast(&amounts((5, Unit::Gram), 50, 5)),
            General::Temperatures if is_us => {
                let own = or_own(|it| &it.temperatures, (40, Unit::Fahrenheit), 500, 20);
                self.temperatures(&own)
            }
            General::Temperatures => {
                let own = or_own(|it| &it.temperatures, (0, Unit::Celsius), 260, 10);
                self.temperatures(&own)
            }
            General::Weights if is_us => {
                let own = or_own(|it| &it.weights, (1, Unit::Ounce), 16, 1);
                let is_usual = steps.is_none() && own == usual(1, 16, 1, Unit::Ounce);
                // Then in longer steps, up to five pounds.
                let more = is_usual.then(|| usual(24, 80, 8, Unit::Ounce));
                self.weights(&own.into_iter().chain(more.into_iter().flatten()).collect::<Vec<_>>())
            }
            General::Weights => {
                let own = or_own(|it| &it.weights, (10, Unit::Gram), 100, 10);
                let is_usual = steps.is_none() && own == usual(10, 100, 10, Unit::Gram);
                // Then in longer steps, up to a kilogram.
                let more = is_usual.then(|| usual(150, 1000, 50, Unit::Gram));
                self.weights(&own.into_iter().chain(more.into_iter().flatten()).collect::<Vec<_>>())
            }
            General::Volumes(names) => self.volumes(names),
        }
    }

    /// The house's scale; in ounces decimals, where nobody said what it shows: a table of weights
    /// from small to large has one notation.
    pub fn house_scale(&self) -> Cow<'_, Scale> {
        let own = &self.house.settings.scale;
        match own.is_usual_ounces() {
            true => Cow::Owned(Scale::decimal_ounces()),
            false => Cow::Borrowed(own),
        }
    }

    /// A weight by itself, by the house's scale or, where it is `asked` for, as it is.
    pub fn alone(&self, grams: &Exact, asked: bool) -> (String, String) {
        if !asked {
            return self.weight_shown(&ShownWeight::alone(&self.house_scale(), grams));
        }
        let step = if grams.is_int() { Exact::ONE } else { ratio(1, 10) };
        let as_it_is = match self.is_us() {
            // Grams that somebody asked for are as many ounces as a scale shows.
            true if (display::in_ounces(grams) * int(8)).is_int() => {
                ShownWeight { grams: grams.clone(), step: display::ounce().one_in::<8>() }
            }
            true => ShownWeight::alone(&Scale::decimal_ounces(), grams),
            false => ShownWeight { grams: grams.clone(), step },
        };
        let (mut number, unit) = self.weight_shown(&as_it_is);
        let mark = self.words.decimal_mark();
        if number.contains(&mark) {
            number = number.trim_end_matches('0').trim_end_matches(&mark).to_owned();
        }
        (number, unit)
    }

    /// What a scale shows of a weight.
    pub fn weight_shown(&self, shown: &ShownWeight) -> (String, String) {
        let units = self.house.settings.units.first;
        let written = display::written_weight(&shown.grams, &shown.step, units, None);
        let pounds = written.pounds.map(|it| format!("{} lb ", self.words.number(&it)));
        let number = match written.is_fraction {
            true => written.number,
            false => self.words.number(&written.number),
        };
        (format!("{}{number}", pounds.unwrap_or_default()), written.unit.to_owned())
    }

    fn weight_cell(&self, grams: &Exact) -> TableCell {
        let (shown, unit) = self.alone(grams, false);
        TableCell::of(shown, unit)
    }

    fn percentages(&self, amounts: &[Quantity], most: usize) -> Vec<TablePart> {
        let parts = evenly(amounts, most).into_iter().enumerate().map(|(at, amounts)| {
            let rows = PERCENTAGES.iter().map(|(above, below)| {
                let percent = ratio(*above, *below);
                let cells = amounts.iter().map(|amount| {
                    self.weight_cell(&(self.house.base(amount) * &percent).one_in::<100>())
                });
                let name = format!("{} %", self.words.number(&trimmed(&percent, 1)));
                TableRow { kind: "line".into(), name, cells: cells.collect() }
            });
            TablePart {
                title: self.words.say("booklet-percentages"),
                names: self.words.say("booklet-of-flour"),
                columns: amounts.iter().map(|it| column(self.amount_words(it))).collect(),
                rows: rows.collect(),
                goes_on: at > 0,
                ..TablePart::default()
            }
        });
        parts.collect()
    }

    /// For each weight of ripe culture that is wanted, what goes in; `from` what there is, what
    /// it is fed, and what comes of it.
    fn feeds(&self, ratios: &[[u32; 3]], wanted: &[Quantity], from: bool) -> Vec<TablePart> {
        if from {
            return ratios.iter().enumerate().map(|it| self.fed_from(it, wanted)).collect();
        }
        let table = |(at, ratio): (usize, &[u32; 3])| {
            let [culture, flour, water] = ratio;
            let all = whole(*culture) + whole(*flour) + whole(*water);
            let rows = wanted.iter().map(|amount| {
                let wanted = self.house.base(amount);
                let parts = ratio.map(|part| (&wanted * whole(part)).each_of(&all));
                let shown = adding_up(&self.house_scale(), &parts, &wanted);
                let cells = shown.iter().map(|shown| {
                    let (shown, unit) = self.weight_shown(shown);
                    TableCell::of(shown, unit)
                });
                // What the parts come to, where ounces can't show what was asked for.
                let sum = ShownWeight::sum(shown.iter());
                let name = match sum.grams == wanted {
                    true => self.amount_words(amount),
                    false => {
                        let (number, unit) = self.weight_shown(&sum);
                        format!("{number} {unit}")
                    }
                };
                TableRow { kind: "line".into(), name, cells: cells.collect() }
            });
            let heads = ["booklet-culture", "booklet-flour", "booklet-water"];
            let title = self.words.say("booklet-feeds");
            TablePart {
                title,
                lead: vec![format!("{culture} : {flour} : {water}")],
                names: self.words.say("booklet-wanted"),
                columns: heads.iter().map(|id| column(self.words.say(id))).collect(),
                rows: rows.collect(),
                goes_on: at > 0,
                ..TablePart::default()
            }
        };
        ratios.iter().enumerate().map(table).collect()
    }

    fn fed_from(&self, (at, ratio): (usize, &[u32; 3]), all: &[Quantity]) -> TablePart {
        let [culture, flour, water] = ratio;
        let rows = all.iter().map(|amount| {
            let own = self.house.base(amount);
            let part = |of: &u32| (&own * whole(*of)).each_of(&whole(*culture));
            let parts = [part(flour), part(water)];
            let sum = parts.iter().fold(own.clone(), |sum, it| sum + it);
            let cells = parts.iter().chain([&sum]).map(|grams| self.weight_cell(grams));
            let (kind, name) = ("line".into(), self.amount_words(amount));
            TableRow { kind, name, cells: cells.collect() }
        });
        let heads = ["booklet-flour", "booklet-water", "print-total"];
        TablePart {
            title: self.words.say("booklet-feeds"),
            lead: vec![format!("{culture} : {flour} : {water}")],
            names: self.words.say("booklet-culture"),
            columns: heads.iter().map(|id| column(self.words.say(id))).collect(),
            rows: rows.collect(),
            goes_on: at > 0,
            ..TablePart::default()
        }
    }

    /// Fresh yeast and what stands for it, by the equivalents of the stores.
    fn yeast(&self, amounts: &[Quantity]) -> Vec<TablePart> {
        let kinds = ["fresh yeast", "active dry yeast", "instant yeast"];
        let known: Vec<(&Ingredient, &Exact)> = kinds
            .iter()
            .filter_map(|key| self.house.ingredient_named(key))
            .filter_map(|it| Some((it, it.fresh_equivalent.as_ref()?)))
            .collect();
        let rows = amounts.iter().map(|amount| {
            let fresh = self.house.base(amount);
            let cells = known.iter().map(|(_, worth)| {
                let dry = fresh.each_of(worth);
                if self.is_us() {
                    return self.hundredths(&dry);
                }
                let number = self.words.number(&display::fixed(&dry, 1));
                TableCell::of(number, "g")
            });
            let name = self.amount_words(amount);
            TableRow { kind: "line".into(), name, cells: cells.collect() }
        });
        vec![TablePart {
            title: self.words.say("booklet-yeast"),
            names: self.words.say("booklet-as-fresh"),
            columns: known.iter().map(|(it, _)| column(self.called(it))).collect(),
            rows: rows.collect(),
            ..TablePart::default()
        }]
    }

    fn called(&self, ingredient: &Ingredient) -> String {
        let name = &ingredient.name.shown;
        self.words.name("name", name).unwrap_or_else(|| name.to_string())
    }

    /// Whether ounces stand first.
    pub fn is_us(&self) -> bool {
        self.house.settings.units.first == System::Us
    }

    /// `0.18 oz`
    fn hundredths(&self, grams: &Exact) -> TableCell {
        let ounces = display::fixed(&display::in_ounces(grams), 2);
        TableCell::of(self.words.number(&ounces), "oz")
    }

    /// The unit of the house first.
    fn temperatures(&self, amounts: &[Quantity]) -> Vec<TablePart> {
        let (own, other) = if self.is_us() { ("°F", "°C") } else { ("°C", "°F") };
        let rows = amounts.iter().map(|amount| {
            let celsius = self.house.base(amount);
            let fahrenheit = &celsius * ratio(9, 5) + int(32);
            let number = |it: &Exact| self.words.number(&trimmed(it, 0));
            let (first, second) =
                if self.is_us() { (fahrenheit, celsius) } else { (celsius, fahrenheit) };
            let cells = vec![TableCell::of(number(&second), other)];
            TableRow { kind: "line".into(), name: format!("{} {own}", number(&first)), cells }
        });
        vec![TablePart {
            title: self.words.say("booklet-temperatures"),
            names: own.into(),
            columns: vec![column(other.into())],
            rows: rows.collect(),
            ..TablePart::default()
        }]
    }

    fn weights(&self, amounts: &[Quantity]) -> Vec<TablePart> {
        let rows = amounts.iter().map(|amount| {
            let grams = self.house.base(amount);
            let ounces = display::in_ounces(&grams);
            let shown = ShownWeight::alone(&Scale::usual(System::Us), &grams);
            let written = display::written_weight(&shown.grams, &shown.step, System::Us, None);
            let pounds = written.pounds.map(|it| format!("{it} lb ")).unwrap_or_default();
            let number = match written.is_fraction {
                true => written.number,
                false => self.words.number(&written.number),
            };
            let in_eighths = format!("{pounds}{number}");
            if self.is_us() {
                let name = format!("{} oz", self.words.number(&trimmed(&ounces, 2)));
                let grams = self.words.number(&display::fixed(&grams, 0));
                let cells =
                    vec![TableCell::of(in_eighths, written.unit), TableCell::of(grams, "g")];
                return TableRow { kind: "line".into(), name, cells };
            }
            let cells = vec![
                TableCell::of(self.words.number(&display::fixed(&ounces, 2)), "oz"),
                TableCell::of(in_eighths, written.unit),
            ];
            let number = self.words.number(&trimmed(&grams, 1));
            TableRow { kind: "line".into(), name: format!("{number} g"), cells }
        });
        let (names, columns) = match self.is_us() {
            true => ("oz", ["lb oz", "g"]),
            false => ("g", ["oz", "lb oz"]),
        };
        vec![TablePart {
            title: self.words.say("booklet-weights"),
            names: names.into(),
            columns: columns.map(|it| column(it.into())).to_vec(),
            rows: rows.collect(),
            ..TablePart::default()
        }]
    }

    /// What spoons and cups of an ingredient weigh, by its density in the stores.
    fn volumes(&self, names: &[Name]) -> Vec<TablePart> {
        let own = self.occurring.map(|it| it.measured.as_slice()).unwrap_or_default();
        let named: Vec<(&str, Option<&Name>)> = match names.is_empty() {
            true if !own.is_empty() => own.iter().map(|key| (key.as_str(), None)).collect(),
            true => MEASURED.iter().map(|key| (*key, None)).collect(),
            false => names.iter().map(|name| (name.key.as_str(), Some(name))).collect(),
        };
        let measures = self.house.settings.measures;
        let said = |id: &str, shown: &str| self.words.fill(id, &[("shown", shown)]);
        let sizes = [
            (said("booklet-teaspoons", "1"), Unit::Teaspoon, ratio(1, 1)),
            (said("booklet-tablespoons", "1"), Unit::Tablespoon, ratio(1, 1)),
            (said("booklet-cups", "¼"), Unit::Cup, ratio(1, 4)),
            (said("booklet-cups", "½"), Unit::Cup, ratio(1, 2)),
            (said("booklet-cups", "1"), Unit::Cup, ratio(1, 1)),
        ];
        let mut rows = Vec::new();
        for (key, name) in named {
            let known = self.house.ingredient_named(key);
            let density = known.and_then(|it| it.grams_per_ml.as_ref());
            let (Some(ingredient), Some(density)) = (known, density) else {
                if let Some(name) = name {
                    self.say(say::table_not_possible::no_density(name));
                }
                continue;
            };
            let cells = sizes.iter().map(|(_, unit, count)| {
                let grams = unit.to_base(count, measures) * density;
                if self.is_us() {
                    return self.hundredths(&grams);
                }
                let digits = if grams < int(20) { 1 } else { 0 };
                TableCell::of(self.words.number(&display::fixed(&grams, digits)), "g")
            });
            // In another language what we know has its name there.
            let own = name.filter(|_| language_of(&self.words.tag) == "en");
            let name = own.map_or_else(|| self.called(ingredient), |it| it.shown.to_string());
            rows.push(TableRow { kind: "line".into(), name, cells: cells.collect() });
        }
        vec![TablePart {
            title: self.words.say("booklet-volumes"),
            names: self.words.say("print-ingredient"),
            columns: sizes.iter().map(|(title, ..)| column(title.clone())).collect(),
            rows,
            ..TablePart::default()
        }]
    }
}

fn column(title: String) -> TableColumn {
    TableColumn { title, under: String::new() }
}

/// Amounts in even steps.
fn usual(low: i64, high: i64, every: i64, unit: Unit) -> Vec<Quantity> {
    let count = (high - low) / every;
    let amount = |at: i64| Quantity {
        number: int(low + at * every),
        unit,
        decimals: None,
        span: crate::source::Span::NOWHERE,
    };
    (0..=count).map(amount).collect()
}
