//! The words of a print: steps, waits, cautions and texts with live figures.

use super::document::{HomePart, PhasePart, StepPart};
use super::paper::Paper;
use crate::formula::{Figure, Kind, Within, all_mixes, words_of};
pub use crate::quantity::display::minutes;
use crate::quantity::display::{minutes_range, to_step};
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::syntax::tree::{
    Extent, FigureAsk, Fold, FoldStyle, Method, Name, Phase, Quantity, Stage, StageKind, Step,
    Target, Text, TextPart, Until, Verb, Wait, With, Words, WordsKind,
};
use crate::time::{self, Length, is_hands_on};
use std::collections::BTreeMap;

/// A length of time as a reader wants it: `24–36 h`, `at least 3 h`.
pub fn length_words(paper: &Paper, length: &Length) -> String {
    match &length.high {
        Some(high) => span_of_time(&length.low, high),
        None => paper.words.fill("at-least", &[("amount", &minutes(&length.low))]),
    }
}

/// A range of times as a reader wants them: `24–36 h`. Beyond an hour single minutes say
/// nothing, beyond ten hours minutes do; what is rounded is marked so.
pub fn span_of_time(low: &Exact, high: &Exact) -> String {
    let step = match () {
        () if *high > int(600) => int(60),
        () if *high > int(60) => int(5),
        () => return minutes_range(low, high),
    };
    let rounded = |end: &Exact| to_step(end, &step);
    let (first, last) = (rounded(low), rounded(high));
    let told = minutes_range(&first, &last);
    if first == *low && last == *high { told } else { format!("≈ {told}") }
}

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

/// The texts of a kind that the formula says, then those of its stages and side mixes,
/// each with its name before it.
pub fn texts_of_all(paper: &Paper, kind: WordsKind) -> Vec<String> {
    let formula = &paper.worked.formula;
    let mut all = texts(paper, &formula.texts, kind);
    let mut add = |name: &str, own: &[Words]| {
        let named = texts(paper, own, kind).into_iter();
        all.extend(named.map(|text| format!("{}: {text}", capital(name))));
    };
    // What a stage notes and warns of stands where its work begins.
    if !matches!(kind, WordsKind::Note | WordsKind::Caution) {
        formula.stages.iter().for_each(|stage| add(&stage.name.shown, &stage.texts));
    }
    for index in 0..paper.worked.blends.len() {
        if let Some(mixture) = paper.worked.mixture(paper.house, index) {
            add(&mixture.name.shown, &mixture.texts);
        }
    }
    all
}

fn figure(paper: &Paper, ask: &FigureAsk) -> Option<String> {
    match ask {
        FigureAsk::Figure { what, place: None }
            if matches!(Figure::read(&what.name.key), Some(Figure::Elapsed | Figure::HandsOn)) =>
        {
            let graph = time::graph(paper.house, paper.worked)?;
            let length = match Figure::read(&what.name.key) {
                Some(Figure::HandsOn) => time::hands_on(&graph),
                _ => time::elapsed(&graph),
            };
            Some(length_words(paper, &length))
        }
        FigureAsk::Figure { what, place } => {
            let values = paper.worked.ask(paper.house, what, place.as_ref())?;
            let kind = values.first()?.kind;
            let share = match kind {
                Kind::Mass | Kind::Number => share_of_batch(paper, what, place.as_ref()),
                _ => Exact::ONE,
            };
            let amounts: Vec<Exact> = values.iter().map(|value| &value.amount * &share).collect();
            Some(value_words(paper, kind, amounts.iter().min()?, amounts.iter().max()?))
        }
        FigureAsk::Scaled { amount, what } => {
            let dimension = amount.unit.dimension();
            // A share stays what it is, whatever the batch.
            let by = match dimension {
                Dimension::Mass | Dimension::Volume | Dimension::Count => {
                    let share = match what {
                        Some(what) => share_of_batch(paper, what, None),
                        None => ratio(1, i64::from(paper.shared_by.get())),
                    };
                    paper.worked.scale_at(paper.house, amount.span) * share
                }
                _ => Exact::ONE,
            };
            let shown = match dimension {
                Dimension::Mass => paper.in_words(&(base(paper, amount) * by)),
                Dimension::Volume | Dimension::Part => {
                    let number = &amount.number * by;
                    paper.measure(amount.unit, &number, &number)
                }
                _ => {
                    let digits = amount.decimals.unwrap_or(2).max(1);
                    let shown = paper.trimmed(&(&amount.number * by), digits);
                    match amount.unit {
                        Unit::Count => shown,
                        unit => format!("{shown} {}", unit.spelling()),
                    }
                }
            };
            Some(match what {
                Some(what) if dimension == Dimension::Count => {
                    format!("{shown} {}", target(paper, what))
                }
                Some(what) => {
                    let name = target(paper, what);
                    paper.words.fill("weight-in-text", &[("weight", &shown), ("name", &name)])
                }
                None => shown,
            })
        }
    }
}

