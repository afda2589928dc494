//! `fact-doubtful`: a fact of a house or of a formula that no bakery has.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{celsius, celsius_apart, grams, millilitres};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{House, LineRef, Mixer, all_mixes, built_in, plain, words_of};
use crate::quantity::display::{minutes, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Range, Unit, int};
use crate::source::Span;
use crate::syntax::tree::{
    Amount, Bakehouse, Claim, ClaimValue, Extent, Formula, Ingredient, Line, Machine, MachineKind,
    Mix, Mixture, Name, Open, Quantity, Save, Size, Stage, StageSize, Style, Tree, Until,
    WordsKind,
};
use std::borrow::Cow;

/// `fact-doubtful`, a warning about names.
pub const RULE: Rule = Rule {
    name: "fact-doubtful",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("fact_doubtful.md"),
};

/// What is usual of each fact, by its name in the store.
const HABIT: &str = "habit of facts";

/// Holds what is said against the store, for a house's own measures.
struct Judge<'f> {
    measures: Measures,
    findings: &'f mut Vec<Finding>,
}

/// What a house says of its rooms, machines, ingredients and styles.
pub fn check_house(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let mut judge = Judge { measures: house.settings.measures, findings };
    for tree in trees {
        tree.bakehouses.iter().for_each(|it| judge.bakehouse(it));
        let inside = tree.bakehouses.iter().flat_map(|it| &it.machines);
        tree.machines.iter().chain(inside).for_each(|it| judge.machine(it));
        tree.ingredients.iter().for_each(|it| judge.ingredient(it));
        tree.styles.iter().for_each(|it| judge.style(it));
        tree.mixtures.iter().for_each(|it| judge.mixture(it));
        tree.cultures.iter().for_each(|it| judge.mix(&it.mix));
        tree.stages.iter().for_each(|it| judge.stage(it));
        judge.names(&names_of_house(tree));
    }
}

/// What a house gives names to, outside its formulas.
fn names_of_house(tree: &Tree) -> Vec<(&'static str, Cow<'_, str>, Span)> {
    let called = |what| move |name| called(what, name);
    let inside = tree.bakehouses.iter().flat_map(|it| &it.machines);
    let machines = tree.machines.iter().chain(inside);
    let titles = tree.bakehouses.iter().filter_map(|it| it.title.as_ref());
    let titles = titles.map(|title| ("the title", Cow::Owned(plain(title)), title.span));
    let names =
        (tree.ingredients.iter().map(|it| &it.name).map(called("the name of an ingredient")))
            .chain(tree.cultures.iter().map(|it| &it.name).map(called("the name of a culture")))
            .chain(tree.stages.iter().map(|it| &it.name).map(called("the name of a stage")))
            .chain(tree.mixtures.iter().map(|it| &it.name).map(called("the name of a mixture")))
            .chain(tree.styles.iter().map(|it| &it.name).map(called("the name of a style")))
            .chain(machines.map(|it| &it.name).map(called("the name of a machine")));
    names.chain(titles).collect()
}

/// What a formula gives names to.
fn names_of_formula(formula: &Formula) -> Vec<(&'static str, Cow<'_, str>, Span)> {
    let title = formula.title.iter().map(|it| ("the title", Cow::Owned(plain(it)), it.span));
    let made = formula.makes.iter().flat_map(|makes| &makes.pieces).map(|made| &made.kind);
    let roles = all_mixes(formula).flat_map(|mix| &mix.lines);
    let roles = roles.filter_map(|line| line.target.role.as_deref());
    let own = std::iter::once(called("the name of a formula", &formula.name));
    own.chain(title)
        .chain(formula.stages.iter().map(|it| called("the name of a stage", &it.name)))
        .chain(formula.mixtures.iter().map(|it| called("the name of a mixture", &it.name)))
        .chain(made.map(|it| called("the name of a piece", it)))
        .chain(roles.map(|it| called("the name of a role", it)))
        .collect()
}

fn called<'n>(what: &'static str, name: &'n Name) -> (&'static str, Cow<'n, str>, Span) {
    (what, Cow::Borrowed(&name.shown), name.span)
}

