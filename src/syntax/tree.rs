//! What a file says, statement by statement, with the place of each.
//!
//! The tree is plain data. It keeps what was written (units, written digits, order)
//! and knows nothing of whether it makes sense.

use crate::quantity::{Exact, Unit, Units};
use crate::source::{Span, is_blank, is_unseen};
use ecow::EcoString;

/// A name of an ingredient, stage, style or formula.
#[derive(Clone, Debug, Default)]
pub struct Name {
    /// The form that is compared: NFC, case folded, blanks collapsed, `’` as `'`.
    pub key: EcoString,
    /// The author's spelling with blanks collapsed.
    pub shown: EcoString,
    pub span: Span,
}

/// A name with the role that lets it stand twice: `water (second)`.
#[derive(Clone, Debug, Default)]
pub struct Target {
    pub name: Name,
    pub role: Option<Box<Name>>,
}

/// A text in quotes.
#[derive(Clone, Debug)]
pub struct Text {
    pub parts: Vec<TextPart>,
    pub span: Span,
}

impl Text {
    /// Whether anything can be read in it.
    pub fn says_something(&self) -> bool {
        let is_empty = |letter: char| is_blank(letter) || is_unseen(letter);
        self.parts.iter().any(|part| match part {
            TextPart::Plain(words) => !words.chars().all(is_empty),
            TextPart::Figure { .. } => true,
        })
    }
}

/// A piece of a text.
#[derive(Clone, Debug)]
pub enum TextPart {
    Plain(EcoString),
    /// `[water in levain]` or `[50 g of water]`.
    Figure {
        words: EcoString,
        ask: Option<Box<FigureAsk>>,
        span: Span,
    },
}

/// What a text asks for between square brackets.
#[derive(Clone, Debug)]
pub enum FigureAsk {
    /// A figure or an amount, for all or in one mix.
    Figure { what: Target, place: Option<Name> },
    /// An amount that scales with the formula.
    Scaled { amount: Quantity, what: Option<Target> },
}

/// A number with its unit.
#[derive(Clone, Debug)]
pub struct Quantity {
    /// In `unit`, exactly as written. Of a composed amount (`3 lb 4 oz`, `1h30`), the
    /// whole in the last unit.
    pub number: Exact,
    pub unit: Unit,
    /// Digits written after the decimal point; none for a fraction.
    pub decimals: Option<u8>,
    pub span: Span,
}

/// A quantity, or a range of them, open at one end perhaps.
#[derive(Clone, Debug)]
pub struct Extent {
    pub low: Option<Quantity>,
    pub high: Option<Quantity>,
    /// Whether it was written as a range.
    pub ranged: bool,
    pub span: Span,
}

/// What a percentage is a percentage of.
#[allow(clippy::enum_variant_names, reason = "a base dough is a term of the trade")]
#[derive(Clone, Debug)]
pub enum Base {
    /// `of flour`: all the flour of the formula.
    Flour,
    /// `of added flour`: the flour of the `dough` block.
    AddedFlour,
    /// `of dough`: the whole dough.
    Dough,
    /// `of base dough`: everything in the block but this line.
    BaseDough,
    /// `of NAME`.
    Of(Target),
}

/// The amount of a line.
#[allow(clippy::large_enum_variant, reason = "almost all are measured: a box would cost more")]
#[derive(Clone, Debug)]
pub enum Amount {
    /// A weight, volume, count, percentage or number of parts.
    Measured { range: Extent, base: Option<Box<Base>> },
    /// `to taste`.
    ToTaste,
    /// `as needed`.
    AsNeeded,
    /// `1 pinch`, `a pinch`.
    Pinch,
    /// `the rest`.
    Rest,
    /// `all`.
    All,
}

/// How a culture in a stage counts.
#[derive(Clone, Debug, Default)]
pub enum Counting {
    #[default]
    Counted,
    /// `kept back`, from this stage or from another.
    KeptBack {
        from: Option<Name>,
    },
    NotSplit,
}

/// A line of a mix.
#[derive(Clone, Debug)]
pub struct Line {
    pub target: Target,
    pub amount: Amount,
    pub amount_span: Span,
    /// The same amount in another unit, as it stands beside: `250 g/9 oz`, `240 g (2 cups)`.
    pub beside: Option<Box<Extent>>,
    pub counting: Counting,
    pub note: Option<Text>,
    pub span: Span,
}

