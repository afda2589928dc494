//! The one neutral document that every print and `show` are made from.
//!
//! Numbers come twice: exactly, as a fraction or decimal in `grams` or `exact`, and as
//! the text to print, rounded once. A template only ever prints the text.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 1;

/// A formula, worked out and ready for paper.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct Document {
    /// The version of this document's shape.
    pub version: u32,
    /// What stands on every print of the house.
    pub house: HousePart,
    /// The formula's identifier: `gullhaven-sour`.
    pub name: String,
    /// Its title: `Gullhaven Sour`.
    pub title: String,
    /// The style it claims, where it claims one.
    pub style: Option<String>,
    /// Language of the printed words, as a BCP 47 tag.
    pub language: String,
    /// What parts the whole from the rest of a number: `.` or `,`.
    pub decimal_mark: String,
    /// The words that templates add of their own, by name; what stands in braces is for
    /// them to fill in: `page {page} of {pages}`.
    pub words: BTreeMap<String, String>,
    /// What the formula makes.
    #[serde(rename = "yield")]
    pub makes: Yield,
    /// The figures of the whole formula, the important ones first.
    pub figures: Vec<FigurePart>,
    /// The lines of the whole formula: all that is in the dough, percentages of all flour.
    pub total: Vec<LinePart>,
    /// The sum of what these lines show.
    pub total_sum: Weight,
    /// What it comes to at both ends, where some amount is a range.
    pub total_sum_low: Option<Weight>,
    /// The upper of these ends.
    pub total_sum_high: Option<Weight>,
    /// The sum in per cent of the flour that is listed, without the sign.
    pub total_sum_percent: Option<String>,
    /// The mixes in the order in which they are made, the final dough last.
    pub mixes: Vec<MixPart>,
    /// The side mixes that are used, such as an egg wash, as much of each as it takes.
    pub mixtures: Vec<MixPart>,
    /// What one piece carries besides its dough, by kind.
    pub beside: Vec<BesidePart>,
    /// What goes in at which step, for a reader; stages first.
    pub groups: Vec<GroupPart>,
    /// What the dough comes to: flour, water, salt, the rest, all.
    pub summary: Vec<LinePart>,
    /// The steps in order, those of the stages first.
    pub method: Vec<StepPart>,
    /// The same steps with the weights of one batch in the words of the dough's own; empty
    /// where it is mixed at once.
    pub batch_method: Vec<StepPart>,
    /// How warm the water of the dough has to be; absent where too little is known.
    pub water: Option<WaterPart>,
    /// The shape of the day without a clock, every length as it would best be; absent
    /// where no time is given.
    pub timeline: Option<TimelinePart>,
    /// Sentences above the ingredients.
    pub headnotes: Vec<String>,
    /// The author's notes on the whole formula.
    pub notes: Vec<String>,
    /// What has to be at hand.
    pub equipment: Vec<String>,
    /// How the bread keeps.
    pub storage: Vec<String>,
    /// Where the formula is from.
    pub sources: Vec<String>,
    /// Everything that can hurt somebody: the author's words for the whole formula and the
    /// usual ones; the cautions of single steps stand with their steps.
    pub cautions: Vec<String>,
    /// Allergens that the ingredients contain, by their names in law.
    pub contains: Vec<String>,
    /// The same allergens in the same order by keys that are alike in every language: `wheat`,
    /// `tree nuts`.
    #[serde(default)]
    pub contains_keys: Vec<String>,
    /// Allergens that some ingredient may contain besides.
    pub may_contain: Vec<String>,
    /// The keys of those, in the same order.
    #[serde(default)]
    pub may_contain_keys: Vec<String>,
    /// Ingredients of which nothing, or not all, is known about allergens.
    pub contains_unknown: Vec<String>,
    /// Where this print came from, for its foot; absent where nobody asked.
    pub trace: Option<TracePart>,
}

/// Where a print came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct TracePart {
    /// The first digits of the commit that it was printed from; `draft` where a file that it
    /// depends on is not as it was committed.
    pub revision: String,
    /// Eight letters and digits by which `assize trace` finds it again.
    pub code: String,
    /// The same as a square for a telephone (ISO/IEC 18004), row by row from above, `1` for
    /// each dark module; on sheets of a house that asks for it.
    pub qr: Option<Vec<String>>,
}

