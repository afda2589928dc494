//! Exercises made from formulas, each with its key and how the answer follows.
//!
//! Numbers are drawn from what a formula means, the exercise, its place among its kind, the
//! level and the seat, and from nothing else: a new text or a new date changes none.

use super::compare::named;
use super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::maker::Maker;
use crate::check;
use crate::diag::{Finding, Level as Severity};
use crate::formula::{
    House, How, NoWarmth, Reason, Worked, inherited, no_warmth, warmth, work, work_as,
};
use crate::print::document::{BarKind, Document, LineKind, LinePart};
use crate::print::findings as say;
use crate::quantity::display::{fixed, read_exact, to_step};
use crate::quantity::{Exact, Unit, int, ratio};
use crate::source::Span;
use crate::syntax::booklet::{Exercise, ExerciseKind, FormulaYield, Level, Worksheet};
use crate::syntax::tree::{Amount, Formula, Makes, Mix, Name, Quantity, Target};

/// How often a question is drawn again that stands on the sheet already.
const MAX_DRAWS: usize = 40;

/// Minutes of a day.
const DAY: i64 = 1440;

/// One exercise: a table with some cells to fill in.
pub struct Task {
    title: String,
    lead: Vec<String>,
    names: String,
    columns: Vec<String>,
    rows: Vec<(String, Vec<TaskCell>)>,
    /// How the answer follows, a line each.
    pub workings: Vec<String>,
    /// Steps of arithmetic that the longest answer takes.
    steps: usize,
}

struct TaskCell {
    shown: String,
    unit: String,
    hidden: bool,
}

fn given(shown: impl Into<String>, unit: impl Into<String>) -> TaskCell {
    TaskCell { shown: shown.into(), unit: unit.into(), hidden: false }
}

fn asked(shown: impl Into<String>, unit: impl Into<String>) -> TaskCell {
    TaskCell { hidden: true, ..given(shown, unit) }
}

impl Task {
    /// Whether another one is the same question.
    fn asks_as(&self, other: &Self) -> bool {
        let said = |task: &Self| {
            let cell = |it: &TaskCell| if it.hidden { String::new() } else { it.shown.clone() };
            let rows = task
                .rows
                .iter()
                .map(|(name, cells)| (name.clone(), cells.iter().map(cell).collect::<Vec<_>>()));
            (task.title.clone(), task.lead.clone(), rows.collect::<Vec<_>>())
        };
        said(self) == said(other)
    }

    /// The learner's page.
    pub fn with_blanks(&self) -> TablePart {
        self.table(self.title.clone(), true)
    }

    /// The same with the answers.
    pub fn key(&self, maker: &Maker) -> TablePart {
        let title = maker.words.fill("booklet-key", &[("worksheet", &self.title)]);
        self.table(title, false)
    }

    fn table(&self, title: String, is_blank: bool) -> TablePart {
        let cell = |it: &TaskCell| match (it.hidden, is_blank) {
            (true, true) => {
                TableCell { blank: true, unit: it.unit.clone(), ..TableCell::default() }
            }
            (hidden, _) => TableCell { strong: hidden, ..TableCell::of(&it.shown, &it.unit) },
        };
        let rows = self.rows.iter().map(|(name, cells)| TableRow {
            kind: "line".into(),
            name: name.clone(),
            cells: cells.iter().map(cell).collect(),
        });
        let column = |title: &String| TableColumn { title: title.clone(), under: String::new() };
        TablePart {
            title,
            lead: self.lead.clone(),
            names: self.names.clone(),
            columns: self.columns.iter().map(column).collect(),
            rows: rows.collect(),
            ..TablePart::default()
        }
    }
}

/// Numbers that are the same on every machine for ever.
pub struct Draw(u64);

impl Draw {
    /// Begins from some words (FNV-1a, 64 bit).
    fn of(words: &[String]) -> Self {
        let mut hash = 0xcbf2_9ce4_8422_2325_u64;
        for byte in words.iter().flat_map(|it| it.bytes().chain([0])) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        Self(hash)
    }

    /// One of some numbers from 0.
    fn below(&mut self, count: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % (count.max(1) as u64)).unwrap_or(0)
    }

    fn one_of<'i, T>(&mut self, all: &'i [T]) -> Option<&'i T> {
        all.get(self.below(all.len()))
    }
}

