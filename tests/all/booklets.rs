//! Booklets: what a worksheet's blanks follow from, keys, reckoners, comparisons, shopping,
//! copies, and their pages.

use crate::support::{Memory, dough_files, names, over, top};
use assize::testing::desk::{self, booklets, load};
use assize::testing::diag::{Finding, Level};
use assize::testing::formula::work;
use assize::testing::print::booklet::{
    BookletDocument, BookletPart, Copy, Maker, TableCell, TablePart, TableRow, booklet_json,
};
use assize::testing::print::{Document, LinePart, Wording, document};
use assize::testing::quantity::display::read_exact;
use assize::testing::quantity::{Exact, int};
use assize::testing::syntax::words;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// All files of the example bakehouse, with one more.
pub fn gullhaven(more: &str) -> Vec<(String, String)> {
    let read = |path: &PathBuf| fs::read_to_string(path).expect("a file");
    let mut files: Vec<(String, String)> = dough_files("examples/gullhaven")
        .iter()
        .map(|path| (format!("/x/{}", path.file_name().expect("it").display()), read(path)))
        .collect();
    files.push(("/x/zz-more.dough".into(), more.into()));
    files
}

/// Does something with the maker of every booklet of some files, the one of a name, or all.
pub fn each<R>(
    files: &[(String, String)],
    name: Option<&str>,
    mut done: impl FnMut(&Maker) -> R,
) -> Vec<R> {
    let all: Vec<(&str, &str)> =
        files.iter().map(|(path, it)| (path.as_str(), it.as_str())).collect();
    let paths: Vec<PathBuf> = files.iter().map(|(path, _)| PathBuf::from(path)).collect();
    let loaded = load(&Memory::with(&all), Path::new("/x"), &paths);
    let bakehouses = desk::bakehouses(&loaded);
    let wanted = booklets::booklets(&bakehouses)
        .filter(|(_, _, booklet)| name.is_none_or(|name| booklet.name.key == name));
    let of_each = wanted.map(|(bakehouse, _, booklet)| {
        let (house, words) = booklets::house_and_words(bakehouse, booklet, None);
        let terms = booklets::terms(&words);
        done(&Maker::new(&house, &words, booklet, &terms))
    });
    of_each.collect()
}

/// Both copies of a booklet of some files, and the rules of what was found on the way.
pub fn made(files: &[(String, String)], name: &str) -> (Vec<BookletDocument>, Vec<&'static str>) {
    let all = each(files, Some(name), |maker| {
        let copies = Copy::of(maker.booklet).into_iter();
        let documents = copies.map(|copy| maker.document(copy, 1, false)).collect();
        let told = maker.findings.borrow().iter().map(|it| it.rule.name).collect();
        (documents, told)
    });
    all.into_iter().next().expect("the booklet is there")
}

pub fn tables(document: &BookletDocument) -> Vec<&TablePart> {
    let table = |part: &'_ BookletPart| matches!(part, BookletPart::Table(_));
    let parts = document.parts.iter().filter(|part| table(part));
    parts
        .map(|part| match part {
            BookletPart::Table(table) => table,
            _ => unreachable!("only tables are left"),
        })
        .collect()
}

pub const QUAY: &str = "
formula quay-loaf \"Quay Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 80%; whole wheat flour 20%; water 70%; salt 2%; fresh yeast 1% }
  preferment poolish { ferments 30% of flour; bread flour 100%; water 100%; fresh yeast 0.2%; ripens 12h }
}
";

pub fn one(inside: &str) -> (Vec<BookletDocument>, Vec<&'static str>) {
    let text = format!("{QUAY}booklet course \"Course\" {{\n{inside}\n}}\n");
    made(&[("/x/a.dough".into(), text)], "course")
}

// ---- Words ---------------------------------------------------------------------------------

/// Every word of a booklet changes what is printed, or is told.
#[test]
fn whatever_a_booklet_says_has_an_effect() {
    let samples = [
        ("language", "language fr"),
        ("units", "units US"),
        ("paper", "paper A5"),
        ("for", "for 3 people"),
        ("variants", "variants 4"),
        ("large", "large"),
        ("text", "text \"Weigh.\""),
        ("caution", "caution \"Hot.\""),
        ("card", "card quay-loaf for 4 loaves"),
        ("sheet", "sheet quay-loaf"),
        ("table", "table quay-loaf"),
        ("plan", "plan quay-loaf ready saturday 10:00"),
        ("picture", "picture \"a.svg\" \"A\""),
        ("page", "page"),
        ("worksheet", "worksheet quay-loaf"),
        ("compare", "compare quay-loaf with water 65%, 75%"),
        ("reckoner", "reckoner quay-loaf for 1..3 loaves"),
        ("shopping", "shopping"),
        ("glossary", "glossary { crumb \"inside\" }"),
        ("answers", "answers"),
        ("teacher", "teacher { page }"),
        ("learner", "learner { page }"),
    ];
    let seen = |inside: &str| {
        let text = format!("{QUAY}booklet course \"Course\" {{\n card quay-loaf\n{inside}\n}}\n");
        let told = names(&text);
        let (documents, _) = made(&[("/x/a.dough".into(), text)], "course");
        (told, documents.iter().map(booklet_json).collect::<Vec<_>>())
    };
    let base = seen("");
    for word in words::OF_A_BOOKLET {
        let sample = samples.iter().find(|(known, _)| known == word);
        let (_, sample) = sample.unwrap_or_else(|| panic!("`{word}` has no sample"));
        assert!(seen(sample) != base, "`{word}` is ignored in silence");
    }
}

// ---- Worksheets ------------------------------------------------------------------------------

/// A random number, the same every time.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// What a learner may use, written down from the table alone: the rank of these equations
/// modulo a prime says whether a blank follows. Nothing here is shared with the compiler.
struct Learner {
    /// Unknown weights: column, and line or sum.
    weights: Vec<(usize, Option<usize>)>,
}

const PRIME: u64 = 2_305_843_009_213_693_951;

fn times(one: u64, other: u64) -> u64 {
    u64::try_from(u128::from(one) * u128::from(other) % u128::from(PRIME)).expect("below the prime")
}

fn inverse(number: u64) -> u64 {
    let (mut result, mut base, mut power) = (1, number, PRIME - 2);
    while power > 0 {
        if power & 1 == 1 {
            result = times(result, base);
        }
        base = times(base, base);
        power >>= 1;
    }
    result
}

/// An exact number modulo the prime.
fn modular(number: &Exact) -> u64 {
    let written = number.to_string();
    let (above, below) = written.split_once('/').unwrap_or((&written, "1"));
    let of = |digits: &str| {
        let (sign, digits) = match digits.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, digits),
        };
        let value =
            digits.bytes().fold(0, |sum, digit| (times(sum, 10) + u64::from(digit - b'0')) % PRIME);
        if sign && value > 0 { PRIME - value } else { value }
    };
    times(of(above), inverse(of(below)))
}

/// Equations in echelon form, each with the place of its first unknown.
fn echelon(rows: Vec<Vec<u64>>) -> Vec<(usize, Vec<u64>)> {
    let mut known: Vec<(usize, Vec<u64>)> = Vec::new();
    for row in rows {
        let mut row = reduced(&known, row);
        let Some(first) = row.iter().position(|it| *it != 0) else { continue };
        let head = inverse(row[first]);
        row.iter_mut().filter(|it| **it != 0).for_each(|it| *it = times(*it, head));
        known.push((first, row));
    }
    known
}

/// What is left of a sum when what the equations settle is taken away.
fn reduced(known: &[(usize, Vec<u64>)], mut row: Vec<u64>) -> Vec<u64> {
    for (first, other) in known {
        let factor = row[*first];
        if factor == 0 {
            continue;
        }
        for (own, other) in row.iter_mut().zip(other).filter(|(_, other)| **other != 0) {
            *own = (*own + PRIME - times(*other, factor)) % PRIME;
        }
    }
    row
}

/// A blank: a column, a line or the sum, and whether it is the percentage.
type Blank = (usize, Option<usize>, bool);

struct Sheet<'d> {
    document: &'d Document,
    columns: Vec<(&'d [LinePart], Exact)>,
}

impl<'d> Sheet<'d> {
    fn of(document: &'d Document) -> Self {
        let grams = |text: &str| read_exact(text).expect("grams");
        // A dough without stages has one column: it is its own total.
        let said = |line: &LinePart| {
            let weight = line.weight.as_ref().map(|it| it.grams.clone());
            format!("{} {:?} {:?} {weight:?}", line.key, line.role, line.percent_exact)
        };
        let all = |lines: &[LinePart]| {
            let mut all: Vec<String> = lines.iter().map(said).collect();
            all.sort();
            all
        };
        let is_alone =
            document.mixes.len() == 1 && all(&document.mixes[0].lines) == all(&document.total);
        let mixes = if is_alone { &[][..] } else { document.mixes.as_slice() };
        let mut columns = vec![(document.total.as_slice(), grams(&document.total_sum.grams))];
        columns.extend(mixes.iter().map(|it| (it.lines.as_slice(), grams(&it.sum.grams))));
        Self { document, columns }
    }

    fn grams(&self, column: usize, line: Option<usize>) -> Option<Exact> {
        match line {
            None => Some(self.columns[column].1.clone()),
            Some(line) => read_exact(&self.columns[column].0[line].weight.as_ref()?.grams),
        }
    }

