//! What every part of a document is written from: a house, a formula, its scale, the
//! words of its language; and how weights, shares and temperatures look.

use super::document::{Beside, Weight};
use super::wording::{Wording, language_of};
use crate::formula::weighing::{Column, Shown, TotalRow, Weighing, column, total_rows, weigh};
use crate::formula::{House, Numbers, Worked};
use crate::quantity::display::{self, Scale, decimals_for, to_step};
use crate::quantity::{Exact, Measures, System, Unit, int, ratio};
use std::cell::OnceCell;
use std::collections::HashMap;

/// A formula on its way to paper.
pub struct Paper<'a, 't> {
    pub house: &'a House<'t>,
    pub worked: &'a Worked<'t>,
    pub words: &'a Wording,
    /// How many batches it is mixed in.
    pub batches: u32,
    /// Volumes stand beside weights.
    pub volumes: bool,
    weighings: OnceCell<Weighings>,
}

/// What is shown of a weight: by the house's scale and, where both systems are printed, by
/// a usual one of the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rounded {
    pub first: Shown,
    pub other: Option<Shown>,
}

impl Rounded {
    /// The sum of what some weights show.
    pub fn sum<'r>(rounded: impl IntoIterator<Item = &'r Self> + Clone) -> Self {
        let others = rounded.clone().into_iter().map(|rounded| rounded.other.as_ref());
        let others: Option<Vec<&Shown>> = others.collect();
        Self {
            first: Shown::sum(rounded.into_iter().map(|rounded| &rounded.first)),
            other: others.filter(|others| !others.is_empty()).map(Shown::sum),
        }
    }

    /// Several of it.
    pub fn times(&self, count: &Exact) -> Self {
        let times = |shown: &Shown| shown.times(count);
        Self { first: times(&self.first), other: self.other.as_ref().map(times) }
    }
}

/// What is shown of all weights of a formula, on each scale.
struct Weighings {
    rows: Vec<TotalRow>,
    first: Weighing,
    other: Option<Weighing>,
    /// By exact weight, for those that stand alone in a sentence.
    known: HashMap<Exact, Rounded>,
}

impl<'a, 't> Paper<'a, 't> {
    pub fn new(
        house: &'a House<'t>,
        worked: &'a Worked<'t>,
        words: &'a Wording,
        batches: u32,
        volumes: bool,
    ) -> Self {
        Self { house, worked, words, batches, volumes, weighings: OnceCell::new() }
    }

    fn weighings(&self) -> &Weighings {
        self.weighings.get_or_init(|| {
            let rows = total_rows(self.house, self.worked);
            let on = |scale: &Scale| weigh(self.house, self.worked, self.batches, scale, &rows);
            let first = on(&self.house.settings.scale);
            let other = self.other().map(|(_, scale)| on(&scale));
            let mut weighings = Weighings { rows, first, other, known: HashMap::new() };
            weighings.known = self.known(&weighings);
            weighings
        })
    }

    /// What lines and sums show, by their exact weights; what is weighed goes first.
    fn known(&self, weighings: &Weighings) -> HashMap<Exact, Rounded> {
        let numbers = self.numbers();
        let batches = Exact::from(self.batches);
        let mut known: HashMap<Exact, Rounded> = HashMap::new();
        let mut add = |grams: Exact, of: &dyn Fn(&Weighing) -> Option<&Shown>| {
            let Some(first) = of(&weighings.first) else { return };
            let other = weighings.other.as_ref().and_then(|other| of(other).cloned());
            known.entry(grams).or_insert_with(|| Rounded { first: first.clone(), other });
        };
        for (place, line) in numbers.dough_lines.iter().enumerate() {
            add(&line.mass / &batches, &|of| of.batch.lines.get(place));
        }
        for (stage, worked) in numbers.stages.iter().enumerate() {
            for (place, line) in worked.lines.iter().enumerate() {
                add(line.mass.clone(), &|of| of.stages.get(stage)?.lines.get(place));
            }
            add(worked.made.clone(), &|of| Some(&of.stages.get(stage)?.sum));
        }
        for (place, line) in numbers.dough_lines.iter().enumerate() {
            add(line.mass.clone(), &|of| of.dough.lines.get(place));
        }
        for (place, row) in weighings.rows.iter().enumerate() {
            add(row.line.mass.clone(), &|of| of.total.lines.get(place));
        }
        // So many pieces carry so many times what one does.
        for piece in &numbers.pieces {
            for line in &piece.lines {
                let all = self.rounded(&line.mass).times(&piece.made.count);
                known.entry(&line.mass * &piece.made.count).or_insert(all);
            }
        }
        known
    }

