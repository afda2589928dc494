//! `assize fmt`: the canonical layout of files.

use super::args::Fmt;
use super::asked::loaded;
use super::exit::Exit;
use super::tell::tell_on_error;
use super::{streams, write};
use crate::desk::is_manuscript;
use crate::source::{is_unseen, one_line, visible};
use crate::syntax::{Untouched, format, manuscript};
use std::borrow::Cow;
use std::path::Path;

/// `assize fmt`.
pub fn run(args: &Fmt) -> Exit {
    let loaded = match loaded(&args.paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    tell_on_error(&loaded.findings, &loaded.sources);
    let mut exit = if loaded.is_whole() { Exit::Clean } else { Exit::Findings };
    let (mut changed, mut unwritten) = (0, Vec::new());
    for file in loaded.asked_for() {
        let Some(source) = loaded.sources.get(file.source) else { continue };
        let from_input = file.path == Path::new("-");
        let laid_out = match is_manuscript(&file.path) {
            // A formula may run over several blocks.
            true => {
                Ok(manuscript::rewrite(&source.text, |inside| format(file.source, inside).ok()))
            }
            false => format(file.source, &source.text),
        };
        let laid_out = match laid_out {
            Ok(laid_out) => laid_out,
            Err(why) => {
                let name = visible(&source.name);
                streams::error_text(format!("assize: {name} is left as it is: {}\n", reason(why)));
                exit = exit.max(Exit::Findings);
                if from_input && !args.check {
                    exit = exit.max(streams::output(source.text.as_bytes()));
                }
                continue;
            }
        };
        let differs = laid_out != *source.text;
        if from_input && !args.check {
            exit = exit.max(streams::output(laid_out));
        } else if differs && args.check {
            streams::sentence(&format!("{} would be reformatted\n", name_of(&source.name)));
            exit = exit.max(Exit::Findings);
        } else if differs {
            if let Err(finding) = write::whole(&file.path, laid_out.as_bytes()) {
                unwritten.push(*finding);
                exit = exit.max(Exit::Findings);
                continue;
            }
            let left_out = match unseen(&source.text).saturating_sub(unseen(&laid_out)) {
                0 => String::new(),
                1 => ", with a letter that nobody sees removed".to_owned(),
                many => format!(", with {many} letters that nobody sees removed"),
            };
            streams::sentence(&format!("{} reformatted{left_out}\n", name_of(&source.name)));
        }
        changed += usize::from(differs);
    }
    tell_on_error(&unwritten, &loaded.sources);
    if changed == 0 && exit == Exit::Clean && !args.paths.iter().any(|path| path == Path::new("-"))
    {
        exit = streams::output("nothing to reformat\n");
    }
    exit
}

/// How many letters of a text nobody sees; blanks of all kinds and the ends of lines are none.
fn unseen(text: &str) -> usize {
    text.chars()
        .filter(|letter| is_unseen(*letter) && !matches!(letter, '\n' | '\r' | '\t'))
        .count()
}

fn reason(why: Untouched) -> &'static str {
    match why {
        Untouched::Open => "a block or a text in it does not close; `assize check` says where",
        Untouched::Unmerged => "a merge in it is not finished; `assize check` says where",
    }
}

/// How a source is called in a sentence.
fn name_of(name: &str) -> Cow<'_, str> {
    if name == "-" { Cow::Borrowed("standard input") } else { one_line(name) }
}
