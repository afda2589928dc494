//! A recipe as the text of a formula, with comments for what it does not say.

use super::item::{Amount, RecipeItem, is_beside, item};
use super::names::{Matched, matched};
use super::numbers::number;
use super::recipe::{Recipe, RecipeLine};
use super::together::{holds_amount, is_packet, several};
use super::{stages, steps};
use crate::check::not_on_a_line;
use crate::check::speech::{
    self, Food, FoodMention, Language, foods_told, read_named, spelled, unparted,
};
use crate::formula::class::Class;
use crate::formula::{House, LineRef, built_in, key, understand, work};
use crate::quantity::display::{read_exact, trimmed};
use crate::quantity::{Exact, int, ratio};
use crate::source::{SourceId, is_unseen};
use crate::syntax::{format as lay_out, read};
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Words for what a recipe makes.
const MADE: [&str; 3] = ["bread", "breads", "loaf"];

/// Words before a food that deny it, and after it.
const DENIED_BEFORE: [&str; 12] =
    ["no", "not", "without", "sans", "pas", "ohne", "kein", "keine", "sin", "no", "senza", "non"];
const DENIED_AFTER: [&str; 3] = ["free", "frei", "less"];

/// A line of a list has no more words.
const MAX_WORDS_OF_A_LINE: usize = 8;

/// How recipes are to be written.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// What every starter is.
    pub culture: Option<String>,
    /// Percentages of all flour in place of weights.
    pub percent: bool,
    /// The language of the recipes, as a tag; else the one that they seem to be in.
    pub language: Option<String>,
}

/// A formula that a recipe became.
#[derive(Clone, Debug, Default)]
pub struct WrittenFormula {
    /// The name of the formula.
    pub name: String,
    /// All of the file.
    pub text: String,
    /// What only a person can say.
    pub decisions: Vec<String>,
    /// Lines that were not understood.
    pub left: Vec<String>,
    /// Names that were taken for another one, with that.
    pub near: Vec<(String, String)>,
    /// The lines by which it declares what no store knows: `ingredient NAME is an other`.
    pub declared: Vec<String>,
}

/// Words that name what a recipe makes.
const KINDS: [&str; 52] = [
    "loaf",
    "loaves",
    "roll",
    "rolls",
    "bun",
    "buns",
    "baguette",
    "baguettes",
    "bagel",
    "bagels",
    "boule",
    "boules",
    "bread",
    "breads",
    "stick",
    "sticks",
    "pizza",
    "pizzas",
    "flatbread",
    "flatbreads",
    "pain",
    "pains",
    "petit pain",
    "petits pains",
    "miche",
    "miches",
    "brot",
    "brote",
    "brötchen",
    "laib",
    "laibe",
    "stangen",
    "stück",
    "zöpfe",
    "zopf",
    "pan",
    "panes",
    "panecillos",
    "panecillo",
    "hogaza",
    "hogazas",
    "barras",
    "barra",
    "bollos",
    "pane",
    "pani",
    "panini",
    "panino",
    "pagnotta",
    "pagnotte",
    "filoni",
    "focaccia",
];

/// Writes a recipe as a formula; `file` is what it was read from.
pub fn write(recipe: &Recipe, file: &str, options: &Options) -> WrittenFormula {
    let recipe = &seen(recipe);
    let language = language_of(recipe, options);
    let mut writer = FormulaWriter {
        options,
        language,
        written: WrittenFormula {
            name: slug(&recipe.title, language.code),
            ..WrittenFormula::default()
        },
        declared: Vec::new(),
        rows: Vec::new(),
        stages: Vec::new(),
        dough: None,
        steps: Vec::new(),
        cups: Cups::of(recipe),
    };
    writer.read(recipe);
    writer.read_steps(recipe);
    writer.finish(recipe, file)
}

/// A recipe without what nobody sees and a screen may obey: signs of control, and such as turn
/// the order of letters.
fn seen(recipe: &Recipe) -> Recipe {
    let plain = |text: &String| -> String {
        let is_break = |it: char| matches!(it, '\n' | '\t' | '\u{1f}');
        let kept = |it: char| if is_unseen(it) && !is_break(it) { ' ' } else { it };
        let is_soft = |it: &char| matches!(it, '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{feff}');
        text.chars().filter(|it| !is_soft(it)).map(kept).collect()
    };
    let all = |texts: &[String]| texts.iter().map(plain).collect();
    let line = |line: &RecipeLine| match line {
        RecipeLine::Part(text) => RecipeLine::Part(plain(text)),
        RecipeLine::Item(text) => RecipeLine::Item(plain(text)),
    };
    Recipe {
        title: plain(&recipe.title),
        source: recipe.source.as_ref().map(plain),
        makes: recipe.makes.as_ref().map(plain),
        serves: recipe.serves.as_ref().map(plain),
        lines: recipe.lines.iter().map(line).collect(),
        steps: all(&recipe.steps),
        left: all(&recipe.left),
        in_grams: all(&recipe.in_grams),
    }
}

fn language_of(recipe: &Recipe, options: &Options) -> &'static Language {
    if let Some(tag) = &options.language
        && let Some(language) = Language::of_house(Some(tag)).last()
    {
        return language;
    }
    let mut sample = recipe.title.clone();
    for line in &recipe.lines {
        let (RecipeLine::Part(text) | RecipeLine::Item(text)) = line;
        sample.push_str(&format!("\n{text}"));
    }
    for step in &recipe.steps {
        sample.push_str(&format!("\n{step}"));
    }
    speech::spoken(&speech::tokens(&sample), None)
}

