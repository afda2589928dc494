//! One dough has one number: rows, columns, heads and forms of every print agree to the
//! last shown digit.

use crate::support::{dough_files, loaded};
use assize::testing::desk;
use assize::testing::diag::Level;
use assize::testing::formula::{work, work_as};
use assize::testing::print::document::{Document, LineKind, LinePart, MixPart, Weight};
use assize::testing::print::{Wording, csv, document, text};
use assize::testing::quantity::display::Scale;
use assize::testing::quantity::{Exact, int, ratio, read_number};
use assize::testing::source::SourceId;
use assize::testing::syntax::read_makes;
use std::collections::BTreeMap;

/// Grams, from what is shown of a weight in metric or US units.
fn grams(shown: &str, unit: &str) -> Exact {
    let number = |text: &str| read_number(text.trim()).unwrap_or_else(|_| panic!("{text}")).value;
    let ounce = ratio(45_359_237, 1_600_000);
    match unit {
        "g" => number(shown),
        "kg" => number(shown) * int(1000),
        "oz" => match shown.split_once(" lb") {
            Some((pounds, ounces)) => {
                let ounces = if ounces.trim().is_empty() { int(0) } else { number(ounces) };
                (number(pounds) * int(16) + ounces) * ounce
            }
            None => number(shown) * ounce,
        },
        other => panic!("{other}"),
    }
}

fn first(weight: &Weight) -> Exact {
    grams(&weight.shown, &weight.unit)
}

fn second(weight: &Weight) -> Exact {
    let beside = weight.beside.as_ref().unwrap_or_else(|| panic!("both systems"));
    grams(&beside.shown, &beside.unit)
}

fn exact(weight: &Weight) -> Exact {
    let digit = |digit: char| Exact::from(digit.to_digit(10).expect("digits"));
    let whole = |text: &str| text.chars().fold(int(0), |sum, next| sum * int(10) + digit(next));
    match weight.grams.split_once('/') {
        Some((above, below)) => crate::support::over(whole(above), whole(below)),
        None => read_number(&weight.grams).unwrap_or_else(|_| panic!("{}", weight.grams)).value,
    }
}

type Read = fn(&Weight) -> Exact;

fn weights(lines: &[LinePart]) -> impl Iterator<Item = &Weight> {
    lines.iter().filter_map(|line| line.weight.as_ref())
}

fn sum(lines: &[LinePart], read: Read) -> Exact {
    weights(lines).fold(Exact::ZERO, |sum, weight| sum + read(weight))
}

/// What does not agree in a document, in words.
fn slips(document: &Document, read: Read) -> Vec<String> {
    let mut slips = Vec::new();
    let mut same = |what: &str, one: Exact, two: Exact| {
        if one != two {
            slips.push(format!("{what}: {one} and {two}"));
        }
    };
    same("total", sum(&document.total, read), read(&document.total_sum));
    for mix in document.mixes.iter().filter(|mix| mix.kind != "mixture") {
        same(&mix.name, sum(&mix.lines, read), read(&mix.sum));
        if let Some(batch) = &mix.batch_sum {
            same("batch", sum(&mix.batch_lines, read), read(batch));
        }
        let out = [&mix.goes_on, &mix.kept_back, &mix.saved, &mix.left_over];
        let out: Vec<Exact> = out.into_iter().flatten().map(&read).collect();
        // Water that boils away leaves less.
        let all = out.iter().fold(Exact::ZERO, |sum, part| sum + part);
        if mix.goes_on.is_some() && all > read(&mix.sum) {
            same("leaves", all, read(&mix.sum));
        }
    }
    for mixture in &document.mixtures {
        same(&mixture.name, sum(&mixture.lines, read), read(&mixture.sum));
    }
    let Some(dough) = document.mixes.iter().find(|mix| mix.kind == "dough") else { return slips };
    same("dough and total", read(&dough.sum), read(&document.total_sum));
    if let Some((last, classes)) = document.summary.split_last() {
        let last = last.weight.as_ref().map(read).unwrap_or_default();
        same("classes", sum(classes, read), last.clone());
        same("card and total", last, read(&document.total_sum));
    }
    let batches = Exact::from(document.makes.batches);
    for (all, batch) in dough.lines.iter().zip(&dough.batch_lines) {
        let (Some(all), Some(batch)) = (&all.weight, &batch.weight) else { continue };
        // Of a stage that can't be parted evenly, the last batch takes what is left.
        let off = read(all) - read(batch) * &batches;
        if off < Exact::ZERO || (off > Exact::ZERO && exact(all) == exact(batch) * &batches) {
            let stage =
                document.mixes.iter().any(|mix| mix.kind != "dough" && read(&mix.sum) >= read(all));
            if !stage {
                same("batches", read(all), read(batch) * &batches);
            }
        }
    }
    stages_in_dough(document, dough, read, &mut same);
    groups(document, dough, read, &mut same);
    slips
}

