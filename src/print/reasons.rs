//! A derivation as a tree for a terminal and as JSON.

use crate::diag::machine::pretty;
use crate::formula::{Assumption, Ground, How, Reason, entry_at};
use crate::quantity::display::exact;
use crate::quantity::{Exact, System};
use crate::source::{Sources, Span, visible};
use serde_json::{Value, json};

/// The tree of reasons, a line each.
#[cfg_attr(closed, allow(dead_code, reason = "tests read it"))]
pub fn tree(reason: &Reason, sources: &Sources) -> String {
    tree_as_printed(reason, None, sources)
}

/// The tree of reasons, a line each. A weight that prints show as `printed` is told so first,
/// and then as it is worked out.
pub fn tree_as_printed(reason: &Reason, printed: Option<&str>, sources: &Sources) -> String {
    let first = line(reason, sources);
    let first = match printed.filter(|printed| *printed != reason.shown()) {
        Some(printed) => {
            let worked_out =
                first.strip_prefix(&format!("{}: ", reason.what.words())).unwrap_or(&first);
            format!("{}: {printed} on the scale, worked out {worked_out}", reason.what.words())
        }
        None => first,
    };
    let mut written = format!("{first}\n");
    branches(&reason.parts, "", sources, &mut written);
    visible(&written).into_owned()
}

fn branches(parts: &[Reason], indent: &str, sources: &Sources, written: &mut String) {
    for (index, part) in parts.iter().enumerate() {
        let last = index + 1 == parts.len();
        let (joint, below) = if last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        written.push_str(&format!("{indent}{joint}{}\n", line(part, sources)));
        branches(&part.parts, &format!("{indent}{below}"), sources, written);
    }
}

fn line(reason: &Reason, sources: &Sources) -> String {
    let value = reason.shown();
    let place = reason.place.map(|place| format!("  [{}]", cited(place, sources)));
    let how = arithmetic(reason).map(|how| format!(" = {how}")).unwrap_or_default();
    format!("{}: {value}{how}{}", reason.what.words(), place.unwrap_or_default())
}

/// A line of a file; of a store the entry and where it is from.
fn cited(place: Span, sources: &Sources) -> String {
    let Some(entry) = entry_at(place) else { return sources.place(place) };
    let source = entry.source.map(|source| format!(": {source}")).unwrap_or_default();
    format!("store of {}, {}{source}", entry.store, entry.name)
}

/// The arithmetic with real numbers, or the words for it.
fn arithmetic(reason: &Reason) -> Option<String> {
    match &reason.how {
        How::Default(assumption) => Some(format!("a default: {}", assumed(*assumption))),
        How::Because(ground) => Some(because(*ground).to_owned()),
        _ => reason.arithmetic(),
    }
}

/// What an amount rests on, in words.
fn because(ground: Ground) -> &'static str {
    match ground {
        Ground::RoundedUpForTheScale => "so that the scale shows it and no piece is too light",
        Ground::SharedOut => "what the dough gives, shared out",
        Ground::ShareOfAllFlour => "so much that the flour going on is that share of all the flour",
        Ground::WeighsWhatItSays => "so much that the stage weighs what it says",
        Ground::ForItsUsers => "for those who use the stage",
        Ground::ForWhatIsMade => "for what the formula makes",
        Ground::ByWrittenWeights => "by the weights that are written",
        Ground::OnOnePiece => "on one piece",
        Ground::WithWhatCulturesHold => "with what cultures hold",
        Ground::NotSplit => "it is not split",
        Ground::PartOfTheMixture => "its part of the mixture",
        Ground::OnNoLineOfTheTotal => "it is on no line of the total",
        Ground::FromTheFinishedDough => "what it is kept from",
        Ground::LinesLessWhatIsTakenOut => "its lines, less what is kept, saved or lost",
        Ground::ToldAbove => "as worked out above",
        Ground::AsMuchAsTheSeed => "as much ripe stage as the seed weighed",
        Ground::ForTheNextTime => "for the next time",
        Ground::TheNextOldDough => "the next old dough",
        Ground::LeftByEarlierFeeds => "what they leave in the last one",
        Ground::WaterLost => "water that is lost",
        Ground::OnNoLine => "it is on no line",
        Ground::MadeForTheDough => "what the stage makes for the dough",
        Ground::TakenByStages => "what the stages take",
        Ground::ForTheSizeOfTheMix => "for the size of the mix",
        Ground::MissingToAHundred => "what is missing to 100 %",
        Ground::AllThatIsMade => "all that is made of it",
        Ground::TooLittleToCount => "too little to count",
        Ground::LeftByTheTotal => "all that the total leaves for it",
        Ground::BaseOfPerCent => "what these per cent are of",
        Ground::MadeLarger => "for what is asked, saved or too little to handle",
        Ground::TheWhole => "all of it",
        Ground::OwnFerments => "its own preferments and cultures",
        Ground::ALineThere => "a line there",
        Ground::Unused => "nothing uses it",
        Ground::WorkedOutAbove => "as worked out above",
        Ground::AllThatTheMixerGets => "all that the mixer gets",
        Ground::FlourRoomWaterAndStages => "flour, room, water and every stage that is in by then",
        Ground::AllElseIsAsWarm => "all else is as warm as the dough",
        Ground::AsItWasTold => "as given",
        Ground::WaterAsToldOthersAsKept => "water as given, all else as it is kept",
        Ground::HeatOfMelting => "334 kJ/kg ÷ 4.18 kJ/kg of melting",
        Ground::NoStepHasATime => "no step in it has a time",
    }
}

