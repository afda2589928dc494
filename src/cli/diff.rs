//! `assize diff`: what changed in meaning.

use super::args::{Diff, DiffFormat};
use super::asked::home;
use super::day;
use super::exit::Exit;
use super::revisions::{From, HEAD, PARTIAL, here, in_a_part, repository, told, usual_folder};
use super::stamps::brought;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, FileSystem, Kept, Loaded};
use crate::diag::nearest;
use crate::formula::{key, work, work_as};
use crate::history::brought::Brought;
use crate::history::compare::{ComparedSide, compare_beside};
use crate::history::comparison::{self, Comparison, DayChange, FormulaChange};
use crate::history::day_paper;
use crate::history::git::{Commit, Repository, Trouble};
use crate::history::stamp::{Effects, Manner, units_word};
use crate::history::trace::Printed;
use crate::history::{numbers, tell};
use crate::print::assets::PrintAssets;
use crate::print::findings::template_slip;
use crate::print::html::page as html_of;
use crate::print::html_changes::Page;
use crate::print::pages::{self, Press};
use crate::print::{Document, document};
use crate::source::{SourceId, visible};
use crate::syntax::read_makes;
use crate::syntax::tree::Makes;
use crate::syntax::tree::Name;
use ecow::EcoString;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// What is looked at, wherever it is taken from.
#[derive(Clone, Debug)]
enum What {
    All,
    Path(PathBuf),
    Formula(EcoString),
}

/// What one word of the command line asks for.
#[derive(Clone, Debug)]
struct Asked {
    from: Option<From>,
    what: What,
}

/// The repository, looked for when it is needed first.
struct Repo(Result<Repository, Trouble>);

impl Repo {
    fn get(&self) -> Result<&Repository, Exit> {
        self.0.as_ref().map_err(told)
    }

    fn some(&self) -> Option<&Repository> {
        self.0.as_ref().ok()
    }
}

/// Compares, and tells what changed.
pub fn run(args: &Diff) -> Exit {
    if args.sheets && args.format == DiffFormat::Json {
        return usage("`--sheets` is for people: JSON holds the lines of sheets in any case");
    }
    let repo = Repo(repository());
    let sides = match sides(args, &repo) {
        Ok(sides) => sides,
        Err(exit) => return exit,
    };
    let places = sides.clone();
    let [old, new] = sides;
    let mut kept = Kept::default();
    let old = taken(&old, &repo, &mut kept);
    let taken = old.and_then(|old| Ok([old, taken(&new, &repo, &mut kept)?]));
    let [mut old, mut new] = match taken {
        Ok(both) => both,
        Err(exit) => return exit,
    };
    // A formula that one side does not have may have had another name there.
    let mut renamed = None;
    if let Some(lacks) = old.lacks.as_ref().or(new.lacks.as_ref()) {
        match (&places[0].what, &places[1].what) {
            (What::Formula(one), What::Formula(two))
                if one == two && (old.only.is_some() || new.only.is_some()) =>
            {
                renamed = Some(one.clone());
                (old.only, new.only) = (None, None);
            }
            _ => return usage(lacks),
        }
    }
    // Of a partial clone what is missing is not gone.
    let of_git = [&old, &new].into_iter().filter(|it| !matches!(it.from, From::Disk));
    if of_git.clone().any(|it| !it.loaded.is_whole())
        && repo.some().is_some_and(Repository::is_partial)
    {
        return usage(PARTIAL);
    }
    for loaded in [&old.loaded, &new.loaded] {
        tell_on_error(&loaded.findings, &loaded.sources);
    }
    // What can't be read is not a side on which there is nothing.
    let lacks_all = |it: &Loaded| !it.is_whole() && it.asked_for().next().is_none();
    if lacks_all(&old.loaded) || lacks_all(&new.loaded) {
        return Exit::Findings;
    }
    let mut comparison = match compared(&old, &new, &repo, &kept, None) {
        Ok(comparison) => comparison,
        Err(exit) => return exit,
    };
    let name = |taken: &Taken| taken.handout.clone().or_else(|| taken.only.clone());
    let is_of_days = old.handout.is_some() || new.handout.is_some();
    if let (Some(one), Some(two)) = (name(&old), name(&new))
        && is_of_days
        && one != two
    {
        return usage(&format!(
            "`{one}` and `{two}` are different things, and days and booklets are compared with \
             their own earlier versions: write `assize diff REV:{two} {two}`"
        ));
    }
    if let Some(name) = &renamed {
        only_of(&mut comparison, name, false);
    }
    if let Some(handout) = new.handout.as_ref().or(old.handout.as_ref()) {
        only_of(&mut comparison, handout, false);
        add_day(&mut comparison, handout, [&old, &new]);
    }
    let (written, is_empty) = match args.numbers {
        true => match numbers_of(args, &repo, &places, [&old, &new], &comparison) {
            Ok(numbers) => numbers,
            Err(exit) => return exit,
        },
        false => {
            let is_empty = match args.sheets {
                true => !tell::has_sheets(&comparison),
                false => comparison.is_empty(),
            };
            (written(args, &comparison), is_empty)
        }
    };
    let written = match written {
        Ok(written) => streams::output(written),
        Err(why) => {
            tell_on_error(&[template_slip::finding("changes", &why, false)], &desk::sources(""));
            return Exit::Findings;
        }
    };
    let differs = args.exit_code && !is_empty;
    let is_whole = old.loaded.is_whole() && new.loaded.is_whole();
    written.max(if differs || !is_whole { Exit::Findings } else { Exit::Clean })
}

