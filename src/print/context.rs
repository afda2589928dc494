//! What every part of a document is written from: a house, a formula, its scale, the
//! words of its language; and how weights and shares look.

use super::document::{Beside, Weight};
use super::wording::{Wording, language_of};
use crate::formula::weighing::{
    ShownWeight, TotalRow, Weighing, WeightColumn, column, places, total_rows, weigh,
};
use crate::formula::{House, Numbers, Worked, WorkedLine, key as key_of};
use crate::quantity::display::{self, Scale, is_beyond_eighths, ounce, to_step};
use crate::quantity::{Dimension, Exact, System, int};
use crate::syntax::tree::Target;
use std::borrow::Cow;
use std::cell::{Cell, OnceCell};
use std::collections::HashMap;

/// A formula on its way to paper.
pub struct PrintContext<'a, 't> {
    /// The house that prints.
    pub house: &'a House<'t>,
    /// The formula, worked out.
    pub worked: &'a Worked<'t>,
    /// In the language of the print.
    pub words: &'a Wording,
    /// How many batches it is mixed in.
    pub batches: u32,
    /// Among how many batches the weights in its words are shared.
    pub shared_by: Cell<u32>,
    /// Volumes stand beside weights.
    pub volumes: bool,
    weighings: OnceCell<Weighings>,
    /// Ounces are decimals and not eighths, with so many digits.
    decimal_ounces: Option<u8>,
    /// No weight is shown in eighths, whatever it is.
    decimals_forced: bool,
    /// Whether some weight in a column can't be written in eighths.
    beyond_eighths: Cell<bool>,
    /// The most decimals that some weight in ounces needs.
    ounce_digits: Cell<u8>,
}

/// What is shown of a weight: by the house's scale and, where both systems are printed, by
/// a usual one of the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rounded {
    /// In the system that the house weighs in.
    pub first: ShownWeight,
    /// In the other system, where both are printed.
    pub other: Option<ShownWeight>,
}

impl Rounded {
    /// What is left of it.
    pub fn less(&self, part: &Self) -> Self {
        let zero = ShownWeight::default();
        let other =
            self.other.as_ref().map(|other| other.less(part.other.as_ref().unwrap_or(&zero)));
        Self { first: self.first.less(&part.first), other }
    }

