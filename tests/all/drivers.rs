//! Git itself comparing and merging formulas by what they say.

use crate::diff::{commit, git, repository, write};
use crate::support::{PLAIN, assize, err, out, top};
use std::fs;
use std::path::Path;
use std::process::Command;

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
    assert!(out(&again).contains("already knows"), "{}", out(&again));
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

/// Whose step comes first is nobody's to guess, while lines of a total have no order.
#[test]
fn what_both_sides_put_into_one_place_of_a_method_conflicts() {
    let folder = repository(&[]);
    let at = folder.path();
    let base = "formula a \"A\" {\n  makes 2 loaves at 800 g\n  total {\n    bread flour  100%\n    \
                water  70%\n    salt  2%\n  }\n  method {\n    mix  10min\n    divide  15min\n    \
                shape  20min\n    bake  40min at 230C\n  }\n}\n";
    let after = |line: &str, more: &str| base.replace(line, &format!("{line}\n    {more}"));
    let args = ["git-merge", "base", "ours", "theirs", "a.dough"];
    for (ours, theirs, wanted) in [
        (
            after("divide  15min", "preshape  10min"),
            after("divide  15min", "rest  15min covered"),
            1,
        ),
        (
            after("divide  15min", "rest  15min covered"),
            after("divide  15min", "preshape  10min"),
            1,
        ),
        (after("divide  15min", "preshape  10min"), after("shape  20min", "proof  1h"), 0),
        (after("salt  2%", "honey  3%"), after("salt  2%", "milk powder  2%"), 0),
        (after("salt  2%", "honey  3%"), after("divide  15min", "preshape  10min"), 0),
        (after("divide  15min", "preshape  10min"), after("divide  15min", "preshape  10min"), 0),
    ] {
        for (name, text) in [("base", base), ("ours", &ours), ("theirs", &theirs)] {
            write(at, name, text);
        }
        let done = assize(at, &args);
        let merged = fs::read_to_string(at.join("ours")).expect("readable");
        assert_eq!(done.status.code(), Some(wanted), "{merged}");
        assert_eq!(merged.contains("<<<<<<<"), wanted == 1, "{merged}");
    }
}

/// Whatever both sides do to one method, nothing that one of them says is lost: a merge has the
/// order of both, and a conflict shows each side as it is.
#[test]
fn each_pair_of_changes_of_one_method_keeps_what_both_say() {
    let folder = repository(&[]);
    let at = folder.path();
    let step = |line: &str| format!("    {line}\n");
    let [mix, bulk, rest, shape, proof] = [
        "mix  5min with levain, salt, remaining water",
        "bulk  3h..4h at 25C",
        "rest  20min",
        "shape  10min",
        "proof  2h at 25C",
    ]
    .map(step);
    let base = format!(
        "formula merged-loaf \"Merged Loaf\" {{\n  makes  10 loaves at 900 g\n  total {{\n    \
         bread flour  100%\n    water  70%\n    salt  2%\n  }}\n  preferment levain {{\n    \
         ferments  20% of flour\n    bread flour  100%\n    water  100%\n    white culture  20%\n    \
         ripens  8h at 24C\n  }}\n  method {{\n    autolyse  40min with flours, 90% of water\n\
         {mix}{bulk}{rest}{shape}{proof}    bake  40min at 230C\n  }}\n}}\n"
    );
    let with = |was: &str, is: &str| {
        assert!(base.contains(was), "{was}");
        base.replacen(was, is, 1)
    };
    // With the lines that each puts in, and the order of steps that it wants.
    let edits: Vec<(String, &[&str], [&str; 2])> = vec![
        (with(&format!("{rest}{shape}"), &format!("{shape}{rest}")), &[], ["shape", "rest"]),
        (with(&format!("{shape}{proof}"), &format!("{proof}{shape}")), &[], ["proof", "shape"]),
        (with(&format!("{bulk}{rest}"), &format!("{rest}{bulk}")), &[], ["rest", "bulk"]),
        (with("mix  5min", "mix  6min"), &["mix  6min with "], ["", ""]),
        (
            with(&mix, &format!("{}{mix}", step("mix  2min with bread flour"))),
            &["mix  2min with bread flour"],
            ["", ""],
        ),
        (base.replace("levain", "sour"), &[" with sour, salt, remaining water"], ["", ""]),
        (
            with(&shape, &format!("{}{shape}", step("mix  2min with levain"))),
            &["mix  2min with levain"],
            ["", ""],
        ),
        (with(&rest, ""), &[], ["", ""]),
        (with(&shape, &format!("{}{shape}", step("divide  5min"))), &["divide  5min"], ["", ""]),
    ];
    let mut conflicts = 0;
    for (at_ours, (ours, our_lines, our_order)) in edits.iter().enumerate() {
        for (at_theirs, (theirs, their_lines, their_order)) in edits.iter().enumerate() {
            if at_ours == at_theirs {
                continue;
            }
            let (code, text) = merged(at, &base, ours, theirs);
            for line in our_lines.iter().chain(*their_lines) {
                assert!(text.contains(line), "{line} is lost of {at_ours} and {at_theirs}: {text}");
            }
            match code {
                Some(0) => {
                    for [first, then] in [our_order, their_order] {
                        let place = |word: &str| text.find(&format!("\n    {word}"));
                        let pair = place(first).zip(place(then));
                        let is_kept = first.is_empty() || pair.is_none_or(|(one, two)| one < two);
                        assert!(is_kept, "{first} before {then}: {text}");
                    }
                }
                Some(1) => {
                    conflicts += 1;
                    // Either side of it is a whole text.
                    let side = |ours: bool| {
                        let (mut kept, mut of) = (String::new(), None);
                        for line in text.lines() {
                            match line {
                                "<<<<<<< ours" => of = Some(true),
                                "=======" if of == Some(true) => of = Some(false),
                                ">>>>>>> theirs" => of = None,
                                _ if of.is_none_or(|it| it == ours) => kept += &format!("{line}\n"),
                                _ => {}
                            }
                        }
                        kept
                    };
                    for (is_ours, lines) in [(true, our_lines), (false, their_lines)] {
                        let text = side(is_ours);
                        for line in *lines {
                            assert!(text.contains(line), "{line} is not on its side: {text}");
                        }
                        assert!(
                            text.contains("levain, salt") || text.contains("sour, salt"),
                            "{text}"
                        );
                    }
                }
                other => panic!("{other:?}: {text}"),
            }
        }
    }
    assert!(conflicts > 8, "{conflicts}");
}

