//! A book on paper: what stands on its pages, where its references lead, whether a screen
//! reader can read it.

use crate::support::{assize, err, folder, out};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use std::fs;
use std::path::Path;

/// A loaf of four lines, in a block with its own words after `dough`.
fn loaf(name: &str, title: &str, flour: &str, info: &str) -> String {
    format!(
        "```dough{info}\nformula {name} \"{title}\" {{\n  makes 2 loaves at 800 g\n  total {{ {flour} 100%; \
         water 70%; salt 2%; fresh yeast 1% }}\n  method {{\n    mix 5min with everything\n    \
         bulk 2h at 25C\n    bake 40min at 230C\n    cool 1h\n  }}\n  expect {{ hydration 70%; \
         salt 2% }}\n}}\n```\n"
    )
}

/// A book with everything that Markdown has.
fn book() -> String {
    let mut text = String::from(
        "<!-- assize: title \"Bread for a Small Harbour\" by \"Ines Calder\"; contents -->\n\n\
         # Before you begin\n\n\
         Words that are *patient*, **strong**, ~~wrong~~ and `typed`[^lamp]. The rye is on page\n\
         [page of quay-rye], the mole in [chapter of mole-loaf]; see [there](#a-table) and\n\
         [elsewhere](https://example.org/gullhaven).\\\nA line of its own[^lamp].\n\n\
         ![A square that is drawn](square.svg)\n\n![A photograph](dots.png)\n\n\
         - One\n- Two\n\n  More of two\n\n3. Three\n4. Four\n\n> Quoted\n\n\
         #### A table\n\n| oven | °C |\n|---|--:|\n| hot | 230 |\n\nLevain\n: A preferment.\n\n\
         ---\n\n```text\ntyped # *so*\n```\n\n<p>Raw &amp; ready</p>\n\n[^lamp]: By *lamp*.\n\n",
    );
    text.push_str("# Breads\n\n## Mole Loaf\n\nTakes [water of mole-loaf] of water.\n\n");
    text.push_str(&loaf("mole-loaf", "Mole Loaf", "bread flour", ""));
    text.push_str("\n## Rye\n\n");
    text.push_str(&loaf("quay-rye", "Quay Rye", "whole rye flour", ""));
    text.push_str("\n# Back matter\n\n<!-- assize: index by ingredient; index by time -->\n\n<!-- assize: claims -->\n");
    text
}

/// A PNG of one dot.
const DOT: &[u8] = &[
    0x89, 0x50, 0x4e, 0x47, 0xd, 0xa, 0x1a, 0xa, 0, 0, 0, 0xd, 0x49, 0x48, 0x44, 0x52, 0, 0, 0, 1,
    0, 0, 0, 1, 8, 6, 0, 0, 0, 0x1f, 0x15, 0xc4, 0x89, 0, 0, 0, 0xd, 0x49, 0x44, 0x41, 0x54, 0x78,
    0xda, 0x63, 0xf8, 0xcf, 0xc0, 0xf0, 0x1f, 0, 5, 0, 1, 0xff, 0x56, 0xc7, 0x2f, 0xd, 0, 0, 0, 0,
    0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82,
];

fn house(at: &Path) {
    let write = |name: &str, bytes: &[u8]| fs::write(at.join(name), bytes).expect("written");
    write("house.dough", b"bakehouse \"Gullhaven Bakehouse\" {}\n");
    write(
        "square.svg",
        b"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"40\"><rect width=\"40\" height=\"40\"/></svg>",
    );
    write("dots.png", DOT);
}

/// Weaves on paper: the file, and the words of each page between single blanks.
fn pages(at: &Path, args: &[&str]) -> (Vec<u8>, Vec<String>, String) {
    let done = assize(at, &[&["weave", "--format", "pdf", "--to", "-"], args].concat());
    let pages = pdf_extract::extract_text_from_mem_by_pages(&done.stdout)
        .unwrap_or_else(|error| panic!("{error}: {}", err(&done)));
    let plain = |page: &String| {
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
        // The reader puts a blank where the face changes.
        [" .", " ,", " :", " ;"].iter().fold(words, |words, sign| words.replace(sign, &sign[1..]))
    };
    (done.stdout.clone(), pages.iter().map(plain).collect(), err(&done))
}

/// The number of the only page, after the first two, that has some words in large type: those
/// that a chapter or a recipe begins with.
fn page_with(pages: &[String], words: &str) -> usize {
    let found: Vec<usize> =
        (2..pages.len()).filter(|at| pages[*at].contains(words)).map(|at| at + 1).collect();
    assert_eq!(found.len(), 1, "{words}: {found:?}\n{pages:#?}");
    found[0]
}

