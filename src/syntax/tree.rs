//! What a file says, statement by statement, with the place of each.
//!
//! The tree is plain data. It keeps what was written (units, written digits, order)
//! and knows nothing of whether it makes sense.

use super::phrases::{Start, Starts};
use crate::quantity::{Exact, Unit, Units};
use crate::source::{Span, is_blank, is_unseen};
use ecow::EcoString;

/// A name of an ingredient, stage, style or formula.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Name {
    /// The form that is compared: NFC, case folded, blanks collapsed, `’` as `'`.
    pub key: EcoString,
    /// The author's spelling with blanks collapsed.
    pub shown: EcoString,
    /// Of the name where it is written, without quotes around it.
    pub span: Span,
}

/// A name with the role that lets it stand twice: `water (second)`.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Target {
    /// Of an ingredient, a stage or whatever else may stand there.
    pub name: Name,
    /// `second` of `water (second)`.
    pub role: Option<Box<Name>>,
}

/// A text in quotes.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Text {
    /// In the order of the text: what stands between square brackets, and the words around it.
    pub parts: Vec<TextPart>,
    /// Of the text with its quotes.
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
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum TextPart {
    /// Words as they are printed, escapes undone.
    Plain(EcoString),
    /// `[water in levain]` or `[50 g of water]`.
    Figure {
        /// As they stand between the brackets.
        words: EcoString,
        /// What they ask for; none where they could not be read.
        ask: Option<Box<FigureAsk>>,
        /// Of the brackets with what is in them.
        span: Span,
    },
}

/// What a text asks for between square brackets.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum FigureAsk {
    /// A figure or an amount, for all or in one mix.
    Figure {
        /// As it reads where its last word is no formula.
        asked: Question,
        /// As it reads where that word is one.
        elsewhere: Option<Box<Elsewhere>>,
    },
    /// An amount that scales with the formula.
    Scaled {
        /// The amount for the formula as it is written.
        amount: Quantity,
        /// What it is of, so that its weight follows that of the line.
        what: Option<Target>,
        /// As it reads where its last word is a formula.
        elsewhere: Option<Box<Elsewhere>>,
    },
    /// `2026-12-05`: a day, told in the words of the print.
    Date(Date),
    /// `saturday 10:00`: a point in any week.
    Weekday {
        /// Monday is 0.
        day: u8,
        /// Minutes since midnight, where they are said.
        minutes: Option<u32>,
    },
}

impl FigureAsk {
    /// What it asks of another formula, once it is known which names are formulas.
    pub fn elsewhere(&self, is_formula: impl Fn(&str) -> bool) -> Option<&Elsewhere> {
        let (Self::Figure { elsewhere, .. } | Self::Scaled { elsewhere, .. }) = self else {
            return None;
        };
        let elsewhere = elsewhere.as_deref()?;
        let is_said = elsewhere.makes.is_some() || elsewhere.everyone;
        (is_said || is_formula(&elsewhere.formula.key)).then_some(elsewhere)
    }
}

/// A question for a figure or an amount: what of, where, and how it is to be told.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Question {
    /// A figure, an ingredient, a stage, a class or a kind of piece.
    pub what: Target,
    /// The mix that it is asked of; none for the whole formula.
    pub place: Option<Name>,
    /// How it is to be told.
    pub measure: Measure,
}

/// How what is asked for is to be told.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub enum Measure {
    /// A figure as it is, what is weighed by weight.
    #[default]
    Itself,
    /// `water %`: as the percentage of the flour of its mix.
    Percent,
    /// `levain of flour`: as a share of this.
    Of(Base),
}

/// The end of a question that names another formula: `… of first-sour for 5 loaves`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Elsewhere {
    /// The formula.
    pub formula: Name,
    /// What is asked of it.
    pub asked: Question,
    /// `for 5 loaves`, `from 400 g levain`; none for what it makes.
    pub makes: Option<Makes>,
    /// `for everyone`: what all the people of a booklet make together.
    pub everyone: bool,
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// From 1 to 9999.
    pub year: u16,
    /// From 1 to 12.
    pub month: u8,
    /// From 1 to the last of the month.
    pub day: u8,
}

impl Date {
    /// Reads `2026-12-05`; none where it is no day of the calendar.
    pub fn read(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.split('-').collect();
        let [year, month, day] = parts.as_slice() else { return None };
        let is_written = |part: &str, digits: usize| {
            part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !is_written(year, 4) || !is_written(month, 2) || !is_written(day, 2) {
            return None;
        }
        let date =
            Self { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? };
        let is_day = date.year > 0 && (1..=date.days_of_month()).contains(&date.day);
        is_day.then_some(date)
    }

    /// How many days its month has; none where there is no such month.
    fn days_of_month(self) -> u8 {
        let is_leap = self.year.is_multiple_of(4)
            && (!self.year.is_multiple_of(100) || self.year.is_multiple_of(400));
        match self.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if is_leap => 29,
            2 => 28,
            _ => 0,
        }
    }

    /// Its day of the week; Monday is 0.
    pub fn weekday(self) -> u8 {
        // Days since the Monday that is 1 January of the year 1, in the Gregorian calendar.
        let before = u32::from(self.year).saturating_sub(1);
        let years = before * 365 + before / 4 - before / 100 + before / 400;
        let months = (1..self.month).map(|month| u32::from(Self { month, ..self }.days_of_month()));
        let days = years + months.sum::<u32>() + u32::from(self.day).saturating_sub(1);
        u8::try_from(days % 7).unwrap_or(0)
    }
}

/// A number with its unit.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Quantity {
    /// In `unit`, exactly as written. Of a composed amount (`3 lb 4 oz`, `1h30`), the
    /// whole in the last unit.
    pub number: Exact,
    /// As it was written; of a composed amount the last one.
    pub unit: Unit,
    /// Digits written after the decimal point; none for a fraction.
    pub decimals: Option<u8>,
    /// Of number and unit.
    pub span: Span,
}

/// A quantity, or a range of them, open at one end perhaps.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Extent {
    /// None where the range is open below: `..2h`.
    pub low: Option<Quantity>,
    /// None where the range is open above: `3h..`.
    pub high: Option<Quantity>,
    /// Whether it was written as a range.
    pub ranged: bool,
    /// Of both ends, units included.
    pub span: Span,
}

