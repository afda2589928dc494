//! `unknown-figure`: a claim about something that has no name here.

use super::claims::{judge, verdicts};
use super::context::Context;
use super::conventions::true_elsewhere;
use super::verdict::Verdict;
use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Figure, House, Within, Worked, offer, unknown_allergen, worked_elsewhere};
use crate::source::Span;
use crate::syntax::tree::{
    Claim, ClaimValue, Elsewhere, FigureAsk, Name, Question, Target, TextPart,
};
use crate::time;
use ecow::EcoString;

/// `unknown-figure`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-figure",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_figure.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        match verdict {
            Verdict::Unknown => findings.push(match &claim.value {
                ClaimValue::FreeFrom(name) => {
                    unknown_allergen::claimed(name, context.is_known(&name.key))
                }
                ClaimValue::Amount { .. } if context.is_beside(claim) => beside(&claim.what),
                ClaimValue::Amount { .. } => unknown_claim(context, claim),
            }),
            Verdict::UnknownPlace => {
                let Some(place) = &claim.place else { continue };
                let near = nearest(&place.key, context.places());
                let said = Finding::new(
                    &RULE,
                    place.span,
                    format!("this formula has no mix called `{}`", place.shown),
                )
                .about(&place.key);
                findings.push(match near {
                    Some(near) => {
                        said.help(format!("did you mean `{near}`?")).repair(place.span, near, false)
                    }
                    None => said.help("name a stage, or `final dough`, or `pieces`"),
                });
            }
            _ => {}
        }
    }
    for part in context.texts().flat_map(|text| &text.parts) {
        let TextPart::Figure { words, ask: Some(ask), span } = part else { continue };
        let is_formula = |key: &str| context.house.formula(key).is_some();
        if let Some(elsewhere) = ask.elsewhere(is_formula) {
            asked_elsewhere(context.house, (&**ask, elsewhere), *span, words, findings);
        } else if let FigureAsk::Figure { asked, .. } = &**ask {
            findings.extend(asked_here(context, ask, asked, *span, words));
        }
    }
    amounts_in_texts(context, findings);
    let Some(style) = context.style else { return };
    if style.span.source.is_built_in() {
        return;
    }
    for bound in style.bounds.iter().filter(|bound| Figure::read(&bound.what.name.key).is_none()) {
        findings.push(unknown(context, &bound.what));
    }
}

/// What a text asks of its own formula, where that has no answer.
fn asked_here(
    context: &Context,
    ask: &FigureAsk,
    asked: &Question,
    span: Span,
    words: &str,
) -> Option<Finding> {
    let Question { what, place, .. } = asked;
    let is_known = is_time(context, what, place.as_ref())
        || context.worked.answer(asked).is_some()
        || context.worked.pieces_called(asked).is_some();
    if is_known {
        return None;
    }
    if of_pieces_that_are_not_known(context, what, place.as_ref()) {
        let said =
            format!("`[{words}]` is about pieces, and so much dough is not divided into any");
        let help = "say how many are made, as in `--makes \"60 rolls\"`";
        return Some(Finding::new(&RULE, span, said).help(help));
    }
    let unknown = place.as_ref().filter(|place| context.worked.within(&place.key).is_none());
    let finding = Finding::new(&RULE, span, format!("there is no figure for `[{words}]`"))
        .about(&unknown.unwrap_or(&what.name).key);
    // The last word may be meant for a formula.
    let near = match ask {
        FigureAsk::Figure { elsewhere: Some(elsewhere), .. } => {
            let near = context.house.near_formula(&elsewhere.formula.key);
            near.map(|near| (elsewhere.formula.span, near))
        }
        _ => None,
    };
    Some(match near {
        Some((place, near)) => {
            finding.help(format!("did you mean the formula `{near}`?")).repair(place, near, false)
        }
        None => finding.help(
            "ask for a figure, an ingredient or a stage, `in` a mix if need be; `[[` prints a \
             bracket",
        ),
    })
}

