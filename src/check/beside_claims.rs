//! What texts name beside a claim that the bread is without it.
//!
//! Claims are judged over what is weighed; a text that names what a claim excludes may put it
//! in all the same. It fails closed: whatever a text names in one of five languages counts,
//! unless the mention is of a kind that puts nothing in.

use super::absence_in_text::{self, Denial};
use super::claims::{absence_asked, absences_of_style};
use super::context::{Context, PlainText, SaidAt};
use super::harmless::ReadSentence;
use super::speech::{
    Food, FoodMention, Language, Sentence, Token, foods_told, read_named, sentences, spoken,
};
use super::{claim_not_proved, facts, flouring};
use crate::diag::{Finding, Rule};
use crate::formula::class::Class;
use crate::formula::{Absence, Allergen, Allergens, Doubt, House, Ingredient, Judged};
use crate::source::Span;
use std::cell::{OnceCell, RefCell};

const PROOF: &Rule = &claim_not_proved::RULE;

/// What a formula is claimed to be without, where that is said, and as it is said.
pub struct Without {
    absence: Absence,
    span: Span,
    said: String,
    rule: &'static Rule,
}

/// All that a formula is claimed to be without: by itself, by its style, by texts.
fn all_denied(context: &Context, denials: &[Denial]) -> Vec<Without> {
    let claims = context.worked.formula.expect.iter().filter_map(|claim| {
        let (absence, said, _) = absence_asked(claim)?;
        Some(Without { absence, span: claim.span, said, rule: PROOF })
    });
    let mut all: Vec<Without> = claims.collect();
    all.extend(absences_of_style(context).filter_map(|(style, without, _)| {
        let said = format!("the style `{}` is without {}", style.shown, without.shown);
        Some(Without { absence: Absence::read(&without.key)?, span: style.span, said, rule: PROOF })
    }));
    all.extend(denials.iter().filter_map(|denial| {
        let (span, said) = (denial.at, denial.said.clone());
        Some(Without { absence: denial.absence?, span, said, rule: &absence_in_text::RULE })
    }));
    all
}

/// What sentences put into a formula, and what is there.
pub struct Foods<'a, 'c, 't> {
    /// The formula that the texts are of.
    pub context: &'a Context<'c, 't>,
    held: OnceCell<Vec<&'a Ingredient>>,
    denials: &'a [Denial],
    denied: OnceCell<Vec<Without>>,
}

impl<'a, 'c, 't> Foods<'a, 'c, 't> {
    /// `denials` are what texts say is not there.
    pub fn of(context: &'a Context<'c, 't>, denials: &'a [Denial]) -> Self {
        Self { context, held: OnceCell::new(), denials, denied: OnceCell::new() }
    }

    /// What is in the formula.
    pub fn held(&self) -> &[&'a Ingredient] {
        self.held.get_or_init(|| self.context.worked.ingredients())
    }

    /// What the formula is claimed to be without.
    pub fn denied(&self) -> &[Without] {
        self.denied.get_or_init(|| all_denied(self.context, self.denials))
    }

    /// Whether it stands in the words that say it is not there.
    pub fn is_in_denial(&self, said: &PlainText, sentence: &Sentence, food: &Food) -> bool {
        let start = sentence.tokens.get(food.from).map_or(0, |token| token.start);
        let last = food.to.checked_sub(1).and_then(|last| sentence.tokens.get(last));
        let end = last.map_or(start, |token| token.end);
        let mut denials = self.denials.iter();
        // `vegan butter` and `non-fat milk` are foods, and no denials of butter and milk.
        let is_named = matches!(food.what, FoodMention::Ingredient(_) | FoodMention::Either(_));
        denials.any(|denial| {
            let is_all = start == denial.words.start && end >= denial.words.end;
            let is_inside = denial.words.contains(&start) && !(is_named && is_all);
            denial.span == said.span && is_inside
        })
    }
}

