//! What can be wrong with a day, one file a rule.

use super::begun::Begun;
use super::builds::{Build, Sharing};
use super::clock::Clock;
use super::making::{Batch, MAX_OF_ONE, Product, Unmade};
use super::resolve::{kinds, resolve};
use super::shape::Takes;
use super::ways::{TriedCause, shortfall};
use super::work::{Laid, Planned, lay};
use crate::check::batch_too_small;
use crate::diag::{Finding, Rule};
use crate::formula::{House, is_kind};
use crate::formula::{left_over, overrides_nothing};
use crate::syntax::tree::{self, Ordered, Tree};
use crate::time::clock::{Dating, Zone};
use crate::time::day::Minute;

pub mod column_unread;
pub mod day_not_proven;
pub mod days_clash;
pub mod limit_not_said;
pub mod order_kind_unknown;
pub mod order_late;
pub mod order_left_out;
pub mod order_unread;
pub mod said;
pub mod stage_short;
pub mod unknown_day;
mod ways;

/// The rules of this room.
pub const ALL: &[&Rule] = &[
    &column_unread::RULE,
    &day_not_proven::RULE,
    &days_clash::RULE,
    &limit_not_said::RULE,
    &order_kind_unknown::RULE,
    &order_late::RULE,
    &order_left_out::RULE,
    &order_unread::RULE,
    &stage_short::RULE,
    &unknown_day::RULE,
];

/// What the days of a house say that can't be.
pub fn check_days(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let days = || trees.iter().flat_map(|tree| &tree.days);
    for day in days() {
        if let Some(from) = &day.from {
            match house.day(&from.key) {
                None => findings.push(unknown_day::finding(house, from)),
                Some(_) if resolve(house, &day.name.key, &day.name.key).is_none() => {
                    let broken = house.day(&from.key).and_then(|other| other.from.as_ref());
                    // A day that is not there has its finding where it is named.
                    if broken.is_some_and(|other| house.day(&other.key).is_some()) {
                        findings.push(unknown_day::circle(from));
                    }
                }
                Some(_) => {}
            }
        }
        ordered(house, day, findings);
        left_out_of_nothing(house, day, findings);
        on_hand(house, day, findings);
        said::check(house, day, findings);
        said::customers(house, &day.orders, findings);
        before_planning(house, &day.name.key, findings);
    }
    if let Some(day) = days().find(|day| !day.orders.is_empty()) {
        findings.extend(limit_not_said::finding(house, day));
    }
}

/// What batches and builds tell of a day before anybody plans it. Products that can't be made tell
/// that themselves, but for an order of too many.
fn before_planning(house: &House, name: &str, findings: &mut Vec<Finding>) {
    let day = resolve(house, name, name).filter(|day| !day.orders.is_empty());
    let clock = Clock::of(name, Zone::undated(Dating::Dates));
    let Some((day, clock)) = day.zip(clock) else { return };
    let told: Vec<Finding> = match lay(house, day, clock, (Sharing::Most, true), Begun::default()) {
        Ok(laid) => of_laid(house, &laid),
        Err(all) => {
            let too_many = all.iter().filter(|why| matches!(why, Unmade::TooMany(..)));
            too_many.map(unmade).collect()
        }
    };
    for finding in told {
        // What a day takes over from another one is told once.
        let is_same =
            |known: &Finding| known.span() == finding.span() && known.message == finding.message;
        if !findings.iter().any(is_same) {
            findings.push(finding);
        }
    }
}

/// What batches and builds tell, whenever they are made.
fn of_laid(house: &House, laid: &Laid) -> Vec<Finding> {
    let mut found = short(house, laid);
    found.extend(left(house, laid));
    found.extend(unfit(house, laid));
    found
}

/// Products and kinds that nobody makes; one product and customer twice.
fn ordered(house: &House, day: &tree::Day, findings: &mut Vec<Finding>) {
    for (place, order) in day.orders.iter().enumerate() {
        let Some(formula) = house.formula(&order.product.key) else {
            let near = house.near_formula(&order.product.key);
            let say = crate::formula::unknown_formula(&order.product, near);
            findings.push(say);
            continue;
        };
        let kinds = kinds(house, formula);
        for wish in &order.wishes {
            if let Ordered::Pieces(count, kind) = &wish.amount
                && !kinds.iter().any(|known| is_kind(known, &kind.key))
            {
                findings.push(order_kind_unknown::finding(formula, count, kind, &kinds));
            }
        }
        let is_same = |other: &&tree::Order| {
            other.product.key == order.product.key && other.customer == order.customer
        };
        if let Some(first) = day.orders.iter().take(place).find(is_same) {
            findings.push(order_kind_unknown::twice(order, first));
        }
    }
}

