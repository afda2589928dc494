//! Weaving: a manuscript with its blocks replaced by tables, its brackets by figures, and its
//! placeholders by what they stand for.
//!
//! Everything else stays as it is written, byte for byte: pictures, footnotes, links.

use super::bakehouses::Bakehouse;
use super::findings::unreadable;
use super::load::{FileSystem, Loaded, LoadedFile, MAX_BYTES, is_manuscript};
use super::placeholders::{BookPart as Part, PastOf, Shop, occurring};
use super::report::check_formula;
use super::typed_pages::{TypedPage, typed_pages};
use super::{assets, drawings};
use crate::check::{self, UNKNOWN_FIGURE};
use crate::diag::{self, Finding, Level, Rule};
use crate::formula::{House, Worked, title};
use crate::print::assets::PrintAssets;
use crate::print::booklet::Occurring;
use crate::print::document::HousePart;
use crate::print::findings::unknown_picture;
use crate::print::html::{self, WovenPage};
use crate::print::look::{Unfit, photograph};
use crate::print::markdown::{Block, TextRun, blocks, plain};
use crate::print::pages::is_picture;
use crate::print::woven::{self, Placed, WovenBook, anchor, mark, mark_in_words};
use crate::print::{Document, Wording, document};
use crate::proof::{self, Instruction, Manuscript, Placeholder, Ties, instructions};
use crate::proof::{placeholder_empty, unknown_reference};
use crate::quantity::{Unit, Units};
use crate::source::{SourceId, Sources, Span};
use crate::syntax::prose::{PassageKind, parts};
use crate::syntax::{
    read_bracket,
    tree::{Claim, ClaimValue, Formula},
};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

/// What stands for a formula in a woven book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BlockForm {
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
    pub blocks: BlockForm,
    /// The language of tables and figures, where it is not the house's.
    pub language: Option<&'w str>,
    /// The units of tables and figures, where they are not the house's.
    pub units: Option<Units>,
    /// What it becomes.
    pub form: BookForm,
    /// Whether it is compared with another and read by nobody: blocks stay as they are written,
    /// whatever they say of themselves, and figures are filled in though a claim is refuted.
    pub is_compared: bool,
    /// What formulas were at a revision; none where nobody can tell.
    pub past: Option<&'w PastOf<'w>>,
}

/// What a woven book becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BookForm {
    /// Markdown, for whatever sets it afterwards.
    Markdown,
    /// Pages for a browser.
    Page,
    /// Pages on paper.
    Paper,
}

/// A manuscript, woven.
pub struct Woven<'l> {
    /// The file that it was.
    pub file: &'l LoadedFile,
    /// As Markdown, or as a page for a browser.
    pub text: String,
    /// The pictures that the text shows, as it names them.
    pub pictures: Vec<(String, Vec<u8>)>,
}

/// A woven book that is to be set on pages.
pub struct PaperBook {
    /// What the template reads.
    pub json: String,
    /// Its title.
    pub title: String,
    /// What its file is called, without an ending: as its one manuscript, or `book`.
    pub stem: String,
    /// Its pictures, by the names that it has for them.
    pub pictures: Vec<(String, Vec<u8>)>,
    /// What the house brings to its prints.
    pub assets: PrintAssets,
    /// Pages that the author typed.
    pub typed: Vec<TypedPage>,
}

/// A formula of the book with all that is told of it.
struct BookFormula<'l> {
    formula: &'l Formula,
    worked: Worked<'l>,
    /// What is printed of it; none where there is an error in it.
    document: Option<Document>,
    /// The heading above its block, and the file's name.
    heading: Option<(String, String)>,
}

