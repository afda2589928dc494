//! `number-in-text`: a number typed in a text that the formula does not bear out.
//!
//! A weight or a percentage is held against what stands next to it (`20 g of salt`), else
//! against all of the formula. A time or a temperature is held against the step or the
//! thing that its sentence names, or whose note it is; a count against pieces and folds.
//! What the formula does not say, a text may.

use super::context::{Context, PlainText, SaidAt};
use super::facts::{Fact, Facts, Of, ingredient_of, word_of};
use super::limits;
use super::speech;
use super::speech::{
    Amount, AmountReading as Told, Food, MAX_WORDS, Measure, Sentence, food_at, read_named,
};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{ValueKind, key};
use crate::quantity::{Dimension, Exact, int};
use crate::syntax::tree::Verb;

/// `number-in-text`, a warning about texts.
pub const RULE: Rule = Rule {
    name: "number-in-text",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("number_in_text.md"),
};

/// Whether a sentence of a text may be held against the numbers of a formula.
pub fn may_tell(said: &PlainText, sentence: &Sentence) -> bool {
    !matches!(said.place, SaidAt::Title | SaidAt::House) && speech::has_amount(sentence)
}

/// Adds what a sentence says otherwise than the formula to `findings`.
pub fn check(facts: &Facts, said: &PlainText, sentence: &Sentence, findings: &mut Vec<Finding>) {
    // What others do elsewhere contradicts nothing, nor what might be.
    let is_told_of_this = || {
        let whole = sentence.whole();
        !["story", "unreal", "clean"].iter().any(|word| sentence.has(word, &whole))
    };
    if !may_tell(said, sentence) || !is_told_of_this() {
        return;
    }
    let named = read_named(sentence, sentence.language);
    let reading = TextReading { context: facts.context, facts, said, sentence, named: &named };
    let amounts = speech::amounts(sentence);
    if reading.is_conversion(&amounts) {
        return;
    }
    for amount in amounts {
        if let Some(facts) = reading.against(&amount) {
            findings.push(reading.stale(&amount, &facts));
        }
    }
}

/// A sentence beside the formula that it is about.
pub struct TextReading<'a, 'c, 't> {
    /// The formula.
    pub context: &'a Context<'c, 't>,
    /// What the formula says in numbers.
    pub facts: &'a Facts<'a, 'c, 't>,
    /// The text that the sentence is of.
    pub said: &'a PlainText<'a>,
    /// The sentence itself.
    pub sentence: &'a Sentence<'a>,
    /// The same as it names foods.
    pub named: &'a Sentence<'a>,
}

impl<'a> TextReading<'a, '_, '_> {
    /// What the formula says instead of an amount; none where it says the same, or
    /// nothing.
    fn against(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        if self.is_of_a_difference(amount) && !self.is_between_folds(amount) {
            return None;
        }
        let facts = match amount.measure.dimension() {
            Dimension::Mass => self.weights(amount),
            Dimension::Share => self.shares(amount),
            Dimension::Time => self.times(amount),
            Dimension::Temperature => self.temperatures_of_any(amount),
            Dimension::Count => self.counts(amount),
            Dimension::Volume => return self.volumes(amount),
            _ => None,
        }?;
        let is_at_least = self.is_at_least(amount);
        let meets = |fact: &&Fact| {
            amount.readings.iter().any(|reading| {
                reading.meets(&fact.low, &fact.high) || is_at_least && fact.high >= reading.low
            })
        };
        // What is named before it is asked last, since that takes longest.
        let is_of_food =
            || amount.measure.dimension() == Dimension::Temperature && self.is_after_food(amount);
        (!facts.is_empty() && !facts.iter().any(meets) && !is_of_food()).then_some(facts)
    }

    /// `At least 10 g`: the formula may say more.
    pub fn is_at_least(&self, amount: &Amount) -> bool {
        let before = amount.from.saturating_sub(4)..amount.from;
        self.named.has("at-least", &before)
    }

    /// `One cup of water weighs 240 g.`
    fn is_conversion(&self, amounts: &[Amount]) -> bool {
        let is = |amount: &Amount, dimension| amount.measure.dimension() == dimension;
        let between = |range: std::ops::Range<usize>| self.named.has("equals", &range);
        amounts.windows(2).any(|pair| match pair {
            [one, other] => {
                is(one, Dimension::Volume)
                    && is(other, Dimension::Mass)
                    && between(one.to..other.from)
            }
            _ => false,
        })
    }

