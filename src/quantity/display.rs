//! Writing numbers for people: the only place that rounds.
//!
//! Rounding is half away from zero. Weights that have to add up are rounded together, in
//! [`super::rounding`].

use super::exact::{tens, tenths};
use super::{Exact, Measures, System, Unit, Worth, int, ratio};

/// `value` to the nearest multiple of `step`, half away from zero.
pub fn to_step(value: &Exact, step: &Exact) -> Exact {
    value.over(step).map_or_else(|| value.clone(), |steps| steps.nearest() * step)
}

/// The smallest amount that `decimals` digits after the point can show.
pub fn last_digit(decimals: u8) -> Exact {
    tenths(decimals)
}

/// `value` with exactly `decimals` digits after the point.
pub fn fixed(value: &Exact, decimals: u8) -> String {
    if decimals == 0
        && let Some(whole) = short(&value.nearest())
    {
        return signed(whole);
    }
    let scaled = (value * tens(decimals)).nearest();
    let negative = scaled < Exact::ZERO;
    let digits = scaled.to_string();
    let digits = digits.trim_start_matches('-');
    let width = usize::from(decimals) + 1;
    let padded = format!("{digits:0>width$}");
    let (whole, fraction) = padded.split_at(padded.len() - usize::from(decimals));
    let sign = if negative { "−" } else { "" };
    if decimals == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{fraction}") }
}

