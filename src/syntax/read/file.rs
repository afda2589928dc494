//! What stands at the top of a file.

use super::Reader;
use super::bakehouse::machine_kind;
use super::formula::stage_kind;
use super::names::name_of;
use super::ratios::fed_with;
use super::said_for;
use super::statements::{Statement, Statements};
use super::words::{BLOCKS, OF_A_FILE, OF_A_FORMULA, near};
use crate::diag::Finding;
use crate::source::Span;
use crate::syntax::findings::{misplaced_brace, misplaced_statement, too_deep, unknown_word};
use crate::syntax::outline::Outline;
use crate::syntax::tree::{Culture, Mix, Tree};

/// How much of a file has been read.
#[derive(Clone, Copy, PartialEq)]
struct Counts {
    formulas: usize,
    stages: usize,
    mixtures: usize,
    /// What never stands in a formula.
    others: usize,
}

impl Counts {
    fn of(tree: &Tree) -> Self {
        Self {
            formulas: tree.formulas.len(),
            stages: tree.stages.len(),
            mixtures: tree.mixtures.len(),
            others: [
                tree.ingredients.len(),
                tree.cultures.len(),
                tree.styles.len(),
                tree.machines.len(),
                tree.bakehouses.len(),
                tree.days.len(),
                tree.booklets.len(),
            ]
            .iter()
            .sum(),
        }
    }
}

/// What stands between a formula and a `}` that closes nothing is of that formula, which lost a
/// `{`: it is nobody else's to take. `read` holds where each statement begins and what had been
/// read before it.
fn give_back(tree: &mut Tree, read: &[(u32, Counts)], stray: u32) {
    let up_to = read.partition_point(|(start, _)| *start < stray);
    let after = |at: usize| read.get(at + 1).map_or(Counts::of(tree), |(_, counts)| *counts);
    let Some(last) = up_to.checked_sub(1).map(after) else { return };
    let around = (0..up_to).rev().find(|&at| {
        let before = read.get(at).map(|(_, counts)| *counts);
        before.is_some_and(|it| it.formulas < after(at).formulas || it.others < after(at).others)
    });
    let Some(own) = around.map(after).filter(|it| it.formulas > 0) else { return };
    let is_formula = around.and_then(|at| read.get(at)).is_some_and(|it| it.1.others == own.others);
    if !is_formula {
        return;
    }
    let up_to = last.stages.min(tree.stages.len());
    tree.stages.drain(own.stages.min(up_to)..up_to);
    let up_to = last.mixtures.min(tree.mixtures.len());
    tree.mixtures.drain(own.mixtures.min(up_to)..up_to);
    if let Some(formula) = tree.formulas.get_mut(own.formulas - 1) {
        formula.broken = true;
    }
}

impl<'a> Reader<'a> {
    /// All declarations of a file.
    pub fn file(&mut self, shape: &'a Outline) -> Tree {
        let mut tree = Tree::default();
        let mut statements = Statements::of_file(&shape.items);
        let mut read = Vec::new();
        while let Some(statement) = statements.next(self) {
            read.push((statement.span.start, Counts::of(&tree)));
            let word = statement.cursor.lower();
            self.declaration(&statement, &word, &mut statements, &mut tree);
            self.parted_as_made(None);
        }
        self.unclosed_texts(shape, &[]);
        match shape.too_deep {
            // Where braces lie too deep, nobody can say which `}` closes nothing.
            Some(place) => self.fail(too_deep::finding(place)),
            None => {
                for stray in shape.strays.iter().skip(self.unopened) {
                    self.fail(misplaced_brace::stray_brace(*stray));
                }
            }
        }
        // From the last one on, so that what was counted holds for those before it.
        for stray in shape.strays.iter().rev() {
            give_back(&mut tree, &read, stray.start);
        }
        tree
    }

    fn declaration(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        statements: &mut Statements<'a>,
        tree: &mut Tree,
    ) {
        if let Some(kind) = statement.stage_by_name() {
            tree.stages.extend(self.stage(kind, statement, statements));
            return;
        }
        if !OF_A_FILE.contains(&word) {
            return self.unknown_declaration(statement, word, statements, tree);
        }
        self.strayed = false;
        match word {
            "formula" => tree.formulas.extend(self.formula(statement, statements)),
            "ingredient" => tree.ingredients.extend(self.ingredient(statement, statements)),
            "culture" | "starter" => tree.cultures.extend(self.culture(statement, statements)),
            "style" => tree.styles.extend(self.style(statement, statements)),
            "mixture" => tree.mixtures.extend(self.mixture(statement, statements)),
            "bakehouse" => tree.bakehouses.push(self.bakehouse(statement, statements)),
            "day" => tree.days.extend(self.day(statement, statements)),
            "booklet" => tree.booklets.extend(self.booklet(statement, statements)),
            _ => {
                if let Some(kind) = stage_kind(word) {
                    tree.stages.extend(self.stage(kind, statement, statements));
                } else if let Some(kind) = machine_kind(word) {
                    tree.machines.extend(self.machine(kind, statement, statements));
                } else {
                    self.unknown_declaration(statement, word, statements, tree);
                }
            }
        }
    }

