//! What every command does when nobody takes what it has to say: a reader that went away,
//! a disk that is full, a stream that was closed from the start.

use crate::support::{assize, err, out};
use std::fs::{File, OpenOptions};
use std::io::Read;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// A formula with nothing to mend, one that needs laying out, one with a refuted claim and
/// a warning, and one that no shelf has.
const CLEAN: &str = "formula pier-loaf \"Pier Loaf\" {\n  makes 1 loaf at 900 g\n  bake loss 12%\n\n  total {\n    bread flour  100%\n    water         70%\n    salt           2%\n    fresh yeast    1%\n  }\n\n  method {\n    mix    8min with everything else\n    bulk   1h..2h at 24C\n    divide\n    shape\n    proof  45min..1h at 24C\n    bake   40min at 230C\n    cool   2h\n  }\n}\n";
const REFUTED: &str = "formula quay-loaf \"Quay Loaf\" {\n  makes 1 loaf at 900 g\n  total { bread flour 100%; water 70%; salt 9%; }\n  expect { hydration 80% }\n}\n";

/// A command: its words, its exit code, and whether it writes to standard output and to
/// standard error.
struct Case(&'static [&'static str], i32, bool, bool);

/// Every command, and every form of it that writes by another way.
const CASES: &[Case] = &[
    Case(&["--help"], 0, true, false),
    Case(&["--version"], 0, true, false),
    Case(&["print", "--help"], 0, true, false),
    Case(&["nosuch"], 2, false, true),
    Case(&[], 2, false, true),
    Case(&["new", "fresh"], 0, true, false),
    Case(&["new", "."], 2, false, true),
    Case(&["check", "clean.dough"], 0, true, false),
    Case(&["check", "refuted.dough"], 1, true, false),
    Case(&["check", "nosuch"], 2, false, true),
    Case(&["check", "refuted.dough", "--format", "json"], 1, true, false),
    Case(&["check", "refuted.dough", "--format", "sarif"], 1, true, false),
    Case(&["check", "refuted.dough", "--format", "annotations"], 1, true, false),
    Case(&["check", "refuted.dough", "--format", "short"], 1, true, false),
    Case(&["check", "refuted.dough", "--format", "narrated"], 1, true, false),
    Case(&["show", "clean.dough"], 0, true, false),
    Case(&["show", "clean.dough", "--format", "csv"], 0, true, false),
    Case(&["show", "clean.dough", "--format", "json"], 0, true, false),
    Case(&["show", "clean.dough", "--format", "html"], 0, true, false),
    Case(&["show", "refuted.dough"], 1, false, true),
    Case(&["show", "nosuch"], 2, false, true),
    Case(&["show", "clean.dough", "--makes", "bread"], 2, false, true),
    Case(&["why", "clean.dough", "hydration"], 0, true, false),
    Case(&["why", "clean.dough", "hydration", "--format", "json"], 0, true, false),
    Case(&["why", "clean.dough", "elapsed"], 0, true, false),
    Case(&["why", "clean.dough", "happiness"], 2, false, true),
    Case(&["print", "clean.dough", "--only", "card", "--to", "-"], 0, true, false),
    Case(
        &["print", "clean.dough", "--only", "card", "--format", "html", "--to", "-"],
        0,
        true,
        false,
    ),
    Case(
        &["print", "clean.dough", "--only", "card", "--format", "svg", "--to", "-"],
        0,
        true,
        false,
    ),
    Case(&["print", "clean.dough", "--one", "--to", "-"], 0, true, false),
    Case(&["print", "clean.dough", "--only", "card", "--to", "prints"], 0, true, false),
    Case(&["print", "refuted.dough", "--only", "card", "--to", "prints"], 1, true, true),
    Case(&["print", "nosuch", "--to", "prints"], 2, false, true),
    Case(&["print", "--export-templates", "ours"], 0, true, false),
    Case(&["plan", "clean.dough", "--ready", "07:00"], 0, true, false),
    Case(&["plan", "clean.dough", "--ready", "07:00", "--format", "json"], 0, true, false),
    Case(
        &["plan", "clean.dough", "--ready", "2026-12-05 07:00", "--format", "ics"],
        0,
        true,
        false,
    ),
    Case(&["plan", "clean.dough", "--ready", "07:00", "--format", "pdf"], 0, true, false),
    Case(&["plan", "clean.dough", "--ready", "07:00", "--format", "svg"], 0, true, false),
    Case(&["plan", "clean.dough", "--ready", "soon"], 2, false, true),
    Case(&["plan", "refuted.dough", "--ready", "07:00"], 1, false, true),
    Case(&["explain"], 0, true, false),
    Case(&["explain", "unwritable"], 0, true, false),
    Case(&["explain", "nosuch"], 2, false, true),
    Case(&["fmt", "loose.dough", "--check"], 1, true, false),
    Case(&["fmt", "clean.dough"], 0, true, false),
    Case(&["fmt", "loose.dough"], 0, true, false),
    Case(&["fmt", "-"], 0, true, false),
    Case(&["fmt", "open.dough"], 1, false, true),
];

