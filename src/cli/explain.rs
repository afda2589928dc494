//! `assize explain`: the pages of the language, of the house and of the findings.

use super::args::{Explain, ExplainFormat};
use super::asked::{home, loaded};
use super::exit::Exit;
use super::streams;
use super::tell::usage;
use crate::desk::reference::{KINDS, LookupAnswer, NameKind, Near, Reference, ReferenceEntry};
use crate::desk::{self, Disk, root_above};
use crate::print::manual::{hanging, wrapped};
use crate::source::visible;

/// Columns of a page in the terminal.
const WIDTH: usize = 80;
/// Names that hold what was asked for, shown at most.
const MAX_HOLDING: usize = 12;

/// `assize explain`.
pub fn run(args: &Explain) -> Exit {
    // Only a bakehouse has names of its own; in any other folder no file is looked at.
    let Some(root) = root_above(&Disk, &home()) else {
        return told(args, &Reference::built_in(desk::rules()));
    };
    let loaded = match loaded(&[]) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let bakehouses = desk::bakehouses(&loaded);
    let Some(bakehouse) =
        bakehouses.iter().find(|bakehouse| bakehouse.root.as_ref() == Some(&root))
    else {
        return told(args, &Reference::built_in(desk::rules()));
    };
    let trees: Vec<_> = bakehouse.files.iter().map(|file| &file.tree).collect();
    told(args, &Reference::of(&bakehouse.house, &trees, &loaded.sources, desk::rules()))
}

fn told(args: &Explain, reference: &Reference) -> Exit {
    let asked = args.name.join(" ");
    if asked.trim().is_empty() {
        let whole = match args.format {
            ExplainFormat::Text => kinds(reference),
            ExplainFormat::Markdown => reference.markdown(),
            ExplainFormat::Html => reference.html(),
            ExplainFormat::Json => json(&reference.entries().iter().collect::<Vec<_>>()),
        };
        return streams::output(&*visible(&whole));
    }
    let written = match reference.find(&asked) {
        LookupAnswer::List(kind, also) => match args.format {
            ExplainFormat::Json => json(&reference.of_kind(kind).collect::<Vec<_>>()),
            ExplainFormat::Html => {
                return usage(
                    "a list is not written as HTML; leave the name out for the whole reference",
                );
            }
            _ => list(reference, kind, &also),
        },
        LookupAnswer::Pages(pages, told) => match args.format {
            ExplainFormat::Json => json(&pages),
            ExplainFormat::Html => {
                return usage(
                    "one page is not written as HTML; leave the name out for the whole reference",
                );
            }
            _ => pages_of(reference, &asked, &pages, told),
        },
        LookupAnswer::Shown { name, what } => {
            let ask = if what == "formula" {
                "`assize show NAME` shows it"
            } else {
                "`assize show` of a formula that uses it shows it"
            };
            return usage(&format!(
                "`{name}` is a {what} of this bakehouse; {}",
                ask.replace("NAME", name)
            ));
        }
        LookupAnswer::Unknown { near, holding } => return unknown(&asked, &near, &holding),
    };
    streams::output(&*visible(&written))
}

fn json(entries: &[&ReferenceEntry]) -> String {
    let pages: Vec<_> = entries.iter().map(|entry| entry.json()).collect();
    serde_json::Value::Array(pages).to_string() + "\n"
}

/// What can be asked for.
fn kinds(reference: &Reference) -> String {
    let mut out = String::from(
        "assize explain NAME    what a name means: hydration, bulk, bread flour, rye\n\
         assize explain KIND    all names of a kind:\n\n",
    );
    for kind in KINDS {
        let count = reference.of_kind(kind).count();
        let (_, several, what) = kind.words();
        if count > 0 {
            out.push_str(&format!("  {several:12} {count:4}  {what}\n"));
        }
    }
    out.push_str(
        "\nWhere a name means several things, put its kind first: assize explain unit g\n\
         All of it as one page: assize explain --format html > reference.html\n",
    );
    out
}

fn list(reference: &Reference, kind: NameKind, also: &[&ReferenceEntry]) -> String {
    let mut out = String::new();
    for entry in reference.of_kind(kind) {
        let page = &entry.page;
        let place = match entry.kind {
            NameKind::Statement => format!(" ({})", entry.places.join(", ")),
            _ => String::new(),
        };
        let line = match page.line.as_str() {
            "" => page.name.clone(),
            line => format!("{}{place} — {line}", page.name),
        };
        out.push_str(&hanging(&line, WIDTH, 2));
        if !entry.reads.is_empty() && kind != NameKind::Finding {
            out.push_str(&hanging(&format!("  with {}", entry.reads.join(", ")), WIDTH, 4));
        }
    }
    if out.is_empty() {
        out = format!("there are no {} here\n", kind.words().1);
    }
    for entry in also {
        let (kind, name) = (entry.page.kind, &entry.page.name);
        out.push_str(&format!("\n`{name}` is also a {kind}: assize explain {kind} {name}\n"));
    }
    out
}

fn pages_of(
    reference: &Reference,
    asked: &str,
    pages: &[&ReferenceEntry],
    told: Option<String>,
) -> String {
    let mut parts = Vec::new();
    parts.extend(told);
    if let ([first, _, ..], true) = (pages, parts.is_empty()) {
        let kinds: Vec<&str> = pages.iter().map(|entry| entry.page.kind).collect();
        let name = &first.page.name;
        parts.push(format!("`{name}` has {} meanings: {}.", pages.len(), kinds.join(", ")));
    }
    parts.extend(pages.iter().map(|entry| entry.markdown()));
    let holding = reference.holding(&crate::formula::key(asked));
    if !holding.is_empty() && pages.iter().all(|entry| entry.kind != NameKind::Finding) {
        parts.push(holding_told(asked, &holding));
    }
    let parts: Vec<String> = parts.iter().map(|part| wrapped(part.trim_end(), WIDTH)).collect();
    parts.join("\n")
}

fn holding_told(asked: &str, holding: &[&str]) -> String {
    let mut names = holding.iter().take(MAX_HOLDING).copied().collect::<Vec<_>>().join(", ");
    if holding.len() > MAX_HOLDING {
        names.push_str(" …");
    }
    format!("Names with `{asked}` in them: {names}")
}

fn unknown(asked: &str, near: &[Near], holding: &[&str]) -> Exit {
    let offered = near.iter().map(|near| {
        let page = &near.entry.page;
        let ours = if near.name == page.name { String::new() } else { format!(" `{}`", page.name) };
        format!("`{}` ({}{ours})", near.name, page.kind)
    });
    let offered: Vec<String> = offered.collect();
    let mut told = format!("nothing is called `{asked}`");
    match offered.split_last() {
        None => {}
        Some((last, [])) => told.push_str(&format!("; did you mean {last}?")),
        Some((last, others)) => {
            told.push_str(&format!("; did you mean {} or {last}?", others.join(", ")));
        }
    }
    if !holding.is_empty() {
        told.push_str(&format!("\n{}", holding_told(asked, holding)));
    } else if offered.is_empty() {
        told.push_str("; `assize explain` says what can be asked");
    }
    usage(&told)
}