/// What a text asks of another formula: that there is one, that it is sound, that it can
/// make so much, and that it has such a thing.
fn asked_elsewhere(
    house: &House,
    (ask, elsewhere): (&FigureAsk, &Elsewhere),
    span: Span,
    words: &str,
    findings: &mut Vec<Finding>,
) {
    let formula = &elsewhere.formula;
    let first = findings.len();
    let Some(worked) = worked_elsewhere(house, elsewhere, findings) else {
        let said = format!("there is no formula `{}`", formula.shown);
        let finding = Finding::new(&RULE, formula.span, said);
        findings.push(match house.near_formula(&formula.key) {
            Some(near) => {
                finding.help(format!("did you mean `{near}`?")).repair(formula.span, near, false)
            }
            None => finding.help("name a formula of this bakehouse after `of`"),
        });
        return;
    };
    if elsewhere.everyone {
        let said = "`for everyone` asks for what the people of a booklet make together";
        let help = "say a yield, such as `for 12 loaves`";
        findings.push(Finding::new(&RULE, span, said).help(help));
    } else if !worked.sound {
        let said = format!("`[{words}]` can't be worked out: `{}` has errors", formula.shown);
        findings.push(Finding::new(&RULE, span, said).help("correct that formula first"));
    } else if findings.len() == first && !is_answered(house, &worked, ask, &elsewhere.asked) {
        let said = format!("`{}` has no figure for `[{words}]`", formula.shown);
        findings.push(
            Finding::new(&RULE, span, said)
                .help("ask for a figure, an ingredient or a stage of it, `in` a mix if need be"),
        );
    }
}

/// The same of a bracket in a manuscript.
pub fn asked_in_a_manuscript(
    house: &House,
    asked: (&FigureAsk, &Elsewhere),
    words: &str,
    findings: &mut Vec<Finding>,
) {
    asked_elsewhere(house, asked, Span::NOWHERE, words, findings);
}

/// Whether another formula has what is asked of it.
fn is_answered(house: &House, worked: &Worked, ask: &FigureAsk, asked: &Question) -> bool {
    let beside = Name { key: "pieces".into(), ..Name::default() };
    let time = Figure::read(&asked.what.name.key)
        .filter(|figure| matches!(figure, Figure::Elapsed | Figure::HandsOn))
        .filter(|_| asked.place.is_none());
    match (ask, time) {
        (FigureAsk::Scaled { .. }, _) => {
            [None, Some(&beside)].into_iter().any(|place| worked.ask(&asked.what, place).is_some())
        }
        (_, Some(_)) => time::graph(house, worked).is_some(),
        (_, None) => worked.answer(asked).is_some() || worked.pieces_called(asked).is_some(),
    }
}

/// Whether a text asks for something of the pieces where another yield makes none.
fn of_pieces_that_are_not_known(context: &Context, what: &Target, place: Option<&Name>) -> bool {
    let figure = Figure::read(&what.name.key).filter(|_| what.role.is_none());
    let of_pieces = matches!(figure, Some(Figure::Pieces | Figure::Piece | Figure::PieceBaked))
        || place.and_then(|place| context.worked.within(&place.key)) == Some(Within::Pieces);
    of_pieces && context.first().pieces.is_empty() && !context.worked.usual_pieces.is_empty()
}

/// Whether a text asks for a time, and the formula has one.
fn is_time(context: &Context, what: &Target, place: Option<&Name>) -> bool {
    let time = Figure::read(&what.name.key)
        .filter(|figure| matches!(figure, Figure::Elapsed | Figure::HandsOn));
    place.is_none() && time.is_some_and(|figure| context.length(&figure).is_some())
}

