//! What a step of a derivation is of, as data; `findings::subject` words it.

use ecow::EcoString;

/// What a step of a derivation is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// What bears a name: a line, a stage, a kind of piece, a word of the language, or a
    /// figure as it was asked for.
    Named(EcoString),
    /// A number of the arithmetic itself.
    Topic(Topic),
    /// A line by its role: `salt (crust)`.
    InRole(Box<Self>, EcoString),
    /// Something in a stage, a culture, a mixture or an ingredient: `water in levain`.
    In(Box<Self>, EcoString),
    /// Something in a stage once it is ripe.
    InRipe(Box<Self>, EcoString),
    /// Something in the finished dough.
    InFinishedDough(Box<Self>),
    /// Something that pieces carry beside their dough.
    BesideDough(Box<Self>),
    /// Something of a named thing: `water of milk`, `salt as eaten of rolls`.
    Of(Box<Self>, EcoString),
    /// Something on all pieces of a kind.
    On(Box<Self>, EcoString),
    /// What a line or a culture brings.
    By(EcoString),
    /// All that a stage gives once it is ripe.
    AllOfRipe(EcoString),
    /// An ingredient that no line lists and only a culture brings.
    OnlyByCulture(EcoString),
    /// A yeast as so much fresh yeast.
    AsFreshYeast(EcoString),
    /// How much fresh yeast does the work of a gram of another.
    FreshYeastFor(EcoString),
    /// The friction of a mixer.
    FrictionOf(EcoString),
    /// What a poured liquid of its own temperature asks of the water.
    For(EcoString),
    /// The dough for all pieces of a kind, and the same once it is made up.
    DoughFor(EcoString),
    /// The dough for all pieces of a kind, without what is lost in making up.
    DoughMadeUp(EcoString),
    /// What a loss leaves of one.
    LeftAfter(Topic),
    /// Millilitres that a tin holds.
    MillilitresOf(EcoString),
    /// What another stage takes.
    GoesInto(EcoString),
    /// A length of time at its shortest.
    AtShortest(Topic),
    /// A length of time at its longest.
    AtLongest(Topic),
    /// Something as a percentage of the flour of its mix.
    PerCent(Box<Self>),
    /// Something as a share of what is named.
    ShareOf(Box<Self>, ShareBase),
}

/// What a share is of, in a derivation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShareBase {
    /// All flour, that of cultures too.
    AllFlour,
    /// The flour added in the dough.
    AddedFlour,
    /// The whole dough.
    WholeDough,
}