/// A stage that goes in whole shows what its column adds up to.
fn stages_in_dough(
    document: &Document,
    dough: &MixPart,
    read: Read,
    same: &mut impl FnMut(&str, Exact, Exact),
) {
    for mix in document.mixes.iter().filter(|mix| mix.kind != "dough") {
        let line = dough.lines.iter().find(|line| line.name == mix.name);
        let Some(weight) = line.and_then(|line| line.weight.as_ref()) else { continue };
        if exact(weight) == exact(&mix.sum) {
            same(&mix.name, read(weight), read(&mix.sum));
        }
        if let Some(goes_on) = mix.goes_on.as_ref().filter(|out| exact(out) == exact(weight)) {
            same("goes on", read(weight), read(goes_on));
        }
    }
}

/// What the groups of a card say of a line adds up to the line.
fn groups(
    document: &Document,
    dough: &MixPart,
    read: Read,
    same: &mut impl FnMut(&str, Exact, Exact),
) {
    let name = |line: &LinePart| (line.name.clone(), line.role.clone());
    let mut said: BTreeMap<_, (Exact, Exact)> = BTreeMap::new();
    for group in document.groups.iter().filter(|group| group.percent_of.is_none()) {
        for line in &group.lines {
            let Some(weight) = &line.weight else { continue };
            let (shown, grams) = said.entry(name(line)).or_default();
            *shown += read(weight);
            *grams += exact(weight);
        }
    }
    for line in &dough.lines {
        let (Some(weight), Some((shown, grams))) = (&line.weight, said.get(&name(line))) else {
            continue;
        };
        if *grams == exact(weight) {
            same(&format!("{} on the card", line.name), shown.clone(), read(weight));
        }
    }
}

/// Weights that somebody weighs are on the scale's steps, less than one away.
fn off_the_scale(document: &Document, scale: &Scale) -> Vec<String> {
    let mut off = Vec::new();
    for mix in &document.mixes {
        let lines = if mix.batch_lines.is_empty() { &mix.lines } else { &mix.batch_lines };
        for line in lines.iter().filter(|line| line.by_step.is_empty()) {
            let Some(weight) = &line.weight else { continue };
            // A stage is a sum, and so is what the feed before made.
            let is_sum = document.mixes.iter().any(|other| other.name == line.name);
            if is_sum || (mix.feeds.is_some() && line.kind == LineKind::Culture) {
                continue;
            }
            let (shown, exact) = (first(weight), exact(weight));
            let step = scale.resolution(&exact);
            let far = (&shown - &exact).max(&exact - &shown);
            if (!shown.is_multiple_of(&step) && shown != exact) || far >= step {
                off.push(format!("{}: {} of {exact}", line.name, weight.shown));
            }
        }
    }
    off
}

/// Small weights, of which a step is more than a hundredth, that are not shown to their nearest
/// step: yeast and salt don't make up for what a sum lacks. On lines, and where steps take
/// parts of them.
fn pinches_moved(document: &Document, scale: &Scale) -> Vec<String> {
    let mut moved = Vec::new();
    let of_mixes = document.mixes.iter().flat_map(|mix| match mix.batch_lines.is_empty() {
        true => &mix.lines,
        false => &mix.batch_lines,
    });
    let in_steps = document.groups.iter().filter(|group| group.percent_of.is_none());
    let in_steps = in_steps.filter(|_| document.makes.batches == 1).flat_map(|group| &group.lines);
    for line in of_mixes.chain(in_steps).filter(|line| line.by_step.is_empty()) {
        let Some(weight) = &line.weight else { continue };
        // A stage, and what the feed before made, are sums.
        let is_stage = document.mixes.iter().any(|other| other.name == line.name);
        if is_stage || line.kind == LineKind::Culture {
            continue;
        }
        let (shown, exact) = (first(weight), exact(weight));
        let step = scale.resolution(&exact);
        let is_small = exact < &step * int(100);
        if is_small && shown != assize::testing::quantity::display::to_step(&exact, &step) {
            moved.push(format!("{}: {} of {exact}", line.name, weight.shown));
        }
    }
    moved
}