/// Weaves the manuscripts of a bakehouse that were asked for, each into a text.
pub fn weave<'l>(
    loaded: &'l Loaded,
    bakehouse: &'l Bakehouse<'l>,
    file_system: &dyn FileSystem,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
) -> Vec<Woven<'l>> {
    with_book(
        loaded,
        bakehouse,
        file_system,
        weaving,
        findings,
        |book, _, manuscripts, findings| {
            let names: Vec<String> = manuscripts.iter().map(|(file, _)| name_of(file)).collect();
            let mut all = Vec::new();
            for &(file, ref manuscript) in manuscripts {
                let text = book.woven(manuscript, findings);
                let blocks = blocks(&text);
                let mut pictures = Vec::new();
                for name in self::pictures(&blocks).into_iter().filter(|_| !weaving.is_compared) {
                    let from = (bakehouse, file);
                    let bytes = picture_of(from, manuscript, &name, file_system, findings);
                    pictures.extend(bytes.map(|bytes| (name, bytes)));
                }
                let (text, pictures) = match weaving.form {
                    BookForm::Page => (book.page(file, &blocks, &names, &pictures), Vec::new()),
                    BookForm::Markdown | BookForm::Paper => below(text, pictures),
                };
                all.push(Woven { file, text, pictures });
            }
            all
        },
    )
}

/// Weaves the manuscripts of a bakehouse that were asked for into one book on paper; nothing
/// where there are none.
pub fn weave_on_paper<'l>(
    loaded: &'l Loaded,
    bakehouse: &'l Bakehouse<'l>,
    file_system: &dyn FileSystem,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
) -> Option<PaperBook> {
    with_book(
        loaded,
        bakehouse,
        file_system,
        weaving,
        findings,
        |book, assets, manuscripts, findings| {
            let (first, _) = manuscripts.first()?;
            let mut files = Vec::new();
            let (mut pictures, mut names) = (Vec::new(), BTreeMap::new());
            for (at, (file, manuscript)) in manuscripts.iter().enumerate() {
                let blocks = blocks(&book.woven(manuscript, findings));
                for name in self::pictures(&blocks) {
                    let from = (bakehouse, *file);
                    let bytes = picture_of(from, manuscript, &name, file_system, findings);
                    let Some(bytes) = bytes else { continue };
                    let own = format!("picture-{}.{}", pictures.len(), ending_of(&name));
                    names.insert((at, name), own.clone());
                    pictures.push((own, bytes));
                }
                files.push((name_of(file), blocks));
            }
            let mut house = HousePart::of(&book.house.settings);
            if assets.logo.is_none() {
                house.logo = None;
            }
            let extra = book.extra.borrow();
            let formulas = book.known.iter().map(|it| (title(it.formula), it.document.as_ref()));
            let of_their_own = extra.iter().map(|it| (it.title.clone(), Some(it)));
            let formulas: Vec<_> = formulas.chain(of_their_own).collect();
            let stem = first.path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            let is_one = manuscripts.len() == 1;
            let stem = if is_one { stem } else { "book".to_owned() };
            let title = house.title.clone().filter(|_| !is_one).unwrap_or_else(|| stem.clone());
            let placed = book.placed.borrow();
            let (words, pictures_known) = (book.words, &names);
            let json = woven::json(&WovenBook {
                house,
                words,
                title: &title,
                files: &files,
                placed: &placed,
                formulas: &formulas,
                pictures: pictures_known,
            });
            let formulas = || book.known.iter().map(|it| it.formula);
            let typed = manuscripts.iter().flat_map(|(_, it)| typed_pages(it, formulas()));
            let typed = typed.collect();
            Some(PaperBook { json, title, stem, pictures, assets, typed })
        },
    )
}

