//! What stands at the top of a file.

use super::Reader;
use super::bakehouse::machine_kind;
use super::formula::stage_kind;
use super::statements::{Statement, Statements};
use super::words::{OF_A_FILE, near};
use crate::source::Span;
use crate::syntax::findings::{misplaced_brace, not_worked_out_yet, too_deep, unknown_word};
use crate::syntax::outline::Outline;
use crate::syntax::tree::Tree;

impl<'a> Reader<'a> {
    /// All declarations of a file.
    pub fn file(&mut self, shape: &'a Outline) -> Tree {
        let mut tree = Tree::default();
        let mut statements = Statements::of_file(&shape.items);
        // Of declarations whose insides are not read yet.
        let mut unread = Vec::new();
        while let Some(statement) = statements.next(self) {
            let word = statement.cursor.lower();
            self.declaration(&statement, &word, &mut statements, &mut tree, &mut unread);
        }
        unread.sort_by_key(|later: &Span| later.start);
        self.unclosed_texts(shape, &unread);
        match shape.too_deep {
            Some(place)
                if !unread.iter().any(|later| later.range().contains(&(place.start as usize))) =>
            {
                self.fail(too_deep::finding(place));
            }
            // Where braces lie too deep, nobody can say which `}` closes nothing.
            Some(_) => {}
            None => {
                for stray in &shape.strays {
                    self.fail(misplaced_brace::stray_brace(*stray));
                }
            }
        }
        tree
    }

    fn declaration(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        statements: &mut Statements<'a>,
        tree: &mut Tree,
        unread: &mut Vec<Span>,
    ) {
        if let Some(kind) = statement.stage_by_name() {
            tree.stages.extend(self.stage(kind, statement, statements));
            return;
        }
        if !OF_A_FILE.contains(&word) {
            return self.unknown_declaration(statement, word, statements, tree, unread);
        }
        match word {
            "formula" => tree.formulas.extend(self.formula(statement, statements)),
            "ingredient" => tree.ingredients.extend(self.ingredient(statement, statements)),
            "culture" | "starter" => tree.cultures.extend(self.culture(statement, statements)),
            "style" => tree.styles.extend(self.style(statement, statements)),
            "mixture" => tree.mixtures.extend(self.mixture(statement, statements)),
            "bakehouse" => tree.bakehouses.push(self.bakehouse(statement, statements)),
            "day" => self.later(statement, "day", unread),
            "booklet" => self.later(statement, "booklet", unread),
            _ => {
                if let Some(kind) = stage_kind(word) {
                    tree.stages.extend(self.stage(kind, statement, statements));
                } else if let Some(kind) = machine_kind(word) {
                    tree.machines.extend(self.machine(kind, statement, statements));
                } else {
                    self.unknown_declaration(statement, word, statements, tree, unread);
                }
            }
        }
    }

    /// A day or a booklet: its inside is not read, and nothing in it is a finding.
    fn later(&mut self, statement: &Statement<'a>, word: &'static str, unread: &mut Vec<Span>) {
        self.muted = false;
        unread.push(statement.whole());
        let head = statement.span;
        self.report(not_worked_out_yet::finding(head, word, self.under(head)));
        let block = self.open(statement);
        self.close_unread(&block);
    }

    /// A word that declares nothing. Where it is close to one that does and a block
    /// follows, the block is read as that one.
    fn unknown_declaration(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        statements: &mut Statements<'a>,
        tree: &mut Tree,
        unread: &mut Vec<Span>,
    ) {
        let Some(near) = near(word, OF_A_FILE).filter(|_| statement.has_block()) else {
            return self.unknown_word(statement, "file", OF_A_FILE);
        };
        let here = statement.cursor.here();
        self.fail(unknown_word::unknown_word(here, self.under(here), "file", Some(near)));
        self.declaration(statement, near, statements, tree, unread);
    }
}