/// A sentence that names foods, in whatever language, with all that is the same of it in each
/// formula that it speaks of.
pub struct Naming<'s> {
    sentence: Sentence<'s>,
    /// As its own language reads it.
    words: Sentence<'s>,
    /// The same, with what its language says about foods.
    named: Sentence<'s>,
    foods: Vec<Food>,
    heard: Vec<HeardFood>,
}

/// What is found of a food once it is asked.
#[derive(Default)]
struct HeardFood {
    /// Whether the mention puts it in.
    counts: OnceCell<bool>,
    judged: RefCell<Vec<(Absence, Judged)>>,
}

/// The sentences of a text that name foods.
pub fn naming<'s>(house: &House, text: &'s str, tokens: &'s [Token<'s>]) -> Vec<Naming<'s>> {
    let speaks = house.settings.language.as_ref().map(|language| language.value.as_str());
    let read = |sentence: Sentence<'s>| {
        let language = spoken(sentence.tokens, speaks);
        let mut foods = foods_told(house, &sentence, language);
        flouring::add_what_verbs_say(&sentence, &mut foods);
        let heard = foods.iter().map(|_| HeardFood::default()).collect::<Vec<_>>();
        (!foods.is_empty()).then(|| {
            let (words, named) = (sentence.read_in(language), read_named(&sentence, language));
            Naming { sentence, words, named, foods, heard }
        })
    };
    sentences(text, tokens, Language::all()).filter_map(read).collect()
}

/// A food as a sentence names it.
struct Mention<'m, 's> {
    said: &'m PlainText<'m>,
    sentence: &'m Sentence<'s>,
    reading: &'m ReadSentence<'m, 's>,
    food: &'m Food,
    written: &'m str,
    heard: &'m HeardFood,
}

impl Mention<'_, '_> {
    /// Whether it puts the food into the bread, as far as the text alone tells.
    fn counts(&self) -> bool {
        let Self { said, reading, food, .. } = self;
        let counts =
            || !reading.is_denied(food) && counts(said.place, self) && !reading.is_harmless(food);
        *self.heard.counts.get_or_init(counts)
    }

    /// What is known of the food and something that a claim denies: it may be asked of the
    /// whole store, so it is asked once.
    fn judge(&self, house: &House, absence: Absence) -> Judged {
        let mut known = self.heard.judged.borrow_mut();
        if let Some((_, judged)) = known.iter().find(|(of, _)| *of == absence) {
            return *judged;
        }
        let judged = self.food.judge(house, self.written, absence);
        known.push((absence, judged));
        judged
    }
}

