//! One slip, one finding: every word and line of sound formulas, spoiled in every way in
//! which a person would, gives one finding as a rule, and no help that hurts.

use crate::support::{dough_files, findings, loaded};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level, repaired};
use assize::testing::formula::{key, work};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fs;

/// A way to spoil a text, with its name.
type Way = (&'static str, fn(&str) -> Vec<String>);

const WAYS: &[Way] = &[
    ("a letter left out", |word| {
        each_letter(word, |letters, at| {
            letters.remove(at);
        })
    }),
    ("two letters swapped", |word| {
        each_letter(word, |letters, at| {
            if at + 1 < letters.len() {
                letters.swap(at, at + 1);
            }
        })
    }),
    ("another language", |word| {
        let said = ELSEWHERE.iter().find(|(ours, _)| *ours == word);
        said.map(|(_, others)| others.iter().map(ToString::to_string).collect()).unwrap_or_default()
    }),
    ("another unit", |word| {
        let digits = word.trim_end_matches(|sign: char| sign.is_ascii_alphabetic());
        let unit = word.get(digits.len()..).unwrap_or_default();
        let is_amount = digits.starts_with(|sign: char| sign.is_ascii_digit()) && !unit.is_empty();
        if is_amount { vec![format!("{digits}q{unit}")] } else { Vec::new() }
    }),
    ("a word left out", |word| {
        let is_word = word.len() > 2 && word.chars().all(char::is_alphabetic);
        if is_word { vec![String::new()] } else { Vec::new() }
    }),
    ("a brace left out", |word| if word == "{" { vec![String::new()] } else { Vec::new() }),
    ("another bracket", |word| if word == "{" { vec!["(".into()] } else { Vec::new() }),
];

/// Words of the language, and what is said for them.
const ELSEWHERE: &[(&str, &[&str])] = &[
    ("formula", &["recipe", "Rezept", "recette", "ricetta", "receta"]),
    ("dough", &["ingredients", "Zutaten", "ingrédients", "ingredienti", "ingredientes"]),
    ("total", &["Zutaten", "ingrédients"]),
    ("method", &["instructions", "directions", "steps", "Zubereitung", "préparation"]),
    ("makes", &["yield", "yields", "ergibt", "serves"]),
    ("expect", &["claim", "check"]),
    ("salt", &["Salz", "sel", "sale", "sal"]),
    ("water", &["Wasser", "eau", "acqua", "agua"]),
];

/// What a word becomes at one of its letters in the middle; short words are left alone.
fn each_letter(word: &str, change: impl Fn(&mut Vec<char>, usize)) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    if letters.len() < 5 || !letters.iter().all(|letter| letter.is_ascii_lowercase()) {
        return Vec::new();
    }
    let mut changed = letters.clone();
    change(&mut changed, letters.len() / 2);
    vec![changed.into_iter().collect::<String>()].into_iter().filter(|it| it != word).collect()
}

/// Where the words of a text begin and end; not those of comments and texts in quotes.
fn words(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut all = Vec::new();
    let mut from = 0;
    for line in text.split_inclusive('\n') {
        let mut start = None;
        let mut quoted = false;
        for (at, letter) in line.char_indices() {
            if letter == '#' && !quoted {
                break;
            }
            quoted ^= letter == '"';
            let is_gap = quoted || letter.is_whitespace() || "\";,".contains(letter);
            match (start, is_gap) {
                (None, false) => start = Some(at),
                (Some(first), true) => {
                    all.push(from + first..from + at);
                    start = None;
                }
                _ => {}
            }
        }
        from += line.len();
    }
    all
}

/// Findings that are no notes.
fn serious(text: &str) -> Vec<Finding> {
    let mut all = findings(text);
    all.retain(|it| it.level != Level::Note && it.allowed.is_none());
    all
}

/// The same, without what is always told.
fn held_against_others(text: &str) -> Vec<Finding> {
    let mut all = serious(text);
    all.retain(|it| !ALWAYS.contains(&it.rule.name));
    all
}

/// A spoiled text.
struct Spoiled {
    way: &'static str,
    what: String,
    text: String,
}

