//! `house-too-large`: more files than are read in one run.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `house-too-large`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "house-too-large",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("house_too_large.md"),
};

/// More files with formulas below a folder than are read.
pub fn files(folder: &str, most: usize) -> Finding {
    said(folder, format!("holds more than {most} files of formulas"))
}

/// More files and folders of all kinds below a folder than are looked at.
pub fn entries(folder: &str, most: usize) -> Finding {
    said(folder, format!("holds more than {most} files and folders"))
}

/// More bytes in all files together than are read.
pub fn bytes(folder: &str, bytes: u64, most: u64) -> Finding {
    let megabytes = |bytes: u64| bytes.div_ceil(1_000_000);
    let (bytes, most) = (megabytes(bytes), megabytes(most));
    said(folder, format!("has {bytes} MB of formulas, and no more than {most} MB are read"))
}

fn said(folder: &str, what: String) -> Finding {
    let folder = if matches!(folder, "" | ".") { "this folder" } else { folder };
    Finding::new(&RULE, Span::NOWHERE, format!("{folder} {what}"))
        .help("name the folder of the bakehouse, or the files that are meant")
}