/// Lines that are exactly equal and show different weights.
fn unequal(document: &Document) -> usize {
    let mut known: BTreeMap<String, Exact> = BTreeMap::new();
    let mut unequal = 0;
    for mix in &document.mixes {
        let lines = if mix.batch_lines.is_empty() { &mix.lines } else { &mix.batch_lines };
        for line in lines.iter().filter(|line| line.by_step.is_empty()) {
            let Some(weight) = line.weight.as_ref() else { continue };
            if document.mixes.iter().any(|other| other.name == line.name) {
                continue;
            }
            let shown = first(weight);
            let before = known.entry(weight.grams.clone()).or_insert_with(|| shown.clone());
            unequal += usize::from(*before != shown);
        }
    }
    unequal
}

/// What is asked of every example beside what it makes.
const YIELDS: [&str; 6] = ["1 KIND", "0.5x", "2x", "7x", "1 kg dough", "137 kg dough"];

/// All documents of a text that can be printed, with the scale of their house.
fn documents(text: &str) -> Vec<(Document, Scale, bool)> {
    documents_for(text, None)
}

/// The same for another yield, where a formula can be made for it.
fn documents_for(text: &str, yields: Option<&str>) -> Vec<(Document, Scale, bool)> {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let mut found = Vec::new();
    for bakehouse in &bakehouses {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let mut worked = work(&bakehouse.house, formula, &mut Vec::new());
            if let Some(yields) = yields.filter(|_| worked.sound) {
                let kind = worked.first().pieces.first().map(|piece| piece.made.kind.clone());
                let yields = yields.replace("KIND", kind.as_deref().unwrap_or("loaf"));
                let (makes, said) = read_makes(SourceId::ASKED, &yields);
                assert_eq!(said.len(), 0, "{yields}");
                let mut said = Vec::new();
                let makes = makes.expect("a yield");
                worked = work_as(&bakehouse.house, formula, &makes, &mut said);
                if said.iter().any(|finding| finding.level == Level::Error) {
                    continue;
                }
            }
            if worked.sound {
                assert!(worked.batches() > 0);
                let settings = &bakehouse.house.settings;
                let document = document(&bakehouse.house, &worked, &Wording::plain(), false);
                found.push((document, settings.scale.clone(), settings.units.both));
            }
        }
    }
    found
}

fn judge(text: &str, document: &Document, scale: &Scale, both: bool) {
    assert_eq!(slips(document, first), Vec::<String>::new(), "{text}");
    assert_eq!(off_the_scale(document, scale), Vec::<String>::new(), "{text}");
    assert_eq!(pinches_moved(document, scale), Vec::<String>::new(), "{text}");
    if both {
        assert_eq!(slips(document, second), Vec::<String>::new(), "{text}");
    }
    head_agrees(text, document, scale);
    forms_agree(document);
}

/// The head shows what was asked for: what the tables add up to, or they say `≈`.
fn head_agrees(text: &str, document: &Document, scale: &Scale) {
    let Some(dough) = document.mixes.iter().find(|mix| mix.kind == "dough") else { return };
    let (head, sum) = (first(&document.makes.dough), first(&dough.sum));
    let digit = if document.makes.dough.unit == "kg" { int(1000) } else { int(1) };
    let decimals = document.makes.dough.shown.split_once('.').map_or(0, |(_, tail)| tail.len());
    let last = (0..decimals).fold(digit, |digit, _| digit.one_in::<10>());
    let far = (&head - &sum).max(&sum - &head);
    assert!(far < last || dough.sum.about, "{text}{head} and {sum}");
    // What can't be met is missed by less than one step of what is weighed, in each batch.
    let lines = if dough.batch_lines.is_empty() { &dough.lines } else { &dough.batch_lines };
    let coarsest = weights(lines).map(|weight| scale.resolution(&exact(weight))).max();
    let most = coarsest.unwrap_or_default() * Exact::from(document.makes.batches);
    assert!(far <= most, "{text}{head} and {sum}");
}

/// The table in a terminal and the CSV say what the document says.
fn forms_agree(document: &Document) {
    let table = text(document);
    let rows = csv(document);
    for mix in &document.mixes {
        let lines = mix.lines.iter().filter_map(|line| {
            Some((line.weight.as_ref()?, line.weight_low.as_ref(), line.weight_high.as_ref()))
        });
        let sum = (&mix.sum, mix.sum_low.as_ref(), mix.sum_high.as_ref());
        for (weight, low, high) in lines.chain([sum]) {
            let shown = match (low.unwrap_or(weight), high) {
                // Beside each end stands what it is in the other units.
                (low, Some(_)) if low.beside.is_some() => format!("{} {} / ", low.shown, low.unit),
                (low, Some(high)) if low.unit == high.unit => {
                    format!("{}–{} {}", low.shown, high.shown, high.unit)
                }
                (low, _) => format!("{} {}", low.shown, low.unit),
            };
            assert!(table.contains(&shown), "{shown} is not in\n{table}");
        }
        for line in &mix.lines {
            let Some(weight) = &line.weight else { continue };
            assert!(rows.contains(&weight.shown), "{} is not in\n{rows}", weight.shown);
        }
    }
}