/// A text and its pictures, each of them below the text's own folder: what lies in another folder
/// of the bakehouse is named anew.
fn below(
    mut text: String,
    mut pictures: Vec<(String, Vec<u8>)>,
) -> (String, Vec<(String, Vec<u8>)>) {
    let known: Vec<String> = pictures.iter().map(|(name, _)| name.clone()).collect();
    for (name, _) in &mut pictures {
        let mut own = name.as_str();
        while let Some(rest) = own.strip_prefix("../").or_else(|| own.strip_prefix("./")) {
            own = rest;
        }
        if own != name && !known.iter().any(|it| it == own) {
            text = text.replace(name.as_str(), own);
            *name = own.to_owned();
        }
    }
    pictures.retain(|(name, _)| !name.starts_with("../"));
    (text, pictures)
}

/// The bytes of a picture of a manuscript, which may lie anywhere in its bakehouse; what stands
/// against it is told where the manuscript names it.
fn picture_of(
    (bakehouse, file): (&Bakehouse, &LoadedFile),
    manuscript: &Manuscript,
    name: &str,
    file_system: &dyn FileSystem,
    findings: &mut Vec<Finding>,
) -> Option<Vec<u8>> {
    let folder = file.path.parent().unwrap_or(Path::new(""));
    let at = manuscript.text.find(name).unwrap_or_default();
    let span = manuscript.span(at..at + name.len());
    let ending = ending_of(name);
    let root = bakehouse.root.as_deref().unwrap_or(folder);
    let bytes = match assets::read(file_system, root, &folder.join(name), MAX_BYTES) {
        Ok(bytes) => bytes,
        Err(why) => {
            findings.push(unreadable::named(span, name, &why));
            return None;
        }
    };
    let fits = photograph(&ending, &bytes).and_then(|()| match is_picture(&ending, &bytes) {
        true => Ok(()),
        false => Err(Unfit::NotThat),
    });
    match fits {
        Ok(()) => Some(bytes),
        Err(unfit) => {
            findings.push(unknown_picture::of_a_book(span, name, &unfit));
            None
        }
    }
}

/// The ending of a file's name, in small letters.
fn ending_of(name: &str) -> String {
    name.rsplit('.').next().unwrap_or_default().to_lowercase()
}

type ReadChapter<'a, 'l> = (&'l LoadedFile, Manuscript<'a, 'l>);

/// Gathers what the manuscripts of a bakehouse may show, and lets something be made of it.
fn with_book<'l, T>(
    loaded: &'l Loaded,
    bakehouse: &'l Bakehouse<'l>,
    file_system: &dyn FileSystem,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
    make: impl FnOnce(&Book, PrintAssets, &[ReadChapter<'_, 'l>], &mut Vec<Finding>) -> T,
) -> T {
    let (assets, words) = assets::assets(file_system, bakehouse, weaving.language, findings);
    let words = &words;
    let house = bakehouse.house.told_in(None, weaving.units);
    let rules: Vec<&'static Rule> = super::rules().collect();
    let formulas: Vec<&Formula> =
        bakehouse.files.iter().flat_map(|file| &file.tree.formulas).collect();
    let letters =
        |source: SourceId, name: &str| drawings::letters_in(bakehouse, file_system, source, name);
    let headings = headings(loaded, bakehouse);
    let files = bakehouse.files.iter().filter(|file| is_manuscript(&file.path));
    let files = files.filter(|file| file.is_asked_for() && !file.is_beside()).copied();
    let manuscript = |file: &'l LoadedFile| {
        let text = loaded.sources.get(file.source)?.text.as_ref();
        let (source, house, formulas, rules) = (file.source, &bakehouse.house, &formulas, &rules);
        Some((file, Manuscript { source, text, house, formulas, rules, letters: &letters }))
    };
    let manuscripts: Vec<_> = files.filter_map(manuscript).collect();
    // What the words of the book say falsely of a formula would be read beside its table.
    let mut of_words = Vec::new();
    for (file, manuscript) in &manuscripts {
        // A block that can't be read stands in the book as it is written.
        if !weaving.is_compared {
            findings.extend(file.findings.iter().filter(|it| is_error(it)).cloned());
        }
        let mut told = Vec::new();
        proof::read(manuscript, &mut told);
        // What is only doubtful is woven all the same, and told as `check` tells it.
        // Where brackets and comments lead is told when they are filled in.
        let is_filled_in = |it: &Finding| {
            [&unknown_reference::RULE, &placeholder_empty::RULE, &UNKNOWN_FIGURE]
                .iter()
                .any(|rule| rule.name == it.rule.name)
        };
        let is_warned =
            |it: &&Finding| it.level == Level::Warning && it.allowed.is_none() && !is_filled_in(it);
        if !weaving.is_compared {
            findings.extend(told.iter().filter(is_warned).cloned());
        }
        of_words.extend(told.into_iter().filter(is_error).filter(|it| it.formula.is_some()));
    }
    let known: Vec<BookFormula> = formulas
        .iter()
        .copied()
        .map(|formula| {
            let known = known(&house, formula, &headings, words, &rules, &of_words, findings);
            match weaving.is_compared {
                true => known.though_refuted(&house, words),
                false => known,
            }
        })
        .collect();
    findings.append(&mut of_words);
    diag::once(findings);
    let placed = RefCell::default();
    let sources = &loaded.sources;
    let texts = manuscripts.iter().map(|(_, manuscript)| manuscript.text);
    let own = known.iter().filter(|it| it.heading.is_some()).map(|it| &it.worked);
    let occurring = occurring(&house, texts, own);
    let extra = RefCell::default();
    let house = &house;
    let book =
        Book { bakehouse, house, words, sources, weaving, known: &known, placed, occurring, extra };
    make(&book, assets, &manuscripts, findings)
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
            PassageKind::Heading(_, words) => Some((part.start, words.text)),
            _ => None,
        });
        let name = file.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        all.insert(file.source, (name, own.collect()));
    }
    all
}

