//! Files as an editor has them while somebody types, and files that nobody would write:
//! whatever they hold, they end with findings, never with a crash.
//!
//! Each target takes a seed and a count. `cargo test` runs a fixed count of each;
//! `ASSIZE_FUZZ=100 cargo test --release --test all fuzz` runs a hundred times as many.

use crate::support::{Memory, dough_files, loaded, top};
use assize::testing::desk::{self, load};
use assize::testing::diag::{Finding, repaired};
use assize::testing::formula::work;
use assize::testing::print::assets::PrintAssets;
use assize::testing::print::pages::{Format, Press, Print};
use assize::testing::print::{Wording, document, json, wording};
use assize::testing::source::{SourceId, Span, is_blank, is_unseen};
use assize::testing::syntax::{Item, Untouched, format, manuscript, outline, read, says_alike};
use assize::testing::time::clock::Zone;
use assize::testing::time::{Anchor, PlanRequest, graph, plan};
use std::fs;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

const ID: SourceId = SourceId(9);

/// How often each target runs its count.
fn times() -> usize {
    std::env::var("ASSIZE_FUZZ").ok().and_then(|times| times.parse().ok()).unwrap_or(1)
}

/// A plain generator, so that a seed gives the same files on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        // Knuth's MMIX constants.
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides.max(1)
    }

    fn pick<'t>(&mut self, from: &'t [String]) -> &'t str {
        from.get(self.roll(from.len())).map_or("", String::as_str)
    }
}

/// The declarations of our own files, each by itself.
static CORPUS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let folders = ["examples/gullhaven", "src/cli/new", "examples/mistakes", "tests/breads"];
    let files = folders.iter().flat_map(|folder| dough_files(folder));
    let texts = files.map(|file| fs::read_to_string(file).expect("readable"));
    let parts = texts.flat_map(|text| {
        let items = outline(ID, &text).items;
        items
            .iter()
            .filter(|item| item.block.is_some())
            .map(|item| format!("{}\n", &text[item.start as usize..item.end as usize]))
            .collect::<Vec<_>>()
    });
    let parts: Vec<String> = parts.collect();
    assert!(parts.len() > 100, "{} declarations", parts.len());
    parts
});

/// Signs, blanks, numbers and words that break what expects others.
const ODD: &[&str] = &[
    "{",
    "}",
    "\"",
    "#",
    ",",
    ";",
    "(",
    ")",
    "..",
    "-",
    "–",
    "%",
    "°",
    "=",
    "0",
    "0%",
    "0 g",
    "1/0",
    "1/3",
    "½",
    "-1",
    "1e9",
    "999999999999999999",
    "99999999999999999999",
    "0.000001 g",
    "100000 kg",
    "\n",
    "\r\n",
    "\t",
    "\u{b}",
    "\u{c}",
    "\u{85}",
    "\u{a0}",
    "\u{2009}",
    "\u{202f}",
    "\u{2028}",
    "\u{2029}",
    "\u{3000}",
    "\u{feff}",
    "\u{200b}",
    "\u{ad}",
    "\u{202e}",
    "\u{301}",
    "\u{1}",
    "é",
    "🍞",
    "“",
    "”",
    "\\",
    "of flour",
    "of dough",
    "kept back from",
    "everything else",
    "each",
    "at least",
    "ferments 0% of flour",
    "ferments 100% of flour",
    "weighs 0 g",
    "save 1 kg",
    "total { }",
    "dough { }",
    "method { }",
    "piece { }",
    "makes 0 loaves",
    "makes 1 loaf at 0 g",
    "-300C",
    "99999C",
    "0min",
    "1000000d",
    "# note\n",
    ", # note\n  ",
    "3 times",
    "loses 100%",
    "to 25C",
    "until",
];

static WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let of_files = CORPUS.iter().flat_map(|text| {
        tokens(text).into_iter().map(|part| text[part].to_owned()).collect::<Vec<_>>()
    });
    let mut words: Vec<String> = of_files.collect();
    words.sort();
    words.dedup();
    words.extend(ODD.iter().cycle().take(words.len()).map(|odd| (*odd).to_owned()));
    words
});

