//! What changed between two states, as documented data.

use crate::diag::machine::pretty;
use crate::source::Span;
use schemars::JsonSchema;
use serde::Serialize;

/// The version of this document's shape; it grows when a field changes its meaning.
pub const VERSION: u32 = 1;

/// All that changed in meaning, the weightiest first.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Comparison {
    /// The version of this document's shape.
    pub version: u32,
    /// The formulas that changed.
    pub formulas: Vec<FormulaChange>,
    /// Changes of what formulas share, with the formulas that each touches.
    pub shared: Vec<SharedChange>,
    /// Days that were asked for by name, as they are planned on either side.
    pub days: Vec<DayChange>,
    /// Formulas that stand in another file now, whether anything else changed or not.
    pub moved: Vec<Moved>,
}

impl Comparison {
    /// Whether both sides mean the same.
    pub fn is_empty(&self) -> bool {
        self.formulas.is_empty() && self.shared.is_empty() && self.days.is_empty()
    }
}

/// Whether a thing came, went or changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ChangeKind {
    /// It is new.
    Added,
    /// It is gone.
    Removed,
    /// It is another than it was.
    Changed,
}

/// A formula that changed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FormulaChange {
    /// Its name.
    pub name: String,
    /// What it was called before, where it was renamed.
    pub was: Option<String>,
    /// Its title.
    pub title: String,
    /// Its file, from the folder that was compared; the old one where it is gone.
    pub file: String,
    /// Whether it came, went or changed.
    pub what: ChangeKind,
    /// What it makes now, which its sheet is for.
    pub makes: Option<String>,
    /// On one of the sides it can't be worked out, so that figures and sheet are not compared.
    pub has_errors: bool,
    /// What its prints do not have alike.
    #[serde(flatten)]
    pub differs: Difference,
    /// What its own text, with what it inherits, says differently.
    pub says: Vec<Change>,
    /// The shared things, and the formulas in it, that changed: `stage house levain`.
    pub because: Vec<String>,
    /// The booklets and days that print it: `booklet spring-course`.
    pub printed_in: Vec<String>,
    /// How much it matters, for the order.
    #[serde(skip)]
    pub weight: u64,
}

/// What two prints of a formula do not have alike.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Difference {
    /// Claims that hold now and did not before, or the other way round.
    pub claims: Vec<ClaimChange>,
    /// Errors of its checks that were not there before, beside claims.
    pub errors: Vec<String>,
    /// Errors of its checks that are no longer there.
    pub errors_no_longer: Vec<String>,
    /// The figures that moved, those first that moved most of what they are.
    pub figures: Vec<FigureChange>,
    /// The lines of its sheet that show something else.
    pub sheet: Vec<SheetChange>,
    /// Allergens that it contains now and did not before.
    pub contains: Vec<String>,
    /// Allergens that it contained before and does not now.
    pub contains_no_longer: Vec<String>,
    /// Allergens of which it may hold traces now and could not before.
    pub may_contain: Vec<String>,
    /// Allergens of which it could hold traces before and can't now.
    pub may_contain_no_longer: Vec<String>,
    /// Ingredients of whose allergens nothing, or not all, is known now.
    pub contains_unknown: Vec<String>,
    /// Ingredients of whose allergens nothing, or not all, was known before.
    pub contains_unknown_no_longer: Vec<String>,
}

/// A claim that a change has broken, or that holds now.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ClaimChange {
    /// As it is said: `prefermented flour 14.3 %`, `free from milk`.
    pub claim: String,
    /// Whether it held; nothing where it was not claimed.
    pub old: Option<Holding>,
    /// The same now.
    pub new: Option<Holding>,
    /// Why it did not hold: `it is 14.1 %`.
    pub old_why: Option<String>,
    /// The same now.
    pub new_why: Option<String>,
}

impl ClaimChange {
    /// Whether it does not hold now.
    pub fn is_broken(&self) -> bool {
        self.new.is_some_and(|it| it != Holding::Holds)
    }
}

/// Whether a claim holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Holding {
    /// It is true.
    Holds,
    /// It can't be checked.
    NotKnown,
    /// It is not true, or nobody can prove it of what must be proved.
    Fails,
}