    /// `three folds, 40 minutes apart`.
    pub fn is_between_folds(&self, amount: &Amount) -> bool {
        let near = amount.from.saturating_sub(4)..amount.to + 3;
        let folds = self.words_near(&self.sentence.whole(), &["verb"]).contains(&"fold");
        folds && self.named.has("apart", &near)
    }

    /// `5 g less`, `up to 3 %`: what is told is no amount of the formula.
    pub fn is_of_a_difference(&self, amount: &Amount) -> bool {
        let before = amount.from.saturating_sub(3)..amount.from;
        let end = self.sentence.part(amount.from).end;
        let after = amount.to..end.min(amount.to + 3);
        self.sentence.has("bound", &before)
            || self.sentence.has("delta", &after)
            || self.sentence.has("delta", &before)
    }

    /// Whether a sentence is little more than the amount, so that it is of the step in whose
    /// note it stands.
    fn is_short(&self) -> bool {
        self.sentence.tokens.len() < 10
    }

    fn weights(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        let is_of_something_else = self.is_near("vessel", amount, 3)
            || self.is_near("ratio", amount, 4)
            || self.is_apiece(amount);
        if is_of_something_else {
            return None;
        }
        if self.neighbour(amount).is_none() && !self.is_of_dough(amount) {
            return None;
        }
        Some(self.of_neighbour(amount, self.facts.weights()))
    }

    /// Whether the part of the sentence speaks of dough, pieces or what is done with them.
    fn is_of_dough(&self, amount: &Amount) -> bool {
        let part = self.sentence.part(amount.from);
        let of_dough = |it: &speech::PhraseFound| {
            matches!(it.tag.kind, "verb" | "thing")
                || it.tag.kind == "word" && matches!(it.tag.word, "piece" | "makes" | "act")
        };
        let mut found = self.sentence.found.iter().filter(|it| part.contains(&it.from));
        let is_other = self.sentence.has("vessel", &part);
        self.is_short() || !is_other && found.any(of_dough)
    }

    /// What stands right after or before an amount: `20 g of salt`, `salt: 20 g`.
    fn neighbour(&self, amount: &Amount) -> Option<AmountOf> {
        self.named_after(amount.to).or_else(|| self.named_before(amount.from))
    }

    /// Weights of what a volume is of, where it is not what the formula's weights fill.
    fn volumes(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        let Some(AmountOf::Food(food)) = self.named_after(amount.to) else { return None };
        let known = self.context.line_names().find_map(|name| {
            let ingredient = ingredient_of(self.context, &name)?;
            food.is(self.context.house, ingredient).then_some(ingredient)
        })?;
        let density = known.grams_per_ml.as_ref()?;
        let named = AmountOf::Food(food);
        let facts: Vec<_> =
            self.facts.weights().iter().filter(|fact| self.is_of(fact, &named)).collect();
        let meets = |fact: &&Fact| {
            amount.readings.iter().any(|reading| {
                let weighed = Told {
                    low: &reading.low * density,
                    high: &reading.high * density,
                    // Cups are scooped, and millilitres read off a jug.
                    step: ((&reading.high * density).one_in::<5>()).max(int(10)),
                };
                weighed.meets(&fact.low, &fact.high)
            })
        };
        (!facts.is_empty() && !facts.iter().any(meets)).then_some(facts)
    }

    fn shares(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        let whole = self.sentence.whole();
        // The note of a line is about what that is made of.
        if matches!(self.said.place, SaidAt::Line) {
            return None;
        }
        if self.sentence.has("other-share", &whole) || self.is_near("ratio", amount, 4) {
            return None;
        }
        let part = self.sentence.part(amount.from);
        let near = amount.from.saturating_sub(6)..amount.to + 6;
        let figures: Vec<&Fact> = self
            .sentence
            .found
            .iter()
            .filter(|it| it.tag.kind == "figure" && near.contains(&it.from))
            .filter(|it| part.contains(&it.from))
            .flat_map(|it| self.of_word(self.facts.shares(), it.tag.word))
            .collect();
        let neighbour = self.of_neighbour(amount, self.facts.shares());
        match (figures.is_empty(), neighbour.len() == self.facts.shares().len()) {
            (true, _) => Some(neighbour),
            (false, true) => Some(figures),
            (false, false) => Some(figures.into_iter().chain(neighbour).collect()),
        }
    }

