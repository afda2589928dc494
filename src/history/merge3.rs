//! Two edits of one text brought together, line by line.
//!
//! A line that only one side changed is that side's, even beside a line of the other's; lines
//! that differ in blanks alone, or mean the same, are the same. Within a line that both
//! changed, words are brought together in the same way where the sides speak of different
//! things. What both changed differently is a conflict.

use std::cell::Cell;
use std::ops::Range;

/// The mark that git sets at the beginning of a conflict.
pub const OURS: &str = "<<<<<<< ours";
const BASE_MARK: &str = "||||||| base";
const MIDDLE: &str = "=======";
/// The same at the end of one.
pub const THEIRS: &str = ">>>>>>> theirs";

/// The largest table of lines that is filled, base by side.
const MAX_CELLS: usize = 40_000_000;

/// How often it is asked whether two lines mean the same, which takes reading the whole text
/// with each of them.
const MAX_ASKED: usize = 200;

/// What whole texts mean.
pub trait Meaning {
    /// Whether two texts mean the same.
    fn is_same(&self, one: &str, two: &str) -> bool;

    /// Whether two texts that can be read mean different things.
    fn differ(&self, one: &str, two: &str) -> bool;

    /// Whether a text says what two edits of a base say together, each of other things.
    fn joins(&self, base: &str, ours: &str, theirs: &str, both: &str) -> bool;
}

/// Whose a line of a result is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MergeSide {
    /// Of the base, changed or not, or of both sides.
    Both,
    /// Only one side has it.
    Ours,
    /// The same of the other side.
    Theirs,
}

/// Two edits brought together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Merged {
    /// The lines of the result, with marks where both changed the same.
    pub lines: Vec<(String, MergeSide)>,
    /// How often both sides changed the same differently.
    pub conflicts: usize,
    /// Whether a side took out what the other changed: what it took out beside that belongs to it.
    pub cuts: bool,
}

impl Merged {
    /// The result as a text; in each conflict also what both began from.
    pub fn text(&self) -> String {
        let lines = self.lines.iter();
        lines.fold(String::new(), |text, (line, _)| text + line + "\n")
    }

    /// Makes one of what both sides say of one thing in different places: their lines go, and
    /// stand beside ours as a conflict where they are not the same.
    pub fn bring_together(&mut self, ours: Range<usize>, theirs: Range<usize>, is_same: bool) {
        let of = |range: &Range<usize>| -> Vec<String> {
            let lines = self.lines.get(range.clone()).unwrap_or_default();
            lines.iter().map(|(line, _)| line.clone()).collect()
        };
        let (our_lines, their_lines) = (of(&ours), of(&theirs));
        let mut lines = Vec::new();
        for (at, line) in self.lines.drain(..).enumerate() {
            if at == ours.start && !is_same {
                put_conflict(&our_lines, &[], &their_lines, &mut lines);
                self.conflicts += 1;
            }
            if !theirs.contains(&at) && (is_same || !ours.contains(&at)) {
                lines.push(line);
            }
        }
        self.lines = lines;
    }
}

fn put_conflict<L: AsRef<str>>(
    ours: &[L],
    base: &[L],
    theirs: &[L],
    lines: &mut Vec<(String, MergeSide)>,
) {
    let mut marked = Vec::new();
    conflict_with_base(ours, base, theirs, &mut marked);
    lines.extend(marked.into_iter().map(|line| (line, MergeSide::Both)));
}

/// What became of a line of the base, and what was put before it.
#[derive(Clone, Debug, Default)]
struct Slot<'t> {
    before: Vec<&'t str>,
    /// Nothing where it was taken out.
    line: Option<&'t str>,
}

/// The base with other lines in one place, for telling whether they mean the same there.
struct Place<'p, 't> {
    base: &'p [&'t str],
    meaning: &'p dyn Meaning,
    asked: Cell<usize>,
}

impl Place<'_, '_> {
    /// The whole base with other lines in the place of some.
    fn with(&self, from: usize, until: usize, lines: &[&str]) -> String {
        let before = self.base.get(..from).unwrap_or_default();
        let after = self.base.get(until..).unwrap_or_default();
        [before, lines, after].concat().join("\n") + "\n"
    }

    fn may_ask(&self) -> bool {
        self.asked.set(self.asked.get() + 1);
        self.asked.get() <= MAX_ASKED
    }

