//! A worksheet: a formula's table with blanks, and its key with how each blank follows from
//! what is left.

use super::compare::named;
use super::document::{BookletPart, TableCell, TableColumn, TablePart, TableRow};
use super::grid::{Cell, CellKind, Grid};
use super::maker::Maker;
use super::rank::{EquationRow, Equations};
use crate::formula::weighing::ShownWeight;
use crate::print::document::{Document, LinePart};
use crate::print::findings as say;
use crate::quantity::display::{self, ounce, read_exact};
use crate::quantity::{Exact, int, ratio};
use crate::source::Span;
use crate::syntax::booklet::{HiddenKind, Worksheet};
use crate::syntax::key_of;
use crate::syntax::tree::{Measure, Name, Question};
use std::cell::RefCell;

/// The most digits behind the mark that a percentage gets so that its blanks come out.
const MAX_DIGITS: u8 = 4;

/// Digits behind the mark of a factor that stands for several equations at once.
const FACTOR_DIGITS: u8 = 6;

/// How often what stands gets a digit more at most, so that blanks come out.
const MAX_FINER: usize = 8;

/// The most digits behind the mark of grams and of ounces on a worksheet.
const GRAM_DIGITS: u8 = 2;
const OUNCE_DIGITS: u8 = 3;

/// A worksheet that can be printed.
pub struct Sheet {
    title: String,
    makes: String,
    grid: Grid,
    answers: Vec<BlankAnswer>,
    /// What blanks show on the formula's other prints, where that is another number.
    on_paper: Vec<String>,
}

/// How a blank follows.
struct BlankAnswer {
    cell: usize,
    name: String,
    working: String,
    /// How far a learner's number may be from it, for the rounding of what it follows from;
    /// more than a step of the scale or than a last digit where it is `loose`.
    off: Exact,
    is_loose: bool,
    /// Whether what is printed comes to another number than the key has, and of which cells it
    /// is.
    is_rough: bool,
    from: Vec<usize>,
    /// What is printed comes to, unrounded.
    comes_to: Exact,
}

impl Maker<'_> {
    /// A worksheet, each blank of which has one answer; what has none is told.
    pub fn sheet(&self, sheet: &Worksheet, span: Span) -> Option<Sheet> {
        let made = self.worked(&sheet.of)?;
        let document = made.document(self);
        let mut grid = Grid::of(document);
        grid.sum = self.words.say("print-total");
        match sheet.hide.is_empty() {
            true => hide_what_follows(&mut grid),
            false => self.hide(&mut grid, sheet),
        }
        if !grid.cells.iter().any(|cell| cell.hidden) && sheet.hide.is_empty() {
            self.hides_nothing(span, &grid, "percentages");
        }
        let open = grid.open_cells();
        if !open.is_empty() {
            let names: Vec<String> = open.iter().map(|cell| grid.name_of(*cell)).collect();
            let missing = what_would_do(&grid, &open);
            let missing = missing.map(|cell| grid.name_of(cell));
            self.say(say::no_single_answer::blanks(span, &names, missing.as_deref()));
            return None;
        }
        hide_twins(&mut grid);
        let printed: Vec<(String, String)> = grid.cells.iter().map(|it| it.shown.clone()).collect();
        let answers = loop {
            let answers = self.answers(&mut grid);
            let Some(loose) = answers.iter().find(|it| it.is_loose) else { break answers };
            // Where nothing was said, another cell stands in its place.
            if sheet.hide.is_empty() {
                grid.cells[loose.cell].hidden = false;
                continue;
            }
            let cell = &grid.cells[loose.cell];
            let ends = [&cell.worth - &loose.off, &cell.worth + &loose.off];
            let ends = ends.map(|worth| match cell.kind {
                CellKind::Weight => {
                    let (shown, unit) = self.alone(&worth, false);
                    format!("{shown} {unit}")
                }
                _ => format!("{} %", display::trimmed(&(worth * int(100)), 1)),
            });
            self.say(say::no_single_answer::by_rounding(span, &loose.name, ends));
            return None;
        };
        let title = match &sheet.title {
            Some(title) => self.text(title),
            None => self.words.fill("booklet-worksheet", &[("formula", &document.title)]),
        };
        let on_paper = self.as_printed(&grid, &printed);
        Some(Sheet { title, makes: makes_of(document), grid, answers, on_paper })
    }

    /// How the blanks follow. What stands gets as many digits as the lines need; a blank has what
    /// its line comes to as it is printed, which is a step of the scale off where columns have to
    /// add up on other prints.
    fn answers(&self, grid: &mut Grid) -> Vec<BlankAnswer> {
        // A blank is what it is exactly, rounded once; so is what all of a column comes to.
        let is_sum = |it: &Cell| it.kind == CellKind::Weight && it.line.is_none();
        for cell in grid.cells.iter_mut().filter(|it| it.hidden || is_sum(it)) {
            self.to_nearest(cell);
        }
        let mark = self.words.decimal_mark();
        let on_key = |it: &Cell| number_in(it, &mark).filter(|_| it.hidden);
        let on_key: Vec<Option<(Exact, Exact)>> = grid.cells.iter().map(on_key).collect();
        let mut answers = Working::new(self, grid, &on_key).all();
        for _ in 0..MAX_FINER {
            let mut is_finer = false;
            let rough: Vec<&BlankAnswer> = answers.iter().filter(|it| it.is_rough).collect();
            for answer in &rough {
                is_finer |= self.to_nearest(&mut grid.cells[answer.cell]);
                let stands = answer.from.iter().filter(|from| !grid.cells[**from].hidden);
                for from in stands.copied().collect::<Vec<_>>() {
                    let cell = &mut grid.cells[from];
                    is_finer |= self.to_nearest(cell) || self.finer(cell);
                }
            }
            // Who keeps a digit more of what lies between rounds nothing on the way.
            if !is_finer {
                let mut between: Vec<usize> =
                    rough.iter().flat_map(|it| &it.from).copied().collect();
                between.sort_unstable();
                between.dedup();
                for from in between {
                    is_finer |= self.finer(&mut grid.cells[from]);
                }
            }
            if !is_finer {
                break;
            }
            answers = Working::new(self, grid, &on_key).all();
        }
        // What a learner gets, one after the other.
        let mut is_got = vec![false; grid.cells.len()];
        for _ in 0..grid.cells.len() {
            let Some(rough) = answers.iter().find(|it| it.is_rough) else { break };
            let cell = &mut grid.cells[rough.cell];
            let Some((_, step)) = number_in(cell, &mark) else { break };
            cell.shown = self.shown_to(cell, &rough.comes_to, &step);
            is_got[rough.cell] = true;
            answers = Working::new(self, grid, &on_key).all();
        }
        // The key's table has the digits of the scale.
        for (at, on_key) in on_key.iter().enumerate() {
            let Some((_, step)) = on_key else { continue };
            let cell = &mut grid.cells[at];
            let got = number_in(cell, &mark).filter(|_| is_got[at]).map(|(seen, _)| seen);
            let worth = got.unwrap_or_else(|| cell.worth.clone());
            cell.shown = self.shown_to(cell, &worth, step);
        }
        answers
    }

    /// Lets a cell show what is nearest to its worth with as many digits as it has; whether it
    /// showed anything else.
    fn to_nearest(&self, cell: &mut Cell) -> bool {
        let Some((_, step)) = number_in(cell, &self.words.decimal_mark()) else { return false };
        let shown = self.shown_to(cell, &cell.worth, &step);
        let is_other = shown != cell.shown;
        cell.shown = shown;
        is_other
    }

    /// Lets a cell show a digit more, where it has one; whether it has.
    fn finer(&self, cell: &mut Cell) -> bool {
        let Some((seen, step)) = number_in(cell, &self.words.decimal_mark()) else { return false };
        let least = match (cell.kind, cell.shown.1.as_str()) {
            (CellKind::Weight, "oz" | "lb") => ounce() * display::last_digit(OUNCE_DIGITS),
            (CellKind::Weight, _) => display::last_digit(GRAM_DIGITS),
            _ => display::last_digit(MAX_DIGITS).one_in::<100>(),
        };
        if seen == cell.worth || step <= least {
            return false;
        }
        let is_eighths = step == ounce().one_in::<8>();
        let finer = if is_eighths { ounce().one_in::<100>() } else { step.one_in::<10>() };
        cell.shown = self.shown_to(cell, &cell.worth, &finer.max(least));
        true
    }

    /// What a cell shows of a worth, rounded to a step.
    fn shown_to(&self, cell: &Cell, worth: &Exact, step: &Exact) -> (String, String) {
        match cell.kind {
            CellKind::Weight => {
                let grams = display::to_step(worth, step);
                self.weight_shown(&ShownWeight { grams, step: step.clone() })
            }
            _ => {
                let digits =
                    (0..MAX_DIGITS).find(|it| display::last_digit(*it).one_in::<100>() <= *step);
                let shown = display::percent(worth, digits.unwrap_or(MAX_DIGITS));
                (self.words.number(&shown), cell.shown.1.clone())
            }
        }
    }

    /// Blanks of which the formula's other prints show another number: `salt (Dough) 20 g`.
    fn as_printed(&self, grid: &Grid, printed: &[(String, String)]) -> Vec<String> {
        let mark = self.words.decimal_mark();
        let others = (0..grid.cells.len()).filter(|at| {
            let cell = &grid.cells[*at];
            let mut before = cell.clone();
            before.shown = printed[*at].clone();
            let number = |cell: &Cell| number_in(cell, &mark).map(|(seen, _)| seen);
            // The same with a digit more is no other number.
            let own = number(cell).unwrap_or_default();
            let is_rounded = number_in(&before, &mark)
                .is_some_and(|(seen, step)| display::to_step(&own, &step) == seen);
            cell.hidden && !is_rounded && number(cell) != number(&before)
        });
        others
            .map(|at| format!("{} {} {}", grid.name_of(at), printed[at].0, printed[at].1))
            .collect()
    }

    fn hides_nothing(&self, span: Span, grid: &Grid, words: &str) {
        let figures: Vec<&str> = grid.figures.iter().map(|(name, _)| name.as_str()).collect();
        let columns: Vec<&str> = grid.columns.iter().map(|it| it.name.as_str()).collect();
        self.say(say::hides_nothing::finding(span, words, &figures, &columns));
    }

    /// Marks what is hidden; what hides nothing is told.
    fn hide(&self, grid: &mut Grid, sheet: &Worksheet) {
        for hidden in &sheet.hide {
            let cells: Vec<usize> = (0..grid.cells.len())
                .filter(|at| is_hidden(grid, &grid.cells[*at], *at, &hidden.what))
                .collect();
            if cells.is_empty() {
                self.hides_nothing(hidden.span, grid, &words_of(&hidden.what));
            }
            for cell in cells {
                grid.cells[cell].hidden = true;
            }
        }
    }
}

