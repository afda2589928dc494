//! All that is said to people, read once for every rule about it: `absence-in-text`,
//! `ingredient-in-text`, `number-in-text`.
//!
//! Many formulas of a house say the same words. What nothing was found in for one of them is
//! passed over in the next, unless the formula itself could make a difference.

use super::beside_claims::Foods;
use super::context::{Context, Place, Said};
use super::denials::kind_of;
use super::facts::Facts;
use super::speech::{Sentence, Token, language_of, read_named, sentences, tokens};
use super::{absence_in_text, ingredient_in_text, number_in_text};
use crate::diag::Finding;
use crate::formula::House;
use crate::source::SourceId;
use std::cell::OnceCell;

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let house = context.house.settings.language.as_ref().map(|language| language.value.as_str());
    let (own, others) = (context.said(), context.said_of_all());
    let (own, others) = (heard(&own), heard(&others));
    let kind = OnceCell::new();
    let mut denials = Vec::new();
    // A packet that is quoted of an ingredient is printed nowhere; a formula's source is.
    let printed = own.iter().chain(others.iter().filter(|heard| !heard.is_source()));
    for heard in printed {
        let of_formula = || kind.get_or_init(|| kind_of(context)).as_str();
        heard.unless_silent(context, "claims", of_formula, |tokens| {
            let denied = absence_in_text::check(context, heard.said, tokens, findings);
            let claims = denied.is_some();
            denials.extend(denied.into_iter().flatten());
            claims
        });
    }
    let facts = Facts::of(context);
    let foods = Foods::of(context, &denials);
    for heard in &own {
        let said = heard.said;
        let mut told = Vec::new();
        heard.beside_claims(context, &foods, &mut told, findings);
        // Where a formula is from tells no number of it.
        if heard.is_source() {
            continue;
        }
        let read = OnceCell::new();
        let sentences = || -> &Vec<Sentence> {
            read.get_or_init(|| {
                let tokens = heard.tokens();
                sentences(&said.words, tokens, language_of(tokens, house)).collect()
            })
        };
        heard.unless_silent(
            context,
            "foods",
            || "",
            |_| {
                let put_in = |it| foods.check(said, it, &mut told, findings);
                sentences().iter().map(put_in).fold(false, |all, one| all | one)
            },
        );
        if matches!(said.place, Place::Step(_)) {
            heard.unless_silent(
                context,
                "steps",
                || "",
                |tokens| {
                    foods.in_steps(said, tokens, &mut told, |written, new| {
                        findings.push(ingredient_in_text::finding(said, written, new));
                    })
                },
            );
        }
        heard.unless_silent(
            context,
            "numbers",
            || "",
            |_| {
                sentences().iter().for_each(|it| number_in_text::check(&facts, said, it, findings));
                sentences().iter().any(|it| number_in_text::may_tell(said, it))
            },
        );
    }
    for heard in &others {
        heard.beside_claims(context, &foods, &mut Vec::new(), findings);
    }
}

/// What is wrong in texts about a formula that are none of its own, and whose places are in
/// `source`: what they deny, the foods that they name beside a claim or the formula beside one
/// of theirs, and what they put into the bread that is not in it.
pub fn of_prose(context: &Context, prose: &[(Said, bool)], source: SourceId) -> Vec<Finding> {
    let own = context.said();
    let own = heard(&own);
    let prose_heard = prose.iter().map(|(said, _)| Heard { said, tokens: OnceCell::new() });
    let prose_heard: Vec<Heard> = prose_heard.collect();
    let all = || own.iter().chain(&prose_heard);
    let (mut findings, mut denials) = (Vec::new(), Vec::new());
    let may_deny = prose.iter().map(|(_, may_deny)| *may_deny);
    let may_deny = own.iter().map(|_| true).chain(may_deny);
    for (heard, _) in all().zip(may_deny).filter(|(_, may_deny)| *may_deny) {
        let denied = absence_in_text::check(context, heard.said, heard.tokens(), &mut findings);
        denials.extend(denied.into_iter().flatten());
    }
    let foods = Foods::of(context, &denials);
    for heard in all() {
        heard.beside_claims(context, &foods, &mut Vec::new(), &mut findings);
    }
    let house = context.house.settings.language.as_ref().map(|language| language.value.as_str());
    // A heading may name what is served with it, or another bread.
    for heard in prose_heard.iter().filter(|heard| matches!(heard.said.place, Place::Note)) {
        let tokens = heard.tokens();
        let mut told = Vec::new();
        for sentence in sentences(&heard.said.words, tokens, language_of(tokens, house)) {
            if states_what_is_in_it(&sentence) {
                foods.check(heard.said, &sentence, &mut told, &mut findings);
            }
        }
    }
    // What the formula's own texts say beside its own claims is told by itself.
    findings.retain(|finding| finding.labels.iter().any(|label| label.span.source == source));
    findings
}

/// Whether some sentence of a manuscript does.
pub fn may_put_in(house: &House, words: &str) -> bool {
    let house = house.settings.language.as_ref().map(|language| language.value.as_str());
    let tokens = tokens(words);
    let language = language_of(&tokens, house);
    sentences(words, &tokens, language).any(|sentence| states_what_is_in_it(&sentence))
}

/// Whether a sentence of a manuscript plainly puts something into the dough or says what is in
/// it. What is brushed or spread on, used instead, or only might go in, may be meant of a
/// variation: there doubt is silence.
fn states_what_is_in_it(sentence: &Sentence) -> bool {
    let whole = sentence.whole();
    let named = read_named(sentence, sentence.language);
    let states = ["mixing-in", "holds", "in-bread"].iter().any(|word| named.has(word, &whole))
        || named.has("is-there", &whole) && named.has("in-it", &whole);
    let is_open = ["unreal", "instead"].iter().any(|word| sentence.has(word, &whole));
    states && !is_open && !named.has("another-way", &whole)
}

/// A text, and its words once somebody asks for them.
struct Heard<'s> {
    said: &'s Said<'s>,
    tokens: OnceCell<Vec<Token<'s>>>,
}

fn heard<'s>(all: &'s [Said]) -> Vec<Heard<'s>> {
    all.iter().map(|said| Heard { said, tokens: OnceCell::new() }).collect()
}

impl<'s> Heard<'s> {
    fn tokens(&self) -> &[Token<'s>] {
        self.tokens.get_or_init(|| tokens(&self.said.words))
    }

    fn is_source(&self) -> bool {
        matches!(self.said.place, Place::Source)
    }

    /// Looks for something, where it was not looked for in vain before: in the same words at
    /// the same place, in a formula that is the same as far as it matters (`of_formula`).
    /// `look` answers whether there was any, whatever was to say of it.
    fn unless_silent<'f>(
        &self,
        context: &Context,
        what: &str,
        of_formula: impl FnOnce() -> &'f str,
        look: impl FnOnce(&[Token<'s>]) -> bool,
    ) {
        let (place, words) = (self.said.place.word(), self.said.words.as_ref());
        let looked_for = [what, place, of_formula(), words].join("\0");
        let silent = &context.house.silent;
        if !silent.holds(&looked_for) && !look(self.tokens()) {
            silent.learn(&looked_for);
        }
    }

    /// The foods that it names beside a claim of absence, where there is any claim.
    fn beside_claims(
        &self,
        context: &Context,
        foods: &Foods,
        told: &mut Vec<String>,
        findings: &mut Vec<Finding>,
    ) {
        if !foods.denied().is_empty() {
            self.unless_silent(
                context,
                "beside",
                || "",
                |tokens| foods.beside_claims(self.said, tokens, told, findings),
            );
        }
    }
}
