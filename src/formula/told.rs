//! Amounts that findings quote, in the units of the house and as its prints show them.

use super::house::House;
use super::line_ref::LineRef;
use super::weighing::{ShownWeight, TotalRow, places, total_rows, weigh};
use super::worked::Worked;
use crate::diag::Finding;
use crate::diag::amounts::{Amount, in_us_units, plain};
use crate::quantity::display::{
    figures_of_grams, figures_of_ounces, in_ounces, is_beyond_eighths, ounce, shows, to_step,
    trimmed, written_weight,
};
use crate::quantity::{Exact, System, int};
use std::cell::OnceCell;
use std::collections::HashMap;

/// Tells the amounts of findings about a formula, made in so many batches.
///
/// A weight that its prints show is quoted as they show it. Any other, such as a difference,
/// is what it comes to, after `≈` where digits were cut off.
pub fn tell(house: &House, worked: &Worked, batches: u32, findings: &mut [Finding]) {
    let known: OnceCell<HashMap<Exact, ShownWeight>> = OnceCell::new();
    let printed = || known.get_or_init(|| printed(house, worked, batches));
    for finding in findings.iter_mut().filter(|finding| finding.is_untold()) {
        finding.tell(&|amount| match amount {
            Amount::Weight(grams) if worked.sound => {
                on_the_scale(house, grams).unwrap_or_else(|| match printed().get(grams) {
                    // What a scale shows as nothing is still something.
                    Some(shown) if grams.is_zero() || !shown.grams.is_zero() => {
                        quoted(&shown.grams, &shown.step, grams, units(house))
                    }
                    _ => worked_out(grams, units(house), "≈ "),
                })
            }
            _ => told(house, amount),
        });
    }
}

/// A weight of a formula as its prints show it; none for one that no print shows.
pub fn printed_as(worked: &Worked, grams: &Exact) -> Option<String> {
    PrintedWeights::default().said(worked, grams)
}

/// What the prints of one formula show of its weights: looked up once, for many weights.
#[derive(Default)]
pub struct PrintedWeights(OnceCell<HashMap<Exact, ShownWeight>>);

impl PrintedWeights {
    /// A weight of that formula as its prints show it; none for one that no print shows.
    pub fn said(&self, worked: &Worked, grams: &Exact) -> Option<String> {
        let house = worked.house;
        on_the_scale(house, grams).or_else(|| {
            let printed = self.0.get_or_init(|| printed(house, worked, worked.batches()));
            let shown = printed.get(grams)?;
            Some(quoted(&shown.grams, &shown.step, grams, units(house)))
        })
    }
}

/// Tells the amounts of findings about a house.
pub fn tell_of_house(house: &House, findings: &mut [Finding]) {
    for finding in findings.iter_mut().filter(|finding| finding.is_untold()) {
        finding.tell(&|amount| told(house, amount));
    }
}

fn told(house: &House, amount: &Amount) -> String {
    match (amount, units(house)) {
        (Amount::Weight(grams), system) => {
            on_the_scale(house, grams).unwrap_or_else(|| worked_out(grams, system, ""))
        }
        (Amount::Exactly(grams), system) => worked_out(grams, system, ""),
        (_, System::Metric) => plain(amount),
        (_, System::Us) => in_us_units(amount).unwrap_or_default(),
    }
}

fn units(house: &House) -> System {
    house.settings.units.first
}

/// A weight that the house's scale shows as it is.
fn on_the_scale(house: &House, grams: &Exact) -> Option<String> {
    // Eighths of an ounce are written as such, also where a scale shows hundredths.
    if units(house) == System::Us && !is_beyond_eighths(grams, grams) {
        return Some(quoted(grams, grams, grams, System::Us));
    }
    let alone = ShownWeight::alone(&house.settings.scale, grams);
    (alone.grams == *grams).then(|| quoted(grams, &alone.step, grams, units(house)))
}

/// What prints show of each weight.
fn printed(house: &House, worked: &Worked, batches: u32) -> HashMap<Exact, ShownWeight> {
    let rows = total_rows(worked);
    let weighing = weigh(worked, batches, &house.settings.scale, &rows);
    let scale = &weighing.scale;
    let mut known = HashMap::new();
    // The whole dough and what is left of it are told in the head, as they were asked for.
    let numbers = worked.first();
    let step = match &weighing.asked.step {
        step if step.is_zero() => scale.finest(),
        step => step.clone(),
    };
    for grams in [Some(numbers.whole.mass()), numbers.dough_left()].into_iter().flatten() {
        let shown = ShownWeight { grams: to_step(&grams, &step), step: scale.resolution(&grams) };
        known.insert(grams, shown);
    }
    for (stage, own) in numbers.stages.iter().enumerate() {
        for (feed, own) in own.earlier.iter().enumerate() {
            let discarded = weighing.discarded.get(stage).and_then(|feeds| feeds.get(feed));
            known.extend(discarded.map(|shown| (own.discarded.clone(), shown.clone())));
        }
    }
    for (grams, place) in places(worked, batches, &rows) {
        let Some(shown) = place.shown(&weighing) else { continue };
        known.entry(grams).or_insert_with(|| shown.clone());
    }
    // All the flour is what its lines show together.
    let is_flour = |row: &TotalRow| match row.line.goes {
        LineRef::Ingredient(id) => worked.is_flour(id),
        _ => false,
    };
    let flours = rows.iter().zip(&weighing.total.lines).filter(|(row, _)| is_flour(row));
    let flour = ShownWeight::sum(flours.map(|(_, shown)| shown));
    known.entry(worked.flour(&worked.first().whole)).or_insert(flour);
    for piece in &worked.first().pieces {
        let lines = piece.lines.iter().map(|line| &line.mass);
        for grams in lines.chain([&piece.made.weight]) {
            known.entry(grams.clone()).or_insert_with(|| ShownWeight::alone(scale, grams));
        }
    }
    known
}

/// As prints write it in a sentence: without closing zeros where nothing was rounded.
fn quoted(shown: &Exact, step: &Exact, grams: &Exact, system: System) -> String {
    let mut written = written_weight(shown, step, system, None);
    if shown == grams && written.number.contains('.') {
        written.number = written.number.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    written.said()
}

/// A weight that no print shows, after `mark` where digits were cut off.
fn worked_out(grams: &Exact, system: System, mark: &str) -> String {
    let (unit, worth, digits) = match system {
        System::Metric => figures_of_grams(grams),
        System::Us => figures_of_ounces(grams),
    };
    let about = if shows(&worth.count_in(grams), digits) { "" } else { mark };
    let pounds = in_ounces(grams).one_in::<16>().floor();
    if system == System::Us && *grams >= ounce() * int(16) {
        let rest = grams - &pounds * ounce() * int(16);
        return format!("{about}{pounds} lb {} oz", trimmed(&worth.count_in(&rest), digits));
    }
    format!("{about}{} {unit}", trimmed(&worth.count_in(grams), digits))
}