impl Foods<'_, '_, '_> {
    /// Reports what sentences of a text name though a claim excludes it; `told` gets the words.
    pub fn beside_claims(
        &self,
        said: &PlainText,
        sentences: &[Naming],
        told: &mut Vec<String>,
        findings: &mut Vec<Finding>,
    ) {
        self.each_mention(said, sentences, |mention| self.judge(mention, told, findings));
    }

    /// Each food that sentences of a text name, in whatever language.
    fn each_mention(&self, said: &PlainText, sentences: &[Naming], mut each: impl FnMut(&Mention)) {
        for Naming { sentence, words, named, foods, heard } in sentences {
            let reading = ReadSentence { words, named, foods };
            for (food, heard) in foods.iter().zip(heard) {
                let written = sentence.written(food.from, food.to);
                each(&Mention { said, sentence, reading: &reading, food, written, heard });
            }
        }
    }

    /// Hands on what a step names with allergens that no line holds: `egg wash`. Whoever works
    /// by the method puts it on, and the list of allergens does not know it. In five languages,
    /// whatever the house speaks.
    pub fn in_steps(
        &self,
        said: &PlainText,
        sentences: &[Naming],
        told: &mut Vec<String>,
        mut each: impl FnMut(&str, &[&str]),
    ) {
        self.each_mention(said, sentences, |mention| {
            let Mention { food, written, .. } = *mention;
            let (house, key) = (self.context.house, written.to_lowercase());
            if matches!(said.place, SaidAt::Note) && !is_instruction(mention) {
                return;
            }
            // Of which grain it is says its line, where there is one.
            let is_any_flour =
                food.says("flour") && self.held().iter().any(|it| it.class == Class::Flour);
            let is_aside =
                is_any_flour || self.is_aside(mention) || is_shade(mention) || is_likened(mention);
            if told.contains(&key) || is_aside {
                return;
            }
            let mut new = new_allergens(self.context, self.held(), food);
            new.retain(|one| {
                let judged = Absence::read(one).map(|it| mention.judge(house, it));
                matches!(judged, Some(Judged::Holds(_)))
            });
            // Pesto is put in whatever is usually in it.
            let is_dish = matches!(food.what, FoodMention::Kind(_) | FoodMention::Compound(_));
            if new.is_empty() && is_put_in(mention) && is_dish {
                let held = |one: &Allergen| {
                    let holds = |it: &&Ingredient| it.declared.contains(*one);
                    self.held().iter().any(holds)
                };
                let may = Allergen::all().filter(|one| !one.is_group() && !held(one));
                let may = may.filter(|one| {
                    let absence = Absence::Allergen(*one);
                    mention.judge(house, absence) == Judged::NotKnown
                        && self.is_usually(mention, absence)
                });
                new.extend(may.map(|one| one.key()));
            }
            if !new.is_empty() {
                told.push(key);
                each(written, &new);
            }
        });
    }

    /// Whether a mention is no news: denied, harmless, or of what is there.
    fn is_aside(&self, mention: &Mention) -> bool {
        let Mention { said, sentence, food, .. } = *mention;
        !mention.counts() || self.is_in_denial(said, sentence, food) || self.is_known_there(mention)
    }

    fn judge(&self, mention: &Mention, told: &mut Vec<String>, findings: &mut Vec<Finding>) {
        let Mention { said, written, .. } = *mention;
        let key = written.to_lowercase();
        if told.contains(&key) || self.is_aside(mention) {
            return;
        }
        let against: Vec<_> =
            self.denied().iter().filter_map(|it| self.brings(it, mention)).collect();
        if against.is_empty() {
            return;
        }
        told.push(key);
        let mut claims: Vec<&str> = Vec::new();
        for (without, brings) in against {
            if !claims.contains(&without.said.as_str()) {
                claims.push(&without.said);
                findings.push(finding(without, said, written, brings));
            }
        }
    }

    /// What a food would bring into what is claimed to be without it.
    fn brings<'w>(
        &self,
        without: &'w Without,
        mention: &Mention,
    ) -> Option<(&'w Without, &'static str)> {
        let Mention { said, food, reading, .. } = *mention;
        let absence = without.absence;
        let judged = mention.judge(self.context.house, absence);
        let may_hold = reading.named.has("may-hold", &reading.named.whole());
        // What may be there in traces is no food of anybody's; and whoever says in one text
        // what a bread is made without, and beside what, has said both.
        let is_warned = may_hold
            && (!matches!(absence, Absence::Allergen(_)) || is_inside(without.span, said.span));
        if is_warned {
            return None;
        }
        let brings = match (judged, absence) {
            (Judged::Without, _) => return None,
            (Judged::Holds(_), _) if flouring::is_bench_flour(mention.sentence, food) => {
                "is of wheat unless it says of what"
            }
            (Judged::Holds(_), Absence::Allergen(_)) if may_hold => "the claim excludes",
            (Judged::Holds(_), Absence::Allergen(_)) => "contains it",
            (Judged::Holds(_), _) => "is from an animal",
            // What nobody knows of counts where it is put in, and where it is called by a
            // name that tells what is usually in it.
            (Judged::NotKnown, _) if !is_put_in(mention) && !self.is_usually(mention, absence) => {
                return None;
            }
            (Judged::NotKnown, Absence::Allergen(_)) => "may contain it",
            (Judged::NotKnown, _) => "may be from an animal",
        };
        Some((without, brings))
    }

    /// Whether a food is what an ingredient of the formula is: by another name, which brings
    /// nothing more. Rice vinegar is not the rice flour.
    fn is_the_same(&self, mention: &Mention, held: &Ingredient) -> bool {
        let Mention { food, written, .. } = *mention;
        let house = self.context.house;
        let brings_more = |it: &Without| {
            held.declared.judge(it.absence) == Judged::Without
                && mention.judge(house, it.absence) != Judged::Without
        };
        let is_named = matches!(food.what, FoodMention::Ingredient(_) | FoodMention::Either(_));
        let is_it = |it: &&Ingredient| it.name.key == held.name.key;
        food.is(house, held)
            && (!is_named
                || food.called(house, written).iter().any(is_it)
                || !self.denied().iter().any(brings_more))
    }

    /// Whether what is called so usually holds something: pesto, whose name tells it, and an
    /// ingredient that says it may contain it. Breads are called by many names.
    fn is_usually(&self, mention: &Mention, absence: Absence) -> bool {
        let Mention { food, written, .. } = *mention;
        let called = food.called(self.context.house, written);
        let is_warned = called.iter().any(|it| it.declared.doubt(absence) != Doubt::Silent);
        let is_usual =
            is_warned || matches!(food.what, FoodMention::Kind(_) | FoodMention::Compound(_));
        is_usual && !is_shade(mention)
    }

    /// Whether the formula has it on a line, or calls something so: the milk of `oat milk`.
    fn is_known_there(&self, mention: &Mention) -> bool {
        let Mention { said, food, written, reading, .. } = *mention;
        let (context, name) = (self.context, crate::formula::key(written));
        if flouring::is_bench_flour(mention.sentence, food) {
            return flouring::is_stated(context, reading.foods);
        }
        if self.held().iter().any(|ingredient| self.is_the_same(mention, ingredient)) {
            return true;
        }
        match said.place {
            SaidAt::Name => return is_bread(mention),
            SaidAt::Title if is_bread(mention) => return true,
            _ => {}
        }
        let line = facts::is_mixed(context, &name) || context.line_names().any(|it| *it == *name);
        line || (is_bread(mention) && is_called_so(context, written))
            || (!matches!(said.place, SaidAt::Title) && is_short_for(context, &name))
    }
}

