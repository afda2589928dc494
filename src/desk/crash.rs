//! A failure of our own code, as plain data.

/// Where our code failed, and what it said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Crash {
    /// `src/formula/linear.rs:12`; empty where nobody kept it.
    pub place: String,
    /// What was said, in one line or several.
    pub what: String,
    /// How it came there, where `RUST_BACKTRACE` asks for it.
    pub backtrace: Option<String>,
}
