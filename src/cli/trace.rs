//! `assize trace` and `assize check --pinned`: where a print came from, and whether it is
//! still what its formula says.

use super::args::{Trace, TraceFormat};
use super::diff;
use super::exit::Exit;
use super::revisions::{From, HEAD, here, repository, told, usual_folder};
use super::stamps::brought;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, Disk, FileSystem, MAX_BYTES, history_cut_short, sheet_out_of_date};
use crate::history::git::{Repository, Trouble};
use crate::history::trace::{self, Found, Prints, Revision, Traced};
use crate::history::{code, tell};
use std::ffi::OsStr;
use std::path::Path;

/// Looks a code up, and tells what it leads to.
pub fn run(args: &Trace) -> Exit {
    let Some(code) = code::read_in(&args.code) else {
        return usage(&format!(
            "`{}` is not a code: a code has eight letters and digits, the first five of what is made",
            args.code
        ));
    };
    let traced = match looked_up(&code, repository()) {
        Ok(found) => found.traced,
        Err(trouble) => return told(&trouble),
    };
    if traced.cut_short {
        tell_on_error(&[history_cut_short::finding()], &desk::sources(""));
    }
    let written = streams::output(match args.format {
        TraceFormat::Text => trace::text(&traced),
        TraceFormat::Json => trace::json(&traced) + "\n",
    });
    if traced.formulas.is_empty() {
        return nothing_prints(&code, &args.code);
    }
    if let Some(revision) = revision_in(&args.code)
        && !traced.formulas.iter().any(|found| has_commit(found, revision))
    {
        streams::error_text(format!(
            "assize: no commit {revision} has this code; check that you read both correctly\n"
        ));
    }
    written
}

/// The commit that stands before a code, where the whole foot of a print was typed.
fn revision_in(typed: &str) -> Option<&str> {
    let mut words = typed.split(|it: char| it.is_whitespace() || it == '·');
    let first = words.find(|it| !it.is_empty())?;
    let is_commit = |it: &str| it.len() >= 7 && it.bytes().all(|it| it.is_ascii_hexdigit());
    let has_more = words.any(|it| !it.is_empty());
    (has_more && is_commit(first)).then_some(first)
}

/// Whether one of the commits with a meaning is the one that somebody read off a print.
fn has_commit(found: &Found, revision: &str) -> bool {
    let revision = revision.to_lowercase();
    let is_it = |it: &Revision| {
        it.revision.starts_with(&revision) || revision.starts_with(it.revision.as_str())
    };
    found.revisions.iter().any(is_it)
}

/// Says that nothing in the files or in any branch has a code; letters that look like one of
/// ours were read as that one.
fn nothing_prints(code: &str, typed: &str) -> Exit {
    let typed: String = typed.chars().filter(|it| it.is_ascii_alphanumeric()).collect();
    let as_read = match typed.to_ascii_uppercase().ends_with(code) {
        true => String::new(),
        false => format!(", as `{typed}` is read"),
    };
    streams::error_text(format!("assize: nothing here prints {code}{as_read}\n"));
    Exit::Findings
}

/// What a code leads to, and how the files as they are print it by themselves.
struct LookedUp {
    traced: Traced,
    /// Whether the house makes a print with it where nobody asks for anything else.
    is_own: bool,
    /// The most copies of a booklet.
    seats: u32,
}

/// The files as they are first, then the history.
fn looked_up(code: &str, repository: Result<Repository, Trouble>) -> Result<LookedUp, Trouble> {
    let folder = usual_folder(repository.as_ref().ok());
    let now = match &repository {
        Ok(repository) => here(repository).unwrap_or(From::Disk),
        Err(_) => From::Disk,
    };
    let loaded = now.load(repository.as_ref().ok(), &folder)?.unwrap_or_default();
    let bakehouses = desk::bakehouses(&loaded);
    let brought = now.with_files(repository.as_ref().ok(), |files| brought(files, &bakehouses))?;
    let houses: Vec<trace::House> = bakehouses.iter().zip(&brought).collect();
    let mut found = trace::current(&bakehouses, &folder, code);
    let mut prints = Prints::of(&houses, &found, code);
    let is_own = prints.own.is_some();
    let seats = trace::seats_of(&houses);
    let cut_short = match repository {
        Ok(repository) => match repository.commit_of(HEAD) {
            Ok(head) => {
                let wanted = (code, seats);
                trace::in_history(&repository, &folder, &head, wanted, &mut found, &mut prints)?
            }
            // There is no commit yet.
            Err(Trouble::UnknownRevision { .. }) => false,
            Err(trouble) => return Err(trouble),
        },
        Err(Trouble::NoRepository) => false,
        Err(trouble) => return Err(trouble),
    };
    if found.iter().any(|it| it.current && !it.is_handout()) {
        prints.with_usual_yields_and_times(&houses, code);
    }
    let traced = trace::traced(code, found, prints, cut_short);
    Ok(LookedUp { traced, is_own, seats })
}