/// Whether it tells a colour or a taste: `bake to a deep caramel`.
fn is_shade(mention: &Mention) -> bool {
    let Mention { reading, food, .. } = *mention;
    reading.named.all("word", "shade").any(|it| it.from == food.from)
        && reading.named.has("shade-of", &reading.named.whole())
}

/// The allergens of a food that nothing in the formula holds.
pub fn new_allergens(context: &Context, held: &[&Ingredient], food: &Food) -> Vec<&'static str> {
    // Where wheat is told, spelt is.
    let known = |one: &Allergen| {
        let mut told = Allergens::of(*one).to_print();
        told.any(|told| held.iter().any(|it| it.declared.contains(told)))
    };
    let all = food.allergens(context.house);
    all.iter().filter(|one| !known(one)).map(Allergen::key).collect()
}

/// Whether it tells how something is: German `butterweich`, `wie Sahne`.
fn is_likened(mention: &Mention) -> bool {
    const ENDINGS: [&str; 8] =
        ["weich", "zart", "braun", "goldgelb", "artig", "farben", "farbig", "groß"];
    const LIKE: [&str; 5] = ["like", "wie", "comme", "como", "come"];
    let Mention { sentence, food, written, .. } = *mention;
    let before = food.from.checked_sub(1).and_then(|at| sentence.tokens.get(at));
    let small = written.to_lowercase();
    ENDINGS.iter().any(|ending| small.ends_with(ending))
        || before.is_some_and(|word| LIKE.contains(&word.key.as_ref()))
}

