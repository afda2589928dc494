//! A production day as one documented sheet.

use super::document::{HousePart, LinePart, TracePart, WaterPart, Weight};
use super::plan_document::{DatingPart, MomentPart};
use crate::diag::machine::pretty;
use crate::orders::Work;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 3;

/// A day, planned and ready for paper.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayDocument {
    /// The version of this document's shape.
    pub version: u32,
    /// What stands on every print of the house.
    pub house: HousePart,
    /// The date, the weekday or the identifier that was asked for.
    pub name: String,
    /// Its title; its name where it has none.
    pub title: String,
    /// Language of the printed words, as a BCP 47 tag.
    pub language: String,
    /// `.` or `,`, as the language writes it.
    pub decimal_mark: String,
    /// The words that templates add of their own, by name.
    pub words: BTreeMap<String, String>,
    /// The time zone of all clock times; absent where the day is any.
    pub zone: Option<String>,
    /// What is known of the days.
    pub dating: DatingPart,
    /// Its date, in words.
    pub date: String,
    /// When the first thing is begun, in minutes from the day's midnight.
    pub begins: i64,
    /// When the last thing is done, in minutes from the day's midnight.
    pub ends: i64,
    /// Where it came from; absent where that is not known.
    pub trace: Option<TracePart>,
    /// The prints that are wanted: `plan`, `mixing`, `levains`, `bench`, `oven`,
    /// `requisition`, `batches`, `packing`; or `picture`, the chart in one piece.
    pub parts: Vec<String>,
    /// The stretches of the day in which something works; the chart cuts them to its pages.
    pub stretches: Vec<DayStretch>,
    /// What the chart calls batches and builds by, with their names.
    pub keys: Vec<DayKey>,
    /// How large the labels are that the house has sheets of; absent where two stand in a row.
    pub label: Option<DayLabel>,
    /// Full hours from the beginning to the end.
    pub hours: Vec<DayHour>,
    /// How many pairs of hands there are, from which minute on.
    pub hands: Vec<DayLevel>,
    /// What is ordered, by the time at which it is wanted.
    pub orders: Vec<DayOrder>,
    /// Batches of all products, by when they are mixed.
    pub batches: Vec<DayBatch>,
    /// Builds of stages, by when they are begun.
    pub builds: Vec<DayBuild>,
    /// Mixtures that are weighed once for all that takes them, in order of their names.
    pub mixtures: Vec<DayMixture>,
    /// Everything that takes hands, a machine or boards, by the clock.
    pub tasks: Vec<DayTask>,
    /// What works: mixers, decks, hands, places for boards; each with what it does.
    pub rows: Vec<DayRow>,
    /// Everything to be taken out of stores.
    pub requisition: Vec<DayStore>,
    /// What nobody ordered of what is on hand or begun.
    pub left_over: Vec<String>,
    /// Whether no other day is better.
    pub proven: bool,
    /// Minutes late in all.
    pub late: i64,
    /// Minutes late in all that no day is less than.
    pub late_at_least: i64,
    /// The author's notes.
    pub notes: Vec<String>,
    /// The author's cautions, and the usual ones of all that is made.
    pub cautions: Vec<String>,
    /// What holds batches and builds together: from it a day that has begun is planned anew, and
    /// what is begun of it stays what it is.
    pub works: Vec<Work>,
}

/// What an earlier document of the day said of batches, builds and tasks.
#[derive(Clone, Debug, Deserialize)]
pub struct DayEarlier {
    /// As [`DayDocument::trace`].
    pub trace: Option<TracePart>,
    /// As [`DayDocument::batches`].
    pub batches: Vec<DayBatch>,
    /// As [`DayDocument::builds`].
    pub builds: Vec<DayBuild>,
    /// As [`DayDocument::tasks`].
    pub tasks: Vec<DayTask>,
}

impl DayDocument {
    /// A time of the day itself as `07:00`; of another with its date.
    pub fn clock(&self, at: &MomentPart) -> String {
        match self.date.starts_with(&at.date) {
            true => at.time.clone(),
            false => format!("{} {}", at.date, at.time),
        }
    }
}

/// A full hour of the day.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayHour {
    /// Minutes from the day's midnight.
    pub at: i64,
    /// As a clock shows it: `18:00`.
    pub time: String,
    /// Its date, in words.
    pub date: String,
}

/// A stretch of the day in which work is done.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayStretch {
    /// Minutes from the day's midnight, a full hour.
    pub from: i64,
    /// Minutes from the day's midnight, a full hour.
    pub to: i64,
    /// Its date, in words.
    pub date: String,
}

