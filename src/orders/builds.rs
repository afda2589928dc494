//! Stages that batches share: built once for all that take them, or as seldom as they keep.

use super::making::{Making, Sized};
use super::means::Means;
use super::shape::{Shape, build};
use crate::formula::{House, LineRef, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::time::day::Minute;
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
    /// As much as a build keeps.
    Most,
    /// Only those that want it within half of that.
    Half,
    /// Only those that want it at the same time.
    Least,
}

impl Sharing {
    /// In the order in which they are tried: fewer builds first.
    pub const ALL: [Self; 3] = [Self::Most, Self::Half, Self::Least];
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
) -> Vec<Build> {
    let usual = all_builds(house, means, making, sharing, (beside, &[]));
    let of = |key: &EcoString| {
        let kept = usual.iter().flat_map(|build| seeds(house, making, build));
        kept.filter(|(own, _)| own == key).fold(Exact::ZERO, |sum, (_, mass)| sum + mass)
    };
    let wanted = beside.wanted.iter().filter(|(_, grams)| !grams.is_zero());
    let times: Vec<(EcoString, Exact)> =
        wanted.filter_map(|(key, grams)| Some((key.clone(), grams.over(&of(key))?))).collect();
    if times.is_empty() {
        return usual;
    }
    all_builds(house, means, making, sharing, (beside, &times))
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
) -> Vec<Build> {
    let classes = Classes::new(house, making);
    let mut needs: Vec<Need> = Vec::new();
    for (place, batch) in making.batches.iter().enumerate() {
        let product = &making.products[batch.product];
        let size = &product.sizes[batch.size];
        let end = batch.loads.iter().flat_map(|load| &load.serves);
        let by = end.map(|(wish, _)| making.wishes[*wish].by).min().unwrap_or_default();
        let mut seen: Vec<usize> = Vec::new();
        for (port, at) in size.shape.ports.iter().enumerate() {
            let is_first = !seen.contains(&at.stage);
            seen.push(at.stage);
            let grams = match is_first {
                true => into_dough(size, at.stage),
                false => Exact::ZERO,
            };
            needs.push(Need {
                take: Take { taker: Taker::Batch(place), port, grams },
                like: (batch.product, batch.size, at.stage),
                class: classes.of(batch.product, at.stage),
                at: i64::from(by) - at.to_end,
            });
        }
    }
    let mut all: Vec<Build> = Vec::new();
    while let Some(class) = classes.next(making, &needs) {
        let (mut own, others): (Vec<Need>, Vec<Need>) =
            needs.into_iter().partition(|need| need.class == class);
        needs = others;
        own.sort_by_key(|one| (one.at, one.take.taker));
        all.extend(taken_from_hand(means, making, &classes, beside, &mut own));
        let clusters = clusters(means, making, own, sharing);
        let of = u32::try_from(clusters.len()).unwrap_or(u32::MAX);
        for (number, (shape, cluster)) in (1..).zip(clusters) {
            let place = all.len();
            let built = built((house, making), cluster.clone(), shape, (number, of), times);
            needs.extend(inner(making, &classes, &built, place, &cluster));
            all.push(built);
        }
    }
    all
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
            let is_ripe = given.ripe.is_none_or(|ripe| i64::from(ripe) <= need.at)
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
        });
    }
    all
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
        Sharing::Most => width,
        Sharing::Half => width / 2,
        Sharing::Least => 0,
    };
    for need in needs {
        let begins = clusters.last().and_then(|(_, cluster)| Some(cluster.first()?.at));
        match (begins, clusters.last_mut()) {
            (Some(begins), Some((_, cluster))) if need.at - begins <= width => cluster.push(need),
            _ => clusters.push((shape.clone(), vec![need])),
        }
    }
    clusters
}

/// A build of all that is taken of it, with what is saved once and kept back in its share.
fn built(
    (house, making): (&House, &Making),
    needs: Vec<Need>,
    shape: Shape,
    (number, of): (u32, u32),
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
        number,
        of,
        made,
        lines,
        kept_back: kept,
        saved: stage.saved.clone(),
        takes: needs.into_iter().map(|need| need.take).collect(),
        shape,
        given: None,
    }
}

fn scaled(line: &WorkedLine, times: &Exact) -> WorkedLine {
    WorkedLine { mass: &line.mass * times, more: &line.more * times, ..line.clone() }
}

/// What a build takes of other stages.
fn inner(
    making: &Making,
    classes: &Classes,
    build: &Build,
    place: usize,
    cluster: &[Need],
) -> Vec<Need> {
    let at = cluster.first().map_or(0, |need| need.at);
    let wait = build.shape.ends.first().map_or(0, |end| i64::from(end.wait.0));
    let (product, size, _) = build.like;
    let _ = making;
    let mut seen: Vec<usize> = Vec::new();
    let needs = build.shape.ports.iter().enumerate().map(|(port, inner)| {
        let is_first = !seen.contains(&inner.stage);
        seen.push(inner.stage);
        let own = build.lines.iter().filter(|line| line.goes == LineRef::Stage(inner.stage));
        let grams = own.filter(|_| is_first).fold(Exact::ZERO, |sum, line| sum + &line.mass);
        Need {
            take: Take { taker: Taker::Build(place), port, grams },
            like: (product, size, inner.stage),
            class: classes.of(product, inner.stage),
            at: at - inner.to_end.max(wait),
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
