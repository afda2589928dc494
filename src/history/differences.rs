//! What two states of one formula do not have alike: what they say, their figures, their
//! allergens and the lines of their sheets.

use super::comparison::{Change, ClaimChange, Difference, FigureChange, Holding};
use super::declared::{Declared, DeclaredKind};
use super::facts::{BESIDE, Block, Fact, Facts, LOOK, ORDER, UNREADABLE, is_of_days};
use super::rename::{self, Renamed};
use super::said::Said;
use super::sheet;
use crate::check::{Claimed, Standing, check, claimed};
use crate::diag::{Finding, Group, Level};
use crate::formula::{Figure, House, Worked, key, work, work_as};
use crate::print::document::FigurePart;
use crate::print::{Document, Wording, document, every_figure};
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, int};
use crate::syntax::tree::{Formula, Makes};
use std::collections::{BTreeMap, BTreeSet};

/// What a formula prints, and its figures, those included that are not printed.
pub struct Printed {
    /// Its document.
    pub document: Document,
    /// Nothing where only those are asked for that are printed.
    figures: Vec<FigurePart>,
    /// Its claims, and whether they hold.
    claims: Vec<Claimed>,
    /// The errors of its checks beside claims: the rule's name, and what it says.
    errors: Vec<(&'static str, String)>,
}

impl Printed {
    /// Of a formula as it is written; none where it has errors.
    /// For another yield where one is given.
    pub fn of(house: &House, formula: &Formula, makes: Option<&Makes>) -> Option<Self> {
        Self::with(house, (formula, makes), every_figure)
    }

    /// The same with no figures but those that are printed, for two prints that have the same
    /// ones.
    pub fn of_paper(house: &House, formula: &Formula, makes: Option<&Makes>) -> Option<Self> {
        Self::with(house, (formula, makes), |_, _, _| Vec::new())
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
        (formula, makes): (&Formula, Option<&Makes>),
        figures: impl FnOnce(&House, &Worked, &Wording) -> Vec<FigurePart>,
    ) -> Option<Self> {
        // A claim that is refuted now is no reason not to tell what moved.
        let worked = match makes {
            Some(makes) => work_as(house, formula, makes, &mut Vec::new()),
            None => work(house, formula, &mut Vec::new()),
        };
        let is_sound = worked.sound && !formula.broken;
        let mut findings = Vec::new();
        if is_sound && makes.is_none() {
            check(house, formula, &worked, &mut findings);
        }
        let is_error = |it: &Finding| it.level == Level::Error && it.rule.group != Group::Claims;
        let words = Wording::plain();
        is_sound.then(|| Self {
            document: document(house, &worked, &words, house.settings.volumes),
            figures: figures(house, &worked, &words),
            // Claims are about the formula as it is written.
            claims: if makes.is_none() { claimed(house, &worked) } else { Vec::new() },
            errors: findings
                .into_iter()
                .filter(is_error)
                .map(|it| (it.rule.name, it.message))
                .collect(),
        })
    }

    /// Whether both print the same and hold what they claim alike.
    pub fn is_same(&self, other: &Self) -> bool {
        sheet::is_same(&self.document, &other.document)
            && claims(&self.claims, &other.claims).is_empty()
            && more_errors(self, other).is_empty()
            && more_errors(other, self).is_empty()
    }

