//! Which formulas the words of a manuscript are about, and the reading of all of it.

use super::denied::{Denied, Scope, Stands, answered};
use super::instructions::{self, Instruction, Placeholder};
use super::manuscript::{Heard, Manuscript, NumberRead};
use super::names::FormulaNames;
use super::numbers::{self, PassageWords};
use super::table_disagrees::{self, Cell, IngredientTable as Rows};
use super::{
    number_in_prose, pairs, table_refuted, table_stale, unknown_instruction as say,
    unknown_reference,
};
use crate::bring::placed;
use crate::check::facts::Facts;
use crate::check::speech::{self, Sentence};
use crate::check::{Context, allow_idle, asked_in_a_manuscript, is_of_texts};
use crate::diag::{Finding, Level, nearest};
use crate::formula::class::Class;
use crate::formula::{Figure, Worked, key, tell, title, work};
use crate::source::{SourceId, Span};
use crate::syntax::prose::{Passage, PassageKind, ProsePart, ProseTable, drawings, parts};
use crate::syntax::read_bracket;
use crate::syntax::tree::{Elsewhere, FigureAsk};
use rayon::prelude::*;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::cell::OnceCell;
use std::ops::Range;
use std::rc::Rc;

/// How many words tell the language of a section.
const SAMPLE: usize = 400;

/// A heading with what stands under it.
struct Section {
    /// 0 for what comes before every heading.
    level: u8,
    parent: Option<usize>,
    /// Its first byte, and the byte after its last.
    range: Range<usize>,
    /// The words of its heading, as names are compared.
    heading: String,
    /// The formulas it is about by its blocks or its heading.
    own: Vec<usize>,
    is_variation: bool,
    /// What comments say that it is about, each from the byte where that is said.
    about: Vec<(usize, Vec<usize>)>,
}

/// What is allowed in the block of a number.
struct Allow {
    finding: String,
    reason: String,
    span: Span,
    block: Option<usize>,
    used: bool,
}

/// What each formula of a manuscript says in numbers, worked out when it is first asked for;
/// nothing where there is an error in it.
macro_rules! facts {
    ($facts:ident, $manuscript:expr) => {
        let count = $manuscript.formulas.len();
        let worked: Vec<OnceCell<Option<Worked>>> = (0..count).map(|_| OnceCell::new()).collect();
        let contexts: Vec<OnceCell<Option<Context>>> =
            (0..count).map(|_| OnceCell::new()).collect();
        let facts: Vec<OnceCell<Option<Facts>>> = (0..count).map(|_| OnceCell::new()).collect();
        let $facts = |at: usize| {
            let formula = *$manuscript.formulas.get(at)?;
            let worked = worked.get(at)?.get_or_init(|| {
                let worked = work($manuscript.house, formula, &mut Vec::new());
                (worked.sound && worked.readable).then_some(worked)
            });
            let worked = worked.as_ref()?;
            let context = contexts
                .get(at)?
                .get_or_init(|| Some(Context::new($manuscript.house, worked, &mut Vec::new())));
            facts.get(at)?.get_or_init(|| context.as_ref().map(Facts::of)).as_ref()
        };
    };
}

/// Reads a manuscript; adds what is wrong in it to `findings`.
///
/// Whole sections are read side by side; what steers the reading from one place to the next is
/// gone through afterwards, in order.
pub fn read(manuscript: &Manuscript, findings: &mut Vec<Finding>) -> Heard {
    let parts = parts(manuscript.text);
    let names = FormulaNames::of(manuscript);
    let mut sections = sections(manuscript, &parts, &names);
    note_abouts(manuscript, &parts, &names, &mut sections);
    let heard: Vec<Spoken> = chunks(&parts, &sections)
        .into_par_iter()
        .flat_map_iter(|chunk| hear(manuscript, &names, &sections, &parts, chunk))
        .collect();
    facts!(facts_of, manuscript);
    let mut reader = SectionReader {
        manuscript,
        sections,
        names,
        facts: &facts_of,
        allows: Vec::new(),
        claim: None,
        denied: Denied::default(),
        house: (0..manuscript.formulas.len()).collect(),
        last_below: None,
        findings: Vec::new(),
        read: Heard::default(),
    };
    reader.run(&parts, heard);
    findings.append(&mut reader.findings);
    reader.read
}

/// What one part of a manuscript says in numbers, whether it is to be read or not.
#[derive(Default)]
struct Spoken {
    numbers: Vec<NumberRead>,
    slips: Vec<Finding>,
    pairs: Vec<Finding>,
    /// The code of the language of its section.
    language: &'static str,
}

