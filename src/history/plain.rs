//! A file as plain text for git to compare: a line for each thing that is said, in one order.

use super::declared::{Declared, of_tree};
use super::facts::{BESIDE, LOOK};
use crate::source::visible;
use crate::syntax::tree::Tree;

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