    /// Facts of what stands right after or before an amount: `20 g of salt`, `salt: 20 g`;
    /// all facts where nothing does.
    fn of_neighbour(&self, amount: &Amount, facts: &'a [Fact]) -> Vec<&'a Fact> {
        let of_name = |name: &AmountOf| -> Vec<&'a Fact> {
            facts.iter().filter(|fact| self.is_of(fact, name)).collect()
        };
        let near = self.neighbour(amount);
        let near = near.map(|name| of_name(&name)).filter(|found| !found.is_empty());
        near.unwrap_or_else(|| facts.iter().collect())
    }

    fn named_after(&self, to: usize) -> Option<AmountOf> {
        let mut at = to;
        for _ in 0..3 {
            if let Some(named) = self.named_at(at) {
                return Some(named);
            }
            at = ["about", "any", "the"].iter().find_map(|word| self.sentence.word_at(word, at))?;
        }
        None
    }

    fn named_before(&self, from: usize) -> Option<AmountOf> {
        let mut to = from;
        for _ in 0..3 {
            if self.sentence.word_before("piece", to).is_some() {
                return Some(AmountOf::Piece);
            }
            if let Some(food) = self.food_before(to) {
                return Some(AmountOf::Food(food));
            }
            let fillers = ["about", "any", "the"];
            to = fillers.iter().find_map(|word| self.sentence.word_before(word, to))?;
        }
        None
    }

    /// What is named at a word.
    pub fn named_at(&self, from: usize) -> Option<AmountOf> {
        let stages = &self.context.worked.formula.stages;
        let stage = stages.iter().find_map(|stage| {
            let words = stage.name.key.split(' ').count();
            let written = self.sentence.tokens.get(from..from + words)?;
            let end = from + written.len();
            (key(self.sentence.written(from, end)) == stage.name.key).then_some(&stage.name.key)
        });
        if let Some(stage) = stage {
            return Some(AmountOf::Stage(stage.to_string()));
        }
        food_at(self.context.house, self.sentence, from).map(AmountOf::Food)
    }

    /// The food whose name ends before a word, by its longest name.
    fn food_before(&self, to: usize) -> Option<Food> {
        let mut starts = to.saturating_sub(MAX_WORDS)..to;
        let food = |from| food_at(self.context.house, self.sentence, from);
        starts.find_map(|from| food(from).filter(|food| food.to == to))
    }

    /// Whether a fact is of what is named.
    pub fn is_of(&self, fact: &Fact, named: &AmountOf) -> bool {
        let Of::Name(name) = &fact.of else {
            return match (&fact.of, named) {
                (Of::Word("prefermented"), AmountOf::Food(food)) => food.says("flour"),
                (Of::Word(word), AmountOf::Food(food)) => food.says(word),
                (Of::Word(word), AmountOf::Piece) => *word == "piece",
                _ => false,
            };
        };
        match named {
            AmountOf::Stage(stage) => name.as_str() == stage,
            AmountOf::Piece => false,
            AmountOf::Food(food) => ingredient_of(self.context, name)
                .is_some_and(|ingredient| food.is(self.context.house, ingredient)),
        }
    }

    /// Lengths of the steps that the sentence names.
    pub fn times(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        let part = self.sentence.part(amount.from);
        if matches!(self.said.place, SaidAt::Storage)
            || self.is_part(&part)
            || self.sentence.has("perhaps", &part)
            || ["sequence", "relative"]
                .iter()
                .any(|word| self.sentence.has(word, &self.sentence.whole()))
            || self.is_apiece(amount) && !self.is_in_oven(amount)
        {
            return None;
        }
        if self.is_until_ready(amount) {
            return self.facts.elapsed().map(|elapsed| vec![elapsed]);
        }
        if self.is_in_oven(amount) {
            return Some(self.of_word(self.facts.times(), "bake"));
        }
        let words = self.words_near(&part, &["verb"]);
        let every = self.sentence.has("every", &part) || self.is_between_folds(amount);
        let words = match (every, words.contains(&"fold")) {
            (true, false) => return None,
            (true, true) => vec!["fold"],
            _ => words.into_iter().filter(|word| *word != "fold").collect(),
        };
        Some(self.of_words(&words, self.facts.times()))
    }

