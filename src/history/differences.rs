//! What two states of one formula do not have alike: what they say, their figures, their
//! allergens and the lines of their sheets.

use super::comparison::{Change, Difference, FigureChange};
use super::declared::{Declared, Kind};
use super::facts::{BESIDE, Block, Fact, Facts, LOOK, ORDER, is_of_days};
use super::rename::{self, Renamed};
use super::said::Said;
use super::sheet;
use crate::formula::{House, Worked, work};
use crate::print::document::FigurePart;
use crate::print::{Document, Wording, document, every_figure};
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, int};
use crate::syntax::tree::Formula;
use std::collections::{BTreeMap, BTreeSet};

/// What a formula prints, and its figures, those included that are not printed.
pub struct Printed {
    /// Its document.
    pub document: Document,
    /// Nothing where only those are asked for that are printed.
    figures: Vec<FigurePart>,
}

impl Printed {
    /// Of a formula as it is written; none where it has errors.
    pub fn of(house: &House, formula: &Formula) -> Option<Self> {
        Self::with(house, formula, every_figure)
    }

    /// The same with no figures but those that are printed, for two prints that have the same
    /// ones.
    pub fn of_paper(house: &House, formula: &Formula) -> Option<Self> {
        Self::with(house, formula, |_, _, _| Vec::new())
    }

    /// Whether two documents print the same figures, whatever these come to.
    pub fn has_the_figures_of(&self, other: &Self) -> bool {
        let names = |it: &'_ Self| -> Vec<String> {
            it.document.figures.iter().map(|figure| figure.name.clone()).collect()
        };
        names(self) == names(other)
    }

    fn with(
        house: &House,
        formula: &Formula,
        figures: impl FnOnce(&House, &Worked, &Wording) -> Vec<FigurePart>,
    ) -> Option<Self> {
        // A claim that is refuted now is no reason not to tell what moved.
        let worked = work(house, formula, &mut Vec::new());
        let is_sound = worked.sound && !formula.broken;
        let words = Wording::plain();
        is_sound.then(|| Self {
            document: document(house, &worked, &words, house.settings.volumes),
            figures: figures(house, &worked, &words),
        })
    }
}

impl Difference {
    /// From one print to another; what has another name is what it was.
    pub fn between(old: &Printed, new: &Printed, renamed: &Renamed) -> Self {
        let (before, after) = (&old.document, &new.document);
        Self {
            figures: figures(old, new, renamed),
            sheet: sheet::changes(before, after, renamed),
            contains: beyond(&after.contains, &before.contains),
            contains_no_longer: beyond(&before.contains, &after.contains),
            may_contain: beyond(&after.may_contain, &before.may_contain),
            may_contain_no_longer: beyond(&before.may_contain, &after.may_contain),
            contains_unknown: beyond(&after.contains_unknown, &before.contains_unknown),
            contains_unknown_no_longer: beyond(&before.contains_unknown, &after.contains_unknown),
        }
    }
}

fn beyond(all: &[String], known: &[String]) -> Vec<String> {
    all.iter().filter(|name| !known.contains(name)).cloned().collect()
}