/// A row of the block of lines.
enum BlockRow {
    /// A comment.
    Said(String),
    Line {
        name: String,
        amount: String,
        note: String,
        /// As it was written, where that is other words.
        written: Option<String>,
        /// The percentage that was written beside a weight: `65%`.
        percent: Option<String>,
    },
}

impl BlockRow {
    fn amount(&self) -> &str {
        match self {
            Self::Line { amount, .. } => amount,
            Self::Said(_) => "",
        }
    }
}

/// A row of a mix with its amount, and what stands beside it.
fn written_row(text: &mut String, row: &BlockRow, amount: &str, share: Option<String>) {
    match row {
        BlockRow::Said(words) => text.push_str(&format!("    # {}\n", one_line(words))),
        BlockRow::Line { name, note, written, .. } => {
            let note = if note.is_empty() { String::new() } else { format!(" \"{note}\"") };
            let said: Vec<String> = share.into_iter().chain(written.clone()).collect();
            let said = match said.is_empty() {
                true => String::new(),
                false => format!("  # {}", said.join(" · ")),
            };
            text.push_str(&format!("    {name} {amount}{note}{said}\n"));
        }
    }
}

/// Whether a spoon or a cup is filled above its rim.
fn is_heaped(note: &str) -> bool {
    const HEAPED: [&str; 9] =
        ["heap", "rounded", "generous", "gehäuft", "bombée", "colmo", "colmi", "colma", "copiosa"];
    HEAPED.iter().any(|word| note.contains(word))
}

/// For how many people a recipe says that it is: `8`, `6..8`.
fn served(said: &str) -> Option<String> {
    let at = said.find(|letter: char| letter.is_ascii_digit())?;
    let found = number(&said[at..])?;
    let whole = |value: &Exact| value.to_whole().filter(|count| (1..10_000).contains(count));
    let (low, high) = (whole(&found.low)?, whole(&found.high)?);
    Some(if low == high { low.to_string() } else { format!("{low}..{high}") })
}

/// Whether some parts of a recipe are made beforehand and others are its dough, all of them
/// weighed.
fn is_of_stages(recipe: &Recipe) -> bool {
    let mut is_stage = false;
    let (mut staged, mut others) = (0, 0);
    for line in &recipe.lines {
        match line {
            RecipeLine::Part(name) => is_stage = stages::kind_of(&stages::bare(name)).is_some(),
            RecipeLine::Item(_) if is_stage => staged += 1,
            RecipeLine::Item(_) => others += 1,
        }
    }
    let is_weighed = recipe.lines.iter().all(|line| match line {
        RecipeLine::Item(text) => !matches!(item(text).map(|it| it.amount), Some(Amount::Share(_))),
        RecipeLine::Part(_) => true,
    });
    staged > 1 && others > 1 && is_weighed
}

/// What a line weighs in grams, where it is weighed, and whether it is a flour.
type WeighedLine = Option<(Exact, bool)>;

struct FormulaWriter<'w> {
    options: &'w Options,
    language: &'static Language,
    written: WrittenFormula,
    /// Declarations of ingredients that no store knows.
    declared: Vec<String>,
    rows: Vec<BlockRow>,
    /// What is made before the dough, which takes it.
    stages: Vec<Made>,
    /// The rows of the dough while those of a stage are read.
    dough: Option<Vec<BlockRow>>,
    /// What is done, each with its number in the recipe where it has one.
    steps: Vec<(Option<String>, String)>,
    /// Of which country its cups are.
    cups: Cups,
}

/// Of which country the cups of a recipe are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cups {
    /// Of America: 236.6 ml.
    American,
    /// Of 250 ml.
    Metric,
    /// The recipe does not tell.
    Unclear,
}

impl Cups {
    /// By the units and the words that stand beside them.
    fn of(recipe: &Recipe) -> Self {
        let lines = recipe.lines.iter().map(|line| match line {
            RecipeLine::Part(text) | RecipeLine::Item(text) => text.as_str(),
        });
        let all = lines.chain(recipe.steps.iter().map(String::as_str));
        let text = all.collect::<Vec<_>>().join("\n").to_lowercase();
        let words: Vec<&str> = text
            .split(|it: char| !it.is_alphanumeric())
            .map(|it| it.trim_start_matches(|it: char| it.is_ascii_digit()))
            .collect();
        let has = |known: &[&str]| words.iter().any(|word| known.contains(word));
        let degrees = |letter: char| {
            text.match_indices(letter).any(|(at, _)| {
                let before = text[..at].trim_end();
                let is_alone = !text[at + 1..].starts_with(char::is_alphanumeric);
                let is_degree = before.ends_with('°') || before.ends_with("degrees");
                is_alone && (is_degree || before.ends_with(|it: char| it.is_ascii_digit()))
            })
        };
        let is_american = degrees('f')
            || has(&["oz", "ounce", "ounces", "lb", "lbs", "pound", "pounds", "fahrenheit"])
            || text.contains("all-purpose");
        let is_metric = degrees('c') || has(&["g", "gram", "grams", "kg", "ml", "cl", "dl"]);
        match (is_american, is_metric) {
            (true, false) => Self::American,
            (false, true) => Self::Metric,
            _ => Self::Unclear,
        }
    }
}

/// `2 cup` of America in millilitres.
fn in_millilitres(amount: &str) -> Option<String> {
    let count = amount.strip_suffix(" cup")?;
    let one = |written: &str| {
        let cups = read_exact(written.trim())?;
        // By definition 236.5882365 ml: 16 cups are a US gallon of 231 cubic inches.
        let millilitres = cups * ratio(2_365_882_365, 10_000_000);
        Some(trimmed(&millilitres, u8::from(millilitres < int(100))))
    };
    match count.split_once("..") {
        Some((low, high)) => Some(format!("{}..{} ml", one(low)?, one(high)?)),
        None => Some(format!("{} ml", one(count)?)),
    }
}

