//! Git itself comparing and merging formulas by what they say.

use crate::diff::{commit, git, repository, write};
use crate::support::{PLAIN, assize, err, out};
use std::fs;
use std::path::Path;

/// A repository that was set up, with this build's command on git's path.
fn set_up(at: &Path) {
    let done = assize(at, &["git-setup", "--print"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(out(&done).contains("*.dough diff=assize merge=assize"), "{}", out(&done));
    assert!(!at.join(".gitattributes").exists(), "it only showed them");
    let asked = assize(at, &["git-setup"]);
    assert_eq!(asked.status.code(), Some(1), "nobody can be asked");
    assert!(!at.join(".gitattributes").exists());
    let done = assize(at, &["git-setup", "--yes"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let again = assize(at, &["git-setup", "--yes"]);
    assert!(out(&again).contains("knows already"), "{}", out(&again));
    let config = at.join(".git/config");
    let settings = fs::read_to_string(&config).expect("readable");
    let binary = env!("CARGO_BIN_EXE_assize");
    let settings = settings.replace("command -v assize", &format!("command -v '{binary}'"));
    let settings = settings.replace("then assize git", &format!("then '{binary}' git"));
    fs::write(config, settings).expect("written");
    commit(at, "Let git speak of formulas");
}

#[test]
fn git_diff_and_log_speak_of_what_is_said() {
    let folder = repository(&[]);
    let at = folder.path();
    set_up(at);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%").replace("    ", " "));
    let told = git(at, &["diff"]);
    let changed: Vec<&str> = told
        .lines()
        .filter(|line| {
            line.starts_with(['+', '-']) && !line.starts_with("+++") && !line.starts_with("---")
        })
        .collect();
    assert_eq!(changed, ["-  total: water 74 %", "+  total: water 75 %"], "{told}");
    commit(at, "Make it wetter");
    let log = git(at, &["log", "-p", "-1"]);
    assert!(log.contains("+  total: water 75 %"), "{log}");
}

#[test]
fn git_merges_lines_beside_each_other_and_marks_what_both_changed() {
    let folder = repository(&[]);
    let at = folder.path();
    set_up(at);
    git(at, &["checkout", "-q", "-b", "salt"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("salt           2%", "salt           1.9%"));
    commit(at, "Less salt");
    git(at, &["checkout", "-q", "main"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "76%"));
    commit(at, "More water");
    git(at, &["merge", "-q", "-m", "Both", "salt"]);
    let merged = fs::read_to_string(at.join("pier-loaf.dough")).expect("readable");
    assert_eq!(
        merged,
        PLAIN.replace("74%", "76%").replace("salt           2%", "salt           1.9%")
    );
    assert_eq!(assize(at, &["check", "--deny-warnings"]).status.code(), Some(0));
    // Both change one line.
    let text = |water: &str| PLAIN.replace("74%", water);
    for (name, text) in [("base", PLAIN.to_owned()), ("ours", text("75%")), ("theirs", text("77%"))]
    {
        write(at, name, &text);
    }
    let args = ["git-merge", "base", "ours", "theirs", "pier-loaf.dough"];
    assert_eq!(assize(at, &args).status.code(), Some(1));
    let marked = fs::read_to_string(at.join("ours")).expect("readable");
    assert!(
        marked.contains(
            "<<<<<<< ours\n    water         75%\n=======\n    water         77%\n>>>>>>> theirs\n"
        ),
        "{marked}"
    );
    // Each is sound by itself, and together the flours are no longer 100 %.
    let flours = |wheat: &str, rye: &str, more: &str| {
        PLAIN.replace(
            "bread flour  100%",
            &format!("bread flour  {wheat}\n    dark rye flour  {rye}{more}"),
        )
    };
    write(at, "base", &flours("90%", "10%", ""));
    write(at, "ours", &flours("80%", "20%", ""));
    write(at, "theirs", &flours("90%", "5%", "\n    spelt flour  5%"));
    assert_eq!(assize(at, &args).status.code(), Some(1), "rye is changed by both");
    write(at, "ours", &flours("85%", "10%", "\n    semolina  5%"));
    write(at, "theirs", &flours("90%", "5%", "\n    spelt flour  5%"));
    assert_eq!(assize(at, &args).status.code(), Some(0), "the sum is still 100");
    write(at, "ours", &flours("80%", "10%", "\n    semolina  10%"));
    write(
        at,
        "theirs",
        &PLAIN.replace("bread flour  100%", "bread flour  90%\n    dark rye flour  10%"),
    );
    assert_eq!(assize(at, &args).status.code(), Some(0), "only one side changed");
    assert_eq!(
        assize(at, &["git-merge", "base", "ours", "none", "a.dough"]).status.code(),
        Some(129)
    );
}

#[test]
fn what_means_the_same_is_no_conflict() {
    let folder = repository(&[]);
    let at = folder.path();
    let water = |water: &str| PLAIN.replace("74%", water);
    let laid_out = PLAIN.replace("    ", " ").replace("salt           2%", "salt 2.0%");
    let args = ["git-merge", "base", "ours", "theirs", "pier-loaf.dough"];
    for (ours, theirs, wanted) in [
        (water("75%"), water("75.0%"), water("75%")),
        (water("74.0%"), water("75%"), water("75%")),
        (water("75%"), water("74.0%"), water("75%")),
        // One only laid it out anew, and every line with it.
        (laid_out.clone(), water("75%").replace("2%", "1.9%"), water("75%").replace("2%", "1.9%")),
        (water("75%"), laid_out.replace("74%", "75.0%"), water("75%")),
    ] {
        for (name, text) in [("base", PLAIN), ("ours", &ours), ("theirs", &theirs)] {
            write(at, name, text);
        }
        assert_eq!(assize(at, &args).status.code(), Some(0), "{ours}\n{theirs}");
        let merged = fs::read_to_string(at.join("ours")).expect("readable");
        let lines = |text: &str| -> Vec<String> {
            text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
        };
        assert_eq!(lines(&merged), lines(&wanted));
    }
    // A comment of either side is never lost.
    write(at, "base", PLAIN);
    write(at, "ours", &format!("# ours\n{laid_out}"));
    write(at, "theirs", &water("75%").replace("salt           2%", "salt           1.9%"));
    assize(at, &args);
    assert!(fs::read_to_string(at.join("ours")).expect("readable").contains("# ours"));
}

#[test]
fn drivers_end_as_git_wants_it() {
    let folder = repository(&[]);
    let at = folder.path();
    write(at, "a", PLAIN);
    fs::write(at.join("broken"), [0xff, 0xfe]).expect("written");
    for args in [
        &["git-merge"][..],
        &["git-merge", "a", "a"],
        &["git-merge", "--no-such-option", "a", "a", "a", "a"],
        &["git-merge", "a", "a", "nothing", "a.dough"],
        &["git-merge", "a", "a", "broken", "a.dough"],
        &["git-merge", "a", "a", ".", "a.dough"],
        #[cfg(unix)]
        &["git-merge", "a", "a", "/dev/zero", "a.dough"],
    ] {
        let done = assize(at, args);
        assert_eq!(done.status.code(), Some(129), "{args:?}: {}", err(&done));
        assert_ne!(err(&done), "", "{args:?}");
        assert_eq!(fs::read_to_string(at.join("a")).expect("readable"), PLAIN);
    }
    for args in [
        &["git-text", "nothing"][..],
        &["git-text", "."],
        #[cfg(unix)]
        &["git-text", "/dev/zero"],
    ] {
        let done = assize(at, args);
        assert_eq!(done.status.code(), Some(2), "{args:?}: {}", err(&done));
        assert_eq!(out(&done), "", "{args:?}");
    }
    // What is no text of ours is compared as it stands.
    assert_eq!(assize(at, &["git-text", "broken"]).stdout, [0xff, 0xfe]);
}
