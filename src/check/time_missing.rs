//! `time-missing`: a wait of which nobody wrote how long it is.

use super::context::{Context, PlainText, SaidAt};
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::named_wait;
use crate::syntax::tree::{Method, Stage, Step, Verb};
use crate::time::is_waiting;

/// `time-missing`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "time-missing",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("time_missing.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    // Who writes down no method keeps their times elsewhere.
    let Some(method) = &formula.method else { return };
    for stage in &formula.stages {
        legs(stage, findings);
        match &stage.method {
            Some(method) => steps(method, findings),
            None if says_nothing(stage) => findings.push(untimed(stage)),
            None => {}
        }
    }
    steps(method, findings);
}

fn steps(method: &Method, findings: &mut Vec<Finding>) {
    if method.broken {
        return;
    }
    for step in method.steps.iter().filter(|step| is_waiting(step) && step.verb != Verb::Preheat) {
        for (number, phase) in step.phases.iter().enumerate() {
            if phase.duration.is_none() {
                findings.push(step_without(step, number));
            }
        }
    }
    findings.extend(method.steps.iter().filter_map(folds_without));
    findings.extend(method.steps.iter().filter_map(wait_in_words));
}

/// A time that only the words of a step name: `step "fridge overnight"`.
fn wait_in_words(step: &Step) -> Option<Finding> {
    let text = step.text.as_ref().filter(|_| step.verb == Verb::Step)?;
    let is_timed = step.hands_on.is_some() || step.phases.iter().any(|it| it.duration.is_some());
    let said = PlainText::new((text, SaidAt::Step(step))).words;
    let time = named_wait(&said).filter(|_| !is_timed && !step.waiting)?;
    let message = "these words name a time that no plan counts";
    Some(
        Finding::new(&RULE, text.span, message)
            .note("a plan counts the time after the words, not the one in them")
            .help(format!(
                "what the dough waits for has its verb: `bulk {time}` before shaping, `proof \
                 {time}` after it, `rest {time}` between; for work, write the time after the \
                 words: `step \"…\" {}`",
                time.trim_end_matches(" in fridge")
            )),
    )
}

/// Folds with time between them, as a step of their own that has none: a plan would have one.
fn folds_without(step: &Step) -> Option<Finding> {
    let phase = step.phases.first()?;
    let fold = phase.fold.as_ref()?;
    let is_untimed = step.verb == Verb::Fold && phase.duration.is_none();
    let message = "this `fold` has time between its folds, and takes none itself";
    (is_untimed && fold.every.is_some()).then(|| {
        Finding::new(&RULE, step.verb_span, message).note("a plan counts it as one fold").help(
            "write the folds into the wait that they are in: `bulk 3h fold 4 times every 30min`",
        )
    })
}

fn step_without(step: &Step, number: usize) -> Finding {
    let (word, phase) = (step.verb.word(), &step.phases[number]);
    let (span, message) = match number {
        0 => (step.verb_span, format!("`{word}` does not say how long it takes")),
        _ => (phase.span, format!("this part of `{word}` does not say how long it takes")),
    };
    let said = Finding::new(&RULE, span, message);
    let said = match phase.until.is_empty() {
        true => said,
        false => said.note("`until` tells when it is done, but a plan also needs about how long"),
    };
    said.note("a plan counts it as no time at all")
        .help(format!("write about how long, as in `{}`", usual_there(step, number)))
}

/// The same at the place that the step names.
fn usual_there(step: &Step, number: usize) -> String {
    let usual = usual(step.verb);
    let phase = &step.phases[number];
    let cold = phase.place.as_ref().filter(|place| place.key == "fridge");
    if let Some(place) = cold.filter(|_| matches!(step.verb, Verb::Proof | Verb::Bulk)) {
        return format!("{} 8h..12h in {}", step.verb.word(), place.shown);
    }
    match (&phase.place, phase.at.is_some() || phase.in_room, usual.split_once(" at ")) {
        (Some(place), _, Some((time, _))) => format!("{time} in {}", place.shown),
        (None, true, Some((time, _))) => time.to_owned(),
        _ => usual,
    }
}

/// What such a step looks like with its time.
fn usual(verb: Verb) -> String {
    let time = match verb {
        Verb::Autolyse => "30min",
        Verb::Rest => "20min",
        Verb::Bulk => "3h..4h at 24C",
        Verb::Proof => "1h..1h30 at 26C",
        Verb::Retard => "8h..16h at 4C",
        Verb::Chill | Verb::Freeze => "2h..3h at 4C",
        Verb::Bake => "40min at 230C",
        Verb::Steam => "20min",
        Verb::Mature => "2d..7d",
        Verb::Soak => "4h..12h",
        Verb::Step => return "step \"…\" 30min waiting".into(),
        _ => "1h..2h",
    };
    format!("{} {time}", verb.word())
}

/// `ripens at 22C`.
fn legs(stage: &Stage, findings: &mut Vec<Finding>) {
    let waits = [("ripens", &stage.ripens), ("stands", &stage.stands)];
    for (word, waits) in waits {
        for wait in waits.iter().filter(|wait| wait.time.is_none()) {
            let name = &stage.name.shown;
            let message = format!("`{name}` {word}, but nothing says how long");
            findings.push(
                Finding::new(&RULE, wait.span, message)
                    .note("a plan counts it as no time at all")
                    .help(format!(
                        "write it before the temperature, as in `{word} 8h..10h at 22C`"
                    )),
            );
        }
    }
}

/// Whether a stage that is built in one step does not say how long it waits.
fn says_nothing(stage: &Stage) -> bool {
    stage.ripens.is_empty() && stage.stands.is_empty() && stage.keeps.is_empty()
}

/// Only a note: some mixes go in as soon as they are mixed.
fn untimed(stage: &Stage) -> Finding {
    let word = if stage.kind.ferments() { "ripens 8h..10h at 22C" } else { "stands 3h..16h" };
    let name = &stage.name.shown;
    Finding::new(
        &RULE,
        stage.name.span,
        format!("`{name}` does not say how long it takes, so it goes in as soon as it is mixed"),
    )
    .level(Level::Note)
    .help(format!("write it in the stage, as in `{word}`"))
}