/// A block of lines: `total`, `dough`, or the inside of a stage.
#[derive(Clone, Debug, Default)]
pub struct Mix {
    pub lines: Vec<Line>,
    pub without: Vec<Target>,
    /// `counts as flour tapioca starch, potato starch`.
    pub counts_as_flour: Vec<Name>,
    /// What of the dough is kept for the next one; of a total or a dough.
    pub save: Vec<Save>,
    /// Of the word that opens the block.
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StageKind {
    Preferment,
    Build,
    Soaker,
    Scald,
}

impl StageKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Preferment => "preferment",
            Self::Build => "build",
            Self::Soaker => "soaker",
            Self::Scald => "scald",
        }
    }

    /// Whether its flour counts as fermented before the dough.
    pub fn ferments(self) -> bool {
        matches!(self, Self::Preferment | Self::Build)
    }
}

/// A size that is stated in the stage itself.
#[derive(Clone, Debug)]
pub enum Size {
    /// `ferments 18% of flour` or `takes 18% of flour`; a share.
    OfFlour(Extent),
    /// `weighs 2 kg`.
    Weighs(Extent),
    /// `percentages of total`.
    OfTotal,
}

#[derive(Clone, Debug)]
pub struct StageSize {
    pub size: Size,
    pub span: Span,
}

/// A wait at a temperature: one leg of `ripens 2h at 24C then 12h at 4C`.
#[derive(Clone, Debug)]
pub struct Wait {
    pub time: Option<Extent>,
    pub at: Option<Extent>,
    /// `at room`.
    pub in_room: bool,
    pub span: Span,
}

/// `at least 20 g NAME`, `save 50 g at 4C`.
#[derive(Clone, Debug)]
pub struct Least {
    pub amount: Quantity,
    pub name: Name,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Save {
    pub amount: Quantity,
    pub at: Option<Extent>,
    pub span: Span,
}

/// A mix that is made before the dough.
#[derive(Clone, Debug)]
pub struct Stage {
    pub kind: StageKind,
    pub name: Name,
    pub sizes: Vec<StageSize>,
    pub mix: Mix,
    pub ripens: Vec<Wait>,
    pub keeps: Vec<Wait>,
    pub stands: Vec<Wait>,
    /// `feeds 3 times`.
    pub feeds: Option<(u32, Span)>,
    pub at_least: Vec<Least>,
    pub save: Vec<Save>,
    /// `loses 8%`; a share, of water boiled away.
    pub loses: Option<Quantity>,
    pub method: Option<Method>,
    pub texts: Vec<Words>,
    pub allow: Vec<Allow>,
    pub span: Span,
}

/// A side mix, sized by what uses it.
#[derive(Clone, Debug)]
pub struct Mixture {
    pub name: Name,
    pub mix: Mix,
    pub texts: Vec<Words>,
}

/// What one piece carries besides its dough.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The kind of piece; none for all.
    pub kind: Option<Name>,
    pub mix: Mix,
    pub bake_loss: Option<Quantity>,
    pub make_up_loss: Option<Quantity>,
    pub span: Span,
}

/// A kept starter and what it is made of.
#[derive(Clone, Debug)]
pub struct Culture {
    pub name: Name,
    pub mix: Mix,
    pub texts: Vec<Words>,
}

/// One `24 loaves at 900 g` of a yield.
#[derive(Clone, Debug)]
pub struct MadePiece {
    pub count: Quantity,
    /// Whether a count is written; else there are as many as the dough gives, and the count
    /// is nothing.
    pub counted: bool,
    pub kind: Name,
    /// Weight of one.
    pub weight: Option<Quantity>,
    /// The weight is that of the baked piece.
    pub baked: bool,
    /// `in chandler`.
    pub tin: Option<Name>,
    pub span: Span,
}

/// `makes …` in all its forms.
#[derive(Clone, Debug)]
pub struct Makes {
    pub pieces: Vec<MadePiece>,
    /// `20 kg dough`.
    pub dough: Option<Quantity>,
    /// `from 12.5 kg flour`, `from 400 g levain`.
    pub from: Option<(Quantity, Target)>,
    /// `2x`, `for 3 people`: as much of what the formula says; on the command line.
    pub factor: Option<Factor>,
    pub span: Span,
}

