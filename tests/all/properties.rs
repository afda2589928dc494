//! What holds for every formula.

use crate::support::{loaded, names, over, with_worked};
use assize::testing::desk;
use assize::testing::formula::weighing::column;
use assize::testing::formula::{
    Composition, LineRef, Substance, Worked, WorkedLine, work, work_as,
};
use assize::testing::quantity::display::{Scale, ScaleStep, to_step};
use assize::testing::quantity::{Exact, int, ratio};
use assize::testing::source::SourceId;
use assize::testing::syntax;
use assize::testing::syntax::tree::Size;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::cell::Cell;

/// A formula in total form with a levain, all numbers in tenths of a per cent.
#[derive(Clone, Debug)]
struct Made {
    wholemeal: u32,
    water: u32,
    salt: u32,
    seeds: u32,
    fermented: u32,
    levain_water: u32,
    culture: u32,
    dough: u32,
}

fn made() -> impl Strategy<Value = Made> {
    (
        100..500u32,
        550..900u32,
        15..25u32,
        0..200u32,
        50..300u32,
        500..1250u32,
        50..500u32,
        500..50_000u32,
    )
        .prop_map(
            |(wholemeal, water, salt, seeds, fermented, levain_water, culture, dough)| Made {
                wholemeal,
                water,
                salt,
                seeds,
                fermented,
                levain_water,
                culture,
                dough,
            },
        )
}

fn tenths(number: u32) -> String {
    format!("{}.{}", number / 10, number % 10)
}

impl Made {
    fn text(&self) -> String {
        format!(
            "formula some-loaf \"Some Loaf\" {{\n  makes {} g dough\n  total {{\n    bread flour {}%\n    whole wheat flour {}%\n    water {}%\n    salt {}%\n    sunflower seeds {}%\n  }}\n  preferment levain {{\n    ferments {}% of flour\n    bread flour 100%\n    water {}%\n    white culture {}%\n  }}\n}}\n",
            self.dough,
            tenths(1000 - self.wholemeal),
            tenths(self.wholemeal),
            tenths(self.water),
            tenths(self.salt),
            tenths(self.seeds),
            tenths(self.fermented),
            tenths(self.levain_water),
            tenths(self.culture),
        )
    }
}

/// One stage of a formula at random: what its lines are written in, what it takes from the
/// stage before, how it is sized and how the dough uses it.
#[derive(Clone, Debug)]
pub struct MadeStage {
    pub flour: &'static str,
    pub water: &'static str,
    pub culture: &'static str,
    pub inner: &'static str,
    pub size: &'static str,
    pub loses: &'static str,
    pub save: &'static str,
    pub feeds: &'static str,
    pub used: &'static str,
}

pub fn made_stage() -> impl Strategy<Value = MadeStage> {
    let one = |words: &'static [&'static str]| prop::sample::select(words);
    (
        one(&["100%", "400 g"]),
        one(&["100%", "60%", "300 g", "20% of flour"]),
        one(&[
            "",
            "20%",
            "50 g",
            "30% kept back",
            "40 g kept back",
            "10% not split",
            "20% kept back from third sour",
        ]),
        one(&["", "", "all", "30%", "100 g"]),
        one(&["", "", "ferments 12% of flour", "weighs 900 g"]),
        one(&["", "", "", "5%"]),
        one(&["", "", "", "save 50 g", "at least 2 kg", "at least 700 g bread flour"]),
        one(&["", "", "3 times"]),
        one(&["", "all", "25%", "300 g"]),
    )
        .prop_map(|(flour, water, culture, inner, size, loses, save, feeds, used)| MadeStage {
            flour,
            water,
            culture,
            inner,
            size,
            loses,
            save,
            feeds,
            used,
        })
}

const STAGES: [&str; 3] = ["first sour", "second sour", "third sour"];

/// The text of a formula with such stages, in total form or in dough form.
pub fn text_of(total: bool, stages: &[MadeStage], makes: bool, extra: &str) -> String {
    let mut text = String::from("formula some-loaf \"Some Loaf\" {\n");
    if makes {
        text.push_str("  makes 10 kg dough\n");
    }
    text.push_str(if total { "  total {\n" } else { "  dough {\n" });
    text.push_str("    bread flour 100%\n    water 70%\n    salt 2%\n");
    if !extra.is_empty() {
        text.push_str(&format!("    olive oil {extra}\n"));
    }
    for (index, stage) in stages.iter().enumerate().filter(|(_, stage)| !stage.used.is_empty()) {
        text.push_str(&format!("    {} {}\n", STAGES[index], stage.used));
    }
    text.push_str("  }\n");
    for (index, stage) in stages.iter().enumerate() {
        text.push_str(&format!("  build {} {{\n", STAGES[index]));
        let size = [("", stage.size), ("loses ", stage.loses), ("", stage.save)];
        for (word, line) in size.into_iter().chain([("feeds ", stage.feeds)]) {
            if !line.is_empty() {
                // `at least` says of what, here of the whole stage.
                let own = if line == "at least 2 kg" { STAGES[index] } else { "" };
                text.push_str(&format!("    {word}{line} {own}\n"));
            }
        }
        text.push_str(&format!("    bread flour {}\n    water {}\n", stage.flour, stage.water));
        if !stage.culture.is_empty() {
            text.push_str(&format!("    white culture {}\n", stage.culture));
        }
        if index > 0 && !stage.inner.is_empty() {
            text.push_str(&format!("    {} {}\n", STAGES[index - 1], stage.inner));
        }
        text.push_str("  }\n");
    }
    text.push_str("}\n");
    text
}