/// The size of a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DayLabel {
    /// Millimetres.
    pub width: u32,
    /// Millimetres.
    pub height: u32,
}

impl DayLabel {
    /// Reads `70x37` or `70x37mm`; none where no sheet has labels of that size.
    pub fn read(text: &str) -> Option<Self> {
        const LEAST: u32 = 20;
        const MOST: u32 = 200;
        let text = text.trim().trim_end_matches("mm").trim_end();
        let (width, height) = text.split_once(['x', '×'])?;
        let number = |text: &str| text.trim().parse().ok();
        let (width, height) = (number(width)?, number(height)?);
        let is_usual = |side: &u32| (LEAST..=MOST).contains(side);
        [width, height].iter().all(is_usual).then_some(Self { width, height })
    }
}

/// What the chart calls a product or a stage by.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayKey {
    /// `HR`.
    pub short: String,
    /// `Harbour Rolls`.
    pub name: String,
}

/// How many pairs of hands there are from a minute on.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayLevel {
    /// Minutes from the day's midnight.
    pub at: i64,
    /// Pairs of hands.
    pub hands: i32,
}

/// One line of an order.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayOrder {
    /// The formula's identifier.
    pub product: String,
    /// Its title.
    pub title: String,
    /// Whom it is for, where it says so.
    pub customer: Option<String>,
    /// How many pieces; of dough, grams.
    pub count: u32,
    /// The kind of pieces; absent where dough is ordered.
    pub kind: Option<String>,
    /// `60 loaves`, `20 kg dough`.
    pub amount: String,
    /// Wanted by then.
    pub by: MomentPart,
    /// Not before then.
    pub after: Option<MomentPart>,
    /// The last of it is done; absent where all is on hand, or some finds no place.
    pub done: Option<MomentPart>,
    /// Minutes late.
    pub late: i64,
    /// Pieces that find no place in the day.
    pub missing: u32,
    /// Pieces that are there already.
    pub on_hand: u32,
    /// Those that are frozen come out of the freezer then.
    pub thaw: Option<MomentPart>,
    /// `Harbour Rolls 2 of 5`: the batches that it is taken from, each with the pieces.
    pub from: Vec<DayShare>,
}

/// Some pieces of a batch.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayShare {
    /// By its place among the batches.
    pub batch: usize,
    /// How many pieces.
    pub pieces: u32,
}

/// A batch of a product.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayBatch {
    /// The formula's identifier.
    pub product: String,
    /// Its title.
    pub title: String,
    /// Which of its formula it is, from one, whatever kind of pieces it makes.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// Pieces; of dough, grams.
    pub pieces: u32,
    /// What it makes, in one line, as its sheet says it.
    pub makes: String,
    /// The whole dough.
    pub dough: Weight,
    /// What goes into the mixer, as its sheet says it.
    pub lines: Vec<LinePart>,
    /// How warm the water has to be, as its sheet says it.
    pub water: Option<WaterPart>,
    /// The mixer; absent where it is mixed by hand, or finds no place.
    pub mixer: Option<String>,
    /// It is mixed then.
    pub mixed: Option<MomentPart>,
    /// The same in minutes from the day's midnight.
    pub mixed_at: Option<i64>,
    /// It may be mixed as late as this: what follows of the batch is later then too, and all
    /// else stays; absent where it may not wait.
    pub mixed_at_latest: Option<MomentPart>,
    /// Its loads in the oven, in order.
    pub loads: Vec<DayLoad>,
    /// All of it is done from then.
    pub ready: Option<MomentPart>,
    /// And until then at the best.
    pub ready_until: Option<MomentPart>,
    /// Allergens that it contains.
    pub contains: Vec<String>,
    /// Allergens that it may contain.
    pub may_contain: Vec<String>,
    /// Ingredients of which nothing, or not all, is known about allergens.
    pub contains_unknown: Vec<String>,
}

/// A load of the oven.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayLoad {
    /// Pieces.
    pub pieces: u32,
    /// Their kind; absent for dough.
    pub kind: Option<String>,
    /// The deck; absent where it is not baked, or finds no place.
    pub deck: Option<String>,
    /// In the oven from then.
    pub baked: Option<MomentPart>,
    /// Until then.
    pub out: Option<MomentPart>,
    /// Done from then.
    pub done: Option<MomentPart>,
    /// And until then at the best.
    pub done_at_latest: Option<MomentPart>,
}