/// A part of a recipe that is made beforehand.
struct Made {
    kind: &'static str,
    name: String,
    /// What the recipe calls it.
    said: String,
    rows: Vec<BlockRow>,
    /// Whether a line of the dough takes it.
    is_taken: bool,
}

impl FormulaWriter<'_> {
    fn read(&mut self, recipe: &Recipe) {
        let mut part: Option<String> = None;
        let is_linked = is_of_stages(recipe);
        for (at, line) in recipe.lines.iter().enumerate() {
            match line {
                RecipeLine::Part(name) => {
                    self.close_stage();
                    let kind = stages::kind_of(&stages::bare(name)).filter(|_| is_linked);
                    match kind {
                        Some(kind) => self.open_stage(kind, name, &recipe.lines[at + 1..]),
                        None => self.part(name),
                    }
                    part = Some(name.clone());
                }
                RecipeLine::Item(text) if self.takes_stage(text) => {}
                RecipeLine::Item(text) => {
                    for text in several(text) {
                        match item(&text) {
                            _ if self.takes_stage(&text) => {}
                            Some(item) => self.item(&text, &item, part.as_deref()),
                            None => self.without_amount(&text),
                        }
                    }
                }
            }
        }
        self.close_stage();
        for stage in self.stages.iter().filter(|stage| !stage.is_taken) {
            self.rows.push(BlockRow::Line {
                name: stage.name.clone(),
                amount: "all".to_owned(),
                note: String::new(),
                written: Some(format!("all of the part `{}`", one_line(&stage.said))),
                percent: None,
            });
        }
        for left in &recipe.left {
            if left.split_whitespace().count() <= MAX_WORDS_OF_A_LINE && self.names_food(left) {
                self.written
                    .decisions
                    .push(format!("whether `{}` goes in, and how much of it", one_line(left)));
            }
            self.written.left.push(left.clone());
        }
    }

    /// A line of a list that says no amount.
    fn without_amount(&mut self, text: &str) {
        let said = one_line(text);
        if let Some((name, formula)) = said.split_once(" | =") {
            self.rows.push(BlockRow::Said(format!("decide: how much is {said}")));
            self.written.decisions.push(format!(
                "how much `{name}` is: its cell holds a formula without a value, `={formula}`"
            ));
            return;
        }
        if !self.names_food(text) {
            self.written.left.push(text.to_owned());
            return;
        }
        self.rows.push(BlockRow::Said(format!("decide: how much is {said}")));
        self.written.decisions.push(format!("how much `{said}` is, and whether it goes in"));
    }

    /// Whether words name anything that is eaten.
    fn names_food(&self, text: &str) -> bool {
        let words = item(text).map_or_else(|| text.to_owned(), |item| item.name);
        let tag = Some(self.language.code).filter(|code| !code.is_empty());
        let is_name = || matched(words.trim(), tag) != Matched::Unknown;
        let tokens = speech::tokens(text);
        let is_named = || {
            let sentence = unparted(text, &tokens, Language::all());
            let foods = foods_told(built_in(), &sentence, self.language);
            // `Two loaves of the quay` names what is made.
            let is_made = |food: &Food| {
                let names = ["bread", "piece", "loaf-name"];
                let sentence = read_named(&sentence, self.language);
                matches!(food.what, FoodMention::Baked(_))
                    || names.iter().any(|name| sentence.word_at(name, food.from).is_some())
                    || MADE.iter().any(|word| food.says(word))
            };
            foods.iter().any(|food| !is_made(food))
        };
        is_name() || is_named()
    }

    /// Parts what is done into steps, and says which times nobody but a person can place.
    fn read_steps(&mut self, recipe: &Recipe) {
        let steps = match recipe.steps.as_slice() {
            // All of it in one paragraph.
            [one] if !one.contains('\u{1f}') => steps::sentences(&one_line(one)),
            all => all.to_vec(),
        };
        for step in steps {
            let (ordinal, words) = match step.split_once('\u{1f}') {
                Some((ordinal, words)) => (Some(ordinal.to_owned()), one_line(words)),
                None => (None, one_line(&step)),
            };
            let parted = match steps::is_of_starter(&words, self.language) {
                true => {
                    self.written.decisions.push(format!(
                        "how long the starter ripens: `{words}`; `ripens` says it in the block of \
                         its stage"
                    ));
                    vec![words]
                }
                false => steps::parted(&words, self.language).unwrap_or_else(|| {
                    self.written.decisions.push(format!(
                        "which step takes how long: `{words}` says it in words alone"
                    ));
                    vec![words.clone()]
                }),
            };
            let first = parted.into_iter().enumerate();
            self.steps
                .extend(first.map(|(at, words)| (ordinal.clone().filter(|_| at == 0), words)));
        }
    }

    /// Begins a part that is made beforehand; what follows goes into it.
    fn open_stage(&mut self, kind: &'static str, said: &str, following: &[RecipeLine]) {
        let bare = stages::bare(said);
        let own = following.iter().map_while(|line| match line {
            RecipeLine::Item(text) => Some(text),
            RecipeLine::Part(_) => None,
        });
        let is_same = |name: String| name == bare || name.ends_with(&format!(" {bare}"));
        let is_inside = own.filter_map(|text| item(text)).any(|it| is_same(it.name.to_lowercase()));
        let is_known = |name: &str| self.stages.iter().any(|it| it.name == name);
        let name = match bare.as_str() {
            // What it is begun with bears the same name.
            _ if is_inside && bare != "levain" => "levain".to_owned(),
            "pre-ferment" | "pré-ferment" => "preferment".to_owned(),
            _ if is_inside => "build".to_owned(),
            bare => bare.to_owned(),
        };
        let name = match is_known(&name) {
            true => format!("{name} {}", self.stages.len() + 1),
            false => name,
        };
        self.dough = Some(std::mem::take(&mut self.rows));
        let said = said.trim_end_matches(':').to_owned();
        self.stages.push(Made { kind, name, said, rows: Vec::new(), is_taken: false });
    }

    /// Ends a part that is made beforehand, and goes on with the dough.
    fn close_stage(&mut self) {
        let Some(dough) = self.dough.take() else { return };
        let rows = std::mem::replace(&mut self.rows, dough);
        if let Some(stage) = self.stages.last_mut() {
            stage.rows = rows;
        }
    }

    /// A line of the dough that takes a stage: all of it, or a weight.
    fn takes_stage(&mut self, text: &str) -> bool {
        if self.dough.is_some() {
            return false;
        }
        let found = item(text);
        let stage = self.stages.iter_mut().find(|stage| {
            let called = [stage.name.clone(), stages::bare(&stage.said)];
            called.iter().any(|called| match &found {
                Some(item) => {
                    let name = item.name.to_lowercase();
                    name == *called || name.strip_prefix("ripe ") == Some(called.as_str())
                }
                None => stages::takes_all(text, called),
            })
        });
        let Some(stage) = stage else { return false };
        let amount = match found.map(|item| item.amount) {
            Some(Amount::Measured(amount)) => amount,
            Some(_) => return false,
            None => "all".to_owned(),
        };
        stage.is_taken = true;
        let (name, written) = (stage.name.clone(), Some(one_line(text)));
        self.rows.push(BlockRow::Line {
            name,
            amount,
            note: String::new(),
            written,
            percent: None,
        });
        true
    }

    fn part(&mut self, name: &str) {
        self.rows.push(BlockRow::Said(name.to_owned()));
        if !stages::is_dough(&stages::bare(name)) {
            self.written.decisions.push(format!(
                "whether `{name}` is made beforehand: then its lines are a stage of their own, \
                 such as `preferment NAME {{ … }}`"
            ));
        }
    }

    fn item(&mut self, text: &str, item: &RecipeItem, part: Option<&str>) {
        // What is brushed on, or is for the bench, is not of the dough.
        if let Some(is_all) = is_beside(text) {
            let said = one_line(text);
            if !is_all {
                self.written
                    .decisions
                    .push(format!("how much of `{said}` goes into the dough: part of it does not"));
                return self.measured(text, item, part);
            }
            self.written.decisions.push(format!(
                "where `{said}` goes: not into the dough; what is brushed on or strewn over stands \
                 in a `piece` or a `wash`"
            ));
            self.rows.push(BlockRow::Said(format!("decide: where {said} goes")));
            return;
        }
        self.measured(text, item, part);
    }

    /// Asks about what a note beside a line puts in: an amount of it, or something with an
    /// allergen that the line has not got.
    fn ask_of_note(&mut self, text: &str, item: &RecipeItem, known: &str) {
        if item.note.is_empty() || is_packet(&item.note) {
            return;
        }
        let said = one_line(text);
        if holds_amount(&item.note) {
            self.written.decisions.push(format!(
                "what of `{said}` goes in: an amount stands in the words beside it, and is on no \
                 line"
            ));
            return;
        }
        let tokens = speech::tokens(&item.note);
        let sentence = unparted(&item.note, &tokens, Language::all());
        let own = built_in().ingredient_named(&key(known)).map(|it| it.declared.named);
        let own = own.unwrap_or_default();
        let word = |at: usize| tokens.get(at).map_or("", |token| token.key.as_ref());
        let is_denied = |food: &Food| {
            DENIED_BEFORE.contains(&food.from.checked_sub(1).map_or("", word))
                || DENIED_AFTER.contains(&word(food.to))
        };
        let foods = foods_told(built_in(), &sentence, self.language);
        let new = foods
            .iter()
            .find(|food| !is_denied(food) && !food.allergens(built_in()).without(own).is_empty());
        if let Some(food) = new {
            self.written.decisions.push(format!(
                "whether `{}` of `{said}` goes in: it is on no line, and holds an allergen",
                sentence.written(food.from, food.to)
            ));
        }
    }

    fn measured(&mut self, text: &str, item: &RecipeItem, part: Option<&str>) {
        // `water 300 g + 20 g`: what the name holds is more of it, or something else.
        if holds_amount(&item.name) {
            self.written
                .decisions
                .push(format!("how much `{}` is: it says more than one amount", one_line(text)));
            self.rows.push(BlockRow::Said(format!("decide: how much is {}", one_line(text))));
            return;
        }
        let tag = Some(self.language.code).filter(|code| !code.is_empty() && *code != "en");
        let own = self.options.language.as_deref().or(tag);
        let (mut name, mut note) = (item.name.clone(), item.note.clone());
        let amount = match &item.amount {
            Amount::Measured(amount) | Amount::Share(amount) => amount.clone(),
            Amount::Soft(amount) => (*amount).to_owned(),
            Amount::Open(_) => {
                self.written.decisions.push(format!("how much `{}` is", one_line(text)));
                self.rows.push(BlockRow::Said(format!("decide: how much is {}", one_line(text))));
                return;
            }
        };
        let amount = match (self.cups, in_millilitres(&amount)) {
            (Cups::American, Some(millilitres)) => millilitres,
            (Cups::Unclear, Some(_))
                if !self.written.decisions.iter().any(|it| it.starts_with("which cup")) =>
            {
                self.written.decisions.push(format!(
                    "which cup `{}` is measured with: one of 250 ml is taken, one of America holds \
                     237 ml",
                    one_line(text)
                ));
                amount
            }
            _ => amount,
        };
        if is_heaped(&note) && ["tsp", "tbsp", "cup"].iter().any(|unit| amount.contains(unit)) {
            self.written
                .decisions
                .push(format!("how much `{}` is: a level measure is written", one_line(text)));
        }
        match matched(&item.name, own) {
            Matched::Store(known, aside) => {
                name = known;
                if !aside.is_empty() {
                    note = if note.is_empty() { aside } else { format!("{aside}, {note}") };
                }
            }
            Matched::Near(known) => {
                self.written.near.push((item.name.clone(), known.clone()));
                name = known;
            }
            Matched::Culture(known) => name = known,
            Matched::Starter => match &self.options.culture {
                Some(culture) => name.clone_from(culture),
                None => self.written.decisions.push(format!(
                    "what `{name}` is made of: name a culture, such as `white culture`, or read \
                     again with `--culture`"
                )),
            },
            Matched::Several(names) => {
                let names = names.join(", ");
                self.written.decisions.push(format!("which one `{name}` is: {names}"));
            }
            Matched::Flour => name = self.declare(&name, "a flour"),
            Matched::Unknown => name = self.declare(&name, "an other"),
        }
        self.ask_of_note(text, item, &name);
        let is_there =
            |row: &BlockRow| matches!(row, BlockRow::Line { name: known, .. } if *known == name);
        if self.rows.iter().any(is_there) {
            let part = part.map(role).filter(|part| !part.is_empty());
            let named = format!("{name} (");
            let again = self.rows.iter().filter(|row| match row {
                BlockRow::Line { name: known, .. } => *known == name || known.starts_with(&named),
                BlockRow::Said(_) => false,
            });
            let count = again.count();
            let number = ["second", "third", "fourth"].get(count - 1).copied().unwrap_or("last");
            let with = |role: &str| format!("{name} ({role})");
            let own = part.map(|part| with(&part)).filter(|own| {
                !self
                    .rows
                    .iter()
                    .any(|row| matches!(row, BlockRow::Line { name, .. } if name == own))
            });
            name = own.unwrap_or_else(|| with(number));
        }
        let said = one_line(text);
        let is_same = |made: String| made.to_lowercase() == said.to_lowercase();
        let is_plain = is_same(format!("{amount} {name}")) || is_same(format!("{name} {amount}"));
        let written = (!is_plain).then_some(said);
        let percent = item.percent.clone();
        self.rows.push(BlockRow::Line { name, amount, note: quoted(&note), written, percent });
    }

    /// Declares what no store knows, and gives its name.
    fn declare(&mut self, name: &str, kind: &str) -> String {
        let kept = |letter: char| {
            if letter.is_alphanumeric() || matches!(letter, '-' | '\'' | '’') {
                letter
            } else {
                ' '
            }
        };
        let plain: String = name.chars().map(kept).collect();
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
        let plain = match is_name_alone(&plain) {
            true => plain,
            false => format!("\"{plain}\""),
        };
        let line = format!("ingredient {plain} is {kind}");
        if !self.declared.contains(&line) {
            self.written.decisions.push(format!(
                "what `{name}` is: it is declared as `is {kind}`; say its class, and which \
                 allergens it contains"
            ));
            self.declared.push(line);
        }
        plain
    }

    /// `1,250 g` beside `1.250 g`, or beside `12,5 g`: one mark can't part thousands in one line and
    /// decimals in another.
    fn ask_what_marks_mean(&mut self, recipe: &Recipe) {
        let lines = recipe.lines.iter().filter_map(|line| match line {
            RecipeLine::Item(item) => Some(item.as_str()),
            RecipeLine::Part(_) => None,
        });
        // What stands before three digits, and what before other decimals, by its mark.
        let (mut threes, mut decimals) = (Vec::new(), Vec::new());
        for line in lines {
            let is_of_number = |letter: char| letter.is_ascii_digit() || ",.".contains(letter);
            for number in line.split(|letter: char| !is_of_number(letter)) {
                let number = number.trim_matches([',', '.']);
                let Some(at) = number.find([',', '.']) else { continue };
                let (whole, behind) = (&number[..at], &number[at + 1..]);
                let mark = number.as_bytes()[at];
                if behind.contains([',', '.']) {
                    continue;
                }
                match behind.len() == 3 && whole.len() <= 3 && !whole.starts_with('0') {
                    true => threes.push((mark, number.to_owned())),
                    false => decimals.push((mark, number.to_owned())),
                }
            }
        }
        let clash = threes.iter().find_map(|(mark, one)| {
            let other = threes.iter().find(|(other, _)| other != mark);
            let other = other.or_else(|| decimals.iter().find(|(other, _)| other == mark));
            other.map(|(_, other)| (one.clone(), other.clone()))
        });
        if let Some((one, other)) = clash {
            self.written.decisions.push(format!(
                "how much `{one}` is: `{other}` is in the same list; which mark is for \
                 thousands and which for decimals is not clear"
            ));
        }
    }

    fn finish(mut self, recipe: &Recipe, file: &str) -> WrittenFormula {
        let shares = if self.is_of_weights() { self.shares(recipe) } else { Vec::new() };
        self.hold_percentages(recipe);
        let is_percent = self.options.percent && self.is_of_weights();
        let percent = if is_percent { self.percentages(recipe) } else { None };
        if is_percent && percent.is_none() {
            self.written.decisions.push(
                "how the total is in percentages: with a starter in it, or without flour, that \
                 can't be told"
                    .to_owned(),
            );
        }
        let body = match &percent {
            Some((flour, lines)) => self.body(recipe, Some(flour), lines, &[]),
            None => {
                let lines: Vec<String> = self.amounts();
                self.body(recipe, None, &lines, &shares)
            }
        };
        self.ask_what_steps_put_in(&body);
        self.ask_what_marks_mean(recipe);
        let mut text = format!("# Read from {}.\n", one_line(file));
        if !recipe.in_grams.is_empty() {
            let all = one_line(&recipe.in_grams.join("; "));
            text.push_str(&format!("# in grams, for no unit is written: {all}\n"));
        }
        for left in &self.written.left {
            text.push_str(&format!("# not read: {}\n", one_line(left)));
        }
        for decision in &self.written.decisions {
            text.push_str(&format!("# decide: {}\n", one_line(decision)));
        }
        self.declared.iter().for_each(|line| text.push_str(&format!("{line}\n")));
        text.push_str(&body);
        self.written.text = lay_out(SourceId::ASKED, &text).unwrap_or(text);
        self.written.declared = self.declared;
        self.written
    }

    /// Asks about all that the title and the steps put in and that no line has, each text read
    /// in its own language too.
    fn ask_what_steps_put_in(&mut self, body: &str) {
        let own = self.steps.iter().map(|(_, words)| speech::spoken(&speech::tokens(words), None));
        let mut languages: Vec<&str> = own.chain([self.language]).map(|it| it.code).collect();
        languages.retain(|code| !code.is_empty());
        languages.sort_unstable();
        languages.dedup();
        let declared: String = self.declared.iter().map(|line| format!("{line}\n")).collect();
        for language in languages {
            let text = format!("bakehouse \"x\" {{ language {language} }}\n{declared}{body}");
            let (mut tree, _) = read(SourceId::ASKED, &text);
            understand(&mut [&mut tree]);
            let house = House::build(Some(built_in()), &[&tree], &mut Vec::new());
            let Some(formula) = tree.formulas.first() else { return };
            let worked = work(&house, formula, &mut Vec::new());
            for (food, contains) in not_on_a_line(&house, &worked) {
                let food = food.to_lowercase();
                let mut asked = self.written.decisions.iter();
                if asked.any(|it| it.to_lowercase().contains(&food)) {
                    continue;
                }
                self.written.decisions.push(format!(
                    "where `{food}` goes in: a text of the recipe names it, which contains \
                     {contains}, and no line has it"
                ));
            }
        }
    }

    fn amounts(&self) -> Vec<String> {
        let amount = |row: &BlockRow| match row {
            BlockRow::Line { amount, .. } => Some(amount.clone()),
            BlockRow::Said(_) => None,
        };
        self.rows.iter().filter_map(amount).collect()
    }

    /// Whether lines have weights; else all are percentages.
    fn is_of_weights(&self) -> bool {
        self.amounts().iter().any(|amount| !amount.ends_with('%'))
    }

    /// The formula: its lines have these amounts, and these percentages beside them.
    fn body(
        &self,
        recipe: &Recipe,
        flour: Option<&String>,
        amounts: &[String],
        shares: &[Option<String>],
    ) -> String {
        let mut text =
            format!("formula {} \"{}\" {{\n", self.written.name, quoted(&one_line(&recipe.title)));
        if let Some(flour) = flour {
            text.push_str(&format!("  makes from {flour} flour\n"));
        }
        if let Some(makes) = &recipe.makes {
            let said = one_line(makes);
            match made(&said).filter(|_| flour.is_none()) {
                Some(made) if [made.clone(), format!("Makes {made}")].contains(&said) => {
                    text.push_str(&format!("  makes {made}\n"));
                }
                Some(made) => text.push_str(&format!("  makes {made}  # {said}\n")),
                None => text.push_str(&format!("  # not read: makes {said}\n")),
            }
        }
        if let Some(source) = &recipe.source {
            text.push_str(&format!("  source \"{}\"\n", quoted(&one_line(source))));
        }
        if let Some(serves) = recipe.serves.as_deref().map(one_line) {
            match served(&serves) {
                Some(count) if format!("serves {count}") == serves.to_lowercase() => {
                    text.push_str(&format!("  serves {count}\n"));
                }
                Some(count) => text.push_str(&format!("  serves {count}  # {serves}\n")),
                None => text.push_str(&format!("  # not read: {serves}\n")),
            }
        }
        // A claim is no step; as a note it is held to what is in the bread.
        for (_, words) in self.steps.iter().filter(|(_, words)| steps::is_slogan(words)) {
            text.push_str(&format!("  note \"{}\"\n", quoted(&one_line(words))));
        }
        for stage in &self.stages {
            let said = match stage.said.to_lowercase() == stage.name {
                true => String::new(),
                false => format!("  # {}", one_line(&stage.said)),
            };
            text.push_str(&format!("  {} {} {{{said}\n", stage.kind, stage.name));
            for row in &stage.rows {
                written_row(&mut text, row, row.amount(), None);
            }
            text.push_str("  }\n");
        }
        let is_total = flour.is_some() || !self.is_of_weights();
        text.push_str(if is_total { "  total {\n" } else { "  dough {\n" });
        let (mut amounts, mut shares) = (amounts.iter(), shares.iter());
        for row in &self.rows {
            let is_line = matches!(row, BlockRow::Line { .. });
            let amount = if is_line { amounts.next().map_or("", String::as_str) } else { "" };
            let share = if is_line { shares.next().cloned().flatten() } else { None };
            written_row(&mut text, row, amount, share);
        }
        text.push_str("  }\n");
        self.method(recipe, &mut text);
        text.push_str("}\n");
        text
    }

    fn method(&self, recipe: &Recipe, text: &mut String) {
        let is_work = |(_, words): &&(Option<String>, String)| !steps::is_slogan(words);
        if recipe.steps.is_empty() || !self.steps.iter().any(|step| is_work(&step)) {
            return;
        }
        text.push_str("  method {\n");
        let work = self.steps.iter().filter(is_work);
        let parted = work.map(|(ordinal, words)| {
            let ordinal = ordinal.as_ref().map(|it| format!("  # {it}")).unwrap_or_default();
            (ordinal, quoted(&one_line(words)))
        });
        let (ordinals, words): (Vec<String>, Vec<String>) = parted.unzip();
        for (line, ordinal) in steps::steps(&words, self.language).iter().zip(ordinals) {
            text.push_str(&format!("    {line}{ordinal}\n"));
        }
        text.push_str("  }\n");
    }

    /// The lines as weighed: their masses, whether each is a flour, and all the flour that is
    /// added; none where something has no weight.
    fn weighed(&self, recipe: &Recipe) -> Option<(Vec<WeighedLine>, Exact)> {
        let declared = self.declared.iter().map(|line| format!("{line}\n"));
        let bare = Recipe { steps: Vec::new(), source: None, makes: None, ..recipe.clone() };
        let text = declared.collect::<String>() + &self.body(&bare, None, &self.amounts(), &[]);
        let (mut tree, _) = read(SourceId::ASKED, &text);
        understand(&mut [&mut tree]);
        let house = House::build(Some(built_in()), &[&tree], &mut Vec::new());
        let formula = tree.formulas.first()?;
        let worked = work(&house, formula, &mut Vec::new());
        if !worked.sound || !worked.readable {
            return None;
        }
        let numbers = worked.first();
        let flour = worked.added_flour(numbers);
        let mut lines: Vec<Option<(Exact, bool)>> = vec![None; self.amounts().len()];
        for line in &numbers.dough_lines {
            let is_culture = !matches!(line.goes, LineRef::Ingredient(_));
            let is_flour = match line.goes {
                LineRef::Ingredient(id) => worked.is_flour(id),
                _ => false,
            };
            if let Some(place) = line.line.and_then(|at| lines.get_mut(at)) {
                *place = (!is_culture).then(|| (line.mass.clone(), is_flour));
            }
        }
        (!flour.is_zero()).then_some((lines, flour))
    }

    /// Each line's percentage of the flour, for a comment.
    fn shares(&self, recipe: &Recipe) -> Vec<Option<String>> {
        let Some((lines, flour)) = self.weighed(recipe) else { return Vec::new() };
        let share = |line: Option<(Exact, bool)>| {
            let share = line?.0.over(&flour)?;
            Some(format!("{} %", trimmed(&(share * int(100)), 2)))
        };
        lines.into_iter().map(share).collect()
    }

    /// Holds the percentages that stand beside weights against these: of the flour, of the
    /// whole, or of whatever most of them are of.
    fn hold_percentages(&mut self, recipe: &Recipe) {
        if !self.is_of_weights() {
            return;
        }
        let Some((lines, flour)) = self.weighed(recipe) else { return };
        let whole = lines.iter().flatten().fold(Exact::ZERO, |sum, (mass, _)| sum + mass.clone());
        let rows = self.rows.iter().filter_map(|row| match row {
            BlockRow::Line { name, percent, .. } => Some((name, percent.as_deref())),
            BlockRow::Said(_) => None,
        });
        let told: Vec<(&String, &str, &Exact)> = rows
            .zip(&lines)
            .filter_map(|((name, percent), line)| Some((name, percent?, &line.as_ref()?.0)))
            .collect();
        let slips = |base: &Exact| -> Vec<String> {
            let slip = |(name, percent, mass): &(&String, &str, &Exact)| {
                let share = mass.over(base)? * int(100);
                let written = read_exact(percent.trim_end_matches('%').trim())?;
                let off = (&share - &written).abs();
                // Percentages of recipes are rounded to a whole or to a half.
                (off > ratio(6, 10).max(&written * ratio(2, 100))).then(|| {
                    format!(
                        "which of two is right: `{name}` is {} g, which is {} % of {} g, and \
                         beside it stands {percent}",
                        trimmed(mass, 1),
                        trimmed(&share, 1),
                        trimmed(base, 1)
                    )
                })
            };
            told.iter().filter_map(slip).collect()
        };
        // With a starter they may be of more flour than is added.
        let told_base = |(_, percent, mass): &(&String, &str, &Exact)| {
            let share = read_exact(percent.trim_end_matches('%').trim())?.one_in::<100>();
            mass.over(&share)
        };
        let bases = [flour.clone(), whole].into_iter().chain(told.iter().filter_map(told_base));
        let fewest = bases.map(|base| slips(&base)).min_by_key(Vec::len);
        self.written.decisions.extend(fewest.unwrap_or_default());
    }

    /// The flour, and each line as a percentage of it; none where that is not all.
    fn percentages(&self, recipe: &Recipe) -> Option<(String, Vec<String>)> {
        let (lines, flour) = self.weighed(recipe)?;
        let amounts = self.amounts();
        let hundredth = flour.one_in::<100>();
        let mut rounded: Vec<(Option<Exact>, bool)> = Vec::new();
        for (line, amount) in lines.iter().zip(&amounts) {
            match line {
                Some((mass, is_flour)) => {
                    let share = mass.over(&hundredth)?;
                    let step = crate::quantity::display::last_digit(4);
                    let share = crate::quantity::display::to_step(&share, &step);
                    rounded.push((Some(share), *is_flour));
                }
                None if amount == "a pinch" || amount == "to taste" => rounded.push((None, false)),
                None => return None,
            }
        }
        // The flours are 100 % to the last digit.
        let flours = rounded.iter().filter(|(_, is_flour)| *is_flour);
        let sum =
            flours.filter_map(|(share, _)| share.clone()).fold(Exact::ZERO, |sum, it| sum + it);
        let rest = int(100) - sum;
        if let Some((Some(share), _)) = rounded.iter_mut().find(|(_, is_flour)| *is_flour) {
            *share += rest;
        }
        let shown = rounded.into_iter().zip(amounts).map(|((share, _), amount)| match share {
            Some(share) => format!("{}%", trimmed(&share, 4)),
            None => amount,
        });
        Some((format!("{} g", trimmed(&flour, 4)), shown.collect()))
    }
}

