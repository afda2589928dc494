//! What every part of a booklet is made with: the house, the words, the yields, the texts.

use super::document::BookletPart;
use super::marks;
use super::slips::PlantedSlip;
use super::task::Task;
use crate::diag::Finding;
use crate::formula::{House, Worked, unknown_formula, work, work_as};
use crate::print::context::PrintContext;
use crate::print::document::Document;
use crate::print::findings as say;
use crate::print::wording::Wording;
use crate::print::{build, live};
use crate::source::Span;
use crate::syntax::booklet::{Audience, Booklet, BookletItem, FormulaYield, PartKind};
use crate::syntax::key_of;
use crate::syntax::tree::{Elsewhere, Factor, Makes, Name, Quantity, Text, TextPart};
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;
use std::ops::Deref;
use std::rc::Rc;

/// Whose copy of a booklet it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Copy {
    /// There is one for all.
    All,
    /// The learner's.
    Learner,
    /// The teacher's.
    Teacher,
}

impl Copy {
    /// The copies that a booklet has.
    pub fn of(booklet: &Booklet) -> Vec<Self> {
        let has = |reader| booklet.parts.iter().any(|part| part.reader == reader);
        match has(Audience::Teacher) || has(Audience::Learner) {
            true => vec![Self::Learner, Self::Teacher],
            false => vec![Self::All],
        }
    }

    /// Whether a part is in it.
    pub fn holds(self, part: &BookletItem) -> bool {
        match part.reader {
            Audience::All => true,
            Audience::Teacher => self == Self::Teacher,
            Audience::Learner => self == Self::Learner,
        }
    }
}

/// Words of the trade and what they mean: the name in our language, in that of the booklet,
/// and a sentence.
pub type Terms = Vec<(String, String, String)>;

/// What a formula was at a revision, with what `check` said of it; or why that is not known.
pub type Past<'p> = dyn Fn(&str, &FormulaYield) -> Result<(Document, Vec<Finding>), String> + 'p;

/// Makes the parts of one booklet.
pub struct Maker<'a> {
    /// The house, with the booklet's own language and units.
    pub house: &'a House<'a>,
    /// In the language of the booklet.
    pub words: &'a Wording,
    /// What is made.
    pub booklet: &'a Booklet,
    /// Volumes stand beside weights.
    pub volumes: bool,
    /// What `glossary` knows of the trade.
    pub terms: &'a Terms,
    /// What formulas were at a revision; none where nobody asks, as `check` does.
    pub past: Option<&'a Past<'a>>,
    /// What a manuscript has of what its tables are of; none for a booklet.
    pub occurring: Option<&'a Occurring>,
    /// What was found wrong on the way.
    pub findings: RefCell<Vec<Finding>>,
    /// What was worked out already: exercises of many seats ask for the same yields.
    known: RefCell<Vec<Known<'a>>>,
    /// Slips of formulas that `check` finds, by the formula.
    pub(super) slips: RefCell<Vec<(Name, Rc<Vec<PlantedSlip>>)>>,
    /// Exercises that were drawn already, by the place of their worksheet and the seat.
    pub(super) drawn: RefCell<BTreeMap<(usize, u32), Drawn>>,
}

/// The exercises of one seat, each with its place in the worksheet.
pub type Drawn = Rc<Vec<(usize, Task)>>;

/// A formula, what of it is made where that is not its own yield, and what came out.
type Known<'a> = (Name, Option<Makes>, Rc<Made<'a>>);

/// A formula worked out for a yield, and its document once that is asked for.
pub struct Made<'a> {
    worked: Worked<'a>,
    document: OnceCell<Document>,
}

impl Made<'_> {
    /// What prints say of it.
    pub fn document(&self, maker: &Maker) -> &Document {
        self.document.get_or_init(|| maker.document_of(&self.worked))
    }
}

impl<'a> Deref for Made<'a> {
    type Target = Worked<'a>;

    fn deref(&self) -> &Worked<'a> {
        &self.worked
    }
}

/// What occurs in a manuscript, for reckoners that say no range.
#[derive(Clone, Debug, Default)]
pub struct Occurring {
    /// From cold to hot, each once.
    pub temperatures: Vec<Quantity>,
    /// From light to heavy, each once.
    pub weights: Vec<Quantity>,
    /// Ingredients whose volume is known, by their keys.
    pub measured: Vec<String>,
}

impl<'a> Maker<'a> {
    /// Makes the parts of a booklet in the words of a language.
    pub fn new(
        house: &'a House<'a>,
        words: &'a Wording,
        booklet: &'a Booklet,
        terms: &'a Terms,
    ) -> Self {
        Self {
            house,
            words,
            booklet,
            volumes: false,
            terms,
            past: None,
            occurring: None,
            findings: RefCell::default(),
            known: RefCell::default(),
            slips: RefCell::default(),
            drawn: RefCell::default(),
        }
    }

