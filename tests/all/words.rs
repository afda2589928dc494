//! What people write in their first hour, and the wanted answer to each line:
//! `tests/words/first-words.txt`, whose head says how it is written.
//!
//! An entry that is `owed` is known to fail. The test fails where one that is not owed fails,
//! and where an owed one holds: `ASSIZE_REWRITE=1` takes those marks away. `WORDS=owed` shows
//! what is still wrong with the owed ones, `WORDS=all` what every entry gives.

use crate::support::{findings, loaded, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level, repaired};
use assize::testing::formula::class::Class;
use assize::testing::formula::{House, LineRef, WorkedLine, key, work};
use assize::testing::quantity::Exact;
use assize::testing::quantity::display::read_exact;
use assize::testing::source::SourceId;
use assize::testing::syntax::format;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::env;
use std::fs;
use std::path::PathBuf;

/// What an entry wants.
#[derive(Debug)]
enum Wanted<'f> {
    /// Neither an error nor a warning.
    Reads,
    /// Nothing at all, not even a note.
    Silent,
    /// A note of a name.
    Note(&'f str),
    /// So many findings that are no notes, one of which has one of the names, if there are any.
    Findings(usize, Vec<&'f str>),
    /// Each is said in a finding or a note; one of several parted by `|`.
    Says(Vec<&'f str>),
    /// None is said where a finding tells what to do.
    Never(Vec<&'f str>),
    /// The formatter writes such a line.
    Writes(&'f str),
    /// The safe repairs make such a line.
    Fixes(&'f str),
    /// The safe repairs and the formatter make such a line, and nothing is wrong then.
    Becomes(&'f str),
    /// The safe repairs leave everything as it was written.
    Kept,
    /// So many grams of an ingredient or a class go into the formula.
    Means(&'f str, &'f str),
}

#[derive(Debug)]
struct Entry<'f> {
    /// Counted from one.
    line: usize,
    owed: bool,
    written: String,
    text: String,
    wanted: Vec<Wanted<'f>>,
}

/// A name, and what must never be offered for it.
#[derive(Debug)]
struct Pair<'f> {
    line: usize,
    owed: bool,
    name: &'f str,
    never: Vec<&'f str>,
}

/// The data file, read.
#[derive(Default)]
struct File<'f> {
    frames: BTreeMap<&'f str, String>,
    forbidden: Vec<Pair<'f>>,
    entries: Vec<Entry<'f>>,
}

fn path() -> PathBuf {
    top().join("tests/words/first-words.txt")
}

/// What stands in a frame in the place of `<>`, each line as deep as the place.
fn framed(frame: &str, written: &str) -> String {
    let mut text = String::new();
    for line in frame.lines() {
        let Some(at) = line.find("<>") else {
            text.push_str(line);
            text.push('\n');
            continue;
        };
        let (before, after) = (&line[..at], &line[at + 2..]);
        let deep = if before.trim().is_empty() { before } else { "" };
        let written: Vec<&str> = written.lines().collect();
        text.push_str(before);
        text.push_str(&written.join(&format!("\n{deep}")));
        text.push_str(after);
        text.push('\n');
    }
    text
}

fn parted(list: &str) -> Vec<&str> {
    list.split(';').map(str::trim).filter(|part| !part.is_empty()).collect()
}

fn wanted(line: &str) -> Wanted<'_> {
    let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
    let rest = rest.trim();
    match word {
        "reads" if rest.is_empty() => Wanted::Reads,
        "reads" => Wanted::Writes(rest.strip_prefix("as ").expect("`reads as` a line")),
        "silent" => Wanted::Silent,
        "note" => Wanted::Note(rest),
        "finding" => Wanted::Findings(1, rest.split(" | ").filter(|it| !it.is_empty()).collect()),
        "findings" => Wanted::Findings(rest.parse().expect("a number"), Vec::new()),
        "offers" | "says" => Wanted::Says(parted(rest)),
        "never" => Wanted::Never(parted(rest)),
        "writes" => Wanted::Writes(rest),
        "fixes" => Wanted::Fixes(rest),
        "becomes" => Wanted::Becomes(rest),
        "kept" => Wanted::Kept,
        "means" => {
            let amount = rest.strip_suffix(" g").expect("grams");
            let (name, number) = amount.rsplit_once(' ').expect("a name and a number");
            Wanted::Means(name, number)
        }
        other => panic!("no outcome is called `{other}`"),
    }
}

/// What is put in by the lines that begin with `| `, and how many they are.
fn piped<'f>(lines: &[&'f str]) -> (String, usize) {
    let piped: Vec<&'f str> = lines.iter().map_while(|line| line.strip_prefix('|')).collect();
    let lines: Vec<&str> =
        piped.iter().map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
    (lines.join("\n"), piped.len())
}