/// What a formula says beside its sums.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let mut judge = Judge { measures: context.house.settings.measures, findings };
    for phase in context.steps().flat_map(|step| &step.phases) {
        phase.until.iter().for_each(|until| judge.until(until));
        if let Some((gear, span)) = phase.speed {
            let value = int(i64::from(gear));
            judge.value("gear", "a mixer's `speed`", (value, Dimension::Count), span);
            let mixer = context.worked.mixer_of(phase);
            judge.findings.extend(mixer.and_then(|mixer| no_such_speed(mixer, gear, span)));
        }
    }
    for step in context.steps() {
        judge.extent("hands", "`hands-on`", step.hands_on.as_deref());
    }
    let pieces = formula.pieces.iter().filter_map(|piece| piece.make_up_loss.as_ref());
    for loss in formula.make_up_loss.iter().chain(pieces) {
        judge.quantity("lost", "a `make-up loss`", loss);
    }
    let made = formula.makes.iter().flat_map(|makes| &makes.pieces);
    for made in made.filter(|made| made.counted) {
        judge.quantity("pieces", "the number of pieces", &made.count);
    }
    if let Some(made) = &formula.makes {
        let from = made.from.iter().map(|(amount, _)| amount);
        made.dough.iter().chain(from).for_each(|it| judge.mass("whole dough", "what is made", it));
    }
    formula.stages.iter().for_each(|stage| judge.stage(stage));
    formula.total.iter().chain(&formula.dough).for_each(|mix| judge.mix(mix));
    formula.pieces.iter().for_each(|piece| judge.mix(&piece.mix));
    formula.mixtures.iter().for_each(|it| judge.mixture(it));
    formula.expect.iter().for_each(|claim| judge.claim(claim));
    judge.names(&names_of_formula(formula));
}

/// The third speed of a mixer that has two, or one higher than most have of a mixer that does
/// not say how many it has.
fn no_such_speed(mixer: &Mixer, speed: u32, span: Span) -> Option<Finding> {
    let Some(speeds) = mixer.speeds else {
        let usual = limits::most("habit of facts", "usual gear")?;
        let name = &mixer.name.shown;
        return (int(i64::from(speed)) > usual).then(|| {
            let message = format!(
                "`speed {speed}` is more than most mixers have, and `{name}` does not say how many it has"
            );
            Finding::new(&RULE, span, message)
                .help(format!("check the speed, or say how many there are: `speeds {speed}`"))
        });
    };
    if speed <= speeds {
        return None;
    }
    let message =
        format!("`speed {speed}` is beyond the mixer `{}`, which has {speeds}", mixer.name.shown);
    let said = Finding::new(&RULE, span, message).level(Level::Error);
    Some(
        said.help(format!(
            "write `speed {speeds}` or less, or say how many it has: `speeds {speed}`"
        )),
    )
}

/// How much is made, and how much of it is of the dough before.
pub fn check_sums(context: &Context, findings: &mut Vec<Finding>) {
    let (numbers, formula) = (context.first(), &context.worked.formula);
    let Some(mix) = context.main_mix() else { return };
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    let own = stages.chain(&numbers.dough_lines);
    let old = own.filter(|line| line.goes == LineRef::OldDough);
    let old = old.fold(Exact::ZERO, |sum, line| sum + &line.mass);
    let whole = numbers.whole.mass();
    let Some(old) = old.over(&whole) else { return };
    let mut judge = Judge { measures: context.house.settings.measures, findings };
    let is_old = |line: &&Line| line.target.name.key == "old dough";
    let mixes = formula.stages.iter().map(|stage| &stage.mix).chain([mix]);
    if let Some(line) = mixes.flat_map(|mix| &mix.lines).find(is_old) {
        judge.value(
            "old dough",
            "the share of old dough in the dough",
            (old, Dimension::Share),
            line.span,
        );
    }
    let span = formula.makes.as_ref().map_or(mix.span, |makes| makes.span);
    judge.value("whole dough", "the whole dough", (whole, Dimension::Mass), span);
}

/// How a value is told.
type Show<'s> = &'s dyn Fn(&Exact) -> String;

