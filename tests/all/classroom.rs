//! What a class gets on paper, read back from the finished PDFs.

use crate::booklets::{documents, each, gullhaven, made, tables};
use crate::boxes::{Page, Run, pages};
use crate::support::{assize, declared, err, folder, top};
use assize::testing::desk;
use assize::testing::print::LinePart;
use assize::testing::print::booklet::{BookletPart, Copy, TablePart};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// The example bakehouse in a folder of its own, with one more file.
fn house(more: &str) -> tempfile::TempDir {
    let folder = folder();
    for file in fs::read_dir(top().join("examples/gullhaven")).expect("listed") {
        let file = file.expect("an entry").path();
        fs::copy(&file, folder.path().join(file.file_name().expect("a name"))).expect("copied");
    }
    fs::write(folder.path().join("zz-more.dough"), more).expect("written");
    folder
}

fn print(house: &Path, args: &[&str]) {
    let done = assize(house, &[&["print"], args].concat());
    assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
}

/// Words without the signs around them.
fn words_of(pages: &[Page]) -> BTreeSet<String> {
    let signs = |letter: char| !letter.is_alphanumeric();
    let runs = pages.iter().flat_map(|page| &page.runs);
    let words =
        runs.flat_map(|run| run.text.split(|it: char| it.is_whitespace() || it == '\u{a0}'));
    words
        .map(|word| word.trim_matches(signs).to_lowercase())
        .filter(|word| !word.is_empty())
        .collect()
}

/// Large print: nothing is smaller than 18 pt, no word and no number of the ordinary print is
/// lost, nothing leaves the page or stands over another, the same run gives the same bytes.
#[test]
fn large_print_is_large_and_whole() {
    let more = r#"
booklet wall "Wall" {
  card    capstan-bagels, ferryman-rye, harbour-rolls, lamplighter-buns
  sheet   gullhaven-sour, regatta-brioche
  table   tideline-loaf, slipway-loaf
}
"#;
    let house = house(more);
    let booklets = ["school-week-1", "school-week-2", "wall"];
    let printed = |large: &[&str]| {
        let to = folder();
        let name = to.path().to_string_lossy().into_owned();
        print(house.path(), &[&["--to", &name], large, &booklets].concat());
        to
    };
    let (plain, large, again) = (printed(&[]), printed(&["--large"]), printed(&["--large"]));
    let mut files = 0;
    for file in fs::read_dir(large.path()).expect("listed") {
        let file = file.expect("an entry");
        let name = file.file_name();
        let bytes = fs::read(file.path()).expect("bytes");
        assert!(bytes == fs::read(again.path().join(&name)).expect("bytes"), "{name:?} differs");
        let (own, other) = (pages(&file.path()), pages(&plain.path().join(&name)));
        for run in own.iter().flat_map(|page| &page.runs) {
            assert!(run.size > 17.95, "{name:?}: `{}` has {} pt", run.text, run.size);
        }
        for (at, page) in own.iter().enumerate() {
            let slips = crate::boxes::slips(page);
            assert!(slips.is_empty(), "{name:?}, page {}: {slips:?}", at + 1);
        }
        // Boxes to write in, the picture of the day with its hours and legend, heads and feet.
        let (has, had) = (words_of(&own), words_of(&other));
        let lost: Vec<&String> = had.difference(&has).filter(|word| !is_furniture(word)).collect();
        assert!(lost.is_empty(), "{name:?} lost {lost:?}");
        files += 1;
    }
    assert!(files >= 6, "{files}");
}

/// Words of the frame of a page, which large print has no room for: boxes to write in, the
/// picture of the day with its hours and its legend, what goes on from the page before.
fn is_furniture(word: &str) -> bool {
    const WORDS: [&str; 22] = [
        "initials",
        "measured",
        "done",
        "cold",
        "itself",
        "work",
        "hands",
        "waits",
        "oven",
        "continued",
        "draft",
        "gullhaven",
        "bakehouse",
        "batch",
        "once",
        "run",
        "for",
        "the",
        "per",
        "gemessen",
        "step",
        "time",
    ];
    let is_hour = word.strip_suffix('h').is_some_and(|it| it.parse::<u32>().is_ok());
    let is_number = word.parse::<u32>().is_ok();
    let is_code = word.len() == 8 && word.chars().all(|it| it.is_ascii_alphanumeric());
    WORDS.contains(&word) || is_hour || is_number && word.len() < 3 || is_code
}

/// A row of a table on paper: what stands at its beginning, and its numbers from left to
/// right, each with its unit.
type Rows = BTreeMap<String, Vec<String>>;

/// The rows of the tables on some pages, from the head of each to its total. A table that is
/// too wide goes on below: then a row has the numbers of both.
fn rows_on(lines: &[Vec<&Run>]) -> Rows {
    let dense = |text: &str| -> String { text.split_whitespace().collect() };
    let has_digit = |run: &&&Run| run.text.contains(|letter: char| letter.is_ascii_digit());
    let mut rows = Rows::new();
    let mut is_open = false;
    for line in lines {
        let first = line.iter().find(|run| !has_digit(run)).map(|run| dense(&run.text));
        let mut numbers: Vec<String> = Vec::new();
        for run in line {
            match (numbers.last_mut(), dense(&run.text)) {
                (_, number) if has_digit(&run) => numbers.push(number),
                (Some(number), unit) if unit == "g" || unit == "kg" => number.push_str(&unit),
                _ => {}
            }
        }
        match first.as_deref() {
            Some("ingredient") => is_open = true,
            Some(name) if is_open && !numbers.is_empty() => {
                rows.entry(name.to_owned()).or_default().extend(numbers);
                is_open = name != "total";
            }
            _ => {}
        }
    }
    rows
}