/// What does not add up in a formula worked out, in words.
fn out_of_balance(
    worked: &Worked,
    house: &assize::testing::formula::House,
    exact: bool,
) -> Option<String> {
    let numbers = worked.first();
    let sum = |lines: &[WorkedLine]| lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
    let whole = numbers.whole.mass();
    if sum(&numbers.dough_lines) != whole {
        return Some(format!("the dough: {} is not {whole}", sum(&numbers.dough_lines)));
    }
    let all = numbers.stages.iter().flat_map(|stage| &stage.lines).chain(&numbers.dough_lines);
    if let Some(line) = all.clone().find(|line| line.mass < Exact::ZERO) {
        return Some(format!("`{}` weighs {}", line.name, line.mass));
    }
    let contents = numbers.stages.iter().map(|stage| &stage.goes_on).chain([&numbers.whole]);
    if contents.flat_map(Composition::iter).any(|(_, mass)| *mass < Exact::ZERO) {
        return Some("less than nothing goes on".into());
    }
    for (index, stage) in numbers.stages.iter().enumerate() {
        let planned = sum(&stage.lines);
        let kept = worked.kept_back(numbers, index);
        let loses = worked.formula.stages[index].loses.as_ref();
        let lost = loses.map_or(Exact::ZERO, |loses| &loses.number * ratio(1, 100) * &planned);
        let saved = &stage.saved;
        let on = &planned - &kept - &lost - saved;
        let loses_as_written = exact || loses.is_none();
        if loses_as_written && on != stage.goes_on.mass() {
            let goes = stage.goes_on.mass();
            return Some(format!(
                "stage {index}: {planned} − {kept} − {lost} − {saved} is not {goes}"
            ));
        }
        let declared = &worked.formula.stages[index];
        let weighs = declared.sizes.iter().any(|size| matches!(size.size, Size::Weighs(_)));
        if weighs && exact && declared.at_least.is_empty() && stage.made != int(900) {
            return Some(format!("stage {index}: {} are made, not 900 g", stage.made));
        }
        let used = all.clone().filter(|line| line.goes == LineRef::Stage(index));
        let used = used.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        let left = numbers.left_over.iter().filter(|(stage, _)| *stage == index);
        let left = left.fold(Exact::ZERO, |sum, (_, mass)| sum + mass);
        let unused = used.is_zero() && left.is_zero();
        if !unused && &used + &left != stage.goes_on.mass() {
            return Some(format!("stage {index}: {used} are used and {left} left of {on}"));
        }
    }
    // What is in the dough is what its lines bring, substance by substance.
    let mut brought = Composition::default();
    for line in &numbers.dough_lines {
        match line.goes {
            LineRef::Ingredient(id) => brought.add(Substance::Ingredient(id), line.mass.clone()),
            LineRef::Culture(id) => brought.add_all(&house.culture(id).per_gram, &line.mass),
            LineRef::Stage(stage) => {
                if let Some(per_gram) = numbers.stages[stage].goes_on.per_gram() {
                    for (substance, share) in per_gram.iter() {
                        let mass = share * &line.mass;
                        match substance {
                            // Seed that comes this far is in the bread.
                            Substance::Kept(id) => {
                                brought.add_all(&house.culture(id).per_gram, &mass);
                            }
                            _ => brought.add(substance, mass),
                        }
                    }
                }
            }
            _ => {}
        }
    }
    let is_same = |(substance, mass): (Substance, &Exact)| {
        brought.get(substance).cloned().unwrap_or_default() == *mass
    };
    (!numbers.whole.iter().all(is_same)).then(|| "the dough is not what its lines bring".into())
}

