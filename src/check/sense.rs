//! Which clauses say something of which verb, and which contradict each other: one table,
//! which `clause-out-of-place` and `clauses-disagree` read.

use super::context::Context;
use super::limits;
use crate::formula::Within;
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{Flag, FoldStyle, Name, Phase, Step, Until, Verb};
use crate::time;

/// What a step can say, as far as it makes sense of one verb and not of another. `with`,
/// `until "…"`, `then`, notes and `allow` make sense everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clause {
    /// `per 20 loaves`, after a time.
    Per,
    /// `at 24C`.
    At,
    /// `at room`.
    AtRoom,
    /// `to 26C`.
    To,
    /// `in NAME`.
    In(NamedPlace),
    /// `for rolls`.
    For,
    /// `fold 3 times`.
    Fold,
    /// `fold single`, `fold double`.
    FoldLayers,
    /// `until doubled`.
    UntilVolume,
    /// `until core 96C`.
    UntilCore,
    /// `until pH 4.2`.
    UntilAcidity,
    /// A clause of one word, or `by hand`.
    Flag(Flag),
    /// `speed 2`.
    Speed,
    /// `hands-on 5min`.
    HandsOn,
    /// `waiting`.
    Waiting,
}

/// What `in NAME` names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamedPlace {
    /// `mixer …` of a house.
    Mixer,
    /// `oven …` of a house.
    Oven,
    /// `tin …` of a house or of the stores.
    Tin,
    /// A mixture, such as a bath.
    Mixture,
    /// An ingredient or a stage, such as water or oil.
    Food,
    /// What keeps things above freezing and cold.
    Refrigerator,
    /// What freezes.
    Freezer,
    /// A proofer, a cellar, a cabinet: what keeps a temperature of its own.
    Cabinet,
}

/// A set of verbs.
#[derive(Clone, Copy)]
pub struct Verbs(u64);

impl Verbs {
    const fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    const fn has(self, verb: Verb) -> bool {
        self.0 & (1 << verb as u64) != 0
    }
}

const fn of(verbs: &[Verb]) -> Verbs {
    let (mut all, mut rest) = (0, verbs);
    while let [first, others @ ..] = rest {
        all |= 1 << *first as u64;
        rest = others;
    }
    Verbs(all)
}

use Verb::{
    Autolyse, Bake, Boil, Build, Bulk, Chill, Cool, Divide, Dust, Feed, Fill, Freeze, Fry, Glaze,
    Laminate, Mature, Mix, Pack, Pan, Preshape, Proof, Rest, Retard, Scald, Score, Shape, Slice,
    Soak, Steam, Top, Wash,
};

const ALL: Verbs = Verbs(u64::MAX);
/// `step "…"` may be anything.
const ANYTHING: Verbs = of(&[Verb::Step]);
/// What is stirred together.
const MIXES: Verbs = of(&[Feed, Build, Soak, Scald, Autolyse, Mix]);
/// Dough, or what goes into it, is left alone.
const STANDS: Verbs = of(&[Soak, Scald, Autolyse, Rest, Bulk, Proof, Retard, Chill, Freeze]);
/// The same of bread.
const KEEPS: Verbs = of(&[Cool, Mature]);
/// Dough becomes bread.
const COOKS: Verbs = of(&[Bake, Steam, Fry, Boil]);
/// What is done to the pieces.
const SHAPES: Verbs = of(&[Divide, Preshape, Shape, Pan]);
/// What goes on or into them.
const DRESSES: Verbs = of(&[Fill, Top, Glaze, Dust, Wash]);
/// What waits in the cold.
const COLD: Verbs = of(&[Retard, Chill, Freeze]);