/// A revision and the files as they are, read.
fn then_and_now(revision: &str, repo: &Repo, kept: &mut Kept) -> Result<[Taken; 2], Exit> {
    let commit = repo.get()?.commit_of(revision).map_err(|it| told(&it))?;
    let from = From::Commit(commit, revision.to_owned());
    let old = taken(&Asked { from: Some(from), what: What::All }, repo, kept)?;
    let now = here(repo.get()?).map_err(|it| told(&it))?;
    let new = taken(&Asked { from: Some(now), what: What::All }, repo, kept)?;
    Ok([old, new])
}

/// What changed of a formula from a revision to the files as they are; with `house`, also what
/// the house says of its prints. The lines of its sheet are those for a yield in words, where
/// both sides make it; whether they are, is told.
///
/// # Errors
/// How the run ends where that can't be told.
pub fn since(
    revision: &str,
    formula: &str,
    house: bool,
    makes: Option<&str>,
) -> Result<(Comparison, bool), Exit> {
    let repo = Repo(repository());
    let mut kept = Kept::default();
    let [old, new] = then_and_now(revision, &repo, &mut kept)?;
    let makes = makes.and_then(yield_of);
    let name = key(formula);
    let of = |makes: Option<&Makes>| -> Result<Comparison, Exit> {
        let makes = makes.map(|makes| (name.as_str(), makes));
        let mut comparison = compared(&old, &new, &repo, &kept, makes)?;
        only_of(&mut comparison, formula, house);
        Ok(comparison)
    };
    let mut comparison = of(makes.as_ref())?;
    let mut is_for_it = makes.is_some();
    // Where one side makes no such pieces, both are told for what they make.
    if is_for_it && comparison.formulas.iter().any(|it| it.has_errors) {
        comparison = of(None)?;
        is_for_it = false;
    }
    add_day(&mut comparison, formula, [&old, &new]);
    Ok((comparison, is_for_it))
}

/// A yield in words; none where it can't be read.
fn yield_of(text: &str) -> Option<Makes> {
    let (makes, findings) = read_makes(SourceId::ASKED, text.trim_start_matches("≈ "));
    makes.filter(|_| findings.is_empty())
}

/// Whether a print of a formula shows what it showed at a revision, its foot left out; nothing
/// where that can't be told.
///
/// # Errors
/// How the run ends where a side can't be read.
pub fn is_on_paper(
    revision: &str,
    formula: &str,
    printed: &Printed,
    makes: Option<&str>,
) -> Result<Option<bool>, Exit> {
    let repo = Repo(repository());
    let sides = then_and_now(revision, &repo, &mut Kept::default())?;
    let makes = match makes.map(yield_of) {
        Some(None) => return Ok(None),
        makes => makes.flatten(),
    };
    let shown = |taken: &Taken| paper(taken, &repo, formula, printed, makes.as_ref());
    let [before, after] = [shown(&sides[0])?, shown(&sides[1])?];
    Ok(before.zip(after).map(|(before, after)| before == after))
}

