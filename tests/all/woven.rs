//! A book woven: blocks, brackets, placeholders, and everything else as it was.

use crate::diff::{commit, git, write};
use crate::support::{assize, err, folder, out};
use std::fs;
use std::path::Path;

const BOOK: &str =
    "<!-- assize: title \"Bread for a Small Harbour\" by \"Ines Calder\"; contents -->

## Pier Loaf

![A loaf of 9 g](loaf.png) It takes [water] of water[^1], and the [title of quay-loaf]
takes [water of quay-loaf]: [hydration of quay-loaf]. Not this [sic], nor [a link](x.md).

```dough
formula pier-loaf \"Pier Loaf\" {
  style tin loaf
  dough { bread flour 500 g; water 350 g; salt 10 g; fresh yeast 5 g }
  expect { hydration 70% }
}
```

[^1]: Cold.

## Quay Loaf

```dough figures
formula quay-loaf \"Quay Loaf\" {
  dough { bread flour 500 g; water 300 g; salt 10 g; fresh yeast 5 g }
}
```

## Back matter

<!-- assize: index by ingredient; claims -->
<!-- the author's own -->
";

/// A picture of one brown dot, as PNG.
const DOT: &[u8] = b"\x89\x50\x4e\x47\x0d\x0a\x1a\x0a\x00\x00\x00\x0d\x49\x48\x44\x52\x00\x00\x00\x01\x00\x00\x00\x01\x08\x02\x00\x00\x00\x90\x77\x53\xde\x00\x00\x00\x0c\x49\x44\x41\x54\x78\x9c\x63\xe8\x48\x73\x01\x00\x02\xac\x01\x33\x30\xcd\x12\x85\x00\x00\x00\x00\x49\x45\x4e\x44\xae\x42\x60\x82";

fn woven(at: &Path, args: &[&str]) -> (Option<i32>, String, String) {
    let done = assize(at, &[&["weave", "book.md", "--to", "-"], args].concat());
    (done.status.code(), out(&done), err(&done))
}

#[test]
fn a_book_is_woven_and_what_is_not_ours_stays() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\nstyle tin loaf { salt 1%..3% }\n");
    fs::write(at.join("loaf.png"), DOT).expect("written");
    write("book.md", BOOK);
    let (code, text, told) = woven(at, &[]);
    assert_eq!((code, told.as_str()), (Some(0), ""), "{text}");
    for wanted in [
        "# Bread for a Small Harbour\n\nInes Calder\n\n- [Pier Loaf](book.md#pier-loaf)\n- [Quay Loaf](book.md#quay-loaf)\n",
        "![A loaf of 9 g](loaf.png) It takes 350 g of water[^1], and the Quay Loaf\ntakes 300 g: 60 %. Not this [sic], nor [a link](x.md).\n",
        "[^1]: Cold.\n",
        "- Hydration: 60 %\n",
        "- bread flour: [Pier Loaf](book.md#pier-loaf), [Quay Loaf](book.md#quay-loaf)\n",
        "- [Pier Loaf](book.md#pier-loaf): hydration 70%: 70 %, proved\n",
        "<!-- the author's own -->\n",
    ] {
        assert!(text.contains(wanted), "{wanted}\n---\n{text}");
    }
    let row = |text: &str, name: &str, percent: &str| {
        let mut lines = text.lines();
        lines.any(|line| {
            line.starts_with(&format!("| {name} | "))
                && line.ends_with(&format!(" g | {percent} |"))
        })
    };
    assert!(row(&text, "bread flour", "100") && row(&text, "water", "70"), "{text}");
    assert!(!text.contains("```") && !text.contains("assize:"), "{text}");
    // The source may stay, or nothing.
    assert!(woven(at, &["--blocks", "source"]).1.contains("```dough\nformula pier-loaf"));
    assert!(!woven(at, &["--blocks", "nothing"]).1.contains("| water |"));
    assert!(row(&woven(at, &["--language", "fr"]).1, "eau", "70"));
    // Into a folder, and never over the book itself.
    let done = assize(at, &["weave", "book.md"]);
    assert_eq!(out(&done), "woven/book.md\n");
    assert_eq!(fs::read_to_string(at.join("woven/book.md")).expect("there"), text);
    assert_eq!(assize(at, &["weave", "book.md", "--to", "."]).status.code(), Some(2));
}