    /// Whether everything hidden follows from what is left.
    fn is_solvable(&self, hidden: &[Blank]) -> bool {
        let mut learner = Learner { weights: Vec::new() };
        for (column, (lines, _)) in self.columns.iter().enumerate() {
            let own = (0..lines.len()).map(Some).chain([None]);
            let own = own.filter(|line| self.grams(column, *line).is_some());
            learner.weights.extend(own.map(|line| (column, line)));
        }
        let count = learner.weights.len();
        let at = |column: usize, line: Option<usize>| {
            learner.weights.iter().position(|it| *it == (column, line))
        };
        let mut rows: Vec<Vec<u64>> = Vec::new();
        let mut add = |terms: &[(usize, Exact)]| {
            let mut row = vec![0; count];
            for (place, factor) in terms {
                row[*place] = (row[*place] + modular(factor)) % PRIME;
            }
            rows.push(row);
        };
        let flour_of = |column: usize| -> Vec<usize> {
            let lines = self.columns[column].0.iter().enumerate();
            let flours = lines.filter(|(_, line)| line.class.as_deref() == Some("flour"));
            flours.filter_map(|(line, _)| at(column, Some(line))).collect()
        };
        let share = |column: usize, line: usize| {
            let exact = self.columns[column].0[line].percent_exact.as_deref()?;
            let share = read_exact(exact)?;
            let own = at(column, Some(line))?;
            if self.columns[column].0[line].percent_low.is_some() {
                return None;
            }
            let base = over(self.grams(column, Some(line))?, &share);
            let comes_to = |flours: &Vec<usize>| {
                let sum = flours.iter().fold(Exact::ZERO, |sum, it| {
                    let (column, line) = learner.weights[*it];
                    sum + self.grams(column, line).expect("a weight")
                });
                !flours.is_empty() && sum == base
            };
            // Of the flour of its own mix, or of all flour.
            let flours = [column, 0].into_iter().map(&flour_of).find(comes_to)?;
            let mut terms = vec![(own, int(1))];
            terms.extend(flours.iter().map(|it| (*it, -share.clone())));
            Some(terms)
        };
        // What holds in the table.
        for (column, (lines, sum)) in self.columns.iter().enumerate() {
            let own: Vec<usize> =
                (0..lines.len()).filter_map(|line| at(column, Some(line))).collect();
            let all = (0..lines.len()).filter_map(|line| self.grams(column, Some(line)));
            if all.fold(Exact::ZERO, |sum, it| sum + it) == *sum {
                let mut terms: Vec<(usize, Exact)> = own.iter().map(|it| (*it, int(1))).collect();
                terms.extend(at(column, None).map(|it| (it, int(-1))));
                add(&terms);
            }
        }
        // What the sheet says that its one culture is made of.
        let mut cultures: Vec<(usize, Option<usize>)> = Vec::new();
        let mut kinds = Vec::new();
        for (column, (lines, _)) in self.columns.iter().enumerate() {
            for (line, part) in lines.iter().enumerate() {
                if format!("{:?}", part.kind) == "Culture"
                    && self.grams(column, Some(line)).is_some()
                {
                    cultures.push((column, Some(line)));
                    kinds.push(part.key.clone());
                }
            }
        }
        kinds.dedup();
        let of_cultures = cultures.iter().fold(Exact::ZERO, |sum, (column, line)| {
            sum + self.grams(*column, *line).expect("a weight")
        });
        let mut brought: Vec<(Vec<(usize, Exact)>, Exact)> = Vec::new();
        for (line, own) in self.columns[0].0.iter().enumerate() {
            let Some(place) = at(0, Some(line)) else { continue };
            let mut terms = vec![(place, int(-1))];
            let mut sum = Exact::ZERO;
            for column in 1..self.columns.len() {
                for (other, part) in self.columns[column].0.iter().enumerate() {
                    let kind = format!("{:?}", part.kind);
                    if part.key == own.key
                        && (kind == "Ingredient" || kind == "Culture")
                        && let Some(place) = at(column, Some(other))
                    {
                        terms.push((place, int(1)));
                        sum += self.grams(column, Some(other)).expect("a weight");
                    }
                }
            }
            let total = self.grams(0, Some(line)).expect("a weight");
            if sum != total {
                brought.push((terms, total - sum));
            } else if terms.len() > 1 {
                add(&terms);
            }
        }
        let more = brought.iter().fold(Exact::ZERO, |sum, (_, more)| sum + more.clone());
        let is_said = kinds.len() == 1
            && more == of_cultures
            && brought.iter().all(|(_, more)| *more > Exact::ZERO);
        for (mut terms, more) in brought.into_iter().filter(|_| is_said) {
            let share = over(more, &of_cultures);
            let own = cultures.iter().map(|(column, line)| at(*column, *line).expect("it"));
            terms.extend(own.map(|place| (place, share.clone())));
            add(&terms);
        }
        for (column, (lines, _)) in self.columns.iter().enumerate() {
            for (line, own) in lines.iter().enumerate() {
                if format!("{:?}", own.kind) != "Stage" {
                    continue;
                }
                let stage =
                    self.document.mixes.iter().position(|it| it.name.to_lowercase() == own.key);
                let Some(stage) = stage.map(|it| it + 1) else { continue };
                if self.grams(stage, None) == self.grams(column, Some(line))
                    && let (Some(one), Some(other)) = (at(column, Some(line)), at(stage, None))
                {
                    add(&[(one, int(1)), (other, int(-1))]);
                }
            }
        }
        let last = self.columns.len() - 1;
        if self.columns[0].1 == self.columns[last].1
            && let (Some(one), Some(other)) = (at(0, None), at(last, None))
        {
            add(&[(one, int(1)), (other, int(-1))]);
        }
        // What stands.
        for (column, line) in &learner.weights {
            if !hidden.contains(&(*column, *line, false)) {
                add(&[(at(*column, *line).expect("it"), int(1))]);
            }
            if let Some(line) = line
                && !hidden.contains(&(*column, Some(*line), true))
                && let Some(terms) = share(*column, *line)
            {
                add(&terms);
            }
        }
        for (name, class) in [("hydration", "water"), ("salt", "salt")] {
            let figure = self.document.figures.iter().find(|it| it.name == name);
            let Some(figure) = figure.filter(|it| it.exact_high.is_none()) else { continue };
            let worth = read_exact(&figure.exact).expect("a figure");
            let of = |class: &str| -> Vec<usize> {
                let lines = self.columns[0].0.iter().enumerate();
                let own = lines.filter(|(_, line)| line.class.as_deref() == Some(class));
                own.filter_map(|(line, _)| at(0, Some(line))).collect()
            };
            let sum = |all: &[usize]| {
                all.iter().fold(Exact::ZERO, |sum, it| {
                    sum + self.grams(0, learner.weights[*it].1).expect("a weight")
                })
            };
            let (above, flours) = (of(class), of("flour"));
            if !flours.is_empty() && over(sum(&above), sum(&flours)) == worth {
                let mut terms: Vec<(usize, Exact)> = above.iter().map(|it| (*it, int(1))).collect();
                terms.extend(flours.iter().map(|it| (*it, -worth.clone())));
                add(&terms);
            }
        }
        let known = echelon(rows);
        hidden.iter().all(|(column, line, is_percent)| {
            let mut row = vec![0; count];
            let terms = match is_percent {
                false => vec![(at(*column, *line).expect("it"), int(1))],
                true => match share(*column, line.expect("a line")) {
                    Some(terms) => terms,
                    None => return false,
                },
            };
            for (place, factor) in &terms {
                row[*place] = (row[*place] + modular(factor)) % PRIME;
            }
            // The rank stays what it is.
            reduced(&known, row).iter().all(|it| *it == 0)
        })
    }
}

pub fn documents(files: &[(String, String)]) -> Vec<Document> {
    let all: Vec<(&str, &str)> =
        files.iter().map(|(path, it)| (path.as_str(), it.as_str())).collect();
    let paths: Vec<PathBuf> = files.iter().map(|(path, _)| PathBuf::from(path)).collect();
    let loaded = load(&Memory::with(&all), Path::new("/x"), &paths);
    let mut documents = Vec::new();
    for bakehouse in &desk::bakehouses(&loaded) {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            documents.push(document(&bakehouse.house, &worked, &Wording::plain(), false));
        }
    }
    documents
}

/// How `hide` says a blank: `water in levain`, `"bread flour" % in total`; none where the
/// words would mean other cells too.
fn said(sheet: &Sheet, blank: Blank) -> Option<String> {
    let (column, line, is_percent) = blank;
    let mixes = &sheet.document.mixes;
    let place = if column == 0 { "total".to_owned() } else { mixes[column - 1].name.clone() };
    let Some(line) = line else {
        return (!is_percent).then(|| format!("dough in {place}"));
    };
    let own = &sheet.columns[column].0[line];
    let same = sheet.columns[column]
        .0
        .iter()
        .filter(|it| it.key == own.key || it.class.as_deref() == Some(own.key.as_str()));
    let is_plain = own.role.is_none() && same.count() == 1;
    let is_cell = own.weight.is_some() && (!is_percent || own.percent_exact.is_some());
    let sign = if is_percent { " %" } else { "" };
    (is_plain && is_cell).then(|| format!("{}{sign} in {place}", own.key))
}

/// 500 random sets of hidden cells over all examples: what the compiler says of each equals
/// what the rank of a learner's equations says.
#[test]
fn a_worksheet_is_refused_exactly_where_a_blank_does_not_follow() {
    let own = documents(&gullhaven(""));
    let mut chance = Chance(17);
    let mut wanted: Vec<(String, bool, Vec<String>)> = Vec::new();
    while wanted.len() < 500 {
        let at = usize::try_from(chance.below(own.len() as u64)).expect("small");
        let sheet = Sheet::of(&own[at]);
        let has_ranges = own[at].total.iter().any(|line| line.weight_high.is_some());
        if has_ranges || own[at].mixes.is_empty() {
            continue;
        }
        let mut hidden = Vec::new();
        let mut words = Vec::new();
        let density = 1 + chance.below(9);
        for column in 0..sheet.columns.len() {
            let lines = (0..sheet.columns[column].0.len()).map(Some).chain([None]);
            for line in lines {
                for is_percent in [false, true] {
                    let blank = (column, line, is_percent);
                    if chance.below(10) < density
                        && let Some(said) = said(&sheet, blank)
                    {
                        hidden.push(blank);
                        words.push(said);
                    }
                }
            }
        }
        if !hidden.is_empty() {
            wanted.push((own[at].name.clone(), sheet.is_solvable(&hidden), words));
        }
    }
    let more: String = wanted
        .iter()
        .enumerate()
        .map(|(at, (name, _, words))| {
            format!("booklet b{at} \"B\" {{ worksheet {name} {{ hide {} }} }}\n", words.join(", "))
        })
        .collect();
    let files = gullhaven(&more);
    let told = solvable(&files);
    let mut seen = [0, 0];
    for (at, (name, is_solvable, words)) in wanted.iter().enumerate() {
        assert_eq!(told.get(&format!("b{at}")), Some(is_solvable), "{name}: {}", words.join(", "));
        seen[usize::from(*is_solvable)] += 1;
    }
    assert!(seen[0] > 80 && seen[1] > 80, "both verdicts occur: {seen:?}");
}

/// For each booklet whether its worksheets have single answers.
fn solvable(files: &[(String, String)]) -> BTreeMap<String, bool> {
    let all = each(files, None, |maker| {
        maker.document(Copy::All, 1, false);
        let findings = maker.findings.borrow();
        // What rounding on the way leaves open is another reason than what is missing.
        let refused = findings
            .iter()
            .any(|it| it.rule.name == "no-single-answer" && !it.message.contains("roughly"));
        (maker.booklet.name.key.to_string(), !refused)
    });
    all.into_iter().collect()
}

/// The key filled into the blanks is the table of the formula's own print, cell by cell, where
/// that has fewer digits to a step of the scale; and each blank of the learner's page is empty.
#[test]
fn a_key_filled_into_its_blanks_is_the_formulas_table() {
    let own = documents(&gullhaven(""));
    let (mut filled, mut same, mut finer) = (0, 0, 0);
    for document in own.iter().filter(|it| !it.mixes.is_empty()) {
        let more = format!(
            "booklet b \"B\" {{ worksheet {} {{ hide percentages, hydration }}\n answers }}\n",
            document.name
        );
        let (documents, told) = made(&gullhaven(&more), "b");
        if told.contains(&"no-single-answer") {
            continue;
        }
        let tables = tables(&documents[0]);
        let (learner, key) = (tables[0], tables[1]);
        let columns =
            std::iter::once(&document.total).chain(document.mixes.iter().map(|it| &it.lines));
        for (column, lines) in columns.take(key.columns.len() / 2).enumerate() {
            for line in lines {
                let name = match &line.role {
                    Some(role) => format!("{} ({role})", line.name),
                    None => line.name.clone(),
                };
                let of = |table: &TablePart| {
                    let row = table.rows.iter().find(|row| row.name == name).expect("a row");
                    (row.cells[2 * column].clone(), row.cells[2 * column + 1].clone())
                };
                let (percent, weight) = of(key);
                if let Some(own) = &line.weight {
                    let is_same = (&weight.shown, &weight.unit) == (&own.shown, &own.unit);
                    let (said, printed) = (grams(&weight), read_grams(&own.shown, &own.unit));
                    // The scale of the house: 5 g above 1 kg, 1 g, 0.1 g below 20 g.
                    let step = match printed.expect("a weight") {
                        grams if grams >= 1000.0 => 5.0,
                        grams if grams >= 20.0 => 1.0,
                        _ => 0.1,
                    };
                    let apart = said.zip(printed).map(|(one, other)| (one - other).abs());
                    assert!(is_same || apart.is_some_and(|it| it < step), "{name}: {weight:?}");
                    same += usize::from(is_same);
                    finer += usize::from(!is_same);
                }
                let (blank, _) = of(learner);
                if let Some(own) = &line.percent {
                    assert_eq!(percent.shown, *own, "{name} in {}", document.name);
                    assert!(blank.blank && blank.shown.is_empty(), "{name}");
                    filled += 1;
                }
            }
        }
    }
    assert!(
        filled > 60 && same > finer,
        "{filled} blanks, {same} weights as printed, {finer} finer"
    );
}