/// A build of a stage.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayBuild {
    /// The stage.
    pub name: String,
    /// Which of its stage it is, from one.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// It is begun then; absent where it is on hand.
    pub begins: Option<MomentPart>,
    /// It is not built: it is on hand before the day begins.
    pub on_hand: bool,
    /// What is on hand is ripe then; absent where it can be taken at any time.
    pub ripe: Option<MomentPart>,
    /// What nobody takes of what is on hand or begun.
    pub left: Option<Weight>,
    /// All that is put together, or on hand.
    pub made: Weight,
    /// What it is put together from.
    pub lines: Vec<DayLine>,
    /// Kept back to be the next culture.
    pub kept_back: Option<Weight>,
    /// Saved.
    pub saved: Option<Weight>,
    /// `ripens 8–10 h at 22 °C, keeps 2 h`, as its formula's sheet says it.
    pub wait: Option<String>,
    /// Who takes how much of it, and when.
    pub takes: Vec<DayTake>,
}

/// A mixture, such as a blend of seeds: all that the day takes of it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayMixture {
    /// The name to print.
    pub name: String,
    /// All of it.
    pub made: Weight,
    /// What it is weighed of.
    pub lines: Vec<DayLine>,
    /// What takes how much of it, and when: batches, builds, other mixtures.
    pub takes: Vec<DayTake>,
}

/// A line of a build.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayLine {
    /// The name to print.
    pub name: String,
    /// How much.
    pub weight: Weight,
}

/// What one batch or build takes of another build.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayTake {
    /// `Harbour Rolls 2 of 5`.
    pub who: String,
    /// How much.
    pub weight: Weight,
    /// When.
    pub at: Option<MomentPart>,
}

/// Something that takes hands, a machine or boards.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct DayTask {
    /// What it is of its batch or build, whatever the clock: `harbour-rolls 2 shape`.
    pub id: String,
    /// `Harbour Rolls 2 of 5`, `House levain`.
    pub whose: String,
    /// The same on the chart: `HR2`.
    pub short: String,
    /// `Shape`.
    pub title: String,
    /// Minutes from the day's midnight.
    pub from: i64,
    /// Minutes from the day's midnight.
    pub to: i64,
    /// It begins then.
    pub begins: MomentPart,
    /// It ends then.
    pub ends: MomentPart,
    /// It may begin as late as this: what follows of its batch is later then too, and all else
    /// stays; absent where it may not wait.
    pub latest: Option<MomentPart>,
    /// The machine that it has to itself.
    pub machine: Option<String>,
    /// The proofer or refrigerator that it stands in.
    pub place: Option<String>,
    /// Boards that it takes there.
    pub boards: Option<u32>,
    /// Which pair of hands does it, from one.
    pub hands: Option<usize>,
    /// `250 °C`: the heat at its beginning, of a bake.
    pub heat: Option<String>,
    /// The heat at its end, of a bake.
    pub heat_at_end: Option<String>,
    /// Whether it is only that somebody puts something in, takes it out or moves it.
    pub moment: bool,
    /// Whether that is at an oven, whose list tells it.
    #[serde(default)]
    pub at_oven: bool,
    /// Which load it is of, from one, where its batch has several.
    pub load: Option<usize>,
}

/// Something that works, with what it does.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayRow {
    /// `spiral`, `deck 2`, `hands 1`, `proofer`.
    pub name: String,
    /// What it is.
    pub kind: RowKind,
    /// By their places among the tasks.
    pub tasks: Vec<usize>,
}

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RowKind {
    /// A mixer.
    Mixer,
    /// A pair of hands.
    Hands,
    /// A proofer or a refrigerator.
    Place,
    /// A deck of an oven.
    Deck,
}

/// Something to be taken out of stores.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayStore {
    /// What it is in every language.
    pub key: String,
    /// The name to print.
    pub name: String,
    /// How much of it.
    pub weight: Weight,
    /// Packs to be opened for it, `2 × 25 kg`; absent where the house does not say what a pack
    /// holds.
    pub packs: Option<String>,
    /// What is short of it, where the day says what is on hand.
    pub short: Option<Weight>,
}

/// The day as JSON, as `assize day --format json` prints it and its templates read it.
pub fn day_json(document: &DayDocument) -> String {
    pretty(document)
}

/// The published JSON Schema of a day.
pub fn day_schema() -> String {
    pretty(&schemars::schema_for!(DayDocument))
}