/// What a percentage is a percentage of.
#[allow(clippy::enum_variant_names, reason = "a base dough is a term of the trade")]
#[derive(Clone, Debug, PartialEq, Hash)]
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
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Amount {
    /// A weight, volume, count, percentage or number of parts.
    Measured {
        /// One amount or two ends of it, in the author's unit.
        range: Extent,
        /// What a percentage is of; none where it is not written.
        base: Option<Box<Base>>,
    },
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
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub enum Counting {
    /// Its flour and water count as such, as those of any stage.
    #[default]
    Counted,
    /// `kept back`, from this stage or from another.
    KeptBack {
        /// The stage that gives it back; none for the one it stands in.
        from: Option<Name>,
    },
    /// `not split`: it counts as an ingredient by itself.
    NotSplit,
}

/// A line of a mix.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Line {
    /// What is weighed.
    pub target: Target,
    /// How much of it.
    pub amount: Amount,
    /// Of the amount alone.
    pub amount_span: Span,
    /// The same amount in another unit, as it stands beside: `250 g/9 oz`, `240 g (2 cups)`.
    pub beside: Option<Box<Extent>>,
    /// How a culture counts; of all else it says nothing.
    pub counting: Counting,
    /// Words after the amount that are printed beside it.
    pub note: Option<Text>,
    /// Of the whole line.
    pub span: Span,
}

/// A block of lines: `total`, `dough`, or the inside of a stage.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Mix {
    /// In the order of the block.
    pub lines: Vec<Line>,
    /// `without NAME`: lines of the formula it is made from that are left out.
    pub without: Vec<Target>,
    /// `counts as flour tapioca starch, potato starch`.
    pub counts_as_flour: Vec<Name>,
    /// What of the dough is kept for the next one; of a total or a dough.
    pub save: Vec<Save>,
    /// Whether a line of it could not be read.
    pub broken: bool,
    /// Of the word that opens the block.
    pub span: Span,
}

/// What a stage is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StageKind {
    /// `preferment`: flour that ferments before the dough.
    Preferment,
    /// `build`: a feed of a culture, on the way to the dough.
    Build,
    /// `soaker`: grain that takes up water.
    Soaker,
    /// `scald`: flour or grain under boiling water.
    Scald,
}

impl StageKind {
    /// The word that opens such a stage.
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
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Size {
    /// `ferments 18% of flour` or `takes 18% of flour`; a share.
    OfFlour(Extent),
    /// `weighs 2 kg`.
    Weighs(Extent),
    /// `percentages of total`.
    OfTotal,
}

/// A statement of a stage's size.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct StageSize {
    /// How large it is, and by what.
    pub size: Size,
    /// Of the whole statement.
    pub span: Span,
}

/// A wait at a temperature: one leg of `ripens 2h at 24C then 12h at 4C`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Wait {
    /// How long; none where only the temperature is said.
    pub time: Option<Extent>,
    /// The temperature of the surroundings.
    pub at: Option<Extent>,
    /// `at room`.
    pub in_room: bool,
    /// Of the leg.
    pub span: Span,
}

/// `at least 20 g NAME`, `save 50 g at 4C`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Least {
    /// A weight, in the author's unit.
    pub amount: Quantity,
    /// Of the stage or culture.
    pub name: Name,
    /// Of the whole statement.
    pub span: Span,
}

/// `save 50 g at 4C`: what is kept of a dough or a stage for the next time.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Save {
    /// A weight, in the author's unit.
    pub amount: Quantity,
    /// The temperature at which it is kept.
    pub at: Option<Extent>,
    /// Of the whole statement.
    pub span: Span,
}

/// A mix that is made before the dough.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Stage {
    /// What it is for.
    pub kind: StageKind,
    /// By which lines and claims refer to it.
    pub name: Name,
    /// Every size that is stated; more than one is a finding.
    pub sizes: Vec<StageSize>,
    /// What goes into it.
    pub mix: Mix,
    /// `ripens …`, a leg each, in order.
    pub ripens: Vec<Wait>,
    /// `keeps …`: how long the ripe stage may wait, a leg each.
    pub keeps: Vec<Wait>,
    /// `stands …` of a soaker or a scald, a leg each.
    pub stands: Vec<Wait>,
    /// `feeds 3 times`.
    pub feeds: Option<(u32, Span)>,
    /// `at least 20 g NAME`, each.
    pub at_least: Vec<Least>,
    /// `save …`, each.
    pub save: Vec<Save>,
    /// `loses 8%`; a share, of water boiled away.
    pub loses: Option<Quantity>,
    /// Its own steps.
    pub method: Option<Method>,
    /// Notes, cautions and the like, in order.
    pub texts: Vec<NotedText>,
    /// Findings that are meant in this stage.
    pub allow: Vec<Allow>,
    /// Of the head.
    pub span: Span,
}

/// A side mix, sized by what uses it.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Mixture {
    /// By which lines refer to it.
    pub name: Name,
    /// Its make-up, in parts or percentages.
    pub mix: Mix,
    /// Notes, cautions and the like, in order.
    pub texts: Vec<NotedText>,
}

/// What one piece carries besides its dough.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Piece {
    /// The kind of piece; none for all.
    pub kind: Option<Name>,
    /// What it carries, for one piece.
    pub mix: Mix,
    /// What one loses in the oven: a share of its dough.
    pub bake_loss: Option<Quantity>,
    /// What is lost between mixer and oven: a share of the dough.
    pub make_up_loss: Option<Quantity>,
    /// Of the head.
    pub span: Span,
}

/// A kept starter and what it is made of.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Culture {
    /// By which lines refer to it.
    pub name: Name,
    /// Its make-up when it is fed.
    pub mix: Mix,
    /// Notes, cautions and the like, in order.
    pub texts: Vec<NotedText>,
}

/// One `24 loaves at 900 g` of a yield.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct MadePiece {
    /// How many; see `counted`.
    pub count: Quantity,
    /// Whether a count is written; else there are as many as the dough gives, and the count
    /// is nothing.
    pub counted: bool,
    /// `loaves`, `rolls`, as it is written.
    pub kind: Name,
    /// Weight of one.
    pub weight: Option<Quantity>,
    /// The weight is that of the baked piece.
    pub baked: bool,
    /// `in chandler`.
    pub tin: Option<Name>,
    /// Of the count, the kind and what is said of them.
    pub span: Span,
}

/// `makes …` in all its forms.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Makes {
    /// In the order of the statement.
    pub pieces: Vec<MadePiece>,
    /// `20 kg dough`.
    pub dough: Option<Quantity>,
    /// `from 12.5 kg flour`, `from 400 g levain`.
    pub from: Option<(Quantity, Target)>,
    /// `2x`, `for 3 people`: as much of what the formula says; on the command line.
    pub factor: Option<Factor>,
    /// Of the whole statement.
    pub span: Span,
}

impl Makes {
    /// Nothing yet.
    fn nothing(span: Span) -> Self {
        Self { pieces: Vec::new(), dough: None, from: None, factor: None, span }
    }

    /// So many pieces of one kind, each as heavy as the formula says.
    pub fn of_pieces(count: Quantity, kind: Name, span: Span) -> Self {
        let (counted, weight, baked, tin) = (true, None, false, None);
        let piece = MadePiece { count, counted, kind, weight, baked, tin, span };
        Self { pieces: vec![piece], ..Self::nothing(span) }
    }

    /// So much dough.
    pub fn of_dough(dough: Quantity, span: Span) -> Self {
        Self { dough: Some(dough), ..Self::nothing(span) }
    }

