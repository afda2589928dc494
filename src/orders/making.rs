//! From orders to batches: what is ordered of a product, less what is on hand, in as few batches
//! as its mixer allows, each in loads of its oven.

use super::begun::{Begun, Work};
use super::clock::Clock;
use super::kept::is_as_now;
use super::loads::{Loads, in_loads, shared};
use super::means::Means;
use super::resolve::{ResolvedDay, kinds};
use super::shape::{Shape, batch};
use crate::formula::{House, Worked, is_kind, work_as};
use crate::quantity::{Exact, Unit};
use crate::source::Span;
use crate::syntax::tree::{self, Formula, MadePiece, Makes, Name, OnHand, Ordered, Quantity, Verb};
use crate::time::day::Minute;
use crate::time::{Doing, Graph, Hands, Stretch, elapsed};
use ecow::EcoString;

/// One line of an order, by the clock.
#[derive(Clone, Debug)]
pub struct Wish {
    /// By its place among the day's orders.
    pub order: usize,
    /// By its place in the order.
    pub line: usize,
    /// The kind of pieces, by its place among the product's; nought for dough.
    pub kind: usize,
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
    /// The kind of pieces, by its place among the product's; nought for dough.
    pub kind: usize,
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
    /// Pieces of each kind of the product, or grams of dough.
    pub pieces: Vec<u32>,
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

/// A product of the day: a formula and the kinds of pieces that are ordered of it, which may be made
/// of one dough.
pub struct Product<'t> {
    /// The formula.
    pub formula: &'t Formula,
    /// The kinds of pieces; none for dough.
    pub kinds: Vec<Name>,
    /// The sizes that its batches have, the largest first.
    pub sizes: Vec<Sized<'t>>,
    /// Pieces that nobody ordered of those there, by their kinds.
    pub left_over: Vec<u32>,
}

impl Product<'_> {
    /// The kind of pieces that has a place among those of the product; none for dough.
    pub fn kind(&self, place: usize) -> Option<&Name> {
        self.kinds.get(place)
    }

    /// Whether something that is begun is of it.
    pub fn is_of(&self, work: &Work) -> bool {
        self.formula.name.key == work.formula && self.kinds.is_empty() == work.kinds.is_empty()
    }
}

/// A load of what is begun: when it is done, at the earliest and at the latest; its batch and its
/// place there; its kind, and how many pieces of it are for nobody yet.
type BegunLoad = ((Minute, Minute), usize, usize, usize, u32);

/// Why a product can't be made.
#[derive(Clone, Debug)]
pub enum Unmade {
    /// It has no method, or one with too many steps.
    NoMethod(Name),
    /// Something of it is an error.
    Unsound(Name),
    /// It can't be timed for the room that is asked for, and why.
    NotTimed(Name, String),
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
    /// Whether a batch that is not begun is of several kinds.
    pub has_mixed: bool,
}

/// A formula of which something is to be made: pieces, of which kinds, or dough; and for which
/// wishes.
struct MadeFormula {
    product: Name,
    kinds: Vec<Name>,
    is_dough: bool,
    wishes: Vec<usize>,
}

impl MadeFormula {
    /// The place of a kind of pieces, which is added where it was not there.
    fn kind(&mut self, kind: &Name) -> usize {
        let place = self.kinds.iter().position(|known| is_kind(&known.key, &kind.key));
        place.unwrap_or_else(|| {
            self.kinds.push(kind.clone());
            self.kinds.len() - 1
        })
    }
}

