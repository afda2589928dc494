//! Every amount of every example at nothing, a tenth and ten times of it: nobody is told
//! nonsense, no claim about it stays proved, and what spoils the bread is told.

use crate::support::{dough_files, findings};
use assize::testing::diag::{Finding, Level};
use assize::testing::formula::class::Class;
use assize::testing::formula::{built_in, key};
use rayon::prelude::*;
use std::fs;
use std::ops::Range;

/// What an amount is written in, on a line of an ingredient.
const UNITS: [&str; 11] = ["%", "g", "kg", "oz", "lb", "ml", "l", "cup", "cups", "tsp", "tbsp"];

/// An amount on a line of something that is mixed.
struct Amount {
    name: String,
    number: f64,
    /// Where its digits stand.
    digits: Range<usize>,
}

/// The name before a place, back to what ends a statement.
fn name_before(text: &str, at: usize) -> Option<String> {
    let before = text[..at].trim_end_matches(' ');
    let from = before.rfind(['\n', '{', ';', '}']).map_or(0, |end| end + 1);
    let name = before.get(from..)?.trim();
    let is_name = |letter: char| letter.is_alphabetic() || matches!(letter, ' ' | '-' | '\'');
    (!name.is_empty() && name.chars().all(is_name)).then(|| key(name).to_string())
}

/// All amounts of lines whose name is an ingredient's, by their places.
fn amounts(text: &str) -> Vec<Amount> {
    let mut all = Vec::new();
    let mut at = 0;
    while let Some(start) = text[at..].find(|letter: char| letter.is_ascii_digit()) {
        let from = at + start;
        let is_digit = |letter: char| letter.is_ascii_digit() || letter == '.';
        let length = text[from..].find(|letter| !is_digit(letter)).unwrap_or(text.len() - from);
        at = from + length;
        let rest = text[at..].trim_start_matches(' ');
        let unit = rest.split(|l: char| l.is_whitespace() || ";}".contains(l)).next();
        let is_amount = unit.is_some_and(|unit| UNITS.contains(&unit));
        let (Some(name), Ok(number)) = (name_before(text, from), text[from..at].parse()) else {
            continue;
        };
        let is_known = built_in().ingredient_named(&name).is_some();
        if is_amount && is_known && text[..from].ends_with(' ') {
            all.push(Amount { name, number, digits: from..at });
        }
    }
    all
}

/// A text with one amount so many times as large.
struct Slip {
    what: String,
    class: Class,
    times: f64,
    text: String,
    file: usize,
}

fn slips(file: usize, name: &str, text: &str) -> Vec<Slip> {
    let end = text.find(HOUSE).unwrap_or(text.len());
    let of = |amount: &Amount, times: f64| {
        let number = format!("{:.6}", amount.number * times);
        let number = number.trim_end_matches('0').trim_end_matches('.');
        let class = built_in().ingredient_named(&amount.name)?.class;
        let line = text[..amount.digits.start].lines().count();
        let mut text = text.to_owned();
        text.replace_range(amount.digits.clone(), number);
        let what = format!("{name}:{line} {} × {times}", amount.name);
        Some(Slip { what, class, times, text, file })
    };
    let all = amounts(&text[..end]);
    all.iter().flat_map(|it| [0.0, 0.1, 10.0].into_iter().filter_map(|by| of(it, by))).collect()
}

fn is_serious(finding: &&Finding) -> bool {
    finding.level != Level::Note && finding.allowed.is_none()
}

fn serious(all: &[Finding]) -> Vec<String> {
    all.iter().filter(is_serious).map(|it| format!("{}: {}", it.rule.name, it.message)).collect()
}

/// Weights and shares below nothing, and numbers that no scale shows.
fn is_nonsense(finding: &Finding) -> bool {
    let texts = [Some(&finding.message), finding.help.as_ref()];
    let all = texts.into_iter().flatten().chain(&finding.notes);
    all.into_iter().any(|text| {
        let words = text.split([' ', '`', '\u{a0}']);
        words.into_iter().any(|word| {
            let below = word.strip_prefix(['−', '-']).unwrap_or_default();
            let is_below = below.starts_with(|first: char| first.is_ascii_digit());
            is_below || matches!(word, "NaN" | "inf")
        })
    })
}