/// Runs of parts to be read side by side, each of whole sections.
fn chunks(parts: &[ProsePart], sections: &[Section]) -> Vec<Range<usize>> {
    /// So many parts are worth a run of their own.
    const LEAST: usize = 24;
    let mut all = Vec::new();
    let mut from = 0;
    for at in 1..parts.len() {
        let begins =
            innermost(sections, parts[at].start) != innermost(sections, parts[at - 1].start);
        if begins && at - from >= LEAST {
            all.push(from..at);
            from = at;
        }
    }
    all.push(from..parts.len());
    all
}

/// Reads a run of parts.
fn hear(
    manuscript: &Manuscript,
    names: &FormulaNames,
    sections: &[Section],
    parts: &[ProsePart],
    chunk: Range<usize>,
) -> Vec<Spoken> {
    facts!(facts_of, manuscript);
    let mut ear =
        Ear { manuscript, names, sections, facts: &facts_of, languages: FxHashMap::default() };
    chunk.map(|at| ear.part(parts, at)).collect()
}

/// Reads a table of comma-separated values by itself.
pub fn read_table(source: SourceId, text: &str) -> Vec<Finding> {
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let cell = |(text, place): (String, Range<usize>)| Cell {
        text,
        span: Span::new(source, byte(place.start), byte(place.end)),
    };
    let rows = placed(text).into_iter();
    let rows: Vec<Vec<Cell>> = rows.map(|row| row.into_iter().map(cell).collect()).collect();
    let language = speech::spoken(&speech::tokens(text), None);
    Rows::read(&rows, language.code).map(|table| table.check()).unwrap_or_default()
}

/// The sections of a manuscript, each with the formulas of its blocks and its heading.
fn sections(manuscript: &Manuscript, parts: &[ProsePart], names: &FormulaNames) -> Vec<Section> {
    let end = manuscript.text.len();
    let mut all = vec![Section {
        level: 0,
        parent: None,
        range: 0..end,
        heading: String::new(),
        own: Vec::new(),
        is_variation: false,
        about: Vec::new(),
    }];
    let mut open = vec![0];
    for part in parts {
        let PassageKind::Heading(level, words) = &part.kind else { continue };
        while let Some(&last) = open.last()
            && all[last].level >= *level
        {
            all[last].range.end = part.start;
            open.pop();
        }
        let heading = key(words.text.trim()).to_string();
        let tokens = speech::tokens(&words.text);
        let language = speech::spoken(&tokens, None);
        let sentence = speech::unparted(&words.text, &tokens, language);
        let named = speech::read_named(&sentence, language);
        all.push(Section {
            level: *level,
            parent: open.last().copied(),
            range: part.start..end,
            own: names.formula(&heading).into_iter().collect(),
            heading,
            is_variation: named.has("another-way", &named.whole()),
            about: Vec::new(),
        });
        open.push(all.len() - 1);
    }
    for (at, formula) in manuscript.formulas.iter().enumerate() {
        if formula.span.source != manuscript.source {
            continue;
        }
        let place = formula.span.start as usize;
        let names = [formula.name.key.to_string(), key(&title(formula)).to_string()];
        let section = home(&all, place, &names);
        if let Some(section) = all.get_mut(section)
            && !section.own.contains(&at)
        {
            section.own.push(at);
        }
    }
    all
}

/// The section that a block belongs to: the innermost whose heading names the formula, else
/// the innermost there is.
fn home(all: &[Section], place: usize, names: &[String]) -> usize {
    let inner = innermost(all, place);
    let mut at = Some(inner);
    while let Some(section) = at.and_then(|at| all.get(at)) {
        let is_named = names.iter().any(|name| {
            !name.is_empty()
                && (section.heading == *name || section.heading.contains(name.as_str()))
        });
        if is_named {
            return at.unwrap_or(inner);
        }
        at = section.parent;
    }
    inner
}

fn innermost(all: &[Section], place: usize) -> usize {
    all.partition_point(|section| section.range.start <= place).saturating_sub(1)
}

struct SectionReader<'r, 'm, 't, 'c> {
    manuscript: &'r Manuscript<'m, 't>,
    sections: Vec<Section>,
    names: FormulaNames,
    facts: &'r dyn Fn(usize) -> Option<&'r Facts<'r, 'c, 't>>,
    allows: Vec<Allow>,
    /// What the next table is claimed to be all of: its words and their place.
    claim: Option<(String, Span)>,
    /// What is said of each formula.
    denied: Denied,
    /// Every formula of the house.
    house: Rc<[usize]>,
    /// The section that was last asked for what is below it, with that.
    last_below: Option<(usize, Rc<[usize]>)>,
    findings: Vec<Finding>,
    read: Heard,
}

