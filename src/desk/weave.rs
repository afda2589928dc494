//! Weaving: a manuscript with its blocks replaced by tables, its brackets by figures, and its
//! placeholders by what they stand for.
//!
//! Everything else stays as it is written, byte for byte: pictures, footnotes, links.

use super::assets;
use super::bakehouses::Bakehouse;
use super::load::{FileSystem, Loaded, LoadedFile, MAX_BYTES, is_manuscript};
use super::report::check_formula;
use crate::check::{self, UNKNOWN_FIGURE};
use crate::diag::{Finding, Level, Rule};
use crate::formula::{Worked, key, title};
use crate::print::document::HousePart;
use crate::print::html::{self, WovenPage, anchor, card_place};
use crate::print::markdown::{Block, Run, blocks, plain};
use crate::print::{Document, Wording, document, woven};
use crate::proof::unknown_reference;
use crate::proof::{self, Instruction, Manuscript, Placeholder, Ties, instructions};
use crate::source::SourceId;
use crate::syntax::prose::{Kind, parts};
use crate::syntax::{read_bracket, tree::Formula};
use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

/// What stands for a formula in a woven book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// Its mixes, a table each.
    #[default]
    Table,
    /// Its mixes, its method and what is to be known of it.
    Card,
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
    /// Whether it becomes pages for a browser.
    pub is_html: bool,
}

/// A manuscript, woven.
pub struct Woven<'l> {
    /// The file that it was.
    pub file: &'l LoadedFile,
    /// As Markdown, or as a page for a browser.
    pub text: String,
    /// Pictures beside the manuscript that the text shows, as it names them.
    pub pictures: Vec<String>,
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
    let files = bakehouse.files.iter().filter(|file| is_manuscript(&file.path));
    let files = files.filter(|file| file.is_asked_for()).copied();
    let manuscript = |file: &'l LoadedFile| {
        let text = loaded.sources.get(file.source)?.text.as_ref();
        let house = &bakehouse.house;
        let (formulas, rules) = (&formulas, &rules);
        Some((file, Manuscript { source: file.source, text, house, formulas, rules }))
    };
    let manuscripts: Vec<_> = files.filter_map(manuscript).collect();
    // What the words of the book say falsely of a formula would be read beside its table.
    let mut of_words = Vec::new();
    for (_, manuscript) in &manuscripts {
        let mut told = Vec::new();
        proof::read(manuscript, &mut told);
        of_words.extend(told.into_iter().filter(is_error).filter(|it| it.formula.is_some()));
    }
    let known: Vec<Known> = formulas
        .iter()
        .copied()
        .map(|formula| known(bakehouse, formula, &headings, &words, &rules, &of_words, findings))
        .collect();
    findings.append(&mut of_words);
    let names: Vec<String> = manuscripts.iter().map(|(file, _)| name_of(file)).collect();
    let book = Book { bakehouse, words: &words, weaving, known: &known };
    let mut all = Vec::new();
    for (file, manuscript) in &manuscripts {
        let text = book.woven(manuscript, findings);
        let blocks = blocks(&text);
        let pictures = pictures(&blocks);
        let text = match weaving.is_html {
            true => book.page(file, &blocks, &names, file_system),
            false => text,
        };
        all.push(Woven { file, text, pictures });
    }
    all
}

/// What stands in the line before a place.
fn text_before(text: &str, at: usize) -> &str {
    let before = text.get(..at).unwrap_or_default();
    before.rsplit('\n').next().unwrap_or_default()
}

/// Several lines where a block stood inside a quotation or an item of a list: each after the
/// first begins as that block's lines would.
fn inside(before: &str, told: &str) -> String {
    let lead = |sign: char| if matches!(sign, '>' | '\t') { sign } else { ' ' };
    let lead: String = before.chars().map(lead).collect();
    if lead.is_empty() {
        return told.to_owned();
    }
    let mut lines = told.split('\n');
    let mut all = lines.next().unwrap_or_default().to_owned();
    for line in lines {
        all.push('\n');
        all.push_str(if line.is_empty() { lead.trim_end() } else { &lead });
        all.push_str(line);
    }
    all
}