/// A value at both ends of its range, `70–74 %`, or the one that it has.
fn value_words(paper: &Paper, kind: Kind, low: &Exact, high: &Exact) -> String {
    let ends = |shown: &dyn Fn(&Exact) -> String| match low == high {
        true => shown(low),
        false => format!("{}–{}", shown(low), shown(high)),
    };
    match kind {
        Kind::Mass => paper.weights_in_words(low, high),
        Kind::Share => format!("{} %", ends(&|share| paper.percent(share, 1))),
        Kind::Number => ends(&|number| paper.trimmed(number, 1)),
        Kind::Time => minutes_range(low, high),
        Kind::Temperature if low == high => paper.degrees_worked_out(low),
        Kind::Temperature => paper.degrees_range(low, high),
        Kind::Energy => format!("{} kJ", ends(&|energy| paper.trimmed(energy, 1))),
    }
}

/// What one batch has of a figure that the words of the dough's steps ask for: its part of
/// all that is in the dough, and of the pieces. A stage, a side mix and what is strewn on
/// pieces are there once for all batches, and a piece is a piece.
fn share_of_batch(paper: &Paper, what: &Target, place: Option<&Name>) -> Exact {
    let worked = paper.worked;
    let within = |name: &Name| worked.within(&name.key);
    let figure = Figure::read(&what.name.key).filter(|_| what.role.is_none());
    let is_shared = match (place.map(within), figure) {
        (Some(None | Some(Within::Stage(_) | Within::Blend(_) | Within::Pieces)), _) => false,
        (_, Some(Figure::Pieces)) => true,
        (_, Some(Figure::Piece | Figure::PieceBaked | Figure::DoughYield)) => false,
        (_, Some(_)) => true,
        (_, None) if matches!(within(&what.name), Some(Within::Blend(_))) => false,
        (_, None) => worked.ask(paper.house, what, None).is_some(),
    };
    match is_shared {
        true => ratio(1, i64::from(paper.shared_by.get())),
        false => Exact::ONE,
    }
}

fn base(paper: &Paper, quantity: &Quantity) -> Exact {
    quantity.unit.to_base(&quantity.number, paper.house.settings.measures)
}