/// Orders that a day leaves out of the one it is made from, which has none such.
fn left_out_of_nothing(house: &House, day: &tree::Day, findings: &mut Vec<Finding>) {
    let other = day.from.as_ref().and_then(|from| resolve(house, &from.key, &from.key));
    // A day that is not there has its finding where it is named.
    if day.from.is_some() && other.is_none() {
        return;
    }
    let there = other.map(|other| other.orders).unwrap_or_default();
    for left in &day.without {
        let mut of_it = there.iter().filter(|order| order.product.key == left.product.key);
        let is_it =
            |order: &tree::Order| left.customer.is_none() || order.customer == left.customer;
        if of_it.clone().any(is_it) {
            continue;
        }
        let near: Vec<&str> = of_it.by_ref().filter_map(|it| it.customer.as_deref()).collect();
        findings.push(overrides_nothing::order(&left.product, left.customer.as_deref(), &near));
    }
}

/// What is on hand and that nobody knows.
fn on_hand(house: &House, day: &tree::Day, findings: &mut Vec<Finding>) {
    for there in &day.on_hand {
        match &there.amount {
            Ordered::Pieces(count, kind) => {
                let Some(formula) = house.formula(&there.name.key) else {
                    let near = house.near_formula(&there.name.key);
                    findings.push(crate::formula::unknown_formula(&there.name, near));
                    continue;
                };
                let kinds = kinds(house, formula);
                if !kinds.iter().any(|known| is_kind(known, &kind.key)) {
                    findings.push(order_kind_unknown::finding(formula, count, kind, &kinds));
                }
            }
            Ordered::Weight(_) => {
                let key = there.name.key.as_str();
                let of = there.of.as_ref().and_then(|of| house.formula(&of.key));
                let is_known = key == "old dough"
                    || house.stage(key).is_some()
                    || house.culture_named(key).is_some()
                    || of.is_some_and(|it| it.stages.iter().any(|it| it.name.key == key));
                if !is_known {
                    findings.push(stage_short::unknown(&there.name, there.of.as_ref()));
                }
            }
        }
    }
}

/// Why a product can't be made.
pub fn unmade(why: &Unmade) -> Finding {
    match why {
        Unmade::NoMethod(name) => {
            let message = format!("`{}` has no method that can be planned", name.shown);
            Finding::new(&order_left_out::RULE, name.span, message)
                .help("write its steps with their times, or take it out of the day's orders")
        }
        Unmade::TooMany(name, count) => {
            let message = format!(
                "what is ordered of `{}` would be {count} batches or loads of the oven, and a day \
                 has {MAX_OF_ONE} at most",
                name.shown
            );
            Finding::new(&order_left_out::RULE, name.span, message)
                .help("look at the amount: is it what was ordered?")
        }
        Unmade::NotTimed(name, why) => {
            let message =
                format!("`{}` can't be timed for the room of this day: {why}", name.shown);
            Finding::new(&order_left_out::RULE, name.span, message)
                .help("ask for another temperature, or let it stand where the temperature is kept")
        }
        Unmade::Begun(name, id, lacks) => {
            let message = format!(
                "`{id}` has been begun, and `{lacks}` that it was planned with is no longer there"
            );
            Finding::new(&order_left_out::RULE, name.span, message)
                .help("put it back until what is begun is done, or plan the day without `--state`")
        }
        Unmade::Unsound(name) => {
            let message = format!("`{}` can't be worked out for what is ordered", name.shown);
            Finding::new(&order_left_out::RULE, name.span, message)
                .help("`assize check` says what is wrong with it")
        }
    }
}

/// What can be said of a day that is planned; `causes`, why something is late or left out.
pub fn day_findings(house: &House, planned: &Planned, causes: &[TriedCause]) -> Vec<Finding> {
    let laid = &planned.laid;
    let mut of_wishes: Vec<ways::OfWish> = Vec::new();
    let done = planned.done_of_wishes();
    for (place, (wish, (done, missing))) in laid.making.wishes.iter().zip(done).enumerate() {
        let order = &laid.day.orders[wish.order];
        let line = &order.wishes[wish.line];
        if missing > 0 {
            let finding = order_left_out::finding(order, line, missing, wish.count);
            of_wishes.push((place, finding));
        }
        if let Some(done) = done.filter(|done| *done > wish.by) {
            let time = |minute: Minute| laid.clock.said(minute);
            let late = i64::from(done - wish.by);
            let finding = order_late::finding(order, line, late, &time(done), &time(wish.by));
            of_wishes.push((place, finding));
        }
    }
    ways::tell(house, planned, causes, &mut of_wishes);
    let mut found: Vec<Finding> = of_wishes.into_iter().map(|(_, finding)| finding).collect();
    found.extend(of_laid(house, laid));
    if !planned.plan.is_proven && planned.plan.places.iter().any(Option::is_some) {
        let is_needed = planned.plan.bound.lateness > 0;
        let worst = i64::from(shortfall(planned).worst);
        found.push(day_not_proven::finding(laid.day.span, worst, is_needed));
    }
    found
}

