//! `assize why`: how a figure came about.

use super::args::{Why, WhyFormat};
use super::asked::{find, makes};
use super::exit::Exit;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::check::why_no_figure;
use crate::desk::{self, Loaded};
use crate::diag::nearest;
use crate::formula::{
    Figure, House, How, Reason, Subject, Value, ValueKind, Within, Worked, beyond_water,
    from_measured, limit, no_warmth, printed_as, warmth,
};
use crate::print::{Ends, json_tree, tree_as_printed};
use crate::quantity::display::to_step;
use crate::quantity::{Exact, System};
use crate::source::Sources;
use crate::syntax::tree::{Base, Measure, Name, Question, Target};
use crate::syntax::{read_ask, read_temperature};
use crate::time::{self, Graph};

/// `assize why`.
pub fn run(args: &Why) -> Exit {
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    let words = args.figure.join(" ");
    // `water %` asks for the cell beside the weight, in quotes or without.
    let all: Vec<&str> = words.split_whitespace().collect();
    let (asked, base) = based_on(&all);
    let (asked, percent) = without_amount(&asked);
    let Some((what, place)) = read_ask(&asked.join(" ")) else {
        return usage(&format!(
            "`{words}` is not a figure: write `hydration` or `water in levain`"
        ));
    };
    find(&args.formula, args.makes.as_deref(), |loaded, bakehouse, _, formula| {
        let (worked, findings) = desk::worked(bakehouse, formula, makes.as_ref());
        if !worked.readable {
            tell_on_error(&findings, &loaded.sources);
            return Exit::Findings;
        }
        let asked_of = Figure::read(&what.name.key);
        if args.measured.is_some() && asked_of != Some(Figure::WaterTemperature) {
            return usage(
                "`--measured` is about the water temperature: write `assize why NAME water \
                 temperature --measured 26C`",
            );
        }
        if let Some(figure @ (Figure::Elapsed | Figure::HandsOn)) = Figure::read(&what.name.key) {
            return times(args, loaded, &figure, time::graph(&bakehouse.house, &worked), &worked);
        }
        if let Some(measured) = &args.measured {
            return measured_friction(args, loaded, &bakehouse.house, &worked, measured);
        }
        let per_cent = || worked.why_percent(&what, place.as_ref());
        let mass = || worked.why_each(&what, place.as_ref());
        let reasons = match (&base, percent) {
            (Some(base), _) => {
                let share = worked.why_share_of(&what, place.as_ref(), base);
                share.into_iter().collect()
            }
            // A figure that is a share by itself needs no other.
            (None, true) => per_cent().map_or_else(mass, |share| vec![share]),
            (None, false) => mass(),
        };
        match !reasons.is_empty() {
            true => {
                let other = match (&base, percent) {
                    (None, false) => per_cent().map(|_| format!("{} %", asked.join(" "))),
                    (None, true) => per_cent().map(|_| asked.join(" ")),
                    _ => None,
                };
                let units = bakehouse.house.settings.units.first;
                let is_of_water = matches!(
                    Figure::read(&what.name.key),
                    Some(Figure::WaterTemperature | Figure::Ice)
                );
                let water = warmth(&worked).ok().filter(|_| is_of_water);
                let note = water.and_then(|warmth| beyond_water(&warmth, units));
                let ends =
                    ends(&worked, (what.clone(), place.clone()), (base.clone(), percent), units);
                let (ends, shown_is) = ends.unzip();
                let by = Told { format: args.format, units, of: Some(&worked), note, ends };
                let mut written = told(&by, reasons, &loaded.sources);
                if let (WhyFormat::Text, Some([(low, _), (high, _)]), Some(shown_is)) =
                    (args.format, &by.ends, shown_is)
                {
                    written.push_str(&format!("from {low} to {high}; shown is {shown_is}\n"));
                }
                if let (WhyFormat::Text, Some(other)) = (args.format, other) {
                    let what = if percent { "its weight" } else { "its percentage" };
                    let name = &worked.formula.name.shown;
                    written.push_str(&format!("{what}: assize why {name} \"{other}\"\n"));
                }
                streams::output(written)
            }
            false => {
                if let Some(figure @ (Figure::WaterTemperature | Figure::Ice)) =
                    Figure::read(&what.name.key)
                {
                    return usage(&match (warmth(&worked), figure) {
                        (Err(why), _) => format!("there is no `{words}`: {}", no_warmth(why)),
                        (Ok(warmth), _) => {
                            let units = bakehouse.house.settings.units.first;
                            let note = beyond_water(&warmth, units);
                            format!(
                                "there is no ice: the water wants {}, which is not below the \
                                 tap{}",
                                warmth.water.told_in(units).shown(),
                                note.map(|note| format!("; {note}")).unwrap_or_default()
                            )
                        }
                    });
                }
                if let Some(figure) = Figure::read(&what.name.key).filter(|_| place.is_none()) {
                    let why = why_no_figure(&worked, &figure);
                    return usage(&format!("there is no `{words}`: {why}"));
                }
                let near = nearest(&what.name.key, Figure::names());
                usage(&match near {
                    Some(near) => format!("there is no `{words}` in it; did you mean `{near}`?"),
                    None => format!("there is no `{words}` in this formula"),
                })
            }
        }
    })
}