    /// `Ready in six hours`, of the bread and not of its dough or levain.
    fn is_until_ready(&self, amount: &Amount) -> bool {
        let is_other = |it: &speech::PhraseFound| {
            it.tag.kind == "thing" || it.tag.kind == "verb" && it.tag.word != "ripen"
        };
        matches!(self.said.place, SaidAt::Headnote | SaidAt::Note | SaidAt::Title)
            && self.named.word_before("ready", amount.from).is_some()
            && !self.sentence.found.iter().any(is_other)
    }

    /// `Forty minutes in the oven.`
    pub fn is_in_oven(&self, amount: &Amount) -> bool {
        self.named.word_at("in-oven", amount.to).is_some()
    }

    /// Temperatures of what the sentence names.
    pub fn temperatures(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        self.temperatures_of_any(amount).filter(|_| !self.is_after_food(amount))
    }

    /// Whether a food stands right before an amount.
    fn is_after_food(&self, amount: &Amount) -> bool {
        matches!(self.named_before(amount.from), Some(AmountOf::Food(_)))
    }

    /// The same where a food may stand before it.
    fn temperatures_of_any(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        let part = self.sentence.part(amount.from);
        let whole = self.sentence.whole();
        // `At 18 °C the dough wants twice the time.`
        let is_condition = amount.from == 1
            && ["pronoun", "the"]
                .iter()
                .any(|word| self.sentence.word_at(word, amount.to).is_some());
        if is_condition
            || ["perhaps", "elsewhere"].iter().any(|word| self.sentence.has(word, &part))
            || ["relative", "leaves"].iter().any(|word| self.sentence.has(word, &whole))
        {
            return None;
        }
        let words = self.words_near(&part, &["thing", "verb"]);
        let facts = self.of_words(&words, self.facts.temperatures());
        // What is warm is not held against what is hot.
        let warm = limits::most("habit of temperatures", "warm")?;
        let hot = |celsius: &Exact| *celsius > warm;
        let written = amount.readings.first()?;
        let kin = |fact: &&Fact| hot(&fact.high) == hot(&written.high);
        Some(facts.into_iter().filter(kin).collect())
    }

    /// Whether a time is of a part only: `after ten minutes`; not `ripe after ten hours`.
    fn is_part(&self, part: &std::ops::Range<usize>) -> bool {
        let verbs = || self.sentence.found.iter().filter(|it| it.tag.kind == "verb");
        let words = self.sentence.all("word", "part").filter(|it| part.contains(&it.from));
        words.into_iter().any(|it| !verbs().any(|verb| verb.from <= it.from && verb.to >= it.to))
    }