/// What a print of a formula shows, without its foot, and what of the house shapes it; nothing of
/// prints that are made otherwise than from the formula and the house.
fn paper(
    taken: &Taken,
    repo: &Repo,
    formula: &str,
    printed: &Printed,
    makes: Option<&Makes>,
) -> Result<Option<(String, String)>, Exit> {
    let kind = match printed.print.as_str() {
        "card" => pages::Print::Card,
        "sheet" => pages::Print::Sheet,
        "table" => pages::Print::Table,
        _ => return Ok(None),
    };
    let wanted = key(formula);
    let bakehouses = desk::bakehouses(&taken.loaded);
    let found = bakehouses.iter().find_map(|it| Some((it, it.house.formula(&wanted)?)));
    let Some((bakehouse, formula)) = found else { return Ok(None) };
    let settings = &bakehouse.house.settings;
    let units = units_word(settings.units.first, settings.units.both);
    let own = settings.language.as_ref().map_or("en", |it| it.value.as_str());
    let in_two = kind == pages::Print::Sheet && settings.second_language.is_some();
    // What the house prints otherwise now is told as such.
    let is_usual = printed.asked.is_none()
        && printed.units == units
        && printed.language == own
        && printed.volumes == settings.volumes
        && !in_two;
    if !is_usual {
        return Ok(None);
    }
    let worked = match makes {
        Some(makes) => work_as(&bakehouse.house, formula, makes, &mut Vec::new()),
        None => work(&bakehouse.house, formula, &mut Vec::new()),
    };
    if !worked.sound || formula.broken {
        return Ok(None);
    }
    let shown = |files: &dyn FileSystem| {
        let (_, words) = desk::assets(files, bakehouse, None, &mut Vec::new());
        let document = document(&bakehouse.house, &worked, &words, printed.volumes);
        let page = html_of(&Document { trace: None, ..document }, kind, None);
        let brings = Brought::of(files, bakehouse);
        let manner = Manner { settings, brought: &brings, effects: &Effects::default() };
        (on_page(&page), manner.house(kind.word(), "", &printed.language))
    };
    taken.from.with_files(repo.some(), shown).map(Some).map_err(|it| told(&it))
}

/// A page without what it says to machines alone.
fn on_page(page: &str) -> String {
    let mut shown = String::with_capacity(page.len());
    let mut rest = page;
    while let Some((before, script)) = rest.split_once("<script") {
        shown.push_str(before);
        rest = script.split_once("</script>").map_or("", |(_, after)| after);
    }
    shown + rest
}

/// Adds to what changed of a day how its plan did: orders, batches and times.
fn add_day(comparison: &mut Comparison, name: &str, [old, new]: [&Taken; 2]) {
    let has_it = |taken: &Taken| {
        let trees = taken.loaded.files().iter().map(|file| &file.tree);
        trees.flat_map(|tree| &tree.days).any(|day| *day.name.shown == *name)
    };
    if comparison.is_empty() || !has_it(old) || !has_it(new) {
        return;
    }
    let planned =
        |taken: &Taken| day::document_of(&taken.loaded, &desk::bakehouses(&taken.loaded), name);
    let change = match (planned(old), planned(new)) {
        (Some(before), Some(after)) => {
            let papers = day_paper::changes(&before, &after);
            DayChange { name: name.to_owned(), has_errors: false, papers }
        }
        (None, None) => return,
        _ => DayChange { name: name.to_owned(), has_errors: true, papers: Vec::new() },
    };
    if change.has_errors || !change.papers.is_empty() {
        comparison.days.push(change);
    }
}

/// Leaves of a comparison what is of one formula, booklet or day.
fn only_of(comparison: &mut Comparison, formula: &str, house: bool) {
    let handouts = ["booklet", "day"].map(|kind| format!("{kind} {formula}"));
    let is_it = |it: &FormulaChange| {
        let is_in = it.printed_in.iter().any(|it| handouts.contains(it));
        it.name == formula || it.was.as_deref() == Some(formula) || is_in
    };
    comparison.formulas.retain(is_it);
    let because: Vec<String> =
        comparison.formulas.iter().flat_map(|it| it.because.clone()).collect();
    comparison.shared.retain(|it| {
        let said = format!("{} {}", it.kind, it.key);
        let is_told = it.touches.iter().any(|it| handouts.contains(it));
        house && it.kind == "bakehouse"
            || because.contains(&said)
            || handouts.contains(&said)
            || is_told
    });
    comparison.moved.clear();
}