#[test]
fn a_bracket_that_names_a_formula_and_asks_for_nothing_is_told() {
    let folder = folder();
    let write =
        |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\nstyle tin loaf { salt 1%..3% }\n");
    fs::write(folder.path().join("loaf.png"), DOT).expect("written");
    write("book.md", &BOOK.replace("[water of quay-loaf]", "[wter of quay-loaf]"));
    let (code, text, told) = woven(folder.path(), &[]);
    assert_eq!(code, Some(1));
    assert!(text.contains("takes [wter of quay-loaf]: 60 %."), "{text}");
    assert!(told.contains("unknown-figure") && told.contains("`wter of quay-loaf`"), "{told}");
    // Without a name it is the author's own.
    write("book.md", &BOOK.replace("[water] of", "[watr] of"));
    let (code, text, _) = woven(folder.path(), &[]);
    assert_eq!(code, Some(0));
    assert!(text.contains("It takes [watr] of water"), "{text}");
}

/// The values of an attribute of a page, in order.
fn values<'p>(page: &'p str, attribute: &str) -> Vec<&'p str> {
    let mark = format!(" {attribute}=\"");
    page.split(mark.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

/// A page for a browser: cards in the text, pictures in the page, footnotes that lead there
/// and back, every link inside of it to a place that is there once.
#[test]
fn a_book_becomes_a_page_with_cards_pictures_and_footnotes() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\nstyle tin loaf { salt 1%..3% }\n");
    write(
        "book.md",
        &format!("{BOOK}\n# Pier Loaf\n\n| a | b |\n|---|--:|\n| & | 1 |\n\n- [ ] x\n"),
    );
    fs::write(at.join("loaf.png"), DOT).expect("written");
    let done = assize(at, &["weave", "book.md", "--format", "html"]);
    assert_eq!((out(&done).as_str(), err(&done).as_str()), ("woven/book.html\n", ""));
    let page = fs::read_to_string(at.join("woven/book.html")).expect("there");
    for wanted in [
        "<html lang=\"en\">",
        "<title>Bread for a Small Harbour</title>",
        "<h1 id=\"bread-for-a-small-harbour\">Bread for a Small Harbour</h1>",
        "<h2 id=\"pier-loaf\">Pier Loaf</h2>",
        "<h1 id=\"pier-loaf-1\">Pier Loaf</h1>",
        "<a href=\"book.html#quay-loaf\">Quay Loaf</a>",
        "<section class=\"recipe\" lang=\"en\" aria-label=\"Pier Loaf\">",
        "alt=\"A loaf of 9 g\"",
        "src=\"data:image/png;base64,",
        "role=\"doc-noteref\"",
        "role=\"doc-endnotes\"",
        "<th scope=\"row\">&amp;</th>",
        "<td class=\"n\">1</td>",
        "350\u{a0}g of water",
        "<!-- the author's own -->",
    ] {
        assert!(page.contains(wanted), "{wanted}\n---\n{page}");
    }
    assert!(!page.contains("<!-- card") && !page.contains("assize:"), "{page}");
    // One block is a card, the other asked for its figures.
    assert_eq!(page.matches("<section class=\"recipe\"").count(), 1);
    let ids = values(&page, "id");
    let once: std::collections::BTreeSet<&&str> = ids.iter().collect();
    assert_eq!(once.len(), ids.len(), "{ids:?}");
    for link in values(&page, "href").into_iter().filter_map(|link| link.strip_prefix('#')) {
        assert!(ids.contains(&link), "{link}: {ids:?}");
    }
    // With tables instead, and the same bytes twice.
    let tables = || {
        out(&assize(
            at,
            &["weave", "book.md", "--format", "html", "--blocks", "table", "--to", "-"],
        ))
    };
    assert!(
        !tables().contains("class=\"recipe\"") && tables().contains("<th scope=\"row\">water</th>")
    );
    assert_eq!(tables(), tables());
    // In Markdown a card has the method, and pictures lie beside the text.
    let cards = woven(at, &["--blocks", "card"]).1;
    assert!(cards.contains("| water | 350 g | 70 |"), "{cards}");
    assize(at, &["weave", "book.md"]);
    assert!(at.join("woven/loaf.png").exists());
}

