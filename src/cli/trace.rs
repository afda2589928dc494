//! `assize trace` and `assize check --pinned`: where a print came from, and whether it is
//! still what its formula says.

use super::args::{Trace, TraceFormat};
use super::diff;
use super::exit::Exit;
use super::revisions::{From, HEAD, here, in_a_part, repository, told, usual_folder};
use super::stamps::brought;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, Disk, FileSystem, MAX_BYTES, history_cut_short, sheet_out_of_date};
use crate::history::git::{Repository, Trouble};
use crate::history::trace::{self, Printed, Prints, Revision, Traced, TracedFormula};
use crate::history::{code, tell};
use std::ffi::OsStr;
use std::path::Path;

/// Looks a code up, and tells what it leads to.
pub fn run(args: &Trace) -> Exit {
    let Some(code) = code::read_in(&args.code) else {
        return usage(&format!(
            "`{}` is not a code: a code has eight letters and digits, the first five for what is made",
            args.code
        ));
    };
    let traced = match looked_up(&code, repository()) {
        Ok(found) => found.traced,
        Err(trouble) => return told(&trouble),
    };
    let typed: String = args.code.chars().filter(char::is_ascii_alphanumeric).collect();
    if !typed.to_ascii_uppercase().ends_with(&code) && !traced.formulas.is_empty() {
        streams::error_text(format!("assize: `{typed}` is read as {code}\n"));
    }
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
    match foot_of(&args.code, &code) {
        Ok(Foot::Wrong(why)) => {
            streams::error_text(why);
            written.max(Exit::Findings)
        }
        Ok(_) => written,
        Err(trouble) => written.max(told(&trouble)),
    }
}

/// What the commit in the foot of a print is to the code beside it.
enum Foot {
    /// No commit was read with the code.
    Bare,
    /// The commit has that code.
    Right(Revision),
    /// There is no such commit, or it has another code; in words.
    Wrong(String),
}

/// Looks up the commit of a foot that was typed with a code.
fn foot_of(typed: &str, code: &str) -> Result<Foot, Trouble> {
    let Some(revision) = revision_in(typed) else { return Ok(Foot::Bare) };
    let revision = revision.to_lowercase();
    let repository = match repository() {
        Ok(repository) => repository,
        Err(Trouble::NoRepository) => {
            return Ok(Foot::Wrong(format!(
                "assize: there is no git repository here to look for commit {revision} in\n"
            )));
        }
        Err(trouble) => return Err(trouble),
    };
    let commit = match repository.commit_of(&revision) {
        Ok(commit) => commit,
        Err(Trouble::UnknownRevision { .. }) => {
            return Ok(Foot::Wrong(format!(
                "assize: there is no commit {revision} here{}; check that you read the foot \
                 right\n",
                in_a_part()
            )));
        }
        Err(trouble) => return Err(trouble),
    };
    let folder = usual_folder(Some(&repository));
    let at = From::Commit(commit.clone(), revision.clone());
    let has_it = |path: &Path| -> Result<bool, Trouble> {
        let loaded = at.load(Some(&repository), path)?.unwrap_or_default();
        Ok(!trace::current(&desk::bakehouses(&loaded), path, code).is_empty())
    };
    // The bakehouse may have stood elsewhere then.
    if has_it(&folder)? || has_it(&repository.top)? {
        return Ok(Foot::Right(trace::revision(&repository, &commit)));
    }
    Ok(Foot::Wrong(format!(
        "assize: commit {revision} has nothing with the code {code}: one of them was misread, or \
         the print was made from another commit\n"
    )))
}

/// The commit that stands before a code, where the whole foot of a print was typed.
fn revision_in(typed: &str) -> Option<&str> {
    let mut words = typed.split(|it: char| it.is_whitespace() || it == '·');
    let first = words.find(|it| !it.is_empty())?;
    let is_commit = |it: &str| it.len() >= 7 && it.bytes().all(|it| it.is_ascii_hexdigit());
    let has_more = words.any(|it| !it.is_empty());
    (has_more && is_commit(first)).then_some(first)
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
    /// Days that order what is made, and have no batch of the size of this print.
    days: Vec<String>,
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
    // What only an earlier state printed is printed otherwise now.
    let is_of_then = !is_own && prints.own.is_some();
    let mut traced = trace::traced(code, found, prints, cut_short);
    traced.printed_otherwise_now = is_of_then && traced.formulas.iter().any(|it| it.current);
    let sheet = traced.printed.as_ref().filter(|it| it.print == "sheet" && !traced.perhaps);
    let days = sheet.map(|it| trace::days_with_other_batches(&houses, code, it));
    Ok(LookedUp { traced, is_own, seats, days: days.unwrap_or_default() })
}