/// A file in other letters is merged by its lines, and the ends of lines stay what both have.
#[test]
fn letters_and_ends_of_lines_stay_as_they_are() {
    let folder = repository(&[]);
    let at = folder.path();
    let bytes = |text: &str| -> Vec<u8> {
        let all = text.replace('\n', "\r\n");
        all.chars().filter_map(|letter| u8::try_from(letter).ok()).collect()
    };
    for comment in ["# caf\u{e9}\n", "# cafe\n"] {
        let base = format!("{comment}{LOAF}");
        let (ours, theirs) =
            (base.replace("water 70%", "water 71%"), base.replace("salt 2%\n", "salt 1.9%\n"));
        for (name, text) in [("base", &base), ("ours", &ours), ("theirs", &theirs)] {
            fs::write(at.join(name), bytes(text)).expect("written");
        }
        let done = assize(at, &["git-merge", "base", "ours", "theirs", "merged-loaf.dough"]);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        let merged = fs::read(at.join("ours")).expect("readable");
        let wanted = ours.replace("salt 2%\n", "salt 1.9%\n");
        assert_eq!(merged, bytes(&wanted), "{}", String::from_utf8_lossy(&merged));
        fs::write(at.join("ours"), bytes(&ours)).expect("written");
        let other = base.replace("water 70%", "water 72%");
        fs::write(at.join("theirs"), bytes(&other)).expect("written");
        let done = assize(at, &["git-merge", "base", "ours", "theirs", "merged-loaf.dough"]);
        assert_eq!(done.status.code(), Some(1), "{}", err(&done));
    }
}

/// A formula that one side takes away stands whole in the conflict, and so does the other's.
#[test]
fn what_one_side_removes_and_the_other_changes_is_shown_whole() {
    let folder = repository(&[]);
    let at = folder.path();
    let second = LOAF.replace("jar", "pot").replace("merged-loaf", "other-loaf");
    let base = format!("{LOAF}{second}");
    let theirs = format!("{LOAF}{}", second.replace("water 70%", "water 71%"));
    for (ours, theirs) in [(LOAF, theirs.as_str()), (theirs.as_str(), LOAF)] {
        let (code, text) = merged(at, &base, ours, theirs);
        assert_eq!(code, Some(1), "{text}");
        let (start, end) = (text.find("<<<<<<<").expect("a mark"), text.find(">>>>>>>"));
        let inside = &text[start..end.expect("a mark")];
        for part in ["formula other-loaf", "water 71%", "cool 2h", "salt 2% }\n}\n"] {
            assert!(inside.contains(part), "{part}: {text}");
        }
    }
}

