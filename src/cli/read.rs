//! `assize read`: recipes that exist in other forms become formulas.

use super::args::Read;
use super::exit::{Exit, exit_of};
use super::progress::Progress;
use super::tell::{drawn, tell_on_error, usage};
use super::{streams, write};
use crate::bring::{self, Options, WrittenFormula};
use crate::desk::{self, Disk, FileSystem, MAX_BYTES};
use crate::diag::{Finding, Level};
use crate::formula::{built_in, key};
use crate::source::is_unseen;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// `assize read`.
pub fn run(args: &Read) -> Exit {
    if let Some(culture) = &args.culture
        && built_in().culture_named(&key(culture)).is_none()
    {
        return usage(&format!(
            "`{culture}` is not a culture that we know; `assize explain cultures` lists them"
        ));
    }
    let mut run = Run {
        args,
        findings: Vec::new(),
        names: BTreeSet::new(),
        declared: declared_in(&args.to),
        said: String::new(),
    };
    let mut files = Vec::new();
    for path in &args.files {
        match gathered(path) {
            Ok(found) => files.extend(found),
            Err(finding) => run.findings.push(*finding),
        }
    }
    files.dedup();
    let shows = args.dry_run || args.to == Path::new("-");
    let progress = Progress::new(files.len());
    for file in &files {
        run.file(file, shows);
        progress.one_more();
    }
    progress.done();
    let sources = desk::sources("");
    let written = match shows {
        true => streams::output(&run.said),
        false => streams::sentence(&run.said),
    };
    let told = run.findings.iter();
    streams::error_text(drawn(told, &sources, streams::colour(&std::io::stderr())));
    written.max(exit_of(&run.findings))
}

/// Words of a file for a screen, which may obey signs that nobody sees.
fn seen_of(text: &str) -> String {
    text.chars().map(|it| if is_unseen(it) { ' ' } else { it }).collect()
}

/// What the formula files of a folder declare: `ingredient NAME` in small letters, and the file.
fn declared_in(folder: &Path) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    let entries = Disk.list(folder).unwrap_or_default();
    let is_ours = |path: &Path| path.extension().is_some_and(|ending| ending == "dough");
    for (path, _) in entries.iter().filter(|(path, is_folder)| !is_folder && is_ours(path)) {
        let Ok(bytes) = Disk.bytes(path, MAX_BYTES) else { continue };
        let file = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for line in
            String::from_utf8_lossy(&bytes).lines().filter(|it| it.starts_with("ingredient "))
        {
            if let Some((name, _)) = line.split_once(" is ") {
                all.insert(name.to_lowercase(), file.clone());
            }
        }
    }
    all
}

/// The files that a path names or holds.
fn gathered(path: &Path) -> Result<Vec<PathBuf>, Box<Finding>> {
    let name = path.display().to_string();
    let unreadable =
        |error: std::io::Error| Box::new(desk::unreadable::finding(&name, &desk::why(&error)));
    if !Disk.is_folder(path).map_err(unreadable)? {
        return Ok(vec![path.to_path_buf()]);
    }
    let entries = Disk.list(path).map_err(unreadable)?;
    let files = entries.into_iter().filter(|(path, is_folder)| !is_folder && bring::is_read(path));
    Ok(files.map(|(path, _)| path).collect())
}

struct Run<'a> {
    args: &'a Read,
    findings: Vec<Finding>,
    /// Of the formulas of this run.
    names: BTreeSet<String>,
    /// What the files of this run and those beside them declare, with the file that does.
    declared: BTreeMap<String, String>,
    said: String,
}