/// Brackets that lead to formulas which are not there are told, by `check` too.
#[test]
fn references_that_lead_nowhere_are_told() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    let book = "## Pier Loaf\n\nSee [title of quay-laof], page [page of pier-loaf], [chapter of pier-loaf], \\[page of the old book].\n\n```dough\nformula pier-loaf \"Pier Loaf\" {\n  dough { bread flour 500 g; water 350 g; salt 10 g; fresh yeast 5 g }\n}\nformula quay-loaf \"Quay Loaf\" {\n  dough { bread flour 500 g; water 300 g; salt 10 g; fresh yeast 5 g }\n}\n```\n";
    write("book.md", book);
    let done = assize(at, &["check", "book.md", "--format", "short"]);
    assert_eq!(
        out(&done),
        "book.md:3:5: warning[unknown-reference]: this leads nowhere: no formula is called `quay-laof`\n2 formulas: 1 warning\n"
    );
    let (code, text, told) = woven(at, &[]);
    assert_eq!(code, Some(0), "{told}");
    assert!(
        text.contains(
            "See [title of quay-laof], page [Pier Loaf](book.md#pier-loaf), Pier Loaf, \\[page"
        ),
        "{text}"
    );
    assert_eq!(told.matches("unknown-reference").count(), 1, "{told}");
}

/// A block inside a quotation or a list is a table inside of it, and what follows it goes on
/// there: the same blocks hold the same words before and after.
#[test]
fn a_table_stays_inside_what_its_block_is_in() {
    let folder = folder();
    let at = folder.path();
    let block = [
        "```dough",
        "formula NAME \"NAME Loaf\" { makes 1 loaf at 800 g; total { bread flour 100%; water 65%; salt 2%; fresh yeast 1% } }",
        "```",
    ];
    let inside = |first: &str, lead: &str, name: &str| {
        let lines = block.iter().enumerate();
        let line = |(index, line): (usize, &&str)| {
            format!("{}{}\n", if index == 0 { first } else { lead }, line.replace("NAME", name))
        };
        lines.map(line).collect::<String>()
    };
    let text = format!(
        "# Book\n\n> Before.\n>\n{}>\n> After the quoted.\n\n1. One.\n\n{}\n   More of one.\n2. Two.\n\n- {}\n  Last.\n",
        inside("> ", "> ", "alder"),
        inside("   ", "   ", "birch"),
        inside("", "  ", "cedar"),
    );
    fs::write(at.join("book.md"), text).expect("written");
    let (code, woven, told) = woven(at, &[]);
    assert_eq!((code, told.as_str()), (Some(0), ""), "{woven}");
    assert_eq!(woven.matches("bread flour").count(), 3, "{woven}");
    for line in woven.lines().filter(|line| line.contains('|')) {
        let is_inside =
            line.starts_with("> |") || line.starts_with("   |") || line.starts_with("  |");
        assert!(is_inside, "{line}\n---\n{woven}");
    }
    let quoted: Vec<&str> = woven.lines().skip_while(|line| !line.starts_with('>')).collect();
    let quoted = quoted.iter().take_while(|line| line.starts_with('>'));
    assert!(quoted.last().is_some_and(|line| line.contains("After the quoted")), "{woven}");
    for line in ["   More of one.", "2. Two.", "  Last."] {
        assert!(woven.contains(line), "{line}\n---\n{woven}");
    }
}