/// What is hidden where nothing is said: the percentages that follow from the rest, those
/// left out that can be but a hundred; where there are none, weights that follow.
fn hide_what_follows(grid: &mut Grid) {
    for kind in [CellKind::Percent, CellKind::Weight] {
        for cell in 0..grid.cells.len() {
            let own = &grid.cells[cell];
            let is_line = own.kind == kind && own.line.is_some();
            if is_line && !grid.is_whole(cell) {
                hide_if_it_follows(grid, cell);
            }
        }
        if grid.cells.iter().any(|cell| cell.hidden) {
            return;
        }
    }
}

/// Hides what says the same as a hidden cell, so that no answer stands in the open; what
/// would leave a blank without an answer stays.
fn hide_twins(grid: &mut Grid) {
    let mut tried = Vec::new();
    while let Some(twin) = grid.twins_that_stand().into_iter().find(|it| !tried.contains(it)) {
        tried.push(twin);
        hide_if_it_follows(grid, twin);
    }
}

fn hide_if_it_follows(grid: &mut Grid, cell: usize) {
    grid.cells[cell].hidden = true;
    if !grid.open_cells().is_empty() {
        grid.cells[cell].hidden = false;
    }
}

fn makes_of(document: &Document) -> String {
    document.makes.text.clone()
}

/// What is hidden, as it is written.
fn words_of(what: &HiddenKind) -> String {
    let within = |words: &str, place: &Option<Name>| match place {
        Some(place) => format!("{words} in {}", place.shown),
        None => words.to_owned(),
    };
    match what {
        HiddenKind::Weights(place) => within("weights", place),
        HiddenKind::Percentages(place) => within("percentages", place),
        HiddenKind::Everything(place) => within("everything", place),
        HiddenKind::Figure(question) => {
            let sign = if matches!(question.measure, Measure::Percent) { " %" } else { "" };
            within(&format!("{}{sign}", question.what.name.shown), &question.place)
        }
    }
}

/// Whether a cell is among what is hidden.
fn is_hidden(grid: &Grid, cell: &Cell, at: usize, what: &HiddenKind) -> bool {
    let column = &grid.columns[cell.column];
    let is_here = |place: &Option<Name>| match place {
        None => true,
        Some(place) => is_place(grid, &column.name, &place.key),
    };
    let is_line = cell.line.is_some();
    match what {
        HiddenKind::Weights(place) => cell.kind == CellKind::Weight && is_line && is_here(place),
        HiddenKind::Percentages(place) => cell.kind == CellKind::Percent && is_here(place),
        HiddenKind::Everything(place) => match place {
            Some(_) => cell.kind != CellKind::Figure && is_here(place),
            None => true,
        },
        HiddenKind::Figure(question) => is_asked(grid, cell, at, question),
    }
}

