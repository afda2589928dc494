//! Every dependency is one that something names, or says why it is there.

use crate::support::top;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

/// All Rust text below a folder.
fn code_below(folder: &Path, code: &mut String) {
    for entry in folder.read_dir().expect("listed") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            code_below(&path, code);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let text = fs::read_to_string(&path).expect("readable");
            let lines = text.lines().map(|line| line.split("//").next().unwrap_or_default());
            code.extend(lines.map(|line| line.to_owned() + "\n"));
        }
    }
}

/// Whether code names a crate: before `::` or `!`, or after `use` or `derive(`.
fn names(code: &str, package: &str) -> bool {
    let name = package.replace('-', "_");
    code.match_indices(&name).any(|(at, _)| {
        let is_part = |letter: char| letter.is_alphanumeric() || letter == '_';
        let before = &code[..at];
        let after = &code[at + name.len()..];
        !before.ends_with(is_part)
            && (after.starts_with("::")
                || after.starts_with('!')
                || before.ends_with("use ") && after.starts_with(';'))
    })
}

/// The packages of a table of Cargo.toml, each with whether the comment above its paragraph
/// says that it is not used by name.
fn packages(manifest: &str, table: &str) -> Vec<(String, bool)> {
    let start = manifest.find(&format!("[{table}]\n")).expect("there is such a table");
    let body = manifest[start..].split_once('\n').expect("a line").1;
    let body = body.split("\n[").next().unwrap_or_default();
    let paragraph = |text: &str| {
        let unnamed = text.contains("# Not used by name");
        let lines = text.lines().filter(|line| !line.starts_with('#'));
        lines
            .filter_map(|line| Some((line.split_once(" = ")?.0.to_owned(), unnamed)))
            .collect::<Vec<_>>()
    };
    body.split("\n\n").flat_map(paragraph).collect()
}

#[test]
fn nothing_is_built_that_nothing_names() {
    let manifest = fs::read_to_string(top().join("Cargo.toml")).expect("readable");
    let (mut ours, mut tests) = (String::new(), String::new());
    code_below(&top().join("src"), &mut ours);
    code_below(&top().join("tests"), &mut tests);
    code_below(&top().join("benches"), &mut tests);
    let mut wrong = Vec::new();
    let (normal, dev) =
        (packages(&manifest, "dependencies"), packages(&manifest, "dev-dependencies"));
    assert!(normal.len() > 30 && dev.len() > 4, "the tables were read");
    for (package, unnamed) in normal {
        match (names(&ours, &package), unnamed) {
            (true, true) => wrong.push(format!("{package} is named after all")),
            (false, false) => wrong.push(format!("nothing in src/ names {package}")),
            _ => {}
        }
    }
    for (package, _) in dev {
        if !names(&tests, &package) {
            wrong.push(format!("nothing in tests/ or benches/ names {package}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_name_is_told_from_a_part_of_one() {
    assert!(names("use rayon::prelude::*;", "rayon"));
    assert!(names("let it = unic_langid::langid!(\"en\");", "unic-langid"));
    assert!(names("json!({})", "json"));
    assert!(!names("let crayon = crayon::new();", "rayon"));
    assert!(!names("rayon_core::join()", "rayon"));
    assert!(!names("a word about rayon", "rayon"));
}

/// Packages with their features, as cargo builds them along some kinds of edges.
fn built_along(edges: &str) -> BTreeSet<String> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let listed = Command::new(cargo)
        .args(["tree", "--offline", "--locked", "--prefix", "none", "--format", "{p} [{f}]"])
        .args(["--edges", edges])
        .current_dir(top())
        .output()
        .expect("cargo runs");
    assert!(listed.status.success(), "{}", String::from_utf8_lossy(&listed.stderr));
    let listed = String::from_utf8(listed.stdout).expect("text");
    listed.lines().map(|line| line.trim_end_matches(" (*)").to_owned()).collect()
}

/// Else the README's first command and its test command would each build typst, or git's
/// reader, once more.
#[test]
fn one_build_of_the_dependencies_serves_the_command_and_the_tests() {
    let (command, all) = (built_along("normal,build"), built_along("normal,build,dev"));
    assert!(command.len() > 300, "{} packages", command.len());
    let twice: Vec<&String> = command.difference(&all).collect();
    assert!(twice.is_empty(), "tests ask for other features of these: {twice:#?}");
}
