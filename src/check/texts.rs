//! All that is said to people, read once for every rule about it: `absence-in-text`,
//! `ingredient-in-text`, `number-in-text`.
//!
//! Many formulas of a house say the same words. What nothing was found in for one of them is
//! passed over in the next, unless the formula itself could make a difference.

use super::beside_claims::{Foods, naming};
use super::context::{Context, PlainText, SaidAt};
use super::denials::kind_of;
use super::facts::Facts;
use super::ingredient_in_text::{self, foods_put_in};
use super::speech::{Sentence, Token, language_of, sentences, tokens};
use super::{absence_in_names, absence_in_text, hurtful_words, number_in_text};
use crate::diag::Finding;
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
    absence_in_names::check(context, findings);
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
        heard.unless_silent(
            context,
            "hurts",
            || "",
            |tokens| {
                let first = findings.len();
                hurtful_words::check(context, said, tokens, findings);
                findings.len() > first
            },
        );
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
                let mut puts_in = false;
                for sentence in sentences() {
                    let put_in = foods_put_in(context.house, said, sentence);
                    puts_in |= !put_in.is_empty();
                    foods.check(said, (sentence, &put_in), &mut told, findings);
                }
                puts_in
            },
        );
        // What a note tells to do is done as what a step tells.
        if matches!(said.place, SaidAt::Step(_) | SaidAt::Note) {
            heard.foods_in_steps(context, "steps", &foods, &mut told, findings);
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
    // `in buttered tin` puts butter on the bread.
    let places: Vec<PlainText> =
        context.places_said().map(|it| PlainText::plain(it, SaidAt::Name)).collect();
    for heard in self::heard(&places) {
        heard.foods_in_steps(context, "places", &foods, &mut Vec::new(), findings);
    }
    for heard in &others {
        heard.beside_claims(context, &foods, &mut Vec::new(), findings);
    }
}

/// What texts of a formula put into the bread that no line has, where it brings an allergen.
pub fn not_on_a_line(context: &Context) -> Vec<(String, String)> {
    let house = context.house.settings.language.as_ref().map(|language| language.value.as_str());
    let foods = Foods::of(context, &[]);
    let own = context.said();
    let mut all: Vec<(String, String)> = Vec::new();
    for heard in heard(&own).iter().filter(|heard| !heard.is_source()) {
        let tokens = heard.tokens();
        for sentence in sentences(&heard.said.words, tokens, language_of(tokens, house)) {
            let put_in = foods_put_in(context.house, heard.said, &sentence);
            let missing = foods.missing(heard.said, (&sentence, &put_in));
            for (written, new) in missing {
                let is_told = all.iter().any(|(known, _)| known.eq_ignore_ascii_case(written));
                if !is_told && !new.is_empty() {
                    all.push((written.to_owned(), new.join(" and ")));
                }
            }
        }
    }
    all
}

/// A text, and its words once somebody asks for them.
pub(super) struct Heard<'s> {
    pub(super) said: &'s PlainText<'s>,
    tokens: OnceCell<Vec<Token<'s>>>,
}

/// Texts that no word is parted of yet.
pub(super) fn heard<'s>(all: &'s [PlainText]) -> Vec<Heard<'s>> {
    all.iter().map(|said| Heard { said, tokens: OnceCell::new() }).collect()
}

impl<'s> Heard<'s> {
    /// Its words.
    pub(super) fn tokens(&self) -> &[Token<'s>] {
        self.tokens.get_or_init(|| tokens(&self.said.words))
    }

    fn is_source(&self) -> bool {
        matches!(self.said.place, SaidAt::Source)
    }

    /// Looks for something, where it was not looked for in vain before: in the same words at
    /// the same place, in a formula that is the same as far as it matters (`of_formula`).
    /// `look` answers whether there was any, whatever was to say of it.
    pub(super) fn unless_silent<'f>(
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

    /// The foods that steps put in by it, or that places of steps hold.
    fn foods_in_steps(
        &self,
        context: &Context,
        what: &str,
        foods: &Foods,
        told: &mut Vec<String>,
        findings: &mut Vec<Finding>,
    ) {
        self.unless_silent(
            context,
            what,
            || "",
            |tokens| {
                let naming = naming(context.house, &self.said.words, tokens);
                foods.in_steps(self.said, &naming, told, |written, new| {
                    // The number of a shelf or a tin.
                    if crate::formula::is_code(written) {
                        return;
                    }
                    findings.push(ingredient_in_text::finding(self.said, written, new));
                });
                !naming.is_empty()
            },
        );
    }

    /// The foods that it names beside a claim of absence, where there is any claim.
    pub(super) fn beside_claims(
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
                |tokens| {
                    let naming = naming(context.house, &self.said.words, tokens);
                    foods.beside_claims(self.said, &naming, told, findings);
                    !naming.is_empty()
                },
            );
        }
    }
}