fn is_place(grid: &Grid, column: &str, key: &str) -> bool {
    let column = key_of(column);
    let is_dough = matches!(key, "dough" | "final dough");
    *column == *key || is_dough && (&*column == "final dough" || grid.columns.len() == 1)
}

fn is_asked(grid: &Grid, cell: &Cell, at: usize, question: &Question) -> bool {
    let Question { what, place, measure } = question;
    let key = what.name.key.as_str();
    if cell.kind == CellKind::Figure {
        let before = grid.cells.iter().take(at).filter(|it| it.kind == CellKind::Figure).count();
        let is_figure = grid.figures.get(before).is_some_and(|(name, _)| name == key);
        // Salt is a figure and a line: a name is its weight, and the figure is its percentage.
        let is_of_line = |line: &LinePart| line.key == key || line.class.as_deref() == Some(key);
        let is_line = grid.columns.first().is_some_and(|it| it.lines.iter().any(is_of_line));
        return is_figure && !is_line && place.is_none() && matches!(measure, Measure::Itself);
    }
    let column = &grid.columns[cell.column];
    // What the whole formula has no line of, a stage, is meant where it stands.
    let names = |line: &LinePart| line.key == key || line.class.as_deref() == Some(key);
    let is_of_total = grid.columns.first().is_some_and(|it| it.lines.iter().any(names));
    let is_here = match place {
        Some(place) => is_place(grid, &column.name, &place.key),
        None => cell.column == 0 || !is_of_total && key != "dough",
    };
    let wanted = match measure {
        Measure::Itself => CellKind::Weight,
        Measure::Percent => CellKind::Percent,
        Measure::Of(_) => return false,
    };
    if cell.kind != wanted || !is_here {
        return false;
    }
    let Some(line) = cell.line.and_then(|line| column.lines.get(line)) else {
        return key == "dough" && cell.line.is_none();
    };
    let role = what.role.as_ref().map(|role| role.key.as_str());
    let is_role = role.is_none() || line.role.as_deref().map(key_of).as_deref() == role;
    let is_line = line.key == key || line.class.as_deref() == Some(key);
    is_line && is_role
}

/// A cell of which the whole would follow, were it left to stand: the first that helps.
fn what_would_do(grid: &Grid, open: &[usize]) -> Option<usize> {
    let equations = grid.equations();
    open.iter().copied().find(|cell| {
        let mut more = equations.clone();
        more.demand(grid.row_of(&grid.cells[*cell]));
        open.iter().all(|other| more.settles(&grid.row_of(&grid.cells[*other])))
    })
}

// ---- How blanks follow ---------------------------------------------------------------

/// Works out the blanks one after the other, by one step each where that can be.
struct Working<'m, 'a, 'g> {
    maker: &'m Maker<'a>,
    grid: &'g mut Grid,
    /// What the key has in each blank, and the step of its last digit.
    on_key: &'g [Option<(Exact, Exact)>],
    /// Which cells are known: those that stand, and blanks worked out already.
    known: Vec<bool>,
    /// How far what a learner has in a cell may be from what the key has there.
    off: Vec<Exact>,
    /// A cell in which something else stands, and by how much.
    bent: RefCell<Option<(usize, Exact)>>,
    /// How far the step looked at last may lead from the key.
    found: RefCell<Exact>,
    /// Whether it comes to another number, and the cells that it reckons with.
    rough: RefCell<Reckoned>,
}

/// Whether what is printed comes to another number, the cells it reckons with, and what it comes
/// to.
type Reckoned = (bool, Vec<usize>, Exact);

/// How a blank follows in one step.
struct Step {
    working: String,
    /// How far that may lead from the key.
    off: Exact,
    is_rough: bool,
    from: Vec<usize>,
    comes_to: Exact,
}

impl<'m, 'a, 'g> Working<'m, 'a, 'g> {
    fn new(maker: &'m Maker<'a>, grid: &'g mut Grid, on_key: &'g [Option<(Exact, Exact)>]) -> Self {
        let known = grid.cells.iter().map(|cell| !cell.hidden).collect();
        let off = vec![Exact::ZERO; grid.cells.len()];
        let (bent, found, rough) = <_>::default();
        Self { maker, grid, on_key, known, off, bent, found, rough }
    }

    fn all(mut self) -> Vec<BlankAnswer> {
        let mut answers = Vec::new();
        loop {
            let is_open =
                |own: &Self, cell: &usize| own.grid.cells[*cell].hidden && !own.known[*cell];
            let open: Vec<usize> =
                (0..self.grid.cells.len()).filter(|cell| is_open(&self, cell)).collect();
            let mut next = self.next_of(&open);
            // What a culture brings is the harder way.
            if next.is_none() {
                next = open.iter().find_map(|cell| {
                    let way = |own: &mut Self, cell| own.by_sum(cell, false);
                    Some((*cell, self.by_way(way, *cell)?))
                });
            }
            // Several equations at once.
            if next.is_none() {
                next = open.first().and_then(|cell| {
                    let way = |own: &mut Self, cell| Some(own.at_once(cell));
                    Some((*cell, self.by_way(way, *cell)?))
                });
            }
            let Some((cell, mut step)) = next else { return answers };
            if step.off > self.bearable(cell) && !step.is_rough {
                // From what stands alone, where what was rounded on the way leads too far.
                let direct = self.by_way(|own, cell| Some(own.at_once(cell)), cell);
                let is_better =
                    |it: &Step| it.off <= self.bearable(cell) && it.working.contains(" = ");
                step = direct.filter(is_better).unwrap_or(step);
            }
            self.known[cell] = true;
            let Step { working, off, is_rough, from, comes_to } = step;
            let is_loose = off > self.bearable(cell);
            let name = self.grid.name_of(cell);
            self.off[cell] = off.clone();
            answers.push(BlankAnswer {
                cell,
                name,
                working,
                off,
                is_loose,
                is_rough,
                from,
                comes_to,
            });
        }
    }

    /// The first blank that a learner comes to as the key does; else the first that follows.
    fn next_of(&mut self, open: &[usize]) -> Option<(usize, Step)> {
        let mut first = None;
        for cell in open {
            let Some(step) = self.step(*cell) else { continue };
            if step.off <= self.bearable(*cell) && !step.is_rough {
                return Some((*cell, step));
            }
            first.get_or_insert((*cell, step));
        }
        first
    }