/// What a booklet prints stands in a book too, in every form; what is wrong with it is told by
/// `check` as well.
#[test]
fn a_book_places_what_a_booklet_prints() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\nstyle tin loaf { salt 1%..3% }\n");
    fs::write(at.join("loaf.png"), DOT).expect("written");
    let with = |placed: &str| {
        write(
            "book.md",
            &format!("{BOOK}\n# More\n\nHeat it to 230 °C.\n\n<!-- assize: {placed} -->\n"),
        );
    };
    for (placed, wanted) in [
        (
            "reckoner temperatures",
            &["**Temperatures**\n\n| °C | °F |\n|---|---:|\n| 230 °C | 446 °F |\n"][..],
        ),
        ("reckoner weights", &["| 500 g | 17.64 oz | 1 lb 1⅝ oz |", "| 350 g | "]),
        ("reckoner volumes", &["| water | ", "| salt | "]),
        ("reckoner volumes of honey", &["| honey | "]),
        (
            "reckoner pier-loaf from 500 g..1 kg flour every 500 g",
            &["500 g of flour", "1 kg of flour"],
        ),
        ("reckoner yeast from 5 g..10 g every 5 g", &["| 5 g | ", "| 10 g | "]),
        ("compare pier-loaf, quay-loaf", &["Pier Loaf", "Quay Loaf"]),
        ("compare pier-loaf with water 65%, 70%", &["65 %"]),
        ("shopping", &["bread flour", "1.000 kg"]),
        (
            "glossary { windowpane \"a piece of dough; pulled thin\" }",
            &["windowpane\n: a piece of dough; pulled thin\n"],
        ),
        ("card quay-loaf for 2 kg dough", &["| water | 736"]),
        ("table quay-loaf", &["| water | 300 g | 60 |"]),
        ("page; reckoner temperatures", &["446 °F"]),
    ] {
        with(placed);
        let (code, text, told) = woven(at, &[]);
        assert_eq!(told, "", "{placed}");
        assert_eq!(code, Some(0), "{placed}");
        let (_, added) = text.split_once("# More\n").expect("there");
        let missing: Vec<&&str> = wanted.iter().filter(|it| !added.contains(**it)).collect();
        assert!(missing.is_empty(), "{placed}: {missing:?} {added}");
        let done = assize(at, &["check", "book.md"]);
        assert_eq!(done.status.code(), Some(0), "{placed}: {}", out(&done));
        for format in ["html", "pdf"] {
            let done = assize(at, &["weave", "book.md", "--format", format, "--to", "out"]);
            assert_eq!(done.status.code(), Some(0), "{placed} {format}: {}", err(&done));
        }
    }
    for (placed, rule) in [
        ("reckoner", "incomplete-statement"),
        ("reckoner moel-loaf for 2 loaves", "unknown-formula"),
        ("compare pier-loaf", "incomplete-statement"),
        ("reckoner temperatures from 0C", "incomplete-statement"),
        ("recknoer temperatures", "unknown-instruction"),
    ] {
        with(placed);
        let done = assize(at, &["check", "book.md"]);
        assert_eq!(done.status.code(), Some(1), "{placed}: {}", out(&done));
        assert!(out(&done).contains(rule), "{placed}: {}", out(&done));
    }
}

/// A book sets a formula beside what it was at a revision; where there is none, that is told.
#[test]
fn a_book_compares_a_formula_with_what_it_was() {
    let folder = folder();
    let at = folder.path();
    let text = format!("{BOOK}\n# More\n\n<!-- assize: compare pier-loaf since \"HEAD\" -->\n");
    let house = "bakehouse \"Gullhaven Bakehouse\" {}\nstyle tin loaf { salt 1%..3% }\n";
    write(at, "house.dough", house);
    fs::write(at.join("loaf.png"), DOT).expect("written");
    write(at, "book.md", &text);
    let (_, _, told) = woven(at, &[]);
    assert!(told.contains("its files are in no git repository"), "{told}");
    git(at, &["init", "-q"]);
    commit(at, "The pier loaf");
    write(at, "book.md", &text.replace("water 350 g", "water 370 g").replace("70%", "74%"));
    let (code, text, told) = woven(at, &[]);
    assert_eq!((code, told.as_str()), (Some(0), ""), "{text}");
    let (_, added) = text.split_once("# More\n").expect("there");
    assert!(added.contains("| 70 |") && added.contains("| 74 |"), "{added}");
    let done = assize(at, &["check", "book.md"]);
    assert_eq!(done.status.code(), Some(0), "{}", out(&done));
}

/// A place that nothing stands for is told, by both commands.
#[test]
fn a_place_for_what_the_book_has_not_got_is_told() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    let plain = "```dough\nformula pier-loaf \"Pier Loaf\" {\n  dough { bread flour 500 g; water 350 g; salt 10 g; fresh yeast 5 g }\n}\n```\n";
    for (block, placed, is_told) in [
        (plain, "index by style", true),
        (plain, "index by time", true),
        (plain, "claims", true),
        (plain, "contents", false),
        (plain, "index by ingredient", false),
        ("", "contents", true),
        ("", "index by ingredient", true),
    ] {
        write("book.md", &format!("# Pier Loaf\n\n{block}\n# Back\n\n<!-- assize: {placed} -->\n"));
        let done = assize(at, &["check", "book.md"]);
        assert_eq!(out(&done).contains("placeholder-empty"), is_told, "{placed}: {}", out(&done));
        let (_, _, told) = woven(at, &[]);
        assert_eq!(told.contains("placeholder-empty"), is_told, "{placed}: {told}");
    }
}