/// Parts of a line come to the line and the line to the whole, also where one loaf is made of
/// a formula for two, and where one step takes two parts of a line.
#[test]
fn parts_of_a_line_come_to_it_and_the_line_to_the_whole() {
    let loaf = |makes: &str, steps: &str| {
        format!(
            "formula mole-loaf \"Mole Loaf\" {{ makes {makes}; total {{ bread flour 100%; water 75%; \
             salt 2%; fresh yeast 1% }}\n method {{\n{steps}\n bulk 2h at 25C\n bake 40min at 230C \
             }} }}"
        )
    };
    let steps = [
        "mix 5min with flours, 90% of water\nmix 5min with everything else, remaining water",
        "mix 5min with flours, 10% of water\nmix 5min with everything else, remaining water",
        "mix 5min with flours, 70% of water then 3min with everything else, 20% of water then \
         2min with remaining water",
    ];
    for makes in ["534 g dough", "890 g dough", "1 loaf at 890 g", "7 loaves at 890 g"] {
        for steps in steps {
            let text = loaf(makes, steps);
            for (document, scale, both) in documents(&text) {
                judge(&text, &document, &scale, both);
                let dough = document.mixes.iter().find(|mix| mix.kind == "dough").expect("a dough");
                let water = dough.lines.iter().find(|line| line.name == "water").expect("water");
                let groups = document.groups.iter().flat_map(|group| &group.lines);
                let parts = groups.filter(|line| line.name == "water");
                let parts = parts.filter_map(|line| line.weight.as_ref());
                let parts = parts.fold(Exact::ZERO, |sum, part| sum + first(part));
                assert_eq!(parts, first(water.weight.as_ref().expect("a weight")), "{text}");
                assert!(!document.total_sum.about, "{text}");
            }
        }
    }
}

/// Named cases: `--makes "1 loaf"` of the README's formula showed 929.5 g, and yeast of
/// 23.963 g showed 23 g for the sake of the sum.
#[test]
fn a_pinch_of_yeast_stays_and_one_loaf_is_whole() {
    let readme = read(&crate::support::top().join("README.md"));
    let text = readme.split("```dough mole-loaf.dough\n").nth(1).expect("its formula");
    let text = text.split("```").next().expect("its end").replace("2 loaves", "1 loaf");
    for (document, scale, both) in documents(&text) {
        judge(&text, &document, &scale, both);
        assert_eq!(first(&document.total_sum), int(930));
    }
    let text = "bakehouse \"Gullhaven Bakehouse\" { scale 1 g }\nformula pier-loaf \"Pier Loaf\" { \
                makes from 2396.3 g flour; total { bread flour 80%; whole wheat flour 20%; water \
                65%; salt 2%; fresh yeast 1% } }";
    let documents = documents(text);
    let (document, scale, both) = &documents[0];
    judge(text, document, scale, *both);
    let yeast = document.mixes[0].lines.iter().find(|line| line.name == "fresh yeast");
    assert_eq!(first(yeast.and_then(|line| line.weight.as_ref()).expect("yeast")), int(24));
}

#[test]
fn every_example_has_one_number() {
    let (mut count, mut scaled) = (0, 0);
    for folder in ["examples/gullhaven", "tests/prints", "tests/breads", "tests/published"] {
        let house = match folder {
            "examples/gullhaven" => {
                let all: Vec<String> = dough_files(folder).iter().map(|path| read(path)).collect();
                vec![all.join("\n")]
            }
            _ => dough_files(folder).iter().map(|path| read(path)).collect(),
        };
        for text in house {
            for (document, scale, both) in documents(&text) {
                judge(&document.name, &document, &scale, both);
                count += 1;
            }
            let both_units = match text.contains("units     metric ") {
                true => text.replace("units     metric ", "units     metric and US "),
                false => {
                    format!("bakehouse \"Gullhaven Bakehouse\" {{ units metric and US }}\n{text}")
                }
            };
            for yields in YIELDS {
                for (document, scale, both) in documents_for(&both_units, Some(yields)) {
                    let name = format!("{} for {yields}", document.name);
                    judge(&name, &document, &scale, both);
                    scaled += 1;
                }
            }
        }
    }
    assert!(count > 60, "{count}");
    assert!(scaled > 300, "{scaled}");
}

