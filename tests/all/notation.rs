//! How one amount is written: weights, volumes, temperatures, percentages and ranges, in
//! every system of units and every language.

use crate::support::{dough_files, from_disk, loaded, over, top, with_worked};
use assize::testing::desk;
use assize::testing::formula::{House, Worked, work, work_as};
use assize::testing::print::document::{Document, LinePart, Weight};
use assize::testing::print::{Wording, document};
use assize::testing::quantity::display::{Scale, read_exact};
use assize::testing::quantity::{Exact, System, Units, int, ratio};
use assize::testing::source::SourceId;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::path::Path;

/// Grams in an ounce (international avoirdupois pound of 1959).
fn ounce() -> Exact {
    ratio(28_349_523_125, 1_000_000_000)
}

fn printed(text: &str, language: &str) -> Document {
    let words = match language {
        "plain" => Wording::plain(),
        language => Wording::new(language, None).0,
    };
    with_worked(text, |bakehouse, worked| {
        document(&bakehouse.house, worked, &words, bakehouse.house.settings.volumes)
    })
}

const LANGUAGES: [&str; 6] = ["plain", "en", "fr", "de", "es", "it"];

fn house(settings: &str) -> String {
    format!("bakehouse \"Gullhaven Bakehouse\" {{\n  room 21C\n  {settings}\n}}\n")
}

/// A number as a language writes it, in signs for fractions too; with how many digits stand
/// after its mark. A reader of our own: it shares nothing with the writer.
fn number(text: &str, mark: &str) -> Option<(Exact, usize)> {
    const SIGNS: [(char, i64, i64); 9] = [
        ('⅛', 1, 8),
        ('¼', 1, 4),
        ('⅓', 1, 3),
        ('⅜', 3, 8),
        ('½', 1, 2),
        ('⅝', 5, 8),
        ('⅔', 2, 3),
        ('¾', 3, 4),
        ('⅞', 7, 8),
    ];
    let mut value = Exact::ZERO;
    let mut digits: Option<usize> = None;
    let mut seen = false;
    for letter in text.trim_start_matches(['-', '−']).chars() {
        if let Some((_, above, below)) = SIGNS.iter().find(|(sign, ..)| *sign == letter) {
            value += ratio(*above, *below);
            seen = true;
        } else if let Some(digit) = letter.to_digit(10) {
            seen = true;
            match &mut digits {
                None => value = value * int(10) + int(i64::from(digit)),
                Some(digits) => {
                    *digits += 1;
                    let mut part = int(i64::from(digit));
                    (0..*digits).for_each(|_| part = part.one_in::<10>());
                    value += part;
                }
            }
        } else if mark.contains(letter) {
            digits = Some(0);
        } else if !matches!(letter, ',' | '.' | '\u{a0}' | '\u{202f}' | '’') {
            return None;
        }
    }
    let negative = text.starts_with(['-', '−']);
    seen.then(|| (if negative { -value } else { value }, digits.unwrap_or(0)))
}

fn read(text: &str, mark: &str) -> Exact {
    number(text, mark).unwrap_or_else(|| panic!("`{text}` is a number")).0
}

/// The grams that a shown weight says.
fn grams(shown: &str, unit: &str, mark: &str) -> Exact {
    match unit {
        "g" => read(shown, mark),
        "kg" => read(shown, mark) * int(1000),
        _ => {
            let (pounds, ounces) = shown.split_once(" lb ").unwrap_or(("0", shown));
            (read(pounds, mark) * int(16) + read(ounces, mark)) * ounce()
        }
    }
}

fn off(one: &Exact, two: &Exact) -> Exact {
    let off = one - two;
    off.clone().max(-off)
}

fn exact(text: &str) -> Exact {
    read_exact(text).unwrap_or_else(|| panic!("`{text}` is exact"))
}

/// All lines of a document that stand in tables.
fn lines(document: &Document) -> Vec<&LinePart> {
    let mixes = document.mixes.iter().chain(&document.mixtures);
    let in_mixes = mixes.flat_map(|mix| {
        mix.lines.iter().chain(&mix.batch_lines).chain(mix.earlier_feeds.iter().flatten())
    });
    let beside = document.beside.iter().flat_map(|kind| kind.each.iter().chain(&kind.all));
    let groups = document.groups.iter().flat_map(|group| &group.lines);
    document.total.iter().chain(in_mixes).chain(beside).chain(groups).collect()
}