/// A chapter without a formula is of the book too, wherever the book is asked for by its folder;
/// what was woven from it is no manuscript again.
#[test]
fn a_foreword_is_woven_and_what_was_woven_is_not() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    fs::create_dir_all(at.join("book")).expect("made");
    let loaf = |name: &str| {
        format!(
            "# {name}\n\n```dough\nformula {name} {{\n  dough {{ bread flour 500 g; water 300 g; salt 10 g; fresh yeast 5 g }}\n}}\n```\n"
        )
    };
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    write("notes.md", "# Notes\n\nNot of the book.\n");
    write("book/00-preface.md", "# Preface\n\nWe bake by the harbour.\n");
    write("book/01-pier.md", &loaf("pier-loaf"));
    write("book/02-quay.md", &loaf("quay-loaf"));
    write("book/99-words.md", "# Words\n\nA levain is a preferment.\n");
    write("book/README.md", "# For those who write it\n");
    for args in [vec!["weave"], vec!["weave", "book"], vec!["weave", "."]] {
        let done = assize(at, &[args.as_slice(), &["--to", "-"]].concat());
        let text = out(&done);
        let place = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words}: {text}"));
        assert!(place("We bake by the harbour") < place("# pier-loaf"), "{text}");
        assert!(place("# quay-loaf") < place("A levain is a preferment"), "{text}");
        assert!(!text.contains("Not of the book") && !text.contains("who write it"), "{text}");
    }
    let named = out(&assize(at, &["weave", "book/01-pier.md", "--to", "-"]));
    assert!(!named.contains("harbour"), "{named}");
    // Woven with its blocks, it would declare each formula once more.
    let done = assize(at, &["weave", "--blocks", "source", "--to", "out"]);
    assert_eq!(out(&done).lines().count(), 4, "{}", err(&done));
    let checked = assize(at, &["check"]);
    assert_eq!(out(&checked), "2 formulas, no findings\n");
    let again = assize(at, &["weave", "--to", "-"]);
    assert_eq!(out(&again).matches("# pier-loaf").count(), 1, "{}", out(&again));
}

/// Chapters of one name in two folders stay two; two that would be one page are refused.
#[test]
fn no_chapter_takes_the_place_of_another() {
    let chapter = |name: &str| {
        format!(
            "# {name}\n\n```dough\nformula {} \"{name}\" {{\n  makes 2 loaves at 500 g\n  total {{ bread flour 100%; water 70%; salt 2%; fresh yeast 1% }}\n}}\n```\n",
            name.to_lowercase()
        )
    };
    for (form, end) in [("markdown", "md"), ("html", "html")] {
        let folder = folder();
        let at = folder.path();
        for part in ["one", "two"] {
            fs::create_dir_all(at.join(part)).expect("a folder");
            fs::write(at.join(part).join("intro.md"), chapter(part)).expect("written");
        }
        fs::write(at.join("two/last.md"), chapter("Last")).expect("written");
        let done = assize(at, &["weave", "--format", form, "--to", "w"]);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        for name in ["one/intro", "two/intro", "two/last"] {
            let path = at.join(format!("w/{name}.{end}"));
            let text = fs::read_to_string(&path).unwrap_or_default();
            let own = name.rsplit('/').next_back().expect("its folder");
            assert!(text.contains(own) || name == "two/last", "{name}: {text}");
        }
        // Alone each has its own name.
        let done = assize(at, &["weave", "two/last.md", "--format", form, "--to", "v"]);
        assert!(out(&done).contains(&format!("last.{end}")) && !out(&done).contains("two"));
    }
    let folder = folder();
    let at = folder.path();
    fs::write(at.join("a.md"), chapter("One")).expect("written");
    fs::write(at.join("a.markdown"), chapter("Two")).expect("written");
    let done = assize(at, &["weave", "--format", "html", "--to", "w"]);
    assert_eq!(done.status.code(), Some(2), "{}", err(&done));
    assert!(err(&done).contains("would be written to one file"), "{}", err(&done));
    assert!(!at.join("w").exists());
}