/// What a formula means, for drawing numbers: its lines with their exact shares.
fn meaning(document: &Document) -> String {
    let total = document.total.iter();
    let mixes = document.mixes.iter().flat_map(|mix| &mix.lines);
    let line = |it: &LinePart| {
        let share = it.percent_exact.as_deref().unwrap_or_default();
        format!("{}{}{share};", it.key, it.role.as_deref().unwrap_or_default())
    };
    total.chain(mixes).map(line).collect()
}

impl Maker<'_> {
    /// The exercises of a worksheet for a seat; what can't be made of its formula is told.
    pub fn tasks(&self, sheet: &Worksheet, seat: u32) -> Vec<Task> {
        if sheet.exercises.is_empty() {
            return Vec::new();
        }
        let Some((worked, document)) = self.made(&sheet.of) else { return Vec::new() };
        let level = sheet.level.unwrap_or(Level::First);
        let mut tasks = Vec::new();
        let mut places: Vec<(&str, u32)> = Vec::new();
        for exercise in &sheet.exercises {
            for _ in 0..exercise.times {
                let word = exercise.what.word();
                let place = places.iter().filter(|(known, _)| *known == word).count();
                places.push((word, 0));
                let mut seeds = vec![
                    meaning(&document),
                    word.to_owned(),
                    place.to_string(),
                    format!("{level:?}"),
                    seat.to_string(),
                ];
                let draw = |seeds: &[String]| {
                    self.task(exercise, &sheet.of, &worked, &document, &mut Draw::of(seeds))
                };
                let Some(mut task) = draw(&seeds) else { continue };
                // The same numbers a second time would be no exercise.
                for again in 0..MAX_DRAWS {
                    if !tasks.iter().any(|known: &Task| known.asks_as(&task)) {
                        break;
                    }
                    seeds.push(again.to_string());
                    task = draw(&seeds).unwrap_or(task);
                }
                if tasks.iter().any(|known| known.asks_as(&task)) {
                    let why = "there is no other one to draw: ask for fewer";
                    self.say(say::exercise_not_possible::finding(exercise.span, word, why));
                    break;
                }
                if !level.holds(task.steps) && sheet.level.is_some() {
                    let steps = task.steps;
                    self.say(say::level_not_reached::finding(exercise.span, level.word(), steps));
                }
                tasks.push(task);
            }
        }
        tasks
    }

    fn task(
        &self,
        exercise: &Exercise,
        of: &FormulaYield,
        worked: &Worked,
        document: &Document,
        draw: &mut Draw,
    ) -> Option<Task> {
        let (span, own) = (exercise.span, worked);
        let made = match &exercise.what {
            ExerciseKind::Scale(makes) => {
                self.scale(makes.as_ref(), of, (worked, document), draw, span)
            }
            ExerciseKind::TrueHydration => self.true_hydration(document, draw),
            ExerciseKind::Substitute(parts) => self.substitute(parts.as_ref(), document, draw),
            ExerciseKind::Starter(stage, wanted) => {
                self.starter(stage.as_ref(), wanted.as_ref(), document, draw)
            }
            ExerciseKind::WaterTemperature => match self.in_another_room(of, draw) {
                Some((house, formula)) => {
                    let worked = match &of.makes {
                        Some(makes) => work_as(&house, formula, makes, &mut Vec::new()),
                        None => work(&house, formula, &mut Vec::new()),
                    };
                    // Where that is too much for the water, the house's own room stays.
                    self.water_temperature(&worked).or_else(|_| self.water_temperature(own))
                }
                None => self.water_temperature(own),
            },
            ExerciseKind::WhenToBegin(ready) => self.when_to_begin(*ready, document, draw),
            ExerciseKind::Mistake(rule) => self.mistake(rule.as_ref(), &of.formula, document, draw),
        };
        match made {
            Ok(task) => Some(task),
            Err(why) => {
                self.say(say::exercise_not_possible::finding(span, exercise.what.word(), &why));
                None
            }
        }
    }

    fn task_title(&self, id: &str, document: &Document) -> String {
        let what = self.words.say(id);
        format!("{}: {what}", document.title)
    }

    /// `(1234.5, "g")`, by the house's scale.
    fn weight_shown(&self, grams: &Exact) -> (String, String) {
        self.alone(grams, false)
    }

    fn said(&self, grams: &Exact) -> String {
        let (shown, unit) = self.weight_shown(grams);
        format!("{shown} {unit}")
    }

    fn percent_said(&self, share: &Exact) -> String {
        format!("{} %", self.words.number(&fixed(&(share * int(100)), 1)))
    }

    // ---- Scaling ----------------------------------------------------------------------

    fn scale(
        &self,
        makes: Option<&Makes>,
        of: &FormulaYield,
        (worked, document): (&Worked, &Document),
        draw: &mut Draw,
        span: Span,
    ) -> Result<Task, String> {
        let makes = match makes {
            Some(makes) => makes.clone(),
            None => self
                .drawn_yield(worked, draw, span)
                .ok_or("it makes nothing that could be counted")?,
        };
        let other = self.worked_as(&of.formula, Some(&makes)).ok_or("it can't make so much")?;
        let other = self.document_of(&other);
        let grams = |text: &str| read_exact(text).unwrap_or_default();
        let (before, after) = (grams(&document.makes.dough.grams), grams(&other.makes.dough.grams));
        let factor = after.over(&before).ok_or("it weighs nothing")?;
        let mut rows = Vec::new();
        let mut first = None;
        for (mix, new) in document.mixes.iter().zip(&other.mixes) {
            for (line, new) in mix.lines.iter().zip(&new.lines) {
                let (Some(own), Some(new)) = (&line.weight, &new.weight) else { continue };
                let name = match document.mixes.len() {
                    1 => named(line),
                    _ => format!("{} ({})", named(line), mix.title),
                };
                first.get_or_insert_with(|| (name.clone(), own.said(), new.said()));
                rows.push((name, vec![given(&own.shown, &own.unit), asked(&new.shown, &new.unit)]));
            }
        }
        let shown = self.words.number(&crate::quantity::display::trimmed(&factor, 4));
        let dough = |it: &Document| it.makes.dough.said();
        let mut workings = vec![format!("{} ÷ {} = {shown}", dough(&other), dough(document))];
        if let Some((name, own, new)) = first {
            workings.push(format!("{name}: {own} × {shown} = {new}"));
        }
        Ok(Task {
            title: self.task_title("exercise-scale", document),
            lead: vec![self.words.fill("exercise-scale-lead", &[("yield", &other.makes.text)])],
            names: self.words.say("print-ingredient"),
            columns: vec![document.makes.text.clone(), other.makes.text.clone()],
            rows,
            workings,
            steps: 2,
        })
    }

    /// Another number of pieces, or another weight of dough.
    fn drawn_yield(&self, worked: &Worked, draw: &mut Draw, span: Span) -> Option<Makes> {
        let quantity = |number: Exact, unit| Quantity { number, unit, decimals: None, span };
        if let [piece] = worked.first().pieces.as_slice()
            && piece.made.count.is_int()
        {
            let counts = [3, 5, 7, 8, 9, 10, 12, 15, 18, 20, 24, 30];
            let counts = counts.into_iter().filter(|it| int(*it) != piece.made.count);
            let counts: Vec<i64> = counts.collect();
            let count = quantity(int(*draw.one_of(&counts)?), Unit::Count);
            let kind = Name { key: piece.made.key.clone(), shown: piece.made.kind.clone(), span };
            return Some(Makes::of_pieces(count, kind, span));
        }
        let kilograms = [2, 3, 4, 5, 6, 8, 10, 12, 15];
        let amount = quantity(int(*draw.one_of(&kilograms)? * 1000), Unit::Gram);
        let flour = Name { key: "flour".into(), shown: "flour".into(), span };
        Some(Makes::of_amount(amount, Target { name: flour, role: None }, span))
    }

    // ---- Hydration --------------------------------------------------------------------

    /// Whether each seat has numbers of its own, where an exercise leaves none to its author.
    fn is_varied(&self) -> bool {
        self.seats() > 1
    }

    /// Parts of what the formula makes, and points of hydration more: what a seat works with.
    fn drawn_wetness(&self, draw: &mut Draw) -> (Exact, Exact) {
        if !self.is_varied() {
            return (Exact::ONE, Exact::ZERO);
        }
        let parts = [ratio(1, 2), ratio(3, 4), int(1), ratio(5, 4), ratio(3, 2), int(2), int(3)];
        let points = [-6, -4, -3, -2, 2, 3, 4, 6, 8];
        let part = draw.one_of(&parts).cloned().unwrap_or(Exact::ONE);
        (part, ratio(*draw.one_of(&points).unwrap_or(&2), 100))
    }

    /// The house on a warmer or cooler day, and the formula in it, where seats differ.
    fn in_another_room(&self, of: &FormulaYield, draw: &mut Draw) -> Option<(House<'_>, &Formula)> {
        if !self.is_varied() || of.everyone {
            return None;
        }
        let formula = self.house.formula(&of.formula.key)?;
        let mut house = self.house.clone();
        let degrees = [-4, -3, -2, -1, 1, 2, 3, 4];
        for warm in [&mut house.settings.room, &mut house.settings.flour] {
            let more = int(*draw.one_of(&degrees).unwrap_or(&1));
            *warm = warm.take().map(|own| own + more);
        }
        Some((house, formula))
    }

    fn true_hydration(&self, document: &Document, draw: &mut Draw) -> Result<Task, String> {
        let dough = document.mixes.last().filter(|mix| mix.kind == "dough");
        let dough = dough.ok_or("it has no dough")?;
        let of_class = |lines: &[LinePart], class: &str| {
            let own = lines.iter().filter(|line| line.class.as_deref() == Some(class));
            let grams = own.filter_map(|line| read_exact(&line.weight.as_ref()?.grams));
            grams.fold(Exact::ZERO, |sum, it| sum + it)
        };
        let (water, flour) = (of_class(&dough.lines, "water"), of_class(&dough.lines, "flour"));
        let all_water = of_class(&document.total, "water");
        let all_flour = of_class(&document.total, "flour");
        let (more_water, more_flour) = (&all_water - &water, &all_flour - &flour);
        let (part, points) = self.drawn_wetness(draw);
        let wetter = |part: &Exact, points: &Exact| (&water + &all_flour * points) * part;
        let points = if wetter(&part, &points) > Exact::ZERO { points } else { Exact::ZERO };
        let water = wetter(&part, &points);
        let [flour, more_water, more_flour] = [flour, more_water, more_flour].map(|it| it * &part);
        let (all_water, all_flour) = (&water + &more_water, &flour + &more_flour);
        if more_flour.is_zero() || document.mixes.len() < 2 {
            return Err("no stage brings flour of its own".into());
        }
        let none = "no flour goes into its dough";
        let added = water.over(&flour).ok_or(none)?;
        let whole = all_water.over(&all_flour).ok_or(none)?;
        let row = |id: &str, grams: &Exact| {
            let (shown, unit) = self.weight_shown(grams);
            (self.words.say(id), vec![given(shown, unit)])
        };
        let percent = |id: &str, share: &Exact| {
            let number = self.words.number(&fixed(&(share * int(100)), 1));
            (self.words.say(id), vec![asked(number, "%")])
        };
        let rows = vec![
            row("exercise-water-added", &water),
            row("exercise-flour-added", &flour),
            row("exercise-water-brought", &more_water),
            row("exercise-flour-brought", &more_flour),
            percent("figure-hydration-of-added-flour", &added),
            percent("figure-true-hydration", &whole),
        ];
        let workings = vec![
            format!(
                "{} ÷ {} = {}",
                self.said(&water),
                self.said(&flour),
                self.percent_said(&added)
            ),
            format!(
                "({} + {}) ÷ ({} + {}) = {}",
                self.said(&water),
                self.said(&more_water),
                self.said(&flour),
                self.said(&more_flour),
                self.percent_said(&whole)
            ),
        ];
        let mut lead = vec![self.words.say("exercise-true-hydration-lead")];
        let mut made = document.makes.text.clone();
        if self.is_varied() {
            // It is no longer what the formula makes.
            lead.push(self.words.say("exercise-varied"));
            made = self.words.say("print-weight");
        }
        Ok(Task {
            title: self.task_title("exercise-true-hydration", document),
            lead,
            names: String::new(),
            columns: vec![made],
            rows,
            workings,
            steps: 3,
        })
    }

    // ---- Other flour --------------------------------------------------------------------

    fn substitute(
        &self,
        parts: Option<&(Name, Name, Quantity)>,
        document: &Document,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let share = |line: &LinePart| read_exact(line.percent_exact.as_deref()?);
        let flours = document.total.iter().filter(|line| line.class.as_deref() == Some("flour"));
        let flours: Vec<&LinePart> = flours.filter(|line| share(line).is_some()).collect();
        let (from, to, part) = match parts {
            Some((from, to, part)) => {
                let own = flours.iter().find(|line| line.key == from.key.as_str());
                let own = own.ok_or_else(|| format!("it has no `{}`", from.shown))?;
                (*own, (to.key.to_string(), to.shown.to_string()), self.house.base(part))
            }
            None => {
                let own = flours.iter().max_by_key(|line| share(line));
                let own = own.ok_or("it has no flour")?;
                let others =
                    ["whole wheat flour", "dark rye flour", "white spelt flour", "bread flour"];
                let known = others
                    .iter()
                    .filter(|key| self.house.ingredient_named(key).is_some() && **key != own.key);
                let known: Vec<&&str> = known.collect();
                let to = draw.one_of(&known).ok_or("no other flour is known")?;
                let shares = [10, 15, 20, 25, 30];
                let part = ratio(*draw.one_of(&shares).unwrap_or(&20), 100);
                (*own, (to.to_string(), to.to_string()), part)
            }
        };
        let own = share(from).unwrap_or_default();
        if part > own {
            return Err(format!("there is less than that of `{}` in it", from.name));
        }
        let flour = read_exact(&document.makes.flour.grams).unwrap_or_default();
        let moved = &flour * &part;
        let other = flours.iter().find(|line| line.key == to.0);
        let has = other.and_then(|line| share(line)).unwrap_or_default() * &flour;
        let left = &flour * &own - &moved;
        let name = self.words.name("name", &to.1).unwrap_or(to.1);
        let cell = |grams: &Exact| self.weight_shown(grams);
        let row = |name: &str, before: &Exact, after: &Exact| {
            let ((one, unit), (two, other)) = (cell(before), cell(after));
            (name.to_owned(), vec![given(one, unit), asked(two, other)])
        };
        let water = document.total.iter().filter(|line| line.class.as_deref() == Some("water"));
        let water = water.filter_map(|line| read_exact(&line.weight.as_ref()?.grams));
        let water = water.fold(Exact::ZERO, |sum, it| sum + it);
        let (whole, unit) = cell(&flour);
        let all_flour = vec![given(whole.clone(), unit.clone()), given(whole, unit)];
        let rows = vec![
            row(&from.name, &(&flour * &own), &left),
            row(&name, &has, &(&has + &moved)),
            // What the part is of: there may be more flours than these two.
            (self.words.say("figure-flour"), all_flour),
            row(&self.words.say("booklet-water"), &water, &water),
        ];
        let percent = self.percent_said(&part);
        let workings = vec![
            format!("{percent} × {} = {}", self.said(&flour), self.said(&moved)),
            format!(
                "{} − {} = {}",
                self.said(&(&flour * &own)),
                self.said(&moved),
                self.said(&left)
            ),
            format!(
                "{} + {} = {}",
                self.said(&has),
                self.said(&moved),
                self.said(&(&has + &moved))
            ),
        ];
        let args = [("part", percent.as_str()), ("from", &from.name), ("to", &name)];
        Ok(Task {
            title: self.task_title("exercise-substitute", document),
            lead: vec![self.words.fill("exercise-substitute-lead", &args)],
            names: self.words.say("print-ingredient"),
            columns: vec![self.words.say("exercise-before"), self.words.say("exercise-after")],
            rows,
            workings,
            steps: 2,
        })
    }

    // ---- Starters -------------------------------------------------------------------------

    fn starter(
        &self,
        stage: Option<&Name>,
        wanted: Option<&Quantity>,
        document: &Document,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let has_culture = |mix: &&crate::print::document::MixPart| {
            mix.lines.iter().any(|line| line.kind == LineKind::Culture)
        };
        let mix = match stage {
            Some(stage) => document
                .mixes
                .iter()
                .find(|mix| crate::syntax::key_of(&mix.name) == stage.key)
                .ok_or_else(|| format!("it has no stage `{}`", stage.shown))?,
            None => {
                document.mixes.iter().find(has_culture).ok_or("no stage of it takes a culture")?
            }
        };
        if !has_culture(&mix) {
            return Err(format!("no culture goes into `{}`", mix.name));
        }
        let weights = [150, 200, 250, 300, 350, 400, 500, 600];
        let wanted = match wanted {
            Some(wanted) => self.house.base(wanted),
            None => int(*draw.one_of(&weights).unwrap_or(&300)),
        };
        let grams = |line: &LinePart| read_exact(&line.weight.as_ref()?.grams);
        let sum = mix.lines.iter().filter_map(grams).fold(Exact::ZERO, |sum, it| sum + it);
        let each = wanted.over(&sum).ok_or("it weighs nothing")?;
        let mut rows = Vec::new();
        let mut workings = vec![format!(
            "{} ÷ {} = {}",
            self.said(&wanted),
            self.said(&sum),
            self.words.number(&crate::quantity::display::trimmed(&each, 4))
        )];
        for line in &mix.lines {
            let Some(own) = grams(line) else { continue };
            let new = &own * &each;
            let ((one, unit), (two, other)) = (self.weight_shown(&own), self.weight_shown(&new));
            workings.push(format!("{}: {one} {unit} → {two} {other}", named(line)));
            rows.push((named(line), vec![given(one, unit), asked(two, other)]));
        }
        let weight = self.said(&wanted);
        let args = [("stage", mix.title.as_str()), ("weight", &weight)];
        Ok(Task {
            title: self.task_title("exercise-starter", document),
            lead: vec![self.words.fill("exercise-starter-lead", &args)],
            names: self.words.say("print-ingredient"),
            columns: vec![self.said(&sum), self.said(&wanted)],
            rows,
            workings,
            steps: 2,
        })
    }

    // ---- Water ------------------------------------------------------------------------------

    fn water_temperature(&self, worked: &Worked) -> Result<Task, String> {
        let why = |it: NoWarmth| no_warmth(it).to_string();
        warmth(worked).map_err(why)?;
        let name = Name {
            key: "water temperature".into(),
            shown: "water temperature".into(),
            ..Name::default()
        };
        let reason = worked.why(&Target { name, role: None }, None);
        let reason = reason.ok_or("nothing says how warm it is to be")?;
        let mut leaves = Vec::new();
        gather(&reason, &mut leaves);
        let degrees = |it: &Exact| {
            (self.words.number(&crate::quantity::display::trimmed(it, 1)), "°C".to_owned())
        };
        let mut rows = Vec::new();
        for leaf in &leaves {
            let (shown, unit) = leaf_words(leaf, &degrees, self);
            rows.push((leaf.what.clone(), vec![given(shown, unit)]));
        }
        let rounded = to_step(&reason.amount, &ratio(1, 10));
        let (shown, unit) = degrees(&rounded);
        rows.push((self.words.say("exercise-water-temperature"), vec![asked(shown, unit)]));
        let mut workings = Vec::new();
        told(&reason, &mut workings);
        let steps = workings.len().max(1);
        let document = self.document_of(worked);
        Ok(Task {
            title: self.task_title("exercise-water-temperature", &document),
            lead: vec![self.words.say("exercise-water-lead")],
            names: String::new(),
            columns: vec![String::new()],
            rows,
            workings,
            steps,
        })
    }

    // ---- Times ------------------------------------------------------------------------------

    fn when_to_begin(
        &self,
        ready: Option<u32>,
        document: &Document,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let day = document.timeline.as_ref().ok_or("it has no times")?;
        let lane =
            day.lanes.last().filter(|lane| !lane.bars.is_empty()).ok_or("it has no times")?;
        let hours: [i64; 9] = [360, 390, 420, 450, 480, 540, 600, 660, 720];
        let ready = ready.map_or_else(|| *draw.one_of(&hours).unwrap_or(&420), i64::from);
        let mut bars: Vec<_> = lane.bars.iter().collect();
        bars.sort_by_key(|bar| bar.from);
        let mut rows = Vec::new();
        let mut workings = Vec::new();
        let mut next = bars.iter().map(|bar| bar.to).max().unwrap_or(day.minutes);
        let mut ends = ready;
        for bar in bars.into_iter().rev() {
            // Up to the next step, so that one begins where the one before it ends.
            let takes = next - bar.from;
            if takes <= 0 {
                continue;
            }
            next = bar.from;
            let begins = ends - takes;
            let time = crate::print::words::minutes(&int(takes));
            let kind = if bar.kind == BarKind::Hands { " ·" } else { "" };
            workings.push(format!(
                "{}: {} − {time} = {}",
                bar.title,
                self.clock(ends),
                self.clock(begins)
            ));
            let cells = vec![given(time, ""), asked(self.clock(begins), "")];
            rows.push((format!("{}{kind}", bar.title), cells));
            ends = begins;
        }
        let args = [("time", self.clock(ready))];
        let args: Vec<(&str, &str)> = args.iter().map(|(key, it)| (*key, it.as_str())).collect();
        let steps = workings.len();
        Ok(Task {
            title: self.task_title("exercise-when-to-begin", document),
            lead: vec![self.words.fill("exercise-when-lead", &args)],
            names: String::new(),
            columns: vec![self.words.say("exercise-takes"), self.words.say("exercise-begins")],
            rows,
            workings,
            steps,
        })
    }

    /// `06:30`, with how many days before where it is not on that day.
    fn clock(&self, minutes: i64) -> String {
        let days = -minutes.div_euclid(DAY);
        let minutes = minutes.rem_euclid(DAY);
        let clock = format!("{:02}:{:02}", minutes / 60, minutes % 60);
        match days {
            0 => clock,
            1 => format!("{clock} ({})", self.words.say("day-before")),
            _ => {
                let days = self.words.fill("days-before", &[("days", &days.to_string())]);
                format!("{clock} ({days})")
            }
        }
    }

    // ---- Slips ------------------------------------------------------------------------------

    /// A formula with one number spoilt, so that `check` finds exactly one thing more in it.
    fn mistake(
        &self,
        rule: Option<&Name>,
        name: &Name,
        document: &Document,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let formula = self.house.formula(&name.key).ok_or("there is no such formula")?;
        let sound = inherited(self.house, formula).into_owned();
        let before = judged(self, &sound).ok_or("it can't be worked out")?;
        let mut slips: Vec<Slip> = slips_of(&sound)
            .into_iter()
            .filter_map(|spoilt| {
                let after = judged(self, &spoilt.formula)?;
                let mut new: Vec<&str> =
                    after.into_iter().filter(|it| !before.contains(it)).collect();
                new.dedup();
                match new.as_slice() {
                    [one] => Some(Slip { rule: Some(*one), ..spoilt }),
                    _ => None,
                }
            })
            .collect();
        if let Some(rule) = rule {
            slips.retain(|slip| slip.rule.is_some_and(|own| *own == *rule.key));
        }
        let mut chosen = None;
        while chosen.is_none() && !slips.is_empty() {
            let at = draw.below(slips.len());
            let slip = slips.swap_remove(at);
            let right = right_percent(document, &slip.key);
            let spoilt = self.spoilt_lines(&slip.formula);
            // What a learner can't see on the page is no exercise.
            let spoilt = spoilt.filter(|lines| {
                shows_slip(lines, &slip.key, &right) && others_stand(lines, document, &slip.key)
            });
            chosen = spoilt.map(|spoilt| (slip, spoilt, right));
        }
        let none = "no slip in one number of it is found by `check` alone";
        let (slip, spoilt, right) = chosen.ok_or(none)?;
        let rows = spoilt.iter().map(|line| {
            let weight = line.weight.as_ref();
            let shown = |it: Option<&String>| it.cloned().unwrap_or_default();
            (
                named(line),
                vec![
                    given(shown(line.percent.as_ref()), "%"),
                    given(shown(weight.map(|it| &it.shown)), shown(weight.map(|it| &it.unit))),
                ],
            )
        });
        let mut rows: Vec<(String, Vec<TaskCell>)> = rows.collect();
        let name = right_name(document, &slip.key);
        rows.push((
            self.words.say("exercise-slip"),
            vec![asked(String::new(), ""), asked(format!("{name}: {right} %"), "")],
        ));
        let rule = slip.rule.unwrap_or_default();
        Ok(Task {
            title: self.task_title("exercise-mistake", document),
            lead: vec![self.words.say("exercise-mistake-lead")],
            names: self.words.say("print-ingredient"),
            columns: vec!["%".into(), self.words.say("print-weight")],
            rows,
            workings: vec![format!("{name}: {right} % ({rule})")],
            steps: 1,
        })
    }

    fn spoilt_lines(&self, formula: &Formula) -> Option<Vec<LinePart>> {
        let worked = work(self.house, formula, &mut Vec::new());
        worked.sound.then(|| self.document_of(&worked).total)
    }
}