fn target(paper: &Paper, target: &Target) -> String {
    let name = paper.called(&target.name.key, &target.name.shown);
    match &target.role {
        Some(role) => format!("{name} ({})", role.shown),
        None => name,
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

/// The same steps for a sheet that weighs per batch: stages are made once for all batches,
/// so only the dough's own steps speak of one. Empty where there is one batch.
pub fn batch_method(paper: &Paper) -> Vec<StepPart> {
    if paper.batches < 2 || paper.worked.formula.method.is_none() {
        return Vec::new();
    }
    let mut steps = method(paper);
    let of_stages = steps.iter().take_while(|step| step.stage.is_some()).count();
    steps.truncate(of_stages);
    paper.shared_by.set(paper.batches);
    let own = paper.worked.formula.method.iter();
    steps.extend(own.flat_map(|method| own_steps(paper, method, None)));
    paper.shared_by.set(1);
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
pub fn built_in_one(paper: &Paper, stage: &Stage) -> StepPart {
    let names = stage.mix.lines.iter().map(|line| target(paper, &line.target)).collect();
    let id = match stage.kind {
        StageKind::Preferment | StageKind::Build => "build-ferment",
        StageKind::Soaker => "build-soaker",
        StageKind::Scald => "build-scald",
    };
    let mut sentence = paper.words.fill(id, &[("names", &joined(paper, names))]);
    if let Some(keeps) = keeps(paper, stage) {
        sentence.push(' ');
        sentence.push_str(&keeps);
    }
    let waits = waits(stage);
    let first = waits.first();
    let mut phases = vec![PhasePart {
        time: first.and_then(|wait| wait.time.as_ref()).map(|time| times(paper, time)),
        at: first.and_then(|wait| surroundings(paper, wait.at.as_ref(), wait.in_room, None, false)),
        text: sentence,
        ..PhasePart::default()
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
        at: surroundings(paper, wait.at.as_ref(), wait.in_room, None, false),
        text: paper.words.say("then-leave"),
        ..PhasePart::default()
    }
}

fn waiting_step(paper: &Paper, stage: &Stage) -> Option<StepPart> {
    let waits = waits(stage);
    if waits.is_empty() {
        return None;
    }
    let title = match stage.kind {
        StageKind::Preferment | StageKind::Build => "step-ripen",
        StageKind::Soaker | StageKind::Scald => "step-stand",
    };
    let phases = waits.iter().enumerate().map(|(index, wait)| {
        let mut phase = wait_phase(paper, wait);
        if index == 0 {
            phase.text = keeps(paper, stage).unwrap_or_default();
        }
        phase
    });
    Some(StepPart {
        title: paper.words.say(title),
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
    Some(match surroundings(paper, wait.at.as_ref(), wait.in_room, None, false) {
        Some(at) => paper.words.fill("use-within-at", &[("time", &time), ("temperature", &at)]),
        None => paper.words.fill("use-within", &[("time", &time)]),
    })
}

/// `8–10 h at 22 °C, keeps 2 h`.
pub fn wait(paper: &Paper, stage: &Stage) -> Option<String> {
    let leg = |wait: &Wait| {
        let time = wait.time.as_ref().map(|time| times(paper, time)).unwrap_or_default();
        match surroundings(paper, wait.at.as_ref(), wait.in_room, None, false) {
            Some(at) => paper.words.fill("wait-at", &[("time", &time), ("temperature", &at)]),
            None => time,
        }
        .trim()
        .to_owned()
    };
    let then = |first: String, next: String| {
        paper.words.fill("wait-then", &[("first", &first), ("next", &next)])
    };
    let legs = waits(stage).iter().map(leg).reduce(then);
    let keeps = |wait: &Wait| paper.words.fill("wait-keeps", &[("wait", &leg(wait))]);
    let kept: Vec<String> = stage.keeps.iter().map(keeps).collect();
    let kept = (!kept.is_empty()).then(|| kept.join(", "));
    match (legs, kept) {
        (Some(legs), Some(kept)) => Some(format!("{legs}; {kept}")),
        (legs, kept) => legs.or(kept),
    }
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
            title: step_title(paper, step),
            stage: name.clone(),
            phases: phases(paper, step),
            notes: of_stage(WordsKind::Note).chain(own(&step.notes)).collect(),
            cautions: of_stage(WordsKind::Caution).chain(own(&step.cautions)).collect(),
            hands_on: is_hands_on(step),
        }
    });
    steps.collect()
}

/// The longest heading, in letters, that is made of an author's words.
const LONGEST_HEADING: usize = 40;

/// The heading of what goes in at a step; of `step "…"` its first words.
pub fn group_title(paper: &Paper, step: &Step) -> String {
    let Some(words) = &step.text else { return step_title(paper, step) };
    let words = text(paper, words);
    let sentence = words.split_inclusive(['.', '!', ';', ':', ',']).next().unwrap_or("");
    let sentence = sentence.trim_end_matches(['.', ';', ':', ',']);
    match sentence.chars().count() <= LONGEST_HEADING {
        true => sentence.to_owned(),
        false => paper.words.say("step-step"),
    }
}

/// The heading of a step, with the kind of piece it is for; none where the author's
/// words say what to do.
pub fn step_title(paper: &Paper, step: &Step) -> String {
    if step.text.is_some() {
        return String::new();
    }
    let title = paper.words.say(&format!("step-{}", step.verb.word()));
    match step.phases.first().and_then(|phase| phase.kind.as_ref()) {
        Some(kind) => {
            let kind = paper.piece_kind(&kind.shown);
            paper.words.fill("step-for", &[("step", &title), ("kind", &kind)])
        }
        None => title,
    }
}

pub fn phases(paper: &Paper, step: &Step) -> Vec<PhasePart> {
    let told = |home| phases_told(paper, step, home);
    let (mut parts, at_home) = (told(false), told(true));
    for (part, home) in parts.iter_mut().zip(at_home) {
        if part.at != home.at || part.text != home.text {
            part.home = Some(HomePart { at: home.at, text: home.text });
        }
    }
    parts
}

/// The phases of a step, with ovens as a kitchen at home sets them or a bakery does.
fn phases_told(paper: &Paper, step: &Step, home: bool) -> Vec<PhasePart> {
    let verb = Some(step.verb);
    let mut parts: Vec<PhasePart> = step
        .phases
        .iter()
        .map(|phase| PhasePart {
            time: phase.duration.as_ref().map(|time| times(paper, time)),
            at: surroundings(paper, phase.at.as_deref(), phase.in_room, verb, home),
            to: phase.to.as_ref().map(|to| paper.temperature(to, None, home)),
            text: sentences(paper, phase).join(" "),
            home: None,
        })
        .collect();
    if let (Some(words), Some(first)) = (&step.text, parts.first_mut()) {
        let own = closed(text(paper, words));
        // Such a step has no heading that would say for what.
        let kind = step.phases.first().and_then(|phase| phase.kind.as_ref());
        let own = match kind {
            Some(kind) => {
                let kind = capital(&paper.piece_kind(&kind.shown));
                paper.words.fill("words-for", &[("kind", &kind), ("words", &own)])
            }
            None => own,
        };
        first.text = format!("{own} {}", first.text).trim().to_owned();
    }
    for next in parts.iter_mut().skip(1).filter(|next| next.text.is_empty()) {
        next.text = match &next.at {
            Some(at) => paper.words.fill("then-at", &[("temperature", at)]),
            None => paper.words.say("then-on"),
        };
    }
    parts
}

/// A text that ends like a sentence.
fn closed(text: String) -> String {
    let end = text.trim_end().trim_end_matches(['"', '”', '’', ')']);
    match end.ends_with(['.', '!', '?', '…', ':']) || end.is_empty() {
        true => text,
        false => format!("{}.", text.trim_end()),
    }
}

fn sentences(paper: &Paper, phase: &Phase) -> Vec<String> {
    let words = paper.words;
    let mut all = Vec::new();
    if !phase.with.is_empty() {
        let names = phase.with.iter().map(|with| with_words(paper, with)).collect();
        all.push(words.fill("with", &[("names", &joined(paper, names))]));
    }
    if let Some(place) = &phase.place {
        all.push(words.fill("in-place", &[("place", &place.shown)]));
    }
    let mut how = Vec::new();
    if phase.by_hand {
        how.push(words.say("by-hand"));
    }
    if let Some(speed) = phase.speed {
        how.push(words.fill("speed", &[("speed", &speed.to_string())]));
    }
    for (said, id) in [
        (phase.covered, "covered"),
        (phase.uncovered, "uncovered"),
        (phase.steamed, "steamed"),
        (phase.vented, "vented"),
        (phase.fan, "fan"),
    ] {
        if said {
            how.push(words.say(id));
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
                words.fill("until-volume", &[("factor", &paper.trimmed(&volume.number, 2))])
            }
            Until::Core(core) => {
                let core = paper.temperature_of(core);
                words.fill("until-core", &[("temperature", &core)])
            }
            Until::Acidity(number, _) => {
                words.fill("until-acidity", &[("value", &paper.trimmed(number, 2))])
            }
            Until::Text(said) => {
                let said = text(paper, said);
                words.fill("until", &[("words", said.trim_end_matches('.'))])
            }
        });
    }
    all
}

fn fold_words(paper: &Paper, fold: &Fold) -> String {
    let id = match fold.style {
        None => "fold",
        Some(FoldStyle::Single) => "fold-single",
        Some(FoldStyle::Double) => "fold-double",
    };
    let number = f64::from(fold.times.unwrap_or(1));
    match &fold.every {
        Some(every) => {
            let every = times(paper, every);
            paper.words.count(&format!("{id}-every"), "times", number, &[("time", &every)])
        }
        None => paper.words.count(id, "times", number, &[]),
    }
}

fn with_words(paper: &Paper, with: &With) -> String {
    let words = paper.words;
    match with {
        With::Name(name) => target(paper, name),
        With::Flours(_) => words.say("the-flours"),
        With::Share(share, name) => {
            let share = paper.percent(&base(paper, share), 1);
            words.fill("share-of", &[("share", &share), ("name", &target(paper, name))])
        }
        With::Weight(weight, name) => {
            let by = paper.worked.scale_at(paper.house, weight.span);
            let by = by * share_of_batch(paper, name, None);
            let weight = paper.in_words(&(base(paper, weight) * by));
            words.fill("weight-of", &[("weight", &weight), ("name", &target(paper, name))])
        }
        With::Remaining(name) => words.fill("rest-of", &[("name", &target(paper, name))]),
        With::EverythingElse(_) => words.say("everything-else"),
    }
}

fn joined(paper: &Paper, names: Vec<String>) -> String {
    match names.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => {
            paper.words.fill("list-end", &[("most", &most.join(", ")), ("last", last)])
        }
    }
}

