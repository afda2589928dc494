//! How warm the water of a dough has to be, and what else can bring the dough to its
//! temperature.

use super::dough::Dough;
use super::heat::melting;
use super::water::{NoWarmth, Steers, Warmth};
use crate::formula::house::built_in;
use crate::formula::line_ref::LineRef;
use crate::formula::method::Added;
use crate::formula::worked::{Within, Worked};
use crate::quantity::Exact;

/// How warm the water of the final dough has to be.
///
/// # Errors
/// What is not known.
pub fn warmth(worked: &Worked) -> Result<Warmth, NoWarmth> {
    let house = worked.house;
    let dough = Dough::of(worked)?;
    let by_balance =
        house.settings.water.as_ref().is_some_and(|setting| setting.value == "by heat balance");
    let (water, by_degree) = match by_balance {
        true => dough.by_balance(),
        false => dough.by_factor(),
    };
    let ice = dough.ice(&water.amount);
    let together = dough.together(&water.amount);
    let steers = dough.steers(&water.amount, &together, &by_degree);
    let poured_mass = dough.poured.iter().fold(dough.water.clone(), |sum, own| sum + &own.mass);
    let others = dough.poured.iter().map(|own| own.id);
    Ok(Warmth {
        target: dough.target,
        water,
        mass: dough.water,
        ice,
        by_degree,
        by_balance,
        poured: dough.liquids.iter().copied().chain(others).collect(),
        together,
        poured_mass,
        steers,
        liquids: dough.liquids,
        aimed: dough.aimed,
        span: dough.span,
    })
}

impl Warmth {
    /// The steps of the dough in which the water goes in that is told of.
    pub fn steps(&self, worked: &Worked) -> Vec<usize> {
        let Some(method) = worked.formula.method.as_ref() else { return Vec::new() };
        let additions = worked.additions(method, Within::FinalDough);
        let is_it = |step: usize, added: &Added| match added.line.goes {
            LineRef::Ingredient(id) => {
                let is_in = (step, added.phase) <= self.aimed;
                is_in && !added.beside && self.liquids.contains(&id)
            }
            _ => false,
        };
        let steps = additions.steps.iter().enumerate();
        let steps = steps.filter(|(step, added)| added.iter().any(|added| is_it(*step, added)));
        steps.map(|(step, _)| step).collect()
    }
}

impl Dough<'_, '_> {
    /// What brings the dough to its temperature; all in degrees Celsius.
    pub(super) fn steers(&self, water: &Exact, together: &Exact, by_degree: &Exact) -> Steers {
        let (hottest, most_ice) = sound_water();
        // With ice in it water does as if it were colder than freezing.
        let coldest = match &self.house.settings.tap {
            Some(tap) if self.is_water() => tap - most_ice * (tap + melting()),
            _ => Exact::ZERO,
        };
        if *water >= coldest && *water <= hottest {
            return Steers::Water;
        }
        if !self.poured.is_empty() && *together >= Exact::ZERO && *together <= hottest {
            return Steers::Together;
        }
        let at = if *water > hottest { hottest } else { coldest };
        let off = (&at - water).over(by_degree).unwrap_or_default();
        Steers::Nothing { at, off }
    }
}

/// The highest that water may be, in degrees Celsius, and the most of it that may be ice.
fn sound_water() -> (Exact, Exact) {
    let bounds = built_in().style("usual water").map(|style| &style.bounds);
    let most = |key: &str| {
        let own = bounds.and_then(|all| all.iter().find(|bound| bound.what.name.key == key));
        own.and_then(|bound| built_in().middle(&bound.range)).unwrap_or_default()
    };
    (most("water temperature"), most("ice"))
}