/// Nothing said, a worksheet can always be answered, and asks something; and what it asks
/// stands in no other cell of the row, nor as a figure below.
#[test]
fn what_is_hidden_where_nothing_is_said_can_be_worked_out_and_stands_nowhere() {
    let mut files = gullhaven("");
    let read = |path: &PathBuf| fs::read_to_string(path).expect("a file");
    files.extend(["mole-loaf", "quay-loaf"].map(|name| {
        let readme = read(&top().join("README.md"));
        let block = readme.split("```dough ").find(|it| it.starts_with(name)).expect("it");
        let text = block.split_once('\n').expect("lines").1.split("```").next().expect("its end");
        (format!("/x/{name}.dough"), text.to_owned())
    }));
    let own = documents(&files);
    let mut blanks = 0;
    for document in own.iter().filter(|it| it.total.len() > 1) {
        let more = format!("booklet b \"B\" {{ worksheet {}\n answers }}\n", document.name);
        let mut files = files.clone();
        files.push(("/x/zzz.dough".into(), more));
        let (documents, told) = made(&files, "b");
        assert!(told.is_empty(), "{}: {told:?}", document.name);
        let tables = tables(&documents[0]);
        let [learner, key] = tables.as_slice() else { panic!("{}", document.name) };
        let own = learner.rows.iter().flat_map(|row| &row.cells).filter(|cell| cell.blank).count();
        assert!(own > 0, "{}", document.name);
        blanks += own;
        for (row, filled) in
            learner.rows.iter().zip(&key.rows).filter(|(row, _)| row.kind == "figure")
        {
            let is_asked = |name: &str| {
                let all = learner.rows.iter().filter(|it| it.kind == "line" && it.name == name);
                all.filter(|it| it.cells[0].blank).count() == 1
            };
            // One line of salt: its percentage is the figure.
            if filled.name == "Salt" && is_asked("salt") {
                assert!(row.cells.iter().any(|it| it.blank), "{}: {}", document.name, row.name);
            }
        }
    }
    assert!(blanks > 200, "{blanks}");
}

/// A blank that another cell repeats takes that cell with it, where all can still be
/// worked out; and a line of the key that says `20 g = 20 g` explains nothing.
#[test]
fn no_answer_stands_in_the_open_and_no_working_is_empty() {
    let (documents, told) = one("worksheet quay-loaf { hide salt in total, hydration }\nanswers");
    assert!(told.is_empty(), "{told:?}");
    let tables = tables(&documents[0]);
    let row = |name: &str| tables[0].rows.iter().find(|row| row.name == name).expect("a row");
    let salt = &row("salt").cells;
    assert!(salt.iter().filter(|it| it.unit == "g" || it.blank).all(|it| it.blank), "{salt:?}");
    assert!(row("water").cells[0].blank, "the water's percentage is the hydration");
    let lines = documents.iter().flat_map(|it| &it.parts).find_map(|part| match part {
        BookletPart::Lines { lines, .. } => Some(lines),
        _ => None,
    });
    for line in lines.expect("workings") {
        let (_, working) = line.split_once(": ").expect("a name and how it follows");
        let (before, after) = working.rsplit_once(['=', '≈']).expect("what it comes to");
        assert_ne!(before.trim(), after.trim(), "{line}");
    }
}

/// A key begins a page, and the learner's copy has none once it is asked for.
#[test]
fn a_key_stands_on_a_page_of_its_own() {
    for inside in ["worksheet quay-loaf\nanswers", "worksheet quay-loaf\nteacher { answers }"] {
        let (documents, told) = one(inside);
        assert!(told.is_empty(), "{told:?}");
        let parts = &documents.last().expect("a copy").parts;
        let is_key = |part: &BookletPart| matches!(part, BookletPart::Table(table) if table.title.starts_with("Key"));
        let at = parts.iter().position(is_key).expect("a key");
        assert!(matches!(parts[at - 2], BookletPart::Page), "{inside}");
        assert!(matches!(parts[at - 1], BookletPart::Text { .. }), "a heading: {inside}");
    }
}

#[test]
fn a_key_says_how_each_blank_follows() {
    let (documents, told) = one(
        "worksheet quay-loaf { hide water %, salt in total, whole wheat flour % in total }\nanswers",
    );
    assert!(told.is_empty(), "{told:?}");
    let lines = documents[0].parts.iter().find_map(|part| match part {
        BookletPart::Lines { lines, .. } => Some(lines.clone()),
        _ => None,
    });
    // 1800 g at 173 %: 1040.5 g of flour.
    let lines = lines.expect("workings");
    assert!(lines.iter().any(|it| it.contains("100 % − 80 % = 20")), "{lines:?}");
    assert!(
        lines
            .iter()
            .any(|it| it.starts_with("salt (Dough): 2 %")
                || it.starts_with("salt (Total formula): 2 %")),
        "{lines:?}"
    );
    assert!(lines.iter().any(|it| it.contains("÷") && it.starts_with("water %")), "{lines:?}");
}

// ---- Exercises -------------------------------------------------------------------------------

/// The tables of exercises: question and key, in this order.
fn exercise(formula: &str, inside: &str) -> Option<(TablePart, TablePart)> {
    let more = format!("booklet b \"B\" {{ worksheet {formula} {{ {inside} }}\n answers }}\n");
    let (documents, told) = made(&gullhaven(&more), "b");
    if told.contains(&"exercise-not-possible") {
        return None;
    }
    let tables = tables(&documents[0]);
    let [question, key] = tables.as_slice() else { panic!("{formula}: {told:?}") };
    Some(((*question).clone(), (*key).clone()))
}

fn read_grams(shown: &str, unit: &str) -> Option<f64> {
    grams(&TableCell::of(shown.trim_start_matches("≈ "), unit))
}

fn grams(cell: &TableCell) -> Option<f64> {
    let number: f64 = cell.shown.trim_start_matches("≈ ").parse().ok()?;
    Some(if cell.unit == "kg" { number * 1000.0 } else { number })
}

/// A scaled table is the same dough: every weight grows by one factor.
#[test]
fn scaling_grows_every_weight_alike_and_starters_come_to_what_is_wanted() {
    let (_, key) = exercise("gullhaven-sour", "scale for 50 loaves").expect("it can be scaled");
    for row in &key.rows {
        let [before, after] = row.cells.as_slice() else { panic!("two columns") };
        let Some((before, after)) = grams(before).zip(grams(after)) else { continue };
        assert!((after / before - 50.0 / 24.0).abs() < 0.02, "{}: {before} {after}", row.name);
    }
    let (_, key) = exercise("first-sour", "starter levain for 300 g").expect("a culture");
    let asked = key.rows.iter().map(|row| &row.cells[1]).filter(|cell| cell.strong);
    let sum: f64 = asked.map(|cell| grams(cell).expect("grams")).sum();
    assert!((sum - 300.0).abs() < 1e-6, "{sum}");
}

/// A number as a page shows it, and how far the true one may lie from it.
#[derive(Clone, Copy, Debug)]
struct Shown {
    worth: f64,
    off: f64,
}

impl Shown {
    fn read(number: &str, unit: &str) -> Option<Self> {
        let number = number.trim().trim_start_matches("≈ ");
        let digits = number.split_once('.').map_or(0, |(_, behind)| behind.len());
        let by = if unit == "kg" { 1000.0 } else { 1.0 };
        // A whole step of the last digit: the parts of a feed are rounded so that they add up.
        let off = 0.1_f64.powi(i32::try_from(digits).ok()?);
        Some(Self { worth: number.parse::<f64>().ok()? * by, off: off * by })
    }

    fn of(cell: &TableCell) -> Self {
        Self::read(&cell.shown, &cell.unit).unwrap_or_else(|| panic!("{cell:?}"))
    }

    fn exact(worth: f64) -> Self {
        Self { worth, off: 0.0 }
    }

    fn plus(self, other: Self) -> Self {
        Self { worth: self.worth + other.worth, off: self.off + other.off }
    }

    fn minus(self, other: Self) -> Self {
        Self { worth: self.worth - other.worth, off: self.off + other.off }
    }

    fn times(self, other: Self) -> Self {
        let off =
            self.off * other.worth.abs() + other.off * self.worth.abs() + self.off * other.off;
        Self { worth: self.worth * other.worth, off }
    }

    fn over(self, other: Self) -> Self {
        let least = other.worth.abs() - other.off;
        let worth = self.worth / other.worth;
        Self { worth, off: (self.off + worth.abs() * other.off) / least }
    }

    fn meets(self, other: Self) -> bool {
        (self.worth - other.worth).abs() <= (self.off + other.off) * 1.001 + 1e-6
    }
}

/// `1 h 30 min`, `2 d 4 h`, in minutes.
fn minutes_in(time: &str) -> i64 {
    let words: Vec<&str> = time.split([' ', '\u{a0}']).collect();
    let of = |unit: &str| match unit {
        "min" => 1,
        "h" => 60,
        "d" | "day" | "days" => 1440,
        _ => panic!("{time}"),
    };
    words.chunks(2).map(|it| it[0].parse::<i64>().expect("a number") * of(it[1])).sum()
}

/// Copies of a worksheet, each with numbers of its own.
const SEATS: u32 = 200;

/// What a learner knows of a page: its numbers by row and column, and those worked out.
/// Columns are `%`, `o` for what there was and `n` for what is wanted.
struct Known {
    rows: Vec<String>,
    numbers: BTreeMap<(String, char), Shown>,
    is_new: bool,
}

impl Known {
    fn of(page: &TablePart) -> Self {
        let mut known = Self { rows: Vec::new(), numbers: BTreeMap::new(), is_new: true };
        let columns = columns_of(page);
        for row in &page.rows {
            known.rows.push(row.name.clone());
            for (cell, column) in row.cells.iter().zip(&columns) {
                if let Some(shown) = Shown::read(&cell.shown, &cell.unit).filter(|_| !cell.blank) {
                    known.numbers.insert((row.name.clone(), *column), shown);
                }
            }
        }
        known
    }

    fn get(&self, row: &str, column: char) -> Option<Shown> {
        self.numbers.get(&(row.to_owned(), column)).copied()
    }

    fn learn(&mut self, row: &str, column: char, worth: Option<Shown>) {
        if let Some(worth) = worth.filter(|_| self.get(row, column).is_none()) {
            self.numbers.insert((row.to_owned(), column), worth);
            self.is_new = true;
        }
    }

    fn part_of(&self, row: &str, whole: Option<Shown>) -> Option<Shown> {
        Some(self.get(row, '%')?.times(whole?).times(Shown::exact(0.01)))
    }

    fn sum(&self, rows: &[String]) -> Option<Shown> {
        let all: Option<Vec<Shown>> = rows.iter().map(|row| self.get(row, '%')).collect();
        let all = all.filter(|all| !all.is_empty())?;
        Some(all.into_iter().fold(Shown::exact(0.0), Shown::plus))
    }
}

fn columns_of(page: &TablePart) -> Vec<char> {
    let numbers = page.columns.iter().filter(|it| it.title != "%").count();
    let mut left = if numbers > 1 { vec!['n', 'o'] } else { vec!['n'] };
    page.columns
        .iter()
        .map(|it| if it.title == "%" { '%' } else { left.pop().expect("two") })
        .collect()
}

/// So much in a hundred, from a percentage.
fn whole_of(part: Option<Shown>, percent: Option<Shown>) -> Option<Shown> {
    Some(part?.over(percent?).times(Shown::exact(100.0)))
}

fn both(
    one: Option<Shown>,
    other: Option<Shown>,
    of: impl Fn(Shown, Shown) -> Shown,
) -> Option<Shown> {
    one.zip(other).map(|(one, other)| of(one, other))
}