#[test]
fn a_book_on_paper_has_all_that_the_manuscript_has_and_a_screen_reader_reads_it() {
    let folder = folder();
    house(folder.path());
    fs::write(folder.path().join("book.md"), book()).expect("written");
    let (pdf, pages, told) = pages(folder.path(), &["book.md"]);
    assert_eq!(told, "");
    let options = ValidationOptions::default().profile(ValidationProfile::PdfUa1);
    let report = validate_pdf_bytes(&pdf, &options).expect("a PDF");
    assert!(report.is_compliant, "{report}");
    assert!(pages[0].contains("Bread for a Small Harbour") && pages[0].contains("Ines Calder"));
    let all = pages.join(" ");
    for words in [
        "patient",
        "strong",
        "wrong",
        "typed",
        "By lamp.",
        "there",
        "elsewhere",
        "A line of its own",
        "More of two",
        "3. Three",
        "4. Four",
        "Quoted",
        "A table",
        "oven",
        "230",
        "Levain",
        "A preferment.",
        "typed # *so*",
        "Raw & ready",
        "Takes 647",
        "2 loaves",
        "Take care.",
        "hydration 70%: 70 %, proved",
        "salt 2%: 2 %, proved",
    ] {
        assert!(all.contains(words), "{words}\n{pages:#?}");
    }
    assert!(!all.contains("assize:") && !all.contains("[page") && !all.contains('\u{f5a17}'));
    // What leads to a page says which: contents, references, index.
    let mole = page_with(&pages, "Takes 647");
    let rye = page_with(&pages, "Quay Rye2 loaves");
    assert!(pages[1].contains(&format!("Mole Loaf {mole}")), "{}", pages[1]);
    assert!(pages[1].contains(&format!("Quay Rye {rye}")), "{}", pages[1]);
    assert!(all.contains(&format!("on page {rye}, the mole in Mole Loaf;")), "{all}");
    assert!(all.contains(&format!("bread flour Mole Loaf {mole} ")), "{all}");
    assert!(all.contains(&format!("salt Mole Loaf {mole}, Quay Rye {rye}")), "{all}");
    // The same bytes twice, and as a file.
    assert_eq!(self::pages(folder.path(), &["book.md"]).0, pdf);
    let done = assize(folder.path(), &["weave", "book.md", "--format", "pdf"]);
    assert_eq!(out(&done), "woven/book.pdf\n");
    assert_eq!(fs::read(folder.path().join("woven/book.pdf")).expect("there"), pdf);
}

/// Without a word of ours a manuscript has a title page, contents and an index all the same;
/// several manuscripts are one book, and links between them lead inside of it.
#[test]
fn manuscripts_become_one_book_with_contents_and_index() {
    let folder = folder();
    house(folder.path());
    let write =
        |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    write(
        "1.md",
        &format!(
            "# One\n\nSee [two](2.md#quay-rye).\n\n## Mole Loaf\n\n{}",
            loaf("mole-loaf", "Mole Loaf", "bread flour", " table")
        ),
    );
    write(
        "2.md",
        &format!(
            "# Two\n\n## Quay Rye\n\nNot [page of mole-laof].\n\n{}",
            loaf("quay-rye", "Quay Rye", "whole rye flour", " figures")
        ),
    );
    let (pdf, pages, told) = pages(folder.path(), &[]);
    assert_eq!(told.matches("unknown-reference").count(), 1, "{told}");
    assert_eq!(pages[0], "Gullhaven Bakehouse");
    assert!(
        pages[1].starts_with("Contents One 3 Mole Loaf 3 Two 4 Quay Rye 4 Index 5"),
        "{}",
        pages[1]
    );
    assert!(pages[4].contains("bread flour Mole Loaf 3"), "{}", pages[4]);
    assert!(pages[4].contains("salt Mole Loaf 3, Quay Rye 4"), "{}", pages[4]);
    let report =
        validate_pdf_bytes(&pdf, &ValidationOptions::default().profile(ValidationProfile::PdfUa1));
    assert!(report.expect("a PDF").is_compliant);
    let done = assize(folder.path(), &["weave", "--format", "pdf"]);
    assert_eq!(out(&done), "woven/book.pdf\n", "{}", err(&done));
}