impl Document {
    /// Whether any line tells a volume.
    pub fn volumes(&self) -> bool {
        self.groups.iter().flat_map(|group| &group.lines).any(|line| line.volume.is_some())
    }
}

/// The house that prints.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
pub struct HousePart {
    /// The house's name.
    pub title: Option<String>,
    /// What stands below every page.
    pub footer: Option<String>,
    /// `a4`, `a5`, `letter` or `half-letter`, where the house says so.
    pub paper: Option<String>,
    /// The name of the file with the house's sign, beside the template.
    pub logo: Option<String>,
    /// The house's one colour, as `#2f4858`; dark enough for words on white.
    pub colour: Option<String>,
}

/// What the formula makes.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct Yield {
    /// In one line: `24 loaves at 900 g`.
    pub text: String,
    /// Each kind of piece; none where a dough is made and not divided.
    pub pieces: Vec<PiecePart>,
    /// The whole dough.
    pub dough: Weight,
    /// All the flour.
    pub flour: Weight,
    /// Batches the dough is mixed in, by the largest mixer of the house.
    pub batches: u32,
    /// The dough of one batch.
    pub batch: Weight,
    /// How many people all of it is said to serve: `4`, `4–6`.
    pub serves: Option<String>,
    /// No yield was given: the numbers are for a kilogram of flour.
    pub assumed: bool,
}

/// A kind of piece.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct PiecePart {
    /// How many: `24`, or `≈ 24` where only the dough is known.
    pub count: String,
    /// What they are called: `loaves`.
    pub kind: String,
    /// Dough of one.
    pub weight: Weight,
    /// One when baked, where the loss is known.
    pub baked: Option<Weight>,
    /// One out of the oven with what it carries, where that is more than its dough; `baked`
    /// is then of the dough alone.
    pub as_eaten: Option<Weight>,
    /// Per cent of weight lost in the oven.
    pub loss: Option<String>,
    /// The tin that one goes into.
    pub tin: Option<String>,
}

/// A weight.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Weight {
    /// Grams, exactly: a decimal, or a fraction such as `1000/3`.
    pub grams: String,
    /// What to print, rounded to what the scale shows: `7.360`; in US units `1 lb 4⅜`.
    pub shown: String,
    /// The unit to print after it: `kg`.
    pub unit: String,
    /// The same as one decimal number of this unit, for programs: `7.360`, `20.375`.
    pub decimal: String,
    /// The same in the other system, where the house prints both; in grams where it is
    /// less than an ounce.
    pub beside: Option<Beside>,
    /// A sum that what is weighed can't meet exactly: to print after `≈`.
    pub about: bool,
}

impl Weight {
    /// What stands before a sum that is only about what was asked for.
    pub fn mark(&self) -> &'static str {
        if self.about { "≈ " } else { "" }
    }

    /// `900 g`, or both systems: `900 g / 1 lb 15¾ oz`.
    pub fn said(&self) -> String {
        let first = format!("{}{} {}", self.mark(), self.shown, self.unit);
        match &self.beside {
            Some(beside) => {
                let mark = if beside.about { "≈ " } else { "" };
                format!("{first} / {mark}{} {}", beside.shown, beside.unit)
            }
            None => first,
        }
    }
}

/// A weight in the other system of units.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Beside {
    /// What to print: `1 lb 4⅜`, in which ounces stand after the pounds.
    pub shown: String,
    /// The unit to print after it: `oz`.
    pub unit: String,
    /// The same as one decimal number of this unit, for programs: `20.375`.
    pub decimal: String,
    /// A sum that what is weighed can't meet exactly: to print after `≈`.
    pub about: bool,
}

/// A figure of the whole formula.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct FigurePart {
    /// The name that a claim uses: `prefermented flour`.
    pub name: String,
    /// The name to print: `Prefermented flour`.
    pub label: String,
    /// The value to print: `74`, or `74–79` where amounts are ranges.
    pub shown: String,
    /// The unit to print behind it; empty for a bare number.
    pub unit: String,
    /// The value exactly, a share of one, grams or minutes, at the low ends of ranges.
    pub exact: String,
    /// The value at the high ends, where it differs.
    pub exact_high: Option<String>,
    /// Whether it belongs in the strip of a card.
    pub key: bool,
}

