//! `assize check --pinned`: whether prints on the wall are still what their formulas say.

use super::args::CheckFormat;
use super::diff;
use super::exit::Exit;
use super::revisions::{HEAD, repository, told, usual_folder};
use super::streams;
use super::tell::{tell_on_error, usage};
use super::trace::{Foot, LookedUp, foot_of, looked_up, not_printed};
use crate::desk::{self, Disk, FileSystem, MAX_BYTES, print_unknown, sheet_out_of_date};
use crate::diag::{Finding, machine, narrate};
use crate::history::git::Trouble;
use crate::history::trace::{self, Printed, Revision, Traced, TracedFormula};
use crate::history::{code, tell};
use std::ffi::{OsStr, OsString};
use std::path::Path;

/// What is known of a print on the wall.
struct Verdict {
    standing: Standing,
    /// The commit in its foot has nothing with its code; in words.
    doubt: Option<String>,
}

enum Standing {
    /// In words.
    Current(String),
    /// What it shows has changed: the finding, what changed, and what has to be said of that.
    Old(Box<Finding>, String),
    /// It can't be told; in words.
    Unknown(String),
}

/// Whether prints are still current, each by its code or by its JSON.
pub fn run(pinned: &[OsString], format: CheckFormat) -> Exit {
    let mut exit = Exit::Clean;
    let mut findings = Vec::new();
    for one in pinned {
        let verdict = match verdict(one) {
            Ok(verdict) => verdict,
            // A slip in one code keeps nobody from the others.
            Err(ended) => {
                exit = exit.max(ended);
                continue;
            }
        };
        exit = exit.max(match format {
            CheckFormat::Human => shown(&verdict),
            _ => Exit::Clean,
        });
        findings.extend(of_verdict(verdict));
    }
    let told: Vec<&Finding> = findings.iter().collect();
    let sources = desk::sources("");
    let written = match format {
        CheckFormat::Human => return exit,
        CheckFormat::Json => machine::json_form(&told, &sources),
        CheckFormat::Sarif => machine::sarif(&told, &sources, desk::rules()),
        CheckFormat::Annotations => machine::annotations(&told, &sources),
        CheckFormat::Short => machine::short(&told, &sources),
        CheckFormat::Narrated => {
            told.iter().map(|finding| narrate(finding, &sources) + "\n").collect()
        }
    };
    let exit = if findings.is_empty() { exit } else { exit.max(Exit::Findings) };
    streams::output(written).max(exit)
}

/// What a person is told.
fn shown(verdict: &Verdict) -> Exit {
    let mut exit = Exit::Clean;
    if let Some(doubt) = &verdict.doubt {
        streams::error_text(doubt.as_str());
        exit = Exit::Findings;
    }
    exit.max(match &verdict.standing {
        Standing::Current(words) => streams::sentence(&format!("{words}\n")),
        Standing::Unknown(words) => {
            streams::error_text(format!("assize: {words}\n"));
            Exit::Findings
        }
        Standing::Old(finding, changes) => {
            tell_on_error(std::slice::from_ref(&**finding), &desk::sources(""));
            streams::output(changes.as_str()).max(Exit::Findings)
        }
    })
}

/// What a program is told: nothing of what is current.
fn of_verdict(verdict: Verdict) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let Some(doubt) = verdict.doubt {
        let words = doubt.trim_start_matches("assize: ").trim_end().to_owned();
        findings.push(print_unknown::finding(words));
    }
    match verdict.standing {
        Standing::Current(_) => {}
        Standing::Unknown(words) => findings.push(print_unknown::finding(words)),
        Standing::Old(mut finding, changes) => {
            let lines = changes.lines().map(str::trim).filter(|line| !line.is_empty());
            finding.notes.extend(lines.map(str::to_owned));
            findings.push(*finding);
        }
    }
    findings
}

