//! How a figure came about: a tree of reasons, down to the lines that were written.
//!
//! Enters: amounts, in the base unit of their kind, and how each follows from others.
//! Leaves: [`Reason`], which `print` draws and findings quote.

use super::amount_form::AmountForm;
use super::figure::ValueKind;
use super::ground::{Assumption, Ground};
use crate::formula::subject::{Subject, Topic};
use crate::quantity::display::exact;
use crate::quantity::{Exact, System, degrees_fahrenheit, int, ratio};
use crate::source::Span;

/// How many digits more than usual the parts of a step may show, so that they come to what
/// the step shows.
const MAX_FINER: u8 = 3;

/// Numbers that one line of arithmetic can hold and still be read.
const MAX_PARTS: usize = 6;

/// One step of a derivation.
#[derive(Clone, Debug)]
pub struct Reason {
    /// What it is: `hydration`, `water in levain`.
    pub what: Subject,
    /// In the base unit of its kind.
    pub amount: Exact,
    /// What it is counted in.
    pub kind: ValueKind,
    /// How it follows from the parts.
    pub how: How,
    /// Where it is written.
    pub place: Option<Span>,
    /// What it follows from.
    pub parts: Vec<Reason>,
    /// What becomes of it where degrees are Fahrenheit.
    pub(super) degrees: Degrees,
    /// The units that it is told in.
    pub(super) units: System,
}

/// What becomes of a number where degrees are Fahrenheit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Degrees {
    /// How warm something is.
    Warmth,
    /// So many degrees between two of them.
    Apart,
    /// Degrees above the freezing point, to which a temperature is added.
    AboveFreezing,
    /// For each degree.
    ForEach,
}

impl Degrees {
    fn fahrenheit(self, celsius: &Exact) -> Exact {
        match self {
            Self::Warmth => degrees_fahrenheit(celsius) + int(32),
            Self::Apart => degrees_fahrenheit(celsius),
            Self::AboveFreezing => degrees_fahrenheit(celsius) - int(32),
            Self::ForEach => celsius * ratio(5, 9),
        }
    }

    /// The nearest whole degree Fahrenheit, in degrees Celsius.
    fn whole_fahrenheit(self, celsius: &Exact) -> Exact {
        match self {
            Self::Warmth => (self.fahrenheit(celsius).nearest() - int(32)) * ratio(5, 9),
            Self::Apart => self.fahrenheit(celsius).nearest() * ratio(5, 9),
            Self::AboveFreezing | Self::ForEach => celsius.clone(),
        }
    }
}

/// The arithmetic of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum How {
    /// The first part divided by the second.
    Ratio,
    /// The parts added up.
    Sum,
    /// The first part less the others.
    Difference,
    /// The parts multiplied.
    Product,
    /// As it is written, or as a table of ingredients has it.
    Written,
    /// Nothing says it: the program's own choice.
    Default(Assumption),
    /// It rests on something that is not worked out here; no part stands below it.
    Because(Ground),
}

impl How {
    /// What it makes of some numbers; none where nothing is reckoned.
    fn of(&self, numbers: &[Exact]) -> Option<Exact> {
        let (first, others) = numbers.split_first()?;
        let first = first.clone();
        match self {
            Self::Ratio => others.iter().try_fold(first, |left, other| left.over(other)),
            Self::Sum => Some(others.iter().fold(first, |sum, other| sum + other)),
            Self::Difference => Some(others.iter().fold(first, |left, other| left - other)),
            Self::Product => Some(others.iter().fold(first, |product, other| product * other)),
            Self::Written | Self::Default(_) | Self::Because(_) => None,
        }
    }
}

fn size_of(amount: &Exact) -> Exact {
    amount.clone().max(-amount.clone())
}

impl Reason {
    /// A reason with nothing below it, written nowhere.
    pub fn new(what: impl Into<Subject>, amount: Exact, kind: ValueKind, how: How) -> Self {
        Self {
            what: what.into(),
            amount,
            kind,
            how,
            place: None,
            parts: Vec::new(),
            degrees: Degrees::Warmth,
            units: System::Metric,
        }
    }

    /// What it amounts to, to print.
    pub fn shown(&self) -> String {
        self.form().text(&self.amount)
    }