/// What a line is, where a print treats it apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LineKind {
    /// Something of the stores or of the house.
    Ingredient,
    /// A starter that is kept.
    Culture,
    /// A stage of this formula.
    Stage,
    /// A side mix of the house or of the formula.
    Mixture,
    /// Another formula.
    Formula,
    /// Dough kept from the batch before.
    OldDough,
    /// Flour, water and the like, gathered from all mixes.
    Sum,
}

/// One line of a column.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct LinePart {
    /// What it is in every language and by whichever of its names it was written: the name
    /// of the ingredient, culture, stage, mixture or formula as its declaration has it, in
    /// small letters; of a sum, the class.
    pub key: String,
    /// The name to print.
    pub name: String,
    /// The role in brackets: `second`.
    pub role: Option<String>,
    /// What it is.
    pub kind: LineKind,
    /// The class of an ingredient: `flour`.
    pub class: Option<String>,
    /// Absent for amounts without weight.
    pub weight: Option<Weight>,
    /// Instead of a weight: `to taste`, `as needed`, `a pinch`.
    pub soft: Option<String>,
    /// The author's measure where it is a volume, a count or parts: `1½ cups`, `× 3`.
    pub written: Option<String>,
    /// `up to 25 g more`, where the amount is a range.
    pub more: Option<String>,
    /// What it comes to at both ends, where the amount is a range or ranges move it.
    pub weight_low: Option<Weight>,
    /// The upper of these ends.
    pub weight_high: Option<Weight>,
    /// Grams at the high end, exactly, where the amount is a range.
    pub grams_high: Option<String>,
    /// Baker's percentage in its own mix, to print, without the sign; both ends of a range.
    pub percent: Option<String>,
    /// The same exactly, as a share of one; of what is weighed, where it is a range.
    pub percent_exact: Option<String>,
    /// The same at both ends, where they differ.
    pub percent_low: Option<String>,
    /// The upper of these ends.
    pub percent_high: Option<String>,
    /// Where it goes in over several steps, what each of them takes: `Autolyse: 6.180 kg`.
    pub by_step: Vec<String>,
    /// Behind the name: `nine tenths`, `the rest`, `kept back`.
    pub part: Option<String>,
    /// The volume it takes, about, where volumes are asked for: `≈ 1¾ cups`.
    pub volume: Option<String>,
    /// The author's note to this line.
    pub note: Option<String>,
}

/// A mix: a stage or the final dough.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
pub struct MixPart {
    /// Its identifier: `levain`; empty for the final dough.
    pub name: String,
    /// Its name to print.
    pub title: String,
    /// `preferment`, `build`, `soaker`, `scald`, `dough` or `mixture`.
    pub kind: String,
    /// What goes into it, in the author's order.
    pub lines: Vec<LinePart>,
    /// The sum of the shown lines.
    pub sum: Weight,
    /// What it comes to at both ends, where some amount is a range.
    pub sum_low: Option<Weight>,
    /// The upper of these ends.
    pub sum_high: Option<Weight>,
    /// The sum in per cent of what this mix's percentages are of, without the sign.
    pub sum_percent: Option<String>,
    /// What goes into the dough or other mixes, where that is less than the sum.
    pub goes_on: Option<Weight>,
    /// What is taken off ripe and feeds the next batch.
    pub kept_back: Option<Weight>,
    /// What is kept for another day.
    pub saved: Option<Weight>,
    /// What nothing uses.
    pub left_over: Option<Weight>,
    /// How often it is fed, where it is more than once; the lines are the last feed's.
    pub feeds: Option<u32>,
    /// The earlier feeds, first one first.
    pub earlier_feeds: Vec<Vec<LinePart>>,
    /// For each of them, what the next feed does not take, where there is such.
    pub discarded: Vec<Option<Weight>>,
    /// `8–10 h at 22 °C, keeps 2 h`.
    pub wait: Option<String>,
    /// Water over flour of all that is in it, to print; absent where there is no flour.
    pub hydration: Option<String>,
    /// The same lines for one batch; only in the final dough, when there are several.
    pub batch_lines: Vec<LinePart>,
    /// The sum of these lines.
    pub batch_sum: Option<Weight>,
    /// What the last batch comes to, where it takes what is left and that is another weight.
    pub last_batch: Option<Weight>,
}

