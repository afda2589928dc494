//! What the reader keeps, and what it says, on whole files.

use super::*;
use crate::quantity::{Unit, int, ratio};
use crate::syntax::tree::*;

const FILE: SourceId = SourceId(SourceId::ASKED.0 + 1);

/// Rule and message of each finding.
fn said(text: &str) -> Vec<String> {
    let (_, findings) = read(FILE, text);
    findings.iter().map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect()
}

/// The tree of a text that has no findings.
fn clean(text: &str) -> Tree {
    let (tree, findings) = read(FILE, text);
    let messages: Vec<_> = findings.iter().map(|finding| &finding.message).collect();
    assert!(findings.is_empty(), "{messages:?} in {text}");
    tree
}

fn formula(inside: &str) -> Formula {
    let mut tree = clean(&format!("formula quay-loaf \"Quay Loaf\" {{\n{inside}\n}}\n"));
    tree.formulas.pop().expect("a formula")
}

/// The lines of a `dough` block.
fn lines(inside: &str) -> Vec<Line> {
    formula(&format!("dough {{\n{inside}\n}}")).dough.expect("a dough").lines
}

fn step(line: &str) -> Step {
    formula(&format!("method {{\n{line}\n}}")).method.expect("a method").steps.remove(0)
}

/// The only finding of a text.
fn only(text: &str) -> Finding {
    let (_, mut findings) = read(FILE, text);
    let messages: Vec<_> = findings.iter().map(|finding| &finding.message).collect();
    assert_eq!(findings.len(), 1, "{messages:?} in {text}");
    findings.remove(0)
}

/// The text after the repair of its only finding.
fn repaired(text: &str) -> String {
    let repair = only(text).repair.expect("a repair");
    let mut text = text.to_owned();
    text.replace_range(repair.span.range(), &repair.text);
    text
}

fn in_line(line: &str) -> String {
    format!("formula a {{\n  dough {{\n    {line}\n  }}\n}}\n")
}

fn in_step(step: &str) -> String {
    format!("formula a {{\n  method {{\n    {step}\n  }}\n}}\n")
}

fn value(amount: &Amount) -> (crate::quantity::Exact, Unit) {
    match amount {
        Amount::Measured { range, .. } => {
            let low = range.low.clone().expect("a low end");
            (low.number, low.unit)
        }
        other => panic!("{other:?} is no measured amount"),
    }
}

// ---- What reads without a finding ----

#[test]
fn a_bakehouse_with_all_its_settings() {
    let tree = clean(
        r#"bakehouse "Gullhaven Bakehouse" {
  language  en
  units     metric            # or US
  measures  US
  currency  EUR
  room      21C
  zone      America/New_York
  flour     19C; tap 12C
  scale     5 g above 1 kg, 1 g, 0.1 g below 20 g
  hours     03:30..13:00, 18:30..20:00, 22:00..02:00
  mixer spiral   { holds 3 kg..28 kg; friction 11C }
  oven  deck     { holds 24 loaves, 120 rolls }
  tin   chandler { holds 2.4 l; 3.2 ml per g }
  logo      "logo.svg"
  paper     A5
}
tin lighter { holds 1.6 l }
"#,
    );
    let house = &tree.bakehouses[0];
    assert!(house.us_measures && house.units == crate::quantity::Units::default());
    assert_eq!(house.zone.as_ref().map(|(zone, _)| zone.as_str()), Some("America/New_York"));
    let all = |(from, to)| Open { days: Weekdays::ALL, from, to, hands: 1 };
    assert_eq!(house.hours, [(210, 780), (1110, 1200), (1320, 120)].map(all));
    assert_eq!(house.scale.len(), 3);
    assert_eq!(house.machines.len(), 3);
    assert_eq!(house.machines[1].holds.len(), 2);
    assert_eq!(house.temperatures.len(), 3);
    assert_eq!(house.settings[0].1, "logo.svg");
    assert_eq!(tree.machines.len(), 1);
}

#[test]
fn a_whole_formula() {
    let tree = clean(
        r#"# The loaf of the quay.
formula quay-loaf "Quay Loaf" from harbour-loaf {
  style      hearth sourdough
  makes      24 loaves at 900 g
  bake loss  13%
  make-up loss 2%
  headnote   "Baked for the boats. [water in levain] goes into the levain, [50 g of water] stays."
  equipment  "A blade."; storage "In a cloth."; source "invented"
  allow salt-high "brine on the crust"
  without poolish
  total {
    bread flour        80%
    whole wheat flour  15%
    water              74%              # all of it
    salt                2.1%
  }
  preferment levain {
    ferments  18% of flour
    bread flour  50%; whole wheat flour 50%
    water       100%
    rye culture  20%
    ripens  8h..10h at 22C then 12h at 4C; keeps 2h
    method { feed 10min with rye culture, water, flours }
  }
  preferment house levain
  piece { sesame 5 g; butter as needed }
  piece rolls { bake loss 18%; poppy seeds 2 g }
  mixture egg wash { whole egg 10 parts; whole milk 1 part }
  method {
    autolyse  40min with flours, 90% of water
    mix       6min with levain, salt,
              remaining water to 25C
    bulk      3h..4h at 25C fold 3 times every 40min until volume 1.5x
    preshape
    bake      22min { at 250C steamed; then 20min at 230C vented; note "Deep brown." }
    cool      1h..2h
  }
  expect { hydration 74%; elapsed 23h..36h }
}
"#,
    );
    let formula = &tree.formulas[0];
    assert!(!formula.broken);
    assert_eq!(formula.name.key, "quay-loaf");
    assert_eq!(formula.from.as_ref().map(|name| name.key.as_str()), Some("harbour-loaf"));
    assert_eq!(formula.total.as_ref().map(|total| total.lines.len()), Some(4));
    assert_eq!(formula.stages.len(), 2);
    assert_eq!(formula.stages[0].ripens.len(), 2);
    assert_eq!(formula.stages[0].mix.lines.len(), 4);
    assert_eq!(formula.pieces.len(), 2);
    let method = formula.method.as_ref().expect("a method");
    assert_eq!(method.steps.len(), 6);
    assert_eq!(method.steps[1].phases[0].with.len(), 3);
    assert_eq!(method.steps[4].phases.len(), 2);
    assert_eq!(method.steps[4].notes.len(), 1);
    assert_eq!(formula.expect.len(), 2);
    assert_eq!(formula.texts.len(), 4);
    assert_eq!(formula.texts[0].text.parts.len(), 5);
}