/// A range of times: `3–4 h`, `at least 3 h`, `up to 4 h`.
fn times(paper: &Paper, extent: &Extent) -> String {
    let value = |quantity: &Quantity| base(paper, quantity);
    let bounded = |id, end: &Quantity| paper.words.fill(id, &[("amount", &minutes(&value(end)))]);
    match (&extent.low, &extent.high) {
        (Some(low), Some(high)) => minutes_range(&value(low), &value(high)),
        (Some(one), None) if !extent.ranged => minutes(&value(one)),
        (Some(low), None) => bounded("at-least", low),
        (None, Some(high)) => bounded("up-to", high),
        (None, None) => String::new(),
    }
}

/// What something stands in: a temperature, or that of the room where it is known; of a
/// step with this verb, at home perhaps.
pub fn surroundings(
    paper: &Paper,
    at: Option<&Extent>,
    in_room: bool,
    verb: Option<Verb>,
    home: bool,
) -> Option<String> {
    match at {
        Some(at) => Some(paper.temperature(at, verb, home)),
        None if in_room => Some(match &paper.house.settings.room {
            Some(room) => paper.degrees(room),
            None => paper.words.say("room-temperature"),
        }),
        None => None,
    }
}

/// The author's cautions, then the usual ones for what the method does, where the
/// author has not spoken of it.
pub fn cautions(paper: &Paper) -> Vec<String> {
    let formula = &paper.worked.formula;
    let mut own = texts_of_all(paper, WordsKind::Caution);
    own.extend(cautions_of_what_goes_in(paper));
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
    let spoken_of = |id: &str| {
        let words = paper.words.say(&format!("caution-{id}-words"));
        words.split(',').map(str::trim).any(|word| said.iter().any(|said| speaks_of(said, word)))
    };
    let scalds = formula.stages.iter().any(|stage| stage.kind == StageKind::Scald);
    let does = |verbs: &[Verb]| steps.iter().any(|step| verbs.contains(&step.verb));
    let in_mixer = steps.iter().flat_map(|step| &step.phases).any(|phase| {
        phase.place.as_ref().is_some_and(|place| {
            paper.house.mixers().iter().any(|mixer| mixer.name.key == place.key)
        }) || phase.speed.is_some()
    });
    let usual = [
        ("oven", does(&[Verb::Bake, Verb::Steam])),
        ("boiling", scalds || does(&[Verb::Boil, Verb::Scald])),
        ("fat", does(&[Verb::Fry])),
        ("blade", does(&[Verb::Score])),
        ("mixer", in_mixer),
        ("raw", formula.method.is_some() && !paper.worked.first().whole.mass().is_zero()),
    ];
    let usual = usual.into_iter().filter(|(id, applies)| *applies && !spoken_of(id));
    own.iter()
        .cloned()
        .chain(usual.map(|(id, _)| paper.words.say(&format!("caution-{id}"))))
        .collect()
}