fn read_file(text: &str) -> File<'_> {
    let mut file = File::default();
    let lines: Vec<&str> = text.lines().collect();
    let mut at = 0;
    while let Some(line) = lines.get(at) {
        at += 1;
        if line.trim().is_empty() || line.starts_with('#') {
            continue;
        }
        let (owed, entry) = match line.strip_prefix("owed ") {
            Some(rest) => (true, rest),
            None => (false, *line),
        };
        if let Some(pair) = entry.strip_prefix("forbidden ") {
            let (name, others) = pair.split_once(" > ").expect("a name > what it never is");
            let pair = Pair { line: at, owed, name: name.trim(), never: parted(others) };
            file.forbidden.push(pair);
            continue;
        }
        if let Some(name) = line.strip_prefix("frame ") {
            let (frame, taken) = piped(&lines[at..]);
            at += taken;
            assert!(frame.contains("<>"), "line {at}: a frame has a place `<>`");
            file.frames.insert(name.trim(), frame);
            continue;
        }
        let first = at;
        let (name, written) = entry
            .split_once(": ")
            .or_else(|| Some((entry.strip_suffix(':')?, "")))
            .unwrap_or_else(|| panic!("line {first}: `{entry}` names no frame"));
        let (more, taken) = piped(&lines[at..]);
        at += taken;
        let written = if taken > 0 { more } else { written.to_owned() };
        let frame = file.frames.get(name);
        let frame = frame.unwrap_or_else(|| panic!("line {first}: no frame is called `{name}`"));
        let text = framed(frame, &written);
        let outcome = lines[at..].iter().map_while(|line| line.strip_prefix("  "));
        let mut entry = Entry { line: first, owed, written, text, wanted: Vec::new() };
        for line in outcome {
            at += 1;
            let wanted = wanted(line.trim());
            if matches!(wanted, Wanted::Writes(_)) && line.trim().starts_with("reads") {
                entry.wanted.push(Wanted::Reads);
            }
            entry.wanted.push(wanted);
        }
        assert!(!entry.wanted.is_empty(), "line {first}: nothing is wanted");
        file.entries.push(entry);
    }
    file
}

/// One blank between words, none around nor between a number and its unit.
fn plain(line: &str) -> String {
    const UNITS: [&str; 17] = [
        "g", "kg", "mg", "ml", "cl", "dl", "l", "oz", "lb", "tsp", "tbsp", "s", "min", "h", "d",
        "C", "F",
    ];
    let mut plain = String::new();
    for word in line.split_whitespace() {
        let is_unit = UNITS.contains(&word.trim_end_matches([',', ';']));
        let touches = is_unit && plain.ends_with(|sign: char| sign.is_ascii_digit());
        if !plain.is_empty() && !touches {
            plain.push(' ');
        }
        plain.push_str(word);
    }
    plain
}

fn has_line(text: &str, wanted: &str) -> bool {
    let wanted = plain(wanted);
    text.lines().any(|line| plain(line) == wanted)
}

/// Whether a text holds a phrase that is no part of a longer word.
fn holds(text: &str, phrase: &str) -> bool {
    let (text, phrase) = (text.to_lowercase(), phrase.to_lowercase());
    let ends = |sign: Option<char>| sign.is_none_or(|sign| !sign.is_alphanumeric());
    let opens = phrase.chars().next().is_some_and(char::is_alphanumeric);
    let closes = phrase.chars().last().is_some_and(char::is_alphanumeric);
    text.match_indices(&phrase).any(|(at, _)| {
        (!opens || ends(text[..at].chars().last()))
            && (!closes || ends(text[at + phrase.len()..].chars().next()))
    })
}

/// What a finding tells to do.
fn told(finding: &Finding) -> String {
    let repair = finding.repair.as_ref().map_or("", |repair| repair.text.as_str());
    format!("{}\n{repair}", finding.help.as_deref().unwrap_or_default())
}