/// `value` with at most `decimals` digits after the point. Closing zeros are dropped where
/// nothing was rounded off only: `65` is exact, `65.0` is not.
pub fn trimmed(value: &Exact, decimals: u8) -> String {
    if let Some(whole) = short(value) {
        return signed(whole);
    }
    if let Some(text) = plainly(value, decimals) {
        return text;
    }
    let text = fixed(value, decimals);
    match text.contains('.') && shows(value, decimals) {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A value that is whole and no longer than most are.
fn short(value: &Exact) -> Option<i64> {
    i64::try_from(value.to_whole()?).ok()
}

/// A value above zero that ends within so many digits after the point, where that is told from
/// two numbers of the machine.
fn plainly(value: &Exact, decimals: u8) -> Option<String> {
    let (above, below) = value.above_and_below()?;
    let (mut above, below) = (u128::try_from(above).ok()?, u128::try_from(below).ok()?);
    let mut places = 0;
    while above % below != 0 {
        if places == decimals {
            return None;
        }
        above = above.checked_mul(10)?;
        places += 1;
    }
    let digits = u64::try_from(above / below).ok()?.to_string();
    let places = usize::from(places);
    let mut text = String::with_capacity(digits.len().max(places) + 2);
    match digits.len().checked_sub(places) {
        Some(whole) if whole > 0 => text.push_str(digits.get(..whole)?),
        _ => text.push('0'),
    }
    if places > 0 {
        text.push('.');
        (digits.len()..places).for_each(|_| text.push('0'));
        text.push_str(digits.get(digits.len().saturating_sub(places)..)?);
    }
    Some(text)
}

/// A whole number with the sign of print.
fn signed(whole: i64) -> String {
    let digits = whole.unsigned_abs().to_string();
    if whole < 0 { format!("−{digits}") } else { digits }
}

/// Whether so many digits after the point show `value` as it is.
pub fn shows(value: &Exact, decimals: u8) -> bool {
    (value * tens(decimals)).is_int()
}

/// A share of one as a percentage with one decimal, more where it would read as zero
/// or where `decimals` asks for more; closing zeros dropped from what is exact.
pub fn percent(share: &Exact, decimals: u8) -> String {
    trimmed(&(share * int(100)), figures_of_share(share, decimals))
}

/// The digits after the point of a share in per cent.
pub fn figures_of_share(share: &Exact, decimals: u8) -> u8 {
    let value = share * int(100);
    let mut digits = decimals.max(1);
    while digits < 8 && !value.is_zero() && to_step(&value, &last_digit(digits)).is_zero() {
        digits += 1;
    }
    if digits < 3 && value.clone().max(-value.clone()) < int(1) && !value.is_zero() {
        digits += 1;
    }
    digits
}

/// A weight as it is written: parts, for a language to put in its marks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenWeight {
    /// Whole pounds before the ounces.
    pub pounds: Option<String>,
    /// Digits with a decimal point, or a fraction of Unicode's such as `1½`.
    pub number: String,
    /// Whether the number is whole or a real fraction, which no language writes otherwise.
    pub is_fraction: bool,
    /// As it follows the number: `g`, `kg`, `oz`, `lb`.
    pub unit: &'static str,
}

impl WrittenWeight {
    /// As it stands in English: `1 lb 4⅜ oz`.
    pub fn said(&self) -> String {
        let pounds = self.pounds.as_ref().map(|pounds| format!("{pounds} lb "));
        format!("{}{} {}", pounds.unwrap_or_default(), self.number, self.unit)
    }
}

/// Grams that a scale shows in such steps: in grams below a kilogram; in ounces below a
/// pound, as fractions where they are eighths, unless so many decimals are wanted.
pub fn written_weight(
    grams: &Exact,
    step: &Exact,
    system: System,
    decimals: Option<u8>,
) -> WrittenWeight {
    if system == System::Metric {
        // What was rounded at another resolution is shown in full.
        let digits = decimals_for(step).max(decimals_for(grams));
        let (number, digits, unit) = match *grams >= int(1000) {
            true => (grams.one_in::<1000>(), digits + 3, "kg"),
            false => (grams.clone(), digits, "g"),
        };
        let number = fixed(&number, digits);
        return WrittenWeight { pounds: None, number, is_fraction: false, unit };
    }
    let ounces = in_ounces(grams);
    let pounds = ounces.one_in::<16>().floor();
    let rest = &ounces - &pounds * int(16);
    let is_fraction = decimals.is_none() && !is_beyond_eighths(grams, step);
    let number = match is_fraction {
        true => fraction(&rest),
        false => fixed(&rest, ounce_digits(grams, step).max(decimals.unwrap_or(0))),
    };
    let pounds = (!pounds.is_zero()).then(|| pounds.to_string());
    WrittenWeight { pounds, number, is_fraction, unit: "oz" }
}

/// How many decimals of an ounce such a weight needs; three show the sum of eighths and
/// hundredths.
pub fn ounce_digits(grams: &Exact, step: &Exact) -> u8 {
    decimals_for(&in_ounces(step)).max(decimals_for(&in_ounces(grams))).min(3)
}

/// Grams of an ounce.
pub fn ounce() -> Exact {
    Unit::Ounce.to_base(&Exact::ONE, Measures::Us)
}

/// How many ounces these grams are.
pub fn in_ounces(grams: &Exact) -> Exact {
    Unit::Ounce.count_in(grams, Measures::Us)
}

/// Whether a weight is not a whole number of eighths of an ounce, or is shown more finely.
pub fn is_beyond_eighths(grams: &Exact, step: &Exact) -> bool {
    let in_eighths = |grams: &Exact| (in_ounces(grams) * int(8)).is_int();
    !(grams.is_zero() || in_eighths(grams) && in_eighths(step))
}

/// Grams for a sentence: three significant digits or more, in grams below a kilogram
/// and in kilograms above.
pub fn grams(value: &Exact) -> String {
    let (unit, worth, digits) = figures_of_grams(value);
    format!("{} {unit}", trimmed(&worth.count_in(value), digits))
}

/// The unit in which a weight is told in a sentence, its worth in grams, and the digits
/// after the point.
pub fn figures_of_grams(value: &Exact) -> (&'static str, Worth, u8) {
    let size = value.clone().max(-value.clone());
    if size >= int(1000) {
        return ("kg", Worth::of::<1000, 1>(), 4);
    }
    let digits = match () {
        () if size >= int(100) => 1,
        () if size >= int(1) || size.is_zero() => 2,
        () => {
            // Three digits that count.
            let mut digits = 1;
            while digits < 9 && size < last_digit(digits) {
                digits += 1;
            }
            digits + 2
        }
    };
    ("g", Worth::ONE, digits)
}

/// The same in ounces: of a pinch as many digits as say how much it is.
pub fn figures_of_ounces(value: &Exact) -> (&'static str, Worth, u8) {
    let size = value.clone().max(-value.clone());
    let (pound, tenth) = (ounce() * int(16), ounce().one_in::<10>());
    let digits = match () {
        () if size >= pound => 1,
        () if size >= ounce() || size.is_zero() => 2,
        () if size >= tenth => 3,
        () => 4,
    };
    ("oz", Unit::Ounce.worth(Measures::Us), digits)
}

/// A decimal for a machine: exact where the decimals end within `most` digits, else
/// rounded there. Never in scientific notation.
pub fn decimal(value: &Exact, most: u8) -> String {
    trimmed(value, most).replace('−', "-")
}

/// A value exactly: a decimal where it ends, else a fraction such as `1000/3`.
pub fn exact(value: &Exact) -> String {
    if let Some(whole) = short(value) {
        return whole.to_string();
    }
    if let Some(text) = plainly(value, 12) {
        return text;
    }
    if shows(value, 12) { decimal(value, 12) } else { value.to_string() }
}

/// The value of what [`exact`] wrote.
pub fn read_exact(text: &str) -> Option<Exact> {
    let Some((whole, rest)) = text.split_once('.') else { return text.parse().ok() };
    let above: Exact = format!("{whole}{rest}").parse().ok()?;
    Some(above * tenths(u8::try_from(rest.len()).ok()?))
}

/// A number in halves, thirds, quarters or eighths as a whole and a real fraction: `1¾`;
/// any other as a decimal.
pub fn fraction(value: &Exact) -> String {
    const FRACTIONS: [(i64, i64, &str); 9] = [
        (1, 8, "⅛"),
        (1, 4, "¼"),
        (1, 3, "⅓"),
        (3, 8, "⅜"),
        (1, 2, "½"),
        (5, 8, "⅝"),
        (2, 3, "⅔"),
        (3, 4, "¾"),
        (7, 8, "⅞"),
    ];
    let whole = value.floor();
    let rest = value - &whole;
    let found = FRACTIONS.iter().find(|(above, below, _)| rest == ratio(*above, *below));
    match found {
        Some((_, _, sign)) if whole.is_zero() => (*sign).to_owned(),
        Some((_, _, sign)) => format!("{whole}{sign}"),
        None => trimmed(value, 2),
    }
}

/// Digits after the point that show every multiple of a resolution.
pub fn decimals_for(step: &Exact) -> u8 {
    (0..6).find(|&decimals| shows(step, decimals)).unwrap_or(6)
}

/// Minutes as `20 min`, `3 h`, `1 h 5 min`, `2 d`, `17 d 4 h`.
pub fn minutes(value: &Exact) -> String {
    let Ok(whole) = i64::try_from(value.nearest()) else {
        return format!("{} d", trimmed(&value.one_in::<1440>(), 0));
    };
    if *value < int(1) && !value.is_zero() {
        return format!("{} s", trimmed(&(value * int(60)), 0));
    }
    if *value < int(10) && !value.is_int() {
        let below = value.floor();
        let seconds = (value - &below) * int(60);
        let seconds = trimmed(&seconds, 0);
        if seconds != "0" && seconds != "60" {
            return format!("{below} min {seconds} s");
        }
    }
    // From two days on, hours are counted within their day.
    let (days, rest) = if whole >= 2880 { (whole / 1440, whole % 1440) } else { (0, whole) };
    let parts = [(days, "d"), (rest / 60, "h"), (rest % 60, "min")];
    let told = parts.iter().filter(|(count, _)| *count > 0);
    let told: Vec<String> = told.map(|(count, unit)| format!("{count} {unit}")).collect();
    if told.is_empty() { format!("{whole} min") } else { told.join(" ") }
}

/// A range of minutes, the unit written once where both ends share it.
pub fn minutes_range(low: &Exact, high: &Exact) -> String {
    if low == high {
        return minutes(low);
    }
    let (left, right) = (minutes(low), minutes(high));
    // Ends that are told alike are one.
    if left == right {
        return left;
    }
    match (left.rsplit_once(' '), right.rsplit_once(' ')) {
        (Some((start, one)), Some((_, two)))
            if one == two && left.matches(' ').count() == 1 && right.matches(' ').count() == 1 =>
        {
            format!("{start}–{right}")
        }
        _ => format!("{left} – {right}"),
    }
}

/// What a scale can show: from the coarsest to the finest.
#[derive(Clone, PartialEq, Eq)]
pub struct Scale {
    steps: Vec<ScaleStep>,
    /// No scale was declared, and a print with weights below [`FINE`] has decimals.
    is_usual_ounces: bool,
}

/// What a scale is, it is by its steps.
impl std::fmt::Debug for Scale {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Scale").field("steps", &self.steps).finish()
    }
}

