//! Two edits of one text brought together, line by line.
//!
//! A line that only one side changed is that side's, even beside a line of the other's; lines
//! that differ in blanks alone, or mean the same, are the same. What both changed differently
//! is a conflict.

use std::cell::Cell;

/// The marks that git sets around a conflict.
const OURS: &str = "<<<<<<< ours";
const MIDDLE: &str = "=======";
const THEIRS: &str = ">>>>>>> theirs";

/// The largest table of lines that is filled, base by side.
const MAX_CELLS: usize = 40_000_000;

/// How often it is asked whether two lines mean the same, which takes reading the whole text
/// with each of them.
const MAX_ASKED: usize = 200;

/// Whether two whole texts mean the same.
pub type Means<'m> = &'m dyn Fn(&str, &str) -> bool;

/// Two edits brought together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Merged {
    /// The result, with marks where both changed the same.
    pub text: String,
    /// How often both sides changed the same differently.
    pub conflicts: usize,
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
    means: Means<'p>,
    asked: Cell<usize>,
}

impl Place<'_, '_> {
    /// Whether lines in the place of some of the base mean the same as others.
    fn alike(&self, from: usize, until: usize, one: &[&str], two: &[&str]) -> bool {
        let written = |lines: &[&str]| lines.iter().map(|line| plain(line)).collect::<Vec<_>>();
        if written(one) == written(two) {
            return true;
        }
        self.asked.set(self.asked.get() + 1);
        let before = self.base.get(..from).unwrap_or_default();
        let after = self.base.get(until..).unwrap_or_default();
        let with = |lines: &[&str]| [before, lines, after].concat().join("\n") + "\n";
        self.asked.get() <= MAX_ASKED && (self.means)(&with(one), &with(two))
    }

    /// The same for one line, or none, in the place of another.
    fn same(&self, at: usize, one: Option<&str>, two: Option<&str>) -> bool {
        self.alike(at, (at + 1).min(self.base.len()), one.as_slice(), two.as_slice())
    }
}

/// Brings two edits together; none where the texts are too long for it.
pub fn merge(base: &str, ours: &str, theirs: &str, means: Means) -> Option<Merged> {
    let base: Vec<&str> = base.lines().collect();
    let (ours, theirs) = (slots(&base, ours)?, slots(&base, theirs)?);
    let place = Place { base: &base, means, asked: Cell::new(0) };
    let mut lines: Vec<String> = Vec::new();
    let mut conflicts = 0;
    for (at, (our, their)) in ours.iter().zip(&theirs).enumerate() {
        let base = base.get(at).copied();
        conflicts += put_in(&place, at, &our.before, &their.before, &mut lines);
        let (our, their) = (our.line, their.line);
        // What is written otherwise and means the same gives way.
        let kept = match (same(our, base), same(their, base)) {
            (true, true) => Some(our),
            (true, _) => Some(their),
            (_, true) => Some(our),
            _ if place.same(at, our, their) || place.same(at, their, base) => Some(our),
            _ if place.same(at, our, base) => Some(their),
            _ => None,
        };
        match kept {
            Some(line) => lines.extend(line.map(str::to_owned)),
            None => {
                conflict(our.as_slice(), their.as_slice(), &mut lines);
                conflicts += 1;
            }
        }
    }
    let mut text = lines.join("\n");
    if !text.is_empty() {
        text.push('\n');
    }
    Some(Merged { text, conflicts })
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
    conflict(&left, &right, &mut written);
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
    lines: &mut Vec<String>,
) -> usize {
    let is_same = ours.len() == theirs.len()
        && ours.iter().zip(theirs).all(|(our, their)| plain(our) == plain(their));
    if is_same || theirs.is_empty() {
        lines.extend(ours.iter().map(|line| (*line).to_owned()));
        return 0;
    }
    let heads = |lines: &[&str]| -> Vec<String> {
        let lines = lines.iter().filter(|line| !line.trim().is_empty());
        lines.map(|line| head(line)).collect()
    };
    let (our_heads, their_heads) = (heads(ours), heads(theirs));
    if our_heads.iter().any(|head| their_heads.contains(head)) {
        if place.alike(at, at, ours, theirs) {
            lines.extend(ours.iter().map(|line| (*line).to_owned()));
            return 0;
        }
        conflict(ours, theirs, lines);
        return 1;
    }
    lines.extend(ours.iter().chain(theirs).map(|line| (*line).to_owned()));
    0
}

/// The words of a line before its first number, text or brace: what it speaks of.
fn head(line: &str) -> String {
    let end = line.find(|letter: char| letter.is_ascii_digit() || matches!(letter, '"' | '{'));
    plain(line.get(..end.unwrap_or(line.len())).unwrap_or(line))
}

fn conflict(ours: &[&str], theirs: &[&str], lines: &mut Vec<String>) {
    lines.push(OURS.to_owned());
    lines.extend(ours.iter().map(|line| (*line).to_owned()));
    lines.push(MIDDLE.to_owned());
    lines.extend(theirs.iter().map(|line| (*line).to_owned()));
    lines.push(THEIRS.to_owned());
}

/// A line with its runs of blanks as one.
fn plain(line: &str) -> String {
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn same(one: Option<&str>, two: Option<&str>) -> bool {
    one.map(plain) == two.map(plain)
}

/// What a side made of each line of the base; one slot more for what stands after the last.
fn slots<'t>(base: &[&str], side: &'t str) -> Option<Vec<Slot<'t>>> {
    let side: Vec<&'t str> = side.lines().collect();
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

    fn merged(ours: &str, theirs: &str) -> (String, usize) {
        // Here a nought after the point means nothing.
        let means = |one: &str, two: &str| one.replace(".0", "") == two.replace(".0", "");
        let merged = merge(BASE, ours, theirs, &means).expect("it is short");
        (merged.text, merged.conflicts)
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
        assert_eq!(as_conflict(BASE, ours, theirs), text);
        // One takes out what the other changes.
        assert_eq!(merged("a 1\nc 3\nd 4\n", theirs).1, 1);
    }
}