/// A figure that moved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FigureChange {
    /// The name that a claim uses: `hydration`.
    pub name: String,
    /// The unit to print behind them; empty for a bare number, and where each has its own.
    pub unit: String,
    /// As it is printed; nothing where it was or is not there.
    pub old: Option<String>,
    /// The same now.
    pub new: Option<String>,
    /// Exactly: a share of one, grams or minutes.
    pub old_exact: Option<String>,
    /// The same now.
    pub new_exact: Option<String>,
    /// Its high end, where it was a range.
    pub old_exact_high: Option<String>,
    /// The same now.
    pub new_exact_high: Option<String>,
}

/// Something that is said differently.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Change {
    /// `total`, `dough`, `stage`, `mixture`, `each`, `method`, `claims`, `look`; `beside` for
    /// what no print of a formula shows, such as prices; empty for the declaration itself. In
    /// a history also the kind of something shared, such as `ingredient`.
    pub part: String,
    /// The name of the stage, the mixture, the kind of piece or what is shared.
    pub of: String,
    /// What is said: a line's name, a clause, a step.
    pub name: String,
    /// Nothing where it is new.
    pub old: Option<String>,
    /// Nothing where it is gone.
    pub new: Option<String>,
}

impl Change {
    /// What a sentence about it begins with: `levain: `; nothing of the declaration itself.
    pub fn place(&self) -> String {
        match (self.part.as_str(), self.of.as_str()) {
            ("" | "look" | "beside", _) | ("method", "") => String::new(),
            ("each", "") => "each piece: ".to_owned(),
            ("each", of) => format!("each {of}: "),
            ("claims", _) => "claim: ".to_owned(),
            ("bakehouse", _) => "bakehouse: ".to_owned(),
            (part @ ("total" | "dough"), _) => format!("{part}: "),
            (part, "") => format!("{part}: "),
            (_, of) => format!("{of}: "),
        }
    }
}

/// A line of a sheet that shows something else: a weight, a time, a temperature, an allergen,
/// a caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SheetChange {
    /// The title of its column: `Final dough`.
    pub column: String,
    /// The line's name; `in all` for the sum of a column.
    pub line: String,
    /// What it showed; nothing where it is new.
    pub old: Option<String>,
    /// The same now.
    pub new: Option<String>,
    /// Grams, exactly, where it is a weight.
    pub old_grams: Option<String>,
    /// The same now.
    pub new_grams: Option<String>,
}

/// Something shared that changed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SharedChange {
    /// `ingredient`, `culture`, `stage`, `mixture`, `style`, `mixer`, `oven`, `tin`, `proofer`,
    /// `refrigerator`, `board`, `bakehouse`, `booklet`, `day`.
    pub kind: String,
    /// Its name, as it is looked up.
    #[serde(skip)]
    pub key: String,
    /// Its name.
    pub name: String,
    /// What it was called before, where it was renamed.
    pub was: Option<String>,
    /// The same, as it was looked up.
    #[serde(skip)]
    pub key_before: Option<String>,
    /// Whether it came, went or changed.
    pub what: ChangeKind,
    /// What it says differently.
    pub says: Vec<Change>,
    /// Of a booklet or a day: the errors that it has since then and had not before.
    pub errors: Vec<String>,
    /// The errors that it has no longer.
    pub errors_no_longer: Vec<String>,
    /// It stands in no file that was asked for.
    #[serde(skip)]
    pub is_elsewhere: bool,
    /// Where it stands, on both sides.
    #[serde(skip)]
    pub spans: Vec<Span>,
    /// The formulas whose meaning changed with it, and the booklets and days in which it is
    /// told: `day saturday`.
    pub touches: Vec<String>,
}

/// A day whose plan shows something else.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DayChange {
    /// Its name.
    pub name: String,
    /// It can't be planned on one of the sides, so that its papers are not compared.
    pub has_errors: bool,
    /// The lines of its papers that changed: orders, batches, builds, times.
    pub papers: Vec<SheetChange>,
}

/// A formula that stands in another file.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Moved {
    /// Its name.
    pub name: String,
    /// Where it stood.
    pub from: String,
    /// Where it stands.
    pub to: String,
}

/// The comparison for programs.
pub fn json(comparison: &Comparison) -> String {
    pretty(comparison)
}

/// The published JSON Schema of the comparison.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    pretty(&schemars::schema_for!(Comparison))
}