    /// Whether lines in the place of some of the base mean the same as others.
    fn alike(&self, from: usize, until: usize, one: &[&str], two: &[&str]) -> bool {
        let written = |lines: &[&str]| lines.iter().map(|line| plain(line)).collect::<Vec<_>>();
        if written(one) == written(two) {
            return true;
        }
        // A comment is somebody's word, and lines that differ in it are not the same.
        if comments_in(one) != comments_in(two) {
            return false;
        }
        let with = |lines: &[&str]| self.with(from, until, lines);
        self.may_ask() && self.meaning.is_same(&with(one), &with(two))
    }

    /// The same for one line, or none, in the place of another.
    fn same(&self, at: usize, one: Option<&str>, two: Option<&str>) -> bool {
        self.alike(at, (at + 1).min(self.base.len()), one.as_slice(), two.as_slice())
    }

    /// Whether it matters which of two sides' lines stand first in one place, as it does among
    /// the steps of a method; where that can't be asked any more, it does.
    fn has_an_order(&self, at: usize, ours: &[&str], theirs: &[&str]) -> bool {
        if ours.is_empty() || theirs.is_empty() {
            return false;
        }
        let with = |lines: &[&str]| self.with(at, at, lines);
        let (one, two) = ([ours, theirs].concat(), [theirs, ours].concat());
        !self.may_ask() || self.meaning.differ(&with(&one), &with(&two))
    }

    /// A line of which each side changed other words that say other things.
    fn within(&self, at: usize, ours: Option<&str>, theirs: Option<&str>) -> Option<String> {
        let (base, ours, theirs) = (self.base.get(at).copied()?, ours?, theirs?);
        let words = pieces(base);
        if words.len() < 2 {
            return None;
        }
        // Of two comments on one line none is everybody's.
        let [was, one, two] = [base, ours, theirs].map(comment_of);
        if one != was && two != was && one != two {
            return None;
        }
        let place = Place { base: &words, meaning: &PlainWords, asked: Cell::new(0) };
        let Merged { lines, conflicts, .. } = place.weave(pieces(ours), pieces(theirs))?;
        let both: String = lines.into_iter().map(|(word, _)| word).collect();
        let with = |line: &str| self.with(at, at + 1, &[line]);
        let joins = || self.meaning.joins(&with(base), &with(ours), &with(theirs), &with(&both));
        (conflicts == 0 && self.may_ask() && joins()).then_some(both)
    }

    /// Brings two edits of the base together.
    fn weave(&self, ours: Vec<&str>, theirs: Vec<&str>) -> Option<Merged> {
        let (ours, theirs) = (slots(self.base, ours)?, slots(self.base, theirs)?);
        let mut lines: Vec<(String, MergeSide)> = Vec::new();
        let (mut conflicts, mut cuts) = (0, false);
        for (at, (our, their)) in ours.iter().zip(&theirs).enumerate() {
            let base = self.base.get(at).copied();
            conflicts += put_in(self, at, &our.before, &their.before, &mut lines);
            let (our, their) = (our.line, their.line);
            // What is written otherwise and means the same gives way.
            // A line that speaks of what it spoke of is no new one of a side's.
            let of = |line: Option<&str>, side: MergeSide| match (line, base) {
                (Some(line), Some(base)) if head(line) == head(base) => MergeSide::Both,
                _ => side,
            };
            let (ours, theirs) = (of(our, MergeSide::Ours), of(their, MergeSide::Theirs));
            let kept = match (same(our, base), same(their, base)) {
                (true, true) => Some((our, MergeSide::Both)),
                (true, _) => Some((their, theirs)),
                (_, true) => Some((our, ours)),
                _ if self.same(at, our, their) => Some((our, MergeSide::Both)),
                _ if self.same(at, their, base) => Some((our, ours)),
                _ if self.same(at, our, base) => Some((their, theirs)),
                _ => None,
            };
            if let Some((line, side)) = kept {
                lines.extend(line.map(|line| (line.to_owned(), side)));
            } else if let Some(both) = self.within(at, our, their) {
                lines.push((both, MergeSide::Both));
            } else {
                put_conflict(our.as_slice(), base.as_slice(), their.as_slice(), &mut lines);
                conflicts += 1;
                cuts |= our.is_none() != their.is_none();
            }
        }
        Some(Merged { lines, conflicts, cuts })
    }
}

