//! Stages that batches share: built once for all that take them, or as seldom as they keep.

use super::begun::{Begun, grams};
use super::kept::{Built, is_as_now};
use super::making::{Kept, Making, Sized, numbers, pieces_of};
use super::means::Means;
use super::shape::{Port, Shape, build};
use crate::formula::{House, LineRef, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::time::day::{Minute, Point};
use crate::time::same_builds;
use ecow::EcoString;

/// What takes a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Taker {
    /// A batch, by its place.
    Batch(usize),
    /// Another build, by its place.
    Build(usize),
}

/// What one taker takes of a build.
#[derive(Clone, Debug)]
pub struct Take {
    /// Who takes it.
    pub taker: Taker,
    /// Which of the taker's ports it goes in at.
    pub port: usize,
    /// Grams.
    pub grams: Exact,
}

/// How much takers share a build.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sharing {
    /// All that could take it while it keeps, if some of them took it sooner than they have to.
    Widest,
    /// As much as a build keeps.
    Most,
    /// Only those that want it within half of that.
    Half,
    /// Only those that want it at the same time.
    Least,
}

impl Sharing {
    /// In the order in which they are tried: fewer builds first.
    pub const ALL: [Self; 4] = [Self::Widest, Self::Most, Self::Half, Self::Least];
}

/// One build of a stage.
pub struct Build {
    /// The product and the size whose stage it is like, and the place of the stage there.
    pub like: (usize, usize, usize),
    /// Which of its stage it is, from one.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// Grams, with what is saved and kept back.
    pub made: Exact,
    /// What it is put together from, in grams.
    pub lines: Vec<WorkedLine>,
    /// Grams that are kept back to be the next culture.
    pub kept_back: Exact,
    /// Grams that are saved.
    pub saved: Exact,
    /// Who takes it.
    pub takes: Vec<Take>,
    /// What takes something in it.
    pub shape: Shape,
    /// It is on hand before the day begins.
    pub given: Option<Given>,
    /// It is begun, and stays as it is.
    pub kept: Option<Kept>,
}

impl Build {
    /// What it is beside its formula.
    pub fn as_built(&self) -> Built<'_> {
        Built {
            stage: self.like.2,
            made: &self.made,
            lines: &self.lines,
            kept_back: &self.kept_back,
            saved: &self.saved,
            on_hand: self.given.is_some(),
        }
    }

    /// Grams that nothing takes: none of what is yet to be built.
    pub fn left(&self) -> Exact {
        if self.given.is_none() && self.kept.is_none() {
            return Exact::ZERO;
        }
        let taken = self.takes.iter().fold(Exact::ZERO, |sum, take| sum + &take.grams);
        (&self.made - &self.kept_back - &self.saved - &taken).max(Exact::ZERO)
    }
}

/// A stage that is on hand.
#[derive(Clone, Debug)]
pub struct Given {
    /// Grams.
    pub grams: Exact,
    /// When it is ripe; none where it can be taken at any time.
    pub ripe: Option<Minute>,
    /// It keeps until then, where an earlier day left it.
    pub until: Option<Minute>,
    /// Which it is of all that is on hand.
    pub place: usize,
}

/// What counts for the builds of a day beside its batches.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// Stages that are on hand: the name, the formula it is of, and how much there is.
    pub given: Vec<(EcoString, Option<EcoString>, Given)>,
    /// Grams that the next day takes of cultures.
    pub wanted: Vec<(EcoString, Exact)>,
}

/// What is wanted of a stage, and the latest time for it.
#[derive(Clone)]
struct Need {
    take: Take,
    like: (usize, usize, usize),
    class: usize,
    at: i64,
    /// Minutes by which it may be wanted sooner.
    sooner: i64,
    /// It is begun, and took this of what was on hand.
    from_hand: bool,
}

/// Longest that one build may be taken for, where nothing says how long it keeps.
const A_DAY: i64 = 24 * 60;

