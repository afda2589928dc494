//! The numbers of a passage, each held against the formulas that the passage is about.
//!
//! A weight counts only where what it weighs stands beside it, a percentage beside its figure
//! or its ingredient, a time or a temperature in one part of a sentence with its step, a count
//! after a word such as `makes`. All else is read and left alone.

use super::mix_named::{MixMention, MixNamed, mix_of};
use super::number_in_prose::{self, WrittenNumber};
use super::ratios::{RatioTold, ratios};
use crate::check::facts::{Fact, Facts, Of, ingredient_of, word_of};
use crate::check::number_in_text::{AmountOf, TextReading};
use crate::check::speech::{
    self, Amount, Food, FoodMention, Language, MAX_WORDS, Measure, Sentence, Token, TokenKind,
    food_at, read_named,
};
use crate::check::{Context, PlainText, SaidAt};
use crate::diag::Finding;
use crate::formula::class::Class;
use crate::formula::{
    Composition, Figure, Ingredient, LineRef, Numbers, Substance, Within, WorkedLine, key,
};
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::source::Span;
use std::ops::Range;

/// How far whoever writes `about` may be off.
const ROUGH: (i64, i64) = (1, 10);

/// How far a number of tens or hundreds may be rounded, and a ratio of parts.
const ROUND: (i64, i64) = (15, 1000);
const PARTS: (i64, i64) = (5, 100);

/// How closely a jug is read, and a cup or a spoon filled: twice what it may be off.
const POURED: (i64, i64) = (10, 100);
const SCOOPED: (i64, i64) = (30, 100);

/// A number of a passage.
pub struct ProseNumber {
    /// Its bytes in the passage.
    pub at: Range<usize>,
    /// The formula that it was held against; none where nothing says what it is of, or the
    /// formulas say nothing of that.
    pub formula: Option<String>,
    /// What the formula says otherwise.
    pub slip: Option<Finding>,
}

/// A passage as a language reads it.
pub struct PassageWords<'w> {
    /// As a reader sees it.
    pub text: &'w str,
    /// Its words.
    pub tokens: &'w [Token<'w>],
    /// The language that reads it.
    pub language: &'static Language,
}

/// The numbers of a passage in their order; `about` says which formulas a sentence is about.
pub fn read<'f, 'c, 't>(
    words: &PassageWords,
    about: &dyn Fn(&Sentence) -> Vec<&'f Facts<'f, 'c, 't>>,
) -> Vec<ProseNumber> {
    let mut all = Vec::new();
    let sentences: Vec<Sentence> =
        speech::sentences(words.text, words.tokens, words.language).collect();
    for (place, sentence) in sentences.iter().enumerate() {
        if !speech::has_amount(sentence)
            && fractions_in(sentence, &[]).next().is_none()
            && !tells_a_ratio(sentence)
        {
            continue;
        }
        let amounts = speech::amounts(sentence);
        let named = read_named(sentence, sentence.language);
        let is_told = is_told_of_this(sentence, &named) && is_begun_of_this(&sentences, place);
        let about = if is_told { about(sentence) } else { Vec::new() };
        let told = ratios_told(&about, sentence, &named);
        let is_ratio = |amount: &Amount| {
            let place = bytes(sentence, amount);
            told.iter().any(|it| it.at.start <= place.start && place.end <= it.at.end)
        };
        let mut own: Vec<(&Amount, ProseNumber)> = Vec::new();
        for (index, amount) in amounts.iter().enumerate() {
            if is_counted(sentence, &named, amount) && !is_ratio(amount) {
                let next = amounts.get(index + 1);
                own.push((amount, number(&about, sentence, &named, amount, next)));
            }
        }
        leave_pairs(sentence, &mut own);
        all.extend(own.into_iter().map(|(_, number)| number));
        all.extend(told);
        all.extend(fractions(&about, sentence, &named, &amounts));
    }
    all
}

/// `200 °C (400 °F)`: where one of a pair of two scales is right, how near the other is to it is
/// for the pair to say.
fn leave_pairs(sentence: &Sentence, all: &mut [(&Amount, ProseNumber)]) {
    let is_heat = |amount: &Amount| amount.measure.dimension() == Dimension::Temperature;
    let is_weight =
        |amount: &Amount| matches!(amount.measure.dimension(), Dimension::Mass | Dimension::Volume);
    let right: Vec<bool> =
        all.iter().map(|(_, it)| it.formula.is_some() && it.slip.is_none()).collect();
    let is_pair = |one: &Amount, two: &Amount| {
        let (end, start) = (bytes(sentence, one).end, bytes(sentence, two).start);
        let between = sentence.text.get(end..start).unwrap_or_default().trim().to_lowercase();
        (is_heat(one) && is_heat(two) || is_weight(one) && is_weight(two))
            && one.measure != two.measure
            && between.chars().count() < 12
            && (between.starts_with(['(', '/', '=', '≈', '[', ','])
                || ["or", "ou", "oder", "o"].contains(&between.as_str()))
    };
    let beside: Vec<bool> = (0..all.len())
        .map(|at| {
            let amount = |at: usize| all.get(at).map(|(amount, _)| *amount);
            let before = at.checked_sub(1).filter(|before| right[*before]).and_then(amount);
            let after = Some(at + 1).filter(|after| right.get(*after) == Some(&true));
            let after = after.and_then(amount);
            let own = amount(at);
            before.zip(own).is_some_and(|(one, two)| is_pair(one, two))
                || own.zip(after).is_some_and(|(one, two)| is_pair(one, two))
        })
        .collect();
    // Where both are wrong, the first says so.
    let again: Vec<bool> = (0..all.len())
        .map(|at| {
            let before = at.checked_sub(1).and_then(|at| all.get(at));
            let wrong = before.filter(|(_, number)| number.slip.is_some());
            wrong
                .zip(all.get(at))
                .is_some_and(|((one, _), (two, _))| is_weight(one) && is_pair(one, two))
        })
        .collect();
    for (((_, number), is_beside), is_again) in all.iter_mut().zip(beside).zip(again) {
        if is_beside || is_again {
            number.slip = None;
        }
    }
}

/// Whether what comes before a colon, a bracket or a dash is told of this too: `A variation:
/// use 300 g`.
fn is_begun_of_this(sentences: &[Sentence], place: usize) -> bool {
    let Some((before, sentence)) =
        place.checked_sub(1).and_then(|at| sentences.get(at)).zip(sentences.get(place))
    else {
        return true;
    };
    let end = before.tokens.last().map_or(0, |token| token.end);
    let start = sentence.tokens.first().map_or(end, |token| token.start);
    let between = sentence.text.get(end..start).unwrap_or_default().trim();
    if !between.starts_with([':', '(', '–', '—']) {
        return true;
    }
    let named = read_named(before, before.language);
    is_told_of_this(before, &named) && is_begun_of_this(sentences, place - 1)
}

/// `In Paris they use 70 %`: what is done in a place with a name is done elsewhere.
pub fn is_in_a_place(sentence: &Sentence) -> bool {
    const IN: [&str; 5] = ["in", "à", "en", "a", "at"];
    let is_capital = |token: &Token| {
        let written = sentence.text.get(token.start..).unwrap_or_default();
        token.kind == TokenKind::Word && written.starts_with(char::is_uppercase)
    };
    // In German every noun has a capital.
    let man = || sentence.tokens.iter().any(|token| token.key == "man");
    let mut pairs = sentence.tokens.windows(2);
    let is_named = pairs.any(|pair| match pair {
        [one, two] => IN.contains(&one.key.as_ref()) && is_capital(two) && two.end - two.start > 2,
        _ => false,
    });
    is_named && (sentence.language.code != "de" || man())
}

/// What others do elsewhere contradicts nothing, nor what might be, nor what is bought.
fn is_told_of_this(sentence: &Sentence, named: &Sentence) -> bool {
    let whole = sentence.whole();
    // `lievito madre` is nobody's mother.
    let is_levain = |it: &speech::PhraseFound| {
        named.all("word", "the-levain").any(|levain| levain.from <= it.from && it.to <= levain.to)
    };
    !["story", "unreal", "clean"]
        .iter()
        .any(|word| sentence.all("word", word).any(|it| !is_levain(&it)))
        && !["trade", "another-way"].iter().any(|word| named.has(word, &whole))
        && !is_for_another_yield(sentence, named)
        && !names_a_year(sentence)
        && !is_of_another_edition(sentence)
}

/// `The first edition said 700 g of water.`
fn is_of_another_edition(sentence: &Sentence) -> bool {
    const EDITIONS: [&str; 12] = [
        "edition",
        "editions",
        "printing",
        "draft",
        "édition",
        "tirage",
        "auflage",
        "ausgabe",
        "edición",
        "edizione",
        "ristampa",
        "brouillon",
    ];
    const THIS: [&str; 9] =
        ["this", "present", "cette", "présente", "diese", "dieser", "esta", "questa", "presente"];
    let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
    (0..sentence.tokens.len()).any(|at| {
        let before = at.saturating_sub(2)..at;
        EDITIONS.contains(&key(at)) && !before.into_iter().any(|at| THIS.contains(&key(at)))
    })
}

/// `In the 1980s we used less.`
fn names_a_year(sentence: &Sentence) -> bool {
    let is_year = |token: &Token| {
        let year = token.key.parse::<u32>().is_ok_and(|year| (1500..2100).contains(&year));
        year && token.key.len() == 4
    };
    let is_measured = |at: usize| {
        let letter = sentence.tokens.get(at).is_some_and(|token| token.key == "s");
        !letter && sentence.found.iter().any(|it| it.from == at && it.tag.kind == "unit")
    };
    let mut tokens = sentence.tokens.iter().enumerate();
    tokens.any(|(at, token)| is_year(token) && !is_measured(at + 1))
}

/// `For 4 loaves, double everything.`
fn is_for_another_yield(sentence: &Sentence, named: &Sentence) -> bool {
    let Some(to) = named.word_at("yield-for", 0) else { return false };
    let second = speech::amounts(sentence).into_iter().find(|amount| amount.from == to);
    second.is_some_and(|amount| amount.measure == Measure::Bare)
}

/// Whether words are a number to a reader: `one` mostly is none.
fn is_counted(sentence: &Sentence, named: &Sentence, amount: &Amount) -> bool {
    let first = sentence.tokens.get(amount.from);
    amount.measure != Measure::Bare
        || first.is_some_and(|token| token.kind == TokenKind::Number)
        || amount.readings.iter().any(|reading| reading.low > Exact::ONE)
        || named.word_at("part", amount.to).is_some()
}

fn bytes(sentence: &Sentence, amount: &Amount) -> Range<usize> {
    let first = sentence.tokens.get(amount.from).map_or(0, |token| token.start);
    let last = amount.to.checked_sub(1).and_then(|last| sentence.tokens.get(last));
    first..last.map_or(first, |token| token.end)
}

/// Holds an amount against the formulas that its sentence may be about; it need fit one.
fn number(
    about: &[&Facts],
    sentence: &Sentence,
    named: &Sentence,
    amount: &Amount,
    next: Option<&Amount>,
) -> ProseNumber {
    let at = bytes(sentence, amount);
    let mut slip = None;
    let before = sentence.text.get(..at.start).unwrap_or_default().trim_end();
    let is_worked_out = before.ends_with(['+', '−', '×', '÷', '=', '*', '<', '>', '≤', '≥']);
    let about = if is_worked_out { &[] } else { about };
    // `for two hours before slicing`: how long it takes, and then what comes next.
    let (cut, cut_named);
    let (sentence, named) = match sentence.tokens.get(..amount.to) {
        Some(tokens) if is_told_until(sentence, amount) => {
            cut = speech::unparted(sentence.text, tokens, sentence.language);
            cut_named = read_named(&cut, sentence.language);
            (&cut, &cut_named)
        }
        _ => (sentence, named),
    };
    for facts in about {
        let said =
            PlainText { words: sentence.text.into(), span: Span::NOWHERE, place: SaidAt::Headnote };
        let context = facts.context;
        let reading = TextReading { context, facts, said: &said, sentence, named };
        let prose = Prose { reading, facts };
        let Some(judged) = prose.judge(amount, next) else { continue };
        let formula = Some(context.worked.formula.name.shown.to_string());
        if judged.fits {
            return ProseNumber { at, formula, slip: None };
        }
        if slip.is_none() {
            let written = WrittenNumber {
                text: sentence.text.get(at.clone()).unwrap_or_default(),
                measure: amount.measure,
                comma: sentence.language.code != "en",
                of: &judged.of,
                is_ratio: judged.is_ratio,
            };
            slip = Some((formula, number_in_prose::finding(context, &written, &judged.facts)));
        }
    }
    match slip {
        Some((formula, slip)) => ProseNumber { at, formula, slip: Some(slip) },
        None => ProseNumber { at, formula: None, slip: None },
    }
}