#[test]
fn every_kind_of_amount() {
    let lines = lines(
        "water (second) 12%
         butter (lamination) 25% of base dough
         milk 350 g..375 g
         pepper to taste; rice flour as needed; bread flour the rest; levain all
         salt 1 pinch; mace a pinch
         butter 8% \"soft\"
         rye culture 20% kept back
         rye culture (ripe) 20% kept back from stage two
         liquid culture 10% not split \"as printed\"
         egg 3
         honey 1 1/2 cups; malt 1½ tsp; oil 3 lb 4 oz
         \"00 flour\" 500 g
         crème fraîche 5 %; yolk 10 parts; juice 8 fl-oz
         Baker’s   sugar 5%",
    );
    let by = |key: &str| lines.iter().find(|line| line.target.name.key == key).expect("a line");
    assert_eq!(by("water").target.role.as_ref().map(|role| role.key.as_str()), Some("second"));
    assert!(matches!(&by("butter").amount, Amount::Measured { base: Some(base), .. }
        if matches!(**base, Base::BaseDough)));
    assert!(matches!(&by("milk").amount, Amount::Measured { range, .. } if range.ranged));
    assert!(matches!(by("pepper").amount, Amount::ToTaste));
    assert!(matches!(by("rice flour").amount, Amount::AsNeeded));
    assert!(matches!(by("bread flour").amount, Amount::Rest));
    assert!(matches!(by("levain").amount, Amount::All));
    assert!(matches!(by("mace").amount, Amount::Pinch));
    assert!(matches!(by("rye culture").counting, Counting::KeptBack { from: None }));
    assert!(matches!(by("liquid culture").counting, Counting::NotSplit));
    assert!(by("liquid culture").note.is_some());
    assert_eq!(value(&by("egg").amount), (int(3), Unit::Count));
    assert_eq!(value(&by("honey").amount), (ratio(3, 2), Unit::Cup));
    assert_eq!(value(&by("malt").amount), (ratio(3, 2), Unit::Teaspoon));
    assert_eq!(value(&by("oil").amount), (int(52), Unit::Ounce));
    assert_eq!(value(&by("00 flour").amount), (int(500), Unit::Gram));
    assert_eq!(by("baker's sugar").target.name.shown, "Baker’s sugar");
}