/// The builds that the batches of a day take.
///
/// What is kept back to be the next culture is as much as the next day takes of it, where that is
/// known; of several builds that keep it back, each keeps its part.
pub fn builds(
    house: &House,
    means: &Means,
    making: &Making,
    sharing: Sharing,
    beside: &Beside,
    begun: &Begun,
) -> Vec<Build> {
    let usual = all_builds(house, means, making, sharing, (beside, &[]), begun);
    let of = |key: &EcoString, is_kept: bool| {
        let own = usual.iter().filter(|build| build.kept.is_some() == is_kept);
        let kept = own.flat_map(|build| seeds(house, making, build));
        kept.filter(|(own, _)| own == key).fold(Exact::ZERO, |sum, (_, mass)| sum + mass)
    };
    let wanted = beside.wanted.iter().filter(|(_, grams)| !grams.is_zero());
    let times: Vec<(EcoString, Exact)> = wanted
        .filter_map(|(key, grams)| {
            // What is begun keeps back what it was to keep.
            let more = (grams - &of(key, true)).max(Exact::ZERO);
            Some((key.clone(), more.over(&of(key, false))?))
        })
        .collect();
    let mut all = match times.is_empty() {
        true => usual,
        false => all_builds(house, means, making, sharing, (beside, &times), begun),
    };
    number(making, begun, &mut all);
    all
}

/// Numbers the builds of each name: a name and a number are one build, whatever formulas it is of.
/// What is on hand is numbered by itself, and what is begun keeps its number.
fn number(making: &Making, begun: &Begun, all: &mut [Build]) {
    let name = |build: &Build| {
        let (product, size, stage) = build.like;
        let stages = &making.products[product].sizes[size].worked.formula.stages;
        let name = stages.get(stage).map(|stage| stage.name.key.clone());
        (name, build.given.is_some())
    };
    let names: Vec<_> = all.iter().map(name).collect();
    let held = |build: &Build| Some(begun.works.get(build.kept?.work)?.number);
    let held: Vec<Option<u32>> = all.iter().map(held).collect();
    for (build, own) in all.iter_mut().zip(numbers(&names, &held)) {
        (build.number, build.of) = own;
    }
}

/// Cultures that are kept back of a build, and how much usually.
fn seeds(house: &House, making: &Making, build: &Build) -> Vec<(EcoString, Exact)> {
    let (product, size, stage) = build.like;
    let worked = &making.products[product].sizes[size].worked;
    let numbers = worked.first();
    let usual = worked.kept_back(numbers, stage);
    let part = build.kept_back.over(&usual).unwrap_or(Exact::ZERO);
    let seeds = worked.seeds_kept(numbers, stage).into_iter();
    seeds.map(|(id, mass)| (house.culture(id).name.key.clone(), mass * &part)).collect()
}

fn all_builds(
    house: &House,
    means: &Means,
    making: &Making,
    sharing: Sharing,
    (beside, times): (&Beside, &[(EcoString, Exact)]),
    begun: &Begun,
) -> Vec<Build> {
    let classes = Classes::new(house, making);
    let mut all: Vec<Build> = kept_builds(means, making, begun);
    let mut needs: Vec<Need> = kept_needs(making, &classes, begun, &mut all);
    for (place, batch) in making.batches.iter().enumerate().filter(|(_, it)| it.kept.is_none()) {
        let product = &making.products[batch.product];
        let size = &product.sizes[batch.size];
        let end = batch.loads.iter().flat_map(|load| &load.serves);
        let by = end.map(|(wish, _)| making.wishes[*wish].by).min().unwrap_or_default();
        for (port, at) in size.shape.ports.iter().enumerate() {
            let grams = into_dough(size, at.stage) * &at.share;
            needs.push(Need {
                take: Take { taker: Taker::Batch(place), port, grams },
                like: (batch.product, batch.size, at.stage),
                class: classes.of(batch.product, at.stage),
                at: i64::from(by) - at.to_end,
                sooner: sooner(&size.shape, at),
                from_hand: false,
            });
        }
    }
    while let Some(class) = classes.next(making, &needs) {
        let (mut own, others): (Vec<Need>, Vec<Need>) =
            needs.into_iter().partition(|need| need.class == class);
        needs = others;
        own.sort_by_key(|one| (!one.from_hand, one.at, one.take.taker));
        all.extend(taken_from_hand(means, making, &classes, beside, &mut own));
        // What is begun took it, whatever is said to be on hand by now.
        own.retain(|need| !need.from_hand);
        taken_from_begun((making, begun), &classes, &mut all, &mut own);
        let clusters = clusters(means, making, own, sharing);
        for (shape, cluster) in clusters {
            let place = all.len();
            let built = built((house, making), cluster.clone(), shape, times);
            needs.extend(inner(&classes, &built, place, &cluster));
            all.push(built);
        }
    }
    all
}

