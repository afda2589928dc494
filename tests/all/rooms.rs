//! The sentences about the rooms of `src/` that DEVELOPERS.md keeps true.

use crate::support::top;
use std::fs;
use std::path::{Path, PathBuf};

/// In reading order: each uses only those before it.
const ROOMS: [&str; 10] =
    ["quantity", "source", "diag", "syntax", "formula", "time", "check", "print", "desk", "cli"];

/// Every source file of a room, with its code: comments and tests left out.
fn files(room: &str) -> Vec<(PathBuf, String)> {
    fn gather(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in folder.read_dir().expect("listed") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                gather(&path, found);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    gather(&top().join("src").join(room), &mut found);
    found.retain(|path| path.file_name().is_some_and(|name| name != "tests.rs"));
    assert!(!found.is_empty());
    found
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("readable");
            let code = text.split("#[cfg(test)]").next().unwrap_or("").to_owned();
            let code = code.lines().map(|line| line.split("//").next().unwrap_or(""));
            (path, code.collect::<Vec<_>>().join("\n"))
        })
        .collect()
}

fn has_word(code: &str, word: &str) -> bool {
    let is_part = |letter: Option<char>| letter.is_some_and(|l| l.is_alphanumeric() || l == '_');
    code.match_indices(word).any(|(at, _)| {
        !is_part(code[..at].chars().next_back()) && !is_part(code[at + word.len()..].chars().next())
    })
}

#[test]
fn each_room_uses_only_the_rooms_above_it() {
    let mut wrong = Vec::new();
    for (floor, room) in ROOMS.iter().enumerate() {
        for (path, code) in files(room) {
            for below in &ROOMS[floor + 1..] {
                if code.contains(&format!("crate::{below}")) {
                    wrong.push(format!("{} uses {below}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn each_library_has_one_room() {
    for (library, home) in [
        ("pest", "src/syntax/outline.rs"),
        ("miette", "src/diag/human.rs"),
        ("typst", "src/print/pages"),
        ("fluent_bundle", "src/print/wording.rs"),
        ("maud", "src/print/html.rs"),
        ("indicatif", "src/cli/progress.rs"),
        ("icalendar", "src/print/calendar.rs"),
    ] {
        for room in ROOMS {
            for (path, code) in files(room) {
                let at_home = path.to_string_lossy().contains(home);
                assert!(at_home || !has_word(&code, library), "{} knows {library}", path.display());
            }
        }
    }
}

#[test]
fn no_room_up_to_check_does_io_reads_a_clock_or_counts_in_floats() {
    let forbidden = ["std::fs", "std::io", "std::env", "std::time", "std::process"];
    // Models of how dough ferments and cools.
    let counts_in_floats = [
        "src/time/growth.rs",
        "src/time/cooling.rs",
        "src/time/expected.rs",
        "src/time/course.rs",
        "src/time/estimates.rs",
        "src/time/pace.rs",
    ];
    for room in &ROOMS[..7] {
        for (path, code) in files(room) {
            for word in forbidden {
                assert!(!code.contains(word), "{} uses {word}", path.display());
            }
            if counts_in_floats.iter().any(|known| path.ends_with(known)) {
                continue;
            }
            for float in ["f32", "f64"] {
                assert!(!has_word(&code, float), "{} uses {float}", path.display());
            }
        }
    }
}

#[test]
fn what_is_written_from_the_document_never_sees_the_tree() {
    for name in ["pages/mod.rs", "html.rs", "book.rs", "tables.rs", "reasons.rs", "document.rs"] {
        let code = fs::read_to_string(top().join("src/print").join(name)).expect("readable");
        assert!(!code.contains("crate::syntax"), "{name}");
    }
    for (path, code) in files("syntax") {
        assert!(!code.contains("crate::formula"), "{}", path.display());
    }
}
