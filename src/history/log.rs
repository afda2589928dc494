//! The history of one formula: the commits that changed what it means, and its figures.

use super::catalogue::{Digest, Meaning};
use super::comparison::{Change, ChangeKind, ClaimChange, Difference, FigureChange, SheetChange};
use super::declared::Declared;
use super::differences::{Printed, own_changes, shared_changes};
use super::facts::Facts;
use super::git::{Commit, Id, Repository, Trouble, View};
use super::rename::{self, Renamed};
use super::tell::{claim, most, sheet_line, shortened, weightiest};
use super::walk::{Key, Walk};
use crate::diag::machine::pretty;
use crate::print::{Cell, spreadsheet};
use crate::quantity::Exact;
use crate::quantity::display::{read_exact, trimmed};
use crate::source::visible;
use rustc_hash::FxHashMap;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::rc::Rc;

/// The version of the shape of what `assize history --format json` writes.
const VERSION: u32 = 1;

/// A formula's history, the newest first.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct History {
    /// The version of this document's shape.
    pub version: u32,
    /// What it is called now.
    pub formula: String,
    /// A row for each commit that changed its meaning.
    pub rows: Vec<HistoryRow>,
    /// A shallow clone has nothing older.
    pub cut_short: bool,
}

/// A commit that changed what a formula means.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HistoryRow {
    /// The author's day: `2026-03-02`.
    pub date: String,
    /// The first digits of the commit.
    pub revision: String,
    /// The first line of the author's message.
    pub subject: String,
    /// What the formula was called.
    pub name: String,
    /// Its figures, as they are printed, with their units; empty where it had errors.
    pub figures: BTreeMap<String, String>,
    /// The same exactly: shares of one, grams or minutes.
    pub exact: BTreeMap<String, String>,
    /// The same at the high ends of ranges; only of figures that are ranges.
    pub exact_high: BTreeMap<String, String>,
    /// It has errors here, so that it has no figures.
    pub has_errors: bool,
    /// It had errors before, so that what moved can't be told.
    pub had_errors: bool,
    /// Whether the formula came, went or changed with this commit.
    pub what: ChangeKind,
    /// Claims that hold since this commit and did not before, or the other way round.
    pub claims: Vec<ClaimChange>,
    /// The figures that moved with this commit.
    pub moved: Vec<FigureChange>,
    /// What its text, and what it rests on, say differently since this commit.
    pub says: Vec<Change>,
    /// The lines of its sheet that show something else since this commit: weights, times,
    /// temperatures, allergens, notes and cautions.
    pub sheet: Vec<SheetChange>,
    /// The commit brings branches together: what moved stands in a row of its own as well.
    pub is_merge: bool,
    /// The commit stands on a branch that was merged later.
    pub on_a_branch: bool,
}

/// What a formula meant and printed.
struct Worked {
    /// Without what holds for everybody, whether it is used or not.
    named: Digest,
    /// What it says itself, as plain data, and what it rests on says.
    own: Facts,
    shared: Vec<Declared>,
    /// Nothing where it had errors.
    printed: Option<Printed>,
    /// A booklet or a day, which has no figures.
    is_handout: bool,
}

impl Worked {
    /// Whether all that either prints is the same.
    fn is_same(&self, other: &Self) -> bool {
        let printed = self.printed.as_ref().zip(other.printed.as_ref());
        self.named == other.named
            && (self.is_handout || printed.is_some_and(|(one, two)| one.is_same(two)))
    }
}

/// What formulas print rests on beside what they mean: the files with the settings of their house.
type Settings = Vec<Id>;

/// What a formula meant and printed, by what it means and by the settings that it was printed with:
/// both may change at different commits.
struct States<'r> {
    walk: Walk<'r>,
    known: FxHashMap<(Digest, Settings), Rc<Worked>>,
}

impl States<'_> {
    /// What the formula meant and printed at a commit.
    fn at(&mut self, seen: &Seen) -> Result<Option<Rc<Worked>>, Trouble> {
        let Some(digest) = seen.digest else { return Ok(None) };
        self.walk.want(&seen.key);
        self.walk.go_to(&seen.commit)?;
        Ok(self.here(&seen.key, digest))
    }

    /// The same at the state at hand.
    fn here(&mut self, key: &Key, digest: Digest) -> Option<Rc<Worked>> {
        let state = (digest, self.walk.houses(&key.0));
        if let Some(known) = self.known.get(&state) {
            return Some(Rc::clone(known));
        }
        let worked = Rc::new(self.walk.with(key, worked)?);
        self.known.insert(state, Rc::clone(&worked));
        Some(worked)
    }
}