/// Runs of a page line by line from the top, each line from the left; a unit belongs to its
/// number.
fn lines_of(page: &Page) -> Vec<Vec<&Run>> {
    let mut runs: Vec<&Run> = page.runs.iter().collect();
    runs.sort_by(|one, other| other.base.total_cmp(&one.base));
    let mut lines: Vec<Vec<&Run>> = Vec::new();
    for run in runs {
        match lines.last_mut().filter(|line| (line[0].base - run.base).abs() < 1.0) {
            Some(line) => line.push(run),
            None => lines.push(vec![run]),
        }
    }
    for line in &mut lines {
        line.sort_by(|one, other| one.from.total_cmp(&other.from));
    }
    lines
}

/// Read back from the finished pages: what the key has more than the learner's page are the
/// blanks, and the key is the table that `print` gives, number by number.
#[test]
fn a_key_on_paper_is_the_table_on_paper() {
    let names: Vec<String> = crate::support::dough_files("examples/gullhaven")
        .iter()
        .flat_map(|file| declared(&fs::read_to_string(file).expect("a file"), "formula"))
        .collect();
    let booklet = |name: &String| {
        format!("booklet key-{name} \"K\" {{ worksheet {name}\n answers\n table {name} }}\n")
    };
    let house = house(&names.iter().map(booklet).collect::<String>());
    let to = folder();
    let place = to.path().to_string_lossy().into_owned();
    let all: Vec<String> = names.iter().map(|name| format!("key-{name}")).collect();
    let mut args = vec!["--to", &place];
    args.extend(all.iter().map(String::as_str));
    print(house.path(), &args);
    let (mut filled, mut compared) = (0, 0);
    for name in &names {
        let pages = pages(&to.path().join(format!("key-{name}.pdf")));
        let lines: Vec<Vec<&Run>> = pages.iter().flat_map(lines_of).collect();
        let begins = |words: &str| {
            let at = lines.iter().position(|line| line[0].text.starts_with(words));
            at.unwrap_or_else(|| panic!("{name}: no `{words}`"))
        };
        let (key, end) = (begins("Key:"), begins("How each blank follows"));
        let (learner, key) = (rows_on(&lines[..key]), rows_on(&lines[key..end]));
        let table = rows_on(&lines[end..]);
        assert!(!key.is_empty(), "{name}");
        for (row, told) in &key {
            let asked = learner.get(row).cloned().unwrap_or_default();
            assert!(is_part(&asked, told), "{name}, {row}: {asked:?} is no part of {told:?}");
            filled += told.len() - asked.len();
            let printed = table.get(row).unwrap_or_else(|| panic!("{name}: no {row} in {table:?}"));
            // The table has sums of percentages, too, and what goes on and into the pieces.
            let is_it = match row.as_str() {
                "total" => told.iter().all(|one| printed.iter().any(|it| is_near(one, it))),
                _ => {
                    told.len() <= printed.len()
                        && told.iter().zip(printed).all(|(one, other)| is_near(one, other))
                }
            };
            assert!(is_it, "{name}, {row}: {told:?} is not {printed:?}");
            compared += told.len();
        }
    }
    assert!(filled > 100 && compared > 400, "{filled} blanks of {compared} numbers");
}

/// Whether a number of a worksheet is that of the print, or the same with more digits: within a
/// step of the house's scale, which is 5 g above 1 kg.
fn is_near(own: &str, printed: &str) -> bool {
    let grams = |it: &str| {
        let it = it.trim_start_matches('≈').trim();
        let (number, each) = match it.strip_suffix("kg") {
            Some(number) => (number, 1000.0),
            None => (it.trim_end_matches('g'), 1.0),
        };
        number.trim().parse::<f64>().ok().map(|it| it * each)
    };
    let steps = |it: f64| match it {
        it if it >= 1000.0 => 5.0,
        it if it >= 20.0 => 1.0,
        _ => 0.1,
    };
    let apart = grams(own).zip(grams(printed));
    own == printed || apart.is_some_and(|(one, other)| (one - other).abs() <= steps(other))
}

/// Whether some numbers stand among others, in the same order.
fn is_part(some: &[String], all: &[String]) -> bool {
    let mut all = all.iter();
    some.iter().all(|one| all.any(|it| it == one))
}

// ---- By pencil -----------------------------------------------------------------------------

/// What a number with its unit comes to: `617 g`, `1.600 kg`, `6 lb 4⅞ oz`, `72 %`, `≈ 1.2 kg`.
fn number_of(words: &str) -> Option<f64> {
    const OUNCE: f64 = 28.349_523_125;
    const EIGHTHS: &str = "⅛¼⅜½⅝¾⅞";
    let words = words.trim().trim_start_matches('≈').trim();
    if let Some((pounds, ounces)) = words.split_once(" lb ") {
        return Some(pounds.parse::<f64>().ok()? * 16.0 * OUNCE + number_of(ounces)?);
    }
    let (number, unit) = words.split_once(' ').unwrap_or((words, ""));
    let plain = number.trim_end_matches(|it| EIGHTHS.contains(it));
    let eighths = number[plain.len()..].chars().next();
    let eighths = eighths.and_then(|it| EIGHTHS.chars().position(|other| other == it));
    let eighths = eighths.map_or(0.0, |at| (at as f64 + 1.0) / 8.0);
    let whole = if plain.is_empty() { 0.0 } else { plain.parse::<f64>().ok()? };
    let each = match unit {
        "" | "g" => 1.0,
        "kg" => 1000.0,
        "oz" => OUNCE,
        "%" => 0.01,
        _ => return None,
    };
    Some((whole + eighths) * each)
}

/// The last digit of a number, in the same unit.
fn step_of(words: &str) -> f64 {
    const OUNCE: f64 = 28.349_523_125;
    let last = words.rsplit(" lb ").next().unwrap_or_default();
    let (number, unit) = last.trim().split_once(' ').unwrap_or((last.trim(), ""));
    let digits = number.split_once('.').map_or(0, |(_, behind)| behind.len());
    let each = match unit {
        "kg" => 1000.0,
        "oz" => OUNCE,
        "%" => 0.01,
        _ => 1.0,
    };
    let is_fraction = number.ends_with(|it: char| !it.is_ascii_digit());
    if is_fraction { OUNCE / 8.0 } else { each * 0.1_f64.powi(i32::try_from(digits).expect("few")) }
}