/// Whether a place lies in a text.
fn is_inside(place: Span, text: Span) -> bool {
    place.source == text.source && text.start <= place.start && place.end <= text.end
}

/// Whether a text of this kind says what is in the bread. A house's own name is a name.
fn counts(place: SaidAt, mention: &Mention) -> bool {
    !matches!(place, SaidAt::House | SaidAt::Source) || is_put_in(mention)
}

/// Whether the words around it put it in.
fn is_put_in(mention: &Mention) -> bool {
    let Mention { said, reading, .. } = *mention;
    let (words, named) = (reading.words, reading.named);
    let whole = words.whole();
    matches!(said.place, SaidAt::Title | SaidAt::Name)
        || words.has("act", &whole)
        || ["holds", "may-hold"].iter().any(|word| named.has(word, &whole))
        || named.has("is-there", &whole) && named.has("in-it", &whole)
}

/// Whether a sentence tells to put something on or in: `coat with panko`, `mit Mehl bestäuben`;
/// it begins or ends with what is done, and offers nothing that may be done instead.
fn is_instruction(mention: &Mention) -> bool {
    let (words, named) = (mention.reading.words, mention.reading.named);
    let whole = words.whole();
    // In German the verb comes last; `cream` is a verb only where it is no food.
    let is_last = |to: usize| words.language.code == "de" && to + 1 >= whole.end;
    let is_at_edge = |from: usize, to: usize| from == whole.start || is_last(to);
    let is_food = |from: usize, to: usize| {
        mention.reading.foods.iter().any(|food| food.from < to && from < food.to)
    };
    let mut acts = words.all("word", "act");
    let acts = acts.any(|it| is_at_edge(it.from, it.to) && !is_food(it.from, it.to));
    let floured = || named.all("word", "flouring").any(|it| is_at_edge(it.from, it.to));
    let is_offered = ["serve", "instead", "unreal", "compare"];
    (acts || floured()) && !is_offered.iter().any(|word| words.has(word, &whole))
}

/// Whether it is a bread that is called by what is in it, such as brioche.
fn is_bread(mention: &Mention) -> bool {
    let mut names = mention.reading.named.all("word", "loaf-name");
    matches!(mention.food.what, FoodMention::Baked(_))
        || names.any(|it| it.from <= mention.food.from && it.to >= mention.food.to)
}

/// Whether the formula itself is called so.
fn is_called_so(context: &Context, written: &str) -> bool {
    let formula = &context.worked.formula;
    let pieces = formula.makes.iter().flat_map(|makes| &makes.pieces);
    let names = formula.style.iter().chain(pieces.map(|piece| &piece.kind));
    let title = crate::formula::title(formula);
    let names = names.map(|name| name.shown.as_str()).chain([formula.name.shown.as_str()]);
    let wanted = written.to_lowercase();
    let wanted = wanted.trim_end_matches('s');
    names.chain([title.as_ref()]).any(|name| name.to_lowercase().contains(wanted))
}

/// Whether something on a line is called so in short; `peanut butter` is not butter.
fn is_short_for(context: &Context, name: &str) -> bool {
    const LIKE_BUTTER: [&str; 4] = ["vegan", "plant", "vegetable", "dairy"];
    context.line_names().any(|line| {
        let is_other = name == "butter" && !LIKE_BUTTER.iter().any(|word| line.contains(word));
        !is_other && line.split(' ').any(|word| word == name)
    })
}

fn finding(without: &Without, said: &PlainText, written: &str, brings: &str) -> Finding {
    let message = format!("{}, but a text names `{written}`, which {brings}", without.said);
    Finding::new(without.rule, without.span, message)
        .here("claimed here")
        .label(said.place_of(written), "and named here")
        .help(
            "take it out of the text, or remove the claim; what goes in belongs on a line \
             (a `piece` carries what goes on it)",
        )
}
