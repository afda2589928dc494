//! The words of a print: steps, waits, cautions and texts with live figures.

use super::document::{PhasePart, StepPart};
use super::paper::Paper;
use crate::formula::{Kind, words_of};
use crate::quantity::display::{decimal, minutes_range, percent, trimmed};
use crate::quantity::{Dimension, Exact, Unit, int};
use crate::syntax::tree::{
    Extent, FigureAsk, Fold, FoldStyle, Method, Phase, Quantity, Stage, StageKind, Step, Target,
    Text, TextPart, Until, Verb, Wait, With, Words, WordsKind,
};

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A text with its live figures worked out.
pub fn text(paper: &Paper, text: &Text) -> String {
    let mut written = String::new();
    for part in &text.parts {
        match part {
            TextPart::Plain(words) => written.push_str(words),
            TextPart::Figure { words, ask, .. } => {
                let figure = ask.as_ref().and_then(|ask| figure(paper, ask));
                written.push_str(&figure.unwrap_or_else(|| format!("[{words}]")));
            }
        }
    }
    written
}

/// The texts of a kind, worked out.
pub fn texts(paper: &Paper, all: &[Words], kind: WordsKind) -> Vec<String> {
    words_of(all, kind).map(|words| text(paper, words)).collect()
}

fn figure(paper: &Paper, ask: &FigureAsk) -> Option<String> {
    match ask {
        FigureAsk::Figure { what, place } => {
            let value = paper.worked.ask(paper.house, what, place.as_ref())?;
            Some(match value.kind {
                Kind::Mass => {
                    let weight = paper.plain_weight(&value.amount);
                    format!("{} {}", weight.shown, weight.unit)
                }
                Kind::Share => format!("{} %", percent(&value.amount, 1)),
                Kind::Number => trimmed(&value.amount, 1),
            })
        }
        FigureAsk::Scaled { amount, what } => {
            let dimension = amount.unit.dimension();
            // A share stays what it is, whatever the batch.
            let by = match dimension {
                Dimension::Mass | Dimension::Volume | Dimension::Count => {
                    paper.worked.scale_at(paper.house, amount.span)
                }
                _ => Exact::ONE,
            };
            let shown = match dimension {
                Dimension::Mass => {
                    let weight = paper.plain_weight(&(base(paper, amount) * by));
                    format!("{} {}", weight.shown, weight.unit)
                }
                _ => {
                    let number = &amount.number * by;
                    let shown = trimmed(&number, amount.decimals.unwrap_or(2));
                    match amount.unit {
                        Unit::Count => shown,
                        Unit::Cup if number > Exact::ONE => format!("{shown} cups"),
                        unit => format!("{shown} {}", unit.spelling()),
                    }
                }
            };
            Some(match what {
                Some(what) if dimension == Dimension::Count => {
                    format!("{shown} {}", target(what))
                }
                Some(what) => format!("{shown} of {}", target(what)),
                None => shown,
            })
        }
    }
}

fn base(paper: &Paper, quantity: &Quantity) -> Exact {
    quantity.unit.to_base(&quantity.number, paper.house.settings.measures)
}

fn target(target: &Target) -> String {
    match &target.role {
        Some(role) => format!("{} ({})", target.name.shown, role.shown),
        None => target.name.shown.to_string(),
    }
}

/// The steps of the stages in building order, then those of the dough.
pub fn method(paper: &Paper) -> Vec<StepPart> {
    let formula = &paper.worked.formula;
    let mut steps = Vec::new();
    for &index in &paper.worked.order {
        let stage = &formula.stages[index];
        match &stage.method {
            Some(method) => steps.extend(own_steps(paper, method, Some(stage))),
            None => steps.push(built_in_one(paper, stage)),
        }
        if stage.method.is_some()
            && let Some(step) = waiting_step(paper, stage)
        {
            steps.push(step);
        }
    }
    if let Some(method) = &formula.method {
        steps.extend(own_steps(paper, method, None));
    }
    steps
}