/// What is said twice in a formula that has other slips as well is still one thing.
#[test]
fn other_slips_hide_nothing_that_both_sides_add() {
    let folder = repository(&[]);
    let at = folder.path();
    let base = LOAF.replace("with everything else", "with everything else, starter");
    let after = |line: &str, more: &str| base.replacen(line, &format!("{line}\n{more}"), 1);
    let (code, text) = merged(
        at,
        &base,
        &after("    rye flour 10%", "    sesame seeds 5%"),
        &after("    salt 2%", "    sesame seeds  6%"),
    );
    assert_eq!(code, Some(1), "{text}");
}

/// What was set up in part is set up anew, and what is set up otherwise is told.
#[test]
fn a_setup_that_lacks_a_part_is_mended() {
    for broken in [
        &["config", "--remove-section", "diff.assize"][..],
        &["config", "diff.assize.textconv", "cat"],
        &["config", "--remove-section", "merge.assize"],
    ] {
        let folder = repository(&[]);
        let at = folder.path();
        set_up(at);
        git(at, &["config", "diff.assize.textconv", "assize git-text"]);
        git(at, &["config", "merge.assize.driver", "assize git-merge %O %A %B %P"]);
        git(at, broken);
        let done = assize(at, &["git-setup", "--yes"]);
        assert!(out(&done).contains("written"), "{broken:?}: {}", out(&done));
        for (name, command) in [
            ("diff.assize.textconv", "assize git-text"),
            ("merge.assize.driver", "assize git-merge"),
        ] {
            assert!(git(at, &["config", name]).contains(command), "{broken:?}: {name}");
        }
        assert!(out(&assize(at, &["git-setup", "--yes"])).contains("already knows"));
    }
}

