//! `number-in-prose`: a number in the words of a manuscript that the formula it is about
//! contradicts.

use crate::check::Context;
use crate::check::facts::{Fact, Of};
use crate::check::speech::Measure;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{ValueKind, tell};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, Unit};
use crate::source::Span;
use crate::syntax::tree::Name;

/// `number-in-prose`, a warning about a manuscript.
pub const RULE: Rule = Rule {
    name: "number-in-prose",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("number_in_prose.md"),
};

/// How many values of a formula a finding lists.
const LISTED: usize = 3;

/// A number as a language writes it.
pub struct WrittenNumber<'w> {
    /// As it is written.
    pub text: &'w str,
    /// What it is measured in.
    pub measure: Measure,
    /// Whether decimals have a comma.
    pub comma: bool,
    /// What it is of, as it is written; empty where a step is meant.
    pub of: &'w str,
    /// Whether it tells how much of one thing there is to another.
    pub is_ratio: bool,
}

/// A number that a formula contradicts with some facts, the nearest first; its place is put in
/// by [`at`].
pub fn finding(context: &Context, written: &WrittenNumber, facts: &[Fact]) -> Finding {
    let name = &context.worked.formula.name;
    let kind = kind_of(written.measure);
    let mut told: Vec<String> = Vec::new();
    for fact in facts {
        let shown = match written.is_ratio {
            true => as_ratio(&fact.low),
            false => range(context, fact, kind),
        };
        if told.len() < LISTED && !told.contains(&shown) {
            told.push(shown);
        }
    }
    let live = facts.first().filter(|_| told.len() == 1).and_then(|fact| live(fact, written, name));
    let told = match told.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
        _ => told.concat(),
    };
    let of = if written.of.is_empty() { String::new() } else { format!(" of {}", written.of) };
    let message = format!("this says `{}`{of}, and `{}` says {told}", written.text, name.shown);
    let mut finding = Finding::new(&RULE, Span::NOWHERE, message).help(
        "correct the one that is wrong; what is meant otherwise is passed over after `<!-- assize: allow number-in-prose \"why\" -->`",
    );
    finding.formula = Some(name.key.clone());
    if let Some(live) = &live {
        finding = finding.help(format!(
            "correct the one that is wrong, or write `{live}`, which `weave` fills in; what is meant otherwise is passed over after `<!-- assize: allow number-in-prose \"why\" -->`"
        ));
    }
    let right = facts.first().and_then(|fact| right(fact, written));
    if let Some(right) = right.or(live)
        && right != written.text
    {
        finding = finding.repair(Span::NOWHERE, right, false);
    }
    let mut all = [finding];
    tell(context.house, context.worked, context.batches(), &mut all);
    let [finding] = all;
    finding
}

/// A page that an author typed beside a formula's name, where the formula stands on another one.
pub fn page(span: Span, name: &str, typed: usize, right: usize) -> Finding {
    let message = format!("this says page `{typed}`, and `{name}` is on page {right}");
    Finding::new(&RULE, span, message)
        .help(format!("write `[page of {name}]`, which `weave` fills in"))
        .repair(span, format!("[page of {name}]"), false)
}

/// The same at its place.
pub fn at(mut finding: Finding, span: Span) -> Finding {
    finding.labels.iter_mut().for_each(|label| label.span = span);
    if let Some(repair) = &mut finding.repair {
        repair.span = span;
    }
    finding
}

fn kind_of(measure: Measure) -> ValueKind {
    match measure.dimension() {
        Dimension::Mass | Dimension::Volume => ValueKind::Mass,
        Dimension::Share => ValueKind::Share,
        Dimension::Time => ValueKind::Time,
        Dimension::Temperature => ValueKind::Temperature,
        _ => ValueKind::Number,
    }
}

fn range(context: &Context, fact: &Fact, kind: ValueKind) -> String {
    let (low, high) = (context.show(&fact.low, kind), context.show(&fact.high, kind));
    if low == high { low } else { format!("{low} to {high}") }
}

/// How much of one thing there is to another, the smaller of them as 1: `1 to 50`.
fn as_ratio(times: &Exact) -> String {
    match Exact::ONE.over(times) {
        Some(inverse) if *times < Exact::ONE => format!("1 to {}", trimmed(&inverse, 1)),
        _ => format!("{} to 1", trimmed(times, 1)),
    }
}

/// What the formula says, written as the number that it stands for is.
fn right(fact: &Fact, written: &WrittenNumber) -> Option<String> {
    if written.is_ratio {
        return None;
    }
    let Measure::Unit(unit) = written.measure else {
        let plain = |value: &Exact| trimmed(value, 0);
        let is_count = written.measure == Measure::Bare && fact.low == fact.high;
        return is_count.then(|| plain(&fact.low));
    };
    if unit.dimension() == Dimension::Volume || unit == Unit::Part {
        return None;
    }
    let shown = |value: &Exact| {
        let digits = trimmed(&unit.count_in(value, Measures::default()), decimals(unit));
        if written.comma { digits.replace('.', ",") } else { digits }
    };
    let (low, high) = (shown(&fact.low), shown(&fact.high));
    let number = if low == high { low } else { format!("{low}–{high}") };
    // The unit stays as it is written.
    let begins = written.text.find(|letter: char| letter.is_ascii_digit()).filter(|at| *at == 0);
    let is_of_number =
        |letter: char| letter.is_ascii_digit() || ".,/–-½¼¾⅓⅔⅛ \u{a0}\u{202f}".contains(letter);
    let rest = begins.map(|_| written.text.trim_start_matches(is_of_number));
    Some(match rest.filter(|rest| !rest.contains(|letter: char| letter.is_ascii_digit())) {
        Some(rest) => {
            let gap = &written.text[..written.text.len() - rest.len()];
            let gap = &gap[gap.trim_end_matches([' ', '\u{a0}', '\u{202f}']).len()..];
            format!("{number}{gap}{rest}")
        }
        None => format!("{number} {}", unit.spelling()),
    })
}

/// The bracket that stands for the one weight that the formula has of a thing.
fn live(fact: &Fact, written: &WrittenNumber, formula: &Name) -> Option<String> {
    let Of::Name(name) = &fact.of else { return None };
    let is_weighed = matches!(written.measure.dimension(), Dimension::Mass | Dimension::Volume);
    is_weighed.then(|| format!("[{name} of {}]", formula.shown))
}

fn decimals(unit: Unit) -> u8 {
    match unit {
        Unit::Kilogram | Unit::Pound | Unit::Ounce | Unit::Hour | Unit::Day => 2,
        Unit::Percent => 1,
        _ => 0,
    }
}