/// Fractions in a sentence that are no amounts of a unit: where each begins, and the word after
/// it.
fn fractions_in<'s>(
    sentence: &'s Sentence,
    amounts: &'s [Amount],
) -> impl Iterator<Item = (usize, usize)> + 's {
    let is_amount = move |at: usize| amounts.iter().any(|it| it.from <= at && at < it.to);
    let mut from = 0;
    (0..sentence.tokens.len()).filter_map(move |at| {
        let half = || is_half(sentence, at).then_some(at + 1);
        let to = speech::part_of(sentence, at).or_else(half);
        let to = to.filter(|_| at >= from && !is_amount(at))?;
        from = to;
        Some((at, to))
    })
}

/// `la moitié`, `die Hälfte`: a half of something.
fn is_half(sentence: &Sentence, at: usize) -> bool {
    const HALVES: [&str; 4] = ["moitié", "hälfte", "mitad", "metà"];
    sentence.tokens.get(at).is_some_and(|token| HALVES.contains(&token.key.as_ref()))
}

/// `Half of the flour goes into the levain`, `a third of the water`: held against what stages
/// and steps take of it.
fn fractions(
    about: &[&Facts],
    sentence: &Sentence,
    named: &Sentence,
    amounts: &[Amount],
) -> Vec<ProseNumber> {
    let one = |(from, to): (usize, usize)| {
        let half = || {
            let half = Exact::ONE.one_in::<2>();
            let reading =
                speech::AmountReading { low: half.clone(), high: half, step: Exact::ZERO };
            is_half(sentence, from).then(|| vec![reading])
        };
        let readings = speech::fraction_at(sentence, from).or_else(half)?;
        let amount = Amount { from, to, readings, measure: Measure::Unit(Unit::Percent) };
        let at = bytes(sentence, &amount);
        let mut slip = None;
        for facts in about {
            let said = PlainText {
                words: sentence.text.into(),
                span: Span::NOWHERE,
                place: SaidAt::Headnote,
            };
            let context = facts.context;
            let reading = TextReading { context, facts, said: &said, sentence, named };
            let prose = Prose { reading, facts };
            let Some(judged) = prose.fraction(&amount) else { continue };
            let formula = Some(context.worked.formula.name.shown.to_string());
            if judged.fits {
                return Some(ProseNumber { at, formula, slip: None });
            }
            let written = WrittenNumber {
                text: sentence.text.get(at.clone()).unwrap_or_default(),
                measure: amount.measure,
                comma: sentence.language.code != "en",
                of: &judged.of,
                is_ratio: judged.is_ratio,
            };
            let finding = number_in_prose::finding(context, &written, &judged.facts);
            slip.get_or_insert((formula, finding));
        }
        let (formula, slip) = slip?;
        Some(ProseNumber { at, formula, slip: Some(slip) })
    };
    fractions_in(sentence, amounts).filter_map(one).collect()
}

/// `twice as much water as salt`: held against what the mixes have of both.
fn ratios_told(about: &[&Facts], sentence: &Sentence, named: &Sentence) -> Vec<ProseNumber> {
    if about.is_empty() || !tells_a_ratio(sentence) {
        return Vec::new();
    }
    let mut all: Vec<ProseNumber> = Vec::new();
    for facts in about {
        let said =
            PlainText { words: sentence.text.into(), span: Span::NOWHERE, place: SaidAt::Headnote };
        let context = facts.context;
        let reading = TextReading { context, facts, said: &said, sentence, named };
        let prose = Prose { reading, facts };
        let name_at = |at: usize| prose.at(at).map(|(_, to)| to);
        for told in ratios(sentence, &name_at) {
            let Some((judged, amount)) = prose.ratio_told(&told) else { continue };
            let at = bytes(sentence, &amount);
            let known = all.iter().position(|it| it.at == at);
            let is_slip = |at: &usize| all.get(*at).is_some_and(|it| it.slip.is_some());
            if known.is_some_and(|at| !judged.fits || !is_slip(&at)) {
                continue;
            }
            let written = WrittenNumber {
                text: sentence.text.get(at.clone()).unwrap_or_default(),
                measure: Measure::Bare,
                comma: sentence.language.code != "en",
                of: &judged.of,
                is_ratio: true,
            };
            let slip =
                (!judged.fits).then(|| number_in_prose::finding(context, &written, &judged.facts));
            let formula = Some(context.worked.formula.name.shown.to_string());
            let number = ProseNumber { at, formula, slip };
            match known.and_then(|at| all.get_mut(at)) {
                Some(known) => *known = number,
                None => all.push(number),
            }
        }
    }
    all
}

/// Whether a sentence may tell how much of one thing there is to another.
fn tells_a_ratio(sentence: &Sentence) -> bool {
    const SIGNS: &[&str] = &[
        "as",
        "so",
        "fois",
        "moitié",
        "veces",
        "volte",
        "doble",
        "triple",
        "mitad",
        "doppio",
        "triplo",
        "metà",
        "equal",
        "égales",
        "gleiche",
        "gleichen",
        "gleich",
        "iguales",
        "uguali",
        "ratio",
        "rapport",
        "proportion",
        "verhältnis",
        "proporción",
        "relación",
        "rapporto",
    ];
    sentence.tokens.iter().any(|token| SIGNS.contains(&token.key.as_ref()))
}

/// Whether a length of time is followed by what comes after it: `for 2 h before`.
fn is_told_until(sentence: &Sentence, amount: &Amount) -> bool {
    const BEFORE: [&str; 6] = ["before", "avant", "bevor", "vor", "antes", "prima"];
    const FOR: [&str; 4] = ["for", "pendant", "durante", "per"];
    let key = |at: Option<usize>| {
        at.and_then(|at| sentence.tokens.get(at)).map_or("", |token| token.key.as_ref())
    };
    amount.measure.dimension() == Dimension::Time
        && BEFORE.contains(&key(Some(amount.to)))
        && FOR.contains(&key(amount.from.checked_sub(1)))
}

/// What stands beside an amount.
enum Beside {
    Named(AmountOf),
    /// The dough or the bread itself.
    Dough,
    /// Whatever raises the dough.
    Levain,
}

/// What of a food is told.
#[derive(Clone, Copy)]
enum Kept {
    Weights,
    Shares,
}

struct Judged {
    fits: bool,
    of: String,
    facts: Vec<Fact>,
    /// Whether it is how much of one thing there is to another.
    is_ratio: bool,
}

/// A sentence of prose beside one formula.
struct Prose<'p, 'c, 't> {
    reading: TextReading<'p, 'c, 't>,
    facts: &'p Facts<'p, 'c, 't>,
}