/// What is known of the formula at a commit.
struct Seen {
    commit: Commit,
    key: Key,
    digest: Option<Digest>,
    parents: Vec<Id>,
}

/// The commits, from one back, at which the meaning of a formula below a folder was another
/// than before; wherever in the repository it stood then.
///
/// # Errors
/// Where the repository can't be read.
pub fn history(
    repository: &Repository,
    folder: &Path,
    from: &Commit,
    formula: &str,
    since: Option<&Commit>,
) -> Result<Option<History>, Trouble> {
    let asked = (formula, since);
    let found = history_below(repository, (folder, folder), from, asked)?;
    // The whole folder may have moved: then what it was stands elsewhere.
    match found {
        Some((_, true)) => {
            let found = history_below(repository, (folder, &repository.top), from, asked)?;
            Ok(found.map(|(history, _)| history))
        }
        found => Ok(found.map(|(history, _)| history)),
    }
}

/// The history of a formula that is wanted in one folder and looked for below another; and
/// whether that other one is missing in the commit before the oldest that is told.
fn history_below(
    repository: &Repository,
    (wanted_in, below): (&Path, &Path),
    from: &Commit,
    (formula, since): (&str, Option<&Commit>),
) -> Result<Option<(History, bool)>, Trouble> {
    let mut is_cut_off = false;
    let (commits, cut_short) = repository.history(from)?;
    let left_out: BTreeSet<Id> = match since {
        Some(since) => repository.history(since)?.0.iter().map(|it| it.id).collect(),
        None => BTreeSet::new(),
    };
    let mut states = States { walk: Walk::new(repository, below), known: FxHashMap::default() };
    let walk = &mut states.walk;
    let mut keys: FxHashMap<Id, (Key, Option<usize>)> = FxHashMap::default();
    let mut seen: Vec<Seen> = Vec::new();
    let mut said_by: FxHashMap<Digest, BTreeSet<String>> = FxHashMap::default();
    walk.go_to(from)?;
    // Of several with one name, the one in the folder that was meant.
    let inside = repository.inside(wanted_in).unwrap_or_default();
    let is_in = |path: &str| {
        let rest = path.strip_prefix(inside.as_str());
        rest.is_some_and(|rest| inside.is_empty() || rest.is_empty() || rest.starts_with('/'))
    };
    let mut named = walk.states.iter().filter(|((_, key), _)| key == formula);
    let Some(key) = named.find(|(_, state)| is_in(&state.path)).map(|(key, _)| key.clone()) else {
        return Ok(None);
    };
    walk.want(&key);
    walk.prepare(&commits)?;
    // By what name it is looked for, and the commit after it that had it.
    keys.insert(from.id, (key, None));
    for commit in commits {
        let Some((mut key, after)) = keys.get(&commit.id).cloned() else { continue };
        walk.want(&key);
        walk.go_to(&commit)?;
        // What the commit after it has besides is no former name of it.
        if !walk.states.contains_key(&key)
            && let Some(after) = after.and_then(|at| seen.get(at))
            && let Some(wanted) = after.digest.and_then(|digest| said_by.get(&digest))
        {
            walk.go_to(&after.commit)?;
            let known: BTreeSet<Key> = walk.states.keys().cloned().collect();
            walk.go_to(&commit)?;
            match renamed(walk, wanted, &key, &known) {
                Some(other) => {
                    key = other;
                    walk.want(&key);
                }
                None => {
                    let view = View::of_tree(repository, commit.tree);
                    is_cut_off |= below != repository.top && view.id_of(below).is_none();
                }
            }
        }
        let digest = walk.states.get(&key).map(|state| state.digest);
        if let Some(digest) = digest
            && !said_by.contains_key(&digest)
        {
            said_by.extend(walk.with(&key, |meaning, _| said(meaning)).map(|it| (digest, it)));
        }
        let at = digest.map(|_| seen.len());
        for parent in &commit.parents {
            let known = keys.entry(*parent).or_insert_with(|| (key.clone(), at));
            if known.1.is_none() && at.is_some() {
                *known = (key.clone(), at);
            }
        }
        let parents = commit.parents.clone();
        seen.push(Seen { commit, key, digest, parents });
    }
    let by_id: FxHashMap<Id, &Seen> = seen.iter().map(|it| (it.commit.id, it)).collect();
    // The line of commits that the newest one was made from: of a merge the side that it is
    // like, else the one that was merged into.
    let mut trunk: BTreeSet<Id> = BTreeSet::new();
    let mut next = by_id.get(&from.id);
    while let Some(it) = next.filter(|it| trunk.insert(it.commit.id)) {
        let mut parents = it.parents.iter().filter_map(|id| by_id.get(id));
        let alike = parents.clone().find(|parent| parent.digest == it.digest);
        next = alike.or_else(|| parents.next());
    }
    let mut rows = Vec::new();
    for it in &seen {
        let before = |id: &Id| by_id.get(id).and_then(|it| it.digest);
        let before: Vec<Option<Digest>> = it.parents.iter().map(before).collect();
        let Some(digest) = it.digest else {
            // It was taken away here, and not by a branch that was merged.
            let is_gone = !before.is_empty() && before.iter().all(Option::is_some);
            if is_gone && !left_out.contains(&it.commit.id) {
                let on_a_branch = !trunk.contains(&it.commit.id);
                let gone = row(repository, it, None, None);
                rows.push(HistoryRow { on_a_branch, what: ChangeKind::Removed, ..gone });
            }
            continue;
        };
        // A merge that takes one side over changes nothing that this side had not.
        if before.contains(&Some(digest)) || left_out.contains(&it.commit.id) {
            continue;
        }
        let now = states.at(it)?;
        let mut old: Vec<Option<Rc<Worked>>> = Vec::new();
        for parent in &it.parents {
            old.push(match by_id.get(parent) {
                Some(parent) => states.at(parent)?,
                None => None,
            });
        }
        let is_same = |before: &Rc<Worked>| now.as_ref().is_some_and(|now| before.is_same(now));
        if old.iter().flatten().any(is_same) {
            continue;
        }
        let old = old.into_iter().next().flatten();
        let on_a_branch = !trunk.contains(&it.commit.id);
        let is_known = |id: &Id| by_id.contains_key(id);
        let what = match before.iter().all(Option::is_none) && it.parents.iter().all(is_known) {
            true => ChangeKind::Added,
            false => ChangeKind::Changed,
        };
        let told = row(repository, it, now.as_deref(), old.as_deref());
        rows.push(HistoryRow { on_a_branch, what, ..told });
    }
    let formula = formula.to_owned();
    Ok(Some((History { version: VERSION, formula, rows, cut_short }, is_cut_off)))
}

