//! `no-effect`: something that can be read, and does nothing where it stands.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{House, all_mixes};
use crate::quantity::{System, Unit};
use crate::source::Span;
use crate::syntax::tree::{
    Amount, Bakehouse, Counting, Culture, Ingredient, Line, NotedText, ScaleLine, Stage, Step,
    Tree, WordsKind,
};
use crate::time;

/// `no-effect`, a warning about names.
pub const RULE: Rule = Rule {
    name: "no-effect",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("no_effect.md"),
};

/// What the steps of a formula say in vain.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps().filter(|step| step.waiting && step.hands_on.is_none()) {
        findings.extend(waits_anyway(step));
    }
    let lines = all_mixes(&context.worked.formula).flat_map(|mix| &mix.lines);
    findings.extend(lines.filter_map(puts_nothing_in));
}

/// `fresh yeast 0%`.
fn puts_nothing_in(line: &Line) -> Option<Finding> {
    let Amount::Measured { range, .. } = &line.amount else { return None };
    let ends = [&range.low, &range.high];
    let mut ends = ends.into_iter().flatten().peekable();
    ends.peek()?;
    if !ends.all(|end| end.number.is_zero()) {
        return None;
    }
    let message =
        format!("nothing of `{}` goes in here: its amount is zero", line.target.name.shown);
    Some(Finding::new(&RULE, line.span, message).help("write how much of it, or take the line out"))
}

/// `bulk 3h waiting`.
fn waits_anyway(step: &Step) -> Option<Finding> {
    let verb = step.verb.word();
    if time::is_hands_on(&Step { waiting: false, hands_on: None, ..step.clone() }) {
        return None;
    }
    let said = Finding::new(
        &RULE,
        step.span,
        format!(
            "`waiting` has no effect here: {verb} waits \
            anyway"
        ),
    );
    Some(said.level(Level::Note).help("remove it"))
}

/// What cultures and shared stages of a house say in vain.
pub fn check_house(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    for tree in trees {
        tree.ingredients.iter().for_each(|own| findings.extend(no_yeast(house, own)));
        tree.cultures.iter().for_each(|culture| of_culture(culture, findings));
        tree.stages.iter().for_each(|stage| of_shared_stage(stage, findings));
        tree.bakehouses.iter().for_each(|it| findings.extend(scale_of_other_units(it)));
        let mixtures = tree.mixtures.iter().flat_map(|mixture| &mixture.mix.without);
        findings.extend(mixtures.map(|target| without(target.name.span, "a mixture of its own")));
    }
    remarks(trees, findings);
}

/// A scale in grams, where prints weigh in ounces, or the other way round.
fn scale_of_other_units(bakehouse: &Bakehouse) -> Option<Finding> {
    let first = bakehouse.scale.first()?;
    let system = |line: &ScaleLine| match line.step.unit {
        Unit::Ounce | Unit::Pound => System::Us,
        _ => System::Metric,
    };
    let own = system(first);
    let span = first.step.span;
    if bakehouse.scale.iter().any(|line| system(line) != own) {
        let message = "a scale in grams and ounces at once has no effect";
        let help = "write all of it in the units that prints weigh in";
        return Some(Finding::new(&RULE, span, message).help(help));
    }
    if own == bakehouse.units.first || bakehouse.units.both {
        return None;
    }
    let (message, help) = match own {
        System::Metric => (
            "this scale shows grams, and prints weigh in ounces: it has no effect on them",
            "write it in ounces, `scale 0.125 oz, 0.01 oz below 1 oz`, or print grams: `units metric`",
        ),
        System::Us => (
            "this scale shows ounces, and prints weigh in grams: it has no effect on them",
            "write it in grams, `scale 1 g, 0.1 g below 100 g`, or print ounces: `units US`",
        ),
    };
    Some(Finding::new(&RULE, span, message).help(help))
}

/// `fresh equivalent 3x` of something that is no yeast.
fn no_yeast(house: &House, ingredient: &Ingredient) -> Option<Finding> {
    let mut properties = ingredient.properties.iter();
    let property = properties.find(|property| property.name.key == "fresh equivalent")?;
    let known = house.ingredient_named(&ingredient.name.key)?;
    if known.class == Class::Yeast {
        return None;
    }
    let message =
        format!("`fresh equivalent` has no effect on `{}`, which is not a yeast", known.name.shown);
    let help = "remove it, or declare the ingredient as what it is: `is a yeast`";
    Some(Finding::new(&RULE, property.name.span, message).help(help))
}

/// A culture is known by its make-up alone.
fn of_culture(culture: &Culture, findings: &mut Vec<Finding>) {
    let name = &culture.name.shown;
    for line in &culture.mix.lines {
        if let Some((span, word)) = vain_in_a_culture(line) {
            let message = format!("{word} has no effect in the culture `{name}`");
            findings.push(Finding::new(&RULE, span, message).help(
                "a culture says what it is made of; write the rest where it is used, or in a \
                comment after `#`",
            ));
        }
    }
}

/// What a line says beside its name and amount.
fn vain_in_a_culture(line: &Line) -> Option<(Span, &'static str)> {
    let behind = Span { start: line.amount_span.end, ..line.span };
    match (&line.counting, &line.note, &line.target.role) {
        (Counting::KeptBack { .. }, ..) => Some((behind, "`kept back`")),
        (Counting::NotSplit, ..) => Some((behind, "`not split`")),
        (_, Some(note), _) => Some((note.span, "this note")),
        (.., Some(role)) => Some((role.span, "this role")),
        _ => None,
    }
}

/// What is allowed, and what is left out of another, is said by a formula.
fn of_shared_stage(stage: &Stage, findings: &mut Vec<Finding>) {
    let removed = stage.mix.without.iter();
    findings.extend(removed.map(|target| without(target.name.span, "a stage that formulas share")));
    for allow in &stage.allow {
        let message = "`allow` has no effect in a stage that formulas share";
        findings.push(Finding::new(&RULE, allow.span, message).help(format!(
            "write it in the formula that uses it: `{} {} {{ allow {} … }}`",
            stage.kind.word(),
            stage.name.shown,
            allow.finding.shown
        )));
    }
}

fn without(span: Span, place: &str) -> Finding {
    Finding::new(&RULE, span, format!("`without` removes nothing from {place}"))
        .help("leave the line itself out; `without` is for what comes from another formula")
}

/// Remarks that are kept and printed nowhere so far. One finding for a house is enough.
fn remarks(trees: &[&Tree], findings: &mut Vec<Finding>) {
    let kept = |kinds: &'static [WordsKind]| move |words: &&NotedText| kinds.contains(&words.kind);
    let ingredients = trees.iter().flat_map(|tree| &tree.ingredients).flat_map(|own| &own.texts);
    let cultures = trees.iter().flat_map(|tree| &tree.cultures).flat_map(|own| &own.texts);
    let styles = trees.iter().flat_map(|tree| &tree.styles).flat_map(|own| &own.texts);
    // The sources of ingredients and styles are told with what is said of their figures.
    let ingredients = ingredients.filter(kept(&[WordsKind::Note, WordsKind::Storage]));
    let of_cultures = &[WordsKind::Note, WordsKind::Storage, WordsKind::Source];
    let cultures = cultures.filter(kept(of_cultures));
    let styles = styles.filter(kept(&[WordsKind::Note]));
    let first = ingredients.chain(cultures).chain(styles).next();
    findings.extend(first.map(|words| crate::syntax::remarks_not_printed(words.text.span)));
}