/// Where the tokens of a text stand, of any text: letters and digits that touch, or one
/// other letter.
fn tokens(text: &str) -> Vec<Range<usize>> {
    let mut parts: Vec<Range<usize>> = Vec::new();
    let is_word = |letter: char| letter.is_alphanumeric() || letter == '.' || letter == '-';
    let mut in_word = false;
    for (at, letter) in text.char_indices().filter(|(_, letter)| *letter != ' ') {
        let end = at + letter.len_utf8();
        match parts.last_mut() {
            Some(last) if in_word && is_word(letter) && last.end == at => last.end = end,
            _ => parts.push(at..end),
        }
        in_word = is_word(letter);
    }
    parts
}

/// What stands between the braces of every block.
fn insides(items: &[Item], text: &str) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    for item in items.iter().filter(|item| item.unclosed.is_none()) {
        let Some(block) = &item.block else { continue };
        let head = item.head_end as usize;
        if let Some(brace) = text[head..item.end as usize].find('{') {
            all.push(head + brace + 1..item.end as usize - 1);
        }
        all.extend(insides(block, text));
    }
    all
}

fn without(text: &str, part: Range<usize>) -> String {
    put(text, part, "")
}

fn put(text: &str, part: Range<usize>, new: &str) -> String {
    format!("{}{new}{}", &text[..part.start], &text[part.end..])
}

/// A declaration of ours with one to five of its tokens changed.
fn mutated(dice: &mut Dice) -> String {
    let mut text = dice.pick(&CORPUS).to_owned();
    for _ in 0..=dice.roll(5) {
        let parts = tokens(&text);
        let Some(part) = parts.get(dice.roll(parts.len())).cloned() else { break };
        text = match dice.roll(7) {
            0 => without(&text, part),
            1 => put(&text, part.clone(), &format!("{0} {0}", &text[part])),
            2 | 3 => put(&text, part, dice.pick(&WORDS)),
            4 | 5 => put(&text, part.end..part.end, &format!(" {}", dice.pick(&WORDS))),
            _ => {
                let blocks = insides(&outline(ID, &text).items, &text);
                match blocks.get(dice.roll(blocks.len())) {
                    Some(block) => without(&text, block.clone()),
                    None => text,
                }
            }
        };
    }
    if dice.roll(8) == 0 {
        text.push_str(dice.pick(&CORPUS));
    }
    text
}

/// Runs a target on `count` texts; the seed and the text of what falls are told.
fn run(target: &str, seed: u64, count: usize, judge: impl Fn(&str) + Sync) {
    run_on(target, seed, count, mutated, judge);
}

fn run_on(
    target: &str,
    seed: u64,
    count: usize,
    make: impl Fn(&mut Dice) -> String + Sync,
    judge: impl Fn(&str) + Sync,
) {
    let count = count * times();
    let falls = |index: usize| {
        let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(index as u64));
        dice.roll(2);
        let text = make(&mut dice);
        catch_unwind(AssertUnwindSafe(|| judge(&text))).is_err().then_some(text)
    };
    // Of a long run each core takes a part; the texts are the same ones.
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let parts = if times() > 1 { cores } else { 1 };
    let part = |part| (part..count).step_by(parts).filter_map(falls).collect::<Vec<_>>();
    let part = &part;
    let fallen: Vec<String> = std::thread::scope(|scope| {
        let running: Vec<_> = (0..parts).map(|it| scope.spawn(move || part(it))).collect();
        running.into_iter().flat_map(|it| it.join().expect("falls are caught")).collect()
    });
    println!("{target}: {count} ran, {} fell", fallen.len());
    let first: Vec<String> = fallen.iter().take(5).map(|text| format!("{text:?}")).collect();
    assert!(fallen.is_empty(), "{target}: {} of {count} fell:\n{}", fallen.len(), first.join("\n"));
}

/// Whether a place lies in a text and parts no letter of it.
fn is_in(span: Span, text: &str) -> bool {
    span.source != ID || text.get(span.range()).is_some()
}