impl SectionReader<'_, '_, '_, '_> {
    fn run(&mut self, parts: &[ProsePart], heard: Vec<Spoken>) {
        let mut is_on = true;
        let mut answered = answered(parts).into_iter().peekable();
        for (at, (part, heard)) in parts.iter().zip(heard).enumerate() {
            self.hold_allows(part);
            let answered = answered.next_if(|(of, _)| *of == at).map(|(_, joined)| joined);
            match &part.kind {
                PassageKind::Comment(range) => self.instruct(range.clone(), &mut is_on),
                PassageKind::Fence(..) => {}
                PassageKind::NearComment(range) => {
                    let span = self.manuscript.span(range.clone());
                    self.findings.push(say::without_colon(span));
                }
                // Nobody who is allergic knows what is turned off.
                _ if !is_on => {
                    let section = innermost(&self.sections, part.start);
                    self.keep(part, section, true);
                    if let Some(words) = answered {
                        let label = ProsePart { kind: PassageKind::Words(words), ..part.clone() };
                        self.keep(&label, section, true);
                    }
                }
                PassageKind::Quoted(_) => {
                    self.keep(part, innermost(&self.sections, part.start), true)
                }
                PassageKind::Heading(_, words) | PassageKind::Words(words) => {
                    let section = innermost(&self.sections, part.start);
                    self.keep(part, section, false);
                    if let Some(words) = answered {
                        let label = ProsePart { kind: PassageKind::Words(words), ..part.clone() };
                        self.keep(&label, section, false);
                    }
                    self.references(words, part);
                    self.read.numbers.extend(heard.numbers);
                    heard.slips.into_iter().for_each(|finding| self.tell(finding, part));
                    heard.pairs.into_iter().for_each(|finding| self.tell(finding, part));
                }
                PassageKind::Aside(_) => {
                    self.keep(part, innermost(&self.sections, part.start), false);
                }
                PassageKind::Table(table) => {
                    let section = innermost(&self.sections, part.start);
                    self.keep(part, section, false);
                    heard.pairs.into_iter().for_each(|finding| self.tell(finding, part));
                    table.rows.iter().flatten().for_each(|cell| self.references(cell, part));
                    self.table(table, part, heard.language);
                }
            }
        }
        if let Some((words, span)) = self.claim.take() {
            self.findings.push(say::unclear(span, &words, "a table after it"));
        }
        self.keep_letters(parts);
        self.judge_what_is_denied();
        let idle = self.allows.iter().filter(|allow| !allow.used);
        self.findings.extend(idle.map(|allow| allow_idle(allow.span, &allow.finding)));
    }

    /// What is allowed holds for the first paragraph, list or table that follows.
    fn hold_allows(&mut self, part: &ProsePart) {
        if matches!(part.kind, PassageKind::Words(_) | PassageKind::Table(_)) {
            let open = self.allows.iter_mut().filter(|allow| allow.block.is_none());
            open.for_each(|allow| allow.block = Some(part.block));
        }
    }

    fn instruct(&mut self, range: Range<usize>, is_on: &mut bool) {
        let Manuscript { source, text, .. } = *self.manuscript;
        let place = self.manuscript.span(range.clone());
        for instruction in instructions::read(source, text, range.clone(), &mut self.findings) {
            if let Instruction::Place(placeholder) = &instruction {
                self.read.placeholders.push((placeholder.clone(), place));
            }
            match instruction {
                Instruction::Off => *is_on = false,
                Instruction::On => *is_on = true,
                Instruction::About(named) => {
                    for (name, span) in named {
                        if self.names.formula(&name).is_none() {
                            let known = self.manuscript.formulas.iter();
                            let known = known.map(|formula| formula.name.shown.as_str());
                            self.findings.push(say::no_formula(span, &name, known));
                        }
                    }
                }
                Instruction::Place(Placeholder::Title(title, _)) => self.keep_title(&title, &range),
                Instruction::Place(_) => {}
                Instruction::AllOf(words, span) => {
                    if let Some((before, place)) = self.claim.replace((words, span)) {
                        self.findings.push(say::unclear(place, &before, "a table after it"));
                    }
                }
                Instruction::Allow(finding, span, reason) => {
                    let mut rules = self.manuscript.rules.iter();
                    if rules.any(|rule| rule.name == finding) {
                        let allow = Allow { finding, reason, span, block: None, used: false };
                        self.allows.push(allow);
                    } else {
                        let known = self.manuscript.rules.iter().map(|rule| rule.name);
                        self.findings.push(say::no_finding(span, &finding, known));
                    }
                }
            }
        }
    }

