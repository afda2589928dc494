//! `lye-out-of-place`: lye anywhere but in a weak bath before the bake.
//!
//! What is caustic is used up by the heat of the oven on the outside of a piece. Anywhere
//! else it is eaten.

use super::context::Context;
use super::limits::{self, show_range};
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Ingredient, Substance};
use crate::quantity::display::percent;
use crate::quantity::int;
use crate::source::Span;
use crate::syntax::tree::{Step, TextPart, Verb, WordsKind};

/// `lye-out-of-place`, an error about sums and the method.
pub const RULE: Rule = Rule {
    name: "lye-out-of-place",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("lye_out_of_place.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    in_dough(context, findings);
    too_strong(context, findings);
    on_pieces(context, findings);
    in_steps(context, findings);
}

/// The caustic things that go into the dough.
fn in_dough(context: &Context, findings: &mut Vec<Finding>) {
    for (substance, _) in context.first().whole.iter() {
        let Substance::Ingredient(id) = substance else { continue };
        let ingredient = context.house.ingredient(id);
        if !ingredient.is_caustic() {
            continue;
        }
        let name = &ingredient.name.shown;
        let line = context.ingredient_line(id);
        let span = line.map_or(context.worked.formula.name.span, |line| line.span);
        let message = format!("`{name}` goes into a bath, never into the dough");
        findings.push(Finding::new(&RULE, span, message).note(WHY).help(AS_BATH));
    }
}

const WHY: &str = "it burns mouth and throat; only the heat of the oven on the outside of a piece \
                   uses it up";
const AS_BATH: &str = "write it in a `mixture` and dip the pieces before the bake: `wash 5min with \
                       lye bath`";

/// Baths of more lye than is used on food.
fn too_strong(context: &Context, findings: &mut Vec<Finding>) {
    for caustic in ["lye", "slaked lime"] {
        of_one(context, caustic, findings);
    }
}

/// Baths of more of one caustic thing than is used on food.
fn of_one(context: &Context, caustic: &str, findings: &mut Vec<Finding>) {
    let Some(most) = context.limit("physics of baths", caustic) else { return };
    let is_lye = |it: &Ingredient| it.warned_as.as_deref() == Some(caustic);
    for (index, side_mix) in context.worked.side_mixes.iter().enumerate() {
        let lye = side_mix.per_gram.iter().find_map(|(substance, share)| match substance {
            Substance::Ingredient(id) if is_lye(context.house.ingredient(id)) => Some(share),
            _ => None,
        });
        let Some(share) = lye.filter(|share| !most.holds(share)) else { continue };
        let Some(mixture) = context.worked.mixture(index) else { continue };
        let line = mixture.mix.lines.iter().find(|line| {
            let named = context.house.ingredient_named(&line.target.name.key);
            named.is_some_and(is_lye)
        });
        let usual = limits::bound("physics of baths", &format!("usual {caustic}"));
        let said = Finding::new(
            &RULE,
            line.map_or(mixture.name.span, |line| line.span),
            format!(
                "`{}` is {} % {caustic}, and more than {} is not used on food",
                side_mix.shown,
                percent(share, 2),
                show_range(&most)
            ),
        );
        let usual = usual.as_ref().map(show_range).unwrap_or_default();
        let (weighed, share, held) = match caustic {
            "lye" => (int(40), "3.85 %", "a bath for pretzels holds"),
            _ => (int(10), "0.99 %", "water for maize holds"),
        };
        findings.push(
            said.note(format!("{held} {usual}; stronger {caustic} burns skin and eyes at once"))
                .help(format!(
                    "weigh it again: {} of {caustic} in {} of cold water is {share}",
                    grams(&weighed),
                    grams(&int(1000))
                )),
        );
    }
}

/// What is caustic and stands on a piece as it is.
fn on_pieces(context: &Context, findings: &mut Vec<Finding>) {
    for line in context.worked.formula.pieces.iter().flat_map(|piece| &piece.mix.lines) {
        if bare(context, &line.target.name.key) {
            findings.push(undiluted(line.span, &line.target.name.shown));
        }
    }
}

fn undiluted(span: Span, name: &str) -> Finding {
    let message = format!("`{name}` goes on the pieces undiluted");
    Finding::new(&RULE, span, message).note(WHY).help(AS_BATH)
}

/// Whether a name means something caustic itself, and not a bath of it.
fn bare(context: &Context, key: &str) -> bool {
    let is_made = context.worked.side_mixes.iter().any(|it| it.key == *key);
    !is_made && context.house.ingredient_named(key).is_some_and(Ingredient::is_caustic)
}

/// Whether a name means a mixture that holds something caustic.
fn is_bath(context: &Context, key: &str) -> bool {
    let mut side_mixes = context.worked.side_mixes.iter();
    let named = side_mixes.find(|it| it.key == *key && !it.is_formula);
    named.is_some_and(|side_mix| {
        side_mix.per_gram.iter().any(|(substance, _)| match substance {
            Substance::Ingredient(id) => context.house.ingredient(id).is_caustic(),
            _ => false,
        })
    })
}

/// Steps that put it where no heat reaches it, or inside.
fn in_steps(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let on_piece = |key: &str| {
        let mut lines = context.worked.formula.pieces.iter().flat_map(|piece| &piece.mix.lines);
        lines.any(|line| line.target.name.key == *key)
    };
    let in_dough = |key: &str| {
        let id = context.house.ingredient_id(key);
        id.is_some_and(|id| context.ingredient_line(id).is_some())
    };
    let last = method.steps.iter().rposition(|step| matches!(step.verb, Verb::Bake | Verb::Fry));
    for (index, step) in method.steps.iter().enumerate() {
        for phase in &step.phases {
            let with = phase.with.iter().filter_map(|with| with.target());
            for name in with.map(|target| &target.name).chain(&phase.place) {
                if bare(context, &name.key) {
                    // What stands on the piece or in the dough is told there.
                    if !on_piece(&name.key) && !in_dough(&name.key) {
                        findings.push(undiluted(name.span, &name.shown));
                    }
                } else if is_bath(context, &name.key) {
                    let is_before = last.is_none_or(|last| index < last);
                    findings.extend(misplaced(step, &name.shown, name.span, is_before));
                    if last.is_none() && wets(step) && !says_to_bake(context) {
                        findings.push(unbaked(&name.shown, name.span));
                    }
                }
            }
        }
    }
}

/// Whether a step wets the outside.
fn wets(step: &Step) -> bool {
    matches!(step.verb, Verb::Wash | Verb::Boil | Verb::Glaze | Verb::Step)
}

/// Whether a caution tells whoever gets the pieces unbaked to bake them.
fn says_to_bake(context: &Context) -> bool {
    const BAKE: &[&str] = &["bake", "back", "cuire", "hornea", "cuoc"];
    let of_steps = context.steps().flat_map(|step| &step.cautions);
    let of_formula = context.worked.formula.texts.iter();
    let of_formula = of_formula.filter(|it| it.kind == WordsKind::Caution).map(|it| &it.text);
    let plain = |part: &TextPart| match part {
        TextPart::Plain(words) => words.to_lowercase(),
        TextPart::Figure { .. } => Default::default(),
    };
    of_steps
        .chain(of_formula)
        .flat_map(|text| &text.parts)
        .any(|part| BAKE.iter().any(|word| plain(part).contains(word)))
}

/// Lye on pieces that leave the house unbaked.
fn unbaked(name: &str, span: Span) -> Finding {
    let message = format!("`{name}` contains lye or lime, and the pieces are not baked after it");
    Finding::new(&RULE, span, message)
        .level(Level::Warning)
        .note(WHY)
        .help("bake the pieces, or tell whoever bakes them: `caution \"Bake before eating.\"`")
}

/// What is wrong with a bath at a step, which may be before the last bake.
fn misplaced(step: &Step, name: &str, span: Span, is_before: bool) -> Option<Finding> {
    let verb = step.verb.word();
    let (message, help) = match (wets(step), is_before) {
        (true, true) => return None,
        (false, _) => (
            format!("`{name}` holds lye or lime, and `{verb}` leaves it in or on the bread"),
            "it only ever wets the outside, before the bake: `wash 5min with` it, or `boil` in it",
        ),
        (true, false) => (
            format!("`{name}` holds lye or lime and goes on with `{verb}` after the last bake"),
            "move the step before the bake",
        ),
    };
    Some(Finding::new(&RULE, span, message).note(WHY).help(help))
}