/// The percentage that a line of the sound formula has; empty where it has none.
fn right_percent(document: &Document, key: &str) -> String {
    let line = document.total.iter().find(|line| line.key == key);
    line.and_then(|line| line.percent.clone()).unwrap_or_default()
}

/// Whether the spoilt line is off on the page, or missing from it.
fn shows_slip(lines: &[LinePart], key: &str, right: &str) -> bool {
    let line = lines.iter().find(|line| line.key == key);
    !right.is_empty() && line.is_none_or(|line| line.percent.as_deref() != Some(right))
}

/// Whether every other number is as in the sound formula, so that only one is wrong: a flour
/// that is left out may change what all percentages are of.
fn others_stand(lines: &[LinePart], document: &Document, key: &str) -> bool {
    document.total.iter().filter(|own| own.key != key).all(|own| {
        let same = |line: &&LinePart| line.key == own.key && line.role == own.role;
        lines.iter().find(same).is_some_and(|line| line.percent == own.percent)
    })
}

fn right_name(document: &Document, key: &str) -> String {
    let line = document.total.iter().find(|line| line.key == key);
    line.map_or_else(|| key.to_owned(), named)
}

/// A formula with one amount changed.
struct Slip {
    formula: Formula,
    key: String,
    rule: Option<&'static str>,
}

