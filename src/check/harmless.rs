//! Mentions of a food that put nothing into the bread.
//!
//! What stands beside a claim of absence is read closely: a mention counts unless the words
//! right around it say that it is denied, compared with, eaten with the bread, kept away
//! from it, or of another bread.

use super::speech::{Food, PhraseFound, Sentence, TokenKind};
use std::ops::Range;

/// A sentence as all rules read it, with what the same language says of foods in it.
pub struct ReadSentence<'r, 's> {
    /// The sentence as its language reads it.
    pub words: &'r Sentence<'s>,
    /// The same, with what its language says about foods.
    pub named: &'r Sentence<'s>,
    /// All foods that it names, in whatever language.
    pub foods: &'r [Food],
}

impl ReadSentence<'_, '_> {
    /// Whether a mention says nothing of what is in the bread that the text is about.
    pub fn is_harmless(&self, food: &Food) -> bool {
        self.is_in_name_only(food)
            || self.is_compared(food)
            || self.is_served(food)
            || self.is_banned(food)
            || self.is_of_others(food)
            || self.is_kept_away(food)
            || self.is_avoided(food)
            || self.makes_a_claim_fall()
    }

    /// `contains milk`, `made with butter`, `there is honey in it`.
    pub fn is_held(&self, food: &Food) -> bool {
        let before = |word: &str| self.named.all("word", word).any(|it| it.to <= food.from);
        before("holds")
            || before("is-there") && self.named.word_at("in-it", food.to).is_some()
            || self.is_in_bread(food)
            || self.comes_with_amount(food)
    }

    /// `sesame on the crust`, `walnuts and milk in the dough`: no other verb between.
    fn is_in_bread(&self, food: &Food) -> bool {
        let part = self.words.part(food.from);
        let mut places = self.named.all("word", "in-bread");
        places.any(|place| {
            part.contains(&place.from)
                && place.from >= food.to
                && (food.to..place.from).all(|at| self.is_of_a_list(at))
        })
    }

    /// Whether a word only goes on with a list of foods.
    fn is_of_a_list(&self, at: usize) -> bool {
        const AND: [&str; 7] = ["and", "et", "und", "y", "e", "ed", "&"];
        let is_and = || self.words.tokens.get(at).is_some_and(|it| AND.contains(&it.key.as_ref()));
        is_and() || self.foods.iter().any(|other| other.from <= at && at < other.to)
    }

    /// `with 500 ml of milk`, `mit zwei Eiern`: some of it goes in.
    pub fn comes_with_amount(&self, food: &Food) -> bool {
        const WITH: [&str; 4] = ["with", "avec", "mit", "con"];
        let words = self.words;
        if words.has("serve", &words.whole()) {
            return false;
        }
        let start = food.from.saturating_sub(5);
        let part = words.part(food.from);
        let before = start.max(part.start)..food.from;
        let with = before
            .clone()
            .rev()
            .find(|at| words.tokens.get(*at).is_some_and(|it| WITH.contains(&it.key.as_ref())));
        with.is_some_and(|with| {
            let between = with + 1..food.from;
            let is_number = |at: usize| {
                words.tokens.get(at).is_some_and(|it| it.kind == TokenKind::Number)
                    || words.found.iter().any(|it| it.tag.kind == "n" && it.from == at)
                    || words.found.iter().any(|it| it.tag.kind == "unit" && it.from == at)
            };
            !between.is_empty() && between.into_iter().any(is_number)
        })
    }

    /// `without butter`, `butter-free`, `instead of butter`; but not `never without butter`.
    pub fn is_denied(&self, food: &Food) -> bool {
        let words = self.words;
        if words.word_at("free", food.to).is_some() && !self.ranges_freely(food.to + 1) {
            return true;
        }
        if self.before_light("instead-of", food.from).is_some() {
            return true;
        }
        let mut from = food.from;
        for _ in 0..12 {
            if let Some(start) = words.word_before("without", from) {
                return !self.is_negated(start, from);
            }
            // `don't forget the butter` is no denial.
            if let Some(start) = words.word_before("negate", from) {
                return !self.is_negated(start, from) && words.word_at("the", from).is_none();
            }
            match self.step_back(from) {
                Some(before) => from = before,
                None => return false,
            }
        }
        false
    }

