//! Texts that stand outside of formulas and speak of their bread, the passages of a manuscript:
//! what they deny, the foods that they name beside a claim, and what they put into the bread
//! that is not in it.
//!
//! A sentence of a book may speak of every bread in it. So each text is read once, and what it
//! says is held to each formula that it speaks of.

use super::absence_in_text;
use super::beside_claims::{Foods, Naming, naming};
use super::context::{Context, PlainText, SaidAt};
use super::denials::{HeardClaim, claims_in, kind_of};
use super::hurtful_words;
use super::ingredient_in_text::foods_put_in;
use super::speech::{self, Food, Sentence, Token, language_of, read_named, sentences, tokens};
use super::texts::heard;
use crate::diag::Finding;
use crate::formula::{House, tell};
use crate::quantity::Dimension;
use crate::source::SourceId;
use rustc_hash::FxHashMap;
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// A text outside of formulas.
pub struct Prose<'s> {
    /// The text, with its place in a source of its own.
    pub said: PlainText<'s>,
    /// Whether it [may deny](super::may_deny) something.
    pub may_deny: bool,
    /// Whether it [may tell](super::may_hurt_in) people to do what hurts.
    pub may_hurt: bool,
    /// Only what it denies, and what may hurt, is read: it stands where the reading is turned
    /// off.
    pub is_off: bool,
    /// The formulas whose bread it speaks of, by their numbers.
    pub about: Vec<usize>,
}

/// A formula that texts speak of, with what they say is not in it.
struct Bread<'f, 'c, 't> {
    context: &'f Context<'c, 't>,
    /// Formulas of one kind hear the same claims in the same words.
    kind: String,
    denials: Vec<absence_in_text::Denial>,
    findings: Vec<Finding>,
}

type Breads<'f, 'c, 't> = BTreeMap<usize, Bread<'f, 'c, 't>>;

/// What is wrong in texts whose places are in `source`, formula by formula: what they deny, the
/// foods that they name beside a claim or the formula beside one of theirs, and what they put
/// into the bread that is not in it.
pub fn check<'f, 'c: 'f, 't: 'c>(
    prose: &[Prose],
    source: SourceId,
    context_of: &dyn Fn(usize) -> Option<&'f Context<'c, 't>>,
) -> Vec<Finding> {
    let mut breads = Breads::new();
    for formula in prose.iter().flat_map(|text| &text.about) {
        if !breads.contains_key(formula)
            && let Some(context) = context_of(*formula)
        {
            let (denials, kind) = (denied_by_itself(context), kind_of(context));
            breads.insert(*formula, Bread { context, kind, denials, findings: Vec::new() });
        }
    }
    for text in prose.iter().filter(|text| text.may_deny) {
        hear_denials(text, &mut breads);
    }
    for text in prose.iter().filter(|text| text.may_hurt) {
        // It hurts whichever of them it is done with: that is told once.
        let bread = text.about.iter().find(|formula| breads.contains_key(formula));
        if let Some(Bread { context, findings, .. }) = bread.and_then(|it| breads.get_mut(it)) {
            hurtful_words::check(context, &text.said, &tokens(&text.said.words), findings);
        }
    }
    let mut foods = BTreeMap::new();
    let mut findings = BTreeMap::new();
    for (formula, bread) in &mut breads {
        findings.insert(*formula, std::mem::take(&mut bread.findings));
    }
    for (formula, bread) in &breads {
        foods.insert(*formula, Foods::of(bread.context, &bread.denials));
    }
    for (formula, foods) in &foods {
        let findings = findings.entry(*formula).or_default();
        let own = foods.context.said();
        for heard in heard(&own) {
            heard.beside_claims(foods.context, foods, &mut Vec::new(), findings);
        }
    }
    for text in prose.iter().filter(|text| !text.is_off) {
        hear_foods(text, &foods, &mut findings);
    }
    let of_one = |(formula, mut findings): (usize, Vec<Finding>)| {
        // What the formula's own texts say beside its own claims is told by itself.
        findings.retain(|finding| finding.labels.iter().any(|label| label.span.source == source));
        let context = foods.get(&formula).map(|foods| foods.context);
        if let Some(context) = context {
            let name = &context.worked.formula.name.key;
            findings.iter_mut().for_each(|finding| finding.formula = Some(name.clone()));
            tell(context.house, context.worked, context.batches(), &mut findings);
        }
        findings
    };
    findings.into_iter().flat_map(of_one).collect()
}

