//! The conductor: which files belong together, in which order the phases run, and all
//! findings of a run.
//!
//! Enters: paths and a file system (the disk, or a map in a test). Leaves: loaded
//! houses, formulas worked out, findings sorted. Absent on purpose: anything about
//! bread, and how results look.

mod alone;
mod assets;
mod bakehouses;
pub mod booklets;
mod crash;
mod drawings;
mod findings;
mod guard;
pub mod handouts;
mod load;
mod lookup;
mod one_slip;
mod own_words;
mod placeholders;
pub mod reference;
mod report;
mod rules;
pub mod terms;
mod typed_pages;
mod uses;
mod weave;

pub use alone::check_alone;
pub use assets::{FONTS, OwnFiles, TEMPLATES, assets, own_files};
pub use bakehouses::{Bakehouse, bakehouses};
pub use crash::Crash;
pub use findings::{
    bug_of_ours, glyph_missing, history_cut_short, no_repository, print_unknown,
    repository_unreadable, sheet_out_of_date, unreadable, unwritable, why,
};
pub use guard::{guarded_at, keep_places, run};
pub use load::{
    Disk, FileSystem, Kept, Loaded, LoadedFile, MAX_BYTES, WOVEN_MARK, is_manuscript, is_read,
    is_turned_off, is_woven, load, load_beside, read_old, root_above, sources, without_mark,
};
pub use lookup::{formulas, meant, worked};
pub use placeholders::PastOf;
pub use report::{Report, check_formula, is_sound, report};
pub use rules::rules;
pub use typed_pages::TypedPage;
pub use weave::{BlockForm, BookForm, Weaving, Woven, weave, weave_on_paper};