fn everything(finding: &Finding) -> String {
    format!("{}\n{}\n{}", finding.message, finding.notes.join("\n"), told(finding))
}

/// The names in backticks of what a finding tells to do.
fn offered(finding: &Finding) -> Vec<String> {
    let told = told(finding);
    told.split('`').skip(1).step_by(2).map(key).map(|key| key.to_string()).collect()
}

fn formatted(text: &str) -> Option<String> {
    let id = SourceId(9);
    format(id, text).ok()
}

/// A text with its safe repairs made, until there are none.
fn fixed(text: &str) -> String {
    let mut text = text.to_owned();
    for _ in 0..4 {
        let found = findings(&text);
        let own = found.iter().map(|it| it.span().source).find(|it| !it.is_built_in());
        let Some(source) = own else { break };
        let (mended, made) = repaired(source, &text, &found);
        if made == 0 {
            break;
        }
        text = mended;
    }
    text
}

/// Whether a line puts in an ingredient, a class of them, or what is written like that.
fn puts_in(house: &House, line: &WorkedLine, name: &str) -> bool {
    match line.goes {
        LineRef::Ingredient(id) => {
            let ingredient = house.ingredient(id);
            let class = Class::read(name);
            ingredient.name.key == name || class.is_some_and(|class| ingredient.class == class)
        }
        _ => line.key == name,
    }
}

/// Grams of an ingredient or class in all mixes of the first formula.
fn grams(text: &str, name: &str) -> Exact {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let house = &bakehouses[0].house;
    let Some(formula) = bakehouses[0].files[0].tree.formulas.first() else { return Exact::ZERO };
    let worked = work(house, formula, &mut Vec::new());
    let numbers = worked.first();
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    let pieces = numbers.pieces.iter().flat_map(|piece| &piece.lines);
    let lines = numbers.dough_lines.iter().chain(stages).chain(pieces);
    lines.filter(|line| puts_in(house, line, name)).fold(Exact::ZERO, |sum, line| sum + &line.mass)
}

/// Whether a mass is what a number says, to half of its last digit.
fn is_about(mass: &Exact, number: &str) -> bool {
    let wanted = read_exact(number).expect("a number");
    let digits = number.split_once('.').map_or(0, |(_, digits)| digits.len());
    let half = (0..digits).fold(Exact::ONE, |step, _| step.one_in::<10>()).one_in::<2>();
    let off = mass - &wanted;
    off <= half && -off <= half
}

/// How what is found differs from one wanted outcome.
fn missed(entry: &Entry, wanted: &Wanted, found: &[Finding]) -> Option<String> {
    let heavy: Vec<&Finding> =
        found.iter().filter(|it| it.level != Level::Note && it.allowed.is_none()).collect();
    let says = |phrase: &str| {
        let mut ways = phrase.split(" | ");
        ways.any(|way| found.iter().any(|it| holds(&everything(it), way.trim())))
    };
    match wanted {
        Wanted::Reads => (!heavy.is_empty()).then(|| format!("{} findings", heavy.len())),
        Wanted::Silent => {
            (!found.is_empty()).then(|| format!("{} findings and notes", found.len()))
        }
        Wanted::Note(name) => {
            let there = found.iter().any(|it| it.level == Level::Note && it.rule.name == *name);
            (!there).then(|| format!("no note `{name}`"))
        }
        Wanted::Findings(count, names) => {
            let named = names.is_empty() || heavy.iter().any(|it| names.contains(&it.rule.name));
            if heavy.len() != *count {
                return Some(format!("{} findings, not {count}", heavy.len()));
            }
            (!named).then(|| format!("none is {}", names.join(" or ")))
        }
        Wanted::Says(phrases) => {
            let phrase = phrases.iter().find(|phrase| !says(phrase))?;
            Some(format!("does not say `{phrase}`"))
        }
        Wanted::Never(phrases) => {
            let harm = |phrase: &&&str| found.iter().any(|it| holds(&told(it), phrase));
            phrases.iter().find(harm).map(|phrase| format!("offers `{phrase}`"))
        }
        Wanted::Writes(line) => match formatted(&entry.text) {
            None => Some("can't be laid out".to_owned()),
            Some(text) => (!has_line(&text, line)).then(|| {
                let own: Vec<&str> = text
                    .lines()
                    .filter(|line| !has_line(&entry.text, line))
                    .map(str::trim)
                    .collect();
                format!("does not write `{line}`, but `{}`", own.join("` `"))
            }),
        },
        Wanted::Fixes(line) => {
            let fixed = fixed(&entry.text);
            (!has_line(&fixed, line)).then(|| format!("is not repaired to `{line}`"))
        }
        Wanted::Becomes(line) => {
            let fixed = fixed(&entry.text);
            let left = findings(&fixed).iter().filter(|it| it.level != Level::Note).count();
            let text = formatted(&fixed).unwrap_or_default();
            let there = left == 0 && has_line(&text, line);
            (!there).then(|| format!("does not become `{line}`: {left} findings are left"))
        }
        Wanted::Kept => (fixed(&entry.text) != entry.text).then(|| "is repaired".to_owned()),
        Wanted::Means(name, number) => {
            let mass = grams(&entry.text, name);
            (!is_about(&mass, number)).then(|| format!("holds {mass} g of {name}, not {number}"))
        }
    }
}