    /// The lines of the whole formula.
    pub fn rows(&self) -> &[TotalRow] {
        &self.weighings().rows
    }

    /// What a weight of the formula shows on each scale.
    pub fn shown(&self, of: impl Fn(&Weighing) -> Option<&Shown>) -> Rounded {
        let weighings = self.weighings();
        Rounded {
            first: of(&weighings.first).cloned().unwrap_or_default(),
            other: weighings.other.as_ref().map(|other| of(other).cloned().unwrap_or_default()),
        }
    }

    /// What a column of the formula shows, line by line.
    pub fn lines(&self, of: impl Fn(&Weighing) -> Option<&Column>) -> Vec<Rounded> {
        let count = of(&self.weighings().first).map_or(0, |column| column.lines.len());
        (0..count).map(|line| self.shown(|weighing| of(weighing)?.lines.get(line))).collect()
    }

    /// What the house's own scale shows.
    pub fn on_first_scale(&self) -> &Weighing {
        &self.weighings().first
    }

    /// What everything adds up to, which may only be about what was asked for.
    pub fn dough_sum(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let weighings = self.weighings();
        let mut weight = self.weight_as(grams, shown);
        weight.about = !weighings.first.is_exact;
        if let (Some(beside), Some(other)) = (&mut weight.beside, &weighings.other) {
            beside.about = !other.is_exact;
        }
        weight
    }