    /// How a cell follows in one step: the first way that leads no farther from the key than can
    /// be borne, else the one that leads least far.
    fn step(&mut self, cell: usize) -> Option<Step> {
        let ways: &[fn(&mut Self, usize) -> Option<String>] = match self.grid.cells[cell].kind {
            CellKind::Weight => &[
                |own, cell| own.by_percent(cell),
                |own, cell| own.by_sum(cell, true),
                |own, cell| own.flour_by_percent(cell),
                |own, cell| own.by_column(cell),
            ],
            CellKind::Percent => &[
                |own, cell| own.by_figure(cell),
                |own, cell| own.by_flours(cell),
                |own, cell| own.by_weights(cell),
            ],
            CellKind::Figure => {
                &[|own, cell| own.by_percents(cell), |own, cell| own.by_weights(cell)]
            }
        };
        let mut best: Option<Step> = None;
        for way in ways {
            let Some(step) = self.by_way(way, cell) else { continue };
            if step.off <= self.bearable(cell) && !step.is_rough {
                return Some(step);
            }
            let rank = |it: &Step| (it.is_rough, it.off.clone());
            if best.as_ref().is_none_or(|least| rank(&step) < rank(least)) {
                best = Some(step);
            }
        }
        best
    }

    /// How a cell follows in one way, where it does.
    fn by_way(
        &mut self,
        way: impl Fn(&mut Self, usize) -> Option<String>,
        cell: usize,
    ) -> Option<Step> {
        self.found.take();
        self.rough.take();
        let working = way(self, cell)?;
        let (is_rough, mut from, comes_to) = self.rough.take();
        from.retain(|it| *it != cell);
        Some(Step { working, off: self.found.take(), is_rough, from, comes_to })
    }

    /// How far from the key an answer may be and still be the answer: a step of the scale, or
    /// one of the last digit.
    fn bearable(&self, cell: usize) -> Exact {
        let Some((_, digit)) = self.number_of(cell) else { return Exact::ZERO };
        match self.grid.cells[cell].kind {
            CellKind::Weight => {
                let scale = self.maker.house_scale();
                scale.resolution(&self.grid.cells[cell].worth).max(digit)
            }
            _ => digit,
        }
    }

    /// What a cell of the key shows, in grams or as a share of one, and the step of its last
    /// digit.
    fn number_of(&self, cell: usize) -> Option<(Exact, Exact)> {
        match self.grid.cells[cell].kind {
            CellKind::Weight => self.grams_shown(cell),
            CellKind::Percent | CellKind::Figure => {
                let (_, step) =
                    number_in(&self.grid.cells[cell], &self.maker.words.decimal_mark())?;
                Some((self.share_shown(cell)?, step))
            }
        }
    }

    fn is_known(&self, unknown: usize) -> bool {
        self.grid.cell_of(unknown).is_some_and(|cell| self.known[cell])
    }

    fn shown(&self, cell: usize) -> String {
        let (shown, unit) = &self.grid.cells[cell].shown;
        // What is reckoned with is what stands there.
        format!("{} {unit}", shown.trim_start_matches("≈ "))
    }

    /// Weights added up: `800 g + 150 g`.
    fn added(&self, unknowns: &[usize]) -> String {
        let cells = unknowns.iter().filter_map(|it| self.grid.cell_of(*it));
        let parts: Vec<String> = cells.map(|cell| self.shown(cell)).collect();
        match parts.len() {
            1 => parts.concat(),
            _ => format!("({})", parts.join(" + ")),
        }
    }

    /// `74 % × 1 kg = 740 g`, from the percentage on the same line.
    fn by_percent(&mut self, cell: usize) -> Option<String> {
        let own = &self.grid.cells[cell];
        let (column, line) = (own.column, own.line?);
        let percent = self.grid.cells.iter().position(|it| {
            it.kind == CellKind::Percent && it.column == column && it.line == Some(line)
        })?;
        if !self.known[percent] {
            return None;
        }
        let (_, below) = self.grid.share_of(percent)?;
        let below = below.to_vec();
        if !below.iter().all(|it| self.is_known(*it)) {
            return None;
        }
        self.sharpen(percent, cell, &below);
        let (share, flour) = (self.shown(percent), self.added(&below));
        let comes_to = |own: &Self| Some(own.share_shown(percent)? * own.grams_of(&below)?);
        Some(format!("{share} × {flour} {}", self.end(comes_to, cell)))
    }

    /// Gives a percentage that stands as many digits as its blank needs.
    fn sharpen(&mut self, percent: usize, cell: usize, below: &[usize]) {
        if self.grid.cells[percent].hidden {
            return;
        }
        let Some((wanted, step)) = self.grams_shown(cell) else { return };
        let flour = below.iter().filter_map(|it| self.grams_shown(self.grid.cell_of(*it)?));
        let flour = flour.fold(Exact::ZERO, |sum, (grams, _)| sum + grams);
        let share = self.grid.cells[percent].worth.clone();
        let first = digits_behind(&self.grid.cells[percent].shown.0);
        for digits in first..=MAX_DIGITS.max(first) {
            let shown = display::percent(&share, digits);
            let Some(worth) = read_exact(&shown) else { return };
            let comes_to = display::to_step(&(worth.one_in::<100>() * &flour), &step);
            if comes_to == wanted || digits == MAX_DIGITS {
                self.grid.cells[percent].shown.0 = self.maker.words.number(&shown);
                return;
            }
        }
    }