impl Prose<'_, '_, '_> {
    fn judge(&self, amount: &Amount, next: Option<&Amount>) -> Option<Judged> {
        if amount.measure == Measure::Bare
            && let Some(to) = self.reading.named.word_at("part", amount.to)
            && let Some(next) = next
        {
            return self.parts(amount, to, next);
        }
        let is_another =
            amount.measure.dimension() == Dimension::Time && self.is_another_stretch(amount);
        if self.reading.is_of_a_difference(amount)
            && !self.reading.is_between_folds(amount)
            && !is_another
            || self.is_denied(amount)
        {
            return None;
        }
        // `Thirty per cent of the flour is rye.`
        if amount.measure.dimension() == Dimension::Share
            && let Some(judged) = self.fraction_of_flour(amount)
        {
            return Some(judged);
        }
        let (of, facts) = match amount.measure.dimension() {
            Dimension::Mass => self.weights(amount)?,
            Dimension::Share => self.shares(amount)?,
            Dimension::Time => (String::new(), self.times(amount)?),
            Dimension::Temperature => (String::new(), self.temperatures(amount)?),
            Dimension::Count => (String::new(), self.counts(amount)?),
            Dimension::Volume => return self.volumes(amount),
            _ => return None,
        };
        if facts.is_empty() {
            return None;
        }
        let fits = facts.iter().any(|fact| self.meets(amount, fact));
        if !fits && self.is_of_a_part(amount) {
            return None;
        }
        let facts = match amount.measure.dimension() {
            // Those of all the flour come first.
            Dimension::Share => facts,
            _ => nearest_first(amount, facts),
        };
        Some(Judged { fits, of, facts, is_ratio: false })
    }

    /// A fraction of a food: of all that the formula has of it, what a stage that the sentence
    /// names takes; where it names none, what a step takes.
    fn fraction(&self, amount: &Amount) -> Option<Judged> {
        if let Some(judged) = self.fraction_of_flour(amount) {
            return Some(judged);
        }
        let sentence = self.reading.sentence;
        let from = self.skip(amount.to);
        let (beside, to) = self.at(from)?;
        let Beside::Named(AmountOf::Food(food)) = &beside else { return None };
        let other = |at: &usize| {
            let found = self.at(*at).filter(|_| *at >= to || *at < amount.from);
            matches!(found, Some((Beside::Named(AmountOf::Food(_)), _)))
        };
        let is_doubtful = sentence.has("perhaps", &sentence.whole())
            || sentence.has("relative", &sentence.whole())
            || self.is_denied(amount)
            || self.reading.named.has("eaten", &sentence.whole())
            || self.reading.named.has("outside", &sentence.whole())
            || (0..sentence.tokens.len()).any(|at| other(&at));
        if is_doubtful || !self.has_article(amount.to..from) {
            return None;
        }
        let is_stage = |at: usize| {
            let found = self.at(at).filter(|_| at >= to || at < amount.from);
            matches!(found, Some((Beside::Levain | Beside::Named(AmountOf::Stage(_)), _)))
        };
        let names_stage = (0..sentence.tokens.len()).any(is_stage);
        let mut facts = Vec::new();
        let fact = |share: Exact| Fact { of: Of::Anything, low: share.clone(), high: share };
        if names_stage {
            for numbers in &self.facts.context.worked.choices {
                let Some(whole) = self.whole_of(numbers, food) else { continue };
                for stage in &numbers.stages {
                    let own = self.lines_of(stage.lines.iter(), food);
                    let sum = own.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
                    facts.extend(sum.over(&whole).filter(|it| !it.is_zero()).map(fact));
                }
            }
        } else if self.is_held_back() {
            facts = self.of(&beside, &self.facts.parts());
        }
        let fits = facts.iter().any(|fact| {
            amount.readings.iter().any(|told| {
                let slack = &told.high * ratio(ROUGH.0, ROUGH.1);
                fact.low <= &told.high + &slack && fact.high >= &told.low - &slack
            })
        });
        let of = sentence.written(from, to).to_owned();
        (!facts.is_empty()).then_some(Judged { fits, of, facts, is_ratio: false })
    }

    /// `Two thirds of the flour is rye`, `rye makes up a third of the flour`.
    fn fraction_of_flour(&self, amount: &Amount) -> Option<Judged> {
        const IS: &[&str] =
            &["is", "are", "est", "sont", "ist", "sind", "es", "son", "è", "sono", "should"];
        const MAKES_UP: &[&str] = &["makes", "make", "macht", "machen", "fait", "font", "hace"];
        const UP: &[&str] = &["up", "out"];
        let sentence = self.reading.sentence;
        let whole = sentence.whole();
        let doubtful = ["perhaps", "relative", "unreal", "instead"];
        if doubtful.iter().any(|word| sentence.has(word, &whole)) || self.is_denied(amount) {
            return None;
        }
        let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let food = |at: usize| match self.at(at)? {
            (Beside::Named(AmountOf::Food(food)), to) => Some((food, to)),
            _ => None,
        };
        let (flour, to) = food(self.skip(amount.to)).filter(|(food, _)| food.says("flour"))?;
        // The flour alone: `two thirds of the rye flour` is something else.
        let is_bare = flour.to == flour.from + 1;
        let own = match IS.contains(&key(to)) {
            true => {
                let from = self.skip(to + 1);
                food(from).map(|(food, end)| (food, from, end))
            }
            false => {
                let mut verb = amount.from.checked_sub(1)?;
                if UP.contains(&key(verb)) {
                    verb = verb.checked_sub(1)?;
                }
                let is_verb = MAKES_UP.contains(&key(verb)) || IS.contains(&key(verb));
                let starts = (0..verb).filter(|_| is_verb);
                starts
                    .filter_map(|at| food(at).map(|(food, end)| (food, at, end)))
                    .find(|(_, _, end)| *end == verb)
            }
        };
        let (own, from, end) = own.filter(|(food, ..)| is_bare && !food.says("flour"))?;
        // `… is rye, wheat and spelt`: not this one alone.
        let goes_on = ["and", "or", "et", "ou", "und", "oder", "y", "o", "e"].contains(&key(end));
        let of = sentence.written(from, end).to_owned();
        let facts = self.sums_of_flour(&Beside::Named(AmountOf::Food(own)));
        if goes_on || facts.is_empty() {
            return None;
        }
        // A fraction is told roughly, a percentage to its last digit.
        let fits = facts.iter().any(|fact| {
            amount.readings.iter().any(|told| {
                if !told.step.is_zero() {
                    return told.meets(&fact.low, &fact.high);
                }
                let slack = &told.high * ratio(ROUGH.0, ROUGH.1);
                fact.low <= &told.high + &slack && fact.high >= &told.low - &slack
            })
        });
        Some(Judged { fits, of, facts, is_ratio: false })
    }

    /// `Hold a third of the water back.`
    fn is_held_back(&self) -> bool {
        const HELD: &[&str] = &[
            "hold",
            "holding",
            "held",
            "reserve",
            "reserved",
            "withhold",
            "réservez",
            "réserver",
            "gardez",
            "garder",
            "zurückhalten",
            "zurückbehalten",
            "aufheben",
            "reserva",
            "reservar",
            "guarda",
            "tieni",
            "tenere",
            "riserva",
            "riservare",
        ];
        self.reading.sentence.tokens.iter().any(|token| HELD.contains(&token.key.as_ref()))
    }

    /// `Don't use 300 g of water.`
    fn is_denied(&self, amount: &Amount) -> bool {
        let sentence = self.reading.sentence;
        let before = sentence.part(amount.from).start..amount.from;
        sentence.has("negate", &before)
    }

    /// `A quarter of the salt, 5 g`, `20 % of the water (75 g)`: a part of what is named.
    fn is_of_a_part(&self, amount: &Amount) -> bool {
        let sentence = self.reading.sentence;
        let near = (amount.from.saturating_sub(9)..amount.from).chain(amount.to..amount.to + 3);
        let mut parts = near.filter_map(|at| speech::part_of(sentence, at));
        let mut shares = speech::amounts(sentence).into_iter().filter(|it| {
            it.measure == Measure::Unit(Unit::Percent)
                && it.to <= amount.from
                && it.to + 8 > amount.from
        });
        parts.any(|to| to <= amount.from || to > amount.to)
            || shares.any(|it| self.has_article(it.to..self.skip(it.to)))
    }

    /// Whether a fact rounds to what is written, or is as near as its words say.
    fn meets(&self, amount: &Amount, fact: &Fact) -> bool {
        let rough = self.is_rough(amount);
        amount.readings.iter().any(|reading| {
            if reading.meets(&fact.low, &fact.high)
                || self.reading.is_at_least(amount) && fact.high >= reading.low
            {
                return true;
            }
            let share = |(above, below)| &reading.high * ratio(above, below);
            let slack = match amount.measure.dimension() {
                Dimension::Temperature => return false,
                _ if rough => share(ROUGH),
                Dimension::Mass => half_of_tens(&reading.high).min(share(ROUND)),
                _ => return false,
            };
            fact.low <= &reading.high + &slack && fact.high >= &reading.low - &slack
        })
    }

    fn is_rough(&self, amount: &Amount) -> bool {
        let named = self.reading.named;
        named.word_before("rough", amount.from).is_some()
    }

    fn weights(&self, amount: &Amount) -> Option<(String, Vec<Fact>)> {
        let reading = &self.reading;
        let for_so_much = self.for_so_much();
        if reading.is_near("vessel", amount, 1)
            || reading.is_near("ratio", amount, 4) && for_so_much.is_none()
            || reading.named.has("spoon", &reading.named.whole())
            || self.is_beside_the_dough(for_so_much.is_some()) && !self.is_held_by_a_mix(amount)
        {
            return None;
        }
        // `Jedes Brot wiegt vor dem Backen 900 g.`
        let sentence = reading.sentence;
        if reading.named.has("unbaked", &sentence.whole())
            && sentence.has("piece", &sentence.whole())
            && self.beside(amount).is_none()
        {
            let dough = self.pieces_by_words();
            return (!dough.is_empty()).then_some((String::new(), dough));
        }
        // `The loaf comes out at 800 g when baked.`
        if reading.named.has("as-baked", &sentence.whole())
            && sentence.has("piece", &sentence.whole())
            && self.beside(amount).is_none()
        {
            let baked = self.baked_pieces();
            // A little is put on it.
            let least = baked.iter().map(|fact| fact.low.one_in::<3>()).min();
            let is_whole =
                |told: &speech::AmountReading| least.as_ref().is_some_and(|it| told.low > *it);
            return amount.readings.iter().any(is_whole).then_some((String::new(), baked));
        }
        let (beside, of) = self.beside(amount)?;
        let is_apiece =
            reading.is_apiece(amount) && !matches!(beside, Beside::Named(AmountOf::Piece));
        // `1 kg of dough` is any dough; `the dough weighs 1 kg` is this one.
        let is_any = matches!(beside, Beside::Dough) && self.after(amount.to).is_some();
        // `200 g of water for the levain, and for the dough 530 g`
        let is_right_after = || {
            let before = amount.from.checked_sub(1).and_then(|at| sentence.tokens.get(at));
            let start = sentence.tokens.get(amount.from).map_or(0, |token| token.start);
            let between = before.and_then(|token| sentence.text.get(token.end..start));
            between.is_some_and(|between| between.trim().is_empty())
                && before.is_some_and(|token| token.kind == TokenKind::Word)
                && reading.named.word_before("the-dough", amount.from).is_some()
        };
        if is_apiece || is_any || matches!(beside, Beside::Dough) && is_right_after() {
            return None;
        }
        let mut facts = self.of(&beside, self.facts.weights());
        facts.extend(self.sums(&beside));
        self.keep_those_of_the_mix(amount, &beside, Kept::Weights, &mut facts);
        // `For 500 g of flour take 340 g of water.`
        if let Some((from, parts)) = for_so_much {
            if from == amount.from || self.after(amount.to).is_none() {
                return None;
            }
            let scaled = |fact: &Fact| {
                let one = |part: &Exact| Fact {
                    of: Of::Anything,
                    low: &fact.low * part,
                    high: &fact.high * part,
                };
                parts.iter().map(one).collect::<Vec<_>>()
            };
            facts = facts.iter().flat_map(scaled).collect();
        }
        // `Each loaf takes 450 g of flour.`
        if let Some(count) = self.each_of_pieces() {
            let one = |fact: &Fact| {
                let each = |it: &Exact| it.over(&count);
                Some(Fact { of: Of::Anything, low: each(&fact.low)?, high: each(&fact.high)? })
            };
            let each: Vec<Fact> = facts.iter().filter_map(one).collect();
            facts.extend(each);
        }
        // `20 g of the water` is a part of it, and a baked loaf lost what nobody wrote down.
        let is_baked = || {
            let verbs = &reading.sentence.found;
            verbs.iter().any(|it| it.tag.kind == "verb" && it.tag.word == "bake")
        };
        let is_piece = matches!(beside, Beside::Named(AmountOf::Piece));
        // `Each loaf weighs 900 g before it is baked.`
        if is_piece && self.reading.named.has("unbaked", &self.reading.sentence.whole()) {
            let dough = self.pieces_by_words();
            return (!dough.is_empty()).then_some((of, dough));
        }
        // `Each baked loaf weighs 800 g.`
        if is_piece && self.reading.named.has("as-baked", &reading.sentence.part(amount.from)) {
            let baked = self.baked_pieces();
            if !baked.is_empty() {
                return Some((of, baked));
            }
        }
        // What is dusted on is in no line of the dough.
        let is_dusted = || sentence.has("place-of-work", &sentence.whole()) || self.is_dusted();
        let is_part = self.has_article(amount.to..self.skip(amount.to))
            || is_piece && is_baked()
            || is_dusted();
        if is_part && !facts.iter().any(|fact| self.meets(amount, fact)) {
            return None;
        }
        Some((of, facts))
    }

    /// `For 500 g of flour`, `for every 100 g of flour`: where that weight begins, and what part
    /// of the formula's flour it is, with and without what cultures bring.
    fn for_so_much(&self) -> Option<(usize, Vec<Exact>)> {
        const FOR: [&str; 9] = ["for", "to", "per", "pour", "für", "auf", "para", "por", "je"];
        const EACH: [&str; 6] = ["every", "each", "chaque", "je", "cada", "ogni"];
        let sentence = self.reading.sentence;
        let key = |at: Option<usize>| {
            at.and_then(|at| sentence.tokens.get(at)).map_or("", |token| token.key.as_ref())
        };
        speech::amounts(sentence).into_iter().find_map(|amount| {
            let before = amount.from.checked_sub(1);
            let is_for = [before, before.and_then(|at| at.checked_sub(1))]
                .into_iter()
                .take(if EACH.contains(&key(before)) { 2 } else { 1 })
                .any(|at| FOR.contains(&key(at)) || EACH.contains(&key(at)));
            if amount.measure.dimension() != Dimension::Mass || !is_for {
                return None;
            }
            let (beside, _) = self.after(amount.to)?;
            let is_flour = match &beside {
                Beside::Named(AmountOf::Food(food)) => food.says("flour"),
                _ => false,
            };
            let told = &amount.readings.first()?.low;
            let parts: Vec<Exact> = self
                .values_in(Within::All, &beside, Kept::Weights)
                .iter()
                .filter_map(|all| told.over(all))
                .collect();
            is_flour.then_some((amount.from, parts))
        })
    }

    /// How many pieces there are, where a sentence tells of each of them: `each loaf takes`.
    fn each_of_pieces(&self) -> Option<Exact> {
        const EACH: [&str; 8] =
            ["each", "every", "chaque", "jedes", "jeder", "pro", "cada", "ogni"];
        let sentence = self.reading.sentence;
        let is_each = |at: usize| {
            let token = sentence.tokens.get(at);
            token.is_some_and(|token| EACH.contains(&token.key.as_ref()))
                && sentence.word_at("piece", at + 1).is_some()
        };
        let [piece] = self.facts.context.worked.choices.first()?.pieces.as_slice() else {
            return None;
        };
        let count = piece.made.count.clone();
        let is_told = (0..sentence.tokens.len()).any(is_each);
        (is_told && count > Exact::ONE).then_some(count)
    }

    /// `Dust them with 10 g of flour.`
    fn is_dusted(&self) -> bool {
        const DUST: &[&str] = &[
            "dust",
            "dusted",
            "dusting",
            "saupoudrez",
            "saupoudrer",
            "farinez",
            "fariner",
            "bestäuben",
            "bestäube",
            "bemehlen",
            "espolvorea",
            "espolvorear",
            "enharina",
            "enharinar",
            "spolverate",
            "spolverare",
            "spolvera",
            "infarinate",
            "infarinare",
        ];
        self.reading.sentence.tokens.iter().any(|token| DUST.contains(&token.key.as_ref()))
    }

    /// The same where a sentence tells what a piece weighs before it is baked, and what it weighs
    /// after: `900 g raw and 783 g baked`.
    fn pieces_by_words(&self) -> Vec<Fact> {
        const AFTER: [&str; 6] = ["after", "après", "nach", "danach", "después", "dopo"];
        let (sentence, named) = (self.reading.sentence, self.reading.named);
        let mut all = self.unbaked_pieces();
        let is_after = sentence.tokens.iter().any(|it| AFTER.contains(&it.key.as_ref()));
        // `before it is baked` is no word for what is baked.
        let unbaked: Vec<_> = named.all("word", "unbaked").collect();
        let is_baked = named
            .all("word", "as-baked")
            .any(|it| !unbaked.iter().any(|before| before.from <= it.from && it.to <= before.to));
        if is_after || is_baked {
            all.extend(self.baked_pieces());
        }
        all
    }

    /// What the dough of a piece weighs.
    fn unbaked_pieces(&self) -> Vec<Fact> {
        let fact = |grams: Exact| Fact { of: Of::Word("piece"), low: grams.clone(), high: grams };
        let choices = self.facts.context.worked.choices.iter();
        let pieces = choices.flat_map(|numbers| &numbers.pieces);
        pieces.map(|piece| fact(piece.made.weight.clone())).collect()
    }

    /// What pieces weigh when they have lost what the formula says they lose.
    fn baked_pieces(&self) -> Vec<Fact> {
        let worked = self.facts.context.worked;
        let fact = |grams: Exact| Fact { of: Of::Word("piece"), low: grams.clone(), high: grams };
        let pieces = worked.choices.iter().flat_map(|numbers| {
            numbers.pieces.iter().flat_map(move |piece| {
                piece.made.baked().into_iter().chain(worked.as_eaten(numbers, piece))
            })
        });
        pieces.map(fact).collect()
    }

    /// Whether a sentence is about what is eaten, about the crust, about what a vessel holds,
    /// about any dough, or tells how much of one thing there is to another.
    fn is_beside_the_dough(&self, is_for_so_much: bool) -> bool {
        let named = self.reading.named;
        let whole = named.whole();
        ["eaten", "outside", "capacity"].iter().any(|word| named.has(word, &whole))
            || named.word_at("one-of-many", 0).is_some()
            || self.reading.sentence.has("ratio", &whole) && !is_for_so_much
    }

    /// `The levain holds 250 g of water`: what a mix holds is in it, and what a tin holds is not.
    fn is_held_by_a_mix(&self, amount: &Amount) -> bool {
        let named = self.reading.named;
        let whole = named.whole();
        let holds = named.word_before("capacity", amount.from);
        let is_mix = |end: usize| self.mixes_named().iter().any(|it| it.words.end == end);
        holds.is_some_and(is_mix)
            && !["eaten", "outside"].iter().any(|word| named.has(word, &whole))
            && !self.reading.sentence.has("ratio", &whole)
    }

    /// The ingredient of the formula's lines that is named; none where the dough itself is meant,
    /// or nothing of that name is in it.
    fn ingredient_of_lines(&self, beside: &Beside) -> Option<&Ingredient> {
        let Beside::Named(AmountOf::Food(food)) = beside else { return None };
        if self.is_beside_the_dough(false) {
            return None;
        }
        let context = self.facts.context;
        context.line_names().find_map(|name| {
            let ingredient = ingredient_of(context, &name)?;
            food.is(context.house, ingredient).then_some(ingredient)
        })
    }

    /// What a volume is of, weighed by its density.
    fn volumes(&self, amount: &Amount) -> Option<Judged> {
        let (beside, of) = self.beside(amount)?;
        let known = self.ingredient_of_lines(&beside)?;
        let density = known.grams_per_ml.as_ref()?;
        let mut facts = self.of(&beside, self.facts.weights());
        facts.extend(self.sums(&beside));
        let is_scooped =
            matches!(amount.measure, Measure::Unit(Unit::Cup | Unit::Tablespoon | Unit::Teaspoon));
        let (above, below) = if is_scooped { SCOOPED } else { POURED };
        let weighed = |told: &speech::AmountReading| speech::AmountReading {
            low: &told.low * density,
            high: &told.high * density,
            step: (&told.step * density).max(&told.high * density * ratio(above, below)),
        };
        let all: Vec<speech::AmountReading> = amount.readings.iter().map(weighed).collect();
        let fits =
            facts.iter().any(|fact| all.iter().any(|told| told.meets(&fact.low, &fact.high)));
        let weighed = Amount { readings: all, ..amount.clone() };
        let facts = nearest_first(&weighed, facts);
        (!facts.is_empty()).then_some(Judged { fits, of, facts, is_ratio: false })
    }

    fn shares(&self, amount: &Amount) -> Option<(String, Vec<Fact>)> {
        let (reading, sentence) = (&self.reading, self.reading.sentence);
        let part = sentence.part(amount.from);
        // What is in the crumb is what is left of it after baking.
        const CRUMB: [&str; 6] = ["crumb", "crust", "mie", "krume", "miga", "mollica"];
        let is_baked = |at: usize| {
            sentence.tokens.get(at).is_some_and(|token| CRUMB.contains(&token.key.as_ref()))
        };
        if part.clone().any(is_baked) {
            return None;
        }
        if sentence.has("other-share", &part)
            || reading.is_near("ratio", amount, 4)
            || reading.named.word_at("made-of", amount.to).is_some()
        {
            return None;
        }
        // `A ciabatta has 80 % hydration.`
        let is_any = reading.named.word_at("one-of-many", 0).is_some_and(|to| {
            sentence.tokens.get(to).is_some_and(|token| token.kind == TokenKind::Word)
                && to < amount.from
        });
        if is_any {
            return None;
        }
        let near = amount.from.saturating_sub(6)..amount.to + 6;
        let figures = sentence.found.iter().filter(|it| {
            it.tag.kind == "figure" && near.contains(&it.from) && part.contains(&it.from)
        });
        let words: Vec<&str> = figures.map(|it| it.tag.word).collect();
        let of_words = |words: &[&str]| -> Vec<Fact> {
            let of = |fact: &&Fact| matches!(fact.of, Of::Word(word) if words.contains(&word));
            self.facts.shares().iter().filter(of).cloned().collect()
        };
        let beside = self.bearer(amount, &part);
        if let Some((Beside::Dough, _)) = beside
            && words.is_empty()
        {
            // `a 72 % dough`
            let follows = reading.named.word_at("the-dough", amount.to).is_some();
            let mut facts = of_words(&["hydration"]);
            self.keep_figures_of_the_mix(amount, &mut facts);
            return follows.then(|| ("dough".to_owned(), facts));
        }
        let mut facts = of_words(&words);
        self.keep_figures_of_the_mix(amount, &mut facts);
        // `Vom Mehl werden 40 % versäuert`: the figure of the flour, and no kind of flour.
        if words.contains(&"prefermented")
            && facts.iter().any(|it| it.of == Of::Word("prefermented"))
        {
            let is_flour = |it: &(Beside, String)| match &it.0 {
                Beside::Named(AmountOf::Food(food)) => food.says("flour"),
                _ => false,
            };
            if beside.as_ref().is_none_or(is_flour) {
                facts.retain(|it| it.of == Of::Word("prefermented"));
                return Some((String::new(), facts));
            }
        }
        let of = match beside {
            Some((beside, of)) => {
                let own = match self.is_of_the_whole(&beside) {
                    true => self.shares_of_all(&beside),
                    false => self.of(&beside, self.facts.shares()),
                };
                if own.is_empty() && facts.is_empty() {
                    return None;
                }
                if matches!(beside, Beside::Levain | Beside::Named(AmountOf::Stage(_))) {
                    facts.extend(of_words(&["prefermented"]));
                }
                facts.extend(self.sums_of_flour(&beside));
                facts.extend(own);
                self.keep_those_of_the_mix(amount, &beside, Kept::Shares, &mut facts);
                of
            }
            None => String::new(),
        };
        Some((of, facts))
    }

    /// Whether a percentage of an ingredient is of all the flour: the formula is written so, and
    /// the sentence names neither a stage nor the dough.
    fn is_of_the_whole(&self, beside: &Beside) -> bool {
        let sentence = self.reading.sentence;
        let is_mix = |at: usize| {
            let found = self.at(at).map(|(beside, _)| beside);
            matches!(
                found,
                Some(Beside::Levain | Beside::Dough | Beside::Named(AmountOf::Stage(_)))
            )
        };
        matches!(beside, Beside::Named(AmountOf::Food(_)))
            && self.facts.context.worked.formula.total.is_some()
            && !(0..sentence.tokens.len()).any(is_mix)
    }

    /// What lines of the total are of all the flour.
    fn shares_of_all(&self, beside: &Beside) -> Vec<Fact> {
        let worked = self.facts.context.worked;
        let shares = worked.choices.iter().flat_map(|numbers| {
            let flour = worked.flour(&numbers.whole);
            let masses = self.weights_of(&numbers.total_lines, beside);
            masses.into_iter().filter_map(move |mass| mass.over(&flour)).collect::<Vec<_>>()
        });
        shares.map(|share| Fact { of: Of::Anything, low: share.clone(), high: share }).collect()
    }

    fn times(&self, amount: &Amount) -> Option<Vec<Fact>> {
        let (reading, sentence) = (&self.reading, self.reading.sentence);
        let named = reading.named;
        // `A culture rises in 6 hours.`
        if named.word_at("one-of-many", 0).is_some() {
            return None;
        }
        let part = sentence.part(amount.from);
        let near = amount.from.saturating_sub(4)..amount.to + 5;
        let all_times = speech::amounts(sentence).into_iter();
        let all_times = all_times.filter(|it| it.measure.dimension() == Dimension::Time).count();
        if named.has("hands-on", &near)
            || all_times == 1 && named.has("hands-on", &sentence.whole())
        {
            return self.length(&Figure::HandsOn);
        }
        let verbs = |range: &Range<usize>| -> Vec<&'static str> {
            let found = sentence.found.iter().filter(|it| it.tag.kind == "verb");
            let mut words: Vec<_> =
                found.filter(|it| range.contains(&it.from)).map(|it| it.tag.word).collect();
            words.sort_unstable();
            words.dedup();
            words
        };
        let times = speech::amounts(sentence).into_iter();
        let times = times.filter(|it| it.measure.dimension() == Dimension::Time).count();
        let whole = sentence.whole();
        if times == 1 && self.is_from_first_to_last(&verbs(&whole)) {
            // What is built before counts otherwise for everybody.
            let has_stages = !self.facts.context.worked.formula.stages.is_empty();
            let elapsed = self.facts.elapsed().filter(|_| !has_stages);
            return elapsed.map(|elapsed| vec![elapsed.clone()]);
        }
        let in_all = named.has("in-all", &near) || times == 1 && named.has("in-all", &whole);
        if in_all && verbs(&whole).is_empty() && !named.has("in-oven", &whole) {
            return self.facts.elapsed().map(|elapsed| vec![elapsed.clone()]);
        }
        let is_doubtful = || {
            sentence.has("perhaps", &whole)
                || sentence.has("relative", &whole)
                || sentence.has("every", &part)
                || named.has("vessel", &whole)
                || sentence.has("vessel", &whole)
        };
        // `Vor dem Anschneiden 6 Stunden abkühlen lassen.`
        if verbs(&whole) == ["cool"] && times == 1 && !is_doubtful() {
            let of = |fact: &&Fact| matches!(fact.of, Of::Word("cool"));
            return Some(self.facts.times().iter().filter(of).cloned().collect());
        }
        // `Bake for 25 minutes, then at 220 °C for 20 minutes.`
        if verbs(&whole) == ["bake"]
            && times > 1
            && !is_doubtful()
            && !self.is_after_some_time(amount)
            && let Some(facts) = self.later_stretches()
        {
            return Some(facts);
        }
        if named.word_at("too", amount.to).is_some() {
            return None;
        }
        if let Some((cold, _)) = self.cold_steps(&part)
            && times == 1
            && !is_doubtful()
            && self.reading.times(amount).is_some()
            && !self.reading.is_of_a_difference(amount)
        {
            return (!cold.is_empty()).then_some(cold);
        }
        if self.is_another_stretch(amount) && verbs(&sentence.whole()) == ["bake"] {
            return self.later_stretches();
        }
        if self.reading.is_of_a_difference(amount) && !self.reading.is_between_folds(amount) {
            return None;
        }
        // `sechs Minuten mischen und eine halbe Stunde ruhen lassen`: German says what is done
        // after how long it takes.
        if sentence.language.code == "de" && times > 1 {
            let next = speech::amounts(sentence).into_iter().map(|it| it.from);
            let end = next.filter(|from| *from >= amount.to).min().unwrap_or(part.end);
            let after = amount.to..end.max(amount.to);
            let words: Option<&[&str]> = match () {
                () if !verbs(&after).is_empty() => None,
                () if named.has("stand", &after) => Some(&["rest", "autolyse", "bulk", "proof"]),
                () if named.has("rise", &after) => Some(&["bulk", "proof"]),
                () => None,
            };
            if let Some(words) = words {
                let of = |fact: &&Fact| matches!(fact.of, Of::Word(word) if words.contains(&word));
                let facts: Vec<Fact> = self.facts.times().iter().filter(of).cloned().collect();
                return (!facts.is_empty()).then_some(facts);
            }
        }
        let told = reading.times(amount)?;
        let of_words = |words: &[&str]| -> Vec<Fact> {
            let of = |fact: &&Fact| matches!(fact.of, Of::Word(word) if words.contains(&word));
            self.facts.times().iter().filter(of).cloned().collect()
        };
        if verbs(&part).is_empty() && self.is_of_a_rise(amount) {
            return Some(of_words(&["bulk", "proof"]));
        }
        if verbs(&part).is_empty() {
            // `Rest your arms for 2 minutes` is about no dough.
            let is_of_dough = named.has("let", &part)
                || named.has("the-dough", &part)
                || named.has("the-levain", &part)
                || sentence.has("piece", &part);
            // `Le levain fermente huit heures.`
            let is_levain = named.has("the-levain", &part) && !named.has("the-dough", &part);
            if named.has("rise", &part) && is_levain {
                return Some(of_words(&["ripen"]));
            }
            if named.has("rise", &part) {
                return is_of_dough.then(|| of_words(&["bulk", "proof"]));
            }
            if named.has("stand", &part) {
                return is_of_dough.then(|| of_words(&["rest", "autolyse", "bulk", "proof"]));
            }
            // The one step that a sentence speaks of is meant in all its parts.
            if verbs(&sentence.whole()).len() != 1 && !reading.is_in_oven(amount) {
                return None;
            }
        }
        Some(told.into_iter().cloned().collect())
    }

    /// Where words put the dough into the cold, how long the formula's steps there take and how
    /// cold it is; none where they say nothing of the kind.
    fn cold_steps(&self, part: &Range<usize>) -> Option<(Vec<Fact>, Vec<Fact>)> {
        const COLD: &[&str] = &[
            "refrigerator",
            "fridge",
            "réfrigérateur",
            "frigo",
            "kühlschrank",
            "nevera",
            "frigorífico",
            "refrigerador",
            "frigorifero",
        ];
        const KEPT: &[&str] = &[
            "keep",
            "keeps",
            "kept",
            "store",
            "stored",
            "stores",
            "conserver",
            "conservez",
            "garder",
            "gardez",
            "garde",
            "aufbewahren",
            "lagern",
            "hält",
            "guardar",
            "guarda",
            "conservar",
            "conserva",
            "conservare",
            "tenere",
            "chill",
            "butter",
            "leftover",
            "leftovers",
        ];
        const IT: &[&str] =
            &["it", "them", "le", "les", "la", "ihn", "sie", "es", "lo", "los", "las", "li"];
        const PUT: &[&str] = &[
            "put", "place", "move", "mettez", "mettre", "placez", "placer", "stellen", "stellt",
            "stelle", "pon", "poner", "mete", "meter", "metti", "mettere", "riponi", "riporre",
        ];
        let (sentence, named) = (self.reading.sentence, self.reading.named);
        let is = |words: &[&str], within: Range<usize>| {
            let tokens = sentence.tokens.get(within).unwrap_or_default();
            tokens.iter().any(|token| words.contains(&token.key.as_ref()))
        };
        let is_kept = is(KEPT, sentence.whole());
        if !is(COLD, part.clone()) || is_kept || named.has("the-levain", &sentence.whole()) {
            return None;
        }
        let verbs = sentence.found.iter().filter(|it| it.tag.kind == "verb");
        let verbs: Vec<&str> =
            verbs.filter(|it| part.contains(&it.from)).map(|it| it.tag.word).collect();
        let is_other = verbs.iter().any(|word| !matches!(*word, "proof" | "rest" | "bulk"));
        let is_of_dough =
            named.has("the-dough", part) || sentence.has("piece", part) || is(IT, part.clone());
        let waits = named.has("rise", part)
            || named.has("stand", part)
            || named.has("let", part)
            || is(PUT, part.clone());
        let is_food = |at: usize| matches!(self.at(at), Some((Beside::Named(_), _)));
        if is_other
            || !(verbs.contains(&"proof") || waits && (is_of_dough || !verbs.is_empty()))
            || part.clone().any(is_food)
        {
            return None;
        }
        let context = self.facts.context;
        // A refrigerator is at 10 °C at most.
        let is_cold = |at: &Exact| *at <= int(10);
        let (mut times, mut heats) = (Vec::new(), Vec::new());
        let phases = context.steps().flat_map(|step| &step.phases);
        for phase in phases {
            let Some(at) = &phase.at else { continue };
            let range = context.range(at);
            let (Some(low), high) = (range.low.clone().or(range.high.clone()), range.high) else {
                continue;
            };
            if !is_cold(&low) {
                continue;
            }
            let high = high.unwrap_or_else(|| low.clone());
            heats.push(Fact { of: Of::Anything, low, high });
            if let Some(time) = &phase.duration {
                let range = context.range(time);
                let low = range.low.clone().or_else(|| range.high.clone());
                let high = range.high.or_else(|| low.as_ref().map(|low| low * int(100)));
                times.extend(low.zip(high).map(|(low, high)| Fact { of: Of::Anything, low, high }));
            }
        }
        Some((times, heats))
    }

    /// `From mixing to cooling it takes five hours.`
    fn is_from_first_to_last(&self, verbs: &[&str]) -> bool {
        const FROM: [&str; 10] =
            ["from", "von", "vom", "du", "depuis", "desde", "del", "dal", "dalla", "dall"];
        let mut first = self.reading.sentence.tokens.iter().take(2);
        first.any(|token| FROM.contains(&token.key.as_ref()))
            && verbs.contains(&"mix")
            && verbs.contains(&"cool")
    }

    /// `nine hours of fermentation`, `neun Stunden Gare`.
    fn is_of_a_rise(&self, amount: &Amount) -> bool {
        const OF: [&str; 3] = ["of", "de", "di"];
        const RISES: &[&str] = &[
            "fermentation",
            "rising",
            "pousse",
            "levée",
            "gare",
            "gehzeit",
            "levado",
            "fermentación",
            "lievitazione",
        ];
        let key =
            |at: usize| self.reading.sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let at = if OF.contains(&key(amount.to)) { amount.to + 1 } else { amount.to };
        RISES.contains(&key(at))
    }

    /// `after 10 minutes`, `every 10 minutes`, `the last 10 minutes`.
    fn is_after_some_time(&self, amount: &Amount) -> bool {
        const AFTER: &[&str] = &[
            "after",
            "every",
            "last",
            "first",
            "within",
            "at",
            "après",
            "toutes",
            "dernières",
            "premières",
            "bout",
            "nach",
            "alle",
            "letzten",
            "ersten",
            "tras",
            "después",
            "cada",
            "últimos",
            "primeros",
            "cabo",
            "dopo",
            "ogni",
            "ultimi",
            "primi",
            "about",
            "extra",
            "another",
            "minus",
            "or",
            "remaining",
            "further",
        ];
        let sentence = self.reading.sentence;
        let near = amount.from.saturating_sub(2)..amount.from;
        let words = sentence.tokens.get(near).unwrap_or_default();
        words.iter().any(|word| AFTER.contains(&word.key.as_ref()))
    }

    /// `then another 20 minutes`, `20 minutes more`.
    fn is_another_stretch(&self, amount: &Amount) -> bool {
        let (named, sentence) = (self.reading.named, self.reading.sentence);
        let part = sentence.part(amount.from);
        let before = amount.from.saturating_sub(4)..amount.from;
        let is_doubtful = sentence.has("perhaps", &part)
            || sentence.has("relative", &sentence.whole())
            || self.reading.is_apiece(amount) && !self.reading.is_in_oven(amount);
        let is_further =
            named.has("another", &before) || named.word_at("another-last", amount.to).is_some();
        is_further && !is_doubtful
    }

    /// How long bakes take that have several stretches; none where there is only one.
    fn later_stretches(&self) -> Option<Vec<Fact>> {
        let context = self.facts.context;
        let bakes = context.steps().filter(|step| word_of(step.verb) == "bake");
        let stretches = bakes.map(|step| step.phases.len()).sum::<usize>();
        let of = |fact: &&Fact| matches!(fact.of, Of::Word("bake"));
        let facts: Vec<Fact> = self.facts.times().iter().filter(of).cloned().collect();
        (stretches > 1).then_some(facts)
    }

    fn length(&self, figure: &Figure) -> Option<Vec<Fact>> {
        let length = self.facts.context.length(figure)?;
        let high = length.high.unwrap_or_else(|| length.low.clone());
        Some(vec![Fact { of: Of::Anything, low: length.low, high }])
    }

    fn temperatures(&self, amount: &Amount) -> Option<Vec<Fact>> {
        // `A moderate oven is at 180 °C.`
        if self.reading.named.word_at("one-of-many", 0).is_some() {
            return None;
        }
        let (sentence, named) = (self.reading.sentence, self.reading.named);
        // `It warms by 2 °C.`
        let before = amount.from.checked_sub(1).and_then(|at| sentence.tokens.get(at));
        if before.is_some_and(|token| ["by", "um"].contains(&token.key.as_ref())) {
            return None;
        }
        let part = sentence.part(amount.from);
        let mut found = sentence.found.iter().filter(|it| part.contains(&it.from));
        // A levain may be brought to any warmth; it ripens at one.
        let is_levain_alone =
            found.clone().any(|it| it.tag.kind == "thing" && it.tag.word == "levain")
                && !found.any(|it| {
                    it.tag.kind == "verb" || it.tag.kind == "thing" && it.tag.word != "levain"
                });
        if is_levain_alone {
            return None;
        }
        // `Turn the oven down to 220 °C.`
        let is_of_oven = || {
            let whole = sentence.found.iter();
            whole.clone().any(|it| it.tag.kind == "thing" && it.tag.word == "oven")
                || whole.clone().any(|it| it.tag.kind == "verb" && it.tag.word == "bake")
        };
        let is_doubtful = sentence.has("perhaps", &part);
        if named.has("turn-down", &sentence.whole()) && is_of_oven() && !is_doubtful {
            return self.lower_heats(amount);
        }
        if let Some((_, cold)) = self.cold_steps(&part)
            && !is_doubtful
            && !["relative", "leaves"].iter().any(|word| sentence.has(word, &sentence.whole()))
        {
            return (!cold.is_empty()).then_some(cold);
        }
        let told = self.reading.temperatures(amount)?;
        let facts: Vec<Fact> = told.into_iter().cloned().collect();
        // `Bake to a core temperature of 96 °C.`
        let is_of_core = sentence.all("thing", "core").any(|it| part.contains(&it.from));
        let is_warm = amount.readings.iter().all(|it| it.high < int(105));
        if is_of_core && is_warm {
            let is_it = |fact: &&Fact| matches!(fact.of, Of::Word("core"));
            return Some(facts.iter().filter(is_it).cloned().collect());
        }
        let is_lowered = named.has("lower", &sentence.whole());
        // What rests may do so at the temperature of any step that waits.
        let waits = named.has("stand", &part) || named.has("rise", &part);
        if waits && self.facts.temperatures().iter().any(|fact| self.meets(amount, fact)) {
            return None;
        }
        let fits = || facts.iter().any(|fact| self.meets(amount, fact));
        (!is_lowered || fits()).then_some(facts)
    }

    /// The heats of an oven below its first; none where it keeps one.
    fn lower_heats(&self, amount: &Amount) -> Option<Vec<Fact>> {
        let of = |fact: &&Fact| matches!(fact.of, Of::Word("oven"));
        let all: Vec<&Fact> = self.facts.temperatures().iter().filter(of).collect();
        let first = all.iter().map(|fact| &fact.high).max()?.clone();
        // `from 245 °C`: where it is turned down from is told too.
        let is_to = amount.readings.iter().all(|reading| reading.high < first);
        let lower = all.into_iter().filter(|fact| fact.high < first || !is_to).cloned();
        let facts: Vec<Fact> = lower.collect();
        let is_several = facts.iter().any(|fact| fact.high < first);
        is_several.then_some(facts)
    }

    fn counts(&self, amount: &Amount) -> Option<Vec<Fact>> {
        let sentence = self.reading.sentence;
        let folds = sentence.word_at("times", amount.to).is_some()
            || sentence.word_at("fold-times", amount.from).is_some();
        if let Some(facts) = self.served(amount) {
            return Some(facts);
        }
        if let Some(facts) = self.cut_into(amount).or_else(|| self.counted_foods(amount)) {
            return Some(facts);
        }
        let near = amount.from.saturating_sub(4)..amount.to;
        let after = amount.to..amount.to + 6;
        // `Four loaves come of this dough.`
        let comes = || {
            let words = sentence.tokens.get(amount.to..).unwrap_or_default();
            let words: Vec<&str> = words.iter().take(4).map(|it| it.key.as_ref()).collect();
            words
                .windows(2)
                .any(|pair| matches!(pair, ["come" | "comes" | "came", "of" | "from" | "out"]))
                && (self.reading.named.has("the-dough", &sentence.whole())
                    || sentence.tokens.iter().any(|it| {
                        matches!(it.key.as_ref(), "bowl" | "batch" | "recipe" | "formula")
                    }))
        };
        let is_piece =
            || (amount.to..amount.to + 2).any(|at| sentence.word_at("piece", at).is_some());
        if comes() && is_piece() && !sentence.has("perhaps", &sentence.whole()) {
            return Some(self.facts.pieces().to_vec());
        }
        let made = comes()
            || sentence.has("makes", &near)
            || sentence.language.code == "de" && sentence.has("makes", &after);
        if !folds && !made {
            return None;
        }
        let told = self.reading.counts(amount)?;
        Some(told.into_iter().cloned().collect())
    }

    /// `Serves twelve.`, `Pour douze personnes.`
    fn served(&self, amount: &Amount) -> Option<Vec<Fact>> {
        const MOST: usize = 6;
        let sentence = self.reading.sentence;
        let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let before = amount.from.checked_sub(1).map_or("", key);
        let is_people = matches!(
            key(amount.to),
            "people" | "persons" | "personnes" | "convives" | "personen" | "personas" | "persone"
        );
        let is_for = matches!(before, "for" | "pour" | "für" | "para" | "per");
        // A short line is about the bread, a sentence may be about a dinner.
        let is_line = is_for && is_people && sentence.tokens.len() <= MOST;
        if !matches!(before, "serves" | "feeds") && !is_line {
            return None;
        }
        let serves = self.facts.context.worked.formula.serves.as_ref()?;
        let low = serves.low.as_ref().or(serves.high.as_ref())?.number.clone();
        let high = serves.high.as_ref().map_or_else(|| low.clone(), |it| it.number.clone());
        Some(vec![Fact { of: Of::Anything, low, high }])
    }

    /// `Cut the dough into twelve.`
    fn cut_into(&self, amount: &Amount) -> Option<Vec<Fact>> {
        const INTO: &[&str] = &["into", "en", "in", "por"];
        const CUT: &[&str] = &[
            "cut",
            "cuts",
            "divide",
            "divides",
            "divided",
            "portion",
            "scale",
            "part",
            "divisez",
            "diviser",
            "divise",
            "couper",
            "coupez",
            "découper",
            "détailler",
            "détaillez",
            "teilen",
            "teilt",
            "abstechen",
            "schneiden",
            "divide",
            "dividir",
            "corta",
            "cortar",
            "reparte",
            "dividi",
            "dividere",
            "dividete",
            "tagliare",
            "taglia",
            "porzionare",
        ];
        let sentence = self.reading.sentence;
        let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let is_into = amount.from > 0 && INTO.contains(&key(amount.from - 1));
        let is_last = sentence.tokens.get(amount.to).is_none_or(|token| {
            matches!(token.kind, TokenKind::Comma | TokenKind::Stop)
                || sentence.language.code == "de" && CUT.contains(&token.key.as_ref())
                || matches!(token.key.as_ref(), "and" | "et" | "und" | "y" | "e")
        });
        let part = sentence.part(amount.from);
        let mut words = part.clone();
        let is_cut = words.any(|at| CUT.contains(&key(at)));
        let is_food =
            |at: usize| matches!(self.at(at), Some((Beside::Named(AmountOf::Food(_)), _)));
        let is_doubtful = part.clone().any(is_food)
            || sentence.has("perhaps", &part)
            || sentence.has("at-a-time", &part);
        if !(is_into && is_last && is_cut) || is_doubtful {
            return None;
        }
        let fact = |count: Exact| Fact { of: Of::Anything, low: count.clone(), high: count };
        let choices = self.facts.context.worked.choices.iter();
        let pieces = choices.map(|numbers| {
            let counts = numbers.pieces.iter().map(|piece| piece.made.count.clone());
            counts.fold(Exact::ZERO, |sum, count| sum + count)
        });
        let mut facts: Vec<Fact> = pieces.filter(|it| !it.is_zero()).map(fact).collect();
        let of_count = |it: &&Fact| matches!(it.of, Of::Name(_));
        facts.extend(self.facts.pieces().iter().filter(of_count).cloned());
        (!facts.is_empty()).then_some(facts)
    }

    /// `Add 2 eggs.`
    fn counted_foods(&self, amount: &Amount) -> Option<Vec<Fact>> {
        let (beside, _) = self.after(amount.to)?;
        let known = self.ingredient_of_lines(&beside)?;
        let each = known.each.as_ref()?;
        let mut facts = self.of(&beside, self.facts.weights());
        facts.extend(self.sums(&beside));
        // Eggs are larger and smaller than the store's.
        let whole = |count: Exact| {
            let below = count.floor();
            let over = &count - &below;
            match () {
                () if over <= ratio(3, 10) => (below.clone(), below),
                () if over >= ratio(7, 10) => (&below + int(1), &below + int(1)),
                () => (below.clone(), &below + int(1)),
            }
        };
        let count = |fact: Fact| {
            let (low, _) = whole(fact.low.over(each)?);
            let (_, high) = whole(fact.high.over(each)?);
            Some(Fact { of: fact.of, low, high }).filter(|it| !it.high.is_zero())
        };
        let facts: Vec<Fact> = facts.into_iter().filter_map(count).collect();
        (!facts.is_empty()).then_some(facts)
    }

    /// `one part starter to five of flour`
    fn parts(&self, amount: &Amount, behind: usize, next: &Amount) -> Option<Judged> {
        let (named, sentence) = (self.reading.named, self.reading.sentence);
        let (first, behind) = self.after(behind)?;
        let joined = named.word_at("to", behind).is_some_and(|to| to == next.from);
        if !joined || next.measure != Measure::Bare {
            return None;
        }
        let end = named.word_at("part", next.to).unwrap_or(next.to);
        let (second, _) = self.after(end)?;
        let (one, other) = (amount.readings.first()?, next.readings.first()?);
        let wanted = one.low.over(&other.low)?;
        let facts = self.ratios_between(&first, &second, amount);
        let slack = &wanted * ratio(PARTS.0, PARTS.1);
        let fits = facts.iter().any(|fact| (&fact.low - &wanted).abs() <= slack);
        let of = sentence.written(amount.to, behind).to_owned();
        (!facts.is_empty()).then_some(Judged { fits, of, facts, is_ratio: true })
    }

    /// `Twice as much water as salt`, and the words that say how much.
    fn ratio_told(&self, told: &RatioTold) -> Option<(Judged, Amount)> {
        let sentence = self.reading.sentence;
        let reading = speech::AmountReading {
            low: told.times.clone(),
            high: told.times.clone(),
            step: Exact::ZERO,
        };
        let amount = Amount {
            from: told.words.start,
            to: told.words.end,
            measure: Measure::Bare,
            readings: vec![reading],
        };
        let whole = sentence.whole();
        if sentence.has("perhaps", &whole) || self.is_denied(&amount) || self.is_rough(&amount) {
            return None;
        }
        let (above, to) = self.at(told.above)?;
        let (below, _) = self.at(told.below)?;
        let facts = self.ratios_between(&above, &below, &amount);
        // It is told roughly where no numbers are.
        let slack = &told.times * ratio(ROUGH.0, ROUGH.1);
        let fits = facts.iter().any(|fact| (&fact.low - &told.times).abs() <= slack);
        let of = sentence.written(told.above, to).to_owned();
        (!facts.is_empty()).then_some((Judged { fits, of, facts, is_ratio: true }, amount))
    }

    /// `flour` with no word that says which.
    fn is_bare_flour(&self, beside: &Beside) -> bool {
        let Beside::Named(AmountOf::Food(food)) = beside else { return false };
        let sentence = self.reading.sentence;
        let written = key(sentence.written(food.from, food.to));
        let is_bare = ["flour", "farine", "mehl", "harina", "farina"].contains(&written.as_str());
        // `harina integral`: what kind it is comes after it.
        let next = sentence.tokens.get(food.to);
        let is_told = next.is_some_and(|token| {
            const NONE: [&str; 12] =
                ["et", "y", "e", "que", "che", "est", "es", "è", "pour", "para", "per", "a"];
            token.kind == TokenKind::Word && !NONE.contains(&token.key.as_ref())
        });
        is_bare && !(is_told && ["fr", "es", "it"].contains(&sentence.language.code))
    }

    /// How much of one thing there is to another: in the mix that is named; where none is, in
    /// all of it, or where a levain is meant, in any of them.
    fn ratios_between(&self, first: &Beside, second: &Beside, amount: &Amount) -> Vec<Fact> {
        let worked = self.facts.context.worked;
        let sentence = self.reading.sentence;
        let is_stage = |at: usize| {
            let found = self.at(at).map(|(beside, _)| beside);
            matches!(found, Some(Beside::Levain | Beside::Named(AmountOf::Stage(_))))
        };
        let is_fed = || {
            const FEED: [&str; 8] = [
                "feed",
                "feeds",
                "it",
                "nourrir",
                "nourrissez",
                "füttern",
                "alimenta",
                "rinfresca",
            ];
            sentence.tokens.iter().any(|token| FEED.contains(&token.key.as_ref()))
        };
        let are_foods =
            [first, second].iter().all(|beside| matches!(beside, Beside::Named(AmountOf::Food(_))));
        let mix = self.mix_of(amount);
        let is_any = !are_foods || mix.is_none() && (sentence.whole().any(is_stage) || is_fed());
        let is_whole = |mix: &Option<MixNamed>| {
            !is_any && matches!(mix, None | Some(MixNamed::Dough | MixNamed::Total))
        };
        let is_final = is_any
            || matches!(
                mix,
                Some(MixNamed::Dough | MixNamed::FinalDough | MixNamed::AroundStage(_))
            )
            || mix.is_none() && worked.formula.total.is_none();
        let mut shares: Vec<Exact> = Vec::new();
        for numbers in &worked.choices {
            let stages = worked.formula.stages.iter().zip(&numbers.stages);
            let stages = stages.filter(|(stage, _)| match &mix {
                _ if is_any => true,
                Some(MixNamed::Stage(key) | MixNamed::AroundStage(key)) => {
                    key.as_ref().is_none_or(|key| stage.name.key.as_str() == key)
                }
                _ => false,
            });
            let mut mixes: Vec<&[WorkedLine]> =
                stages.map(|(_, stage)| stage.lines.as_slice()).collect();
            if is_final {
                mixes.push(&numbers.dough_lines);
            }
            if is_any || is_whole(&mix) {
                mixes.push(&numbers.total_lines);
            }
            for lines in mixes {
                // All the flour, where no kind of it is named.
                let values = |beside| {
                    let all = self.weights_of(lines, beside);
                    let most = if self.is_bare_flour(beside) { 1 } else { all.len() };
                    all.into_iter().take(most)
                };
                for one in values(first) {
                    shares.extend(values(second).filter_map(|two| one.over(&two)));
                }
            }
            if let (Beside::Named(AmountOf::Food(one)), Beside::Named(AmountOf::Food(two))) =
                (first, second)
                && (is_any || is_whole(&mix))
            {
                let both = self.whole_of(numbers, one).zip(self.whole_of(numbers, two));
                shares.extend(both.and_then(|(one, two)| one.over(&two)));
            }
        }
        shares
            .into_iter()
            .map(|share| Fact { of: Of::Anything, low: share.clone(), high: share })
            .collect()
    }

    /// What a percentage is of. `2 % of the flour` says what it is a part of: what it is
    /// itself stands before.
    fn bearer(&self, amount: &Amount, part: &Range<usize>) -> Option<(Beside, String)> {
        let (from, is_of) = (self.skip(amount.to), self.skip(amount.to) > amount.to);
        let is_flour = |beside: &Beside| match beside {
            Beside::Named(AmountOf::Food(food)) => food.says("flour"),
            _ => false,
        };
        match self.at(from) {
            Some((beside, _)) if is_of && is_flour(&beside) => {}
            // `31 % of the water`: a part of it, which no figure tells.
            Some(_) if self.has_article(amount.to..from) => return None,
            Some((beside, to)) => {
                return Some((beside, self.reading.sentence.written(from, to).to_owned()));
            }
            None if self.is_of_unknown(amount) => return None,
            None => {}
        }
        // The one food that the part begins with: `salt makes up 2 %`.
        self.before(amount.from).or_else(|| {
            let found = (part.start..amount.from).find_map(|at| {
                let (beside, to) = self.at(at)?;
                Some((beside, self.reading.sentence.written(at, to).to_owned()))
            });
            found.filter(|(beside, _)| matches!(beside, Beside::Named(AmountOf::Food(_))))
        })
    }

    fn has_article(&self, words: Range<usize>) -> bool {
        const ARTICLES: [&str; 11] =
            ["the", "du", "l", "la", "des", "vom", "del", "dell", "della", "dello", "der"];
        let words = self.reading.sentence.tokens.get(words).unwrap_or_default();
        words.iter().any(|word| ARTICLES.contains(&word.key.as_ref()))
    }

    /// What stands right after or before an amount, with its words.
    fn beside(&self, amount: &Amount) -> Option<(Beside, String)> {
        let sentence = self.reading.sentence;
        if let Some((beside, to)) = self.after(amount.to) {
            let from = self.skip(amount.to);
            return Some((beside, sentence.written(from, to).to_owned()));
        }
        if self.is_of_unknown(amount) {
            return None;
        }
        self.in_a_mix_before(amount.from).or_else(|| self.before(amount.from))
    }

    /// `The flour in the levain is 220 g`: the flour, and not the levain.
    fn in_a_mix_before(&self, to: usize) -> Option<(Beside, String)> {
        const IN: [&str; 13] = [
            "in", "of", "dans", "du", "de", "im", "en", "nel", "del", "nella", "della", "la", "the",
        ];
        let sentence = self.reading.sentence;
        let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let mix = (to.saturating_sub(6)..to).find(|at| {
            matches!(
                self.at(*at),
                Some((Beside::Levain | Beside::Dough | Beside::Named(AmountOf::Stage(_)), _))
            )
        })?;
        let mut end = mix;
        while end > 0 && IN.contains(&key(end - 1)) {
            end -= 1;
        }
        if end == mix
            || !["in", "dans", "im", "en", "nel", "nella", "of", "du", "del", "della"]
                .iter()
                .any(|it| (end..mix).any(|at| key(at) == *it))
        {
            return None;
        }
        let (_, mix_end) = self.at(mix)?;
        let is_told = mix_end == to
            || self.reading.named.word_before("equals", to) == Some(mix_end)
            || (mix_end..to).all(|at| {
                matches!(
                    key(at),
                    "is" | "are" | "est" | "sont" | "ist" | "sind" | "es" | "son" | "è" | "sono"
                )
            });
        let starts = end.saturating_sub(MAX_WORDS)..end;
        let food = starts.into_iter().find_map(|start| {
            let (beside, at) = self.at(start)?;
            let is_food = matches!(beside, Beside::Named(AmountOf::Food(_)));
            (at == end && is_food).then(|| (beside, sentence.written(start, end).to_owned()))
        });
        food.filter(|_| is_told)
    }

    /// `11 % of fibre`: it is of what comes next, though nothing knows that.
    fn is_of_unknown(&self, amount: &Amount) -> bool {
        const OF: [&str; 5] = ["of", "de", "d", "di", "von"];
        const IT: [&str; 4] = ["it", "them", "which", "this"];
        let is = |at: usize, words: &[&str]| {
            let token = self.reading.sentence.tokens.get(at);
            token.is_some_and(|token| words.contains(&token.key.as_ref()))
        };
        is(amount.to, &OF) && !is(amount.to + 1, &IT)
    }

    /// Where what an amount is of begins: `of the warm`.
    fn skip(&self, to: usize) -> usize {
        let mut at = self.behind_twin(to);
        for _ in 0..4 {
            let sentence = self.reading.sentence;
            let filler = ["about", "any", "the"].iter().find_map(|word| sentence.word_at(word, at));
            let quality = || self.reading.named.word_at("quality", at);
            if self.at(at).is_some() {
                break;
            }
            match filler.or_else(quality) {
                Some(behind) => at = behind,
                None => break,
            }
        }
        at
    }

    /// `900 g (32 oz) of flour`: after what is told again in brackets.
    fn behind_twin(&self, to: usize) -> usize {
        let sentence = self.reading.sentence;
        let (Some(before), Some(next)) = (
            to.checked_sub(1).and_then(|at| sentence.tokens.get(at)),
            sentence.tokens.get(to).filter(|token| token.kind == TokenKind::Number),
        ) else {
            return to;
        };
        let between = sentence.text.get(before.end..next.start).unwrap_or_default();
        let twin = || speech::amounts(sentence).into_iter().find(|it| it.from == to);
        let twin = between.contains('(').then(twin).flatten();
        twin.map_or(to, |twin| twin.to)
    }

    fn after(&self, to: usize) -> Option<(Beside, usize)> {
        self.at(self.skip(to))
    }

    /// What is named at a word, and where its name ends.
    fn at(&self, at: usize) -> Option<(Beside, usize)> {
        let (sentence, named) = (self.reading.sentence, self.reading.named);
        if let Some(to) = named.word_at("the-levain", at) {
            return Some((Beside::Levain, to));
        }
        if let Some((culture, to)) = self.culture_at(at) {
            return Some((Beside::Named(AmountOf::Stage(culture)), to));
        }
        match self.reading.named_at(at) {
            Some(AmountOf::Food(food)) => {
                let to = food.to;
                return Some((Beside::Named(AmountOf::Food(food)), to));
            }
            Some(AmountOf::Stage(stage)) => {
                let to = at + stage.split(' ').count();
                return Some((Beside::Named(AmountOf::Stage(stage)), to));
            }
            _ => {}
        }
        if let Some(to) = named.word_at("the-dough", at) {
            return Some((Beside::Dough, to));
        }
        // `a 900 g loaf tin`
        let piece = sentence.word_at("piece", at);
        let piece = piece.filter(|to| sentence.word_at("vessel", *to).is_none());
        piece.map(|to| (Beside::Named(AmountOf::Piece), to))
    }

    /// The line of a culture whose name begins at a word, and where it ends.
    fn culture_at(&self, at: usize) -> Option<(String, usize)> {
        let sentence = self.reading.sentence;
        let cultures = self.mixes().flatten();
        let cultures = cultures.filter(|line| matches!(line.goes, LineRef::Culture(_)));
        cultures.into_iter().find_map(|line| {
            let to = at + line.key.split(' ').count();
            let is_it = to <= sentence.tokens.len() && key(sentence.written(at, to)) == line.key;
            is_it.then(|| (line.key.to_string(), to))
        })
    }

    /// `fold in the nuts (80 g)`, `the water, 350 g`, `loaves of 900 g`.
    fn before(&self, from: usize) -> Option<(Beside, String)> {
        let sentence = self.reading.sentence;
        let is_comma =
            |at: usize| sentence.tokens.get(at).is_some_and(|token| token.kind == TokenKind::Comma);
        let mut to = from;
        for step in 0..3 {
            if step == 0 && to > 0 && is_comma(to - 1) {
                to -= 1;
            }
            let starts = to.saturating_sub(MAX_WORDS)..to;
            let found = starts.filter_map(|start| {
                let (beside, end) = self.at(start)?;
                (end == to).then(|| (beside, sentence.written(start, to).to_owned()))
            });
            if let Some(found) = found.into_iter().next() {
                return Some(found);
            }
            let fillers = ["about", "any", "the"];
            let weighs = || self.reading.named.word_before("equals", to);
            to = fillers.iter().find_map(|word| sentence.word_before(word, to)).or_else(weighs)?;
        }
        None
    }

    /// The facts of what is named.
    fn of(&self, beside: &Beside, facts: &[Fact]) -> Vec<Fact> {
        let is_it = |fact: &&Fact| match beside {
            Beside::Named(named) => self.reading.is_of(fact, named),
            Beside::Levain => self.is_raised_by(fact),
            Beside::Dough => false,
        };
        facts.iter().filter(is_it).cloned().collect()
    }

    /// Whether a fact is of a stage or a culture.
    fn is_raised_by(&self, fact: &Fact) -> bool {
        let Of::Name(name) = &fact.of else { return false };
        self.mixes().flatten().any(|line| line.key == *name && is_alive(line))
    }

    /// Where the words say in which mix an amount is, what only others of the formula's mixes
    /// have is taken out of the facts.
    fn keep_those_of_the_mix(
        &self,
        amount: &Amount,
        beside: &Beside,
        kept: Kept,
        facts: &mut Vec<Fact>,
    ) {
        if !matches!(beside, Beside::Named(AmountOf::Food(_))) {
            return;
        }
        if let Some(mix) = self.mix_of(amount) {
            self.keep(&mix, facts, |place| self.values_in(place, beside, kept));
        }
    }

    /// The same of figures such as the hydration; the dough is meant where it is named at all.
    fn keep_figures_of_the_mix(&self, amount: &Amount, facts: &mut Vec<Fact>) {
        const FIGURES: [Figure; 5] = [
            Figure::Hydration,
            Figure::Liquids,
            Figure::EffectiveHydration,
            Figure::TrueHydration,
            Figure::SaltAsEaten,
        ];
        let worked = self.facts.context.worked;
        let Some(mix) = self.mix_of(amount).or_else(|| self.is_of_dough(amount)) else { return };
        self.keep(&mix, facts, |place| match place {
            Within::FinalDough => {
                worked.choices.iter().filter_map(|it| worked.added_hydration(it)).collect()
            }
            place => {
                let values = FIGURES.iter().filter_map(|it| worked.figure(it, place));
                values.flatten().map(|it| it.amount).collect()
            }
        });
    }

    /// `a dough of 75 % hydration`
    fn is_of_dough(&self, amount: &Amount) -> Option<MixNamed> {
        let part = self.reading.sentence.part(amount.from);
        let named = self.reading.named;
        let is_dough = named.has("the-dough", &part) || self.reading.sentence.has("bread", &part);
        let is_stage = |at: usize| {
            let found = self.at(at).map(|(beside, _)| beside);
            matches!(found, Some(Beside::Levain | Beside::Named(AmountOf::Stage(_))))
        };
        let mut all = self.reading.sentence.whole();
        (is_dough && !all.any(is_stage)).then_some(MixNamed::Dough)
    }

    fn keep(&self, mix: &MixNamed, facts: &mut Vec<Fact>, values: impl Fn(Within) -> Vec<Exact>) {
        let formula = &self.facts.context.worked.formula;
        let stages = formula.stages.iter().enumerate().map(|(at, stage)| {
            let is_it = |key: &Option<String>| {
                key.as_ref().is_none_or(|key| stage.name.key.as_str() == key)
            };
            let is_own = match mix {
                MixNamed::Stage(key) | MixNamed::AroundStage(key) => is_it(key),
                MixNamed::FinalDough | MixNamed::Dough | MixNamed::Total => false,
            };
            (Within::Stage(at), is_own)
        });
        let is_final =
            matches!(mix, MixNamed::FinalDough | MixNamed::Dough | MixNamed::AroundStage(_));
        let is_all = matches!(mix, MixNamed::Dough | MixNamed::Total);
        let (mut own, mut others) = (Vec::new(), Vec::new());
        for (place, is_own) in stages.chain([(Within::FinalDough, is_final), (Within::All, is_all)])
        {
            let of = if is_own { &mut own } else { &mut others };
            of.extend(values(place));
        }
        if !own.is_empty() {
            facts.retain(|fact| own.contains(&fact.low) || !others.contains(&fact.low));
        }
    }

    /// What a mix has of a food, in grams or as shares.
    fn values_in(&self, place: Within, beside: &Beside, kept: Kept) -> Vec<Exact> {
        let Beside::Named(AmountOf::Food(food)) = beside else { return Vec::new() };
        let context = self.facts.context;
        let worked = context.worked;
        let batches = Exact::from(context.batches());
        let mut all = Vec::new();
        for numbers in &worked.choices {
            let (flour, dough) = (worked.flour(&numbers.whole), numbers.whole.mass());
            let (lines, bases): (Vec<&[WorkedLine]>, Vec<Exact>) = match place {
                Within::Stage(at) => {
                    let Some(stage) = numbers.stages.get(at) else { continue };
                    let earlier = stage.earlier.iter().map(|feed| feed.lines.as_slice());
                    let lines = earlier.chain([stage.lines.as_slice()]).collect();
                    (lines, vec![stage.basis.clone(), stage.made.clone(), flour, dough])
                }
                Within::FinalDough => {
                    let bases = vec![worked.added_flour(numbers), flour, dough];
                    (vec![numbers.dough_lines.as_slice()], bases)
                }
                _ => (vec![numbers.total_lines.as_slice()], vec![flour, dough]),
            };
            let mut masses: Vec<Exact> =
                lines.into_iter().flat_map(|lines| self.weights_of(lines, beside)).collect();
            if let Within::Stage(at) = place {
                masses.extend(numbers.stages.get(at).and_then(|it| self.sum_of(&it.goes_on, food)));
            }
            if place == Within::All {
                masses.extend(self.whole_of(numbers, food));
                let lines = numbers.stages.iter().flat_map(|stage| &stage.lines);
                let own = self.lines_of(lines.chain(&numbers.dough_lines), food);
                let sum = own.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
                masses.extend((!sum.is_zero()).then_some(sum));
            }
            match kept {
                Kept::Weights => {
                    let each: Vec<Exact> = masses.iter().map(|it| it.each_of(&batches)).collect();
                    all.extend(masses);
                    all.extend(each);
                }
                Kept::Shares => {
                    for base in &bases {
                        all.extend(masses.iter().filter_map(|mass| mass.over(base)));
                    }
                }
            }
        }
        let parts = self.facts.parts_in(place);
        let parts = parts.into_iter().filter(|(of, ..)| {
            let fact = Fact { of: of.clone(), low: Exact::ZERO, high: Exact::ZERO };
            !self.of(beside, &[fact]).is_empty()
        });
        all.extend(parts.map(|(_, share, grams)| match kept {
            Kept::Weights => grams,
            Kept::Shares => share,
        }));
        all
    }

    /// The mix that an amount is said to be in, where the formula has several.
    fn mix_of(&self, amount: &Amount) -> Option<MixNamed> {
        if self.facts.context.worked.formula.stages.is_empty() {
            return None;
        }
        mix_of(self.reading.sentence, amount, &self.mixes_named())
    }

    /// The mixes that a sentence names.
    fn mixes_named(&self) -> Vec<MixMention> {
        const FINAL: [&str; 6] =
            ["final", "main", "finale", "principale", "principal", "endgültigen"];
        const MAIN: [&str; 2] = ["hauptteig", "hauptteigs"];
        const TOTAL: [&str; 8] = [
            "total",
            "totale",
            "totales",
            "totali",
            "overall",
            "gesamt",
            "complessivo",
            "complessivi",
        ];
        let (sentence, named) = (self.reading.sentence, self.reading.named);
        let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
        let mut all = Vec::new();
        let mut at = 0;
        while at < sentence.tokens.len() {
            if let Some(to) = named.word_at("in-all", at) {
                all.push(MixMention { words: at..to, mix: MixNamed::Total });
                at = to;
                continue;
            }
            let found = match self.at(at) {
                Some((Beside::Levain, to)) => Some((at..to, MixNamed::Stage(None))),
                Some((Beside::Named(AmountOf::Stage(stage)), to)) => {
                    let mut stages = self.facts.context.worked.formula.stages.iter();
                    let is_stage = stages.any(|it| it.name.key.as_str() == stage);
                    is_stage.then_some((at..to, MixNamed::Stage(Some(stage))))
                }
                Some((Beside::Dough, to)) => Some(match () {
                    () if at > 0 && FINAL.contains(&key(at - 1)) => {
                        (at - 1..to, MixNamed::FinalDough)
                    }
                    () if FINAL.contains(&key(to)) => (at..to + 1, MixNamed::FinalDough),
                    () => (at..to, MixNamed::Dough),
                }),
                None if MAIN.contains(&key(at)) => Some((at..at + 1, MixNamed::FinalDough)),
                None if TOTAL.contains(&key(at)) => Some((at..at + 1, MixNamed::Total)),
                None => sentence.word_at("bread", at).map(|to| (at..to, MixNamed::Dough)),
                Some(_) => None,
            };
            at = match found {
                Some((words, mix)) => {
                    let end = words.end;
                    all.push(MixMention { words, mix });
                    end
                }
                None => at + 1,
            };
        }
        all
    }

    fn mixes(&self) -> impl Iterator<Item = &[WorkedLine]> {
        let choices = self.facts.context.worked.choices.iter();
        choices.flat_map(|numbers| {
            let stages = numbers.stages.iter().map(|stage| stage.lines.as_slice());
            let own = [numbers.dough_lines.as_slice(), numbers.total_lines.as_slice()];
            stages.chain(own)
        })
    }

    /// Weights of several lines together: `the flour`, `the nuts`; of all the dough; of
    /// what is built.
    fn sums(&self, beside: &Beside) -> Vec<Fact> {
        let fact = |grams: Exact| Fact { of: Of::Anything, low: grams.clone(), high: grams };
        let context = self.facts.context;
        let mut all: Vec<Fact> =
            self.mixes().flat_map(|lines| self.weights_of(lines, beside)).map(fact).collect();
        let batches = Exact::from(context.batches());
        for numbers in &context.worked.choices {
            match beside {
                Beside::Dough => {
                    let dough = numbers.whole.mass();
                    all.extend([fact(dough.each_of(&batches)), fact(dough)]);
                }
                Beside::Levain => {
                    let made = numbers.stages.iter().map(|stage| fact(stage.made.clone()));
                    all.extend(made);
                    let goes_on = numbers.stages.iter().map(|stage| fact(stage.goes_on.mass()));
                    all.extend(goes_on);
                }
                Beside::Named(AmountOf::Stage(key)) => {
                    let stages = context.worked.formula.stages.iter().zip(&numbers.stages);
                    let own = stages.filter(|(stage, _)| stage.name.key.as_str() == key);
                    all.extend(own.map(|(_, stage)| fact(stage.made.clone())));
                }
                Beside::Named(AmountOf::Food(food)) => {
                    all.extend(self.whole_of(numbers, food).map(fact));
                    let stages = numbers.stages.iter();
                    all.extend(stages.filter_map(|it| self.sum_of(&it.goes_on, food)).map(fact));
                    // Without what cultures bring.
                    let lines = numbers.stages.iter().flat_map(|stage| &stage.lines);
                    let lines = lines.chain(&numbers.dough_lines);
                    let own = self.lines_of(lines, food);
                    let sum = own.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
                    all.extend((!sum.is_zero()).then(|| fact(sum)));
                }
                Beside::Named(AmountOf::Piece) => {}
            }
        }
        all
    }

    /// All of a food, with what stages and cultures bring.
    fn whole_of(&self, numbers: &Numbers, food: &Food) -> Option<Exact> {
        self.sum_of(&numbers.whole, food)
    }

    /// What a composition has of a food.
    fn sum_of(&self, composition: &Composition, food: &Food) -> Option<Exact> {
        let house = self.facts.context.house;
        let all = composition.iter().filter_map(|(substance, grams)| match substance {
            Substance::Ingredient(id) => Some((house.ingredient(id), grams)),
            _ => None,
        });
        let all: Vec<_> = all.filter(|(ingredient, _)| food.is(house, ingredient)).collect();
        let is_called = all.iter().any(|(ingredient, _)| bears_word(ingredient, food));
        let own = all.iter().filter(|(it, _)| !is_called || bears_word(it, food));
        let sum = own.fold(Exact::ZERO, |sum, (_, grams)| sum + *grams);
        (!sum.is_zero()).then_some(sum)
    }

    /// Shares of flour of several lines together.
    fn sums_of_flour(&self, beside: &Beside) -> Vec<Fact> {
        let Beside::Named(AmountOf::Food(food)) = beside else { return Vec::new() };
        let worked = self.facts.context.worked;
        let share = |numbers| {
            let share = self.whole_of(numbers, food)?.over(&worked.flour(&numbers.whole))?;
            Some(Fact { of: Of::Anything, low: share.clone(), high: share })
        };
        worked.choices.iter().filter_map(share).collect()
    }

    /// The weights of the lines of a mix that are what is named, all together first.
    fn weights_of(&self, lines: &[WorkedLine], beside: &Beside) -> Vec<Exact> {
        let own: Vec<&WorkedLine> = match beside {
            Beside::Named(AmountOf::Food(food)) => self.lines_of(lines.iter(), food),
            Beside::Named(AmountOf::Stage(stage)) => {
                lines.iter().filter(|line| line.key.as_str() == stage).collect()
            }
            Beside::Levain => lines.iter().filter(|line| is_alive(line)).collect(),
            Beside::Named(AmountOf::Piece) | Beside::Dough => Vec::new(),
        };
        if own.is_empty() {
            return Vec::new();
        }
        let sum = own.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
        std::iter::once(sum).chain(own.iter().map(|line| line.mass.clone())).collect()
    }

    /// The lines that are a food; where some bear its very word, only those: butter holds milk.
    fn lines_of<'l>(
        &self,
        lines: impl Iterator<Item = &'l WorkedLine>,
        food: &Food,
    ) -> Vec<&'l WorkedLine> {
        let context: &Context = self.facts.context;
        let named = |line: &&WorkedLine| ingredient_of(context, &line.key);
        let is_it = |line: &&WorkedLine| {
            named(line).is_some_and(|ingredient| food.is(context.house, ingredient))
        };
        let all: Vec<&WorkedLine> = lines.filter(is_it).collect();
        let bears_word = |line: &&&WorkedLine| named(line).is_some_and(|it| bears_word(it, food));
        let own: Vec<&WorkedLine> = all.iter().filter(bears_word).copied().collect();
        if own.is_empty() { all } else { own }
    }
}