/// Sums of products, left to right, with brackets: `80 % × (800 g + 150 g) ÷ 2`.
fn reckoned(sum: &str) -> Option<f64> {
    if let Some(open) = sum.find('(') {
        let close = open + sum[open..].find(')')?;
        let inner = reckoned(&sum[open + 1..close])?;
        return reckoned(&format!("{}{inner}{}", &sum[..open], &sum[close + ')'.len_utf8()..]));
    }
    let mut total = 0.0;
    let mut left = sum;
    let mut sign = 1.0;
    loop {
        let next = [" + ", " − "].iter().filter_map(|it| Some((left.find(it)?, *it))).min();
        let (term, rest) = match next {
            Some((at, it)) => (&left[..at], Some((&left[at + it.len()..], it))),
            None => (left, None),
        };
        let mut product = 1.0;
        for (at, factor) in term.split(" × ").enumerate() {
            let mut parts = factor.split(" ÷ ");
            let first = number_of(parts.next()?)?;
            product = if at == 0 { first } else { product * first };
            for part in parts {
                product /= number_of(part)?;
            }
        }
        total += sign * product;
        match rest {
            None => return Some(total),
            Some((rest, it)) => {
                sign = if it == " + " { 1.0 } else { -1.0 };
                left = rest;
            }
        }
    }
}

/// The lines of all keys of a booklet, without the names before them.
fn workings(more: &str) -> Vec<String> {
    let made = each(&gullhaven(more), None, |maker| {
        let document = maker.document(Copy::All, 1, false);
        let lines = document.parts.into_iter().filter_map(|part| match part {
            BookletPart::Lines { lines, .. } => Some(lines),
            _ => None,
        });
        lines.flatten().collect::<Vec<_>>()
    });
    made.into_iter().flatten().collect()
}

/// In ounces, too, a line of a key is true of the numbers that it shows, to the last digit.
#[test]
fn keys_in_ounces_are_true_as_they_are_printed() {
    let names = documents(&gullhaven("")).into_iter().map(|it| it.name);
    let more: String = names
        .map(|name| {
            let levels = ["first", "second", "third"].map(|level| {
                format!("worksheet {name} {{ level {level}; scale; substitute; true hydration }}\n")
            });
            format!("booklet us-{name} \"B\" {{ units US\n {} answers }}\n", levels.concat())
        })
        .collect();
    let (mut seen, mut wrong) = (0, Vec::new());
    for line in workings(&more) {
        let Some((sum, told)) = line.rsplit_once(" = ") else {
            wrong.extend(line.contains('≈').then_some(line));
            continue;
        };
        let sum = sum.rsplit_once(": ").map_or(sum, |(_, sum)| sum);
        let (Some(comes_to), Some(told_is)) = (reckoned(sum), number_of(told)) else { continue };
        seen += 1;
        if (comes_to - told_is).abs() > step_of(told) * 0.5001 {
            wrong.push(line);
        }
    }
    assert!(seen > 200 && wrong.is_empty(), "{} of {seen}: {wrong:#?}", wrong.len());
}

/// A line of a worksheet's key is true of the numbers that it shows, to the last digit, and none
/// needs to say that it is only roughly so: what stands has as many digits as that takes.
#[test]
fn every_line_of_a_worksheets_key_is_true_as_it_is_printed() {
    const HIDDEN: [&str; 11] = [
        "percentages",
        "weights",
        "weights in total",
        "percentages in total",
        "salt, water",
        "hydration, salt",
        "water, salt % in total",
        "percentages, hydration",
        "weights in levain, hydration",
        "everything in total",
        "salt",
    ];
    let names: Vec<String> = documents(&gullhaven("")).into_iter().map(|it| it.name).collect();
    let all = names.iter().flat_map(|name| HIDDEN.iter().map(move |hidden| (name, hidden)));
    let more = |units: &str| -> String {
        let booklets = all.clone().enumerate().map(|(at, (name, hidden))| {
            format!(
                "booklet b{at} \"B\" {{ units {units}\n worksheet {name} {{ hide {hidden} }}\n \
                 answers }}\n"
            )
        });
        booklets.collect()
    };
    for units in ["metric", "US"] {
        let (mut seen, mut wrong) = (0, Vec::new());
        for line in workings(&more(units)) {
            let Some((sum, told)) = line.split_once(" = ") else {
                wrong.extend(line.contains('≈').then_some(line));
                continue;
            };
            let sum = sum.rsplit_once(": ").map_or(sum, |(_, sum)| sum);
            let (Some(comes_to), Some(told_is)) = (reckoned(sum), number_of(told)) else {
                wrong.extend(line.contains('≈').then_some(line));
                continue;
            };
            seen += 1;
            if (comes_to - told_is).abs() > step_of(told) * 0.5001 {
                wrong.push(line);
            }
        }
        let few = wrong.iter().take(20).collect::<Vec<_>>();
        assert!(seen > 300 && wrong.is_empty(), "{units}: {} of {seen}: {few:#?}", wrong.len());
    }
    // 65 % of 950 g is 617.5 g: salt as the rest would be 18.9 g or 17.9 g for who rounds that.
    let tin = "formula plain-tin \"Plain Tin\" { makes 1600 g dough\n total { bread flour 100%; \
        water 65%; salt 2%; fresh yeast 1.4211% } }\n\
        booklet tin \"Tin\" { worksheet plain-tin { hide salt, salt %, water } }\n";
    let told = each(&gullhaven(tin), Some("tin"), |maker| {
        maker.document(Copy::All, 1, false);
        let findings = maker.findings.borrow();
        findings.iter().map(|it| (it.rule.name, it.message.to_string())).collect::<Vec<_>>()
    });
    let [(rule, message)] = told[0].as_slice() else { panic!("{told:?}") };
    assert!(*rule == "no-single-answer" && message.contains("roughly"), "{message}");
}