    /// Past an article, a link of a list, or a food of a list that ends here.
    fn step_back(&self, from: usize) -> Option<usize> {
        let words = self.words;
        let passed = ["any", "or", "the"].iter().find_map(|word| words.word_before(word, from));
        let food = || self.foods.iter().find(|food| food.to == from).map(|food| food.from);
        let comma = || {
            let comma = from.checked_sub(1).filter(|&at| self.is_comma(at))?;
            self.foods.iter().any(|food| food.to == comma).then_some(comma)
        };
        passed.or_else(food).or_else(comma)
    }

    /// Hens that range freely lay eggs.
    fn ranges_freely(&self, at: usize) -> bool {
        let word = self.words.tokens.get(at).map(|token| token.key.as_ref());
        matches!(word, Some("range" | "run" | "roaming"))
    }

    /// `never without butter`, `not only without`: what is denied twice is there.
    fn is_negated(&self, start: usize, end: usize) -> bool {
        let part = self.words.part(start);
        let mut negates = self.words.all("word", "negate");
        negates.any(|it| it.from >= part.start && it.to <= start && it.to < end)
    }

    fn is_comma(&self, at: usize) -> bool {
        self.words.tokens.get(at).is_some_and(|token| token.key == ",")
    }

    /// Where such a phrase begins that ends before a word, light words and other foods of a
    /// list between them.
    fn before_light(&self, word: &str, to: usize) -> Option<(usize, usize)> {
        let mut all = self.named.all("word", word).filter(|it| it.to <= to);
        all.find(|it| self.are_light(it.to..to)).map(|it| (it.from, it.to))
    }

    fn are_light(&self, range: Range<usize>) -> bool {
        let mut at = range.start;
        while at < range.end {
            match self.named.word_at("light", at) {
                Some(to) => at = to,
                None => return false,
            }
        }
        at == range.end
    }

    /// Whether the words are light, or a list whose last link stands before the food: `of
    /// hay, butter and …`. Nothing in the list does anything.
    fn is_list(&self, range: Range<usize>) -> bool {
        let is_link = |at: usize| {
            self.is_comma(at) || self.words.word_at("or", at).is_some_and(|to| to <= range.end)
        };
        if self.are_light(range.clone()) {
            return true;
        }
        let busy = ["act", "subject-verb", "is-verb", "negate"];
        let is_busy = |at: usize| {
            busy.iter().any(|word| self.words.word_at(word, at).is_some())
                || self.named.word_at("holds", at).is_some()
                || ["with", "mit", "avec", "con", "in", "im"].contains(&self.key(at))
        };
        let mut length = 0;
        let is_short = range.clone().all(|at| {
            length = if is_link(at) { 0 } else { length + 1 };
            length <= 4
        });
        is_short && !range.clone().any(is_busy)
    }

    fn key(&self, at: usize) -> &str {
        self.words.tokens.get(at).map_or("", |token| token.key.as_ref())
    }

    /// Whether something is done to, or with, what ends at a word: `butter goes in`, `butter
    /// the tins`.
    fn does_something(&self, to: usize) -> bool {
        let verbs = ["subject-verb", "act", "the", "pronoun"];
        verbs.iter().any(|word| self.words.word_at(word, to).is_some())
    }

