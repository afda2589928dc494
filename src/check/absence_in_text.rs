//! `absence-in-text`: a text says that something is not in the bread, and that is wrong or
//! nobody knows it.
//!
//! `free from nuts`, `no butter`, `eggless`, `vegan`, `allergens: wheat`, in five languages
//! whatever the house speaks, are claims like those of `expect`: silent only where they are
//! proved. What a text claims is read in `denials.rs`; here it is judged.

use super::claims::way_of;
use super::context::{Context, PlainText, SaidAt};
use super::denials::{Denied, HeardClaim, claims_in};
use super::speech::{Food, Token};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::{Class, Nutrient};
use crate::formula::{Absence, Allergen, Allergens, Ingredient, Judged, Proof, absence, key};
use crate::source::Span;
use crate::syntax::tree::StageKind;
use ecow::EcoString;
use std::ops::Range;

/// `absence-in-text`, an error about claims.
pub const RULE: Rule = Rule {
    name: "absence-in-text",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("absence_in_text.md"),
};

/// What a text says is not in the bread.
pub struct Denial {
    /// None where it is neither an allergen nor a diet.
    pub absence: Option<Absence>,
    /// Of the text.
    pub span: Span,
    /// Where the words stand that say it.
    pub at: Span,
    /// The words that say it, in bytes of the text.
    pub words: Range<usize>,
    /// For a message: "this text says `free from nuts`".
    pub said: String,
}

/// Reports what a text denies falsely, and hands on all that it denies; none where it claims
/// nothing.
pub fn check(
    context: &Context,
    said: &PlainText,
    tokens: &[Token],
    findings: &mut Vec<Finding>,
) -> Option<Vec<Denial>> {
    let claims = claims_in(context, said, tokens);
    (!claims.is_empty()).then(|| judge_all(context, said, &claims, findings))
}

/// The same of a text whose claims are [heard](claims_in) already.
pub fn judge_all(
    context: &Context,
    said: &PlainText,
    claims: &[HeardClaim],
    findings: &mut Vec<Finding>,
) -> Vec<Denial> {
    let mut told: Vec<String> = Vec::new();
    let mut denials = Vec::new();
    for claim in claims {
        let words = said.words.get(claim.words.clone()).unwrap_or_default();
        let finding = judge(context, said, words, &claim.denied);
        // Of a contrast only what is there is told.
        let is_sure = |it: &Finding| it.help.as_deref() != Some(SAY_WHAT_IS_IN_IT);
        let finding = finding.filter(|it| !claim.is_weak || is_sure(it));
        let new = finding.filter(|finding| !told.contains(&finding.message));
        told.extend(new.iter().map(|finding| finding.message.clone()));
        findings.extend(new);
        denials.extend(denials_of(context, said, words, claim));
    }
    denials
}

fn denials_of(
    context: &Context,
    said: &PlainText,
    written: &str,
    claim: &HeardClaim,
) -> Vec<Denial> {
    let denial = |absence: Option<Absence>| Denial {
        absence,
        span: said.span,
        at: said.place_of(written),
        words: claim.words.clone(),
        said: format!("{} `{written}`", who_says(context, said)),
    };
    match claim.denied {
        Denied::Absence(one) => vec![denial(Some(one))],
        Denied::AllAllergens => {
            Allergen::all().map(|one| denial(Some(Absence::Allergen(one)))).collect()
        }
        Denied::Food(_)
        | Denied::Class(_)
        | Denied::Alcohol
        | Denied::Mix(_)
        | Denied::Named(_)
        | Denied::AllElse(_) => vec![denial(None)],
        // What such a list names is there.
        Denied::OtherAllergens(_) => Vec::new(),
    }
}

/// What is wrong with a claim.
fn judge(context: &Context, said: &PlainText, words: &str, denied: &Denied) -> Option<Finding> {
    // A short name may be no more than that; beside a title only what can hurt counts.
    let is_strict =
        matches!(denied, Denied::Absence(_) | Denied::AllAllergens | Denied::OtherAllergens(_));
    if is_name_beside_a_title(context, said) && !is_strict {
        return None;
    }
    match denied {
        Denied::Absence(one) => not_proved(context, said, words, *one),
        Denied::AllAllergens => {
            let all = Allergen::all().filter(|one| !one.is_group()).map(Absence::Allergen);
            all.filter_map(|one| not_proved(context, said, words, one)).next()
        }
        // What an ingredient is made of is no list of the bread.
        Denied::OtherAllergens(_) | Denied::AllElse(_) if matches!(said.place, SaidAt::Part) => {
            None
        }
        Denied::OtherAllergens(named) => allergen_left_out(context, said, words, named),
        Denied::AllElse(named) => not_named(context, said, words, named),
        Denied::Food(food) => found(context, said, words, |held| has_food(context, food, held)),
        Denied::Class(class) => found(context, said, words, |held| has_class(*class, held)),
        Denied::Alcohol => found(context, said, words, has_alcohol),
        Denied::Mix(kind) => made_before(context, said, words, mix_of(context, kind)?),
        Denied::Named(name) => made_before(context, said, words, shown_mix(context, name)?),
    }
}