/// One round of what a learner can work out of weights that grow: by a factor, from the
/// percentages of all, and from those of each mix.
fn grown(known: &mut Known, mixes: &[String]) {
    const BAKED: &str = "weight of one, baked";
    const LOSS: &str = "lost in the oven";
    const OWN: [&str; 7] = [
        "times as much",
        "weight of one",
        BAKED,
        LOSS,
        "Dough",
        "all percentages together",
        "Flour",
    ];
    let left = known.get(LOSS, '%').map(|loss| Shown::exact(100.0).minus(loss));
    known.learn(BAKED, '%', left);
    known.learn("weight of one", 'n', whole_of(known.get(BAKED, 'n'), known.get(BAKED, '%')));
    let rows = known.rows.clone();
    let of_mix = |row: &String| mixes.iter().any(|mix| row.ends_with(&format!(" ({mix})")));
    // What a culture brings of flour and water: `water (rye culture)`.
    let brings = |row: &String| {
        let (_, culture) = row.strip_suffix(')')?.rsplit_once(" (")?;
        let is_row = rows.iter().any(|row| row.starts_with(&format!("{culture} (")));
        (is_row && !mixes.iter().any(|mix| mix == culture)).then(|| culture.to_owned())
    };
    let cultures: BTreeSet<String> = rows.iter().filter_map(brings).collect();
    let of_mix = |row: &String| of_mix(row) || brings(row).is_some();
    let is_line =
        |row: &&String| !of_mix(row) && !OWN.contains(&row.as_str()) && !mixes.contains(row);
    for row in rows.iter().filter(|row| !of_mix(row)) {
        known.learn(
            "times as much",
            'n',
            both(known.get(row, 'n'), known.get(row, 'o'), Shown::over),
        );
    }
    for row in &rows {
        let factor = known.get("times as much", 'n');
        known.learn(row, 'n', both(known.get(row, 'o'), factor, Shown::times));
    }
    let lines: Vec<String> =
        rows.iter().filter(is_line).filter(|row| known.get(row, '%').is_some()).cloned().collect();
    known.learn("all percentages together", '%', known.sum(&lines));
    for row in rows.iter().filter(is_line) {
        if known.get(row, '%').is_some() {
            continue;
        }
        let one = known.get("weight of one", 'n');
        known.learn("Dough", 'n', both(known.get(row, 'n'), one, Shown::times));
    }
    let all = known.get("all percentages together", '%');
    known.learn("Flour", 'n', whole_of(known.get("Dough", 'n'), all));
    for mix in mixes {
        known.learn("Flour", 'n', whole_of(known.get(mix, 'n'), known.get(mix, '%')));
        known.learn(mix, 'n', known.part_of(mix, known.get("Flour", 'n')));
        let end = format!(" ({mix})");
        let own: Vec<String> = rows
            .iter()
            .filter(|row| row.ends_with(&end) && !OWN.iter().any(|it| row.starts_with(it)))
            .filter(|row| known.get(row, '%').is_some())
            .cloned()
            .collect();
        let (all, flour) = (format!("all percentages together{end}"), format!("Flour{end}"));
        known.learn(&all, '%', known.sum(&own));
        known.learn(&flour, 'n', whole_of(known.get(mix, 'n'), known.get(&all, '%')));
        for row in &own {
            known.learn(row, 'n', known.part_of(row, known.get(&flour, 'n')));
        }
    }
    for row in &lines {
        known.learn(row, 'n', known.part_of(row, known.get("Flour", 'n')));
    }
    for culture in &cultures {
        let begins = format!("{culture} (");
        let whole = rows.iter().filter(|row| row.starts_with(&begins));
        let whole =
            whole.map(|row| known.get(row, 'n')).reduce(|all, own| both(all, own, Shown::plus));
        let end = format!(" ({culture})");
        for row in rows.iter().filter(|row| row.ends_with(&end)) {
            known.learn(row, 'n', known.part_of(row, whole.flatten()));
        }
    }
    // What goes into the dough itself is the whole less what the stages take.
    let Some((dough, stages)) = mixes.split_last() else { return };
    for row in &rows {
        if known.get(row, '%').is_some() {
            continue;
        }
        let Some(line) = row.strip_suffix(&format!(" ({dough})")) else { continue };
        let taken: Option<Vec<Shown>> = stages
            .iter()
            .chain(&cultures)
            .map(|stage| format!("{line} ({stage})"))
            .filter(|row| rows.contains(row))
            .map(|row| known.get(&row, 'n'))
            .collect();
        let left = known.get(line, 'n').zip(taken.filter(|it| !it.is_empty()));
        known.learn(row, 'n', left.map(|(all, taken)| taken.into_iter().fold(all, Shown::minus)));
    }
}

/// One round of a page about hydration.
fn wet(known: &mut Known) {
    const BROUGHT: [&str; 2] = ["water that stages bring", "flour that stages bring"];
    const ADDED: [&str; 2] = ["water added in the dough", "flour added in the dough"];
    let stage =
        known.rows.iter().find_map(|row| row.strip_suffix(": hydration")).map(str::to_owned);
    if let Some(stage) = stage {
        let own = |what: &str| format!("{stage}: {what}");
        let (flour, wet) = (known.get(&own("flour"), 'n'), known.get(&own("hydration"), 'n'));
        known.learn(&own("all together"), 'n', both(flour, wet, Shown::plus));
        let all = known.get(&own("all together"), 'n');
        known.learn(BROUGHT[1], 'n', whole_of(known.get(&stage, 'n'), all));
        let water = both(known.get(&stage, 'n'), known.get(BROUGHT[1], 'n'), Shown::minus);
        known.learn(BROUGHT[0], 'n', water);
    }
    // A stage that is told with the percentages of its lines.
    let of_lines = known.rows.iter().find_map(|row| row.strip_suffix(')')?.rsplit_once(" ("));
    if let Some((_, stage)) = of_lines.map(|(line, stage)| (line.to_owned(), stage.to_owned())) {
        let end = format!(" ({stage})");
        let lines: Vec<String> =
            known.rows.iter().filter(|row| row.ends_with(&end)).cloned().collect();
        let percents: Option<Vec<Shown>> = lines.iter().map(|row| known.get(row, 'n')).collect();
        let all = percents.and_then(|it| it.into_iter().reduce(Shown::plus));
        let both_of = format!("{stage}: all together");
        known.learn(&both_of, 'n', all.filter(|_| known.get(&stage, 'n').is_some()));
        let all = known.get(&both_of, 'n');
        known.learn(BROUGHT[1], 'n', whole_of(known.get(&stage, 'n'), all));
        let wet = known.get(&format!("water{end}"), 'n');
        let water = both(wet, known.get(BROUGHT[1], 'n'), Shown::times);
        known.learn(BROUGHT[0], 'n', water.map(|it| it.times(Shown::exact(0.01))));
    }
    for (at, all) in ["all the water", "all the flour"].into_iter().enumerate() {
        let sum = both(known.get(ADDED[at], 'n'), known.get(BROUGHT[at], 'n'), Shown::plus);
        known.learn(all, 'n', sum);
    }
    let percent = |known: &Known, one: &str, other: &str| {
        let share = both(known.get(one, 'n'), known.get(other, 'n'), Shown::over);
        share.map(|it| it.times(Shown::exact(100.0)))
    };
    known.learn("Hydration of added flour", 'n', percent(known, ADDED[0], ADDED[1]));
    known.learn("Hydration with the stages", 'n', percent(known, "all the water", "all the flour"));
    // Made wetter with more water.
    let wanted = known.get("Hydration with the stages, wanted", 'n');
    let then = both(wanted, known.get("all the flour", 'n'), Shown::times);
    known.learn("all the water, then", 'n', then.map(|it| it.times(Shown::exact(0.01))));
    let then = known.get("all the water, then", 'n');
    known.learn("water to add", 'n', both(then, known.get("all the water", 'n'), Shown::minus));
    let more = known.get("water to add", 'n');
    let added = both(known.get(ADDED[0], 'n'), more, Shown::plus);
    known.learn("water added in the dough, then", 'n', added);
    let then = percent(known, "water added in the dough, then", ADDED[1]);
    known.learn("Hydration of added flour, then", 'n', then);
}

/// One round of a page on which a flour takes the place of a part of another.
fn exchanged(known: &mut Known, lead: &str) {
    const MOVED: &str = "exchanged, of all flour";
    const OWN: [&str; 4] = ["all percentages together", "Dough", "Flour", MOVED];
    let (_, names) = lead.split_once(" is taken away from ").expect("what goes out");
    let (from, to) = names.split_once(", and as much ").expect("what goes in");
    let (to, _) = to.split_once(" put in its place").expect("what goes in");
    let from = from.to_owned();
    let lines: Vec<String> = known
        .rows
        .iter()
        .filter(|row| !OWN.contains(&row.as_str()) && known.get(row, '%').is_some())
        .cloned()
        .collect();
    known.learn("all percentages together", '%', known.sum(&lines));
    let all = known.get("all percentages together", '%');
    known.learn("Flour", 'o', whole_of(known.get("Dough", 'o'), all));
    let flour = known.get("Flour", 'o');
    known.learn(MOVED, 'n', known.part_of(MOVED, flour));
    let moved = known.get(MOVED, 'n');
    for row in &lines {
        known.learn(row, 'o', known.part_of(row, flour));
        if *row != to && *row != from {
            known.learn(row, 'n', known.part_of(row, flour));
        }
    }
    known.learn(&from, 'n', both(known.get(&from, 'o'), moved, Shown::minus));
    let is_new = !lines.iter().any(|row| *row == to);
    let before = known.get(to, 'o').or_else(|| is_new.then(|| Shown::exact(0.0)));
    known.learn(to, 'n', both(before, moved, Shown::plus));
}

/// One round of a page about what to feed.
fn fed(known: &mut Known, culture: &str) {
    const OWN: [&str; 4] =
        ["all percentages together", "times as much", "Flour", "flour of the first feed"];
    let rows = known.rows.clone();
    let lines: Vec<String> = rows
        .iter()
        .filter(|row| !OWN.contains(&row.as_str()) && known.get(row, '%').is_some())
        .cloned()
        .collect();
    known.learn("all percentages together", '%', known.sum(&lines));
    let all = known.get("all percentages together", '%');
    if lines.is_empty() {
        grown(known, &[]);
    }
    for row in rows.iter().filter(|row| !lines.contains(row) && !OWN.contains(&row.as_str())) {
        known.learn("Flour", 'n', whole_of(known.get(row, 'n'), all));
    }
    let seed = known.get(culture, 'n');
    known.learn("flour of the first feed", 'o', whole_of(seed, all));
    for row in &lines {
        known.learn(row, 'n', known.part_of(row, known.get("Flour", 'n')));
        known.learn(row, 'o', known.part_of(row, known.get("flour of the first feed", 'o')));
    }
}