/// A way to spoil a whole text: what was done at which byte, and the text then.
type WayOfTexts = (&'static str, fn(&str) -> Vec<(String, usize, String)>);

/// Where the lines of a text begin and end.
fn lines(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut from = 0;
    let each = text.split_inclusive('\n').map(|line| {
        let range = from..from + line.len();
        from += line.len();
        range
    });
    each.collect()
}

/// Each line that says something by itself, put otherwise.
fn each_line(text: &str, other: impl Fn(&str) -> Option<String>) -> Vec<(String, usize, String)> {
    let is_plain = |line: &str| !line.is_empty() && !line.contains(['#', '{', '}']);
    let said = lines(text).into_iter().filter(|range| is_plain(text[range.clone()].trim()));
    let spoiled = said.filter_map(|range| {
        let line = &text[range.clone()];
        let other = other(line)?;
        let text = format!("{}{other}{}", &text[..range.start], &text[range.end..]);
        Some((line.trim().to_owned(), range.start, text))
    });
    spoiled.collect()
}

/// Each place of a phrase, put otherwise.
fn each_place(text: &str, phrase: &str, other: &str) -> Vec<(String, usize, String)> {
    let put = |at: usize| format!("{}{other}{}", &text[..at], &text[at + phrase.len()..]);
    text.match_indices(phrase).map(|(at, _)| (phrase.to_owned(), at, put(at))).collect()
}

/// The name and the amount of a line: `water 65%`.
fn name_and_amount(line: &str) -> Option<(&str, &str)> {
    let at = line.find(|sign: char| sign.is_ascii_digit())?;
    let (name, amount) = line.trim_end().split_at_checked(at)?;
    let digits = amount.trim_end_matches(|sign: char| !sign.is_ascii_digit());
    let unit = amount.get(digits.len()..)?.trim();
    let is_number = digits.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    (["%", "g", "kg"].contains(&unit) && is_number && !name.trim().is_empty())
        .then_some((name, amount))
}

const WAYS_OF_TEXTS: &[WayOfTexts] = &[
    ("`and` for a comma", |text| each_place(text, ", ", " and ")),
    ("a quotation mark left out", |text| each_place(text, "\"", "")),
    ("a closing brace left out", |text| each_place(text, "}\n", "\n")),
    ("a line left out", |text| each_line(text, |_| Some(String::new()))),
    ("a line twice", |text| each_line(text, |line| Some(format!("{line}{line}")))),
    ("a bare mix", |text| {
        each_line(text, |line| line.trim().starts_with("mix ").then(|| "    mix\n".to_owned()))
    }),
    ("a name nobody knows", |text| {
        each_line(text, |line| {
            let (_, amount) = name_and_amount(line)?;
            Some(format!("    zorp {amount}\n"))
        })
    }),
    ("a digit too many", |text| {
        each_line(text, |line| {
            let (name, amount) = name_and_amount(line)?;
            let digits = amount.trim_end_matches(|sign: char| !sign.is_ascii_digit());
            Some(format!("{name}{digits}0{}\n", &amount[digits.len()..]))
        })
    }),
    ("a unit left out", |text| {
        each_line(text, |line| {
            let (name, amount) = name_and_amount(line)?;
            let digits = amount.trim_end_matches(|sign: char| !sign.is_ascii_digit());
            Some(format!("{name}{digits}\n"))
        })
    }),
];

/// Every spoiled state of the twenty breads, thinned so that the test takes seconds.
fn spoiled() -> Vec<Spoiled> {
    let mut all = Vec::new();
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut is_taken = |way: &'static str| {
        let count = seen.entry(way).or_default();
        *count += 1;
        let step = if way.contains("brac") { 3 } else { 13 };
        *count % step == 1
    };
    for file in dough_files("tests/breads") {
        let text = fs::read_to_string(&file).expect("readable");
        let name = file.file_stem().map(|it| it.to_string_lossy().into_owned()).unwrap_or_default();
        let line = |at: usize| text[..at].lines().count();
        for range in words(&text) {
            let word = &text[range.clone()];
            for (way, spoil) in WAYS {
                for other in spoil(word).into_iter().filter(|_| is_taken(way)) {
                    let what = format!("{name}:{} `{word}` → `{other}`", line(range.start));
                    let text = format!("{}{other}{}", &text[..range.start], &text[range.end..]);
                    all.push(Spoiled { way, what, text });
                }
            }
        }
        for (way, spoil) in WAYS_OF_TEXTS {
            for (said, at, text) in spoil(&text).into_iter().filter(|_| is_taken(way)) {
                all.push(Spoiled { way, what: format!("{name}:{} `{said}`", line(at)), text });
            }
        }
    }
    all
}

/// What is told beside any slip, since somebody's health may depend on it.
const ALWAYS: &[&str] = &[
    "absence-in-text",
    "allergen-in-name",
    "claim-not-proved",
    "eaten-raw",
    "ingredient-in-text",
    "stands-too-warm",
];

