//! The published document, and the examples in README and DEVELOPERS.

use crate::support::{PLAIN, assize, declared, dough_files, err, folder, out, top};
use assize::testing::source::SourceId;
use serde_json::Value;
use std::fs;

/// Rewrites the published schema when asked to, so that it can't go stale.
#[test]
fn the_published_schemas_are_the_documents_own() {
    let documents = [
        ("templates/document.schema.json", assize::testing::print::schema()),
        ("templates/plan.schema.json", assize::testing::print::plan_schema()),
        ("templates/booklet.schema.json", assize::testing::print::booklet::booklet_schema()),
        ("templates/day.schema.json", assize::testing::print::day_schema()),
        ("templates/diff.schema.json", assize::testing::history::schema()),
        ("templates/numbers.schema.json", assize::testing::history::numbers::schema()),
        ("templates/history.schema.json", assize::testing::history::log::schema()),
        ("templates/trace.schema.json", assize::testing::history::trace::schema()),
        ("templates/uses.schema.json", assize::testing::history::uses::schema()),
    ];
    for (path, own) in documents {
        let (path, own) = (top().join(path), own + "\n");
        if std::env::var_os("ASSIZE_REWRITE").is_some() {
            fs::write(&path, &own).expect("written");
        }
        let published = fs::read_to_string(&path).unwrap_or_default();
        assert!(published == own, "stale; run the tests once with ASSIZE_REWRITE=1");
    }
}

#[test]
fn the_document_of_every_example_fits_its_schema() {
    let schema: Value = serde_json::from_str(&assize::testing::print::schema()).expect("a schema");
    let schema = jsonschema::validator_for(&schema).expect("a sound schema");
    let folder = top().join("examples/gullhaven");
    let mut seen = 0;
    for file in dough_files("examples/gullhaven") {
        let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
        // Some files hold the house, its days or its booklets.
        let text = fs::read_to_string(&file).expect("a file");
        if !declared(&text, "formula").contains(&name) {
            continue;
        }
        let done = assize(&folder, &["show", &name, "--format", "json"]);
        assert_eq!(done.status.code(), Some(0), "{name}: {}", err(&done));
        let document: Value = serde_json::from_str(&out(&done)).expect("JSON");
        let wrong: Vec<String> =
            schema.iter_errors(&document).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{name}: {wrong:?}");
        seen += 1;
    }
    assert!(seen >= 10);
}

/// Every fenced block of a page, with the words behind its fence.
fn blocks(page: &str) -> Vec<(String, String)> {
    let mut blocks = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(word)) => open = Some((word.trim().to_owned(), String::new())),
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some((_, text)), None) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    blocks
}

/// `dough` blocks are written to files, `console` blocks run in their order and answer
/// what stands below each command; `…` stands for what is left out.
#[test]
fn every_example_in_the_documents_runs() {
    for page in ["README.md", "DEVELOPERS.md"] {
        let text = fs::read_to_string(top().join(page)).expect("readable");
        let folder = folder();
        let mut ran = 0;
        for (word, block) in blocks(&text) {
            if word == "typst" {
                let house = crate::support::folder();
                let file = |name: &str| house.path().join(name);
                fs::create_dir(file("templates")).expect("made");
                fs::write(file("templates/card.typ"), block).expect("written");
                fs::write(file("house.dough"), "bakehouse \"Gullhaven Bakehouse\"\n")
                    .expect("written");
                fs::write(file("a.dough"), PLAIN).expect("written");
                let done = assize(house.path(), &["print", "--only", "card"]);
                assert_eq!((done.status.code(), err(&done)), (Some(0), String::new()), "{page}");
                ran += 1;
            } else if word.ends_with("no-check") {
                // A bakehouse of its own, which is read and nothing more.
                let (_, slips) = assize::testing::syntax::read(SourceId::default(), &block);
                assert!(slips.is_empty(), "{page}: {slips:?}");
                ran += 1;
            } else if word.starts_with("dough") {
                let file = word.split_whitespace().nth(1).unwrap_or("example.dough");
                fs::write(folder.path().join(file), block).expect("written");
                let done = assize(folder.path(), &["check", file]);
                assert_eq!(done.status.code(), Some(0), "{page} {file}: {}", out(&done));
                ran += 1;
            } else if word == "console" {
                run_console(page, folder.path(), &block);
                ran += 1;
            }
        }
        assert!(page != "README.md" || ran >= 2, "{page} has examples");
    }
}

fn run_console(page: &str, folder: &std::path::Path, block: &str) {
    let mut commands: Vec<(&str, Vec<&str>)> = Vec::new();
    for line in block.lines() {
        match line.strip_prefix("$ ") {
            Some(command) => commands.push((command, Vec::new())),
            None => commands.last_mut().expect("a command first").1.push(line),
        }
    }
    for (command, expected) in commands {
        let args = words(command);
        assert_eq!(args[0], "assize", "{page}: {command}");
        let args: Vec<&str> = args[1..].iter().map(String::as_str).collect();
        let done = assize(folder, &args);
        let told = out(&done) + &err(&done);
        let told: Vec<&str> = told.lines().map(str::trim_end).collect();
        let expected: Vec<&str> = expected.iter().map(|line| line.trim_end()).collect();
        let mut rest = told.as_slice();
        let mut open = false;
        for line in &expected {
            if *line == "…" {
                open = true;
                continue;
            }
            let at = rest.iter().position(|told| told == line);
            let at =
                at.unwrap_or_else(|| panic!("{page}: `{line}` is not in\n{}", told.join("\n")));
            assert!(open || at == 0, "{page}: `{line}` comes too late in\n{}", told.join("\n"));
            rest = &rest[at + 1..];
            open = false;
        }
        assert!(open || rest.is_empty(), "{page}: left over\n{}", rest.join("\n"));
    }
}

/// Splits a command at blanks, quotes kept together.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            letter => words.last_mut().expect("a word").push(letter),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}