    /// The letters of drawings are printed with the words around them.
    fn keep_letters(&mut self, parts: &[ProsePart]) {
        for (mark, file) in drawings(self.manuscript.text) {
            let letters = (self.manuscript.letters)(self.manuscript.source, &file);
            let Some(letters) = letters else { continue };
            let before = parts.partition_point(|part| part.start <= mark.start);
            let block = before.checked_sub(1).map_or(0, |at| parts[at].block);
            let kind = PassageKind::Aside(Passage::all_at(&letters, mark.start));
            let part = ProsePart { kind, start: mark.start, block, is_term: false };
            self.keep(&part, innermost(&self.sections, mark.start), false);
        }
    }

    /// What the title of the book promises is promised of all that is in it.
    fn keep_title(&mut self, title: &str, comment: &Range<usize>) {
        let inside = self.manuscript.text.get(comment.clone()).unwrap_or_default();
        let at = comment.start + inside.find(title).unwrap_or_default();
        let words = Passage::of(title, at);
        let house = self.house.clone();
        let at = Stands {
            about: house.clone(),
            all: house.clone(),
            house,
            scope: Scope::Above,
            block: usize::MAX,
            is_heading: false,
            is_off: false,
        };
        self.denied.keep(&words, &self.names, &at);
    }

    /// The formulas that a place in a section is about.
    fn about(&self, section: usize, place: usize) -> Vec<usize> {
        about(&self.sections, section, place)
    }

    /// Keeps what is said of the formulas of a section, or of those below it, or of all.
    /// Where the reading is turned off, only what is denied is kept.
    fn keep(&mut self, part: &ProsePart, section: usize, is_off: bool) {
        let is_heading = matches!(part.kind, PassageKind::Heading(..));
        let own = self.sections.get(section);
        if is_heading && own.is_some_and(|own| own.is_variation) {
            return;
        }
        let told = match own.filter(|_| is_heading) {
            Some(own) if !own.own.is_empty() => own.own.clone(),
            _ => self.about(section, part.start),
        };
        let (about, all, scope) = if told.is_empty() {
            let below = self.below(section);
            match below.is_empty() {
                false => (below.clone(), below, Scope::Above),
                true if self.is_of_a_variation(section) => return,
                true => (self.house.clone(), self.house.clone(), Scope::Beside),
            }
        } else {
            // What stands over several breads is said of all.
            let about = match is_heading {
                true => told.clone(),
                false => self.nearest(&told, section, part.start),
            };
            (about.into(), told.into(), Scope::Own)
        };
        let house = self.house.clone();
        let at = Stands { about, all, house, scope, block: part.block, is_heading, is_off };
        match &part.kind {
            PassageKind::Heading(_, words)
            | PassageKind::Words(words)
            | PassageKind::Aside(words)
            | PassageKind::Quoted(words) => {
                self.denied.keep(words, &self.names, &at);
            }
            PassageKind::Table(table) => self.denied.keep_rows(table, &self.names, &at),
            _ => {}
        }
    }

    /// The formulas of the sections inside of one.
    fn below(&mut self, section: usize) -> Rc<[usize]> {
        if let Some((of, below)) = &self.last_below
            && *of == section
        {
            return below.clone();
        }
        let below: Rc<[usize]> = self.find_below(section).into();
        self.last_below = Some((section, below.clone()));
        below
    }