/// Every line of the formula's main mix, ten times and a tenth of what it is, and left out.
fn slips_of(sound: &Formula) -> Vec<Slip> {
    let mut all = Vec::new();
    let count = sound.total.as_ref().or(sound.dough.as_ref()).map_or(0, |mix| mix.lines.len());
    for at in 0..count {
        for factor in [int(10), ratio(1, 10), Exact::ZERO] {
            let mut formula = sound.clone();
            formula.expect.clear();
            let Some(mix) = formula.total.as_mut().or(formula.dough.as_mut()) else { continue };
            let Some(key) = spoil(mix, at, &factor) else { continue };
            all.push(Slip { formula, key, rule: None });
        }
    }
    all
}

/// Changes an amount; the name of its line. Nothing where it has no number.
fn spoil(mix: &mut Mix, at: usize, factor: &Exact) -> Option<String> {
    let key = mix.lines.get(at)?.target.name.key.to_string();
    if factor.is_zero() {
        mix.lines.remove(at);
        return Some(key);
    }
    let line = mix.lines.get_mut(at)?;
    let Amount::Measured { range, .. } = &mut line.amount else { return None };
    if range.ranged {
        return None;
    }
    for end in [&mut range.low, &mut range.high].into_iter().flatten() {
        end.number = &end.number * factor;
    }
    Some(key)
}