/// Of each clause the verbs of which it says something, and a step in which it does. The
/// sweep of the tests asks every cell.
pub const TABLE: &[(Clause, Verbs, &str)] = &[
    (
        Clause::Per,
        SHAPES.or(DRESSES).or(ANYTHING).or(of(&[Boil, Fry, Score, Slice, Pack])),
        "shape 25min per 30 pieces",
    ),
    (
        Clause::At,
        STANDS.or(KEEPS).or(COOKS).or(SHAPES).or(ANYTHING).or(of(&[
            Verb::Fold,
            Laminate,
            Fill,
            Glaze,
            Wash,
            Pack,
            Verb::Preheat,
        ])),
        "bulk 2h at 25C",
    ),
    (
        Clause::AtRoom,
        STANDS.or(KEEPS).or(SHAPES).or(ANYTHING).or(of(&[Verb::Fold, Laminate])).without(COLD),
        "bulk 2h at room",
    ),
    (
        Clause::To,
        MIXES.or(COLD).or(ANYTHING).or(of(&[Rest, Cool, Laminate, Verb::Preheat])),
        "mix 8min with everything else to 25C",
    ),
    (
        Clause::In(NamedPlace::Mixer),
        MIXES.or(ANYTHING).or(of(&[Rest])),
        "mix 8min with everything else in spiral",
    ),
    (
        Clause::In(NamedPlace::Oven),
        ANYTHING.or(of(&[Bake, Steam, Proof, Bulk, Rest, Scald, Cool, Verb::Preheat])),
        "bake 35min at 230C in deck",
    ),
    (
        Clause::In(NamedPlace::Tin),
        SHAPES
            .or(DRESSES)
            .or(ANYTHING)
            .or(of(&[Rest, Bulk, Proof, Retard, Chill, Freeze, Score, Bake, Steam, Cool, Pack])),
        "bake 35min at 220C in chandler",
    ),
    (
        Clause::In(NamedPlace::Mixture),
        DRESSES.or(ANYTHING).or(of(&[Boil, Fry, Soak])),
        "boil 1min in malt bath",
    ),
    (
        Clause::In(NamedPlace::Food),
        DRESSES.or(ANYTHING).or(of(&[Boil, Fry, Soak, Scald])),
        "fry 3min at 180C in sunflower oil",
    ),
    (
        Clause::In(NamedPlace::Refrigerator),
        STANDS.or(KEEPS).or(ANYTHING).or(of(&[Pack])).without(of(&[Freeze])),
        "retard 12h at 4C in fridge",
    ),
    (
        Clause::In(NamedPlace::Freezer),
        ANYTHING.or(of(&[Freeze, Chill, Rest, Retard, Cool, Pack])),
        "freeze 4h at -20C in freezer",
    ),
    (
        Clause::In(NamedPlace::Cabinet),
        STANDS.or(KEEPS).or(ANYTHING).or(of(&[Feed, Build])).without(of(&[Freeze])),
        "proof 1h at 29C in proofer",
    ),
    (Clause::For, ALL.without(MIXES).without(of(&[Bulk])), "shape 10min for rolls"),
    (
        Clause::Fold,
        ANYTHING.or(of(&[Verb::Fold, Laminate, Bulk, Rest, Autolyse, Retard, Chill])),
        "bulk 3h at 25C fold 3 times every 40min",
    ),
    (
        Clause::FoldLayers,
        ANYTHING.or(of(&[Verb::Fold, Laminate])),
        "laminate 30min with butter fold double",
    ),
    (
        Clause::UntilVolume,
        ANYTHING.or(of(&[Feed, Build, Soak, Rest, Bulk, Proof, Retard])),
        "bulk 2h at 25C until volume 2x",
    ),
    (
        Clause::UntilCore,
        COOKS.or(COLD).or(KEEPS).or(ANYTHING).or(of(&[Scald])),
        "bake 35min at 230C until core 96C",
    ),
    (
        Clause::UntilAcidity,
        ANYTHING.or(of(&[Feed, Build, Soak, Rest, Bulk, Proof, Retard])),
        "bulk 3h at 25C until pH 4.2",
    ),
    (
        Clause::Flag(Flag::Covered),
        STANDS.or(KEEPS).or(COOKS).or(SHAPES).or(ANYTHING).or(of(&[Feed, Build])),
        "bulk 2h at 25C covered",
    ),
    (
        Clause::Flag(Flag::Uncovered),
        STANDS.or(KEEPS).or(COOKS).or(SHAPES).or(ANYTHING).or(of(&[Feed, Build])),
        "retard 10h at 4C uncovered",
    ),
    (Clause::Flag(Flag::Steamed), ANYTHING.or(of(&[Bake])), "bake 35min at 230C steamed"),
    (
        Clause::Flag(Flag::Vented),
        ANYTHING.or(of(&[Bake])),
        "bake 15min at 240C steamed then 20min at 220C vented",
    ),
    (Clause::Flag(Flag::Fan), ANYTHING.or(of(&[Bake, Verb::Preheat])), "bake 35min at 210C fan"),
    (
        Clause::Flag(Flag::ByHand),
        MIXES.or(SHAPES).or(DRESSES).or(ANYTHING).or(of(&[
            Verb::Fold,
            Laminate,
            Score,
            Slice,
            Pack,
        ])),
        "mix 12min with everything else by hand",
    ),
    (Clause::Speed, MIXES.or(ANYTHING), "mix 8min with everything else speed 2"),
    (Clause::HandsOn, ALL, "bulk 2h at 25C hands-on 10min"),
    (Clause::Waiting, ALL, "step \"Let the stone heat through\" 40min waiting"),
];