/// How many steps a stage has in the printed method.
pub fn stage_steps(stage: &Stage) -> usize {
    match &stage.method {
        None => 1,
        Some(method) => method.steps.len() + usize::from(!waits(stage).is_empty()),
    }
}

fn waits(stage: &Stage) -> &[Wait] {
    if stage.ripens.is_empty() { &stage.stands } else { &stage.ripens }
}

/// A stage without a method is built in one step and waits.
fn built_in_one(paper: &Paper, stage: &Stage) -> StepPart {
    let names: Vec<String> = stage.mix.lines.iter().map(|line| target(&line.target)).collect();
    let verb = match stage.kind {
        StageKind::Preferment | StageKind::Build => "Mix",
        StageKind::Soaker => "Stir together",
        StageKind::Scald => "Pour the boiling liquid over the rest and stir:",
    };
    let mut sentence = format!("{verb} {}. Cover.", joined(&names));
    if let Some(keeps) = keeps(paper, stage) {
        sentence.push_str(&keeps);
    }
    let waits = waits(stage);
    let first = waits.first();
    let mut phases = vec![PhasePart {
        time: first.and_then(|wait| wait.time.as_ref()).map(|time| times(paper, time)),
        at: first.and_then(|wait| wait.at.as_ref()).map(|at| temperatures(paper, at)),
        to: None,
        text: sentence,
    }];
    phases.extend(waits.iter().skip(1).map(|wait| wait_phase(paper, wait)));
    StepPart {
        title: capital(&stage.name.shown),
        stage: Some(capital(&stage.name.shown)),
        phases,
        notes: texts(paper, &stage.texts, WordsKind::Note),
        cautions: texts(paper, &stage.texts, WordsKind::Caution),
        hands_on: true,
    }
}

fn wait_phase(paper: &Paper, wait: &Wait) -> PhasePart {
    PhasePart {
        time: wait.time.as_ref().map(|time| times(paper, time)),
        at: wait.at.as_ref().map(|at| temperatures(paper, at)),
        to: None,
        text: "Then leave it.".into(),
    }
}

fn waiting_step(paper: &Paper, stage: &Stage) -> Option<StepPart> {
    let waits = waits(stage);
    if waits.is_empty() {
        return None;
    }
    let title = match stage.kind {
        StageKind::Preferment | StageKind::Build => "Ripen",
        StageKind::Soaker | StageKind::Scald => "Stand",
    };
    let phases = waits.iter().enumerate().map(|(index, wait)| {
        let mut phase = wait_phase(paper, wait);
        if index == 0 {
            phase.text = keeps(paper, stage).unwrap_or_default().trim().to_owned();
        }
        phase
    });
    Some(StepPart {
        title: title.to_owned(),
        stage: Some(capital(&stage.name.shown)),
        phases: phases.collect(),
        notes: Vec::new(),
        cautions: Vec::new(),
        hands_on: false,
    })
}

fn keeps(paper: &Paper, stage: &Stage) -> Option<String> {
    let wait = stage.keeps.first()?;
    let time = times(paper, wait.time.as_ref()?);
    Some(match &wait.at {
        Some(at) => format!(" Use it within {time} at {}.", temperatures(paper, at)),
        None => format!(" Use it within {time}."),
    })
}

/// `8–10 h at 22 °C, keeps 2 h`.
pub fn wait(paper: &Paper, stage: &Stage) -> Option<String> {
    let leg = |wait: &Wait| {
        let time = wait.time.as_ref().map(|time| times(paper, time)).unwrap_or_default();
        match &wait.at {
            Some(at) => format!("{time} at {}", temperatures(paper, at)).trim().to_owned(),
            None => time,
        }
    };
    let legs: Vec<String> = waits(stage).iter().map(leg).collect();
    let kept: Vec<String> = stage.keeps.iter().map(|wait| format!("keeps {}", leg(wait))).collect();
    let all = match (legs.is_empty(), kept.is_empty()) {
        (true, true) => return None,
        (false, true) => legs.join(", then "),
        (true, false) => kept.join(", "),
        (false, false) => format!("{}; {}", legs.join(", then "), kept.join(", ")),
    };
    Some(all)
}