/// Amounts that make bread nobody eats, or none at all, a tenfold either way.
fn spoils(class: Class, times: f64) -> bool {
    match class {
        Class::Salt | Class::Water | Class::Yeast | Class::Leavener => true,
        Class::Flour | Class::Spice | Class::Improver => times > 1.0,
        _ => false,
    }
}

/// What stands between a formula and the house that it is checked in.
const HOUSE: &str = "# The house";

/// What is silent though it spoils, and why that is right.
const RIGHT: &[(&str, &str)] = &[
    ("05-pizza:5 water", "what an ingredient declares need not be all of it"),
    ("06-bagels:24 water × 0.1", "a bath is told by what is in it, and this holds malt only"),
    ("06-bagels:24 water × 10", "a bath of malt in more water"),
    ("capstan-bagels:20 water × 0.1", "a bath of malt in less water"),
    ("capstan-bagels:20 water × 10", "a bath of malt in more water"),
    ("lantern-ciabatta:24 fresh yeast × 0.1", "the biga raises it, only later"),
    ("17-one-levain-four-formulas:163 rosemary × 10", "20 g of fresh sprigs on a tray"),
    ("quayside-focaccia:28 rosemary × 10", "20 g of fresh sprigs on a tray"),
];

#[test]
fn no_amount_slips_by_a_digit_unnoticed() {
    let shared = fs::read_to_string("examples/gullhaven/slipway-loaf.dough").expect("readable");
    let files = dough_files("tests/breads").into_iter().chain(dough_files("examples/gullhaven"));
    let house = fs::read_to_string("examples/gullhaven/bakehouse.dough").expect("readable");
    let texts: Vec<(String, String)> = files
        .filter(|path| !path.ends_with("bakehouse.dough"))
        .map(|path| {
            let mut text = fs::read_to_string(&path).expect("readable");
            if path.parent().is_some_and(|folder| folder.ends_with("gullhaven")) {
                let shared = if text.contains("from slipway-loaf") { &shared } else { "" };
                text = format!("{text}\n{HOUSE}\n{house}\n{shared}");
            }
            (path.file_stem().unwrap_or_default().to_string_lossy().into_owned(), text)
        })
        .collect();
    let before: Vec<Vec<String>> =
        texts.par_iter().map(|(_, text)| serious(&findings(text))).collect();
    let each = texts.iter().enumerate();
    let all: Vec<Slip> = each.flat_map(|(at, (name, text))| slips(at, name, text)).collect();
    assert!(all.len() > 600, "{}", all.len());
    let judged: Vec<(&Slip, bool, Vec<String>)> = all
        .par_iter()
        .map(|slip| {
            let found = findings(&slip.text);
            let told = serious(&found).iter().any(|it| !before[slip.file].contains(it));
            let nonsense = found.iter().filter(|it| is_nonsense(it));
            (slip, told, nonsense.map(|it| format!("{:?}", it.message)).collect())
        })
        .collect();
    let nonsense: Vec<String> = judged
        .iter()
        .filter(|(.., nonsense)| !nonsense.is_empty())
        .map(|(slip, _, said)| format!("{}: {said:?}", slip.what))
        .collect();
    let is_right = |slip: &Slip| RIGHT.iter().any(|(what, _)| slip.what.starts_with(what));
    let silent: Vec<&str> = judged
        .iter()
        .filter(|(slip, told, _)| !told && spoils(slip.class, slip.times) && !is_right(slip))
        .map(|(slip, ..)| slip.what.as_str())
        .collect();
    let told = judged.iter().filter(|(_, told, _)| *told).count();
    println!("{told} of {} told", all.len());
    assert!(nonsense.is_empty(), "{nonsense:#?}");
    assert!(silent.is_empty(), "{}: {silent:#?}", silent.len());
}