/// The comment at the end of a line, as it stands after its sign; empty where there is none.
pub fn comment_of(line: &str) -> &str {
    let (mut in_text, mut found) = (false, None);
    for (at, letter) in line.char_indices() {
        match letter {
            '"' => in_text = !in_text,
            '#' if !in_text => found = Some(at + 1),
            _ => continue,
        }
        if found.is_some() {
            break;
        }
    }
    found.and_then(|at| line.get(at..)).unwrap_or_default().trim()
}

fn comments_in<'l>(lines: &[&'l str]) -> Vec<&'l str> {
    lines.iter().map(|line| comment_of(line)).filter(|comment| !comment.is_empty()).collect()
}

/// Words mean what they are.
struct PlainWords;

impl Meaning for PlainWords {
    fn is_same(&self, one: &str, two: &str) -> bool {
        one == two
    }

    // What words mean in which order is asked of the line.
    fn differ(&self, _: &str, _: &str) -> bool {
        false
    }

    fn joins(&self, _: &str, _: &str, _: &str, _: &str) -> bool {
        false
    }
}

/// A line in pieces: words with the blanks before them, texts, a comment, and each sign that
/// sets statements apart.
fn pieces(line: &str) -> Vec<&str> {
    let is_sign = |letter: char| matches!(letter, ';' | '{' | '}' | ',');
    let (mut found, mut start, mut in_word, mut in_text) = (Vec::new(), 0, false, false);
    for (at, letter) in line.char_indices() {
        if in_text {
            in_text = letter != '"';
            continue;
        }
        // A blank after a word, and every sign, begin the next piece.
        let begins = in_word && letter.is_whitespace() || is_sign(letter) && at > start;
        if begins {
            found.push(line.get(start..at).unwrap_or_default());
            (start, in_word) = (at, false);
        }
        match letter {
            '#' => break,
            '"' => (in_text, in_word) = (true, true),
            letter if is_sign(letter) => {
                let end = at + letter.len_utf8();
                found.push(line.get(start..end).unwrap_or_default());
                (start, in_word) = (end, false);
            }
            letter => in_word |= !letter.is_whitespace(),
        }
    }
    found.push(line.get(start..).unwrap_or_default());
    found.retain(|piece| !piece.is_empty());
    found
}

/// Brings two edits together; none where the texts are too long for it.
pub fn merge(base: &str, ours: &str, theirs: &str, meaning: &dyn Meaning) -> Option<Merged> {
    let base: Vec<&str> = base.lines().collect();
    let place = Place { base: &base, meaning, asked: Cell::new(0) };
    place.weave(ours.lines().collect(), theirs.lines().collect())
}

/// Lines of two sides, those that both have once and the others between marks.
pub fn as_conflict_of_lines(ours: &str, theirs: &str) -> String {
    let (one, two): (Vec<&str>, Vec<&str>) = (ours.lines().collect(), theirs.lines().collect());
    let (mut written, mut at, mut to): (Vec<String>, usize, usize) = (Vec::new(), 0, 0);
    while at < one.len() || to < two.len() {
        let (mine, others) = (one.get(at..).unwrap_or_default(), two.get(to..).unwrap_or_default());
        // Up to the first line that both have from here on.
        let shared = mine.iter().enumerate().find_map(|(mine, line)| {
            let there = others.iter().position(|other| other == line)?;
            Some((mine, there))
        });
        let (left, right) = shared.unwrap_or((mine.len(), others.len()));
        if left + right > 0 {
            let part = |lines: &[&'_ str], count: usize| -> Vec<String> {
                lines.iter().take(count).map(|line| (*line).to_owned()).collect()
            };
            conflict(&part(mine, left), &part(others, right), &mut written);
        }
        written.extend(mine.get(left).map(|line| (*line).to_owned()));
        (at, to) = (at + left + 1, to + right + 1);
    }
    written.join("\n") + "\n"
}

