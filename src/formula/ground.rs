//! What an amount rests on where no arithmetic gives it: kinds of reason, which `print` puts
//! into words.

/// What stands for the parts of a reason that has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// So that the scale shows it and no piece is too light.
    RoundedUpForTheScale,
    /// What the dough gives, shared out.
    SharedOut,
    /// So much that the flour going on is that share of all the flour.
    ShareOfAllFlour,
    /// So much that the stage weighs what it says.
    WeighsWhatItSays,
    /// For those who use the stage.
    ForItsUsers,
    /// For what the formula makes.
    ForWhatIsMade,
    /// By the weights that are written.
    ByWrittenWeights,
    /// On one piece.
    OnOnePiece,
    /// With what cultures hold.
    WithWhatCulturesHold,
    /// It is not split.
    NotSplit,
    /// Its part of the mixture.
    PartOfTheMixture,
    /// It is on no line of the total.
    OnNoLineOfTheTotal,
    /// What it is kept from.
    FromTheFinishedDough,
    /// Its lines, less what is kept, saved or lost.
    LinesLessWhatIsTakenOut,
    /// As told above.
    ToldAbove,
    /// As much ripe stage as the seed weighed.
    AsMuchAsTheSeed,
    /// For the next time.
    ForTheNextTime,
    /// The next old dough.
    TheNextOldDough,
    /// What they leave in the last one.
    LeftByEarlierFeeds,
    /// Water that is lost.
    WaterLost,
    /// It stands on no line.
    OnNoLine,
    /// What the stage makes for the dough.
    MadeForTheDough,
    /// What the stages take.
    TakenByStages,
    /// For the size of the mix.
    ForTheSizeOfTheMix,
    /// What is missing to 100 %.
    MissingToAHundred,
    /// All that is made of it.
    AllThatIsMade,
    /// Too little to count.
    TooLittleToCount,
    /// All that the total leaves for it.
    LeftByTheTotal,
    /// What these per cent are of.
    BaseOfPerCent,
    /// For what is asked, saved or too little to handle.
    MadeLarger,
    /// All of it.
    TheWhole,
    /// Its own preferments and cultures.
    OwnFerments,
    /// A line there.
    ALineThere,
    /// Nothing uses it.
    Unused,
    /// As worked out above.
    WorkedOutAbove,
    /// All that the mixer gets.
    AllThatTheMixerGets,
    /// Flour, room, water and every stage that goes in.
    FlourRoomWaterAndStages,
    /// All else is as warm as the dough.
    AllElseIsAsWarm,
    /// As it was told.
    AsItWasTold,
    /// Water as given, all else as it is kept.
    WaterAsToldOthersAsKept,
    /// 334 kJ/kg ÷ 4.18 kJ/kg of melting.
    HeatOfMelting,
    /// No step in it has a time.
    NoStepHasATime,
}

/// What is assumed where nothing says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Assumption {
    /// How much of a tin a gram of dough needs.
    TinVolumePerGram,
    /// A formula without a size is worked out for a kilogram of flour.
    AKilogramOfFlour,
    /// The flour of a formula without a size.
    NoSize,
    /// How cold milk, eggs and the like are.
    Refrigerated,
    /// A stage or a culture is as warm as the room.
    AsTheRoom,
    /// What mixing by hand adds.
    MixingByHand,
    /// Flour is as warm as the room.
    FlourAsTheRoom,
    /// The mixer's friction stands for its work.
    FrictionForWork,
    /// How long a step takes that says no time.
    UsualLength,
}
