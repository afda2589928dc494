//! `assize new`: a small bakehouse to begin with.

use super::args::New;
use super::exit::Exit;
use super::tell::{tell_on_error, usage};
use super::{streams, write};
use crate::desk::{self, unwritable};
use std::fs;

/// What a new bakehouse holds.
const FILES: [(&str, &str); 3] = [
    ("bakehouse.dough", include_str!("new/bakehouse.dough")),
    ("country-loaf.dough", include_str!("new/country-loaf.dough")),
    ("tin-loaf.dough", include_str!("new/tin-loaf.dough")),
];

/// `assize new`.
pub fn run(args: &New) -> Exit {
    let dir = &args.dir;
    if fs::read_dir(dir).is_ok_and(|entries| entries.count() > 0) {
        return usage(&format!(
            "{} is not empty; name a folder that is not there yet",
            dir.display()
        ));
    }
    if let Err(error) = fs::create_dir_all(dir) {
        let finding = unwritable::finding(&dir.display().to_string(), &desk::why(&error));
        tell_on_error(&[finding], &desk::sources(""));
        return Exit::Findings;
    }
    for (name, text) in FILES {
        if let Err(finding) = write::made(&dir.join(name), text.as_bytes()) {
            tell_on_error(&[*finding], &desk::sources(""));
            return Exit::Findings;
        }
    }
    let plain = dir.display();
    // A name with blanks is one word to the shell only in quotes.
    let shown = plain.to_string();
    let shown = match shown.contains(char::is_whitespace) {
        true => format!("\"{shown}\""),
        false => shown,
    };
    let prints = match shown.strip_suffix('"') {
        Some(open) => format!("{open}/prints\""),
        None => format!("{shown}/prints"),
    };
    streams::sentence(&format!(
        "A small bakehouse is in {plain}. Next:\n  \
         assize check {shown}\n  assize print {shown} --to {prints}\n"
    ))
}