fn known<'l>(
    house: &'l House<'l>,
    formula: &'l Formula,
    headings: &Headings,
    words: &Wording,
    rules: &[&'static Rule],
    of_words: &[Finding],
    findings: &mut Vec<Finding>,
) -> BookFormula<'l> {
    let mut own = Vec::new();
    let worked = check_formula(house, formula, &mut own);
    check::apply_allowed(formula, &mut own, rules);
    let is_wrong_in_words =
        of_words.iter().any(|it| it.formula.as_ref() == Some(&formula.name.key));
    let is_sound = worked.sound
        && worked.readable
        && !formula.broken
        && !own.iter().any(is_error)
        && !is_wrong_in_words;
    findings.extend(own.into_iter().filter(is_error));
    let printed = || document(house, &worked, words, house.settings.volumes);
    let document = is_sound.then(printed);
    let heading = headings.get(&formula.span.source).and_then(|(name, all)| {
        let above = all.iter().rfind(|(start, _)| *start < formula.span.start as usize)?;
        Some((above.1.clone(), name.clone()))
    });
    BookFormula { formula, worked, document, heading }
}

impl<'l> BookFormula<'l> {
    /// With what its figures are though something that it says of them, or that is said of it,
    /// is wrong.
    fn though_refuted(self, house: &'l House<'l>, words: &Wording) -> Self {
        let is_told = self.worked.sound && self.worked.readable && !self.formula.broken;
        let printed = || document(house, &self.worked, words, house.settings.volumes);
        let document = is_told.then(printed);
        Self { document, ..self }
    }
}