fn masses(worked: &Worked) -> Vec<Exact> {
    let numbers = worked.first();
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    stages.chain(&numbers.dough_lines).map(|line| line.mass.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn scaling_by_k_and_back_is_identity(made in made(), k in 1..50u32) {
        let text = made.text();
        let loaded = loaded(&text);
        let bakehouses = desk::bakehouses(&loaded);
        let (house, formula) = (&bakehouses[0].house, &bakehouses[0].files[0].tree.formulas[0]);
        let own = work(house, formula, &mut Vec::new());
        let makes = |dough: u32| {
            let text = format!("{dough} g dough");
            let (makes, findings) = syntax::read_makes(SourceId::default(), &text);
            assert!(findings.is_empty());
            makes.expect("a yield")
        };
        let large = work_as(house, formula, &makes(made.dough * k), &mut Vec::new());
        let back = work_as(house, formula, &makes(made.dough), &mut Vec::new());
        let factor = int(i64::from(k));
        let scaled: Vec<Exact> = masses(&own).iter().map(|mass| mass * &factor).collect();
        prop_assert_eq!(masses(&large), scaled);
        prop_assert_eq!(masses(&back), masses(&own));
    }

    #[test]
    fn total_is_stages_and_dough_ingredient_by_ingredient(made in made()) {
        let sums_agree = with_worked(&made.text(), |bakehouse, worked| {
            let numbers = worked.first();
            let mut sum = Composition::default();
            for stage in &numbers.stages {
                sum.add_all(&stage.goes_on, &Exact::ONE);
            }
            for line in &numbers.dough_lines {
                if let Some(id) = bakehouse.house.ingredient_id(&line.key) {
                    sum.add(Substance::Ingredient(id), line.mass.clone());
                }
            }
            numbers
                .whole
                .iter()
                .all(|(substance, mass)| sum.get(substance).cloned().unwrap_or_default() == *mass)
                && sum.mass() == numbers.whole.mass()
                && sum.mass() == int(i64::from(made.dough))
        });
        prop_assert!(sums_agree);
    }

    /// What is made of a stage is what goes on, what is kept back and what is saved.
    #[test]
    fn a_stage_of_a_given_weight_balances(
        weighs in 500..3000u32, save in 0..200u32, culture in 0..500u32, water in 500..1250u32
    ) {
        let save_line = if save == 0 { String::new() } else { format!("save {save} g; ") };
        let text = format!(
            "formula some-loaf \"Some Loaf\" {{\n  makes 10 kg dough\n  total {{ bread flour 100%; water 70%; salt 2% }}\n  preferment levain {{ weighs {weighs} g; {save_line}bread flour 100%; water {}%; white culture {}% kept back }}\n}}\n",
            tenths(water), tenths(culture)
        );
        let balances = with_worked(&text, |_, worked| {
            let numbers = worked.first();
            let stage = &numbers.stages[0];
            let parts = worked.kept_back(numbers, 0) + &stage.saved + stage.goes_on.mass();
            stage.made == int(i64::from(weighs))
                && parts == stage.made
                && stage.into_dough == stage.goes_on.mass()
                && numbers.whole.mass() == int(10_000)
        });
        prop_assert!(balances, "{}", text);
    }

    /// The final dough of a total, written as a `dough` block with the same stage, has
    /// the same total.
    #[test]
    fn total_form_and_dough_form_of_one_formula_agree(made in made()) {
        let (dough, whole) = with_worked(&made.text(), |_, worked| {
            let numbers = worked.first();
            let lines: String = numbers.dough_lines.iter().map(|line| {
                // In parts of a gram, so that no mass needs a long number.
                format!("    {} {}\n", line.name, parts(&line.mass, &numbers.basis))
            }).collect();
            (lines, numbers.whole.clone())
        });
        let text = format!(
            "formula some-loaf \"Some Loaf\" {{\n  makes {} g dough\n  dough {{\n{dough}  }}\n  preferment levain {{\n    bread flour 100%\n    water {}%\n    white culture {}%\n  }}\n}}\n",
            made.dough, tenths(made.levain_water), tenths(made.culture)
        );
        let same = with_worked(&text, |_, worked| {
            worked.first().whole.iter().all(|(substance, mass)| whole.get(substance) == Some(mass))
                && worked.first().whole.mass() == whole.mass()
        });
        prop_assert!(same, "{}", text);
    }

    #[test]
    fn rounding_keeps_the_total_and_moves_no_line_by_a_step(
        weights in prop::collection::vec((1..5_000_000i64, 1..97i64), 1..25)
    ) {
        let weights: Vec<Exact> = weights.iter().map(|(above, below)| ratio(*above, *below)).collect();
        let scale = Scale::new(vec![
            ScaleStep { step: int(5), above: Some(int(1000)), below: None },
            ScaleStep { step: int(1), above: None, below: None },
            ScaleStep { step: ratio(1, 10), above: None, below: Some(int(20)) },
        ]);
        let sum = |all: &[Exact]| all.iter().fold(Exact::ZERO, |sum, weight| sum + weight);
        let target = to_step(&sum(&weights), &ratio(1, 10));
        let column = column(&scale, &weights, &target);
        let shown: Vec<Exact> = column.lines.iter().map(|line| line.grams.clone()).collect();
        let mut coarsest = Exact::ZERO;
        for (line, weight) in weights.iter().enumerate() {
            let step = scale.resolution(weight);
            prop_assert!(shown[line].is_multiple_of(&step));
            let moved = &shown[line] - weight;
            prop_assert!(moved.clone().max(-moved) < step);
            coarsest = coarsest.max(step);
        }
        prop_assert_eq!(&sum(&shown), &column.sum.grams);
        let off = &column.sum.grams - &target;
        prop_assert!(off.clone().max(-off) <= coarsest * ratio(1, 2));
        // Equal weights show the same where nothing has to give way for the sum.
        for (line, weight) in weights.iter().enumerate() {
            let same = weights.iter().position(|other| other == weight).unwrap_or(line);
            prop_assert!(shown[line] == shown[same] || column.sum.grams == target);
        }
    }

    #[test]
    fn reading_never_panics_on_any_text(text in "\\PC{0,200}") {
        let _ = syntax::read(SourceId::default(), &text);
    }

    #[test]
    fn reading_never_panics_on_the_languages_own_pieces(
        pieces in prop::collection::vec(prop::sample::select(PIECES), 0..60)
    ) {
        let text: String = pieces.concat();
        let loaded = loaded(&text);
        let _ = desk::check(&loaded);
    }
}

const PIECES: &[&str] = &[
    "formula a \"A\" {",
    "total {",
    "dough {",
    "preferment levain {",
    "}",
    "\n",
    ";",
    " ",
    "bread flour ",
    "water ",
    "salt ",
    "levain ",
    "100%",
    "20 g",
    "1/3 cup",
    "3h..4h",
    "80 – 90%",
    "ferments 20% of flour",
    "makes 2 loaves at 900 g",
    "method {",
    "mix 5min with ",
    "bake 20min at 250C then 3min",
    "expect {",
    "hydration ",
    "in levain ",
    "±",
    "1%",
    "\"text [water in levain]",
    "\"",
    "#c",
    "all",
    "the rest",
    "é",
    "🍞",
    "\t",
    "\r\n",
    "from b",
    "without ",
    "kept back",
    "of base dough",
    "piece {",
    "culture c {",
    "ingredient i is a flour {",
    "like ",
    "1h30",
    "..",
    ",",
    "old dough ",
    "feeds 3 times",
    "save 5 g",
];

/// A mass as a percentage of the added flour, exactly.
fn parts(mass: &Exact, basis: &Exact) -> String {
    let share = over(mass, basis) * int(100);
    format!("{}/{}%", share.numerator(), share.denominator())
}

/// Found by the property below: of a stage of which nothing is made nothing can be saved.
#[test]
fn nothing_is_saved_of_nothing() {
    let text = "formula some-loaf \"Some Loaf\" {
  dough { bread flour 100%; water 70%; salt 2%; second sour 300 g }
  build first sour { save 50 g; bread flour 100%; water 100%; white culture 30% kept back }
  build second sour { bread flour 100%; water 300 g; white culture 30% kept back; first sour 30% }
}
";
    assert!(names(text).contains(&"size-given-twice"), "{:?}", names(text));
}