/// Whether a sheet on the wall is still current.
pub fn pinned(pinned: &OsStr) -> Exit {
    let (code, makes) = match code_of(pinned) {
        Ok(known) => known,
        Err(exit) => return exit,
    };
    let LookedUp { traced, is_own, seats } = match looked_up(&code, repository()) {
        Ok(found) => found,
        Err(trouble) => return told(&trouble),
    };
    let typed: String = pinned.to_string_lossy().to_uppercase();
    let typed: String = typed.chars().filter(|it| it.is_ascii_alphanumeric()).collect();
    // Letters that look alike are read as one, and somebody holds the paper beside the answer.
    let shown = match typed.ends_with(code.as_str()) || Path::new(pinned).exists() {
        true => code.clone(),
        false => format!("{code} (read from `{typed}`)"),
    };
    if let Some(current) = traced.formulas.iter().find(|it| it.current) {
        return match is_own {
            true => streams::sentence(&format!("{shown} is current: {}\n", current.name)),
            false => printed_otherwise((&code, &shown), seats, current, &traced),
        };
    }
    // Of a print that the house does not make by itself the yield may be another one.
    let is_own = traced.printed.as_ref().is_some_and(|it| it.makes.is_none() && !traced.perhaps);
    let beside = match makes.filter(|_| !is_own) {
        Some(makes) => Some(format!("this print is for {makes}")),
        None if is_own => None,
        None => Some("this print may be for another yield".to_owned()),
    };
    match traced.formulas.first() {
        Some(found) => out_of_date(&shown, found, beside.as_deref()),
        None => nothing_prints(&code, &code),
    }
}

/// What is baked is what it was, and the house would print it otherwise: as it did once, or as
/// somebody asked for it.
fn printed_otherwise(
    (code, shown): (&str, &str),
    seats: u32,
    found: &Found,
    traced: &Traced,
) -> Exit {
    match made_then(code, seats) {
        Ok(Some(then)) => since(shown, found, &then, true, None),
        Ok(None) => {
            let perhaps = if traced.perhaps { "perhaps " } else { "" };
            let how = match &traced.printed {
                _ if traced.own_times => format!("perhaps {}", trace::OWN_TIMES),
                Some(it) => format!("{perhaps}{}", trace::how(it)),
                // What stands on paper may be another than what would be printed today.
                None => {
                    let ending = code.get(code::OF_MEANING..).unwrap_or_default();
                    streams::error_text(format!(
                        "assize: {shown} belongs to {} as it is, but nothing this house prints or \
                         has printed ends in {ending}: it can't be told whether the paper is \
                         current; check that you read the last three letters right, or print it \
                         anew\n",
                        found.name
                    ));
                    return Exit::Findings;
                }
            };
            streams::sentence(&format!("{shown} is current: {}, printed as {how}\n", found.name))
        }
        Err(trouble) => told(&trouble),
    }
}

/// The commit at which the house printed that by itself.
fn made_then(code: &str, seats: u32) -> Result<Option<Revision>, Trouble> {
    let repository = match repository() {
        Ok(repository) => repository,
        Err(Trouble::NoRepository) => return Ok(None),
        Err(trouble) => return Err(trouble),
    };
    let head = match repository.commit_of(HEAD) {
        Ok(head) => head,
        Err(Trouble::UnknownRevision { .. }) => return Ok(None),
        Err(trouble) => return Err(trouble),
    };
    trace::made_then(&repository, &usual_folder(Some(&repository)), &head, (code, seats))
}

/// The code that is written, or that stands in a sheet's JSON, with what that sheet is for.
fn code_of(pinned: &OsStr) -> Result<(String, Option<String>), Exit> {
    let path = Path::new(pinned);
    let pinned = pinned.to_string_lossy();
    if !path.exists() {
        let wrong = || {
            usage(&format!("`{pinned}` is neither a file nor a code of eight letters and digits"))
        };
        let code = code::read_in(&pinned).filter(|code| code::read(code).is_some());
        return code.map(|code| (code, None)).ok_or_else(wrong);
    }
    let sheet = Disk
        .bytes(path, MAX_BYTES)
        .map_err(|error| usage(&format!("{pinned} can't be read: {}", desk::why(&error))))?;
    let sheet: serde_json::Value = serde_json::from_slice(&sheet).unwrap_or_default();
    let makes = sheet["yield"]["text"].as_str().map(str::to_owned);
    let code = sheet["trace"]["code"].as_str().and_then(code::read);
    code.map(|code| (code, makes)).ok_or_else(|| {
        usage(&format!(
            "{pinned} holds no code: it has to be what `assize show FORMULA --format json` wrote"
        ))
    })
}

fn out_of_date(code: &str, found: &Found, beside: Option<&str>) -> Exit {
    match found.revisions.first() {
        Some(newest) => since(code, found, newest, false, beside),
        None => Exit::Findings,
    }
}

/// What changed of a sheet since a commit; with `house`, also how the house prints. `beside` says
/// how the sheet is another than the one whose lines are told.
fn since(code: &str, found: &Found, newest: &Revision, house: bool, beside: Option<&str>) -> Exit {
    let comparison = match diff::since(&newest.revision, &found.name, house) {
        Ok(comparison) => comparison,
        Err(exit) => return exit,
    };
    // What holds for all may have changed, such as another mixer, and nothing on the sheet.
    // What a day or a booklet says itself, and shared things in it, stand on its prints.
    let handouts = ["booklet", "day"].map(|kind| format!("{kind} {}", found.name));
    let is_in_it = comparison.shared.iter().any(|it| {
        handouts.contains(&format!("{} {}", it.kind, it.key))
            || it.touches.iter().any(|touched| handouts.contains(touched))
    });
    if comparison.formulas.is_empty() && !is_in_it && (!house || comparison.shared.is_empty()) {
        let name = &found.name;
        return streams::sentence(&format!(
            "{code} is current: {name}; nothing on it has changed since it was printed\n"
        ));
    }
    let printed = format!("{} of {}", newest.revision, newest.date);
    let finding = sheet_out_of_date::finding(&found.name, code, &printed);
    tell_on_error(&[finding], &desk::sources(""));
    let mut told = tell::text(&comparison);
    let makes = comparison.formulas.iter().find_map(|it| it.makes.as_ref());
    if let Some((beside, makes)) = beside.zip(makes) {
        told.push_str(&format!("\nthe lines above are those for {makes}; {beside}\n"));
    }
    streams::output(told).max(Exit::Findings)
}