/// A page that was typed beside a formula's name is held against the pages that are set.
#[test]
fn a_typed_page_is_told_where_the_formula_stands_on_another_one() {
    let folder = folder();
    house(folder.path());
    let write = |text: &str| fs::write(folder.path().join("book.md"), text).expect("written");
    let ends = |page: &str| {
        format!(
            "{}\n## Afterwards\n\nAs in the mole loaf (see {page}) and [page of quay-rye].\n",
            book()
        )
    };
    write(&ends("page 99"));
    let (_, _, told) = pages(folder.path(), &["book.md"]);
    let right = told.split("`mole-loaf` is on page ").nth(1).unwrap_or_else(|| panic!("{told}"));
    let right: String = right.chars().take_while(char::is_ascii_digit).collect();
    assert!(told.contains("this says page `99`"), "{told}");
    write(&ends(&format!("page {right}")));
    let (_, all, told) = pages(folder.path(), &["book.md"]);
    assert!(!told.contains("this says page"), "{told}");
    assert_eq!(page_with(&all, "Takes 647 g of water").to_string(), right, "{all:#?}");
}

/// Pictures that can't be set are told where they are named, and the book is made.
#[test]
fn a_book_without_one_of_its_pictures_is_still_a_book() {
    let folder = folder();
    house(folder.path());
    let at = folder.path();
    fs::write(at.join("broken.png"), b"no picture").expect("written");
    fs::write(at.join("half.png"), &DOT[..40]).expect("written");
    fs::write(at.join("page.pdf"), b"%PDF").expect("written");
    let text = "# B\n\n![gone](gone.png) ![broken](broken.png) ![half](half.png) ![pdf](page.pdf) \
                ![far](https://example.org/a.png) ![up](../up.png) ![](square.svg)\n";
    fs::write(at.join("b.md"), text).expect("written");
    let (pdf, pages, told) = pages(at, &["b.md"]);
    assert_eq!(told.matches("unknown-picture").count(), 3, "{told}");
    assert_eq!(told.matches("unreadable").count(), 2, "{told}");
    assert!(pages.join(" ").contains("gone broken half pdf far up"), "{pages:#?}");
    let report =
        validate_pdf_bytes(&pdf, &ValidationOptions::default().profile(ValidationProfile::PdfUa1));
    assert!(report.expect("a PDF").is_compliant);
}

/// Whatever Markdown a manuscript holds, it can be set.
#[test]
fn strange_manuscripts_are_set_too() {
    let folder = folder();
    house(folder.path());
    let at = folder.path();
    for (number, text) in [
        "", "\n", "#\n", "###### Deep\n\n# High\n\n#### Deeper\n", "[^a]\n\n[^a]: in itself[^a], and[^b]\n\n[^b]: back[^a]\n",
        "| a |\n|---|\n", "| a | b |\n|:-:|\n| 1 | 2 | 3 |\n", "| x[^n] | y |\n|---|---|\n| 1[^n] | |\n\n[^n]: n\n",
        "> # Quoted heading\n> - in\n>   1. deep\n>      ![](square.svg)\n", "[x](#nowhere) [y](#) [](#x) [z](other.md) <https://example.org>\n",
        "# Same\n\n# Same\n\n[one](#same) [two](#same-1)\n", "-\n-\n\n0. zero\n", "$ # @ < > \\\\ ~ _ ` \" ' [page of] [title of x]\n",
        "<img src=\"square.svg\" alt=\"drawn\"><br><!-- c --><script>let x = 1</script>\n", "a\\\n\\\nb  \nc\n",
        "# [A link](#a-link) in ![a picture](dots.png) heading[^h]\n\n[^h]: Said.\n\ntext\n", "Term\n: a\n: b\n\n  > c\n",
        "<!-- assize: contents; index by style; claims; title \"T\" -->\n", "before <!-- assize: contents --> after\n", "***\n\n---\n\n___\n",
        "a word of 90 letters: lorem-ipsum-dolor-sit-amet-consectetur-adipiscing-elit-sed-do-eiusmod-tempor-incididunt\n",
    ]
    .iter()
    .enumerate()
    {
        fs::write(at.join("s.md"), text).expect("written");
        let (pdf, _, told) = pages(at, &["s.md"]);
        assert!(!told.contains("can't be set"), "{number} {text}: {told}");
        let report = validate_pdf_bytes(&pdf, &ValidationOptions::default().profile(ValidationProfile::PdfUa1)).expect("a PDF");
        assert!(report.is_compliant, "{number} {text}: {report}");
    }
}