fn read(path: &std::path::Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{error}"))
}

/// Numbers at random, the same ones each time (the generator of Park and Miller, 1988).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 % most
    }

    fn one<'w>(&mut self, of: &[&'w str]) -> &'w str {
        of[usize::try_from(self.below(of.len() as u64)).unwrap_or(0)]
    }

    fn tenths(&mut self, from: u64, to: u64) -> String {
        let number = from + self.below(to - from);
        format!("{}.{}", number / 10, number % 10)
    }
}

/// A formula of a house, both at random.
fn made(dice: &mut Dice) -> String {
    let scale = dice.one(&[
        "",
        "scale 5 g above 1 kg, 1 g, 0.1 g below 20 g",
        "scale 10 g above 5 kg, 1 g",
        "scale 1 g",
        "scale 2 g above 2 kg, 0.5 g",
        "scale 0.1 g",
    ]);
    let units = dice.one(&["", "", "units metric and US"]);
    let mixer =
        dice.one(&["", "mixer one { holds 1 kg..7 kg }", "mixer one { holds 1 kg..28 kg }"]);
    let (wholemeal, rye) = (dice.below(300), dice.below(200));
    let (water, salt, seeds) = (dice.tenths(550, 850), dice.tenths(15, 25), dice.tenths(1, 150));
    let mut stages = String::new();
    let mut named = String::new();
    if dice.below(4) > 0 {
        let seed = dice.one(&["", "", " kept back", " not split"]);
        let more = dice.one(&["", "", "save 40 g", "feeds 2 times", "at least 30 g white culture"]);
        let (ferments, own) = (dice.tenths(60, 300), dice.tenths(50, 500));
        let (wet, kind) = (dice.tenths(500, 1250), dice.one(&["100%", "60%"]));
        let rest = if kind == "60%" { "whole wheat flour 40%" } else { "" };
        stages += &format!(
            "  preferment levain {{ ferments {ferments}% of flour; bread flour {kind}; {rest}\n    water {wet}%; white culture {own}%{seed}; {more} }}\n"
        );
        named += "levain, ";
    }
    if dice.below(3) == 0 {
        let share = dice.tenths(50, 250);
        stages += &format!(
            "  preferment poolish {{ ferments {share}% of flour; bread flour 100%; water 100%; fresh yeast 0.2% }}\n"
        );
        named += "poolish, ";
    }
    let part = dice.one(&["90% of water", "80% of water", "400 g of water", "water"]);
    let rest = if part == "water" { "" } else { "remaining water, " };
    let makes = match dice.below(4) {
        0 => format!("{} loaves at {} g", 1 + dice.below(60), 380 + dice.below(900)),
        1 => format!("{} g dough", 700 + dice.below(60_000)),
        2 => format!("{} loaves at {} g baked", 1 + dice.below(40), 400 + dice.below(700)),
        _ => format!("from {} g flour", 500 + dice.below(20_000)),
    };
    format!(
        "bakehouse \"Gullhaven Bakehouse\" {{\n  {scale}\n  {units}\n  {mixer}\n}}\nformula made-loaf \"Made Loaf\" {{\n  makes {makes}\n  bake loss 12%\n  total {{\n    bread flour {}%\n    whole wheat flour {}%\n    dark rye flour {}%\n    water {water}%\n    salt {salt}%\n    sunflower seeds {seeds}%\n    fresh yeast 0.{}%\n  }}\n{stages}  method {{\n    mix 5min with {part}, flours\n    mix 5min with {rest}{named}everything else\n    bake 30min at 230C\n  }}\n}}\n",
        tenth(1000 - wholemeal - rye),
        tenth(wholemeal),
        tenth(rye),
        1 + dice.below(9),
    )
}

fn tenth(number: u64) -> String {
    format!("{}.{}", number / 10, number % 10)
}