/// The numbers of manuscripts that changed, written, and whether there are none.
fn numbers_of(
    args: &Diff,
    repo: &Repo,
    places: &[Asked; 2],
    sides: [&Taken; 2],
    comparison: &Comparison,
) -> Result<(Answer, bool), Exit> {
    let texts = |asked: &Asked, taken: &Taken| {
        let from = asked.from.clone().unwrap_or(From::Disk);
        let mut texts = from.manuscripts(repo.some(), &taken.base).map_err(|it| told(&it))?;
        let woven = from.woven(repo.some(), &taken.loaded, &taken.base).map_err(|it| told(&it))?;
        texts.extend(woven);
        Ok((from.called().to_owned(), texts))
    };
    let [old, new] = places;
    let ((from, before), (to, after)) = (texts(old, sides[0])?, texts(new, sides[1])?);
    let numbers = numbers::numbers((&from, &before), (&to, &after), comparison);
    let written = match args.format {
        DiffFormat::Text => Ok(numbers::text(&numbers).into_bytes()),
        DiffFormat::Json => Ok((numbers::json(&numbers) + "\n").into_bytes()),
        DiffFormat::Markdown => Ok(numbers::markdown(&numbers).into_bytes()),
        DiffFormat::Html => Ok(html(&numbers::page(&numbers))),
        DiffFormat::Pdf => pdf(&numbers::page(&numbers)),
    };
    Ok((written, numbers.chapters.is_empty()))
}

/// What is written, or why it can't be set.
type Answer = Result<Vec<u8>, String>;

fn written(args: &Diff, comparison: &Comparison) -> Answer {
    match args.format {
        DiffFormat::Text if args.sheets => Ok(tell::sheets(comparison).into_bytes()),
        DiffFormat::Text => Ok(tell::text(comparison).into_bytes()),
        DiffFormat::Json => Ok((comparison::json(comparison) + "\n").into_bytes()),
        DiffFormat::Markdown => Ok(tell::markdown(comparison, args.sheets).into_bytes()),
        DiffFormat::Html => Ok(html(&tell::page(comparison, args.sheets))),
        DiffFormat::Pdf => pdf(&tell::page(comparison, args.sheets)),
    }
}

fn html(page: &Page) -> Vec<u8> {
    visible(&page.html()).into_owned().into_bytes()
}

/// On paper, by our own template: what changed has nothing of the house's look.
fn pdf(page: &Page) -> Answer {
    let files = Press::new(&PrintAssets::default()).changes(page.json())?;
    files.into_iter().next().ok_or_else(|| "nothing was set".to_owned())
}

/// A side, read.
struct Taken {
    from: From,
    loaded: Loaded,
    base: PathBuf,
    only: Option<EcoString>,
    /// The booklet or day that alone is asked for.
    handout: Option<EcoString>,
    /// What is said where the formula that was asked for is not there.
    lacks: Option<String>,
}

impl Taken {
    /// All of a state.
    fn all(from: From, loaded: Loaded, base: PathBuf) -> Self {
        Self { from, loaded, base, only: None, handout: None, lacks: None }
    }
}

