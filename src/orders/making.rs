//! From orders to batches: what is ordered of a product, less what is on hand, in as few batches
//! as its mixer allows, each in loads of its oven.

use super::begun::{Begun, Work};
use super::clock::Clock;
use super::kept::is_as_now;
use super::loads::{Loads, shared};
use super::means::Means;
use super::resolve::{Day, kinds};
use super::shape::{Shape, batch};
use crate::formula::{House, Worked, is_kind, work_as};
use crate::quantity::{Exact, Unit};
use crate::source::Span;
use crate::syntax::tree::{self, Formula, MadePiece, Makes, Name, OnHand, Ordered, Quantity, Verb};
use crate::time::day::Minute;
use crate::time::{Doing, Graph, Hands, Stretch, elapsed, graph_of_one_load};
use ecow::EcoString;

/// One line of an order, by the clock.
#[derive(Clone, Debug)]
pub struct Wish {
    /// By its place among the day's orders.
    pub order: usize,
    /// By its place in the order.
    pub line: usize,
    /// How many pieces, or grams of dough.
    pub count: u32,
    /// How many of them are on hand.
    pub on_hand: u32,
    /// Done by then.
    pub by: Minute,
    /// Not done before.
    pub after: Option<Minute>,
}

/// A load of a batch, and the wishes that it is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Load {
    /// Pieces, or grams of dough.
    pub pieces: u32,
    /// By their places among the wishes, each with how many of the pieces.
    pub serves: Vec<(usize, u32)>,
}

/// A batch of a product.
#[derive(Clone, Debug)]
pub struct Batch {
    /// By its place among the products.
    pub product: usize,
    /// By its place among the product's sizes.
    pub size: usize,
    /// Which of its formula it is, from one, whatever kind of pieces it makes.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// In the order in which they are baked.
    pub loads: Vec<Load>,
    /// It is begun, and stays as it is.
    pub kept: Option<Kept>,
}

/// What a batch or build was in the plan so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// By its place among [`Begun::works`].
    pub work: usize,
    /// Whether its formula would make something else of it today.
    pub changed: bool,
}

/// A formula worked out for a batch of some size.
pub struct Sized<'t> {
    /// Pieces, or grams of dough.
    pub pieces: u32,
    /// As `--makes` would have it.
    pub worked: Worked<'t>,
    /// Its steps in time.
    pub graph: Graph,
    /// What takes something in it.
    pub shape: Shape,
    /// How it goes through the oven.
    pub loads: Loads,
    /// It is that of a batch that is begun, and of no other.
    pub is_kept: bool,
}

/// A product of the day: a formula and a kind of its pieces.
pub struct Product<'t> {
    /// The formula.
    pub formula: &'t Formula,
    /// The kind of pieces; none for dough.
    pub kind: Option<Name>,
    /// The sizes that its batches have, the largest first.
    pub sizes: Vec<Sized<'t>>,
    /// Pieces that nobody ordered of those there.
    pub left_over: u32,
}

/// Why a product can't be made.
#[derive(Clone, Debug)]
pub enum Unmade {
    /// It has no method, or one with too many steps.
    NoMethod(Name),
    /// Something of it is an error.
    Unsound(Name),
    /// What is ordered of it would be so many batches or loads of the oven.
    TooMany(Name, u32),
    /// A batch or build of it is begun, and this that it was planned with is not there any more.
    Begun(Name, String, String),
}

/// Batches, and loads of the oven, of one product of a day at most: 2,000 are far more than any
/// oven bakes in a day, and an order of more is a slip (common practice, no source).
pub const MAX_OF_ONE: u32 = 2_000;

/// All that is made on a day.
#[derive(Default)]
pub struct Making<'t> {
    /// In the order in which they are first ordered.
    pub products: Vec<Product<'t>>,
    /// Every line of every order.
    pub wishes: Vec<Wish>,
    /// Of all products.
    pub batches: Vec<Batch>,
}