/// What can hurt somebody in one step: what the author says of it, and what is usual for its
/// verb, where the formula's cautions say it.
pub fn cautions_of_step(paper: &Paper, step: &Step) -> Vec<String> {
    let own = step.cautions.iter().map(|caution| text(paper, caution));
    let usual = usual_of_step(step).into_iter().map(|id| paper.words.say(&format!("caution-{id}")));
    let all = cautions(paper);
    own.chain(usual.filter(|caution| all.contains(caution))).collect()
}

/// What can hurt somebody in a formula, and belongs to no step of it.
pub fn cautions_of_all(paper: &Paper) -> Vec<String> {
    let formula = &paper.worked.formula;
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps = stages.chain(&formula.method).flat_map(|method| &method.steps);
    let of_steps: Vec<String> = steps
        .filter_map(usual_of_step)
        .map(|id| paper.words.say(&format!("caution-{id}")))
        .collect();
    let mut all = cautions(paper);
    all.retain(|caution| !of_steps.contains(caution));
    all
}

/// The caution that is usual for a verb.
fn usual_of_step(step: &Step) -> Option<&'static str> {
    match step.verb {
        Verb::Bake | Verb::Steam => Some("oven"),
        Verb::Boil | Verb::Scald => Some("boiling"),
        Verb::Fry => Some("fat"),
        Verb::Score => Some("blade"),
        _ => None,
    }
}

