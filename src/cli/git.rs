//! `assize git-setup`, `git-text` and `git-merge`: what makes git itself speak of formulas.

use super::args::{GitMerge, GitSetup, GitText};
use super::exit::Exit;
use super::revisions::{repository, told};
use super::tell::{tell_on_error, usage};
use super::{streams, write};
use crate::desk::{self, FileSystem, read_old, why};
use crate::diag::Level;
use crate::history::git::Repository;
use crate::history::merge3::{
    Meaning, MergeSide, Merged, OURS, THEIRS, Taken, as_conflict, as_conflict_of_lines, comment_of,
    head, least_conflict, merge as merged, opened, without_base,
};
use crate::history::plain;
use crate::source::{SourceId, visible};
use crate::syntax::{both_sides, tree::Tree};
use std::io::IsTerminal;
use std::ops::Range;
use std::path::{Path, PathBuf};

/// Lines of `.gitattributes`.
const ATTRIBUTES: &str = "*.dough diff=assize merge=assize\n";

/// Lines of git's settings of one repository.
/// Where the command is not at hand, git shows the text and merges it as any other: else it
/// would keep one side and drop the other's edit without a mark.
const DIFF: &str = r#"[diff "assize"]
	textconv = "f() { if command -v assize > /dev/null; then assize git-text \"$1\"; else cat \"$1\"; fi; }; f"
"#;

/// The lines for merges.
const MERGE: &str = r#"[merge "assize"]
	name = formulas, line by line
	driver = "if command -v assize > /dev/null; then assize git-merge --style \"$(git config merge.conflictStyle)\" --ours-name %X --theirs-name %Y %O %A %B %P; else git merge-file %A %O %B; fi"
"#;

/// What whoever sets it up has to know.
const BLIND: &str = "\
    git diff and git log -p then tell what is said; changes of comments and layout alone show \
    with `--no-textconv`; formulas in Markdown files are compared and merged as text\n";

/// Shows what git has to know, asks, and writes it.
pub fn set_up(args: &GitSetup) -> Exit {
    let repository = match repository() {
        Ok(repository) => repository,
        Err(trouble) => return told(&trouble),
    };
    if repository.is_bare {
        return refused("this repository is bare: it has no files to be compared");
    }
    let files = match missing(&repository) {
        Ok(files) => files,
        Err(why) => return refused(&why),
    };
    if files.is_empty() {
        return streams::output("git already knows how to compare and merge formulas here\n");
    }
    let shown = |it: &Lacking| format!("{}:\n{}\n", streams::path(&it.path), it.added);
    let shown: String = files.iter().map(shown).collect();
    let written = streams::output(shown + BLIND);
    if args.print {
        return written;
    }
    if !args.yes {
        match asked() {
            Some(true) => {}
            Some(false) => return refused("nothing was written"),
            None => return refused("nothing was written: nobody can be asked here; say `--yes`"),
        }
    }
    for Lacking { path, added, bytes } in &files {
        if let Err(finding) = write::made(path, &[bytes.as_slice(), added.as_bytes()].concat()) {
            tell_on_error(&[*finding], &desk::sources(""));
            return Exit::Findings;
        }
    }
    streams::output("written\n")
}

fn refused(why: &str) -> Exit {
    streams::error_text(format!("assize: {why}\n"));
    Exit::Findings
}

/// A file that lacks something.
struct Lacking {
    path: PathBuf,
    /// The lines to be added.
    added: String,
    /// What it holds already, byte by byte, with a line break at its end.
    bytes: Vec<u8>,
}

/// What a file of git's is asked for.
enum Asked {
    Attributes,
    Settings,
}

/// The files that lack something, or why one of them is left alone.
fn missing(repository: &Repository) -> Result<Vec<Lacking>, String> {
    let wanted = [
        (repository.top.join(".gitattributes"), Asked::Attributes),
        (repository.config_file(), Asked::Settings),
    ];
    let mut all = Vec::new();
    for (path, asked) in wanted {
        let shown = streams::path(&path);
        if path.symlink_metadata().is_ok_and(|known| known.is_symlink()) {
            return Err(format!(
                "nothing was written: {shown} is a link, and the file it points to may not belong to \
                 this repository"
            ));
        }
        let mut bytes = match bytes_of(&path) {
            Ok(bytes) => bytes,
            Err(_) if path.symlink_metadata().is_err() => Vec::new(),
            Err(why) => return Err(format!("nothing was written: {shown}: {why}")),
        };
        // Its own bytes stay as they are, whatever letters they are of.
        let text = String::from_utf8_lossy(&bytes);
        let added = match asked {
            Asked::Attributes => lacking_attributes(&text),
            Asked::Settings => lacking_settings(&text),
        };
        if added.is_empty() {
            continue;
        }
        if !bytes.is_empty() && !bytes.ends_with(b"\n") {
            bytes.push(b'\n');
        }
        all.push(Lacking { path, added, bytes });
    }
    Ok(all)
}