    fn find_below(&self, section: usize) -> Vec<usize> {
        let Some(around) = self.sections.get(section) else { return Vec::new() };
        let inside = self.sections.iter().skip(section + 1);
        let inside = inside.take_while(|it| it.range.start < around.range.end);
        let mut all: Vec<usize> = inside.flat_map(|it| it.own.iter().copied()).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Whether a section is one of another way to make a bread.
    fn is_of_a_variation(&self, section: usize) -> bool {
        let mut at = Some(section);
        while let Some(section) = at.and_then(|at| self.sections.get(at)) {
            if section.is_variation {
                return true;
            }
            at = section.parent;
        }
        false
    }

    /// Of several formulas of a section the one whose block was the last before a place; all
    /// before the first block, and where a comment names them.
    fn nearest(&self, all: &[usize], section: usize, place: usize) -> Vec<usize> {
        let is_told = is_told(&self.sections, section, place);
        let formula = |at: &usize| self.manuscript.formulas.get(*at).map(|it| (*at, it.span));
        let is_before =
            |span: Span| span.source == self.manuscript.source && (span.start as usize) < place;
        let before = all.iter().filter_map(formula).filter(|(_, span)| is_before(*span));
        match before.max_by_key(|(_, span)| span.start).filter(|_| !is_told) {
            Some((last, _)) => vec![last],
            None => all.to_vec(),
        }
    }

    fn judge_what_is_denied(&mut self) {
        let facts = self.facts;
        let context = |at: usize| facts(at).map(|facts| facts.context);
        for (finding, blocks) in self.denied.judge(self.manuscript.source, &context) {
            self.tell_in(finding, &blocks);
        }
    }

    /// Brackets that lead to formulas which are not there, or ask for what these have not.
    fn references(&mut self, words: &Passage, part: &ProsePart) {
        let known = || self.manuscript.formulas.iter().map(|it| it.name.shown.as_str());
        let mut told = Vec::new();
        for range in &words.brackets {
            let inside = self.manuscript.text.get(range.start + 1..range.end.saturating_sub(1));
            let Some(inside) = inside else { continue };
            let span = self.manuscript.span(range.clone());
            if let Some((_, name)) = unknown_reference::leads_to(inside) {
                if self.names.formula(name).is_none() {
                    told.push(unknown_reference::no_formula(span, name, known()));
                }
                continue;
            }
            if !inside.contains(" of ") {
                continue;
            }
            let ask = read_bracket(inside);
            let house = self.manuscript.house;
            let asked = ask.as_ref().and_then(elsewhere_of);
            match (&ask, asked) {
                (Some(ask), Some(asked)) if house.formula(&asked.formula.key).is_some() => {
                    let mut wrong = Vec::new();
                    asked_in_a_manuscript(house, (ask, asked), inside, &mut wrong);
                    for finding in &mut wrong {
                        finding.labels.iter_mut().for_each(|label| label.span = span);
                        finding.repair = None;
                    }
                    told.extend(wrong);
                }
                _ => told.extend(self.leads_nowhere(inside, span, asked)),
            }
        }
        told.into_iter().for_each(|finding| self.tell(finding, part));
    }

    /// A bracket that asks for something of a formula that is not there, as far as that is sure:
    /// `[water of mole-laof]`, and not `[one of them]`.
    fn leads_nowhere(
        &self,
        inside: &str,
        span: Span,
        asked: Option<&Elsewhere>,
    ) -> Option<Finding> {
        let house = self.manuscript.house;
        let known = || self.manuscript.formulas.iter().map(|it| it.name.shown.as_str());
        let (what, name) = inside.rsplit_once(" of ")?;
        let what = asked.map_or_else(
            || key(what.split(" in ").next().unwrap_or(what)).to_string(),
            |asked| asked.asked.what.name.key.to_string(),
        );
        let is_a_thing = Figure::read(&what).is_some()
            || house.ingredient_named(&what).is_some()
            || Class::read(&what).is_some();
        let bare = name.split(" for ").next().unwrap_or(name);
        let bare = bare.split(" from ").next().unwrap_or(bare).trim();
        if is_a_thing && bare != name.trim() && house.formula(&key(bare)).is_some() {
            let why = "after `for` comes a yield such as `5 loaves`, after `from` an amount";
            return Some(unknown_reference::not_there(span, inside, why));
        }
        let is_meant = name.contains('-') || nearest(name.trim(), known()).is_some();
        let is_there = house.formula(&key(name.trim())).is_some();
        (is_a_thing && is_meant && !is_there)
            .then(|| unknown_reference::no_formula(span, name.trim(), known()))
    }

    /// A table by itself, and beside what it is claimed to be all of.
    fn table(&mut self, table: &ProseTable, part: &ProsePart, code: &'static str) {
        let source = self.manuscript.source;
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let span = |range: Range<usize>| Span::new(source, byte(range.start), byte(range.end));
        let rows = table_disagrees::cells(table, &span);
        let own = Rows::read(&rows, code).map(|table| table.check()).unwrap_or_default();
        let is_claimed = self.claim.is_some();
        let claimed = self.claimed(&rows, code);
        let section = innermost(&self.sections, part.start);
        let stale = match self.about(section, part.start).as_slice() {
            [one] if !is_claimed => (self.facts)(*one)
                .map(|facts| table_stale::check(facts.context, &rows, code))
                .unwrap_or_default(),
            _ => Vec::new(),
        };
        // One slip is told once: what it makes of its row and of the sums is no slip of its own.
        let row_of = |finding: &Finding| {
            rows.iter().position(|row| row.iter().any(|cell| cell.span == finding.span()))
        };
        let refuted: Vec<usize> = claimed.iter().chain(&stale).filter_map(row_of).collect();
        let is_sum = |row: usize| {
            let mut cells = rows.get(row).into_iter().flatten();
            cells.any(|cell| table_disagrees::is_total(&cell.text))
        };
        let is_told = |finding: &Finding| {
            let row = row_of(finding).filter(|_| !refuted.is_empty());
            row.is_some_and(|row| refuted.contains(&row) || is_sum(row))
        };
        own.into_iter().filter(|it| !is_told(it)).for_each(|finding| self.tell(finding, part));
        stale.into_iter().for_each(|finding| self.tell(finding, part));
        self.findings.extend(claimed);
    }

    /// What refutes the claim that stands before a table.
    fn claimed(&mut self, rows: &[Vec<Cell>], code: &str) -> Vec<Finding> {
        let Some((words, place)) = self.claim.take() else { return Vec::new() };
        let (mix, name) = match words.rsplit_once(" of ") {
            Some((mix, name)) => (Some(key(mix).to_string()), name),
            None => (None, words.as_str()),
        };
        let facts = self.names.formula(name).and_then(self.facts);
        let Some(facts) = facts else {
            let known = self.manuscript.formulas.iter().map(|formula| formula.name.shown.as_str());
            let told = match self.names.formula(name) {
                // What is wrong in the formula is told there.
                Some(_) => say::unclear(place, &words, "it when the formula has no error"),
                None => say::no_formula(place, name, known),
            };
            return vec![told];
        };
        let context = facts.context;
        // A cell without words has no place of its own.
        let mut cells = rows.iter().flatten();
        let head = cells.find(|cell| !cell.text.trim().is_empty()).map_or(place, |cell| cell.span);
        let claim = table_refuted::Claim { context, mix, words, span: head };
        let mut told = table_refuted::check(&claim, rows, code);
        tell(context.house, context.worked, context.batches(), &mut told);
        let name = &context.worked.formula.name.key;
        told.iter_mut().for_each(|finding| finding.formula = Some(name.clone()));
        told
    }

    /// Adds a finding, allowed where that is said before its block.
    fn tell(&mut self, finding: Finding, part: &ProsePart) {
        self.tell_in(finding, &[part.block]);
    }

    /// The same of one that some blocks are about. What texts deny may be meant of another
    /// bread, and is allowed where it stands, with a reason.
    fn tell_in(&mut self, mut finding: Finding, blocks: &[usize]) {
        let is_meant = |allow: &&mut Allow| {
            allow.finding == finding.rule.name
                && allow.block.is_some_and(|block| blocks.contains(&block))
        };
        let allow = self.allows.iter_mut().rev().find(is_meant);
        let may_be = finding.level != Level::Error || is_of_texts(finding.rule);
        if let Some(allow) = allow.filter(|_| may_be) {
            allow.used = true;
            finding.allowed = Some(allow.reason.clone());
        }
        self.findings.push(finding);
    }
}

/// What a bracket asks of a formula that it names.
fn elsewhere_of(ask: &FigureAsk) -> Option<&Elsewhere> {
    match ask {
        FigureAsk::Figure { elsewhere, .. } | FigureAsk::Scaled { elsewhere, .. } => {
            elsewhere.as_deref()
        }
        _ => None,
    }
}

/// Hears what parts of a manuscript say in numbers.
struct Ear<'r, 'm, 't, 'c> {
    manuscript: &'r Manuscript<'m, 't>,
    names: &'r FormulaNames,
    sections: &'r [Section],
    facts: &'r dyn Fn(usize) -> Option<&'r Facts<'r, 'c, 't>>,
    /// Of each section.
    languages: FxHashMap<usize, &'static speech::Language>,
}

impl Ear<'_, '_, '_, '_> {
    fn part(&mut self, parts: &[ProsePart], at: usize) -> Spoken {
        let mut heard = Spoken::default();
        let part = &parts[at];
        let section = innermost(self.sections, part.start);
        match &part.kind {
            PassageKind::Heading(_, words) | PassageKind::Words(words) => {
                let language = self.language(section, parts, at);
                self.passage(words, part, section, language, &mut heard);
            }
            PassageKind::Table(table) => {
                let language = self.language(section, parts, at);
                heard.language = language.code;
                for cell in table.rows.iter().flatten() {
                    self.pairs(cell, None, language, &mut heard);
                }
            }
            PassageKind::Comment(_)
            | PassageKind::NearComment(_)
            | PassageKind::Fence(..)
            | PassageKind::Aside(_)
            | PassageKind::Quoted(_) => {}
        }
        heard
    }