/// The whole text of both sides as one conflict, from the first line that either changed to
/// the last.
pub fn as_conflict(base: &str, ours: &str, theirs: &str) -> String {
    let (one, two): (Vec<&str>, Vec<&str>) = (ours.lines().collect(), theirs.lines().collect());
    let base: Vec<&str> = base.lines().collect();
    let alike = |at: &usize| {
        let line = base.get(*at);
        line.is_some() && one.get(*at) == line && two.get(*at) == line
    };
    let first = (0..base.len()).find(|at| !alike(at)).unwrap_or(base.len());
    let shortest = base.len().min(one.len()).min(two.len())
        - first.min(base.len().min(one.len()).min(two.len()));
    let from_end = |lines: &[&'_ str], back: usize| {
        lines.len().checked_sub(back + 1).and_then(|at| lines.get(at).map(|it| (*it).to_owned()))
    };
    let last = (0..shortest)
        .find(|back| {
            let line = from_end(&base, *back);
            from_end(&one, *back) != line || from_end(&two, *back) != line
        })
        .unwrap_or(shortest);
    let middle = |lines: &[&str]| -> Vec<String> {
        let end = lines.len().saturating_sub(last);
        lines
            .get(first..end.max(first))
            .unwrap_or_default()
            .iter()
            .map(|it| (*it).to_owned())
            .collect()
    };
    let mut written: Vec<String> = one.iter().take(first).map(|line| (*line).to_owned()).collect();
    let (left, right) = (middle(&one), middle(&two));
    let left: Vec<&str> = left.iter().map(String::as_str).collect();
    let right: Vec<&str> = right.iter().map(String::as_str).collect();
    let was: Vec<String> = middle(&base);
    let was: Vec<&str> = was.iter().map(String::as_str).collect();
    conflict_with_base(&left, &was, &right, &mut written);
    written.extend(one.iter().skip(one.len().saturating_sub(last)).map(|line| (*line).to_owned()));
    written.join("\n") + "\n"
}

/// Lines that both sides put into one place: those of both, ours first, unless they say
/// different things of one name.
fn put_in(
    place: &Place,
    at: usize,
    ours: &[&str],
    theirs: &[&str],
    lines: &mut Vec<(String, MergeSide)>,
) -> usize {
    let put = |all: &[&str], side: MergeSide, lines: &mut Vec<(String, MergeSide)>| {
        lines.extend(all.iter().map(|line| ((*line).to_owned(), side)));
    };
    let is_same = ours.len() == theirs.len()
        && ours.iter().zip(theirs).all(|(our, their)| plain(our) == plain(their));
    if is_same {
        put(ours, MergeSide::Both, lines);
        return 0;
    }
    let (our_heads, their_heads) = (heads(ours), heads(theirs));
    if our_heads.iter().any(|head| their_heads.contains(head)) {
        if place.alike(at, at, ours, theirs) {
            put(ours, MergeSide::Both, lines);
            return 0;
        }
        put_conflict(ours, &[], theirs, lines);
        return 1;
    }
    // Whose step comes first is nobody's to guess.
    if place.has_an_order(at, ours, theirs) {
        put_conflict(ours, &[], theirs, lines);
        return 1;
    }
    put(ours, MergeSide::Ours, lines);
    put(theirs, MergeSide::Theirs, lines);
    0
}

/// What lines speak of; of a whole block, its first line speaks for it.
fn heads(lines: &[&str]) -> Vec<String> {
    let mut depth = 0_i64;
    let mut all = Vec::new();
    for line in lines {
        if depth <= 0 {
            all.push(head(line));
        }
        depth += opened(line);
    }
    // Half a block is told by each of its lines.
    if depth != 0 {
        all = lines.iter().map(|line| head(line)).collect();
    }
    all.retain(|head| head.chars().any(char::is_alphanumeric));
    all
}

/// How many more braces a line opens than it closes.
pub fn opened(line: &str) -> i64 {
    pieces(line).into_iter().fold(0, |depth, piece| match piece.trim() {
        "{" => depth + 1,
        "}" => depth - 1,
        _ => depth,
    })
}

/// The words of a line before its first number, text or brace: what it speaks of.
pub fn head(line: &str) -> String {
    let end = line.find(|letter: char| letter.is_ascii_digit() || matches!(letter, '"' | '{'));
    plain(line.get(..end.unwrap_or(line.len())).unwrap_or(line))
}

fn conflict<L: AsRef<str>>(ours: &[L], theirs: &[L], lines: &mut Vec<String>) {
    lines.push(OURS.to_owned());
    lines.extend(ours.iter().map(|line| line.as_ref().to_owned()));
    lines.push(MIDDLE.to_owned());
    lines.extend(theirs.iter().map(|line| line.as_ref().to_owned()));
    lines.push(THEIRS.to_owned());
}