/// The line that attributes lack. Of several lines for one thing git takes the last, so ours
/// has to be that.
fn lacking_attributes(text: &str) -> String {
    let mut last: [Option<&str>; 2] = [None; 2];
    for line in text.lines().map(str::trim_start).filter(|line| !line.starts_with('#')) {
        let mut words = line.split_ascii_whitespace();
        let Some(pattern) = words.next() else { continue };
        // What is said of some names only may be meant for formulas too.
        if !(pattern.ends_with('*') || pattern.contains(".dough")) {
            continue;
        }
        for word in words {
            let name = word.trim_start_matches(['-', '!']);
            let name = name.split_once('=').map_or(name, |(name, _)| name);
            for (own, last) in ["diff", "merge"].iter().zip(&mut last) {
                if name == *own || name == "binary" {
                    *last = Some(word).filter(|_| pattern == "*.dough");
                }
            }
        }
    }
    match last {
        [Some("diff=assize"), Some("merge=assize")] => String::new(),
        _ => ATTRIBUTES.to_owned(),
    }
}

/// The sections that git's settings lack.
fn lacking_settings(text: &str) -> String {
    // One line says all of it.
    let has = |marks: [&str; 2]| {
        let mut lines = text.lines().filter(|line| !line.trim_start().starts_with(['#', ';']));
        lines.any(|line| marks.iter().all(|mark| line.contains(mark)))
    };
    let wanted = [(DIFF, ["textconv", "assize git-text"]), (MERGE, ["driver", "assize git-merge"])];
    wanted.into_iter().filter(|(_, marks)| !has(*marks)).map(|(added, _)| added).collect()
}

/// Whether whoever is at the terminal wants it; none where nobody is.
fn asked() -> Option<bool> {
    if !std::io::stdin().is_terminal() {
        return None;
    }
    streams::error_text("write these lines? [y/N] ");
    let mut answer = String::new();
    std::io::stdin().read_line(&mut answer).ok()?;
    Some(matches!(answer.trim().to_lowercase().as_str(), "y" | "yes"))
}

/// Writes a file as git compares it.
pub fn text(args: &GitText) -> Exit {
    let bytes = match bytes_of(&args.file) {
        Ok(bytes) => bytes,
        Err(why) => return usage(&format!("{}: {why}", args.file.display())),
    };
    // Git hands on copies whose names end as it likes.
    let name = if desk::is_manuscript(&args.file) { "a.md" } else { "a.dough" };
    match read_old(Path::new(name), SourceId::ASKED, &bytes) {
        Some(tree) if !tree.formulas.iter().any(|formula| formula.broken) => {
            streams::output(plain::text(&tree))
        }
        // What can't be read to the end is compared as it stands.
        _ => match in_conflict(name, &bytes) {
            Some(text) => streams::output(text),
            // A terminal would obey what is no text.
            None if std::io::stdout().is_terminal() => {
                streams::output(&*visible(&String::from_utf8_lossy(&bytes)))
            }
            None => streams::output(&bytes),
        },
    }
}

/// A file with marks of git's in it, as git compares it: what both sides say once, and the rest
/// between marks; none where a side can't be read.
fn in_conflict(name: &str, bytes: &[u8]) -> Option<String> {
    let text = std::str::from_utf8(bytes).ok()?;
    let sides = both_sides(text)?;
    let reader = Reader { path: Path::new(name) };
    let [ours, theirs] = sides.map(|text| reader.tree(&text));
    Some(as_conflict_of_lines(&plain::text(&ours?), &plain::text(&theirs?)))
}

/// The bytes of an ordinary file that is not too large, or why there are none.
fn bytes_of(path: &Path) -> Result<Vec<u8>, String> {
    let bytes = desk::Disk.bytes(path, desk::MAX_BYTES).map_err(|error| why(&error))?;
    match bytes.len() as u64 > desk::MAX_BYTES {
        true => Err("it is larger than a file of formulas may be, 8 MB".to_owned()),
        false => Ok(bytes),
    }
}