/// What a finding must be, whatever it is about.
fn judge_finding(finding: &Finding, text: &str) {
    let name = finding.rule.name;
    assert!(name != "bug-of-ours", "{text:?}\n{} {:?}", finding.message, finding.notes);
    let labels = finding.labels.iter().map(|label| &label.text);
    for words in
        [&finding.message].into_iter().chain(labels).chain(&finding.help).chain(&finding.notes)
    {
        // What an author wrote may hold backticks itself.
        for quoted in words.split('`').filter(|_| !text.contains('`')).skip(1).step_by(2) {
            let shows = |letter: char| !is_blank(letter) && !is_unseen(letter);
            assert!(quoted.chars().any(shows), "{text:?}\n{name}: {words:?}");
        }
        let odd = |letter: char| letter.is_whitespace() && !matches!(letter, ' ' | '\n');
        let is_ours = |letter: char| odd(letter) && !text.contains(letter);
        assert!(!words.contains(is_ours), "{text:?}\n{name}: {words:?}");
    }
    let is_placed = finding.span() != Span::NOWHERE;
    assert!(is_placed, "{text:?}\n{name} has no place: {}", finding.message);
    assert!(finding.labels.iter().all(|label| is_in(label.span, text)), "{text:?}\n{name}");
}

fn judge_all(text: &str) -> Vec<Finding> {
    let found = desk::check(&loaded(text));
    found.iter().for_each(|finding| judge_finding(finding, text));
    found
}

fn shape(text: &str) {
    fn judge(items: &[Item], text: &str) {
        for item in items {
            let tokens = item.tokens.iter().map(|token| token.start..token.end);
            for place in tokens.chain([item.start..item.head_end, item.head_end..item.end]) {
                assert!(text.get(place.start as usize..place.end as usize).is_some(), "{text:?}");
            }
            judge(item.block.as_deref().unwrap_or_default(), text);
        }
    }
    let shape = outline(ID, text);
    judge(&shape.items, text);
    assert!(shape.comments.iter().chain(&shape.strays).all(|span| is_in(*span, text)), "{text:?}");
}

fn read_it(text: &str) {
    for finding in read(ID, text).1 {
        judge_finding(&finding, text);
    }
}

/// What is said of a text, without the places.
fn said(text: &str) -> Vec<String> {
    // Letters that nobody sees are left out where the text is laid out, and what is read in
    // other words than ours is put into ours.
    let mut said: Vec<String> = desk::check(&loaded(text))
        .iter()
        .filter(|finding| !["unseen-letter", "read-as"].contains(&finding.rule.name))
        .map(|finding| format!("{}: {}", finding.rule.name, finding.message.replace(is_blank, "")))
        .collect();
    said.sort();
    said
}

fn laid_out(text: &str, compare: bool) {
    let lay = |text: &str| format(ID, text);
    let once = match lay(text) {
        Ok(once) => once,
        Err(Untouched::Open | Untouched::Unmerged) => return,
    };
    assert!(says_alike(ID, text, &once), "it says another thing: {text:?}\n{once:?}");
    assert_eq!(lay(&once).as_ref(), Ok(&once), "{text:?}");
    if compare {
        assert_eq!(said(text), said(&once), "{text:?}\n{once:?}");
    }
}

/// Checks, makes the safe repairs, and checks again.
fn check_and_fix(text: &str) {
    let house = loaded(text);
    let source = house.files()[0].source;
    let found = desk::check(&house);
    found.iter().for_each(|finding| judge_finding(finding, text));
    let (mended, made) = repaired(source, text, &found);
    if made > 0 {
        judge_all(&mended);
    }
}

fn worked(text: &str) {
    let loaded = loaded(text);
    for room in desk::bakehouses(&loaded) {
        for formula in room.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&room.house, formula, &mut Vec::new());
            if worked.sound {
                json(&document(&room.house, &worked, &Wording::plain(), false));
            }
        }
    }
}