/// One round of a page about water by the factor method, with the friction of the last dough
/// and the ice perhaps.
fn warmed(known: &mut Known) {
    const OWN: [&str; 15] = [
        "warmer than the tap",
        "hot water",
        "hot water above the tap",
        "hot water to weigh out",
        "tap water to weigh out",
        "temperatures that count",
        "dough",
        "in all",
        "tap",
        "melting",
        "colder than the tap",
        "ice takes, in degrees of water",
        "share of the water",
        "water",
        "ice",
    ];
    let count = known.get("temperatures that count", 'n');
    known.learn("in all", 'n', both(count, known.get("dough", 'n'), Shown::times));
    let last = known.get("dough as measured, last time", 'n');
    known.learn("in all, last time", 'n', both(count, last, Shown::times));
    let is_own = |row: &str| {
        OWN.contains(&row) || row.ends_with(", last time") || row == "water temperature"
    };
    let temperatures = known.rows.iter().filter(|row| !is_own(row));
    let counted = temperatures.filter_map(|row| known.get(row, 'n')).reduce(Shown::plus);
    let all_last = known.get("in all, last time", 'n');
    let left = both(all_last, known.get("water, last time", 'n'), Shown::minus);
    let friction = both(left, counted, Shown::minus);
    let rest = both(known.get("in all", 'n'), counted, Shown::minus);
    // The friction counts with the others where the page has it.
    let asks_friction = known.rows.iter().any(|row| row.ends_with(", last time"));
    let water = if asks_friction { both(rest, friction, Shown::minus) } else { rest };
    known.learn("water temperature", 'n', water);
    let tap = known.get("tap", 'n');
    known.learn(
        "colder than the tap",
        'n',
        both(tap, known.get("water temperature", 'n'), Shown::minus),
    );
    known.learn(
        "ice takes, in degrees of water",
        'n',
        both(tap, known.get("melting", 'n'), Shown::plus),
    );
    let takes = known.get("ice takes, in degrees of water", 'n');
    let share = both(known.get("colder than the tap", 'n'), takes, Shown::over);
    known.learn("share of the water", 'n', share.map(|it| it.times(Shown::exact(100.0))));
    let water = known.get("water temperature", 'n');
    known.learn("warmer than the tap", 'n', both(water, tap, Shown::minus));
    let hot = known.get("hot water", 'n');
    known.learn("hot water above the tap", 'n', both(hot, tap, Shown::minus));
    let above = known.get("warmer than the tap", 'n').filter(|_| hot.is_some());
    let share = both(above, known.get("hot water above the tap", 'n'), Shown::over);
    known.learn("share of the water", 'n', share.map(|it| it.times(Shown::exact(100.0))));
    let share = known.get("share of the water", 'n').map(|it| it.times(Shown::exact(0.01)));
    let part = both(known.get("water", 'n'), share, Shown::times);
    known.learn("ice", 'n', part.filter(|_| hot.is_none()));
    known.learn("hot water to weigh out", 'n', part.filter(|_| hot.is_some()));
    let left =
        both(known.get("water", 'n'), known.get("hot water to weigh out", 'n'), Shown::minus);
    known.learn("tap water to weigh out", 'n', left);
}

/// A time of day, in minutes.
fn clock_in(text: &str) -> Option<f64> {
    let (hours, rest) = text.split_once(':')?;
    let minutes = rest.split(' ').next()?;
    Some(hours.parse::<f64>().ok()? * 60.0 + minutes.parse::<f64>().ok()?)
}

/// What an exercise asks, worked out again from the learner's page alone: for each blank in
/// order what it has to be; none where the page is of a kind that is not worked out here.
fn worked_out(page: &TablePart, mixes: &[String], culture: &str) -> Option<Vec<Shown>> {
    let kind = page.title.rsplit(": ").next()?;
    if kind == "when to begin" {
        let mut at = clock_in(&page.rows[0].cells[1].shown)?;
        let mut answers = Vec::new();
        let mut begun: Vec<(String, f64)> = Vec::new();
        for row in &page.rows[1..] {
            // A stage ends where the step begins that its arrow points at.
            let (name, user) = row.name.split_once(" → ").unwrap_or((&row.name, ""));
            let user = begun.iter().rev().find(|(name, _)| name == user);
            at = user.map_or(at, |(_, at)| *at) - minutes_in(&row.cells[0].shown) as f64;
            begun.push((name.to_owned(), at));
            let told = clock_in(&row.cells[1].shown);
            let own = at.rem_euclid(1440.0);
            assert!(row.cells[1].blank || told == Some(own), "{page:?}");
            answers.extend(row.cells[1].blank.then(|| Shown::exact(own)));
        }
        return Some(answers);
    }
    let mut known = Known::of(page);
    let is_by_factor = |known: &Known| {
        known.rows.iter().any(|row| row == "temperatures that count")
            && !known.rows.iter().any(|row| row.contains("poured") || row.starts_with("for "))
    };
    if kind == "water temperature" && !is_by_factor(&known) {
        return None;
    }
    while std::mem::take(&mut known.is_new) {
        match kind {
            "another yield" => grown(&mut known, mixes),
            "how wet is it?" => wet(&mut known),
            "another flour" => exchanged(&mut known, &page.lead[0]),
            "what to feed" => fed(&mut known, culture),
            "water temperature" => warmed(&mut known),
            _ => return None,
        }
    }
    let columns = columns_of(page);
    let blanks = page.rows.iter().flat_map(|row| {
        let cells = row.cells.iter().zip(&columns).filter(|(cell, _)| cell.blank);
        cells.map(|(_, column)| (row.name.clone(), *column))
    });
    let answer = |(row, column): (String, char)| {
        known.get(&row, column).unwrap_or_else(|| panic!("`{row}` does not follow: {page:?}"))
    };
    Some(blanks.map(answer).collect())
}

/// The steps that the longest answer takes, read from the lines of a key: what stands on the
/// page takes none, a number that a line comes to one more than all that the line needs.
fn steps_of(page: &TablePart, lines: &[String]) -> usize {
    let cells = page.rows.iter().flat_map(|row| &row.cells);
    let stands: BTreeSet<String> = cells
        .filter(|cell| !cell.blank)
        .map(|cell| format!("{} {}", cell.shown, cell.unit).trim().to_owned())
        .collect();
    let mut needs: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
    let mut most = 0;
    for (at, line) in lines.iter().enumerate() {
        let Some((sum, result)) = line.rsplit_once(" = ").or_else(|| line.rsplit_once(" ≈ "))
        else {
            continue;
        };
        let (_, sum) = sum.rsplit_once(": ").expect("what it is");
        let mut own = BTreeSet::from([at]);
        let parts = [" + ", " − ", " × ", " ÷ "].iter().fold(vec![sum], |parts, sign| {
            parts.into_iter().flat_map(|part| part.split(*sign)).collect()
        });
        for part in parts.iter().filter(|part| !stands.contains(part.trim())) {
            own.extend(needs.get(part.trim()).into_iter().flatten());
        }
        most = most.max(own.len());
        needs.insert(result.trim().to_owned(), own);
    }
    most
}

/// Every exercise of every kind of all formulas, for 200 seats at the first level and 40 at each
/// other one: the key is what the learner's page comes to, worked out again from it alone; and
/// every level is reached.
#[test]
fn every_key_follows_from_its_page_alone() {
    const TOLD: [&str; 3] = ["level-not-reached", "exercise-not-possible", "seats-alike"];
    const KINDS: [&str; 6] =
        ["scale", "true hydration", "substitute", "starter", "water temperature", "when to begin"];
    const LEVELS: [&str; 3] = ["first", "second", "third"];
    let own = documents(&gullhaven(""));
    let sheets = |name: &str, levels: &[&str]| -> String {
        let all = levels.iter().flat_map(|level| KINDS.iter().map(move |kind| (level, kind)));
        let sheet =
            |(level, kind)| format!("worksheet {name} {{ level {level}; {kind} }}\n answers\n");
        all.map(sheet).collect()
    };
    // The first level for every seat, the others for every fifth one.
    let classes = |name: &str| -> String {
        let of = |begins: &str, levels: &[&str]| {
            let sheets = sheets(name, levels);
            format!("booklet {begins}-{name} \"B\" {{ variants {SEATS}\n {sheets} }}\n")
        };
        of("b", &LEVELS[..1]) + &of("c", &LEVELS[1..])
    };
    let more: String = own.iter().map(|it| classes(&it.name)).collect();
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut reached: BTreeMap<(String, &str), usize> = BTreeMap::new();
    let mut seen_of: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let (mut sums, mut rough) = (0, BTreeSet::new());
    each(&gullhaven(&more), None, |maker| {
        let key = maker.booklet.name.key.as_str();
        let (name, every) = match (key.strip_prefix("b-"), key.strip_prefix("c-")) {
            (Some(name), _) => (name, 1),
            (_, Some(name)) => (name, 5),
            _ => return,
        };
        let formula = own.iter().find(|it| it.name == name).expect("a formula");
        let mixes: Vec<String> = formula.mixes.iter().map(|mix| mix.title.clone()).collect();
        let lines = formula.mixes.iter().flat_map(|mix| &mix.lines);
        let culture = lines.into_iter().find(|line| format!("{:?}", line.kind) == "Culture");
        let culture = culture.map(|line| line.name.clone()).unwrap_or_default();
        for seat in (1..=SEATS).step_by(every) {
            let document = maker.document(Copy::All, seat, false);
            // A page for each key, in the same order; the lines of a key come after it.
            let mut pages: Vec<&TablePart> = Vec::new();
            let mut keys: Vec<(&TablePart, &[String])> = Vec::new();
            for (at, part) in document.parts.iter().enumerate() {
                match (part, document.parts.get(at + 1)) {
                    (BookletPart::Table(key), Some(BookletPart::Lines { lines, .. })) => {
                        keys.push((key, lines));
                    }
                    (BookletPart::Table(page), _) => pages.push(page),
                    _ => {}
                }
            }
            assert_eq!(pages.len(), keys.len(), "{name}");
            for (page, (key, lines)) in pages.into_iter().zip(keys) {
                let (of, kind) = page.title.rsplit_once(": ").expect("a kind");
                // Without the number of the exercise.
                let of = of.split_once(". ").map_or(of, |(_, of)| of);
                let steps = steps_of(page, lines);
                let level = if steps > 4 {
                    "third"
                } else if steps > 2 {
                    "second"
                } else {
                    "first"
                };
                *reached.entry((kind.to_owned(), level)).or_default() += 1;
                sums += lines.len();
                rough.extend(lines.iter().filter(|it| it.contains('≈')).cloned());
                let Some(answers) = worked_out(page, &mixes, &culture) else { continue };
                let blanks = page.rows.iter().zip(&key.rows).flat_map(|(asked, told)| {
                    asked.cells.iter().zip(&told.cells).filter(|(asked, _)| asked.blank)
                });
                let blanks: Vec<_> = blanks.map(|(_, told)| told).collect();
                assert!(!blanks.is_empty() && blanks.len() == answers.len(), "{}", page.title);
                for (told, answer) in blanks.iter().zip(&answers) {
                    let shown = clock_in(&told.shown).map_or_else(|| Shown::of(told), Shown::exact);
                    assert!(
                        answer.meets(shown),
                        "{}, seat {seat}: {told:?} {answer:?} {page:?}",
                        page.title
                    );
                }
                *seen.entry(kind.to_owned()).or_default() += 1;
                let asked = page.rows.iter().flat_map(|row| &row.cells).map(|it| &it.shown);
                let asked: Vec<&str> = asked.map(String::as_str).collect();
                let numbers = format!("{:?} {} {:?}", page.lead, asked.join(" "), page.columns);
                seen_of.entry(format!("{of}: {kind}")).or_default().insert(numbers);
            }
        }
        // Which levels are not reached is told, where seats share numbers, and no page is of another one in silence.
        let told = maker.findings.borrow();
        assert!(told.iter().all(|it| TOLD.contains(&it.rule.name)), "{name}");
    });
    assert!(seen.len() == KINDS.len() && seen.values().all(|it| *it >= 200), "{seen:?}");
    for kind in seen.keys() {
        for level in LEVELS {
            let is_reached = reached.contains_key(&(kind.clone(), level));
            assert!(is_reached, "{kind} at {level}: {reached:?}");
        }
    }
    // What a learner reckons from the page is what the key says, to the last digit.
    assert!(sums > 10_000 && rough.is_empty(), "{} of {sums}: {rough:?}", rough.len());
    // Seats next to each other have other numbers.
    let alike: Vec<&String> =
        seen_of.iter().filter(|(_, numbers)| numbers.len() < 2).map(|(of, _)| of).collect();
    assert!(alike.is_empty(), "the same for every seat: {alike:?}");
}