/// Parts the orders of a day into batches; `together`, pieces of several kinds into one dough where
/// that makes fewer batches.
///
/// # Errors
/// The products that can't be made.
pub fn making<'t>(
    house: &'t House<'t>,
    means: &Means<'_, 't>,
    day: &ResolvedDay<'t>,
    clock: &Clock,
    begun: &Begun,
    together: bool,
) -> Result<Making<'t>, Vec<Unmade>> {
    let mut made = Making::default();
    let mut unmade = Vec::new();
    let mut known: Vec<MadeFormula> = Vec::new();
    for (order, of) in day.orders.iter().enumerate() {
        for (line, wish) in of.wishes.iter().enumerate() {
            let (count, kind) = counted(house, &wish.amount);
            let place = made.wishes.len();
            let after = wish.after.map(|after| clock.minute(after));
            let by = clock.minute(wish.by);
            let own = known_of(&mut known, &of.product, kind.is_none());
            own.wishes.push(place);
            let kind = kind.map_or(0, |kind| own.kind(&kind));
            made.wishes.push(Wish { order, line, kind, count, on_hand: 0, by, after });
        }
    }
    for (_, work) in begun.begun() {
        match kept_product(house, work, day.span) {
            Ok((product, kinds)) => {
                let own = known_of(&mut known, &product, kinds.is_empty());
                kinds.iter().for_each(|kind| {
                    own.kind(kind);
                });
            }
            Err(why) => unmade.push(why),
        }
    }
    // The order in which orders are written means nothing.
    known.sort_by(|one, two| {
        (&one.product.key, one.is_dough).cmp(&(&two.product.key, two.is_dough))
    });
    let carried = day.carried.iter().map(|it| &it.there);
    let on_hand: Vec<&OnHand> = day.on_hand.iter().chain(carried).collect();
    for mut own in known {
        let mut order: Vec<usize> = (0..own.kinds.len()).collect();
        order.sort_by(|one, two| own.kinds[*one].key.cmp(&own.kinds[*two].key));
        for &wish in own.wishes.iter().filter(|_| !own.is_dough) {
            let kind = made.wishes[wish].kind;
            made.wishes[wish].kind = order.iter().position(|it| *it == kind).unwrap_or(0);
        }
        own.kinds.sort_by(|one, two| one.key.cmp(&two.key));
        let Some(formula) = house.formula(&own.product.key) else {
            unmade.push(Unmade::Unsound(own.product));
            continue;
        };
        let span = own.product.span;
        let mut maker = Maker { house, means, formula, kinds: own.kinds, span, begun, together };
        if let Err(why) = maker.make(&mut made, own.wishes, &on_hand) {
            unmade.push(why);
        }
    }
    number(&mut made, begun);
    if unmade.is_empty() { Ok(made) } else { Err(unmade) }
}

/// What is to be made of a formula, which is added where it was not there.
fn known_of<'k>(
    known: &'k mut Vec<MadeFormula>,
    product: &Name,
    is_dough: bool,
) -> &'k mut MadeFormula {
    let is_it = |it: &MadeFormula| it.product.key == product.key && it.is_dough == is_dough;
    let place = known.iter().position(is_it).unwrap_or_else(|| {
        let (kinds, wishes) = (Vec::new(), Vec::new());
        known.push(MadeFormula { product: product.clone(), kinds, is_dough, wishes });
        known.len() - 1
    });
    &mut known[place]
}