/// Merges two edits into ours.
pub fn merge(args: &GitMerge) -> Exit {
    let read =
        |path: &Path| bytes_of(path).map_err(|why| format!("assize: {}: {why}\n", path.display()));
    let texts = [&args.base, &args.ours, &args.theirs].map(|path| read(path));
    let [Ok(base), Ok(ours), Ok(theirs)] = texts else {
        texts.into_iter().filter_map(Result::err).for_each(streams::error_text);
        return Exit::NotMerged;
    };
    let all = [&base, &ours, &theirs];
    // Letters of two bytes have no lines that could be told apart here.
    let is_wide = |bytes: &[u8]| {
        bytes.contains(&0) || bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff])
    };
    if all.iter().any(|bytes| is_wide(bytes)) {
        let path = args.path.display();
        streams::error_text(format!("assize: {path}: it is not text in UTF-8\n"));
        return Exit::NotMerged;
    }
    let too_long = || {
        streams::error_text(format!("assize: {} is too long to be merged\n", args.path.display()));
        Exit::NotMerged
    };
    let [Some(base_text), Some(our_text), Some(their_text)] =
        all.map(|bytes| std::str::from_utf8(bytes).ok())
    else {
        // Lines are lines in whatever letters they are written; each byte stands for one here.
        let [base, ours, theirs] =
            all.map(|bytes| bytes.iter().map(|byte| char::from(*byte)).collect::<String>());
        let Some(merged) = merged(&base, &ours, &theirs, &Unread) else { return too_long() };
        let text = in_style(args, merged.text());
        let bytes: Vec<u8> = text.chars().filter_map(|it| u8::try_from(it).ok()).collect();
        return ended(args, &with_ends_of(&bytes, all), merged.conflicts);
    };
    let Some((mut text, mut conflicts)) = together(&args.path, base_text, our_text, their_text)
    else {
        return too_long();
    };
    let is_sound = |text: &str| errors(&args.path, text) == 0;
    if conflicts == 0 && is_sound(our_text) && is_sound(their_text) && !is_sound(&text) {
        // Each line by itself fits, and together they do not.
        let reader = Reader { path: &args.path };
        (text, conflicts) = apart(&reader, base_text, [our_text, their_text]);
    }
    let text = in_style(args, text);
    ended(args, &with_ends_of(text.as_bytes(), all), conflicts)
}

/// Conflicts as git's own setting wants them, `merge.conflictStyle`: with what both began from,
/// or without it; with what git calls the sides, where it tells that.
fn in_style(args: &GitMerge, text: String) -> String {
    let text = match args.style.as_str() {
        "diff3" | "zdiff3" => text,
        _ => without_base(&text),
    };
    // Older versions of git hand on the sign itself.
    let name = |name: &str| {
        let name = name.lines().next().unwrap_or_default().trim();
        (!name.is_empty() && !name.starts_with('%')).then(|| name.to_owned())
    };
    let names =
        [(OURS, "<<<<<<<", name(&args.ours_name)), (THEIRS, ">>>>>>>", name(&args.theirs_name))];
    let named = |line: &str| {
        let mark = names.iter().find(|(mark, ..)| line.trim_end() == *mark);
        match mark {
            Some((mark, sign, Some(name))) => line.replacen(mark, &format!("{sign} {name}"), 1),
            _ => line.to_owned(),
        }
    };
    text.split_inclusive('\n').map(named).collect()
}

/// What can't be read means nothing: its lines are brought together as they stand.
struct Unread;

impl Meaning for Unread {
    fn is_same(&self, _: &str, _: &str) -> bool {
        false
    }

    fn differ(&self, _: &str, _: &str) -> bool {
        true
    }

    fn joins(&self, _: &str, _: &str, _: &str, _: &str) -> bool {
        false
    }
}

/// Lines with the ends that those of both sides have, or that one of them gave all its lines.
fn with_ends_of(merged: &[u8], [base, ours, theirs]: [&Vec<u8>; 3]) -> Vec<u8> {
    let ends = |bytes: &[u8]| {
        let (mut lines, mut pairs) = (0, 0);
        for (at, byte) in bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n') {
            lines += usize::from(*byte == b'\n');
            pairs += usize::from(at > 0 && bytes.get(at - 1) == Some(&b'\r'));
        }
        pairs * 2 > lines
    };
    let (was, one, two) = (ends(base), ends(ours), ends(theirs));
    let in_pairs = if one == was { two } else { one };
    let mut written = Vec::with_capacity(merged.len());
    for (at, byte) in merged.iter().enumerate() {
        let ends_it = merged.get(at + 1) == Some(&b'\n') || at + 1 == merged.len();
        match *byte {
            b'\r' if ends_it => {}
            b'\n' if in_pairs => written.extend_from_slice(b"\r\n"),
            byte => written.push(byte),
        }
    }
    written
}