    /// The language of a section, by the words that follow a part.
    fn language(
        &mut self,
        section: usize,
        parts: &[ProsePart],
        from: usize,
    ) -> &'static speech::Language {
        if let Some(language) = self.languages.get(&section) {
            return language;
        }
        let end = self.sections.get(section).map_or(0, |section| section.range.end);
        let mut sample = String::new();
        let own = parts[from..].iter().take_while(|part| part.start < end);
        for part in own {
            if let PassageKind::Heading(_, words) | PassageKind::Words(words) = &part.kind {
                sample.push_str(&words.text);
                sample.push('\n');
            }
            if sample.len() > SAMPLE * 6 {
                break;
            }
        }
        let tokens = speech::tokens(&sample);
        let house = self.manuscript.house.settings.language.as_ref();
        let house = house.map(|language| language.value.as_str());
        let language = speech::spoken(&tokens[..tokens.len().min(SAMPLE)], house);
        self.languages.insert(section, language);
        language
    }

    fn passage(
        &self,
        passage: &Passage,
        part: &ProsePart,
        section: usize,
        language: &'static speech::Language,
        heard: &mut Spoken,
    ) {
        let text = rough_outside(&passage.text);
        let text = label_joined(twins_joined(text));
        let tokens = speech::tokens(&text);
        let words = PassageWords { text: &text, tokens: &tokens, language };
        let own = about(self.sections, section, part.start);
        let is_heading = matches!(part.kind, PassageKind::Heading(..));
        let (facts, names) = (self.facts, self.names);
        let about = |sentence: &Sentence| {
            let named = names.named(sentence.tokens);
            let others = named.iter().any(|formula| !own.contains(formula));
            let all = match (is_heading, others) {
                (true, _) => Vec::new(),
                (false, true) => named,
                (false, false) if named.is_empty() && numbers::is_in_a_place(sentence) => {
                    Vec::new()
                }
                (false, false) => own.clone(),
            };
            all.into_iter().filter_map(facts).collect::<Vec<_>>()
        };
        for number in numbers::read(&words, &about) {
            let span = self.manuscript.span(passage.place(number.at.clone()));
            let written = passage.text.get(number.at).unwrap_or_default().to_owned();
            heard.slips.extend(number.slip.map(|slip| number_in_prose::at(slip, span)));
            heard.numbers.push(NumberRead { span, written, formula: number.formula });
        }
        let own = matches!(text, Cow::Borrowed(_)).then_some(tokens.as_slice());
        self.pairs(passage, own, language, heard);
    }