/// How much of what a formula makes is asked for.
#[derive(Clone, Debug)]
pub enum Factor {
    /// `2x`, `half`, `double`.
    Times(Exact),
    /// `for 3 people`, where the formula says how many it `serves`.
    People(Exact),
}

/// A figure that is claimed: `hydration in levain 100%`.
#[derive(Clone, Debug)]
pub struct Claim {
    /// A figure, an ingredient, a stage or a class.
    pub what: Target,
    /// `in final dough`, `in levain`, `in pieces`.
    pub place: Option<Name>,
    pub value: ClaimValue,
    pub span: Span,
}

#[allow(clippy::large_enum_variant, reason = "almost all are amounts: a box would cost more")]
#[derive(Clone, Debug)]
pub enum ClaimValue {
    Amount {
        range: Extent,
        base: Option<Base>,
        tolerance: Option<Quantity>,
    },
    /// `free from gluten`; `vegan`, `vegetarian`, as the word stands.
    FreeFrom(Name),
}

/// `allow FINDING "reason"`.
#[derive(Clone, Debug)]
pub struct Allow {
    pub finding: Name,
    pub reason: Option<Text>,
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WordsKind {
    Note,
    Caution,
    Headnote,
    Equipment,
    Storage,
    Source,
}

/// `headnote "…"` and its kind.
#[derive(Clone, Debug)]
pub struct Words {
    pub kind: WordsKind,
    pub text: Text,
    /// `note "…" allow FINDING "reason"`: what is meant in this text alone.
    pub allow: Vec<Allow>,
}

/// What happens in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verb {
    Feed,
    Build,
    Soak,
    Scald,
    Autolyse,
    Mix,
    Rest,
    Fold,
    Bulk,
    Divide,
    Preshape,
    Shape,
    Pan,
    Proof,
    Retard,
    Chill,
    Freeze,
    Laminate,
    Fill,
    Top,
    Glaze,
    Dust,
    Wash,
    Boil,
    Steam,
    Fry,
    Score,
    /// The oven alone; nothing of the dough.
    Preheat,
    Bake,
    /// Turned over on a griddle, or round in the oven.
    Turn,
    Cool,
    Slice,
    Pack,
    Mature,
    /// `step "…"`.
    Step,
}

impl Verb {
    pub const ALL: [(&'static str, Self); 35] = [
        ("feed", Self::Feed),
        ("build", Self::Build),
        ("soak", Self::Soak),
        ("scald", Self::Scald),
        ("autolyse", Self::Autolyse),
        ("mix", Self::Mix),
        ("rest", Self::Rest),
        ("fold", Self::Fold),
        ("bulk", Self::Bulk),
        ("divide", Self::Divide),
        ("preshape", Self::Preshape),
        ("shape", Self::Shape),
        ("pan", Self::Pan),
        ("proof", Self::Proof),
        ("retard", Self::Retard),
        ("chill", Self::Chill),
        ("freeze", Self::Freeze),
        ("laminate", Self::Laminate),
        ("fill", Self::Fill),
        ("top", Self::Top),
        ("glaze", Self::Glaze),
        ("dust", Self::Dust),
        ("wash", Self::Wash),
        ("boil", Self::Boil),
        ("steam", Self::Steam),
        ("fry", Self::Fry),
        ("score", Self::Score),
        ("preheat", Self::Preheat),
        ("bake", Self::Bake),
        ("turn", Self::Turn),
        ("cool", Self::Cool),
        ("slice", Self::Slice),
        ("pack", Self::Pack),
        ("mature", Self::Mature),
        ("step", Self::Step),
    ];

    pub fn read(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, verb)| *verb)
    }

    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, verb)| *verb == self).map_or("step", |(word, _)| word)
    }
}

/// One thing that goes in at a step.
#[derive(Clone, Debug)]
pub enum With {
    /// An ingredient, stage, mixture, culture or formula, all that is left of it.
    Name(Target),
    /// `flours`.
    Flours(Span),
    /// `90% of water`: a share of what the mix holds.
    Share(Quantity, Target),
    /// `200 g of water`, `200 g water`.
    Weight(Quantity, Target),
    /// `remaining water`.
    Remaining(Target),
    /// `everything else`.
    EverythingElse(Span),
}