/// Ounces below which an eighth of one is no longer close: half of it is a sixty-fourth of the
/// weight.
const FINE: i64 = 4;

/// One resolution of a scale and the weights it is for, in grams.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScaleStep {
    /// The finest difference that it shows, in grams.
    pub step: Exact,
    /// Used at or above this weight.
    pub above: Option<Exact>,
    /// Used below this weight.
    pub below: Option<Exact>,
}

impl Default for Scale {
    /// One gram, and a tenth of a gram below 100 g: common practice, no source.
    fn default() -> Self {
        Self::new(vec![
            ScaleStep { step: int(1), above: None, below: None },
            ScaleStep { step: ratio(1, 10), above: None, below: Some(int(100)) },
        ])
    }
}

impl Scale {
    /// A scale of these resolutions.
    pub fn new(steps: Vec<ScaleStep>) -> Self {
        Self { steps, is_usual_ounces: false }
    }

    /// Its resolutions, as they were given.
    pub fn steps(&self) -> &[ScaleStep] {
        &self.steps
    }

    /// A scale in ounces: an eighth of one, and a hundredth below one; common practice, no
    /// source.
    pub fn ounces() -> Self {
        let steps = vec![
            ScaleStep { step: ounce().one_in::<8>(), above: None, below: None },
            ScaleStep { step: ounce().one_in::<100>(), above: None, below: Some(ounce()) },
        ];
        Self { steps, is_usual_ounces: true }
    }