#[test]
fn two_thousand_made_formulas_have_one_number() {
    let mut dice = Dice(20_261_128);
    let (mut judged, mut apart, mut about, mut tried) = (0, 0, 0, 0);
    while judged < 2_000 {
        tried += 1;
        assert!(tried < 4_000, "{judged} of {tried} can be printed");
        let text = made(&mut dice);
        for (document, scale, both) in documents(&text) {
            judge(&text, &document, &scale, both);
            judged += 1;
            apart += unequal(&document);
            about += usize::from(document.total_sum.about);
        }
    }
    println!("{judged} formulas of {tried}: {apart} equal weights shown apart, {about} sums about");
    // Equal weights part only where nothing else brings the whole nearer, and more
    // than half of the totals can be met exactly.
    assert!(apart < 100, "{apart}");
    assert!(about < 900, "{about}");
}

/// `why`, `uses` and the CSV quote what `show` and the prints show, of every example.
#[test]
fn why_and_uses_quote_what_is_printed() {
    use crate::support::{assize, out, top};
    use serde_json::Value;
    let folder = top().join("examples/gullhaven");
    let run = |args: &[&str]| out(&assize(&folder, args));
    let uses: Value =
        serde_json::from_str(&run(&["uses", "salt", "--format", "json"])).expect("JSON");
    let mut users = BTreeMap::new();
    let mut all = vec![&uses];
    while let Some(one) = all.pop() {
        if let (Some(name), Some(amount)) = (one["name"].as_str(), one["amount"].as_str()) {
            users.insert(name.to_owned(), amount.to_owned());
        }
        all.extend(one.as_object().into_iter().flat_map(|it| it.values()));
        all.extend(one.as_array().into_iter().flatten());
    }
    assert!(users.len() > 10, "{users:?}");
    let (mut checked, mut apart) = (0, 0);
    for (name, salt) in users {
        let shown: Value =
            serde_json::from_str(&run(&["show", &name, "--format", "json"])).expect("JSON");
        let number = |shown: &str, unit: &str| grams(shown, unit);
        let said = |text: &str| {
            let (shown, unit) = text.rsplit_once(' ').unwrap_or_else(|| panic!("{text}"));
            number(shown, unit)
        };
        let rows = shown["total"].as_array().expect("rows");
        // Salt of a topping has a row of its own.
        let rows = rows.iter().filter(|row| row["name"] == "salt");
        let printed = rows.fold(Exact::ZERO, |sum, row| {
            let said = |field: &str| row["weight"][field].as_str().expect("a weight").to_owned();
            sum + number(&said("shown"), &said("unit"))
        });
        // What is mixed beside the dough, such as a brine, counts for `uses` too.
        let is_dough_alone = shown["mixtures"].as_array().is_some_and(Vec::is_empty);
        assert!(!is_dough_alone || said(&salt) == printed, "uses salt: {name}: {salt}");
        let why = run(&["why", &name, "salt"]);
        let first = why.lines().next().unwrap_or_default().trim_start_matches("salt: ").to_owned();
        let quoted = first.split([',', '=']).next().unwrap_or_default().trim();
        let quoted = quoted.split(" on the scale").next().unwrap_or_default();
        let quoted = quoted.split("  [").next().unwrap_or_default();
        assert_eq!(said(quoted), printed, "why {name} salt: {first}");
        let figures = shown["figures"].as_array().expect("figures");
        let flour = figures.iter().find(|figure| figure["name"] == "flour").expect("flour");
        let flour = number(
            flour["shown"].as_str().expect("a weight"),
            flour["unit"].as_str().expect("a unit"),
        );
        let why = run(&["why", &name, "flour"]);
        let first = why.lines().next().unwrap_or_default().trim_start_matches("flour: ").to_owned();
        apart += usize::from(first.contains("on the scale"));
        let quoted = first.split([',', '=']).next().unwrap_or_default().trim();
        let quoted = quoted.split(" on the scale").next().unwrap_or_default();
        let quoted = quoted.split("  [").next().unwrap_or_default();
        assert_eq!(said(quoted), flour, "why {name} flour: {first}");
        checked += 1;
    }
    assert!(checked > 10 && apart > 5, "{checked}, {apart}");
}

/// What a live text says of some names, each `NAME=[NAME]`: whether it is about so much, and
/// grams.
fn said_live(texts: &[String], name: &str) -> (bool, Exact) {
    let own = texts.iter().flat_map(|text| text.split('|'));
    let said = own.filter_map(|part| part.split_once('=')).find(|(own, _)| *own == name);
    let said = said.unwrap_or_else(|| panic!("{name} in {texts:?}")).1;
    let (about, said) = match said.strip_prefix("≈ ") {
        Some(said) => (true, said),
        None => (false, said),
    };
    let said = said.split(" / ").next().unwrap_or_default().trim_end_matches('.');
    let (shown, unit) = said.rsplit_once(' ').unwrap_or_else(|| panic!("{name}: {said}"));
    (about, grams(shown, unit))
}

