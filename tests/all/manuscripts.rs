//! Markdown belongs to a bakehouse like any file: its formulas are found, checked, laid
//! out and printed, and what looks like a formula and is not read is told.

use crate::support::{PLAIN, assize, err, folder, out};
use assize::testing::diag::{Finding, Level};
use assize::testing::source::SourceId;
use assize::testing::syntax::{format, manuscript};
use std::fs;
use std::path::Path;

const HOUSE: &str = "bakehouse \"Gullhaven Bakehouse\" { hours 05:00..21:00 }\n";

/// A chapter with one formula in a fence.
fn chapter(name: &str, flour: &str) -> String {
    let formula = PLAIN.replace("pier-loaf", name).replace("Pier Loaf", name);
    let formula = formula.replace("makes  2", "makes      2");
    let formula = formula.replace("bread flour  100%", &format!("{flour}  100%"));
    format!("# A chapter\n\nWords.\n\n```dough\n{formula}```\n\nMore words.\n")
}

fn house(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = folder();
    for (name, text) in [("house.dough", HOUSE)].iter().chain(files) {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    folder
}

/// What a command says, both streams, and its exit code.
fn said(folder: &Path, args: &[&str]) -> (Option<i32>, String) {
    let done = assize(folder, args);
    (done.status.code(), out(&done) + &err(&done))
}

#[test]
fn every_command_finds_the_formulas_of_a_manuscript() {
    let folder = house(&[
        ("book/one.md", &chapter("quay-loaf", "bread flour")),
        ("book/readme.md", "# No formula here\n\n```sh\nls\n```\n"),
    ]);
    let at = folder.path();
    assert_eq!(said(at, &["check"]), (Some(0), "1 formula, no findings\n".into()));
    assert_eq!(said(at, &["check", "book"]), (Some(0), "1 formula, no findings\n".into()));
    assert_eq!(said(at, &["fmt", "--check"]), (Some(0), "nothing to reformat\n".into()));
    assert!(said(at, &["show", "quay-loaf"]).1.starts_with("quay-loaf\n2 loaves"));
    assert!(said(at, &["why", "quay-loaf", "hydration"]).1.starts_with("hydration: 74 %"));
    let printed = said(at, &["print", "--only", "card", "--format", "html", "--to", "out"]);
    assert_eq!(printed, (Some(0), "1 file in out\n".into()));
    let planned = said(at, &["plan", "quay-loaf", "--ready", "2026-12-05 10:00", "--zone", "UTC"]);
    assert!(planned.1.contains("has no method"), "{planned:?}");
}

#[test]
fn a_chapter_checked_alone_sees_its_house_and_the_chapters_beside_it() {
    let own = "```dough\ningredient weir flour like bread flour { contains wheat }\n```\n";
    let folder = house(&[("a.md", own), ("deep/b.md", &chapter("weir-loaf", "weir flour"))]);
    let at = folder.path();
    let clean = (Some(0), "1 formula, no findings\n".to_owned());
    assert_eq!(said(at, &["check", "deep/b.md"]), clean);
    // By its path too, from somewhere else.
    assert_eq!(said(&at.join("deep"), &["check", "b.md"]), clean);
    let based = "formula small-weir-loaf \"Small\" from weir-loaf { makes 4 loaves at 400 g }\n";
    fs::write(at.join("c.dough"), based).expect("written");
    assert_eq!(said(at, &["check", "c.dough"]), clean);
    // A name that no chapter declares is unknown.
    fs::remove_file(at.join("a.md")).expect("removed");
    assert!(said(at, &["check", "deep/b.md"]).1.contains("nothing here is called `weir flour`"));
}

#[test]
fn a_house_may_be_declared_in_a_manuscript_and_one_that_is_only_shown_is_none() {
    let folder = folder();
    let write =
        |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    write("readme.md", "```dough no-check\nbakehouse \"Shown\" {}\n```\n");
    write("one.dough", "mixture brine { water 9 parts; fine salt 1 part }\n");
    fs::create_dir(folder.path().join("in")).expect("made");
    let uses = PLAIN.replace("  total", "  piece { brine 3 g }\n  total");
    write("in/two.dough", &uses);
    let unknown = said(folder.path(), &["check", "in/two.dough"]).1;
    assert!(unknown.contains("nothing here is called `brine`"), "{unknown}");
    write("readme.md", "```dough\nbakehouse \"Meant\" {}\n```\n");
    let known = said(folder.path(), &["check", "in/two.dough"]).1;
    assert!(!known.contains("brine"), "{known}");
}

#[test]
fn a_file_without_formulas_is_checked_with_what_uses_it() {
    let own = "ingredient weir flour like bread flour { water 13% }\n";
    let chapter = chapter("weir-loaf", "weir flour");
    let other = PLAIN.replace("74%", "300%");
    let child = "formula child \"Child\" from weir-loaf { makes 1 loaf at 1 kg }\n";
    let folder = house(&[
        ("ingredients.dough", own),
        ("a.md", &chapter),
        ("child.dough", child),
        ("other.dough", &other),
    ]);
    let at = folder.path();
    let clean = "0 formulas and 2 that use what is in it, no findings\n";
    assert_eq!(said(at, &["check", "ingredients.dough"]), (Some(0), clean.into()));
    // What the change of an ingredient breaks is told where it is used, and only there.
    fs::write(at.join("ingredients.dough"), own.replace("like bread flour", "like salt"))
        .expect("written");
    let (code, told) = said(at, &["check", "ingredients.dough", "--format", "short"]);
    assert_eq!(code, Some(1));
    assert!(told.contains("a.md"), "{told}");
    assert!(!told.contains("other.dough"), "{told}");
}

/// What a declaration may be, each used by one formula in another file in its own way.
#[test]
fn whatever_is_declared_leads_to_the_formula_that_uses_it() {
    let plain = |from: &str, to: &str| PLAIN.replace(from, to);
    let levain = "fresh yeast    1%\n  }\n  preferment sour { ferments 9% of flour; bread flour \
                  100%; water 100%; house seed 20%; ripens 8h at 24C }\n  expect { salt 2%";
    let oats = "fresh yeast    1%; rolled oats 5%\n  }\n  soaker oats { percentages of total; \
                rolled oats 5%; water 5%; method { boil 5min in brine } }\n  expect { salt 2%";
    for (declared, formula) in [
        (
            "ingredient weir flour like bread flour { may contain soya }",
            plain("bread flour", "weir flour"),
        ),
        (
            "ingredient dune flour like bread flour { also \"weir flour\" }",
            plain("bread flour", "weir flour"),
        ),
        ("culture house seed { bread flour 100%; water 100% }", plain("fresh yeast    1%", levain)),
        (
            "mixture brine { water 9 parts; fine salt 1 part }",
            plain("  total", "  piece { brine 3 g }\n  total"),
        ),
        ("mixture brine { water 9 parts; fine salt 1 part }", plain("fresh yeast    1%", oats)),
        (
            "style house bread { hydration 60%..80% }",
            plain("  makes", "  style house bread\n  makes"),
        ),
        ("tin chandler { holds 2.4 l }", plain("at 885 g", "in chandler")),
        ("oven deck { holds 1 loaf }", PLAIN.to_owned()),
        ("mixer spiral { holds 1 kg..9 kg }", PLAIN.to_owned()),
        (
            "preferment sour { bread flour 100%; water 100%; rye culture 20%; ripens 8h at 24C }",
            plain("  total", "  preferment sour { ferments 9% of flour }\n  total"),
        ),
    ] {
        let folder = house(&[("own.dough", declared), ("a.dough", &formula)]);
        let told = said(folder.path(), &["check", "own.dough"]).1;
        assert!(told.contains("0 formulas and 1 that uses what is in it"), "{declared}: {told}");
    }
    let unrelated = house(&[
        ("own.dough", "ingredient weir flour like bread flour { may contain soya }"),
        ("a.dough", PLAIN),
    ]);
    let told = said(unrelated.path(), &["check", "own.dough"]).1;
    assert_eq!(told, "0 formulas; 1 ingredient, no findings\n");
}

/// Where a block may stand in Markdown; `@` is a line of the block.
const PLACES: [(&str, &str); 8] = [
    ("plain", "Words.\n\n```dough\n@```\n"),
    ("other fence", "Words.\n\n~~~~ dough\n@~~~~\n"),
    ("upper case", "```Dough\n@```\n"),
    ("attributes", "``` {.dough #first}\n@```\n"),
    ("quotation", "> Words.\n>\n> ```dough\n> @> ```\n"),
    ("list", "1. Words.\n\n   ```dough\n   @   ```\n"),
    ("footnote", "Words.[^1]\n\n[^1]: Words.\n\n    ```dough\n    @    ```\n"),
    ("list in a quotation", "> - Words.\n>\n>   ```dough\n>   @>   ```\n"),
];

fn placed(place: &str, formula: &str) -> String {
    let line = place.lines().find(|line| line.contains('@')).expect("a place");
    let lead = line.split('@').next().unwrap_or("");
    let own: String = formula.lines().map(|line| format!("{lead}{line}\n")).collect();
    let own = own.strip_prefix(lead).unwrap_or(&own).to_owned();
    place.replacen('@', &own, 1)
}

#[test]
fn formulas_are_read_and_laid_out_wherever_markdown_has_a_block() {
    let wrong = PLAIN.replace("bread flour  100%", "bread flour 90%");
    for (name, place) in PLACES {
        let text = placed(place, &wrong);
        let folder = house(&[("a.md", &text)]);
        let told = said(folder.path(), &["check", "--format", "short"]).1;
        let line = text.lines().position(|line| line.contains("90%")).expect("there") + 1;
        let column = text.lines().nth(line - 1).and_then(|line| line.find("90%")).expect("there");
        let at = format!("a.md:{line}:{}:", column + 1);
        assert!(told.contains(&at) && told.contains("flour-not-100"), "{name}: {told}\n{text}");
        assert_eq!(said(folder.path(), &["fmt"]).1, "a.md reformatted\n", "{name}");
        let laid_out = fs::read_to_string(folder.path().join("a.md")).expect("read");
        let own = format(SourceId::ASKED, &wrong);
        assert_eq!(laid_out, placed(place, &own.expect("laid out")), "{name}");
    }
}

fn doubtful(text: &str) -> Vec<Finding> {
    manuscript::doubtful(SourceId::ASKED, text)
}

#[test]
fn a_block_that_looks_like_formulas_and_is_not_read_is_told() {
    let block = |info: &str| format!("Words.\n\n```{info}\nformula a \"A\" {{\n}}\n```\n");
    for info in [
        "dogh",
        "doug",
        "doughs",
        "duogh",
        "Dogh",
        "{.dogh}",
        "assize",
        "dough no-chek",
        "dough nocheck",
        "",
        "text",
        "rust",
        "Teig",
        "pâte",
        "language-dough",
        "lang=dough",
        "{.language-dough}",
    ] {
        let told = doubtful(&block(info));
        assert_eq!(told.len(), 1, "{info}: {told:?}");
        assert_eq!(told[0].rule.name, "unread-fence");
    }
    for info in [
        "dough",
        "DOUGH",
        "{.dough}",
        "dough no-check",
        "{.dough .no-check}",
        "dough bread.dough",
        "markdown",
    ] {
        assert!(doubtful(&block(info)).is_empty(), "{info}");
    }
    // Without a formula in it, what is marked otherwise is somebody else's.
    for info in ["", "text", "rust", "toml"] {
        let other =
            format!("Words.\n\n```{info}\na formula {{ is }} something\nlet formula = 1;\n```\n");
        assert!(doubtful(&other).is_empty(), "{info}");
    }
    let one_line = "formula a \"A\" { makes 1 loaf }\n";
    for (unread, level) in [
        (format!("Words:\n\n    {one_line}"), Level::Note),
        (format!("<pre class=\"dough\">{one_line}</pre>\n"), Level::Warning),
        (format!("<pre class=\"dough\">\n{one_line}</pre>\n"), Level::Warning),
        (format!("<!--\n```dough\n{one_line}```\n-->\n"), Level::Note),
        (format!("<!--\n{one_line}-->\n"), Level::Note),
        (format!("- item\n\n  ```\n  {one_line}  ```\n"), Level::Note),
        (format!("> ```text\n> {one_line}> ```\n"), Level::Note),
    ] {
        let told = doubtful(&unread);
        assert_eq!(told.len(), 1, "{unread}: {told:?}");
        assert_eq!((told[0].rule.name, told[0].level), ("unread-fence", level), "{unread}");
    }
    let lost = "Words:\n\n    ```dough\n    formula a {\n    ```\n";
    let in_html = "<details>\n```dough\nformula a {\n```\n</details>\n";
    for text in [lost, in_html] {
        let told = doubtful(text);
        assert_eq!(told.len(), 1, "{text}: {told:?}");
        let span = told[0].span();
        assert_eq!(&text[span.start as usize..span.end as usize], "```dough", "{text}");
    }
    let shown = "````markdown\n```dough\n````\n";
    let commented = "<!--\n```dough\n```\n-->\n";
    let spoken = "Write ```` ```dough ```` before it, or `dogh`.\n";
    for text in [shown, commented, spoken] {
        assert!(doubtful(text).is_empty(), "{text}");
    }
}

#[test]
fn a_misspelt_mark_is_told_by_check_of_the_whole_house_and_mended() {
    let text = chapter("quay-loaf", "bread flour").replace("```dough", "```dogh");
    let folder = house(&[("a.md", &text)]);
    let told = said(folder.path(), &["check"]).1;
    assert!(told.contains("a block marked `dogh` is not read"), "{told}");
    assert!(told.contains("did you mean `dough`?"), "{told}");
}

#[test]
fn a_text_that_nobody_can_read_beside_a_house_is_a_note() {
    let folder = house(&[("a.dough", PLAIN)]);
    fs::write(folder.path().join("old.md"), [0xff, 0xfe, 0x41]).expect("written");
    let (code, told) = said(folder.path(), &["check"]);
    assert_eq!(code, Some(0), "{told}");
    assert!(told.contains("old.md is not a text file") && told.ends_with("1 note\n"), "{told}");
    // Named itself, it is an error.
    assert_eq!(said(folder.path(), &["check", "old.md"]).0, Some(1));
}

/// What a manuscript says of a formula is looked at with the formula: when an ingredient of it
/// is checked, and when it is checked itself; what is said of others is not.
#[test]
fn a_file_checked_alone_has_the_prose_about_what_uses_it_looked_at() {
    let own = "ingredient pier seeds is a seed { contains sesame }\n\
               ingredient dune nuts is a nut { contains hazelnuts }\n";
    let loaf = |name: &str, more: &str| {
        let formula = PLAIN.replace("pier-loaf", name).replace("Pier Loaf", name);
        formula.replace("fresh yeast    1%\n", &format!("fresh yeast    1%\n    {more}\n"))
    };
    let seeded = loaf("dory-loaf", "pier seeds 5%");
    let plain = loaf("skiff-loaf", "caraway seeds 1%");
    let false_prose = "The loaf has no sesame in it.\n";
    let about =
        |name: &str, prose: &str| format!("# {name}\n\n<!-- assize: about {name} -->\n{prose}");
    let fenced = format!("# Dory\n\n{false_prose}\n```dough\n{seeded}```\n");
    let base = format!(
        "{}formula ketch-loaf \"Ketch Loaf\" from dory-loaf {{ makes 1 loaf at 900 g }}\n",
        seeded
    );
    // The files, what is checked, and how many errors of prose there are.
    type Case<'c> = (Vec<(&'c str, String)>, &'c str, usize);
    let table: Vec<Case> = vec![
        // The formula in the manuscript itself.
        (vec![("own.dough", own.into()), ("one.md", fenced.clone())], "own.dough", 1),
        // The formula beside it.
        (
            vec![
                ("own.dough", own.into()),
                ("a.dough", seeded.clone()),
                ("one.md", about("dory-loaf", false_prose)),
            ],
            "own.dough",
            1,
        ),
        // The formula itself is checked.
        (
            vec![
                ("own.dough", own.into()),
                ("a.dough", seeded.clone()),
                ("one.md", about("dory-loaf", false_prose)),
            ],
            "a.dough",
            1,
        ),
        // A formula based on another, of which the prose is.
        (
            vec![
                ("own.dough", own.into()),
                ("a.dough", base),
                ("one.md", about("ketch-loaf", false_prose)),
            ],
            "own.dough",
            1,
        ),
        // A number, which is a warning.
        (
            vec![
                ("own.dough", own.into()),
                ("one.md", fenced.replace(false_prose, "The hydration is 80 %.\n")),
            ],
            "own.dough",
            0,
        ),
        // Prose about a formula that has none of it.
        (
            vec![
                ("own.dough", own.into()),
                ("a.dough", seeded.clone()),
                ("b.dough", plain.clone()),
                ("one.md", about("skiff-loaf", "The loaf has no wheat in it.\n")),
            ],
            "own.dough",
            0,
        ),
        (
            vec![
                ("own.dough", own.into()),
                ("a.dough", seeded),
                ("b.dough", plain),
                ("one.md", about("skiff-loaf", "The loaf has no wheat in it.\n")),
            ],
            "b.dough",
            1,
        ),
    ];
    for (files, checked, wanted) in table {
        let files: Vec<(&str, &str)> =
            files.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let folder = house(&files);
        let (code, told) = said(folder.path(), &["check", checked, "--format", "short"]);
        assert_eq!(told.matches("absence-in-text").count(), wanted, "{checked}: {told}");
        assert_eq!(code, Some(i32::from(wanted > 0)), "{told}");
        assert!(
            told.contains("80 %") == files.iter().any(|file| file.1.contains("80 %")),
            "{told}"
        );
    }
}
