//! Lists that leave nothing out: `nothing but flour and water`, `allergens: wheat`.

use super::super::speech::{Food, PhraseFound, TokenKind, food_at};
use super::reading::{Claim, DenialReading, Denied, Subject};

impl DenialReading<'_> {
    /// What lists leave out, and `nothing but`.
    pub(super) fn all_that_there_is(&self) -> Vec<Claim> {
        let mut all = Vec::new();
        for it in self.words() {
            match it.tag.word {
                "nothing-but" => all.extend(self.nothing_but(it, 2)),
                "only" => {
                    all.extend(self.nothing_but(it, 3));
                    all.extend(self.alone(it));
                }
                "nothing-else" => all.extend(self.nothing_else(it)),
                "ingredients" => all.extend(self.ingredient_list(it)),
                "allergens" => {
                    all.extend(self.no_other(it));
                    all.extend(self.allergen_list(it));
                }
                "declare" => all.extend(self.to_declare(it)),
                "contains" => all.extend(self.contains_list(it)),
                _ => {}
            }
        }
        all
    }

    /// `made of nothing but flour, water and salt`. Where the words are weak (`only`), so
    /// many foods have to follow; what a step says is about the step.
    pub(super) fn nothing_but(&self, it: &PhraseFound, least: usize) -> Option<Claim> {
        if self.is_work() || self.is_denied(it.from) || self.is_said_of_other() {
            return None;
        }
        let foods = self.foods_from(it.to);
        let to = foods.last()?.to;
        (foods.len() >= least).then(|| Claim::of(it.from..to, Denied::AllElse(foods)))
    }

    /// `flour, water, salt and nothing else`.
    pub(super) fn nothing_else(&self, it: &PhraseFound) -> Option<Claim> {
        let named = self.named_in(0..it.from);
        let foods: Vec<Food> = named.iter().filter_map(|named| self.food_of(named)).collect();
        let from = named.first()?.from;
        let is_near = named.last().is_some_and(|last| it.from - last.to <= 3);
        // `Fertig` by itself ends a list only where nothing follows.
        let is_near = is_near && (it.to > it.from + 1 || self.is_break(it.to));
        // `Leave flour and water alone.`
        let is_near = is_near && self.is("order", 0).is_none();
        // `Our breads contain wheat and nothing else`, of what a label tells.
        let is_contained = named.len() == 1
            && is_near
            && from
                .checked_sub(1)
                .is_some_and(|last| self.sentence.word_at("contains", last).is_some())
            && !self.is_denied(from - 1);
        if is_contained
            && let [only] = named.as_slice()
            && matches!(only.what, Denied::Absence(_))
        {
            let named = vec![only.what.clone()];
            return Some(Claim::of(from..it.to, Denied::OtherAllergens(named)));
        }
        let is_list = foods.len() >= 2 && is_near && !self.is_work() && !self.is_said_of_other();
        is_list.then(|| Claim::of(from..it.to, Denied::AllElse(foods)))
    }

    /// `flour, water, yeast and salt alone`.
    fn alone(&self, it: &PhraseFound) -> Option<Claim> {
        const WORDS: [&str; 8] =
            ["alone", "seulement", "uniquement", "allein", "solamente", "solo", "soltanto", "sólo"];
        let is_it = self.is_mark(it.from, &WORDS) && self.is_break(it.to);
        let named = self.named_in(self.part_of_list(it.from)..it.from).len();
        if is_it && named >= 3 { self.nothing_else(it) } else { None }
    }

    /// Where the list that ends before a word may begin: past the commas, not past a stop.
    fn part_of_list(&self, before: usize) -> usize {
        let is_stop =
            |at: &usize| self.token(*at).is_some_and(|token| token.kind == TokenKind::Stop);
        (0..before).rev().find(is_stop).map_or(0, |at| at + 1)
    }

    /// Whether it is told of something beside the bread.
    pub(super) fn is_said_of_other(&self) -> bool {
        let whole = self.sentence.whole();
        let other = ["serve", "act", "story", "unreal", "trace"];
        other.iter().any(|row| self.has(row, &whole))
    }

    /// The food that something is.
    pub(super) fn food_of(&self, subject: &Subject) -> Option<Food> {
        match &subject.what {
            Denied::Food(food) => Some(food.clone()),
            _ => food_at(self.house, self.sentence, subject.from),
        }
    }

    /// The foods of a list that begins at a word: `flour, water and a little salt`.
    pub(super) fn foods_from(&self, from: usize) -> Vec<Food> {
        let mut found = Vec::new();
        let mut end = from;
        for subject in self.subjects.iter().filter(|subject| subject.from >= from) {
            let between = end..subject.from;
            let is_denied = ["not", "absent"].iter().any(|row| self.has(row, &between));
            if subject.from > end + 4 || is_denied {
                break;
            }
            end = subject.to;
            found.extend(self.food_of(subject));
        }
        found
    }

    /// `Ingredients: flour, water, salt` leaves no allergen out.
    pub(super) fn ingredient_list(&self, it: &PhraseFound) -> Option<Claim> {
        let listed = self.named_in(it.to..self.sentence.tokens.len());
        let is_it = self.is_mark(it.to, &[":"]) || self.is("is-verb", it.to).is_some();
        self.list(is_it && listed.len() >= 2, it, &listed)
    }

    /// `Allergens: wheat`, `wheat is the only allergen`.
    pub(super) fn allergen_list(&self, it: &PhraseFound) -> Option<Claim> {
        let whole = self.sentence.whole();
        let only = self.has("only", &whole);
        let after = self.named_in(it.to..whole.end);
        let listed = match after.is_empty() && only {
            true => self.named_in(0..it.from),
            false => after,
        };
        // `no allergens` is a denial of its own.
        let is_denied = self.sentence.has("absent", &(0..it.from));
        let is_list = (self.is_mark(it.to, &[":", "–", "("]) || only || self.is_told_by(it))
            && !listed.is_empty()
            && !is_denied;
        self.list(is_list, it, &listed)
    }

    /// `may contain nuts; no other allergens`, `contains no other of the 14 allergens`: all
    /// that stands before it is named.
    fn no_other(&self, it: &PhraseFound) -> Option<Claim> {
        let part = self.part(it.from);
        let before = part.start..it.from;
        let is_other = self.has("other", &before);
        let rows = ["absent", "absent-bare", "not"];
        let denied = rows.iter().flat_map(|row| self.sentence.all("word", row));
        let denied = denied.filter(|no| before.contains(&no.from)).map(|no| no.from).min();
        let answered = || {
            let after = it.to + usize::from(self.is_mark(it.to, &[":"]));
            after > it.to && self.is("answer", after).is_some()
        };
        let from = denied.or_else(|| answered().then_some(part.start))?;
        let named = self.named_in(0..it.from).into_iter().map(|one| one.what.clone()).collect();
        is_other.then(|| Claim::of(from..it.to, Denied::OtherAllergens(named)))
    }

    /// `the only thing to look out for is gluten`.
    fn to_declare(&self, it: &PhraseFound) -> Option<Claim> {
        let whole = self.sentence.whole();
        let listed = self.named_in(whole.clone());
        let is_list = self.has("only", &whole)
            && !listed.is_empty()
            && listed.iter().all(|it| matches!(it.what, Denied::Absence(_)));
        self.list(is_list, it, &listed)
    }

    /// `the allergens are wheat and milk`.
    pub(super) fn is_told_by(&self, it: &PhraseFound) -> bool {
        self.is("is-verb", it.to).is_some()
            || self.sentence.word_before("contains", it.from).is_some()
    }

    /// `Contains: wheat`, `contains only wheat`.
    pub(super) fn contains_list(&self, it: &PhraseFound) -> Option<Claim> {
        let listed = self.named_in(it.to..self.sentence.tokens.len());
        let last = listed.last().map_or(it.to, |last| last.to);
        let only = self.is("only", it.to).or(self.is("only", last)).is_some()
            || self.sentence.word_before("only", it.from).is_some();
        // `Contains wheat, rye.`, as labels have it: nothing but names after it.
        let bare = it.from == 0 && listed.len() >= 2 && self.is_bare_list(it.to, &listed);
        let is_list = (self.is_mark(it.to, &[":"]) || only || bare)
            && !listed.is_empty()
            && listed.iter().all(|it| matches!(it.what, Denied::Absence(_)))
            && (only || !self.is_denied(it.from));
        self.list(is_list, it, &listed)
    }

    /// Whether a sentence is nothing but names from a word on.
    fn is_bare_list(&self, from: usize, listed: &[&Subject]) -> bool {
        let is_named = |at: usize| listed.iter().any(|it| it.from <= at && at < it.to);
        let is_between = |at: usize| self.is_break(at) || self.is("joint", at).is_some();
        (from..self.sentence.tokens.len()).all(|at| is_named(at) || is_between(at))
    }

    /// The claim that a list names all there is.
    pub(super) fn list(
        &self,
        is_list: bool,
        it: &PhraseFound,
        listed: &[&Subject],
    ) -> Option<Claim> {
        // The `list` of `our list is short` is this one.
        let is_own = |among: &PhraseFound| it.from <= among.from && among.to <= it.to;
        let mut among = self.sentence.all("word", "among").filter(|among| !is_own(among));
        if !is_list || among.next().is_some() {
            return None;
        }
        let from = listed.first()?.from.min(it.from);
        let to = listed.last()?.to.max(it.to);
        let named = listed.iter().map(|subject| subject.what.clone()).collect();
        Some(Claim::of(from..to, Denied::OtherAllergens(named)))
    }
}
