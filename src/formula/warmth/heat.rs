//! How much heat things take up and give off.

use crate::quantity::{Exact, ratio};

/// Kilojoules that a kilogram of water takes up for each degree: Cengel and Boles,
/// *Thermodynamics*, problem 5-157.
pub fn water() -> Exact {
    ratio(418, 100)
}

/// The same of flour, from the same problem.
pub fn flour() -> Exact {
    ratio(176, 100)
}

/// The same of salt and sugar, between 0.85 and 1.25: from memory.
pub fn crystals() -> Exact {
    ratio(105, 100)
}

/// The same of fat: from memory.
pub fn fat() -> Exact {
    Exact::from(2u8)
}

/// Kilojoules that a kilogram of flour gives off when it gets wet: the problem named above; a
/// trade dictionary has 6.5 Btu for a pound, which is 15.1.
pub fn of_wetting() -> Exact {
    Exact::from(15u8)
}

/// The same of flour and water together, `share` of them water; of other things, as if what
/// is dry in them were flour.
pub fn moist(share: &Exact) -> Exact {
    (Exact::ONE - share) * flour() + share * water()
}

/// What ice takes up in melting, as degrees of the water it becomes: 334 kJ a kilogram
/// over 4.18, which the trade counts as 80 °C.
pub const MELTING: i64 = 80;

/// The degrees by which a kilojoule warms a kilogram of water.
pub fn by_water() -> Exact {
    Exact::ONE.each_of(&water())
}