/// Writes what was merged, and tells git how it went.
fn ended(args: &GitMerge, merged: &[u8], conflicts: usize) -> Exit {
    if let Err(finding) = write::whole(&args.ours, merged) {
        tell_on_error(&[*finding], &desk::sources(""));
        return Exit::NotMerged;
    }
    match conflicts {
        0 => Exit::Clean,
        _ => Exit::Findings,
    }
}

/// What texts of one file mean.
struct Reader<'p> {
    path: &'p Path,
}

impl Reader<'_> {
    fn tree(&self, text: &str) -> Option<Tree> {
        let name = if desk::is_manuscript(self.path) { "a.md" } else { "a.dough" };
        let tree = read_old(Path::new(name), SourceId::ASKED, text.as_bytes())?;
        (!tree.formulas.iter().any(|formula| formula.broken)).then_some(tree)
    }
}

impl Meaning for Reader<'_> {
    fn is_same(&self, one: &str, two: &str) -> bool {
        let trees = self.tree(one).zip(self.tree(two));
        trees.is_some_and(|(one, two)| plain::is_same(&one, &two))
    }

    fn differ(&self, one: &str, two: &str) -> bool {
        let trees = self.tree(one).zip(self.tree(two));
        trees.is_some_and(|(one, two)| !plain::is_same(&one, &two))
    }

    fn joins(&self, base: &str, ours: &str, theirs: &str, both: &str) -> bool {
        let trees = [base, ours, theirs, both].map(|text| self.tree(text));
        match trees {
            [Some(base), Some(ours), Some(theirs), Some(both)] => {
                plain::joins(&base, &ours, &theirs, &both)
            }
            _ => false,
        }
    }
}

/// Two edits brought together, and how often they conflict: line by line, or as one of them
/// where the other one changed no meaning and no comment.
fn together(path: &Path, base: &str, ours: &str, theirs: &str) -> Option<(String, usize)> {
    let reader = Reader { path };
    let mut merged = merged(base, ours, theirs, &reader)?;
    if merged.conflicts == 0 {
        if !once_each(&reader, &mut merged) {
            return Some(apart(&reader, base, [ours, theirs]));
        }
        let text = merged.text();
        let trees = [base, ours, theirs, &text].map(|text| reader.tree(text));
        if let [Some(base_tree), Some(our_tree), Some(their_tree), Some(both)] = &trees
            && (plain::loses_an_order(base_tree, [our_tree, their_tree, both])
                || plain::halve_a_decision(base_tree, our_tree, their_tree))
        {
            return Some(apart(&reader, base, [ours, theirs]));
        }
        if loses_a_comment(base, [ours, theirs, &text]) {
            return Some(apart(&reader, base, [ours, theirs]));
        }
        return Some((text, merged.conflicts));
    }
    let means = |one: &str, two: &str| reader.is_same(one, two);
    let only_laid_out = |one: &str, two: &str| means(one, two) && comments(one) == comments(two);
    if only_laid_out(base, ours) {
        return Some((theirs.to_owned(), 0));
    }
    if only_laid_out(base, theirs) || only_laid_out(ours, theirs) {
        return Some((ours.to_owned(), 0));
    }
    if merged.cuts {
        return Some(apart(&reader, base, [ours, theirs]));
    }
    let text = merged.text();
    match can_be_settled(&reader, base, [ours, theirs], &text) {
        true => Some((text, merged.conflicts)),
        false => Some(apart(&reader, base, [ours, theirs])),
    }
}