    /// As much as comes of an amount of something.
    pub fn of_amount(amount: Quantity, of: Target, span: Span) -> Self {
        Self { from: Some((amount, of)), ..Self::nothing(span) }
    }

    /// As much of what the formula says.
    pub fn times(factor: Factor, span: Span) -> Self {
        Self { factor: Some(factor), ..Self::nothing(span) }
    }
}

/// How much of what a formula makes is asked for.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Factor {
    /// `2x`, `half`, `double`.
    Times(Exact),
    /// `for 3 people`, where the formula says how many it `serves`.
    People(Exact),
}

/// A figure that is claimed: `hydration in levain 100%`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Claim {
    /// A figure, an ingredient, a stage or a class.
    pub what: Target,
    /// `in final dough`, `in levain`, `in pieces`.
    pub place: Option<Name>,
    /// What it is claimed to be.
    pub value: ClaimValue,
    /// Of the whole claim.
    pub span: Span,
}

/// What a claim says of what it claims.
#[allow(clippy::large_enum_variant, reason = "almost all are amounts: a box would cost more")]
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum ClaimValue {
    /// That a figure or an amount is so much.
    Amount {
        /// One value or the ends of a range.
        range: Extent,
        /// What a percentage is of; none where it is not written.
        base: Option<Base>,
        /// `± 2%`: how far off it may be, in the value's unit or as a share of it.
        tolerance: Option<Quantity>,
    },
    /// `free from gluten`; `vegan`, `vegetarian`, as the word stands.
    FreeFrom(Name),
}

/// `allow FINDING "reason"`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Allow {
    /// The finding's name.
    pub finding: Name,
    /// Why it is meant; a judgement needs one.
    pub reason: Option<Text>,
    /// Of the whole statement.
    pub span: Span,
}

/// What a text is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WordsKind {
    /// `note`: what the one at the bench should know.
    Note,
    /// `caution`: what could hurt somebody or spoil the bread.
    Caution,
    /// `headnote`: what is read before the formula.
    Headnote,
    /// `equipment`: what has to be at hand.
    Equipment,
    /// `storage`: how the bread keeps.
    Storage,
    /// `source`: where the formula is from.
    Source,
}

impl WordsKind {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Note, Self::Caution, Self::Headnote, Self::Equipment, Self::Storage, Self::Source];

    /// The word that begins it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Headnote => "headnote",
            Self::Equipment => "equipment",
            Self::Storage => "storage",
            Self::Source => "source",
        }
    }

    /// The kind that a word begins.
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// `headnote "…"` and its kind.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct NotedText {
    /// What it is for.
    pub kind: WordsKind,
    /// Its words.
    pub text: Text,
    /// `note "…" allow FINDING "reason"`: what is meant in this text alone.
    pub allow: Vec<Allow>,
}

/// What happens in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verb {
    /// A stage or culture gets flour and water.
    Feed,
    /// A stage is mixed.
    Build,
    /// Grain takes up water.
    Soak,
    /// Boiling water goes over flour or grain.
    Scald,
    /// Flour and water rest before the salt.
    Autolyse,
    /// The dough is mixed.
    Mix,
    /// The dough rests.
    Rest,
    /// The dough is stretched and folded.
    Fold,
    /// The first fermentation, in one piece.
    Bulk,
    /// The dough is cut into pieces by weight.
    Divide,
    /// Pieces get a loose first shape.
    Preshape,
    /// Pieces get their shape.
    Shape,
    /// Pieces go into tins or onto trays.
    Pan,
    /// The last fermentation, of shaped pieces.
    Proof,
    /// Fermentation is slowed down by cold.
    Retard,
    /// Something is made cold.
    Chill,
    /// Something is frozen.
    Freeze,
    /// Fat is folded into the dough in layers.
    Laminate,
    /// Something goes inside.
    Fill,
    /// Something goes on top.
    Top,
    /// Something that shines goes on.
    Glaze,
    /// Flour or sugar is sifted over.
    Dust,
    /// Egg, milk or water is brushed on before the oven.
    Wash,
    /// Pieces go into boiling liquid.
    Boil,
    /// Pieces are cooked over steam.
    Steam,
    /// Pieces are cooked in fat.
    Fry,
    /// Pieces are cut before the oven.
    Score,
    /// The oven alone; nothing of the dough.
    Preheat,
    /// Pieces are baked.
    Bake,
    /// Turned over on a griddle, or round in the oven.
    Turn,
    /// Bread becomes as cool as the room.
    Cool,
    /// Bread is cut.
    Slice,
    /// Bread is packed.
    Pack,
    /// Bread waits until its crumb has set, as rye does.
    Mature,
    /// `step "…"`.
    Step,
}

impl Verb {
    /// Each with its word, in the order of a usual day.
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

    /// The verb of a word, in capitals or not.
    pub fn read(word: &str) -> Option<Self> {
        const STARTS: &Starts = &Starts::of_pairs(&Verb::ALL);
        if !STARTS.may_begin(Start::of(word.as_bytes())) {
            return None;
        }
        Self::ALL.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, verb)| *verb)
    }

    /// As it is written.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, verb)| *verb == self).map_or("step", |(word, _)| word)
    }
}

/// One thing that goes in at a step.
#[derive(Clone, Debug, PartialEq, Hash)]
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
    /// What it names; `None` of all flours and of everything else.
    pub fn target(&self) -> Option<&Target> {
        match self {
            Self::Name(target)
            | Self::Share(_, target)
            | Self::Weight(_, target)
            | Self::Remaining(target) => Some(target),
            Self::Flours(_) | Self::EverythingElse(_) => None,
        }
    }

    /// Whether it brings what bears a name, by that name.
    pub fn names(&self, key: &str) -> bool {
        self.target().is_some_and(|target| target.name.key == key)
    }
}

/// What a phase goes on until.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Until {
    /// `until doubled`, `until 75%`: what the dough has grown by, as a share.
    Volume(Quantity),
    /// `until core 96C`: the temperature in the middle.
    Core(Quantity),
    /// pH has no unit.
    Acidity(Exact, Span),
    /// Words for a person, which nothing judges.
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
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Fold {
    /// How often; once where nothing is said.
    pub times: Option<u32>,
    /// The time from one fold to the next.
    pub every: Option<Extent>,
    /// None where it is a stretch and fold.
    pub style: Option<FoldStyle>,
    /// Of the whole clause.
    pub span: Span,
}

/// How a sheet with fat in it is folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoldStyle {
    /// In three layers.
    Single,
    /// In four layers.
    Double,
}

/// `per 20 loaves`: how many pieces a step takes its time for.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Per {
    /// How many, at least one.
    pub count: u32,
    /// Of which kind; `pieces` are of all kinds.
    pub kind: Name,
    /// Of the whole clause.
    pub span: Span,
}