#[test]
fn bases_of_a_percentage() {
    let lines = lines("a 1% of flour; b 1% of added flour; c 1% of dough; d 1% of levain (ripe)");
    let bases: Vec<_> = lines
        .iter()
        .map(|line| match &line.amount {
            Amount::Measured { base: Some(base), .. } => base.clone(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert!(matches!(*bases[0], Base::Flour));
    assert!(matches!(*bases[1], Base::AddedFlour));
    assert!(matches!(*bases[2], Base::Dough));
    assert!(matches!(&*bases[3], Base::Of(target) if target.role.is_some()));
}

#[test]
fn every_statement_of_a_stage() {
    let tree = clean(
        r#"build second build {
  takes 18% of flour
  feeds 3 times
  at least 20 g rye culture
  save 50 g at 4C
  keeps 24h at 4C
  without water
  note "Warm."
  bread flour 100%
}
soaker seed soaker { stands 3h..16h at 4C; seeds 5 parts; percentages of total; loses 8% }
scald paste { weighs 2 kg; stands 2h }
"#,
    );
    let build = &tree.stages[0];
    assert_eq!(build.feeds.map(|(times, _)| times), Some(3));
    assert_eq!(build.at_least.len(), 1);
    assert_eq!(build.save.len(), 1);
    assert_eq!(build.mix.without.len(), 1);
    assert!(matches!(build.sizes[0].size, Size::OfFlour(_)));
    assert!(matches!(tree.stages[1].sizes[0].size, Size::OfTotal));
    assert!(tree.stages[1].loses.is_some());
    assert!(matches!(tree.stages[2].sizes[0].size, Size::Weighs(_)));
}

#[test]
fn times_temperatures_and_ranges() {
    let time = |text: &str| {
        let extent = step(&format!("bulk {text}")).phases.remove(0).duration.expect("a duration");
        let end = |end: Option<Quantity>| {
            end.map(|end| end.unit.to_base(&end.number, Default::default()))
        };
        (end(extent.low), end(extent.high))
    };
    let range = |low, high| (Some(int(low)), Some(int(high)));
    assert_eq!(time("1h30"), range(90, 90));
    assert_eq!(time("1h 30min"), range(90, 90));
    assert_eq!(time("1d 6h"), range(1800, 1800));
    assert_eq!(time("3..4h"), range(180, 240));
    assert_eq!(time("3-4h"), range(180, 240));
    assert_eq!(time("3 – 4 h"), range(180, 240));
    assert_eq!(time("1h15..1h30"), range(75, 90));
    assert_eq!(time("3h.."), (Some(int(180)), None));
    assert_eq!(time("..4h"), (None, Some(int(240))));
    let falling = step("proof 3h at 27C..23C").phases.remove(0).at.expect("a temperature");
    assert_eq!(falling.low.map(|low| low.number), Some(int(27)));
    let cold = step("freeze 2h at -18C").phases.remove(0).at.expect("a temperature");
    assert_eq!(cold.low.map(|low| low.number), Some(int(-18)));
    let warm = step("proof 2h at 77 °F").phases.remove(0).at.expect("a temperature");
    assert_eq!(warm.low.map(|low| low.unit), Some(Unit::Fahrenheit));
}

#[test]
fn every_clause_of_a_step() {
    let mix = step(
        "mix 6min by hand in spiral speed 2 with levain, 200 g of water, 100 g milk, 90% of oil, remaining salt, flours, everything else to 25C hands-on 2min waiting",
    );
    let phase = &mix.phases[0];
    assert!(phase.says(Flag::ByHand) && mix.waiting && mix.hands_on.is_some());
    assert_eq!(phase.speed.map(|(speed, _)| speed), Some(2));
    assert_eq!(phase.place.as_ref().map(|place| place.key.as_str()), Some("spiral"));
    assert!(matches!(
        phase.with.as_slice(),
        [
            With::Name(_),
            With::Weight(..),
            With::Weight(..),
            With::Share(..),
            With::Remaining(_),
            With::Flours(_),
            With::EverythingElse(_)
        ]
    ));
    let bake = step(
        "bake 22min for rolls at 250C steamed fan covered then 20min vented uncovered until core 96C until volume 2x until pH 3.9 until \"it sounds hollow\" note \"a\" caution \"b\"",
    );
    let says = |phase: usize, flag| bake.phases[phase].says(flag);
    assert!(says(0, Flag::Steamed) && says(0, Flag::Fan) && says(0, Flag::Covered));
    assert!(says(1, Flag::Vented) && says(1, Flag::Uncovered));
    assert_eq!(bake.phases[1].until.len(), 4);
    assert_eq!((bake.notes.len(), bake.cautions.len()), (1, 1));
    let fold = |text: &str| step(text).phases.remove(0).fold.expect("a fold");
    assert_eq!(fold("bulk 3h fold once").times, Some(1));
    assert_eq!(fold("fold 3 times every 40min").times, Some(3));
    assert!(fold("fold 3 times every 40min").every.is_some());
    assert_eq!(fold("laminate 1h fold double").style, Some(FoldStyle::Double));
    assert!(step("fold 5min").phases[0].duration.is_some());
    let own = step("step \"toast the seeds\" 12min waiting");
    assert!(own.text.is_some() && own.waiting);
}

#[test]
fn every_verb_is_a_step() {
    for (word, verb) in Verb::ALL {
        let text = if verb == Verb::Step { " \"brush off the flour\"" } else { "" };
        assert_eq!(step(&format!("{word}{text} 5min")).verb, verb);
    }
}

#[test]
fn every_form_of_yield() {
    let makes = |text: &str| {
        let (makes, findings) = read_makes(FILE, text);
        assert!(findings.is_empty(), "{text}");
        makes.expect("a yield")
    };
    let two = makes("10 boules at 900 g, 24 hot cross buns at 85 g");
    assert_eq!(two.pieces.len(), 2);
    assert_eq!(two.pieces[1].kind.key, "hot cross buns");
    assert!(makes("2 loaves at 780 g baked").pieces[0].baked);
    assert!(makes("40 loaves in chandler").pieces[0].tin.is_some());
    assert!(makes("20 kg dough").dough.is_some());
    assert!(makes("3 lb 4 oz of dough").dough.is_some());
    assert!(makes("from 12.5 kg flour").from.is_some());
    let jar = makes("3 loaves from 400 g levain");
    assert!(jar.from.is_some() && jar.pieces.len() == 1);
    assert_eq!(makes("60 loaves").pieces[0].count.number, int(60));
    assert_eq!(makes("makes 60 loaves").pieces[0].count.number, int(60));
    for bad in [
        "",
        "sixty",
        "60",
        "60 loaves\n20 rolls",
        "60 loaves {",
        "}",
        "\"",
        "20 kg",
        "1,5 kg dough",
    ] {
        let mut told = read_makes(FILE, bad).1;
        let count = told.len();
        told.dedup_by(|one, two| one.span() == two.span() && one.message == two.message);
        assert!(count > 0 && told.len() == count, "{bad:?}");
    }
}

#[test]
fn every_form_of_claim() {
    let claims = formula(
        "expect {
           hydration in levain 100%; dough 1245 g; water in final dough 4 kg
           levain 20% of added flour; pieces 24; elapsed 23h..36h; hands-on 1h
           free from gluten, milk; hydration 74% ± 1%; dough yield in paste 174
           piece baked 580 g; salt as eaten 1.2%; yield 176%; sugar in pieces 4%
           loss ..14%; water (second) 12%; egg 3
         }",
    )
    .expect;
    assert_eq!(claims.len(), 18);
    assert_eq!(claims[0].place.as_ref().map(|place| place.key.as_str()), Some("levain"));
    assert!(matches!(&claims[3].value, ClaimValue::Amount { base: Some(Base::AddedFlour), .. }));
    assert!(matches!(&claims[8].value, ClaimValue::FreeFrom(name) if name.key == "milk"));
    assert!(matches!(&claims[9].value, ClaimValue::Amount { tolerance: Some(_), .. }));
    assert_eq!(claims[12].what.name.key, "salt as eaten");
}

#[test]
fn ingredients_cultures_styles_and_what_comes_later() {
    let (tree, findings) = read(
        FILE,
        r#"ingredient quay hazelnuts is a nut {
  contains   hazelnuts, milk
  water       2%; protein 15.4 %
  sodium      3 mg; energy 650 kcal
  price      14.50 EUR per kg
  volume     1 cup weighs 115 g
  each       1.2 g
  also       "roasted hazelnuts", "filberts"
  called     fr "noisettes grillées"
  source     "invented"
}
ingredient mill flour like whole wheat flour { price 23.50 EUR per 25 kg; contains nothing }
ingredient plain thing
starter quay culture { bread flour 100%; water 100%; note "Smells of apples." }
style quay bread { hydration 65%..82%; salt ..2.3%; yeast as fresh 0%..1%; without leavening; source "house rule" }
day 2026-12-05 "Saturday" { order quay-loaf 60 loaves by 07:00 }
booklet spring { text "x"; answers }
"#,
    );
    let notes: Vec<_> = findings.iter().map(|finding| finding.rule.name).collect();
    assert_eq!(notes, [] as [&str; 0]);
    let nuts = &tree.ingredients[0];
    assert_eq!(nuts.contains.as_ref().map(Vec::len), Some(2));
    assert_eq!((nuts.properties.len(), nuts.also.len(), nuts.called.len()), (4, 2, 1));
    assert!(matches!(&nuts.kind, Some(IngredientKind::Class(name)) if name.key == "nut"));
    assert!(nuts.price.is_some() && nuts.volume.is_some() && nuts.each.is_some());
    assert_eq!(tree.ingredients[1].contains.as_ref().map(Vec::len), Some(0));
    assert_eq!(tree.cultures[0].mix.lines.len(), 2);
    let style = &tree.styles[0];
    assert_eq!((style.bounds.len(), style.without.len(), style.texts.len()), (3, 1, 1));
}