impl Judge<'_> {
    fn base(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.measures)
    }

    /// A quantity against the bound of a name; `what` begins the sentence.
    fn quantity(&mut self, name: &str, what: &str, quantity: &Quantity) {
        let value = (self.base(quantity), quantity.unit.dimension());
        self.value(name, what, value, quantity.span);
    }

    /// The friction of a mixer: a difference of temperatures, which has no zero to start from.
    fn friction(&mut self, what: &str, quantity: &Quantity) {
        let value = Mixer::friction_of(quantity);
        self.value_as("friction", what, &value, quantity.span, &|end| celsius_apart(end, 1));
    }

    fn extent(&mut self, name: &str, what: &str, extent: Option<&Extent>) {
        let Some(extent) = extent else { return };
        for end in extent.low.iter().chain(extent.high.iter().filter(|_| extent.ranged)) {
            self.quantity(name, what, end);
        }
    }

    /// One quantity for each of another: `10 kJ per kg`, `1 cup weighs 120 g`.
    fn ratio(&mut self, name: &str, what: &str, of: (&Quantity, &Quantity, Dimension)) {
        if let Some(share) = self.base(of.0).over(&self.base(of.1)) {
            self.value(name, what, (share, of.2), of.0.span);
        }
    }

    fn value(&mut self, name: &str, what: &str, value: (Exact, Dimension), span: Span) {
        let (value, dimension) = value;
        self.value_as(name, what, &value, span, &|end| show(end, dimension));
    }

    fn value_as(&mut self, name: &str, what: &str, value: &Exact, span: Span, shown: Show) {
        let Some(usual) = limits::bound(HABIT, name) else { return };
        if usual.holds(value) {
            return;
        }
        let message = format!("{what} is {}: {} is usual", shown(value), range(&usual, shown));
        let level = if is_absurd(value, &usual) { Level::Error } else { Level::Warning };
        let mut said = Finding::new(&RULE, span, message).help("check the number and its unit");
        said = said.level(level);
        let store = built_in().style(HABIT);
        if let Some(source) = store.and_then(|it| words_of(&it.texts, WordsKind::Source).next()) {
            said = said.note(format!("the bound is {}", plain(source)));
        }
        self.findings.push(said);
    }

    /// Names and titles too long for any page.
    fn names(&mut self, names: &[(&str, Cow<str>, Span)]) {
        for (what, name, span) in names {
            let long = Exact::from(u32::try_from(name.chars().count()).unwrap_or(u32::MAX));
            let shown = |end: &Exact| format!("{} letters", trimmed(end, 0));
            self.value_as("name", what, &long, *span, &shown);
        }
    }

    fn bakehouse(&mut self, bakehouse: &Bakehouse) {
        for (word, quantity) in &bakehouse.temperatures {
            let bound = if word == "flour" { "flour temperature" } else { word };
            self.quantity(bound, &format!("`{word}`"), quantity);
        }
        let plain = bakehouse.scale.iter().find(|it| it.above.is_none() && it.below.is_none());
        for line in &bakehouse.scale {
            self.quantity("scale", "a step of the `scale`", &line.step);
            let Some(plain) = plain else { continue };
            let (own, usual) = (self.base(&line.step), self.base(&plain.step));
            let is_odd =
                (line.below.is_some() && own > usual) || (line.above.is_some() && own < usual);
            if is_odd {
                let message = "a scale shows light weights finer than heavy ones, not coarser";
                let said = Finding::new(&RULE, line.step.span, message);
                self.findings.push(said.help("swap the steps: `scale 5 g above 1 kg, 1 g`"));
            }
        }
        if let Some(cooling) = &bakehouse.cooling {
            self.quantity("cooled dough", "the weight of the dough that cooled", &cooling.mass);
            self.quantity("warm dough", "the dough before cooling", &cooling.from);
            self.quantity("cool dough", "the dough after cooling", &cooling.to);
            self.quantity("cooling time", "the time of cooling", &cooling.time);
            self.quantity("cold", "the temperature around it", &cooling.at);
        }
        if let Some((one, two)) = overlap(&bakehouse.hours) {
            let message = format!("the hours {one} and {two} overlap on one day");
            let said = Finding::new(&RULE, bakehouse.span, message);
            self.findings.push(said.help("write each stretch once, or join the two"));
        }
    }

    fn machine(&mut self, machine: &Machine) {
        let name = &machine.name.shown;
        let bound = machine.kind.word();
        for (holds, _) in &machine.holds {
            self.extent(bound, &format!("what the {bound} `{name}` holds"), Some(holds));
        }
        if let Some(friction) = &machine.friction {
            self.friction(&format!("the `friction` of `{name}`"), friction);
        }
        if let Some((speeds, span)) = machine.speeds {
            let value = (int(i64::from(speeds)), Dimension::Count);
            self.value("gear", &format!("how many speeds `{name}` has"), value, span);
        }
        for (bound, count) in [("machines", machine.machines), ("decks", machine.decks)] {
            if let Some((count, span)) = count {
                let value = (int(i64::from(count)), Dimension::Count);
                self.value(bound, &format!("how many {bound} `{name}` has"), value, span);
            }
        }
        if let Some(at) = &machine.at {
            let bound = match machine.kind {
                MachineKind::Refrigerator => "cold",
                MachineKind::Proofer => "proofer heat",
                _ => "oven heat",
            };
            self.quantity(bound, &format!("the heat of `{name}`"), at);
        }
        if let Some((time, heat)) = &machine.changes
            && let Some(minutes) = self.base(time).over(&Mixer::friction_of(heat))
        {
            let value = (minutes, Dimension::Time);
            let what = format!("the time in which `{name}` changes by a degree");
            self.value("oven change", &what, value, time.span);
        }
        if let Some((energy, mass)) = &machine.work {
            let kilograms = self.base(mass).one_in::<1000>();
            if let Some(work) = self.base(energy).over(&kilograms) {
                let value = (work, Dimension::Energy);
                let what = format!("the `work` of `{name}` on a kilogram");
                self.value("work", &what, value, energy.span);
            }
        }
        if let Some((volume, mass)) = &machine.volume_per_gram {
            let what = format!("the room that a gram of dough gets in `{name}`");
            self.ratio("tin per gram", &what, (volume, mass, Dimension::Volume));
        }
    }

    fn ingredient(&mut self, ingredient: &Ingredient) {
        let name = &ingredient.name.shown;
        if let Some(each) = &ingredient.each {
            self.quantity("each", &format!("one `{name}`"), each);
        }
        if let Some(kept) = &ingredient.kept {
            self.quantity("kept", &format!("the temperature at which `{name}` is kept"), kept);
        }
        if let Some((volume, mass)) = &ingredient.volume {
            let what = format!("the weight of a millilitre of `{name}`");
            self.ratio("millilitre", &what, (mass, volume, Dimension::Mass));
        }
        let mut properties = ingredient.properties.iter();
        if let Some(factor) = properties.find(|it| it.name.key == "fresh equivalent") {
            let what = format!("the `fresh equivalent` of `{name}`");
            self.quantity("fresh equivalent", &what, &factor.value);
        }
    }

    fn style(&mut self, style: &Style) {
        for bound in &style.bounds {
            let what = format!("`{}` of the style `{}`", bound.what.name.shown, style.name.shown);
            self.figure(&bound.what.name.key, &what, &bound.range);
        }
    }

    fn claim(&mut self, claim: &Claim) {
        let ClaimValue::Amount { range, tolerance, .. } = &claim.value else { return };
        let what = format!("the claimed `{}`", claim.what.name.shown);
        self.figure(&claim.what.name.key, &what, range);
        if let Some(tolerance) = tolerance.as_ref().and_then(group_of) {
            self.quantity(tolerance.0, "the tolerance of a claim", tolerance.1);
        }
    }

    /// What a style or a claim says of a figure.
    fn figure(&mut self, key: &str, what: &str, range: &Extent) {
        let Some((group, end)) = range.low.as_ref().or(range.high.as_ref()).and_then(group_of)
        else {
            return;
        };
        // What is fried gains weight.
        let is_loss = end.unit.dimension() == Dimension::Share && key.ends_with("loss");
        self.extent(if is_loss { "style loss" } else { group }, what, Some(range));
    }

    fn until(&mut self, until: &Until) {
        match until {
            Until::Volume(factor) => self.quantity("risen", "`until volume`", factor),
            Until::Acidity(value, span) => {
                self.value("acidity", "`until pH`", (value.clone(), Dimension::Count), *span);
            }
            Until::Core(_) | Until::Text(_) => {}
        }
    }

    /// Only where it is a weight.
    fn mass(&mut self, name: &str, what: &str, quantity: &Quantity) {
        if quantity.unit.dimension() == Dimension::Mass {
            self.quantity(name, what, quantity);
        }
    }

    fn stage(&mut self, stage: &Stage) {
        self.mix(&stage.mix);
        stage.save.iter().for_each(|save| self.save(save));
        stage.sizes.iter().for_each(|size| self.size(size));
        for least in &stage.at_least {
            self.mass("saved", "the least amount", &least.amount);
        }
    }

    /// Lines so heavy, or of such a share, that no bakery has them.
    fn mix(&mut self, mix: &Mix) {
        mix.save.iter().for_each(|save| self.save(save));
        for line in &mix.lines {
            let Amount::Measured { range, .. } = &line.amount else { continue };
            let Some(end) = range.high.as_ref().or(range.low.as_ref()) else { continue };
            let bound = match end.unit.dimension() {
                Dimension::Share => "line share",
                Dimension::Mass => "whole dough",
                Dimension::Part => "line parts",
                Dimension::Volume => "line volume",
                Dimension::Count => "pieces of it",
                _ => continue,
            };
            // Nearly all lines are far from it: their bounds are not looked up.
            if end.number > int(1000) {
                self.quantity(bound, &format!("the amount of `{}`", line.target.name.shown), end);
            }
        }
    }

    fn save(&mut self, save: &Save) {
        self.mass("saved", "what is saved", &save.amount);
        self.extent("kept", "the temperature of what is saved", save.at.as_ref());
    }

    fn size(&mut self, size: &StageSize) {
        match &size.size {
            Size::OfFlour(share) => {
                self.extent("fermented", "the share of flour in a stage", Some(share));
            }
            Size::Weighs(weight) => self.extent("saved", "the weight of a stage", Some(weight)),
            Size::OfTotal => {}
        }
    }

    /// A side mix of nothing.
    fn mixture(&mut self, mixture: &Mixture) {
        self.mix(&mixture.mix);
        let is_nothing = |amount: &Amount| {
            matches!(amount, Amount::Measured { range, .. }
                if range.high.as_ref().is_some_and(|high| high.number.is_zero()))
        };
        let lines = &mixture.mix.lines;
        if !lines.is_empty() && lines.iter().all(|line| is_nothing(&line.amount)) {
            let message = format!("`{}` is a mixture of nothing", mixture.name.shown);
            let said = Finding::new(&RULE, mixture.name.span, message).level(Level::Error);
            self.findings.push(said.help("write how much of each goes in"));
        }
    }
}

