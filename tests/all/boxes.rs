//! Pages measured: where each letter of a print stands, how large it is and what it meets.
//!
//! The places are those of the finished PDF. The ordinary run measures a few combinations
//! of language, units and paper; `ASSIZE_ALL_PAGES=1` measures all of them and tells what
//! it counted.

use crate::support::{assize, err, folder, has_printed, is_of_booklet, top};
use pdf_extract::{Document, MediaBox, Object, OutputDev, OutputError, Transform, output_doc};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Letters side by side in one size on one line; lengths in points, from the lower left.
#[derive(Debug)]
pub struct Run {
    /// Along the line.
    pub from: f64,
    pub to: f64,
    /// Where the line lies across.
    pub base: f64,
    pub size: f64,
    pub text: String,
    /// Whether the line runs up the page.
    pub turned: bool,
}

impl Run {
    /// From below the line to the height of small letters.
    fn body(&self) -> (f64, f64) {
        match self.turned {
            false => (self.base - 0.15 * self.size, self.base + 0.42 * self.size),
            true => (self.base - 0.42 * self.size, self.base + 0.15 * self.size),
        }
    }

    /// From left to right, and from low to high.
    fn area(&self) -> [(f64, f64); 2] {
        match self.turned {
            false => [(self.from, self.to), self.body()],
            true => [self.body(), (self.from, self.to)],
        }
    }

    fn meets(&self, other: &Self) -> bool {
        let sides = self.area().into_iter().zip(other.area());
        sides.into_iter().all(|(own, other)| own.0.max(other.0) + 0.4 < own.1.min(other.1))
    }
}

/// One page and what stands on it.
#[derive(Default)]
pub struct Page {
    pub width: f64,
    pub height: f64,
    pub runs: Vec<Run>,
}

/// Gathers the letters of a PDF into runs.
#[derive(Default)]
struct Pages(Vec<Page>);

impl OutputDev for Pages {
    fn begin_page(
        &mut self,
        _: u32,
        media: &MediaBox,
        _: Option<(f64, f64, f64, f64)>,
    ) -> Result<(), OutputError> {
        let (width, height) = (media.urx - media.llx, media.ury - media.lly);
        self.0.push(Page { width, height, runs: Vec::new() });
        Ok(())
    }

    fn output_character(
        &mut self,
        place: &Transform,
        width: f64,
        _: f64,
        size: f64,
        letter: &str,
    ) -> Result<(), OutputError> {
        let Some(page) = self.0.last_mut() else { return Ok(()) };
        let size = size * place.m11.hypot(place.m12);
        let turned = place.m12.abs() > place.m11.abs();
        let (from, base) = if turned { (place.m32, place.m31) } else { (place.m31, place.m32) };
        let to = from + width * size;
        let blank =
            letter.chars().all(|it| it.is_whitespace() || it == '\u{ad}' || it == '\u{200b}');
        if blank {
            return Ok(());
        }
        if let Some(last) = page.runs.last_mut()
            && last.turned == turned
            && (last.base - base).abs() < 0.05
            && (last.size - size).abs() < 0.05
            && (-0.3..0.7).contains(&((from - last.to) / size))
        {
            if from - last.to > 0.12 * size {
                last.text.push(' ');
            }
            last.text.push_str(letter);
            last.to = to;
            return Ok(());
        }
        page.runs.push(Run { from, to, base, size, text: letter.to_owned(), turned });
        Ok(())
    }