    fn form(&self) -> AmountForm {
        AmountForm::of(&self.amount, self.kind, self.units)
    }

    /// What becomes of it where degrees are Fahrenheit, if it is not how warm something is.
    pub(super) fn in_degrees(self, degrees: Degrees) -> Self {
        Self { degrees, ..self }
    }

    /// The same as a house of these units is told it: weights in ounces, and degrees
    /// Fahrenheit, with which the arithmetic is done again.
    pub fn told_in(mut self, units: System) -> Self {
        if units == System::Us {
            self.tell_in_us_units();
        }
        self
    }

    fn tell_in_us_units(&mut self) {
        self.parts.iter_mut().for_each(Self::tell_in_us_units);
        self.units = System::Us;
        let counts_degrees =
            self.kind == ValueKind::Temperature || self.degrees == Degrees::ForEach;
        if !counts_degrees {
            return;
        }
        let of_degrees = |part: &Self| {
            matches!(part.kind, ValueKind::Temperature | ValueKind::Number | ValueKind::Share)
        };
        let numbers: Vec<Exact> = self.parts.iter().map(|part| part.amount.clone()).collect();
        let again = self.how.of(&numbers).filter(|_| self.parts.iter().all(of_degrees));
        self.amount = again.unwrap_or_else(|| self.degrees.fahrenheit(&self.amount));
    }

    /// The same with every temperature that it rests on in whole degrees Fahrenheit, worked out
    /// again, in degrees Celsius; of what is `known` already, that. None where a step of it is not
    /// plain arithmetic.
    pub fn in_whole_fahrenheit(mut self, known: &[(Topic, &Exact)]) -> Option<Self> {
        if let Some((_, amount)) = known.iter().find(|(what, _)| self.what == Subject::from(*what))
        {
            (self.amount, self.parts) = ((*amount).clone(), Vec::new());
            return Some(self);
        }
        let numbers = |parts: &[Self]| -> Vec<Exact> {
            parts.iter().map(|part| part.amount.clone()).collect()
        };
        match self.how.of(&numbers(&self.parts)) {
            Some(amount) if amount == self.amount => {
                let parts = std::mem::take(&mut self.parts).into_iter();
                let parts: Option<Vec<Self>> =
                    parts.map(|part| part.in_whole_fahrenheit(known)).collect();
                self.parts = parts?;
                self.amount = self.how.of(&numbers(&self.parts))?;
            }
            Some(_) => return None,
            None if self.kind == ValueKind::Temperature => {
                self.amount = self.degrees.whole_fahrenheit(&self.amount);
            }
            None => {}
        }
        Some(self)
    }

    /// The arithmetic of this step with real numbers, `525 g ÷ 750 g`; none where nothing
    /// is reckoned. What the numbers show comes to what the step shows, or it says what it
    /// is exactly: `… , exactly 1217/133 g`.
    pub fn arithmetic(&self) -> Option<String> {
        let finer = self.finer();
        let form = |part: &Self| part.form().finer(finer.unwrap_or_default());
        let working = self.joined(|part| form(part).text(&size_of(&part.amount)))?;
        Some(match finer {
            Some(_) => working,
            None => format!("{working}, {}", self.exactly()),
        })
    }

    /// The same with the name of each number, `525 g water ÷ 750 g flour = 70 %`; none
    /// where it would be too long to read.
    pub fn short(&self) -> Option<String> {
        if let (How::Sum, [only]) = (&self.how, self.parts.as_slice()) {
            return only.short();
        }
        if self.parts.len() > MAX_PARTS {
            return None;
        }
        let finer = self.finer();
        let told = |part: &Self| {
            let form = part.form().finer(finer.unwrap_or_default());
            let amount = form.text(&size_of(&part.amount));
            match &part.what {
                Subject::Topic(Topic::Written) => amount,
                what => format!("{amount} {}", what.words()),
            }
        };
        let working = self.joined(told)?;
        Some(match finer {
            Some(_) => format!("{working} = {}", self.shown()),
            None => format!("{working} = {}, {}", self.shown(), self.exactly()),
        })
    }

    fn exactly(&self) -> String {
        let form = self.form();
        format!("exactly {} {}", exact(&form.worth.count_in(&self.amount)), form.unit)
            .trim()
            .to_owned()
    }