/// In the midst of a merge git shows what the two sides disagree on, and not the whole file.
#[test]
fn a_conflict_is_shown_by_what_the_sides_say() {
    let folder = repository(&[]);
    let at = folder.path();
    set_up(at);
    git(at, &["checkout", "-q", "-b", "dry"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "71%"));
    commit(at, "Less water");
    git(at, &["checkout", "-q", "main"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "76%"));
    commit(at, "More water");
    let merge = Command::new("git").current_dir(at).args(["merge", "-q", "dry"]).output();
    assert!(!merge.expect("git runs").status.success());
    let told = git(at, &["diff"]);
    let changed: Vec<&str> = told
        .lines()
        .filter(|line| line.starts_with([' ', '+', '-']) && line.trim().len() > 2)
        .filter(|line| {
            line.starts_with("++") || line.starts_with("--") || line[..2].contains(['+', '-'])
        })
        .filter(|line| !line.starts_with("+++") && !line.starts_with("---"))
        .collect();
    let wanted = [
        "++<<<<<<< ours",
        " +  total: water 76 %",
        "++=======",
        "+   total: water 71 %",
        "++>>>>>>> theirs",
    ];
    assert_eq!(changed, wanted, "{told}");
    // Marks with the base between them, as some have git write them.
    let marked = "formula a \"A\" {\n  makes 2 loaves at 800 g\n  dough {\n    bread flour 100%\n\
                  <<<<<<< one\n    water 70%\n||||||| base\n    water 65%\n=======\n    water 60%\n\
                  >>>>>>> two\n    salt 2%\n  }\n}\n";
    write(at, "marked.dough", marked);
    let text = out(&assize(at, &["git-text", "marked.dough"]));
    let part = "<<<<<<< ours\n  dough: water 70 %\n=======\n  dough: water 60 %\n>>>>>>> theirs\n";
    assert!(text.contains(part) && !text.contains("65"), "{text}");
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

/// Merges two edits of a text; how it ends, and what it writes.
fn merged(at: &Path, base: &str, ours: &str, theirs: &str) -> (Option<i32>, String) {
    for (name, text) in [("base", base), ("ours", ours), ("theirs", theirs)] {
        write(at, name, text);
    }
    let done = assize(at, &["git-merge", "base", "ours", "theirs", "merged-loaf.dough"]);
    (done.status.code(), fs::read_to_string(at.join("ours")).expect("readable"))
}

/// A formula in which each line says several things.
const LOAF: &str = "ingredient jar like whole milk { price 3 EUR per kg }\n\
    formula merged-loaf \"Merged Loaf\" {\n  makes 10 loaves at 800 g\n  total {\n    \
    bread flour 90%\n    rye flour 10%\n    water 70%\n    salt 2%\n    fresh yeast 1%\n  }\n  \
    method {\n    mix 4min with everything else to 25C\n    bulk 3h..4h at 24C fold 2 times every 45min\n    \
    bake 40min..45min at 240C\n    cool 2h\n  }\n  expect { hydration 70%; salt 2% }\n}\n";

#[test]
fn each_pair_of_changes_of_different_things_merges_and_of_one_thing_conflicts() {
    let folder = repository(&[]);
    let at = folder.path();
    // What is changed, and into what; each of another thing.
    let changes = [
        ("price 3 EUR", "price 4 EUR"),
        ("makes 10", "makes 12"),
        ("at 800 g", "at 850 g"),
        ("rye flour 10%", "rye flour 10% \"sifted\""),
        ("mix 4min", "mix 6min"),
        ("to 25C", "to 26C"),
        ("bulk 3h..4h", "bulk 2h..3h"),
        ("at 24C", "at 22C"),
        ("2 times every 45min", "3 times every 45min"),
        ("40min..45min", "35min..40min"),
        ("at 240C", "at 230C"),
        ("cool 2h", "cool 3h"),
        ("expect { hydration 70%", "expect { hydration 70%..71%"),
        ("salt 2% }", "salt 2%..2.1% }"),
    ];
    // Makes, weight of one and the like are one statement, however many words it has; how long and
    // how warm a step is, is one decision.
    let of_one = [[1, 2].as_slice(), &[4, 5], &[6, 7, 8], &[9, 10]];
    let one =
        |one: usize, two: usize| of_one.iter().any(|all| all.contains(&one) && all.contains(&two));
    let mut pairs = 0;
    for (first, (from, to)) in changes.iter().enumerate() {
        let ours = LOAF.replacen(from, to, 1);
        assert_ne!(ours, LOAF, "{from}");
        for (second, (was, is)) in changes.iter().enumerate() {
            let theirs = LOAF.replacen(was, is, 1);
            let (code, text) = merged(at, LOAF, &ours, &theirs);
            let said = format!("{to} and {is}: {text}");
            if first == second {
                assert_eq!((code, &text), (Some(0), &ours), "{said}");
                let other = LOAF.replacen(from, &to.replace(['3', '4', '5', '6'], "9"), 1);
                if other != ours && other != LOAF {
                    assert_eq!(merged(at, LOAF, &ours, &other).0, Some(1), "{said}");
                }
            } else if one(first, second) || one(second, first) {
                assert_eq!(code, Some(1), "{said}");
            } else {
                assert_eq!(code, Some(0), "{said}");
                assert_eq!(text, ours.replacen(was, is, 1), "{said}");
                pairs += 1;
            }
        }
    }
    assert_eq!(pairs, 14 * 13 - 2 - 2 - 6 - 2);
    // One takes out what the other changes, though the words lie apart.
    let milk = LOAF.replace("water 70%", "whole milk 70%");
    let (code, text) = merged(at, LOAF, &milk, &LOAF.replace("water 70%", "water 72%"));
    assert_eq!(code, Some(1), "{text}");
    // Different claims that come to one line.
    let claims = |more: &str| LOAF.replace("salt 2% }", &format!("salt 2%{more} }}"));
    let (code, text) = merged(at, LOAF, &claims("; fat 0%..9%"), &claims("; sugar 0%..9%"));
    assert_eq!((code, text), (Some(0), claims("; fat 0%..9%; sugar 0%..9%")));
}

/// What one side says in a comment stands in the merge, and two halves of one decision conflict.
#[test]
fn comments_are_kept_and_nobody_decides_halves() {
    let folder = repository(&[]);
    let at = folder.path();
    let loaf =
        format!("{LOAF}mixture glaze {{\n  whole egg   10 parts\n  whole milk   1 part\n}}\n");
    let with = |from: &str, to: &str| {
        assert!(loaf.contains(from), "{from}");
        loaf.replacen(from, to, 1)
    };
    let old = "water 70%  # the old mixer";
    let commented = with("water 70%", old);
    // The base, both sides, and what comes of them; none where they conflict.
    let cases = [
        // A comment and a number, at whatever side.
        (
            loaf.clone(),
            with("water 70%", "water 72%"),
            commented.clone(),
            Some("water 72%  # the old mixer"),
        ),
        (
            loaf.clone(),
            with("bulk 3h..4h", "bulk 2h..3h"),
            with("every 45min", "every 45min # in the tub"),
            Some("bulk 2h..3h at 24C fold 2 times every 45min # in the tub"),
        ),
        (
            commented.clone(),
            with("water 70%", "water 70%"),
            with("water 70%", "water 72%  # the old mixer"),
            Some("water 72%\n"),
        ),
        // Two comments on one line.
        (
            loaf.clone(),
            with("water 70%", "water 70% # A"),
            with("water 70%", "water 70% # B"),
            None,
        ),
        (
            commented.clone(),
            with("water 70%", "water 70% # A"),
            with("water 70%", "water 72% # B"),
            None,
        ),
        // The same one.
        (
            loaf.clone(),
            with("water 70%", "water 70% # A"),
            with("water 70%", "water 70% # A"),
            Some("water 70% # A"),
        ),
        // Halves of one decision: of a step, of what is mixed by parts.
        (loaf.clone(), with("bulk 3h..4h", "bulk 5h..6h"), with("at 24C", "at 20C"), None),
        (loaf.clone(), with("bake 40min..45min", "bake 55min"), with("at 240C", "at 260C"), None),
        (
            loaf.clone(),
            with("whole egg   10 parts", "whole egg   5 parts"),
            with("whole milk   1 part", "whole milk   2 parts"),
            None,
        ),
        // What is another's decision.
        (
            loaf.clone(),
            with("bulk 3h..4h", "bulk 5h..6h"),
            with("cool 2h", "cool 3h"),
            Some("bulk 5h..6h"),
        ),
        (
            loaf.clone(),
            with("bulk 3h..4h", "bulk 5h..6h"),
            with("every 45min", "every 45min note \"In the tub.\""),
            Some("note \"In the tub.\""),
        ),
    ];
    for (base, one, two, wanted) in cases {
        for (ours, theirs) in [(&one, &two), (&two, &one)] {
            let (code, text) = merged(at, &base, ours, theirs);
            match wanted {
                Some(wanted) => {
                    assert_eq!(code, Some(0), "{wanted}: {text}");
                    assert!(text.contains(wanted), "{wanted}: {text}");
                }
                None => {
                    assert_eq!(code, Some(1), "{text}");
                    assert!(text.contains("<<<<<<<") && text.contains(">>>>>>>"), "{text}");
                }
            }
        }
    }
}

#[test]
fn what_both_sides_add_in_different_places_is_one_line_or_a_conflict() {
    let folder = repository(&[]);
    let at = folder.path();
    let after = |line: &str, more: &str| LOAF.replacen(line, &format!("{line}\n{more}"), 1);
    let ends = |text: &str, more: &str| format!("{text}{more}");
    let begins = |text: &str, more: &str| format!("{more}{text}");
    let seed = "    sunflower seeds 6%";
    let stage = "  soaker crumbs {\n    takes 6% of flour\n    rye flour 100%\n    water 200%\n  }";
    let wash = "mixture wash {\n  whole egg 9 parts\n  whole milk 2 parts\n}\n";
    let jam = "ingredient quay jam like sugar { price 2 EUR per kg }\n";
    for (what, ours, theirs, other) in [
        (
            "a line",
            after("    rye flour 10%", seed),
            after("    salt 2%", seed),
            after("    salt 2%", "    sunflower seeds 5%"),
        ),
        (
            "a stage",
            after("  makes 10 loaves at 800 g", stage),
            after("    cool 2h\n  }", stage),
            after("    cool 2h\n  }", &stage.replace("200%", "150%")),
        ),
        (
            "a mixture",
            begins(LOAF, wash),
            ends(LOAF, wash),
            ends(LOAF, &wash.replace("9 parts", "8 parts")),
        ),
        (
            "an ingredient",
            begins(LOAF, jam),
            ends(LOAF, jam),
            ends(LOAF, &jam.replace("2 EUR", "3 EUR")),
        ),
        (
            "a property",
            after("  makes 10 loaves at 800 g", "  bake loss 12%"),
            after("    cool 2h\n  }", "  bake loss 12%"),
            after("    cool 2h\n  }", "  bake loss 14%"),
        ),
    ] {
        for (ours, theirs, other) in [(&ours, &theirs, Some(&other)), (&theirs, &ours, None)] {
            let (code, text) = merged(at, LOAF, ours, theirs);
            assert_eq!((code, &text), (Some(0), ours), "{what}: {text}");
            let Some(other) = other else { continue };
            let (code, text) = merged(at, LOAF, ours, other);
            assert_eq!(code, Some(1), "{what}: {text}");
            let marks = ["<<<<<<< ours", "=======", ">>>>>>> theirs"];
            let count = |mark: &str| text.lines().filter(|line| *line == mark).count();
            assert_eq!(marks.map(count), [1, 1, 1], "{what}: {text}");
            // The conflict holds nothing but what both say of it.
            let start = text.find("<<<<<<<").expect("a mark");
            let end = text.find(">>>>>>>").expect("a mark");
            let inside = text[start..end].lines().count();
            assert!(inside <= 13, "{what}: {text}");
            assert!(!text[start..end].contains("fresh yeast"), "{what}: {text}");
        }
    }
    // What is left open is named as such, once, and nothing is laid out or printed.
    let (_, text) = merged(
        at,
        LOAF,
        &LOAF.replace("water 70%", "water 71%"),
        &LOAF.replace("water 70%", "water 72%"),
    );
    write(at, "merged-loaf.dough", &text);
    let told = out(&assize(at, &["check", "merged-loaf.dough", "--format", "json"]));
    let count = |rule: &str| told.matches(&format!("\"{rule}\"")).count();
    assert_eq!((count("unresolved-merge"), count("unexpected-text")), (1, 0), "{told}");
    assert_eq!(assize(at, &["show", "merged-loaf"]).status.code(), Some(1));
    let laid_out = assize(at, &["fmt", "merged-loaf.dough"]);
    assert!(err(&laid_out).contains("a merge in it is not finished"), "{}", err(&laid_out));
    assert_eq!(fs::read_to_string(at.join("merged-loaf.dough")).expect("readable"), text);
    fs::remove_file(at.join("merged-loaf.dough")).expect("removed");
    // Different things in one place stand beside each other.
    let two = (ends(LOAF, jam), ends(LOAF, wash));
    assert_eq!(merged(at, LOAF, &two.0, &two.1), (Some(0), format!("{LOAF}{jam}{wash}")));
}

/// Runs a script as a runner would, with this build's command on its path.
fn script(at: &Path, text: &str) -> (bool, String) {
    let own = Path::new(env!("CARGO_BIN_EXE_assize")).parent().expect("a folder");
    let path = std::env::var_os("PATH").unwrap_or_default();
    let paths = std::iter::once(own.to_path_buf()).chain(std::env::split_paths(&path));
    let done = std::process::Command::new("sh")
        .args(["-e", "-c", text])
        .current_dir(at)
        .env("PATH", std::env::join_paths(paths).expect("paths"))
        .output()
        .expect("sh runs");
    (done.status.success(), out(&done) + &err(&done))
}

#[test]
fn the_recipe_for_a_change_and_the_hooks_for_a_commit_run_as_they_are_written() {
    let folder = repository(&[]);
    let at = folder.path();
    assert_eq!(assize(at, &["fmt"]).status.code(), Some(0));
    commit(at, "Lay the files out");
    git(at, &["update-ref", "refs/remotes/origin/main", "HEAD"]);
    let plain = fs::read_to_string(at.join("pier-loaf.dough")).expect("readable");
    write(at, "pier-loaf.dough", &plain.replace("74%", "75%"));
    commit(at, "Make it wetter");
    // What the main branch has done since is no change of this one's.
    git(at, &["checkout", "-q", "-b", "moved-on", "origin/main"]);
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &format!("{house}\n# Nothing new.\n"));
    write(at, "new-loaf.dough", &plain.replace("pier-loaf", "new-loaf"));
    commit(at, "Bake another loaf");
    git(at, &["update-ref", "refs/remotes/origin/main", "HEAD"]);
    git(at, &["checkout", "-q", "main"]);
    let readme = fs::read_to_string(top().join("README.md")).expect("readable");
    let start = readme.find("assize check --format sarif").expect("the recipe");
    let end = start + readme[start..].find("```").expect("its end");
    let recipe = &readme[start..end];
    let hooks = fs::read_to_string(top().join(".pre-commit-hooks.yaml")).expect("readable");
    let entries: Vec<&str> =
        hooks.lines().filter_map(|line| line.trim().strip_prefix("entry: ")).collect();
    assert_eq!(entries.len(), 2, "{hooks}");
    // The first looks at all there is, whatever changed.
    assert_eq!(hooks.matches("pass_filenames: false").count(), 1, "{hooks}");
    let hook = |entry: &str| match entry.ends_with("check") && !entry.contains("fmt") {
        true => script(at, entry),
        false => script(at, &format!("{entry} house.dough pier-loaf.dough")),
    };
    let (is_clean, told) = script(at, recipe);
    assert!(is_clean, "{told}");
    let comment = fs::read_to_string(at.join("comment.md")).expect("written");
    assert!(comment.starts_with("- **pier-loaf**: hydration 74 → 75 %"), "{comment}");
    assert!(!comment.contains("new-loaf"), "{comment}");
    let sarif = fs::read_to_string(at.join("assize.sarif")).expect("written");
    let sarif: serde_json::Value = serde_json::from_str(&sarif).expect("JSON");
    assert_eq!(sarif["version"], "2.1.0");
    for entry in &entries {
        assert!(hook(entry).0, "{entry}: {}", hook(entry).1);
    }
    // What is not laid out, and what is wrong, stops both.
    for (text, wanted) in [
        (plain.replace("    water", "  water"), [true, false]),
        (plain.replace(" 2%", " wet"), [false, false]),
    ] {
        assert_ne!(text, plain);
        write(at, "pier-loaf.dough", &text);
        let found: Vec<bool> = entries.iter().map(|entry| hook(entry).0).collect();
        assert_eq!(found[0], wanted[0], "{text}");
        assert!(!found[1] || !found[0], "{text}");
        assert!(!script(at, recipe).0, "{text}");
    }
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

/// Lines that nobody touched stand in no conflict, and each side is what is left of it by itself.
#[test]
fn a_conflict_covers_only_what_was_touched() {
    let folder = repository(&[]);
    let at = folder.path();
    let loaf = "formula merged-loaf \"Merged Loaf\" {\n  makes 10 loaves at 800 g\n  total {\n    \
        bread flour 90%\n    rye flour 10%\n    water 70%\n    salt 2%\n    fresh yeast 1%\n    \
        sunflower seeds 8%\n  }\n  method {\n    mix 4min with everything else except sunflower seeds\n    \
        mix 2min with sunflower seeds\n    bulk 3h at 24C\n    bake 40min at 240C\n  }\n}\n";
    let with = |edits: &[(&str, &str)]| {
        edits.iter().fold(loaf.to_owned(), |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replacen(from, to, 1)
        })
    };
    // Both sides, and what stands in no conflict.
    for (ours, theirs, calm) in [
        // Taken out by one, and its step changed by the other.
        (
            with(&[
                ("    sunflower seeds 8%\n", ""),
                (" except sunflower seeds", ""),
                ("    mix 2min with sunflower seeds\n", ""),
            ]),
            with(&[("mix 2min with", "mix 3min with")]),
            &["bread flour", "rye flour", "salt 2%", "bulk 3h", "bake 40min"][..],
        ),
        // Two halves of one decision, and something of nobody's.
        (
            with(&[("bulk 3h at", "bulk 5h at"), ("makes 10", "makes 12")]),
            with(&[("bulk 3h at 24C", "bulk 3h at 20C")]),
            &["makes 12 loaves", "bread flour", "salt 2%", "bake 40min"],
        ),
    ] {
        for (one, two) in [(&ours, &theirs), (&theirs, &ours)] {
            let (code, text) = merged(at, loaf, one, two);
            assert_eq!(code, Some(1), "{text}");
            let mut inside = false;
            let open: Vec<&str> = text
                .lines()
                .filter(|line| {
                    inside |= line.starts_with("<<<<<<<");
                    let is_in = inside;
                    inside &= !line.starts_with(">>>>>>>");
                    is_in
                })
                .collect();
            assert!(!inside && !open.is_empty(), "{text}");
            assert!(!text.contains("|||||||"), "{text}");
            for word in calm {
                assert!(text.contains(word), "{word}: {text}");
                assert!(!open.iter().any(|line| line.contains(word)), "{word}: {text}");
            }
        }
    }
    // As git's own setting wants it.
    for (style, has_base) in [("diff3", true), ("zdiff3", true), ("merge", false), ("", false)] {
        let one = loaf.replace("water 70%", "water 72%");
        for (name, text) in [
            ("base", loaf),
            ("ours", one.as_str()),
            ("theirs", &loaf.replace("water 70%", "water 74%")),
        ] {
            write(at, name, text);
        }
        let args = ["git-merge", "--style", style, "base", "ours", "theirs", "merged-loaf.dough"];
        assert_eq!(assize(at, &args).status.code(), Some(1));
        let text = fs::read_to_string(at.join("ours")).expect("readable");
        let base = "    water 72%\n||||||| base\n    water 70%\n=======\n    water 74%\n";
        assert_eq!(text.contains(base), has_base, "{style}: {text}");
        assert_eq!(text.contains("|||||||"), has_base, "{style}: {text}");
    }
}