    fn end_page(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn begin_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn end_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn end_line(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
}

pub fn pages(file: &Path) -> Vec<Page> {
    let mut document = Document::load(file).expect("a PDF");
    spell_out_widths(&mut document);
    let mut pages = Pages::default();
    output_doc(&document, &mut pages).expect("pages");
    pages.0
}

/// Widths of letters as `first [width width …]`; the reader takes `first last width` for
/// nothing (ISO 32000-1, 9.7.4.3 has both).
fn spell_out_widths(document: &mut Document) {
    let whole = |object: &Object| object.as_i64().expect("a number of a letter");
    let spelt = |widths: &[Object]| {
        let (mut all, mut rest) = (Vec::new(), widths);
        while let [first, second, more @ ..] = rest {
            match (second, more) {
                (Object::Array(_), _) => {
                    all.extend([first.clone(), second.clone()]);
                    rest = more;
                }
                (last, [width, after @ ..]) => {
                    let same = (whole(first)..=whole(last)).map(|_| width.clone());
                    all.extend([first.clone(), Object::Array(same.collect())]);
                    rest = after;
                }
                _ => panic!("widths without an end"),
            }
        }
        Object::Array(all)
    };
    for object in document.objects.values_mut() {
        let Object::Dictionary(font) = object else { continue };
        if let Ok(Object::Array(widths)) = font.get(b"W")
            && font.has(b"CIDSystemInfo")
        {
            let spelt = spelt(widths);
            font.set("W", spelt);
        }
    }
}

const MM: f64 = 72.0 / 25.4;

/// Words that leave the page or come nearer to its edge than 8 mm.
fn outside(page: &Page) -> Vec<String> {
    let edge = 8.0 * MM;
    let out = |run: &&Run| {
        let [(left, right), (low, high)] = run.area();
        left < edge || right > page.width - edge || low < 3.0 * MM || high > page.height - 3.0 * MM
    };
    page.runs.iter().filter(out).map(|run| format!("`{}` leaves the page", run.text)).collect()
}

fn overprinted(page: &Page) -> Vec<String> {
    let mut all = Vec::new();
    for (index, run) in page.runs.iter().enumerate() {
        let met = page.runs[index + 1..].iter().filter(|other| run.meets(other));
        all.extend(met.map(|other| format!("`{}` over `{}`", run.text, other.text)));
    }
    all
}

/// What leaves a page or stands over something else on it.
pub fn slips(page: &Page) -> Vec<String> {
    [outside(page), overprinted(page)].concat()
}

const UNITS: [&str; 9] = ["kg", "g", "mg", "oz", "lb", "ml", "°C", "°F", "min"];

/// Units that begin a line or a cell, their number elsewhere.
fn torn(page: &Page) -> Vec<String> {
    let alone = |run: &&Run| {
        if run.turned {
            return false;
        }
        let first = run.text.split([' ', ',', '.', ';']).next().unwrap_or_default();
        UNITS.contains(&first)
            && !page.runs.iter().any(|other| {
                (other.base - run.base).abs() < 1.0
                    && (-0.5..0.9).contains(&((run.from - other.to) / run.size))
            })
    };
    page.runs.iter().filter(alone).map(|run| format!("`{}` without its number", run.text)).collect()
}

/// How much of the page between head and foot has words, or is less than a line from some.
fn fullness(page: &Page) -> f64 {
    let (low, high) = (16.0 * MM, page.height - 11.0 * MM);
    let mut bands: Vec<(f64, f64)> = page
        .runs
        .iter()
        .filter(|run| !run.turned && (low..high).contains(&run.base))
        .map(|run| (run.base - 0.7 * run.size, run.base + 1.4 * run.size))
        .collect();
    bands.sort_by(|one, other| one.0.total_cmp(&other.0));
    let (mut all, mut end) = (0.0, low);
    for (from, to) in bands {
        all += (to.min(high) - from.max(end)).max(0.0);
        end = end.max(to);
    }
    all / (high - low)
}

/// Whether a page begins a print, or a list of a day: only others have a head, above all else.
fn begins(page: &Page) -> bool {
    !page.runs.iter().any(|run| run.base > page.height - 11.5 * MM)
}

/// The sizes of type, in tenths of a point.
fn sizes(pages: &[Page]) -> BTreeSet<i64> {
    let runs = pages.iter().flat_map(|page| &page.runs);
    runs.map(|run| (run.size * 10.0).round() as i64).collect()
}

/// The letters of each full line of a card's method: one that goes on below itself and is
/// wider than a column of ingredients.
fn measures(page: &Page) -> Vec<usize> {
    let mut lines: BTreeMap<(i64, i64), Vec<&Run>> = BTreeMap::new();
    for run in &page.runs {
        let at = |place: f64| (place * 2.0).round() as i64;
        lines.entry((-at(run.base), at(run.from))).or_default().push(run);
    }
    let runs: Vec<&Run> = lines.into_values().flatten().collect();
    let goes_on = |run: &&&Run| {
        run.from > 30.0 * MM
            && run.to - run.from > 0.5 * page.width
            && runs.iter().any(|next| {
                (next.from - run.from).abs() < 0.5
                    && (0.9..1.5).contains(&((run.base - next.base) / run.size))
            })
    };
    runs.iter().filter(goes_on).map(|run| run.text.chars().count()).collect()
}

/// A language, units and a paper.
type Combination = (&'static str, &'static str, &'static str);

const FEW: [Combination; 4] = [
    ("en", "metric", "A5"),
    ("fr", "US", "letter"),
    ("de", "metric and US", "half-letter"),
    ("it and es", "metric", "A4"),
];

fn combinations() -> Vec<Combination> {
    if std::env::var_os("ASSIZE_ALL_PAGES").is_none() {
        return FEW.to_vec();
    }
    let mut all = Vec::new();
    for language in ["en", "fr", "de", "es", "it"] {
        for units in ["metric", "US", "metric and US"] {
            all.extend(["A5", "A4", "letter", "half-letter"].map(|paper| (language, units, paper)));
        }
    }
    all
}

/// Both houses with another language, other units and another paper, printed.
fn printed((language, units, paper): Combination) -> tempfile::TempDir {
    let to = folder();
    for from in ["examples/gullhaven", "tests/prints"] {
        let house = folder();
        for file in fs::read_dir(top().join(from)).expect("listed") {
            let file = file.expect("an entry").path();
            let Ok(text) = fs::read_to_string(&file) else { continue };
            let is_booklet = text.contains("booklet ");
            let is_set = |line: &&str| !line.trim_start().starts_with("units ");
            let text: Vec<String> = text
                .lines()
                .filter(is_set)
                // Booklets have one language.
                .map(|line| match line.trim_start().starts_with("language ") && !is_booklet {
                    true => format!("  language {language}\n  units {units}\n  paper {paper}"),
                    false => line.to_owned(),
                })
                .collect();
            fs::write(house.path().join(file.file_name().expect("a name")), text.join("\n"))
                .expect("written");
        }
        let to = to.path().to_string_lossy();
        let mut args = vec!["print", "--to", &*to];
        // Only one of the houses has days.
        if from.starts_with("examples") {
            args.extend(["--placings", "60"]);
        }
        let done = assize(house.path(), &args);
        assert!(has_printed(&done), "{language} {units} {paper}: {}", err(&done));
    }
    to
}

/// What is wrong with a print, by kind.
fn wrong(print: &str, paper: &str, pages: &[Page]) -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    let mut add = |kind, slips: Vec<String>| all.extend(slips.into_iter().map(|slip| (kind, slip)));
    for (index, page) in pages.iter().enumerate() {
        add("edge", outside(page));
        add("overprint", overprinted(page));
        // In a booklet units stand after rules to write on, and at the heads of columns.
        if print != "booklet" {
            add("torn", torn(page));
        }
        let full = fullness(page);
        let is_last = pages.get(index + 1).is_none_or(begins);
        // Cautions and allergens that are torn off stand on no wall.
        if matches!(print, "card" | "sheet" | "table") && index > 0 && full < 0.08 {
            add("alone", vec![format!("page {} is {:.0} % full", index + 1, full * 100.0)]);
        }
        // A booklet begins pages where its author wants them.
        if print != "booklet" && !is_last && full < 1.0 / 3.0 {
            add("empty", vec![format!("page {} is {:.0} % full", index + 1, full * 100.0)]);
        }
        if print == "card" && paper == "A5" {
            let odd = measures(page).into_iter().filter(|count| !(38..=75).contains(count));
            add("measure", odd.map(|count| format!("a line of {count} letters")).collect());
        }
    }
    all
}

/// What is still owed: a print, a kind, and the most of it that the combinations of the
/// ordinary run have. These numbers only shrink.
const OWED: &[(&str, &str, usize)] = &[
    ("card", "empty", 1),
    ("card", "measure", 4),
    ("sheet", "empty", 3),
    ("sheet", "torn", 1),
    ("table", "overprint", 2),
];

#[test]
fn nothing_on_a_page_is_cut_off_overprinted_torn_or_lost() {
    let mut counts: BTreeMap<(String, &str), usize> = BTreeMap::new();
    let mut told = Vec::new();
    let mut measured = 0;
    for combination in combinations() {
        let folder = printed(combination);
        let (language, units, paper) = combination;
        let mut of_cards = BTreeSet::new();
        for file in fs::read_dir(folder.path()).expect("listed") {
            let file = file.expect("an entry").path();
            let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
            let last = name.rsplit('-').next().expect("a print");
            let print = match last {
                _ if is_of_booklet(&name) => "booklet".to_owned(),
                "card" | "sheet" | "table" | "sheets" => last.to_owned(),
                _ => "day".to_owned(),
            };
            let pages = pages(&file);
            measured += pages.len();
            if print == "card" {
                of_cards.extend(sizes(&pages));
            }
            for (kind, slip) in wrong(&print, paper, &pages) {
                *counts.entry((print.clone(), kind)).or_default() += 1;
                told.push(format!("{kind}: {language} {units} {paper} {name}: {slip}"));
            }
        }
        assert!(of_cards.len() <= 4, "{combination:?}: cards have the sizes {of_cards:?}");
    }
    assert!(measured > 200, "{measured} pages");
    told.sort();
    if std::env::var_os("ASSIZE_ALL_PAGES").is_some() {
        println!("{measured} pages: {counts:?}\n{}", told.join("\n"));
        return;
    }
    let owed = |print: &str, kind: &str| {
        OWED.iter().find(|(of, what, _)| (*of, *what) == (print, kind)).map_or(0, |it| it.2)
    };
    let more = counts.iter().any(|((print, kind), count)| *count > owed(print, kind));
    assert!(!more, "{}\n{counts:?}", told.join("\n"));
}

/// The gauge itself: words that are moved over others, off the page or away from their
/// numbers are found.
#[test]
fn a_page_gone_wrong_is_told() {
    let run = |from: f64, base: f64, text: &str| Run {
        from,
        to: from + 20.0,
        base,
        size: 10.0,
        text: text.to_owned(),
        turned: false,
    };
    let turned = |from: f64, base: f64, text: &str| Run { turned: true, ..run(from, base, text) };
    let page = |runs| Page { width: 420.0, height: 595.0, runs };
    assert_eq!(
        overprinted(&page(vec![run(50.0, 300.0, "salt"), run(60.0, 303.0, "water")])).len(),
        1
    );
    assert!(overprinted(&page(vec![run(50.0, 300.0, "a"), run(50.0, 312.0, "b")])).is_empty());
    assert_eq!(
        overprinted(&page(vec![turned(290.0, 60.0, "HR1"), run(50.0, 300.0, "a")])).len(),
        1
    );
    assert!(overprinted(&page(vec![turned(50.0, 60.0, "a"), turned(50.0, 72.0, "b")])).is_empty());
    assert_eq!(outside(&page(vec![turned(585.0, 60.0, "HR1")])).len(), 1);
    assert!(begins(&page(vec![run(50.0, 550.0, "Bench list")])));
    assert!(!begins(&page(vec![run(50.0, 575.0, "Bench list, continued")])));
    assert_eq!(outside(&page(vec![run(395.0, 300.0, "kg")])).len(), 1);
    assert_eq!(torn(&page(vec![run(50.0, 300.0, "12"), run(50.0, 312.0, "g salt")])).len(), 1);
    assert!(torn(&page(vec![run(50.0, 300.0, "12"), run(72.0, 300.0, "g")])).is_empty());
    assert!(fullness(&page(vec![run(50.0, 300.0, "alone")])) < 0.1);
}
