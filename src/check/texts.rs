//! All that is said to people, read once for every rule about it: `absence-in-text`,
//! `ingredient-in-text`, `number-in-text`.

use super::beside_claims::Foods;
use super::context::{Context, Place, Said};
use super::facts::Facts;
use super::speech::{Token, language_of, sentences, tokens};
use super::{absence_in_text, number_in_text};
use crate::diag::Finding;
use crate::source::SourceId;

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let house = context.house.settings.language.as_ref().map(|language| language.value.as_str());
    let (own, others) = (context.said(), context.said_of_all());
    let (own, others) = (with_tokens(&own), with_tokens(&others));
    let mut denials = Vec::new();
    // A packet that is quoted of an ingredient is printed nowhere; a formula's source is.
    let is_source = |said: &Said| matches!(said.place, Place::Source);
    let printed = own.iter().chain(others.iter().filter(|(said, _)| !is_source(said)));
    for (said, tokens) in printed {
        denials.extend(absence_in_text::check(context, said, tokens, findings));
    }
    let facts = Facts::of(context);
    let foods = Foods::of(context, &denials);
    for (said, tokens) in &own {
        let language = language_of(tokens, house);
        let mut told = Vec::new();
        foods.beside_claims(said, tokens, &mut told, findings);
        // Where a formula is from tells no number of it.
        if is_source(said) {
            continue;
        }
        for sentence in sentences(&said.words, tokens, language) {
            foods.check(said, &sentence, &mut told, findings);
            number_in_text::check(&facts, said, &sentence, findings);
        }
    }
    for (said, tokens) in &others {
        foods.beside_claims(said, tokens, &mut Vec::new(), findings);
    }
}

/// What is wrong in texts about a formula that are none of its own, and whose places are in
/// `source`: what they deny, and the foods that they name beside a claim or the formula beside
/// one of theirs.
pub fn of_prose(context: &Context, prose: &[Said], source: SourceId) -> Vec<Finding> {
    let own = context.said();
    let (own, prose) = (with_tokens(&own), with_tokens(prose));
    let all = || own.iter().chain(&prose);
    let (mut findings, mut denials) = (Vec::new(), Vec::new());
    for (said, tokens) in all() {
        denials.extend(absence_in_text::check(context, said, tokens, &mut findings));
    }
    let foods = Foods::of(context, &denials);
    for (said, tokens) in all() {
        foods.beside_claims(said, tokens, &mut Vec::new(), &mut findings);
    }
    // What the formula's own texts say beside its own claims is told by itself.
    findings.retain(|finding| finding.labels.iter().any(|label| label.span.source == source));
    findings
}

fn with_tokens<'s>(all: &'s [Said]) -> Vec<(&'s Said<'s>, Vec<Token<'s>>)> {
    all.iter().map(|said| (said, tokens(&said.words))).collect()
}