fn planned(text: &str) {
    let zone = Zone::named("Europe/Paris").expect("built in");
    let ready = zone.read("2030-01-05 12:00").expect("a time");
    let loaded = loaded(text);
    for room in desk::bakehouses(&loaded) {
        for formula in room.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&room.house, formula, &mut Vec::new());
            let Some(graph) = graph(&room.house, &worked).filter(|_| worked.sound) else {
                continue;
            };
            for anchor in [Anchor::Ready(ready), Anchor::Start(ready)] {
                let wanted = PlanRequest {
                    anchor,
                    not_before: None,
                    pins: &[],
                    hours: None,
                    zone: &zone,
                    grid: None,
                };
                let _ = plan(&graph, &wanted);
            }
        }
    }
}

/// Sets what is sound on a page of each print.
fn set(text: &str) {
    let loaded = loaded(text);
    let press = Press::new(&PrintAssets::default());
    for room in desk::bakehouses(&loaded) {
        for file in &room.files {
            for formula in &file.tree.formulas {
                let mut findings = Vec::new();
                let worked = desk::check_formula(&room.house, formula, &mut findings);
                if !desk::is_sound(file, formula, &findings) {
                    continue;
                }
                let document = json(&document(&room.house, &worked, &Wording::plain(), false));
                for print in Print::ALL {
                    let pages = press.print(print, document.clone(), Format::Svg);
                    assert!(pages.is_ok_and(|pages| !pages.is_empty()), "{text:?}");
                }
            }
        }
    }
}

/// A changed catalogue of words.
fn catalogue(dice: &mut Dice) -> String {
    let own = wording::CATALOGUES[dice.roll(wording::CATALOGUES.len())].2;
    let lines: Vec<&str> = own.lines().collect();
    let start = dice.roll(lines.len());
    let mut text = lines[start..(start + 30).min(lines.len())].join("\n");
    for _ in 0..=dice.roll(4) {
        let parts = tokens(&text);
        let Some(part) = parts.get(dice.roll(parts.len())).cloned() else { break };
        text = match dice.roll(3) {
            0 => without(&text, part),
            1 => put(&text, part, dice.pick(&WORDS)),
            _ => put(
                &text,
                part.end..part.end,
                ["{", "}", "{ $x }", "->", "*[a]", "\n = "][dice.roll(6)],
            ),
        };
    }
    text
}

fn worded(text: &str) {
    for (tag, ..) in wording::CATALOGUES {
        let (words, _) = Wording::new(tag, Some(text));
        words.say("print-method");
        words.of_templates();
    }
    wording::unknown_messages(text, &["salt"]);
}

/// Markdown with formulas in fences, changed.
fn page(dice: &mut Dice) -> String {
    const AROUND: &[&str] = &[
        "```dough\n",
        "```",
        "~~~dough\n",
        "> ",
        "    ",
        "\n\n",
        "# Head\n",
        "- ",
        "```dough bad\n",
    ];
    let mut text = String::new();
    for _ in 0..=dice.roll(4) {
        text.push_str(AROUND[dice.roll(AROUND.len())]);
        text.push_str(&mutated(dice));
        text.push_str(AROUND[dice.roll(AROUND.len())]);
    }
    text
}

fn manuscript_of(text: &str) {
    for block in manuscript::blocks(text) {
        assert!(text.get(block.span()).is_some(), "{text:?}");
    }
    assert_eq!(manuscript::rewrite(text, |_| None), text);
    let lay = |text: &str| manuscript::rewrite(text, |inside| format(ID, inside).ok());
    let once = lay(text);
    assert_eq!(lay(&once), once, "{text:?}");
    let shelf = Memory([(PathBuf::from("/x/a.md"), text.as_bytes().to_vec())].into());
    let found = desk::check(&load(&shelf, Path::new("/x"), &[PathBuf::from("/x/a.md")]));
    found.iter().for_each(|finding| judge_finding(finding, text));
}

#[test]
fn fuzz_shape() {
    run("shape", 1, 4000, shape);
}

#[test]
fn fuzz_read() {
    run("read", 2, 4000, read_it);
}

#[test]
fn fuzz_fmt() {
    run("fmt", 3, 3000, |text| laid_out(text, false));
    run("fmt, and what it means", 4, 200, |text| laid_out(text, true));
}

#[test]
fn fuzz_check_and_fix() {
    run("check and fix", 5, 800, check_and_fix);
}