/// What can't be read, and a merge that is not settled, is told where the book is woven too.
#[test]
fn a_book_that_cannot_be_read_is_told_when_it_is_woven() {
    let block = "```dough\nformula m \"M\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n```\n";
    let merge = "<<<<<<< HEAD\nBake at 230 °C.\n=======\nBake at 210 °C.\n>>>>>>> b\n";
    let cases = [
        (format!("# M\n\n{merge}\n{block}"), "unresolved-merge"),
        (format!("# M\n\n{}", block.replace("\n}\n```", "\n```")), "unclosed-block"),
        (
            format!("# M\n\n{}", block.replace("  makes 2 loaves at 500 g\n", "<<<<<<< HEAD\n  makes 2 loaves at 500 g\n=======\n  makes 3 loaves at 500 g\n>>>>>>> b\n")),
            "unresolved-merge",
        ),
    ];
    for (text, rule) in cases {
        let folder = folder();
        let at = folder.path();
        fs::write(at.join("m.md"), &text).expect("written");
        for args in
            [&["check"][..], &["weave", "--to", "w"], &["weave", "--format", "html", "--to", "w"]]
        {
            let done = assize(at, args);
            let told = out(&done) + &err(&done);
            assert_eq!(done.status.code(), Some(1), "{args:?}: {told}");
            assert_eq!(
                told.matches(&format!("\n{rule}")).count() + usize::from(told.starts_with(rule)),
                1,
                "{args:?}: {told}"
            );
        }
    }
    // What other code shows is no merge.
    let shown = format!("# M\n\n```text\n{merge}```\n\n{block}");
    let folder = folder();
    fs::write(folder.path().join("m.md"), shown).expect("written");
    let done = assize(folder.path(), &["check"]);
    assert_eq!(done.status.code(), Some(0), "{}", out(&done));
}

/// The mark that some editors put before a text belongs to none of its lines.
#[test]
fn a_mark_before_a_chapter_hides_nothing() {
    let block = "```dough\nformula m \"M\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n```\n";
    for text in [
        block.to_owned(),
        format!("# P\n\n{block}"),
        format!(
            "<!-- assize: off -->\n\nIt takes 999 g of water.\n\n<!-- assize: on -->\n\n{block}"
        ),
    ] {
        let folder = folder();
        let at = folder.path();
        fs::write(at.join("m.md"), format!("\u{feff}{text}")).expect("written");
        let done = assize(at, &["check"]);
        assert_eq!(out(&done), "1 formula, no findings\n", "{text}");
        let done = assize(at, &["weave", "--format", "html", "--to", "-"]);
        assert!(
            !out(&done).contains("# P") && out(&done).contains("aria-label=\"M\""),
            "{}",
            out(&done)
        );
    }
}

/// Chapters of a folder are woven also where all its formulas stand in files of their own.
#[test]
fn chapters_without_a_block_are_woven_where_formulas_have_files_of_their_own() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    fs::create_dir_all(at.join("book")).expect("made");
    write(
        "house.dough",
        "bakehouse \"Gullhaven Bakehouse\" {}\nformula pier-loaf {\n  dough { bread flour 500 g; water \
         300 g; salt 10 g; fresh yeast 5 g }\n}\n",
    );
    write("pier.md", "# Pier\n\nBaked by the harbour.\n");
    write("README.md", "# For those who write it\n");
    write("book/quay.md", "# Quay\n\nBaked on the quay.\n");
    for (args, has) in
        [(&["weave"][..], "harbour"), (&["weave", "."], "harbour"), (&["weave", "book"], "quay.")]
    {
        let done = assize(at, &[args, &["--to", "-"]].concat());
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
        let text = out(&done);
        assert!(text.contains(has) && !text.contains("who write it"), "{args:?}: {text}");
    }
}