/// The bound of what a figure is written in, beside the quantity.
fn group_of(quantity: &Quantity) -> Option<(&'static str, &Quantity)> {
    let group = match quantity.unit.dimension() {
        Dimension::Share => "style share",
        Dimension::Time => "style time",
        Dimension::Mass => "style weight",
        Dimension::Temperature => "style temperature",
        Dimension::Count => "style number",
        _ => return None,
    };
    Some((group, quantity))
}

/// The first two stretches that overlap on some day.
fn overlap(hours: &[Open]) -> Option<(String, String)> {
    const DAY: u32 = 24 * 60;
    let ends = |open: &Open| if open.to <= open.from { open.to + DAY } else { open.to };
    let shown = |open: &Open| {
        let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
        format!("{}..{}", clock(open.from), clock(open.to))
    };
    hours.iter().enumerate().find_map(|(index, one)| {
        let meets = |other: &&Open| {
            let shared = (0..7).any(|day| one.days.has(day) && other.days.has(day));
            shared && one.from < ends(other) && other.from < ends(one)
        };
        let other = hours[index + 1..].iter().find(meets)?;
        Some((shown(one), shown(other)))
    })
}

/// Whether a value lies so far beyond its bounds that nothing can be worked out with it.
fn is_absurd(value: &Exact, usual: &Range) -> bool {
    let size = |value: &Exact| value.clone().max(-value.clone());
    let widest = usual.low.iter().chain(&usual.high).map(size).max();
    let times = limits::number("habit of slips", "facts");
    widest.zip(times).is_some_and(|(widest, times)| size(value) > widest * times)
}

fn show(value: &Exact, dimension: Dimension) -> String {
    match dimension {
        Dimension::Mass => grams(value),
        Dimension::Volume => millilitres(value),
        Dimension::Time => minutes(value),
        Dimension::Temperature => celsius(value, 1),
        Dimension::Share => format!("{} %", trimmed(&(value * int(100)), 2)),
        Dimension::Factor => format!("{}x", trimmed(value, 2)),
        Dimension::Energy => {
            let kilojoules = Unit::Kilojoule.count_in(value, Measures::default());
            format!("{} kJ", trimmed(&kilojoules, 1))
        }
        _ => trimmed(value, 2),
    }
}

fn range(range: &Range, shown: impl Fn(&Exact) -> String) -> String {
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => format!("{} to {}", shown(low), shown(high)),
        (Some(low), None) => format!("{} or more", shown(low)),
        (None, Some(high)) => format!("up to {}", shown(high)),
        (None, None) => "anything".into(),
    }
}