    /// `=` where the numbers that are shown come to what a cell shows; `≈` where rounding
    /// has moved its last digit. Notes how far from it a learner may come: by that, and by
    /// what the learner's own numbers may be off.
    fn sign(&self, comes_to: impl Fn(&Self) -> Option<Exact>, cell: usize) -> &'static str {
        self.rough.take();
        let own = comes_to(self);
        let from = self.rough.take().1;
        let (Some(own), Some((wanted, step))) = (own, self.number_of(cell)) else {
            return "=";
        };
        let apart =
            |one: &Exact, other: &Exact| if one > other { one - other } else { other - one };
        // Somebody may have rounded to what the key has.
        let (on_key, key_step) =
            self.on_key[cell].clone().unwrap_or((wanted.clone(), step.clone()));
        let mut far = apart(&own, &on_key);
        for (other, off) in self.off.iter().enumerate().filter(|(_, off)| !off.is_zero()) {
            *self.bent.borrow_mut() = Some((other, off.clone()));
            let bent = comes_to(self);
            self.bent.take();
            far += bent.map_or(Exact::ZERO, |bent| apart(&bent, &own));
        }
        // Half a step may be rounded either way.
        let steps = far.over(&key_step).map_or(Exact::ZERO, |it| (it + ratio(1, 2)).floor());
        *self.found.borrow_mut() = steps * &key_step;
        let is_rough = display::to_step(&own, &step) != wanted;
        *self.rough.borrow_mut() = (is_rough, from, own);
        if is_rough { "≈" } else { "=" }
    }

    /// What a line comes to: `= 819 g`; where the table shows another number, as its columns
    /// add up on the scale, first the one that a learner gets: `= 818 g ≈ 819 g`.
    fn end(&self, comes_to: impl Fn(&Self) -> Option<Exact>, cell: usize) -> String {
        let shown = self.shown(cell);
        let own = comes_to(self);
        self.sign(comes_to, cell);
        let Some((own, (wanted, step))) = own.zip(self.number_of(cell)) else {
            return format!("= {shown}");
        };
        let (kind, unit) = (self.grid.cells[cell].kind, self.grid.cells[cell].shown.1.as_str());
        let digits = digits_behind(&self.grid.cells[cell].shown.0);
        // In the unit of the cell, so that both can be compared at a glance.
        let each = match (kind, unit) {
            (CellKind::Weight, "kg") => int(1000),
            (CellKind::Weight, "g") => int(1),
            (CellKind::Weight, _) => {
                // Ounces that stand as eighths are eighths.
                let step = if digits == 0 { step } else { ounce() * display::last_digit(digits) };
                let got = ShownWeight { grams: display::to_step(&own, &step), step };
                if got.grams == display::to_step(&wanted, &got.step) {
                    return format!("= {shown}");
                }
                let (number, unit) = self.maker.weight_shown(&got);
                return format!("= {number} {unit} ≈ {shown}");
            }
            _ => ratio(1, 100),
        };
        if display::to_step(&own, &step) == wanted {
            return format!("= {shown}");
        }
        let number = own.over(&each).map(|it| display::fixed(&it, digits)).unwrap_or_default();
        format!("= {} {unit} ≈ {shown}", self.maker.words.number(&number))
    }

    /// By how much what stands in a cell is bent, while that is tried.
    fn bend(&self, cell: usize) -> Exact {
        self.rough.borrow_mut().1.push(cell);
        let bent = self.bent.borrow();
        bent.as_ref().filter(|(at, _)| *at == cell).map_or(Exact::ZERO, |(_, by)| by.clone())
    }

    /// What some weights show together, in grams.
    fn grams_of(&self, unknowns: &[usize]) -> Option<Exact> {
        unknowns.iter().try_fold(Exact::ZERO, |sum, unknown| {
            let (grams, _) = self.grams_shown(self.grid.cell_of(*unknown)?)?;
            Some(sum + grams)
        })
    }

    /// What a percentage shows, as a share of one.
    fn share_shown(&self, cell: usize) -> Option<Exact> {
        let (share, _) = number_in(self.grid.cells.get(cell)?, &self.maker.words.decimal_mark())?;
        Some(share + self.bend(cell))
    }

    /// What a weight shows, in grams, and the step of its last digit.
    fn grams_shown(&self, cell: usize) -> Option<(Exact, Exact)> {
        let own = self.grid.cells.get(cell)?;
        let (grams, step) = number_in(own, &self.maker.words.decimal_mark())?;
        Some((grams + self.bend(cell), step))
    }

    /// `9.25 kg − 800 g = 8.45 kg`, where all other weights of a sum are known.
    fn by_sum(&self, cell: usize, whole_parts_only: bool) -> Option<String> {
        let unknown = self.grid.unknown_of(cell)?;
        let own = |row: &&EquationRow| row.get(unknown).is_some_and(|it| !it.is_zero());
        let is_plain = |row: &&EquationRow| {
            let is_whole = |it: &Exact| it.is_zero() || *it == Exact::ONE || *it == -Exact::ONE;
            !whole_parts_only || row.iter().all(is_whole)
        };
        self.grid.relations().iter().filter(own).filter(is_plain).find_map(|row| {
            let sign = row[unknown].clone();
            let mut written = String::new();
            let mut terms: Vec<(bool, Exact, usize)> = Vec::new();
            for (other, factor) in row.iter().enumerate() {
                if other == unknown || factor.is_zero() {
                    continue;
                }
                if !self.is_known(other) {
                    return None;
                }
                // On the other side of the sum its sign turns round.
                let is_plus = (*factor > Exact::ZERO) != (sign > Exact::ZERO);
                let factor = factor.over(&sign)?;
                let factor = if factor < Exact::ZERO { -factor } else { factor };
                terms.push((is_plus, factor, self.grid.cell_of(other)?));
            }
            terms.sort_by_key(|(is_plus, ..)| !is_plus);
            for (at, (is_plus, factor, cell)) in terms.iter().enumerate() {
                let sign = match (at, is_plus) {
                    (0, true) => "",
                    (_, true) => " + ",
                    (_, false) => " − ",
                };
                written.push_str(sign);
                if *factor != Exact::ONE {
                    written.push_str(&format!("{} × ", self.share_said(factor)));
                }
                written.push_str(&self.shown(*cell));
            }
            if let [(true, factor, other)] = terms.as_slice()
                && *factor == Exact::ONE
            {
                let other = *other;
                self.sign(|own| Some(own.grams_shown(other)?.0), cell);
                return Some(format!("{} = {}", self.grid.name_of(other), self.shown(cell)));
            }
            let is_sum = terms.first().is_some_and(|(is_plus, ..)| *is_plus);
            let comes_to = |own: &Self| {
                terms.iter().try_fold(Exact::ZERO, |sum, (is_plus, factor, cell)| {
                    let grams = own.grams_shown(*cell)?.0 * factor;
                    Some(if *is_plus { sum + grams } else { sum - grams })
                })
            };
            let end = self.end(comes_to, cell);
            is_sum.then(|| format!("{written} {end}"))
        })
    }

    /// `50 %`, of a share of one.
    fn share_said(&self, share: &Exact) -> String {
        let percent = display::trimmed(&(share * int(100)), MAX_DIGITS);
        format!("{} %", self.maker.words.number(&percent))
    }

    /// `740 g ÷ 74 % = 1 kg`: the only flour of a column from another line of it.
    fn flour_by_percent(&mut self, cell: usize) -> Option<String> {
        let unknown = self.grid.unknown_of(cell)?;
        let line = (0..self.grid.cells.len()).find(|at| {
            let share = self.grid.share_of(*at).filter(|_| self.known[*at]);
            let is_percent = self.grid.cells[*at].kind == CellKind::Percent;
            is_percent
                && !self.grid.cells[*at].worth.is_zero()
                && share.is_some_and(|(above, below)| {
                    below == [unknown]
                        && above != [unknown]
                        && above.iter().all(|it| self.is_known(*it))
                })
        })?;
        let above = self.grid.share_of(line)?.0.to_vec();
        self.sharpen_below(line, cell, &above);
        let comes_to = |own: &Self| own.grams_of(&above)?.over(&own.share_shown(line)?);
        let end = self.end(comes_to, cell);
        Some(format!("{} ÷ {} {end}", self.added(&above), self.shown(line)))
    }

    /// `74 % × 1.76 kg ÷ (80 % + 20 % + 74 % + 2 %) = 740 g`: from the sum of a column of which
    /// every percentage is known.
    fn by_column(&mut self, cell: usize) -> Option<String> {
        let own = &self.grid.cells[cell];
        let (column, line) = (own.column, own.line?);
        let weighed = |it: &&Cell| it.kind == CellKind::Weight && it.column == column;
        let sum = self.grid.cells.iter().position(|it| weighed(&it) && it.line.is_none())?;
        let lines: Vec<usize> =
            self.grid.cells.iter().filter(weighed).filter_map(|it| it.line).collect();
        let percents: Option<Vec<usize>> = lines
            .iter()
            .map(|line| {
                self.grid.cells.iter().position(|it| {
                    let is_percent = it.kind == CellKind::Percent;
                    is_percent && it.column == column && it.line == Some(*line)
                })
            })
            .collect();
        let percents = percents?;
        let below = |at: usize| self.grid.share_of(at).map(|(_, below)| below);
        let is_known = self.known[sum] && percents.iter().all(|it| self.known[*it]);
        let first = below(*percents.first()?)?;
        let is_alike = percents.iter().all(|it| below(*it) == Some(first));
        let all = percents.iter().map(|it| &self.grid.cells[*it].worth);
        let all = all.fold(Exact::ZERO, |sum, it| sum + it);
        let percent = percents[lines.iter().position(|it| *it == line)?];
        let exact = (&self.grid.cells[percent].worth * &self.grid.cells[sum].worth).over(&all);
        if !is_known || !is_alike || exact.as_ref() != Some(&self.grid.cells[cell].worth) {
            return None;
        }
        let comes_to = |own: &Self| {
            let mut all = percents.iter().map(|it| own.share_shown(*it));
            let all = all.try_fold(Exact::ZERO, |sum, it| Some(sum + it?))?;
            (own.share_shown(percent)? * own.grams_shown(sum)?.0).over(&all)
        };
        // As many digits as it needs.
        for digits in 1..=MAX_DIGITS {
            if self.sign(comes_to, cell) == "=" {
                break;
            }
            for at in &percents {
                let cell = &mut self.grid.cells[*at];
                if !cell.hidden && digits_behind(&cell.shown.0) < digits {
                    let shown = display::percent(&cell.worth, digits);
                    cell.shown.0 = self.maker.words.number(&shown);
                }
            }
        }
        let end = self.end(comes_to, cell);
        let parts: Vec<String> = percents.iter().map(|it| self.shown(*it)).collect();
        let (share, whole) = (self.shown(percent), self.shown(sum));
        Some(format!("{share} × {whole} ÷ ({}) {end}", parts.join(" + ")))
    }

    /// The same as [`Self::sharpen`] for a blank that is divided by the percentage.
    fn sharpen_below(&mut self, percent: usize, cell: usize, above: &[usize]) {
        if self.grid.cells[percent].hidden {
            return;
        }
        let Some((wanted, step)) = self.grams_shown(cell) else { return };
        let grams = above.iter().filter_map(|it| self.grams_shown(self.grid.cell_of(*it)?));
        let grams = grams.fold(Exact::ZERO, |sum, (grams, _)| sum + grams);
        let share = self.grid.cells[percent].worth.clone();
        let first = digits_behind(&self.grid.cells[percent].shown.0);
        for digits in first..=MAX_DIGITS.max(first) {
            let shown = display::percent(&share, digits);
            let Some(worth) = read_exact(&shown) else { return };
            let Some(flour) = (&grams * int(100)).over(&worth) else { continue };
            if display::to_step(&flour, &step) == wanted || digits == MAX_DIGITS {
                self.grid.cells[percent].shown.0 = self.maker.words.number(&shown);
                return;
            }
        }
    }

    /// `740 g ÷ 1 kg = 74 %`
    fn by_weights(&self, cell: usize) -> Option<String> {
        let (above, below) = self.grid.share_of(cell)?;
        let all_known = above.iter().chain(below).all(|it| self.is_known(*it));
        let comes_to = |own: &Self| own.grams_of(above)?.over(&own.grams_of(below)?);
        all_known.then(|| {
            let end = self.end(comes_to, cell);
            format!("{} ÷ {} {end}", self.added(above), self.added(below))
        })
    }

    /// `Hydration = 74 %`: a figure below the table says it.
    fn by_figure(&self, cell: usize) -> Option<String> {
        let (above, below) = self.grid.share_of(cell)?;
        let is_it = |at: &usize| {
            let is_figure = self.grid.cells[*at].kind == CellKind::Figure && self.known[*at];
            is_figure && self.grid.share_of(*at) == Some((above, below))
        };
        let figure = (0..self.grid.cells.len()).find(is_it)?;
        self.sign(|own| own.share_shown(figure), cell);
        Some(format!("{} = {}", self.grid.name_of(figure), self.shown(cell)))
    }

    /// `100 % − 15 % − 5 % = 80 %`: all flours of a column are a hundred per cent.
    fn by_flours(&self, cell: usize) -> Option<String> {
        let (above, below) = self.grid.share_of(cell)?;
        let [own] = above else { return None };
        if !below.contains(own) {
            return None;
        }
        let others: Option<Vec<usize>> = below
            .iter()
            .filter(|it| *it != own)
            .map(|flour| self.percent_of(*flour, below))
            .collect();
        let others = others?;
        if others.is_empty() {
            let all = self.maker.words.say("booklet-all-flour");
            return Some(format!("{all} = {}", self.shown(cell)));
        }
        let parts = others.iter().map(|it| format!(" − {}", self.shown(*it)));
        let left = |own: &Self| {
            others.iter().try_fold(Exact::ONE, |sum, it| Some(sum - own.share_shown(*it)?))
        };
        Some(format!("100 %{} {}", parts.collect::<String>(), self.end(left, cell)))
    }

    /// The known percentage of a weight among those of the same base.
    fn percent_of(&self, unknown: usize, below: &[usize]) -> Option<usize> {
        (0..self.grid.cells.len()).find(|at| {
            let is_it = |(above, base): (&[usize], &[usize])| above == [unknown] && base == below;
            self.known[*at]
                && self.grid.cells[*at].kind == CellKind::Percent
                && self.grid.share_of(*at).is_some_and(is_it)
        })
    }

    /// `70 % + 4 % = 74 %`, of a figure.
    fn by_percents(&self, cell: usize) -> Option<String> {
        let (above, below) = self.grid.share_of(cell)?;
        let percents: Option<Vec<usize>> =
            above.iter().map(|it| self.percent_of(*it, below)).collect();
        let percents = percents?;
        if let [only] = percents.as_slice() {
            self.sign(|own| own.share_shown(*only), cell);
            return Some(format!("{} = {}", self.grid.name_of(*only), self.shown(cell)));
        }
        let parts: Vec<String> = percents.iter().map(|it| self.shown(*it)).collect();
        let sum = |own: &Self| {
            percents.iter().try_fold(Exact::ZERO, |sum, it| Some(sum + own.share_shown(*it)?))
        };
        let end = self.end(sum, cell);
        (!parts.is_empty()).then(|| format!("{} {end}", parts.join(" + ")))
    }

    /// A blank that follows from several equations at once: as the sum of the weights that
    /// stand which it comes to.
    fn at_once(&self, cell: usize) -> String {
        let stands: Vec<usize> =
            (0..self.known.len()).filter(|it| !self.grid.cells[*it].hidden).collect();
        let count = self.grid.row_of(&self.grid.cells[cell]).len();
        let told = |row: EquationRow, at: Option<usize>| {
            let mut row = row;
            row.resize(count + stands.len(), Exact::ZERO);
            if let Some(at) = at {
                row[count + at] = -Exact::ONE;
            }
            row
        };
        let mut equations = Equations::default();
        for row in self.grid.relations() {
            let mut row = row.clone();
            row.resize(count, Exact::ZERO);
            equations.demand(told(row, None));
        }
        for (at, standing) in stands.iter().enumerate() {
            equations.demand(told(self.grid.row_of(&self.grid.cells[*standing]), Some(at)));
        }
        let left = equations.reduced(told(self.grid.row_of(&self.grid.cells[cell]), None));
        let terms = stands.iter().enumerate().filter_map(|(at, standing)| {
            let factor = left.get(count + at).filter(|it| !it.is_zero())?;
            let is_weight = self.grid.cells[*standing].kind == CellKind::Weight;
            // A learner reckons with what is printed of it.
            let printed = read_exact(&display::trimmed(factor, FACTOR_DIGITS));
            is_weight.then(|| (printed.unwrap_or_else(|| factor.clone()), *standing))
        });
        let terms: Vec<(Exact, usize)> = terms.collect();
        let parts: Vec<String> = terms
            .iter()
            .map(|(factor, cell)| match *factor == Exact::ONE {
                true => self.shown(*cell),
                false => {
                    let factor = self.maker.words.number(&display::trimmed(factor, FACTOR_DIGITS));
                    format!("{factor} × {}", self.shown(*cell))
                }
            })
            .collect();
        if parts.is_empty() || self.grid.cells[cell].kind != CellKind::Weight {
            return self.shown(cell);
        }
        let comes_to = |own: &Self| {
            terms.iter().try_fold(Exact::ZERO, |sum, (factor, cell)| {
                Some(sum + own.grams_shown(*cell)?.0 * factor)
            })
        };
        format!("{} {}", parts.join(" + "), self.end(comes_to, cell))
    }
}