/// However deep words stand in a manuscript, and whatever nobody sees is among them, they are
/// woven, on paper too.
#[test]
fn what_is_deep_or_has_odd_letters_is_woven() {
    let book = "# Book\n\n```dough\nformula k \"K\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n```\n\n";
    let listed: String =
        (0..70).map(|at| format!("{}- L{at} of seventy\n", "  ".repeat(at))).collect();
    let texts = [
        listed,
        format!("{}L69 of seventy\n", "> ".repeat(300)),
        format!("{}L69 of seventy\n", "> - ".repeat(80)),
        format!("{}L69 of seventy\n", "1. ".repeat(80)),
        "L69\u{1b} of\u{8} sev\u{1}enty \u{202e}\n".to_owned(),
    ];
    for text in texts {
        let folder = folder();
        let at = folder.path();
        fs::write(at.join("book.md"), format!("{book}{text}")).expect("written");
        for form in ["html", "pdf"] {
            let done = assize(at, &["weave", "--format", form, "--to", "-"]);
            assert_eq!(done.status.code(), Some(0), "{form} {text}: {}", err(&done));
            let shown = match form {
                "pdf" => pdf_extract::extract_text_from_mem(&done.stdout).expect("a PDF"),
                _ => out(&done),
            };
            assert!(shown.contains("L69 of seventy"), "{form} {text}");
            assert!(!shown.contains(['\u{202e}', '\u{1b}', '\u{8}']), "{form} {text}");
        }
    }
}

/// Of many chapters each page has its own at its head.
#[test]
fn each_page_of_a_book_has_its_chapter_at_its_head() {
    let folder = folder();
    let at = folder.path();
    let mut book = "# Book\n\n```dough\nformula k \"K\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n```\n\n".to_owned();
    for chapter in 0..30 {
        let words = "Words of the quay. ".repeat(260);
        book += &format!("## Chapter {}\n\n{words}\n\n", crate::support::letters(chapter));
    }
    fs::write(at.join("book.md"), book).expect("written");
    let done = assize(at, &["weave", "--format", "pdf", "--to", "-"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let pages = pdf_extract::extract_text_from_mem_by_pages(&done.stdout).expect("a PDF");
    let names: Vec<String> =
        (0..30).map(|it| format!("Chapter {}", crate::support::letters(it))).collect();
    let (mut now, mut heads) = (None, 0);
    for page in pages {
        let told = page.lines().filter_map(|it| names.iter().position(|name| name == it.trim()));
        // The list of contents has them all.
        let [chapter] = told.collect::<Vec<_>>()[..] else { continue };
        heads += usize::from(now == Some(chapter));
        assert!(now == Some(chapter) || chapter == now.map_or(0, |it| it + 1), "{now:?}: {page}");
        now = Some(chapter);
    }
    assert_eq!(now, Some(29));
    assert!(heads > 20, "{heads}");
}

/// A picture may lie anywhere in the bakehouse; one that is not there, or is none, is told.
#[test]
fn pictures_of_other_folders_are_woven_and_missing_ones_told() {
    let book = "# C\n\n![a](../pics/x.png) and ![b](PICTURE)\n\n```dough\nformula k \"K\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n```\n";
    for form in ["markdown", "html", "pdf"] {
        for (picture, told) in [
            ("../pics/x.png", ""),
            ("no.png", "`no.png` can't be read: it is not there"),
            ("no-picture.png", "`no-picture.png` is not a picture that can be printed"),
            ("../../away.png", "`../../away.png` can't be read"),
        ] {
            let folder = folder();
            let at = folder.path().join("house");
            fs::create_dir_all(at.join("ch")).expect("a folder");
            fs::create_dir_all(at.join("pics")).expect("a folder");
            fs::write(at.join("h.dough"), "bakehouse \"Gullhaven Bakehouse\" {}\n")
                .expect("written");
            fs::write(at.join("pics/x.png"), DOT).expect("written");
            fs::write(folder.path().join("away.png"), DOT).expect("written");
            fs::write(at.join("ch/no-picture.png"), "none").expect("written");
            fs::write(at.join("ch/c.md"), book.replace("PICTURE", picture)).expect("written");
            let done = assize(&at, &["weave", "ch/c.md", "--format", form, "--to", "w"]);
            let said = err(&done);
            assert_eq!(done.status.code(), Some(0), "{form} {picture}: {said}");
            assert!(said.is_empty() == told.is_empty() && said.contains(told), "{form}: {said}");
            match form {
                "markdown" => {
                    let text = fs::read_to_string(at.join("w/c.md")).expect("there");
                    assert!(text.contains("](pics/x.png)"), "{text}");
                    assert_eq!(fs::read(at.join("w/pics/x.png")).expect("there"), DOT);
                }
                "html" => {
                    let page = fs::read_to_string(at.join("w/c.html")).expect("there");
                    assert!(page.contains("data:image/png;base64,iVBOR"), "{picture}");
                }
                _ => {}
            }
        }
    }
}
