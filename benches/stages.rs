//! How long each stage takes, by size: small (one formula), typical (40), large (1,000).
//!
//! `cargo bench` runs all; `cargo bench -- make DIR N` writes a bakehouse of N formulas,
//! for timing whole commands, and `cargo bench -- make-mixed DIR N` one of N copies of the
//! examples. `benches/instructions` counts instructions of both.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::expect_used,
    clippy::missing_docs_in_private_items,
    clippy::panic,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench may read the clock, tell what it finds, and fail; its names are its own"
)]

mod made;

use assize::testing::desk::{self, FileSystem, Loaded, load};
use assize::testing::print::Wording;
use assize::testing::source::SourceId;
use divan::Bencher;
use divan::counter::{BytesCount, ItemsCount};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const SIZES: [usize; 3] = [1, 40, 1000];

fn main() {
    let args: Vec<String> = std::env::args().collect();
    let words: Vec<&str> =
        args.iter().map(String::as_str).filter(|word| *word != "--bench").collect();
    if let [_, "make", folder, count] = words.as_slice() {
        make(Path::new(folder), count.parse().expect("a number of formulas"));
        return;
    }
    if let [_, "make-mixed", folder, count] = words.as_slice() {
        make_mixed(Path::new(folder), count.parse().expect("a number of formulas"));
        return;
    }
    divan::main();
}

/// Writes a bakehouse of so many formulas, a file each.
fn make(folder: &Path, count: usize) {
    std::fs::create_dir_all(folder).expect("a folder");
    let house = "bakehouse \"Made Bakehouse\" {\n  scale 1 g, 0.1 g below 20 g\n}\n";
    std::fs::write(folder.join("bakehouse.dough"), house).expect("written");
    for number in 0..count {
        let file = folder.join(format!("made-loaf-{number}.dough"));
        std::fs::write(file, made::formula(number)).expect("written");
    }
}

/// Writes the bakehouse of the examples with so many formulas, the examples in turn; each
/// turn has its own names.
fn make_mixed(folder: &Path, count: usize) {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/gullhaven");
    std::fs::create_dir_all(folder).expect("a folder");
    let read = |name: &str| std::fs::read_to_string(examples.join(name)).expect("an example");
    std::fs::write(folder.join("bakehouse.dough"), read("bakehouse.dough")).expect("written");
    let files = std::fs::read_dir(&examples).expect("the examples").flatten();
    let names = files.filter_map(|file| file.file_name().into_string().ok());
    let keys = names.filter_map(|name| name.strip_suffix(".dough").map(str::to_owned));
    // Booklets name the examples as they are called there.
    let is_formula =
        |key: &String| read(&format!("{key}.dough")).contains(&format!("formula {key} "));
    let mut keys: Vec<String> = keys.filter(is_formula).collect();
    keys.sort();
    for number in 0..count {
        let (key, turn) = (&keys[number % keys.len()], number / keys.len());
        let text = keys.iter().fold(read(&format!("{key}.dough")), |text, key| {
            let renamed =
                text.replace(&format!("formula {key} "), &format!("formula {key}-{turn} "));
            renamed.replace(&format!(" from {key} "), &format!(" from {key}-{turn} "))
        });
        std::fs::write(folder.join(format!("{key}-{turn}.dough")), text).expect("written");
    }
}

struct Memory(BTreeMap<PathBuf, String>);

impl FileSystem for Memory {
    fn is_folder(&self, path: &Path) -> io::Result<bool> {
        Ok(!self.0.contains_key(path))
    }

    fn list(&self, _: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
        Ok(self.0.keys().map(|path| (path.clone(), false)).collect())
    }

    fn size(&self, path: &Path) -> io::Result<u64> {
        Ok(self.0[path].len() as u64)
    }

    fn is_below(&self, folder: &Path, path: &Path) -> io::Result<bool> {
        Ok(path.starts_with(folder))
    }

    fn bytes(&self, path: &Path, _: u64) -> io::Result<Vec<u8>> {
        Ok(self.0[path].clone().into_bytes())
    }
}

fn memory(count: usize) -> Memory {
    let mut files: BTreeMap<PathBuf, String> = (0..count)
        .map(|number| (PathBuf::from(format!("/made/{number}.dough")), made::formula(number)))
        .collect();
    files.insert("/made/bakehouse.dough".into(), "bakehouse \"Made\" {\n}\n".into());
    Memory(files)
}