/// All weights that stand in tables.
fn weights(document: &Document) -> Vec<&Weight> {
    let sums = document.mixes.iter().flat_map(|mix| {
        [Some(&mix.sum), mix.batch_sum.as_ref(), mix.goes_on.as_ref(), mix.saved.as_ref()]
    });
    let own = lines(document).into_iter().filter_map(|line| line.weight.as_ref());
    own.chain(sums.flatten()).chain([&document.total_sum]).collect()
}

/// Every formula of the checkout that is sound.
fn all_formulas(mut judge: impl FnMut(&mut House, &Worked)) {
    let folders = ["tests/breads", "tests/combinations", "tests/published", "tests/prints"];
    let mut files: Vec<_> = folders.into_iter().flat_map(dough_files).collect();
    files.push(top().join("examples/gullhaven"));
    for path in files {
        each_formula(&path, &mut judge);
    }
}

fn each_formula(path: &Path, judge: &mut impl FnMut(&mut House, &Worked)) {
    let loaded = from_disk(path);
    // What was worked out holds on to its house; the settings of a second one are changed.
    for (bakehouse, other) in desk::bakehouses(&loaded).iter().zip(&mut desk::bakehouses(&loaded)) {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            if worked.sound {
                judge(&mut other.house, &worked);
            }
        }
    }
}

/// As if the house had said `units`.
fn set_units(house: &mut House, first: System, both: bool) {
    house.settings.units = Units { first, both };
    house.settings.scale = Scale::usual(first);
    house.settings.other_scale = None;
}

/// A percentage or a bare number is the exact one, or it is rounded and says so by its
/// digits: `65` is 65, `65.0` is about that.
fn assert_told(shown: &str, exact: &Exact, mark: &str, of: &str) {
    let (value, digits) = number(shown, mark).unwrap_or_else(|| panic!("{of}: `{shown}`"));
    if value == *exact {
        return;
    }
    assert!(digits > 0, "{of}: `{shown}` is {exact}");
    let mut half = ratio(1, 2);
    (0..digits).for_each(|_| half = half.one_in::<10>());
    assert!(off(&value, exact) <= half, "{of}: `{shown}` is {exact}");
}

/// A range tells both ends, unless three digits read the same.
fn assert_ends(shown: &str, ends: &[Exact], mark: &str, of: &str) -> usize {
    let shown: Vec<&str> = shown.split('–').collect();
    if let ([_], [low, high]) = (shown.as_slice(), ends) {
        assert!(off(low, high) <= ratio(1, 1000), "both ends of {of}: {shown:?}");
    } else {
        assert_eq!(shown.len(), ends.len(), "both ends of {of}: {shown:?}");
    }
    for (number, end) in ends.iter().enumerate() {
        assert_told(shown.get(number).unwrap_or(&shown[0]), end, mark, of);
    }
    ends.len()
}

fn assert_percentages(document: &Document) -> usize {
    let mark = &document.decimal_mark;
    let mut judged = 0;
    for line in lines(document) {
        let ends = [&line.percent_low, &line.percent_high];
        let ends: Vec<&String> = match ends {
            [Some(low), Some(high)] => vec![low, high],
            _ => line.percent_exact.iter().collect(),
        };
        if let Some(shown) = &line.percent {
            let ends: Vec<Exact> = ends.into_iter().map(|it| exact(it) * int(100)).collect();
            judged += assert_ends(shown, &ends, mark, &line.name);
        }
    }
    let bare = |name: &str| matches!(name, "elapsed" | "hands-on");
    for figure in document.figures.iter().filter(|figure| !bare(&figure.name)) {
        let worth = |it: &str| match figure.unit.as_str() {
            "%" => exact(it) * int(100),
            _ => exact(it),
        };
        if !matches!(figure.unit.as_str(), "%" | "") {
            continue;
        }
        let ends = [Some(&figure.exact), figure.exact_high.as_ref()];
        let ends: Vec<Exact> = ends.into_iter().flatten().map(|it| worth(it)).collect();
        judged += assert_ends(&figure.shown, &ends, mark, &figure.name);
    }
    judged
}