    pub fn numbers(&self) -> &'a Numbers {
        self.worked.first()
    }

    /// What the language calls an ingredient or a culture; else the author's word.
    pub fn called(&self, key: &str, shown: &str) -> String {
        let language = language_of(&self.words.tag);
        let name = match self.house.ingredient_named(key) {
            Some(ingredient) => {
                let own = ingredient.called.iter().find(|(of, _)| of == language);
                own.map(|(_, name)| name.to_string()).or_else(|| {
                    let main = ingredient.built_in.then_some(&ingredient.name.shown)?;
                    self.words.name("name", main)
                })
            }
            None => {
                let culture = self.house.culture_named(key);
                culture.and_then(|(_, culture)| self.words.name("name", &culture.name.shown))
            }
        };
        name.unwrap_or_else(|| shown.to_owned())
    }

    /// A kind of piece, such as `loaves`, in the language.
    pub fn piece_kind(&self, shown: &str) -> String {
        self.words.name("piece", shown).unwrap_or_else(|| shown.to_owned())
    }

    fn first(&self) -> System {
        self.house.settings.units.first
    }

    /// The other system and its scale, where both are printed.
    fn other(&self) -> Option<(System, Scale)> {
        let system = self.first().other();
        self.house.settings.units.both.then(|| (system, Scale::usual(system)))
    }

    /// A weight by itself, to what the scale shows.
    pub fn rounded(&self, grams: &Exact) -> Rounded {
        Rounded {
            first: Shown::alone(&self.house.settings.scale, grams),
            other: self.other().map(|(_, scale)| Shown::alone(&scale, grams)),
        }
    }

    /// A weight that may also stand on a line: it shows the same.
    pub fn rounded_as_known(&self, grams: &Exact) -> Rounded {
        let known = self.weighings().known.get(grams).cloned();
        known.unwrap_or_else(|| self.rounded(grams))
    }

    /// A column of its own, which adds up in each system to what `target` shows there.
    pub fn column(&self, grams: &[Exact], target: &Rounded) -> Vec<Rounded> {
        let first = column(&self.house.settings.scale, grams, &target.first.grams);
        let other = self.other().zip(target.other.as_ref());
        let other = other.map(|((_, scale), target)| column(&scale, grams, &target.grams));
        let lines = first.lines.into_iter().enumerate();
        lines
            .map(|(line, first)| Rounded {
                first,
                other: other.as_ref().and_then(|other| other.lines.get(line).cloned()),
            })
            .collect()
    }

    /// A weight rounded to what the scale shows.
    pub fn weight(&self, grams: &Exact) -> Weight {
        self.weight_as(grams, &self.rounded(grams))
    }

    /// A weight of which this much is shown.
    pub fn weight_as(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let (text, unit) = self.written(self.first(), &shown.first);
        let beside = self.other().map(|(system, _)| {
            let (shown, unit) = self.written(system, shown.other.as_ref().unwrap_or(&shown.first));
            Beside { shown, unit, about: false }
        });
        Weight { grams: display::exact(grams), shown: text, unit, beside, about: false }
    }

    fn written(&self, system: System, amount: &Shown) -> (String, String) {
        let (shown, step) = (&amount.grams, &amount.step);
        match system {
            System::Metric => {
                // What was rounded at another resolution is shown in full.
                let decimals = decimals_for(step).max(decimals_for(shown));
                match *shown >= int(1000) {
                    true => (self.fixed(&(shown / int(1000)), decimals + 3), "kg".to_owned()),
                    false => (self.fixed(shown, decimals), "g".to_owned()),
                }
            }
            System::Us => (self.ounces(shown, step), "oz".to_owned()),
        }
    }

    /// Ounces below a pound, pounds and ounces above; in fractions where the scale steps
    /// in halves, quarters or eighths.
    fn ounces(&self, shown: &Exact, step: &Exact) -> String {
        let ounce = Unit::Ounce.to_base(&Exact::ONE, Measures::Us);
        let (all, step) = (shown / &ounce, step / &ounce);
        let pounds = (&all / int(16)).floor();
        let rest = &all - Exact::from(pounds.clone()) * int(16);
        let in_eighths = |value: &Exact| (value * int(8)).is_int();
        let rest = match in_eighths(&step) && in_eighths(&rest) {
            true => display::fraction(&rest),
            false => {
                let decimals = decimals_for(&step).max(decimals_for(&rest)).min(3);
                self.fixed(&rest, decimals)
            }
        };
        match pounds.is_zero() {
            true => rest,
            false => format!("{} lb {rest}", self.words.number(&pounds.to_string())),
        }
    }

    /// A weight in a sentence: without closing zeros.
    pub fn plain_weight(&self, grams: &Exact) -> Weight {
        self.plain(grams, &self.rounded_as_known(grams))
    }

    /// A weight in a head, as it was asked for: to the finest that the scale shows.
    pub fn head_weight(&self, grams: &Exact) -> Weight {
        let on = |scale: &Scale| Shown {
            grams: to_step(grams, &scale.finest()),
            step: scale.resolution(grams),
        };
        let first = on(&self.house.settings.scale);
        let other = self.other().map(|(_, scale)| on(&scale));
        self.plain(grams, &Rounded { first, other })
    }

    /// This much of a weight, without closing zeros.
    pub fn plain(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let mut weight = self.weight_as(grams, shown);
        let mark = self.words.decimal_mark();
        let trim = |shown: &mut String| {
            if shown.contains(&mark) {
                *shown = shown.trim_end_matches('0').trim_end_matches(&mark).to_owned();
            }
        };
        trim(&mut weight.shown);
        if let Some(beside) = &mut weight.beside {
            trim(&mut beside.shown);
        }
        weight
    }

    /// A weight in one piece: `400 g`, `1 lb 4⅜ oz`, `400 g / 14⅛ oz`.
    pub fn in_words(&self, grams: &Exact) -> String {
        let weight = self.plain_weight(grams);
        match weight.beside {
            Some(beside) => {
                format!("{} {} / {} {}", weight.shown, weight.unit, beside.shown, beside.unit)
            }
            None => format!("{} {}", weight.shown, weight.unit),
        }
    }

    /// The volume that a weight takes, about: `≈ 1¾ cups`, `≈ 250 ml`.
    pub fn volume(&self, grams: &Exact, grams_per_ml: &Exact) -> Option<String> {
        if grams.is_zero() || grams_per_ml.is_zero() {
            return None;
        }
        let measures = self.house.settings.measures;
        let millilitres = grams / grams_per_ml;
        let of = |unit: Unit| &millilitres / unit.to_base(&Exact::ONE, measures);
        let (id, number) = if measures == Measures::Us && of(Unit::Cup) >= ratio(1, 4) {
            ("cups", kitchen_fraction(&of(Unit::Cup)))
        } else if measures == Measures::Metric && millilitres >= int(30) {
            let about = if millilitres >= int(1000) {
                format!("{} l", self.trimmed(&(&millilitres / int(1000)), 1))
            } else {
                let step = if millilitres >= int(200) { int(10) } else { int(5) };
                format!("{} ml", self.trimmed(&to_step(&millilitres, &step), 0))
            };
            return Some(self.words.fill("approximately", &[("amount", &about)]));
        } else if of(Unit::Tablespoon) >= Exact::ONE {
            ("tablespoons", to_step(&of(Unit::Tablespoon), &ratio(1, 2)))
        } else {
            ("teaspoons", to_step(&of(Unit::Teaspoon), &ratio(1, 8)).max(ratio(1, 8)))
        };
        let shown = display::fraction(&number);
        let many = if number > Exact::ONE { 2.0 } else { 1.0 };
        let about = self.words.count(id, "number", many, &[("shown", &shown)]);
        Some(self.words.fill("approximately", &[("amount", &about)]))
    }

    /// A measure as its author wrote it: `1½ cups`, `× 3`, `1–2 tbsp`.
    pub fn measure(&self, unit: Unit, low: &Exact, high: &Exact) -> String {
        let rounded = |number: &Exact| match unit {
            Unit::Count => self.trimmed(number, 1),
            Unit::Part => self.trimmed(number, 2),
            Unit::Cup | Unit::Tablespoon | Unit::Teaspoon => match (number * int(24)).is_int() {
                true => display::fraction(number),
                false => display::fraction(&to_step(number, &ratio(1, 8)).max(ratio(1, 8))),
            },
            _ => self.trimmed(number, 1),
        };
        let shown = match low == high {
            true => rounded(low),
            false => format!("{}–{}", rounded(low), rounded(high)),
        };
        let many = if *high > Exact::ONE { 2.0 } else { 1.0 };
        let said = |id: &str| self.words.count(id, "number", many, &[("shown", &shown)]);
        match unit {
            Unit::Count => format!("× {shown}"),
            Unit::Part => said("parts"),
            Unit::Cup => said("cups"),
            Unit::Tablespoon => said("tablespoons"),
            Unit::Teaspoon => said("teaspoons"),
            unit => format!("{shown} {}", unit.spelling()),
        }
    }

    /// With exactly so many digits behind the mark.
    pub fn fixed(&self, value: &Exact, decimals: u8) -> String {
        self.words.number(&display::fixed(value, decimals))
    }

    /// With at most so many digits behind the mark.
    pub fn trimmed(&self, value: &Exact, decimals: u8) -> String {
        self.words.number(&display::trimmed(value, decimals))
    }

    /// A share of one in per cent, without the sign.
    pub fn percent(&self, share: &Exact, decimals: u8) -> String {
        self.words.number(&display::percent(share, decimals))
    }

    /// A temperature: `25 °C`, `77 °F`, or both where both systems are printed.
    pub fn degrees(&self, celsius: &Exact) -> String {
        self.degrees_range(celsius, celsius)
    }

    /// The unit of temperatures that comes first.
    pub fn degree_unit(&self) -> &'static str {
        if self.first() == System::Metric { "°C" } else { "°F" }
    }

    /// A difference of temperatures in that unit.
    pub fn degrees_apart(&self, celsius: &Exact) -> String {
        match self.first() {
            System::Metric => self.trimmed(celsius, 1),
            System::Us => self.trimmed(&(celsius * int(9) / int(5)), 0),
        }
    }

    /// A range of temperatures: `23–25 °C`.
    pub fn degrees_range(&self, low: &Exact, high: &Exact) -> String {
        let shown = |system: System| {
            let one = |celsius: &Exact| match system {
                System::Metric => self.trimmed(celsius, 1),
                System::Us => self.trimmed(&(celsius * int(9) / int(5) + int(32)), 0),
            };
            let unit = if system == System::Metric { "°C" } else { "°F" };
            match low == high {
                true => format!("{} {unit}", one(low)),
                false => format!("{}–{} {unit}", one(low), one(high)),
            }
        };
        let first = self.first();
        match self.house.settings.units.both {
            true => format!("{} / {}", shown(first), shown(first.other())),
            false => shown(first),
        }
    }
}

/// To the nearest quarter or third of a cup.
fn kitchen_fraction(value: &Exact) -> Exact {
    let quarters = to_step(value, &ratio(1, 4));
    let thirds = to_step(value, &ratio(1, 3));
    let off = |rounded: &Exact| {
        let off = rounded - value;
        off.clone().max(-off)
    };
    if off(&thirds) < off(&quarters) { thirds } else { quarters }
}