/// One phase of a step; `then` begins the next.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Phase {
    /// How long it takes.
    pub duration: Option<Box<Extent>>,
    /// `per 20 loaves`: the pieces that it takes so long for.
    pub per: Option<Box<Per>>,
    /// Surroundings.
    pub at: Option<Box<Extent>>,
    /// `at room`: surroundings as warm as the room is.
    pub in_room: bool,
    /// Dough temperature aimed at.
    pub to: Option<Box<Extent>>,
    /// What goes in, in order.
    pub with: Vec<With>,
    /// `in malt bath`, `in spiral`, `in chandler`.
    pub place: Option<Name>,
    /// `for rolls`.
    pub kind: Option<Name>,
    /// `fold …` inside a phase of waiting.
    pub fold: Option<Box<Fold>>,
    /// Whichever comes first ends it.
    pub until: Vec<Until>,
    /// Clauses of one word, each with its place.
    pub flags: Vec<(Flag, Span)>,
    /// Of the mixer, counted from its slowest.
    pub speed: Option<(u32, Span)>,
    /// Of the phase with all its clauses.
    pub span: Span,
}

impl Phase {
    /// Whether a clause of one word stands in it.
    pub fn says(&self, flag: Flag) -> bool {
        self.flags.iter().any(|(said, _)| *said == flag)
    }
}

/// A clause that is one word, or `by hand`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Flag {
    /// Under a cloth or a lid.
    Covered,
    /// With nothing over it.
    Uncovered,
    /// With steam in the oven.
    Steamed,
    /// With the oven's vent open.
    Vented,
    /// With the oven's fan on.
    Fan,
    /// Without a machine.
    ByHand,
}

impl Flag {
    /// Each as it is written.
    pub const ALL: [(&'static str, Self); 6] = [
        ("by hand", Self::ByHand),
        ("covered", Self::Covered),
        ("uncovered", Self::Uncovered),
        ("steamed", Self::Steamed),
        ("vented", Self::Vented),
        ("fan", Self::Fan),
    ];
}

/// A statement of the method.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Step {
    /// What is done.
    pub verb: Verb,
    /// What is said for that and stays so, such as `knead`.
    pub said: Option<&'static str>,
    /// Of `step "…"`.
    pub text: Option<Text>,
    /// One after the other, at least one.
    pub phases: Vec<Phase>,
    /// `note "…"` of this step.
    pub notes: Vec<Text>,
    /// `caution "…"` of this step.
    pub cautions: Vec<Text>,
    /// `hands-on 5min`.
    pub hands_on: Option<Box<Extent>>,
    /// `waiting`.
    pub waiting: bool,
    /// What is meant in this step alone.
    pub allow: Vec<Allow>,
    /// Of the verb with all its phases.
    pub span: Span,
    /// Of the verb alone.
    pub verb_span: Span,
}

/// The steps of a formula or a stage.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Method {
    /// In order.
    pub steps: Vec<Step>,
    /// Whether something in it could not be read, so that it is not judged.
    pub broken: bool,
    /// Of the head.
    pub span: Span,
}

/// A formula as it stands in its file.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Formula {
    /// By which other formulas refer to it.
    pub name: Name,
    /// What prints call it; its name where there is none.
    pub title: Option<Text>,
    /// `from NAME`: the formula that it is a version of.
    pub from: Option<Name>,
    /// The style that it is held to.
    pub style: Option<Name>,
    /// Its yield.
    pub makes: Option<Makes>,
    /// `serves 4`: portions of all that is made.
    pub serves: Option<Extent>,
    /// What pieces lose in the oven: a share of their dough.
    pub bake_loss: Option<Quantity>,
    /// What is lost between mixer and oven: a share of the dough.
    pub make_up_loss: Option<Quantity>,
    /// The formula as a whole, stages included.
    pub total: Option<Mix>,
    /// The final dough alone, stages as lines of it.
    pub dough: Option<Mix>,
    /// Those of its own block, in order.
    pub stages: Vec<Stage>,
    /// Side mixes of its own block, in order.
    pub mixtures: Vec<Mixture>,
    /// What pieces carry, in order.
    pub pieces: Vec<Piece>,
    /// The steps of the dough.
    pub method: Option<Method>,
    /// What its author claims of it.
    pub expect: Vec<Claim>,
    /// Findings that are meant in this formula.
    pub allow: Vec<Allow>,
    /// Notes, cautions and the like, in order.
    pub texts: Vec<NotedText>,
    /// `without NAME` beside its blocks: what the formula it is made from has and this one has
    /// not.
    pub without: Vec<Target>,
    /// Of the head.
    pub span: Span,
    /// Whether something in its block could not be read.
    pub broken: bool,
}

/// A style's bound on one figure.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Bound {
    /// A figure, an ingredient or a class.
    pub what: Target,
    /// The mix it is of; none for the whole formula.
    pub place: Option<Name>,
    /// From least to most.
    pub range: Extent,
    /// Of the whole statement.
    pub span: Span,
}

/// A style with what it asks of formulas.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Style {
    /// By which formulas refer to it.
    pub name: Name,
    /// In order.
    pub bounds: Vec<Bound>,
    /// `without salt`, `without leavening`.
    pub without: Vec<Name>,
    /// Notes and sources, in order.
    pub texts: Vec<NotedText>,
    /// Of the head.
    pub span: Span,
}

/// What an ingredient is like.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum IngredientKind {
    /// `flour`, `fat`, …: the class by its word.
    Class(Name),
    /// `like NAME`: all that is not said is as it is with another ingredient.
    Like(Name),
}

/// A nutrient or another measured property, per 100 g.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Property {
    /// `fat`, `protein`, `density`, as it is written.
    pub name: Name,
    /// In the author's unit.
    pub value: Quantity,
}

/// `price 23.50 EUR per 25 kg`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Price {
    /// What the whole amount costs, in the currency's unit.
    pub number: Exact,
    /// Three letters: `EUR`.
    pub currency: EcoString,
    /// The amount that it is for.
    pub per: Quantity,
    /// Of the whole statement.
    pub span: Span,
}

/// An ingredient of a house or of the stores.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Ingredient {
    /// Its main name.
    pub name: Name,
    /// Its class, or what it is like.
    pub kind: Option<IngredientKind>,
    /// In order.
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
    /// What a house pays for it.
    pub price: Option<Price>,
    /// `volume 1 cup weighs 115 g`.
    pub volume: Option<(Quantity, Quantity)>,
    /// `each 1.2 g`.
    pub each: Option<Quantity>,
    /// `pack 1 kg`.
    pub pack: Option<Quantity>,
    /// `kept at 4C`.
    pub kept: Option<Quantity>,
    /// Other names of it in the same language.
    pub also: Vec<Name>,
    /// `called de "Roggenmehl"`: language, and what it is called there.
    pub called: Vec<(EcoString, EcoString)>,
    /// Notes and sources, in order.
    pub texts: Vec<NotedText>,
    /// Of the head.
    pub span: Span,
}

/// `free from milk, eggs "the supplier's sheet"`, of an ingredient.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct FreeFrom {
    /// Allergens, `vegan` or `vegetarian`.
    pub names: Vec<Name>,
    /// What shows it.
    pub proof: EcoString,
}