#[test]
fn a_percentage_that_looks_exact_is_exact() {
    let mut judged = 0;
    all_formulas(|house, worked| {
        for words in [Wording::plain(), Wording::new("de", None).0] {
            judged += assert_percentages(&document(house, worked, &words, false));
        }
    });
    assert!(judged > 2000, "{judged}");
    let number = |most: u32| (1..most, 0..4u32).prop_map(|(number, digits)| (number, digits));
    let shares = (number(99_999), number(9_999), number(99_999), 300..90_000u32);
    TestRunner::default()
        .run(&shares, |((water, a), (salt, b), (honey, c), dough)| {
            let percent = |number: u32, digits: u32| f64::from(number) / f64::from(10u32.pow(digits)) / 100.0;
            let text = format!(
                "formula a \"A\" {{ makes {dough} g dough\n total {{ bread flour 100%; water {:.6}%; salt {:.6}%; honey {:.6}% }} }}\n",
                percent(water, a), percent(salt, b), percent(honey, c),
            );
            assert!(assert_percentages(&printed(&text, "plain")) >= 6);
            Ok(())
        })
        .expect("no percentage that only looks exact");
}

#[test]
fn what_is_nearly_a_whole_number_is_told_with_a_decimal() {
    let text = "formula a \"A\" { makes 1 kg dough\n total { bread flour 100%; water 65.0038%; salt 2% } }";
    let document = printed(text, "plain");
    assert_eq!(document.figures[0].shown, "65.0");
    let water = document.total.iter().find(|line| line.key == "water").expect("water");
    // As finely as it was written.
    assert_eq!(water.percent.as_deref(), Some("65.0038"));
}

/// The steps of the scales below, in ounces or grams, written out by hand.
fn step(system: &str, scale: &str, weight: &Exact) -> Exact {
    match (system, scale) {
        ("US", "1/4 oz") => ounce().one_in::<4>(),
        ("US", _) if *weight < ounce() => ounce().one_in::<100>(),
        ("US", _) if *weight < ounce() * int(4) => ounce().one_in::<20>(),
        ("US", _) => ounce().one_in::<8>(),
        (_, "5 g above 1 kg, 1 g") if *weight >= int(1000) => int(5),
        (_, "5 g above 1 kg, 1 g") => int(1),
        _ if *weight < int(100) => ratio(1, 10),
        _ => int(1),
    }
}