fn kitchen() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let loose = CLEAN.replace("  bread flour  100%", "bread flour 100%");
    let open = CLEAN.trim_end_matches("}\n").to_owned();
    for (name, text) in [
        ("clean.dough", CLEAN),
        ("refuted.dough", REFUTED),
        ("loose.dough", &loose),
        ("open.dough", &open),
    ] {
        std::fs::write(folder.path().join(name), text).expect("written");
    }
    folder
}

/// Where a stream goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// Somebody reads it.
    Read,
    /// A disk without room.
    Full,
    /// A pipe whose reader went away.
    Away,
    /// Closed before the command begins.
    Closed,
}

impl Way {
    fn stream(self) -> Stdio {
        match self {
            Self::Read | Self::Closed => Stdio::piped(),
            Self::Full => {
                let full = OpenOptions::new().write(true).open("/dev/full");
                Stdio::from(full.expect("linux has it"))
            }
            Self::Away => {
                let (reader, writer) = std::io::pipe().expect("a pipe");
                drop(reader);
                Stdio::from(writer)
            }
        }
    }
}

fn run(folder: &Path, words: &[&str], stdout: Way, stderr: Way) -> Output {
    let closing = match (stdout, stderr) {
        (Way::Closed, Way::Closed) => "exec \"$0\" \"$@\" >&- 2>&-",
        (Way::Closed, _) => "exec \"$0\" \"$@\" >&-",
        (_, Way::Closed) => "exec \"$0\" \"$@\" 2>&-",
        _ => "exec \"$0\" \"$@\"",
    };
    Command::new("sh")
        .args(["-c", closing, env!("CARGO_BIN_EXE_assize")])
        .args(words)
        .current_dir(folder)
        .env_remove("RUST_BACKTRACE")
        .stdin(File::open(folder.join("loose.dough")).expect("it is there"))
        .stdout(stdout.stream())
        .stderr(stderr.stream())
        .output()
        .expect("the command runs")
}

/// Whether something was read of a stream.
fn wrote(stream: &[u8]) -> bool {
    !stream.is_empty()
}

/// Runs every case with its streams going that way; `code` gives the exit code that is
/// right, `seen` looks at what was read.
fn each(
    stdout: Way,
    stderr: Way,
    code: impl Fn(&Case) -> i32,
    seen: impl Fn(&Case, &Output) -> bool,
) {
    let mut wrong = Vec::new();
    // A stream that a case writes nothing to can't be told from one that is read.
    let matters = |case: &&Case| {
        (stdout == Way::Read || case.2) && (stderr == Way::Read || case.3 || stdout != Way::Read)
    };
    for case in CASES.iter().filter(matters) {
        let folder = kitchen();
        let done = run(folder.path(), case.0, stdout, stderr);
        if done.status.code() != Some(code(case)) || !seen(case, &done) {
            let (out, err) = (out(&done), err(&done));
            wrong.push(format!("{:?}: {:?}\n{out}{err}", case.0, done.status.code()));
        }
    }
    assert!(wrong.is_empty(), "{stdout:?}, {stderr:?}:\n{}", wrong.join("\n"));
}