/// Whether words are a name where they stand without quotes, in a declaration and on a line.
fn is_name_alone(words: &str) -> bool {
    let has_digit = words.chars().any(|letter| letter.is_ascii_digit());
    let text =
        format!("ingredient {words} is an other\nformula x {{ dough {{\n{words} 1 g\n}} }}\n");
    let (tree, findings) = read(SourceId::ASKED, &text);
    let is_declared = tree.ingredients.first().is_some_and(|it| it.name.shown == words);
    !has_digit && is_declared && findings.is_empty()
}

/// `2 loaves` of `Makes two small loaves`.
fn made(text: &str) -> Option<String> {
    let own: Vec<&str> = text
        .split(|it: char| it.is_whitespace() || matches!(it, ',' | ':' | '.' | '(' | ')'))
        .filter(|word| !word.is_empty())
        .collect();
    let words: Vec<String> = own.iter().map(|word| word.to_lowercase()).collect();
    let keys: Vec<&str> = words.iter().map(String::as_str).collect();
    for (at, word) in words.iter().enumerate() {
        let digits = word.parse::<i128>().ok().map(|count| (count, 1));
        let spelled = || {
            let spelled = spelled(&keys[at..], "")?;
            Some((spelled.value.to_whole()?, spelled.words))
        };
        let Some((count, length)) =
            digits.or_else(spelled).filter(|(count, _)| (1..1000).contains(count))
        else {
            continue;
        };
        let is_kind = |at: &usize| words.get(*at).is_some_and(|it| KINDS.contains(&it.as_str()));
        // `2 x 900 g loaves`: their weight may stand before them.
        let is_weight = |word: &String| {
            matches!(word.as_str(), "x" | "×" | "of" | "de" | "à" | "g" | "kg" | "oz" | "lb")
                || word.starts_with(|it: char| it.is_ascii_digit())
        };
        let weights = words[at + length..].iter().take(4).take_while(|it| is_weight(it)).count();
        let first = at + length + weights;
        let Some(kind) = (first..first + 3).find(is_kind) else { continue };
        return Some(format!("{count} {}", own[kind]));
    }
    None
}