#[test]
fn every_weight_is_within_a_step_of_the_exact_one_in_each_system() {
    // `1.250 g` may be thousands, and is asked about.
    let weight = (1..9_999_999u64, 1..6u32)
        .prop_map(|(number, digits)| (number + u64::from(digits == 3 && number % 50 == 0), digits));
    let random = (prop::collection::vec(weight, 4), 0..4usize, 0..3usize, 0..6usize);
    TestRunner::default()
        .run(&random, |(masses, units, scale, language)| {
            let units = ["metric", "US", "metric and US", "US and metric"][units];
            let scale = ["", "1/4 oz", "5 g above 1 kg, 1 g"][scale];
            let says = if scale.is_empty() { String::new() } else { format!("scale {scale}") };
            let mass = |(number, digits): (u64, u32)| {
                format!(
                    "{}.{:0width$}",
                    number / 10u64.pow(digits),
                    number % 10u64.pow(digits),
                    width = digits as usize
                )
            };
            let names = ["bread flour", "water", "salt", "honey"];
            let body: Vec<String> = names
                .iter()
                .zip(&masses)
                .map(|(name, number)| format!("{name} {} g", mass(*number)))
                .collect();
            let text = format!(
                "{}formula a \"A\" {{ headnote \"[{} g]\"\n dough {{ {} }} }}\n",
                house(&format!("units {units}\n  {says}")),
                mass(masses[0]),
                body.join("; "),
            );
            let document = printed(&text, LANGUAGES[language]);
            let mark = &document.decimal_mark;
            let first = if units.starts_with("US") { "US" } else { "metric" };
            let second = if first == "US" { "metric" } else { "US" };
            for line in &document.mixes[0].lines {
                let weight = line.weight.as_ref().expect("a weight");
                let is = exact(&weight.grams);
                let shown = grams(&weight.shown, &weight.unit, mark);
                // A column may round one up and another down, so that it adds up.
                prop_assert!(off(&shown, &is) < step(first, scale, &is), "{weight:?} {text}");
                let decimal = grams(&weight.decimal, &weight.unit, ".");
                prop_assert!(off(&decimal, &shown) < ratio(1, 1000), "{weight:?}");
                let small = first == "US" && is < ounce() && !is.is_zero();
                prop_assert_eq!(weight.beside.is_some(), units.contains("and") || small);
                if let Some(beside) = &weight.beside {
                    let shown = grams(&beside.shown, &beside.unit, mark);
                    prop_assert!(off(&shown, &is) < step(second, scale, &is), "{weight:?} {text}");
                }
            }
            // A weight in a sentence shows what its line does.
            let is = exact(document.mixes[0].lines[0].weight.as_ref().map_or("0", |it| &it.grams));
            let said = &document.headnotes[0];
            let parts: Vec<&str> = said.split(" / ").collect();
            for (part, system) in parts.iter().zip([first, second]) {
                let (shown, unit) = part.rsplit_once(' ').expect("a unit");
                let shown = grams(shown, unit, mark);
                prop_assert!(off(&shown, &is) < step(system, scale, &is), "{said} {is}");
            }
            Ok(())
        })
        .expect("weights as the scale shows them");
}

/// Ounces of one document are eighths or decimals, never both in its tables.
fn assert_one_notation(document: &Document) -> bool {
    let mark = document.decimal_mark.as_str();
    let weights = weights(document);
    let shown = weights.iter().flat_map(|weight| {
        let beside = weight.beside.iter().map(|it| (it.shown.as_str(), it.unit.as_str()));
        beside.chain([(weight.shown.as_str(), weight.unit.as_str())])
    });
    let ounces: Vec<&str> =
        shown.filter(|(_, unit)| *unit == "oz").map(|(shown, _)| shown).collect();
    let eighths = ounces.iter().any(|shown| shown.contains(['⅛', '¼', '⅜', '½', '⅝', '¾', '⅞']));
    let decimals = ounces.iter().filter(|shown| shown.contains(mark)).count();
    assert!(!eighths || decimals == 0, "{}: {ounces:?}", document.title);
    assert!(decimals == 0 || decimals == ounces.len(), "{}: {ounces:?}", document.title);
    let digits = |shown: &str| shown.rsplit(mark).next().map_or(0, str::len);
    // What each piece carries, less than an ounce, has the digits that tell how much it is.
    let is_pinch = |shown: &str| shown.starts_with(&format!("0{mark}"));
    let mut others = ounces.iter().filter(|shown| !is_pinch(shown)).map(|shown| digits(shown));
    let first = others.next();
    let same = others.all(|own| Some(own) == first);
    assert!(decimals == 0 || same, "{}: {ounces:?}", document.title);
    decimals > 0
}

#[test]
fn ounces_have_one_notation() {
    let (mut in_decimals, mut in_eighths) = (0, 0);
    all_formulas(|house, worked| {
        for (first, both) in [(System::Us, false), (System::Metric, true), (System::Us, true)] {
            set_units(house, first, both);
            let document = document(house, worked, &Wording::new("fr", None).0, true);
            match assert_one_notation(&document) {
                true => in_decimals += 1,
                false => in_eighths += 1,
            }
        }
    });
    assert!(in_decimals > 50, "{in_decimals}");
    let heavy = house("units US")
        + "formula a \"A\" { dough { bread flour 20 kg; water 13.3 kg; salt 0.4 kg } }";
    let heavy = printed(&heavy, "en");
    assert!(!assert_one_notation(&heavy));
    let shown: Vec<&str> = weights(&heavy).iter().map(|it| it.shown.as_str()).collect();
    assert!(shown.contains(&"44 lb 1½") && shown.contains(&"14⅛"), "{shown:?}");
    let light = house("units US")
        + "formula a \"A\" { dough { bread flour 364 g; water 248 g; salt 7 g } }";
    let light = printed(&light, "en");
    let salt = light.mixes[0].lines[2].weight.clone().expect("salt");
    assert_eq!(salt.said(), "0.25 oz / 7.0 g");
    // 12.84 oz, to the nearest five hundredths: nobody reads thousandths of an ounce.
    assert_eq!(
        light.mixes[0].lines[0].weight.as_ref().map(Weight::said).as_deref(),
        Some("12.85 oz")
    );
    assert!(in_eighths + in_decimals > 150);
}