/// What a cell shows, in grams or as a share of one, and the step of its last digit.
fn number_in(cell: &Cell, mark: &str) -> Option<(Exact, Exact)> {
    let (shown, unit) = &cell.shown;
    if cell.kind != CellKind::Weight {
        let share = read_exact(&shown.replace(mark, "."))?.one_in::<100>();
        return Some((share, display::last_digit(digits_behind(shown)).one_in::<100>()));
    }
    if unit == "oz" || unit == "lb" {
        return ounces_shown(shown, unit, mark);
    }
    let is_of_number = |letter: &char| letter.is_ascii_digit() || mark.contains(*letter);
    let plain: String = shown.chars().filter(is_of_number).collect();
    let number = read_exact(&plain.replace(mark, "."))?;
    let worth = match unit.as_str() {
        "kg" => int(1000),
        "g" => int(1),
        _ => return None,
    };
    let step = display::last_digit(digits_behind(shown)) * &worth;
    Some((number * worth, step))
}

/// `1 lb 4⅞`, `12.870`: in grams, and the step it stands at, which is an eighth of an ounce where
/// it is one.
fn ounces_shown(shown: &str, unit: &str, mark: &str) -> Option<(Exact, Exact)> {
    let (pounds, rest) = match shown.split_once(" lb ") {
        Some((pounds, rest)) => (read_exact(pounds.trim_start_matches("≈ "))?, rest),
        None => (Exact::ZERO, shown),
    };
    let rest = rest.trim_start_matches("≈ ").replace(mark, ".");
    let fraction = rest.chars().last().and_then(|it| "⅛¼⅜½⅝¾⅞".chars().position(|one| one == it));
    let whole = rest.trim_end_matches(|it: char| !it.is_ascii_digit());
    let whole = if whole.is_empty() { Exact::ZERO } else { read_exact(whole)? };
    let eighths = fraction.map_or(0, |at| i64::try_from(at + 1).unwrap_or(0));
    let ounces = pounds * int(16) + whole + ratio(eighths, 8);
    let ounces = if unit == "lb" { ounces * int(16) } else { ounces };
    // With a mark it is as fine as its digits; a fraction or a whole number is of eighths.
    let digits = digits_behind(&rest);
    let step = if digits == 0 { ratio(1, 8) } else { display::last_digit(digits) };
    Some((ounces * ounce(), step * ounce()))
}

