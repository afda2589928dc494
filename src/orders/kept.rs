//! Batches and builds as a later plan of the day holds them, and whether formulas of today would
//! still make the same.

use super::begun::{Work, WorkEnd, WorkLag, WorkLine, WorkPoint, WorkPort, WorkTask};
use super::means::Means;
use super::shape::{Shape, Takes};
use crate::formula::{House, LineRef, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::quantity::display::exact;
use crate::syntax::tree::Name;
use crate::time::Doing;

/// What a build is beside the formula that it is worked out of.
#[derive(Clone, Copy)]
pub struct Built<'b> {
    /// The stage, by its place in the formula.
    pub stage: usize,
    /// Grams of all of it.
    pub made: &'b Exact,
    /// What it is put together from, in grams.
    pub lines: &'b [WorkedLine],
    /// Grams that are kept back.
    pub kept_back: &'b Exact,
    /// Grams that are saved.
    pub saved: &'b Exact,
    /// Whether it is not built but on hand.
    pub on_hand: bool,
}

/// What stores hand out for a line: of a mixture its parts, of anything else itself; nothing for a
/// stage, and nothing for water, which comes out of the tap.
pub fn stores(worked: &Worked, line: &WorkedLine, times: &Exact) -> Vec<(String, String, Exact)> {
    let mut all = Vec::new();
    let mut open = vec![(line.clone(), 0)];
    while let Some((line, depth)) = open.pop() {
        let parts = match line.goes {
            LineRef::Stage(_) => continue,
            LineRef::SideMix(of) if depth < MAX_DEEP => worked.mixture_lines(of, &line.mass),
            _ => Vec::new(),
        };
        if parts.is_empty() && line.key != "water" {
            all.push((line.key.to_string(), line.name.to_string(), &line.mass * times));
        }
        open.extend(parts.into_iter().map(|part| (part, depth + 1)));
    }
    all
}

/// Mixtures in mixtures at most.
const MAX_DEEP: usize = 16;

/// A batch or build as it would be kept, but for its places and who takes it.
pub fn described(
    house: &House,
    (worked, pieces, kinds): (&Worked, &[u32], &[Name]),
    (id, number): (&str, u32),
    (shape, build): (&Shape, Option<&Built>),
    ids: &[String],
) -> Work {
    let numbers = worked.first();
    let stage = build.map(|build| build.stage);
    let stages = &worked.formula.stages;
    let name = |stage: usize| stages.get(stage).map_or("", |it| it.name.key.as_str()).to_owned();
    let method = match stage {
        None => worked.formula.method.as_ref(),
        Some(stage) => stages.get(stage).and_then(|it| it.method.as_ref()),
    };
    let line = |line: &WorkedLine, times: &Exact| WorkLine {
        key: line.key.to_string(),
        name: line.name.to_string(),
        grams: exact(&(&line.mass * times)),
    };
    let mut taken: Vec<WorkLine> = Vec::new();
    let mut take = |own: &WorkedLine, times: &Exact| {
        let all = stores(worked, own, times).into_iter();
        taken.extend(all.map(|(key, name, grams)| WorkLine { key, name, grams: exact(&grams) }));
    };
    let own = build.map_or(numbers.dough_lines.as_slice(), |build| build.lines);
    let mut lines: Vec<WorkLine> = own.iter().map(|own| line(own, &Exact::ONE)).collect();
    own.iter().for_each(|own| take(own, &Exact::ONE));
    if build.is_none() {
        for piece in &numbers.pieces {
            lines.extend(piece.lines.iter().map(|own| line(own, &piece.made.count)));
            piece.lines.iter().for_each(|own| take(own, &piece.made.count));
        }
        worked.baths(numbers).iter().for_each(|bath| take(bath, &Exact::ONE));
    }
    let tasks = shape.tasks.iter().enumerate().map(|(place, proto)| {
        let mut task = WorkTask {
            id: ids.get(place).cloned().unwrap_or_default(),
            step: step(&proto.doing),
            least: proto.length.0,
            most: proto.length.1,
            hands: false,
            mixers: Vec::new(),
            oven: None,
            heats: None,
            place: None,
            boards: 0,
            moment: proto.is_moment,
            load: proto.load,
            plain: proto.on_grid,
            from: None,
            to: None,
        };
        let mixer = |it: &usize| house.mixers().get(*it).map(|it| it.name.key.to_string());
        match &proto.takes {
            Takes::Hands => task.hands = true,
            Takes::Mixer(mixers) => task.mixers = mixers.iter().filter_map(mixer).collect(),
            Takes::Oven(oven, (enters, leaves)) => {
                task.oven = house.ovens().get(*oven).map(|it| it.name.key.to_string());
                task.heats = Some((exact(enters), exact(leaves)));
            }
            Takes::Boards(rack, boards) => {
                task.place = house.racks().get(*rack).map(|it| it.name.key.to_string());
                task.boards = *boards;
            }
            Takes::Nothing => {}
        }
        task
    });
    let made = match build {
        Some(build) => build.made.clone(),
        None => numbers.whole.mass(),
    };
    let of = |grams: Option<&Exact>| exact(grams.unwrap_or(&Exact::ZERO));
    let made_of: Vec<(&Name, u32)> =
        (kinds.iter().zip(pieces.iter().copied())).filter(|(_, pieces)| *pieces > 0).collect();
    Work {
        id: id.to_owned(),
        formula: worked.formula.name.key.to_string(),
        kinds: made_of.iter().map(|(kind, _)| kind.key.to_string()).collect(),
        pieces: match kinds.is_empty() {
            true => pieces.to_vec(),
            false => made_of.iter().map(|(_, pieces)| *pieces).collect(),
        },
        number,
        loads: Vec::new(),
        stage: stage.map(name),
        on_hand: build.is_some_and(|build| build.on_hand),
        made: exact(&made),
        kept_back: of(build.map(|build| build.kept_back)),
        saved: of(build.map(|build| build.saved)),
        lines,
        stores: taken,
        takes: Vec::new(),
        steps: method
            .into_iter()
            .flat_map(|it| &it.steps)
            .map(|it| it.verb.word().to_owned())
            .collect(),
        tasks: tasks.collect(),
        lags: shape
            .lags
            .iter()
            .map(|lag| WorkLag {
                from: WorkPoint::of(lag.from),
                to: WorkPoint::of(lag.to),
                least: lag.least,
                most: lag.most,
            })
            .collect(),
        ports: shape
            .ports
            .iter()
            .map(|port| WorkPort {
                stage: name(port.stage),
                at: WorkPoint::of(port.at),
                later: port.later,
                to_end: port.to_end,
            })
            .collect(),
        ends: shape
            .ends
            .iter()
            .map(|end| WorkEnd { task: end.task, least: end.wait.0, most: end.wait.1 })
            .collect(),
    }
}

/// The step of a method that something is of.
fn step(doing: &Doing) -> Option<usize> {
    match *doing {
        Doing::Step { step, .. }
        | Doing::Moment { step, .. }
        | Doing::Fold { step, .. }
        | Doing::Folding { step, .. } => Some(step),
        _ => None,
    }
}

/// Whether what was begun is still what its formula makes today.
pub fn is_as_now(
    means: &Means,
    work: &Work,
    of: (&Worked, &[u32], &[Name]),
    by: (&Shape, Option<&Built>),
) -> bool {
    let ids: Vec<String> = work.tasks.iter().map(|task| task.id.clone()).collect();
    let now = described(means.house, of, (&work.id, work.number), by, &ids);
    now.is_like(work)
}