/// What is to be bought is what the sheet for everyone adds up to, line by line.
#[test]
fn shopping_is_what_the_sheets_add_up_to() {
    let own = documents(&gullhaven(""));
    let more: String = own
        .iter()
        .map(|it| {
            let name = &it.name;
            format!(
                "booklet s-{name} \"S\" {{ for 7 people\n sheet {name} for everyone\n shopping }}\n"
            )
        })
        .collect();
    let mut compared = 0;
    each(&gullhaven(&more), None, |maker| {
        if !maker.booklet.name.key.starts_with("s-") {
            return;
        }
        let document = maker.document(Copy::All, 1, false);
        let mut sheet: BTreeMap<String, f64> = BTreeMap::new();
        let mut add = |line: &LinePart| {
            let weight = line.weight.as_ref().map(|it| format!("{} {}", it.shown, it.unit));
            if let Some(grams) = weight.and_then(|it| number_of(&it)) {
                *sheet.entry(line.name.clone()).or_default() += grams;
            }
        };
        for part in &document.parts {
            let BookletPart::Print { document, .. } = part else { continue };
            document.mixes.iter().flat_map(|mix| &mix.lines).for_each(&mut add);
            document.mixtures.iter().flat_map(|mix| &mix.lines).for_each(&mut add);
            document.beside.iter().flat_map(|it| &it.all).for_each(&mut add);
            let feeds = document.mixes.iter().flat_map(|mix| &mix.earlier_feeds).flatten();
            feeds.for_each(&mut add);
        }
        let list = tables(&document).into_iter().rfind(|it| it.title == "Shopping");
        for row in &list.expect("a list").rows {
            let name = row.name.trim_end_matches(" (kept)");
            let bought = number_of(&format!("{} {}", row.cells[0].shown, row.cells[0].unit));
            let (Some(bought), Some(weighed)) = (bought, sheet.get(name)) else { continue };
            assert!((bought - weighed).abs() < 1e-6, "{name}: {bought} g, and {weighed} g");
            compared += 1;
        }
    });
    assert!(compared > 60, "{compared}");
}

/// At each end of a comparison that leaves the style, that stands below, whatever the formula
/// claims of itself; and no note or key in another language holds our names of findings.
#[test]
fn what_a_version_raises_is_told_in_the_readers_words() {
    let more = |language: &str| {
        format!(
            "booklet notes \"N\" {{ language {language}\n variants 3\n \
             compare first-sour with water 50%, 68%, 85%\n \
             compare lookout-sour with salt 1%, 2%, 6%\n \
             worksheet gullhaven-sour {{ mistake 2 times }}\n \
             worksheet harbour-rolls {{ mistake 2 times }}\n answers }}\n"
        )
    };
    let rules: Vec<&str> =
        desk::rules().map(|rule| rule.name).filter(|it| it.contains('-')).collect();
    for language in ["en", "de", "fr", "es", "it"] {
        let (documents, told) = made(&gullhaven(&more(language)), "notes");
        assert!(told.is_empty(), "{language}: {told:?}");
        let notes: Vec<&TablePart> = tables(&documents[0]);
        let of = |at: usize, column: &str| notes[at].notes.iter().any(|it| it.starts_with(column));
        assert!(of(0, "50 %") && of(0, "85 %") && !of(0, "68 %"), "{:?}", notes[0].notes);
        assert!(of(1, "1 %") && of(1, "6 %"), "{:?}", notes[1].notes);
        let mut words: Vec<String> = notes.iter().flat_map(|it| it.notes.clone()).collect();
        for part in &documents[0].parts {
            if let BookletPart::Lines { lines, .. } = part {
                words.extend(lines.iter().cloned());
            }
        }
        for words in words {
            let named = rules.iter().find(|rule| words.contains(**rule));
            assert!(named.is_none(), "{language}: {words}");
        }
    }
}

/// What an author wrote of an exercise is the first seat's; every other seat has a number beside
/// it, and no two of them the same page.
#[test]
fn exercises_that_an_author_fixed_differ_from_seat_to_seat() {
    const FIXED: [(&str, &str); 7] = [
        ("scale for 5 loaves", "5 loaves"),
        ("scale for 20 kg dough", "20 kg"),
        ("scale from 1 kg flour", "1 kg"),
        ("scale from 400 g levain", "400 g"),
        ("substitute bread flour with dark rye flour 20%", "20 %"),
        ("starter levain for 300 g", "300 g"),
        ("when to begin ready 10:00", "10:00"),
    ];
    let more: String = FIXED
        .iter()
        .enumerate()
        .map(|(at, (exercise, _))| {
            format!(
                "booklet f{at} \"F\" {{ variants 6\n worksheet first-sour {{ {exercise} }}\n answers }}\n"
            )
        })
        .collect();
    let mut compared = 0;
    each(&gullhaven(&more), None, |maker| {
        let Some(at) = maker.booklet.name.key.strip_prefix('f') else { return };
        let Ok(at) = at.parse::<usize>() else { return };
        let (exercise, written) = FIXED[at];
        let pages: Vec<TablePart> = (1..=6)
            .map(|seat| {
                let document = maker.document(Copy::All, seat, false);
                let page = tables(&document).into_iter().next().cloned();
                page.unwrap_or_else(|| panic!("{exercise}, seat {seat}"))
            })
            .collect();
        let first = format!("{:?}", pages[0].lead);
        assert!(first.contains(written), "{exercise}: {first}");
        let all: BTreeSet<String> = pages.iter().map(|page| format!("{page:?}")).collect();
        assert_eq!(all.len(), pages.len(), "{exercise}");
        assert!(maker.findings.borrow().is_empty(), "{exercise}");
        compared += 1;
    });
    assert_eq!(compared, FIXED.len());
}

/// Eggs are bought by the piece: as many as are needed, and less than one left over.
#[test]
fn eggs_are_bought_by_the_piece() {
    let more = "booklet s \"S\" { for 7 people\n shopping regatta-brioche }\n";
    let mut eggs = 0;
    each(&gullhaven(more), Some("s"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        for row in tables(&document).into_iter().flat_map(|table| &table.rows) {
            let cells: Vec<String> =
                row.cells.iter().map(|it| format!("{} {}", it.shown, it.unit)).collect();
            let Some((count, each)) = cells.get(1).and_then(|it| it.split_once(" × ")) else {
                continue;
            };
            if !row.name.contains("egg") {
                continue;
            }
            let number = |words: &str| number_of(words.trim()).expect("a weight");
            let (needed, left) = (number(&cells[0]), number(&cells[2]));
            let bought = count.parse::<f64>().expect("a count") * number(each);
            assert!((bought - needed - left).abs() < 0.06, "{cells:?}");
            assert!(left >= 0.0 && left < number(each), "{cells:?}");
            eggs += 1;
        }
    });
    assert!(eggs > 0);
}