    /// A scale in decimals of an ounce: five hundredths, and one hundredth below one ounce;
    /// common practice, no source.
    pub fn decimal_ounces() -> Self {
        let below = Some(ounce());
        Self::new(vec![
            ScaleStep { step: ounce().one_in::<20>(), above: None, below: None },
            ScaleStep { step: ounce().one_in::<100>(), above: None, below },
        ])
    }

    /// Whether eighths of an ounce don't do for such a weight on a scale of which nobody said
    /// what it shows.
    pub fn is_too_coarse_for(&self, grams: &Exact) -> bool {
        self.is_usual_ounces && *grams < ounce() * int(FINE) && !grams.is_zero()
    }

    /// Whether nobody said what it shows, and it is in ounces.
    pub fn is_usual_ounces(&self) -> bool {
        self.is_usual_ounces
    }

    /// What scales of a system usually show.
    pub fn usual(system: System) -> Self {
        match system {
            System::Metric => Self::default(),
            System::Us => Self::ounces(),
        }
    }

    /// The finest that it shows of any weight, in grams.
    pub fn finest(&self) -> Exact {
        let steps = self.steps.iter().map(|step| &step.step).filter(|step| !step.is_zero());
        steps.min().cloned().unwrap_or_else(|| int(1))
    }

    /// The resolution for a weight in grams: a bounded step that covers it wins over
    /// the one without bounds, the finest of several.
    pub fn resolution(&self, grams: &Exact) -> Exact {
        let covers = |step: &&ScaleStep| {
            (step.above.is_some() || step.below.is_some())
                && step.above.as_ref().is_none_or(|above| grams >= above)
                && step.below.as_ref().is_none_or(|below| grams < below)
        };
        let bounded = self.steps.iter().filter(covers).map(|step| &step.step).min();
        let plain = || {
            let open = |step: &&ScaleStep| step.above.is_none() && step.below.is_none();
            self.steps.iter().find(open).map(|step| &step.step)
        };
        bounded.or_else(plain).cloned().unwrap_or_else(|| int(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_round_away_from_zero() {
        assert_eq!(fixed(&ratio(5, 2), 0), "3");
        assert_eq!(fixed(&ratio(-5, 2), 0), "−3");
        assert_eq!(fixed(&ratio(1, 8), 2), "0.13");
        assert_eq!(trimmed(&ratio(2, 3), 1), "0.7");
    }

    /// The quick way for numbers of the machine writes what the slow way does.
    #[test]
    fn a_short_decimal_is_written_as_any_other() {
        for below in [1, 2, 3, 4, 5, 7, 8, 10, 16, 25, 40, 100, 125, 1000, 4096, 1_000_000] {
            for above in (0..400).chain([999_999, 1_000_001, 123_456_789]) {
                let value = ratio(above, below);
                for decimals in [0, 1, 2, 3, 6, 12] {
                    let slow = fixed(&value, decimals);
                    let slow = match slow.contains('.') && shows(&value, decimals) {
                        true => slow.trim_end_matches('0').trim_end_matches('.').to_owned(),
                        false => slow,
                    };
                    assert_eq!(trimmed(&value, decimals), slow, "{above}/{below}, {decimals}");
                }
            }
        }
        assert_eq!(exact(&ratio(18, 25)), "0.72");
        assert_eq!(exact(&ratio(-18, 25)), "-0.72");
        assert_eq!(exact(&ratio(1, 3)), "1/3");
        assert_eq!(exact(&ratio(2001, 1000)), "2.001");
    }

    #[test]
    fn what_is_rounded_keeps_its_closing_zeros() {
        assert_eq!(trimmed(&int(65), 1), "65");
        assert_eq!(trimmed(&ratio(650_038, 10_000), 1), "65.0");
        assert_eq!(trimmed(&ratio(6498, 100), 1), "65.0");
        assert_eq!(trimmed(&ratio(125, 10), 2), "12.5");
        assert_eq!(trimmed(&ratio(1_249_999, 100_000), 2), "12.50");
        assert_eq!(percent(&ratio(6498, 10_000), 1), "65.0");
        assert_eq!(percent(&ratio(9999, 1_000_000), 1), "1.00");
    }

    #[test]
    fn each_line_keeps_the_resolution_of_its_own_weight() {
        let scale = Scale::new(vec![
            ScaleStep { step: int(5), above: Some(int(1000)), below: None },
            ScaleStep { step: int(1), above: None, below: None },
            ScaleStep { step: ratio(1, 10), above: None, below: Some(int(20)) },
        ]);
        assert_eq!(scale.resolution(&int(1000)), int(5));
        assert_eq!(scale.resolution(&int(999)), int(1));
        assert_eq!(scale.resolution(&int(19)), ratio(1, 10));
    }

    #[test]
    fn times_use_one_style() {
        assert_eq!(minutes_range(&int(180), &int(240)), "3–4 h");
        assert_eq!(minutes(&int(65)), "1 h 5 min");
        assert_eq!(minutes_range(&int(20), &int(90)), "20 min – 1 h 30 min");
        assert_eq!(minutes(&int(4320)), "3 d");
    }

    #[test]
    fn eighths_and_thirds_are_real_fractions() {
        assert_eq!(fraction(&ratio(35, 8)), "4⅜");
        assert_eq!(fraction(&ratio(2, 3)), "⅔");
        assert_eq!(fraction(&int(3)), "3");
        assert_eq!(fraction(&ratio(6, 5)), "1.2");
    }

    #[test]
    fn small_percentages_never_read_as_zero() {
        assert_eq!(percent(&ratio(2, 3), 1), "66.7");
        assert_eq!(percent(&ratio(1, 1000), 1), "0.1");
        assert_eq!(percent(&ratio(212, 100_000), 1), "0.21");
        assert_eq!(percent(&int(1), 1), "100");
    }
}
