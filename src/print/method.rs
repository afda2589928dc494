//! The method of a print: the steps of stages and dough, their phases and waits.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

use super::context::PrintContext;
use super::document::{PhasePart, StepPart};
use super::live::{base, share_of_batch, target, text, texts};
use super::wording::Wording;
use super::words::{capital, minutes};
use crate::formula::{LineRef, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::quantity::display::{fraction, minutes_range};
use crate::syntax::tree::{
    Extent, Flag, Fold, FoldStyle, Method, Name, Phase, Quantity, Stage, StageKind, Step, Text,
    Until, Verb, Wait, With, WordsKind,
};
use crate::time::{is_hands_on, is_refrigerator};

/// The steps of the stages in building order, then those of the dough.
pub fn method(paper: &PrintContext) -> Vec<StepPart> {
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
pub fn batch_method(paper: &PrintContext) -> Vec<StepPart> {
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
pub fn built_in_one(paper: &PrintContext, stage: &Stage) -> StepPart {
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
        at: first.and_then(|wait| surroundings(paper, wait.at.as_ref(), wait.in_room, None)),
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

fn wait_phase(paper: &PrintContext, wait: &Wait) -> PhasePart {
    PhasePart {
        time: wait.time.as_ref().map(|time| times(paper, time)),
        at: surroundings(paper, wait.at.as_ref(), wait.in_room, None),
        text: paper.words.say("then-leave"),
        ..PhasePart::default()
    }
}

fn waiting_step(paper: &PrintContext, stage: &Stage) -> Option<StepPart> {
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

fn keeps(paper: &PrintContext, stage: &Stage) -> Option<String> {
    let wait = stage.keeps.first()?;
    let time = times(paper, wait.time.as_ref()?);
    Some(match surroundings(paper, wait.at.as_ref(), wait.in_room, None) {
        Some(at) => paper.words.fill("use-within-at", &[("time", &time), ("temperature", &at)]),
        None => paper.words.fill("use-within", &[("time", &time)]),
    })
}

/// `8–10 h at 22 °C, keeps 2 h`.
pub fn wait(paper: &PrintContext, stage: &Stage) -> Option<String> {
    let leg = |wait: &Wait| {
        let time = wait.time.as_ref().map(|time| times(paper, time)).unwrap_or_default();
        match surroundings(paper, wait.at.as_ref(), wait.in_room, None) {
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
        (Some(legs), Some(kept)) => {
            Some(paper.words.fill("wait-and", &[("first", &legs), ("next", &kept)]))
        }
        (legs, kept) => legs.or(kept),
    }
}

fn own_steps(paper: &PrintContext, method: &Method, stage: Option<&Stage>) -> Vec<StepPart> {
    let name = stage.map(|stage| capital(&stage.name.shown));
    let steps = method.steps.iter().enumerate().map(|(index, step)| {
        // What a stage says of itself stands where its work begins.
        let first = stage.filter(|_| index == 0);
        let of_stage =
            |kind| first.map(|stage| texts(paper, &stage.texts, kind)).into_iter().flatten();
        let own = |words: &[Text]| -> Vec<String> {
            words.iter().map(|words| sentence_of(&text(paper, words))).collect()
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

/// A note of a few words, such as `into a round`, as a sentence.
fn sentence_of(note: &str) -> String {
    let is_scrap = note.chars().next().is_some_and(char::is_lowercase);
    let ends = note.ends_with(['.', '!', '?', ':', ')', '…']);
    match is_scrap && !ends {
        true => format!("{}.", capital(note)),
        false => note.to_owned(),
    }
}

/// The longest heading, in letters, that is made of an author's words.
const LONGEST_HEADING: usize = 40;

/// The heading of what goes in at a step; of `step "…"` its first words.
pub fn group_title(paper: &PrintContext, step: &Step) -> String {
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
pub fn step_title(paper: &PrintContext, step: &Step) -> String {
    if step.text.is_some() {
        return String::new();
    }
    let title = match goes_on_mixing(paper, step) {
        true => paper.words.say("step-mix-again"),
        false => verb_title(paper.words, paper.worked, step),
    };
    match step.phases.first().and_then(|phase| phase.kind.as_ref()) {
        Some(kind) => {
            let kind = paper.piece_kind(&kind.shown);
            paper.words.fill("step-for", &[("step", &title), ("kind", &kind)])
        }
        None => match number_among_its_like(paper, step) {
            Some(number) => format!("{title} {number}"),
            None => title,
        },
    }
}

/// What a step does, in the words of a print. Where the trade has one word for what is
/// brushed on before the oven and another for after it, it is the one that fits.
pub fn verb_title(words: &Wording, worked: &Worked, step: &Step) -> String {
    let word = match step.said {
        Some(said) => said,
        None if step.verb == Verb::Glaze && is_before_heat(worked, step) => "glaze-before-oven",
        None => step.verb.word(),
    };
    words.say(&format!("step-{}", word.replace(' ', "-")))
}

/// Whether a later step of the same method bakes, fries or steams.
fn is_before_heat(worked: &Worked, step: &Step) -> bool {
    let heats = |verb: Verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam);
    let after = |method: &Method| {
        let at = method.steps.iter().position(|other| std::ptr::eq(other, step))?;
        method.steps.get(at..).map(|later| later.iter().any(|it| heats(it.verb)))
    };
    methods_of(worked).find_map(after).unwrap_or(false)
}

/// Whether a step only mixes on what was mixed before: nothing goes in, and nothing is said
/// of how.
fn goes_on_mixing(paper: &PrintContext, step: &Step) -> bool {
    let is_bare = |phase: &Phase| phase.with.is_empty() && sentences(paper, phase).is_empty();
    if step.verb != Verb::Mix || step.said.is_some() || !step.phases.iter().all(is_bare) {
        return false;
    }
    let before = |method: &Method| {
        let at = method.steps.iter().position(|other| std::ptr::eq(other, step))?;
        method.steps.get(..at).map(|before| before.iter().any(|it| it.verb == Verb::Mix))
    };
    methods(paper).find_map(before).unwrap_or(false)
}

/// The phases of a step in words.
pub fn phases(paper: &PrintContext, step: &Step) -> Vec<PhasePart> {
    let verb = Some(step.verb);
    let mut parts: Vec<PhasePart> = step
        .phases
        .iter()
        .map(|phase| PhasePart {
            time: phase
                .duration
                .as_ref()
                .map(|time| times_by(paper, time, &so_often(paper, phase))),
            at: surroundings(paper, phase.at.as_deref(), phase.in_room, verb)
                .or_else(|| cold(paper, phase)),
            to: phase.to.as_ref().map(|to| paper.temperature(to, None)),
            text: sentences(paper, phase).join(" "),
            how: not_to_be_missed(paper, phase),
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
    // How warm it is stands beside the time, so that the words only say what changes.
    let pairs = step.phases.iter().zip(step.phases.iter().skip(1));
    for (next, (before, phase)) in parts.iter_mut().skip(1).zip(pairs) {
        if next.text.is_empty() {
            next.text = paper.words.say(then(paper, before, phase));
        }
    }
    parts
}

/// How a phase goes on from the one before it.
fn then(paper: &PrintContext, before: &Phase, next: &Phase) -> &'static str {
    let warmth = |phase: &Phase| {
        let at = phase.at.as_ref()?;
        Some(base(paper, at.low.as_ref().or(at.high.as_ref())?))
    };
    match (warmth(before), warmth(next)) {
        (Some(before), Some(next)) if next < before => "then-cooler",
        (Some(before), Some(next)) if next > before => "then-warmer",
        _ => "then-on",
    }
}

/// A text that ends like a sentence.
fn closed(text: String) -> String {
    let end = text.trim_end().trim_end_matches(['"', '”', '’', ')']);
    match end.ends_with(['.', '!', '?', '…', ':']) || end.is_empty() {
        true => text,
        false => format!("{}.", text.trim_end()),
    }
}

/// Where a step is done: in a machine, in a place that the language has words for, or in
/// something with a name, such as a bath.
fn in_place(paper: &PrintContext, place: &Name) -> String {
    let is_machine = paper.house.machine_names().any(|name| name == place.key.as_str());
    let known = || paper.words.name("place", &place.key);
    if let Some(said) = (!is_machine).then(known).flatten() {
        return said;
    }
    let id = if is_machine { "in-machine" } else { "in-place" };
    paper.words.fill(id, &[("place", &paper.called(&place.key, &place.shown))])
}

/// The same inside a line: `in the fridge`.
pub fn within(paper: &PrintContext, place: &Name) -> String {
    let said = in_place(paper, place);
    let mut letters = said.trim_end_matches('.').chars();
    let first = letters.next().map(|first| first.to_lowercase().to_string()).unwrap_or_default();
    first + letters.as_str()
}

fn sentences(paper: &PrintContext, phase: &Phase) -> Vec<String> {
    let words = paper.words;
    let mut all = Vec::new();
    if !phase.with.is_empty() {
        let names = phase.with.iter().map(|with| with_words(paper, with)).collect();
        all.push(words.fill("with", &[("names", &joined(paper, names))]));
    }
    all.extend(phase.place.as_ref().map(|place| in_place(paper, place)));
    let said = Flag::ALL.iter().filter(|(_, flag)| phase.says(*flag));
    let mut how: Vec<String> = said.map(|(word, _)| words.say(&word.replace(' ', "-"))).collect();
    if let Some((speed, _)) = phase.speed {
        let after_hands = usize::from(phase.says(Flag::ByHand));
        how.insert(after_hands, words.fill("speed", &[("speed", &speed.to_string())]));
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
                let factor = paper.words.number(&fraction(&volume.number));
                words.count("until-volume", "times", rough(&volume.number), &[("factor", &factor)])
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

/// Folds and steam, as a sheet that leaves the words out has to say them.
fn not_to_be_missed(paper: &PrintContext, phase: &Phase) -> Vec<String> {
    let fold = phase.fold.as_ref().map(|fold| {
        let said = fold_words(paper, fold);
        said.trim_end_matches('.').to_owned()
    });
    let in_oven = [Flag::Steamed, Flag::Vented].into_iter().filter(|flag| phase.says(*flag));
    let word = |flag: Flag| Flag::ALL.iter().find(|(_, own)| *own == flag).map(|(word, _)| *word);
    let in_oven = in_oven.filter_map(word).map(|word| paper.words.say(word));
    fold.into_iter().chain(in_oven).collect()
}

fn fold_words(paper: &PrintContext, fold: &Fold) -> String {
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

fn with_words(paper: &PrintContext, with: &With) -> String {
    let words = paper.words;
    match with {
        With::Name(name) => target(paper, name),
        With::Flours(_) => only_flour(paper, with).unwrap_or_else(|| words.say("the-flours")),
        With::Share(share, name) => {
            let share = paper.percent(&base(paper, share), 1);
            words.fill("share-of", &[("share", &share), ("name", &target(paper, name))])
        }
        With::Weight(weight, name) => {
            let by = paper.worked.scale_at(weight.span);
            let by = by * share_of_batch(paper, name, None);
            let grams = base(paper, weight) * by;
            let weight = paper.line_in_words(name, &grams);
            let weight = weight.unwrap_or_else(|| paper.in_words(&grams));
            words.fill("weight-of", &[("weight", &weight), ("name", &target(paper, name))])
        }
        With::Remaining(name) => words.fill("rest-of", &[("name", &target(paper, name))]),
        With::EverythingElse(_) if is_first(paper, with) => match named_later(paper, with) {
            later if later.is_empty() => words.say("everything"),
            later => words.fill("everything-but", &[("names", &joined(paper, later))]),
        },
        With::EverythingElse(_) => words.say("everything-else"),
    }
}

/// What the flour is called where the mix of a method has no other.
fn only_flour(paper: &PrintContext, with: &With) -> Option<String> {
    let worked = paper.worked;
    let names = |method: &Method| {
        let mut all = method.steps.iter().flat_map(|step| &step.phases).flat_map(|it| &it.with);
        all.any(|it| std::ptr::eq(it, with))
    };
    let is_of = |stage: &Stage| stage.method.as_ref().is_some_and(names);
    let numbers = worked.first();
    let lines = match worked.formula.stages.iter().position(is_of) {
        Some(stage) => &numbers.stages.get(stage)?.lines,
        None => &numbers.dough_lines,
    };
    let is_flour = |line: &&WorkedLine| match line.goes {
        LineRef::Ingredient(id) => worked.flour_ids.contains(&id),
        _ => false,
    };
    let mut flours = lines.iter().filter(is_flour);
    let first = flours.next()?;
    flours.all(|line| line.key == first.key).then(|| paper.called(&first.key, &first.name))
}

/// Whether nothing was named before this in its method: then there is no "else".
fn is_first(paper: &PrintContext, with: &With) -> bool {
    methods(paper).any(|method| {
        let named = method.steps.iter().flat_map(|step| &step.phases).flat_map(|it| &it.with);
        named.take(1).any(|first| std::ptr::eq(first, with))
    })
}

/// What later steps of its method put into the same mix, where everything else goes in first.
fn named_later(paper: &PrintContext, with: &With) -> Vec<String> {
    let worked = paper.worked;
    let of = |method: &Method| {
        let mut all = method.steps.iter().flat_map(|step| &step.phases).flat_map(|it| &it.with);
        all.any(|it| std::ptr::eq(it, with))
    };
    let Some(method) = methods(paper).find(|method| of(method)) else { return Vec::new() };
    let numbers = worked.first();
    let is_of = |stage: &Stage| stage.method.as_ref().is_some_and(of);
    let lines = match worked.formula.stages.iter().position(is_of) {
        Some(stage) => numbers.stages.get(stage).map_or(&[][..], |it| &it.lines),
        None => &numbers.dough_lines,
    };
    let keys: Vec<&str> = lines.iter().map(|line| line.key.as_str()).collect();
    // What is strewn or spread on pieces is no part of the mix.
    let is_mixed = |with: &&With| match with.target().map(|it| it.name.key.as_str()) {
        Some(key) => keys.contains(&key) || !worked.house.same_or_kin(key, &keys).is_empty(),
        None => matches!(with, With::Flours(_)),
    };
    let all = method.steps.iter().flat_map(|step| &step.phases).flat_map(|it| &it.with);
    let later = all.filter(|it| !std::ptr::eq(*it, with)).filter(is_mixed);
    let mut names: Vec<String> = later.map(|it| with_words(paper, it)).collect();
    names.dedup();
    names
}

/// The methods of a formula: the dough's and those of its stages.
fn methods<'p>(paper: &'p PrintContext) -> impl Iterator<Item = &'p Method> {
    methods_of(paper.worked)
}

fn methods_of<'w>(worked: &'w Worked) -> impl Iterator<Item = &'w Method> {
    let formula = &worked.formula;
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    formula.method.iter().chain(stages)
}

/// Which of its method's steps of the same verb a step is, where several of them take
/// ingredients, so that each list of them has a name of its own.
fn number_among_its_like(paper: &PrintContext, step: &Step) -> Option<usize> {
    let own = |method: &&Method| method.steps.iter().any(|other| std::ptr::eq(other, step));
    let method = methods(paper).find(own)?;
    let alike = |other: &&Step| {
        (other.verb, other.said) == (step.verb, step.said)
            && other.text.is_none()
            && other.phases.first().is_none_or(|phase| phase.kind.is_none())
    };
    let takes = |step: &&Step| step.phases.iter().any(|phase| !phase.with.is_empty());
    let all = || method.steps.iter().filter(alike);
    (all().filter(takes).count() > 1)
        .then(|| all().position(|other| std::ptr::eq(other, step)))?
        .map(|index| index + 1)
}

/// A number for the choice of a plural.
fn rough(number: &Exact) -> f64 {
    number.to_string().parse().unwrap_or(0.5)
}

fn joined(paper: &PrintContext, names: Vec<String>) -> String {
    match names.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => {
            paper.words.fill("list-end", &[("most", &most.join(", ")), ("last", last)])
        }
    }
}

/// How many times the time of a phase is taken: by the pieces of what a sheet is for.
fn so_often(paper: &PrintContext, phase: &Phase) -> Exact {
    let all = paper.worked.times_as_long(phase);
    match phase.per {
        Some(_) => all.each_of(&Exact::from(paper.shared_by.get())),
        None => all,
    }
}

/// A range of times: `3–4 h`, `at least 3 h`, `up to 4 h`.
fn times(paper: &PrintContext, extent: &Extent) -> String {
    times_by(paper, extent, &Exact::ONE)
}

fn times_by(paper: &PrintContext, extent: &Extent, often: &Exact) -> String {
    let value = |quantity: &Quantity| base(paper, quantity) * often;
    let bounded = |id, end: &Quantity| paper.words.fill(id, &[("amount", &minutes(&value(end)))]);
    match (&extent.low, &extent.high) {
        (Some(low), Some(high)) => minutes_range(&value(low), &value(high)),
        (Some(one), None) if !extent.ranged => minutes(&value(one)),
        (Some(low), None) => bounded("at-least", low),
        (None, Some(high)) => bounded("up-to", high),
        (None, None) => String::new(),
    }
}

/// The temperature of the house's refrigerator, where it is known and a phase stands in it.
pub fn cold(paper: &PrintContext, phase: &Phase) -> Option<String> {
    let in_fridge =
        phase.at.is_none() && phase.place.as_ref().is_some_and(|place| is_refrigerator(&place.key));
    let cold = paper.house.settings.cold.as_ref().filter(|_| in_fridge)?;
    Some(paper.degrees(cold))
}

/// What something stands in: a temperature, or that of the room where it is known; of a
/// step with this verb.
pub fn surroundings(
    paper: &PrintContext,
    at: Option<&Extent>,
    in_room: bool,
    verb: Option<Verb>,
) -> Option<String> {
    match at {
        Some(at) => Some(paper.temperature(at, verb)),
        None if in_room => Some(match &paper.house.settings.room {
            Some(room) => paper.degrees(room),
            None => paper.words.say("room-temperature"),
        }),
        None => None,
    }
}
