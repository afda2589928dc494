//! Slips of the pen: of 500 random single changes to sound formulas, nearly all are found.

use crate::support::{dough_files, loaded};
use assize::testing::desk;
use assize::testing::diag::Level;
use assize::testing::source::Span;
use assize::testing::syntax::tree::{Amount, Formula, Line};
use std::fs;

/// A plain generator, so that every run makes the same slips.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        // Knuth's MMIX constants.
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }
}

/// The lines of a formula whose weights a claim or a sum covers: those of the mixes.
fn lines(formula: &Formula) -> Vec<&Line> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    blocks
        .chain(stages)
        .flat_map(|mix| &mix.lines)
        .filter(|line| matches!(&line.amount, Amount::Measured { range, .. } if !range.ranged))
        .collect()
}

/// One slip: the changed text, and what was done.
fn slip(text: &str, line: &Line, dice: &mut Dice) -> Option<(String, String)> {
    let put = |span: Span, new: &str| {
        format!("{}{new}{}", &text[..span.start as usize], &text[span.end as usize..])
    };
    let own = &text[line.span.range()];
    let amount = &text[line.amount_span.range()];
    match dice.roll(3) {
        // A digit, by five per cent or more.
        0 => {
            let digits: Vec<usize> = amount
                .char_indices()
                .filter(|(_, c)| c.is_ascii_digit())
                .map(|(at, _)| at)
                .collect();
            let at = *digits.first()?;
            let old = amount.as_bytes()[at];
            let new = b'1' + dice.roll(9) as u8;
            if new == old {
                return None;
            }
            let mut changed = amount.to_owned();
            changed.replace_range(at..=at, &char::from(new).to_string());
            Some((put(line.amount_span, &changed), format!("{own} -> {changed}")))
        }
        // A line dropped.
        1 => Some((put(line.span, ""), format!("dropped {own}"))),
        // A unit swapped.
        _ => {
            let changed = match (amount.strip_suffix('%'), amount.strip_suffix(" g")) {
                (Some(number), _) => format!("{number} g"),
                (_, Some(number)) => format!("{number}%"),
                _ => return None,
            };
            Some((put(line.amount_span, &changed), format!("{own} -> {changed}")))
        }
    }
}

#[test]
fn nearly_every_slip_is_found() {
    let mut dice = Dice(20_261_125);
    let corpus: Vec<String> = ["tests/breads", "tests/published"]
        .iter()
        .flat_map(|folder| dough_files(folder))
        .map(|file| fs::read_to_string(file).expect("readable"))
        .filter(|text| !text.contains("# refuted:"))
        .collect();
    let serious = |text: &str| {
        let found = desk::check(&loaded(text));
        found.iter().any(|finding| finding.level != Level::Note && finding.allowed.is_none())
    };
    let (mut made, mut missed) = (0, Vec::new());
    while made < 500 {
        let text = &corpus[dice.roll(corpus.len())];
        let sound = loaded(text);
        let formulas = &sound.files()[0].tree.formulas;
        if formulas.is_empty() {
            continue;
        }
        let formula = &formulas[dice.roll(formulas.len())];
        let lines = lines(formula);
        if lines.is_empty() || formula.expect.len() < 6 {
            continue;
        }
        let Some((changed, what)) = slip(text, lines[dice.roll(lines.len())], &mut dice) else {
            continue;
        };
        made += 1;
        if !serious(&changed) {
            missed.push(format!("{}: {what}", formula.name.shown));
        }
    }
    println!("missed {} of {made}:\n{}", missed.len(), missed.join("\n"));
    assert!(missed.len() * 20 <= made, "{} of {made} missed:\n{}", missed.len(), missed.join("\n"));
}