/// What is offered that must never be for what was written.
fn harm(file: &File, entry: &Entry, found: &[Finding]) -> Option<String> {
    let offered: Vec<String> = found.iter().flat_map(offered).collect();
    let pairs = file.forbidden.iter().filter(|pair| !pair.owed && holds(&entry.written, pair.name));
    let pairs = pairs.flat_map(|pair| pair.never.iter().map(move |never| (pair.name, *never)));
    let (name, never) = pairs
        .filter(|(_, never)| !holds(&entry.written, never))
        .find(|(_, never)| offered.iter().any(|offered| offered == never))?;
    Some(format!("offers `{never}` for `{name}`"))
}

/// What is found, for people.
fn listed(found: &[Finding]) -> String {
    let listed = found.iter().map(|it| {
        let help = it.help.as_deref().map(|help| format!(" — {help}")).unwrap_or_default();
        let notes = it.notes.iter().map(|note| format!("\n        ({note})")).collect::<String>();
        format!("    {} [{}] {}{help}{notes}", it.level.word(), it.rule.name, it.message)
    });
    listed.collect::<Vec<_>>().join("\n")
}

struct Outcome<'e, 'f> {
    entry: &'e Entry<'f>,
    missed: Vec<String>,
    found: Vec<Finding>,
}

impl Outcome<'_, '_> {
    fn shown(&self) -> String {
        let missed: Vec<String> = self.missed.iter().map(|it| format!("\n    ! {it}")).collect();
        let Entry { line, written, .. } = self.entry;
        format!(
            "{line}: {}{}\n{}",
            written.replace('\n', " ⏎ "),
            missed.concat(),
            listed(&self.found)
        )
    }
}

fn outcome<'e, 'f>(file: &File, entry: &'e Entry<'f>) -> Outcome<'e, 'f> {
    let found = findings(&entry.text);
    let wanted = entry.wanted.iter().filter_map(|wanted| missed(entry, wanted, &found));
    let missed = wanted.chain(harm(file, entry, &found)).collect();
    Outcome { entry, missed, found }
}

/// Takes the mark `owed` from some lines of the data file.
fn settle(text: &str, lines: &[usize]) {
    let settled: Vec<&str> = text
        .lines()
        .enumerate()
        .map(|(at, line)| match lines.contains(&(at + 1)) {
            true => line.strip_prefix("owed ").unwrap_or(line),
            false => line,
        })
        .collect();
    fs::write(path(), settled.join("\n") + "\n").expect("written");
}

#[test]
fn first_words_get_the_answer_that_is_wanted() {
    let text = fs::read_to_string(path()).expect("the first words");
    let file = read_file(&text);
    let outcomes: Vec<Outcome> =
        file.entries.par_iter().map(|entry| outcome(&file, entry)).collect();
    let asked = env::var("WORDS").unwrap_or_default();
    let (mut wrong, mut settled, mut owed) = (Vec::new(), Vec::new(), 0);
    for outcome in &outcomes {
        let (holds, is_owed) = (outcome.missed.is_empty(), outcome.entry.owed);
        owed += usize::from(is_owed);
        match (holds, is_owed) {
            (false, false) => wrong.push(outcome.shown()),
            (true, true) => settled.push(outcome.entry.line),
            _ => {}
        }
        if asked == "all" || asked == "owed" && is_owed && !holds {
            println!("{}\n", outcome.shown());
        }
    }
    println!("{} first words, {owed} owed", outcomes.len());
    if !settled.is_empty() && env::var_os("ASSIZE_REWRITE").is_some() {
        settle(&text, &settled);
        settled.clear();
    }
    assert!(wrong.is_empty(), "{} answers are not as wanted:\n{}", wrong.len(), wrong.join("\n\n"));
    assert!(
        settled.is_empty(),
        "no longer owed (ASSIZE_REWRITE=1 takes the marks away): lines {settled:?}"
    );
}

