//! From orders to batches: what is ordered of a product, less what is on hand, in as few batches
//! as its mixer allows, each in loads of its oven.

use super::clock::Clock;
use super::loads::{Loads, shared};
use super::means::Means;
use super::resolve::Day;
use super::shape::{Shape, batch};
use crate::formula::{House, Worked, is_kind, work_as};
use crate::quantity::{Exact, Unit};
use crate::source::Span;
use crate::syntax::tree::{self, Formula, MadePiece, Makes, Name, OnHand, Ordered, Quantity, Verb};
use crate::time::day::Minute;
use crate::time::{Doing, Graph, Hands, Stretch, graph_of_one_load};

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
    /// Which of its product it is, from one.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// In the order in which they are baked.
    pub loads: Vec<Load>,
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
}

/// Batches, and loads of the oven, of one product of a day at most: 2,000 are far more than any
/// oven bakes in a day, and an order of more is a slip (common practice, no source).
pub const MOST_OF_ONE: u32 = 2_000;

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
        let mut maker = Maker { house, means, formula, kind, span: product.span };
        if let Err(why) = maker.make(&mut made, wishes, &on_hand) {
            unmade.push(why);
        }
    }
    if unmade.is_empty() { Ok(made) } else { Err(unmade) }
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
        let mut batches: Vec<Batch> = Vec::new();
        for group in groups(&wishes, &made.wishes) {
            let all = group.iter().fold(0u32, |sum, (_, count)| sum.saturating_add(*count));
            let mut serves = group.into_iter();
            let mut open = serves.next();
            for pieces in self.parts(all)? {
                let size = self.size(&mut product_made, pieces)?;
                let loads = product_made.sizes[size].loads.pieces.clone();
                let loads = loads
                    .into_iter()
                    .map(|pieces| Load { pieces, serves: taken(&mut open, &mut serves, pieces) });
                let loads = loads.collect();
                batches.push(Batch { product, size, number: 0, of: 0, loads });
            }
        }
        let of = u32::try_from(batches.len()).unwrap_or(u32::MAX);
        for (number, batch) in (1..).zip(&mut batches) {
            (batch.number, batch.of) = (number, of);
        }
        made.batches.extend(batches);
        made.products.push(product_made);
        Ok(())
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
            0..=MOST_OF_ONE => Ok(count),
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
        if let Some(known) = product.sizes.iter().position(|size| size.pieces == pieces) {
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
        product.sizes.push(Sized { pieces, worked, graph, shape, loads });
        Ok(product.sizes.len() - 1)
    }
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
fn groups(wishes: &[usize], all: &[Wish]) -> Vec<Vec<(usize, u32)>> {
    /// From when until when it has to be fresh, and wishes with how many are still to be made.
    type Group = (Option<(Minute, Minute)>, Vec<(usize, u32)>);
    let mut groups: Vec<Group> = Vec::new();
    for &place in wishes {
        let wish = &all[place];
        let left = wish.count - wish.on_hand;
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
fn taken(
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