/// What `check` says of one column, or of a slip, is told in each language with the numbers that
/// it is about, and never by the name of a finding.
#[test]
fn findings_are_told_in_five_languages_with_their_numbers() {
    let languages = ["en", "de", "fr", "es", "it"];
    let more: String = languages
        .iter()
        .map(|language| {
            format!(
                "booklet l-{language} \"L\" {{ language {language}\n \
                 compare gullhaven-sour with salt 0.2%, 2%, 4%\n \
                 compare lookout-sour with water 30%, 78%, 130%\n \
                 worksheet gullhaven-sour {{ mistake 3 times }}\n answers }}\n"
            )
        })
        .collect();
    let mut counts: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    each(&gullhaven(&more), None, |maker| {
        let Some(language) = maker.booklet.name.key.strip_prefix("l-") else { return };
        let document = maker.document(Copy::All, 1, false);
        let tables = tables(&document);
        let notes: Vec<&String> = tables.iter().flat_map(|table| &table.notes).collect();
        let slips = document.parts.iter().filter_map(|part| match part {
            BookletPart::Lines { lines, .. } => lines.last(),
            _ => None,
        });
        let slips: Vec<&String> = slips.collect();
        let rule = |words: &str| {
            words.split(|it: char| !it.is_ascii_lowercase() && it != '-').any(|word| {
                let is_name = word.len() > 3 && word.contains('-');
                is_name
                    && assize::testing::print::Wording::plain()
                        .find(&format!("finding-{word}"), &[])
                        .is_some()
            })
        };
        for words in notes.iter().chain(&slips) {
            assert!(!rule(words), "{language}: {words}");
        }
        // A number after the name of the column, and one inside the brackets of a slip.
        let has_number = |words: &str| words.contains(|it: char| it.is_ascii_digit());
        let told = notes.iter().filter(|it| it.split_once('%').is_some_and(|it| has_number(it.1)));
        let told = told.count();
        let of_slips =
            slips.iter().filter(|it| it.split_once('(').is_some_and(|it| has_number(it.1)));
        counts.insert(language.to_owned(), (told, of_slips.count()));
    });
    let first = counts["en"];
    assert!(first.0 >= 4 && first.1 >= 2, "{counts:?}");
    assert!(counts.len() == 5 && counts.values().all(|it| *it == first), "{counts:?}");
}

/// Degrees Fahrenheit of exercises are whole ones, where seats have numbers of their own.
#[test]
fn seats_reckon_with_whole_degrees_fahrenheit() {
    let names: Vec<String> = documents(&gullhaven("")).into_iter().map(|it| it.name).collect();
    let more: String = names
        .iter()
        .map(|name| {
            let levels = ["first", "second", "third"].map(|level| {
                format!("worksheet {name} {{ level {level}; water temperature }}\n answers\n")
            });
            let levels = levels.concat();
            format!("booklet w-{name} \"W\" {{ units US; variants 6\n {levels} }}\n")
        })
        .collect();
    let mut seen = 0;
    each(&gullhaven(&more), None, |maker| {
        if !maker.booklet.name.key.starts_with("w-") {
            return;
        }
        for seat in 1..=6 {
            let document = maker.document(Copy::All, seat, false);
            for table in tables(&document) {
                for cell in table.rows.iter().flat_map(|row| &row.cells) {
                    if cell.unit == "°F" && !cell.blank {
                        assert!(!cell.shown.contains('.'), "{}: {table:?}", maker.booklet.name.key);
                        seen += 1;
                    }
                }
            }
        }
    });
    assert!(seen > 500, "{seen}");
}

/// Six seats have pages of their own of each kind of exercise as far as numbers come out, and no
/// page asks for water that kills a
/// culture without saying so.
#[test]
fn twelve_seats_have_pages_of_their_own() {
    const KINDS: [&str; 6] =
        ["scale", "true hydration", "substitute", "starter", "when to begin", "water temperature"];
    let names: Vec<String> = documents(&gullhaven("")).into_iter().map(|it| it.name).collect();
    let all = names.iter().flat_map(|name| KINDS.iter().map(move |kind| (name, kind)));
    let more: String = all
        .map(|(name, kind)| {
            let key = kind.replace(' ', "-");
            format!(
                "booklet d-{name}-{key} \"D\" {{ variants 12\n worksheet {name} {{ {kind} }}\n answers }}\n"
            )
        })
        .collect();
    let (mut compared, mut alike, mut warm, mut shared) = (0, Vec::new(), 0, 0);
    each(&gullhaven(&more), None, |maker| {
        let name = maker.booklet.name.key.as_str();
        if !name.starts_with("d-") {
            return;
        }
        let mut pages = BTreeSet::new();
        for seat in 1..=12 {
            let document = maker.document(Copy::All, seat, false);
            let tables = tables(&document);
            let [page, key] = tables.as_slice() else { return };
            pages.insert(format!("{:?} {:?} {:?}", page.lead, page.rows, page.columns));
            let asked = key.rows.iter().flat_map(|row| &row.cells).filter(|it| it.strong);
            for cell in asked.filter(|it| it.unit == "°C") {
                let degrees = cell.shown.parse::<f64>().expect("degrees");
                let is_said = page.lead.iter().any(|it| it.contains("45 °C"));
                assert!(degrees <= 45.0 || is_said, "{name}: {page:?}");
                warm += 1;
            }
        }
        compared += 1;
        let findings = maker.findings.borrow();
        let told = findings.iter().find(|it| it.rule.name == "seats-alike");
        let is_told = match told {
            Some(told) => told.message.contains(&format!(" has {} set", pages.len())),
            None => pages.len() == 12,
        };
        if !is_told {
            alike.push(format!("{name}: {}", pages.len()));
        }
        shared += usize::from(told.is_some());
    });
    assert!(shared * 10 < compared, "{shared} of {compared} share numbers");
    assert!(compared > 60 && warm > 60 && alike.is_empty(), "{warm} of {compared}: {alike:?}");
}