fn own_steps(paper: &Paper, method: &Method, stage: Option<&Stage>) -> Vec<StepPart> {
    let name = stage.map(|stage| capital(&stage.name.shown));
    let steps = method.steps.iter().enumerate().map(|(index, step)| {
        // What a stage says of itself stands where its work begins.
        let first = stage.filter(|_| index == 0);
        let of_stage =
            |kind| first.map(|stage| texts(paper, &stage.texts, kind)).into_iter().flatten();
        let own = |words: &[Text]| -> Vec<String> {
            words.iter().map(|words| text(paper, words)).collect()
        };
        StepPart {
            title: step_title(step),
            stage: name.clone(),
            phases: phases(paper, step),
            notes: of_stage(WordsKind::Note).chain(own(&step.notes)).collect(),
            cautions: of_stage(WordsKind::Caution).chain(own(&step.cautions)).collect(),
            hands_on: is_hands_on(step),
        }
    });
    steps.collect()
}

/// The heading of a step, with the kind of piece it is for; `step "…"` has its words as
/// text instead.
pub fn step_title(step: &Step) -> String {
    let verb = match step.verb {
        Verb::Step => "Step".to_owned(),
        verb => capital(verb.word()),
    };
    match step.phases.first().and_then(|phase| phase.kind.as_ref()) {
        Some(kind) => format!("{verb} the {}", kind.shown),
        None => verb,
    }
}

/// Whether somebody has to be there by default, unless the step says otherwise.
fn is_hands_on(step: &Step) -> bool {
    if step.waiting {
        return false;
    }
    if step.hands_on.is_some() {
        return true;
    }
    !matches!(
        step.verb,
        Verb::Autolyse
            | Verb::Rest
            | Verb::Bulk
            | Verb::Proof
            | Verb::Retard
            | Verb::Chill
            | Verb::Freeze
            | Verb::Bake
            | Verb::Steam
            | Verb::Cool
            | Verb::Mature
            | Verb::Soak
    )
}

fn phases(paper: &Paper, step: &Step) -> Vec<PhasePart> {
    let mut parts: Vec<PhasePart> = step
        .phases
        .iter()
        .map(|phase| PhasePart {
            time: phase.duration.as_ref().map(|time| times(paper, time)),
            at: phase.at.as_ref().map(|at| temperatures(paper, at)),
            to: phase.to.as_ref().map(|to| temperatures(paper, to)),
            text: sentences(paper, phase).join(" "),
        })
        .collect();
    if let (Some(words), Some(first)) = (&step.text, parts.first_mut()) {
        let own = text(paper, words);
        first.text = format!("{own} {}", first.text).trim().to_owned();
    }
    parts
}

fn sentences(paper: &Paper, phase: &Phase) -> Vec<String> {
    let mut all = Vec::new();
    if !phase.with.is_empty() {
        let names: Vec<String> = phase.with.iter().map(|with| with_words(paper, with)).collect();
        all.push(format!("With {}.", joined(&names)));
    }
    if let Some(place) = &phase.place {
        all.push(format!("In the {}.", place.shown));
    }
    let mut how = Vec::new();
    if phase.by_hand {
        how.push("by hand".to_owned());
    }
    if let Some(speed) = phase.speed {
        how.push(format!("speed {speed}"));
    }
    for (said, words) in [
        (phase.covered, "covered"),
        (phase.uncovered, "uncovered"),
        (phase.steamed, "with steam"),
        (phase.vented, "steam let out"),
        (phase.fan, "with the fan"),
    ] {
        if said {
            how.push(words.to_owned());
        }
    }
    if !how.is_empty() {
        all.push(format!("{}.", capital(&how.join(", "))));
    }
    if let Some(fold) = &phase.fold {
        all.push(fold_words(paper, fold));
    }
    for until in &phase.until {
        all.push(match until {
            Until::Volume(volume) => {
                format!("Until it has {} times its volume.", trimmed(&volume.number, 2))
            }
            Until::Core(core) => {
                format!("Until the core has {}.", degrees(paper, &base(paper, core)))
            }
            Until::Acidity(number, _) => format!("Until pH {}.", decimal(number, 2)),
            Until::Text(words) => format!("Until {}.", text(paper, words).trim_end_matches('.')),
        });
    }
    all
}

