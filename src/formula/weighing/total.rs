//! The lines of a whole formula.

use crate::formula::class::Class;
use crate::formula::composition::Substance;
use crate::formula::line_ref::LineRef;
use crate::formula::worked::{Worked, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Counting;
use rustc_hash::FxHashMap;

/// A line of the whole formula.
#[derive(Clone, Debug)]
pub struct TotalRow {
    /// Its exact mass and its name.
    pub line: WorkedLine,
    /// Its place in `total`, where it stands there.
    pub declared: Option<usize>,
}

/// The lines of the whole formula: those of `total` and the flour that only a culture
/// brings, or everything that is in the dough, flours first.
pub fn total_rows(worked: &Worked) -> Vec<TotalRow> {
    let numbers = worked.first();
    let Some(mix) = &worked.formula.total else {
        let lines = lines_of(worked, numbers.whole.iter());
        let mut rows: Vec<TotalRow> = lines.map(|line| TotalRow { line, declared: None }).collect();
        rows.sort_by_key(|row| rank(worked, &row.line));
        return rows;
    };
    // A line of a stage or a culture only says how large something is.
    let stands = |line: &&WorkedLine| {
        let whole = line.line.and_then(|index| mix.lines.get(index));
        !matches!(line.goes, LineRef::Stage(_) | LineRef::OldDough | LineRef::Culture(_))
            || whole.is_some_and(|line| matches!(line.counting, Counting::NotSplit))
    };
    let own = numbers.total_lines.iter().filter(stands);
    let own = own.map(|line| TotalRow { declared: line.line, line: line.clone() });
    // Of what the lines bring too, only the rest is meant here.
    let unlisted =
        lines_of(worked, numbers.unlisted.iter()).map(|line| TotalRow { line, declared: None });
    own.chain(unlisted).collect()
}

/// Flours first, then water, salt, what raises, the rest.
fn rank(worked: &Worked, line: &WorkedLine) -> u8 {
    let LineRef::Ingredient(id) = line.goes else { return 9 };
    match worked.house.ingredient(id).class {
        _ if worked.is_flour(id) => 0,
        Class::Water => 1,
        Class::Liquid | Class::Dairy | Class::Egg => 2,
        Class::Salt => 3,
        Class::Yeast | Class::Leavener => 4,
        _ => 5,
    }
}

fn lines_of<'c>(
    worked: &Worked,
    content: impl Iterator<Item = (Substance, &'c Exact)>,
) -> impl Iterator<Item = WorkedLine> {
    let (house, numbers) = (worked.house, worked.first());
    let mut first: FxHashMap<LineRef, &WorkedLine> = FxHashMap::default();
    for line in numbers.stages.iter().flat_map(|stage| &stage.lines).chain(&numbers.dough_lines) {
        first.entry(line.goes).or_insert(line);
    }
    content.map(move |(substance, mass)| {
        let (goes, name) = match substance {
            Substance::Ingredient(id) => (LineRef::Ingredient(id), &house.ingredient(id).name),
            Substance::Kept(id) | Substance::Whole(id) => {
                (LineRef::Culture(id), &house.culture(id).name)
            }
            Substance::OldDough => (LineRef::OldDough, &worked.formula.name),
        };
        // The author's own word for it, where it stands on a line.
        let own = first.get(&goes);
        WorkedLine {
            goes,
            name: own.map_or_else(|| name.shown.clone(), |line| line.name.clone()),
            key: own.map_or_else(|| name.key.clone(), |line| line.key.clone()),
            role: None,
            mass: mass.clone(),
            more: Exact::ZERO,
            line: None,
        }
    })
}