/// What is assumed where nothing says it, in words.
fn assumed(assumption: Assumption) -> &'static str {
    match assumption {
        Assumption::TinVolumePerGram => "common practice; a tin may say its own",
        Assumption::AKilogramOfFlour => {
            "nothing says how much is made, so it is for a kilogram of flour"
        }
        Assumption::NoSize => "nothing says how much is made",
        Assumption::Refrigerated => "from the refrigerator: common practice, no source",
        Assumption::AsTheRoom => "nothing says how warm it is: as the room",
        Assumption::MixingByHand => "mixing by hand",
        Assumption::FlourAsTheRoom => {
            "the bakehouse does not say how warm its flour is: as the room"
        }
        Assumption::FrictionForWork => {
            "the mixer has no `work`: its friction, in heat of the water"
        }
        Assumption::UsualLength => "no time was written; common practice, no source",
    }
}

/// The two ends of a range, as they are shown and exactly.
pub type Ends = [(String, Exact); 2];

/// The same tree for programs.
///
/// `shown` and `how` are in the units of the house; `exact` is what the arithmetic is done
/// with: grams, minutes, degrees Celsius, shares of one. `note` is what is to be known of what
/// it comes to.
///
/// `ends` are the two ends of what is a range, as they are shown and exactly: `from` and `to`
/// of the object.
pub fn json_tree(
    reason: &Reason,
    units: System,
    (note, ends): (Option<&str>, Option<&Ends>),
    sources: &Sources,
) -> String {
    let mut tree = value(reason, &reason.clone().told_in(units), sources);
    if let (Some(tree), Some(ends)) = (tree.as_object_mut(), ends) {
        for (key, (shown, amount)) in ["from", "to"].into_iter().zip(ends) {
            tree.insert(key.to_owned(), json!({ "shown": shown, "exact": exact(amount) }));
        }
    }
    if let (Some(tree), Some(note)) = (tree.as_object_mut(), note) {
        tree.insert("note".to_owned(), note.into());
    }
    pretty(&tree) + "\n"
}

fn value(reason: &Reason, told: &Reason, sources: &Sources) -> Value {
    let entry = reason.place.and_then(entry_at);
    let place = reason.place.filter(|_| entry.is_none()).and_then(|place| {
        let source = sources.get(place.source)?;
        let (line, column) = source.line_column(place.start);
        Some(json!({ "file": &*source.name, "line": line, "column": column }))
    });
    let parts = reason.parts.iter().zip(&told.parts);
    let parts: Vec<Value> = parts.map(|(part, told)| value(part, told, sources)).collect();
    json!({
        "what": reason.what.words(),
        "shown": told.shown(),
        "exact": exact(&reason.amount),
        "how": arithmetic(told),
        "default": matches!(reason.how, How::Default(_)),
        "place": place,
        "store": entry.map(|entry| {
            json!({ "name": entry.store, "entry": entry.name.as_str(), "source": entry.source })
        }),
        "parts": parts,
    })
}
