//! `amount-doubtful`: far more of an ingredient than bread is made with.

use super::context::Context;
use super::limits::show_range;
use super::usual::{is_far, likely, offer};
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Ingredient, IngredientId, LineRef, Substance, WorkedLine, is_kind};
use crate::quantity::display::percent;
use crate::quantity::{Exact, Range};
use crate::source::Span;
use crate::syntax::tree::{Line, Verb, With};

/// `amount-doubtful`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "amount-doubtful",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("amount_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if !context.flour().is_zero() {
        let told = ingredients(context, findings);
        classes(context, &told, findings);
    }
    pieces(context, findings);
    brushed_on(context, findings);
}

/// `brush with egg` takes all the egg that the dough lists: more than goes on as a wash was
/// mostly meant for the dough.
fn brushed_on(context: &Context, findings: &mut Vec<Finding>) {
    let Some(usual) = context.limit("habit of toppings", "wash") else { return };
    let numbers = context.first();
    let Some(method) = &context.worked.formula.method else { return };
    let puts_on = method.steps.iter().filter(|it| matches!(it.verb, Verb::Wash | Verb::Glaze));
    for with in puts_on.flat_map(|step| &step.phases).flat_map(|phase| &phase.with) {
        let With::Name(target) = with else { continue };
        let Some(id) = context.house.ingredient_id(&target.name.key) else { continue };
        let ingredient = context.house.ingredient(id);
        let is_own = |line: &&WorkedLine| line.goes == LineRef::Ingredient(id);
        let is_on_a_piece = numbers.pieces.iter().any(|it| it.lines.iter().any(|it| is_own(&it)));
        let is_wet = matches!(ingredient.class, Class::Egg | Class::Dairy | Class::Fat);
        let Some(line) = numbers.dough_lines.iter().find(is_own) else { continue };
        let share = line.mass.over(&numbers.whole.mass()).unwrap_or_default();
        if !is_wet || is_on_a_piece || usual.holds(&share) {
            continue;
        }
        let name = &ingredient.name.shown;
        let message = format!(
            "all {} of `{name}` goes onto the pieces here, and none into the dough",
            grams(&line.mass)
        );
        let note = format!(
            "that is {} % of the dough; {} is usual for a wash",
            percent(&share, 0),
            show_range(&usual)
        );
        findings.push(Finding::new(&RULE, target.name.span, message).note(note).help(format!(
            "write what is brushed on in `piece {{ {name} 3 g }}`, or say how much: `glaze with 20 g \
             of {name}`"
        )));
    }
}

/// Each ingredient by its own bound; gives the classes of those that are told.
fn ingredients(context: &Context, findings: &mut Vec<Finding>) -> Vec<Class> {
    let mut told = Vec::new();
    let risen = context.is_alive(None);
    for (substance, mass) in context.first().whole.iter() {
        let Substance::Ingredient(id) = substance else { continue };
        let ingredient = context.house.ingredient(id);
        if ingredient.is_caustic() {
            continue;
        }
        if !risen && !matches!(ingredient.class, Class::Spice | Class::Leavener) {
            continue;
        }
        let Some(line) = context.ingredient_line(id) else { continue };
        let own = context.limit("habit of ingredients", &ingredient.name.key);
        let of_spices = || context.limit("habit of classes", "spice");
        let usual = own.or_else(|| (ingredient.class == Class::Spice).then(of_spices).flatten());
        let share = context.of_flour(mass);
        let usual = usual.filter(|usual| !usual.holds(&share));
        if let Some(usual) = usual.filter(|_| !is_told_by_class(context, ingredient.class)) {
            findings.push(too_much(context, line, ingredient, (mass, &share), &usual));
            told.push(ingredient.class);
        }
    }
    told
}

/// Malts and improvers together have a finding of their own.
fn is_told_by_class(context: &Context, class: Class) -> bool {
    let is_bounded = matches!(class, Class::Malt | Class::Improver);
    let usual = context.habit(class.word()).filter(|_| is_bounded);
    usual.is_some_and(|usual| !usual.holds(&(context.of_flour(&context.class(class)))))
}

fn too_much(
    context: &Context,
    line: &Line,
    ingredient: &Ingredient,
    (mass, share): (&Exact, &Exact),
    usual: &Range,
) -> Finding {
    let name = &line.target.name.shown;
    let said = Finding::new(
        &RULE,
        line.span,
        format!("`{name}` is {} % of the flour; {} is usual", percent(share, 2), show_range(usual)),
    )
    .level(match ingredient.class {
        // What leavens too much is metallic or soapy long before.
        Class::Leavener if is_far(context, share, usual, "leaveners") => Level::Error,
        class => level_of(context, class, share, usual),
    })
    .note(working(context, mass, name, share))
    .help("check the number and its unit");
    offer(said, name, likely(context, line, ingredient, share, usual))
}

/// Several times as much as is usual is not eaten.
fn level(context: &Context, share: &Exact, usual: &Range) -> Level {
    if is_far(context, share, usual, "amounts") { Level::Error } else { Level::Warning }
}

/// The same, or beyond what any bread holds of a class.
fn level_of(context: &Context, class: Class, share: &Exact, usual: &Range) -> Level {
    let most = context.limit("physics of classes", class.word());
    match most.is_some_and(|most| !most.holds(share)) {
        true => Level::Error,
        false => level(context, share, usual),
    }
}