/// What changed; of one formula, by its key, for a yield in place of what it makes.
fn compared(
    old: &Taken,
    new: &Taken,
    repo: &Repo,
    kept: &Kept,
    makes: Option<(&str, &Makes)>,
) -> Result<Comparison, Exit> {
    let (before, after) = (desk::bakehouses(&old.loaded), desk::bakehouses(&new.loaded));
    // Two files with one formula each are about these two, whatever they are called.
    let one = |taken: &Taken| -> Option<EcoString> {
        let mut asked = taken.loaded.asked_for();
        let file = asked.next().filter(|file| file.path == taken.base)?;
        match (file.tree.formulas.as_slice(), asked.next()) {
            ([formula], None) => Some(formula.name.key.clone()),
            _ => None,
        }
    };
    // A formula beside a file is compared with the one of that name there, or with its only one.
    let beside = |taken: &Taken, name: &EcoString| -> Result<EcoString, Exit> {
        let asked = || taken.loaded.asked_for().flat_map(|file| &file.tree.formulas);
        let named = asked().find(|formula| formula.name.key == *name);
        let is_file = taken.loaded.asked_for().any(|file| file.path == taken.base);
        let found = named.map(|it| it.name.key.clone()).or_else(|| one(taken).filter(|_| is_file));
        found.ok_or_else(|| {
            let shown =
                taken.base.strip_prefix(home()).unwrap_or(&taken.base).display().to_string();
            usage(&format!(
                "there is no formula `{name}` in {}: name one of those that are there",
                if shown.is_empty() { taken.from.called() } else { &shown }
            ))
        })
    };
    let (old_only, new_only) = match (&old.only, &new.only) {
        (Some(old), Some(new)) => (Some(old.clone()), Some(new.clone())),
        (Some(name), None) if new.handout.is_none() && new.lacks.is_none() => {
            (Some(name.clone()), Some(beside(new, name)?))
        }
        (None, Some(name)) if old.handout.is_none() && old.lacks.is_none() => {
            (Some(beside(old, name)?), Some(name.clone()))
        }
        _ => match (one(old), one(new)) {
            (Some(old), Some(new)) if old != new => (Some(old), Some(new)),
            _ => (None, None),
        },
    };
    let side = |taken: &'_ Taken, bakehouses: &[_]| {
        let of = |files: &dyn FileSystem| brought(files, bakehouses);
        taken.from.with_files(repo.some(), of).map_err(|it| told(&it))
    };
    let (brought_before, brought_after) = (side(old, &before)?, side(new, &after)?);
    Ok(compare_beside(
        &ComparedSide {
            bakehouses: &before,
            base: &old.base,
            only: old_only.as_deref(),
            makes,
            brought: &brought_before,
        },
        &ComparedSide {
            bakehouses: &after,
            base: &new.base,
            only: new_only.as_deref(),
            makes,
            brought: &brought_after,
        },
        kept.same(),
    ))
}

/// What is said where one side would be files that nobody works on.
const BARE: &str = "this repository is bare: there are no files beside it; name two revisions";

/// What is said where what is staged would be compared with two states.
const STAGED: &str = "`--staged` compares what is staged with one revision: name that alone, or with a \
    path or a formula after it";

/// What is compared with what.
fn sides(args: &Diff, repo: &Repo) -> Result<[Asked; 2], Exit> {
    let head = || -> Result<From, Exit> {
        let commit = repo.get()?.commit_of("HEAD").map_err(|it| told(&it))?;
        Ok(From::Commit(commit, "HEAD".to_owned()))
    };
    let now = if args.staged { From::Staged } else { From::Disk };
    let bare = || repo.some().is_some_and(|repository| repository.is_bare);
    if args.staged || args.old.is_none() {
        repo.get()?;
    }
    match (&args.old, &args.new) {
        (None, _) if bare() => Err(usage(BARE)),
        (None, _) => Ok([
            Asked { from: Some(head()?), what: What::All },
            Asked { from: Some(now), what: What::All },
        ]),
        (Some(old), None) => {
            if let Some(ends) = ends_of(old, repo)? {
                return if args.staged { Err(usage(STAGED)) } else { Ok(ends) };
            }
            let old = asked(old, repo)?;
            if bare() {
                return Err(usage(BARE));
            }
            let what = old.what.clone();
            // A path or a formula alone is what it was committed as.
            let from = match old.from {
                Some(from @ (From::Commit(..) | From::Staged)) => from,
                Some(From::Disk) | None => head()?,
            };
            Ok([Asked { from: Some(from), what: old.what }, Asked { from: Some(now), what }])
        }
        // A path or a name at a revision, and as it is staged.
        (Some(old), Some(new)) if args.staged => {
            if is_of_two(old) || is_of_two(new) {
                return Err(usage(STAGED));
            }
            let old = asked(old, repo)?;
            let (Some(From::Commit(..)), What::All) = (&old.from, &old.what) else {
                return Err(usage(STAGED));
            };
            let old = within(old, &new.to_string_lossy(), repo)?;
            let what = old.what.clone();
            Ok([old, Asked { from: Some(now), what }])
        }
        // A path or a name beside two revisions is looked at in both.
        (Some(one), Some(two)) if is_of_two(one) != is_of_two(two) => {
            let (range, name) = if is_of_two(one) { (one, two) } else { (two, one) };
            let Some([from, to]) = ends_of(range, repo)? else {
                return Err(usage(&format!("`{}` does not name two revisions", range.display())));
            };
            let name = name.to_string_lossy();
            Ok([within(from, &name, repo)?, within(to, &name, repo)?])
        }
        (Some(old), Some(new)) => {
            let (old, new) = (asked(old, repo)?, asked(new, repo)?);
            // A revision beside a file or a formula means that one at that revision.
            let old_what = narrowed(&old, &new);
            let new_what = narrowed(&new, &old);
            Ok([Asked { what: old_what, ..old }, Asked { what: new_what, ..new }])
        }
    }
}