/// A temperature as an author may write it.
#[derive(Clone, Debug)]
struct Warm {
    tenths: i64,
    fahrenheit: bool,
}

impl Warm {
    fn written(&self) -> String {
        let unit = if self.fahrenheit { 'F' } else { 'C' };
        match self.tenths % 10 {
            0 => format!("{}{unit}", self.tenths / 10),
            tenths => format!("{}.{tenths}{unit}", self.tenths / 10),
        }
    }

    /// In the degrees of a system, and whether it was written in them.
    fn degrees(&self, system: &str) -> (Exact, bool) {
        let number = ratio(self.tenths, 10);
        match (self.fahrenheit, system) {
            (true, "°F") | (false, "°C") => (number, true),
            (true, _) => ((number - int(32)) * ratio(5, 9), false),
            (false, _) => (number * ratio(9, 5) + int(32), false),
        }
    }
}

fn warm(celsius: std::ops::Range<i64>) -> impl Strategy<Value = Warm> {
    (celsius, 0..10i64, any::<bool>(), any::<bool>()).prop_map(
        |(celsius, tenths, fine, fahrenheit)| {
            let degrees = if fahrenheit { celsius * 9 / 5 + 32 } else { celsius };
            Warm { tenths: degrees * 10 + if fine { tenths } else { 0 }, fahrenheit }
        },
    )
}

/// What a print says of one temperature or a range, in each system that it speaks.
fn assert_temperature(said: &str, ends: &[&Warm], systems: &[&str], wanted: [i64; 2]) {
    let parts: Vec<&str> = said.split(" / ").collect();
    assert_eq!(parts.len(), systems.len(), "{said}");
    for (part, system) in parts.iter().zip(systems) {
        let (numbers, unit) = part.rsplit_once(' ').expect("a unit");
        assert_eq!(unit, *system, "{said}");
        let exact: Vec<(Exact, bool)> = ends.iter().map(|end| end.degrees(system)).collect();
        let mut shown: Vec<Exact> = numbers.split('–').map(|number| read(number, ".")).collect();
        // Ends within a tenth of a degree are one on paper.
        let is_near = exact.iter().all(|(end, _)| off(end, &exact[0].0) < ratio(1, 10));
        let is_one =
            exact.iter().all(|(end, _)| *end == exact[0].0) || (is_near && shown.len() == 1);
        assert_eq!(shown.len(), if is_one { 1 } else { 2 }, "{said}: {ends:?}");
        if is_one {
            shown = vec![shown[0].clone(); exact.len()];
        }
        let step = if *system == "°F" { wanted[1] } else { wanted[0] };
        let is_written = is_one && exact.iter().any(|(_, kept)| *kept);
        for (shown, (exact, kept)) in shown.iter().zip(&exact) {
            if *kept {
                assert_eq!(shown, exact, "{said}: {ends:?}");
                continue;
            }
            assert!(off(shown, exact) * int(2) <= int(step), "{said}: {ends:?}");
            // Finer only where both ends would be one, or are one that was written so.
            let coarse = shown.is_multiple_of(&int(step));
            assert!(
                coarse || is_written || exact_ends_are_near(ends, system, step),
                "{said}: {ends:?}"
            );
        }
    }
}

fn exact_ends_are_near(ends: &[&Warm], system: &str, step: i64) -> bool {
    let degrees: Vec<Exact> = ends.iter().map(|end| end.degrees(system).0).collect();
    degrees.iter().any(|end| *end != degrees[0])
        && off(&degrees[0], &degrees[degrees.len() - 1]) < int(step)
}