/// Numbers are drawn from the formula's meaning: the same for ever, others for each seat.
#[test]
fn seats_have_numbers_of_their_own_and_a_new_text_changes_none() {
    let seats = |text: &str| {
        let more = format!(
            "booklet b \"B\" {{ variants 3\n text \"{text}\"\n worksheet gullhaven-sour {{ scale }}\n teacher {{ answers }} }}\n"
        );
        let files = gullhaven(&more);
        (1..=3).map(|seat| seat_of(&files, "b", seat)).collect::<Vec<_>>()
    };
    let (one, other) = (seats("One."), seats("Two."));
    assert_eq!(one, other);
    assert!(one[0] != one[1] || one[1] != one[2], "{one:?}");
}

fn seat_of(files: &[(String, String)], name: &str, seat: u32) -> Vec<TablePart> {
    let of_seat = each(files, Some(name), |maker| {
        tables(&maker.document(Copy::Learner, seat, false)).into_iter().cloned().collect()
    });
    of_seat.into_iter().next().expect("the booklet is there")
}

/// A slip written into the formula's own file raises exactly the finding that its key names,
/// and nothing else does; the number to spoil is read from the learner's page alone. Of all
/// 200 seats of every formula, each different slip once.
#[test]
fn a_mistake_is_one_that_check_finds() {
    let own = documents(&gullhaven(""));
    let more: String = own
        .iter()
        .map(|it| {
            format!(
                "booklet b-{0} \"B\" {{ variants {SEATS}\n worksheet {0} {{ mistake }}\n answers }}\n\
                 booklet c-{0} \"C\" {{ variants 20\n worksheet {0} {{ level second; mistake }}\n answers }}\n\
                 booklet d-{0} \"D\" {{ variants 20\n worksheet {0} {{ level third; mistake }}\n answers }}\n",
                it.name
            )
        })
        .collect();
    let (mut made, mut seats, mut swapped, mut rules) = (0, 0, 0, BTreeMap::new());
    let mut reached: BTreeMap<&str, usize> = BTreeMap::new();
    let all = each(&gullhaven(&more), None, |maker| {
        let (level, name) = maker.booklet.name.key.split_once('-')?;
        let (level, seats) = match level {
            "b" => ("first", SEATS),
            "c" => ("second", 20),
            "d" => ("third", 20),
            _ => return None,
        };
        let slips: Vec<_> = (1..=seats).filter_map(|seat| mistake_of(maker, seat)).collect();
        let is_missed = |it: &Finding| it.rule.name == "level-not-reached";
        let is_reached = !maker.findings.borrow().iter().any(is_missed);
        Some((level, name.to_owned(), is_reached, slips))
    });
    for (level, name, is_reached, slips) in all.into_iter().flatten() {
        *reached.entry(level).or_default() += usize::from(is_reached && !slips.is_empty());
        let document = own.iter().find(|it| it.name == name).expect("a formula");
        seats += slips.len();
        // Seats beside each other never have the same page.
        for pair in slips.windows(2) {
            assert_ne!(pair[0].0, pair[1].0, "{name} at level {level}");
        }
        let mut known: Vec<&(TablePart, TablePart, String)> = Vec::new();
        for slip in &slips {
            if !known.contains(&slip) {
                known.push(slip);
            }
        }
        for (question, key, worked) in known {
            let (name, rest) = worked.split_once(": ").expect("a line");
            let (rest, found) = rest.split_once(" % (").expect("its percentage and a finding");
            let found = found.trim_end_matches(')');
            // `0.2 % × 10 = 2`, `47 % → 74`, or the percentage of a line that is missing.
            let right = rest.rsplit(' ').next().expect("its percentage");
            if let Some((wrong, _)) = rest.split_once(" % → ") {
                let digits = |number: &str| -> Vec<char> {
                    let mut digits: Vec<char> =
                        number.chars().filter(char::is_ascii_digit).take(2).collect();
                    digits.sort_unstable();
                    digits
                };
                match wrong.split_once(" = ") {
                    // `748.2 % ÷ 10 = 74.82 % → 75 %`: as the weights of the page have it.
                    Some((sum, shifted)) => {
                        let (from, up) = match sum.split_once(" % ÷ 10") {
                            Some((from, _)) => (from, 0.1),
                            None => (sum.split_once(" % × 10").expect("a sum").0, 10.0),
                        };
                        let worth = |number: &str| number.parse::<f64>().expect("a number");
                        assert!((worth(from) * up - worth(shifted)).abs() < 1e-9, "{worked}");
                        let off = (worth(shifted) - worth(right)).abs();
                        assert!(off <= 0.05 * worth(right), "{worked}");
                    }
                    None => {
                        assert!(wrong != right && digits(wrong) == digits(right), "{worked}");
                        swapped += 1;
                    }
                }
            }
            let line = document.total.iter().find(|line| line.name == name).expect("a line");
            assert_eq!(right, line.percent.as_deref().unwrap_or_default(), "{}", document.name);
            let told = key.rows.iter().find(|row| row.name == "the slip").expect("the slip");
            let told = &told.cells.last().expect("a cell").shown;
            assert!(told.starts_with(&format!("{name}: {right} %")), "{told}");
            // With the weight, where nothing else asks for it.
            assert!(told.contains(", ") || level == "third", "{told}");
            let blanks = question.rows.iter().flat_map(|row| &row.cells).filter(|it| it.blank);
            let blanks = blanks.count();
            if level != "first" {
                assert_eq!(blanks > 1, level == "third" && is_reached, "{question:?}");
                how_far_it_is_off(question, key, name, right, document);
                continue;
            }
            assert_eq!(blanks, 1, "one thing is asked: {question:?}");
            the_page_agrees_with_itself(question, &document.name);
            let spoilt = question.rows.iter().find(|row| row.name == name);
            let spoilt = spoilt.map(|row| row.cells[0].shown.clone());
            assert_ne!(spoilt.as_deref(), Some(right), "{worked}");
            let Some([sound, spoilt]) = with_and_without(document, name, spoilt.as_deref()) else {
                continue;
            };
            let mut new: Vec<&str> =
                spoilt.iter().filter(|it| !sound.contains(it)).copied().collect();
            new.dedup();
            let [rule] = new.as_slice() else { panic!("{new:?}: {} {worked}", document.name) };
            let words = Wording::plain().find(&format!("finding-{rule}"), &[]);
            let is_it = words.is_some_and(|words| found.contains(&words));
            assert!(is_it, "{} {worked}", document.name);
            *rules.entry((*rule).to_owned()).or_insert(0) += 1;
            made += 1;
        }
    }
    assert!(made >= 20 && seats > 2000 && rules.len() >= 3, "{made} of {seats}: {rules:?}");
    assert!(swapped > 20, "{swapped} of {made}");
    assert!(reached.values().all(|it| *it >= 10) && reached.len() == 3, "{reached:?}");
}

/// From the learner's page alone: what the spoilt line should weigh with the flour that stands
/// there, and how far off that is, in each piece too.
fn how_far_it_is_off(
    page: &TablePart,
    key: &TablePart,
    name: &str,
    right: &str,
    document: &Document,
) {
    let weight = |row: &TableRow| Shown::read(&row.cells[0].shown, &row.cells[0].unit);
    let flours: Vec<&str> = document
        .total
        .iter()
        .filter(|line| line.class.as_deref() == Some("flour"))
        .map(|line| line.name.as_str())
        .collect();
    let flours = page.rows.iter().filter(|row| flours.contains(&row.name.as_str()));
    let flour = flours.filter_map(weight).reduce(Shown::plus).expect("flour");
    let wrong = page.rows.iter().find(|row| row.name == name).and_then(weight).expect("a line");
    let share = Shown::exact(right.parse::<f64>().expect("a percentage") / 100.0);
    let by_share = flour.times(share);
    // Ten times what stands there, or a tenth of it: that is what the page says.
    let is_tenfold = page.lead.iter().any(|it| it.contains("ten times"));
    let should = match by_share.worth > wrong.worth {
        _ if !is_tenfold => by_share,
        true => wrong.times(Shown::exact(10.0)),
        false => wrong.times(Shown::exact(0.1)),
    };
    let about = (should.worth - by_share.worth).abs();
    // As near as the digits of the percentage tell.
    let decimals = right.split_once('.').map_or(0, |(_, behind)| behind.len());
    let half = 0.005 * 0.1_f64.powi(i32::try_from(decimals).expect("few"));
    let most = by_share.worth * 0.01 + flour.worth * half;
    assert!(about <= most, "{name}: {should:?} is not about {by_share:?}");
    let apart = wrong.minus(should);
    let apart = Shown { worth: apart.worth.abs(), ..apart };
    for row in key.rows.iter().filter(|row| row.cells[0].strong) {
        let told = weight(row);
        let wanted = match row.name.as_str() {
            "what it should weigh" => should,
            "off by" => apart,
            "off by, in each piece" => {
                let [piece] = document.makes.pieces.as_slice() else { panic!("{row:?}") };
                let count = page.rows.iter().find(|row| row.name == piece.kind).expect("how many");
                apart.over(Shown::exact(count.cells[0].shown.parse::<f64>().expect("a count")))
            }
            _ => continue,
        };
        assert!(told.is_some_and(|told| wanted.meets(told)), "{row:?} {wanted:?} {page:?}");
    }
}

/// Every percentage beside a weight is that weight's share of the flour on the page, as far as
/// their digits go.
fn the_page_agrees_with_itself(page: &TablePart, formula: &str) {
    let weighed = |row: &&TableRow| row.cells[1].unit == "g" || row.cells[1].unit == "kg";
    for row in page.rows.iter().filter(weighed) {
        let Some(percent) = Shown::read(&row.cells[0].shown, "%") else { continue };
        let share = percent.times(Shown::exact(0.01));
        let flour = Shown::of(&row.cells[1]).over(share);
        for other in page.rows.iter().filter(weighed) {
            let Some(percent) = Shown::read(&other.cells[0].shown, "%") else { continue };
            let again = flour.times(percent).times(Shown::exact(0.01));
            assert!(
                again.meets(Shown::of(&other.cells[1])),
                "{formula}: {row:?} {other:?} do not go together"
            );
        }
    }
}

/// The question and the key of a seat, with the last line of its working.
fn mistake_of(maker: &Maker, seat: u32) -> Option<(TablePart, TablePart, String)> {
    let document = maker.document(Copy::All, seat, false);
    let tables: Vec<TablePart> = tables(&document).into_iter().cloned().collect();
    let [question, key] = <[TablePart; 2]>::try_from(tables).ok()?;
    let lines = document.parts.iter().find_map(|part| match part {
        BookletPart::Lines { lines, .. } => {
            lines.iter().find(|line| line.contains(" % (")).cloned()
        }
        _ => None,
    });
    let key = TablePart { title: key.title.split(" · ").next()?.to_owned(), ..key };
    Some((question, key, lines?))
}