/// A text as each side of its conflicts has it.
fn sides_of(text: &str) -> [String; 2] {
    let (mut sides, mut of) = ([String::new(), String::new()], [true, true]);
    for line in text.lines() {
        match line {
            "<<<<<<< ours" => of = [true, false],
            "=======" => of = [false, true],
            ">>>>>>> theirs" => of = [true, true],
            line => {
                let own = sides.iter_mut().zip(of).filter(|(_, is_of)| *is_of);
                own.for_each(|(side, _)| *side += &format!("{line}\n"));
            }
        }
    }
    sides
}

/// What a side takes out beside what the other changed belongs to the conflict, and a step that
/// each side put elsewhere is told in both places: each side can be had whole.
#[test]
fn each_side_of_a_conflict_is_whole() {
    let folder = repository(&[]);
    let at = folder.path();
    let head = "# the white one\n# keep it cold\nculture harbour culture {\n  bread flour 100%\n  \
        water 100%\n}\n";
    let steps = ["mix 8min", "bulk 2h at 24C", "divide 10min", "rest 20min", "bake 40min at 230C"];
    let loaf = |steps: &[&str]| {
        let steps: String = steps.iter().map(|step| format!("    {step}\n")).collect();
        format!(
            "formula merged-loaf {{\n  makes 4 loaves at 800 g\n  dough {{\n    bread flour 100%\n    \
             water 70%\n    salt 2%\n    fresh yeast 1%\n  }}\n  method {{\n{steps}  }}\n}}\n"
        )
    };
    let base = head.to_owned() + &loaf(&steps);
    let [mix, bulk, divide, rest, bake] = steps;
    let commented =
        |note: &str| loaf(&steps).replace("    bulk", &format!("    # {note}\n    bulk"));
    for (base, ours, theirs) in [
        (base.clone(), base.replace("keep it cold", "keep it cool"), loaf(&steps)),
        (commented("second"), commented("the second"), loaf(&[mix, divide, rest, bake])),
        (
            loaf(&steps),
            loaf(&[bulk, mix, divide, rest, bake]),
            loaf(&[bulk, divide, mix, rest, bake]),
        ),
    ] {
        for (one, two) in [(&ours, &theirs), (&theirs, &ours)] {
            let (code, text) = merged(at, &base, one, two);
            assert_eq!(code, Some(1), "{text}");
            let sides = sides_of(&text);
            assert_eq!([&sides[0], &sides[1]], [one, two], "{text}");
        }
    }
}