/// Whether a sheet on the wall is still current.
pub fn pinned(pinned: &OsStr) -> Exit {
    let (code, foot, makes) = match code_of(pinned) {
        Ok(known) => known,
        Err(exit) => return exit,
    };
    let foot = match foot_of(&foot, &code) {
        Ok(foot) => foot,
        Err(trouble) => return told(&trouble),
    };
    let LookedUp { traced, is_own, seats, days } = match looked_up(&code, repository()) {
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
    // A commit that has nothing with the code may mean that the code was misread.
    let doubt = match &foot {
        Foot::Wrong(why) => {
            streams::error_text(why.as_str());
            Exit::Findings
        }
        _ => Exit::Clean,
    };
    if let Some(current) = traced.formulas.iter().find(|it| it.current) {
        // Whoever weighs a day's batch by it has to know that the day has none of that size.
        let of_days = || match days.as_slice() {
            [] => String::new(),
            days => format!("; no batch of {} has that size", days.join(", ")),
        };
        let told = match (&traced.printed, is_own) {
            (Some(printed), true) if !days.is_empty() => streams::sentence(&format!(
                "{shown} is current: {}, as {}{}\n",
                current.name,
                trace::how(printed),
                of_days()
            )),
            (_, true) => streams::sentence(&format!("{shown} is current: {}\n", current.name)),
            (_, false) => printed_otherwise((&code, &shown), seats, current, &traced),
        };
        return told.max(doubt);
    }
    let Some(found) = traced.formulas.first() else { return nothing_prints(&code, &code) };
    // It was printed from the commit in its foot, else from one that had the code.
    let from = match &foot {
        Foot::Right(revision) => Some(revision),
        _ => found.revisions.first(),
    };
    let Some(from) = from else { return Exit::Findings };
    let printed = traced.printed.as_ref().filter(|_| !traced.perhaps);
    let makes = makes.or_else(|| printed.and_then(|it| it.makes.clone()));
    let is_known = makes.is_some() || printed.is_some();
    let print = Print { code: &shown, found, from, printed, makes: makes.as_deref(), is_known };
    since(&print, false).max(doubt)
}

/// A print that is looked at.
struct Print<'p> {
    /// Its code, as it is told.
    code: &'p str,
    /// What it is of.
    found: &'p TracedFormula,
    /// The commit that it was printed from.
    from: &'p Revision,
    /// How it was printed, where that is sure.
    printed: Option<&'p Printed>,
    /// What it is for, where that is known and not what the formula makes.
    makes: Option<&'p str>,
    /// Whether it is known what it is for.
    is_known: bool,
}