/// Whether a word names two revisions: `v2..v3`, `main...HEAD`, `REV^!`.
fn is_of_two(word: &OsStr) -> bool {
    of_one_commit(word).is_some() || is_range(word)
}

/// The two states that one word names; none where it names one.
fn ends_of(word: &OsStr, repo: &Repo) -> Result<Option<[Asked; 2]>, Exit> {
    // `REV^!` is what one commit changed.
    if let Some(rev) = of_one_commit(word) {
        let before = asked(OsStr::new(&format!("{rev}^")), repo)?;
        return Ok(Some([before, asked(OsStr::new(rev), repo)?]));
    }
    if !is_range(word) {
        return Ok(None);
    }
    let Some((one, two)) = word.to_str().unwrap_or_default().split_once("..") else {
        return Ok(None);
    };
    // From where two parted to the second: what a branch changed, whatever the other did.
    if two.starts_with('.') {
        let two = asked(or_head(two.trim_start_matches('.')), repo)?;
        let one = asked(or_head(one), repo)?;
        return Ok(Some([parted(one, &two, repo)?, two]));
    }
    Ok(Some([asked(or_head(one), repo)?, asked(or_head(two), repo)?]))
}

/// A path or a name in the state that a revision names.
fn within(at: Asked, name: &str, repo: &Repo) -> Result<Asked, Exit> {
    match at {
        Asked { from: Some(From::Commit(commit, revision)), what: What::All } => {
            at_commit(commit, revision, name, repo)
        }
        _ => Err(usage(&format!("give two revisions with `{name}`, such as `v2..v3 {name}`"))),
    }
}

/// The commit of `REV^!`.
fn of_one_commit(word: &OsStr) -> Option<&str> {
    let rev = word.to_str()?.strip_suffix("^!")?;
    (!rev.is_empty() && !Path::new(word).exists()).then_some(rev)
}

/// Whether dots stand between revisions: a path may hold some as well.
fn is_range(word: &OsStr) -> bool {
    let text = word.to_string_lossy();
    let Some((one, two)) = text.split_once("..") else { return false };
    let two = two.trim_start_matches('.');
    let is_path = one.ends_with('/') || two.starts_with('/') || one.is_empty() && two.is_empty();
    !is_path && !Path::new(word).exists()
}

/// An end of a range that is left out is the last commit.
fn or_head(word: &str) -> &OsStr {
    OsStr::new(if word.is_empty() { HEAD } else { word })
}

/// The state from which two went their own ways.
fn parted(one: Asked, two: &Asked, repo: &Repo) -> Result<Asked, Exit> {
    let (Some(From::Commit(from, name)), Some(From::Commit(to, other))) = (&one.from, &two.from)
    else {
        return Err(usage("three dots stand between two revisions: `main...HEAD`"));
    };
    match repo.get()?.base_of(from, to).map_err(|it| told(&it))? {
        Some(base) => Ok(Asked { from: Some(From::Commit(base, name.clone())), what: one.what }),
        None => {
            Err(usage(&format!("`{name}` and `{other}` have no commit in common{}", in_a_part())))
        }
    }
}