/// What one piece of a kind carries besides its dough.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct BesidePart {
    /// The kind of piece; empty where there is one kind only.
    pub kind: String,
    /// For one piece.
    pub each: Vec<LinePart>,
    /// For all of them.
    pub all: Vec<LinePart>,
}

/// Ingredients that go in together.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct GroupPart {
    /// Its heading.
    pub title: String,
    /// What the percentages are of, as a heading: `% of its flour`.
    pub percent_of: Option<String>,
    /// In the author's order.
    pub lines: Vec<LinePart>,
    /// Numbers of the steps it belongs to, from zero.
    pub steps: Vec<usize>,
}

/// A step of the method.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct StepPart {
    /// `Autolyse`, `Bake`; empty where the author's words say it all.
    pub title: String,
    /// The title of the stage it builds; absent for the dough's own steps.
    pub stage: Option<String>,
    /// What happens, one thing after the other.
    pub phases: Vec<PhasePart>,
    /// The author's notes on this step.
    pub notes: Vec<String>,
    /// What can hurt somebody in this step.
    pub cautions: Vec<String>,
    /// Somebody has to be there.
    pub hands_on: bool,
}

/// A phase of a step: what hangs in the margin, and what to do.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
pub struct PhasePart {
    /// `10–16 h`; absent where no time is given.
    pub time: Option<String>,
    /// `4 °C`: surroundings.
    pub at: Option<String>,
    /// `25 °C`: dough temperature aimed at.
    pub to: Option<String>,
    /// A sentence or two.
    pub text: String,
    /// What must not be missed where the words are left out: folds, steam.
    #[serde(default)]
    pub how: Vec<String>,
}

/// A formula's day, from its first step to the end of its last.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct TimelinePart {
    /// How long it is, in minutes.
    pub minutes: i64,
    /// How long something is in the oven or over heat at most, in minutes, all loads of one
    /// bake as one; nothing where that has no upper end.
    pub heat_minutes: Option<i64>,
    /// One for each stage, in building order, and one for the dough.
    pub lanes: Vec<LanePart>,
}

/// What happens to a stage or to the dough, one thing after the other.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct LanePart {
    /// The stage's title, or that of the dough.
    pub title: String,
    /// In the order of time.
    pub bars: Vec<BarPart>,
    /// Folds, in minutes from the beginning.
    pub folds: Vec<i64>,
}

/// A bar of a lane.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct BarPart {
    /// Minutes from the beginning.
    pub from: i64,
    /// Minutes from the beginning.
    pub to: i64,
    /// What it shows: work, waiting, heat or cold.
    pub kind: BarKind,
    /// `Proof`, `Ripen`.
    pub title: String,
    /// How long it is: `10 h`.
    pub time: String,
    /// `4 °C`: surroundings.
    pub at: Option<String>,
}

/// What somebody has to do with a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BarKind {
    /// Hands are at work.
    Hands,
    /// It waits by itself.
    Waiting,
    /// It waits at 10 °C or colder.
    Cold,
    /// It is in the oven or over steam, and somebody is near.
    Oven,
}

/// The water of the final dough, so that it comes out as warm as it is aimed at.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct WaterPart {
    /// What it is and what it is for: `water for Autolyse, Mix`.
    pub label: String,
    /// `27 °C`; where there is ice, that of the tap.
    pub temperature: String,
    /// Water for one batch, without the ice.
    pub water: Weight,
    /// Ice for one batch, as a part of the water, where the tap is not cold enough.
    pub ice: Option<Weight>,
    /// The numbers of the steps in `method` in which the water goes in, from zero.
    pub steps: Vec<usize>,
    /// The dough's temperature that it is for: `25 °C`.
    pub target: String,
    /// How it was worked out: `by the factor method`.
    pub method: String,
    /// What to do next time where the dough was too warm or too cold, in the house's units.
    pub correction: String,
    /// What else to do, where water alone can't bring the dough to its temperature.
    pub lever: Option<String>,
}