/// The formula and the kinds of something that is begun.
fn kept_product(house: &House, work: &Work, span: Span) -> Result<(Name, Vec<Name>), Unmade> {
    let name = |key: &str| Name { key: key.into(), shown: key.into(), span };
    let lacks =
        |what: &str| Err(Unmade::Begun(name(&work.formula), work.id.clone(), what.to_owned()));
    let Some(formula) = house.formula(&work.formula) else { return lacks(&work.formula) };
    let product = Name { span, ..formula.name.clone() };
    let there = kinds(house, formula);
    let is_there = |kind: &&String| there.iter().any(|known| is_kind(known, kind));
    match work.kinds.iter().find(|kind| !is_there(kind)) {
        Some(kind) => lacks(kind),
        None => Ok((product, work.kinds.iter().map(|kind| name(kind)).collect())),
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
    kinds: Vec<Name>,
    span: Span,
    begun: &'m Begun,
    together: bool,
}

impl<'t> Maker<'_, 't> {
    fn make(
        &mut self,
        made: &mut Making<'t>,
        mut wishes: Vec<usize>,
        on_hand: &[&OnHand],
    ) -> Result<(), Unmade> {
        wishes.sort_by_key(|&wish| (made.wishes[wish].by, made.wishes[wish].count, wish));
        let mut left = self.there(on_hand);
        for &wish in &wishes {
            let wish = &mut made.wishes[wish];
            // What must be fresh is not taken from what is there.
            if wish.after.is_none() {
                wish.on_hand = left[wish.kind].min(wish.count);
                left[wish.kind] -= wish.on_hand;
            }
        }
        let product = made.products.len();
        let mut product_made = Product {
            formula: self.formula,
            kinds: self.kinds.clone(),
            sizes: Vec::new(),
            left_over: left,
        };
        let mut batches = self.begun(product, &mut product_made)?;
        let left = self.serve(&mut batches, &product_made, &wishes, &made.wishes);
        let mut before = self.before();
        for group in groups(&left, &made.wishes) {
            let wishes = made.wishes.as_slice();
            let of_kind = |kind: usize| {
                let own = group.iter().filter(|(wish, _)| wishes[*wish].kind == kind);
                own.copied().collect::<Vec<(usize, u32)>>()
            };
            let own: Vec<Vec<(usize, u32)>> = (0..self.count()).map(of_kind).collect();
            let all = |own: &Vec<(usize, u32)>| {
                own.iter().fold(0u32, |sum, (_, count)| sum.saturating_add(*count))
            };
            let all: Vec<u32> = own.iter().map(all).collect();
            let mut serves: Vec<_> = own.into_iter().map(Vec::into_iter).collect();
            let mut open: Vec<_> = serves.iter_mut().map(Iterator::next).collect();
            for pieces in ordered_as(&mut before, self.batches_of(&all)?) {
                made.has_mixed |= pieces.iter().filter(|pieces| **pieces > 0).count() > 1;
                let size = self.size(&mut product_made, &pieces)?;
                let loads = product_made.sizes[size].loads.all();
                let loads = loads.into_iter().map(|(kind, pieces)| {
                    let serves = taken(&mut open[kind], &mut serves[kind], pieces);
                    Load { kind, pieces, serves }
                });
                let loads = loads.collect();
                batches.push(Batch { product, size, number: 0, of: 0, loads, kept: None });
            }
        }
        made.batches.extend(batches);
        made.products.push(product_made);
        Ok(())
    }

    /// How many kinds there are, dough counted as one.
    fn count(&self) -> usize {
        self.kinds.len().max(1)
    }

    /// Pieces of each batch for so many of each kind: several kinds in one dough where that makes
    /// fewer batches, else each kind by itself.
    fn batches_of(&self, all: &[u32]) -> Result<Vec<Vec<u32>>, Unmade> {
        let mut apart: Vec<Vec<u32>> = Vec::new();
        for (kind, &pieces) in all.iter().enumerate() {
            let mut own = vec![0; all.len()];
            own[kind] = pieces;
            apart.extend(self.parts(&own)?);
        }
        let several = all.iter().filter(|pieces| **pieces > 0).count() > 1;
        let mut steps = self.formula.method.iter().flat_map(|method| &method.steps);
        let is_baked = steps.any(|step| step.verb == Verb::Bake);
        if !(several && self.together && is_baked) {
            return Ok(apart);
        }
        Ok(self.parts(all).ok().filter(|mixed| mixed.len() < apart.len()).unwrap_or(apart))
    }

    /// The place of a kind among those of the product.
    fn place(&self, kind: &str) -> Option<usize> {
        self.kinds.iter().position(|known| is_kind(&known.key, kind))
    }

    /// The batches of the product that are begun, for nobody yet; and the sizes that builds which
    /// are begun were worked out of.
    fn begun(&self, product: usize, own: &mut Product<'t>) -> Result<Vec<Batch>, Unmade> {
        let mut batches = Vec::new();
        for (place, work) in self.begun.begun() {
            if !own.is_of(work) {
                continue;
            }
            let lacks = |what: String| {
                let name = Name { span: self.span, ..self.formula.name.clone() };
                Unmade::Begun(name, work.id.clone(), what)
            };
            let whole = || lacks(self.formula.name.shown.to_string());
            let pieces = pieces_of(&self.kinds, work);
            let worked = self.worked(&pieces);
            if !worked.sound {
                return Err(whole());
            }
            let graph = self.graph(&worked)?.ok_or_else(whole)?;
            let stages: Vec<&str> =
                worked.formula.stages.iter().map(|stage| stage.name.key.as_str()).collect();
            let kept = work.shape(self.house, &stages).map_err(lacks)?;
            if let Some(stage) = &work.stage {
                if !stages.contains(&stage.as_str()) {
                    return Err(lacks(stage.clone()));
                }
                self.size(own, &pieces)?;
                continue;
            }
            let kind = |kind: &Option<String>| {
                kind.as_ref().and_then(|kind| self.place(kind)).unwrap_or(0)
            };
            let known: Vec<(usize, u32)> =
                work.loads.iter().map(|load| (kind(&load.kind), load.pieces)).collect();
            let loads = self.loads(&known);
            let shape = batch(self.means, &worked, &graph, &loads);
            let of = (&worked, pieces.as_slice(), own.kinds.as_slice());
            let changed = !is_as_now(self.means, work, of, (&shape, None));
            let mut sized = Sized { pieces, worked, graph, shape, loads, is_kept: true };
            if changed {
                sized.shape = kept;
            }
            let loads = known.into_iter();
            let loads = loads.map(|(kind, pieces)| Load { kind, pieces, serves: Vec::new() });
            let (loads, size) = (loads.collect(), own.sizes.len());
            own.sizes.push(sized);
            let kept = Some(Kept { work: place, changed });
            batches.push(Batch { product, size, number: 0, of: 0, loads, kept });
        }
        Ok(batches)
    }

    /// Loads of the oven with the names of their kinds.
    fn loads(&self, all: &[(usize, u32)]) -> Loads {
        let kind =
            |(kind, _): &(usize, u32)| (*kind, self.kinds.get(*kind).map(|name| name.key.clone()));
        Loads {
            pieces: all.iter().map(|(_, pieces)| *pieces).collect(),
            kinds: all.iter().map(kind).collect(),
        }
    }

    /// Pieces of the batches of the plan so far that are not begun, in their order.
    fn before(&self) -> Vec<Vec<u32>> {
        let all = self.begun.works.iter().zip(&self.begun.is_begun);
        let mut own: Vec<(u32, Vec<u32>)> = all
            .filter(|(work, begun)| {
                !**begun
                    && work.is_batch()
                    && work.formula == self.formula.name.key.as_str()
                    && work.kinds.is_empty() == self.kinds.is_empty()
            })
            .map(|(work, _)| (work.number, pieces_of(&self.kinds, work)))
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
        let mut loads: Vec<BegunLoad> = Vec::new();
        for (place, batch) in batches.iter().enumerate() {
            let work = batch.kept.and_then(|kept| self.begun.works.get(kept.work));
            for (load, of) in batch.loads.iter().enumerate() {
                let never = Minute::MAX / 4;
                let done = work.and_then(|work| work.done(load)).unwrap_or(never);
                let last = work.and_then(|work| work.done_last(load)).unwrap_or(never);
                loads.push(((done, last), place, load, of.kind, of.pieces));
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
                let fits = |(done, last): (Minute, Minute)| {
                    // As fresh as a plan asks for it.
                    let is_fresh = of.after.is_none_or(|after| last >= after.min(of.by));
                    is_fresh
                        && match turn {
                            0 => of.after.is_some() && done <= of.by,
                            1 => done <= of.by,
                            _ => done <= of.by.max(soonest),
                        }
                };
                for (done, batch, load, kind, there) in &mut loads {
                    let taken = (*there).min(*left);
                    if taken > 0 && *kind == of.kind && fits(*done) {
                        batches[*batch].loads[*load].serves.push((*wish, taken));
                        *there -= taken;
                        *left -= taken;
                    }
                }
            }
        }
        left
    }

    /// Pieces of each kind that are there.
    fn there(&self, on_hand: &[&OnHand]) -> Vec<u32> {
        let mut there = vec![0u32; self.count()];
        for it in on_hand.iter().filter(|it| it.name.key == self.formula.name.key) {
            let Ordered::Pieces(_, kind) = &it.amount else { continue };
            if let Some(place) = self.place(&kind.key) {
                there[place] = there[place].saturating_add(counted(self.house, &it.amount).0);
            }
        }
        there
    }

    fn worked(&self, counts: &[u32]) -> Worked<'t> {
        let quantity =
            |number: Exact, unit| Quantity { number, unit, decimals: Some(0), span: self.span };
        let wanted = self.kinds.iter().zip(counts).filter(|(_, count)| **count > 0);
        let pieces = wanted.map(|(kind, count)| MadePiece {
            count: quantity(Exact::from(*count), Unit::Count),
            counted: true,
            kind: kind.clone(),
            weight: None,
            baked: false,
            tin: self.tin(kind),
            span: self.span,
        });
        let dough = counts.first().filter(|_| self.kinds.is_empty());
        let makes = Makes {
            pieces: pieces.collect(),
            dough: dough.map(|count| quantity(Exact::from(*count), Unit::Gram)),
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

    /// How many pieces of each kind each batch has: as few batches as the mixer allows, as equal as
    /// can be.
    fn parts(&self, all: &[u32]) -> Result<Vec<Vec<u32>>, Unmade> {
        let sum = all.iter().fold(0u32, |sum, pieces| sum.saturating_add(*pieces));
        if sum == 0 {
            return Ok(Vec::new());
        }
        let worked = self.worked(all);
        if !worked.sound {
            return Err(Unmade::Unsound(self.formula.name.clone()));
        }
        let few = |count: u32| match count {
            0..=MAX_OF_ONE => Ok(count),
            _ => {
                let name = Name { span: self.span, ..self.formula.name.clone() };
                Err(Unmade::TooMany(name, count))
            }
        };
        let mut loads: u32 = 0;
        let mut by_oven = Exact::ZERO;
        for (kind, pieces) in self.kinds.iter().zip(all).filter(|(_, pieces)| **pieces > 0) {
            let held = self.means.deck_holds(&worked, &kind.key).filter(|held| *held > 0);
            loads = loads.saturating_add(held.map_or(1, |held| pieces.div_ceil(held)));
            if let Some(most) = self.oven_takes(&worked, kind) {
                let times = Exact::from(*pieces).over(&Exact::from(most.max(1)));
                by_oven += &times.unwrap_or_default();
            }
        }
        few(loads)?;
        let whole = |count: Exact| {
            let count = count.ceil().to_whole();
            count.map_or(1, |it| u32::try_from(it).unwrap_or(u32::MAX))
        };
        let by_oven = whole(by_oven).max(1);
        let Some(most) = self.means.most_dough(&worked) else {
            return Ok(parted(all, few(by_oven)?));
        };
        let count = worked.first().whole.mass().over(&most).map_or(1, whole);
        let mut count = few(count.max(by_oven).clamp(1, sum))?;
        // Whole pieces make the larger batches a little larger than an equal part.
        while count < sum {
            let mut sizes = parted(all, count);
            // The first is the largest where there is one kind.
            sizes.truncate(if all.iter().filter(|pieces| **pieces > 0).count() > 1 {
                sizes.len()
            } else {
                1
            });
            sizes.dedup();
            if sizes.iter().all(|size| self.worked(size).first().whole.mass() <= most) {
                break;
            }
            count += 1;
        }
        Ok(parted(all, count))
    }

    /// The most pieces of a kind whose loads can all go into the oven while the wait before it
    /// lasts; none where nothing says so. A pair of hands puts in one load after the other.
    fn oven_takes(&self, worked: &Worked, kind: &Name) -> Option<u32> {
        let held = self.means.deck_holds(worked, &kind.key).filter(|it| *it > 0)?;
        let oven = self.house.ovens().get(self.means.oven_of(worked)?)?;
        let decks = i64::from(oven.decks.max(1));
        let graph = self.means.graph(worked).ok()??;
        let width = wait_before_oven(worked, &graph)?;
        let (width, bake) = (width.0?, width.1);
        let moments = 2 * self.means.moment.max(1);
        let loads = match width - moments * decks {
            short if short < 0 => (1 + width / moments).min(decks),
            left => decks * (1 + left / (bake + moments)),
        };
        u32::try_from(i64::from(held).saturating_mul(loads)).ok()
    }

    /// Its steps in time.
    fn graph(&self, worked: &Worked) -> Result<Option<Graph>, Unmade> {
        let name = || Name { span: self.span, ..self.formula.name.clone() };
        self.means.graph(worked).map_err(|why| Unmade::NotTimed(name(), why))
    }

    /// The place of a size, worked out where it was not yet.
    fn size(&self, product: &mut Product<'t>, pieces: &[u32]) -> Result<usize, Unmade> {
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
        let graph = self.graph(&worked)?.ok_or_else(|| Unmade::NoMethod(name()))?;
        let mut all: Vec<(usize, u32)> = Vec::new();
        for (kind, &count) in pieces.iter().enumerate().filter(|(_, count)| **count > 0) {
            let name = self.kinds.get(kind);
            let held = name.and_then(|name| self.means.deck_holds(&worked, &name.key));
            all.extend(in_loads(count, held).into_iter().map(|load| (kind, load)));
        }
        let loads = self.loads(&all);
        let shape = batch(self.means, &worked, &graph, &loads);
        let pieces = pieces.to_vec();
        product.sizes.push(Sized { pieces, worked, graph, shape, loads, is_kept: false });
        Ok(product.sizes.len() - 1)
    }
}

/// Pieces of something that is begun, by the kinds of a product.
pub fn pieces_of(kinds: &[Name], work: &Work) -> Vec<u32> {
    let mut pieces = vec![0; kinds.len().max(1)];
    if work.kinds.is_empty() {
        pieces[0] = work.pieces.first().copied().unwrap_or(0);
    }
    for (kind, count) in work.kinds.iter().zip(&work.pieces) {
        if let Some(place) = kinds.iter().position(|known| is_kind(&known.key, kind)) {
            pieces[place] += count;
        }
    }
    pieces
}

/// So many pieces of each kind in so many parts, as equal as can be: what does not come out even of
/// one kind goes to the first parts, of the next kind to the last.
fn parted(all: &[u32], count: u32) -> Vec<Vec<u32>> {
    let each = all.iter().enumerate().map(|(kind, pieces)| {
        let mut parts = shared(*pieces, count);
        if kind % 2 == 1 {
            parts.reverse();
        }
        parts
    });
    let each: Vec<Vec<u32>> = each.collect();
    let parts = (0..each.first().map_or(0, Vec::len))
        .map(|part| each.iter().map(|own| own.get(part).copied().unwrap_or(0)).collect());
    let parts: Vec<Vec<u32>> = parts.collect();
    parts.into_iter().filter(|part| part.iter().any(|pieces| *pieces > 0)).collect()
}

/// Parts in the order in which an earlier plan had those of their sizes, so that nothing moves that
/// need not.
fn ordered_as(before: &mut Vec<Vec<u32>>, mut parts: Vec<Vec<u32>>) -> Vec<Vec<u32>> {
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
    type WishGroup = (Option<(Minute, Minute)>, Vec<(usize, u32)>);
    let mut groups: Vec<WishGroup> = Vec::new();
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