/// The builds that are begun, which nothing takes yet.
fn kept_builds(means: &Means, making: &Making, begun: &Begun) -> Vec<Build> {
    let builds = begun.begun().filter_map(|(place, work)| {
        let stage = work.stage.as_deref()?;
        let product = making.products.iter().position(|product| product.is_of(work))?;
        let of = &making.products[product];
        let pieces = pieces_of(&of.kinds, work);
        let sizes = &of.sizes;
        let size = sizes.iter().position(|it| it.pieces == pieces && !it.is_kept)?;
        let worked = &sizes[size].worked;
        let stages: Vec<&str> =
            worked.formula.stages.iter().map(|stage| stage.name.key.as_str()).collect();
        let stage = stages.iter().position(|known| *known == stage)?;
        let own = worked.first().stages.get(stage)?;
        let made = grams(&work.made);
        let times = made.over(&own.made)?;
        let mut build = Build {
            like: (product, size, stage),
            number: work.number,
            of: work.number,
            lines: own.lines.iter().map(|line| scaled(line, &times)).collect(),
            made,
            kept_back: grams(&work.kept_back),
            saved: grams(&work.saved),
            takes: Vec::new(),
            shape: self::build(means, worked, &sizes[size].graph, stage),
            given: None,
            kept: None,
        };
        let own = (worked, pieces.as_slice(), of.kinds.as_slice());
        let changed = !is_as_now(means, work, own, (&build.shape, Some(&build.as_built())));
        if changed {
            build.shape = work.shape(means.house, &stages).ok()?;
            for line in &mut build.lines {
                let kept = work.lines.iter().find(|kept| kept.key == line.key.as_str());
                line.mass = kept.map(|kept| grams(&kept.grams)).unwrap_or_default();
            }
        }
        build.kept = Some(Kept { work: place, changed });
        Some(build)
    });
    builds.collect()
}

/// What batches and builds that are begun take: of what is begun too, what they took; the rest is
/// still needed.
fn kept_needs(making: &Making, classes: &Classes, begun: &Begun, all: &mut [Build]) -> Vec<Need> {
    /// Who takes, worked out of which product and size, at which ports, and what is begun of it.
    type Own = (Taker, (usize, usize), Vec<Port>, usize);
    let batches = making.batches.iter().enumerate().filter_map(|(place, batch)| {
        let ports = making.products[batch.product].sizes[batch.size].shape.ports.clone();
        Some((Taker::Batch(place), (batch.product, batch.size), ports, batch.kept?.work))
    });
    let builds = all.iter().enumerate().filter_map(|(place, build)| {
        let ports = build.shape.ports.clone();
        Some((Taker::Build(place), (build.like.0, build.like.1), ports, build.kept?.work))
    });
    let takers: Vec<Own> = batches.chain(builds).collect();
    let mut needs = Vec::new();
    for (taker, (product, size), ports, own) in takers {
        let Some(work) = begun.works.get(own) else { continue };
        let end = work.done(0).unwrap_or_default();
        for (from, other) in begun.works.iter().enumerate() {
            for take in other.takes.iter().filter(|take| take.by == work.id) {
                let Some(port) = ports.get(take.port) else { continue };
                let of = all.iter_mut().find(|it| it.kept.is_some_and(|kept| kept.work == from));
                let take = Take { taker, port: take.port, grams: grams(&take.grams) };
                if let Some(of) = of {
                    of.takes.push(take);
                    continue;
                }
                needs.push(Need {
                    take,
                    like: (product, size, port.stage),
                    class: classes.of(product, port.stage),
                    at: i64::from(end) - port.to_end,
                    sooner: 0,
                    from_hand: other.on_hand,
                });
            }
        }
    }
    needs
}