    /// The document of a formula worked out.
    pub fn document_of(&self, worked: &Worked) -> Document {
        build::document(self.house, worked, self.words, self.volumes)
    }

    /// Whether a document's ounces are decimals.
    fn is_in_decimals(&self, document: &Document) -> bool {
        let mark = self.words.decimal_mark();
        let lines = document.mixes.iter().flat_map(|mix| &mix.lines);
        lines.filter_map(|line| line.weight.as_ref()).any(|weight| {
            let beside = weight.beside.iter().map(|it| (&it.shown, &it.unit));
            let mut both = beside.chain([(&weight.shown, &weight.unit)]);
            both.any(|(shown, unit)| unit == "oz" && shown.contains(&mark))
        })
    }

    /// Documents that stand side by side in a table: with one notation of ounces.
    pub fn side_by_side(&self, all: &[Rc<Made<'a>>]) -> Vec<Document> {
        let own: Vec<&Document> = all.iter().map(|it| it.document(self)).collect();
        let units = &self.house.settings.units;
        let has_ounces = units.both || self.is_us();
        let is_mixed = has_ounces && own.iter().any(|it| self.is_in_decimals(it));
        let as_decimals = |made: &Made| match is_mixed && !self.is_in_decimals(made.document(self))
        {
            true => build::document_in_decimals(self.house, made, self.words, self.volumes),
            false => made.document(self).clone(),
        };
        all.iter().map(|it| as_decimals(it)).collect()
    }

    /// A formula worked out for a yield; what is wrong with either is told.
    pub fn worked(&self, of: &FormulaYield) -> Option<Rc<Made<'a>>> {
        let makes = match of.everyone {
            true => Some(self.of_everyone(of.span)?),
            false => of.makes.clone(),
        };
        self.worked_as(&of.formula, makes.as_ref())
    }