fn worked(meaning: &Meaning, printed: &dyn Fn() -> Option<Printed>) -> Worked {
    Worked {
        named: meaning.named,
        own: meaning.own.facts.clone(),
        shared: meaning.shared.iter().copied().chain(&meaning.inner).cloned().collect(),
        printed: printed(),
        is_handout: meaning.own.kind.is_handout(),
    }
}

/// Where a formula that the last commit does not have is in the history.
pub struct Gone {
    /// The commit without it.
    pub revision: String,
    /// The author's day.
    pub date: String,
    /// The first line of its message.
    pub subject: String,
    /// What it was called from then on, where it was renamed.
    pub now: Option<String>,
}

/// The commit that took a formula away, or gave it another name.
///
/// # Errors
/// Where the repository can't be read.
pub fn gone(
    repository: &Repository,
    from: &Commit,
    formula: &str,
) -> Result<Option<Gone>, Trouble> {
    let mut walk = Walk::new(repository, &repository.top);
    // Commits without it, the newest first, whose parents are still to be looked at.
    let mut lacking: Vec<Commit> = Vec::new();
    let mut has: FxHashMap<Id, bool> = FxHashMap::default();
    let mut last: Option<(Commit, Commit, Key)> = None;
    for commit in repository.history(from)?.0 {
        walk.go_to(&commit)?;
        let key = walk.states.keys().find(|(_, key)| key == formula).cloned();
        has.insert(commit.id, key.is_some());
        let Some(key) = key else {
            lacking.push(commit);
            continue;
        };
        // A commit that was made from such as have it all took it away; a merge of a branch that
        // still had it did not.
        let is_child = |it: &&Commit| it.parents.contains(&commit.id);
        let took = |it: &&Commit| it.parents.iter().all(|it| has.get(it) == Some(&true));
        let found = lacking.iter().find(|it| is_child(it) && took(it)).cloned();
        let is_found = found.is_some();
        let child = || lacking.iter().find(is_child).cloned();
        if is_found || last.is_none() {
            last = found.or_else(child).map(|after| (after, commit, key)).or(last);
        }
        if is_found || lacking.is_empty() {
            break;
        }
    }
    let Some((after, commit, key)) = last else { return Ok(None) };
    walk.go_to(&commit)?;
    let wanted = walk.with(&key, |meaning, _| said(meaning)).unwrap_or_default();
    let known: BTreeSet<Key> = walk.states.keys().cloned().collect();
    walk.go_to(&after)?;
    let now = renamed(&walk, &wanted, &key, &known);
    Ok(Some(Gone {
        revision: repository.short(after.id),
        date: date_of(after.time, after.offset),
        subject: after.subject,
        now: now.map(|(_, key)| key.to_string()),
    }))
}