/// The same with what both began from, as `diff3` writes it.
fn conflict_with_base<L: AsRef<str>>(
    ours: &[L],
    base: &[L],
    theirs: &[L],
    lines: &mut Vec<String>,
) {
    lines.push(OURS.to_owned());
    lines.extend(ours.iter().map(|line| line.as_ref().to_owned()));
    lines.push(BASE_MARK.to_owned());
    lines.extend(base.iter().map(|line| line.as_ref().to_owned()));
    lines.push(MIDDLE.to_owned());
    lines.extend(theirs.iter().map(|line| line.as_ref().to_owned()));
    lines.push(THEIRS.to_owned());
}

/// A text with conflicts without what both began from.
pub fn without_base(text: &str) -> String {
    let (mut written, mut in_ours, mut in_base) = (String::with_capacity(text.len()), false, false);
    for line in text.split_inclusive('\n') {
        match line.trim_end() {
            OURS => in_ours = true,
            BASE_MARK if in_ours => in_base = true,
            MIDDLE => (in_ours, in_base) = (false, false),
            _ => {}
        }
        if !in_base {
            written.push_str(line);
        }
    }
    written
}

/// Two edits of a base of which some are taken together, and the others stand between marks.
pub struct Taken {
    /// The base with our edits that are taken.
    pub ours: String,
    /// The base with theirs.
    pub theirs: String,
    /// What is left where every conflict is settled as ours.
    pub as_ours: String,
    /// The same as theirs.
    pub as_theirs: String,
}

/// The most edits of which it is asked whether they stand by themselves.
const MAX_TRIED: usize = 24;

/// Two edits of a base that can't be taken together, with marks around as few lines as can be:
/// an edit of one side is taken where `stands` says that it stands beside both sides of the rest.
/// How often marks are set is told too; none where the texts are too long.
pub fn least_conflict(
    base: &str,
    ours: &str,
    theirs: &str,
    stands: &dyn Fn(&Taken) -> bool,
) -> Option<(String, usize)> {
    let base: Vec<&str> = base.lines().collect();
    let (ours, theirs) =
        (slots(&base, ours.lines().collect())?, slots(&base, theirs.lines().collect())?);
    let regions = regions(&base, &ours, &theirs);
    let mut open: Vec<bool> = regions.iter().map(|it| it.kind != Kind::Same).collect();
    // The last edit first: what is put in by one leans on what stands before it.
    let alone = regions.iter().enumerate().filter(|(_, it)| it.is_of_one());
    let alone: Vec<usize> = alone.map(|(at, _)| at).collect();
    for at in alone.into_iter().rev().take(MAX_TRIED) {
        if let Some(it) = open.get_mut(at) {
            *it = false;
        }
        let text = |lines: &dyn Fn(&'_ Region, bool) -> Vec<String>| -> String {
            let all = regions.iter().zip(&open).flat_map(|(it, open)| lines(it, *open));
            all.fold(String::new(), |text, line| text + &line + "\n")
        };
        let taken = Taken {
            ours: text(&|it, open| if open { it.base.clone() } else { it.ours.clone() }),
            theirs: text(&|it, open| if open { it.base.clone() } else { it.theirs.clone() }),
            as_ours: text(&|it, open| if open { it.ours.clone() } else { it.taken() }),
            as_theirs: text(&|it, open| if open { it.theirs.clone() } else { it.taken() }),
        };
        if !stands(&taken)
            && let Some(it) = open.get_mut(at)
        {
            *it = true;
        }
    }
    let (mut written, mut count) = (Vec::new(), 0);
    for (region, open) in regions.iter().zip(open) {
        if open {
            conflict_with_base(&region.ours, &region.base, &region.theirs, &mut written);
            count += 1;
        } else {
            written.extend(region.taken());
        }
    }
    Some((written.into_iter().fold(String::new(), |text, line| text + &line + "\n"), count))
}

/// Who changed some lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Same,
    Ours,
    Theirs,
    Both,
}

/// Lines of the base that stand together, and what each side made of them.
struct Region {
    kind: Kind,
    base: Vec<String>,
    ours: Vec<String>,
    theirs: Vec<String>,
}

impl Region {
    fn is_of_one(&self) -> bool {
        matches!(self.kind, Kind::Ours | Kind::Theirs)
    }

    /// What the side made of it that changed it.
    fn taken(&self) -> Vec<String> {
        if self.kind == Kind::Theirs || self.ours == self.base {
            return self.theirs.clone();
        }
        self.ours.clone()
    }
}

