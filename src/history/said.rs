//! What a statement says, twice: as it is compared, and as it is shown.

use crate::formula::plain;
use crate::quantity::display::{exact, percent, shows, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit};
use crate::syntax::tree::{Extent, Quantity, Text};

/// A value in both forms. Two values are the same where they compare the same, however they
/// were written: `1 kg` is `1000 g`, and `60min` is `1h`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// Exact and without any choice of spelling.
    pub canon: String,
    /// As a person reads it.
    pub shown: String,
}

impl Said {
    /// A word that is compared as it is shown.
    pub fn of(word: &str) -> Self {
        Self { canon: word.to_owned(), shown: word.to_owned() }
    }

    /// A text, its blanks collapsed.
    pub fn text(text: &Text) -> Self {
        let words = plain(text);
        let words: Vec<&str> = words.split_whitespace().collect();
        let words = words.join(" ");
        Self { shown: format!("“{words}”"), canon: words }
    }

    /// A quantity in the base unit of what it measures. Volumes, counts and parts are
    /// printed as they were written, so that their unit is compared as well; whose cup it
    /// is, is the house's to say.
    pub fn quantity(quantity: &Quantity) -> Self {
        let Quantity { number, unit, decimals: _, span: _ } = quantity;
        let base = unit.to_base(number, Measures::Metric);
        let (mark, own) = match unit.dimension() {
            Dimension::Mass => ("g", ""),
            Dimension::Volume => ("ml", unit.spelling()),
            Dimension::Count => ("n", ""),
            Dimension::Share => ("s", ""),
            Dimension::Part => ("p", ""),
            Dimension::Time => ("m", ""),
            Dimension::Temperature => ("C", ""),
            Dimension::Energy => ("e", ""),
            Dimension::Factor => ("x", ""),
        };
        let shown = match unit.dimension() {
            Dimension::Time => time(&base),
            _ => written(number, *unit),
        };
        Self { canon: format!("{}{mark}{own}", exact(&base)), shown }
    }

    /// A quantity, or a range of them.
    pub fn extent(extent: &Extent) -> Self {
        let Extent { low, high, ranged: _, span: _ } = extent;
        let (low, high) = (low.as_ref().map(Self::quantity), high.as_ref().map(Self::quantity));
        match (low, high) {
            (Some(low), Some(high)) if low.canon == high.canon => low,
            (Some(low), Some(high)) => {
                let shown = match (low.shown.split_once(' '), high.shown.split_once(' ')) {
                    (Some((number, one)), Some((_, two))) if one == two => {
                        format!("{number}..{}", high.shown)
                    }
                    _ => format!("{}..{}", low.shown, high.shown),
                };
                Self { canon: format!("{}..{}", low.canon, high.canon), shown }
            }
            (Some(low), None) => {
                Self { canon: format!("{}..", low.canon), shown: format!("{}..", low.shown) }
            }
            (None, Some(high)) => {
                Self { canon: format!("..{}", high.canon), shown: format!("..{}", high.shown) }
            }
            (None, None) => Self::default(),
        }
    }

    /// Something more, after a blank; nothing where it says nothing.
    pub fn and(&mut self, other: &Self) {
        if other.canon.is_empty() {
            return;
        }
        if !self.canon.is_empty() {
            self.canon.push('\u{1f}');
            self.shown.push(' ');
        }
        self.canon.push_str(&other.canon);
        self.shown.push_str(&other.shown);
    }

    /// A word before something.
    pub fn with(word: &str, other: &Self) -> Self {
        let mut said = Self::of(word);
        said.and(other);
        said
    }

    /// Several values, whose order means nothing.
    pub fn set(all: impl IntoIterator<Item = Self>) -> Self {
        let mut all: Vec<Self> = all.into_iter().collect();
        all.sort_by(|one, two| one.canon.cmp(&two.canon));
        Self::list(all)
    }

    /// Several values in their order.
    pub fn list(all: impl IntoIterator<Item = Self>) -> Self {
        let all: Vec<Self> = all.into_iter().collect();
        let canon: Vec<&str> = all.iter().map(|it| it.canon.as_str()).collect();
        let shown: Vec<&str> = all.iter().map(|it| it.shown.as_str()).collect();
        Self { canon: canon.join("\u{1e}"), shown: shown.join(", ") }
    }
}

fn written(number: &Exact, unit: Unit) -> String {
    match unit {
        Unit::Percent if shows(number, 6) => format!("{} %", trimmed(number, 6)),
        Unit::Percent => format!("{} %", percent(&number.one_in::<100>(), 6)),
        Unit::Celsius => format!("{} °C", trimmed(number, 3)),
        Unit::Fahrenheit => format!("{} °F", trimmed(number, 3)),
        Unit::Count => trimmed(number, 3),
        unit if unit.dimension() == Dimension::Part && !number.is_one() => {
            format!("{} {}s", trimmed(number, 6), unit.spelling())
        }
        unit => format!("{} {}", trimmed(number, 6), unit.spelling()),
    }
}

/// Minutes as the language writes them: `45min`, `3h`, `2h30`.
fn time(minutes: &Exact) -> String {
    let hours = minutes.one_in::<60>().floor();
    let rest = minutes - &hours * Exact::from(60);
    match (hours.is_zero(), rest.is_zero()) {
        (true, _) => format!("{}min", trimmed(&rest, 3)),
        (false, true) => format!("{hours}h"),
        (false, false) if rest.is_int() => format!("{hours}h{:0>2}", rest.to_string()),
        (false, false) => format!("{}min", trimmed(minutes, 3)),
    }
}