/// Every gram that goes in comes out somewhere, or an error says why not.
#[test]
fn what_goes_in_is_what_comes_out() {
    let cases = 1000;
    let config = ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(cases) };
    let extra = ["", "4% of dough", "3% of base dough", "5% of added flour"];
    let made = (
        any::<bool>(),
        prop::collection::vec(made_stage(), 1..4),
        any::<bool>(),
        prop::sample::select(extra.to_vec()),
    );
    let sound = Cell::new(0);
    let judged = TestRunner::new(config).run(&made, |(total, stages, makes, extra)| {
        let text = text_of(total, &stages, makes, extra);
        let loaded = loaded(&text);
        let bakehouses = desk::bakehouses(&loaded);
        let (house, formula) = (&bakehouses[0].house, &bakehouses[0].files[0].tree.formulas[0]);
        let mut findings = Vec::new();
        let worked = work(house, formula, &mut findings);
        if worked.sound {
            sound.set(sound.get() + 1);
            // Where the total is rounded, a stage has less than its own amounts say.
            let exact = findings.iter().all(|said| said.rule.name != "stage-takes-more-than-total");
            let off = out_of_balance(&worked, house, exact);
            prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
        }
        Ok(())
    });
    if let Err(off) = judged {
        panic!("{off}");
    }
    // About one in four of them can be mixed at all.
    assert!(sound.get() > cases / 8, "only {} of {cases} were sound", sound.get());
}