/// Parts the orders of a day into batches.
///
/// # Errors
/// The products that can't be made.
pub fn making<'t>(
    house: &'t House<'t>,
    means: &Means<'_, 't>,
    day: &Day<'t>,
    clock: &Clock,
    begun: &Begun,
) -> Result<Making<'t>, Vec<Unmade>> {
    let mut made = Making::default();
    let mut unmade = Vec::new();
    let mut known: Vec<(Name, Option<Name>, Vec<usize>)> = Vec::new();
    for (order, of) in day.orders.iter().enumerate() {
        for (line, wish) in of.wishes.iter().enumerate() {
            let (count, kind) = counted(house, &wish.amount);
            let place = made.wishes.len();
            let after = wish.after.map(|after| clock.minute(after));
            let by = clock.minute(wish.by);
            made.wishes.push(Wish { order, line, count, on_hand: 0, by, after });
            let is_same = |(product, own, _): &&mut (Name, Option<Name>, Vec<usize>)| {
                let alike = match (own, &kind) {
                    (Some(own), Some(kind)) => is_kind(&own.key, &kind.key),
                    (None, None) => true,
                    _ => false,
                };
                product.key == of.product.key && alike
            };
            match known.iter_mut().find(is_same) {
                Some((.., wishes)) => wishes.push(place),
                None => known.push((of.product.clone(), kind, vec![place])),
            }
        }
    }
    for (_, work) in begun.begun() {
        let is_it = |(product, kind, _): &(Name, Option<Name>, Vec<usize>)| {
            product.key == work.formula && is_of_kind(work, kind.as_ref())
        };
        if known.iter().any(is_it) {
            continue;
        }
        match kept_product(house, work, day.span) {
            Ok((product, kind)) => known.push((product, kind, Vec::new())),
            Err(why) => unmade.push(why),
        }
    }
    // The order in which orders are written means nothing.
    known.sort_by(|one, two| {
        let key = |it: &(Name, Option<Name>, Vec<usize>)| {
            (it.0.key.clone(), it.1.as_ref().map(|kind| kind.key.clone()))
        };
        key(one).cmp(&key(two))
    });
    let carried = day.carried.iter().map(|it| &it.there);
    let on_hand: Vec<&OnHand> = day.on_hand.iter().chain(carried).collect();
    for (product, kind, wishes) in known {
        let Some(formula) = house.formula(&product.key) else {
            unmade.push(Unmade::Unsound(product));
            continue;
        };
        let mut maker = Maker { house, means, formula, kind, span: product.span, begun };
        if let Err(why) = maker.make(&mut made, wishes, &on_hand) {
            unmade.push(why);
        }
    }
    number(&mut made, begun);
    if unmade.is_empty() { Ok(made) } else { Err(unmade) }
}

/// Whether something that is begun is of a kind of pieces; of dough, of none.
fn is_of_kind(work: &Work, kind: Option<&Name>) -> bool {
    match (&work.kind, kind) {
        (Some(own), Some(kind)) => is_kind(own, &kind.key),
        (None, None) => true,
        _ => false,
    }
}

/// The formula and the kind of something that is begun, which nobody orders any more.
fn kept_product(house: &House, work: &Work, span: Span) -> Result<(Name, Option<Name>), Unmade> {
    let name = |key: &str| Name { key: key.into(), shown: key.into(), span };
    let lacks =
        |what: &str| Err(Unmade::Begun(name(&work.formula), work.id.clone(), what.to_owned()));
    let Some(formula) = house.formula(&work.formula) else { return lacks(&work.formula) };
    let product = Name { span, ..formula.name.clone() };
    let Some(kind) = &work.kind else { return Ok((product, None)) };
    match kinds(house, formula).iter().any(|known| is_kind(known, kind)) {
        true => Ok((product, Some(name(kind)))),
        false => lacks(kind),
    }
}

/// Numbers the batches of each formula, of all its kinds: a formula and a number are one batch.
/// What is begun keeps its number.
fn number(made: &mut Making, begun: &Begun) {
    let formulas: Vec<EcoString> =
        made.batches.iter().map(|it| made.products[it.product].formula.name.key.clone()).collect();
    let kept = |batch: &Batch| batch.kept.and_then(|kept| begun.works.get(kept.work));
    let held: Vec<Option<u32>> =
        made.batches.iter().map(|batch| kept(batch).map(|work| work.number)).collect();
    for (batch, own) in made.batches.iter_mut().zip(numbers(&formulas, &held)) {
        (batch.number, batch.of) = own;
    }
}