fn fold_words(paper: &Paper, fold: &Fold) -> String {
    let every = fold.every.as_ref().map(|every| format!(", every {}", times(paper, every)));
    let every = every.unwrap_or_default();
    match (fold.style, fold.times) {
        (Some(style), times) => {
            let style = if style == FoldStyle::Single { "single" } else { "double" };
            match times {
                Some(times) if times > 1 => format!("{times} {style} folds{every}."),
                _ => format!("One {style} fold."),
            }
        }
        (None, Some(1) | None) => "Fold once.".into(),
        (None, Some(2)) => format!("Fold twice{every}."),
        (None, Some(times)) => format!("Fold {times} times{every}."),
    }
}

fn with_words(paper: &Paper, with: &With) -> String {
    match with {
        With::Name(name) => target(name),
        With::Flours(_) => "the flours".into(),
        With::Share(share, name) => {
            format!("{} % of the {}", percent(&base(paper, share), 1), target(name))
        }
        With::Weight(weight, name) => {
            let by = paper.worked.scale_at(paper.house, weight.span);
            let weight = paper.plain_weight(&(base(paper, weight) * by));
            format!("{} {} of {}", weight.shown, weight.unit, target(name))
        }
        With::Remaining(name) => format!("the rest of the {}", target(name)),
        With::EverythingElse(_) => "everything else".into(),
    }
}

fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// A range of times: `3–4 h`, `at least 3 h`, `up to 4 h`.
fn times(paper: &Paper, extent: &Extent) -> String {
    let value = |quantity: &Quantity| base(paper, quantity);
    match (&extent.low, &extent.high) {
        (Some(low), Some(high)) => minutes_range(&value(low), &value(high)),
        (Some(one), None) if !extent.ranged => minutes_range(&value(one), &value(one)),
        (Some(low), None) => format!("at least {}", minutes_range(&value(low), &value(low))),
        (None, Some(high)) => format!("up to {}", minutes_range(&value(high), &value(high))),
        (None, None) => String::new(),
    }
}

fn temperatures(paper: &Paper, extent: &Extent) -> String {
    let value = |quantity: &Quantity| base(paper, quantity);
    match (&extent.low, &extent.high) {
        (Some(low), Some(high)) => {
            let (low, high) = (value(low), value(high));
            match low == high {
                true => degrees(paper, &low),
                false => {
                    let unit = degrees(paper, &high);
                    let low = degrees(paper, &low);
                    let low = low.split(' ').next().unwrap_or_default().to_owned();
                    format!("{low}–{unit}")
                }
            }
        }
        (Some(one), None) | (None, Some(one)) => degrees(paper, &value(one)),
        (None, None) => String::new(),
    }
}

fn degrees(paper: &Paper, celsius: &Exact) -> String {
    if paper.house.settings.us_units {
        let fahrenheit = celsius * int(9) / int(5) + int(32);
        return format!("{} °F", trimmed(&fahrenheit, 0));
    }
    format!("{} °C", trimmed(celsius, 1))
}