    /// `smooth as butter`, `the colour of cream`, `smells of hay, butter and plums`.
    fn is_compared(&self, food: &Food) -> bool {
        if self.does_something(food.to) {
            return false;
        }
        let leads = |it: usize| it <= food.from && self.is_list(it..food.from);
        let direct = self.named.all("word", "likeness").any(|it| {
            leads(it.to)
                || food.to >= self.words.part(food.from).end && self.is_with(it.to, food.from)
        });
        let after_trait = self.named.all("word", "as").any(|it| {
            leads(it.to)
                && !self.is_as_well(it.from)
                && (self.named.word_before("trait", it.from).is_some() || self.is_twice(&it))
        });
        direct || after_trait
    }

    /// `tea with cream`, of which something has the colour.
    fn is_with(&self, from: usize, to: usize) -> bool {
        let with = (from..to).find(|&at| ["with", "mit", "au", "con"].contains(&self.key(at)));
        with.is_some_and(|with| with - from <= 3 && self.are_light(with + 1..to))
    }

    /// `as lively as a lamb`, `more than a wheat loaf`.
    fn is_twice(&self, it: &PhraseFound) -> bool {
        let key = |at: Option<usize>| at.map_or("", |at| self.key(at));
        let is_as = key(it.from.checked_sub(2)) == "as" && self.key(it.from) == "as";
        let is_than = self.key(it.from) == "than" && ["a", "an", "any"].contains(&self.key(it.to));
        is_as || is_than && ["more", "less"].contains(&key(it.from.checked_sub(1)))
    }

    fn is_as_well(&self, at: usize) -> bool {
        at.checked_sub(1).is_some_and(|before| {
            ["well", "such", "much", "many", "soon", "long", "far"].contains(&self.key(before))
        })
    }

    /// `goes with butter`, `served with soup and cheese`, `butter it at the table`.
    fn is_served(&self, food: &Food) -> bool {
        let part = self.words.part(food.from);
        if self.named.has("at-table", &part) && !self.named.has("holds", &part) {
            return true;
        }
        let is_last = |it: usize| it >= food.to && it <= food.to + 2;
        let last = self.named.all("word", "beside-last").any(|it| is_last(it.from));
        let acts = |range: Range<usize>| {
            self.words.all("word", "act").any(|it| {
                let serves = self.words.all("word", "serve").any(|serve| serve.from == it.from);
                !serves && it.from >= range.start && it.to <= range.end
            })
        };
        if last && self.words.language.code == "de" && !acts(part.clone()) {
            return true;
        }
        let beside = |it: usize| {
            it <= food.from && self.is_list(it..food.from) && !self.does_something(food.to)
        };
        let beside = self.named.all("word", "beside").any(|it| beside(it.to));
        // In German what is done comes last.
        beside && !(self.words.language.code == "de" && acts(food.to..part.end))
    }

    /// `never grease it with butter`; but not `never use cold butter`, nor `do not add the
    /// butter too early`.
    fn is_banned(&self, food: &Food) -> bool {
        const PASSED: [&str; 33] = [
            "it", "them", "the", "a", "an", "any", "with", "in", "to", "on", "tin", "tins", "mit",
            "die", "das", "den", "avec", "de", "d", "du", "des", "con", "el", "la", "le", "il",
            "los", "les", "à", "l", "au", "al", "all",
        ];
        let words = self.words;
        let passes = |range: Range<usize>| {
            range.len() <= 4 && range.into_iter().all(|at| PASSED.contains(&self.key(at)))
        };
        let ends = food.to >= words.tokens.len()
            || self.is_comma(food.to)
            || self.is_followed_by_place(food.to)
            || ["or", "is-verb"].iter().any(|word| words.word_at(word, food.to).is_some());
        let negated = |from: usize| {
            let before = |it: usize| words.word_before("negate", it);
            before(from).or_else(|| before(from.checked_sub(1)?)).is_some()
        };
        let is_act = |act: usize, to: usize| {
            let verb_first = to <= food.from && negated(act) && passes(to..food.from) && ends;
            let verb_last = act == food.to
                && words
                    .all("word", "negate")
                    .any(|it| it.to <= food.from && passes(it.to..food.from));
            verb_first || verb_last
        };
        words.all("word", "act").any(|it| is_act(it.from, it.to))
    }