/// What is found in a text, by name and level; without what a layout mends.
fn codes(text: &str) -> Vec<String> {
    let mended = ["read-as", "unseen-letter"];
    let found = findings(text).into_iter().filter(|it| !mended.contains(&it.rule.name));
    let mut codes: Vec<String> =
        found.map(|it| format!("{} {}", it.level.word(), it.rule.name)).collect();
    codes.sort();
    codes
}

/// Layout mends what its page says, and neither hides nor brings anything else.
#[test]
fn what_is_found_in_first_words_is_found_once_they_are_laid_out() {
    let text = fs::read_to_string(path()).expect("the first words");
    let file = read_file(&text);
    let odd = |text: &str| {
        let laid_out = formatted(text).filter(|laid_out| laid_out != text)?;
        let (before, after) = (codes(text), codes(&laid_out));
        Some(
            (before != after)
                .then(|| format!("{laid_out}\n  before {before:?}\n  after {after:?}")),
        )
    };
    let judged: Vec<(usize, Option<String>)> =
        file.entries.par_iter().filter_map(|entry| Some((entry.line, odd(&entry.text)?))).collect();
    let seen = judged.len();
    let fallen: Vec<String> = judged
        .into_iter()
        .filter_map(|(line, odd)| Some(format!("line {line}: {}", odd?)))
        .collect();
    assert!(fallen.is_empty(), "{} of {seen} fell:\n{}", fallen.len(), fallen.join("\n\n"));
    assert!(seen > 1_000, "{seen} texts moved");
}

/// A name as it is, and with each letter but the first left out.
fn slips(name: &str) -> impl Iterator<Item = String> {
    let letters: Vec<char> = name.chars().collect();
    let slips: Vec<String> = (1..=letters.len())
        .map(|at| {
            let kept = letters.iter().enumerate().filter(|(other, _)| *other != at);
            kept.map(|(_, letter)| *letter).collect()
        })
        .collect();
    slips.into_iter()
}

/// Where one of a pair is offered for the other.
fn harms(file: &File, pair: &Pair) -> Vec<String> {
    let places = [
        ("dough", format!("{} 20 g", pair.name)),
        ("method", format!("mix 5min with {}, everything else\nbake 30min at 230C", pair.name)),
    ];
    let offers = places.into_iter().flat_map(|(frame, line)| {
        let text = framed(file.frames.get(frame).expect("a frame"), &line);
        let offered: Vec<String> = findings(&text).iter().flat_map(offered).collect();
        let never = pair.never.iter().filter(|never| offered.iter().any(|it| it == *never));
        never.map(|never| format!("`{never}` is offered for `{line}`")).collect::<Vec<_>>()
    });
    let near = slips(pair.name).filter(|slip| !pair.never.contains(&slip.as_str()));
    let near = near.filter_map(|slip| {
        let text = framed(file.frames.get("dough").expect("a frame"), &format!("{slip} 20 g"));
        let offered: Vec<String> = findings(&text).iter().flat_map(offered).collect();
        let never = pair.never.iter().find(|never| offered.iter().any(|it| it == *never))?;
        Some(format!("`{never}` is near `{slip}`"))
    });
    offers.chain(near).collect()
}