    /// The pairs of a passage; its words, where they are parted already.
    fn pairs(
        &self,
        passage: &Passage,
        parted: Option<&[speech::Token]>,
        language: &'static speech::Language,
        heard: &mut Spoken,
    ) {
        if !pairs::may_be_in(&passage.text) {
            return;
        }
        let own;
        let tokens = match parted {
            Some(tokens) => tokens,
            None => {
                own = speech::tokens(&passage.text);
                own.as_slice()
            }
        };
        let words = PassageWords { text: &passage.text, tokens, language };
        for pair in pairs::read(&words, self.manuscript.house) {
            let span = self.manuscript.span(passage.place(pair.at.clone()));
            let second = self.manuscript.span(passage.place(pair.second.clone()));
            heard.pairs.push(pairs::finding(&pair, span, second));
        }
    }
}

/// `(about 600 g)` with the word before the bracket, so that the number still stands beside
/// what it is of; every byte of the number stays where it is.
fn rough_outside(text: &str) -> Cow<'_, str> {
    const ROUGH: [&str; 12] = [
        "about ", "around ", "roughly ", "approx. ", "some ", "environ ", "etwa ", "ca. ", "rund ",
        "circa ", "unos ", "unas ",
    ];
    if !text.contains('(') || !ROUGH.iter().any(|word| text.contains(&format!("({word}"))) {
        return Cow::Borrowed(text);
    }
    let moved = ROUGH
        .iter()
        .fold(text.to_owned(), |text, word| text.replace(&format!("({word}"), &format!("{word}(")));
    Cow::Owned(moved)
}