#[test]
fn words_ignore_case_and_line_ends_do_not_matter() {
    let text = "\u{feff}FORMULA quay-loaf {\r\n  Total {\r\n\tBread Flour\u{a0}80\u{202f}%\r\n  }\r\n}\r\n";
    let tree = clean(text);
    assert_eq!(
        tree.formulas[0].total.as_ref().expect("a total").lines[0].target.name.key,
        "bread flour"
    );
}

#[test]
fn escapes_and_figures_in_texts() {
    let texts =
        formula(r#"note "a \"b\" \\ c\n[[d] [salt as eaten] [50 g of water (second)]""#).texts;
    match texts[0].text.parts.as_slice() {
        [
            TextPart::Plain(plain),
            TextPart::Figure { words, ask: Some(first), .. },
            TextPart::Plain(blank),
            TextPart::Figure { ask: Some(second), .. },
        ] => {
            let (
                FigureAsk::Figure { asked: Question { what, place: None, .. }, elsewhere: None },
                FigureAsk::Scaled { amount, what: Some(of), elsewhere: None },
            ) = (&**first, &**second)
            else {
                panic!("{first:?} {second:?}")
            };
            assert_eq!(plain, "a \"b\" \\ c\n[d] ");
            assert_eq!(words, "salt as eaten");
            assert_eq!(what.name.key, "salt as eaten");
            assert_eq!(blank, " ");
            assert_eq!((amount.number.clone(), amount.unit), (int(50), Unit::Gram));
            assert!(of.role.is_some());
        }
        other => panic!("{other:?}"),
    }
}

// ---- What a mistake costs ----

#[test]
fn five_mistakes_are_five_findings_and_cost_nothing_else() {
    let text = r#"formula quay-loaf "Quay Loaf" {
  makes 24 loafs at 900
  total {
    bread flour   80%
    rye flour     20,5%
    water         74%
    salt           2Gx
    cherries in syrup 5%
  }
  method {
    mix    6min with flours, water to 25C
    knaed  10min
    bake   22min at 250C
  }
  expect { hydration 74% }
}
culture quay culture { rye flour 100%; water 100% }
"#;
    assert_eq!(
        said(text),
        [
            "missing-unit: `900` has no unit",
            "decimal-comma: `20,5` has a comma in it",
            "unknown-unit: `Gx` is not a unit",
            "reserved-word: `in` can't be part of a name without quotes",
            "unknown-word: `knaed` is not a verb of a method",
        ]
    );
    let (tree, _) = read(FILE, text);
    let formula = &tree.formulas[0];
    assert!(formula.broken);
    assert_eq!(formula.total.as_ref().expect("a total").lines.len(), 4);
    assert_eq!(formula.method.as_ref().expect("a method").steps.len(), 2);
    assert_eq!(formula.expect.len(), 1);
    assert_eq!(tree.cultures.len(), 1);
}

#[test]
fn what_could_be_read_all_the_same_does_not_break_a_formula() {
    let (tree, findings) = read(FILE, &in_line("figs 20%..10%"));
    assert_eq!(findings.len(), 1);
    assert!(!tree.formulas[0].broken);
    let (tree, _) = read(FILE, &in_line("egg"));
    assert!(tree.formulas[0].broken);
}

#[test]
fn a_missing_brace_is_one_finding_where_it_is_missing() {
    let total = "formula a {\n  total {\n    water 5%\n  preferment quay levain {\n    rye 5%\n  }\n  method {\n    mix 5min\n  }\n}\nformula b { total { salt 2% } }\n";
    let finding = only(total);
    assert_eq!(
        (finding.rule.name, finding.message.as_str()),
        ("unclosed-block", "`total` is not closed")
    );
    let (tree, _) = read(FILE, total);
    assert_eq!(tree.formulas.len(), 2);
    assert_eq!(tree.formulas[0].stages.len(), 1);
    assert!(tree.formulas[0].method.is_some());

    let step = "formula a {\n  method {\n    bake 22min {\n      at 250C\n    cool 1h\n  }\n  expect { salt 2% }\n}\nformula b { total { salt 2% } }\n";
    assert_eq!(only(step).message, "`bake 22min` is not closed");
    let (tree, _) = read(FILE, step);
    assert_eq!(tree.formulas[0].method.as_ref().expect("a method").steps.len(), 2);
    assert_eq!(tree.formulas[0].expect.len(), 1);

    let last = "formula a {\n  expect { salt 2%\n}\nformula b { total { salt 2% } }\n";
    let finding = only(last);
    assert_eq!(finding.message, "`expect` is not closed");
    assert_eq!(finding.labels[1].text, "this looks like the end of `formula a`");
}