fn working(context: &Context, mass: &Exact, name: &str, share: &Exact) -> String {
    let flour = grams(context.flour());
    format!("{} {name} ÷ {flour} flour = {} %", grams(mass), percent(share, 2))
}

/// The classes that a style does not bound.
fn classes(context: &Context, told: &[Class], findings: &mut Vec<Finding>) {
    if !context.is_alive(None) {
        return;
    }
    let looked_at = [
        Class::Sugar,
        Class::Fat,
        Class::Egg,
        Class::Nut,
        Class::Seed,
        Class::Fruit,
        Class::Vegetable,
        Class::Grain,
    ];
    for class in looked_at.into_iter().filter(|class| !told.contains(class)) {
        let word = class.word();
        let mass = context.class(class);
        let share = context.of_flour(&mass);
        let usual = context.limit("habit of classes", word);
        let Some(usual) = usual.filter(|usual| !usual.holds(&share)) else { continue };
        if context.style_bounds(word) {
            continue;
        }
        let Some(line) = heaviest(context, class).and_then(|id| context.ingredient_line(id)) else {
            continue;
        };
        let Some(ingredient) = context.house.ingredient_named(&line.target.name.key) else {
            continue;
        };
        let said = Finding::new(
            &RULE,
            line.span,
            format!(
                "{word} is {} % of the flour; {} is usual",
                percent(&share, 2),
                show_range(&usual)
            ),
        )
        .level(level_of(context, class, &share, &usual))
        .note(working(context, &mass, word, &share))
        .help("check the numbers and their units; name a `style` if this bread is meant to be so");
        let meant = likely(context, line, ingredient, &share, &usual);
        findings.push(offer(said, &line.target.name.shown, meant));
    }
}

/// The ingredient of a class of which most goes in.
fn heaviest(context: &Context, class: Class) -> Option<IngredientId> {
    let all = context.first().whole.iter().filter_map(|(substance, mass)| match substance {
        Substance::Ingredient(id) if context.house.ingredient(id).class == class => {
            Some((id, mass))
        }
        _ => None,
    });
    all.max_by(|one, two| one.1.cmp(two.1)).map(|(id, _)| id)
}

/// What goes on or into a piece, by the step that puts it there.
fn pieces(context: &Context, findings: &mut Vec<Finding>) {
    let numbers = context.first();
    for piece in &numbers.pieces {
        let dough = &piece.made.weight;
        if numbers.whole.mass().is_zero() {
            continue;
        }
        for line in &piece.lines {
            let Some(usual) = topping(context, line, &piece.made.key) else { continue };
            let Some(share) = line.mass.over(dough) else { continue };
            if usual.holds(&share) {
                continue;
            }
            let Some(span) = piece_line(context, &line.key) else { continue };
            findings.push(
                Finding::new(
                    &RULE,
                    span,
                    format!(
                        "{} of `{}` on {} of dough is {} %; {} is usual",
                        grams(&line.mass),
                        line.name,
                        grams(dough),
                        percent(&share, 0),
                        show_range(&usual)
                    ),
                )
                .level(level_of_topping(context, line, &share, &usual))
                .help(
                    "the amounts in `piece` are for one piece: check them, or divide by the pieces",
                ),
            );
        }
    }
}

/// Several times as much as is usual, or more than anybody eats, is an error.
fn level_of_topping(context: &Context, line: &WorkedLine, share: &Exact, usual: &Range) -> Level {
    let class = class_on_piece(context, line).map(Class::word);
    let most = class.and_then(|class| context.limit("physics of toppings", class));
    match most.is_some_and(|most| !most.holds(share)) {
        true => Level::Error,
        false => level(context, share, usual),
    }
}

fn class_on_piece(context: &Context, line: &WorkedLine) -> Option<Class> {
    match line.goes {
        LineRef::Ingredient(id) => Some(context.house.ingredient(id).class),
        _ => None,
    }
}

/// The bound of what goes on a piece: by its class, by a word of its name, or by the steps
/// that use it.
fn topping(context: &Context, line: &WorkedLine, kind: &str) -> Option<Range> {
    let key = line.key.as_str();
    let class = class_on_piece(context, line);
    let of_class = |class: Class| context.limit("habit of toppings", class.word());
    // A strong spice is as strong on a roll as in it.
    let of_spice =
        |class| context.limit("habit of ingredients", key).filter(|_| class == Class::Spice);
    let by_class = class.and_then(|class| of_spice(class).or_else(|| of_class(class)));
    let by_name = by_class.or_else(|| context.limit_of_a_word("habit of toppings", key));
    let formula = &context.worked.formula;
    let steps = formula.method.iter().flat_map(|method| &method.steps);
    let bounded = steps.filter_map(|step| {
        let word = match step.verb {
            Verb::Glaze | Verb::Wash | Verb::Dust | Verb::Top | Verb::Fill => step.verb.word(),
            _ => return None,
        };
        let uses = step.phases.iter().any(|phase| {
            phase.kind.as_ref().is_none_or(|own| is_kind(&own.key, kind))
                && phase.with.iter().any(|with| with.names(key))
        });
        uses.then(|| context.limit("habit of toppings", word)).flatten()
    });
    // In several steps it may be each time as much.
    let most = bounded.max_by(|one, two| one.high.cmp(&two.high));
    by_name.or(most)
}

fn piece_line(context: &Context, key: &str) -> Option<Span> {
    let lines = context.worked.formula.pieces.iter().flat_map(|piece| &piece.mix.lines);
    lines.into_iter().find(|line| line.target.name.key == key).map(|line| line.span)
}
