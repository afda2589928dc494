//! How much heat things take up and give off.

use crate::formula::house::known;
use crate::quantity::Exact;

/// Kilojoules that a kilogram of water takes up for each degree.
pub fn water() -> Exact {
    known("heat", "heat of water")
}

/// The same of flour.
pub fn flour() -> Exact {
    known("heat", "heat of flour")
}

/// The same of salt and sugar.
pub fn crystals() -> Exact {
    known("heat", "heat of crystals")
}

/// The same of fat.
pub fn fat() -> Exact {
    known("heat", "heat of fat")
}

/// Kilojoules that a kilogram of flour gives off when it gets wet.
pub fn of_wetting() -> Exact {
    known("heat", "heat of wetting")
}

/// The same of flour and water together, `share` of them water; of other things, as if what
/// is dry in them were flour.
pub fn moist(share: &Exact) -> Exact {
    (Exact::ONE - share) * flour() + share * water()
}

/// What ice takes up in melting, as degrees of the water it becomes.
pub fn melting() -> Exact {
    known("heat", "melting")
}

/// The degrees by which a kilojoule warms a kilogram of water.
pub fn by_water() -> Exact {
    Exact::ONE.each_of(&water())
}
