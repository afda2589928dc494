//! `stands-too-warm`: milk, eggs or soaked seeds that stand warm for longer than is usual.

use super::context::Context;
use super::limits;
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Absence, Allergen, Ingredient, Judged, LineRef, WorkedLine};
use crate::quantity::Exact;
use crate::quantity::display::minutes;
use crate::source::Span;
use crate::syntax::tree::{Extent, Phase, Stage, StageKind, Step, Verb, Wait, With};

/// `stands-too-warm`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "stands-too-warm",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("stands_too_warm.md"),
};

/// The bounds in the store.
const BOUNDS: &str = "standing warm";

/// How long something stands warm, at least, and where most of it is said.
struct Stay {
    minutes: Exact,
    span: Option<Span>,
}

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for stand in stands(context) {
        let dough = if stand.is_filled { "the filled bread" } else { "the dough" };
        let place = stand.stage.map_or(dough, |stage| stage.name.shown.as_str());
        let what = match (stand.spoils, stand.stage) {
            (Some(it), _) => it.name.shown.as_str(),
            (None, Some(stage)) => stage.name.shown.as_str(),
            (None, None) => continue,
        };
        findings.extend(told(&stand, place, what));
    }
}

/// Egg or milk that stands warm for too long.
pub struct TooWarm<'c> {
    /// The egg or the milk.
    pub spoils: &'c Ingredient,
    /// How long it stands warm, at least.
    pub minutes: Exact,
}

/// Each egg or milk of a formula that stands warm for longer than is usual, for its prints.
pub fn too_warm<'c>(context: &'c Context) -> Vec<TooWarm<'c>> {
    let long = stands(context).into_iter().filter_map(|stand| {
        let most = limits::most(BOUNDS, stand.bound)?;
        let TooWarm { spoils, minutes } =
            TooWarm { spoils: stand.spoils?, minutes: stand.stay.minutes };
        (minutes > most).then_some(TooWarm { spoils, minutes })
    });
    long.collect()
}

/// Something that stands warm, and may spoil.
struct Stand<'c> {
    /// Where it stands; none in the dough.
    stage: Option<&'c Stage>,
    /// The egg or milk in it; none in a soaker.
    spoils: Option<&'c Ingredient>,
    bound: &'static str,
    stay: Stay,
    /// In baked bread, which no heat follows.
    is_filled: bool,
}

fn stands<'c>(context: &'c Context) -> Vec<Stand<'c>> {
    let mut all = stands_before_the_bake(context);
    all.extend(stands_after_the_bake(context));
    all
}

/// Cream and the like that fills or tops what is baked, for all the time from then on.
fn stands_after_the_bake<'c>(context: &'c Context) -> Option<Stand<'c>> {
    let method = context.worked.formula.method.as_ref()?;
    let cooks = |verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam | Verb::Boil);
    let last = method.steps.iter().rposition(|step| cooks(step.verb))?;
    let after = method.steps.get(last + 1..)?;
    let put_on = |step: &Step| {
        let with = step.phases.iter().flat_map(|phase| &phase.with);
        with.filter_map(With::target).find_map(|it| spoiling(context, &it.name.key))
    };
    let (at, spoils) = after.iter().enumerate().find_map(|(at, step)| Some((at, put_on(step)?)))?;
    // What is put away cold is cold, unless a step says otherwise; all other time counts.
    let is_kept_cold = |step: &Step, phase: &Phase| {
        matches!(step.verb, Verb::Retard | Verb::Chill | Verb::Freeze) && phase.at.is_none()
    };
    let steps = after.iter().skip(at);
    let phases = steps.flat_map(|step| step.phases.iter().map(move |phase| (step, phase)));
    let phases = phases.filter(|(step, phase)| !is_kept_cold(step, phase)).map(|(_, phase)| phase);
    let warm = phases.filter(|phase| is_warm(context, phase.at.as_deref()) && !is_cold(phase));
    let stay =
        sum(context, warm.filter_map(|phase| Some((phase.duration.as_deref()?, phase.span))));
    Some(Stand { stage: None, spoils: Some(spoils), bound: "fresh", stay, is_filled: true })
}