/// What the texts of a formula say is not in it.
fn denied_by_itself(context: &Context) -> Vec<absence_in_text::Denial> {
    let own = context.said();
    let mut denials = Vec::new();
    let kind = OnceCell::new();
    for heard in heard(&own) {
        let of_formula = || kind.get_or_init(|| kind_of(context)).as_str();
        heard.unless_silent(context, "claims", of_formula, |tokens| {
            // Whether it is true is told by itself.
            let denied = absence_in_text::check(context, heard.said, tokens, &mut Vec::new());
            let claims = denied.is_some();
            denials.extend(denied.into_iter().flatten());
            claims
        });
    }
    denials
}

/// Judges what a text denies of each formula that it speaks of.
fn hear_denials(text: &Prose, breads: &mut Breads) {
    let tokens = tokens(&text.said.words);
    let mut by_kind: FxHashMap<String, Vec<HeardClaim>> = FxHashMap::default();
    for formula in &text.about {
        let Some(bread) = breads.get_mut(formula) else { continue };
        if !by_kind.contains_key(&bread.kind) {
            let claims = claims_in(bread.context, &text.said, &tokens);
            by_kind.insert(bread.kind.clone(), claims);
        }
        let claims = by_kind.get(&bread.kind).map_or(&[][..], Vec::as_slice);
        let denials =
            absence_in_text::judge_all(bread.context, &text.said, claims, &mut bread.findings);
        bread.denials.extend(denials);
    }
}

/// Judges the foods that a text names, of each formula that it speaks of.
fn hear_foods(
    text: &Prose,
    breads: &BTreeMap<usize, Foods>,
    findings: &mut BTreeMap<usize, Vec<Finding>>,
) {
    let said = &text.said;
    let tokens = tokens(&said.words);
    let (named, put_in) = (OnceCell::new(), OnceCell::new());
    for formula in &text.about {
        let (Some(foods), Some(findings)) = (breads.get(formula), findings.get_mut(formula)) else {
            continue;
        };
        let house = foods.context.house;
        if !foods.denied().is_empty() {
            let named: &Vec<Naming> = named.get_or_init(|| naming(house, &said.words, &tokens));
            foods.beside_claims(said, named, &mut Vec::new(), findings);
        }
        let put_in: &Vec<(Sentence, Vec<Food>)> =
            put_in.get_or_init(|| all_put_in(house, said, &tokens));
        let mut told = Vec::new();
        for (sentence, put_in) in put_in {
            foods.check(said, (sentence, put_in), &mut told, findings);
        }
    }
}

/// The sentences that plainly put something in, with what they put in.
fn all_put_in<'s>(
    house: &House,
    said: &'s PlainText,
    tokens: &'s [Token<'s>],
) -> Vec<(Sentence<'s>, Vec<Food>)> {
    // A heading may name what is served with it, or another bread.
    if !matches!(said.place, SaidAt::Note) {
        return Vec::new();
    }
    let speaks = house.settings.language.as_ref().map(|language| language.value.as_str());
    sentences(&said.words, tokens, language_of(tokens, speaks))
        .filter(states_what_is_in_it)
        .map(|sentence| {
            let foods = foods_put_in(house, said, &sentence);
            (sentence, foods)
        })
        .collect()
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
    (states || puts_an_amount_in(sentence)) && !is_open && !named.has("another-way", &whole)
}

/// Whether a sentence tells the reader to put a weight or a volume of something in: `Put in 55 g
/// of butter`. What a tin or a board gets is none of it, nor what is brushed or spread on.
fn puts_an_amount_in(sentence: &Sentence) -> bool {
    const PUT: &[&str] = &[
        "put",
        "pour",
        "rub",
        "whisk",
        "melt",
        "weigh",
        "beat",
        "dissolve",
        "combine",
        "blend",
        "versez",
        "verser",
        "mettez",
        "mettre",
        "pesez",
        "peser",
        "fouettez",
        "battez",
        "geben",
        "gib",
        "gießen",
        "wiegen",
        "abwiegen",
        "schmelzen",
        "verrühren",
        "pon",
        "ponga",
        "vierte",
        "verter",
        "derrite",
        "pesa",
        "pesar",
        "bate",
        "metti",
        "mettete",
        "versa",
        "versate",
        "sciogliete",
        "pesate",
        "sbattete",
    ];
    let is_put =
        |at: usize| sentence.tokens.get(at).is_some_and(|token| PUT.contains(&token.key.as_ref()));
    // In German the verb may come last.
    let last = sentence.tokens.len().saturating_sub(1);
    let is_told = is_put(0) || sentence.language.code == "de" && is_put(last);
    let is_beside = ["vessel", "place-of-work", "serve", "on-slice", "perhaps"]
        .iter()
        .any(|word| sentence.has(word, &sentence.whole()));
    is_told
        && !is_beside
        && speech::amounts(sentence)
            .iter()
            .any(|amount| matches!(amount.measure.dimension(), Dimension::Mass | Dimension::Volume))
}