#[test]
fn a_temperature_is_as_it_was_written_or_as_hands_can_set_it() {
    let random = (
        [warm(150..300), warm(150..300)],
        [warm(2..45), warm(2..45)],
        warm(80..100),
        0..4usize,
        any::<bool>(),
    );
    TestRunner::new(ProptestConfig::with_cases(400))
        .run(&random, |([oven, other], [room, end], core, units, ovens)| {
            let (units, systems): (&str, &[&str]) = [
                ("metric", &["°C"][..]),
                ("US", &["°F"]),
                ("metric and US", &["°C", "°F"]),
                ("US and metric", &["°F", "°C"]),
            ][units];
            let text = format!(
                "{}formula a \"A\" {{ makes 1 kg dough\n total {{ bread flour 100%; water 65%; salt 2% }}\n method {{\n mix 5min with everything else to {}\n bulk 2h at {}..{}\n bake 20min at {} then 20min at {}..{} until core {}\n step \"Toast the seeds.\" at {}\n }} }}\n",
                house(&format!("units {units}{}", if ovens { "; oven deck { holds 9 }" } else { "" })),
                end.written(), room.written(), end.written(), oven.written(), oven.written(), other.written(), core.written(), other.written(),
            );
            let document = printed(&text, "plain");
            let phases: Vec<_> = document.method.iter().flat_map(|step| &step.phases).collect();
            let at = |index: usize| phases[index].at.as_deref().expect("a temperature");
            assert_temperature(phases[0].to.as_deref().expect("one"), &[&end], systems, [1, 1]);
            assert_temperature(at(1), &[&room, &end], systems, [1, 1]);
            // A house that declares no oven is a kitchen, whose oven has marks for every 25 °F.
            let marks = [5, if ovens { 5 } else { 25 }];
            // There what was written in Fahrenheit stands beside the Celsius of its oven.
            let set = |index: usize, written: &[&Warm]| {
                let in_fahrenheit = written.iter().all(|it| it.written().ends_with('F'));
                let is_beside = in_fahrenheit && units == "metric" && !ovens;
                assert_eq!(at(index).ends_with(" °F)"), is_beside, "{}", at(index));
                let said = at(index).split(" (").next().unwrap_or_default();
                assert_temperature(said, written, systems, marks);
            };
            set(2, &[&oven]);
            set(3, &[&oven, &other]);
            set(4, &[&other]);
            let core_said = phases[3].text.trim_end_matches('.').rsplit("reaches ").next();
            assert_temperature(core_said.unwrap_or_default(), &[&core], systems, [1, 1]);
            Ok(())
        })
        .expect("temperatures for hands");
}

#[test]
fn fahrenheit_stays_as_it_was_written_and_comes_out_even_in_celsius() {
    let text = |units: &str| {
        house(&format!(
            "units {units}\n  flour 66F\n  tap 54F\n  mixer spiral {{ holds 1 kg..9 kg; friction 11C }}"
        )) + "formula a \"A\" { makes 2 kg dough\n total { bread flour 100%; water 65%; salt 2% }\n method {\n mix 5min with everything else to 75F\n bulk 2h at 75F\n proof 1h at 39F..\n bake 20min at 425F then 20min at 220C\n } }"
    };
    let said = |units: &str| {
        let document = printed(&text(units), "en");
        let water = document.water.clone().expect("a temperature of the water");
        let phases = document.method.iter().flat_map(|step| &step.phases);
        let all: Vec<String> = phases
            .map(|it| it.to.clone().or(it.at.clone()).unwrap_or_default())
            .chain([water.target])
            .collect();
        all.join(", ")
    };
    // 425 °F are 218.3 °C, 75 °F are 23.9; 220 °C are 428 °F.
    assert_eq!(said("metric"), "24 °C, 24 °C, at least 4 °C, 220 °C (425 °F), 220 °C, 24 °C");
    assert_eq!(said("US"), "75 °F, 75 °F, at least 39 °F, 425 °F, 425 °F, 75 °F");
    assert_eq!(
        said("US and metric"),
        "75 °F / 24 °C, 75 °F / 24 °C, at least 39 °F / 4 °C, 425 °F / 220 °C, 425 °F / 220 °C, 75 °F / 24 °C"
    );
    let bakery = said("US\n  oven deck { holds 9 }");
    assert_eq!(bakery, "75 °F, 75 °F, at least 39 °F, 425 °F, 430 °F, 75 °F");
}