fn said(meaning: &Meaning) -> BTreeSet<String> {
    let facts = meaning.own.facts.all.iter();
    let facts = facts.filter(|fact| !matches!(fact.name.as_str(), "name" | "title"));
    facts
        .map(|it| {
            format!(
                "{}\u{1}{}\u{1}{}\u{1}{}",
                it.block.kind, it.block.name, it.name, it.value.canon
            )
        })
        .collect()
}

/// The formula that says most of the same, where the one looked for has another name: one that
/// moved to another house by its own name, else one that the next state does not know.
fn renamed(
    walk: &Walk,
    wanted: &BTreeSet<String>,
    (_, name): &Key,
    known: &BTreeSet<Key>,
) -> Option<Key> {
    let mut best = None;
    for other in walk.states.keys().filter(|other| !known.contains(*other)) {
        let Some(said) = walk.with(other, |meaning, _| said(meaning)) else { continue };
        let (same, all) = (said.intersection(wanted).count(), said.union(wanted).count());
        let rank = (other.1 == *name, same);
        if same * 2 > all && best.as_ref().is_none_or(|(most, _)| rank > *most) {
            best = Some((rank, other));
        }
    }
    best.map(|(_, other)| other.clone())
}

fn row(
    repository: &Repository,
    seen: &Seen,
    now: Option<&Worked>,
    before: Option<&Worked>,
) -> HistoryRow {
    let printed = now.and_then(|it| it.printed.as_ref());
    let old = before.and_then(|it| it.printed.as_ref());
    let all = || printed.into_iter().flat_map(|it| &it.document.figures);
    let commit = &seen.commit;
    let (mut says, mut renamed) = (Vec::new(), Renamed::default());
    if let (Some(before), Some(now)) = (before, now) {
        renamed = rename::of_all(&before.shared, &now.shared);
        says.extend(renamed.iter().map(|(was, (_, is))| Change {
            part: String::new(),
            of: String::new(),
            name: "called".to_owned(),
            old: Some(was.to_string()),
            new: Some(is.to_string()),
        }));
        says.extend(own_changes(&before.own, &now.own, &mut renamed));
        says.extend(shared_changes(&before.shared, &now.shared, &renamed, now.is_handout));
    }
    let both = old.zip(printed);
    let difference = both.map(|(old, new)| Difference::between(old, new, &renamed));
    let alone = || Difference {
        claims: printed
            .filter(|_| before.is_none())
            .map(|it| it.claims_alone(true))
            .unwrap_or_default(),
        ..Difference::default()
    };
    let Difference { claims, figures, sheet, .. } = difference.unwrap_or_else(alone);
    HistoryRow {
        date: date_of(commit.time, commit.offset),
        revision: repository.short(commit.id),
        subject: commit.subject.clone(),
        name: seen.key.1.to_string(),
        figures: all()
            .map(|it| (it.name.clone(), format!("{} {}", it.shown, it.unit).trim_end().to_owned()))
            .collect(),
        exact: all().map(|it| (it.name.clone(), it.exact.clone())).collect(),
        exact_high: all()
            .filter_map(|it| Some((it.name.clone(), it.exact_high.clone()?)))
            .collect(),
        has_errors: printed.is_none() && now.is_some_and(|it| !it.is_handout),
        had_errors: before.is_some_and(|it| it.printed.is_none() && !it.is_handout),
        what: ChangeKind::Changed,
        claims,
        moved: figures,
        says,
        sheet,
        is_merge: seen.parents.len() > 1,
        on_a_branch: false,
    }
}