/// Digits behind the mark of a number as it is shown.
fn digits_behind(shown: &str) -> u8 {
    let behind = shown.rfind([',', '.']).and_then(|at| shown.get(at + 1..));
    let digits = behind.filter(|it| it.bytes().all(|byte| byte.is_ascii_digit()));
    u8::try_from(digits.map_or(0, str::len)).unwrap_or(0)
}

// ---- On paper ----------------------------------------------------------------------------

impl Sheet {
    /// Whether this one prints what another one of the same formula hides: weights where both are
    /// of the same yield.
    pub fn gives_away(&self, other: &Self) -> bool {
        let pairs = self.grid.cells.iter().zip(&other.grid.cells);
        pairs.into_iter().any(|(own, hidden)| {
            let is_same =
                (own.kind, own.column, own.line) == (hidden.kind, hidden.column, hidden.line);
            let is_told = own.kind != CellKind::Weight || own.worth == hidden.worth;
            is_same && is_told && hidden.hidden && !own.hidden
        })
    }

    /// What some rows of another page print that is hidden here: the name of a blank.
    pub fn told_by(&self, maker: &Maker, rows: &[TableRow]) -> Option<String> {
        let mark = maker.words.decimal_mark();
        let hidden = (0..self.grid.cells.len()).filter(|at| self.grid.cells[*at].hidden);
        let is_told = |at: &usize| {
            let own = &self.grid.cells[*at];
            let name = self.name_elsewhere(own, rows);
            let same = rows.iter().filter(|row| row.name == name);
            let mut cells = same.flat_map(|row| &row.cells).filter(|it| !it.blank);
            cells.any(|cell| {
                let is_of_kind = match own.kind {
                    CellKind::Weight => cell.unit != "%",
                    _ => cell.unit == "%",
                };
                let mut other = own.clone();
                other.shown = (cell.shown.clone(), cell.unit.clone());
                let number = number_in(&other, &mark).filter(|_| is_of_kind);
                number.is_some_and(|(seen, step)| (seen - &own.worth).abs() <= step)
            })
        };
        hidden.clone().find(is_told).map(|at| self.grid.name_of(at))
    }