/// A number for each of these names, from one for each name, and the last of it; some are held.
pub fn numbers<N: PartialEq>(names: &[N], held: &[Option<u32>]) -> Vec<(u32, u32)> {
    let mut numbers: Vec<u32> = held.iter().map(|held| held.unwrap_or(0)).collect();
    for place in 0..names.len() {
        if numbers[place] > 0 {
            continue;
        }
        let is_same = |other: &usize| names[*other] == names[place];
        let used: Vec<u32> = (0..names.len()).filter(is_same).map(|other| numbers[other]).collect();
        numbers[place] = (1..).find(|number| !used.contains(number)).unwrap_or(u32::MAX);
    }
    let last = |place: usize| {
        let same = (0..names.len()).filter(|other| names[*other] == names[place]);
        same.map(|other| numbers[other]).max().unwrap_or(1)
    };
    (0..names.len()).map(|place| (numbers[place], last(place))).collect()
}

/// Pieces and their kind; grams of dough.
fn counted(house: &House, amount: &Ordered) -> (u32, Option<Name>) {
    // What no number here can hold is too many, and never none.
    let number = |exact: Exact| {
        exact.ceil().to_whole().and_then(|it| u32::try_from(it).ok()).unwrap_or(u32::MAX)
    };
    match amount {
        Ordered::Pieces(count, kind) => (number(count.number.clone()), Some(kind.clone())),
        Ordered::Weight(weight) => (number(house.base(weight)), None),
    }
}

struct Maker<'m, 't> {
    house: &'t House<'t>,
    means: &'m Means<'m, 't>,
    formula: &'t Formula,
    kind: Option<Name>,
    span: Span,
    begun: &'m Begun,
}