/// The egg or milk of what a step puts on, or of the mixture that it is.
fn spoiling<'c>(context: &'c Context, key: &str) -> Option<&'c Ingredient> {
    let spoils = |it: &&Ingredient| does_spoil(it);
    let mut side_mixes = context.worked.side_mixes.iter();
    match side_mixes.find(|it| it.key == *key) {
        Some(made) if made.is_formula => None,
        Some(made) => {
            let mut held = made.holds.ingredients.iter().map(|id| context.house.ingredient(*id));
            held.find(spoils)
        }
        None => context.house.ingredient_named(key).filter(spoils),
    }
}

fn stands_before_the_bake<'c>(context: &'c Context) -> Vec<Stand<'c>> {
    if is_sweet(context) {
        return Vec::new();
    }
    let numbers = context.first();
    let stages = context.worked.formula.stages.iter().zip(&numbers.stages).enumerate();
    let of_stages = stages.filter_map(|(index, (stage, worked))| {
        let spoils = spoils(context, &worked.lines);
        let bound = match (spoils, stage.kind) {
            (Some(_), _) => bound_of(context, &worked.lines, context.is_alive(Some(index))),
            (None, StageKind::Soaker) => "soaked",
            (None, _) => return None,
        };
        let stay = stay_of(context, stage);
        Some(Stand { stage: Some(stage), spoils, bound, stay, is_filled: false })
    });
    let of_dough = spoils(context, &numbers.dough_lines).map(|it| {
        let bound = bound_of(context, &numbers.dough_lines, context.is_alive(None));
        let stay = stay_of_dough(context);
        Stand { stage: None, spoils: Some(it), bound, stay, is_filled: false }
    });
    of_stages.chain(of_dough).collect()
}

/// So much sugar binds the water that nothing grows: spice loaves rest for days.
fn is_sweet(context: &Context) -> bool {
    let least = limits::least(BOUNDS, "sweet");
    let share = context.class(Class::Sugar).over(context.flour());
    least.zip(share).is_some_and(|(least, share)| share >= least)
}

/// Acid keeps; what only yeast raises has none.
fn bound_of(context: &Context, lines: &[WorkedLine], is_alive: bool) -> &'static str {
    let is_culture = |line: &WorkedLine| matches!(line.goes, LineRef::Culture(_));
    let sour = lines.iter().any(is_culture) || context.lines_of_cultures().next().is_some();
    if sour && is_alive { "sour" } else { "fresh" }
}

/// The first egg or milk of some lines that is wet enough to spoil.
fn spoils<'c>(context: &'c Context, lines: &[WorkedLine]) -> Option<&'c Ingredient> {
    let of_line = |line: &WorkedLine| match line.goes {
        LineRef::Ingredient(id) => Some(context.house.ingredient(id)),
        _ => None,
    };
    let mut held = lines.iter().filter_map(of_line);
    held.find(|it| does_spoil(it))
}

/// Whether something is wet enough to spoil: egg and milk; custard, meat, fish and tofu by what
/// they are made of; and grain that is cooked, as cooked rice is. Hard cheese, salami and what
/// is boiled down with sugar are drier.
fn does_spoil(it: &Ingredient) -> bool {
    let Some(share) = it.water_share() else { return false };
    let holds = |bound| limits::least(BOUNDS, bound).is_some_and(|least| share >= least);
    match it.class {
        Class::Egg | Class::Dairy => holds("wet"),
        Class::Grain => holds("cooked"),
        Class::Other => {
            let is_soy = || Allergen::read("soybeans").is_some_and(|soy| it.declared.contains(soy));
            let is_of_animal = || matches!(it.declared.judge(Absence::Vegan), Judged::Holds(_));
            holds("cooked") && (is_of_animal() || is_soy())
        }
        _ => false,
    }
}

