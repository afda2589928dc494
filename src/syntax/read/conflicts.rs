//! The marks that git leaves where two edits of the same lines were not brought together.

use crate::syntax::tree::Tree;
use std::ops::Range;

/// A conflict: all of it, and the part that is not read, the other side with the marks.
pub struct Conflict {
    /// From the first mark to the end of the last one.
    pub whole: Range<usize>,
    unread: Vec<Range<usize>>,
}

/// The conflicts of a text, each with all its marks.
pub fn conflicts(text: &str) -> Vec<Conflict> {
    if !text.contains("<<<<<<<") {
        return Vec::new();
    }
    let mut found = Vec::new();
    let (mut open, mut middle): (Option<Range<usize>>, Option<usize>) = (None, None);
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let bare = line.trim_end();
        let place = at..at + bare.len();
        at += line.len();
        let is_mark = |mark: &str| {
            bare.strip_prefix(mark).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        };
        if is_mark("<<<<<<<") {
            (open, middle) = (Some(place), None);
        } else if is_mark("=======") || is_mark("|||||||") {
            middle = middle.or(Some(place.start));
        } else if is_mark(">>>>>>>")
            && let (Some(first), Some(middle)) = (open.take(), middle.take())
        {
            let whole = first.start..place.end;
            found.push(Conflict { whole, unread: vec![first, middle..place.end] });
        }
    }
    found
}

/// A text with blanks in the place of what is not read, every place as it was.
pub fn with_one_side(text: &str, conflicts: &[Conflict]) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for conflict in conflicts {
        for range in &conflict.unread {
            let part = bytes.get_mut(range.clone()).unwrap_or_default();
            part.iter_mut().filter(|byte| **byte != b'\n').for_each(|byte| *byte = b' ');
        }
    }
    String::from_utf8(bytes).unwrap_or_default()
}

/// A text as each side of its conflicts has it; none where it has none.
pub fn both_sides(text: &str) -> Option<[String; 2]> {
    if conflicts(text).is_empty() {
        return None;
    }
    let mut sides = [String::new(), String::new()];
    let is_mark = |line: &str, mark: &str| {
        line.trim_end()
            .strip_prefix(mark)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    };
    // Which of the two a line belongs to.
    let mut of = [true, true];
    for line in text.split_inclusive('\n') {
        match of {
            [true, true] if is_mark(line, "<<<<<<<") => of = [true, false],
            [true, false] if is_mark(line, "|||||||") => of = [false, false],
            [_, false] if is_mark(line, "=======") => of = [false, true],
            [false, true] if is_mark(line, ">>>>>>>") => of = [true, true],
            _ => {
                let own = sides.iter_mut().zip(of).filter(|(_, is_of)| *is_of);
                own.for_each(|(side, _)| side.push_str(line));
            }
        }
    }
    (of == [true, true]).then_some(sides)
}

/// Nothing that a file with conflicts declares is known for sure.
pub fn doubt(tree: &mut Tree) {
    tree.formulas.iter_mut().for_each(|it| it.broken = true);
    tree.stages.iter_mut().for_each(|it| it.mix.broken = true);
    tree.mixtures.iter_mut().for_each(|it| it.mix.broken = true);
    tree.cultures.iter_mut().for_each(|it| it.mix.broken = true);
}