/// The first ingredient that is what a text says is not there, or of which nobody says that
/// it is not.
fn found(
    context: &Context,
    said: &PlainText,
    words: &str,
    judge: impl Fn(&Ingredient) -> Judged,
) -> Option<Finding> {
    let says = who_says(context, said);
    let held = context.worked.ingredients();
    let judged = || held.iter().map(|held| (held, judge(held)));
    if let Some((brings, _)) = judged().find(|(_, is)| matches!(is, Judged::Holds(_))) {
        let name = &brings.name.shown;
        return Some(finding(said, words, format!("{says} `{words}`, and `{name}` is in it")));
    }
    let (unknown, _) = judged().find(|(_, is)| *is == Judged::NotKnown)?;
    let name = &unknown.name.shown;
    let message = format!("{says} `{words}`, but nothing says what is in `{name}`");
    Some(Finding::new(&RULE, said.place_of(words), message).help(SAY_WHAT_IS_IN_IT))
}

/// The help where nobody says what is in something.
pub(super) const SAY_WHAT_IS_IN_IT: &str = "say what the ingredient contains, as its packet has it: \
    `contains nothing`, or `contains` and what; or take the words out of the text";

/// Whether an ingredient is a food, or may be made with it: what somebody else mixed is
/// only known by what it says it contains.
pub(super) fn has_food(context: &Context, food: &Food, held: &Ingredient) -> Judged {
    if food.is(context.house, held) {
        return Judged::Holds("it");
    }
    if held.built_in {
        return Judged::Without;
    }
    // What is without milk is without butter, and what is vegan without honey.
    let brings = food.allergens(context.house);
    let is_without = |one| held.declared.judge(one) == Judged::Without;
    let of_animal = matches!(food.judge(context.house, "", Absence::Vegan), Judged::Holds(_));
    let excluded = brings.iter().any(|one| is_without(Absence::Allergen(one)))
        || (of_animal && is_without(Absence::Vegan));
    let may_be_mixed = !held.class.is_of_one_thing() && (!brings.is_empty() || of_animal);
    match !excluded && (may_be_mixed || is_not_told(held)) {
        true => Judged::NotKnown,
        false => Judged::Without,
    }
}

/// Whether nobody says what somebody else mixed.
fn is_not_told(held: &Ingredient) -> bool {
    !held.built_in && !held.declared.is_complete && !held.class.is_of_one_thing()
}

/// The same of a class.
pub(super) fn has_class(class: Class, held: &Ingredient) -> Judged {
    let is_grain = class == Class::Grain && held.class == Class::Flour;
    match held.class == class || is_grain {
        true => Judged::Holds(class.word()),
        false if is_not_told(held) => Judged::NotKnown,
        false => Judged::Without,
    }
}

/// The same of alcohol.
pub(super) fn has_alcohol(held: &Ingredient) -> Judged {
    const NAMES: [&str; 22] = [
        "rum", "beer", "wine", "brandy", "kirsch", "cognac", "whisky", "whiskey", "vodka", "gin",
        "liqueur", "spirit", "cider", "sherry", "port", "marsala", "grappa", "schnapps", "stout",
        "ale", "lager", "alcohol",
    ];
    let name = held.name.key.as_str();
    let mut words = name.split([' ', '-']);
    let is_named = words.any(|word| NAMES.contains(&word)) && !name.contains("vinegar");
    let alcohol = held.composition.get(Nutrient::Alcohol);
    match is_named || alcohol.is_some_and(|share| !share.is_zero()) {
        true => Judged::Holds("alcohol"),
        false if is_not_told(held) => Judged::NotKnown,
        false => Judged::Without,
    }
}

/// What is made before the dough, and denied.
fn made_before(context: &Context, said: &PlainText, words: &str, name: &str) -> Option<Finding> {
    let message = format!("{} `{words}`, and `{name}` is in it", who_says(context, said));
    Some(finding(said, words, message))
}

/// What the formula has of a kind of mix, as it calls it.
fn mix_of<'c>(context: &'c Context, kind: &str) -> Option<&'c str> {
    let stages = &context.worked.formula.stages;
    let of_kind = |wanted: &[StageKind]| {
        let stage = stages.iter().find(|stage| wanted.contains(&stage.kind));
        stage.map(|stage| stage.name.shown.as_str())
    };
    match kind {
        "leaven" => context.lines_of_cultures().next().map(|line| line.name.as_str()),
        "preferment" => of_kind(&[StageKind::Preferment, StageKind::Build]),
        "soaker" => of_kind(&[StageKind::Soaker]),
        "scald" => of_kind(&[StageKind::Scald]),
        _ => context.old_dough_line().map(|line| line.name.as_str()),
    }
}

fn shown_mix<'c>(context: &'c Context, name: &str) -> Option<&'c str> {
    let worked = context.worked;
    let stages = worked.formula.stages.iter().map(|stage| &stage.name);
    let stages = stages.map(|name| (&name.key, &name.shown));
    let side_mixes = worked.side_mixes.iter().map(|side_mix| (&side_mix.key, &side_mix.shown));
    let cultures = context.lines_of_cultures().map(|line| (&line.key, &line.name));
    let mut all = stages.chain(side_mixes).chain(cultures);
    all.find(|(known, _)| *known == name).map(|(_, shown)| shown.as_str())
}

