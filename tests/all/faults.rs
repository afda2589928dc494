//! What happens to files when a run is killed, the disk is full, a file changes while it is
//! read, or two runs write at once: a file is whole or as it was, and the next run makes
//! good what is missing.
//!
//! `cargo test` tries a few moments of each; `ASSIZE_FAULTS=300 cargo test --release --test
//! all faults` tries 300.

use crate::support::{PLAIN, assize, err, folder, out};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How many moments, or sizes, of each fault are tried.
fn moments() -> usize {
    std::env::var("ASSIZE_FAULTS").ok().and_then(|count| count.parse().ok()).unwrap_or(5)
}

/// Formulas of a kitchen.
const FORMULAS: usize = 4;

/// A command that writes, and the files that it finds.
struct Work {
    words: &'static [&'static str],
    /// A file by its number.
    before: fn(usize) -> String,
}

fn sound(number: usize) -> String {
    PLAIN.replace("pier-loaf", &format!("pier-loaf-{number}"))
}

/// Every command that writes files, with something to write for each file.
const WORKS: [Work; 4] = [
    Work { words: &["print", "--only", "card,table", "--to", "out"], before: sound },
    Work { words: &["print", "--format", "html", "--to", "out"], before: sound },
    Work { words: &["fmt"], before: |number| sound(number).replace("  total", "      total") },
    Work {
        words: &["check", "--fix"],
        // A comma for a point is mended; there are enough of them to make a file of some size.
        before: |number| {
            let line = "    # what the tide brought in\n".repeat(400);
            let comma = sound(number).replace("salt           2%", "salt           1,5%");
            comma.replace("    water", &format!("{line}    water"))
        },
    },
];

impl Work {
    fn kitchen(&self) -> TempDir {
        let kitchen = folder();
        for number in 0..FORMULAS {
            let file = kitchen.path().join(format!("loaf-{number}.dough"));
            fs::write(file, (self.before)(number)).expect("written");
        }
        kitchen
    }

    fn start(&self, kitchen: &Path) -> Child {
        let mut command = Command::new(env!("CARGO_BIN_EXE_assize"));
        let quiet = command.args(self.words).stdout(Stdio::null()).stderr(Stdio::null());
        quiet.current_dir(kitchen).spawn().expect("it runs")
    }

    /// The files of an undisturbed run, and how long it took.
    fn undisturbed(&self) -> (Files, Duration) {
        let kitchen = self.kitchen();
        let begun = Instant::now();
        let done = assize(kitchen.path(), self.words);
        let took = begun.elapsed();
        assert_eq!(done.status.code(), Some(0), "{:?}: {}{}", self.words, out(&done), err(&done));
        (files(kitchen.path()), took)
    }
}

/// All files of a kitchen, by name.
type Files = BTreeMap<String, Vec<u8>>;

fn files(kitchen: &Path) -> Files {
    let mut all = Files::new();
    for folder in [kitchen.to_path_buf(), kitchen.join("out")] {
        for entry in folder.read_dir().into_iter().flatten() {
            let path = entry.expect("an entry").path();
            if path.is_file() {
                let name = path.strip_prefix(kitchen).expect("in it").display().to_string();
                all.insert(name, fs::read(&path).expect("readable"));
            }
        }
    }
    all
}

fn is_unfinished(name: &str) -> bool {
    name.rsplit('/').next().is_some_and(|name| name.starts_with(".assize-"))
}

/// Every file is as it was or as it should be, and none of the sources is lost.
fn judge(before: &Files, after: &Files, now: &Files, told: &str) {
    for name in before.keys() {
        assert!(now.contains_key(name), "{told}: {name} is lost");
    }
    for (name, bytes) in now.iter().filter(|(name, _)| !is_unfinished(name)) {
        let is_whole = [before.get(name), after.get(name)].contains(&Some(bytes));
        assert!(is_whole, "{told}: {name} has {} bytes", bytes.len());
    }
}

/// The next run makes good what is missing and takes away what is left over.
fn next_cleans_up(work: &Work, kitchen: &Path, after: &Files, told: &str) {
    let done = assize(kitchen, work.words);
    assert_eq!(done.status.code(), Some(0), "{told}: {}{}", out(&done), err(&done));
    let now = files(kitchen);
    // A run with nothing to write looks into no folder.
    let is_swept = |name: &&String| work.words[0] == "print" && is_unfinished(name);
    let left: Vec<&String> = now.keys().filter(is_swept).collect();
    assert!(left.is_empty(), "{told}: {left:?}");
    let kept = now.iter().filter(|(name, _)| !is_unfinished(name));
    let kept: Files = kept.map(|(name, bytes)| (name.clone(), bytes.clone())).collect();
    assert!(kept == *after, "{told}: {:?}, not {:?}", kept.keys(), after.keys());
}

