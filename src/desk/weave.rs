//! Weaving: a manuscript with its blocks replaced by tables, its brackets by figures, and its
//! placeholders by what they stand for.
//!
//! Everything else stays as it is written, byte for byte: pictures, footnotes, links.

use super::assets;
use super::bakehouses::Bakehouse;
use super::load::{FileSystem, Loaded, LoadedFile, is_manuscript};
use super::report::check_formula;
use crate::check::{self, UNKNOWN_FIGURE};
use crate::diag::{Finding, Level, Rule};
use crate::formula::{Worked, key, title};
use crate::print::{Document, Wording, document, woven};
use crate::proof::{Instruction, Manuscript, Placeholder, Ties, instructions};
use crate::source::SourceId;
use crate::syntax::prose::{Kind, parts};
use crate::syntax::{read_bracket, tree::Formula};
use std::collections::BTreeMap;
use std::ops::Range;

/// What stands for a formula in a woven book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// Its mixes, a table each.
    #[default]
    Table,
    /// A list of its figures.
    Figures,
    /// The block as it is written.
    Source,
    /// Nothing.
    Nothing,
}

/// How a book is woven.
pub struct Weaving<'w> {
    /// What stands for a block that says nothing else.
    pub blocks: Shown,
    /// The language of tables and figures, where it is not the house's.
    pub language: Option<&'w str>,
}

/// A manuscript, woven.
pub struct Woven<'l> {
    /// The file that it was.
    pub file: &'l LoadedFile,
    /// As Markdown.
    pub text: String,
}

/// A formula of the book with all that is told of it.
struct Known<'l> {
    formula: &'l Formula,
    worked: Worked<'l>,
    /// What is printed of it; none where there is an error in it.
    document: Option<Document>,
    /// The heading above its block, and the file's name.
    heading: Option<(String, String)>,
}

/// Weaves the manuscripts of a bakehouse that were asked for.
pub fn weave<'l>(
    loaded: &'l Loaded,
    bakehouse: &'l Bakehouse<'l>,
    file_system: &dyn FileSystem,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
) -> Vec<Woven<'l>> {
    let (_, words) = assets::assets(file_system, bakehouse, weaving.language, findings);
    let rules: Vec<&'static Rule> = super::rules().collect();
    let formulas: Vec<&Formula> =
        bakehouse.files.iter().flat_map(|file| &file.tree.formulas).collect();
    let headings = headings(loaded, bakehouse);
    let known: Vec<Known> = formulas
        .iter()
        .copied()
        .map(|formula| known(bakehouse, formula, &headings, &words, &rules, findings))
        .collect();
    let files = bakehouse.files.iter().filter(|file| is_manuscript(&file.path));
    let files = files.filter(|file| file.is_asked_for());
    let book = Book { bakehouse, words: &words, weaving, known: &known };
    let mut all = Vec::new();
    for file in files.copied() {
        let Some(source) = loaded.sources.get(file.source) else { continue };
        let manuscript = Manuscript {
            source: file.source,
            text: &source.text,
            house: &bakehouse.house,
            formulas: &formulas,
            rules: &rules,
        };
        all.push(Woven { file, text: book.woven(&manuscript, findings) });
    }
    all
}

/// The headings of the manuscripts of a bakehouse, by text: the file's name, and where each
/// begins.
type Headings = BTreeMap<SourceId, (String, Vec<(usize, String)>)>;

fn headings(loaded: &Loaded, bakehouse: &Bakehouse) -> Headings {
    let mut all = Headings::new();
    for file in bakehouse.files.iter().filter(|file| is_manuscript(&file.path)) {
        let Some(source) = loaded.sources.get(file.source) else { continue };
        let own = parts(&source.text).into_iter().filter_map(|part| match part.kind {
            Kind::Heading(_, words) => Some((part.start, words.text)),
            _ => None,
        });
        let name = file.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        all.insert(file.source, (name, own.collect()));
    }
    all
}

fn known<'l>(
    bakehouse: &'l Bakehouse<'l>,
    formula: &'l Formula,
    headings: &Headings,
    words: &Wording,
    rules: &[&'static Rule],
    findings: &mut Vec<Finding>,
) -> Known<'l> {
    let mut own = Vec::new();
    let worked = check_formula(&bakehouse.house, formula, &mut own);
    check::apply_allowed(formula, &mut own, rules);
    let is_error = |it: &Finding| it.level == Level::Error && it.allowed.is_none();
    let is_sound = worked.sound && worked.readable && !formula.broken && !own.iter().any(is_error);
    findings.extend(own.into_iter().filter(is_error));
    let printed = || document(&bakehouse.house, &worked, words, bakehouse.house.settings.volumes);
    let document = is_sound.then(printed);
    let heading = headings.get(&formula.span.source).and_then(|(name, all)| {
        let above = all.iter().rfind(|(start, _)| *start < formula.span.start as usize)?;
        Some((above.1.clone(), name.clone()))
    });
    Known { formula, worked, document, heading }
}