struct Book<'b, 'l> {
    /// Whose book it is.
    bakehouse: &'b Bakehouse<'l>,
    /// The house, with the units that were asked for.
    house: &'b House<'l>,
    words: &'b Wording,
    /// The texts of all files.
    sources: &'b Sources,
    weaving: &'b Weaving<'b>,
    known: &'b [BookFormula<'l>],
    /// What stands in the places of a book on paper.
    placed: RefCell<Vec<Placed>>,
    /// What occurs in the book.
    occurring: Occurring,
    /// Formulas for yields of their own, numbered after the known ones.
    extra: RefCell<Vec<Document>>,
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
                PassageKind::Fence(range, info) => {
                    edits.push((range.clone(), self.block(manuscript, range, info)));
                }
                PassageKind::Comment(range) => {
                    let mut unheard = Vec::new();
                    let said = instructions(manuscript.source, text, range.clone(), &mut unheard);
                    if unheard.is_empty() {
                        let whole = whole_comment(text, range);
                        let before = text_before(text, whole.start);
                        let placed = self.placed(manuscript, range, &said, findings);
                        let mut placed = inside(before, &placed);
                        // What stands in its place is a block of its own.
                        let after = text[whole.end..].split('\n').next().unwrap_or_default();
                        if !placed.is_empty() && before.contains(char::is_alphanumeric) {
                            placed.insert_str(0, "\n\n");
                        }
                        if !placed.is_empty() && !after.trim().is_empty() {
                            placed.push_str("\n\n");
                        }
                        edits.push((whole, placed));
                    }
                    findings.extend(unheard);
                }
                PassageKind::Heading(_, words) | PassageKind::Words(words) => {
                    self.brackets(manuscript, &ties, &words.brackets, &mut edits, findings);
                }
                PassageKind::Table(table) => {
                    for cell in table.rows.iter().flatten() {
                        self.brackets(manuscript, &ties, &cell.brackets, &mut edits, findings);
                    }
                }
                PassageKind::NearComment(_) | PassageKind::Aside(_) | PassageKind::Quoted(_) => {}
            }
        }
        spliced(text, edits)
    }

    /// What stands for a block: that of its first formula, or nothing.
    fn block(&self, manuscript: &Manuscript, range: &Range<usize>, info: &str) -> String {
        let own = manuscript.text.get(range.clone()).unwrap_or_default();
        let said = info.split_whitespace().skip(1).find_map(shown_as);
        let shown = match self.weaving.is_compared {
            true => BlockForm::Source,
            false => said.unwrap_or(self.weaving.blocks),
        };
        let is_here = |(_, known): &(usize, &BookFormula)| {
            known.formula.span.source == manuscript.source
                && range.contains(&(known.formula.span.start as usize))
        };
        let is_paper = self.weaving.form == BookForm::Paper;
        let here: Vec<(usize, &BookFormula)> =
            self.known.iter().enumerate().filter(is_here).collect();
        if shown == BlockForm::Source || here.iter().any(|(_, known)| known.document.is_none()) {
            return own.to_owned();
        }
        let told = here.iter().filter_map(|(at, known)| Some((at, known.document.as_ref()?)));
        let told = told.map(|(at, document)| {
            let told = match shown {
                BlockForm::Card if self.weaving.form != BookForm::Markdown => mark("card", *at),
                BlockForm::Card => woven::card(document),
                BlockForm::Table => woven::table(document),
                BlockForm::Figures => woven::figures(document),
                BlockForm::Source | BlockForm::Nothing => String::new(),
            };
            match self.weaving.form {
                BookForm::Paper => format!("{}\n\n{told}", mark("at", *at)),
                _ => told,
            }
        });
        let told = told.collect::<Vec<_>>().join(if is_paper { "\n\n" } else { "\n" });
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
        pictures: &[(String, Vec<u8>)],
    ) -> String {
        let first = blocks.iter().find_map(|block| match block {
            Block::Heading(1, words) => Some(plain(words)),
            _ => None,
        });
        let stem = || file.path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let extra = self.extra.borrow();
        html::woven_page(&WovenPage {
            title: &first.unwrap_or_else(stem),
            language: &self.words.tag,
            colour: HousePart::of(&self.house.settings).colour.as_deref(),
            contents: &self.words.say("print-contents"),
            blocks,
            card: &|at| match self.known.get(at) {
                Some(known) => known.document.as_ref(),
                None => extra.get(at - self.known.len()),
            },
            picture: &|name| {
                let known = pictures.iter().find(|(known, _)| known == name);
                known.map(|(_, bytes)| bytes.as_slice())
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
                Bracket::Is(shown) => edits.push((range.clone(), woven::cell(&shown))),
                Bracket::Link(link) => edits.push((range.clone(), link)),
                Bracket::IsNot(why) => {
                    let message = format!("`{inside}` can't be told: {why}");
                    findings.push(
                        Finding::new(&UNKNOWN_FIGURE, manuscript.span(range.clone()), message)
                            .help("it stays as it is written"),
                    );
                }
                Bracket::Leads(why) => {
                    let span = manuscript.span(range.clone());
                    findings.push(unknown_reference::not_there(span, inside, &why));
                }
                Bracket::LeadsNowhere(name) => {
                    let known = manuscript.formulas.iter().map(|it| it.name.shown.as_str());
                    let span = manuscript.span(range.clone());
                    findings.push(unknown_reference::no_formula(span, &name, known));
                }
                Bracket::Nothing => {}
            }
        }
    }

    /// What a bracket asks for: of the formula that it names, or of its section's one.
    fn bracket(&self, inside: &str, ties: &Ties, place: usize) -> Bracket {
        if let Some((word, name)) = unknown_reference::leads_to(inside) {
            let known = ties.formula(name).and_then(|at| Some((at, self.known.get(at)?)));
            return match known {
                Some((at, known)) => self.told_of_book(word, at, known),
                None => Bracket::LeadsNowhere(name.to_owned()),
            };
        }
        let house = self.house;
        let Some(ask) = read_bracket(inside) else { return Bracket::Nothing };
        let named = ask.elsewhere(|key| house.formula(key).is_some());
        let own = || match ties.formulas(place).as_slice() {
            [one] => self.known.get(*one),
            _ => None,
        };
        let known = match named {
            Some(named) => self.known.iter().find(|it| it.formula.name.key == named.formula.key),
            None => own(),
        };
        let Some(known) = known else { return Bracket::Nothing };
        let wrong = |why: &str| match named {
            Some(_) => Bracket::IsNot(why.to_owned()),
            None => Bracket::Nothing,
        };
        if known.document.is_none() {
            return wrong("there is an error in the formula");
        }
        match woven::figure(house, &known.worked, self.words, &ask) {
            Some(shown) => Bracket::Is(shown),
            None => wrong("the formula has nothing of that name"),
        }
    }

    /// What the placeholders of a comment stand for; nothing where it only steers.
    fn placed(
        &self,
        manuscript: &Manuscript,
        comment: &Range<usize>,
        said: &[Instruction],
        findings: &mut Vec<Finding>,
    ) -> String {
        let mut all = Vec::new();
        for instruction in said {
            let Instruction::Place(placeholder) = instruction else { continue };
            if let Placeholder::Part(statement) = placeholder {
                all.extend(self.parts(manuscript, statement, findings));
                continue;
            }
            if let Some((written, lacks)) = self.shop().lacks(placeholder) {
                let span = manuscript.span(comment.clone());
                findings.push(placeholder_empty::finding(span, written, lacks));
            }
            all.push(self.place(placeholder));
        }
        let all: Vec<String> = all.into_iter().map(|it| it.trim_end().to_owned()).collect();
        all.join("\n\n")
    }

    /// What a statement of a booklet stands for.
    fn parts(
        &self,
        manuscript: &Manuscript,
        statement: &Range<usize>,
        findings: &mut Vec<Finding>,
    ) -> Vec<String> {
        let is_paper = self.weaving.form == BookForm::Paper;
        let shop = self.shop();
        let shown = shop.shown(manuscript.source, manuscript.text, statement.clone(), findings);
        let told = |part| match part {
            Part::Words(words) => words,
            Part::Page if is_paper => self.mark_placed(Placed::Page),
            Part::Page => String::new(),
            Part::Card(document) if self.weaving.form == BookForm::Markdown => {
                woven::card(&document)
            }
            Part::Card(document) => {
                let mut extra = self.extra.borrow_mut();
                extra.push(*document);
                mark("card", self.known.len() + extra.len() - 1)
            }
        };
        shown.into_iter().map(told).collect()
    }

    fn shop(&self) -> Shop<'_, '_> {
        let own = self.known.iter().filter(|it| it.heading.is_some() && it.document.is_some());
        let paper = self.house.settings.paper.as_ref().map(|it| it.value.to_lowercase());
        let is_wide = paper.is_some_and(|it| it == "a4" || it == "letter");
        Shop {
            house: self.house,
            words: self.words,
            formulas: own.map(|it| it.formula).collect(),
            occurring: &self.occurring,
            narrow: self.weaving.form == BookForm::Paper && !is_wide,
            units: self.weaving.units,
            past: self.weaving.past.map(|past| (self.bakehouse, past)),
        }
    }

    fn mark_placed(&self, placed: Placed) -> String {
        let mut all = self.placed.borrow_mut();
        all.push(placed);
        mark("placed", all.len() - 1)
    }

    fn place(&self, placeholder: &Placeholder) -> String {
        let placed = match placeholder {
            Placeholder::Title(title, by) => Placed::Title(title.clone(), by.clone()),
            Placeholder::Contents => Placed::Contents,
            Placeholder::ByIngredient => Placed::Index(woven::by_ingredient(self.of_book())),
            Placeholder::ByStyle => Placed::Index(woven::by_style(self.of_book())),
            Placeholder::ByTime => Placed::Index(woven::by_time(self.of_book())),
            Placeholder::Claims => Placed::Claims(self.claims()),
            Placeholder::Part(_) => return String::new(),
        };
        match self.weaving.form {
            BookForm::Paper => self.mark_placed(placed),
            BookForm::Markdown | BookForm::Page => self.in_markdown(&placed),
        }
    }

    /// The formulas that stand in a manuscript and have no error, by their numbers.
    fn of_book(&self) -> impl Iterator<Item = (usize, &Document)> {
        let all = self.known.iter().enumerate().filter(|(_, known)| known.heading.is_some());
        all.filter_map(|(at, known)| Some((at, known.document.as_ref()?)))
    }

    fn in_markdown(&self, placed: &Placed) -> String {
        let link = |at: &usize| self.known.get(*at).map(link).unwrap_or_default();
        match placed {
            Placed::Title(title, Some(by)) => {
                format!("# {}\n\n{}", woven::cell(title), woven::cell(by))
            }
            Placed::Title(title, None) => format!("# {}", woven::cell(title)),
            Placed::Page => String::new(),
            Placed::Contents => {
                let own = self.known.iter().filter(|known| known.heading.is_some());
                own.map(|known| format!("- {}\n", self::link(known))).collect()
            }
            Placed::Index(entries) => {
                let line = |(word, of): &(String, Vec<usize>)| {
                    let of: Vec<String> = of.iter().map(link).collect();
                    format!("- {}: {}\n", woven::cell(word), of.join(", "))
                };
                entries.iter().map(line).collect()
            }
            Placed::Claims(claims) => {
                let line = |(at, words): &(usize, String)| {
                    format!("- {}: {}\n", link(at), woven::cell(words))
                };
                claims.iter().map(line).collect()
            }
        }
    }

    /// What each formula claims, and what proves it.
    fn claims(&self) -> Vec<(usize, String)> {
        let proved = self.words.say("woven-proved");
        let mut all = Vec::new();
        for (at, _) in self.of_book() {
            let Some(known) = self.known.get(at) else { continue };
            for claim in &known.formula.expect {
                let value = self.proof(known, claim);
                let value = value.map_or(String::new(), |value| format!("{value}, "));
                let free = match &claim.value {
                    ClaimValue::FreeFrom(name) if !is_way_of_eating(&name.key) => "free from ",
                    _ => "",
                };
                all.push((at, format!("{free}{}: {value}{proved}", self.written(claim.span))));
            }
        }
        all
    }

    /// What the formula comes to in what it claims, where that is an amount: in per cent where
    /// the claim is, and of what the claim says.
    fn proof(&self, known: &BookFormula, claim: &Claim) -> Option<String> {
        let ClaimValue::Amount { range, base, .. } = &claim.value else { return None };
        let mut what = claim.what.name.shown.to_string();
        if base.is_some() {
            let (_, of) = self
                .written(claim.span)
                .rsplit_once(" of ")
                .map(|(it, of)| (it.to_owned(), of.to_owned()))?;
            what = format!("{what} of {of}");
        }
        let place = claim.place.as_ref().map(|place| format!(" in {}", place.shown));
        let in_percent = range.low.as_ref().or(range.high.as_ref())?.unit == Unit::Percent;
        let signs: &[&str] = if in_percent { &["", " %"] } else { &[""] };
        signs.iter().find_map(|sign| {
            let ask =
                read_bracket(&format!("{what}{}{sign}", place.as_deref().unwrap_or_default()))?;
            let told = woven::figure(self.house, &known.worked, self.words, &ask)?;
            (told.contains('%') == in_percent).then_some(told)
        })
    }

    /// The author's words at a place, between single blanks.
    fn written(&self, span: Span) -> String {
        let text = self.sources.get(span.source).map_or("", |source| source.text.as_ref());
        let words = text.get(span.start as usize..span.end as usize).unwrap_or_default();
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// What only the whole book can tell of a formula.
    fn told_of_book(&self, word: &str, at: usize, known: &BookFormula) -> Bracket {
        match (word, &known.heading) {
            ("title", _) => Bracket::Is(title(known.formula)),
            (_, None) => Bracket::Leads("its formula stands under no heading".to_owned()),
            ("chapter", Some((heading, _))) => Bracket::Is(heading.clone()),
            _ if self.weaving.form == BookForm::Paper => Bracket::Link(mark_in_words("page", at)),
            _ => Bracket::Link(link(known)),
        }
    }
}

enum Bracket {
    Is(String),
    /// A link, or a mark of ours.
    Link(String),
    /// Why it can't be told.
    IsNot(String),
    /// It leads to what is not there, and why.
    Leads(String),
    /// It leads to a formula of this name, which there is not.
    LeadsNowhere(String),
    /// It is the author's own.
    Nothing,
}

/// Whether a claim stands alone and needs no `free from`.
fn is_way_of_eating(key: &str) -> bool {
    matches!(key, "vegan" | "vegetarian")
}

fn shown_as(word: &str) -> Option<BlockForm> {
    Some(match word {
        "table" => BlockForm::Table,
        "card" => BlockForm::Card,
        "figures" => BlockForm::Figures,
        "source" => BlockForm::Source,
        "nothing" => BlockForm::Nothing,
        _ => return None,
    })
}

/// A formula's title, as a link to the heading above it.
fn link(known: &BookFormula) -> String {
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
    fn of_runs(runs: &[TextRun], all: &mut Vec<String>) {
        for run in runs {
            match run {
                TextRun::Picture(file, _) => all.push(file.clone()),
                TextRun::Emphasis(inner)
                | TextRun::Strong(inner)
                | TextRun::Struck(inner)
                | TextRun::Link(_, inner) => of_runs(inner, all),
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
        let ends_line = text[range.end..].starts_with('\n') || text[range.clone()].ends_with('\n');
        written.push_str(if ends_line { words.trim_end_matches('\n') } else { &words });
        if text[range.clone()].ends_with('\n') {
            written.push('\n');
        }
        from = range.end;
    }
    written.push_str(&text[from..]);
    written
}