/// The live texts of some formulas, a headnote and a note of the first mix, against the tables
/// of the same print: all of it for the headnote, a batch for the note where there are several.
fn judge_live(text: &str, names: &[String]) -> usize {
    let asked: Vec<String> = names.iter().map(|name| format!("{name}=[{name}]")).collect();
    let asked = asked.join("|");
    let text = text.replacen(
        "  bake loss 12%\n",
        &format!("  bake loss 12%\n  headnote \"{asked}\"\n"),
        1,
    );
    let text = text.replacen(", flours\n", &format!(", flours note \"{asked}\"\n"), 1);
    let mut judged = 0;
    for (document, _, _) in documents(&text) {
        let Some(dough) = document.mixes.iter().find(|mix| mix.kind == "dough") else { continue };
        let whole = |name: &str| match name {
            "dough" => Some((document.total_sum.about, first(&document.total_sum))),
            // As the head and the figures tell it.
            "flour" => Some((false, first(&document.makes.flour))),
            _ => {
                let line = document.total.iter().find(|line| line.name == name);
                line.and_then(|line| line.weight.as_ref()).map(|weight| (false, first(weight)))
            }
        };
        for name in names {
            let Some(wanted) = whole(name) else { continue };
            assert_eq!(said_live(&document.headnotes, name), wanted, "{name}: {text}");
            judged += 1;
        }
        let steps = if document.batch_method.is_empty() {
            &document.method
        } else {
            &document.batch_method
        };
        let notes =
            steps.iter().flat_map(|step| &step.notes).filter(|note| note.contains("dough="));
        let notes: Vec<String> = notes.cloned().collect();
        if notes.is_empty() {
            continue;
        }
        let (lines, sum) = match &dough.batch_sum {
            Some(sum) => (&dough.batch_lines, sum),
            None => (&dough.lines, &dough.sum),
        };
        assert_eq!(said_live(&notes, "dough"), (sum.about, first(sum)), "{text}");
        // What is in the dough alone.
        for (line, own) in lines.iter().zip(&dough.lines) {
            let total = document.total.iter().find(|total| total.name == line.name);
            let grams = |line: &LinePart| line.weight.as_ref().map(exact);
            if !names.contains(&line.name) || total.and_then(grams) != grams(own) {
                continue;
            }
            let Some(weight) = &line.weight else { continue };
            assert_eq!(
                said_live(&notes, &line.name),
                (false, first(weight)),
                "{}: {text}",
                line.name
            );
            judged += 1;
        }
    }
    judged
}

/// What a text says of the dough, its flour and its ingredients is what the table beside it
/// says: of all of it, and of a batch in the words of a sheet for a batch.
#[test]
fn a_live_text_says_what_the_table_beside_it_says() {
    let names = |texts: &[&str]| texts.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
    let all = names(&[
        "dough",
        "flour",
        "bread flour",
        "whole wheat flour",
        "dark rye flour",
        "salt",
        "sunflower seeds",
        "fresh yeast",
    ]);
    let mut dice = Dice(20_261_129);
    let mut judged = 0;
    for _ in 0..400 {
        judged += judge_live(&made(&mut dice), &all);
    }
    // Twenty loaves of a kilogram that no lines of whole grams come to.
    let twenty = "bakehouse \"Gullhaven Bakehouse\" { scale 5 g above 1 kg, 1 g, 0.1 g below 20 g; \
                  mixer one { holds 1 kg..12 kg } }\nformula skiff \"Skiff\" {\n  makes 20 loaves at \
                  1 kg\n  bake loss 12%\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% \
                  }\n  method {\n    mix 8min with water, flours\n    mix 2min with everything else\n \
                  bake 40min at 230C\n  }\n}\n";
    judged += judge_live(
        twenty,
        &names(&["dough", "flour", "bread flour", "water", "salt", "fresh yeast"]),
    );
    assert!(judged > 2_000, "{judged}");
    // Every example, by the names of its own table.
    let examples: Vec<String> =
        dough_files("examples/gullhaven").iter().map(|path| read(path)).collect();
    let all = examples.join("\n");
    let mut told = 0;
    for (document, _, _) in documents(&all) {
        let rows = document.total.iter().filter(|line| {
            line.kind == LineKind::Ingredient && line.role.is_none() && line.weight_low.is_none()
        });
        let twice = |line: &LinePart| {
            document.total.iter().filter(|other| other.name == line.name).count() > 1
        };
        let rows: Vec<&LinePart> =
            rows.filter(|line| line.weight.is_some() && !twice(line)).collect();
        let asked: Vec<String> = rows.iter().map(|line| format!("{0}=[{0}]", line.name)).collect();
        let head = format!("formula {}", document.name);
        let Some(at) = all.find(&format!("{head} ")) else { continue };
        let open = at + all[at..].find('{').expect("a block");
        let headnote = format!("{{\n  headnote \"dough=[dough]|{}\"\n", asked.join("|"));
        let text = format!("{}{headnote}{}", &all[..open], &all[open + 1..]);
        let (own, _, _) =
            documents(&text).into_iter().find(|own| own.0.name == document.name).expect("it");
        let sum = &document.total_sum;
        assert_eq!(
            said_live(&own.headnotes, "dough"),
            (sum.about, first(sum)),
            "{}",
            document.name
        );
        for line in rows {
            let weight = line.weight.as_ref().expect("a weight");
            let said = said_live(&own.headnotes, &line.name);
            assert_eq!(said, (false, first(weight)), "{} in {}", line.name, document.name);
            told += 1;
        }
    }
    assert!(told > 60, "{told}");
}