    /// What an exercise of some rows calls the line of a cell: one about a stage alone leaves out
    /// whose lines they are.
    fn name_elsewhere(&self, cell: &Cell, rows: &[TableRow]) -> String {
        let column = &self.grid.columns[cell.column];
        let Some(line) = cell.line.and_then(|line| column.lines.get(line)) else {
            return column.title.clone();
        };
        let of_mix = format!("{} ({})", named(line), column.title);
        let has = |name: &str| rows.iter().any(|row| row.name == name);
        match cell.column == 0 || !has(&of_mix) && has(&column.title) {
            true => named(line),
            false => of_mix,
        }
    }

    /// The learner's page.
    pub fn with_blanks(&self, maker: &Maker) -> TablePart {
        self.table(maker, self.title.clone(), true)
    }

    /// The key: the table with every blank filled in, and how each follows.
    pub fn key(self, maker: &Maker) -> Vec<BookletPart> {
        let title = maker.words.fill("booklet-key", &[("worksheet", &self.title)]);
        let mut table = TablePart { key: true, ..self.table(maker, title, false) };
        if !self.on_paper.is_empty() {
            let list = self.on_paper.join("; ");
            table.notes.push(maker.words.fill("booklet-on-paper", &[("list", &list)]));
        }
        let lines = self.answers.iter().map(|it| maker.labelled(&it.name, &it.working)).collect();
        let title = maker.words.say("booklet-workings");
        vec![BookletPart::Table(table), BookletPart::Lines { title, lines }]
    }

    fn table(&self, maker: &Maker, title: String, is_blank: bool) -> TablePart {
        let grid = &self.grid;
        let weight = maker.words.say("print-weight");
        let columns = grid.columns.iter().flat_map(|column| {
            [
                TableColumn { title: column.title.clone(), under: "%".into() },
                TableColumn { title: String::new(), under: weight.clone() },
            ]
        });
        let mut names: Vec<String> = Vec::new();
        for line in grid.columns.iter().flat_map(|column| &column.lines) {
            let name = named(line);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let mut rows: Vec<TableRow> = names
            .into_iter()
            .map(|name| {
                let cells = (0..grid.columns.len()).flat_map(|column| {
                    let line = grid.columns[column].lines.iter().position(|it| named(it) == name);
                    let cell = |kind| {
                        line.map_or_else(TableCell::default, |line| {
                            self.cell(kind, column, Some(line), is_blank)
                        })
                    };
                    [cell(CellKind::Percent), cell(CellKind::Weight)]
                });
                TableRow { kind: "line".into(), cells: cells.collect(), name }
            })
            .collect();
        let sums = (0..grid.columns.len()).flat_map(|column| {
            [TableCell::default(), self.cell(CellKind::Weight, column, None, is_blank)]
        });
        let name = maker.words.say("print-total");
        rows.push(TableRow { kind: "sum".into(), name, cells: sums.collect() });
        let figures = grid.cells.iter().filter(|cell| cell.kind == CellKind::Figure);
        for ((_, label), cell) in grid.figures.iter().zip(figures) {
            let mut cells = vec![TableCell::default(), filled(cell, is_blank)];
            cells.resize(2 * grid.columns.len(), TableCell::default());
            rows.push(TableRow { kind: "figure".into(), name: label.clone(), cells });
        }
        TablePart {
            title,
            lead: vec![self.makes.clone()],
            names: maker.words.say("print-ingredient"),
            columns: columns.collect(),
            rows,
            notes: self.notes(maker),
            ..TablePart::default()
        }
    }

    /// What a culture is made of, and how near an answer has to be where it is not exact.
    fn notes(&self, maker: &Maker) -> Vec<String> {
        let culture = self.grid.culture.iter().map(|it| culture_said(maker, it));
        // Whoever rounds on the way, or what was rounded before, may come to another last digit.
        let is_rounded = |it: &BlankAnswer| {
            let cell = &self.grid.cells[it.cell];
            let seen = number_in(cell, &maker.words.decimal_mark()).map(|(seen, _)| seen);
            cell.kind == CellKind::Weight && seen.is_some_and(|seen| seen != it.comes_to)
        };
        let is_about = self
            .answers
            .iter()
            .any(|it| !it.off.is_zero() || it.working.contains('≈') || is_rounded(it));
        culture.chain(is_about.then(|| maker.words.say("booklet-rounded"))).collect()
    }

    fn cell(
        &self,
        kind: CellKind,
        column: usize,
        line: Option<usize>,
        is_blank: bool,
    ) -> TableCell {
        let own = self
            .grid
            .cells
            .iter()
            .find(|cell| cell.kind == kind && cell.column == column && cell.line == line);
        let soft = || {
            let line: Option<&LinePart> = self.grid.columns[column].lines.get(line?);
            line?.soft.clone().filter(|_| kind == CellKind::Weight)
        };
        match own {
            Some(cell) => filled(cell, is_blank),
            None => TableCell::of(soft().unwrap_or_default(), ""),
        }
    }
}

/// `rye culture = 50 % dark rye flour + 50 % water`: what the total counts of a culture.
fn culture_said(maker: &Maker, (name, shares): &(String, Vec<(String, Exact)>)) -> String {
    let part = |(name, share): &(String, Exact)| {
        let percent = display::trimmed(&(share * int(100)), MAX_DIGITS);
        format!("{} % {name}", maker.words.number(&percent))
    };
    format!("{name} = {}", shares.iter().map(part).collect::<Vec<_>>().join(" + "))
}

fn filled(cell: &Cell, is_blank: bool) -> TableCell {
    let (shown, unit) = &cell.shown;
    let unit = if cell.kind == CellKind::Percent { "" } else { unit.as_str() };
    match (cell.hidden, is_blank) {
        (true, true) => TableCell { blank: true, unit: unit.into(), ..TableCell::default() },
        (hidden, _) => TableCell { strong: hidden, ..TableCell::of(shown, unit) },
    }
}
