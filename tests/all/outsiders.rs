//! What comes from outside of a bakehouse: repositories that somebody broke, recipes that are
//! none, pictures that take for ever, names that forge a line. Each ends in words, and soon.

use crate::diff::{commit, git, write};
use crate::support::{assize, err, folder, out};
use std::fs;
use std::path::Path;
use std::process::Command;

const LOAF: &str = "\
formula pier-loaf \"Pier Loaf\" {
  makes 12 loaves at 800 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }
  method {
    mix 10min with everything
    bulk 1h
    shape 10min
    proof 1h
    bake 40min at 230C
  }
}
";

/// A recipe as pages hold it for programs.
const RECIPE: &str = r#"{"@context": "https://schema.org", "@type": "Recipe", "name": "Pier Loaf",
"recipeIngredient": ["500 g bread flour", "350 g water", "10 g salt"]}"#;

/// A repository with two commits of one formula.
fn repository(at: &Path) {
    git(at, &["init", "-q"]);
    write(at, "pier.dough", LOAF);
    commit(at, "First");
    write(at, "pier.dough", &LOAF.replace("salt 2%", "salt 2.1%"));
    commit(at, "More salt");
}

/// What was said, without the marks where its lines were broken.
fn unwrapped(said: &str) -> String {
    said.replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every command that reads git's files, with its exit code and what it says.
fn of_git(at: &Path) -> Vec<(Option<i32>, String)> {
    let commands: [&[&str]; 4] = [
        &["diff", "HEAD~1"],
        &["history", "pier-loaf"],
        &["trace", "23456ABC"],
        &["print", "pier-loaf", "--only", "table", "--to", "out"],
    ];
    let run = |args: &[&str]| {
        let done = assize(at, args);
        (done.status.code(), unwrapped(&format!("{}{}", out(&done), err(&done))))
    };
    commands.into_iter().map(run).collect()
}

#[cfg(unix)]
#[test]
fn a_repository_of_pipes_and_devices_is_told() {
    let folder = folder();
    let at = folder.path();
    repository(at);
    let head = fs::read_to_string(at.join(".git/HEAD")).expect("there");
    let branch = head.trim().strip_prefix("ref: ").expect("a branch").to_owned();
    let places = [
        "HEAD",
        "config",
        "config.worktree",
        "packed-refs",
        "shallow",
        "commondir",
        "index",
        "objects/info/alternates",
        "objects/aa/bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb",
        "info/grafts",
        "logs/HEAD",
        &branch,
    ];
    for place in places {
        for is_pipe in [true, false] {
            let whole = folder.path().join("whole");
            let copied = Command::new("cp").arg("-a").arg(at.join(".git")).arg(&whole).status();
            assert!(copied.expect("cp").success());
            let file = at.join(".git").join(place);
            fs::create_dir_all(file.parent().expect("a folder")).expect("made");
            let _ = fs::remove_file(&file);
            match is_pipe {
                true => {
                    assert!(Command::new("mkfifo").arg(&file).status().expect("mkfifo").success())
                }
                false => std::os::unix::fs::symlink("/dev/zero", &file).expect("linked"),
            }
            for (code, said) in of_git(at) {
                assert!(code.is_some_and(|code| code < 2), "{place}: {code:?} {said}");
                assert!(said.contains("is a pipe or a device"), "{place}: {said}");
            }
            fs::remove_dir_all(at.join(".git")).expect("removed");
            fs::rename(&whole, at.join(".git")).expect("back");
        }
    }
    assert!(of_git(at)[0].1.contains("salt"), "it is whole again");
}

#[test]
fn a_damaged_repository_is_no_empty_one() {
    type Damage = (&'static str, fn(&Path));
    let damages: [Damage; 4] = [
        ("cut objects", |git| {
            for folder in fs::read_dir(git.join("objects")).expect("there") {
                for file in fs::read_dir(folder.expect("a folder").path()).expect("there") {
                    let file = file.expect("a file").path();
                    fs::remove_file(&file).expect("removed");
                    fs::write(&file, "x").expect("written");
                }
            }
        }),
        ("a commit that is not there", |git| {
            let head = fs::read_to_string(git.join("HEAD")).expect("there");
            let branch = head.trim().strip_prefix("ref: ").expect("a branch");
            fs::write(git.join(branch), "deadbeef".repeat(5)).expect("written");
        }),
        ("a damaged list of cuts", |git| fs::write(git.join("shallow"), "x\n").expect("written")),
        ("a HEAD of no branch", |git| fs::write(git.join("HEAD"), "x\n").expect("written")),
    ];
    for (what, damage) in damages {
        let folder = folder();
        repository(folder.path());
        damage(&folder.path().join(".git"));
        for (code, said) in of_git(folder.path()) {
            assert!(code.is_some_and(|code| code < 3), "{what}: {code:?} {said}");
            assert!(!said.contains("no commit yet"), "{what}: {said}");
            let is_told = said.contains("can't be read") || said.contains("git repository");
            assert!(is_told, "{what}: {said}");
        }
    }
}

#[test]
fn what_is_no_recipe_is_refused_before_it_is_worked_on() {
    let rows = "bread flour,500\nwater,350\nsalt,10\n";
    let columns: String = (0..3000).map(|_| "g,").collect();
    let tags =
        "<div itemscope itemtype=\"http://schema.org/Recipe\"><p itemprop=\"name\">".repeat(20_000);
    for (name, text, wanted) in [
        ("rows.csv", format!("ingredient,g\n{}", rows.repeat(2_000)), "6000 lines of ingredients"),
        ("cells.csv", format!("ingredient,g\n{}", rows.repeat(60_000)), "cells"),
        ("columns.csv", format!("{columns}\n{columns}\n"), "columns"),
        ("line.txt", "salt ".repeat(20_000), "bytes"),
        ("digits.txt", format!("{} g salt\n", "1".repeat(100_000)), "bytes"),
        ("tags.html", tags, ""),
        ("recipes.json", format!("[{}]", vec![RECIPE; 2_001].join(",")), "2001 recipes"),
    ] {
        let folder = folder();
        write(folder.path(), name, &text);
        let done = assize(folder.path(), &["read", name, "--dry-run"]);
        let said = format!("{}{}", out(&done), err(&done));
        assert_eq!(done.status.code(), Some(1), "{name}: {said:.500}");
        let said = unwrapped(&said);
        assert!(said.contains(wanted), "{name}: {said:.500}");
    }
}

/// Pictures that no page can show, each left out with a warning, and the print is made.
#[test]
fn a_picture_that_takes_for_ever_or_is_damaged_is_left_out() {
    const HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10\" height=\"10\">";
    let nested: String = (1..11)
        .map(|at| {
            let uses = format!("<use href=\"#n{}\"/>", at - 1).repeat(10);
            format!("<g id=\"n{at}\">{uses}</g>")
        })
        .collect();
    let cut = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x10\0\0\0\x10\x08\x06\0\0\0".to_vec();
    for (name, bytes) in [
        ("logo.svg", format!("{HEAD}<filter id=\"f\"><feTurbulence numOctaves=\"1000000000\" baseFrequency=\"9\"/></filter><rect filter=\"url(#f)\" width=\"10\" height=\"10\"/></svg>").into_bytes()),
        ("logo.svg", format!("{HEAD}<script>alert(1)</script></svg>").into_bytes()),
        ("logo.svg", format!("{HEAD}<rect id=\"n0\" width=\"1\" height=\"1\"/>{nested}<use href=\"#n10\"/></svg>").into_bytes()),
        ("logo.svg", format!("{HEAD}<rect width=\"").into_bytes()),
        ("logo.png", cut),
    ] {
        let folder = folder();
        let at = folder.path();
        write(at, "house.dough", &format!("bakehouse \"Gullhaven Bakehouse\" {{ logo \"{name}\" }}\n{LOAF}"));
        fs::write(at.join(name), &bytes).expect("written");
        let told = assize(at, &["check"]);
        assert!(out(&told).contains("unknown-logo"), "{bytes:?}: {}{}", out(&told), err(&told));
        let done = assize(at, &["print", "pier-loaf", "--only", "card", "--to", "out"]);
        assert_eq!(done.status.code(), Some(0), "{bytes:?}: {}", err(&done));
    }
}

/// A customer, a title and a file's name never make a line of their own.
#[test]
fn no_name_forges_a_line() {
    let folder = folder();
    let at = folder.path();
    let forged = "by 05:00  900 rolls";
    write(at, "house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    write(at, "pier.dough", LOAF);
    write(
        at,
        "day.dough",
        &format!(
            "day saturday \"Market\nDay\" {{\n  order pier-loaf for \"A\n  {forged}\" 12 loaves by 09:00\n}}\n"
        ),
    );
    write(
        at,
        "orders.csv",
        &format!("product,amount,by,customer\npier-loaf,12 loaves,09:00,\"A\n  {forged}\"\n"),
    );
    for args in [&["day", "saturday"][..], &["day", "saturday", "--orders", "orders.csv"]] {
        let done = assize(at, args);
        let said = out(&done);
        assert!(said.contains("900 rolls"), "{args:?}: {said}{}", err(&done));
        assert!(
            !said.lines().any(|line| line.trim_start().starts_with(forged)),
            "{args:?}: {said}"
        );
    }
    #[cfg(unix)]
    {
        write(
            at,
            "new\nline.dough",
            "formula  other-loaf \"O\" { makes 1 loaf at 900 g; total { bread flour 100%; water 60%; salt 2%; fresh yeast 1% } }\n",
        );
        for args in [&["fmt", "--check"][..], &["fmt"]] {
            let said = out(&assize(at, args));
            assert!(said.contains("new\\u{a}line.dough"), "{args:?}: {said}");
        }
    }
}

#[test]
fn the_number_of_a_shelf_is_no_food() {
    for code in ["a66", "a69", "a96", "a99", "a366", "a41", "a415", "a1011", "b612", "41a"] {
        let text = LOAF.replace(
            "bulk 1h",
            &format!("step \"put the tins on shelf {code}\" 1min\n    bulk 1h"),
        );
        let found = crate::support::names(&text);
        assert!(!found.iter().any(|name| name.contains("in-text")), "{code}: {found:?}");
    }
    let text = LOAF.replace("bulk 1h", "step \"brush with 3gg and m1lk\" 1min\n    bulk 1h");
    assert!(crate::support::names(&text).iter().any(|name| name.contains("in-text")));
}

#[test]
fn a_day_as_a_table_holds_no_formulas_of_a_spreadsheet() {
    let folder = folder();
    let at = folder.path();
    let text = LOAF
        .replace("\"Pier Loaf\"", "\"=HYPERLINK(1)\"")
        .replace("bulk 1h", "step \"=cmd|' /C calc'!A0\" 5min\n    bulk 1h");
    assert!(text.contains("HYPERLINK") && text.contains("cmd|"), "{text}");
    write(at, "house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    write(at, "pier.dough", &text);
    write(at, "day.dough", "day saturday \"Market\" { order pier-loaf 12 loaves by 09:00 }\n");
    let done = assize(at, &["day", "saturday", "--format", "csv"]);
    let table = out(&done);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let mut seen = 0;
    for row in rows.records() {
        for cell in &row.expect("a row") {
            assert!(!cell.starts_with(['=', '+', '@']), "{cell}");
            seen += usize::from(cell.starts_with("'="));
        }
    }
    assert!(seen >= 2, "{table}");
}

#[cfg(unix)]
#[test]
fn what_can_t_be_read_is_compared_with_nothing() {
    let folder = folder();
    let at = folder.path();
    write(at, "pier.dough", LOAF);
    for args in [["diff", "/dev/zero", "pier.dough"], ["diff", "pier.dough", "/dev/zero"]] {
        let done = assize(at, &args);
        assert_eq!(done.status.code(), Some(1), "{}", err(&done));
        assert_eq!(out(&done), "", "{args:?}");
        assert!(err(&done).contains("/dev/zero"), "{}", err(&done));
    }
}

/// Exercises beyond any that a class could write are refused before they are worked on.
#[test]
fn a_thousand_exercises_are_refused() {
    let booklet = |count: usize, variants: usize| {
        let tasks = "    scale\n".repeat(count);
        format!(
            "{LOAF}booklet course \"Course\" {{\n  variants {variants}\n  worksheet pier-loaf {{\n{tasks}  }}\n  answers\n}}\n"
        )
    };
    for (count, variants, is_refused) in [(3, 2, false), (1_000, 2, true), (90, 30, true)] {
        let found = crate::support::names(&booklet(count, variants));
        assert_eq!(found.contains(&"too-many"), is_refused, "{count}, {variants}: {found:?}");
    }
    // Drawn several times, each counts.
    for (lines, is_refused) in [(1, false), (2, false), (3, true)] {
        let tasks: String = (0..lines).map(|at| format!("    scale {} times\n", 50 - at)).collect();
        let text = format!(
            "{LOAF}booklet course \"Course\" {{\n  worksheet pier-loaf {{\n{tasks}  }}\n  answers\n}}\n"
        );
        let found = crate::support::names(&text);
        assert_eq!(found.contains(&"too-many"), is_refused, "{lines}: {found:?}");
    }
}

/// What a repository brings along is not written through, and no byte of it is lost.
#[cfg(unix)]
#[test]
fn what_git_is_told_loses_nothing_and_leads_nowhere() {
    let line = "*.dough diff=assize merge=assize\n";
    let set_up = |at: &Path| {
        let done = assize(at, &["git-setup", "--yes"]);
        (done.status.code(), unwrapped(&format!("{}{}", out(&done), err(&done))))
    };
    let fresh = || {
        let folder = folder();
        git(folder.path(), &["init", "-q"]);
        folder
    };
    // Letters that are no UTF-8 stay as they are.
    for file in [".gitattributes", ".git/config"] {
        let folder = fresh();
        let path = folder.path().join(file);
        let mut before = fs::read(&path).unwrap_or_default();
        before.extend_from_slice(b"# caf\xe9");
        fs::write(&path, &before).expect("a writable folder");
        assert_eq!(set_up(folder.path()).0, Some(0), "{file}");
        let after = fs::read(&path).expect("there");
        assert!(after.starts_with(&[&before[..], b"\n"].concat()), "{file} lost bytes");
        assert!(set_up(folder.path()).1.contains("already knows"), "{file}");
    }
    // A link is left alone, and so is what it leads to.
    let folder = fresh();
    let elsewhere = folder.path().join("elsewhere");
    fs::write(&elsewhere, "mine\n").expect("a writable folder");
    let attributes = folder.path().join(".gitattributes");
    std::os::unix::fs::symlink(&elsewhere, &attributes).expect("a link");
    let (code, said) = set_up(folder.path());
    assert!(code == Some(1) && said.contains("is a link"), "{code:?} {said}");
    assert_eq!(fs::read_to_string(&elsewhere).expect("there"), "mine\n");
    assert!(
        !fs::read_to_string(folder.path().join(".git/config")).expect("there").contains("assize")
    );
    // A pipe would never answer.
    fs::remove_file(&attributes).expect("there");
    let made = Command::new("mkfifo").arg(&attributes).status().expect("mkfifo");
    assert!(made.success());
    let (code, said) = set_up(folder.path());
    assert!(code == Some(1) && said.contains("not an ordinary file"), "{code:?} {said}");
    // Of several lines git takes the last.
    for (before, lacks) in [
        (line.to_owned(), false),
        (format!("{line}*.md text\n"), false),
        (format!("{line}*.dough !diff\n"), true),
        (format!("{line}*.dough -merge\n"), true),
        (format!("{line}* binary\n"), true),
        (format!("*.dough -diff\n{line}"), false),
        (format!("# {line}"), true),
    ] {
        let folder = fresh();
        write(folder.path(), ".gitattributes", &before);
        assert_eq!(set_up(folder.path()).0, Some(0), "{before}");
        let after = fs::read_to_string(folder.path().join(".gitattributes")).expect("there");
        assert_eq!(after, if lacks { format!("{before}{line}") } else { before.clone() });
        let asked = Command::new("git")
            .args(["check-attr", "diff", "merge", "--", "a.dough"])
            .current_dir(folder.path())
            .output()
            .expect("git");
        let told = String::from_utf8_lossy(&asked.stdout).into_owned();
        assert!(
            told.contains("diff: assize") && told.contains("merge: assize"),
            "{before}: {told}"
        );
    }
}

/// Nothing that is made is written through a link, whoever put it there.
#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    let folder = folder();
    let at = folder.path();
    write(at, "pier.dough", LOAF);
    write(
        at,
        "chapter.md",
        &format!("# Loaf\n\n```dough\n{}```\n", LOAF.replace("pier-loaf", "quay-loaf")),
    );
    write(at, "list.txt", "Pier bread\n\n500 g bread flour\n350 g water\n10 g salt\n");
    write(at, "mine", "mine\n");
    fs::create_dir(at.join("out")).expect("a writable folder");
    for name in ["chapter.md", "chapter.html", "pier-loaf-table.pdf", "pier-bread.dough"] {
        std::os::unix::fs::symlink(at.join("mine"), at.join("out").join(name)).expect("a link");
    }
    let commands: [&[&str]; 4] = [
        &["weave", "chapter.md", "--to", "out"],
        &["weave", "chapter.md", "--to", "out", "--format", "html"],
        &["print", "pier-loaf", "--only", "table", "--to", "out"],
        &["read", "list.txt", "--to", "out"],
    ];
    for args in commands {
        let done = assize(at, args);
        assert_eq!(fs::read_to_string(at.join("mine")).expect("there"), "mine\n", "{args:?}");
        let said = unwrapped(&err(&done));
        let is_aside = args[0] == "read" && done.status.success();
        assert!(is_aside || said.contains("it is a link"), "{args:?}: {said}");
    }
}

/// What the environment asks for and can't be had is said, or held to what can be.
#[test]
fn the_environment_is_held_to_what_can_be() {
    let folder = folder();
    let at = folder.path();
    write(at, "pier.dough", LOAF);
    let run = |name: &str, value: &str, args: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_assize"))
            .args(args)
            .env(name, value)
            .current_dir(at)
            .output()
            .expect("assize");
        (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
    };
    for threads in
        ["0", "1", "2000", "99999999999", "many", "340282366920938463463374607431768211456"]
    {
        assert_eq!(run("RAYON_NUM_THREADS", threads, &["check"]).0, Some(0), "{threads}");
    }
    let plan = ["plan", "pier-loaf", "--start", "now"];
    for zone in ["Garbage/X", ":/dev/full", "/dev/zero", "../../../etc/passwd"] {
        let (code, said) = run("TZ", zone, &plan);
        assert!(
            code == Some(2) && said.contains("`TZ`") && said.contains("--zone"),
            "{zone}: {said}"
        );
        let with_zone = [&plan[..], &["--zone", "Europe/Oslo"]].concat();
        assert_eq!(run("TZ", zone, &with_zone).0, Some(0), "{zone}");
    }
    for zone in ["", "UTC", "Europe/Oslo", "EST5EDT,M3.2.0,M11.1.0"] {
        assert_eq!(run("TZ", zone, &plan).0, Some(0), "{zone}");
    }
}

/// A field under no heading was parted by a comma that somebody meant otherwise.
#[test]
fn no_field_of_orders_is_dropped() {
    let folder = folder();
    let at = folder.path();
    write(at, "pier.dough", LOAF);
    write(at, "days.dough", "bakehouse {}\nday saturday { order pier-loaf 12 loaves by 07:00 }\n");
    for (text, unheaded) in [
        ("product,amount,by\npier-loaf,8,12:00,extra\n", Some("extra")),
        ("product,amount,by,\npier-loaf,8,12:00,18:00\n", Some("18:00")),
        ("product;amount;by\npier-loaf;8;12:00;x;y\n", Some("x")),
        ("product,amount,by\npier-loaf,8,12:00,\n", None),
        ("product,amount,by,\npier-loaf,8,12:00,\n", None),
    ] {
        write(at, "orders.csv", text);
        let done = assize(at, &["day", "saturday", "--orders", "orders.csv"]);
        let told = unheaded.map(|it| format!("`{it}` is in a column without a heading"));
        let said = unwrapped(&err(&done));
        assert_eq!(told.is_some(), said.contains("without a heading"), "{text}{said}");
        assert!(
            told.is_none_or(|told| said.contains(&told) && !done.status.success()),
            "{text}{said}"
        );
    }
}

/// Whoever puts a time of the plan so far right by hand is not passed over.
#[test]
fn times_of_the_plan_so_far_are_those_it_shows() {
    let folder = folder();
    let at = folder.path();
    write(at, "pier.dough", LOAF);
    write(at, "days.dough", "bakehouse {}\nday saturday { order pier-loaf 12 loaves by 07:00 }\n");
    let plan = out(&assize(at, &["day", "saturday", "--format", "json"]));
    let again = |text: &str| {
        write(at, "state.json", text);
        let done = assize(at, &["day", "saturday", "--state", "state.json", "--now", "03:00"]);
        (done.status.code(), unwrapped(&err(&done)))
    };
    assert_eq!(again(&plan).0, Some(0));
    let first = plan.find("\"tasks\"").expect("tasks");
    let mut changed = 0;
    for (place, _) in plan[first..].match_indices("\"time\": \"") {
        let at = first + place + "\"time\": \"".len();
        // Only what a task shows of its two ends.
        let before = plan[..at].rfind("\"begins\"").max(plan[..at].rfind("\"ends\""));
        let other = plan[..at].rfind("\"latest\"");
        if before < other || plan[..at].contains("\"rows\"") {
            continue;
        }
        let text = format!("{}99:99{}", &plan[..at], &plan[at + 5..]);
        let (code, said) = again(&text);
        assert!(code == Some(2) && said.contains("shows 99:99"), "{code:?} {said}");
        changed += 1;
    }
    assert!(changed > 4, "{changed}");
    // No number of placings is none.
    let none = assize(at, &["day", "saturday", "--placings", "0"]);
    assert_eq!(none.status.code(), Some(2));
}

/// What is there and is no ordinary file is no side on which there is nothing, whatever lies beside it.
#[cfg(unix)]
#[test]
fn a_pipe_is_no_side_of_a_diff() {
    let folder = folder();
    let at = folder.path();
    write(at, "house.dough", "bakehouse \"Quay\" {}\n");
    write(at, "pier.dough", LOAF);
    for name in ["pipe", "pipe.dough"] {
        let made = std::process::Command::new("mkfifo").arg(at.join(name)).status();
        assert!(made.expect("mkfifo").success());
        for args in [["diff", name, "pier.dough"], ["diff", "pier.dough", name]] {
            let done = assize(at, &args);
            assert_eq!((done.status.code(), out(&done)), (Some(1), String::new()), "{args:?}");
            assert!(err(&done).contains("not an ordinary file"), "{}", err(&done));
        }
    }
}

/// A branch that is checked out and has no commit is no empty repository: others have some.
#[test]
fn a_branch_without_a_commit_is_told_as_such() {
    let folder = folder();
    let at = folder.path();
    repository(at);
    let args = ["show", "pier-loaf", "--format", "json"];
    let shown: serde_json::Value = serde_json::from_str(&out(&assize(at, &args))).expect("JSON");
    let code = shown["trace"]["code"].as_str().expect("a code").to_owned();
    write(at, ".git/HEAD", "ref: refs/heads/orphan\n");
    for args in [&["diff"][..], &["history", "pier-loaf"], &["diff", "HEAD"]] {
        let done = assize(at, args);
        let said = unwrapped(&err(&done));
        assert_eq!(done.status.code(), Some(2), "{args:?}: {said}");
        assert!(
            said.contains("is checked out has no commit yet; name another"),
            "{args:?}: {said}"
        );
    }
    // What only another branch has printed is found there.
    write(at, "pier.dough", &LOAF.replace("salt 2%", "salt 1.8%"));
    let done = assize(at, &["trace", &code]);
    assert_eq!(done.status.code(), Some(0), "{code}: {}", unwrapped(&err(&done)));
    assert!(out(&done).contains("pier-loaf"), "{}", out(&done));
}

/// Where git's own files are why something of a revision can't be read, that is told, with its name.
#[test]
fn an_empty_object_is_told_with_what_finds_it() {
    let folder = folder();
    let at = folder.path();
    repository(at);
    let tree = git(at, &["rev-parse", "HEAD^{tree}"]);
    let (first, rest) = tree.split_at(2);
    let object = at.join(format!(".git/objects/{first}/{rest}"));
    fs::remove_file(&object).expect("removed");
    fs::write(&object, "").expect("written");
    let done = assize(at, &["diff", "HEAD"]);
    let said = unwrapped(&err(&done));
    assert_eq!(done.status.code(), Some(1), "{said}");
    assert!(said.contains("git fsck") && !said.contains("permissions"), "{said}");
    assert!(!said.contains("× can't be read"), "{said}");
}