/// What pieces carry is weighed for all of them at once: all of it is the exact amount on the
/// scale, in each system, and one piece's share says where it is only about that.
#[test]
fn what_all_pieces_carry_is_no_multiple_of_a_rounded_share() {
    let folder = crate::support::folder();
    let show = |text: &str| -> serde_json::Value {
        std::fs::write(folder.path().join("a.dough"), text).expect("written");
        let done = crate::support::assize(folder.path(), &["show", "rolls", "--format", "json"]);
        serde_json::from_str(&crate::support::out(&done)).expect("JSON")
    };
    let number = |weight: &serde_json::Value| -> f64 {
        let shown = weight["decimal"].as_str().or(weight["shown"].as_str()).expect("a number");
        let worth = match weight["unit"].as_str().expect("a unit") {
            "g" => 1.0,
            "kg" => 1000.0,
            "oz" => 28.349_523_125,
            other => panic!("{other}"),
        };
        shown.parse::<f64>().expect("a number") * worth
    };
    let mut finer = 0;
    for count in [3, 7, 36, 120, 999] {
        for tenths in [4, 7, 15, 23, 104, 254, 1255] {
            for units in ["metric", "US", "metric and US"] {
                let grams = f64::from(tenths) / 10.0;
                let document = show(&format!(
                    "bakehouse \"G\" {{ scale 1 g; units {units} }}\nformula rolls \"Rolls\" {{ makes {count} rolls at \
                     170 g\n total {{ bread flour 100%; water 62%; salt 2%; fresh yeast 2% }}\n piece {{ sesame seeds \
                     {grams} g }} }}\n"
                ));
                let beside = &document["beside"][0];
                let (each, all) = (&beside["each"][0]["weight"], &beside["all"][0]["weight"]);
                let exact = grams * f64::from(count);
                let is_metric = units != "US";
                let (one, whole) = (number(each), number(all));
                // Half a step of the scale: of grams, or of what ounces are shown in.
                let step = if is_metric { 0.5 } else { 28.35 / 16.0 };
                assert!((whole - exact).abs() <= step + 1e-9, "{units} {count} {grams}: {all}");
                assert!(
                    (one - grams).abs() <= grams / 40.0 + 1e-9 || !is_metric,
                    "{grams}: {each}"
                );
                if is_metric {
                    let is_about = each["about"].as_bool().unwrap_or_default();
                    let is_same = (one * f64::from(count) - whole).abs() < 1e-9;
                    assert_eq!(is_about, !is_same, "{count} {grams}: {each} {all}");
                    finer += usize::from(one.fract() != 0.0);
                }
            }
        }
    }
    assert!(finer > 0);
    // What is too little for all of them together is told, as on any line.
    let told = crate::support::findings(
        "bakehouse \"G\" { scale 1 g }\nformula rolls \"Rolls\" { makes 2 rolls at 70 g\n total { bread flour \
         100%; water 62%; salt 2%; fresh yeast 2% }\n piece { poppy seeds 0.2 g } }\n",
    );
    let is_told = |it: &assize::testing::diag::Finding| it.rule.name == "below-scale-resolution";
    let poppy: Vec<_> =
        told.iter().filter(|it| is_told(it) && it.message.contains("poppy")).collect();
    assert_eq!(poppy.len(), 1, "{told:?}");
    assert!(poppy[0].message.contains("0.4 g of `poppy seeds` would be printed as 0 g"));
}