/// The day of seconds since 1970, where clocks stand so many minutes from UTC.
pub fn date_of(seconds: i64, offset: i32) -> String {
    let days = seconds.saturating_add(i64::from(offset) * 60).div_euclid(86_400);
    // Counted from 1 March of the year 0, so that the odd day is a year's last one.
    let days = days.saturating_add(719_468);
    let (era, day) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let of_year = day - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    let month = if month < 10 { month + 3 } else { month - 9 };
    let year = year + era * 400 + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{of_month:02}")
}

/// The figures whose course is drawn.
const DRAWN: [&str; 2] = ["hydration", "salt"];

/// The most figures of a row that are told in a line.
const IN_ONE_LINE: usize = 4;

/// A line for each commit, and below them how hydration and salt went.
pub fn text(history: &History, wanted: &[String]) -> String {
    let mut written = String::new();
    let wide = history.rows.iter().map(|row| row.revision.len()).max().unwrap_or_default();
    for (at, row) in history.rows.iter().enumerate() {
        let mut told = told(row, wanted);
        // What was there once, and was taken away, is back.
        let is_back = row.what == ChangeKind::Added && at + 1 < history.rows.len();
        if is_back && !row.on_a_branch {
            told.insert(0, "back".to_owned());
        }
        let told = if told.is_empty() { String::new() } else { format!("  {}", told.join(", ")) };
        let merged = if row.is_merge { " (merge)" } else { "" };
        written.push_str(&format!(
            "{}  {:wide$}  {}{merged}{told}\n",
            row.date, row.revision, row.subject
        ));
    }
    if history.rows.len() > 1 {
        written.push('\n');
        for figure in drawn(wanted) {
            written.push_str(&course(history, figure));
        }
    }
    visible(&written).into_owned()
}

fn drawn(wanted: &[String]) -> Vec<&str> {
    match wanted.is_empty() {
        true => DRAWN.to_vec(),
        false => wanted.iter().map(String::as_str).collect(),
    }
}

fn told(row: &HistoryRow, wanted: &[String]) -> Vec<String> {
    if row.what == ChangeKind::Removed {
        return vec!["gone".to_owned()];
    }
    if row.has_errors {
        let says = weightiest(&row.says, IN_ONE_LINE);
        return std::iter::once("has errors, so that its figures can't be told".to_owned())
            .chain(says)
            .collect();
    }
    if !wanted.is_empty() {
        let known = wanted.iter().filter_map(|name| Some((name, row.figures.get(name)?)));
        return known.map(|(name, shown)| format!("{name} {shown}")).collect();
    }
    // What makes people ill comes first, and words of the sheet after the figures.
    let hurts = |it: &&SheetChange| {
        matches!(it.line.as_str(), "contains" | "may contain" | "allergens not known of")
    };
    let mended = row.had_errors.then(|| "had errors before".to_owned());
    let first = row.sheet.iter().filter(hurts).map(sheet_line);
    let moved = most(&row.moved, &row.says, IN_ONE_LINE);
    let (broken, kept): (Vec<&ClaimChange>, Vec<&ClaimChange>) =
        row.claims.iter().partition(|it| it.is_broken());
    let claims = |all: Vec<&ClaimChange>| all.into_iter().filter_map(claim).collect::<Vec<_>>();
    let told = mended.into_iter().chain(first).chain(claims(broken)).chain(moved);
    let mut told: Vec<String> = told.chain(claims(kept)).collect();
    if row.moved.is_empty() {
        let is_word = |it: &&SheetChange| it.old_grams.is_none() && it.new_grams.is_none();
        // A new name is told already.
        let is_name =
            |it: &&SheetChange| it.line.ends_with("of a line") || it.line.ends_with("of a column");
        let rest = || row.sheet.iter().filter(|it| !hurts(it) && !is_name(it));
        let words = rest().filter(is_word).map(sheet_line);
        let weights = rest().filter(|it| !is_word(it)).map(sheet_line);
        told.extend(words.chain(weights).take(1).map(|line| shortened(&line)));
    }
    told
}

/// A figure of a row as one number; of a range, its middle.
fn value(row: &HistoryRow, figure: &str) -> Option<Exact> {
    let low = read_exact(row.exact.get(figure)?)?;
    let high = row.exact_high.get(figure).and_then(|high| read_exact(high));
    Some((&low + high.as_ref().unwrap_or(&low)).one_in::<2>())
}

