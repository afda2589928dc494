//! Helpers: a file system in memory, the findings of a text, a formula worked out.

use assize::testing::desk::{self, Disk, FileSystem, Loaded, load};
use assize::testing::diag::Finding;
use assize::testing::formula::{Worked, work};
use assize::testing::quantity::Exact;
use std::borrow::Borrow;
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

/// A quotient, in tests that know that what is below is not nothing.
pub fn over(above: impl Borrow<Exact>, below: impl Borrow<Exact>) -> Exact {
    above.borrow().over(below.borrow()).expect("something to divide by")
}

/// Files in memory, by path.
#[derive(Default)]
pub struct Memory(pub BTreeMap<PathBuf, Vec<u8>>);

impl Memory {
    pub fn with(files: &[(&str, &str)]) -> Self {
        let files =
            files.iter().map(|(path, text)| (PathBuf::from(path), text.as_bytes().to_vec()));
        Self(files.collect())
    }
}

impl FileSystem for Memory {
    fn is_folder(&self, path: &Path) -> io::Result<bool> {
        if self.0.contains_key(path) {
            return Ok(false);
        }
        let inside = self.0.keys().any(|file| file.starts_with(path));
        if inside { Ok(true) } else { Err(io::ErrorKind::NotFound.into()) }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
        let mut entries: Vec<(PathBuf, bool)> = Vec::new();
        for file in self.0.keys() {
            let Ok(rest) = file.strip_prefix(folder) else { continue };
            let mut parts = rest.components();
            let Some(first) = parts.next() else { continue };
            let entry = (folder.join(first), parts.next().is_some());
            if !entries.contains(&entry) {
                entries.push(entry);
            }
        }
        Ok(entries)
    }

    fn size(&self, path: &Path) -> io::Result<u64> {
        Ok(self.bytes(path, 0)?.len() as u64)
    }

    fn is_below(&self, folder: &Path, path: &Path) -> io::Result<bool> {
        Ok(path.starts_with(folder))
    }

    fn bytes(&self, path: &Path, _: u64) -> io::Result<Vec<u8>> {
        self.0.get(path).cloned().ok_or_else(|| io::ErrorKind::NotFound.into())
    }
}

/// A text loaded as a file of its own.
pub fn loaded(text: &str) -> Loaded {
    loaded_bytes(text.as_bytes())
}

pub fn loaded_bytes(bytes: &[u8]) -> Loaded {
    let file_system = Memory([(PathBuf::from("/x/a.dough"), bytes.to_vec())].into());
    load(&file_system, Path::new("/x"), &[PathBuf::from("/x/a.dough")])
}

/// All findings of a text.
pub fn findings(text: &str) -> Vec<Finding> {
    desk::check(&loaded(text))
}

/// The names of all findings of a text, in order.
pub fn names(text: &str) -> Vec<&'static str> {
    findings(text).iter().map(|finding| finding.rule.name).collect()
}

/// Runs `judge` on the first formula of a text, worked out.
pub fn with_worked<T>(text: &str, judge: impl FnOnce(&desk::Bakehouse, &Worked) -> T) -> T {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let bakehouse = &bakehouses[0];
    let formula = &bakehouse.files[0].tree.formulas[0];
    let mut findings = Vec::new();
    let worked = work(&bakehouse.house, formula, &mut findings);
    let told: Vec<&str> = findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(worked.sound, "{text}{told:?}");
    judge(bakehouse, &worked)
}

/// The top of the checkout.
pub fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The `*.dough` files of a folder of the checkout, sorted; at least one.
pub fn dough_files(folder: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = top()
        .join(folder)
        .read_dir()
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "dough"))
        .collect();
    files.sort();
    assert!(!files.is_empty(), "{folder} holds formulas");
    files
}

/// Whether a print is a copy of one of the examples' booklets, told by its file's name:
/// `school-week-1.pdf`, `school-week-1-seat-2.html`.
pub fn is_of_booklet(file: &str) -> bool {
    static NAMES: OnceLock<Vec<String>> = OnceLock::new();
    let names = NAMES.get_or_init(|| {
        let files = dough_files("examples/gullhaven").into_iter();
        let texts = files.map(|path| std::fs::read_to_string(path).expect("a file"));
        texts.flat_map(|text| declared(&text, "booklet")).collect()
    });
    let stem = file.split('.').next().unwrap_or(file);
    names.iter().any(|name| {
        let rest = stem.strip_prefix(name.as_str());
        rest.is_some_and(|rest| {
            rest.is_empty() || ["-seat-", "-teacher"].iter().any(|it| rest.starts_with(it))
        })
    })
}

/// The names that a text declares with a word: `formula mole-loaf`.
pub fn declared(text: &str, word: &str) -> Vec<String> {
    let heads = text.lines().filter_map(|line| line.strip_prefix(word)?.strip_prefix(' '));
    heads.filter_map(|head| Some(head.split_whitespace().next()?.to_owned())).collect()
}

/// A path of the checkout, loaded from the disk.
pub fn from_disk(path: &Path) -> Loaded {
    load(&Disk, &top(), &[path.to_path_buf()])
}

/// A file of the checkout, loaded as if it were the only one.
pub fn alone(path: &Path) -> Loaded {
    let home = Path::new("/x");
    let path = path.strip_prefix(top()).expect("in the checkout");
    let bytes = std::fs::read(top().join(path)).expect("readable");
    let file_system = Memory([(home.join(path), bytes)].into());
    load(&file_system, home, &[home.join(path)])
}

/// A folder of its own, whose name begins with a dot: no file above it makes it a part of
/// another bakehouse.
pub fn folder() -> tempfile::TempDir {
    tempfile::Builder::new().prefix(".bakehouse").tempdir().expect("a folder")
}

/// Runs the command in a folder.
pub fn assize(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_assize"))
        .args(args)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .output()
        .expect("the command runs")
}

/// What the command wrote to standard output.
pub fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

/// What the command wrote to standard error.
pub fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

/// A small sound formula.
pub const PLAIN: &str = "\
formula pier-loaf \"Pier Loaf\" {
  makes  2 loaves at 885 g
  bake loss  12%
  total {
    bread flour  100%
    water         74%
    salt           2%
    fresh yeast    1%
  }
}
";

/// A number in letters that are no word, so that it can end a name.
pub fn letters(mut number: usize) -> String {
    let mut letters = String::new();
    loop {
        letters.insert(0, char::from(b'a' + (number % 26) as u8));
        number /= 26;
        if number == 0 {
            return format!("x{letters}");
        }
    }
}

/// That nothing is wrong among so many, or the first of what is.
pub fn assert_none(wrong: &[String], count: usize) {
    let first = &wrong[..wrong.len().min(60)];
    assert!(wrong.is_empty(), "{} of {count}\n{}", wrong.len(), first.join("\n"));
}

/// Whether all was printed: a day that is planned with little work may be late, which is told,
/// and is printed all the same.
pub fn has_printed(done: &Output) -> bool {
    let is_late = done.status.code() == Some(1) && err(done).contains("order-late");
    done.status.code() == Some(0) || is_late
}