fn regions(base: &[&str], ours: &[Slot], theirs: &[Slot]) -> Vec<Region> {
    let mut all: Vec<Region> = Vec::new();
    for (at, (our, their)) in ours.iter().zip(theirs).enumerate() {
        let line = base.get(at).copied();
        let changes = |slot: &Slot| !slot.before.is_empty() || !same(slot.line, line);
        let alike = our.before == their.before && same(our.line, their.line);
        let kind = match (changes(our), changes(their)) {
            (true, true) if !alike => Kind::Both,
            (true, false) => Kind::Ours,
            (false, true) => Kind::Theirs,
            _ => Kind::Same,
        };
        let lines = |slot: &Slot| -> Vec<String> {
            slot.before.iter().copied().chain(slot.line).map(str::to_owned).collect()
        };
        let own = Region {
            kind,
            base: line.into_iter().map(str::to_owned).collect(),
            ours: lines(our),
            theirs: lines(their),
        };
        match all.last_mut().filter(|last| last.kind != Kind::Same && kind != Kind::Same) {
            Some(last) => {
                last.kind = if last.kind == kind { kind } else { Kind::Both };
                last.base.extend(own.base);
                last.ours.extend(own.ours);
                last.theirs.extend(own.theirs);
            }
            None => all.push(own),
        }
    }
    all
}

/// A line with its runs of blanks as one.
fn plain(line: &str) -> String {
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn same(one: Option<&str>, two: Option<&str>) -> bool {
    one.map(plain) == two.map(plain)
}

/// What a side made of each line of the base; one slot more for what stands after the last.
fn slots<'t>(base: &[&str], side: Vec<&'t str>) -> Option<Vec<Slot<'t>>> {
    let (one, two): (Vec<String>, Vec<String>) =
        (base.iter().map(|it| plain(it)).collect(), side.iter().map(|it| plain(it)).collect());
    let pairs = common(&one, &two)?;
    let mut slots: Vec<Slot<'t>> = vec![Slot::default(); base.len() + 1];
    let mut from = (0, 0);
    for (at, to) in pairs.into_iter().chain([(base.len(), side.len())]) {
        // Between two lines that are the same, lines changed one by one as far as they go.
        let (gone, come) = (at - from.0, to - from.1);
        for step in 0..come {
            let line = side.get(from.1 + step).copied()?;
            match step < gone {
                true => slots.get_mut(from.0 + step)?.line = Some(line),
                false => slots.get_mut(at)?.before.push(line),
            }
        }
        slots.get_mut(at)?.line = side.get(to).copied();
        from = (at + 1, to + 1);
    }
    Some(slots)
}