/// What is on hand and that nobody ordered.
fn left(house: &House, laid: &Laid) -> Vec<Finding> {
    let products = laid.making.products.iter().flat_map(|product| {
        product.kinds.iter().zip(&product.left_over).map(move |(kind, left)| (product, kind, *left))
    });
    let findings = products.filter(|(.., left)| *left > 0).filter_map(|(product, own, left)| {
        let there = laid.day.on_hand.iter().find(|there| match &there.amount {
            Ordered::Pieces(_, kind) => {
                there.name.key == product.formula.name.key && is_kind(&kind.key, &own.key)
            }
            Ordered::Weight(_) => false,
        });
        there.map(|there| left_over::on_hand(there, left))
    });
    let unordered = laid.day.on_hand.iter().filter(|there| {
        let is_ordered = |product: &Product| product.formula.name.key == there.name.key;
        matches!(there.amount, Ordered::Pieces(..))
            && house.formula(&there.name.key).is_some()
            && !laid.making.products.iter().any(is_ordered)
    });
    let unused = laid.day.on_hand.iter().enumerate().filter(|(place, there)| {
        let key = &there.name.key;
        // What is no stage of the house is told by itself.
        let is_stage = matches!(there.amount, Ordered::Weight(_))
            && house.culture_named(key).is_none()
            && house.stage(key).is_some();
        let is_it = |build: &&Build| build.given.as_ref().is_some_and(|it| it.place == *place);
        let mut own = laid.builds.iter().filter(is_it).flat_map(|build| &build.takes);
        is_stage && own.all(|take| take.grams.is_zero())
    });
    let unused = unused.map(|(_, there)| left_over::unused(there));
    findings.chain(unordered.map(left_over::unordered)).chain(unused).collect()
}

/// Batches of less dough than any of the mixers can work that they may go into.
fn unfit(house: &House, laid: &Laid) -> Vec<Finding> {
    let mut found = Vec::new();
    for (place, product) in laid.making.products.iter().enumerate() {
        let orders = laid.day.orders.iter();
        let order = orders.clone().find(|order| order.product.key == product.formula.name.key);
        for size in &product.sizes {
            let dough = size.worked.first().whole.mass();
            let least = |mixer: &usize| house.mixers().get(*mixer)?.holds.as_ref()?.low.clone();
            let mixers = size.shape.tasks.iter().find_map(|task| match &task.takes {
                Takes::Mixer(mixers) => Some(mixers),
                _ => None,
            });
            let Some(mixers) = mixers else { continue };
            let smallest = mixers.iter().min_by_key(|mixer| least(mixer).unwrap_or_default());
            let Some(mixer) = smallest.and_then(|it| house.mixers().get(*it)) else { continue };
            let low = mixer.holds.as_ref().and_then(|holds| holds.low.clone());
            let of_it = |batch: &&Batch| batch.product == place;
            let batches = laid.making.batches.iter().filter(of_it).count();
            if let (Some(order), Some(low)) = (order, low.filter(|low| dough < *low)) {
                found.push(batch_too_small(order, batches, &dough, &mixer.name, &low));
            }
        }
    }
    found
}

/// Cultures and old dough of which more is taken than is on hand.
fn short(house: &House, laid: &Laid) -> Vec<Finding> {
    let mut found = Vec::new();
    for there in &laid.day.on_hand {
        let Ordered::Weight(weight) = &there.amount else { continue };
        let is_there = house.base(weight);
        let key = &there.name.key;
        let is_culture = house.culture_named(key).is_some();
        if !is_culture && key != "old dough" {
            continue;
        }
        let taken = laid.taken(key, there.of.as_ref().map(|of| of.key.as_str()));
        if taken > is_there {
            found.push(stage_short::finding(there, &taken, &is_there));
        }
    }
    found
}
