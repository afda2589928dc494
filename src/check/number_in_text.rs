//! `number-in-text`: a weight typed in a text that is no weight of the formula.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{grams, last_digit, to_step};
use crate::quantity::{Dimension, Exact, Measures, Unit, read_number};
use crate::syntax::tree::TextPart;

pub const RULE: Rule = Rule {
    name: "number-in-text",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("number_in_text.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let known = weights(context);
    for text in context.texts() {
        for part in &text.parts {
            let TextPart::Plain(words) = part else { continue };
            for typed in typed_weights(words) {
                if known.iter().any(|weight| typed.is(weight)) {
                    continue;
                }
                findings.push(
                    Finding::new(
                        &RULE,
                        text.span,
                        format!("`{}` in this text is no weight of the formula", typed.words),
                    )
                    .note(format!("it is {} and does not scale with the formula", grams(&typed.grams)))
                    .help(format!("write it in brackets, so that it scales: `[{}]`, or name what it is: `[water in levain]`", typed.words)),
                );
            }
        }
    }
}

/// A weight that stands in a text.
struct Typed {
    words: String,
    grams: Exact,
    /// The worth of its last written digit.
    step: Exact,
}

impl Typed {
    /// Whether a weight of the formula rounds to what is typed.
    fn is(&self, weight: &Exact) -> bool {
        to_step(weight, &self.step) == self.grams
    }
}

/// Numbers with a unit of weight behind them.
fn typed_weights(words: &str) -> Vec<Typed> {
    let parts: Vec<&str> = words.split_whitespace().collect();
    let mut found = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let part = part.trim_matches(|letter: char| !letter.is_alphanumeric());
        let digits = part.find(|letter: char| !(letter.is_ascii_digit() || letter == '.'));
        let (number, unit) = match digits {
            Some(0) => continue,
            Some(at) => part.split_at(at),
            None => {
                let next = parts.get(index + 1).copied().unwrap_or("");
                (part, next.trim_end_matches(|letter: char| !letter.is_alphanumeric()))
            }
        };
        let Some(unit) = Unit::read(unit).filter(|unit| unit.dimension() == Dimension::Mass) else {
            continue;
        };
        let Ok(number) = read_number(number) else { continue };
        let base = |value: &Exact| unit.to_base(value, Measures::Metric);
        found.push(Typed {
            words: format!(
                "{} {}",
                crate::quantity::display::decimal(&number.value, 6),
                unit.spelling()
            ),
            grams: base(&number.value),
            step: base(&last_digit(number.decimals.unwrap_or(0))),
        });
    }
    found
}

/// Every weight that a reader may find on the prints.
fn weights(context: &Context) -> Vec<Exact> {
    let numbers = context.first();
    let mut all: Vec<Exact> = vec![numbers.whole.mass(), context.flour().clone()];
    for stage in &numbers.stages {
        all.extend(stage.lines.iter().map(|line| line.mass.clone()));
        all.push(stage.made.clone());
        all.push(stage.goes_on.mass());
    }
    all.extend(
        numbers.total_lines.iter().chain(&numbers.dough_lines).map(|line| line.mass.clone()),
    );
    for piece in &numbers.pieces {
        all.push(piece.made.weight.clone());
        all.extend(piece.made.baked());
        all.extend(context.worked.as_eaten(numbers, piece));
        all.extend(piece.lines.iter().map(|line| line.mass.clone()));
    }
    all
}