#[test]
fn the_cases_are_what_they_say() {
    each(
        Way::Read,
        Way::Read,
        |case| case.1,
        |case, done| wrote(&done.stdout) == case.2 && wrote(&done.stderr) == case.3,
    );
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_unwritable_and_never_a_clean_exit() {
    let lost = |is_lost: bool, code: i32| if is_lost { code.max(1) } else { code };
    each(
        Way::Full,
        Way::Read,
        |case| lost(case.2, case.1),
        |case, done| {
            let told =
                err(done).matches("standard output can't be written: the disk is full").count();
            told == usize::from(case.2) && err(done).contains("unwritable") == case.2
        },
    );
    each(
        Way::Read,
        Way::Full,
        |case| lost(case.3, case.1),
        |case, done| wrote(&done.stdout) == case.2,
    );
    each(Way::Full, Way::Full, |case| lost(case.2 || case.3, case.1), |_, _| true);
}

#[test]
fn a_reader_that_went_away_changes_no_exit_code_and_nothing_is_said() {
    for (stdout, stderr) in [
        (Way::Away, Way::Read),
        (Way::Read, Way::Away),
        (Way::Away, Way::Away),
        (Way::Closed, Way::Read),
        (Way::Read, Way::Closed),
        (Way::Closed, Way::Closed),
    ] {
        each(
            stdout,
            stderr,
            |case| case.1,
            |case, done| {
                wrote(&done.stdout) == (case.2 && stdout == Way::Read)
                    && wrote(&done.stderr) == (case.3 && stderr == Way::Read)
            },
        );
    }
}

/// More than a pipe holds, of which only the first line is read.
#[test]
fn the_head_of_a_long_output_can_be_read_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let many: String =
        (0..150).map(|number| CLEAN.replace("pier-loaf", &format!("pier-loaf-{number}"))).collect();
    std::fs::write(folder.path().join("many.dough"), many).expect("written");
    for words in [
        &["fmt", "-"][..],
        &["check", "many.dough", "--format", "json", "--all"],
        &["explain"],
        &["explain", "unwritable"],
        &["show", "many.dough"],
    ] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_assize"));
        let input = File::open(folder.path().join("many.dough")).expect("open");
        let command = command.args(words).current_dir(folder.path()).stdin(input);
        let mut child =
            command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs");
        let mut first = [0; 1];
        let mut stdout = child.stdout.take().expect("piped");
        let _ = stdout.read(&mut first).expect("read");
        drop(stdout);
        let done = child.wait_with_output().expect("it ends");
        let told = err(&done);
        let expected = if words[0] == "show" { Some(2) } else { Some(0) };
        assert_eq!(done.status.code(), expected, "{words:?}: {told}");
        assert!(!told.contains("bug of ours") && !told.contains("can't be written"), "{told}");
    }
}

/// Files of the author keep their mode, and are left alone where to put another in their
/// place would lose something; new files obey the mask of the process.
#[cfg(unix)]
#[test]
fn a_file_is_put_anew_only_where_nothing_is_lost() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::process::Command;
    let untidy = crate::support::PLAIN.replace("  total", "      total");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.dough");
    let mode = |path: &std::path::Path| path.metadata().expect("there").mode() & 0o777;
    let set = |mode| {
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(mode)).expect("set");
    };
    std::fs::write(&file, &untidy).expect("written");
    set(0o640);
    assert_eq!(assize(folder.path(), &["fmt"]).status.code(), Some(0));
    assert_eq!(mode(&file), 0o640);

    std::fs::write(&file, &untidy).expect("written");
    set(0o440);
    let done = assize(folder.path(), &["fmt"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("it is protected against writing"), "{}", err(&done));
    set(0o640);

    let other = folder.path().join("other name.txt");
    std::fs::hard_link(&file, &other).expect("linked");
    let done = assize(folder.path(), &["fmt"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("it has other names"), "{}", err(&done));
    assert_eq!(std::fs::read_to_string(&other).expect("read"), untidy);
    std::fs::remove_file(&other).expect("removed");

    for (mask, expected) in [("022", 0o644), ("077", 0o600), ("002", 0o664)] {
        let print = format!("umask {mask}; exec \"$0\" print --only card --to out{mask}");
        let command = ["-c", &print, env!("CARGO_BIN_EXE_assize")];
        let done = Command::new("sh").args(command).current_dir(folder.path()).output();
        assert!(done.expect("run").status.success());
        let card = folder.path().join(format!("out{mask}/pier-loaf-card.pdf"));
        assert_eq!(mode(&card), expected, "{mask}");
    }
}

/// What a killed run has left is taken away by the next, and what a running one is writing
/// is not.
#[cfg(unix)]
#[test]
fn what_a_killed_run_has_left_is_taken_away() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("a.dough"), crate::support::PLAIN).expect("written");
    let out = folder.path().join("out");
    std::fs::create_dir(&out).expect("made");
    let mut ended = std::process::Command::new("true").spawn().expect("run");
    ended.wait().expect("ended");
    let left = out.join(format!(".assize-{}-Ab3dE", ended.id()));
    let running = out.join(format!(".assize-{}-Ab3dE", std::process::id()));
    let foreign = out.join(".assize-notes");
    for path in [&left, &running, &foreign] {
        std::fs::write(path, "half").expect("written");
    }
    let done = assize(folder.path(), &["print", "--only", "card", "--to", "out"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(!left.exists() && running.exists() && foreign.exists());
}
