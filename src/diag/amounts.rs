//! Weights and temperatures in what findings say.
//!
//! A rule knows grams and degrees Celsius; in which units a house weighs, and what its
//! prints show of a weight, is known where the house is. So a rule marks an amount, and
//! whoever knows the house tells it: [`Finding::tell`]. What nobody told reads in grams and
//! degrees Celsius.

use super::Finding;
use crate::quantity::display::{self, exact, read_exact, trimmed};
use crate::quantity::{Exact, Measures, Unit, degrees_fahrenheit, int};

/// Around a marked amount; no text that people write holds them.
const OPEN: char = '\u{f0e0}';
const CLOSE: char = '\u{f0e1}';

/// An amount that a finding quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// Grams, as prints show them.
    Weight(Exact),
    /// Grams as they are, whatever a scale shows of them.
    Exactly(Exact),
    /// Degrees Celsius, and the digits after the point there.
    Temperature(Exact, u8),
    /// A range of such degrees.
    Temperatures(Exact, Exact, u8),
    /// A difference of temperatures, in degrees Celsius.
    Apart(Exact, u8),
    /// Millilitres.
    Volume(Exact),
}

/// A weight in grams, in the house's units once it is told.
pub fn grams(value: &Exact) -> String {
    format!("{OPEN}g {}{CLOSE}", exact(value))
}

/// A weight that is told as it is and not as a scale shows it.
pub fn exactly(value: &Exact) -> String {
    format!("{OPEN}e {}{CLOSE}", exact(value))
}

/// A volume in millilitres.
pub fn millilitres(value: &Exact) -> String {
    format!("{OPEN}v {}{CLOSE}", exact(value))
}

/// A temperature in degrees Celsius.
pub fn celsius(value: &Exact, digits: u8) -> String {
    format!("{OPEN}{digits} {}{CLOSE}", exact(value))
}

/// A range of temperatures in degrees Celsius: `24–27 °C`.
pub fn celsius_range(low: &Exact, high: &Exact, digits: u8) -> String {
    format!("{OPEN}{digits} {} {}{CLOSE}", exact(low), exact(high))
}

/// A difference of temperatures in degrees Celsius.
pub fn celsius_apart(value: &Exact, digits: u8) -> String {
    format!("{OPEN}{digits} {} apart{CLOSE}", exact(value))
}

/// The amount that a mark holds.
fn read(mark: &str) -> Option<Amount> {
    let mut words = mark.split(' ');
    let kind = words.next()?;
    let first = read_exact(words.next()?)?;
    match kind {
        "g" => return Some(Amount::Weight(first)),
        "e" => return Some(Amount::Exactly(first)),
        "v" => return Some(Amount::Volume(first)),
        _ => {}
    }
    let digits = kind.parse().ok()?;
    match words.next() {
        None => Some(Amount::Temperature(first, digits)),
        Some("apart") => Some(Amount::Apart(first, digits)),
        Some(high) => Some(Amount::Temperatures(first, read_exact(high)?, digits)),
    }
}

/// A text with its marked amounts told.
pub fn told(text: &str, tell: &dyn Fn(&Amount) -> String) -> String {
    let mut written = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(OPEN) {
        written.push_str(before);
        let Some((mark, after)) = after.split_once(CLOSE) else { break };
        written.extend(read(mark).map(|amount| tell(&amount)));
        rest = after;
    }
    written.push_str(rest);
    written
}

/// An amount in grams and degrees Celsius.
pub fn plain(amount: &Amount) -> String {
    match amount {
        Amount::Weight(grams) | Amount::Exactly(grams) => display::grams(grams),
        Amount::Temperature(celsius, digits) | Amount::Apart(celsius, digits) => {
            format!("{} °C", trimmed(celsius, *digits))
        }
        Amount::Temperatures(low, high, digits) => {
            format!("{}–{} °C", trimmed(low, *digits), trimmed(high, *digits))
        }
        Amount::Volume(millilitres) if *millilitres >= int(1000) => {
            format!("{} l", trimmed(&millilitres.one_in::<1000>(), 2))
        }
        Amount::Volume(millilitres) => format!("{} ml", trimmed(millilitres, 4)),
    }
}

/// An amount in degrees Fahrenheit, to whole ones, or in fluid ounces; none for a weight.
pub fn in_us_units(amount: &Amount) -> Option<String> {
    let whole = |degrees: &Exact| trimmed(&display::to_step(degrees, &int(1)), 0);
    let shown = |celsius: &Exact| whole(&of_celsius(celsius));
    match amount {
        Amount::Weight(_) | Amount::Exactly(_) => None,
        Amount::Volume(millilitres) => {
            let ounces = Unit::FluidOunce.count_in(millilitres, Measures::Us);
            Some(format!("{} fl oz", trimmed(&ounces, 2)))
        }
        Amount::Temperature(celsius, _) => Some(format!("{} °F", shown(celsius))),
        Amount::Temperatures(low, high, _) => Some(format!("{}–{} °F", shown(low), shown(high))),
        Amount::Apart(celsius, _) => Some(format!("{} °F", whole(&degrees_fahrenheit(celsius)))),
    }
}

fn of_celsius(celsius: &Exact) -> Exact {
    Unit::Fahrenheit.count_in(celsius, Measures::Metric)
}

impl Finding {
    /// Tells the marked amounts of all that it says.
    pub fn tell(&mut self, tell: &dyn Fn(&Amount) -> String) {
        let labels = self.labels.iter_mut().map(|label| &mut label.text);
        let texts = labels.chain([&mut self.message]).chain(&mut self.notes).chain(&mut self.help);
        for text in texts.filter(|text| text.contains(OPEN)) {
            *text = told(text, tell);
        }
    }

    /// Whether some amount is still to be told.
    pub fn is_untold(&self) -> bool {
        let labels = self.labels.iter().map(|label| &label.text);
        labels
            .chain([&self.message])
            .chain(&self.notes)
            .chain(&self.help)
            .any(|text| text.contains(OPEN))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::ratio;

    #[test]
    fn marks_come_back_as_what_they_were() {
        let text = format!(
            "{} of salt, at {} to {}",
            grams(&ratio(1000, 3)),
            celsius(&ratio(91, 2), 1),
            celsius_range(&int(-18), &int(4), 0)
        );
        assert_eq!(told(&text, &plain), "333.3 g of salt, at 45.5 °C to −18–4 °C");
        let us = |amount: &Amount| in_us_units(amount).unwrap_or_default();
        assert_eq!(told(&text, &us), " of salt, at 114 °F to 0–39 °F");
        assert_eq!(told("no mark", &plain), "no mark");
        let friction = celsius_apart(&int(10), 1);
        assert_eq!([told(&friction, &plain), told(&friction, &us)], ["10 °C", "18 °F"]);
    }
}