fn verdict(pinned: &OsStr) -> Result<Verdict, Exit> {
    let (code, foot, makes) = code_of(pinned)?;
    let foot = foot_of(&foot, &code).map_err(|trouble| told(&trouble))?;
    let LookedUp { traced, is_own, seats, days } =
        looked_up(&code, repository()).map_err(|trouble| told(&trouble))?;
    let typed: String = pinned.to_string_lossy().to_uppercase();
    let typed: String = typed.chars().filter(|it| it.is_ascii_alphanumeric()).collect();
    // Letters that look alike are read as one, and somebody holds the paper beside the answer.
    let shown = match typed.ends_with(code.as_str()) || Path::new(pinned).exists() {
        true => code.clone(),
        false => format!("{code} (read from `{typed}`)"),
    };
    // A commit that has nothing with the code may mean that the code was misread.
    let doubt = match &foot {
        Foot::Wrong(why) => Some(why.clone()),
        _ => None,
    };
    if let Some(current) = traced.formulas.iter().find(|it| it.current) {
        // Whoever weighs a day's batch by it has to know that the day has none of that size.
        let sizes = of_days(&days);
        let mut standing = match (&traced.printed, is_own) {
            (Some(printed), true) if !sizes.is_empty() => Standing::Current(format!(
                "{shown} is current: {}, as {}",
                current.name,
                trace::how(printed),
            )),
            (_, true) => Standing::Current(format!("{shown} is current: {}", current.name)),
            (_, false) => printed_otherwise((&code, &shown), seats, (current, &foot), &traced)?,
        };
        if let Standing::Current(words) = &mut standing {
            words.push_str(&sizes);
        }
        return Ok(Verdict { standing, doubt });
    }
    let Some(found) = traced.formulas.first() else {
        return Ok(Verdict { standing: Standing::Unknown(not_printed(&code, &code)), doubt });
    };
    // It was printed from the commit in its foot, else from one that printed the code.
    let (from, is_sure) = match &foot {
        Foot::Right(revision) => (Some(revision), true),
        _ => (found.revisions.first(), found.is_sure),
    };
    let Some(from) = from else {
        return Ok(Verdict { standing: Standing::Unknown(not_printed(&code, &code)), doubt });
    };
    let printed = traced.printed.as_ref().filter(|_| !traced.perhaps);
    let makes = makes.or_else(|| printed.and_then(|it| it.makes.clone()));
    let is_known = makes.is_some() || printed.is_some();
    let print = Print { code: &shown, found, from, printed, makes: makes.as_deref(), is_known };
    let standing = match since(&print, false)? {
        // Nobody knows a commit that printed it: what it shows may be another than was printed then.
        Standing::Current(_) if !is_sure => Standing::Unknown(format!(
            "{shown} belongs to {} as it was at {} of {}, but nothing that this house printed by \
             itself ends so: it can't be told whether the paper is current; hand in the commit of \
             its foot too, or print it anew",
            found.name, from.revision, from.date
        )),
        standing => standing,
    };
    Ok(Verdict { standing, doubt })
}