impl<'t> Maker<'_, 't> {
    fn make(
        &mut self,
        made: &mut Making<'t>,
        mut wishes: Vec<usize>,
        on_hand: &[&OnHand],
    ) -> Result<(), Unmade> {
        wishes.sort_by_key(|&wish| (made.wishes[wish].by, made.wishes[wish].count, wish));
        let there = self.there(on_hand);
        let mut left = there;
        for &wish in &wishes {
            let wish = &mut made.wishes[wish];
            // What must be fresh is not taken from what is there.
            if wish.after.is_none() {
                wish.on_hand = left.min(wish.count);
                left -= wish.on_hand;
            }
        }
        let product = made.products.len();
        let mut product_made = Product {
            formula: self.formula,
            kind: self.kind.clone(),
            sizes: Vec::new(),
            left_over: left,
        };
        let mut batches = self.begun(product, &mut product_made)?;
        let left = self.serve(&mut batches, &product_made, &wishes, &made.wishes);
        let mut before = self.before();
        for group in groups(&left, &made.wishes) {
            let all = group.iter().fold(0u32, |sum, (_, count)| sum.saturating_add(*count));
            let mut serves = group.into_iter();
            let mut open = serves.next();
            for pieces in ordered_as(&mut before, self.parts(all)?) {
                let size = self.size(&mut product_made, pieces)?;
                let loads = product_made.sizes[size].loads.pieces.clone();
                let loads = loads
                    .into_iter()
                    .map(|pieces| Load { pieces, serves: taken(&mut open, &mut serves, pieces) });
                let loads = loads.collect();
                batches.push(Batch { product, size, number: 0, of: 0, loads, kept: None });
            }
        }
        made.batches.extend(batches);
        made.products.push(product_made);
        Ok(())
    }

    /// The batches of the product that are begun, for nobody yet; and the sizes that builds which
    /// are begun were worked out of.
    fn begun(&self, product: usize, own: &mut Product<'t>) -> Result<Vec<Batch>, Unmade> {
        let mut batches = Vec::new();
        for (place, work) in self.begun.begun() {
            if work.formula != self.formula.name.key.as_str()
                || !is_of_kind(work, self.kind.as_ref())
            {
                continue;
            }
            let lacks = |what: String| {
                let name = Name { span: self.span, ..self.formula.name.clone() };
                Unmade::Begun(name, work.id.clone(), what)
            };
            let whole = || lacks(self.formula.name.shown.to_string());
            let worked = self.worked(work.pieces);
            if !worked.sound {
                return Err(whole());
            }
            let graph = graph_of_one_load(self.house, &worked).ok_or_else(whole)?;
            let stages: Vec<&str> =
                worked.formula.stages.iter().map(|stage| stage.name.key.as_str()).collect();
            let kept = work.shape(self.house, &stages).map_err(lacks)?;
            if let Some(stage) = &work.stage {
                if !stages.contains(&stage.as_str()) {
                    return Err(lacks(stage.clone()));
                }
                self.size(own, work.pieces)?;
                continue;
            }
            let loads = Loads { pieces: work.loads.clone() };
            let shape = batch(self.means, &worked, &graph, &loads);
            let pieces = work.pieces;
            let of = (&worked, pieces, work.kind.as_deref());
            let changed = !is_as_now(self.means, work, of, (&shape, None));
            let mut sized = Sized { pieces, worked, graph, shape, loads, is_kept: true };
            if changed {
                sized.shape = kept;
            }
            let loads = work.loads.iter().map(|&pieces| Load { pieces, serves: Vec::new() });
            let (loads, size) = (loads.collect(), own.sizes.len());
            own.sizes.push(sized);
            let kept = Some(Kept { work: place, changed });
            batches.push(Batch { product, size, number: 0, of: 0, loads, kept });
        }
        Ok(batches)
    }

    /// Pieces of the batches of the plan so far that are not begun, in their order.
    fn before(&self) -> Vec<u32> {
        let all = self.begun.works.iter().zip(&self.begun.is_begun);
        let mut own: Vec<(u32, u32)> = all
            .filter(|(work, begun)| {
                !**begun
                    && work.is_batch()
                    && work.formula == self.formula.name.key.as_str()
                    && is_of_kind(work, self.kind.as_ref())
            })
            .map(|(work, _)| (work.number, work.pieces))
            .collect();
        own.sort_unstable();
        own.into_iter().map(|(_, pieces)| pieces).collect()
    }

    /// Gives the loads of what is begun to the wishes, the first by the clock first: to those that
    /// have to be fresh, to those for which they are in time, then to all for which a batch that is
    /// begun now would be no sooner. What each wish still wants is left.
    fn serve(
        &self,
        batches: &mut [Batch],
        product: &Product,
        wishes: &[usize],
        all: &[Wish],
    ) -> Vec<(usize, u32)> {
        let mut left: Vec<(usize, u32)> =
            wishes.iter().map(|&wish| (wish, all[wish].count - all[wish].on_hand)).collect();
        let mut loads: Vec<(Minute, usize, usize, u32)> = Vec::new();
        for (place, batch) in batches.iter().enumerate() {
            let work = batch.kept.and_then(|kept| self.begun.works.get(kept.work));
            for (load, of) in batch.loads.iter().enumerate() {
                let done = work.and_then(|work| work.done(load)).unwrap_or(Minute::MAX / 4);
                loads.push((done, place, load, of.pieces));
            }
        }
        loads.sort_unstable();
        let shortest = product.sizes.first().map_or(0, |size| {
            let whole = elapsed(&size.graph).low.ceil().to_whole();
            whole.and_then(|it| Minute::try_from(it).ok()).unwrap_or(0)
        });
        let soonest = self.begun.from().saturating_add(shortest);
        for turn in 0..3 {
            for (wish, left) in &mut left {
                let of = &all[*wish];
                let fits = |done: Minute| {
                    let is_fresh = of.after.is_none_or(|after| done >= after);
                    is_fresh
                        && match turn {
                            0 => of.after.is_some() && done <= of.by,
                            1 => done <= of.by,
                            _ => done <= of.by.max(soonest),
                        }
                };
                for (done, batch, load, there) in &mut loads {
                    let taken = (*there).min(*left);
                    if taken > 0 && fits(*done) {
                        batches[*batch].loads[*load].serves.push((*wish, taken));
                        *there -= taken;
                        *left -= taken;
                    }
                }
            }
        }
        left
    }

    /// Pieces of the kind that are there.
    fn there(&self, on_hand: &[&OnHand]) -> u32 {
        let own = on_hand.iter().filter(|it| it.name.key == self.formula.name.key);
        let counts = own.filter_map(|it| match (&it.amount, &self.kind) {
            (Ordered::Pieces(_, kind), Some(own)) if is_kind(&kind.key, &own.key) => {
                Some(counted(self.house, &it.amount).0)
            }
            _ => None,
        });
        counts.fold(0, u32::saturating_add)
    }

    fn worked(&self, count: u32) -> Worked<'t> {
        let quantity =
            |number: Exact, unit| Quantity { number, unit, decimals: Some(0), span: self.span };
        let pieces = self.kind.iter().map(|kind| MadePiece {
            count: quantity(Exact::from(count), Unit::Count),
            counted: true,
            kind: kind.clone(),
            weight: None,
            baked: false,
            tin: self.tin(kind),
            span: self.span,
        });
        let makes = Makes {
            pieces: pieces.collect(),
            dough: self.kind.is_none().then(|| quantity(Exact::from(count), Unit::Gram)),
            from: None,
            factor: None,
            span: self.span,
        };
        work_as(self.house, self.formula, &makes, &mut Vec::new())
    }

    /// The tin that pieces of the kind are baked in, where the formula sizes them by it.
    fn tin(&self, kind: &Name) -> Option<Name> {
        let written = self.formula.makes.iter().flat_map(|makes| &makes.pieces);
        let mut own = written.filter(|made| is_kind(&made.kind.key, &kind.key));
        own.next()
            .filter(|made| made.weight.is_none())
            .and_then(|made: &tree::MadePiece| made.tin.clone())
    }

    /// How many pieces each batch has: as few batches as the mixer allows, as equal as can be.
    fn parts(&self, all: u32) -> Result<Vec<u32>, Unmade> {
        if all == 0 {
            return Ok(Vec::new());
        }
        let worked = self.worked(all);
        if !worked.sound {
            return Err(Unmade::Unsound(self.formula.name.clone()));
        }
        let held = self.kind.as_ref().and_then(|kind| self.means.deck_holds(&worked, &kind.key));
        let loads = held.filter(|held| *held > 0).map_or(1, |held| all.div_ceil(held));
        let few = |count: u32| match count {
            0..=MAX_OF_ONE => Ok(count),
            _ => {
                let name = Name { span: self.span, ..self.formula.name.clone() };
                Err(Unmade::TooMany(name, count))
            }
        };
        few(loads)?;
        let by_oven = self.oven_takes(&worked).map_or(1, |most| all.div_ceil(most.max(1)));
        let Some(most) = self.means.most_dough(&worked) else {
            return Ok(shared(all, few(by_oven)?));
        };
        let count = worked.first().whole.mass().over(&most).map(|count| count.ceil());
        let count = count.and_then(|it| it.to_whole());
        let count = count.map_or(1, |it| u32::try_from(it).unwrap_or(u32::MAX));
        let mut count = few(count.max(by_oven).clamp(1, all))?;
        // Whole pieces make the larger batches a little larger than an equal part.
        while count < all {
            let largest = shared(all, count).first().copied().unwrap_or(all);
            if self.worked(largest).first().whole.mass() <= most {
                break;
            }
            count += 1;
        }
        Ok(shared(all, count))
    }

    /// The most pieces whose loads can all go into the oven while the wait before it lasts; none
    /// where nothing says so. A pair of hands puts in one load after the other.
    fn oven_takes(&self, worked: &Worked) -> Option<u32> {
        let held = self.means.deck_holds(worked, &self.kind.as_ref()?.key).filter(|it| *it > 0)?;
        let oven = self.house.ovens().get(self.means.oven_of(worked)?)?;
        let decks = i64::from(oven.decks.max(1));
        let graph = graph_of_one_load(self.house, worked)?;
        let width = wait_before_oven(worked, &graph)?;
        let (width, bake) = (width.0?, width.1);
        let moments = 2 * self.means.moment.max(1);
        let loads = match width - moments * decks {
            short if short < 0 => (1 + width / moments).min(decks),
            left => decks * (1 + left / (bake + moments)),
        };
        u32::try_from(i64::from(held).saturating_mul(loads)).ok()
    }

    /// The place of a size, worked out where it was not yet.
    fn size(&self, product: &mut Product<'t>, pieces: u32) -> Result<usize, Unmade> {
        if let Some(known) =
            product.sizes.iter().position(|size| size.pieces == pieces && !size.is_kept)
        {
            return Ok(known);
        }
        let name = || self.formula.name.clone();
        let worked = self.worked(pieces);
        if !worked.sound {
            return Err(Unmade::Unsound(name()));
        }
        let graph =
            graph_of_one_load(self.house, &worked).ok_or_else(|| Unmade::NoMethod(name()))?;
        let held = self.kind.as_ref().and_then(|kind| self.means.deck_holds(&worked, &kind.key));
        let loads = Loads::of(pieces, held);
        let shape = batch(self.means, &worked, &graph, &loads);
        product.sizes.push(Sized { pieces, worked, graph, shape, loads, is_kept: false });
        Ok(product.sizes.len() - 1)
    }
}