struct Book<'b, 'l> {
    bakehouse: &'b Bakehouse<'l>,
    words: &'b Wording,
    weaving: &'b Weaving<'b>,
    known: &'b [Known<'l>],
}

/// A stretch of a manuscript and what comes in its place.
type Edit = (Range<usize>, String);

impl Book<'_, '_> {
    fn woven(&self, manuscript: &Manuscript, findings: &mut Vec<Finding>) -> String {
        let text = manuscript.text;
        let parts = parts(text);
        let ties = Ties::of(manuscript, &parts);
        let mut edits: Vec<Edit> = Vec::new();
        for part in &parts {
            match &part.kind {
                Kind::Fence(range, info) => {
                    edits.push((range.clone(), self.block(manuscript, range, info)))
                }
                Kind::Comment(range) => {
                    let mut unheard = Vec::new();
                    let said = instructions(manuscript.source, text, range.clone(), &mut unheard);
                    if unheard.is_empty() {
                        edits.push((whole_comment(text, range), self.placed(&said)));
                    }
                    findings.extend(unheard);
                }
                Kind::Heading(_, words) | Kind::Words(words) => {
                    self.brackets(manuscript, &ties, &words.brackets, &mut edits, findings);
                }
                Kind::Table(table) => {
                    for cell in table.rows.iter().flatten() {
                        self.brackets(manuscript, &ties, &cell.brackets, &mut edits, findings);
                    }
                }
                Kind::NearComment(_) => {}
            }
        }
        spliced(text, edits)
    }

    /// What stands for a block: that of its first formula, or nothing.
    fn block(&self, manuscript: &Manuscript, range: &Range<usize>, info: &str) -> String {
        let own = manuscript.text.get(range.clone()).unwrap_or_default();
        let said = info.split_whitespace().skip(1).find_map(shown_as);
        let shown = said.unwrap_or(self.weaving.blocks);
        let is_here = |known: &&Known| {
            known.formula.span.source == manuscript.source
                && range.contains(&(known.formula.span.start as usize))
        };
        let here: Vec<&Known> = self.known.iter().filter(is_here).collect();
        if shown == Shown::Source || here.iter().any(|known| known.document.is_none()) {
            return own.to_owned();
        }
        let told = here.iter().filter_map(|known| known.document.as_ref());
        let told = told.map(|document| match shown {
            Shown::Table => woven::table(document),
            Shown::Figures => woven::figures(document),
            Shown::Source | Shown::Nothing => String::new(),
        });
        told.collect::<Vec<_>>().join("\n")
    }

    fn brackets(
        &self,
        manuscript: &Manuscript,
        ties: &Ties,
        brackets: &[Range<usize>],
        edits: &mut Vec<Edit>,
        findings: &mut Vec<Finding>,
    ) {
        for range in brackets {
            let Some(inside) = manuscript.text.get(range.start + 1..range.end - 1) else {
                continue;
            };
            match self.bracket(inside, ties, range.start) {
                Told::Is(shown) => edits.push((range.clone(), woven::cell(&shown))),
                Told::IsNot(why) => {
                    let message = format!("`{inside}` can't be told: {why}");
                    findings.push(
                        Finding::new(&UNKNOWN_FIGURE, manuscript.span(range.clone()), message)
                            .help("it stays as it is written"),
                    );
                }
                Told::Nothing => {}
            }
        }
    }

    /// What a bracket asks for: of the formula that it names, or of its section's one.
    fn bracket(&self, inside: &str, ties: &Ties, place: usize) -> Told {
        if let Some((word, name)) = inside.split_once(" of ")
            && matches!(word, "title" | "chapter" | "page")
            && let Some(known) = ties.formula(name.trim()).and_then(|at| self.known.get(at))
        {
            return told_of_book(word, known);
        }
        let house = &self.bakehouse.house;
        let Some(ask) = read_bracket(inside) else { return Told::Nothing };
        let named = ask.elsewhere(|key| house.formula(key).is_some());
        let own = || match ties.formulas(place).as_slice() {
            [one] => self.known.get(*one),
            _ => None,
        };
        let known = match named {
            Some(named) => self.known.iter().find(|it| it.formula.name.key == named.formula.key),
            None => own(),
        };
        let Some(known) = known else { return Told::Nothing };
        let wrong = |why: &str| match named {
            Some(_) => Told::IsNot(why.to_owned()),
            None => Told::Nothing,
        };
        if known.document.is_none() {
            return wrong("there is an error in the formula");
        }
        match woven::figure(house, &known.worked, self.words, &ask) {
            Some(shown) => Told::Is(shown),
            None => wrong("the formula has nothing of that name"),
        }
    }

    /// What the placeholders of a comment stand for; nothing where it only steers.
    fn placed(&self, said: &[Instruction]) -> String {
        let placed = said.iter().filter_map(|instruction| match instruction {
            Instruction::Place(placeholder) => Some(self.place(placeholder)),
            _ => None,
        });
        let placed: Vec<String> = placed.map(|it| it.trim_end().to_owned()).collect();
        placed.join("\n\n")
    }