/// The days that have a batch of the size of a sheet, and those that have none, as they are told after
/// it; nothing where every day that orders it has one.
fn of_days((with, without): &(Vec<String>, Vec<String>)) -> String {
    match (with.as_slice(), without.as_slice()) {
        (_, []) => String::new(),
        ([], without) => format!("; no batch of {} has that size", without.join(", ")),
        (with, without) => format!(
            "; a batch of {} has that size, none of {}",
            with.join(", "),
            without.join(", ")
        ),
    }
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
    (found, foot): (&TracedFormula, &Foot),
    traced: &Traced,
) -> Result<Standing, Exit> {
    let name = &found.name;
    let made = made_then(code, seats).map_err(|trouble| told(&trouble))?;
    // Whoever hands in the commit of the foot knows what it was printed from.
    let of_foot = match foot {
        Foot::Right(revision) if traced.printed.is_none() || traced.perhaps => {
            Some(revision.clone())
        }
        _ => None,
    };
    if let Some(then) = made.or(of_foot) {
        let printed = traced.printed.as_ref().filter(|_| !traced.perhaps);
        let is_known = printed.is_some();
        let print = Print { code: shown, found, from: &then, printed, makes: None, is_known };
        return since(&print, true);
    }
    // Five letters are those of what is made, and none of how it was printed.
    if code.len() == code::OF_MEANING {
        return Ok(Standing::Current(format!(
            "{shown} matches {name} as it is now; the last three letters, for how it was printed, \
             are needed to tell whether the paper is current"
        )));
    }
    // What a day or a booklet asked for then, such as the room of that day, is no longer so.
    if let (Some(then), Some(printed)) = (&traced.then, &traced.printed) {
        return Ok(Standing::Unknown(format!(
            "{shown} belongs to {name} as it is, but no day or booklet asks for this print any \
             more ({}, last at {} of {}): print it anew, unless somebody asked for it by hand",
            trace::how(printed),
            then.revision,
            then.date
        )));
    }
    // Its times can't be made again, and hours and warmth may have moved them since.
    if traced.own_times {
        return Ok(Standing::Unknown(format!(
            "{shown} belongs to {name} as it is, and is perhaps {}: nobody can tell whether it can \
             still be followed; plan it anew",
            trace::OWN_TIMES
        )));
    }
    let Some(printed) = &traced.printed else {
        // Labels of any size, orders of a table and what has begun stand in no file of the house.
        if found.is_handout() {
            return Ok(Standing::Unknown(format!(
                "{shown} belongs to {name} as it is, and was perhaps printed with orders, labels or \
                 other options of the command line: nobody can tell whether it is current; print \
                 it anew with the same options"
            )));
        }
        // What stands on paper may be another than what would be printed today.
        let ending = code.get(code::OF_MEANING..).unwrap_or_default();
        return Ok(Standing::Unknown(format!(
            "{shown} belongs to {name} as it is, but nothing this house prints or has printed ends \
             in {ending}: it can't be told whether the paper is current; check that you read the \
             last three letters right, or print it anew"
        )));
    };
    let perhaps = if traced.perhaps { "perhaps " } else { "" };
    Ok(Standing::Current(format!(
        "{shown} is current: {name}, printed as {perhaps}{}",
        trace::how(printed)
    )))
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
    let sheet: serde_json::Value =
        serde_json::from_slice(desk::without_mark(&sheet)).unwrap_or_default();
    let makes = sheet["yield"]["text"].as_str().map(str::to_owned);
    let revision = sheet["trace"]["revision"].as_str().unwrap_or_default();
    let code = sheet["trace"]["code"].as_str().and_then(code::read);
    let foot = |code: &String| format!("{revision} {code}");
    code.map(|code| (code.clone(), foot(&code), makes)).ok_or_else(|| {
        usage(&format!(
            "{pinned} holds no code: give a file that `assize show FORMULA --format json` wrote"
        ))
    })
}

/// What changed of a print since the commit that it was printed from; with `house`, also how the
/// house prints.
fn since(print: &Print, house: bool) -> Result<Standing, Exit> {
    let Print { code, found, from, printed, makes, is_known } = print;
    let name = &found.name;
    let current = || {
        Standing::Current(format!(
            "{code} is current: {name}; nothing on it has changed since it was printed"
        ))
    };
    // A card may show nothing of what changed.
    let on_paper = printed.map(|how| diff::is_on_paper(&from.revision, name, how, *makes));
    if on_paper.transpose()?.flatten() == Some(true) {
        return Ok(current());
    }
    let (comparison, for_it) = diff::since(&from.revision, name, house, *makes)?;
    // What holds for all may have changed, such as another mixer, and nothing on the sheet.
    // What a day or a booklet says itself, and shared things in it, stand on its prints.
    let handouts = ["booklet", "day"].map(|kind| format!("{kind} {name}"));
    let is_in_it = !comparison.days.is_empty()
        || comparison.shared.iter().any(|it| {
            handouts.contains(&format!("{} {}", it.kind, it.key))
                || it.touches.iter().any(|touched| handouts.contains(touched))
        });
    if comparison.formulas.is_empty() && !is_in_it && (!house || comparison.shared.is_empty()) {
        return Ok(current());
    }
    let of = format!("{} of {}", from.revision, from.date);
    let kind = printed.map_or("print", |it| it.print.as_str());
    let finding = sheet_out_of_date::finding(name, code, kind, &of);
    let mut changes = tell::text(&comparison);
    let lines_for = comparison.formulas.iter().find_map(|it| it.makes.as_ref());
    let beside = match makes {
        Some(_) if for_it => None,
        Some(makes) => Some(format!("this print is for {makes}")),
        None if *is_known || found.is_handout() => None,
        None => Some("this print may be for another yield".to_owned()),
    };
    if let Some((beside, makes)) = beside.zip(lines_for) {
        changes.push_str(&format!("\nthe lines above are those for {makes}; {beside}\n"));
    }
    Ok(Standing::Old(Box::new(finding), changes))
}