    /// What a part of the sentence names, else all of it, else the step whose note it is.
    fn words_near(&self, part: &std::ops::Range<usize>, kinds: &[&str]) -> Vec<&'static str> {
        // Of what an author's own step does, only that step knows.
        if let SaidAt::Step(step) = self.said.place
            && step.verb == Verb::Step
        {
            return vec![word_of(step.verb)];
        }
        let within = |range: &std::ops::Range<usize>| -> Vec<&'static str> {
            let found = self.sentence.found.iter();
            let found = found.filter(|it| kinds.contains(&it.tag.kind));
            found.filter(|it| range.contains(&it.from)).map(|it| it.tag.word).collect()
        };
        let mut words = within(part);
        if words.is_empty() {
            words = within(&self.sentence.whole());
        }
        match self.said.place {
            SaidAt::Step(step) if words.is_empty() && self.is_short() => vec![word_of(step.verb)],
            _ => words,
        }
    }

    /// Numbers of pieces or folds.
    pub fn counts(&self, amount: &Amount) -> Option<Vec<&'a Fact>> {
        if amount.measure != Measure::Bare {
            return None;
        }
        let part = self.sentence.part(amount.from);
        let has = |word: &str| self.sentence.has(word, &part);
        let folds = self.words_near(&part, &["verb"]).contains(&"fold");
        let times = self.sentence.word_at("times", amount.to).is_some()
            || self.sentence.word_at("fold-times", amount.from).is_some();
        if folds && times && !has("perhaps") && !has("at-a-time") {
            return Some(self.facts.folds().iter().collect());
        }
        let verb_last = self.sentence.language.code == "de";
        let mut makes = self.sentence.all("word", "makes");
        let made = makes.any(|it| it.to <= amount.from || (verb_last && it.from >= amount.to));
        if !made || has("at-a-time") || has("perhaps") {
            return None;
        }
        // A word may stand between: `twelve small rolls`.
        let piece = (amount.to..amount.to + 2).any(|at| {
            let word = self.sentence.written(at, at + 1);
            self.sentence.word_at("piece", at).is_some() || self.is_own_kind(word)
        });
        piece.then(|| self.facts.pieces().iter().collect())
    }

    fn is_own_kind(&self, word: &str) -> bool {
        let word = key(word);
        let mut kinds = self.facts.pieces().iter().filter_map(|fact| match &fact.of {
            Of::Name(kind) => Some(kind),
            _ => None,
        });
        !word.is_empty() && kinds.any(|kind| *kind == word)
    }

    fn of_word<'f>(&self, facts: &'f [Fact], word: &str) -> Vec<&'f Fact> {
        facts.iter().filter(|fact| matches!(fact.of, Of::Word(known) if known == word)).collect()
    }

    fn of_words(&self, words: &[&str], facts: &'a [Fact]) -> Vec<&'a Fact> {
        words.iter().flat_map(|word| self.of_word(facts, word)).collect()
    }

    /// Whether an amount is of one of several: `two minutes a side`, `a kilo a tray`.
    pub fn is_apiece(&self, amount: &Amount) -> bool {
        let after = amount.to..amount.to + 5;
        ["apiece", "at-a-time"].iter().any(|word| self.sentence.has(word, &after))
    }

    /// Whether such a phrase stands within so many words of an amount.
    pub fn is_near(&self, word: &str, amount: &Amount, words: usize) -> bool {
        let near = amount.from.saturating_sub(words)..amount.to + words;
        self.sentence.has(word, &near)
    }

    fn stale(&self, amount: &Amount, facts: &[&Fact]) -> Finding {
        let written = self.sentence.written(amount.from, amount.to);
        let dimension = amount.measure.dimension();
        let what = match dimension {
            Dimension::Mass => "weight",
            Dimension::Volume => "volume",
            Dimension::Share => "percentage",
            Dimension::Time => "time",
            Dimension::Temperature => "temperature",
            _ => "number",
        };
        let message = match dimension {
            Dimension::Mass | Dimension::Share if facts.len() > 12 => {
                format!("`{written}` in this text matches no {what} of the formula")
            }
            _ => format!(
                "this text says `{written}`, and the formula says {}",
                self.shown(facts, dimension)
            ),
        };
        let finding = Finding::new(&RULE, self.said.place_of(written), message);
        match dimension {
            Dimension::Mass | Dimension::Volume => finding
                .note("a typed amount does not scale with the formula")
                .help(format!(
                    "write it in brackets, so that it scales: `[{written}]`, or name what it is: `[water in levain]`"
                )),
            _ => finding.help("correct the one that is wrong, or take the number out of the text"),
        }
    }

    /// The values of some facts, each once, a few of them.
    fn shown(&self, facts: &[&Fact], dimension: Dimension) -> String {
        let kind = match dimension {
            Dimension::Mass | Dimension::Volume => ValueKind::Mass,
            Dimension::Share => ValueKind::Share,
            Dimension::Time => ValueKind::Time,
            Dimension::Temperature => ValueKind::Temperature,
            _ => ValueKind::Number,
        };
        let mut all: Vec<String> = Vec::new();
        for fact in facts {
            let (low, high) =
                (self.context.show(&fact.low, kind), self.context.show(&fact.high, kind));
            let shown = if low == high { low } else { format!("{low} to {high}") };
            if !all.contains(&shown) {
                all.push(shown);
            }
        }
        all.truncate(5);
        match all.as_slice() {
            [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
            _ => all.concat(),
        }
    }
}

/// What an amount is of.
pub enum AmountOf {
    /// A food.
    Food(Food),
    /// A stage of the formula, by its key.
    Stage(String),
    /// One of the pieces.
    Piece,
}