/// What an author wrote stands as it was written, however many exercises of its kind there are:
/// what is drawn keeps out of its way, and no seat has one page twice.
#[test]
fn what_an_author_wrote_stands_beside_others_of_its_kind() {
    const WRITTEN: [(&str, &str); 9] = [
        ("scale", ""),
        ("scale for 5 loaves", "5 loaves"),
        ("scale for 12 loaves", "12 loaves"),
        ("starter", ""),
        ("starter levain for 300 g", "300 g"),
        ("starter levain for 500 g", "500 g"),
        ("when to begin ready 10:00", "10:00"),
        ("when to begin ready 18:00", "18:00"),
        ("substitute; substitute bread flour with dark rye flour 20%", "20 %"),
    ];
    let all: Vec<&str> = WRITTEN.iter().map(|(exercise, _)| *exercise).collect();
    let all = all.join("; ");
    let sheets: String = ["first", "second", "third"]
        .iter()
        .map(|level| format!("worksheet first-sour {{ level {level}; {all} }}\n"))
        .collect();
    let one = format!("worksheet first-sour {{ {all} }}\n");
    for (variants, sheets) in [("", &one), ("variants 4\n", &one), ("variants 4\n", &sheets)] {
        let more = format!("booklet w \"W\" {{ {variants} {sheets} answers }}\n");
        let told = each(&gullhaven(&more), Some("w"), |maker| {
            let first = maker.document(Copy::All, 1, false);
            let leads: Vec<String> = tables(&first)
                .iter()
                .filter(|it| !it.key)
                .map(|it| format!("{}: {}", it.title, it.lead.join(" ")))
                .collect();
            for (exercise, number) in WRITTEN {
                let found = leads.iter().any(|it| it.contains(number));
                assert!(found, "{variants}{exercise}: no `{number}` in {leads:#?}");
            }
            for seat in 1..=maker.booklet.variants.map_or(1, |(seats, _)| seats) {
                let document = maker.document(Copy::All, seat, false);
                let pages: Vec<String> = tables(&document)
                    .iter()
                    .filter(|it| !it.key)
                    .map(|it| format!("{:?} {:?}", it.lead, it.rows))
                    .collect();
                let distinct: BTreeSet<&String> = pages.iter().collect();
                assert_eq!(distinct.len(), pages.len(), "{variants}, seat {seat}: {pages:#?}");
            }
            let findings = maker.findings.borrow();
            findings.iter().map(|it| (it.rule.name, it.message.to_string())).collect::<Vec<_>>()
        });
        let refused = told[0].iter().find(|(rule, _)| *rule == "exercise-not-possible");
        assert!(refused.is_none(), "{variants}: {refused:?}");
    }
}

/// Steps of a range of pieces are counted with their steps, and milk is no water to reckon with.
#[test]
fn ranges_of_pieces_have_steps_and_milk_has_no_hydration() {
    let more = "booklet r \"R\" { reckoner first-sour for 12..72 loaves every 12\n\
        reckoner first-sour for 1..100 loaves every 10\n }\n\
        formula pan \"Pan\" { makes 2 loaves at 800 g\n total { bread flour 100%; whole milk 60%; \
        whole egg 10%; salt 2%; fresh yeast 3% }\n preferment sponge { ferments 30% of flour\n bread flour 100%; \
        whole milk 60%; fresh yeast 1%\n ripens 2h at 24C } }\n\
        booklet m \"M\" { worksheet pan { true hydration } }\n";
    let made = each(&gullhaven(more), Some("r"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        tables(&document).iter().map(|it| it.columns.len()).sum::<usize>()
    });
    assert_eq!(made, [16]);
    let told = each(&gullhaven(more), Some("m"), |maker| {
        maker.document(Copy::All, 1, false);
        let findings = maker.findings.borrow();
        findings.iter().map(|it| it.rule.name).collect::<Vec<_>>()
    });
    assert_eq!(told, [["exercise-not-possible"]]);
}

/// `from` is the culture that there is, `for` the one that is wanted.
#[test]
fn a_feed_from_what_there_is_grows_it() {
    let more = "booklet f \"F\" { reckoner feeds 1:2:2 from 20 g..60 g every 20 g\n\
                reckoner feeds 1:2:2 for 20 g..60 g every 20 g }\n";
    each(&gullhaven(more), Some("f"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        let shown: Vec<Vec<String>> = tables(&document)
            .iter()
            .map(|table| {
                let row = table.rows.first().expect("a row");
                row.cells.iter().map(|it| format!("{} {}", it.shown, it.unit)).collect()
            })
            .collect();
        assert_eq!(shown[0], ["40 g", "40 g", "100 g"]);
        let sum: f64 = shown[1].iter().map(|it| number_of(it).expect("grams")).sum();
        assert!((sum - 20.0).abs() < 1e-9, "{shown:?}");
    });
}

