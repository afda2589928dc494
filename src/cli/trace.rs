//! `assize trace`: where a print came from.

use super::args::{Trace, TraceFormat};
use super::exit::Exit;
use super::revisions::{From, HEAD, here, in_a_part, repository, told, usual_folder};
use super::stamps::brought;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, history_cut_short};
use crate::history::code;
use crate::history::git::{Repository, Trouble};
use crate::history::trace::{self, Prints, Revision, Traced};
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
        streams::error_text(format!("assize: {}\n", not_printed(&code, &args.code)));
        return Exit::Findings;
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
pub(super) enum Foot {
    /// No commit was read with the code.
    Bare,
    /// The commit has that code.
    Right(Revision),
    /// There is no such commit, or it has another code; in words.
    Wrong(String),
}

/// Looks up the commit of a foot that was typed with a code.
pub(super) fn foot_of(typed: &str, code: &str) -> Result<Foot, Trouble> {
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
pub(super) fn not_printed(code: &str, typed: &str) -> String {
    let typed: String = typed.chars().filter(|it| it.is_ascii_alphanumeric()).collect();
    let as_read = match typed.to_ascii_uppercase().ends_with(code) {
        true => String::new(),
        false => format!(", as `{typed}` is read"),
    };
    format!("nothing here prints {code}{as_read}")
}

/// What a code leads to, and how the files as they are print it by themselves.
pub(super) struct LookedUp {
    /// The formulas that have the code, and how it was printed.
    pub traced: Traced,
    /// Whether the house makes a print with it where nobody asks for anything else.
    pub is_own: bool,
    /// The most copies of a booklet.
    pub seats: u32,
    /// Days that order what is made, and have no batch of the size of this print.
    pub days: Vec<String>,
}

/// The files as they are first, then the history.
pub(super) fn looked_up(
    code: &str,
    repository: Result<Repository, Trouble>,
) -> Result<LookedUp, Trouble> {
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
        Ok(repository) => {
            let head = match repository.commit_of(HEAD) {
                Ok(head) => Some(head),
                // There is no commit yet, or none on the branch that is worked on.
                Err(Trouble::UnknownRevision { .. }) => None,
                Err(trouble) => return Err(trouble),
            };
            let (head, wanted) = (head.as_ref(), (code, seats));
            trace::in_history(&repository, &folder, head, wanted, &mut found, &mut prints)?
        }
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
