//! How far a formula is worked out: bounds that keep the work small, each far above what any
//! bread needs.

/// How many formulas or ingredients may be based on each other in a row.
pub const MAX_GENERATIONS: usize = 32;

/// Ranged lines beyond this many are taken at their low end in every figure: each one
/// more doubles the work.
pub const MAX_RANGES: usize = 6;

/// Stages of one formula that are worked out.
pub const MAX_STAGES: usize = 60;

/// Lines of all mixes of one formula that are worked out.
pub const MAX_LINES: usize = 5000;

/// Kinds of piece of one formula, and blocks of what pieces carry, that are worked out.
pub const MAX_KINDS: usize = 60;

/// Mixtures and other formulas that one formula takes.
pub const MAX_SIDE_MIXES: usize = 200;

/// Feeds of one stage that are worked out; the make-up is that of the jar long before.
pub const MAX_FEEDS: u32 = 50;

/// Formulas that may be made of each other in a row.
pub const MAX_NESTED: usize = 16;