/// Ends every work at moments spread over the time it takes, and over a little more.
fn ended_at_moments(end: impl Fn(&mut Child)) {
    for work in &WORKS {
        let (after, took) = work.undisturbed();
        let before = files(work.kitchen().path());
        let mut unfinished = 0;
        for moment in 0..moments() {
            let kitchen = work.kitchen();
            let mut child = work.start(kitchen.path());
            let share = (moment as u32 * 7 + 3) % moments() as u32;
            std::thread::sleep(took * share / moments() as u32 * 5 / 4);
            end(&mut child);
            child.wait().expect("it ends");
            let told = format!("{:?}, moment {moment}", work.words);
            let now = files(kitchen.path());
            unfinished += usize::from(now != after);
            judge(&before, &after, &now, &told);
            next_cleans_up(work, kitchen.path(), &after, &told);
        }
        assert!(unfinished > 0, "{:?} was always done", work.words);
    }
}

#[test]
fn a_killed_run_leaves_whole_files() {
    // It may have ended by itself.
    ended_at_moments(|child| drop(child.kill()));
}

#[test]
fn an_interrupted_run_leaves_whole_files() {
    ended_at_moments(|child| {
        let number = i32::try_from(child.id()).expect("a process number");
        let process = rustix::process::Pid::from_raw(number).expect("a process number");
        let _ = rustix::process::kill_process(process, rustix::process::Signal::INT);
    });
}

/// Runs with a limit on the size of files, in blocks of 512 bytes: the disk that is full
/// after so many. The signal that comes with it is ignored, or ends the run.
fn limited(work: &Work, kitchen: &Path, blocks: usize, is_ignored: bool) -> std::process::Output {
    let trap = if is_ignored { "trap '' XFSZ; " } else { "ulimit -c 0; " };
    let script = format!("{trap}ulimit -f {blocks}; exec \"$0\" \"$@\"");
    Command::new("sh")
        .args(["-c", &script, env!("CARGO_BIN_EXE_assize")])
        .args(work.words)
        .current_dir(kitchen)
        .env("NO_COLOR", "1")
        .output()
        .expect("it runs")
}

#[test]
fn a_disk_that_is_full_leaves_whole_files_and_is_told_once() {
    let sizes = (moments() / 6).max(4);
    for work in &WORKS {
        let (after, _) = work.undisturbed();
        let before = files(work.kitchen().path());
        let written = after.iter().filter(|(name, bytes)| before.get(*name) != Some(*bytes));
        let largest = written.map(|(_, bytes)| bytes.len()).max().expect("it writes");
        for size in 0..=sizes {
            let blocks = largest.div_ceil(512) * size / sizes;
            for is_ignored in [true, false] {
                let kitchen = work.kitchen();
                let done = limited(work, kitchen.path(), blocks, is_ignored);
                let told = format!("{:?}, {blocks} blocks, ignored: {is_ignored}", work.words);
                let now = files(kitchen.path());
                judge(&before, &after, &now, &told);
                let is_done = now == after;
                // The signal ends no run in the midst of its work.
                let code = done.status.code();
                assert_eq!(code, Some(i32::from(!is_done)), "{told}: {}", err(&done));
                let refused = err(&done).matches("can't be written: ").count();
                assert_eq!(refused, usize::from(!is_done), "{told}: {}", err(&done));
                assert!(!now.keys().any(|name| is_unfinished(name)), "{told}");
                next_cleans_up(work, kitchen.path(), &after, &told);
            }
        }
    }
}

#[test]
fn two_runs_at_once_leave_whole_files() {
    for work in &WORKS {
        let (after, _) = work.undisturbed();
        for round in 0..(moments() / 4).max(2) {
            let kitchen = work.kitchen();
            let mut both = [work.start(kitchen.path()), work.start(kitchen.path())];
            let told = format!("{:?}, round {round}", work.words);
            for child in &mut both {
                assert_eq!(child.wait().expect("it ends").code(), Some(0), "{told}");
            }
            assert!(files(kitchen.path()) == after, "{told}");
        }
    }
}