/// One resolution of the house's scale.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct ScaleLine {
    /// What it shows: the smallest weight that it tells apart.
    pub step: Quantity,
    /// The weight from which this holds.
    pub above: Option<Quantity>,
    /// The weight up to which this holds.
    pub below: Option<Quantity>,
}

/// `mixer spiral { holds 3 kg..28 kg; friction 11C }` and its like.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Machine {
    /// What it does.
    pub kind: MachineKind,
    /// By which steps and pieces refer to it.
    pub name: Name,
    /// Of a mixer: weight of dough. Of a tin: volume. Of an oven: pieces by kind, of one deck.
    /// Of a board: pieces by kind, or a weight of dough. Else: boards.
    pub holds: Vec<(Extent, Option<Name>)>,
    /// What it warms a dough by while it mixes: a difference of temperatures.
    pub friction: Option<Quantity>,
    /// `work 10 kJ per kg` of a mixer: energy, and the dough it is for.
    pub work: Option<(Quantity, Quantity)>,
    /// `speeds 2` of a mixer.
    pub speeds: Option<(u32, Span)>,
    /// `3.2 ml per g` of a tin.
    pub volume_per_gram: Option<(Quantity, Quantity)>,
    /// `greased with butter`, of a tin.
    pub greased: Vec<Name>,
    /// `greased with nothing`, of a tin.
    pub ungreased: bool,
    /// `machines 2` of a mixer: how many there are alike.
    pub machines: Option<(u32, Span)>,
    /// `decks 3` of an oven, each with its own heat.
    pub decks: Option<(u32, Span)>,
    /// `at 250C`: its heat, of an oven when hands come.
    pub at: Option<Quantity>,
    /// `changes 15min per 20C` of an oven: time, and the difference of heat it is for.
    pub changes: Option<(Quantity, Quantity)>,
}

/// What a machine is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MachineKind {
    /// `mixer`.
    Mixer,
    /// `oven`.
    Oven,
    /// `tin`.
    Tin,
    /// `proofer`: a warm place for boards.
    Proofer,
    /// `refrigerator`: a cold place for boards.
    Refrigerator,
    /// `board`: what pieces or a box of dough stand on.
    Board,
}

impl MachineKind {
    /// The word that declares it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mixer => "mixer",
            Self::Oven => "oven",
            Self::Tin => "tin",
            Self::Proofer => "proofer",
            Self::Refrigerator => "refrigerator",
            Self::Board => "board",
        }
    }
}

/// `cooling 900 g from 25C to 8C in 3h at 4C`: how fast dough was seen to cool.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Cooling {
    /// Weight of the piece that was watched.
    pub mass: Quantity,
    /// Temperature of the dough when it began.
    pub from: Quantity,
    /// Temperature of the dough when it ended.
    pub to: Quantity,
    /// How long that took.
    pub time: Quantity,
    /// Temperature of the surroundings.
    pub at: Quantity,
    /// Of the whole statement.
    pub span: Span,
}

/// Days of the week; Monday is the lowest bit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Weekdays(u8);

impl Weekdays {
    /// No day.
    pub const NONE: Self = Self(0);
    /// Every day.
    pub const ALL: Self = Self(0b111_1111);
    /// Their first three letters, as they are written.
    pub const NAMES: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

    /// A day by its number, Monday 0, added.
    pub fn with(self, day: u8) -> Self {
        Self(self.0 | 1 << (day % 7))
    }

    /// The days of both.
    pub fn and(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    /// Whether a day by its number, Monday 0, is among them.
    pub fn has(self, day: u8) -> bool {
        self.0 >> (day % 7) & 1 == 1
    }

    /// Whether it is every day.
    pub fn all(self) -> bool {
        self == Self::ALL
    }

    /// Their whole names, as they are written.
    pub const WHOLE: [&str; 7] =
        ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

    /// A weekday's number by its English name or its first three letters.
    pub fn number(word: &str) -> Option<u8> {
        let word = word.to_lowercase();
        let days = Self::WHOLE.iter().zip(Self::NAMES);
        let day = days.into_iter().position(|(whole, short)| word == *whole || word == short)?;
        u8::try_from(day).ok()
    }

    /// The weekday that a word of another language is: `samstag` is `saturday`.
    pub fn abroad(word: &str) -> Option<&'static str> {
        const ABROAD: [[&str; 6]; 7] = [
            ["montag", "lundi", "lunedì", "lunedi", "lunes", "lunes"],
            ["dienstag", "mardi", "martedì", "martedi", "martes", "martes"],
            ["mittwoch", "mercredi", "mercoledì", "mercoledi", "miércoles", "miercoles"],
            ["donnerstag", "jeudi", "giovedì", "giovedi", "jueves", "jueves"],
            ["freitag", "vendredi", "venerdì", "venerdi", "viernes", "viernes"],
            ["samstag", "samedi", "sabato", "sonnabend", "sábado", "sabado"],
            ["sonntag", "dimanche", "domenica", "domenica", "domingo", "domingo"],
        ];
        let word = word.to_lowercase();
        let day = ABROAD.iter().position(|words| words.contains(&word.as_str()))?;
        Self::WHOLE.get(day).copied()
    }
}

/// When there are hands on some days, in minutes since midnight; up to the next day where
/// the end is no later than the beginning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Open {
    /// The days on which it begins.
    pub days: Weekdays,
    /// Minutes since midnight.
    pub from: u32,
    /// Minutes since midnight.
    pub to: u32,
    /// Pairs of hands that are there.
    pub hands: u32,
}

/// What a day is planned for, once every order is in time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Aim {
    /// All is done as soon as it can be.
    #[default]
    FinishEarly,
    /// Hands are paid for as few minutes as can be.
    LeastHands,
    /// Ovens change their heat as seldom as can be.
    FewestOvenChanges,
}

impl Aim {
    /// Each as it is written.
    pub const ALL: [(&'static str, Self); 3] = [
        ("finish early", Self::FinishEarly),
        ("least hands", Self::LeastHands),
        ("fewest oven changes", Self::FewestOvenChanges),
    ];
}

/// A time of a day's own date, or of one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct DayTime {
    /// Minutes since midnight, 1440 at most.
    pub minutes: u32,
    /// `the day before`.
    pub day_before: bool,
    /// As it is written.
    pub span: Span,
}

impl DayTime {
    /// Minutes since the midnight that the day's date begins with.
    pub fn of_day(self) -> i64 {
        i64::from(self.minutes) - if self.day_before { 24 * 60 } else { 0 }
    }
}

/// How much is ordered, or on hand.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Ordered {
    /// Pieces of a kind.
    Pieces(Quantity, Name),
    /// A weight: of dough, of a stage or of a culture.
    Weight(Quantity),
}