#[test]
fn one_slip_gives_one_finding() {
    let all = spoiled();
    assert!(all.len() > 700, "{}", all.len());
    let told: Vec<(&Spoiled, Vec<Finding>)> =
        all.par_iter().map(|it| (it, held_against_others(&it.text))).collect();
    let mut by_way: BTreeMap<&str, (usize, usize, usize)> = BTreeMap::new();
    let mut many = Vec::new();
    for (spoiled, found) in &told {
        let counts = by_way.entry(spoiled.way).or_default();
        counts.0 += 1;
        counts.1 += usize::from(found.len() > 1);
        counts.2 = counts.2.max(found.len());
        if found.len() > 1 {
            let said: Vec<String> =
                found.iter().map(|it| format!("    {}: {}", it.rule.name, it.message)).collect();
            many.push(format!("{}: {}\n{}", spoiled.way, spoiled.what, said.join("\n")));
        }
    }
    let table: Vec<String> = by_way
        .iter()
        .map(|(way, (all, many, most))| {
            format!("{way}: {many} of {all} give several, {most} at most")
        })
        .collect();
    let several: usize = by_way.values().map(|(_, many, _)| many).sum();
    let most = by_way.values().map(|(.., most)| *most).max().unwrap_or_default();
    if std::env::var_os("SPOILED").is_some() {
        eprintln!("{}\n{}", many.join("\n"), table.join("\n"));
    }
    assert!(several * 100 <= told.len() * MAX_OF_100, "{}", table.join("\n"));
    assert!(most <= MAX_AT_ONCE, "{}\n{}", many.join("\n"), table.join("\n"));
}

/// Of a hundred spoiled texts so many may give a second finding: mostly a lost brace or
/// quotation mark, where what is meant can be told in several ways.
const MAX_OF_100: usize = 2;
/// So many findings one slip may give: its own, and at most one that is not.
const MAX_AT_ONCE: usize = 2;

/// What is offered for a slip: the repair, and what stands in backticks in the help.
fn offered(finding: &Finding) -> Vec<String> {
    let help = finding.help.clone().unwrap_or_default();
    let quoted = help.split('`').skip(1).step_by(2).map(|it| key(it).to_string());
    quoted.chain(finding.repair.iter().map(|it| key(&it.text).to_string())).collect()
}

#[test]
fn no_slip_is_answered_with_what_hurts() {
    let table = include_str!("../words/forbidden.txt");
    let lines = table.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let forbidden: Vec<(String, Vec<String>)> = lines
        .filter_map(|line| line.split_once('|'))
        .map(|(one, never)| {
            (key(one).to_string(), never.split(',').map(|it| key(it).to_string()).collect())
        })
        .collect();
    let wrong: Vec<String> = spoiled()
        .par_iter()
        .flat_map_iter(|spoiled| {
            let is_bad = |it: &Finding| {
                offered(it).iter().any(|it| ["lye", "alum", "caustic soda"].contains(&it.as_str()))
            };
            let found = serious(&spoiled.text);
            let bad = found.iter().filter(|it| is_bad(it));
            bad.map(|it| format!("{}: {:?}", spoiled.what, it.help)).collect::<Vec<_>>()
        })
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(forbidden.len() > 90, "{}", forbidden.len());
    for (written, never) in forbidden {
        let places =
            [format!("{written} 1 g"), format!("{written} 30%"), format!("{written} 400 g")];
        for place in places {
            let text = format!(
                "formula a \"A\" {{\n  dough {{\n    bread flour 500 g\n    water 300 g\n    \
                 salt 10 g\n    fresh yeast 5 g\n    {place}\n  }}\n}}\n"
            );
            for finding in serious(&text).iter().filter(|it| it.rule.name == "unknown-ingredient") {
                let bad = offered(finding).into_iter().find(|it| never.contains(it));
                assert_eq!(bad, None, "{place}: {:?}", finding.help);
            }
        }
    }
}

/// Weights, times and temperatures of what was read.
fn readings(text: &str) -> Option<Vec<String>> {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let bakehouse = bakehouses.first()?;
    let mut all = Vec::new();
    for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
        let worked = work(&bakehouse.house, formula, &mut Vec::new());
        if !worked.sound {
            return None;
        }
        let numbers = worked.first();
        all.extend(numbers.dough_lines.iter().map(|line| format!("{} {:?}", line.key, line.mass)));
        for step in formula.method.iter().flat_map(|method| &method.steps) {
            let extents =
                step.phases.iter().flat_map(|phase| [&phase.duration, &phase.at, &phase.to]);
            let times = extents.map(|extent| {
                let ends = extent.iter().flat_map(|it| it.low.iter().chain(&it.high));
                ends.map(|end| format!("{:?} {:?}", end.number, end.unit)).collect::<String>()
            });
            all.extend(times);
        }
    }
    Some(all)
}

/// `--fix` mends no slip into another amount: where a spoiled text could be worked out, its
/// weights, times and temperatures are the same after its safe repairs.
#[test]
fn safe_repairs_of_a_slip_change_no_amount() {
    let wrong: Vec<String> = spoiled()
        .par_iter()
        .filter_map(|spoiled| {
            let before = readings(&spoiled.text)?;
            let found = findings(&spoiled.text);
            let source = found.iter().map(|it| it.span().source).find(|it| !it.is_built_in())?;
            let mended = repaired(source, &spoiled.text, &found).0;
            let after = readings(&mended)?;
            (before != after).then(|| format!("{}\n{before:?}\n{after:?}", spoiled.what))
        })
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}