/// The most blocks of a course.
const WIDEST: usize = 60;

/// A figure's course from the oldest to the newest, as blocks of eight heights.
fn course(history: &History, figure: &str) -> String {
    const BLOCKS: [&str; 8] = ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
    // Branches come in where they were merged.
    let rows = history.rows.iter().rev().filter(|row| !row.on_a_branch);
    let values: Vec<Option<Exact>> = rows.map(|row| value(row, figure)).collect();
    let known = || values.iter().flatten();
    let (Some(low), Some(high)) = (known().min(), known().max()) else { return String::new() };
    // Of many the one that stands out most among its neighbours.
    let middle = (low + high).one_in::<2>();
    let apart = |value: &&Option<Exact>| value.as_ref().map(|it| (it - &middle).abs());
    let several = values.len().div_ceil(WIDEST).max(1);
    let drawn = values.chunks(several).filter_map(|some| some.iter().max_by_key(apart));
    let block = |value: &Option<Exact>| match value {
        None => " ",
        Some(value) => {
            let share = (value - low).over(&(high - low)).unwrap_or(Exact::ZERO);
            let place = (share * Exact::from(7)).nearest().to_whole().unwrap_or_default();
            BLOCKS.get(usize::try_from(place).unwrap_or_default()).copied().unwrap_or(" ")
        }
    };
    let blocks: String = drawn.map(block).collect();
    let shown = |wanted: &Exact| {
        let row = history.rows.iter().find(|row| value(row, figure).as_ref() == Some(wanted));
        row.and_then(|row| row.figures.get(figure)).cloned().unwrap_or_default()
    };
    let range = match low == high {
        true => shown(low),
        false => format!("{} to {}", shown(low), shown(high)),
    };
    format!("{figure:10}  {blocks}  {range}\n")
}

/// The history for programs.
pub fn json(history: &History) -> String {
    pretty(history)
}

/// The published JSON Schema of [`History`].
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    pretty(&schemars::schema_for!(History))
}

/// The digits behind the point of a number for a spreadsheet, which would take a fraction for
/// a date.
const DIGITS: u8 = 9;

/// A row for each commit, a column for each figure; two for one that is a range somewhere,
/// its low end and its high one.
pub fn csv(history: &History, wanted: &[String]) -> String {
    let all: BTreeSet<&str> =
        history.rows.iter().flat_map(|row| row.exact.keys()).map(String::as_str).collect();
    let names: Vec<&str> = match wanted.is_empty() {
        true => all.into_iter().collect(),
        false => wanted.iter().map(String::as_str).collect(),
    };
    // Each column: its name, and whether it is that of the high ends.
    let mut columns: Vec<(&str, bool)> = Vec::new();
    for name in names {
        columns.push((name, false));
        if history.rows.iter().any(|row| row.exact_high.contains_key(name)) {
            columns.push((name, true));
        }
    }
    let own = ["date", "revision", "subject", "name", "state", "line"].map(str::to_owned);
    let figures = columns.iter().map(|(name, is_high)| match is_high {
        true => format!("{name} high"),
        false => (*name).to_owned(),
    });
    let heads: Vec<String> = own.into_iter().chain(figures).collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let rows = history.rows.iter().map(|row| {
        let own = [&row.date, &row.revision, &row.subject, &row.name].map(Clone::clone);
        let state = if row.has_errors { "has errors" } else { "sound" };
        let figures = columns.iter().map(|(name, is_high)| {
            let high = row.exact_high.get(*name).filter(|_| *is_high);
            let exact = high.or(row.exact.get(*name)).and_then(|it| read_exact(it));
            exact.map(|number| trimmed(&number, DIGITS)).unwrap_or_default()
        });
        // A course is drawn through the trunk and its merges; what stood on a branch is told
        // as such.
        let line = match (row.on_a_branch, row.is_merge) {
            (true, _) => "branch",
            (_, true) => "merge",
            _ => "trunk",
        };
        let own = own.into_iter().chain([state, line].map(str::to_owned)).map(Cell::Text);
        own.chain(figures.map(Cell::Number)).collect::<Vec<_>>()
    });
    spreadsheet(&heads, rows)
}