/// A text for quotes: without what would end it, or be a live figure in it.
fn quoted(text: &str) -> String {
    text.replace('"', "”").replace('[', "(").replace(']', ")").replace('\\', "/")
}

fn one_line(text: &str) -> String {
    // A terminal obeys what nobody sees.
    let seen = text.replace(|it: char| it.is_control() && !it.is_whitespace(), " ");
    seen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a part is called, short enough to stand beside a name.
fn role(part: &str) -> String {
    let plain: String = part.chars().map(|it| if it.is_alphabetic() { it } else { ' ' }).collect();
    let articles = [
        "for", "the", "la", "le", "les", "pour", "der", "die", "das", "den", "für", "el", "para",
        "il", "per", "l",
    ];
    let is_said = |word: &&str| !articles.contains(&word.to_lowercase().as_str());
    let words: Vec<&str> = plain.split_whitespace().filter(is_said).collect();
    words.iter().rev().take(2).rev().copied().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Words that name no formula, beside what the stores and the language call things.
const TAKEN: [&str; 24] = [
    "flour",
    "dough",
    "base",
    "total",
    "piece",
    "pieces",
    "levain",
    "poolish",
    "biga",
    "sponge",
    "soaker",
    "starter",
    "percentages",
    "feeds",
    "yeast",
    "temperatures",
    "weights",
    "volumes",
    "bread",
    "loaf",
    "pain",
    "brot",
    "pan",
    "pane",
];

/// The name of a formula, from its title in a language.
fn slug(title: &str, language: &str) -> String {
    let title = title.to_lowercase();
    let title = match language {
        "de" => title.replace('ä', "ae").replace('ö', "oe").replace('ü', "ue"),
        _ => title,
    };
    let plain: String = title.nfd().filter(|letter| !is_combining_mark(*letter)).collect();
    let plain = plain.replace('ß', "ss").replace('œ', "oe").replace('æ', "ae");
    let mut slug = String::new();
    for letter in plain.chars() {
        match letter {
            'a'..='z' | '0'..='9' => slug.push(letter),
            _ if slug.ends_with('-') || slug.is_empty() => {}
            _ => slug.push('-'),
        }
        if slug.len() >= 50 {
            break;
        }
    }
    let slug = slug.trim_end_matches('-').to_owned();
    let begins_with_letter = slug.starts_with(|letter: char| letter.is_ascii_lowercase());
    let is_taken = TAKEN.contains(&slug.as_str())
        || built_in().ingredient_named(&key(&slug)).is_some()
        || built_in().culture_named(&key(&slug)).is_some()
        || Class::read(&slug).is_some();
    match () {
        () if slug.is_empty() => "recipe".to_owned(),
        () if is_taken || !begins_with_letter => format!("recipe-{slug}"),
        () => slug,
    }
}
