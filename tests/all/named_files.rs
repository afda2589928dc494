//! Names that are asked for on a command line and become names of files, and what is said of
//! values that begin with a stroke.

use crate::support::{assize, err, folder, out};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const REST: &str = "{ makes 2 loaves at 900 g; total { bread flour 100%; water 65%; salt 2%; fresh \
                    yeast 1% } }\n";

fn house(folder: &Path, formulas: &[&str]) {
    let formulas: String = formulas.iter().map(|it| format!("formula {it} {REST}")).collect();
    let text = format!("bakehouse \"Gullhaven Bakehouse\" {{}}\n{formulas}");
    fs::write(folder.join("a.dough"), text).expect("written");
}

/// A name that no command could ask for, or that another would share a file with, is told.
#[test]
fn a_name_is_one_that_can_be_asked_for() {
    let folder = folder();
    for name in
        ["a/b", "a.dough", "a.md", ".", "..", "a\\b", "a:b", "a*b", "-a", "a,b", "=a", "a|b"]
    {
        house(folder.path(), &[name]);
        let done = assize(folder.path(), &["check", "--format", "short"]);
        assert_eq!(done.status.code(), Some(1), "{name}: {}", out(&done));
    }
    for name in ["a-b", "pain-d'épi", "brød", "नान", "a1", "ночной-хлеб"] {
        house(folder.path(), &[name]);
        let done = assize(folder.path(), &["check", "--format", "short"]);
        let shown = assize(folder.path(), &["show", name]);
        let is_known = done.status.code() == Some(0) && shown.status.code() == Some(0);
        assert!(is_known, "{name}: {}{}", out(&done), err(&shown));
    }
}

/// As many files as are told, whatever the formulas are called.
#[test]
fn every_print_has_a_file_of_its_own() {
    let folder = folder();
    let names = ["a-b", "a'b", "ab", "a-b-card", "a-b-sheet", "a-b-1"];
    house(folder.path(), &names);
    let args = ["print", "--only", "card,sheet", "--format", "html", "--to", "o"];
    let done = assize(folder.path(), &args);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let files = fs::read_dir(folder.path().join("o")).expect("listed");
    let files: BTreeSet<String> =
        files.map(|it| it.expect("one").file_name().to_string_lossy().to_lowercase()).collect();
    assert_eq!(files.len(), names.len() * 2, "{files:?}");
    assert!(out(&done).contains(&format!("{} files", names.len() * 2)), "{}", out(&done));
}

/// Two formulas of one name are told with where they are, and neither is printed.
#[test]
fn two_formulas_of_one_name_are_told_with_their_files() {
    let folder = folder();
    house(folder.path(), &["con", "CON"]);
    for args in [&["show", "con"][..], &["plan", "con", "--ready", "07:00"], &["print", "con"]] {
        let done = assize(folder.path(), args);
        assert_eq!(done.status.code(), Some(2), "{args:?}: {}", err(&done));
    }
    let said = err(&assize(folder.path(), &["show", "con"]));
    assert!(said.contains("two formulas in a.dough are called `con`"), "{said}");
    house(folder.path(), &["f1"]);
    let other = format!("formula f1 {REST}");
    fs::write(folder.path().join("b.dough"), other).expect("written");
    let said = err(&assize(folder.path(), &["show", "f1"]));
    assert!(said.contains("a.dough and b.dough"), "{said}");
}

/// A value that begins with a stroke is a value, and is refused for what it is.
#[test]
fn a_negative_value_is_told_for_what_it_is() {
    let folder = folder();
    house(folder.path(), &["pier-loaf"]);
    let ready = ["plan", "pier-loaf", "--ready", "07:00"];
    let mut cases: Vec<Vec<&str>> = Vec::new();
    for more in
        [["--cold", "-5C"], ["--room", "-300C"], ["--seed", "-5%"], ["--makes", "-1 loaves"]]
    {
        cases.push(ready.iter().copied().chain(more).collect());
    }
    cases.push(vec!["plan", "pier-loaf", "--ready", "-1"]);
    cases.push(vec!["plan", "pier-loaf", "--start", "-1"]);
    cases.push(vec!["show", "pier-loaf", "--makes", "-1 loaves"]);
    cases.push(vec!["print", "pier-loaf", "--makes", "-1 loaves"]);
    cases.push(vec!["why", "pier-loaf", "salt", "--makes", "-1 loaves"]);
    for args in cases {
        let done = assize(folder.path(), &args);
        let said = err(&done);
        let is_told = !said.contains("unexpected argument") && !said.contains("-- -");
        assert!(is_told && said.contains('-') && done.status.code() != Some(0), "{args:?}: {said}");
    }
}
