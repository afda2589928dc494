//! The domain: what a house knows, and formulas worked out exactly.
//!
//! Enters: trees of statements. Leaves: a [`House`] with everything that has a name,
//! [`Worked`] formulas with every mass and figure, and findings of names and sums;
//! nothing here fails. Absent on purpose: files, clocks, floats, opinions on what a
//! good dough is, and how anything looks on paper.
//!
//! Data flows one way through it, in this order; each file uses only files before it:
//!
//! - words and types: `class`, `composition`, `figure`, `ground`, `linear`, `allergens`,
//!   `declared`, `ingredient_set`, `kinds`, `meant`, `naming`, `piece_kinds`, `limits`;
//! - what a bakehouse has: `house`, `called`, `classes`, `spoken` and `understand` (names as
//!   people write them);
//! - a formula as it is written: `merge` (what it inherits), `mixes`, `side_mix`, `line_ref`
//!   (what the name on a line means);
//! - a formula worked out, as data: `worked`;
//! - what is read off it: `masses`, `seeds`, `side_mixes`, `stage_walk`, `holdings`,
//!   `absence`, `mixers`, `method`, `weighing`;
//! - figures: `reason`, `term` (a number, or a number with its reason), `origin` (where
//!   amounts come from), `warmth`, `figures`, `ask`;
//! - how it is worked out: `mixing` (lines to sums), `solve` (sums to grams), `elsewhere`
//!   (another formula that a text names).

mod absence;
mod alike;
mod allergens;
mod amount_form;
mod ask;
mod by_count;
mod called;
pub mod class;
mod classes;
mod composition;
mod declared;
mod elsewhere;
mod ends;
mod figure;
mod figures;
mod findings;
mod ground;
mod holdings;
mod house;
mod ingredient_set;
mod kinds;
mod limits;
mod line_ref;
mod linear;
mod masses;
mod meant;
mod merge;
mod method;
mod mixers;
mod mixes;
mod mixing;
mod naming;
mod origin;
mod ovens;
mod piece_kinds;
mod reason;
mod seeds;
mod side_mix;
mod side_mixes;
mod solve;
mod spoken;
mod spoken_of;
mod stage_walk;
mod subject;
mod term;
mod told;
mod understand;
mod warmth;
pub mod weighing;
mod worked;

pub use absence::{Bringer, Proof, absence};
pub use alike::{is_code, readings, without_accents};
pub use allergens::{
    Absence, Allergen, Allergens, LANGUAGES, Mention, mentions_by_language, packed_allergens,
};
pub use called::{begins_a_called_name, packed_called};
pub use composition::{Composition, IngredientId, Substance};
pub use declared::{Declared, Doubt, Judged};
pub use elsewhere::worked_elsewhere;
pub use ends::{Ends, ends};
pub use figure::{Figure, Value, ValueKind};
pub use findings::ALL as RULES;
pub use ground::{Assumption, Ground};
pub use holdings::{FAT_FOR_FRYING, names_of_grease, names_used, way_in};
pub use house::{
    Board, Cooled, House, Ingredient, Mixer, Oven, STORES, Setting, Settings, Tin, built_in,
    entry_at, key, known, limit, packed_stores, plain, stored, words_of,
};
pub use line_ref::LineRef;
pub use masses::sum_of;
pub use meant::{Meant, NamePlace};
pub use merge::{Shelf, inherited};
pub use method::{Added, Trouble};
pub use mixes::{all_mixes, main_mix, step_names, title};
pub use naming::{Told, packed_names, told_by_name, told_in_text};
pub use piece_kinds::{in_number, is_kind, words_of_kind};
pub use reason::{How, Reason};
pub use solve::{work, work_as};
pub use spoken::{begins_a_spoken_name, called_somewhere, packed_spoken, spoken_somewhere};
pub use subject::{Subject, Topic};
pub use told::{PrintedWeights, printed_as, tell, tell_of_house};
pub use understand::{HouseNames, understand};
pub use warmth::{NoWarmth, Steers, Warmth, from_measured, ice_share, warmth};
pub use worked::{MadeKind, Numbers, SizedBy, Within, Worked, WorkedLine, WorkedPiece};

pub use findings::beyond_water::beyond_water;
pub use findings::no_warmth::no_warmth;
pub use findings::unknown_formula::finding as unknown_formula;
pub use findings::unknown_ingredient::offer;
pub use findings::{left_over, overrides_nothing};
pub use findings::{too_many, unknown_allergen, unknown_style};
