//! What a day leaves to the next one of those that are planned together: frozen pieces that nobody
//! ordered, and stages on hand that nothing took.

use super::clock::Clock;
use super::resolve::Carried;
use super::work::Planned;
use crate::formula::{House, is_kind};
use crate::quantity::Exact;
use crate::syntax::tree::{Name, OnHand, Ordered, Quantity};

/// What a day leaves. Bread that is done is for its own day; a culture is there as needed.
pub fn left(house: &House, planned: &Planned) -> Vec<Carried> {
    let mut all = pieces(house, planned);
    all.extend(stages(house, planned));
    all
}

/// What is on hand of a day, its own and what was left to it, in the order in which
/// [`super::builds::Given`] counts it.
fn on_hand(planned: &Planned) -> Vec<Carried> {
    let day = &planned.laid.day;
    let own = day.on_hand.iter().map(|there| Carried {
        there: there.clone(),
        ripe: there.ripe.map(|ripe| planned.laid.clock.instant(planned.laid.clock.minute(ripe))),
        until: None,
    });
    own.chain(day.carried.iter().cloned()).collect()
}

fn pieces(house: &House, planned: &Planned) -> Vec<Carried> {
    let mut all = Vec::new();
    let mut used: Vec<((usize, usize), u32)> = Vec::new();
    for it in on_hand(planned) {
        let Ordered::Pieces(count, kind) = &it.there.amount else { continue };
        if it.there.frozen.is_none() {
            continue;
        }
        let products = &planned.laid.making.products;
        let product = products.iter().enumerate().find_map(|(place, product)| {
            let is_it = |own: &Name| is_kind(&own.key, &kind.key);
            let own = product.kinds.iter().position(is_it);
            let own = own.filter(|_| product.formula.name.key == it.there.name.key);
            own.map(|kind| (place, kind))
        });
        let there = count.number.to_whole().and_then(|it| u32::try_from(it).ok()).unwrap_or(0);
        let left = match product {
            None if house.formula(&it.there.name.key).is_none() => 0,
            None => there,
            Some(product) => {
                let taken = used.iter().filter(|(of, _)| *of == product).map(|(_, left)| *left);
                let left = products[product.0].left_over.get(product.1).copied();
                let over = left.unwrap_or(0).saturating_sub(taken.sum());
                used.push((product, over.min(there)));
                over.min(there)
            }
        };
        if left > 0 {
            let count = Quantity { number: Exact::from(left), ..count.clone() };
            let amount = Ordered::Pieces(count, kind.clone());
            all.push(Carried { there: OnHand { amount, ..it.there.clone() }, ..it });
        }
    }
    all
}

fn stages(house: &House, planned: &Planned) -> Vec<Carried> {
    let laid = &planned.laid;
    let mut all = Vec::new();
    for (place, it) in on_hand(planned).into_iter().enumerate() {
        let Ordered::Weight(weight) = &it.there.amount else { continue };
        let key = &it.there.name.key;
        if house.culture_named(key).is_some() || key == "old dough" {
            continue;
        }
        let own = laid
            .builds
            .iter()
            .filter(|build| build.given.as_ref().is_some_and(|given| given.place == place));
        let (mut taken, mut keeps) = (Exact::ZERO, None);
        for build in own {
            taken = build.takes.iter().fold(taken, |sum, take| sum + &take.grams);
            keeps = build.shape.ends.first().and_then(|end| end.wait.1).or(keeps);
        }
        let left = house.base(weight) - &taken;
        let ripe = it.ripe.map(|ripe| laid.clock.minute_of(ripe));
        let until = match (it.until, ripe, keeps) {
            (Some(until), ..) => Some(until),
            (None, None, _) => None,
            (None, Some(ripe), Some(keeps)) => Some(laid.clock.instant(ripe + keeps)),
            // Nobody says how long it keeps.
            (None, Some(_), None) => continue,
        };
        if left > Exact::ZERO {
            let weight =
                Quantity { number: left, unit: crate::quantity::Unit::Gram, ..weight.clone() };
            let there = OnHand { amount: Ordered::Weight(weight), ..it.there.clone() };
            all.push(Carried { there, until, ..it });
        }
    }
    all
}

/// What of all that is left a day takes over: what it does not say itself, and what still keeps
/// when the day begins.
pub fn taken_over(all: &[Carried], own: &[OnHand], clock: &Clock) -> Vec<Carried> {
    let is_said = |it: &Carried| {
        own.iter().any(|there| {
            let of = |it: &OnHand| it.of.as_ref().map(|of| of.key.clone());
            there.name.key == it.there.name.key && of(there) == of(&it.there)
        })
    };
    let keeps = |it: &Carried| it.until.is_none_or(|until| until >= clock.midnight);
    all.iter().filter(|it| !is_said(it) && keeps(it)).cloned().collect()
}
