//! `price-doubtful`: a price in another currency, or one that nobody pays.

use super::limits::bound;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{House, Ingredient};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Range, Unit, int};
use crate::syntax::tree::{Price, Tree};

/// `price-doubtful`, a warning about names.
pub const RULE: Rule = Rule {
    name: "price-doubtful",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("price_doubtful.md"),
};

/// Checks the prices of a house; those of one file can be in one currency only.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let ingredients = trees.iter().flat_map(|tree| &tree.ingredients);
    let mut prices = ingredients.filter_map(|own| Some((own, own.price.as_ref()?))).peekable();
    let Some((_, first)) = prices.peek() else { return };
    findings.push(crate::syntax::prices_not_used(first.span));
    let usual = house.settings.currency.as_ref();
    let usual = usual.map_or(first.currency.clone(), |currency| currency.value.clone());
    for (declared, price) in prices {
        if price.currency != usual {
            findings.push(
                Finding::new(
                    &RULE,
                    price.span,
                    format!(
                        "this price is in {}, but the other prices of the bakehouse are in \
                        {usual}",
                        price.currency
                    ),
                )
                .help(format!("write what it costs in {usual}; nothing is converted")),
            );
        }
        if let Some(ingredient) = house.ingredient_named(&declared.name.key) {
            findings.extend(out_of_bounds(house, ingredient, price));
        }
    }
}

/// A price for a kilogram that is far from what anybody pays for that class of thing.
fn out_of_bounds(house: &House, ingredient: &Ingredient, price: &Price) -> Option<Finding> {
    let usual = usual_price(ingredient.class, &price.currency)?;
    let mass = mass_of(house, ingredient, price)?;
    let per_kilo = (&price.number * int(1000)).over(&mass)?;
    if usual.holds(&per_kilo) {
        return None;
    }
    let money = |amount: &Exact| trimmed(amount, 2);
    let (low, high) = (usual.low.as_ref()?, usual.high.as_ref()?);
    let class = ingredient.class.word();
    let said = Finding::new(
        &RULE,
        price.span,
        format!(
            "`{}` would cost {} {} for a kilogram",
            ingredient.name.shown,
            money(&per_kilo),
            price.currency
        ),
    )
    .note(format!(
        "{} {} ÷ {} = {} {} for a kilogram; of class {class} one costs {}–{} {}",
        money(&price.number),
        price.currency,
        grams(&mass),
        money(&per_kilo),
        price.currency,
        money(low),
        money(high),
        price.currency
    ));
    // A thousand times off is a unit mixed up.
    let other = match price.per.unit {
        Unit::Gram if usual.holds(&per_kilo.one_in::<1000>()) => Some("kg"),
        Unit::Kilogram if usual.holds(&(&per_kilo * int(1000))) => Some("g"),
        Unit::Milliliter if usual.holds(&per_kilo.one_in::<1000>()) => Some("l"),
        _ => None,
    };
    Some(match other {
        Some(unit) => {
            let meant = format!("{} {unit}", trimmed(&price.per.number, 3));
            let said = said.help(format!("did you mean `per {meant}`?"));
            said.repair(price.per.span, meant, false)
        }
        None => said.help("check the number, the unit after `per`, and the currency"),
    })
}

/// What a kilogram of a class costs, in a currency.
fn usual_price(class: Class, currency: &str) -> Option<Range> {
    let euros = bound("prices", &format!("price of {}", class.word()))?;
    let worth = match currency {
        "EUR" => Exact::ONE,
        other => bound("currencies", &format!("eur to {}", other.to_lowercase()))?.low?,
    };
    let times = |end: Option<Exact>| end.map(|end| end * &worth);
    Some(Range { low: times(euros.low), high: times(euros.high) })
}

/// Grams that a price is for.
fn mass_of(house: &House, ingredient: &Ingredient, price: &Price) -> Option<Exact> {
    let amount = house.base(&price.per);
    let mass = match price.per.unit.dimension() {
        Dimension::Mass => amount,
        Dimension::Volume => amount * ingredient.grams_per_ml.as_ref()?,
        Dimension::Count => amount * ingredient.each.as_ref()?,
        _ => return None,
    };
    (!mass.is_zero()).then_some(mass)
}