/// What ingredients and cultures say of themselves, each with its name.
fn cautions_of_what_goes_in(paper: &Paper) -> Vec<String> {
    let mut all = Vec::new();
    let mut add = |name: &Name, cautions: &[Text]| {
        let called = capital(&paper.called(&name.key, &name.shown));
        all.extend(cautions.iter().map(|caution| format!("{called}: {}", text(paper, caution))));
    };
    for ingredient in paper.worked.ingredients(paper.house) {
        add(&ingredient.name, &ingredient.cautions);
    }
    let lines = all_mixes(&paper.worked.formula).flat_map(|mix| &mix.lines);
    let cultures: BTreeMap<_, _> = lines
        .filter_map(|line| paper.house.culture_named(&line.target.name.key))
        .map(|(_, culture)| (culture.name.key.clone(), culture))
        .collect();
    cultures.values().for_each(|culture| add(&culture.name, &culture.cautions));
    all
}

/// Whether a text has a word, or one that begins with it where a `*` follows: `oil` is
/// not in "boiling". Both are in small letters.
fn speaks_of(text: &str, word: &str) -> bool {
    let (word, any_ending) = match word.strip_suffix('*') {
        Some(word) => (word, true),
        None => (word, false),
    };
    !word.is_empty()
        && text.match_indices(word).any(|(at, _)| {
            let before = text[..at].chars().next_back();
            let behind = text[at + word.len()..].chars().next();
            before.is_none_or(|letter| !letter.is_alphabetic())
                && (any_ending || behind.is_none_or(|letter| !letter.is_alphabetic()))
        })
}

#[cfg(test)]
mod tests {
    use super::speaks_of;

    #[test]
    fn a_word_is_found_with_its_endings_and_not_inside_another() {
        assert!(speaks_of("boiling water scalds", "boil*"));
        assert!(speaks_of("dry gloves, always", "gloves"));
        assert!(speaks_of("the tin comes out at 190 °c", "°c"));
        assert!(speaks_of("hot water runs over", "hot water"));
        assert!(!speaks_of("boiling water and hot foil", "oil"));
        assert!(!speaks_of("draw the peel out", "raw"));
        assert!(!speaks_of("a fatal dose of steam", "fat"));
        assert!(!speaks_of("anything", ""));
    }
}