/// What is baked is what it was, and the house would print it otherwise: as it did once, or as
/// somebody asked for it.
fn printed_otherwise(
    (code, shown): (&str, &str),
    seats: u32,
    found: &TracedFormula,
    traced: &Traced,
) -> Exit {
    match made_then(code, seats) {
        Ok(Some(then)) => {
            let (printed, makes) = (traced.printed.as_ref(), None);
            let print = Print { code: shown, found, from: &then, printed, makes, is_known: true };
            since(&print, true)
        }
        // Five letters are those of what is made, and none of how it was printed.
        Ok(None) if code.len() == code::OF_MEANING => streams::sentence(&format!(
            "{shown} matches {} as it is now; the last three letters, for how it was printed, are needed to tell \
             whether the paper is current\n",
            found.name
        )),
        Ok(None) => {
            // What a day or a booklet asked for then, such as the room of that day, is no longer so.
            if let (Some(then), Some(printed)) = (&traced.then, &traced.printed) {
                streams::error_text(format!(
                    "assize: {shown} belongs to {} as it is, but no day or booklet asks for this \
                     print any more ({}, last at {} of {}): print it anew, unless somebody asked \
                     for it by hand\n",
                    found.name,
                    trace::how(printed),
                    then.revision,
                    then.date
                ));
                return Exit::Findings;
            }
            let perhaps = if traced.perhaps { "perhaps " } else { "" };
            // Its times can't be made again, and hours and warmth may have moved them since.
            if traced.own_times {
                streams::error_text(format!(
                    "assize: {shown} belongs to {} as it is, and is perhaps {}: nobody can tell \
                     whether it can still be followed; plan it anew\n",
                    found.name,
                    trace::OWN_TIMES
                ));
                return Exit::Findings;
            }
            let how = match &traced.printed {
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

/// The code that is written, or that stands in a sheet's JSON, with the whole foot of the print
/// and what the sheet is for.
fn code_of(pinned: &OsStr) -> Result<(String, String, Option<String>), Exit> {
    let path = Path::new(pinned);
    let pinned = pinned.to_string_lossy();
    if !path.exists() {
        let wrong = || {
            usage(&format!(
                "`{pinned}` is neither a file nor a code: a code has eight letters and digits, the \
                 first five for what is made"
            ))
        };
        let code = code::read_in(&pinned).ok_or_else(wrong)?;
        return Ok((code, pinned.into_owned(), None));
    }
    let sheet = Disk
        .bytes(path, MAX_BYTES)
        .map_err(|error| usage(&format!("{pinned} can't be read: {}", desk::why(&error))))?;
    let sheet: serde_json::Value = serde_json::from_slice(&sheet).unwrap_or_default();
    let makes = sheet["yield"]["text"].as_str().map(str::to_owned);
    let revision = sheet["trace"]["revision"].as_str().unwrap_or_default();
    let code = sheet["trace"]["code"].as_str().and_then(code::read);
    let foot = |code: &String| format!("{revision} {code}");
    code.map(|code| (code.clone(), foot(&code), makes)).ok_or_else(|| {
        usage(&format!(
            "{pinned} holds no code: it has to be what `assize show FORMULA --format json` wrote"
        ))
    })
}

/// What changed of a print since the commit that it was printed from; with `house`, also how the
/// house prints.
fn since(print: &Print, house: bool) -> Exit {
    let Print { code, found, from, printed, makes, is_known } = print;
    let name = &found.name;
    let current = || {
        streams::sentence(&format!(
            "{code} is current: {name}; nothing on it has changed since it was printed\n"
        ))
    };
    // A card may show nothing of what changed.
    let on_paper = printed.map(|how| diff::is_on_paper(&from.revision, name, how, *makes));
    match on_paper {
        Some(Ok(Some(true))) => return current(),
        Some(Err(exit)) => return exit,
        _ => {}
    }
    let (comparison, for_it) = match diff::since(&from.revision, name, house, *makes) {
        Ok(compared) => compared,
        Err(exit) => return exit,
    };
    // What holds for all may have changed, such as another mixer, and nothing on the sheet.
    // What a day or a booklet says itself, and shared things in it, stand on its prints.
    let handouts = ["booklet", "day"].map(|kind| format!("{kind} {name}"));
    let is_in_it = !comparison.days.is_empty()
        || comparison.shared.iter().any(|it| {
            handouts.contains(&format!("{} {}", it.kind, it.key))
                || it.touches.iter().any(|touched| handouts.contains(touched))
        });
    if comparison.formulas.is_empty() && !is_in_it && (!house || comparison.shared.is_empty()) {
        return current();
    }
    let of = format!("{} of {}", from.revision, from.date);
    let kind = printed.map_or("print", |it| it.print.as_str());
    let finding = sheet_out_of_date::finding(name, code, kind, &of);
    tell_on_error(&[finding], &desk::sources(""));
    let mut told = tell::text(&comparison);
    let lines_for = comparison.formulas.iter().find_map(|it| it.makes.as_ref());
    let beside = match makes {
        Some(_) if for_it => None,
        Some(makes) => Some(format!("this print is for {makes}")),
        None if *is_known || found.is_handout() => None,
        None => Some("this print may be for another yield".to_owned()),
    };
    if let Some((beside, makes)) = beside.zip(lines_for) {
        told.push_str(&format!("\nthe lines above are those for {makes}; {beside}\n"));
    }
    streams::output(told).max(Exit::Findings)
}
