//! A day with all that it takes from the day it is made from, and from its house.

use super::clock::Clock;
use crate::formula::House;
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{self, Aim, NotedText, OnHand, Open, Order, Text, Weekdays};
use crate::time::clock::{Dating, Instant, Zone};
use ecow::EcoString;

/// A day as it holds.
#[derive(Clone, Debug)]
pub struct ResolvedDay<'t> {
    /// The date, the weekday or the identifier that was asked for.
    pub name: EcoString,
    /// What prints call it.
    pub title: Option<&'t Text>,
    /// Its own orders, and those of other days that it does not replace.
    pub orders: Vec<Order>,
    /// What is on hand.
    pub on_hand: Vec<OnHand>,
    /// What an earlier day of those that are planned together leaves to this one.
    pub carried: Vec<Carried>,
    /// When there are hands on the day itself; none where nobody says.
    pub hours: Option<&'t [Open]>,
    /// Degrees Celsius of the room.
    pub room: Option<Exact>,
    /// The same where the day, or whoever asks for it, says so: what stands in the room is timed
    /// anew for it, by estimate.
    pub timed_for: Option<Exact>,
    /// What it is planned for.
    pub aim: Aim,
    /// Its notes and cautions.
    pub texts: &'t [NotedText],
    /// Of the head.
    pub span: Span,
}

/// Something that an earlier day leaves to a later one.
#[derive(Clone, Debug)]
pub struct Carried {
    /// What is left, as a day would say it.
    pub there: OnHand,
    /// A stage is ripe then; none where it can be taken at any time.
    pub ripe: Option<Instant>,
    /// It keeps until then; none where nobody says.
    pub until: Option<Instant>,
}

/// Days that one day may be made from, one after the other.
const MOST: usize = 8;

/// A day of a house by its key, with a name that it is asked for by; none where there is none of
/// that key, or one that it is made from is not there.
pub fn resolve<'t>(house: &'t House<'t>, key: &str, name: &str) -> Option<ResolvedDay<'t>> {
    let chain = chain(house, key)?;
    let own = chain.first().copied()?;
    let mut orders: Vec<Order> = Vec::new();
    for day in chain.iter().rev() {
        for left in &day.without {
            let is_it = |order: &Order| {
                order.product.key == left.product.key
                    && (left.customer.is_none() || order.customer == left.customer)
            };
            orders.retain(|order| !is_it(order));
        }
        // Lines replace what other days say; of its own, each stands.
        let replaced = |order: &Order| {
            let is_same = |own: &Order| {
                own.product.key == order.product.key && own.customer == order.customer
            };
            day.orders.iter().any(is_same)
        };
        orders.retain(|order| !replaced(order));
        orders.extend(day.orders.iter().cloned());
    }
    sort(&mut orders);
    let settings = &house.settings;
    let own_hours = chain.iter().map(|day| &day.hours).find(|hours| !hours.is_empty());
    let hours = own_hours.unwrap_or(&settings.hours);
    let room = chain.iter().flat_map(|day| &day.temperatures).find(|(word, _)| word == "room");
    Some(ResolvedDay {
        name: name.into(),
        title: chain.iter().find_map(|day| day.title.as_ref()),
        orders,
        on_hand: own.on_hand.clone(),
        carried: Vec::new(),
        hours: Some(hours.as_slice()).filter(|hours| !hours.is_empty()),
        room: room.map(|(_, room)| house.base(room)).or_else(|| settings.room.clone()),
        timed_for: None,
        aim: chain.iter().find_map(|day| day.aim).unwrap_or(settings.aim),
        texts: &own.texts,
        span: own.span,
    })
}

/// When there are hands on a day of that name: those of the day's own block, or of one that it is
/// made from; else the house's; none where nobody says.
pub fn hours_of<'t>(house: &'t House<'t>, name: &str) -> Option<&'t [Open]> {
    let chain = names_of_day(house, name).and_then(|key| chain(house, &key)).unwrap_or_default();
    let own = chain.into_iter().map(|day| &day.hours).find(|hours| !hours.is_empty());
    let hours = own.unwrap_or(&house.settings.hours);
    Some(hours.as_slice()).filter(|hours| !hours.is_empty())
}

