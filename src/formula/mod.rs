//! The domain: what a house knows, and formulas worked out exactly.
//!
//! Enters: trees of statements. Leaves: a [`House`] with everything that has a name,
//! [`Worked`] formulas with every mass and figure, and findings of names and sums;
//! nothing here fails. Absent on purpose: files, clocks, floats, opinions on what a
//! good dough is, and how anything looks on paper.

mod absence;
mod allergens;
mod called;
pub mod class;
mod content;
mod declared;
mod figure;
mod findings;
mod held;
mod house;
mod kinds;
mod linear;
mod merge;
mod method;
mod mixing;
mod naming;
mod solve;
mod warmth;
pub mod weighing;
mod why;
mod worked;

pub use absence::{Bringer, Proof, absence};
pub use allergens::{Absence, Allergen, Allergens, LANGUAGES, Mention, mentions};
pub use called::begins_a_called_name;
pub use content::{Content, CultureId, IngredientId, Substance};
pub use declared::{Declared, Doubt, Judged};
pub use figure::{Figure, Kind, Value};
pub use findings::ALL as RULES;
pub use held::{names_of_grease, names_used, way_in};
pub use house::{
    Cooled, Culture, House, Ingredient, Mixer, Oven, STORES, Setting, Settings, built_in, entry_at,
    key, plain, stored, words_of,
};
pub use merge::same;
pub use method::{Added, Additions, Trouble};
pub use mixing::{Blend, Goes};
pub use naming::{Told, told_by_name};
pub use solve::{MOST_RANGES, all_mixes, main_mix, step_names, title, work, work_as};
pub use warmth::{NoWarmth, Steers, Warmth, from_measured, ice_share, warmth};
pub use why::{How, Reason};
pub use worked::{
    Anchor, Feed, MadeKind, Numbers, StageNumbers, Within, Worked, WorkedLine, WorkedPiece,
    is_kind, sum_of,
};

pub use findings::{unknown_allergen, unknown_ingredient, unknown_style, unknown_tin};