#[test]
fn a_block_in_the_wrong_place_is_read_where_it_belongs() {
    let text = "formula a {\n  total {\n    water 5%\n    preferment quay levain { rye 5% }\n    salt 2%\n  }\n}\n";
    assert_eq!(only(text).message, "`preferment` does not belong inside `total`");
    let (tree, _) = read(FILE, text);
    assert_eq!(tree.formulas[0].stages.len(), 1);
    assert_eq!(tree.formulas[0].total.as_ref().expect("a total").lines.len(), 2);
}

#[test]
fn a_misspelt_word_before_a_block_still_opens_it() {
    let (tree, findings) = read(FILE, "fromula a {\n  totl { water 5% }\n}\n");
    assert_eq!(findings.len(), 2);
    assert_eq!(tree.formulas[0].total.as_ref().expect("a total").lines.len(), 1);
}

#[test]
fn braces_too_deep_are_one_finding() {
    for text in [
        "{".repeat(10_000),
        "formula a {".repeat(10_000) + &"}".repeat(9_000),
        "formula a { preferment b { method { mix { at { 5C } } } } } } }".to_owned(),
    ] {
        let (_, findings) = read(FILE, &text);
        let deep = findings.iter().filter(|finding| finding.rule.name == "too-deep").count();
        assert_eq!(deep, 1);
        assert!(findings.iter().all(|finding| finding.rule.name != "unclosed-block"));
        assert!(findings.iter().all(|finding| !finding.message.contains("closes nothing")));
    }
}

#[test]
fn an_unclosed_text_is_one_finding() {
    let text =
        "formula a {\n  note \"one\n  total { water 5% }\n}\nformula b { total { salt 2% } }\n";
    let finding = only(text);
    assert_eq!(finding.message, "the text `\"one…` has no end");
    assert_eq!(finding.span().range(), 19..23);
    let later = "formula a {\n  note \"one\n  note \"two\"\n}\n";
    assert_eq!(only(later).labels[1].text, "or this text should have ended on its first line");
}

#[test]
fn a_comma_that_joins_two_steps_costs_neither() {
    let text = in_step("mix 6min with levain, salt,\n    bulk 3h at 25C");
    assert_eq!(only(&text).message, "nothing comes after this comma");
    let (tree, _) = read(FILE, &text);
    let steps = &tree.formulas[0].method.as_ref().expect("a method").steps;
    assert_eq!(steps.len(), 2);
    assert_eq!(steps[0].phases[0].with.len(), 2);
}

#[test]
fn commas_between_lines_cost_no_line() {
    let text = in_line("bread flour 80%, water 70%,\n    salt 2%");
    assert_eq!(said(&text).len(), 1);
    let (tree, _) = read(FILE, &text);
    assert_eq!(tree.formulas[0].dough.as_ref().expect("a dough").lines.len(), 3);
}

#[test]
fn a_day_that_can_not_be_read_costs_no_formula_after_it() {
    let text =
        "day saturday {\n  order { \"\n  salt salt { { {\n}\nformula a { total { salt 2% } }\n";
    let (tree, findings) = read(FILE, text);
    assert!(!findings.is_empty());
    assert_eq!((tree.days.len(), tree.formulas.len()), (1, 1));
}

#[test]
fn places_are_bytes_of_the_text_as_it_stands() {
    let text = "formula a {\n\ttotal {\r\n\t\tcrème\u{a0}fraîche\t5 % 🍞\r\n\t}\n}\n";
    let finding = only(text);
    assert_eq!(&text[finding.span().range()], "🍞");
}

// ---- Each finding, with its words ----

#[test]
fn lines_that_can_not_be_read_say_why() {
    for (line, message) in [
        ("7 flour 500 g", "reserved-word: the name `7 flour` begins with a digit"),
        ("type 55 flour 80%", "reserved-word: the name `type 55 flour` has a number in it"),
        ("water5%", "malformed-name: a space is missing between name and number in `water5`"),
        ("salt15 g", "malformed-name: a space is missing between name and number in `salt15`"),
        ("milk 3 T", "unknown-unit: `T` is not a unit"),
        ("milk 3 cupz", "unknown-unit: `cupz` is not a unit"),
        ("yeast 1e400 g", "number-too-large: `1e400` is too large a number"),
        (
            "chips 9999999999999999999 g",
            "number-too-large: `9999999999999999999` is too large a number",
        ),
        ("malt 1e3 mg", "malformed-number: `1e3` is written in powers of ten"),
        ("honey 1/0 kg", "division-by-zero: `1/0` divides by zero"),
        ("sugar 1,000 g", "decimal-comma: `1,000` has a comma in it"),
        ("oil", "missing-amount: `oil` has no amount"),
        ("oats 5h", "wrong-kind-of-amount: `5h` is a time, not an amount of an ingredient"),
        ("oats 12:30", "wrong-kind-of-amount: `12:30` is a time of day, not an amount"),
        ("oats 1.2.3 g", "malformed-number: `1.2.3` is not a number"),
        (
            "raisins 20 g of dough",
            "wrong-kind-of-amount: `of dough` comes after an amount that is not a percentage",
        ),
        ("nuts -5%", "amount-impossible: `-5%` is below zero"),
        ("plums 20%..10%", "range-reversed: the range `20%..10%` runs from high to low"),
        ("figs 5 % foo bar", "unexpected-text: `foo bar` does not belong here"),
        ("figs 5% \"a\" \"b\"", "said-twice: `note` is said twice"),
        ("note \"x\"", "misplaced-statement: `note` does not belong among these lines"),
        ("figs 2%..3", "missing-unit: `3` has no unit"),
        ("figs (ripe 5%", "malformed-name: these brackets have no role in them"),
        ("@ 5%", "unexpected-text: `@ 5%` does not belong here"),
        (
            "counts as meal oats",
            "unknown-value: `meal` is not something that an ingredient \
            counts as",
        ),
        ("figs 5% { a }", "misplaced-brace: nothing in braces belongs here"),
    ] {
        assert_eq!(said(&in_line(line)), [message], "{line}");
    }
    assert_eq!(said(&in_line("figs 5%\nfigs 6%")), ["declared-twice: `figs` is declared twice"]);
}