/// The figures that moved. One that only one of two documents prints, because it would have
/// said nothing in the other, is what it was there.
fn figures(old: &Printed, new: &Printed, renamed: &Renamed) -> Vec<FigureChange> {
    let none = Renamed::default();
    let mut names: Vec<String> = Vec::new();
    for (printed, renamed) in [(new, &none), (old, renamed)] {
        for figure in &printed.document.figures {
            let name = figure_now(&figure.name, renamed);
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    let find = |printed: &'_ Printed, name: &str, renamed: &Renamed| {
        let all = printed.document.figures.iter().chain(&printed.figures);
        all.into_iter().find(|figure| figure_now(&figure.name, renamed) == name).cloned()
    };
    let pairs = names.into_iter().map(|name| (find(old, &name, renamed), find(new, &name, &none)));
    pairs.filter_map(|(old, new)| figure_change(old, new)).collect()
}

fn figure_change(old: Option<FigurePart>, new: Option<FigurePart>) -> Option<FigureChange> {
    if let (Some(old), Some(new)) = (&old, &new)
        && !has_moved(old, new)
    {
        return None;
    }
    let unit = match (&old, &new) {
        // `990 g → 1.1 kg`: each has its own.
        (Some(old), Some(new)) if old.unit != new.unit => String::new(),
        (old, new) => old.as_ref().or(new.as_ref()).map(|it| it.unit.clone()).unwrap_or_default(),
    };
    let shown = |it: &FigurePart| match unit.is_empty() {
        true => format!("{} {}", it.shown, it.unit).trim_end().to_owned(),
        false => it.shown.clone(),
    };
    Some(FigureChange {
        name: new.as_ref().or(old.as_ref())?.name.clone(),
        old: old.as_ref().map(shown),
        new: new.as_ref().map(shown),
        old_exact: old.as_ref().map(|it| it.exact.clone()),
        new_exact: new.as_ref().map(|it| it.exact.clone()),
        old_exact_high: old.as_ref().and_then(|it| it.exact_high.clone()),
        new_exact_high: new.as_ref().and_then(|it| it.exact_high.clone()),
        unit,
    })
}

/// A figure's name, by the new name of the stage that it is of.
fn figure_now(name: &str, renamed: &Renamed) -> String {
    let name = name.to_lowercase();
    let of = renamed.iter().find_map(|(was, (now, _))| {
        let rest = name.strip_prefix(was.as_str())?;
        rest.starts_with(' ').then(|| format!("{now}{rest}"))
    });
    of.unwrap_or(name)
}

/// Whether a figure is another than before, and paper can tell it.
fn has_moved(old: &FigurePart, new: &FigurePart) -> bool {
    let exactly = |it: &FigurePart| (it.exact.clone(), it.exact_high.clone());
    let printed = |it: &FigurePart| (it.shown.clone(), it.unit.clone());
    exactly(old) != exactly(new) && printed(old) != printed(new) && !is_rounding(old, new)
}

/// Whether two weights differ on paper by their roundings rather than by what they are: a
/// printed sum is one of rounded lines, and may go up where the weight goes down.
fn is_rounding(old: &FigurePart, new: &FigurePart) -> bool {
    let printed = |it: &FigurePart| {
        let grams = match it.unit.as_str() {
            "kg" => 1000,
            "g" => 1,
            _ => return None,
        };
        Some(read_exact(&it.shown)? * int(grams))
    };
    let by = |of: &dyn Fn(&FigurePart) -> Option<Exact>| Some(of(new)? - of(old)?);
    let moves = by(&printed).zip(by(&|it| read_exact(&it.exact)));
    let Some((shown, exact)) = moves else { return false };
    let falls = |by: &Exact| *by < Exact::ZERO;
    shown.is_zero() || falls(&shown) != falls(&exact) || shown.abs() > exact.abs() * int(2)
}

/// What a formula says differently; own stages and mixtures with another name are added to
/// those of the house that have one.
pub fn own_changes(old: &Facts, new: &Facts, renamed: &mut Renamed) -> Vec<Change> {
    let mut says: Vec<Change> = Vec::new();
    for kind in ["stage", "mixture"] {
        for (was, is) in rename::of_blocks(kind, &rename::applied(&old.all, renamed), &new.all) {
            says.push(Change {
                part: kind.to_owned(),
                of: is.to_string(),
                name: "name".to_owned(),
                old: Some(was.to_string()),
                new: Some(is.to_string()),
            });
            renamed.insert(was, (is.clone(), is));
        }
    }
    says.extend(changes(&rename::applied(&old.all, renamed), &new.all));
    says
}

/// What two lists of facts say differently.
pub fn changes(old: &[Fact], new: &[Fact]) -> Vec<Change> {
    type Values<'f> = (Vec<&'f Said>, Vec<&'f Said>);
    let mut by_name: BTreeMap<(&Block, &str), Values> = BTreeMap::new();
    for fact in old {
        by_name.entry((&fact.block, &fact.name)).or_default().0.push(&fact.value);
    }
    for fact in new {
        by_name.entry((&fact.block, &fact.name)).or_default().1.push(&fact.value);
    }
    let mut all = Vec::new();
    for ((block, name), (mut before, mut after)) in by_name {
        // What holds for which weights is one statement.
        if name == "scale" && before.len().max(after.len()) > 1 {
            let canon = |values: &[&Said]| -> BTreeSet<String> {
                values.iter().map(|it| it.canon.clone()).collect()
            };
            let shown = |values: &[&Said]| {
                let all: Vec<&str> = values.iter().map(|it| it.shown.as_str()).collect();
                (!all.is_empty()).then(|| all.join(", "))
            };
            if canon(&before) != canon(&after) {
                all.push(Change {
                    part: block.kind.to_owned(),
                    of: block.name.to_string(),
                    name: name.to_owned(),
                    old: shown(&before),
                    new: shown(&after),
                });
            }
            continue;
        }
        before.retain(|value| match after.iter().position(|it| it.canon == value.canon) {
            Some(at) => {
                after.remove(at);
                false
            }
            None => true,
        });
        before.sort_by(|one, two| one.canon.cmp(&two.canon));
        after.sort_by(|one, two| one.canon.cmp(&two.canon));
        for at in 0..before.len().max(after.len()) {
            let shown = |values: &[&Said]| values.get(at).map(|it| it.shown.clone());
            all.push(Change {
                part: block.kind.to_owned(),
                of: block.name.to_string(),
                name: name.to_owned(),
                old: shown(&before),
                new: shown(&after),
            });
        }
    }
    // That an order changes where steps or parts come and go says nothing more.
    let is_ordered = |it: &Change| it.part == "method" || it.part.is_empty();
    let steps: BTreeSet<(String, String)> = all
        .iter()
        .filter(|it| is_ordered(it) && it.name != ORDER)
        .map(|it| (it.part.clone(), it.of.clone()))
        .collect();
    all.retain(|it| it.name != ORDER || !steps.contains(&(it.part.clone(), it.of.clone())));
    all
}

/// What shared things say differently that a formula rests on, its stages left out: those are
/// part of what it says itself. A thing that only one side rests on is told
/// by the line that names it. A day also rests on hours of work.
pub fn shared_changes(
    old: &[Declared],
    new: &[Declared],
    renamed: &Renamed,
    of_handout: bool,
) -> Vec<Change> {
    let is_own = |it: &Declared| it.kind == Kind::Stage;
    let mut all = Vec::new();
    for after in new.iter().filter(|it| !is_own(it)) {
        let is_it = |it: &&Declared| {
            let key = renamed.get(&it.key).map_or(&it.key, |(now, _)| now);
            it.kind == after.kind && *key == after.key
        };
        let Some(before) = old.iter().find(is_it) else { continue };
        // What it costs and how prints look is no part of what a formula means.
        let meant = |facts: &[Fact]| -> Vec<Fact> {
            let is_meant = |it: &&Fact| match it.block.kind {
                LOOK => of_handout && is_of_days(it),
                BESIDE => false,
                _ => true,
            };
            facts.iter().filter(is_meant).cloned().collect()
        };
        let was = meant(&before.facts.all);
        let says = changes(&rename::applied(&was, renamed), &meant(&after.facts.all));
        all.extend(says.into_iter().map(|change| Change {
            part: after.kind.word().to_owned(),
            of: after.shown.to_string(),
            name: match change.name == ORDER {
                true => change.name.clone(),
                false => change.place() + &change.name,
            },
            ..change
        }));
    }
    all
}