/// What another page of the learner's copy prints is told: of two worksheets, of a yield that is
/// asked for; and a line that is missing can be found from the weight of the dough.
#[test]
fn worksheets_that_tell_each_other_are_found() {
    let told = |inside: &str| {
        let own = crate::booklets::QUAY;
        crate::support::names(&format!("{own}booklet b \"B\" {{ {inside} }}\n"))
    };
    let first = "worksheet quay-loaf \"A\"";
    for (inside, is_told) in [
        ("{ hide percentages }\n worksheet quay-loaf \"B\" { hide weights in poolish }", true),
        ("{ hide percentages }\n worksheet quay-loaf \"B\" { mistake }", true),
        ("{ scale from 300 g poolish }\n card quay-loaf from 300 g poolish", true),
        ("{ scale from 300 g poolish }\n card quay-loaf", false),
        ("{ scale for 6 loaves }\n card quay-loaf for 6 loaves", true),
    ] {
        let told = told(&format!("{first} {inside}"));
        assert_eq!(told.contains(&"hidden-but-printed"), is_told, "{inside}: {told:?}");
    }
    let told = told("worksheet quay-loaf for 9 loaves { scale for 9 loaves }");
    assert!(told.contains(&"exercise-not-possible"), "{told:?}");
    let plain = "formula plain-roll \"Plain Roll\" { makes 10 rolls at 80 g\n total { bread flour \
                 100%; water 62%; fresh yeast 2%; salt 2% } }\n\
                 booklet m \"M\" { worksheet plain-roll { mistake missing-salt }\n answers }\n";
    each(&gullhaven(plain), Some("m"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        let tables = tables(&document);
        let grams = |name: &str| {
            let row = tables[0].rows.iter().find(|row| row.name == name);
            let cell = row.and_then(|row| row.cells.last());
            cell.and_then(|it| number_of(&format!("{} {}", it.shown, it.unit)))
        };
        let all = ["bread flour", "water", "fresh yeast"].map(|it| grams(it).expect("a weight"));
        let left =
            grams("dough").or_else(|| grams("Dough")).expect("the dough") - all.iter().sum::<f64>();
        assert!((left / all[0] - 0.02).abs() < 0.001, "{left} of {all:?}");
    });
}

/// What a worksheet hides and an exercise prints is told, whatever the exercise and whichever
/// worksheet it stands on; numbers of another yield are another thing.
#[test]
fn exercises_that_tell_what_is_hidden_are_found() {
    let own = crate::booklets::QUAY;
    let starter = "formula jar-loaf \"Jar Loaf\" { makes 2 loaves at 900 g\n \
        total { bread flour 80%; whole wheat flour 20%; water 70%; salt 2% }\n \
        preferment levain { ferments 20% of flour; bread flour 100%; water 100%; \
        white culture 20%; ripens 8h } }\n\
        culture white culture { bread flour 100%; water 100% }\n";
    let told = |inside: &str| {
        crate::support::names(&format!("{own}{starter}booklet b \"B\" {{ {inside} }}\n"))
            .iter()
            .filter(|it| **it == "hidden-but-printed")
            .count()
    };
    for (inside, is_told) in [
        ("worksheet quay-loaf { hide weights in poolish; scale for 5 loaves }", true),
        (
            "worksheet quay-loaf for 7 loaves { hide weights in poolish }\n worksheet quay-loaf { scale for 5 loaves }",
            false,
        ),
        (
            "worksheet jar-loaf { hide weights in levain }\n worksheet jar-loaf { starter levain for 500 g }",
            true,
        ),
        (
            "worksheet jar-loaf { hide percentages in total }\n worksheet jar-loaf { level second; scale for 5 loaves }",
            true,
        ),
        (
            "worksheet quay-loaf { hide weights in total }\n worksheet quay-loaf { substitute }",
            true,
        ),
        (
            "worksheet quay-loaf { hide weights in poolish }\n worksheet jar-loaf { scale for 5 loaves }",
            false,
        ),
        (
            "worksheet quay-loaf { hide bread flour in total }\n text \"[bread flour of quay-loaf]\"",
            true,
        ),
        (
            "worksheet quay-loaf { hide weights in poolish }\n teacher { worksheet quay-loaf { scale for 5 loaves } }",
            false,
        ),
    ] {
        assert_eq!(told(inside) > 0, is_told, "{inside}");
    }
}

/// Exercises that ask nothing, or less than a scale shows, are refused with their reason.
#[test]
fn an_exercise_that_asks_nothing_is_refused() {
    for (exercise, why) in [
        ("starter levain for 240 g", "already"),
        ("scale for 2 loaves", "already"),
        ("substitute bread flour with dark rye flour 0%", "above 0 %"),
        ("level third; starter levain for 1 g", "less than the scale shows"),
        ("scale from 0.3 g levain", "than the scale shows"),
    ] {
        let more = format!("booklet n \"N\" {{ worksheet first-sour {{ {exercise} }} }}\n");
        let told = each(&gullhaven(&more), Some("n"), |maker| {
            maker.document(Copy::All, 1, false);
            let findings = maker.findings.borrow();
            let of_it = findings.iter().filter(|it| it.rule.name == "exercise-not-possible");
            of_it.map(|it| it.message.to_string()).collect::<Vec<_>>()
        });
        assert!(told[0].iter().any(|it| it.contains(why)), "{exercise}: {told:?}");
    }
}

/// A blank of a key is what it is exactly, rounded once, in grams and in ounces; one that a
/// learner comes to otherwise says so on the page.
#[test]
fn a_blank_of_a_key_is_its_exact_weight_rounded_once() {
    const HIDDEN: [&str; 5] =
        ["weights", "weights in total", "everything in total", "flour", "weights in final dough"];
    let own = documents(&gullhaven(""));
    let own: Vec<_> = own.iter().filter(|it| !it.mixes.is_empty()).collect();
    for units in ["metric", "US"] {
        let all = own.iter().flat_map(|it| HIDDEN.iter().map(move |hidden| (it, hidden)));
        let more: String = all
            .clone()
            .enumerate()
            .map(|(at, (document, hidden))| {
                let name = &document.name;
                format!(
                    "booklet b{at} \"B\" {{ units {units}\n worksheet {name} {{ hide {hidden} }}\n \
                     answers }}\n"
                )
            })
            .collect();
        let keys = each(&gullhaven(&more), None, |maker| {
            let name = maker.booklet.name.key.to_string();
            let document = maker.document(Copy::All, 1, false);
            (name, tables(&document).into_iter().cloned().collect::<Vec<TablePart>>())
        });
        let (mut seen, mut off) = (0, Vec::new());
        for (at, (document, hidden)) in all.enumerate() {
            let found = keys.iter().find(|(name, _)| *name == format!("b{at}"));
            let Some([learner, key]) = found.map(|(_, tables)| tables.as_slice()) else { continue };
            let mixes = document.mixes.iter().map(|it| &it.lines);
            for (column, lines) in std::iter::once(&document.total).chain(mixes).enumerate() {
                for line in lines {
                    let row = |table: &TablePart| {
                        let row = table.rows.iter().find(|row| row.name == line.name)?;
                        row.cells.get(2 * column + 1).cloned()
                    };
                    let (Some(asked), Some(told)) = (row(learner), row(key)) else { continue };
                    let exact = line.weight.as_ref().and_then(|it| {
                        let (above, below) = it.grams.split_once('/').unwrap_or((&it.grams, "1"));
                        Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?)
                    });
                    let Some(exact) = exact.filter(|_| asked.blank) else { continue };
                    let said = format!("{} {}", told.shown, told.unit);
                    let Some(shown) = number_of(&said) else { continue };
                    seen += 1;
                    if (shown - exact).abs() > step_of(&said) * 0.5001 {
                        off.push(format!(
                            "{} {hidden}: {} {said}: {exact}",
                            document.name, line.name
                        ));
                    }
                }
            }
        }
        let few = off.iter().take(20).collect::<Vec<_>>();
        assert!(seen > 200 && off.len() * 50 < seen, "{units}: {} of {seen}: {few:#?}", off.len());
    }
}