#[test]
fn steps_that_can_not_be_read_say_why() {
    for (step, message) in [
        ("mxi 6min", "unknown-word: `mxi` is not a verb of a method"),
        ("at 25C", "misplaced-statement: `at` is written here without a step"),
        ("mix 6 with levain", "missing-unit: `6` has no unit"),
        ("mix 6min with 90% water", "incomplete-statement: `90% water` lacks an `of`"),
        ("mix 6min wih levain", "unknown-word: a step has no `wih`"),
        ("bulk 1h5", "missing-unit: `5` has no unit"),
        ("bake 22min at 250 degrees", "missing-unit: `250 degrees` does not say which degrees"),
        ("bulk 2h until", "missing-value: expected a value after `until`"),
        ("bulk 4h..3h", "range-reversed: the range `4h..3h` runs from high to low"),
        (
            "rest 20min, covered",
            "misplaced-punctuation: the clauses of a step take no comma between them",
        ),
        ("rest 20min rest 30min", "misplaced-statement: `rest` begins another step"),
        ("bake 22min at 250", "missing-unit: `250` has no unit"),
        ("bake 22min at 20min", "wrong-kind-of-amount: `20min` is a time, not a temperature"),
        ("bake 22min at 250C at 230C", "said-twice: `at` is said twice"),
        (
            "bake 22min until core 90C..95C",
            "wrong-kind-of-amount: expected one value, found the range `90C..95C`",
        ),
        ("bake 22min by oven", "incomplete-statement: `by` is not followed by `hand`"),
        ("mix speed 1.5", "wrong-kind-of-amount: `1.5` is not a whole number"),
        ("mix with", "missing-name: the name of what goes in is missing"),
        ("bulk 1h at -300C", "amount-impossible: `-300C` is colder than anything can be"),
        ("bulk 1h at -460F", "amount-impossible: `-460F` is colder than anything can be"),
        ("fold 3 every 30min", "missing-unit: `3` has no unit"),
        ("step 5min", "missing-value: expected a text after `step`"),
        ("mix note well", "missing-value: expected a text after `note`"),
        ("mix 5min 6min", "said-twice: the duration is said twice"),
    ] {
        assert_eq!(said(&in_step(step)), [message], "{step}");
    }
}

#[test]
fn statements_that_can_not_be_read_say_why() {
    for (statement, message) in [
        ("style quay bread 5%", "unexpected-text: `5%` does not belong here"),
        ("makes 24", "missing-unit: `24` does not say what it counts"),
        ("makes 0", "missing-unit: `0` does not say what it counts"),
        ("makes 0 loaves", "amount-impossible: `0 loaves` leaves nothing to make"),
        ("makes 0 rye loaves at 1 kg", "amount-impossible: `0 rye loaves` leaves nothing to make"),
        ("makes 2.5 loaves", "amount-impossible: `2.5 loaves` can't be made: pieces are whole"),
        ("makes -2 loaves", "amount-impossible: `-2` is below zero"),
        ("makes 2..3 loaves", "wrong-kind-of-amount: expected one value, found the range `2..3`"),
        ("makes 2-3 loaves", "wrong-kind-of-amount: expected one value, found the range `2-3`"),
        ("makes 2.. loaves", "wrong-kind-of-amount: expected one value, found the range `2..`"),
        ("makes 20 kg", "not-a-yield: `20 kg` does not say of what"),
        ("makes 12.5 kg flour", "not-a-yield: `12.5 kg flour` is not a dough"),
        ("makes 30%", "not-a-yield: `30%` is neither a weight nor a number of pieces"),
        ("bake loss 13", "missing-unit: `13` has no unit"),
        ("bake loss 13%; bake loss 14%", "said-twice: `bake loss` is said twice"),
        (
            "hydration 74%",
            "misplaced-statement: `hydration 74%` is written directly in the \
            formula",
        ),
        ("total { a 1% }; total { b 1% }", "declared-twice: `total` is declared twice"),
        ("soaker b; soaker b", "declared-twice: `b` is declared twice"),
        ("total", "missing-value: expected braces after `total`"),
        ("total\n{ a 1% }", "misplaced-brace: this `{` is on a line by itself"),
        ("build { a 1% }", "missing-name: the name of the build is missing"),
        ("preferment flours { a 1% }", "reserved-word: `flours` has a meaning of its own"),
        ("preferment b { ferments 18% }", "missing-unit: `18%` does not say of what"),
        (
            "preferment b { ferment 18% of flour }",
            "unknown-word: this line, which begins with `ferment`, can't be read",
        ),
        ("preferment b { ripnes 8h at 20C }", "unknown-word: a stage has no `ripnes 8h at 20C`"),
        ("preferment b { stands 3h }", "misplaced-statement: a preferment ripens; it never stands"),
        ("soaker b { ripens 3h }", "misplaced-statement: a soaker stands; it never ripens"),
        ("build b { feeds 3 }", "missing-unit: `3` does not say what it counts"),
        ("build b { keeps 3h; keeps 4h }", "said-twice: `keeps` is said twice"),
        ("expect { hydration 74 }", "missing-unit: `74` has no unit"),
        ("expect { hydration }", "missing-amount: `hydration` has no amount"),
        ("expect { elapsed 20% }", "wrong-kind-of-amount: `20%` is a percentage, not a time"),
        ("expect { hydration 74% ± 1 }", "missing-unit: `1` has no unit"),
        ("note \"[see]\"; note \"[5 g\"", "not-a-figure: this `[` has no `]`"),
        ("note \"[1..2..3]\"", "wrong-kind-of-amount: expected one value, found the range `1..2`"),
        ("note here and there", "missing-value: expected a text after `note`"),
    ] {
        assert_eq!(said(&format!("formula a {{\n{statement}\n}}\n")), [message], "{statement}");
    }
    assert_eq!(said("}\n"), ["misplaced-brace: this `}` closes nothing"]);
    assert_eq!(said("salt 2%\n"), ["unknown-word: a file has no `salt`"]);
    assert_eq!(
        said("formula \"Quay Loaf\"\n"),
        ["missing-name: this formula has a title but no name"]
    );
    assert_eq!(
        said("formula quay loaf\n"),
        ["malformed-name: `quay loaf` is not a name for a formula"]
    );
}