/// Both ends of what was asked, where ranges of the formula make it one, and which of them
/// the derivation is of.
fn ends(
    worked: &Worked,
    (what, place): (Target, Option<Name>),
    (base, percent): (Option<Base>, bool),
    units: System,
) -> Option<(Ends, &'static str)> {
    let asked = worked.asked(&what, place.as_ref());
    let is_plain = base.is_none() && !percent;
    if let Some((None | Some(Figure::Class(_)), within)) = asked.filter(|_| is_plain) {
        return ends_of_lines(worked, &what, within, units);
    }
    let measure = match (base, percent) {
        (Some(base), _) => Measure::Of(base),
        (None, true) => Measure::Percent,
        (None, false) => Measure::Itself,
    };
    let values = worked.answer(&Question { what, place, measure })?;
    let low = values.iter().min_by(|one, two| one.amount.cmp(&two.amount))?;
    let high = values.iter().max_by(|one, two| one.amount.cmp(&two.amount))?;
    if low.amount == high.amount || worked.choices.len() < 2 {
        return None;
    }
    let shown = |value: &Value| {
        let told = Reason::new(Subject::default(), value.amount.clone(), value.kind, How::Written);
        told.told_in(units).shown()
    };
    let end = |value: &Value| (shown(value), value.amount.clone());
    Some(([end(low), end(high)], "where all ranges begin"))
}

/// Both ends of the weights of lines, as `show` has them: the more that may go in on top.
fn ends_of_lines(
    worked: &Worked,
    what: &Target,
    within: Within,
    units: System,
) -> Option<(Ends, &'static str)> {
    let numbers = worked.first();
    let lines = match within {
        Within::Stage(stage) => &numbers.stages.get(stage)?.lines,
        Within::All if !numbers.total_lines.is_empty() => &numbers.total_lines,
        Within::All | Within::FinalDough => &numbers.dough_lines,
        Within::SideMix(_) | Within::Pieces => return None,
    };
    let role = what.role.as_ref().map(|role| role.shown.as_str());
    let own = lines.iter().filter(|line| {
        line.key == what.name.key && (role.is_none() || line.role.as_deref() == role)
    });
    let (mut low, mut more) = (Exact::ZERO, Exact::ZERO);
    for line in own {
        low += &line.mass;
        more += &line.more;
    }
    if more.is_zero() {
        return None;
    }
    let high = &low + &more;
    let shown = |grams: &Exact| {
        let on_the_scale = to_step(grams, &worked.house.settings.scale.resolution(grams));
        let told = Reason::new(Subject::default(), on_the_scale, ValueKind::Mass, How::Written);
        printed_as(worked, grams).unwrap_or_else(|| told.told_in(units).shown())
    };
    Some(([(shown(&low), low), (shown(&high), high)], "the least of it"))
}