impl With {
    /// Whether it brings what bears a name, by that name.
    pub fn names(&self, key: &str) -> bool {
        match self {
            Self::Name(target)
            | Self::Share(_, target)
            | Self::Weight(_, target)
            | Self::Remaining(target) => target.name.key == key,
            Self::Flours(_) | Self::EverythingElse(_) => false,
        }
    }
}

#[derive(Clone, Debug)]
pub enum Until {
    Volume(Quantity),
    Core(Quantity),
    /// pH has no unit.
    Acidity(Exact, Span),
    Text(Text),
}

impl Until {
    /// `until core 96C`.
    pub fn core(&self) -> Option<&Quantity> {
        match self {
            Self::Core(core) => Some(core),
            _ => None,
        }
    }
}

/// `fold once`, `fold 3 times every 40min`, `fold double`.
#[derive(Clone, Debug)]
pub struct Fold {
    pub times: Option<u32>,
    pub every: Option<Extent>,
    pub style: Option<FoldStyle>,
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoldStyle {
    Single,
    Double,
}

/// One phase of a step; `then` begins the next.
#[derive(Clone, Debug, Default)]
pub struct Phase {
    pub duration: Option<Box<Extent>>,
    /// Surroundings.
    pub at: Option<Box<Extent>>,
    /// `at room`: surroundings as warm as the room is.
    pub in_room: bool,
    /// Dough temperature aimed at.
    pub to: Option<Box<Extent>>,
    pub with: Vec<With>,
    /// `in malt bath`, `in spiral`, `in chandler`.
    pub place: Option<Name>,
    /// `for rolls`.
    pub kind: Option<Name>,
    pub fold: Option<Box<Fold>>,
    pub until: Vec<Until>,
    /// Clauses of one word, each with its place.
    pub flags: Vec<(Flag, Span)>,
    pub speed: Option<(u32, Span)>,
    pub span: Span,
}

impl Phase {
    pub fn says(&self, flag: Flag) -> bool {
        self.flags.iter().any(|(said, _)| *said == flag)
    }
}

/// A clause that is one word, or `by hand`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flag {
    Covered,
    Uncovered,
    Steamed,
    Vented,
    Fan,
    ByHand,
}