fn narrowed(asked: &Asked, other: &Asked) -> What {
    match (&asked.what, &asked.from) {
        (What::All, Some(From::Commit(..))) => other.what.clone(),
        (what, _) => what.clone(),
    }
}

/// What one word asks for.
fn asked(said: &OsStr, repo: &Repo) -> Result<Asked, Exit> {
    let absolute = |path: &Path| std::path::absolute(path).unwrap_or_else(|_| path.into());
    let (path, word) = (Path::new(said), said.to_string_lossy());
    let (is_path, word) = (path.exists(), &*word);
    if !is_path && let Some((revision, rest)) = word.split_once(':') {
        let repository = repo.get()?;
        if revision.is_empty() {
            return Err(usage(&format!(
                "`{word}` names no revision: write `HEAD:{rest}`, and `--staged` for what is staged"
            )));
        }
        let commit = repository.commit_of(revision).map_err(|it| told(&it))?;
        return at_commit(commit, revision.to_owned(), rest, repo);
    }
    let commit = repo.some().map(|repository| repository.commit_of(word));
    let is_revision =
        commit.as_ref().is_some_and(|it| !matches!(it, Err(Trouble::UnknownRevision { .. })));
    let may_be_formula = !word.contains(['/', '~', '^']);
    let formulas = if may_be_formula { formulas_here() } else { Vec::new() };
    let is_formula = formulas.contains(&key(word));
    let kinds = [(is_path, "a path"), (is_revision, "a revision"), (is_formula, "a formula")];
    let kinds: Vec<&str> = kinds.iter().filter(|(is, _)| *is).map(|(_, kind)| *kind).collect();
    if kinds.len() > 1 {
        let at = |kind: &str| {
            repo.some().is_some_and(|repository| {
                repository.commit_of(&format!("refs/{kind}/{word}")).is_ok()
            })
        };
        let mut ways = Vec::new();
        if is_path {
            ways.push(format!("`./{word}` is the path"));
        }
        for (kind, called) in [("heads", "branch"), ("tags", "tag")] {
            if at(kind) {
                ways.push(format!("`refs/{kind}/{word}` is the {called}"));
            }
        }
        if is_formula {
            ways.push(format!("`HEAD:{word}` is the formula as it was committed"));
        }
        return Err(usage(&format!("`{word}` is {}; {}", kinds.join(" and "), ways.join(", "))));
    }
    if is_path || word.starts_with(['.', '/']) {
        return match is_path {
            true => Ok(Asked { from: Some(From::Disk), what: What::Path(absolute(path)) }),
            false => Err(usage(&format!("there is no {word}"))),
        };
    }
    if is_formula {
        return Ok(Asked { from: None, what: What::Formula(key(word)) });
    }
    match commit {
        Some(Ok(commit)) => {
            let from = From::Commit(commit, word.to_owned());
            Ok(Asked { from: Some(from), what: What::All })
        }
        Some(Err(Trouble::UnknownRevision { asked, near: None }))
            if may_be_formula && asked != HEAD =>
        {
            // What was renamed and is not committed yet is known by its former name.
            if was_there(&key(word), repo) {
                return Ok(Asked { from: None, what: What::Formula(key(word)) });
            }
            let near = nearest(&key(word), formulas.iter().map(EcoString::as_str));
            let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
            let part = in_a_part();
            Err(usage(&format!("there is no path, formula or revision `{asked}`{near}{part}")))
        }
        Some(Err(trouble)) => Err(told(&trouble)),
        None => Err(match &repo.0 {
            Err(trouble @ Trouble::Unreadable(_)) => told(trouble),
            _ => usage(&format!(
                "there is no path and no formula `{word}`, and no git repository to find a \
                 revision in"
            )),
        }),
    }
}

/// Whether the last commit has a formula, a booklet or a day of that name.
fn was_there(wanted: &EcoString, repo: &Repo) -> bool {
    let Some(repository) = repo.some() else { return false };
    let Ok(commit) = repository.commit_of(HEAD) else { return false };
    let from = From::Commit(commit, HEAD.to_owned());
    let loaded = from.load(Some(repository), &usual_folder(Some(repository)));
    let loaded = loaded.ok().flatten().unwrap_or_default();
    let formulas = loaded.files().iter().flat_map(|file| &file.tree.formulas);
    formulas.map(|it| &it.name).chain(handouts(&loaded)).any(|name| name.key == *wanted)
}

