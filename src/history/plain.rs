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