    /// A word that declares nothing. Where it is said for one of ours, or is close to one,
    /// and a block follows, the block is read as that one.
    fn unknown_declaration(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        statements: &mut Statements<'a>,
        tree: &mut Tree,
    ) {
        if self.formula_said_otherwise(statement, statements, tree) {
            return;
        }
        let here = statement.cursor.here();
        let written = self.under(here);
        let head = self.under(statement.span);
        if statement.cursor.at_end() && statement.has_block() && !self.strayed {
            self.strayed = true;
            return self.fail(misplaced_brace::no_declaration(Span {
                end: statement.span.start + 1,
                ..statement.span
            }));
        }
        if let Some((name, water)) = said_for::culture(head).filter(|_| !statement.has_block()) {
            let name = name_of(name, here.to(here));
            self.fail(unknown_word::culture_meant(statement.span, head, &name.shown, water));
            let mix = Mix { lines: fed_with(water, statement.span), ..Mix::default() };
            return tree.cultures.push(Culture { name, mix, texts: Vec::new() });
        }
        let is_of_formula = OF_A_FORMULA.contains(&word) || said_for::block(head).is_some();
        let near = said_for::declaration(written)
            .or_else(|| near(word, OF_A_FILE).filter(|_| !is_of_formula));
        if let Some(near) = near.filter(|_| statement.has_block()) {
            self.fail(unknown_word::unknown_word(here, written, "file", Some(near)));
            return self.declaration(statement, near, statements, tree);
        }
        let declared = said_for::declared(head).filter(|_| statement.has_block());
        if let Some(help) = said_for::in_a_file(head).or(declared) {
            return self.fail(unknown_word::said_for(here, written, "file", help));
        }
        // Lines, blocks and words without a formula around them are one slip.
        if std::mem::replace(&mut self.strayed, true) {
            self.broken = true;
            return;
        }
        if is_of_formula && statement.has_block() {
            return self.fail(misplaced_statement::outside_a_formula(statement.span, head));
        }
        self.unknown_word(statement, "file", OF_A_FILE);
    }

    /// A formula without its word, or with another one; says whether the statement is one.
    fn formula_said_otherwise(
        &mut self,
        statement: &Statement<'a>,
        statements: &mut Statements<'a>,
        tree: &mut Tree,
    ) -> bool {
        let is_block = |head: &str| {
            let word = head.split_whitespace().next().unwrap_or_default().to_lowercase();
            BLOCKS.contains(&word.as_str()) || said_for::block(head).is_some()
        };
        let head = self.under(statement.span);
        let word = self.under(statement.cursor.here());
        let is_said = said_for::declaration(word) == Some("formula");
        let named = if is_said { self.under(statement.after_word().rest()) } else { head };
        if !statement.has_block()
            || said_for::block(head).is_some()
            || OF_A_FORMULA.contains(&&*word.to_lowercase())
            || !is_said && statement.holds(self, is_block).1 == 0
            || near(word, OF_A_FILE).is_some()
        {
            return false;
        }
        let Some((name, title)) = said_for::head(named) else { return false };
        let meant = format!("formula {name} \"{title}\"");
        let place = if is_said { statement.cursor.here() } else { statement.span };
        let place = if named.trim_start().starts_with(':') { statement.span } else { place };
        let repaired = if place == statement.span { meant.clone() } else { "formula".to_owned() };
        self.fail(unknown_word::formula_meant(place, self.under(place), &meant, &repaired));
        let read = if is_said { *statement } else { statement.as_name() };
        let before = self.findings.len();
        let formula = self.formula(&read, statements);
        if is_said {
            let is_of_head =
                |it: &Finding| statement.span.range().contains(&it.span().range().start);
            let later = self.findings.split_off(before);
            self.findings.extend(later.into_iter().filter(|it| !is_of_head(it)));
        }
        tree.formulas.extend(formula);
        true
    }
}