/// A path, or a formula, at a commit that was named so.
fn at_commit(commit: Commit, revision: String, rest: &str, repo: &Repo) -> Result<Asked, Exit> {
    let repository = repo.get()?;
    let from = From::Commit(commit, revision.clone());
    let path = match repository.is_bare {
        true => repository.top.join(rest),
        false => std::path::absolute(rest).unwrap_or_else(|_| rest.into()),
    };
    let is_at = |path: &Path| matches!(from.load(Some(repository), path), Ok(Some(_)));
    // Git itself names files from the top.
    let from_top = repository.top.join(rest);
    let (path, is_there) = match is_at(&path) {
        false if is_at(&from_top) => (from_top, true),
        is_there => (path, is_there),
    };
    let what = match (is_there, rest.contains(['/', '.'])) {
        (true, _) => What::Path(path),
        (false, true) => return Err(usage(&format!("there is no {rest} in {revision}"))),
        (false, false) => What::Formula(key(rest)),
    };
    Ok(Asked { from: Some(from), what })
}

/// The names of all booklets and days.
fn handouts(loaded: &Loaded) -> impl Iterator<Item = &Name> {
    let trees = loaded.files().iter().map(|file| &file.tree);
    let booklets = trees.clone().flat_map(|tree| &tree.booklets).map(|it| &it.name);
    booklets.chain(trees.flat_map(|tree| &tree.days).map(|it| &it.name))
}

/// The keys of the formulas, booklets and days of the current bakehouse.
fn formulas_here() -> Vec<EcoString> {
    let folder = usual_folder(None);
    let loaded = From::Disk.load(None, &folder).ok().flatten().unwrap_or_default();
    let formulas = loaded.files().iter().flat_map(|file| &file.tree.formulas);
    let formulas = formulas.map(|formula| &formula.name);
    formulas.chain(handouts(&loaded)).map(|name| name.key.clone()).collect()
}

/// Reads what is asked for.
fn taken(asked: &Asked, repo: &Repo, kept: &mut Kept) -> Result<Taken, Exit> {
    let from = asked.from.clone().unwrap_or(From::Disk);
    let repository = match from {
        From::Disk => repo.some(),
        _ => Some(repo.get()?),
    };
    let folder = usual_folder(repository);
    let path = match &asked.what {
        What::Path(path) => path.clone(),
        What::All | What::Formula(_) => folder,
    };
    let mut read =
        |path: &Path| from.load_beside(repository, path, Some(&mut *kept)).map_err(|it| told(&it));
    let mut loaded = read(&path)?;
    let mut base = path.clone();
    if loaded.is_none() {
        // A bakehouse may have stood elsewhere then.
        if let (What::All | What::Formula(_), Some(repository)) = (&asked.what, repository) {
            base = repository.top.clone();
            loaded = read(&base)?;
        }
    }
    let Some(loaded) = loaded else {
        return match &asked.what {
            What::Path(path) => {
                let home = home();
                let shown = path.strip_prefix(&home).unwrap_or(path).display();
                Err(usage(&format!("there is no {shown} in {}", from.called())))
            }
            _ => Ok(Taken::all(from, Loaded::default(), base)),
        };
    };
    let What::Formula(wanted) = &asked.what else {
        return Ok(Taken::all(from, loaded, base));
    };
    let names = || loaded.files().iter().flat_map(|file| &file.tree.formulas).map(|it| &it.name);
    if names().any(|name| name.key == *wanted) {
        return Ok(Taken { only: Some(wanted.clone()), ..Taken::all(from, loaded, base) });
    }
    let handout = handouts(&loaded).find(|name| name.key == *wanted).map(|it| it.shown.clone());
    if handout.is_some() {
        return Ok(Taken { handout, ..Taken::all(from, loaded, base) });
    }
    let near = nearest(wanted, names().map(|name| name.key.as_str()));
    let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
    let lacks = Some(format!("there is no formula `{wanted}` in {}{near}", from.called()));
    Ok(Taken { lacks, ..Taken::all(from, loaded, base) })
}