    /// A formula worked out for a yield, or for what it makes; each once.
    pub fn worked_as(&self, name: &Name, makes: Option<&Makes>) -> Option<Rc<Made<'a>>> {
        let is_it = |(known, of, _): &&(Name, Option<Makes>, Rc<Made>)| {
            known.key == name.key && of.as_ref() == makes
        };
        if let Some((.., made)) = self.known.borrow().iter().find(is_it) {
            return Some(Rc::clone(made));
        }
        let worked = self.work(name, makes)?;
        let made = Rc::new(Made { worked, document: OnceCell::new() });
        self.known.borrow_mut().push((name.clone(), makes.cloned(), Rc::clone(&made)));
        Some(made)
    }

    fn work(&self, name: &Name, makes: Option<&Makes>) -> Option<Worked<'a>> {
        let Some(formula) = self.house.formula(&name.key) else {
            let near = self.house.near_formula(&name.key);
            self.say(unknown_formula(name, near));
            return None;
        };
        // What is wrong with a formula is told where it stands.
        if formula.broken {
            return None;
        }
        let Some(makes) = makes else {
            return Some(work(self.house, formula, &mut Vec::new())).filter(|own| own.sound);
        };
        self.worked_as(name, None)?;
        let mut told = Vec::new();
        let worked = work_as(self.house, formula, makes, &mut told);
        let is_of_yield = |it: &Finding| {
            let place = it.span();
            place.source == makes.span.source
                && makes.span.start <= place.start
                && place.end <= makes.span.end
        };
        let of_yield: Vec<Finding> = told.into_iter().filter(is_of_yield).collect();
        let is_sound = of_yield.is_empty() && worked.sound;
        of_yield.into_iter().for_each(|it| self.say(it));
        is_sound.then_some(worked)
    }

    /// As much as all the people of the booklet make together.
    fn of_everyone(&self, span: Span) -> Option<Makes> {
        let Some((people, _)) = self.booklet.people else {
            self.say(say::yield_unclear::everyone(span));
            return None;
        };
        Some(Makes::times(Factor::Times(i64::from(people).into()), span))
    }

    /// Tells something once.
    pub fn say(&self, finding: Finding) {
        let mut findings = self.findings.borrow_mut();
        let is_same = |it: &Finding| {
            it.rule == finding.rule && it.span() == finding.span() && it.message == finding.message
        };
        if !findings.iter().any(is_same) {
            findings.push(finding);
        }
    }

    // ---- Texts ---------------------------------------------------------------------

    /// A text of the author as blocks, its figures worked out.
    pub fn text_part(&self, text: &Text) -> BookletPart {
        // What a bracket prints is no mark: it stands in the text under a sign of its own.
        let mut written = String::new();
        let mut figures = Vec::new();
        for part in &text.parts {
            match part {
                TextPart::Plain(words) => written.push_str(words),
                TextPart::Figure { .. } => {
                    figures.push(self.bracket(part));
                    written.push(FIGURE);
                }
            }
        }
        if let Some(mark) = marks::unread_mark(&written) {
            self.say(say::text_mark_unread::finding(text.span, &mark));
        }
        let mut blocks = marks::blocks(&written);
        let mut figures = figures.into_iter();
        let runs = blocks
            .iter_mut()
            .flat_map(|block| block.runs.iter_mut().chain(block.items.iter_mut().flatten()));
        for run in runs {
            while let Some(at) = run.text.find(FIGURE) {
                let figure = figures.next().unwrap_or_default();
                run.text.replace_range(at..at + FIGURE.len_utf8(), &figure);
            }
        }
        BookletPart::Text { blocks }
    }

    /// A text in one piece, its figures worked out.
    pub fn text(&self, text: &Text) -> String {
        let parts = text.parts.iter().map(|part| match part {
            TextPart::Plain(words) => words.to_string(),
            TextPart::Figure { .. } => self.bracket(part),
        });
        parts.collect()
    }

    /// What a bracket prints; itself where that is not known, which is told.
    fn bracket(&self, part: &TextPart) -> String {
        let TextPart::Figure { words, ask, span } = part else { return String::new() };
        let Some(ask) = ask else { return format!("[{words}]") };
        if let Some(day) = live::day_of(self.words, ask) {
            return day;
        }
        let is_formula = |key: &str| self.house.formula(key).is_some();
        let Some(elsewhere) = ask.elsewhere(is_formula) else {
            let named = words.rsplit_once(" of ").map(|(_, name)| name);
            let near = named.and_then(|name| self.house.near_formula(&key_of(name)));
            let all = self.booklet.formulas();
            let own = all.first().map_or("first-sour", |it| it.shown.as_str());
            let near = near.map(|it| it.to_string());
            self.say(say::yield_unclear::of_no_formula(*span, words, near.as_deref(), own));
            return format!("[{words}]");
        };
        let told = self.asked_of(elsewhere, words, *span).and_then(|worked| {
            let batches = worked.batches();
            let paper = PrintContext::new(self.house, &worked, self.words, batches, self.volumes);
            let told = live::told(&paper, ask, elsewhere);
            if told.is_none() {
                self.say(say::yield_unclear::no_figure(*span, words, &elsewhere.formula.shown));
            }
            told
        });
        told.unwrap_or_else(|| format!("[{words}]"))
    }

    /// The formula that a bracket asks for, for the yield that it says, or for the one that
    /// the booklet prints it for.
    fn asked_of(&self, elsewhere: &Elsewhere, words: &str, span: Span) -> Option<Rc<Made<'a>>> {
        let Elsewhere { formula, makes, everyone, .. } = elsewhere;
        if makes.is_some() || *everyone {
            let of = FormulaYield {
                formula: formula.clone(),
                makes: makes.clone(),
                everyone: *everyone,
                span,
            };
            return self.worked(&of);
        }
        let printed = self.printed_yields(&formula.key);
        let worked: Vec<Rc<Made>> =
            printed.iter().filter_map(|makes| self.worked_as(formula, makes.as_ref())).collect();
        let mut all = worked.into_iter();
        let Some(first) = all.next() else { return self.worked_as(formula, None) };
        let whole = |worked: &Worked| worked.first().whole.mass();
        if all.any(|other| whole(&other) != whole(&first)) {
            self.say(say::yield_unclear::several(span, words, &formula.shown));
        }
        Some(first)
    }

    /// The yields that a formula is printed for, that for everyone not counted.
    pub fn printed_yields(&self, key: &str) -> Vec<Option<Makes>> {
        let mut yields = Vec::new();
        for part in &self.booklet.parts {
            let of: Vec<&FormulaYield> = match &part.what {
                PartKind::Print(_, all) => all.iter().collect(),
                PartKind::Worksheet(sheet) => vec![&sheet.of],
                PartKind::Plan(asked) => vec![&asked.of],
                _ => continue,
            };
            let own = of.into_iter().filter(|of| of.formula.key == key && !of.everyone);
            yields.extend(own.map(|of| of.makes.clone()));
        }
        yields
    }
}

/// What the picture of a part is called beside the document.
pub fn picture_name(part: usize, file: &str) -> String {
    let ending = if file.to_lowercase().ends_with(".png") { "png" } else { "svg" };
    format!("picture-{part}.{ending}")
}

/// What stands for a figure while a text is read: a sign that nobody writes.
const FIGURE: char = '\u{e000}';