/// `60 loaves by 07:00 after 05:00`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Wish {
    /// How much.
    pub amount: Ordered,
    /// When it has to be done.
    pub by: DayTime,
    /// It must not be done before.
    pub after: Option<DayTime>,
    /// Of all of it.
    pub span: Span,
}

/// One product for one customer.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Order {
    /// A formula.
    pub product: Name,
    /// Whom it is for, where it says so.
    pub customer: Option<EcoString>,
    /// In order.
    pub wishes: Vec<Wish>,
    /// Of the whole statement.
    pub span: Span,
}

/// `without PRODUCT for "customer"`: an order of the other day that does not hold.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Cancelled {
    /// A formula.
    pub product: Name,
    /// None for all of its orders.
    pub customer: Option<EcoString>,
}

/// What is there before the day begins.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct OnHand {
    /// A formula, a stage or a culture.
    pub name: Name,
    /// How much.
    pub amount: Ordered,
    /// `ripe at 22:00 the day before`, of a stage.
    pub ripe: Option<DayTime>,
    /// `frozen 2h`: how long before they are sent pieces have to be out.
    pub frozen: Option<Quantity>,
    /// `of slipway-loaf`: the formula that old dough, or a stage of its own, belongs to.
    pub of: Option<Name>,
    /// Of the whole statement.
    pub span: Span,
}

/// A production day as it stands in its file.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Day {
    /// A date, a weekday or an identifier.
    pub name: Name,
    /// What prints call it.
    pub title: Option<Text>,
    /// The day whose orders it begins with.
    pub from: Option<Name>,
    /// In order.
    pub orders: Vec<Order>,
    /// Orders of the other day that do not hold.
    pub without: Vec<Cancelled>,
    /// In order.
    pub on_hand: Vec<OnHand>,
    /// In place of the house's.
    pub hours: Vec<Open>,
    /// `room`, `flour`, `tap`, in place of the house's.
    pub temperatures: Vec<(EcoString, Quantity)>,
    /// In place of the house's.
    pub aim: Option<Aim>,
    /// Notes and cautions, in order.
    pub texts: Vec<NotedText>,
    /// Of the head.
    pub span: Span,
    /// Whether something in its block could not be read.
    pub broken: bool,
}

/// The house's own settings.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Bakehouse {
    /// What prints call the house.
    pub title: Option<Text>,
    /// The language of prints, as a BCP 47 tag.
    pub language: Option<Name>,
    /// The language that sheets say everything in as well, as a BCP 47 tag.
    pub second_language: Option<Name>,
    /// What prints weigh in.
    pub units: Units,
    /// Volumes stand beside weights on cards.
    pub volumes: bool,
    /// `volumes US`: cups and spoons as they are in America.
    pub us_measures: bool,
    /// Whether it says which measures are its own.
    pub measures_said: bool,
    /// Three letters.
    pub currency: Option<Name>,
    /// The time zone that plans are in: `Europe/Lisbon`.
    pub zone: Option<(EcoString, Span)>,
    /// `room`, `flour`, `tap`.
    pub temperatures: Vec<(EcoString, Quantity)>,
    /// `scale …`, the usual resolution first.
    pub scale: Vec<ScaleLine>,
    /// Of the statement.
    pub scale_span: Option<Span>,
    /// When there are hands.
    pub hours: Vec<Open>,
    /// What its days are planned for.
    pub aim: Option<(Aim, Span)>,
    /// How fast dough was seen to cool, for plans with cold.
    pub cooling: Option<Cooling>,
    /// Mixers, ovens and tins.
    pub machines: Vec<Machine>,
    /// `logo`, `colour`, `paper`, `footer`, `water by …`: kept as written.
    pub settings: Vec<(EcoString, EcoString, Span)>,
    /// Of the head.
    pub span: Span,
}

/// A file, read.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Tree {
    /// More than one in a house is a finding.
    pub bakehouses: Vec<Bakehouse>,
    /// In order, as are all lists here.
    pub formulas: Vec<Formula>,
    /// Stages outside any formula, shared by those that name them.
    pub stages: Vec<Stage>,
    /// Side mixes outside any formula.
    pub mixtures: Vec<Mixture>,
    /// Kept starters.
    pub cultures: Vec<Culture>,
    /// The house's own ingredients.
    pub ingredients: Vec<Ingredient>,
    /// The house's own styles.
    pub styles: Vec<Style>,
    /// Machines outside a `bakehouse` block.
    pub machines: Vec<Machine>,
    /// Handouts.
    pub booklets: Vec<Booklet>,
    /// Production days.
    pub days: Vec<Day>,
}

/// Gives back the room that a list keeps for growing: a tree never grows once it is read, and
/// a bakehouse holds thousands of them. An allocator that is asked to shrink a list leaves it
/// where less than half of it is unused; so what there is moves.
fn fit<T>(list: &mut Vec<T>) {
    if list.len() < list.capacity() {
        let mut fitting = Vec::with_capacity(list.len());
        fitting.append(list);
        *list = fitting;
    }
}

impl Tree {
    /// Frees the room of the lists of what a file declares; each formula is trimmed already.
    pub fn trim(&mut self) {
        fit(&mut self.formulas);
        fit(&mut self.stages);
        fit(&mut self.mixtures);
        self.stages.iter_mut().for_each(Stage::trim);
        self.mixtures.iter_mut().for_each(|mixture| mixture.mix.trim());
        fit(&mut self.cultures);
        fit(&mut self.ingredients);
        fit(&mut self.styles);
        fit(&mut self.booklets);
        fit(&mut self.days);
    }
}

impl Formula {
    /// Frees the room of all lists in it.
    pub fn trim(&mut self) {
        self.total.iter_mut().chain(&mut self.dough).for_each(Mix::trim);
        self.stages.iter_mut().for_each(Stage::trim);
        self.method.iter_mut().for_each(Method::trim);
        self.mixtures.iter_mut().for_each(|mixture| mixture.mix.trim());
        self.pieces.iter_mut().for_each(|piece| piece.mix.trim());
        self.texts.iter_mut().for_each(|words| fit(&mut words.text.parts));
        fit(&mut self.stages);
        fit(&mut self.mixtures);
        fit(&mut self.pieces);
        fit(&mut self.expect);
        fit(&mut self.allow);
        fit(&mut self.texts);
        if let Some(makes) = &mut self.makes {
            fit(&mut makes.pieces);
        }
    }
}

impl Mix {
    fn trim(&mut self) {
        fit(&mut self.lines);
        let notes = self.lines.iter_mut().filter_map(|line| line.note.as_mut());
        notes.for_each(|note| fit(&mut note.parts));
    }
}

impl Stage {
    fn trim(&mut self) {
        self.mix.trim();
        self.method.iter_mut().for_each(Method::trim);
        fit(&mut self.sizes);
        fit(&mut self.ripens);
        fit(&mut self.keeps);
        fit(&mut self.stands);
    }
}