fn is_error(finding: &Finding) -> bool {
    finding.level == Level::Error && finding.allowed.is_none()
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
    of_words: &[Finding],
    findings: &mut Vec<Finding>,
) -> Known<'l> {
    let mut own = Vec::new();
    let worked = check_formula(&bakehouse.house, formula, &mut own);
    check::apply_allowed(formula, &mut own, rules);
    let is_wrong_in_words =
        of_words.iter().any(|it| it.formula.as_ref() == Some(&formula.name.key));
    let is_sound = worked.sound
        && worked.readable
        && !formula.broken
        && !own.iter().any(is_error)
        && !is_wrong_in_words;
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
                    edits.push((range.clone(), self.block(manuscript, range, info)));
                }
                Kind::Comment(range) => {
                    let mut unheard = Vec::new();
                    let said = instructions(manuscript.source, text, range.clone(), &mut unheard);
                    if unheard.is_empty() {
                        let whole = whole_comment(text, range);
                        let placed = inside(text_before(text, whole.start), &self.placed(&said));
                        edits.push((whole, placed));
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
        let is_here = |(_, known): &(usize, &Known)| {
            known.formula.span.source == manuscript.source
                && range.contains(&(known.formula.span.start as usize))
        };
        let here: Vec<(usize, &Known)> = self.known.iter().enumerate().filter(is_here).collect();
        if shown == Shown::Source || here.iter().any(|(_, known)| known.document.is_none()) {
            return own.to_owned();
        }
        let told = here.iter().filter_map(|(at, known)| Some((at, known.document.as_ref()?)));
        let told = told.map(|(at, document)| match shown {
            Shown::Card if self.weaving.is_html => card_place(*at),
            Shown::Card => woven::card(document),
            Shown::Table => woven::table(document),
            Shown::Figures => woven::figures(document),
            Shown::Source | Shown::Nothing => String::new(),
        });
        let told = told.collect::<Vec<_>>().join("\n");
        let before = text_before(manuscript.text, range.start);
        match told.strip_suffix('\n').filter(|_| own.ends_with('\n')) {
            Some(told) => inside(before, told) + "\n",
            None => inside(before, &told),
        }
    }

    /// The page of a manuscript.
    fn page(
        &self,
        file: &LoadedFile,
        blocks: &[Block],
        names: &[String],
        file_system: &dyn FileSystem,
    ) -> String {
        let first = blocks.iter().find_map(|block| match block {
            Block::Heading(1, words) => Some(plain(words)),
            _ => None,
        });
        let stem = || file.path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let folder = file.path.parent().unwrap_or(Path::new("")).to_path_buf();
        html::woven_page(&WovenPage {
            title: &first.unwrap_or_else(stem),
            language: &self.words.tag,
            colour: HousePart::of(&self.bakehouse.house.settings).colour.as_deref(),
            contents: &self.words.say("print-contents"),
            blocks,
            card: &|at| self.known.get(at).and_then(|known| known.document.as_ref()),
            picture: &|name| {
                let path = folder.join(name);
                let is_beside = file_system.is_below(&folder, &path).unwrap_or_default();
                let bytes = file_system.bytes(&path, MAX_BYTES).ok().filter(|_| is_beside)?;
                (bytes.len() as u64 <= MAX_BYTES).then_some(bytes)
            },
            files: names,
        })
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
                Told::Leads(why) => {
                    let span = manuscript.span(range.clone());
                    findings.push(unknown_reference::not_there(span, inside, &why));
                }
                Told::LeadsNowhere(name) => {
                    let known = manuscript.formulas.iter().map(|it| it.name.shown.as_str());
                    let span = manuscript.span(range.clone());
                    findings.push(unknown_reference::no_formula(span, &name, known));
                }
                Told::Nothing => {}
            }
        }
    }

    /// What a bracket asks for: of the formula that it names, or of its section's one.
    fn bracket(&self, inside: &str, ties: &Ties, place: usize) -> Told {
        if let Some((word, name)) = unknown_reference::leads_to(inside) {
            let known = ties.formula(name).and_then(|at| self.known.get(at));
            return match known {
                Some(known) => told_of_book(word, known),
                None => Told::LeadsNowhere(name.to_owned()),
            };
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
    /// It leads to what is not there, and why.
    Leads(String),
    /// It leads to a formula of this name, which there is not.
    LeadsNowhere(String),
    /// It is the author's own.
    Nothing,
}

/// What only the whole book can tell of a formula.
fn told_of_book(word: &str, known: &Known) -> Told {
    match (word, &known.heading) {
        ("title", _) => Told::Is(title(known.formula)),
        ("chapter", Some((heading, _))) => Told::Is(heading.clone()),
        ("chapter", None) => Told::Leads("its formula stands under no heading".to_owned()),
        _ => Told::Leads("only pages of paper have numbers".to_owned()),
    }
}

fn shown_as(word: &str) -> Option<Shown> {
    Some(match word {
        "table" => Shown::Table,
        "card" => Shown::Card,
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

fn name_of(file: &LoadedFile) -> String {
    file.path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// The pictures of a text that lie beside it.
fn pictures(blocks: &[Block]) -> Vec<String> {
    fn of_runs(runs: &[Run], all: &mut Vec<String>) {
        for run in runs {
            match run {
                Run::Picture(file, _) => all.push(file.clone()),
                Run::Emphasis(inner)
                | Run::Strong(inner)
                | Run::Struck(inner)
                | Run::Link(_, inner) => of_runs(inner, all),
                _ => {}
            }
        }
    }
    fn of_blocks(blocks: &[Block], all: &mut Vec<String>) {
        for block in blocks {
            match block {
                Block::Heading(_, runs) | Block::Words(runs) => of_runs(runs, all),
                Block::Quote(inner) | Block::Note(_, inner) => of_blocks(inner, all),
                Block::List(_, items) => items.iter().for_each(|item| of_blocks(item, all)),
                Block::Table(_, rows) => {
                    rows.iter().flatten().for_each(|cell| of_runs(cell, all));
                }
                Block::Terms(terms) => {
                    for (term, said) in terms {
                        of_runs(term, all);
                        said.iter().for_each(|blocks| of_blocks(blocks, all));
                    }
                }
                Block::Code(_) | Block::Html(_) | Block::Rule => {}
            }
        }
    }
    let mut all = Vec::new();
    of_blocks(blocks, &mut all);
    all.retain(|file| !file.contains(':') && !file.starts_with('/'));
    all.sort();
    all.dedup();
    all
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