/// What of these needs is met from builds that are begun and that others take less of than they
/// were to: those that took it before come first, then those that want it while it keeps.
fn taken_from_begun(
    (making, begun): (&Making, &Begun),
    classes: &Classes,
    all: &mut [Build],
    needs: &mut Vec<Need>,
) {
    let Some(class) = needs.first().map(|need| need.class) else { return };
    let id = |taker: Taker| match taker {
        Taker::Batch(place) => making.batches.get(place).map(|batch| {
            format!("{} {}", making.products[batch.product].formula.name.key, batch.number)
        }),
        Taker::Build(_) => None,
    };
    for build in all.iter_mut().filter(|it| classes.of(it.like.0, it.like.2) == class) {
        let Some(work) = build.kept.and_then(|kept| begun.works.get(kept.work)) else { continue };
        let keeps = build.shape.ends.first().and_then(|end| Some(end.wait.1? - end.wait.0));
        let ripe = i64::from(work.done(0).unwrap_or_default());
        let until = ripe + keeps.map_or(A_DAY, i64::from);
        if until < i64::from(begun.from()) {
            continue;
        }
        let was_for = |need: &Need| {
            id(need.take.taker).is_some_and(|id| work.takes.iter().any(|take| take.by == id))
        };
        for is_first in [true, false] {
            for need in needs.iter_mut() {
                let left = build.left();
                let fits = if is_first { was_for(need) } else { need.at <= until };
                let has_some = |take: &Take| take.taker == need.take.taker;
                let is_empty = need.take.grams.is_zero();
                if !fits || left.is_zero() && !is_empty {
                    continue;
                }
                // A port at which nothing more goes in holds to what the others took.
                if is_empty && !build.takes.iter().any(has_some) {
                    continue;
                }
                let grams = left.min(need.take.grams.clone());
                need.take.grams -= &grams;
                let is_new =
                    |take: &Take| (take.taker, take.port) != (need.take.taker, need.take.port);
                if !is_empty || build.takes.iter().all(is_new) {
                    build.takes.push(Take { grams, ..need.take.clone() });
                }
            }
        }
        needs.retain(|need| {
            let is_met = |take: &Take| (take.taker, take.port) == (need.take.taker, need.take.port);
            !need.take.grams.is_zero() || !build.takes.iter().any(is_met)
        });
    }
}

/// What of these needs is met from stages that are on hand: of each, the first by the clock that
/// can wait until it is ripe.
fn taken_from_hand(
    means: &Means,
    making: &Making,
    classes: &Classes,
    beside: &Beside,
    needs: &mut Vec<Need>,
) -> Vec<Build> {
    let mut all = Vec::new();
    let Some(first) = needs.first().cloned() else { return all };
    for (name, of, given) in &beside.given {
        let is_it = |product: usize, stage: usize| {
            let formula = &making.products[product].formula;
            let stages =
                making.products[product].sizes.first().map(|size| &size.worked.formula.stages);
            classes.of(product, stage) == first.class
                && of.as_ref().is_none_or(|of| formula.name.key == *of)
                && stages.and_then(|it| it.get(stage)).is_some_and(|it| it.name.key == *name)
        };
        let stages = |product: usize| {
            making.products[product]
                .sizes
                .first()
                .map_or(0, |size| size.worked.formula.stages.len())
        };
        let is_of_class = (0..making.products.len())
            .any(|product| (0..stages(product)).any(|stage| is_it(product, stage)));
        if !is_of_class {
            continue;
        }
        let mut left = given.grams.clone();
        let mut takes = Vec::new();
        for need in needs.iter_mut() {
            let is_ripe = need.from_hand
                || given.ripe.is_none_or(|ripe| i64::from(ripe) <= need.at)
                    && given.until.is_none_or(|until| need.at <= i64::from(until));
            if !is_ripe || left.is_zero() || need.take.grams.is_zero() {
                continue;
            }
            let grams = left.clone().min(need.take.grams.clone());
            left -= &grams;
            need.take.grams -= &grams;
            takes.push(Take { grams, ..need.take.clone() });
        }
        // A port that takes nothing more depends on what is on hand alone.
        needs.retain(|need| {
            let is_met = |take: &Take| (take.taker, take.port) == (need.take.taker, need.take.port);
            !need.take.grams.is_zero() || !takes.iter().any(is_met)
        });
        let (product, size, stage) = first.like;
        let sized = &making.products[product].sizes[size];
        all.push(Build {
            like: first.like,
            number: 1,
            of: 1,
            made: given.grams.clone(),
            lines: Vec::new(),
            kept_back: Exact::ZERO,
            saved: Exact::ZERO,
            takes,
            shape: super::shape::given(
                means,
                (&sized.worked, &sized.graph),
                stage,
                given.ripe.is_some(),
            ),
            given: Some(given.clone()),
            kept: None,
        });
    }
    let wants_more = |taker: Taker, needs: &[Need]| {
        needs.iter().any(|need| need.take.taker == taker && !need.take.grams.is_zero())
    };
    let open = needs.clone();
    needs.retain(|need| {
        let taker = need.take.taker;
        if !need.take.grams.is_zero() || wants_more(taker, &open) {
            return true;
        }
        let has = |build: &&mut Build| build.takes.iter().any(|take| take.taker == taker);
        let Some(build) = all.iter_mut().rev().find(has) else { return true };
        build.takes.push(need.take.clone());
        false
    });
    all
}