/// One file is put in the place of another, over and over, while runs read it: each run
/// sees one of them. Where it is written in place, a run may see a part of it, which is a
/// file like any other.
#[test]
fn a_file_that_changes_while_it_is_read_is_read_as_it_was_once() {
    let kitchen = folder();
    let file = kitchen.path().join("a.dough");
    let other = kitchen.path().join("other.txt");
    let texts = [PLAIN.to_owned(), PLAIN.replace("2 loaves", "30 loaves") + "\n# Tide.\n"];
    fs::write(&file, &texts[0]).expect("written");
    let shown: Vec<String> = texts
        .iter()
        .map(|text| {
            fs::write(&file, text).expect("written");
            out(&assize(kitchen.path(), &["show", "a.dough"]))
        })
        .collect();
    assert_ne!(shown[0], shown[1]);
    let is_over = AtomicBool::new(false);
    let tried = |change: &(dyn Fn(usize) + Sync), judge: &dyn Fn(&std::process::Output)| {
        is_over.store(false, Ordering::Relaxed);
        std::thread::scope(|scope| {
            scope.spawn(|| {
                for turn in (0..).take_while(|_| !is_over.load(Ordering::Relaxed)) {
                    change(turn);
                }
            });
            let runs = (0..moments()).map(|_| assize(kitchen.path(), &["show", "a.dough"]));
            let runs: Vec<std::process::Output> = runs.collect();
            is_over.store(true, Ordering::Relaxed);
            runs.iter().for_each(judge);
        });
    };
    tried(
        &|turn| {
            fs::write(&other, &texts[turn % 2]).expect("written");
            fs::rename(&other, &file).expect("put in place");
        },
        &|done| assert!(shown.contains(&out(done)), "{}{}", out(done), err(done)),
    );
    tried(&|turn| fs::write(&file, &texts[turn % 2]).expect("written"), &|done| {
        let code = done.status.code();
        assert!(code.is_some_and(|code| code < 3), "{}", err(done));
        assert!(code != Some(0) || shown.contains(&out(done)), "{}", out(done));
    });
    tried(
        &|turn| {
            let _ = if turn % 2 == 0 { fs::remove_file(&file) } else { fs::write(&file, PLAIN) };
        },
        &|done| assert!(done.status.code().is_some_and(|code| code < 3), "{}", err(done)),
    );
}

/// A child that sets a house's own template does not outlive a run that was killed.
#[test]
fn what_sets_pages_ends_with_the_run_that_started_it() {
    let kitchen = folder();
    let house = format!("bakehouse \"Gullhaven\" {{ awake 06:00..22:00 }}\n{PLAIN}");
    fs::write(kitchen.path().join("a.dough"), house).expect("written");
    fs::create_dir(kitchen.path().join("templates")).expect("made");
    // Names the child to us, and goes on for ever.
    let endless = "#let turn() = { let n = 0; while true { n = n + 1 } }\n#turn()\n";
    fs::write(kitchen.path().join("templates/card.typ"), endless).expect("written");
    let mut command = Command::new(env!("CARGO_BIN_EXE_assize"));
    let quiet = command.args(["print", "--only", "card", "--template-seconds", "1"]);
    let quiet = quiet.stdout(Stdio::null()).stderr(Stdio::null()).current_dir(kitchen.path());
    let mut child = quiet.spawn().expect("it runs");
    let own = || children_of(child.id());
    let begun = Instant::now();
    while own().is_empty() && begun.elapsed() < Duration::from_secs(20) {
        std::thread::sleep(Duration::from_millis(5));
    }
    let setters = own();
    assert!(!setters.is_empty(), "a child sets the page");
    child.kill().expect("it still sets");
    child.wait().expect("it ends");
    while setters.iter().any(|setter| is_there(*setter)) {
        assert!(begun.elapsed() < Duration::from_secs(60), "{setters:?} go on");
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// The processes that a process has started, by what Linux tells of them.
fn children_of(parent: u32) -> Vec<u32> {
    let tasks = Path::new("/proc").join(parent.to_string()).join("task");
    let tasks = tasks.read_dir().into_iter().flatten().flatten();
    let told = tasks.filter_map(|task| fs::read_to_string(task.path().join("children")).ok());
    told.flat_map(|told| {
        told.split_whitespace().filter_map(|it| it.parse().ok()).collect::<Vec<_>>()
    })
    .collect()
}

fn is_there(process: u32) -> bool {
    Path::new("/proc").join(process.to_string()).exists()
}
