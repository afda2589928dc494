//! The pages of the findings: each example does what its page says.

use crate::support::{assize, names, out, top};
use assize::testing::desk;
use std::fs;

/// The fenced `dough` blocks of a page, with the word behind the fence's first.
fn blocks(page: &str) -> Vec<(String, String)> {
    let mut blocks = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(info)) => open = Some((info.trim().to_owned(), String::new())),
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some((_, text)), None) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    blocks.retain(|(info, _)| info.starts_with("dough"));
    blocks
}

/// What a block of text can't show.
const WITHOUT_BLOCKS: &[&str] = &[
    "bug-of-ours",
    "day-not-proven",
    "order-late",
    "order-left-out",
    "order-unread",
    "column-unread",
    "days-clash",
    "too-deep",
    "file-too-large",
    "history-cut-short",
    "house-too-large",
    "glyph-missing",
    "needs-a-decision",
    "no-plan",
    "price-doubtful",
    "no-words-for-language",
    "number-in-prose",
    "no-repository",
    "not-understood",
    "not-utf-8",
    "placeholder-empty",
    "print-unknown",
    "repository-unreadable",
    "sheet-out-of-date",
    "table-disagrees",
    "table-refuted",
    "template-slip",
    "unknown-instruction",
    "unknown-reference",
    "unread-fence",
    "unread-file",
    "unreadable",
    "unwritable",
    "words-refused",
    "words-unread",
];

#[test]
fn every_page_has_its_parts_and_its_examples_hold() {
    let mut wrong = Vec::new();
    for rule in desk::rules() {
        for part in ["## What it means", "## Why it matters", "## How to fix", "## See also"] {
            if !rule.page.contains(part) {
                wrong.push(format!("{}: no {part}", rule.name));
            }
        }
        if !rule.page.starts_with(&format!("# {}\n", rule.name)) {
            wrong.push(format!("{}: another heading", rule.name));
        }
        let blocks = blocks(rule.page);
        let of = |word: &str| -> Vec<&String> {
            let wanted = format!("dough {word}");
            blocks.iter().filter(|(info, _)| *info == wanted).map(|(_, text)| text).collect()
        };
        for text in of("bad") {
            let mut raised = names(text);
            raised.dedup();
            // Of two claims that disagree one is refuted too.
            if rule.name == "claims-disagree" {
                raised.retain(|name| *name != "claim-refuted");
            }
            if raised != [rule.name] {
                wrong.push(format!("{}: the bad example raises {raised:?}", rule.name));
            }
        }
        for text in of("good") {
            let raised = names(text);
            if !raised.is_empty() {
                wrong.push(format!("{}: the good example raises {raised:?}", rule.name));
            }
        }
        if of("bad").is_empty() && !WITHOUT_BLOCKS.contains(&rule.name) {
            wrong.push(format!("{}: no bad example", rule.name));
        }
        for other in see_also(rule.page) {
            if !desk::rules().any(|rule| rule.name == other) {
                wrong.push(format!("{}: see also `{other}`, which is none", rule.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn see_also(page: &str) -> Vec<&str> {
    let behind = page.split("## See also").nth(1).unwrap_or("");
    behind.split('`').skip(1).step_by(2).collect()
}

/// The pages in one file, for reading and searching.
#[test]
fn the_collected_reference_is_current() {
    let mut all = String::from(
        "<!-- Made from the pages beside the rules; rewrite with ASSIZE_REWRITE=1 cargo test --release -->\n<!-- assize: off -->\n\n# Findings\n\n",
    );
    for rule in desk::rules() {
        all.push_str(&format!("- [{}](#{})\n", rule.name, rule.name));
    }
    for rule in desk::rules() {
        all.push('\n');
        for line in rule.page.trim_end().lines() {
            // What a page shows as bad is no formula of the bakehouse that the file lies in.
            let line = if line.starts_with("```dough") { "```dough no-check" } else { line };
            // One level down, below the heading of the whole.
            if line.starts_with('#') && !line.starts_with("####") {
                all.push('#');
            }
            all.push_str(line);
            all.push('\n');
        }
    }
    let path = top().join("examples/mistakes/FINDINGS.md");
    if std::env::var_os("ASSIZE_REWRITE").is_some() {
        fs::create_dir_all(path.parent().expect("a parent")).expect("made");
        fs::write(&path, &all).expect("written");
    }
    let written = fs::read_to_string(&path).unwrap_or_default();
    assert!(written == all, "stale; run the tests once with ASSIZE_REWRITE=1");
}

#[test]
fn explain_prints_a_page_or_offers_one() {
    let page = assize(&top(), &["explain", "flour-not-100"]);
    assert!(out(&page).starts_with("# flour-not-100\n"));
    let slip = assize(&top(), &["explain", "flour-not-10"]);
    assert_eq!(slip.status.code(), Some(2));
    let list = out(&assize(&top(), &["explain", "findings"]));
    assert!(
        desk::rules().all(
            |rule| list.contains(&format!("\n{} — ", rule.name)) || list.starts_with(rule.name)
        )
    );
}