/// An allergen of the bread that a list of its allergens, or of its ingredients, leaves out.
fn allergen_left_out(
    context: &Context,
    said: &PlainText,
    words: &str,
    named: &[Denied],
) -> Option<Finding> {
    let says = who_says(context, said);
    let foods = || {
        named.iter().filter_map(|one| match one {
            Denied::Food(food) => Some(food),
            _ => None,
        })
    };
    let told = named.iter().fold(Allergens::NONE, |all, one| match one {
        Denied::Absence(Absence::Allergen(one)) => all.with(Allergens::of(*one)),
        Denied::Food(food) => all.with(food.allergens(context.house)),
        _ => all,
    });
    let held = context.worked.ingredients();
    for held in held {
        // `Flour` on a list is that of any cereal.
        let is_named = |food: &Food| {
            food.is(context.house, held) && (!food.says("flour") || is_of_cereal(held))
        };
        if foods().any(is_named) {
            continue;
        }
        let name = &held.name.shown;
        if let Some(one) = held.declared.named.iter().find(|one| !one.wider().meets(told)) {
            let message = format!(
                "{says} `{words}`, and `{name}` contains {}, which it does not name",
                one.key()
            );
            return Some(
                finding(said, words, message)
                    .help("name it too, or take the words out of the text"),
            );
        }
        if !held.declared.is_complete {
            let message = format!("{says} `{words}`, but nothing says what `{name}` contains");
            return Some(
                Finding::new(&RULE, said.place_of(words), message).help(SAY_WHAT_IS_IN_IT),
            );
        }
    }
    None
}

fn is_of_cereal(held: &Ingredient) -> bool {
    let gluten = Allergen::read("gluten").map_or(Allergens::NONE, Allergen::narrower);
    held.declared.named.without(gluten).is_empty()
}

/// What is in a formula though a text names all that there is.
fn not_named(context: &Context, said: &PlainText, words: &str, named: &[Food]) -> Option<Finding> {
    // Leavens are flour and water.
    let is_named = |held: &&Ingredient| {
        held.class == Class::Water || named.iter().any(|food| food.is(context.house, held))
    };
    let held = context.worked.ingredients();
    let other = held.into_iter().find(|held| !is_named(held))?;
    let message =
        format!("{} `{words}`, and `{}` is in it", who_says(context, said), other.name.shown);
    Some(finding(said, words, message).help("name it too, or take the words out of the text"))
}

fn not_proved(context: &Context, said: &PlainText, words: &str, one: Absence) -> Option<Finding> {
    let says = who_says(context, said);
    match absence(context.worked, one) {
        Proof::Proved => None,
        Proof::Refuted(bringers) => {
            let first = bringers.first()?;
            let brings = match one {
                Absence::Allergen(_) => format!("contains {}", first.holds),
                Absence::Vegan | Absence::Vegetarian => {
                    format!("is from an animal ({})", first.holds)
                }
            };
            let message = format!("{says} `{words}`, and `{}` {brings}", first.ingredient);
            let way = way_of(context, first);
            let told = finding(said, words, message);
            Some(match way {
                Some(way) => told.note(way),
                None => told,
            })
        }
        Proof::NotKnown(names) => {
            let asks = match one {
                Absence::Allergen(one) => format!("contain {}", one.key()),
                Absence::Vegan | Absence::Vegetarian => "come from an animal".to_owned(),
            };
            let of_tin = |name: &EcoString| match context.house.tin(&key(name)) {
                Some(_) => format!("the grease of the tin `{name}`"),
                None => format!("`{name}`"),
            };
            let names = names.iter().map(of_tin).collect::<Vec<_>>().join(", ");
            let message =
                format!("{says} `{words}`, but nothing says that {names} does not {asks}");
            Some(Finding::new(&RULE, said.place_of(words), message).help(SAY_WHAT_IS_IN_IT))
        }
    }
}

fn finding(said: &PlainText, words: &str, message: String) -> Finding {
    Finding::new(&RULE, said.place_of(words), message)
        .help("take the words out of the text, or make it without")
}

/// Whether it is the name by which files are called, of a formula that has a title as well.
fn is_name_beside_a_title(context: &Context, said: &PlainText) -> bool {
    let formula = &context.worked.formula;
    formula.title.is_some() && said.span == formula.name.span
}

/// What is printed everywhere is wrong in one formula and right in another.
fn who_says(context: &Context, said: &PlainText) -> String {
    match said.place {
        SaidAt::House | SaidAt::Name | SaidAt::Part => {
            format!("`{}` is printed with", context.worked.formula.name.shown)
        }
        SaidAt::Title if is_name_beside_a_title(context, said) => {
            "the name of the formula says".into()
        }
        SaidAt::Title => "this title says".into(),
        _ => "this text says".into(),
    }
}