    /// How many digits more than usual the parts have to show, so that what is shown of them
    /// comes to what is shown of this; none where a few more do not help.
    fn finer(&self) -> Option<u8> {
        let own = self.form();
        let shown = own.value(&self.amount);
        (0..=MAX_FINER).find(|finer| {
            let value = |part: &Self| part.form().finer(*finer).value(&part.amount);
            let parts: Vec<Exact> = self.parts.iter().map(value).collect();
            self.how.of(&parts).is_some_and(|value| own.value(&value) == shown)
        })
    }

    fn joined(&self, told: impl Fn(&Self) -> String) -> Option<String> {
        let sign = match &self.how {
            How::Ratio => " ÷ ",
            How::Sum => " + ",
            How::Difference => " − ",
            How::Product => " × ",
            How::Written | How::Default(_) | How::Because(_) => return None,
        };
        let (first, others) = self.parts.split_first()?;
        if others.is_empty() {
            return None;
        }
        let mut written = if first.amount < Exact::ZERO { "−".to_owned() } else { String::new() };
        written.push_str(&told(first));
        for part in others {
            // What is taken away has a minus of its own.
            let sign = match (&self.how, part.amount < Exact::ZERO) {
                (How::Sum, true) => " − ",
                // To take away what is below zero is to add it.
                (How::Difference, true) => " + ",
                _ => sign,
            };
            written.push_str(sign);
            written.push_str(&told(part));
        }
        Some(written)
    }

    /// With the place where it is written.
    pub fn at(mut self, place: Span) -> Self {
        self.place = Some(place);
        self
    }

    /// The same, following from these.
    pub(super) fn of(mut self, parts: Vec<Reason>) -> Self {
        self.parts = parts;
        self
    }

    /// The first over the second; none where the second is nothing.
    pub(super) fn ratio_of(what: impl Into<Subject>, above: Reason, below: Reason) -> Option<Self> {
        let amount = above.amount.over(&below.amount)?;
        Some(Self::new(what, amount, ValueKind::Share, How::Ratio).of(vec![above, below]))
    }

    /// What has been told in the same tree already.
    pub(super) fn told(what: impl Into<Subject>, amount: Exact) -> Self {
        Self::new(what, amount, ValueKind::Mass, How::Because(Ground::ToldAbove))
    }

    /// An amount that rests on something else than arithmetic.
    pub(super) fn given(
        what: impl Into<Subject>,
        amount: Exact,
        kind: ValueKind,
        ground: Ground,
    ) -> Self {
        Self::new(what, amount, kind, How::Because(ground))
    }

    /// All of them multiplied.
    pub(super) fn product_of(
        what: impl Into<Subject>,
        kind: ValueKind,
        parts: Vec<Reason>,
    ) -> Self {
        let amount = parts.iter().fold(Exact::ONE, |product, part| product * &part.amount);
        Self::new(what, amount, kind, How::Product).of(parts)
    }

    /// What is left of the whole, or of one, once the second is taken away.
    pub(super) fn less(
        what: impl Into<Subject>,
        kind: ValueKind,
        whole: Reason,
        taken: Reason,
    ) -> Self {
        let amount = &whole.amount - &taken.amount;
        Self::new(what, amount, kind, How::Difference).of(vec![whole, taken])
    }

    /// A sum of one line by the same name is that line.
    pub(super) fn sum_of(what: impl Into<Subject>, mut parts: Vec<Reason>) -> Self {
        let what = what.into();
        if parts.len() == 1 && parts[0].what == what {
            return parts.remove(0);
        }
        let amount = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        Self::new(what, amount, ValueKind::Mass, How::Sum).of(parts)
    }

    /// The same with what its parts do not account for as a part of its own, so that it
    /// comes to `amount`.
    pub(super) fn coming_to(self, amount: &Exact) -> Self {
        let rest = amount - &self.amount;
        if rest.is_zero() {
            return self;
        }
        let (what, kind) = (self.what.clone(), self.kind);
        let rest = Self::given(Topic::WhatElse, rest, kind, Ground::OnNoLine);
        Self::new(what, amount.clone(), kind, How::Sum).of(vec![self, rest])
    }
}