/// A number of the arithmetic itself, which bears no name of the formula.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Topic {
    /// What is told without a name.
    #[default]
    Nothing,
    /// All flour, that of cultures too.
    AllFlour,
    /// All liquids that are poured.
    AllPoured,
    /// All water, that of cultures too.
    AllWater,
    /// The dough out of the oven.
    Baked,
    /// The dough of a piece out of the oven, without what it carries.
    BakedDoughAlone,
    /// What a piece is to weigh out of the oven.
    BakedWeight,
    /// The dough that comes out of the oven at that weight.
    BakedWeightBeforeOven,
    /// What is lost in the oven.
    BakeLoss,
    /// Water that is lost on the stove.
    BoilsAway,
    /// What the feeds before left in it.
    ByEarlierFeeds,
    /// How much colder than the dough the water is.
    ColderThanDough,
    /// How much colder than all that is poured a liquid is.
    ColderThanPoured,
    /// How much colder than the tap the water is.
    ColderThanTap,
    /// The whole dough, or its temperature.
    Dough,
    /// How warm the dough came out.
    DoughAsMeasured,
    /// The dough of one piece.
    DoughOfOne,
    /// The time from the first step to the last.
    Elapsed,
    /// Flour that was fermented.
    FermentedFlour,
    /// Flour fermented in preferments, builds and cultures.
    FermentedFlourBeforeDough,
    /// Flour, its weight or its temperature.
    Flour,
    /// Flour on the lines of the dough itself.
    FlourAddedInDough,
    /// Both together.
    FlourAndWater,
    /// Flour on the lines of a stage itself.
    FlourNewInStage,
    /// What percentages in a mix are of.
    FlourOfMix,
    /// The flour on the lines of a total.
    FlourOfTotal,
    /// The heat that is left for the water.
    ForTheWater,
    /// What mixing warms the dough by.
    Friction,
    /// The density of an ingredient.
    GramsOfMillilitre,
    /// The weight of one piece of an ingredient.
    GramsOfOne,
    /// The time in which hands are at work.
    HandsOn,
    /// All heat of mixing and wetting.
    HeatMade,
    /// The heat of the mixer.
    HeatOfMixing,
    /// The heat that the dough took up.
    HeatTakenUp,
    /// How many times what is written is made.
    HowMuchLarger,
    /// Hot water, its temperature.
    HotWater,
    /// How much warmer than the tap hot water is.
    HotAboveTap,
    /// How much hot water is weighed out.
    HotToWeigh,
    /// The hundred that a dough yield is told for.
    Hundred,
    /// How much of the water is ice.
    Ice,
    /// The heat that ice takes up, as degrees of as much water.
    IceTakes,
    /// As many times the dough's temperature as there are temperatures that count.
    InAll,
    /// The heat that the water took up.
    IntoTheWater,
    /// What part of a stage a line takes.
    ItsPart,
    /// What is kept for the next time.
    KeptBack,
    /// The weight of the dough in kilograms.
    KilogramsOfDough,
    /// What nothing takes.
    LeftOver,
    /// What is lost in making up.
    MakeUpLoss,
    /// The heat that melts ice, as degrees of as much water.
    Melting,
    /// A volume that is written.
    Millilitres,
    /// What of a tin a gram of dough takes.
    MillilitresForGram,
    /// The heat that the mixer makes.
    OfMixer,
    /// A weight as a share of the water's.
    OfWaterWeight,
    /// The heat that wetting flour makes.
    OfWetting,
    /// A piece out of the oven with what it carries.
    OneAsEaten,
    /// The weight of one part.
    OnePart,
    /// How many parts are written.
    Parts,
    /// Flour and water over flour.
    PartsForOne,
    /// How many pieces of an ingredient are written.
    Pieces,
    /// All of a mix but the line itself.
    RestOfMix,
    /// How warm the room is.
    Room,
    /// What a piece weighs more, so that the scale shows it.
    RoundedUp,
    /// Salt, wherever it comes from.
    Salt,
    /// Salt that other ingredients hold.
    SaltElsewhere,
    /// All salt in the dough.
    SaltInDough,
    /// The salt in the dough of one piece.
    SaltInDoughOfOne,
    /// The salt of the dough over its weight.
    SaltInGram,
    /// The salt of what a piece carries.
    SaltInWhatItCarries,
    /// What is saved for the next time.
    Saved,
    /// What a stage is begun with.
    Seed,
    /// A part of the water.
    ShareOfWater,
    /// What stages take from a line of the total.
    TakenByStages,
    /// How warm the water of the tap is.
    Tap,
    /// How much tap water is weighed out.
    TapToWeigh,
    /// How many temperatures the factor method counts.
    TemperaturesThatCount,
    /// All of something, as one.
    TheWhole,
    /// How often a step is done.
    TimesThat,
    /// The heat that warms all but the water.
    ToWarmAllElse,
    /// How much warmer than the tap the water is.
    WarmerThanTap,
    /// Water, its weight or its temperature.
    Water,
    /// The heat that warms the water by a degree.
    WaterForDegree,
    /// Water on the lines of the dough itself.
    WaterInDough,
    /// All water in anything but flour.
    WaterOfAllButFlour,
    /// The water that liquids hold.
    WaterOfLiquids,
    /// How warm the water has to be.
    WaterTemperature,
    /// What no line accounts for.
    WhatElse,
    /// What a percentage says that it is of.
    WhatItNames,
    /// All of the dough, as what a percentage is of.
    WholeDough,
    /// The work of a mixer for a kilogram of dough.
    Work,
    /// As it is written.
    Written,
    /// Both together.
    YeastAndLeaveners,
    /// All yeast as so much fresh yeast.
    YeastAsFresh,
}

impl Subject {
    /// What bears a name.
    pub fn named(name: &str) -> Self {
        Self::Named(name.into())
    }

    /// The same in something that bears a name.
    pub(super) fn inside(self, name: &str) -> Self {
        Self::In(Box::new(self), name.into())
    }

    /// The same of something that bears a name.
    pub(super) fn of(self, name: &str) -> Self {
        Self::Of(Box::new(self), name.into())
    }

    /// The same on all pieces of a kind.
    pub(super) fn on(self, kind: &str) -> Self {
        Self::On(Box::new(self), kind.into())
    }
}

impl Default for Subject {
    fn default() -> Self {
        Self::Topic(Topic::default())
    }
}

impl From<Topic> for Subject {
    fn from(topic: Topic) -> Self {
        Self::Topic(topic)
    }
}

impl From<&Subject> for Subject {
    fn from(own: &Subject) -> Self {
        own.clone()
    }
}

impl From<&EcoString> for Subject {
    fn from(name: &EcoString) -> Self {
        Self::Named(name.clone())
    }
}