fn loaded(count: usize) -> Loaded {
    load(&memory(count), Path::new("/made"), &[PathBuf::from("/made")])
}

#[divan::bench(args = SIZES)]
fn parse(bencher: Bencher, count: usize) {
    let texts: Vec<String> = (0..count).map(made::formula).collect();
    let bytes: usize = texts.iter().map(String::len).sum();
    bencher.counter(BytesCount::new(bytes)).counter(ItemsCount::new(count)).bench(|| {
        texts
            .iter()
            .map(|text| assize::testing::syntax::read(SourceId::default(), text).0.formulas.len())
            .sum::<usize>()
    });
}

#[divan::bench(args = SIZES)]
fn load_from_memory(bencher: Bencher, count: usize) {
    let memory = memory(count);
    bencher
        .counter(ItemsCount::new(count))
        .bench(|| load(&memory, Path::new("/made"), &[PathBuf::from("/made")]).files().len());
}

#[divan::bench(args = SIZES)]
fn work(bencher: Bencher, count: usize) {
    let loaded = loaded(count);
    let bakehouses = desk::bakehouses(&loaded);
    bencher.counter(ItemsCount::new(count)).bench(|| {
        let files = bakehouses[0].files.iter().flat_map(|file| &file.tree.formulas);
        files
            .map(|formula| {
                let mut findings = Vec::new();
                assize::testing::formula::work(&bakehouses[0].house, formula, &mut findings)
                    .choices
                    .len()
            })
            .sum::<usize>()
    });
}

#[divan::bench(args = SIZES)]
fn check(bencher: Bencher, count: usize) {
    let loaded = loaded(count);
    bencher.counter(ItemsCount::new(count)).bench(|| desk::check(&loaded).len());
}

/// What every rule costs: `check` from the files on, against reading and working out
/// alone. Target: no more than 1.3 times as long.
#[divan::bench(args = ["without rules", "with every rule"], sample_count = 15)]
fn whole_run(bencher: Bencher, rules: &str) {
    let memory = memory(10_000);
    let (home, all) = (Path::new("/made"), [PathBuf::from("/made")]);
    bencher.bench(|| {
        let loaded = load(&memory, home, &all);
        if rules == "with every rule" {
            return desk::check(&loaded).len();
        }
        let bakehouses = desk::bakehouses(&loaded);
        let files = bakehouses.par_iter().flat_map(|bakehouse| {
            bakehouse.files.par_iter().map(move |file| (&bakehouse.house, &file.tree.formulas))
        });
        files
            .map(|(house, formulas)| {
                let worked = formulas.iter().map(|formula| {
                    assize::testing::formula::work(house, formula, &mut Vec::new()).choices.len()
                });
                worked.sum::<usize>()
            })
            .sum()
    });
}

#[divan::bench]
fn document(bencher: Bencher) {
    let loaded = loaded(1);
    bencher.bench(|| made_document(&loaded));
}

fn made_document(loaded: &Loaded) -> String {
    let bakehouses = desk::bakehouses(loaded);
    let mut formulas = bakehouses[0].files.iter().flat_map(|file| &file.tree.formulas);
    let formula = formulas.next().expect("a formula");
    let worked = assize::testing::formula::work(&bakehouses[0].house, formula, &mut Vec::new());
    assize::testing::print::json(&assize::testing::print::document(
        &bakehouses[0].house,
        &worked,
        &Wording::plain(),
        false,
    ))
}

#[divan::bench(args = ["card", "sheet", "table"])]
fn print(bencher: Bencher, kind: &str) {
    use assize::testing::print::assets::PrintAssets;
    use assize::testing::print::pages::{Format, Press, Print, forget};
    let json = made_document(&loaded(1));
    let press = Press::new(&PrintAssets::default());
    let wanted = Print::ALL.into_iter().find(|print| print.word() == kind).expect("a print");
    bencher.bench(|| {
        // Without forgetting, typst would remember the whole page.
        forget();
        let pages = press.print(wanted, json.clone(), Format::Pdf { archive: false });
        pages.map(|pages| pages[0].len())
    });
}