/// What a measure says, in millilitres, and whether it is called scant or generous.
fn measured(said: &str, cup: &Exact, spoon: &Exact) -> (Exact, i8) {
    let said = said.trim_start_matches("≈ ");
    let (said, mark) = match said.split_once(' ') {
        Some(("scant", rest)) => (rest, -1),
        Some(("generous", rest)) => (rest, 1),
        _ => (said, 0),
    };
    let worth = said.split(" + ").map(|part| {
        let (shown, unit) = part.rsplit_once(' ').unwrap_or_else(|| panic!("{said}"));
        let each = match unit {
            "ml" => int(1),
            "l" => int(1000),
            "cup" | "cups" => cup.clone(),
            "tbsp" => spoon * int(3),
            "tsp" => spoon.clone(),
            unit => panic!("{unit} of {said}"),
        };
        read(shown, ".") * each
    });
    (worth.fold(Exact::ZERO, |sum, part| sum + part), mark)
}

#[test]
fn volumes_are_what_spoons_and_cups_hold() {
    let stock = assize::testing::formula::built_in();
    let dense: Vec<(String, Exact)> = stock
        .ingredients()
        .filter(|it| it.class != assize::testing::formula::class::Class::Egg)
        .filter_map(|it| Some((it.name.shown.to_string(), it.grams_per_ml.clone()?)))
        .collect();
    assert!(dense.len() > 80, "{}", dense.len());
    let some = prop::collection::vec((0..dense.len(), 1..20_000u64, 0..4u32), 5);
    let seen = std::cell::Cell::new([0; 3]);
    TestRunner::new(ProptestConfig::with_cases(500))
        .run(&(some, any::<bool>()), |(some, us)| {
            let measures = if us { "US" } else { "metric" };
            // A US teaspoon is a 768th of 3785.411784 ml.
            let spoon = if us { ratio(3_785_411_784, 768_000_000) } else { int(5) };
            let cup = if us { &spoon * int(48) } else { int(250) };
            let mut text = house(&format!("measures {measures}\n  volumes beside weights"));
            text.push_str("formula a \"A\" { dough { bread flour 1 kg\n");
            for (index, (at, number, shift)) in some.iter().enumerate() {
                let grams = over(Exact::from(*number), int(10i64.pow(*shift)));
                let grams = assize::testing::quantity::display::decimal(&grams, 9);
                text.push_str(&format!(
                    "{} (no {}) {grams} g\n",
                    dense[*at].0,
                    ["a", "b", "c", "d", "e"][index]
                ));
            }
            let document = printed(&(text + "} }"), "en");
            for (line, (at, ..)) in document.mixes[0].lines.iter().skip(1).zip(&some) {
                let weight = line.weight.as_ref().expect("a weight");
                let is = over(exact(&weight.grams), &dense[*at].1);
                let said = line.volume.as_deref().expect("a volume");
                if said == "≈ a pinch" {
                    prop_assert!(is < spoon.one_in::<8>(), "{said} {is}");
                    continue;
                }
                let (shown, mark) = measured(said, &cup, &spoon);
                let half = match () {
                    () if is < &spoon * int(12) && us || is < int(30) => spoon.one_in::<8>(),
                    // From three quarters to a whole one there is none.
                    () if us => cup.one_in::<8>(),
                    () if is < int(200) => ratio(5, 2),
                    () if is < int(1000) => int(5),
                    () => int(50),
                };
                prop_assert!(off(&shown, &is) <= half, "{said} is {is} ml of {}", line.name);
                let far = off(&shown, &is) * int(20) > is;
                let spoons_or_cups = us || is < int(30);
                let expected = match far && spoons_or_cups {
                    true if is < shown => -1,
                    true => 1,
                    false => 0,
                };
                prop_assert_eq!(mark, expected, "{} is {} ml of {}", said, is, line.name);
                let mut count = seen.get();
                count[(mark + 1) as usize] += 1;
                seen.set(count);
            }
            Ok(())
        })
        .expect("volumes that a kitchen has");
    assert!(seen.get().iter().all(|count| *count > 20), "{:?}", seen.get());
}