/// The names of what `check` finds in a formula, errors and warnings; none where it can't be
/// worked out.
fn judged(maker: &Maker, formula: &Formula) -> Option<Vec<&'static str>> {
    let mut findings: Vec<Finding> = Vec::new();
    let worked = work(maker.house, formula, &mut findings);
    if !worked.sound || !worked.readable {
        return None;
    }
    check::check(maker.house, formula, &worked, &mut findings);
    let mut names: Vec<&'static str> =
        findings.iter().filter(|it| it.level != Severity::Note).map(|it| it.rule.name).collect();
    names.sort_unstable();
    Some(names)
}

/// What a derivation rests on.
fn gather<'r>(reason: &'r Reason, leaves: &mut Vec<&'r Reason>) {
    if reason.parts.is_empty() {
        if !leaves.iter().any(|known| known.what == reason.what) {
            leaves.push(reason);
        }
        return;
    }
    reason.parts.iter().for_each(|part| gather(part, leaves));
}

/// A given number with its unit, as the derivation shows it.
fn leaf_words(
    leaf: &Reason,
    _degrees: &dyn Fn(&Exact) -> (String, String),
    maker: &Maker,
) -> (String, String) {
    let shown = leaf.shown();
    match shown.rsplit_once(' ') {
        Some((number, unit)) => (maker.words.number(number), unit.to_owned()),
        None => (maker.words.number(&shown), String::new()),
    }
}

/// The steps of a derivation, the first to be done first.
fn told(reason: &Reason, lines: &mut Vec<String>) {
    for part in &reason.parts {
        told(part, lines);
    }
    let sign = match reason.how {
        How::Sum => " + ",
        How::Difference => " − ",
        How::Product => " × ",
        How::Ratio => " ÷ ",
        _ => return,
    };
    let parts: Vec<String> = reason.parts.iter().map(Reason::shown).collect();
    lines.push(format!("{}: {} = {}", reason.what, parts.join(sign), reason.shown()));
}
