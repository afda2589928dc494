//! What the title and the notes of a day say is not in the bread, held against all that is
//! ordered: they are printed on its sheets and labels.

use super::super::resolve::resolve;
use crate::check::{check_printed, check_words, may_deny};
use crate::diag::{Finding, Level};
use crate::formula::{House, work};
use crate::syntax::tree::{self, Order, Text, TextPart};

/// Adds what they deny falsely to `findings`.
pub fn check(house: &House, day: &tree::Day, findings: &mut Vec<Finding>) {
    let texts = day.title.iter().chain(day.texts.iter().map(|words| &words.text));
    let texts: Vec<&Text> = texts.filter(|text| denies(text)).collect();
    if texts.is_empty() {
        return;
    }
    let Some(ordered) = resolve(house, &day.name.key, &day.name.key) else { return };
    let mut products: Vec<&str> =
        ordered.orders.iter().map(|order| order.product.key.as_str()).collect();
    products.sort_unstable();
    products.dedup();
    let formulas = products.into_iter().filter_map(|product| house.formula(product));
    for formula in formulas.filter(|formula| !formula.broken) {
        // What is wrong with a formula is told where it stands.
        let worked = work(house, formula, &mut Vec::new());
        if worked.sound {
            texts.iter().for_each(|text| check_words(house, &worked, text, findings));
        }
    }
}

/// Adds a warning for each order whose customer is called by what the product is not free from:
/// `for "Hotel, nut-free please"` is printed on what is packed for them.
pub fn customers(house: &House, orders: &[Order], findings: &mut Vec<Finding>) {
    for order in orders {
        let Some(customer) = order.customer.as_deref().filter(|words| may_deny(words)) else {
            continue;
        };
        let formula = house.formula(&order.product.key).filter(|formula| !formula.broken);
        let worked = formula.map(|formula| work(house, formula, &mut Vec::new()));
        let Some(worked) = worked.filter(|worked| worked.sound) else { continue };
        let mut told = Vec::new();
        check_printed(house, &worked, (customer, order.span), &mut told);
        // A name may be no more than a name.
        told.iter_mut().for_each(|finding| finding.level = Level::Warning);
        findings.append(&mut told);
    }
}

fn denies(text: &Text) -> bool {
    let denies = |part: &TextPart| matches!(part, TextPart::Plain(words) if may_deny(words));
    text.parts.iter().any(denies)
}
