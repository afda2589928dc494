//! A file as plain text for git to compare: a line for each thing that is said, in one order.

use super::declared::{Declared, of_tree};
use super::facts::{BESIDE, Fact, LOOK, ORDER};
use crate::source::visible;
use crate::syntax::tree::{Tree, WordsKind};
use std::collections::{BTreeMap, BTreeSet};

fn declared(tree: &Tree) -> Vec<Declared> {
    let mut all = of_tree(tree);
    all.extend(tree.formulas.iter().map(Declared::formula));
    all.sort_by(|one, two| (one.kind, &one.key).cmp(&(two.kind, &two.key)));
    all
}

/// Whether two trees say the same, in whatever order and however it was written.
pub fn is_same(one: &Tree, two: &Tree) -> bool {
    let (one, two) = (declared(one), declared(two));
    let said = |declared: &Declared| {
        let facts = declared.facts.all.iter();
        let mut all: Vec<_> =
            facts.map(|it| (it.block.clone(), it.name.clone(), it.value.canon.clone())).collect();
        all.sort_unstable();
        (declared.kind, declared.shown.clone(), all)
    };
    one.len() == two.len() && one.iter().zip(&two).all(|(one, two)| said(one) == said(two))
}

/// What is said by whom: the kind and key of a declaration, and the part and the name of
/// what it says; the last three empty for the declaration itself.
pub type Saying = (&'static str, String, &'static str, String, String);

/// All that a tree says, by what it says it of.
fn sayings(tree: &Tree) -> BTreeMap<Saying, Vec<String>> {
    let mut all: BTreeMap<Saying, Vec<String>> = BTreeMap::new();
    for declared in declared(tree) {
        let (kind, key) = (declared.kind.word(), declared.key.to_string());
        let itself = (kind, key.clone(), "", String::new(), String::new());
        all.entry(itself).or_default().push(declared.shown.to_string());
        for Fact { block, name, value } in declared.facts.all {
            // The order of steps or parts is said by them.
            if name == ORDER {
                continue;
            }
            let saying = (kind, key.clone(), block.kind, block.name.to_string(), name.to_string());
            all.entry(saying).or_default().push(value.canon);
        }
    }
    all.values_mut().for_each(|values| values.sort());
    all
}

/// Whether a text says what two edits of a base say together, each of other things.
pub fn joins(base: &Tree, ours: &Tree, theirs: &Tree, both: &Tree) -> bool {
    let [base, ours, theirs, both] = [base, ours, theirs, both].map(sayings);
    let mut all: BTreeSet<&Saying> = base.keys().chain(ours.keys()).collect();
    all.extend(theirs.keys().chain(both.keys()));
    all.into_iter().all(|saying| {
        let [base, ours, theirs, both] = [&base, &ours, &theirs, &both].map(|all| all.get(saying));
        let wanted = match (ours == base, theirs == base) {
            (true, _) => theirs,
            (_, true) => ours,
            _ if ours == theirs => ours,
            _ => return false,
        };
        both == wanted
    })
}

/// Whether two edits of a base, each sound by itself, decide two halves of one thing: how long and
/// how warm a step is, or two parts of a mixture. Together they are what nobody has decided.
pub fn halve_a_decision(base: &Tree, ours: &Tree, theirs: &Tree) -> bool {
    let [base, ours, theirs] = [base, ours, theirs].map(sayings);
    let changed = |side: &'_ BTreeMap<Saying, Vec<String>>| -> BTreeSet<Saying> {
        let all = base.keys().chain(side.keys());
        all.filter(|it| base.get(*it) != side.get(*it)).cloned().collect()
    };
    let (one, two) = (changed(&ours), changed(&theirs));
    let said = |it: &Saying| -> Vec<&String> {
        [&base, &ours, &theirs].into_iter().filter_map(|all| all.get(it)).flatten().collect()
    };
    let is_of_one = |mine: &Saying, other: &Saying| {
        let place = |it: &Saying| (it.0, it.1.clone(), it.2, it.3.clone());
        let by_parts = |it: &Saying| said(it).iter().any(|said| said.ends_with('p'));
        let is_step = mine.2 == "method" && measured(&mine.4).is_some();
        place(mine) == place(other)
            && mine != other
            && (is_step && measured(&mine.4) == measured(&other.4)
                || by_parts(mine) && by_parts(other))
    };
    one.iter().any(|mine| {
        // What both sides did alike is nobody's alone.
        let is_own = |it: &Saying| ours.get(it) != theirs.get(it);
        is_own(mine) && two.iter().any(|other| is_own(other) && is_of_one(mine, other))
    })
}

