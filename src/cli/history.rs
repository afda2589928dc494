//! `assize history`: the commits that changed what a formula means.

use super::args::{History, HistoryFormat};
use super::exit::Exit;
use super::revisions::{From, repository, told, usual_folder};
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, history_cut_short};
use crate::diag::nearest;
use crate::formula::{Figure, key};
use crate::history::git::Trouble;
use crate::history::log;

/// Looks a formula's history up, and tells it.
pub fn run(args: &History) -> Exit {
    if let Some(unknown) = args.figures.iter().find(|it| Figure::read(&key(it)).is_none()) {
        let near = nearest(&key(unknown), Figure::names());
        let near = near.map(|near| format!("did you mean `{near}`?"));
        let near = near.unwrap_or_else(|| {
            "it is one that prints show, such as `hydration`, `salt`, `water` or `flour`".to_owned()
        });
        return usage(&format!("`{unknown}` is not a figure: {near}"));
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
        Ok(None) => match missing(&args.formula) {
            Ok(why) => usage(&format!("the last commit has no formula `{}`{why}", args.formula)),
            Err(trouble) => told(&trouble),
        },
        Err(trouble) => told(&trouble),
    }
}

/// Where a formula is that the last commit does not have, or which one may be meant.
fn missing(formula: &str) -> Result<String, Trouble> {
    let repository = repository()?;
    let head = repository.commit_of("HEAD")?;
    let folder = usual_folder(Some(&repository));
    let wanted = key(formula);
    if let Some(gone) = log::gone(&repository, &head, &wanted)? {
        let log::Gone { revision, date, subject, now } = gone;
        let what = now.map_or_else(|| "was removed".to_owned(), |now| format!("became `{now}`"));
        return Ok(format!(": it {what} on {date} ({revision}, {subject})"));
    }
    let loaded = From::Commit(head, "HEAD".to_owned()).load(Some(&repository), &folder)?;
    let loaded = loaded.unwrap_or_default();
    let names = loaded.files().iter().flat_map(|file| &file.tree.formulas).map(|it| &it.name.key);
    let near = nearest(&wanted, names.map(|key| key.as_str()));
    Ok(near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default())
}

fn looked_up(args: &History) -> Result<Option<log::History>, Trouble> {
    let repository = repository()?;
    let head = repository.commit_of("HEAD")?;
    let since = args.since.as_ref().map(|since| repository.commit_of(since)).transpose()?;
    let folder = usual_folder(Some(&repository));
    log::history(&repository, &folder, &head, &key(&args.formula), since.as_ref())
}