/// How long a stage ripens and stands warm.
fn stay_of(context: &Context, stage: &Stage) -> Stay {
    let waits = stage.ripens.iter().chain(&stage.stands);
    let warm = waits.filter(|wait| is_warm(context, wait.at.as_ref()));
    sum(context, warm.filter_map(|wait: &Wait| Some((wait.time.as_ref()?, wait.span))))
}

/// How long the dough stands warm before it is cooked.
fn stay_of_dough(context: &Context) -> Stay {
    let Some(method) = &context.worked.formula.method else {
        return Stay { minutes: Exact::ZERO, span: None };
    };
    let cooks = |verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam | Verb::Boil);
    let waits =
        |verb| matches!(verb, Verb::Bulk | Verb::Proof | Verb::Rest | Verb::Mix | Verb::Step);
    let raw = method.steps.iter().take_while(|step| !cooks(step.verb));
    let phases = raw.filter(|step| waits(step.verb)).flat_map(|step| &step.phases);
    let warm = phases.filter(|phase| is_warm(context, phase.at.as_deref()) && !is_cold(phase));
    sum(context, warm.filter_map(|phase| Some((phase.duration.as_deref()?, phase.span))))
}

/// `in fridge` says how warm it is without a number.
fn is_cold(phase: &Phase) -> bool {
    const COLD: [&str; 6] = ["fridge", "refrigerator", "cold", "retarder", "cellar", "cooler"];
    let place = phase.place.as_ref().filter(|_| phase.at.is_none());
    place.is_some_and(|place| COLD.iter().any(|word| place.key.contains(word)))
}

/// What says nothing stands in a room.
fn is_warm(context: &Context, at: Option<&Extent>) -> bool {
    let Some(cold) = limits::most(BOUNDS, "cold") else { return false };
    at.is_none_or(|at| context.range(at).low.is_none_or(|low| low > cold))
}

fn sum<'e>(context: &Context, parts: impl Iterator<Item = (&'e Extent, Span)>) -> Stay {
    let none = (Stay { minutes: Exact::ZERO, span: None }, Exact::ZERO);
    let (stay, _) = parts.fold(none, |(stay, longest), (time, span)| {
        let range = context.range(time);
        let time = range.low.or(range.high).unwrap_or(Exact::ZERO);
        let is_longest = time > longest;
        let span = if is_longest { Some(span) } else { stay.span };
        let all = &stay.minutes + &time;
        (Stay { minutes: all, span }, if is_longest { time } else { longest })
    });
    stay
}

fn told(stand: &Stand, place: &str, what: &str) -> Option<Finding> {
    let (stay, bound) = (&stand.stay, stand.bound);
    let most = limits::most(BOUNDS, bound)?;
    let cold = limits::most(BOUNDS, "cold")?;
    if stay.minutes <= most {
        return None;
    }
    let (long, usual) = (minutes(&stay.minutes), minutes(&most));
    let message = match place == what {
        true => format!("`{what}` stands warm for {long}, where at most {usual} is usual"),
        false => {
            let place = match stand.stage {
                None => place.to_owned(),
                Some(_) => format!("`{place}`"),
            };
            format!(
                "{place} stands warm for {long} with `{what}` in it, where at most {usual} is usual"
            )
        }
    };
    let why = match bound {
        "fresh" => {
            "the US FDA Food Code 2022, 3-501.19, lets food with milk or egg stand so for 4 h, or 6 h \
             where it stays cool"
        }
        _ => "common practice, no source",
    };
    // Nobody should eat of it then, however it is baked.
    let far = limits::number(BOUNDS, "far")?;
    let is_far = stand.spoils.is_some() && stay.minutes > &most * far;
    Some(
        Finding::new(&RULE, stay.span?, message)
            .level(if is_far { Level::Error } else { Level::Warning })
            .note(format!("above {} counts as warm; {why}", celsius(&cold, 0)))
            .help(match stand.is_filled {
                true => "keep it in the refrigerator once it is filled, or fill it shortly before it is eaten",
                false => "let it stand in the refrigerator, or for a shorter time",
            }),
    )
}