impl Method {
    fn trim(&mut self) {
        fit(&mut self.steps);
        for step in &mut self.steps {
            fit(&mut step.phases);
            fit(&mut step.notes);
            fit(&mut step.cautions);
            fit(&mut step.allow);
            for note in step.notes.iter_mut().chain(&mut step.cautions) {
                fit(&mut note.parts);
            }
            for phase in &mut step.phases {
                fit(&mut phase.with);
                fit(&mut phase.until);
                fit(&mut phase.flags);
            }
        }
    }
}

// ---- Booklets ----------------------------------------------------------------------

/// `booklet spring-course "Spring course, week 1" { … }`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Booklet {
    /// By which it is printed.
    pub name: Name,
    /// What its cover says; its name where there is none.
    pub title: Option<Text>,
    /// The language of its words, as a BCP 47 tag; the house's where it says none.
    pub language: Option<Name>,
    /// What it weighs in; as the house does where it says nothing.
    pub units: Option<Units>,
    /// The paper, as it is written.
    pub paper: Option<(EcoString, Span)>,
    /// `for 12 people`: how many bake.
    pub people: Option<(u32, Span)>,
    /// `variants 4`: how many seats have numbers of their own.
    pub variants: Option<(u32, Span)>,
    /// `large`: for readers who see badly.
    pub large: Option<Span>,
    /// In the order in which they print.
    pub parts: Vec<BookletItem>,
    /// Of the head.
    pub span: Span,
    /// Whether something in its block could not be read.
    pub broken: bool,
}

impl Booklet {
    /// What `worksheet`, `answers`, `reckoner` or `shopping` prints of one formula.
    pub fn of_one(formula: &Formula, word: &str, makes: Option<&Makes>) -> Self {
        let own = &formula.name;
        let name = Name { shown: format!("{}-{word}", own.shown).into(), ..own.clone() };
        let span = own.span;
        let of =
            || FormulaYield { formula: own.clone(), makes: makes.cloned(), everyone: false, span };
        let sheet = || {
            PartKind::Worksheet(Worksheet {
                of: of(),
                title: None,
                hide: Vec::new(),
                exercises: Vec::new(),
                level: None,
            })
        };
        let what = match word {
            "worksheet" => vec![(Audience::All, sheet())],
            "answers" => vec![(Audience::Learner, sheet()), (Audience::Teacher, PartKind::Answers)],
            "reckoner" => {
                let (formula, sizes) = (own.clone(), Sizes::Usual);
                vec![(Audience::All, PartKind::Reckoner(Reckoner::Formula { formula, sizes }))]
            }
            _ => vec![(Audience::All, PartKind::Shopping(vec![of()]))],
        };
        let part = |(reader, what)| BookletItem { reader, what, said: EcoString::new(), span };
        Self {
            name,
            title: formula.title.clone(),
            language: None,
            units: None,
            paper: None,
            people: None,
            variants: None,
            large: None,
            parts: what.into_iter().map(part).collect(),
            span,
            broken: false,
        }
    }

    /// All formulas that it names, each once.
    pub fn formulas(&self) -> Vec<&Name> {
        let mut all: Vec<&Name> = Vec::new();
        for name in self.parts.iter().flat_map(|part| part.what.formulas()) {
            if !all.iter().any(|known| known.key == name.key) {
                all.push(name);
            }
        }
        all
    }

    /// All texts of the author in it.
    pub fn texts(&self) -> Vec<&Text> {
        let mut texts: Vec<&Text> = self.title.iter().collect();
        for part in &self.parts {
            match &part.what {
                PartKind::Text(text) | PartKind::Caution(text) => texts.push(text),
                PartKind::Picture { caption, .. } => texts.extend(caption),
                PartKind::Worksheet(sheet) => texts.extend(&sheet.title),
                PartKind::Glossary(lines) => texts.extend(lines.iter().map(|(_, text)| text)),
                _ => {}
            }
        }
        texts
    }
}

impl PartKind {
    /// The formulas that it prints as they are baked, each with its yield.
    pub fn printed(&self) -> &[FormulaYield] {
        match self {
            Self::Print(_, all) => all,
            Self::Plan(asked) => std::slice::from_ref(&asked.of),
            _ => &[],
        }
    }

    /// The formulas that it names.
    fn formulas(&self) -> Vec<&Name> {
        match self {
            Self::Print(_, all) | Self::Shopping(all) | Self::Compare(Compare::Formulas(all)) => {
                all.iter().map(|of| &of.formula).collect()
            }
            Self::Worksheet(sheet) => vec![&sheet.of.formula],
            Self::Plan(asked) => vec![&asked.of.formula],
            Self::Compare(Compare::With { of, .. } | Compare::Since { of, .. }) => {
                vec![&of.formula]
            }
            Self::Reckoner(Reckoner::Formula { formula, .. }) => vec![formula],
            Self::Text(text) | Self::Caution(text) => {
                let asks = text.parts.iter().filter_map(|part| match part {
                    TextPart::Figure { ask: Some(ask), .. } => ask.elsewhere(|_| true),
                    _ => None,
                });
                asks.map(|elsewhere| &elsewhere.formula).collect()
            }
            _ => Vec::new(),
        }
    }
}

/// Who has a part in their copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Audience {
    /// Everybody.
    All,
    /// The teacher alone.
    Teacher,
    /// Learners alone.
    Learner,
}

/// One thing that a booklet prints.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct BookletItem {
    /// Who has it.
    pub reader: Audience,
    /// What it is.
    pub what: PartKind,
    /// Its words as they were written, one blank between them; comments are left out.
    pub said: EcoString,
    /// Of the whole statement.
    pub span: Span,
}

/// What a part of a booklet is.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum PartKind {
    /// `text "…"`, in a small Markdown.
    Text(Text),
    /// `caution "…"`, which stands apart.
    Caution(Text),
    /// `page`: what follows begins a page.
    Page,
    /// `picture "levain.svg" "Ripe"`.
    Picture {
        /// The file, from the folder of the file that says it.
        file: EcoString,
        /// Of the file's name.
        file_span: Span,
        /// What stands below it, and what a screen reader says; none where it is missing.
        caption: Option<Text>,
    },
    /// `card first-sour`, `sheet …`, `table …`, one for each formula.
    Print(PrintKind, Vec<FormulaYield>),
    /// `plan first-sour ready saturday 10:00 awake 07:00..22:30`.
    Plan(Box<PlanAsked>),
    /// `worksheet first-sour { hide hydration }`.
    Worksheet(Worksheet),
    /// `answers`: the keys of all worksheets above.
    Answers,
    /// `compare first-sour with water 65%, 70%`, `compare first-sour, gullhaven-sour`.
    Compare(Compare),
    /// `reckoner first-sour for 1..12 loaves`.
    Reckoner(Reckoner),
    /// `shopping`, for these formulas, or for all that the booklet prints.
    Shopping(Vec<FormulaYield>),
    /// `glossary`, with lines of the author's own.
    Glossary(Vec<(Name, Text)>),
}

/// Which print of a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PrintKind {
    /// For a reader.
    Card,
    /// For the bench.
    Sheet,
    /// For whoever keeps the formula.
    Table,
}

