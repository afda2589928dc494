//! Pages as others read them: validators of PDF, tables' header cells, pictures by hash,
//! pages for a browser.

use crate::support::{assize, err, folder, has_printed, is_of_booklet, top};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use pdf_extract::{Dictionary, Document, Object, ObjectId};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::sync::OnceLock;

/// Prints of the examples and of the formulas that strain a page, as asked.
fn printed(args: &[&str]) -> tempfile::TempDir {
    let folder = folder();
    let to = folder.path().to_string_lossy().into_owned();
    for from in ["examples/gullhaven", "tests/prints"] {
        // Only one of the houses has days.
        let of_days: &[&str] = if from == "tests/prints" { &[] } else { &["--placings", "60"] };
        let all = ["print", "--to", &to];
        let all: Vec<&str> = all.iter().chain(of_days).chain(args).copied().collect();
        // Outside the repository no foot of a page names its last commit.
        let house = tempfile::tempdir().expect("a folder");
        copy(&top().join(from), house.path());
        let done = assize(house.path(), &all);
        assert!(has_printed(&done), "{}", err(&done));
    }
    folder
}

/// A folder with all that is in it.
fn copy(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).expect("a folder") {
        let path = entry.expect("an entry").path();
        let own = to.join(path.file_name().expect("a name"));
        if path.is_dir() {
            fs::create_dir(&own).expect("made");
            copy(&path, &own);
        } else {
            fs::copy(&path, &own).expect("copied");
        }
    }
}

fn pdfs() -> &'static Path {
    static PDFS: OnceLock<tempfile::TempDir> = OnceLock::new();
    PDFS.get_or_init(|| {
        let folder = printed(&[]);
        for formulas in [&["ferryman-rye"][..], &["gullhaven-sour", "first-sour"]] {
            let asked = [&["plan", "--ready", "2026-12-05 07:00", "--format", "pdf"], formulas];
            let awake = ["--awake", "04:30..22:00", "--room", "24C"];
            let done =
                assize(&top().join("examples/gullhaven"), &[&asked.concat(), &awake[..]].concat());
            assert_eq!(done.status.code(), Some(0), "{}", err(&done));
            let name = format!("{}-plan.pdf", formulas.join("-"));
            fs::write(folder.path().join(name), done.stdout).expect("written");
        }
        folder
    })
    .path()
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = folder.read_dir().expect("listed").map(|entry| entry.expect("an entry").path());
    let files: BTreeMap<String, Vec<u8>> = entries
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, fs::read(path).expect("readable"))
        })
        .collect();
    assert!(files.len() > 40, "{} files", files.len());
    files
}

fn slips(pdf: &[u8], profile: ValidationProfile) -> String {
    let options = ValidationOptions::default().profile(profile);
    let report = validate_pdf_bytes(pdf, &options).expect("a PDF");
    // The validator takes a carriage return at the end of a stream's data for a part of the
    // line end behind it, and then finds the length wrong; so lengths are measured here.
    let measured = |slip: &&page_validation::ValidationFailure| {
        !(slip.to_string().contains("6.1.7.1:1") && lengths_hold(pdf))
    };
    let slips: Vec<String> =
        report.failures.iter().filter(measured).map(|slip| slip.to_string()).collect();
    slips.join("\n")
}