/// What the friction of the mixer really was, from the dough's measured temperature.
fn measured_friction(
    args: &Why,
    loaded: &Loaded,
    house: &House,
    worked: &Worked,
    measured: &str,
) -> Exit {
    let Some(degrees) = read_temperature(measured) else {
        return usage(&format!("`--measured {measured}` is not a temperature: write 26C"));
    };
    let degrees = degrees.unit.to_base(&degrees.number, house.settings.measures);
    if limit("habit of facts", "warm dough").is_some_and(|usual| !usual.holds(&degrees)) {
        return usage(&format!("`--measured {measured}` is not how warm a dough can be"));
    }
    let reason = match warmth(worked) {
        Ok(warmth) => from_measured(worked, &warmth, &degrees),
        Err(why) => return usage(&format!("there is no water temperature: {}", no_warmth(why))),
    };
    let units = house.settings.units.first;
    let by = Told { format: args.format, units, of: None, note: None, ends: None };
    streams::output(told(&by, vec![reason], &loaded.sources))
}

/// How long it takes: at its shortest and, where that differs, at its longest.
fn times(
    args: &Why,
    loaded: &Loaded,
    figure: &Figure,
    graph: Option<Graph>,
    worked: &Worked,
) -> Exit {
    let Some(graph) = graph else {
        return usage("the formula has no method, and so no times");
    };
    let reasons = match figure {
        Figure::HandsOn => time::why_hands_on(worked, &graph),
        _ => time::why_elapsed(worked, &graph),
    };
    let units = worked.house.settings.units.first;
    let by = Told { format: args.format, units, of: None, note: None, ends: None };
    streams::output(told(&by, reasons, &loaded.sources))
}

/// How derivations are told.
struct Told<'a, 't> {
    format: WhyFormat,
    units: System,
    /// The formula whose prints show the weights; none for figures that no print shows.
    of: Option<&'a Worked<'t>>,
    /// What is to be known of what they come to.
    note: Option<String>,
    /// Both ends, where it is a range.
    ends: Option<Ends>,
}

/// Derivations one below the other, in the units of the house; of several, an array in JSON,
/// where programs find what is exact in grams and degrees Celsius beside what is shown.
fn told(by: &Told, reasons: Vec<Reason>, sources: &Sources) -> String {
    let (units, note) = (by.units, by.note.as_deref());
    match (by.format, reasons.as_slice()) {
        (WhyFormat::Json, [one]) => json_tree(one, units, (note, by.ends.as_ref()), sources),
        (WhyFormat::Json, several) => {
            let trees =
                several.iter().map(|reason| json_tree(reason, units, (note, None), sources));
            format!("[{}]\n", trees.collect::<Vec<_>>().join(","))
        }
        (WhyFormat::Text, _) => {
            let one = |reason: Reason| {
                let of = by.of.filter(|_| reason.kind == ValueKind::Mass);
                let printed = of.and_then(|worked| printed_as(worked, &reason.amount));
                tree_as_printed(&reason.told_in(units), printed.as_deref(), sources)
            };
            let note = note.map(|note| format!("note: {note}\n"));
            reasons.into_iter().map(one).chain(note).collect()
        }
    }
}

/// Takes off the amount of a claim, so that it can be asked about as it stands; and whether
/// a percentage is meant, which a `%` by itself says too.
fn without_amount<'w>(asked: &[&'w str]) -> (Vec<&'w str>, bool) {
    let is_amount = |word: &str| word.starts_with(|first: char| first.is_ascii_digit());
    let end = asked.iter().skip(1).position(|word| is_amount(word)).map(|place| place + 1);
    let (name, amount) = asked.split_at(end.unwrap_or(asked.len()));
    let percent = name.contains(&"%") || amount.iter().any(|word| word.ends_with('%'));
    (name.iter().copied().filter(|word| *word != "%").collect(), percent)
}

/// Takes off what a share is of, as `show` names it; the last row of a table is its dough.
fn based_on<'w>(asked: &[&'w str]) -> (Vec<&'w str>, Option<Base>) {
    let ends: [(&[&str], Base); 4] = [
        (&["of", "added", "flour"], Base::AddedFlour),
        (&["of", "all", "flour"], Base::Flour),
        (&["of", "flour"], Base::Flour),
        (&["of", "dough"], Base::Dough),
    ];
    let found = ends.into_iter().find(|(end, _)| asked.len() > end.len() && asked.ends_with(end));
    let (asked, base) = match found {
        Some((end, base)) => (&asked[..asked.len() - end.len()], Some(base)),
        None => (asked, None),
    };
    let mut asked = asked.to_vec();
    if asked.first() == Some(&"sum") {
        asked[0] = "dough";
    }
    (asked, base)
}