/// Parts in the order in which an earlier plan had those of their sizes, so that nothing moves that
/// need not.
fn ordered_as(before: &mut Vec<u32>, mut parts: Vec<u32>) -> Vec<u32> {
    let mut ordered = Vec::new();
    before.retain(|pieces| {
        let place = parts.iter().position(|part| part == pieces);
        ordered.extend(place.map(|place| parts.remove(place)));
        place.is_none()
    });
    ordered.extend(parts);
    ordered
}

/// By how many minutes the last wait before the oven can be longer, none where it has no end; and
/// the minutes of the bake.
fn wait_before_oven(worked: &Worked, graph: &Graph) -> Option<(Option<i64>, i64)> {
    let whole = |minutes: &Exact| minutes.floor().to_whole().and_then(|it| i64::try_from(it).ok());
    let step_of = |stretch: &Stretch| match stretch.doing {
        Doing::Step { stage: None, step, .. } => Some(step),
        _ => None,
    };
    let steps = &worked.formula.method.as_ref()?.steps;
    let bake = steps.iter().position(|step| step.verb == Verb::Bake)?;
    let length = graph.stretches.iter().filter(|it| step_of(it) == Some(bake));
    let length = length.filter_map(|it| whole(&it.low)).sum();
    let waits = graph.stretches.iter().filter(|it| {
        it.hands == Hands::Off && step_of(it).is_some_and(|step| step < bake) && !it.untimed
    });
    // Loads part where they can wait.
    let waits = waits.filter(|it| it.high.as_ref().is_none_or(|high| *high > it.low));
    let Some(wait) = waits.max_by_key(|it| step_of(it)) else { return Some((Some(0), length)) };
    let width = wait.high.as_ref().map(|high| whole(&(high - &wait.low)).unwrap_or(0).max(0));
    Some((width, length))
}

/// Wishes that batches are made for together, each with how many are still to be made: all that
/// may be done early, and those that have to be fresh at one time.
fn groups(wishes: &[(usize, u32)], all: &[Wish]) -> Vec<Vec<(usize, u32)>> {
    /// From when until when it has to be fresh, and wishes with how many are still to be made.
    type Group = (Option<(Minute, Minute)>, Vec<(usize, u32)>);
    let mut groups: Vec<Group> = Vec::new();
    for &(place, left) in wishes {
        let wish = &all[place];
        if left == 0 {
            continue;
        }
        let key = wish.after.map(|after| (after, wish.by));
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.push((place, left)),
            None => groups.push((key, vec![(place, left)])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// So many pieces of what wishes still want, in their order.
pub fn taken(
    open: &mut Option<(usize, u32)>,
    later: &mut impl Iterator<Item = (usize, u32)>,
    mut pieces: u32,
) -> Vec<(usize, u32)> {
    let mut serves = Vec::new();
    while let (Some((wish, left)), true) = (*open, pieces > 0) {
        let taken = left.min(pieces);
        serves.push((wish, taken));
        pieces -= taken;
        *open = if left > taken { Some((wish, left - taken)) } else { later.next() };
    }
    serves
}