/// The step of a fact that says how long, how warm or how far: `proof 2` of `proof 2 at`.
fn measured(name: &str) -> Option<&str> {
    const CLAUSES: [&str; 7] = [" for", " at", " to", " fold", " until", " how", " speed"];
    let step = CLAUSES.iter().find_map(|clause| name.strip_suffix(clause))?;
    Some(step.split(", phase").next().unwrap_or(step))
}

/// Whether a text lacks something that a side has put into a base or changed of it.
pub fn lacks(settled: &Tree, base: &Tree, side: &Tree) -> bool {
    let (settled, base) = (declared(settled), declared(base));
    let find = |all: &'_ [Declared], it: &Declared| {
        all.iter().find(|other| (other.kind, &other.key) == (it.kind, &it.key)).cloned()
    };
    declared(side).iter().any(|it| {
        let was = find(&base, it);
        let is_changed = was.is_none_or(|was| was.facts.all != it.facts.all);
        is_changed && find(&settled, it).is_none()
    })
}

/// The steps of each method, in order, by whose it is.
fn methods(tree: &Tree) -> BTreeMap<(&'static str, String, String), Vec<String>> {
    let mut all = BTreeMap::new();
    for declared in declared(tree) {
        let orders = declared.facts.all.iter();
        for fact in orders.filter(|it| it.block.kind == "method" && it.name == ORDER) {
            let key = (declared.kind.word(), declared.key.to_string(), fact.block.name.to_string());
            let steps = fact.value.canon.split('\u{1a}').map(str::to_owned).collect();
            all.insert(key, steps);
        }
    }
    all
}

/// Whether a text with two edits of a base together has steps of a method in an order that one
/// of them has undone, or one that a side has taken out.
pub fn loses_an_order(base: &Tree, [ours, theirs, both]: [&Tree; 3]) -> bool {
    let [base, ours, theirs, both] = [base, ours, theirs, both].map(methods);
    base.iter().any(|(key, base)| {
        let (Some(ours), Some(theirs), Some(both)) =
            (ours.get(key), theirs.get(key), both.get(key))
        else {
            return false;
        };
        let count = |steps: &[String], step: &String| steps.iter().filter(|it| *it == step).count();
        let is_kept = |step: &String| {
            let [was, one, two, now] = [base, ours, theirs, both].map(|it| count(it, step));
            now == if one == two { one } else { (one + two).saturating_sub(was) }
        };
        let place = |steps: &[String], step: &String| {
            let at = steps.iter().position(|it| it == step);
            at.filter(|_| count(steps, step) == 1)
        };
        let comes_first = |steps: &[String], one: &String, two: &String| {
            Some(place(steps, one)? < place(steps, two)?)
        };
        // What a side has put the other way round stands so.
        let keeps_the_order_of = |side: &Vec<String>| {
            let pairs = base.iter().enumerate();
            let mut pairs =
                pairs.flat_map(|(at, one)| base.iter().skip(at + 1).map(move |two| (one, two)));
            pairs.all(|(one, two)| {
                comes_first(side, one, two) != Some(false)
                    || comes_first(base, one, two) != Some(true)
                    || comes_first(both, one, two) != Some(true)
            })
        };
        !(base.iter().all(is_kept) && keeps_the_order_of(ours) && keeps_the_order_of(theirs))
    })
}

/// How many things a tree says twice that may be said once: lines, claims, properties, and
/// things declared.
pub fn said_twice(tree: &Tree) -> usize {
    const OFTEN: [&str; 6] = ["save", "without", "size", "at least", "free from", "holds"];
    let is_once = |(kind, _, part, _, name): &Saying| {
        let often = OFTEN.contains(&name.as_str())
            || WordsKind::named(name).is_some()
            || name.starts_with("allow ");
        !matches!(*kind, "bakehouse" | "booklet") && *part != "method" && !often
    };
    let all = sayings(tree).into_iter();
    all.filter(|(saying, said)| is_once(saying) && said.len() > 1).count()
}

/// All that a tree says.
pub fn text(tree: &Tree) -> String {
    let all = declared(tree);
    let mut written = String::new();
    for declared in &all {
        written.push_str(&format!("{} {}\n", declared.kind.word(), declared.shown));
        let mut lines: Vec<(&str, &str, &str, &str)> = declared
            .facts
            .all
            .iter()
            .map(|it| {
                let kind = it.block.kind;
                let kind = if matches!(kind, LOOK | BESIDE) { "" } else { kind };
                (kind, it.block.name.as_str(), it.name.as_str(), it.value.shown.as_str())
            })
            .collect();
        lines.sort_unstable();
        for (kind, of, name, value) in lines {
            let part = [kind, of].into_iter().filter(|word| !word.is_empty());
            let part = part.collect::<Vec<_>>().join(" ");
            let part = if part.is_empty() { part } else { format!("{part}: ") };
            written.push_str(format!("  {part}{name} {value}").trim_end());
            written.push('\n');
        }
    }
    visible(&written).into_owned()
}