/// `900 g (32 oz) of flour` without the end of its bracket, so that what is told twice is of what
/// comes after it; every byte stays where it is.
fn twins_joined(text: Cow<'_, str>) -> Cow<'_, str> {
    const MEASURES: [&str; 34] = [
        "%", "g", "kg", "mg", "oz", "lb", "lbs", "ml", "cl", "dl", "l", "cup", "cups", "tbsp",
        "tsp", "fl oz", "ounce", "ounces", "pound", "pounds", "gram", "grams", "gramm", "gramme",
        "grammes", "gramos", "grammi", "litre", "litres", "el", "tl", "tasse", "tasses",
        "per cent",
    ];
    if !text.contains(") ") {
        return text;
    }
    let ends = text.match_indices(") ").filter_map(|(end, _)| {
        let start = text[..end].rfind('(')?;
        let inside = text.get(start + 1..end)?.trim();
        let is_number = |it: char| it.is_ascii_digit() || ".,/½¼¾⅓⅔⅛ \u{a0}\u{202f}".contains(it);
        let unit = inside.trim_start_matches(is_number).trim().to_lowercase();
        let is_twin = inside.starts_with(|it: char| is_number(it) && it != ' ')
            && MEASURES.contains(&unit.as_str());
        // The amount before the bracket, and the name after it.
        let before = text[..start].trim_end();
        let last = before.rsplit([' ', '\u{a0}', '\u{202f}']).next().unwrap_or_default();
        let last = last.trim_start_matches(is_number).to_lowercase();
        let is_amount = MEASURES.contains(&last.as_str());
        let is_named = text[end + 2..].starts_with(char::is_alphabetic);
        (is_twin && is_amount && is_named).then_some(end)
    });
    let ends: Vec<usize> = ends.collect();
    if ends.is_empty() {
        return text;
    }
    let mut joined = text.into_owned();
    ends.into_iter().for_each(|end| joined.replace_range(end..end + 1, " "));
    Cow::Owned(joined)
}

/// `Total time: 4 hours` with a comma after its label, so that both are one sentence.
fn label_joined(text: Cow<'_, str>) -> Cow<'_, str> {
    let Some((label, said)) = text.split_once(": ") else { return text };
    let is_label = label.split_whitespace().count() <= 4
        && !label.contains(|it: char| it.is_ascii_digit() || ",.;!?".contains(it));
    let begins =
        said.trim_start().starts_with(|it: char| it.is_ascii_digit() || "½¼¾⅓⅔".contains(it))
            || said.split_whitespace().count() <= 3;
    let at = label.len();
    match is_label && begins {
        true => Cow::Owned(format!("{},{}", &text[..at], &text[at + 1..])),
        false => text,
    }
}

/// The formulas that a place in a section is about.
fn about(sections: &[Section], section: usize, place: usize) -> Vec<usize> {
    let mut at = Some(section);
    while let Some(section) = at.and_then(|at| sections.get(at)) {
        if let Some((_, formulas)) = section.about.iter().rfind(|(from, _)| *from <= place) {
            return formulas.clone();
        }
        if !section.own.is_empty() {
            return section.own.clone();
        }
        if section.is_variation {
            return Vec::new();
        }
        at = section.parent;
    }
    Vec::new()
}

/// Notes what comments say that sections are about.
fn note_abouts(
    manuscript: &Manuscript,
    parts: &[ProsePart],
    names: &FormulaNames,
    sections: &mut [Section],
) {
    for part in parts {
        let PassageKind::Comment(range) = &part.kind else { continue };
        let (source, text) = (manuscript.source, manuscript.text);
        for instruction in instructions::read(source, text, range.clone(), &mut Vec::new()) {
            let Instruction::About(named) = instruction else { continue };
            let formulas = named.iter().filter_map(|(name, _)| names.formula(name)).collect();
            let section = innermost(sections, part.start);
            if let Some(section) = sections.get_mut(section) {
                section.about.push((part.start, formulas));
            }
        }
    }
}

/// Whether a comment says what a place in a section is about.
fn is_told(sections: &[Section], section: usize, place: usize) -> bool {
    let mut at = Some(section);
    while let Some(section) = at.and_then(|at| sections.get(at)) {
        if section.about.iter().any(|(from, _)| *from <= place) {
            return true;
        }
        if !section.own.is_empty() {
            return false;
        }
        at = section.parent;
    }
    false
}

/// What places of a manuscript are about.
pub struct Ties {
    sections: Vec<Section>,
    names: FormulaNames,
}

impl Ties {
    /// Of a manuscript and its parts.
    pub fn of(manuscript: &Manuscript, parts: &[ProsePart]) -> Self {
        let names = FormulaNames::of(manuscript);
        let mut sections = sections(manuscript, parts, &names);
        note_abouts(manuscript, parts, &names, &mut sections);
        Self { sections, names }
    }

    /// The formulas that a place is about, by their numbers.
    pub fn formulas(&self, place: usize) -> Vec<usize> {
        about(&self.sections, innermost(&self.sections, place), place)
    }

    /// The formula of a name or a title, by its number.
    pub fn formula(&self, name: &str) -> Option<usize> {
        self.names.formula(name)
    }
}