/// A longest row of lines that both have, as pairs of places; none where it would take too
/// long to find.
pub fn common(one: &[String], two: &[String]) -> Option<Vec<(usize, usize)>> {
    let start = one.iter().zip(two).take_while(|(left, right)| left == right).count();
    let (rest_one, rest_two) = (one.get(start..)?, two.get(start..)?);
    let back = rest_one.iter().rev().zip(rest_two.iter().rev());
    let end = back.take_while(|(left, right)| left == right).count();
    let (middle_one, middle_two) =
        (rest_one.get(..rest_one.len() - end)?, rest_two.get(..rest_two.len() - end)?);
    let wide = middle_two.len() + 1;
    if (middle_one.len() + 1).checked_mul(wide)? > MAX_CELLS {
        return None;
    }
    // How many lines the rests from here on have in common.
    let mut table = vec![0_u32; (middle_one.len() + 1) * wide];
    for (at, left) in middle_one.iter().enumerate().rev() {
        for (to, right) in middle_two.iter().enumerate().rev() {
            let value = match left == right {
                true => table.get((at + 1) * wide + to + 1)? + 1,
                false => *table.get((at + 1) * wide + to)?.max(table.get(at * wide + to + 1)?),
            };
            *table.get_mut(at * wide + to)? = value;
        }
    }
    let mut pairs: Vec<(usize, usize)> = (0..start).map(|at| (at, at)).collect();
    let (mut at, mut to) = (0, 0);
    while let (Some(left), Some(right)) = (middle_one.get(at), middle_two.get(to)) {
        if left == right {
            pairs.push((start + at, start + to));
            (at, to) = (at + 1, to + 1);
        } else if table.get((at + 1) * wide + to)? >= table.get(at * wide + to + 1)? {
            at += 1;
        } else {
            to += 1;
        }
    }
    pairs.extend((0..end).map(|back| (one.len() - end + back, two.len() - end + back)));
    Some(pairs)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BASE: &str = "a 1\nb 2\nc 3\nd 4\n";

    /// Here a nought after the point means nothing, and words never come together.
    struct Plain;

    impl Meaning for Plain {
        fn is_same(&self, one: &str, two: &str) -> bool {
            one.replace(".0", "") == two.replace(".0", "")
        }

        fn differ(&self, _: &str, _: &str) -> bool {
            false
        }

        fn joins(&self, _: &str, _: &str, _: &str, _: &str) -> bool {
            false
        }
    }

    fn merged(ours: &str, theirs: &str) -> (String, usize) {
        let merged = merge(BASE, ours, theirs, &Plain).expect("it is short");
        (without_base(&merged.text()), merged.conflicts)
    }

    #[test]
    fn pieces_are_the_whole_line() {
        for (line, count) in [
            ("    bake 40min..45min at 240C in deck", 6),
            ("expect { hydration 79%; salt 2.1% }", 10),
            ("  mix 4min with salt, water # all; of it", 7),
            ("  note \"Keep; it { warm }\"", 2),
            ("", 0),
            ("   ", 1),
            ("é \"unclosed; text", 2),
        ] {
            let found = pieces(line);
            assert_eq!((found.concat().as_str(), found.len()), (line, count), "{found:?}");
        }
    }

    /// What one side says in a comment is kept, and what both say there is a conflict.
    #[test]
    fn no_comment_is_lost() {
        for (line, comment) in
            [("a 1 # x", "x"), ("a \"#2f4858\"", ""), ("a \"#\"  # y # z", "y # z"), ("#", "")]
        {
            assert_eq!(comment_of(line), comment, "{line}");
        }
        /// Here comments mean nothing, and edits of different words come together.
        struct Said;
        impl Meaning for Said {
            fn is_same(&self, one: &str, two: &str) -> bool {
                let said = |text: &str| -> Vec<String> {
                    text.lines().map(|it| plain(it.split('#').next().unwrap_or(it))).collect()
                };
                said(one) == said(two)
            }
            fn differ(&self, one: &str, two: &str) -> bool {
                !self.is_same(one, two)
            }
            fn joins(&self, _: &str, _: &str, _: &str, _: &str) -> bool {
                true
            }
        }
        let with = |line: &str| BASE.replace("b 2", line);
        let merged = |base: &str, ours: &str, theirs: &str| {
            let all = [base, ours, theirs].map(with);
            let merged = merge(&all[0], &all[1], &all[2], &Said).expect("it is short");
            (merged.text(), merged.conflicts)
        };
        assert_eq!(merged("b 2", "b 5", "b 2 # no more"), (with("b 5 # no more"), 0));
        assert_eq!(merged("b 2", "b 2 # no more", "b 5"), (with("b 5 # no more"), 0));
        assert_eq!(merged("b 2 # old", "b 2", "b 5 # old"), (with("b 5"), 0));
        assert_eq!(merged("b 2", "b 2 # A", "b 2 # A"), (with("b 2 # A"), 0));
        assert_eq!(merged("b 2", "b 2 # A", "b 2 # B").1, 1);
        assert_eq!(merged("b 2 # old", "b 2 # A", "b 3 # B").1, 1);
    }

    #[test]
    fn lines_beside_each_other_are_no_conflict() {
        assert_eq!(
            merged("a 1\nb 5\nc 3\nd 4\n", "a 1\nb 2\nc 6\nd 4\n"),
            ("a 1\nb 5\nc 6\nd 4\n".into(), 0)
        );
        assert_eq!(
            merged("b 2\nc 3\nd 4\n", "a 1\nb 2\nc 3\nd 7\n"),
            ("b 2\nc 3\nd 7\n".into(), 0)
        );
        assert_eq!(merged(BASE, BASE), (BASE.into(), 0));
        let wide = "a    1\nb    2\nc    3\nd    4\n";
        assert_eq!(merged(wide, "a 1\nb 2\nc 9\nd 4\n").0, "a    1\nb    2\nc 9\nd    4\n");
    }

    #[test]
    fn what_means_the_same_is_no_conflict() {
        let changed = |line: &str| BASE.replace("b 2", line);
        assert_eq!(merged(&changed("b 5"), &changed("b 5.0")), (changed("b 5"), 0));
        assert_eq!(merged(&changed("b 5.0"), &changed("b 5")), (changed("b 5.0"), 0));
        assert_eq!(merged(&changed("b 2.0"), &changed("b 7")), (changed("b 7"), 0));
        assert_eq!(merged(&changed("b 7"), &changed("b 2.0")), (changed("b 7"), 0));
        let put_in = |line: &str| changed(&format!("b 2\n{line}"));
        assert_eq!(merged(&put_in("x 1.0"), &put_in("x 1")), (put_in("x 1.0"), 0));
        assert_eq!(merged(&changed("b 5.1"), &changed("b 5.0")).1, 1);
    }

    #[test]
    fn what_both_put_in_is_kept_unless_it_is_of_one_name() {
        let (ours, theirs) = ("a 1\nb 2\nx 1\nc 3\nd 4\n", "a 1\nb 2\ny 2\nc 3\nd 4\n");
        assert_eq!(merged(ours, theirs), ("a 1\nb 2\nx 1\ny 2\nc 3\nd 4\n".into(), 0));
        assert_eq!(merged(ours, ours), (ours.into(), 0));
        let other = ours.replace("x 1", "x 2");
        assert_eq!(
            merged(ours, &other),
            ("a 1\nb 2\n<<<<<<< ours\nx 1\n=======\nx 2\n>>>>>>> theirs\nc 3\nd 4\n".into(), 1)
        );
    }

    #[test]
    fn a_line_that_both_changed_is_a_conflict_and_the_mirror_of_the_other_way_round() {
        let (ours, theirs) = ("a 1\nb 5\nc 3\nd 4\n", "a 1\nb 6\nc 3\nd 4\n");
        let (text, conflicts) = merged(ours, theirs);
        assert_eq!(
            (text.as_str(), conflicts),
            ("a 1\n<<<<<<< ours\nb 5\n=======\nb 6\n>>>>>>> theirs\nc 3\nd 4\n", 1)
        );
        assert_eq!(merged(theirs, ours).1, 1);
        assert_eq!(without_base(&as_conflict(BASE, ours, theirs)), text);
        assert!(as_conflict(BASE, ours, theirs).contains("||||||| base\nb 2\n=======\n"));
        // One takes out what the other changes.
        assert_eq!(merged("a 1\nc 3\nd 4\n", theirs).1, 1);
    }

    /// What stands by itself is taken, and what does not keeps its marks; the sides are whole.
    #[test]
    fn marks_are_set_around_as_few_lines_as_can_be() {
        let base = "p 0\nq 0\nb 2\nm 0\nc 3\nn 0\nd 4\n";
        let ours = "p 0\nq 0\nb 5\nm 0\nc 3\nn 0\nd 9\n";
        let theirs = "x 1\np 0\nq 0\nb 2\nm 0\nc 8\nn 0\nd 4\n";
        // `b` and `c` are one decision here, and the others are nobody's affair.
        let stands = |it: &Taken| {
            let is_mixed = |text: &str| text.contains("b 5") && text.contains("c 8");
            !is_mixed(&it.as_ours) && !is_mixed(&it.as_theirs)
        };
        let (text, count) = least_conflict(base, ours, theirs, &stands).expect("it is short");
        assert_eq!(
            (without_base(&text).as_str(), count),
            (
                "x 1\np 0\nq 0\n<<<<<<< ours\nb 5\n=======\nb 2\n>>>>>>> theirs\nm 0\n\
                 <<<<<<< ours\nc 3\n=======\nc 8\n>>>>>>> theirs\nn 0\nd 9\n",
                2
            )
        );
        let all = |_: &Taken| true;
        let (text, count) = least_conflict(base, ours, theirs, &all).expect("it is short");
        assert_eq!((text.as_str(), count), ("x 1\np 0\nq 0\nb 5\nm 0\nc 8\nn 0\nd 9\n", 0));
        let none = |_: &Taken| false;
        let (text, _) = least_conflict(base, ours, theirs, &none).expect("it is short");
        let sides = crate::syntax::both_sides(&text).expect("it has marks");
        assert_eq!(sides, [ours.to_owned(), theirs.to_owned()]);
    }
}
