//! The yields for which a house prints a formula beside the one that it is written for.

use super::stamp::{own_yield, yield_of};
use crate::desk::Bakehouse;
use crate::formula::work_as;
use crate::orders::{Begun, Clock, Sharing, lay, resolve};
use crate::print::{Wording, document};
use crate::quantity::{Exact, Unit, ratio};
use crate::syntax::tree::{Factor, Formula, Makes, Ordered, Quantity};
use crate::time::clock::{Dating, Zone};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// The most batches that an order is parted into, whose sheets are looked for.
const MAX_BATCHES: i64 = 8;

/// Each yield of a formula that a booklet or a day of the house asks for: in numbers, as codes
/// are made of it, and in words.
pub fn of(bakehouse: &Bakehouse, formula: &Formula) -> Vec<(String, String)> {
    let own = own_yield(&bakehouse.house, formula);
    let mut all: Vec<(String, String)> = Vec::new();
    for makes in in_booklets(bakehouse, formula).into_iter().chain(in_days(bakehouse, formula)) {
        let worked = work_as(&bakehouse.house, formula, &makes, &mut Vec::new());
        if !worked.sound {
            continue;
        }
        let printed = document(&bakehouse.house, &worked, &Wording::plain(), false);
        let number = yield_of(&printed);
        if number != own && all.iter().all(|(known, _)| *known != number) {
            all.push((number, printed.makes.text));
        }
    }
    for day in bakehouse.files.iter().flat_map(|file| &file.tree.days) {
        for (number, words) in batches_on_day(bakehouse, &day.name.key, formula) {
            if number != own && all.iter().all(|(known, _)| *known != number) {
                all.push((number, words));
            }
        }
    }
    all
}

/// The yields that people ask for by themselves: round numbers of each kind of piece, and round
/// weights of dough; in numbers and in words.
pub fn usual(bakehouse: &Bakehouse, formula: &Formula) -> Vec<(String, String)> {
    let few = 1..=60;
    let many = (65..=120).step_by(5).chain((130..=300).step_by(10)).chain([350, 400, 450, 500]);
    let counts: Vec<i64> = few.chain(many).collect();
    let span = formula.name.span;
    let pieces = formula.makes.iter().flat_map(|makes| &makes.pieces);
    let mut all: Vec<Makes> = Vec::new();
    for piece in pieces {
        all.extend(counts.iter().map(|count| {
            let number = Exact::from(*count);
            let count = Quantity { number, unit: Unit::Count, decimals: Some(0), span };
            Makes::of_pieces(count, piece.kind.clone(), span)
        }));
    }
    all.extend((1..=50).map(|kilograms: i64| {
        let number = Exact::from(kilograms);
        Makes::of_dough(Quantity { number, unit: Unit::Kilogram, decimals: Some(0), span }, span)
    }));
    let parts = [(1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (3, 2), (5, 2)];
    let times = (2..=10).map(Exact::from).chain(parts.map(|(above, below)| ratio(above, below)));
    all.extend(times.map(|times| Makes::times(Factor::Times(times), span)));
    let made = |makes: &Makes| {
        let worked = work_as(&bakehouse.house, formula, makes, &mut Vec::new());
        worked.sound.then(|| {
            let printed = document(&bakehouse.house, &worked, &Wording::plain(), false);
            (yield_of(&printed), printed.makes.text)
        })
    };
    all.par_iter().filter_map(made).collect()
}

/// The yields for which booklets print it.
fn in_booklets(bakehouse: &Bakehouse, formula: &Formula) -> Vec<Makes> {
    let mut all = Vec::new();
    for booklet in bakehouse.files.iter().flat_map(|file| &file.tree.booklets) {
        let printed = booklet.parts.iter().flat_map(|part| part.what.printed());
        for of in printed.filter(|of| of.formula.key == formula.name.key) {
            let everyone = booklet.people.filter(|_| of.everyone);
            let everyone = everyone
                .map(|(people, _)| Makes::times(Factor::Times(i64::from(people).into()), of.span));
            all.extend(everyone.or_else(|| of.makes.clone()));
        }
    }
    all
}

/// What days order of it: each order, all orders of a day with those of the days that it is made
/// from, less what is on hand, and these in equal batches.
fn in_days(bakehouse: &Bakehouse, formula: &Formula) -> Vec<Makes> {
    let days = bakehouse.files.iter().flat_map(|file| &file.tree.days);
    days.flat_map(|day| on_day(bakehouse, &day.name.key, formula)).collect()
}

/// The days that order a formula: those that have a batch of a size in numbers, and those that have
/// none.
pub fn days_of_size(
    bakehouse: &Bakehouse,
    formula: &Formula,
    number: &str,
) -> (Vec<String>, Vec<String>) {
    let (mut with, mut without) = (Vec::new(), Vec::new());
    for day in bakehouse.files.iter().flat_map(|file| &file.tree.days) {
        let batches = batches_on_day(bakehouse, &day.name.key, formula);
        let is_it = |(of, _): &(String, String)| of == number;
        match batches.iter().any(is_it) {
            _ if batches.is_empty() => {}
            true => with.push(day.name.shown.to_string()),
            false => without.push(day.name.shown.to_string()),
        }
    }
    (with, without)
}

/// The batches of a formula that a day makes: each size in numbers and in words. Kinds of pieces are
/// of one dough or of several, as the plan has it.
fn batches_on_day(bakehouse: &Bakehouse, key: &str, formula: &Formula) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    let Some(day) = bakehouse.house.day(key) else { return all };
    let house = bakehouse.house.on_day(day);
    for together in [true, false] {
        let (Some(day), Some(clock)) =
            (resolve(&house, key, key), Clock::of(key, Zone::undated(Dating::Dates)))
        else {
            return all;
        };
        let way = (Sharing::Most, together);
        let Ok(laid) = lay(&house, day, clock, way, Begun::default()) else { continue };
        for product in &laid.making.products {
            let sizes = product.sizes.iter().map(|size| &size.worked);
            for worked in sizes.filter(|it| it.formula.name.key == formula.name.key) {
                let printed = document(&house, worked, &Wording::plain(), false);
                let number = yield_of(&printed);
                if all.iter().all(|(known, _)| *known != number) {
                    all.push((number, printed.makes.text));
                }
            }
        }
    }
    all
}

