//! Another formula that a text asks for, worked out for the yield that is asked.

use super::house::House;
use super::solve::{work, work_as};
use super::worked::Worked;
use crate::diag::Finding;
use crate::syntax::tree::Elsewhere;

/// The formula that a question names, for the yield it says or for what the formula makes;
/// none where there is no such formula. Findings are about the yield alone.
pub fn worked_elsewhere<'t>(
    house: &'t House<'t>,
    elsewhere: &Elsewhere,
    findings: &mut Vec<Finding>,
) -> Option<Worked<'t>> {
    let formula = house.formula(&elsewhere.formula.key)?;
    // What is wrong with the formula itself is told where it stands.
    let own = work(house, formula, &mut Vec::new());
    let Some(makes) = elsewhere.makes.as_ref().filter(|_| own.sound) else { return Some(own) };
    let mut told = Vec::new();
    let worked = work_as(house, formula, makes, &mut told);
    let of_yield = |it: &Finding| it.span().source == makes.span.source;
    let within = |it: &Finding| {
        let place = it.span();
        makes.span.start <= place.start && place.end <= makes.span.end
    };
    findings.extend(told.into_iter().filter(|it| of_yield(it) && within(it)));
    Some(worked)
}