/// Each forbidden pair as somebody would meet it: the name on a line of a dough and in a step,
/// and with a slip of the finger.
#[test]
fn nothing_forbidden_is_ever_offered() {
    let text = fs::read_to_string(path()).expect("the first words");
    let file = read_file(&text);
    let judged: Vec<(&Pair, Vec<String>)> =
        file.forbidden.par_iter().map(|pair| (pair, harms(&file, pair))).collect();
    let wrong: Vec<&String> =
        judged.iter().filter(|(pair, _)| !pair.owed).flat_map(|(_, harms)| harms).collect();
    let held = judged.iter().filter(|(pair, harms)| pair.owed && harms.is_empty());
    let held: Vec<usize> = held.map(|(pair, _)| pair.line).collect();
    assert!(file.forbidden.len() >= 60, "{} pairs", file.forbidden.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(held.is_empty(), "no longer owed: lines {held:?}");
}

/// What goes into the dough of the first formula: each name with its grams.
fn dough_of(text: &str) -> Vec<(String, Exact)> {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let house = &bakehouses[0].house;
    let Some(formula) = bakehouses[0].files[0].tree.formulas.first() else { return Vec::new() };
    let worked = work(house, formula, &mut Vec::new());
    let lines = worked.first().dough_lines.iter();
    lines.map(|line| (line.key.to_string(), line.mass.clone())).collect()
}

/// Names that hold numbers, beside amounts in every form: what is read without an error is
/// read the same after `fmt` and after the safe repairs, and twice laid out it is as it was
/// once.
#[test]
fn no_name_and_no_amount_is_broken_by_being_laid_out() {
    const NAMES: [&str; 17] = [
        "farina 0",
        "farina 00",
        "farina tipo 1",
        "farina tipo 00",
        "Mehl Type 550",
        "Weizenmehl 405",
        "Weizenmehl, Type 550",
        "Mehl Type 1050",
        "farine T65",
        "farine type 65",
        "harina 000",
        "00 flour",
        "0 flour",
        "550 Mehl",
        "bread flour",
        "whole egg",
        "Eier Größe M",
    ];
    const AMOUNTS: [&str; 29] = [
        "500 g",
        "500g",
        "0.5 kg",
        ".5 kg",
        "1/2 kg",
        "½ kg",
        "1 1/2 kg",
        "1½ kg",
        "1 ½ kg",
        "1-1/2 kg",
        "2/3 kg",
        "1/4 de kg",
        "1 lb 2 oz",
        "1lb2oz",
        "1lb 2oz",
        "1 lb2oz",
        "2 lb",
        "18 oz",
        "50 dag",
        "50dag",
        "5 hg",
        "mezzo chilo",
        "medio kilo",
        "half a kilo",
        "ein halbes Kilo",
        "one and a half kilos",
        "1 and a half kilos",
        "2 x 250 g",
        "about 500 g",
    ];
    const JOINED: [&str; 7] = ["N A", "A N", "A of N", "A di N", "A de N", "N: A", "N, A"];
    let frame = "formula quay-loaf \"Quay Loaf\" {\n  dough {\n    <>\n    water 325 g\n    salt \
                 10 g\n  }\n}\n";
    let is_wrong = |text: &str| findings(text).iter().any(|it| it.level == Level::Error);
    let lines: Vec<String> = NAMES
        .iter()
        .flat_map(|name| AMOUNTS.iter().map(move |amount| (name, amount)))
        .flat_map(|(name, amount)| {
            JOINED.iter().map(move |joined| joined.replace('N', name).replacen('A', amount, 1))
        })
        .collect();
    let judged: Vec<(bool, Option<String>)> = lines
        .par_iter()
        .map(|line| {
            let text = framed(frame, line);
            let (meant, wrong) = (dough_of(&text), is_wrong(&text));
            let laid = formatted(&text).unwrap_or_default();
            let mended = fixed(&text);
            let twice = formatted(&laid).unwrap_or_default();
            let kept = laid == twice && dough_of(&laid) == meant && (wrong || !is_wrong(&laid));
            let safe = wrong || dough_of(&mended) == meant;
            let told = (!kept || !safe).then(|| format!("{line}\n{laid}{mended}"));
            (wrong, told)
        })
        .collect();
    let read = judged.iter().filter(|(wrong, _)| !wrong).count();
    let broken: Vec<&String> = judged.iter().filter_map(|(_, told)| told.as_ref()).collect();
    println!("{read} of {} lines are read", lines.len());
    assert!(broken.is_empty(), "{} are broken:\n{}", broken.len(), {
        let first: Vec<&str> = broken.iter().take(30).map(|it| it.as_str()).collect();
        first.join("\n")
    });
    assert!(read > 1_500, "{read} of {}", lines.len());
}