/// Ounces of one table have one notation, and none has thousandths, which no kitchen's scale
/// shows.
#[test]
fn ounces_of_a_table_have_one_notation() {
    let names: Vec<String> = documents(&gullhaven("")).into_iter().map(|it| it.name).collect();
    let own: String = names.iter().map(|name| format!("reckoner {name}\n")).collect();
    let pairs: String =
        names.windows(2).map(|it| format!("compare {}, {}\n", it[0], it[1])).collect();
    let more = format!(
        "booklet oz \"Oz\" {{ units US\n {own} {pairs} reckoner percentages\n reckoner feeds \
         1:5:5 for 100 g..500 g every 100 g\n reckoner yeast }}\n"
    );
    let told = each(&gullhaven(&more), Some("oz"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        let all = tables(&document).into_iter().cloned();
        all.collect::<Vec<TablePart>>()
    });
    let mut judged = 0;
    for table in &told[0] {
        let cells = table.rows.iter().flat_map(|row| &row.cells);
        let ounces: Vec<&str> =
            cells.filter(|it| it.unit == "oz").map(|it| it.shown.as_str()).collect();
        let decimals = ounces.iter().filter(|it| it.contains('.')).count();
        let is_fraction = |it: &&&str| it.contains(['⅛', '¼', '⅜', '½', '⅝', '¾', '⅞']);
        let fractions = ounces.iter().filter(is_fraction).count();
        assert!(decimals == 0 || fractions == 0, "{}: {ounces:?}", table.title);
        let digits = |it: &str| it.split_once('.').map_or(0, |(_, behind)| behind.len());
        assert!(ounces.iter().all(|it| digits(it) <= 2), "{}: {ounces:?}", table.title);
        judged += usize::from(!ounces.is_empty());
    }
    assert!(judged > 15, "{judged} tables");
}

/// The number of a group after the name of a bread denies nothing; without its colon it may be
/// read as an amount, and is asked about.
#[test]
fn the_number_of_a_group_denies_nothing() {
    let own = crate::booklets::QUAY;
    for (title, is_told) in [
        ("Hide wheat 0: percentages", false),
        ("Group wheat 0: which weights?", false),
        ("Group wheat 1: which weights?", false),
        ("wheat 0 g: which weights?", true),
        ("Our loaf: wheat 0", true),
    ] {
        let told = crate::support::names(&format!(
            "{own}booklet b \"{title}\" {{ worksheet quay-loaf \"{title}\" }}\n"
        ));
        let absent = told.iter().any(|it| it.contains("absence") || it.contains("claim"));
        assert_eq!(absent, is_told, "{title}: {told:?}");
    }
}

/// Where the house's sheets say everything in two languages, a booklet's sheets do; one in a
/// language of its own is in that.
#[test]
fn a_sheet_of_a_booklet_is_in_both_languages_of_the_house() {
    let own = crate::booklets::QUAY;
    let sheet = |of_booklet: &str| {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ language de and fr }}\n{own}booklet b \"B\" {{ \
             {of_booklet} sheet quay-loaf\n card quay-loaf }}\n"
        );
        let (documents, _) = made(&[("/x/a.dough".into(), text)], "b");
        let prints = documents[0].parts.iter().filter_map(|part| match part {
            BookletPart::Print { document, .. } => Some(document.mixes[0].lines[0].name.clone()),
            _ => None,
        });
        prints.collect::<Vec<_>>()
    };
    let both = sheet("");
    assert!(both[0].contains("Weizenmehl / farine"), "{both:?}");
    assert!(!both[1].contains(" / "), "a card has one: {both:?}");
    assert!(!sheet("language it\n")[0].contains(" / "), "{:?}", sheet("language it\n"));
}

/// Tables of one kind in one booklet have titles of their own.
#[test]
fn tables_of_one_kind_have_titles_of_their_own() {
    let more = "booklet t \"T\" { reckoner temperatures\n reckoner temperatures from 150C..260C \
                every 10C\n reckoner first-sour for 1..6 loaves\n reckoner first-sour for 12..24 \
                loaves every 4\n reckoner first-sour from 500 g..2 kg flour every 500 g\n reckoner \
                yeast }\n";
    let titles = each(&gullhaven(more), Some("t"), |maker| {
        let document = maker.document(Copy::All, 1, false);
        let own = tables(&document).into_iter().filter(|it| !it.goes_on);
        own.map(|it| it.title.clone()).collect::<Vec<_>>()
    });
    let distinct: BTreeSet<&String> = titles[0].iter().collect();
    assert_eq!(distinct.len(), titles[0].len(), "{titles:?}");
    assert!(titles[0].iter().any(|it| it.ends_with("(150–260 °C)")), "{titles:?}");
    assert!(titles[0].iter().any(|it| it.ends_with("(12–24 loaves)")), "{titles:?}");
}