#[test]
fn the_house_and_its_ingredients_say_why_too() {
    for (inside, message) in [
        ("units metrc", "unknown-value: `metrc` is not a choice for `units`"),
        ("room 21", "missing-unit: `21` has no unit"),
        (
            "scale 5 g above 1 kg",
            "incomplete-statement: no step of the scale is without `above` or `below`",
        ),
        ("hours 3..13", "malformed-hours: `3` is not a time of day"),
        ("hours 03:30", "malformed-hours: the end of these hours is missing"),
        ("hours mon..fr 06:00..22:00", "malformed-hours: `fr` is not a weekday"),
        ("hours mon..fri", "malformed-hours: a time of day is missing"),
        (
            "hours 06:00..22:00, sat 08:00..23:00",
            "malformed-hours: the hours before this weekday don't say which days they are for",
        ),
        ("rom 21C", "unknown-word: a bakehouse has no `rom`"),
        ("room 21C; room 22C", "said-twice: `room` is said twice"),
        ("tin b { 3.2 ml }", "incomplete-statement: `3.2 ml` does not say per what"),
        ("tin b { hold 3 l }", "unknown-word: a tin has no `hold`"),
    ] {
        assert_eq!(said(&format!("bakehouse {{ {inside} }}\n")), [message], "{inside}");
    }
    for (inside, message) in [
        ("proten", "unknown-word: an ingredient has no `proten`"),
        ("protein 12", "missing-unit: `12` has no unit"),
        ("price 14 per kg", "missing-unit: `14` has no currency"),
        ("price 14 EUR", "incomplete-statement: `price 14 EUR` does not say for how much"),
        (
            "volume 1 cup 12 g",
            "incomplete-statement: `volume 1 cup 12 g` does not say what it weighs",
        ),
        ("called \"x\"", "unknown-value: `\"x\"` is not a name in another language"),
        ("fat 1%; fat 2%", "said-twice: `fat` is said twice"),
    ] {
        assert_eq!(said(&format!("ingredient a {{ {inside} }}\n")), [message], "{inside}");
    }
    assert_eq!(
        said("ingredient a is a nut like b\n"),
        ["said-twice: an ingredient either is of a class or is like another"]
    );
}

// ---- Repairs ----

#[test]
fn repairs_write_what_was_meant() {
    for (line, mended) in [
        ("salt 2,1%", "salt 2.1%"),
        ("salt 1,250,000 mg", "salt 1250000 mg"),
        ("water5%", "water 5%"),
        ("cherries in syrup 20%", "\"cherries in syrup\" 20%"),
        ("7 flour 500 g", "\"7 flour\" 500 g"),
        ("plums 20..10%", "plums 10..20%"),
        ("malt 1.5e3 mg", "malt 1500 mg"),
    ] {
        assert_eq!(repaired(&in_line(line)), in_line(mended));
        clean(&in_line(mended));
    }
    for (step, mended) in [
        ("mix with 90% water", "mix with 90% of water"),
        ("bake 22min at 24..26", "bake 22min at 24..26C"),
        ("rest 20min,covered", "rest 20min covered"),
    ] {
        assert_eq!(repaired(&in_step(step)), in_step(mended));
        clean(&in_step(mended));
    }
}

#[test]
fn safe_repairs_are_marked_and_guesses_are_not() {
    let is_safe = |text: String| only(&text).repair.is_some_and(|repair| repair.safe);
    assert!(is_safe(in_line("salt 2,1%")));
    assert!(!is_safe(in_step("bake 22min at 250")));
    assert!(!is_safe(in_step("bake 22min at 250 degrees")));
    assert!(!is_safe(in_line("milk 3 T")));
}

/// What is read of a text, said and reworded.
fn all_of(text: &str) -> (String, Vec<String>, String) {
    let (tree, findings) = read(FILE, text);
    let told =
        |it: &Finding| format!("{} {:?} {} {:?}", it.rule.name, it.span(), it.message, it.help);
    (
        format!("{tree:?}"),
        findings.iter().map(told).collect(),
        format!("{:?}", read_text(FILE, text).rewordings),
    )
}

fn reads_alike_the_long_way(text: &str) {
    let plainly = all_of(text);
    let long = super::plain::off::the_long_way(|| all_of(text));
    assert_eq!(plainly, long, "{text}");
}