impl Run<'_> {
    fn file(&mut self, path: &Path, shows: bool) {
        let name = path.display().to_string();
        let bytes = match Disk.bytes(path, MAX_BYTES) {
            Ok(bytes) => bytes,
            Err(error) => {
                self.findings.push(desk::unreadable::finding(&name, &desk::why(&error)));
                return;
            }
        };
        let brought = match bytes.len() as u64 > MAX_BYTES {
            true => Err(format!("it is larger than {MAX_BYTES} bytes")),
            false => bring::recipes(path, &bytes),
        };
        let brought = match brought {
            Ok(brought) => brought,
            Err(why) => {
                self.findings.push(bring::no_recipe(&name, &why));
                return;
            }
        };
        for columns in &brought.columns {
            let columns = seen_of(columns);
            self.said.push_str(&match shows {
                true => format!("# {name}: {columns}\n"),
                false => format!("{name}: {columns}\n"),
            });
        }
        let options = Options {
            culture: self.args.culture.clone(),
            percent: self.args.percent,
            language: self.args.language.clone(),
        };
        let shown = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for recipe in &brought.recipes {
            let mut written = bring::write(recipe, &shown, &options);
            self.name_anew(&mut written);
            self.check(&mut written);
            self.declare_once(&mut written);
            self.tell(&written);
            if shows {
                self.said.push_str(&format!("{}\n", written.text));
            } else {
                self.put(&written);
            }
        }
    }

    /// Two recipes of one name are two formulas.
    fn name_anew(&mut self, written: &mut WrittenFormula) {
        let own = written.name.clone();
        let is_taken = |name: &str| {
            let path = self.args.to.join(format!("{name}.dough"));
            self.names.contains(name) || path.exists()
        };
        let mut name = own.clone();
        let mut count = 2;
        while is_taken(&name) {
            name = format!("{own}-{count}");
            count += 1;
        }
        let head = |name: &str| format!("formula {name} \"");
        written.text = written.text.replacen(&head(&own), &head(&name), 1);
        self.names.insert(name.clone());
        written.name = name;
    }

    /// An ingredient that another file of the folder declares is declared no second time.
    fn declare_once(&mut self, written: &mut WrittenFormula) {
        let file = format!("{}.dough", written.name);
        for line in &written.declared {
            let Some((name, _)) = line.rsplit_once(" is ") else { continue };
            match self.declared.get(&name.to_lowercase()) {
                Some(other) => {
                    let told = format!("# {line}: declared in {other}\n");
                    written.text = written.text.replacen(&format!("{line}\n"), &told, 1);
                }
                None => {
                    self.declared.insert(name.to_lowercase(), file.clone());
                }
            }
        }
    }

    /// What is an error in the formula is left to a person, and the file says so.
    fn check(&self, written: &mut WrittenFormula) {
        let told = desk::check_alone(&format!("{}.dough", written.name), &written.text);
        let errors = told.iter().filter(|it| it.level == Level::Error && it.allowed.is_none());
        for error in errors {
            // What nobody knows yet has been said in other words.
            let is_said = written.decisions.iter().any(|decision| {
                decision.split('`').nth(1).is_some_and(|name| error.message.contains(name))
            });
            if !is_said {
                let line = format!("{} ({})", error.message, error.rule.name);
                let head = written.text.find('\n').map_or(0, |end| end + 1);
                written.text.insert_str(head, &format!("# decide: {line}\n"));
                written.decisions.push(line);
            }
        }
    }

    fn tell(&mut self, written: &WrittenFormula) {
        let file = format!("{}.dough", written.name);
        for decision in &written.decisions {
            self.findings.push(bring::needs_a_decision(&file, decision));
        }
        if !written.left.is_empty() {
            self.findings.push(bring::not_understood(&file, &written.left));
        }
        for (name, near) in &written.near {
            self.findings.push(bring::read_near(&file, name, near));
        }
    }

    fn put(&mut self, written: &WrittenFormula) {
        let folder = &self.args.to;
        let path = folder.join(format!("{}.dough", written.name));
        let made = fs::create_dir_all(folder).map_err(|error| {
            Box::new(desk::unwritable::finding(&folder.display().to_string(), &desk::why(&error)))
        });
        match made.and_then(|()| write::made(&path, written.text.as_bytes())) {
            Ok(()) => self.said.push_str(&format!("{}\n", streams::path(&path))),
            Err(finding) => {
                tell_on_error(&[(*finding).clone()], &desk::sources(""));
                self.findings.push(*finding);
            }
        }
    }
}