/// Pairs that no phase of a step can say both of, with the reason.
const PAIRS: &[(Clause, Clause, &str)] = &[
    (Clause::Flag(Flag::Covered), Clause::Flag(Flag::Uncovered), "a dough is the one or the other"),
    (Clause::Flag(Flag::Steamed), Clause::Flag(Flag::Vented), "steam is kept in or let out"),
    (Clause::Flag(Flag::ByHand), Clause::Speed, "only a mixer has speeds"),
    (
        Clause::Flag(Flag::ByHand),
        Clause::In(NamedPlace::Mixer),
        "it is mixed by the one or the other",
    ),
    (
        Clause::AtRoom,
        Clause::In(NamedPlace::Refrigerator),
        "a refrigerator is colder than the room",
    ),
    (Clause::AtRoom, Clause::In(NamedPlace::Freezer), "a freezer is colder than the room"),
    (Clause::AtRoom, Clause::In(NamedPlace::Cabinet), "it keeps a temperature of its own"),
    (Clause::AtRoom, Clause::In(NamedPlace::Oven), "an oven keeps a temperature of its own"),
    (Clause::Per, Clause::Waiting, "what waits takes as long for many pieces as for one"),
    (Clause::HandsOn, Clause::Waiting, "hands are at work or nobody is there"),
];

impl Clause {
    /// As it is written.
    pub fn word(self) -> &'static str {
        match self {
            Self::Per => "per",
            Self::At => "at",
            Self::AtRoom => "at room",
            Self::To => "to",
            Self::In(_) => "in",
            Self::For => "for",
            Self::Fold => "fold",
            Self::FoldLayers => "fold single` and `fold double",
            Self::UntilVolume => "until volume",
            Self::UntilCore => "until core",
            Self::UntilAcidity => "until pH",
            Self::Flag(flag) => {
                Flag::ALL.iter().find(|(_, own)| *own == flag).map_or("", |(word, _)| word)
            }
            Self::Speed => "speed",
            Self::HandsOn => "hands-on",
            Self::Waiting => "waiting",
        }
    }

    /// Whether it says something of a verb.
    pub fn suits(self, verb: Verb) -> bool {
        TABLE.iter().any(|(clause, verbs, _)| *clause == self && verbs.has(verb))
    }

    /// A step in which it says something.
    pub fn example(self) -> &'static str {
        TABLE.iter().find(|(clause, ..)| *clause == self).map_or("", |(.., example)| example)
    }

    /// Why no phase can say both.
    pub fn denies(self, other: Self) -> Option<&'static str> {
        let is_pair =
            |one: Self, two: Self| (one, two) == (self, other) || (one, two) == (other, self);
        PAIRS.iter().find(|(one, two, _)| is_pair(*one, *two)).map(|(.., why)| *why)
    }
}