/// The author's cautions, then the usual ones for what the method does, where the
/// author has not spoken of it.
pub fn cautions(paper: &Paper) -> Vec<String> {
    let formula = &paper.worked.formula;
    let own = texts(paper, &formula.texts, WordsKind::Caution);
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps: Vec<&Step> =
        stages.chain(&formula.method).flat_map(|method| &method.steps).collect();
    let step_cautions = steps.iter().flat_map(|step| &step.cautions);
    let stage_cautions =
        formula.stages.iter().flat_map(|stage| words_of(&stage.texts, WordsKind::Caution));
    let said: Vec<String> = own
        .iter()
        .cloned()
        .chain(step_cautions.chain(stage_cautions).map(|caution| text(paper, caution)))
        .map(|caution| caution.to_lowercase())
        .collect();
    let spoken_of = |words: &[&str]| {
        words.iter().any(|word| said.iter().any(|caution| speaks_of(caution, word)))
    };
    let scalds = formula.stages.iter().any(|stage| stage.kind == StageKind::Scald);
    let does = |verbs: &[Verb]| steps.iter().any(|step| verbs.contains(&step.verb));
    let in_mixer = steps.iter().flat_map(|step| &step.phases).any(|phase| {
        phase.place.as_ref().is_some_and(|place| {
            paper.house.mixers().iter().any(|mixer| mixer.name.key == place.key)
        }) || phase.speed.is_some()
    });
    let usual: [(bool, &[&str], &str); 6] = [
        (
            does(&[Verb::Bake, Verb::Steam]),
            &["oven", "steam", "°c", "°f", "glove"],
            "Oven, pots and steam burn: dry gloves, and face away when a door or lid is opened.",
        ),
        (
            scalds || does(&[Verb::Boil, Verb::Scald]),
            &["boil", "bath", "scald", "hot water"],
            "Boiling liquid scalds: pour away from you and carry nothing over others.",
        ),
        (
            does(&[Verb::Fry]),
            &["fat", "oil", "fry"],
            "Hot fat catches fire: a lid within reach, never water.",
        ),
        (
            does(&[Verb::Score]),
            &["blade", "knife"],
            "A blade cuts fingers as well as bread: keep it covered.",
        ),
        (
            in_mixer,
            &["mixer", "guard", "hook"],
            "Keep hands and sleeves out of a running mixer, and its guard down.",
        ),
        (
            formula.method.is_some() && !paper.worked.first().whole.mass().is_zero(),
            &["raw"],
            "Raw flour, raw egg and raw dough are not for tasting.",
        ),
    ];
    let usual = usual
        .into_iter()
        .filter(|(applies, words, _)| *applies && !spoken_of(words))
        .map(|(_, _, caution)| caution.to_owned());
    own.iter().cloned().chain(usual).collect()
}

/// Whether a text has a word, with or without an ending: `boil` in "boiling water", but
/// `oil` not in "boiling", nor `fat` in "fatal". Both are in small letters.
fn speaks_of(text: &str, word: &str) -> bool {
    const ENDINGS: &[&str] = &["", "s", "es", "ed", "er", "ers", "ing"];
    text.match_indices(word).any(|(at, _)| {
        let begins = text[..at].chars().next_back().is_none_or(|before| !before.is_alphabetic());
        let behind = &text[at + word.len()..];
        let end = behind.find(|letter: char| !letter.is_alphabetic()).unwrap_or(behind.len());
        begins && ENDINGS.contains(&&behind[..end])
    })
}

#[cfg(test)]
mod tests {
    use super::speaks_of;

    #[test]
    fn a_word_is_found_with_its_endings_and_not_inside_another() {
        assert!(speaks_of("boiling water scalds", "boil"));
        assert!(speaks_of("dry gloves, always", "glove"));
        assert!(speaks_of("the tin comes out at 190 °c", "°c"));
        assert!(speaks_of("hot water runs over", "hot water"));
        assert!(!speaks_of("boiling water and hot foil", "oil"));
        assert!(!speaks_of("draw the peel out", "raw"));
        assert!(!speaks_of("a fatal dose of steam", "fat"));
    }
}