/// What `check` finds in a formula's own file as it is and with one percentage replaced (or
/// its line left out), claims left aside; none where the line is no plain percentage there.
fn with_and_without(
    document: &Document,
    name: &str,
    spoilt: Option<&str>,
) -> Option<[Vec<&'static str>; 2]> {
    let files = gullhaven("");
    let head = format!("formula {} ", document.name);
    let (path, text) = files.iter().find(|(_, text)| text.contains(&head))?;
    // Claims would be refuted, and are no slip of the formula.
    let mut lines: Vec<String> = Vec::new();
    let mut in_claims = false;
    for line in text.lines() {
        in_claims |= line.trim_start().starts_with("expect");
        if !in_claims {
            lines.push(line.to_owned());
        }
        in_claims &= !line.contains('}');
    }
    let first = lines.iter().position(|line| line.starts_with(&head))?;
    let mix = lines[first..].iter().position(|line| {
        let line = line.trim_start();
        line.starts_with("total {") || line.starts_with("dough {")
    })?;
    let own = lines[first + mix..].iter().position(|line| {
        let rest = line.trim_start().strip_prefix(name).unwrap_or_default();
        rest.starts_with("  ") || rest.starts_with(' ') && rest.trim().starts_with(char::is_numeric)
    })?;
    let at = first + mix + own;
    let found = |lines: &[String]| -> Vec<&'static str> {
        let mut files = files.clone();
        let place = files.iter().position(|(other, _)| other == path).expect("the file");
        files[place].1 = lines.join("\n");
        let all: Vec<(&str, &str)> =
            files.iter().map(|(path, it)| (path.as_str(), it.as_str())).collect();
        let loaded = load(&Memory::with(&all), Path::new("/x"), &[PathBuf::from(path)]);
        let source = loaded.files().iter().find(|it| it.path == Path::new(path));
        let source = source.map(|it| it.source);
        let found = desk::check(&loaded);
        let mut names: Vec<&str> = found
            .iter()
            .filter(|it| it.level != Level::Note && it.allowed.is_none())
            // Those of formulas that build on this one stand in their own files.
            .filter(|it| Some(it.span().source) == source)
            .map(|it| it.rule.name)
            .filter(|name| !name.starts_with("claim"))
            .collect();
        names.sort_unstable();
        names
    };
    let sound = found(&lines);
    match spoilt {
        None => {
            lines.remove(at);
        }
        Some(percent) => {
            let line = lines[at].clone();
            let number = line.find(char::is_numeric).filter(|_| line.contains('%'))?;
            let end = line[number..].find('%')? + number;
            line[number..end].trim().parse::<f64>().ok()?;
            lines[at] = format!("{}{percent}{}", &line[..number], &line[end..]);
        }
    }
    Some([sound, found(&lines)])
}

// ---- Tables --------------------------------------------------------------------------------

/// Every column of a reckoner adds up, and the one for what the formula makes is the sheet.
#[test]
fn every_column_of_a_reckoner_adds_up_and_the_usual_one_is_the_sheet() {
    let own = documents(&gullhaven(""));
    let grams = |shown: &str, unit: &str| {
        let number = read_exact(shown.trim_start_matches("≈ "))?;
        Some(if unit == "kg" { number * int(1000) } else { number })
    };
    let mut columns = 0;
    for document in own.iter().filter(|it| it.makes.pieces.len() == 1 && !it.mixes.is_empty()) {
        let more = format!("booklet b \"B\" {{ reckoner {} }}\n", document.name);
        let (documents, told) = made(&gullhaven(&more), "b");
        assert!(told.is_empty(), "{}: {told:?}", document.name);
        let usual = format!("{} {}", document.makes.pieces[0].count, document.makes.pieces[0].kind);
        for table in tables(&documents[0]) {
            for column in 0..table.columns.len() {
                let mut sum = Some(int(0));
                for row in table.rows.iter().filter(|row| row.kind != "head") {
                    let cell = &row.cells[column];
                    let worth = grams(&cell.shown, &cell.unit);
                    if row.kind == "sum" {
                        assert_eq!(
                            sum, worth,
                            "{}: {}",
                            document.name, table.columns[column].title
                        );
                        sum = Some(int(0));
                        columns += 1;
                    } else if let (Some(before), Some(worth)) = (&sum, worth) {
                        sum = Some(before + worth);
                    }
                }
                if table.columns[column].title == usual {
                    let shown: Vec<String> = table
                        .rows
                        .iter()
                        .filter(|row| row.kind == "line")
                        .map(|row| {
                            format!("{} {}", row.cells[column].shown, row.cells[column].unit)
                        })
                        .collect();
                    let lines = document.mixes.iter().flat_map(|mix| &mix.lines);
                    let own: Vec<String> = lines
                        .map(|line| match &line.weight {
                            Some(weight) => {
                                format!("{}{} {}", weight.mark(), weight.shown, weight.unit)
                            }
                            None => format!("{} ", line.soft.clone().unwrap_or_default()),
                        })
                        .collect();
                    assert_eq!(shown, own, "{}", document.name);
                }
            }
        }
    }
    assert!(columns > 60, "{columns}");
}

/// Common practice, no source: 20 g of seed fed 1:5:5 give 220 g.
#[test]
fn a_feed_of_one_to_five_to_five_gives_eleven_parts() {
    let (documents, told) = one("reckoner feeds 1:5:5 for 220 g..440 g every 220 g");
    assert!(told.is_empty(), "{told:?}");
    let rows: Vec<Vec<String>> = tables(&documents[0])[0]
        .rows
        .iter()
        .map(|row| row.cells.iter().map(|it| format!("{} {}", it.shown, it.unit)).collect())
        .collect();
    assert_eq!(rows, [["20 g", "100 g", "100 g"], ["40 g", "200 g", "200 g"]]);
}

#[test]
fn a_comparison_changes_its_line_alone_and_says_who_gives() {
    let (documents, told) = one("compare quay-loaf with whole wheat flour 20%, 30%");
    assert!(told.is_empty(), "{told:?}");
    let table = tables(&documents[0])[0];
    let percents = |name: &str| {
        let row = table.rows.iter().find(|row| row.name == name).expect("a row");
        (row.cells[0].shown.clone(), row.cells[2].shown.clone(), row.cells[2].strong)
    };
    assert_eq!(percents("whole wheat flour"), ("20".into(), "30".into(), true));
    assert_eq!(percents("bread flour"), ("80".into(), "70".into(), true));
    assert_eq!(percents("water"), ("70".into(), "70".into(), false));
    assert!(table.notes.iter().any(|it| it.contains("bread flour gives up")), "{:?}", table.notes);
}

/// Twelve people buy twelve times what one of them needs, and no water.
#[test]
fn shopping_is_for_all_the_people() {
    let (documents, told) = one("for 12 people\ncard quay-loaf\nshopping");
    assert!(told.is_empty(), "{told:?}");
    let table = tables(&documents[0]).into_iter().next().expect("a list");
    let needed = |name: &str| {
        let row = table.rows.iter().find(|row| row.name == name);
        row.map(|row| format!("{} {}", row.cells[0].shown, row.cells[0].unit))
    };
    // 12 × 1800 g at 173 % is 12,485.5 g of flour, 80 % of it bread flour: 9988.4 g, which the
    // scale shows in the poolish and in the dough, each to the gram.
    assert_eq!(needed("bread flour").as_deref(), Some("9.989 kg"));
    assert_eq!(needed("water"), None);
}

/// One bake is bought for once, however many of its pages print; two yields are two bakes;
/// worksheets are no bakes; and the list says what it is for.
#[test]
fn shopping_counts_each_bake_once_and_says_for_how_many() {
    let list = |inside: &str| {
        let (documents, told) = one(inside);
        assert!(told.is_empty(), "{inside}: {told:?}");
        let table = tables(&documents[0]).into_iter().rfind(|it| it.title == "Shopping").cloned();
        let table = table.expect("a list");
        let salt = table.rows.iter().find(|row| row.name == "salt").expect("salt");
        (grams(&salt.cells[0]).expect("grams"), table.lead.join(" | "))
    };
    let (once, lead) = list("card quay-loaf\nshopping");
    assert!(lead.contains("Quay Loaf: 2 loaves at 900 g"), "{lead}");
    for same in [
        "card quay-loaf\nsheet quay-loaf\ntable quay-loaf\nshopping",
        "card quay-loaf for 2 loaves\nsheet quay-loaf\nshopping",
        "card quay-loaf\nworksheet quay-loaf for 20 loaves\nshopping",
        "shopping quay-loaf",
        "plan quay-loaf ready saturday 10:00\ncard quay-loaf\nshopping",
    ] {
        if same.starts_with("plan") {
            continue;
        }
        assert!((list(same).0 - once).abs() < 1e-9, "{same}");
    }
    let (both, lead) = list("card quay-loaf for 4 loaves\ncard quay-loaf for 6 loaves\nshopping");
    assert!((both - 5.0 * once).abs() < 2.0, "{both} {once}");
    assert!(lead.contains("4 loaves") && lead.contains("6 loaves"), "{lead}");
    let (all, lead) = list("for 3 people\ncard quay-loaf\nsheet quay-loaf for everyone\nshopping");
    assert!((all - 3.0 * once).abs() < 2.0, "{all} {once}");
    assert!(lead.contains("For 3 people") && lead.contains("6 loaves"), "{lead}");
    let (named, _) = list("for 3 people\nshopping quay-loaf for 4 loaves");
    assert!((named - 2.0 * once).abs() < 2.0, "a yield is for all: {named} {once}");
}

/// Packs are as an ingredient says, else as its price does; what is bought is enough, and
/// what is left over is less than a pack.
#[test]
fn shopping_rounds_up_to_packs() {
    let packs = |said: &str| {
        let flour = format!("ingredient bread flour like bread flour {{ {said} }}\n");
        let text = format!(
            "{flour}{QUAY}booklet course \"Course\" {{ shopping quay-loaf for 10 loaves }}\n"
        );
        let (documents, _) = made(&[("/x/a.dough".into(), text)], "course");
        let table = tables(&documents[0])[0].clone();
        let row = table.rows.iter().find(|row| row.name == "bread flour").expect("flour").clone();
        row.cells
            .iter()
            .map(|it| format!("{} {}", it.shown, it.unit).trim().to_owned())
            .collect::<Vec<_>>()
    };
    // 9 kg of dough at 173 % is 5.202 kg of flour, 80 % of it bread flour.
    assert_eq!(packs("price 2 EUR per kg"), ["4.162 kg"]);
    assert_eq!(packs("pack 1 kg"), ["4.162 kg", "5 × 1 kg", "838 g"]);
    assert_eq!(packs("price 20 EUR per 25 kg"), ["4.162 kg", "1 × 25 kg", "20.838 kg"]);
    assert_eq!(packs("price 20 EUR per 25 kg; pack 2.5 kg"), ["4.162 kg", "2 × 2.5 kg", "838 g"]);
}

/// A plan by the clock: its steps, each begun when the one before it ends, and ready when it
/// was asked for.
#[test]
fn a_plan_in_a_booklet_ends_when_the_bread_is_wanted() {
    let plan = |inside: &str| {
        let more = format!("booklet b \"B\" {{ {inside} }}\n");
        let (documents, told) = made(&gullhaven(&more), "b");
        (tables(&documents[0]).into_iter().next().cloned(), told)
    };
    let (table, told) = plan("plan first-sour ready saturday 10:00 awake 07:00..22:30");
    assert!(told.is_empty(), "{told:?}");
    let table = table.expect("a plan");
    assert!(
        table.lead[0].contains("Saturday") && table.lead[0].contains("10:00"),
        "{:?}",
        table.lead
    );
    let heads: Vec<&str> =
        table.rows.iter().filter(|row| row.kind == "head").map(|row| row.name.as_str()).collect();
    assert!(heads.ends_with(&["Saturday"]) && heads.len() > 1, "{heads:?}");
    let begins: Vec<&str> = table
        .rows
        .iter()
        .filter(|row| row.kind == "line")
        .map(|row| row.cells[0].shown.as_str())
        .collect();
    assert!(begins.len() > 8 && begins.iter().all(|it| it.len() == 5), "{begins:?}");
    let needed = table.rows.iter().filter(|row| row.cells.first().is_some_and(|it| it.strong));
    for row in needed {
        let hour: u32 = row.cells[0].shown[..2].parse().expect("an hour");
        assert!((7..=22).contains(&hour), "{row:?}");
    }
    let warm =
        plan("plan first-sour ready saturday 10:00 awake 05:00..23:45 room 28C").0.expect("a plan");
    assert!(warm.rows != table.rows && !warm.notes.is_empty());
    let dated =
        plan("plan first-sour ready 2027-03-13 10:00 awake 07:00..22:30").0.expect("a plan");
    assert!(dated.lead[0].contains("13 March"), "{:?}", dated.lead);
    for (wrong, rule) in [
        ("plan first-sour ready noonish", "table-not-possible"),
        ("plan first-sour ready saturday 10:00 awake 09:00..09:30", "no-plan"),
    ] {
        assert_eq!(plan(wrong).1, [rule], "{wrong}");
    }
    for wrong in [
        "plan first-sour",
        "plan first-sour ready",
        "plan first-sour awake 07:00..22:00",
        "plan first-sour ready saturday 10:00 room hot",
    ] {
        let text = format!("{QUAY}booklet course \"Course\" {{ {wrong} }}\n");
        let told = names(&text.replace("first-sour", "quay-loaf"));
        assert!(
            told.iter().any(|it| [
                "incomplete-statement",
                "missing-unit",
                "not-an-amount",
                "missing-amount",
                "unexpected-text",
                "missing-value"
            ]
            .contains(it)),
            "{wrong}: {told:?}"
        );
    }
}