/// Puts orders into an order of their own: that of their lines means nothing.
pub fn sort(orders: &mut [Order]) {
    orders.sort_by(|one, two| {
        (&one.product.key, &one.customer).cmp(&(&two.product.key, &two.customer))
    });
    for order in orders {
        order.wishes.sort_by_key(|wish| (!wish.by.day_before, wish.by.minutes));
    }
}

/// The key of the day that a name means: its own, or for a date without a day, that of its
/// weekday.
pub fn names_of_day(house: &House, name: &str) -> Option<EcoString> {
    day_named(&house.day_names(), name).map(EcoString::from)
}

/// The same among names of days.
pub fn day_named<'n>(known: &[&'n str], name: &str) -> Option<&'n str> {
    if let Some(known) = known.iter().find(|known| **known == name) {
        return Some(known);
    }
    let weekday = match Weekdays::number(name) {
        Some(weekday) => weekday,
        None if name.starts_with(|letter: char| letter.is_ascii_digit()) => {
            Clock::of(name, Zone::undated(Dating::Dates))?.weekday()?
        }
        None => return None,
    };
    known.iter().copied().find(|known| Weekdays::number(known) == Some(weekday))
}

/// Whether two names mean one day among names of days: however a weekday is called, however a date
/// is written.
pub fn is_one_day(known: &[&str], one: &str, two: &str) -> bool {
    let date = |name: &str| {
        let is_date = name.starts_with(|letter: char| letter.is_ascii_digit());
        let clock = is_date.then(|| Clock::of(name, Zone::undated(Dating::Dates)))?;
        Some(clock?.midnight)
    };
    let meant = |name| day_named(known, name);
    one == two || (meant(one).is_some() && meant(one) == meant(two) && date(one) == date(two))
}

/// The day so many days after one, among names of days; none where it is any day.
pub fn day_later<'n>(known: &[&'n str], name: &str, days: i64) -> Option<&'n str> {
    let clock = Clock::of(name, Zone::undated(Dating::Dates))?;
    day_named(known, &clock.name(days)?)
}

/// The kinds of pieces that a formula makes, with what it takes over.
pub fn kinds(house: &House, formula: &tree::Formula) -> Vec<String> {
    let mut at = Some(formula);
    for _ in 0..MAX_FROM {
        let Some(own) = at else { break };
        if let Some(makes) = &own.makes {
            return makes.pieces.iter().map(|made| made.kind.key.to_string()).collect();
        }
        at = own.from.as_ref().and_then(|from| house.formula(&from.key));
    }
    Vec::new()
}

/// Formulas that one may be made from, one after the other.
const MAX_FROM: usize = 16;

/// The products that a day orders.
pub fn products(house: &House, key: &str) -> Vec<EcoString> {
    let day = resolve(house, key, key);
    let mut all: Vec<EcoString> =
        day.into_iter().flat_map(|day| day.orders).map(|order| order.product.key).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// The heads of a day and of those that it is made from.
pub fn heads(house: &House, key: &str) -> Vec<Span> {
    chain(house, key).into_iter().flatten().map(|day| day.span).collect()
}

/// A day and those that it is made from, itself first; none where one of them is not there.
fn chain<'t>(house: &'t House<'t>, key: &str) -> Option<Vec<&'t tree::Day>> {
    let mut chain: Vec<&'t tree::Day> = vec![house.day(key)?];
    while let Some(from) = chain.last().and_then(|day| day.from.as_ref()) {
        if chain.len() >= MOST || chain.iter().any(|day| day.name.key == from.key) {
            return None;
        }
        chain.push(house.day(&from.key)?);
    }
    Some(chain)
}