fn on_day(bakehouse: &Bakehouse, key: &str, formula: &Formula) -> Vec<Makes> {
    let mut all = Vec::new();
    let Some(day) = resolve(&bakehouse.house, key, key) else { return all };
    let orders = day.orders.iter().filter(|it| it.product.key == formula.name.key);
    let amounts: Vec<&Ordered> =
        orders.flat_map(|it| &it.wishes).map(|wish| &wish.amount).collect();
    all.extend(amounts.iter().map(|amount| made(formula, amount)));
    let counted = |amount: &Ordered| match amount {
        Ordered::Pieces(count, _) => count.number.to_whole().and_then(|it| i64::try_from(it).ok()),
        Ordered::Weight(_) => None,
    };
    let sum = amounts.iter().map(|it| counted(it)).sum::<Option<i64>>().unwrap_or_default();
    let on_hand = day.on_hand.iter().filter(|it| it.name.key == formula.name.key);
    let there = on_hand.filter_map(|it| counted(&it.amount)).sum::<i64>();
    let Some(Ordered::Pieces(count, kind)) = amounts.first() else { return all };
    let sums: BTreeSet<i64> = [sum, sum - there].into_iter().filter(|it| *it > 0).collect();
    for sum in sums {
        for batches in 1..=MAX_BATCHES.min(sum) {
            for pieces in [sum / batches, (sum + batches - 1) / batches] {
                let number = Exact::from(pieces);
                let count = Quantity { number, ..count.clone() };
                all.push(made(formula, &Ordered::Pieces(count, kind.clone())));
            }
        }
    }
    all
}

fn made(formula: &Formula, amount: &Ordered) -> Makes {
    let span = formula.name.span;
    match amount {
        Ordered::Pieces(count, kind) => {
            let count = Quantity { unit: Unit::Count, ..count.clone() };
            Makes::of_pieces(count, kind.clone(), span)
        }
        Ordered::Weight(weight) => Makes::of_dough(weight.clone(), span),
    }
}