/// Two edits that can't be brought together, with marks around no more than they need, and how
/// many conflicts these are.
fn apart(reader: &Reader, base: &str, [ours, theirs]: [&str; 2]) -> (String, usize) {
    let trees = [base, ours, theirs].map(|text| reader.tree(text));
    let [Some(base_tree), Some(our_tree), Some(their_tree)] = &trees else {
        return (as_conflict(base, ours, theirs), 1);
    };
    let slips = |text: &str, tree: &Tree| errors(reader.path, text) + plain::said_twice(tree);
    let of_sides = [(ours, our_tree), (theirs, their_tree)].map(|(text, tree)| slips(text, tree));
    // What is left is no third bread, and says all that the side says.
    let is_one = |sides: [(&str, &Tree); 2], both: &str, (side, most): (&Tree, usize)| {
        let Some(tree) = reader.tree(both) else { return false };
        let [(one, one_tree), (two, two_tree)] = sides;
        !plain::lacks(&tree, base_tree, side)
            && !plain::loses_an_order(base_tree, [one_tree, two_tree, &tree])
            && !plain::halve_a_decision(base_tree, one_tree, two_tree)
            && !loses_a_comment(base, [one, two, both])
            && slips(both, &tree) <= most
    };
    let stands = |taken: &Taken| {
        let [Some(own), Some(other)] = [&taken.ours, &taken.theirs].map(|text| reader.tree(text))
        else {
            return false;
        };
        let [our_most, their_most] = of_sides;
        is_one([(ours, our_tree), (&taken.theirs, &other)], &taken.as_ours, (our_tree, our_most))
            && is_one(
                [(&taken.ours, &own), (theirs, their_tree)],
                &taken.as_theirs,
                (their_tree, their_most),
            )
    };
    match least_conflict(base, ours, theirs, &stands) {
        Some((text, count)) if count > 0 => (text, count),
        _ => (as_conflict(base, ours, theirs), 1),
    }
}

/// Whether taking either side of every conflict leaves a text that is as sound as that side and
/// has all that it has, so that nothing a side says stands nowhere.
fn can_be_settled(reader: &Reader, base: &str, sides: [&str; 2], merged: &str) -> bool {
    let Some(settled) = both_sides(merged) else { return true };
    let base = reader.tree(base);
    settled.iter().zip(sides).all(|(text, side)| {
        let (tree, of_side) = (reader.tree(text), reader.tree(side));
        let lacks = match (&tree, &base, &of_side) {
            (Some(tree), Some(base), Some(of_side)) => plain::lacks(tree, base, of_side),
            (tree, _, of_side) => tree.is_none() && of_side.is_some(),
        };
        !lacks && errors(reader.path, text) <= errors(reader.path, side)
    })
}

/// Brings together what both sides say of one thing in different places: once where they say
/// the same, a conflict where they do not; whether that tells both sides, which it does not where
/// both say the same in different places.
fn once_each(reader: &Reader, merged: &mut Merged) -> bool {
    // Beside the result, which can't be read once it has marks, one without any.
    let mut plain = merged.clone();
    // Of what can't be read the other slips are not told.
    let slips = |text: &str| {
        let tree = reader.tree(text);
        let twice = tree.as_ref().map_or(0, plain::said_twice);
        (tree.is_none(), errors(reader.path, text) + twice)
    };
    let mut most = MAX_PAIRS;
    while let Some((ours, theirs)) =
        pairs(&plain.lines).into_iter().take(most).find(|(_, theirs)| {
            most -= 1;
            slips(&without(&plain.lines, theirs)) < slips(&plain.text())
        })
    {
        let of = |range: &Range<usize>| plain.lines.get(range.clone()).unwrap_or_default();
        let words = |range: &Range<usize>| -> Vec<&str> {
            of(range).iter().flat_map(|(line, _)| line.split_whitespace()).collect()
        };
        let [one, two] = [&theirs, &ours].map(|range| without(&plain.lines, range));
        // A step that each side put elsewhere is none of both.
        let is_same = !reader.differ(&one, &two)
            && (words(&ours) == words(&theirs)
                || of(&ours).iter().all(|(line, _)| comment_of(line).is_empty())
                    && of(&theirs).iter().all(|(line, _)| comment_of(line).is_empty())
                    && reader.is_same(&one, &two));
        // Marks are set where the lines stand now.
        let now = |range: &Range<usize>| {
            let lines = of(range);
            let at = merged.lines.windows(lines.len()).position(|some| some == lines)?;
            Some(at..at + lines.len())
        };
        let (Some(now_ours), Some(now_theirs)) = (now(&ours), now(&theirs)) else { return true };
        if !is_same && words(&ours) == words(&theirs) {
            return false;
        }
        merged.bring_together(now_ours, now_theirs, is_same);
        plain.bring_together(ours, theirs, true);
    }
    true
}

/// The most pairs of lines that are tried; each takes reading the file in its house.
const MAX_PAIRS: usize = 40;