impl Flag {
    pub const ALL: [(&'static str, Self); 6] = [
        ("by hand", Self::ByHand),
        ("covered", Self::Covered),
        ("uncovered", Self::Uncovered),
        ("steamed", Self::Steamed),
        ("vented", Self::Vented),
        ("fan", Self::Fan),
    ];
}

#[derive(Clone, Debug)]
pub struct Step {
    pub verb: Verb,
    /// Of `step "…"`.
    pub text: Option<Text>,
    pub phases: Vec<Phase>,
    pub notes: Vec<Text>,
    pub cautions: Vec<Text>,
    /// `hands-on 5min`.
    pub hands_on: Option<Box<Extent>>,
    /// `waiting`.
    pub waiting: bool,
    /// What is meant in this step alone.
    pub allow: Vec<Allow>,
    pub span: Span,
    /// Of the verb alone.
    pub verb_span: Span,
}

#[derive(Clone, Debug, Default)]
pub struct Method {
    pub steps: Vec<Step>,
    /// Whether something in it could not be read, so that it is not judged.
    pub broken: bool,
    pub span: Span,
}

/// A formula as it stands in its file.
#[derive(Clone, Debug)]
pub struct Formula {
    pub name: Name,
    pub title: Option<Text>,
    pub from: Option<Name>,
    pub style: Option<Name>,
    pub makes: Option<Makes>,
    /// `serves 4`: portions of all that is made.
    pub serves: Option<Extent>,
    pub bake_loss: Option<Quantity>,
    pub make_up_loss: Option<Quantity>,
    pub total: Option<Mix>,
    pub dough: Option<Mix>,
    pub stages: Vec<Stage>,
    pub mixtures: Vec<Mixture>,
    pub pieces: Vec<Piece>,
    pub method: Option<Method>,
    pub expect: Vec<Claim>,
    pub allow: Vec<Allow>,
    pub texts: Vec<Words>,
    pub without: Vec<Target>,
    /// Of the head.
    pub span: Span,
    /// Whether something in its block could not be read.
    pub broken: bool,
}

/// A style's bound on one figure.
#[derive(Clone, Debug)]
pub struct Bound {
    pub what: Target,
    pub place: Option<Name>,
    pub range: Extent,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Style {
    pub name: Name,
    pub bounds: Vec<Bound>,
    /// `without salt`, `without leavening`.
    pub without: Vec<Name>,
    pub texts: Vec<Words>,
    pub span: Span,
}

/// What an ingredient is like.
#[derive(Clone, Debug)]
pub enum Kind {
    Class(Name),
    Like(Name),
}

/// A nutrient or another measured property, per 100 g.
#[derive(Clone, Debug)]
pub struct Property {
    pub name: Name,
    pub value: Quantity,
}

/// `price 23.50 EUR per 25 kg`.
#[derive(Clone, Debug)]
pub struct Price {
    pub number: Exact,
    pub currency: EcoString,
    pub per: Quantity,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Ingredient {
    pub name: Name,
    pub kind: Option<Kind>,
    pub properties: Vec<Property>,
    /// None: not said. Empty: `contains nothing`.
    pub contains: Option<Vec<Name>>,
    /// `contains nothing but oats`: whatever the one contains that it is like.
    pub contains_only: bool,
    /// `may contain milk`.
    pub may_contain: Option<Vec<Name>>,
    /// `free from milk "the dairy's sheet of March"`, each with what proves it.
    pub free_from: Vec<FreeFrom>,
    /// `animal milk, egg`. None: not said. Empty: `animal nothing`.
    pub animal: Option<Vec<Name>>,
    pub price: Option<Price>,
    /// `volume 1 cup weighs 115 g`.
    pub volume: Option<(Quantity, Quantity)>,
    /// `each 1.2 g`.
    pub each: Option<Quantity>,
    /// `kept at 4C`.
    pub kept: Option<Quantity>,
    pub also: Vec<Name>,
    pub called: Vec<(EcoString, EcoString)>,
    pub texts: Vec<Words>,
    pub span: Span,
}

/// `free from milk, eggs "the supplier's sheet"`, of an ingredient.
#[derive(Clone, Debug)]
pub struct FreeFrom {
    pub names: Vec<Name>,
}

/// One resolution of the house's scale.
#[derive(Clone, Debug)]
pub struct ScaleLine {
    pub step: Quantity,
    pub above: Option<Quantity>,
    pub below: Option<Quantity>,
}

/// `mixer spiral { holds 3 kg..28 kg; friction 11C }` and its like.
#[derive(Clone, Debug)]
pub struct Machine {
    pub kind: MachineKind,
    pub name: Name,
    /// Of a mixer: weight of dough. Of a tin: volume. Of an oven: pieces by kind.
    pub holds: Vec<(Extent, Option<Name>)>,
    pub friction: Option<Quantity>,
    /// `work 10 kJ per kg` of a mixer: energy, and the dough it is for.
    pub work: Option<(Quantity, Quantity)>,
    /// `speeds 2` of a mixer.
    pub speeds: Option<(u32, Span)>,
    /// `3.2 ml per g` of a tin.
    pub volume_per_gram: Option<(Quantity, Quantity)>,
    /// `greased with butter`, of a tin.
    pub greased: Vec<Name>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MachineKind {
    Mixer,
    Oven,
    Tin,
}

/// `cooling 900 g from 25C to 8C in 3h at 4C`: how fast dough was seen to cool.
#[derive(Clone, Debug)]
pub struct Cooling {
    pub mass: Quantity,
    pub from: Quantity,
    pub to: Quantity,
    pub time: Quantity,
    pub at: Quantity,
    pub span: Span,
}

/// Days of the week; Monday is the lowest bit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weekdays(u8);

impl Weekdays {
    pub const NONE: Self = Self(0);
    pub const ALL: Self = Self(0b111_1111);
    /// Their first three letters, as they are written.
    pub const NAMES: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

    /// A day by its number, Monday 0, added.
    pub fn with(self, day: u8) -> Self {
        Self(self.0 | 1 << (day % 7))
    }