#[test]
fn fuzz_work() {
    run("work", 6, 800, worked);
}

#[test]
fn fuzz_plan() {
    run("plan", 7, 300, planned);
}

#[test]
fn fuzz_pages() {
    run("pages", 8, 3, set);
}

#[test]
fn fuzz_words() {
    run_on("words", 9, 60, catalogue, worded);
}

#[test]
fn fuzz_manuscript() {
    run_on("manuscript", 10, 200, page, manuscript_of);
}

/// What fell, kept: each file of `tests/fallen` goes through every target.
#[test]
fn what_fell_stands() {
    let folder = top().join("tests/fallen");
    let mut seen = 0;
    for file in folder.read_dir().expect("the folder is there") {
        let text = fs::read_to_string(file.expect("an entry").path()).expect("readable");
        for judge in [shape as fn(&str), read_it, check_and_fix, worked, planned] {
            judge(&text);
        }
        laid_out(&text, true);
        seen += 1;
    }
    assert!(seen >= 10, "{seen} files");
}

/// Every state of a file on the way to being written, and every slip of one token. One in
/// so many is taken when time is short, another one for each declaration.
#[test]
fn every_state_of_a_file_in_an_editor_ends_with_findings() {
    let stride = (STRIDE / times()).max(1);
    let (mut states, mut fallen) = (0, Vec::new());
    for (index, text) in CORPUS.iter().enumerate() {
        let mut judge = |state: String| {
            states += 1;
            if catch_unwind(AssertUnwindSafe(|| judge_all(&state))).is_err() {
                fallen.push(state);
            }
        };
        for part in tokens(text).into_iter().skip(index % stride).step_by(stride) {
            judge(text[..part.end].to_owned());
            judge(without(text, part.clone()));
            judge(put(text, part.clone(), &format!("{0} {0}", &text[part])));
        }
        for block in insides(&outline(ID, text).items, text) {
            judge(without(text, block));
        }
    }
    println!("{states} states, {} fell", fallen.len());
    let first: Vec<String> = fallen.iter().take(5).map(|text| format!("{text:?}")).collect();
    assert!(fallen.is_empty(), "{} of {states} fell:\n{}", fallen.len(), first.join("\n"));
    assert!(states > 5000, "{states}");
}

const STRIDE: usize = 16;

/// Words of the language and signs, in any order: whatever comes of it, what a finding shows
/// in backticks says something.
#[test]
fn no_finding_shows_nothing_in_backticks() {
    const TOKENS: &[&str] = &[
        "formula",
        "culture",
        "ingredient",
        "bakehouse",
        "style",
        "mixture",
        "preferment",
        "levain",
        "dough",
        "total",
        "method",
        "expect",
        "piece",
        "contains",
        "may contain",
        "free from",
        "also",
        "called de",
        "animal",
        "price",
        "pack",
        "each",
        "source",
        "note",
        "mix",
        "with",
        "at",
        "until",
        "bake",
        ":",
        "\"",
        "\"\"",
        "\" \"",
        "{",
        "}",
        "\n",
        "\n",
        "\n",
        ";",
        ",",
        "(",
        ")",
        "water",
        "salt",
        "x",
        "5 g",
        "50%",
        "in",
        "for",
        "makes",
        "from",
        "like",
        "is a",
        "tin",
        "mixer",
        "oven",
        "holds",
        "greased with",
        "language",
        "without",
        "counts as flour",
        "allow",
        "fold",
        "step",
        "hydration",
        "serves",
        "kneten",
        "everything",
    ];
    let mut dice = Dice(14);
    for _ in 0..4000 * times() {
        let count = 2 + dice.roll(28);
        let words: Vec<&str> = (0..count).map(|_| TOKENS[dice.roll(TOKENS.len())]).collect();
        let text = words.join(" ");
        for finding in crate::support::findings(&text) {
            let shown = [finding.message.clone(), finding.help.clone().unwrap_or_default()];
            let shown = format!("{}\n{}", shown.join("\n"), finding.notes.join("\n"));
            assert!(!shown.contains("``"), "{text:?}: {shown}");
        }
    }
}