/// Files of ours, whole and with each of their lines by itself.
#[test]
#[allow(clippy::disallowed_methods, reason = "a test reads its own files")]
fn plain_amounts_of_files_are_read_as_the_long_way_reads_them() {
    let top = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut count = 0;
    for folder in
        ["examples/gullhaven", "tests/breads", "tests/sound", "tests/prints", "tests/published"]
    {
        for entry in walkdir(&top.join(folder)) {
            let text = std::fs::read_to_string(&entry).expect("readable");
            reads_alike_the_long_way(&text);
            count += 1;
        }
    }
    assert!(count > 40, "{count}");
    let words = std::fs::read_to_string(top.join("tests/words/first-words.txt")).expect("readable");
    for line in words.lines() {
        reads_alike_the_long_way(&in_line(line));
        reads_alike_the_long_way(&in_step(line));
    }
}

#[allow(clippy::disallowed_methods, reason = "a test reads its own files")]
fn walkdir(folder: &std::path::Path) -> Vec<std::path::PathBuf> {
    let entries =
        std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("there").path());
    let mut all = Vec::new();
    for entry in entries {
        match entry.is_dir() {
            true => all.extend(walkdir(&entry)),
            false if entry.extension().is_some_and(|it| it == "dough") => all.push(entry),
            false => {}
        }
    }
    all
}

/// Amounts beside all that may stand before and after them.
#[test]
fn plain_amounts_are_read_as_the_long_way_reads_them_wherever_they_stand() {
    let amounts = [
        "20min",
        "1h",
        "3h..4h",
        "4h..3h",
        "3h .. 4h",
        "10min..1h",
        "0min",
        "007min",
        "1.5h",
        "1.50h",
        "1.5min",
        "999d",
        "24C",
        "24C..26C",
        "26C..24C",
        "-4C",
        "250C",
        "75F",
        "500g",
        "500 g",
        "1000g",
        "1.25kg",
        "1.250kg",
        "72%",
        "72.5%",
        "72.55%",
        "72.555%",
        "0%",
        "5ml",
        "1/2h",
        "3..4h",
        "2",
        "20min.",
    ];
    let after = [
        "",
        " covered",
        " at 4C",
        " at 4C..6C",
        " at least 1h",
        " at room temperature",
        " in fridge",
        " with salt",
        " with everything else",
        " until doubled",
        " until core 96C",
        " fold 3 times",
        " fold once every 30min",
        " to 25C",
        " to 2h",
        " or more",
        " or so",
        " per 20 loaves",
        " per side",
        " note \"x\"",
        " then 10min at 200C",
        " speed 2",
        " on speed 2",
        " at speed 2",
        "; cool 1h",
        ", 10min",
        "/75F",
        " (75F)",
        " x 2",
        " bread flour",
        " of flour",
        " of dough",
        " kept back",
        " 30min",
        "+",
        " more",
        " approx",
        " fan",
        " steamed",
        " vented",
        " uncovered",
        " with a lid",
        " in the oven",
        " # x",
        " and 5min",
        " and cover",
        " - 2h",
        "–2h",
    ];
    let before =
        ["", "at ", "for ", "about ", "up to ", "at least ", "to ", "with salt ", "covered "];
    for amount in amounts {
        for after in after {
            for before in before {
                let clause = format!("{before}{amount}{after}");
                for verb in ["mix", "bulk", "bake", "fold", "score", "knead", "cool"] {
                    reads_alike_the_long_way(&in_step(&format!("{verb} {clause}")));
                }
                reads_alike_the_long_way(&in_line(&format!("bread flour {clause}")));
            }
            reads_alike_the_long_way(&in_line(&format!("{amount}{after} bread flour")));
            let stage = format!(
                "levain l {{ ferments {amount}{after}; bread flour {amount}; ripens {amount}{after} }}"
            );
            reads_alike_the_long_way(&format!(
                "formula a {{\n  {stage}\n  expect {{ hydration {amount}{after} }}\n}}\n"
            ));
            let house = format!(
                "bakehouse \"A\" {{ room {amount}{after}; scale {amount}{after}; mixer s {{ holds {amount}..{amount}{after} }} }}"
            );
            reads_alike_the_long_way(&format!("{house}\n"));
            let ingredient = format!(
                "ingredient x is a flour {{ water {amount}{after}; price 1 EUR per {amount}{after}; protein {amount} }}"
            );
            reads_alike_the_long_way(&format!("{ingredient}\n"));
        }
    }
}

/// The last of several rises before the oven is the proof, though nobody says that it is shaped.
#[test]
fn the_last_of_several_rises_is_the_proof() {
    let verbs = |method: &str| -> Vec<Verb> {
        let formula = formula(&format!("method {{ {method} }}"));
        formula.method.expect("a method").steps.iter().map(|step| step.verb).collect()
    };
    use Verb::*;
    for (method, wanted) in [
        ("mix; rise 1h; prove 45min; bake 40min", vec![Mix, Bulk, Proof, Bake]),
        ("mix; rise 1h; rise 45min; rise 30min; bake 40min", vec![Mix, Bulk, Bulk, Proof, Bake]),
        ("mix; rise 1h; bake 40min", vec![Mix, Bulk, Bake]),
        ("mix; rise 1h; mix 2min; rise 1h; bake 40min", vec![Mix, Bulk, Mix, Proof, Bake]),
        (
            "mix; rise 2h; rise 1h; shape; rise 1h; bake 40min",
            vec![Mix, Bulk, Bulk, Shape, Proof, Bake],
        ),
        (
            "mix; rise 2h; rise 1h; divide; rise 1h; bake 40min",
            vec![Mix, Bulk, Bulk, Divide, Proof, Bake],
        ),
        ("mix; rise 2h; rise 1h; proof 1h; bake 40min", vec![Mix, Bulk, Bulk, Proof, Bake]),
    ] {
        assert_eq!(verbs(method), wanted, "{method}");
    }
}
