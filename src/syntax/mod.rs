//! From text to a tree of statements.
//!
//! Enters: source texts. Leaves: a [`tree::Tree`] for each, and findings of the parse
//! group; reading never fails. Only this room knows pest. Absent on purpose: what an
//! ingredient is, and whether a formula adds up.

mod abroad;
pub mod asides;
pub mod booklet;
mod expected_amount;
mod findings;
mod format;
pub mod manuscript;
mod name;
mod outline;
mod phrases;
pub mod prose;
mod read;
pub mod tree;
mod waits;

pub use abroad::{read_verb as verb_abroad, verbs_read};
pub use format::{Untouched, format, is_reworded_alike, says_alike};
pub use name::{is_of_identifier, key_of};
pub use outline::{Item, outline};
/// The words that the reader knows, by the place where they stand.
pub use read::words;
pub use read::{
    PLACED, both_sides, clock_time, read, read_ask, read_bracket, read_day_time, read_hours,
    read_makes, read_ordered, read_part, read_placed, read_share, read_temperature, read_time,
};

/// A wait in free words.
pub use waits::{NIGHTS, named_wait};

/// The rules whose findings this room raises.
pub use findings::ALL as RULES;
/// One name for two things is found in a file here, and between files by `formula`.
pub use findings::declared_twice::RULE as DECLARED_TWICE;
/// A number alone where nothing is counted is found when names are known.
pub use findings::missing_unit::of_line as missing_unit;
/// Of prices and remarks one says so for a whole house.
pub use findings::not_worked_out_yet::{prices as prices_not_used, remarks as remarks_not_printed};
/// Cups are read as the house has them, and volumes weighed as its ingredients do.
pub use findings::pair_disagrees::{
    RULE as PAIR_DISAGREES, by_density as amounts_disagree, full_volumes_within, volumes_within,
};
pub use findings::read_as::{
    RULE as READ_AS, eggs as eggs_read_as, fluid_ounces as fluid_ounces_read_as,
    measures as measures_read_as,
};
/// Letters that nobody sees, in words that are no file of formulas.
pub use findings::unseen_letter::{seen, told as unseen_letter_told, unseen_letters};