    /// `on the tins`, `in this one`, and no more.
    fn is_followed_by_place(&self, at: usize) -> bool {
        const AT: [&str; 12] =
            ["on", "in", "into", "to", "auf", "dans", "sur", "en", "nella", "nell", "sulla", "su"];
        let end = self.words.part(at.saturating_sub(1)).end;
        let the = self.words.word_at("the", at + 1).is_some();
        AT.contains(&self.key(at)) && the && end <= at + 3
    }

    /// `bake it before the sesame rolls`.
    fn is_of_other_pieces(&self, food: &Food) -> bool {
        let key = |back: usize| food.from.checked_sub(back).map_or("", |at| self.key(at));
        let is_bread =
            ["piece", "bread"].iter().any(|word| self.words.word_at(word, food.to).is_some());
        is_bread && key(1) == "the" && ["before", "than", "after"].contains(&key(2))
    }

    /// `others brush theirs with milk`, `in the butter version`.
    fn is_of_others(&self, food: &Food) -> bool {
        let named = self.named;
        let whole = named.whole();
        if named.has("first-person", &(0..food.from)) {
            return false;
        }
        let others = named.all("word", "others").any(|it| it.to <= food.from);
        let version = named.word_at("version", food.to).is_some() && !self.is_in_title_of(food);
        others || self.is_of_other_pieces(food) || version && !named.has("this-version", &whole)
    }

    /// A version that is all the sentence is about: `Butter Version`.
    fn is_in_title_of(&self, food: &Food) -> bool {
        food.from == 0
    }

    /// `keep it away from nuts`, `clean the mixer of every trace of egg`, `wipe the butter
    /// off the bench`.
    fn is_kept_away(&self, food: &Food) -> bool {
        let cleaned = self.words.all("word", "clean").any(|it| {
            it.to <= food.from && food.from - it.to <= 3 && self.are_light(it.to..food.from)
        });
        cleaned
            || self.named.all("word", "kept-away").any(|it| {
                it.to <= food.from
                    && self.is_list(it.to..food.from)
                    && !self.does_something(food.to)
            })
    }

    /// `for people with a milk allergy`, `who is allergic to nuts`; but not where that says
    /// who had better not eat it.
    fn is_avoided(&self, food: &Food) -> bool {
        let last = self.named.word_at("avoiders-last", food.to).is_some();
        let avoids = || {
            let mut all = self.named.all("word", "avoiders");
            all.any(|it| it.to <= food.from && self.is_list(it.to..food.from))
        };
        (last || avoids()) && !self.named.has("unfit", &self.named.whole())
    }

    /// `it is not vegan if you glaze it with egg`.
    fn makes_a_claim_fall(&self) -> bool {
        let whole = self.words.whole();
        let diets = ["vegan", "vegetarian", "free", "without"];
        let denied = self.words.all("word", "negate").any(|negate| {
            let mut claims = diets.iter().flat_map(|diet| self.words.all("word", diet));
            claims.any(|it| it.from >= negate.to && it.from - negate.to <= 4)
        });
        denied && self.named.has("condition", &whole)
    }

    /// `walnut-sized`, `Walnut Street`, `haselnussbraun`.
    fn is_in_name_only(&self, food: &Food) -> bool {
        let named = self.named;
        let after = named.word_at("not-food", food.to).is_some();
        let within =
            named.all("word", "not-food").any(|it| it.from == food.from && it.to == food.to);
        // What stands alone is no everyday word of a sentence.
        let is_alone = (0..named.tokens.len())
            .all(|at| self.foods.iter().any(|food| food.from <= at && at < food.to));
        let everyday = !is_alone
            && named.all("word", "everyday").any(|it| it.from == food.from && it.to >= food.to);
        after || within || everyday
    }
}
