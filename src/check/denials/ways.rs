//! The ways to deny: which things a word of denial is about.

use super::super::speech::{PhraseFound, TokenKind};
use super::reading::{
    Candidate, Claim, DenialForm, DenialReading, Denied, Subject, is_answer, is_zero,
};
use std::ops::Range;

/// After what an answer stands.
pub(super) const MARKS: [&str; 7] = [":", "?", "–", "(", ".", "!", "="];

impl DenialReading<'_> {
    /// `free from nuts`, `without milk, egg or nuts`.
    pub(super) fn absent(&self, it: &PhraseFound, unknown: usize) -> Vec<Candidate> {
        self.listed(DenialForm::Absent, it, unknown)
    }

    /// What a list after some words denies.
    pub(super) fn listed(
        &self,
        form: DenialForm,
        it: &PhraseFound,
        unknown: usize,
    ) -> Vec<Candidate> {
        let listed = self.listed_after(it.to, unknown).into_iter();
        listed.map(|subject| Candidate { form, from: it.from, to: it.to, subject }).collect()
    }

    /// The list that begins at a word, past so many words that are not known.
    pub(super) fn listed_after(&self, from: usize, most: usize) -> Vec<usize> {
        let mut found = Vec::new();
        let mut unknown = 0;
        let mut at = from + usize::from(self.is_mark(from, &[":", "(", "\"", "«", "“"]));
        while at < self.sentence.tokens.len() {
            if let Some(index) = self.subject_from(at) {
                found.push(index);
                unknown = 0;
                let to = self.subjects[index].to;
                match self.next_of_list(to) {
                    Some(next) => at = next,
                    None => break,
                }
            } else if let Some(to) = self.is("filler", at) {
                at = to;
            } else if self.ends_list(at) || unknown == most {
                break;
            } else {
                unknown += 1;
                at += 1;
                if let Some(next) = self.next_of_list(at) {
                    (at, unknown) = (next, 0);
                }
            }
        }
        found
    }

    /// Whether a list ends at a word.
    pub(super) fn ends_list(&self, at: usize) -> bool {
        let ends = ["but", "uses", "doing", "except", "remains", "piece", "bread", "absent"];
        self.is_break(at) || ends.iter().any(|row| self.is(row, at).is_some())
    }

    /// Where a list goes on after one of its items: after `and`, a stroke, or a comma with
    /// something that ends as an item does.
    pub(super) fn next_of_list(&self, to: usize) -> Option<usize> {
        if self.subject_from(to).is_some() {
            return Some(to);
        }
        let (mut at, mut joined) = (to, false);
        loop {
            if self.is_mark(at, &[",", "/", "(", ")", "–"]) {
                at += 1;
            } else if let Some(after) = self.is("joint", at) {
                (at, joined) = (after, true);
            } else {
                break;
            }
        }
        if at == to || at >= self.sentence.tokens.len() {
            return None;
        }
        let item = self.past_fillers(at);
        let ends = |index: usize| {
            let to = self.subjects[index].to;
            self.is_break(to) || self.is("joint", to).is_some()
        };
        (joined || self.subject_from(item).is_some_and(ends)).then_some(at)
    }

    /// The next word that is no filler.
    pub(super) fn past_fillers(&self, mut at: usize) -> usize {
        while self.subject_from(at).is_none() {
            match self.is("filler", at) {
                Some(after) => at = after,
                None => break,
            }
        }
        at
    }

    /// The things that are joined with one that ends at a word: `milk, egg and nut-free`.
    pub(super) fn joined_before(&self, to: usize) -> Vec<usize> {
        let Some(mut index) = self.subject_to(to) else { return Vec::new() };
        let mut all = vec![index];
        loop {
            let mut at = self.subjects[index].from;
            while let Some(before) = self.sentence.word_before("filler", at) {
                at = before;
            }
            let from = at;
            while let Some(before) = at.checked_sub(1) {
                match self.sentence.word_before("joint", at) {
                    Some(before) => at = before,
                    None if self.is_mark(before, &[",", "/"]) => at = before,
                    None => break,
                }
            }
            match self.subject_to(at).filter(|_| at < from) {
                Some(before) => {
                    index = before;
                    all.push(index);
                }
                None => break,
            }
        }
        // `with milk, egg-free` has milk in it.
        let first = self.subjects[index].from;
        let is_there = ["but", "contains", "uses", "order"];
        if is_there.iter().any(|row| self.sentence.word_before(row, first).is_some()) {
            all.truncate(1);
        }
        all
    }

    /// What stands before some words, at most so many words away.
    pub(super) fn before(
        &self,
        form: DenialForm,
        words: Range<usize>,
        most: usize,
    ) -> Vec<Candidate> {
        let mut at = words.start;
        let mut passed = 0;
        while self.subject_to(at).is_none() {
            let Some(before) = at.checked_sub(1) else { return Vec::new() };
            if self.is_mark(before, &[":", "?", "–", "(", ")", ".", "!", "="]) {
                at = before;
                continue;
            }
            // `Milk content 0 %` is of the milk.
            if let Some(share) = self.sentence.word_before("share", at) {
                at = share;
                continue;
            }
            passed += 1;
            if self.is_break(before) || passed > most {
                return Vec::new();
            }
            at = before;
        }
        let all = self.joined_before(at).into_iter();
        let (from, to) = (words.start, words.end);
        all.map(|subject| Candidate { form, from, to, subject }).collect()
    }

    /// `nut-free`, `milk, egg and nut free`; not `egg, safe to eat`.
    pub(super) fn free(&self, it: &PhraseFound) -> Vec<Candidate> {
        // `free: milk, eggs`, as menus have it.
        if self.is_mark(it.to, &[":"]) && (it.from == 0 || self.is_break(it.from - 1)) {
            return self.listed(DenialForm::Absent, it, 0);
        }
        let Some(before) = it.from.checked_sub(1) else { return Vec::new() };
        // `gluten/free`, `“gluten” free`, `gluten, free`, where that is all.
        if self.is_mark(before, &["/", "\"", "”", "»", ","]) && self.is_break(it.to) {
            return self.before(DenialForm::Free, before..it.to, 0);
        }
        let (end, start) = (self.sentence.tokens[before].end, self.sentence.tokens[it.from].start);
        let between = self.sentence.text.get(end..start).unwrap_or(" ");
        let is_joined = matches!(between, "-" | "\u{2011}" | "‐");
        let is_free = matches!(self.sentence.tokens[it.from].key.as_ref(), "safe" | "less");
        // `Nut safe` is all that is said.
        let is_all = || {
            let part = self.part(before);
            part.end == it.to && self.subject_from(part.start).is_some()
        };
        match is_free && !is_joined && !is_all() {
            true => Vec::new(),
            false => self.before(DenialForm::Free, it.from..it.to, 0),
        }
    }

    /// `milk is omitted`, `omits milk`.
    pub(super) fn left_out(&self, it: &PhraseFound) -> Vec<Candidate> {
        let after = self.listed(DenialForm::LeftOut, it, 1);
        match after.is_empty() {
            true => self.before(DenialForm::LeftOut, it.from..it.to, 6),
            false => after,
        }
    }

    /// `made with oil, not butter`, where the sentence ends with it.
    pub(super) fn contrast(&self, it: &PhraseFound) -> Option<Candidate> {
        let comma = it.from.checked_sub(1)?;
        let named = self.past_fillers(it.to);
        let subject = self.subject_from(named)?;
        let to = self.subjects[subject].to;
        let ends = self.is_break(to) && !self.is_mark(to, &[","]);
        let is_it = ends && (self.is_mark(comma, &[","]) || self.is("joint", comma).is_some());
        is_it.then_some(Candidate { form: DenialForm::Contrast, from: it.from, to: it.to, subject })
    }

    /// `we swapped butter for oil`, `die Butter durch Öl ersetzt`.
    pub(super) fn swapped(&self, it: &PhraseFound) -> Vec<Candidate> {
        // `Swap: oil for butter`
        let said = if self.is_mark(it.to, &[":"]) { it.to + 1 } else { it.from };
        let part = self.part(said);
        let fors = self.sentence.all("word", "swap-for");
        let fors = fors.filter(|other| other.from >= part.start && other.to <= part.end);
        let form = DenialForm::Instead;
        match said == it.from {
            true => fors.flat_map(|other| self.before(form, other.from..other.to, 4)).collect(),
            // Oil is what goes in.
            false => fors.flat_map(|other| self.listed(form, &other, 1)).collect(),
        }
    }

    /// `we leave milk out`.
    pub(super) fn leave_out(&self, it: &PhraseFound) -> Vec<Candidate> {
        let part = self.part(it.from);
        let mut outs = self.sentence.all("word", "out");
        let Some(out) = outs.find(|out| out.from >= it.to && out.to <= part.end) else {
            return Vec::new();
        };
        // Butter that is left out overnight, or taken out of the cold, is still butter.
        let is_told = out.to < part.end || self.is("order", part.start) == Some(it.to);
        let between = self.named_in(it.to..out.from);
        let all = self.subjects.iter().enumerate();
        let named = all.filter(|(_, subject)| between.iter().any(|it| it.from == subject.from));
        let found = named.map(|(subject, _)| Candidate {
            form: DenialForm::LeftOut,
            from: it.from,
            to: out.to,
            subject,
        });
        if is_told { Vec::new() } else { found.collect() }
    }

    /// `milk is not used`, `we do not use milk`, `enthält Milch nicht`.
    pub(super) fn not_used(&self, it: &PhraseFound) -> Vec<Candidate> {
        let part = self.part(it.from);
        let near = |not: &PhraseFound| {
            let (from, to) = (not.from.min(it.from), not.to.max(it.to));
            not.from >= part.start && not.to <= part.end && to - from <= 7
        };
        let is_other = |not: &PhraseFound| not.from >= it.to || not.to <= it.from;
        let mut nots = self.words().filter(|not| not.tag.word == "not" && is_other(not));
        let Some(not) = nots.find(|not| near(not)) else { return Vec::new() };
        let words = not.from.min(it.from)..not.to.max(it.to);
        if self.is_but_only(&words) || self.is_prohibition(&words, it) {
            return Vec::new();
        }
        let form = DenialForm::NotUsed;
        let of = |subject| Candidate { form, from: words.start, to: words.end, subject };
        let between = |subject: &Subject| subject.from >= words.start && subject.to <= words.end;
        let inside = (0..self.subjects.len()).filter(|&index| between(&self.subjects[index]));
        let inside: Vec<_> = inside.map(of).collect();
        let after: Vec<_> = self.listed_after(words.end, 1).into_iter().map(of).collect();
        match (inside.is_empty(), after.is_empty()) {
            (false, _) => inside,
            (true, false) => after,
            (true, true) => self.before(form, words, 5),
        }
    }

    /// French `ne contient que du beurre`.
    pub(super) fn is_but_only(&self, words: &Range<usize>) -> bool {
        self.sentence.language.code == "fr"
            && (words.start..words.end + 2).any(|at| self.is_mark(at, &["que", "qu"]))
    }

    /// `do not use`, said to whoever bakes.
    pub(super) fn is_prohibition(&self, words: &Range<usize>, uses: &PhraseFound) -> bool {
        let part = self.part(words.start);
        let told_by = self.has("we", &(part.start..uses.from));
        self.is("order", uses.from).is_some() && !told_by && words.start == part.start
    }

    /// `everything but milk`, and nothing more.
    pub(super) fn all_but(&self, it: &PhraseFound) -> Vec<Candidate> {
        let listed = self.listed(DenialForm::AllBut, it, 1);
        let ends = |last: &Candidate| self.is_break(self.subjects[last.subject].to);
        if listed.last().is_some_and(ends) { listed } else { Vec::new() }
    }

    /// `except milk, everything is in it`.
    pub(super) fn except_first(&self, it: &PhraseFound) -> Vec<Candidate> {
        const MAX: usize = 6;
        let listed = self.listed(DenialForm::AllBut, it, 1);
        let Some(last) = listed.last() else { return Vec::new() };
        let rest = self.subjects[last.subject].to..self.sentence.tokens.len();
        let is_all = it.from == 0 && rest.len() <= MAX && self.has("everything", &rest);
        if is_all { listed } else { Vec::new() }
    }

    /// `no need to worry about nuts`: of what somebody's health depends on.
    pub(super) fn no_worry(&self, it: &PhraseFound) -> Vec<Candidate> {
        let mut listed = self.all_but(it);
        listed.retain(|candidate| self.subjects[candidate.subject].is_strict());
        listed
    }

    /// `tastes of butter, yet has none`: of the last thing that the sentence named.
    pub(super) fn none_of_it(&self, it: &PhraseFound) -> Option<Candidate> {
        const NEAR: usize = 12;
        let whole = self.is_break(it.to) || self.is("to-eat", it.to).is_some();
        let (from, to) = (it.from, it.to);
        let named = self.subjects.iter().enumerate().filter(|(_, subject)| subject.to <= from);
        let (subject, last) = named.max_by_key(|(_, subject)| subject.to)?;
        let is_it = whole && from - last.to <= NEAR;
        is_it.then_some(Candidate { form: DenialForm::Told, from, to, subject })
    }

    /// `None of our breads ever saw an egg`.
    pub(super) fn ever(&self, it: &PhraseFound) -> Vec<Candidate> {
        let part = self.part(it.from);
        let before = part.start..it.from;
        let denies = ["not", "absent", "absent-bare"].iter().any(|row| self.has(row, &before));
        if denies { self.listed(DenialForm::Absent, it, 1) } else { Vec::new() }
    }

    /// `None of our breads has nuts in it`, `Not one of these loaves contains nuts`.
    pub(super) fn none_holds(&self) -> Vec<Candidate> {
        const NONE: &[&str] = &[
            "none", "no", "keines", "keine", "keiner", "keins", "kein", "aucun", "aucune",
            "ninguno", "ninguna", "ningún", "nessuno", "nessuna", "nessun", "neither",
        ];
        const NOT_ONE: [(&str, &[&str]); 6] = [
            ("not", &["one", "a", "any"]),
            ("pas", &["un", "une"]),
            ("nicht", &["ein", "eines", "einer", "eins"]),
            ("ni", &["uno", "una", "un"]),
            ("neanche", &["uno", "una", "un"]),
            ("nemmeno", &["uno", "una", "un"]),
        ];
        const BREADS: &[&str] = &[
            "bread",
            "breads",
            "loaf",
            "loaves",
            "roll",
            "rolls",
            "bun",
            "buns",
            "cake",
            "cakes",
            "recipe",
            "recipes",
            "formula",
            "formulas",
            "bakes",
            "products",
            "them",
            "these",
            "those",
            "ours",
            "pain",
            "pains",
            "recettes",
            "recette",
            "brioches",
            "gâteaux",
            "brot",
            "brote",
            "broten",
            "brötchen",
            "rezepte",
            "rezept",
            "kuchen",
            "gebäcke",
            "davon",
            "pan",
            "panes",
            "recetas",
            "receta",
            "bollos",
            "ellos",
            "ellas",
            "pane",
            "pani",
            "ricette",
            "ricetta",
            "loro",
            "essi",
        ];
        const HAS: &[&str] = &[
            "has",
            "have",
            "had",
            "hold",
            "holds",
            "contain",
            "contains",
            "contained",
            "carry",
            "carries",
            "include",
            "includes",
            "bear",
            "bears",
            "got",
            "a",
            "ont",
            "contient",
            "contiennent",
            "comporte",
            "comportent",
            "renferme",
            "hat",
            "haben",
            "enthält",
            "enthalten",
            "birgt",
            "tiene",
            "tienen",
            "contiene",
            "contienen",
            "lleva",
            "llevan",
            "ha",
            "hanno",
            "contengono",
            "possiede",
        ];
        /// So many words stand at most between what is none and what it has.
        const NEAR: usize = 12;
        let key = |at: usize| self.token(at).map_or("", |token| token.key.as_ref());
        let begins = |at: usize| {
            let two =
                || NOT_ONE.iter().any(|(not, one)| key(at) == *not && one.contains(&key(at + 1)));
            (at == 0 || self.is_break(at - 1)) && (NONE.contains(&key(at)) || two())
        };
        let mut all = Vec::new();
        for from in (0..self.sentence.tokens.len()).filter(|at| begins(*at)) {
            let end = self.part(from).end.min(from + NEAR);
            let Some(bread) = (from + 1..end).find(|at| BREADS.contains(&key(*at))) else {
                continue;
            };
            let Some(has) = (bread + 1..end).find(|at| HAS.contains(&key(*at))) else { continue };
            let to = has + 1;
            let listed = self.listed_after(to, 1).into_iter();
            let form = DenialForm::Absent;
            all.extend(listed.map(|subject| Candidate { form, from, to, subject }));
        }
        all
    }

    /// `None of the 14.`
    pub(super) fn none_of_all(&self) -> Vec<Claim> {
        let all = self.sentence.all("word", "none-of-all");
        let is_all =
            |it: &PhraseFound| self.is_break(it.to) || self.is("allergens", it.to).is_some();
        let all = all.filter(is_all);
        // `Free-from`, as shelves have it.
        let is_shelf = self.sentence.tokens.len() == 2
            && self.is_mark(0, &["free"])
            && self.is_mark(1, &["from"]);
        let shelf = is_shelf.then(|| Claim::of(0..2, Denied::AllAllergens));
        let all = all.map(|it| Claim::of(it.from..it.to, Denied::AllAllergens));
        all.chain(shelf).collect()
    }

    /// `you'd think there was butter in it, but no`.
    pub(super) fn seeming(&self) -> Option<Claim> {
        const LAST: usize = 5;
        let seems = self.sentence.all("word", "seems").next()?;
        let whole = self.sentence.whole();
        let mut named = self.named_in(seems.to..whole.end).into_iter();
        let subject = named.next()?;
        let tail = subject.to.max(whole.end.saturating_sub(LAST))..whole.end;
        let rows = ["not", "answer", "none-of-it"];
        let is_denied = rows.iter().any(|row| self.has(row, &tail));
        // `you'd think there is too much milk` is not about its being there.
        let is_there = self.has("uses", &(seems.to..whole.end));
        (is_denied && is_there).then(|| Claim::of(subject.from..subject.to, subject.what.clone()))
    }

    /// `dairy zero`, `egg content nil`, and nothing more.
    pub(super) fn zero_after(&self, it: &PhraseFound) -> Vec<Candidate> {
        let part = self.part(it.from);
        let food = self.subject_from(part.start).map(|index| self.subjects[index].to);
        let food = food.map(|to| self.is("share", to).unwrap_or(to));
        match food == Some(it.from) && it.to == part.end {
            true => self.before(DenialForm::Told, it.from..it.to, 0),
            false => Vec::new(),
        }
    }

    /// `0 % milk`, `milk 0 g`.
    pub(super) fn zeros(&self) -> Vec<Candidate> {
        let tokens = self.sentence.tokens.iter().enumerate();
        let zeros = tokens.filter(|(_, token)| token.kind == TokenKind::Number && is_zero(token));
        let denied = zeros.flat_map(|(at, _)| {
            let units = self.sentence.found.iter().filter(|it| it.from == at + 1);
            let unit = units.filter(|it| it.tag.kind == "unit").map(|it| it.to).max();
            let words = at..unit.unwrap_or(at + 1);
            // `Group bollard-rye 0: percentages` has a number, and denies nothing.
            if unit.is_none() && self.is_mark(words.end, &[":"]) {
                return Vec::new();
            }
            let after = self.listed_after(words.end, 0).into_iter();
            let of =
                |subject| Candidate { form: DenialForm::Told, from: at, to: words.end, subject };
            let after: Vec<_> = after.map(of).collect();
            match after.is_empty() {
                true => self.before(DenialForm::Told, words, 0),
                false => after,
            }
        });
        denied.collect()
    }

    /// `milk: none`, `milk? no`.
    pub(super) fn answers(&self) -> Vec<Candidate> {
        let of = |from: usize| {
            let before = from.checked_sub(1)?;
            let to = (from..).find(|&at| self.is_break(at))?;
            // `milk: –`
            let is_dash = self.is_mark(before, &[":"])
                && self.is_mark(from, &["–"])
                && self.is_break(from + 1);
            let answers = || is_answer(self.sentence.tokens.get(from..to).unwrap_or_default());
            let is_told = is_dash || self.is_mark(before, &MARKS) && answers();
            is_told.then(|| self.before(DenialForm::Told, from..to, 2))
        };
        (0..self.sentence.tokens.len()).filter_map(of).flatten().collect()
    }
}
