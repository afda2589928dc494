//! `assize history`: the commits that changed what a formula means.

use super::args::{History, HistoryFormat};
use super::exit::Exit;
use super::revisions::{repository, told, usual_folder};
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, history_cut_short};
use crate::formula::{Figure, key};
use crate::history::git::Trouble;
use crate::history::log;

/// Looks a formula's history up, and tells it.
pub fn run(args: &History) -> Exit {
    if let Some(unknown) = args.figures.iter().find(|it| Figure::read(&key(it)).is_none()) {
        return usage(&format!("`{unknown}` is not a figure: write `hydration` or `salt`"));
    }
    match looked_up(args) {
        Ok(Some(history)) => {
            if history.cut_short {
                tell_on_error(&[history_cut_short::finding()], &desk::sources(""));
            }
            streams::output(match args.format {
                HistoryFormat::Text => log::text(&history, &args.figures),
                HistoryFormat::Json => log::json(&history) + "\n",
                HistoryFormat::Csv => log::csv(&history, &args.figures),
                HistoryFormat::Svg => log::svg(&history, &args.figures),
            })
        }
        Ok(None) => usage(&format!("the last commit has no formula `{}`", args.formula)),
        Err(trouble) => told(&trouble),
    }
}

fn looked_up(args: &History) -> Result<Option<log::History>, Trouble> {
    let repository = repository()?;
    let head = repository.commit_of("HEAD")?;
    let since = args.since.as_ref().map(|since| repository.commit_of(since)).transpose()?;
    let folder = usual_folder(Some(&repository));
    log::history(&repository, &folder, &head, &key(&args.formula), since.as_ref())
}
