//! How warm the water of a dough has to be, so that the dough comes out as it should.
//!
//! By the bakers' factor method: as many times the dough's temperature as there are
//! temperatures that count, less those temperatures and the friction of the mixer
//! (Hamelman, *Bread*, on dough temperature). Or by heat balance: what the water
//! has to take up of the heat of mixing and of wetting flour. Below the tap, a part of
//! the water is ice.
//!
//! Enters: a formula worked out whose method says how warm the dough is to be. Leaves: a
//! [`Warmth`] with its reasons, in degrees Celsius and grams, or what is missing.

mod balance;
mod calibration;
mod dough;
mod factor;
mod heat;
mod ice;
mod steer;
mod water;

pub use calibration::from_measured;
pub use ice::ice_share;
pub use steer::warmth;
pub use water::{NoWarmth, Steers, Warmth};