/// Whether each stream is as long as its dictionary says: behind so many bytes, and a line
/// end, stands `endstream`.
fn lengths_hold(pdf: &[u8]) -> bool {
    let find = |from: usize, what: &[u8]| {
        let rest = pdf.get(from..)?;
        Some(from + rest.windows(what.len()).position(|window| window == what)?)
    };
    let mut at = 0;
    let mut streams = 0;
    while let Some(length) = find(at, b"/Length ") {
        let digits = pdf[length + 8..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        let number = std::str::from_utf8(&pdf[length + 8..length + 8 + digits]).expect("digits");
        let number: usize = number.parse().expect("a number");
        let start = find(length, b"stream\n").expect("a stream") + 7;
        let Some(behind) = pdf.get(start + number..) else { return false };
        if !behind.starts_with(b"\nendstream") && !behind.starts_with(b"endstream") {
            return false;
        }
        at = start + number;
        streams += 1;
    }
    streams > 0
}

#[test]
fn every_pdf_is_pdf_ua_1() {
    for (name, pdf) in files(pdfs()) {
        let slips = slips(&pdf, ValidationProfile::PdfUa1);
        assert!(slips.is_empty(), "{name}: {slips}");
    }
}

#[test]
fn an_archive_is_pdf_a_2a_and_pdf_ua_1() {
    let folder = printed(&["--archive"]);
    for (name, pdf) in files(folder.path()) {
        for profile in [ValidationProfile::PdfA2a, ValidationProfile::PdfUa1] {
            let slips = slips(&pdf, profile);
            assert!(slips.is_empty(), "{name}: {slips}");
        }
    }
}

/// What the validators miss: a table without header cells, a page without a heading.
#[test]
fn every_table_has_header_cells_and_every_print_a_heading() {
    for (name, pdf) in files(pdfs()) {
        let document = Document::load_mem(&pdf).expect("a PDF");
        let tree = document
            .catalog()
            .and_then(|catalog| catalog.get(b"StructTreeRoot"))
            .and_then(Object::as_reference)
            .expect("a structure");
        let mut tables = 0;
        let headings = count(&document, tree, b"H1", &mut |_| ());
        count(&document, tree, b"Table", &mut |table| {
            tables += 1;
            assert!(count(&document, table, b"TH", &mut |_| ()) > 0, "{name}: a table without");
        });
        // A booklet, the sheets of a day's batches, and a book with its contents are several
        // documents in one.
        let is_several = is_of_booklet(&name)
            || name.ends_with("-sheets.pdf")
            || count(&document, tree, b"TOC", &mut |_| ()) > 0;
        assert!(
            (headings == 1 || is_several && headings > 0) && tables > 0,
            "{name}: {headings} headings, {tables} tables"
        );
    }
}

/// How many elements of a role stand below one, each shown to `then`.
fn count(
    document: &Document,
    below: ObjectId,
    role: &[u8],
    then: &mut dyn FnMut(ObjectId),
) -> usize {
    let Ok(element) = document.get_dictionary(below) else { return 0 };
    let children: Vec<ObjectId> = match element.get(b"K") {
        Ok(Object::Array(all)) => all.iter().filter_map(|it| it.as_reference().ok()).collect(),
        Ok(Object::Reference(one)) => vec![*one],
        _ => Vec::new(),
    };
    let is = |id: &ObjectId| {
        let named = document.get_dictionary(*id).and_then(|it: &Dictionary| it.get(b"S"));
        named.and_then(Object::as_name).is_ok_and(|name| name == role)
    };
    let mut found = 0;
    for child in children {
        if is(&child) {
            found += 1;
            then(child);
        }
        found += count(document, child, role, then);
    }
    found
}

/// The pictures of all pages, by hash. After looking at the pages that changed:
/// `ASSIZE_REWRITE=1 cargo test --release pictures`.
#[test]
fn the_pictures_of_all_pages_are_those_that_were_looked_at() {
    let folder = printed(&["--format", "png", "--dpi", "50"]);
    let mut list = String::new();
    for (name, picture) in files(folder.path()) {
        let hash = Sha256::digest(&picture);
        let hash: String = hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
        writeln!(list, "{hash}  {name}").expect("written");
    }
    let known = top().join("tests/prints/pictures.txt");
    if std::env::var_os("ASSIZE_REWRITE").is_some() {
        fs::write(&known, &list).expect("written");
    }
    let known = fs::read_to_string(&known).expect("the list");
    let changed: Vec<&str> = list.lines().filter(|line| !known.contains(line)).collect();
    assert!(changed.is_empty() && known.lines().count() == list.lines().count(), "{changed:#?}");
}

#[test]
fn a_page_for_a_browser_is_whole_and_says_what_the_document_says() {
    let folder = printed(&["--format", "html"]);
    for (name, page) in files(folder.path()) {
        let page = String::from_utf8(page).expect("text");
        assert!(page.starts_with("<!DOCTYPE html>"), "{name}");
        for outside in ["http://", "<link", "url(", "src=\"/", "<script src"] {
            assert!(!page.contains(outside), "{name}: {outside}");
        }
        let recipes: Vec<&str> =
            page.split("<script type=\"application/ld+json\">").skip(1).collect();
        assert_eq!(recipes.len(), usize::from(name.ends_with("-card.html")), "{name}");
        for recipe in recipes {
            let recipe = recipe.split("</script>").next().expect("an end");
            let recipe: serde_json::Value = serde_json::from_str(recipe).expect("JSON");
            assert_eq!(recipe["@type"], "Recipe", "{name}");
            // schema.org, Recipe and HowTo: every name that we use is one of theirs.
            let known = [
                "@context",
                "@type",
                "author",
                "cookTime",
                "description",
                "image",
                "inLanguage",
                "name",
                "prepTime",
                "recipeIngredient",
                "recipeInstructions",
                "recipeYield",
                "tool",
                "totalTime",
            ];
            for key in recipe.as_object().expect("an object").keys() {
                assert!(known.contains(&key.as_str()), "{name}: {key}");
            }
            assert!(!recipe["recipeIngredient"].as_array().expect("a list").is_empty(), "{name}");
        }
        // A booklet and a day are of no single formula.
        let print = name.trim_end_matches(".html").rsplit('-').next().unwrap_or_default();
        if !is_of_booklet(&name) && ["card", "sheet", "table"].contains(&print) {
            says_all_weights(&name, &page);
        }
        // Each cell that heads a row or a column says which.
        assert_eq!(
            page.matches("<th").count() - page.matches("<thead").count(),
            page.matches("scope=").count(),
            "{name}"
        );
    }
}

/// Whether each weight of the document stands on the page.
fn says_all_weights(file: &str, page: &str) {
    let (formula, print) = file.trim_end_matches(".html").rsplit_once('-').expect("a print");
    let folder = ["examples/gullhaven", "tests/prints"]
        .into_iter()
        .find(|folder| {
            let files = top().join(folder).read_dir().expect("listed");
            let texts = files.map(|file| fs::read_to_string(file.expect("a file").path()));
            texts.flatten().any(|text| text.contains(&format!("formula {formula} ")))
        })
        .expect("the formula's folder");
    let done = assize(&top().join(folder), &["show", formula, "--format", "json"]);
    let document: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let text: String =
        page.split('<').filter_map(|part| part.split_once('>')).map(|(_, it)| it).collect();
    let lists = match print {
        "card" => document["groups"].as_array().expect("groups"),
        _ => document["mixes"].as_array().expect("mixes"),
    };
    for list in lists {
        let batch = list["batch_lines"].as_array().is_some_and(|lines| !lines.is_empty());
        let lines = if batch && print == "sheet" { &list["batch_lines"] } else { &list["lines"] };
        for line in lines.as_array().expect("lines") {
            if let Some(shown) = line["weight"]["shown"].as_str() {
                assert!(text.contains(shown), "{file}: {shown} is not on the page");
            }
        }
    }
}