/// Minutes by which a batch may take a stage sooner and still be done when it is wanted.
fn sooner(shape: &Shape, port: &Port) -> i64 {
    let distances = shape.distances();
    let at = port.at.number();
    let each = shape.ends.iter().map(|end| {
        let end_at = Point::End(end.task).number();
        let width = distances.most(at, end_at).zip(distances.least(at, end_at));
        let wait = end.wait.1.map(|most| i64::from(most - end.wait.0));
        width.zip(wait).map_or(A_DAY, |((most, least), wait)| (most - least + wait).min(A_DAY))
    });
    each.min().unwrap_or(0).max(0)
}

fn into_dough(size: &Sized, stage: usize) -> Exact {
    let stages = &size.worked.first().stages;
    stages.get(stage).map(|it| it.into_dough.clone()).unwrap_or_default()
}

/// Needs that one build can be for: as many as can be, by when they want it.
fn clusters(
    means: &Means,
    making: &Making,
    needs: Vec<Need>,
    sharing: Sharing,
) -> Vec<(Shape, Vec<Need>)> {
    let mut clusters: Vec<(Shape, Vec<Need>)> = Vec::new();
    let Some(first) = needs.first() else { return clusters };
    let (product, size, stage) = first.like;
    let sized = &making.products[product].sizes[size];
    let shape = build(means, &sized.worked, &sized.graph, stage);
    let width = shape
        .ends
        .first()
        .map_or(A_DAY, |end| end.wait.1.map_or(A_DAY, |most| i64::from(most - end.wait.0)));
    let width = match sharing {
        Sharing::Widest | Sharing::Most => width,
        Sharing::Half => width / 2,
        Sharing::Least => 0,
    };
    // A second place at which the same batch takes it wants no more of it: it is the same build.
    let (again, needs): (Vec<Need>, Vec<Need>) =
        needs.into_iter().partition(|need| need.take.grams.is_zero());
    for need in needs {
        let begins = clusters.last().and_then(|(_, cluster)| Some(cluster.first()?.at));
        let sooner = if sharing == Sharing::Widest { need.sooner } else { 0 };
        match (begins, clusters.last_mut()) {
            // The first of them is that which wants it first at the latest.
            (Some(begins), Some((_, cluster))) if need.at - sooner - begins <= width => {
                cluster.push(need);
            }
            _ => clusters.push((shape.clone(), vec![need])),
        }
    }
    for need in again {
        let takes = |(_, cluster): &&mut (Shape, Vec<Need>)| {
            cluster.iter().any(|other| other.take.taker == need.take.taker)
        };
        match clusters.iter_mut().rev().find(takes) {
            Some((_, cluster)) => cluster.push(need),
            None => clusters.push((shape.clone(), vec![need])),
        }
    }
    clusters
}