/// The courses of the figures as a picture, the oldest commit on the left.
pub fn svg(history: &History, wanted: &[String]) -> String {
    let figures = drawn(wanted);
    let height = HIGH * i64::try_from(figures.len()).unwrap_or(1);
    let panels: String =
        (0..).zip(&figures).map(|(place, figure)| panel(history, figure, place * HIGH)).collect();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDE} {height}\" role=\"img\" \
         font-family=\"Libertinus Serif, Georgia, serif\" font-size=\"13\">\n\
         <title>History of {}</title>\n{panels}</svg>\n",
        escaped(&history.formula)
    )
}

/// The width of the picture, and the height of one figure's course.
const WIDE: i64 = 720;
const HIGH: i64 = 150;

fn escaped(text: &str) -> String {
    let text = visible(text).replace('&', "&amp;").replace('<', "&lt;");
    text.replace('>', "&gt;").replace('"', "&quot;")
}

fn panel(history: &History, figure: &str, top: i64) -> String {
    let rows: Vec<&HistoryRow> = history.rows.iter().rev().filter(|row| !row.on_a_branch).collect();
    let values: Vec<Option<Exact>> = rows.iter().map(|row| value(row, figure)).collect();
    let low = values.iter().flatten().min().cloned().unwrap_or_default();
    let high = values.iter().flatten().max().cloned().unwrap_or_default();
    let last = i64::try_from(rows.len()).unwrap_or(1).max(2) - 1;
    let point = |(at, value): (i64, &Option<Exact>)| {
        let share = (value.as_ref()? - &low).over(&(&high - &low)).unwrap_or(Exact::ZERO);
        let up = (share * Exact::from(HIGH - 70)).nearest().to_whole()?;
        Some((20 + (WIDE - 180) * at / last, top + HIGH - 35 - i64::try_from(up).ok()?))
    };
    let points: Vec<Option<(i64, i64)>> = (0..).zip(&values).map(point).collect();
    let line: Vec<String> = points.iter().flatten().map(|(x, y)| format!("{x},{y}")).collect();
    let shown = |row: &HistoryRow| escaped(row.figures.get(figure).map_or("", String::as_str));
    let mut written = format!(
        "<text x=\"20\" y=\"{}\" font-weight=\"bold\">{}</text>\n\
         <polyline points=\"{}\" fill=\"none\" stroke=\"#2f4858\" stroke-width=\"2\"/>\n",
        top + 20,
        escaped(figure),
        line.join(" ")
    );
    for (point, row) in points.iter().zip(&rows) {
        let Some((x, y)) = point else { continue };
        written.push_str(&format!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"4\" fill=\"#2f4858\"><title>{} {}: {}</title></circle>\n",
            row.date,
            escaped(&row.subject),
            shown(row)
        ));
    }
    if let (Some(Some((x, y))), Some(row)) = (points.last(), rows.last()) {
        written.push_str(&format!(
            "<text x=\"{}\" y=\"{}\">{}</text>\n<text x=\"{}\" y=\"{}\" text-anchor=\"end\" \
             fill=\"#555\">{}</text>\n",
            x + 10,
            y + 4,
            shown(row),
            WIDE - 160,
            top + HIGH - 10,
            row.date
        ));
    }
    if let (Some(Some((x, y))), Some(row)) = (points.first(), rows.first())
        && points.first() != points.last()
    {
        // Neither the name above nor the date below is in its way.
        let y = if *y < top + HIGH / 2 { y + 18 } else { y - 10 };
        written.push_str(&format!("<text x=\"{x}\" y=\"{y}\">{}</text>\n", shown(row)));
    }
    if let Some(row) = rows.first().filter(|_| rows.len() > 1) {
        let y = top + HIGH - 10;
        written.push_str(&format!("<text x=\"20\" y=\"{y}\" fill=\"#555\">{}</text>\n", row.date));
    }
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_those_of_the_authors_clock() {
        for (seconds, offset, date) in [
            (0, 0, "1970-01-01"),
            (-1, 0, "1969-12-31"),
            (951_782_399, 0, "2000-02-28"),
            (951_782_400, 0, "2000-02-29"),
            (951_868_800, 0, "2000-03-01"),
            (1_772_409_600, 0, "2026-03-02"),
            (1_772_409_599, 60, "2026-03-02"),
            (1_772_409_600, -60, "2026-03-01"),
            (4_107_542_400, 0, "2100-03-01"),
        ] {
            assert_eq!(date_of(seconds, offset), date);
        }
    }
}