    pub fn and(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    pub fn has(self, day: u8) -> bool {
        self.0 >> (day % 7) & 1 == 1
    }

    pub fn all(self) -> bool {
        self == Self::ALL
    }

    /// A weekday's number by its English name or its first three letters.
    pub fn number(word: &str) -> Option<u8> {
        const WHOLE: [&str; 7] =
            ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
        let word = word.to_lowercase();
        let days = WHOLE.iter().zip(Self::NAMES);
        let day = days.into_iter().position(|(whole, short)| word == *whole || word == short)?;
        u8::try_from(day).ok()
    }
}

/// When there are hands on some days, in minutes since midnight; up to the next day where
/// the end is no later than the beginning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Open {
    pub days: Weekdays,
    pub from: u32,
    pub to: u32,
}

/// The house's own settings.
#[derive(Clone, Debug)]
pub struct Bakehouse {
    pub title: Option<Text>,
    pub language: Option<Name>,
    /// What prints weigh in.
    pub units: Units,
    /// Volumes stand beside weights on cards.
    pub volumes: bool,
    pub us_measures: bool,
    /// Whether it says which measures are its own.
    pub measures_said: bool,
    /// Three letters.
    pub currency: Option<Name>,
    pub zone: Option<(EcoString, Span)>,
    /// `room`, `flour`, `tap`.
    pub temperatures: Vec<(EcoString, Quantity)>,
    pub scale: Vec<ScaleLine>,
    pub scale_span: Option<Span>,
    pub hours: Vec<Open>,
    pub cooling: Option<Cooling>,
    pub machines: Vec<Machine>,
    /// `logo`, `colour`, `paper`, `footer`, `water by …`: kept as written.
    pub settings: Vec<(EcoString, EcoString, Span)>,
    pub span: Span,
}

/// A file, read.
#[derive(Clone, Debug, Default)]
pub struct Tree {
    pub bakehouses: Vec<Bakehouse>,
    pub formulas: Vec<Formula>,
    /// Stages outside any formula, shared by those that name them.
    pub stages: Vec<Stage>,
    pub mixtures: Vec<Mixture>,
    pub cultures: Vec<Culture>,
    pub ingredients: Vec<Ingredient>,
    pub styles: Vec<Style>,
    pub machines: Vec<Machine>,
}

/// Gives back the room that lists keep for growing: a tree never grows once it is read,
/// and a bakehouse holds thousands of them.
impl Formula {
    pub fn trim(&mut self) {
        self.total.iter_mut().chain(&mut self.dough).for_each(Mix::trim);
        self.stages.iter_mut().for_each(Stage::trim);
        self.method.iter_mut().for_each(Method::trim);
        self.mixtures.iter_mut().for_each(|mixture| mixture.mix.trim());
        self.pieces.iter_mut().for_each(|piece| piece.mix.trim());
        self.texts.iter_mut().for_each(|words| words.text.parts.shrink_to_fit());
        self.stages.shrink_to_fit();
        self.pieces.shrink_to_fit();
        self.expect.shrink_to_fit();
        self.allow.shrink_to_fit();
        self.texts.shrink_to_fit();
        if let Some(makes) = &mut self.makes {
            makes.pieces.shrink_to_fit();
        }
    }
}

impl Mix {
    fn trim(&mut self) {
        self.lines.shrink_to_fit();
        let notes = self.lines.iter_mut().filter_map(|line| line.note.as_mut());
        notes.for_each(|note| note.parts.shrink_to_fit());
    }
}

impl Stage {
    fn trim(&mut self) {
        self.mix.trim();
        self.method.iter_mut().for_each(Method::trim);
        self.sizes.shrink_to_fit();
        self.ripens.shrink_to_fit();
        self.keeps.shrink_to_fit();
        self.stands.shrink_to_fit();
    }
}

impl Method {
    fn trim(&mut self) {
        self.steps.shrink_to_fit();
        for step in &mut self.steps {
            step.phases.shrink_to_fit();
            step.notes.shrink_to_fit();
            step.cautions.shrink_to_fit();
            for note in step.notes.iter_mut().chain(&mut step.cautions) {
                note.parts.shrink_to_fit();
            }
            for phase in &mut step.phases {
                phase.with.shrink_to_fit();
                phase.until.shrink_to_fit();
            }
        }
    }
}
