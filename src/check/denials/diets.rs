//! What is claimed by naming a diet, or whom the bread suits.

use super::super::context::SaidAt;
use super::super::speech::PhraseFound;
use super::joined::{allergy_stem, sign};
use super::reading::{Claim, DenialReading, Denied, Subject};
use crate::formula::Absence;
use std::ops::Range;

/// People of a diet, by whom nothing is claimed.
const PEOPLE: &[&str] = &[
    "vegans",
    "vegetarians",
    "végétaliens",
    "végétariens",
    "végans",
    "véganes",
    "vegetarier",
    "veganer",
    "veganerinnen",
    "veganos",
    "vegetarianos",
    "vegani",
    "vegetariani",
];

impl DenialReading<'_> {
    /// `vegan`, `halal`, `hypoallergenic`, `GF`; not `a vegan neighbour` nor `not vegan`.
    pub(super) fn diets(&self, claims: &mut Vec<Claim>, aside: &mut Vec<Range<usize>>) {
        let milk = || Absence::read("milk").map(Denied::Absence);
        let eggs = || Absence::read("eggs").map(Denied::Absence);
        let gluten = || Absence::read("gluten").map(Denied::Absence);
        let animal = Denied::Absence(Absence::Vegan);
        let meat = Denied::Absence(Absence::Vegetarian);
        for it in self.words() {
            let what = match it.tag.word {
                "vegan" => vec![animal.clone()],
                "plant" if self.is_whole_before(it.from) => vec![animal.clone()],
                "no-cow" | "lacto" => milk().into_iter().collect(),
                "no-hen" => eggs().into_iter().collect(),
                "no-cereal" => gluten().into_iter().collect(),
                "jain" => eggs().into_iter().chain([meat.clone()]).collect(),
                // In India nothing with egg is vegetarian.
                "vegetarian" if self.is_indian() => {
                    eggs().into_iter().chain([meat.clone()]).collect()
                }
                "vegetarian" | "kosher" => vec![meat.clone()],
                "halal" => vec![meat.clone(), Denied::Alcohol],
                "hypoallergenic" => vec![Denied::AllAllergens],
                "pareve" => milk().into_iter().chain([meat.clone()]).collect(),
                _ => continue,
            };
            match self.is_no_diet(it) {
                true => aside.push(it.from..it.to),
                false => claims.extend(what.into_iter().map(|one| Claim::of(it.from..it.to, one))),
            }
        }
        let signs = self.sentence.tokens.iter().enumerate();
        let signs = signs.filter_map(|(at, token)| Some((at, sign(self.sentence.text, token)?)));
        claims.extend(signs.map(|(at, absent)| Claim::of(at..at + 1, Denied::Absence(absent))));
    }

    fn is_indian(&self) -> bool {
        let tag = self.house.settings.language.as_ref().map(|tag| tag.value.as_str());
        tag.is_some_and(|tag| tag.to_ascii_lowercase().replace('_', "-").ends_with("-in"))
    }

    /// Whether the word for a diet claims nothing.
    pub(super) fn is_no_diet(&self, it: &PhraseFound) -> bool {
        let is_english = self.sentence.language.code == "en";
        // `Nobody here is a vegan`.
        let likes_it = || self.has("suits", &(it.to..self.sentence.tokens.len()));
        let is_person = self.is("people", it.to).is_some()
            && !self.is_all_of_a_meal(it)
            && (!likes_it() || self.has("not", &self.sentence.whole()))
            || (self.sentence.word_before("filler", it.from).is_some()
                && !matches!(it.tag.word, "no-cow" | "no-hen")
                && !self.is_mark(it.to - 1, &["diet", "diets"])
                && is_english
                && self.is_break(it.to));
        self.is_denied_around(it.from, it.to)
            || is_person
            || self.do_without(it.from)
            || self.is_of_other(it.to)
            || self.is_of_food_before(it.from)
            || self.has("other-bread", &self.sentence.whole())
            || self.is_could_be_but(it.from, &(it.from..it.to))
            || self.is_refused(it)
            || self.is_for_all_denied(it)
            || self.is_elsewhere(&(it.from..it.to))
            || self.is_wanted(&(it.from..it.to))
            || self.is_of_clean_part_without(Absence::Vegan, it.from)
    }

    /// `not suitable for all diets`, `not suitable for those on a plant diet`.
    fn is_for_all_denied(&self, it: &PhraseFound) -> bool {
        let before = self.part(it.from).start..it.from;
        let unfit = || {
            let mut suits =
                self.sentence.all("word", "suits").filter(|it| before.contains(&it.from));
            suits.any(|it| self.is_denied(it.from)) && !self.has("denial-idiom", &before)
        };
        it.tag.word == "hypoallergenic" && self.has("not", &before) || unfit()
    }

    /// `A vegan breakfast.`, `a vegan breakfast bun`: all that is said is said of the bread.
    fn is_all_of_a_meal(&self, it: &PhraseFound) -> bool {
        let part = self.part(it.from);
        let before = self.sentence.word_before("filler", it.from).unwrap_or(it.from);
        let is_bread = |at: usize| ["piece", "bread"].iter().any(|row| self.is(row, at).is_some());
        let ends = |to: usize| self.is_break(to) || is_bread(to);
        before == part.start && self.is("meal", it.to).is_some_and(ends)
    }

    /// `Vegans leave out the egg`: what people of a diet do with what is in the bread.
    pub(super) fn do_without(&self, at: usize) -> bool {
        let part = self.part(at);
        let first = self.is("the", part.start).unwrap_or(part.start);
        let is_people = self.token(first).is_some_and(|it| PEOPLE.contains(&it.key.as_ref()));
        is_people && self.is("do-without", first + 1).is_some()
    }

    /// `vegans should ask`, `for vegans, use oil instead`: it speaks of people, and for none.
    pub(super) fn is_refused(&self, it: &PhraseFound) -> bool {
        let whole = self.sentence.whole();
        let key = &self.sentence.tokens[it.from].key;
        // `For vegans there is a loaf with oil`, which is not this one.
        let is_other = self.is("other-offer", it.to).is_some() && !self.has("this-one", &whole);
        PEOPLE.contains(&key.as_ref())
            && (is_other || ["ask", "order", "page"].iter().any(|row| self.has(row, &whole)))
            && !self.has("suits", &whole)
    }

    /// `100 %`, `entirely`.
    pub(super) fn is_whole_before(&self, at: usize) -> bool {
        let Some(percent) = at.checked_sub(1) else { return false };
        let Some(number) = percent.checked_sub(1) else { return false };
        self.is_mark(percent, &["%"]) && self.is_mark(number, &["100"])
    }

    /// `mantequilla vegana` is about the butter.
    pub(super) fn is_of_food_before(&self, from: usize) -> bool {
        let is_latin = matches!(self.sentence.language.code, "fr" | "es" | "it");
        let is_of_bread = matches!(self.said.place, SaidAt::Title) && self.is_bread_before(from);
        is_latin && self.subject_to(from).is_some() && !is_of_bread
    }

    /// `gluten-free flour` is about the flour, `for a nut-free version` about another bread.
    pub(super) fn is_of_other(&self, to: usize) -> bool {
        if self.leads_to_bread(to) || self.is_title_from_here(to) {
            return false;
        }
        let food = self.subject_from(to).map(|index| &self.subjects[index]);
        // `gluten-free dairy-free loaf`: what follows is denied itself.
        let food = food.filter(|food| self.is("free-suffix", food.to).is_none());
        let food = food.filter(|it| !matches!(it.what, Denied::Mix(_) | Denied::Named(_)));
        let bread = |at: usize| ["piece", "bread"].iter().any(|row| self.is(row, at).is_some());
        let is_of_food = food.is_some_and(|food| !bread(food.to) && !bread(to));
        let thing = |at: usize| self.is("thing", at).is_some();
        let is_thing = !self.is_break(to) && (thing(to) || thing(to + 1));
        is_of_food || is_thing || self.is_other_version(to..to + 3)
    }

    /// `vegan olive and rosemary focaccia`, `egg-free cinnamon raisin buns`: foods, and a word
    /// that is not known, up to the bread that they are in.
    fn leads_to_bread(&self, from: usize) -> bool {
        const MAX: usize = 8;
        let mut at = from;
        let mut unknown = 0;
        for _ in 0..MAX {
            if ["piece", "bread"].iter().any(|row| self.is(row, at).is_some()) {
                return at > from;
            }
            let after = self.subject_from(at).map(|index| self.subjects[index].to);
            let is_known = || self.words().any(|it| it.from <= at && at < it.to);
            at = match after.or_else(|| self.is("joint", at)) {
                Some(after) => after,
                None if self.is_break(at) || is_known() || unknown > 0 => return false,
                None => {
                    unknown += 1;
                    at + 1
                }
            };
        }
        false
    }

    /// What a title begins with is said of the bread: `Vegan walnut and raisin`.
    fn is_title_from_here(&self, to: usize) -> bool {
        matches!(self.said.place, SaidAt::Title) && to <= 2
    }

    /// `Pain aux noix végane`.
    fn is_bread_before(&self, to: usize) -> bool {
        (0..to).any(|at| ["piece", "bread"].iter().any(|row| self.is(row, at).is_some()))
    }

    /// `for a vegan version`, `vegan version: use oil`; not `our vegan version`.
    pub(super) fn is_other_version(&self, mut words: Range<usize>) -> bool {
        words.any(|at| {
            self.is("version", at).is_some() && {
                let part = self.part(at);
                self.has("for", &(part.start..at)) || self.has("order", &self.sentence.whole())
            }
        })
    }

    /// `suitable for coeliacs`, `safe for people with a nut allergy`, `those who avoid milk
    /// can eat it`, `für Menschen mit Glutenunverträglichkeit`.
    pub(super) fn suited(&self) -> Vec<Claim> {
        let whole = self.sentence.whole();
        let yes = || self.sentence.all("word", "yes").find(|it| self.is_answer_alone(it));
        let unworried = self.no_worry_for();
        let suits = || self.sentence.all("word", "suits").next().or_else(yes);
        let Some(suits) = unworried.or_else(suits) else {
            return Vec::new();
        };
        let is_aside = self.has("ask", &whole) || self.is_turned_round();
        if is_aside && unworried.is_none() {
            return Vec::new();
        }
        let mut all = Vec::new();
        let of = |at: Range<usize>, denied: Denied| {
            Claim::of(suits.from.min(at.start)..suits.to.max(at.end), denied)
        };
        let gluten = Absence::read("gluten").map(Denied::Absence);
        let coeliac = self.sentence.all("word", "coeliac").next();
        all.extend(coeliac.zip(gluten).map(|(it, gluten)| of(it.from..it.to, gluten)));
        let stems = self.sentence.tokens.iter().enumerate();
        let stems = stems.filter_map(|(at, token)| Some((at, allergy_stem(&token.key)?)));
        all.extend(stems.map(|(at, one)| of(at..at + 1, Denied::Absence(one))));
        let mut who = ["allergy", "abstain"].iter().flat_map(|row| self.sentence.all("word", row));
        if let Some(who) = who.next() {
            let near = |it: &&Subject| it.from <= who.to + 6 && it.to + 4 >= who.from;
            let named = self.subjects.iter().filter(near).filter(|it| it.is_strict());
            all.extend(named.map(|it| of(it.from..it.to, it.what.clone())));
        }
        all
    }

    /// `nobody with an egg allergy has to fear this`, `won't set off a milk allergy`: what is
    /// denied is the harm.
    fn no_worry_for(&self) -> Option<PhraseFound> {
        let stems = self.sentence.tokens.iter().any(|it| allergy_stem(&it.key).is_some());
        let of_allergy = stems || self.has("allergy", &self.sentence.whole());
        let mut all = self.sentence.all("word", "worry").filter(|_| of_allergy);
        all.find(|worry| {
            let part = self.part(worry.from);
            let nots = self.words().filter(|it| it.tag.word == "not");
            let nots = nots.filter(|it| part.contains(&it.from) && it.from != worry.from);
            let german = self.sentence.language.code == "de";
            nots.filter(|it| it.to <= worry.from || german).count() == 1
        })
    }

    /// `lactose intolerant? Yes.`
    fn is_answer_alone(&self, it: &PhraseFound) -> bool {
        let before = it.from.checked_sub(1);
        before.is_some_and(|at| self.is_mark(at, &["?", ":", "–"])) && self.is_break(it.to)
    }

    /// Whether a sentence about people is denied: a `not` that says more than what they do
    /// not eat.
    pub(super) fn is_turned_round(&self) -> bool {
        let abstain: Vec<_> = self.sentence.all("word", "abstain").collect();
        let suits: Vec<_> = self.sentence.all("word", "suits").collect();
        // `People with an allergy must not eat it` speaks of the bread.
        let of_bread = self.has("allergy", &self.sentence.whole());
        let (before, after) = match self.sentence.language.code {
            "en" => (0, 0),
            "de" => (4, 4),
            _ => (1, 1),
        };
        let is_own = |not: &PhraseFound| {
            let near = |it: &PhraseFound| not.from + before >= it.from && not.to <= it.to + after;
            let inside = |it: &PhraseFound| it.from <= not.from && not.to <= it.to;
            (!of_bread && abstain.iter().any(near)) || suits.iter().any(inside)
        };
        // `who is allergic to milk can't eat these`: the phrase of what they do not eat is the
        // denial.
        let is_refused =
            |it: &PhraseFound| suits.iter().any(|suits| it.from < suits.from && suits.from < it.to);
        self.words().any(|it| it.tag.word == "not" && !is_own(it))
            || (of_bread && abstain.iter().any(is_refused))
    }
}