/// Whether an ingredient is of the class that a word names, or is called so.
fn bears_word(ingredient: &Ingredient, food: &Food) -> bool {
    let FoodMention::Kind(words) = &food.what else { return true };
    words.split('/').any(|word| {
        let is_called = || ingredient.name.key.split([' ', '-']).any(|own| own == word);
        Class::read(word) == Some(ingredient.class) || is_called()
    })
}

/// Whether a line is a stage, a culture or old dough.
fn is_alive(line: &WorkedLine) -> bool {
    matches!(line.goes, LineRef::Stage(_) | LineRef::Culture(_) | LineRef::OldDough)
}

/// Half of the last step that a number is told in: 5 of 350, 50 of 1,200.
fn half_of_tens(number: &Exact) -> Exact {
    let mut step = Exact::ONE;
    while !number.is_zero() && number.is_multiple_of(&(&step * int(10))) {
        step *= int(10);
    }
    step.one_in::<2>()
}

/// Each value once, those nearest to an amount first.
fn nearest_first(amount: &Amount, facts: Vec<Fact>) -> Vec<Fact> {
    let far = |fact: &Fact| {
        let apart = amount.readings.iter().map(|reading| (&fact.low - &reading.low).abs());
        apart.min().unwrap_or_default()
    };
    let mut all: Vec<Fact> = Vec::new();
    for fact in facts {
        if !all.iter().any(|known| known.low == fact.low && known.high == fact.high) {
            all.push(fact);
        }
    }
    all.sort_by_cached_key(far);
    all
}

/// The food whose name stands at a word, or ends before one.
pub fn food_beside(
    house: &crate::formula::House,
    sentence: &Sentence,
    after: usize,
    before: usize,
) -> Option<Food> {
    let mut at = after;
    for _ in 0..3 {
        if let Some(food) = food_at(house, sentence, at) {
            return Some(food);
        }
        let closes = sentence.tokens.get(at).is_some_and(|token| token.key == ")");
        let filler = || ["about", "any", "the"].iter().find_map(|it| sentence.word_at(it, at));
        match if closes { Some(at + 1) } else { filler() } {
            Some(next) => at = next,
            None => break,
        }
    }
    let mut starts = before.saturating_sub(MAX_WORDS)..before;
    starts.find_map(|from| food_at(house, sentence, from).filter(|food| food.to == before))
}