fn without(lines: &[(String, MergeSide)], range: &Range<usize>) -> String {
    let kept = lines.iter().enumerate().filter(|(at, _)| !range.contains(at));
    kept.fold(String::new(), |text, (_, (line, _))| text + line + "\n")
}

/// The places where each side may speak of one thing, with the blocks that open there.
fn pairs(lines: &[(String, MergeSide)]) -> Vec<(Range<usize>, Range<usize>)> {
    let of = |side: MergeSide| -> Vec<(String, Range<usize>)> {
        let starts = lines.iter().enumerate().filter(|(_, (_, of))| *of == side);
        let named = starts.map(|(at, (line, _))| (spoken_of(line), at));
        let named = named.filter(|(name, _)| name.chars().any(char::is_alphabetic));
        named.filter_map(|(name, at)| Some((name, block(lines, at, side)?))).collect()
    };
    let theirs = of(MergeSide::Theirs);
    let pair = |(name, ours): (String, Range<usize>)| {
        let same = theirs.iter().filter(move |(other, _)| *other == name);
        same.map(move |(_, theirs)| (ours.clone(), theirs.clone()))
    };
    of(MergeSide::Ours).into_iter().flat_map(pair).collect()
}

/// What a line speaks of: its words before a number, a text or a block, and before what it is
/// like.
fn spoken_of(line: &str) -> String {
    let head = head(line).to_lowercase();
    let ends = [" like ", " is ", " from "].iter().filter_map(|word| head.find(word));
    head.get(..ends.min().unwrap_or(head.len())).unwrap_or_default().to_owned()
}

/// A line with the block that it opens, all of one side.
fn block(lines: &[(String, MergeSide)], at: usize, side: MergeSide) -> Option<Range<usize>> {
    let mut depth = 0;
    for (end, (line, of)) in lines.iter().enumerate().skip(at) {
        if *of != side {
            return None;
        }
        depth += opened(line);
        if depth <= 0 {
            return (depth == 0).then_some(at..end + 1);
        }
    }
    None
}

/// What stands after each `#` of a text, in any order.
fn comments(text: &str) -> Vec<&str> {
    let mut all: Vec<&str> =
        text.lines().map(comment_of).filter(|comment| !comment.is_empty()).collect();
    all.sort_unstable();
    all
}

/// Whether a merged text lacks a comment that a side has put in or left, or has one that a side
/// has taken out.
fn loses_a_comment(base: &str, [ours, theirs, both]: [&str; 3]) -> bool {
    let [base, ours, theirs, both] = [base, ours, theirs, both].map(comments);
    let all = base.iter().chain(&ours).chain(&theirs);
    all.into_iter().any(|comment| {
        let count = |of: &[&str]| of.iter().filter(|it| *it == comment).count();
        let [was, one, two, now] = [count(&base), count(&ours), count(&theirs), count(&both)];
        now != if one == two { one } else { (one + two).saturating_sub(was) }
    })
}

/// How many errors a text has in its place among the files as they are.
fn errors(path: &Path, text: &str) -> usize {
    let home = super::asked::home();
    let path = home.join(path);
    let files = Instead { path: &path, text };
    let loaded = desk::load(&files, &home, std::slice::from_ref(&path));
    let findings = desk::report(&loaded, None).findings;
    let own = |source| loaded.asked_for().any(|file| file.source == source);
    let is_error = |it: &&crate::diag::Finding| {
        it.level == Level::Error && it.allowed.is_none() && own(it.span().source)
    };
    findings.iter().filter(is_error).count()
}

/// The disk with another text in one of its files.
struct Instead<'i> {
    path: &'i Path,
    text: &'i str,
}

impl FileSystem for Instead<'_> {
    fn is_folder(&self, path: &Path) -> std::io::Result<bool> {
        if path == self.path { Ok(false) } else { desk::Disk.is_folder(path) }
    }

    fn list(&self, folder: &Path) -> std::io::Result<Vec<(std::path::PathBuf, bool)>> {
        desk::Disk.list(folder)
    }

    fn size(&self, path: &Path) -> std::io::Result<u64> {
        if path == self.path { Ok(self.text.len() as u64) } else { desk::Disk.size(path) }
    }

    fn bytes(&self, path: &Path, most: u64) -> std::io::Result<Vec<u8>> {
        match path == self.path {
            true => Ok(self.text.as_bytes().to_vec()),
            false => desk::Disk.bytes(path, most),
        }
    }

    fn is_below(&self, folder: &Path, path: &Path) -> std::io::Result<bool> {
        desk::Disk.is_below(folder, path)
    }
}