/// A timeline of a formula, as `assize plan` makes it.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct PlanAsked {
    /// Of what.
    pub of: FormulaYield,
    /// When the bread is wanted, as it is written.
    pub ready: Option<(EcoString, Span)>,
    /// When it is begun, or before when nothing is.
    pub start: Option<(EcoString, Span)>,
    /// When somebody is there; empty for the hours of the house.
    pub awake: Vec<Open>,
    /// How warm the room is.
    pub room: Option<Quantity>,
    /// How cold the refrigerator is.
    pub cold: Option<Quantity>,
    /// The share of seed that a stage is begun with.
    pub seed: Option<Quantity>,
    /// Of the whole statement.
    pub span: Span,
}

/// A formula and how much of it: `first-sour for 5 loaves`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct FormulaYield {
    /// The formula.
    pub formula: Name,
    /// None for what the formula makes.
    pub makes: Option<Makes>,
    /// `for everyone`: as much as all the people make.
    pub everyone: bool,
    /// Of name and yield.
    pub span: Span,
}

/// A formula's table with blanks.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Worksheet {
    /// The formula, for a yield.
    pub of: FormulaYield,
    /// What stands above it; the formula's title where there is none.
    pub title: Option<Text>,
    /// What is hidden, in order.
    pub hide: Vec<Hidden>,
    /// Exercises, in order.
    pub exercises: Vec<Exercise>,
    /// How many steps an answer is to take.
    pub level: Option<Level>,
}

/// An exercise of a worksheet.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Exercise {
    /// What is to be done.
    pub what: ExerciseKind,
    /// How many of it are drawn.
    pub times: u32,
    /// Of the statement.
    pub span: Span,
}

/// What an exercise asks; what it leaves open is drawn.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum ExerciseKind {
    /// `scale for 5 loaves`: all weights for another yield.
    Scale(Option<Makes>),
    /// `true hydration`: without and with what stages bring.
    TrueHydration,
    /// `substitute bread flour with dark rye flour 20%`.
    Substitute(Option<(Name, Name, Quantity)>),
    /// `starter levain for 300 g`: what to feed.
    Starter(Option<Name>, Option<Quantity>),
    /// `water temperature`.
    WaterTemperature,
    /// `when to begin ready 10:00`, in minutes since midnight.
    WhenToBegin(Option<u32>),
    /// `mistake missing-salt`: which number was spoilt.
    Mistake(Option<Name>),
}

impl ExerciseKind {
    /// As it is written.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Scale(_) => "scale",
            Self::TrueHydration => "true hydration",
            Self::Substitute(_) => "substitute",
            Self::Starter(..) => "starter",
            Self::WaterTemperature => "water temperature",
            Self::WhenToBegin(_) => "when to begin",
            Self::Mistake(_) => "mistake",
        }
    }
}

/// How many steps an answer takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Level {
    /// At most two.
    First,
    /// At most four.
    Second,
    /// Five or more.
    Third,
}

impl Level {
    /// Each as it is written.
    pub const ALL: [(&'static str, Self); 3] =
        [("first", Self::First), ("second", Self::Second), ("third", Self::Third)];

    /// As it is written.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, level)| *level == self).map_or("first", |(word, _)| word)
    }

    /// The fewest steps that an exercise of the level is looked for with.
    pub fn least(self) -> usize {
        match self {
            Self::First => 1,
            Self::Second => 3,
            Self::Third => 5,
        }
    }

    /// The most steps that an answer of the level takes.
    pub fn most(self) -> usize {
        match self {
            Self::First => 2,
            Self::Second => 4,
            Self::Third => usize::MAX,
        }
    }

    /// Whether an exercise of so many steps needs no other way to be asked.
    pub fn wants(self, steps: usize) -> bool {
        (self.least()..=self.most()).contains(&steps)
    }

    /// Whether so many steps are of the level.
    pub fn holds(self, steps: usize) -> bool {
        match self {
            Self::First => steps <= 2,
            Self::Second => steps <= 4,
            Self::Third => steps >= 5,
        }
    }
}

/// Something that a worksheet hides.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Hidden {
    /// What it is.
    pub what: HiddenKind,
    /// As it is written.
    pub span: Span,
}

/// What a worksheet hides.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum HiddenKind {
    /// `weights`, in a mix or in all.
    Weights(Option<Name>),
    /// `percentages`, in a mix or in all.
    Percentages(Option<Name>),
    /// `everything`, in a mix or in all.
    Everything(Option<Name>),
    /// A figure or an amount.
    Figure(Question),
}

/// Formulas side by side.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Compare {
    /// One formula with several amounts of one line.
    With {
        /// The formula.
        of: Box<FormulaYield>,
        /// The line; `bake loss` where it is none.
        line: Option<Target>,
        /// One for each column, with its place.
        amounts: Vec<(Amount, Span)>,
        /// Of the line's name, or of `bake loss`.
        span: Span,
    },
    /// A formula beside what it was.
    Since {
        /// The formula.
        of: Box<FormulaYield>,
        /// A revision of its repository: `v2`.
        revision: EcoString,
        /// Of the revision.
        span: Span,
    },
    /// Several formulas.
    Formulas(Vec<FormulaYield>),
}

/// A table to read off.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Reckoner {
    /// Of a formula, a column for each of its yields.
    Formula {
        /// The formula.
        formula: Name,
        /// What its columns are for.
        sizes: Sizes,
    },
    /// Without a formula.
    General(General, Option<Steps>),
}

/// What the columns of a formula's reckoner are for.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum Sizes {
    /// Nothing is said: a usual choice.
    Usual,
    /// `for 10, 20, 40, 80 loaves`, `for 1..12 loaves`.
    Pieces {
        /// How many, in order.
        counts: Vec<Quantity>,
        /// What.
        kind: Name,
        /// Of numbers and kind.
        span: Span,
    },
    /// `from 500 g..2 kg flour every 250 g`.
    From {
        /// From least to most.
        steps: Steps,
        /// Of what there is so much.
        of: Target,
    },
}

/// `500 g..2 kg every 250 g`.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Steps {
    /// The least of them.
    pub low: Quantity,
    /// The most.
    pub high: Quantity,
    /// From one to the next.
    pub every: Quantity,
    /// Of all three.
    pub span: Span,
}

/// What a reckoner without a formula is of.
#[derive(Clone, Debug, PartialEq, Hash)]
pub enum General {
    /// `percentages`: of round weights of flour.
    Percentages,
    /// `feeds 1:1:1, 1:2:2`: culture, flour and water.
    Feeds(Vec<[u32; 3]>, bool),
    /// `yeast`: fresh, active dry and instant.
    Yeast,
    /// `temperatures`: °C and °F.
    Temperatures,
    /// `weights`: grams and ounces.
    Weights,
    /// `volumes of bread flour, sugar`: cups and spoons.
    Volumes(Vec<Name>),
}