    /// The sum of what some weights show.
    pub fn sum<'r>(rounded: impl IntoIterator<Item = &'r Self> + Clone) -> Self {
        let others = rounded.clone().into_iter().map(|rounded| rounded.other.as_ref());
        let others: Option<Vec<&ShownWeight>> = others.collect();
        Self {
            first: ShownWeight::sum(rounded.into_iter().map(|rounded| &rounded.first)),
            other: others.filter(|others| !others.is_empty()).map(ShownWeight::sum),
        }
    }

    /// Several of it.
    pub fn times(&self, count: &Exact) -> Self {
        let times = |shown: &ShownWeight| shown.times(count);
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

impl<'a, 't> PrintContext<'a, 't> {
    /// A context for a formula in the words of a language.
    pub fn new(
        house: &'a House<'t>,
        worked: &'a Worked<'t>,
        words: &'a Wording,
        batches: u32,
        volumes: bool,
    ) -> Self {
        Self {
            house,
            worked,
            words,
            batches,
            shared_by: Cell::new(1),
            volumes,
            weighings: OnceCell::new(),
            decimal_ounces: None,
            decimals_forced: false,
            beyond_eighths: Cell::new(false),
            ounce_digits: Cell::new(0),
        }
    }

    /// What `write` writes, with one notation of ounces in all its columns: eighths, or
    /// decimals where some weight is not a whole number of eighths, all with as many digits.
    pub fn in_one_notation<T>(&mut self, write: impl Fn(&Self) -> T) -> T {
        let written = write(self);
        if !self.beyond_eighths.get() {
            return written;
        }
        // What a page shows beside its columns may be finer than all of them.
        let system = if self.first() == System::Us { Some(System::Us) } else { self.other() };
        if system.is_some_and(|it| self.scale(it).is_usual_ounces()) {
            self.in_decimals();
            write(self);
        }
        // A pinch that each piece carries has more digits, and no other weight for its sake.
        self.decimal_ounces = Some(self.ounce_digits.get().min(2));
        write(self)
    }

    /// From now on all ounces are decimals, as they are beside others that have to be.
    pub fn in_decimals(&mut self) {
        self.decimals_forced = true;
        self.weighings = OnceCell::new();
        self.ounce_digits.set(0);
        self.beyond_eighths.set(true);
    }

    fn weighings(&self) -> &Weighings {
        self.weighings.get_or_init(|| {
            let rows = total_rows(self.worked);
            let on = |system| weigh(self.worked, self.batches, &self.own_scale(system), &rows);
            let first = on(self.first());
            let other = self.other().map(on);
            let mut weighings = Weighings { rows, first, other, known: HashMap::new() };
            weighings.known = self.known(&weighings);
            weighings
        })
    }

    /// What lines and sums show, by their exact weights; what is weighed goes first.
    fn known(&self, weighings: &Weighings) -> HashMap<Exact, Rounded> {
        let places = places(self.worked, self.batches, &weighings.rows);
        let mut known: HashMap<Exact, Rounded> = HashMap::new();
        for (grams, place) in places {
            let Some(first) = place.shown(&weighings.first).cloned() else { continue };
            let other = weighings.other.as_ref().and_then(|other| place.shown(other).cloned());
            known.entry(grams).or_insert(Rounded { first, other });
        }
        // So many pieces carry so many times what one does.
        for piece in &self.numbers().pieces {
            for line in &piece.lines {
                let alone = |of: &Weighing| ShownWeight::alone(&of.scale, &line.mass);
                let (first, other) = (alone(&weighings.first), weighings.other.as_ref().map(alone));
                let all = Rounded { first, other }.times(&piece.made.count);
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
    pub fn shown(&self, of: impl Fn(&Weighing) -> Option<&ShownWeight>) -> Rounded {
        let weighings = self.weighings();
        Rounded {
            first: of(&weighings.first).cloned().unwrap_or_default(),
            other: weighings.other.as_ref().map(|other| of(other).cloned().unwrap_or_default()),
        }
    }

    /// What a column of the formula shows, line by line.
    pub fn lines(&self, of: impl Fn(&Weighing) -> Option<&WeightColumn>) -> Vec<Rounded> {
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

    /// The same of one batch, as [`Self::head_weight`] says it.
    pub fn batch_sum(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let weighings = self.weighings();
        let mut weight = self.weight_as(grams, shown);
        weight.about = !weighings.first.batch_is_exact;
        if let (Some(beside), Some(other)) = (&mut weight.beside, &weighings.other) {
            beside.about = !other.batch_is_exact;
        }
        weight
    }

    /// The masses for the ends of ranges that are printed.
    pub fn numbers(&self) -> &'a Numbers {
        self.worked.first()
    }

    /// What the language calls an ingredient, a culture or old dough; else the author's word. Another
    /// word for an ingredient that says more than the name of its entry, or less, has a
    /// message of its own: `beer` is not printed as dark beer. A name that was understood from
    /// other words, such as `Mehl Type 550`, stays as its author wrote it.
    pub fn called(&self, key: &str, shown: &str) -> String {
        if key_of(shown) != key {
            return shown.to_owned();
        }
        let language = language_of(&self.words.tag);
        let name = match self.house.ingredient_named(key) {
            Some(ingredient) => {
                let own = ingredient.called.iter().find(|(of, _)| of == language);
                // A house that says more of an ingredient still calls it so.
                let own = own.map(|(_, name)| name.to_string());
                own.or_else(|| self.words.name("name", key)).or_else(|| {
                    let main = ingredient.built_in.then_some(&ingredient.name.shown)?;
                    self.words.name("name", main)
                })
            }
            None if key == "old dough" => self.words.name("name", key),
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

    /// The system that stands first.
    pub fn first(&self) -> System {
        self.house.settings.units.first
    }

    /// The other system, where both are printed.
    fn other(&self) -> Option<System> {
        self.house.settings.units.both.then(|| self.first().other())
    }

    /// The scale that shows the weights of this formula in a system.
    pub fn scale(&self, system: System) -> Cow<'_, Scale> {
        let weighings = self.weighings();
        match (system == self.first(), &weighings.other) {
            (true, _) => Cow::Borrowed(&weighings.first.scale),
            (false, Some(other)) => Cow::Borrowed(&other.scale),
            (false, None) => self.own_scale(system),
        }
    }

    /// What the house's scale shows of the weights of a system.
    fn own_scale(&self, system: System) -> Cow<'a, Scale> {
        if system == System::Us && self.decimals_forced {
            let own = self.house_scale(system);
            return if own.is_usual_ounces() { Cow::Owned(Scale::decimal_ounces()) } else { own };
        }
        self.house_scale(system)
    }

    fn house_scale(&self, system: System) -> Cow<'a, Scale> {
        let settings = &self.house.settings;
        if system == settings.units.first {
            return Cow::Borrowed(&settings.scale);
        }
        settings
            .other_scale
            .as_ref()
            .map_or_else(|| Cow::Owned(Scale::usual(system)), Cow::Borrowed)
    }

    /// A weight by itself, to what the scale shows.
    pub fn rounded(&self, grams: &Exact) -> Rounded {
        let on = |system| ShownWeight::alone(&self.scale(system), grams);
        Rounded { first: on(self.first()), other: self.other().map(on) }
    }

    /// What each of many pieces carries, and what all of them carry together. All of it is
    /// weighed at once; of a piece's share that the scale can't show closely, more digits tell.
    pub fn carried(&self, grams: &Exact, count: &Exact) -> (Rounded, Rounded) {
        let all = self.rounded(&(grams * count));
        let on = |system| {
            let mut shown = ShownWeight::alone(&self.scale(system), grams);
            for _ in 0..3 {
                if (&shown.grams - grams).abs() <= grams.one_in::<40>() {
                    break;
                }
                let step = shown.step.one_in::<10>();
                shown = ShownWeight { grams: display::to_step(grams, &step), step };
            }
            shown
        };
        (Rounded { first: on(self.first()), other: self.other().map(on) }, all)
    }

    /// A weight that may also stand on a line: it shows the same.
    pub fn rounded_as_known(&self, grams: &Exact) -> Rounded {
        let known = self.weighings().known.get(grams).cloned();
        known.unwrap_or_else(|| self.rounded(grams))
    }

    /// A column of its own, which adds up in each system to what `target` shows there.
    pub fn column(&self, grams: &[Exact], target: &Rounded) -> Vec<Rounded> {
        let first = column(&self.scale(self.first()), grams, &target.first.grams);
        let other = self.other().zip(target.other.as_ref());
        let other = other.map(|(system, target)| column(&self.scale(system), grams, &target.grams));
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

    /// A weight of which this much is shown, in a column.
    pub fn weight_as(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let ounces = match self.first() {
            System::Us => Some(&shown.first),
            System::Metric => shown.other.as_ref(),
        };
        if let Some(shown) = ounces {
            if is_beyond_eighths(&shown.grams, &shown.step) {
                self.beyond_eighths.set(true);
            }
            let digits = display::ounce_digits(&shown.grams, &shown.step);
            self.ounce_digits.set(self.ounce_digits.get().max(digits));
        }
        let mut weight = self.weight_in(grams, shown);
        weight.about = shown.first.grams != *grams && self.asked_for().as_ref() == Some(grams);
        weight
    }

    /// What a formula is made from, in grams: `from 500 g levain`.
    fn asked_for(&self) -> Option<Exact> {
        let (quantity, _) = self.worked.formula.makes.as_ref()?.from.as_ref()?;
        let is_mass = quantity.unit.dimension() == Dimension::Mass;
        is_mass.then(|| quantity.unit.to_base(&quantity.number, self.house.settings.measures))
    }

    fn weight_in(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let first = self.written(self.first(), &shown.first);
        let beside = match self.other() {
            Some(system) => {
                let other = shown.other.as_ref().unwrap_or(&shown.first);
                Some(self.written(system, other))
            }
            None => self.grams_beside(grams, &shown.first),
        };
        Weight {
            grams: display::exact(grams),
            shown: first.shown,
            unit: first.unit,
            decimal: first.decimal,
            beside,
            about: false,
        }
    }

    /// Less than an ounce is told in grams too, which small scales show.
    fn grams_beside(&self, grams: &Exact, shown: &ShownWeight) -> Option<Beside> {
        // What a step takes of a line has no exact weight of its own.
        let grams = if grams.is_zero() { &shown.grams } else { grams };
        let small = !grams.is_zero() && *grams < ounce() && self.first() == System::Us;
        let beside = || ShownWeight::alone(&self.scale(System::Metric), grams);
        small.then(|| self.written(System::Metric, &beside()))
    }

    fn written(&self, system: System, amount: &ShownWeight) -> Beside {
        // Whole grams are three digits of a kilogram, whatever small thing is among them.
        let is_whole = system == System::Metric && amount.grams.is_int();
        let step = match is_whole && amount.grams >= int(1000) {
            true => Exact::ONE.max(amount.step.clone()),
            false => amount.step.clone(),
        };
        let written = display::written_weight(&amount.grams, &step, system, self.decimal_ounces);
        let number = match written.is_fraction {
            true => written.number.clone(),
            false => self.words.number(&written.number),
        };
        let pounds = written.pounds.map(|pounds| format!("{} lb ", self.words.number(&pounds)));
        Beside {
            shown: format!("{}{number}", pounds.unwrap_or_default()),
            unit: written.unit.to_owned(),
            decimal: match system {
                System::Metric => written.number.replace('−', "-"),
                System::Us => display::decimal(&display::in_ounces(&amount.grams), 6),
            },
            about: false,
        }
    }

    /// A weight in a sentence: without closing zeros; of a sum that the table can't meet, what
    /// the table says, with its mark.
    pub fn plain_weight(&self, grams: &Exact) -> Weight {
        let mut weight = self.plain(grams, &self.rounded_as_known(grams));
        let whole = self.numbers().whole.mass();
        let is_batch = || *grams == whole.each_of(&Exact::from(self.batches.max(1)));
        let weighings = self.weighings();
        let about = |weighing: &Weighing| match *grams == whole {
            true => !weighing.is_exact,
            false => !weighing.batch_is_exact,
        };
        if *grams == whole || is_batch() {
            weight.about = about(&weighings.first);
            if let (Some(beside), Some(other)) = (&mut weight.beside, &weighings.other) {
                beside.about = about(other);
            }
        }
        weight
    }

    /// A weight in a head, as it was asked for: to the finest step that its lines use.
    pub fn head_weight(&self, grams: &Exact) -> Weight {
        let weighings = self.weighings();
        let on = |scale: &Scale, weighing: &Weighing| {
            let used = &weighing.asked.step;
            let step = if used.is_zero() { scale.finest() } else { used.clone() };
            ShownWeight { grams: to_step(grams, &step), step: scale.resolution(grams) }
        };
        let first = on(&self.scale(self.first()), &weighings.first);
        let other = self.other().zip(weighings.other.as_ref());
        let other = other.map(|(system, weighing)| on(&self.scale(system), weighing));
        self.plain(grams, &Rounded { first, other })
    }

    /// This much of a weight, in eighths of an ounce unless columns have decimals, without
    /// closing zeros where nothing was rounded off.
    pub fn plain(&self, grams: &Exact, shown: &Rounded) -> Weight {
        let mut weight = self.weight_in(grams, shown);
        let trim = |text: &mut String, shown: &Exact| {
            let mark = self.words.decimal_mark();
            if shown == grams && text.contains(&mark) {
                *text = text.trim_end_matches('0').trim_end_matches(&mark).to_owned();
            }
        };
        trim(&mut weight.shown, &shown.first.grams);
        if let Some(beside) = &mut weight.beside {
            let alone = || ShownWeight::alone(&self.scale(System::Metric), grams);
            let other = shown.other.clone().unwrap_or_else(alone);
            trim(&mut beside.shown, &other.grams);
        }
        weight
    }

    /// A weight in one piece: `400 g`, `1 lb 4⅜ oz`, `400 g / 14⅛ oz`.
    pub fn in_words(&self, grams: &Exact) -> String {
        self.plain_weight(grams).said()
    }

    /// So much of something, in one piece, where that is a line of a table: as the line shows it,
    /// of a batch as its own table does. Lines of other things may weigh exactly as much and be
    /// rounded another way.
    pub fn line_in_words(&self, what: &Target, grams: &Exact) -> Option<String> {
        let role = what.role.as_ref().map(|role| &role.shown);
        let is_it = |line: &WorkedLine| line.key == what.name.key && line.role.as_ref() == role;
        let dough = &self.numbers().dough_lines;
        let own = dough.iter().position(is_it);
        let in_dough = |parts: &Exact| own.filter(|&at| dough[at].mass.each_of(parts) == *grams);
        let batches = Exact::from(self.shared_by.get().max(1));
        let row = self.rows().iter().position(|row| is_it(&row.line) && row.line.mass == *grams);
        let shown = match (in_dough(&batches).filter(|_| !batches.is_one()), row) {
            (Some(line), _) => self.shown(|weighing| weighing.batch.lines.get(line)),
            (None, Some(row)) => self.shown(|weighing| weighing.total.lines.get(row)),
            (None, None) => {
                let line = in_dough(&Exact::ONE)?;
                self.shown(|weighing| weighing.dough.lines.get(line))
            }
        };
        Some(self.plain(grams, &shown).said())
    }

    /// Both ends of a range of weights: `400–425 g`, `980 g – 1.02 kg`.
    pub fn weights_in_words(&self, low: &Exact, high: &Exact) -> String {
        let (first, last) = (self.plain_weight(low), self.plain_weight(high));
        match (first.beside.is_none(), first == last || first.said() == last.said()) {
            (_, true) => first.said(),
            (true, _) if first.unit == last.unit && last.beside.is_none() => {
                format!("{}–{}", first.shown, last.said())
            }
            _ => format!("{} – {}", first.said(), last.said()),
        }
    }

    /// With at most so many digits behind the mark.
    pub fn trimmed(&self, value: &Exact, decimals: u8) -> String {
        self.words.number(&display::trimmed(value, decimals))
    }

    /// A share of one in per cent, without the sign.
    pub fn percent(&self, share: &Exact, decimals: u8) -> String {
        self.words.number(&display::percent(share, decimals))
    }
}