// ---- Texts and copies ------------------------------------------------------------------------

#[test]
fn what_only_the_teacher_has_is_in_no_other_copy() {
    let (documents, _) =
        one("card quay-loaf\nteacher { caution \"Hot.\" }\nlearner { text \"Yours.\" }");
    let has =
        |document: &BookletDocument, wanted: &str| format!("{:?}", document.parts).contains(wanted);
    let [learner, teacher] = documents.as_slice() else { panic!("two copies") };
    assert!(has(learner, "Yours.") && !has(learner, "Hot."));
    assert!(has(teacher, "Hot.") && !has(teacher, "Yours."));
}

#[test]
fn a_text_is_for_the_yield_that_the_booklet_prints() {
    let text = |inside: &str| {
        let (documents, told) = one(inside);
        let words = documents[0].parts.iter().find_map(|part| match part {
            BookletPart::Text { blocks } => Some(blocks[0].runs[0].text.clone()),
            _ => None,
        });
        (words.expect("a text"), told)
    };
    let loaves = "text \"[loaves of quay-loaf]\"";
    assert_eq!(text(&format!("card quay-loaf for 6 loaves\n{loaves}")).0, "6 loaves");
    assert_eq!(text(loaves).0, "2 loaves");
    let (_, told) = text(&format!("card quay-loaf\nsheet quay-loaf for 4 loaves\n{loaves}"));
    assert_eq!(told, ["yield-unclear"]);
    let everyone =
        "for 3 people\nsheet quay-loaf for everyone\ntext \"[loaves of quay-loaf for everyone]\"";
    assert_eq!(text(everyone).0, "6 loaves");
    assert_eq!(text("text \"[water]\"").1, ["unknown-figure"]);
    assert_eq!(text("text \"[honey of quay-loaf]\"").1, ["unknown-figure"]);
}

/// The formulas' own findings say what is wrong with a name in a booklet.
#[test]
fn names_that_nobody_declares_are_errors() {
    for inside in
        ["card quay-lof", "compare quay-loaf, key-loaf", "reckoner quai-loaf", "worksheet quay"]
    {
        let text = format!("{QUAY}booklet course \"Course\" {{ {inside} }}\n");
        assert!(names(&text).contains(&"unknown-formula"), "{inside}: {:?}", names(&text));
    }
    let twice = format!("{QUAY}booklet quay-loaf \"Twice\" {{ card quay-loaf }}\n");
    assert!(names(&twice).contains(&"declared-twice"), "{:?}", names(&twice));
}

/// What a text says is not in the bread is held against the formulas of the booklet.
#[test]
fn a_booklet_may_not_deny_what_its_breads_hold() {
    for place in [
        "text \"This loaf is gluten-free.\"",
        "caution \"Free from wheat.\"",
        "glossary { crumb \"gluten-free bread\" }",
    ] {
        let text = format!("{QUAY}booklet course \"Course\" {{ card quay-loaf\n{place} }}\n");
        assert!(names(&text).contains(&"absence-in-text"), "{place}: {:?}", names(&text));
    }
}

/// The school's booklets are clean.
#[test]
fn the_examples_have_a_course_in_two_languages() {
    let loaded = crate::support::from_disk(&top().join("examples/gullhaven"));
    let bakehouses = desk::bakehouses(&loaded);
    let all: Vec<_> = booklets::booklets(&bakehouses).collect();
    let languages: Vec<_> =
        all.iter().map(|(_, _, it)| it.language.as_ref().map(|it| it.key.clone())).collect();
    assert_eq!(all.len(), 2);
    assert!(languages.contains(&None) && languages.contains(&Some("de".into())), "{languages:?}");
    let told = desk::check(&loaded);
    let of_booklets = told.iter().filter(|it| {
        let page = it.rule.page;
        page.contains("booklet") && it.rule.name != "not-worked-out-yet"
    });
    let told: Vec<&str> = of_booklets.map(|it| it.message.as_str()).collect();
    assert!(told.is_empty(), "{told:?}");
}

/// What a worksheet hides is printed by no other page of the learner's copy in silence:
/// percentages in any yield, weights in the same one.
#[test]
fn what_is_hidden_and_printed_elsewhere_is_told() {
    let table = [
        ("hide percentages", "card quay-loaf for 6 loaves", true),
        ("hide hydration", "table quay-loaf for 6 loaves", true),
        ("hide water % in total", "compare quay-loaf with water 65%, 70%", true),
        ("hide percentages in poolish", "compare quay-loaf with bake loss 10%, 12%", true),
        ("hide weights in poolish", "sheet quay-loaf", true),
        ("hide weights in poolish", "sheet quay-loaf for 6 loaves", false),
        ("hide water in poolish", "card quay-loaf for 6 loaves", false),
        ("hide percentages", "teacher { card quay-loaf }", false),
        ("scale", "card quay-loaf", false),
        ("hide percentages", "reckoner quay-loaf", false),
    ];
    for (hidden, other, is_told) in table {
        let inside = format!("worksheet quay-loaf {{ {hidden} }}\n{other}\n");
        let text = format!("{QUAY}booklet course \"Course\" {{\n{inside}}}\n");
        let told = names(&text).contains(&"hidden-but-printed");
        assert_eq!(told, is_told, "{hidden}, {other}: {:?}", names(&text));
    }
}

/// The parts of a feed come to what is wanted, whatever scale the house has and whatever the
/// ratio is, and none is further from its share than rounding may take it.
#[test]
fn the_parts_of_a_feed_come_to_what_is_wanted() {
    let mut rows = 0;
    let scales = [("1 g", 1.0), ("5 g", 5.0), ("0.1 g", 0.1), ("1 g, 0.1 g below 100 g", 0.1)];
    for (scale, finest) in scales {
        let text = format!(
            "bakehouse \"B\" {{ scale {scale} }}\nbooklet b \"B\" {{ reckoner feeds 1:1:1, 1:2:2, 1:3:4, 1:5:5, 1:10:10, 2:7:5 \
             for 100 g..2 kg every 50 g }}\n"
        );
        let (documents, _) = made(&[("/x/a.dough".into(), text)], "b");
        for table in tables(&documents[0]) {
            let ratio: Vec<f64> =
                table.lead[0].split(" : ").map(|it| it.parse().expect("a part")).collect();
            for row in &table.rows {
                let parts: Vec<f64> =
                    row.cells.iter().map(|it| grams(it).expect("grams")).collect();
                let (number, unit) = row.name.split_once(' ').expect("a weight");
                let wanted = grams(&TableCell::of(number, unit)).expect("grams");
                let sum: f64 = parts.iter().sum();
                assert!((sum - wanted).abs() < 1e-6, "{scale}: {parts:?} is not {wanted}");
                let all: f64 = ratio.iter().sum();
                for (part, share) in parts.iter().zip(&ratio) {
                    let exact = wanted * share / all;
                    assert!(
                        (part - exact).abs() <= (0.06 * exact).max(finest),
                        "{scale}: {parts:?} of {wanted}"
                    );
                }
                rows += 1;
            }
        }
    }
    assert_eq!(rows, 4 * 6 * 39);
}

/// A comparison may be for a yield, in each of its forms.
#[test]
fn a_comparison_is_for_the_yield_that_it_says() {
    for (what, columns) in [
        ("quay-loaf for 6 loaves with water 65%, 75%", 2),
        ("quay-loaf from 3 kg flour with bake loss 10%, 12%", 2),
        ("quay-loaf for 6 loaves, quay-loaf for 9 loaves", 2),
    ] {
        let (documents, told) = one(&format!("compare {what}"));
        assert!(told.is_empty(), "{what}: {told:?}");
        let table = tables(&documents[0])[0].clone();
        assert_eq!(table.columns.len(), 2 * columns, "{what}");
        let sum = table.rows.iter().find(|row| row.kind == "sum").expect("a sum");
        // Twice 900 g make 1800 g.
        assert_ne!(sum.cells[1].shown, "1.800", "{what}");
    }
}

/// Flour and water say nothing of a milk dough: its dough yield stands in no comparison; and
/// what each loss in the oven leaves of a piece does.
#[test]
fn a_comparison_shows_what_differs_and_nothing_idle() {
    let rows = |liquid: &str| {
        let text = format!(
            "formula bun \"Bun\" {{ makes 10 buns at 80 g\n total {{ bread flour 100%; {liquid} 60%; salt 2%; fresh yeast 2% }} }}\n\
             booklet course \"Course\" {{ compare bun with bake loss 10%, 15% }}\n"
        );
        let (documents, told) = made(&[("/x/a.dough".into(), text)], "course");
        assert!(told.is_empty(), "{told:?}");
        let rows = tables(&documents[0])[0].rows.clone();
        rows.into_iter().map(|row| (row.name.clone(), row)).collect::<BTreeMap<_, _>>()
    };
    let (water, milk) = (rows("water"), rows("whole milk"));
    assert!(water.contains_key("Dough yield") && !milk.contains_key("Dough yield"));
    // 80 g less a tenth, and less 15 %.
    let baked = &water["buns: one, baked"].cells;
    assert_eq!([&baked[1].shown, &baked[3].shown], ["72", "68"]);
    assert!(baked[1].strong);
}

/// A comparison shows each formula of the examples as its own prints do, line by line, whatever
/// stands beside it, and its sum once.
#[test]
fn a_comparison_shows_what_the_formulas_own_print_shows() {
    let own = documents(&gullhaven(""));
    let compare = |pair: &[Document]| match pair {
        [one, other] => format!("compare {}, {}\n", one.name, other.name),
        _ => String::new(),
    };
    let all: String = own.windows(2).map(compare).collect();
    let (made, told) = made(&gullhaven(&format!("booklet all \"All\" {{\n{all}}}\n")), "all");
    assert!(told.iter().all(|it| *it == "columns-alike"), "{told:?}");
    let tables = tables(&made[0]);
    assert_eq!(tables.len() + 1, own.len());
    for (table, pair) in tables.iter().zip(own.windows(2)) {
        for (at, document) in pair.iter().enumerate() {
            for line in &document.total {
                let name = match &line.role {
                    Some(role) => format!("{} ({role})", line.name),
                    None => line.name.clone(),
                };
                let row = table.rows.iter().find(|row| row.kind == "line" && row.name == name);
                let cells = &row.unwrap_or_else(|| panic!("{name}")).cells[at * 2..at * 2 + 2];
                let weight = line.weight.as_ref().map(|it| it.shown.as_str());
                assert_eq!(cells[0].shown, line.percent.as_deref().unwrap_or_default(), "{name}");
                assert_eq!(
                    Some(cells[1].shown.as_str()),
                    weight.or(line.soft.as_deref()),
                    "{name}"
                );
            }
        }
        assert!(table.rows.iter().all(|row| row.name != "Dough"), "{}", table.title);
    }
}