#[test]
fn spoons_and_eggs_are_told_as_a_kitchen_counts_them() {
    let about = |line: &str, language: &str| {
        let text = house("measures US\n  volumes beside weights");
        let document = printed(
            &format!("{text}formula a \"A\" {{ dough {{ bread flour 1 kg; {line} }} }}"),
            language,
        );
        let line = document.mixes[0].lines[1].clone();
        line.written.or(line.volume).expect("a measure")
    };
    // The store: a whole egg is 50 g, a teaspoon of salt 6 g.
    for (line, said) in [
        ("whole egg 100 g", "≈ × 2"),
        ("whole egg 135 g", "≈ × 2¾"),
        ("whole egg 620 g", "≈ × 12"),
        ("egg yolk 34 g", "≈ × 2"),
        ("salt 6 g", "≈ 1 tsp"),
        ("salt 6.5 g", "≈ generous 1 tsp"),
        ("salt 2.6 g", "≈ scant ½ tsp"),
        ("salt 0.5 g", "≈ a pinch"),
        ("salt 27 g", "≈ 1½ tbsp"),
        ("salt 25.5 g", "≈ 1 tbsp + 1¼ tsp"),
        ("water 118.294 g", "≈ ½ cup"),
        ("water 98.6 g", "≈ ¼ cup + 3 tbsp"),
        // As it was written.
        ("honey 1/8 tsp", "⅛ tsp"),
        ("whole egg 3", "× 3"),
        ("honey 1 tbsp..2 tbsp", "1–2 tbsp"),
    ] {
        assert_eq!(about(line, "en"), said, "{line}");
    }
    for (language, scant, generous) in [
        ("de", "≈ knapp ½ TL", "≈ gut 1 TL"),
        ("fr", "≈ un peu moins de ½ c. à c.", "≈ un peu plus de 1 c. à c."),
        ("es", "≈ algo menos de ½ cdta.", "≈ algo más de 1 cdta."),
        ("it", "≈ poco meno di ½ cucch. da tè", "≈ poco più di 1 cucch. da tè"),
    ] {
        assert_eq!(about("salt 2.6 g", language), scant);
        assert_eq!(about("salt 6.5 g", language), generous);
    }
}

#[test]
fn what_grows_in_measures_is_told_in_measures_that_there_are() {
    let grown = |line: &str, flour: u32| {
        let text = format!("formula a \"A\" {{ dough {{ bread flour 1000 g; {line} }} }}");
        let loaded = loaded(&(house("measures US") + &text));
        let bakehouses = desk::bakehouses(&loaded);
        let formula = &bakehouses[0].files[0].tree.formulas[0];
        let yields = format!("from {flour} g bread flour");
        let makes =
            assize::testing::syntax::read_makes(SourceId::ASKED, &yields).0.expect("a yield");
        let worked = work_as(&bakehouses[0].house, formula, &makes, &mut Vec::new());
        let document = document(&bakehouses[0].house, &worked, &Wording::plain(), false);
        document.mixes[0].lines[1].written.clone().expect("a measure")
    };
    assert_eq!(grown("honey 2 tsp", 1370), "2¾ tsp");
    assert_eq!(grown("honey 2 tsp", 2000), "4 tsp");
    assert_eq!(grown("honey 1 tsp", 310), "generous ¼ tsp");
    assert_eq!(grown("honey 1 tbsp..2 tbsp", 1370), "1¼–2¾ tbsp");
    assert_eq!(grown("water 1 cup", 1370), "1⅓ cups");
    assert_eq!(grown("water 1 cup", 137), "2 tbsp + ½ tsp");
    assert_eq!(grown("whole egg 3", 1370), "× 4.1");
}