/// A claim about what has no name here: where its number is true of what is meant in some
/// convention, in the words that make it true.
fn unknown_claim(context: &Context, claim: &Claim) -> Finding {
    let names = meant(context, claim.what.name.key.as_str());
    let [name] = names.as_slice() else { return unknown(context, &claim.what) };
    let mut other = claim.clone();
    other.what.name = Name { key: name.clone(), shown: name.clone(), ..Name::default() };
    if matches!(judge(context, &other), Verdict::Holds) {
        return unknown(context, &claim.what);
    }
    match true_elsewhere(context, &other) {
        Some(elsewhere) => is_nothing(&claim.what)
            .help(format!("claim it so: `{}`", elsewhere.claim))
            .repair(claim.span, elsewhere.claim, false),
        None => unknown(context, &claim.what),
    }
}

fn is_nothing(what: &Target) -> Finding {
    let name = &what.name.shown;
    let message = format!("`{name}` is neither a figure nor anything in this formula");
    Finding::new(&RULE, what.name.span, message).about(&what.name.key)
}

/// What a name in a claim may mean.
fn meant(context: &Context, key: &str) -> Vec<EcoString> {
    if key == "total" {
        return vec!["dough".into(), "total percentage".into()];
    }
    let lines: Vec<String> = context.line_names().collect();
    let mut names: Vec<&str> = Figure::names().collect();
    names.extend(lines.iter().map(String::as_str));
    names.sort_unstable();
    names.dedup();
    let mut near: Vec<EcoString> =
        context.house.meant_among(key, &names).into_iter().map(EcoString::from).collect();
    if near.is_empty() {
        near.extend(said_for(key).map(EcoString::from));
    }
    near
}

fn unknown(context: &Context, what: &Target) -> Finding {
    let near = meant(context, what.name.key.as_str());
    let said = is_nothing(what);
    match near.as_slice() {
        [] => said.help(
            "a claim names a figure (`hydration`, `salt`, `dough`), an ingredient or a stage",
        ),
        near => offer(said, what.name.span, near),
    }
}

/// The figure that goes by another name elsewhere.
fn said_for(key: &str) -> Option<&'static str> {
    Some(match key {
        "weight" | "total weight" | "dough weight" | "total dough" | "dough mass" | "mass" => {
            "dough"
        }
        "time" | "total time" | "duration" | "total duration" | "overall time" => "elapsed",
        "work time" | "active time" | "hands on time" | "prep time" => "hands-on",
        "flour weight" | "total flour" => "flour",
        "piece weight" | "unit weight" | "loaf weight" => "piece",
        "baked weight" => "piece baked",
        "wetness" | "absorption" | "water percentage" => "hydration",
        "ta" | "dough yield ta" | "teigausbeute" => "dough yield",
        "pff" | "preferment percentage" | "prefermented" => "prefermented flour",
        "yeast" => "yeast as fresh",
        _ => return None,
    })
}

/// A claim without `in pieces` about what stands beside the dough.
fn beside(what: &Target) -> Finding {
    let (name, span) = (&what.name.shown, what.name.span);
    Finding::new(&RULE, span, format!("there is no `{name}` in the dough: it goes onto the pieces"))
        .help(format!("say so: `{name} in pieces …`, which is what all of them carry"))
        .repair(span, format!("{name} in pieces"), false)
}

/// `[50 g of honey]` in a text whose formula has no honey.
fn amounts_in_texts(context: &Context, findings: &mut Vec<Finding>) {
    let beside = Name { key: "pieces".into(), ..Name::default() };
    for part in context.texts().flat_map(|text| &text.parts) {
        let TextPart::Figure { ask: Some(ask), span, .. } = part else { continue };
        let FigureAsk::Scaled { what: Some(what), .. } = &**ask else { continue };
        if ask.elsewhere(|key| context.house.formula(key).is_some()).is_some() {
            continue;
        }
        let asked = |place| context.worked.ask(what, place);
        // `flours` and the like are words of steps, not names.
        if asked(None).is_none() && asked(Some(&beside)).is_none() {
            let name = &what.name.shown;
            findings.push(
                Finding::new(&RULE, *span, format!("there is no `{name}` in this formula"))
                    .help("correct the name, or take it out of the text"),
            );
        }
    }
}
