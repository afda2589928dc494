//! How a length of time came about.

use super::findings::doing::work_name;
use super::graph::{Doing, Graph, Hands, Stretch};
use super::length::{critical, elapsed, hands_on};
use super::standing::method;
use crate::formula::{Assumption, Ground, How, Reason, Subject, Topic, ValueKind, Worked};
use crate::quantity::Exact;
use crate::syntax::tree::{Per, Phase};

/// The steps that make up the elapsed time: at its shortest and, where that differs and
/// has an end, at its longest.
pub fn why_elapsed(worked: &Worked, graph: &Graph) -> Vec<Reason> {
    let length = elapsed(graph);
    let low = |stretch: &Stretch| Some(stretch.low.clone());
    let high = |stretch: &Stretch| match stretch.loose {
        true => Some(stretch.low.clone()),
        false => stretch.high.clone(),
    };
    let paths = [critical(graph, false), critical(graph, true)];
    reasons(Topic::Elapsed, worked, graph, (length.low, length.high), paths, (&low, &high))
}

/// The steps that hands are at work in, as `why_elapsed`.
pub fn why_hands_on(worked: &Worked, graph: &Graph) -> Vec<Reason> {
    let length = hands_on(graph);
    let on = |(index, stretch): (usize, &Stretch)| (stretch.hands == Hands::On).then_some(index);
    let all: Vec<usize> = graph.stretches.iter().enumerate().filter_map(on).collect();
    let low = |stretch: &Stretch| Some(stretch.low.clone());
    let high = |stretch: &Stretch| stretch.high.clone();
    let paths = [all.clone(), all];
    reasons(Topic::HandsOn, worked, graph, (length.low, length.high), paths, (&low, &high))
}

type LengthOf<'l> = &'l dyn Fn(&Stretch) -> Option<Exact>;

fn reasons(
    name: Topic,
    worked: &Worked,
    graph: &Graph,
    (low, high): (Exact, Option<Exact>),
    [shortest, longest]: [Vec<usize>; 2],
    (low_of, high_of): (LengthOf, LengthOf),
) -> Vec<Reason> {
    let one = |what: Subject, amount: Exact, path: &[usize], length: LengthOf| {
        let mut reason = Reason::new(what, amount, ValueKind::Time, How::Sum);
        reason.parts = path
            .iter()
            .map(|&stretch| &graph.stretches[stretch])
            .filter_map(|stretch| Some((stretch, length(stretch)?)))
            .filter(|(_, length)| !length.is_zero())
            .map(|(stretch, length)| {
                let what = Subject::named(&work_name(worked, &stretch.doing));
                let how = match stretch.usual {
                    true => How::Default(Assumption::UsualLength),
                    false => How::Written,
                };
                let written = Reason::new(what, length, ValueKind::Time, how).at(stretch.span);
                by_the_piece(worked, stretch, written)
            })
            .collect();
        if reason.parts.is_empty() {
            reason.how = How::Because(Ground::NoStepHasATime);
        }
        reason
    };
    match high {
        Some(high) if high == low => vec![one(name.into(), low, &shortest, low_of)],
        Some(high) => vec![
            one(Subject::AtShortest(name), low, &shortest, low_of),
            one(Subject::AtLongest(name), high, &longest, high_of),
        ],
        None => vec![one(Subject::AtShortest(name), low, &shortest, low_of)],
    }
}

/// `15 min per 20 loaves`, for 24 of them; anything else as it is.
fn by_the_piece(worked: &Worked, stretch: &Stretch, written: Reason) -> Reason {
    let Some((phase, per)) = counted_in(worked, &stretch.doing) else { return written };
    let (Some(count), of) = (worked.counted(phase, per), Exact::from(per.count)) else {
        return written;
    };
    let (Some(often), kind) = (count.over(&of), &per.kind.shown) else { return written };
    let number = |what: Subject, amount, how| Reason::new(what, amount, ValueKind::Number, how);
    let made = number(kind.into(), count, How::Because(Ground::ForWhatIsMade));
    let mut times = number(Topic::TimesThat.into(), often.clone(), How::Ratio);
    times.parts = vec![made, number(kind.into(), of, How::Written).at(per.span)];
    let mut once = written.clone();
    once.amount = written.amount.each_of(&often);
    let mut all = Reason::new(written.what, written.amount, ValueKind::Time, How::Product);
    all.parts = vec![once, times];
    all
}

/// The phase of a step that hands do by the piece.
fn counted_in<'w>(worked: &'w Worked, doing: &Doing) -> Option<(&'w Phase, &'w Per)> {
    let Doing::Step { stage, step, phase } = *doing else { return None };
    let phase = method(worked, stage)?.steps.get(step)?.phases.get(phase)?;
    Some((phase, phase.per.as_deref()?))
}