/// Git itself hands on how conflicts are written and what the sides are called.
#[test]
fn marks_are_as_git_is_set_to_write_them() {
    let folder = repository(&[]);
    let at = folder.path();
    set_up(at);
    git(at, &["config", "merge.conflictStyle", "diff3"]);
    git(at, &["checkout", "-q", "-b", "wetter"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "77%"));
    commit(at, "More water");
    git(at, &["checkout", "-q", "main"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    commit(at, "A little more water");
    let done = Command::new("git")
        .args([
            "-c",
            "user.name=Ines",
            "-c",
            "user.email=ines@gullhaven.example",
            "merge",
            "wetter",
        ])
        .current_dir(at)
        .output()
        .expect("git runs");
    assert!(!done.status.success());
    let text = fs::read_to_string(at.join("pier-loaf.dough")).expect("readable");
    let mut lines = text.lines().map(str::trim_end);
    for wanted in [
        "<<<<<<< HEAD",
        "    water         75%",
        "||||||| base",
        "    water         74%",
        "=======",
        "    water         77%",
        ">>>>>>> wetter",
    ] {
        assert!(lines.any(|line| line == wanted), "{wanted}: {text}");
    }
    // What is not merged is not staged.
    let done = assize(at, &["diff", "--staged", "--exit-code"]);
    assert_eq!(done.status.code(), Some(2), "{}", out(&done));
    assert!(err(&done).contains("not merged yet"), "{}", err(&done));
    assert_eq!(out(&done), "");
}