/// A build of all that is taken of it, with what is saved once and kept back in its share.
fn built(
    (house, making): (&House, &Making),
    needs: Vec<Need>,
    shape: Shape,
    more: &[(EcoString, Exact)],
) -> Build {
    let like = needs.first().map_or((0, 0, 0), |need| need.like);
    let worked = &making.products[like.0].sizes[like.1].worked;
    let numbers = worked.first();
    let stage = &numbers.stages[like.2];
    let taken = needs.iter().fold(Exact::ZERO, |sum, need| sum + &need.take.grams);
    let used = numbers.used(like.2) + &stage.saved;
    let usual = (&taken + &stage.saved).over(&used).unwrap_or(Exact::ZERO);
    // What is kept back is as much as the next day takes, where that is known.
    let kept =
        worked.seeds_kept(numbers, like.2).into_iter().fold(Exact::ZERO, |sum, (id, mass)| {
            let key = &house.culture(id).name.key;
            let more = more.iter().find(|(known, _)| known == key);
            sum + mass * &usual * more.map_or(&Exact::ONE, |(_, times)| times)
        });
    let made = &stage.made * &usual + &kept - worked.kept_back(numbers, like.2) * &usual;
    let times = made.over(&stage.made).unwrap_or_else(|| usual.clone());
    let lines = stage.lines.iter().map(|line| scaled(line, &times)).collect();
    Build {
        like,
        number: 1,
        of: 1,
        made,
        lines,
        kept_back: kept,
        saved: stage.saved.clone(),
        takes: needs.into_iter().map(|need| need.take).collect(),
        shape,
        given: None,
        kept: None,
    }
}

fn scaled(line: &WorkedLine, times: &Exact) -> WorkedLine {
    WorkedLine { mass: &line.mass * times, more: &line.more * times, ..line.clone() }
}

/// What a build takes of other stages.
fn inner(classes: &Classes, build: &Build, place: usize, cluster: &[Need]) -> Vec<Need> {
    let at = cluster.first().map_or(0, |need| need.at);
    let wait = build.shape.ends.first().map_or(0, |end| i64::from(end.wait.0));
    let (product, size, _) = build.like;
    let needs = build.shape.ports.iter().enumerate().map(|(port, inner)| {
        let own = build.lines.iter().filter(|line| line.goes == LineRef::Stage(inner.stage));
        let grams = own.fold(Exact::ZERO, |sum, line| sum + &line.mass * &inner.share);
        Need {
            take: Take { taker: Taker::Build(place), port, grams },
            like: (product, size, inner.stage),
            class: classes.of(product, inner.stage),
            at: at - inner.to_end.max(wait),
            sooner: 0,
            from_hand: false,
        }
    });
    needs.collect()
}

/// Which stages of which products are one build.
struct Classes {
    /// By product and stage.
    of: Vec<Vec<usize>>,
}

impl Classes {
    fn new(house: &House, making: &Making) -> Self {
        let mut of: Vec<Vec<usize>> = Vec::new();
        let mut next = 0;
        let worked = |product: usize| -> Option<&Worked> {
            Some(&making.products[product].sizes.first()?.worked)
        };
        for (place, _) in making.products.iter().enumerate() {
            let stages = worked(place).map_or(0, |own| own.formula.stages.len());
            let mut own: Vec<Option<usize>> = vec![None; stages];
            for (earlier, known) in of.iter().enumerate() {
                let (Some(one), Some(two)) = (worked(earlier), worked(place)) else { continue };
                for (its, mine) in same_builds(house, one, two) {
                    own[mine] = own[mine].or_else(|| known.get(its).copied());
                }
            }
            let own = own.into_iter().map(|known| {
                known.unwrap_or_else(|| {
                    next += 1;
                    next - 1
                })
            });
            of.push(own.collect());
        }
        Self { of }
    }

    fn of(&self, product: usize, stage: usize) -> usize {
        self.of.get(product).and_then(|own| own.get(stage)).copied().unwrap_or(usize::MAX)
    }

    /// A class that is needed and that nothing still needed takes.
    fn next(&self, making: &Making, needs: &[Need]) -> Option<usize> {
        let takes = |need: &Need, class: usize| {
            let (product, size, stage) = need.like;
            let numbers = making.products[product].sizes[size].worked.first();
            let mut inner: Vec<usize> = vec![stage];
            let mut at = 0;
            while let Some(&of) = inner.get(at) {
                let lines = numbers.stages.get(of).map_or(&[][..], |stage| &stage.lines);
                for line in lines {
                    if let LineRef::Stage(other) = line.goes
                        && !inner.contains(&other)
                    {
                        inner.push(other);
                    }
                }
                at += 1;
            }
            need.class != class
                && inner.iter().skip(1).any(|&other| self.of(product, other) == class)
        };
        let mut classes: Vec<usize> = needs.iter().map(|need| need.class).collect();
        classes.sort_unstable();
        classes.dedup();
        let free = classes.iter().find(|&&class| !needs.iter().any(|need| takes(need, class)));
        free.or(classes.first()).copied()
    }
}