impl NamedPlace {
    /// What messages call it, with its article.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mixer => "a mixer",
            Self::Oven => "an oven",
            Self::Tin => "a tin",
            Self::Mixture => "a mixture",
            Self::Food => "something that goes into dough",
            Self::Refrigerator => "a refrigerator",
            Self::Freezer => "a freezer",
            Self::Cabinet => "a place with a temperature of its own",
        }
    }

    /// What a name means after `in`; none for what nobody knows, which another finding says.
    pub fn of(context: &Context, name: &Name) -> Option<Self> {
        let (key, house) = (name.key.as_str(), context.house);
        let ends = |word: &str| key == word || key.ends_with(&format!(" {word}"));
        Some(match key {
            _ if house.mixer_named(key).is_some() => Self::Mixer,
            _ if house.oven_keys().any(|oven| oven == key) => Self::Oven,
            _ if house.tin(key).is_some() => Self::Tin,
            _ if context.worked.side_mixes.iter().any(|mix| mix.key == key) => Self::Mixture,
            _ if house.ingredient_id(key).is_some() => Self::Food,
            _ if matches!(context.worked.within(key), Some(Within::Stage(_))) => Self::Food,
            _ if time::is_refrigerator(key) => Self::Refrigerator,
            _ if ends("freezer") => Self::Freezer,
            _ if ends("oven") => Self::Oven,
            _ if time::is_place(key) => Self::Cabinet,
            _ => return None,
        })
    }
}

/// What a step says in one phase, each with its place. What the step says as a whole belongs
/// to its first phase.
pub fn said(context: &Context, step: &Step, index: usize) -> Vec<(Clause, Span)> {
    let Some(phase) = step.phases.get(index) else { return Vec::new() };
    let mut all = of_phase(context, phase);
    if index == 0 {
        all.extend(step.hands_on.as_ref().map(|time| (Clause::HandsOn, time.span)));
        all.extend(step.waiting.then_some((Clause::Waiting, step.span)));
    }
    all
}

fn of_phase(context: &Context, phase: &Phase) -> Vec<(Clause, Span)> {
    let mut all: Vec<(Clause, Span)> = Vec::new();
    all.extend(phase.per.as_ref().map(|per| (Clause::Per, per.span)));
    all.extend(phase.at.as_ref().map(|at| (Clause::At, at.span)));
    all.extend(phase.in_room.then_some((Clause::AtRoom, phase.span)));
    all.extend(phase.to.as_ref().map(|to| (Clause::To, to.span)));
    let place = phase.place.as_ref();
    all.extend(
        place.and_then(|name| Some((Clause::In(NamedPlace::of(context, name)?), name.span))),
    );
    all.extend(phase.kind.as_ref().map(|kind| (Clause::For, kind.span)));
    all.extend(phase.fold.as_ref().map(|fold| match fold.style {
        Some(FoldStyle::Single | FoldStyle::Double) => (Clause::FoldLayers, fold.span),
        None => (Clause::Fold, fold.span),
    }));
    all.extend(phase.until.iter().filter_map(|until| match until {
        Until::Volume(volume) => Some((Clause::UntilVolume, volume.span)),
        Until::Core(core) => Some((Clause::UntilCore, core.span)),
        Until::Acidity(_, span) => Some((Clause::UntilAcidity, *span)),
        Until::Text(_) => None,
    }));
    all.extend(phase.flags.iter().map(|(flag, span)| (Clause::Flag(*flag), *span)));
    all.extend(phase.speed.map(|(_, span)| (Clause::Speed, span)));
    all
}

/// How warm it is said to be where a phase is in the cold, if that is too warm.
pub fn too_warm(context: &Context, phase: &Phase, place: NamedPlace) -> Option<Exact> {
    let most = match place {
        NamedPlace::Refrigerator => limits::most("habit of temperatures", "cold"),
        NamedPlace::Freezer => limits::most("habit of temperatures", "freeze"),
        _ => None,
    };
    let at = phase.at.as_ref().and_then(|at| context.range(at).low)?;
    most.is_some_and(|most| at > most).then_some(at)
}