    /// What a formula that is new, or gone, claims and is not.
    pub fn claims_alone(&self, is_new: bool) -> Vec<ClaimChange> {
        if is_new { claims(&[], &self.claims) } else { claims(&self.claims, &[]) }
    }
}

/// The errors that the second print has more of than the first.
fn more_errors(old: &Printed, new: &Printed) -> Vec<String> {
    let mut known: Vec<&str> = old.errors.iter().map(|(rule, _)| *rule).collect();
    let is_more = |(rule, _): &&(&'static str, String)| {
        let at = known.iter().position(|it| it == rule);
        at.map(|at| known.swap_remove(at)).is_none()
    };
    new.errors.iter().filter(is_more).map(|(_, said)| said.clone()).collect()
}

/// The claims that hold on one side only; of those that one side alone has, those that do not.
fn claims(old: &[Claimed], new: &[Claimed]) -> Vec<ClaimChange> {
    let holding = |it: &Claimed| match it.standing {
        Standing::Holds => Holding::Holds,
        Standing::NotKnown => Holding::NotKnown,
        Standing::Fails => Holding::Fails,
    };
    let why = |it: Option<&Claimed>| it.map(|it| it.why.clone()).filter(|why| !why.is_empty());
    let find = |all: &'_ [Claimed], said: &str| all.iter().find(|it| it.claim == said).cloned();
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let all = new.iter().chain(old).filter(|it| seen.insert(&it.claim));
    let mut found: Vec<ClaimChange> = all
        .filter_map(|it| {
            let (old, new) = (find(old, &it.claim), find(new, &it.claim));
            let stands =
                |it: &Option<Claimed>| it.as_ref().map_or(Standing::Holds, |it| it.standing);
            (stands(&old) != stands(&new)).then(|| ClaimChange {
                claim: it.claim.clone(),
                old: old.as_ref().map(holding),
                new: new.as_ref().map(holding),
                old_why: why(old.as_ref()),
                new_why: why(new.as_ref()),
            })
        })
        .collect();
    found.sort_by_key(|it| !it.is_broken());
    found
}

impl Difference {
    /// From one print to another; what has another name is what it was.
    pub fn between(old: &Printed, new: &Printed, renamed: &Renamed) -> Self {
        let (before, after) = (&old.document, &new.document);
        Self {
            claims: claims(&old.claims, &new.claims),
            errors: more_errors(old, new),
            errors_no_longer: more_errors(new, old),
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
    let mut moved: Vec<FigureChange> =
        pairs.filter_map(|(old, new)| figure_change(old, new)).collect();
    moved.sort_by_key(|it| std::cmp::Reverse(weight_of_figure(it)));
    moved
}

/// How far a number moved, in millionths of the larger one.
pub fn moved_by(old: Option<&String>, new: Option<&String>) -> u64 {
    let read = |text: Option<&String>| text.and_then(|text| read_exact(text));
    let (Some(old), Some(new)) = (read(old), read(new)) else { return ALL_OF_IT };
    let larger = old.abs().max(new.abs());
    let share = (&old - &new).abs().over(&larger).unwrap_or(Exact::ZERO);
    let millionths = (share * int(1_000_000)).ceil().to_whole().unwrap_or_default();
    u64::try_from(millionths).unwrap_or(ALL_OF_IT).min(ALL_OF_IT)
}

/// What came or went moved by all of it, in millionths.
const ALL_OF_IT: u64 = 1_000_000;

/// How much a figure that moved matters, in millionths: by how much of it. How long all takes
/// comes of what is done, and weighs a tenth.
pub fn weight_of_figure(figure: &FigureChange) -> u64 {
    let low = moved_by(figure.old_exact.as_ref(), figure.new_exact.as_ref());
    let ends = (figure.old_exact_high.as_ref(), figure.new_exact_high.as_ref());
    let high = if ends == (None, None) { 0 } else { moved_by(ends.0, ends.1) };
    let is_time =
        matches!(Figure::read(&key(&figure.name)), Some(Figure::Elapsed | Figure::HandsOn));
    low.max(high) / if is_time { 10 } else { 1 }
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
    as_far_as_read(&old.all, &new.all, &mut says);
    says
}

/// Leaves out what one side lacks and what may stand in the part of it that can't be read.
pub fn as_far_as_read(old: &[Fact], new: &[Fact], says: &mut Vec<Change>) {
    let (old, new) = (is_read_in_part(old), is_read_in_part(new));
    says.retain(|it| {
        it.name == UNREADABLE || (!old || it.old.is_some()) && (!new || it.new.is_some())
    });
}

/// Whether a part of what says these facts can't be read.
pub fn is_read_in_part(facts: &[Fact]) -> bool {
    facts.iter().any(|it| it.name == UNREADABLE)
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
    let is_own = |it: &Declared| it.kind == DeclaredKind::Stage;
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