    fn place(&self, placeholder: &Placeholder) -> String {
        match placeholder {
            Placeholder::Title(title, by) => match by {
                Some(by) => format!("# {}\n\n{}", woven::cell(title), woven::cell(by)),
                None => format!("# {}", woven::cell(title)),
            },
            Placeholder::Contents => {
                let own = self.known.iter().filter(|known| known.heading.is_some());
                own.map(|known| format!("- {}\n", link(known))).collect()
            }
            Placeholder::ByIngredient => self.index(|document| {
                let lines = document.mixes.iter().flat_map(|mix| &mix.lines);
                lines.map(|line| line.name.clone()).collect()
            }),
            Placeholder::ByStyle => {
                self.index(|document| document.style.clone().into_iter().collect())
            }
            Placeholder::ByTime => self.index(|document| {
                let elapsed = document.figures.iter().find(|it| it.name == "elapsed");
                elapsed
                    .map(|it| format!("{} {}", it.shown, it.unit).trim().to_owned())
                    .into_iter()
                    .collect()
            }),
            Placeholder::Claims => self.claims(),
        }
    }

    /// Headwords with the formulas under each, both in the order of letters.
    fn index(&self, headwords: impl Fn(&Document) -> Vec<String>) -> String {
        let mut index: BTreeMap<String, (String, Vec<String>)> = BTreeMap::new();
        for known in self.known.iter().filter(|known| known.heading.is_some()) {
            for word in known.document.iter().flat_map(&headwords) {
                let (_, formulas) =
                    index.entry(key(&word).to_string()).or_insert((word, Vec::new()));
                let link = link(known);
                if !formulas.contains(&link) {
                    formulas.push(link);
                }
            }
        }
        let line = |(word, formulas): &(String, Vec<String>)| {
            format!("- {}: {}\n", woven::cell(word), formulas.join(", "))
        };
        index.values().map(line).collect()
    }

    /// What each formula claims, and what proves it.
    fn claims(&self) -> String {
        let mut written = String::new();
        for known in self.known.iter().filter(|it| it.heading.is_some() && it.document.is_some()) {
            for claim in &known.formula.expect {
                let place = claim.place.as_ref().map(|place| format!(" in {}", place.shown));
                let what = format!("{}{}", claim.what.name.shown, place.unwrap_or_default());
                let value = read_bracket(&what).and_then(|ask| {
                    woven::figure(&self.bakehouse.house, &known.worked, self.words, &ask)
                });
                let proof = value.map_or("proved".to_owned(), |value| format!("{value}, proved"));
                written.push_str(&format!(
                    "- {}: {}: {}\n",
                    link(known),
                    woven::cell(&what),
                    woven::cell(&proof)
                ));
            }
        }
        written
    }
}

enum Told {
    Is(String),
    /// Why it can't be told.
    IsNot(String),
    /// It is the author's own.
    Nothing,
}

/// What only the whole book can tell of a formula.
fn told_of_book(word: &str, known: &Known) -> Told {
    match (word, &known.heading) {
        ("title", _) => Told::Is(title(known.formula)),
        ("chapter", Some((heading, _))) => Told::Is(heading.clone()),
        ("chapter", None) => Told::IsNot("its formula stands under no heading".to_owned()),
        _ => Told::IsNot("only pages have numbers, and Markdown has none".to_owned()),
    }
}

fn shown_as(word: &str) -> Option<Shown> {
    Some(match word {
        "table" => Shown::Table,
        "figures" => Shown::Figures,
        "source" => Shown::Source,
        "nothing" => Shown::Nothing,
        _ => return None,
    })
}

/// A formula's title, as a link to the heading above it.
fn link(known: &Known) -> String {
    let title = woven::cell(&title(known.formula));
    match &known.heading {
        Some((heading, file)) => format!("[{title}]({file}#{})", anchor(heading)),
        None => title,
    }
}

/// The anchor that most tools give a heading.
fn anchor(heading: &str) -> String {
    let lower = heading.trim().to_lowercase();
    let kept = lower.chars().filter(|it| it.is_alphanumeric() || matches!(it, ' ' | '-' | '_'));
    kept.map(|it| if it == ' ' { '-' } else { it }).collect()
}

/// From `<!--` to `-->`, around the inside of a comment.
fn whole_comment(text: &str, inside: &Range<usize>) -> Range<usize> {
    let start = text[..inside.start].rfind("<!--").unwrap_or(inside.start);
    let end =
        if text[inside.end..].starts_with("-->") { inside.end + "-->".len() } else { inside.end };
    start..end
}

/// A text with its edits made, in their order; of those that overlap the first.
fn spliced(text: &str, mut edits: Vec<Edit>) -> String {
    edits.sort_by_key(|(range, _)| range.start);
    let (mut written, mut from) = (String::with_capacity(text.len()), 0);
    for (range, words) in edits {
        if range.start < from {
            continue;
        }
        written.push_str(&text[from..range.start]);
        // What ends a line in the manuscript does so in the book.
        written.push_str(words.trim_end_matches('\n'));
        if text[range.clone()].ends_with('\n') {
            written.push('\n');
        }
        from = range.end;
    }
    written.push_str(&text[from..]);
    written
}
